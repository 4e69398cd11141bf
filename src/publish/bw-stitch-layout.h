#pragma once

#include <glib.h>

#include "bw-instruction.h"

G_BEGIN_DECLS

/* One stitch of a round, with the place it takes and the place it makes, both
 * counted in positions from the start of the turn. */
typedef struct
{
  BwStitchIndex stitch;
  guint8        loop;   /* BwLoop */
  guint8        place;  /* BwPlace */
  guint8        below;  /* rounds down to where it takes hold; 0 = nowhere */
  guint         base;   /* first position of the round below that it takes */
  guint         takes;
  guint         top;    /* first position that it makes */
  guint         makes;
} BwPlacedStitch;

/* A round is one turn of stitches worked so many times: a round of one repeat
 * has as many turns as the repeat, any other a single one. */
typedef struct
{
  GArray *stitches; /* of BwPlacedStitch: one turn, in the order of work */
  guint   turns;
  guint   takes;    /* positions that one turn takes */
  guint   makes;    /* and makes */
} BwStitchLayout;

/* A turn of more stitches than this is cut short there. */
#define BW_STITCH_LAYOUT_MAX 4096u

void bw_stitch_layout_init  (BwStitchLayout           *layout);
void bw_stitch_layout_clear (BwStitchLayout           *layout);
void bw_stitch_layout_set   (BwStitchLayout           *layout,
                             const BwStitchDictionary *dictionary,
                             const BwItem             *items,
                             gsize                     n_items);

G_END_DECLS
