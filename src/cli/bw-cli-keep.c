#define G_LOG_DOMAIN "bw-cli"

#include "bw-cli-private.h"

#include "bw-cli-table.h"
#include "bw-cli-task.h"
#include "bw-design-file.h"
#include "bw-library-demo.h"
#include "bw-library-design.h"
#include "bw-library-exchange.h"
#include "bw-library-sizes.h"

BwExit
bw_cli_library_backup (BwCliWork *work)
{
  g_autoptr (GError) error = NULL;

  if (!bw_library_backup (work->library, work->arguments[0], &error))
    return bw_cli_fail (error);

  g_string_append_printf (work->out, _("The library was copied to %s and the copy was checked.\n"),
                          work->arguments[0]);

  return BW_EXIT_GRADED;
}

BwExit
bw_cli_library_restore (BwCliWork *work)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *kept = NULL;

  if (!bw_library_restore (work->path, work->arguments[0], &kept, &error))
    return bw_cli_fail (error);

  g_string_append (work->out, _("The library was restored.\n"));
  if (kept != NULL)
    g_string_append_printf (work->out, _("What was there before was kept as %s.\n"), kept);

  return BW_EXIT_GRADED;
}

BwExit
bw_cli_library_verify (BwCliWork *work)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) problems = g_ptr_array_new_with_free_func (g_free);

  if (!bw_library_verify (work->library, problems, &error))
    return bw_cli_fail (error);

  for (guint i = 0; i < problems->len; i++)
    bw_cli_complain ("%s", (const char *) g_ptr_array_index (problems, i));
  if (problems->len > 0)
    return BW_EXIT_REFUSED;

  g_string_append (work->out, _("The library is sound.\n"));

  return BW_EXIT_GRADED;
}

BwExit
bw_cli_library_vacuum (BwCliWork *work)
{
  g_autoptr (GError) error = NULL;

  return bw_library_vacuum (work->library, &error) ? BW_EXIT_GRADED : bw_cli_fail (error);
}

/* ---- out and in ----------------------------------------------------------------- */

static BwExit
export_all (BwCliWork *work)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) problems = g_ptr_array_new_with_free_func (g_free);

  if (!bw_library_export_all (work->library, work->reference, work->arguments[0], problems, &error))
    return bw_cli_fail (error);

  for (guint i = 0; i < problems->len; i++)
    bw_cli_complain (_("not all could be read: %s"), (const char *) g_ptr_array_index (problems,
                                                                                       i));

  return problems->len > 0 ? BW_EXIT_REFUSED : BW_EXIT_GRADED;
}

static BwExit
export_one (BwCliWork *work)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (BwDesign) design = NULL;
  g_autofree char *text = NULL;
  gsize length;
  gint64 id;

  if (!bw_cli_find_design (work, work->arguments[0], &id))
    return BW_EXIT_BAD_INPUT;

  design = bw_library_load (work->library, id, NULL, &error);
  if (design == NULL)
    return bw_cli_fail (error);

  text = bw_design_to_text (work->reference, design, NULL, &length);
  if (work->n_arguments == 1)
    {
      g_string_append_len (work->out, text, (gssize) length);
      return BW_EXIT_GRADED;
    }

  if (g_file_test (work->arguments[1], G_FILE_TEST_EXISTS))
    {
      bw_cli_complain (_("%s is there already; choose another name"), work->arguments[1]);
      return BW_EXIT_BAD_INPUT;
    }

  if (!g_file_set_contents (work->arguments[1], text, (gssize) length, &error))
    return bw_cli_fail (error);

  return BW_EXIT_GRADED;
}

BwExit
bw_cli_library_export (BwCliWork *work)
{
  if (!work->options.all)
    return export_one (work);

  if (work->n_arguments != 1)
    {
      bw_cli_complain (_("--all goes into one folder; name it and nothing else"));
      return BW_EXIT_BAD_INPUT;
    }

  return export_all (work);
}

BwExit
bw_cli_library_import (BwCliWork *work)
{
  g_autoptr (GError) error = NULL;

  if (!bw_library_import_all (work->library, work->arguments[0], &error))
    return bw_cli_fail (error);

  return BW_EXIT_GRADED;
}

BwExit
bw_cli_library_empty_bin (BwCliWork *work)
{
  g_autoptr (GError) error = NULL;
  guint n_removed, n_kept;

  if (!bw_library_empty_bin (work->library, work->options.with_revisions, &n_removed, &n_kept,
                             &error))
    return bw_cli_fail (error);

  g_string_append_printf (work->out, g_dngettext (GETTEXT_PACKAGE, "%u design is gone for good.\n",
                                                  "%u designs are gone for good.\n", n_removed),
                          n_removed);
  if (n_kept > 0)
    g_string_append_printf (work->out, g_dngettext (GETTEXT_PACKAGE,
                                                    "%u stays in the bin, as it was published; "
                                                    "--with-revisions removes it too.\n",
                                                    "%u stay in the bin, as they were published; "
                                                    "--with-revisions removes them too.\n",
                                                    n_kept),
                            n_kept);

  return BW_EXIT_GRADED;
}

BwExit
bw_cli_library_demo (BwCliWork *work)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) there = bw_library_list (work->library, BW_LIBRARY_ORDER_NAME, FALSE, 1,
                                                 &error);

  if (there == NULL)
    return bw_cli_fail (error);

  if (there->len > 0)
    {
      bw_cli_complain (_("there are designs in the library already; name a new one with --library"
                         " FILE"));
      return BW_EXIT_BAD_INPUT;
    }

  if (!bw_library_fill_demo (work->library, work->reference, &error))
    return bw_cli_fail (error);

  g_string_append_printf (work->out, _("%s holds the demo now: 12 designs, 40 swatches, 6 yarns,"
                                       " all invented.\n"),
                          work->path);

  return BW_EXIT_GRADED;
}

/* ---- size tables --------------------------------------------------------------------- */

static BwExit
add_sizes (BwCliWork *work)
{
  gsize length;
  g_autofree char *text = bw_cli_read_file (work->arguments[0], BW_DESIGN_FILE_BYTES_MAX, &length);
  g_autoptr (GError) error = NULL;
  g_autoptr (BwSizeTable) table = NULL;

  if (text == NULL)
    return BW_EXIT_BAD_INPUT;

  table = bw_size_table_parse (text, length, &error);
  if (table == NULL || !bw_library_save_size_table (work->library, work->reference, table, &error))
    return bw_cli_fail_at (work->arguments[0], error);

  g_string_append_printf (work->out, _("The size table “%s” is in the library now.\n"), table->id);

  return BW_EXIT_GRADED;
}

static void
list_tables (BwCliTable      *rows,
             const GPtrArray *tables,
             const char      *whose)
{
  for (guint i = 0; i < tables->len; i++)
    {
      const BwSizeTable *table = g_ptr_array_index (tables, i);

      bw_cli_table_add (rows, table->id);
      bw_cli_table_add (rows, table->name);
      bw_cli_table_add (rows, whose);
      bw_cli_table_take (rows, g_strdup_printf ("%u", table->sizes->len));
    }
}

BwExit
bw_cli_library_sizes (BwCliWork *work)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) own = NULL;
  g_autoptr (BwCliTable) table = bw_cli_table_new (4, 3);

  if (work->n_arguments == 1)
    return add_sizes (work);

  own = bw_library_get_size_tables (work->library, &error);
  if (own == NULL)
    return bw_cli_fail (error);

  bw_cli_table_add (table, _("Table"));
  bw_cli_table_add (table, _("Name"));
  bw_cli_table_add (table, _("Whose"));
  bw_cli_table_add (table, _("Sizes"));
  list_tables (table, work->reference->size_tables, _("the program's"));
  list_tables (table, own, _("your own"));
  bw_cli_table_print (table, work->out);

  return BW_EXIT_GRADED;
}
