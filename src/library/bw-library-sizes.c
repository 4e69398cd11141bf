#define G_LOG_DOMAIN "bw-library"

#include "bw-library-private.h"
#include "bw-library-sizes.h"

/* By BwStatus. */
static const char *const status_words[] = { "unsaid", "read", "secondary", "derived", "memory" };

static BwStatus
status_of (sqlite3_stmt *statement,
           int           column)
{
  for (guint i = 0; i < G_N_ELEMENTS (status_words); i++)
    if (g_strcmp0 (status_words[i], (const char *) sqlite3_column_text (statement, column)) == 0)
      return (BwStatus) i;

  return BW_STATUS_UNSAID;
}

static gboolean
write_sizes (BwLibrary          *library,
             const BwSizeTable  *table,
             GError            **error)
{
  if (!bw_sql_do (library, error, "DELETE FROM size_table_size WHERE size_table = ?", "s",
                  table->id))
    return FALSE;

  for (guint i = 0; i < table->sizes->len; i++)
    {
      const BwSize *size = g_ptr_array_index (table->sizes, i);

      if (!bw_sql_do (library, error,
                      "INSERT INTO size_table_size (size_table, place, size, name, head_mm,"
                      " depth_mm, months_from,"
                      " source, status) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)",
                      "sissddiss", table->id, (int) i, size->id,
                      size->name != NULL ? size->name : size->id,
                      size->head_mm, size->depth_mm, size->months_from, size->source,
                      status_words[size->status]))
        return FALSE;
    }

  return TRUE;
}

/**
 * bw_library_save_size_table:
 * @library: a library
 * @reference: the tables that are compiled in
 * @table: a table of the designer's own
 * @error: return location; BW_LIBRARY_ERROR_EXISTS where @reference has the id
 *
 * Saves a size table, in the place of one of the same id.
 *
 * Returns: %TRUE if it is on disk
 */
gboolean
bw_library_save_size_table (BwLibrary          *library,
                            const BwReference  *reference,
                            const BwSizeTable  *table,
                            GError            **error)
{
  gboolean ok;

  g_return_val_if_fail (library != NULL && reference != NULL && table != NULL, FALSE);

  if (bw_reference_size_table (reference, table->id) != NULL)
    {
      g_set_error (error, BW_LIBRARY_ERROR, BW_LIBRARY_ERROR_EXISTS,
                   "the size table \"%s\" comes with the program and is not changed; give yours"
                   " another id", table->id);
      return FALSE;
    }

  if (!bw_library_begin (library, error))
    return FALSE;

  ok = bw_sql_do (library, error,
                  "INSERT INTO size_table (id, name, source, status) VALUES (?, ?, ?, ?)"
                  " ON CONFLICT (id) DO UPDATE"
                  " SET name = excluded.name, source = excluded.source, status = excluded.status",
                  "ssss", table->id, table->name != NULL ? table->name : table->id,
                  table->source != NULL ? table->source : "", status_words[table->status]) &&
       write_sizes (library, table, error);

  return bw_library_end (library, ok, error);
}

static gboolean
load_sizes (BwLibrary    *library,
            BwSizeTable  *table,
            GError      **error)
{
  sqlite3_stmt *statement = bw_sql_start (library, error,
                                          "SELECT size, name, head_mm, depth_mm, months_from,"
                                          " source, status"
                                          " FROM size_table_size WHERE size_table = ?"
                                          " ORDER BY place",
                                          "s", table->id);
  BwStep step;

  if (statement == NULL)
    return FALSE;

  while ((step = bw_sql_step (library, statement, error)) == BW_STEP_ROW)
    {
      BwSize *size = bw_size_new ((const char *) sqlite3_column_text (statement, 0),
                                  (const char *) sqlite3_column_text (statement, 1),
                                  sqlite3_column_double (statement, 2),
                                  sqlite3_column_double (statement, 3));

      size->months_from = sqlite3_column_int (statement, 4);
      g_free (size->source);
      size->source = bw_sql_dup_text (statement, 5);
      size->status = status_of (statement, 6);
      g_ptr_array_add (table->sizes, size);
    }

  return step == BW_STEP_DONE;
}

/**
 * bw_library_get_size_tables:
 * @library: a library
 * @error: return location
 *
 * Returns: (transfer full) (element-type BwSizeTable) (nullable): the
 * designer's own tables, by name
 */
GPtrArray *
bw_library_get_size_tables (BwLibrary  *library,
                            GError    **error)
{
  g_autoptr (GPtrArray) tables =
    g_ptr_array_new_with_free_func ((GDestroyNotify) bw_size_table_free);
  sqlite3_stmt *statement;
  BwStep step;

  g_return_val_if_fail (library != NULL, NULL);

  statement = bw_sql_start (library, error,
                            "SELECT id, name, source, status FROM size_table"
                            " ORDER BY name COLLATE NOCASE, id",
                            "");
  if (statement == NULL)
    return NULL;

  while ((step = bw_sql_step (library, statement, error)) == BW_STEP_ROW)
    {
      BwSizeTable *table = g_new0 (BwSizeTable, 1);

      table->id = bw_sql_dup_text (statement, 0);
      table->name = bw_sql_dup_text (statement, 1);
      table->source = bw_sql_dup_text (statement, 2);
      table->status = status_of (statement, 3);
      table->sizes = g_ptr_array_new_with_free_func ((GDestroyNotify) bw_size_free);
      g_ptr_array_add (tables, table);
    }
  if (step == BW_STEP_FAILED)
    return NULL;

  for (guint i = 0; i < tables->len; i++)
    if (!load_sizes (library, g_ptr_array_index (tables, i), error))
      return NULL;

  return g_steal_pointer (&tables);
}

/**
 * bw_library_use_size_tables:
 * @library: a library
 * @reference: tables, to which the designer's own are added
 * @error: return location
 *
 * Lets designs name the designer's own size tables. One whose id is there
 * already is left out. To be done before a design is read.
 *
 * Returns: %TRUE if @reference has them
 */
gboolean
bw_library_use_size_tables (BwLibrary    *library,
                            BwReference  *reference,
                            GError      **error)
{
  g_autoptr (GPtrArray) tables = NULL;

  g_return_val_if_fail (library != NULL && reference != NULL, FALSE);

  tables = bw_library_get_size_tables (library, error);
  if (tables == NULL)
    return FALSE;

  while (tables->len > 0)
    {
      BwSizeTable *table = g_ptr_array_steal_index (tables, 0);

      if (bw_reference_size_table (reference, table->id) == NULL)
        g_ptr_array_add (reference->size_tables, table);
      else
        bw_size_table_free (table);
    }

  return TRUE;
}

/**
 * bw_library_remove_size_table:
 * @library: a library
 * @id: one of the designer's own tables
 * @error: return location
 *
 * Removes a size table; designs keep the sizes that they took from it.
 *
 * Returns: %TRUE if it is gone
 */
gboolean
bw_library_remove_size_table (BwLibrary   *library,
                              const char  *id,
                              GError     **error)
{
  gboolean ok;

  g_return_val_if_fail (library != NULL && id != NULL, FALSE);

  if (!bw_library_begin (library, error))
    return FALSE;

  ok = bw_sql_do (library, error, "DELETE FROM size_table WHERE id = ?", "s", id);
  if (ok && sqlite3_changes (library->db) == 0)
    {
      g_set_error (error, BW_LIBRARY_ERROR, BW_LIBRARY_ERROR_MISSING,
                   "the library has no size table \"%s\"; list what there is", id);
      ok = FALSE;
    }

  return bw_library_end (library, ok, error);
}
