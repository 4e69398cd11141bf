#include "grade-example.h"

/* Grading of hats made by hand, with the figures worked out beside them: bands,
 * brims, depth, yarn and what a designer is told. */

/* --- Facts of the trade --- */

/* "71 stitches do not divide by a three-stitch repeat": refused as the only
 * count for all bands, and 69 and 72 are offered (common practice, no source). */
static void
test_seventy_one (void)
{
  gboolean offered[2] = { FALSE, FALSE };
  g_autoptr (BwDesign) design = hat_new ();
  g_autoptr (BwGrading) grading = NULL;
  const GArray *others;

  hat_add_swatch (design, "body", "plain-low", 15.0, 11.5);
  hat_add_band (design, "raised-thirds", BW_BAND_REPEATS, 6);
  hat_add_size (design, "one", 71 / 0.15 / 0.93, 200); /* 71 stitches to the mm */
  design->body_ease.fraction = -0.07;
  design->rules.depth_tolerance_mm = 200;
  design->rules.adjust_weight = 0;

  grading = grade_well (design);
  others = size_of (grading, 0)->alternatives;
  for (guint i = 0; i < others->len; i++)
    {
      guint body = g_array_index (others, BwAlternative, i).body_stitches;

      g_assert_cmpuint (body % 3, ==, 0);
      offered[0] = offered[0] || body == 69;
      offered[1] = offered[1] || body == 72;
    }
  g_assert_true (offered[0] && offered[1]);
  g_assert_cmpuint (size_of (grading, 0)->body_stitches, ==, 72);
}

/* Pinned to 71, the band itself is worked over 72 after an adjusting round,
 * and the designer is told. */
static void
test_seventy_one_pinned (void)
{
  g_autoptr (BwDesign) design = hat_new ();
  g_autoptr (BwGrading) grading = NULL;
  const BwFinding *adjusted;

  hat_add_swatch (design, "body", "plain-low", 15.0, 11.5);
  hat_add_band (design, "raised-thirds", BW_BAND_REPEATS, 6);
  hat_add_size (design, "one", 510, 200);
  hat_pin (design, "one", BW_PIN_BODY_STITCHES, 71);

  grading = grade_well (design);
  adjusted = find (grading, BW_FINDING_BAND_ADJUSTED, 0);
  g_assert_nonnull (adjusted);
  g_assert_cmpfloat (adjusted->a, ==, 71);
  g_assert_cmpfloat (adjusted->b, ==, 72);
  g_assert_cmpfloat (adjusted->c, ==, 69);
  g_assert_cmpuint (last_round (size_of (grading, 0), BW_SECTION_BAND)->stitches_out, ==, 72);
}

/* A sideways brim: ten chains give nine slip stitches (common practice, no
 * source), and the yarn is turned at every row's end. */
static void
test_ten_chains (void)
{
  g_autoptr (BwDesign) design = worked_example ();
  g_autoptr (BwGrading) grading = NULL;
  const BwRound *rounds;

  hat_pin (design, "child", BW_PIN_BRIM_HEIGHT, 9);
  grading = grade_well (design);
  rounds = (const BwRound *) (void *) size_of (grading, 1)->rounds->rounds->data;

  g_assert_cmpuint (rounds[0].stitches_out, ==, 10);
  g_assert_cmpuint (rounds[1].stitches_in, ==, 10);
  g_assert_cmpuint (rounds[1].stitches_out, ==, 9);
  for (guint row = 2; row <= 112; row++)
    {
      g_assert_true (rounds[row].row);
      g_assert_cmpuint (rounds[row].number, ==, row);
      g_assert_cmpuint (rounds[row].stitches_out, ==, 9);
    }
  g_assert_cmpint (rounds[113].section, ==, BW_SECTION_JOIN);
  g_assert_cmpint (rounds[114].section, ==, BW_SECTION_PICK_UP);
  g_assert_cmpuint (rounds[114].stitches_in, ==, 112);
  g_assert_cmpuint (rounds[114].stitches_out, ==, 72);
}

/* An adult's sideways brim is about 18 in relaxed (common practice, no source). */
static void
test_adult_brim (void)
{
  g_autoptr (BwDesign) design = worked_example ();
  g_autoptr (BwGrading) grading = grade_well (design);

  g_assert_cmpfloat_with_epsilon (size_of (grading, 3)->brim_mm / 25.4, 18, 0.5);
}

/* --- Bands --- */

/* Multiples of 4 and 6 meet every 12 stitches, 80 mm: too far apart for some
 * sizes, so an adjusting round leads to the second band. */
static void
test_adjusting (void)
{
  g_autoptr (BwDesign) design = worked_example ();
  g_autoptr (BwGrading) grading = NULL;
  guint adjusted = 0;

  g_array_set_size (design->bands, 0);
  hat_add_band (design, "bobble-grid", BW_BAND_REPEATS, 1);
  hat_add_band (design, "basket", BW_BAND_REPEATS, 1);
  design->rules.adjust_weight = 0.05;
  grading = grade_well (design);

  for (guint k = 0; k < 5; k++)
    {
      const BwGradedSize *size = size_of (grading, k);
      guint rounds = count_rounds (size, BW_SECTION_ADJUST, -1);

      g_assert_cmpuint (size->body_stitches % 4, ==, 0);
      g_assert_cmpuint (last_round (size, BW_SECTION_BAND)->stitches_out % 6, ==, 0);
      g_assert_cmpuint (rounds, ==, size->body_stitches % 6 != 0);
      g_assert_cmpint (find (grading, BW_FINDING_BAND_ADJUSTED, (int) k) != NULL, ==, rounds > 0);
      adjusted += rounds;
    }
  g_assert_cmpuint (adjusted, >, 0);
  for (guint i = 0; i < grading->findings->len; i++)
    if (g_array_index (grading->findings, BwFinding, i).kind == BW_FINDING_BAND_ADJUSTED)
      g_assert_cmpuint (g_array_index (grading->findings, BwFinding, i).band, ==, 2);
}

/* Repeats that are each within their limits add up to a hat nobody could list. */
static void
test_too_many_rounds (void)
{
  g_autoptr (BwDesign) design = worked_example ();
  g_autoptr (BwGrading) grading = NULL;
  g_autoptr (GError) error = NULL;

  g_array_set_size (design->bands, 0);
  for (guint i = 0; i < 3; i++)
    hat_add_band (design, "plain-low", BW_BAND_ROUNDS, BW_DESIGN_ROUNDS_MAX / 3 + 1);
  grading = bw_grade (reference, design, &error);

  g_assert_null (grading);
  g_assert_error (error, BW_ERROR, BW_ERROR_TOO_LARGE);
}

/* One count serves multiples of 2 and 3 wherever it can: no adjusting rounds. */
static void
test_common_count (void)
{
  g_autoptr (BwDesign) design = worked_example ();
  g_autoptr (BwGrading) grading = NULL;

  hat_add_band (design, "raised-thirds", BW_BAND_REPEATS, 2);
  design->rules.girth_limit_mm = 45;
  grading = grade_well (design);
  for (guint k = 0; k < 5; k++)
    {
      g_assert_cmpuint (size_of (grading, k)->body_stitches % 6, ==, 0);
      g_assert_cmpuint (count_rounds (size_of (grading, k), BW_SECTION_ADJUST, -1), ==, 0);
    }
}

/* A filling band takes the depth that is left, on whole repeats (2 rounds) and
 * whole stripes (6 rounds), and ends on the stripe's last colour. */
static void
test_filling (void)
{
  g_autoptr (BwDesign) design = worked_example ();
  g_autoptr (BwGrading) grading = NULL;
  BwBand *band;

  hat_set_brim (design, BW_BRIM_SLIP_RIB, "brim", 30);
  g_array_index (design->bands, BwBand, 0).amount = 1;
  band = hat_add_band (design, "raised-thirds", BW_BAND_FILL, 1);
  g_array_append_val (design->colours, ((BwColour) { g_strdup ("Rust"), 0x884422 }));
  g_array_append_val (design->colours, ((BwColour) { g_strdup ("Sand"), 0xddcc99 }));
  hat_add_step (band->stripe, 0, 2);
  hat_add_step (band->stripe, 1, 2);
  hat_add_step (band->stripe, 2, 2);
  design->rules.depth_tolerance_mm = 10;
  for (guint k = 0; k < 5; k++)
    g_array_index (design->sizes, BwSizeChoice, k).size->depth_mm = 260 + 30 * k;

  grading = grade_well (design);
  for (guint k = 0; k < 5; k++)
    {
      const BwGradedSize *size = size_of (grading, k);
      guint rounds = count_rounds (size, BW_SECTION_BAND, 1);

      g_assert_cmpuint (rounds % 6, ==, 0);
      g_assert_cmpuint (rounds, ==, 6 * (1 + size->fill_repeats));
      g_assert_cmpuint (last_round (size, BW_SECTION_BAND)->colour, ==, 2);
      /* no other number of stripes would come nearer: half of 6 rounds and a bit */
      g_assert_cmpfloat (fabs (size->depth_mm - size->depth_target_mm), <, 0.51 * 6 / 0.115 + 9);
    }
  g_assert_cmpuint (size_of (grading, 4)->fill_repeats, >, size_of (grading, 0)->fill_repeats);
  g_assert_null (find (grading, BW_FINDING_STRIPE_UNFINISHED, -1));
}

static void
test_stripe_unfinished (void)
{
  g_autoptr (BwDesign) design = worked_example ();
  g_autoptr (BwGrading) grading = NULL;
  BwBand *band = hat_add_band (design, "raised-thirds", BW_BAND_ROUNDS, 7);

  g_array_append_val (design->colours, ((BwColour) { g_strdup ("Rust"), 0x884422 }));
  hat_add_step (band->stripe, 0, 2);
  hat_add_step (band->stripe, 1, 2);
  grading = grade_well (design);
  g_assert_nonnull (find (grading, BW_FINDING_STRIPE_UNFINISHED, -1));
  g_assert_nonnull (find (grading, BW_FINDING_PATTERN_UNFINISHED, -1));
}

/* --- Brims, depth, rules --- */

static void
test_depth_by_hand (void)
{
  g_autoptr (BwDesign) design = worked_example ();
  g_autoptr (BwGrading) grading = NULL;
  const BwGradedSize *size;
  double low = 100 / 11.5;
  double worn;

  g_array_set_size (design->bands, 0);
  hat_add_band (design, "plain-low", BW_BAND_ROUNDS, 10);
  hat_pin (design, "child", BW_PIN_BODY_STITCHES, 72);
  hat_pin (design, "child", BW_PIN_CROWN_START, 72);
  grading = grade_well (design);
  size = size_of (grading, 1);

  /* brim 50 mm in whole stitches of the body's width, pick-up, band, crown */
  g_assert_cmpuint (size->brim_stitches, ==, 8); /* 50 mm / 6.67 mm = 7.5 */
  g_assert_cmpfloat_with_epsilon (size->depth_mm,
                                  8 / 0.15 + (1 + 10 + size->crown->n_rounds) * low, 1e-9);
  worn = size->depth_mm * (1 - 0.7 * (510 / 480.0 - 1));
  g_assert_cmpfloat_with_epsilon (size->worn_depth_mm, worn, 1e-9);
  /* round crown: 76.4 mm radius, 120 mm along the fabric, 13.8 rounds, less the close */
  g_assert_cmpuint (size->crown->n_rounds, >=, 12);
  g_assert_cmpuint (size->crown->n_rounds, <=, 14);
}

/* A folded brim is worked double and counts once. */
static void
test_folded (void)
{
  g_autoptr (BwDesign) design = worked_example ();
  g_autoptr (BwGrading) single = grade_well (design);
  g_autoptr (BwGrading) twice = NULL;

  design->brim.folded = TRUE;
  twice = grade_well (design);
  for (guint k = 0; k < 5; k++)
    {
      g_assert_cmpuint (size_of (twice, k)->brim_stitches, ==, 15); /* 100 mm / 6.67 mm */
      g_assert_cmpfloat_with_epsilon (size_of (twice, k)->brim_height_mm, 50, 1e-9);
      g_assert_cmpfloat (size_of (twice, k)->yarn_m, >, size_of (single, k)->yarn_m);
    }
}

static void
test_rounding (void)
{
  static const guint down[] = { 66, 70, 74, 78, 82 };
  static const guint up[] = { 68, 72, 76, 80, 84 };
  g_autoptr (BwDesign) design = worked_example ();
  g_autoptr (BwGrading) lower = NULL;
  g_autoptr (BwGrading) upper = NULL;

  design->rules.rounding = BW_ROUND_DOWN;
  lower = grade_well (design);
  assert_bodies (lower, down);
  design->rules.rounding = BW_ROUND_UP;
  upper = grade_well (design);
  assert_bodies (upper, up);
}

static void
test_least_step (void)
{
  g_autoptr (BwDesign) design = worked_example ();
  g_autoptr (BwGrading) grading = NULL;

  design->rules.least_step = 6;
  design->rules.girth_limit_mm = 50;
  grading = grade_well (design);
  for (guint k = 1; k < 5; k++)
    g_assert_cmpuint (size_of (grading, k)->body_stitches, >=,
                      size_of (grading, k - 1)->body_stitches + 6);
}

static void
test_own_ease (void)
{
  g_autoptr (BwDesign) design = worked_example ();
  g_autoptr (BwGrading) grading = NULL;
  BwSizeChoice *choice = &g_array_index (design->sizes, BwSizeChoice, 4);

  choice->own_body_ease = TRUE;
  choice->body_ease = (BwEase) { 0, -16 };
  grading = grade_well (design);
  g_assert_cmpfloat (size_of (grading, 4)->body_target_mm, ==, 584);
  g_assert_cmpuint (size_of (grading, 4)->body_stitches, ==, 88); /* 586.7 mm */
  g_assert_cmpfloat_with_epsilon (size_of (grading, 3)->body_target_mm, 570 * 0.93, 1e-9);
}

/* --- Large families --- */

static void
test_largest (void)
{
  static const char *const patterns[] = {
    "raised-thirds", "plain-low", "linen", "bobble-grid", "waffle", "post-rib", "spikes",
    "plain-tall", "v-stitch", "plain-low", "shells", "plain-mid",
  };
  g_autoptr (BwDesign) design = hat_new ();
  g_autoptr (BwGrading) grading = NULL;

  hat_add_swatch (design, "body", "plain-low", 30, 32);
  hat_add_swatch (design, "brim", "low-rib", 0, 40);
  hat_set_brim (design, BW_BRIM_LOW_RIB, "brim", 40);
  for (guint i = 0; i < BW_DESIGN_BANDS_MAX; i++)
    hat_add_band (design, patterns[i], i == 9 ? BW_BAND_FILL : BW_BAND_ROUNDS, i == 9 ? 1 : 2);
  for (guint k = 0; k < BW_DESIGN_SIZES_MAX; k++)
    {
      g_autofree char *id = g_strdup_printf ("size-%u", k + 1);

      hat_add_size (design, id, 330 + 10 * k, 170 + 3 * k);
    }

  grading = grade_well (design);
  for (guint k = 0; k < BW_DESIGN_SIZES_MAX; k++)
    {
      for (guint i = 0; i < BW_DESIGN_BANDS_MAX; i++)
        g_assert_cmpuint (count_rounds (size_of (grading, k), BW_SECTION_BAND, (int) i), >=,
                          i == 9 ? 1 : 2);
      if (k > 0)
        g_assert_cmpuint (size_of (grading, k)->body_stitches, >,
                          size_of (grading, k - 1)->body_stitches);
    }
}

/* --- Yarn --- */

/* A spiral hat without brim or joins: every stitch's yarn, and two tails. */
static void
test_yarn_by_hand (void)
{
  g_autoptr (BwDesign) design = hat_new ();
  g_autoptr (BwGrading) grading = NULL;
  const BwGradedSize *size;
  const BwStitchDictionary *stitches = reference->stitches;
  const BwStitch *low = bw_stitch_get (stitches, bw_stitch_find (stitches, "low"));
  const BwStitch *low2tog = bw_stitch_get (stitches, bw_stitch_find (stitches, "low2tog"));
  const BwStitch *chain = bw_stitch_get (stitches, bw_stitch_find (stitches, "chain"));
  double widths = 0;

  hat_add_swatch (design, "body", "plain-low", 15, 16);
  hat_add_band (design, "plain-low", BW_BAND_ROUNDS, 12);
  hat_add_size (design, "one", 540, 220);
  hat_set_wedges (design, 6);
  design->spiral = TRUE;
  design->yarn.metres_per_ball = 100;
  design->yarn.grams_per_ball = 50;
  design->yarn.price_per_ball = 4;
  design->yarn_margin = 0.1;
  design->finishing.pompom_grams = 10;
  grading = grade_well (design);
  size = size_of (grading, 0);

  widths += size->body_stitches * chain->yarn;
  for (guint i = 1; i < size->rounds->rounds->len; i++)
    {
      const BwRound *round = &g_array_index (size->rounds->rounds, BwRound, i);
      guint gone = round->stitches_in - MIN (round->stitches_in, round->stitches_out);

      if (round->section != BW_SECTION_CLOSE)
        widths += (round->stitches_out - gone) * low->yarn + gone * low2tog->yarn;
    }

  /* 10 g of a pom-pom are 20 m of this yarn; two ends of 150 mm */
  g_assert_cmpfloat_with_epsilon (size->yarn_m, widths / 150 + 20 + 0.3, 1e-9);
  g_assert_cmpfloat_with_epsilon (size->yarn_g, size->yarn_m / 2, 1e-9);
  g_assert_cmpfloat_with_epsilon (size->yarn_cost, size->yarn_m * 0.04, 1e-9);
  g_assert_cmpuint (size->balls[0], ==, (guint) ceil (size->yarn_m * 1.1 / 100));
  g_assert_cmpuint (size->ends, ==, 2);
}

/* --- What a designer is told --- */

/* Small parts on a small child's hat, cords on a child's, and sleep for babies:
 * the age is the wearer's, or follows from the head where it is not told. */
static void
test_cautions (void)
{
  g_autoptr (BwDesign) design = worked_example ();
  g_autoptr (BwGrading) grading = NULL;
  static const int months[] = { 6, 30, 100, 200, -1 };

  for (guint k = 0; k < 5; k++)
    g_array_index (design->sizes, BwSizeChoice, k).size->months_from = months[k];
  design->finishing.pompom_mm = 60;
  design->finishing.cords = TRUE;
  grading = grade_well (design);

  for (int k = 0; k < 5; k++)
    {
      g_assert_cmpint (find (grading, BW_FINDING_CAUTION_SLEEP, k) != NULL, ==, k == 0);
      g_assert_cmpint (find (grading, BW_FINDING_CAUTION_SMALL_PARTS, k) != NULL, ==, k < 2);
      g_assert_cmpint (find (grading, BW_FINDING_CAUTION_CORDS, k) != NULL, ==, k < 3);
    }
}

/* Without an age, cords are a child's up to the largest child's head of the tables. */
static void
test_cords_without_age (void)
{
  g_autoptr (BwDesign) design = worked_example ();
  g_autoptr (BwGrading) grading = NULL;
  const BwSizeTable *heads = bw_reference_size_table (reference, "heads");
  double adult = bw_size_table_find (heads, "adult-s")->head_mm;
  guint children = 0;

  design->finishing.cords = TRUE;
  grading = grade_well (design);
  for (int k = 0; k < 5; k++)
    {
      gboolean child = size_of (grading, (guint) k)->head_mm < adult;

      g_assert_cmpint (find (grading, BW_FINDING_CAUTION_CORDS, k) != NULL, ==, child);
      children += child;
    }
  g_assert_cmpuint (children, >, 0);
  g_assert_cmpuint (children, <, 5);
}

static void
test_estimates_are_told (void)
{
  g_autoptr (BwDesign) design = worked_example ();
  g_autoptr (BwGrading) grading = grade_well (design);

  g_assert_nonnull (find (grading, BW_FINDING_GAUGE_ONE_READING, -1));
  g_assert_nonnull (find (grading, BW_FINDING_YARN_ESTIMATED, -1));
  g_assert_nonnull (find (grading, BW_FINDING_GAUGE_ESTIMATED, -1)); /* the band has no swatch */
}

/* A swatch of another stitch pattern is scaled by relative heights: a brim of
 * slip stitches named after a swatch of UK dc is half as high a row. */
static void
test_swatch_of_another_pattern (void)
{
  g_autoptr (BwDesign) design = worked_example ();
  g_autoptr (BwGrading) grading = NULL;
  const BwStitchDictionary *stitches = reference->stitches;
  double slip = bw_stitch_get (stitches, bw_stitch_find (stitches, "slip"))->height;

  hat_set_brim (design, BW_BRIM_SLIP_RIB, "body", 50);
  grading = grade_well (design);
  g_assert_cmpfloat_with_epsilon (size_of (grading, 0)->brim_mm / size_of (grading, 0)->brim_rows,
                                  100 / 11.5 * slip, 1e-9);
  g_assert_cmpint (find (grading, BW_FINDING_GAUGE_ESTIMATED, -1)->part, ==, BW_SECTION_BRIM);
}

static void
assert_error (const BwDesign *design,
              int             code)
{
  g_autoptr (GError) error = NULL;

  g_assert_null (bw_grade (reference, design, &error));
  g_assert_error (error, BW_ERROR, code);
}

static void
test_errors (void)
{
  g_autoptr (BwDesign) unknown = worked_example ();
  g_autoptr (BwDesign) missing = worked_example ();
  g_autoptr (BwDesign) crown = worked_example ();

  hat_add_band (unknown, "no-such-pattern", BW_BAND_ROUNDS, 4);
  assert_error (unknown, BW_ERROR_UNKNOWN);
  g_free (missing->body_swatch);
  missing->body_swatch = g_strdup ("no-such-swatch");
  assert_error (missing, BW_ERROR_MISSING);
  g_free (crown->crown.fabric);
  crown->crown.fabric = g_strdup ("shells");
  assert_error (crown, BW_ERROR_CONFLICT);
}

int
main (int    argc,
      char **argv)
{
  static const struct { const char *path; GTestFunc test; } tests[] = {
    { "/grade/trade/seventy-one", test_seventy_one },
    { "/grade/trade/seventy-one-pinned", test_seventy_one_pinned },
    { "/grade/trade/ten-chains", test_ten_chains },
    { "/grade/trade/adult-brim", test_adult_brim },
    { "/grade/bands/adjusting", test_adjusting },
    { "/grade/bands/too-many-rounds", test_too_many_rounds },
    { "/grade/bands/common", test_common_count },
    { "/grade/bands/filling", test_filling },
    { "/grade/bands/stripe-unfinished", test_stripe_unfinished },
    { "/grade/depth/by-hand", test_depth_by_hand },
    { "/grade/depth/folded", test_folded },
    { "/grade/rules/rounding", test_rounding },
    { "/grade/rules/least-step", test_least_step },
    { "/grade/rules/own-ease", test_own_ease },
    { "/grade/largest", test_largest },
    { "/grade/yarn/by-hand", test_yarn_by_hand },
    { "/grade/told/cautions", test_cautions },
    { "/grade/told/cords-without-age", test_cords_without_age },
    { "/grade/told/estimates", test_estimates_are_told },
    { "/grade/told/another-pattern", test_swatch_of_another_pattern },
    { "/grade/errors", test_errors },
  };
  g_autoptr (GError) error = NULL;
  int result;

  g_test_init (&argc, &argv, NULL);
  reference = bw_reference_builtin (&error);
  g_assert_no_error (error);
  for (guint i = 0; i < G_N_ELEMENTS (tests); i++)
    g_test_add_func (tests[i].path, tests[i].test);
  result = g_test_run ();
  bw_reference_free (reference);
  return result;
}
