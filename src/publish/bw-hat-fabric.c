#define G_LOG_DOMAIN "bw-publish"

#include "bw-hat-private.h"

#include <math.h>

/* The fabric itself: its colour in the light, the line between rounds, ribs,
 * folds, and the hatches that stand for colours in print. */

/* --- Sources --- */

static void
add_stop (cairo_pattern_t *pattern,
          double           offset,
          const BwRgb     *colour,
          const BwRgb     *lighter,
          double           part)
{
  cairo_pattern_add_color_stop_rgb (pattern, offset,
                                    colour->red + part * (lighter->red - colour->red),
                                    colour->green + part * (lighter->green - colour->green),
                                    colour->blue + part * (lighter->blue - colour->blue));
}

/**
 * bw_hat_source_fabric:
 * @view: a view
 * @stripe: a stripe
 * @lighter: 0 = the stripe as it is, 1 = as light as it gets
 *
 * Makes the stripe's colour, with the light on it, the source. Along one axis the
 * light on a ring changes as the place does, so a linear gradient gives it.
 */
void
bw_hat_source_fabric (const BwHatView   *view,
                      const BwHatStripe *stripe,
                      double             lighter)
{
  double part = CLAMP (lighter + (bw_hat_stripe_is_lit (view, stripe) ? 0.6 : 0), 0, 1);
  double radius = MAX (stripe->r0, stripe->r1);
  cairo_pattern_t *pattern;

  if (view->style->hatch)
    {
      cairo_set_source_rgb (view->cr, 1, 1, 1);
      return;
    }
  if (view->style->flat)
    {
      BwRgb rgb = bw_tone_shade (&view->drawing->tones[stripe->colour], 0);

      cairo_set_source_rgb (view->cr, rgb.red, rgb.green, rgb.blue);
      return;
    }

  if (view->above)
    {
      pattern = cairo_pattern_create_linear (-0.61 * radius, 0.79 * radius,
                                             0.61 * radius, -0.79 * radius);
      for (guint k = 0; k < 2; k++)
        add_stop (pattern, k, &stripe->near[k], &stripe->near_lit[k], part);
    }
  else
    {
      radius = (stripe->r0 + stripe->r1) / 2;
      pattern = cairo_pattern_create_linear (-radius, 0, radius, 0);
      for (guint k = 0; k < BW_SHADES; k++)
        add_stop (pattern, (1 + sin (G_PI * (k / (BW_SHADES - 1.0) - 0.5))) / 2,
                  &stripe->shades[k], &stripe->lit[k], part);
    }

  cairo_set_source (view->cr, pattern);
  cairo_pattern_destroy (pattern);
}

/* A veil of the stripe's own colour made as much as `reach` lighter or darker,
 * thin enough to change it by `change`, both in steps of L*. */
static void
source_veil (const BwHatView   *view,
             const BwHatStripe *stripe,
             double             reach,
             double             change)
{
  BwRgb rgb = bw_tone_shade (&view->drawing->tones[stripe->colour], reach);
  double lightness = view->drawing->tones[stripe->colour].lightness;
  double room = reach < 0 ? lightness - 3 : 98.5 - lightness;

  cairo_set_source_rgba (view->cr, rgb.red, rgb.green, rgb.blue,
                         MIN (change / MAX (MIN (fabs (reach), room), 1), 0.8));
}

/**
 * bw_hat_source_shadow:
 * @view: a view
 * @stripe: the stripe it falls on
 * @depth: how much darker it makes it, in steps of L*
 *
 * Makes a shadow the source; black in hatched print.
 */
void
bw_hat_source_shadow (const BwHatView   *view,
                      const BwHatStripe *stripe,
                      double             depth)
{
  if (view->style->hatch)
    cairo_set_source_rgb (view->cr, 0, 0, 0);
  else
    source_veil (view, stripe, -32, depth);
}

/**
 * bw_hat_source_light:
 * @view: a view
 * @stripe: the stripe it falls on
 * @height: how much lighter it makes it, in steps of L*
 *
 * Makes a highlight the source.
 */
void
bw_hat_source_light (const BwHatView   *view,
                     const BwHatStripe *stripe,
                     double             height)
{
  source_veil (view, stripe, 18, height);
}

/**
 * bw_hat_source_mark:
 * @view: a view
 * @stripe: a stripe
 *
 * Makes what is plainly seen on the stripe the source: dark on a light colour,
 * light on a dark one.
 */
void
bw_hat_source_mark (const BwHatView   *view,
                    const BwHatStripe *stripe)
{
  const BwTone *tone = &view->drawing->tones[stripe->colour];
  BwRgb rgb = bw_tone_shade (tone, tone->lightness < 48 ? 26 : -30);

  if (view->style->hatch)
    rgb = (BwRgb) { 0, 0, 0 };
  cairo_set_source_rgb (view->cr, rgb.red, rgb.green, rgb.blue);
}

/* --- Colour --- */

/* Whether two stripes can be filled as one. */
static gboolean
same_fill (const BwHatView   *view,
           const BwHatStripe *a,
           const BwHatStripe *b)
{
  if (view->style->flat && !view->above)
    return a->colour == b->colour &&
           bw_hat_stripe_is_lit (view, a) == bw_hat_stripe_is_lit (view, b);
  return !view->above && a->colour == b->colour && fabs (a->tilt - b->tilt) < 1e-6 &&
         fabs (a->r0 - b->r1) < 1e-6 && fabs (a->r1 - b->r0) < 1e-6 &&
         bw_hat_stripe_is_lit (view, a) == bw_hat_stripe_is_lit (view, b);
}

/* Adds the colours of the rounds as they follow each other outwards, of the
 * whole crown: `near` 0 = turned to the light, 1 = away from it. From one round to
 * the next the colour changes over a dot, so that the edge is soft. */
static void
add_rings (const BwHatView *view,
           cairo_pattern_t *rings,
           guint            near)
{
  double radius = view->drawing->crown_radius;
  double soft = 0.5 / view->dots / radius;
  double inner = 0;

  for (guint i = view->drawing->stripes->len; i-- > 0;)
    {
      const BwHatStripe *stripe = BW_HAT_STRIPE (view->drawing, i);
      double part = bw_hat_stripe_is_lit (view, stripe) ? 0.6 : 0;
      double outer = MIN (stripe->r0 / radius, 1);

      if (!bw_hat_stripe_visible (view, i) || outer <= inner)
        continue;
      add_stop (rings, MIN (inner + soft, outer), &stripe->near[near], &stripe->near_lit[near],
                part);
      add_stop (rings, MAX (outer - soft, inner), &stripe->near[near], &stripe->near_lit[near],
                part);
      inner = outer;
    }
}

/* All rounds of a crown as one disk: once as they look away from the light, and
 * over that, thinner the further from it, as they look turned to it. Ring by ring
 * it would take time by the square of the radius for each round. */
static void
fill_rings (const BwHatView *view)
{
  double radius = view->drawing->crown_radius;
  cairo_pattern_t *rings[2];
  cairo_pattern_t *light = cairo_pattern_create_linear (-0.61 * radius, 0.79 * radius,
                                                        0.61 * radius, -0.79 * radius);

  cairo_pattern_add_color_stop_rgba (light, 0, 0, 0, 0, 1);
  cairo_pattern_add_color_stop_rgba (light, 1, 0, 0, 0, 0);
  for (guint near = 0; near < 2; near++)
    {
      rings[near] = cairo_pattern_create_radial (0, 0, 0, 0, 0, radius);
      add_rings (view, rings[near], near);
    }

  cairo_save (view->cr);
  cairo_new_path (view->cr);
  cairo_arc (view->cr, 0, 0, radius, 0, 2 * G_PI);
  cairo_set_source (view->cr, rings[1]);
  cairo_fill_preserve (view->cr);
  cairo_clip (view->cr);
  cairo_set_source (view->cr, rings[0]);
  cairo_mask (view->cr, light);
  cairo_restore (view->cr);

  for (guint near = 0; near < 2; near++)
    cairo_pattern_destroy (rings[near]);
  cairo_pattern_destroy (light);
}

/* Each stripe reaches a dot or so under the one above, so that nothing of the
 * ground shows through the soft edge between them. */
static void
fill_stripes (const BwHatView *view)
{
  const BwHatDrawing *drawing = view->drawing;

  for (guint i = 0; i < drawing->stripes->len;)
    {
      const BwHatStripe *stripe = BW_HAT_STRIPE (drawing, i);
      guint last = i;

      while (last + 1 < drawing->stripes->len &&
             same_fill (view, stripe, BW_HAT_STRIPE (drawing, last + 1)))
        last++;
      if (bw_hat_stripe_visible (view, i))
        {
          cairo_new_path (view->cr);
          bw_hat_stripe_path (view, i, last, 1.5 / view->dots);
          bw_hat_source_fabric (view, stripe, 0);
          cairo_fill (view->cr);
        }
      i = last + 1;
    }
}

/* Adds the lower edge of a stripe to the path. */
static void
edge_path (const BwHatView   *view,
           const BwHatStripe *stripe)
{
  if (view->above)
    {
      cairo_new_sub_path (view->cr);
      cairo_arc (view->cr, 0, 0,
                 CLAMP (view->drawing->crown_radius - view->style->line_mm / 2, 0, stripe->r0),
                 0, 2 * G_PI);
      return;
    }

  cairo_move_to (view->cr, -stripe->r0, stripe->y0);
  cairo_line_to (view->cr, stripe->r0, stripe->y0);
}

/* The line between a stripe and the one below, where there is room for one. */
static gboolean
has_groove (const BwHatView *view,
            guint            stripe)
{
  const BwHatStripe *it = BW_HAT_STRIPE (view->drawing, stripe);
  double seen = view->above ? it->r0 - it->r1 : it->y1 - it->y0;

  return stripe > 0 && bw_hat_stripe_visible (view, stripe) && seen * view->dots > 2.5;
}

static void
draw_grooves (const BwHatView *view)
{
  for (guint colour = 0; colour < view->drawing->n_colours; colour++)
    {
      const BwHatStripe *any = NULL;

      cairo_new_path (view->cr);
      for (guint i = 0; i < view->drawing->stripes->len; i++)
        if (BW_HAT_STRIPE (view->drawing, i)->colour == colour && has_groove (view, i))
          {
            any = BW_HAT_STRIPE (view->drawing, i);
            edge_path (view, any);
          }

      if (any == NULL)
        continue;
      bw_hat_source_shadow (view, any, view->above ? 11 : 9);
      cairo_set_line_width (view->cr, view->style->line_mm * (view->style->hatch ? 0.5 : 1));
      cairo_stroke (view->cr);
    }
}

/**
 * bw_hat_fabric_draw:
 * @view: a view
 *
 * Draws the stripes in their colours, and a line between them.
 */
void
bw_hat_fabric_draw (const BwHatView *view)
{
  if (view->above && !view->style->hatch && !view->style->flat)
    fill_rings (view);
  else
    fill_stripes (view);
  if (view->style->hatch)
    bw_hat_hatch_draw (view);
  if (!view->style->plain)
    draw_grooves (view);
}

/* --- Ribs --- */

/* Upright patches all round a stripe, `part` of the room wide. */
static void
upright_path (const BwHatView *view,
              guint            stripe,
              guint            n,
              double           offset,
              double           part)
{
  for (guint i = 0; i < n; i++)
    {
      double around = (i + offset) / n;
      BwHatPatch patch = { (int) stripe, 0, around, part / n / 2,
                           (int) stripe, 1, around, part / n / 2 };

      if (bw_hat_facing (view, around) > 0.08)
        bw_hat_patch_path (view, &patch);
    }
}

/**
 * bw_hat_ribs_draw:
 * @view: a view from the side
 *
 * Draws the ridges of a sideways brim, one for two rows, narrower towards the
 * sides.
 */
void
bw_hat_ribs_draw (const BwHatView *view)
{
  static const struct { double offset, part, shadow; } layers[] =
    { { 0.5, 0.66, 5 }, { 0.5, 0.44, 6 }, { 0.5, 0.20, 8 }, { 0.03, 0.40, -4 },
      { 0.06, 0.18, -5 } };
  const BwHatStripe *brim = BW_HAT_STRIPE (view->drawing, 0);
  guint ridges = brim->positions / 2;

  if (!brim->sideways || view->above || ridges == 0 ||
      2 * G_PI * brim->r0 / ridges * view->dots < 2)
    return;

  for (guint i = 0; i < G_N_ELEMENTS (layers); i++)
    {
      if (view->style->hatch && i != 2)
        continue;
      cairo_new_path (view->cr);
      upright_path (view, 0, ridges, layers[i].offset, layers[i].part);
      if (layers[i].shadow > 0)
        bw_hat_source_shadow (view, brim, layers[i].shadow);
      else
        bw_hat_source_light (view, brim, -layers[i].shadow);
      cairo_fill (view->cr);
    }
}

/* --- Folds --- */

#define FOLDS 22 /* round the hat, wherever it has too much fabric for its girth */

/* How deep the folds are at a stripe's edge: 0 = the fabric lies smooth. */
static double
fold_depth (const BwHatDrawing *drawing,
            int                 stripe)
{
  if (stripe < 0)
    return 0;
  return CLAMP (2 * (BW_HAT_STRIPE (drawing, stripe)->fullness - 1.1), 0, 0.7);
}

/**
 * bw_hat_pleats_draw:
 * @view: a view
 *
 * Draws folds where stitches lie closer than they are wide: the fuller the
 * fabric, the wider the shadow between two folds.
 */
void
bw_hat_pleats_draw (const BwHatView *view)
{
  for (guint i = 0; i < view->drawing->stripes->len; i++)
    {
      const BwHatStripe *stripe = BW_HAT_STRIPE (view->drawing, i);
      double low = fold_depth (view->drawing, (int) i - 1);
      double high = fold_depth (view->drawing, (int) i);

      if (!bw_hat_stripe_visible (view, i) || low + high < 0.03)
        continue;
      cairo_new_path (view->cr);
      for (guint k = 0; k < FOLDS; k++)
        {
          double around = (k + 0.5) / FOLDS;
          double wide = view->style->hatch ? 0 : 0.5 / FOLDS;
          BwHatPatch patch = { (int) i, 0, around, low * wide, (int) i, 1, around, high * wide };

          if (bw_hat_facing (view, around) > 0.08)
            bw_hat_patch_path (view, &patch);
        }
      bw_hat_source_shadow (view, stripe, 7);
      if (view->style->hatch)
        {
          cairo_set_line_width (view->cr, view->style->line_mm / 2);
          cairo_stroke (view->cr);
        }
      else
        cairo_fill (view->cr);
    }
}

/* --- Hatches --- */

typedef enum
{
  RISING  = 1 << 0,
  FALLING = 1 << 1,
  UPRIGHT = 1 << 2,
  LEVEL   = 1 << 3,
  DOTTED  = 1 << 4,
} HatchLines;

typedef struct
{
  double steps; /* between lines, in line widths */
  guint  lines; /* HatchLines; 0 = stays white */
} Hatch;

/* One for each colour, those side by side as unlike as can be. */
static const Hatch hatches[BW_STRIPE_COLOURS_MAX] = {
  { 0, 0 },
  { 5, RISING },
  { 5, DOTTED },
  { 6, RISING | FALLING },
  { 5, UPRIGHT },
  { 5, FALLING },
  { 6, UPRIGHT | LEVEL },
  { 2.5, RISING },
  { 2.5, DOTTED },
  { 3, RISING | FALLING },
  { 2.5, UPRIGHT },
  { 2.5, FALLING },
};

/* Lines across a box, turned by `angle`; the box is the hat's own, so that
 * lines go on from stripe to stripe. */
static void
lines_path (const BwHatView *view,
            double           angle,
            double           step,
            gboolean         dotted)
{
  double reach = view->drawing->width + view->drawing->hat_height;
  int n = (int) ceil (reach / step);

  cairo_save (view->cr);
  cairo_rotate (view->cr, angle);
  for (int i = -n; i <= n; i++)
    {
      double shift = dotted && i % 2 != 0 ? step / 2 : 0;

      for (int k = -n; dotted && k <= n; k++)
        cairo_rectangle (view->cr, k * step + shift - 0.2 * step, i * step - 0.2 * step,
                         0.4 * step, 0.4 * step);
      if (!dotted)
        {
          cairo_move_to (view->cr, -reach, i * step);
          cairo_line_to (view->cr, reach, i * step);
        }
    }
  cairo_restore (view->cr);
}

static void
draw_hatch (const BwHatView *view,
            const Hatch     *hatch)
{
  double step = hatch->steps * view->style->line_mm;

  cairo_new_path (view->cr);
  cairo_set_source_rgb (view->cr, 0, 0, 0);
  cairo_set_line_width (view->cr, view->style->line_mm * 0.7);
  if ((hatch->lines & DOTTED) != 0)
    {
      lines_path (view, 0, step, TRUE);
      cairo_fill (view->cr);
      return;
    }

  if ((hatch->lines & RISING) != 0)
    lines_path (view, G_PI / 4, step, FALSE);
  if ((hatch->lines & FALLING) != 0)
    lines_path (view, -G_PI / 4, step, FALSE);
  if ((hatch->lines & UPRIGHT) != 0)
    lines_path (view, G_PI / 2, step, FALSE);
  if ((hatch->lines & LEVEL) != 0)
    lines_path (view, 0, step, FALSE);
  cairo_stroke (view->cr);
}

/**
 * bw_hat_hatch_draw:
 * @view: a view
 *
 * Draws the hatch of each colour over its stripes, or only their edges.
 */
void
bw_hat_hatch_draw (const BwHatView *view)
{
  const BwHatDrawing *drawing = view->drawing;

  for (guint colour = 0; colour < drawing->n_colours; colour++)
    {
      gboolean any = FALSE;

      cairo_new_path (view->cr);
      for (guint i = 0; i < drawing->stripes->len && hatches[colour].lines != 0; i++)
        if (BW_HAT_STRIPE (drawing, i)->colour == colour && bw_hat_stripe_visible (view, i))
          {
            bw_hat_stripe_path (view, i, i, 0);
            any = TRUE;
          }

      if (!any)
        continue;
      if (view->style->bare)
        {
          cairo_set_source_rgb (view->cr, 0, 0, 0);
          cairo_set_line_width (view->cr, view->style->line_mm * 0.7);
          cairo_stroke (view->cr);
          continue;
        }
      cairo_save (view->cr);
      cairo_clip (view->cr);
      draw_hatch (view, &hatches[colour]);
      cairo_restore (view->cr);
    }
}
