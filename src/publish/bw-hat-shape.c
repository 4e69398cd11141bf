#define G_LOG_DOMAIN "bw-publish"

#include "bw-hat-private.h"

#include <math.h>

#include "bw-silhouette.h"

/* How far shading goes, in steps of L*: enough to look round, not so far that a
 * colour is taken for another. */
#define SHADING 22.0
#define LIT     16.0

/* Of an overhang's lean, the part that its shade shows. */
#define UNDERSIDE 0.6

/* Times that a radius is averaged with its neighbours'. */
#define EVENING 8

/* Towards the light, from the front and from above the hat; z is to the viewer. */
static const double light_side[3] = { -0.25, 0.55, 0.80 };
static const double light_above[3] = { -0.35, 0.45, 0.82 };

/* --- Stripes --- */

static void
append_stripe (BwHatDrawing            *drawing,
               const BwSilhouettePoint *below,
               const BwSilhouettePoint *point,
               const BwRound           *round)
{
  BwHatStripe stripe = {
    .first_round = point->round,
    .last_round = point->round,
    .colour = MIN (round->colour, BW_STRIPE_COLOURS_MAX - 1),
    .section = round->section,
    .y0 = below->height_mm,
    .r0 = below->radius_mm,
    .y1 = point->height_mm,
    .r1 = point->radius_mm,
    .fullness = point->fullness,
    .positions = round->stitches_out,
  };

  if (stripe.y1 - stripe.y0 > 1e-9 || fabs (stripe.r1 - stripe.r0) > 1e-9)
    g_array_append_val (drawing->stripes, stripe);
}

static void
build_stripes (BwHatDrawing       *drawing,
               const BwGradedSize *size)
{
  g_autoptr (GArray) points = bw_silhouette (size);
  const GArray *rounds = size->rounds->rounds;

  for (guint i = 1; i < points->len; i++)
    {
      const BwSilhouettePoint *point = &g_array_index (points, BwSilhouettePoint, i);

      append_stripe (drawing, point - 1, point, &g_array_index (rounds, BwRound, point->round));
    }
}

/* The rows of a sideways brim, up to the join of its ends, are one stripe. */
static void
build_sideways (BwHatDrawing       *drawing,
                const BwGradedSize *size)
{
  BwHatStripe *brim = BW_HAT_STRIPE (drawing, 0);

  if (g_array_index (size->rounds->rounds, BwRound, 0).row && brim->y0 <= 0)
    {
      brim->first_round = 0;
      brim->section = BW_SECTION_BRIM;
      brim->sideways = TRUE;
      brim->positions = size->brim_rows;
    }
}

/* Decreases of one round draw in its neighbours too: the fabric is evened out and
 * does not stand in steps. Radii above the brim are averaged, and each round
 * rises as far as its own height then lets it: the length of the fabric stays,
 * and so do the brim, the widest part of a long body, and the closed top. */
static void
even_out (BwHatDrawing *drawing)
{
  guint n = drawing->stripes->len;
  g_autofree double *raw = g_new (double, n + 1);
  g_autofree double *length = g_new (double, n);
  guint brim = 0;

  while (brim < n && BW_HAT_STRIPE (drawing, brim)->section == BW_SECTION_BRIM)
    brim++;
  for (guint i = 0; i < n; i++)
    {
      BwHatStripe *stripe = BW_HAT_STRIPE (drawing, i);

      length[i] = hypot (stripe->r1 - stripe->r0, stripe->y1 - stripe->y0);
      stripe->fullness *= stripe->r1; /* the radius its stitches would lie flat with */
    }

  for (guint turn = 0; turn < EVENING; turn++)
    {
      for (guint i = 0; i < n; i++)
        raw[i] = BW_HAT_STRIPE (drawing, i)->r0;
      raw[n] = BW_HAT_STRIPE (drawing, n - 1)->r1;
      for (guint i = brim + 1; i < n; i++)
        BW_HAT_STRIPE (drawing, i)->r0 = (raw[i - 1] + 2 * raw[i] + raw[i + 1]) / 4;
    }

  for (guint i = 0; i < n; i++)
    {
      BwHatStripe *stripe = BW_HAT_STRIPE (drawing, i);
      double inwards, up;

      if (i + 1 < n)
        stripe->r1 = BW_HAT_STRIPE (drawing, i + 1)->r0;
      if (i > 0)
        stripe->y0 = BW_HAT_STRIPE (drawing, i - 1)->y1;
      inwards = stripe->r1 - stripe->r0;
      up = length[i] * length[i] - inwards * inwards;
      /* what is drawn up lies in the plane of the last round */
      stripe->y1 = stripe->y0 + (stripe->section == BW_SECTION_CLOSE || up < 0 ? 0 : sqrt (up));
      stripe->fullness = stripe->r1 > 0 ? MAX (stripe->fullness / stripe->r1, 1) : 1;
    }
}

/* Of a brim in the round that is folded only its first half shows: it has been
 * turned up, so that its first round is on top. */
static void
build_fold (BwHatDrawing *drawing,
            double        thick)
{
  double brim_mm = 0;
  guint n = 0;

  while (n < drawing->stripes->len && BW_HAT_STRIPE (drawing, n)->section == BW_SECTION_BRIM)
    brim_mm = BW_HAT_STRIPE (drawing, n++)->y1;
  if (n == 0)
    return;

  for (guint i = 0; i < n; i++)
    {
      BwHatStripe *stripe = BW_HAT_STRIPE (drawing, i);
      double y0 = stripe->y0;

      stripe->turned_up = TRUE;
      stripe->r0 += thick;
      stripe->r1 += thick;
      if (stripe->sideways || n == 1)
        continue;
      /* in the silhouette each round is half as high as it is worked */
      stripe->y0 = brim_mm - MIN (2 * stripe->y1, brim_mm);
      stripe->y1 = brim_mm - MIN (2 * y0, brim_mm);
    }

  /* the inner half is hidden, and stripes lie upwards */
  for (guint i = n; i-- > 0;)
    if (BW_HAT_STRIPE (drawing, i)->y1 - BW_HAT_STRIPE (drawing, i)->y0 < 1e-9)
      {
        g_array_remove_index (drawing->stripes, i);
        n--;
      }
  for (guint i = 0; i < n / 2; i++)
    {
      BwHatStripe low = *BW_HAT_STRIPE (drawing, i);

      *BW_HAT_STRIPE (drawing, i) = *BW_HAT_STRIPE (drawing, n - 1 - i);
      *BW_HAT_STRIPE (drawing, n - 1 - i) = low;
    }
  drawing->folded = TRUE;
}

/* A brim left to roll bulges. */
static void
build_roll (BwHatDrawing *drawing,
            double        bulge_mm)
{
  guint n = 0;

  while (n < drawing->stripes->len && BW_HAT_STRIPE (drawing, n)->section == BW_SECTION_BRIM)
    n++;
  for (guint i = 0; i < n; i++)
    {
      BW_HAT_STRIPE (drawing, i)->r0 += bulge_mm * sin (G_PI * i / n);
      BW_HAT_STRIPE (drawing, i)->r1 += bulge_mm * sin (G_PI * (i + 1) / n);
    }
}

/* --- Light --- */

/* A brim left to roll leans over from the bottom to the top. */
static void
build_tilts (BwHatDrawing *drawing,
             BwBrimKind    brim)
{
  guint n = drawing->stripes->len;
  double brim_mm = 0;

  for (guint i = 0; i < n; i++)
    {
      BwHatStripe *stripe = BW_HAT_STRIPE (drawing, i);

      stripe->tilt = atan2 (stripe->r0 - stripe->r1, stripe->y1 - stripe->y0);
      if (stripe->tilt < 0)
        stripe->tilt *= UNDERSIDE;
      if (stripe->section == BW_SECTION_BRIM)
        brim_mm = stripe->y1;
    }

  for (guint i = 0; i < n && brim_mm > 0; i++)
    {
      BwHatStripe *stripe = BW_HAT_STRIPE (drawing, i);
      double up = (stripe->y0 + stripe->y1) / 2 / brim_mm;

      if (stripe->section != BW_SECTION_BRIM)
        continue;
      stripe->tilt = brim == BW_BRIM_ROLLED ? 2.6 * up - 1.4 : 0;
    }
}

/* How much lighter the fabric is than it is at the front of a tube, in L*:
 * Lambert's cosine law. `angle` is round the hat, 0 = front, to the right. */
static double
shade_side (double angle,
            double tilt)
{
  double light = cos (tilt) * (sin (angle) * light_side[0] + cos (angle) * light_side[2]) +
                 sin (tilt) * light_side[1];

  return SHADING * (MAX (light, 0) - light_side[2]);
}

/* The same from above, against fabric that lies flat. `toward`: 1 where the
 * fabric leans to the light, -1 away from it. */
static double
shade_above (double toward,
             double tilt)
{
  double light = cos (tilt) * toward * hypot (light_above[0], light_above[1]) +
                 sin (tilt) * light_above[2];

  return SHADING * (MAX (light, 0) - light_above[2]);
}

static void
build_shades (BwHatDrawing *drawing)
{
  for (guint i = 0; i < drawing->stripes->len; i++)
    {
      BwHatStripe *stripe = BW_HAT_STRIPE (drawing, i);
      const BwTone *tone = &drawing->tones[stripe->colour];

      for (guint k = 0; k < BW_SHADES; k++)
        {
          double shade = shade_side (G_PI * (k / (BW_SHADES - 1.0) - 0.5), stripe->tilt);

          stripe->shades[k] = bw_tone_shade (tone, shade);
          stripe->lit[k] = bw_tone_shade (tone, shade + LIT);
        }
      for (guint k = 0; k < 2; k++)
        {
          double shade = shade_above (k == 0 ? 1 : -1, stripe->tilt);

          stripe->near[k] = bw_tone_shade (tone, shade);
          stripe->near_lit[k] = bw_tone_shade (tone, shade + LIT);
        }
    }
}

static void
build_extents (BwHatDrawing *drawing)
{
  double radius = 0;

  for (guint i = drawing->stripes->len; i-- > 0;)
    {
      BwHatStripe *stripe = BW_HAT_STRIPE (drawing, i);

      stripe->seen_above = stripe->r0 > MAX (radius, stripe->r1) + 1e-6;
      radius = MAX (radius, MAX (stripe->r0, stripe->r1));
      drawing->hat_height = MAX (drawing->hat_height, stripe->y1);
    }

  drawing->width = 2 * radius;
  drawing->crown_radius = radius;
}

/**
 * bw_hat_shape_build:
 * @drawing: (inout): with its colours; its stripes and extents are made here
 * @size: a graded size
 * @design: its design
 *
 * Cuts the silhouette into stripes and lights them.
 */
void
bw_hat_shape_build (BwHatDrawing       *drawing,
                    const BwGradedSize *size,
                    const BwDesign     *design)
{
  double stitch_mm = size->body_stitches > 0 ? size->girth_mm / size->body_stitches : 0;

  build_stripes (drawing, size);
  if (drawing->stripes->len > 0)
    {
      build_sideways (drawing, size);
      even_out (drawing);
      if (design->brim.kind == BW_BRIM_ROLLED)
        build_roll (drawing, stitch_mm);
      else if (design->brim.folded)
        build_fold (drawing, stitch_mm / 3);
      build_tilts (drawing, design->brim.kind);
      build_shades (drawing);
    }

  build_extents (drawing);
}

/* --- Places --- */

/**
 * bw_hat_stripe_visible:
 * @view: a view
 * @stripe: index of a stripe
 *
 * Returns: whether any of it is seen: fabric that lies flat is not, from the
 *   side; what is under wider fabric is not, from above
 */
gboolean
bw_hat_stripe_visible (const BwHatView *view,
                       guint            stripe)
{
  const BwHatStripe *it = BW_HAT_STRIPE (view->drawing, stripe);

  return view->above ? it->seen_above : it->y1 - it->y0 > 1e-6;
}

/**
 * bw_hat_stripe_is_lit:
 * @view: a view
 * @stripe: a stripe
 *
 * Returns: whether the rounds to light up are among its own
 */
gboolean
bw_hat_stripe_is_lit (const BwHatView   *view,
                      const BwHatStripe *stripe)
{
  guint first = (guint) view->style->lit_round;

  return view->style->lit_round >= 0 && stripe->last_round >= first &&
         stripe->first_round < first + MAX (view->style->n_lit, 1);
}

/**
 * bw_hat_place:
 * @view: a view
 * @stripe: index of a stripe; below 0 the lower edge is meant
 * @around: 0 to 1 round the hat: it begins at the back and runs the way the work
 *   goes, to the left on the side that is seen (right-handed)
 * @up: 0 to 1 from its lower to its upper edge
 * @x: (out): mm
 * @y: (out): mm
 *
 * Where a point of the fabric is seen.
 */
void
bw_hat_place (const BwHatView *view,
              int              stripe,
              double           around,
              double           up,
              double          *x,
              double          *y)
{
  const BwHatStripe *it = BW_HAT_STRIPE (view->drawing, MAX (stripe, 0));
  double angle = 2 * G_PI * (0.5 - around);
  double radius;

  up = stripe < 0 ? 0 : up;
  radius = it->r0 + up * (it->r1 - it->r0);
  *x = radius * sin (angle);
  *y = view->above ? -radius * cos (angle) : it->y0 + up * (it->y1 - it->y0);
}

/**
 * bw_hat_facing:
 * @view: a view
 * @around: 0 to 1 round the hat
 *
 * Returns: how much narrower the fabric looks there than it is: 1 = as it is,
 *   0 = edge on, below 0 = it is at the back
 */
double
bw_hat_facing (const BwHatView *view,
               double           around)
{
  return view->above ? 1 : cos (2 * G_PI * (0.5 - around));
}

/**
 * bw_hat_patch_path:
 * @view: a view
 * @patch: a patch
 *
 * Adds its four corners to the path.
 */
void
bw_hat_patch_path (const BwHatView  *view,
                   const BwHatPatch *patch)
{
  double x, y;

  bw_hat_place (view, patch->low_stripe, patch->low_around - patch->low_half, patch->low_up,
                &x, &y);
  cairo_move_to (view->cr, x, y);
  bw_hat_place (view, patch->low_stripe, patch->low_around + patch->low_half, patch->low_up,
                &x, &y);
  cairo_line_to (view->cr, x, y);
  bw_hat_place (view, patch->high_stripe, patch->high_around + patch->high_half, patch->high_up,
                &x, &y);
  cairo_line_to (view->cr, x, y);
  bw_hat_place (view, patch->high_stripe, patch->high_around - patch->high_half, patch->high_up,
                &x, &y);
  cairo_line_to (view->cr, x, y);
  cairo_close_path (view->cr);
}

static void
ring_path (cairo_t *cr,
           double   outer,
           double   inner)
{
  cairo_new_sub_path (cr);
  cairo_arc (cr, 0, 0, outer, 0, 2 * G_PI);
  cairo_close_path (cr);
  if (inner > 0)
    {
      cairo_new_sub_path (cr);
      cairo_arc_negative (cr, 0, 0, inner, 2 * G_PI, 0);
      cairo_close_path (cr);
    }
}

/* How far into the stripe above `last` an overlap reaches, as a part of it. */
static double
overlap_part (const BwHatView *view,
              guint            last,
              double           overlap)
{
  const BwHatStripe *next;

  if (overlap <= 0 || last + 1 >= view->drawing->stripes->len)
    return 0;
  next = BW_HAT_STRIPE (view->drawing, last + 1);
  if (view->above)
    return MIN (overlap / MAX (next->r0 - next->r1, 1e-9), 1);
  return MIN (overlap / MAX (next->y1 - next->y0, 1e-9), 1);
}

/**
 * bw_hat_stripe_path:
 * @view: a view
 * @first: index of a stripe
 * @last: index of the last one
 * @overlap: mm that the path reaches into the stripe above, if there is one
 *
 * Adds the outline of stripes that follow each other to the path; a ring, from
 * above.
 */
void
bw_hat_stripe_path (const BwHatView *view,
                    guint            first,
                    guint            last,
                    double           overlap)
{
  const BwHatDrawing *drawing = view->drawing;
  double part = overlap_part (view, last, overlap);
  double x, y;

  bw_hat_place (view, (int) (part > 0 ? last + 1 : last), 0.25, part > 0 ? part : 1, &x, &y);
  if (view->above)
    {
      ring_path (view->cr, BW_HAT_STRIPE (drawing, first)->r0, hypot (x, y));
      return;
    }

  cairo_new_sub_path (view->cr);
  for (guint i = first; i <= last; i++)
    {
      const BwHatStripe *stripe = BW_HAT_STRIPE (drawing, i);

      cairo_line_to (view->cr, stripe->r0, stripe->y0);
      cairo_line_to (view->cr, stripe->r1, stripe->y1);
    }
  if (part > 0)
    {
      cairo_line_to (view->cr, x, y);
      cairo_line_to (view->cr, -x, y);
    }
  for (guint i = last + 1; i-- > first;)
    {
      const BwHatStripe *stripe = BW_HAT_STRIPE (drawing, i);

      cairo_line_to (view->cr, -stripe->r1, stripe->y1);
      cairo_line_to (view->cr, -stripe->r0, stripe->y0);
    }
  cairo_close_path (view->cr);
}

/* --- Outline --- */

typedef struct
{
  double x;
  double y;
} Point;

static void
append_point (GArray *points,
              double  x,
              double  y)
{
  Point point = { x, y };
  const Point *last = points->len > 0 ? &g_array_index (points, Point, points->len - 1) : NULL;

  if (last == NULL || hypot (last->x - x, last->y - y) > 1e-6)
    g_array_append_val (points, point);
}

/* The right half, from the middle of the lower edge to the middle of the top. */
static GArray *
half_outline (const BwHatDrawing *drawing)
{
  GArray *points = g_array_new (FALSE, FALSE, sizeof (Point));

  append_point (points, 0, 0);
  for (guint i = 0; i < drawing->stripes->len; i++)
    {
      const BwHatStripe *stripe = BW_HAT_STRIPE (drawing, i);

      append_point (points, stripe->r0, stripe->y0);
      append_point (points, stripe->r1, stripe->y1);
    }
  append_point (points, 0, drawing->hat_height);
  return points;
}

/* Unit normal to the left of the way from one point to the next: inwards. */
static Point
normal_of (const Point *from,
           const Point *to)
{
  double length = hypot (to->x - from->x, to->y - from->y);

  return (Point) { -(to->y - from->y) / length, (to->x - from->x) / length };
}

/* A corner moved inwards by 1 from both of its sides; where they fold back on
 * each other, by no more than 2. The ends lie on the axis and stay there. */
static Point
inwards (const GArray *points,
         guint         i)
{
  const Point *point = &g_array_index (points, Point, i);
  Point before, after, sum;
  double stretch;

  if (i == 0)
    return (Point) { 0, 1 };
  before = normal_of (point - 1, point);
  if (i == points->len - 1)
    after = (Point) { -before.x, before.y };
  else
    after = normal_of (point, point + 1);

  sum = (Point) { before.x + after.x, before.y + after.y };
  stretch = 1 + before.x * after.x + before.y * after.y;
  stretch = 1 / MAX (stretch, hypot (sum.x, sum.y) / 2);
  return isfinite (stretch) ? (Point) { sum.x * stretch, sum.y * stretch } : before;
}

/**
 * bw_hat_outline_path:
 * @view: a view
 * @inset: mm that the path lies inside of the outline
 *
 * Adds the outline of the whole hat to the path. A line of twice the inset's
 * width along it touches the outline from inside.
 */
void
bw_hat_outline_path (const BwHatView *view,
                     double           inset)
{
  g_autoptr (GArray) points = NULL;
  guint n;

  cairo_new_sub_path (view->cr);
  if (view->above)
    {
      cairo_arc (view->cr, 0, 0, MAX (view->drawing->crown_radius - inset, 0), 0, 2 * G_PI);
      cairo_close_path (view->cr);
      return;
    }

  points = half_outline (view->drawing);
  n = points->len;
  for (guint i = 0; i < 2 * n; i++)
    {
      guint k = i < n ? i : 2 * n - 1 - i;
      Point move = n > 1 ? inwards (points, k) : (Point) { 0, 0 };
      const Point *point = &g_array_index (points, Point, k);
      double x = MAX (point->x + inset * move.x, 0);

      cairo_line_to (view->cr, i < n ? x : -x, point->y + inset * move.y);
    }
  cairo_close_path (view->cr);
}
