#define G_LOG_DOMAIN "bw-library"

#include "bw-library-thumbnail.h"

#include "bw-library-private.h"

static gboolean
write_thumbnail (BwLibrary  *library,
                 gint64      design,
                 gint64      version,
                 GBytes     *picture,
                 GError    **error)
{
  gsize length;
  gconstpointer bytes;

  if (picture == NULL)
    return bw_sql_do (library, error, "DELETE FROM design_thumbnail WHERE design = ?", "l", design);

  bytes = g_bytes_get_data (picture, &length);

  return bw_sql_do (library, error,
                    "INSERT INTO design_thumbnail (design, version, bytes) VALUES (?, ?, ?)"
                    " ON CONFLICT (design) DO UPDATE"
                    " SET version = excluded.version, bytes = excluded.bytes",
                    "llb", design, version, bytes, length);
}

/**
 * bw_library_set_thumbnail:
 * @library: a library
 * @design: a design
 * @version: the version of it that the picture shows, as loading it told
 * @picture: (nullable): the picture's bytes, at most %BW_LIBRARY_THUMBNAIL_MAX;
 *   %NULL removes it
 * @error: return location
 *
 * Keeps a picture in the place of the one before. The design is not changed by
 * that and keeps its version.
 *
 * Returns: %TRUE if it is on disk
 */
gboolean
bw_library_set_thumbnail (BwLibrary  *library,
                          gint64      design,
                          gint64      version,
                          GBytes     *picture,
                          GError    **error)
{
  gboolean ok;

  g_return_val_if_fail (library != NULL, FALSE);

  if (picture != NULL && g_bytes_get_size (picture) > BW_LIBRARY_THUMBNAIL_MAX)
    {
      g_set_error (error, BW_LIBRARY_ERROR, BW_LIBRARY_ERROR_INVALID,
                   "the small picture is larger than 256 KiB; draw it smaller");
      return FALSE;
    }

  if (!bw_library_begin (library, error))
    return FALSE;

  ok = write_thumbnail (library, design, version, picture, error);

  return bw_library_end (library, ok, error);
}

/**
 * bw_library_get_thumbnail:
 * @library: a library
 * @design: a design
 * @version: the version that is to be shown, as lists have it
 * @error: return location; BW_LIBRARY_ERROR_MISSING where there is no picture, or
 *   only one of another version
 *
 * Returns: (transfer full) (nullable): the picture's bytes
 */
GBytes *
bw_library_get_thumbnail (BwLibrary  *library,
                          gint64      design,
                          gint64      version,
                          GError    **error)
{
  sqlite3_stmt *statement;
  GBytes *picture;
  BwStep step;

  g_return_val_if_fail (library != NULL, NULL);

  statement = bw_sql_start (library, error,
                            "SELECT bytes FROM design_thumbnail WHERE design = ? AND version = ?",
                            "ll", design, version);
  if (statement == NULL)
    return NULL;

  step = bw_sql_step (library, statement, error);
  if (step == BW_STEP_DONE)
    g_set_error (error, BW_LIBRARY_ERROR, BW_LIBRARY_ERROR_MISSING,
                 "the design has no picture of this version; draw it");
  if (step != BW_STEP_ROW)
    return NULL;

  picture = g_bytes_new (sqlite3_column_blob (statement, 0),
                         (gsize) sqlite3_column_bytes (statement, 0));
  bw_sql_done (statement);

  return picture;
}
