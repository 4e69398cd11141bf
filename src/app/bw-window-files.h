#pragma once

#include "bw-window.h"

G_BEGIN_DECLS

/* What the window does with files, paper and dialogues. */

void bw_window_install_dialogs (GtkWidgetClass *widget_class);
void bw_window_take_file       (BwWindow       *self,
                                GFile          *file);
void bw_window_import          (BwWindow       *self,
                                GFile          *file);

G_END_DECLS
