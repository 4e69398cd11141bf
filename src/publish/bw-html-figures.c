#define G_LOG_DOMAIN "bw-publish"

#include "bw-publish-private.h"

#include "bw-chart.h"
#include "bw-html-private.h"
#include "bw-schematic.h"

/* Charts and the schematic on a page. What they show is said in words too; notes and
 * captions are text of the page, so that they grow with it. */

#define REM_PER_MM 0.25 /* of a drawing: its type is then a little smaller than the page's */
#define KEY_MM     95.0 /* width of a key that a telephone shows */

/* One drawing. */
typedef struct
{
  const BwChart          *chart;
  const BwChartStyle     *chart_style;
  int                     panel;       /* -1 = the key */
  const BwSchematic      *schematic;
  const BwSchematicStyle *style;
} Figure;

static void
draw_cb (cairo_t  *cr,
         gpointer  data)
{
  const Figure *figure = data;

  if (figure->schematic != NULL)
    bw_schematic_draw (figure->schematic, cr, figure->style);
  else if (figure->panel >= 0)
    bw_chart_panel_draw (figure->chart, (guint) figure->panel, cr, figure->chart_style);
  else
    bw_chart_key_draw (figure->chart, cr, figure->chart_style);
}

/* As wide as its type wants, and no wider than the page. */
static void
append_figure (GString      *out,
               const char   *id,
               const char   *words,
               double        width,
               double        height,
               const Figure *figure)
{
  g_autofree char *rem = bw_units_format_number (width * REM_PER_MM, 2);

  g_string_append_printf (out, "<figure style=\"max-width:%srem\">\n", rem);
  bw_html_picture (out, id, words, width, height, draw_cb, (gpointer) figure);
  g_string_append (out, "</figure>\n");
}

static void
append_text (GString    *out,
             const char *element,
             const char *text)
{
  g_string_append_printf (out, "<%s dir=\"auto\">", element);
  bw_html_escape (out, text);
  g_string_append_printf (out, "</%s>\n", element);
}

/* --- Schematic --- */

static void
append_measure (GString           *out,
                const BwGrading   *grading,
                const BwSchematic *schematic,
                guint              index)
{
  const BwMeasure *measure = &g_array_index (schematic->measures, BwMeasure, index);
  g_autoptr (GString) values = g_string_new (NULL);
  guint n = schematic->sizes->len;

  for (guint k = 0; k < n; k++)
    {
      g_autofree char *value = bw_words_length_value (grading->design, measure->mm[k]);

      g_string_append_printf (values, "%s%s", k == 0 ? "" : k == 1 ? " (" : ", ", value);
    }
  g_string_append_printf (values, n > 1 ? ") %s" : " %s", bw_words_unit (grading->design));

  g_string_append_printf (out, "<p class=\"item\"><b>%c, ", measure->letter);
  bw_html_escape (out, measure->name);
  g_string_append (out, ":</b> ");
  bw_html_numbers (out, values->str, (1u << n) - 1, n);
  g_string_append (out, "</p>\n");
}

/**
 * bw_html_schematic:
 * @out: where it goes
 * @grading: a family in the edition's terms
 * @edition: the edition
 *
 * Appends the section with the hat laid flat and its measures in every size.
 */
void
bw_html_schematic (GString         *out,
                   const BwGrading *grading,
                   const BwEdition *edition)
{
  g_autoptr (BwSchematic) schematic = bw_schematic_new (grading, edition->size);
  g_autofree char *words = bw_schematic_describe (schematic);
  BwSchematicStyle style = BW_SCHEMATIC_STYLE_DEFAULT;
  Figure figure = { .schematic = schematic, .style = &style };
  double width, height;

  append_text (out, "h2", _("Measurements"));
  bw_schematic_get_size (schematic, &style, &width, &height);
  append_figure (out, "schematic", words, width, height, &figure);
  for (guint i = 0; i < schematic->measures->len; i++)
    append_measure (out, grading, schematic, i);
}

/* --- Charts --- */

/* What the symbols mean, for who cannot see them: in the order of the key. */
static char *
key_in_words (const BwChart *chart)
{
  GString *out = g_string_new (_("Key of the charts"));

  for (guint i = 0; i < chart->key->len; i++)
    {
      const BwChartKeyEntry *entry = &g_array_index (chart->key, BwChartKeyEntry, i);

      g_string_append (out, i == 0 ? ": " : "; ");
      g_string_append (out, entry->label);
      if (entry->label[0] != '\0' && entry->text[0] != '\0')
        g_string_append (out, ", ");
      g_string_append (out, entry->text);
    }

  return g_string_free (out, FALSE);
}

static void
append_key (GString            *out,
            const BwChart      *chart,
            const BwChartStyle *style)
{
  g_autofree char *words = key_in_words (chart);
  Figure figure = { .chart = chart, .chart_style = style, .panel = -1 };
  double width, height;

  bw_chart_key_get_size (chart, style, &width, &height);
  append_figure (out, "key", words, width, height, &figure);
}

static void
append_panel (GString            *out,
              const BwChart      *chart,
              const BwChartStyle *style,
              guint               index)
{
  const BwChartPanel *panel = &g_array_index (chart->panels, BwChartPanel, index);
  /* Translators: %s is a part of the hat */
  g_autofree char *title = g_strdup_printf (_("Chart: %s"), panel->title);
  g_autofree char *id = g_strdup_printf ("chart%u", index);
  g_autofree char *words = bw_chart_describe (chart, index);
  Figure figure = { .chart = chart, .chart_style = style, .panel = (int) index };
  double width, height;

  append_text (out, "h3", title);
  if (panel->caption[0] != '\0')
    append_text (out, "p", panel->caption);
  bw_chart_panel_get_size (chart, index, style, &width, &height);
  append_figure (out, id, words, width, height, &figure);
}

/**
 * bw_html_charts:
 * @out: where they go
 * @grading: a family in the edition's terms
 * @edition: the edition; of all sizes, the middle one is charted
 *
 * Appends the section with the charts of a size, unless there is nothing to chart.
 */
void
bw_html_charts (GString         *out,
                const BwGrading *grading,
                const BwEdition *edition)
{
  guint size = edition->size >= 0 ? (guint) edition->size : grading->sizes->len / 2;
  g_autoptr (BwChart) chart = bw_chart_new (grading, size);
  BwChartStyle style = BW_CHART_STYLE_DEFAULT;

  if (chart->panels->len == 0)
    return;

  style.width_mm = KEY_MM;
  style.low_ink = edition->form != BW_FORM_NORMAL;
  append_text (out, "h2", _("Charts"));
  append_text (out, "p", chart->title);
  if (grading->sizes->len > 1 && edition->size < 0)
    append_text (out, "p", _("Other sizes have other counts and other rounds: the instructions have "
                             "them."));
  for (guint i = 0; i < chart->notes->len; i++)
    append_text (out, "p", g_ptr_array_index (chart->notes, i));
  g_ptr_array_set_size (chart->notes, 0); /* said: the key is drawn without them */
  append_key (out, chart, &style);
  for (guint i = 0; i < chart->panels->len; i++)
    append_panel (out, chart, &style, i);
}
