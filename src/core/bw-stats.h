#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* The little statistics that a gauge needs; nothing here knows about yarn. */

/* A straight line y = intercept + slope * x by least squares. */
typedef struct
{
  guint  n;
  double intercept;
  double slope;
  double residual_sd; /* with n - 2 degrees of freedom; 0 when n == 2 */
  double x_mean;
  double x_min;
  double x_max;
  double sxx;         /* sum of squared deviations of x */
} BwLine;

double   bw_stats_mean              (const double *values,
                                     gsize         n);
double   bw_stats_sd                (const double *values,
                                     gsize         n);
double   bw_stats_median            (const double *values,
                                     gsize         n);
double   bw_stats_t_cdf             (double        t,
                                     double        dof);
double   bw_stats_t_quantile        (double        p,
                                     double        dof);
double   bw_stats_effective_dof     (const double *u,
                                     const double *dof,
                                     gsize         n);
gboolean bw_stats_fit_line          (const double *x,
                                     const double *y,
                                     gsize         n,
                                     BwLine       *line,
                                     GError      **error);
double   bw_stats_line_at           (const BwLine *line,
                                     double        x);
double   bw_stats_line_u            (const BwLine *line,
                                     double        x);
double   bw_stats_line_prediction   (const BwLine *line,
                                     double        x,
                                     double        confidence);
void     bw_stats_nonnegative_least_squares
                                    (const double *a,
                                     const double *b,
                                     gsize         n_rows,
                                     gsize         n_columns,
                                     double       *x);

G_END_DECLS
