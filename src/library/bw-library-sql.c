#define G_LOG_DOMAIN "bw-library"

#include "bw-library-private.h"

/* Prepared statements, transactions and nothing else. */

static gboolean
fail (BwLibrary  *library,
      GError    **error)
{
  bw_library_set_error (error, library->db, sqlite3_extended_errcode (library->db), library->path);

  return FALSE;
}

/* To its end, whatever rows it gives. */
static gboolean
run_one (BwLibrary     *library,
         sqlite3_stmt  *statement,
         GError       **error)
{
  gboolean ok;
  int rc;

  do
    rc = sqlite3_step (statement);
  while (rc == SQLITE_ROW);

  /* before it is finalized, which forgets what went wrong */
  ok = rc == SQLITE_DONE || fail (library, error);
  sqlite3_finalize (statement);

  return ok;
}

/*
 * bw_sql_run:
 *
 * Runs one or more statements of our own without parameters, each prepared,
 * stepped to its end and forgotten: pragmas, migrations.
 */
gboolean
bw_sql_run (BwLibrary   *library,
            const char  *sql,
            GError     **error)
{
  while (*sql != '\0')
    {
      sqlite3_stmt *statement = NULL;

      if (sqlite3_prepare_v2 (library->db, sql, -1, &statement, &sql) != SQLITE_OK)
        return fail (library, error);

      /* NULL: white space or a comment */
      if (statement != NULL && !run_one (library, statement, error))
        return FALSE;
    }

  return TRUE;
}

/*
 * bw_sql_prepare:
 *
 * Returns: (transfer none) (nullable): the statement for @sql, prepared at its
 * first use and kept until the library is closed; NULL on failure
 */
sqlite3_stmt *
bw_sql_prepare (BwLibrary   *library,
                const char  *sql,
                GError     **error)
{
  sqlite3_stmt *statement = g_hash_table_lookup (library->statements, sql);

  if (statement != NULL)
    {
      sqlite3_reset (statement);
      return statement;
    }

  if (sqlite3_prepare_v3 (library->db, sql, -1, SQLITE_PREPARE_PERSISTENT, &statement,
                          NULL) != SQLITE_OK)
    {
      bw_library_set_error (error, library->db, sqlite3_extended_errcode (library->db),
                            library->path);
      return NULL;
    }

  g_hash_table_insert (library->statements, g_strdup (sql), statement);

  return statement;
}

static int
bind_one (sqlite3_stmt *statement,
          int           index,
          char          type,
          va_list      *args)
{
  switch (type)
    {
    case 'i':
      return sqlite3_bind_int (statement, index, va_arg (*args, int));
    case 'l':
      return sqlite3_bind_int64 (statement, index, va_arg (*args, gint64));
    case 'd':
      return sqlite3_bind_double (statement, index, va_arg (*args, double));
    case 's':
      return sqlite3_bind_text (statement, index, va_arg (*args, const char *), -1,
                                SQLITE_TRANSIENT);
    case 'b':
      {
        gconstpointer bytes = va_arg (*args, gconstpointer);
        gsize length = va_arg (*args, gsize);

        return sqlite3_bind_blob64 (statement, index, bytes, length, SQLITE_TRANSIENT);
      }
    case 'n':
      return sqlite3_bind_null (statement, index);
    default:
      g_assert_not_reached ();
    }
}

static sqlite3_stmt *
start_va (BwLibrary   *library,
          GError     **error,
          const char  *sql,
          const char  *types,
          va_list     *args)
{
  sqlite3_stmt *statement = bw_sql_prepare (library, sql, error);

  if (statement == NULL)
    return NULL;

  g_assert ((int) strlen (types) == sqlite3_bind_parameter_count (statement));

  for (int i = 0; types[i] != '\0'; i++)
    if (bind_one (statement, i + 1, types[i], args) != SQLITE_OK)
      {
        bw_library_set_error (error, library->db, sqlite3_extended_errcode (library->db),
                              library->path);
        return NULL;
      }

  return statement;
}

/*
 * bw_sql_start:
 *
 * Returns: (transfer none) (nullable): the statement with its parameters bound,
 * ready to be stepped; NULL on failure
 */
sqlite3_stmt *
bw_sql_start (BwLibrary   *library,
              GError     **error,
              const char  *sql,
              const char  *types,
              ...)
{
  sqlite3_stmt *statement;
  va_list args;

  va_start (args, types);
  statement = start_va (library, error, sql, types, &args);
  va_end (args);

  return statement;
}

/*
 * bw_sql_step:
 *
 * The end, and a failure, reset the statement, so that no read transaction is
 * held open by a forgotten one.
 */
BwStep
bw_sql_step (BwLibrary     *library,
             sqlite3_stmt  *statement,
             GError       **error)
{
  int rc = sqlite3_step (statement);

  if (rc == SQLITE_ROW)
    return BW_STEP_ROW;

  if (rc == SQLITE_DONE)
    {
      sqlite3_reset (statement);
      return BW_STEP_DONE;
    }

  bw_library_set_error (error, library->db, sqlite3_extended_errcode (library->db), library->path);
  sqlite3_reset (statement);

  return BW_STEP_FAILED;
}

/*
 * bw_sql_finish:
 *
 * Steps a statement that gives no rows.
 */
gboolean
bw_sql_finish (BwLibrary     *library,
               sqlite3_stmt  *statement,
               GError       **error)
{
  BwStep step = bw_sql_step (library, statement, error);

  if (step == BW_STEP_ROW)
    sqlite3_reset (statement);

  return step != BW_STEP_FAILED;
}

/*
 * bw_sql_done:
 *
 * Leaves a statement before its last row.
 */
void
bw_sql_done (sqlite3_stmt *statement)
{
  sqlite3_reset (statement);
}

/*
 * bw_sql_do:
 *
 * Binds and runs a statement that gives no rows.
 */
gboolean
bw_sql_do (BwLibrary   *library,
           GError     **error,
           const char  *sql,
           const char  *types,
           ...)
{
  sqlite3_stmt *statement;
  va_list args;

  va_start (args, types);
  statement = start_va (library, error, sql, types, &args);
  va_end (args);

  return statement != NULL && bw_sql_finish (library, statement, error);
}

/*
 * bw_sql_get_int:
 * @value: (out): first column of the first row; 0 where it is NULL
 *
 * Fails with BW_LIBRARY_ERROR_MISSING where there is no row.
 */
gboolean
bw_sql_get_int (BwLibrary   *library,
                gint64      *value,
                GError     **error,
                const char  *sql,
                const char  *types,
                ...)
{
  sqlite3_stmt *statement;
  va_list args;
  BwStep step;

  va_start (args, types);
  statement = start_va (library, error, sql, types, &args);
  va_end (args);

  if (statement == NULL)
    return FALSE;

  step = bw_sql_step (library, statement, error);
  if (step == BW_STEP_ROW)
    {
      *value = sqlite3_column_int64 (statement, 0);
      sqlite3_reset (statement);
      return TRUE;
    }

  if (step == BW_STEP_DONE)
    g_set_error (error, BW_LIBRARY_ERROR, BW_LIBRARY_ERROR_MISSING,
                 "it is not in the library; list what is there");

  return FALSE;
}

/*
 * bw_sql_dup_text:
 *
 * Returns: (transfer full) (nullable): a text column; NULL where it is NULL
 */
char *
bw_sql_dup_text (sqlite3_stmt *statement,
                 int           column)
{
  return g_strdup ((const char *) sqlite3_column_text (statement, column));
}

/*
 * bw_library_begin:
 *
 * Starts a transaction that writes, and waits for another writer to end first.
 */
gboolean
bw_library_begin (BwLibrary  *library,
                  GError    **error)
{
  if (library->read_only)
    {
      g_set_error (error, BW_LIBRARY_ERROR, BW_LIBRARY_ERROR_READ_ONLY,
                   "%s: the library can be read but not changed; copy it to a place where you may"
                   " write",
                   library->path);
      return FALSE;
    }

  return bw_sql_do (library, error, "BEGIN IMMEDIATE", "");
}

/*
 * bw_library_begin_read:
 *
 * Starts a transaction in which everything that is read is of one moment.
 */
gboolean
bw_library_begin_read (BwLibrary  *library,
                       GError    **error)
{
  return bw_sql_do (library, error, "BEGIN", "");
}

/*
 * bw_library_end:
 * @ok: whether all went well so far; then @error is not set yet
 *
 * Commits, or rolls back, keeping the error that is already there.
 *
 * Returns: %TRUE if the transaction is committed
 */
gboolean
bw_library_end (BwLibrary  *library,
                gboolean    ok,
                GError    **error)
{
  if (ok && bw_sql_do (library, error, "COMMIT", ""))
    return TRUE;

  if (!sqlite3_get_autocommit (library->db))
    bw_sql_do (library, NULL, "ROLLBACK", "");

  return FALSE;
}

/*
 * bw_library_now:
 *
 * Returns: seconds since 1970
 */
gint64
bw_library_now (void)
{
  return g_get_real_time () / G_USEC_PER_SEC;
}
