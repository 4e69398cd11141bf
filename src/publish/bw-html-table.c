#define G_LOG_DOMAIN "bw-publish"

#include "bw-publish-private.h"

#include "bw-html-private.h"

/* Tables of a page: a size a row, its name the heading of the row. They stay so
 * narrow that a telephone shows them whole. */

static void
append_head (GString    *out,
             const char *kind,
             const char *caption,
             guint       n,
             char      **headings)
{
  g_string_append_printf (out, "<table class=\"%s\">\n<caption>", kind);
  bw_html_escape (out, caption);
  g_string_append (out, "</caption>\n<thead><tr><th scope=\"col\">");
  bw_html_escape (out, _("Size"));
  g_string_append (out, "</th>");
  for (guint i = 0; i < n; i++)
    {
      g_string_append (out, "<th scope=\"col\">");
      bw_html_escape (out, headings[i]);
      g_string_append (out, "</th>");
    }
  g_string_append (out, "</tr></thead>\n<tbody>\n");
}

static void
begin_row (GString         *out,
           const BwGrading *grading,
           guint            k)
{
  const BwGradedSize *size = g_ptr_array_index (grading->sizes, k);

  g_string_append_printf (out, "<tr class=\"t%u\"><th scope=\"row\" dir=\"auto\">", k);
  bw_html_escape (out, bw_words_size_name (size->choice));
  g_string_append (out, "</th>");
}

static void
append_cell (GString    *out,
             const char *text)
{
  g_string_append (out, "<td>");
  bw_html_escape (out, text);
  g_string_append (out, "</td>");
}

static void
append_length (GString         *out,
               const BwGrading *grading,
               double           mm)
{
  g_autofree char *value = bw_words_length_value (grading->design, mm);

  append_cell (out, value);
}

/**
 * bw_html_size_table:
 * @out: where it goes
 * @grading: a family
 *
 * Appends the measures of all sizes as a table.
 */
void
bw_html_size_table (GString         *out,
                    const BwGrading *grading)
{
  gboolean brim = grading->design->brim.kind != BW_BRIM_NONE;
  char *headings[BW_HTML_TABLE_COLUMNS] = { (char *) _("Head"), (char *) _("Girth") };
  guint n = 2;
  /* Translators: %s is cm or in */
  g_autofree char *caption = g_strdup_printf (_("To fit head, and measures of the finished hat, "
                                                "in %s"),
                                              bw_words_unit (grading->design));

  if (brim)
    headings[n++] = (char *) _("Brim");
  headings[n++] = (char *) _("Depth");
  append_head (out, "sizes", caption, n, headings);
  for (guint k = 0; k < grading->sizes->len; k++)
    {
      const BwGradedSize *size = g_ptr_array_index (grading->sizes, k);

      begin_row (out, grading, k);
      append_length (out, grading, size->head_mm);
      append_length (out, grading, size->girth_mm);
      if (brim)
        append_length (out, grading, size->brim_mm);
      append_length (out, grading, size->depth_mm);
      g_string_append (out, "</tr>\n");
    }
  g_string_append (out, "</tbody>\n</table>\n");
}

static void
append_colours (GString         *out,
                const BwGrading *grading,
                guint            first,
                guint            n)
{
  char *headings[BW_HTML_TABLE_COLUMNS];

  for (guint i = 0; i < n; i++)
    headings[i] = bw_words_colour (grading->design, first + i);
  append_head (out, "yarn", _("Yarn in m, and balls where the band says how much is on one"), n,
               headings);
  for (guint k = 0; k < grading->sizes->len; k++)
    {
      const BwGradedSize *size = g_ptr_array_index (grading->sizes, k);

      begin_row (out, grading, k);
      for (guint i = 0; i < n; i++)
        {
          guint balls = size->balls[first + i];
          g_autofree char *metres = bw_units_format_number (size->colour_m[first + i], 0);
          g_autofree char *text =
            balls > 0 ? g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%s; %u ball",
                                                      "%s; %u balls", balls),
                                         metres, balls)
                      : g_strdup (metres);

          append_cell (out, text);
        }
      g_string_append (out, "</tr>\n");
    }
  g_string_append (out, "</tbody>\n</table>\n");
  for (guint i = 0; i < n; i++)
    g_free (headings[i]);
}

/**
 * bw_html_yarn_table:
 * @out: where it goes
 * @grading: a family
 *
 * Appends yarn by size and colour, in as many tables as keep it narrow.
 */
void
bw_html_yarn_table (GString         *out,
                    const BwGrading *grading)
{
  guint n = grading->design->colours->len;

  for (guint first = 0; first < n; first += BW_HTML_TABLE_COLUMNS)
    append_colours (out, grading, first, MIN (BW_HTML_TABLE_COLUMNS, n - first));
}
