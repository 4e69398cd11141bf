#pragma once

#include <gtk/gtk.h>

#include "bw-document.h"

G_BEGIN_DECLS

#define BW_TYPE_HATS (bw_hats_get_type ())
G_DECLARE_FINAL_TYPE (BwHats, bw_hats, BW, HATS, GtkWidget)

void     bw_hats_set_document (BwHats     *self,
                               BwDocument *document);
void     bw_hats_set_zoom     (BwHats     *self,
                               double      zoom);
double   bw_hats_get_zoom     (BwHats     *self);
gboolean bw_hats_find         (BwHats     *self,
                               double      x,
                               double      y,
                               guint      *size,
                               int        *round);
gboolean bw_hats_locate       (BwHats     *self,
                               int         round,
                               double     *x,
                               double     *y);

G_END_DECLS
