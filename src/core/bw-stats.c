#define G_LOG_DOMAIN "bw-core"

#include "bw-stats.h"

#include <math.h>
#include <string.h>

#include "bw-error.h"

/**
 * bw_stats_mean:
 * @values: (array length=n): values
 * @n: how many, >= 1
 *
 * Returns: their arithmetic mean
 */
double
bw_stats_mean (const double *values,
               gsize         n)
{
  double sum = 0;

  for (gsize i = 0; i < n; i++)
    sum += values[i];

  return n > 0 ? sum / n : 0;
}

/**
 * bw_stats_sd:
 * @values: (array length=n): values
 * @n: how many
 *
 * Returns: their standard deviation with n - 1; 0 for fewer than two
 */
double
bw_stats_sd (const double *values,
             gsize         n)
{
  double mean = bw_stats_mean (values, n);
  double sum = 0;

  if (n < 2)
    return 0;
  for (gsize i = 0; i < n; i++)
    sum += (values[i] - mean) * (values[i] - mean);

  return sqrt (sum / (n - 1));
}

static int
compare_doubles (gconstpointer a,
                 gconstpointer b)
{
  double x = *(const double *) a;
  double y = *(const double *) b;

  return (x > y) - (x < y);
}

/**
 * bw_stats_median:
 * @values: (array length=n): values
 * @n: how many
 *
 * Returns: their median, the mean of the middle two for an even count; 0 for none
 */
double
bw_stats_median (const double *values,
                 gsize         n)
{
  g_autofree double *sorted = g_memdup2 (values, n * sizeof *values);

  if (n == 0)
    return 0;
  qsort (sorted, n, sizeof *sorted, compare_doubles);
  return n % 2 == 1 ? sorted[n / 2] : (sorted[n / 2 - 1] + sorted[n / 2]) / 2;
}

/* --- Student's t --- */

/* Above so many degrees of freedom the normal distribution with its first
 * correction is as good as the exact figure, and quicker. */
#define DOF_LARGE 1e7

/* Continued fraction of the incomplete beta function, by Lentz's method
 * (Abramowitz and Stegun 26.5.8; the recurrence from memory). It settles after
 * about as many steps as the root of the larger parameter. */
static double
beta_fraction (double a,
               double b,
               double x)
{
  const double tiny = 1e-300;
  double c = 1;
  double d = 1 - (a + b) * x / (a + 1);
  double h;

  d = fabs (d) < tiny ? 1 / tiny : 1 / d;
  h = d;
  for (int m = 1; m < 4000; m++)
    {
      double even = m * (b - m) * x / ((a + 2 * m - 1) * (a + 2 * m));
      double odd = -(a + m) * (a + b + m) * x / ((a + 2 * m) * (a + 2 * m + 1));
      double step;

      d = 1 + even * d;
      c = 1 + even / c;
      d = 1 / (fabs (d) < tiny ? tiny : d);
      c = fabs (c) < tiny ? tiny : c;
      h *= c * d;

      d = 1 + odd * d;
      c = 1 + odd / c;
      d = 1 / (fabs (d) < tiny ? tiny : d);
      c = fabs (c) < tiny ? tiny : c;
      step = c * d;
      h *= step;
      if (fabs (step - 1) < 1e-15)
        break;
    }

  return h;
}

/* lgamma() keeps the sign of its result in a global; the arguments here are
 * positive, so Lanczos' series is all that is needed (g = 7, nine terms;
 * coefficients from memory, checked against GSL in the tests). */
static double
log_gamma (double x)
{
  static const double c[] = {
    0.99999999999980993, 676.5203681218851, -1259.1392167224028, 771.32342877765313,
    -176.61502916214059, 12.507343278686905, -0.13857109526572012, 9.9843695780195716e-6,
    1.5056327351493116e-7,
  };
  double t, sum = c[0];

  if (x < 0.5)
    return log (G_PI / sin (G_PI * x)) - log_gamma (1 - x);

  x -= 1;
  t = x + 7.5;
  for (int i = 1; i < 9; i++)
    sum += c[i] / (x + i);
  return 0.5 * log (2 * G_PI) + (x + 0.5) * log (t) - t + log (sum);
}

/* ln (gamma (a + 1/2) / gamma (a)); for a large a by its own series, because the
 * difference of two large logarithms would lose the digits. */
static double
log_gamma_half_step (double a)
{
  if (a < 100)
    return log_gamma (a + 0.5) - log_gamma (a);

  return 0.5 * log (a) - 1 / (8 * a) + 1 / (192 * a * a * a);
}

/* Probability that Student's t is more than t >= 0: half the regularised
 * incomplete beta function of dof / (dof + t^2) with parameters dof / 2 and 1/2
 * (Abramowitz and Stegun 26.7.1). Written in r^2 = t^2 / dof, so that neither
 * a small nor a large t is lost beside 1. */
static double
t_tail (double t,
        double dof)
{
  double a = dof / 2;
  double r = t / sqrt (dof);
  double r2 = r * r;
  double log_r = log (t) - 0.5 * log (dof);
  double front;

  if (dof >= DOF_LARGE)
    return 0.5 * erfc (t / G_SQRT2) +
           (isinf (t) ? 0 : exp (-t * t / 2) / sqrt (2 * G_PI) * (t * t * t + t) / (4 * dof));
  if (isinf (t))
    return 0;
  if (r2 <= 0)
    return 0.5;

  /* r^2 may be beyond what a double holds where the tail is still to be seen */
  front = exp (log_gamma_half_step (a) - 0.5 * log (G_PI) + log_r -
               (a + 0.5) * (r > 1e10 ? 2 * log_r : log1p (r2)));
  if (r2 > 1.5 / (a + 1))
    return 0.5 * front * beta_fraction (a, 0.5, 1 / (1 + r2)) / a;
  return 0.5 - front * beta_fraction (0.5, a, r2 / (1 + r2));
}

/**
 * bw_stats_t_cdf:
 * @t: a value
 * @dof: degrees of freedom, > 0, whole or not; INFINITY = the normal distribution
 *
 * Returns: probability that Student's t is at most @t
 */
double
bw_stats_t_cdf (double t,
                double dof)
{
  g_return_val_if_fail (dof > 0, NAN);

  return t > 0 ? 1 - t_tail (t, dof) : t_tail (-t, dof);
}

/**
 * bw_stats_t_quantile:
 * @p: a probability between 0 and 1, both excluded
 * @dof: degrees of freedom, > 0; INFINITY = the normal distribution
 *
 * Returns: the value that Student's t stays below with probability @p, by
 *   bisection; infinite where no double is that large
 */
double
bw_stats_t_quantile (double p,
                     double dof)
{
  double tail = MIN (p, 1 - p);
  double low = 0;
  double high = 1;

  g_return_val_if_fail (p > 0 && p < 1 && dof > 0, NAN);

  if (tail >= 0.5)
    return 0;
  while (t_tail (high, dof) > tail && isfinite (high))
    {
      low = high;
      high *= 2;
    }
  for (int i = 0; i < 200 && high - low > 1e-15 * high; i++)
    {
      double middle = low + (high - low) / 2;

      if (t_tail (middle, dof) > tail)
        low = middle;
      else
        high = middle;
    }

  return (p < 0.5 ? -1 : 1) * (low + (high - low) / 2);
}

/**
 * bw_stats_effective_dof:
 * @u: (array length=n): standard uncertainties that are combined in quadrature
 * @dof: (array length=n): degrees of freedom of each, > 0; INFINITY = exactly known
 * @n: how many
 *
 * Returns: effective degrees of freedom of the combined uncertainty after
 *   Welch and Satterthwaite (JCGM 100:2008, G.4.1); INFINITY when every share
 *   that is not 0 is exactly known
 */
double
bw_stats_effective_dof (const double *u,
                        const double *dof,
                        gsize         n)
{
  double variance = 0;
  double shares = 0;

  for (gsize i = 0; i < n; i++)
    if (u[i] > 0)
      {
        variance += u[i] * u[i];
        shares += pow (u[i], 4) / dof[i];
      }

  return shares > 0 ? variance * variance / shares : INFINITY;
}

/* --- A straight line --- */

/**
 * bw_stats_fit_line:
 * @x: (array length=n): abscissae
 * @y: (array length=n): ordinates
 * @n: how many points, >= 2
 * @line: (out caller-allocates): the line
 * @error: return location for an error
 *
 * Fits a straight line by ordinary least squares (JCGM 100:2008, H.3).
 *
 * Returns: FALSE with @error set when fewer than two different @x are given
 */
gboolean
bw_stats_fit_line (const double  *x,
                   const double  *y,
                   gsize          n,
                   BwLine        *line,
                   GError       **error)
{
  double y_mean = bw_stats_mean (y, n);
  double sxy = 0;
  double residuals = 0;

  memset (line, 0, sizeof *line);
  line->n = (guint) n;
  line->x_mean = bw_stats_mean (x, n);
  line->x_min = n > 0 ? x[0] : 0;
  line->x_max = line->x_min;
  for (gsize i = 0; i < n; i++)
    {
      line->sxx += (x[i] - line->x_mean) * (x[i] - line->x_mean);
      sxy += (x[i] - line->x_mean) * (y[i] - y_mean);
      line->x_min = MIN (line->x_min, x[i]);
      line->x_max = MAX (line->x_max, x[i]);
    }

  if (n < 2 || !(line->x_max > line->x_min))
    {
      g_set_error (error, BW_ERROR, BW_ERROR_MISSING,
                   "A line needs values at two different places at least");
      return FALSE;
    }

  line->slope = sxy / line->sxx;
  line->intercept = y_mean - line->slope * line->x_mean;
  for (gsize i = 0; i < n; i++)
    {
      double residual = y[i] - bw_stats_line_at (line, x[i]);

      residuals += residual * residual;
    }
  line->residual_sd = n > 2 ? sqrt (residuals / (n - 2)) : 0;
  return TRUE;
}

/**
 * bw_stats_line_at:
 * @line: a line
 * @x: a place
 *
 * Returns: its value there
 */
double
bw_stats_line_at (const BwLine *line,
                  double        x)
{
  return line->intercept + line->slope * x;
}

/**
 * bw_stats_line_u:
 * @line: a fitted line
 * @x: a place
 *
 * Returns: standard uncertainty of the line's value there, from the scatter of
 *   the points about it, with n - 2 degrees of freedom (JCGM 100:2008, H.3.4);
 *   infinite with two points, which show no scatter
 */
double
bw_stats_line_u (const BwLine *line,
                 double        x)
{
  double away = x - line->x_mean;

  if (line->n < 3)
    return INFINITY;
  return line->residual_sd * sqrt (1.0 / line->n + away * away / line->sxx);
}

/**
 * bw_stats_line_prediction:
 * @line: a fitted line
 * @x: a place
 * @confidence: between 0 and 1, such as 0.95
 *
 * Returns: half-width of the interval in which one further observation at @x is
 *   expected with that confidence; infinite with two points, which show no scatter
 */
double
bw_stats_line_prediction (const BwLine *line,
                          double        x,
                          double        confidence)
{
  double u = bw_stats_line_u (line, x);

  if (line->n < 3)
    return INFINITY;
  return bw_stats_t_quantile (0.5 + confidence / 2, line->n - 2) *
         sqrt (line->residual_sd * line->residual_sd + u * u);
}
