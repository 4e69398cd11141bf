#include "told.h"

#include <sqlite3.h>

GString *told;

static int
trace_cb (unsigned  kind,
          void     *data,
          void     *statement,
          void     *text)
{
  char *sql;

  (void) kind;
  (void) data;

  /* what triggers and the search index do inside begins with a comment */
  if (told == NULL || g_str_has_prefix (text, "--"))
    return 0;

  sql = sqlite3_expanded_sql (statement);
  g_string_append_printf (told, "%s;\n", sql);
  sqlite3_free (sql);

  return 0;
}

/* SQLite calls this for every connection that is opened. */
static int
listen_to (sqlite3     *db,
           const char **error,
           const void  *api)
{
  (void) error;
  (void) api;

  return sqlite3_trace_v2 (db, SQLITE_TRACE_STMT, trace_cb, NULL);
}

/* From now on every connection that is opened tells, or none does; what was told
 * is the caller's. */
void
listen_to_sqlite (gboolean on)
{
  void (*entry) (void) = (void (*) (void)) listen_to;

  if (on)
    {
      told = g_string_new (NULL);
      sqlite3_auto_extension (entry);
    }
  else
    {
      sqlite3_cancel_auto_extension (entry);
      told = NULL;
    }
}
