#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

GtkListItemFactory *bw_name_factory_new (void) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
