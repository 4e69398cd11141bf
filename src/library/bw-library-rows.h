#pragma once

#include "bw-library-private.h"

G_BEGIN_DECLS

/* A table's columns and the struct's fields that hold them, written down once
 * and used to save, to load and to compare. */

typedef enum
{
  BW_ROW_TEXT,      /* char *, owned; never NULL */
  BW_ROW_TEXT_NULL, /* char *, owned; may be NULL */
  BW_ROW_REAL,      /* double */
  BW_ROW_INT,       /* int */
  BW_ROW_UINT,      /* guint or guint32 */
  BW_ROW_SHORT,     /* guint16 */
  BW_ROW_BYTE,      /* guint8 */
  BW_ROW_WORD,      /* an enum (guint), stored as one of @words */
} BwRowFieldKind;

typedef struct
{
  const char        *column;
  BwRowFieldKind        kind;
  gsize              offset;
  const char *const *words; /* NULL-terminated, by the enum's value */
} BwRowField;

/* Rows are known by up to three keys, of which the last counts from 0. The SQL
 * is made of this table at its first use and kept by the library. */
typedef struct
{
  const char    *name;
  const char    *keys[4];  /* NULL-terminated; the last one is the place */
  const BwRowField *fields;
  gsize          n_fields;
} BwRowTable;

#define BW_ROW_FLAG BW_ROW_INT /* gboolean */

/* One row, whose keys are @keys (as many as the table has). Written only where
 * it differs from the row that is there. */
gboolean      bw_row_save    (BwLibrary     *library,
                              const BwRowTable *table,
                              const gint64  *keys,
                              gconstpointer  row,
                              GError       **error);

/* Deletes the rows of @keys (all but the last) whose place is @from or beyond. */
gboolean      bw_rows_trim   (BwLibrary     *library,
                              const BwRowTable *table,
                              const gint64  *keys,
                              gint64         from,
                              GError       **error);

/* All rows with the first key, in order of their keys; columns are the keys
 * after the first, then the fields. */
sqlite3_stmt *bw_rows_select (BwLibrary     *library,
                              const BwRowTable *table,
                              gint64         key,
                              GError       **error);
guint         bw_table_n_keys (const BwRowTable *table);

/* Reads the fields of the current row into @row, which owns nothing yet.
 * %FALSE where a word is unknown; then @row still may be cleared. */
gboolean      bw_row_load    (BwLibrary     *library,
                              const BwRowTable *table,
                              sqlite3_stmt  *statement,
                              gpointer       row,
                              GError       **error);

G_END_DECLS
