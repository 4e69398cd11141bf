#define G_LOG_DOMAIN "bw-library"

#include "bw-library-rows.h"

/* ---- SQL made of a table's description ---------------------------------- */

/*
 * bw_table_n_keys:
 *
 * Returns: how many keys a row of @table has
 */
guint
bw_table_n_keys (const BwRowTable *table)
{
  guint n = 0;

  while (table->keys[n] != NULL)
    n++;

  return n;
}

static void
append_columns (GString       *sql,
                const BwRowTable *table,
                const char    *prefix)
{
  for (gsize i = 0; i < table->n_fields; i++)
    g_string_append_printf (sql, "%s%s%s", i > 0 ? ", " : "", prefix, table->fields[i].column);
}

static void
append_keys (GString       *sql,
             const BwRowTable *table,
             guint          from,
             guint          to,
             const char    *each,
             const char    *between)
{
  for (guint i = from; i < to; i++)
    g_string_append_printf (sql, "%s%s%s", i > from ? between : "", table->keys[i], each);
}

/* Updates only what differs, so that an unchanged row costs no page, no trigger
 * and no place in the undo history. */
static char *
upsert_sql (const BwRowTable *table)
{
  GString *sql = g_string_new (NULL);
  guint n_keys = bw_table_n_keys (table);

  g_string_append_printf (sql, "INSERT INTO %s (", table->name);
  append_keys (sql, table, 0, n_keys, "", ", ");
  g_string_append (sql, ", ");
  append_columns (sql, table, "");
  g_string_append (sql, ") VALUES (?");
  for (gsize i = 1; i < n_keys + table->n_fields; i++)
    g_string_append (sql, ", ?");
  g_string_append (sql, ") ON CONFLICT (");
  append_keys (sql, table, 0, n_keys, "", ", ");
  g_string_append (sql, ") DO UPDATE SET ");
  for (gsize i = 0; i < table->n_fields; i++)
    g_string_append_printf (sql, "%s%s = excluded.%s", i > 0 ? ", " : "", table->fields[i].column,
                            table->fields[i].column);
  g_string_append (sql, " WHERE (");
  append_columns (sql, table, "");
  g_string_append (sql, ") IS NOT (");
  append_columns (sql, table, "excluded.");
  g_string_append_c (sql, ')');

  return g_string_free (sql, FALSE);
}

static char *
trim_sql (const BwRowTable *table)
{
  GString *sql = g_string_new (NULL);
  guint n_keys = bw_table_n_keys (table);

  g_string_append_printf (sql, "DELETE FROM %s WHERE ", table->name);
  append_keys (sql, table, 0, n_keys - 1, " = ?", " AND ");
  g_string_append_printf (sql, "%s%s >= ?", n_keys > 1 ? " AND " : "", table->keys[n_keys - 1]);

  return g_string_free (sql, FALSE);
}

static char *
select_sql (const BwRowTable *table)
{
  GString *sql = g_string_new ("SELECT ");
  guint n_keys = bw_table_n_keys (table);

  append_keys (sql, table, 1, n_keys, ", ", "");
  append_columns (sql, table, "");
  g_string_append_printf (sql, " FROM %s WHERE %s = ?", table->name, table->keys[0]);
  if (n_keys > 1)
    {
      g_string_append (sql, " ORDER BY ");
      append_keys (sql, table, 1, n_keys, "", ", ");
    }

  return g_string_free (sql, FALSE);
}

/* A short name stands for the long text in the library's cache, so that the
 * text is put together once. */
static sqlite3_stmt *
table_statement (BwLibrary      *library,
                 const BwRowTable  *table,
                 char          *(*make_sql) (const BwRowTable *),
                 GError        **error)
{
  char name[80];
  g_autofree char *sql = NULL;
  sqlite3_stmt *statement;

  g_snprintf (name, sizeof name, "%s/%s",
              make_sql == upsert_sql ? "save" : make_sql == trim_sql ? "trim" : "load",
              table->name);
  statement = g_hash_table_lookup (library->statements, name);
  if (statement != NULL)
    {
      sqlite3_reset (statement);
      return statement;
    }

  sql = make_sql (table);
  if (sqlite3_prepare_v3 (library->db, sql, -1, SQLITE_PREPARE_PERSISTENT, &statement,
                          NULL) != SQLITE_OK)
    {
      bw_library_set_error (error, library->db, sqlite3_extended_errcode (library->db),
                            library->path);
      return NULL;
    }
  g_hash_table_insert (library->statements, g_strdup (name), statement);

  return statement;
}

/* ---- fields ------------------------------------------------------------- */

static int
bind_field (sqlite3_stmt  *statement,
            int            index,
            const BwRowField *field,
            gconstpointer  row)
{
  gconstpointer at = (const char *) row + field->offset;

  switch (field->kind)
    {
    case BW_ROW_TEXT:
    case BW_ROW_TEXT_NULL:
      return sqlite3_bind_text (statement, index, *(const char *const *) at, -1, SQLITE_STATIC);
    case BW_ROW_REAL:
      return sqlite3_bind_double (statement, index, *(const double *) at);
    case BW_ROW_INT:
      return sqlite3_bind_int (statement, index, *(const int *) at);
    case BW_ROW_UINT:
      return sqlite3_bind_int64 (statement, index, *(const guint *) at);
    case BW_ROW_SHORT:
      return sqlite3_bind_int (statement, index, *(const guint16 *) at);
    case BW_ROW_BYTE:
      return sqlite3_bind_int (statement, index, *(const guint8 *) at);
    case BW_ROW_WORD:
      {
        guint value = *(const guint *) at;
        gboolean known = value < g_strv_length ((char **) field->words);

        /* a word beyond the list is NULL, which the table refuses */
        return sqlite3_bind_text (statement, index, known ? field->words[value] : NULL, -1,
                                  SQLITE_STATIC);
      }
    default:
      g_assert_not_reached ();
    }
}

static gboolean
load_word (BwLibrary      *library,
           const BwRowField  *field,
           const char     *word,
           guint          *value,
           GError        **error)
{
  for (guint i = 0; field->words[i] != NULL; i++)
    if (g_strcmp0 (field->words[i], word) == 0)
      {
        *value = i;
        return TRUE;
      }

  g_set_error (error, BW_LIBRARY_ERROR, BW_LIBRARY_ERROR_CORRUPT,
               "%s: \"%s\" is no %s; restore a backup", library->path, word != NULL ? word : "",
               field->column);
  return FALSE;
}

static gboolean
load_field (BwLibrary      *library,
            const BwRowField  *field,
            sqlite3_stmt   *statement,
            int             column,
            gpointer        row,
            GError        **error)
{
  gpointer at = (char *) row + field->offset;

  switch (field->kind)
    {
    case BW_ROW_TEXT:
      *(char **) at = bw_sql_dup_text (statement, column);
      if (*(char **) at == NULL)
        *(char **) at = g_strdup ("");
      return TRUE;
    case BW_ROW_TEXT_NULL:
      *(char **) at = bw_sql_dup_text (statement, column);
      return TRUE;
    case BW_ROW_REAL:
      *(double *) at = sqlite3_column_double (statement, column);
      return TRUE;
    case BW_ROW_INT:
      *(int *) at = sqlite3_column_int (statement, column);
      return TRUE;
    case BW_ROW_UINT:
      *(guint *) at = (guint) sqlite3_column_int64 (statement, column);
      return TRUE;
    case BW_ROW_SHORT:
      *(guint16 *) at = (guint16) sqlite3_column_int (statement, column);
      return TRUE;
    case BW_ROW_BYTE:
      *(guint8 *) at = (guint8) sqlite3_column_int (statement, column);
      return TRUE;
    case BW_ROW_WORD:
      return load_word (library, field, (const char *) sqlite3_column_text (statement, column), at,
                        error);
    default:
      g_assert_not_reached ();
    }
}

/* ---- rows --------------------------------------------------------------- */

gboolean
bw_row_save (BwLibrary      *library,
             const BwRowTable  *table,
             const gint64   *keys,
             gconstpointer   row,
             GError        **error)
{
  sqlite3_stmt *statement = table_statement (library, table, upsert_sql, error);
  guint n_keys = bw_table_n_keys (table);
  int rc = SQLITE_OK;
  gboolean ok;

  if (statement == NULL)
    return FALSE;

  for (guint i = 0; i < n_keys && rc == SQLITE_OK; i++)
    rc = sqlite3_bind_int64 (statement, (int) i + 1, keys[i]);
  for (gsize i = 0; i < table->n_fields && rc == SQLITE_OK; i++)
    rc = bind_field (statement, (int) (n_keys + i) + 1, &table->fields[i], row);
  if (rc != SQLITE_OK)
    {
      bw_library_set_error (error, library->db, rc, library->path);
      return FALSE;
    }

  ok = bw_sql_finish (library, statement, error);

  /* the strings were bound where they are; they may be gone at the next use */
  sqlite3_clear_bindings (statement);

  return ok;
}

gboolean
bw_rows_trim (BwLibrary      *library,
              const BwRowTable  *table,
              const gint64   *keys,
              gint64          from,
              GError        **error)
{
  sqlite3_stmt *statement = table_statement (library, table, trim_sql, error);
  guint n_keys = bw_table_n_keys (table);

  if (statement == NULL)
    return FALSE;

  for (guint i = 0; i + 1 < n_keys; i++)
    sqlite3_bind_int64 (statement, (int) i + 1, keys[i]);
  sqlite3_bind_int64 (statement, (int) n_keys, from);

  return bw_sql_finish (library, statement, error);
}

sqlite3_stmt *
bw_rows_select (BwLibrary      *library,
                const BwRowTable  *table,
                gint64          key,
                GError        **error)
{
  sqlite3_stmt *statement = table_statement (library, table, select_sql, error);

  if (statement != NULL)
    sqlite3_bind_int64 (statement, 1, key);

  return statement;
}

gboolean
bw_row_load (BwLibrary      *library,
             const BwRowTable  *table,
             sqlite3_stmt   *statement,
             gpointer        row,
             GError        **error)
{
  guint n_keys = bw_table_n_keys (table);
  gboolean ok = TRUE;

  for (gsize i = 0; i < table->n_fields; i++)
    ok = load_field (library, &table->fields[i], statement, (int) (n_keys - 1 + i), row,
                     ok ? error : NULL) && ok;

  return ok;
}
