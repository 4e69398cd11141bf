#define G_LOG_DOMAIN "bw-core"

#include "bw-design-fields.h"

/* Names in a design that must be known: stitch patterns, swatches, colours. */

/**
 * bw_design_check_fabric:
 * @reference: the stitch patterns that there are
 * @group: header of the group that names one, for the error
 * @key: its key
 * @fabric: the name
 * @may_be_brim: whether the words for sideways brims will do too
 * @error: (out) (optional): %BW_ERROR_UNKNOWN
 *
 * Returns: whether there is such a stitch pattern
 */
gboolean
bw_design_check_fabric (const BwReference  *reference,
                        const char         *group,
                        const char         *key,
                        const char         *fabric,
                        gboolean            may_be_brim,
                        GError            **error)
{
  static const char *const brim_words[] = { "slip-rib", "low-rib" };
  const GPtrArray *known = reference->fabrics->fabrics;
  g_autofree char *question = NULL;
  BwNearest nearest;

  if (bw_fabric_find (reference->fabrics, fabric) != NULL)
    return TRUE;

  bw_nearest_init (&nearest, fabric);
  for (guint i = 0; may_be_brim && i < G_N_ELEMENTS (brim_words); i++)
    {
      if (g_str_equal (fabric, brim_words[i]))
        return TRUE;

      bw_nearest_offer (&nearest, brim_words[i]);
    }
  for (guint i = 0; i < known->len; i++)
    bw_nearest_offer (&nearest, ((const BwFabric *) g_ptr_array_index (known, i))->id);

  question = bw_nearest_question (&nearest);
  bw_design_set_error (error, BW_ERROR_UNKNOWN, group, key,
                       "there is no stitch pattern “%s”%s", fabric,
                       nearest.best != NULL ? question : "; write one such as plain-low");

  return FALSE;
}

/* One stitch all round, and one that can be worked two together. */
static gboolean
is_plain (const BwReference *reference,
          const BwFabric    *fabric)
{
  const BwItem *items;
  guint n_items;

  if (fabric->multiple != 1 || fabric->n_start != 0 || fabric->n_rounds != 1)
    return FALSE;

  items = bw_fabric_round_items (fabric, 0, &n_items);
  for (guint i = 0; i < n_items; i++)
    if (items[i].kind == BW_ITEM_EACH)
      return bw_stitch_together (reference->stitches, items[i].stitch, 2) != BW_STITCH_NONE;

  return FALSE;
}

/**
 * bw_design_check_plain_fabric:
 * @reference: the stitch patterns that there are
 * @group: header of the group that names one, for the error
 * @key: its key
 * @id: the name
 * @error: (out) (optional): %BW_ERROR
 *
 * Decreases and picked-up stitches are worked into plain fabric only.
 *
 * Returns: whether there is such a stitch pattern and it is plain
 */
gboolean
bw_design_check_plain_fabric (const BwReference  *reference,
                              const char         *group,
                              const char         *key,
                              const char         *id,
                              GError            **error)
{
  const BwFabric *fabric;

  if (!bw_design_check_fabric (reference, group, key, id, FALSE, error))
    return FALSE;

  fabric = bw_fabric_find (reference->fabrics, id);
  if (is_plain (reference, fabric))
    return TRUE;

  bw_design_set_error (error, BW_ERROR_RANGE, group, key,
                       "“%s” is not plain: what is decreased in is one stitch all round that can "
                       "be worked two together; write one such as plain-low", id);

  return FALSE;
}

/**
 * bw_design_check_swatch_name:
 * @design: a design
 * @group: header of the group that names a swatch, for the error
 * @key: its key
 * @id: the name
 * @error: (out) (optional): %BW_ERROR_UNKNOWN
 *
 * Returns: whether the design has such a swatch
 */
gboolean
bw_design_check_swatch_name (const BwDesign  *design,
                             const char      *group,
                             const char      *key,
                             const char      *id,
                             GError         **error)
{
  const GArray *swatches = design->swatches;
  g_autofree char *question = NULL;
  BwNearest nearest;

  if (bw_design_find_swatch (design, id) != NULL)
    return TRUE;

  bw_nearest_init (&nearest, id);
  for (guint i = 0; i < swatches->len; i++)
    bw_nearest_offer (&nearest, g_array_index (swatches, BwSwatch, i).id);
  question = bw_nearest_question (&nearest);
  bw_design_set_error (error, BW_ERROR_UNKNOWN, group, key, "there is no group [Swatch %s]%s", id,
                       nearest.best != NULL ? question : "; add one, with its readings");

  return FALSE;
}

/**
 * bw_design_check_letter:
 * @design: a design
 * @group: header of the group that names a colour, for the error
 * @key: its key
 * @colour: place of the colour
 * @error: (out) (optional): %BW_ERROR_UNKNOWN
 *
 * Returns: whether the design has such a colour
 */
gboolean
bw_design_check_letter (const BwDesign  *design,
                        const char      *group,
                        const char      *key,
                        guint8           colour,
                        GError         **error)
{
  if (colour < design->colours->len)
    return TRUE;

  bw_design_set_error (error, BW_ERROR_UNKNOWN, group, key,
                       "there is no colour %c; add [Colour %c], or write a letter up to %c",
                       'A' + colour, 'A' + colour, 'A' + (int) design->colours->len - 1);

  return FALSE;
}

/**
 * bw_design_check_stripe:
 * @design: a design
 * @group: header of the group that has a stripe, for the error
 * @stripe: (element-type BwStripeStep): the stripe
 * @error: (out) (optional): %BW_ERROR_UNKNOWN
 *
 * Returns: whether the design has all colours of the stripe
 */
gboolean
bw_design_check_stripe (const BwDesign  *design,
                        const char      *group,
                        const GArray    *stripe,
                        GError         **error)
{
  for (guint i = 0; i < stripe->len; i++)
    if (!bw_design_check_letter (design, group, "stripe",
                                 g_array_index (stripe, BwStripeStep, i).colour, error))
      return FALSE;

  return TRUE;
}
