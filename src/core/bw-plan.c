#define G_LOG_DOMAIN "bw-core"

#include "bw-plan.h"

#include <math.h>
#include <string.h>

#include "bw-error.h"

/* What a part is taken to allow when nobody measured it. Common practice, no
 * source: plain crochet gives about a seventh, and a fabric drawn wide loses
 * 0.7 of that in height. A grading that leans on them says so. */
#define STRETCH_DEFAULT     0.15
#define HEIGHT_LOSS_DEFAULT 0.7

static double
mean_height (const BwFabric *fabric)
{
  double sum = 0;

  for (guint i = 0; i < fabric->n_rounds; i++)
    sum += fabric->round_height[fabric->n_start + i];

  return sum / fabric->n_rounds;
}

static const BwFabric *
find_fabric (const BwPlan  *plan,
             const char    *id,
             const char    *part,
             GError       **error)
{
  const BwFabric *fabric = bw_fabric_find (plan->reference->fabrics, id);

  if (fabric == NULL)
    g_set_error (error, BW_ERROR, BW_ERROR_UNKNOWN,
                 "%s: there is no stitch pattern \"%s\"", part, id);

  return fabric;
}

/* The swatch a part is measured by: the one it names, else one of its stitch pattern. */
static const BwSwatch *
find_swatch (const BwDesign *design,
             const char     *id,
             const char     *fabric)
{
  if (id[0] != '\0')
    return bw_design_find_swatch (design, id);

  for (guint i = 0; i < design->swatches->len; i++)
    {
      const BwSwatch *swatch = &g_array_index (design->swatches, BwSwatch, i);

      if (g_str_equal (swatch->fabric, fabric))
        return swatch;
    }

  return NULL;
}

static gboolean
measure_swatch (const BwSwatch  *swatch,
                BwGauge         *gauge,
                GError         **error)
{
  if (!bw_gauge_from_readings ((const BwReading *) (void *) swatch->readings->data,
                               swatch->readings->len, &swatch->tape, gauge, error))
    {
      g_prefix_error (error, "Swatch \"%s\": ", swatch->id);
      return FALSE;
    }

  return TRUE;
}

/* Stretch by the swatch's word, else its readings, else the stitch pattern's figure. */
static double
usable_stretch (const BwSwatch *swatch,
                double          measured,
                const BwFabric *fabric)
{
  if (swatch != NULL && swatch->stretch > 0)
    return swatch->stretch;
  if (measured > 1)
    return measured - 1;
  if (fabric->stretch > 0)
    return fabric->stretch;
  return STRETCH_DEFAULT;
}

/* Settles a part's gauge. A direction that its own swatch does not measure is
 * estimated from the body: the width unchanged, the height by the
 * dictionary's relative heights; likewise the height when the swatch named is
 * of another stitch pattern. */
static gboolean
settle_gauge (BwPlan          *plan,
              const char      *swatch_id,
              const BwFabric  *fabric,
              BwPartGauge     *part,
              BwGauge         *gauge,
              GError         **error)
{
  const BwSwatch *swatch = find_swatch (plan->design, swatch_id, fabric->id);
  const BwFabric *measured = NULL;

  if (swatch != NULL)
    measured = bw_fabric_find (plan->reference->fabrics, swatch->fabric);
  if (measured == NULL)
    measured = fabric;

  memset (gauge, 0, sizeof *gauge);
  if (swatch != NULL && !measure_swatch (swatch, gauge, error))
    return FALSE;

  part->swatch = swatch;
  part->stitch_mm = gauge->stitch.mm > 0 ? gauge->stitch.mm : plan->body.stitch_mm;
  part->low_mm = gauge->round.mm > 0 ? gauge->round.mm / mean_height (measured)
                                     : plan->body.low_mm;
  part->stretch = usable_stretch (swatch, gauge->stitch_stretch, fabric);
  part->height_loss = swatch != NULL && swatch->height_loss > 0 ? swatch->height_loss
                                                                : HEIGHT_LOSS_DEFAULT;
  return TRUE;
}

static gboolean
plan_body (BwPlan  *plan,
           GError **error)
{
  const BwDesign *design = plan->design;
  const BwSwatch *swatch = bw_design_find_swatch (design, design->body_swatch);

  if (swatch == NULL)
    {
      g_set_error (error, BW_ERROR, BW_ERROR_MISSING,
                   "The design needs a swatch for its body: there is none called \"%s\"",
                   design->body_swatch);
      return FALSE;
    }

  plan->body_fabric = find_fabric (plan, design->body_fabric, "Body", error);
  if (plan->body_fabric == NULL ||
      !settle_gauge (plan, design->body_swatch, plan->body_fabric, &plan->body,
                     &plan->body_gauge, error))
    return FALSE;

  if (plan->body_gauge.stitch.mm <= 0 || plan->body_gauge.round.mm <= 0)
    {
      g_set_error (error, BW_ERROR, BW_ERROR_MISSING,
                   "Swatch \"%s\" needs readings of both stitches and rounds", swatch->id);
      return FALSE;
    }

  plan->plain_mm = plan->body.low_mm * bw_fabric_height (plan->body_fabric, 1);
  return TRUE;
}

static const char *
brim_fabric_id (BwBrimKind kind)
{
  switch (kind)
    {
    case BW_BRIM_SLIP_RIB: return "slip-rib";
    case BW_BRIM_LOW_RIB: return "low-rib";
    case BW_BRIM_POST_RIB: return "post-rib";
    case BW_BRIM_ROLLED:
    case BW_BRIM_NONE:
    default: return "plain-low";
    }
}

/* A sideways rib stretches across its rows, and a row's height is what it adds
 * to the length round the head. */
static gboolean
plan_brim (BwPlan  *plan,
           GError **error)
{
  const BwBrim *brim = &plan->design->brim;
  BwBrimPlan *out = &plan->brim;

  out->sideways = brim->kind == BW_BRIM_SLIP_RIB || brim->kind == BW_BRIM_LOW_RIB;
  out->round = brim->kind == BW_BRIM_POST_RIB || brim->kind == BW_BRIM_ROLLED;
  out->fabric = find_fabric (plan, brim_fabric_id (brim->kind), "Brim", error);
  if (out->fabric == NULL ||
      !settle_gauge (plan, brim->swatch, out->fabric, &out->gauge, &plan->brim_gauge, error))
    return FALSE;

  if (out->sideways)
    {
      out->count_mm = out->gauge.low_mm * mean_height (out->fabric);
      out->gauge.stretch = usable_stretch (out->gauge.swatch, plan->brim_gauge.round_stretch,
                                           out->fabric);
    }
  else
    {
      out->count_mm = out->gauge.stitch_mm;
    }

  out->worked_mm = brim->kind == BW_BRIM_NONE ? 0 : brim->height_mm * (brim->folded ? 2 : 1);
  return TRUE;
}

static guint
greatest_common_divisor (guint a,
                         guint b)
{
  return b == 0 ? a : greatest_common_divisor (b, a % b);
}

/* A filling band ends on a whole stitch-pattern repeat and a whole stripe:
 * finds the first such number of rounds from `at_least` on, and the step to the next. */
static void
plan_fill (BwBandPlan         *out,
           const BwStripeStep *stripe,
           guint               n_steps)
{
  const BwFabric *fabric = out->fabric;
  guint period = n_steps > 1 ? bw_stripe_period (stripe, n_steps) : 1;
  guint common = fabric->n_rounds / greatest_common_divisor (fabric->n_rounds, period) * period;
  guint fewest = fabric->n_start + MAX (out->band->amount, 1) * fabric->n_rounds;

  out->base_rounds = fewest;
  out->unit_rounds = fabric->n_rounds;
  for (guint rounds = fewest; rounds < fewest + common; rounds += fabric->n_rounds)
    if (rounds % period == 0)
      {
        out->base_rounds = rounds;
        out->unit_rounds = common;
        return;
      }

  out->stripe_open = TRUE;
}

static gboolean
plan_band (BwPlan        *plan,
           const BwBand  *band,
           BwBandPlan    *out,
           GError       **error)
{
  BwGauge gauge;
  const BwStripeStep *stripe = (const BwStripeStep *) (void *) band->stripe->data;
  guint period = band->stripe->len > 1 ? bw_stripe_period (stripe, band->stripe->len) : 1;

  out->band = band;
  out->fabric = find_fabric (plan, band->fabric, "Band", error);
  if (out->fabric == NULL ||
      !settle_gauge (plan, band->swatch, out->fabric, &out->gauge, &gauge, error))
    return FALSE;

  if (band->mode == BW_BAND_FILL)
    plan_fill (out, stripe, band->stripe->len);
  else if (band->mode == BW_BAND_REPEATS)
    out->base_rounds = out->fabric->n_start + band->amount * out->fabric->n_rounds;
  else
    out->base_rounds = band->amount;

  if (band->mode != BW_BAND_FILL)
    out->stripe_open = out->base_rounds % period != 0;

  out->base_mm = bw_fabric_height (out->fabric, out->base_rounds) * out->gauge.low_mm;
  out->unit_mm = bw_fabric_height (out->fabric, out->base_rounds + out->unit_rounds) *
                   out->gauge.low_mm - out->base_mm;
  return TRUE;
}

/* The stitch that a plain one-round stitch pattern is made of. */
static BwStitchIndex
plain_stitch (const BwFabric *fabric)
{
  const BwItem *items = (const BwItem *) (void *) fabric->items->data;

  for (guint i = 0; i < fabric->items->len; i++)
    if (items[i].kind == BW_ITEM_EACH)
      return items[i].stitch;

  return BW_STITCH_NONE;
}

static gboolean
find_stitches (BwPlan  *plan,
               GError **error)
{
  const BwStitchDictionary *dictionary = plan->reference->stitches;

  plan->chain = bw_stitch_find (dictionary, "chain");
  plan->slip = bw_stitch_find (dictionary, "slip");
  plan->miss = bw_stitch_find (dictionary, "miss");
  plan->plain = plain_stitch (plan->body_fabric);
  plan->plain_2tog = bw_stitch_together (dictionary, plan->plain, 2);
  plan->crown_plain = plain_stitch (plan->crown_fabric);
  plan->crown_2tog = bw_stitch_together (dictionary, plan->crown_plain, 2);

  if (plan->chain == BW_STITCH_NONE || plan->slip == BW_STITCH_NONE ||
      plan->miss == BW_STITCH_NONE || plan->plain_2tog == BW_STITCH_NONE)
    {
      g_set_error (error, BW_ERROR, BW_ERROR_MISSING,
                   "Body: \"%s\" cannot be used, its stitch has no decrease in the dictionary",
                   plan->body_fabric->id);
      return FALSE;
    }

  if (plan->crown_2tog == BW_STITCH_NONE || plan->crown_fabric->multiple != 1 ||
      plan->crown_fabric->n_rounds != 1)
    {
      g_set_error (error, BW_ERROR, BW_ERROR_CONFLICT,
                   "Crown: \"%s\" cannot be used, choose a plain stitch pattern such as plain-low",
                   plan->crown_fabric->id);
      return FALSE;
    }

  return TRUE;
}

static gboolean
plan_crown (BwPlan  *plan,
            GError **error)
{
  const BwCrownChoice *choice = &plan->design->crown;
  BwGauge gauge;

  plan->crown_fabric = find_fabric (plan, choice->fabric, "Crown", error);
  if (plan->crown_fabric == NULL ||
      !settle_gauge (plan, choice->swatch, plan->crown_fabric, &plan->crown_gauge, &gauge, error))
    return FALSE;

  plan->crown_round_mm = plan->crown_gauge.low_mm * mean_height (plan->crown_fabric);
  plan->crown = (BwCrownShape) {
    .profile = choice->profile,
    .stitch_mm = plan->crown_gauge.stitch_mm,
    .round_mm = plan->crown_round_mm,
    .close_at = choice->close_at > 0
      ? choice->close_at
      : MIN (BW_CLOSE_MOST, bw_crown_default_close (plan->reference->crown_close,
                                                    plan->crown_gauge.stitch_mm)),
  };
  return TRUE;
}

/* Counts the stitches of a weighed piece of `stitches` by `rounds` in a stitch pattern. */
static gboolean
count_piece (const BwPlan   *plan,
             const BwSwatch *swatch,
             double         *counts)
{
  const BwFabric *fabric = bw_fabric_find (plan->reference->fabrics, swatch->fabric);
  guint size = bw_stitch_dictionary_size (plan->reference->stitches);
  g_autofree double *unit = NULL;

  if (fabric == NULL)
    return FALSE;

  /* The yarn of a piece in which stitch i alone had a length, is the count of i. */
  unit = g_new0 (double, size);
  for (guint i = 0; i < size; i++)
    {
      unit[i] = 1;
      for (guint r = 0; r < swatch->piece_rounds; r++)
        {
          guint n;
          guint index = bw_fabric_round_index (fabric, r);
          const BwItem *items = bw_fabric_round_items (fabric, index, &n);
          g_autofree BwItem *bound = g_memdup2 (items, n * sizeof *items);

          if (!bw_items_bind (plan->reference->stitches, bound, n, swatch->piece_stitches, NULL))
            return FALSE;
          counts[i] += bw_items_yarn (plan->reference->stitches, bound, n, unit);
        }
      unit[i] = 0;
    }

  return TRUE;
}

/* Yarn for each stitch: fitted to the design's weighed swatches if there are
 * any whose stitch pattern and yarn are known, else the dictionary's estimate. */
static void
plan_yarn (BwPlan *plan)
{
  const BwDesign *design = plan->design;
  const BwStitchDictionary *dictionary = plan->reference->stitches;
  guint size = bw_stitch_dictionary_size (dictionary);
  g_autoptr (GPtrArray) kept = g_ptr_array_new_with_free_func (g_free);
  g_autoptr (GArray) pieces = g_array_new (FALSE, FALSE, sizeof (BwYarnWeighed));

  plan->metres_by_stitch = g_new0 (double, size);
  for (guint i = 0; i < design->swatches->len; i++)
    {
      const BwSwatch *swatch = &g_array_index (design->swatches, BwSwatch, i);
      double metres = bw_yarn_grams_to_metres (&design->yarn, swatch->grams);
      double *counts;

      if (metres <= 0 || swatch->piece_stitches == 0 || swatch->piece_rounds == 0)
        continue;
      counts = g_new0 (double, size);
      g_ptr_array_add (kept, counts);
      if (count_piece (plan, swatch, counts))
        g_array_append_val (pieces, ((BwYarnWeighed) { counts, metres }));
    }

  plan->yarn_estimated =
    pieces->len == 0 ||
    !bw_yarn_fit (dictionary, (const BwYarnWeighed *) (void *) pieces->data, pieces->len,
                  plan->body.stitch_mm, plan->metres_by_stitch, NULL);
  if (plan->yarn_estimated)
    bw_yarn_estimate (dictionary, plan->body.stitch_mm, plan->metres_by_stitch);
}

/**
 * bw_plan_init:
 * @plan: (out caller-allocates): the plan; clear it with bw_plan_clear()
 * @reference: the tables that names are looked up in; must outlive @plan
 * @design: the design; must outlive @plan
 * @error: return location for an error in the design
 *
 * Looks up every name in @design and settles the gauge of each part.
 *
 * Returns: FALSE with @error set when a name is unknown or a gauge is missing
 */
gboolean
bw_plan_init (BwPlan             *plan,
              const BwReference  *reference,
              const BwDesign     *design,
              GError            **error)
{
  memset (plan, 0, sizeof *plan);
  plan->reference = reference;
  plan->design = design;

  if (!plan_body (plan, error) || !plan_brim (plan, error) || !plan_crown (plan, error) ||
      !find_stitches (plan, error))
    return FALSE;

  for (guint i = 0; i < MIN (design->bands->len, BW_DESIGN_BANDS_MAX); i++)
    if (!plan_band (plan, &g_array_index (design->bands, BwBand, i), &plan->bands[plan->n_bands++],
                    error))
      return FALSE;

  plan_yarn (plan);
  return TRUE;
}

/**
 * bw_plan_clear:
 * @plan: a plan, also one whose making failed
 *
 * Frees what @plan owns.
 */
void
bw_plan_clear (BwPlan *plan)
{
  g_clear_pointer (&plan->metres_by_stitch, g_free);
}

/**
 * bw_plan_crown_shape:
 * @plan: the plan
 * @start: stitches that the crown starts with
 * @wedges: wedge count
 *
 * Returns: the shape to hand to the functions of bw-crown.h
 */
BwCrownShape
bw_plan_crown_shape (const BwPlan *plan,
                     guint         start,
                     guint         wedges)
{
  BwCrownShape shape = plan->crown;
  const BwCrownChoice *choice = &plan->design->crown;

  shape.wedges = wedges;
  shape.length_mm = choice->length_mm;
  if (choice->length_of_radius > 0)
    shape.length_mm = choice->length_of_radius * start * shape.stitch_mm / (2 * G_PI);
  return shape;
}

/**
 * bw_plan_nearest:
 * @stitches: a count
 * @multiple: the multiple wanted, >= 1
 * @offset: and what it is to leave over
 *
 * Returns: the count nearest to @stitches that is @multiple times something
 *   plus @offset, at least one repeat of it; the lower one of two as near
 */
guint
bw_plan_nearest (guint stitches,
                 guint multiple,
                 guint offset)
{
  guint rest = (stitches + multiple - offset % multiple) % multiple;
  guint lower = stitches - MIN (rest, stitches);

  if (lower < multiple + offset)
    return multiple + offset;
  return rest * 2 > multiple ? lower + multiple : lower;
}

/**
 * bw_plan_body_target:
 * @plan: the plan
 * @k: index of a size
 *
 * Returns: girth wanted of the body, mm (grading rule 2)
 */
double
bw_plan_body_target (const BwPlan *plan,
                     guint         k)
{
  const BwSizeChoice *choice = &g_array_index (plan->design->sizes, BwSizeChoice, k);

  return bw_ease_apply (choice->own_body_ease ? &choice->body_ease : &plan->design->body_ease,
                        choice->size->head_mm);
}

/**
 * bw_plan_brim_target:
 * @plan: the plan
 * @k: index of a size
 *
 * Returns: relaxed length wanted of the brim, mm (grading rule 2)
 */
double
bw_plan_brim_target (const BwPlan *plan,
                     guint         k)
{
  const BwSizeChoice *choice = &g_array_index (plan->design->sizes, BwSizeChoice, k);

  return bw_ease_apply (choice->own_brim_ease ? &choice->brim_ease : &plan->design->brim_ease,
                        choice->size->head_mm);
}

/**
 * bw_plan_brim_height:
 * @plan: the plan
 * @size: id of a size
 *
 * Returns: stitches of a row of a sideways brim, rounds of one in the round,
 *   that come nearest to the height wanted; the pinned number if there is one
 */
guint
bw_plan_brim_height (const BwPlan *plan,
                     const char   *size)
{
  const BwBrimPlan *brim = &plan->brim;
  const BwPin *pin = bw_design_find_pin (plan->design, size, BW_PIN_BRIM_HEIGHT);
  double unit = brim->sideways ? brim->gauge.stitch_mm
                               : brim->gauge.low_mm * mean_height (brim->fabric);

  if (!brim->sideways && !brim->round)
    return 0;
  if (pin != NULL)
    return pin->value;
  return MAX (1, (guint) lround (brim->worked_mm / unit));
}

/**
 * bw_plan_brim_mm:
 * @plan: the plan
 * @brim_height: as bw_plan_brim_height() gives it
 *
 * Returns: height of the brim as worn, in mm: half of what is worked if folded
 */
double
bw_plan_brim_mm (const BwPlan *plan,
                 guint         brim_height)
{
  const BwBrimPlan *brim = &plan->brim;
  double worked = brim->sideways
    ? brim_height * brim->gauge.stitch_mm
    : bw_fabric_height (brim->fabric, brim_height) * brim->gauge.low_mm;

  return plan->design->brim.folded ? worked / 2 : worked;
}
