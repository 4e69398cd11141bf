#pragma once

#include <gtk/gtk.h>

#include "bw-reference.h"
#include "bw-library.h"

G_BEGIN_DECLS

#define BW_TYPE_LIBRARY_SIDE (bw_library_side_get_type ())
G_DECLARE_FINAL_TYPE (BwLibrarySide, bw_library_side, BW, LIBRARY_SIDE, GtkWidget)

/* More than so many are found by searching: longer lists jump in GTK 4.8. */
#define BW_LIBRARY_SIDE_MAX 180

void bw_library_side_set_library (BwLibrarySide     *self,
                                  const BwReference *reference,
                                  BwLibrary         *library);
void bw_library_side_refresh     (BwLibrarySide     *self);
void bw_library_side_set_current (BwLibrarySide     *self,
                                  gint64             id);
void bw_library_side_search      (BwLibrarySide     *self);

G_END_DECLS
