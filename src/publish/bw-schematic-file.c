#define G_LOG_DOMAIN "bw-publish"

#include "bw-publish-private.h"

#include "bw-chart-private.h"
#include "bw-picture.h"
#include "bw-schematic.h"
#include "bw-tone.h"

/* Drawing and figures on one sheet: a line for each size, a column for each measure. */

#define NAME    12.0 /* width of the sizes' column */
#define COLUMN  11.0 /* of the others */

typedef struct
{
  const BwSchematic      *schematic;
  const BwSchematicStyle *style;
  BwChartStyle            type;
} Sheet;

static double
put (const Sheet *sheet,
     cairo_t     *cr,
     gboolean     bold,
     double       x,
     double       y,
     double       width,
     const char  *text)
{
  double high = bw_chart_text_height (&sheet->type, sheet->style->text_mm, width, text);

  if (cr != NULL)
    bw_chart_text_draw (cr, &sheet->type, sheet->style->text_mm, bold, BW_CHART_TEXT_LEFT, x,
                        y + high / 2, width, text);
  return high;
}

/* Headings: the letter, then what it measures. */
static double
run_headings (const Sheet *sheet,
              cairo_t     *cr,
              double       y)
{
  const BwSchematic *schematic = sheet->schematic;
  double text = sheet->style->text_mm;
  double tallest = 0;

  for (guint m = 0; m < schematic->measures->len; m++)
    {
      const BwMeasure *measure = &g_array_index (schematic->measures, BwMeasure, m);
      g_autofree char *heading = g_strdup_printf ("%c\n%s", measure->letter, measure->name);

      double high = put (sheet, cr, TRUE, (NAME + m * COLUMN) * text, y, (COLUMN - 1) * text,
                         heading);

      tallest = MAX (tallest, high);
    }

  return tallest;
}

static double
run_size (const Sheet *sheet,
          cairo_t     *cr,
          guint        size,
          double       y)
{
  const BwSchematic *schematic = sheet->schematic;
  double text = sheet->style->text_mm;
  double tallest = put (sheet, cr, size == schematic->drawn, 0, y, (NAME - 1) * text,
                        g_ptr_array_index (schematic->sizes, size));

  for (guint m = 0; m < schematic->measures->len; m++)
    {
      g_autofree char *cm = bw_schematic_value (schematic, m, size, BW_UNITS_CM);
      g_autofree char *inch = bw_schematic_value (schematic, m, size, BW_UNITS_INCH);
      g_autofree char *both = g_strdup_printf ("%s\n%s", cm, inch);

      double high = put (sheet, cr, FALSE, (NAME + m * COLUMN) * text, y, (COLUMN - 1) * text,
                         both);

      tallest = MAX (tallest, high);
    }

  return tallest;
}

static void
rule (const Sheet *sheet,
      cairo_t     *cr,
      double       y,
      double       width)
{
  if (cr == NULL)
    return;
  cairo_set_line_width (cr, sheet->style->line_mm * 0.5);
  cairo_move_to (cr, 0, y);
  cairo_line_to (cr, width, y);
  cairo_stroke (cr);
}

static void
run_sheet (const Sheet *sheet,
           cairo_t     *cr,
           double      *width,
           double      *height)
{
  const BwSchematic *schematic = sheet->schematic;
  double text = sheet->style->text_mm;
  double table = (NAME + schematic->measures->len * COLUMN) * text;
  g_autofree char *note = g_strdup_printf (
    _("Drawn laid flat, to scale: size %s. Girth and brim are measured all the way round, twice the "
      "width that lies there."),
    (const char *) g_ptr_array_index (schematic->sizes, schematic->drawn));
  double y = 0;

  bw_schematic_get_size (schematic, sheet->style, width, height);
  *width = MAX (*width, table);
  if (cr != NULL)
    {
      bw_schematic_draw (schematic, cr, sheet->style);
      bw_rgb_source (cr, sheet->style->ink, 1);
    }
  y = *height + text;
  y += put (sheet, cr, FALSE, 0, y, *width, note) + text;
  y += run_headings (sheet, cr, y) + 0.4 * text;
  for (guint k = 0; k < schematic->sizes->len; k++)
    {
      rule (sheet, cr, y, table);
      y += 0.3 * text;
      y += run_size (sheet, cr, k, y) + 0.3 * text;
    }
  *height = y;
}

static void
draw_cb (cairo_t       *cr,
         gconstpointer  data)
{
  double width, height;

  run_sheet (data, cr, &width, &height);
}

static void
sheet_init (Sheet                  *sheet,
            const BwSchematic      *schematic,
            const BwSchematicStyle *style)
{
  *sheet = (Sheet) { schematic, style, BW_CHART_STYLE_DEFAULT };
  sheet->type.family = style->family;
}

static BwPicture
picture_of (const Sheet *sheet,
            const char  *description)
{
  BwPicture picture = { .title = sheet->schematic->title, .description = description,
                        .draw = draw_cb, .data = sheet };

  run_sheet (sheet, NULL, &picture.width_mm, &picture.height_mm);
  return picture;
}

/**
 * bw_schematic_to_svg:
 * @schematic: a schematic
 * @style: how it is drawn
 * @error: return location for an error
 *
 * The same schematic and style give the same bytes.
 *
 * Returns: (transfer full) (nullable): drawing and figures as an SVG file, with its words
 */
GBytes *
bw_schematic_to_svg (const BwSchematic       *schematic,
                     const BwSchematicStyle  *style,
                     GError                 **error)
{
  g_autofree char *words = bw_schematic_describe (schematic);
  BwPicture picture;
  Sheet sheet;

  sheet_init (&sheet, schematic, style);
  picture = picture_of (&sheet, words);
  return bw_picture_to_svg (&picture, error);
}

/**
 * bw_schematic_to_png:
 * @schematic: a schematic
 * @style: how it is drawn
 * @dots_per_mm: fineness; lessened where the picture would be too large
 * @error: return location for an error
 *
 * Returns: (transfer full) (nullable): drawing and figures as a PNG file
 */
GBytes *
bw_schematic_to_png (const BwSchematic       *schematic,
                     const BwSchematicStyle  *style,
                     double                   dots_per_mm,
                     GError                 **error)
{
  BwPicture picture;
  Sheet sheet;

  sheet_init (&sheet, schematic, style);
  picture = picture_of (&sheet, "");
  return bw_picture_to_png (&picture, dots_per_mm, error);
}
