#include <glib.h>
#include <gsl/gsl_cdf.h>
#include <math.h>

#include "bw-gauge.h"
#include "bw-plan.h"

/* Gauges against published figures and plain arithmetic. Beside each stands
 * where it comes from. */

static const BwTape no_doubt = { 0, 0 };

/* n readings of 20 stitches whose widths have exactly the standard deviation
 * `spread`, as a fraction of their mean. */
static BwGaugeSide
side_with_spread (gsize  n,
                  double spread)
{
  BwReading readings[10];
  double offsets[10];
  double sd;
  BwGaugeSide side;

  for (gsize i = 0; i < n; i++)
    offsets[i] = (double) i - (n - 1) / 2.0;
  sd = bw_stats_sd (offsets, n);
  for (gsize i = 0; i < n; i++)
    readings[i] = (BwReading) { BW_READING_STITCHES, 20, 120 * (1 + spread * offsets[i] / sd), TRUE,
                                BW_LAID_RELAXED };

  g_assert_true (bw_gauge_side_from_readings (readings, n, BW_READING_STITCHES, TRUE,
                                              BW_LAID_RELAXED, &no_doubt, &side));
  return side;
}

/* Half-width of the 95 % interval, in per cent, for n readings of a given spread:
 * t * s / root n, worked out by hand to one decimal. Common practice, no source
 * for the table; Student's t itself is asked of the GNU Scientific Library. */
static void
test_half_widths (void)
{
  static const gsize counts[] = { 3, 4, 5, 6, 8, 10 };
  static const double table[][6] = {
    { 2.5, 1.6, 1.2, 1.0, 0.8, 0.7 },
    { 5.0, 3.2, 2.5, 2.1, 1.7, 1.4 },
    { 7.5, 4.8, 3.7, 3.1, 2.5, 2.1 },
  };

  for (guint s = 0; s < G_N_ELEMENTS (table); s++)
    for (guint i = 0; i < G_N_ELEMENTS (counts); i++)
      {
        double spread = (s + 1) / 100.0;
        BwGaugeSide side = side_with_spread (counts[i], spread);
        double per_cent = 100 * side.U95 / side.mm;
        double t = gsl_cdf_tdist_Pinv (0.975, counts[i] - 1.0);
        double by_gsl = 100 * t * spread / sqrt (counts[i]);

        g_assert_cmpfloat_with_epsilon (per_cent, by_gsl, 1e-6);
        g_assert_cmpfloat (fabs (per_cent - table[s][i]), <=, 0.05 + 1e-9);
      }
}

/* A division of width d, read to the nearest, has a standard uncertainty of
 * 0.29 d: JCGM 100:2008 (GUM), F.2.2.1, from memory. */
static void
test_resolution (void)
{
  const BwReading reading = { BW_READING_STITCHES, 1, 100, TRUE, BW_LAID_RELAXED };

  for (double division = 0.5; division <= 5; division += 0.5)
    {
      const BwTape tape = { division, 0 };
      BwGaugeSide side;

      g_assert_true (bw_gauge_side_from_readings (&reading, 1, BW_READING_STITCHES, TRUE,
                                                  BW_LAID_RELAXED, &tape, &side));
      g_assert_cmpfloat_with_epsilon (side.u / division, 0.29, 0.005);
    }
}

/* A ruler error of a millimetre over 20 stitches at 15 to 10 cm is 0.75 %, and
 * half a stitch counted in a window of 10 cm 3.3 %. Worked out, common practice. */
static void
test_span_or_window (void)
{
  const BwReading span = { BW_READING_STITCHES, 20, 20 * 100 / 15.0, TRUE, BW_LAID_RELAXED };
  const BwTape tape = { 2, 0 }; /* half a division: 1 mm */
  const BwTape window = { 0, 0.5 };
  const BwReading ten_cm = { BW_READING_STITCHES, 15, 100, TRUE, BW_LAID_RELAXED };
  BwGaugeSide side;

  bw_gauge_side_from_readings (&span, 1, BW_READING_STITCHES, TRUE, BW_LAID_RELAXED, &tape, &side);
  g_assert_cmpfloat_with_epsilon (100 * side.u * sqrt (3) / side.mm, 0.75, 0.005);
  bw_gauge_side_from_readings (&ten_cm, 1, BW_READING_STITCHES, TRUE, BW_LAID_RELAXED, &window,
                               &side);
  g_assert_cmpfloat_with_epsilon (100 * side.u * sqrt (3) / side.mm, 3.3, 0.05);
}

static double
width_mm (const char *stated)
{
  BwReading across, up;

  g_assert_true (bw_gauge_parse_stated (stated, &across, &up, NULL));
  return across.span_mm / across.count;
}

static double
height_mm (const char *stated)
{
  BwReading across, up;

  g_assert_true (bw_gauge_parse_stated (stated, &across, &up, NULL));
  return up.span_mm / up.count;
}

/* Counts from widths. Inside a pattern 4 in are 10 cm, so that 19 in at 5 to the
 * inch are 95 whatever an inch is. */
static void
test_counts (void)
{
  /* 48 cm at 22 sts to 10 cm: 105.6, so 106: "How many stitches",
   * lovelyjubblyknits.blogspot.com/2015/09/: READ */
  g_assert_cmpfloat_with_epsilon (480 / width_mm ("22 sts to 10 cm"), 105.6, 1e-9);
  /* 19 in at 5 sts to the inch: 95: quiltnparty.com: READ */
  g_assert_cmpfloat_with_epsilon (19 * BW_MM_PER_INCH_ROUND / width_mm ("5 sts = 1 in"), 95, 1e-9);
  /* slip-stitch fabric, 32 rows to 4 in, 8 to the inch: "The benefits of slip
   * stitch crochet", 12 May 2012, crochetme.com: READ */
  g_assert_cmpfloat_with_epsilon (BW_MM_PER_INCH_ROUND / height_mm ("32 rows = 4 in"), 8, 1e-9);
}

/* Widths from counts. */
static void
test_widths (void)
{
  static const double counts[] = { 64, 68, 72, 76, 78 };
  static const double cm[] = { 40.0, 42.5, 45.0, 47.5, 48.75 };

  /* 100 sts at 22 to 10 cm, as in "How to shape the crown of a hat", 2020,
   * gathered.how (counts READ): 45.45 cm round, a radius of 7.23 cm (DERIVED) */
  g_assert_cmpfloat_with_epsilon (100 * width_mm ("22 sts to 10 cm") / 10, 45.45, 0.005);
  g_assert_cmpfloat_with_epsilon (100 * width_mm ("22 sts to 10 cm") / 20 / G_PI, 7.23, 0.005);

  /* children's beanie, five sizes, 16 hdc (US) to 10 cm, portacraft.com.au/
   * beanie-crochet-pattern: counts READ, centimetres DERIVED */
  for (guint i = 0; i < G_N_ELEMENTS (counts); i++)
    g_assert_cmpfloat_with_epsilon (counts[i] * width_mm ("16 sts = 10 cm") / 10, cm[i], 1e-9);

  /* crown of 72 hdc (US) at 16 hdc and 14 rows to 4 in, nine rounds, d60crochet.com/
   * p/chains-of-color-beanie.html (READ): 18 in round; flat across 5.73 in by its
   * stitches and 5.14 in by its rounds (DERIVED) */
  g_assert_cmpfloat_with_epsilon (72 * width_mm ("16 sts and 14 rows = 4 in") /
                                    BW_MM_PER_INCH_ROUND, 18, 1e-9);
  g_assert_cmpfloat_with_epsilon (72 * width_mm ("16 sts and 14 rows = 4 in") / G_PI /
                                    BW_MM_PER_INCH_ROUND, 5.73, 0.005);
  g_assert_cmpfloat_with_epsilon (2 * 9 * height_mm ("16 sts and 14 rows = 4 in") /
                                    BW_MM_PER_INCH_ROUND, 5.14, 0.005);
}

/* Stitches to begin with by gauge, hats of 16, 18 and 20 in, printed for 3 to 6
 * stitches to the inch: hillcollectionblog.com/infants/: counts READ, widths
 * DERIVED. A gauge of so many to 4 in gives the same. */
static void
test_cast_on (void)
{
  static const double inches[] = { 16, 18, 20 };
  static const double printed[][3] = { { 48, 54, 60 }, { 64, 72, 80 }, { 80, 90, 100 },
                                       { 96, 108, 120 } };

  for (guint g = 0; g < G_N_ELEMENTS (printed); g++)
    for (guint i = 0; i < G_N_ELEMENTS (inches); i++)
      {
        g_autofree char *to_one = g_strdup_printf ("%u sts = 1 in", g + 3);
        g_autofree char *to_four = g_strdup_printf ("%u sts = 4 in (10 cm)", 4 * (g + 3));
        double mm = inches[i] * BW_MM_PER_INCH_ROUND;

        g_assert_cmpfloat_with_epsilon (mm / width_mm (to_one), printed[g][i], 1e-9);
        g_assert_cmpfloat_with_epsilon (mm / width_mm (to_four), printed[g][i], 1e-9);
      }
}

/* Published hats read backwards: so many stitches on a band so long. */
static void
test_bands (void)
{
  double sideways_in = 60 * height_mm ("16 sts x 16 rows = 4 in") / BW_MM_PER_INCH_ROUND;

  /* band of 21 in, 84 sts: cookiesnobcrochet.com/home/3-ml-beanie: READ */
  g_assert_cmpfloat_with_epsilon (BW_MM_PER_INCH_ROUND / width_mm ("84 sts = 21 in"), 4.0, 1e-9);
  /* band of 18 in, 76 sts: momsloveofcrochet.blogspot.com/2018/01/: READ */
  g_assert_cmpfloat_with_epsilon (BW_MM_PER_INCH_ROUND / width_mm ("76 sts = 18 in"), 4.22, 0.005);
  /* an adult's hat worked sideways, 45 sts by 60 rows at 16 sts and 16 rows to 4 in
   * (a published pattern, address not kept; READ): 15 in round, 32 % less than a
   * head of 22 in (DERIVED) */
  g_assert_cmpfloat_with_epsilon (sideways_in, 15, 1e-9);
  g_assert_cmpfloat_with_epsilon (100 * (sideways_in / 22 - 1), -32, 0.5);
}

/* "Multiple of 5 plus 1" is 11, 56 or 101: "Multiples", stitchwhisperdesigns.com/
 * 2021/03/multiples.html: READ. 70 wanted, a multiple of 6 plus 2: 68, eleven
 * repeats: "Starting chain from multiples", oombawkadesigncrochet.com/using-stitch-
 * pattern-multiples/: READ. */
static void
test_multiples (void)
{
  g_assert_cmpuint (bw_plan_nearest (70, 6, 2), ==, 68);
  g_assert_cmpuint ((bw_plan_nearest (70, 6, 2) - 2) / 6, ==, 11);
  g_assert_cmpuint (bw_plan_nearest (11, 5, 1), ==, 11);
  g_assert_cmpuint (bw_plan_nearest (57, 5, 1), ==, 56);
  g_assert_cmpuint (bw_plan_nearest (99, 5, 1), ==, 101);
}

/* Hooks of 3, 4, 5 and 6 mm gave 23, 21, 19 and 16 stitches over one width.
 * Common practice, no source. The line through them names, for each of these
 * gauges, the hook it was made with to within half a millimetre, and the interval
 * holds what was measured. */
static void
test_hooks (void)
{
  static const double hooks[] = { 3, 4, 5, 6 };
  static const double counts[] = { 23, 21, 19, 16 };
  double widths[4];

  for (guint i = 0; i < 4; i++)
    widths[i] = 100 / counts[i];
  for (guint i = 0; i < 4; i++)
    {
      double hook, interval;

      g_assert_true (bw_gauge_suggest_hook (hooks, widths, 4, widths[i], BW_HOOK_EXTRAPOLATE_MM,
                                            &hook, &interval, NULL));
      g_assert_cmpfloat_with_epsilon (hook, hooks[i], 0.5);
      g_assert_cmpfloat (interval, >, 0.2); /* two degrees of freedom: far from sure */
      g_assert_cmpfloat (interval, <, 3);
    }
}

int
main (int    argc,
      char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/gauge/half-widths", test_half_widths);
  g_test_add_func ("/gauge/resolution", test_resolution);
  g_test_add_func ("/gauge/span-or-window", test_span_or_window);
  g_test_add_func ("/gauge/counts", test_counts);
  g_test_add_func ("/gauge/widths", test_widths);
  g_test_add_func ("/gauge/cast-on", test_cast_on);
  g_test_add_func ("/gauge/bands", test_bands);
  g_test_add_func ("/gauge/multiples", test_multiples);
  g_test_add_func ("/gauge/hooks", test_hooks);
  return g_test_run ();
}
