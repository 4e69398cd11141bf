#pragma once

#include <cairo.h>
#include <glib.h>

G_BEGIN_DECLS

typedef void (* BwPictureDraw) (cairo_t       *cr,
                                gconstpointer  data);

/* Something that can be drawn, as a file of its own: on white, with a margin. */
typedef struct
{
  double         width_mm;
  double         height_mm;
  const char    *title;
  const char    *description; /* for who cannot see it */
  BwPictureDraw  draw;        /* on a context in mm, origin at the upper left */
  gconstpointer  data;
} BwPicture;

GBytes *bw_picture_to_svg (const BwPicture *picture,
                           GError         **error) G_GNUC_WARN_UNUSED_RESULT;
GBytes *bw_picture_to_png (const BwPicture *picture,
                           double           dots_per_mm,
                           GError         **error) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
