#define G_LOG_DOMAIN "bw-publish"

#include "bw-publish-private.h"

#include "bw-pdf.h"

#include <cairo-pdf.h>

#include "bw-error.h"
#include "bw-pages-private.h"

static cairo_status_t
append_cb (void                *closure,
           const unsigned char *bytes,
           unsigned int         length)
{
  g_byte_array_append (closure, bytes, length);
  return CAIRO_STATUS_SUCCESS;
}

/* The dates are the edition's: left to itself Cairo writes the time of day, and no
 * two files would be the same. */
static void
set_metadata (cairo_surface_t *surface,
              const BwPages   *pages)
{
  g_autoptr (GDateTime) time = g_date_time_new_from_unix_utc (pages->date);
  g_autofree char *date = time != NULL ? g_date_time_format (time, "%Y-%m-%dT%H:%M:%SZ") : NULL;

  cairo_pdf_surface_set_metadata (surface, CAIRO_PDF_METADATA_TITLE, pages->title);
  cairo_pdf_surface_set_metadata (surface, CAIRO_PDF_METADATA_AUTHOR, pages->designer);
  cairo_pdf_surface_set_metadata (surface, CAIRO_PDF_METADATA_SUBJECT, pages->summary);
  cairo_pdf_surface_set_metadata (surface, CAIRO_PDF_METADATA_KEYWORDS, pages->tags);
  cairo_pdf_surface_set_metadata (surface, CAIRO_PDF_METADATA_CREATOR, "Brimwright " BW_VERSION);
  if (date != NULL)
    {
      cairo_pdf_surface_set_metadata (surface, CAIRO_PDF_METADATA_CREATE_DATE, date);
      cairo_pdf_surface_set_metadata (surface, CAIRO_PDF_METADATA_MOD_DATE, date);
    }
}

/* Headings as a tree, each leading to its place. */
static void
set_outline (cairo_surface_t *surface,
             const BwPages   *pages)
{
  int section = CAIRO_PDF_OUTLINE_ROOT;

  for (guint i = 0; i < pages->flow->pieces->len; i++)
    {
      const BwPiece *piece = g_ptr_array_index (pages->flow->pieces, i);
      g_autofree char *link = NULL;
      int id;

      if (piece->outline == NULL)
        continue;
      link = g_strdup_printf ("dest='%s'", piece->dest);
      id = cairo_pdf_surface_add_outline (surface,
                                          piece->level == 0 ? CAIRO_PDF_OUTLINE_ROOT : section,
                                          piece->outline, link,
                                          piece->level == 0 ? CAIRO_PDF_OUTLINE_FLAG_OPEN : 0);
      if (piece->level == 0)
        section = id;
    }
}

/* The whole document is one element: without it outermost the file would not say
 * that it is tagged. */
static void
draw_pages (cairo_t       *cr,
            const BwPages *pages)
{
  cairo_tag_begin (cr, "Document", "");
  for (guint n = 0; n < bw_pages_n (pages); n++)
    {
      g_autofree char *label = g_strdup_printf ("%u", n + 1);

      cairo_pdf_surface_set_page_label (cairo_get_target (cr), label);
      bw_pages_draw_tagged (pages, n, TRUE, cr);
      if (n + 1 < bw_pages_n (pages))
        cairo_show_page (cr);
    }
  cairo_tag_end (cr, "Document");
  cairo_show_page (cr);
}

/**
 * bw_pdf_new:
 * @pages: an edition in pages
 * @error: what is wrong
 *
 * Returns: (transfer full) (nullable): the pages as a PDF, with structure, outline
 *   and links; the same bytes for the same pages
 */
GBytes *
bw_pdf_new (const BwPages  *pages,
            GError        **error)
{
  g_autoptr (GByteArray) bytes = g_byte_array_new ();
  cairo_surface_t *surface;
  cairo_status_t status;
  double width, height;
  cairo_t *cr;

  bw_pages_size (pages, &width, &height);
  surface = cairo_pdf_surface_create_for_stream (append_cb, bytes, width, height);
  set_metadata (surface, pages);
  cr = cairo_create (surface);
  draw_pages (cr, pages);
  set_outline (surface, pages);
  status = cairo_status (cr);
  cairo_destroy (cr);
  /* A fault in the structure is found out no earlier than here */
  cairo_surface_finish (surface);
  if (status == CAIRO_STATUS_SUCCESS)
    status = cairo_surface_status (surface);
  cairo_surface_destroy (surface);

  if (status != CAIRO_STATUS_SUCCESS)
    {
      g_set_error (error, BW_ERROR, BW_ERROR_RANGE, _("the PDF cannot be made: %s"),
                   cairo_status_to_string (status));
      return NULL;
    }
  return g_byte_array_free_to_bytes (g_steal_pointer (&bytes));
}
