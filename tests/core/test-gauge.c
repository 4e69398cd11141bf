#include <glib.h>
#include <math.h>
#include <string.h>

#include "bw-error.h"
#include "bw-gauge.h"

/* From readings to a gauge, its uncertainty, odd readings and hooks. */

static const BwTape no_doubt = { 0, 0 };

static BwReading
stitches (double count,
          double span_mm)
{
  return (BwReading) { BW_READING_STITCHES, count, span_mm, TRUE, BW_LAID_RELAXED };
}

static BwReading
rounds (double count,
        double span_mm)
{
  return (BwReading) { BW_READING_ROUNDS, count, span_mm, TRUE, BW_LAID_RELAXED };
}

static BwReading
unwashed (BwReading reading)
{
  reading.washed = FALSE;
  return reading;
}

static BwReading
stretched (BwReading reading)
{
  reading.laid = BW_LAID_FULLY_STRETCHED;
  return reading;
}

static BwGaugeSide
side_of (const BwReading *readings,
         gsize            n,
         const BwTape    *tape)
{
  BwGaugeSide side;

  g_assert_true (bw_gauge_side_from_readings (readings, n, BW_READING_STITCHES, TRUE,
                                              BW_LAID_RELAXED, tape, &side));
  return side;
}

/* --- One side --- */

/* Sum over sum: long spans weigh more than short ones. */
static void
test_ratio_of_sums (void)
{
  const BwReading readings[] = { stitches (10, 70), stitches (30, 180) };
  BwGaugeSide side = side_of (readings, 2, &no_doubt);

  g_assert_cmpfloat (side.mm, ==, 250.0 / 40); /* the mean of ratios would be 6.5 */
  g_assert_cmpuint (side.n_readings, ==, 2);
}

static void
test_one_reading (void)
{
  const BwTape tape = BW_TAPE_DEFAULT;
  const BwReading reading = stitches (20, 120);
  BwGaugeSide side = side_of (&reading, 1, &tape);

  g_assert_true (side.type_b_only);
  g_assert_cmpfloat (side.mm, ==, 6);
  g_assert_cmpfloat (side.u_type_a, ==, 0);
  /* half a mm of tape and a quarter of 6 mm at the edge, over root 3, over 20 */
  g_assert_cmpfloat_with_epsilon (side.u_type_b, sqrt ((0.25 + 2.25) / 3) / 20, 1e-12);
  g_assert_cmpfloat (side.u, ==, side.u_type_b);
  g_assert_true (isinf (side.dof));
  g_assert_cmpfloat_with_epsilon (side.coverage, 1.959963985, 1e-8);
}

/* With equal counts the ratio's variance is that of a mean: s over root k. */
static void
test_equal_counts (void)
{
  const BwReading readings[] = { stitches (20, 118), stitches (20, 120), stitches (20, 122),
                                 stitches (20, 121) };
  const double widths[] = { 5.9, 6, 6.1, 6.05 };
  BwGaugeSide side = side_of (readings, 4, &no_doubt);

  g_assert_false (side.type_b_only);
  g_assert_cmpfloat_with_epsilon (side.u_type_a, bw_stats_sd (widths, 4) / 2, 1e-12);
  g_assert_cmpfloat (side.u_type_b, ==, 0);
  g_assert_cmpfloat_with_epsilon (side.dof, 3, 1e-9);
  g_assert_cmpfloat_with_epsilon (side.coverage, 3.182446305, 1e-6);
  g_assert_cmpfloat_with_epsilon (side.U95, side.coverage * side.u, 1e-12);
}

/* Readings that agree exactly leave the tape's share, and say no false zero. */
static void
test_no_scatter (void)
{
  const BwTape tape = BW_TAPE_DEFAULT;
  const BwReading readings[] = { stitches (20, 120), stitches (20, 120), stitches (20, 120) };
  BwGaugeSide side = side_of (readings, 3, &tape);

  g_assert_false (side.type_b_only);
  g_assert_cmpfloat (side.u_type_a, ==, 0);
  g_assert_true (isinf (side.dof));
  g_assert_cmpfloat_with_epsilon (side.u, sqrt ((0.25 + 2.25) / 3) / 20, 1e-12);
}

/* More readings of the same spans lessen the scatter's share, not the tape's. */
static void
test_type_b_stays (void)
{
  const BwTape tape = BW_TAPE_DEFAULT;
  const BwReading readings[] = { stitches (20, 118), stitches (20, 122), stitches (20, 118),
                                 stitches (20, 122), stitches (20, 118), stitches (20, 122) };
  BwGaugeSide two = side_of (readings, 2, &tape);
  BwGaugeSide six = side_of (readings, 6, &tape);

  g_assert_cmpfloat_with_epsilon (two.u_type_b, six.u_type_b, 1e-15);
  g_assert_cmpfloat (six.u_type_a, <, two.u_type_a / 1.7);
  g_assert_cmpfloat (six.dof, >, 5);
}

static void
test_other_kinds_pass (void)
{
  const BwReading readings[] = { rounds (10, 90), unwashed (stitches (20, 130)),
                                 stretched (stitches (20, 150)), stitches (20, 120),
                                 stitches (0, 120), stitches (20, 0), stitches (-20, 120),
                                 stitches (NAN, 120), stitches (INFINITY, 120), stitches (20, NAN),
                                 stitches (20, INFINITY) };
  const BwTape tape = BW_TAPE_DEFAULT;
  BwGaugeSide side = side_of (readings, G_N_ELEMENTS (readings), &tape);

  g_assert_cmpuint (side.n_readings, ==, 1);
  g_assert_cmpfloat (side.mm, ==, 6);
  g_assert_false (bw_gauge_side_from_readings (readings, 1, BW_READING_STITCHES, TRUE,
                                               BW_LAID_RELAXED, &tape, &side));
  g_assert_cmpfloat (side.mm, ==, 0);
  g_assert_false (bw_gauge_side_from_readings (NULL, 0, BW_READING_STITCHES, TRUE,
                                               BW_LAID_RELAXED, &tape, &side));
}

static gsize
random_readings (BwReading *readings)
{
  gsize n = (gsize) g_test_rand_int_range (1, 9);
  double width = g_test_rand_double_range (3, 15);

  for (gsize i = 0; i < n; i++)
    {
      double count = g_test_rand_int_range (10, 61) / 2.0;

      readings[i] = stitches (count, count * width * g_test_rand_double_range (0.97, 1.03));
    }

  return n;
}

/* Everything measured in other units is the same gauge in those units, and the
 * order of the readings is nothing. */
static void
test_scale_and_order (void)
{
  for (guint i = 0; i < 1000; i++)
    {
      BwReading readings[8], scaled[8];
      gsize n = random_readings (readings);
      double scale = g_test_rand_double_range (0.1, 30);
      const BwTape tape = BW_TAPE_DEFAULT;
      const BwTape scaled_tape = { tape.tape_division_mm * scale, tape.edge_stitches };
      BwGaugeSide a, b;

      for (gsize k = 0; k < n; k++)
        {
          scaled[k] = readings[n - 1 - k];
          scaled[k].span_mm *= scale;
        }
      a = side_of (readings, n, &tape);
      b = side_of (scaled, n, &scaled_tape);
      g_assert_cmpfloat_with_epsilon (b.mm / scale, a.mm, 1e-9);
      g_assert_cmpfloat_with_epsilon (b.u_type_a / scale, a.u_type_a, 1e-9);
      g_assert_cmpfloat_with_epsilon (b.u_type_b / scale, a.u_type_b, 1e-9);
      g_assert_cmpfloat_with_epsilon (b.U95 / scale, a.U95, 1e-7);
      if (isfinite (a.dof))
        g_assert_cmpfloat_with_epsilon (b.dof / a.dof, 1, 1e-6);
    }
}

/* Counting half stitches as one would halve the width and its uncertainty. */
static void
test_count_scale (void)
{
  for (guint i = 0; i < 300; i++)
    {
      BwReading readings[8], doubled[8];
      gsize n = random_readings (readings);
      BwGaugeSide a, b;

      for (gsize k = 0; k < n; k++)
        {
          doubled[k] = readings[k];
          doubled[k].count *= 2;
        }
      a = side_of (readings, n, &no_doubt);
      b = side_of (doubled, n, &no_doubt);
      g_assert_cmpfloat_with_epsilon (2 * b.mm, a.mm, 1e-9);
      g_assert_cmpfloat_with_epsilon (2 * b.u, a.u, 1e-9);
    }
}

static void
test_bounds (void)
{
  const BwTape tape = BW_TAPE_DEFAULT;

  for (guint i = 0; i < 1000; i++)
    {
      BwReading readings[8];
      gsize n = random_readings (readings);
      BwGaugeSide side = side_of (readings, n, &tape);
      double least = INFINITY;
      double most = 0;

      for (gsize k = 0; k < n; k++)
        {
          least = MIN (least, readings[k].span_mm / readings[k].count);
          most = MAX (most, readings[k].span_mm / readings[k].count);
        }
      g_assert_cmpfloat (side.mm, >=, least - 1e-9);
      g_assert_cmpfloat (side.mm, <=, most + 1e-9);
      g_assert_cmpfloat_with_epsilon (side.u, hypot (side.u_type_a, side.u_type_b), 1e-12);
      g_assert_cmpfloat (side.dof, >=, n - 1 - 1e-9);
      g_assert_cmpfloat (side.coverage, >, 1.9599);
      g_assert_cmpfloat (side.u, >, 0);
    }
}

static double
random_normal (void)
{
  return sqrt (-2 * log (g_test_rand_double_range (1e-12, 1))) *
         cos (2 * G_PI * g_test_rand_double ());
}

/* How often the interval holds the true width when nothing but the scatter is
 * at work: 95 times in a hundred, also with unequal spans. A reading's scatter
 * is in proportion to the root of its count, as stitches vary one by one. */
static void
test_coverage (void)
{
  const guint tries = 4000;
  guint held = 0;

  for (guint i = 0; i < tries; i++)
    {
      BwReading readings[6];
      BwGaugeSide side;

      for (guint k = 0; k < 6; k++)
        {
          double count = 14 + 2 * (k % 3);

          readings[k] = stitches (count, count * 6 + 0.8 * sqrt (count) * random_normal ());
        }
      side = side_of (readings, 6, &no_doubt);
      held += fabs (side.mm - 6) <= side.U95;
    }

  g_test_message ("the interval held the true width in %.2f %%", 100.0 * held / tries);
  g_assert_cmpfloat (fabs (held / (double) tries - 0.95), <, 0.02);
}

/* --- Both sides --- */

static BwGauge
gauge_of (const BwReading *readings,
          gsize            n)
{
  const BwTape tape = BW_TAPE_DEFAULT;
  g_autoptr (GError) error = NULL;
  BwGauge gauge;

  g_assert_true (bw_gauge_from_readings (readings, n, &tape, &gauge, &error));
  g_assert_no_error (error);
  return gauge;
}

static void
test_washed_wins (void)
{
  const BwReading readings[] = { unwashed (stitches (20, 120)), stitches (20, 126),
                                 unwashed (rounds (20, 180)), rounds (20, 171) };
  BwGauge gauge = gauge_of (readings, 4);

  g_assert_true (gauge.washed);
  g_assert_cmpfloat_with_epsilon (gauge.stitch.mm, 6.3, 1e-12);
  g_assert_cmpfloat_with_epsilon (gauge.round.mm, 8.55, 1e-12);
  g_assert_cmpfloat_with_epsilon (gauge.stitch_growth, 1.05, 1e-12);
  g_assert_cmpfloat_with_epsilon (gauge.round_growth, 0.95, 1e-12);
  g_assert_cmpfloat (gauge.stitch_stretch, ==, 0);
}

static void
test_unwashed_alone (void)
{
  const BwReading readings[] = { unwashed (stitches (20, 120)), unwashed (rounds (20, 180)) };
  BwGauge gauge = gauge_of (readings, 2);

  g_assert_false (gauge.washed);
  g_assert_cmpfloat (gauge.stitch.mm, ==, 6);
  g_assert_cmpfloat (gauge.stitch_growth, ==, 0);
}

/* Washed as a whole only if all of it is. */
static void
test_half_washed (void)
{
  const BwReading readings[] = { stitches (20, 126), unwashed (rounds (20, 180)) };
  const BwReading washed_rounds[] = { rounds (20, 180) };

  g_assert_false (gauge_of (readings, 2).washed);
  g_assert_true (gauge_of (readings, 1).washed);
  g_assert_false (gauge_of (readings + 1, 1).washed);
  g_assert_true (gauge_of (washed_rounds, 1).washed);
}

static void
test_stretch (void)
{
  const BwReading washed[] = { rounds (27, 100), stretched (rounds (27, 150)) };
  const BwReading before[] = { rounds (27, 100), unwashed (rounds (27, 96)),
                               unwashed (stretched (rounds (27, 144))) };
  const BwReading apart[] = { rounds (27, 100), unwashed (stretched (rounds (27, 144))) };
  BwReading gentle[] = { rounds (27, 100), rounds (27, 120) };

  gentle[1].laid = BW_LAID_GENTLY_STRETCHED;
  g_assert_cmpfloat_with_epsilon (gauge_of (washed, 2).round_stretch, 1.5, 1e-12);
  g_assert_cmpfloat_with_epsilon (gauge_of (before, 3).round_stretch, 1.5, 1e-12);
  g_assert_cmpfloat (gauge_of (apart, 2).round_stretch, ==, 0); /* two states: no ratio */
  g_assert_cmpfloat (gauge_of (gentle, 2).round_stretch, ==, 0);
  g_assert_cmpfloat_with_epsilon (gauge_of (gentle, 2).round.mm, 100 / 27.0, 1e-12);
}

static void
test_nothing_to_go_by (void)
{
  const BwReading readings[] = { stretched (stitches (20, 150)), stitches (0, 10) };
  const BwTape tape = BW_TAPE_DEFAULT;

  for (gsize n = 0; n <= 2; n++)
    {
      g_autoptr (GError) error = NULL;
      BwGauge gauge;

      g_assert_false (bw_gauge_from_readings (readings, n, &tape, &gauge, &error));
      g_assert_error (error, BW_ERROR, BW_ERROR_MISSING);
      g_assert_false (gauge.washed);
    }
}

/* --- Readings that stand apart --- */

static void
test_outlier (void)
{
  BwReading readings[] = { stitches (20, 119), stitches (20, 120), stitches (20, 122),
                           stitches (20, 140), stitches (20, 121), rounds (20, 300),
                           unwashed (stitches (20, 90)) };
  gboolean flags[7];

  g_assert_cmpuint (bw_gauge_outliers (readings, 7, BW_READING_STITCHES, flags), ==, 1);
  for (guint i = 0; i < 7; i++)
    g_assert_true (flags[i] == (i == 3));
  g_assert_cmpfloat (readings[3].span_mm, ==, 140); /* nothing is dropped */

  g_assert_cmpuint (bw_gauge_outliers (readings, 7, BW_READING_ROUNDS, flags), ==, 0);
  g_assert_cmpuint (bw_gauge_outliers (NULL, 0, BW_READING_ROUNDS, flags), ==, 0);
}

/* Three times the median deviation and no less: 118, 119, 120, 121, 122 deviate
 * by 1 in the middle. */
static void
test_outlier_limit (void)
{
  BwReading readings[] = { stitches (1, 118), stitches (1, 119), stitches (1, 120),
                           stitches (1, 121), stitches (1, 122), stitches (1, 120),
                           stitches (1, 120) };
  gboolean flags[7];

  readings[6].span_mm = 123; /* median 120, deviations 2 1 0 1 2 0 3: median 1 */
  g_assert_cmpuint (bw_gauge_outliers (readings, 7, BW_READING_STITCHES, flags), ==, 0);
  readings[6].span_mm = 123.01;
  g_assert_cmpuint (bw_gauge_outliers (readings, 7, BW_READING_STITCHES, flags), ==, 1);
  g_assert_true (flags[6]);
}

/* Where most readings agree to the millimetre, the one far off is still seen and
 * the one a millimetre off is not. */
static void
test_outlier_among_equals (void)
{
  BwReading readings[] = { stitches (20, 120), stitches (20, 120), stitches (20, 120),
                           stitches (20, 120), stitches (20, 121) };
  gboolean flags[5];

  g_assert_cmpuint (bw_gauge_outliers (readings, 5, BW_READING_STITCHES, flags), ==, 0);
  readings[4].span_mm = 130;
  g_assert_cmpuint (bw_gauge_outliers (readings, 5, BW_READING_STITCHES, flags), ==, 1);
  g_assert_true (flags[4]);
}

/* Two readings cannot say which of them is wrong; three can. */
static void
test_outlier_of_two (void)
{
  const BwReading readings[] = { stitches (20, 120), stitches (20, 180), stitches (20, 121) };
  gboolean flags[3] = { TRUE, TRUE, TRUE };

  g_assert_cmpuint (bw_gauge_outliers (readings, 2, BW_READING_STITCHES, flags), ==, 0);
  g_assert_false (flags[0] || flags[1]);
  g_assert_cmpuint (bw_gauge_outliers (readings, 3, BW_READING_STITCHES, flags), ==, 1);
  g_assert_true (flags[1]);
}

/* --- Hooks --- */

static void
test_hook (void)
{
  const double hooks[] = { 4, 4.5, 5, 5.5 };
  const double widths[] = { 5.3, 5.7, 6.1, 6.5 }; /* 0.8 mm a mm of hook */
  g_autoptr (GError) error = NULL;
  double hook, interval;

  g_assert_true (bw_gauge_suggest_hook (hooks, widths, 4, 5.9, BW_HOOK_EXTRAPOLATE_MM, &hook,
                                        &interval, &error));
  g_assert_no_error (error);
  g_assert_cmpfloat_with_epsilon (hook, 4.75, 1e-9);
  g_assert_cmpfloat_with_epsilon (interval, 0, 1e-9); /* four points on a line */
}

static void
test_hook_limit (void)
{
  const double hooks[] = { 4, 5 };
  const double widths[] = { 5, 6 };
  double hook = -1;
  double interval = -1;
  g_autoptr (GError) error = NULL;

  g_assert_true (bw_gauge_suggest_hook (hooks, widths, 2, 6.49, 0.5, &hook, &interval, NULL));
  g_assert_cmpfloat_with_epsilon (hook, 5.49, 1e-9);
  g_assert_true (isinf (interval)); /* two points show no scatter */
  g_assert_true (bw_gauge_suggest_hook (hooks, widths, 2, 6.9, 1, &hook, &interval, NULL));

  hook = interval = -1;
  g_assert_false (bw_gauge_suggest_hook (hooks, widths, 2, 6.51, 0.5, &hook, &interval, &error));
  g_assert_error (error, BW_ERROR, BW_ERROR_RANGE);
  g_assert_nonnull (strstr (error->message, "5.5 mm"));
  g_assert_nonnull (strstr (error->message, "4 to 5 mm"));
  g_clear_error (&error);
  g_assert_false (bw_gauge_suggest_hook (hooks, widths, 2, 4.49, 0.5, &hook, &interval, &error));
  g_assert_error (error, BW_ERROR, BW_ERROR_RANGE);
  g_clear_error (&error);
  g_assert_false (bw_gauge_suggest_hook (hooks, widths, 2, NAN, 0.5, &hook, &interval, &error));
  g_assert_error (error, BW_ERROR, BW_ERROR_RANGE);
  g_assert_cmpfloat (hook, ==, -1);
  g_assert_cmpfloat (interval, ==, -1);
}

static void
test_hook_refuses (void)
{
  const double hooks[] = { 4, 5, 6 };
  const double same[] = { 5, 5, 5 };
  const double falling[] = { 6, 5.5, 5 };
  double hook, interval;
  g_autoptr (GError) error = NULL;

  g_assert_false (bw_gauge_suggest_hook (same, falling, 3, 5, 0.5, &hook, &interval, &error));
  g_assert_error (error, BW_ERROR, BW_ERROR_MISSING);
  g_clear_error (&error);
  g_assert_false (bw_gauge_suggest_hook (hooks, falling, 3, 5.5, 0.5, &hook, &interval, &error));
  g_assert_error (error, BW_ERROR, BW_ERROR_CONFLICT);
  g_clear_error (&error);
  g_assert_false (bw_gauge_suggest_hook (hooks, same, 3, 5, 0.5, &hook, &interval, &error));
  g_assert_error (error, BW_ERROR, BW_ERROR_CONFLICT);
}

int
main (int    argc,
      char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/gauge/side/ratio-of-sums", test_ratio_of_sums);
  g_test_add_func ("/gauge/side/one-reading", test_one_reading);
  g_test_add_func ("/gauge/side/equal-counts", test_equal_counts);
  g_test_add_func ("/gauge/side/no-scatter", test_no_scatter);
  g_test_add_func ("/gauge/side/type-b-stays", test_type_b_stays);
  g_test_add_func ("/gauge/side/other-kinds-pass", test_other_kinds_pass);
  g_test_add_func ("/gauge/side/scale-and-order", test_scale_and_order);
  g_test_add_func ("/gauge/side/count-scale", test_count_scale);
  g_test_add_func ("/gauge/side/bounds", test_bounds);
  g_test_add_func ("/gauge/side/coverage", test_coverage);
  g_test_add_func ("/gauge/washed-wins", test_washed_wins);
  g_test_add_func ("/gauge/unwashed-alone", test_unwashed_alone);
  g_test_add_func ("/gauge/half-washed", test_half_washed);
  g_test_add_func ("/gauge/stretch", test_stretch);
  g_test_add_func ("/gauge/nothing-to-go-by", test_nothing_to_go_by);
  g_test_add_func ("/gauge/outlier/one", test_outlier);
  g_test_add_func ("/gauge/outlier/limit", test_outlier_limit);
  g_test_add_func ("/gauge/outlier/among-equals", test_outlier_among_equals);
  g_test_add_func ("/gauge/outlier/of-two", test_outlier_of_two);
  g_test_add_func ("/gauge/hook/line", test_hook);
  g_test_add_func ("/gauge/hook/limit", test_hook_limit);
  g_test_add_func ("/gauge/hook/refuses", test_hook_refuses);
  return g_test_run ();
}
