#define G_LOG_DOMAIN "bw-app"

#include "bw-app-words.h"

#include "bw-swatch-report.h"

#include <stdio.h>

#include "bw-stats.h"
#include "bw-units.h"

#define GAUGE_SPAN_MM 100.0 /* gauge is said over 10 cm */
#define LINE_STEPS    24

static BwLibraryGauge *
gauge_of (BwLibrary              *library,
          const BwLibrarySwatch  *swatch,
          GError                **error)
{
  const BwSwatchSet set = { swatch->yarn, swatch->hook_mm, swatch->fabric };

  return bw_library_gauge (library, &set, &BW_TAPE_DEFAULT, error);
}

/**
 * bw_swatch_report_figure:
 * @value: a figure; 0 = not known
 * @unit: what stands after it
 *
 * Returns: (transfer full): it as it would be typed; empty where it is not known
 */
char *
bw_swatch_report_figure (double      value,
                         const char *unit)
{
  g_autofree char *number = bw_units_format_number (value, 2);

  return value > 0 ? g_strconcat (number, unit, NULL) : g_strdup ("");
}

/**
 * bw_swatch_report_is_day:
 * @text: what was typed
 *
 * Returns: whether it is a day as 2024-05-31, or nothing
 */
gboolean
bw_swatch_report_is_day (const char *text)
{
  int year;
  int month;
  int day;
  char after;

  return *text == '\0' ||
         (sscanf (text, "%4d-%2d-%2d%c", &year, &month, &day, &after) == 3 && day > 0 &&
          month > 0 && year > 0 &&
          g_date_valid_dmy ((GDateDay) day, (GDateMonth) month, (GDateYear) year));
}

/**
 * bw_swatch_report_reading:
 * @placed: a reading
 *
 * Returns: (transfer full): it in words
 */
char *
bw_swatch_report_reading (const BwPlacedReading *placed)
{
  const BwReading *reading = &placed->reading;
  g_autofree char *count = bw_units_format_number (reading->count, 1);
  g_autofree char *span = bw_units_format_number (reading->span_mm, 1);
  GString *out = g_string_new (NULL);

  if (reading->direction == BW_READING_STITCHES)
    g_string_append_printf (out, _("%s stitches in %s mm"), count, span);
  else
    g_string_append_printf (out, _("%s rounds in %s mm"), count, span);
  if (reading->washed)
    g_string_append (out, _(", washed"));
  if (reading->laid == BW_LAID_GENTLY_STRETCHED)
    g_string_append (out, _(", gently stretched"));
  else if (reading->laid == BW_LAID_FULLY_STRETCHED)
    g_string_append (out, _(", fully stretched"));
  if (placed->place != NULL && *placed->place != '\0')
    g_string_append_printf (out, ", %s", placed->place);

  return g_string_free (out, FALSE);
}

static void
append_outliers (GString              *out,
                 const BwLibraryGauge *gauge)
{
  for (guint i = 0; i < gauge->outliers->len; i++)
    {
      const BwSwatchOutlier *outlier = &g_array_index (gauge->outliers, BwSwatchOutlier, i);
      g_autofree char *each = bw_units_format_number (outlier->each_mm, 2);
      g_autofree char *others = bw_units_format_number (outlier->median_mm, 2);

      g_string_append_c (out, '\n');
      g_string_append_printf (out,
                              _("Reading %u stands apart: %s mm each, where the others say %s; it "
                                "is used all the same."), outlier->number, each, others);
    }
}

/**
 * bw_swatch_report_words:
 * @library: the library
 * @swatch: one of its swatches
 *
 * Returns: (transfer full): the gauge with its interval, what it rests on, and
 *   readings that stand apart; why there is none otherwise
 */
char *
bw_swatch_report_words (BwLibrary             *library,
                        const BwLibrarySwatch *swatch)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (BwLibraryGauge) gauge = gauge_of (library, swatch, &error);
  g_autofree char *words = NULL;
  GString *out;

  if (gauge == NULL)
    return g_strdup (error->message);

  words = bw_gauge_format (&gauge->pool.gauge, GAUGE_SPAN_MM, BW_UNITS_CM, BW_MM_PER_INCH);
  out = g_string_new (words);
  g_string_append (out, gauge->pool.gauge.washed ? _(", washed") : _(", not washed"));
  g_string_append_c (out, '\n');
  g_string_append_printf (out, g_dngettext (GETTEXT_PACKAGE, "From %u swatch.", "From %u swatches.",
                                            gauge->swatches->len), gauge->swatches->len);
  if (gauge->pool.by_piece)
    g_string_append (out, _(" The swatches differ by more than their readings do, so each counts "
                            "as one."));
  if (gauge->pool.gauge.stitch.type_b_only)
    g_string_append (out, _(" One reading says nothing about scatter: take some more."));
  append_outliers (out, gauge);

  return g_string_free (out, FALSE);
}

/**
 * bw_swatch_report_readings:
 * @plot: where it is drawn
 * @library: the library
 * @swatch: one of its swatches
 *
 * Shows each reading of a stitch's width, with the mean and its 95 % interval.
 */
void
bw_swatch_report_readings (BwPlot                *plot,
                           BwLibrary             *library,
                           const BwLibrarySwatch *swatch)
{
  g_autoptr (BwLibraryGauge) gauge = gauge_of (library, swatch, NULL);
  g_autoptr (GArray) points = g_array_new (FALSE, FALSE, sizeof (BwPlotPoint));
  BwPlotBand band[2];
  const BwGaugeSide *side = gauge == NULL ? NULL : &gauge->pool.gauge.stitch;

  for (guint i = 0; i < swatch->readings->len; i++)
    {
      const BwReading *reading = &g_array_index (swatch->readings, BwPlacedReading, i).reading;
      BwPlotPoint point = { points->len + 1, reading->span_mm / reading->count };

      if (reading->direction == BW_READING_STITCHES && reading->laid == BW_LAID_RELAXED)
        g_array_append_val (points, point);
    }

  for (guint i = 0; i < 2 && side != NULL; i++)
    band[i] = (BwPlotBand) { i == 0 ? 0.5 : points->len + 0.5, side->mm - side->U95, side->mm,
                             side->mm + side->U95 };

  bw_plot_show (plot, _("Width of a stitch, mm"), _("reading"), _("width of a stitch, mm"),
                (BwPlotPoint *) points->data, points->len, band,
                side == NULL || side->mm <= 0 ? 0 : 2);
}

static guint
make_line (const BwPlotPoint *points,
           guint              n,
           BwPlotBand        *band)
{
  g_autofree double *x = g_new (double, n);
  g_autofree double *y = g_new (double, n);
  BwLine line;

  for (guint i = 0; i < n; i++)
    {
      x[i] = points[i].x;
      y[i] = points[i].y;
    }
  if (n < 3 || !bw_stats_fit_line (x, y, n, &line, NULL))
    return 0;

  for (guint i = 0; i <= LINE_STEPS; i++)
    {
      double hook = line.x_min - BW_HOOK_EXTRAPOLATE_MM +
                    i * (line.x_max - line.x_min + 2 * BW_HOOK_EXTRAPOLATE_MM) / LINE_STEPS;
      double width = bw_stats_line_at (&line, hook);
      double half = bw_stats_line_prediction (&line, hook, 0.95);

      band[i] = (BwPlotBand) { hook, width - half, width, width + half };
    }

  return LINE_STEPS + 1;
}

/**
 * bw_swatch_report_hooks:
 * @plot: where it is drawn
 * @library: the library
 * @swatch: one of its swatches
 *
 * Shows the width of a stitch against the hook, for the swatch's yarn and stitch
 * pattern, with the fitted line and its prediction interval where there are
 * three hooks or more. With one hook there is nothing to see.
 */
void
bw_swatch_report_hooks (BwPlot                *plot,
                        BwLibrary             *library,
                        const BwLibrarySwatch *swatch)
{
  g_autoptr (GArray) hooks = bw_library_hook_gauges (library, swatch->yarn, swatch->fabric,
                                                     &BW_TAPE_DEFAULT, NULL);
  g_autoptr (GArray) points = g_array_new (FALSE, FALSE, sizeof (BwPlotPoint));
  BwPlotBand band[LINE_STEPS + 1];
  guint n_band;

  for (guint i = 0; hooks != NULL && i < hooks->len; i++)
    {
      const BwHookGauge *hook = &g_array_index (hooks, BwHookGauge, i);
      BwPlotPoint point = { hook->hook_mm, hook->pool.gauge.stitch.mm };

      if (point.y > 0)
        g_array_append_val (points, point);
    }

  n_band = make_line ((BwPlotPoint *) points->data, points->len, band);
  bw_plot_show (plot, _("Width of a stitch by hook, mm"), _("hook, mm"),
                _("width of a stitch, mm"), (BwPlotPoint *) points->data,
                points->len < 2 ? 0 : points->len, band, n_band);
}
