#pragma once

#include "bw-library.h"
#include "bw-reference.h"

G_BEGIN_DECLS

gboolean bw_library_fill_demo (BwLibrary         *library,
                               const BwReference *reference,
                               GError           **error);

G_END_DECLS
