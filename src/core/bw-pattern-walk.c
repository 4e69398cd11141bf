#define G_LOG_DOMAIN "bw-core"

#include "bw-pattern-private.h"

#define RING_MOST 12 /* chains of a ring that is worked round and not into */

/* After a round whose stated count is not what it makes, the next round may
 * stand on either: only a round that fits neither is at fault itself, and where
 * it fits both, the one after it may stand on what comes of either. */

static const BwPatternLine *
line_at (const BwPattern *pattern,
         guint            index)
{
  return &g_array_index (pattern->lines, BwPatternLine, index);
}

void
bw_pattern_walk_init (BwPatternWalk   *walk,
                      const BwPattern *pattern,
                      guint            size,
                      guint            reading)
{
  *walk = (BwPatternWalk) { .pattern = pattern, .size = size, .reading = reading };
  walk->entries = g_array_new (FALSE, FALSE, sizeof (BwPatternEntry));
  walk->items = g_array_new (FALSE, TRUE, sizeof (BwItem));
  walk->left = pattern->lines->len + BW_PATTERN_ROUNDS_MAX;
  bw_pattern_entries (pattern, size, walk->entries);
}

void
bw_pattern_walk_clear (BwPatternWalk *walk)
{
  g_clear_pointer (&walk->entries, g_array_unref);
  g_clear_pointer (&walk->items, g_array_unref);
}

static void
offer (BwPatternWalk *walk,
       guint          a,
       guint          b)
{
  walk->n_below = 0;
  if (a != BW_COUNT_UNKNOWN)
    walk->below[walk->n_below++] = a;
  if (b != BW_COUNT_UNKNOWN && b != a)
    walk->below[walk->n_below++] = b;
}

static guint
figure (const BwPatternWalk *walk,
        const BwPatternLine *line,
        guint32              list)
{
  guint32 value = bw_pattern_figure (walk->pattern, line, list, walk->size);

  return value == BW_FIGURE_NONE ? BW_COUNT_UNKNOWN : value;
}

static guint
chain_of (const BwPatternWalk *walk,
          const BwPatternLine *line)
{
  guint chain = figure (walk, line, line->facts.chain_list);

  return chain != BW_COUNT_UNKNOWN ? chain : line->facts.chain;
}

/* --- Lines that are no rounds --- */

static void
step_foundation (BwPatternWalk       *walk,
                 const BwPatternLine *line,
                 BwPatternStep       *step)
{
  step->fit.makes = step->fit.stitches = chain_of (walk, line);
  step->available = 0;
  walk->ring = line->facts.ring;
  walk->rows = 0;
  offer (walk, step->fit.makes, BW_COUNT_UNKNOWN);
}

/* Slip stitches through both edges, as many as the last row has. */
static void
step_join (BwPatternWalk       *walk,
           const BwPatternLine *line,
           BwPatternStep       *step)
{
  guint said = figure (walk, line, line->facts.stated);

  step->available = walk->n_below > 0 ? walk->below[0] : BW_COUNT_UNKNOWN;
  if (walk->n_below > 1 && said == walk->below[1])
    step->available = said;
  step->fit.takes = step->fit.makes = step->fit.stitches =
    said != BW_COUNT_UNKNOWN ? said : step->available;
  if (said != BW_COUNT_UNKNOWN && step->available != BW_COUNT_UNKNOWN && said != step->available)
    step->fit.status = BW_FIT_TAKES;
  walk->n_below = 0;
}

static void
step_close (BwPatternWalk       *walk,
            const BwPatternLine *line,
            BwPatternStep       *step)
{
  step_join (walk, line, step);
  step->fit.makes = step->fit.stitches = 0;
}

/* --- Rounds --- */

static gboolean
says (const BwPatternStep *step,
      guint                stated)
{
  return stated == step->fit.makes || stated == step->fit.stitches;
}

/* Does the stated count hold? Of several kinds of stitches the first may be
 * all that is counted. */
static void
check_count (const BwPatternWalk *walk,
             const BwPatternLine *line,
             BwPatternStep       *step)
{
  guint first = figure (walk, line, line->facts.stated_first);

  step->stated = figure (walk, line, line->facts.stated);
  step->count_holds = step->stated == BW_COUNT_UNKNOWN || step->fit.status == BW_FIT_UNKNOWN ||
                      says (step, step->stated) ||
                      (first != BW_COUNT_UNKNOWN && says (step, first));
}

static gboolean
fits (const BwPatternStep *step)
{
  return step->fit.status == BW_FIT_WELL || step->fit.status == BW_FIT_UNKNOWN;
}

static void
fit_on (BwPatternWalk       *walk,
        const BwPatternLine *work,
        guint                available,
        BwPatternStep       *step)
{
  step->lead = bw_pattern_lead (walk->pattern, work, walk->before, walk->reading);
  step->available = available;
  bw_pattern_items (walk->pattern, work, walk->size, walk->reading, step->lead, walk->items);
  bw_pattern_fit (walk->pattern, work, step->lead, walk->items, available, &step->fit);
}

/* How well the round does on what was tried: not, as far as it takes, or with
 * the count that it states. */
static guint
score (const BwPatternWalk *walk,
       const BwPatternLine *line,
       const BwPatternStep *step)
{
  BwPatternStep counted = *step;

  if (!fits (step))
    return 0;
  check_count (walk, line, &counted);
  return counted.count_holds ? 2 : 1;
}

/* On the round below; where it may offer two numbers, on the one that the round
 * fits better. Where it fits both, both go on. */
static void
fit_below (BwPatternWalk       *walk,
           const BwPatternLine *line,
           const BwPatternLine *work,
           BwPatternStep       *step)
{
  guint scores[2];
  guint makes[2];

  fit_on (walk, work, walk->below[0], step);
  if (walk->n_below < 2)
    return;

  scores[0] = score (walk, line, step);
  makes[0] = step->fit.makes;
  fit_on (walk, work, walk->below[1], step);
  scores[1] = score (walk, line, step);
  makes[1] = step->fit.makes;
  if (scores[1] > scores[0])
    return;

  fit_on (walk, work, walk->below[0], step);
  if (scores[0] == 2 && scores[1] == 2 && makes[0] != makes[1])
    walk->other = makes[1];
}

/* A chain "to form a ring" is worked round when it is short; into its stitches
 * when it is long, or when the round fits them. */
static void
fit_ring (BwPatternWalk       *walk,
          const BwPatternLine *work,
          BwPatternStep       *step)
{
  guint chain = walk->n_below > 0 && !work->facts.ring ? walk->below[0] : 0;

  if (chain > 0)
    fit_on (walk, work, chain, step);
  if (chain == 0 || (chain <= RING_MOST && !fits (step)))
    {
      fit_on (walk, work, BW_COUNT_UNKNOWN, step);
      step->available = 0;
    }
}

/* What the round is worked on: a chain of its own, the ends of rows, a ring, or
 * the round below. */
static void
fit_round (BwPatternWalk       *walk,
           const BwPatternLine *line,
           const BwPatternLine *work,
           BwPatternStep       *step)
{
  const BwPattern *pattern = walk->pattern;
  gboolean ring = walk->ring || work->facts.ring;

  walk->ring = FALSE;
  if (work->facts.from_hook >= 2 && work->facts.chain > 0)
    fit_on (walk, work, chain_of (walk, work), step);
  else if (bw_pattern_in_ring (pattern, work))
    fit_on (walk, work, 0, step);
  else if (ring)
    fit_ring (walk, work, step);
  else if (bw_pattern_takes_row_ends (pattern, work))
    fit_on (walk, work, walk->rows > 0 ? walk->rows : BW_COUNT_UNKNOWN, step);
  else if (walk->n_below == 0)
    fit_on (walk, work, BW_COUNT_UNKNOWN, step);
  else
    fit_below (walk, line, work, step);
}

/* Rounds alike from here on to the end of the entry are told as one run. */
static guint
run_of (const BwPatternWalk  *walk,
        const BwPatternEntry *entry,
        const BwPatternStep  *step)
{
  const BwPatternLine *line = line_at (walk->pattern, entry->line);

  if (step->fit.status != BW_FIT_WELL || step->fit.makes != step->available ||
      line->facts.from_list != 0 || line->facts.back_list != 0 || bw_pattern_takes_row_ends (walk->pattern, step->work) ||
      line->facts.evenly || line->facts.ring)
    return 1;
  return entry->n - walk->nth;
}

static void
step_round (BwPatternWalk        *walk,
            const BwPatternEntry *entry,
            BwPatternStep        *step)
{
  const BwPatternLine *line = line_at (walk->pattern, entry->line);
  guint made;

  step->work = bw_pattern_work_of (walk->pattern, walk->entries, walk->entry, walk->nth,
                                   walk->size);
  if (step->work == NULL || step->work->kind == BW_LINE_UNREADABLE)
    {
      step->fit.status = BW_FIT_UNKNOWN;
      step->available = BW_COUNT_UNKNOWN;
      step->run = entry->n - walk->nth;
      step->last = TRUE;
      step->stated = figure (walk, line, line->facts.stated);
      step->fit.makes = BW_COUNT_UNKNOWN;
      offer (walk, step->stated, BW_COUNT_UNKNOWN);
    }
  else
    {
      walk->other = BW_COUNT_UNKNOWN;
      fit_round (walk, line, step->work, step);
      step->run = run_of (walk, entry, step);
      step->last = walk->nth + step->run >= entry->n;
      if (step->last)
        check_count (walk, line, step);
      made = step->fit.status == BW_FIT_UNKNOWN || step->fit.status == BW_FIT_TOO_LARGE
               ? BW_COUNT_UNKNOWN : step->fit.makes;
      if (made == BW_COUNT_UNKNOWN || !step->count_holds)
        offer (walk, step->stated, made);
      else
        offer (walk, made, walk->other);
      step->fit.makes = made;
    }

  if (line->row)
    walk->rows += step->run;
  else if (!bw_pattern_takes_row_ends (walk->pattern, line))
    walk->rows = 0;
  walk->before = step->work != NULL ? step->work : line;
}

/* The next round, or run of rounds alike; FALSE at the end. */
gboolean
bw_pattern_walk_next (BwPatternWalk *walk,
                      BwPatternStep *step)
{
  const BwPatternEntry *entry;
  const BwPatternLine *line;

  while (walk->entry < walk->entries->len &&
         walk->nth >= g_array_index (walk->entries, BwPatternEntry, walk->entry).n)
    {
      walk->entry++;
      walk->nth = 0;
    }
  if (walk->entry >= walk->entries->len || walk->left == 0)
    return FALSE;

  walk->left--;
  entry = &g_array_index (walk->entries, BwPatternEntry, walk->entry);
  line = line_at (walk->pattern, entry->line);
  *step = (BwPatternStep) { .entry = walk->entry, .line = entry->line, .work = line, .run = 1,
                            .last = TRUE, .stated = BW_COUNT_UNKNOWN, .count_holds = TRUE };
  step->number = entry->number > 0 ? entry->number + walk->nth : 0;
  g_array_set_size (walk->items, 0);

  switch ((BwPatternLineKind) line->kind)
    {
    case BW_LINE_FOUNDATION: step_foundation (walk, line, step); break;
    case BW_LINE_JOIN: step_join (walk, line, step); break;
    case BW_LINE_CLOSE: step_close (walk, line, step); break;
    case BW_LINE_ROUND:
    case BW_LINE_UNREADABLE:
    default:
      step_round (walk, entry, step);
    }
  /* a long line repeated takes as much of what may be walked as a short one more often */
  if (step->work != NULL)
    walk->left -= MIN (walk->left, step->work->n_items / 100);
  walk->nth += step->run;
  return TRUE;
}

/* --- Which reading --- */

/* Which bits of a reading make a difference to the pattern. */
static guint
open_readings (const BwPattern *pattern)
{
  guint open = 0;

  for (guint i = 0; i < pattern->lines->len; i++)
    {
      const BwLineFacts *facts = &line_at (pattern, i)->facts;
      guint height = facts->from_hook >= 3 ? facts->from_hook - 1u
                     : facts->chain > 0 ? facts->chain : facts->end_chain;
      guint class = MIN (height, 3);

      if (class > 0 && facts->chain_counts == BW_SAID_NOTHING &&
          pattern->chain_said[class] == BW_SAID_NOTHING &&
          pattern->chain_said[0] == BW_SAID_NOTHING)
        open |= 1u << (class - 1);
    }
  for (guint i = 0; i < pattern->sources->len; i++)
    if (g_array_index (pattern->sources, BwItemSource, i).flags & BW_SOURCE_LOOSE)
      return open | BW_READING_IN_ALL;

  return open;
}

static guint
count_misfits (const BwPattern *pattern,
               guint            size,
               guint            reading)
{
  BwPatternWalk walk;
  BwPatternStep step;
  guint misfits = 0;

  bw_pattern_walk_init (&walk, pattern, size, reading);
  while (bw_pattern_walk_next (&walk, &step))
    misfits += !fits (&step) || !step.count_holds;
  bw_pattern_walk_clear (&walk);
  return misfits;
}

/* Where the text can be understood in more than one way, the way in which the
 * fewest rounds are at fault; the usual one when they are equal. */
guint
bw_pattern_best_reading (const BwPattern *pattern,
                         guint            size)
{
  guint open = open_readings (pattern);
  guint best = BW_READING_USUAL;
  guint fewest;

  if (open == 0)
    return best;
  fewest = count_misfits (pattern, size, best);
  for (guint reading = 0; fewest > 0 && reading < BW_READING_N; reading++)
    {
      guint misfits;

      if (((reading ^ BW_READING_USUAL) & ~open) != 0 || reading == BW_READING_USUAL)
        continue;
      misfits = count_misfits (pattern, size, reading);
      if (misfits < fewest)
        {
          fewest = misfits;
          best = reading;
        }
    }

  return best;
}
