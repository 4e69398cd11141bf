#define G_LOG_DOMAIN "bw-core"

#include "bw-build.h"

#include <math.h>
#include <string.h>

#include "bw-error.h"
#include "bw-spread.h"

/* Turns the counts chosen for one size into rounds: brim, pick-up, bands with
 * the adjusting rounds between them, set-up, crown and close. Rounds are made
 * in the order they are worked; each takes what the one before it offers. */

typedef struct
{
  const BwPlan         *plan;
  const BwFamilyChoice *family;
  const BwChoice       *choice;
  BwGradedSize         *size;
  BwRoundList          *list;
  GArray               *items;     /* of BwItem: the round in hand */
  guint                 available; /* positions the last round offers */
  guint                 number;    /* of the last round worked in the round */
  guint8                colour;    /* of the last round */
  double                height_mm;
} Builder;

static const BwStitchDictionary *
dictionary_of (const Builder *builder)
{
  return builder->plan->reference->stitches;
}

static const BwItem *
items_of (const Builder *builder)
{
  return (const BwItem *) (void *) builder->items->data;
}

/* Appends the round in hand; counts out are measured from its items. */
static BwRound *
append (Builder   *builder,
        BwSection  section,
        double     girth_per_stitch_mm,
        double     round_mm)
{
  BwRound *round = bw_round_list_append (builder->list, section, items_of (builder),
                                         builder->items->len);
  guint64 takes;
  guint64 makes;

  if (!bw_items_measure (dictionary_of (builder), items_of (builder), builder->items->len,
                         &takes, &makes))
    makes = 0;

  builder->height_mm += round_mm;
  round->colour = builder->colour;
  round->stitches_in = builder->available;
  round->stitches_out = (guint) makes;
  round->round_mm = round_mm;
  round->height_mm = builder->height_mm;
  round->girth_mm = (double) makes * girth_per_stitch_mm;
  builder->available = (guint) makes;
  return round;
}

static BwRound *
append_numbered (Builder   *builder,
                 BwSection  section,
                 double     girth_per_stitch_mm,
                 double     round_mm)
{
  BwRound *round = append (builder, section, girth_per_stitch_mm, round_mm);

  round->number = ++builder->number;
  return round;
}

static void
set_item (Builder *builder,
          BwItem   item)
{
  g_array_set_size (builder->items, 0);
  g_array_append_val (builder->items, item);
}

static BwItem
each (BwStitchIndex stitch,
      guint         count,
      BwLoop        loop,
      BwPlace       place)
{
  BwItem item = bw_item_each (stitch, count);

  item.loop = (guint8) loop;
  item.place = (guint8) place;
  return item;
}

/* A round of a stitch pattern over what is offered. */
static gboolean
set_fabric_round (Builder         *builder,
                  const BwFabric  *fabric,
                  guint            round,
                  GError         **error)
{
  guint n;
  guint index = bw_fabric_round_index (fabric, round);
  const BwItem *items = bw_fabric_round_items (fabric, index, &n);

  g_array_set_size (builder->items, 0);
  g_array_append_vals (builder->items, items, n);
  return bw_items_bind (dictionary_of (builder), (BwItem *) (void *) builder->items->data, n,
                        builder->available, error);
}

static double
fabric_round_mm (const BwFabric    *fabric,
                 const BwPartGauge *gauge,
                 guint              round)
{
  return fabric->round_height[bw_fabric_round_index (fabric, round)] * gauge->low_mm;
}

/* Evenly changes the count in hand to `wanted`. */
static gboolean
set_shaping (Builder        *builder,
             BwStitchIndex   plain,
             BwStitchIndex   together,
             guint           wanted,
             BwSpreadStart   start,
             GError        **error)
{
  gboolean increase = wanted > builder->available;
  guint change = increase ? wanted - builder->available : builder->available - wanted;

  g_array_set_size (builder->items, 0);
  return bw_spread_shaping (plain, increase ? plain : together, increase ? 1 : 2, increase,
                            builder->available, change, start, builder->items, error);
}

/* --- Brim --- */

static void
build_foundation (Builder *builder,
                  guint    chains,
                  double   length_mm)
{
  BwRound *round;

  set_item (builder, each (builder->plan->chain, chains, BW_LOOP_BOTH, BW_PLACE_NEXT_STITCH));
  round = append (builder, BW_SECTION_BRIM, 0, 0);
  round->row = builder->plan->brim.sideways;
  round->girth_mm = length_mm;
}

/* Rows of a sideways brim: the first is worked into the chain, the rest into
 * the row before; its two ends are then joined to a ring. */
static gboolean
build_sideways_brim (Builder  *builder,
                     GError  **error)
{
  const BwBrimPlan *brim = &builder->plan->brim;
  guint stitches = builder->choice->brim_height;
  guint n;
  const BwItem *pattern = bw_fabric_round_items (brim->fabric, 0, &n);
  BwItem first = each (builder->plan->slip, stitches, BW_LOOP_BOTH, BW_PLACE_SECOND_CHAIN);

  for (guint i = 0; i < n; i++)
    if (pattern[i].kind == BW_ITEM_EACH)
      first.stitch = pattern[i].stitch;

  build_foundation (builder, stitches + 1, 0);
  for (guint row = 1; row <= builder->choice->brim; row++)
    {
      BwRound *round;

      if (row == 1)
        set_item (builder, first);
      else if (!set_fabric_round (builder, brim->fabric, row - 1, error))
        return FALSE;
      round = append (builder, BW_SECTION_BRIM, 0, brim->count_mm);
      round->row = TRUE;
      round->number = row;
      round->girth_mm = row * brim->count_mm;
    }

  set_item (builder, each (builder->plan->slip, stitches, BW_LOOP_BOTH, BW_PLACE_NEXT_STITCH));
  append (builder, BW_SECTION_JOIN, 0, 0)->row = TRUE;
  builder->height_mm = builder->size->brim_height_mm;
  for (guint i = 0; i < builder->list->rounds->len; i++)
    {
      BwRound *round = &g_array_index (builder->list->rounds, BwRound, i);

      round->height_mm = builder->height_mm;
      if (round->section == BW_SECTION_JOIN)
        round->girth_mm = builder->size->brim_mm;
    }

  return TRUE;
}

/* Stitches along the row ends: all that the brim offers the body. */
static gboolean
build_pick_up (Builder  *builder,
               GError  **error)
{
  const BwPlan *plan = builder->plan;

  builder->available = builder->choice->brim;
  g_array_set_size (builder->items, 0);
  if (!bw_spread_pick_up (plan->plain, plan->miss, builder->choice->brim, builder->choice->body,
                          builder->items, error))
    return FALSE;

  append_numbered (builder, BW_SECTION_PICK_UP, plan->body.stitch_mm,
                   plan->plain_mm);
  return TRUE;
}

static gboolean
build_round_brim (Builder  *builder,
                  GError  **error)
{
  const BwPlan *plan = builder->plan;
  const BwBrimPlan *brim = &plan->brim;
  double scale = plan->design->brim.folded ? 0.5 : 1;

  build_foundation (builder, builder->choice->brim, builder->size->brim_mm);
  for (guint i = 0; i < builder->choice->brim_height; i++)
    {
      if (!set_fabric_round (builder, brim->fabric, i, error))
        return FALSE;
      append_numbered (builder, BW_SECTION_BRIM, brim->gauge.stitch_mm,
                       fabric_round_mm (brim->fabric, &brim->gauge, i) * scale);
    }

  /* Always a plain round between brim and body, whether or not it changes the
   * count: so the depth does not hang on the brim's count, and bands have a
   * plain round to stand on. */
  if (!set_shaping (builder, plan->plain, plan->plain_2tog, builder->choice->body,
                    BW_SPREAD_CENTRED, error))
    return FALSE;
  append_numbered (builder, BW_SECTION_ADJUST, plan->body.stitch_mm, plan->plain_mm);
  return TRUE;
}

/* No brim: a chain of the body's stitches and a plain round to stand on. */
static gboolean
build_bare_edge (Builder  *builder,
                 GError  **error)
{
  const BwPlan *plan = builder->plan;

  build_foundation (builder, builder->choice->body, builder->choice->body * plan->body.stitch_mm);
  if (!set_fabric_round (builder, plan->body_fabric, 0, error))
    return FALSE;
  append_numbered (builder, BW_SECTION_PICK_UP, plan->body.stitch_mm,
                   plan->plain_mm);
  return TRUE;
}

/* --- Bands and crown --- */

static gboolean
build_band (Builder  *builder,
            guint     index,
            GError  **error)
{
  const BwPlan *plan = builder->plan;
  const BwBandPlan *band = &plan->bands[index];
  guint count = bw_choose_band_count (plan, builder->family->mode, builder->choice->body, index);
  guint n_rounds = band->base_rounds + builder->choice->fill * band->unit_rounds;
  const GArray *stripe = band->band->stripe;

  if (count != builder->available)
    {
      if (!set_shaping (builder, plan->plain, plan->plain_2tog, count, BW_SPREAD_CENTRED, error))
        return FALSE;
      append_numbered (builder, BW_SECTION_ADJUST, plan->body.stitch_mm,
                       plan->plain_mm)->band = (guint8) index;
    }

  for (guint i = 0; i < n_rounds; i++)
    {
      builder->colour = bw_stripe_colour_at ((const BwStripeStep *) (void *) stripe->data,
                                             stripe->len, i);
      if (!set_fabric_round (builder, band->fabric, i, error))
        return FALSE;
      append_numbered (builder, BW_SECTION_BAND, band->gauge.stitch_mm,
                       fabric_round_mm (band->fabric, &band->gauge, i))->band = (guint8) index;
    }

  return TRUE;
}

static gboolean
build_set_up (Builder  *builder,
              GError  **error)
{
  const BwPlan *plan = builder->plan;

  if (builder->available == builder->choice->crown)
    return TRUE;
  if (!set_shaping (builder, plan->plain, plan->plain_2tog, builder->choice->crown,
                    BW_SPREAD_CENTRED, error))
    return FALSE;
  append_numbered (builder, BW_SECTION_SET_UP, plan->body.stitch_mm, plan->plain_mm);
  return TRUE;
}

/* The crown as planned, or as the designer typed it. */
static gboolean
plan_crown (Builder  *builder,
            BwCrown  *crown,
            GError  **error)
{
  BwCrownShape shape = bw_plan_crown_shape (builder->plan, builder->choice->crown,
                                            builder->family->wedges);
  const GArray *own = builder->size->choice->crown_counts;

  if (builder->plan->design->crown.profile != BW_CROWN_OWN)
    return bw_crown_plan (&shape, builder->choice->crown, crown, error);

  crown->worst_mm = 0;
  crown->n_rounds = MIN (own->len - 1, BW_CROWN_ROUNDS_MAX);
  for (guint i = 0; i <= crown->n_rounds; i++)
    crown->counts[i] = g_array_index (own, guint, i);
  return TRUE;
}

static guint
decreased_in (const BwCrown *crown,
              guint          round)
{
  return crown->counts[round - 1] - MIN (crown->counts[round], crown->counts[round - 1]);
}

static guint
decrease_rounds (const BwCrown *crown)
{
  guint decreases = 0;

  for (guint i = 1; i <= crown->n_rounds; i++)
    decreases += decreased_in (crown, i) > 0;

  return decreases;
}

/* Staggered decreases are counted from the close, where the crowns of all sizes
 * are alike: so that one line of the pattern says the round for every size. */
static gboolean
build_crown (Builder  *builder,
             GError  **error)
{
  const BwPlan *plan = builder->plan;
  const GArray *stripe = plan->design->crown.stripe;
  const BwCrown *crown = builder->size->crown;
  guint decreases = decrease_rounds (crown);

  for (guint i = 1; i <= crown->n_rounds; i++)
    {
      gboolean shifted = plan->design->crown.staggered && decreases % 2 == 0;
      guint gone = decreased_in (crown, i);

      if (stripe->len > 0)
        builder->colour = bw_stripe_colour_at ((const BwStripeStep *) (void *) stripe->data,
                                               stripe->len, i - 1);
      if (!set_shaping (builder, plan->crown_plain, plan->crown_2tog, crown->counts[i],
                        shifted ? BW_SPREAD_CENTRED : BW_SPREAD_FROM_START, error))
        return FALSE;
      append_numbered (builder, BW_SECTION_CROWN, plan->crown_gauge.stitch_mm,
                       plan->crown_round_mm)->flatness =
        bw_crown_flatness (gone, plan->crown_gauge.stitch_mm, plan->crown_round_mm);
      decreases -= gone > 0;
    }

  return TRUE;
}

static void
build_close (Builder *builder)
{
  g_array_set_size (builder->items, 0);
  append (builder, BW_SECTION_CLOSE, 0, 0);
}

/* --- Colours and yarn --- */

/* Plans what happens to each colour between rounds and adds its tails and
 * carried strands to the yarn of the size. */
static void
build_colours (Builder *builder)
{
  const BwFinishing *finishing = &builder->plan->design->finishing;
  GArray *rounds = builder->list->rounds;
  guint n = rounds->len - 1; /* the close works no yarn but its tail */
  g_autofree BwStripeRound *stripes = g_new0 (BwStripeRound, n);
  BwStripePlan plan;

  for (guint i = 0; i < n; i++)
    {
      const BwRound *round = &g_array_index (rounds, BwRound, i);

      stripes[i].colour = round->colour;
      stripes[i].height_mm = round->row ? 0 : round->round_mm;
    }

  bw_stripe_plan (stripes, n, finishing->carry_rounds, finishing->carry_mm, finishing->tail_mm,
                  &plan);
  for (guint i = 0; i < n; i++)
    {
      BwRound *round = &g_array_index (rounds, BwRound, i);

      round->after = (guint8) stripes[i].after;
      round->joins_in = stripes[i].joins_in;
    }

  builder->size->ends = plan.ends;
  for (guint c = 0; c < BW_STRIPE_COLOURS_MAX; c++)
    builder->size->colour_m[c] += plan.tail_m[c] + plan.carried_m[c];
}

/* Yarn of joining a round, or of turning a row: the chain that lifts the yarn
 * to the round's height and the slip stitch of the join. */
static double
joining_yarn (const Builder *builder,
              const BwRound *round)
{
  const BwPlan *plan = builder->plan;
  const double *metres = plan->metres_by_stitch;
  double chains = MAX (1, ceil (bw_items_height (dictionary_of (builder),
                                                 bw_round_items (builder->list, round),
                                                 round->n_items)));

  if (round->n_items == 0 || round->section == BW_SECTION_JOIN || round->number == 0)
    return 0;
  if (round->row)
    return chains * metres[plan->chain];
  return plan->design->spiral ? 0 : chains * metres[plan->chain] + metres[plan->slip];
}

static void
build_yarn (Builder *builder)
{
  const BwDesign *design = builder->plan->design;
  BwGradedSize *size = builder->size;
  double stitches = 0;

  for (guint i = 0; i < builder->list->rounds->len; i++)
    {
      BwRound *round = &g_array_index (builder->list->rounds, BwRound, i);

      round->yarn_m = joining_yarn (builder, round) +
                      bw_items_yarn (dictionary_of (builder), bw_round_items (builder->list, round),
                                     round->n_items, builder->plan->metres_by_stitch);
      size->colour_m[round->colour] += round->yarn_m;
      stitches += round->stitches_out;
    }

  size->colour_m[design->finishing.pompom_colour] +=
    bw_yarn_grams_to_metres (&design->yarn, design->finishing.pompom_grams);
  for (guint c = 0; c < BW_STRIPE_COLOURS_MAX; c++)
    {
      size->yarn_m += size->colour_m[c];
      if (size->colour_m[c] > 0)
        size->balls[c] = bw_yarn_balls (&design->yarn, size->colour_m[c], design->yarn_margin);
    }

  size->yarn_g = bw_yarn_metres_to_grams (&design->yarn, size->yarn_m);
  size->yarn_cost = bw_yarn_cost (&design->yarn, size->yarn_m);
  if (design->stitches_per_minute > 0)
    size->minutes = stitches / design->stitches_per_minute;
}

/* --- The whole size --- */

static void
fill_summary (Builder *builder)
{
  const BwPlan *plan = builder->plan;
  const BwChoice *choice = builder->choice;
  BwGradedSize *size = builder->size;

  size->body_stitches = choice->body;
  size->girth_mm = choice->body * plan->body.stitch_mm;
  size->girth_u95_mm = choice->body * plan->body_gauge.stitch.U95;
  size->brim_rows = plan->brim.sideways ? choice->brim : choice->brim_height;
  size->brim_stitches = plan->brim.sideways ? choice->brim_height : choice->brim;
  size->brim_mm = choice->brim * plan->brim.count_mm;
  size->brim_stretched_mm = size->brim_mm * (1 + plan->brim.gauge.stretch);
  size->brim_height_mm = bw_plan_brim_mm (plan, choice->brim_height);
  size->crown_start = choice->crown;
  size->wedges = builder->family->wedges;
  size->fill_repeats = choice->fill;
  size->cost = choice->cost;
}

static gboolean
build_rounds (Builder  *builder,
              GError  **error)
{
  const BwBrimPlan *brim = &builder->plan->brim;
  gboolean built;

  builder->colour = builder->plan->design->brim.colour;
  if (brim->sideways)
    built = build_sideways_brim (builder, error) && build_pick_up (builder, error);
  else if (brim->round)
    built = build_round_brim (builder, error);
  else
    built = build_bare_edge (builder, error);

  for (guint i = 0; i < builder->plan->n_bands && built; i++)
    built = build_band (builder, i, error);

  return built && build_set_up (builder, error) && build_crown (builder, error);
}

/**
 * bw_build_size:
 * @plan: the plan
 * @family: the family's choice
 * @k: index of the size
 * @size: (inout): the graded size; its targets are set already, the rest is filled in
 * @error: return location for an error
 *
 * Works out every round of one size from the counts chosen for it.
 *
 * Returns: FALSE with @error set when a round cannot be made, which means that
 *   the choice broke a rule
 */
gboolean
bw_build_size (const BwPlan         *plan,
               const BwFamilyChoice *family,
               guint                 k,
               BwGradedSize         *size,
               GError              **error)
{
  g_autoptr (GArray) items = g_array_new (FALSE, TRUE, sizeof (BwItem));
  Builder builder = { plan, family, &family->sizes[k], size, size->rounds, items, 0, 0, 0, 0 };

  fill_summary (&builder);
  if (!plan_crown (&builder, size->crown, error) || !build_rounds (&builder, error))
    return FALSE;

  build_close (&builder);
  size->n_rounds = builder.number;
  size->depth_mm = builder.height_mm;
  build_colours (&builder);
  build_yarn (&builder);
  return TRUE;
}
