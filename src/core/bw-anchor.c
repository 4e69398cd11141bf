#define G_LOG_DOMAIN "bw-core"

#include "bw-anchor.h"

#include <string.h>

/* Does every post stitch and every spike have something to take hold of?
 *
 * A round is laid out as the positions it makes, each knowing its stitch and
 * the position of the round below that it stands on. A post stitch goes down
 * from the position it takes, as far as it reaches, and looks for a stem.
 *
 * Most rounds are one repeat worked over and over, so one turn of it tells all:
 *
 *   round 3   [2 dc, FPtr 2 rnds below] 24 times     turns 24, one turn: 3 positions
 *   round 2   dc in each st around (72)              turns 72 -> 24 of 3 positions
 *   round 1   dc in each st around (72)
 *
 * Rounds are laid out over the greatest number of turns that all rounds in
 * reach have in common, and only when a round above needs them: the work grows
 * with the repeat, not with the stitches. A round that is not one repeat has
 * one turn and is laid out whole.
 */

#define REACH_MAX 9 /* deepest hold of a stitch, and the round itself */

typedef struct
{
  BwStitchIndex stitch;
  gboolean      taken;  /* a post stitch is round its stem */
  guint         base;   /* position of the round below, within the turn */
} Position;

/* A round laid out over `turns` turns; turns 0 = not laid out yet. */
typedef struct
{
  guint  round;
  guint  turns;
  GArray *positions; /* of Position: one turn */
} Layout;

typedef struct
{
  const BwStitchDictionary *dictionary;
  const BwAnchorRound      *rounds;
  guint                     n_rounds;
  BwStitchIndex             chain;  /* what a chain space is made of */
  Layout                    layouts[REACH_MAX]; /* round r lies in slot r % REACH_MAX */
} Walk;

/* --- Laying out --- */

static guint
greatest_common_divisor (guint a,
                         guint b)
{
  return b == 0 ? a : greatest_common_divisor (b, a % b);
}

/* How often the round's one repeat is worked; 1 when it is not one repeat. */
static guint
turns_of (const BwAnchorRound *round)
{
  const BwItem *first = &round->items[0];

  if (round->n_items == 0 || round->n_items != 1u + first->span || first->count == 0)
    return 1;
  return first->kind == BW_ITEM_REPEAT || first->kind == BW_ITEM_EACH ? first->count : 1;
}

/* A chain inside a stitch of several positions is a chain, not a stem. */
static guint
lay_stitch (const Walk    *walk,
            GArray        *positions,
            BwStitchIndex  index,
            guint          base)
{
  const BwStitch *stitch = bw_stitch_get (walk->dictionary, index);

  for (guint i = 0; i < stitch->makes; i++)
    {
      Position position = { i + 1 == stitch->space ? walk->chain : index, FALSE, base };

      g_array_append_val (positions, position);
    }

  return base + stitch->takes;
}

/* A cluster's stitches all stand on one position, however they are grouped. */
static void
lay_cluster (const Walk   *walk,
             GArray       *positions,
             const BwItem *items,
             guint         n_items,
             guint         base)
{
  for (guint i = 0; i < n_items; i += 1u + items[i].span)
    for (guint n = 0; n < (items[i].kind == BW_ITEM_CLUSTER ? 1 : items[i].count); n++)
      if (items[i].stitch == BW_STITCH_NONE)
        lay_cluster (walk, positions, &items[i + 1], items[i].span, base);
      else
        lay_stitch (walk, positions, items[i].stitch, base);
}

static guint lay_items (const Walk   *walk,
                        GArray       *positions,
                        const BwItem *items,
                        guint         n_items,
                        guint         base);

/* Lays out one item from `base` on; returns where it ends. */
static guint
lay_item (const Walk   *walk,
          GArray       *positions,
          const BwItem *item,
          guint         base)
{
  guint start = item->place == BW_PLACE_SAME_STITCH && base > 0 ? base - 1 : base;
  guint end = start;

  if (item->kind == BW_ITEM_CLUSTER)
    {
      lay_cluster (walk, positions, item + 1, item->span, start);
      return start + 1;
    }

  for (guint n = 0; n < item->count; n++)
    if (item->kind == BW_ITEM_IN_ONE)
      end = lay_stitch (walk, positions, item->stitch, start);
    else if (item->kind == BW_ITEM_EACH)
      end = lay_stitch (walk, positions, item->stitch, end);
    else
      end = lay_items (walk, positions, item + 1, item->span, end);

  return end;
}

/* Lays out items from position `base` of the round below on; returns where they end. */
static guint
lay_items (const Walk   *walk,
           GArray       *positions,
           const BwItem *items,
           guint         n_items,
           guint         base)
{
  for (guint i = 0; i < n_items; i += 1u + items[i].span)
    base = lay_item (walk, positions, &items[i], base);

  return base;
}

/* Lays out one of `turns` turns of a round. What was known of taken stems is
 * kept: a layout over more turns is tiled. */
static Layout *
lay_out (Walk  *walk,
         guint  r,
         guint  turns)
{
  Layout *layout = &walk->layouts[r % REACH_MAX];
  const BwAnchorRound *round = &walk->rounds[r];
  guint own = turns_of (round);
  guint base = 0;
  g_autoptr (GArray) before = NULL;

  if (layout->round == r && layout->turns == turns)
    return layout;

  if (layout->round == r && layout->turns > turns)
    before = g_steal_pointer (&layout->positions);
  if (layout->positions == NULL)
    layout->positions = g_array_new (FALSE, FALSE, sizeof (Position));
  g_array_set_size (layout->positions, 0);

  if (own == 1)
    lay_items (walk, layout->positions, round->items, round->n_items, 0);
  else
    for (guint i = 0; i < own / turns; i++)
      {
        BwItem one = round->items[0];

        one.count = 1;
        if (one.span == 0)
          base = lay_items (walk, layout->positions, &one, 1, base);
        else
          base = lay_items (walk, layout->positions, round->items + 1, one.span, base);
      }

  for (guint i = 0; before != NULL && before->len > 0 && i < layout->positions->len; i++)
    g_array_index (layout->positions, Position, i).taken =
      g_array_index (before, Position, i % before->len).taken;
  layout->round = r;
  layout->turns = turns;
  return layout;
}

/* --- Looking for stems --- */

/* Rounds down to where an item takes hold of something that has to be there;
 * 0 = anything will do. */
static guint
reach_of (const BwStitch *stitch,
          const BwItem   *item)
{
  if (item->place == BW_PLACE_CHAIN_SPACE)
    return 1;
  if (stitch == NULL || stitch->anchor == BW_ANCHOR_NONE || stitch->anchor == BW_ANCHOR_TOP)
    return 0;
  return item->below > 0 ? item->below : stitch->below;
}

static gboolean
reaches (const Walk   *walk,
         const BwItem *item)
{
  return reach_of (item->stitch == BW_STITCH_NONE
                     ? NULL : bw_stitch_get (walk->dictionary, item->stitch), item) > 0;
}

/* A single reach down from one stitch. `base` is the position it takes in the
 * round below, within the turn. */
static gboolean
hold (Walk          *walk,
      guint          r,
      guint          turns,
      const BwItem  *item,
      guint          base,
      BwAnchorFault *fault)
{
  const BwStitch *stitch = item->stitch == BW_STITCH_NONE
    ? NULL : bw_stitch_get (walk->dictionary, item->stitch);
  guint reach = reach_of (stitch, item);
  Position *position;

  fault->covered = FALSE;
  if (reach > r)
    return FALSE;

  for (guint down = 1;; down++)
    {
      Layout *layout = lay_out (walk, r - down, turns);

      if (base >= layout->positions->len)
        return FALSE;
      position = &g_array_index (layout->positions, Position, base);
      if (down == reach)
        break;
      base = position->base;
    }

  if (item->place == BW_PLACE_CHAIN_SPACE)
    return bw_stitch_get (walk->dictionary, position->stitch)->takes == 0;
  if (stitch->anchor == BW_ANCHOR_BASE)
    return TRUE;
  fault->covered = position->taken;
  if (position->taken || !bw_stitch_get (walk->dictionary, position->stitch)->has_post)
    return FALSE;
  position->taken = TRUE;
  return TRUE;
}

/* The deepest reach of a round; 0 when nothing in it reaches down. */
static guint
deepest_reach (const Walk *walk,
               guint       r)
{
  guint deepest = 0;

  for (guint i = 0; i < walk->rounds[r].n_items; i++)
    {
      const BwItem *item = &walk->rounds[r].items[i];
      const BwStitch *stitch = item->stitch == BW_STITCH_NONE
        ? NULL : bw_stitch_get (walk->dictionary, item->stitch);

      deepest = MAX (deepest, reach_of (stitch, item));
    }

  return MIN (deepest, REACH_MAX - 1);
}

/* Every position that an item takes, `times` over. */
static gboolean
check_holds (Walk          *walk,
             guint          r,
             guint          turns,
             const BwItem  *item,
             guint          takes,
             guint          base,
             BwAnchorFault *fault)
{
  for (guint t = 0; t < takes; t++)
    if (!hold (walk, r, turns, item, base + t, fault))
      return FALSE;

  return TRUE;
}

/* Post stitches of a cluster all go down from the one position it takes. */
static gboolean
check_cluster (Walk          *walk,
               guint          r,
               guint          turns,
               const BwItem  *items,
               guint          n_items,
               guint          base,
               BwAnchorFault *fault)
{
  for (guint i = 0; i < n_items; i += 1u + items[i].span)
    {
      const BwItem *item = &items[i];

      for (guint n = 0; n < item->count; n++)
        if (item->stitch == BW_STITCH_NONE
              ? !check_cluster (walk, r, turns, item + 1, item->span, base, fault)
              : reaches (walk, item) && !hold (walk, r, turns, item, base, fault))
          return FALSE;
    }

  return TRUE;
}

/* One working of an item that is no repeat. */
static gboolean
check_item (Walk          *walk,
            guint          r,
            guint          turns,
            const BwItem  *item,
            guint          takes,
            guint          base,
            BwAnchorFault *fault)
{
  if (reaches (walk, item) && !check_holds (walk, r, turns, item, takes, base, fault))
    return FALSE;

  return item->kind != BW_ITEM_CLUSTER ||
         check_cluster (walk, r, turns, item + 1, item->span, base, fault);
}

/* Checks the items of one turn; `base` and `made` run along the turn. */
static gboolean
check_items (Walk          *walk,
             guint          r,
             guint          turns,
             const BwItem  *items,
             guint          n_items,
             guint         *base,
             guint         *made,
             BwAnchorFault *fault)
{
  for (guint i = 0; i < n_items; i += 1u + items[i].span)
    {
      const BwItem *item = &items[i];
      guint times = item->kind == BW_ITEM_REPEAT || item->kind == BW_ITEM_EACH ? item->count : 1;
      BwItem one = *item;
      guint64 takes, makes;

      if (item->kind == BW_ITEM_REPEAT)
        {
          for (guint n = 0; n < times; n++)
            if (!check_items (walk, r, turns, item + 1, item->span, base, made, fault))
              return FALSE;
          continue;
        }

      one.count = item->kind == BW_ITEM_EACH ? 1 : item->count;
      if (!bw_items_measure (walk->dictionary, item->span > 0 ? item : &one, 1u + item->span,
                             &takes, &makes))
        return TRUE; /* not well formed: the counts' audit says so */
      for (guint n = 0; n < times; n++)
        {
          if (!check_item (walk, r, turns, item, (guint) takes, *base, fault))
            {
              fault->round = r;
              fault->position = *made;
              return FALSE;
            }
          *made += (guint) makes;
          *base += (guint) takes;
        }
    }

  return TRUE;
}

static gboolean
check_round (Walk          *walk,
             guint          r,
             BwAnchorFault *fault)
{
  guint reach = MIN (deepest_reach (walk, r), r);
  const BwAnchorRound *round = &walk->rounds[r];
  guint own = turns_of (round);
  guint turns = own;
  guint base = 0;
  guint made = 0;

  if (deepest_reach (walk, r) == 0)
    return TRUE;

  for (guint down = 1; down <= reach; down++)
    {
      const Layout *layout = &walk->layouts[(r - down) % REACH_MAX];

      turns = greatest_common_divisor (turns, turns_of (&walk->rounds[r - down]));
      /* never over more turns than it is laid out already: taken stems are known there */
      if (layout->round == r - down && layout->turns > 0)
        turns = greatest_common_divisor (turns, layout->turns);
    }

  if (own == 1)
    return check_items (walk, r, turns, round->items, round->n_items, &base, &made, fault);

  for (guint i = 0; i < own / turns; i++)
    {
      BwItem one = round->items[0];

      one.count = 1;
      if (!check_items (walk, r, turns, one.span == 0 ? &one : round->items + 1,
                        one.span == 0 ? 1 : one.span, &base, &made, fault))
        return FALSE;
    }

  return TRUE;
}

/**
 * bw_anchor_check:
 * @dictionary: the stitches
 * @rounds: (array length=n_rounds): rounds from the bottom upwards, repeats
 *   bound, each taking what the one below it makes
 * @n_rounds: how many
 * @fault: (out): the first fault
 *
 * Checks that every post stitch has a stem of its own to go round, and every
 * spike a round deep enough below it.
 *
 * Returns: FALSE with @fault filled in when one has not
 */
gboolean
bw_anchor_check (const BwStitchDictionary *dictionary,
                 const BwAnchorRound      *rounds,
                 guint                     n_rounds,
                 BwAnchorFault            *fault)
{
  Walk walk = { dictionary, rounds, n_rounds, bw_stitch_find (dictionary, "chain"), { { 0 } } };
  gboolean sound = TRUE;

  memset (fault, 0, sizeof *fault);
  for (guint r = 0; r < n_rounds && sound; r++)
    sound = check_round (&walk, r, fault);

  for (guint i = 0; i < REACH_MAX; i++)
    g_clear_pointer (&walk.layouts[i].positions, g_array_unref);
  return sound;
}
