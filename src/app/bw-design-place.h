#pragma once

#include <gtk/gtk.h>

#include "bw-document.h"
#include "bw-form.h"
#include "bw-hats.h"
#include "bw-round-table.h"

G_BEGIN_DECLS

#define BW_TYPE_DESIGN_PLACE (bw_design_place_get_type ())
G_DECLARE_FINAL_TYPE (BwDesignPlace, bw_design_place, BW, DESIGN_PLACE, GtkWidget)

void          bw_design_place_set_document (BwDesignPlace *self,
                                            BwDocument    *document,
                                            GSettings     *settings);
void          bw_design_place_show_page    (BwDesignPlace *self,
                                            const char    *name);
gboolean      bw_design_place_is_folded    (BwDesignPlace *self);
BwForm       *bw_design_place_get_form     (BwDesignPlace *self);
BwHats       *bw_design_place_get_hats     (BwDesignPlace *self);
BwRoundTable *bw_design_place_get_table    (BwDesignPlace *self);

G_END_DECLS
