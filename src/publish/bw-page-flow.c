#define G_LOG_DOMAIN "bw-publish"

#include "bw-page-flow.h"

#include <math.h>
#include <string.h>

#define FAMILY "Sans"

static void
piece_free (gpointer data)
{
  BwPiece *piece = data;

  for (guint i = 0; i < piece->texts->len; i++)
    g_object_unref (g_array_index (piece->texts, BwPieceText, i).layout);
  g_array_unref (piece->texts);
  if (piece->free_data != NULL)
    piece->free_data (piece->data);
  g_free (piece->dest);
  g_free (piece->outline);
  g_free (piece);
}

/* Widths that do not follow the dots of a screen: lines end at the same words
 * on paper, in the window and in print. */
static PangoContext *
context_new (void)
{
  PangoContext *context = pango_font_map_create_context (pango_cairo_font_map_get_default ());
  cairo_font_options_t *options = cairo_font_options_create ();

  cairo_font_options_set_hint_metrics (options, CAIRO_HINT_METRICS_OFF);
  cairo_font_options_set_hint_style (options, CAIRO_HINT_STYLE_NONE);
  cairo_font_options_set_antialias (options, CAIRO_ANTIALIAS_GRAY);
  pango_cairo_context_set_font_options (context, options);
  pango_cairo_context_set_resolution (context, 72);
  pango_context_set_round_glyph_positions (context, FALSE);
  /* The same words whatever the language of the desktop is */
  pango_context_set_language (context, pango_language_from_string ("en"));
  cairo_font_options_destroy (options);
  return context;
}

/**
 * bw_page_flow_new:
 * @style: the grid of the pages; copied
 *
 * Returns: (transfer full): no pieces yet
 */
BwPageFlow *
bw_page_flow_new (const BwPageStyle *style)
{
  BwPageFlow *flow = g_new0 (BwPageFlow, 1);

  flow->style = *style;
  flow->context = context_new ();
  flow->pieces = g_ptr_array_new_with_free_func (piece_free);
  flow->placed = g_array_new (FALSE, TRUE, sizeof (BwPlaced));
  flow->missing = g_hash_table_new (NULL, NULL);
  return flow;
}

/**
 * bw_page_flow_free:
 * @flow: (nullable): a flow
 */
void
bw_page_flow_free (BwPageFlow *flow)
{
  if (flow == NULL)
    return;

  g_ptr_array_unref (flow->pieces);
  g_array_unref (flow->placed);
  g_hash_table_unref (flow->missing);
  g_object_unref (flow->context);
  g_free (flow);
}

/* --- Text --- */

/* Pango marks a glyph that no font has with the letter it stands for. */
static void
note_missing (BwPageFlow  *flow,
              PangoLayout *layout)
{
  if (pango_layout_get_unknown_glyphs_count (layout) == 0)
    return;

  for (GSList *l = pango_layout_get_lines_readonly (layout); l != NULL; l = l->next)
    for (GSList *r = ((PangoLayoutLine *) l->data)->runs; r != NULL; r = r->next)
      {
        const PangoGlyphString *glyphs = ((PangoGlyphItem *) r->data)->glyphs;

        for (int i = 0; i < glyphs->num_glyphs; i++)
          {
            PangoGlyph glyph = glyphs->glyphs[i].glyph;

            if (glyph != PANGO_GLYPH_EMPTY && (glyph & PANGO_GLYPH_UNKNOWN_FLAG) != 0)
              g_hash_table_add (flow->missing,
                                GUINT_TO_POINTER (glyph & ~PANGO_GLYPH_UNKNOWN_FLAG));
          }
      }
}

/**
 * bw_page_flow_layout:
 * @flow: a flow
 * @text: what to set
 * @size: of the type, pt
 * @bold: heavier than text
 * @width: of the lines, pt; below 0 = one line as long as it gets
 *
 * Returns: (transfer full): the text in lines
 */
PangoLayout *
bw_page_flow_layout (BwPageFlow *flow,
                     const char *text,
                     double      size,
                     gboolean    bold,
                     double      width)
{
  PangoLayout *layout = pango_layout_new (flow->context);
  PangoFontDescription *font = pango_font_description_new ();
  PangoAttrList *attributes = pango_attr_list_new ();

  pango_font_description_set_family_static (font, FAMILY);
  pango_font_description_set_size (font, (int) lround (size * PANGO_SCALE));
  pango_font_description_set_weight (font, bold ? PANGO_WEIGHT_BOLD : PANGO_WEIGHT_NORMAL);
  pango_layout_set_font_description (layout, font);
  pango_font_description_free (font);
  /* A hyphen put in at the end of a line could be read as a dash of the work */
  pango_attr_list_insert (attributes, pango_attr_insert_hyphens_new (FALSE));
  pango_layout_set_attributes (layout, attributes);
  pango_attr_list_unref (attributes);

  pango_layout_set_line_spacing (layout, (float) flow->style.leading);
  pango_layout_set_wrap (layout, PANGO_WRAP_WORD_CHAR);
  pango_layout_set_width (layout, width < 0 ? -1 : (int) lround (width * PANGO_SCALE));
  pango_layout_set_text (layout, text, -1);
  return layout;
}

/**
 * bw_page_flow_bold:
 * @layout: text in lines
 * @start: byte
 * @end: byte behind the last
 *
 * Makes some of the text heavier.
 */
void
bw_page_flow_bold (PangoLayout *layout,
                   guint        start,
                   guint        end)
{
  PangoAttrList *attributes = pango_layout_get_attributes (layout);
  PangoAttribute *weight = pango_attr_weight_new (PANGO_WEIGHT_BOLD);

  weight->start_index = start;
  weight->end_index = end;
  pango_attr_list_insert (attributes, weight);
}

/* --- Pieces --- */

/**
 * bw_page_flow_add:
 * @flow: a flow
 * @tag: its structure; static
 * @space: above it, pt
 * @flags: #BwPieceFlags
 *
 * Returns: (transfer none): a new piece below those there are, with nothing in it
 */
BwPiece *
bw_page_flow_add (BwPageFlow *flow,
                  const char *tag,
                  double      space,
                  guint       flags)
{
  BwPiece *piece = g_new0 (BwPiece, 1);

  piece->tag = tag;
  piece->space = space;
  piece->flags = flags;
  piece->texts = g_array_new (FALSE, TRUE, sizeof (BwPieceText));
  piece->repeats = -1;
  piece->chip_x = -1;
  g_ptr_array_add (flow->pieces, piece);
  return piece;
}

/**
 * bw_page_flow_set:
 * @flow: a flow
 * @piece: one of its pieces
 * @layout: (transfer full): text
 * @x: where its left edge stands, pt
 * @tag: (nullable): its structure in the piece; static
 *
 * Puts text into a piece, beside what is there; the piece gets high enough.
 */
void
bw_page_flow_set (BwPageFlow  *flow,
                  BwPiece     *piece,
                  PangoLayout *layout,
                  double       x,
                  const char  *tag)
{
  BwPieceText text = { layout, x, tag, NULL, -1 };
  int height;

  note_missing (flow, layout);
  pango_layout_get_size (layout, NULL, &height);
  piece->height = MAX (piece->height, (double) height / PANGO_SCALE);
  g_array_append_val (piece->texts, text);
}

/**
 * bw_page_flow_text:
 * @flow: a flow
 * @tag: its structure; static
 * @text: a paragraph
 * @size: of the type, pt
 * @bold: heavier than text
 * @space: above it, pt
 * @flags: #BwPieceFlags
 *
 * Returns: (transfer none): a new piece as wide as the frame
 */
BwPiece *
bw_page_flow_text (BwPageFlow *flow,
                   const char *tag,
                   const char *text,
                   double      size,
                   gboolean    bold,
                   double      space,
                   guint       flags)
{
  BwPiece *piece = bw_page_flow_add (flow, tag, space, flags);
  double width = bw_page_style_frame_width (&flow->style);

  bw_page_flow_set (flow, piece, bw_page_flow_layout (flow, text, size, bold, width), 0, NULL);
  return piece;
}

static BwPiece *
piece_at (const BwPageFlow *flow,
          guint             index)
{
  return g_ptr_array_index (flow->pieces, index);
}

/* --- Pages --- */

typedef struct
{
  BwPageFlow *flow;
  double      frame;  /* height */
  guint       page;
  double      y;      /* where the next piece would begin */
} Placer;

static void
put (Placer *placer,
     guint   index,
     guint   first_line,
     guint   n_lines,
     double  height)
{
  BwPlaced placed = { index, placer->page, placer->y, first_line, n_lines };

  g_array_append_val (placer->flow->placed, placed);
  placer->y += height;
}

static void
turn_page (Placer *placer)
{
  placer->page++;
  placer->y = 0;
}

/* Top and bottom of a line in the piece, pt. The first line of a piece begins
 * where the piece does. */
static void
line_extents (PangoLayoutIter *iter,
              double          *top,
              double          *bottom)
{
  PangoRectangle logical;

  pango_layout_iter_get_line_extents (iter, NULL, &logical);
  *top = (double) logical.y / PANGO_SCALE;
  *bottom = (double) (logical.y + logical.height) / PANGO_SCALE;
}

/* Sets a piece that is split: as many lines on each page as fit, and where there
 * is a choice never one alone. */
static void
put_lines (Placer        *placer,
           guint          index,
           const BwPiece *piece)
{
  PangoLayout *layout = g_array_index (piece->texts, BwPieceText, piece->texts->len - 1).layout;
  guint n = (guint) pango_layout_get_line_count (layout);
  PangoLayoutIter *iter = pango_layout_get_iter (layout);
  double start = 0, end = 0;
  guint first = 0;

  for (guint line = 0; line < n; line++)
    {
      double top, bottom;
      gboolean lonely;

      line_extents (iter, &top, &bottom);
      lonely = line + 2 == n && line > first + 1;
      if (line > first &&
          placer->y + (lonely ? piece->height : bottom) - start > placer->frame)
        {
          put (placer, index, first, line - first, 0);
          turn_page (placer);
          first = line;
          start = top;
        }
      end = bottom;
      pango_layout_iter_next_line (iter);
    }
  put (placer, index, first, G_MAXUINT, end - start);
  pango_layout_iter_free (iter);
}

/* What must stand on the page where the piece begins: the piece, those it is
 * kept with, or the first lines of one that may be split. */
static double
height_needed (const BwPageFlow *flow,
               guint             index)
{
  double height = 0;

  for (guint i = index; i < flow->pieces->len; i++)
    {
      const BwPiece *piece = piece_at (flow, i);
      gboolean keep = (piece->flags & BW_PIECE_KEEP) != 0;

      if (i > index)
        height += piece->space;
      if (!keep && (piece->flags & BW_PIECE_SPLITS) != 0)
        return height + MIN (piece->height, 2.6 * flow->style.text * flow->style.leading);
      height += piece->height;
      if (!keep)
        break;
    }

  return height;
}

static void
place_piece (Placer *placer,
             guint   index)
{
  const BwPageFlow *flow = placer->flow;
  const BwPiece *piece = piece_at (flow, index);
  double needed = height_needed (flow, index);
  double space = placer->y > 0 ? piece->space : 0;

  if (needed > placer->frame)
    needed = MIN (piece->height, placer->frame);
  if (placer->y > 0 &&
      ((piece->flags & BW_PIECE_NEW_PAGE) != 0 || placer->y + space + needed > placer->frame))
    {
      turn_page (placer);
      space = 0;
      if (piece->repeats >= 0)
        {
          put (placer, (guint) piece->repeats, 0, G_MAXUINT,
               piece_at (flow, (guint) piece->repeats)->height);
          space = piece->space;
        }
    }

  placer->y += space;
  if (placer->y + piece->height > placer->frame && piece->texts->len > 0)
    put_lines (placer, index, piece);
  else
    put (placer, index, 0, G_MAXUINT, piece->height);
}

/**
 * bw_page_flow_place:
 * @flow: a flow, all its pieces added
 *
 * Cuts it into pages.
 */
void
bw_page_flow_place (BwPageFlow *flow)
{
  Placer placer = { flow, bw_page_style_frame_height (&flow->style), 0, 0 };

  g_array_set_size (flow->placed, 0);
  for (guint i = 0; i < flow->pieces->len; i++)
    place_piece (&placer, i);
  flow->n_pages = placer.page + 1;
}

/**
 * bw_page_flow_page_of:
 * @flow: a flow in pages
 * @piece: index of a piece
 *
 * Returns: the page it begins on, from 0
 */
guint
bw_page_flow_page_of (const BwPageFlow *flow,
                      guint             piece)
{
  for (guint i = 0; i < flow->placed->len; i++)
    {
      const BwPlaced *placed = &g_array_index (flow->placed, BwPlaced, i);

      if (placed->piece == piece)
        return placed->page;
    }

  return 0;
}
