#define G_LOG_DOMAIN "bw-core"

#include "bw-design.h"

/* The design is a plain value: this file makes, copies, compares and frees it,
 * and knows nothing of files or of what makes sense in a hat. */

/* ---- elements of the arrays -------------------------------------------- */

/**
 * bw_colour_clear:
 * @colour: a colour in a design's array
 *
 * Frees what @colour owns, not @colour itself.
 */
void
bw_colour_clear (BwColour *colour)
{
  g_clear_pointer (&colour->name, g_free);
}

/**
 * bw_swatch_clear:
 * @swatch: a swatch in a design's array
 *
 * Frees what @swatch owns, not @swatch itself.
 */
void
bw_swatch_clear (BwSwatch *swatch)
{
  g_clear_pointer (&swatch->id, g_free);
  g_clear_pointer (&swatch->fabric, g_free);
  g_clear_pointer (&swatch->from, g_free);
  g_clear_pointer (&swatch->readings, g_array_unref);
}

/**
 * bw_size_choice_clear:
 * @choice: a size in a design's array
 *
 * Frees what @choice owns, not @choice itself.
 */
void
bw_size_choice_clear (BwSizeChoice *choice)
{
  g_clear_pointer (&choice->size, bw_size_free);
  g_clear_pointer (&choice->crown_counts, g_array_unref);
}

/**
 * bw_band_clear:
 * @band: a band in a design's array
 *
 * Frees what @band owns, not @band itself.
 */
void
bw_band_clear (BwBand *band)
{
  g_clear_pointer (&band->name, g_free);
  g_clear_pointer (&band->fabric, g_free);
  g_clear_pointer (&band->swatch, g_free);
  g_clear_pointer (&band->stripe, g_array_unref);
}

/**
 * bw_pin_clear:
 * @pin: a pin in a design's array
 *
 * Frees what @pin owns, not @pin itself.
 */
void
bw_pin_clear (BwPin *pin)
{
  g_clear_pointer (&pin->size, g_free);
}

static GArray *
array_new (gsize          element_size,
           GDestroyNotify clear)
{
  GArray *array = g_array_new (FALSE, TRUE, element_size);

  if (clear != NULL)
    g_array_set_clear_func (array, clear);

  return array;
}

/**
 * bw_colour_init:
 * @colour: (out): memory for a colour
 * @name: its name
 * @rgb: 0xRRGGBB
 *
 * Makes a colour to be appended to a design's array, which then owns it.
 */
void
bw_colour_init (BwColour   *colour,
                const char *name,
                guint32     rgb)
{
  *colour = (BwColour) { .name = g_strdup (name), .rgb = rgb };
}

/**
 * bw_swatch_init:
 * @swatch: (out): memory for a swatch
 * @id: its name in the design
 * @fabric: stitch pattern id or brim word
 *
 * Makes a swatch without readings, measured with an ordinary tape, to be
 * appended to a design's array, which then owns it.
 */
void
bw_swatch_init (BwSwatch   *swatch,
                const char *id,
                const char *fabric)
{
  *swatch = (BwSwatch) {
    .id = g_strdup (id),
    .fabric = g_strdup (fabric),
    .from = g_strdup (""),
    .readings = array_new (sizeof (BwReading), NULL),
    .tape = BW_TAPE_DEFAULT,
  };
}

/**
 * bw_size_choice_init:
 * @choice: (out): memory for a size
 * @size: (transfer full): the wearer
 *
 * Makes a size that changes nothing for itself, to be appended to a design's
 * array, which then owns it.
 */
void
bw_size_choice_init (BwSizeChoice *choice,
                     BwSize       *size)
{
  *choice = (BwSizeChoice) {
    .size = size,
    .crown_counts = array_new (sizeof (guint), NULL),
  };
}

/**
 * bw_band_init:
 * @band: (out): memory for a band
 * @fabric: stitch pattern id
 *
 * Makes a band of one repeat in colour A, to be appended to a design's array,
 * which then owns it.
 */
void
bw_band_init (BwBand     *band,
              const char *fabric)
{
  *band = (BwBand) {
    .name = g_strdup (""),
    .fabric = g_strdup (fabric),
    .swatch = g_strdup (""),
    .mode = BW_BAND_REPEATS,
    .amount = 1,
    .stripe = array_new (sizeof (BwStripeStep), NULL),
  };
}

/* ---- copying ----------------------------------------------------------- */

/* Elements that own nothing are copied as they are. */
static GArray *
array_copy_plain (GArray *array)
{
  return g_array_copy (array);
}

static GArray *
colours_copy (const GArray *colours)
{
  GArray *copy = array_new (sizeof (BwColour), (GDestroyNotify) bw_colour_clear);

  for (guint i = 0; i < colours->len; i++)
    {
      BwColour colour = g_array_index (colours, BwColour, i);

      colour.name = g_strdup (colour.name);
      g_array_append_val (copy, colour);
    }

  return copy;
}

static GArray *
swatches_copy (const GArray *swatches)
{
  GArray *copy = array_new (sizeof (BwSwatch), (GDestroyNotify) bw_swatch_clear);

  for (guint i = 0; i < swatches->len; i++)
    {
      BwSwatch swatch = g_array_index (swatches, BwSwatch, i);

      swatch.id = g_strdup (swatch.id);
      swatch.fabric = g_strdup (swatch.fabric);
      swatch.from = g_strdup (swatch.from);
      swatch.readings = array_copy_plain (swatch.readings);
      g_array_append_val (copy, swatch);
    }

  return copy;
}

static GArray *
sizes_copy (const GArray *sizes)
{
  GArray *copy = array_new (sizeof (BwSizeChoice), (GDestroyNotify) bw_size_choice_clear);

  for (guint i = 0; i < sizes->len; i++)
    {
      BwSizeChoice choice = g_array_index (sizes, BwSizeChoice, i);

      choice.size = bw_size_copy (choice.size);
      choice.crown_counts = array_copy_plain (choice.crown_counts);
      g_array_append_val (copy, choice);
    }

  return copy;
}

static GArray *
bands_copy (const GArray *bands)
{
  GArray *copy = array_new (sizeof (BwBand), (GDestroyNotify) bw_band_clear);

  for (guint i = 0; i < bands->len; i++)
    {
      BwBand band = g_array_index (bands, BwBand, i);

      band.name = g_strdup (band.name);
      band.fabric = g_strdup (band.fabric);
      band.swatch = g_strdup (band.swatch);
      band.stripe = array_copy_plain (band.stripe);
      g_array_append_val (copy, band);
    }

  return copy;
}

static GArray *
pins_copy (const GArray *pins)
{
  GArray *copy = array_new (sizeof (BwPin), (GDestroyNotify) bw_pin_clear);

  for (guint i = 0; i < pins->len; i++)
    {
      BwPin pin = g_array_index (pins, BwPin, i);

      pin.size = g_strdup (pin.size);
      g_array_append_val (copy, pin);
    }

  return copy;
}

/**
 * bw_design_copy:
 * @design: a design
 *
 * Returns: (transfer full): a copy that shares nothing with @design
 */
BwDesign *
bw_design_copy (const BwDesign *design)
{
  BwDesign *copy;

  g_return_val_if_fail (design != NULL, NULL);

  copy = g_new (BwDesign, 1);
  *copy = *design;
  copy->name = g_strdup (design->name);
  copy->code = g_strdup (design->code);
  copy->designer = g_strdup (design->designer);
  copy->summary = g_strdup (design->summary);
  copy->notes = g_strdup (design->notes);
  copy->yarn.name = g_strdup (design->yarn.name);
  copy->yarn.currency = g_strdup (design->yarn.currency);
  copy->colours = colours_copy (design->colours);
  copy->swatches = swatches_copy (design->swatches);
  copy->body_swatch = g_strdup (design->body_swatch);
  copy->body_fabric = g_strdup (design->body_fabric);
  copy->size_table = g_strdup (design->size_table);
  copy->sizes = sizes_copy (design->sizes);
  copy->brim.swatch = g_strdup (design->brim.swatch);
  copy->bands = bands_copy (design->bands);
  copy->crown.fabric = g_strdup (design->crown.fabric);
  copy->crown.swatch = g_strdup (design->crown.swatch);
  copy->crown.wedges = array_copy_plain (design->crown.wedges);
  copy->crown.stripe = array_copy_plain (design->crown.stripe);
  copy->pins = pins_copy (design->pins);

  return copy;
}

/* ---- making and freeing ------------------------------------------------ */

static void
init_arrays (BwDesign *design)
{
  design->colours = array_new (sizeof (BwColour), (GDestroyNotify) bw_colour_clear);
  design->swatches = array_new (sizeof (BwSwatch), (GDestroyNotify) bw_swatch_clear);
  design->sizes = array_new (sizeof (BwSizeChoice), (GDestroyNotify) bw_size_choice_clear);
  design->bands = array_new (sizeof (BwBand), (GDestroyNotify) bw_band_clear);
  design->pins = array_new (sizeof (BwPin), (GDestroyNotify) bw_pin_clear);
  design->crown.wedges = array_new (sizeof (guint), NULL);
  design->crown.stripe = array_new (sizeof (BwStripeStep), NULL);
}

static void
init_strings (BwDesign *design)
{
  char **empty[] = {
    &design->name, &design->code, &design->designer, &design->summary, &design->notes,
    &design->yarn.name, &design->yarn.currency, &design->body_swatch, &design->size_table,
    &design->brim.swatch, &design->crown.swatch,
  };

  for (gsize i = 0; i < G_N_ELEMENTS (empty); i++)
    *empty[i] = g_strdup ("");

  design->body_fabric = g_strdup ("plain-low");
  design->crown.fabric = g_strdup ("plain-low");
}

/**
 * bw_design_new:
 *
 * Makes a design with the defaults of the trade (common practice, no source):
 * ease, tolerances, weights and finishing as brimwright-design(5) lists them,
 * one colour, no brim, a round crown; no swatch, no size and no band yet.
 *
 * Returns: (transfer full): a new design
 */
BwDesign *
bw_design_new (void)
{
  BwDesign *design = g_new0 (BwDesign, 1);
  BwColour main_colour;

  init_arrays (design);
  init_strings (design);

  bw_colour_init (&main_colour, "Main", 0x808080);
  g_array_append_val (design->colours, main_colour);

  design->terms = BW_TERMS_UK;
  design->units = BW_UNITS_CM;
  design->mm_per_inch = BW_MM_PER_INCH;
  design->yarn.weight_class = -1;
  design->yarn_margin = 0.10;
  design->body_ease.fraction = -0.07;
  design->brim_ease.fraction = -0.18;
  design->brim.kind = BW_BRIM_NONE;
  design->brim.height_mm = 50.0;
  design->brim.pick_up = BW_PICK_UP_COMPUTED;
  design->brim.per_row = 0.5;
  design->crown.profile = BW_CROWN_ROUND;
  design->finishing.tail_mm = 150.0;
  design->finishing.carry_rounds = 4;
  design->finishing.carry_mm = 25.0;
  design->rules = (BwRules) {
    .girth_tolerance_mm = 10.0,
    .girth_limit_mm = 25.0,
    .brim_tolerance_mm = 10.0,
    .brim_limit_mm = 30.0,
    .depth_tolerance_mm = 8.0,
    .adjust_weight = 0.02,
    .pick_up_weight = 0.001,
    .least_step = 1,
    .rounding = BW_ROUND_NEAREST,
  };

  return design;
}

/**
 * bw_design_free:
 * @design: (nullable) (transfer full): a design
 *
 * Frees @design and all it owns.
 */
void
bw_design_free (BwDesign *design)
{
  if (design == NULL)
    return;

  g_free (design->name);
  g_free (design->code);
  g_free (design->designer);
  g_free (design->summary);
  g_free (design->notes);
  g_free (design->yarn.name);
  g_free (design->yarn.currency);
  g_array_unref (design->colours);
  g_array_unref (design->swatches);
  g_free (design->body_swatch);
  g_free (design->body_fabric);
  g_free (design->size_table);
  g_array_unref (design->sizes);
  g_free (design->brim.swatch);
  g_array_unref (design->bands);
  g_free (design->crown.fabric);
  g_free (design->crown.swatch);
  g_array_unref (design->crown.wedges);
  g_array_unref (design->crown.stripe);
  g_array_unref (design->pins);
  g_free (design);
}

/* ---- finding ----------------------------------------------------------- */

/**
 * bw_design_find_swatch:
 * @design: a design
 * @id: the swatch's name in the design
 *
 * Returns: (transfer none) (nullable): the swatch, or %NULL if there is none of
 *   that name
 */
const BwSwatch *
bw_design_find_swatch (const BwDesign *design,
                       const char     *id)
{
  g_return_val_if_fail (design != NULL, NULL);
  g_return_val_if_fail (id != NULL, NULL);

  for (guint i = 0; i < design->swatches->len; i++)
    {
      const BwSwatch *swatch = &g_array_index (design->swatches, BwSwatch, i);

      if (g_str_equal (swatch->id, id))
        return swatch;
    }

  return NULL;
}

/**
 * bw_design_find_size:
 * @design: a design
 * @size: a size's id or its name
 *
 * An id wins over a name.
 *
 * Returns: (transfer none) (nullable): the size, or %NULL if there is none
 */
const BwSizeChoice *
bw_design_find_size (const BwDesign *design,
                     const char     *size)
{
  const BwSizeChoice *named = NULL;

  g_return_val_if_fail (design != NULL, NULL);
  g_return_val_if_fail (size != NULL, NULL);

  for (guint i = 0; i < design->sizes->len; i++)
    {
      const BwSizeChoice *choice = &g_array_index (design->sizes, BwSizeChoice, i);

      if (g_str_equal (choice->size->id, size))
        return choice;

      if (named == NULL && g_str_equal (choice->size->name, size))
        named = choice;
    }

  return named;
}

/**
 * bw_design_find_pin:
 * @design: a design
 * @size: a size's id
 * @kind: what is pinned
 *
 * Returns: (transfer none) (nullable): the pin, or %NULL if that figure is free
 */
const BwPin *
bw_design_find_pin (const BwDesign *design,
                    const char     *size,
                    BwPinKind       kind)
{
  g_return_val_if_fail (design != NULL, NULL);
  g_return_val_if_fail (size != NULL, NULL);

  for (guint i = 0; i < design->pins->len; i++)
    {
      const BwPin *pin = &g_array_index (design->pins, BwPin, i);

      if (pin->kind == kind && g_str_equal (pin->size, size))
        return pin;
    }

  return NULL;
}
