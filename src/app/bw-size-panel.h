#pragma once

#include <gtk/gtk.h>

#include "bw-document.h"

G_BEGIN_DECLS

#define BW_TYPE_SIZE_PANEL (bw_size_panel_get_type ())
G_DECLARE_FINAL_TYPE (BwSizePanel, bw_size_panel, BW, SIZE_PANEL, GtkWidget)

void bw_size_panel_set_document (BwSizePanel *self,
                                 BwDocument  *document);

G_END_DECLS
