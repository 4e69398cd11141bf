#pragma once

#include "bw-window.h"

G_BEGIN_DECLS

/* What the window does with files, paper and dialogues. */

void bw_window_take_file   (BwWindow *self,
                            GFile    *file);
void bw_window_import      (BwWindow *self,
                            GFile    *file);
void bw_window_ask_import  (BwWindow *self);
void bw_window_publish     (BwWindow *self);
void bw_window_print       (BwWindow *self);
void bw_window_preferences (BwWindow *self);

G_END_DECLS
