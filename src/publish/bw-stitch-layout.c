#define G_LOG_DOMAIN "bw-publish"

#include "bw-stitch-layout.h"

/**
 * bw_stitch_layout_init:
 * @layout: to be used with bw_stitch_layout_set(), cleared with bw_stitch_layout_clear()
 */
void
bw_stitch_layout_init (BwStitchLayout *layout)
{
  *layout = (BwStitchLayout) { 0 };
  layout->stitches = g_array_new (FALSE, FALSE, sizeof (BwPlacedStitch));
}

/**
 * bw_stitch_layout_clear:
 * @layout: a layout; what it holds is freed
 */
void
bw_stitch_layout_clear (BwStitchLayout *layout)
{
  g_clear_pointer (&layout->stitches, g_array_unref);
}

/* Places one stitch over position `base`; returns what it takes. */
static guint
place_stitch (BwStitchLayout           *layout,
              const BwStitchDictionary *dictionary,
              const BwItem             *item,
              guint                     base)
{
  const BwStitch *stitch = bw_stitch_get (dictionary, item->stitch);
  BwPlacedStitch placed = {
    .stitch = item->stitch,
    .loop = item->loop,
    .place = item->place,
    .below = item->below > 0 ? item->below : (guint8) MIN (stitch->below, G_MAXUINT8),
    .base = base,
    .takes = stitch->takes,
    .top = layout->makes,
    .makes = stitch->makes,
  };

  if (layout->stitches->len < BW_STITCH_LAYOUT_MAX)
    g_array_append_val (layout->stitches, placed);
  layout->makes += stitch->makes;
  return stitch->takes;
}

/* All of a cluster's stitches stand on one position. */
static void
place_cluster (BwStitchLayout           *layout,
               const BwStitchDictionary *dictionary,
               const BwItem             *items,
               guint                     span,
               guint                     base)
{
  for (guint i = 0; i < span; i++)
    for (guint n = 0; n < items[i].count && items[i].stitch != BW_STITCH_NONE; n++)
      place_stitch (layout, dictionary, &items[i], base);
}

static gboolean
is_full (const BwStitchLayout *layout)
{
  return layout->stitches->len >= BW_STITCH_LAYOUT_MAX;
}

/* Places items from position `base` of the round below on; returns where they end. */
static guint
place_items (BwStitchLayout           *layout,
             const BwStitchDictionary *dictionary,
             const BwItem             *items,
             gsize                     n_items,
             guint                     base)
{
  for (gsize i = 0; i < n_items && !is_full (layout); i += 1u + items[i].span)
    {
      const BwItem *item = &items[i];
      guint start = item->place == BW_PLACE_SAME_STITCH && base > 0 ? base - 1 : base;

      if (item->place == BW_PLACE_SECOND_CHAIN)
        start++;
      base = start;
      if (item->kind == BW_ITEM_CLUSTER)
        {
          place_cluster (layout, dictionary, item + 1, item->span, start);
          base = start + 1;
          continue;
        }

      for (guint n = 0; n < item->count && !is_full (layout); n++)
        if (item->stitch == BW_STITCH_NONE)
          base = place_items (layout, dictionary, item + 1, item->span, base);
        else if (item->kind == BW_ITEM_IN_ONE)
          base = start + place_stitch (layout, dictionary, item, start);
        else
          base += place_stitch (layout, dictionary, item, base);
    }

  return base;
}

/**
 * bw_stitch_layout_set:
 * @layout: (inout): what it held is replaced
 * @dictionary: the stitches
 * @items: items of one round, repeats bound
 * @n_items: how many
 *
 * Lays one turn of a round out, so that each stitch has its place. The work goes
 * with the stitches of a turn and not with those of the round.
 */
void
bw_stitch_layout_set (BwStitchLayout           *layout,
                      const BwStitchDictionary *dictionary,
                      const BwItem             *items,
                      gsize                     n_items)
{
  gboolean one_repeat = n_items > 0 && n_items == 1u + items[0].span && items[0].count > 0 &&
                        (items[0].kind == BW_ITEM_REPEAT || items[0].kind == BW_ITEM_EACH) &&
                        items[0].place != BW_PLACE_SECOND_CHAIN;

  g_array_set_size (layout->stitches, 0);
  layout->makes = 0;
  layout->turns = one_repeat ? items[0].count : 1;
  if (one_repeat && items[0].kind == BW_ITEM_EACH)
    {
      BwItem one = items[0];

      one.count = 1;
      layout->takes = place_items (layout, dictionary, &one, 1, 0);
    }
  else if (one_repeat)
    layout->takes = place_items (layout, dictionary, items + 1, items[0].span, 0);
  else
    layout->takes = place_items (layout, dictionary, items, n_items, 0);
}
