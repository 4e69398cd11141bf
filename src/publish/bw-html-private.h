#pragma once

#include <cairo.h>

#include "bw-edition.h"
#include "bw-words-pattern.h"

G_BEGIN_DECLS

/* Internal to the writing of pages for a browser.
 *
 * A page shows all sizes until one is chosen with the buttons at its head; the
 * style does that by itself. Class "s" is a number of one size within a list
 * ("s2" of the third), "p" what stands between such numbers, "r" a line or a
 * picture that only some sizes have ("w2" the third), "only" words that name
 * the sizes of a line. With a size chosen, what is not of it is not shown. */

#define BW_HTML_TABLE_COLUMNS 4 /* of figures: as many as a telephone shows side by side */

typedef void (* BwHtmlDraw) (cairo_t  *cr,
                             gpointer  data);

/* bw-html-text.c */
void        bw_html_escape      (GString         *out,
                                 const char      *text);
void        bw_html_numbers     (GString         *out,
                                 const char      *text,
                                 guint32          sizes,
                                 guint            n_sizes);
void        bw_html_label       (GString         *out,
                                 const char      *label,
                                 guint32          sizes,
                                 guint            n_sizes);
void        bw_html_classes     (GString         *out,
                                 const char      *always,
                                 guint32          sizes,
                                 guint            n_sizes);

/* bw-html-head.c */
void        bw_html_begin       (GString         *out,
                                 const BwDesign  *design,
                                 const BwEdition *edition,
                                 const char      *title,
                                 guint            n_sizes);
void        bw_html_end         (GString         *out);

/* bw-html-picture.c */
void        bw_html_picture     (GString         *out,
                                 const char      *id,
                                 const char      *alternative,
                                 double           width,
                                 double           height,
                                 BwHtmlDraw       draw,
                                 gpointer         data);

/* bw-html-hats.c */
void        bw_html_cover       (GString         *out,
                                 const BwGrading *grading,
                                 const BwEdition *edition);
void        bw_html_hats        (GString         *out,
                                 const BwGrading *grading);

/* bw-html-figures.c */
void        bw_html_schematic   (GString         *out,
                                 const BwGrading *grading,
                                 const BwEdition *edition);
void        bw_html_charts      (GString         *out,
                                 const BwGrading *grading,
                                 const BwEdition *edition);

/* bw-html-table.c */
void        bw_html_size_table  (GString         *out,
                                 const BwGrading *grading);
void        bw_html_yarn_table  (GString         *out,
                                 const BwGrading *grading);

/* bw-html-style.c */
void        bw_html_style       (GString         *out,
                                 guint            n_sizes);

G_END_DECLS
