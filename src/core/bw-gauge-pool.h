#pragma once

#include <glib.h>

#include "bw-gauge.h"

G_BEGIN_DECLS

/* Several swatches of one yarn, hook and stitch pattern as one gauge. Readings
 * on one piece share that day's tension, so that many of them say little about
 * the next piece: there are two levels, within a swatch and between swatches. */

/* One swatch as the pool sees it; borrowed. */
typedef struct
{
  const BwReading *readings;
  gsize            n_readings;
} BwGaugePiece;

/* The spreads of one direction, in one state, as fractions of the mean. */
typedef struct
{
  guint  n_pieces;   /* swatches that have readings in it */
  guint  n_readings;
  double within;     /* standard deviation of single readings within their swatch */
  double between;    /* standard deviation of swatches beyond that; 0 = none to be seen */
} BwGaugeSpread;

typedef struct
{
  BwGauge       gauge;
  BwGaugeSpread stitch;
  BwGaugeSpread round;
  gboolean      by_piece;  /* swatches differ beyond their readings: each counts as one */
  guint         n_left_out; /* swatches without readings in the state that is used */
} BwGaugePool;

gboolean bw_gauge_pool_spread   (const BwGaugePiece *pieces,
                                 gsize               n_pieces,
                                 BwReadingDirection  direction,
                                 gboolean            washed,
                                 BwLaid              laid,
                                 BwGaugeSpread      *spread);
gboolean bw_gauge_pool_readings (const BwGaugePiece *pieces,
                                 gsize               n_pieces,
                                 GArray             *readings);
gboolean bw_gauge_pool          (const BwGaugePiece *pieces,
                                 gsize               n_pieces,
                                 const BwTape       *tape,
                                 BwGaugePool        *pool,
                                 GError            **error);

G_END_DECLS
