#define G_LOG_DOMAIN "bw-publish"

#include "bw-hat-private.h"

#include <math.h>

/* --- Letters --- */

/* The letters of colours, drawn with a few strokes so that no font is needed:
 * pairs of 0 to 4 across and 0 to 6 upwards, "/" lifts the pen. */
static const char *const letters[BW_STRIPE_COLOURS_MAX] = {
  "00 26 40/12 32",
  "00 06 26 35 34 23 03/23 42 41 30 00",
  "45 36 16 05 01 10 30 41",
  "00 06 26 44 42 20 00",
  "40 00 06 46/03 33",
  "00 06 46/03 33",
  "45 36 16 05 01 10 30 41 43 23",
  "00 06/40 46/03 43",
  "20 26/10 30/16 36",
  "01 10 20 31 36/16 46",
  "00 06/46 02/13 40",
  "06 00 40",
};

static void
letter_path (cairo_t *cr,
             guint    colour,
             double   x,
             double   y,
             double   size)
{
  gboolean pen_down = FALSE;

  for (const char *at = letters[colour]; *at != '\0';)
    if (g_ascii_isdigit (*at))
      {
        double px = x + size * (at[0] - '0' - 2) / 6;
        double py = y + size * (at[1] - '0' - 3) / 6;

        if (pen_down)
          cairo_line_to (cr, px, py);
        else
          cairo_move_to (cr, px, py);
        pen_down = TRUE;
        at += 2;
      }
    else
      pen_down = pen_down && *at++ == ' ';
}

/* The letter in the middle of stripes of one colour, where there is room. */
static void
draw_letter (const BwHatView *view,
             guint            first,
             guint            last)
{
  const BwHatStripe *low = BW_HAT_STRIPE (view->drawing, first);
  const BwHatStripe *high = BW_HAT_STRIPE (view->drawing, last);
  double room = high->y1 - low->y0;
  double size = MIN (0.7 * room, 12 * view->style->line_mm);

  if (size * view->dots < 5)
    return;
  cairo_new_path (view->cr);
  letter_path (view->cr, low->colour, 0, (low->y0 + high->y1) / 2, size);
  cairo_set_line_cap (view->cr, CAIRO_LINE_CAP_ROUND);
  cairo_set_line_join (view->cr, CAIRO_LINE_JOIN_ROUND);
  cairo_set_line_width (view->cr, size * 0.42);
  bw_rgb_source (view->cr, 0xffffff, 0.9);
  cairo_stroke_preserve (view->cr);
  cairo_set_line_width (view->cr, size * 0.14);
  bw_rgb_source (view->cr, 0x101010, 1);
  cairo_stroke (view->cr);
}

static void
draw_letters (const BwHatView *view)
{
  guint n = view->drawing->stripes->len;

  for (guint i = 0; i < n;)
    {
      guint last = i;

      while (last + 1 < n && BW_HAT_STRIPE (view->drawing, last + 1)->colour ==
                               BW_HAT_STRIPE (view->drawing, i)->colour)
        last++;
      draw_letter (view, i, last);
      i = last + 1;
    }
}

/* --- Light and outline --- */

/* The upper edge of a folded brim stands off and throws a shadow on the body. */
static void
draw_fold (const BwHatView *view)
{
  guint n = 0;

  while (n < view->drawing->stripes->len && BW_HAT_STRIPE (view->drawing, n)->turned_up)
    n++;
  for (guint i = 1; i <= 3 && n > 0 && n < view->drawing->stripes->len; i++)
    {
      const BwHatStripe *brim = BW_HAT_STRIPE (view->drawing, n - 1);
      const BwHatStripe *body = BW_HAT_STRIPE (view->drawing, n);
      double high = MIN (body->y1 - body->y0, brim->r1 * 0.05) * i / 3;

      cairo_rectangle (view->cr, -MIN (body->r0, body->r1), body->y0,
                       2 * MIN (body->r0, body->r1), high);
      bw_hat_source_shadow (view, body, 10);
      if (!view->style->hatch)
        cairo_fill (view->cr);
      cairo_new_path (view->cr);
    }
}

static gboolean
is_lit (const BwHatView *view,
        guint            stripe)
{
  return bw_hat_stripe_is_lit (view, BW_HAT_STRIPE (view->drawing, stripe)) &&
         (!view->above || bw_hat_stripe_visible (view, stripe));
}

/* Adds the outlines of lit stripes to the path, those that touch as one. */
static gboolean
lit_path (const BwHatView *view)
{
  guint n = view->drawing->stripes->len;
  gboolean any = FALSE;

  for (guint i = 0; i < n; i++)
    {
      guint last = i;

      if (!is_lit (view, i))
        continue;
      while (last + 1 < n && is_lit (view, last + 1))
        last++;
      bw_hat_stripe_path (view, i, last, 0);
      i = last;
      any = TRUE;
    }

  return any;
}

/* A dark line with a light one in it stands out from any colour. */
static void
draw_lit (const BwHatView *view)
{
  double line = view->style->line_mm;

  cairo_save (view->cr);
  cairo_new_path (view->cr);
  bw_hat_outline_path (view, 0);
  cairo_clip (view->cr);
  cairo_set_line_join (view->cr, CAIRO_LINE_JOIN_MITER);
  cairo_new_path (view->cr);
  if (lit_path (view))
    {
      bw_rgb_source (view->cr, 0x101010, 1);
      cairo_set_line_width (view->cr, 4.4 * line);
      cairo_stroke_preserve (view->cr);
      bw_rgb_source (view->cr, 0xffffff, 1);
      cairo_set_line_width (view->cr, 1.8 * line);
      cairo_stroke (view->cr);
    }
  cairo_new_path (view->cr);
  cairo_restore (view->cr);
}

static void
draw_outline (const BwHatView *view)
{
  cairo_new_path (view->cr);
  bw_hat_outline_path (view, view->style->line_mm / 2);
  bw_rgb_source (view->cr, view->style->hatch ? 0x000000 : view->style->ink,
                 view->style->hatch ? 1 : 0.7);
  cairo_set_line_width (view->cr, view->style->line_mm);
  cairo_set_line_join (view->cr, CAIRO_LINE_JOIN_ROUND);
  cairo_stroke (view->cr);
}

/**
 * bw_hat_draw:
 * @view: a view; its drawing has at least one stripe
 *
 * Draws the whole picture. The context's state is left as it was.
 */
void
bw_hat_draw (const BwHatView *view)
{
  cairo_save (view->cr);
  bw_hat_fabric_draw (view);
  if (!view->style->plain)
    {
      bw_hat_ribs_draw (view);
      bw_hat_pleats_draw (view);
      bw_hat_texture_draw (view);
    }
  if (!view->above)
    draw_fold (view);
  if (view->style->lit_round >= 0)
    draw_lit (view);
  draw_outline (view);
  bw_hat_pompom_draw (view);
  if (view->style->letters && !view->above)
    draw_letters (view);
  cairo_new_path (view->cr);
  cairo_restore (view->cr);
}
