#define G_LOG_DOMAIN "bw-publish"

#include "bw-publish-private.h"

#include <string.h>

#include "bw-edition.h"
#include "bw-error.h"

/**
 * bw_edition_new:
 * @design: the design
 * @date: of the file, seconds since 1970
 *
 * Returns: (transfer full): all sizes in the design's own terms and units, with
 *   charts, a draft; the paper is the one usual where the terms are
 */
BwEdition *
bw_edition_new (const BwDesign *design,
                gint64          date)
{
  BwEdition *edition = g_new0 (BwEdition, 1);

  edition->terms = design->terms;
  edition->units = design->units;
  edition->size = BW_EDITION_ALL_SIZES;
  edition->paper = design->terms == BW_TERMS_US ? BW_PAPER_LETTER : BW_PAPER_A4;
  edition->charts = TRUE;
  edition->date = date;
  edition->revision.note = g_strdup ("");
  edition->revision.date = date;
  return edition;
}

/**
 * bw_edition_copy:
 * @edition: an edition
 *
 * Returns: (transfer full): another one that is the same
 */
BwEdition *
bw_edition_copy (const BwEdition *edition)
{
  BwEdition *copy = g_new0 (BwEdition, 1);

  *copy = *edition;
  copy->revision.note = g_strdup (edition->revision.note);
  copy->revision.corrections = g_strdupv (edition->revision.corrections);
  copy->photo = g_strdup (edition->photo);
  return copy;
}

/**
 * bw_edition_free:
 * @edition: (nullable): an edition
 */
void
bw_edition_free (BwEdition *edition)
{
  if (edition == NULL)
    return;

  g_free (edition->revision.note);
  g_strfreev (edition->revision.corrections);
  g_free (edition->photo);
  g_free (edition);
}

/**
 * bw_edition_source_date:
 * @text: (nullable): the value of SOURCE_DATE_EPOCH, NULL where it is not set
 * @otherwise: the date without it, usually now
 * @date: (out): seconds since 1970
 * @error: what is wrong with @text
 *
 * The date of a file that must come out the same again, as the specification of
 * SOURCE_DATE_EPOCH has it (reproducible-builds.org): a number of seconds.
 *
 * Returns: FALSE when @text is none
 */
gboolean
bw_edition_source_date (const char  *text,
                        gint64       otherwise,
                        gint64      *date,
                        GError     **error)
{
  *date = otherwise;
  if (text == NULL)
    return TRUE;
  /* The year 9999: a date that still prints */
  if (g_ascii_string_to_signed (text, 10, 0, G_GINT64_CONSTANT (253402300799), date, NULL))
    return TRUE;

  g_set_error (error, BW_ERROR, BW_ERROR_SYNTAX,
               _("SOURCE_DATE_EPOCH is “%s”; it takes seconds since 1970, a whole number"), text);
  return FALSE;
}

/**
 * bw_edition_day:
 * @date: seconds since 1970
 *
 * Returns: (transfer full): the day, "2026-03-01", in UTC, so that it is the
 *   same wherever the file is made
 */
char *
bw_edition_day (gint64 date)
{
  g_autoptr (GDateTime) time = g_date_time_new_from_unix_utc (date);

  return time != NULL ? g_date_time_format (time, "%Y-%m-%d") : g_strdup ("");
}

/**
 * bw_edition_path:
 * @path: a file
 * @terms: of one of two editions
 *
 * Returns: (transfer full): the file with the terms before its ending:
 *   "lugger.pdf" is "lugger-uk.pdf" and "lugger-us.pdf"
 */
char *
bw_edition_path (const char *path,
                 BwTerms     terms)
{
  const char *slash = strrchr (path, G_DIR_SEPARATOR);
  const char *name = slash != NULL ? slash + 1 : path;
  const char *dot = strrchr (name, '.');
  gsize stem = dot != NULL && dot != name ? (gsize) (dot - path) : strlen (path);

  return g_strdup_printf ("%.*s%s%s", (int) stem, path, terms == BW_TERMS_UK ? "-uk" : "-us",
                          path + stem);
}

/**
 * bw_edition_view:
 * @edition: an edition
 * @grading: a graded family; must outlive the result
 *
 * Terms and units are only words: the rounds and figures stay those of @grading.
 *
 * Returns: (transfer full): the family in the edition's terms and units; free
 *   with bw_edition_view_free()
 */
BwGrading *
bw_edition_view (const BwEdition *edition,
                 const BwGrading *grading)
{
  BwGrading *view = g_new (BwGrading, 1);

  *view = *grading;
  view->design = bw_design_copy (grading->design);
  view->design->terms = edition->terms;
  view->design->units = edition->units;
  return view;
}

/**
 * bw_edition_view_free:
 * @view: (nullable): what bw_edition_view() gave; never another grading
 */
void
bw_edition_view_free (BwGrading *view)
{
  if (view == NULL)
    return;

  bw_design_free (view->design);
  g_free (view);
}
