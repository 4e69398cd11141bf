#define G_LOG_DOMAIN "bw-core"

#include "bw-yarn.h"

#include <math.h>

#include "bw-error.h"
#include "bw-stats.h"

/* The last bits of a product must not cost a ball. */
#define BALL_ROUNDING 1e-9

/* A kind of stitch that seems to take more than this many times its estimate, or
 * less than that part of it, was not measured: the pieces do not tell it from
 * the others. Judgement, no source: an estimate is never that wrong. */
#define FACTOR_MOST 3.0

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
 * Returns: whole balls to buy, rounded up; 0 when the ball's length is not known
 */
guint
bw_yarn_balls (const BwYarn *yarn,
               double        metres,
               double        margin)
{
  double balls;

  if (!(yarn->metres_per_ball > 0))
    return 0;

  balls = ceil (metres * (1 + margin) / yarn->metres_per_ball - BALL_ROUNDING);
  return balls > 0 ? (guint) MIN (balls, G_MAXUINT) : 0;
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

/* --- Learning from weighed pieces --- */

/* A piece that was not weighed, or holds nothing that takes yarn, teaches nothing. */
static double
estimated_metres (const BwYarnWeighed *piece,
                  const double        *estimate,
                  guint                n)
{
  double metres = 0;

  if (!(piece->metres > 0))
    return 0;
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
      double own = estimated_metres (&pieces[p], metres_by_stitch, n);

      measured += own > 0 ? pieces[p].metres : 0;
      estimated += own;
    }

  if (!(estimated > 0 && measured > 0))
    {
      g_set_error (error, BW_ERROR, BW_ERROR_MISSING,
                   "No weighed piece tells its stitches and its yarn: weigh a swatch and count it");
      return FALSE;
    }

  for (guint i = 0; i < n; i++)
    metres_by_stitch[i] *= measured / estimated;
  return TRUE;
}

/* The kinds of stitch that a piece teaches about, and the pieces that do. A
 * kind without yarn, such as a missed stitch, is none. */
typedef struct
{
  guint *kinds;
  gsize *pieces;
  guint  n_kinds;
  gsize  n_pieces;
} Lesson;

static void
lesson_init (Lesson              *self,
             const BwYarnWeighed *pieces,
             gsize                n_pieces,
             const double        *estimate,
             guint                n)
{
  *self = (Lesson) { g_new (guint, n + 1), g_new (gsize, n_pieces + 1), 0, 0 };

  for (gsize p = 0; p < n_pieces; p++)
    if (estimated_metres (&pieces[p], estimate, n) > 0)
      self->pieces[self->n_pieces++] = p;

  for (guint i = 0; i < n; i++)
    for (gsize p = 0; p < self->n_pieces; p++)
      if (estimate[i] > 0 && pieces[self->pieces[p]].counts[i] > 0)
        {
          self->kinds[self->n_kinds++] = i;
          break;
        }
}

static void
lesson_clear (Lesson *self)
{
  g_free (self->kinds);
  g_free (self->pieces);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Lesson, lesson_clear)

/* One round of least squares over the kinds that are not held at their
 * estimate; those that come out impossible are held from then on. Returns how
 * many that were. */
static guint
fit_free_kinds (const Lesson *lesson,
                const double *share,
                gboolean     *held,
                double       *factor)
{
  guint n = lesson->n_kinds;
  g_autofree double *a = g_new0 (double, lesson->n_pieces * n);
  g_autofree double *b = g_new0 (double, lesson->n_pieces);
  guint newly_held = 0;

  for (gsize p = 0; p < lesson->n_pieces; p++)
    {
      b[p] = 1;
      for (guint k = 0; k < n; k++)
        if (held[k])
          b[p] -= share[p * n + k];
        else
          a[p * n + k] = share[p * n + k];
    }

  bw_stats_nonnegative_least_squares (a, b, lesson->n_pieces, n, factor);
  for (guint k = 0; k < n; k++)
    if (!held[k] && !(factor[k] >= 1 / FACTOR_MOST && factor[k] <= FACTOR_MOST))
      {
        held[k] = TRUE;
        newly_held++;
      }

  return newly_held;
}

/* Yarn of each kind by non-negative least squares. Each piece counts alike,
 * because hands differ by a proportion; each unknown is a factor on the scaled
 * estimate. No stitch is made of nothing, nor of the yarn of ten: a kind that
 * comes out so is one that the pieces do not tell from the others, as in five
 * sizes of one hat, where every kind grows with the next. It keeps its estimate,
 * and the rest is fitted again. */
static void
learn (const Lesson        *lesson,
       const BwYarnWeighed *pieces,
       double              *metres_by_stitch)
{
  guint n = lesson->n_kinds;
  g_autofree double *share = g_new0 (double, lesson->n_pieces * n);
  g_autofree double *factor = g_new0 (double, n);
  g_autofree gboolean *held = g_new0 (gboolean, n);

  for (gsize p = 0; p < lesson->n_pieces; p++)
    for (guint k = 0; k < n; k++)
      share[p * n + k] = pieces[lesson->pieces[p]].counts[lesson->kinds[k]] *
                         metres_by_stitch[lesson->kinds[k]] / pieces[lesson->pieces[p]].metres;

  while (fit_free_kinds (lesson, share, held, factor) > 0)
    ;
  for (guint k = 0; k < n; k++)
    if (!held[k])
      metres_by_stitch[lesson->kinds[k]] *= factor[k];
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
 * kinds, else by one factor on the estimate. Kinds that no piece contains, or
 * that the pieces do not tell from the others, keep the estimate scaled by that
 * factor. Pieces that were not weighed or hold no stitch are passed over.
 *
 * Returns: FALSE with @error set when the pieces teach nothing; the estimate
 *   then stands
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
  g_auto (Lesson) lesson = { 0 };

  bw_yarn_estimate (dictionary, stitch_mm, metres_by_stitch);
  if (!scale_estimate (pieces, n_pieces, n, metres_by_stitch, error))
    return FALSE;

  lesson_init (&lesson, pieces, n_pieces, metres_by_stitch, n);
  if (lesson.n_pieces >= lesson.n_kinds)
    learn (&lesson, pieces, metres_by_stitch);
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
