#define G_LOG_DOMAIN "bw-publish"

#include "bw-schematic.h"

#include "bw-chart-private.h"
#include "bw-tone.h"

/* The drawing: outline, the edges of brim and crown, dimension lines outside of it and
 * the girth across it. Heights are measured at the sides, widths below and across. */

#define GAP      1.7 /* outline to the first dimension line, in heights of the type */
#define LANE     2.4 /* from one dimension line to the next */
#define ARROW    0.9
#define FAINT    0.6

typedef struct
{
  const BwSchematic      *schematic;
  const BwSchematicStyle *style;
  BwChartStyle            type;    /* for text */
  cairo_t                *cr;
  double                  middle;  /* x of the hat's middle, mm on paper */
  double                  edge;    /* y of its edge */
  double                  half;    /* half of its widest width */
  double                  values;  /* room for the figures beside a line */
  double                  width;
  double                  height;
} View;

/* --- Measures --- */

static double
value_width (const View *view)
{
  double widest = 0;

  for (guint m = 0; m < view->schematic->measures->len && view->style->values; m++)
    for (guint unit = BW_UNITS_CM; unit <= BW_UNITS_INCH; unit++)
      {
        g_autofree char *value = bw_schematic_value (view->schematic, m, view->schematic->drawn,
                                                     (BwUnits) unit);

        widest = MAX (widest, bw_chart_text_width (&view->type, view->style->text_mm, value));
      }

  return widest;
}

static void
view_init (View                   *view,
           const BwSchematic      *schematic,
           const BwSchematicStyle *style,
           cairo_t                *cr)
{
  double text = style->text_mm;
  double deepest = 0;

  *view = (View) { .schematic = schematic, .style = style, .cr = cr };
  view->type = BW_CHART_STYLE_DEFAULT;
  view->type.family = style->family;
  for (guint i = 0; i < schematic->outline->len; i++)
    {
      const BwOutlinePoint *point = &g_array_index (schematic->outline, BwOutlinePoint, i);

      view->half = MAX (view->half, point->half_mm * style->scale);
      deepest = MAX (deepest, point->height_mm * style->scale);
    }

  view->values = style->values ? value_width (view) + 0.5 * text : 0;
  view->middle = (GAP + LANE) * text + view->values + view->half;
  view->edge = text + deepest;
  view->width = view->middle + view->half + GAP * text + 2 * (LANE * text + view->values);
  view->height = view->edge + (GAP + LANE + 0.4) * text;
}

static double
x_of (const View *view,
      double      half_mm)
{
  return view->middle + half_mm * view->style->scale;
}

static double
y_of (const View *view,
      double      height_mm)
{
  return view->edge - height_mm * view->style->scale;
}

static const BwMeasure *
find_measure (const View    *view,
              BwMeasureKind  kind,
              guint         *index)
{
  for (guint m = 0; m < view->schematic->measures->len; m++)
    {
      const BwMeasure *measure = &g_array_index (view->schematic->measures, BwMeasure, m);

      if (measure->kind == kind)
        {
          *index = m;
          return measure;
        }
    }

  return NULL;
}

/* Half of the hat's width at a height. */
static double
half_at (const View *view,
         double      height_mm)
{
  const GArray *outline = view->schematic->outline;

  for (guint i = 1; i < outline->len; i++)
    {
      const BwOutlinePoint *a = &g_array_index (outline, BwOutlinePoint, i - 1);
      const BwOutlinePoint *b = &g_array_index (outline, BwOutlinePoint, i);
      double step = b->height_mm - a->height_mm;

      if (height_mm <= b->height_mm)
        return step > 0 ? a->half_mm + (b->half_mm - a->half_mm) *
                                       CLAMP ((height_mm - a->height_mm) / step, 0, 1)
                        : b->half_mm;
    }

  return 0;
}

/* --- Strokes --- */

static void
ink (const View *view,
     double      strength)
{
  bw_rgb_source (view->cr, view->style->ink, strength);
}

static void
line (const View *view,
      double      x0,
      double      y0,
      double      x1,
      double      y1)
{
  cairo_move_to (view->cr, x0, y0);
  cairo_line_to (view->cr, x1, y1);
  cairo_stroke (view->cr);
}

/* An arrow's head at (x, y), pointing along (dx, dy) of length 1. */
static void
arrow (const View *view,
       double      x,
       double      y,
       double      dx,
       double      dy)
{
  double size = ARROW * view->style->text_mm;

  cairo_move_to (view->cr, x, y);
  cairo_line_to (view->cr, x - size * dx + size * 0.3 * dy, y - size * dy - size * 0.3 * dx);
  cairo_line_to (view->cr, x - size * dx - size * 0.3 * dy, y - size * dy + size * 0.3 * dx);
  cairo_close_path (view->cr);
  cairo_fill (view->cr);
}

static void
dimension (const View *view,
           double      x0,
           double      y0,
           double      x1,
           double      y1)
{
  gboolean upright = x0 == x1;

  ink (view, 1);
  cairo_set_line_width (view->cr, view->style->line_mm * 0.7);
  line (view, x0, y0, x1, y1);
  arrow (view, x0, y0, upright ? 0 : -1, upright ? 1 : 0);
  arrow (view, x1, y1, upright ? 0 : 1, upright ? -1 : 0);
}

/* From the outline out to its dimension line. */
static void
extension (const View *view,
           double      x0,
           double      y0,
           double      x1,
           double      y1)
{
  ink (view, FAINT);
  cairo_set_line_width (view->cr, view->style->line_mm * 0.5);
  line (view, x0, y0, x1, y1);
}

/* The letter in a ring on its line, and the figures beside it. */
static void
label (const View    *view,
       guint          measure,
       double         x,
       double         y,
       BwChartTextAt  at)
{
  const BwMeasure *m = &g_array_index (view->schematic->measures, BwMeasure, measure);
  const char letter[2] = { m->letter, '\0' };
  double text = view->style->text_mm;
  double ring = 0.85 * text;
  double beside = at == BW_CHART_TEXT_LEFT ? x + ring + 0.4 * text : x - ring - 0.4 * text;

  cairo_new_path (view->cr);
  cairo_arc (view->cr, x, y, ring, 0, 2 * G_PI);
  cairo_set_source_rgb (view->cr, 1, 1, 1);
  cairo_fill_preserve (view->cr);
  ink (view, 1);
  cairo_set_line_width (view->cr, view->style->line_mm * 0.7);
  cairo_stroke (view->cr);
  bw_chart_text_draw (view->cr, &view->type, text, TRUE, BW_CHART_TEXT_MIDDLE, x, y, -1, letter);

  for (guint unit = BW_UNITS_CM; unit <= BW_UNITS_INCH && view->style->values; unit++)
    {
      g_autofree char *value = bw_schematic_value (view->schematic, measure,
                                                   view->schematic->drawn, (BwUnits) unit);

      bw_chart_text_draw (view->cr, &view->type, text, FALSE, at, beside,
                          y + (unit == BW_UNITS_CM ? -0.62 : 0.62) * text, -1, value);
    }
}

/* --- Dimensions --- */

/* Height of the brim at the left; of the body and of the whole at the right. */
static void
draw_upright (const View    *view,
              BwMeasureKind  kind,
              guint          lane,
              gboolean       left)
{
  guint index;
  const BwMeasure *measure = find_measure (view, kind, &index);
  double text = view->style->text_mm;
  double out = view->half + GAP * text + lane * (LANE * text + view->values);
  double x = view->middle + (left ? -out : out);
  double past = (left ? -0.6 : 0.6) * text;
  double height, low, high, sign;

  if (measure == NULL)
    return;
  height = measure->mm[view->schematic->drawn];
  sign = left ? -1 : 1;
  low = y_of (view, 0);
  high = y_of (view, height);
  extension (view, x_of (view, sign * half_at (view, 0)) + sign * 0.4 * text, low, x + past, low);
  extension (view, x_of (view, sign * half_at (view, height)) + sign * 0.4 * text, high, x + past,
             high);
  dimension (view, x, low, x, high);
  label (view, index, x, (low + high) / 2, left ? BW_CHART_TEXT_RIGHT : BW_CHART_TEXT_LEFT);
}

/* Behind the figures of a dimension across the hat the line is left open. */
static void
clear_for_values (const View *view,
                  double      y)
{
  double text = view->style->text_mm;

  if (!view->style->values)
    return;
  cairo_set_source_rgb (view->cr, 1, 1, 1);
  cairo_rectangle (view->cr, view->middle, y - 1.3 * text, view->values + 1.4 * text, 2.6 * text);
  cairo_fill (view->cr);
}

static void
draw_across (const View    *view,
             BwMeasureKind  kind,
             double         height_mm,
             gboolean       outside)
{
  guint index;
  const BwMeasure *measure = find_measure (view, kind, &index);
  double text = view->style->text_mm;
  double y = outside ? view->edge + (GAP + LANE / 2) * text : y_of (view, height_mm);
  double half;

  if (measure == NULL)
    return;
  half = measure->mm[view->schematic->drawn] / 4;
  if (outside)
    {
      extension (view, x_of (view, -half), view->edge + 0.4 * text, x_of (view, -half),
                 y + 0.6 * text);
      extension (view, x_of (view, half), view->edge + 0.4 * text, x_of (view, half),
                 y + 0.6 * text);
    }
  dimension (view, x_of (view, -half), y, x_of (view, half), y);
  clear_for_values (view, y);
  label (view, index, view->middle, y, BW_CHART_TEXT_LEFT);
}

static void
draw_outline (const View *view)
{
  const GArray *outline = view->schematic->outline;

  cairo_new_path (view->cr);
  for (guint i = 0; i < outline->len; i++)
    {
      const BwOutlinePoint *point = &g_array_index (outline, BwOutlinePoint, i);

      cairo_line_to (view->cr, x_of (view, point->half_mm), y_of (view, point->height_mm));
    }
  for (guint i = outline->len; i-- > 0;)
    {
      const BwOutlinePoint *point = &g_array_index (outline, BwOutlinePoint, i);

      cairo_line_to (view->cr, x_of (view, -point->half_mm), y_of (view, point->height_mm));
    }
  cairo_close_path (view->cr);
  cairo_set_source_rgb (view->cr, 1, 1, 1);
  cairo_fill_preserve (view->cr);
  ink (view, 1);
  cairo_set_line_width (view->cr, view->style->line_mm * 1.5);
  cairo_set_line_join (view->cr, CAIRO_LINE_JOIN_ROUND);
  cairo_stroke (view->cr);
}

/* Where the brim ends (whole line) and where the crown starts (dashes). */
static void
draw_edges (const View *view)
{
  const double dashes[] = { 4 * view->style->line_mm, 3 * view->style->line_mm };
  const BwMeasureKind kinds[] = { BW_MEASURE_BRIM_HEIGHT, BW_MEASURE_CROWN_START };

  for (guint i = 0; i < G_N_ELEMENTS (kinds); i++)
    {
      guint index;
      const BwMeasure *measure = find_measure (view, kinds[i], &index);
      double height, half;

      if (measure == NULL)
        continue;
      height = measure->mm[view->schematic->drawn];
      half = half_at (view, height);
      ink (view, 1);
      cairo_set_line_width (view->cr, view->style->line_mm * 0.7);
      cairo_set_dash (view->cr, dashes, kinds[i] == BW_MEASURE_CROWN_START ? 2 : 0, 0);
      line (view, x_of (view, -half), y_of (view, height), x_of (view, half),
            y_of (view, height));
      cairo_set_dash (view->cr, NULL, 0, 0);
    }
}

/* Height of the girth's line: the middle of the body. */
static double
girth_height (const View *view)
{
  guint index;
  const BwMeasure *brim = find_measure (view, BW_MEASURE_BRIM_HEIGHT, &index);
  const BwMeasure *crown = find_measure (view, BW_MEASURE_CROWN_START, &index);
  guint k = view->schematic->drawn;

  return ((brim != NULL ? brim->mm[k] : 0) + crown->mm[k]) / 2;
}

/**
 * bw_schematic_get_size:
 * @schematic: a schematic
 * @style: how it is drawn
 * @width_mm: (out): width on paper
 * @height_mm: (out): height on paper
 */
void
bw_schematic_get_size (const BwSchematic      *schematic,
                       const BwSchematicStyle *style,
                       double                 *width_mm,
                       double                 *height_mm)
{
  View view;

  view_init (&view, schematic, style, NULL);
  *width_mm = view.width;
  *height_mm = view.height;
}

/**
 * bw_schematic_draw:
 * @schematic: a schematic
 * @cr: a context in mm, with its origin at the drawing's upper left corner
 * @style: how it is drawn
 */
void
bw_schematic_draw (const BwSchematic      *schematic,
                   cairo_t                *cr,
                   const BwSchematicStyle *style)
{
  View view;

  if (schematic->measures->len == 0)
    return;
  view_init (&view, schematic, style, cr);
  cairo_save (cr);
  draw_outline (&view);
  draw_edges (&view);
  draw_upright (&view, BW_MEASURE_BRIM_HEIGHT, 0, TRUE);
  draw_upright (&view, BW_MEASURE_CROWN_START, 0, FALSE);
  draw_upright (&view, BW_MEASURE_DEPTH, 1, FALSE);
  draw_across (&view, BW_MEASURE_BRIM, 0, TRUE);
  draw_across (&view, BW_MEASURE_GIRTH, girth_height (&view), FALSE);
  cairo_restore (cr);
}
