#define G_LOG_DOMAIN "bw-core"

#include "bw-crown.h"

#include <math.h>

#include "bw-error.h"

/* A crown is a profile, the radius r as a function of the length s along the
 * fabric from the crown's start, and the counts that follow it. All wedges are
 * alike, so the search is over c, the stitches of one wedge.
 *
 *      r                         flat       r = R - s
 *   R  |*--...                   round      r = R cos (s / R)
 *      | \     '.  round         tapered    r = R (1 - s / L)
 *      |  \      \               gathered   r = R, then drawn up
 *      |   \flat  \
 *      +----+------+--- s
 *
 * What a round may do is an interval: from c it goes to anything between
 * least_next (c) and c, and least_next never falls with c. So the counts that
 * can be reached within a given distance of the profile are intervals too, one
 * a round, and whether a distance can be kept at all takes one pass to see.
 */

/* Distances to the profile are whole numbers of this part of a stitch of one
 * wedge, so that equal is equal on every machine. */
#define GRAIN 1024

/* Longer than their radius by so much: our choice, no source. */
#define TAPERED_LENGTH 1.6
#define POINTED_LENGTH 2.4

/* Everything is of one wedge; index 0 is the start, n the last round. */
typedef struct
{
  guint   n;
  guint   start;
  guint   most;  /* decreases in one round */
  guint   close; /* stitches left at the end, at most */
  gint32  ideal[BW_CROWN_ROUNDS_MAX + 1]; /* the profile, in 1 / GRAIN of a stitch */
  guint16 low[BW_CROWN_ROUNDS_MAX + 1];   /* the counts that can be had */
  guint16 high[BW_CROWN_ROUNDS_MAX + 1];
} Search;

static double
start_radius (const BwCrownShape *shape,
              guint               start)
{
  return start * shape->stitch_mm / (2 * G_PI);
}

/* Length along the fabric from the crown's start to where the profile ends in
 * a point, mm. Tapered and pointed crowns have a length of their own, or 1.6
 * and 2.4 times the radius (our choice). A gathered crown is a tube whose end
 * lies over the head like a flat top once it is drawn up, so it is as long; the
 * designer's own counts have no profile and are taken as flat. */
double
bw_crown_length (const BwCrownShape *shape,
                 guint               start)
{
  double radius;

  g_return_val_if_fail (shape != NULL, 0);

  radius = start_radius (shape, start);
  switch (shape->profile)
    {
    case BW_CROWN_ROUND:
      return radius * G_PI / 2;
    case BW_CROWN_TAPERED:
      return shape->length_mm > 0 ? shape->length_mm : radius * TAPERED_LENGTH;
    case BW_CROWN_POINTED:
      return shape->length_mm > 0 ? shape->length_mm : radius * POINTED_LENGTH;
    case BW_CROWN_FLAT:
    case BW_CROWN_GATHERED:
    case BW_CROWN_OWN:
    default:
      return radius;
    }
}

/* Radius of the profile at a length along the fabric, mm; 0 beyond the end.
 * Plain geometry: a disc, half a sphere, a cone. */
double
bw_crown_radius (const BwCrownShape *shape,
                 guint               start,
                 double              along_mm)
{
  double radius, length;

  g_return_val_if_fail (shape != NULL, 0);

  radius = start_radius (shape, start);
  length = bw_crown_length (shape, start);
  if (along_mm <= 0)
    return radius;
  if (along_mm >= length)
    return 0;

  switch (shape->profile)
    {
    case BW_CROWN_ROUND:
      return radius * cos (along_mm / radius);
    case BW_CROWN_GATHERED:
      return radius;
    case BW_CROWN_TAPERED:
    case BW_CROWN_POINTED:
    case BW_CROWN_FLAT:
    case BW_CROWN_OWN:
    default:
      return radius * (1 - along_mm / length);
    }
}

/* Length along the fabric to where the profile is down to so many stitches. */
static double
length_to (const BwCrownShape *shape,
           guint               start,
           double              stitches)
{
  double part = stitches / start;

  if (part >= 1)
    return 0;
  if (shape->profile == BW_CROWN_ROUND)
    return start_radius (shape, start) * acos (part);
  return bw_crown_length (shape, start) * (1 - part);
}

/* Stitches of one wedge that may be left: one when even that is too many, as
 * then nothing better can be done. */
static guint
wedge_close (const BwCrownShape *shape)
{
  return MAX (1, shape->close_at / MAX (1, shape->wedges));
}

static guint
wedge_most (const BwCrownShape *shape)
{
  return shape->max_per_wedge > 0 ? shape->max_per_wedge : G_MAXUINT16;
}

/* A decrease takes two stitches, so at most half of them can go. */
static guint
least_next (guint c,
            guint most)
{
  return c - MIN (most, c / 2);
}

static guint
least_rounds (const BwCrownShape *shape,
              guint               start)
{
  guint c = start / MAX (1, shape->wedges);
  guint rounds = 0;

  for (; c > wedge_close (shape) && rounds <= BW_CROWN_ROUNDS_MAX; rounds++)
    c = least_next (c, wedge_most (shape));
  return rounds;
}

/* Rounds of the profile: the crown is drawn up at the first round end where the
 * profile is nearer to what may be left than to one stitch a wedge more. */
static double
profile_rounds (const BwCrownShape *shape,
                guint               start)
{
  double close = (wedge_close (shape) + 0.5) * shape->wedges;

  if (start < close)
    return 0;
  if (shape->profile == BW_CROWN_GATHERED)
    return floor (bw_crown_length (shape, start) / shape->round_mm + 0.5);
  return ceil (length_to (shape, start, close) / shape->round_mm - 1e-9);
}

/* Rounds from the crown's start to the last before it is drawn up: at least
 * one, and never fewer than the decreases allowed in a round need. The profile
 * is worked to where so few stitches are left as will be drawn up: a flat top
 * of 80 stitches at 8.2 decreases a round has a radius of 9.8 rounds and is down
 * to 8 stitches in 9. A gathered crown has the length of its profile to the
 * nearest whole round. Above BW_CROWN_ROUNDS_MAX the answer is
 * BW_CROWN_ROUNDS_MAX + 1, and bw_crown_plan() refuses. */
guint
bw_crown_n_rounds (const BwCrownShape *shape,
                   guint               start)
{
  double rounds;

  g_return_val_if_fail (shape != NULL, 0);
  g_return_val_if_fail (shape->round_mm > 0, 0);

  rounds = profile_rounds (shape, start);
  if (!(rounds <= BW_CROWN_ROUNDS_MAX))
    return BW_CROWN_ROUNDS_MAX + 1;
  return MAX ((guint) MAX (1, rounds), least_rounds (shape, start));
}

/* ---- the search ---- */

static guint
ceil_stitches (gint32 grains)
{
  return grains <= 0 ? 0 : (guint) (grains + GRAIN - 1) / GRAIN;
}

static guint
floor_stitches (gint32 grains)
{
  return grains <= 0 ? 0 : (guint) grains / GRAIN;
}

/* Whether every round can keep within so many grains of the profile; on the
 * way low and high become the counts that can be reached so. */
static gboolean
search_within (Search *search,
               gint32  distance)
{
  guint low = search->start, high = search->start;

  search->low[0] = search->high[0] = (guint16) search->start;
  for (guint i = 1; i <= search->n; i++)
    {
      low = MAX (least_next (low, search->most),
                 ceil_stitches (search->ideal[i] - distance));
      high = MIN (high, floor_stitches (search->ideal[i] + distance));
      if (i == search->n)
        high = MIN (high, search->close);
      else if (search->start > search->close)
        low = MAX (low, search->close + 1);
      if (low > high)
        return FALSE;
      search->low[i] = (guint16) low;
      search->high[i] = (guint16) high;
    }
  return TRUE;
}

/* The smallest distance that can be kept, by halving. The start is on the
 * profile and no round is further than the whole wedge, so there is one. */
static gint32
search_distance (Search *search)
{
  gint32 too_small = -1, enough = GRAIN / 2;

  while (!search_within (search, enough))
    {
      too_small = enough;
      enough *= 2;
    }
  while (enough - too_small > 1)
    {
      gint32 middle = too_small + (enough - too_small) / 2;

      if (search_within (search, middle))
        enough = middle;
      else
        too_small = middle;
    }
  return enough;
}

/* Takes out the counts from which the end cannot be reached. */
static void
search_prune (Search *search)
{
  for (guint i = search->n; i-- > 0;)
    {
      guint next = search->high[i + 1];

      search->low[i] = MAX (search->low[i], search->low[i + 1]);
      search->high[i] = (guint16) MIN (search->high[i], MIN (next + search->most, 2 * next));
    }
}

/* Best sum of squares from count c of round i to the end, given those of the
 * round after it (indexed by count); the best next count goes to *choice. Of
 * equals the larger count is taken: the crown that decreases later. */
static gint64
best_next (const Search *search,
           guint         i,
           guint         c,
           const gint64 *after,
           guint8       *choice)
{
  guint low = MAX (least_next (c, search->most), search->low[i + 1]);
  gint64 best = G_MAXINT64;

  for (guint next = MIN (c, search->high[i + 1]); next >= low && next > 0; next--)
    if (after[next] < best)
      {
        best = after[next];
        *choice = (guint8) next;
      }
  return best;
}

static gint64
square_distance (const Search *search,
                 guint         i,
                 guint         c)
{
  gint64 off = (gint64) c * GRAIN - search->ideal[i];

  return off * off;
}

/* Among the counts left in low and high, those with the least sum of squares;
 * they replace low. */
static void
search_squares (Search *search)
{
  guint8 choice[BW_CROWN_ROUNDS_MAX + 1][BW_CROWN_WEDGE_MAX + 1];
  gint64 sums[2][BW_CROWN_WEDGE_MAX + 1];
  guint c;

  for (c = search->low[search->n]; c <= search->high[search->n]; c++)
    sums[search->n % 2][c] = square_distance (search, search->n, c);
  for (guint i = search->n; i-- > 0;)
    for (c = search->low[i]; c <= search->high[i]; c++)
      sums[i % 2][c] = square_distance (search, i, c)
                       + best_next (search, i, c, sums[(i + 1) % 2], &choice[i][c]);

  c = search->start;
  for (guint i = 0; i < search->n; i++)
    {
      c = choice[i][c];
      search->low[i + 1] = (guint16) c;
    }
}

static void
follow_profile (const BwCrownShape *shape,
                guint               start,
                Search             *search,
                BwCrown            *crown)
{
  double per_mm = 2 * G_PI / (shape->stitch_mm * shape->wedges);
  double radius[BW_CROWN_ROUNDS_MAX + 1];

  for (guint i = 0; i <= search->n; i++)
    {
      radius[i] = bw_crown_radius (shape, start, i * shape->round_mm);
      search->ideal[i] = (gint32) floor (radius[i] * per_mm * GRAIN + 0.5);
    }

  search_within (search, search_distance (search));
  search_prune (search);
  search_squares (search);

  for (guint i = 0; i <= search->n; i++)
    {
      crown->counts[i] = search->low[i] * shape->wedges;
      crown->worst_mm = MAX (crown->worst_mm, fabs (search->low[i] / per_mm - radius[i]));
    }
}

/* Plain to the end, then as few decrease rounds as will do. */
static void
gather (const BwCrownShape *shape,
        guint               start,
        const Search       *search,
        BwCrown            *crown)
{
  guint plain = search->n - least_rounds (shape, start);
  guint c = search->start;

  for (guint i = 0; i <= search->n; i++)
    {
      if (i > plain)
        c = least_next (c, search->most);
      crown->counts[i] = c * shape->wedges;
    }
}

static gboolean
check_shape (const BwCrownShape *shape,
             guint               start,
             GError            **error)
{
  if (shape->profile == BW_CROWN_OWN)
    {
      g_set_error_literal (error, BW_ERROR, BW_ERROR_CONFLICT,
                           "A crown with counts of its own is not planned: choose a profile");
      return FALSE;
    }
  if (!(shape->stitch_mm > 0 && isfinite (shape->stitch_mm))
      || !(shape->round_mm > 0 && isfinite (shape->round_mm)))
    {
      g_set_error_literal (error, BW_ERROR, BW_ERROR_RANGE,
                           "The crown has no gauge: give the width of a stitch and the height "
                           "of a round");
      return FALSE;
    }
  if (shape->wedges == 0 || start < shape->wedges)
    {
      g_set_error (error, BW_ERROR, BW_ERROR_RANGE,
                   "%u stitches do not make %u wedges: each needs at least one stitch",
                   start, shape->wedges);
      return FALSE;
    }
  if (start % shape->wedges != 0)
    {
      guint below = start - start % shape->wedges;

      g_set_error (error, BW_ERROR, BW_ERROR_CONFLICT,
                   "%u stitches do not divide into %u wedges: start the crown with %u or %u",
                   start, shape->wedges, below, below + shape->wedges);
      return FALSE;
    }
  return TRUE;
}

static gboolean
check_limits (const BwCrownShape *shape,
              guint               start,
              guint               n_rounds,
              GError            **error)
{
  if (start / shape->wedges > BW_CROWN_WEDGE_MAX)
    {
      g_set_error (error, BW_ERROR, BW_ERROR_TOO_LARGE,
                   "A wedge of %u stitches is too wide: at most %u, or more wedges",
                   start / shape->wedges, BW_CROWN_WEDGE_MAX);
      return FALSE;
    }
  if (n_rounds > BW_CROWN_ROUNDS_MAX)
    {
      g_set_error (error, BW_ERROR, BW_ERROR_TOO_LARGE,
                   "The crown would need more than %u rounds: make it shorter, or check the "
                   "height of a round",
                   BW_CROWN_ROUNDS_MAX);
      return FALSE;
    }
  return TRUE;
}

/* Chooses what every round of the crown leaves: whole multiples of the wedge
 * count that never rise, at most half of the stitches (and at most
 * max_per_wedge a wedge) decreased in a round, and the last round the first to
 * leave no more than close_at, so that no plain round comes before drawing up;
 * where close_at is below the wedge count, one stitch a wedge is left. Of all
 * such counts the answer is exact, not a heuristic:
 *
 *   1. the largest distance of any round to the profile is as small as can be;
 *   2. of those, the sum of the squared distances is as small as can be;
 *   3. of those, the one that has the larger count in the first round in which
 *      they differ.
 *
 * Distances are taken in 1/1024 of a stitch of one wedge, so that ties are the
 * same on every machine. A gathered crown is plain until the fewest decrease
 * rounds that will close it. Allocates nothing; crown is filled only on success.
 *
 * Fails with BW_ERROR_CONFLICT (the start does not divide; own counts),
 * BW_ERROR_RANGE (no gauge, no wedges) or BW_ERROR_TOO_LARGE. */
gboolean
bw_crown_plan (const BwCrownShape  *shape,
               guint                start,
               BwCrown             *crown,
               GError             **error)
{
  Search search;

  g_return_val_if_fail (shape != NULL && crown != NULL, FALSE);

  if (!check_shape (shape, start, error))
    return FALSE;

  search.n = bw_crown_n_rounds (shape, start);
  search.start = start / shape->wedges;
  search.most = wedge_most (shape);
  search.close = wedge_close (shape);
  if (!check_limits (shape, start, search.n, error))
    return FALSE;

  crown->n_rounds = search.n;
  crown->worst_mm = 0;
  if (shape->profile == BW_CROWN_GATHERED)
    gather (shape, start, &search, crown);
  else
    follow_profile (shape, start, &search, crown);
  return TRUE;
}

/* ---- flatness ---- */

/* Decreases (or increases) a round at which the fabric lies flat: the girth of
 * a disc changes by 2 pi for each unit of radius, and a round adds its height
 * to the radius. The trade's 6, 8 and 12 are this for stitches about 1, 1.5 and
 * 2 times as high as wide; measured gauge rules. */
double
bw_crown_flat_rate (double stitch_mm,
                    double round_mm)
{
  g_return_val_if_fail (stitch_mm > 0, 0);

  return 2 * G_PI * round_mm / stitch_mm;
}

/* Decreases of a round over the flat rate: below 1 the fabric curves, at 1 it
 * lies flat, above 1 it must pleat. */
double
bw_crown_flatness (guint  decreases,
                   double stitch_mm,
                   double round_mm)
{
  g_return_val_if_fail (stitch_mm > 0 && round_mm > 0, 0);

  return decreases / bw_crown_flat_rate (stitch_mm, round_mm);
}
