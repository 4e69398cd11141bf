#define G_LOG_DOMAIN "bw-core"

#include "bw-pattern-private.h"

/* Does a round fit the one below it? Like bw_items_bind(), with the figures of
 * a misfit instead of words, and what a written line brings besides items. */

/* Positions taken and made; `chains` of those made. */
typedef struct
{
  guint64 takes;
  guint64 makes;
  guint64 chains;
} Sum;

static gboolean
is_open (const BwItem *item)
{
  return item->kind == BW_ITEM_TO_LAST ||
         ((item->kind == BW_ITEM_REPEAT || item->kind == BW_ITEM_EACH) && item->count == 0);
}

static void
add_stitches (const BwStitchDictionary *dictionary,
              const BwItem             *item,
              Sum                      *sum)
{
  const BwStitch *stitch = bw_stitch_get (dictionary, item->stitch);
  guint64 takes = item->kind == BW_ITEM_IN_ONE ? stitch->takes
                                               : (guint64) stitch->takes * item->count;
  guint64 makes = (guint64) stitch->makes * item->count;

  if (item->place == BW_PLACE_RING)
    takes = 0;
  else if (item->place == BW_PLACE_SAME_STITCH)
    takes -= MIN (takes, stitch->takes);

  sum->takes += takes;
  sum->makes += makes;
  if (stitch->takes == 0)
    sum->chains += makes;
  else if (stitch->space > 0)
    sum->chains += item->count;
}

static gboolean
too_large (const Sum *sum)
{
  return sum->takes > BW_ITEM_COUNT_MAX || sum->makes > BW_ITEM_COUNT_MAX;
}

/* Adds items up; an open one inside counts as worked no times. */
static gboolean
measure (const BwStitchDictionary *dictionary,
         const BwItem             *items,
         gsize                     n,
         Sum                      *sum)
{
  for (gsize i = 0; i < n; i += 1u + items[i].span)
    {
      Sum inner = { 0, 0, 0 };

      if (items[i].stitch != BW_STITCH_NONE)
        add_stitches (dictionary, &items[i], sum);
      else
        {
          guint times = items[i].kind == BW_ITEM_CLUSTER ? 1
                        : items[i].kind == BW_ITEM_TO_LAST ? 0 : items[i].count;

          if (!measure (dictionary, &items[i + 1], items[i].span, &inner))
            return FALSE;
          if (items[i].kind == BW_ITEM_CLUSTER)
            inner.takes = items[i].place == BW_PLACE_SAME_STITCH ||
                          items[i].place == BW_PLACE_RING ? 0 : 1;
          sum->takes += inner.takes * times;
          sum->makes += inner.makes * times;
          sum->chains += inner.chains * times;
        }
      if (too_large (sum))
        return FALSE;
    }

  return TRUE;
}

static guint
count_open (const BwItem *items,
            gsize         n,
            gsize        *first)
{
  guint open = 0;

  *first = n;
  for (gsize i = 0; i < n; i++)
    if (is_open (&items[i]) && open++ == 0)
      *first = i;

  return open;
}

/* Is the item at the top level? */
static gboolean
at_top (const BwItem *items,
        gsize         n,
        gsize         index)
{
  gsize i = 0;

  while (i < index && i < n)
    i += 1u + items[i].span;
  return i == index;
}

static void
fill (BwPatternFit *fit,
      const Sum    *sum)
{
  fit->takes = (guint) sum->takes;
  fit->makes = (guint) sum->makes;
  fit->stitches = (guint) (sum->makes - sum->chains);
}

/* Gives the open item the times it has room for. */
static void
bind (const BwPattern *pattern,
      BwItem          *items,
      gsize            n,
      gsize            open,
      guint            available,
      Sum             *rest,
      BwPatternFit    *fit)
{
  gsize next = open + 1u + items[open].span;
  Sum turn = { 0, 0, 0 };
  Sum after = { 0, 0, 0 };
  BwItem one = items[open];
  guint64 room;

  one.count = 1;
  if (items[open].span > 0)
    measure (pattern->dictionary, &items[open + 1], items[open].span, &turn);
  else
    add_stitches (pattern->dictionary, &one, &turn);
  measure (pattern->dictionary, &items[next], n - next, &after);

  fit->open = (guint) open;
  fit->turn = (guint) turn.takes;
  fit->after = (guint) after.takes;
  fit->room = rest->takes <= available ? available - (guint) rest->takes : 0;
  room = fit->room;
  if (rest->takes > available)
    fit->status = BW_FIT_TAKES;
  else if (turn.takes == 0)
    fit->status = BW_FIT_REMAINDER;
  else if (items[open].kind == BW_ITEM_TO_LAST && items[open].count != after.takes)
    {
      fit->status = BW_FIT_TO_LAST;
      room = available >= rest->takes - after.takes + items[open].count
               ? available - (rest->takes - after.takes) - items[open].count : 0;
    }
  else if (room % turn.takes != 0)
    fit->status = BW_FIT_REMAINDER;

  if (turn.takes > 0)
    {
      guint64 times = room / turn.takes;

      items[open].count = (guint32) times;
      if (items[open].kind == BW_ITEM_TO_LAST)
        items[open].kind = BW_ITEM_REPEAT;
      rest->takes += turn.takes * times;
      rest->makes += turn.makes * times;
      rest->chains += turn.chains * times;
    }
}

/* Holds the items of a round against what the round below offers
 * (BW_COUNT_UNKNOWN = not known), and binds its open repeat. */
void
bw_pattern_fit (const BwPattern     *pattern,
                const BwPatternLine *line,
                BwPatternLead        lead,
                GArray              *array,
                guint                available,
                BwPatternFit        *fit)
{
  BwItem *items = (BwItem *) (void *) array->data;
  gsize n = array->len;
  Sum sum = { lead.takes, lead.makes, lead.makes > 1 ? lead.makes - 1 : 0 };
  gsize open;
  guint n_open = count_open (items, n, &open);

  *fit = (BwPatternFit) { .status = BW_FIT_WELL };
  if (line->facts.from_hook >= 2)
    sum.takes += line->facts.from_hook - 1u;
  if (!measure (pattern->dictionary, items, n, &sum))
    {
      fit->status = BW_FIT_TOO_LARGE;
      return;
    }
  if (n_open > 1 || (n_open == 1 && !at_top (items, n, open)))
    fit->status = BW_FIT_SEVERAL;
  else if (line->facts.evenly)
    sum.takes = available != BW_COUNT_UNKNOWN ? available : sum.takes;
  else if (n_open == 1 && available == BW_COUNT_UNKNOWN)
    fit->status = BW_FIT_UNKNOWN;
  else if (n_open == 1)
    bind (pattern, items, n, open, available, &sum, fit);
  else if (available != BW_COUNT_UNKNOWN && sum.takes != available)
    fit->status = BW_FIT_TAKES;
  fill (fit, &sum);
  if (too_large (&sum))
    fit->status = BW_FIT_TOO_LARGE;
}

/* --- The items of a line for one size --- */

/* Copies items, dropping what a size works no times. */
static void
copy_items (const BwPattern     *pattern,
            const BwPatternLine *line,
            guint                size,
            guint                reading,
            guint                first,
            guint                n,
            GArray              *out)
{
  for (guint i = first; i < first + n;)
    {
      BwItem item = g_array_index (pattern->items, BwItem, i);
      const BwItemSource *source = &g_array_index (pattern->sources, BwItemSource, i);
      guint span = item.span;
      guint at = out->len;

      if (source->list != 0)
        {
          guint32 figure = bw_pattern_figure (pattern, line, source->list, size);

          if (figure == BW_FIGURE_NONE || (figure == 0 && item.kind != BW_ITEM_TO_LAST))
            {
              i += 1 + span;
              continue;
            }
          item.count = figure;
          if (source->flags & BW_SOURCE_PLUS_ONE && !(reading & BW_READING_IN_ALL))
            item.count++;
        }
      else if (source->flags & BW_SOURCE_LOOSE && reading & BW_READING_IN_ALL && item.count > 1)
        item.count--;

      g_array_append_val (out, item);
      if (span > 0)
        copy_items (pattern, line, size, reading, i + 1, span, out);
      g_array_index (out, BwItem, at).span = (guint16) (out->len - at - 1);
      if (span > 0 && out->len == at + 1)
        g_array_set_size (out, at);
      i += 1 + span;
    }
}

/* Puts the items of a line for one size into `items`. */
void
bw_pattern_items (const BwPattern     *pattern,
                  const BwPatternLine *line,
                  guint                size,
                  guint                reading,
                  BwPatternLead        lead,
                  GArray              *items)
{
  g_array_set_size (items, 0);
  copy_items (pattern, line, size, reading, line->first_item, line->n_items, items);

  /* With no chain standing on it, "the same stitch" at the beginning is the first */
  if (items->len > 0 && lead.takes == 0 && line->facts.from_hook == 0 &&
      g_array_index (items, BwItem, 0).place == BW_PLACE_SAME_STITCH)
    g_array_index (items, BwItem, 0).place = BW_PLACE_NEXT_STITCH;
  for (guint i = 0; i < items->len; i++)
    if (g_array_index (items, BwItem, i).place == BW_PLACE_SECOND_CHAIN &&
        line->facts.from_hook == 0)
      g_array_index (items, BwItem, i).place = BW_PLACE_NEXT_STITCH;
}

static gboolean
chain_counts (const BwPattern *pattern,
              guint            height,
              guint            reading)
{
  guint class = MIN (height, 3);
  guint8 said = pattern->chain_said[class] != BW_SAID_NOTHING ? pattern->chain_said[class]
                                                              : pattern->chain_said[0];

  if (said != BW_SAID_NOTHING)
    return said == BW_SAID_YES;
  return (reading >> (class - 1) & 1) != 0;
}

/* What the chain at the beginning of a line takes and makes; `before` is the
 * line worked before it, whose turning chain it may stand on. */
BwPatternLead
bw_pattern_lead (const BwPattern     *pattern,
                 const BwPatternLine *line,
                 const BwPatternLine *before,
                 guint                reading)
{
  const BwLineFacts *facts = &line->facts;
  guint height = facts->chain;
  gboolean counts;
  BwPatternLead lead = { 0, 0 };

  if (facts->from_hook >= 2)
    {
      /* chains passed over before the first stitch */
      height = facts->from_hook >= 3 ? facts->from_hook - 1u : 0;
      if (height == 0)
        return lead;
      counts = facts->chain_counts != BW_SAID_NOTHING ? facts->chain_counts == BW_SAID_YES
                                                      : chain_counts (pattern, height, reading);
      lead.makes = counts ? 1 : 0;
      return lead;
    }

  if (height == 0 && before != NULL)
    height = before->facts.end_chain;
  if (height == 0)
    return lead;
  counts = facts->chain_counts != BW_SAID_NOTHING ? facts->chain_counts == BW_SAID_YES
                                                  : chain_counts (pattern, height, reading);
  if (!counts)
    return lead;

  lead.makes = 1u + facts->chain_extra;
  lead.takes = bw_pattern_in_ring (pattern, line) ? 0 : 1;
  return lead;
}

static gboolean
has_place (const BwPattern     *pattern,
           const BwPatternLine *line,
           BwPlace              place)
{
  for (guint i = line->first_item; i < line->first_item + line->n_items; i++)
    if (g_array_index (pattern->items, BwItem, i).place == place)
      return TRUE;

  return FALSE;
}

/* Is the line worked into the ends of rows? */
gboolean
bw_pattern_takes_row_ends (const BwPattern     *pattern,
                           const BwPatternLine *line)
{
  return has_place (pattern, line, BW_PLACE_ROW_END);
}

/* Is the line worked into a ring? */
gboolean
bw_pattern_in_ring (const BwPattern     *pattern,
                    const BwPatternLine *line)
{
  return has_place (pattern, line, BW_PLACE_RING);
}
