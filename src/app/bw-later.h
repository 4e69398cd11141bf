#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* Returns whether there is more to do. */
typedef gboolean (*BwLaterFunc) (GtkWidget *widget);

void bw_later_add (GtkWidget   *widget,
                   BwLaterFunc  func);

G_END_DECLS
