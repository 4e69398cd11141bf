#define G_LOG_DOMAIN "bw-library"

#include <errno.h>
#include <fcntl.h>
#include <unistd.h>

#include <glib/gstdio.h>

#include "bw-library-private.h"

/* Numbered migrations: migration n makes version n out of version n - 1. One
 * that was ever shipped is never changed; a new one is added at the end. */

extern GResource *bw_schema_data_get_resource (void);
extern void       bw_schema_data_register_resource (void);

static const char *const migrations[] = {
  "0001-first.sql",
  "0002-bin-and-undo.sql",
  "0003-thumbnails.sql",
};

/**
 * bw_library_schema_version:
 *
 * Returns: the version of the schema that this program writes
 */
guint
bw_library_schema_version (void)
{
  return G_N_ELEMENTS (migrations);
}

static GBytes *
migration_text (guint    version,
                GError **error)
{
  static gsize registered;
  g_autofree char *path = g_strconcat ("/org/brimwright/schema/", migrations[version - 1], NULL);

  if (g_once_init_enter (&registered))
    {
      bw_schema_data_register_resource ();
      g_once_init_leave (&registered, 1);
    }

  return g_resources_lookup_data (path, G_RESOURCE_LOOKUP_FLAGS_NONE, error);
}

static gboolean
run_migration (BwLibrary  *library,
               guint       version,
               GError    **error)
{
  g_autoptr (GBytes) text = migration_text (version, error);
  g_autofree char *bump = g_strdup_printf ("PRAGMA user_version = %u", version);

  return text != NULL && bw_sql_run (library, g_bytes_get_data (text, NULL), error) &&
         bw_sql_run (library, bump, error);
}

static gboolean
check_foreign_keys (BwLibrary  *library,
                    GError    **error)
{
  sqlite3_stmt *statement = bw_sql_start (library, error, "PRAGMA foreign_key_check", "");
  BwStep step;

  if (statement == NULL)
    return FALSE;

  step = bw_sql_step (library, statement, error);
  if (step == BW_STEP_ROW)
    {
      g_set_error (error, BW_LIBRARY_ERROR, BW_LIBRARY_ERROR_CORRUPT,
                   "%s: a row of %s points at nothing; restore a backup", library->path,
                   sqlite3_column_text (statement, 0));
      bw_sql_done (statement);
    }

  return step == BW_STEP_DONE;
}

/* The copy is made while the transaction keeps other writers out, through a
 * second connection, which sees what the last one committed. */
static gboolean
keep_copy (BwLibrary  *library,
           guint       from,
           GError    **error)
{
  g_autofree char *suffix = g_strdup_printf ("version-%u", from);
  g_autofree char *name = bw_library_free_name (library->path, suffix);
  sqlite3 *source = NULL;
  gboolean ok = FALSE;
  int rc = sqlite3_open_v2 (library->path, &source, SQLITE_OPEN_READONLY | SQLITE_OPEN_NOMUTEX,
                            NULL);

  if (rc == SQLITE_OK)
    ok = bw_library_copy_to_file (source, name, error);
  else
    bw_library_set_error (error, source, rc, library->path);
  sqlite3_close (source);

  if (ok)
    library->migrated_from = g_steal_pointer (&name);

  return ok;
}

static gboolean
migrate_steps (BwLibrary  *library,
               gboolean    keep,
               guint       to,
               GError    **error)
{
  gint64 version;

  /* somebody else may have been faster */
  if (!bw_sql_get_int (library, &version, error, "PRAGMA user_version", ""))
    return FALSE;

  if (version >= to)
    return TRUE;

  if (keep && !keep_copy (library, (guint) version, error))
    {
      g_prefix_error (error, "the copy before bringing it up to date failed: ");
      return FALSE;
    }

  for (guint next = (guint) version + 1; next <= to; next++)
    if (!run_migration (library, next, error))
      return FALSE;

  return check_foreign_keys (library, error);
}

/*
 * bw_library_migrate:
 * @keep: whether a copy of the file is kept first
 * @to: the version wanted
 *
 * Brings the schema up to version @to, all or nothing. The copy's name is then
 * found in @library->migrated_from.
 */
gboolean
bw_library_migrate (BwLibrary  *library,
                    gboolean    keep,
                    guint       to,
                    GError    **error)
{
  gboolean ok;

  g_assert (to <= G_N_ELEMENTS (migrations));

  if (!bw_sql_do (library, error, "BEGIN IMMEDIATE", ""))
    return FALSE;

  ok = migrate_steps (library, keep, to, error);

  return bw_library_end (library, ok, error);
}

static gboolean
fill_new_file (const char  *path,
               guint        version,
               GError     **error)
{
  g_autofree char *set_id = g_strdup_printf ("PRAGMA application_id = %d",
                                             BW_LIBRARY_APPLICATION_ID);
  BwLibrary *library = bw_library_connect (path, SQLITE_OPEN_READWRITE, error);
  gboolean ok;

  if (library == NULL)
    return FALSE;

  ok = bw_sql_run (library, set_id, error) && bw_library_migrate (library, FALSE, version, error) &&
       bw_sql_run (library, "PRAGMA journal_mode = WAL", error);
  bw_library_close (library);

  return ok;
}

/*
 * bw_library_create_file:
 * @version: of the schema
 *
 * Makes an empty library. It is made under another name and linked into place
 * when it is whole, so that nobody ever sees half of one, and a file that came
 * into that place meanwhile is left alone.
 */
gboolean
bw_library_create_file (const char  *path,
                        guint        version,
                        GError     **error)
{
  g_autofree char *folder = g_path_get_dirname (path);
  g_autofree char *temporary = g_strconcat (path, ".new-XXXXXX", NULL);
  gboolean ok;
  int fd;

  if (g_mkdir_with_parents (folder, 0700) != 0 || (fd = g_mkstemp (temporary)) < 0)
    {
      int code = errno == ENOSPC ? BW_LIBRARY_ERROR_FULL
                 : errno == EROFS || errno == EACCES ? BW_LIBRARY_ERROR_READ_ONLY
                                                     : BW_LIBRARY_ERROR_ACCESS;

      g_set_error (error, BW_LIBRARY_ERROR, code,
                   "%s: a new library cannot be made there; choose a folder where you may write"
                   " (%s)",
                   path, g_strerror (errno));
      return FALSE;
    }
  close (fd);

  ok = fill_new_file (temporary, version, error) &&
       bw_library_put_in_place (temporary, path, error);
  g_unlink (temporary);

  return ok;
}
