#define G_LOG_DOMAIN "bw-publish"

#include "bw-hat-private.h"

#include <math.h>

/* Stitches as they look from outside. Each look adds its strokes or patches for
 * one stripe to the path, which is then painted in one go: the number of
 * drawing operations goes with the rounds, not with the stitches. */

/* One stitch in its place; widths and places are parts of the way round. */
typedef struct
{
  const BwHatMark *mark;
  int              stripe;
  double           top;
  double           top_half;  /* half of a position of this round */
  double           base;
  double           base_half; /* half of what it takes */
} Stitch;

typedef void (*StitchFunc) (const BwHatView *view,
                            const Stitch    *stitch);

/* Stitches of fewer dots are not drawn, and appear by degrees above that. */
#define DOTS_LEAST 6.0
#define DOTS_CLEAR 9.0

static double
stitch_mm (const BwHatStripe *stripe)
{
  return G_PI * (stripe->r0 + stripe->r1) / MAX (stripe->positions, 1);
}

/* Height of a stripe as it is seen. */
static double
seen_mm (const BwHatView   *view,
         const BwHatStripe *stripe)
{
  return view->above ? stripe->r0 - stripe->r1 : stripe->y1 - stripe->y0;
}

/* 0 to 1: how far the stitches of a stripe show at this scale. */
static double
clarity (const BwHatView   *view,
         const BwHatStripe *stripe)
{
  double dots = MIN (stitch_mm (stripe), seen_mm (view, stripe)) * view->dots;

  return CLAMP ((dots - DOTS_LEAST) / (DOTS_CLEAR - DOTS_LEAST), 0, 1);
}

/* Whether a stitch lies wholly on the side that is seen, so that none of its
 * strokes reaches over the edge. */
static gboolean
is_seen (const BwHatView   *view,
         const BwHatStripe *stripe,
         double             around,
         double             half)
{
  double out = fabs (around - 0.5) + half;
  double room = MIN (stripe->r0, stripe->r1) * (1 - sin (2 * G_PI * MIN (out, 0.25)));

  return view->above || (out < 0.25 && room > 0.16 * stitch_mm (stripe));
}

/* Where a stitch of one turn of a stripe lies. */
static Stitch
stitch_at (const BwHatView *view,
           guint            index,
           const BwHatMark *mark,
           guint            turn)
{
  const BwHatStripe *stripe = BW_HAT_STRIPE (view->drawing, index);
  double makes = (double) stripe->turns * stripe->turn_makes;
  double takes = (double) stripe->turns * stripe->turn_takes;
  double below = index > 0 ? BW_HAT_STRIPE (view->drawing, index - 1)->shift : 0;
  Stitch stitch = { mark, (int) index, 0, 0.5 / makes, 0, 0 };

  stitch.top = (turn * (double) stripe->turn_makes + mark->top) / makes + stripe->shift;
  stitch.base = stitch.top;
  stitch.base_half = stitch.top_half;
  if (takes > 0)
    {
      stitch.base = (turn * (double) stripe->turn_takes + mark->base) / takes + below;
      stitch.base_half = mark->base_half / takes;
    }

  return stitch;
}

/* Calls `func` for the stitches of one look that are seen. From the side only the
 * turns of the front half are looked at. Returns how many there were. */
static guint
each_stitch (const BwHatView *view,
             guint            index,
             BwLook           look,
             StitchFunc       func)
{
  const BwHatStripe *stripe = BW_HAT_STRIPE (view->drawing, index);
  int slack = 1 + (int) ceil (fabs (stripe->shift) * stripe->turns);
  int first = view->above ? 0 : MAX ((int) stripe->turns / 4 - slack, 0);
  int last = view->above ? (int) stripe->turns
                         : MIN ((int) (3 * stripe->turns) / 4 + slack, (int) stripe->turns);
  guint n = 0;

  for (int turn = first; turn < last && stripe->turn_makes > 0; turn++)
    for (guint i = 0; i < stripe->n_marks; i++)
      {
        const BwHatMark *mark = &g_array_index (view->drawing->marks, BwHatMark,
                                                stripe->first_mark + i);
        Stitch stitch;

        if (mark->look != look)
          continue;
        stitch = stitch_at (view, index, mark, (guint) turn);
        if (!is_seen (view, stripe, stitch.top, stitch.top_half))
          continue;
        func (view, &stitch);
        n++;
      }

  return n;
}

static void
move_to (const BwHatView *view,
         int              stripe,
         double           around,
         double           up)
{
  double x, y;

  bw_hat_place (view, stripe, around, up, &x, &y);
  cairo_move_to (view->cr, x, y);
}

static void
line_to (const BwHatView *view,
         int              stripe,
         double           around,
         double           up)
{
  double x, y;

  bw_hat_place (view, stripe, around, up, &x, &y);
  cairo_line_to (view->cr, x, y);
}

/* --- Strokes of each look --- */

/* Two loops that meet in a point: the row of small Vs of plain crochet. They are
 * filled, not stroked: it is quicker by half. */
static void
vee_path (const BwHatView *view,
          const Stitch    *stitch,
          double           low,
          double           high)
{
  double half = 0.74 * stitch->top_half;
  double thick = 0.42 * (high - low);

  move_to (view, stitch->stripe, stitch->top - half, high);
  line_to (view, stitch->stripe, stitch->top, low + thick);
  line_to (view, stitch->stripe, stitch->top + half, high);
  line_to (view, stitch->stripe, stitch->top + half, high - thick);
  line_to (view, stitch->stripe, stitch->top, low);
  line_to (view, stitch->stripe, stitch->top - half, high - thick);
  cairo_close_path (view->cr);
}

static void
loops_path (const BwHatView *view,
            const Stitch    *stitch)
{
  vee_path (view, stitch, 0.22, 0.86);
}

/* A stem with its two loops on top. */
static void
stem_path (const BwHatView *view,
           const Stitch    *stitch)
{
  double foot = stitch->mark->fan ? stitch->base : stitch->top;
  BwHatPatch stem = { stitch->stripe, 0.06, foot, 0.24 * stitch->top_half,
                      stitch->stripe, 0.56, stitch->top, 0.24 * stitch->top_half };

  bw_hat_patch_path (view, &stem);
  vee_path (view, stitch, 0.54, 0.88);
}

/* Legs that lean together, as one wedge. */
static void
together_path (const BwHatView *view,
               const Stitch    *stitch)
{
  double half = 0.75 * stitch->top_half;

  move_to (view, stitch->stripe, stitch->top - half, 0.12);
  line_to (view, stitch->stripe, stitch->top, 0.95);
  line_to (view, stitch->stripe, stitch->top + half, 0.12);
  cairo_close_path (view->cr);
}

/* The front loop of the stitch below, left free by a stitch in the back loop. */
static void
ridge_path (const BwHatView *view,
            const Stitch    *stitch)
{
  if (!stitch->mark->ridge)
    return;
  move_to (view, stitch->stripe, stitch->base - 0.8 * stitch->base_half, 0.10);
  line_to (view, stitch->stripe, stitch->base + 0.8 * stitch->base_half, 0.10);
}

static void
cord_path (const BwHatView *view,
           const Stitch    *stitch)
{
  double half = 0.8 * stitch->top_half;

  move_to (view, stitch->stripe, stitch->top + half, 0.95);
  line_to (view, stitch->stripe, stitch->top - half, 0.35);
}

/* Which looks a stripe has, as bits. */
static guint
looks_of (const BwHatView   *view,
          const BwHatStripe *stripe)
{
  guint looks = 0;

  for (guint i = 0; i < stripe->n_marks; i++)
    looks |= 1u << g_array_index (view->drawing->marks, BwHatMark, stripe->first_mark + i).look;

  return looks;
}

/* A column of a post stitch, from the stem it goes round to its own top; over a
 * column further down it begins where that one ends. */
static void
column_path (const BwHatView *view,
             const Stitch    *stitch,
             double           part,
             double           shift)
{
  int low = stitch->stripe - MAX (stitch->mark->below, 1);
  double half = part * stitch->top_half;
  double across = shift * stitch->top_half;
  gboolean stacked = low >= 0 && (looks_of (view, BW_HAT_STRIPE (view->drawing, low)) &
                                  1u << BW_LOOK_RAISED) != 0;
  BwHatPatch patch = { low, stacked ? 0.97 : 0.55, stitch->base + across, half,
                       stitch->stripe, 0.97, stitch->top + across, half };

  bw_hat_patch_path (view, &patch);
}

/* The room of a stitch that lies deep. */
static void
hollow_path (const BwHatView *view,
             const Stitch    *stitch,
             double           part)
{
  BwHatPatch patch = { stitch->stripe, 0, stitch->top, part * stitch->top_half,
                       stitch->stripe, 1, stitch->top, part * stitch->top_half };

  bw_hat_patch_path (view, &patch);
}

static void
raised_shadow_path (const BwHatView *view,
                    const Stitch    *stitch)
{
  column_path (view, stitch, 1.0, 0);
}

static void
raised_body_path (const BwHatView *view,
                  const Stitch    *stitch)
{
  column_path (view, stitch, 0.70, 0);
}

static void
raised_light_path (const BwHatView *view,
                   const Stitch    *stitch)
{
  column_path (view, stitch, 0.16, 0.28);
}

static void
sunk_path (const BwHatView *view,
           const Stitch    *stitch)
{
  hollow_path (view, stitch, 0.9);
}

static void
sunk_deep_path (const BwHatView *view,
                const Stitch    *stitch)
{
  hollow_path (view, stitch, 0.4);
}

/* Two strands from one foot far down. */
static void
spike_path (const BwHatView *view,
            const Stitch    *stitch,
            double           foot,
            double           head)
{
  BwHatPatch patch = {
    stitch->stripe - MAX (stitch->mark->below, 1) + 1, 0.04, stitch->base, foot * stitch->top_half,
    stitch->stripe, 0.90, stitch->top, head * stitch->top_half,
  };

  bw_hat_patch_path (view, &patch);
}

static void
spike_shadow_path (const BwHatView *view,
                   const Stitch    *stitch)
{
  spike_path (view, stitch, 0.44, 1.04);
}

static void
spike_body_path (const BwHatView *view,
                 const Stitch    *stitch)
{
  spike_path (view, stitch, 0.28, 0.82);
}

static void
spike_slit_path (const BwHatView *view,
                 const Stitch    *stitch)
{
  spike_path (view, stitch, 0.03, 0.22);
}

/* An ellipse on the fabric; it lies across both radii, in parts of a stitch. */
static void
blob_path (const BwHatView *view,
           const Stitch    *stitch,
           double           up,
           double           size,
           double           shift)
{
  const BwHatStripe *stripe = BW_HAT_STRIPE (view->drawing, stitch->stripe);
  double around = stitch->top + shift * stitch->top_half;
  double width = size * stitch_mm (stripe) / 2;
  double facing = view->above ? 1 : MAX (bw_hat_facing (view, around), 0.25);
  double x, y;

  bw_hat_place (view, stitch->stripe, around, up, &x, &y);
  cairo_save (view->cr);
  cairo_translate (view->cr, x, y);
  cairo_scale (view->cr, facing, 1);
  cairo_new_sub_path (view->cr);
  cairo_arc (view->cr, 0, 0, width, 0, 2 * G_PI);
  cairo_close_path (view->cr);
  cairo_restore (view->cr);
}

static void
ball_shadow_path (const BwHatView *view,
                  const Stitch    *stitch)
{
  blob_path (view, stitch, 0.40, 1.30, 0.12);
}

static void
ball_body_path (const BwHatView *view,
                const Stitch    *stitch)
{
  blob_path (view, stitch, 0.48, 1.12, 0);
}

static void
ball_light_path (const BwHatView *view,
                 const Stitch    *stitch)
{
  blob_path (view, stitch, 0.62, 0.42, 0.30);
}

static void
gap_path (const BwHatView *view,
          const Stitch    *stitch)
{
  blob_path (view, stitch, 0.32, 0.50, 0);
}

static void
chain_path (const BwHatView *view,
            const Stitch    *stitch)
{
  BwHatPatch patch = { stitch->stripe, 0.66, stitch->top, 0.95 * stitch->top_half,
                       stitch->stripe, 0.88, stitch->top, 0.95 * stitch->top_half };

  bw_hat_patch_path (view, &patch);
}

/* --- Layers --- */

/* How a look is painted, layer by layer. */
typedef enum
{
  PAINT_SHADOW,
  PAINT_FABRIC,
  PAINT_LIGHT,
  PAINT_MARK, /* dark on light colours, light on dark ones */
} Paint;

typedef struct
{
  BwLook     look;
  StitchFunc path;
  Paint      paint;
  double     amount;   /* steps of L*; of fabric, how much of its light */
  double     stroke;   /* width, in stitches; 0 = filled */
  gboolean   in_print; /* drawn in hatched print too */
} Layer;

/* In the order of painting. A stripe is finished before the next one above it
 * begins, as columns and spikes lie over what is below. */
static const Layer layers[] = {
  { BW_LOOK_LOOPS, loops_path, PAINT_LIGHT, 7, 0, FALSE },
  { BW_LOOK_LOOPS, ridge_path, PAINT_LIGHT, 14, 0.20, TRUE },
  { BW_LOOK_STEM, stem_path, PAINT_LIGHT, 7, 0, FALSE },
  { BW_LOOK_GAP, chain_path, PAINT_LIGHT, 7, 0, FALSE },
  { BW_LOOK_GAP, gap_path, PAINT_SHADOW, 22, 0, TRUE },
  { BW_LOOK_SUNK, sunk_path, PAINT_SHADOW, 12, 0, FALSE },
  { BW_LOOK_SUNK, sunk_deep_path, PAINT_SHADOW, 10, 0, TRUE },
  { BW_LOOK_RAISED, raised_shadow_path, PAINT_SHADOW, 15, 0, TRUE },
  { BW_LOOK_RAISED, raised_body_path, PAINT_FABRIC, 0.25, 0, TRUE },
  { BW_LOOK_RAISED, raised_light_path, PAINT_LIGHT, 9, 0, FALSE },
  { BW_LOOK_SPIKE, spike_shadow_path, PAINT_SHADOW, 15, 0, TRUE },
  { BW_LOOK_SPIKE, spike_body_path, PAINT_FABRIC, 0.15, 0, TRUE },
  { BW_LOOK_SPIKE, spike_slit_path, PAINT_SHADOW, 15, 0, TRUE },
  { BW_LOOK_CORD, cord_path, PAINT_LIGHT, 14, 0.45, FALSE },
  { BW_LOOK_CORD, cord_path, PAINT_SHADOW, 16, 0.12, TRUE },
  { BW_LOOK_BALL, ball_shadow_path, PAINT_SHADOW, 18, 0, TRUE },
  { BW_LOOK_BALL, ball_body_path, PAINT_FABRIC, 0.35, 0, TRUE },
  { BW_LOOK_BALL, ball_light_path, PAINT_LIGHT, 10, 0, FALSE },
  { BW_LOOK_TOGETHER, together_path, PAINT_MARK, 1, 0, TRUE },
};

/* Looks that a picture keeps at any scale: they tell one hat from another. */
static gboolean
always_shows (BwLook look)
{
  return look == BW_LOOK_TOGETHER || look == BW_LOOK_RAISED || look == BW_LOOK_SPIKE ||
         look == BW_LOOK_BALL;
}

static void
paint_path (const BwHatView   *view,
            const BwHatStripe *stripe,
            const Layer       *layer,
            double             clear)
{
  double amount = layer->amount * clear;

  if (layer->paint == PAINT_SHADOW)
    bw_hat_source_shadow (view, stripe, amount);
  else if (layer->paint == PAINT_LIGHT)
    bw_hat_source_light (view, stripe, amount);
  else if (layer->paint == PAINT_MARK)
    bw_hat_source_mark (view, stripe);
  else
    bw_hat_source_fabric (view, stripe, layer->amount);

  if (layer->stroke <= 0)
    {
      cairo_fill (view->cr);
      return;
    }
  cairo_set_line_width (view->cr,
                        layer->stroke * MIN (stitch_mm (stripe), seen_mm (view, stripe)));
  cairo_stroke (view->cr);
}

static void
draw_stripe (const BwHatView *view,
             guint            index)
{
  const BwHatStripe *stripe = BW_HAT_STRIPE (view->drawing, index);
  double clear = clarity (view, stripe);
  guint looks = looks_of (view, stripe);

  for (guint i = 0; i < G_N_ELEMENTS (layers); i++)
    {
      const Layer *layer = &layers[i];
      double shows = always_shows (layer->look) ? 1 : clear;

      if ((looks & 1u << layer->look) == 0 || shows <= 0 ||
          (view->style->hatch && !layer->in_print))
        continue;
      cairo_new_path (view->cr);
      if (each_stitch (view, index, layer->look, layer->path) > 0)
        paint_path (view, stripe, layer, shows);
    }
}

/**
 * bw_hat_texture_draw:
 * @view: a view
 *
 * Draws the stitches of all stripes, from the lower edge upwards.
 */
void
bw_hat_texture_draw (const BwHatView *view)
{
  cairo_set_line_cap (view->cr, CAIRO_LINE_CAP_BUTT);
  cairo_set_line_join (view->cr, CAIRO_LINE_JOIN_BEVEL);
  for (guint i = 0; i < view->drawing->stripes->len; i++)
    if (bw_hat_stripe_visible (view, i))
      draw_stripe (view, i);
}
