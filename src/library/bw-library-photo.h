#pragma once

#include "bw-library-swatch.h"

G_BEGIN_DECLS

/* Photographs of swatches: a path that begins in the library's folder, or the
 * picture itself. */

gboolean bw_library_swatch_take_photo (BwLibrarySwatch       *swatch,
                                       const char            *path,
                                       GError               **error);
char    *bw_library_photo_path        (BwLibrary             *library,
                                       const char            *path,
                                       GError               **error) G_GNUC_WARN_UNUSED_RESULT;
char    *bw_library_photo_name        (gint64                 swatch,
                                       GBytes                *photo) G_GNUC_WARN_UNUSED_RESULT;
gboolean bw_library_write_photo       (gint64                 swatch,
                                       GBytes                *photo,
                                       const char            *folder,
                                       GError               **error);

G_END_DECLS
