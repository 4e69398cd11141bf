#define G_LOG_DOMAIN "bw-publish"

#include "bw-page-flow.h"

#include <cairo-pdf.h>

#include "bw-tone.h"

/* Drawing of pages that are placed. With tags, on a PDF surface, each piece is an
 * element of the document's structure; tags never stay open over the end of a
 * page, so that any page may be drawn by itself. */

#define INK 0x000000

typedef struct
{
  const BwPageFlow *flow;
  cairo_t          *cr;
  gboolean          tagged;
} Draw;

static void
tag_begin (const Draw *draw,
           const char *tag,
           const char *attributes)
{
  if (draw->tagged && tag != NULL)
    cairo_tag_begin (draw->cr, tag, attributes);
}

static void
tag_end (const Draw *draw,
         const char *tag)
{
  if (draw->tagged && tag != NULL)
    cairo_tag_end (draw->cr, tag);
}

/* Lines [first, first + n) of a text, the top of the first of them at y. */
static void
draw_lines (const Draw  *draw,
            PangoLayout *layout,
            double       x,
            double       y,
            guint        first,
            guint        n)
{
  PangoLayoutIter *iter = pango_layout_get_iter (layout);
  double top = 0;
  guint line = 0;

  do
    {
      PangoRectangle logical;

      if (line >= first && line - first < n)
        {
          pango_layout_iter_get_line_extents (iter, NULL, &logical);
          if (line == first && first > 0)
            top = (double) logical.y / PANGO_SCALE;
          cairo_move_to (draw->cr, x + (double) logical.x / PANGO_SCALE,
                         y - top + (double) pango_layout_iter_get_baseline (iter) / PANGO_SCALE);
          pango_cairo_show_layout_line (draw->cr, pango_layout_iter_get_line_readonly (iter));
        }
      line++;
    }
  while (pango_layout_iter_next_line (iter));
  pango_layout_iter_free (iter);
}

static PangoLayout *
page_number (const Draw        *draw,
             const BwPieceText *text)
{
  guint page = bw_page_flow_page_of (draw->flow, (guint) text->page_of);
  g_autofree char *number = g_strdup_printf ("%u", page + 1);
  PangoLayout *layout = pango_layout_copy (text->layout);

  pango_layout_set_text (layout, number, -1);
  return layout;
}

static void
draw_text (const Draw        *draw,
           const BwPieceText *text,
           double             y,
           const BwPlaced    *placed)
{
  PangoLayout *layout = text->page_of >= 0 ? page_number (draw, text) : g_object_ref (text->layout);

  tag_begin (draw, text->tag, "");
  if (text->dest != NULL)
    {
      g_autofree char *link = g_strdup_printf ("dest='%s'", text->dest);

      tag_begin (draw, CAIRO_TAG_LINK, link);
    }
  draw_lines (draw, layout, draw->flow->style.left + text->x, y, placed->first_line,
              placed->n_lines);
  if (text->dest != NULL)
    tag_end (draw, CAIRO_TAG_LINK);
  tag_end (draw, text->tag);
  g_object_unref (layout);
}

static void
draw_rule (const Draw *draw,
           double      y)
{
  bw_rgb_source (draw->cr, 0x707070, 1);
  cairo_set_line_width (draw->cr, 0.5);
  cairo_move_to (draw->cr, draw->flow->style.left, y);
  cairo_rel_line_to (draw->cr, bw_page_style_frame_width (&draw->flow->style), 0);
  cairo_stroke (draw->cr);
}

/* Height of the first line of a piece: what stands beside it is as high. */
static double
line_height (const BwPiece *piece)
{
  PangoLayoutLine *line;
  PangoRectangle logical;

  if (piece->texts->len == 0)
    return 0;
  line = pango_layout_get_line_readonly (g_array_index (piece->texts, BwPieceText, 0).layout, 0);
  pango_layout_line_get_extents (line, NULL, &logical);
  return (double) logical.height / PANGO_SCALE;
}

/* A box to tick, and a patch of the colour that the letter names. */
static void
draw_marks (const Draw    *draw,
            const BwPiece *piece,
            double         y)
{
  const BwPageStyle *style = &draw->flow->style;
  double side = style->text * 0.85;
  double middle = y + line_height (piece) / 2;

  bw_rgb_source (draw->cr, INK, 1);
  cairo_set_line_width (draw->cr, style->text / 12);
  if ((piece->flags & BW_PIECE_TICK) != 0)
    {
      cairo_rectangle (draw->cr, style->left + 0.5, middle - side / 2, side, side);
      cairo_stroke (draw->cr);
    }
  if (piece->chip_x >= 0)
    {
      cairo_rectangle (draw->cr, style->left + piece->chip_x, middle - side / 2, side / 3, side);
      bw_rgb_source (draw->cr, piece->chip, 1);
      cairo_fill_preserve (draw->cr);
      bw_rgb_source (draw->cr, 0x404040, 1);
      cairo_set_line_width (draw->cr, 0.4);
      cairo_stroke (draw->cr);
    }
}

static void
draw_piece (const Draw     *draw,
            const BwPlaced *placed)
{
  const BwPiece *piece = g_ptr_array_index (draw->flow->pieces, placed->piece);
  double y = draw->flow->style.top + placed->y;
  gboolean begins = placed->first_line == 0;

  if (piece->dest != NULL && begins)
    {
      g_autofree char *name = g_strdup_printf ("name='%s'", piece->dest);

      tag_begin (draw, CAIRO_TAG_DEST, name);
    }
  tag_begin (draw, piece->tag, "");
  if ((piece->flags & BW_PIECE_RULE) != 0 && begins)
    draw_rule (draw, y - draw->flow->style.text * 0.3);
  if (begins)
    draw_marks (draw, piece, y);

  bw_rgb_source (draw->cr, INK, 1);
  for (guint i = 0; i < piece->texts->len; i++)
    draw_text (draw, &g_array_index (piece->texts, BwPieceText, i), y, placed);
  if (piece->draw != NULL)
    {
      cairo_save (draw->cr);
      cairo_translate (draw->cr, draw->flow->style.left, y);
      piece->draw (piece->data, draw->cr);
      cairo_restore (draw->cr);
    }
  if ((piece->flags & BW_PIECE_RULE_BELOW) != 0)
    draw_rule (draw, y + piece->height + 1);

  tag_end (draw, piece->tag);
  if (piece->dest != NULL && begins)
    tag_end (draw, CAIRO_TAG_DEST);
}

static gboolean
is_row (const BwPageFlow *flow,
        guint             index)
{
  const BwPlaced *placed = &g_array_index (flow->placed, BwPlaced, index);
  const BwPiece *piece = g_ptr_array_index (flow->pieces, placed->piece);

  return g_strcmp0 (piece->tag, "TR") == 0;
}

/* Does the table that placed[index] is a row of begin with it on this page? */
static gboolean
begins_table (const BwPageFlow *flow,
              guint             index)
{
  const BwPlaced *placed = &g_array_index (flow->placed, BwPlaced, index);
  const BwPiece *piece = g_ptr_array_index (flow->pieces, placed->piece);

  return index == 0 || !is_row (flow, index - 1) || (piece->flags & BW_PIECE_NEW_TABLE) != 0 ||
         g_array_index (flow->placed, BwPlaced, index - 1).page != placed->page;
}

static gboolean
ends_table (const BwPageFlow *flow,
            guint             index)
{
  return index + 1 == flow->placed->len || !is_row (flow, index + 1) ||
         begins_table (flow, index + 1);
}

/**
 * bw_page_flow_draw:
 * @flow: a flow in pages
 * @page: index of one, from 0
 * @tagged: mark up the structure, for a PDF surface
 * @cr: where it is drawn, in points, the paper's upper left corner at the origin
 */
void
bw_page_flow_draw (const BwPageFlow *flow,
                   guint             page,
                   gboolean          tagged,
                   cairo_t          *cr)
{
  Draw draw = { flow, cr, tagged };

  cairo_save (cr);
  for (guint i = 0; i < flow->placed->len; i++)
    {
      const BwPlaced *placed = &g_array_index (flow->placed, BwPlaced, i);

      if (placed->page != page)
        continue;
      if (is_row (flow, i) && begins_table (flow, i))
        tag_begin (&draw, "Table", "");
      draw_piece (&draw, placed);
      if (is_row (flow, i) && ends_table (flow, i))
        tag_end (&draw, "Table");
    }
  cairo_restore (cr);
}
