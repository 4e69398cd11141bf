#define G_LOG_DOMAIN "bw-core"

#include "bw-instruction.h"

#include <string.h>

#include "bw-error.h"

/* Everything here walks the items once, never the stitches: a repeat is
 * measured once and multiplied. */

/**
 * bw_item_each:
 * @stitch: a stitch
 * @count: how often it is worked, each over the next position or positions
 *
 * Returns: the item
 */
BwItem
bw_item_each (BwStitchIndex stitch,
              guint         count)
{
  return (BwItem) { .kind = BW_ITEM_EACH, .stitch = stitch, .count = count };
}

/**
 * bw_item_in_one:
 * @stitch: a stitch
 * @count: how often it is worked into one position
 *
 * Returns: the item: an increase
 */
BwItem
bw_item_in_one (BwStitchIndex stitch,
                guint         count)
{
  return (BwItem) { .kind = BW_ITEM_IN_ONE, .stitch = stitch, .count = count };
}

/**
 * bw_item_repeat:
 * @times: how often the body is worked; 0 = as often as there is room
 * @span: items of the body, which follow it
 *
 * Returns: the item
 */
BwItem
bw_item_repeat (guint times,
                guint span)
{
  return (BwItem) { .kind = BW_ITEM_REPEAT, .stitch = BW_STITCH_NONE, .span = (guint16) span,
                    .count = times };
}

static gboolean
has_body (const BwItem *item)
{
  return item->kind == BW_ITEM_REPEAT || item->kind == BW_ITEM_TO_LAST ||
         item->kind == BW_ITEM_CLUSTER;
}

/* Positions an item without a body takes. A row's first stitch into a
 * foundation chain leaves one chain behind it, which turns the row. */
static guint64
item_takes (const BwStitch *stitch,
            const BwItem   *item)
{
  guint64 takes = item->kind == BW_ITEM_IN_ONE ? stitch->takes
                                               : (guint64) stitch->takes * item->count;

  if (item->place == BW_PLACE_RING)
    return 0;
  if (item->place == BW_PLACE_SAME_STITCH)
    return takes - MIN (takes, stitch->takes);
  if (item->place == BW_PLACE_SECOND_CHAIN)
    return takes + 1;
  return takes;
}

static gboolean
measure (const BwStitchDictionary *dictionary,
         const BwItem             *items,
         gsize                     n_items,
         guint                     depth,
         guint64                  *takes,
         guint64                  *makes)
{
  *takes = *makes = 0;
  if (depth > BW_ITEM_DEPTH_MAX)
    return FALSE;

  for (gsize i = 0; i < n_items; i += 1 + items[i].span)
    {
      guint64 inner_takes;
      guint64 inner_makes;

      if (!has_body (&items[i]))
        {
          const BwStitch *stitch = bw_stitch_get (dictionary, items[i].stitch);

          if (items[i].span != 0 || items[i].count > BW_ITEM_COUNT_MAX)
            return FALSE;
          *takes += item_takes (stitch, &items[i]);
          *makes += (guint64) stitch->makes * items[i].count;
        }
      else
        {
          if (items[i].span > n_items - i - 1 || items[i].count > BW_ITEM_COUNT_MAX ||
              items[i].kind == BW_ITEM_TO_LAST ||
              !measure (dictionary, items + i + 1, items[i].span, depth + 1, &inner_takes,
                        &inner_makes))
            return FALSE;
          if (items[i].kind == BW_ITEM_CLUSTER)
            {
              inner_takes = items[i].place == BW_PLACE_SAME_STITCH ||
                            items[i].place == BW_PLACE_RING ? 0 : 1;
            }
          else
            {
              inner_takes *= items[i].count;
              inner_makes *= items[i].count;
            }
          *takes += inner_takes;
          *makes += inner_makes;
        }

      if (*takes > BW_ITEM_COUNT_MAX || *makes > BW_ITEM_COUNT_MAX)
        return FALSE;
    }

  return TRUE;
}

/**
 * bw_items_measure:
 * @dictionary: the stitches
 * @items: items of one round, repeats bound (see bw_items_bind())
 * @n_items: how many
 * @takes: (out): positions of the round below that they use up
 * @makes: (out): positions that they offer to the round above
 *
 * An unbound repeat counts as worked no times.
 *
 * Returns: FALSE when the items are not well formed or a count is above
 *   BW_ITEM_COUNT_MAX
 */
gboolean
bw_items_measure (const BwStitchDictionary *dictionary,
                  const BwItem             *items,
                  gsize                     n_items,
                  guint64                  *takes,
                  guint64                  *makes)
{
  return measure (dictionary, items, n_items, 0, takes, makes);
}

static gboolean
is_open (const BwItem *item)
{
  return item->kind == BW_ITEM_TO_LAST ||
         ((item->kind == BW_ITEM_REPEAT || item->kind == BW_ITEM_EACH) && item->count == 0);
}

/* Index of the one open repeat at the top level; n_items when there is none. */
static gsize
find_open (const BwItem *items,
           gsize         n_items)
{
  for (gsize i = 0; i < n_items; i += 1 + items[i].span)
    if (is_open (&items[i]))
      return i;

  return n_items;
}

/* A repeat with no end of its own, before it is bound, can stand only once and
 * only at the top level: anything else has more than one reading. */
static gboolean
one_open_at_most (const BwItem *items,
                  gsize         n_items,
                  gsize         open)
{
  for (gsize i = 0; i < n_items; i++)
    if (i != open && is_open (&items[i]))
      return FALSE;

  return TRUE;
}

/* Positions that one turn of the open item takes. */
static gboolean
measure_turn (const BwStitchDictionary *dictionary,
              const BwItem             *open,
              guint64                  *takes)
{
  guint64 makes;

  if (open->kind == BW_ITEM_EACH)
    *takes = bw_stitch_get (dictionary, open->stitch)->takes;
  else if (!bw_items_measure (dictionary, open + 1, open->span, takes, &makes))
    return FALSE;

  return TRUE;
}

static gboolean
refuse_bind (GError **error,
             guint64  turn,
             guint64  room)
{
  if (turn == 0)
    g_set_error (error, BW_ERROR, BW_ERROR_CONFLICT,
                 "A repeat that takes no stitches cannot go around");
  else
    g_set_error (error, BW_ERROR, BW_ERROR_CONFLICT,
                 "A repeat over %u stitches does not end in %u stitches: %u are left over",
                 (guint) turn, (guint) room, (guint) (room % turn));
  return FALSE;
}

/* Closes the open item of a round; the rest of the round takes `before` and `after`. */
static gboolean
bind_open (BwItem   *open,
           guint64   turn,
           guint64   before,
           guint64   after,
           guint     available,
           GError  **error)
{
  guint64 room = available - before - after;

  if (turn == 0 || room % turn != 0)
    return refuse_bind (error, turn, room);
  if (open->kind == BW_ITEM_TO_LAST && open->count != after)
    {
      g_set_error (error, BW_ERROR, BW_ERROR_CONFLICT,
                   "The repeat stops before the last %u stitches, what follows takes %u",
                   open->count, (guint) after);
      return FALSE;
    }

  if (open->kind == BW_ITEM_TO_LAST)
    open->kind = BW_ITEM_REPEAT;
  open->count = (guint32) (room / turn);
  return TRUE;
}

/**
 * bw_items_bind:
 * @dictionary: the stitches
 * @items: (inout): items of one round
 * @n_items: how many
 * @available: positions that the round below offers
 * @error: return location for an error
 *
 * Gives a repeat "around" or "to the last n", or a stitch worked "in each
 * stitch around", the number of times that it has room for.
 *
 * Returns: FALSE with @error set (BW_ERROR_CONFLICT) when the round does not
 *   end with the last position; the message has the figures
 */
gboolean
bw_items_bind (const BwStitchDictionary *dictionary,
               BwItem                   *items,
               gsize                     n_items,
               guint                     available,
               GError                  **error)
{
  gsize open = find_open (items, n_items);
  gsize next = open < n_items ? open + 1 + items[open].span : n_items;
  guint64 before, after, turn, makes;

  if (!one_open_at_most (items, n_items, open))
    {
      g_set_error (error, BW_ERROR, BW_ERROR_CONFLICT,
                   "Only one repeat of a round can be worked as often as there is room");
      return FALSE;
    }

  if (next > n_items ||
      !bw_items_measure (dictionary, items, open, &before, &makes) ||
      !bw_items_measure (dictionary, items + next, n_items - next, &after, &makes) ||
      (open < n_items && !measure_turn (dictionary, &items[open], &turn)))
    {
      g_set_error (error, BW_ERROR, BW_ERROR_TOO_LARGE, "The counts of this round are too large");
      return FALSE;
    }

  if (before + after > available || (open == n_items && before != available))
    {
      g_set_error (error, BW_ERROR, BW_ERROR_CONFLICT,
                   "The round takes %u stitches, the round below offers %u",
                   (guint) (before + after), available);
      return FALSE;
    }

  return open == n_items || bind_open (&items[open], turn, before, after, available, error);
}

/**
 * bw_items_yarn:
 * @dictionary: the stitches
 * @items: items of one round, repeats bound
 * @n_items: how many
 * @metres_by_stitch: yarn of each stitch, by its place in the dictionary
 *
 * Returns: yarn in the round, m; with 1 for one stitch and 0 for the others,
 *   how often that stitch is worked
 */
double
bw_items_yarn (const BwStitchDictionary *dictionary,
               const BwItem             *items,
               gsize                     n_items,
               const double             *metres_by_stitch)
{
  double metres = 0;

  for (gsize i = 0; i < n_items; i += 1 + items[i].span)
    if (!has_body (&items[i]))
      metres += items[i].count * metres_by_stitch[items[i].stitch];
    else
      metres += (items[i].kind == BW_ITEM_CLUSTER ? 1 : items[i].count) *
                bw_items_yarn (dictionary, items + i + 1, items[i].span, metres_by_stitch);

  return metres;
}

/**
 * bw_items_height:
 * @dictionary: the stitches
 * @items: items of one round
 * @n_items: how many
 *
 * Returns: height of the tallest stitch, in heights of "low"
 */
double
bw_items_height (const BwStitchDictionary *dictionary,
                 const BwItem             *items,
                 gsize                     n_items)
{
  double tallest = 0;

  for (gsize i = 0; i < n_items; i++)
    if (!has_body (&items[i]))
      tallest = MAX (tallest, bw_stitch_get (dictionary, items[i].stitch)->height);

  return tallest;
}
