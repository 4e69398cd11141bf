#pragma once

#include <gtk/gtk.h>

#include "bw-document.h"

G_BEGIN_DECLS

#define BW_TYPE_LIBRARY_SIDE (bw_library_side_get_type ())
G_DECLARE_FINAL_TYPE (BwLibrarySide, bw_library_side, BW, LIBRARY_SIDE, GtkWidget)

void bw_library_side_set_library (BwLibrarySide     *self,
                                  const BwReference *reference,
                                  BwLibrary         *library);
void bw_library_side_refresh     (BwLibrarySide     *self);
void bw_library_side_set_document (BwLibrarySide    *self,
                                  BwDocument        *document);
void bw_library_side_forget      (BwLibrarySide     *self,
                                  gint64             id);
GListModel    *bw_library_side_get_model      (BwLibrarySide *self);
GtkAdjustment *bw_library_side_get_adjustment (BwLibrarySide *self);
void bw_library_side_search      (BwLibrarySide     *self);

G_END_DECLS
