#define G_LOG_DOMAIN "bw-publish"

#include "bw-chart-private.h"

#include <pango/pangocairo.h>

/* Type in charts and schematics. It is laid out once at a size that Pango's whole
 * units divide finely and scaled down to mm, without hinting, so that a chart has
 * the same measures on a screen, on paper and in a file. */

#define FINE 20.0 /* layout units in a mm */

/* A layout is made without a context: one for measuring is the one for drawing. */
static PangoLayout *
layout_new (const BwChartStyle *style,
            double              size_mm,
            gboolean            bold,
            double              width_mm,
            const char         *text)
{
  PangoContext *context = pango_font_map_create_context (pango_cairo_font_map_get_default ());
  PangoLayout *layout = pango_layout_new (context);
  PangoFontDescription *font = pango_font_description_new ();
  cairo_font_options_t *options = cairo_font_options_create ();

  cairo_font_options_set_hint_style (options, CAIRO_HINT_STYLE_NONE);
  cairo_font_options_set_hint_metrics (options, CAIRO_HINT_METRICS_OFF);
  cairo_font_options_set_antialias (options, CAIRO_ANTIALIAS_GRAY);
  pango_cairo_context_set_font_options (context, options);
  pango_context_set_round_glyph_positions (context, FALSE);
  pango_font_description_set_family (font, style->family);
  pango_font_description_set_weight (font, bold ? PANGO_WEIGHT_BOLD : PANGO_WEIGHT_NORMAL);
  pango_font_description_set_absolute_size (font, size_mm * FINE * PANGO_SCALE);
  pango_layout_set_font_description (layout, font);
  pango_layout_set_text (layout, text, -1);
  pango_layout_set_wrap (layout, PANGO_WRAP_WORD_CHAR);
  if (width_mm > 0)
    pango_layout_set_width (layout, (int) (width_mm * FINE * PANGO_SCALE));
  pango_font_description_free (font);
  cairo_font_options_destroy (options);
  g_object_unref (context);
  return layout;
}

static void
measure (const BwChartStyle *style,
         double              size_mm,
         double              width_mm,
         const char         *text,
         double             *width,
         double             *height)
{
  g_autoptr (PangoLayout) layout = layout_new (style, size_mm, FALSE, width_mm, text);
  PangoRectangle extents;

  pango_layout_get_extents (layout, NULL, &extents);
  *width = extents.width / FINE / PANGO_SCALE;
  *height = extents.height / FINE / PANGO_SCALE;
}

/**
 * bw_chart_text_width:
 * @style: whose type is used
 * @size_mm: size of the type
 * @text: a line of text
 *
 * Returns: its width, mm
 */
double
bw_chart_text_width (const BwChartStyle *style,
                     double              size_mm,
                     const char         *text)
{
  double width, height;

  measure (style, size_mm, -1, text, &width, &height);
  return width;
}

/**
 * bw_chart_text_height:
 * @style: whose type is used
 * @size_mm: size of the type
 * @width_mm: lines turn here; -1 = nowhere
 * @text: text
 *
 * Returns: its height, mm
 */
double
bw_chart_text_height (const BwChartStyle *style,
                      double              size_mm,
                      double              width_mm,
                      const char         *text)
{
  double width, height;

  measure (style, size_mm, width_mm, text, &width, &height);
  return height;
}

/**
 * bw_chart_text_draw:
 * @cr: a context in mm
 * @style: whose type is used
 * @size_mm: size of the type
 * @bold: heavier
 * @at: which part of the text stands at @x
 * @x: mm
 * @y: middle of the text's height, mm
 * @width_mm: lines turn here; -1 = nowhere
 * @text: the text
 */
void
bw_chart_text_draw (cairo_t            *cr,
                    const BwChartStyle *style,
                    double              size_mm,
                    gboolean            bold,
                    BwChartTextAt       at,
                    double              x,
                    double              y,
                    double              width_mm,
                    const char         *text)
{
  g_autoptr (PangoLayout) layout = NULL;
  PangoRectangle extents;
  double before;

  cairo_save (cr);
  cairo_translate (cr, x, y);
  cairo_scale (cr, 1 / FINE, 1 / FINE);
  layout = layout_new (style, size_mm, bold, width_mm, text);
  pango_layout_get_extents (layout, NULL, &extents);
  before = at == BW_CHART_TEXT_LEFT ? 0
           : at == BW_CHART_TEXT_MIDDLE ? extents.width / 2.0 : extents.width;
  cairo_move_to (cr, -before / PANGO_SCALE, -extents.height / 2.0 / PANGO_SCALE);
  pango_cairo_show_layout (cr, layout);
  cairo_new_path (cr);
  cairo_restore (cr);
}
