#pragma once

#include <glib/gstdio.h>
#include <sqlite3.h>

#include "../core/random-design.h"
#include "bw-library-design.h"
#include "bw-reference-builtin.h"

/* A folder of its own for each test, with a library in it. */
typedef struct
{
  char        *folder;
  char        *path;
  BwReference *reference;
  BwLibrary   *library;
} Fixture;

static inline void
fixture_set_up (Fixture       *fixture,
                gconstpointer  data)
{
  g_autoptr (GError) error = NULL;

  (void) data;
  fixture->folder = g_dir_make_tmp ("bw-library-XXXXXX", &error);
  g_assert_no_error (error);
  fixture->path = g_build_filename (fixture->folder, "library.db", NULL);
  fixture->reference = bw_reference_builtin (&error);
  g_assert_no_error (error);
  fixture->library = bw_library_open (fixture->path, BW_LIBRARY_OPEN_CREATE, &error);
  g_assert_no_error (error);
  g_assert_nonnull (fixture->library);
}

static inline void
remove_tree (const char *path)
{
  g_autoptr (GDir) dir = g_dir_open (path, 0, NULL);
  const char *name;

  while (dir != NULL && (name = g_dir_read_name (dir)) != NULL)
    {
      g_autofree char *inner = g_build_filename (path, name, NULL);

      if (g_file_test (inner, G_FILE_TEST_IS_DIR) && !g_file_test (inner, G_FILE_TEST_IS_SYMLINK))
        remove_tree (inner);
      else
        g_unlink (inner);
    }
  g_rmdir (path);
}

static inline void
fixture_tear_down (Fixture       *fixture,
                   gconstpointer  data)
{
  (void) data;
  g_clear_pointer (&fixture->library, bw_library_close);
  g_clear_pointer (&fixture->reference, bw_reference_free);
  remove_tree (fixture->folder);
  g_free (fixture->folder);
  g_free (fixture->path);
}

static inline void
fixture_reopen (Fixture *fixture)
{
  g_autoptr (GError) error = NULL;

  g_clear_pointer (&fixture->library, bw_library_close);
  fixture->library = bw_library_open (fixture->path, BW_LIBRARY_OPEN_DEFAULT, &error);
  g_assert_no_error (error);
}

/* What SQLite itself says, on a connection that has nothing to do with ours. */
static inline char *
sql_text (const char *path,
          const char *sql)
{
  sqlite3 *db = NULL;
  sqlite3_stmt *statement = NULL;
  char *text = NULL;

  g_assert_cmpint (sqlite3_open_v2 (path, &db, SQLITE_OPEN_READWRITE, NULL), ==, SQLITE_OK);
  sqlite3_busy_timeout (db, 5000);
  g_assert_cmpint (sqlite3_prepare_v2 (db, sql, -1, &statement, NULL), ==, SQLITE_OK);
  if (sqlite3_step (statement) == SQLITE_ROW)
    text = g_strdup ((const char *) sqlite3_column_text (statement, 0));
  sqlite3_finalize (statement);
  sqlite3_close (db);

  return text;
}

/* The result of SQL that should fail, or not. */
static inline int
sql_result (const char *path,
            const char *sql)
{
  sqlite3 *db = NULL;
  int rc;

  g_assert_cmpint (sqlite3_open_v2 (path, &db, SQLITE_OPEN_READWRITE, NULL), ==, SQLITE_OK);
  sqlite3_busy_timeout (db, 5000);
  rc = sqlite3_exec (db, "PRAGMA foreign_keys = ON", NULL, NULL, NULL);
  g_assert_cmpint (rc, ==, SQLITE_OK);
  rc = sqlite3_exec (db, sql, NULL, NULL, NULL);
  sqlite3_close (db);

  return rc;
}

static inline gint64
add_random (Fixture *fixture,
            GRand   *rand)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (BwDesign) design = random_design (rand, fixture->reference);
  gint64 id = 0;

  bw_library_add (fixture->library, design, &id, &error);
  g_assert_no_error (error);
  g_assert_cmpint (id, >, 0);

  return id;
}

static inline void
assert_stored (BwLibrary      *library,
               gint64          id,
               const BwDesign *wanted)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (BwDesign) design = bw_library_load (library, id, NULL, &error);

  g_assert_no_error (error);
  g_assert_true (bw_design_equal (design, wanted));
}

static inline void
assert_sound (BwLibrary *library)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) problems = g_ptr_array_new_with_free_func (g_free);

  g_assert_true (bw_library_verify (library, problems, &error));
  g_assert_no_error (error);
  for (guint i = 0; i < problems->len; i++)
    g_test_message ("%s", (const char *) g_ptr_array_index (problems, i));
  g_assert_cmpuint (problems->len, ==, 0);
}
