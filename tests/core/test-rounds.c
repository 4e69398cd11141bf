#include <glib.h>
#include <string.h>

#include "bw-reference-builtin.h"
#include "bw-rounds.h"

static BwReference *reference;

static BwRound *
append (BwRoundList *list, BwSection section, guint number, const char *stitch, guint count)
{
  BwItem item = bw_item_each (bw_stitch_find (reference->stitches, stitch), count);
  BwRound *round = bw_round_list_append (list, section, &item, 1);

  round->number = number;
  round->stitches_in = round->stitches_out = count;
  return round;
}

static void
test_runs (void)
{
  g_autoptr (BwRoundList) list = bw_round_list_new ();

  append (list, BW_SECTION_BAND, 1, "low", 60);
  append (list, BW_SECTION_BAND, 2, "low", 60);
  append (list, BW_SECTION_BAND, 3, "low", 60);
  append (list, BW_SECTION_BAND, 4, "low", 60)->colour = 1;
  append (list, BW_SECTION_BAND, 5, "tall", 60)->colour = 1;
  append (list, BW_SECTION_CROWN, 6, "tall", 60)->colour = 1;
  append (list, BW_SECTION_CROWN, 8, "tall", 60)->colour = 1;

  g_assert_cmpuint (bw_round_list_run (list, 0), ==, 3);
  g_assert_cmpuint (bw_round_list_run (list, 1), ==, 2);
  g_assert_cmpuint (bw_round_list_run (list, 3), ==, 1);
  g_assert_cmpuint (bw_round_list_run (list, 4), ==, 1);
  g_assert_cmpuint (bw_round_list_run (list, 5), ==, 1);
}

static void
test_print (void)
{
  g_autoptr (BwRoundList) list = bw_round_list_new ();
  g_autoptr (GString) out = g_string_new (NULL);
  BwRound *round = append (list, BW_SECTION_BRIM, 2, "slip", 9);

  round->row = TRUE;
  bw_round_print (reference->stitches, list, round, BW_TERMS_US, out);
  g_assert_cmpstr (out->str, ==, "sl st in each st across");
}

/* The words of CSV do not change. */
static void
test_sections (void)
{
  static const char *const words[] = { "brim", "join", "pick-up", "adjust", "band", "set-up",
                                       "crown", "close" };

  g_assert_cmpuint (G_N_ELEMENTS (words), ==, BW_SECTION_N);
  for (guint i = 0; i < G_N_ELEMENTS (words); i++)
    g_assert_cmpstr (bw_section_id ((BwSection) i), ==, words[i]);
}

int
main (int    argc,
      char **argv)
{
  int status;

  g_test_init (&argc, &argv, NULL);
  reference = bw_reference_builtin (NULL);
  g_assert_nonnull (reference);
  g_test_add_func ("/rounds/runs", test_runs);
  g_test_add_func ("/rounds/print", test_print);
  g_test_add_func ("/rounds/sections", test_sections);
  status = g_test_run ();
  bw_reference_free (reference);
  return status;
}
