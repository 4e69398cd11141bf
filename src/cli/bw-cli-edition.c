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
 * bw_cli_edition_terms:
 * @asked: options
 * @terms: (out): the terms of each edition
 *
 * Returns: how many editions there are; 0 = one, in each design's own terms
 */
guint
bw_cli_edition_terms (const BwCliEdition *asked,
                      BwTerms             terms[2])
{
  terms[0] = terms[1] = BW_TERMS_US;
  if (asked->terms == NULL)
    return 0;
  if (g_str_equal (asked->terms, "us"))
    return 1;

  terms[0] = BW_TERMS_UK;
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
}
