#define G_LOG_DOMAIN "bw-publish"

#include "bw-hat-private.h"

#include <string.h>

#include "bw-stitch-layout.h"

/* The look of a stitch follows from what the dictionary says of it; only what
 * has a form of its own is known by its chart symbol. */
static BwLook
look_of (const BwStitch *stitch)
{
  static const char *const balls[] = { "bobble", "puff", "popcorn" };

  if (stitch->makes == 0)
    return BW_LOOK_NONE;
  if (stitch->takes == 0)
    return BW_LOOK_GAP;
  for (guint i = 0; i < G_N_ELEMENTS (balls); i++)
    if (strcmp (stitch->symbol, balls[i]) == 0)
      return BW_LOOK_BALL;
  if (strcmp (stitch->symbol, "crab") == 0)
    return BW_LOOK_CORD;
  if (stitch->anchor == BW_ANCHOR_BASE)
    return BW_LOOK_SPIKE;
  if (stitch->takes > stitch->makes)
    return BW_LOOK_TOGETHER;
  if (stitch->anchor == BW_ANCHOR_FRONT_POST)
    return BW_LOOK_RAISED;
  if (stitch->anchor == BW_ANCHOR_BACK_POST)
    return BW_LOOK_SUNK;
  return stitch->height > 1.25 ? BW_LOOK_STEM : BW_LOOK_LOOPS;
}

/* Stems lean only where several stand on one stitch, or change places; else the
 * fabric evens out what decreases beside them shift. */
static gboolean
is_fan (const BwStitchLayout *layout,
        guint                 i)
{
  const BwPlacedStitch *placed = &g_array_index (layout->stitches, BwPlacedStitch, i);

  return placed->makes > 1 || (i > 0 && placed[-1].base == placed->base) ||
         (i + 1 < layout->stitches->len && placed[1].base == placed->base);
}

/* A stitch that makes several shows a stem for each: a shell all from one place,
 * crossed stitches each from the other's. */
static void
append_marks (BwHatDrawing         *drawing,
              const BwStitch       *stitch,
              const BwPlacedStitch *placed,
              gboolean              fan)
{
  BwHatMark mark;

  memset (&mark, 0, sizeof mark);
  mark.look = (guint8) look_of (stitch);
  mark.below = placed->below;
  mark.ridge = placed->loop == BW_LOOP_BACK;
  mark.fan = fan;
  for (guint i = 0; i < stitch->makes && mark.look != BW_LOOK_NONE; i++)
    {
      gboolean crossed = stitch->takes == stitch->makes;

      mark.base_half = crossed ? 0.5f : (float) MAX (placed->takes, 1) / 2;
      mark.base = (float) placed->base + (crossed ? (float) (stitch->takes - i) - 0.5f
                                                  : mark.base_half);
      mark.top = (float) placed->top + (float) i + 0.5f;
      g_array_append_val (drawing->marks, mark);
    }
}

static void
build_stripe (BwHatDrawing         *drawing,
              BwHatStripe          *stripe,
              const BwReference    *reference,
              const BwStitchLayout *layout)
{
  stripe->first_mark = drawing->marks->len;
  for (guint i = 0; i < layout->stitches->len; i++)
    {
      const BwPlacedStitch *placed = &g_array_index (layout->stitches, BwPlacedStitch, i);

      append_marks (drawing, bw_stitch_get (reference->stitches, placed->stitch), placed,
                    is_fan (layout, i));
    }

  stripe->n_marks = drawing->marks->len - stripe->first_mark;
  stripe->turns = layout->turns;
  stripe->turn_takes = layout->takes;
  stripe->turn_makes = layout->makes;
}

/* Rounds that are worked the same share their marks. */
static void
share_marks (BwHatStripe       *stripe,
             const BwHatStripe *other)
{
  stripe->first_mark = other->first_mark;
  stripe->n_marks = other->n_marks;
  stripe->turns = other->turns;
  stripe->turn_takes = other->turn_takes;
  stripe->turn_makes = other->turn_makes;
}

/* Stitches worked off-centre (a shell at the start of a repeat) lie over what they
 * stand on all the same, so the whole round is shifted. Where the count changes
 * the fabric evens that out, and the round keeps to the one below. */
static double
own_shift (const BwHatDrawing *drawing,
           const BwHatStripe  *stripe)
{
  double sum = 0;

  if (stripe->n_marks == 0 || stripe->turn_takes != stripe->turn_makes)
    return 0;
  for (guint i = 0; i < stripe->n_marks; i++)
    {
      const BwHatMark *mark = &g_array_index (drawing->marks, BwHatMark, stripe->first_mark + i);

      sum += mark->base - mark->top;
    }

  return sum / stripe->n_marks / (stripe->turns * (double) stripe->turn_makes);
}

/**
 * bw_hat_marks_build:
 * @drawing: (inout): with its stripes
 * @reference: the reference that @size was graded with
 * @size: a graded size
 *
 * Lays the stitches of every stripe out, one turn of its repeat each.
 */
void
bw_hat_marks_build (BwHatDrawing       *drawing,
                    const BwReference  *reference,
                    const BwGradedSize *size)
{
  const BwRound *rounds = (const BwRound *) (void *) size->rounds->rounds->data;
  BwStitchLayout layout;

  bw_stitch_layout_init (&layout);
  for (guint i = 0; i < drawing->stripes->len; i++)
    {
      BwHatStripe *stripe = BW_HAT_STRIPE (drawing, i);
      const BwRound *round = &rounds[stripe->first_round];
      const BwHatStripe *before = i > 0 ? stripe - 1 : NULL;

      if (stripe->sideways)
        continue;
      if (before != NULL && !before->sideways &&
          bw_round_same_work (size->rounds, round, &rounds[before->first_round]))
        share_marks (stripe, before);
      else
        {
          bw_stitch_layout_set (&layout, reference->stitches,
                                bw_round_items (size->rounds, round), round->n_items);
          build_stripe (drawing, stripe, reference, &layout);
        }
      stripe->shift = own_shift (drawing, stripe) + (before != NULL ? before->shift : 0);
    }

  bw_stitch_layout_clear (&layout);
}
