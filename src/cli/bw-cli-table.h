#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* A table for the terminal: cells of text, set in columns as wide as their
 * widest cell. The first rows may be headings. */
typedef struct _BwCliTable BwCliTable;

BwCliTable *bw_cli_table_new      (guint             n_columns,
                                   guint             n_left) G_GNUC_WARN_UNUSED_RESULT;
void        bw_cli_table_free     (BwCliTable       *table);
void        bw_cli_table_tighten  (BwCliTable       *table,
                                   guint             column);
void        bw_cli_table_take     (BwCliTable       *table,
                                   char             *cell);
void        bw_cli_table_add      (BwCliTable       *table,
                                   const char       *cell);
void        bw_cli_table_print    (const BwCliTable *table,
                                   GString          *out);
guint       bw_cli_text_width     (const char       *text);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (BwCliTable, bw_cli_table_free)

G_END_DECLS
