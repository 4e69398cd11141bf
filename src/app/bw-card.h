#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

#define BW_TYPE_CARD (bw_card_get_type ())
G_DECLARE_FINAL_TYPE (BwCard, bw_card, BW, CARD, GtkWidget)

GtkWidget *bw_card_new    (void);
void       bw_card_append (BwCard    *self,
                           GtkWidget *child);

G_END_DECLS
