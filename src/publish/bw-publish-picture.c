#define G_LOG_DOMAIN "bw-publish"

#include "bw-publish-picture.h"

#include "bw-chart.h"
#include "bw-schematic.h"

#define DOTS_PER_MM 12   /* about 300 to the inch, as printers want it */
#define LARGE       1.8  /* large print, against the other */

static char *
take_bytes (GBytes *bytes,
            gsize  *length)
{
  return bytes != NULL ? g_bytes_unref_to_data (bytes, length) : NULL;
}

/**
 * bw_publish_charts:
 * @grading: a graded family, not refused
 * @edition: whose terms, form and size are used; of all sizes, the middle one is charted
 * @format: of the file
 * @length: (out): length in bytes
 * @error: return location for an error
 *
 * Returns: (transfer full) (nullable): the file
 */
char *
bw_publish_charts (const BwGrading  *grading,
                   const BwEdition  *edition,
                   BwPictureFormat   format,
                   gsize            *length,
                   GError          **error)
{
  BwGrading *view = bw_edition_view (edition, grading);
  guint size = edition->size != BW_EDITION_ALL_SIZES ? (guint) edition->size : view->sizes->len / 2;
  g_autoptr (BwChart) chart = bw_chart_new (view, size);
  BwChartStyle style = BW_CHART_STYLE_DEFAULT;

  bw_edition_view_free (view);
  if (edition->form == BW_FORM_LARGE_PRINT)
    {
      style.cell_mm *= LARGE;
      style.line_mm *= LARGE;
      style.text_mm *= LARGE;
      style.ink = 0;
    }
  style.low_ink = edition->form != BW_FORM_NORMAL;
  return take_bytes (format == BW_PICTURE_SVG
                       ? bw_chart_to_svg (chart, &style, error)
                       : bw_chart_to_png (chart, &style, DOTS_PER_MM, error),
                     length);
}

/**
 * bw_publish_schematic:
 * @grading: a graded family, not refused
 * @edition: whose form and sizes are used
 * @format: of the file
 * @length: (out): length in bytes
 * @error: return location for an error
 *
 * Returns: (transfer full) (nullable): the file
 */
char *
bw_publish_schematic (const BwGrading  *grading,
                      const BwEdition  *edition,
                      BwPictureFormat   format,
                      gsize            *length,
                      GError          **error)
{
  BwGrading *view = bw_edition_view (edition, grading);
  g_autoptr (BwSchematic) schematic = bw_schematic_new (view, edition->size);
  BwSchematicStyle style = BW_SCHEMATIC_STYLE_DEFAULT;

  bw_edition_view_free (view);
  style.values = edition->size != BW_EDITION_ALL_SIZES;
  if (edition->form == BW_FORM_LARGE_PRINT)
    {
      style.text_mm *= LARGE;
      style.line_mm *= LARGE;
      style.ink = 0;
    }
  return take_bytes (format == BW_PICTURE_SVG
                       ? bw_schematic_to_svg (schematic, &style, error)
                       : bw_schematic_to_png (schematic, &style, DOTS_PER_MM, error),
                     length);
}
