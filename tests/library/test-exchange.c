#include "dump.h"
#include "graded.h"
#include "library-fixture.h"

#include "bw-library-exchange.h"
#include "bw-library-revision.h"
#include "bw-library-sizes.h"
#include "bw-library-swatch.h"
#include "bw-library-yarn.h"

/* A library with something in every table. */
static void
fill (Fixture *fixture)
{
  g_autofree char *kept = g_test_build_filename (G_TEST_DIST, "data", "library-3.db", NULL);
  g_autofree char *bytes = NULL;
  g_autoptr (GRand) rand = g_rand_new_with_seed (50);
  g_autoptr (GError) error = NULL;
  gsize length;

  g_clear_pointer (&fixture->library, bw_library_close);
  g_assert_true (g_file_get_contents (kept, &bytes, &length, NULL));
  g_assert_true (g_file_set_contents (fixture->path, bytes, (gssize) length, NULL));
  fixture_reopen (fixture);
  for (guint i = 0; i < 20; i++)
    add_random (fixture, rand);
  g_assert_true (bw_library_bin (fixture->library, 3, &error));
  g_assert_no_error (error);
}

static void
assert_design_files (Fixture    *fixture,
                     const char *folder)
{
  g_autofree char *designs = g_build_filename (folder, "designs", NULL);
  g_autoptr (GDir) dir = g_dir_open (designs, 0, NULL);
  const char *name;
  guint n = 0;

  while ((name = g_dir_read_name (dir)) != NULL)
    {
      g_autofree char *path = g_build_filename (designs, name, NULL);
      g_autofree char *text = NULL;
      g_autoptr (GError) error = NULL;
      g_autoptr (BwDesign) design = NULL;
      gsize length;

      g_assert_true (g_file_get_contents (path, &text, &length, NULL));
      design = bw_design_from_text (fixture->reference, text, length, &error);
      g_assert_no_error (error);
      assert_stored (fixture->library, g_ascii_strtoll (name, NULL, 10), design);
      n++;
    }
  g_assert_cmpuint (n, ==, 27);
}

/* Out and in again: every value of every table is equal. */
static void
test_round_trip (Fixture       *fixture,
                 gconstpointer  data)
{
  g_autofree char *folder = g_build_filename (fixture->folder, "out", NULL);
  g_autofree char *path = g_build_filename (fixture->folder, "again.db", NULL);
  g_autoptr (GPtrArray) problems = g_ptr_array_new_with_free_func (g_free);
  g_autoptr (GError) error = NULL;
  g_autoptr (BwLibrary) again = NULL;
  g_autofree char *before = NULL;
  g_autofree char *after = NULL;
  guint n_tables;

  (void) data;
  fill (fixture);
  g_assert_true (bw_library_export_all (fixture->library, fixture->reference, folder, problems,
                                        &error));
  g_assert_no_error (error);
  g_assert_cmpuint (problems->len, ==, 0);
  assert_design_files (fixture, folder);

  again = bw_library_open (path, BW_LIBRARY_OPEN_CREATE, &error);
  g_assert_true (bw_library_import_all (again, folder, &error));
  g_assert_no_error (error);
  assert_sound (again);
  before = dump_library (fixture->path, &n_tables);
  after = dump_library (path, &n_tables);
  g_assert_cmpstr (before, ==, after);
  g_assert_cmpuint (n_tables, ==, 26);

  /* only where there is nothing that could be lost */
  g_assert_false (bw_library_import_all (again, folder, &error));
  g_assert_error (error, BW_LIBRARY_ERROR, BW_LIBRARY_ERROR_EXISTS);
  g_clear_error (&error);
  g_assert_false (bw_library_export_all (again, fixture->reference, folder, problems, &error));
  g_assert_error (error, BW_LIBRARY_ERROR, BW_LIBRARY_ERROR_EXISTS);
}

/* A line that does not fit: it is named, and nothing is taken. */
static void
test_faulty (Fixture       *fixture,
             gconstpointer  data)
{
  g_autofree char *folder = g_build_filename (fixture->folder, "out", NULL);
  g_autofree char *table = g_build_filename (folder, "tables", "reading.csv", NULL);
  g_autofree char *path = g_build_filename (fixture->folder, "again.db", NULL);
  g_autoptr (GPtrArray) problems = g_ptr_array_new_with_free_func (g_free);
  g_autoptr (GError) error = NULL;
  g_autoptr (BwLibrary) again = NULL;
  g_autofree char *text = NULL;
  g_autofree char *left = NULL;
  g_autoptr (GString) changed = NULL;

  (void) data;
  fill (fixture);
  g_assert_true (bw_library_export_all (fixture->library, fixture->reference, folder, problems,
                                        &error));
  g_assert_true (g_file_get_contents (table, &text, NULL, NULL));
  changed = g_string_new (text);
  g_string_append (changed, "1,99,stitches,20,-5,,0,relaxed\r\n");
  g_assert_true (g_file_set_contents (table, changed->str, -1, NULL));

  again = bw_library_open (path, BW_LIBRARY_OPEN_CREATE, &error);
  g_assert_false (bw_library_import_all (again, folder, &error));
  g_assert_error (error, BW_LIBRARY_ERROR, BW_LIBRARY_ERROR_INVALID);
  g_test_message ("%s", error->message);
  g_assert_nonnull (strstr (error->message, "reading.csv, line 26"));
  left = sql_text (path, "SELECT (SELECT count (*) FROM yarn) + (SELECT count (*) FROM design)");
  g_assert_cmpstr (left, ==, "0");
}

/* Of a damaged library, what can be read goes out. */
static void
test_damaged (Fixture       *fixture,
              gconstpointer  data)
{
  g_autofree char *folder = g_build_filename (fixture->folder, "out", NULL);
  g_autofree char *designs = g_build_filename (folder, "designs", NULL);
  g_autofree char *root = NULL;
  g_autoptr (GPtrArray) problems = g_ptr_array_new_with_free_func (g_free);
  g_autoptr (GError) error = NULL;
  g_autoptr (GDir) dir = NULL;
  guint n = 0;
  FILE *file;

  (void) data;
  fill (fixture);
  g_assert_true (bw_library_vacuum (fixture->library, &error));
  root = sql_text (fixture->path, "SELECT rootpage FROM sqlite_schema WHERE name = 'reading'");
  g_clear_pointer (&fixture->library, bw_library_close);
  file = fopen (fixture->path, "r+b");
  fseek (file, (long) (g_ascii_strtoll (root, NULL, 10) - 1) * 4096, SEEK_SET);
  for (guint i = 0; i < 4096; i++)
    fputc (0x5a, file);
  fclose (file);

  fixture_reopen (fixture);
  g_assert_true (bw_library_export_all (fixture->library, fixture->reference, folder, problems,
                                        &error));
  g_assert_no_error (error);
  g_assert_cmpuint (problems->len, ==, 1);
  g_assert_true (g_str_has_prefix (problems->pdata[0], "table reading: "));
  dir = g_dir_open (designs, 0, NULL);
  while (g_dir_read_name (dir) != NULL)
    n++;
  g_assert_cmpuint (n, ==, 27);
}

static void
test_sizes (Fixture       *fixture,
            gconstpointer  data)
{
  const BwSizeTable *ours = g_ptr_array_index (fixture->reference->size_tables, 0);
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) tables = NULL;
  BwSizeTable own = { (char *) "harbour", (char *) "Harbour heads",
                      (char *) "measured on the quay (invented)",
                      ours->sizes, BW_STATUS_READ };
  const BwSizeTable *back;
  guint n_ours;

  (void) data;
  g_assert_false (bw_library_save_size_table (fixture->library, fixture->reference, ours, &error));
  g_assert_error (error, BW_LIBRARY_ERROR, BW_LIBRARY_ERROR_EXISTS);
  g_clear_error (&error);
  for (guint i = 0; i < 2; i++)
    {
      g_assert_true (bw_library_save_size_table (fixture->library, fixture->reference, &own,
                                                 &error));
      g_assert_no_error (error);
    }
  tables = bw_library_get_size_tables (fixture->library, &error);
  g_assert_cmpuint (tables->len, ==, 1);
  back = tables->pdata[0];
  g_assert_cmpstr (back->name, ==, own.name);
  g_assert_cmpint (back->status, ==, BW_STATUS_READ);
  g_assert_cmpuint (back->sizes->len, ==, ours->sizes->len);
  for (guint i = 0; i < ours->sizes->len; i++)
    {
      const BwSize *a = ours->sizes->pdata[i];
      const BwSize *b = back->sizes->pdata[i];

      g_assert_cmpstr (a->id, ==, b->id);
      g_assert_cmpfloat (a->head_mm, ==, b->head_mm);
      g_assert_cmpint (a->months_from, ==, b->months_from);
      g_assert_cmpint (a->status, ==, b->status);
    }

  /* a design can name it, and none of ours is pushed aside */
  n_ours = fixture->reference->size_tables->len;
  for (guint i = 0; i < 2; i++)
    {
      g_assert_true (bw_library_use_size_tables (fixture->library, fixture->reference, &error));
      g_assert_no_error (error);
      g_assert_cmpuint (fixture->reference->size_tables->len, ==, n_ours + 1);
    }
  g_assert_nonnull (bw_reference_size_table (fixture->reference, "harbour"));
  g_assert_true (bw_library_remove_size_table (fixture->library, "harbour", &error));
  g_assert_false (bw_library_remove_size_table (fixture->library, "harbour", &error));
  g_assert_error (error, BW_LIBRARY_ERROR, BW_LIBRARY_ERROR_MISSING);
}

int
main (int    argc,
      char **argv)
{
  g_test_init (&argc, &argv, NULL);

#define ADD(path, function) \
  g_test_add ("/library/exchange/" path, Fixture, NULL, fixture_set_up, function, fixture_tear_down)
  ADD ("round-trip", test_round_trip);
  ADD ("faulty", test_faulty);
  ADD ("damaged", test_damaged);
  ADD ("sizes", test_sizes);

  return g_test_run ();
}
