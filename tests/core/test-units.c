#include <glib.h>
#include <locale.h>
#include <math.h>
#include <string.h>

#include "bw-error.h"
#include "bw-units.h"

#define NBSP "\xc2\xa0"
#define THIN "\xe2\x80\x89"
#define MINUS "\xe2\x88\x92"
#define HALF "\xc2\xbd"
#define THREE_QUARTERS "\xc2\xbe"
#define THIRD "\xe2\x85\x93"
#define SEVEN_EIGHTHS "\xe2\x85\x9e"
#define DOUBLE_PRIME "\xe2\x80\xb3"
#define QUOTE "\xe2\x80\x9d"
#define STROKE "\xe2\x81\x84"

static void
assert_close (double value,
              double expected)
{
  g_assert_cmpfloat_with_epsilon (value, expected, 1e-12 * MAX (1, fabs (expected)));
}

/* Every fraction that has a sign of its own is what C makes of it. */
static void
test_fraction_signs (void)
{
  static const struct
  {
    const char *sign;
    double      value;
  } cases[] = {
    { "\u00bc", 1.0 / 4 }, { "\u00bd", 1.0 / 2 }, { "\u00be", 3.0 / 4 }, { "\u2153", 1.0 / 3 },
    { "\u2154", 2.0 / 3 }, { "\u215b", 1.0 / 8 }, { "\u215c", 3.0 / 8 }, { "\u215d", 5.0 / 8 },
    { "\u215e", 7.0 / 8 },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *joined = g_strconcat ("-12", cases[i].sign, NULL);
      double value;

      g_assert_true (bw_units_parse_number (cases[i].sign, &value, NULL));
      g_assert_cmpfloat (value, ==, cases[i].value);
      g_assert_true (bw_units_parse_number (joined, &value, NULL));
      g_assert_cmpfloat (value, ==, -(12 + cases[i].value));
    }
}

static const struct
{
  const char *text;
  double      mm;
} lengths[] = {
  { "56", 560 },
  { "56 cm", 560 },
  { "56cm", 560 },
  { "  56  cm  ", 560 },
  { "56" NBSP "cm", 560 },
  { NBSP "56" THIN "cm" NBSP, 560 },
  { "\t56\ncm", 560 },
  { "56 CM", 560 },
  { "56 cm.", 560 },
  { "55,5 cm", 555 },
  { "55.5 cm", 555 },
  { "55,5", 555 },
  { ",5 cm", 5 },
  { ".5 cm", 5 },
  { "0,125 m", 125 },
  { "560 mm", 560 },
  { "0.56 m", 560 },
  { "22 in", 558.8 },
  { "22in", 558.8 },
  { "22 in.", 558.8 },
  { "22 Inches", 558.8 },
  { "1 inch", 25.4 },
  { "22\"", 558.8 },
  { "22''", 558.8 },
  { "22" QUOTE, 558.8 },
  { "22" DOUBLE_PRIME, 558.8 },
  { "22 " QUOTE, 558.8 },
  { "8 1/2\"", 215.9 },
  { "8-1/2\"", 215.9 },
  { "8 1" STROKE "2\"", 215.9 },
  { "8" HALF, 85 },
  { "8" HALF "\"", 215.9 },
  { "8 " HALF " in", 215.9 },
  { "8" NBSP "1/2 in", 215.9 },
  { HALF " in", 12.7 },
  { "1/2 in", 12.7 },
  { "3/2 in", 38.1 },
  { "7" THREE_QUARTERS " in", 196.85 },
  { "7" SEVEN_EIGHTHS " in", 200.025 },
  { THIRD " m", 1000.0 / 3 },
  { "-7 cm", -70 },
  { "- 7 cm", -70 },
  { MINUS "7 cm", -70 },
  { "+7 cm", 70 },
  { "-8 1/2\"", -215.9 },
  { "-" HALF "\"", -12.7 },
  { "0", 0 },
  { "-0 cm", 0 },
  { "007 mm", 7 },
};

static void
test_lengths (void)
{
  for (gsize i = 0; i < G_N_ELEMENTS (lengths); i++)
    {
      g_autoptr (GError) error = NULL;
      double mm = NAN;

      g_assert_true (bw_units_parse_length (lengths[i].text, BW_UNITS_CM, BW_MM_PER_INCH, &mm,
                                            &error));
      g_assert_no_error (error);
      assert_close (mm, lengths[i].mm);
    }
}

/* A bare number takes the unit asked for, and an inch is what the caller says. */
static void
test_lengths_in_inches (void)
{
  double mm;

  g_assert_true (bw_units_parse_length ("4", BW_UNITS_INCH, BW_MM_PER_INCH, &mm, NULL));
  assert_close (mm, 101.6);
  g_assert_true (bw_units_parse_length ("4", BW_UNITS_INCH, BW_MM_PER_INCH_ROUND, &mm, NULL));
  assert_close (mm, 100);
  g_assert_true (bw_units_parse_length ("4 in", BW_UNITS_CM, BW_MM_PER_INCH_ROUND, &mm, NULL));
  assert_close (mm, 100);
  g_assert_true (bw_units_parse_length ("4 cm", BW_UNITS_INCH, BW_MM_PER_INCH_ROUND, &mm, NULL));
  assert_close (mm, 40);
}

/* What no number in front of anything can be read from, whatever is wanted. */
static const char *const hopeless[] = {
  "", " ", NBSP, "-", "+", "--7", "+-7", "cm", "in", "\"", "x", "nan", "NaN", "inf", "-inf",
  "infinity",
  "e5", "/2", "1/", "1/0", "1/0 cm", "1/-2", "..5", ".", ",", "1.2.3", "1,2,3", "1.2,3", "8.5 1/2",
  "8 3/2", "8 2/2", "8 1/2 1/2", "1.5/2", "1/2.5", "1/2/3", "8" HALF HALF, "1 2", "1, 2", "20-22",
  "20" MINUS "22",
  "20 - 22", "0x10", "1e3", "1e999", "1 000", "1'000", "\xff", "56 \xc3", "56\xe2\x80", "abc 56",
  "\357\273\27756",
};

static void
test_hopeless (void)
{
  for (gsize i = 0; i < G_N_ELEMENTS (hopeless); i++)
    {
      g_autoptr (GError) length = NULL;
      g_autoptr (GError) mass = NULL;
      g_autoptr (GError) yarn = NULL;
      g_autoptr (GError) number = NULL;
      g_autoptr (GError) fraction = NULL;
      double value = 17;

      g_assert_false (bw_units_parse_length (hopeless[i], BW_UNITS_CM, 25.4, &value, &length));
      g_assert_error (length, BW_ERROR, BW_ERROR_SYNTAX);
      g_assert_false (bw_units_parse_mass (hopeless[i], &value, &mass));
      g_assert_error (mass, BW_ERROR, BW_ERROR_SYNTAX);
      g_assert_false (bw_units_parse_yarn (hopeless[i], &value, &yarn));
      g_assert_error (yarn, BW_ERROR, BW_ERROR_SYNTAX);
      g_assert_false (bw_units_parse_number (hopeless[i], &value, &number));
      g_assert_error (number, BW_ERROR, BW_ERROR_SYNTAX);
      g_assert_false (bw_units_parse_fraction (hopeless[i], &value, &fraction));
      g_assert_error (fraction, BW_ERROR, BW_ERROR_SYNTAX);
      g_assert_cmpfloat (value, ==, 17);

      /* every failure says what to write, in text that can be shown */
      g_assert_nonnull (strstr (length->message, "56 cm"));
      g_assert_nonnull (strstr (mass->message, "50 g"));
      g_assert_nonnull (strstr (yarn->message, "125 m"));
      g_assert_nonnull (strstr (number->message, "11.5"));
      g_assert_nonnull (strstr (fraction->message, "-7 %"));
      g_assert_true (g_utf8_validate (length->message, -1, NULL));
    }
}

static void
test_unknown_units (void)
{
  static const char *const words[] = { "ft", "'", "kg", "%", "yd", "sts", "cm cm", "cm 5",
                                       "5 cm 3" };
  g_autoptr (GError) error = NULL;
  double value = 17;

  for (gsize i = 0; i < G_N_ELEMENTS (words); i++)
    {
      g_autofree char *text = g_strconcat ("56 ", words[i], NULL);

      g_assert_false (bw_units_parse_length (text, BW_UNITS_CM, 25.4, &value, &error));
      g_assert_error (error, BW_ERROR, BW_ERROR_SYNTAX);
      g_clear_error (&error);
    }

  g_assert_false (bw_units_parse_mass ("50 m", &value, &error));
  g_assert_error (error, BW_ERROR, BW_ERROR_SYNTAX);
  g_clear_error (&error);
  g_assert_false (bw_units_parse_yarn ("50 g", &value, &error));
  g_assert_error (error, BW_ERROR, BW_ERROR_SYNTAX);
  g_clear_error (&error);
  g_assert_false (bw_units_parse_number ("50 m", &value, &error));
  g_assert_error (error, BW_ERROR, BW_ERROR_SYNTAX);
  g_clear_error (&error);
  g_assert_false (bw_units_parse_fraction ("7 cm", &value, &error));
  g_assert_error (error, BW_ERROR, BW_ERROR_SYNTAX);
  g_assert_cmpfloat (value, ==, 17);
}

/* A comma before three digits: thousands to some, a fraction to others. */
static void
test_two_ways (void)
{
  static const char *const texts[] = { "1,200 yd", "12,345 m", "-1,200", "1,234,567 m", "999,999" };
  double metres = 17;

  for (gsize i = 0; i < G_N_ELEMENTS (texts); i++)
    {
      g_autoptr (GError) error = NULL;

      g_assert_false (bw_units_parse_yarn (texts[i], &metres, &error));
      g_assert_error (error, BW_ERROR, BW_ERROR_SYNTAX);
      g_assert_nonnull (strstr (error->message, "two ways"));
    }

  g_assert_cmpfloat (metres, ==, 17);
  g_assert_true (bw_units_parse_yarn ("0,125 m", &metres, NULL));
  assert_close (metres, 0.125);
  g_assert_true (bw_units_parse_yarn ("1,25 m", &metres, NULL));
  assert_close (metres, 1.25);
  g_assert_true (bw_units_parse_yarn ("1.200 m", &metres, NULL));
  assert_close (metres, 1.2);
  g_assert_true (bw_units_parse_yarn ("1234,567 m", &metres, NULL));
  assert_close (metres, 1234.567);
}

static void
test_huge (void)
{
  g_autofree char *nines = g_strnfill (400, '9');
  g_autofree char *zeros = g_strnfill (400, '0');
  g_autofree char *small = g_strconcat ("0.", zeros, "1 cm", NULL);
  g_autofree char *below = g_strconcat ("1/", nines, NULL);
  const char *const texts[] = { "1000000001", "-1000000001", "99999999999999999999999999999 mm",
                                nines };
  g_autoptr (GError) error = NULL;
  double mm = 17;

  for (gsize i = 0; i < G_N_ELEMENTS (texts); i++)
    {
      g_assert_false (bw_units_parse_length (texts[i], BW_UNITS_CM, 25.4, &mm, &error));
      g_assert_error (error, BW_ERROR, BW_ERROR_RANGE);
      g_assert_cmpuint (strlen (error->message), <, 120);
      g_clear_error (&error);
    }

  g_assert_cmpfloat (mm, ==, 17);
  g_assert_true (bw_units_parse_length ("1000000000 mm", BW_UNITS_CM, 25.4, &mm, &error));
  g_assert_cmpfloat (mm, ==, 1e9);
  g_assert_true (bw_units_parse_length (small, BW_UNITS_CM, 25.4, &mm, &error));
  g_assert_cmpfloat (mm, ==, 0);
  g_assert_true (bw_units_parse_length (below, BW_UNITS_CM, 25.4, &mm, &error));
  g_assert_cmpfloat (mm, ==, 0);
}

/* Messages hold whole characters only, however long the text. */
static void
test_excerpts (void)
{
  for (guint n = 1; n < 200; n++)
    {
      g_autoptr (GString) text = g_string_new (NULL);
      g_autoptr (GError) error = NULL;
      double mm;

      for (guint i = 0; i < n; i++)
        g_string_append (text, i % 2 ? "\xc3\xa9" : "\xf0\x9f\xa7\xb6");
      g_assert_false (bw_units_parse_length (text->str, BW_UNITS_CM, 25.4, &mm, &error));
      g_assert_true (g_utf8_validate (error->message, -1, NULL));
      g_assert_cmpint (g_utf8_strlen (error->message, -1), <, 140);
      if (n <= 60)
        g_assert_nonnull (strstr (error->message, text->str));
    }
}

static void
test_masses (void)
{
  const struct
  {
    const char *text;
    double      grams;
  } cases[] = {
    { "50", 50 }, { "50 g", 50 }, { "50 g.", 50 }, { "50g", 50 }, { "50 gr", 50 },
    { "50 grams", 50 }, { "1 gram", 1 },
    { "0.1 kg", 100 },
    { "1 oz", 28.349523125 }, { "1 3/4 oz", 1.75 * 28.349523125 },
    { "3" HALF " oz", 3.5 * 28.349523125 },
    { "2 ounces", 56.69904625 }, { "1 ounce", 28.349523125 }, { "0,5 kg", 500 },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (GError) error = NULL;
      double grams = NAN;

      g_assert_true (bw_units_parse_mass (cases[i].text, &grams, &error));
      g_assert_no_error (error);
      assert_close (grams, cases[i].grams);
    }
}

static void
test_yarns (void)
{
  const struct
  {
    const char *text;
    double      metres;
  } cases[] = {
    { "125", 125 }, { "125 m", 125 }, { "125 metres", 125 }, { "125 meters", 125 },
    { "1 metre", 1 }, { "1 meter", 1 },
    { "137 yd", 125.2728 }, { "137 yds", 125.2728 }, { "137 yards", 125.2728 },
    { "1 yard", 0.9144 },
    { "87" HALF " yd", 80.01 },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (GError) error = NULL;
      double metres = NAN;

      g_assert_true (bw_units_parse_yarn (cases[i].text, &metres, &error));
      g_assert_no_error (error);
      assert_close (metres, cases[i].metres);
    }
}

static void
test_fractions (void)
{
  const struct
  {
    const char *text;
    double      fraction;
  } cases[] = {
    { "-7 %", -0.07 }, { "-7%", -0.07 }, { MINUS "7" NBSP "%", -0.07 }, { "-0.07", -0.07 },
    { "-0,07", -0.07 }, { "0", 0 }, { "12.5 %", 0.125 }, { "12" HALF " %", 0.125 }, { "100 %", 1 },
    { "1", 1 }, { "0.5 %", 0.005 }, { "1/2", 0.5 },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (GError) error = NULL;
      double fraction = NAN;

      g_assert_true (bw_units_parse_fraction (cases[i].text, &fraction, &error));
      g_assert_no_error (error);
      /* the very number that C reads, not one near it */
      g_assert_cmpfloat (fraction, ==, cases[i].fraction);
    }
}

static void
test_split (void)
{
  const struct
  {
    const char *text;
    double      number;
    const char *word;
  } cases[] = {
    { "16 sts", 16, "sts" }, { "16sts", 16, "sts" }, { "11" HALF " rnds.", 11.5, "rnds" },
    { " 8 1/2  rows of dc ", 8.5, "rows of dc" }, { "7", 7, "" }, { "7.", 7, "." },
    { "7 -", 7, "-" },
  };
  g_autoptr (GError) error = NULL;
  g_autofree char *kept = g_strdup ("kept");
  char *word = kept;
  double number = 17;

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *own = NULL;

      g_assert_true (bw_units_split (cases[i].text, &number, &own, &error));
      assert_close (number, cases[i].number);
      g_assert_cmpstr (own, ==, cases[i].word);
    }

  number = 17;
  g_assert_false (bw_units_split ("sts 16", &number, &word, &error));
  g_assert_error (error, BW_ERROR, BW_ERROR_SYNTAX);
  g_assert_cmpfloat (number, ==, 17);
  g_assert_true (word == kept);
}

static void
test_format_number (void)
{
  const struct
  {
    double      value;
    guint       decimals;
    const char *text;
  } cases[] = {
    { 0, 2, "0" }, { -0.0, 2, "0" }, { -0.004, 2, "0" }, { -0.006, 2, "-0.01" }, { 12, 0, "12" },
    { 12, 9, "12" }, { 12.5, 1, "12.5" }, { 12.25, 1, "12.2" }, { 12.26, 1, "12.3" },
    { 100, 0, "100" },
    { 1000, 3, "1000" }, { 0.1, 9, "0.1" }, { 1.0 / 3, 9, "0.333333333" },
    { 1.0 / 3, 99, "0.333333333" },
    { 99.96, 1, "100" }, { -3.5, 3, "-3.5" }, { NAN, 2, "nan" }, { -NAN, 2, "nan" },
    { INFINITY, 2, "inf" }, { -INFINITY, 2, "-inf" },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *text = bw_units_format_number (cases[i].value, cases[i].decimals);

      g_assert_cmpstr (text, ==, cases[i].text);
    }
}

/* The longest number that there is comes out whole. */
static void
test_format_longest (void)
{
  g_autofree char *text = bw_units_format_number (-G_MAXDOUBLE, 9);

  g_assert_cmpuint (strlen (text), ==, 310);
  g_assert_cmpfloat (g_ascii_strtod (text, NULL), ==, -G_MAXDOUBLE);
}

static void
test_format_length (void)
{
  const struct
  {
    double      mm;
    BwUnits     units;
    double      mm_per_inch;
    const char *text;
  } cases[] = {
    { 474, BW_UNITS_CM, 25.4, "47.4 cm" }, { 560, BW_UNITS_CM, 25.4, "56 cm" },
    { 0, BW_UNITS_CM, 25.4, "0 cm" }, { -0.1, BW_UNITS_CM, 25.4, "0 cm" },
    { -12.7, BW_UNITS_CM, 25.4, "-1.3 cm" }, { 558.8, BW_UNITS_INCH, 25.4, "22 in" },
    { 215.9, BW_UNITS_INCH, 25.4, "8 1/2 in" }, { 476.25, BW_UNITS_INCH, 25.4, "18 3/4 in" },
    { 200.025, BW_UNITS_INCH, 25.4, "7 7/8 in" }, { 12.7, BW_UNITS_INCH, 25.4, "1/2 in" },
    { 0, BW_UNITS_INCH, 25.4, "0 in" }, { -1, BW_UNITS_INCH, 25.4, "0 in" },
    { -12.7, BW_UNITS_INCH, 25.4, "-1/2 in" }, { -215.9, BW_UNITS_INCH, 25.4, "-8 1/2 in" },
    { 100, BW_UNITS_INCH, 25, "4 in" }, { 215.8, BW_UNITS_INCH, 25.4, "8 1/2 in" },
    { 25.4 * 7.99, BW_UNITS_INCH, 25.4, "8 in" },
    { 25.4e12, BW_UNITS_INCH, 25.4, "1000000000000 in" },
    { NAN, BW_UNITS_INCH, 25.4, "nan in" }, { INFINITY, BW_UNITS_INCH, 25.4, "inf in" },
    { NAN, BW_UNITS_CM, 25.4, "nan cm" },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *text = bw_units_format_length (cases[i].mm, cases[i].units,
                                                      cases[i].mm_per_inch);

      g_assert_cmpstr (text, ==, cases[i].text);
    }
}

/* What is printed reads back as what it was, to the last digit printed. */
static void
test_round_trips (void)
{
  for (guint i = 0; i < 20000; i++)
    {
      double mm = g_test_rand_double_range (-2000, 2000);
      double inch = g_test_rand_bit () ? BW_MM_PER_INCH : BW_MM_PER_INCH_ROUND;
      guint decimals = (guint) g_test_rand_int_range (0, 10);
      g_autofree char *cm_text = bw_units_format_length (mm, BW_UNITS_CM, inch);
      g_autofree char *inch_text = bw_units_format_length (mm, BW_UNITS_INCH, inch);
      g_autofree char *number_text = bw_units_format_number (mm, decimals);
      g_autofree char *again_text = NULL;
      double cm, inches, number;

      g_assert_true (bw_units_parse_length (cm_text, BW_UNITS_INCH, inch, &cm, NULL));
      g_assert_cmpfloat (fabs (cm - mm), <=, 0.5 + 1e-9);
      g_assert_true (bw_units_parse_length (inch_text, BW_UNITS_CM, inch, &inches, NULL));
      g_assert_cmpfloat (fabs (inches - mm), <=, inch / 16 + 1e-9);
      g_assert_true (bw_units_parse_number (number_text, &number, NULL));
      g_assert_cmpfloat (fabs (number - mm), <=, 0.5 * pow (10, -(double) decimals) + 1e-9);

      /* and printing that again changes nothing */
      again_text = bw_units_format_length (inches, BW_UNITS_INCH, inch);
      g_assert_cmpstr (again_text, ==, inch_text);
    }
}

/* Any bytes at all: an answer or an error, never both, never a crash. */
static void
test_random_bytes (void)
{
  static const char alphabet[] = "0123456789 .,/-+%\"'incmgyd\xc2\xbd\xe2\x80\x9d\xa0\xff";

  for (guint i = 0; i < 50000; i++)
    {
      char text[16];
      gsize length = (gsize) g_test_rand_int_range (0, sizeof text);
      g_autoptr (GError) error = NULL;
      double mm = 17;

      for (gsize k = 0; k < length; k++)
        text[k] = alphabet[g_test_rand_int_range (0, sizeof alphabet - 1)];
      text[length] = '\0';

      if (bw_units_parse_length (text, BW_UNITS_CM, 25.4, &mm, &error))
        {
          g_assert_no_error (error);
          g_assert_true (isfinite (mm));
        }
      else
        {
          g_assert_nonnull (error);
          g_assert_true (error->domain == BW_ERROR);
          g_assert_true (g_utf8_validate (error->message, -1, NULL));
          g_assert_cmpfloat (mm, ==, 17);
        }
    }
}

/* A dot is a dot under every locale. */
static void
test_locale (void)
{
  g_autofree char *text = NULL;
  double mm;

  if (setlocale (LC_ALL, "de_DE.UTF-8") == NULL)
    {
      g_test_skip ("no German locale here");
      return;
    }

  text = bw_units_format_length (474, BW_UNITS_CM, 25.4);
  g_assert_true (bw_units_parse_length ("47.4 cm", BW_UNITS_CM, 25.4, &mm, NULL));
  setlocale (LC_ALL, "C");
  g_assert_cmpstr (text, ==, "47.4 cm");
  assert_close (mm, 474);
}

int
main (int   argc,
      char *argv[])
{
  g_test_init (&argc, &argv, NULL);

  g_test_add_func ("/units/length/read", test_lengths);
  g_test_add_func ("/units/length/inches", test_lengths_in_inches);
  g_test_add_func ("/units/hopeless", test_hopeless);
  g_test_add_func ("/units/unknown", test_unknown_units);
  g_test_add_func ("/units/two-ways", test_two_ways);
  g_test_add_func ("/units/huge", test_huge);
  g_test_add_func ("/units/excerpts", test_excerpts);
  g_test_add_func ("/units/mass", test_masses);
  g_test_add_func ("/units/yarn", test_yarns);
  g_test_add_func ("/units/fraction", test_fractions);
  g_test_add_func ("/units/fraction-signs", test_fraction_signs);
  g_test_add_func ("/units/split", test_split);
  g_test_add_func ("/units/format/number", test_format_number);
  g_test_add_func ("/units/format/longest", test_format_longest);
  g_test_add_func ("/units/format/length", test_format_length);
  g_test_add_func ("/units/round-trips", test_round_trips);
  g_test_add_func ("/units/random-bytes", test_random_bytes);
  g_test_add_func ("/units/locale", test_locale);

  return g_test_run ();
}
