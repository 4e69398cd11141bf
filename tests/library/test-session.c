#include "dump.h"
#include "graded.h"
#include "library-fixture.h"

#include "bw-library-private.h"
#include "bw-library-revision.h"
#include "bw-library-sizes.h"
#include "bw-library-swatch.h"
#include "bw-library-yarn.h"

/* Exchange between two machines: SQLite's session extension, as Debian's SQLite
 * has it, records what was done to one library and does it to a copy. */

static void
fill (Fixture *fixture)
{
  g_autofree char *kept = g_test_build_filename (G_TEST_DIST, "data", "library-3.db", NULL);
  g_autofree char *bytes = NULL;
  gsize length;

  g_clear_pointer (&fixture->library, bw_library_close);
  g_assert_true (g_file_get_contents (kept, &bytes, &length, NULL));
  g_assert_true (g_file_set_contents (fixture->path, bytes, (gssize) length, NULL));
  fixture_reopen (fixture);
}

static sqlite3_session *
record (BwLibrary *library)
{
  sqlite3_session *session = NULL;

  g_assert_cmpint (sqlite3session_create (library->db, "main", &session), ==, SQLITE_OK);
  for (guint i = 0; bw_library_table_names[i] != NULL; i++)
    g_assert_cmpint (sqlite3session_attach (session, bw_library_table_names[i]), ==, SQLITE_OK);

  return session;
}

/* Everything that can be done to a library, once. */
static void
work_designs (Fixture *fixture)
{
  static const char *const tags[] = { "exchange", "new", NULL };
  g_autoptr (BwDesign) fresh = read_design (fixture->reference, "oracle.hat");
  g_autoptr (BwGrading) grading = grade (fixture->reference, fresh);
  g_autoptr (GError) error = NULL;
  g_autoptr (BwDesign) design = bw_library_load (fixture->library, 1, NULL, &error);
  g_autoptr (GArray) colours = g_array_new (FALSE, FALSE, sizeof (BwColour));
  BwColour foam = { (char *) "Foam", 0xf0f4f8 };
  BwLibraryEdit edit = { .label = "Edit" };
  guint n_removed, n_kept, number;
  gint64 id;

  g_free (fresh->name);
  fresh->name = g_strdup ("Exchanged");
  g_assert_true (bw_library_add (fixture->library, fresh, &id, &error));
  g_assert_true (bw_library_set_tags (fixture->library, id, tags, &error));
  g_array_append_val (colours, foam);
  g_assert_true (bw_library_set_colourway (fixture->library, id, "Winter", colours, &error));
  g_assert_true (bw_library_revise (fixture->library, id, grading, "First", &number, &error));

  design->brim.height_mm += 3.0;
  g_array_set_size (design->bands, 1);
  g_array_set_size (design->pins, 0);
  g_assert_true (bw_library_save (fixture->library, 1, design, &edit, &error));
  g_assert_true (bw_library_undo (fixture->library, 1, NULL, &error));
  g_assert_true (bw_library_redo (fixture->library, 1, NULL, &error));
  g_assert_true (bw_library_bin (fixture->library, 5, &error));
  g_assert_true (bw_library_empty_bin (fixture->library, TRUE, &n_removed, &n_kept, &error));
  g_assert_true (bw_library_bin (fixture->library, 2, &error));
  g_assert_no_error (error);
}

static void
work_swatches (Fixture *fixture)
{
  const BwSizeTable *ours = g_ptr_array_index (fixture->reference->size_tables, 0);
  BwSizeTable own = { (char *) "pier", (char *) "Pier heads", (char *) "invented", ours->sizes,
                      BW_STATUS_READ };
  BwReading reading = { BW_READING_STITCHES, 20, 127, TRUE, BW_LAID_RELAXED };
  g_autoptr (BwLibraryYarn) yarn = bw_library_yarn_new ("Exchanged wool");
  g_autoptr (BwLibrarySwatch) swatch = bw_library_swatch_new ("Exchanged wool", 4.5, "plain-low");
  g_autoptr (GError) error = NULL;

  bw_library_yarn_add_fibre (yarn, "wool", 60);
  bw_library_yarn_add_fibre (yarn, "kapok", 40);
  bw_library_yarn_add_lot (yarn, "E1", "Mist", 4);
  g_assert_true (bw_library_save_yarn (fixture->library, yarn, &error));
  bw_library_swatch_add_reading (swatch, &reading, "middle");
  g_free (swatch->lot);
  swatch->lot = g_strdup ("E1");
  swatch->photo = g_bytes_new_static ("\x89PNG\0\xff", 6);
  g_assert_true (bw_library_save_swatch (fixture->library, swatch, &error));
  g_assert_true (bw_library_remove_swatch (fixture->library, 1, &error));
  g_assert_true (bw_library_save_size_table (fixture->library, fixture->reference, &own, &error));
  g_assert_no_error (error);
}

/* A reading goes with its swatch, so the reading's own deletion may find nothing
 * any more: that is what was wanted. */
static int
count_conflict (void                   *data,
                int                     conflict,
                sqlite3_changeset_iter *iterator)
{
  guint *n = data;
  const char *table = NULL;
  int n_columns, operation = 0, indirect;

  sqlite3changeset_op (iterator, &table, &n_columns, &operation, &indirect);
  if (conflict == SQLITE_CHANGESET_NOTFOUND && operation == SQLITE_DELETE)
    return SQLITE_CHANGESET_OMIT;

  g_test_message ("conflict %d at %s", conflict, table != NULL ? table : "foreign keys");
  (*n)++;

  return SQLITE_CHANGESET_ABORT;
}

static void
assert_equal (const char *a,
              const char *b)
{
  guint n_a, n_b;
  g_autofree char *first = dump_library (a, &n_a);
  g_autofree char *second = dump_library (b, &n_b);

  g_assert_cmpuint (n_a, >, 20);
  g_assert_cmpstr (first, ==, second);
}

/* What was recorded makes the copy equal, search included. */
static void
test_exchange (Fixture       *fixture,
               gconstpointer  data)
{
  g_autofree char *path = g_build_filename (fixture->folder, "theirs.db", NULL);
  g_autoptr (GError) error = NULL;
  g_autoptr (BwLibrary) theirs = NULL;
  g_autoptr (GPtrArray) found = NULL;
  g_autoptr (GPtrArray) yarns = NULL;
  sqlite3_session *session;
  guint n_conflicts = 0;
  void *changes = NULL;
  int length = 0;

  (void) data;
  fill (fixture);
  g_assert_true (bw_library_backup (fixture->library, path, &error));
  session = record (fixture->library);
  work_designs (fixture);
  work_swatches (fixture);
  g_assert_cmpint (sqlite3session_changeset (session, &length, &changes), ==, SQLITE_OK);
  sqlite3session_delete (session);
  g_assert_cmpint (length, >, 1000);

  theirs = bw_library_open (path, BW_LIBRARY_OPEN_DEFAULT, &error);
  g_assert_no_error (error);
  g_assert_cmpint (sqlite3changeset_apply (theirs->db, length, changes, NULL, count_conflict,
                                           &n_conflicts),
                   ==, SQLITE_OK);
  g_assert_cmpuint (n_conflicts, ==, 0);
  sqlite3_free (changes);

  assert_equal (fixture->path, path);
  assert_sound (theirs);
  found = bw_library_search (theirs, "exchanged new", 10, &error);
  g_assert_cmpuint (found->len, ==, 1);
  yarns = bw_library_list_yarns (theirs, "kapok", &error);
  g_assert_cmpuint (yarns->len, ==, 1);
}

/* Where the copy went another way meanwhile, the conflict is told and nothing of
 * it is done. */
static void
test_conflict (Fixture       *fixture,
               gconstpointer  data)
{
  g_autofree char *path = g_build_filename (fixture->folder, "theirs.db", NULL);
  g_autoptr (GError) error = NULL;
  g_autoptr (BwLibrary) theirs = NULL;
  g_autoptr (BwDesign) mine = NULL;
  g_autoptr (BwDesign) yours = NULL;
  BwLibraryEdit edit = { .label = "Edit" };
  sqlite3_session *session;
  guint n_conflicts = 0;
  void *changes = NULL;
  int length = 0;

  (void) data;
  fill (fixture);
  g_assert_true (bw_library_backup (fixture->library, path, &error));
  mine = bw_library_load (fixture->library, 1, NULL, &error);
  yours = bw_design_copy (mine);
  session = record (fixture->library);
  mine->brim.height_mm += 3.0;
  g_assert_true (bw_library_save (fixture->library, 1, mine, &edit, &error));
  g_assert_cmpint (sqlite3session_changeset (session, &length, &changes), ==, SQLITE_OK);
  sqlite3session_delete (session);

  theirs = bw_library_open (path, BW_LIBRARY_OPEN_DEFAULT, &error);
  edit.version = 0;
  yours->brim.height_mm += 5.0;
  g_assert_true (bw_library_save (theirs, 1, yours, &edit, &error));
  g_assert_cmpint (sqlite3changeset_apply (theirs->db, length, changes, NULL, count_conflict,
                                           &n_conflicts),
                   ==, SQLITE_ABORT);
  g_assert_cmpuint (n_conflicts, ==, 1);
  sqlite3_free (changes);
  assert_stored (theirs, 1, yours);
  assert_sound (theirs);
}

/* Every table that there is, is exchanged, or is said to stay behind. */
static void
test_tables (Fixture       *fixture,
             gconstpointer  data)
{
  g_autoptr (GString) others = g_string_new ("'undo_step', 'design_thumbnail'");
  g_autofree char *sql = NULL;
  g_autofree char *left = NULL;

  (void) data;
  for (guint i = 0; bw_library_table_names[i] != NULL; i++)
    g_string_append_printf (others, ", '%s'", bw_library_table_names[i]);
  sql = g_strdup_printf ("SELECT group_concat (name) FROM pragma_table_list WHERE type = 'table'"
                         " AND schema = 'main' AND name NOT LIKE 'sqlite_%%' AND name NOT IN (%s)",
                         others->str);
  left = sql_text (fixture->path, sql);
  g_assert_cmpstr (left, ==, NULL);
}

int
main (int    argc,
      char **argv)
{
  g_test_init (&argc, &argv, NULL);

#define ADD(path, function) \
  g_test_add ("/library/session/" path, Fixture, NULL, fixture_set_up, function, fixture_tear_down)
  ADD ("exchange", test_exchange);
  ADD ("conflict", test_conflict);
  ADD ("tables", test_tables);

  return g_test_run ();
}
