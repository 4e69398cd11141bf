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

/* What one kind of work took. */
typedef struct
{
  double *wall_ms; /* each one, by the clock */
  double *cpu_ms;  /* each one, of the processor */
  guint   n;
  double  cpu_us;  /* of all */
} Times;

gboolean shell_is_there (void);
Took     shell_run      (const char *database,
                         const char *script,
                         const char *out_path);
Took     took_now       (void);
Took     took_since     (Took        start);

Times    times_new      (guint       most);
void     times_add      (Times      *times,
                         Took        took);
void     times_clear    (Times      *times);
double   percentile     (double     *values,
                         guint       n,
                         double      fraction);

G_END_DECLS
