#define G_LOG_DOMAIN "bw-core"

#include "bw-stripe.h"

/* A strand that is carried up is laid with a little slack, or it puckers the
 * join: height times this. Worked out, no published figure. */
#define CARRY_SLACK 1.15

/* Rounds of one whole stripe sequence; 0 for none. */
guint
bw_stripe_period (const BwStripeStep *steps,
                  gsize               n_steps)
{
  guint period = 0;

  g_return_val_if_fail (steps != NULL || n_steps == 0, 0);

  for (gsize i = 0; i < n_steps; i++)
    period += steps[i].rounds;
  return period;
}

/* Colour of a round, counted from 0 at the start of the band, in a stripe that
 * repeats; colour 0 where there is no stripe. */
guint8
bw_stripe_colour_at (const BwStripeStep *steps,
                     gsize               n_steps,
                     guint               round)
{
  guint period = bw_stripe_period (steps, n_steps);
  gsize i = 0;

  if (period == 0)
    return 0;

  for (round %= period; round >= steps[i].rounds; i++)
    round -= steps[i].rounds;
  return steps[i].colour;
}

/* ---- carry or cut ---- */

/* What comes after a round, kept while going through the rounds backwards. */
typedef struct
{
  gsize  next;   /* index of the colour's next round, valid if used */
  double above;  /* height from the bottom of that round to the very top, mm */
  gboolean used;
} Ahead;

/* The limits and what is summed up. */
typedef struct
{
  guint         carry_rounds;
  double        carry_height_mm;
  BwStripePlan *plan;
} Planner;

static BwYarnEnd
end_of_round (const Planner *planner,
              const Ahead   *ahead,
              gsize          round,
              double         above_mm,
              guint8         colour)
{
  double rest_mm = above_mm - ahead->above;
  gsize rests;

  if (!ahead->used)
    return BW_YARN_CUT;

  rests = ahead->next - round - 1;
  if (rests == 0)
    return BW_YARN_WORKING;
  if (rests > planner->carry_rounds || rest_mm >= planner->carry_height_mm)
    return BW_YARN_CUT;

  planner->plan->carried_m[colour] += rest_mm * CARRY_SLACK / 1000;
  return BW_YARN_CARRIED;
}

static void
count_ends (BwStripeRound *rounds,
            gsize          n_rounds,
            double         tail_mm,
            BwStripePlan  *plan)
{
  gboolean attached[BW_STRIPE_COLOURS_MAX] = { FALSE };

  for (gsize i = 0; i < n_rounds; i++)
    {
      guint8 colour = rounds[i].colour;
      guint ends;

      rounds[i].joins_in = !attached[colour];
      attached[colour] = rounds[i].after != BW_YARN_CUT;
      ends = (rounds[i].joins_in ? 1 : 0) + (attached[colour] ? 0 : 1);
      plan->ends += ends;
      plan->tail_m[colour] += ends * tail_mm / 1000;
    }
}

/* Decides for every round, from the first worked to the last, whether its
 * colour works on, is carried up at the join, or is cut: carried if it rests for
 * at most carry_rounds rounds which are together lower than carry_height_mm.
 * Fills in `after` and `joins_in` of the rounds, and the plan: each cut and each
 * joining-in is one end to weave in, the first and the last included; a tail of
 * tail_mm for each end; and what is carried, the height of the rounds it passes
 * with a little slack. Takes one pass down and one up.
 *
 * How far makers carry: about 4 rounds of UK treble or 6 of half treble, says a
 * fibre-arts blog of October 2025; the limits are the designer's.
 */
void
bw_stripe_plan (BwStripeRound *rounds,
                gsize          n_rounds,
                guint          carry_rounds,
                double         carry_height_mm,
                double         tail_mm,
                BwStripePlan  *plan)
{
  Ahead ahead[BW_STRIPE_COLOURS_MAX] = { { 0, 0, FALSE } };
  Planner planner = { carry_rounds, carry_height_mm, plan };
  double above_mm = 0;

  g_return_if_fail (rounds != NULL || n_rounds == 0);
  g_return_if_fail (plan != NULL);

  *plan = (BwStripePlan) { 0 };
  for (gsize i = n_rounds; i-- > 0;)
    {
      guint8 colour = rounds[i].colour;

      g_return_if_fail (colour < BW_STRIPE_COLOURS_MAX);

      rounds[i].after = end_of_round (&planner, &ahead[colour], i, above_mm, colour);
      above_mm += rounds[i].height_mm;
      ahead[colour] = (Ahead) { i, above_mm, TRUE };
    }
  count_ends (rounds, n_rounds, tail_mm, plan);
}
