#pragma once

#include <glib.h>

#include "bw-instruction.h"

G_BEGIN_DECLS

/* Even spreading of shaping over a round, and of picked-up stitches over row
 * ends: one rule for both (Bresenham's line, in runs). */

typedef enum
{
  BW_SPREAD_FROM_START, /* a run of plain stitches first, the shaping stitch last */
  BW_SPREAD_CENTRED,    /* half a run first, the other half last: nothing near the join */
} BwSpreadStart;

/* No spreading writes more items than this, whatever the numbers. */
#define BW_SPREAD_ITEMS_MAX 15

guint    bw_spread_part         (guint               n,
                                 guint               parts,
                                 guint               i);
gboolean bw_spread_shaping      (BwStitchIndex       plain,
                                 BwStitchIndex       shaping,
                                 guint               shaping_takes,
                                 gboolean            increase,
                                 guint               n,
                                 guint               a,
                                 BwSpreadStart       start,
                                 GArray             *items,
                                 GError            **error);
gboolean bw_spread_pick_up      (BwStitchIndex       plain,
                                 BwStitchIndex       miss,
                                 guint               row_ends,
                                 guint               stitches,
                                 GArray             *items,
                                 GError            **error);

G_END_DECLS
