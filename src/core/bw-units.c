#define G_LOG_DOMAIN "bw-core"

#include "bw-units.h"

#include <math.h>
#include <string.h>

#include "bw-error.h"

/* No figure of a hat comes near this; larger numbers are slips of the finger. */
#define NUMBER_MAX 1e9

/* Beyond this a length is no longer written in eighths of an inch. */
#define EIGHTHS_MAX_INCHES 1e6

/* Room for the longest number there is: 309 digits, a sign, a dot, 9 decimals. */
#define NUMBER_TEXT_SIZE 336

typedef struct
{
  const char *word;
  double      factor;
} Unit;

static const Unit length_units[] = {
  { "mm", 1 }, { "cm", 10 }, { "cms", 10 }, { "m", 1000 },
};

static const char *const inch_words[] = { "in", "ins", "inch", "inches", "\"", "''", "\xe2\x80\xb3",
                                          "\xe2\x80\x9d" };

static const Unit mass_units[] = {
  { "", 1 }, { "g", 1 }, { "gr", 1 }, { "gram", 1 }, { "grams", 1 }, { "kg", 1000 },
  { "oz", BW_G_PER_OUNCE }, { "ounce", BW_G_PER_OUNCE }, { "ounces", BW_G_PER_OUNCE },
};

static const Unit yarn_units[] = {
  { "", 1 }, { "m", 1 }, { "metre", 1 }, { "metres", 1 }, { "meter", 1 }, { "meters", 1 },
  { "yd", BW_M_PER_YARD }, { "yds", BW_M_PER_YARD }, { "yard", BW_M_PER_YARD },
  { "yards", BW_M_PER_YARD },
};

/* Fractions that have a sign of their own. */
static const struct
{
  gunichar sign;
  double   value;
} fraction_signs[] = {
  { 0x00bc, 0.25 }, { 0x00bd, 0.5 }, { 0x00be, 0.75 }, { 0x2153, 1.0 / 3 }, { 0x2154, 2.0 / 3 },
  { 0x215b, 0.125 }, { 0x215c, 0.375 }, { 0x215d, 0.625 }, { 0x215e, 0.875 },
};

/* The text with every kind of space at its ends gone, those inside made plain,
 * dashes that stand for a minus made hyphens and the fraction's own stroke a
 * slash. */
static char *
normalise (const char *text)
{
  g_autoptr (GString) out = g_string_new (NULL);

  for (const char *at = text; *at != '\0'; at = g_utf8_next_char (at))
    {
      gunichar c = g_utf8_get_char (at);

      if (g_unichar_isspace (c))
        c = ' ';
      else if (c == 0x2212 || c == 0x2013)
        c = '-';
      else if (c == 0x2044)
        c = '/';
      g_string_append_unichar (out, c);
    }

  return g_strdup (g_strstrip (out->str));
}

static gboolean
fail (GError     **error,
      const char  *text,
      const char  *wanted)
{
  g_autofree char *excerpt = bw_error_excerpt (text);

  g_set_error (error, BW_ERROR, BW_ERROR_SYNTAX, "\"%s\" cannot be read: write %s", excerpt,
               wanted);
  return FALSE;
}

static double
fraction_sign (gunichar c)
{
  for (guint i = 0; i < G_N_ELEMENTS (fraction_signs); i++)
    if (fraction_signs[i].sign == c)
      return fraction_signs[i].value;

  return 0;
}

static gsize
count_digits (const char *at)
{
  return strspn (at, "0123456789");
}

/* Digits with a dot or a comma; FALSE when there are none. No signs, no
 * exponents, no "inf": this is what people type. */
static gboolean
read_decimal (const char **at,
              double      *value,
              gboolean    *whole)
{
  gsize before = count_digits (*at);
  char separator = (*at)[before];
  gsize after = separator == '.' || separator == ',' ? count_digits (*at + before + 1) : 0;
  gsize length = before + (after > 0 ? after + 1 : 0);
  g_autofree char *digits = g_strndup (*at, length);

  if (before + after == 0)
    return FALSE;

  if (after > 0)
    digits[before] = '.';
  *value = g_ascii_strtod (digits, NULL);
  *whole = after == 0;
  *at += length;
  return TRUE;
}

/* "1,200" is one and a fifth to some and twelve hundred to others. */
static gboolean
reads_two_ways (const char *plain)
{
  const char *at = plain + strspn (plain, "+- ");
  gsize before = count_digits (at);

  return before >= 1 && before <= 3 && *at != '0' && at[before] == ',' &&
         count_digits (at + before + 1) == 3;
}

static gboolean
fail_two_ways (GError     **error,
               const char  *text)
{
  g_autofree char *excerpt = bw_error_excerpt (text);

  g_set_error (error, BW_ERROR, BW_ERROR_SYNTAX,
               "\"%s\" can be read in two ways: leave out the comma, or write a dot for it",
               excerpt);
  return FALSE;
}

/* "1/2" at `at`, or one sign for it; adds it to the value. Behind a whole
 * number it has to be less than one. */
static gboolean
read_fraction_part (const char **at,
                    gboolean     proper,
                    double      *value)
{
  const char *p = *at;
  double sign = fraction_sign (g_utf8_get_char (p));
  gboolean whole_over, whole_under;
  double over, under;

  if (sign > 0)
    {
      *value += sign;
      *at = g_utf8_next_char (p);
      return TRUE;
    }
  if (!read_decimal (&p, &over, &whole_over) || *p++ != '/' ||
      !read_decimal (&p, &under, &whole_under))
    return FALSE;
  if (!whole_over || !whole_under || under == 0 || (proper && over >= under))
    return FALSE;

  *value += over / under;
  *at = p;
  return TRUE;
}

static const char *
skip_spaces (const char *at)
{
  while (*at == ' ')
    at++;
  return at;
}

/* "8", "8.5", "8,5", "8 1/2", "8-1/2", "8½", "1/2", with a sign; leaves `at`
 * behind it. */
static gboolean
read_number (const char **at,
             double      *value)
{
  const char *p = skip_spaces (*at);
  gboolean negative = *p == '-';
  gboolean whole;
  double number = 0;

  if (*p == '-' || *p == '+')
    p = skip_spaces (p + 1);

  if (!read_fraction_part (&p, FALSE, &number))
    {
      const char *rest;

      if (!read_decimal (&p, &number, &whole))
        return FALSE;
      rest = *p == '-' ? p + 1 : skip_spaces (p);
      if (whole && read_fraction_part (&rest, TRUE, &number))
        p = rest;
    }

  *value = negative ? -number : number;
  *at = p;
  return TRUE;
}

static gboolean
finish_number (const char  *text,
               double       number,
               GError     **error)
{
  g_autofree char *excerpt = NULL;

  if (fabs (number) <= NUMBER_MAX)
    return TRUE;

  excerpt = bw_error_excerpt (text);
  g_set_error (error, BW_ERROR, BW_ERROR_RANGE, "\"%s\" is too large", excerpt);
  return FALSE;
}

static gboolean
find_unit (const Unit *units,
           gsize       n_units,
           const char *word,
           double     *factor)
{
  for (gsize i = 0; i < n_units; i++)
    if (g_ascii_strcasecmp (units[i].word, word) == 0)
      {
        *factor = units[i].factor;
        return TRUE;
      }

  return FALSE;
}

static gboolean
is_inch (const char *word)
{
  for (guint i = 0; i < G_N_ELEMENTS (inch_words); i++)
    if (g_ascii_strcasecmp (inch_words[i], word) == 0)
      return TRUE;

  return FALSE;
}

/* A number and the word behind it, both trimmed; the word without a full stop. */
static gboolean
split (const char  *text,
       const char  *wanted,
       double      *number,
       char       **word,
       GError     **error)
{
  g_autofree char *plain = NULL;
  const char *at;
  double value;

  if (!g_utf8_validate (text, -1, NULL))
    return fail (error, text, wanted);

  plain = normalise (text);
  at = plain;
  if (reads_two_ways (plain))
    return fail_two_ways (error, plain);
  if (!read_number (&at, &value))
    return fail (error, plain, wanted);
  if (!finish_number (plain, value, error))
    return FALSE;

  *number = value;
  *word = g_strdup (skip_spaces (at));
  if (g_str_has_suffix (*word, ".") && strlen (*word) > 1)
    (*word)[strlen (*word) - 1] = '\0';
  return TRUE;
}

/**
 * bw_units_split:
 * @text: what was typed: `16 sts`, `11½ rounds`
 * @number: (out): the number; untouched on failure
 * @word: (out) (transfer full): what stands behind it, without spaces at its
 *   ends and without a full stop; "" when nothing does. Untouched on failure
 * @error: return location for an error
 *
 * Reads a number in every way the other functions here read one, and leaves
 * what it counts to the caller.
 *
 * Returns: FALSE with @error set when @text does not begin with a number
 */
gboolean
bw_units_split (const char  *text,
                double      *number,
                char       **word,
                GError     **error)
{
  g_return_val_if_fail (text != NULL, FALSE);

  return split (text, "a number first, such as 16 sts", number, word, error);
}

/**
 * bw_units_parse_length:
 * @text: what was typed: `22 in`, `56cm`, `8 1/2"`, `55,5`
 * @bare: unit of a number that stands alone
 * @mm_per_inch: what an inch is here, BW_MM_PER_INCH or BW_MM_PER_INCH_ROUND
 * @mm: (out): the length, mm; untouched on failure
 * @error: return location for an error
 *
 * Returns: FALSE with @error set when @text is not a length
 */
gboolean
bw_units_parse_length (const char  *text,
                       BwUnits      bare,
                       double       mm_per_inch,
                       double      *mm,
                       GError     **error)
{
  static const char wanted[] = "a length such as 56 cm, 22 in or 8 1/2\"";
  g_autofree char *word = NULL;
  double number, factor;

  g_return_val_if_fail (text != NULL, FALSE);
  g_return_val_if_fail (mm_per_inch > 0, FALSE);

  if (!split (text, wanted, &number, &word, error))
    return FALSE;

  if (word[0] == '\0')
    factor = bare == BW_UNITS_CM ? 10 : mm_per_inch;
  else if (is_inch (word))
    factor = mm_per_inch;
  else if (!find_unit (length_units, G_N_ELEMENTS (length_units), word, &factor))
    return fail (error, text, wanted);

  *mm = number * factor;
  return TRUE;
}

static gboolean
parse_unit (const char  *text,
            const Unit  *units,
            gsize        n_units,
            const char  *wanted,
            double      *value,
            GError     **error)
{
  g_autofree char *word = NULL;
  double number, factor;

  g_return_val_if_fail (text != NULL, FALSE);

  if (!split (text, wanted, &number, &word, error))
    return FALSE;
  if (!find_unit (units, n_units, word, &factor))
    return fail (error, text, wanted);

  *value = number * factor;
  return TRUE;
}

/**
 * bw_units_parse_mass:
 * @text: what was typed: `50 g`, `1 3/4 oz`; a bare number is grams
 * @grams: (out): the mass, g; untouched on failure
 * @error: return location for an error
 *
 * Returns: FALSE with @error set when @text is not a mass
 */
gboolean
bw_units_parse_mass (const char  *text,
                     double      *grams,
                     GError     **error)
{
  return parse_unit (text, mass_units, G_N_ELEMENTS (mass_units),
                     "a weight such as 50 g or 1.75 oz", grams, error);
}

/**
 * bw_units_parse_yarn:
 * @text: what was typed: `125 m`, `137 yd`; a bare number is metres
 * @metres: (out): length of yarn, m; untouched on failure
 * @error: return location for an error
 *
 * Returns: FALSE with @error set when @text is not a length of yarn
 */
gboolean
bw_units_parse_yarn (const char  *text,
                     double      *metres,
                     GError     **error)
{
  return parse_unit (text, yarn_units, G_N_ELEMENTS (yarn_units),
                     "a length of yarn such as 125 m or 137 yd", metres, error);
}

/**
 * bw_units_parse_number:
 * @text: what was typed: `15`, `11.5`, `11,5`, `2 1/2`
 * @value: (out): the number; untouched on failure
 * @error: return location for an error
 *
 * Returns: FALSE with @error set when @text is not a number
 */
gboolean
bw_units_parse_number (const char  *text,
                       double      *value,
                       GError     **error)
{
  static const Unit none[] = { { "", 1 } };

  return parse_unit (text, none, 1, "a number such as 11.5", value, error);
}

/**
 * bw_units_parse_fraction:
 * @text: what was typed: `-7 %`, `-0.07`; a bare number is the fraction itself
 * @fraction: (out): the fraction, -0.07; untouched on failure
 * @error: return location for an error
 *
 * Returns: FALSE with @error set when @text is not a fraction or percentage
 */
gboolean
bw_units_parse_fraction (const char  *text,
                         double      *fraction,
                         GError     **error)
{
  static const char wanted[] = "a percentage such as -7 %";
  g_autofree char *word = NULL;
  double number;

  g_return_val_if_fail (text != NULL, FALSE);

  if (!split (text, wanted, &number, &word, error))
    return FALSE;
  if (word[0] != '\0' && !g_str_equal (word, "%"))
    return fail (error, text, wanted);

  /* a division rounds once: "7 %" is exactly what 0.07 is */
  *fraction = word[0] == '%' ? number / 100 : number;
  return TRUE;
}

/**
 * bw_units_format_number:
 * @value: a number
 * @decimals: decimals at most, up to 9
 *
 * Returns: (transfer full): the number with a dot, without trailing zeros and
 *   never as "-0"; "nan", "inf" or "-inf" for what is no number
 */
char *
bw_units_format_number (double value,
                        guint  decimals)
{
  char format[8];
  char buffer[NUMBER_TEXT_SIZE];

  if (isnan (value))
    return g_strdup ("nan");

  g_snprintf (format, sizeof format, "%%.%uf", MIN (decimals, 9));
  g_ascii_formatd (buffer, sizeof buffer, format, value);
  if (strchr (buffer, '.') != NULL)
    {
      gsize n = strlen (buffer);

      while (buffer[n - 1] == '0')
        n--;
      if (buffer[n - 1] == '.')
        n--;
      buffer[n] = '\0';
    }

  return g_strdup (g_str_equal (buffer, "-0") ? "0" : buffer);
}

/* Inches to the eighth, as a ruler shows them: "8 1/2 in". */
static char *
format_inches (double inches)
{
  long eighths = lround (fabs (inches) * 8);
  long whole = eighths / 8;
  long over = eighths % 8;
  long under = 8;
  const char *sign = inches < 0 && eighths > 0 ? "-" : "";

  while (over > 0 && over % 2 == 0)
    {
      over /= 2;
      under /= 2;
    }

  if (over == 0)
    return g_strdup_printf ("%s%ld in", sign, whole);
  if (whole == 0)
    return g_strdup_printf ("%s%ld/%ld in", sign, over, under);
  return g_strdup_printf ("%s%ld %ld/%ld in", sign, whole, over, under);
}

/**
 * bw_units_format_length:
 * @mm: a length, mm
 * @units: unit to show it in
 * @mm_per_inch: what an inch is here
 *
 * Returns: (transfer full): the length as people read it off a tape:
 *   `47.4 cm`, `18 3/4 in`
 */
char *
bw_units_format_length (double  mm,
                        BwUnits units,
                        double  mm_per_inch)
{
  gboolean inch = units == BW_UNITS_INCH;
  double value = mm / (inch ? mm_per_inch : 10);
  g_autofree char *number = NULL;

  g_return_val_if_fail (mm_per_inch > 0, NULL);

  if (inch && fabs (value) < EIGHTHS_MAX_INCHES)
    return format_inches (value);

  number = bw_units_format_number (value, 1);
  return g_strdup_printf ("%s %s", number, inch ? "in" : "cm");
}
