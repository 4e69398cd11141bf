#define G_LOG_DOMAIN "bw-library"

#include <errno.h>
#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <glib/gstdio.h>

#include "bw-library-private.h"

/* Opening and closing. Before SQLite is allowed near a file, its first hundred
 * bytes are read: the database file format (SQLite's published "Database File
 * Format", section 1.3) has there what is needed to leave alone a file that is
 * not ours or not for us. */

#define HEADER_BYTES       100
#define HEADER_VERSION_AT  60
#define HEADER_ID_AT       68

static guint32
header_number (const guint8 *header,
               gsize         at)
{
  return ((guint32) header[at] << 24) | ((guint32) header[at + 1] << 16) |
         ((guint32) header[at + 2] << 8) | header[at + 3];
}

static gboolean
refuse_newer (const char  *path,
              guint        version,
              GError     **error)
{
  g_set_error (error, BW_LIBRARY_ERROR, BW_LIBRARY_ERROR_NEWER,
               "%s: the library was written by a newer version of the program (form %u, this one"
               " knows %u); "
               "install the newer version to open it. It was left as it is",
               path, version, bw_library_schema_version ());
  return FALSE;
}

static gboolean
check_header (const char    *path,
              const guint8  *header,
              gsize          length,
              guint         *version,
              GError       **error)
{
  if (length == 0 || length < HEADER_BYTES || memcmp (header, "SQLite format 3", 16) != 0)
    {
      g_set_error (error, BW_LIBRARY_ERROR, BW_LIBRARY_ERROR_NOT_A_DATABASE,
                   "%s: %s; choose another file, or restore a backup over it", path,
                   length == 0 ? "the file is empty and so no library" : "the file is no library");
      return FALSE;
    }

  if (header_number (header, HEADER_ID_AT) != BW_LIBRARY_APPLICATION_ID)
    {
      g_set_error (error, BW_LIBRARY_ERROR, BW_LIBRARY_ERROR_FOREIGN,
                   "%s: the file is a database of another program; choose another file", path);
      return FALSE;
    }

  *version = header_number (header, HEADER_VERSION_AT);
  if (*version > bw_library_schema_version ())
    return refuse_newer (path, *version, error);

  return TRUE;
}

static void
set_errno_error (const char  *path,
                 int          code,
                 GError     **error)
{
  if (code == ENOENT || code == ENOTDIR)
    g_set_error (error, BW_LIBRARY_ERROR, BW_LIBRARY_ERROR_MISSING,
                 "%s: there is no such library; check the name, or add a design to make one", path);
  else
    g_set_error (error, BW_LIBRARY_ERROR, BW_LIBRARY_ERROR_ACCESS,
                 "%s: the library cannot be read; check who may read it (%s)", path,
                 g_strerror (code));
}

/*
 * bw_library_look_at:
 * @version: (out): form of the library as its header has it
 *
 * Tells whether @path is a library that this program may open, by reading its
 * first bytes and touching nothing.
 */
gboolean
bw_library_look_at (const char  *path,
                    guint       *version,
                    GError     **error)
{
  guint8 header[HEADER_BYTES];
  struct stat about;
  gssize length;
  int fd;

  if (stat (path, &about) == 0 && !S_ISREG (about.st_mode))
    {
      gboolean folder = S_ISDIR (about.st_mode);

      g_set_error (error, BW_LIBRARY_ERROR,
                   folder ? BW_LIBRARY_ERROR_FOLDER : BW_LIBRARY_ERROR_NOT_A_DATABASE,
                   "%s: this is a %s, not a library; give the library's file", path,
                   folder ? "folder" : "device");
      return FALSE;
    }

  fd = open (path, O_RDONLY | O_CLOEXEC);
  if (fd < 0)
    {
      set_errno_error (path, errno, error);
      return FALSE;
    }

  length = read (fd, header, sizeof header);
  close (fd);
  if (length < 0)
    {
      set_errno_error (path, errno, error);
      return FALSE;
    }

  return check_header (path, header, (gsize) length, version, error);
}

/* ---- connections ------------------------------------------------------- */

static gboolean
set_up (BwLibrary  *library,
        GError    **error)
{
  sqlite3_extended_result_codes (library->db, 1);
  sqlite3_busy_timeout (library->db, BW_LIBRARY_BUSY_MS);
  sqlite3_db_config (library->db, SQLITE_DBCONFIG_DEFENSIVE, 1, NULL);

  /* until it is known to be ours, closing it writes nothing */
  sqlite3_db_config (library->db, SQLITE_DBCONFIG_NO_CKPT_ON_CLOSE, 1, NULL);

  return bw_sql_run (library,
                     "PRAGMA foreign_keys = ON; PRAGMA recursive_triggers = ON;"
                     "PRAGMA synchronous = NORMAL; PRAGMA cell_size_check = ON;",
                     error);
}

/*
 * bw_library_connect:
 * @name: a path, or a URI
 * @flags: of sqlite3_open_v2()
 *
 * Returns: (transfer full) (nullable): a connection that nothing was asked yet
 */
BwLibrary *
bw_library_connect (const char  *name,
                    int          flags,
                    GError     **error)
{
  BwLibrary *library = g_new0 (BwLibrary, 1);
  int rc;

  library->path = g_strdup (name);
  library->statements = g_hash_table_new_full (g_str_hash, g_str_equal, g_free,
                                               (GDestroyNotify) sqlite3_finalize);

  rc = sqlite3_open_v2 (name, &library->db, flags | SQLITE_OPEN_NOMUTEX | SQLITE_OPEN_EXRESCODE,
                        NULL);
  if (rc != SQLITE_OK)
    {
      bw_library_set_error (error, library->db, rc, name);
      bw_library_close (library);
      return NULL;
    }

  if (!set_up (library, error))
    {
      bw_library_close (library);
      return NULL;
    }

  return library;
}

/* The URI's special signs are escaped; anything else may stand in a path. */
static char *
uri_for (const char *path,
         const char *query)
{
  g_autofree char *absolute = g_canonicalize_filename (path, NULL);
  g_autofree char *escaped = g_uri_escape_string (absolute, "/", FALSE);

  return g_strconcat ("file:", escaped, "?", query, NULL);
}

/* What the header cannot tell: the log beside it may say otherwise. */
static gboolean
check_version (BwLibrary  *library,
               const char *path,
               guint      *version,
               GError    **error)
{
  gint64 found;

  if (!bw_sql_get_int (library, &found, error, "PRAGMA user_version", ""))
    return FALSE;

  if (found > bw_library_schema_version ())
    return refuse_newer (path, (guint) found, error);

  /* the first read of a table tells whether the file is as long as it says */
  if (!bw_sql_get_int (library, &(gint64) { 0 }, error, "SELECT count (*) FROM sqlite_schema", ""))
    return FALSE;

  *version = (guint) found;

  return TRUE;
}

static gboolean
finish_writable (BwLibrary  *library,
                 guint       version,
                 GError    **error)
{
  sqlite3_db_config (library->db, SQLITE_DBCONFIG_NO_CKPT_ON_CLOSE, 0, NULL);

  /* a log is kept small even where it once was large */
  if (!bw_sql_run (library, "PRAGMA journal_mode = WAL; PRAGMA journal_size_limit = 16777216",
                   error))
    return FALSE;

  return version == bw_library_schema_version () ||
         bw_library_migrate (library, TRUE, bw_library_schema_version (), error);
}

static BwLibrary *
open_writable (const char  *path,
               GError     **error)
{
  g_autoptr (BwLibrary) library = bw_library_connect (path, SQLITE_OPEN_READWRITE, error);
  guint version;

  if (library == NULL || !check_version (library, path, &version, error) ||
      !finish_writable (library, version, error))
    return NULL;

  return g_steal_pointer (&library);
}

/* ---- reading where nothing can be written ------------------------------ */

static gboolean
log_has_content (const char *path)
{
  g_autofree char *log = g_strconcat (path, "-wal", NULL);
  struct stat about;

  return stat (log, &about) == 0 && about.st_size > 0;
}

static gboolean
copy_beside (const char  *path,
             const char  *folder,
             const char  *suffix,
             gboolean     needed,
             GError     **error)
{
  g_autofree char *from = g_strconcat (path, suffix, NULL);
  g_autofree char *name = g_strconcat ("copy.db", suffix, NULL);
  g_autofree char *to = g_build_filename (folder, name, NULL);
  g_autoptr (GFile) source = g_file_new_for_path (from);
  g_autoptr (GFile) target = g_file_new_for_path (to);

  if (!needed && !g_file_test (from, G_FILE_TEST_EXISTS))
    return TRUE;

  return g_file_copy (source, target, G_FILE_COPY_TARGET_DEFAULT_PERMS, NULL, NULL, NULL, error);
}

static void
remove_folder (const char *folder)
{
  static const char *const names[] = { "copy.db", "copy.db-wal", "copy.db-shm" };

  for (gsize i = 0; i < G_N_ELEMENTS (names); i++)
    {
      g_autofree char *path = g_build_filename (folder, names[i], NULL);

      g_unlink (path);
    }
  g_rmdir (folder);
}

static BwLibrary *
memory_from (const char  *copy,
             const char  *path,
             GError     **error)
{
  g_autoptr (BwLibrary) source = bw_library_connect (copy, SQLITE_OPEN_READWRITE, error);
  g_autoptr (BwLibrary) library = NULL;

  if (source == NULL)
    return NULL;

  library = bw_library_connect (":memory:", SQLITE_OPEN_READWRITE | SQLITE_OPEN_CREATE, error);
  if (library == NULL || !bw_library_copy (library->db, source->db, path, error))
    return NULL;

  return g_steal_pointer (&library);
}

/* Where the last changes still lie in a log that only a writer may read, and
 * where an older form cannot be brought up to date in place: a copy in memory. */
static BwLibrary *
open_in_memory (const char  *path,
                GError     **error)
{
  g_autofree char *folder = g_dir_make_tmp ("brimwright-XXXXXX", error);
  g_autofree char *copy = NULL;
  g_autoptr (BwLibrary) library = NULL;
  guint version;

  if (folder == NULL)
    return NULL;

  copy = g_build_filename (folder, "copy.db", NULL);
  if (copy_beside (path, folder, "", TRUE, error) && copy_beside (path, folder, "-wal", FALSE,
                                                                  error))
    library = memory_from (copy, path, error);
  remove_folder (folder);

  if (library == NULL || !check_version (library, path, &version, error) ||
      !bw_library_migrate (library, FALSE, bw_library_schema_version (), error))
    return NULL;

  g_free (library->path);
  library->path = g_strdup (path);

  return g_steal_pointer (&library);
}

static BwLibrary *
open_read_only (const char  *path,
                GError     **error)
{
  g_autofree char *plain = uri_for (path, "mode=ro");
  g_autofree char *still = uri_for (path, "mode=ro&immutable=1");
  g_autoptr (BwLibrary) library = NULL;
  guint version;

  library = bw_library_connect (plain, SQLITE_OPEN_READONLY | SQLITE_OPEN_URI, error);
  if (library != NULL && !check_version (library, path, &version, NULL))
    g_clear_pointer (&library, bw_library_close);

  if (library == NULL)
    {
      g_clear_error (error);
      if (log_has_content (path))
        return open_in_memory (path, error);

      library = bw_library_connect (still, SQLITE_OPEN_READONLY | SQLITE_OPEN_URI, error);
      if (library == NULL || !check_version (library, path, &version, error))
        return NULL;
    }

  if (version < bw_library_schema_version ())
    return open_in_memory (path, error);

  g_free (library->path);
  library->path = g_strdup (path);

  return g_steal_pointer (&library);
}

/* ---- public ------------------------------------------------------------ */

static gboolean
may_write (const char *path)
{
  g_autofree char *folder = g_path_get_dirname (path);

  return access (path, W_OK) == 0 && access (folder, W_OK) == 0;
}

/**
 * bw_library_open:
 * @path: the library's file
 * @flags: whether a missing one is made, whether it is only read
 * @error: return location; codes of #BwLibraryError
 *
 * Opens a library. One of an older form is first copied and then brought up to
 * date (see bw_library_get_migrated_from()). One that may not be written is
 * opened for reading, see bw_library_is_read_only(). A file that is not a
 * library, or one of a newer form, is refused and left byte for byte as it was.
 *
 * Returns: (transfer full) (nullable): the library
 */
BwLibrary *
bw_library_open (const char          *path,
                 BwLibraryOpenFlags   flags,
                 GError             **error)
{
  g_autoptr (GError) found = NULL;
  BwLibrary *library;
  guint version;

  g_return_val_if_fail (path != NULL, NULL);

  if (!bw_library_look_at (path, &version, &found))
    {
      if (!g_error_matches (found, BW_LIBRARY_ERROR, BW_LIBRARY_ERROR_MISSING) ||
          (flags & BW_LIBRARY_OPEN_CREATE) == 0)
        {
          g_propagate_error (error, g_steal_pointer (&found));
          return NULL;
        }
      if (!bw_library_create_file (path, bw_library_schema_version (), error))
        return NULL;
    }

  if ((flags & BW_LIBRARY_OPEN_READ_ONLY) == 0 && may_write (path))
    return open_writable (path, error);

  library = open_read_only (path, error);
  if (library != NULL)
    library->read_only = TRUE;

  return library;
}

/**
 * bw_library_open_again:
 * @library: a library that is open in this program
 * @error: return location
 *
 * Opens the same file for another thread to read. bw_library_open() may not be
 * used for that: it looks into the file by itself, and a program that closes a
 * file by any other way than SQLite's loses the locks of all its connections, so
 * that what it writes after may be lost.
 *
 * Returns: (transfer full) (nullable): the library, for reading
 */
BwLibrary *
bw_library_open_again (BwLibrary  *library,
                       GError    **error)
{
  BwLibrary *again;

  g_return_val_if_fail (library != NULL, NULL);

  again = open_read_only (library->path, error);
  if (again != NULL)
    again->read_only = TRUE;

  return again;
}

/**
 * bw_library_close:
 * @library: (nullable) (transfer full): a library
 *
 * Closes the file. Nothing is lost where this is never called.
 */
void
bw_library_close (BwLibrary *library)
{
  int rc;

  if (library == NULL)
    return;

  g_hash_table_destroy (library->statements);
  rc = sqlite3_close (library->db);
  g_assert (rc == SQLITE_OK);
  g_free (library->migrated_from);
  g_free (library->path);
  g_free (library);
}

/**
 * bw_library_get_path:
 * @library: a library
 *
 * Returns: (transfer none): its file
 */
const char *
bw_library_get_path (BwLibrary *library)
{
  g_return_val_if_fail (library != NULL, NULL);

  return library->path;
}

/**
 * bw_library_set_patience:
 * @library: a library
 * @ms: how long a change waits for another program that is writing
 *
 * Sets for how long a change waits before it fails with
 * %BW_LIBRARY_ERROR_LOCKED. Somebody who looks on cannot wait as long as a
 * command line can.
 */
void
bw_library_set_patience (BwLibrary *library,
                         guint      ms)
{
  g_return_if_fail (library != NULL);

  sqlite3_busy_timeout (library->db, (int) ms);
}

/**
 * bw_library_is_read_only:
 * @library: a library
 *
 * Returns: %TRUE if every change will be refused
 */
gboolean
bw_library_is_read_only (BwLibrary *library)
{
  g_return_val_if_fail (library != NULL, TRUE);

  return library->read_only;
}

/**
 * bw_library_get_migrated_from:
 * @library: a library
 *
 * Returns: (transfer none) (nullable): the copy that was kept of an older form
 * when this library was opened; %NULL if it was up to date
 */
const char *
bw_library_get_migrated_from (BwLibrary *library)
{
  g_return_val_if_fail (library != NULL, NULL);

  return library->migrated_from;
}

/**
 * bw_library_default_path:
 *
 * Gives the library's place by the XDG Base Directory Specification (published
 * by freedesktop.org): $XDG_DATA_HOME/brimwright/library.db, where
 * XDG_DATA_HOME is ~/.local/share if unset.
 *
 * Returns: (transfer full): a path; neither file nor folder need be there
 */
char *
bw_library_default_path (void)
{
  return g_build_filename (g_get_user_data_dir (), "brimwright", "library.db", NULL);
}

/**
 * bw_library_change_count:
 * @library: a library
 *
 * Returns: a number that changes whenever another program (or another
 * connection of this one) has changed the file; 0 if it cannot be told
 */
gint64
bw_library_change_count (BwLibrary *library)
{
  gint64 count = 0;

  g_return_val_if_fail (library != NULL, 0);

  if (!bw_sql_get_int (library, &count, NULL, "PRAGMA data_version", ""))
    return 0;

  return count;
}
