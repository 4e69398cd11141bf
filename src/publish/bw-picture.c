#define G_LOG_DOMAIN "bw-publish"

#include "bw-picture.h"

#include <cairo-svg.h>
#include <math.h>
#include <string.h>

#include "bw-error.h"
#include "bw-html-private.h"

#define POINTS_PER_MM (72 / 25.4)
#define MARGIN_MM     6.0
#define PIXELS_MAX    20000.0 /* on a side: Cairo's images end at 32767 */

static cairo_status_t
append_cb (void                *closure,
           const unsigned char *data,
           unsigned int         length)
{
  g_string_append_len (closure, (const char *) data, (gssize) length);
  return CAIRO_STATUS_SUCCESS;
}

/* On white paper with a margin, `scale` dots to the mm. */
static void
draw_sheet (const BwPicture *picture,
            cairo_surface_t *surface,
            double           scale)
{
  cairo_t *cr = cairo_create (surface);

  cairo_set_source_rgb (cr, 1, 1, 1);
  cairo_paint (cr);
  cairo_scale (cr, scale, scale);
  cairo_translate (cr, MARGIN_MM, MARGIN_MM);
  picture->draw (cr, picture->data);
  cairo_destroy (cr);
}

static gboolean
check_status (cairo_status_t   status,
              GError         **error)
{
  if (status == CAIRO_STATUS_SUCCESS)
    return TRUE;

  g_set_error (error, BW_ERROR, BW_ERROR_TOO_LARGE, "The picture cannot be drawn: %s",
               cairo_status_to_string (status));
  return FALSE;
}

/* Cairo counts its surfaces through the whole program and names groups after them:
 * here they are counted anew, so that the same picture is the same file. */
static void
append_settled (GString    *out,
                const char *svg)
{
  static const char name[] = "surface";
  g_autoptr (GArray) numbers = g_array_new (FALSE, FALSE, sizeof (guint64));
  const char *at = svg;
  const char *next;

  while ((next = strstr (at, name)) != NULL)
    {
      char *end;
      guint64 number;
      guint i = 0;

      next += strlen (name);
      g_string_append_len (out, at, next - at);
      at = next;
      if (!g_ascii_isdigit (*at))
        continue;
      number = g_ascii_strtoull (at, &end, 10);
      while (i < numbers->len && g_array_index (numbers, guint64, i) != number)
        i++;
      if (i == numbers->len)
        g_array_append_val (numbers, number);
      g_string_append_printf (out, "%u", i + 1);
      at = end;
    }
  g_string_append (out, at);
}

/* The file with its title and description, which a screen reader says. */
static GBytes *
finish_svg (const BwPicture *picture,
            const GString   *svg)
{
  GString *out = g_string_sized_new (svg->len + 512);
  const char *open = strstr (svg->str, "<svg ");
  const char *body = open != NULL ? strchr (open, '>') : NULL;

  if (body == NULL)
    {
      g_string_append (out, svg->str);
      return g_string_free_to_bytes (out);
    }
  g_string_append_len (out, svg->str, open + strlen ("<svg ") - svg->str);
  g_string_append (out, "role=\"img\" ");
  g_string_append_len (out, open + strlen ("<svg "), body + 1 - (open + strlen ("<svg ")));
  g_string_append (out, "\n<title>");
  bw_html_escape (out, picture->title);
  g_string_append (out, "</title>\n<desc>");
  bw_html_escape (out, picture->description);
  g_string_append (out, "</desc>");
  append_settled (out, body + 1);
  return g_string_free_to_bytes (out);
}

/**
 * bw_picture_to_svg:
 * @picture: a picture
 * @error: return location for an error
 *
 * The same picture gives the same bytes, whatever was drawn before.
 *
 * Returns: (transfer full) (nullable): an SVG file, to scale
 */
GBytes *
bw_picture_to_svg (const BwPicture  *picture,
                   GError          **error)
{
  g_autoptr (GString) svg = g_string_new (NULL);
  cairo_surface_t *surface =
    cairo_svg_surface_create_for_stream (append_cb, svg,
                                         (picture->width_mm + 2 * MARGIN_MM) * POINTS_PER_MM,
                                         (picture->height_mm + 2 * MARGIN_MM) * POINTS_PER_MM);
  gboolean drawn;

  draw_sheet (picture, surface, POINTS_PER_MM);
  cairo_surface_finish (surface);
  drawn = check_status (cairo_surface_status (surface), error);
  cairo_surface_destroy (surface);
  return drawn ? finish_svg (picture, svg) : NULL;
}

/**
 * bw_picture_to_png:
 * @picture: a picture
 * @dots_per_mm: fineness; lessened where the file would be too large
 * @error: return location for an error
 *
 * Returns: (transfer full) (nullable): a PNG file
 */
GBytes *
bw_picture_to_png (const BwPicture  *picture,
                   double            dots_per_mm,
                   GError          **error)
{
  g_autoptr (GString) png = g_string_new (NULL);
  double width = picture->width_mm + 2 * MARGIN_MM;
  double height = picture->height_mm + 2 * MARGIN_MM;
  cairo_surface_t *surface;
  gboolean drawn;

  dots_per_mm = MIN (dots_per_mm, PIXELS_MAX / MAX (width, height));
  surface = cairo_image_surface_create (CAIRO_FORMAT_RGB24, (int) ceil (width * dots_per_mm),
                                        (int) ceil (height * dots_per_mm));
  draw_sheet (picture, surface, dots_per_mm);
  drawn = check_status (cairo_surface_write_to_png_stream (surface, append_cb, png), error);
  cairo_surface_destroy (surface);
  return drawn ? g_string_free_to_bytes (g_steal_pointer (&png)) : NULL;
}
