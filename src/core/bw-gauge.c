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

static gboolean
matches (const BwReading   *reading,
         BwReadingDirection direction,
         gboolean           washed,
         BwLaid             laid)
{
  return reading->direction == direction && (reading->washed != FALSE) == (washed != FALSE) &&
         reading->laid == laid && reading->count > 0 && reading->span_mm > 0;
}

/* Variance of the estimate w = sum of x / sum of n: the ratio estimator of
 * sampling theory, from the residuals x_i - w n_i (Cochran, Sampling
 * Techniques, chapter 6; from memory). With equal counts it is s^2 / k. */
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

/* The tape and the eye are the same for every reading, so their shares do not
 * average out: each span may be off by half a division at the tape, and by a
 * part of a stitch where the edge stitch is judged to begin, rectangular both. */
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
 * combined uncertainty. Type B counts as known exactly (infinite degrees of
 * freedom, GUM G.4.3).
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
  g_autofree const BwReading **kept = g_new (const BwReading *, n_readings + 1);
  double count = 0;
  double span = 0;
  guint k = 0;

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
  side->dof = side->u_type_a > 0 ? (k - 1) * pow (side->u / side->u_type_a, 4) : INFINITY;
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

/* One direction: washed before unwashed, growth between them, stretch within the same state. */
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
  BwGaugeSide after, before, stretched;

  bw_gauge_side_from_readings (readings, n_readings, direction, TRUE, BW_LAID_RELAXED, tape, &after);
  bw_gauge_side_from_readings (readings, n_readings, direction, FALSE, BW_LAID_RELAXED, tape, &before);
  *side = after.mm > 0 ? after : before;
  *washed = after.mm > 0;
  *growth = ratio (&after, &before);

  bw_gauge_side_from_readings (readings, n_readings, direction, *washed, BW_LAID_FULLY_STRETCHED,
                               tape, &stretched);
  *stretch = ratio (&stretched, side);
}

/**
 * bw_gauge_from_readings:
 * @readings: (array length=n_readings): readings of one swatch
 * @n_readings: how many
 * @tape: how sure the tape is
 * @gauge: (out caller-allocates): the gauge
 * @error: return location for an error
 *
 * Washed readings win over unwashed ones; the ratio of the two is the growth.
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
  gboolean washed_rounds;

  memset (gauge, 0, sizeof *gauge);
  settle_side (readings, n_readings, BW_READING_STITCHES, tape, &gauge->stitch, &gauge->washed,
               &gauge->stitch_growth, &gauge->stitch_stretch);
  settle_side (readings, n_readings, BW_READING_ROUNDS, tape, &gauge->round, &washed_rounds,
               &gauge->round_growth, &gauge->round_stretch);
  if (gauge->stitch.mm <= 0)
    gauge->washed = washed_rounds;
  if (gauge->stitch.mm > 0 || gauge->round.mm > 0)
    return TRUE;

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
 * is dropped.
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
      double median, deviation;

      flags[i] = FALSE;
      if (!matches (&readings[i], direction, readings[i].washed, readings[i].laid))
        continue;
      for (gsize j = 0; j < n_readings; j++)
        if (matches (&readings[j], direction, readings[i].washed, readings[i].laid))
          values[n++] = readings[j].span_mm / readings[j].count;

      median = bw_stats_median (values, n);
      for (gsize j = 0; j < n; j++)
        away[j] = fabs (values[j] - median);
      deviation = bw_stats_median (away, n);
      flags[i] = n >= 3 && deviation > 0 &&
                 fabs (readings[i].span_mm / readings[i].count - median) >
                   OUTLIER_DEVIATIONS * deviation;
      flagged += flags[i];
    }

  return flagged;
}

/* --- What people write --- */

static gboolean
fail_stated (GError     **error,
             const char  *text)
{
  g_set_error (error, BW_ERROR, BW_ERROR_SYNTAX,
               "\"%.60s\" cannot be read: write a gauge such as 16 sts and 18 rounds to 10 cm", text);
  return FALSE;
}

/* Where the span starts: behind "to", "=" or "over"; NULL when there is none. */
static const char *
find_span (const char *text,
           const char **end)
{
  static const char *const words[] = { "=", " to ", " over ", " in ", " per " };

  for (guint i = 0; i < G_N_ELEMENTS (words); i++)
    {
      const char *found = strstr (text, words[i]);

      if (found != NULL)
        {
          *end = found;
          return found + strlen (words[i]);
        }
    }

  return NULL;
}

/* One count with its word, "16 sts" or "11.5 rounds". */
static gboolean
read_counted (const char *part,
              double      span_mm,
              BwReading  *stitches,
              BwReading  *rounds)
{
  static const char *const stitch_words[] = { "st", "sts", "stitch", "stitches" };
  static const char *const round_words[] = { "rnd", "rnds", "round", "rounds", "row", "rows" };
  g_auto (GStrv) words = g_strsplit (part, " ", 2);
  double count;

  if (words[0] == NULL || words[1] == NULL || !bw_units_parse_number (words[0], &count, NULL) ||
      count <= 0)
    return FALSE;

  g_strstrip (words[1]);
  for (guint i = 0; i < G_N_ELEMENTS (stitch_words); i++)
    if (stitches->count == 0 && g_ascii_strcasecmp (words[1], stitch_words[i]) == 0)
      {
        *stitches = (BwReading) { BW_READING_STITCHES, count, span_mm, FALSE, BW_LAID_RELAXED };
        return TRUE;
      }
  for (guint i = 0; i < G_N_ELEMENTS (round_words); i++)
    if (rounds->count == 0 && g_ascii_strcasecmp (words[1], round_words[i]) == 0)
      {
        *rounds = (BwReading) { BW_READING_ROUNDS, count, span_mm, FALSE, BW_LAID_RELAXED };
        return TRUE;
      }

  return FALSE;
}

/**
 * bw_gauge_parse_stated:
 * @text: a stated gauge: `16 sts and 18 rounds to 10 cm`, `15 sts x 11.5 rnds = 4 in`,
 *   `27 rows = 10 cm`
 * @stitches: (out caller-allocates): a reading of stitches; count 0 when none is stated
 * @rounds: (out caller-allocates): a reading of rounds; count 0 when none is stated
 * @error: return location for an error
 *
 * Reads a gauge as patterns print it. "4 in = 10 cm" there, so an inch is 25 mm.
 *
 * Returns: FALSE with @error set when @text is not a gauge
 */
gboolean
bw_gauge_parse_stated (const char  *text,
                       BwReading   *stitches,
                       BwReading   *rounds,
                       GError     **error)
{
  const char *end = NULL;
  const char *span = find_span (text, &end);
  g_autofree char *counts = NULL;
  g_autoptr (GRegex) separator = NULL;
  g_auto (GStrv) parts = NULL;
  double span_mm;

  memset (stitches, 0, sizeof *stitches);
  memset (rounds, 0, sizeof *rounds);
  if (span == NULL ||
      !bw_units_parse_length (span, BW_UNITS_CM, BW_MM_PER_INCH_ROUND, &span_mm, NULL) ||
      span_mm <= 0)
    return fail_stated (error, text);

  counts = g_strndup (text, (gsize) (end - text));
  separator = g_regex_new ("\\s+and\\s+|\\s+x\\s+|\\s*,\\s+|\\s*×\\s*|\\s+by\\s+|\\s*&\\s*",
                           G_REGEX_CASELESS, 0, NULL);
  parts = g_regex_split (separator, g_strstrip (counts), 0);
  for (guint i = 0; parts[i] != NULL; i++)
    if (!read_counted (parts[i], span_mm, stitches, rounds))
      return fail_stated (error, text);

  return stitches->count > 0 || rounds->count > 0 || fail_stated (error, text);
}

/**
 * bw_gauge_format:
 * @gauge: a gauge
 * @span_mm: span to state it over: 100, or four inches
 * @units: units to call the span by
 * @mm_per_inch: what an inch counts as
 *
 * Returns: (transfer full): the gauge as people write it:
 *   `16 sts and 18 rounds = 10 cm (± 0.4)`, the interval of the stitches
 */
char *
bw_gauge_format (const BwGauge *gauge,
                 double         span_mm,
                 BwUnits        units,
                 double         mm_per_inch)
{
  g_autofree char *stitches = NULL;
  g_autofree char *rounds = NULL;
  g_autofree char *interval = NULL;
  g_autofree char *span = bw_units_format_length (span_mm, units, mm_per_inch);

  if (gauge->stitch.mm > 0)
    stitches = bw_units_format_number (span_mm / gauge->stitch.mm, 1);
  if (gauge->round.mm > 0)
    rounds = bw_units_format_number (span_mm / gauge->round.mm, 1);

  if (stitches == NULL)
    {
      interval = bw_units_format_number (span_mm / gauge->round.mm * gauge->round.U95 /
                                         gauge->round.mm, 1);
      return g_strdup_printf ("%s rounds = %s (± %s)", rounds, span, interval);
    }

  interval = bw_units_format_number (span_mm / gauge->stitch.mm * gauge->stitch.U95 /
                                     gauge->stitch.mm, 1);
  if (rounds == NULL)
    return g_strdup_printf ("%s sts = %s (± %s)", stitches, span, interval);
  return g_strdup_printf ("%s sts and %s rounds = %s (± %s)", stitches, rounds, span, interval);
}

/**
 * bw_gauge_suggest_hook:
 * @hook_mm: (array length=n): hooks that were swatched, mm
 * @stitch_mm: (array length=n): stitch width with each, mm
 * @n: how many
 * @wanted_stitch_mm: stitch width wanted, mm
 * @extrapolate_mm: how far beyond the swatched hooks an answer may lie, mm
 * @suggested_hook_mm: (out): the hook, mm, not rounded to what is sold
 * @stitch_mm_U95: (out): half-width of the 95 % interval of a stitch made with it, mm
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

  if (!bw_stats_fit_line (hook_mm, stitch_mm, n, &line, error))
    return FALSE;
  if (line.slope <= 0)
    {
      g_set_error (error, BW_ERROR, BW_ERROR_CONFLICT,
                   "The stitches do not get wider with the hook: measure the swatches again");
      return FALSE;
    }

  hook = (wanted_stitch_mm - line.intercept) / line.slope;
  if (hook < line.x_min - extrapolate_mm || hook > line.x_max + extrapolate_mm)
    {
      g_set_error (error, BW_ERROR, BW_ERROR_RANGE,
                   "It would take a hook of about %.1f mm, more than %.1f mm from the hooks of "
                   "%.2g to %.2g mm that were swatched: make a swatch nearer to it",
                   hook, extrapolate_mm, line.x_min, line.x_max);
      return FALSE;
    }

  *suggested_hook_mm = hook;
  *stitch_mm_U95 = bw_stats_line_prediction (&line, hook, COVERAGE);
  return TRUE;
}
