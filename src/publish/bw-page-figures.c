#define G_LOG_DOMAIN "bw-publish"

#include "bw-publish-private.h"

#include "bw-chart.h"
#include "bw-page-private.h"
#include "bw-schematic.h"

/* The charts and the schematic on pages. Every picture is cut down to the frame
 * where it is larger; what it says stands in words too. */

/* One picture; the chart is shared by its panels and its key. */
typedef struct
{
  BwChart         *chart;      /* in an rc box's hands; see chart_box */
  gpointer         chart_box;
  BwSchematic     *schematic;
  BwChartStyle     chart_style;
  BwSchematicStyle style;
  int              panel;      /* -1 = the key */
  double           scale;      /* pt for a mm of the picture */
} Figure;

typedef struct
{
  BwChart *chart;
} ChartBox;

static void
box_clear (gpointer data)
{
  bw_chart_free (((ChartBox *) data)->chart);
}

static void
figure_free (gpointer data)
{
  Figure *figure = data;

  if (figure->chart_box != NULL)
    g_rc_box_release_full (figure->chart_box, box_clear);
  g_clear_pointer (&figure->schematic, bw_schematic_free);
  g_free (figure);
}

static void
draw_figure (gconstpointer  data,
             cairo_t       *cr)
{
  const Figure *figure = data;

  cairo_scale (cr, figure->scale, figure->scale);
  if (figure->schematic != NULL)
    bw_schematic_draw (figure->schematic, cr, &figure->style);
  else if (figure->panel >= 0)
    bw_chart_panel_draw (figure->chart, (guint) figure->panel, cr, &figure->chart_style);
  else
    bw_chart_key_draw (figure->chart, cr, &figure->chart_style);
}

static void
add_figure (BwPageSetter *setter,
            Figure       *figure,
            double        width_mm,
            double        height_mm,
            guint         flags)
{
  const BwPageStyle *style = &setter->flow->style;
  BwPiece *piece = bw_page_flow_add (setter->flow, "Figure", style->text * 0.7, flags);
  double scale = BW_PT_PER_MM;

  scale = MIN (scale, bw_page_style_frame_width (style) / MAX (width_mm, 1));
  scale = MIN (scale, 0.85 * bw_page_style_frame_height (style) / MAX (height_mm, 1));
  figure->scale = scale;
  piece->height = height_mm * scale;
  piece->draw = draw_figure;
  piece->data = figure;
  piece->free_data = figure_free;
}

/* --- Charts --- */

static Figure *
chart_figure (ChartBox           *box,
              const BwChartStyle *style,
              int                 panel)
{
  Figure *figure = g_new0 (Figure, 1);

  figure->chart_box = g_rc_box_acquire (box);
  figure->chart = box->chart;
  figure->chart_style = *style;
  figure->panel = panel;
  return figure;
}

static void
add_panel (BwPageSetter       *setter,
           ChartBox           *box,
           const BwChartStyle *style,
           guint               index)
{
  const BwChartPanel *panel = &g_array_index (box->chart->panels, BwChartPanel, index);
  /* Translators: %s is a part of the hat */
  g_autofree char *title = g_strdup_printf (_("Chart: %s"), panel->title);
  double width, height;

  bw_page_add_part (setter, title);
  if (panel->caption[0] != '\0')
    {
      const BwPageStyle *page = &setter->flow->style;

      bw_page_flow_text (setter->flow, "P", panel->caption, page->text, FALSE, page->text * 0.4,
                         BW_PIECE_KEEP);
    }
  bw_chart_panel_get_size (box->chart, index, style, &width, &height);
  add_figure (setter, chart_figure (box, style, (int) index), width, height, 0);
}

/* Of all sizes the middle one is charted, as in a file of charts alone. */
static guint
charted_size (const BwPageSetter *setter)
{
  return setter->edition->size != BW_EDITION_ALL_SIZES ? (guint) setter->edition->size
                                                       : setter->view->sizes->len / 2;
}

static void
chart_style (const BwPageSetter *setter,
             BwChartStyle       *style)
{
  const BwPageStyle *page = &setter->flow->style;

  *style = BW_CHART_STYLE_DEFAULT;
  style->width_mm = bw_page_style_frame_width (page) / BW_PT_PER_MM;
  style->low_ink = setter->edition->form != BW_FORM_NORMAL;
}

/**
 * bw_page_add_charts:
 * @setter: an edition being set
 *
 * Adds the charts of a size with how they are read and what their symbols mean. In
 * large print there are none: their key could not be as large as the text, and the
 * rounds say the same.
 */
void
bw_page_add_charts (BwPageSetter *setter)
{
  ChartBox *box;
  BwChartStyle style;
  double width, height;

  if (setter->flow->style.large)
    return;
  box = g_rc_box_new0 (ChartBox);
  box->chart = bw_chart_new (setter->view, charted_size (setter));
  chart_style (setter, &style);
  if (box->chart->panels->len > 0)
    {
      bw_page_add_heading (setter, _("Charts"));
      bw_page_flow_text (setter->flow, "P", box->chart->title, setter->flow->style.text, FALSE,
                         setter->flow->style.text * 0.4, BW_PIECE_KEEP);
      bw_chart_key_get_size (box->chart, &style, &width, &height);
      add_figure (setter, chart_figure (box, &style, -1), width, height, 0);
      for (guint i = 0; i < box->chart->panels->len; i++)
        add_panel (setter, box, &style, i);
    }
  g_rc_box_release_full (box, box_clear);
}

/* --- Schematic --- */

/* "A, girth: 46 (48, 50) cm", for who cannot see the letters on the lines. */
static void
add_measure (BwPageSetter      *setter,
             const BwSchematic *schematic,
             guint              index)
{
  const BwMeasure *measure = &g_array_index (schematic->measures, BwMeasure, index);
  g_autoptr (GString) values = g_string_new (NULL);
  g_autofree char *lead = g_strdup_printf ("%c, %s", measure->letter, measure->name);
  BwBlock block = { .kind = BW_BLOCK_ITEM, .lead = lead };

  for (guint k = 0; k < schematic->sizes->len; k++)
    {
      g_autofree char *value = bw_words_length_value (setter->view->design, measure->mm[k]);

      g_string_append (values, k == 0 ? "" : k == 1 ? " (" : ", ");
      g_string_append (values, value);
    }
  g_string_append_printf (values, schematic->sizes->len > 1 ? ") %s" : " %s",
                          bw_words_unit (setter->view->design));
  block.text = values->str;
  bw_page_add_item (setter, &block);
}

/**
 * bw_page_add_schematic:
 * @setter: an edition being set
 *
 * Adds the hat laid flat with its measures in every size.
 */
void
bw_page_add_schematic (BwPageSetter *setter)
{
  const BwPageStyle *page = &setter->flow->style;
  Figure *figure = g_new0 (Figure, 1);
  double width, height;

  figure->schematic = bw_schematic_new (setter->view, setter->edition->size);
  figure->style = BW_SCHEMATIC_STYLE_DEFAULT;
  figure->style.values = setter->n_sizes == 1 && !page->large;
  if (page->large)
    {
      figure->style.text_mm = page->text / BW_PT_PER_MM;
      figure->style.line_mm *= 1.8;
      figure->style.ink = 0;
    }

  bw_page_add_heading (setter, _("Measurements"));
  bw_schematic_get_size (figure->schematic, &figure->style, &width, &height);
  add_figure (setter, figure, width, height, BW_PIECE_KEEP);
  for (guint i = 0; i < figure->schematic->measures->len; i++)
    add_measure (setter, figure->schematic, i);
}
