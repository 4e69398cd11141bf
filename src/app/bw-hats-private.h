#pragma once

#include "bw-hats.h"

#include "bw-hat-drawing.h"
#include "bw-hats-layout.h"

G_BEGIN_DECLS

/* Shared by bw-hats.c (what the hats show and do) and bw-hats-paint.c (how that
 * is painted). */

/* One picture that is being painted. */
typedef struct _BwHatJob BwHatJob;

struct _BwHats
{
  GtkWidget parent_instance;

  /* Owned references */
  BwDocument    *document;
  BwHatDrawing  *drawings[BW_DESIGN_SIZES_MAX];
  GskRenderNode *small[BW_DESIGN_SIZES_MAX];
  GskRenderNode *large;
  BwHatJob      *small_jobs[BW_DESIGN_SIZES_MAX];
  BwHatJob      *large_jobs[2];   /* from the side, from above */

  guint          n;
  BwHatsLayout   layout;
  double         zoom;
  double         pan_x;
  double         pan_y;
  double         drag_x;   /* pan when the drag began */
  double         drag_y;
};

void bw_hats_start_painting (BwHats      *self);
void bw_hats_snapshot       (GtkWidget   *widget,
                             GtkSnapshot *snapshot);
void bw_hat_job_free        (BwHatJob    *job);

G_END_DECLS
