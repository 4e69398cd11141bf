#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* The statements that a run of the library is made of, told by SQLite's trace
 * with their values. */

extern GString *told; /* what was told so far; NULL = nobody listens */

void listen_to_sqlite (gboolean on);

G_END_DECLS
