#include <glib.h>
#include <math.h>
#include <string.h>

#include "bw-error.h"
#include "bw-gauge.h"

/* A gauge in words: what patterns print is read, what is printed reads back. */

typedef struct
{
  const char *text;
  double      stitches; /* 0 = none stated */
  double      rounds;
  double      span_mm;
} Stated;

static const Stated stated_cases[] = {
  { "16 sts and 18 rounds to 10 cm", 16, 18, 100 },
  { "15 sts x 11.5 rnds = 4 in", 15, 11.5, 100 },
  { "27 rows = 10 cm", 0, 27, 100 },
  { "16 sts = 10 cm", 16, 0, 100 },
  { "16 sts, 18 rounds = 10 cm", 16, 18, 100 },
  { "16 sts, and 18 rounds = 10 cm", 16, 18, 100 },
  { "16 sts × 18 rows over 10 cm", 16, 18, 100 },
  { "18 rounds and 16 sts to 10 cm", 16, 18, 100 },
  { "16 sts by 18 rnds per 4 inches", 16, 18, 100 },
  { "16 sts & 18 rnds on 4\"", 16, 18, 100 },
  { "16STS AND 18ROUNDS TO 10CM", 16, 18, 100 },
  { "16½ sts and 11 1/2 rounds to 10 cm", 16.5, 11.5, 100 },
  { "15,5 sts and 11,5 rounds to 10 cm", 15.5, 11.5, 100 },
  { "16 stitches in 10 cm", 16, 0, 100 },
  { "16 sts/10 cm", 16, 0, 100 },
  { "  16\302\240sts  and 18 rounds\302\240to 10\302\240cm ", 16, 18, 100 },
  { "16 sts and 18 rounds = 10 cm (± 0.4)", 16, 18, 100 },
  { "16 sts and 18 rounds to 10 x 10 cm", 16, 18, 100 },
  { "16 sts and 18 rounds to 4 in x 4 in", 16, 18, 100 },
  { "16 sts and 18 rounds to 10 cm square", 16, 18, 100 },
  { "16 sts and 18 rounds to 4 in (10 cm)", 16, 18, 100 },
  { "16 sts and 18 rounds = 10 cm / 4 in", 16, 18, 100 },
  { "8 sts = 2 1/2 in", 8, 0, 62.5 },
  { "5 sts = 1 in", 5, 0, 25 },
  { "16 sts / 18 rnds = 10 cm", 16, 18, 100 },
  { "16 1/2 sts/18½ rnds./10 cm", 16.5, 18.5, 100 },
  { "16 sts = 4 in = 10 cm", 16, 0, 100 },
  { "6 sts = 1 in (2.54 cm)", 6, 0, 25 },
};

static void
test_stated (gconstpointer data)
{
  const Stated *it = data;
  g_autoptr (GError) error = NULL;
  BwReading across, up;

  g_assert_true (bw_gauge_parse_stated (it->text, &across, &up, &error));
  g_assert_no_error (error);
  g_assert_cmpfloat (across.count, ==, it->stitches);
  g_assert_cmpfloat (up.count, ==, it->rounds);
  if (it->stitches > 0)
    g_assert_cmpfloat (across.span_mm, ==, it->span_mm);
  if (it->rounds > 0)
    g_assert_cmpfloat (up.span_mm, ==, it->span_mm);
  if (it->rounds > 0)
    g_assert_cmpint (up.direction, ==, BW_READING_ROUNDS);
  g_assert_false (across.washed || up.washed);
  g_assert_cmpint (across.laid, ==, BW_LAID_RELAXED);
}

static const struct
{
  const char *text;
  const char *says;
} bad_stated[] = {
  { "", "over which length" },
  { "16", "over which length" },
  { "16 sts", "over which length" },
  { "16 sts and 18 rounds", "over which length" },
  { "16 sts = ", "over which length" },
  { "16 sts = 0 cm", "over which length" },
  { "16 sts = -10 cm", "over which length" },
  { "16 sts = ten cm", "over which length" },
  { "16 sts = 10 kg", "over which length" },
  { "16 sts to 10 x 12 cm", "over which length" },
  { "16 sts to 10 cm (6 in)", "over which length" },
  { "16 sts to 10 cm / 3 in", "no counts" },
  { "16 sts to 10 cm (or so)", "over which length" },
  { "= 10 cm", "no counts" },
  { "16 = 10 cm", "no counts" },
  { "sts = 10 cm", "no counts" },
  { "0 sts = 10 cm", "no counts" },
  { "-16 sts = 10 cm", "no counts" },
  { "nan sts = 10 cm", "no counts" },
  { "16 sts and 18 sts = 10 cm", "no counts" },
  { "16 sts and 18 cats = 10 cm", "no counts" },
  { "16 sts and = 10 cm", "no counts" },
  { "\377 sts = 10 cm", "over which length" },
};

static void
test_bad_stated (void)
{
  for (guint i = 0; i < G_N_ELEMENTS (bad_stated); i++)
    {
      g_autoptr (GError) error = NULL;
      BwReading across = { BW_READING_STITCHES, 1, 1, TRUE, BW_LAID_RELAXED };
      BwReading up = across;

      g_assert_false (bw_gauge_parse_stated (bad_stated[i].text, &across, &up, &error));
      g_assert_error (error, BW_ERROR, BW_ERROR_SYNTAX);
      if (strstr (error->message, bad_stated[i].says) == NULL)
        g_error ("%s: %s", bad_stated[i].text, error->message);
      g_assert_nonnull (strstr (error->message, "16 sts and 18 rounds to 10 cm"));
      g_assert_true (g_utf8_validate (error->message, -1, NULL));
      g_assert_cmpfloat (across.count, ==, 0);
      g_assert_cmpfloat (up.count, ==, 0);
    }
}

/* Any scraps of a gauge: an answer or an error. */
static void
test_stated_garbage (void)
{
  static const char *const scraps[] = { "16", "½", "1/2", " ", "sts", "rounds", " and ", " x ", "×",
                                        "=", " to ", "/", "10", "cm", "in", "(", ")", "±", ",",
                                        "\303",
                                        "square" };

  for (guint i = 0; i < 20000; i++)
    {
      g_autoptr (GString) text = g_string_new (NULL);
      g_autoptr (GError) error = NULL;
      BwReading across, up;

      for (gint n = g_test_rand_int_range (0, 12); n > 0; n--)
        g_string_append (text, scraps[g_test_rand_int_range (0, G_N_ELEMENTS (scraps))]);
      if (bw_gauge_parse_stated (text->str, &across, &up, &error))
        g_assert_true (across.count > 0 || up.count > 0);
      else
        g_assert_true (g_utf8_validate (error->message, -1, NULL));
    }
}

static void
assert_format (const BwGauge *gauge,
               double         span_mm,
               BwUnits        units,
               const char    *wanted)
{
  g_autofree char *text = bw_gauge_format (gauge, span_mm, units, BW_MM_PER_INCH);

  g_assert_cmpstr (text, ==, wanted);
}

static void
test_format (void)
{
  BwGauge gauge = { 0 };

  assert_format (&gauge, 100, BW_UNITS_CM, "");
  gauge.stitch.mm = 6.25;
  gauge.stitch.U95 = 0.15625; /* 16 * 2.5 % = 0.4 */
  gauge.round.mm = 100 / 18.0;
  gauge.round.U95 = 0.2;
  assert_format (&gauge, 100, BW_UNITS_CM, "16 sts and 18 rounds = 10 cm (± 0.4)");
  assert_format (&gauge, 101.6, BW_UNITS_INCH, "16.3 sts and 18.3 rounds = 4 in (± 0.4)");
  gauge.stitch.U95 = 0.01;
  assert_format (&gauge, 100, BW_UNITS_CM, "16 sts and 18 rounds = 10 cm (± 0.03)");
  gauge.stitch.mm = 0;
  assert_format (&gauge, 100, BW_UNITS_CM, "18 rounds = 10 cm (± 0.6)");
  gauge.stitch.mm = 6.25;
  gauge.round.mm = 0;
  assert_format (&gauge, 100, BW_UNITS_CM, "16 sts = 10 cm (± 0.03)");
}

/* What is printed reads back as the gauge it was, to the decimal printed. */
static void
test_format_round_trip (void)
{
  for (guint i = 0; i < 2000; i++)
    {
      gboolean inches = g_test_rand_bit ();
      double mm_per_inch = BW_MM_PER_INCH_ROUND;
      BwGauge gauge = { 0 };
      BwReading across, up;
      g_autofree char *text = NULL;

      gauge.stitch.mm = g_test_rand_bit () ? g_test_rand_double_range (2.5, 15) : 0;
      gauge.round.mm = g_test_rand_double_range (2.5, 15);
      gauge.stitch.U95 = gauge.round.U95 = g_test_rand_double_range (0, 1);
      text = bw_gauge_format (&gauge, 100, inches ? BW_UNITS_INCH : BW_UNITS_CM, mm_per_inch);
      g_assert_true (bw_gauge_parse_stated (text, &across, &up, NULL));
      g_assert_cmpfloat (fabs (up.count - 100 / gauge.round.mm), <=, 0.05 + 1e-9);
      g_assert_cmpfloat (up.span_mm, ==, 100);
      if (gauge.stitch.mm > 0)
        g_assert_cmpfloat (fabs (across.count - 100 / gauge.stitch.mm), <=, 0.05 + 1e-9);
      else
        g_assert_cmpfloat (across.count, ==, 0);
    }
}

int
main (int    argc,
      char **argv)
{
  g_test_init (&argc, &argv, NULL);
  for (guint i = 0; i < G_N_ELEMENTS (stated_cases); i++)
    {
      g_autofree char *path = g_strdup_printf ("/gauge/stated/%u", i);

      g_test_add_data_func (path, &stated_cases[i], test_stated);
    }
  g_test_add_func ("/gauge/stated/bad", test_bad_stated);
  g_test_add_func ("/gauge/stated/garbage", test_stated_garbage);
  g_test_add_func ("/gauge/format/text", test_format);
  g_test_add_func ("/gauge/format/round-trip", test_format_round_trip);
  return g_test_run ();
}
