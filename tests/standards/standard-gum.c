#include <glib.h>
#include <math.h>

#include "bw-stats.h"

/* The statistics against the worked examples of the GUM.
 *
 * JCGM 100:2008, Evaluation of measurement data, Guide to the expression of
 * uncertainty in measurement (BIPM and partners), annex H. The document itself
 * was not read. Its figures were READ in copies:
 *   H.1, H.3: "Gauge block measurement (GUM H1)" and "Calibration of a
 *   thermometer (GUM H3)", documentation of GTC, Measurement Standards
 *   Laboratory of New Zealand, gtc.readthedocs.io, which prints data and results
 *   and says that they agree with the numbers in the GUM;
 *   H.1, degrees of freedom and U99: comments beside the test data of a public
 *   Python package of acoustics, which quote H.1.6.
 * What was not read there is marked "from memory". */

/* H.1, an end gauge of 50 mm: shares of the uncertainty, nm, and their degrees
 * of freedom. READ in the GTC documentation: 25 with 18; difference of length
 * 5.8 with 24, 3.9 with 5 and 6.7 with 8; expansion 2.88679 with 50; difference
 * of temperature 16.599 with 2; result 50000838(32). READ in the package's
 * comments: degrees of freedom 25.6 of the difference, of the whole 16.66
 * printed as 16, and U99 = 2.92 * 32 = 93. */
static void
test_h1 (void)
{
  static const double difference_u[] = { 5.8, 3.9, 6.7 };
  static const double difference_dof[] = { 24, 5, 8 };
  double difference = sqrt (5.8 * 5.8 + 3.9 * 3.9 + 6.7 * 6.7);
  double dof_d = bw_stats_effective_dof (difference_u, difference_dof, 3);
  const double u[] = { 25, difference, 2.88679, 16.599 };
  const double dof[] = { 18, dof_d, 50, 2 };
  double effective = bw_stats_effective_dof (u, dof, 4);
  double whole = 0;

  for (guint i = 0; i < 4; i++)
    whole += u[i] * u[i];
  whole = sqrt (whole);

  g_assert_cmpfloat_with_epsilon (difference, 9.7, 0.05);
  /* printed from the rounded 9.7 */
  g_assert_cmpfloat_with_epsilon (dof_d * pow (9.7 / difference, 4), 25.6, 0.05);
  g_assert_cmpfloat_with_epsilon (whole, 32, 0.5);
  /* its shares were rounded too, to 9.7, 2.9 and 16.7 */
  g_assert_cmpfloat_with_epsilon (effective, 16.66, 0.15);
  g_assert_cmpfloat (floor (effective), ==, 16);
  g_assert_cmpfloat_with_epsilon (bw_stats_t_quantile (0.995, 16), 2.92, 0.005);
  g_assert_cmpfloat_with_epsilon (32 * bw_stats_t_quantile (0.995, 16), 93, 0.5);
}

/* The same with the shares as they were printed. */
static void
test_h1_as_printed (void)
{
  const double u[] = { 25, 9.7, 2.9, 16.7 };
  const double dof[] = { 18, 25.6, 50, 2 };

  g_assert_cmpfloat_with_epsilon (bw_stats_effective_dof (u, dof, 4), 16.66, 0.15);
}

/* G.4.1: equal shares with ten degrees of freedom each have forty together.
 * READ in the package's comments. */
static void
test_g4 (void)
{
  const double u[] = { 1, 1, 1, 1 };
  const double dof[] = { 10, 10, 10, 10 };

  g_assert_cmpfloat_with_epsilon (bw_stats_effective_dof (u, dof, 4), 40, 1e-12);
}

/* H.3, table H.6: READ in the GTC documentation, data and results: intercept
 * -0.1712(29), slope 0.00218(67), correlation -0.93, correction at 30 degrees
 * -0.1494(41), sum of squared residuals 0.000110096583109. */
static void
test_h3 (void)
{
  static const double t[] = { 21.521, 22.012, 22.512, 23.003, 23.507, 23.999,
                              24.513, 25.002, 25.503, 26.010, 26.511 };
  static const double b[] = { -0.171, -0.169, -0.166, -0.159, -0.164, -0.165,
                              -0.156, -0.157, -0.159, -0.161, -0.160 };
  double above_20[11];
  double u_intercept, u_slope;
  BwLine line;

  for (guint i = 0; i < 11; i++)
    above_20[i] = t[i] - 20;
  g_assert_true (bw_stats_fit_line (above_20, b, 11, &line, NULL));
  u_intercept = bw_stats_line_u (&line, 0);
  u_slope = line.residual_sd / sqrt (line.sxx);

  g_assert_cmpfloat_with_epsilon (line.intercept, -0.1712, 0.00005);
  g_assert_cmpfloat_with_epsilon (u_intercept, 0.0029, 0.00005);
  g_assert_cmpfloat_with_epsilon (line.slope, 0.00218, 0.000005);
  g_assert_cmpfloat_with_epsilon (u_slope, 0.00067, 0.000005);
  g_assert_cmpfloat_with_epsilon (line.residual_sd * line.residual_sd * 9, 0.000110096583109,
                                  1e-15);
  /* covariance of intercept and slope is -mean * u_slope^2 */
  g_assert_cmpfloat_with_epsilon (-line.x_mean * u_slope / u_intercept, -0.93, 0.005);
  g_assert_cmpfloat_with_epsilon (bw_stats_line_at (&line, 10), -0.1494, 0.00005);
  g_assert_cmpfloat_with_epsilon (bw_stats_line_u (&line, 10), 0.0041, 0.00005);
  g_assert_cmpfloat_with_epsilon (line.residual_sd, 0.0035, 0.00005); /* from memory */
}

int
main (int    argc,
      char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/gum/h1", test_h1);
  g_test_add_func ("/gum/h1-as-printed", test_h1_as_printed);
  g_test_add_func ("/gum/g4", test_g4);
  g_test_add_func ("/gum/h3", test_h3);
  return g_test_run ();
}
