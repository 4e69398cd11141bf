#include "hats.h"

/* A design with its defaults and one colour; everything else is added. */
BwDesign *
hat_new (void)
{
  BwDesign *design = bw_design_new ();

  g_free (design->name);
  design->name = g_strdup ("Test");
  return design;
}

/* A swatch of so many stitches and rounds (either may be 0 = not measured) to
 * 10 cm. The first one is the body's. */
BwSwatch *
hat_add_swatch (BwDesign   *design,
                const char *id,
                const char *fabric,
                double      stitches,
                double      rounds)
{
  BwReading across = { BW_READING_STITCHES, stitches, 100, TRUE, BW_LAID_RELAXED };
  BwReading upwards = { BW_READING_ROUNDS, rounds, 100, TRUE, BW_LAID_RELAXED };
  BwSwatch swatch;

  bw_swatch_init (&swatch, id, fabric);
  if (stitches > 0)
    g_array_append_val (swatch.readings, across);
  if (rounds > 0)
    g_array_append_val (swatch.readings, upwards);
  if (design->swatches->len == 0)
    {
      g_free (design->body_swatch);
      design->body_swatch = g_strdup (id);
    }

  g_array_append_val (design->swatches, swatch);
  return &g_array_index (design->swatches, BwSwatch, design->swatches->len - 1);
}

BwSize *
hat_add_size (BwDesign   *design,
              const char *id,
              double      head_mm,
              double      depth_mm)
{
  BwSizeChoice choice;

  bw_size_choice_init (&choice, bw_size_new (id, id, head_mm, depth_mm));
  g_array_append_val (design->sizes, choice);
  return choice.size;
}

BwBand *
hat_add_band (BwDesign   *design,
              const char *fabric,
              BwBandMode  mode,
              guint       amount)
{
  BwBand band;

  bw_band_init (&band, fabric);
  band.mode = mode;
  band.amount = amount;
  g_array_append_val (design->bands, band);
  return &g_array_index (design->bands, BwBand, design->bands->len - 1);
}

void
hat_add_step (GArray *stripe,
              guint   colour,
              guint   rounds)
{
  BwStripeStep step = { (guint8) colour, (guint16) rounds };

  g_array_append_val (stripe, step);
}

/* Allows this wedge count and no other. */
void
hat_set_wedges (BwDesign *design,
                guint     wedges)
{
  g_array_set_size (design->crown.wedges, 0);
  g_array_append_val (design->crown.wedges, wedges);
}

void
hat_set_brim (BwDesign   *design,
              BwBrimKind  kind,
              const char *swatch,
              double      height_mm)
{
  design->brim.kind = kind;
  design->brim.height_mm = height_mm;
  g_free (design->brim.swatch);
  design->brim.swatch = g_strdup (swatch);
}

void
hat_pin (BwDesign   *design,
         const char *size,
         BwPinKind   kind,
         guint       value)
{
  BwPin pin = { g_strdup (size), kind, value };

  g_array_append_val (design->pins, pin);
}
