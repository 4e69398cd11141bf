#include <sys/wait.h>
#include <unistd.h>

#include "graded.h"
#include "library-fixture.h"

#include "bw-library-revision.h"

/* Two programs at once, copies while in use, and putting copies back. */

/* ---- two processes -------------------------------------------------------------------- */

/* Changes the height of the brim of its own design and reads the other's. */
static void
worker (const char *path,
        gint64      own,
        gint64      other,
        guint       n)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (BwLibrary) library = bw_library_open (path, BW_LIBRARY_OPEN_DEFAULT, &error);
  gint64 version = 0;

  if (library == NULL)
    _exit (2);

  for (guint i = 1; i <= n; i++)
    {
      g_autoptr (BwDesign) mine = bw_library_load (library, own, &version, &error);
      g_autoptr (BwDesign) theirs = bw_library_load (library, other, NULL, &error);
      BwLibraryEdit edit = { .label = "Edit", .version = version };

      if (mine == NULL || theirs == NULL)
        _exit (3);
      mine->brim.height_mm = i;
      if (!bw_library_save (library, own, mine, &edit, &error))
        {
          g_printerr ("# %s\n", error->message);
          _exit (4);
        }
    }
  _exit (0);
}

static void
wait_for (pid_t child)
{
  int status;

  g_assert_cmpint (waitpid (child, &status, 0), ==, child);
  g_assert_true (WIFEXITED (status));
  g_assert_cmpint (WEXITSTATUS (status), ==, 0);
}

static void
test_two_processes (Fixture       *fixture,
                    gconstpointer  data)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (30);
  g_autoptr (GError) error = NULL;
  gint64 a = add_random (fixture, rand);
  gint64 b = add_random (fixture, rand);
  pid_t first, second;

  (void) data;
  g_clear_pointer (&fixture->library, bw_library_close);
  first = fork ();
  if (first == 0)
    worker (fixture->path, a, b, 150);
  second = fork ();
  if (second == 0)
    worker (fixture->path, b, a, 150);
  wait_for (first);
  wait_for (second);

  fixture_reopen (fixture);
  for (guint i = 0; i < 2; i++)
    {
      gint64 version;
      g_autoptr (BwDesign) design = bw_library_load (fixture->library, i == 0 ? a : b, &version,
                                                     &error);

      g_assert_cmpfloat (design->brim.height_mm, ==, 150.0);
      g_assert_cmpint (version, >=, 150);
    }
  assert_sound (fixture->library);
}

/* A program that has the library open all the while sees what another one did. */
static void
test_seen (Fixture       *fixture,
           gconstpointer  data)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (37);
  g_autoptr (GError) error = NULL;
  gint64 id = add_random (fixture, rand);
  g_autoptr (BwDesign) design = bw_library_load (fixture->library, id, NULL, &error);
  gint64 seen = bw_library_change_count (fixture->library);
  pid_t child = fork ();

  (void) data;
  if (child == 0)
    worker (fixture->path, id, id, 3);
  wait_for (child);

  g_assert_cmpint (bw_library_change_count (fixture->library), !=, seen);
  design->brim.height_mm = 3.0;
  assert_stored (fixture->library, id, design);
}

/* Both edit one design: every save either is done or is kept apart. */
static void
rival (const char *path,
       gint64      id,
       guint       base,
       int         pipe_out)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (BwLibrary) library = bw_library_open (path, BW_LIBRARY_OPEN_DEFAULT, &error);
  guint32 counts[2] = { 0, 0 };

  for (guint i = 0; i < 100; i++)
    {
      gint64 version;
      g_autoptr (BwDesign) design = bw_library_load (library, id, &version, &error);
      BwLibraryEdit edit = { .label = "Edit", .version = version };

      design->crown.close_at = base + i;
      g_usleep (200);
      if (bw_library_save (library, id, design, &edit, &error))
        counts[0]++;
      else if (g_error_matches (error, BW_LIBRARY_ERROR, BW_LIBRARY_ERROR_CONFLICT) &&
               edit.kept_as > 0)
        counts[1]++;
      else
        _exit (4);
      g_clear_error (&error);
    }
  _exit (write (pipe_out, counts, sizeof counts) == (gssize) sizeof counts ? 0 : 5);
}

static void
test_rivals (Fixture       *fixture,
             gconstpointer  data)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (31);
  g_autofree char *copies = NULL;
  g_autofree char *version = NULL;
  gint64 id = add_random (fixture, rand);
  guint32 counts[2], saved = 0, apart = 0;
  pid_t children[2];
  int ends[2];

  (void) data;
  g_clear_pointer (&fixture->library, bw_library_close);
  g_assert_cmpint (pipe (ends), ==, 0);
  for (guint i = 0; i < 2; i++)
    {
      children[i] = fork ();
      if (children[i] == 0)
        {
          /* children of one parent would draw the same identifiers */
          g_random_set_seed ((guint32) getpid ());
          rival (fixture->path, id, 1000 * (i + 1), ends[1]);
        }
    }
  for (guint i = 0; i < 2; i++)
    {
      wait_for (children[i]);
      g_assert_cmpint (read (ends[0], counts, sizeof counts), ==, sizeof counts);
      saved += counts[0];
      apart += counts[1];
    }
  close (ends[0]);
  close (ends[1]);

  g_test_message ("%u saved, %u kept apart", saved, apart);
  g_assert_cmpuint (saved + apart, ==, 200);
  copies = sql_text (fixture->path, "SELECT count (*) FROM design WHERE name LIKE '%(kept apart)'");
  version = sql_text (fixture->path, "SELECT version - 1 FROM design_head WHERE design = 1");
  g_assert_cmpint (g_ascii_strtoll (copies, NULL, 10), ==, apart);
  g_assert_cmpint (g_ascii_strtoll (version, NULL, 10), ==, saved);
  fixture_reopen (fixture);
  assert_sound (fixture->library);
}

/* A writer that never ends is told of, and reading goes on. */
static void
test_locked (Fixture       *fixture,
             gconstpointer  data)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (32);
  g_autoptr (GError) error = NULL;
  gint64 id = add_random (fixture, rand);
  g_autoptr (BwDesign) design = bw_library_load (fixture->library, id, NULL, &error);
  sqlite3 *db = NULL;

  (void) data;
  g_assert_cmpint (sqlite3_open (fixture->path, &db), ==, SQLITE_OK);
  g_assert_cmpint (sqlite3_exec (db, "BEGIN IMMEDIATE", NULL, NULL, NULL), ==, SQLITE_OK);
  assert_stored (fixture->library, id, design);
  g_assert_false (bw_library_bin (fixture->library, id, &error));
  g_assert_error (error, BW_LIBRARY_ERROR, BW_LIBRARY_ERROR_LOCKED);
  g_clear_error (&error);
  sqlite3_exec (db, "ROLLBACK", NULL, NULL, NULL);
  sqlite3_close (db);
  g_assert_true (bw_library_bin (fixture->library, id, &error));
}

/* ---- copies -------------------------------------------------------------------------------- */

static void
test_backup_in_use (Fixture       *fixture,
                    gconstpointer  data)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (33);
  g_autoptr (GError) error = NULL;
  gint64 a = add_random (fixture, rand);
  gint64 b = add_random (fixture, rand);
  pid_t child;

  (void) data;
  for (guint i = 0; i < 30; i++)
    add_random (fixture, rand);
  g_clear_pointer (&fixture->library, bw_library_close);
  child = fork ();
  if (child == 0)
    worker (fixture->path, a, b, 300);

  fixture_reopen (fixture);
  for (guint i = 0; i < 10; i++)
    {
      g_autofree char *path = g_strdup_printf ("%s/backup-%u.db", fixture->folder, i);
      g_autoptr (BwLibrary) copy = NULL;
      g_autoptr (BwDesign) design = NULL;

      g_assert_true (bw_library_backup (fixture->library, path, &error));
      g_assert_no_error (error);
      copy = bw_library_open (path, BW_LIBRARY_OPEN_READ_ONLY, &error);
      g_assert_no_error (error);
      assert_sound (copy);
      design = bw_library_load (copy, a, NULL, &error);
      g_assert_nonnull (design);
    }
  wait_for (child);

  {
    g_autofree char *path = g_strdup_printf ("%s/backup-0.db", fixture->folder);
    g_autofree char *before = NULL, *after = NULL;

    g_assert_true (g_file_get_contents (path, &before, NULL, NULL));
    g_assert_false (bw_library_backup (fixture->library, path, &error));
    g_assert_error (error, BW_LIBRARY_ERROR, BW_LIBRARY_ERROR_EXISTS);
    g_assert_true (g_file_get_contents (path, &after, NULL, NULL));
    g_assert_cmpstr (before, ==, after);
  }
}

static void
test_restore (Fixture       *fixture,
              gconstpointer  data)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (34);
  g_autoptr (GError) error = NULL;
  g_autofree char *backup = g_build_filename (fixture->folder, "backup.db", NULL);
  g_autofree char *kept = NULL;
  gint64 id = add_random (fixture, rand);
  g_autoptr (BwDesign) old = bw_library_load (fixture->library, id, NULL, &error);
  g_autoptr (BwDesign) new = random_design (rand, fixture->reference);
  g_autoptr (BwLibrary) safe = NULL;
  BwLibraryEdit edit = { .label = "Edit" };

  (void) data;
  g_assert_true (bw_library_backup (fixture->library, backup, &error));
  g_assert_true (bw_library_save (fixture->library, id, new, &edit, &error));
  g_assert_no_error (error);

  /* in use: this connection sees the restored library at its next look */
  g_assert_true (bw_library_restore (fixture->path, backup, &kept, &error));
  g_assert_no_error (error);
  assert_stored (fixture->library, id, old);
  assert_sound (fixture->library);

  g_assert_nonnull (kept);
  safe = bw_library_open (kept, BW_LIBRARY_OPEN_DEFAULT, &error);
  g_assert_no_error (error);
  assert_stored (safe, id, new);
}

static void
test_restore_damaged (Fixture       *fixture,
                      gconstpointer  data)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (35);
  g_autoptr (GError) error = NULL;
  g_autofree char *backup = g_build_filename (fixture->folder, "backup.db", NULL);
  g_autofree char *bad_backup = g_build_filename (fixture->folder, "bad.db", NULL);
  g_autofree char *kept = NULL;
  g_autofree char *text = NULL;
  gint64 id = add_random (fixture, rand);
  g_autoptr (BwDesign) design = bw_library_load (fixture->library, id, NULL, &error);

  (void) data;
  g_assert_true (bw_library_backup (fixture->library, backup, &error));
  g_clear_pointer (&fixture->library, bw_library_close);
  g_assert_true (g_file_set_contents (fixture->path, "no library any more", -1, NULL));

  /* a bad backup changes nothing */
  g_assert_true (g_file_set_contents (bad_backup, "no library either", -1, NULL));
  g_assert_false (bw_library_restore (fixture->path, bad_backup, NULL, &error));
  g_assert_error (error, BW_LIBRARY_ERROR, BW_LIBRARY_ERROR_NOT_A_DATABASE);
  g_clear_error (&error);

  g_assert_true (bw_library_restore (fixture->path, backup, &kept, &error));
  g_assert_no_error (error);
  fixture_reopen (fixture);
  assert_stored (fixture->library, id, design);
  g_assert_true (g_file_get_contents (kept, &text, NULL, NULL));
  g_assert_cmpstr (text, ==, "no library any more");
}

/* What is another program's, or a newer library, is not moved out of the way. */
static void
test_restore_refused (Fixture       *fixture,
                      gconstpointer  data)
{
  g_autofree char *backup = g_build_filename (fixture->folder, "backup.db", NULL);
  g_autofree char *foreign = g_build_filename (fixture->folder, "foreign.db", NULL);
  g_autofree char *table = NULL;
  g_autofree char *version = NULL;
  g_autofree char *kept = NULL;
  g_autoptr (GError) error = NULL;
  sqlite3 *db = NULL;

  (void) data;
  g_assert_true (bw_library_backup (fixture->library, backup, &error));
  g_assert_cmpint (sqlite3_open (foreign, &db), ==, SQLITE_OK);
  g_assert_cmpint (sqlite3_exec (db, "CREATE TABLE their (own)", NULL, NULL, NULL), ==, SQLITE_OK);
  sqlite3_close (db);
  g_assert_false (bw_library_restore (foreign, backup, &kept, &error));
  g_assert_error (error, BW_LIBRARY_ERROR, BW_LIBRARY_ERROR_FOREIGN);
  g_clear_error (&error);
  table = sql_text (foreign, "SELECT name FROM sqlite_schema");
  g_assert_cmpstr (table, ==, "their");

  g_clear_pointer (&fixture->library, bw_library_close);
  g_assert_cmpint (sql_result (fixture->path, "PRAGMA user_version = 99"), ==, SQLITE_OK);
  g_assert_false (bw_library_restore (fixture->path, backup, &kept, &error));
  g_assert_error (error, BW_LIBRARY_ERROR, BW_LIBRARY_ERROR_NEWER);
  version = sql_text (fixture->path, "PRAGMA user_version");
  g_assert_cmpstr (version, ==, "99");
  g_assert_null (kept);
}

static void
test_vacuum (Fixture       *fixture,
             gconstpointer  data)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (36);
  g_autoptr (GError) error = NULL;
  gint64 stays = add_random (fixture, rand);
  g_autoptr (BwDesign) design = bw_library_load (fixture->library, stays, NULL, &error);
  GStatBuf before, after;
  guint n_removed, n_kept;

  (void) data;
  for (guint i = 0; i < 60; i++)
    g_assert_true (bw_library_bin (fixture->library, add_random (fixture, rand), &error));
  g_assert_true (bw_library_empty_bin (fixture->library, FALSE, &n_removed, &n_kept, &error));
  g_assert_cmpuint (n_removed, ==, 60);
  sql_result (fixture->path, "PRAGMA wal_checkpoint (TRUNCATE)");
  g_assert_cmpint (g_stat (fixture->path, &before), ==, 0);
  g_assert_true (bw_library_vacuum (fixture->library, &error));
  g_assert_no_error (error);
  g_assert_cmpint (g_stat (fixture->path, &after), ==, 0);
  g_assert_cmpint (after.st_size, <, before.st_size * 3 / 4);
  assert_stored (fixture->library, stays, design);
  assert_sound (fixture->library);
}

int
main (int    argc,
      char **argv)
{
  g_test_init (&argc, &argv, NULL);

#define ADD(path, function) \
  g_test_add ("/library/shared/" path, Fixture, NULL, fixture_set_up, function, fixture_tear_down)
  ADD ("two-processes", test_two_processes);
  ADD ("seen", test_seen);
  ADD ("rivals", test_rivals);
  ADD ("locked", test_locked);
  ADD ("backup-in-use", test_backup_in_use);
  ADD ("restore", test_restore);
  ADD ("restore-damaged", test_restore_damaged);
  ADD ("restore-refused", test_restore_refused);
  ADD ("vacuum", test_vacuum);

  return g_test_run ();
}
