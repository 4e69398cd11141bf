#define G_LOG_DOMAIN "bw-core"

#include <math.h>
#include <string.h>

#include "bw-design-fields.h"

/* The values of a design file that have several parts: eases, stripes, lists
 * of counts, swatch readings, the sizes in use. */

#define EASE_LENGTH_MAX_MM 300.0
#define COUNTS_MAX         401 /* a crown's start and its rounds */

static GArray *
array_of (const BwField *field,
          gconstpointer  base)
{
  return *(GArray **) bw_field_value (field, (gpointer) base);
}

/**
 * bw_field_split:
 * @text: a list
 * @separator: what stands between its parts
 *
 * Returns: (transfer full) (nullable): the parts, trimmed; %NULL if one is empty
 */
char **
bw_field_split (const char *text,
                const char *separator)
{
  g_auto (GStrv) parts = g_strsplit (text, separator, -1);

  if (parts[0] == NULL)
    return NULL;

  for (guint i = 0; parts[i] != NULL; i++)
    if (*g_strstrip (parts[i]) == '\0')
      return NULL;

  return g_steal_pointer (&parts);
}

/* ---- ease -------------------------------------------------------------- */

/* A bare number would be read as a percentage by one person and as centimetres
 * by the next, so each part says which it is. "of head" is the exact form for
 * fractions that no percentage gives. */
static gboolean
read_ease_part (const BwFieldContext *context,
                char                 *part,
                BwEase               *ease,
                gboolean             *has_fraction,
                gboolean             *has_length)
{
  gboolean is_fraction = FALSE;

  if (g_str_has_suffix (part, "of head"))
    {
      part[strlen (part) - strlen ("of head")] = '\0';
      is_fraction = TRUE;
      if (*has_fraction || !bw_units_parse_number (g_strstrip (part), &ease->fraction, NULL))
        return FALSE;
    }
  else if (g_str_has_suffix (part, "%"))
    {
      is_fraction = TRUE;
      if (*has_fraction || !bw_units_parse_fraction (part, &ease->fraction, NULL))
        return FALSE;
    }
  else if (*has_length || g_ascii_isdigit (part[strlen (part) - 1]) ||
           !bw_units_parse_length (part, context->units, context->mm_per_inch,
                                   &ease->length_mm, NULL))
    {
      return FALSE;
    }

  *(is_fraction ? has_fraction : has_length) = TRUE;

  return TRUE;
}

static gboolean
read_ease (const BwFieldContext *context,
           const char           *text,
           BwEase               *ease)
{
  g_auto (GStrv) parts = bw_field_split (text, ";");
  gboolean has_fraction = FALSE;
  gboolean has_length = FALSE;

  if (parts == NULL || g_strv_length (parts) > 2)
    return FALSE;

  *ease = (BwEase) { 0.0, 0.0 };
  for (guint i = 0; parts[i] != NULL; i++)
    if (!read_ease_part (context, parts[i], ease, &has_fraction, &has_length))
      return FALSE;

  return TRUE;
}

static void
print_ease (const BwFieldContext *context,
            const BwEase         *ease,
            GString              *out)
{
  if (ease->fraction != 0.0 || ease->length_mm == 0.0)
    {
      bw_field_append_fraction (out, ease->fraction);
      if (out->str[out->len - 1] != '%')
        g_string_append (out, " of head");
    }

  if (ease->length_mm != 0.0)
    {
      if (out->len > 0)
        g_string_append (out, "; ");
      bw_field_append_length (out, context, ease->length_mm, FALSE);
    }
}

static gboolean
ease_in_range (const BwField *field,
               const BwEase  *ease)
{
  return ease->fraction >= field->min && ease->fraction <= field->max &&
         fabs (ease->length_mm) <= EASE_LENGTH_MAX_MM && bw_field_is_typed (ease->fraction) &&
         bw_field_is_typed (ease->length_mm);
}

/* ---- stripes ----------------------------------------------------------- */

static gboolean
read_step (const BwField *field,
           const char    *part,
           BwStripeStep  *step)
{
  const char *rounds = part + 1;
  guint n;

  if (part[0] < 'A' || part[0] >= 'A' + BW_STRIPE_COLOURS_MAX)
    return FALSE;

  while (*rounds == ' ')
    rounds++;

  if (!bw_field_parse_count (rounds, field->min, field->max, &n))
    return FALSE;

  *step = (BwStripeStep) { .colour = (guint8) (part[0] - 'A'), .rounds = (guint16) n };

  return TRUE;
}

static gboolean
read_stripe (const BwField        *field,
             const BwFieldContext *context,
             GArray               *steps,
             const char           *text,
             GError              **error)
{
  g_auto (GStrv) parts = bw_field_split (text, ",");

  g_array_set_size (steps, 0);
  if (parts == NULL)
    return bw_field_refuse (field, context, BW_ERROR_SYNTAX, text, error);

  for (guint i = 0; parts[i] != NULL; i++)
    {
      BwStripeStep step;

      if (!read_step (field, parts[i], &step))
        return bw_field_refuse (field, context, BW_ERROR_SYNTAX, parts[i], error);
      if (steps->len == BW_STRIPE_STEPS_MAX)
        return bw_field_refuse (field, context, BW_ERROR_TOO_LARGE, text, error);

      g_array_append_val (steps, step);
    }

  return TRUE;
}

static void
print_stripe (const GArray *steps,
              GString      *out)
{
  for (guint i = 0; i < steps->len; i++)
    {
      const BwStripeStep *step = &g_array_index (steps, BwStripeStep, i);

      g_string_append_printf (out, "%s%c %u", i > 0 ? ", " : "", 'A' + step->colour, step->rounds);
    }
}

static gboolean
stripe_in_range (const BwField *field,
                 const GArray  *steps)
{
  for (guint i = 0; i < steps->len; i++)
    {
      const BwStripeStep *step = &g_array_index (steps, BwStripeStep, i);

      if (step->colour >= BW_STRIPE_COLOURS_MAX || step->rounds < field->min ||
          step->rounds > field->max)
        return FALSE;
    }

  return steps->len <= BW_STRIPE_STEPS_MAX;
}

/* ---- counts ------------------------------------------------------------ */

static gboolean
read_counts (const BwField        *field,
             const BwFieldContext *context,
             GArray               *counts,
             const char           *text,
             GError              **error)
{
  g_auto (GStrv) parts = bw_field_split (text, ";");

  g_array_set_size (counts, 0);
  if (parts == NULL)
    return bw_field_refuse (field, context, BW_ERROR_SYNTAX, text, error);

  for (guint i = 0; parts[i] != NULL; i++)
    {
      guint count;

      if (!bw_field_parse_count (parts[i], field->min, field->max, &count))
        return bw_field_refuse (field, context, BW_ERROR_SYNTAX, parts[i], error);
      if (counts->len == COUNTS_MAX)
        return bw_field_refuse (field, context, BW_ERROR_TOO_LARGE, text, error);

      g_array_append_val (counts, count);
    }

  return TRUE;
}

static void
print_counts (const GArray *counts,
              GString      *out)
{
  for (guint i = 0; i < counts->len; i++)
    g_string_append_printf (out, "%s%u", i > 0 ? "; " : "", g_array_index (counts, guint, i));
}

static gboolean
counts_in_range (const BwField *field,
                 const GArray  *counts)
{
  for (guint i = 0; i < counts->len; i++)
    {
      guint count = g_array_index (counts, guint, i);

      if (count < field->min || count > field->max)
        return FALSE;
    }

  return counts->len <= COUNTS_MAX;
}

/* ---- sizes in use ------------------------------------------------------ */

/**
 * bw_field_blank_size:
 * @id: a size's id
 *
 * Returns: (transfer full): a wearer that no table knows; its own group has to
 *   say the figures
 */
BwSize *
bw_field_blank_size (const char *id)
{
  BwSize *size = bw_size_new (id, id, 0.0, 0.0);

  size->months_from = -1;

  return size;
}

static gboolean
append_size (const BwField        *field,
             const BwFieldContext *context,
             const BwSizeTable    *table,
             GArray               *sizes,
             const char           *id,
             GError              **error)
{
  const BwSize *known = table != NULL ? bw_size_table_find (table, id) : NULL;
  BwSizeChoice choice;

  if (!bw_design_id_is_valid (id))
    return bw_field_refuse (field, context, BW_ERROR_SYNTAX, id, error);

  for (guint i = 0; i < sizes->len; i++)
    if (g_str_equal (g_array_index (sizes, BwSizeChoice, i).size->id, id))
      {
        bw_design_set_error (error, BW_ERROR_CONFLICT, context->group, field->key,
                             "size “%s” is there twice; leave one out", id);
        return FALSE;
      }

  if (sizes->len == BW_DESIGN_SIZES_MAX)
    {
      bw_design_set_error (error, BW_ERROR_TOO_LARGE, context->group, field->key,
                           "more than %d sizes; leave some out or make two designs of them",
                           BW_DESIGN_SIZES_MAX);
      return FALSE;
    }

  bw_size_choice_init (&choice, known != NULL ? bw_size_copy (known) : bw_field_blank_size (id));
  g_array_append_val (sizes, choice);

  return TRUE;
}

static gboolean
read_use (const BwField        *field,
          const BwFieldContext *context,
          BwDesign             *design,
          const char           *text,
          GError              **error)
{
  g_auto (GStrv) ids = bw_field_split (text, ";");
  const BwSizeTable *table = NULL;

  g_array_set_size (design->sizes, 0);
  if (ids == NULL)
    return bw_field_refuse (field, context, BW_ERROR_SYNTAX, text, error);

  if (design->size_table[0] != '\0')
    table = bw_reference_size_table (context->reference, design->size_table);

  for (guint i = 0; ids[i] != NULL; i++)
    if (!append_size (field, context, table, design->sizes, ids[i], error))
      return FALSE;

  return TRUE;
}

static void
print_use (const GArray *sizes,
           GString      *out)
{
  for (guint i = 0; i < sizes->len; i++)
    g_string_append_printf (out, "%s%s", i > 0 ? "; " : "",
                            g_array_index (sizes, BwSizeChoice, i).size->id);
}

/* ---- all of them ------------------------------------------------------- */

static gboolean
read_ease_field (const BwField        *field,
                 const BwFieldContext *context,
                 gpointer              base,
                 const char           *text,
                 GError              **error)
{
  if (!read_ease (context, text, bw_field_value (field, base)))
    return bw_field_refuse (field, context, BW_ERROR_SYNTAX, text, error);

  if (field->kind == BW_FIELD_OWN_EASE)
    G_STRUCT_MEMBER (gboolean, base, field->flag_offset) = TRUE;

  return TRUE;
}

/**
 * bw_field_list_read:
 * @field: a key's description, of one of the kinds with several parts
 * @context: units of the design, and the group
 * @base: the structure of the group
 * @text: what was typed, trimmed
 * @error: (out) (optional): %BW_ERROR
 *
 * Reads @text in place of what was there before.
 *
 * Returns: whether it could be read
 */
gboolean
bw_field_list_read (const BwField        *field,
                    const BwFieldContext *context,
                    gpointer              base,
                    const char           *text,
                    GError              **error)
{
  switch (field->kind)
    {
    case BW_FIELD_EASE:
    case BW_FIELD_OWN_EASE:
      return read_ease_field (field, context, base, text, error);

    case BW_FIELD_STRIPE:
      return read_stripe (field, context, array_of (field, base), text, error);

    case BW_FIELD_COUNTS:
      return read_counts (field, context, array_of (field, base), text, error);

    case BW_FIELD_STITCHES:
    case BW_FIELD_ROUNDS:
    case BW_FIELD_GAUGE:
      return bw_field_readings_read (field, context, array_of (field, base), text, error);

    case BW_FIELD_USE:
      return read_use (field, context, base, text, error);

    default:
      g_assert_not_reached ();
    }
}

/**
 * bw_field_list_print:
 * @field: a key's description, of one of the kinds with several parts
 * @context: units of the design
 * @base: the structure of the group
 * @out: where the text goes; must be empty
 *
 * Prints the value so that it reads back as the same bits; nothing for an
 * empty list and for an ease that a size does not have for itself.
 */
void
bw_field_list_print (const BwField        *field,
                     const BwFieldContext *context,
                     gconstpointer         base,
                     GString              *out)
{
  switch (field->kind)
    {
    case BW_FIELD_OWN_EASE:
      if (G_STRUCT_MEMBER (gboolean, base, field->flag_offset))
        print_ease (context, bw_field_value (field, (gpointer) base), out);
      break;

    case BW_FIELD_EASE:
      print_ease (context, bw_field_value (field, (gpointer) base), out);
      break;

    case BW_FIELD_STRIPE:
      print_stripe (array_of (field, base), out);
      break;

    case BW_FIELD_COUNTS:
      print_counts (array_of (field, base), out);
      break;

    case BW_FIELD_STITCHES:
    case BW_FIELD_ROUNDS:
    case BW_FIELD_GAUGE:
      bw_field_readings_print (field, context, array_of (field, base), out);
      break;

    case BW_FIELD_USE:
      print_use (array_of (field, base), out);
      break;

    default:
      g_assert_not_reached ();
    }
}

/**
 * bw_field_list_in_range:
 * @field: a key's description, of one of the kinds with several parts
 * @base: the structure of the group
 *
 * Returns: whether every part makes sense by itself
 */
gboolean
bw_field_list_in_range (const BwField *field,
                        gconstpointer  base)
{
  switch (field->kind)
    {
    case BW_FIELD_OWN_EASE:
      return !G_STRUCT_MEMBER (gboolean, base, field->flag_offset) ||
             ease_in_range (field, bw_field_value (field, (gpointer) base));

    case BW_FIELD_EASE:
      return ease_in_range (field, bw_field_value (field, (gpointer) base));

    case BW_FIELD_STRIPE:
      return stripe_in_range (field, array_of (field, base));

    case BW_FIELD_COUNTS:
      return counts_in_range (field, array_of (field, base));

    case BW_FIELD_STITCHES:
    case BW_FIELD_ROUNDS:
    case BW_FIELD_GAUGE:
      return bw_field_readings_in_range (field, array_of (field, base));

    default:
      return TRUE;
    }
}
