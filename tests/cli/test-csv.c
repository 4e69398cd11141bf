/* The tables for spreadsheets: columns, quoting, decimals, and that they hold
 * what the core graded. */

#include <math.h>
#include <string.h>

#include "bw-design-file.h"
#include "bw-grade.h"
#include "bw-reference-builtin.h"

#include "run.h"

#define ROUNDS_HEADER "size,section,round,colour,instruction,stitches_in,stitches_out,girth_mm," \
                      "height_mm,yarn_m\r\n"
#define SIZES_HEADER "size,head_mm,body_target_mm,body_stitches,girth_mm,girth_u95_mm,brim_rows," \
                     "brim_stitches,brim_mm,crown_start,wedges,rounds,depth_target_mm,depth_mm," \
                     "yarn_m,yarn_g,cost\r\n"

/* The same design, graded here. */
typedef struct
{
  BwReference *reference;
  BwGrading   *grading;
} Graded;

static void
graded_clear (Graded *graded)
{
  g_clear_pointer (&graded->grading, bw_grading_free);
  g_clear_pointer (&graded->reference, bw_reference_free);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Graded, graded_clear)

static void
grade_here (Graded     *graded,
            const char *text)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (BwDesign) design = NULL;

  graded->reference = bw_reference_builtin (&error);
  g_assert_no_error (error);
  design = bw_design_from_text (graded->reference, text, strlen (text), &error);
  g_assert_no_error (error);
  graded->grading = bw_grade (graded->reference, design, &error);
  g_assert_no_error (error);
  g_assert_false (graded->grading->refused);
}

static const BwGradedSize *
size_at (const Graded *graded,
         guint         k)
{
  return g_ptr_array_index (graded->grading->sizes, k);
}

static GPtrArray *
table_of (const char *design,
          const char *which,
          const char *header)
{
  g_autofree char *path = write_design ("table.hat", design);
  g_auto (Run) run = { 0 };

  run_with (&run, NULL, "grade", path, "--csv", which, NULL);
  g_assert_cmpstr (run.err, ==, "");
  g_assert_cmpint (run.status, ==, 0);
  g_assert_true (g_str_has_prefix (run.out, header));
  return parse_csv (run.out);
}

static void
assert_near (double value,
             double expected,
             double step)
{
  g_assert_cmpfloat (fabs (value - expected), <=, step / 2 + 1e-9);
}

static void
test_sizes (void)
{
  g_autoptr (GPtrArray) table = table_of (family (), "sizes", SIZES_HEADER);
  g_auto (Graded) graded = { 0 };

  grade_here (&graded, family ());
  g_assert_cmpuint (table->len, ==, graded.grading->sizes->len + 1);
  for (guint k = 0; k < graded.grading->sizes->len; k++)
    {
      const BwGradedSize *size = size_at (&graded, k);

      g_assert_cmpstr (cell (table, k + 1, "size"), ==, size->choice->size->name);
      assert_near (number (table, k + 1, "head_mm"), size->head_mm, 0.1);
      assert_near (number (table, k + 1, "body_target_mm"), size->body_target_mm, 0.1);
      g_assert_cmpfloat (number (table, k + 1, "body_stitches"), ==, size->body_stitches);
      assert_near (number (table, k + 1, "girth_mm"), size->girth_mm, 0.1);
      assert_near (number (table, k + 1, "girth_u95_mm"), size->girth_u95_mm, 0.1);
      g_assert_cmpfloat (number (table, k + 1, "brim_rows"), ==, size->brim_rows);
      g_assert_cmpfloat (number (table, k + 1, "brim_stitches"), ==, size->brim_stitches);
      assert_near (number (table, k + 1, "brim_mm"), size->brim_mm, 0.1);
      g_assert_cmpfloat (number (table, k + 1, "crown_start"), ==, size->crown_start);
      g_assert_cmpfloat (number (table, k + 1, "wedges"), ==, size->wedges);
      g_assert_cmpfloat (number (table, k + 1, "rounds"), ==, size->n_rounds);
      assert_near (number (table, k + 1, "depth_target_mm"), size->depth_target_mm, 0.1);
      assert_near (number (table, k + 1, "depth_mm"), size->depth_mm, 0.1);
      assert_near (number (table, k + 1, "yarn_m"), size->yarn_m, 0.01);
      assert_near (number (table, k + 1, "yarn_g"), size->yarn_g, 0.01);
      g_assert_cmpstr (cell (table, k + 1, "cost"), ==, "");
    }
}

/* Without a ball's weight the grams are not known, and not nought. */
static void
test_unknown (void)
{
  g_auto (GStrv) parts = g_strsplit (family (), "ball-weight=100 g\n", 2);
  g_autofree char *unweighed = g_strconcat (parts[0], parts[1], NULL);
  g_autoptr (GPtrArray) table = table_of (unweighed, "sizes", SIZES_HEADER);

  for (guint row = 1; row < table->len; row++)
    {
      g_assert_cmpfloat (number (table, row, "yarn_m"), >, 0);
      g_assert_cmpstr (cell (table, row, "yarn_g"), ==, "");
    }
}

/* With a price the last column is filled, and in proportion to the yarn. */
static void
test_cost (void)
{
  g_auto (GStrv) parts = g_strsplit (family (), "ball-weight=100 g\n", 2);
  g_autofree char *priced = g_strconcat (parts[0], "ball-weight=100 g\nball-price=8\n"
                                         "currency=GBP\n", parts[1], NULL);
  g_autoptr (GPtrArray) table = table_of (priced, "sizes", SIZES_HEADER);
  g_auto (Graded) graded = { 0 };

  grade_here (&graded, priced);
  for (guint k = 0; k < graded.grading->sizes->len; k++)
    {
      g_assert_cmpfloat (size_at (&graded, k)->yarn_cost, >, 0);
      assert_near (number (table, k + 1, "cost"), size_at (&graded, k)->yarn_cost, 0.01);
    }
}

/* One line a round, and the lines add up by themselves. */
static void
test_rounds (void)
{
  g_autoptr (GPtrArray) table = table_of (family (), "rounds", ROUNDS_HEADER);
  g_auto (Graded) graded = { 0 };
  guint row = 1;

  grade_here (&graded, family ());
  for (guint k = 0; k < graded.grading->sizes->len; k++)
    {
      const BwGradedSize *size = size_at (&graded, k);
      const GArray *rounds = size->rounds->rounds;

      for (guint i = 0; i < rounds->len; i++, row++)
        {
          const BwRound *round = &g_array_index (rounds, BwRound, i);
          const char letter[] = { (char) ('A' + round->colour), '\0' };

          g_assert_cmpstr (cell (table, row, "size"), ==, size->choice->size->name);
          g_assert_cmpstr (cell (table, row, "section"), ==,
                           bw_section_id ((BwSection) round->section));
          g_assert_cmpfloat (number (table, row, "round"), ==, round->number);
          g_assert_cmpstr (cell (table, row, "colour"), ==, letter);
          g_assert_cmpstr (cell (table, row, "instruction"), !=, "");
          g_assert_cmpfloat (number (table, row, "stitches_in"), ==, round->stitches_in);
          g_assert_cmpfloat (number (table, row, "stitches_out"), ==, round->stitches_out);
          assert_near (number (table, row, "girth_mm"), round->girth_mm, 0.1);
          assert_near (number (table, row, "height_mm"), round->height_mm, 0.1);
          assert_near (number (table, row, "yarn_m"), round->yarn_m, 0.01);
          /* Above the brim every round takes what the one before it made */
          if (i > 0 && round->number > 1 && !round->row)
            g_assert_cmpstr (cell (table, row, "stitches_in"), ==,
                             cell (table, row - 1, "stitches_out"));
        }
    }
  g_assert_cmpuint (row, ==, table->len);
}

/* The first rows of a sideways brim are in the words of the craft: chain one
 * more than the stitches, and the first stitch goes into the second chain. */
static void
test_brim (void)
{
  g_autoptr (GPtrArray) table = table_of (family (), "rounds", ROUNDS_HEADER);
  guint stitches = (guint) number (table, 2, "stitches_out");
  g_autofree char *chain = g_strdup_printf ("Ch %u.", stitches + 1);

  g_assert_cmpstr (cell (table, 1, "instruction"), ==, chain);
  g_assert_cmpfloat (number (table, 1, "stitches_out"), ==, stitches + 1);
  g_assert_cmpstr (cell (table, 2, "instruction"), ==,
                   "ss in 2nd ch from hook and in each ch across");
  g_assert_cmpstr (cell (table, 3, "instruction"), ==, "ss BLO in each st across");
}

static void
test_one_size (void)
{
  g_autofree char *path = write_design ("family.hat", family ());
  const char *const names[] = { "medium", "Medium" };
  g_auto (Run) all = { 0 };

  run_with (&all, NULL, "grade", path, "--csv", "rounds", NULL);
  for (guint i = 0; i < G_N_ELEMENTS (names); i++)
    {
      g_auto (Run) run = { 0 };
      g_autoptr (GPtrArray) table = NULL;

      run_with (&run, NULL, "grade", path, "--csv", "rounds", "--size", names[i], NULL);
      table = parse_csv (run.out);
      g_assert_cmpuint (table->len, >, 10);
      for (guint row = 1; row < table->len; row++)
        g_assert_cmpstr (cell (table, row, "size"), ==, "Medium");
      /* They are the very lines of the whole table */
      g_assert_nonnull (strstr (all.out, strchr (run.out, '\n') + 1));
    }
}

/* A locale with a decimal comma, made for this test, changes nothing. */
static void
test_locale (void)
{
  g_autofree char *path = write_design ("family.hat", family ());
  g_autofree char *folder = g_path_get_dirname (path);
  g_autofree char *locale = g_build_filename (folder, "de_DE.UTF-8", NULL);
  const char *localedef[] = { "localedef", "-i", "de_DE", "-f", "UTF-8", locale, NULL };
  const char *control[] = { "/usr/bin/printf", "%.1f", "0", NULL };
  g_auto (GStrv) environment = g_get_environ ();
  g_autofree char *printed = NULL;
  g_auto (Run) german = { 0 };
  g_auto (Run) plain = { 0 };

  g_spawn_sync (NULL, (char **) localedef, NULL,
                G_SPAWN_SEARCH_PATH | G_SPAWN_STDOUT_TO_DEV_NULL | G_SPAWN_STDERR_TO_DEV_NULL,
                NULL, NULL, NULL, NULL, NULL, NULL);
  environment = g_environ_setenv (environment, "LOCPATH", folder, TRUE);
  environment = g_environ_setenv (environment, "LC_ALL", "de_DE.UTF-8", TRUE);
  g_spawn_sync (NULL, (char **) control, environment, G_SPAWN_DEFAULT, NULL, NULL, &printed, NULL,
                NULL, NULL);
  if (g_strcmp0 (printed, "0,0") != 0)
    {
      g_test_skip ("a German locale cannot be made here");
      return;
    }

  for (guint i = 0; i < 2; i++)
    {
      const char *which = i == 0 ? "sizes" : "rounds";

      run_with (&german, environment, "grade", path, "--csv", which, NULL);
      run_with (&plain, NULL, "grade", path, "--csv", which, NULL);
      g_assert_cmpint (german.status, ==, 0);
      g_assert_cmpstr (german.out, ==, plain.out);
    }
  run_with (&german, environment, "grade", path, NULL);
  run_with (&plain, NULL, "grade", path, NULL);
  g_assert_cmpstr (german.out, ==, plain.out);
}

/* In the C locale names beyond ASCII pass unharmed, as arguments too. */
static void
test_c_locale (void)
{
  g_autofree char *path = write_design ("family.hat", family ());
  g_auto (GStrv) environment = g_environ_setenv (g_get_environ (), "LC_ALL", "C", TRUE);
  g_auto (Run) run = { 0 };

  run_with (&run, environment, "grade", path, "--csv", "sizes", "--size", "Größe L", NULL);
  g_assert_cmpint (run.status, ==, 0);
  g_assert_nonnull (strstr (run.out, "\r\nGröße L,"));
}

static void
test_quoting (void)
{
  g_autofree char *path = write_design ("family.hat", family ());
  g_auto (Run) run = { 0 };

  run_with (&run, NULL, "grade", path, "--csv", "sizes", NULL);
  g_assert_nonnull (strstr (run.out, "\r\n\"Small, say \"\"ten\"\"\",510.0,"));
}

int
main (int    argc,
      char **argv)
{
  g_test_init (&argc, &argv, NULL);

  g_test_add_func ("/cli/csv/sizes", test_sizes);
  g_test_add_func ("/cli/csv/unknown", test_unknown);
  g_test_add_func ("/cli/csv/cost", test_cost);
  g_test_add_func ("/cli/csv/rounds", test_rounds);
  g_test_add_func ("/cli/csv/brim", test_brim);
  g_test_add_func ("/cli/csv/one-size", test_one_size);
  g_test_add_func ("/cli/csv/locale", test_locale);
  g_test_add_func ("/cli/csv/c-locale", test_c_locale);
  g_test_add_func ("/cli/csv/quoting", test_quoting);

  return g_test_run ();
}
