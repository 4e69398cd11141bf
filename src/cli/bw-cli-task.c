#define G_LOG_DOMAIN "bw-cli"

#include "bw-cli-private.h"

#include <string.h>

#include "bw-cli-task.h"
#include "bw-library-design.h"
#include "bw-library-gauge.h"
#include "bw-library-sizes.h"
#include "bw-reference-builtin.h"

/* ---- complaints -------------------------------------------------------------- */

/**
 * bw_cli_fail:
 * @error: what went wrong
 *
 * Returns: the exit status, after a complaint
 */
BwExit
bw_cli_fail (const GError *error)
{
  bw_cli_complain ("%s", error->message);

  return BW_EXIT_BAD_INPUT;
}

/**
 * bw_cli_fail_at:
 * @what: a file, a design
 * @error: what went wrong with it
 *
 * Returns: the exit status, after a complaint
 */
BwExit
bw_cli_fail_at (const char   *what,
                const GError *error)
{
  bw_cli_complain ("%s: %s", what, error->message);

  return BW_EXIT_BAD_INPUT;
}

/**
 * bw_cli_find_design:
 * @work: a task
 * @name: a design's name, code or number
 * @id: (out): the design
 *
 * Returns: %FALSE after a complaint where there is none
 */
gboolean
bw_cli_find_design (BwCliWork  *work,
                    const char *name,
                    gint64     *id)
{
  g_autoptr (GError) error = NULL;

  if (bw_library_find (work->library, name, id, &error))
    return TRUE;

  bw_cli_fail (error);
  return FALSE;
}

/**
 * bw_cli_date:
 * @seconds: since 1970
 *
 * Returns: (transfer full): the day here, as 2024-05-31
 */
char *
bw_cli_date (gint64 seconds)
{
  g_autoptr (GDateTime) time = g_date_time_new_from_unix_local (seconds);

  return time != NULL ? g_date_time_format (time, "%Y-%m-%d") : g_strdup ("");
}

/* ---- options ------------------------------------------------------------------- */

static void
options_clear (BwCliOptions *options)
{
  char **texts[] = {
    &options->library, &options->order, &options->note, &options->revision, &options->into,
    &options->yarn, &options->hook, &options->pattern, &options->lot, &options->worked,
    &options->by, &options->date, &options->weight, &options->stitches, &options->rounds,
    &options->photo, &options->photos,
  };

  for (gsize i = 0; i < G_N_ELEMENTS (texts); i++)
    g_clear_pointer (texts[i], g_free);
  g_clear_pointer (&options->tags, g_strfreev);
  g_clear_pointer (&options->readings, g_strfreev);
}

static gboolean
takes (const BwCliTask *task,
       const char      *name)
{
  g_auto (GStrv) names = g_strsplit (task->options, " ", -1);

  return g_str_equal (name, "library") || g_strv_contains ((const char *const *) names, name);
}

/* Leaves the arguments in @work. */
static gboolean
parse (BwCliWork  *work,
       char      **arguments)
{
  BwCliOptions *o = &work->options;
  const GOptionEntry all[] = {
    { "library", 0, 0, G_OPTION_ARG_FILENAME, &o->library, NULL, NULL },
    { "order", 0, 0, G_OPTION_ARG_FILENAME, &o->order, NULL, NULL },
    { "note", 0, 0, G_OPTION_ARG_FILENAME, &o->note, NULL, NULL },
    { "revision", 0, 0, G_OPTION_ARG_FILENAME, &o->revision, NULL, NULL },
    { "into", 0, 0, G_OPTION_ARG_FILENAME, &o->into, NULL, NULL },
    { "yarn", 0, 0, G_OPTION_ARG_FILENAME, &o->yarn, NULL, NULL },
    { "hook", 0, 0, G_OPTION_ARG_FILENAME, &o->hook, NULL, NULL },
    { "pattern", 0, 0, G_OPTION_ARG_FILENAME, &o->pattern, NULL, NULL },
    { "lot", 0, 0, G_OPTION_ARG_FILENAME, &o->lot, NULL, NULL },
    { "worked", 0, 0, G_OPTION_ARG_FILENAME, &o->worked, NULL, NULL },
    { "by", 0, 0, G_OPTION_ARG_FILENAME, &o->by, NULL, NULL },
    { "date", 0, 0, G_OPTION_ARG_FILENAME, &o->date, NULL, NULL },
    { "weight", 0, 0, G_OPTION_ARG_FILENAME, &o->weight, NULL, NULL },
    { "stitches", 0, 0, G_OPTION_ARG_FILENAME, &o->stitches, NULL, NULL },
    { "rounds", 0, 0, G_OPTION_ARG_FILENAME, &o->rounds, NULL, NULL },
    { "photograph", 0, 0, G_OPTION_ARG_FILENAME, &o->photo, NULL, NULL },
    { "photographs", 0, 0, G_OPTION_ARG_FILENAME, &o->photos, NULL, NULL },
    { "tag", 0, 0, G_OPTION_ARG_FILENAME_ARRAY, &o->tags, NULL, NULL },
    { "reading", 0, 0, G_OPTION_ARG_FILENAME_ARRAY, &o->readings, NULL, NULL },
    { "bin", 0, 0, G_OPTION_ARG_NONE, &o->bin, NULL, NULL },
    { "all", 0, 0, G_OPTION_ARG_NONE, &o->all, NULL, NULL },
    { "partial", 0, 0, G_OPTION_ARG_NONE, &o->partial, NULL, NULL },
    { "try", 0, 0, G_OPTION_ARG_NONE, &o->try_only, NULL, NULL },
    { "embed", 0, 0, G_OPTION_ARG_NONE, &o->embed, NULL, NULL },
    { "with-revisions", 0, 0, G_OPTION_ARG_NONE, &o->with_revisions, NULL, NULL },
  };
  g_autoptr (GOptionContext) context = g_option_context_new (NULL);
  g_autoptr (GError) error = NULL;
  int n = (int) g_strv_length (arguments);

  g_option_context_set_help_enabled (context, FALSE);
  for (gsize i = 0; i < G_N_ELEMENTS (all); i++)
    if (takes (work->task, all[i].long_name))
      {
        const GOptionEntry one[] = { all[i], G_OPTION_ENTRY_NULL };

        g_option_context_add_main_entries (context, one, NULL);
      }

  if (!g_option_context_parse (context, &n, &arguments, &error))
    {
      bw_cli_complain (_("%s; --help lists the options"), error->message);
      return FALSE;
    }

  /* "--" stays in front of what it guards */
  if (n > 1 && g_str_equal (arguments[1], "--"))
    {
      arguments++;
      n--;
    }
  work->arguments = arguments + 1;
  work->n_arguments = (guint) n - 1;

  return TRUE;
}

static gboolean
check_arguments (const BwCliWork *work)
{
  if (work->n_arguments >= work->task->least && work->n_arguments <= work->task->most)
    return TRUE;

  if (work->n_arguments < work->task->least)
    bw_cli_complain (_("“%s” needs more to go by; --help shows what"), work->task->name);
  else
    bw_cli_complain (_("“%s” takes fewer words; --help shows which"), work->task->name);

  return FALSE;
}

/* ---- running ---------------------------------------------------------------------- */

static gboolean
open_library (BwCliWork *work)
{
  static const BwLibraryOpenFlags flags[] = {
    [BW_CLI_OPEN_READ] = BW_LIBRARY_OPEN_DEFAULT,
    [BW_CLI_OPEN_WRITE] = BW_LIBRARY_OPEN_DEFAULT,
    [BW_CLI_OPEN_CREATE] = BW_LIBRARY_OPEN_CREATE,
  };
  g_autoptr (GError) error = NULL;
  const char *kept;

  work->path = g_strdup (work->options.library);
  if (work->path == NULL)
    work->path = bw_library_default_path ();
  if (work->task->open == BW_CLI_OPEN_NOTHING)
    return TRUE;

  work->library = bw_library_open (work->path, flags[work->task->open], &error);
  if (work->library == NULL)
    {
      bw_cli_fail (error);
      return FALSE;
    }

  kept = bw_library_get_migrated_from (work->library);
  if (kept != NULL)
    g_printerr (_("The library was brought up to date; the old one was kept as %s.\n"), kept);

  return TRUE;
}

static BwExit
run_work (BwCliWork  *work,
          char      **arguments)
{
  g_autoptr (GError) error = NULL;

  if (!parse (work, arguments) || !check_arguments (work))
    return BW_EXIT_BAD_INPUT;

  work->reference = bw_reference_builtin (&error);
  if (work->reference == NULL)
    {
      bw_cli_complain (_("the built-in tables are damaged: %s"), error->message);
      return BW_EXIT_BAD_INPUT;
    }

  return open_library (work) ? work->task->run (work) : BW_EXIT_BAD_INPUT;
}

/**
 * bw_cli_run_task:
 * @tasks: (array length=n_tasks): what the verb can do
 * @n_tasks: how many
 * @arguments: the verb's name, the task's, and what follows
 * @out: what there is to say
 *
 * Reads the options of a task, opens the library and does it.
 *
 * Returns: the exit status
 */
BwExit
bw_cli_run_task (const BwCliTask  *tasks,
                 gsize             n_tasks,
                 char            **arguments,
                 GString          *out)
{
  BwCliWork work = { .out = out };
  BwExit status;

  if (arguments[1] == NULL)
    {
      bw_cli_complain (_("say what to do; “brimwright-cli %s --help” lists it"), arguments[0]);
      return BW_EXIT_BAD_INPUT;
    }

  for (gsize i = 0; i < n_tasks; i++)
    if (g_str_equal (arguments[1], tasks[i].name))
      work.task = &tasks[i];
  if (work.task == NULL)
    {
      bw_cli_complain (_("“%s” is nothing that “%s” does; --help lists what it does"), arguments[1],
                       arguments[0]);
      return BW_EXIT_BAD_INPUT;
    }

  status = run_work (&work, arguments + 1);
  g_clear_pointer (&work.library, bw_library_close);
  g_clear_pointer (&work.reference, bw_reference_free);
  g_clear_pointer (&work.path, g_free);
  options_clear (&work.options);

  return status;
}

/* ---- size tables of one's own -------------------------------------------------- */

/**
 * bw_cli_take_size_tables:
 * @reference: tables, to which those of the library are added
 * @library: (nullable): the library's file; %NULL = the one in its usual place
 *
 * Lets a design that is read next name them. Where there is no library, it is
 * the design that complains, if it names one.
 */
void
bw_cli_take_size_tables (BwReference *reference,
                         const char  *library)
{
  g_autofree char *path = library != NULL ? g_strdup (library) : bw_library_default_path ();
  g_autoptr (BwLibrary) opened = bw_library_open (path, BW_LIBRARY_OPEN_READ_ONLY, NULL);

  if (opened != NULL)
    bw_library_use_size_tables (opened, reference, NULL);
}

/* ---- gauges for grading -------------------------------------------------------------- */

static gboolean
names_a_set (const BwDesign *design)
{
  for (guint i = 0; i < design->swatches->len; i++)
    if (g_array_index (design->swatches, BwSwatch, i).from[0] != '\0')
      return TRUE;

  return FALSE;
}

/**
 * bw_cli_take_gauges:
 * @design: a design, about to be graded
 * @library: (nullable): the library's file; %NULL = the one in its usual place
 *
 * Gives a design that names sets of swatches the library's readings.
 *
 * Returns: %FALSE after a complaint where they cannot be had
 */
gboolean
bw_cli_take_gauges (BwDesign   *design,
                    const char *library)
{
  g_autofree char *path = library != NULL ? g_strdup (library) : bw_library_default_path ();
  g_autoptr (GError) error = NULL;
  g_autoptr (BwLibrary) opened = NULL;

  if (!names_a_set (design))
    return TRUE;

  opened = bw_library_open (path, BW_LIBRARY_OPEN_READ_ONLY, &error);
  if (opened != NULL && bw_library_resolve_swatches (opened, design, &error))
    return TRUE;

  bw_cli_complain (_("the design takes its gauge from the library: %s"), error->message);
  return FALSE;
}
