#pragma once

#include <math.h>

#include "bw-design-file.h"
#include "bw-grade.h"
#include "hats.h"

/* How the test of properties says what does not hold, and how it works a round
 * out stitch by stitch: an own reading of what the items mean. */

/* Round-off of sums of some hundred terms. */
#define NEAR 1e-7

/* Deepest hold of a stitch, and the round itself. */
#define KEPT 10

typedef struct
{
  const BwReference  *reference;
  const BwDesign     *design;
  const BwGrading    *grading;
  const BwGradedSize *size;
  guint32             seed;
} Case;

static inline void
fail (const Case *test,
      const char *rule,
      double      a,
      double      b)
{
  g_autofree char *text = bw_design_to_text (test->reference, test->design, NULL, NULL);

  g_printerr ("%s\n", text);
  g_error ("hat %u, size %s: %s (%.12g, %.12g)", test->seed,
           test->size != NULL ? test->size->choice->size->id : "-", rule, a, b);
}

static inline void
same (const Case *test,
      const char *rule,
      guint       a,
      guint       b)
{
  if (a != b)
    fail (test, rule, a, b);
}

static inline void
near (const Case *test,
      const char *rule,
      double      a,
      double      b)
{
  if (!(fabs (a - b) <= NEAR * MAX (1, fabs (b))))
    fail (test, rule, a, b);
}

/* a <= b, but for round-off */
static inline void
at_most (const Case *test,
         const char *rule,
         double      a,
         double      b)
{
  if (!(a <= b + NEAR * MAX (1, fabs (b))))
    fail (test, rule, a, b);
}

/* --- A round, stitch by stitch --- */

/* One position that a round offers to the next. */
typedef struct
{
  BwStitchIndex stitch;
  gboolean      held; /* a post stitch is round its stem */
  guint         base; /* the position below that it stands on */
} Made;

/* The last few rounds: how many there have been, and each in slot n % KEPT. */
typedef struct
{
  const Case *test;
  guint       n;
  GArray     *made[KEPT]; /* of Made */
  guint       position;   /* of the round below, where the hook is */
} Fabric;

static inline GArray *
round_below (const Fabric *fabric,
             guint         down)
{
  return fabric->made[(fabric->n - down) % KEPT];
}

/* A stitch that reaches down finds something to hold there, and a stem is held once. */
static inline void
hold (Fabric         *fabric,
      const BwItem   *item,
      const BwStitch *stitch,
      guint           position)
{
  guint below = item->below > 0 ? item->below : stitch->below;
  const BwStitchDictionary *dictionary = fabric->test->reference->stitches;
  Made *held = NULL;

  if (item->place == BW_PLACE_CHAIN_SPACE)
    below = 1;
  else if (stitch->anchor == BW_ANCHOR_NONE || stitch->anchor == BW_ANCHOR_TOP)
    return;

  if (below > fabric->n)
    fail (fabric->test, "a stitch reaches below the first round", below, fabric->n);
  for (guint down = 1; down <= below; down++)
    {
      if (position >= round_below (fabric, down)->len)
        fail (fabric->test, "a stitch reaches past the end of a round", position, down);
      held = &g_array_index (round_below (fabric, down), Made, position);
      position = held->base;
    }

  if (item->place == BW_PLACE_CHAIN_SPACE)
    {
      same (fabric->test, "a chain space is over a chain",
            bw_stitch_get (dictionary, held->stitch)->takes, 0);
    }
  else if (stitch->anchor != BW_ANCHOR_BASE)
    {
      if (held->held || !bw_stitch_get (dictionary, held->stitch)->has_post)
        fail (fabric->test, "a post stitch has no stem of its own", fabric->n, position);
      held->held = TRUE;
    }
}

/* `times` of one stitch, each over the positions it takes, or all in one place. */
static inline void
work_stitch (Fabric       *fabric,
             const BwItem *item,
             guint         times,
             gboolean      in_one)
{
  const BwStitch *stitch = bw_stitch_get (fabric->test->reference->stitches, item->stitch);
  GArray *made = round_below (fabric, 0);

  for (guint i = 0; i < times; i++)
    {
      Made one = { item->stitch, FALSE, fabric->position };

      for (guint j = 0; j < stitch->takes; j++)
        hold (fabric, item, stitch, fabric->position + j);
      for (guint j = 0; j < stitch->makes; j++)
        g_array_append_val (made, one);
      if (!in_one)
        fabric->position += stitch->takes;
    }
}

static inline void
work (Fabric       *fabric,
      const BwItem *items,
      guint         n_items)
{
  for (guint i = 0; i < n_items; i += 1u + items[i].span)
    {
      const BwItem *item = &items[i];

      if (item->place == BW_PLACE_SECOND_CHAIN)
        fabric->position++;
      if (item->kind == BW_ITEM_EACH)
        work_stitch (fabric, item, item->count, FALSE);
      else if (item->kind == BW_ITEM_IN_ONE)
        work_stitch (fabric, item, item->count, TRUE);
      else if (item->kind == BW_ITEM_REPEAT)
        for (guint n = 0; n < item->count; n++)
          work (fabric, item + 1, item->span);
      else if (item->kind == BW_ITEM_CLUSTER)
        for (guint j = 1; j <= item->span; j++)
          work_stitch (fabric, &item[j], item[j].count, TRUE);
      else
        fail (fabric->test, "a repeat is still open", item->kind, i);

      if (item->kind == BW_ITEM_IN_ONE || item->kind == BW_ITEM_CLUSTER)
        fabric->position++;
    }
}
