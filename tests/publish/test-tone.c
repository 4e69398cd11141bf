#include <glib.h>
#include <math.h>

#include "bw-tone.h"

/* Lightness of black, white and a grey by the definitions of sRGB (IEC 61966-2-1)
 * and L* (CIE 15): a grey of value v has the luminance ((v + 0.055) / 1.055)^2.4. */
static void
test_lightness (void)
{
  double grey = pow ((128.0 / 255 + 0.055) / 1.055, 2.4);
  BwTone tone;

  bw_tone_init (&tone, 0x000000);
  g_assert_cmpfloat_with_epsilon (tone.lightness, 0, 1e-9);
  bw_tone_init (&tone, 0xffffff);
  g_assert_cmpfloat_with_epsilon (tone.lightness, 100, 1e-9);
  bw_tone_init (&tone, 0x808080);
  g_assert_cmpfloat_with_epsilon (tone.luminance, grey, 1e-12);
  g_assert_cmpfloat_with_epsilon (tone.lightness, 116 * pow (grey, 1.0 / 3) - 16, 1e-9);
}

static guint32
pack (BwRgb rgb)
{
  return (guint32) lround (rgb.red * 255) << 16 | (guint32) lround (rgb.green * 255) << 8 |
         (guint32) lround (rgb.blue * 255);
}

/* A shade is as much lighter or darker as was asked, to the step of 8 bits, and
 * always a colour that can be shown. */
static void
test_steps (void)
{
  for (guint i = 0; i < 3000; i++)
    {
      guint32 rgb = g_test_rand_int () & 0xffffff;
      double step = g_test_rand_double_range (-30, 30);
      BwTone tone, shaded;
      BwRgb shade;

      bw_tone_init (&tone, rgb);
      shade = bw_tone_shade (&tone, step);
      g_assert_cmpfloat (MIN (MIN (shade.red, shade.green), shade.blue), >=, 0);
      g_assert_cmpfloat (MAX (MAX (shade.red, shade.green), shade.blue), <=, 1);
      bw_tone_init (&shaded, pack (shade));
      if (tone.lightness + step > 4 && tone.lightness + step < 98)
        g_assert_cmpfloat_with_epsilon (shaded.lightness, tone.lightness + step, 0.6);
    }
}

/* No step is no change. */
static void
test_same (void)
{
  for (guint i = 0; i < 1000; i++)
    {
      guint32 rgb = g_test_rand_int () & 0xffffff;
      BwTone tone;

      bw_tone_init (&tone, rgb);
      g_assert_cmphex (pack (bw_tone_shade (&tone, 0)), ==, rgb);
    }
}

/* Darker, the parts of red, green and blue stay as they are. */
static void
test_hue (void)
{
  BwTone tone, darker;
  BwRgb shade;

  bw_tone_init (&tone, 0xd98e32);
  shade = bw_tone_shade (&tone, -20);
  bw_tone_init (&darker, pack (shade));
  g_assert_cmpfloat_with_epsilon (darker.linear[1] / darker.linear[0],
                                  tone.linear[1] / tone.linear[0], 0.02);
  g_assert_cmpfloat_with_epsilon (darker.linear[2] / darker.linear[0],
                                  tone.linear[2] / tone.linear[0], 0.02);
}

int
main (int   argc,
      char *argv[])
{
  g_test_init (&argc, &argv, NULL);

  g_test_add_func ("/tone/lightness", test_lightness);
  g_test_add_func ("/tone/steps", test_steps);
  g_test_add_func ("/tone/same", test_same);
  g_test_add_func ("/tone/hue", test_hue);

  return g_test_run ();
}
