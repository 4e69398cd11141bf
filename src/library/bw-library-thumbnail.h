#pragma once

#include "bw-library.h"

G_BEGIN_DECLS

/* Small pictures of designs for lists. They are kept beside the designs and are
 * not of them: no revision, undo step or exchange has them. */

#define BW_LIBRARY_THUMBNAIL_MAX (256 * 1024)

gboolean  bw_library_set_thumbnail (BwLibrary  *library,
                                    gint64      design,
                                    gint64      version,
                                    GBytes     *picture,
                                    GError    **error);
GBytes   *bw_library_get_thumbnail (BwLibrary  *library,
                                    gint64      design,
                                    gint64      version,
                                    GError    **error) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
