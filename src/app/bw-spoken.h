#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

void bw_spoken_name   (GtkWidget   *widget,
                       const char  *name);
void bw_spoken_choice (GtkDropDown *list,
                       const char  *label);

G_END_DECLS
