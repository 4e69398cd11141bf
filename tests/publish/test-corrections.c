#include <glib/gstdio.h>
#include <string.h>

#include "bw-corrections.h"
#include "bw-library-design.h"
#include "bw-publish-many.h"
#include "family.h"

/* Revisions and their corrections, in words, in either terms; and designs
 * published from a library. */

typedef struct
{
  char      *folder;
  BwLibrary *library;
} Fixture;

static BwReference *reference;

static void
set_up (Fixture       *fixture,
        G_GNUC_UNUSED gconstpointer data)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *path = NULL;

  fixture->folder = g_dir_make_tmp ("bw-corrections-XXXXXX", &error);
  g_assert_no_error (error);
  path = g_build_filename (fixture->folder, "library.db", NULL);
  fixture->library = bw_library_open (path, BW_LIBRARY_OPEN_CREATE, &error);
  g_assert_no_error (error);
}

static void
remove_tree (const char *path)
{
  g_autoptr (GDir) dir = g_dir_open (path, 0, NULL);
  const char *name;

  while (dir != NULL && (name = g_dir_read_name (dir)) != NULL)
    {
      g_autofree char *inner = g_build_filename (path, name, NULL);

      remove_tree (inner);
    }
  if (dir != NULL)
    g_rmdir (path);
  else
    g_unlink (path);
}

static void
tear_down (Fixture       *fixture,
           G_GNUC_UNUSED gconstpointer data)
{
  g_clear_pointer (&fixture->library, bw_library_close);
  remove_tree (fixture->folder);
  g_free (fixture->folder);
}

static gint64
add (Fixture        *fixture,
     const BwDesign *design)
{
  g_autoptr (GError) error = NULL;
  gint64 id;

  bw_library_add (fixture->library, design, &id, &error);
  g_assert_no_error (error);
  return id;
}

/* Saves the design, grades it and makes a revision of it. */
static BwGrading *
revise (Fixture        *fixture,
        gint64          id,
        const BwDesign *design,
        guint           expected)
{
  g_autoptr (GError) error = NULL;
  BwLibraryEdit edit = { .label = "test" };
  BwGrading *grading;
  guint number;

  bw_library_save (fixture->library, id, design, &edit, &error);
  g_assert_no_error (error);
  grading = bw_grade (reference, design, &error);
  g_assert_no_error (error);
  g_assert_false (grading->refused);
  bw_library_revise (fixture->library, id, grading, "", &number, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (number, ==, expected);
  return grading;
}

static char *
lines (Fixture         *fixture,
       gint64           id,
       guint            from,
       guint            to,
       const BwGrading *view)
{
  g_autoptr (GError) error = NULL;
  g_auto (GStrv) strings = bw_correction_lines (fixture->library, id, from, to, view, &error);

  g_assert_no_error (error);
  return g_strjoinv ("\n", strings);
}

/* A higher brim: the chain, its rows as one sentence, the join; nothing above it. */
static void
test_brim (Fixture       *fixture,
           G_GNUC_UNUSED gconstpointer data)
{
  g_autoptr (BwGrading) demo = family_demo (reference, "lugger");
  g_autoptr (BwDesign) design = bw_design_copy (demo->design);
  gint64 id = add (fixture, design);
  BwGrading *first = revise (fixture, id, design, 1);
  g_autoptr (BwGrading) second = NULL;
  g_autofree char *text = NULL;
  g_autofree char *us = NULL;

  bw_grading_free (first);
  for (guint k = 0; k < design->sizes->len; k++)
    {
      BwPin pin = { g_strdup (g_array_index (design->sizes, BwSizeChoice, k).size->id),
                    BW_PIN_BRIM_HEIGHT, 8 };

      g_array_append_val (design->pins, pin);
    }
  second = revise (fixture, id, design, 2);
  text = lines (fixture, id, 1, 2, second);
  g_assert_nonnull (strstr (text, "Medium adult, Brim, Row 1: work ss in 2nd ch from hook and in each "
                                  "ch across (8 sts), not ss in 2nd ch from hook and in each ch "
                                  "across (6 sts).\n"));
  g_assert_nonnull (strstr (text, "Medium adult, Brim, Rows 2–120: work ss BLO in each st across "
                                  "(8 sts), not ss BLO in each st across (6 sts).\n"));
  g_assert_nonnull (strstr (text, "Newborn, Brim, Rows 2–78: "));
  g_assert_nonnull (strstr (text, "Joining the brim"));

  /* The same in the other terms */
  second->design->terms = BW_TERMS_US;
  us = lines (fixture, id, 1, 2, second);
  g_assert_nonnull (strstr (us, "Medium adult, Brim, Rows 2–120: work sl st BLO in each st across "
                                "(8 sts), not sl st BLO in each st across (6 sts).\n"));
  g_assert_null (strstr (us, " ss "));
}

/* The same design in US terms is another file and no correction at all. */
static void
test_terms_alone (Fixture       *fixture,
                  G_GNUC_UNUSED gconstpointer data)
{
  for (guint i = 0; i < G_N_ELEMENTS (demo_families); i++)
    {
      g_autoptr (BwGrading) demo = family_demo (reference, demo_families[i]);
      g_autoptr (BwDesign) design = bw_design_copy (demo->design);
      gint64 id = add (fixture, design);
      BwGrading *first = revise (fixture, id, design, 1);
      g_autoptr (BwGrading) second = NULL;
      g_autofree char *text = NULL;

      bw_grading_free (first);
      design->terms = BW_TERMS_US;
      second = revise (fixture, id, design, 2);
      text = lines (fixture, id, 1, 2, second);
      g_assert_cmpstr (text, ==, "");
    }
}

/* A colour more, a size less: told as such. */
static void
test_colour_and_size (Fixture       *fixture,
                      G_GNUC_UNUSED gconstpointer data)
{
  g_autoptr (BwGrading) demo = family_demo (reference, "lugger");
  g_autoptr (BwDesign) design = bw_design_copy (demo->design);
  gint64 id = add (fixture, design);
  BwGrading *first = revise (fixture, id, design, 1);
  g_autoptr (BwGrading) second = NULL;
  g_autofree char *text = NULL;

  bw_grading_free (first);
  design->brim.colour = 1;
  g_array_remove_index (design->sizes, 0);
  second = revise (fixture, id, design, 2);
  text = lines (fixture, id, 1, 2, second);
  g_assert_nonnull (strstr (text, "Medium adult, Brim, Rows 2–120: work it in B, not in A.\n"));
  g_assert_nonnull (strstr (text, "Newborn: this size is not in it any more."));
}

/* Nothing new: the number stays. Something new, or other rounds: it does not hold. */
static void
test_is_published (Fixture       *fixture,
                   G_GNUC_UNUSED gconstpointer data)
{
  g_autoptr (BwGrading) demo = family_demo (reference, "smack");
  g_autoptr (BwDesign) design = bw_design_copy (demo->design);
  gint64 id = add (fixture, design);
  g_autoptr (BwGrading) grading = NULL;
  g_autoptr (GError) error = NULL;
  BwGradedSize *size;
  BwRevision *last;

  g_assert_true (bw_library_is_published (fixture->library, id, demo, &last, &error));
  g_assert_null (last);
  grading = revise (fixture, id, design, 1);
  g_assert_true (bw_library_is_published (fixture->library, id, grading, &last, &error));
  g_assert_cmpuint (last->number, ==, 1);
  g_assert_cmpint (last->made_at, >, 0);
  bw_revision_free (last);

  /* the same text, graded otherwise, as another version of the program might */
  size = g_ptr_array_index (grading->sizes, 1);
  g_array_index (size->rounds->rounds, BwRound, 20).stitches_out++;
  g_assert_true (bw_library_is_published (fixture->library, id, grading, &last, &error));
  g_assert_null (last);
  g_array_index (size->rounds->rounds, BwRound, 20).stitches_out--;
  g_array_set_size (size->rounds->rounds, size->rounds->rounds->len - 1);
  g_assert_true (bw_library_is_published (fixture->library, id, grading, &last, &error));
  g_assert_null (last);

  g_free (grading->design->summary);
  grading->design->summary = g_strdup ("Another one");
  g_assert_true (bw_library_is_published (fixture->library, id, grading, &last, &error));
  g_assert_null (last);
}

static void
test_stems (void)
{
  static const char *const names[][2] = {
    { "Lugger", "lugger" }, { "  Fishing  Smack / No. 2 ", "fishing-smack-no-2" },
    { "../../etc/passwd", "etc-passwd" }, { "קטש", "קטש" }, { "Ünder <b>", "ünder-b" }, { "…", "" },
    { "con\nnew", "con-new" },
  };
  g_autofree char *long_name = g_strnfill (300, 'x');
  g_autofree char *long_stem = bw_publish_stem (long_name);

  for (guint i = 0; i < G_N_ELEMENTS (names); i++)
    {
      g_autofree char *stem = bw_publish_stem (names[i][0]);

      g_assert_cmpstr (stem, ==, names[i][1]);
    }
  g_assert_cmpuint (strlen (long_stem), <=, 80);
  g_assert_cmpuint (strlen (long_stem), >, 60);
}

int
main (int    argc,
      char **argv)
{
  int status;

  g_test_init (&argc, &argv, NULL);
  reference = bw_reference_builtin (NULL);
  g_assert_nonnull (reference);
  g_test_add ("/corrections/brim", Fixture, NULL, set_up, test_brim, tear_down);
  g_test_add ("/corrections/terms-alone", Fixture, NULL, set_up, test_terms_alone, tear_down);
  g_test_add ("/corrections/colour-and-size", Fixture, NULL, set_up, test_colour_and_size,
              tear_down);
  g_test_add ("/corrections/is-published", Fixture, NULL, set_up, test_is_published, tear_down);
  g_test_add_func ("/publish/stems", test_stems);
  status = g_test_run ();
  bw_reference_free (reference);
  return status;
}
