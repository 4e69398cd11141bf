#pragma once

#include <cairo.h>

#include "bw-edition.h"

G_BEGIN_DECLS

/* An edition set in pages. They are the same wherever they are drawn: in a PDF,
 * on a printer, as a preview in a window. Holds all it needs; once made it is not
 * changed. */

typedef struct _BwPages BwPages;

BwPages         *bw_pages_new     (const BwGrading *grading,
                                   const BwEdition *edition) G_GNUC_WARN_UNUSED_RESULT;
void             bw_pages_free    (BwPages         *pages);
guint            bw_pages_n       (const BwPages   *pages);
void             bw_pages_size    (const BwPages   *pages,
                                   double          *width,
                                   double          *height);
void             bw_pages_draw    (const BwPages   *pages,
                                   guint            n,
                                   cairo_t         *cr);
const GPtrArray *bw_pages_remarks (const BwPages   *pages);
const char      *bw_pages_title   (const BwPages   *pages);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (BwPages, bw_pages_free)

G_END_DECLS
