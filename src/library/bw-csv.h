#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* Tables as text: comma-separated values by RFC 4180, "Common Format and MIME
 * Type for CSV Files" (IETF), and what spreadsheets make of it: a byte order
 * mark, semicolons or tabs, any line ends. */

typedef struct
{
  guint      line;   /* of the file, from 1, on which the row begins */
  GPtrArray *cells;  /* of char *; NULL = nothing at all, "" = a quoted nothing */
} BwCsvRow;

GPtrArray *bw_csv_parse       (const char  *text,
                               gsize        length,
                               GError     **error) G_GNUC_WARN_UNUSED_RESULT;
const char *bw_csv_cell       (const BwCsvRow *row,
                               guint        column);
void       bw_csv_append_cell (GString     *out,
                               const char  *cell,
                               gboolean     last);

G_END_DECLS
