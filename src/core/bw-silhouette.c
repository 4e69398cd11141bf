#define G_LOG_DOMAIN "bw-core"

#include "bw-silhouette.h"

#include <math.h>

/* While it is being built a point holds the round alone: radius_mm the shown
 * radius, fullness the radius that its stitches would lie flat with, height_mm
 * the length of fabric from the point before. */

static void
append_point (GArray *points,
              double  girth_mm,
              double  length_mm,
              guint   round)
{
  double radius = girth_mm / (2 * G_PI);
  BwSilhouettePoint point = { radius, length_mm, radius, round };

  g_array_append_val (points, point);
}

/* The lower edge, and the whole of a sideways brim. Rows are not rounds: they
 * stand side by side, so the brim is one step up. Returns the first round above. */
static guint
append_edge (GArray             *points,
             const BwGradedSize *size)
{
  const GArray *rounds = size->rounds->rounds;
  guint i = 0;

  while (i < rounds->len)
    {
      const BwRound *round = &g_array_index (rounds, BwRound, i);

      if (!round->row && round->section != BW_SECTION_JOIN)
        break;
      i++;
    }

  if (i > 0)
    {
      append_point (points, size->brim_mm, 0, 0);
      append_point (points, size->brim_mm, size->brim_height_mm, i - 1);
    }
  else if (rounds->len > 0)
    append_point (points, g_array_index (rounds, BwRound, 0).girth_mm, 0, 0);
  return i;
}

static void
append_rounds (GArray       *points,
               const GArray *rounds,
               guint         first)
{
  for (guint i = first; i < rounds->len; i++)
    {
      const BwRound *round = &g_array_index (rounds, BwRound, i);

      if (!round->row && round->section != BW_SECTION_CLOSE)
        append_point (points, round->girth_mm, round->round_mm, i);
    }
}

/* No round can be wider than its stitches, nor differ from its neighbour by
 * more than the fabric between them is long. The widest shape that keeps to
 * both is found in one pass up and one down; what is left over lies in pleats. */
static void
draw_in (GArray *points)
{
  for (guint i = 1; i < points->len; i++)
    {
      const BwSilhouettePoint *below = &g_array_index (points, BwSilhouettePoint, i - 1);
      BwSilhouettePoint *point = &g_array_index (points, BwSilhouettePoint, i);

      point->radius_mm = MIN (point->radius_mm, below->radius_mm + point->height_mm);
    }
  for (guint i = points->len; i-- > 1;)
    {
      const BwSilhouettePoint *above = &g_array_index (points, BwSilhouettePoint, i);
      BwSilhouettePoint *point = &g_array_index (points, BwSilhouettePoint, i - 1);

      point->radius_mm = MIN (point->radius_mm, above->radius_mm + above->height_mm);
    }
}

/* Lengths of fabric to heights, flat radii to fullness. */
static void
stand_up (GArray *points)
{
  double height = 0, radius = 0;

  for (guint i = 0; i < points->len; i++)
    {
      BwSilhouettePoint *point = &g_array_index (points, BwSilhouettePoint, i);
      double inwards = i > 0 ? point->radius_mm - radius : 0;
      double up = point->height_mm * point->height_mm - inwards * inwards;

      height += up > 0 ? sqrt (up) : 0;
      radius = point->radius_mm;
      point->height_mm = height;
      point->fullness = radius > 0 ? point->fullness / radius : 1;
    }
}

/* The outline of a graded size as it hangs free, off the head: points from the
 * lower edge upwards, the first at height 0, then one for each round at its top
 * edge. A round whose radius differs by d from the one below rises by
 * sqrt (h^2 - d^2); where |d| would be more than h the fabric pleats, which
 * `fullness` (stitches' girth over shown girth, at least 1) tells. A crown that
 * is drawn up ends in a point of radius 0 at the height of its last round. Plain
 * geometry: the hat is a stack of cones, and stretch and weight are left out.
 *
 * Returns a new array of BwSilhouettePoint, empty for a size without rounds. */
GArray *
bw_silhouette (const BwGradedSize *size)
{
  GArray *points = g_array_new (FALSE, FALSE, sizeof (BwSilhouettePoint));
  const GArray *rounds;

  g_return_val_if_fail (size != NULL && size->rounds != NULL, points);

  rounds = size->rounds->rounds;
  append_rounds (points, rounds, append_edge (points, size));
  draw_in (points);
  stand_up (points);

  if (points->len > 0
      && g_array_index (rounds, BwRound, rounds->len - 1).section == BW_SECTION_CLOSE)
    {
      BwSilhouettePoint centre = g_array_index (points, BwSilhouettePoint, points->len - 1);

      centre.radius_mm = 0;
      centre.fullness = 1;
      centre.round = rounds->len - 1;
      g_array_append_val (points, centre);
    }
  return points;
}
