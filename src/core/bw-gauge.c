#define G_LOG_DOMAIN "bw-core"

#include "bw-gauge.h"

#include <math.h>
#include <string.h>

#include "bw-error.h"
#include "bw-units.h"

/* The evaluation of uncertainty follows JCGM 100:2008 (the GUM): 4.2 for type
 * A, 4.3.7 for a rectangular distribution, 5.1.2 for combining, G.4 for the
 * effective degrees of freedom, G.3 for the coverage factor. */

#define COVERAGE 0.95

/* A reading further from the median than this many median deviations is flagged. */
#define OUTLIER_DEVIATIONS 3

/* What a tape divided into millimetres can tell apart, mm of a span. */
#define LEAST_DEVIATION_MM 0.5

/* A reading of nothing, or of no length, matches never. */
static gboolean
matches (const BwReading   *reading,
         BwReadingDirection direction,
         gboolean           washed,
         BwLaid             laid)
{
  return reading->direction == direction && (reading->washed != FALSE) == (washed != FALSE) &&
         reading->laid == laid && reading->count > 0 && reading->span_mm > 0 &&
         isfinite (reading->count) && isfinite (reading->span_mm);
}

/* Standard uncertainty of the estimate w = sum of x / sum of n from the scatter
 * of k readings: that of the ratio estimator of sampling theory, from the
 * residuals x_i - w n_i (Cochran, Sampling Techniques, chapter 6; from memory),
 *
 *   u^2 = k / (k - 1) * sum of (x_i - w n_i)^2 / (sum of n)^2
 *
 * With equal counts it is s^2 / k, the variance of a mean. */
static double
type_a (const BwReading *const *readings,
        guint                   k,
        double                  w,
        double                  total_count)
{
  double sum = 0;

  for (guint i = 0; i < k; i++)
    {
      double residual = readings[i]->span_mm - w * readings[i]->count;

      sum += residual * residual;
    }

  return k < 2 ? 0 : sqrt (k * sum / (k - 1)) / total_count;
}

/* A span may be off by half a division of the tape, and by a part of a stitch
 * where its edge stitch is judged to begin; rectangular both, so divided by the
 * root of 3 (GUM 4.3.7). The same tape and the same eye take every reading, so
 * the errors count as fully correlated: they do not average out, and more
 * readings of the same span do not lessen them. Longer spans do. Where they are
 * in truth partly independent, the scatter shows that part a second time, and
 * the result is on the safe side. */
static double
type_b (guint         k,
        double        w,
        double        total_count,
        const BwTape *tape)
{
  double mean_count = total_count / k;
  double tape_u = tape->tape_division_mm / 2 / sqrt (3) / mean_count;
  double edge_u = tape->edge_stitches * w / sqrt (3) / mean_count;

  return sqrt (tape_u * tape_u + edge_u * edge_u);
}

/* Type B counts as known exactly (GUM G.4.3). */
static double
effective_dof (const BwGaugeSide *side,
               guint              k)
{
  const double u[] = { side->u_type_a, side->u_type_b };
  const double dof[] = { k - 1.0, INFINITY };

  return k > 1 ? bw_stats_effective_dof (u, dof, 2) : INFINITY;
}

/**
 * bw_gauge_side_from_readings:
 * @readings: (array length=n_readings): readings of one swatch, of every kind
 * @n_readings: how many
 * @direction: the direction wanted
 * @washed: take washed readings, else unwashed ones
 * @laid: as it was laid
 * @tape: how sure the tape is
 * @side: (out caller-allocates): the size of one stitch or round, mm
 *
 * Estimates the size of a stitch or round as the ratio of sums, with its
 * combined uncertainty.
 *
 * Returns: FALSE when no reading is of that kind; @side is then all zero
 */
gboolean
bw_gauge_side_from_readings (const BwReading    *readings,
                             gsize               n_readings,
                             BwReadingDirection  direction,
                             gboolean            washed,
                             BwLaid              laid,
                             const BwTape       *tape,
                             BwGaugeSide        *side)
{
  g_autofree const BwReading **kept = NULL;
  double count = 0;
  double span = 0;
  guint k = 0;

  g_return_val_if_fail (readings != NULL || n_readings == 0, FALSE);
  g_return_val_if_fail (tape != NULL && side != NULL, FALSE);

  kept = g_new (const BwReading *, n_readings + 1);
  memset (side, 0, sizeof *side);
  for (gsize i = 0; i < n_readings; i++)
    if (matches (&readings[i], direction, washed, laid))
      {
        kept[k++] = &readings[i];
        count += readings[i].count;
        span += readings[i].span_mm;
      }
  if (k == 0)
    return FALSE;

  side->n_readings = k;
  side->type_b_only = k == 1;
  side->mm = span / count;
  side->u_type_a = type_a (kept, k, side->mm, count);
  side->u_type_b = type_b (k, side->mm, count, tape);
  side->u = sqrt (side->u_type_a * side->u_type_a + side->u_type_b * side->u_type_b);
  side->dof = effective_dof (side, k);
  side->coverage = bw_stats_t_quantile (0.5 + COVERAGE / 2, side->dof);
  side->U95 = side->coverage * side->u;
  return TRUE;
}

static double
ratio (const BwGaugeSide *over,
       const BwGaugeSide *under)
{
  return over->mm > 0 && under->mm > 0 ? over->mm / under->mm : 0;
}

/* One direction: washed before unwashed, growth between the two. The stretch
 * is a ratio within one state; washed before unwashed too. */
static void
settle_side (const BwReading    *readings,
             gsize               n_readings,
             BwReadingDirection  direction,
             const BwTape       *tape,
             BwGaugeSide        *side,
             gboolean           *washed,
             double             *growth,
             double             *stretch)
{
  BwGaugeSide relaxed[2], stretched[2]; /* unwashed, washed */

  for (guint i = 0; i < 2; i++)
    {
      bw_gauge_side_from_readings (readings, n_readings, direction, i == 1, BW_LAID_RELAXED, tape,
                                   &relaxed[i]);
      bw_gauge_side_from_readings (readings, n_readings, direction, i == 1,
                                   BW_LAID_FULLY_STRETCHED, tape, &stretched[i]);
    }

  *washed = relaxed[1].mm > 0;
  *side = relaxed[*washed ? 1 : 0];
  *growth = ratio (&relaxed[1], &relaxed[0]);
  *stretch = ratio (&stretched[1], &relaxed[1]);
  if (*stretch <= 0)
    *stretch = ratio (&stretched[0], &relaxed[0]);
}

/**
 * bw_gauge_from_readings:
 * @readings: (array length=n_readings): readings of one swatch
 * @n_readings: how many
 * @tape: how sure the tape is
 * @gauge: (out caller-allocates): the gauge
 * @error: return location for an error
 *
 * Washed readings win over unwashed ones, in each direction by itself; the
 * ratio of the two is the growth. The gauge counts as washed when all that is
 * known of it is.
 *
 * Returns: FALSE with @error set when there is no relaxed reading at all
 */
gboolean
bw_gauge_from_readings (const BwReading  *readings,
                        gsize             n_readings,
                        const BwTape     *tape,
                        BwGauge          *gauge,
                        GError          **error)
{
  gboolean washed_stitches, washed_rounds;

  g_return_val_if_fail (tape != NULL && gauge != NULL, FALSE);

  memset (gauge, 0, sizeof *gauge);
  settle_side (readings, n_readings, BW_READING_STITCHES, tape, &gauge->stitch, &washed_stitches,
               &gauge->stitch_growth, &gauge->stitch_stretch);
  settle_side (readings, n_readings, BW_READING_ROUNDS, tape, &gauge->round, &washed_rounds,
               &gauge->round_growth, &gauge->round_stretch);
  gauge->washed = (washed_stitches || gauge->stitch.mm <= 0) &&
                  (washed_rounds || gauge->round.mm <= 0);
  if (gauge->stitch.mm > 0 || gauge->round.mm > 0)
    return TRUE;

  gauge->washed = FALSE;
  g_set_error (error, BW_ERROR, BW_ERROR_MISSING,
               "There is no relaxed reading: measure a span of stitches or rounds");
  return FALSE;
}

/**
 * bw_gauge_outliers:
 * @readings: (array length=n_readings): readings
 * @n_readings: how many
 * @direction: the direction looked at
 * @flags: (out) (array length=n_readings): TRUE for a reading that stands apart
 *
 * Flags readings further from the median than three times the median
 * deviation. They are compared within the same state and laying only; nothing
 * is dropped. A deviation below half a millimetre of the span counts as that
 * much, because readings to the millimetre often agree exactly, and one that is
 * a millimetre off does not stand apart.
 *
 * Returns: how many are flagged
 */
gsize
bw_gauge_outliers (const BwReading    *readings,
                   gsize               n_readings,
                   BwReadingDirection  direction,
                   gboolean           *flags)
{
  g_autofree double *values = g_new (double, n_readings + 1);
  g_autofree double *away = g_new (double, n_readings + 1);
  gsize flagged = 0;

  for (gsize i = 0; i < n_readings; i++)
    {
      gsize n = 0;
      double median, deviation, here;

      flags[i] = FALSE;
      if (!matches (&readings[i], direction, readings[i].washed, readings[i].laid))
        continue;
      for (gsize j = 0; j < n_readings; j++)
        if (matches (&readings[j], direction, readings[i].washed, readings[i].laid))
          values[n++] = readings[j].span_mm / readings[j].count;

      median = bw_stats_median (values, n);
      for (gsize j = 0; j < n; j++)
        away[j] = fabs (values[j] - median);
      here = readings[i].span_mm / readings[i].count;
      deviation = MAX (bw_stats_median (away, n), LEAST_DEVIATION_MM / readings[i].count);
      flags[i] = n >= 3 && fabs (here - median) > OUTLIER_DEVIATIONS * deviation;
      flagged += flags[i];
    }

  return flagged;
}

/* --- Hooks --- */

static gboolean
fail_hook (GError       **error,
           const BwLine  *line,
           double         hook,
           double         extrapolate_mm)
{
  g_autofree char *wanted = bw_units_format_number (hook, 1);
  g_autofree char *limit = bw_units_format_number (extrapolate_mm, 2);
  g_autofree char *least = bw_units_format_number (line->x_min, 2);
  g_autofree char *most = bw_units_format_number (line->x_max, 2);

  g_set_error (error, BW_ERROR, BW_ERROR_RANGE,
               "It would take a hook of about %s mm, more than %s mm from the hooks of %s to "
               "%s mm that were swatched: make a swatch nearer to it", wanted, limit, least, most);
  return FALSE;
}

/**
 * bw_gauge_suggest_hook:
 * @hook_mm: (array length=n): hooks that were swatched, mm
 * @stitch_mm: (array length=n): stitch width with each, mm
 * @n: how many
 * @wanted_stitch_mm: stitch width wanted, mm
 * @extrapolate_mm: how far beyond the swatched hooks an answer may lie, mm;
 *   BW_HOOK_EXTRAPOLATE_MM if there is no reason for another limit
 * @suggested_hook_mm: (out): the hook, mm, not rounded to what is sold
 * @stitch_mm_U95: (out): half-width of the 95 % interval in which the stitch width
 *   of one more swatch made with it is expected, mm; infinite with two swatches
 * @error: return location for an error
 *
 * Fits a line of stitch width against hook size and reads it backwards.
 *
 * Returns: FALSE with @error set when the answer lies too far from what was
 *   swatched, or the widths do not grow with the hook
 */
gboolean
bw_gauge_suggest_hook (const double  *hook_mm,
                       const double  *stitch_mm,
                       gsize          n,
                       double         wanted_stitch_mm,
                       double         extrapolate_mm,
                       double        *suggested_hook_mm,
                       double        *stitch_mm_U95,
                       GError       **error)
{
  BwLine line;
  double hook;

  g_return_val_if_fail (extrapolate_mm >= 0, FALSE);

  if (!bw_stats_fit_line (hook_mm, stitch_mm, n, &line, error))
    return FALSE;
  if (line.slope <= 0)
    {
      g_set_error (error, BW_ERROR, BW_ERROR_CONFLICT,
                   "The stitches do not get wider with the hook: measure the swatches again");
      return FALSE;
    }

  hook = (wanted_stitch_mm - line.intercept) / line.slope;
  if (!(hook >= line.x_min - extrapolate_mm && hook <= line.x_max + extrapolate_mm))
    return fail_hook (error, &line, hook, extrapolate_mm);

  *suggested_hook_mm = hook;
  *stitch_mm_U95 = bw_stats_line_prediction (&line, hook, COVERAGE);
  return TRUE;
}
