#include <glib.h>
#include <string.h>

#include "bw-stripe.h"

#define ROUNDS_MAX 60

static void
test_colour_at (void)
{
  const BwStripeStep steps[] = { { 0, 2 }, { 1, 1 }, { 2, 3 } };
  const guint8 colours[] = { 0, 0, 1, 2, 2, 2, 0, 0, 1, 2, 2, 2, 0 };

  g_assert_cmpuint (bw_stripe_period (steps, 3), ==, 6);
  for (guint i = 0; i < G_N_ELEMENTS (colours); i++)
    g_assert_cmpuint (bw_stripe_colour_at (steps, 3, i), ==, colours[i]);
  g_assert_cmpuint (bw_stripe_colour_at (steps, 3, 6 * 1000 + 2), ==, 1);

  g_assert_cmpuint (bw_stripe_period (NULL, 0), ==, 0);
  g_assert_cmpuint (bw_stripe_colour_at (NULL, 0, 7), ==, 0);
}

/* Rounds by their letters, 8.7 mm high each. */
static gsize
lay (const char    *letters,
     BwStripeRound *rounds)
{
  gsize n = strlen (letters);

  g_assert_cmpuint (n, <=, ROUNDS_MAX);
  memset (rounds, 0, n * sizeof *rounds);
  for (gsize i = 0; i < n; i++)
    {
      rounds[i].colour = (guint8) (letters[i] - 'A');
      rounds[i].height_mm = 8.7;
    }
  return n;
}

/* Expected, a letter a round: w works on, c carried, x cut; capital: the colour
 * is joined in for this round. */
static void
assert_plan (const char *letters,
             guint       carry_rounds,
             double      carry_mm,
             const char *expected,
             guint       ends)
{
  BwStripeRound rounds[ROUNDS_MAX];
  gsize n = lay (letters, rounds);
  g_autoptr (GString) text = g_string_new (NULL);
  BwStripePlan plan;

  bw_stripe_plan (rounds, n, carry_rounds, carry_mm, 150, &plan);
  for (gsize i = 0; i < n; i++)
    g_string_append_c (text, (rounds[i].joins_in ? "WCX" : "wcx")[rounds[i].after]);
  g_assert_cmpstr (text->str, ==, expected);
  g_assert_cmpuint (plan.ends, ==, ends);
}

static void
test_carry_or_cut (void)
{
  assert_plan ("AAAA", 4, 25, "Wwwx", 2);
  assert_plan ("A", 4, 25, "X", 2);
  assert_plan ("AABBAABB", 4, 25, "WcWcwxwx", 4);
  /* three rounds of 8.7 mm are 26.1 mm: too high to carry at 25 */
  assert_plan ("ABBBA", 4, 25, "XWwxX", 6);
  assert_plan ("ABBBA", 4, 26.2, "CWwxx", 4);
  assert_plan ("ABBBA", 2, 100, "XWwxX", 6);
  assert_plan ("ABBBA", 3, 100, "CWwxx", 4);
  /* never carried at all */
  assert_plan ("AABB", 0, 25, "WxWx", 4);
  assert_plan ("ABAB", 0, 25, "XXXX", 8);
  assert_plan ("ABAB", 4, 0, "XXXX", 8);
  /* three colours, each waits for two others */
  assert_plan ("ABCABC", 4, 25, "CCCxxx", 6);
}

static void
test_yarn (void)
{
  BwStripeRound rounds[ROUNDS_MAX];
  gsize n = lay ("AABBAABBAA", rounds);
  BwStripePlan plan;

  bw_stripe_plan (rounds, n, 4, 25, 150, &plan);
  g_assert_cmpuint (plan.ends, ==, 4);
  g_assert_cmpfloat_with_epsilon (plan.tail_m[0], 0.3, 1e-12);
  g_assert_cmpfloat_with_epsilon (plan.tail_m[1], 0.3, 1e-12);
  g_assert_cmpfloat (plan.tail_m[2], ==, 0);
  g_assert_cmpfloat_with_epsilon (plan.carried_m[0], 2 * 2 * 0.0087 * 1.15, 1e-12);
  g_assert_cmpfloat_with_epsilon (plan.carried_m[1], 2 * 0.0087 * 1.15, 1e-12);
}

/* Two rounds' height times about 1.15: 1.7 cm would be the bare height, 2.0 cm
 * with slack, at 11.5 rounds to 10 cm. Worked out from plain geometry; the
 * gauge is invented. */
static void
test_carry_is_cheap (void)
{
  BwStripeRound rounds[ROUNDS_MAX];
  gsize n = lay ("ABBA", rounds);
  BwStripePlan plan;

  for (gsize i = 0; i < n; i++)
    rounds[i].height_mm = 100 / 11.5;
  bw_stripe_plan (rounds, n, 4, 25, 150, &plan);
  g_assert_cmpfloat_with_epsilon (plan.carried_m[0], 0.020, 0.0001);
}

/* By the words of the rule, looking forward from every round. */
static BwYarnEnd
slow_end (const BwStripeRound *rounds,
          gsize                n,
          gsize                at,
          guint                carry_rounds,
          double               carry_mm)
{
  double height = 0;

  if (at + 1 < n && rounds[at + 1].colour == rounds[at].colour)
    return BW_YARN_WORKING;
  for (gsize i = at + 1; i < n; i++)
    {
      if (rounds[i].colour == rounds[at].colour)
        return i - at - 1 <= carry_rounds && height < carry_mm ? BW_YARN_CARRIED : BW_YARN_CUT;
      height += rounds[i].height_mm;
    }
  return BW_YARN_CUT;
}

static void
check_random (void)
{
  BwStripeRound rounds[ROUNDS_MAX];
  gsize n = (gsize) g_test_rand_int_range (0, ROUNDS_MAX + 1);
  guint carry_rounds = (guint) g_test_rand_int_range (0, 7);
  double carry_mm = g_test_rand_int_range (0, 40);
  guint joined = 0, cut = 0;
  double tails = 0;
  BwStripePlan plan;

  for (gsize i = 0; i < n; i++)
    {
      rounds[i].colour = (guint8) g_test_rand_int_range (0, 4);
      /* in quarters, so that sums are exact whichever way they are added */
      rounds[i].height_mm = g_test_rand_int_range (16, 60) / 4.0;
    }

  bw_stripe_plan (rounds, n, carry_rounds, carry_mm, 100, &plan);
  for (gsize i = 0; i < n; i++)
    {
      g_assert_cmpint (rounds[i].after, ==, slow_end (rounds, n, i, carry_rounds, carry_mm));
      joined += rounds[i].joins_in ? 1 : 0;
      cut += rounds[i].after == BW_YARN_CUT ? 1 : 0;
    }
  g_assert_cmpuint (joined, ==, cut);
  g_assert_cmpuint (plan.ends, ==, joined + cut);
  for (guint c = 0; c < BW_STRIPE_COLOURS_MAX; c++)
    tails += plan.tail_m[c];
  g_assert_cmpfloat_with_epsilon (tails, plan.ends * 0.1, 1e-9);
}

static void
test_random (void)
{
  for (guint i = 0; i < 5000; i++)
    check_random ();
}

int
main (int   argc,
      char *argv[])
{
  g_test_init (&argc, &argv, NULL);

  g_test_add_func ("/stripe/colour-at", test_colour_at);
  g_test_add_func ("/stripe/carry-or-cut", test_carry_or_cut);
  g_test_add_func ("/stripe/yarn", test_yarn);
  g_test_add_func ("/stripe/carry-is-cheap", test_carry_is_cheap);
  g_test_add_func ("/stripe/random", test_random);

  return g_test_run ();
}
