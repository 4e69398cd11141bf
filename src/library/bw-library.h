#pragma once

#include <gio/gio.h>

G_BEGIN_DECLS

/* One SQLite file with everything a designer decides or measures. Every change
 * is one transaction: what was reported done is there after a crash, what was
 * not is gone as a whole. A BwLibrary is used by one thread at a time; several
 * libraries, in several programs, may have the same file open. */
typedef struct _BwLibrary BwLibrary;

#define BW_LIBRARY_ERROR (bw_library_error_quark ())

typedef enum
{
  BW_LIBRARY_ERROR_FAILED = 1,     /* none of the below */
  BW_LIBRARY_ERROR_MISSING,        /* no such file, design, swatch, yarn ... */
  BW_LIBRARY_ERROR_FOLDER,         /* a folder is in the file's place */
  BW_LIBRARY_ERROR_ACCESS,         /* not allowed to read or to make the file */
  BW_LIBRARY_ERROR_NOT_A_DATABASE, /* a file of another kind */
  BW_LIBRARY_ERROR_FOREIGN,        /* somebody else's SQLite database */
  BW_LIBRARY_ERROR_NEWER,          /* written by a newer version of the program */
  BW_LIBRARY_ERROR_CORRUPT,        /* damaged */
  BW_LIBRARY_ERROR_READ_ONLY,      /* can be read, not written */
  BW_LIBRARY_ERROR_FULL,           /* no room on the disk */
  BW_LIBRARY_ERROR_LOCKED,         /* another program is writing */
  BW_LIBRARY_ERROR_CONFLICT,       /* changed by somebody else since it was read */
  BW_LIBRARY_ERROR_INVALID,        /* against a rule of the library */
  BW_LIBRARY_ERROR_EXISTS,         /* there is one of that name already */
} BwLibraryError;

GQuark bw_library_error_quark (void);

typedef enum
{
  BW_LIBRARY_OPEN_DEFAULT   = 0,
  BW_LIBRARY_OPEN_CREATE    = 1 << 0, /* make the file (and its folder) if there is none */
  BW_LIBRARY_OPEN_READ_ONLY = 1 << 1,
} BwLibraryOpenFlags;

BwLibrary  *bw_library_open          (const char         *path,
                                      BwLibraryOpenFlags  flags,
                                      GError            **error) G_GNUC_WARN_UNUSED_RESULT;
BwLibrary  *bw_library_open_again    (BwLibrary          *library,
                                      GError            **error) G_GNUC_WARN_UNUSED_RESULT;
void        bw_library_close         (BwLibrary          *library);

void        bw_library_set_patience  (BwLibrary          *library,
                                      guint               ms);
const char *bw_library_get_path      (BwLibrary          *library);
gboolean    bw_library_is_read_only  (BwLibrary          *library);
const char *bw_library_get_migrated_from (BwLibrary      *library);
char       *bw_library_default_path  (void) G_GNUC_WARN_UNUSED_RESULT;
guint       bw_library_schema_version (void);
gint64      bw_library_change_count  (BwLibrary          *library);

/* Looking after the file. */

gboolean    bw_library_verify        (BwLibrary          *library,
                                      GPtrArray          *problems,
                                      GError            **error);
gboolean    bw_library_vacuum        (BwLibrary          *library,
                                      GError            **error);
gboolean    bw_library_backup        (BwLibrary          *library,
                                      const char         *path,
                                      GError            **error);
gboolean    bw_library_restore       (const char         *path,
                                      const char         *backup,
                                      char              **kept_as,
                                      GError            **error);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (BwLibrary, bw_library_close)

G_END_DECLS
