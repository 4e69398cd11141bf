#pragma once

#include <glib.h>

/* Runs the built command line the way a person or a script does, and reads
 * what it prints. The program's path is in BW_CLI. */

typedef struct
{
  int   status; /* exit status; -1 = it did not exit by itself */
  char *out;
  char *err;
} Run;

const char *family       (void);
void       run_clear     (Run        *run);
void       run_with      (Run        *run,
                          char      **environment,
                          ...) G_GNUC_NULL_TERMINATED;
char      *write_design  (const char *name,
                          const char *text);
GPtrArray *parse_csv     (const char *text);
guint      column_of     (GPtrArray  *table,
                          const char *name);
const char *cell         (GPtrArray  *table,
                          guint       row,
                          const char *name);
double     number        (GPtrArray  *table,
                          guint       row,
                          const char *name);
guint      count_lines   (const char *text);


G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Run, run_clear)
