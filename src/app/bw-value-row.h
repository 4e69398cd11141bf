#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* A labelled entry with room under it for what is wrong. It keeps what was
 * typed; "typed" tells of each change that a person makes, "entered" of Enter. */
#define BW_TYPE_VALUE_ROW (bw_value_row_get_type ())
G_DECLARE_FINAL_TYPE (BwValueRow, bw_value_row, BW, VALUE_ROW, GtkWidget)

GtkWidget  *bw_value_row_new       (const char *label);
const char *bw_value_row_get_text  (BwValueRow *self);
void        bw_value_row_set_text  (BwValueRow *self,
                                    const char *text);
void        bw_value_row_set_error (BwValueRow *self,
                                    const char *message);
GtkWidget  *bw_value_row_get_entry (BwValueRow *self);

G_END_DECLS
