#pragma once

#include <gtk/gtk.h>

#include "bw-document.h"

G_BEGIN_DECLS

#define BW_TYPE_PUBLISH_DIALOG (bw_publish_dialog_get_type ())
G_DECLARE_FINAL_TYPE (BwPublishDialog, bw_publish_dialog, BW, PUBLISH_DIALOG, GtkWindow)

GtkWidget *bw_publish_dialog_new       (GtkWindow        *parent,
                                        BwDocument       *document) G_GNUC_WARN_UNUSED_RESULT;
guint      bw_publish_dialog_get_n_pages (BwPublishDialog *self);
gboolean   bw_publish_dialog_write     (BwPublishDialog  *self,
                                        const char       *path,
                                        GError          **error);
gboolean   bw_publish_dialog_revise    (BwPublishDialog  *self,
                                        GError          **error);

G_END_DECLS
