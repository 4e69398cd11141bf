#define G_LOG_DOMAIN "bw-publish"

#include "bw-publish-private.h"

#include "bw-html-private.h"

/* What stands round the words of every page. */

static const char *
language (const BwEdition *edition)
{
  /* Translators: the code of your language in HTML, as in lang="de"; an untranslated
   * page is in British or American English */
  const char *code = g_dpgettext2 (GETTEXT_PACKAGE, "language of a page", "en");

  if (!g_str_equal (code, "en"))
    return code;
  return edition->terms == BW_TERMS_UK ? "en-GB" : "en-US";
}

static void
append_meta (GString    *out,
             const char *name,
             const char *content)
{
  if (content[0] == '\0')
    return;
  g_string_append_printf (out, "<meta name=\"%s\" content=\"", name);
  bw_html_escape (out, content);
  g_string_append (out, "\">\n");
}

/**
 * bw_html_begin:
 * @out: where it goes
 * @design: the design that the page is of
 * @edition: the edition
 * @title: of the page
 * @n_sizes: sizes that may be chosen; 1 = no choice
 *
 * Appends a page up to where its words begin.
 */
void
bw_html_begin (GString         *out,
               const BwDesign  *design,
               const BwEdition *edition,
               const char      *title,
               guint            n_sizes)
{
  g_string_append_printf (out, "<!DOCTYPE html>\n<html lang=\"%s\"%s>\n<head>\n"
                               "<meta charset=\"utf-8\">\n<title>",
                          language (edition),
                          edition->form == BW_FORM_LARGE_PRINT ? " class=\"large\"" : "");
  bw_html_escape (out, title);
  g_string_append (out, "</title>\n");
  append_meta (out, "viewport", "width=device-width, initial-scale=1");
  append_meta (out, "author", design->designer);
  append_meta (out, "description", design->summary);
  append_meta (out, "generator", "Brimwright " BW_VERSION);
  bw_html_style (out, n_sizes);
  g_string_append (out, "</head>\n<body>\n");
}

/**
 * bw_html_end:
 * @out: a page
 *
 * Appends what closes it.
 */
void
bw_html_end (GString *out)
{
  g_string_append (out, "</body>\n</html>\n");
}
