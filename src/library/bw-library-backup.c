#define G_LOG_DOMAIN "bw-library"

#include <errno.h>
#include <fcntl.h>
#include <unistd.h>

#include <glib/gstdio.h>

#include "bw-library-private.h"

/* Copies of whole libraries, and looking after one. */

/*
 * bw_library_free_name:
 *
 * Returns: (transfer full): "library.db" and "before" make "library.db.before",
 * or "library.db.before.2" where that exists: no copy ever takes an older one's
 * place
 */
char *
bw_library_free_name (const char *path,
                      const char *suffix)
{
  char *name = g_strconcat (path, ".", suffix, NULL);

  for (guint n = 2; g_file_test (name, G_FILE_TEST_EXISTS); n++)
    {
      g_free (name);
      name = g_strdup_printf ("%s.%s.%u", path, suffix, n);
    }

  return name;
}

/*
 * bw_library_put_in_place:
 * @temporary: a finished file in the folder of @path
 *
 * Gives a file its name, and fails with BW_LIBRARY_ERROR_EXISTS rather than
 * take another's. The caller removes @temporary.
 */
gboolean
bw_library_put_in_place (const char  *temporary,
                         const char  *path,
                         GError     **error)
{
  int fd;

  if (link (temporary, path) == 0)
    return TRUE;

  if (errno != EEXIST)
    {
      /* no hard links on this file system: the name is taken first, and then replaced */
      fd = open (path, O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, 0600);
      if (fd >= 0)
        {
          close (fd);
          if (g_rename (temporary, path) == 0)
            return TRUE;
        }
    }

  g_set_error (error, BW_LIBRARY_ERROR,
               errno == EEXIST ? BW_LIBRARY_ERROR_EXISTS : BW_LIBRARY_ERROR_ACCESS,
               "%s: the file cannot be made; choose another name (%s)", path, g_strerror (errno));
  return FALSE;
}

/*
 * bw_library_copy:
 *
 * Copies one database over another in a single transaction of each: others may
 * go on using both, and an end in the middle leaves the target as it was.
 */
gboolean
bw_library_copy (sqlite3     *to,
                 sqlite3     *from,
                 const char  *path,
                 GError     **error)
{
  sqlite3_backup *backup = sqlite3_backup_init (to, "main", from, "main");
  gint64 give_up = g_get_monotonic_time () + BW_LIBRARY_BUSY_MS * 1000;
  int rc;

  if (backup == NULL)
    {
      bw_library_set_error (error, to, sqlite3_extended_errcode (to), path);
      return FALSE;
    }

  while ((rc = sqlite3_backup_step (backup, -1)) == SQLITE_BUSY || rc == SQLITE_LOCKED)
    {
      if (g_get_monotonic_time () > give_up)
        break;
      g_usleep (20000);
    }

  sqlite3_backup_finish (backup);
  if (rc == SQLITE_DONE)
    return TRUE;

  bw_library_set_error (error, NULL, rc, path);
  return FALSE;
}

static gboolean
check_whole (sqlite3     *db,
             const char  *path,
             GError     **error)
{
  sqlite3_stmt *statement = NULL;
  gboolean ok = FALSE;

  if (sqlite3_prepare_v2 (db, "PRAGMA integrity_check (1)", -1, &statement, NULL) == SQLITE_OK &&
      sqlite3_step (statement) == SQLITE_ROW)
    ok = g_strcmp0 ((const char *) sqlite3_column_text (statement, 0), "ok") == 0;
  sqlite3_finalize (statement);

  if (!ok)
    g_set_error (error, BW_LIBRARY_ERROR, BW_LIBRARY_ERROR_CORRUPT,
                 "%s: the library is damaged; use another copy of it", path);
  return ok;
}

static gboolean
fill_copy (sqlite3     *from,
           const char  *temporary,
           const char  *path,
           GError     **error)
{
  sqlite3 *to = NULL;
  gboolean ok;
  int rc = sqlite3_open_v2 (temporary, &to, SQLITE_OPEN_READWRITE | SQLITE_OPEN_NOMUTEX, NULL);

  if (rc != SQLITE_OK)
    {
      bw_library_set_error (error, to, rc, path);
      sqlite3_close (to);
      return FALSE;
    }

  sqlite3_extended_result_codes (to, 1);
  ok = bw_library_copy (to, from, path, error) && check_whole (to, path, error);
  sqlite3_close (to);

  return ok;
}

/*
 * bw_library_copy_to_file:
 * @path: a file that is not there yet
 *
 * Copies a database into a new file, which gets its name when it is whole.
 */
gboolean
bw_library_copy_to_file (sqlite3     *from,
                         const char  *path,
                         GError     **error)
{
  g_autofree char *temporary = g_strconcat (path, ".new-XXXXXX", NULL);
  int fd = g_mkstemp (temporary);
  gboolean ok;

  if (fd < 0)
    {
      g_set_error (error, BW_LIBRARY_ERROR,
                   errno == ENOSPC ? BW_LIBRARY_ERROR_FULL : BW_LIBRARY_ERROR_ACCESS,
                   "%s: the copy cannot be made; choose another place (%s)", path,
                   g_strerror (errno));
      return FALSE;
    }
  close (fd);

  ok = fill_copy (from, temporary, path, error) && bw_library_put_in_place (temporary, path, error);
  g_unlink (temporary);

  return ok;
}

/**
 * bw_library_backup:
 * @library: a library
 * @path: a file that is not there yet
 * @error: return location
 *
 * Copies the whole library, as it is at this moment, while this and other
 * programs go on using it. The copy is a library like any other.
 *
 * Returns: %TRUE if the copy is there and sound
 */
gboolean
bw_library_backup (BwLibrary   *library,
                   const char  *path,
                   GError     **error)
{
  g_return_val_if_fail (library != NULL && path != NULL, FALSE);

  if (g_file_test (path, G_FILE_TEST_EXISTS))
    {
      g_set_error (error, BW_LIBRARY_ERROR, BW_LIBRARY_ERROR_EXISTS,
                   "%s: the file is there already; choose another name", path);
      return FALSE;
    }

  return bw_library_copy_to_file (library->db, path, error);
}

/* ---- restoring --------------------------------------------------------- */

static void
move_aside (const char *path,
            const char *aside,
            const char *suffix)
{
  g_autofree char *from = g_strconcat (path, suffix, NULL);
  g_autofree char *to = g_strconcat (aside, suffix, NULL);

  g_rename (from, to);
}

static gboolean
replace_damaged (BwLibrary   *source,
                 const char  *path,
                 char       **kept_as,
                 GError     **error)
{
  g_autofree char *aside = bw_library_free_name (path, "damaged");

  if (g_file_test (path, G_FILE_TEST_EXISTS))
    {
      if (g_rename (path, aside) != 0)
        {
          g_set_error (error, BW_LIBRARY_ERROR, BW_LIBRARY_ERROR_ACCESS,
                       "%s: the damaged library cannot be moved aside; check its folder (%s)", path,
                       g_strerror (errno));
          return FALSE;
        }
      move_aside (path, aside, "-wal");
      move_aside (path, aside, "-shm");
      *kept_as = g_steal_pointer (&aside);
    }

  return bw_library_copy_to_file (source->db, path, error);
}

static gboolean
replace_sound (BwLibrary   *library,
               BwLibrary   *source,
               char       **kept_as,
               GError     **error)
{
  g_autofree char *before = bw_library_free_name (library->path, "before-restore");

  if (!bw_library_copy_to_file (library->db, before, error))
    return FALSE;

  *kept_as = g_steal_pointer (&before);

  return bw_library_copy (library->db, source->db, library->path, error);
}

/* A damaged library is moved aside, and so is what calls itself one and is
 * not; another program's file, or a newer library, is not ours to move. */
static gboolean
may_be_replaced (const GError *why)
{
  return g_error_matches (why, BW_LIBRARY_ERROR, BW_LIBRARY_ERROR_MISSING) ||
         g_error_matches (why, BW_LIBRARY_ERROR, BW_LIBRARY_ERROR_CORRUPT) ||
         g_error_matches (why, BW_LIBRARY_ERROR, BW_LIBRARY_ERROR_NOT_A_DATABASE);
}

/**
 * bw_library_restore:
 * @path: the library's file, sound, damaged or missing
 * @backup: a copy made by bw_library_backup()
 * @kept_as: (out) (optional) (nullable): the file that now holds what was in
 *   @path; %NULL if nothing was there
 * @error: return location
 *
 * Puts a backup in the library's place, after checking it and after keeping
 * what was there. Other programs that have the library open see the restored
 * one, unless the old one was damaged.
 *
 * Returns: %TRUE if the library is restored
 */
gboolean
bw_library_restore (const char  *path,
                    const char  *backup,
                    char       **kept_as,
                    GError     **error)
{
  g_autoptr (BwLibrary) source = NULL;
  g_autoptr (BwLibrary) library = NULL;
  g_autoptr (GError) found = NULL;
  g_autofree char *kept = NULL;
  gboolean ok;

  g_return_val_if_fail (path != NULL && backup != NULL, FALSE);

  source = bw_library_open (backup, BW_LIBRARY_OPEN_READ_ONLY, error);
  if (source == NULL || !check_whole (source->db, backup, error))
    return FALSE;

  library = bw_library_open (path, BW_LIBRARY_OPEN_DEFAULT, &found);
  if (library != NULL && library->read_only)
    {
      g_set_error (error, BW_LIBRARY_ERROR, BW_LIBRARY_ERROR_READ_ONLY,
                   "%s: the library cannot be changed here; restore to a place where you may write",
                   path);
      return FALSE;
    }
  if (library == NULL && !may_be_replaced (found))
    {
      g_propagate_error (error, g_steal_pointer (&found));
      return FALSE;
    }

  if (library != NULL && check_whole (library->db, path, NULL))
    {
      ok = replace_sound (library, source, &kept, error);
    }
  else
    {
      g_clear_pointer (&library, bw_library_close);
      ok = replace_damaged (source, path, &kept, error);
    }

  if (kept_as != NULL)
    *kept_as = g_steal_pointer (&kept);

  return ok;
}

/* ---- looking after ----------------------------------------------------- */

static gboolean
collect (BwLibrary   *library,
         const char  *sql,
         const char  *sound,
         GPtrArray   *problems,
         GError     **error)
{
  sqlite3_stmt *statement = bw_sql_start (library, error, sql, "");
  BwStep step;

  if (statement == NULL)
    return FALSE;

  while ((step = bw_sql_step (library, statement, error)) == BW_STEP_ROW)
    if (g_strcmp0 ((const char *) sqlite3_column_text (statement, 0), sound) != 0)
      g_ptr_array_add (problems, bw_sql_dup_text (statement, 0));

  return step == BW_STEP_DONE;
}

static void
check_index (BwLibrary  *library,
             const char *sql,
             GPtrArray  *problems)
{
  g_autoptr (GError) error = NULL;

  if (!bw_sql_do (library, &error, sql, ""))
    g_ptr_array_add (problems,
                     g_strdup_printf ("the search index does not agree with the library: %s",
                                      error->message));
}

/**
 * bw_library_verify:
 * @library: a library
 * @problems: (element-type utf8): what is found is added here, in plain English
 * @error: return location; set only where the checks could not be run at all
 *
 * Checks the file's structure, every rule of its tables, what points where, the
 * search index against what it indexes, and that each fibre mix adds up.
 *
 * Returns: %TRUE if all checks were run; sound if @problems got nothing
 */
gboolean
bw_library_verify (BwLibrary   *library,
                   GPtrArray   *problems,
                   GError     **error)
{
  static const char *const checks[] = {
    "PRAGMA integrity_check",
    "SELECT 'a row of ' || \"table\" || ' points at nothing' FROM pragma_foreign_key_check",
    "SELECT 'the fibres of yarn ' || name || ' add up to ' || sum (percent) || ' %'"
    "  FROM yarn JOIN yarn_fibre ON yarn = yarn.id GROUP BY yarn.id"
    " HAVING abs (sum (percent) - 100) > 0.0001",
    "SELECT 'design ' || id || ' has no head' FROM design"
    " WHERE id NOT IN (SELECT design FROM design_head)",
    "SELECT 'the undo history of design ' || design || ' has a gap' FROM undo_step"
    " GROUP BY design HAVING max (step) - min (step) + 1 <> count (*)",
    "SELECT 'revisions of design ' || design || ' are missing' FROM revision"
    " GROUP BY design HAVING max (number) <> count (*)",
  };

  g_return_val_if_fail (library != NULL && problems != NULL, FALSE);

  for (gsize i = 0; i < G_N_ELEMENTS (checks); i++)
    if (!collect (library, checks[i], i == 0 ? "ok" : NULL, problems, error))
      return FALSE;

  if (!library->read_only)
    {
      check_index (library, "INSERT INTO design_search (design_search) VALUES ('integrity-check')",
                   problems);
      check_index (library, "INSERT INTO yarn_search (yarn_search) VALUES ('integrity-check')",
                   problems);
    }

  return TRUE;
}

/**
 * bw_library_vacuum:
 * @library: a library
 * @error: return location
 *
 * Packs the file and merges its log into it.
 *
 * Returns: %TRUE if the file is packed
 */
gboolean
bw_library_vacuum (BwLibrary  *library,
                   GError    **error)
{
  g_return_val_if_fail (library != NULL, FALSE);

  if (library->read_only)
    return bw_library_begin (library, error);

  return bw_sql_run (library, "VACUUM", error) &&
         bw_sql_run (library, "PRAGMA wal_checkpoint (TRUNCATE)", error) &&
         bw_sql_run (library, "PRAGMA optimize", error);
}
