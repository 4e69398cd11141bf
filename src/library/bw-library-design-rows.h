#pragma once

#include "bw-design.h"
#include "bw-library-private.h"

G_BEGIN_DECLS

/* A design as rows: every table named here is recorded for undoing. */
extern const char *const bw_design_table_names[];

gboolean  bw_design_rows_save   (BwLibrary       *library,
                                 gint64           id,
                                 const BwDesign  *design,
                                 GError         **error);
BwDesign *bw_design_rows_load   (BwLibrary       *library,
                                 gint64           id,
                                 GError         **error) G_GNUC_WARN_UNUSED_RESULT;
gboolean  bw_design_rows_remove (BwLibrary       *library,
                                 gint64           id,
                                 GError         **error);

G_END_DECLS
