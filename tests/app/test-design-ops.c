#include "app-fixture.h"
#include "bw-design-ops.h"

/* Adding, taking away, moving: what is done can be graded and taken back. */

static void
test_add_and_remove (void)
{
  static const BwGroupId groups[] = { BW_GROUP_COLOUR, BW_GROUP_SWATCH, BW_GROUP_SIZE,
                                      BW_GROUP_BAND };
  g_autoptr (BwReference) reference = bw_reference_builtin (NULL);

  for (guint i = 0; i < G_N_ELEMENTS (groups); i++)
    {
      g_autoptr (BwDesign) design = fixture_design (reference, "lugger");
      g_autoptr (BwDesign) before = bw_design_copy (design);
      g_autoptr (GError) error = NULL;
      guint n = bw_design_ops_count (design, groups[i]);

      g_assert_true (bw_design_ops_add (reference, design, groups[i]));
      g_assert_cmpuint (bw_design_ops_count (design, groups[i]), ==, n + 1);
      g_assert_true (bw_design_check (reference, design, &error));
      g_assert_no_error (error);
      if (groups[i] == BW_GROUP_SIZE)
        continue;
      g_assert_true (bw_design_ops_remove (design, groups[i], n));
      g_assert_true (bw_design_equal (design, before));
    }
}

static void
test_limits (void)
{
  g_autoptr (BwReference) reference = bw_reference_builtin (NULL);
  g_autoptr (BwDesign) design = fixture_design (reference, "lugger");
  guint guard;

  for (guard = 0; guard < 100 && bw_design_ops_add (reference, design, BW_GROUP_BAND); guard++)
    ;
  g_assert_cmpuint (design->bands->len, ==, BW_DESIGN_BANDS_MAX);
  for (guard = 0; guard < 100 && bw_design_ops_add (reference, design, BW_GROUP_SIZE); guard++)
    ;
  g_assert_cmpuint (design->sizes->len, ==, BW_DESIGN_SIZES_MAX);
  for (guint i = 1; i < design->sizes->len; i++)
    g_assert_cmpfloat (g_array_index (design->sizes, BwSizeChoice, i).size->head_mm, >=,
                       g_array_index (design->sizes, BwSizeChoice, i - 1).size->head_mm);
  while (design->sizes->len > 1)
    g_assert_true (bw_design_ops_remove (design, BW_GROUP_SIZE, 0));
  g_assert_false (bw_design_ops_remove (design, BW_GROUP_SIZE, 0));
}

static void
test_move (void)
{
  g_autoptr (BwReference) reference = bw_reference_builtin (NULL);
  g_autoptr (BwDesign) design = fixture_design (reference, "lugger");
  g_autoptr (BwDesign) before = NULL;
  g_autofree char *first = NULL;

  g_assert_true (bw_design_ops_add (reference, design, BW_GROUP_BAND));
  before = bw_design_copy (design);
  first = g_strdup (g_array_index (design->bands, BwBand, 0).name);
  g_assert_true (bw_design_ops_move (design, BW_GROUP_BAND, 0, 2));
  g_assert_cmpstr (g_array_index (design->bands, BwBand, 2).name, ==, first);
  g_assert_true (bw_design_ops_move (design, BW_GROUP_BAND, 2, 0));
  g_assert_true (bw_design_equal (design, before));
  g_assert_false (bw_design_ops_move (design, BW_GROUP_BAND, 0, 3));
  g_assert_false (bw_design_ops_move (design, BW_GROUP_BAND, 1, 1));
}

/* A size takes its pins along; a pin is there once. */
static void
test_pins (void)
{
  g_autoptr (BwReference) reference = bw_reference_builtin (NULL);
  g_autoptr (BwDesign) design = fixture_design (reference, "lugger");
  g_autofree char *id = g_strdup (g_array_index (design->sizes, BwSizeChoice, 2).size->id);

  bw_design_ops_pin (design, id, BW_PIN_BODY_STITCHES, 66);
  bw_design_ops_pin (design, id, BW_PIN_BODY_STITCHES, 68);
  g_assert_cmpuint (design->pins->len, ==, 1);
  g_assert_cmpuint (bw_design_find_pin (design, id, BW_PIN_BODY_STITCHES)->value, ==, 68);
  g_assert_true (bw_design_ops_unpin (design, id, BW_PIN_BODY_STITCHES));
  g_assert_false (bw_design_ops_unpin (design, id, BW_PIN_BODY_STITCHES));

  bw_design_ops_pin (design, id, BW_PIN_CROWN_START, 72);
  g_assert_true (bw_design_ops_remove (design, BW_GROUP_SIZE, 2));
  g_assert_cmpuint (design->pins->len, ==, 0);
  g_assert_true (bw_design_check (reference, design, NULL));
}

int
main (int    argc,
      char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/app/design-ops/add-and-remove", test_add_and_remove);
  g_test_add_func ("/app/design-ops/limits", test_limits);
  g_test_add_func ("/app/design-ops/move", test_move);
  g_test_add_func ("/app/design-ops/pins", test_pins);

  return g_test_run ();
}
