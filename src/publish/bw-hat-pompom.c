#define G_LOG_DOMAIN "bw-publish"

#include "bw-hat-private.h"

#include <math.h>

/* A pom-pom: a ball of cut ends. Where each end lies is made up from its
 * number, so that every picture of a hat is the same. */

#define SHADES 6

/* Evenly strewn from 0 to 1, by multiples of the golden section. */
static double
strew (guint  i,
       double step)
{
  return fmod (i * step, 1);
}

static void
source_of (const BwHatView *view,
           double           lightness)
{
  const BwTone *tone = &view->drawing->tones[view->drawing->pompom_colour];
  BwRgb rgb = bw_tone_shade (tone, lightness);

  if (view->style->hatch)
    rgb = lightness < 0 ? (BwRgb) { 0, 0, 0 } : (BwRgb) { 1, 1, 1 };
  cairo_set_source_rgb (view->cr, rgb.red, rgb.green, rgb.blue);
}

/* How light the ball is at a place of its disc, -1 to 1: Lambert's law, the light
 * as on the hat. Places in radii. */
static double
light_at (double x,
          double y)
{
  double z = sqrt (MAX (1 - x * x - y * y, 0));

  return CLAMP (1.6 * (-0.25 * x + 0.55 * y + 0.80 * z) - 0.75, -1, 1);
}

/* A cut end, as a sliver from the middle outwards. */
static void
sliver_path (cairo_t *cr,
             double   x,
             double   y,
             double   angle,
             double   length,
             double   width)
{
  double along_x = cos (angle), along_y = sin (angle);

  cairo_move_to (cr, x - 0.5 * length * along_x, y - 0.5 * length * along_y);
  cairo_line_to (cr, x + 0.5 * length * along_x - width * along_y,
                 y + 0.5 * length * along_y + width * along_x);
  cairo_line_to (cr, x + length * along_x, y + length * along_y);
  cairo_line_to (cr, x + 0.5 * length * along_x + width * along_y,
                 y + 0.5 * length * along_y - width * along_x);
  cairo_close_path (cr);
}

/* Cut ends all over the ball, pointing outwards: those of one shade of SHADES.
 * The fewer, the thicker. */
static void
ends_path (const BwHatView *view,
           double           radius,
           guint            n_ends,
           guint            shade)
{
  double width = 0.6 / sqrt (n_ends);

  for (guint i = 0; i < n_ends; i++)
    {
      double out = 0.84 * sqrt ((i + 0.5) / n_ends);
      double angle = 2 * G_PI * strew (i, 0.6180339887498949);
      double uneven = strew (i * i, 0.7548776662466927) - 0.5;
      double x = out * cos (angle), y = out * sin (angle);
      double light = light_at (x, y) + 0.9 * uneven;
      double length = MIN (4 * width * (0.5 + 0.8 * out), 0.94 - out);

      if ((guint) CLAMP ((light + 1) / 2 * SHADES, 0, SHADES - 1) == shade)
        sliver_path (view->cr, radius * x, radius * y, angle + 1.8 * uneven, radius * length,
                     radius * width);
    }
}

/* The ragged rim: ends of many lengths. */
static void
rim_path (const BwHatView *view,
          double           radius)
{
  guint n = 40;

  for (guint i = 0; i < 2 * n; i++)
    {
      double out = i % 2 == 0 ? 0.93 + 0.07 * strew (i, 0.7548776662466927) : 0.85;

      cairo_line_to (view->cr, out * radius * cos (i * G_PI / n),
                     out * radius * sin (i * G_PI / n));
    }
  cairo_close_path (view->cr);
}

/**
 * bw_hat_pompom_sink:
 * @drawing: a drawing
 *
 * Returns: mm by which a pom-pom sinks into the top of the hat; 0 without one
 */
double
bw_hat_pompom_sink (const BwHatDrawing *drawing)
{
  return drawing->pompom_mm * 0.1;
}

/* A line round the rim is what is left of a larger one under a smaller one. */
static void
draw_rim (const BwHatView *view,
          double           radius)
{
  double line = MIN (view->style->line_mm, radius / 4);
  BwRgb rim = bw_tone_shade (&view->drawing->tones[view->drawing->pompom_colour], -34);

  cairo_new_path (view->cr);
  rim_path (view, radius);
  cairo_set_source_rgb (view->cr, rim.red, rim.green, rim.blue);
  if (view->style->hatch)
    cairo_set_source_rgb (view->cr, 0, 0, 0);
  cairo_fill (view->cr);
  rim_path (view, radius - line);
  source_of (view, view->style->hatch ? 1 : -12);
  cairo_fill (view->cr);
}

static void
draw_ball (const BwHatView *view,
           double           radius)
{
  guint n_ends;

  draw_rim (view, radius);
  if (view->style->plain || radius * view->dots < 6)
    {
      cairo_arc (view->cr, -0.05 * radius, 0.08 * radius, 0.78 * radius, 0, 2 * G_PI);
      source_of (view, 0);
      cairo_fill (view->cr);
      return;
    }

  n_ends = (guint) CLAMP (2.6 * radius * view->dots, 24, 460);
  for (guint i = 0; i < (view->style->hatch ? 1 : SHADES); i++)
    {
      ends_path (view, radius, n_ends, i);
      source_of (view, 5.5 * i - 22);
      cairo_fill (view->cr);
    }
}

/**
 * bw_hat_pompom_draw:
 * @view: a view
 *
 * Draws the pom-pom on top; from above a dashed circle shows how far it reaches,
 * so that the crown can be seen.
 */
void
bw_hat_pompom_draw (const BwHatView *view)
{
  const BwHatDrawing *drawing = view->drawing;
  double radius = drawing->pompom_mm / 2;
  double line = view->style->line_mm;
  double dashes[] = { 4 * line, 3 * line };

  if (radius <= 0)
    return;

  cairo_save (view->cr);
  if (view->above)
    {
      cairo_new_path (view->cr);
      cairo_arc (view->cr, 0, 0, MIN (radius, drawing->crown_radius - line), 0, 2 * G_PI);
      bw_rgb_source (view->cr, 0xffffff, 0.75);
      cairo_set_line_width (view->cr, 2.2 * line);
      cairo_stroke_preserve (view->cr);
      cairo_set_dash (view->cr, dashes, 2, 0);
      bw_rgb_source (view->cr, 0x202020, 1);
      cairo_set_line_width (view->cr, 1.4 * line);
      cairo_stroke (view->cr);
    }
  else
    {
      cairo_translate (view->cr, 0, drawing->hat_height - bw_hat_pompom_sink (drawing) + radius);
      cairo_set_line_cap (view->cr, CAIRO_LINE_CAP_ROUND);
      draw_ball (view, radius);
    }
  cairo_restore (view->cr);
}
