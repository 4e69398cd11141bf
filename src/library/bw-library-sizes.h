#pragma once

#include "bw-library.h"
#include "bw-reference.h"

G_BEGIN_DECLS

/* The designer's own size tables. Ours are compiled in, are read-only, and
 * cannot be replaced by one of the same id. */

gboolean   bw_library_save_size_table   (BwLibrary         *library,
                                         const BwReference *reference,
                                         const BwSizeTable *table,
                                         GError           **error);
GPtrArray *bw_library_get_size_tables   (BwLibrary         *library,
                                         GError           **error) G_GNUC_WARN_UNUSED_RESULT;
gboolean   bw_library_use_size_tables   (BwLibrary         *library,
                                         BwReference       *reference,
                                         GError           **error);
gboolean   bw_library_remove_size_table (BwLibrary         *library,
                                         const char        *id,
                                         GError           **error);

G_END_DECLS
