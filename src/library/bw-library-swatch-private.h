#pragma once

#include "bw-library-private.h"
#include "bw-library-swatch.h"

G_BEGIN_DECLS

/* Within a transaction of the caller's. */
gboolean bw_library_swatch_rows_save (BwLibrary        *library,
                                      BwLibrarySwatch  *swatch,
                                      GError          **error);

G_END_DECLS
