#define G_LOG_DOMAIN "bw-core"

#include <math.h>
#include <string.h>

#include "bw-design-fields.h"

/* One value: reading it from text and judging whether it makes sense. */

/* ---- reading ----------------------------------------------------------- */

/**
 * bw_field_parse_count:
 * @text: what was typed
 * @min: smallest count that will do
 * @max: largest
 * @count: (out): the count; untouched if it will not do
 *
 * Returns: whether @text is a whole number in range and nothing else
 */
gboolean
bw_field_parse_count (const char *text,
                      double      min,
                      double      max,
                      guint      *count)
{
  guint64 value;

  if (!g_ascii_string_to_unsigned (text, 10, 0, G_MAXUINT, &value, NULL))
    return FALSE;

  if ((double) value < min || (double) value > max)
    return FALSE;

  *count = (guint) value;

  return TRUE;
}

static gboolean
read_words (const BwField *field,
            const char    *text,
            int           *value)
{
  for (guint i = 0; field->words[i].word != NULL; i++)
    if (g_str_equal (field->words[i].word, text))
      {
        *value = field->words[i].value;
        return TRUE;
      }

  return FALSE;
}

static gboolean
read_switch (const char *text,
             gboolean   *value)
{
  static const char *const words[] = { "no", "yes", "false", "true" };

  for (guint i = 0; i < G_N_ELEMENTS (words); i++)
    if (g_str_equal (text, words[i]))
      {
        *value = i % 2 == 1;
        return TRUE;
      }

  return FALSE;
}

static gboolean
read_inch (const char *text,
           double     *value)
{
  double mm;

  if (!bw_units_parse_length (text, BW_UNITS_CM, BW_MM_PER_INCH, &mm, NULL))
    return FALSE;

  if (mm != BW_MM_PER_INCH && mm != BW_MM_PER_INCH_ROUND)
    return FALSE;

  *value = mm;

  return TRUE;
}

static gboolean
read_rgb (const char *text,
          guint32    *rgb)
{
  guint64 value;

  if (text[0] != '#' || strlen (text) != 7 ||
      !g_ascii_string_to_unsigned (text + 1, 16, 0, 0xffffff, &value, NULL))
    return FALSE;

  *rgb = (guint32) value;

  return TRUE;
}

static gboolean
read_letter (const char *text,
             guint8     *colour)
{
  if (text[0] < 'A' || text[0] >= 'A' + BW_STRIPE_COLOURS_MAX || text[1] != '\0')
    return FALSE;

  *colour = (guint8) (text[0] - 'A');

  return TRUE;
}

static gboolean
read_integer (const char *text,
              int        *value)
{
  gint64 wide;

  if (!g_ascii_string_to_signed (text, 10, G_MININT, G_MAXINT, &wide, NULL))
    return FALSE;

  *value = (int) wide;

  return TRUE;
}

/* A bare number is the fraction itself: the exact form for what no percentage
 * gives (see bw_field_append_fraction). */
static gboolean
read_fraction (const char *text,
               double     *value)
{
  return g_str_has_suffix (text, "%") ? bw_units_parse_fraction (text, value, NULL)
                                      : bw_units_parse_number (text, value, NULL);
}

static gboolean
read_text (const char  *text,
           char       **value)
{
  g_free (*value);
  *value = g_strdup (text);

  return TRUE;
}

/* Reads into @value, which is left as it was where the text cannot be read. */
static gboolean
read_scalar (const BwField        *field,
             const BwFieldContext *context,
             gpointer              value,
             const char           *text)
{
  guint format;

  switch (field->kind)
    {
    case BW_FIELD_FORMAT:
      return bw_field_parse_count (text, field->min, field->max, &format);

    case BW_FIELD_LINE:
    case BW_FIELD_PROSE:
    case BW_FIELD_ID:
      return read_text (text, value);

    case BW_FIELD_LENGTH:
      return bw_units_parse_length (text, context->units, context->mm_per_inch, value, NULL);

    case BW_FIELD_MASS:
      return bw_units_parse_mass (text, value, NULL);

    case BW_FIELD_YARN:
      return bw_units_parse_yarn (text, value, NULL);

    case BW_FIELD_NUMBER:
      return bw_units_parse_number (text, value, NULL);

    case BW_FIELD_FRACTION:
      return read_fraction (text, value);

    case BW_FIELD_COUNT:
      return bw_field_parse_count (text, 0, G_MAXUINT, value);

    case BW_FIELD_INTEGER:
      return read_integer (text, value);

    case BW_FIELD_SWITCH:
      return read_switch (text, value);

    case BW_FIELD_WORD:
      return read_words (field, text, value);

    case BW_FIELD_INCH:
      return read_inch (text, value);

    case BW_FIELD_LETTER:
      return read_letter (text, value);

    case BW_FIELD_RGB:
      return read_rgb (text, value);

    default:
      g_assert_not_reached ();
    }
}

/**
 * bw_field_read:
 * @field: a key's description
 * @context: units of the design, and the group
 * @base: the structure of the group
 * @text: what was typed
 * @error: (out) (optional): %BW_ERROR
 *
 * Reads @text into the place that @field describes and checks its range. On
 * failure the value may have changed.
 *
 * Returns: whether the value will do
 */
gboolean
bw_field_read (const BwField        *field,
               const BwFieldContext *context,
               gpointer              base,
               const char           *text,
               GError              **error)
{
  g_autofree char *trimmed = g_strdup (text);

  if (field->kind != BW_FIELD_LINE && field->kind != BW_FIELD_PROSE)
    g_strstrip (trimmed);

  if (bw_field_is_list (field->kind))
    {
      if (!bw_field_list_read (field, context, base, trimmed, error))
        return FALSE;
    }
  else if (!read_scalar (field, context, bw_field_value (field, base), trimmed))
    {
      return bw_field_refuse (field, context, BW_ERROR_SYNTAX, trimmed, error);
    }

  return bw_field_check (field, context, base, error);
}

/* ---- range ------------------------------------------------------------- */

/* Line breaks and tabs may stand in prose; no other control character does
 * anything but harm in a text that will be printed. */
static gboolean
text_in_range (const BwField *field,
               const char    *text)
{
  if (text == NULL)
    return field->min == 0;

  if (strlen (text) < field->min || strlen (text) > field->max ||
      !g_utf8_validate (text, -1, NULL))
    return FALSE;

  if (field->kind == BW_FIELD_ID)
    return text[0] == '\0' || bw_design_id_is_valid (text);

  for (const char *p = text; *p != '\0'; p = g_utf8_next_char (p))
    if (g_unichar_iscntrl (g_utf8_get_char (p)) &&
        (field->kind != BW_FIELD_PROSE || (*p != '\n' && *p != '\t')))
      return FALSE;

  return TRUE;
}

/* People type no exponents, so what is next to nothing has no text. */
#define NEXT_TO_NOTHING 1e-15

/**
 * bw_field_is_typed:
 * @value: a number
 *
 * Returns: whether @value can stand in a file as a plain decimal
 */
gboolean
bw_field_is_typed (double value)
{
  return value == 0.0 || fabs (value) >= NEXT_TO_NOTHING;
}

static gboolean
number_in_range (const BwField *field,
                 double         value,
                 double         unsaid)
{
  if ((field->flags & BW_FIELD_UNSAID) && value == unsaid)
    return TRUE;

  return value >= field->min && value <= field->max && bw_field_is_typed (value);
}

static gboolean
word_in_range (const BwField *field,
               int            value)
{
  for (guint i = 0; field->words[i].word != NULL; i++)
    if (field->words[i].value == value)
      return TRUE;

  return FALSE;
}

static gboolean
scalar_in_range (const BwField *field,
                 gconstpointer  value)
{
  switch (field->kind)
    {
    case BW_FIELD_FORMAT:
    case BW_FIELD_SWITCH:
      return TRUE;

    case BW_FIELD_LINE:
    case BW_FIELD_PROSE:
    case BW_FIELD_ID:
      return text_in_range (field, *(char *const *) value);

    case BW_FIELD_COUNT:
      return number_in_range (field, *(const guint *) value, 0);

    case BW_FIELD_INTEGER:
      return number_in_range (field, *(const int *) value, -1);

    case BW_FIELD_WORD:
      return word_in_range (field, *(const int *) value);

    case BW_FIELD_LETTER:
      return number_in_range (field, *(const guint8 *) value, 0);

    case BW_FIELD_RGB:
      return number_in_range (field, *(const guint32 *) value, 0);

    case BW_FIELD_INCH:
      return *(const double *) value == BW_MM_PER_INCH ||
             *(const double *) value == BW_MM_PER_INCH_ROUND;

    default:
      return number_in_range (field, *(const double *) value, 0.0);
    }
}

/**
 * bw_field_check:
 * @field: a key's description
 * @context: units of the design, and the group
 * @base: the structure of the group
 * @error: (out) (optional): %BW_ERROR_RANGE
 *
 * Returns: whether the value that is there makes sense
 */
gboolean
bw_field_check (const BwField        *field,
                const BwFieldContext *context,
                gconstpointer         base,
                GError              **error)
{
  g_autofree char *text = NULL;
  g_autofree char *valid = NULL;

  if (bw_field_is_list (field->kind) ? bw_field_list_in_range (field, base)
                            : scalar_in_range (field, bw_field_value (field, (gpointer) base)))
    return TRUE;

  text = bw_field_print (field, context, base);
  valid = g_utf8_make_valid (text, -1);

  return bw_field_refuse (field, context, BW_ERROR_RANGE, valid, error);
}
