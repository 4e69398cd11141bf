#include <glib.h>
#include <gsl/gsl_blas.h>
#include <gsl/gsl_cdf.h>
#include <gsl/gsl_fit.h>
#include <gsl/gsl_multifit.h>
#include <gsl/gsl_sort.h>
#include <gsl/gsl_statistics_double.h>
#include <math.h>

#include "bw-stats.h"

/* Our statistics against the GNU Scientific Library, gnu.org/software/gsl/, and
 * against Table G.2 of the GUM. */

#define POINTS_MAX 12
#define COLUMNS_MAX 5

static double
relative (double a,
          double b)
{
  return fabs (a - b) / MAX (fabs (b), 1e-300);
}

static void
test_moments (void)
{
  for (guint turn = 0; turn < 2000; turn++)
    {
      gsize n = (gsize) g_test_rand_int_range (2, POINTS_MAX + 1);
      double offset = g_test_rand_double_range (-1e4, 1e4);
      double values[POINTS_MAX];

      for (gsize i = 0; i < n; i++)
        values[i] = offset + g_test_rand_double_range (-1, 1);
      g_assert_cmpfloat (relative (bw_stats_mean (values, n), gsl_stats_mean (values, 1, n)), <,
                         1e-13);
      g_assert_cmpfloat (relative (bw_stats_sd (values, n), gsl_stats_sd (values, 1, n)), <, 1e-9);

      {
        double median = bw_stats_median (values, n);

        gsl_sort (values, 1, n);
        g_assert_cmpfloat (median, ==, gsl_stats_median_from_sorted_data (values, 1, n));
      }
    }
}

/* Degrees of freedom that a gauge can have, whole or not, and beyond. GSL's own
 * figures for many degrees of freedom are no better than the wider bound. */
static const double dofs[] = {
  0.5, 1, 1.5, 2, 2.7, 3, 4, 5, 6.25, 8, 9.9, 12, 16.7, 25.6, 30, 49.5, 99.9, 100.1, 199.9, 200.1,
  333,
  1000, 12345.6, 99999, 999999, 1000001, 1e8,
};

static void
test_t_cdf (void)
{
  for (gsize i = 0; i < G_N_ELEMENTS (dofs); i++)
    for (double t = -12; t <= 12; t += 0.0625)
      {
        double ours = bw_stats_t_cdf (t, dofs[i]);
        double gsl = gsl_cdf_tdist_P (t, dofs[i]);

        g_assert_cmpfloat (fabs (ours - gsl), <, dofs[i] < 30 ? 1e-13 : 1e-10);
        if (t < 0 && gsl > 1e-290)
          g_assert_cmpfloat (relative (ours, gsl), <, dofs[i] < 30 ? 1e-11 : 1e-6);
      }

  for (double t = -8; t <= 8; t += 0.0625)
    g_assert_cmpfloat (relative (bw_stats_t_cdf (t, INFINITY), gsl_cdf_ugaussian_P (t)), <, 1e-13);
}

static void
test_t_small (void)
{
  for (gsize i = 0; i < G_N_ELEMENTS (dofs); i++)
    for (double t = 1e-12; t < 0.1; t *= 3)
      {
        double ours = bw_stats_t_cdf (t, dofs[i]) - 0.5;
        double gsl = gsl_cdf_tdist_P (t, dofs[i]) - 0.5;

        g_assert_cmpfloat (fabs (ours - gsl), <, 1e-15 + 1e-9 * t);
      }
}

static void
test_t_quantile (void)
{
  for (gsize i = 0; i < G_N_ELEMENTS (dofs); i++)
    for (double p = 0.0005; p < 1; p += 0.0035)
      {
        double ours = bw_stats_t_quantile (p, dofs[i]);

        /* GSL's inverse is a few digits short in places; its distribution is not */
        g_assert_cmpfloat (fabs (gsl_cdf_tdist_P (ours, dofs[i]) - p), <, 1e-10);
        g_assert_cmpfloat (fabs (ours - gsl_cdf_tdist_Pinv (p, dofs[i])), <,
                           1e-6 * (1 + fabs (ours)));
      }

  for (double p = 0.0005; p < 1; p += 0.0035)
    g_assert_cmpfloat (fabs (bw_stats_t_quantile (p, INFINITY) - gsl_cdf_ugaussian_Pinv (p)), <,
                       1e-12);
}

/* JCGM 100:2008 (the GUM), table G.2: t for 95 % and 99 %. Most rows from memory;
 * 2.12 and 2.92 at 16, and 1.96, read in public programs that quote the table. */
static void
test_table_g2 (void)
{
  const struct
  {
    double dof;
    double t95;
    double t99;
  } rows[] = {
    { 1, 12.71, 63.66 }, { 2, 4.30, 9.92 }, { 3, 3.18, 5.84 }, { 4, 2.78, 4.60 }, { 5, 2.57, 4.03 },
    { 6, 2.45, 3.71 }, { 7, 2.36, 3.50 }, { 8, 2.31, 3.36 }, { 9, 2.26, 3.25 }, { 10, 2.23, 3.17 },
    { 12, 2.18, 3.05 }, { 16, 2.12, 2.92 }, { 20, 2.09, 2.85 }, { 30, 2.04, 2.75 },
    { 50, 2.01, 2.68 },
    { 100, 1.984, 2.626 }, { INFINITY, 1.960, 2.576 },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      double half = rows[i].dof >= 100 ? 0.0005 : 0.005;

      g_assert_cmpfloat (fabs (bw_stats_t_quantile (0.975, rows[i].dof) - rows[i].t95), <,
                         half * 1.02);
      g_assert_cmpfloat (fabs (bw_stats_t_quantile (0.995, rows[i].dof) - rows[i].t99), <,
                         half * 1.02);
    }
}

static void
test_line (void)
{
  for (guint turn = 0; turn < 1000; turn++)
    {
      gsize n = (gsize) g_test_rand_int_range (3, POINTS_MAX + 1);
      double confidence = g_test_rand_double_range (0.5, 0.999);
      double x[POINTS_MAX], y[POINTS_MAX];
      double c0, c1, cov00, cov01, cov11, sumsq;
      BwLine line;

      for (gsize i = 0; i < n; i++)
        {
          x[i] = g_test_rand_double_range (2, 12);
          y[i] = 3 + 0.5 * x[i] + g_test_rand_double_range (-0.3, 0.3);
        }
      g_assert_true (bw_stats_fit_line (x, y, n, &line, NULL));
      gsl_fit_linear (x, 1, y, 1, n, &c0, &c1, &cov00, &cov01, &cov11, &sumsq);
      g_assert_cmpfloat_with_epsilon (line.intercept, c0, 1e-9);
      g_assert_cmpfloat_with_epsilon (line.slope, c1, 1e-10);
      g_assert_cmpfloat (relative (line.residual_sd, sqrt (sumsq / (n - 2))), <, 1e-8);

      for (double at = 0; at < 15; at += 1.7)
        {
          double value, u, half;

          gsl_fit_linear_est (at, c0, c1, cov00, cov01, cov11, &value, &u);
          half = gsl_cdf_tdist_Pinv (0.5 + confidence / 2, n - 2) * sqrt (sumsq / (n - 2) + u * u);
          g_assert_cmpfloat_with_epsilon (bw_stats_line_at (&line, at), value, 1e-9);
          g_assert_cmpfloat (relative (bw_stats_line_u (&line, at), u), <, 1e-6);
          g_assert_cmpfloat (relative (bw_stats_line_prediction (&line, at, confidence), half), <,
                             1e-6);
        }
    }
}

/* --- Non-negative least squares --- */

/* Least squares over the columns in `set`, by GSL; returns the sum of squares,
 * or infinity when a column comes out negative. */
static double
fit_set (const gsl_matrix *a,
         const gsl_vector *b,
         guint             set,
         double           *x)
{
  gsize columns = 0, k = 0;
  gsl_matrix *part;
  gsl_vector *c;
  gsl_matrix *covariance;
  gsl_multifit_linear_workspace *work;
  double sum = 0;
  gboolean fits = TRUE;

  for (gsize j = 0; j < a->size2; j++)
    {
      x[j] = 0;
      columns += (set >> j) & 1;
    }
  if (columns == 0)
    {
      gsl_blas_ddot (b, b, &sum);
      return sum;
    }

  part = gsl_matrix_alloc (a->size1, columns);
  c = gsl_vector_alloc (columns);
  covariance = gsl_matrix_alloc (columns, columns);
  work = gsl_multifit_linear_alloc (a->size1, columns);
  for (gsize j = 0; j < a->size2; j++)
    if ((set >> j) & 1)
      {
        gsl_vector_const_view column = gsl_matrix_const_column (a, j);

        gsl_matrix_set_col (part, k++, &column.vector);
      }
  gsl_multifit_linear (part, b, c, covariance, &sum, work);
  k = 0;
  for (gsize j = 0; j < a->size2; j++)
    if ((set >> j) & 1)
      {
        x[j] = gsl_vector_get (c, k++);
        fits = fits && x[j] >= 0;
      }
  gsl_multifit_linear_free (work);
  gsl_matrix_free (covariance);
  gsl_vector_free (c);
  gsl_matrix_free (part);
  return fits ? sum : INFINITY;
}

static double
squares (const gsl_matrix *a,
         const gsl_vector *b,
         const double     *x)
{
  double sum = 0;

  for (gsize i = 0; i < a->size1; i++)
    {
      double r = gsl_vector_get (b, i);

      for (gsize j = 0; j < a->size2; j++)
        r -= gsl_matrix_get (a, i, j) * x[j];
      sum += r * r;
    }

  return sum;
}

/* The best over every set of columns that may be more than 0, each fitted by
 * GSL: slow, plain, and the same answer. */
static void
assert_best_of_all_sets (const gsl_matrix *a,
                         const gsl_vector *b)
{
  double x[COLUMNS_MAX], candidate[COLUMNS_MAX], best_x[COLUMNS_MAX] = { 0 };
  double best = INFINITY;

  for (guint set = 0; set < (1u << a->size2); set++)
    {
      double sum = fit_set (a, b, set, candidate);

      if (sum < best)
        {
          best = sum;
          for (gsize j = 0; j < a->size2; j++)
            best_x[j] = candidate[j];
        }
    }

  bw_stats_nonnegative_least_squares (a->data, b->data, a->size1, a->size2, x);
  g_assert_cmpfloat_with_epsilon (squares (a, b, x), best, 1e-9 * (1 + best));
  for (gsize j = 0; j < a->size2; j++)
    g_assert_cmpfloat_with_epsilon (x[j], best_x[j], 1e-6 * (1 + fabs (best_x[j])));
}

static void
test_nnls (void)
{
  guint bound = 0;

  for (guint turn = 0; turn < 300; turn++)
    {
      gsize columns = (gsize) g_test_rand_int_range (1, COLUMNS_MAX + 1);
      gsize rows = (gsize) g_test_rand_int_range ((gint32) columns + 1, POINTS_MAX + 1);
      gsl_matrix *a = gsl_matrix_alloc (rows, columns);
      gsl_vector *b = gsl_vector_alloc (rows);
      double x[COLUMNS_MAX];

      for (gsize i = 0; i < rows; i++)
        {
          gsl_vector_set (b, i, g_test_rand_double_range (-1, 3));
          for (gsize j = 0; j < columns; j++)
            gsl_matrix_set (a, i, j, g_test_rand_double_range (-1, 2));
        }
      assert_best_of_all_sets (a, b);
      bound += isinf (fit_set (a, b, (1u << columns) - 1, x));
      gsl_vector_free (b);
      gsl_matrix_free (a);
    }

  /* the bound mattered in a good part of the cases, and not in all */
  g_assert_cmpuint (bound, >, 30);
  g_assert_cmpuint (bound, <, 290);
}

int
main (int   argc,
      char *argv[])
{
  g_test_init (&argc, &argv, NULL);

  g_test_add_func ("/statistics/moments", test_moments);
  g_test_add_func ("/statistics/t/distribution", test_t_cdf);
  g_test_add_func ("/statistics/t/near-zero", test_t_small);
  g_test_add_func ("/statistics/t/quantile", test_t_quantile);
  g_test_add_func ("/statistics/t/table-g2", test_table_g2);
  g_test_add_func ("/statistics/line", test_line);
  g_test_add_func ("/statistics/nnls", test_nnls);

  return g_test_run ();
}
