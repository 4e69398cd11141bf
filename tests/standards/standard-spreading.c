#include <glib.h>

#include "../core/expand.h"
#include "bw-spread.h"

/* Even spacing against published patterns and lessons. Beside each case stands
 * where it was read; "worked out" marks what follows from the numbers read.
 * Addresses left out belong to private persons or shops. */

enum
{
  PLAIN,
  TOGETHER,
  MISS,
};

/* One published round: so many stitches, so many changes, what comes out, and
 * the plain stitches it gives between two changes (0 = not given). */
typedef struct
{
  guint       n;
  int         change; /* decreases negative */
  guint       makes;
  guint       shorter;
  guint       longer;
  guint       n_longer;
  const char *source;
} Published;

static GArray *
work (guint         n,
      int           change,
      BwSpreadStart start)
{
  g_autoptr (GArray) items = g_array_new (FALSE, FALSE, sizeof (BwItem));
  g_autoptr (GError) error = NULL;

  g_assert_true (bw_spread_shaping (PLAIN, change > 0 ? PLAIN : TOGETHER, 2, change > 0, n,
                                    (guint) ABS (change), start, items, &error));
  g_assert_no_error (error);
  return expand (items);
}

static gboolean
is_change (const Worked *worked)
{
  return worked->stitch == TOGETHER || worked->kind == BW_ITEM_IN_ONE;
}

static void
check_published (const Published *published,
                 BwSpreadStart    start)
{
  g_autoptr (GArray) worked = work (published->n, published->change, start);
  guint takes = 0, makes = 0, run = 0, first = 0, changes = 0, n_longer = 0;

  for (guint i = 0; i <= worked->len; i++)
    {
      const Worked *one = &g_array_index (worked, Worked, i % worked->len);

      if (i == worked->len)
        run += first; /* the run that goes on over the join */
      else if (!is_change (one))
        {
          run++;
          takes++;
          makes++;
          continue;
        }
      else
        {
          takes += one->stitch == TOGETHER ? 2 : 1;
          makes += one->stitch == TOGETHER ? 1 : 2;
          if (changes++ == 0)
            {
              first = run;
              run = 0;
              continue;
            }
        }
      if (published->longer > 0)
        g_assert_true (run == published->shorter || run == published->longer);
      n_longer += run == published->longer;
      run = 0;
    }

  g_assert_cmpuint (takes, ==, published->n);
  g_assert_cmpuint (makes, ==, published->makes);
  g_assert_cmpuint (changes, ==, (guint) ABS (published->change));
  if (published->longer > 0)
    g_assert_cmpuint (n_longer, ==, published->n_longer);
}

static void
test_published_rounds (void)
{
  const char *beanie = "Children's beanie, five sizes, portacraft.com.au/beanie-crochet-pattern";
  const char *lesson = "Calculating decreases in crochet, "
                       "ibrakeforyarnhooksandbooks.blogspot.com/2008/02/";
  const char *circle = "Perfect circle in the round, 2014 (open text data set)";
  const char *offset = "blog on offset shaping, 2012 (address withheld)";
  const char *evenly = "Evenly spaced increases and decreases, "
                       "wilmade.com/calculate-evenly-spaced-increases-decreases/ "
                       "(counts read, grouping worked out)";
  const char *forum = "knitting forum, 160 stitches (address withheld)";
  const char *toddler = "How to dec evenly, forum.knittinghelp.com/t/how-to-dec-evenly/78294";
  const char *gracefully = "Decreasing Gracefully, 2012 (open text data set; worked flat, so "
                           "only the counts)";
  const char *maze = "hat in two sizes, knitty.com/ISSUEsummer06/PATTmaze.html";
  const char *bottom_up = "two-size bottom-up hat, 2011, dmaslittlethings.blogspot.com/2011/09/ "
                          "(edge stitches apart, so only the counts)";
  const char *brim_first = "brim-first hat, 84 sts, cookiesnobcrochet.com/home/3-ml-beanie";
  const char *where = "Where to place the increases, "
                      "woolpackyarn.com/calculating-where-to-place-the-increases.html";
  const Published published[] = {
    { 64, 4, 68, 15, 15, 4, beanie },
    { 64, 8, 72, 7, 7, 8, beanie },
    { 72, 4, 76, 17, 17, 4, beanie },
    { 72, 6, 78, 11, 11, 6, beanie },
    { 42, -6, 36, 5, 5, 6, lesson },
    { 30, 6, 36, 4, 4, 6, circle },
    { 24, -3, 21, 6, 6, 3, offset },
    { 24, 3, 27, 7, 7, 3, offset },
    { 186, -8, 178, 21, 22, 2, evenly },
    { 160, -10, 150, 14, 14, 10, forum },
    { 160, -16, 144, 8, 8, 16, forum },
    { 115, -7, 108, 0, 0, 0, toddler },
    { 115, -5, 110, 0, 0, 0, toddler },
    { 108, -9, 99, 10, 10, 9, toddler },
    { 110, -11, 99, 8, 8, 11, toddler },
    { 110, -10, 100, 9, 9, 10, toddler },
    { 82, -14, 68, 0, 0, 0, gracefully },
    { 106, 20, 126, 0, 0, 0, maze },
    { 112, 28, 140, 3, 3, 28, maze },
    { 112, -20, 92, 0, 0, 0, bottom_up },
    { 118, -20, 98, 0, 0, 0, bottom_up },
    { 47, -15, 32, 0, 0, 0, bottom_up },
    { 50, -16, 34, 0, 0, 0, bottom_up },
    { 84, -42, 42, 0, 0, 0, brim_first },
    { 51, 4, 55, 11, 12, 3, where },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (published); i++)
    {
      g_test_message ("%u, change by %d: %s", published[i].n, published[i].change,
                      published[i].source);
      check_published (&published[i], BW_SPREAD_FROM_START);
      check_published (&published[i], BW_SPREAD_CENTRED);
    }
}

/* Stitches taken up to and with each change. */
static void
assert_places (guint          n,
               int            change,
               BwSpreadStart  start,
               const guint   *places,
               guint          n_places)
{
  g_autoptr (GArray) worked = work (n, change, start);
  guint taken = 0, at = 0;

  for (guint i = 0; i < worked->len; i++)
    {
      const Worked *one = &g_array_index (worked, Worked, i);

      taken += one->stitch == TOGETHER ? 2 : 1;
      if (is_change (one))
        {
          g_assert_cmpuint (at, <, n_places);
          g_assert_cmpuint (taken, ==, places[at]);
          at++;
        }
    }
  g_assert_cmpuint (at, ==, n_places);
}

/* "Where to place the increases",
 * woolpackyarn.com/calculating-where-to-place-the-increases.html: 51 stitches,
 * 4 increases, in the round at 13, 26, 39 and 51. Worked flat the page has 6,
 * 19, 32 and 45: ours are those counted from the other end (worked out). */
static void
test_places_of_increases (void)
{
  const guint round[] = { 13, 26, 39, 51 };
  const guint flat[] = { 52 - 45, 52 - 32, 52 - 19, 52 - 6 };

  assert_places (51, 4, BW_SPREAD_FROM_START, round, G_N_ELEMENTS (round));
  assert_places (51, 4, BW_SPREAD_CENTRED, flat, G_N_ELEMENTS (flat));
}

/* "Perfect circle in the round", 2014 (open text data set): a round shifted by
 * half a segment, "2 sc, inc, (4 sc, inc) 5 times, 2 sc". */
static void
test_half_a_segment (void)
{
  const guint places[] = { 3, 8, 13, 18, 23, 28 };

  assert_places (30, 6, BW_SPREAD_CENTRED, places, G_N_ELEMENTS (places));
}

/* Blog on offset shaping, 2012 (address withheld): 24 stitches, increase 3 from
 * an offset start, "(4 sc, inc, 3 sc) 3 times". */
static void
test_offset_start (void)
{
  const guint places[] = { 5, 13, 21 };

  assert_places (24, 3, BW_SPREAD_CENTRED, places, G_N_ELEMENTS (places));
}

/* "Math Monday: decreasing across a row/round",
 * papermoonknits.com/musings/math-monday-decreasing-across-a-rowround: "every
 * 4th stitch" means that the decrease lands on stitch 4, 2 plain before it. */
static void
test_every_fourth (void)
{
  const guint places[] = { 4, 8, 12, 16, 20, 24 };

  assert_places (24, -6, BW_SPREAD_FROM_START, places, G_N_ELEMENTS (places));
}

/* The published procedure, "Calculating decreases in crochet",
 * fibreandfabrics.wordpress.com/2014/10/31/: interval = M / N rounded down,
 * interval - 2 plain stitches before each decrease, and as many repeats with
 * one plain stitch more as the division leaves over. */
static void
test_procedure (void)
{
  for (guint n = 4; n <= 160; n++)
    for (guint a = 1; 2 * a <= n; a++)
      {
        guint interval = n / a;
        Published published = { n, -(int) a, n - a, interval - 2, interval - 1, n % a, "" };

        check_published (&published, BW_SPREAD_FROM_START);
      }
}

/* Knitting forum (address withheld): 90 stitches in four sections are 22, 23,
 * 22, 23. "Increase at several points in the same row", dummies.com: four
 * increases in 40 stitches leave five sections of 8, and make 44. */
static void
test_sections (void)
{
  const guint quarters[] = { 22, 23, 22, 23 };

  for (guint i = 0; i < 4; i++)
    g_assert_cmpuint (bw_spread_part (90, 4, i), ==, quarters[i]);
  for (guint i = 0; i < 5; i++)
    g_assert_cmpuint (bw_spread_part (40, 5, i), ==, 8);
}

/* "How to evenly crochet across ribbing" (address withheld): 114 stitches over
 * 86 rows of rib are 28 increases, one every 3.07 rows. */
static void
test_across_ribbing (void)
{
  g_autoptr (GArray) items = g_array_new (FALSE, FALSE, sizeof (BwItem));
  g_autoptr (GArray) worked = NULL;
  guint twice = 0, last = 0;

  g_assert_true (bw_spread_pick_up (PLAIN, MISS, 86, 114, items, NULL));
  worked = expand (items);
  g_assert_cmpuint (worked->len, ==, 86);
  for (guint i = 0; i < worked->len; i++)
    {
      const Worked *one = &g_array_index (worked, Worked, i);

      g_assert_cmpuint (one->stitch, ==, PLAIN);
      if (one->kind != BW_ITEM_IN_ONE)
        continue;
      g_assert_cmpuint (one->count, ==, 2);
      g_assert_cmpuint (i + 1 - last, >=, 3);
      g_assert_cmpuint (i + 1 - last, <=, 4);
      last = i + 1;
      twice++;
    }
  g_assert_cmpuint (twice, ==, 28);
}

/* "Picot edging", blog of 2009 (address withheld): one sc (UK dc) in each row
 * end of sc. */
static void
test_one_in_each (void)
{
  g_autoptr (GArray) items = g_array_new (FALSE, FALSE, sizeof (BwItem));

  g_assert_true (bw_spread_pick_up (PLAIN, MISS, 76, 76, items, NULL));
  g_assert_cmpuint (items->len, ==, 1);
  g_assert_cmpuint (g_array_index (items, BwItem, 0).count, ==, 76);
}

/* An invented family of five sizes, worked out by hand: the brims' rows and the
 * bodies' stitches give 0.604, 0.643, 0.600, 0.635 and 0.606 a row end. */
static void
test_family_of_five (void)
{
  const guint rows[] = { 106, 112, 120, 126, 132 };
  const guint stitches[] = { 64, 72, 72, 80, 80 };

  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      g_autoptr (GArray) items = g_array_new (FALSE, FALSE, sizeof (BwItem));
      g_autoptr (GArray) worked = NULL;
      guint made = 0;

      g_assert_true (bw_spread_pick_up (PLAIN, MISS, rows[i], stitches[i], items, NULL));
      worked = expand (items);
      for (guint j = 0; j < worked->len; j++)
        {
          gboolean missed = g_array_index (worked, Worked, j).stitch == MISS;

          g_assert_false (missed && j > 0
                          && g_array_index (worked, Worked, j - 1).stitch == MISS);
          made += missed ? 0 : 1;
        }
      g_assert_cmpuint (worked->len, ==, rows[i]);
      g_assert_cmpuint (made, ==, stitches[i]);
    }
}

int
main (int   argc,
      char *argv[])
{
  g_test_init (&argc, &argv, NULL);

  g_test_add_func ("/standard/spreading/published-rounds", test_published_rounds);
  g_test_add_func ("/standard/spreading/places-of-increases", test_places_of_increases);
  g_test_add_func ("/standard/spreading/half-a-segment", test_half_a_segment);
  g_test_add_func ("/standard/spreading/offset-start", test_offset_start);
  g_test_add_func ("/standard/spreading/every-fourth", test_every_fourth);
  g_test_add_func ("/standard/spreading/procedure", test_procedure);
  g_test_add_func ("/standard/spreading/sections", test_sections);
  g_test_add_func ("/standard/spreading/across-ribbing", test_across_ribbing);
  g_test_add_func ("/standard/spreading/one-in-each", test_one_in_each);
  g_test_add_func ("/standard/spreading/family-of-five", test_family_of_five);

  return g_test_run ();
}
