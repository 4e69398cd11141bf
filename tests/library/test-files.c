#include <errno.h>
#include <signal.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#include "graded.h"
#include "library-fixture.h"

/* Files that are old, new, not ours, damaged or not to be written. */

static char *
checksum (const char *path)
{
  g_autofree char *bytes = NULL;
  g_autoptr (GError) error = NULL;
  gsize length;

  g_file_get_contents (path, &bytes, &length, &error);
  g_assert_no_error (error);

  return g_compute_checksum_for_data (G_CHECKSUM_SHA256, (const guchar *) bytes, length);
}

static void
copy_file (const char *from,
           const char *to)
{
  g_autofree char *bytes = NULL;
  g_autoptr (GError) error = NULL;
  gsize length;

  g_file_get_contents (from, &bytes, &length, &error);
  g_assert_no_error (error);
  g_file_set_contents (to, bytes, (gssize) length, &error);
  g_assert_no_error (error);
}

static char *
kept_file (guint version)
{
  g_autofree char *name = g_strdup_printf ("library-%u.db", version);

  return g_test_build_filename (G_TEST_DIST, "data", name, NULL);
}

/* Every value of every table, but what SQLite and the indexes keep for
 * themselves; only the columns that @like has. */
static char *
dump (const char *path,
      const char *like)
{
  GString *text = g_string_new (NULL);
  sqlite3 *db = NULL;
  sqlite3_stmt *tables = NULL;
  g_autofree char *attach = g_strdup_printf ("ATTACH 'file:%s?immutable=1' AS old", like);

  g_assert_cmpint (sqlite3_open_v2 (path, &db, SQLITE_OPEN_READWRITE | SQLITE_OPEN_URI, NULL), ==,
                   SQLITE_OK);
  g_assert_cmpint (sqlite3_exec (db, attach, NULL, NULL, NULL), ==, SQLITE_OK);
  g_assert_cmpint (sqlite3_prepare_v2 (db,
                                       "SELECT t.name, (SELECT group_concat ('quote (' || name ||"
                                       " ')', '||'',''||')"
                                       " FROM pragma_table_info (t.name, 'old'))"
                                       " FROM pragma_table_list t"
                                       " WHERE schema = 'old' AND type = 'table'"
                                       " AND t.name NOT LIKE 'sqlite%'"
                                       " ORDER BY 1",
                                       -1, &tables, NULL),
                   ==, SQLITE_OK);
  while (sqlite3_step (tables) == SQLITE_ROW)
    {
      g_autofree char *sql = g_strdup_printf ("SELECT %s FROM main.\"%s\" ORDER BY 1",
                                              sqlite3_column_text (tables, 1),
                                              sqlite3_column_text (tables, 0));
      sqlite3_stmt *rows = NULL;

      g_string_append_printf (text, "== %s\n", sqlite3_column_text (tables, 0));
      g_assert_cmpint (sqlite3_prepare_v2 (db, sql, -1, &rows, NULL), ==, SQLITE_OK);
      while (sqlite3_step (rows) == SQLITE_ROW)
        g_string_append_printf (text, "%s\n", sqlite3_column_text (rows, 0));
      sqlite3_finalize (rows);
    }
  sqlite3_finalize (tables);
  sqlite3_close (db);

  return g_string_free (text, FALSE);
}

static guint
load_all (BwLibrary *library,
          guint     *n_listed)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) list = bw_library_list (library, BW_LIBRARY_ORDER_NAME, FALSE, 0, &error);
  guint n = 0;

  *n_listed = 0;
  if (list == NULL)
    {
      g_assert_cmpint (error->code, ==, BW_LIBRARY_ERROR_CORRUPT);
      return 0;
    }

  *n_listed = list->len;
  for (guint i = 0; i < list->len; i++)
    {
      g_autoptr (GError) inner = NULL;
      g_autoptr (BwDesign) design = bw_library_load (library,
                                                     ((BwLibraryEntry *) list->pdata[i])->id, NULL,
                                                     &inner);

      if (design != NULL)
        n++;
      else
        g_assert_true (inner->code == BW_LIBRARY_ERROR_CORRUPT ||
                       inner->code == BW_LIBRARY_ERROR_MISSING);
    }

  return n;
}

/* ---- older and newer ---------------------------------------------------------------- */

static void
test_older (Fixture       *fixture,
            gconstpointer  data)
{
  (void) data;
  for (guint version = 1; version <= bw_library_schema_version (); version++)
    {
      g_autofree char *kept = kept_file (version);
      g_autofree char *name = g_strdup_printf ("old-%u.db", version);
      g_autofree char *path = g_build_filename (fixture->folder, name, NULL);
      g_autofree char *before = dump (kept, kept);
      g_autofree char *after = NULL;
      g_autofree char *copy = NULL;
      g_autoptr (GError) error = NULL;
      g_autoptr (BwLibrary) library = NULL;
      g_autoptr (GPtrArray) found = NULL;
      guint n_listed;

      copy_file (kept, path);
      library = bw_library_open (path, BW_LIBRARY_OPEN_DEFAULT, &error);
      g_assert_no_error (error);
      assert_sound (library);
      after = dump (path, kept);
      g_assert_cmpstr (before, ==, after);

      if (version < bw_library_schema_version ())
        {
          g_assert_nonnull (bw_library_get_migrated_from (library));
          copy = dump (bw_library_get_migrated_from (library), kept);
          g_assert_cmpstr (copy, ==, before);
        }
      else
        {
          g_assert_null (bw_library_get_migrated_from (library));
        }

      g_assert_cmpuint (load_all (library, &n_listed), ==, 7);
      found = bw_library_search (library, "lugg harb", 10, &error);
      g_assert_no_error (error);
      g_assert_cmpuint (found->len, >=, 1);
    }
}

/* Whoever kills it in the middle finds the one or the other, whole. */
static void
test_older_killed (Fixture       *fixture,
                   gconstpointer  data)
{
  g_autofree char *kept = kept_file (1);
  g_autofree char *before = dump (kept, kept);
  g_autofree char *newest = g_strdup_printf ("%u", bw_library_schema_version ());
  g_autoptr (GRand) rand = g_rand_new_with_seed (5);
  guint n_done = 0;

  (void) data;
  for (guint i = 0; i < 40; i++)
    {
      g_autofree char *path = g_strdup_printf ("%s/killed-%u.db", fixture->folder, i);
      g_autofree char *after = NULL;
      g_autofree char *version = NULL;
      g_autoptr (GError) error = NULL;
      g_autoptr (BwLibrary) library = NULL;
      pid_t child;

      copy_file (kept, path);
      child = fork ();
      if (child == 0)
        {
          BwLibrary *theirs = bw_library_open (path, BW_LIBRARY_OPEN_DEFAULT, NULL);

          (void) theirs;
          pause ();
          _exit (0);
        }
      g_usleep ((gulong) g_rand_int_range (rand, 0, 40000));
      kill (child, SIGKILL);
      waitpid (child, NULL, 0);

      version = sql_text (path, "PRAGMA user_version");
      g_assert_true (g_str_equal (version, "1") || g_str_equal (version, newest));
      n_done += g_str_equal (version, newest);
      library = bw_library_open (path, BW_LIBRARY_OPEN_DEFAULT, &error);
      g_assert_no_error (error);
      assert_sound (library);
      after = dump (path, kept);
      g_assert_cmpstr (before, ==, after);
    }
  g_test_message ("%u of 40 were done", n_done);
}

static void
assert_refused (const char *path,
                int         code)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *before = g_file_test (path, G_FILE_TEST_IS_REGULAR) ? checksum (path) : NULL;
  g_autofree char *after = NULL;

  for (guint flags = 0; flags <= (BW_LIBRARY_OPEN_CREATE | BW_LIBRARY_OPEN_READ_ONLY); flags++)
    {
      BwLibrary *library = bw_library_open (path, (BwLibraryOpenFlags) flags, &error);

      g_assert_null (library);
      g_assert_error (error, BW_LIBRARY_ERROR, code);
      g_test_message ("%s", error->message);
      g_assert_nonnull (strstr (error->message, path));
      g_clear_error (&error);
    }
  if (before == NULL)
    return;

  after = checksum (path);
  g_assert_cmpstr (before, ==, after);
}

static void
test_newer (Fixture       *fixture,
            gconstpointer  data)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (6);
  g_autofree char *log = g_strconcat (fixture->path, "-wal", NULL);

  (void) data;
  add_random (fixture, rand);
  g_clear_pointer (&fixture->library, bw_library_close);
  g_assert_cmpint (sql_result (fixture->path, "PRAGMA user_version = 99"), ==, SQLITE_OK);
  assert_refused (fixture->path, BW_LIBRARY_ERROR_NEWER);
  g_assert_false (g_file_test (log, G_FILE_TEST_EXISTS));
}

/* The newer program's last words may still be in its log, where the header does
 * not show them. */
static void
test_newer_in_log (Fixture       *fixture,
                   gconstpointer  data)
{
  g_autofree char *path = g_build_filename (fixture->folder, "copy.db", NULL);
  g_autofree char *log = g_strconcat (fixture->path, "-wal", NULL);
  g_autofree char *log_copy = g_strconcat (path, "-wal", NULL);
  g_autofree char *before = NULL;
  g_autofree char *after = NULL;
  sqlite3 *db = NULL;

  (void) data;
  g_clear_pointer (&fixture->library, bw_library_close);
  g_assert_cmpint (sqlite3_open (fixture->path, &db), ==, SQLITE_OK);
  g_assert_cmpint (sqlite3_exec (db, "PRAGMA user_version = 98", NULL, NULL, NULL), ==, SQLITE_OK);
  copy_file (fixture->path, path);
  copy_file (log, log_copy);
  sqlite3_close (db);

  before = checksum (log_copy);
  assert_refused (path, BW_LIBRARY_ERROR_NEWER);
  after = checksum (log_copy);
  g_assert_cmpstr (before, ==, after);
}

/* ---- not ours ------------------------------------------------------------------------- */

static void
test_not_ours (Fixture       *fixture,
               gconstpointer  data)
{
  g_autofree char *folder = g_build_filename (fixture->folder, "folder.db", NULL);
  g_autofree char *text = g_build_filename (fixture->folder, "text.db", NULL);
  g_autofree char *empty = g_build_filename (fixture->folder, "empty.db", NULL);
  g_autofree char *shorter = g_build_filename (fixture->folder, "short.db", NULL);
  g_autofree char *foreign = g_build_filename (fixture->folder, "foreign.db", NULL);
  g_autofree char *nowhere = g_build_filename (fixture->folder, "no", "such", "place.db", NULL);
  g_autoptr (GError) error = NULL;
  g_autofree char *table = NULL;
  sqlite3 *db = NULL;

  (void) data;
  g_assert_cmpint (g_mkdir (folder, 0755), ==, 0);
  assert_refused (folder, BW_LIBRARY_ERROR_FOLDER);
  g_file_set_contents (text, "A letter, not a library. It is longer than a hundred bytes, so that"
                             " it cannot be told"
                             " by its length alone.\n", -1, NULL);
  assert_refused (text, BW_LIBRARY_ERROR_NOT_A_DATABASE);
  g_file_set_contents (empty, "", 0, NULL);
  assert_refused (empty, BW_LIBRARY_ERROR_NOT_A_DATABASE);
  g_file_set_contents (shorter, "SQLite format 3", 16, NULL);
  assert_refused (shorter, BW_LIBRARY_ERROR_NOT_A_DATABASE);

  g_assert_cmpint (sqlite3_open (foreign, &db), ==, SQLITE_OK);
  g_assert_cmpint (sqlite3_exec (db, "CREATE TABLE their (own)", NULL, NULL, NULL), ==, SQLITE_OK);
  sqlite3_close (db);
  assert_refused (foreign, BW_LIBRARY_ERROR_FOREIGN);
  table = sql_text (foreign, "SELECT name FROM sqlite_schema");
  g_assert_cmpstr (table, ==, "their");

  g_assert_null (bw_library_open (nowhere, BW_LIBRARY_OPEN_DEFAULT, &error));
  g_assert_error (error, BW_LIBRARY_ERROR, BW_LIBRARY_ERROR_MISSING);
}

/* ---- damage ----------------------------------------------------------------------------- */

static void
fill (Fixture *fixture,
      guint    n)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (8);
  g_autoptr (GError) error = NULL;

  for (guint i = 0; i < n; i++)
    add_random (fixture, rand);
  g_assert_true (bw_library_vacuum (fixture->library, &error));
  g_assert_no_error (error);
  g_clear_pointer (&fixture->library, bw_library_close);
}

/* Whatever is opened of it, the file is not made worse, and what fails says that
 * it is damaged. */
static guint
try_damaged (const char *path,
             guint      *n_refused)
{
  g_autofree char *before = checksum (path);
  g_autofree char *after = NULL;
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) problems = g_ptr_array_new_with_free_func (g_free);
  BwLibrary *library = bw_library_open (path, BW_LIBRARY_OPEN_DEFAULT, &error);
  guint n_loaded = 0, n_listed;

  if (library == NULL)
    {
      g_assert_true (error->domain == BW_LIBRARY_ERROR);
      g_assert_true (error->code == BW_LIBRARY_ERROR_CORRUPT ||
                     error->code == BW_LIBRARY_ERROR_NOT_A_DATABASE ||
                     error->code == BW_LIBRARY_ERROR_FOREIGN ||
                     error->code == BW_LIBRARY_ERROR_NEWER);
      (*n_refused)++;
    }
  else
    {
      n_loaded = load_all (library, &n_listed);
      bw_library_verify (library, problems, NULL);
      bw_library_close (library);
    }

  after = checksum (path);
  g_assert_cmpstr (before, ==, after);

  return n_loaded;
}

static void
test_corrupt_pages (Fixture       *fixture,
                    gconstpointer  data)
{
  g_autofree char *path = g_build_filename (fixture->folder, "damaged.db", NULL);
  g_autofree char *bytes = NULL;
  g_autoptr (GRand) rand = g_rand_new_with_seed (9);
  guint n_found = 0, n_refused = 0, n_pages, best = 0;
  gsize length;

  (void) data;
  fill (fixture, 12);
  g_assert_true (g_file_get_contents (fixture->path, &bytes, &length, NULL));
  n_pages = (guint) (length / 4096);
  g_assert_cmpuint (n_pages, >, 50);

  for (guint page = 0; page < n_pages; page++)
    {
      g_autofree char *damaged = g_memdup2 (bytes, length);
      g_autoptr (GError) error = NULL;
      g_autoptr (BwLibrary) library = NULL;
      g_autoptr (GPtrArray) problems = g_ptr_array_new_with_free_func (g_free);
      guint n_loaded;

      for (guint i = page == 0 ? 100 : 0; i < 4096; i++)
        damaged[(gsize) page * 4096 + i] = (char) g_rand_int (rand);
      g_assert_true (g_file_set_contents (path, damaged, (gssize) length, NULL));
      n_loaded = try_damaged (path, &n_refused);
      best = MAX (best, n_loaded);

      library = bw_library_open (path, BW_LIBRARY_OPEN_READ_ONLY, &error);
      if (library == NULL || !bw_library_verify (library, problems, &error) || problems->len > 0)
        n_found++;
    }
  g_test_message ("%u pages, damage of %u found by verifying, %u not opened at all", n_pages,
                  n_found, n_refused);

  /* a page that nothing uses may be damaged without harm */
  g_assert_cmpuint (n_found + 2, >=, n_pages);
  g_assert_cmpuint (best, ==, 12);
}

static void
test_truncated (Fixture       *fixture,
                gconstpointer  data)
{
  g_autofree char *path = g_build_filename (fixture->folder, "truncated.db", NULL);
  g_autofree char *bytes = NULL;
  guint n_refused = 0, n_tried = 0;
  gsize length;

  (void) data;
  fill (fixture, 6);
  g_assert_true (g_file_get_contents (fixture->path, &bytes, &length, NULL));
  for (gsize left = 100; left < length; left += 7 * 1024 + 333)
    {
      g_assert_true (g_file_set_contents (path, bytes, (gssize) left, NULL));
      try_damaged (path, &n_refused);
      n_tried++;
    }
  g_test_message ("%u of %u truncated files were refused", n_refused, n_tried);
  g_assert_cmpuint (n_refused, ==, n_tried);
}

/* The design that is open when the damage is met is still in memory, and its
 * file can be written. */
static void
test_still_exportable (Fixture       *fixture,
                       gconstpointer  data)
{
  g_autoptr (BwDesign) design = read_design (fixture->reference, "oracle.hat");
  g_autoptr (BwDesign) back = NULL;
  g_autoptr (GError) error = NULL;
  g_autofree char *text = NULL;
  BwLibraryEdit edit = { .label = "Ease" };
  gint64 id;
  FILE *file;

  (void) data;
  g_assert_true (bw_library_add (fixture->library, design, &id, &error));
  g_clear_pointer (&fixture->library, bw_library_close);
  file = fopen (fixture->path, "r+b");
  fseek (file, 4096, SEEK_SET);
  for (guint i = 0; i < 40 * 4096; i++)
    fputc (0xa5, file);
  fclose (file);

  fixture->library = bw_library_open (fixture->path, BW_LIBRARY_OPEN_DEFAULT, &error);
  if (fixture->library != NULL)
    g_assert_false (bw_library_save (fixture->library, id, design, &edit, &error));
  g_assert_error (error, BW_LIBRARY_ERROR, BW_LIBRARY_ERROR_CORRUPT);
  g_clear_error (&error);
  text = bw_design_to_text (fixture->reference, design, NULL, NULL);
  back = bw_design_from_text (fixture->reference, text, strlen (text), &error);
  g_assert_no_error (error);
  g_assert_true (bw_design_equal (design, back));
}

/* ---- not to be written -------------------------------------------------------------------- */

/* What a reader finds where nothing may be written; the child's exit status. */
static int
read_only_child (const char     *path,
                 gint64          id,
                 const BwDesign *wanted)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (BwLibrary) library = bw_library_open (path, BW_LIBRARY_OPEN_DEFAULT, &error);
  g_autoptr (BwDesign) design = NULL;
  BwLibraryEdit edit = { .label = "Ease" };

  if (library == NULL)
    {
      g_printerr ("# %s\n", error->message);
      return 1;
    }
  if (!bw_library_is_read_only (library))
    return 2;

  design = bw_library_load (library, id, NULL, &error);
  if (design == NULL || !bw_design_equal (design, wanted))
    return 3;

  design->brim.height_mm += 1.0;
  if (bw_library_save (library, id, design, &edit, &error))
    return 4;

  return g_error_matches (error, BW_LIBRARY_ERROR, BW_LIBRARY_ERROR_READ_ONLY) ? 0 : 5;
}

/* Modes mean nothing to root: the child is nobody. */
static void
assert_read_only (const char     *path,
                  gint64          id,
                  const BwDesign *wanted)
{
  g_autofree char *before = checksum (path);
  g_autofree char *after = NULL;
  pid_t child = fork ();
  int status;

  if (child == 0)
    {
      if (getuid () == 0 && (setgid (65534) != 0 || setuid (65534) != 0))
        _exit (9);
      _exit (read_only_child (path, id, wanted));
    }
  waitpid (child, &status, 0);
  g_assert_true (WIFEXITED (status));
  g_assert_cmpint (WEXITSTATUS (status), ==, 0);
  after = checksum (path);
  g_assert_cmpstr (before, ==, after);
}

static void
test_read_only_file (Fixture       *fixture,
                     gconstpointer  data)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (10);
  g_autoptr (GError) error = NULL;
  gint64 id = add_random (fixture, rand);
  g_autoptr (BwDesign) design = bw_library_load (fixture->library, id, NULL, &error);

  (void) data;
  g_clear_pointer (&fixture->library, bw_library_close);
  g_chmod (fixture->path, 0444);
  g_chmod (fixture->folder, 0777);
  assert_read_only (fixture->path, id, design);
}

static void
test_read_only_folder (Fixture       *fixture,
                       gconstpointer  data)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (11);
  g_autoptr (GError) error = NULL;
  gint64 id = add_random (fixture, rand);
  g_autoptr (BwDesign) design = bw_library_load (fixture->library, id, NULL, &error);

  (void) data;
  g_clear_pointer (&fixture->library, bw_library_close);
  g_chmod (fixture->path, 0666);
  g_chmod (fixture->folder, 0555);
  assert_read_only (fixture->path, id, design);
  g_chmod (fixture->folder, 0755);
}

/* As it is found after a crash, on a disk that is then mounted for reading: the
 * last changes are in the log. */
static void
test_read_only_log (Fixture       *fixture,
                    gconstpointer  data)
{
  g_autofree char *folder = g_build_filename (fixture->folder, "crashed", NULL);
  g_autofree char *path = g_build_filename (folder, "library.db", NULL);
  g_autofree char *log = g_strconcat (fixture->path, "-wal", NULL);
  g_autofree char *log_copy = g_strconcat (path, "-wal", NULL);
  g_autoptr (GRand) rand = g_rand_new_with_seed (12);
  g_autoptr (GError) error = NULL;
  gint64 id = add_random (fixture, rand);
  g_autoptr (BwDesign) design = bw_library_load (fixture->library, id, NULL, &error);

  (void) data;
  g_mkdir (folder, 0755);
  copy_file (fixture->path, path);
  copy_file (log, log_copy);
  g_chmod (fixture->folder, 0755);
  g_chmod (path, 0444);
  g_chmod (log_copy, 0444);
  g_chmod (folder, 0555);
  assert_read_only (path, id, design);
  g_chmod (folder, 0755);
}

/* An older form where it cannot be brought up to date. */
static void
test_read_only_older (Fixture       *fixture,
                      gconstpointer  data)
{
  g_autofree char *kept = kept_file (1);
  g_autofree char *path = g_build_filename (fixture->folder, "old.db", NULL);
  g_autoptr (GError) error = NULL;
  g_autoptr (BwLibrary) library = NULL;
  g_autoptr (BwDesign) design = NULL;

  (void) data;
  copy_file (kept, path);
  library = bw_library_open (path, BW_LIBRARY_OPEN_READ_ONLY, &error);
  g_assert_no_error (error);
  design = bw_library_load (library, 4, NULL, &error);
  g_assert_no_error (error);
  g_clear_pointer (&library, bw_library_close);

  g_chmod (path, 0444);
  g_chmod (fixture->folder, 0555);
  assert_read_only (path, 4, design);
  g_chmod (fixture->folder, 0755);
}

int
main (int    argc,
      char **argv)
{
  g_test_init (&argc, &argv, NULL);

#define ADD(path, function) \
  g_test_add ("/library/files/" path, Fixture, NULL, fixture_set_up, function, fixture_tear_down)
  ADD ("older", test_older);
  ADD ("older-killed", test_older_killed);
  ADD ("newer", test_newer);
  ADD ("newer-in-log", test_newer_in_log);
  ADD ("not-ours", test_not_ours);
  ADD ("corrupt-pages", test_corrupt_pages);
  ADD ("truncated", test_truncated);
  ADD ("still-exportable", test_still_exportable);
  ADD ("read-only-file", test_read_only_file);
  ADD ("read-only-folder", test_read_only_folder);
  ADD ("read-only-log", test_read_only_log);
  ADD ("read-only-older", test_read_only_older);

  return g_test_run ();
}
