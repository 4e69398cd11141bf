#define G_LOG_DOMAIN "bw-core"

#include <string.h>

#include "bw-design-fields.h"

/* Whether a design makes sense: every value by itself, through the table of
 * fields, and then the parts together. Whether a hat can be graded from it is
 * another question, which grading answers. */

typedef struct
{
  const BwReference *reference;
  const BwDesign    *design;
} Check;

/* ---- every value by itself --------------------------------------------- */

static gboolean
check_fields (const Check   *check,
              BwGroupId      id,
              guint          place,
              gconstpointer  base,
              GError       **error)
{
  const BwFieldGroup *group = bw_field_group (id);
  g_autofree char *name = bw_design_group_name (id, check->design, place);
  BwFieldContext context = {
    .reference = check->reference,
    .units = check->design->units,
    .mm_per_inch = check->design->mm_per_inch,
    .group = name,
  };

  for (guint i = 0; i < group->n_fields; i++)
    if (!bw_field_check (&group->fields[i], &context, base, error))
      return FALSE;

  return TRUE;
}

static gboolean
check_elements (const Check   *check,
                BwGroupId      id,
                const GArray  *elements,
                GError       **error)
{
  guint size = g_array_get_element_size ((GArray *) elements);

  for (guint i = 0; i < elements->len; i++)
    if (!check_fields (check, id, i, elements->data + (gsize) i * size, error))
      return FALSE;

  return TRUE;
}

static gboolean
check_values (const Check  *check,
              GError      **error)
{
  static const BwGroupId singles[] = {
    BW_GROUP_DESIGN, BW_GROUP_YARN, BW_GROUP_SIZES, BW_GROUP_BRIM, BW_GROUP_CROWN,
    BW_GROUP_FINISHING, BW_GROUP_RULES,
  };
  const BwDesign *design = check->design;

  for (guint i = 0; i < G_N_ELEMENTS (singles); i++)
    if (!check_fields (check, singles[i], 0, design, error))
      return FALSE;

  return check_elements (check, BW_GROUP_COLOUR, design->colours, error) &&
         check_elements (check, BW_GROUP_SWATCH, design->swatches, error) &&
         check_elements (check, BW_GROUP_SIZE, design->sizes, error) &&
         check_elements (check, BW_GROUP_BAND, design->bands, error);
}

static gboolean
check_numbers (const Check  *check,
               GError      **error)
{
  const BwDesign *design = check->design;
  const struct
  {
    guint       n;
    guint       min;
    guint       max;
    const char *group;
    const char *what;
  } limits[] = {
    { design->colours->len, 1, BW_STRIPE_COLOURS_MAX, "Colour A", "colours" },
    { design->swatches->len, 1, BW_DESIGN_SWATCHES_MAX, "Swatch body", "swatches" },
    { design->sizes->len, 1, BW_DESIGN_SIZES_MAX, "Sizes", "sizes" },
    { design->bands->len, 0, BW_DESIGN_BANDS_MAX, "Band 1", "bands" },
  };

  for (guint i = 0; i < G_N_ELEMENTS (limits); i++)
    if (limits[i].n < limits[i].min || limits[i].n > limits[i].max)
      {
        bw_design_set_error (error,
                             limits[i].n < limits[i].min ? BW_ERROR_MISSING : BW_ERROR_TOO_LARGE,
                             limits[i].group, NULL,
                             "%u %s will not do; a design has %u to %u of them", limits[i].n,
                             limits[i].what, limits[i].min, limits[i].max);
        return FALSE;
      }

  return TRUE;
}

/* ---- parts ------------------------------------------------------------- */

/* A gauge is taken from fabric laid relaxed; stretched readings only add to it. */
static gboolean
has_reading (const BwSwatch     *swatch,
             BwReadingDirection  direction)
{
  for (guint i = 0; i < swatch->readings->len; i++)
    {
      const BwReading *reading = &g_array_index (swatch->readings, BwReading, i);

      if (reading->direction == direction && reading->laid == BW_LAID_RELAXED)
        return TRUE;
    }

  return FALSE;
}

static gboolean
check_swatch (const Check    *check,
              guint           place,
              GError        **error)
{
  const BwSwatch *swatch = &g_array_index (check->design->swatches, BwSwatch, place);
  g_autofree char *group = bw_design_group_name (BW_GROUP_SWATCH, check->design, place);

  if (!bw_design_id_is_valid (swatch->id))
    {
      bw_design_set_error (error, BW_ERROR_SYNTAX, group, NULL,
                           "a swatch's name is at most %d letters, digits, - and _",
                           BW_DESIGN_ID_MAX);
      return FALSE;
    }

  if (bw_design_find_swatch (check->design, swatch->id) != swatch)
    {
      bw_design_set_error (error, BW_ERROR_CONFLICT, group, NULL,
                           "two swatches have this name; give one of them another");
      return FALSE;
    }

  if (swatch->from[0] == '\0' && !has_reading (swatch, BW_READING_STITCHES) &&
      !has_reading (swatch, BW_READING_ROUNDS))
    {
      bw_design_set_error (error, BW_ERROR_MISSING, group, "stitches",
                           "the swatch has no relaxed reading; write stitches and rounds such as "
                           "20 in 133 mm washed, or a gauge, or from which swatch they come");
      return FALSE;
    }

  if (swatch->grams > 0.0 && (swatch->piece_stitches == 0 || swatch->piece_rounds == 0))
    {
      bw_design_set_error (error, BW_ERROR_MISSING, group, "piece-stitches",
                           "a weighed piece needs piece-stitches and piece-rounds, how many it "
                           "has");
      return FALSE;
    }

  return bw_design_check_fabric (check->reference, group, "stitch-pattern", swatch->fabric, TRUE,
                                 error);
}

static gboolean
check_body_swatch (const Check  *check,
                   GError      **error)
{
  const BwSwatch *swatch;
  g_autofree char *group = NULL;

  if (!bw_design_check_swatch_name (check->design, "Design", "body-swatch",
                                    check->design->body_swatch, error))
    return FALSE;

  swatch = bw_design_find_swatch (check->design, check->design->body_swatch);
  if (swatch->from[0] != '\0')
    return TRUE;

  group = g_strdup_printf ("Swatch %s", swatch->id);
  for (guint i = 0; i < 2; i++)
    if (!has_reading (swatch, i == 0 ? BW_READING_STITCHES : BW_READING_ROUNDS))
      {
        bw_design_set_error (error, BW_ERROR_MISSING, group, i == 0 ? "stitches" : "rounds",
                             "has no relaxed reading; the body's swatch needs stitches and "
                             "rounds, both, such as 20 in 133 mm washed");
        return FALSE;
      }

  return TRUE;
}

static gboolean
check_brim (const Check  *check,
            GError      **error)
{
  const BwBrim *brim = &check->design->brim;

  if (!bw_design_check_letter (check->design, "Brim", "colour", brim->colour, error))
    return FALSE;

  if (brim->swatch[0] != '\0')
    return bw_design_check_swatch_name (check->design, "Brim", "swatch", brim->swatch, error);

  if (brim->kind == BW_BRIM_NONE)
    return TRUE;

  bw_design_set_error (error, BW_ERROR_MISSING, "Brim", "swatch",
                       "is missing; name the swatch that the brim is worked to");

  return FALSE;
}

static gboolean
check_band (const Check  *check,
            guint         place,
            GError      **error)
{
  const BwBand *band = &g_array_index (check->design->bands, BwBand, place);
  g_autofree char *group = bw_design_group_name (BW_GROUP_BAND, check->design, place);
  const BwFabric *fabric;

  if (!bw_design_check_fabric (check->reference, group, "stitch-pattern", band->fabric, FALSE,
                               error) ||
      !bw_design_check_stripe (check->design, group, band->stripe, error))
    return FALSE;

  if (band->swatch[0] != '\0' &&
      !bw_design_check_swatch_name (check->design, group, "swatch", band->swatch, error))
    return FALSE;

  if (band->amount == 0 && band->mode != BW_BAND_FILL)
    {
      bw_design_set_error (error, BW_ERROR_RANGE, group, "amount",
                           "0 %s are no band; write at least 1, or take the group out",
                           band->mode == BW_BAND_ROUNDS ? "rounds" : "repeats");
      return FALSE;
    }

  fabric = bw_fabric_find (check->reference->fabrics, band->fabric);
  if (band->mode != BW_BAND_ROUNDS &&
      (guint64) band->amount * fabric->n_rounds > BW_DESIGN_ROUNDS_MAX)
    {
      bw_design_set_error (error, BW_ERROR_TOO_LARGE, group, "amount",
                           "%u repeats of %u rounds are more than the %d rounds that a hat may "
                           "have; write at most %u", band->amount, fabric->n_rounds,
                           BW_DESIGN_ROUNDS_MAX, BW_DESIGN_ROUNDS_MAX / fabric->n_rounds);
      return FALSE;
    }

  return TRUE;
}

static gboolean
check_crown (const Check  *check,
             GError      **error)
{
  const BwDesign *design = check->design;

  if (!bw_design_check_plain_fabric (check->reference, "Crown", "stitch-pattern",
                                     design->crown.fabric, error) ||
      !bw_design_check_stripe (check->design, "Crown", design->crown.stripe, error))
    return FALSE;

  if (design->crown.swatch[0] != '\0' &&
      !bw_design_check_swatch_name (check->design, "Crown", "swatch", design->crown.swatch, error))
    return FALSE;

  for (guint i = 0; design->crown.profile == BW_CROWN_OWN && i < design->sizes->len; i++)
    {
      const BwSizeChoice *choice = &g_array_index (design->sizes, BwSizeChoice, i);

      if (choice->crown_counts->len < 2)
        {
          g_autofree char *group = bw_design_group_name (BW_GROUP_SIZE, design, i);

          bw_design_set_error (error, BW_ERROR_MISSING, group, "crown-counts",
                               "is missing; a crown of your own needs the counts of each size, "
                               "its start first, such as 70; 56; 42; 28; 14");
          return FALSE;
        }
    }

  return TRUE;
}

/* Whether two sizes could be taken for one another, and by what. */
static const char *
alike_in (const BwSize *a,
          const BwSize *b)
{
  if (g_str_equal (a->id, b->id))
    return "id";

  if (g_str_equal (a->name, b->name))
    return "name";

  return a->head_mm == b->head_mm ? "head girth" : NULL;
}

static gboolean
check_size (const Check  *check,
            guint         place,
            GError      **error)
{
  const BwSize *size = g_array_index (check->design->sizes, BwSizeChoice, place).size;
  g_autofree char *group = bw_design_group_name (BW_GROUP_SIZE, check->design, place);

  if (!bw_design_id_is_valid (size->id))
    {
      bw_design_set_error (error, BW_ERROR_SYNTAX, group, NULL,
                           "a size's id is at most %d letters, digits, - and _", BW_DESIGN_ID_MAX);
      return FALSE;
    }

  for (guint i = 0; i < place; i++)
    {
      const BwSize *other = g_array_index (check->design->sizes, BwSizeChoice, i).size;
      const char *alike = alike_in (other, size);

      if (alike != NULL)
        {
          bw_design_set_error (error, BW_ERROR_CONFLICT, group, NULL,
                               "has the same %s as size “%s”; change it or leave one out",
                               alike, other->id);
          return FALSE;
        }

      if (other->head_mm > size->head_mm)
        {
          bw_design_set_error (error, BW_ERROR_CONFLICT, group, "head",
                               "stands after the larger size “%s”; sizes ascend in head girth",
                               other->id);
          return FALSE;
        }
    }

  return TRUE;
}

static gboolean
check_pin_size (const Check  *check,
                const char   *key,
                const char   *id,
                GError      **error)
{
  const GArray *sizes = check->design->sizes;
  g_autofree char *question = NULL;
  BwNearest nearest;

  bw_nearest_init (&nearest, id);
  for (guint i = 0; i < sizes->len; i++)
    {
      const BwSize *size = g_array_index (sizes, BwSizeChoice, i).size;

      if (g_str_equal (size->id, id))
        return TRUE;

      bw_nearest_offer (&nearest, size->id);
    }

  question = bw_nearest_question (&nearest);
  bw_design_set_error (error, BW_ERROR_UNKNOWN, "Pins", key, "no size “%s” is in use%s", id,
                       nearest.best != NULL ? question : "; take the pin out");

  return FALSE;
}

static gboolean
has_filling_band (const BwDesign *design)
{
  for (guint i = 0; i < design->bands->len; i++)
    if (g_array_index (design->bands, BwBand, i).mode == BW_BAND_FILL)
      return TRUE;

  return FALSE;
}

static gboolean
check_pin (const Check  *check,
           guint         place,
           GError      **error)
{
  const BwPin *pin = &g_array_index (check->design->pins, BwPin, place);
  const BwFieldGroup *kinds = bw_field_group (BW_GROUP_PINS);
  g_autofree char *key = NULL;
  BwFieldContext context = { .reference = check->reference, .group = "Pins" };

  g_return_val_if_fail (pin->kind < kinds->n_fields, FALSE);

  key = g_strdup_printf ("%s.%s", pin->size, kinds->fields[pin->kind].key);
  context.key = key;
  if (!check_pin_size (check, key, pin->size, error) ||
      !bw_field_check (&kinds->fields[pin->kind], &context, pin, error))
    return FALSE;

  if (bw_design_find_pin (check->design, pin->size, pin->kind) != pin)
    {
      bw_design_set_error (error, BW_ERROR_CONFLICT, "Pins", key,
                           "is pinned twice; keep one of the two");
      return FALSE;
    }

  if (pin->kind == BW_PIN_FILL_REPEATS && !has_filling_band (check->design))
    {
      bw_design_set_error (error, BW_ERROR_CONFLICT, "Pins", key,
                           "no band has mode=fill; take the pin out, or let a band fill");
      return FALSE;
    }

  return TRUE;
}

/* ---- the whole --------------------------------------------------------- */

typedef gboolean (*CheckElement) (const Check  *check,
                                  guint         place,
                                  GError      **error);

static gboolean
check_each (const Check   *check,
            const GArray  *elements,
            CheckElement   element,
            GError       **error)
{
  for (guint i = 0; i < elements->len; i++)
    if (!element (check, i, error))
      return FALSE;

  return TRUE;
}

/**
 * bw_design_check:
 * @reference: stitch patterns that the design may name
 * @design: a design
 * @error: (out) (optional): %BW_ERROR, saying group, key and what would do
 *
 * Whether @design makes sense: every value in its range, every name known,
 * nothing missing and nothing said twice. A design that passes can be written
 * and read back; one that does not, cannot be read back.
 *
 * Returns: whether it does; otherwise the first thing to change is in @error
 */
gboolean
bw_design_check (const BwReference *reference,
                 const BwDesign    *design,
                 GError           **error)
{
  const Check check = { reference, design };

  g_return_val_if_fail (reference != NULL, FALSE);
  g_return_val_if_fail (design != NULL, FALSE);

  return check_numbers (&check, error) &&
         check_values (&check, error) &&
         check_each (&check, design->swatches, check_swatch, error) &&
         check_body_swatch (&check, error) &&
         bw_design_check_plain_fabric (reference, "Design", "body-stitch-pattern",
                                       design->body_fabric, error) &&
         check_each (&check, design->sizes, check_size, error) &&
         check_brim (&check, error) &&
         check_each (&check, design->bands, check_band, error) &&
         check_crown (&check, error) &&
         bw_design_check_letter (design, "Finishing", "pompom-colour",
                                 design->finishing.pompom_colour, error) &&
         check_each (&check, design->pins, check_pin, error);
}
