#pragma once

#include <cairo.h>
#include <glib.h>

G_BEGIN_DECLS

/* A colour that is made lighter or darker by steps the eye sees as equal. */
typedef struct
{
  double linear[3]; /* red, green, blue, proportional to light */
  double luminance; /* 0 to 1 */
  double lightness; /* CIE L*, 0 to 100 */
} BwTone;

/* As Cairo takes it: red, green and blue from 0 to 1, sRGB. */
typedef struct
{
  double red;
  double green;
  double blue;
} BwRgb;

void  bw_tone_init    (BwTone       *tone,
                       guint32       rgb);
BwRgb bw_tone_shade   (const BwTone *tone,
                       double        lightness);
void  bw_rgb_source   (cairo_t      *cr,
                       guint32       rgb,
                       double        alpha);

G_END_DECLS
