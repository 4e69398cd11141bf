#pragma once

#include "bw-hats.h"

#include "bw-hat-drawing.h"
#include "bw-hats-layout.h"

G_BEGIN_DECLS

/* Shared by bw-hats.c (what the hats show and do) and bw-hats-paint.c (how that
 * is painted). */

struct _BwHats
{
  GtkWidget parent_instance;

  /* Owned references */
  BwDocument    *document;
  BwHatDrawing  *drawings[BW_DESIGN_SIZES_MAX];
  GskRenderNode *small[BW_DESIGN_SIZES_MAX];
  GskRenderNode *large;

  guint          n;
  BwHatsLayout   layout;
  double         zoom;
  double         pan_x;
  double         pan_y;
  double         drag_x;   /* pan when the drag began */
  double         drag_y;
  guint          refine_source;
  gboolean       rough;    /* the large hat is drawn without its stitches for now */
};

void bw_hats_snapshot (GtkWidget   *widget,
                       GtkSnapshot *snapshot);

G_END_DECLS
