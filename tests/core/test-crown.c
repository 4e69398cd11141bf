#include <glib.h>
#include <math.h>
#include <string.h>

#include "bw-crown.h"
#include "bw-error.h"

/* ---- every crown there is, for comparison ---- */

#define SMALL_ROUNDS 12

/* All sequences of one small crown are tried; distances in the same 1/1024 of
 * a stitch of a wedge as the planner promises. */
typedef struct
{
  const BwCrownShape *shape;
  guint               start;
  guint               n;
  guint               counts[SMALL_ROUNDS + 1];
  guint               best[SMALL_ROUNDS + 1];
  gint64              best_worst;
  gint64              best_squares;
  guint               tried;
} Enumeration;

static gint64
distance (const Enumeration *all,
          guint              round,
          guint              c)
{
  const BwCrownShape *shape = all->shape;
  double radius = bw_crown_radius (shape, all->start, round * shape->round_mm);
  double ideal = 2 * G_PI * radius / shape->stitch_mm / shape->wedges;

  return (gint64) c * 1024 - (gint64) floor (ideal * 1024 + 0.5);
}

/* Compared by worst distance, then squares; sequences come with the larger
 * counts first, so the first of equals is the one to keep. */
static void
judge (Enumeration *all)
{
  gint64 worst = 0, squares = 0;

  for (guint i = 1; i <= all->n; i++)
    {
      gint64 off = distance (all, i, all->counts[i]);

      worst = MAX (worst, ABS (off));
      squares += off * off;
    }
  if (all->tried++ > 0
      && (worst > all->best_worst || (worst == all->best_worst && squares >= all->best_squares)))
    return;

  all->best_worst = worst;
  all->best_squares = squares;
  memcpy (all->best, all->counts, sizeof all->best);
}

static gboolean
may_close (const BwCrownShape *shape,
           guint               c)
{
  return c == 1 || c * shape->wedges <= shape->close_at;
}

static void
try_all (Enumeration *all,
         guint        round)
{
  guint c = all->counts[round];
  guint most = c / 2;

  if (round == all->n)
    {
      if (may_close (all->shape, c))
        judge (all);
      return;
    }
  if (round > 0 && may_close (all->shape, c))
    return;

  if (all->shape->max_per_wedge > 0)
    most = MIN (most, all->shape->max_per_wedge);
  for (guint less = 0; less <= most; less++)
    {
      all->counts[round + 1] = c - less;
      try_all (all, round + 1);
    }
}

static void
check_against_all (const BwCrownShape *shape,
                   guint               start)
{
  Enumeration all = { 0 };
  g_autoptr (GError) error = NULL;
  BwCrown crown;

  all.shape = shape;
  all.start = start;
  all.n = bw_crown_n_rounds (shape, start);
  if (all.n > SMALL_ROUNDS)
    return;
  all.counts[0] = start / shape->wedges;
  try_all (&all, 0);
  g_assert_cmpuint (all.tried, >, 0);

  g_assert_true (bw_crown_plan (shape, start, &crown, &error));
  g_assert_no_error (error);
  g_assert_cmpuint (crown.n_rounds, ==, all.n);
  for (guint i = 0; i <= all.n; i++)
    g_assert_cmpuint (crown.counts[i], ==, all.best[i] * shape->wedges);
}

static void
test_exhaustive (void)
{
  const double heights[] = { 4.1, 6.25, 9.4, 14.0, 31.0 };
  const BwCrownProfile profiles[] = { BW_CROWN_FLAT, BW_CROWN_ROUND, BW_CROWN_TAPERED,
                                      BW_CROWN_POINTED };

  for (gsize p = 0; p < G_N_ELEMENTS (profiles); p++)
    for (gsize h = 0; h < G_N_ELEMENTS (heights); h++)
      for (guint wedges = 5; wedges <= 9; wedges++)
        for (guint c = 1; c <= 9; c++)
          for (guint most = 0; most <= 2; most++)
            for (guint close_at = 4; close_at <= 22; close_at += 6)
              {
                BwCrownShape shape = { profiles[p], 6.25, heights[h], 0, wedges, close_at, most };

                check_against_all (&shape, c * wedges);
              }
}

/* ---- what every crown must keep ---- */

static void
check_rules (const BwCrownShape *shape,
             guint               start,
             const BwCrown      *crown)
{
  guint last = crown->counts[crown->n_rounds];

  g_assert_cmpuint (crown->n_rounds, >=, 1);
  g_assert_cmpuint (crown->counts[0], ==, start);
  for (guint i = 1; i <= crown->n_rounds; i++)
    {
      guint before = crown->counts[i - 1], after = crown->counts[i];

      g_assert_cmpuint (after, <=, before);
      g_assert_cmpuint (after % shape->wedges, ==, 0);
      g_assert_cmpuint (2 * (before - after), <=, before);
      if (shape->max_per_wedge > 0)
        g_assert_cmpuint (before - after, <=, shape->max_per_wedge * shape->wedges);
    }
  g_assert_cmpuint (last, >=, shape->wedges);
  g_assert_true (may_close (shape, last / shape->wedges));
  for (guint i = 1; i < crown->n_rounds; i++)
    g_assert_false (may_close (shape, crown->counts[i] / shape->wedges));
}

static void
test_rules (void)
{
  guint planned = 0;

  for (guint i = 0; i < 20000; i++)
    {
      BwCrownShape shape = { 0 };
      guint start;
      BwCrown crown;
      g_autoptr (GError) error = NULL;

      shape.profile = (BwCrownProfile) g_test_rand_int_range (BW_CROWN_FLAT, BW_CROWN_OWN);
      shape.stitch_mm = g_test_rand_double_range (2, 20);
      shape.round_mm = g_test_rand_double_range (2, 20);
      shape.wedges = (guint) g_test_rand_int_range (3, 15);
      shape.close_at = (guint) g_test_rand_int_range (0, 30);
      shape.max_per_wedge = (guint) g_test_rand_int_range (0, 4);
      start = shape.wedges * (guint) g_test_rand_int_range (1, 30);

      if (!bw_crown_plan (&shape, start, &crown, &error))
        {
          g_assert_error (error, BW_ERROR, BW_ERROR_TOO_LARGE);
          g_assert_cmpuint (bw_crown_n_rounds (&shape, start), >, BW_CROWN_ROUNDS_MAX);
          continue;
        }
      check_rules (&shape, start, &crown);
      g_assert_cmpuint (crown.n_rounds, ==, bw_crown_n_rounds (&shape, start));
      planned++;
    }
  g_assert_cmpuint (planned, >, 15000);
}

static void
assert_counts (const BwCrownShape *shape,
               const guint        *counts,
               guint               n)
{
  g_autoptr (GError) error = NULL;
  BwCrown crown;

  g_assert_true (bw_crown_plan (shape, counts[0], &crown, &error));
  g_assert_cmpuint (crown.n_rounds, ==, n - 1);
  for (guint i = 0; i < n; i++)
    g_assert_cmpuint (crown.counts[i], ==, counts[i]);
}

static void
test_gathered (void)
{
  const BwCrownShape shape = { BW_CROWN_GATHERED, 6.5, 8.5, 0, 8, 15, 0 };
  const guint counts[] = { 80, 80, 80, 80, 80, 80, 80, 40, 24, 16, 8 };
  const BwCrownShape slow = { BW_CROWN_GATHERED, 6.5, 40.0, 0, 8, 15, 1 };
  const guint one_by_one[] = { 80, 72, 64, 56, 48, 40, 32, 24, 16, 8 };

  assert_counts (&shape, counts, G_N_ELEMENTS (counts));
  assert_counts (&slow, one_by_one, G_N_ELEMENTS (one_by_one));
}

/* A single wedge's worth at the start: nothing to decrease, one round. */
static void
test_smallest (void)
{
  const BwCrownShape shape = { BW_CROWN_ROUND, 6.5, 8.5, 0, 8, 10, 0 };
  const guint counts[] = { 8, 8 };

  assert_counts (&shape, counts, G_N_ELEMENTS (counts));
}

/* Tall rounds leave no time: the rounds become as many as halving needs. */
static void
test_too_few_rounds (void)
{
  const BwCrownShape shape = { BW_CROWN_FLAT, 6.5, 500, 0, 8, 8, 0 };
  const guint counts[] = { 96, 48, 24, 16, 8 };

  g_assert_cmpuint (bw_crown_n_rounds (&shape, 96), ==, 4);
  assert_counts (&shape, counts, G_N_ELEMENTS (counts));
}

static void
test_profiles (void)
{
  BwCrownShape shape = { BW_CROWN_FLAT, 6.0, 7.0, 0, 8, 10, 0 };
  const double radius = 96 * 6.0 / (2 * G_PI);
  const double lengths[] = { radius, radius * G_PI / 2, radius * 1.6, radius * 2.4, radius };
  const double halfway[] = { radius / 2, radius * sqrt (0.5), radius / 2, radius / 2, radius };

  for (guint profile = BW_CROWN_FLAT; profile < BW_CROWN_OWN; profile++)
    {
      double length;

      shape.profile = (BwCrownProfile) profile;
      length = bw_crown_length (&shape, 96);
      g_assert_cmpfloat_with_epsilon (length, lengths[profile], 1e-9);
      g_assert_cmpfloat_with_epsilon (bw_crown_radius (&shape, 96, 0), radius, 1e-9);
      g_assert_cmpfloat_with_epsilon (bw_crown_radius (&shape, 96, length / 2), halfway[profile],
                                      1e-9);
      g_assert_cmpfloat (bw_crown_radius (&shape, 96, length), ==, 0);
      g_assert_cmpfloat (bw_crown_radius (&shape, 96, length + 50), ==, 0);
    }

  shape.profile = BW_CROWN_POINTED;
  shape.length_mm = 333;
  g_assert_cmpfloat (bw_crown_length (&shape, 96), ==, 333);
}

static void
assert_refused (const BwCrownShape *shape,
                guint               start,
                int                 code)
{
  g_autoptr (GError) error = NULL;
  BwCrown crown;

  g_assert_false (bw_crown_plan (shape, start, &crown, &error));
  g_assert_error (error, BW_ERROR, code);
}

static void
test_refused (void)
{
  const BwCrownShape good = { BW_CROWN_ROUND, 6, 7, 0, 8, 10, 0 };
  BwCrownShape bad;

  assert_refused (&good, 90, BW_ERROR_CONFLICT);
  assert_refused (&good, 4, BW_ERROR_RANGE);
  assert_refused (&good, 0, BW_ERROR_RANGE);
  assert_refused (&good, 8 * 256, BW_ERROR_TOO_LARGE);
  assert_refused (&good, G_MAXUINT - 7, BW_ERROR_TOO_LARGE);
  bad = good;
  bad.wedges = 0;
  assert_refused (&bad, 96, BW_ERROR_RANGE);
  bad = good;
  bad.stitch_mm = NAN;
  assert_refused (&bad, 96, BW_ERROR_RANGE);
  bad = good;
  bad.round_mm = INFINITY;
  assert_refused (&bad, 96, BW_ERROR_RANGE);
  bad = good;
  bad.round_mm = 1e-9;
  assert_refused (&bad, 96, BW_ERROR_TOO_LARGE);
  bad = good;
  bad.profile = BW_CROWN_OWN;
  assert_refused (&bad, 96, BW_ERROR_CONFLICT);
}

/* The message names the counts that would do. */
static void
test_refused_says (void)
{
  const BwCrownShape shape = { BW_CROWN_ROUND, 6, 7, 0, 8, 10, 0 };
  g_autoptr (GError) error = NULL;
  BwCrown crown;

  g_assert_false (bw_crown_plan (&shape, 90, &crown, &error));
  g_assert_nonnull (strstr (error->message, "88 or 96"));
}

static void
test_flatness (void)
{
  g_assert_cmpfloat_with_epsilon (bw_crown_flat_rate (5, 5), 2 * G_PI, 1e-12);
  g_assert_cmpfloat_with_epsilon (bw_crown_flatness (6, 5, 5), 6 / (2 * G_PI), 1e-12);
  g_assert_cmpfloat (bw_crown_flatness (0, 5, 5), ==, 0);
}

/* The widest and longest that is allowed is planned in bounds. */
static void
test_largest (void)
{
  const BwCrownShape shape = { BW_CROWN_ROUND, 6, 15.0, 0, 1, 1, 1 };
  const BwCrownShape many = { BW_CROWN_POINTED, 6, 1.45, 0, 6, 8, 0 };
  BwCrown crown;

  g_assert_true (bw_crown_plan (&shape, BW_CROWN_WEDGE_MAX, &crown, NULL));
  check_rules (&shape, BW_CROWN_WEDGE_MAX, &crown);
  g_assert_cmpuint (bw_crown_n_rounds (&many, 252), >, 300);
  g_assert_true (bw_crown_plan (&many, 252, &crown, NULL));
  check_rules (&many, 252, &crown);
}

/* Thirty sizes are planned inside a millisecond that others share; the bound
 * is wide, as the machine may be busy. */
static void
test_speed (void)
{
  const BwCrownShape shape = { BW_CROWN_ROUND, 6.667, 8.7, 0, 8, 15, 0 };
  const guint times = 20000;
  double seconds;
  guint total = 0;
  BwCrown crown;

  if (!g_test_perf ())
    {
      g_test_skip ("a measurement: run with -m perf");
      return;
    }

  g_test_timer_start ();
  for (guint i = 0; i < times; i++)
    {
      g_assert_true (bw_crown_plan (&shape, 96, &crown, NULL));
      total += crown.n_rounds;
    }
  seconds = g_test_timer_elapsed ();
  g_test_minimized_result (seconds / times * 1e6, "us for a crown of 96 in %u rounds: %.2f",
                           total / times, seconds / times * 1e6);
}

/* ---- the closing table ---- */

static void
test_close_table (void)
{
  const char text[] = "[crown-close]\n2=12\n4=16\n5=20\n";
  g_autoptr (GError) error = NULL;
  g_autoptr (GArray) table = bw_crown_close_parse (text, strlen (text), &error);

  g_assert_no_error (error);
  g_assert_cmpuint (table->len, ==, 3);
  g_assert_cmpuint (bw_crown_default_close (table, 25.4 / 1), ==, 12);
  g_assert_cmpuint (bw_crown_default_close (table, 25.4 / 2), ==, 12);
  g_assert_cmpuint (bw_crown_default_close (table, 25.4 / 3), ==, 14);
  g_assert_cmpuint (bw_crown_default_close (table, 25.4 / 4.5), ==, 18);
  g_assert_cmpuint (bw_crown_default_close (table, 25.4 / 9), ==, 20);
}

static void
test_close_table_refused (void)
{
  const struct
  {
    const char *text;
    int         code;
  } cases[] = {
    { "", BW_ERROR_SYNTAX },
    { "[crown-close]\n", BW_ERROR_SYNTAX },
    { "[other]\n2=12\n", BW_ERROR_SYNTAX },
    { "[crown-close]\n2=twelve\n", BW_ERROR_SYNTAX },
    { "[crown-close]\n2=0\n", BW_ERROR_SYNTAX },
    { "[crown-close]\ntwo=12\n", BW_ERROR_SYNTAX },
    { "[crown-close]\nnan=12\n", BW_ERROR_SYNTAX },
    { "[crown-close]\n4=16\n2=12\n", BW_ERROR_CONFLICT },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (GError) error = NULL;

      g_assert_null (bw_crown_close_parse (cases[i].text, strlen (cases[i].text), &error));
      g_assert_error (error, BW_ERROR, cases[i].code);
    }
}

int
main (int   argc,
      char *argv[])
{
  g_test_init (&argc, &argv, NULL);

  g_test_add_func ("/crown/exhaustive", test_exhaustive);
  g_test_add_func ("/crown/rules", test_rules);
  g_test_add_func ("/crown/gathered", test_gathered);
  g_test_add_func ("/crown/smallest", test_smallest);
  g_test_add_func ("/crown/too-few-rounds", test_too_few_rounds);
  g_test_add_func ("/crown/largest", test_largest);
  g_test_add_func ("/crown/profiles", test_profiles);
  g_test_add_func ("/crown/refused", test_refused);
  g_test_add_func ("/crown/refused-says", test_refused_says);
  g_test_add_func ("/crown/flatness", test_flatness);
  g_test_add_func ("/crown/close-table", test_close_table);
  g_test_add_func ("/crown/close-table-refused", test_close_table_refused);
  g_test_add_func ("/crown/speed", test_speed);

  return g_test_run ();
}
