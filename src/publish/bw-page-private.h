#pragma once

#include "bw-page-flow.h"
#include "bw-words-pattern.h"

G_BEGIN_DECLS

/* Internal to the setting of pages: what adds pieces to a flow. */

/* An edition that is being set. */
typedef struct
{
  BwPageFlow      *flow;
  const BwEdition *edition;
  const BwGrading *view;     /* in the edition's terms and units */
  guint            n_sizes;  /* written: 1 for an edition of one size */
  guint            n_heads;  /* headings so far: their names as places for links */
  double           round_x;  /* where the text of the last round begins */
} BwPageSetter;

/* bw-page-text.c */
void     bw_page_add_heading  (BwPageSetter  *setter,
                               const char    *text);
void     bw_page_add_part     (BwPageSetter  *setter,
                               const char    *text);
void     bw_page_add_text     (BwPageSetter  *setter,
                               const char    *text);
void     bw_page_add_item     (BwPageSetter  *setter,
                               const BwBlock *block);
void     bw_page_add_round    (BwPageSetter  *setter,
                               const BwBlock *block);
void     bw_page_add_check    (BwPageSetter  *setter,
                               const BwBlock *block);

/* bw-page-table.c */
void     bw_page_add_sizes    (BwPageSetter  *setter);
void     bw_page_add_yarn     (BwPageSetter  *setter);

/* bw-page-cover.c */
void     bw_page_add_cover    (BwPageSetter  *setter,
                               const char    *title,
                               GPtrArray     *remarks);
void     bw_page_add_contents (BwPageSetter  *setter,
                               guint          before);

/* bw-page-figures.c */
void     bw_page_add_charts   (BwPageSetter  *setter);
void     bw_page_add_schematic (BwPageSetter *setter);

/* bw-page-hats.c */
void     bw_page_add_hats     (BwPageSetter  *setter,
                               gboolean       portrait,
                               double         height);

G_END_DECLS
