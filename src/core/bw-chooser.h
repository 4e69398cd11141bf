#pragma once

#include <math.h>

#include "bw-choose.h"

G_BEGIN_DECLS

/* The optimiser's working state, shared by bw-candidates.c (what may be chosen
 * and what it costs), bw-choose.c (the choice) and bw-choose-why.c (the next
 * best choices, and why there is none). Internal to the core.
 */

#define BW_INFEASIBLE INFINITY

/* Costs nearer than this are equal: their last bits are rounding. */
#define BW_TIE 1e-9

/* One body count of one size. */
typedef struct
{
  guint  body;
  guint  last;       /* stitches after the last band, where the crown's set-up starts */
  double girth;      /* cost terms */
  double adjust;     /* of adjusting rounds between bands */
  double depth_mm;   /* all but the crown and its set-up round, with the fewest fills */
} BwBodyCandidate;

typedef struct
{
  guint  brim;
  double cost;
} BwBrimCandidate;

/* Candidates and tables of one size. What a state costs by itself is
 *
 *   meeting[body * n_brims + brim] + upper[body * n_crowns + crown]
 *
 * and the tables over states are indexed (body * n_brims + brim) * n_crowns + crown. */
typedef struct
{
  const BwSizeChoice *choice;
  const BwPin        *pins[BW_PIN_N]; /* by kind; NULL = not pinned */
  double              body_target;
  double              brim_target;
  double              depth_target;
  guint               brim_height;
  GArray             *bodies;   /* of BwBodyCandidate, ascending */
  GArray             *brims;    /* of BwBrimCandidate, ascending */
  GArray             *slots;    /* alternatives, see bw-choose-why.c; NULL unless asked for */
  guint               crown_first; /* smallest K is this times W */
  guint               n_crowns;
  double             *meeting;     /* body and brim; the same for every W */
  double             *upper;       /* body and crown start, with what lies between */
  double             *forward;     /* f */
  double             *below;       /* running minimum of f */
  gsize               n_states;
  gsize               allocated;
} BwSizeStates;

typedef struct
{
  const BwPlan *plan;
  BwCountMode   mode;
  guint         wedges;
  guint         n_sizes;
  double        fill_mm;      /* what one more repeat of the filling bands adds */
  gboolean      with_alternatives;
  GArray       *crown_rounds; /* of guint, by K / W; 0 = not worked out yet */
  BwSizeStates     sizes[BW_DESIGN_SIZES_MAX];
} BwChooser;

/* Is this number of the size pinned, and to what? */
static inline gboolean
bw_candidates_pinned (const BwSizeStates *table,
                      BwPinKind           kind,
                      guint              *value)
{
  if (table->pins[kind] != NULL)
    *value = table->pins[kind]->value;
  return table->pins[kind] != NULL;
}

/* What a state costs by itself. */
static inline double
bw_candidates_own_cost (const BwSizeStates *table,
                        gsize               state)
{
  gsize row = state / table->n_crowns; /* body * n_brims + brim */

  return table->meeting[row] +
         table->upper[row / table->brims->len * table->n_crowns + state % table->n_crowns];
}

void     bw_candidates_collect_bodies (BwChooser             *chooser,
                                       BwSizeStates           *table);
void     bw_candidates_collect_brims  (BwChooser             *chooser,
                                       BwSizeStates           *table);
void     bw_candidates_prepare        (BwChooser             *chooser,
                                       BwSizeStates           *table);
void     bw_candidates_state_values   (const BwSizeStates     *table,
                                       guint                wedges,
                                       gsize                state,
                                       guint               *body,
                                       guint               *brim,
                                       guint               *crown);
void     bw_candidates_read_choice    (BwChooser             *chooser,
                                       const BwSizeStates     *table,
                                       gsize                state,
                                       BwChoice            *choice);
gboolean bw_candidates_body_serves    (const BwChooser       *chooser,
                                       guint                stitches);
gboolean bw_candidates_brim_passes    (const BwPlan        *plan,
                                       const BwSizeStates     *table,
                                       guint                brim);
void     bw_choose_gather_alternatives (BwChooser            *chooser);
void     bw_choose_list_alternatives  (const BwChooser       *chooser,
                                       BwFamilyChoice        *family);
void     bw_choose_explain_failure    (BwChooser             *chooser,
                                       guint                failed,
                                       GArray              *findings);

G_END_DECLS
