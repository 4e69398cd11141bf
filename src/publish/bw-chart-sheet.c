#define G_LOG_DOMAIN "bw-publish"

#include "bw-chart-private.h"
#include "bw-tone.h"

/* The whole chart on one sheet: title, panels, key. */

/* Text at a place, drawn where there is a context; returns its height. */
static double
run_text (const BwChartStyle *style,
          cairo_t            *cr,
          double              size_mm,
          gboolean            bold,
          double              x,
          double              y,
          double              width,
          const char         *text)
{
  double high;

  if (text[0] == '\0')
    return 0;
  high = bw_chart_text_height (style, size_mm, width, text);
  if (cr != NULL)
    {
      bw_rgb_source (cr, style->ink, 1);
      bw_chart_text_draw (cr, style, size_mm, bold, BW_CHART_TEXT_LEFT, x, y + high / 2, width,
                          text);
    }
  return high;
}

/* A panel with its title and caption; returns the height of it all. */
static double
run_panel (const BwChart      *chart,
           const BwChartStyle *style,
           cairo_t            *cr,
           guint               index,
           double              x,
           double              top,
           double              width)
{
  const BwChartPanel *panel = BW_CHART_PANEL (chart, index);
  double y = top;
  double wide, high;

  y += run_text (style, cr, 1.25 * style->text_mm, TRUE, x, y, width, panel->title);
  y += run_text (style, cr, style->text_mm, FALSE, x, y, width, panel->caption);
  bw_chart_panel_get_size (chart, index, style, &wide, &high);
  if (cr != NULL)
    {
      cairo_save (cr);
      cairo_translate (cr, x, y);
      bw_chart_panel_draw (chart, index, cr, style);
      cairo_restore (cr);
    }
  return y + high - top;
}

static double
panel_width (const BwChart      *chart,
             guint               panel,
             const BwChartStyle *style)
{
  double width, height;

  bw_chart_panel_get_size (chart, panel, style, &width, &height);
  return width;
}

/* Panels from `first` on that stand side by side: two where both are narrow. */
static guint
panels_in_line (const BwChart      *chart,
                const BwChartStyle *style,
                guint               first)
{
  double half = (style->width_mm - 2 * style->text_mm) / 2;

  return first + 1 < chart->panels->len && panel_width (chart, first, style) <= half &&
         panel_width (chart, first + 1, style) <= half ? 2 : 1;
}

static void
run_chart (const BwChart      *chart,
           const BwChartStyle *style,
           cairo_t            *cr,
           double             *width,
           double             *height)
{
  double gap = style->text_mm;
  double wide, high;
  double y = 0;

  *width = style->width_mm;
  y += run_text (style, cr, 1.6 * style->text_mm, TRUE, 0, y, *width, chart->title) + gap;
  for (guint i = 0, n; i < chart->panels->len; i += n)
    {
      double tallest = 0;

      n = panels_in_line (chart, style, i);
      for (guint j = 0; j < n; j++)
        {
          double room = n > 1 ? style->width_mm / 2 - gap : style->width_mm;

          high = run_panel (chart, style, cr, i + j, j * style->width_mm / 2, y, room);
          tallest = MAX (tallest, high);
          *width = MAX (*width, panel_width (chart, i + j, style));
        }
      y += tallest + gap;
    }

  bw_chart_key_get_size (chart, style, &wide, &high);
  if (cr != NULL)
    {
      cairo_save (cr);
      cairo_translate (cr, 0, y);
      bw_chart_key_draw (chart, cr, style);
      cairo_restore (cr);
    }
  *width = MAX (*width, wide);
  *height = y + high;
}

/**
 * bw_chart_get_size:
 * @chart: a chart
 * @style: how it is drawn
 * @width_mm: (out): width
 * @height_mm: (out): height
 */
void
bw_chart_get_size (const BwChart      *chart,
                   const BwChartStyle *style,
                   double             *width_mm,
                   double             *height_mm)
{
  run_chart (chart, style, NULL, width_mm, height_mm);
}

/**
 * bw_chart_draw:
 * @chart: a chart
 * @cr: a context in mm, with its origin at the chart's upper left corner
 * @style: how it is drawn
 */
void
bw_chart_draw (const BwChart      *chart,
               cairo_t            *cr,
               const BwChartStyle *style)
{
  double width, height;

  run_chart (chart, style, cr, &width, &height);
}
