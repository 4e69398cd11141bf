#pragma once

#include <gtk/gtk.h>

#include "bw-document.h"

G_BEGIN_DECLS

#define BW_TYPE_FIELD_ROW (bw_field_row_get_type ())
G_DECLARE_FINAL_TYPE (BwFieldRow, bw_field_row, BW, FIELD_ROW, GtkWidget)

GtkWidget  *bw_field_row_new          (const char *field,
                                       const char *label);
void        bw_field_row_set_document (BwFieldRow *self,
                                       BwDocument *document);
const char *bw_field_row_get_field    (BwFieldRow *self);
const char *bw_field_row_get_error    (BwFieldRow *self);
GtkWidget  *bw_field_row_get_control  (BwFieldRow *self);
char       *bw_field_row_get_other_unit (BwFieldRow *self) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
