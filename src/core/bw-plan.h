#pragma once

#include <glib.h>

#include "bw-audit.h"
#include "bw-design.h"
#include "bw-reference.h"

G_BEGIN_DECLS

/* A design with every name looked up and every gauge settled: what the
 * optimiser, the builder of rounds and the checks all work from. Internal to
 * the core; made by bw_plan_init() for one call of bw_grade().
 */

/* The gauge of one part. */
typedef struct
{
  double          stitch_mm;
  double          low_mm;      /* height of a round of "low": times a round's relative height */
  double          stretch;     /* usable stretch round the head, fraction */
  double          height_loss; /* height lost for each 1 of widening */
  const BwSwatch *swatch;      /* NULL = estimated from the body's gauge */
} BwPartGauge;

/* One band; heights in mm. */
typedef struct
{
  const BwBand   *band;
  const BwFabric *fabric;
  BwPartGauge     gauge;
  guint           base_rounds;     /* fixed rounds, or those of the fewest repeats allowed */
  guint           unit_rounds;     /* what one more fill repeat adds; 0 = not filling */
  double          base_mm;
  double          unit_mm;
  gboolean        stripe_open;     /* no number of repeats finishes stripe and pattern together */
} BwBandPlan;

typedef struct
{
  const BwFabric *fabric;
  BwPartGauge     gauge;
  gboolean        sideways;        /* rows run up the head; counted in even rows round it */
  gboolean        round;           /* worked in the round; counted in stitches round it */
  double          count_mm;        /* what one of the count adds to the length round the head */
  double          worked_mm;       /* height to be worked: doubled when folded */
} BwBrimPlan;

typedef struct
{
  const BwReference *reference;
  const BwDesign    *design;
  BwGauge            body_gauge;
  BwGauge            brim_gauge;
  BwPartGauge        body;
  double             plain_mm;     /* height of a plain round: pick-up, adjusting, set-up */
  BwBrimPlan         brim;
  BwBandPlan         bands[BW_DESIGN_BANDS_MAX];
  guint              n_bands;
  const BwFabric    *body_fabric;
  const BwFabric    *crown_fabric;
  BwPartGauge        crown_gauge;
  double             crown_round_mm;
  BwCrownShape       crown;        /* wedges still to be chosen */
  BwStitchIndex      chain, slip, miss;
  BwStitchIndex      plain, plain_2tog;
  BwStitchIndex      crown_plain, crown_2tog;
  double            *metres_by_stitch;  /* body's yarn figures; dictionary size */
  gboolean           yarn_estimated;
} BwPlan;

/* How the counts of several bands are brought together. */
typedef enum
{
  BW_COUNTS_COMMON, /* one count serves every band */
  BW_COUNTS_FIRST,  /* the first band rules, later ones are reached by adjusting rounds */
  BW_COUNTS_FREE,   /* girth rules, every band is reached by an adjusting round */
} BwCountMode;

gboolean bw_plan_init        (BwPlan             *plan,
                              const BwReference  *reference,
                              const BwDesign     *design,
                              GError            **error);
void     bw_plan_clear       (BwPlan             *plan);
BwCrownShape
         bw_plan_crown_shape (const BwPlan       *plan,
                              guint               start,
                              guint               wedges);
guint    bw_plan_nearest     (guint               stitches,
                              guint               multiple,
                              guint               offset);
double   bw_plan_body_target (const BwPlan       *plan,
                              guint               k);
double   bw_plan_brim_target (const BwPlan       *plan,
                              guint               k);
guint    bw_plan_brim_height (const BwPlan       *plan,
                              const char         *size);
double   bw_plan_brim_mm     (const BwPlan       *plan,
                              guint               brim_height);

G_END_DECLS
