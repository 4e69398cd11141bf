#pragma once

#include "bw-hat-drawing.h"
#include "bw-tone.h"

G_BEGIN_DECLS

/* Internal to the drawing of hats. */

/* What a stitch looks like from outside. */
typedef enum
{
  BW_LOOK_NONE,
  BW_LOOK_LOOPS,    /* two loops on top, as plain low stitches show */
  BW_LOOK_STEM,     /* a taller stitch: a stem from what it takes to what it makes */
  BW_LOOK_TOGETHER, /* several drawn together: a decrease */
  BW_LOOK_RAISED,   /* round a stem from the front: stands out */
  BW_LOOK_SUNK,     /* round a stem from the back: lies deep */
  BW_LOOK_SPIKE,    /* a long loop that reaches down */
  BW_LOOK_BALL,     /* bobble, puff, popcorn */
  BW_LOOK_GAP,      /* a chain with a hole under it */
  BW_LOOK_CORD,     /* crab stitch */
  BW_N_LOOKS,
} BwLook;

/* One stitch of a turn; places in positions from the turn's start. */
typedef struct
{
  guint8   look;      /* BwLook */
  guint8   below;     /* rounds down to where it takes hold */
  gboolean ridge;     /* worked in the back loop: the front loop lies as a ridge under it */
  gboolean fan;       /* shares what it takes with another, or changes places with it */
  float    base;      /* middle of what it takes */
  float    base_half; /* half of the width of that */
  float    top;       /* middle of what it makes */
} BwHatMark;

#define BW_SHADES 9 /* stops of a stripe's shading, from side to side */

/* A stripe of the picture: a round, or all the rows of a sideways brim. It is a
 * slice of a cone. Stripes lie upwards from the lower edge; the fabric of a
 * flat top has no height from the side and no stripe of a tube any width from
 * above. */
typedef struct
{
  guint    first_round;  /* index in the size's rounds; a sideways brim has many */
  guint    last_round;
  guint8   colour;
  guint8   section;      /* BwSection */
  gboolean sideways;     /* rows that stand side by side */
  gboolean turned_up;    /* the outside of a folded brim */
  double   y0, r0;       /* lower edge: height and radius */
  double   y1, r1;       /* upper edge */
  double   tilt;         /* of the surface: 0 = upright, G_PI / 2 = lies flat */
  double   fullness;     /* of the upper edge */
  guint    positions;    /* stitches that it makes, or rows */
  guint    first_mark;
  guint    n_marks;      /* of one turn */
  guint    turns;
  guint    turn_takes;   /* positions */
  guint    turn_makes;
  double   shift;        /* its first stitch, as a part of the way round */
  BwRgb    shades[BW_SHADES];
  BwRgb    lit[BW_SHADES];
  BwRgb    near[2];      /* from above: towards the light, away from it */
  BwRgb    near_lit[2];
  gboolean seen_above;   /* nothing above it is wider */
} BwHatStripe;

struct _BwHatDrawing
{
  GArray  *stripes;    /* of BwHatStripe, upwards */
  GArray  *marks;      /* of BwHatMark, of all stripes */
  BwTone   tones[BW_STRIPE_COLOURS_MAX];
  guint32  rgb[BW_STRIPE_COLOURS_MAX];
  guint    n_colours;
  double   width;      /* of the hat */
  double   hat_height;
  double   crown_radius;
  double   pompom_mm;  /* across; 0 = none */
  guint8   pompom_colour;
  gboolean folded;
};

/* What one call of drawing works with. */
typedef struct
{
  const BwHatDrawing *drawing;
  cairo_t            *cr;
  const BwHatStyle   *style;
  gboolean            above;     /* seen from above, not from the side */
  double              dots;      /* dots of the device in a mm of the hat */
} BwHatView;

/* A patch of fabric, wider or narrower at its upper edge: columns, ribs, folds. */
typedef struct
{
  int    low_stripe;  /* bw_hat_place() has the meaning of these */
  double low_up;
  double low_around;
  double low_half;    /* half its width, as a part of the way round */
  int    high_stripe;
  double high_up;
  double high_around;
  double high_half;
} BwHatPatch;

#define BW_HAT_STRIPE(drawing, i) (&g_array_index ((drawing)->stripes, BwHatStripe, (i)))

/* bw-hat-shape.c */
void     bw_hat_shape_build    (BwHatDrawing       *drawing,
                                const BwGradedSize *size,
                                const BwDesign     *design);
gboolean bw_hat_stripe_visible (const BwHatView    *view,
                                guint               stripe);
gboolean bw_hat_stripe_is_lit  (const BwHatView    *view,
                                const BwHatStripe  *stripe);
void     bw_hat_place          (const BwHatView    *view,
                                int                 stripe,
                                double              around,
                                double              up,
                                double             *x,
                                double             *y);
double   bw_hat_facing         (const BwHatView    *view,
                                double              around);
void     bw_hat_patch_path     (const BwHatView    *view,
                                const BwHatPatch   *patch);
void     bw_hat_stripe_path    (const BwHatView    *view,
                                guint               first,
                                guint               last,
                                double              overlap);
void     bw_hat_outline_path   (const BwHatView    *view,
                                double              inset);

/* bw-hat-marks.c */
void     bw_hat_marks_build    (BwHatDrawing       *drawing,
                                const BwReference  *reference,
                                const BwGradedSize *size);

/* bw-hat-texture.c */
void     bw_hat_texture_draw   (const BwHatView    *view);

/* bw-hat-fabric.c */
void     bw_hat_source_fabric  (const BwHatView    *view,
                                const BwHatStripe  *stripe,
                                double              lighter);
void     bw_hat_source_shadow  (const BwHatView    *view,
                                const BwHatStripe  *stripe,
                                double              depth);
void     bw_hat_source_light   (const BwHatView    *view,
                                const BwHatStripe  *stripe,
                                double              height);
void     bw_hat_source_mark    (const BwHatView    *view,
                                const BwHatStripe  *stripe);
void     bw_hat_fabric_draw    (const BwHatView    *view);
void     bw_hat_ribs_draw      (const BwHatView    *view);
void     bw_hat_pleats_draw    (const BwHatView    *view);
void     bw_hat_hatch_draw     (const BwHatView    *view);

/* bw-hat-pompom.c */
double   bw_hat_pompom_sink    (const BwHatDrawing *drawing);
void     bw_hat_pompom_draw    (const BwHatView    *view);

/* bw-hat-draw.c */
void     bw_hat_draw           (const BwHatView    *view);

G_END_DECLS
