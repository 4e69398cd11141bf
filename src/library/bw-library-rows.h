#pragma once

#include "bw-library-private.h"

G_BEGIN_DECLS

/* A table's columns and the struct's fields that hold them, written down once
 * and used to save, to load and to compare. */

typedef enum
{
  BW_FIELD_TEXT,      /* char *, owned; never NULL */
  BW_FIELD_TEXT_NULL, /* char *, owned; may be NULL */
  BW_FIELD_REAL,      /* double */
  BW_FIELD_INT,       /* int */
  BW_FIELD_UINT,      /* guint or guint32 */
  BW_FIELD_SHORT,     /* guint16 */
  BW_FIELD_BYTE,      /* guint8 */
  BW_FIELD_WORD,      /* an enum (guint), stored as one of @words */
} BwFieldKind;

typedef struct
{
  const char        *column;
  BwFieldKind        kind;
  gsize              offset;
  const char *const *words; /* NULL-terminated, by the enum's value */
} BwField;

/* Rows are known by up to three keys, of which the last counts from 0. The SQL
 * is made of this table at its first use and kept by the library. */
typedef struct
{
  const char    *name;
  const char    *keys[4];  /* NULL-terminated; the last one is the place */
  const BwField *fields;
  gsize          n_fields;
} BwTable;

#define BW_FIELD_FLAG BW_FIELD_INT /* gboolean */

/* One row, whose keys are @keys (as many as the table has). Written only where
 * it differs from the row that is there. */
gboolean      bw_row_save    (BwLibrary     *library,
                              const BwTable *table,
                              const gint64  *keys,
                              gconstpointer  row,
                              GError       **error);

/* Deletes the rows of @keys (all but the last) whose place is @from or beyond. */
gboolean      bw_rows_trim   (BwLibrary     *library,
                              const BwTable *table,
                              const gint64  *keys,
                              gint64         from,
                              GError       **error);

/* All rows with the first key, in order of their keys; columns are the keys
 * after the first, then the fields. */
sqlite3_stmt *bw_rows_select (BwLibrary     *library,
                              const BwTable *table,
                              gint64         key,
                              GError       **error);
guint         bw_table_n_keys (const BwTable *table);

/* Reads the fields of the current row into @row, which owns nothing yet.
 * %FALSE where a word is unknown; then @row still may be cleared. */
gboolean      bw_row_load    (BwLibrary     *library,
                              const BwTable *table,
                              sqlite3_stmt  *statement,
                              gpointer       row,
                              GError       **error);

G_END_DECLS
