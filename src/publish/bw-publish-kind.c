#define G_LOG_DOMAIN "bw-publish"

#include "bw-publish-kind.h"

#include <string.h>

#include "bw-edition-blocks.h"
#include "bw-html.h"
#include "bw-pages-sheet.h"
#include "bw-pdf.h"
#include "bw-publish-picture.h"
#include "bw-publish-table.h"
#include "bw-words-listing.h"
#include "bw-words-sheet.h"

static char *
take_text (char  *text,
           gsize *length)
{
  *length = strlen (text);
  return text;
}

static char *
make_html (const BwGrading  *grading,
           const BwEdition  *edition,
           gsize            *length,
           GError          **error)
{
  return bw_html_pattern (grading, edition, length, error);
}

static char *
make_text (const BwGrading  *grading,
           const BwEdition  *edition,
           gsize            *length,
           G_GNUC_UNUSED GError **error)
{
  BwGrading *view = bw_edition_view (edition, grading);
  g_autoptr (GPtrArray) blocks = bw_edition_blocks (edition, view);
  char *text = bw_words_pattern_text (blocks);

  bw_edition_view_free (view);
  return take_text (text, length);
}

static char *
make_pdf (const BwGrading  *grading,
          const BwEdition  *edition,
          gsize            *length,
          GError          **error)
{
  g_autoptr (BwPages) pages = bw_pages_new (grading, edition);
  GBytes *bytes = bw_pdf_new (pages, error);

  return bytes != NULL ? g_bytes_unref_to_data (bytes, length) : NULL;
}

static char *
make_sheet_pdf (const BwGrading  *grading,
                const BwEdition  *edition,
                gsize            *length,
                GError          **error)
{
  g_autoptr (BwPages) pages = bw_pages_sheet_new (grading, edition);
  GBytes *bytes = bw_pdf_new (pages, error);

  return bytes != NULL ? g_bytes_unref_to_data (bytes, length) : NULL;
}

static char *
make_listing (const BwGrading  *grading,
              const BwEdition  *edition,
              gsize            *length,
              G_GNUC_UNUSED GError **error)
{
  BwGrading *view = bw_edition_view (edition, grading);
  g_autoptr (GPtrArray) blocks = bw_words_listing (view);
  char *text = bw_words_listing_text (blocks);

  bw_edition_view_free (view);
  return take_text (text, length);
}

static char *
make_sheet (const BwGrading  *grading,
            const BwEdition  *edition,
            gsize            *length,
            G_GNUC_UNUSED GError **error)
{
  BwGrading *view = bw_edition_view (edition, grading);
  g_autoptr (GPtrArray) blocks = bw_edition_sheet (edition, view);
  char *text = bw_words_sheet_text (blocks);

  bw_edition_view_free (view);
  return take_text (text, length);
}

static char *
make_html_sheet (const BwGrading  *grading,
                 const BwEdition  *edition,
                 gsize            *length,
                 G_GNUC_UNUSED GError **error)
{
  return bw_html_sheet (grading, edition, length);
}

static char *
make_table (const BwGrading *grading,
            const BwEdition *edition,
            void           (*append) (GString *, const BwGrading *, int),
            gsize           *length)
{
  BwGrading *view = bw_edition_view (edition, grading);
  GString *out = g_string_new (NULL);

  append (out, view, edition->size);
  bw_edition_view_free (view);
  *length = out->len;
  return g_string_free (out, FALSE);
}

static char *
make_rounds (const BwGrading  *grading,
             const BwEdition  *edition,
             gsize            *length,
             G_GNUC_UNUSED GError **error)
{
  return make_table (grading, edition, bw_table_rounds, length);
}

static char *
make_sizes (const BwGrading  *grading,
            const BwEdition  *edition,
            gsize            *length,
            G_GNUC_UNUSED GError **error)
{
  return make_table (grading, edition, bw_table_sizes, length);
}

static char *
make_yarn (const BwGrading  *grading,
           const BwEdition  *edition,
           gsize            *length,
           G_GNUC_UNUSED GError **error)
{
  return make_table (grading, edition, bw_table_yarn, length);
}

static char *
make_charts (const BwGrading  *grading,
             const BwEdition  *edition,
             gsize            *length,
             GError          **error)
{
  return bw_publish_charts (grading, edition, BW_PICTURE_SVG, length, error);
}

static char *
make_charts_png (const BwGrading  *grading,
                 const BwEdition  *edition,
                 gsize            *length,
                 GError          **error)
{
  return bw_publish_charts (grading, edition, BW_PICTURE_PNG, length, error);
}

static char *
make_schematic (const BwGrading  *grading,
                const BwEdition  *edition,
                gsize            *length,
                GError          **error)
{
  return bw_publish_schematic (grading, edition, BW_PICTURE_SVG, length, error);
}

static char *
make_schematic_png (const BwGrading  *grading,
                    const BwEdition  *edition,
                    gsize            *length,
                    GError          **error)
{
  return bw_publish_schematic (grading, edition, BW_PICTURE_PNG, length, error);
}

/* The first kind with an ending of a file's name is what that ending stands for. */
static const BwPublishKind kinds[] = {
  { "html", ".html", FALSE, TRUE, FALSE, make_html },
  { "pdf", ".pdf", FALSE, TRUE, FALSE, make_pdf },
  { "text", ".txt", FALSE, TRUE, TRUE, make_text },
  { "listing", "-listing.txt", FALSE, TRUE, TRUE, make_listing },
  { "sheet", "-sheet.txt", TRUE, TRUE, TRUE, make_sheet },
  { "sheet-html", "-sheet.html", TRUE, TRUE, FALSE, make_html_sheet },
  { "sheet-pdf", "-sheet.pdf", TRUE, TRUE, FALSE, make_sheet_pdf },
  { "rounds", "-rounds.csv", FALSE, TRUE, TRUE, make_rounds },
  { "sizes", "-sizes.csv", FALSE, FALSE, TRUE, make_sizes },
  { "yarn", "-yarn.csv", FALSE, FALSE, TRUE, make_yarn },
  { "charts", "-charts.svg", TRUE, TRUE, FALSE, make_charts },
  { "charts-png", "-charts.png", TRUE, TRUE, FALSE, make_charts_png },
  { "schematic", "-schematic.svg", FALSE, FALSE, FALSE, make_schematic },
  { "schematic-png", "-schematic.png", FALSE, FALSE, FALSE, make_schematic_png },
};

/**
 * bw_publish_kind_at:
 * @index: from 0 on
 *
 * Returns: (transfer none) (nullable): a kind of file; NULL after the last one
 */
const BwPublishKind *
bw_publish_kind_at (guint index)
{
  return index < G_N_ELEMENTS (kinds) ? &kinds[index] : NULL;
}

/**
 * bw_publish_kind_find:
 * @name: as people type it
 *
 * Returns: (transfer none) (nullable): the kind of that name
 */
const BwPublishKind *
bw_publish_kind_find (const char *name)
{
  for (guint i = 0; i < G_N_ELEMENTS (kinds); i++)
    if (g_str_equal (kinds[i].name, name))
      return &kinds[i];

  return NULL;
}

/**
 * bw_publish_kind_for_file:
 * @path: a file
 *
 * Returns: (transfer none) (nullable): the kind that the ending of its name stands
 *   for: the pattern for .html, .pdf and .txt, the rounds for .csv, the charts for
 *   .svg and .png
 */
const BwPublishKind *
bw_publish_kind_for_file (const char *path)
{
  const char *slash = strrchr (path, G_DIR_SEPARATOR);
  const char *ending = strrchr (slash != NULL ? slash + 1 : path, '.');

  for (guint i = 0; ending != NULL && i < G_N_ELEMENTS (kinds); i++)
    if (g_ascii_strcasecmp (strrchr (kinds[i].ending, '.'), ending) == 0)
      return &kinds[i];

  return NULL;
}

/**
 * bw_publish_kind_names:
 *
 * Returns: (transfer full): the names of all kinds: "html, text, listing"
 */
char *
bw_publish_kind_names (void)
{
  GString *out = g_string_new (NULL);

  for (guint i = 0; i < G_N_ELEMENTS (kinds); i++)
    g_string_append_printf (out, "%s%s", i > 0 ? ", " : "", kinds[i].name);
  return g_string_free (out, FALSE);
}
