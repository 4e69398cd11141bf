#define G_LOG_DOMAIN "bw-cli"

#include "bw-cli-private.h"

#include "bw-cli-table.h"
#include "bw-cli-task.h"
#include "bw-corrections.h"
#include "bw-library-design.h"
#include "bw-library-gauge.h"
#include "bw-library-revision.h"

/* The grading that is published: with the library's swatches as they are now. */
static BwGrading *
grade_design (BwCliWork *work,
              gint64     id,
              BwExit    *status)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (BwDesign) design = bw_library_load (work->library, id, NULL, &error);
  g_autoptr (BwGrading) grading = NULL;

  *status = BW_EXIT_BAD_INPUT;
  if (design == NULL || !bw_library_resolve_swatches (work->library, design, &error))
    {
      bw_cli_fail (error);
      return NULL;
    }

  grading = bw_grade (work->reference, design, &error);
  if (grading == NULL)
    {
      bw_cli_fail_at (design->name, error);
      return NULL;
    }

  if (grading->refused)
    {
      *status = BW_EXIT_REFUSED;
      bw_cli_refusal (design->name, grading);
      return NULL;
    }

  return g_steal_pointer (&grading);
}

BwExit
bw_cli_library_revise (BwCliWork *work)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (BwGrading) grading = NULL;
  BwExit status;
  guint number;
  gint64 id;

  if (!bw_cli_find_design (work, work->arguments[0], &id))
    return BW_EXIT_BAD_INPUT;

  grading = grade_design (work, id, &status);
  if (grading == NULL)
    return status;

  if (!bw_library_revise (work->library, id, grading,
                          work->options.note != NULL ? work->options.note : "", &number,
                          &error))
    return bw_cli_fail (error);

  g_string_append_printf (work->out, _("Revision %u of %s was made; it is never altered.\n"),
                          number, grading->design->name);

  return BW_EXIT_GRADED;
}

BwExit
bw_cli_library_revisions (BwCliWork *work)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) revisions = NULL;
  g_autoptr (BwCliTable) table = bw_cli_table_new (3, 3);
  gint64 id;

  if (!bw_cli_find_design (work, work->arguments[0], &id))
    return BW_EXIT_BAD_INPUT;

  revisions = bw_library_get_revisions (work->library, id, &error);
  if (revisions == NULL)
    return bw_cli_fail (error);

  if (revisions->len == 0)
    {
      g_string_append (work->out, _("There is no revision yet; “library revise” makes one.\n"));
      return BW_EXIT_GRADED;
    }

  bw_cli_table_add (table, _("No."));
  bw_cli_table_add (table, _("Date"));
  bw_cli_table_add (table, _("Note"));
  for (guint i = 0; i < revisions->len; i++)
    {
      const BwRevision *revision = g_ptr_array_index (revisions, i);

      bw_cli_table_take (table, g_strdup_printf ("%u", revision->number));
      bw_cli_table_take (table, bw_cli_date (revision->made_at));
      bw_cli_table_add (table, revision->note);
    }
  bw_cli_table_print (table, work->out);

  return BW_EXIT_GRADED;
}

/* ---- corrections --------------------------------------------------------------------- */

/* The design as it is now, for its terms and the names of its parts. */
static gboolean
print_corrections (BwCliWork *work,
                   gint64     id,
                   guint      from,
                   guint      to,
                   GError   **error)
{
  g_autoptr (BwDesign) design = bw_library_load (work->library, id, NULL, error);
  BwGrading view = { .reference = work->reference, .design = design };
  g_auto (GStrv) lines = NULL;

  if (design == NULL)
    return FALSE;
  lines = bw_correction_lines (work->library, id, from, to, &view, error);
  if (lines == NULL)
    return FALSE;

  if (lines[0] == NULL)
    g_string_append (work->out, _("Both say the same.\n"));
  for (guint i = 0; lines[i] != NULL; i++)
    bw_cli_text_wrap (work->out, lines[i], 0, 2);
  return TRUE;
}

BwExit
bw_cli_library_corrections (BwCliWork *work)
{
  g_autoptr (GError) error = NULL;
  guint64 numbers[2];
  gint64 id;

  if (!bw_cli_find_design (work, work->arguments[0], &id))
    return BW_EXIT_BAD_INPUT;

  for (guint i = 0; i < 2; i++)
    if (!g_ascii_string_to_unsigned (work->arguments[i + 1], 10, 1, G_MAXINT, &numbers[i], NULL))
      {
        bw_cli_complain (_("“%s” is no revision; give its number"), work->arguments[i + 1]);
        return BW_EXIT_BAD_INPUT;
      }

  return print_corrections (work, id, (guint) numbers[0], (guint) numbers[1], &error)
           ? BW_EXIT_GRADED : bw_cli_fail (error);
}
