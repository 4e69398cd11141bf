#include <glib.h>
#include <math.h>

#include "bw-crown.h"

/* Crowns and circles against published patterns and plain geometry. Beside each
 * case stands where it was read. */

/* A crown of one stitch width that lies flat at `rate` decreases a round. */
static BwCrownShape
flat_at (double stitch_mm,
         guint  rate)
{
  BwCrownShape shape = { 0 };

  shape.profile = BW_CROWN_FLAT;
  shape.stitch_mm = stitch_mm;
  shape.round_mm = rate * stitch_mm / (2 * G_PI);
  shape.wedges = rate;
  shape.close_at = rate;
  return shape;
}

/* A circle that grows by its first round each round, read backwards, is the
 * flat crown of as many wedges. */
static void
assert_circle (guint first,
               guint rounds)
{
  BwCrownShape shape = flat_at (5, first);
  g_autoptr (GError) error = NULL;
  BwCrown crown;

  g_assert_true (bw_crown_plan (&shape, first * rounds, &crown, &error));
  g_assert_no_error (error);
  g_assert_cmpuint (crown.n_rounds, ==, rounds - 1);
  for (guint i = 0; i < rounds; i++)
    g_assert_cmpuint (crown.counts[i], ==, first * (rounds - i));
}

static void
test_circles (void)
{
  /* 6, 12, 18 ... 54 sc: "How to crochet a flat circle", 2016 (address withheld),
   * and charity hat, headhuggers.org/patterns/cpatt01.htm */
  assert_circle (6, 9);
  /* 8, 16 ... 72 hdc: beanie, d60crochet.com/p/chains-of-color-beanie.html */
  assert_circle (8, 9);
  /* 12, 24 ... 60 dc: "Crocheting a flat circle",
   * garturstitchfarmshop.com/blogs/blog/crocheting-a-flat-circle; 72 in another hat */
  assert_circle (12, 6);
  /* 10, 20, 30, 40 dc: charity hat, warmdetroit.org/c3.html */
  assert_circle (10, 4);
  /* 10 (11, 12), 20 (22, 24), 30 (33, 36), 40 (44, 48) dc: beanie in three sizes,
   * gracefullymadecrochet.com/2021/06/05/basic-beanie-thick/ */
  assert_circle (11, 4);
  assert_circle (12, 4);
}

/* The trade's rules for a circle that lies flat, in US terms: sc 6 to 8, hdc 8
 * to 10, dc 10 to 14 a round ("How to crochet a flat circle", 2016, and "Getting
 * your circles flat", 2009, addresses withheld; "Crocheting a flat circle",
 * garturstitchfarmshop.com). A dc is about twice as high as a sc ("Picot
 * edging", 2009, address withheld); one and a half for hdc is from memory. */
static void
test_flat_rules (void)
{
  const struct
  {
    double height; /* in widths of a stitch */
    guint  least;
    guint  most;
    guint  usual;
  } rules[] = { { 1, 6, 8, 6 }, { 1.5, 8, 10, 8 }, { 2, 10, 14, 12 } };

  for (gsize i = 0; i < G_N_ELEMENTS (rules); i++)
    {
      double rate = bw_crown_flat_rate (6, 6 * rules[i].height);

      g_assert_cmpfloat (rate, >=, rules[i].least);
      g_assert_cmpfloat (rate, <=, rules[i].most);
      g_assert_cmpfloat (fabs (bw_crown_flatness (rules[i].usual, 6, 6 * rules[i].height) - 1),
                         <, 0.16);
    }
}

/* A circle of sc, 2 pi worked out, 2018,
 * mspremiseconclusion.wordpress.com/2018/07/24/: 6, 13 and 19 stitches in the
 * first three rounds; 25, 31, 38, 44 and 50 after them are worked out. */
static void
test_two_pi (void)
{
  const guint counts[] = { 6, 13, 19, 25, 31, 38, 44, 50 };

  for (guint i = 0; i < G_N_ELEMENTS (counts); i++)
    g_assert_cmpint (lround ((i + 1) * bw_crown_flat_rate (5, 5)), ==, counts[i]);
}

/* Diameter of a flat crown is girth over pi. Head 22 in, crown 7.00 in: "Do you
 * struggle with hat sizing", thecountrywillows.com/do-you-struggle-with-hat-sizing/.
 * 23 in and 13.5 in, 7.32 and 4.30 in: "How to size a hat",
 * hookthatyarn.wordpress.com/2016/06/09/how-to-size-a-hat/. 39.5 cm, 12.573 cm:
 * blog of 2015 (address withheld; the page has 12.58 with pi as 3.14). 100
 * stitches at 22 to 10 cm have a radius of 7.23 cm: inputs of "How to shape the
 * crown of a hat", 2020, gathered.how/knitting-and-crochet/knitting/, worked out. */
static void
test_diameters (void)
{
  const struct
  {
    guint  stitches;
    double width;
    double diameter;
    double within;
  } crowns[] = {
    { 88, 22.0 / 88, 7.00, 0.005 },
    { 92, 23.0 / 92, 7.32, 0.005 },
    { 54, 13.5 / 54, 4.30, 0.005 },
    { 79, 39.5 / 79, 12.573, 0.0005 },
    { 100, 10.0 / 22, 2 * 7.23, 0.01 },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (crowns); i++)
    {
      BwCrownShape shape = flat_at (crowns[i].width, 6);

      g_assert_cmpfloat_with_epsilon (2 * bw_crown_length (&shape, crowns[i].stitches),
                                      crowns[i].diameter, crowns[i].within);
    }
}

/* Beanie, d60crochet.com/p/chains-of-color-beanie.html: 72 hdc at 16 stitches
 * and 14 rounds to 4 in. The girth is 18 in (worked out) and the disc 5.73 in by
 * its stitches, but 9 rounds are only 5.14 in across, and the pattern says 6.25:
 * what a real pattern's numbers agree to. */
static void
test_beanie_disagrees (void)
{
  BwCrownShape shape = { BW_CROWN_FLAT, 4.0 / 16, 4.0 / 14, 0, 8, 8, 0 };
  double by_stitches = 2 * bw_crown_length (&shape, 72);
  double by_rounds = 2 * 9 * shape.round_mm;

  g_assert_cmpfloat_with_epsilon (by_stitches, 5.73, 0.005);
  g_assert_cmpfloat_with_epsilon (by_rounds, 5.14, 0.005);
  /* eight a round is more than lies flat at that gauge, if not by much */
  g_assert_cmpfloat_with_epsilon (bw_crown_flatness (8, shape.stitch_mm, shape.round_mm), 1.114,
                                  0.001);
}

/* Crown planning, Oct 2012, 2stitches2knit.blogspot.com/2012/10/: 112 stitches, 8
 * in each decrease round, 14 between them; after 13 decrease rounds 8 are left. */
static void
test_eight_a_round (void)
{
  BwCrownShape shape = flat_at (4, 8);
  BwCrown crown;

  g_assert_true (bw_crown_plan (&shape, 112, &crown, NULL));
  g_assert_cmpuint (crown.n_rounds, ==, 13);
  for (guint i = 0; i <= 13; i++)
    g_assert_cmpuint (crown.counts[i], ==, 112 - 8 * i);
  g_assert_cmpuint (crown.counts[0] / 8, ==, 14);
}

/* Hat in two sizes, summer 2006, knitty.com/ISSUEsummer06/PATTmaze.html: from 126
 * [140] by 9 [10] to 9 [10], first in every other round, then in every round.
 * Our plan has the same counts in the same 13 decrease rounds. */
static void
test_two_sizes (void)
{
  const guint starts[] = { 126, 140 };
  const guint wedges[] = { 9, 10 };

  for (gsize size = 0; size < 2; size++)
    {
      BwCrownShape shape = { BW_CROWN_ROUND, 5, 4, 0, wedges[size], wedges[size], 1 };
      guint expected = starts[size], decreases = 0;
      BwCrown crown;

      g_assert_true (bw_crown_plan (&shape, starts[size], &crown, NULL));
      for (guint i = 1; i <= crown.n_rounds; i++)
        if (crown.counts[i] != crown.counts[i - 1])
          {
            expected -= wedges[size];
            decreases++;
            g_assert_cmpuint (crown.counts[i], ==, expected);
          }
      g_assert_cmpuint (expected, ==, wedges[size]);
      g_assert_cmpuint (decreases, ==, 13);
    }
}

/* "Rounded top, final shaping", table 6 (a handbook's extract),
 * knittingmagic.biz/teach-yourself-2/rounded-top-final-shaping.html: stitches
 * left at 2, 3, 4, 5, 6 and 7 stitches to the inch. */
static void
test_left_to_draw_up (void)
{
  const guint left[] = { 12, 12, 16, 20, 24, 28 };
  g_autofree char *path = g_test_build_filename (G_TEST_DIST, "..", "data", "reference",
                                                 "crown-close.ini", NULL);
  g_autofree char *text = NULL;
  g_autoptr (GArray) table = NULL;
  g_autoptr (GError) error = NULL;
  gsize length;

  g_assert_true (g_file_get_contents (path, &text, &length, &error));
  table = bw_crown_close_parse (text, length, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (table->len, ==, G_N_ELEMENTS (left));
  for (guint i = 0; i < G_N_ELEMENTS (left); i++)
    g_assert_cmpuint (bw_crown_default_close (table, 25.4 / (2 + i)), ==, left[i]);
}

/* Common practice, no source: a crown of 70 closed over 14 wedges runs 70, 56,
 * 42, 28, 14, with 3, 2, 1 and 0 plain stitches before each decrease. */
static void
test_fourteen_wedges (void)
{
  BwCrownShape shape = flat_at (6, 14);
  BwCrown crown;

  g_assert_true (bw_crown_plan (&shape, 70, &crown, NULL));
  g_assert_cmpuint (crown.n_rounds, ==, 4);
  for (guint i = 0; i < 4; i++)
    {
      g_assert_cmpuint (crown.counts[i], ==, 70 - 14 * i);
      g_assert_cmpuint (crown.counts[i] / 14 - 2, ==, 3 - i);
    }
  g_assert_cmpuint (crown.counts[4], ==, 14);
}

/* Worked out from plain geometry, at an invented gauge of 15 stitches and 11.5
 * rounds to 10 cm: flat at 8.2 a round; 80 stitches have a radius of 8.5 cm, a
 * flat top of 9.8 rounds, half a sphere of 15.3; 8 in every round reach 8 in 9
 * rounds, at 0.98 of flat. */
static void
test_worked_out_family (void)
{
  BwCrownShape shape = { BW_CROWN_FLAT, 100 / 15.0, 100 / 11.5, 0, 8, 10, 0 };
  BwCrown crown;

  g_assert_cmpfloat_with_epsilon (bw_crown_flat_rate (shape.stitch_mm, shape.round_mm), 8.2, 0.05);
  g_assert_cmpfloat_with_epsilon (bw_crown_radius (&shape, 80, 0), 85, 0.5);
  g_assert_cmpfloat_with_epsilon (bw_crown_length (&shape, 80) / shape.round_mm, 9.8, 0.05);
  g_assert_true (bw_crown_plan (&shape, 80, &crown, NULL));
  g_assert_cmpuint (crown.n_rounds, ==, 9);
  g_assert_cmpuint (crown.counts[9], ==, 8);
  g_assert_cmpfloat_with_epsilon (bw_crown_flatness (8, shape.stitch_mm, shape.round_mm), 0.98,
                                  0.005);

  shape.profile = BW_CROWN_ROUND;
  g_assert_cmpfloat_with_epsilon (bw_crown_length (&shape, 80) / shape.round_mm, 15.3, 0.05);
}

/* Worked out from plain geometry: half a sphere has N sin (2 pi t / C) stitches
 * at the distance t from its centre, C being the girth. */
static void
test_half_sphere (void)
{
  BwCrownShape shape = { BW_CROWN_ROUND, 5, 5, 0, 8, 8, 0 };
  const double girth = 104 * 5;

  for (double t = 0; t <= girth / 4; t += 3.7)
    {
      double radius = bw_crown_radius (&shape, 104, girth / 4 - t);

      g_assert_cmpfloat_with_epsilon (2 * G_PI * radius / 5, 104 * sin (2 * G_PI * t / girth),
                                      1e-6);
    }
}

/* Worked out from plain geometry: below flat the fabric is a cone whose half
 * angle is asin F; at 9.4 a round 6, 7, 8 and 9 give 40, 48, 58 and 73 degrees. */
static void
test_cones (void)
{
  const guint degrees[] = { 40, 48, 58, 73 };

  for (guint i = 0; i < G_N_ELEMENTS (degrees); i++)
    {
      double flatness = bw_crown_flatness (6 + i, 6, 6 * 9.4 / (2 * G_PI));

      g_assert_cmpint (lround (asin (flatness) * 180 / G_PI), ==, degrees[i]);
    }
}

int
main (int   argc,
      char *argv[])
{
  g_test_init (&argc, &argv, NULL);

  g_test_add_func ("/standard/crown/circles", test_circles);
  g_test_add_func ("/standard/crown/flat-rules", test_flat_rules);
  g_test_add_func ("/standard/crown/two-pi", test_two_pi);
  g_test_add_func ("/standard/crown/diameters", test_diameters);
  g_test_add_func ("/standard/crown/beanie-disagrees", test_beanie_disagrees);
  g_test_add_func ("/standard/crown/eight-a-round", test_eight_a_round);
  g_test_add_func ("/standard/crown/two-sizes", test_two_sizes);
  g_test_add_func ("/standard/crown/fourteen-wedges", test_fourteen_wedges);
  g_test_add_func ("/standard/crown/left-to-draw-up", test_left_to_draw_up);
  g_test_add_func ("/standard/crown/worked-out-family", test_worked_out_family);
  g_test_add_func ("/standard/crown/half-sphere", test_half_sphere);
  g_test_add_func ("/standard/crown/cones", test_cones);

  return g_test_run ();
}
