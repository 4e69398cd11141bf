#pragma once

#include <cairo.h>
#include <glib.h>

#include "bw-grade.h"

G_BEGIN_DECLS

/* One size of a graded family as a picture: the same code draws it in the
 * window, in print and in SVG. Lengths are mm on the hat; the caller scales
 * the context. Seen from the side, the origin is the middle of the lower edge
 * and y grows upwards; seen from above, the middle of the crown, with the front
 * of the hat towards -y. (Cairo's y grows downwards: cairo_scale (cr, s, -s).) */

typedef struct
{
  int      lit_round;  /* index in the size's rounds to light up; -1 = none */
  gboolean hatch;      /* a hatch for each colour, for print in black */
  gboolean plain;      /* no stitch textures: for thumbnails */
  double   line_mm;    /* width of a fine line */
  guint    n_lit;      /* rounds to light up from lit_round on; 0 = that one alone */
  gboolean letters;    /* the letter of each stripe's colour on it */
  guint32  ink;        /* outlines, 0xRRGGBB: dark on a light ground, light on a dark one */
  gboolean bare;       /* as with a hatch, but without it: outlines, to spare ink */
  gboolean flat;       /* plain colours with no light on them: for many on one page */
  double   detail;     /* of what could be seen, how much is drawn; 0 = all, 0.5 = half */
} BwHatStyle;

#define BW_HAT_STYLE_DEFAULT \
  ((BwHatStyle) { -1, FALSE, FALSE, 0.7, 0, FALSE, 0x202020, FALSE, FALSE, 0 })

typedef struct _BwHatDrawing BwHatDrawing;

BwHatDrawing *bw_hat_drawing_new          (const BwGrading    *grading,
                                           guint               size) G_GNUC_WARN_UNUSED_RESULT;
void          bw_hat_drawing_free         (BwHatDrawing       *drawing);
double        bw_hat_drawing_width        (const BwHatDrawing *drawing);
double        bw_hat_drawing_height       (const BwHatDrawing *drawing);
double        bw_hat_drawing_hat_height   (const BwHatDrawing *drawing);
double        bw_hat_drawing_crown_radius (const BwHatDrawing *drawing);
void          bw_hat_drawing_draw_side    (const BwHatDrawing *drawing,
                                           cairo_t            *cr,
                                           const BwHatStyle   *style);
void          bw_hat_drawing_draw_crown   (const BwHatDrawing *drawing,
                                           cairo_t            *cr,
                                           const BwHatStyle   *style);
int           bw_hat_drawing_round_at     (const BwHatDrawing *drawing,
                                           double              x_mm,
                                           double              y_mm);
gboolean      bw_hat_drawing_find_round   (const BwHatDrawing *drawing,
                                           guint               round,
                                           double             *low_mm,
                                           double             *high_mm,
                                           double             *half_width_mm);
int           bw_hat_drawing_crown_round_at
                                          (const BwHatDrawing *drawing,
                                           double              x_mm,
                                           double              y_mm);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (BwHatDrawing, bw_hat_drawing_free)

G_END_DECLS
