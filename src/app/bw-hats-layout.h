#pragma once

#include <glib.h>

#include "bw-hat-drawing.h"

G_BEGIN_DECLS

/* Where the hats stand in the widget, in pixels. All small hats share a scale. */

typedef struct
{
  double x;      /* middle of the lower edge, or of the crown */
  double y;
  double scale;  /* pixels a mm */
} BwHatSpot;

typedef struct
{
  double    width;
  double    height;
  double    name_height;       /* of a line of text under a hat */
  double    ruler_width;
  double    split;             /* small hats are left of it */
  guint     n_rows;
  double    row_height;
  BwHatSpot spots[BW_DESIGN_SIZES_MAX];
  BwHatSpot large;
  BwHatSpot crown;
} BwHatsLayout;

void bw_hats_layout_arrange (BwHatsLayout        *layout,
                             BwHatDrawing *const *drawings,
                             guint                n,
                             guint                chosen,
                             double               zoom);

G_END_DECLS
