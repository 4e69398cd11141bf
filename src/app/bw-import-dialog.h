#pragma once

#include <gtk/gtk.h>

#include "bw-library-csv.h"

G_BEGIN_DECLS

#define BW_TYPE_IMPORT_DIALOG (bw_import_dialog_get_type ())
G_DECLARE_FINAL_TYPE (BwImportDialog, bw_import_dialog, BW, IMPORT_DIALOG, GtkWindow)

GtkWidget            *bw_import_dialog_new        (GtkWindow         *parent,
                                                   BwLibrary         *library,
                                                   const BwReference *reference,
                                                   GFile             *file,
                                                   GError           **error)
                                                   G_GNUC_WARN_UNUSED_RESULT;
const BwImportReport *bw_import_dialog_get_report (BwImportDialog    *self);
gboolean              bw_import_dialog_take       (BwImportDialog    *self);

G_END_DECLS
