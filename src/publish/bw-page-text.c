#define G_LOG_DOMAIN "bw-publish"

#include "bw-publish-private.h"

#include <string.h>

#include "bw-number-list.h"
#include "bw-page-private.h"

/* Headings, paragraphs, items and rounds of a page. */

/* --- Numbers of the sizes --- */

/* Every second size is heavier in every list of numbers, so that the eye keeps to
 * one; which is which follows from the size, not from its place in the list. */
static void
mark_numbers (BwPageSetter  *setter,
              PangoLayout   *layout,
              const BwBlock *block)
{
  const char *text = pango_layout_get_text (layout);
  const char *starts[BW_DESIGN_SIZES_MAX];
  gsize lengths[BW_DESIGN_SIZES_MAX];
  guint ks[BW_DESIGN_SIZES_MAX];
  guint n = 0;

  for (guint k = 0; k < setter->n_sizes; k++)
    if (!block->only || (block->sizes & (1u << k)) != 0)
      ks[n++] = k;

  for (const char *at = text; n > 1 && *at != '\0';)
    {
      gsize number = bw_number_length (at);
      const char *end;

      if (number == 0 || !bw_number_list_find (at, n, starts, lengths, &end))
        {
          at = number > 0 ? at + number : g_utf8_next_char (at);
          continue;
        }
      for (guint i = 0; i < n; i++)
        if (ks[i] % 2 == 1)
          bw_page_flow_bold (layout, (guint) (starts[i] - text),
                             (guint) (starts[i] - text + (gssize) lengths[i]));
      at = end;
    }
}

/* The list of the sizes' names, which shows which are the heavier ones. */
static void
mark_names (BwPageSetter *setter,
            PangoLayout  *layout)
{
  const char *text = pango_layout_get_text (layout);
  const char *at = text;

  for (guint k = 0; k < setter->n_sizes; k++)
    {
      const BwGradedSize *size = g_ptr_array_index (setter->view->sizes, k);
      const char *name = bw_words_size_name (size->choice);

      at = strstr (at, name);
      if (at == NULL)
        return;
      if (k % 2 == 1)
        bw_page_flow_bold (layout, (guint) (at - text), (guint) (at - text + (gssize) strlen (name)));
      at += strlen (name);
    }
}

static gboolean
lists_names (const BwPageSetter *setter,
             const BwBlock      *block)
{
  return setter->n_sizes > 1 && block->kind == BW_BLOCK_ITEM &&
         g_str_equal (block->lead, _("Sizes"));
}

static void
mark_sizes (BwPageSetter  *setter,
            PangoLayout   *layout,
            const BwBlock *block)
{
  if (lists_names (setter, block))
    mark_names (setter, layout);
  else
    mark_numbers (setter, layout, block);
}

/* --- Headings and paragraphs --- */

static void
add_place (BwPageSetter *setter,
           BwPiece      *piece,
           const char   *text,
           guint         level)
{
  piece->dest = g_strdup_printf ("s%u", setter->n_heads++);
  piece->outline = g_strdup (text);
  piece->level = level;
}

/**
 * bw_page_add_heading:
 * @setter: an edition being set
 * @text: of a section
 */
void
bw_page_add_heading (BwPageSetter *setter,
                     const char   *text)
{
  const BwPageStyle *style = &setter->flow->style;
  BwPiece *piece = bw_page_flow_text (setter->flow, "H2", text, style->heading, TRUE,
                                      style->heading * 1.5, BW_PIECE_KEEP | BW_PIECE_RULE);

  piece->height += style->heading * 0.2;
  add_place (setter, piece, text, 0);
}

/**
 * bw_page_add_part:
 * @setter: an edition being set
 * @text: heading of a part of the instructions
 */
void
bw_page_add_part (BwPageSetter *setter,
                  const char   *text)
{
  const BwPageStyle *style = &setter->flow->style;
  BwPiece *piece = bw_page_flow_text (setter->flow, "H3", text, style->part, TRUE,
                                      style->part * 1.1, BW_PIECE_KEEP);

  add_place (setter, piece, text, 1);
}

/**
 * bw_page_add_text:
 * @setter: an edition being set
 * @text: a paragraph
 */
void
bw_page_add_text (BwPageSetter *setter,
                  const char   *text)
{
  const BwPageStyle *style = &setter->flow->style;

  if (text[0] != '\0')
    bw_page_flow_text (setter->flow, "P", text, style->text, FALSE, style->text * 0.5,
                       BW_PIECE_SPLITS);
}

/* --- Items --- */

/* "Hook: 5 mm": the lead in front, where the type is too large for two columns. */
static void
add_run_in (BwPageSetter  *setter,
            const BwBlock *block)
{
  const BwPageStyle *style = &setter->flow->style;
  g_autofree char *text = g_strdup_printf ("%s: %s", block->lead, block->text);
  BwPiece *piece = bw_page_flow_add (setter->flow, "P", style->text * 0.5, BW_PIECE_SPLITS);
  PangoLayout *layout = bw_page_flow_layout (setter->flow, text, style->text, FALSE,
                                             bw_page_style_frame_width (style));

  bw_page_flow_bold (layout, 0, (guint) strlen (block->lead) + 1);
  mark_sizes (setter, layout, block);
  bw_page_flow_set (setter->flow, piece, layout, 0, NULL);
}

/* The lead in a column of its own. */
static void
add_beside (BwPageSetter  *setter,
            const BwBlock *block)
{
  const BwPageStyle *style = &setter->flow->style;
  g_autofree char *lead = g_strconcat (block->lead, ":", NULL);
  PangoLayout *layout;
  BwPiece *piece;

  piece = bw_page_flow_add (setter->flow, "P", style->text * 0.35, 0);
  bw_page_flow_set (setter->flow, piece,
                    bw_page_flow_layout (setter->flow, lead, style->text, TRUE, style->lead - 8), 0,
                    NULL);
  layout = bw_page_flow_layout (setter->flow, block->text, style->text, FALSE,
                                bw_page_style_frame_width (style) - style->lead);
  mark_sizes (setter, layout, block);
  bw_page_flow_set (setter->flow, piece, layout, style->lead, NULL);
}

/**
 * bw_page_add_item:
 * @setter: an edition being set
 * @block: an item
 */
void
bw_page_add_item (BwPageSetter  *setter,
                  const BwBlock *block)
{
  if (setter->flow->style.lead > 0)
    add_beside (setter, block);
  else
    add_run_in (setter, block);
  if (lists_names (setter, block))
    bw_page_add_text (setter, _("Every second size is set in bold, here and in every list of "
                                "numbers."));
}

/* --- Rounds --- */

static gboolean
has_letters (const BwPageSetter *setter)
{
  return setter->view->design->colours->len > 1;
}

static double
round_indent (const BwPageSetter *setter,
              gboolean            tick)
{
  const BwPageStyle *style = &setter->flow->style;

  return (tick ? style->tick : 0) + (has_letters (setter) ? style->letter : 0);
}

/* The letter of the round's colour, beside a patch of it. */
static void
set_letter (BwPageSetter  *setter,
            BwPiece       *piece,
            const BwBlock *block)
{
  const BwPageStyle *style = &setter->flow->style;
  char letter[] = { (char) ('A' + block->colour), '\0' };
  double x = block->tick ? style->tick : 0;

  if (!has_letters (setter))
    return;
  bw_page_flow_set (setter->flow, piece,
                    bw_page_flow_layout (setter->flow, letter, style->text, TRUE, -1),
                    style->low_ink ? x : x + style->text * 0.45, NULL);
  if (!style->low_ink)
    {
      piece->chip = g_array_index (setter->view->design->colours, BwColour, block->colour).rgb;
      piece->chip_x = x;
    }
}

/**
 * bw_page_add_round:
 * @setter: an edition being set
 * @block: a round; it stays on one page with the checks behind it
 */
void
bw_page_add_round (BwPageSetter  *setter,
                   const BwBlock *block)
{
  const BwPageStyle *style = &setter->flow->style;
  double indent = round_indent (setter, block->tick);
  g_autofree char *text = block->lead[0] != '\0'
    ? g_strdup_printf ("%s: %s", block->lead, block->text)
    : g_strdup (block->text);
  BwPiece *piece = bw_page_flow_add (setter->flow, "P", style->gap,
                                     block->tick ? BW_PIECE_TICK : 0);
  PangoLayout *layout;

  setter->round_x = indent;
  set_letter (setter, piece, block);
  layout = bw_page_flow_layout (setter->flow, text, style->text, FALSE,
                                bw_page_style_frame_width (style) - indent);
  /* Where nothing stands before it, a line that goes on is set in a little */
  if (indent <= 0)
    pango_layout_set_indent (layout, (int) (-1.3 * style->text * PANGO_SCALE));
  if (setter->n_sizes == 1)
    bw_page_flow_bold (layout, 0, (guint) strlen (block->lead));
  else
    mark_numbers (setter, layout, block);
  bw_page_flow_set (setter->flow, piece, layout, indent, NULL);
}

/**
 * bw_page_add_check:
 * @setter: an edition being set
 * @block: what to do or measure after the round before it
 */
void
bw_page_add_check (BwPageSetter  *setter,
                   const BwBlock *block)
{
  const BwPageStyle *style = &setter->flow->style;
  GPtrArray *pieces = setter->flow->pieces;
  double indent = setter->round_x + style->text;
  BwPiece *piece;
  PangoLayout *layout;

  ((BwPiece *) g_ptr_array_index (pieces, pieces->len - 1))->flags |= BW_PIECE_KEEP;
  piece = bw_page_flow_add (setter->flow, "P", style->gap * 0.6, 0);
  layout = bw_page_flow_layout (setter->flow, block->text, style->text, FALSE,
                                bw_page_style_frame_width (style) - indent);
  mark_numbers (setter, layout, block);
  bw_page_flow_set (setter->flow, piece, layout, indent, NULL);
}
