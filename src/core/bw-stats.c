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

/* Continued fraction of the incomplete beta function, by Lentz's method
 * (Abramowitz and Stegun 26.5.8; the recurrence from memory). */
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
  for (int m = 1; m < 2000; m++)
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

/* Regularised incomplete beta function. */
static double
beta_regularised (double a,
                  double b,
                  double x)
{
  double front;

  if (x <= 0)
    return 0;
  if (x >= 1)
    return 1;

  front = exp (log_gamma (a + b) - log_gamma (a) - log_gamma (b) + a * log (x) + b * log1p (-x));
  if (x < (a + 1) / (a + b + 2))
    return front * beta_fraction (a, b, x) / a;
  return 1 - front * beta_fraction (b, a, 1 - x) / b;
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
  double tail;

  if (!(dof < 1e7))
    return 0.5 * erfc (-t / G_SQRT2);

  tail = 0.5 * beta_regularised (dof / 2, 0.5, dof / (dof + t * t));
  return t > 0 ? 1 - tail : tail;
}

/**
 * bw_stats_t_quantile:
 * @p: a probability between 0 and 1, both excluded
 * @dof: degrees of freedom, > 0; INFINITY = the normal distribution
 *
 * Returns: the value that Student's t stays below with probability @p, by
 *   bisection of bw_stats_t_cdf()
 */
double
bw_stats_t_quantile (double p,
                     double dof)
{
  double low = 0;
  double high = 1;

  g_return_val_if_fail (p > 0 && p < 1 && dof > 0, NAN);

  if (p < 0.5)
    return -bw_stats_t_quantile (1 - p, dof);
  while (bw_stats_t_cdf (high, dof) < p && high < 1e12)
    high *= 2;
  for (int i = 0; i < 200 && high - low > 1e-14 * high; i++)
    {
      double middle = (low + high) / 2;

      if (bw_stats_t_cdf (middle, dof) < p)
        low = middle;
      else
        high = middle;
    }

  return (low + high) / 2;
}

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

  if (n < 2 || line->sxx <= 0)
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
 * bw_stats_line_prediction:
 * @line: a fitted line
 * @x: a place
 * @confidence: such as 0.95
 *
 * Returns: half-width of the interval in which one further observation at @x is
 *   expected with that confidence; infinite with two points, which show no scatter
 */
double
bw_stats_line_prediction (const BwLine *line,
                          double        x,
                          double        confidence)
{
  double away = x - line->x_mean;

  if (line->n < 3)
    return INFINITY;
  return bw_stats_t_quantile (0.5 + confidence / 2, line->n - 2) * line->residual_sd *
         sqrt (1 + 1.0 / line->n + away * away / line->sxx);
}

/* --- Non-negative least squares --- */

/* Solves the normal equations restricted to the columns in `passive` by
 * Gaussian elimination with pivoting; columns without information get 0. */
static void
solve_passive (const double   *gram,
               const double   *moment,
               gsize           n,
               const gboolean *passive,
               double         *z)
{
  g_autofree double *m = g_new0 (double, n * (n + 1));

  for (gsize i = 0; i < n; i++)
    {
      for (gsize j = 0; j < n; j++)
        m[i * (n + 1) + j] = passive[i] && passive[j] ? gram[i * n + j] : i == j;
      m[i * (n + 1) + n] = passive[i] ? moment[i] : 0;
    }

  for (gsize c = 0; c < n; c++)
    {
      gsize best = c;

      for (gsize r = c + 1; r < n; r++)
        if (fabs (m[r * (n + 1) + c]) > fabs (m[best * (n + 1) + c]))
          best = r;
      if (fabs (m[best * (n + 1) + c]) < 1e-12)
        continue;
      for (gsize k = 0; k <= n && best != c; k++)
        {
          double swap = m[c * (n + 1) + k];

          m[c * (n + 1) + k] = m[best * (n + 1) + k];
          m[best * (n + 1) + k] = swap;
        }
      for (gsize r = 0; r < n; r++)
        {
          double factor = m[r * (n + 1) + c] / m[c * (n + 1) + c];

          for (gsize k = c; r != c && k <= n; k++)
            m[r * (n + 1) + k] -= factor * m[c * (n + 1) + k];
        }
    }

  for (gsize i = 0; i < n; i++)
    {
      double pivot = m[i * (n + 1) + i];

      z[i] = fabs (pivot) < 1e-12 ? 0 : m[i * (n + 1) + n] / pivot;
    }
}

/* How much of the way from x to z can be gone before something turns negative. */
static double
longest_step (const double   *x,
              const double   *z,
              const gboolean *passive,
              gsize           n)
{
  double step = 1;

  for (gsize i = 0; i < n; i++)
    if (passive[i] && z[i] <= 0)
      step = MIN (step, x[i] > z[i] ? x[i] / (x[i] - z[i]) : 0);

  return step;
}

static gsize
steepest_column (const double   *gram,
                 const double   *moment,
                 const double   *x,
                 const gboolean *passive,
                 gsize           n)
{
  gsize best = n;
  double most = 1e-10;

  for (gsize i = 0; i < n; i++)
    {
      double w = moment[i];

      for (gsize j = 0; j < n; j++)
        w -= gram[i * n + j] * x[j];
      if (!passive[i] && w > most)
        {
          most = w;
          best = i;
        }
    }

  return best;
}

/**
 * bw_stats_nonnegative_least_squares:
 * @a: (array): matrix, row by row
 * @b: (array length=n_rows): right-hand side
 * @n_rows: rows
 * @n_columns: columns
 * @x: (out) (array length=n_columns): the solution
 *
 * Minimises |a x - b| with every x >= 0, by the active-set method of Lawson and
 * Hanson (Solving Least Squares Problems, 1974, chapter 23; from memory).
 */
void
bw_stats_nonnegative_least_squares (const double *a,
                                    const double *b,
                                    gsize         n_rows,
                                    gsize         n_columns,
                                    double       *x)
{
  gsize n = n_columns;
  g_autofree double *gram = g_new0 (double, n * n);
  g_autofree double *moment = g_new0 (double, n);
  g_autofree double *z = g_new0 (double, n);
  g_autofree gboolean *passive = g_new0 (gboolean, n);

  for (gsize i = 0; i < n; i++)
    {
      x[i] = 0;
      for (gsize r = 0; r < n_rows; r++)
        {
          moment[i] += a[r * n + i] * b[r];
          for (gsize j = 0; j < n; j++)
            gram[i * n + j] += a[r * n + i] * a[r * n + j];
        }
    }

  for (gsize round = 0; round < 3 * n + 10; round++)
    {
      gsize next = steepest_column (gram, moment, x, passive, n);
      double step;

      if (next == n)
        return;
      passive[next] = TRUE;
      do
        {
          solve_passive (gram, moment, n, passive, z);
          step = longest_step (x, z, passive, n);
          for (gsize i = 0; i < n; i++)
            {
              x[i] += passive[i] ? step * (z[i] - x[i]) : 0;
              if (passive[i] && step < 1 && x[i] <= 1e-12)
                {
                  passive[i] = FALSE;
                  x[i] = 0;
                }
            }
        }
      while (step < 1);
    }
}
