#define G_LOG_DOMAIN "bw-words"

#include "bw-words-private.h"

#include <math.h>

/* Costs are plain numbers; a hundredth is finer than anybody can use. */
#define COST_DECIMALS 2

static const BwGradedSize *
size_at (const BwGrading *grading,
         guint            k)
{
  return g_ptr_array_index (grading->sizes, k);
}

/* A small distance: in mm where lengths are in cm. */
static char *
distance_words (const BwDesign *design,
                double          mm)
{
  g_autofree char *number = NULL;

  if (design->units == BW_UNITS_INCH)
    return bw_words_length (design, mm);
  number = bw_units_format_number (mm, mm < 10 ? 1 : 0);
  return g_strdup_printf (_("%s mm"), number);
}

/* "within 4 mm of 448 mm" */
static char *
miss_words (const BwDesign *design,
            double          mm,
            double          target_mm)
{
  g_autofree char *miss = distance_words (design, fabs (mm - target_mm));
  g_autofree char *target = distance_words (design, target_mm);

  return g_strdup_printf (_("within %s of %s"), miss, target);
}

/* "4 mm more than the 215 mm wanted" */
static char *
difference_words (const BwDesign *design,
                  double          mm,
                  double          target_mm)
{
  g_autofree char *miss = distance_words (design, fabs (mm - target_mm));
  g_autofree char *target = distance_words (design, target_mm);

  return g_strdup_printf (mm < target_mm ? _("%s less than the %s wanted")
                                         : _("%s more than the %s wanted"),
                          miss, target);
}

/* "multiple of 3, " for each band whose stitch pattern has one; a count that a
 * band does not take is reached by an adjusting round. */
static void
append_multiples (const BwGrading *grading,
                  guint            stitches,
                  GString         *out)
{
  const GArray *bands = grading->design->bands;

  for (guint i = 0; i < bands->len; i++)
    {
      const char *id = g_array_index (bands, BwBand, i).fabric;
      const BwFabric *fabric = bw_fabric_find (grading->reference->fabrics, id);
      g_autofree char *name = bw_words_band (grading, i);

      if (fabric == NULL || fabric->multiple <= 1)
        continue;
      if (stitches % fabric->multiple != fabric->offset % fabric->multiple)
        g_string_append_printf (out, _("an adjusting round leads to the multiple of %u (%s), "),
                                fabric->multiple, name);
      else if (fabric->offset % fabric->multiple != 0)
        g_string_append_printf (out, _("multiple of %u plus %u (%s), "), fabric->multiple,
                                fabric->offset % fabric->multiple, name);
      else
        g_string_append_printf (out, _("multiple of %u (%s), "), fabric->multiple, name);
    }
}

static gboolean
is_pinned (const BwGrading    *grading,
           const BwGradedSize *size,
           BwPinKind           kind)
{
  return bw_design_find_pin (grading->design, size->choice->size->id, kind) != NULL;
}

static void
append_pin (const BwGrading    *grading,
            const BwGradedSize *size,
            BwPinKind           kind,
            GString            *out)
{
  if (is_pinned (grading, size, kind))
    g_string_append (out, _("pinned, "));
}

static char *
why_body (const BwGrading    *grading,
          const BwGradedSize *size)
{
  const BwDesign *design = grading->design;
  const BwEase *ease = size->choice->own_body_ease ? &size->choice->body_ease : &design->body_ease;
  GString *out = g_string_new (NULL);
  g_autofree char *miss = miss_words (design, size->girth_mm, size->body_target_mm);
  g_autofree char *head = bw_words_length (design, size->head_mm);
  g_autofree char *ease_words = bw_words_ease (design, ease);

  g_string_append_printf (out, "%u: ", size->body_stitches);
  append_pin (grading, size, BW_PIN_BODY_STITCHES, out);
  append_multiples (grading, size->body_stitches, out);
  g_string_append (out, miss);
  if (size->crown_start == size->body_stitches && size->wedges > 0)
    g_string_append_printf (out, _(", %u wedges of %u"), size->wedges,
                            size->body_stitches / size->wedges);
  g_string_append_printf (out, _(" (head %s, ease %s)"), head, ease_words);
  return g_string_free (out, FALSE);
}

static char *
why_brim (const BwGrading    *grading,
          const BwGradedSize *size)
{
  const BwDesign *design = grading->design;
  GString *out = g_string_new (NULL);
  g_autofree char *miss = miss_words (design, size->brim_mm, size->brim_target_mm);
  g_autofree char *stretched = bw_words_length (design, size->brim_stretched_mm);
  g_autofree char *head = bw_words_length (design, size->head_mm);

  if (design->brim.kind == BW_BRIM_NONE)
    {
      g_string_append (out, _("none"));
      return g_string_free (out, FALSE);
    }

  if (design->brim.kind == BW_BRIM_SLIP_RIB || design->brim.kind == BW_BRIM_LOW_RIB)
    g_string_append_printf (out, _("%u rows of %u stitches: "), size->brim_rows,
                            size->brim_stitches);
  else
    g_string_append_printf (out, _("%u stitches, %u rounds: "), size->brim_stitches,
                            size->brim_rows);
  append_pin (grading, size, BW_PIN_BRIM_COUNT, out);
  append_pin (grading, size, BW_PIN_BRIM_HEIGHT, out);
  if ((design->brim.kind == BW_BRIM_SLIP_RIB || design->brim.kind == BW_BRIM_LOW_RIB) &&
      size->brim_rows % 2 == 0)
    g_string_append (out, _("even, so that ridges pair up; "));
  g_string_append_printf (out, _("relaxed %s; stretched it is %s, the head %s"), miss, stretched,
                          head);
  return g_string_free (out, FALSE);
}

static char *
why_crown (const BwGrading    *grading,
           const BwGradedSize *size)
{
  GString *out = g_string_new (NULL);
  guint left = size->crown->counts[size->crown->n_rounds];

  g_string_append_printf (out, "%u: ", size->crown_start);
  append_pin (grading, size, BW_PIN_CROWN_START, out);
  if (size->wedges > 0)
    g_string_append_printf (out, _("%u wedges of %u, "), size->wedges,
                            size->crown_start / size->wedges);
  if (size->crown_start == size->body_stitches)
    g_string_append (out, _("the body's own count, "));
  else
    g_string_append_printf (out, _("reached from %u by a set-up round, "), size->body_stitches);
  g_string_append_printf (out, _("%s over %u rounds, %u stitches left to draw up"),
                          bw_words_crown (grading->design->crown.profile), size->crown->n_rounds,
                          left);
  return g_string_free (out, FALSE);
}

static char *
why_depth (const BwGrading    *grading,
           const BwGradedSize *size)
{
  const BwDesign *design = grading->design;
  GString *out = g_string_new (NULL);
  g_autofree char *depth = bw_words_length (design, size->depth_mm);
  g_autofree char *miss = difference_words (design, size->depth_mm, size->depth_target_mm);
  g_autofree char *worn = bw_words_length (design, size->worn_depth_mm);
  gboolean fills = FALSE;

  for (guint i = 0; i < design->bands->len; i++)
    fills = fills || g_array_index (design->bands, BwBand, i).mode == BW_BAND_FILL;

  g_string_append_printf (out, "%s: ", depth);
  append_pin (grading, size, BW_PIN_FILL_REPEATS, out);
  if (fills)
    g_string_append_printf (out, g_dngettext (GETTEXT_PACKAGE,
                                              "the filling band grows by %u repeat, ",
                                              "the filling band grows by %u repeats, ",
                                              size->fill_repeats),
                            size->fill_repeats);
  g_string_append_printf (out, _("%s; worn it is %s"), miss, worn);
  return g_string_free (out, FALSE);
}

static char *
why_cost (const BwGradedSize *size)
{
  const BwCost *cost = &size->cost;
  g_autofree char *total = bw_units_format_number (cost->girth + cost->brim + cost->depth +
                                                   cost->adjust + cost->pick_up, COST_DECIMALS);
  g_autofree char *girth = bw_units_format_number (cost->girth, COST_DECIMALS);
  g_autofree char *brim = bw_units_format_number (cost->brim, COST_DECIMALS);
  g_autofree char *depth = bw_units_format_number (cost->depth, COST_DECIMALS);
  g_autofree char *adjust = bw_units_format_number (cost->adjust, COST_DECIMALS);
  g_autofree char *pick_up = bw_units_format_number (cost->pick_up, COST_DECIMALS);
  g_autofree char *pins = bw_units_format_number (size->pin_price, COST_DECIMALS);
  GString *out = g_string_new (NULL);

  g_string_append_printf (out, _("%s: girth %s, brim %s, depth %s, adjusted stitches %s, "
                                 "pick-up %s"),
                          total, girth, brim, depth, adjust, pick_up);
  if (size->pin_price != 0)
    g_string_append_printf (out, _("; its pins cost the family %s"), pins);
  return g_string_free (out, FALSE);
}

/**
 * bw_words_why_name:
 * @what: one of the things that are chosen
 *
 * Returns: (transfer none): what it is called
 */
const char *
bw_words_why_name (BwWhy what)
{
  switch (what)
    {
    case BW_WHY_BODY:
      return _("Body stitches");
    case BW_WHY_BRIM:
      return _("Brim");
    case BW_WHY_CROWN:
      return _("Crown start");
    case BW_WHY_DEPTH:
      return _("Depth");
    case BW_WHY_COST:
    case BW_WHY_N:
    default:
      return _("Cost");
    }
}

/**
 * bw_words_why:
 * @grading: a grading that was not refused
 * @k: index of a size
 * @what: which choice
 *
 * Returns: (transfer full): why it was chosen: "72: multiple of 3 (Raised columns),
 *   within 4 mm of 448 mm, 6 wedges of 12 (head 48 cm, ease −7 %)"
 */
char *
bw_words_why (const BwGrading *grading,
              guint            k,
              BwWhy            what)
{
  const BwGradedSize *size = size_at (grading, k);

  switch (what)
    {
    case BW_WHY_BODY:
      return why_body (grading, size);
    case BW_WHY_BRIM:
      return why_brim (grading, size);
    case BW_WHY_CROWN:
      return why_crown (grading, size);
    case BW_WHY_DEPTH:
      return why_depth (grading, size);
    case BW_WHY_COST:
    case BW_WHY_N:
    default:
      return why_cost (size);
    }
}

/**
 * bw_words_alternative:
 * @grading: a grading that was not refused
 * @k: index of a size
 * @i: index of one of its alternatives; 0 is the one that was chosen
 *
 * Returns: (transfer full): the alternative and its price, which is what the whole
 *   family would cost more than it does
 */
char *
bw_words_alternative (const BwGrading *grading,
                      guint            k,
                      guint            i)
{
  const BwGradedSize *size = size_at (grading, k);
  const BwAlternative *it = &g_array_index (size->alternatives, BwAlternative, i);
  gboolean sideways = grading->design->brim.kind == BW_BRIM_SLIP_RIB ||
                      grading->design->brim.kind == BW_BRIM_LOW_RIB;
  g_autofree char *price = bw_units_format_number (it->cost - grading->cost, COST_DECIMALS);
  GString *out = g_string_new (NULL);

  g_string_append_printf (out, _("body %u, "), it->body_stitches);
  if (grading->design->brim.kind != BW_BRIM_NONE)
    g_string_append_printf (out, sideways ? _("brim %u rows, ") : _("brim %u stitches, "),
                            it->brim_count);
  g_string_append_printf (out, _("crown %u in %u wedges, %u fill repeats: costs %s more"),
                          it->crown_start, it->wedges, it->fill_repeats, price);
  return g_string_free (out, FALSE);
}
