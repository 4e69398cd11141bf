#pragma once

#include <gtk/gtk.h>

#include "bw-document.h"
#include "bw-field-row.h"

G_BEGIN_DECLS

#define BW_TYPE_FORM (bw_form_get_type ())
G_DECLARE_FINAL_TYPE (BwForm, bw_form, BW, FORM, GtkWidget)

void        bw_form_set_document (BwForm     *self,
                                  BwDocument *document);
BwFieldRow *bw_form_find_row     (BwForm     *self,
                                  const char *field);

G_END_DECLS
