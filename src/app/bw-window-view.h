#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

void bw_window_install_views (GtkWidgetClass *widget_class);

G_END_DECLS
