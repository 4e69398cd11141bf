#pragma once

#include "bw-cli.h"
#include "bw-library.h"

G_BEGIN_DECLS

/* A verb that does several things, the library's and the swatches', is a list of
 * tasks: what each is called, takes, and needs to have open. */

/* Everything that any task can be told; each takes only what it names. */
typedef struct
{
  char    *library;        /* NULL = the one in its usual place */
  char    *order;
  char    *note;
  char    *revision;
  char    *into;
  char    *yarn;
  char    *hook;
  char    *pattern;
  char    *lot;
  char    *worked;
  char    *by;
  char    *date;
  char    *weight;
  char    *stitches;
  char    *rounds;
  char    *photo;
  char    *photos;
  char   **tags;
  char   **readings;
  gboolean bin;
  gboolean all;
  gboolean partial;
  gboolean try_only;
  gboolean embed;
  gboolean with_revisions;
} BwCliOptions;

typedef enum
{
  BW_CLI_OPEN_NOTHING,
  BW_CLI_OPEN_READ,
  BW_CLI_OPEN_WRITE,
  BW_CLI_OPEN_CREATE,
} BwCliOpen;

typedef struct _BwCliTask BwCliTask;

/* A task at work. */
typedef struct
{
  const BwCliTask *task;
  BwCliOptions     options;
  char           **arguments;  /* what is left beside options */
  guint            n_arguments;
  char            *path;       /* the library's */
  BwLibrary       *library;    /* NULL for BW_CLI_OPEN_NOTHING */
  BwReference     *reference;
  GString         *out;
} BwCliWork;

struct _BwCliTask
{
  const char *name;
  const char *options;  /* names of those it takes, with spaces between; --library goes without
                         * saying */
  guint       least;    /* arguments */
  guint       most;
  BwCliOpen   open;
  BwExit    (*run) (BwCliWork *work);
};

BwExit  bw_cli_run_task      (const BwCliTask *tasks,
                              gsize            n_tasks,
                              char           **arguments,
                              GString         *out);
BwExit  bw_cli_fail          (const GError    *error);
BwExit  bw_cli_fail_at       (const char      *what,
                              const GError    *error);
gboolean bw_cli_find_design  (BwCliWork       *work,
                              const char      *name,
                              gint64          *id);
char   *bw_cli_date          (gint64           seconds) G_GNUC_WARN_UNUSED_RESULT;

/* bw-cli-keep.c: the tasks of the library that look after the file */
BwExit  bw_cli_library_backup    (BwCliWork *work);
BwExit  bw_cli_library_restore   (BwCliWork *work);
BwExit  bw_cli_library_verify    (BwCliWork *work);
BwExit  bw_cli_library_vacuum    (BwCliWork *work);
BwExit  bw_cli_library_export    (BwCliWork *work);
BwExit  bw_cli_library_import    (BwCliWork *work);
BwExit  bw_cli_library_demo      (BwCliWork *work);
BwExit  bw_cli_library_sizes     (BwCliWork *work);
BwExit  bw_cli_library_empty_bin (BwCliWork *work);

/* bw-cli-revise.c */
BwExit  bw_cli_library_revise      (BwCliWork *work);
BwExit  bw_cli_library_revisions   (BwCliWork *work);
BwExit  bw_cli_library_corrections (BwCliWork *work);

/* bw-cli-gauge.c */
BwExit  bw_cli_swatch_gauge        (BwCliWork *work);
BwExit  bw_cli_swatch_hook         (BwCliWork *work);

G_END_DECLS
