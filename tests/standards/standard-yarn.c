#include <glib.h>
#include <math.h>

#include "bw-units.h"
#include "bw-yarn.h"

/* Yarn against worked examples and ranges that were published. Beside each
 * stands where it was read. */

static double
yards (double n)
{
  return n * BW_M_PER_YARD;
}

/* "Another reason to swatch", 30 May 2016,
 * yarnnomads.com/blog-1/2016/5/30/another-reason-to-swatch: READ. A ball of 50 g
 * holds 87 yd; a swatch of 6 by 6 in weighs 4 g; how much for a blanket of 60 by
 * 60 in? The page rounds on the way, to 5 square inches a yard, gets 720 yd and
 * says to buy 800; without rounding it is 696 (DERIVED). */
static void
test_blanket (void)
{
  const BwYarn yarn = { .metres_per_ball = yards (87), .grams_per_ball = 50 };
  double swatch = bw_yarn_grams_to_metres (&yarn, 4);
  double side = 6 * BW_MM_PER_INCH;
  double blanket = bw_yarn_by_area (swatch, side, side, 10 * side, 10 * side);

  g_assert_cmpfloat_with_epsilon (swatch, yards (6.96), 1e-9);
  g_assert_cmpfloat_with_epsilon (blanket, yards (696), 1e-6);
  /* the page's rounding of 36 / 6.96 = 5.17 square inches to 5 is all the difference */
  g_assert_cmpfloat_with_epsilon (blanket * (36 / 6.96) / 5, yards (720), 1e-6);
  g_assert_cmpfloat_with_epsilon (bw_yarn_metres_to_grams (&yarn, blanket), 400, 1e-6);
  g_assert_cmpuint (bw_yarn_balls (&yarn, blanket, 0), ==, 8);
  /* 800 bought for 696 is a margin of 15 %; that many yards are ten balls */
  g_assert_cmpuint (bw_yarn_balls (&yarn, blanket, 800 / 696.0 - 1), ==, 10);
}

/* Steps of "How to calculate how much yarn" (tutorial, address withheld), READ:
 * the swatch's grams by the ratio of areas, grams by length per gram, length by
 * ball, rounded up. Whatever the figures, our way has to give the same. */
static void
test_steps (void)
{
  for (guint i = 0; i < 1000; i++)
    {
      BwYarn yarn = { .metres_per_ball = g_test_rand_double_range (40, 400),
                      .grams_per_ball = g_test_rand_double_range (25, 100) };
      double swatch_g = g_test_rand_double_range (2, 20);
      double swatch_mm = g_test_rand_double_range (80, 200);
      double girth = g_test_rand_double_range (300, 600);
      double depth = g_test_rand_double_range (130, 300);
      double grams = girth * depth / (swatch_mm * swatch_mm) * swatch_g;
      double length = grams * (yarn.metres_per_ball / yarn.grams_per_ball);
      double swatch = bw_yarn_grams_to_metres (&yarn, swatch_g);
      double ours = bw_yarn_by_area (swatch, swatch_mm, swatch_mm, girth, depth);

      g_assert_cmpfloat_with_epsilon (ours / length, 1, 1e-12);
      g_assert_cmpfloat_with_epsilon (bw_yarn_metres_to_grams (&yarn, ours) / grams, 1, 1e-12);
      g_assert_cmpuint (bw_yarn_balls (&yarn, ours, 0), ==,
                        (guint) ceil (length / yarn.metres_per_ball));
    }
}

/* Scaling by girth times depth from one published size must meet the published
 * range of another, in worsted yarn. READ: yards for preemie, newborn and baby,
 * and their sizes, in "How big should a newborn crochet hat be",
 * motherhoodday.com; 150 to 220 yd for an adult in "How much yarn for a beanie",
 * northshorecrafts.com/how-much-yarn-for-beanie/; 22 in and 8 1/4 in of the adult
 * in "Knitted hat sizing", tikkiknits.com/knitted-hat-sizing.html. The newborn's
 * head is printed there as "10 in / 33 cm", which contradicts itself: 33 cm. */
static void
test_range_of_sizes (void)
{
  static const struct
  {
    double least_yd;
    double most_yd;
    double girth_in;
    double depth_in; /* middle of the printed range */
  } sizes[] = {
    { 30, 50, 12, 4.25 },
    { 50, 70, 33 / 2.54, 4.75 },
    { 60, 80, 14, 5.25 },
  };

  for (guint i = 0; i < G_N_ELEMENTS (sizes); i++)
    {
      double girth = sizes[i].girth_in;
      double depth = sizes[i].depth_in;
      double least = bw_yarn_by_area (sizes[i].least_yd, girth, depth, 22, 8.25);
      double most = bw_yarn_by_area (sizes[i].most_yd, girth, depth, 22, 8.25);

      g_assert_cmpfloat (most, >, 150);
      g_assert_cmpfloat (least, <, 220);
      /* and are no wider off than the published figures are from each other */
      g_assert_cmpfloat ((least + most) / 2, >, 185 * 0.7);
      g_assert_cmpfloat ((least + most) / 2, <, 185 * 1.3);
    }
}

/* A part of a ball costs its share: 80 of 200 yd of a ball at 10.00 are 4.00.
 * Common practice, no source. */
static void
test_share_of_a_ball (void)
{
  const BwYarn yarn = { .metres_per_ball = yards (200), .price_per_ball = 10 };

  g_assert_cmpfloat_with_epsilon (bw_yarn_cost (&yarn, yards (80)), 4, 1e-12);
}

int
main (int    argc,
      char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/yarn/blanket", test_blanket);
  g_test_add_func ("/yarn/steps", test_steps);
  g_test_add_func ("/yarn/range-of-sizes", test_range_of_sizes);
  g_test_add_func ("/yarn/share-of-a-ball", test_share_of_a_ball);
  return g_test_run ();
}
