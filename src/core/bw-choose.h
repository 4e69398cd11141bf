#pragma once

#include <glib.h>

#include "bw-grade.h"
#include "bw-plan.h"

G_BEGIN_DECLS

/* What is chosen for one size; internal to the core. */
typedef struct
{
  guint  body;        /* S: body stitches */
  guint  brim;        /* R: rows of a sideways brim, stitches of one in the round; 0 without brim */
  guint  brim_height; /* b */
  guint  crown;       /* K: crown start */
  guint  fill;        /* repeats that filling bands add to their fewest */
  double depth_mm;
  BwCost cost;
} BwChoice;

typedef struct
{
  BwCountMode mode;
  guint       wedges;
  double      cost;
  guint       n_sizes;
  BwChoice    sizes[BW_DESIGN_SIZES_MAX];
  GArray     *alternatives[BW_DESIGN_SIZES_MAX]; /* of BwAlternative; NULL unless asked for */
} BwFamilyChoice;

gboolean bw_choose              (const BwPlan   *plan,
                                 gboolean        with_alternatives,
                                 BwFamilyChoice *family,
                                 GArray         *findings);
void     bw_family_choice_clear (BwFamilyChoice *family);
guint    bw_choose_band_count   (const BwPlan   *plan,
                                 BwCountMode     mode,
                                 guint           body,
                                 guint           band);

G_END_DECLS
