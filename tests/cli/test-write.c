#include <string.h>

#include "run.h"

/* Every instruction of the table of rounds stands in the full pattern of the
 * size, as often as it is worked, with its count behind it. */
static void
test_full (void)
{
  g_autofree char *path = write_design ("write.hat", family ());
  g_auto (Run) table_run = { 0 };
  g_auto (Run) text_run = { 0 };
  g_autoptr (GPtrArray) table = NULL;
  const char *at;
  guint checked = 0;

  run_with (&table_run, NULL, "grade", path, "--csv", "rounds", "--size", "medium", NULL);
  run_with (&text_run, NULL, "write", path, "--size", "medium", "--full", NULL);
  g_assert_cmpstr (text_run.err, ==, "");
  g_assert_cmpint (text_run.status, ==, 0);

  table = parse_csv (table_run.out);
  at = strstr (text_run.out, "\nInstructions\n");
  g_assert_nonnull (at);
  for (guint i = 1; i < table->len; i++)
    {
      g_autofree char *line = NULL;

      if (number (table, i, "round") < 1)
        continue;
      line = g_strdup_printf (" %.0f: %s (%.0f sts)\n", number (table, i, "round"),
                              cell (table, i, "instruction"), number (table, i, "stitches_out"));
      at = strstr (at, line);
      g_assert_nonnull (at);
      at += strlen (line) - 1;
      checked++;
    }
  g_assert_cmpuint (checked, >, 20);
}

/* All sizes in one text name every size once, in order, and both editions are
 * written from the same design. */
static void
test_all_sizes (void)
{
  g_autofree char *path = write_design ("write.hat", family ());
  g_auto (Run) uk = { 0 };
  g_auto (Run) us = { 0 };

  run_with (&uk, NULL, "write", path, "--terms", "uk", NULL);
  run_with (&us, NULL, "write", path, "--terms", "us", NULL);
  g_assert_cmpint (uk.status, ==, 0);
  g_assert_cmpint (us.status, ==, 0);
  g_assert_nonnull (strstr (uk.out, "\nTension\n"));
  g_assert_nonnull (strstr (us.out, "\nGauge\n"));
  g_assert_nonnull (strstr (uk.out, "dc2tog"));
  g_assert_null (strstr (us.out, "dc2tog: double"));
  g_assert_nonnull (strstr (us.out, "sc2tog: single crochet two together"));
  g_assert_null (strstr (us.out, "yarn round hook"));
}

/* Without a brim there is no gauge of one. */
static void
test_no_brim (void)
{
  g_autoptr (GString) text = g_string_new (family ());
  g_autofree char *path = NULL;
  g_auto (Run) with = { 0 };
  g_auto (Run) without = { 0 };

  path = write_design ("with.hat", text->str);
  run_with (&with, NULL, "write", path, NULL);
  g_assert_cmpint (with.status, ==, 0);
  g_assert_nonnull (strstr (with.out, "rows = 10 cm"));

  g_assert_cmpuint (g_string_replace (text, "kind=slip-rib\nheight=6 cm\nswatch=brim\n",
                                      "kind=none\n", 1), ==, 1);
  g_free (path);
  path = write_design ("without.hat", text->str);
  run_with (&without, NULL, "write", path, NULL);
  g_assert_cmpint (without.status, ==, 0);
  g_assert_null (strstr (without.out, "rows = 10 cm"));
}

/* Staggered decreases of sizes with an odd and an even number of them: the
 * rounds are alike from the close backwards, so no line is for some sizes only. */
static void
test_staggered (void)
{
  g_autofree char *path = g_test_build_filename (G_TEST_DIST, "..", "..", "data", "designs",
                                                 "coble.hat", NULL);
  g_auto (Run) run = { 0 };
  g_auto (GStrv) lines = NULL;
  const char *crown;
  guint staggered = 0;

  run_with (&run, NULL, "write", path, "--terms", "us", NULL);
  g_assert_cmpint (run.status, ==, 0);
  crown = strstr (run.out, "\nCrown\n");
  g_assert_nonnull (crown);
  lines = g_strsplit (crown, "\n", -1);
  for (guint i = 0; lines[i] != NULL && !g_str_equal (lines[i], "Closing"); i++)
    {
      g_assert_null (strstr (lines[i], "only"));
      staggered += strstr (lines[i], "[4 hdc, hdc2tog, 3 hdc] 8 times") != NULL;
    }
  g_assert_cmpuint (staggered, ==, 1);
}

/* A taller size changes colour more often, and has more ends to weave in. */
static void
test_ends (void)
{
  g_autofree char *demo = g_test_build_filename (G_TEST_DIST, "..", "..", "data", "designs",
                                                 "smack.hat", NULL);
  g_autofree char *text = NULL;
  g_autoptr (GString) striped = NULL;
  g_autofree char *path = NULL;
  g_auto (Run) run = { 0 };

  g_assert_true (g_file_get_contents (demo, &text, NULL, NULL));
  striped = g_string_new (text);
  g_assert_cmpuint (g_string_replace (striped, "mode=fill\namount=0\nstripe=A 1\n",
                                      "mode=fill\namount=0\nstripe=A 1, B 1\n", 1), ==, 1);
  g_string_append (striped, "\n[Finishing]\ncarry-height=1 mm\n");
  path = write_design ("striped.hat", striped->str);
  run_with (&run, NULL, "write", path, NULL);
  g_assert_cmpint (run.status, ==, 0);
  g_assert_nonnull (strstr (run.out, "Weave in 22 (22, 26) ends, each three ways"));
}

static void
test_errors (void)
{
  g_autofree char *path = write_design ("write.hat", family ());
  g_auto (Run) run = { 0 };

  run_with (&run, NULL, "write", path, "--full", NULL);
  g_assert_cmpint (run.status, ==, 2);
  g_assert_nonnull (strstr (run.err, "--size"));
}

int
main (int    argc,
      char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/write/full", test_full);
  g_test_add_func ("/write/all-sizes", test_all_sizes);
  g_test_add_func ("/write/no-brim", test_no_brim);
  g_test_add_func ("/write/staggered", test_staggered);
  g_test_add_func ("/write/ends", test_ends);
  g_test_add_func ("/write/errors", test_errors);
  return g_test_run ();
}
