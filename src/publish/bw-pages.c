#define G_LOG_DOMAIN "bw-publish"

#include "bw-publish-private.h"

#include "bw-edition-blocks.h"
#include "bw-page-private.h"
#include "bw-pages-private.h"
#include "bw-tone.h"

static gboolean
has_tables (const BwPageSetter *setter)
{
  return setter->n_sizes > 1 && !setter->flow->style.large;
}

/* A table takes the place of the items it says the figures of. */
static void
add_item (BwPageSetter  *setter,
          const BwBlock *block,
          BwBlockTable  *table)
{
  if (block->table == BW_BLOCK_NO_TABLE || !has_tables (setter))
    {
      bw_page_add_item (setter, block);
      return;
    }
  if (block->table == *table)
    return;

  *table = block->table;
  if (block->table == BW_BLOCK_SIZE_TABLE)
    bw_page_add_sizes (setter);
  else
    bw_page_add_yarn (setter);
}

static void
add_block (BwPageSetter  *setter,
           const BwBlock *block,
           BwBlockTable  *table)
{
  switch (block->kind)
    {
    case BW_BLOCK_HEADING:
      bw_page_add_heading (setter, block->text);
      break;
    case BW_BLOCK_PART:
      bw_page_add_part (setter, block->text);
      break;
    case BW_BLOCK_PARAGRAPH:
      bw_page_add_text (setter, block->text);
      break;
    case BW_BLOCK_ITEM:
      add_item (setter, block, table);
      break;
    case BW_BLOCK_ROUND:
      bw_page_add_round (setter, block);
      break;
    case BW_BLOCK_CHECK:
      bw_page_add_check (setter, block);
      break;
    case BW_BLOCK_TITLE:
    default:
      break;
    }
}

static BwPiece *
last_piece (const BwPageSetter *setter)
{
  return g_ptr_array_index (setter->flow->pieces, setter->flow->pieces->len - 1);
}

/* What large print does for its reader, and what it cannot do. */
static void
add_statement (BwPageSetter *setter)
{
  bw_page_add_heading (setter, _("About this edition"));
  bw_page_add_text (setter, _("It is set in 24 point, in one column, without italics. Stitches "
                              "and all other words are written in full. Colours have letters. "
                              "Charts are left out: the rounds say the same in words."));
  bw_page_add_text (setter, setter->n_sizes == 1
    ? _("Every round has a line of its own, also where it is worked like the one before.")
    : _("It is for several sizes, whose numbers stand in brackets, and rounds that are worked "
        "alike share a line. An edition for one size has no such lists and a line for each round."));
  bw_page_add_text (setter, _("The file has headings, an outline and links. The pictures in it "
                              "carry no text of their own: the first page shows the hats, and "
                              "the measurements that the drawing shows are listed below it."));
}

/* Pictures stand behind all that is worked, in front of the revision. */
static void
add_figures (BwPageSetter *setter)
{
  bw_page_add_schematic (setter);
  if (setter->edition->charts)
    bw_page_add_charts (setter);
  if (setter->flow->style.large)
    add_statement (setter);
}

static gboolean
heads_revision (const GPtrArray *blocks,
                guint            index)
{
  const BwBlock *block = g_ptr_array_index (blocks, index);
  const BwBlock *next = index + 1 < blocks->len ? g_ptr_array_index (blocks, index + 1) : NULL;

  return block->kind == BW_BLOCK_HEADING && next != NULL &&
         next->place == BW_BLOCK_PLACE_REVISION;
}

/* What stands in front of the first heading is on the cover already, but for its
 * items: terms and skill. Returns the index of the piece that begins the second page. */
static guint
add_blocks (BwPageSetter    *setter,
            const GPtrArray *blocks)
{
  BwBlockTable table = BW_BLOCK_NO_TABLE;
  gboolean cover = TRUE;
  guint contents = setter->flow->pieces->len;

  for (guint i = 0; i < blocks->len; i++)
    {
      const BwBlock *block = g_ptr_array_index (blocks, i);
      gboolean first = block->kind == BW_BLOCK_HEADING && cover;

      if (heads_revision (blocks, i))
        add_figures (setter);
      if (first)
        contents = setter->flow->pieces->len;
      cover = cover && !first;
      if (cover && block->kind != BW_BLOCK_ITEM)
        continue;
      add_block (setter, block, &table);
      if (first)
        last_piece (setter)->flags |= BW_PIECE_NEW_PAGE;
    }

  return contents;
}

static const char *
title_of (const GPtrArray *blocks)
{
  for (guint i = 0; i < blocks->len; i++)
    {
      const BwBlock *block = g_ptr_array_index (blocks, i);

      if (block->kind == BW_BLOCK_TITLE)
        return block->text;
    }

  return "";
}

/* --- What could not be done --- */

static int
compare_letters (gconstpointer a,
                 gconstpointer b)
{
  guint x = GPOINTER_TO_UINT (a);
  guint y = GPOINTER_TO_UINT (b);

  return (x > y) - (x < y);
}

static void
remark_missing (BwPages *pages)
{
  g_autoptr (GList) letters = g_list_sort (g_hash_table_get_keys (pages->flow->missing),
                                           compare_letters);
  g_autoptr (GString) list = g_string_new (NULL);

  if (letters == NULL)
    return;
  for (GList *l = letters; l != NULL; l = l->next)
    {
      gunichar letter = GPOINTER_TO_UINT (l->data);

      g_string_append (list, list->len > 0 ? ", " : "");
      if (g_unichar_isgraph (letter))
        g_string_append_unichar (list, letter);
      g_string_append_printf (list, " (U+%04X)", letter);
    }
  g_ptr_array_add (pages->remarks,
                   g_strdup_printf (_("no font here has these letters, which are set as boxes; "
                                      "install a font that has them: %s"),
                                    list->str));
}

/* --- Pages --- */

static void
set_pages (BwPages         *pages,
           const BwEdition *edition,
           const BwGrading *view)
{
  BwEdition full = *edition;
  g_autoptr (GPtrArray) blocks = NULL;
  g_autofree char *stamp = bw_edition_stamp (edition);
  BwPageSetter setter = {
    pages->flow, edition, view, edition->size == BW_EDITION_ALL_SIZES ? view->sizes->len : 1, 0, 0,
  };
  guint cover;

  /* On paper one size is always in sentences */
  full.full = TRUE;
  blocks = bw_edition_blocks (&full, view);
  if (edition->form == BW_FORM_LARGE_PRINT)
    bw_words_spell_blocks (blocks, view);
  pages->title = g_strdup (title_of (blocks));
  pages->running = g_strdup_printf ("%s · %s · %s", pages->title, bw_words_terms (edition->terms),
                                    stamp);
  bw_page_add_cover (&setter, pages->title, pages->remarks);
  cover = add_blocks (&setter, blocks);
  bw_page_add_contents (&setter, cover);
  bw_page_flow_place (pages->flow);
  remark_missing (pages);
}

/**
 * bw_pages_new:
 * @grading: a graded family, not refused
 * @edition: which edition of it
 *
 * Sets an edition. What cannot be done as asked (a photograph that is not there,
 * a letter that no font has) is done without and remarked on.
 *
 * Returns: (transfer full): its pages
 */
BwPages *
bw_pages_new (const BwGrading *grading,
              const BwEdition *edition)
{
  BwPages *pages = g_new0 (BwPages, 1);
  BwGrading *view = bw_edition_view (edition, grading);
  BwPageStyle style;

  bw_page_style_init (&style, edition);
  pages->flow = bw_page_flow_new (&style);
  pages->designer = g_strdup (view->design->designer);
  pages->summary = g_strdup (view->design->summary);
  pages->tags = g_strdup_printf (_("crochet, hat, %s"), bw_words_terms (edition->terms));
  pages->date = edition->date;
  pages->remarks = g_ptr_array_new_with_free_func (g_free);
  set_pages (pages, edition, view);
  bw_edition_view_free (view);
  return pages;
}

/**
 * bw_pages_free:
 * @pages: (nullable): pages
 */
void
bw_pages_free (BwPages *pages)
{
  if (pages == NULL)
    return;

  bw_page_flow_free (pages->flow);
  g_free (pages->title);
  g_free (pages->designer);
  g_free (pages->summary);
  g_free (pages->tags);
  g_free (pages->running);
  g_ptr_array_unref (pages->remarks);
  g_free (pages);
}

/**
 * bw_pages_n:
 * @pages: pages
 *
 * Returns: how many there are
 */
guint
bw_pages_n (const BwPages *pages)
{
  return pages->flow->n_pages;
}

/**
 * bw_pages_size:
 * @pages: pages
 * @width: (out): of the paper, pt
 * @height: (out): the same
 */
void
bw_pages_size (const BwPages *pages,
               double        *width,
               double        *height)
{
  *width = pages->flow->style.width;
  *height = pages->flow->style.height;
}

/**
 * bw_pages_remarks:
 * @pages: pages
 *
 * Returns: (element-type utf8): what could not be done as asked, a sentence each
 */
const GPtrArray *
bw_pages_remarks (const BwPages *pages)
{
  return pages->remarks;
}

/**
 * bw_pages_title:
 * @pages: pages
 *
 * Returns: their title
 */
const char *
bw_pages_title (const BwPages *pages)
{
  return pages->title;
}

/* The running title on the left, cut where it is too long, and "3 of 6". */
static void
draw_foot (const BwPages *pages,
           guint          n,
           cairo_t       *cr)
{
  BwPageFlow *flow = pages->flow;
  const BwPageStyle *style = &flow->style;
  g_autofree char *number = g_strdup_printf (_("%u of %u"), n + 1, flow->n_pages);
  PangoLayout *right = bw_page_flow_layout (flow, number, style->small, FALSE, -1);
  PangoLayout *left;
  double y = style->height - style->bottom + style->text * 2;
  int width;

  pango_layout_get_size (right, &width, NULL);
  left = bw_page_flow_layout (flow, pages->running, style->small, FALSE,
                              bw_page_style_frame_width (style) - 20 -
                                (double) width / PANGO_SCALE);
  pango_layout_set_ellipsize (left, PANGO_ELLIPSIZE_END);
  bw_rgb_source (cr, 0x000000, 1);
  cairo_move_to (cr, style->left, y);
  pango_cairo_show_layout (cr, left);
  cairo_move_to (cr, style->width - style->right - (double) width / PANGO_SCALE, y);
  pango_cairo_show_layout (cr, right);
  g_object_unref (left);
  g_object_unref (right);
}

/* With tags for a PDF; the foot is in none that a reader of the text would read. */
void
bw_pages_draw_tagged (const BwPages *pages,
                      guint          n,
                      gboolean       tagged,
                      cairo_t       *cr)
{
  bw_page_flow_draw (pages->flow, n, tagged, cr);
  if (tagged)
    cairo_tag_begin (cr, "NonStruct", "");
  draw_foot (pages, n, cr);
  if (tagged)
    cairo_tag_end (cr, "NonStruct");
}

/**
 * bw_pages_draw:
 * @pages: pages
 * @n: which one, from 0
 * @cr: where to; in points, the upper left corner of the paper at the origin
 *
 * Draws a page. Nothing is laid out again, so that it looks the same everywhere.
 */
void
bw_pages_draw (const BwPages *pages,
               guint          n,
               cairo_t       *cr)
{
  g_return_if_fail (n < bw_pages_n (pages));
  bw_pages_draw_tagged (pages, n, FALSE, cr);
}
