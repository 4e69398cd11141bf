#pragma once

#include <glib.h>

G_BEGIN_DECLS

gboolean bw_publish_file_write (const char    *path,
                                gconstpointer  bytes,
                                gsize          length,
                                GError       **error);

G_END_DECLS
