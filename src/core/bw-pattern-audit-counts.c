#define G_LOG_DOMAIN "bw-core"

#include "bw-pattern-audit-private.h"

/* Does every round fit the one below, and make what it says? Of a round at
 * fault one thing is told: what explains it best. What is worked next stands on
 * the stated count, or on what was made, so that a fault stays where it is. */

/* How a round can be mended by changing one number of it. */
typedef struct
{
  guint   n;     /* ways found */
  guint32 item;  /* of the pattern; the first way, a repeat before a stitch */
  guint   is;
  guint   should;
  gboolean repeat;
} Mend;

typedef struct
{
  BwPatternAudit      *audit;
  const BwPatternWalk *walk;
  const BwPatternStep *step;
  const BwPatternLine *line;
  Mend                 mend;
} Round;

static BwPatternFinding *
add (Round         *round,
     BwFindingKind  kind,
     BwSeverity     severity,
     BwSlice        where)
{
  BwPatternFinding *finding = bw_audit_add (round->audit, kind, severity, where);

  finding->sizes = (guint32) 1 << round->walk->size;
  finding->round = round->step->number;
  finding->row = round->line->row;
  return finding;
}

/* --- The items of a line for one size, and where they come from --- */

/* Puts the indices of the items that the size works into the map; the same ones
 * that bw_pattern_items() copies. */
static void
map_items (BwPatternAudit      *audit,
           const BwPatternLine *line,
           guint                size,
           guint                first,
           guint                n)
{
  const BwPattern *pattern = audit->pattern;

  for (guint32 i = first; i < first + n;)
    {
      const BwItem *item = &g_array_index (pattern->items, BwItem, i);
      guint32 list = g_array_index (pattern->sources, BwItemSource, i).list;
      guint32 figure = bw_pattern_figure (pattern, line, list, size);
      guint at = audit->map->len;

      if (list == 0 ||
          !(figure == BW_FIGURE_NONE || (figure == 0 && item->kind != BW_ITEM_TO_LAST)))
        {
          g_array_append_val (audit->map, i);
          map_items (audit, line, size, i + 1, item->span);
          if (item->span > 0 && audit->map->len == at + 1)
            g_array_set_size (audit->map, at);
        }
      i += 1u + item->span;
    }
}

static guint32
source_of (Round *round,
           guint  index)
{
  const BwPatternLine *work = round->step->work;
  GArray *map = round->audit->map;

  g_array_set_size (map, 0);
  map_items (round->audit, work, round->walk->size, work->first_item, work->n_items);
  return index < map->len ? g_array_index (map, guint32, index) : work->first_item;
}

static gboolean
is_stated (const Round *round,
           guint        made)
{
  guint chains = round->step->fit.makes - round->step->fit.stitches;

  return round->step->stated == BW_COUNT_UNKNOWN || round->step->stated == made ||
         round->step->stated + chains == made;
}

/* --- One number that would mend it --- */

static void
keep_mend (Round   *round,
           guint    index,
           guint    is,
           gint64   should,
           gboolean repeat)
{
  if (round->mend.repeat && !repeat)
    return;
  if (repeat && !round->mend.repeat)
    round->mend.n = 0;
  if (round->mend.n++ > 0)
    return;
  round->mend.item = index;
  round->mend.is = is;
  round->mend.should = (guint) should;
  round->mend.repeat = repeat;
}

/* Tries other counts of the items, each worked `times` times in the round. */
static void
try_counts (Round        *round,
            const BwItem *items,
            guint         first,
            guint         n,
            guint         times)
{
  const BwPatternFit *fit = &round->step->fit;
  const BwStitchDictionary *dictionary = round->audit->pattern->dictionary;

  for (guint i = first; i < first + n; i += 1u + items[i].span)
    {
      guint64 takes = 0;
      guint64 makes = 0;
      BwItem one = items[i];
      gint64 missing = (gint64) round->step->available - fit->takes;
      gint64 more;

      if (items[i].kind == BW_ITEM_CLUSTER || items[i].kind == BW_ITEM_TO_LAST ||
          items[i].count == 0)
        continue;
      one.count = 1;
      if (!bw_items_measure (dictionary, items[i].span > 0 ? &items[i + 1] : &one,
                             items[i].span > 0 ? items[i].span : 1, &takes, &makes))
        continue;
      if (items[i].kind == BW_ITEM_IN_ONE)
        takes = 0;
      if (takes > 0 && missing % (gint64) (takes * times) == 0)
        {
          more = missing / (gint64) (takes * times);
          if (more > -(gint64) items[i].count &&
              is_stated (round, (guint) ((gint64) fit->makes + more * (gint64) (makes * times))))
            keep_mend (round, i, items[i].count, items[i].count + more,
                       items[i].kind == BW_ITEM_REPEAT);
        }
      if (items[i].kind == BW_ITEM_REPEAT)
        try_counts (round, items, i + 1, items[i].span, times * items[i].count);
    }
}

static void
find_mend (Round *round)
{
  const BwPatternWalk *walk = round->walk;

  round->mend = (Mend) { 0 };
  if (walk->items->len <= 64)
    try_counts (round, (const BwItem *) (void *) walk->items->data, 0, walk->items->len, 1);
}

/* --- "2 dc": one in each of two, or two in one? --- */

/* Does the round fit when numbers before a stitch are increases? */
static gboolean
fits_in_one (Round *round)
{
  BwPatternAudit *audit = round->audit;
  const BwPatternStep *step = round->step;
  BwPatternFit fit;
  gboolean any = FALSE;

  bw_pattern_items (audit->pattern, step->work, round->walk->size, audit->reading, step->lead,
                    audit->trial);
  for (guint i = 0; i < audit->trial->len; i++)
    {
      BwItem *item = &g_array_index (audit->trial, BwItem, i);
      const BwItemSource *source = &g_array_index (audit->pattern->sources, BwItemSource,
                                                   source_of (round, i));

      if (item->kind == BW_ITEM_EACH && item->count >= 2 && source->flags & BW_SOURCE_COUNTED &&
          bw_stitch_get (audit->pattern->dictionary, item->stitch)->takes == 1)
        {
          item->kind = BW_ITEM_IN_ONE;
          any = TRUE;
        }
    }
  if (!any)
    return FALSE;

  bw_pattern_fit (audit->pattern, step->work, step->lead, audit->trial, step->available, &fit);
  return fit.status == BW_FIT_WELL &&
         (step->stated == BW_COUNT_UNKNOWN || step->stated == fit.makes ||
          step->stated == fit.stitches);
}

/* --- A round that takes another number than is offered --- */

/* The number to change, where it stands; behind "rep from *" it is one less than
 * how often the group is worked. */
static void
tell_mend (Round            *round,
           BwPatternFinding *finding)
{
  guint32 item = source_of (round, round->mend.item);
  const BwItemSource *source = &g_array_index (round->audit->pattern->sources, BwItemSource, item);
  BwSlice where = { 0, 0 };
  guint64 written;

  finding->low = round->mend.should;
  if (source->list != 0)
    where = bw_audit_figure (round->audit, round->step->work, source->list, round->walk->size);
  else if (round->mend.repeat)
    where = bw_audit_times (round->audit, item);
  if (where.length == 0)
    return;

  finding->offset = where.offset;
  finding->length = where.length;
  written = g_ascii_strtoull (round->audit->pattern->text + where.offset, NULL, 10);
  if (written == round->mend.is || written + 1 == round->mend.is)
    {
      finding->low = round->mend.should - (guint) (round->mend.is - written);
      finding->mended = g_strdup_printf ("%u", finding->low);
    }
}

static void
tell_takes (Round *round)
{
  const BwPatternStep *step = round->step;
  BwSlice work = bw_audit_work (round->audit, round->line);
  BwPatternFinding *finding;

  if (bw_pattern_takes_row_ends (round->audit->pattern, step->work))
    {
      finding = add (round, BW_FINDING_ROW_ENDS, BW_SEVERITY_ERROR, work);
      finding->a = step->fit.takes;
      finding->b = step->available;
      return;
    }
  if (fits_in_one (round))
    {
      finding = add (round, BW_FINDING_TWO_MEANINGS, BW_SEVERITY_WARNING, work);
      return;
    }

  find_mend (round);
  if (round->mend.n == 1 && round->mend.repeat)
    {
      finding = add (round, BW_FINDING_TIMES, BW_SEVERITY_ERROR, work);
      finding->a = round->mend.is;
      finding->b = round->mend.should;
    }
  else
    {
      finding = add (round, BW_FINDING_ROUND_DOES_NOT_FIT, BW_SEVERITY_ERROR, work);
      finding->a = step->fit.takes;
      finding->b = step->available;
      finding->c = round->mend.n == 1 ? round->mend.is : 0;
    }
  if (round->mend.n == 1 && round->line == step->work)
    tell_mend (round, finding);
}

/* A repeat that does not end with the round: which counts would it end with? */
static void
tell_remainder (Round *round)
{
  const BwPatternFit *fit = &round->step->fit;
  BwPatternFinding *finding = add (round, BW_FINDING_REPEAT_DOES_NOT_END, BW_SEVERITY_ERROR,
                                   bw_audit_work (round->audit, round->line));
  guint over = fit->turn > 0 ? fit->room % fit->turn : 0;

  finding->a = fit->turn;
  finding->b = fit->room;
  finding->c = over;
  if (fit->turn > 0)
    {
      finding->low = fit->room > over ? round->step->available - over : 0;
      finding->high = round->step->available - over + fit->turn;
    }
}

/* "to last 2 sts, 3 dc": unless what is left stays unworked, as short rows do. */
static void
tell_to_last (Round *round)
{
  const BwPatternStep *step = round->step;
  BwSlice work = bw_audit_work (round->audit, round->line);
  BwPatternFinding *finding;
  guint32 item = source_of (round, step->fit.open);
  guint stops = g_array_index (round->audit->pattern->items, BwItem, item).count;

  if (step->fit.after < stops && step->stated != BW_COUNT_UNKNOWN && step->count_holds)
    return;
  finding = add (round, BW_FINDING_TO_LAST, BW_SEVERITY_ERROR, work);
  finding->a = stops;
  finding->b = step->fit.after;
  if (step->fit.turn > 0 && (step->fit.room % step->fit.turn) == 0)
    finding->low = step->fit.after;
}

/* --- The stated count --- */

static void
tell_count (Round *round,
            guint  made)
{
  const BwPatternStep *step = round->step;
  BwSlice where = bw_audit_figure (round->audit, round->line, round->line->facts.stated,
                                   round->walk->size);
  BwPatternFinding *finding = add (round, BW_FINDING_COUNT_DIFFERS, BW_SEVERITY_ERROR, where);

  finding->a = made;
  finding->b = step->stated;
  if (g_ascii_isdigit (round->audit->pattern->text[where.offset]))
    finding->mended = g_strdup_printf ("%u", made);
}

/* What a round worked evenly makes: the rest of its stitches are plain. */
static guint
made_evenly (const Round *round)
{
  guint64 takes = 0;
  guint64 makes = 0;
  const BwPatternStep *step = round->step;

  if (step->available == BW_COUNT_UNKNOWN ||
      !bw_items_measure (round->audit->pattern->dictionary,
                         (const BwItem *) (void *) round->walk->items->data,
                         round->walk->items->len, &takes, &makes) ||
      takes > step->available)
    return step->fit.makes;
  return step->available - (guint) takes + (guint) makes;
}

static void
check_count (Round *round)
{
  const BwPatternStep *step = round->step;
  guint made = step->fit.makes;

  if (step->count_holds || made == BW_COUNT_UNKNOWN)
    return;
  if (step->work->facts.evenly)
    {
      made = made_evenly (round);
      if (made == step->stated)
        return;
    }
  tell_count (round, made);
}

/* Short rows leave stitches unworked, and say so. */
static gboolean
leaves_some (const Round *round)
{
  static const char *const ways[] = { "unwork", "leave rem", "leaving rem", "leave last",
                                      "leaving last", "leave the", "leaving the" };
  BwSlice work = bw_audit_work (round->audit, round->step->work);

  if (round->step->fit.takes >= round->step->available)
    return FALSE;
  for (guint i = 0; i < G_N_ELEMENTS (ways); i++)
    if (bw_audit_says (round->audit, work, ways[i]))
      return TRUE;

  return FALSE;
}

/* Tells what is wrong with the counts of a round, or of a run of them. */
void
bw_audit_round (BwPatternAudit      *audit,
                BwPatternWalk       *walk,
                const BwPatternStep *step)
{
  Round round = { audit, walk, step, bw_audit_line (audit, step->line), { 0 } };
  BwPatternFinding *finding;

  switch (step->fit.status)
    {
    case BW_FIT_WELL:
      check_count (&round);
      break;
    case BW_FIT_TAKES:
      if (!leaves_some (&round))
        tell_takes (&round);
      else
        check_count (&round);
      break;
    case BW_FIT_REMAINDER:
      tell_remainder (&round);
      break;
    case BW_FIT_TO_LAST:
      tell_to_last (&round);
      break;
    case BW_FIT_SEVERAL:
    case BW_FIT_TOO_LARGE:
      finding = add (&round, BW_FINDING_NOT_COUNTABLE, BW_SEVERITY_WARNING,
                     bw_audit_work (audit, round.line));
      finding->a = step->fit.status == BW_FIT_SEVERAL;
      break;
    case BW_FIT_UNKNOWN:
    default:
      break;
    }
}

/* Joining the ends of a flat piece, and drawing up: the number that they say,
 * and whether that many close. */
void
bw_audit_close (BwPatternAudit      *audit,
                const BwPatternWalk *walk,
                const BwPatternStep *step)
{
  Round round = { audit, walk, step, bw_audit_line (audit, step->line), { 0 } };
  const BwPatternLine *line = round.line;
  BwPatternFinding *finding;

  if (step->fit.status == BW_FIT_TAKES)
    {
      BwSlice where = bw_audit_figure (audit, line, line->facts.stated, walk->size);

      finding = add (&round, line->kind == BW_LINE_CLOSE ? BW_FINDING_COUNT_DIFFERS
                                                         : BW_FINDING_ROUND_DOES_NOT_FIT,
                     BW_SEVERITY_ERROR, where);
      finding->a = line->kind == BW_LINE_CLOSE ? step->available : step->fit.takes;
      finding->b = line->kind == BW_LINE_CLOSE ? step->fit.takes : step->available;
      if (g_ascii_isdigit (audit->pattern->text[where.offset]))
        finding->mended = g_strdup_printf ("%u", step->available);
    }
  if (line->kind == BW_LINE_CLOSE && step->available != BW_COUNT_UNKNOWN &&
      step->available > BW_CLOSE_MOST)
    {
      finding = add (&round, BW_FINDING_CLOSE_TOO_MANY, BW_SEVERITY_WARNING,
                     bw_audit_label (audit, line));
      finding->a = step->available;
      finding->b = BW_CLOSE_MOST;
    }
}
