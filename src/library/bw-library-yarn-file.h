#pragma once

#include "bw-library-yarn.h"

G_BEGIN_DECLS

gboolean bw_library_add_yarns (BwLibrary   *library,
                               const char  *text,
                               gsize        length,
                               guint       *n_yarns,
                               GError     **error);

G_END_DECLS
