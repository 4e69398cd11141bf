#include <glib.h>
#include <math.h>
#include <string.h>

#include "bw-error.h"
#include "bw-stats.h"

#define ROWS_MAX 12
#define COLUMNS_MAX 6

static void
assert_near (double value,
             double expected,
             double relative)
{
  g_assert_cmpfloat (fabs (value - expected), <=, relative * MAX (fabs (expected), 1e-300));
}

static void
test_middle (void)
{
  const double one[] = { 7 };
  const double values[] = { 3, 1, 2, 10 };
  const double odd[] = { 5, -1, 3 };

  g_assert_cmpfloat (bw_stats_mean (NULL, 0), ==, 0);
  g_assert_cmpfloat (bw_stats_sd (NULL, 0), ==, 0);
  g_assert_cmpfloat (bw_stats_median (NULL, 0), ==, 0);
  g_assert_cmpfloat (bw_stats_mean (one, 1), ==, 7);
  g_assert_cmpfloat (bw_stats_sd (one, 1), ==, 0);
  g_assert_cmpfloat (bw_stats_median (one, 1), ==, 7);
  g_assert_cmpfloat (bw_stats_mean (values, 4), ==, 4);
  g_assert_cmpfloat (bw_stats_sd (values, 4), ==, sqrt (50.0 / 3));
  g_assert_cmpfloat (bw_stats_median (values, 4), ==, 2.5);
  g_assert_cmpfloat (bw_stats_median (odd, 3), ==, 3);
  /* the values are left in the order they came in */
  g_assert_cmpfloat (values[0], ==, 3);
  g_assert_cmpfloat (odd[0], ==, 5);
}

/* A large offset must not swallow a small scatter. */
static void
test_sd_far_from_zero (void)
{
  const double values[] = { 1e9 + 4, 1e9 + 7, 1e9 + 13, 1e9 + 16 };

  assert_near (bw_stats_sd (values, 4), sqrt (30.0), 1e-12);
}

/* With one degree of freedom (Cauchy) and two, the distribution is plain. */
static void
test_t_closed_forms (void)
{
  for (double t = -300; t <= 300; t += 0.37)
    {
      double one = 0.5 + atan (t) / G_PI;
      double two = 0.5 + t / (2 * sqrt (2 + t * t));

      g_assert_cmpfloat_with_epsilon (bw_stats_t_cdf (t, 1), one, 1e-14);
      g_assert_cmpfloat_with_epsilon (bw_stats_t_cdf (t, 2), two, 1e-14);
      g_assert_cmpfloat_with_epsilon (bw_stats_t_cdf (t, INFINITY), 0.5 * erfc (-t / sqrt (2)),
                                      1e-14);
    }
  for (double p = 0.01; p < 1; p += 0.01)
    g_assert_cmpfloat_with_epsilon (bw_stats_t_quantile (p, 1), tan (G_PI * (p - 0.5)), 1e-11);
}

static void
test_t_ends (void)
{
  const double dofs[] = { 0.1, 0.5, 1, 2.5, 9, 150, 1e5, 1e6, 1e9, INFINITY };

  for (gsize i = 0; i < G_N_ELEMENTS (dofs); i++)
    {
      g_assert_cmpfloat (bw_stats_t_cdf (0, dofs[i]), ==, 0.5);
      g_assert_cmpfloat (bw_stats_t_cdf (-0.0, dofs[i]), ==, 0.5);
      g_assert_cmpfloat (bw_stats_t_cdf (INFINITY, dofs[i]), ==, 1);
      g_assert_cmpfloat (bw_stats_t_cdf (-INFINITY, dofs[i]), ==, 0);
      g_assert_cmpfloat (bw_stats_t_quantile (0.5, dofs[i]), ==, 0);
      /* near the middle the distribution is straight: half the way, half the rise */
      assert_near (bw_stats_t_cdf (2e-9, dofs[i]) - 0.5, 2 * (bw_stats_t_cdf (1e-9, dofs[i]) - 0.5),
                   1e-6);
    }
  /* so heavy a tail that no double reaches its end */
  g_assert_true (isinf (bw_stats_t_quantile (1 - 1e-12, 0.01)));
  g_assert_true (isinf (bw_stats_t_quantile (1e-12, 0.01)));
  g_assert_cmpfloat (bw_stats_t_quantile (1e-12, 0.01), <, 0);
}

/* Quantile and distribution undo each other, whole degrees of freedom or not,
 * down to tails that 1 - p cannot hold. */
static void
test_t_round_trips (void)
{
  for (guint i = 0; i < 3000; i++)
    {
      double dof = exp (g_test_rand_double_range (log (0.3), log (3e6)));
      double p = exp (g_test_rand_double_range (log (1e-12), log (0.5)));
      double low = bw_stats_t_quantile (p, dof);

      assert_near (bw_stats_t_cdf (low, dof), p, 1e-9);
      if (p > 1e-6)
        g_assert_cmpfloat_with_epsilon (bw_stats_t_quantile (1 - p, dof) / low, -1, 1e-7);
    }
}

/* It grows with t, and its tails get lighter with the degrees of freedom, also
 * where one way of computing hands over to another. */
static void
test_t_grows (void)
{
  double before = 0;

  for (double t = -40; t <= 40; t += 0.05)
    {
      double p = bw_stats_t_cdf (t, 4.3);

      g_assert_cmpfloat (p, >, before);
      before = p;
    }

  before = INFINITY;
  for (double dof = 0.5; dof < 1e8; dof *= 1.01)
    {
      double quantile = bw_stats_t_quantile (0.975, dof);

      g_assert_cmpfloat (quantile, <, before + 1e-9);
      before = quantile;
    }
  g_assert_cmpfloat_with_epsilon (before, bw_stats_t_quantile (0.975, INFINITY), 1e-7);
}

static void
test_effective_dof (void)
{
  const double u[] = { 3, 3, 0 };
  const double equal[] = { 5, 5, 0 };
  const double exact[] = { INFINITY, INFINITY, INFINITY };
  const double mixed[] = { 4, INFINITY, 1 };

  g_assert_cmpfloat (bw_stats_effective_dof (u, equal, 1), ==, 5);
  assert_near (bw_stats_effective_dof (u, equal, 3), 10, 1e-15);
  assert_near (bw_stats_effective_dof (u, mixed, 3), 16, 1e-15);
  g_assert_true (isinf (bw_stats_effective_dof (u, exact, 3)));
  g_assert_true (isinf (bw_stats_effective_dof (NULL, NULL, 0)));

  /* never fewer than the least, never more than all together */
  for (guint i = 0; i < 1000; i++)
    {
      double shares[4], dofs[4];
      double least = INFINITY, sum = 0, dof;

      for (guint k = 0; k < 4; k++)
        {
          shares[k] = g_test_rand_double_range (0.01, 5);
          dofs[k] = g_test_rand_double_range (1, 40);
          least = MIN (least, dofs[k]);
          sum += dofs[k];
        }
      dof = bw_stats_effective_dof (shares, dofs, 4);
      g_assert_cmpfloat (dof, >=, least * (1 - 1e-12));
      g_assert_cmpfloat (dof, <=, sum * (1 + 1e-12));
    }
}

static void
test_line_exact (void)
{
  for (guint i = 0; i < 500; i++)
    {
      double slope = g_test_rand_double_range (-5, 5);
      double intercept = g_test_rand_double_range (-50, 50);
      gsize n = (gsize) g_test_rand_int_range (2, 10);
      double x[10], y[10];
      BwLine line;

      for (gsize k = 0; k < n; k++)
        {
          x[k] = 3 + k + g_test_rand_double_range (0, 0.9);
          y[k] = intercept + slope * x[k];
        }
      g_assert_true (bw_stats_fit_line (x, y, n, &line, NULL));
      g_assert_cmpuint (line.n, ==, n);
      g_assert_cmpfloat_with_epsilon (line.slope, slope, 1e-10);
      g_assert_cmpfloat_with_epsilon (line.intercept, intercept, 1e-9);
      g_assert_cmpfloat_with_epsilon (bw_stats_line_at (&line, 7), intercept + 7 * slope, 1e-9);
      g_assert_cmpfloat (line.residual_sd, <, 1e-9);
      g_assert_cmpfloat (line.x_min, ==, x[0]);
      g_assert_cmpfloat (line.x_max, ==, x[n - 1]);
    }
}

/* Two points show no scatter: the interval is open, not none. */
static void
test_line_two_points (void)
{
  const double x[] = { 5, 4 };
  const double y[] = { 6, 5 };
  BwLine line;

  g_assert_true (bw_stats_fit_line (x, y, 2, &line, NULL));
  g_assert_cmpfloat (line.slope, ==, 1);
  g_assert_cmpfloat (line.residual_sd, ==, 0);
  g_assert_true (isinf (bw_stats_line_prediction (&line, 4.5, 0.95)));
  g_assert_true (isinf (bw_stats_line_u (&line, 4.5)));
}

static void
test_line_errors (void)
{
  const double one[] = { 4 };
  const double y[] = { 5, 6, 7 };
  g_autoptr (GError) error = NULL;
  BwLine line;

  g_assert_false (bw_stats_fit_line (NULL, NULL, 0, &line, &error));
  g_assert_error (error, BW_ERROR, BW_ERROR_MISSING);
  g_clear_error (&error);
  g_assert_false (bw_stats_fit_line (one, y, 1, &line, &error));
  g_assert_error (error, BW_ERROR, BW_ERROR_MISSING);
  g_clear_error (&error);

  /* the mean of three equal numbers need not be that number in binary */
  for (guint i = 0; i < 1000; i++)
    {
      double place = g_test_rand_double_range (0.1, 20);
      const double same[] = { place, place, place };

      g_assert_false (bw_stats_fit_line (same, y, 3, &line, &error));
      g_assert_error (error, BW_ERROR, BW_ERROR_MISSING);
      g_clear_error (&error);
    }
}

/* --- Non-negative least squares --- */

static void
residual (const double *a,
          const double *b,
          const double *x,
          gsize         rows,
          gsize         columns,
          double       *r)
{
  for (gsize i = 0; i < rows; i++)
    {
      r[i] = b[i];
      for (gsize j = 0; j < columns; j++)
        r[i] -= a[i * columns + j] * x[j];
    }
}

static double
length (const double *v,
        gsize         n)
{
  double sum = 0;

  for (gsize i = 0; i < n; i++)
    sum += v[i] * v[i];
  return sqrt (sum);
}

/* Karush, Kuhn and Tucker: x >= 0; no column gains by growing; none that is
 * more than 0 gains by shrinking. For a convex problem that is the solution. */
static void
assert_best (const double *a,
             const double *b,
             const double *x,
             gsize         rows,
             gsize         columns)
{
  double r[ROWS_MAX];

  residual (a, b, x, rows, columns, r);
  for (gsize j = 0; j < columns; j++)
    {
      double gain = 0, own = 0;

      for (gsize i = 0; i < rows; i++)
        {
          gain += a[i * columns + j] * r[i];
          own += a[i * columns + j] * a[i * columns + j];
        }
      /* where b is all but 0, rounding is what is left */
      own = MAX (sqrt (own) * length (b, rows), 1e-6);
      g_assert_cmpfloat (x[j], >=, 0);
      g_assert_true (isfinite (x[j]));
      g_assert_cmpfloat (gain, <=, 1e-8 * own);
      if (x[j] > 0)
        g_assert_cmpfloat (gain, >=, -1e-8 * own);
    }
}

static void
test_nnls_random (void)
{
  for (guint turn = 0; turn < 3000; turn++)
    {
      gsize rows = (gsize) g_test_rand_int_range (1, ROWS_MAX + 1);
      gsize columns = (gsize) g_test_rand_int_range (1, COLUMNS_MAX + 1);
      double a[ROWS_MAX * COLUMNS_MAX], b[ROWS_MAX], x[COLUMNS_MAX];
      double unit = pow (10, g_test_rand_int_range (-9, 10));

      for (gsize i = 0; i < rows * columns; i++)
        a[i] = g_test_rand_double_range (-1, 1) * unit;
      for (gsize i = 0; i < rows; i++)
        b[i] = g_test_rand_double_range (-1, 1);
      if (g_test_rand_bit () && columns > 1) /* a column twice */
        for (gsize i = 0; i < rows; i++)
          a[i * columns + 1] = 2 * a[i * columns];

      bw_stats_nonnegative_least_squares (a, b, rows, columns, x);
      assert_best (a, b, x, rows, columns);
    }
}

/* Yarn to so many stitches: what went in comes out, in any unit. */
static void
test_nnls_exact (void)
{
  for (guint turn = 0; turn < 1000; turn++)
    {
      double a[ROWS_MAX * 3], b[ROWS_MAX], wanted[3], x[3];
      double unit = pow (10, g_test_rand_int_range (-6, 7));

      for (gsize k = 0; k < 3; k++)
        wanted[k] = g_test_rand_bit () ? 0 : g_test_rand_double_range (0.005, 0.05) * unit;
      for (gsize i = 0; i < ROWS_MAX; i++)
        {
          b[i] = 0;
          for (gsize k = 0; k < 3; k++)
            {
              a[i * 3 + k] = g_test_rand_int_range (0, 4000);
              b[i] += a[i * 3 + k] * wanted[k];
            }
        }

      bw_stats_nonnegative_least_squares (a, b, ROWS_MAX, 3, x);
      for (gsize k = 0; k < 3; k++)
        g_assert_cmpfloat_with_epsilon (x[k] / unit, wanted[k] / unit, 1e-9);
    }
}

static void
test_nnls_corners (void)
{
  const double a[] = { 1, 0, 2, 2, 0, 4 };
  const double b[] = { 5, 10 };
  const double down[] = { -5, -10 };
  const double none[] = { 0, 0 };
  double x[3] = { 9, 9, 9 };

  /* the third column says what the first does, the second says nothing */
  bw_stats_nonnegative_least_squares (a, b, 2, 3, x);
  g_assert_cmpfloat_with_epsilon (x[0] + 2 * x[2], 5, 1e-12);
  g_assert_cmpfloat (x[1], ==, 0);

  bw_stats_nonnegative_least_squares (a, down, 2, 3, x);
  g_assert_cmpfloat (x[0] + x[1] + x[2], ==, 0);
  x[0] = 9;
  bw_stats_nonnegative_least_squares (a, none, 2, 3, x);
  g_assert_cmpfloat (x[0] + x[1] + x[2], ==, 0);
  bw_stats_nonnegative_least_squares (NULL, NULL, 0, 0, NULL);
}

int
main (int   argc,
      char *argv[])
{
  g_test_init (&argc, &argv, NULL);

  g_test_add_func ("/stats/middle", test_middle);
  g_test_add_func ("/stats/sd-far-from-zero", test_sd_far_from_zero);
  g_test_add_func ("/stats/t/closed-forms", test_t_closed_forms);
  g_test_add_func ("/stats/t/ends", test_t_ends);
  g_test_add_func ("/stats/t/round-trips", test_t_round_trips);
  g_test_add_func ("/stats/t/grows", test_t_grows);
  g_test_add_func ("/stats/effective-dof", test_effective_dof);
  g_test_add_func ("/stats/line/exact", test_line_exact);
  g_test_add_func ("/stats/line/two-points", test_line_two_points);
  g_test_add_func ("/stats/line/errors", test_line_errors);
  g_test_add_func ("/stats/nnls/random", test_nnls_random);
  g_test_add_func ("/stats/nnls/exact", test_nnls_exact);
  g_test_add_func ("/stats/nnls/corners", test_nnls_corners);

  return g_test_run ();
}
