#define G_LOG_DOMAIN "bw-publish"

#include "bw-publish-private.h"

#include "bw-pages-sheet.h"

#include "bw-edition-blocks.h"
#include "bw-pages-private.h"

/* The tester's sheet on paper: lines to write on. */

#define WRITING_MM  7.0  /* height that handwriting wants */
#define REMARKS     6    /* lines for remarks */

/* A rule to write on, so far below what is asked that a hand has room. */
static void
add_line (BwPageFlow *flow,
          const char *text)
{
  BwPiece *piece = bw_page_flow_text (flow, "P", text, flow->style.text, FALSE,
                                      flow->style.text / 2, BW_PIECE_RULE_BELOW);

  piece->height = MAX (piece->height, WRITING_MM * BW_PT_PER_MM);
}

static void
add_block (BwPageFlow    *flow,
           const BwBlock *block)
{
  const BwPageStyle *style = &flow->style;
  g_autofree char *asked = g_strconcat (block->lead, ":", NULL);
  g_autofree char *item = g_strdup_printf ("%s: %s", block->lead, block->text);

  switch (block->kind)
    {
    case BW_BLOCK_TITLE:
      bw_page_flow_text (flow, "H1", block->text, style->title, TRUE, 0, BW_PIECE_KEEP);
      break;
    case BW_BLOCK_HEADING:
      bw_page_flow_text (flow, "H2", block->text, style->heading, TRUE, style->heading,
                         BW_PIECE_KEEP);
      break;
    case BW_BLOCK_ITEM:
      bw_page_flow_text (flow, "P", item, style->text, FALSE, style->gap, 0);
      break;
    case BW_BLOCK_FILL_IN:
      add_line (flow, asked);
      break;
    default:
      bw_page_flow_text (flow, "P", block->text, style->text, FALSE, style->text,
                         BW_PIECE_SPLITS);
    }
}

static void
set_sheet (BwPages         *pages,
           const BwEdition *edition,
           const BwGrading *view)
{
  g_autoptr (GPtrArray) blocks = bw_edition_sheet (edition, view);
  g_autofree char *stamp = bw_edition_stamp (edition);

  pages->title = g_strdup (((const BwBlock *) g_ptr_array_index (blocks, 0))->text);
  pages->running = g_strdup_printf ("%s · %s", pages->title, stamp);
  for (guint i = 0; i < blocks->len; i++)
    add_block (pages->flow, g_ptr_array_index (blocks, i));
  /* Remarks come last and want more than a line */
  for (guint i = 1; i < REMARKS; i++)
    add_line (pages->flow, "");
  bw_page_flow_place (pages->flow);
}

/**
 * bw_pages_sheet_new:
 * @grading: a graded family, not refused
 * @edition: of one size
 *
 * Returns: (transfer full): the tester's sheet of the size, to write on
 */
BwPages *
bw_pages_sheet_new (const BwGrading *grading,
                    const BwEdition *edition)
{
  BwPages *pages;
  BwGrading *view;
  BwPageStyle style;

  g_return_val_if_fail (grading != NULL && edition != NULL && edition->size >= 0, NULL);

  pages = g_new0 (BwPages, 1);
  view = bw_edition_view (edition, grading);
  bw_page_style_init (&style, edition);
  pages->flow = bw_page_flow_new (&style);
  pages->designer = g_strdup (view->design->designer);
  pages->summary = g_strdup (view->design->summary);
  pages->tags = g_strdup (_("crochet, hat, tester’s sheet"));
  pages->date = edition->date;
  pages->remarks = g_ptr_array_new_with_free_func (g_free);
  set_sheet (pages, edition, view);
  bw_edition_view_free (view);
  return pages;
}
