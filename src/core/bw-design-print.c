#define G_LOG_DOMAIN "bw-core"

#include <math.h>
#include <string.h>

#include "bw-design-fields.h"

/* A value as text that reads back as the same bits, and, where a value will
 * not do, the text of what would. */

#define LENGTH_DECIMALS  4
#define PERCENT_DECIMALS 6

/* ---- numbers as text --------------------------------------------------- */

static void
trim_zeros (char *text)
{
  gsize length = strlen (text);

  if (strchr (text, '.') == NULL)
    return;

  while (text[length - 1] == '0')
    length--;
  if (text[length - 1] == '.')
    length--;
  text[length] = '\0';
}

/**
 * bw_field_append_number:
 * @out: where the text goes
 * @value: a number
 *
 * Appends the shortest decimal that reads back as exactly @value, without an
 * exponent for any size that a design may hold.
 */
void
bw_field_append_number (GString *out,
                        double   value)
{
  char digits[G_ASCII_DTOSTR_BUF_SIZE];
  char fixed[80];
  char format[8];
  int exponent;
  int precision;

  if (value == 0.0 || !isfinite (value))
    {
      g_string_append (out, g_ascii_dtostr (digits, sizeof digits, value));
      return;
    }

  /* a shorter decimal that reads back is the one of 15 digits without its zeros */
  for (precision = 14; precision <= 16; precision++)
    {
      g_snprintf (format, sizeof format, "%%.%de", precision);
      g_ascii_formatd (digits, sizeof digits, format, value);
      if (g_ascii_strtod (digits, NULL) == value)
        break;
    }

  exponent = (int) g_ascii_strtoll (strchr (digits, 'e') + 1, NULL, 10);
  if (exponent > 15 || precision - exponent > 40)
    {
      g_string_append (out, digits);
      return;
    }

  g_snprintf (format, sizeof format, "%%.%df", MAX (0, precision - exponent));
  g_ascii_formatd (fixed, sizeof fixed, format, value);
  trim_zeros (fixed);
  g_string_append (out, fixed);
}

/* A typed figure has few decimals: @value with at most so many. */
static gboolean
append_short_number (GString *out,
                     double   value,
                     guint    decimals)
{
  char text[80];
  char format[8];

  if (!isfinite (value) || fabs (value) > 1e12)
    return FALSE;

  g_snprintf (format, sizeof format, "%%.%uf", decimals);
  g_ascii_formatd (text, sizeof text, format, value);
  trim_zeros (text);
  g_string_append (out, text);

  return TRUE;
}

/**
 * bw_field_append_length:
 * @out: where the text goes
 * @context: units of the design
 * @mm: a length
 * @in_mm: whether people say such a length in mm whatever the units
 *
 * Appends @mm in the design's units if a figure of few decimals reads back as
 * exactly the same, and in mm with all its digits otherwise.
 */
void
bw_field_append_length (GString              *out,
                        const BwFieldContext *context,
                        double                mm,
                        gboolean              in_mm)
{
  gboolean inch = context->units == BW_UNITS_INCH;
  double value = mm / (inch ? context->mm_per_inch : 10.0);
  gsize start = out->len;

  double back;

  if (!in_mm && append_short_number (out, value, LENGTH_DECIMALS))
    {
      g_string_append (out, inch ? " in" : " cm");
      if (bw_units_parse_length (out->str + start, context->units, context->mm_per_inch,
                                 &back, NULL) && back == mm)
        return;

      g_string_truncate (out, start);
    }

  bw_field_append_number (out, mm);
  g_string_append (out, " mm");
}

/**
 * bw_field_append_fraction:
 * @out: where the text goes
 * @fraction: a fraction, 0.07 for 7 %
 *
 * Appends @fraction as a percentage if one reads back as exactly the same, and
 * as the bare fraction otherwise.
 */
void
bw_field_append_fraction (GString *out,
                          double   fraction)
{
  gsize start = out->len;

  double back;

  if (append_short_number (out, fraction * 100.0, PERCENT_DECIMALS))
    {
      g_string_append (out, " %");
      if (bw_units_parse_fraction (out->str + start, &back, NULL) && back == fraction)
        return;

      g_string_truncate (out, start);
    }

  bw_field_append_number (out, fraction);
}

/* ---- what would do ----------------------------------------------------- */

static void
append_words (GString           *out,
              const BwFieldWord *words)
{
  for (guint i = 0; words[i].word != NULL; i++)
    {
      if (i > 0)
        g_string_append (out, words[i + 1].word == NULL ? " or " : ", ");
      g_string_append (out, words[i].word);
    }
}

static void
append_range (GString              *out,
              const BwField        *field,
              const BwFieldContext *context)
{
  gboolean small = (field->flags & BW_FIELD_SMALL) != 0;

  for (guint i = 0; i < 2; i++)
    {
      double bound = i == 0 ? field->min : field->max;

      g_string_append (out, i == 0 ? " from " : " to ");
      if (field->kind == BW_FIELD_LENGTH)
        bw_field_append_length (out, context, bound, small);
      else if (field->kind == BW_FIELD_FRACTION || field->kind == BW_FIELD_EASE ||
               field->kind == BW_FIELD_OWN_EASE)
        bw_field_append_fraction (out, bound);
      else
        bw_field_append_number (out, bound);

      if (field->kind == BW_FIELD_MASS)
        g_string_append (out, " g");
      else if (field->kind == BW_FIELD_YARN)
        g_string_append (out, " m");
    }
}

#define EASE_AFTER " of the head, or a length, or both: -7 % or -2 cm or -7 %; 5 mm"

/* What to write, by kind; @ranged says whether the range belongs after it. */
static const struct
{
  const char *before;
  gboolean    ranged;
  const char *after;
} expectations[BW_N_FIELD_KINDS] = {
  [BW_FIELD_FORMAT] = { "1, the format that this program knows", FALSE, "" },
  [BW_FIELD_LINE] = { "one line of text", FALSE, "" },
  [BW_FIELD_PROSE] = { "text", FALSE, "" },
  [BW_FIELD_ID] = { "a name of letters, digits, - and _", FALSE, "" },
  [BW_FIELD_LENGTH] = { "a length", TRUE, ", with its unit: mm, cm or in" },
  [BW_FIELD_MASS] = { "a weight", TRUE, ", with its unit: g or oz" },
  [BW_FIELD_YARN] = { "a length of yarn", TRUE, ", with its unit: m or yd" },
  [BW_FIELD_NUMBER] = { "a number", TRUE, "" },
  [BW_FIELD_FRACTION] = { "a percentage", TRUE, "" },
  [BW_FIELD_COUNT] = { "a whole number", TRUE, "" },
  [BW_FIELD_INTEGER] = { "a whole number", TRUE, "" },
  [BW_FIELD_SWITCH] = { "yes or no", FALSE, "" },
  [BW_FIELD_WORD] = { "", FALSE, "" },
  [BW_FIELD_INCH] = { "25.4 mm or 25 mm", FALSE, "" },
  [BW_FIELD_LETTER] = { "the letter of a colour, A to L", FALSE, "" },
  [BW_FIELD_RGB] = { "a colour such as #1F6F78", FALSE, "" },
  [BW_FIELD_EASE] = { "an ease", TRUE, EASE_AFTER },
  [BW_FIELD_OWN_EASE] = { "an ease", TRUE, EASE_AFTER },
  [BW_FIELD_STRIPE] = { "colours and rounds such as A 2, B 2: at most 64 steps, each", TRUE,
                        " rounds" },
  [BW_FIELD_COUNTS] = { "whole numbers", TRUE, ", with ; between them" },
  [BW_FIELD_STITCHES] = { "readings such as 20 in 133 mm washed; 20 in 134 mm washed", FALSE, "" },
  [BW_FIELD_ROUNDS] = { "readings such as 12 in 104 mm washed; 12 in 105 mm washed", FALSE, "" },
  [BW_FIELD_GAUGE] = { "a gauge such as 15 sts and 11.5 rounds to 10 cm", FALSE, "" },
  [BW_FIELD_USE] = { "the ids of 1 to 30 sizes, with ; between them", FALSE, "" },
};

/**
 * bw_field_expectation:
 * @field: a key's description
 * @context: units of the design
 *
 * Returns: (transfer full): what may be written for the key, in words
 */
char *
bw_field_expectation (const BwField        *field,
                      const BwFieldContext *context)
{
  GString *out = g_string_new (expectations[field->kind].before);

  if (expectations[field->kind].ranged)
    append_range (out, field, context);
  if (field->kind == BW_FIELD_WORD)
    append_words (out, field->words);
  if ((field->kind == BW_FIELD_LINE || field->kind == BW_FIELD_PROSE || field->kind == BW_FIELD_ID))
    g_string_append_printf (out, ", at most %.0f bytes", field->max);
  g_string_append (out, expectations[field->kind].after);

  return g_string_free (out, FALSE);
}

/**
 * bw_field_refuse:
 * @field: a key's description
 * @context: units of the design, and the group
 * @code: the error's code
 * @text: what was typed
 * @error: (out) (optional): where the error goes
 *
 * Sets the error for a value that will not do, with what would.
 *
 * Returns: %FALSE, so that callers can return it
 */
gboolean
bw_field_refuse (const BwField        *field,
                 const BwFieldContext *context,
                 BwError               code,
                 const char           *text,
                 GError              **error)
{
  g_autofree char *quoted = bw_field_quote (text);
  g_autofree char *expected = bw_field_expectation (field, context);
  g_autofree char *question = NULL;
  BwNearest nearest;

  bw_nearest_init (&nearest, text);
  for (guint i = 0; field->words != NULL && field->words[i].word != NULL; i++)
    bw_nearest_offer (&nearest, field->words[i].word);
  question = bw_nearest_question (&nearest);

  bw_design_set_error (error, code, context->group, context->key ? context->key : field->key,
                       "%s will not do%s %s %s", quoted, nearest.best ? question : ";",
                       nearest.best ? "Write" : "write", expected);

  return FALSE;
}

/* ---- printing ---------------------------------------------------------- */

static const char *
word_of (const BwField *field,
         int            value)
{
  for (guint i = 0; field->words[i].word != NULL; i++)
    if (field->words[i].value == value)
      return field->words[i].word;

  return "?";
}

static void
print_measure (const BwField        *field,
               const BwFieldContext *context,
               double                value,
               GString              *out)
{
  switch (field->kind)
    {
    case BW_FIELD_LENGTH:
      bw_field_append_length (out, context, value, (field->flags & BW_FIELD_SMALL) != 0);
      break;

    case BW_FIELD_FRACTION:
      bw_field_append_fraction (out, value);
      break;

    case BW_FIELD_MASS:
      bw_field_append_number (out, value);
      g_string_append (out, " g");
      break;

    case BW_FIELD_YARN:
      bw_field_append_number (out, value);
      g_string_append (out, " m");
      break;

    case BW_FIELD_INCH:
      bw_field_append_number (out, value);
      g_string_append (out, " mm");
      break;

    default:
      bw_field_append_number (out, value);
    }
}

static void
print_scalar (const BwField        *field,
              const BwFieldContext *context,
              gconstpointer         value,
              GString              *out)
{
  switch (field->kind)
    {
    case BW_FIELD_FORMAT:
      g_string_append_printf (out, "%d", BW_DESIGN_FILE_FORMAT);
      break;

    case BW_FIELD_LINE:
    case BW_FIELD_PROSE:
    case BW_FIELD_ID:
      if (*(char *const *) value != NULL)
        g_string_append (out, *(char *const *) value);
      break;

    case BW_FIELD_COUNT:
      g_string_append_printf (out, "%u", *(const guint *) value);
      break;

    case BW_FIELD_INTEGER:
      g_string_append_printf (out, "%d", *(const int *) value);
      break;

    case BW_FIELD_SWITCH:
      g_string_append (out, *(const gboolean *) value ? "yes" : "no");
      break;

    case BW_FIELD_WORD:
      g_string_append (out, word_of (field, *(const int *) value));
      break;

    case BW_FIELD_LETTER:
      g_string_append_c (out, (char) ('A' + *(const guint8 *) value));
      break;

    case BW_FIELD_RGB:
      g_string_append_printf (out, "#%06X", *(const guint32 *) value);
      break;

    default:
      print_measure (field, context, *(const double *) value, out);
    }
}

/**
 * bw_field_print:
 * @field: a key's description
 * @context: units of the design
 * @base: the structure of the group
 *
 * Returns: (transfer full): the value as text that reads back as the same bits;
 *   empty where there is nothing to say
 */
char *
bw_field_print (const BwField        *field,
                const BwFieldContext *context,
                gconstpointer         base)
{
  GString *out = g_string_new (NULL);

  if (bw_field_is_list (field->kind))
    bw_field_list_print (field, context, base, out);
  else
    print_scalar (field, context, bw_field_value (field, (gpointer) base), out);

  return g_string_free (out, FALSE);
}

