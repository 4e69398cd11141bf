#define _XOPEN_SOURCE 700 /* realpath () */
#define G_LOG_DOMAIN "bw-publish"

#include "bw-publish-private.h"

#include <errno.h>
#include <fcntl.h>
#include <stdlib.h>
#include <sys/stat.h>
#include <unistd.h>

#include <glib/gstdio.h>

#include "bw-publish-file.h"

/* Files that others read are written beside their place and then renamed into
 * it: a reader sees the old file or the whole new one. */

static gboolean
fail (const char  *path,
      int          number,
      GError     **error)
{
  g_autofree char *folder = g_path_get_dirname (path);
  GFileError code = g_file_error_from_errno (number);

  switch (number)
    {
    case ENOSPC:
    case EDQUOT:
      g_set_error (error, G_FILE_ERROR, G_FILE_ERROR_NOSPC,
                   _("%s cannot be written: there is no room left; make some, or choose another "
                     "folder"),
                   path);
      break;
    case EFBIG:
      g_set_error (error, G_FILE_ERROR, G_FILE_ERROR_NOSPC,
                   _("%s cannot be written: it is larger than files may be here"), path);
      break;
    case EACCES:
    case EPERM:
    case EROFS:
      g_set_error (error, G_FILE_ERROR, code,
                   _("%s cannot be written: the folder %s may only be read; choose another"), path,
                   folder);
      break;
    case ENOENT:
    case ENOTDIR:
      g_set_error (error, G_FILE_ERROR, code,
                   _("%s cannot be written: there is no folder %s; make it first"), path, folder);
      break;
    case EISDIR:
      g_set_error (error, G_FILE_ERROR, code,
                   _("%s cannot be written: it is a folder; name a file"), path);
      break;
    default:
      g_set_error (error, G_FILE_ERROR, code, _("%s cannot be written: %s"), path,
                   g_strerror (number));
    }

  return FALSE;
}

/* Where the file really is: a link goes on pointing at it. Only a file may be
 * replaced by renaming; a device would be gone. */
static char *
real_place (const char *path,
            int        *number)
{
  struct stat status;

  *number = 0;
  if (stat (path, &status) != 0)
    return g_strdup (path);
  if (S_ISREG (status.st_mode))
    {
      char *place = realpath (path, NULL);
      char *copy = g_strdup (place != NULL ? place : path);

      free (place);
      return copy;
    }

  *number = S_ISDIR (status.st_mode) ? EISDIR : EINVAL;
  return NULL;
}

static gboolean
write_all (int         file,
           const char *bytes,
           gsize       length)
{
  while (length > 0)
    {
      gssize n = write (file, bytes, length);

      if (n < 0 && errno == EINTR)
        continue;
      if (n < 0)
        return FALSE;
      bytes += n;
      length -= (gsize) n;
    }

  return TRUE;
}

/**
 * bw_publish_file_write:
 * @path: a file; where there is one already it is replaced
 * @bytes: its contents
 * @length: how many
 * @error: what is wrong, in words for people (%G_FILE_ERROR)
 *
 * Writes a file beside @path and renames it: nobody ever reads half of it, and
 * when it fails what was there before is there still. Where a limit on the size
 * of files is set, the caller ignores SIGXFSZ and is told.
 *
 * Returns: FALSE when it could not be written; then nothing is left behind
 */
gboolean
bw_publish_file_write (const char     *path,
                       gconstpointer   bytes,
                       gsize           length,
                       GError        **error)
{
  int number;
  g_autofree char *place = real_place (path, &number);
  g_autofree char *beside = NULL;
  int file;

  if (place == NULL)
    return fail (path, number, error);

  beside = g_strconcat (place, ".XXXXXX", NULL);
  file = g_mkstemp_full (beside, O_WRONLY | O_CLOEXEC, 0666);
  if (file < 0)
    return fail (path, errno, error);

  number = write_all (file, bytes, length) && fsync (file) == 0 ? 0 : errno;
  if (close (file) != 0 && number == 0)
    number = errno;
  if (number == 0 && g_rename (beside, place) != 0)
    number = errno;
  if (number == 0)
    return TRUE;

  g_unlink (beside);
  return fail (path, number, error);
}
