#include <math.h>

#include "hats.h"

/* Random hats that somebody could want: gauges from lace to very thick yarn,
 * heads from newborn to large, parts of a likely size. The same seed gives the
 * same hat. They pass bw_design_check(), and most of them can be graded. */

typedef struct
{
  GRand             *rand;
  const BwReference *reference;
  HatRange           range;
  BwDesign          *design;
  double             stitch_mm; /* of the body */
  double             low_mm;    /* height of its "low" */
} Maker;

static gboolean
one_in (Maker *maker,
        int    n)
{
  return g_rand_int_range (maker->rand, 0, n) == 0;
}

static guint
number (Maker *maker,
        guint  least,
        guint  most)
{
  return least + (guint) g_rand_int_range (maker->rand, 0, (gint32) (most - least + 1));
}

/* Half of the time with all its bits random, half as a person would write it. */
static double
figure (Maker  *maker,
        double  least,
        double  most,
        double  grain)
{
  double value = g_rand_double_range (maker->rand, least, most);

  return one_in (maker, 2) ? value : CLAMP (round (value / grain) * grain, least, most);
}

/* Most numbers of things are small, a few as large as they may be. */
static guint
few (Maker *maker,
     guint  least,
     guint  usual,
     guint  most)
{
  return number (maker, least, one_in (maker, 40) ? most : usual);
}

static double
mean_height (const BwFabric *fabric)
{
  double sum = 0;

  for (guint i = 0; i < fabric->n_rounds; i++)
    sum += fabric->round_height[fabric->n_start + i];
  return sum / fabric->n_rounds;
}

static const BwFabric *
any_fabric (Maker *maker)
{
  const GPtrArray *fabrics = maker->reference->fabrics->fabrics;

  return g_ptr_array_index (fabrics, number (maker, 0, fabrics->len - 1));
}

static const char *
plain_fabric (Maker *maker)
{
  static const char *const plain[] = { "plain-low", "plain-mid", "plain-tall", "plain-taller" };

  return plain[one_in (maker, 2) ? 0 : number (maker, 0, G_N_ELEMENTS (plain) - 1)];
}

/* --- Swatches --- */

/* Readings of one direction, scattered by up to 3 %, some washed or stretched. */
static void
add_readings (Maker              *maker,
              BwSwatch           *swatch,
              BwReadingDirection  direction,
              double              mm)
{
  guint n = number (maker, 1, 6);

  for (guint i = 0; i < n; i++)
    {
      BwReading reading = { .direction = direction, .count = number (maker, 5, 30) };

      reading.span_mm = reading.count * mm * figure (maker, 0.97, 1.03, 0.005);
      reading.washed = one_in (maker, 2);
      reading.laid = i > 0 && one_in (maker, 4) ? BW_LAID_FULLY_STRETCHED : BW_LAID_RELAXED;
      if (reading.laid == BW_LAID_FULLY_STRETCHED)
        reading.span_mm *= figure (maker, 1.1, 1.6, 0.05);
      g_array_append_val (swatch->readings, reading);
    }
}

/* Of its own gauge: the body's, a little wider or narrower. */
static void
add_swatch (Maker      *maker,
            const char *id,
            const char *fabric_id)
{
  const BwFabric *fabric = bw_fabric_find (maker->reference->fabrics, fabric_id);
  gboolean body = maker->design->swatches->len == 0;
  double wider = body ? 1 : figure (maker, 0.9, 1.1, 0.01);
  double higher = body ? 1 : figure (maker, 0.9, 1.1, 0.01);
  double stitch_mm = maker->stitch_mm * wider;
  double round_mm = maker->low_mm * mean_height (fabric) * higher;
  gboolean stated = maker->range == HATS_SMALL || one_in (maker, 2);
  BwSwatch *swatch = hat_add_swatch (maker->design, id, fabric_id, stated ? 100 / stitch_mm : 0,
                                     stated ? 100 / round_mm : 0);

  if (!stated)
    {
      add_readings (maker, swatch, BW_READING_STITCHES, stitch_mm);
      add_readings (maker, swatch, BW_READING_ROUNDS, round_mm);
    }
  if (one_in (maker, 3))
    swatch->stretch = figure (maker, 0.1, 0.8, 0.05);
  if (one_in (maker, 4))
    swatch->height_loss = figure (maker, 0.2, 1, 0.1);
  if (one_in (maker, 6))
    {
      swatch->piece_stitches = fabric->multiple * number (maker, 2, 8) + fabric->offset;
      swatch->piece_rounds = number (maker, 5, 40);
      swatch->grams = figure (maker, 2, 30, 0.5);
    }
}

/* Stitches from 1.6 mm (lace) to 17 mm wide, a round of "low" about as high. */
static void
make_gauge (Maker *maker)
{
  double narrow = maker->range == HATS_SMALL ? 3 : 1.6;
  double wide = maker->range == HATS_SMALL ? 9 : 17;

  maker->stitch_mm = exp (g_rand_double_range (maker->rand, log (narrow), log (wide)));
  maker->low_mm = maker->stitch_mm * g_rand_double_range (maker->rand, 0.75, 1.15);
  g_free (maker->design->body_fabric);
  maker->design->body_fabric = g_strdup (plain_fabric (maker));
  add_swatch (maker, "body", maker->design->body_fabric);
}

/* --- Colours --- */

static void
make_colours (Maker *maker)
{
  guint n = few (maker, 1, 4, BW_STRIPE_COLOURS_MAX);

  for (guint i = 1; i < n; i++)
    {
      g_autofree char *name = g_strdup_printf ("Colour %u", i);
      BwColour colour;

      bw_colour_init (&colour, name, (guint32) g_rand_int_range (maker->rand, 0, 0x1000000));
      g_array_append_val (maker->design->colours, colour);
    }
}

static guint8
any_colour (Maker *maker)
{
  return (guint8) number (maker, 0, maker->design->colours->len - 1);
}

static void
make_stripe (Maker  *maker,
             GArray *stripe)
{
  guint n = one_in (maker, 3) ? 0 : few (maker, 1, 4, 12);
  guint common = number (maker, 1, 3);

  for (guint i = 0; i < n; i++)
    hat_add_step (stripe, any_colour (maker), one_in (maker, 3) ? number (maker, 1, 6) : common);
}

/* --- Parts --- */

static void
make_brim (Maker *maker)
{
  static const char *const fabrics[] = {
    [BW_BRIM_NONE] = "plain-low",     [BW_BRIM_SLIP_RIB] = "slip-rib",
    [BW_BRIM_LOW_RIB] = "low-rib",    [BW_BRIM_POST_RIB] = "post-rib",
    [BW_BRIM_ROLLED] = "plain-low",
  };
  BwBrim *brim = &maker->design->brim;
  BwBrimKind kind = (BwBrimKind) number (maker, BW_BRIM_NONE, BW_BRIM_ROLLED);
  gboolean own = kind != BW_BRIM_NONE && !one_in (maker, 4);

  if (own)
    add_swatch (maker, "brim", fabrics[kind]);
  hat_set_brim (maker->design, kind, own ? "brim" : "body", figure (maker, 15, 70, 5));
  /* the body's swatch does for a brim of its own stitch only */
  if (kind == BW_BRIM_NONE)
    {
      g_free (brim->swatch);
      brim->swatch = g_strdup ("");
    }
  brim->folded = one_in (maker, 3);
  brim->colour = any_colour (maker);
  brim->pick_up = one_in (maker, 3) ? BW_PICK_UP_PER_ROW : BW_PICK_UP_COMPUTED;
  brim->per_row = figure (maker, 0.4, 0.8, 0.1);
}

static void
make_bands (Maker *maker)
{
  guint n = maker->range == HATS_SMALL ? number (maker, 0, 3)
                                       : few (maker, 0, 4, BW_DESIGN_BANDS_MAX);
  gboolean filling = FALSE;

  for (guint i = 0; i < n; i++)
    {
      const BwFabric *fabric = any_fabric (maker);
      BwBandMode mode = (BwBandMode) number (maker, 0, filling ? 1 : 2);
      BwBand *band = hat_add_band (maker->design, fabric->id, mode, number (maker, 1, 6));

      filling = filling || mode == BW_BAND_FILL;
      make_stripe (maker, band->stripe);
      if (one_in (maker, 3))
        {
          g_autofree char *id = g_strdup_printf ("band-%u", i + 1);

          add_swatch (maker, id, fabric->id);
          g_free (band->swatch);
          band->swatch = g_strdup (id);
        }
    }
}

static void
make_wedges (Maker *maker)
{
  guint n = number (maker, 0, 3);

  if (maker->range == HATS_SMALL)
    n = MAX (n, 1);
  for (guint i = 0; i < n; i++)
    {
      guint wedges = number (maker, 4, 13);

      g_array_append_val (maker->design->crown.wedges, wedges);
    }
}

static void
make_crown (Maker *maker)
{
  BwCrownChoice *crown = &maker->design->crown;

  crown->profile = (BwCrownProfile) number (maker, BW_CROWN_FLAT, BW_CROWN_GATHERED);
  if (maker->range == HATS_ANY && one_in (maker, 12))
    crown->profile = BW_CROWN_OWN;

  if (one_in (maker, 4))
    {
      g_free (crown->fabric);
      crown->fabric = g_strdup (plain_fabric (maker));
    }
  if (one_in (maker, 4))
    {
      add_swatch (maker, "crown", crown->fabric);
      g_free (crown->swatch);
      crown->swatch = g_strdup ("crown");
    }
  if (one_in (maker, 3))
    crown->length_of_radius = figure (maker, 1.2, 3, 0.1);
  else if (one_in (maker, 4))
    crown->length_mm = figure (maker, 90, 250, 10);

  make_wedges (maker);
  crown->staggered = one_in (maker, 2);
  crown->close_at = one_in (maker, 2) ? 0 : number (maker, 5, 16);
  crown->multiple_on_body = one_in (maker, 8);
  make_stripe (maker, crown->stripe);
}

/* --- Sizes --- */

/* Counts of a crown somebody typed: from about the body's count down to few. */
static void
make_own_counts (Maker        *maker,
                 BwSizeChoice *choice)
{
  guint wedges = 6;
  guint count = (guint) MAX (12, choice->size->head_mm * 0.93 / maker->stitch_mm / wedges) * wedges;

  count = MAX (count / wedges * wedges, 2 * wedges);
  while (count > wedges)
    {
      guint most = count / wedges / 2;

      g_array_append_val (choice->crown_counts, count);
      count -= wedges * number (maker, 1, MIN (most, 2));
    }
  g_array_append_val (choice->crown_counts, count);
}

static void
make_sizes (Maker *maker)
{
  guint n = maker->range == HATS_SMALL ? number (maker, 1, 7)
                                       : few (maker, 1, 6, BW_DESIGN_SIZES_MAX);
  double least = g_rand_double_range (maker->rand, 330, 480);
  double step = g_rand_double_range (maker->rand, 18, 40);
  double depth = g_rand_double_range (maker->rand, 0.33, 0.45);

  if (n > 8)
    {
      least = g_rand_double_range (maker->rand, 300, 360);
      step = g_rand_double_range (maker->rand, 8, 14);
    }
  for (guint k = 0; k < n; k++)
    {
      g_autofree char *id = g_strdup_printf ("size-%u", k + 1);
      double head = least + k * step + figure (maker, -2, 2, 1);
      BwSize *size = hat_add_size (maker->design, id, head, head * depth);
      BwSizeChoice *choice = &g_array_index (maker->design->sizes, BwSizeChoice, k);

      size->months_from = one_in (maker, 2) ? -1 : (int) number (maker, 0, 240);
      if (one_in (maker, 20))
        {
          choice->own_body_ease = TRUE;
          choice->body_ease.fraction = figure (maker, -0.1, 0, 0.01);
        }
      if (one_in (maker, 20))
        {
          choice->own_brim_ease = TRUE;
          choice->brim_ease.fraction = figure (maker, -0.2, -0.1, 0.01);
        }
      if (maker->design->crown.profile == BW_CROWN_OWN)
        make_own_counts (maker, choice);
    }
}

/* --- Rules and finishing --- */

static void
make_rules (Maker *maker)
{
  BwRules *rules = &maker->design->rules;

  rules->girth_tolerance_mm = figure (maker, 4, 15, 1);
  rules->brim_tolerance_mm = figure (maker, 4, 15, 1);
  rules->depth_tolerance_mm = figure (maker, 4, 15, 1);
  rules->adjust_weight = figure (maker, 0, 0.2, 0.01);
  rules->pick_up_weight = figure (maker, 0, 0.2, 0.01);
  rules->least_step = one_in (maker, 2) ? number (maker, 0, 2) : 0;
  rules->rounding = one_in (maker, 2) ? BW_ROUND_NEAREST
                                      : (BwRounding) number (maker, BW_ROUND_NEAREST, BW_ROUND_UP);
  if (maker->range == HATS_SMALL)
    {
      rules->girth_limit_mm = figure (maker, 10, 20, 1);
      rules->brim_limit_mm = figure (maker, 10, 20, 1);
    }
  else
    {
      rules->girth_limit_mm = figure (maker, 15, 35, 1) + maker->stitch_mm;
      rules->brim_limit_mm = figure (maker, 15, 35, 1) + maker->stitch_mm;
    }
}

static void
make_finishing (Maker *maker)
{
  BwDesign *design = maker->design;
  BwFinishing *finishing = &design->finishing;

  if (one_in (maker, 2))
    {
      finishing->pompom_mm = figure (maker, 40, 100, 10);
      finishing->pompom_grams = figure (maker, 5, 30, 1);
      finishing->pompom_colour = any_colour (maker);
    }
  finishing->tail_mm = figure (maker, 100, 250, 10);
  finishing->carry_rounds = number (maker, 0, 6);
  finishing->carry_mm = figure (maker, 0, 40, 5);
  finishing->cords = one_in (maker, 4);
  finishing->buttons = one_in (maker, 4);

  design->terms = one_in (maker, 2) ? BW_TERMS_UK : BW_TERMS_US;
  design->spiral = one_in (maker, 3);
  design->chain_counts = one_in (maker, 3);
  design->body_ease.fraction = figure (maker, -0.12, 0, 0.01);
  design->brim_ease.fraction = figure (maker, -0.22, -0.08, 0.01);
  design->body_ease.length_mm = one_in (maker, 4) ? figure (maker, -15, 15, 1) : 0;
  design->stitches_per_minute = one_in (maker, 2) ? figure (maker, 8, 30, 1) : 0;
  if (one_in (maker, 2))
    {
      design->yarn.metres_per_ball = figure (maker, 60, 400, 10);
      design->yarn.grams_per_ball = one_in (maker, 2) ? 50 : 100;
      design->yarn.price_per_ball = figure (maker, 2, 20, 0.5);
    }
}

/* Values near what a size would get, and now and then a silly one. */
static void
make_pins (Maker *maker)
{
  const BwDesign *design = maker->design;
  gboolean fills = FALSE;

  for (guint i = 0; i < design->bands->len; i++)
    fills = fills || g_array_index (design->bands, BwBand, i).mode == BW_BAND_FILL;

  for (guint k = 0; k < design->sizes->len; k++)
    for (int kind = 0; kind < BW_PIN_N; kind++)
      {
        const BwSize *size = g_array_index (design->sizes, BwSizeChoice, k).size;
        guint body = (guint) (size->head_mm * 0.93 / maker->stitch_mm);
        guint brim = (guint) (size->head_mm * 0.85 / maker->stitch_mm);
        guint near[BW_PIN_N] = { body, brim, number (maker, 3, 20), body, number (maker, 0, 5) };
        guint value = near[kind];

        if (!one_in (maker, 40) || (kind == BW_PIN_FILL_REPEATS && !fills))
          continue;
        if (kind != BW_PIN_FILL_REPEATS && kind != BW_PIN_BRIM_HEIGHT)
          value = MAX (4, value / 6 * 6 + (one_in (maker, 4) ? number (maker, 0, 20) : 0));
        hat_pin (maker->design, size->id, (BwPinKind) kind, value);
      }
}

/* A random hat; free it with bw_design_free(). */
BwDesign *
random_hat (const BwReference *reference,
            HatRange           range,
            guint32            seed)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (seed);
  Maker maker = { rand, reference, range, hat_new (), 0, 0 };

  make_gauge (&maker);
  make_colours (&maker);
  make_brim (&maker);
  make_bands (&maker);
  make_crown (&maker);
  make_sizes (&maker);
  make_rules (&maker);
  make_finishing (&maker);
  if (one_in (&maker, 2))
    make_pins (&maker);

  return maker.design;
}
