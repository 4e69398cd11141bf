#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* The sqlite3 shell, run on a script; what it took is what the kernel says of
 * that process when it has ended. */

typedef struct
{
  double cpu_us;  /* user and system time of the process */
  double wall_us; /* from the fork to the end */
} Took;

gboolean shell_is_there (void);
Took     shell_run      (const char *database,
                         const char *script,
                         const char *out_path);
Took     took_now       (void);
Took     took_since     (Took        start);

G_END_DECLS
