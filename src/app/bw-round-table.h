#pragma once

#include <gtk/gtk.h>

#include "bw-document.h"
#include "bw-round-model.h"

G_BEGIN_DECLS

#define BW_TYPE_ROUND_TABLE (bw_round_table_get_type ())
G_DECLARE_FINAL_TYPE (BwRoundTable, bw_round_table, BW, ROUND_TABLE, GtkWidget)

void          bw_round_table_set_document (BwRoundTable *self,
                                           BwDocument   *document,
                                           GSettings    *settings);
BwRoundModel *bw_round_table_get_model    (BwRoundTable *self);

G_END_DECLS
