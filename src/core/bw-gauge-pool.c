#define G_LOG_DOMAIN "bw-core"

#include "bw-gauge-pool.h"

#include <math.h>

static gboolean
fits (const BwReading    *reading,
      BwReadingDirection  direction,
      gboolean            washed,
      BwLaid              laid)
{
  return reading->direction == direction && (reading->washed != FALSE) == (washed != FALSE) &&
         reading->laid == laid;
}

/* One swatch's readings in one direction and state, added up. */
typedef struct
{
  guint  n;
  double count;
  double span_mm;
} PieceSum;

static PieceSum
sum_piece (const BwGaugePiece *piece,
           BwReadingDirection  direction,
           gboolean            washed,
           BwLaid              laid)
{
  PieceSum sum = { 0 };

  for (gsize i = 0; i < piece->n_readings; i++)
    if (fits (&piece->readings[i], direction, washed, laid))
      {
        sum.n++;
        sum.count += piece->readings[i].count;
        sum.span_mm += piece->readings[i].span_mm;
      }

  return sum;
}

/* Squared distances of a swatch's readings to its own estimate, as fractions. */
static double
squares_within (const BwGaugePiece *piece,
                const PieceSum     *sum,
                BwReadingDirection  direction,
                gboolean            washed,
                BwLaid              laid)
{
  double mean = sum->span_mm / sum->count;
  double squares = 0.0;

  for (gsize i = 0; i < piece->n_readings; i++)
    if (fits (&piece->readings[i], direction, washed, laid))
      {
        double off = piece->readings[i].span_mm / piece->readings[i].count / mean - 1.0;

        squares += off * off;
      }

  return squares;
}

/**
 * bw_gauge_pool_spread:
 * @pieces: (array length=n_pieces): swatches
 * @n_pieces: how many
 * @direction: across or upwards
 * @washed: washed readings, or unwashed ones
 * @laid: how they lay
 * @spread: (out): the spreads
 *
 * Splits the scatter into two levels by one-way analysis of variance: within,
 * the pooled standard deviation of readings about their own swatch's estimate;
 * between, what the variance of the swatches' estimates has beyond the share
 * that the readings' scatter puts into them.
 *
 * Returns: %TRUE if there is any reading of that kind
 */
gboolean
bw_gauge_pool_spread (const BwGaugePiece *pieces,
                      gsize               n_pieces,
                      BwReadingDirection  direction,
                      gboolean            washed,
                      BwLaid              laid,
                      BwGaugeSpread      *spread)
{
  double squares = 0.0, inverse_n = 0.0, mean = 0.0, variance = 0.0;
  guint dof = 0;

  g_return_val_if_fail (spread != NULL, FALSE);

  *spread = (BwGaugeSpread) { 0 };
  for (gsize i = 0; i < n_pieces; i++)
    {
      PieceSum sum = sum_piece (&pieces[i], direction, washed, laid);

      if (sum.n == 0)
        continue;

      squares += squares_within (&pieces[i], &sum, direction, washed, laid);
      dof += sum.n - 1;
      inverse_n += 1.0 / sum.n;
      mean += sum.span_mm / sum.count;
      spread->n_pieces++;
      spread->n_readings += sum.n;
    }

  if (spread->n_pieces == 0)
    return FALSE;

  mean /= spread->n_pieces;
  spread->within = dof > 0 ? sqrt (squares / dof) : 0.0;
  if (spread->n_pieces < 2)
    return TRUE;

  for (gsize i = 0; i < n_pieces; i++)
    {
      PieceSum sum = sum_piece (&pieces[i], direction, washed, laid);
      double off = sum.n > 0 ? sum.span_mm / sum.count / mean - 1.0 : 0.0;

      variance += off * off;
    }
  variance /= spread->n_pieces - 1;
  variance -= spread->within * spread->within * inverse_n / spread->n_pieces;
  spread->between = variance > 0.0 ? sqrt (variance) : 0.0;

  return TRUE;
}

/* Washed readings win, as for one swatch. */
static gboolean
any_washed (const BwGaugePiece *pieces,
            gsize               n_pieces)
{
  BwGaugeSpread spread;

  return bw_gauge_pool_spread (pieces, n_pieces, BW_READING_STITCHES, TRUE, BW_LAID_RELAXED,
                               &spread);
}

/* A swatch's readings of one kind as one reading, of their mean span: as long
 * as they were, so that the tape stays as uncertain as it was. */
static void
append_means (const BwGaugePiece *piece,
              GArray             *readings)
{
  for (guint direction = BW_READING_STITCHES; direction <= BW_READING_ROUNDS; direction++)
    for (guint washed = 0; washed < 2; washed++)
      for (guint laid = BW_LAID_RELAXED; laid <= BW_LAID_FULLY_STRETCHED; laid++)
        {
          PieceSum sum = sum_piece (piece, (BwReadingDirection) direction, washed > 0,
                                    (BwLaid) laid);
          BwReading reading = {
            .direction = (BwReadingDirection) direction,
            .washed = washed > 0,
            .laid = (BwLaid) laid,
          };

          if (sum.n == 0)
            continue;

          reading.count = sum.count / sum.n;
          reading.span_mm = sum.span_mm / sum.n;
          g_array_append_val (readings, reading);
        }
}

/**
 * bw_gauge_pool_readings:
 * @pieces: (array length=n_pieces): swatches
 * @n_pieces: how many
 * @readings: (element-type BwReading): what is to be measured by is appended
 *
 * Gives the readings that stand for several swatches. Where the swatches agree
 * as closely as their readings do, these are all readings. Where they differ
 * beyond that, each swatch counts as one reading, its mean: then more readings
 * on one piece no longer seem to make the gauge surer.
 *
 * Returns: %TRUE if each swatch counts as one
 */
gboolean
bw_gauge_pool_readings (const BwGaugePiece *pieces,
                        gsize               n_pieces,
                        GArray             *readings)
{
  gboolean washed = any_washed (pieces, n_pieces);
  BwGaugeSpread stitch, round;
  gboolean by_piece;

  g_return_val_if_fail (readings != NULL, FALSE);

  bw_gauge_pool_spread (pieces, n_pieces, BW_READING_STITCHES, washed, BW_LAID_RELAXED, &stitch);
  bw_gauge_pool_spread (pieces, n_pieces, BW_READING_ROUNDS, washed, BW_LAID_RELAXED, &round);
  by_piece = stitch.between > 0.0 || round.between > 0.0;

  for (gsize i = 0; i < n_pieces; i++)
    if (by_piece)
      append_means (&pieces[i], readings);
    else if (pieces[i].n_readings > 0)
      g_array_append_vals (readings, pieces[i].readings, (guint) pieces[i].n_readings);

  return by_piece;
}

/**
 * bw_gauge_pool:
 * @pieces: (array length=n_pieces): swatches of one yarn, hook and stitch pattern
 * @n_pieces: how many
 * @tape: how sure the tape is
 * @pool: (out): the gauge and its spreads
 * @error: return location; as bw_gauge_from_readings()
 *
 * Makes one gauge of several swatches, see bw_gauge_pool_readings().
 *
 * Returns: %TRUE if there is a gauge
 */
gboolean
bw_gauge_pool (const BwGaugePiece  *pieces,
               gsize                n_pieces,
               const BwTape        *tape,
               BwGaugePool         *pool,
               GError             **error)
{
  g_autoptr (GArray) readings = g_array_new (FALSE, FALSE, sizeof (BwReading));
  gboolean washed = any_washed (pieces, n_pieces);

  g_return_val_if_fail (tape != NULL && pool != NULL, FALSE);

  *pool = (BwGaugePool) { 0 };
  pool->by_piece = bw_gauge_pool_readings (pieces, n_pieces, readings);
  bw_gauge_pool_spread (pieces, n_pieces, BW_READING_STITCHES, washed, BW_LAID_RELAXED,
                        &pool->stitch);
  bw_gauge_pool_spread (pieces, n_pieces, BW_READING_ROUNDS, washed, BW_LAID_RELAXED, &pool->round);
  pool->n_left_out = (guint) n_pieces - MAX (pool->stitch.n_pieces, pool->round.n_pieces);

  return bw_gauge_from_readings ((const BwReading *) (gconstpointer) readings->data,
                                 readings->len, tape, &pool->gauge, error);
}
