#define G_LOG_DOMAIN "bw-core"

#include "bw-pattern-audit-private.h"

#include <string.h>

#include "bw-anchor.h"

/* Stitches: stems for post stitches, columns, even spacing, row ends, ribs. */

static BwPatternFinding *
add (BwPatternAudit *audit,
     guint           size,
     guint32         line_index,
     guint32         number,
     BwFindingKind   kind,
     BwSeverity      severity)
{
  const BwPatternLine *line = bw_audit_line (audit, line_index);
  BwPatternFinding *finding = bw_audit_add (audit, kind, severity, bw_audit_work (audit, line));

  finding->sizes = (guint32) 1 << size;
  finding->round = number;
  finding->row = line->row;
  return finding;
}

static gboolean
is_post (const BwPatternAudit *audit,
         BwStitchIndex         stitch)
{
  BwAnchor anchor;

  if (stitch == BW_STITCH_NONE)
    return FALSE;
  anchor = bw_stitch_get (audit->pattern->dictionary, stitch)->anchor;
  return anchor == BW_ANCHOR_FRONT_POST || anchor == BW_ANCHOR_BACK_POST;
}

static gboolean
uses_posts (const BwPatternAudit *audit)
{
  const BwPattern *pattern = audit->pattern;

  for (guint i = 0; i < bw_stitch_dictionary_size (pattern->dictionary); i++)
    if (pattern->sink.stitches[i] != 0 && is_post (audit, (BwStitchIndex) i))
      return TRUE;

  return FALSE;
}

/* --- Stems --- */

/* A stretch of rounds without rows, joins or rounds that do not fit between. */
static guint
stretch_of (const BwPatternRounds *rounds,
            guint                  first)
{
  const BwRound *all = (const BwRound *) (void *) rounds->list->rounds->data;
  guint end = first;

  while (end < rounds->list->rounds->len && !all[end].row && all[end].number > 0 &&
         all[end].n_items > 0 && all[end].stitches_out > 0 &&
         (end == first || all[end].stitches_in == all[end - 1].stitches_out))
    end++;
  return end - first;
}

/* One finding of each stretch is enough: what is above it may come of it. */
static void
check_stems (BwPatternAudit        *audit,
             guint                  size,
             const BwPatternRounds *rounds)
{
  guint n = rounds->list->rounds->len;
  g_autofree BwAnchorRound *stack = g_new (BwAnchorRound, n + 1);

  for (guint i = 0; i < n;)
    {
      guint length = stretch_of (rounds, i);
      BwAnchorFault fault;

      for (guint j = 0; j < length; j++)
        {
          const BwRound *round = &g_array_index (rounds->list->rounds, BwRound, i + j);

          stack[j] = (BwAnchorRound) { bw_round_items (rounds->list, round), round->n_items };
        }
      if (length > 0 && !bw_anchor_check (audit->pattern->dictionary, stack, length, &fault))
        add (audit, size, g_array_index (rounds->lines, guint32, i + fault.round),
             g_array_index (rounds->list->rounds, BwRound, i + fault.round).number,
             fault.covered ? BW_FINDING_POST_COVERED : BW_FINDING_NO_POST,
             BW_SEVERITY_WARNING)->a = fault.position + 1;
      i += MAX (length, 1);
    }
}

/* --- Columns of posts --- */

#define COLUMNS_MOST 512

/* Letters of a round's stitches: f and b for posts, - for others. */
static gboolean
put_columns (const BwPatternAudit *audit,
             const BwItem         *items,
             guint                 n,
             GString              *out)
{
  for (guint i = 0; i < n; i += 1u + items[i].span)
    for (guint t = 0; t < items[i].count; t++)
      {
        const BwStitch *stitch;

        if (out->len >= COLUMNS_MOST)
          return FALSE;
        if (items[i].kind == BW_ITEM_REPEAT)
          {
            if (!put_columns (audit, &items[i + 1], items[i].span, out))
              return FALSE;
            continue;
          }
        if (items[i].kind != BW_ITEM_EACH)
          return FALSE;
        stitch = bw_stitch_get (audit->pattern->dictionary, items[i].stitch);
        if (stitch->takes != 1 || stitch->makes != 1)
          return FALSE;
        g_string_append_c (out, stitch->anchor == BW_ANCHOR_FRONT_POST ? 'f'
                                : stitch->anchor == BW_ANCHOR_BACK_POST ? 'b' : '-');
      }

  return TRUE;
}

/* Only rounds with front and back posts have columns to compare. */
static gboolean
has_columns (const BwPatternAudit *audit,
             const BwItem         *items,
             guint                 n)
{
  gboolean front = FALSE;
  gboolean back = FALSE;

  for (guint i = 0; i < n; i++)
    if (items[i].stitch != BW_STITCH_NONE)
      {
        BwAnchor anchor = bw_stitch_get (audit->pattern->dictionary, items[i].stitch)->anchor;

        front |= anchor == BW_ANCHOR_FRONT_POST;
        back |= anchor == BW_ANCHOR_BACK_POST;
      }

  return front && back;
}

static gboolean
mirrored (const char *a,
          const char *b)
{
  for (; *a != '\0' && *b != '\0'; a++, b++)
    if ((*a == 'f' && *b != 'b') || (*a == 'b' && *b != 'f') || (*a == '-' && *b != '-'))
      return FALSE;

  return *a == *b;
}

/* Of five rounds of post stitches all have them in the same columns, but for the
 * one in the middle, which has front and back changed. */
static void
check_columns (BwPatternAudit        *audit,
               guint                  size,
               const BwPatternRounds *rounds)
{
  GString *last[5];
  guint run = 0;

  for (guint i = 0; i < G_N_ELEMENTS (last); i++)
    last[i] = g_string_new (NULL);
  for (guint i = 0; i < rounds->list->rounds->len; i++)
    {
      const BwRound *round = &g_array_index (rounds->list->rounds, BwRound, i);
      GString *oldest = last[0];

      memmove (last, last + 1, 4 * sizeof last[0]);
      last[4] = oldest;
      g_string_truncate (oldest, 0);
      if (round->row || round->number == 0 ||
          !has_columns (audit, bw_round_items (rounds->list, round), round->n_items) ||
          !put_columns (audit, bw_round_items (rounds->list, round), round->n_items, oldest))
        {
          run = 0;
          continue;
        }
      if (++run >= 5 && g_str_equal (last[0]->str, last[1]->str) &&
          g_str_equal (last[1]->str, last[3]->str) && g_str_equal (last[3]->str, last[4]->str) &&
          mirrored (last[1]->str, last[2]->str))
        add (audit, size, g_array_index (rounds->lines, guint32, i - 2),
             g_array_index (rounds->list->rounds, BwRound, i - 2).number, BW_FINDING_POST_COLUMNS,
             BW_SEVERITY_WARNING);
    }
  for (guint i = 0; i < G_N_ELEMENTS (last); i++)
    g_string_free (last[i], TRUE);
}

/* --- Even spacing --- */

#define SHAPINGS_MOST 128

/* Stitches between the decreases of a round, or the increases. */
typedef struct
{
  guint   gaps[SHAPINGS_MOST];
  guint   n;
  guint   plain;     /* since the last one */
  guint   before;    /* the first one */
  gint8   way;       /* -1 decreases, 1 increases */
  gboolean mixed;    /* both, or something else: nothing is told */
} Spacing;

static void
space_items (const BwPatternAudit *audit,
             const BwItem         *items,
             guint                 n,
             Spacing              *spacing)
{
  for (guint i = 0; i < n && !spacing->mixed; i += 1u + items[i].span)
    {
      const BwStitch *stitch;
      gint8 way;

      if (items[i].kind == BW_ITEM_REPEAT)
        {
          guint shapings = spacing->n;
          guint plain = spacing->plain;

          for (guint t = 0; t < items[i].count && !spacing->mixed; t++)
            {
              space_items (audit, &items[i + 1], items[i].span, spacing);
              if (spacing->n > shapings)
                continue;
              /* nothing but plain stitches: the others are as many */
              spacing->plain += (spacing->plain - plain) * (items[i].count - 1);
              break;
            }
          continue;
        }
      if (items[i].kind != BW_ITEM_EACH && items[i].kind != BW_ITEM_IN_ONE)
        {
          spacing->mixed = TRUE;
          return;
        }
      stitch = bw_stitch_get (audit->pattern->dictionary, items[i].stitch);
      way = items[i].kind == BW_ITEM_IN_ONE && items[i].count > 1 ? 1
            : stitch->takes > stitch->makes ? -1 : 0;
      if (stitch->takes == 0 || stitch->makes == 0)
        {
          spacing->mixed = TRUE;
          return;
        }
      if (way == 0)
        {
          spacing->plain += items[i].count;
          continue;
        }
      if (spacing->way != 0 && spacing->way != way)
        spacing->mixed = TRUE;
      spacing->way = way;
      for (guint t = 0; t < (way < 0 ? items[i].count : 1) && !spacing->mixed; t++)
        {
          if (spacing->n == 0)
            spacing->before = spacing->plain;
          if (spacing->n < SHAPINGS_MOST)
            spacing->gaps[spacing->n++] = spacing->plain;
          else
            spacing->mixed = TRUE;
          spacing->plain = 0;
        }
    }
}

/* The one gap that stands out while the others differ by no more than a stitch:
 * it is the smallest, or the largest. -1 = there is none such. */
static int
odd_gap (const Spacing *spacing)
{
  const guint *gaps = spacing->gaps;
  guint low = 0, high = 0;          /* places of the smallest and the largest */
  guint next_low = G_MAXUINT, next_high = 0;

  for (guint i = 1; i < spacing->n; i++)
    {
      low = gaps[i] < gaps[low] ? i : low;
      high = gaps[i] > gaps[high] ? i : high;
    }
  for (guint i = 0; i < spacing->n; i++)
    {
      next_low = i != low ? MIN (next_low, gaps[i]) : next_low;
      next_high = i != high ? MAX (next_high, gaps[i]) : next_high;
    }
  if (gaps[high] > next_high + 1 && next_high - gaps[low] <= 1)
    return (int) high;
  if (gaps[low] + 1 < next_low && gaps[high] - next_low <= 1)
    return (int) low;
  return -1;
}

/* Four or more decreases (or increases) in a round, all but one of them equally
 * far apart within a stitch: that one stands out. Shaping at two places has more
 * than one odd gap and is left alone. */
static void
check_spacing (BwPatternAudit      *audit,
               const BwPatternWalk *walk,
               const BwPatternStep *step)
{
  Spacing spacing;
  BwPatternFinding *finding;
  int odd;

  spacing.n = spacing.plain = spacing.before = 0;
  spacing.way = 0;
  spacing.mixed = FALSE;
  space_items (audit, (const BwItem *) (void *) walk->items->data, walk->items->len, &spacing);
  if (spacing.mixed || spacing.n < 4)
    return;
  spacing.gaps[0] = spacing.before + spacing.plain; /* across the join */
  odd = odd_gap (&spacing);
  if (odd < 0)
    return;

  finding = add (audit, walk->size, step->line, step->number, BW_FINDING_UNEVEN,
                 BW_SEVERITY_WARNING);
  finding->a = finding->b = spacing.gaps[odd];
  for (guint i = 0; i < spacing.n; i++)
    {
      finding->a = MIN (finding->a, spacing.gaps[i]);
      finding->b = MAX (finding->b, spacing.gaps[i]);
    }
}

/* --- Row ends --- */

/* No more than two in one row end, and no three missed in a row. */
static void
check_row_ends (BwPatternAudit      *audit,
                const BwPatternWalk *walk,
                const BwPatternStep *step)
{
  const BwItem *items = (const BwItem *) (void *) walk->items->data;

  for (guint i = 0; i < walk->items->len; i++)
    {
      const BwStitch *stitch;

      if (items[i].stitch == BW_STITCH_NONE || items[i].place != BW_PLACE_ROW_END)
        continue;
      stitch = bw_stitch_get (audit->pattern->dictionary, items[i].stitch);
      if (items[i].kind == BW_ITEM_IN_ONE && items[i].count > 2)
        add (audit, walk->size, step->line, step->number, BW_FINDING_ROW_ENDS_CROWDED,
             BW_SEVERITY_ERROR)->a = items[i].count;
      else if (stitch->makes == 0 && stitch->takes > 0 && items[i].count >= 3)
        add (audit, walk->size, step->line, step->number, BW_FINDING_ROW_ENDS_SKIPPED,
             BW_SEVERITY_ERROR)->a = items[i].count;
      else
        continue;
      return;
    }
}

/* Looks at the stitches of a round that fits. */
void
bw_audit_round_stitches (BwPatternAudit      *audit,
                         const BwPatternWalk *walk,
                         const BwPatternStep *step)
{
  const BwPatternLine *line = bw_audit_line (audit, step->line);

  if (step->work != line || step->fit.status != BW_FIT_WELL)
    return;
  if (step->fit.makes != step->fit.takes && !line->row && !line->facts.evenly &&
      !line->facts.ring && step->available > 0)
    check_spacing (audit, walk, step);
  if (bw_pattern_takes_row_ends (audit->pattern, line))
    check_row_ends (audit, walk, step);
}

/* Stitches of a hat are some thousands; a text that claims many more is not
 * worked out stitch by stitch. */
#define STITCHES_MOST 2000000

static gboolean
is_too_large (const BwPatternRounds *rounds)
{
  guint64 stitches = 0;

  for (guint i = 0; i < rounds->list->rounds->len; i++)
    stitches += g_array_index (rounds->list->rounds, BwRound, i).stitches_out;
  return stitches > STITCHES_MOST;
}

/* Looks at what goes on over several rounds. */
void
bw_audit_stitches (BwPatternAudit *audit,
                   guint           size)
{
  g_autoptr (BwPatternRounds) rounds = NULL;

  if (!uses_posts (audit) || audit->sizes[size].faulty || audit->sizes[size].unsure)
    return;
  rounds = bw_pattern_evaluate (audit->pattern, size);
  if (is_too_large (rounds))
    return;
  check_stems (audit, size, rounds);
  check_columns (audit, size, rounds);
}

/* --- Ribs --- */

/* Every row of the line in one loop: two of them are a ridge. */
static gboolean
is_ridged (const BwPatternAudit *audit,
           const BwPatternLine  *line)
{
  gboolean any = FALSE;

  for (guint i = line->first_item; i < line->first_item + line->n_items; i++)
    {
      const BwItem *item = &g_array_index (audit->pattern->items, BwItem, i);

      if (item->stitch == BW_STITCH_NONE ||
          bw_stitch_get (audit->pattern->dictionary, item->stitch)->takes == 0)
        continue;
      if (item->loop == BW_LOOP_BOTH)
        return FALSE;
      any = TRUE;
    }

  return any;
}

/* A sideways rib that is joined to a ring has an even number of rows. */
void
bw_audit_rib (BwPatternAudit      *audit,
              const BwPatternWalk *walk)
{
  guint rows = 0;
  guint ridged = 0;

  for (guint i = 0; i < walk->entries->len; i++)
    {
      const BwPatternEntry *entry = &g_array_index (walk->entries, BwPatternEntry, i);
      const BwPatternLine *line = bw_audit_line (audit, entry->line);
      const BwPatternLine *work;

      if (line->kind == BW_LINE_JOIN && rows >= 4 && rows % 2 != 0 && ridged + 1 >= rows)
        add (audit, walk->size, entry->line, 0, BW_FINDING_BRIM_ODD, BW_SEVERITY_WARNING)->a = rows;
      if (!line->row || line->kind != BW_LINE_ROUND)
        {
          rows = ridged = 0;
          continue;
        }
      work = bw_pattern_work_of (audit->pattern, walk->entries, i, 0, walk->size);
      rows += entry->n;
      if (work != NULL && is_ridged (audit, work))
        ridged += entry->n;
    }
}
