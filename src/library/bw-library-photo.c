#define G_LOG_DOMAIN "bw-library"

#include "bw-library-photo.h"

#include <errno.h>
#include <string.h>
#include <sys/stat.h>

#include <glib/gstdio.h>

/**
 * bw_library_swatch_take_photo:
 * @swatch: a swatch
 * @path: a picture's file, of at most %BW_LIBRARY_PHOTO_MAX
 * @error: return location
 *
 * Takes the picture itself in the stead of a path. The file is not needed any
 * more then.
 *
 * Returns: %TRUE if @swatch has it
 */
gboolean
bw_library_swatch_take_photo (BwLibrarySwatch  *swatch,
                              const char       *path,
                              GError          **error)
{
  g_autofree char *bytes = NULL;
  GStatBuf about;
  gsize length;

  g_return_val_if_fail (swatch != NULL && path != NULL, FALSE);

  /* not read where it is too large, or no file at all */
  if (g_stat (path, &about) != 0 || !S_ISREG (about.st_mode))
    {
      g_set_error (error, BW_LIBRARY_ERROR, BW_LIBRARY_ERROR_MISSING,
                   "there is no photograph %s; check the name", path);
      return FALSE;
    }
  if (about.st_size > BW_LIBRARY_PHOTO_MAX)
    {
      g_set_error (error, BW_LIBRARY_ERROR, BW_LIBRARY_ERROR_INVALID,
                   "the photograph is larger than 4 MiB; make it smaller, or keep it beside the"
                   " library");
      return FALSE;
    }
  if (!g_file_get_contents (path, &bytes, &length, error))
    return FALSE;

  g_clear_pointer (&swatch->photo, g_bytes_unref);
  g_clear_pointer (&swatch->photo_path, g_free);
  swatch->photo = g_bytes_new_take (g_steal_pointer (&bytes), length);

  return TRUE;
}

/**
 * bw_library_photo_path:
 * @library: a library
 * @path: a file in the library's folder, as seen from the current folder, or a
 *   path that begins in the library's folder, whether there is such a file or not
 * @error: return location
 *
 * Returns: (transfer full) (nullable): the path from the library's folder on, so
 * that both can be moved together; %NULL where the file lies elsewhere
 */
char *
bw_library_photo_path (BwLibrary   *library,
                       const char  *path,
                       GError     **error)
{
  g_autofree char *file = NULL;
  g_autofree char *whole = NULL;
  g_autofree char *folder = NULL;
  g_autofree char *beginning = NULL;

  g_return_val_if_fail (library != NULL && path != NULL, NULL);

  if (!g_path_is_absolute (path) && !g_file_test (path, G_FILE_TEST_EXISTS))
    return g_strdup (path);

  file = g_canonicalize_filename (path, NULL);
  whole = g_canonicalize_filename (bw_library_get_path (library), NULL);
  folder = g_path_get_dirname (whole);
  beginning = g_strconcat (folder, g_str_has_suffix (folder, "/") ? "" : "/", NULL);
  if (g_str_has_prefix (file, beginning))
    return g_strdup (file + strlen (beginning));

  g_set_error (error, BW_LIBRARY_ERROR, BW_LIBRARY_ERROR_INVALID,
               "%s does not lie in the library's folder, %s; move it there, or take the picture"
               " itself into the library",
               path, folder);
  return NULL;
}

/* By what pictures begin with: PNG by its specification (W3C), JPEG by JFIF
 * (ECMA TR/98), GIF by GIF89a, WebP by RFC 9649 (IETF). Bytes from memory. */
static const char *
extension_of (GBytes *photo)
{
  gsize length;
  const char *bytes = g_bytes_get_data (photo, &length);

  if (length > 8 && memcmp (bytes, "\x89PNG\r\n\x1a\n", 8) == 0)
    return "png";
  if (length > 3 && memcmp (bytes, "\xff\xd8\xff", 3) == 0)
    return "jpg";
  if (length > 4 && memcmp (bytes, "GIF8", 4) == 0)
    return "gif";
  if (length > 12 && memcmp (bytes, "RIFF", 4) == 0 && memcmp (bytes + 8, "WEBP", 4) == 0)
    return "webp";

  return "picture";
}

/**
 * bw_library_photo_name:
 * @swatch: a swatch's number
 * @photo: the picture
 *
 * Returns: (transfer full): a name for its file, such as "swatch-3.jpg"
 */
char *
bw_library_photo_name (gint64  swatch,
                       GBytes *photo)
{
  return g_strdup_printf ("swatch-%" G_GINT64_FORMAT ".%s", swatch, extension_of (photo));
}

/**
 * bw_library_write_photo:
 * @swatch: a swatch's number
 * @photo: the picture
 * @folder: where to; made if it is not there
 * @error: return location
 *
 * Writes a picture to a file of its own, see bw_library_photo_name(); a file of
 * that name is left alone.
 *
 * Returns: %TRUE if it is there
 */
gboolean
bw_library_write_photo (gint64       swatch,
                        GBytes      *photo,
                        const char  *folder,
                        GError     **error)
{
  g_autofree char *name = bw_library_photo_name (swatch, photo);
  g_autofree char *path = g_build_filename (folder, name, NULL);
  gconstpointer bytes;
  gsize length;

  if (g_mkdir_with_parents (folder, 0755) != 0)
    {
      g_set_error (error, BW_LIBRARY_ERROR, BW_LIBRARY_ERROR_ACCESS,
                   "%s: the folder cannot be made; choose another place (%s)", folder,
                   g_strerror (errno));
      return FALSE;
    }
  if (g_file_test (path, G_FILE_TEST_EXISTS))
    {
      g_set_error (error, BW_LIBRARY_ERROR, BW_LIBRARY_ERROR_EXISTS,
                   "%s is there already; choose another folder", path);
      return FALSE;
    }

  bytes = g_bytes_get_data (photo, &length);

  return g_file_set_contents (path, bytes, (gssize) length, error);
}
