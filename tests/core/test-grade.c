#include "grade-example.h"

/* Grading of a worked example: what is chosen, pinned, offered and refused. */

static void
test_example_band (void)
{
  static const guint bodies[] = { 66, 72, 76, 80, 84 };
  static const guint rows[] = { 106, 112, 120, 126, 132 };
  static const double girths_cm[] = { 44.0, 48.0, 50.7, 53.3, 56.0 };
  g_autoptr (BwDesign) design = worked_example ();
  g_autoptr (BwGrading) grading = grade_well (design);

  assert_bodies (grading, bodies);
  g_assert_null (find (grading, BW_FINDING_SIZES_ALIKE, -1));
  for (guint k = 0; k < 5; k++)
    {
      const BwGradedSize *size = size_of (grading, k);

      g_assert_cmpuint (size->brim_rows, ==, rows[k]);
      g_assert_cmpfloat_with_epsilon (size->girth_mm, girths_cm[k] * 10, 0.51);
      g_assert_cmpfloat_with_epsilon (size->body_target_mm, size->head_mm * 0.93, 1e-9);
      g_assert_cmpfloat_with_epsilon (size->brim_target_mm, size->head_mm * 0.82, 1e-9);
      /* from the worn size: 66 stitches on 48 cm stretch by 9.1 % */
      g_assert_cmpfloat_with_epsilon (size->needed_stretch,
                                      size->head_mm / (bodies[k] / 0.15) - 1, 1e-9);
    }
}

/* The crown's multiple forced on the body makes two sizes the same hat, which
 * is why the band's multiple rules and a set-up round leads to the crown. */
static void
test_example_collisions (void)
{
  static const guint sixes[] = { 66, 72, 78, 78, 84 };
  static const guint eights[] = { 64, 72, 72, 80, 80 };
  g_autoptr (BwDesign) design = worked_example ();
  g_autoptr (BwGrading) six = NULL;
  g_autoptr (BwGrading) eight = NULL;
  const BwFinding *alike;

  design->crown.multiple_on_body = TRUE;
  design->rules.least_step = 0;
  hat_set_wedges (design, 6);
  six = grade_well (design);
  assert_bodies (six, sixes);
  g_assert_cmpuint (count_findings (six, BW_FINDING_SIZES_ALIKE), ==, 1);
  alike = find (six, BW_FINDING_SIZES_ALIKE, 3);
  g_assert_nonnull (alike);
  g_assert_cmpint (alike->other, ==, 2);
  g_assert_cmpfloat (alike->a, ==, 78);

  hat_set_wedges (design, 8);
  eight = grade_well (design);
  assert_bodies (eight, eights);
  g_assert_cmpuint (count_findings (eight, BW_FINDING_SIZES_ALIKE), ==, 2);
  g_assert_nonnull (find (eight, BW_FINDING_SIZES_ALIKE, 2));
  g_assert_nonnull (find (eight, BW_FINDING_SIZES_ALIKE, 4));
  for (guint k = 0; k < 5; k++)
    {
      g_assert_cmpuint (size_of (eight, k)->crown_start, ==, eights[k]);
      g_assert_cmpuint (count_rounds (size_of (eight, k), BW_SECTION_SET_UP, -1), ==, 0);
    }
}

static void
test_example_refused (void)
{
  g_autoptr (BwDesign) design = worked_example ();
  g_autoptr (BwGrading) grading = NULL;
  const BwFinding *step;
  const BwFinding *alike;

  design->crown.multiple_on_body = TRUE;
  hat_set_wedges (design, 8);
  g_assert_cmpuint (design->rules.least_step, ==, 1);
  grading = grade (design);

  g_assert_true (grading->refused);
  g_assert_cmpuint (grading->sizes->len, ==, 0);
  step = find (grading, BW_FINDING_STEP_IMPOSSIBLE, -1);
  alike = find (grading, BW_FINDING_SIZES_ALIKE, -1);
  g_assert_nonnull (step);
  g_assert_cmpint (step->size, ==, 2);
  g_assert_cmpint (step->other, ==, 1);
  g_assert_cmpint (step->severity, ==, BW_SEVERITY_REFUSAL);
  g_assert_cmpfloat (step->a, ==, 1);
  g_assert_nonnull (alike);
  g_assert_cmpfloat (alike->a, ==, 72);
}

/* "So with x2 counts the crown needs a set-up round of 4 decreases at 76": the
 * sizes that do not divide get one, the others none. */
static void
test_example_set_up (void)
{
  g_autoptr (BwDesign) design = worked_example ();
  g_autoptr (BwGrading) grading = NULL;

  hat_set_wedges (design, 8);
  design->rules.adjust_weight = 0.01;
  grading = grade_well (design);
  for (guint k = 0; k < 5; k++)
    {
      const BwGradedSize *size = size_of (grading, k);

      g_assert_cmpuint (size->crown_start % 8, ==, 0);
      g_assert_cmpuint (count_rounds (size, BW_SECTION_SET_UP, -1), ==,
                        size->body_stitches % 8 != 0);
    }
}

/* --- Pins --- */

static void
test_pins (void)
{
  static const struct { const char *size; BwPinKind kind; guint value; } pins[] = {
    { "toddler", BW_PIN_BODY_STITCHES, 68 },
    { "child", BW_PIN_BRIM_COUNT, 116 },
    { "adult-s", BW_PIN_BRIM_HEIGHT, 11 },
    { "adult-m", BW_PIN_CROWN_START, 72 },
    { "adult-l", BW_PIN_FILL_REPEATS, 2 },
  };
  g_autoptr (BwDesign) free_design = worked_example ();
  g_autoptr (BwGrading) free_grading = NULL;
  g_autoptr (BwDesign) design = NULL;
  g_autoptr (BwGrading) grading = NULL;

  hat_add_band (free_design, "plain-low", BW_BAND_FILL, 1);
  free_design->rules.depth_tolerance_mm = 10;
  free_design->rules.adjust_weight = 0.05;
  free_grading = grade_well (free_design);
  design = bw_design_copy (free_design);
  for (guint i = 0; i < G_N_ELEMENTS (pins); i++)
    hat_pin (design, pins[i].size, pins[i].kind, pins[i].value);
  grading = grade_well (design);

  g_assert_cmpuint (size_of (grading, 0)->body_stitches, ==, 68);
  g_assert_cmpuint (size_of (grading, 1)->brim_rows, ==, 116);
  g_assert_cmpuint (size_of (grading, 2)->brim_stitches, ==, 11);
  g_assert_cmpuint (size_of (grading, 3)->crown_start, ==, 72);
  g_assert_cmpuint (size_of (grading, 4)->fill_repeats, ==, 2);
  g_assert_cmpfloat (grading->cost, >=, free_grading->cost);
}

/* The price of a size's pins is what the family would cost less without them. */
static void
test_pin_price (void)
{
  g_autoptr (BwDesign) free_design = worked_example ();
  g_autoptr (BwGrading) free_grading = grade_well (free_design);
  g_autoptr (BwDesign) design = bw_design_copy (free_design);
  g_autoptr (BwGrading) grading = NULL;
  double dearer;

  hat_pin (design, "child", BW_PIN_BODY_STITCHES, 74);
  grading = grade_well (design);
  /* 74 sts are 493.3 mm and 72 are 480 mm, for 474.3 mm; tolerance 10 mm */
  dearer = pow ((74 / 0.15 - 474.3) / 10, 2) - pow ((72 / 0.15 - 474.3) / 10, 2);

  g_assert_cmpfloat_with_epsilon (size_of (grading, 1)->pin_price,
                                  grading->cost - free_grading->cost, 1e-12);
  g_assert_cmpfloat (fabs (size_of (grading, 1)->pin_price - dearer), <, 0.05);
  for (guint k = 0; k < 5; k++)
    if (k != 1)
      g_assert_cmpfloat (size_of (grading, k)->pin_price, ==, 0);
}

/* --- Alternatives --- */

/* What an alternative says the family would cost is what it costs when the
 * number is pinned and everything is chosen again. */
static void
check_alternative (const BwDesign      *design,
                   const char          *size,
                   BwPinKind            kind,
                   guint                value,
                   const BwAlternative *alternative)
{
  g_autoptr (BwDesign) pinned = bw_design_copy (design);
  g_autoptr (BwGrading) grading = NULL;

  hat_pin (pinned, size, kind, value);
  grading = grade (pinned);
  /* the audit of the rounds comes after the choice and may still refuse */
  if (grading->refused)
    g_assert_nonnull (find (grading, BW_FINDING_NO_POST, -1));
  else
    g_assert_cmpfloat_with_epsilon (grading->cost, alternative->cost, 1e-9);
}

/* The first of the list with another number than the chosen one is the best
 * with that number, whatever else it changes. */
static void
check_alternatives (const BwDesign  *design,
                    const BwGrading *grading,
                    guint            k)
{
  const BwGradedSize *size = size_of (grading, k);
  const BwAlternative *all = (const BwAlternative *) (void *) size->alternatives->data;
  const char *id = size->choice->size->id;
  g_autoptr (GHashTable) bodies = g_hash_table_new (NULL, NULL);
  g_autoptr (GHashTable) brims = g_hash_table_new (NULL, NULL);

  g_assert_cmpuint (all[0].body_stitches, ==, size->body_stitches);
  g_assert_cmpuint (all[0].crown_start, ==, size->crown_start);
  g_assert_cmpuint (all[0].wedges, ==, grading->wedges);
  g_assert_cmpfloat (all[0].cost, ==, grading->cost);
  for (guint i = 0; i < size->alternatives->len; i++)
    {
      g_assert_cmpfloat (all[i].cost, >=, grading->cost - 1e-9);
      if (i > 1)
        g_assert_cmpfloat (all[i].cost, >=, all[i - 1].cost - 1e-9);
      if (g_hash_table_add (bodies, GUINT_TO_POINTER (all[i].body_stitches)))
        check_alternative (design, id, BW_PIN_BODY_STITCHES, all[i].body_stitches, &all[i]);
      if (all[i].brim_count > 0 &&
          g_hash_table_add (brims, GUINT_TO_POINTER (all[i].brim_count)))
        check_alternative (design, id, BW_PIN_BRIM_COUNT, all[i].brim_count, &all[i]);
    }

  g_assert_cmpuint (g_hash_table_size (bodies), >, 1);
}

static void
test_alternatives (void)
{
  g_autoptr (BwDesign) design = worked_example ();
  g_autoptr (BwGrading) grading = NULL;

  design->rules.depth_tolerance_mm = 8;
  design->rules.adjust_weight = 0.05;
  hat_add_band (design, "raised-thirds", BW_BAND_FILL, 1);
  grading = grade_well (design);
  for (guint k = 0; k < 5; k++)
    check_alternatives (design, grading, k);
}

static void
test_alternatives_random (void)
{
  guint32 seed = (guint32) g_test_rand_int ();
  guint looked_at = 0;

  for (guint i = 0; looked_at < 150; i++)
    {
      g_autoptr (BwDesign) design = random_hat (reference, HATS_SMALL, seed + i);
      g_autoptr (BwGrading) grading = grade (design);
      guint k = i % design->sizes->len;

      if (grading->refused || design->pins->len > 0 || size_of (grading, k)->alternatives->len < 3)
        continue;
      if (size_of (grading, k)->alternatives->len > 1)
        looked_at++;
      for (guint j = 1; j < size_of (grading, k)->alternatives->len; j++)
        {
          const BwAlternative *other = &g_array_index (size_of (grading, k)->alternatives,
                                                       BwAlternative, j);

          /* the first with that body is the best with it */
          if (other->body_stitches == size_of (grading, k)->body_stitches)
            continue;
          check_alternative (design, size_of (grading, k)->choice->size->id,
                             BW_PIN_BODY_STITCHES, other->body_stitches, other);
          break;
        }
    }
}

/* --- Refusals --- */

static void
assert_refused (const BwDesign *design,
                BwFindingKind   kind,
                int             size)
{
  g_autoptr (BwGrading) grading = grade (design);
  const BwFinding *finding = find (grading, kind, size);

  g_assert_true (grading->refused);
  g_assert_cmpuint (grading->sizes->len, ==, 0);
  g_assert_nonnull (finding);
  g_assert_cmpint (finding->severity, ==, BW_SEVERITY_REFUSAL);
}

/* A brim 35 % smaller than the head that stretches by 67 % passes over it by
 * 8 %; one that stretches by 20 % does not. */
static void
test_brim_must_pass (void)
{
  g_autoptr (BwDesign) design = worked_example ();
  g_autoptr (BwGrading) grading = NULL;
  const BwFinding *finding;

  design->brim_ease.fraction = -0.35;
  grading = grade_well (design);
  g_assert_cmpfloat (size_of (grading, 0)->brim_stretched_mm, >=, 480);
  g_assert_cmpfloat_with_epsilon (size_of (grading, 0)->brim_stretched_mm,
                                  size_of (grading, 0)->brim_rows / 0.27 * 1.67, 1e-9);

  g_array_index (design->swatches, BwSwatch, 1).stretch = 0.2;
  assert_refused (design, BW_FINDING_BRIM_TOO_SMALL, 0);

  g_clear_pointer (&grading, bw_grading_free);
  grading = grade (design);
  finding = find (grading, BW_FINDING_BRIM_TOO_SMALL, 2);
  g_assert_cmpfloat (finding->a, <, 540);
  g_assert_cmpfloat (finding->b, ==, 540);
}

static void
test_girth_out_of_limit (void)
{
  g_autoptr (BwDesign) design = worked_example ();

  /* 446.4 mm is 66.96 stitches: the nearest multiple of 8 misses by 19.7 mm */
  design->crown.multiple_on_body = TRUE;
  hat_set_wedges (design, 8);
  design->rules.girth_limit_mm = 19;
  assert_refused (design, BW_FINDING_GIRTH_OUT_OF_LIMIT, 0);
}

static void
test_impossible_pins (void)
{
  static const struct { BwPinKind kind; guint value; } impossible[] = {
    { BW_PIN_BODY_STITCHES, 75 }, /* with a crown of 6 wedges forced on it */
    { BW_PIN_BRIM_COUNT, 107 },   /* rows of a sideways brim are even */
  };

  for (guint i = 0; i < G_N_ELEMENTS (impossible); i++)
    {
      g_autoptr (BwDesign) design = worked_example ();

      hat_set_wedges (design, 6);
      design->crown.multiple_on_body = TRUE;
      design->rules.least_step = 0;
      hat_pin (design, "toddler", impossible[i].kind, impossible[i].value);
      assert_refused (design, BW_FINDING_PIN_IMPOSSIBLE, 0);
    }
}

/* A crown start that no allowed wedge count divides. */
static void
test_impossible_crown (void)
{
  g_autoptr (BwDesign) design = worked_example ();

  hat_set_wedges (design, 6);
  hat_pin (design, "toddler", BW_PIN_CROWN_START, 64);
  assert_refused (design, BW_FINDING_NO_WEDGES, 0);
}

/* More than two stitches in a row end, or three row ends missed. */
static void
test_pick_up_limits (void)
{
  g_autoptr (BwDesign) design = worked_example ();

  hat_pin (design, "toddler", BW_PIN_BODY_STITCHES, 66);
  hat_pin (design, "toddler", BW_PIN_BRIM_COUNT, 200);
  assert_refused (design, BW_FINDING_PICK_UP, 0);
}

int
main (int    argc,
      char **argv)
{
  static const struct { const char *path; GTestFunc test; } tests[] = {
    { "/grade/example/band", test_example_band },
    { "/grade/example/collisions", test_example_collisions },
    { "/grade/example/refused", test_example_refused },
    { "/grade/example/set-up", test_example_set_up },
    { "/grade/pins/kept", test_pins },
    { "/grade/pins/price", test_pin_price },
    { "/grade/alternatives/example", test_alternatives },
    { "/grade/alternatives/random", test_alternatives_random },
    { "/grade/refused/brim", test_brim_must_pass },
    { "/grade/refused/girth", test_girth_out_of_limit },
    { "/grade/refused/pins", test_impossible_pins },
    { "/grade/refused/crown", test_impossible_crown },
    { "/grade/refused/pick-up", test_pick_up_limits },
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
