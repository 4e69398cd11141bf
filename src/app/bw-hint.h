#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

void bw_hint_set (GtkWidget  *widget,
                  const char *text);
const char *bw_hint_get (GtkWidget *widget);

G_END_DECLS
