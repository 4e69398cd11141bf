#define G_LOG_DOMAIN "bw-cli"

#include "bw-cli-private.h"

#include <string.h>

#include "bw-cli-table.h"
#include "bw-cli-task.h"
#include "bw-library-csv.h"
#include "bw-library-gauge.h"
#include "bw-library-photo.h"
#include "bw-library-yarn-file.h"
#include "bw-csv.h"
#include "bw-units.h"

/* A spreadsheet is larger than a design, and still no film. */
#define TABLE_BYTES_MAX (64 * 1024 * 1024)

static const char help[] = N_(
  "Usage: brimwright-cli swatch WORK [OPTION...]\n"
  "  add --yarn Y --hook 5 --pattern P --reading \"20 sts in 127 mm washed\" ...\n"
  "      [--lot L] [--worked rows|turned-rounds|rounds] [--by WHO] [--date DAY]\n"
  "      [--note TEXT] [--weight 12g --stitches N --rounds N]\n"
  "      [--photograph FILE [--embed]]   its place, or the picture itself\n"
  "  import FILE.csv [--partial] [--try] [--photographs FOLDER]\n"
  "                     all rows or none; --partial leaves out what cannot be read,\n"
  "                     --try changes nothing; pictures in FOLDER are taken in\n"
  "  export [FILTER] [--photographs FOLDER]\n"
  "                     as such a table; FOLDER gets the pictures\n"
  "  list [FILTER]      FILTER: --yarn Y --hook 5 --pattern P\n"
  "  remove NUMBER\n"
  "  gauge \"YARN / HOOK / PATTERN\", or FILTER\n"
  "                     stitches and rounds with their 95 % interval\n"
  "  hook --yarn Y --pattern P \"16 sts to 10 cm\"\n"
  "                     the hook for a gauge, from swatches with several\n"
  "  yarns [FILE.ini]   list the yarns, or take them in from a file\n"
  "\n"
  "      --library FILE    another library than the one in its usual place\n"
  "\n"
  "Exit status: 0 done, 1 refused (the reasons are printed), 2 bad input.\n"
  "Manual page: brimwright-cli(1).\n");

/* ---- tables in and out -------------------------------------------------------------- */

static void
print_problems (const char           *path,
                const BwImportReport *report)
{
  for (guint i = 0; i < report->problems->len; i++)
    {
      const BwImportProblem *problem = g_ptr_array_index (report->problems, i);

      if (problem->column == 0)
        g_printerr (_("%s, line %u: %s\n"), path, problem->line, problem->message);
      else
        g_printerr (_("%s, line %u, column %u (%s), “%s”: %s\n"), path, problem->line,
                    problem->column, problem->heading, problem->cell, problem->message);
    }
  for (guint i = 0; i < report->ignored->len; i++)
    g_printerr (_("%s: the column “%s” was not taken.\n"), path,
                (const char *) g_ptr_array_index (report->ignored, i));
}

/* @photos: a folder, see bw_library_import_with_photos(); or NULL */
static BwExit
take_table (BwCliWork  *work,
            const char *path,
            const char *text,
            gsize       length,
            const char *photos)
{
  g_autoptr (BwImportReport) report = bw_import_report_new ();
  g_autoptr (GError) error = NULL;
  BwImportFlags flags =
    (work->options.partial ? BW_IMPORT_PARTIAL : 0) | (work->options.try_only ? BW_IMPORT_TRY : 0);
  gboolean ok = bw_library_import_with_photos (work->library, work->reference, text, length,
                                               photos, flags, report, &error);

  print_problems (path, report);
  if (!ok)
    {
      bw_cli_fail_at (path, error);
      return report->problems->len > 0 ? BW_EXIT_REFUSED : BW_EXIT_BAD_INPUT;
    }

  g_string_append_printf (work->out, work->options.try_only
                                       ? _("%u swatches with %u readings would be taken; %u rows"
                                           " left out.\n")
                                       : _("%u swatches with %u readings were taken; %u rows left"
                                           " out.\n"),
                          report->n_swatches, report->n_readings, report->n_left_out);
  if (report->n_yarns > 0)
    g_string_append_printf (work->out, g_dngettext (GETTEXT_PACKAGE,
                                                    "%u yarn is new; its ball is not known yet.\n",
                                                    "%u yarns are new; their balls are not known"
                                                    " yet.\n",
                                                    report->n_yarns),
                            report->n_yarns);
  if (report->n_photos > 0)
    g_string_append_printf (work->out,
                            g_dngettext (GETTEXT_PACKAGE,
                                         "%u photograph goes into the library itself.\n",
                                         "%u photographs go into the library itself.\n",
                                         report->n_photos),
                            report->n_photos);

  return BW_EXIT_GRADED;
}

static BwExit
import_table (BwCliWork *work)
{
  gsize length;
  g_autofree char *text = bw_cli_read_file (work->arguments[0], TABLE_BYTES_MAX, &length);

  if (text == NULL)
    return BW_EXIT_BAD_INPUT;

  if (work->options.photos != NULL && !g_file_test (work->options.photos, G_FILE_TEST_IS_DIR))
    {
      bw_cli_complain (_("%s is no folder; name the one with the photographs"),
                       work->options.photos);
      return BW_EXIT_BAD_INPUT;
    }

  return take_table (work, work->arguments[0], text, length, work->options.photos);
}

/* "20 sts in 127 mm washed fully-stretched" as cells of the table that is
 * imported, so that there is one reader of readings. */
static gboolean
split_reading (const char  *text,
               char       **cells)
{
  g_autofree char *plain = g_strdup (text);
  g_autofree char *rest = NULL;
  const char *washed = "no";
  const char *laid = "relaxed";
  char *span;
  double count;

  g_strstrip (plain);
  for (gboolean more = TRUE; more;)
    {
      more = FALSE;
      if (g_str_has_suffix (plain, " washed"))
        washed = "yes";
      else if (g_str_has_suffix (plain, " gently-stretched"))
        laid = "gently stretched";
      else if (g_str_has_suffix (plain, " fully-stretched"))
        laid = "fully stretched";
      else
        break;
      *strrchr (plain, ' ') = '\0';
      g_strchomp (plain);
      more = TRUE;
    }

  if (!bw_units_split (plain, &count, &rest, NULL))
    return FALSE;

  span = strstr (rest, " in ");
  if (span == NULL)
    return FALSE;

  *span = '\0';
  if (g_str_has_prefix (rest, "st"))
    cells[0] = g_strdup ("stitches");
  else if (g_str_has_prefix (rest, "r"))
    cells[0] = g_strdup ("rounds");
  else
    return FALSE;

  cells[1] = g_strndup (plain, strcspn (plain, " "));
  cells[2] = g_strdup (span + 4);
  cells[3] = g_strdup (washed);
  cells[4] = g_strdup (laid);

  return TRUE;
}

static gboolean
append_reading (GString            *table,
                const BwCliOptions *options,
                const char         *reading)
{
  const char *const said[] = {
    options->yarn, options->hook, options->pattern, options->lot, options->worked, options->by,
    options->date, options->note, options->weight, options->stitches, options->rounds,
    options->photo,
  };
  char *cells[5] = { NULL };
  gboolean ok = split_reading (reading, cells);

  for (gsize i = 0; ok && i < G_N_ELEMENTS (said); i++)
    bw_csv_append_cell (table, said[i], FALSE);
  for (gsize i = 0; i < G_N_ELEMENTS (cells); i++)
    {
      if (ok)
        bw_csv_append_cell (table, cells[i], i + 1 == G_N_ELEMENTS (cells));
      g_free (cells[i]);
    }

  if (!ok)
    bw_cli_complain (_("“%s” is no reading; write one such as “20 sts in 127 mm washed”"), reading);

  return ok;
}

/* Makes of --photograph what the table is to say, and, with --embed, the folder
 * in which the picture is found. */
static gboolean
place_photo (BwCliWork  *work,
             char      **folder)
{
  g_autofree char *given = g_steal_pointer (&work->options.photo);
  g_autoptr (GError) error = NULL;

  if (given == NULL && work->options.embed)
    {
      bw_cli_complain (_("--embed needs a --photograph"));
      return FALSE;
    }
  if (given == NULL)
    return TRUE;

  if (!work->options.embed)
    {
      work->options.photo = bw_library_photo_path (work->library, given, &error);
      if (work->options.photo == NULL)
        bw_cli_fail (error);
      return work->options.photo != NULL;
    }

  if (!g_file_test (given, G_FILE_TEST_IS_REGULAR))
    {
      bw_cli_complain (_("there is no photograph %s; check the name"), given);
      return FALSE;
    }
  work->options.photo = g_path_get_basename (given);
  *folder = g_path_get_dirname (given);

  return TRUE;
}

static BwExit
add (BwCliWork *work)
{
  g_autofree char *photos = NULL;
  g_autoptr (GString) table = g_string_new ("yarn,hook,stitch pattern,lot,worked in,worked"
                                            " by,date,note,weight,"
                                            "piece stitches,piece"
                                            " rounds,photograph,direction,count,length,washed,"
                                            "laid\r\n");
  char **readings = work->options.readings;

  if (work->options.yarn == NULL || work->options.hook == NULL || work->options.pattern == NULL ||
      readings == NULL)
    {
      bw_cli_complain (_("a swatch needs --yarn, --hook, --pattern and at least one --reading"));
      return BW_EXIT_BAD_INPUT;
    }

  if (!place_photo (work, &photos))
    return BW_EXIT_BAD_INPUT;

  for (guint i = 0; readings[i] != NULL; i++)
    if (!append_reading (table, &work->options, readings[i]))
      return BW_EXIT_BAD_INPUT;

  return take_table (work, _("the swatch"), table->str, table->len, photos);
}

/* ---- which swatches --------------------------------------------------------------------- */

static gboolean
read_filter (BwCliWork      *work,
             BwSwatchFilter *filter)
{
  g_autoptr (GError) error = NULL;

  *filter = (BwSwatchFilter) { work->options.yarn, 0.0, work->options.pattern };
  if (work->options.hook == NULL || bw_swatch_hook_parse (work->options.hook, &filter->hook_mm,
                                                          &error))
    return TRUE;

  bw_cli_fail (error);
  return FALSE;
}

static BwExit
export_table (BwCliWork *work)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *table = NULL;
  BwSwatchFilter filter;
  guint n_photos;

  if (!read_filter (work, &filter))
    return BW_EXIT_BAD_INPUT;

  table = bw_library_export_with_photos (work->library, &filter, work->options.photos, &n_photos,
                                         &error);
  if (table == NULL)
    return bw_cli_fail (error);

  if (n_photos > 0 && work->options.photos == NULL)
    g_printerr (_("brimwright-cli: %u photographs are kept in the library; --photographs FOLDER"
                  " writes them, too\n"),
                n_photos);
  g_string_append (work->out, table);

  return BW_EXIT_GRADED;
}

static BwExit
list (BwCliWork *work)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) swatches = NULL;
  g_autoptr (BwCliTable) table = bw_cli_table_new (6, 5);
  BwSwatchFilter filter;

  if (!read_filter (work, &filter))
    return BW_EXIT_BAD_INPUT;

  swatches = bw_library_list_swatches (work->library, &filter, &error);
  if (swatches == NULL)
    return bw_cli_fail (error);

  if (swatches->len == 0)
    {
      g_string_append (work->out, _("There is no such swatch.\n"));
      return BW_EXIT_GRADED;
    }

  bw_cli_table_add (table, _("No."));
  bw_cli_table_add (table, _("Yarn"));
  bw_cli_table_add (table, _("Hook"));
  bw_cli_table_add (table, _("Stitch pattern"));
  bw_cli_table_add (table, _("Lot"));
  bw_cli_table_add (table, _("Readings"));
  for (guint i = 0; i < swatches->len; i++)
    {
      const BwLibrarySwatch *swatch = g_ptr_array_index (swatches, i);

      bw_cli_table_take (table, g_strdup_printf ("%" G_GINT64_FORMAT, swatch->id));
      bw_cli_table_add (table, swatch->yarn);
      bw_cli_table_take (table, bw_units_format_number (swatch->hook_mm, 2));
      bw_cli_table_add (table, swatch->fabric);
      bw_cli_table_add (table, swatch->lot);
      bw_cli_table_take (table, g_strdup_printf ("%u", swatch->readings->len));
    }
  bw_cli_table_print (table, work->out);

  return BW_EXIT_GRADED;
}

static BwExit
remove_one (BwCliWork *work)
{
  g_autoptr (GError) error = NULL;
  gint64 id = g_ascii_strtoll (work->arguments[0], NULL, 10);

  return bw_library_remove_swatch (work->library, id, &error) ? BW_EXIT_GRADED
    : bw_cli_fail (error);
}

/* ---- yarns ---------------------------------------------------------------------------------- */

static BwExit
add_yarns (BwCliWork *work)
{
  gsize length;
  g_autofree char *text = bw_cli_read_file (work->arguments[0], TABLE_BYTES_MAX, &length);
  g_autoptr (GError) error = NULL;
  guint n_yarns;

  if (text == NULL)
    return BW_EXIT_BAD_INPUT;

  if (!bw_library_add_yarns (work->library, text, length, &n_yarns, &error))
    return bw_cli_fail_at (work->arguments[0], error);

  g_string_append_printf (work->out, g_dngettext (GETTEXT_PACKAGE, "%u yarn was taken.\n",
                                                  "%u yarns were taken.\n", n_yarns),
                          n_yarns);

  return BW_EXIT_GRADED;
}

static char *
fibres_text (const BwLibraryYarn *yarn)
{
  GString *text = g_string_new (NULL);

  for (guint i = 0; i < yarn->fibres->len; i++)
    {
      const BwFibre *fibre = &g_array_index (yarn->fibres, BwFibre, i);
      g_autofree char *percent = bw_units_format_number (fibre->percent, 1);

      g_string_append_printf (text, "%s%s %s %%", i > 0 ? ", " : "", fibre->fibre, percent);
    }

  return g_string_free (text, FALSE);
}

static BwExit
yarns (BwCliWork *work)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) all = NULL;
  g_autoptr (BwCliTable) table = bw_cli_table_new (4, 2);

  if (work->n_arguments == 1)
    return add_yarns (work);

  all = bw_library_list_yarns (work->library, NULL, &error);
  if (all == NULL)
    return bw_cli_fail (error);

  bw_cli_table_add (table, _("Yarn"));
  bw_cli_table_add (table, _("Fibres"));
  bw_cli_table_add (table, _("m / ball"));
  bw_cli_table_add (table, _("In stock"));
  for (guint i = 0; i < all->len; i++)
    {
      const BwLibraryYarn *yarn = g_ptr_array_index (all, i);
      double balls = 0.0;

      for (guint k = 0; k < yarn->lots->len; k++)
        balls += g_array_index (yarn->lots, BwYarnLot, k).balls;
      bw_cli_table_add (table, yarn->name);
      bw_cli_table_take (table, fibres_text (yarn));
      bw_cli_table_take (table, bw_units_format_number (yarn->metres_per_ball, 1));
      bw_cli_table_take (table, bw_units_format_number (balls, 1));
    }
  bw_cli_table_print (table, work->out);

  return BW_EXIT_GRADED;
}

/* ---- the verb ------------------------------------------------------------ */

static const BwCliTask tasks[] = {
  { "add",
    "yarn hook pattern reading lot worked by date note weight stitches rounds photograph embed",
    0, 0, BW_CLI_OPEN_CREATE, add },
  { "import", "partial try photographs", 1, 1, BW_CLI_OPEN_CREATE, import_table },
  { "export", "yarn hook pattern photographs", 0, 0, BW_CLI_OPEN_READ, export_table },
  { "list", "yarn hook pattern", 0, 0, BW_CLI_OPEN_READ, list },
  { "remove", "", 1, 1, BW_CLI_OPEN_WRITE, remove_one },
  { "gauge", "yarn hook pattern", 0, 1, BW_CLI_OPEN_READ, bw_cli_swatch_gauge },
  { "hook", "yarn pattern", 1, 1, BW_CLI_OPEN_READ, bw_cli_swatch_hook },
  { "yarns", "", 0, 1, BW_CLI_OPEN_CREATE, yarns },
};

static BwExit
run (char    **arguments,
     GString  *out)
{
  return bw_cli_run_task (tasks, G_N_ELEMENTS (tasks), arguments, out);
}

const BwVerb bw_cli_verb_swatch = { "swatch", run, help };
