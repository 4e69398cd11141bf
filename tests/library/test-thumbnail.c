#include "graded.h"
#include "library-fixture.h"

#include "bw-library-exchange.h"
#include "bw-library-revision.h"
#include "bw-library-thumbnail.h"

static void
set_picture (Fixture    *fixture,
             gint64      id,
             gint64      version,
             const char *text)
{
  g_autoptr (GBytes) picture = g_bytes_new (text, strlen (text));
  g_autoptr (GError) error = NULL;

  g_assert_true (bw_library_set_thumbnail (fixture->library, id, version, picture, &error));
  g_assert_no_error (error);
}

static void
assert_picture (Fixture    *fixture,
                gint64      id,
                gint64      version,
                const char *text)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GBytes) picture = bw_library_get_thumbnail (fixture->library, id, version, &error);

  if (text == NULL)
    {
      g_assert_null (picture);
      g_assert_error (error, BW_LIBRARY_ERROR, BW_LIBRARY_ERROR_MISSING);
      return;
    }
  g_assert_no_error (error);
  g_assert_cmpmem (g_bytes_get_data (picture, NULL), g_bytes_get_size (picture), text,
                   strlen (text));
}

static void
test_versions (Fixture       *fixture,
               gconstpointer  data)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (70);
  g_autoptr (GError) error = NULL;
  gint64 id = add_random (fixture, rand);
  gint64 version;
  g_autoptr (BwDesign) design = bw_library_load (fixture->library, id, &version, &error);
  g_autoptr (BwLibraryEntry) entry = NULL;
  BwLibraryEdit edit = { .label = "Brim", .version = version };

  (void) data;
  assert_picture (fixture, id, version, NULL);
  set_picture (fixture, id, version, "first");
  set_picture (fixture, id, version, "again");
  fixture_reopen (fixture);
  assert_picture (fixture, id, version, "again");

  /* drawing it is no change of the design */
  entry = bw_library_get_entry (fixture->library, id, &error);
  g_assert_cmpint (entry->version, ==, version);

  design->brim.height_mm += 1.0;
  g_assert_true (bw_library_save (fixture->library, id, design, &edit, &error));
  g_assert_no_error (error);
  assert_picture (fixture, id, edit.version, NULL);
  set_picture (fixture, id, edit.version, "second");
  assert_picture (fixture, id, version, NULL);
  g_assert_true (bw_library_undo (fixture->library, id, NULL, &error));
  design->brim.height_mm -= 1.0;
  assert_stored (fixture->library, id, design);

  g_assert_true (bw_library_set_thumbnail (fixture->library, id, 1, NULL, &error));
  assert_picture (fixture, id, edit.version, NULL);
  assert_sound (fixture->library);
}

static void
test_refused (Fixture       *fixture,
              gconstpointer  data)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (71);
  g_autoptr (GError) error = NULL;
  gint64 id = add_random (fixture, rand);
  g_autoptr (GBytes) large = g_bytes_new_take (g_malloc0 (BW_LIBRARY_THUMBNAIL_MAX + 1),
                                               BW_LIBRARY_THUMBNAIL_MAX + 1);
  g_autoptr (GBytes) largest = g_bytes_new_from_bytes (large, 0, BW_LIBRARY_THUMBNAIL_MAX);
  guint n_removed, n_kept;
  g_autofree char *left = NULL;

  (void) data;
  g_assert_false (bw_library_set_thumbnail (fixture->library, id, 1, large, &error));
  g_assert_error (error, BW_LIBRARY_ERROR, BW_LIBRARY_ERROR_INVALID);
  g_clear_error (&error);
  g_assert_false (bw_library_set_thumbnail (fixture->library, id + 1, 1, largest, &error));
  g_assert_error (error, BW_LIBRARY_ERROR, BW_LIBRARY_ERROR_INVALID);
  g_clear_error (&error);
  g_assert_true (bw_library_set_thumbnail (fixture->library, id, 1, largest, &error));
  g_assert_no_error (error);

  /* it goes with its design */
  g_assert_true (bw_library_bin (fixture->library, id, &error));
  g_assert_true (bw_library_empty_bin (fixture->library, FALSE, &n_removed, &n_kept, &error));
  g_assert_no_error (error);
  left = sql_text (fixture->path, "SELECT count (*) FROM design_thumbnail");
  g_assert_cmpstr (left, ==, "0");
  assert_sound (fixture->library);
}

/* Neither a revision nor what is exported has any of it. */
static void
test_stays_behind (Fixture       *fixture,
                   gconstpointer  data)
{
  g_autofree char *folder = g_build_filename (fixture->folder, "out", NULL);
  g_autofree char *table = g_build_filename (folder, "tables", "design_thumbnail.csv", NULL);
  g_autoptr (GPtrArray) problems = g_ptr_array_new_with_free_func (g_free);
  g_autoptr (BwDesign) design = read_design (fixture->reference, "oracle.hat");
  g_autoptr (BwGrading) grading = grade (fixture->reference, design);
  g_autoptr (GError) error = NULL;
  g_autofree char *before = NULL;
  g_autofree char *after = NULL;
  guint number;
  gint64 id;
  static const char revisions[] =
    "SELECT group_concat (name || note || number || design_text) FROM revision";

  (void) data;
  g_assert_true (bw_library_add (fixture->library, design, &id, &error));
  g_assert_true (bw_library_revise (fixture->library, id, grading, "", &number, &error));
  before = sql_text (fixture->path, revisions);
  set_picture (fixture, id, 1, "picture");
  after = sql_text (fixture->path, revisions);
  g_assert_cmpstr (before, ==, after);
  g_assert_true (bw_library_export_all (fixture->library, fixture->reference, folder, problems,
                                        &error));
  g_assert_no_error (error);
  g_assert_false (g_file_test (table, G_FILE_TEST_EXISTS));
}

int
main (int    argc,
      char **argv)
{
  g_test_init (&argc, &argv, NULL);

#define ADD(path, function) \
  g_test_add ("/library/thumbnail/" path, Fixture, NULL, fixture_set_up, function, \
              fixture_tear_down)
  ADD ("versions", test_versions);
  ADD ("refused", test_refused);
  ADD ("stays-behind", test_stays_behind);

  return g_test_run ();
}
