#pragma once

#include <glib.h>

#include "bw-stitch.h"

G_BEGIN_DECLS

/* The yarn as its ball band tells it. Zero = not known. */
typedef struct
{
  char  *name;
  int    weight_class;      /* 0 to 7; -1 = not known */
  double metres_per_ball;
  double grams_per_ball;
  double price_per_ball;
  char  *currency;
} BwYarn;

/* One weighed piece: so many of each stitch used so much yarn. */
typedef struct
{
  const double *counts; /* by stitch index, dictionary size of them */
  double        metres;
} BwYarnWeighed;

double   bw_yarn_metres_to_grams (const BwYarn             *yarn,
                                  double                    metres);
double   bw_yarn_grams_to_metres (const BwYarn             *yarn,
                                  double                    grams);
guint    bw_yarn_balls           (const BwYarn             *yarn,
                                  double                    metres,
                                  double                    margin);
double   bw_yarn_cost            (const BwYarn             *yarn,
                                  double                    metres);
void     bw_yarn_estimate        (const BwStitchDictionary *dictionary,
                                  double                    stitch_mm,
                                  double                   *metres_by_stitch);
gboolean bw_yarn_fit             (const BwStitchDictionary *dictionary,
                                  const BwYarnWeighed      *pieces,
                                  gsize                     n_pieces,
                                  double                    stitch_mm,
                                  double                   *metres_by_stitch,
                                  GError                  **error);
double   bw_yarn_by_area         (double                    known_metres,
                                  double                    known_girth_mm,
                                  double                    known_depth_mm,
                                  double                    girth_mm,
                                  double                    depth_mm);

G_END_DECLS
