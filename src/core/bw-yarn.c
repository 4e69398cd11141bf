#define G_LOG_DOMAIN "bw-core"

#include "bw-yarn.h"

#include <math.h>

#include "bw-error.h"
#include "bw-stats.h"

/**
 * bw_yarn_metres_to_grams:
 * @yarn: the yarn
 * @metres: length, m
 *
 * Returns: its mass, g; 0 when the ball's figures are not known
 */
double
bw_yarn_metres_to_grams (const BwYarn *yarn,
                         double        metres)
{
  return yarn->metres_per_ball > 0 ? metres / yarn->metres_per_ball * yarn->grams_per_ball : 0;
}

/**
 * bw_yarn_grams_to_metres:
 * @yarn: the yarn
 * @grams: mass, g
 *
 * Returns: its length, m; 0 when the ball's figures are not known
 */
double
bw_yarn_grams_to_metres (const BwYarn *yarn,
                         double        grams)
{
  return yarn->grams_per_ball > 0 ? grams / yarn->grams_per_ball * yarn->metres_per_ball : 0;
}

/**
 * bw_yarn_balls:
 * @yarn: the yarn
 * @metres: length needed, m
 * @margin: fraction added for safety
 *
 * Returns: whole balls to buy; 0 when the ball's length is not known
 */
guint
bw_yarn_balls (const BwYarn *yarn,
               double        metres,
               double        margin)
{
  if (yarn->metres_per_ball <= 0)
    return 0;

  /* the last bits of a product must not cost a ball */
  return (guint) ceil (metres * (1 + margin) / yarn->metres_per_ball - 1e-9);
}

/**
 * bw_yarn_cost:
 * @yarn: the yarn
 * @metres: length used, m
 *
 * Returns: what it costs: a part of a ball costs its share; 0 when not known
 */
double
bw_yarn_cost (const BwYarn *yarn,
              double        metres)
{
  return yarn->metres_per_ball > 0 ? metres / yarn->metres_per_ball * yarn->price_per_ball : 0;
}

/**
 * bw_yarn_estimate:
 * @dictionary: the stitches
 * @stitch_mm: width of a stitch, mm
 * @metres_by_stitch: (out) (array): yarn of each stitch, m, by its place in the dictionary
 *
 * Estimates yarn from the dictionary's relative figures; to be marked as an estimate.
 */
void
bw_yarn_estimate (const BwStitchDictionary *dictionary,
                  double                    stitch_mm,
                  double                   *metres_by_stitch)
{
  for (guint i = 0; i < bw_stitch_dictionary_size (dictionary); i++)
    metres_by_stitch[i] = bw_stitch_get (dictionary, (BwStitchIndex) i)->yarn * stitch_mm / 1000;
}

/* How often kind of stitch `i` occurs in a piece, in yards of the estimate. */
static double
estimated_metres (const BwYarnWeighed *piece,
                  const double        *estimate,
                  guint                n)
{
  double metres = 0;

  for (guint i = 0; i < n; i++)
    metres += piece->counts[i] * estimate[i];

  return metres;
}

/* One factor for all stitches, from all pieces together. */
static gboolean
scale_estimate (const BwYarnWeighed  *pieces,
                gsize                 n_pieces,
                guint                 n,
                double               *metres_by_stitch,
                GError              **error)
{
  double measured = 0;
  double estimated = 0;

  for (gsize p = 0; p < n_pieces; p++)
    {
      measured += pieces[p].metres;
      estimated += estimated_metres (&pieces[p], metres_by_stitch, n);
    }

  if (estimated <= 0 || measured <= 0)
    {
      g_set_error (error, BW_ERROR, BW_ERROR_MISSING,
                   "The weighed pieces hold no stitch and no yarn to learn from");
      return FALSE;
    }

  for (guint i = 0; i < n; i++)
    metres_by_stitch[i] *= measured / estimated;
  return TRUE;
}

/* Kinds of stitch that occur in some piece; returns how many. */
static guint
occurring (const BwYarnWeighed *pieces,
           gsize                n_pieces,
           guint                n,
           guint               *kinds)
{
  guint found = 0;

  for (guint i = 0; i < n; i++)
    for (gsize p = 0; p < n_pieces; p++)
      if (pieces[p].counts[i] > 0)
        {
          kinds[found++] = i;
          break;
        }

  return found;
}

/**
 * bw_yarn_fit:
 * @dictionary: the stitches
 * @pieces: (array length=n_pieces): weighed pieces
 * @n_pieces: how many
 * @stitch_mm: width of a stitch, mm
 * @metres_by_stitch: (out) (array): yarn of each stitch, m
 * @error: return location for an error
 *
 * Learns the yarn in each kind of stitch from weighed pieces: by non-negative
 * least squares over the kinds they contain when there are as many pieces as
 * kinds, else by one factor on the estimate. Kinds that no piece contains keep
 * the estimate, scaled by the same factor.
 *
 * Returns: FALSE with @error set when the pieces teach nothing
 */
gboolean
bw_yarn_fit (const BwStitchDictionary  *dictionary,
             const BwYarnWeighed       *pieces,
             gsize                      n_pieces,
             double                     stitch_mm,
             double                    *metres_by_stitch,
             GError                   **error)
{
  guint n = bw_stitch_dictionary_size (dictionary);
  g_autofree guint *kinds = g_new (guint, n);
  g_autofree double *a = NULL;
  g_autofree double *b = NULL;
  g_autofree double *x = NULL;
  guint n_kinds = occurring (pieces, n_pieces, n, kinds);

  bw_yarn_estimate (dictionary, stitch_mm, metres_by_stitch);
  if (!scale_estimate (pieces, n_pieces, n, metres_by_stitch, error))
    return FALSE;
  if (n_pieces < n_kinds)
    return TRUE;

  a = g_new0 (double, n_pieces * n_kinds);
  b = g_new0 (double, n_pieces);
  x = g_new0 (double, n_kinds);
  for (gsize p = 0; p < n_pieces; p++)
    {
      b[p] = pieces[p].metres;
      for (guint k = 0; k < n_kinds; k++)
        a[p * n_kinds + k] = pieces[p].counts[kinds[k]];
    }

  bw_stats_nonnegative_least_squares (a, b, n_pieces, n_kinds, x);
  for (guint k = 0; k < n_kinds; k++)
    if (x[k] > 0)
      metres_by_stitch[kinds[k]] = x[k];
  return TRUE;
}

/**
 * bw_yarn_by_area:
 * @known_metres: yarn of a weighed hat or part, m
 * @known_girth_mm: its girth
 * @known_depth_mm: its depth
 * @girth_mm: girth of another size
 * @depth_mm: its depth
 *
 * Returns: yarn of the other size, m: in proportion to girth times depth
 *   (published tables keep to it within a few per cent)
 */
double
bw_yarn_by_area (double known_metres,
                 double known_girth_mm,
                 double known_depth_mm,
                 double girth_mm,
                 double depth_mm)
{
  double known = known_girth_mm * known_depth_mm;

  return known > 0 ? known_metres * girth_mm * depth_mm / known : 0;
}
