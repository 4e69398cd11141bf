#pragma once

#include <glib.h>
#include <sqlite3.h>

/* Every table's rows, by SQLite alone; what is not exchanged left out. */

static inline guint
dump_table (sqlite3    *db,
            const char *table,
            const char *columns,
            GString    *text)
{
  g_autofree char *sql = g_strdup_printf ("SELECT %s FROM \"%s\" ORDER BY 1", columns, table);
  sqlite3_stmt *rows = NULL;
  guint n = 0;

  g_string_append_printf (text, "== %s\n", table);
  g_assert_cmpint (sqlite3_prepare_v2 (db, sql, -1, &rows, NULL), ==, SQLITE_OK);
  while (sqlite3_step (rows) == SQLITE_ROW && ++n)
    g_string_append_printf (text, "%s\n", sqlite3_column_text (rows, 0));
  sqlite3_finalize (rows);
  if (n == 0)
    g_test_message ("nothing in %s", table);

  return n;
}

/* @n_tables: how many have rows */
static inline char *
dump_library (const char *path,
              guint      *n_tables)
{
  static const char tables_sql[] =
    "SELECT t.name, (SELECT group_concat ('quote (' || name || ')', '||'',''||')"
    " FROM pragma_table_info (t.name) WHERE name <> 'undo_step')"
    " FROM pragma_table_list t WHERE type = 'table' AND schema = 'main'"
    " AND t.name NOT LIKE 'sqlite%'"
    " AND t.name NOT IN ('undo_step', 'design_thumbnail') ORDER BY 1";
  GString *text = g_string_new (NULL);
  sqlite3 *db = NULL;
  sqlite3_stmt *tables = NULL;

  *n_tables = 0;
  g_assert_cmpint (sqlite3_open (path, &db), ==, SQLITE_OK);
  g_assert_cmpint (sqlite3_prepare_v2 (db, tables_sql, -1, &tables, NULL), ==, SQLITE_OK);
  while (sqlite3_step (tables) == SQLITE_ROW)
    *n_tables += dump_table (db, (const char *) sqlite3_column_text (tables, 0),
                             (const char *) sqlite3_column_text (tables, 1), text) > 0;
  sqlite3_finalize (tables);
  sqlite3_close (db);

  return g_string_free (text, FALSE);
}
