#pragma once

#include <gtk/gtk.h>

#include "bw-application.h"
#include "bw-design-place.h"
#include "bw-library-side.h"
#include "bw-pattern-place.h"

G_BEGIN_DECLS

#define BW_TYPE_WINDOW (bw_window_get_type ())
G_DECLARE_FINAL_TYPE (BwWindow, bw_window, BW, WINDOW, GtkApplicationWindow)

GtkWidget     *bw_window_new              (BwApplication *application,
                                           BwDocument    *document);
void           bw_window_set_document     (BwWindow      *self,
                                           BwDocument    *document);
BwDocument    *bw_window_get_document     (BwWindow      *self);
BwDesignPlace *bw_window_get_design_place (BwWindow      *self);
void           bw_window_open_design      (BwWindow      *self,
                                           GFile         *file);
void           bw_window_refresh_swatches (BwWindow      *self);
BwPatternPlace *bw_window_get_pattern_place (BwWindow    *self);
BwLibrarySide *bw_window_get_library_side (BwWindow      *self);
void           bw_window_tell             (BwWindow      *self,
                                           const char    *message);

G_END_DECLS
