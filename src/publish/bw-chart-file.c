#define G_LOG_DOMAIN "bw-publish"

#include "bw-chart.h"
#include "bw-picture.h"

typedef struct
{
  const BwChart      *chart;
  const BwChartStyle *style;
} Sheet;

static void
draw_cb (cairo_t       *cr,
         gconstpointer  data)
{
  const Sheet *sheet = data;

  bw_chart_draw (sheet->chart, cr, sheet->style);
}

static char *
describe_all (const BwChart *chart)
{
  GString *out = g_string_new (NULL);

  for (guint i = 0; i < chart->panels->len; i++)
    {
      g_autofree char *words = bw_chart_describe (chart, i);

      g_string_append (out, i > 0 ? "\n" : "");
      g_string_append (out, words);
    }

  return g_string_free (out, FALSE);
}

static BwPicture
picture_of (const Sheet *sheet,
            const char  *description)
{
  BwPicture picture = { .title = sheet->chart->title, .description = description,
                        .draw = draw_cb, .data = sheet };

  bw_chart_get_size (sheet->chart, sheet->style, &picture.width_mm, &picture.height_mm);
  return picture;
}

/**
 * bw_chart_to_svg:
 * @chart: a chart
 * @style: how it is drawn
 * @error: return location for an error
 *
 * The same chart and style give the same bytes.
 *
 * Returns: (transfer full) (nullable): the whole chart as an SVG file, to scale, with
 *   its words
 */
GBytes *
bw_chart_to_svg (const BwChart       *chart,
                 const BwChartStyle  *style,
                 GError             **error)
{
  const Sheet sheet = { chart, style };
  g_autofree char *words = describe_all (chart);
  BwPicture picture = picture_of (&sheet, words);

  return bw_picture_to_svg (&picture, error);
}

/**
 * bw_chart_to_png:
 * @chart: a chart
 * @style: how it is drawn
 * @dots_per_mm: fineness; lessened where the picture would be too large
 * @error: return location for an error
 *
 * Returns: (transfer full) (nullable): the whole chart as a PNG file
 */
GBytes *
bw_chart_to_png (const BwChart       *chart,
                 const BwChartStyle  *style,
                 double               dots_per_mm,
                 GError             **error)
{
  const Sheet sheet = { chart, style };
  BwPicture picture = picture_of (&sheet, "");

  return bw_picture_to_png (&picture, dots_per_mm, error);
}
