#define G_LOG_DOMAIN "bw-core"

#include "bw-stats.h"

#include <math.h>
#include <string.h>

/* Non-negative least squares, apart from the other statistics because it is as
 * long as all of them. */

/* Below this a pivot, or a step towards a better fit, is rounding. Columns and
 * right-hand side are scaled to length 1 first, so that it holds whatever the
 * units are. */
#define NNLS_ROUNDING 1e-12

/* The state of the search. Lawson and Hanson's names: the passive columns are
 * those that may be more than 0. */
typedef struct
{
  gsize     n;
  double   *gram;    /* n by n: products of the scaled columns */
  double   *moment;  /* products of the scaled columns with the right-hand side */
  double   *scale;   /* length of each column */
  double   *x;       /* best so far, scaled */
  double   *z;       /* least squares over the passive columns, not bounded */
  gboolean *passive;
  gboolean *tried;   /* gave no step since x last changed */
} Nnls;

static void
nnls_clear (Nnls *self)
{
  g_free (self->gram);
  g_free (self->moment);
  g_free (self->scale);
  g_free (self->x);
  g_free (self->z);
  g_free (self->passive);
  g_free (self->tried);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Nnls, nnls_clear)

static double
product (const double *a,
         gsize         stride_a,
         const double *b,
         gsize         stride_b,
         gsize         n)
{
  double sum = 0;

  for (gsize i = 0; i < n; i++)
    sum += a[i * stride_a] * b[i * stride_b];

  return sum;
}

/* A column of nothing but 0 gets length 1: it never gains anything, and stays 0. */
static void
nnls_init (Nnls         *self,
           const double *a,
           const double *b,
           gsize         n_rows,
           gsize         n,
           double        b_length)
{
  self->n = n;
  self->gram = g_new0 (double, n * n);
  self->moment = g_new0 (double, n);
  self->scale = g_new0 (double, n);
  self->x = g_new0 (double, n);
  self->z = g_new0 (double, n);
  self->passive = g_new0 (gboolean, n);
  self->tried = g_new0 (gboolean, n);

  for (gsize i = 0; i < n; i++)
    {
      self->scale[i] = sqrt (product (a + i, n, a + i, n, n_rows));
      if (!(self->scale[i] > 0))
        self->scale[i] = 1;
    }
  for (gsize i = 0; i < n; i++)
    {
      self->moment[i] = product (a + i, n, b, 1, n_rows) / self->scale[i] / b_length;
      for (gsize j = 0; j < n; j++)
        self->gram[i * n + j] = product (a + i, n, a + j, n, n_rows) / self->scale[i] /
                                self->scale[j];
    }
}

static gsize
pivot_row (const double *m,
           gsize         n,
           gsize         column)
{
  gsize best = column;

  for (gsize r = column + 1; r < n; r++)
    if (fabs (m[r * (n + 1) + column]) > fabs (m[best * (n + 1) + column]))
      best = r;

  return best;
}

/* Gauss and Jordan's elimination of n equations with their right-hand sides
 * behind them; an unknown that they say nothing about becomes 0. */
static void
solve (double *m,
       gsize   n,
       double *z)
{
  for (gsize c = 0; c < n; c++)
    {
      gsize best = pivot_row (m, n, c);

      if (fabs (m[best * (n + 1) + c]) < NNLS_ROUNDING)
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

      z[i] = fabs (pivot) < NNLS_ROUNDING ? 0 : m[i * (n + 1) + n] / pivot;
    }
}

/* The normal equations of the passive columns; the others are held at 0. */
static void
nnls_solve_passive (Nnls *self)
{
  gsize n = self->n;
  g_autofree double *m = g_new0 (double, n * (n + 1));

  for (gsize i = 0; i < n; i++)
    {
      for (gsize j = 0; j < n; j++)
        m[i * (n + 1) + j] = self->passive[i] && self->passive[j] ? self->gram[i * n + j] : i == j;
      m[i * (n + 1) + n] = self->passive[i] ? self->moment[i] : 0;
    }

  solve (m, n, self->z);
}

/* How much of the way from x to z can be gone before something turns negative,
 * and what would turn first; n when nothing does. */
static double
nnls_longest_step (const Nnls *self,
                   gsize      *blocking)
{
  double step = 1;

  *blocking = self->n;
  for (gsize i = 0; i < self->n; i++)
    if (self->passive[i] && self->z[i] <= 0)
      {
        double own = self->x[i] > 0 ? self->x[i] / (self->x[i] - self->z[i]) : 0;

        if (own > step || (own == step && *blocking < self->n))
          continue;
        step = own;
        *blocking = i;
      }

  return step;
}

/* The column that gains most; n when none gains. */
static gsize
nnls_steepest_column (const Nnls *self)
{
  gsize n = self->n;
  gsize best = n;
  double most = NNLS_ROUNDING;

  for (gsize i = 0; i < n; i++)
    {
      double gain = self->moment[i] - product (self->gram + i * n, 1, self->x, 1, n);

      if (!self->passive[i] && !self->tried[i] && gain > most)
        {
          most = gain;
          best = i;
        }
    }

  return best;
}

/* Goes to the best x over the passive columns, dropping every column on the
 * way that would turn negative; each turn drops one, so it ends. */
static void
nnls_settle (Nnls *self)
{
  gsize blocking;

  do
    {
      double step;

      nnls_solve_passive (self);
      step = nnls_longest_step (self, &blocking);
      for (gsize i = 0; i < self->n; i++)
        if (self->passive[i])
          self->x[i] = MAX (0, self->x[i] + step * (self->z[i] - self->x[i]));
      if (step > 0)
        memset (self->tried, 0, self->n * sizeof *self->tried);
      if (blocking < self->n)
        {
          self->passive[blocking] = FALSE;
          self->tried[blocking] = TRUE;
          self->x[blocking] = 0;
        }
    }
  while (blocking < self->n);
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
 * Hanson (Solving Least Squares Problems, 1974, chapter 23; from memory). Where
 * columns say the same, one solution of the many is given.
 */
void
bw_stats_nonnegative_least_squares (const double *a,
                                    const double *b,
                                    gsize         n_rows,
                                    gsize         n_columns,
                                    double       *x)
{
  g_auto (Nnls) search = { 0 };
  double b_length = sqrt (product (b, 1, b, 1, n_rows));
  gsize next;

  for (gsize i = 0; i < n_columns; i++)
    x[i] = 0;
  if (!(b_length > 0))
    return;

  nnls_init (&search, a, b, n_rows, n_columns, b_length);
  for (gsize turn = 0; turn < 10 * n_columns + 10; turn++)
    {
      next = nnls_steepest_column (&search);
      if (next == n_columns)
        break;
      search.passive[next] = TRUE;
      nnls_settle (&search);
    }

  for (gsize i = 0; i < n_columns; i++)
    x[i] = search.x[i] / search.scale[i] * b_length;
}
