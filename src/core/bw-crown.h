#pragma once

#include <glib.h>

G_BEGIN_DECLS

typedef enum
{
  BW_CROWN_FLAT,
  BW_CROWN_ROUND,
  BW_CROWN_TAPERED,
  BW_CROWN_POINTED,
  BW_CROWN_GATHERED,
  BW_CROWN_OWN, /* counts typed by hand */
} BwCrownProfile;

#define BW_CROWN_ROUNDS_MAX 400
#define BW_CROWN_WEDGE_MAX  255 /* stitches of one wedge */

/* What a crown is to be. Widths and heights at the crown's own gauge. */
typedef struct
{
  BwCrownProfile profile;
  double         stitch_mm;   /* width of one stitch */
  double         round_mm;    /* height of one round */
  double         length_mm;   /* tapered and pointed: along the fabric; 0 = the default */
  guint          wedges;      /* W; each decrease round takes a multiple of it */
  guint          close_at;    /* draw up when at most so many stitches are left */
  guint          max_per_wedge; /* decreases of a wedge in a round, at most; 0 = half of it */
} BwCrownShape;

/* A row of the published table of what is left to draw up, by gauge. */
typedef struct
{
  double stitches_per_inch;
  guint  stitches;
} BwCrownClose;

/* The chosen crown: counts[0] is K, counts[i] what round i leaves. */
typedef struct
{
  guint  n_rounds;
  guint  counts[BW_CROWN_ROUNDS_MAX + 1];
  double worst_mm;    /* largest distance of any round to the profile, mm of radius */
} BwCrown;

double   bw_crown_radius        (const BwCrownShape *shape,
                                 guint               start,
                                 double              along_mm);
double   bw_crown_length        (const BwCrownShape *shape,
                                 guint               start);
guint    bw_crown_n_rounds      (const BwCrownShape *shape,
                                 guint               start);
gboolean bw_crown_plan          (const BwCrownShape *shape,
                                 guint               start,
                                 BwCrown            *crown,
                                 GError            **error);
double   bw_crown_flat_rate     (double              stitch_mm,
                                 double              round_mm);
double   bw_crown_flatness      (guint               decreases,
                                 double              stitch_mm,
                                 double              round_mm);
GArray  *bw_crown_close_parse   (const char         *text,
                                 gsize               length,
                                 GError            **error) G_GNUC_WARN_UNUSED_RESULT;
guint    bw_crown_default_close (const GArray       *table,
                                 double              stitch_mm);

G_END_DECLS
