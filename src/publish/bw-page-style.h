#pragma once

#include "bw-edition.h"

G_BEGIN_DECLS

/* The grid of an edition's pages; all lengths in points. One type family in few
 * sizes, one column of text, and to its left inside the column the places for
 * the tick box and the colour's letter:
 *
 *   left                                                right
 *    | title, headings, paragraphs, tables               |
 *    | lead of an item     | its text                    |
 *    | [ ] A  Rnd 5: dc in each st around (54 sts)       |
 *    |        and where it goes on, under its beginning  |
 *    | running title, edition, revision          3 of 6  |
 */
typedef struct
{
  double   width;    /* of the paper */
  double   height;
  double   left;     /* margins */
  double   right;
  double   top;
  double   bottom;
  double   text;     /* sizes of type */
  double   title;
  double   heading;
  double   part;
  double   small;    /* tables, pictures, the foot of the page */
  double   leading;  /* from line to line, of the type's own height */
  double   lead;     /* width of the leads of items; 0 = they run in */
  double   tick;     /* width of the column of boxes to tick */
  double   letter;   /* width of the column of letters */
  double   gap;      /* between rounds */
  gboolean large;
  gboolean low_ink;
} BwPageStyle;

#define BW_PT_PER_MM (72.0 / 25.4)

void   bw_page_style_init         (BwPageStyle       *style,
                                   const BwEdition   *edition);
double bw_page_style_frame_width  (const BwPageStyle *style);
double bw_page_style_frame_height (const BwPageStyle *style);

G_END_DECLS
