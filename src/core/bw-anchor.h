#pragma once

#include <glib.h>

#include "bw-instruction.h"

G_BEGIN_DECLS

/* One round, as the check of anchors sees it; repeats bound. */
typedef struct
{
  const BwItem *items;
  guint         n_items;
} BwAnchorRound;

/* The first stitch that has nothing to take hold of. */
typedef struct
{
  guint    round;    /* index from the bottom */
  guint    position; /* made by it, from 0 */
  gboolean covered;  /* there is a stem, but another stitch is round it already */
} BwAnchorFault;

gboolean bw_anchor_check (const BwStitchDictionary *dictionary,
                          const BwAnchorRound      *rounds,
                          guint                     n_rounds,
                          BwAnchorFault            *fault);

G_END_DECLS
