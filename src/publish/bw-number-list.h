#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* Lists of a number for each size in the words of a pattern: "54 (60, 66)". */

gsize    bw_number_length    (const char  *at);
gboolean bw_number_list_find (const char  *at,
                              guint        n,
                              const char **starts,
                              gsize       *lengths,
                              const char **end);

G_END_DECLS
