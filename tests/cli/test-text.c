/* The text for the terminal: what it must contain, reckoned from the tables. */

#include <stdlib.h>
#include <string.h>

#include "run.h"

static void
assert_has (const Run  *run,
            const char *text)
{
  if (strstr (run->out, text) == NULL)
    g_error ("“%s” is not in:\n%s", text, run->out);
}

static void
grade (Run        *run,
       const char *option,
       const char *value)
{
  g_autofree char *path = write_design ("family.hat", family ());

  run_with (run, NULL, "grade", path, option, value, NULL);
  g_assert_cmpstr (run->err, ==, "");
  g_assert_cmpint (run->status, ==, 0);
}

static GPtrArray *
table_of (const char *which)
{
  g_auto (Run) run = { 0 };

  grade (&run, "--csv", which);
  return parse_csv (run.out);
}

/* The line of the text that begins with a size's name and holds its figures. */
static char *
line_of (const Run  *run,
         const char *heading,
         const char *name)
{
  const char *from = strstr (run->out, heading);
  g_autofree char *start = g_strconcat ("\n  ", name, " ", NULL);

  g_assert_nonnull (from);
  from = strstr (from, start);
  g_assert_nonnull (from);
  return g_strndup (from + 1, strcspn (from + 1, "\n"));
}

static void
assert_word (const char *line,
             const char *word)
{
  g_auto (GStrv) words = g_strsplit_set (line, " ", -1);

  if (!g_strv_contains ((const char *const *) words, word))
    g_error ("no “%s” in “%s”", word, line);
}

/* The tables of the text say what the CSV says, in centimetres and in inches. */
static void
test_tables (void)
{
  g_autoptr (GPtrArray) sizes = table_of ("sizes");
  g_auto (Run) cm = { 0 };
  g_auto (Run) in = { 0 };

  grade (&cm, NULL, NULL);
  grade (&in, "--units", "in");
  assert_has (&cm, " = 10 cm ");
  assert_has (&in, " = 4 in ");
  for (guint row = 1; row < sizes->len; row++)
    {
      const char *name = cell (sizes, row, "size");
      g_autofree char *line = line_of (&cm, "\nSizes\n", name);
      g_autofree char *yarn = line_of (&cm, "\nYarn", name);
      g_autofree char *inches = line_of (&in, "\nSizes\n", name);
      g_autofree char *head_cm = g_strdup_printf ("%.1f", number (sizes, row, "head_mm") / 10);
      g_autofree char *head_in = g_strdup_printf ("%.2f", number (sizes, row, "head_mm") / 25.4);
      g_autofree char *chain = g_strdup_printf ("%.0f", number (sizes, row, "brim_stitches") + 1);
      g_autofree char *metres = g_strdup_printf ("%.0f", number (sizes, row, "yarn_m"));

      assert_word (line, cell (sizes, row, "body_stitches"));
      assert_word (line, cell (sizes, row, "brim_rows"));
      assert_word (line, cell (sizes, row, "crown_start"));
      assert_word (line, chain);
      assert_word (line, head_cm);
      assert_word (inches, head_in);
      assert_word (yarn, metres);
      assert_word (yarn, cell (sizes, row, "rounds"));
    }
}

/* Labels of rounds, folded or not, tile 1 to the last round without a gap. */
static void
assert_rounds_tile (const Run *run,
                    guint      rounds)
{
  g_autoptr (GRegex) label = g_regex_new ("^  [A-L]  Rnds? (\\d+)(?:–(\\d+))?: .+ \\(\\d+ sts?\\)$",
                                          G_REGEX_MULTILINE, 0, NULL);
  g_autoptr (GMatchInfo) match = NULL;
  guint next = 1;

  for (g_regex_match (label, run->out, 0, &match); g_match_info_matches (match);
       g_match_info_next (match, NULL))
    {
      g_autofree char *first = g_match_info_fetch (match, 1);
      g_autofree char *last = g_match_info_fetch (match, 2);

      g_assert_cmpint (atoi (first), ==, next);
      if (last != NULL && *last != '\0')
        g_assert_cmpint (atoi (last), >, atoi (first));
      next = 1 + (guint) atoi (last != NULL && *last != '\0' ? last : first);
    }
  g_assert_cmpuint (next - 1, ==, rounds);
}

/* Every size of a design, in text and table, in both terms and units. */
static void
assert_reads_well (const char *path)
{
  g_autoptr (GPtrArray) sizes = NULL;
  g_auto (Run) run = { 0 };

  run_with (&run, NULL, "grade", path, "--csv", "sizes", NULL);
  g_assert_cmpint (run.status, ==, 0);
  sizes = parse_csv (run.out);
  for (guint row = 1; row < sizes->len; row++)
    {
      const char *size = cell (sizes, row, "size");

      run_with (&run, NULL, "grade", path, "--size", size, "--terms", row % 2 == 0 ? "us" : "uk",
                "--units", row % 3 == 0 ? "in" : "cm", NULL);
      g_assert_cmpint (run.status, ==, 0);
      g_assert_true (g_utf8_validate (run.out, -1, NULL));
      g_assert_null (strstr (run.out, "(null)"));
      assert_rounds_tile (&run, (guint) number (sizes, row, "rounds"));
      run_with (&run, NULL, "explain", path, "--size", size, NULL);
      g_assert_cmpint (run.status, ==, 0);
      g_assert_null (strstr (run.out, "(null)"));
    }
}

static void
test_family (void)
{
  g_autofree char *path = write_design ("family.hat", family ());

  assert_reads_well (path);
}

static void
test_demos (void)
{
  static const char *const names[] = { "coble.hat", "lugger.hat", "smack.hat" };

  for (guint i = 0; i < G_N_ELEMENTS (names); i++)
    {
      g_autofree char *path = g_build_filename (g_getenv ("BW_DESIGNS"), names[i], NULL);

      assert_reads_well (path);
    }
}

/* The family with one line replaced: other ways of working, other brims. */
static void
test_variants (void)
{
  static const struct { const char *line, *with, *says; } variants[] = {
    { "name=Coble\n", "name=Coble\nrounds=spiral\n", "worked in a spiral" },
    { "name=Coble\n", "name=Coble\nchain-counts=yes\n", "which counts as" },
    { "kind=slip-rib\n", "kind=rolled\n", "without twisting it" },
    { "kind=slip-rib\n", "kind=low-rib\n", "dc BLO in each st across" },
    { "kind=slip-rib\n", "kind=slip-rib\nfolded=yes\n", "Turn the brim up" },
    { "kind=slip-rib\nheight=6 cm\nswatch=brim\n", "kind=none\n", "First round" },
    { "profile=round\n", "profile=flat\n", "flat top" },
    { "profile=round\n", "profile=tapered\n", "tapered crown" },
    { "profile=round\n", "profile=pointed\n", "pointed crown" },
    { "profile=round\n", "profile=gathered\n", "gathered crown" },
    { "profile=round\n", "profile=round\n[Finishing]\npompom=7 cm\npompom-colour=B\n",
      "Make a pom-pom 7 cm across in B (Foam)" },
    { "[Size small]\n", "[Finishing]\ncords=yes\n[Size small]\nmonths-from=48\n", "S02" },
    { "profile=round\n", "profile=round\n[Pins]\nmedium.body-stitches=75\n", "multiple of 3" },
  };

  for (guint i = 0; i < G_N_ELEMENTS (variants); i++)
    {
      g_auto (GStrv) parts = g_strsplit (family (), variants[i].line, 2);
      g_autofree char *text = NULL;
      g_autofree char *path = NULL;
      g_auto (Run) run = { 0 };
      g_auto (Run) why = { 0 };

      g_assert_nonnull (parts[1]);
      text = g_strconcat (parts[0], variants[i].with, parts[1], NULL);
      path = write_design ("variant.hat", text);
      run_with (&run, NULL, "grade", path, "--size", "medium", NULL);
      g_assert_cmpstr (run.err, ==, "");
      g_assert_cmpint (run.status, ==, 0);
      run_with (&why, NULL, "explain", path, "--size", "medium", NULL);
      if (strstr (run.out, variants[i].says) == NULL && strstr (why.out, variants[i].says) == NULL)
        g_error ("“%s” is not in:\n%s%s", variants[i].says, run.out, why.out);
      assert_reads_well (path);
    }
}

/* Each line of a round carries the instruction and count of the table. */
static void
test_rounds (void)
{
  g_autoptr (GPtrArray) rounds = table_of ("rounds");
  g_auto (Run) run = { 0 };
  guint seen = 0;

  grade (&run, "--all-sizes", NULL);
  for (guint row = 1; row < rounds->len; row++)
    {
      g_autofree char *line = NULL;

      if (number (rounds, row, "round") == 0)
        continue;
      line = g_strdup_printf (": %s (%s sts)\n", cell (rounds, row, "instruction"),
                              cell (rounds, row, "stitches_out"));
      assert_has (&run, line);
      seen++;
    }
  g_assert_cmpuint (seen, >, 100);
}

/* Without --size it is the middle one; --all-sizes has every one. */
static void
test_which_sizes (void)
{
  g_auto (Run) middle = { 0 };
  g_auto (Run) medium = { 0 };
  g_auto (Run) all = { 0 };

  grade (&middle, NULL, NULL);
  grade (&medium, "--size", "medium");
  grade (&all, "--all-sizes", NULL);
  g_assert_cmpstr (middle.out, ==, medium.out);
  assert_has (&all, "Rounds of Small, say \"ten\",");
  assert_has (&all, "Rounds of Medium,");
  assert_has (&all, "Rounds of Größe L,");
  g_assert_null (strstr (medium.out, "Rounds of Größe L,"));
}

/* UK double crochet is US single crochet, UK slip stitch "ss" is "sl st", and
 * the raised treble is a raised double. Only-UK words vanish from the US text. */
static void
test_terms (void)
{
  g_auto (Run) uk = { 0 };
  g_auto (Run) us = { 0 };

  grade (&uk, "--terms", "uk");
  grade (&us, "--terms", "us");
  assert_has (&uk, "UK terms");
  assert_has (&uk, "dc in each st around");
  assert_has (&uk, "FPtr");
  assert_has (&us, "US terms");
  assert_has (&us, "sc in each st around");
  assert_has (&us, "FPdc");
  g_assert_null (strstr (us.out, "FPtr"));
  g_assert_null (strstr (us.out, " ss "));
}

/* Where the colour changes the text says what becomes of the yarn. */
static void
test_yarn (void)
{
  g_auto (Run) run = { 0 };

  grade (&run, "--size", "medium");
  assert_has (&run, "\n       carry A up; join B\n");
  assert_has (&run, "; take up A\n");
  assert_has (&run, "\n How to measure\n");
}

static void
test_findings (void)
{
  g_auto (Run) run = { 0 };

  /* The band of the family has no swatch of its own and none is weighed */
  grade (&run, NULL, NULL);
  assert_has (&run, "Note G11, ");
  assert_has (&run, "Note G12\n");
}

static void
test_explain (void)
{
  g_autofree char *path = write_design ("family.hat", family ());
  g_autoptr (GPtrArray) sizes = table_of ("sizes");
  g_auto (Run) run = { 0 };

  for (guint row = 1; row < sizes->len; row++)
    {
      g_autofree char *body = g_strdup_printf ("Body stitches  %s: multiple of 3 (",
                                               cell (sizes, row, "body_stitches"));
      g_autofree char *brim = g_strdup_printf ("%s rows of %s stitches",
                                               cell (sizes, row, "brim_rows"),
                                               cell (sizes, row, "brim_stitches"));
      g_autofree char *wedges = g_strdup_printf ("%s wedges of %.0f", cell (sizes, row, "wedges"),
                                                 number (sizes, row, "crown_start") /
                                                   number (sizes, row, "wedges"));

      run_with (&run, NULL, "explain", path, "--size", cell (sizes, row, "size"), NULL);
      g_assert_cmpint (run.status, ==, 0);
      assert_has (&run, body);
      assert_has (&run, brim);
      assert_has (&run, wedges);
      assert_has (&run, "Next best choices\n");
      assert_has (&run, " more\n");
    }
}

static void
test_same_twice (void)
{
  g_auto (Run) first = { 0 };
  g_auto (Run) second = { 0 };

  grade (&first, "--all-sizes", NULL);
  grade (&second, "--all-sizes", NULL);
  g_assert_cmpstr (first.out, ==, second.out);
}

int
main (int    argc,
      char **argv)
{
  g_test_init (&argc, &argv, NULL);

  g_test_add_func ("/cli/text/tables", test_tables);
  g_test_add_func ("/cli/text/family", test_family);
  g_test_add_func ("/cli/text/demos", test_demos);
  g_test_add_func ("/cli/text/variants", test_variants);
  g_test_add_func ("/cli/text/rounds", test_rounds);
  g_test_add_func ("/cli/text/which-sizes", test_which_sizes);
  g_test_add_func ("/cli/text/terms", test_terms);
  g_test_add_func ("/cli/text/yarn", test_yarn);
  g_test_add_func ("/cli/text/findings", test_findings);
  g_test_add_func ("/cli/text/explain", test_explain);
  g_test_add_func ("/cli/text/same-twice", test_same_twice);

  return g_test_run ();
}
