#define G_LOG_DOMAIN "bw-publish"

#include "bw-chart-private.h"
#include "bw-tone.h"

#include <math.h>

/* A panel on paper: rows of cells upwards, round numbers at the side where a round
 * begins, the repeat framed, the rounds that are worked again bracketed. */

#define EDGE      0.6  /* free room round a panel, in widths of a column */
#define SMALL     0.8  /* type of numbers under columns, against the other type */
#define GRID      0.80 /* lightness of cell lines */
#define TINT      0.90 /* of cells that decrease */
#define FAINT     0.62 /* of the round below the first */
#define POST      0.3  /* where a stem is taken hold of, in parts of its height */
#define BRACKET   0.45 /* width of the bracket, in widths of a column */

/* One panel being drawn. */
typedef struct
{
  const BwChart      *chart;
  const BwChartPanel *panel;
  const BwChartStyle *style;
  double              cell;
  double              digit;   /* width of a digit */
  double              left;    /* room before the cells, mm */
  double              right;   /* x of the panel's right edge of cells */
  double              bottom;  /* y of the lower edge of cells */
  double              width;
  double              height;
} View;

/* --- Measures --- */

static const BwChartRow *
row_of (const View *view,
        guint       i)
{
  return BW_CHART_ROW (view->chart, view->panel->first_row + i);
}

static char *
row_number (const BwChartRow *row)
{
  /* the foundation has no number */
  return row->number > 0 ? g_strdup_printf ("%u", row->number) : g_strdup ("");
}

/* Width of a number, without setting it: there are hundreds of them. */
static double
number_width (const View *view,
              guint       number)
{
  guint digits = 1;

  while ((number /= 10) > 0)
    digits++;
  return digits * view->digit;
}

static double
label_width (const View       *view,
             const BwChartRow *row)
{
  double text = view->style->text_mm;

  return number_width (view, row->number) + text * 0.6 +
         (view->chart->n_colours > 1 ? (view->style->low_ink ? 1.2 : 2.4) * text : 0);
}

static double
count_width (const View       *view,
             const BwChartRow *row)
{
  return number_width (view, row->stitches_out) + 2 * view->digit + view->style->text_mm * 0.6;
}

/* Columns from the panel's right edge to a row's ends. */
static double
row_start (const BwChartRow *row)
{
  return row->shift;
}

static double
row_end (const View       *view,
         const BwChartRow *row)
{
  return row->shift + view->panel->copies * row->makes * row->step;
}

/* Room that a label wants outside of the cells, given where its row ends. */
static void
measure_sides (View   *view,
               double  columns,
               double *left,
               double *right)
{
  *left = *right = 0;
  for (guint i = 0; i < view->panel->n_rows; i++)
    {
      const BwChartRow *row = row_of (view, i);
      double label = label_width (view, row);
      double before = row_start (row) * view->cell;
      double after = (columns - row_end (view, row)) * view->cell;

      if (row->wrong_side)
        *left = MAX (*left, label - after);
      else
        *right = MAX (*right, label - before);
      if (view->panel->numbers_shape)
        *left = MAX (*left, count_width (view, row) - after);
    }

  if (view->panel->n_repeat_rows > 0)
    *left += BRACKET * 2 * view->cell;
}

static void
view_init (View               *view,
           const BwChart      *chart,
           guint               panel,
           const BwChartStyle *style)
{
  double columns = 0;
  double rows = 0;
  double left, right;
  double numbers = 1.6 * SMALL * style->text_mm;

  *view = (View) { .chart = chart, .panel = BW_CHART_PANEL (chart, panel), .style = style,
                   .cell = style->cell_mm,
                   .digit = bw_chart_text_width (style, style->text_mm, "0000000000") / 10 };
  for (guint i = 0; i < view->panel->n_rows; i++)
    {
      columns = MAX (columns, row_end (view, row_of (view, i)));
      rows += row_of (view, i)->height;
    }

  measure_sides (view, columns, &left, &right);
  view->left = left + EDGE * view->cell;
  view->right = view->left + columns * view->cell;
  view->bottom = EDGE * view->cell + rows * view->cell;
  view->width = view->right + right + EDGE * view->cell;
  view->height = view->bottom + numbers + EDGE * view->cell / 2;
}

static double
x_of (const View *view,
      double      column)
{
  return view->right - column * view->cell;
}

/* y of the lower edge of the panel's i-th row; of its upper edge with i + 1. */
static double
y_of (const View *view,
      guint       i)
{
  double y = view->bottom;

  for (guint j = 0; j < i; j++)
    y -= row_of (view, j)->height * view->cell;

  return y;
}

/* --- Cells --- */

static void
grey (const View *view,
      cairo_t    *cr,
      double      lightness)
{
  BwTone tone;
  BwRgb rgb;

  bw_tone_init (&tone, view->style->ink);
  rgb = bw_tone_shade (&tone, 100 * lightness - tone.lightness);
  cairo_set_source_rgb (cr, rgb.red, rgb.green, rgb.blue);
}

/* Cells of decreases, so that they are seen at a glance. */
static void
draw_tints (const View *view,
            cairo_t    *cr,
            guint       i)
{
  const BwChartRow *row = row_of (view, i);

  if (view->style->low_ink || view->panel->kind != BW_CHART_CROWN || row->context)
    return;

  grey (view, cr, TINT);
  for (guint s = 0; s < row->n_stitches; s++)
    {
      const BwChartStitch *stitch = BW_CHART_STITCH (view->chart, row->first_stitch + s);
      double start = bw_chart_edge (view->chart, row, stitch->top);
      double end = bw_chart_edge (view->chart, row, stitch->top + stitch->n_tops);

      if (stitch->n_tops == 0 || stitch->n_feet <= stitch->n_tops)
        continue;
      cairo_rectangle (cr, x_of (view, end), y_of (view, i + 1), (end - start) * view->cell,
                       row->height * view->cell);
      cairo_fill (cr);
    }
}

static void
draw_cells (const View *view,
            cairo_t    *cr,
            guint       i)
{
  const BwChartRow *row = row_of (view, i);
  double low = y_of (view, i);
  double high = y_of (view, i + 1);
  double end = row_end (view, row);

  draw_tints (view, cr, i);
  grey (view, cr, GRID);
  cairo_set_line_width (cr, view->style->line_mm * 0.45);
  for (guint p = 1; p < view->panel->copies * row->makes; p++)
    {
      double x = x_of (view, bw_chart_edge (view->chart, row, p));

      cairo_move_to (cr, x, low);
      cairo_line_to (cr, x, high);
    }
  cairo_rectangle (cr, x_of (view, end), high, (end - row_start (row)) * view->cell, low - high);
  cairo_stroke (cr);
}

/* --- Symbols --- */

/* A symbol that stands upright whatever it is worked into. */
static gboolean
is_upright (const BwSymbol      *symbol,
            const BwChartStitch *stitch)
{
  if (stitch->n_feet > 1)
    return FALSE;
  switch ((BwSymbolForm) symbol->form)
    {
    case BW_SYMBOL_DOT:
    case BW_SYMBOL_OVAL:
    case BW_SYMBOL_SPIKE:
    case BW_SYMBOL_CRAB:
      return TRUE;
    case BW_SYMBOL_CROSS:
    case BW_SYMBOL_BOBBLE:
    case BW_SYMBOL_PUFF:
    case BW_SYMBOL_POPCORN:
      return !stitch->fan;
    case BW_SYMBOL_NONE:
    case BW_SYMBOL_TEE:
    case BW_SYMBOL_SHELL:
    case BW_SYMBOL_V:
    case BW_SYMBOL_CROSSED:
    default:
      return FALSE;
    }
}

/* y of the place where a stitch takes hold. */
static double
foot_y (const View          *view,
        guint                i,
        const BwChartStitch *stitch)
{
  const BwSymbol *symbol = &view->chart->symbols[stitch->stitch];
  guint down = symbol->form == BW_SYMBOL_SPIKE ? stitch->below - 1u : stitch->below;

  if (!bw_chart_is_deep (view->chart, stitch))
    return y_of (view, i);
  if (down > i)
    return view->bottom - 0.3 * view->cell;
  if (symbol->form == BW_SYMBOL_SPIKE)
    return y_of (view, i - down);
  return y_of (view, i - down) - POST * row_of (view, i - down)->height * view->cell;
}

static void
draw_stitch (const View          *view,
             cairo_t             *cr,
             guint                i,
             guint                copy,
             const BwChartStitch *stitch)
{
  const BwChartRow *row = row_of (view, i);
  const BwSymbol *symbol = &view->chart->symbols[stitch->stitch];
  BwSymbol shown = *symbol;
  BwSymbolPlace place = {
    .cell = view->cell,
    .line = view->style->line_mm,
    .n_feet = MIN (MAX (stitch->n_feet, 1u), BW_SYMBOL_POINTS_MAX),
    .n_tops = MIN (stitch->n_tops, BW_SYMBOL_POINTS_MAX),
    .floor = y_of (view, i),
    .deep = bw_chart_is_deep (view->chart, stitch),
    .loop = bw_chart_loop_shown (row, stitch->loop),
  };

  if (stitch->n_tops == 0 || symbol->form == BW_SYMBOL_NONE)
    return;

  for (guint t = 0; t < place.n_tops; t++)
    place.tops[t] = (BwSymbolPoint) {
      x_of (view, bw_chart_column (view->chart, row, copy * row->makes + stitch->top + t)),
      y_of (view, i + 1)
    };
  for (guint f = 0; f < place.n_feet; f++)
    place.feet[f] = (BwSymbolPoint) {
      x_of (view, bw_chart_foot_column (view->chart, view->panel, view->panel->first_row + i,
                                        copy * row->takes + stitch->foot + f, stitch->below)),
      foot_y (view, i, stitch)
    };
  if (stitch->n_feet == 0 || (is_upright (symbol, stitch) && !place.deep))
    place.feet[0] = (BwSymbolPoint) { place.tops[0].x, y_of (view, i) };
  if (row->context)
    shown.stems = 1;
  bw_symbol_draw (cr, &shown, &place);
}

static void
draw_symbols (const View *view,
              cairo_t    *cr,
              guint       i)
{
  const BwChartRow *row = row_of (view, i);

  if (row->context)
    grey (view, cr, FAINT);
  else
    bw_rgb_source (cr, view->style->ink, 1);
  for (guint copy = 0; copy < view->panel->copies; copy++)
    for (guint s = 0; s < row->n_stitches; s++)
      draw_stitch (view, cr, i, copy, BW_CHART_STITCH (view->chart, row->first_stitch + s));
}

/* --- Labels --- */

static void
draw_chip (const View *view,
           cairo_t    *cr,
           guint8      colour,
           double      x,
           double      y)
{
  double size = view->style->text_mm;

  cairo_rectangle (cr, x, y - size / 2, size, size);
  bw_rgb_source (cr, view->chart->rgb[colour], 1);
  cairo_fill_preserve (cr);
  bw_rgb_source (cr, view->style->ink, 1);
  cairo_set_line_width (cr, view->style->line_mm * 0.6);
  cairo_stroke (cr);
}

/* Number, colour and its letter, at the side where the work begins. */
static void
draw_label (const View *view,
            cairo_t    *cr,
            guint       i)
{
  const BwChartRow *row = row_of (view, i);
  double text = view->style->text_mm;
  double y = (y_of (view, i) + y_of (view, i + 1)) / 2;
  double x = row->wrong_side ? x_of (view, row_end (view, row)) - label_width (view, row)
                             : x_of (view, row_start (row)) + 0.6 * text;
  g_autofree char *number = row_number (row);
  double wide = number_width (view, row->number);

  if (row->context)
    grey (view, cr, 0.45);
  else
    bw_rgb_source (cr, view->style->ink, 1);
  bw_chart_text_draw (cr, view->style, text, FALSE, BW_CHART_TEXT_LEFT, x, y, -1, number);
  if (view->chart->n_colours > 1 && row->colour < view->chart->n_colours)
    {
      const char letter[2] = { (char) ('A' + row->colour), '\0' };

      if (!view->style->low_ink)
        draw_chip (view, cr, row->colour, x + wide + 0.4 * text, y);
      bw_chart_text_draw (cr, view->style, text, TRUE, BW_CHART_TEXT_LEFT,
                          x + wide + (view->style->low_ink ? 0.4 : 1.6) * text, y, -1, letter);
    }
}

static void
draw_count (const View *view,
            cairo_t    *cr,
            guint       i)
{
  const BwChartRow *row = row_of (view, i);
  g_autofree char *count = g_strdup_printf ("(%u)", row->stitches_out);

  if (row->context)
    grey (view, cr, 0.45);
  else
    bw_rgb_source (cr, view->style->ink, 1);
  bw_chart_text_draw (cr, view->style, view->style->text_mm, FALSE, BW_CHART_TEXT_RIGHT,
                      x_of (view, row_end (view, row)) - 0.6 * view->style->text_mm,
                      (y_of (view, i) + y_of (view, i + 1)) / 2, -1, count);
}

/* Numbers under the columns of the first repeat: all of a few, else every fifth. */
static void
draw_columns (const View *view,
              cairo_t    *cr)
{
  const BwChartRow *row = row_of (view, 0);
  double text = SMALL * view->style->text_mm;
  guint n = row->makes;
  guint step = n > 15 ? 5 : 1;

  bw_rgb_source (cr, view->style->ink, 1);
  for (guint p = 0; p < n; p++)
    {
      g_autofree char *number = g_strdup_printf ("%u", p + 1);

      if (p == 0 || (p + 1) % step == 0)
        bw_chart_text_draw (cr, view->style, text, FALSE, BW_CHART_TEXT_MIDDLE,
                            x_of (view, bw_chart_column (view->chart, row, p)),
                            view->bottom + 0.85 * text, -1, number);
    }
}

/* --- Repeats --- */

/* Round the columns of the first repeat; where a round starts further on, so does
 * the frame. */
static void
draw_frame (const View *view,
            cairo_t    *cr)
{
  const double dashes[] = { 1.2, 0.7 };
  guint first = row_of (view, 0)->context ? 1 : 0;
  guint n = view->panel->n_rows;

  if (view->panel->kind == BW_CHART_CROWN || view->panel->times < 2)
    return;

  cairo_save (cr);
  cairo_new_path (cr);
  for (guint i = first; i < n; i++)
    {
      double x = x_of (view, row_start (row_of (view, i)));

      cairo_line_to (cr, x, y_of (view, i));
      cairo_line_to (cr, x, y_of (view, i + 1));
    }
  for (guint i = n; i-- > first;)
    {
      double x = x_of (view, row_start (row_of (view, i)) + view->panel->columns);

      cairo_line_to (cr, x, y_of (view, i + 1));
      cairo_line_to (cr, x, y_of (view, i));
    }
  cairo_close_path (cr);
  bw_rgb_source (cr, view->style->ink, 1);
  cairo_set_dash (cr, dashes, 2, 0);
  cairo_set_line_width (cr, view->style->line_mm * 1.6);
  cairo_stroke (cr);
  cairo_restore (cr);
}

static void
draw_bracket (const View *view,
              cairo_t    *cr)
{
  guint first = view->panel->repeat_row;
  double x = EDGE * view->cell;
  double tick = BRACKET * view->cell;
  double inset = 0.12 * view->cell;
  double low = y_of (view, first) - inset;
  double high = y_of (view, first + view->panel->n_repeat_rows) + inset;

  if (view->panel->n_repeat_rows == 0)
    return;

  bw_rgb_source (cr, view->style->ink, 1);
  cairo_set_line_width (cr, view->style->line_mm);
  cairo_move_to (cr, x + tick, low);
  cairo_line_to (cr, x, low);
  cairo_line_to (cr, x, high);
  cairo_line_to (cr, x + tick, high);
  cairo_stroke (cr);
}

/**
 * bw_chart_panel_get_size:
 * @chart: a chart
 * @panel: index of a panel
 * @style: how it is drawn
 * @width_mm: (out): width
 * @height_mm: (out): height
 */
void
bw_chart_panel_get_size (const BwChart      *chart,
                         guint               panel,
                         const BwChartStyle *style,
                         double             *width_mm,
                         double             *height_mm)
{
  View view;

  view_init (&view, chart, panel, style);
  *width_mm = view.width;
  *height_mm = view.height;
}

/**
 * bw_chart_panel_draw:
 * @chart: a chart
 * @panel: index of a panel
 * @cr: a context in mm, with its origin at the panel's upper left corner
 * @style: how it is drawn
 *
 * Draws the panel without its title and caption.
 */
void
bw_chart_panel_draw (const BwChart      *chart,
                     guint               panel,
                     cairo_t            *cr,
                     const BwChartStyle *style)
{
  View view;

  view_init (&view, chart, panel, style);
  cairo_save (cr);
  for (guint i = 0; i < view.panel->n_rows; i++)
    draw_cells (&view, cr, i);
  for (guint i = 0; i < view.panel->n_rows; i++)
    {
      draw_symbols (&view, cr, i);
      draw_label (&view, cr, i);
      if (view.panel->numbers_shape)
        draw_count (&view, cr, i);
    }
  draw_columns (&view, cr);
  draw_frame (&view, cr);
  draw_bracket (&view, cr);
  cairo_restore (cr);
}
