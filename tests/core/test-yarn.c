#include <glib.h>
#include <math.h>

#include "bw-error.h"
#include "bw-reference-builtin.h"
#include "bw-yarn.h"

/* Yarn by length, mass, ball and price, and what weighed pieces teach. The
 * pieces are made from a known amount in each stitch, which must come out. */

#define KINDS_MAX  64
#define PIECES_MAX 8

static BwReference *reference;

static guint
kinds (void)
{
  return bw_stitch_dictionary_size (reference->stitches);
}

static BwStitchIndex
kind (const char *id)
{
  BwStitchIndex index = bw_stitch_find (reference->stitches, id);

  g_assert_cmpuint (index, !=, BW_STITCH_NONE);
  return index;
}

static void
test_ball (void)
{
  const BwYarn yarn = { .metres_per_ball = 125, .grams_per_ball = 50, .price_per_ball = 6 };

  g_assert_cmpfloat (bw_yarn_metres_to_grams (&yarn, 250), ==, 100);
  g_assert_cmpfloat (bw_yarn_grams_to_metres (&yarn, 10), ==, 25);
  g_assert_cmpfloat (bw_yarn_cost (&yarn, 62.5), ==, 3); /* half a ball, half its price */
  for (guint i = 0; i < 1000; i++)
    {
      double metres = g_test_rand_double_range (0, 2000);

      g_assert_cmpfloat_with_epsilon (
        bw_yarn_grams_to_metres (&yarn, bw_yarn_metres_to_grams (&yarn, metres)), metres, 1e-9);
    }
}

/* What the band does not tell is 0, never a division by it. */
static void
test_unknown_ball (void)
{
  const BwYarn yarn = { .weight_class = -1 };

  g_assert_cmpfloat (bw_yarn_metres_to_grams (&yarn, 250), ==, 0);
  g_assert_cmpfloat (bw_yarn_grams_to_metres (&yarn, 250), ==, 0);
  g_assert_cmpfloat (bw_yarn_cost (&yarn, 250), ==, 0);
  g_assert_cmpuint (bw_yarn_balls (&yarn, 250, 0.1), ==, 0);
}

static void
test_balls (void)
{
  const BwYarn yarn = { .metres_per_ball = 125, .grams_per_ball = 50 };
  const BwYarn odd = { .metres_per_ball = 3.3 };

  g_assert_cmpuint (bw_yarn_balls (&yarn, 0, 0.1), ==, 0);
  g_assert_cmpuint (bw_yarn_balls (&yarn, -5, 0.1), ==, 0);
  g_assert_cmpuint (bw_yarn_balls (&yarn, 1, 0), ==, 1);
  g_assert_cmpuint (bw_yarn_balls (&yarn, 125, 0), ==, 1);
  g_assert_cmpuint (bw_yarn_balls (&yarn, 125.1, 0), ==, 2);
  g_assert_cmpuint (bw_yarn_balls (&yarn, 125, 0.1), ==, 2);
  g_assert_cmpuint (bw_yarn_balls (&yarn, 227.2, 0.1), ==, 2);
  g_assert_cmpuint (bw_yarn_balls (&yarn, 227.4, 0.1), ==, 3);
  g_assert_cmpuint (bw_yarn_balls (&yarn, 1e15, 0), ==, G_MAXUINT);
  g_assert_cmpuint (bw_yarn_balls (&odd, 3, 0.1), ==, 1); /* 3 * 1.1 > 3.3 in binary */
}

static void
test_balls_suffice (void)
{
  for (guint i = 0; i < 2000; i++)
    {
      BwYarn yarn = { .metres_per_ball = g_test_rand_double_range (20, 400) };
      double metres = g_test_rand_double_range (1, 1000);
      double margin = g_test_rand_double_range (0, 0.5);
      guint balls = bw_yarn_balls (&yarn, metres, margin);

      g_assert_cmpfloat (balls * yarn.metres_per_ball, >=, metres * (1 + margin) - 1e-6);
      g_assert_cmpfloat ((balls - 1.0) * yarn.metres_per_ball, <, metres * (1 + margin));
    }
}

static void
test_by_area (void)
{
  g_assert_cmpfloat_with_epsilon (bw_yarn_by_area (100, 500, 200, 550, 220), 121, 1e-9);
  g_assert_cmpfloat (bw_yarn_by_area (100, 0, 200, 550, 220), ==, 0);
  g_assert_cmpfloat (bw_yarn_by_area (100, 500, 0, 550, 220), ==, 0);
  for (guint i = 0; i < 500; i++)
    {
      double a = g_test_rand_double_range (100, 700);
      double b = g_test_rand_double_range (100, 300);
      double c = g_test_rand_double_range (100, 700);
      double d = g_test_rand_double_range (100, 300);
      double there = bw_yarn_by_area (120, a, b, c, d);

      g_assert_cmpfloat_with_epsilon (bw_yarn_by_area (there, c, d, a, b), 120, 1e-9);
    }
}

static void
test_estimate (void)
{
  double metres[KINDS_MAX], twice[KINDS_MAX];

  bw_yarn_estimate (reference->stitches, 6, metres);
  bw_yarn_estimate (reference->stitches, 12, twice);
  for (guint i = 0; i < kinds (); i++)
    {
      const BwStitch *stitch = bw_stitch_get (reference->stitches, (BwStitchIndex) i);

      g_assert_cmpfloat_with_epsilon (metres[i], stitch->yarn * 0.006, 1e-12);
      g_assert_cmpfloat_with_epsilon (twice[i], 2 * metres[i], 1e-12);
    }
  g_assert_cmpfloat (metres[kind ("miss")], ==, 0);
  /* taller stitches hold more yarn */
  g_assert_cmpfloat (metres[kind ("slip")], <, metres[kind ("low")]);
  g_assert_cmpfloat (metres[kind ("low")], <, metres[kind ("mid")]);
  g_assert_cmpfloat (metres[kind ("mid")], <, metres[kind ("tall")]);
  g_assert_cmpfloat (metres[kind ("tall")], <, metres[kind ("taller")]);
}

/* Pieces with random counts of the stitches named, weighed exactly. */
typedef struct
{
  double        counts[PIECES_MAX][KINDS_MAX];
  BwYarnWeighed pieces[PIECES_MAX];
  double        truth[KINDS_MAX];
} Pieces;

static void
pieces_init (Pieces             *self,
             const char *const  *ids,
             gsize               n_pieces)
{
  *self = (Pieces) { 0 };
  bw_yarn_estimate (reference->stitches, 6, self->truth);
  for (guint i = 0; i < kinds (); i++)
    self->truth[i] *= g_test_rand_double_range (0.6, 1.6);

  for (gsize p = 0; p < n_pieces; p++)
    {
      double metres = 0;

      for (guint k = 0; ids[k] != NULL; k++)
        {
          BwStitchIndex index = kind (ids[k]);

          self->counts[p][index] = g_test_rand_int_range (0, 500) + (p % 3 == k % 3 ? 300 : 1);
          metres += self->counts[p][index] * self->truth[index];
        }
      self->pieces[p] = (BwYarnWeighed) { self->counts[p], metres };
    }
}

static double
metres_of (const BwYarnWeighed *piece,
           const double        *metres_by_stitch)
{
  double metres = 0;

  for (guint i = 0; i < kinds (); i++)
    metres += piece->counts[i] * metres_by_stitch[i];

  return metres;
}

static void
test_fit_recovers (void)
{
  static const char *const ids[] = { "low", "tall", "slip", NULL };

  for (guint i = 0; i < 200; i++)
    {
      gsize n_pieces = (gsize) g_test_rand_int_range (4, PIECES_MAX + 1);
      double fitted[KINDS_MAX];
      g_autoptr (GError) error = NULL;
      Pieces pieces;

      pieces_init (&pieces, ids, n_pieces);
      g_assert_true (bw_yarn_fit (reference->stitches, pieces.pieces, n_pieces, 6, fitted, &error));
      g_assert_no_error (error);
      for (guint k = 0; ids[k] != NULL; k++)
        {
          BwStitchIndex index = kind (ids[k]);

          g_assert_cmpfloat_with_epsilon (fitted[index] / pieces.truth[index], 1, 1e-6);
        }
    }
}

/* Missed stitches hold no yarn and are no unknown: two pieces of two kinds with
 * misses in them are enough. */
static void
test_fit_misses (void)
{
  double counts[2][KINDS_MAX] = { { 0 } };
  double fitted[KINDS_MAX];
  const BwYarnWeighed pieces[] = { { counts[0], 600 * 0.05 },
                                   { counts[1], 100 * 0.05 + 300 * 0.06 } };

  counts[0][kind ("low")] = 600;
  counts[0][kind ("miss")] = 200;
  counts[1][kind ("low")] = 100;
  counts[1][kind ("tall")] = 300;
  counts[1][kind ("miss")] = 20;
  g_assert_true (bw_yarn_fit (reference->stitches, pieces, 2, 6, fitted, NULL));
  g_assert_cmpfloat_with_epsilon (fitted[kind ("low")], 0.05, 1e-12);
  g_assert_cmpfloat_with_epsilon (fitted[kind ("tall")], 0.06, 1e-12);
  g_assert_cmpfloat (fitted[kind ("miss")], ==, 0);
}

/* Fewer pieces than kinds: one factor on the estimate, for every kind. */
static void
test_fit_falls_back (void)
{
  static const char *const ids[] = { "low", "tall", "slip", "chain", NULL };

  for (guint i = 0; i < 200; i++)
    {
      gsize n_pieces = (gsize) g_test_rand_int_range (1, 4);
      double fitted[KINDS_MAX], estimate[KINDS_MAX];
      double sum = 0;
      double weighed = 0;
      Pieces pieces;

      pieces_init (&pieces, ids, n_pieces);
      bw_yarn_estimate (reference->stitches, 6, estimate);
      g_assert_true (bw_yarn_fit (reference->stitches, pieces.pieces, n_pieces, 6, fitted, NULL));
      for (guint k = 0; k < kinds (); k++)
        if (estimate[k] > 0)
          g_assert_cmpfloat_with_epsilon (fitted[k] / estimate[k],
                                          fitted[kind ("low")] / estimate[kind ("low")], 1e-12);
      for (gsize p = 0; p < n_pieces; p++)
        {
          sum += metres_of (&pieces.pieces[p], fitted);
          weighed += pieces.pieces[p].metres;
        }
      g_assert_cmpfloat_with_epsilon (sum / weighed, 1, 1e-12);
    }
}

/* A piece that was not weighed changes no factor, whatever it holds; and a kind
 * that only the first piece holds is a kind to learn. */
static void
test_fit_first_and_unweighed (void)
{
  double counts[3][KINDS_MAX] = { { 0 } };
  double fitted[KINDS_MAX], estimate[KINDS_MAX];
  BwYarnWeighed pieces[] = { { counts[0], 0 }, { counts[1], 0 }, { counts[2], 0 } };

  bw_yarn_estimate (reference->stitches, 6, estimate);
  counts[0][kind ("low")] = 400;
  counts[0][kind ("tall")] = 200;
  counts[1][kind ("low")] = 1000;
  counts[2][kind ("low")] = 500;

  /* one piece for two kinds: one factor, of the weighed piece alone */
  pieces[0].metres = 1.25 * metres_of (&pieces[0], estimate);
  g_assert_true (bw_yarn_fit (reference->stitches, pieces, 2, 6, fitted, NULL));
  for (guint k = 0; k < kinds (); k++)
    g_assert_cmpfloat_with_epsilon (fitted[k], 1.25 * estimate[k], 1e-12);

  /* two pieces: low by the other, tall by what is left of the first */
  pieces[2].metres = 500 * estimate[kind ("low")];
  pieces[0].metres = 400 * estimate[kind ("low")] + 200 * 1.5 * estimate[kind ("tall")];
  g_assert_true (bw_yarn_fit (reference->stitches, pieces, 3, 6, fitted, NULL));
  g_assert_cmpfloat_with_epsilon (fitted[kind ("low")], estimate[kind ("low")], 1e-12);
  g_assert_cmpfloat_with_epsilon (fitted[kind ("tall")], 1.5 * estimate[kind ("tall")], 1e-12);
}

/* Kinds that no piece holds follow the factor of those that were weighed. */
static void
test_fit_others_scale (void)
{
  static const char *const ids[] = { "low", NULL };
  double fitted[KINDS_MAX], estimate[KINDS_MAX];
  Pieces pieces;

  pieces_init (&pieces, ids, 3);
  bw_yarn_estimate (reference->stitches, 6, estimate);
  g_assert_true (bw_yarn_fit (reference->stitches, pieces.pieces, 3, 6, fitted, NULL));
  g_assert_cmpfloat_with_epsilon (fitted[kind ("tall")] / estimate[kind ("tall")],
                                  fitted[kind ("low")] / estimate[kind ("low")], 1e-9);
}

/* Pieces with the same mixture cannot tell the kinds apart; what they weigh must
 * come out all the same, and no stitch be left without yarn or be counted twice. */
static void
test_fit_same_mixture (void)
{
  double counts[3][KINDS_MAX] = { { 0 } };
  double fitted[KINDS_MAX];
  BwYarnWeighed pieces[3];

  for (guint p = 0; p < 3; p++)
    {
      counts[p][kind ("low")] = 300 * (p + 1);
      counts[p][kind ("tall")] = 100 * (p + 1);
      pieces[p] = (BwYarnWeighed) { counts[p], 24 * (p + 1) };
    }

  g_assert_true (bw_yarn_fit (reference->stitches, pieces, 3, 6, fitted, NULL));
  g_assert_cmpfloat (fitted[kind ("low")], >, 0);
  g_assert_cmpfloat (fitted[kind ("tall")], >, fitted[kind ("low")]);
  for (guint p = 0; p < 3; p++)
    g_assert_cmpfloat_with_epsilon (metres_of (&pieces[p], fitted), pieces[p].metres, 1e-6);
}

/* However badly the pieces were weighed, no stitch comes out without yarn. */
static void
test_fit_noisy (void)
{
  static const char *const ids[] = { "low", "tall", "chain", NULL };

  for (guint i = 0; i < 500; i++)
    {
      double fitted[KINDS_MAX];
      Pieces pieces;

      pieces_init (&pieces, ids, 4);
      for (guint p = 0; p < 4; p++)
        pieces.pieces[p].metres *= g_test_rand_double_range (0.5, 1.5);
      g_assert_true (bw_yarn_fit (reference->stitches, pieces.pieces, 4, 6, fitted, NULL));
      for (guint k = 0; k < kinds (); k++)
        {
          g_assert_true (isfinite (fitted[k]));
          g_assert_true (fitted[k] > 0 || k == kind ("miss"));
        }
    }
}

/* Five sizes of one hat, weighed to a few per cent: every kind of stitch grows
 * with the next, so hardly anything tells them apart. Whatever comes out is yarn
 * that a stitch can take, and foretells a sixth size and a plain square. */
static void
test_fit_one_hat (void)
{
  for (guint i = 0; i < 500; i++)
    {
      double counts[7][KINDS_MAX] = { { 0 } };
      double fitted[KINDS_MAX], estimate[KINDS_MAX];
      BwYarnWeighed pieces[7];
      const double hand = g_test_rand_double_range (0.7, 1.4);

      bw_yarn_estimate (reference->stitches, 6, estimate);
      for (guint p = 0; p < 7; p++)
        {
          counts[p][kind ("low")] = p < 6 ? 36 * (66 + 5 * p) : 1000;
          counts[p][kind ("low2tog")] = p < 6 ? 60 + 4 * p : 0;
          counts[p][kind ("chain")] = p < 6 ? 30 + p : 0;
          pieces[p].counts = counts[p];
          pieces[p].metres = hand * metres_of (&pieces[p], estimate);
          if (p < 5)
            pieces[p].metres *= g_test_rand_double_range (0.97, 1.03);
        }

      g_assert_true (bw_yarn_fit (reference->stitches, pieces, 5, 6, fitted, NULL));
      for (guint k = 0; k < kinds (); k++)
        if (estimate[k] > 0)
          {
            g_assert_cmpfloat (fitted[k] / estimate[k], >, hand / 3.2);
            g_assert_cmpfloat (fitted[k] / estimate[k], <, hand * 3.2);
          }
      for (guint p = 5; p < 7; p++)
        g_assert_cmpfloat_with_epsilon (metres_of (&pieces[p], fitted) / pieces[p].metres, 1, 0.10);
    }
}

static void
test_fit_refuses (void)
{
  double none[KINDS_MAX] = { 0 };
  double some[KINDS_MAX] = { 0 };
  double fitted[KINDS_MAX], estimate[KINDS_MAX];
  BwYarnWeighed pieces[] = { { none, 10 }, { some, 0 }, { some, NAN } };
  BwYarnWeighed good;

  some[kind ("low")] = 100;
  bw_yarn_estimate (reference->stitches, 6, estimate);
  for (gsize n = 0; n <= 3; n++)
    {
      g_autoptr (GError) error = NULL;

      g_assert_false (bw_yarn_fit (reference->stitches, pieces, n, 6, fitted, &error));
      g_assert_error (error, BW_ERROR, BW_ERROR_MISSING);
      for (guint k = 0; k < kinds (); k++)
        g_assert_cmpfloat (fitted[k], ==, estimate[k]);
    }

  /* and beside a good piece they change nothing */
  good = (BwYarnWeighed) { some, 5 };
  pieces[2] = good;
  g_assert_true (bw_yarn_fit (reference->stitches, pieces, 3, 6, fitted, NULL));
  g_assert_cmpfloat_with_epsilon (fitted[kind ("low")], 0.05, 1e-12);
}

int
main (int    argc,
      char **argv)
{
  g_autoptr (GError) error = NULL;
  int result;

  g_test_init (&argc, &argv, NULL);
  reference = bw_reference_builtin (&error);
  g_assert_no_error (error);
  g_assert_cmpuint (kinds (), <=, KINDS_MAX);

  g_test_add_func ("/yarn/ball", test_ball);
  g_test_add_func ("/yarn/unknown-ball", test_unknown_ball);
  g_test_add_func ("/yarn/balls", test_balls);
  g_test_add_func ("/yarn/balls-suffice", test_balls_suffice);
  g_test_add_func ("/yarn/by-area", test_by_area);
  g_test_add_func ("/yarn/estimate", test_estimate);
  g_test_add_func ("/yarn/fit/recovers", test_fit_recovers);
  g_test_add_func ("/yarn/fit/misses", test_fit_misses);
  g_test_add_func ("/yarn/fit/falls-back", test_fit_falls_back);
  g_test_add_func ("/yarn/fit/first-and-unweighed", test_fit_first_and_unweighed);
  g_test_add_func ("/yarn/fit/others-scale", test_fit_others_scale);
  g_test_add_func ("/yarn/fit/same-mixture", test_fit_same_mixture);
  g_test_add_func ("/yarn/fit/noisy", test_fit_noisy);
  g_test_add_func ("/yarn/fit/one-hat", test_fit_one_hat);
  g_test_add_func ("/yarn/fit/refuses", test_fit_refuses);
  result = g_test_run ();
  bw_reference_free (reference);
  return result;
}
