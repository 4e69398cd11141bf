#define G_LOG_DOMAIN "bw-library"

#include <errno.h>

#include "bw-library-private.h"

G_DEFINE_QUARK (bw-library-error, bw_library_error)

static BwLibraryError
code_for (int rc)
{
  switch (rc & 0xff)
    {
    case SQLITE_CORRUPT:
      return BW_LIBRARY_ERROR_CORRUPT;
    case SQLITE_NOTADB:
      return BW_LIBRARY_ERROR_NOT_A_DATABASE;
    case SQLITE_FULL:
      return BW_LIBRARY_ERROR_FULL;
    case SQLITE_BUSY:
    case SQLITE_LOCKED:
      return BW_LIBRARY_ERROR_LOCKED;
    case SQLITE_READONLY:
      return BW_LIBRARY_ERROR_READ_ONLY;
    case SQLITE_CANTOPEN:
    case SQLITE_PERM:
    case SQLITE_AUTH:
      return BW_LIBRARY_ERROR_ACCESS;
    case SQLITE_CONSTRAINT:
    case SQLITE_MISMATCH:
    case SQLITE_TOOBIG:
      return BW_LIBRARY_ERROR_INVALID;
    default:
      return BW_LIBRARY_ERROR_FAILED;
    }
}

/* What people should do about it; SQLite's own words say only what it was. */
static const char *
advice_for (BwLibraryError code)
{
  switch (code)
    {
    case BW_LIBRARY_ERROR_CORRUPT:
      return "the library is damaged; export what can be read, then restore a backup";
    case BW_LIBRARY_ERROR_NOT_A_DATABASE:
      return "the file is no library; choose another file, or restore a backup";
    case BW_LIBRARY_ERROR_FULL:
      return "the disk is full; nothing was changed: make room and save again, or export the"
             " design";
    case BW_LIBRARY_ERROR_LOCKED:
      return "another program is writing to the library; try again in a moment";
    case BW_LIBRARY_ERROR_READ_ONLY:
      return "the library can be read but not changed; copy it to a place where you may write";
    case BW_LIBRARY_ERROR_ACCESS:
      return "the library cannot be opened; check that its folder is there and may be written";
    case BW_LIBRARY_ERROR_INVALID:
      return "the library refused a value";
    default:
      return "the library could not do it";
    }
}

/* An I/O error may be a full disk, a quota or a limit on files in disguise. */
static int
undisguised (sqlite3 *db,
             int      rc)
{
  /* SQLite remembers the system's reason only when it opens files */
  int system_error = db != NULL ? sqlite3_system_errno (db) : 0;

  if (system_error == 0)
    system_error = errno;

  if ((rc & 0xff) == SQLITE_IOERR &&
      (system_error == ENOSPC || system_error == EDQUOT || system_error == EFBIG))
    return SQLITE_FULL;

  switch (rc)
    {
    case SQLITE_IOERR_SHMSIZE:
    case SQLITE_IOERR_SHMMAP:
      return SQLITE_FULL;
    case SQLITE_IOERR_SHORT_READ:
    case SQLITE_IOERR_CORRUPTFS:
      return SQLITE_CORRUPT;
    default:
      return rc;
    }
}

/*
 * bw_library_set_error:
 * @error: where to put it
 * @db: (nullable): the connection, for SQLite's words
 * @rc: SQLite's result, extended
 * @path: (nullable): the file
 *
 * Turns a failure of SQLite into an error of ours: what to do first, then what
 * SQLite said.
 */
void
bw_library_set_error (GError    **error,
                      sqlite3    *db,
                      int         rc,
                      const char *path)
{
  int plain = undisguised (db, rc);
  BwLibraryError code = code_for (plain);
  const char *said = db != NULL ? sqlite3_errmsg (db) : sqlite3_errstr (rc);

  g_set_error (error, BW_LIBRARY_ERROR, code, "%s%s%s (%s)", path != NULL ? path : "",
               path != NULL ? ": " : "", advice_for (code), said);
}
