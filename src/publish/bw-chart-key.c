#define G_LOG_DOMAIN "bw-publish"

#include "bw-publish-private.h"

#include "bw-chart-private.h"
#include "bw-tone.h"

#include <string.h>

/* The key: only what the panels show, in the order of the dictionary, then the arcs
 * of loops, then the colours. */

#define BOX       1.25 /* room for a symbol, in widths of a column */
#define FAN_STEP  0.55 /* from stem to stem of a symbol of several */
#define LINE_ROOM 0.35

/* --- What is shown --- */

static gboolean
is_listed (const BwChart         *chart,
           const BwChartKeyEntry *entry)
{
  for (guint i = 0; i < chart->key->len; i++)
    {
      const BwChartKeyEntry *other = BW_CHART_KEY (chart, i);

      if (other->stitch == entry->stitch && other->below == entry->below &&
          other->loop == entry->loop && other->colour == entry->colour)
        return TRUE;
    }

  return FALSE;
}

/* A stitch of the round before the first is told by any form of its symbol. */
static gboolean
is_listed_stitch (const BwChart *chart,
                  BwStitchIndex  stitch)
{
  for (guint i = 0; i < chart->key->len; i++)
    if (BW_CHART_KEY (chart, i)->stitch == stitch)
      return TRUE;

  return FALSE;
}

static char *
stitch_text (const BwStitch *stitch,
             BwTerms         terms,
             guint           below)
{
  const char *name = terms == BW_TERMS_UK ? stitch->uk_name : stitch->us_name;

  if (below <= MAX (stitch->below, 1))
    return g_strdup (name);
  return g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%s, %u round below", "%s, %u rounds below",
                                       below),
                          name, below);
}

static void
list_stitch (BwChart             *chart,
             const BwGrading     *grading,
             const BwChartStitch *stitch)
{
  const BwStitch *s = bw_stitch_get (grading->reference->stitches, stitch->stitch);
  BwTerms terms = grading->design->terms;
  BwChartKeyEntry entry = {
    .stitch = stitch->stitch,
    .symbol = chart->symbols[stitch->stitch],
    .takes = s->takes,
    .makes = s->makes,
    .below = stitch->below,
    .deep = bw_chart_is_deep (chart, stitch),
    .colour = -1,
  };

  if (entry.symbol.form == BW_SYMBOL_NONE || is_listed (chart, &entry))
    return;
  entry.label = g_strdup (terms == BW_TERMS_UK ? s->uk : s->us);
  entry.text = stitch_text (s, terms, stitch->below);
  g_array_append_val (chart->key, entry);
}

static void
list_loop (BwChart *chart,
           BwLoop   loop)
{
  BwChartKeyEntry entry = { .stitch = BW_STITCH_NONE, .loop = (guint8) loop, .colour = -1 };

  if (loop == BW_LOOP_BOTH || is_listed (chart, &entry))
    return;
  entry.label = g_strdup ("");
  entry.text = g_strdup (loop == BW_LOOP_BACK
                           ? _("into the back loop only, as seen from the right side")
                           : _("into the front loop only, as seen from the right side"));
  g_array_append_val (chart->key, entry);
}

static void
list_colour (BwChart        *chart,
             const BwDesign *design,
             guint8          colour)
{
  BwChartKeyEntry entry = { .stitch = BW_STITCH_NONE, .colour = colour };

  if (colour >= chart->n_colours || is_listed (chart, &entry))
    return;
  entry.label = g_strdup_printf ("%c", (char) ('A' + colour));
  entry.text = g_strdup (g_array_index (design->colours, BwColour, colour).name);
  g_array_append_val (chart->key, entry);
}

/* Stitches in the dictionary's order, short ones first; loops; colours. */
static int
compare_entries (gconstpointer a,
                 gconstpointer b)
{
  const BwChartKeyEntry *x = a;
  const BwChartKeyEntry *y = b;

  if (x->stitch != y->stitch)
    return x->stitch < y->stitch ? -1 : 1;
  if (x->below != y->below)
    return x->below < y->below ? -1 : 1;
  if (x->colour != y->colour)
    return x->colour < y->colour ? -1 : 1;
  return (int) x->loop - (int) y->loop;
}

static void
list_row (BwChart          *chart,
          const BwGrading  *grading,
          const BwChartRow *row)
{
  for (guint s = 0; s < row->n_stitches; s++)
    {
      const BwChartStitch *stitch = BW_CHART_STITCH (chart, row->first_stitch + s);

      if (row->context && is_listed_stitch (chart, stitch->stitch))
        continue;
      list_stitch (chart, grading, stitch);
      list_loop (chart, bw_chart_loop_shown (row, stitch->loop));
    }
  if (chart->n_colours > 1)
    list_colour (chart, grading->design, row->colour);
}

/**
 * bw_chart_build_key:
 * @chart: (inout): with all its panels
 * @grading: the grading
 */
void
bw_chart_build_key (BwChart         *chart,
                    const BwGrading *grading)
{
  for (guint context = 0; context < 2; context++)
    for (guint i = 0; i < chart->rows->len; i++)
      if (BW_CHART_ROW (chart, i)->context == (context != 0))
        list_row (chart, grading, BW_CHART_ROW (chart, i));

  g_array_sort (chart->key, compare_entries);
}

/* --- Layout --- */

static double
entry_points (const BwChartKeyEntry *entry)
{
  return MAX (MAX (entry->takes, entry->makes), 1);
}

/* Width of the symbol's own room, mm. */
static double
box_width (const BwChartKeyEntry *entry,
           const BwChartStyle    *style)
{
  if (entry->colour >= 0 && style->low_ink)
    return 0.3 * style->cell_mm;
  if (entry->stitch == BW_STITCH_NONE)
    return BOX * style->cell_mm;
  return (BOX + (entry_points (entry) - 1) * FAN_STEP) * style->cell_mm;
}

static char *
entry_words (const BwChartKeyEntry *entry)
{
  if (entry->label[0] == '\0')
    return g_strdup (entry->text);
  if (entry->text[0] == '\0' || g_str_equal (entry->label, entry->text))
    return g_strdup (entry->label);
  return g_strdup_printf ("%s: %s", entry->label, entry->text);
}

/* Room for the words of an entry; a long name takes several lines. */
static double
words_room (const BwChartKeyEntry *entry,
            const BwChartStyle    *style)
{
  return MAX (style->width_mm - box_width (entry, style) - 2.5 * style->text_mm,
              8 * style->text_mm);
}

static double
entry_width (const BwChartKeyEntry *entry,
             const BwChartStyle    *style)
{
  g_autofree char *words = entry_words (entry);
  double wide = bw_chart_text_width (style, style->text_mm, words);

  return box_width (entry, style) + 2.5 * style->text_mm + MIN (wide, words_room (entry, style));
}

static double
entry_height (const BwChartKeyEntry *entry,
              const BwChartStyle    *style,
              double                 width)
{
  double cells = 1;
  double words = 1.5 * style->text_mm;

  if (entry->stitch != BW_STITCH_NONE)
    cells = MAX (1, bw_symbol_height (&entry->symbol) + (entry->deep ? 0.9 : 0));
  if (width > style->width_mm - 0.01)
    {
      g_autofree char *text = entry_words (entry);

      words = bw_chart_text_height (style, style->text_mm, words_room (entry, style), text);
    }
  return MAX (cells * style->cell_mm, words);
}

/* --- Drawing --- */

static void
spread_points (BwSymbolPoint *points,
               guint          n,
               double         middle,
               double         step,
               double         y)
{
  for (guint i = 0; i < n; i++)
    points[i] = (BwSymbolPoint) { middle + (i - (n - 1) / 2.0) * step, y };
}

static void
draw_symbol (cairo_t               *cr,
             const BwChartKeyEntry *entry,
             const BwChartStyle    *style,
             double                 x,
             double                 y,
             double                 height)
{
  double cell = style->cell_mm;
  double own = MIN (bw_symbol_height (&entry->symbol) * cell, height);
  BwSymbolPlace place = { .cell = cell, .line = style->line_mm, .deep = entry->deep };
  double top = y + (height - own) / 2;
  double bottom = top + own;
  double middle = x + box_width (entry, style) / 2;

  if (entry->deep)
    {
      top = y;
      bottom = y + height;
      place.floor = top + own;
    }
  place.n_feet = MIN (MAX (entry->takes, 1), BW_SYMBOL_POINTS_MAX);
  place.n_tops = MIN (MAX (entry->makes, 1), BW_SYMBOL_POINTS_MAX);
  /* as in the panels, work goes to the left */
  spread_points (place.feet, place.n_feet, middle, -FAN_STEP * cell * 1.2,
                 entry->deep ? bottom - 0.3 * cell : bottom);
  spread_points (place.tops, place.n_tops, middle, -FAN_STEP * cell * 1.2, top);
  bw_symbol_draw (cr, &entry->symbol, &place);
}

/* The arc of a loop under a cross, both as they are drawn together. */
static void
draw_loop (cairo_t               *cr,
           const BwChartKeyEntry *entry,
           const BwChartStyle    *style,
           double                 x,
           double                 y,
           double                 height)
{
  const BwSymbol none = { .form = BW_SYMBOL_DOT, .stems = 1 };
  BwSymbolPlace place = { .cell = style->cell_mm, .line = style->line_mm, .n_feet = 1, .n_tops = 1,
                          .loop = (BwLoop) entry->loop };
  double middle = x + BOX * style->cell_mm / 2;

  place.feet[0] = (BwSymbolPoint) { middle, y + height * 0.9 };
  place.tops[0] = (BwSymbolPoint) { middle, y + height * 0.05 };
  bw_symbol_draw (cr, &none, &place);
}

static void
draw_chip (cairo_t            *cr,
           const BwChart      *chart,
           const BwChartStyle *style,
           int                 colour,
           double              x,
           double              y,
           double              size)
{
  cairo_rectangle (cr, x, y, size, size);
  bw_rgb_source (cr, chart->rgb[colour], 1);
  cairo_fill_preserve (cr);
  bw_rgb_source (cr, style->ink, 1);
  cairo_set_line_width (cr, style->line_mm * 0.6);
  cairo_stroke (cr);
}

static void
draw_entry (cairo_t               *cr,
            const BwChart         *chart,
            const BwChartKeyEntry *entry,
            const BwChartStyle    *style,
            double                 x,
            double                 y,
            double                 height)
{
  g_autofree char *words = entry_words (entry);
  double chip = style->cell_mm * 0.6;

  bw_rgb_source (cr, style->ink, 1);
  if (entry->colour >= 0 && style->low_ink)
    ; /* the letter says it */
  else if (entry->colour >= 0)
    draw_chip (cr, chart, style, entry->colour, x + (BOX * style->cell_mm - chip) / 2,
               y + (height - chip) / 2, chip);
  else if (entry->stitch == BW_STITCH_NONE)
    draw_loop (cr, entry, style, x, y, height);
  else
    draw_symbol (cr, entry, style, x, y, height);

  bw_rgb_source (cr, style->ink, 1);
  bw_chart_text_draw (cr, style, style->text_mm, FALSE, BW_CHART_TEXT_LEFT,
                      x + box_width (entry, style) + style->text_mm * 0.5, y + height / 2,
                      words_room (entry, style), words);
}

/* Width of each entry; measured once, since type is slow to set. */
static double *
measure_entries (const BwChart      *chart,
                 const BwChartStyle *style)
{
  double *widths = g_new (double, chart->key->len + 1);

  for (guint i = 0; i < chart->key->len; i++)
    widths[i] = entry_width (BW_CHART_KEY (chart, i), style);

  return widths;
}

/* As many entries as a line has room for, from `first` on. */
static guint
fill_line (const BwChart      *chart,
           const BwChartStyle *style,
           const double       *widths,
           guint               first,
           double             *width,
           double             *height)
{
  guint n = 0;

  *width = *height = 0;
  while (first + n < chart->key->len &&
         (n == 0 || *width + widths[first + n] <= style->width_mm))
    {
      *width += widths[first + n];
      *height = MAX (*height, entry_height (BW_CHART_KEY (chart, first + n), style,
                                            widths[first + n]));
      n++;
    }

  return n;
}

static double
run_notes (const BwChart      *chart,
           const BwChartStyle *style,
           cairo_t            *cr,
           double              y)
{
  for (guint i = 0; i < chart->notes->len; i++)
    {
      const char *note = g_ptr_array_index (chart->notes, i);
      double high = bw_chart_text_height (style, style->text_mm, style->width_mm, note);

      y += LINE_ROOM * style->text_mm;
      if (cr != NULL)
        {
          bw_rgb_source (cr, style->ink, 1);
          bw_chart_text_draw (cr, style, style->text_mm, FALSE, BW_CHART_TEXT_LEFT, 0, y + high / 2,
                              style->width_mm, note);
        }
      y += high;
    }

  return y;
}

/* Lays the key out in lines, and draws it where there is a context. */
static void
run_key (const BwChart      *chart,
         const BwChartStyle *style,
         cairo_t            *cr,
         double             *width,
         double             *height)
{
  g_autofree double *widths = measure_entries (chart, style);
  double y = 0;

  *width = chart->notes->len > 0 ? style->width_mm : 0;
  for (guint i = 0, n; i < chart->key->len; i += n)
    {
      double wide, tallest;
      double x = 0;

      n = fill_line (chart, style, widths, i, &wide, &tallest);
      for (guint j = i; cr != NULL && j < i + n; j++)
        {
          draw_entry (cr, chart, BW_CHART_KEY (chart, j), style, x, y, tallest);
          x += widths[j];
        }
      *width = MAX (*width, wide);
      y += tallest + LINE_ROOM * style->text_mm;
    }
  *height = run_notes (chart, style, cr, y);
}

/**
 * bw_chart_key_get_size:
 * @chart: a chart
 * @style: how it is drawn
 * @width_mm: (out): width of the key with the notes under it
 * @height_mm: (out): height
 */
void
bw_chart_key_get_size (const BwChart      *chart,
                       const BwChartStyle *style,
                       double             *width_mm,
                       double             *height_mm)
{
  run_key (chart, style, NULL, width_mm, height_mm);
}

/**
 * bw_chart_key_draw:
 * @chart: a chart
 * @cr: a context in mm, with its origin at the key's upper left corner
 * @style: how it is drawn
 */
void
bw_chart_key_draw (const BwChart      *chart,
                   cairo_t            *cr,
                   const BwChartStyle *style)
{
  double width, height;

  run_key (chart, style, cr, &width, &height);
}
