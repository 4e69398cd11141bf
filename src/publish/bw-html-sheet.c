#define G_LOG_DOMAIN "bw-publish"

#include "bw-html.h"

#include "bw-edition-blocks.h"
#include "bw-html-private.h"

/* The tester's sheet as a page: to print and write on, or to fill in on screen
 * and print. What is sent back to be read again is the sheet as text. */

static void
append_place (GString       *out,
              const BwBlock *block,
              gboolean       last)
{
  g_string_append (out, "<label>");
  bw_html_escape (out, block->lead);
  g_string_append (out, last ? ": <textarea rows=\"8\" cols=\"20\"></textarea></label>\n"
                             : ": <input type=\"text\"></label>\n");
}

static void
append_block (GString       *out,
              const BwBlock *block,
              gboolean       last)
{
  switch (block->kind)
    {
    case BW_BLOCK_TITLE:
      g_string_append (out, "<h1 dir=\"auto\">");
      bw_html_escape (out, block->text);
      g_string_append (out, "</h1>\n");
      break;
    case BW_BLOCK_HEADING:
      g_string_append (out, "<h2>");
      bw_html_escape (out, block->text);
      g_string_append (out, "</h2>\n");
      break;
    case BW_BLOCK_ITEM:
      g_string_append (out, "<p class=\"item\"><b>");
      bw_html_escape (out, block->lead);
      g_string_append (out, ":</b> <bdi>");
      bw_html_escape (out, block->text);
      g_string_append (out, "</bdi></p>\n");
      break;
    case BW_BLOCK_FILL_IN:
      append_place (out, block, last);
      break;
    default:
      g_string_append (out, "<p>");
      bw_html_escape (out, block->text);
      g_string_append (out, "</p>\n");
    }
}

/**
 * bw_html_sheet:
 * @grading: a graded family, not refused
 * @edition: of one size
 * @length: (out) (optional): bytes of the page
 *
 * Returns: (transfer full): the tester's sheet of the size as a page
 */
char *
bw_html_sheet (const BwGrading *grading,
               const BwEdition *edition,
               gsize           *length)
{
  GString *out = g_string_new (NULL);
  g_autoptr (GPtrArray) blocks = NULL;
  const char *title;
  BwGrading *view;

  g_return_val_if_fail (grading != NULL && edition != NULL && edition->size >= 0, NULL);

  view = bw_edition_view (edition, grading);
  blocks = bw_edition_sheet (edition, view);
  title = ((const BwBlock *) g_ptr_array_index (blocks, 0))->text;
  bw_html_begin (out, view->design, edition, title, 1);
  g_string_append (out, "<main class=\"sheet\">\n");
  for (guint i = 0; i < blocks->len; i++)
    append_block (out, g_ptr_array_index (blocks, i), i + 1 == blocks->len);
  g_string_append (out, "</main>\n");
  bw_html_end (out);
  bw_edition_view_free (view);
  if (length != NULL)
    *length = out->len;
  return g_string_free (out, FALSE);
}
