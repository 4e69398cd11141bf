#define G_LOG_DOMAIN "bw-cli"

#include "bw-cli-private.h"

#include "bw-cli-edition.h"

/**
 * bw_cli_edition_check:
 * @asked: options
 *
 * Returns: FALSE after a complaint about options that do not go together
 */
gboolean
bw_cli_edition_check (const BwCliEdition *asked)
{
  if (asked->large_print && asked->low_ink)
    {
      bw_cli_complain (_("--large-print and --low-ink exclude each other: give one of them"));
      return FALSE;
    }
  if (asked->terms != NULL && !g_str_equal (asked->terms, "uk") &&
      !g_str_equal (asked->terms, "us") && !g_str_equal (asked->terms, "both"))
    {
      bw_cli_complain (_("%s takes %s, %s or %s, not “%s”"), "--terms", "uk", "us", "both",
                       asked->terms);
      return FALSE;
    }

  return TRUE;
}

/**
 * bw_cli_edition_date:
 * @date: (out): of the files: now, or what SOURCE_DATE_EPOCH says
 *
 * Returns: FALSE after a complaint
 */
gboolean
bw_cli_edition_date (gint64 *date)
{
  g_autoptr (GError) error = NULL;

  if (bw_edition_source_date (g_getenv ("SOURCE_DATE_EPOCH"),
                              g_get_real_time () / G_USEC_PER_SEC, date, &error))
    return TRUE;

  bw_cli_complain ("%s", error->message);
  return FALSE;
}

/**
 * bw_cli_edition_new:
 * @asked: options
 * @design: the design
 * @date: of the file
 *
 * Returns: (transfer full): the edition that was asked for, in the design's terms
 */
BwEdition *
bw_cli_edition_new (const BwCliEdition *asked,
                    const BwDesign     *design,
                    gint64              date)
{
  BwEdition *edition = bw_edition_new (design, date);

  edition->full = asked->full;
  edition->photo = g_strdup (asked->photograph);
  if (asked->large_print)
    edition->form = BW_FORM_LARGE_PRINT;
  else if (asked->low_ink)
    edition->form = BW_FORM_LOW_INK;
  return edition;
}

/**
 * bw_cli_edition_terms:
 * @asked: options
 * @design: the design
 * @terms: (out): the terms of each edition
 *
 * Returns: how many editions there are, 1 or 2
 */
guint
bw_cli_edition_terms (const BwCliEdition *asked,
                      const BwDesign     *design,
                      BwTerms             terms[2])
{
  terms[0] = design->terms;
  if (asked->terms == NULL)
    return 1;

  terms[0] = g_str_equal (asked->terms, "us") ? BW_TERMS_US : BW_TERMS_UK;
  terms[1] = BW_TERMS_US;
  return g_str_equal (asked->terms, "both") ? 2 : 1;
}

/**
 * bw_cli_edition_clear:
 * @asked: options
 */
void
bw_cli_edition_clear (BwCliEdition *asked)
{
  g_clear_pointer (&asked->terms, g_free);
  g_clear_pointer (&asked->photograph, g_free);
}
