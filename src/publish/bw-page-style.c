#define G_LOG_DOMAIN "bw-publish"

#include "bw-page-style.h"

/* Paper by ISO 216 (A4: 210 by 297 mm) and ANSI/ASME Y14.1 (Letter: 8.5 by 11 in). */
static void
set_paper (BwPageStyle *style,
           BwPaper      paper)
{
  style->width = paper == BW_PAPER_A4 ? 210 * BW_PT_PER_MM : 612;
  style->height = paper == BW_PAPER_A4 ? 297 * BW_PT_PER_MM : 792;
}

/* 24 points, margins of an inch, one column: what readers with low vision ask
 * publishers of patterns for (common practice, no source). */
static void
set_large (BwPageStyle *style)
{
  style->left = style->right = style->top = 72;
  style->bottom = 96;
  style->text = style->small = 24;
  style->heading = style->part = 30;
  style->title = 40;
  style->leading = 1.15;
  style->lead = 0;
  style->tick = 34;
  style->letter = 48;
  style->gap = 18;
}

/**
 * bw_page_style_init:
 * @style: (out caller-allocates): the grid
 * @edition: an edition
 */
void
bw_page_style_init (BwPageStyle     *style,
                    const BwEdition *edition)
{
  *style = (BwPageStyle) {
    .left = 56, .right = 56, .top = 56, .bottom = 70,
    .text = 9.5, .title = 28, .heading = 13, .part = 10.5, .small = 8,
    .leading = 1.12, .lead = 122, .tick = 16, .letter = 19, .gap = 3.5,
  };

  set_paper (style, edition->paper);
  style->large = edition->form == BW_FORM_LARGE_PRINT;
  style->low_ink = edition->form == BW_FORM_LOW_INK;
  if (style->large)
    set_large (style);
}

/**
 * bw_page_style_frame_width:
 * @style: a grid
 *
 * Returns: the width of the text, pt
 */
double
bw_page_style_frame_width (const BwPageStyle *style)
{
  return style->width - style->left - style->right;
}

/**
 * bw_page_style_frame_height:
 * @style: a grid
 *
 * Returns: the height of the text, pt
 */
double
bw_page_style_frame_height (const BwPageStyle *style)
{
  return style->height - style->top - style->bottom;
}
