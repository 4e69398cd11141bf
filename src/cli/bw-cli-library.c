#define G_LOG_DOMAIN "bw-cli"

#include "bw-cli-private.h"

#include "bw-cli-table.h"
#include "bw-cli-task.h"
#include "bw-design-file.h"
#include "bw-library-design.h"
#include "bw-library-revision.h"
#include "bw-library-sizes.h"

static const char help[] = N_(
  "Usage: brimwright-cli library WORK [OPTION...]   (DESIGN: name, code or number)\n"
  "  list [--order name|changed] [--bin]   search WORDS...\n"
  "  show DESIGN [--revision N]            add FILE.hat... [--tag TAG]...\n"
  "  add FILE.hat --into DESIGN            tag DESIGN [TAG...]\n"
  "  undo DESIGN                           redo DESIGN\n"
  "  remove DESIGN                         put-back DESIGN\n"
  "  empty-bin [--with-revisions]          export DESIGN [FILE.hat]\n"
  "  revise DESIGN --note TEXT             revisions DESIGN\n"
  "  corrections DESIGN FROM TO            sizes [FILE.ini]\n"
  "  backup FILE                           restore FILE\n"
  "  export --all FOLDER                   import FOLDER\n"
  "  verify                                vacuum\n"
  "  demo      fill an empty library with invented yarns, swatches and designs\n"
  "\n"
  "      --library FILE    another library than the one in its usual place,\n"
  "                        $XDG_DATA_HOME/brimwright/library.db\n"
  "\n"
  "Exit status: 0 done, 1 refused (the reasons are printed), 2 bad input.\n"
  "Manual page: brimwright-cli(1).\n");

/* ---- lists ------------------------------------------------------------------------ */

static void
print_entries (GString         *out,
               const GPtrArray *entries)
{
  g_autoptr (BwCliTable) table = bw_cli_table_new (6, 6);

  bw_cli_table_add (table, _("No."));
  bw_cli_table_add (table, _("Name"));
  bw_cli_table_add (table, _("Code"));
  bw_cli_table_add (table, _("Changed"));
  bw_cli_table_add (table, _("Rev."));
  bw_cli_table_add (table, _("Tags"));
  for (guint i = 0; i < entries->len; i++)
    {
      const BwLibraryEntry *entry = g_ptr_array_index (entries, i);

      bw_cli_table_take (table, g_strdup_printf ("%" G_GINT64_FORMAT, entry->id));
      bw_cli_table_add (table, entry->name);
      bw_cli_table_add (table, entry->code);
      bw_cli_table_take (table, bw_cli_date (entry->changed_at));
      if (entry->n_revisions > 0)
        bw_cli_table_take (table, g_strdup_printf ("%u", entry->n_revisions));
      else
        bw_cli_table_add (table, "");
      bw_cli_table_add (table, entry->tags);
    }
  bw_cli_table_print (table, out);
}

static BwExit
list (BwCliWork *work)
{
  BwLibraryOrder order = BW_LIBRARY_ORDER_NAME;
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) entries = NULL;

  if (g_strcmp0 (work->options.order, "changed") == 0)
    {
      order = BW_LIBRARY_ORDER_CHANGED;
    }
  else if (work->options.order != NULL && !g_str_equal (work->options.order, "name"))
    {
      bw_cli_complain (_("%s takes %s or %s, not “%s”"), "--order", "name", "changed",
                       work->options.order);
      return BW_EXIT_BAD_INPUT;
    }

  entries = bw_library_list (work->library, order, work->options.bin, 0, &error);
  if (entries == NULL)
    return bw_cli_fail (error);

  if (entries->len > 0)
    print_entries (work->out, entries);
  else if (work->options.bin)
    g_string_append (work->out, _("The bin is empty.\n"));
  else
    g_string_append (work->out, _("There is no design yet; “library add FILE.hat” adds one.\n"));

  return BW_EXIT_GRADED;
}

static BwExit
search (BwCliWork *work)
{
  g_autofree char *typed = g_strjoinv (" ", work->arguments);
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) entries = bw_library_search (work->library, typed, 1000, &error);

  if (entries == NULL)
    return bw_cli_fail (error);

  if (entries->len == 0)
    {
      bw_cli_complain (_("no design has words that begin with “%s”"), typed);
      return BW_EXIT_REFUSED;
    }
  print_entries (work->out, entries);

  return BW_EXIT_GRADED;
}

/* ---- one design ----------------------------------------------------------------------- */

static BwExit
show_revision (BwCliWork *work,
               gint64     id)
{
  g_autoptr (GError) error = NULL;
  guint64 number;
  g_autofree char *text = NULL;

  if (!g_ascii_string_to_unsigned (work->options.revision, 10, 1, G_MAXINT, &number, NULL))
    {
      bw_cli_complain (_("“%s” is no revision; give its number"), work->options.revision);
      return BW_EXIT_BAD_INPUT;
    }

  text = bw_library_get_revision_text (work->library, id, (guint) number, &error);
  if (text == NULL)
    return bw_cli_fail (error);

  g_string_append (work->out, text);

  return BW_EXIT_GRADED;
}

static void
show_sizes (GString        *out,
            const BwDesign *design)
{
  g_string_append (out, _("Sizes: "));
  for (guint i = 0; i < design->sizes->len; i++)
    g_string_append_printf (out, "%s%s", i > 0 ? ", " : "",
                            bw_words_size_name (&g_array_index (design->sizes, BwSizeChoice, i)));
  g_string_append_c (out, '\n');
}

static void
show_history (BwCliWork *work,
              gint64     id)
{
  g_autofree char *undo = NULL;
  g_autofree char *redo = NULL;
  guint n_undo, n_redo;

  if (!bw_library_get_undo (work->library, id, &undo, &redo, &n_undo, &n_redo, NULL))
    return;

  if (n_undo > 0)
    g_string_append_printf (work->out, _("Can be undone: %u, the last of them “%s”\n"), n_undo,
                            undo);
  if (n_redo > 0)
    g_string_append_printf (work->out, _("Can be redone: %u, the next of them “%s”\n"), n_redo,
                            redo);
}

static BwExit
show (BwCliWork *work)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (BwLibraryEntry) entry = NULL;
  g_autoptr (BwDesign) design = NULL;
  g_autofree char *changed = NULL;
  gint64 id;

  if (!bw_cli_find_design (work, work->arguments[0], &id))
    return BW_EXIT_BAD_INPUT;

  if (work->options.revision != NULL)
    return show_revision (work, id);

  entry = bw_library_get_entry (work->library, id, &error);
  design = entry != NULL ? bw_library_load (work->library, id, NULL, &error) : NULL;
  if (design == NULL)
    return bw_cli_fail (error);

  changed = bw_cli_date (entry->changed_at);
  g_string_append_printf (work->out, "%s%s%s\n", entry->name, entry->code[0] != '\0' ? ", " : "",
                          entry->code);
  if (design->summary[0] != '\0')
    bw_cli_text_wrap (work->out, design->summary, 0, 0);
  if (entry->yarn[0] != '\0')
    g_string_append_printf (work->out, _("Yarn: %s\n"), entry->yarn);
  show_sizes (work->out, design);
  if (entry->tags[0] != '\0')
    g_string_append_printf (work->out, _("Tags: %s\n"), entry->tags);
  g_string_append_printf (work->out, _("Changed: %s\n"), changed);
  g_string_append_printf (work->out, _("Revisions: %u\n"), entry->n_revisions);
  if (entry->binned_at > 0)
    g_string_append (work->out, _("It is in the bin.\n"));
  show_history (work, id);

  return BW_EXIT_GRADED;
}

/* ---- adding ------------------------------------------------------------------------------ */

static BwDesign *
read_file (BwCliWork  *work,
           const char *path)
{
  gsize length;
  g_autofree char *text = bw_cli_read_file (path, BW_DESIGN_FILE_BYTES_MAX, &length);
  g_autoptr (GError) error = NULL;
  BwDesign *design;

  if (text == NULL || !bw_library_use_size_tables (work->library, work->reference, &error))
    {
      if (error != NULL)
        bw_cli_fail (error);
      return NULL;
    }

  design = bw_design_from_text (work->reference, text, length, &error);
  if (design == NULL)
    bw_cli_fail_at (path, error);

  return design;
}

static BwExit
add_into (BwCliWork *work)
{
  g_autoptr (BwDesign) design = NULL;
  g_autoptr (GError) error = NULL;
  BwLibraryEdit edit = { .label = _("Take in a file") };
  gint64 id;

  if (work->n_arguments != 1)
    {
      bw_cli_complain (_("one file at a time goes into a design"));
      return BW_EXIT_BAD_INPUT;
    }
  if (!bw_cli_find_design (work, work->options.into, &id))
    return BW_EXIT_BAD_INPUT;

  design = read_file (work, work->arguments[0]);
  if (design == NULL)
    return BW_EXIT_BAD_INPUT;

  if (!bw_library_save (work->library, id, design, &edit, &error))
    return bw_cli_fail (error);

  g_string_append_printf (work->out, _("%s was changed; “library undo” takes it back.\n"),
                          design->name);

  return BW_EXIT_GRADED;
}

/* All files are read before any is added. */
static BwExit
add (BwCliWork *work)
{
  g_autoptr (GPtrArray) designs = g_ptr_array_new_with_free_func ((GDestroyNotify) bw_design_free);

  if (work->options.into != NULL)
    return add_into (work);

  for (guint i = 0; i < work->n_arguments; i++)
    {
      BwDesign *design = read_file (work, work->arguments[i]);

      if (design == NULL)
        return BW_EXIT_BAD_INPUT;
      g_ptr_array_add (designs, design);
    }

  for (guint i = 0; i < designs->len; i++)
    {
      const BwDesign *design = g_ptr_array_index (designs, i);
      g_autoptr (GError) error = NULL;
      gint64 id;

      if (!bw_library_add (work->library, design, &id, &error) ||
          (work->options.tags != NULL &&
           !bw_library_set_tags (work->library, id, (const char *const *) work->options.tags,
                                 &error)))
        return bw_cli_fail_at (work->arguments[i], error);

      g_string_append_printf (work->out, _("%s is design %" G_GINT64_FORMAT " now.\n"),
                              design->name, id);
    }

  return BW_EXIT_GRADED;
}

static BwExit
tag (BwCliWork *work)
{
  g_autoptr (GError) error = NULL;
  gint64 id;

  if (!bw_cli_find_design (work, work->arguments[0], &id))
    return BW_EXIT_BAD_INPUT;

  return bw_library_set_tags (work->library, id, (const char *const *) work->arguments + 1, &error)
           ? BW_EXIT_GRADED
           : bw_cli_fail (error);
}

/* ---- back and forth, in and out of the bin -------------------------------------------------- */

static BwExit
simple (BwCliWork  *work,
        gboolean  (*act) (BwLibrary *, gint64, GError **),
        const char *said)
{
  g_autoptr (GError) error = NULL;
  gint64 id;

  if (!bw_cli_find_design (work, work->arguments[0], &id))
    return BW_EXIT_BAD_INPUT;

  if (!act (work->library, id, &error))
    return bw_cli_fail (error);

  g_string_append (work->out, said);

  return BW_EXIT_GRADED;
}

static gboolean
undo_one (BwLibrary  *library,
          gint64      id,
          GError    **error)
{
  return bw_library_undo (library, id, NULL, error);
}

static gboolean
redo_one (BwLibrary  *library,
          gint64      id,
          GError    **error)
{
  return bw_library_redo (library, id, NULL, error);
}

static BwExit
undo (BwCliWork *work)
{
  return simple (work, undo_one,
                 _("The last change was taken back; “library redo” makes it again.\n"));
}

static BwExit
redo (BwCliWork *work)
{
  return simple (work, redo_one, _("The change was made again.\n"));
}

static BwExit
remove_one (BwCliWork *work)
{
  return simple (work, bw_library_bin,
                 _("It is in the bin now; “library put-back” takes it out.\n"));
}

/* What is in the bin is found by its number, or by a name that only it has. */
static BwExit
put_back (BwCliWork *work)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) entries = bw_library_list (work->library, BW_LIBRARY_ORDER_NAME, TRUE, 0,
                                                   &error);
  const BwLibraryEntry *found = NULL;

  if (entries == NULL)
    return bw_cli_fail (error);

  for (guint i = 0; i < entries->len; i++)
    {
      const BwLibraryEntry *entry = g_ptr_array_index (entries, i);
      g_autofree char *number = g_strdup_printf ("%" G_GINT64_FORMAT, entry->id);

      if (!g_str_equal (number, work->arguments[0]) &&
          g_ascii_strcasecmp (entry->name, work->arguments[0]) != 0)
        continue;
      if (found != NULL)
        {
          bw_cli_complain (_("several designs in the bin are called “%s”; give the number instead"),
                           work->arguments[0]);
          return BW_EXIT_BAD_INPUT;
        }
      found = entry;
    }

  if (found == NULL)
    {
      bw_cli_complain (_("there is no design “%s” in the bin; “library list --bin” lists it"),
                       work->arguments[0]);
      return BW_EXIT_BAD_INPUT;
    }

  return bw_library_unbin (work->library, found->id, &error) ? BW_EXIT_GRADED : bw_cli_fail (error);
}

/* ---- the verb -------------------------------------------------------------------------------- */

static const BwCliTask tasks[] = {
  { "list", "order bin", 0, 0, BW_CLI_OPEN_READ, list },
  { "search", "", 1, 100, BW_CLI_OPEN_READ, search },
  { "show", "revision", 1, 1, BW_CLI_OPEN_READ, show },
  { "add", "tag into", 1, 10000, BW_CLI_OPEN_CREATE, add },
  { "tag", "", 1, 100, BW_CLI_OPEN_WRITE, tag },
  { "undo", "", 1, 1, BW_CLI_OPEN_WRITE, undo },
  { "redo", "", 1, 1, BW_CLI_OPEN_WRITE, redo },
  { "remove", "", 1, 1, BW_CLI_OPEN_WRITE, remove_one },
  { "put-back", "", 1, 1, BW_CLI_OPEN_WRITE, put_back },
  { "empty-bin", "with-revisions", 0, 0, BW_CLI_OPEN_WRITE, bw_cli_library_empty_bin },
  { "export", "all", 1, 2, BW_CLI_OPEN_READ, bw_cli_library_export },
  { "import", "", 1, 1, BW_CLI_OPEN_CREATE, bw_cli_library_import },
  { "revise", "note", 1, 1, BW_CLI_OPEN_WRITE, bw_cli_library_revise },
  { "revisions", "", 1, 1, BW_CLI_OPEN_READ, bw_cli_library_revisions },
  { "corrections", "", 3, 3, BW_CLI_OPEN_READ, bw_cli_library_corrections },
  { "backup", "", 1, 1, BW_CLI_OPEN_READ, bw_cli_library_backup },
  { "restore", "", 1, 1, BW_CLI_OPEN_NOTHING, bw_cli_library_restore },
  { "verify", "", 0, 0, BW_CLI_OPEN_READ, bw_cli_library_verify },
  { "vacuum", "", 0, 0, BW_CLI_OPEN_WRITE, bw_cli_library_vacuum },
  { "sizes", "", 0, 1, BW_CLI_OPEN_CREATE, bw_cli_library_sizes },
  { "demo", "", 0, 0, BW_CLI_OPEN_CREATE, bw_cli_library_demo },
};

static BwExit
run (char    **arguments,
     GString  *out)
{
  return bw_cli_run_task (tasks, G_N_ELEMENTS (tasks), arguments, out);
}

const BwVerb bw_cli_verb_library = { "library", run, help };
