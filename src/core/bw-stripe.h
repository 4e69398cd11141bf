#pragma once

#include <glib.h>

G_BEGIN_DECLS

#define BW_STRIPE_COLOURS_MAX 12
#define BW_STRIPE_STEPS_MAX   64

/* A stripe sequence: colour and rounds, repeated over a band. */
typedef struct
{
  guint8  colour; /* index of the design's colour; 0 = A */
  guint16 rounds; /* >= 1 */
} BwStripeStep;

/* What happens to a colour when the next round does not use it. */
typedef enum
{
  BW_YARN_WORKING, /* the next round goes on with it */
  BW_YARN_CARRIED, /* waits at the join and is carried up */
  BW_YARN_CUT,     /* fastened off: two ends to weave in, now and where it is joined again */
} BwYarnEnd;

/* One round as the planner of colours sees it. */
typedef struct
{
  guint8    colour;
  double    height_mm;
  BwYarnEnd after;     /* out: what happens to this colour after this round */
  gboolean  joins_in;  /* out: the colour starts here with a new end */
} BwStripeRound;

typedef struct
{
  guint  ends;                              /* ends to weave in */
  double tail_m[BW_STRIPE_COLOURS_MAX];     /* yarn in tails, m */
  double carried_m[BW_STRIPE_COLOURS_MAX];  /* yarn carried up, m */
} BwStripePlan;

guint  bw_stripe_period    (const BwStripeStep *steps,
                            gsize               n_steps);
guint8 bw_stripe_colour_at (const BwStripeStep *steps,
                            gsize               n_steps,
                            guint               round);
void   bw_stripe_plan      (BwStripeRound      *rounds,
                            gsize               n_rounds,
                            guint               carry_rounds,
                            double              carry_height_mm,
                            double              tail_mm,
                            BwStripePlan       *plan);

G_END_DECLS
