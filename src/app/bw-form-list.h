#pragma once

#include <gtk/gtk.h>

#include "bw-document.h"

G_BEGIN_DECLS

#define BW_TYPE_FORM_LIST (bw_form_list_get_type ())
G_DECLARE_FINAL_TYPE (BwFormList, bw_form_list, BW, FORM_LIST, GtkWidget)

void bw_form_list_set_document (BwFormList *self,
                                BwDocument *document);

G_END_DECLS
