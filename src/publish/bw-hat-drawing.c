#define G_LOG_DOMAIN "bw-publish"

#include "bw-hat-drawing.h"

#include <math.h>

#include "bw-hat-private.h"

/* Dots that a printer or a reader's zoom sets in the place of one unit of a
 * vector surface. */
#define VECTOR_DOTS 4.0

static void
read_design (BwHatDrawing   *drawing,
             const BwDesign *design)
{
  drawing->n_colours = MIN (design->colours->len, BW_STRIPE_COLOURS_MAX);
  for (guint i = 0; i < drawing->n_colours; i++)
    {
      drawing->rgb[i] = g_array_index (design->colours, BwColour, i).rgb;
      bw_tone_init (&drawing->tones[i], drawing->rgb[i]);
    }

  drawing->pompom_mm = design->finishing.pompom_mm;
  drawing->pompom_colour = MIN (design->finishing.pompom_colour, BW_STRIPE_COLOURS_MAX - 1);
}

/**
 * bw_hat_drawing_new:
 * @grading: a grading that was not refused; nothing of it is kept
 * @size: index of one of its sizes
 *
 * Prepares the picture of one size. It is never changed afterwards, so that
 * several threads may draw it at once.
 *
 * Returns: (transfer full): the picture
 */
BwHatDrawing *
bw_hat_drawing_new (const BwGrading *grading,
                    guint            size)
{
  BwHatDrawing *drawing;
  const BwGradedSize *graded;

  g_return_val_if_fail (grading != NULL && size < grading->sizes->len, NULL);

  drawing = g_new0 (BwHatDrawing, 1);
  drawing->stripes = g_array_new (FALSE, TRUE, sizeof (BwHatStripe));
  drawing->marks = g_array_new (FALSE, FALSE, sizeof (BwHatMark));
  graded = g_ptr_array_index (grading->sizes, size);
  read_design (drawing, grading->design);
  bw_hat_shape_build (drawing, graded, grading->design);
  bw_hat_marks_build (drawing, grading->reference, graded);
  return drawing;
}

/**
 * bw_hat_drawing_free:
 * @drawing: (nullable): a picture
 */
void
bw_hat_drawing_free (BwHatDrawing *drawing)
{
  if (drawing == NULL)
    return;

  g_array_unref (drawing->stripes);
  g_array_unref (drawing->marks);
  g_free (drawing);
}

/**
 * bw_hat_drawing_width:
 * @drawing: a picture
 *
 * Returns: width seen from the side, mm: nothing is drawn beyond half of it to
 *   either side
 */
double
bw_hat_drawing_width (const BwHatDrawing *drawing)
{
  g_return_val_if_fail (drawing != NULL, 0);

  return MAX (drawing->width, drawing->pompom_mm);
}

/**
 * bw_hat_drawing_height:
 * @drawing: a picture
 *
 * Returns: height seen from the side, with the pom-pom, mm
 */
double
bw_hat_drawing_height (const BwHatDrawing *drawing)
{
  g_return_val_if_fail (drawing != NULL, 0);

  if (drawing->pompom_mm <= 0)
    return drawing->hat_height;
  return drawing->hat_height + drawing->pompom_mm - bw_hat_pompom_sink (drawing);
}

/**
 * bw_hat_drawing_hat_height:
 * @drawing: a picture
 *
 * Returns: height of the hat itself as it hangs, without a pom-pom, mm
 */
double
bw_hat_drawing_hat_height (const BwHatDrawing *drawing)
{
  g_return_val_if_fail (drawing != NULL, 0);

  return drawing->hat_height;
}

/**
 * bw_hat_drawing_crown_radius:
 * @drawing: a picture
 *
 * Returns: radius of the hat seen from above, mm
 */
double
bw_hat_drawing_crown_radius (const BwHatDrawing *drawing)
{
  g_return_val_if_fail (drawing != NULL, 0);

  return drawing->crown_radius;
}

/* Dots of the device in a mm, so that nothing is drawn that could not be seen. */
static double
dots_of (cairo_t *cr)
{
  cairo_surface_t *target = cairo_get_target (cr);
  double x = 1, y = 0, x_scale, y_scale;

  cairo_user_to_device_distance (cr, &x, &y);
  cairo_surface_get_device_scale (target, &x_scale, &y_scale);
  switch ((int) cairo_surface_get_type (target))
    {
    case CAIRO_SURFACE_TYPE_PDF:
    case CAIRO_SURFACE_TYPE_PS:
    case CAIRO_SURFACE_TYPE_SVG:
      x_scale *= VECTOR_DOTS;
      break;
    default:
      break;
    }

  return hypot (x, y) * x_scale;
}

static void
draw (const BwHatDrawing *drawing,
      cairo_t            *cr,
      const BwHatStyle   *style,
      gboolean            above)
{
  BwHatStyle standard = BW_HAT_STYLE_DEFAULT;
  BwHatView view = { drawing, cr, style != NULL ? style : &standard, above, dots_of (cr) };

  if (view.style->detail > 0)
    view.dots *= view.style->detail;
  if (drawing->stripes->len > 0)
    bw_hat_draw (&view);
}

/**
 * bw_hat_drawing_draw_side:
 * @drawing: a picture
 * @cr: a context, in mm of the hat, with y upwards
 * @style: (nullable): how; NULL = BW_HAT_STYLE_DEFAULT
 *
 * Draws the hat from the side: the origin is the middle of its lower edge. How
 * much detail is drawn depends on the context's scale.
 */
void
bw_hat_drawing_draw_side (const BwHatDrawing *drawing,
                          cairo_t            *cr,
                          const BwHatStyle   *style)
{
  g_return_if_fail (drawing != NULL && cr != NULL);

  draw (drawing, cr, style, FALSE);
}

/**
 * bw_hat_drawing_draw_crown:
 * @drawing: a picture
 * @cr: a context, in mm of the hat, with y upwards
 * @style: (nullable): how; NULL = BW_HAT_STYLE_DEFAULT
 *
 * Draws the hat from above, its front to -y: rounds as rings about the origin,
 * each as wide as it is seen, decreases as legs that lean together. Worked
 * right-handed from the brim up, rounds run clockwise.
 */
void
bw_hat_drawing_draw_crown (const BwHatDrawing *drawing,
                           cairo_t            *cr,
                           const BwHatStyle   *style)
{
  g_return_if_fail (drawing != NULL && cr != NULL);

  draw (drawing, cr, style, TRUE);
}

/* Of the rows of a sideways brim, the one at the place. */
static int
row_at (const BwHatStripe *stripe,
        double             x,
        double             radius)
{
  double around = 0.5 - asin (CLAMP (x / radius, -1, 1)) / (2 * G_PI);
  guint row = 1 + (guint) (around * stripe->positions); /* row 0 is the chain */

  return (int) MIN (stripe->first_round + row, stripe->last_round);
}

/**
 * bw_hat_drawing_round_at:
 * @drawing: a picture
 * @x_mm: place, as drawn from the side
 * @y_mm: upwards from the lower edge
 *
 * Returns: index in the size's rounds of the round that is seen there, of a
 *   sideways brim the row; -1 = none
 */
int
bw_hat_drawing_round_at (const BwHatDrawing *drawing,
                         double              x_mm,
                         double              y_mm)
{
  g_return_val_if_fail (drawing != NULL, -1);

  for (guint i = 0; i < drawing->stripes->len; i++)
    {
      const BwHatStripe *stripe = BW_HAT_STRIPE (drawing, i);
      double radius;

      if (y_mm < stripe->y0 || y_mm >= stripe->y1)
        continue;
      radius = stripe->r0 + (y_mm - stripe->y0) / (stripe->y1 - stripe->y0) *
                            (stripe->r1 - stripe->r0);
      if (fabs (x_mm) > radius || radius <= 0)
        return -1;
      return stripe->sideways ? row_at (stripe, x_mm, radius) : (int) stripe->first_round;
    }

  return -1;
}

/**
 * bw_hat_drawing_find_round:
 * @drawing: a picture
 * @round: index in the size's rounds; of a sideways brim any row
 * @low_mm: (out): its lower edge above that of the hat
 * @high_mm: (out): its upper edge
 * @half_width_mm: (out): half its width in the middle between them
 *
 * Where a round is drawn from the side: a place for labels and lines to it.
 *
 * Returns: FALSE when nothing of it is seen
 */
gboolean
bw_hat_drawing_find_round (const BwHatDrawing *drawing,
                           guint               round,
                           double             *low_mm,
                           double             *high_mm,
                           double             *half_width_mm)
{
  g_return_val_if_fail (drawing != NULL, FALSE);

  for (guint i = 0; i < drawing->stripes->len; i++)
    {
      const BwHatStripe *stripe = BW_HAT_STRIPE (drawing, i);

      if (round < stripe->first_round || round > stripe->last_round ||
          stripe->y1 - stripe->y0 <= 1e-6)
        continue;
      *low_mm = stripe->y0;
      *high_mm = stripe->y1;
      *half_width_mm = (stripe->r0 + stripe->r1) / 2;
      return TRUE;
    }

  return FALSE;
}

/**
 * bw_hat_drawing_crown_round_at:
 * @drawing: a picture
 * @x_mm: place, as drawn from above
 * @y_mm: the same, upwards
 *
 * Returns: index in the size's rounds of the round that is seen there; -1 = none
 */
int
bw_hat_drawing_crown_round_at (const BwHatDrawing *drawing,
                               double              x_mm,
                               double              y_mm)
{
  double radius = hypot (x_mm, y_mm);

  g_return_val_if_fail (drawing != NULL, -1);

  for (guint i = drawing->stripes->len; i-- > 0;)
    {
      const BwHatStripe *stripe = BW_HAT_STRIPE (drawing, i);

      if (stripe->seen_above && radius < stripe->r0)
        return (int) stripe->first_round;
    }

  return -1;
}
