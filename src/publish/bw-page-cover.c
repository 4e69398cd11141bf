#define G_LOG_DOMAIN "bw-publish"

#include "bw-publish-private.h"

#include <cairo.h>

#include "bw-edition-blocks.h"
#include "bw-page-private.h"

/* The first page: what it is, in whose terms, which revision, how it looks, and
 * where to find things. */

#define PHOTO_PIXELS_MOST 20000 /* a side */

/* --- Photograph --- */

typedef struct
{
  cairo_surface_t *surface;
  double           scale;
} Photo;

static void
photo_free (gpointer data)
{
  Photo *photo = data;

  cairo_surface_destroy (photo->surface);
  g_free (photo);
}

static void
draw_photo (gconstpointer  data,
            cairo_t       *cr)
{
  const Photo *photo = data;

  cairo_scale (cr, photo->scale, photo->scale);
  cairo_set_source_surface (cr, photo->surface, 0, 0);
  cairo_paint (cr);
}

/* At most half a page, to spare ink. */
static gboolean
add_photo (BwPageSetter *setter,
           GPtrArray    *remarks)
{
  const BwPageStyle *style = &setter->flow->style;
  const char *path = setter->edition->photo;
  cairo_surface_t *surface;
  double width, height;
  Photo *photo;
  BwPiece *piece;

  if (path == NULL || style->low_ink)
    return FALSE;
  surface = cairo_image_surface_create_from_png (path);
  width = cairo_image_surface_get_width (surface);
  height = cairo_image_surface_get_height (surface);
  if (cairo_surface_status (surface) != CAIRO_STATUS_SUCCESS || width < 1 || height < 1 ||
      width > PHOTO_PIXELS_MOST || height > PHOTO_PIXELS_MOST)
    {
      g_ptr_array_add (remarks,
                       g_strdup_printf (_("the photograph %s is left out: it is not there, or no "
                                          "PNG picture"),
                                        path));
      cairo_surface_destroy (surface);
      return FALSE;
    }

  photo = g_new0 (Photo, 1);
  photo->surface = surface;
  photo->scale = MIN (bw_page_style_frame_width (style) / width,
                      bw_page_style_frame_height (style) * 0.4 / height);
  piece = bw_page_flow_add (setter->flow, "Figure", style->text, 0);
  piece->height = height * photo->scale;
  piece->draw = draw_photo;
  piece->data = photo;
  piece->free_data = photo_free;
  return TRUE;
}

/* --- Title --- */

/* A long name is set smaller, so that it leaves room for the hats. */
static double
title_size (const BwPageStyle *style,
            const char        *title)
{
  glong letters = g_utf8_strlen (title, -1);

  if (style->large || letters <= 40)
    return style->title;
  return letters <= 120 ? style->title * 0.65 : style->title * 0.45;
}

/* "UK terms. Sizes: Newborn to Large adult." */
static char *
what_it_is (const BwPageSetter *setter)
{
  const BwGrading *view = setter->view;
  const BwGradedSize *first, *last;
  const char *terms = bw_words_terms (setter->edition->terms);

  if (setter->edition->size != BW_EDITION_ALL_SIZES)
    {
      first = g_ptr_array_index (view->sizes, (guint) setter->edition->size);
      /* Translators: the first %s is "UK terms" or "US terms" */
      return g_strdup_printf (_("%s. For one size: %s."), terms,
                              bw_words_size_name (first->choice));
    }

  first = g_ptr_array_index (view->sizes, 0);
  last = g_ptr_array_index (view->sizes, view->sizes->len - 1);
  if (first == last)
    return g_strdup_printf (_("%s. Size: %s."), terms, bw_words_size_name (first->choice));
  return g_strdup_printf (_("%s. %u sizes: %s to %s."), terms, view->sizes->len,
                          bw_words_size_name (first->choice), bw_words_size_name (last->choice));
}

/**
 * bw_page_add_cover:
 * @setter: an edition being set
 * @title: its title
 * @remarks: (element-type utf8): what is wrong with the photograph is added here
 *
 * Adds everything of the first page that stands above the contents.
 */
void
bw_page_add_cover (BwPageSetter *setter,
                   const char   *title,
                   GPtrArray    *remarks)
{
  BwPageFlow *flow = setter->flow;
  const BwPageStyle *style = &flow->style;
  const BwDesign *design = setter->view->design;
  g_autofree char *what = what_it_is (setter);
  g_autofree char *stamp = bw_edition_stamp (setter->edition);
  double height = bw_page_style_frame_height (style);

  bw_page_flow_text (flow, "H1", title, title_size (style, title), TRUE, 0, BW_PIECE_KEEP);
  if (design->designer[0] != '\0')
    bw_page_flow_text (flow, "P", design->designer, style->part, FALSE, style->text * 0.6, 0);
  bw_page_flow_text (flow, "P", what, style->part, TRUE, style->text * 0.6, 0);
  bw_page_flow_text (flow, "P", stamp, style->text, FALSE, style->text * 0.3, 0);
  bw_page_add_text (setter, design->summary);
  if (!add_photo (setter, remarks) && (!style->low_ink || setter->n_sizes == 1))
    bw_page_add_hats (setter, TRUE, 0.28 * height);
  if (setter->n_sizes > 1)
    bw_page_add_hats (setter, FALSE, 0.3 * height);
}

/* --- Contents --- */

static gboolean
is_section (const GPtrArray *pieces,
            guint            index)
{
  const BwPiece *piece = g_ptr_array_index (pieces, index);

  return piece->outline != NULL && piece->level == 0;
}

/* One section; its piece moves down by `rows` when the contents go in. */
static void
add_entry (BwPageFlow *flow,
           BwPiece    *piece,
           guint       section,
           guint       rows,
           double      x,
           double      width)
{
  const BwPiece *target = g_ptr_array_index (flow->pieces, section);
  double size = flow->style.text;
  BwPieceText *number;

  bw_page_flow_set (flow, piece, bw_page_flow_layout (flow, "0", size, TRUE, size * 2), x, NULL);
  number = &g_array_index (piece->texts, BwPieceText, piece->texts->len - 1);
  number->page_of = (int) (section + rows);
  number->dest = target->dest;
  bw_page_flow_set (flow, piece,
                    bw_page_flow_layout (flow, target->outline, size, FALSE, width - size * 2.5),
                    x + size * 2.5, NULL);
  g_array_index (piece->texts, BwPieceText, piece->texts->len - 1).dest = target->dest;
}

/**
 * bw_page_add_contents:
 * @setter: an edition with all else added
 * @before: index of the piece that the contents go in front of
 *
 * Lists the sections with the pages they begin on, as links.
 */
void
bw_page_add_contents (BwPageSetter *setter,
                      guint         before)
{
  BwPageFlow *flow = setter->flow;
  const BwPageStyle *style = &flow->style;
  GPtrArray *pieces = flow->pieces;
  g_autoptr (GArray) sections = g_array_new (FALSE, FALSE, sizeof (guint));
  guint columns = style->large ? 1 : 2;
  guint end = pieces->len;
  guint rows;

  for (guint i = before; i < end; i++)
    if (is_section (pieces, i))
      g_array_append_val (sections, i);
  rows = (sections->len + columns - 1) / columns;
  for (guint row = 0; row < rows; row++)
    {
      BwPiece *piece = bw_page_flow_add (flow, "P", row == 0 ? style->text : style->text * 0.15,
                                         row == 0 ? BW_PIECE_RULE | BW_PIECE_KEEP : 0);

      for (guint i = row, column = 0; i < sections->len; i += rows, column++)
        add_entry (flow, piece, g_array_index (sections, guint, i), rows,
                   column * bw_page_style_frame_width (style) / columns,
                   bw_page_style_frame_width (style) / columns);
    }

  /* They were added at the end; the pieces they stand for move down behind them */
  for (guint i = 0; i < rows; i++)
    g_ptr_array_insert (pieces, (int) (before + i),
                        g_ptr_array_steal_index (pieces, end + i));
  for (guint i = before + rows; i < pieces->len; i++)
    {
      BwPiece *piece = g_ptr_array_index (pieces, i);

      if (piece->repeats >= 0)
        piece->repeats += (int) rows;
    }
}
