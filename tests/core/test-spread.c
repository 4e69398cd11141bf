#include <glib.h>
#include <string.h>

#include "bw-error.h"
#include "bw-spread.h"
#include "expand.h"

#define N_MAX 200

enum
{
  PLAIN,
  SHAPING,
  MISS,
};

/* Runs of plain stitches between marks, the one over the join counted once. */
typedef struct
{
  guint run[2 * N_MAX];
  guint n;
  guint takes;
  guint makes;
} Runs;

static gboolean
is_mark (const Worked *worked)
{
  return worked->stitch != PLAIN || worked->kind == BW_ITEM_IN_ONE;
}

static void
count_runs (const GArray *worked,
            guint         mark_takes,
            guint         mark_makes,
            Runs         *runs)
{
  guint run = 0;

  memset (runs, 0, sizeof *runs);
  for (guint i = 0; i < worked->len; i++)
    {
      const Worked *one = &g_array_index (worked, Worked, i);

      if (is_mark (one))
        {
          runs->run[runs->n++] = run;
          run = 0;
        }
      else
        run++;
      runs->takes += is_mark (one) ? mark_takes : 1;
      runs->makes += is_mark (one) ? mark_makes : 1;
    }
  if (runs->n > 0)
    runs->run[0] += run;
}

/* The line itself, by the error-accumulating steps of the plotter. */
static void
plotter_line (guint  n,
              guint  parts,
              guint *part)
{
  guint error = 0;

  for (guint i = 0; i < parts; i++)
    {
      part[i] = n / parts;
      error += n % parts;
      if (error >= parts)
        {
          part[i]++;
          error -= parts;
        }
    }
}

static gboolean
same_but_turned (const guint *a,
                 const guint *b,
                 guint        n)
{
  for (guint shift = 0; shift < n; shift++)
    {
      guint i;

      for (i = 0; i < n && a[(i + shift) % n] == b[i]; i++)
        ;
      if (i == n)
        return TRUE;
    }
  return FALSE;
}

/* How far any mark stands from its place on the exact line, in stitches, when
 * the whole is turned to fit best: half the spread of the differences. */
static double
uneven (const Runs *runs)
{
  double lowest = 0, highest = 0;
  guint sum = 0, plain = 0;

  for (guint i = 0; i < runs->n; i++)
    plain += runs->run[i];
  for (guint i = 0; i < runs->n; i++)
    {
      double off;

      sum += runs->run[i];
      off = sum - (double) plain * (i + 1) / runs->n;
      lowest = MIN (lowest, off);
      highest = MAX (highest, off);
    }
  return (highest - lowest) / 2;
}

/* The rarer length of run stands evenly among the others. */
static void
check_rare_runs (const Runs *runs,
                 guint       shortest)
{
  guint n_long = 0, rare, first = G_MAXUINT, last = 0, fewest = G_MAXUINT, most = 0;

  for (guint i = 0; i < runs->n; i++)
    n_long += runs->run[i] - shortest;
  if (n_long == 0)
    return;

  rare = 2 * n_long <= runs->n ? shortest + 1 : shortest;
  for (guint i = 0; i < 2 * runs->n; i++)
    {
      if (runs->run[i % runs->n] != rare)
        continue;
      if (first == G_MAXUINT)
        first = i;
      else
        {
          fewest = MIN (fewest, i - last);
          most = MAX (most, i - last);
        }
      last = i;
    }
  g_assert_cmpuint (most - fewest, <=, 1);
}

static void
check_runs (const Runs *runs)
{
  guint shortest = G_MAXUINT, longest = 0;

  for (guint i = 0; i < runs->n; i++)
    {
      shortest = MIN (shortest, runs->run[i]);
      longest = MAX (longest, runs->run[i]);
    }
  g_assert_cmpuint (longest - shortest, <=, 1);
  check_rare_runs (runs, shortest);
}

/* What came out, by the number of marks. */
typedef struct
{
  guint  cases;
  guint  exact[N_MAX + 1];     /* on the plotter's line, turned */
  guint  inexact[N_MAX + 1];
  double uneven[N_MAX + 1];
} Tally;

static void
check_one (guint          takes,
           gboolean       increase,
           guint          n,
           guint          a,
           BwSpreadStart  start,
           Tally         *tally)
{
  g_autoptr (GArray) items = g_array_new (FALSE, FALSE, sizeof (BwItem));
  g_autoptr (GArray) worked = NULL;
  g_autoptr (GError) error = NULL;
  guint line[N_MAX];
  guint plain = n - a * takes;
  Runs runs;

  g_assert_true (bw_spread_shaping (PLAIN, increase ? PLAIN : SHAPING, takes, increase, n, a,
                                    start, items, &error));
  g_assert_no_error (error);
  g_assert_cmpuint (items->len, <=, BW_SPREAD_ITEMS_MAX);
  worked = expand (items);
  count_runs (worked, takes, increase ? 2 : 1, &runs);

  g_assert_cmpuint (runs.takes, ==, n);
  g_assert_cmpuint (runs.makes, ==, increase ? n + a : n - a * (takes - 1));
  g_assert_cmpuint (runs.n, ==, a);
  check_runs (&runs);
  g_assert_true (plain == 0 || !is_mark (&g_array_index (worked, Worked, 0)));
  if (start == BW_SPREAD_FROM_START)
    g_assert_true (is_mark (&g_array_index (worked, Worked, worked->len - 1)));
  else if (plain / a >= 2)
    g_assert_false (is_mark (&g_array_index (worked, Worked, worked->len - 1)));

  plotter_line (plain, a, line);
  tally->cases++;
  if (same_but_turned (runs.run, line, a))
    tally->exact[a]++;
  else
    tally->inexact[a]++;
  tally->uneven[a] = MAX (tally->uneven[a], uneven (&runs));
}

/* Every count up to 200 with every number of decreases or increases. */
static void
check_all (guint    takes,
           gboolean increase)
{
  Tally tally = { 0 };

  for (guint n = 1; n <= N_MAX; n++)
    for (guint a = 1; a * takes <= n; a++)
      {
        check_one (takes, increase, n, a, BW_SPREAD_FROM_START, &tally);
        check_one (takes, increase, n, a, BW_SPREAD_CENTRED, &tally);
      }

  g_assert_cmpuint (tally.cases, >, 10000);
  for (guint a = 1; a <= N_MAX; a++)
    {
      if (a <= 10)
        g_assert_cmpuint (tally.inexact[a], ==, 0);
      g_assert_cmpfloat (tally.uneven[a], <, a <= 30 ? 1.0 : 3.25);
    }
}

static void
test_decreases (void)
{
  check_all (2, FALSE);
  check_all (3, FALSE);
}

static void
test_increases (void)
{
  check_all (1, TRUE);
}

/* A short form for comparing: "[4p s]9" as far as these tests need it. */
static void
write_items (const BwItem *items,
             gsize         n_items,
             GString      *text)
{
  for (gsize i = 0; i < n_items; i += 1 + items[i].span)
    {
      const BwItem *item = &items[i];

      if (text->len > 0 && text->str[text->len - 1] != '[')
        g_string_append_c (text, ' ');
      if (item->kind == BW_ITEM_REPEAT)
        {
          g_string_append_c (text, '[');
          write_items (item + 1, item->span, text);
          g_string_append_printf (text, "]%u", item->count);
        }
      else if (item->kind == BW_ITEM_IN_ONE)
        g_string_append_printf (text, "i%u", item->count);
      else
        g_string_append_printf (text, "%u%c", item->count, "psm"[item->stitch]);
    }
}

static void
assert_shaping (guint          takes,
                gboolean       increase,
                guint          n,
                guint          a,
                BwSpreadStart  start,
                const char    *expected)
{
  g_autoptr (GArray) items = g_array_new (FALSE, FALSE, sizeof (BwItem));
  g_autoptr (GString) text = g_string_new (NULL);
  g_autoptr (GError) error = NULL;

  g_assert_true (bw_spread_shaping (PLAIN, increase ? PLAIN : SHAPING, takes, increase, n, a,
                                    start, items, &error));
  write_items ((const BwItem *) (const void *) items->data, items->len, text);
  g_assert_cmpstr (text->str, ==, expected);
}

static void
assert_pick_up (guint       row_ends,
                guint       stitches,
                const char *expected)
{
  g_autoptr (GArray) items = g_array_new (FALSE, FALSE, sizeof (BwItem));
  g_autoptr (GString) text = g_string_new (NULL);
  g_autoptr (GError) error = NULL;

  g_assert_true (bw_spread_pick_up (PLAIN, MISS, row_ends, stitches, items, &error));
  write_items ((const BwItem *) (const void *) items->data, items->len, text);
  g_assert_cmpstr (text->str, ==, expected);
}

static void
test_shortest_form (void)
{
  assert_shaping (2, FALSE, 54, 9, BW_SPREAD_FROM_START, "[4p 1s]9");
  assert_shaping (2, FALSE, 54, 9, BW_SPREAD_CENTRED, "[2p 1s 2p]9");
  assert_shaping (2, FALSE, 28, 14, BW_SPREAD_FROM_START, "[1s]14");
  assert_shaping (2, FALSE, 28, 14, BW_SPREAD_CENTRED, "[1s]14");
  assert_shaping (2, FALSE, 10, 1, BW_SPREAD_FROM_START, "8p 1s");
  assert_shaping (2, FALSE, 10, 1, BW_SPREAD_CENTRED, "4p 1s 4p");
  assert_shaping (3, FALSE, 60, 6, BW_SPREAD_CENTRED, "[4p 1s 3p]6");
  assert_shaping (2, FALSE, 10, 0, BW_SPREAD_CENTRED, "10p");
  assert_shaping (2, FALSE, 186, 8, BW_SPREAD_FROM_START, "[22p 1s [21p 1s]3]2");
  assert_shaping (2, FALSE, 186, 8, BW_SPREAD_CENTRED, "[11p 1s [21p 1s]3 11p]2");
  assert_shaping (2, FALSE, 72, 7, BW_SPREAD_CENTRED, "5p 1s [8p 1s]3 9p 1s [8p 1s]2 4p");
  assert_shaping (2, FALSE, 23, 10, BW_SPREAD_FROM_START, "1p 1s [1s]3 [1p 1s [1s]2]2");
  assert_shaping (2, FALSE, 76, 4, BW_SPREAD_FROM_START, "[17p 1s]4");
  assert_shaping (1, TRUE, 64, 8, BW_SPREAD_FROM_START, "[7p i2]8");
  assert_shaping (1, TRUE, 6, 6, BW_SPREAD_FROM_START, "[i2]6");
}

static void
test_pick_up_form (void)
{
  assert_pick_up (80, 80, "80p");
  assert_pick_up (80, 40, "[1p 1m]40");
  assert_pick_up (100, 60, "[2p 1m 1p 1m]20");
  assert_pick_up (80, 160, "[i2]80");
  assert_pick_up (80, 100, "[3p i2]20");
  assert_pick_up (90, 30, "[1p 2m]30");
  assert_pick_up (106, 64, "[[2p 1m]2 1p 1m [2p 1m 1p 1m]9]2");
}

/* Longest run of missed row ends, also across the join of the ring. */
static guint
most_missed (const GArray *worked)
{
  guint run = 0, most = 0;

  for (guint i = 0; i < 2 * worked->len; i++)
    {
      run = g_array_index (worked, Worked, i % worked->len).stitch == MISS ? run + 1 : 0;
      most = MAX (most, run);
    }
  return most;
}

static void
check_pick_up (guint row_ends,
               guint stitches)
{
  g_autoptr (GArray) items = g_array_new (FALSE, FALSE, sizeof (BwItem));
  g_autoptr (GArray) worked = NULL;
  g_autoptr (GError) error = NULL;
  guint made = 0;

  if (!bw_spread_pick_up (PLAIN, MISS, row_ends, stitches, items, &error))
    {
      g_assert_error (error, BW_ERROR, BW_ERROR_CONFLICT);
      g_assert_cmpuint (items->len, ==, 0);
      g_assert_true (stitches > 2 * row_ends || 3 * stitches < row_ends || stitches == 0);
      return;
    }

  g_assert_cmpuint (items->len, <=, BW_SPREAD_ITEMS_MAX);
  worked = expand (items);
  g_assert_cmpuint (worked->len, ==, row_ends);
  for (guint i = 0; i < worked->len; i++)
    {
      const Worked *one = &g_array_index (worked, Worked, i);

      g_assert_cmpuint (one->place, ==, BW_PLACE_ROW_END);
      g_assert_cmpuint (one->count, <=, 2);
      made += one->stitch == MISS ? 0 : one->count;
    }
  g_assert_cmpuint (made, ==, stitches);
  g_assert_cmpuint (most_missed (worked), <=, 2);
  g_assert_cmpuint (g_array_index (worked, Worked, 0).stitch, ==, PLAIN);
}

static void
test_pick_up_all (void)
{
  for (guint row_ends = 1; row_ends <= N_MAX; row_ends++)
    for (guint stitches = 0; stitches <= 2 * row_ends + 1; stitches++)
      check_pick_up (row_ends, stitches);
}

/* However far along the edge, the stitches made are in step with the row ends. */
static void
test_pick_up_even (void)
{
  for (guint row_ends = 90; row_ends <= 140; row_ends++)
    for (guint stitches = 60; stitches <= 120; stitches++)
      {
        g_autoptr (GArray) items = g_array_new (FALSE, FALSE, sizeof (BwItem));
        g_autoptr (GArray) worked = NULL;
        double made = 0, lowest = 0, highest = 0;

        g_assert_true (bw_spread_pick_up (PLAIN, MISS, row_ends, stitches, items, NULL));
        worked = expand (items);
        for (guint i = 0; i < worked->len; i++)
          {
            const Worked *one = &g_array_index (worked, Worked, i);
            double off;

            made += one->stitch == MISS ? 0 : one->count;
            off = made - (double) stitches * (i + 1) / row_ends;
            lowest = MIN (lowest, off);
            highest = MAX (highest, off);
          }
        g_assert_cmpfloat (highest - lowest, <, 2.5);
      }
}

static void
test_part (void)
{
  for (guint n = 0; n <= N_MAX; n++)
    for (guint parts = 1; parts <= 20; parts++)
      {
        guint sum = 0;

        for (guint i = 0; i < parts; i++)
          {
            guint part = bw_spread_part (n, parts, i);

            g_assert_cmpuint (part - n / parts, <=, 1);
            sum += part;
          }
        g_assert_cmpuint (sum, ==, n);
      }
  g_assert_cmpuint (bw_spread_part (G_MAXUINT, 2, 1), ==, G_MAXUINT / 2 + 1);
}

static void
test_refused (void)
{
  g_autoptr (GArray) items = g_array_new (FALSE, FALSE, sizeof (BwItem));
  const struct
  {
    guint    takes;
    gboolean increase;
    guint    n;
    guint    a;
    int      code;
  } cases[] = {
    { 2, FALSE, 21, 11, BW_ERROR_CONFLICT },
    { 3, FALSE, 21, 8, BW_ERROR_CONFLICT },
    { 1, TRUE, 21, 22, BW_ERROR_CONFLICT },
    { 2, FALSE, 0, 0, BW_ERROR_RANGE },
    { 2, FALSE, BW_ITEM_COUNT_MAX + 1, 1, BW_ERROR_TOO_LARGE },
    { 2, FALSE, 10, G_MAXUINT, BW_ERROR_CONFLICT },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (GError) error = NULL;

      g_assert_false (bw_spread_shaping (PLAIN, SHAPING, cases[i].takes, cases[i].increase,
                                         cases[i].n, cases[i].a, BW_SPREAD_FROM_START, items,
                                         &error));
      g_assert_error (error, BW_ERROR, cases[i].code);
      g_assert_cmpuint (items->len, ==, 0);
    }
}

static void
test_pick_up_refused (void)
{
  g_autoptr (GArray) items = g_array_new (FALSE, FALSE, sizeof (BwItem));
  g_autoptr (GError) many = NULL;
  g_autoptr (GError) few = NULL;
  g_autoptr (GError) none = NULL;

  g_assert_false (bw_spread_pick_up (PLAIN, MISS, 40, 81, items, &many));
  g_assert_error (many, BW_ERROR, BW_ERROR_CONFLICT);
  g_assert_nonnull (strstr (many->message, "at most 80"));

  g_assert_false (bw_spread_pick_up (PLAIN, MISS, 100, 33, items, &few));
  g_assert_error (few, BW_ERROR, BW_ERROR_CONFLICT);
  g_assert_nonnull (strstr (few->message, "at least 34"));

  g_assert_false (bw_spread_pick_up (PLAIN, MISS, 0, 10, items, &none));
  g_assert_error (none, BW_ERROR, BW_ERROR_RANGE);
  g_assert_cmpuint (items->len, ==, 0);
}

/* With the real stitches the items measure what they should. */
static void
test_measured (void)
{
  g_autofree char *path = g_test_build_filename (G_TEST_DIST, "..", "data", "reference",
                                                 "stitches.ini", NULL);
  g_autofree char *text = NULL;
  g_autoptr (BwStitchDictionary) stitches = NULL;
  g_autoptr (GArray) items = g_array_new (FALSE, FALSE, sizeof (BwItem));
  BwStitchIndex low, together, three, miss;
  gsize length;
  guint64 takes, makes;

  g_assert_true (g_file_get_contents (path, &text, &length, NULL));
  stitches = bw_stitch_dictionary_parse (text, length, NULL);
  g_assert_nonnull (stitches);
  low = bw_stitch_find (stitches, "low");
  together = bw_stitch_together (stitches, low, 2);
  three = bw_stitch_together (stitches, low, 3);
  miss = bw_stitch_find (stitches, "miss");

  for (guint n = 60; n <= 120; n++)
    for (guint a = 0; a <= 60; a++)
      {
        const BwSpreadStart start = a % 2 == 0 ? BW_SPREAD_CENTRED : BW_SPREAD_FROM_START;

        g_array_set_size (items, 0);
        g_assert_true (bw_spread_shaping (low, low, 1, TRUE, n, a, start, items, NULL));
        g_assert_true (bw_items_measure (stitches, (BwItem *) (void *) items->data, items->len,
                                         &takes, &makes));
        g_assert_cmpuint (takes, ==, n);
        g_assert_cmpuint (makes, ==, n + a);

        g_array_set_size (items, 0);
        if (bw_spread_shaping (low, a % 3 == 0 ? three : together, a % 3 == 0 ? 3 : 2, FALSE, n, a,
                               start, items, NULL))
          {
            g_assert_true (bw_items_measure (stitches, (BwItem *) (void *) items->data, items->len,
                                             &takes, &makes));
            g_assert_cmpuint (takes, ==, n);
            g_assert_cmpuint (makes, ==, n - a * (a % 3 == 0 ? 2 : 1));
          }

        g_array_set_size (items, 0);
        g_assert_true (bw_spread_pick_up (low, miss, n, 60 + a, items, NULL));
        g_assert_true (bw_items_measure (stitches, (BwItem *) (void *) items->data, items->len,
                                         &takes, &makes));
        g_assert_cmpuint (takes, ==, n);
        g_assert_cmpuint (makes, ==, 60 + a);
      }
}

int
main (int   argc,
      char *argv[])
{
  g_test_init (&argc, &argv, NULL);

  g_test_add_func ("/spread/decreases", test_decreases);
  g_test_add_func ("/spread/increases", test_increases);
  g_test_add_func ("/spread/measured", test_measured);
  g_test_add_func ("/spread/part", test_part);
  g_test_add_func ("/spread/pick-up/all", test_pick_up_all);
  g_test_add_func ("/spread/pick-up/even", test_pick_up_even);
  g_test_add_func ("/spread/pick-up/form", test_pick_up_form);
  g_test_add_func ("/spread/pick-up/refused", test_pick_up_refused);
  g_test_add_func ("/spread/refused", test_refused);
  g_test_add_func ("/spread/shortest-form", test_shortest_form);

  return g_test_run ();
}
