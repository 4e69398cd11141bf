#include <math.h>

#include "bw-gauge-pool.h"

#define N_READINGS_MAX 12

static BwTape exact_tape = { 0.0, 0.0 };

static BwReading
across (double count,
        double span_mm,
        gboolean washed)
{
  return (BwReading) { BW_READING_STITCHES, count, span_mm, washed, BW_LAID_RELAXED };
}

/* Worked by hand: swatch means 6.0 and 6.6 mm; readings off by 1 % of theirs
 * either way. Within: sqrt (4 * 0.01^2 / 2) = 0.0141; the means' variance about
 * 6.3 is 2 * (0.3 / 6.3)^2 = 0.004535, less 0.0002 / 2, leave 0.0666 squared. */
static void
test_spread (void)
{
  const BwReading first[] = { across (20, 121.2, FALSE), across (20, 118.8, FALSE) };
  const BwReading second[] = { across (10, 66.66, FALSE), across (10, 65.34, FALSE) };
  const BwGaugePiece pieces[] = { { first, 2 }, { second, 2 } };
  BwGaugeSpread spread;

  g_assert_true (bw_gauge_pool_spread (pieces, 2, BW_READING_STITCHES, FALSE, BW_LAID_RELAXED, &spread));
  g_assert_cmpuint (spread.n_pieces, ==, 2);
  g_assert_cmpuint (spread.n_readings, ==, 4);
  g_assert_cmpfloat_with_epsilon (spread.within, 0.0141421, 1e-6);
  g_assert_cmpfloat_with_epsilon (spread.between, 0.0665969, 1e-6);
  g_assert_false (bw_gauge_pool_spread (pieces, 2, BW_READING_ROUNDS, FALSE, BW_LAID_RELAXED, &spread));
  g_assert_false (bw_gauge_pool_spread (pieces, 2, BW_READING_STITCHES, TRUE, BW_LAID_RELAXED, &spread));
}

/* One swatch pools to what it is by itself. */
static void
test_one (void)
{
  const BwReading readings[] = {
    across (20, 127, TRUE), across (24, 153, TRUE), across (20, 126, TRUE), across (20, 140, FALSE),
    { BW_READING_ROUNDS, 16, 91, TRUE, BW_LAID_RELAXED },
  };
  const BwGaugePiece piece = { readings, G_N_ELEMENTS (readings) };
  BwTape tape = BW_TAPE_DEFAULT;
  g_autoptr (GError) error = NULL;
  BwGaugePool pool;
  BwGauge gauge;

  g_assert_true (bw_gauge_from_readings (readings, G_N_ELEMENTS (readings), &tape, &gauge, &error));
  g_assert_true (bw_gauge_pool (&piece, 1, &tape, &pool, &error));
  g_assert_no_error (error);
  g_assert_false (pool.by_piece);
  g_assert_cmpfloat (pool.gauge.stitch.mm, ==, gauge.stitch.mm);
  g_assert_cmpfloat (pool.gauge.stitch.U95, ==, gauge.stitch.U95);
  g_assert_cmpfloat (pool.gauge.stitch_growth, ==, gauge.stitch_growth);
  g_assert_cmpuint (pool.n_left_out, ==, 0);
}

/* Swatches that differ: the estimate is of their means, and the degrees of
 * freedom are theirs, however often each was measured. */
static void
test_by_piece (void)
{
  BwReading first[12], second[12], third[12];
  const BwGaugePiece pieces[] = { { first, 12 }, { second, 12 }, { third, 12 } };
  g_autoptr (GError) error = NULL;
  BwGaugePool pool;

  for (guint i = 0; i < 12; i++)
    {
      double wobble = i % 2 == 0 ? 0.2 : -0.2;

      first[i] = across (20, 120 + wobble, TRUE);
      second[i] = across (20, 124 + wobble, TRUE);
      third[i] = across (20, 128 + wobble, TRUE);
    }

  g_assert_true (bw_gauge_pool (pieces, 3, &exact_tape, &pool, &error));
  g_assert_true (pool.by_piece);
  g_assert_cmpfloat_with_epsilon (pool.gauge.stitch.mm, 6.2, 1e-12);
  g_assert_cmpfloat_with_epsilon (pool.gauge.stitch.u_type_a, 0.2 / sqrt (3), 1e-12);
  g_assert_cmpfloat_with_epsilon (pool.gauge.stitch.dof, 2.0, 1e-9);
  g_assert_cmpuint (pool.stitch.n_readings, ==, 36);
}

/* A swatch without washed readings has nothing to say of a washed gauge, and
 * that is told. */
static void
test_left_out (void)
{
  const BwReading first[] = { across (20, 127, TRUE), across (20, 128, TRUE) };
  const BwReading second[] = { across (20, 140, FALSE), across (20, 141, FALSE) };
  const BwGaugePiece pieces[] = { { first, 2 }, { second, 2 } };
  g_autoptr (GError) error = NULL;
  BwGaugePool pool;

  g_assert_true (bw_gauge_pool (pieces, 2, &exact_tape, &pool, &error));
  g_assert_cmpuint (pool.n_left_out, ==, 1);
  g_assert_true (pool.gauge.washed);
  g_assert_cmpfloat_with_epsilon (pool.gauge.stitch.mm, 6.375, 1e-12);
}

/* A normal deviate (Box and Muller). */
static double
normal (GRand *rand)
{
  return sqrt (-2.0 * log (1.0 - g_rand_double (rand))) * cos (2.0 * G_PI * g_rand_double (rand));
}

/* How often the interval holds the true width, over many makers. */
static double
coverage (GRand *rand,
          guint  n_pieces,
          guint  n_readings,
          double between,
          double within)
{
  BwReading readings[8][N_READINGS_MAX];
  BwGaugePiece pieces[8];
  guint n_turns = 3000;
  guint hits = 0;

  for (guint turn = 0; turn < n_turns; turn++)
    {
      BwGaugePool pool;

      for (guint i = 0; i < n_pieces; i++)
        {
          double mean = 6.0 * (1.0 + between * normal (rand));

          for (guint k = 0; k < n_readings; k++)
            readings[i][k] = across (20, 20 * mean * (1.0 + within * normal (rand)), TRUE);
          pieces[i] = (BwGaugePiece) { readings[i], n_readings };
        }
      g_assert_true (bw_gauge_pool (pieces, n_pieces, &exact_tape, &pool, NULL));
      hits += fabs (pool.gauge.stitch.mm - 6.0) <= pool.gauge.stitch.U95;
    }

  return (double) hits / n_turns;
}

static void
test_coverage (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (99);
  static const struct
  {
    guint  n_pieces, n_readings;
    double between, within;
    double least;
  } cases[] = {
    { 1, 5, 0.00, 0.02, 0.935 },
    { 3, 6, 0.00, 0.02, 0.930 },
    { 3, 6, 0.02, 0.01, 0.930 },
    { 5, 6, 0.02, 0.02, 0.900 },
    { 5, 8, 0.03, 0.01, 0.935 },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      double found = coverage (rand, cases[i].n_pieces, cases[i].n_readings, cases[i].between, cases[i].within);

      g_test_message ("%u swatches of %u readings, %g between, %g within: %.3f", cases[i].n_pieces,
                      cases[i].n_readings, cases[i].between, cases[i].within, found);
      g_assert_cmpfloat (found, >, cases[i].least);
      g_assert_cmpfloat (found, <, 0.995);
    }
}

int
main (int    argc,
      char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/gauge-pool/spread", test_spread);
  g_test_add_func ("/gauge-pool/one", test_one);
  g_test_add_func ("/gauge-pool/by-piece", test_by_piece);
  g_test_add_func ("/gauge-pool/left-out", test_left_out);
  g_test_add_func ("/gauge-pool/coverage", test_coverage);

  return g_test_run ();
}
