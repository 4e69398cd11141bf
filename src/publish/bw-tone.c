#define G_LOG_DOMAIN "bw-publish"

#include "bw-tone.h"

#include <math.h>

/* Lightness of the darkest and the lightest shade: pure black and white would
 * leave nothing of the colour. */
#define DARKEST  3.0
#define LIGHTEST 98.5

/* --- sRGB, IEC 61966-2-1: between the stored value and light --- */

static double
to_linear (double value)
{
  return value <= 0.04045 ? value / 12.92 : pow ((value + 0.055) / 1.055, 2.4);
}

static double
from_linear (double light)
{
  light = CLAMP (light, 0, 1);
  return light <= 0.0031308 ? 12.92 * light : 1.055 * pow (light, 1 / 2.4) - 0.055;
}

/* --- L*, CIE 15: between luminance and lightness --- */

static double
to_lightness (double luminance)
{
  return luminance > 216.0 / 24389 ? 116 * cbrt (luminance) - 16 : luminance * 24389 / 27;
}

static double
to_luminance (double lightness)
{
  double root = (lightness + 16) / 116;

  return lightness > 8 ? root * root * root : lightness * 27 / 24389;
}

/**
 * bw_tone_init:
 * @tone: (out): the colour, taken apart
 * @rgb: 0xRRGGBB
 */
void
bw_tone_init (BwTone  *tone,
              guint32  rgb)
{
  for (guint i = 0; i < 3; i++)
    tone->linear[i] = to_linear ((double) (rgb >> (16 - 8 * i) & 0xff) / 255);
  tone->luminance = 0.2126 * tone->linear[0] + 0.7152 * tone->linear[1] + 0.0722 * tone->linear[2];
  tone->lightness = to_lightness (tone->luminance);
}

/**
 * bw_tone_shade:
 * @tone: a colour
 * @lightness: how much lighter (or darker, below 0), in steps of L*
 *
 * The colour keeps its hue as far as it can; where a lighter one would need more
 * of a primary than there is, white is mixed in. Equal steps look equal whether
 * the colour is dark or light, until black or white is near.
 *
 * Returns: the shade
 */
BwRgb
bw_tone_shade (const BwTone *tone,
               double        lightness)
{
  double wanted = CLAMP (tone->lightness + lightness, MIN (DARKEST, tone->lightness),
                         MAX (LIGHTEST, tone->lightness));
  double luminance = to_luminance (wanted);
  double most = MAX (MAX (tone->linear[0], tone->linear[1]), tone->linear[2]);
  double scale = tone->luminance > 0 ? luminance / tone->luminance : 1;
  double white = 0;

  if (most > 0)
    scale = MIN (scale, 1 / most);
  if (luminance > scale * tone->luminance + 1e-12)
    white = (luminance - scale * tone->luminance) / (1 - scale * tone->luminance);

  return (BwRgb) {
    from_linear (tone->linear[0] * scale * (1 - white) + white),
    from_linear (tone->linear[1] * scale * (1 - white) + white),
    from_linear (tone->linear[2] * scale * (1 - white) + white),
  };
}

/**
 * bw_rgb_source:
 * @cr: a context
 * @rgb: 0xRRGGBB
 * @alpha: 0 to 1
 *
 * Makes the colour the context's source.
 */
void
bw_rgb_source (cairo_t *cr,
               guint32  rgb,
               double   alpha)
{
  cairo_set_source_rgba (cr, (double) (rgb >> 16 & 0xff) / 255, (double) (rgb >> 8 & 0xff) / 255,
                         (double) (rgb & 0xff) / 255, alpha);
}
