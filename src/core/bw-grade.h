#pragma once

#include <glib.h>

#include "bw-audit.h"
#include "bw-crown.h"
#include "bw-design.h"
#include "bw-reference.h"
#include "bw-rounds.h"

G_BEGIN_DECLS

/* One way a size could have been graded, with what the whole family would cost. */
typedef struct
{
  guint  body_stitches;
  guint  brim_count;    /* rows of a sideways brim, stitches of one in the round */
  guint  crown_start;
  guint  fill_repeats;
  guint  wedges;
  double cost;          /* of the family, best for this choice */
} BwAlternative;

/* Parts of a size's cost: they add up to it. */
typedef struct
{
  double girth;
  double brim;
  double depth;
  double adjust;
  double pick_up;
} BwCost;

typedef struct
{
  const BwSizeChoice *choice;       /* the design's */
  double              head_mm;
  double              body_target_mm;
  double              brim_target_mm;
  double              depth_target_mm;
  guint               body_stitches;
  double              girth_mm;
  double              girth_u95_mm;
  guint               brim_rows;     /* sideways: rows; in the round: rounds */
  guint               brim_stitches; /* sideways: stitches of a row; in the round: of a round */
  double              brim_mm;       /* relaxed length round the head */
  double              brim_stretched_mm;
  double              brim_height_mm;
  guint               crown_start;
  guint               wedges;
  guint               fill_repeats;
  guint               n_rounds;      /* above the brim */
  double              depth_mm;
  double              worn_depth_mm;
  double              needed_stretch; /* fraction, of the body */
  double              yarn_m;
  double              yarn_g;
  double              yarn_cost;     /* 0 = no price known */
  double              colour_m[BW_STRIPE_COLOURS_MAX];
  guint               balls[BW_STRIPE_COLOURS_MAX];
  guint               ends;
  double              minutes;
  BwCost              cost;
  BwCrown            *crown;
  BwRoundList        *rounds;
  GArray             *alternatives;  /* of BwAlternative, cheapest first; the chosen one is first */
  double              pin_price;     /* what this size's pins cost the family; 0 = none */
} BwGradedSize;

/* The result; borrows nothing from the design (which it copies) and holds the
 * reference only as long as the caller keeps it. */
typedef struct
{
  const BwReference *reference; /* borrowed */
  BwDesign          *design;    /* owned copy */
  gboolean           refused;   /* see the findings; then sizes is empty */
  guint              wedges;
  double             cost;
  GPtrArray         *sizes;     /* of BwGradedSize */
  GArray            *findings;  /* of BwFinding */
  BwGauge            body_gauge;
  BwGauge            brim_gauge;
} BwGrading;

BwGrading *bw_grade       (const BwReference *reference,
                           const BwDesign    *design,
                           GError           **error) G_GNUC_WARN_UNUSED_RESULT;
void       bw_grading_free (BwGrading        *grading);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (BwGrading, bw_grading_free)

G_END_DECLS
