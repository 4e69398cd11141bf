#define G_LOG_DOMAIN "bw-library"

#include <errno.h>

#include <glib/gstdio.h>

#include "bw-csv.h"
#include "bw-design-file.h"
#include "bw-library-design.h"
#include "bw-library-exchange.h"
#include "bw-library-photo.h"
#include "bw-library-private.h"

/* In the order in which they can be filled: the search index wants a design
 * before its tags, and a revision is sealed by its own row. The undo history and
 * the small pictures stay behind. */
const char *const bw_library_table_names[] = {
  "yarn", "yarn_fibre", "yarn_lot", "swatch", "swatch_photo", "reading", "size_table",
  "size_table_size", "design", "design_head", "design_tag", "design_colour", "design_colourway",
  "design_colourway_colour", "design_swatch", "design_reading", "design_size",
  "design_crown_count", "design_band", "design_stripe", "design_crown_stripe", "design_wedge",
  "design_pin", "revision_round", "revision_size", "revision",
  NULL,
};

/* A table's column: what is written in its heading, and how its cells are read. */
typedef struct
{
  char *name;
  char *type; /* INTEGER, REAL, TEXT or BLOB */
} Column;

static void
column_free (Column *column)
{
  g_free (column->name);
  g_free (column->type);
  g_free (column);
}

/* Names are of our own schema, and still quoted. */
static GPtrArray *
columns_of (BwLibrary   *library,
            const char  *table,
            GError     **error)
{
  g_autoptr (GPtrArray) columns = g_ptr_array_new_with_free_func ((GDestroyNotify) column_free);
  sqlite3_stmt *statement = bw_sql_start (library, error,
                                          "SELECT name, type FROM pragma_table_info (?)"
                                          " WHERE name <> 'undo_step'", "s",
                                          table);
  BwStep step;

  if (statement == NULL)
    return NULL;

  while ((step = bw_sql_step (library, statement, error)) == BW_STEP_ROW)
    {
      Column *column = g_new0 (Column, 1);

      column->name = bw_sql_dup_text (statement, 0);
      column->type = bw_sql_dup_text (statement, 1);
      g_ptr_array_add (columns, column);
    }

  return step == BW_STEP_DONE ? g_steal_pointer (&columns) : NULL;
}

/* ---- out --------------------------------------------------------------------- */

static gboolean
write_file (const char  *folder,
            const char  *part,
            const char  *name,
            const char  *text,
            gsize        length,
            GError     **error)
{
  g_autofree char *inner = g_build_filename (folder, part, NULL);
  g_autofree char *path = g_build_filename (inner, name, NULL);

  if (g_mkdir_with_parents (inner, 0755) != 0)
    {
      g_set_error (error, BW_LIBRARY_ERROR, BW_LIBRARY_ERROR_ACCESS,
                   "%s: the folder cannot be made; choose another place (%s)", inner,
                   g_strerror (errno));
      return FALSE;
    }

  return g_file_set_contents (path, text, (gssize) length, error);
}

static char *
cell_text (sqlite3_stmt *statement,
           int           column)
{
  char number[G_ASCII_DTOSTR_BUF_SIZE];

  switch (sqlite3_column_type (statement, column))
    {
    case SQLITE_NULL:
      return NULL;
    case SQLITE_FLOAT:
      return g_strdup (g_ascii_dtostr (number, sizeof number,
                                       sqlite3_column_double (statement, column)));
    case SQLITE_BLOB:
      return g_base64_encode (sqlite3_column_blob (statement, column),
                              (gsize) sqlite3_column_bytes (statement, column));
    default:
      return bw_sql_dup_text (statement, column);
    }
}

static gboolean
append_rows (BwLibrary        *library,
             const char       *table,
             const GPtrArray  *columns,
             GString          *out,
             GError          **error)
{
  g_autoptr (GString) sql = g_string_new ("SELECT ");
  sqlite3_stmt *statement;
  BwStep step;

  for (guint i = 0; i < columns->len; i++)
    g_string_append_printf (sql, "%s\"%s\"", i > 0 ? ", " : "",
                            ((Column *) columns->pdata[i])->name);
  g_string_append_printf (sql, " FROM \"%s\" ORDER BY 1, 2", table);

  statement = bw_sql_start (library, error, sql->str, "");
  if (statement == NULL)
    return FALSE;

  while ((step = bw_sql_step (library, statement, error)) == BW_STEP_ROW)
    for (guint i = 0; i < columns->len; i++)
      {
        g_autofree char *cell = cell_text (statement, (int) i);

        bw_csv_append_cell (out, cell, i + 1 == columns->len);
      }

  return step == BW_STEP_DONE;
}

/* What can be read of a damaged table is written all the same. */
static gboolean
export_table (BwLibrary   *library,
              const char  *table,
              const char  *folder,
              GPtrArray   *problems,
              GError     **error)
{
  g_autoptr (GString) out = g_string_new (NULL);
  g_autoptr (GError) found = NULL;
  g_autoptr (GPtrArray) columns = columns_of (library, table, error);
  g_autofree char *name = g_strconcat (table, ".csv", NULL);

  if (columns == NULL)
    return FALSE;

  for (guint i = 0; i < columns->len; i++)
    bw_csv_append_cell (out, ((Column *) columns->pdata[i])->name, i + 1 == columns->len);
  if (!append_rows (library, table, columns, out, &found))
    g_ptr_array_add (problems, g_strdup_printf ("table %s: %s", table, found->message));

  return write_file (folder, "tables", name, out->str, out->len, error);
}

/* "3-lugger", for any name. */
static char *
file_stem (gint64      id,
           const char *name)
{
  g_autofree char *ascii = g_str_to_ascii (name, "C");
  GString *stem = g_string_new (NULL);

  g_string_printf (stem, "%" G_GINT64_FORMAT, id);
  for (const char *p = ascii; *p != '\0' && stem->len < 40; p++)
    if (g_ascii_isalnum (*p))
      g_string_append_printf (stem, "%s%c", p == ascii || !g_ascii_isalnum (p[-1]) ? "-" : "",
                              g_ascii_tolower (*p));

  return g_string_free (stem, FALSE);
}

static gboolean
export_design (BwLibrary          *library,
               const BwReference  *reference,
               gint64              id,
               const char         *folder,
               GPtrArray          *problems,
               GError            **error)
{
  g_autoptr (GError) found = NULL;
  g_autoptr (BwDesign) design = bw_library_load (library, id, NULL, &found);
  g_autofree char *stem = NULL;
  g_autofree char *name = NULL;
  g_autofree char *text = NULL;
  gsize length;

  if (design == NULL)
    {
      g_ptr_array_add (problems, g_strdup_printf ("design %" G_GINT64_FORMAT ": %s", id,
                                                  found->message));
      return TRUE;
    }

  stem = file_stem (id, design->name);
  name = g_strconcat (stem, ".hat", NULL);
  text = bw_design_to_text (reference, design, NULL, &length);

  return write_file (folder, "designs", name, text, length, error);
}

static gboolean
export_designs (BwLibrary          *library,
                const BwReference  *reference,
                const char         *folder,
                GPtrArray          *problems,
                GError            **error)
{
  g_autoptr (GArray) ids = g_array_new (FALSE, FALSE, sizeof (gint64));
  g_autoptr (GError) found = NULL;
  sqlite3_stmt *statement =
    bw_sql_start (library, error, "SELECT design FROM design_head ORDER BY design", "");
  BwStep step;

  if (statement == NULL)
    return FALSE;

  while ((step = bw_sql_step (library, statement, &found)) == BW_STEP_ROW)
    {
      gint64 id = sqlite3_column_int64 (statement, 0);

      g_array_append_val (ids, id);
    }
  if (step == BW_STEP_FAILED)
    g_ptr_array_add (problems, g_strdup_printf ("list of designs: %s", found->message));

  for (guint i = 0; i < ids->len; i++)
    if (!export_design (library, reference, g_array_index (ids, gint64, i), folder, problems,
                        error))
      return FALSE;

  return TRUE;
}

static gboolean
export_revisions (BwLibrary   *library,
                  const char  *folder,
                  GPtrArray   *problems,
                  GError     **error)
{
  g_autoptr (GError) found = NULL;
  sqlite3_stmt *statement = bw_sql_start (library, error,
                                          "SELECT design, number, name, design_text"
                                          " FROM revision ORDER BY 1, 2", "");
  BwStep step;

  if (statement == NULL)
    return FALSE;

  while ((step = bw_sql_step (library, statement, &found)) == BW_STEP_ROW)
    {
      g_autofree char *stem = file_stem (sqlite3_column_int64 (statement, 0),
                                         (const char *) sqlite3_column_text (statement, 2));
      g_autofree char *name = g_strdup_printf ("%s-%d.hat", stem,
                                               sqlite3_column_int (statement, 1));
      const char *text = (const char *) sqlite3_column_text (statement, 3);

      if (!write_file (folder, "revisions", name, text, strlen (text), error))
        {
          bw_sql_done (statement);
          return FALSE;
        }
    }
  if (step == BW_STEP_FAILED)
    g_ptr_array_add (problems, g_strdup_printf ("revisions: %s", found->message));

  return TRUE;
}

/* For people; the table of photographs has them, too. */
static gboolean
export_photos (BwLibrary   *library,
               const char  *folder,
               GPtrArray   *problems,
               GError     **error)
{
  g_autofree char *inner = g_build_filename (folder, "photographs", NULL);
  g_autoptr (GError) found = NULL;
  sqlite3_stmt *statement = bw_sql_start (library, error,
                                          "SELECT swatch, bytes FROM swatch_photo"
                                          " WHERE bytes IS NOT NULL ORDER BY swatch",
                                          "");
  BwStep step;

  if (statement == NULL)
    return FALSE;

  while ((step = bw_sql_step (library, statement, &found)) == BW_STEP_ROW)
    {
      g_autoptr (GBytes) photo = g_bytes_new (sqlite3_column_blob (statement, 1),
                                              (gsize) sqlite3_column_bytes (statement, 1));

      if (!bw_library_write_photo (sqlite3_column_int64 (statement, 0), photo, inner, error))
        {
          bw_sql_done (statement);
          return FALSE;
        }
    }
  if (step == BW_STEP_FAILED)
    g_ptr_array_add (problems, g_strdup_printf ("photographs: %s", found->message));

  return TRUE;
}

static gboolean
folder_is_free (const char  *folder,
                GError     **error)
{
  g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);

  if (dir == NULL || g_dir_read_name (dir) == NULL)
    return TRUE;

  g_set_error (error, BW_LIBRARY_ERROR, BW_LIBRARY_ERROR_EXISTS,
               "%s: the folder is not empty; name one that is, or is not there yet", folder);
  return FALSE;
}

/**
 * bw_library_export_all:
 * @library: a library, sound or damaged
 * @reference: the tables that are compiled in
 * @folder: an empty folder, or one that is not there yet
 * @problems: (element-type utf8): what could not be read of a damaged library is
 *   added here; the rest is written
 * @error: return location
 *
 * Writes everything but the undo history in open forms.
 *
 * Returns: %TRUE if all that can be read is written
 */
gboolean
bw_library_export_all (BwLibrary          *library,
                       const BwReference  *reference,
                       const char         *folder,
                       GPtrArray          *problems,
                       GError            **error)
{
  g_return_val_if_fail (library != NULL && reference != NULL && folder != NULL && problems != NULL,
                        FALSE);

  if (!folder_is_free (folder, error))
    return FALSE;

  for (gsize i = 0; bw_library_table_names[i] != NULL; i++)
    if (!export_table (library, bw_library_table_names[i], folder, problems, error))
      return FALSE;

  return export_designs (library, reference, folder, problems, error) &&
         export_revisions (library, folder, problems, error) &&
         export_photos (library, folder, problems, error);
}

/* ---- in ------------------------------------------------------------------------ */

static int
bind_cell (sqlite3_stmt *statement,
           int           index,
           const Column *column,
           const char   *cell)
{
  if (cell == NULL)
    return sqlite3_bind_null (statement, index);

  if (g_str_equal (column->type, "REAL"))
    return sqlite3_bind_double (statement, index, g_ascii_strtod (cell, NULL));

  if (g_str_equal (column->type, "BLOB"))
    {
      gsize length;
      guchar *bytes = g_base64_decode (cell, &length);

      return sqlite3_bind_blob64 (statement, index, bytes, length, g_free);
    }

  /* a strict table turns the text of a whole number into one, and refuses any other */
  return sqlite3_bind_text (statement, index, cell, -1, SQLITE_TRANSIENT);
}

/* The table's columns in the order of the file's headings; NULL, with an error,
 * where a heading is no column. */
static GPtrArray *
columns_by_heading (BwLibrary        *library,
                    const char       *table,
                    const BwCsvRow   *headings,
                    GError          **error)
{
  g_autoptr (GPtrArray) columns = columns_of (library, table, error);
  g_autoptr (GPtrArray) ordered = g_ptr_array_new_with_free_func ((GDestroyNotify) column_free);

  if (columns == NULL)
    return NULL;

  for (guint i = 0; i < headings->cells->len; i++)
    {
      guint at = 0;

      while (at < columns->len && g_strcmp0 (((Column *) columns->pdata[at])->name,
                                             bw_csv_cell (headings, i)) != 0)
        at++;
      if (at == columns->len)
        {
          g_set_error (error, BW_LIBRARY_ERROR, BW_LIBRARY_ERROR_INVALID,
                       "tables/%s.csv: there is no column \"%s\"; was it written by a newer"
                       " version?", table,
                       bw_csv_cell (headings, i) != NULL ? bw_csv_cell (headings, i) : "");
          return NULL;
        }
      g_ptr_array_add (ordered, g_ptr_array_steal_index (columns, at));
    }

  return g_steal_pointer (&ordered);
}

static char *
insert_sql (const char      *table,
            const GPtrArray *columns)
{
  GString *sql = g_string_new (NULL);

  g_string_printf (sql, "INSERT INTO \"%s\" (", table);
  for (guint i = 0; i < columns->len; i++)
    g_string_append_printf (sql, "%s\"%s\"", i > 0 ? ", " : "",
                            ((Column *) columns->pdata[i])->name);
  g_string_append (sql, ") VALUES (?");
  for (guint i = 1; i < columns->len; i++)
    g_string_append (sql, ", ?");
  g_string_append_c (sql, ')');

  return g_string_free (sql, FALSE);
}

static gboolean
import_rows (BwLibrary        *library,
             const char       *table,
             const GPtrArray  *rows,
             GError          **error)
{
  g_autoptr (GPtrArray) columns = columns_by_heading (library, table, rows->pdata[0], error);
  g_autofree char *sql = columns != NULL ? insert_sql (table, columns) : NULL;
  sqlite3_stmt *statement = sql != NULL ? bw_sql_prepare (library, sql, error) : NULL;

  if (statement == NULL)
    return FALSE;

  for (guint i = 1; i < rows->len; i++)
    {
      const BwCsvRow *row = rows->pdata[i];

      for (guint k = 0; k < columns->len; k++)
        bind_cell (statement, (int) k + 1, columns->pdata[k], bw_csv_cell (row, k));
      if (!bw_sql_finish (library, statement, error))
        {
          g_prefix_error (error, "tables/%s.csv, line %u: ", table, row->line);
          return FALSE;
        }
    }

  return TRUE;
}

static gboolean
import_table (BwLibrary   *library,
              const char  *table,
              const char  *folder,
              GError     **error)
{
  g_autofree char *name = g_strconcat (table, ".csv", NULL);
  g_autofree char *path = g_build_filename (folder, "tables", name, NULL);
  g_autofree char *text = NULL;
  g_autoptr (GPtrArray) rows = NULL;
  gsize length;

  if (!g_file_get_contents (path, &text, &length, error))
    return FALSE;

  rows = bw_csv_parse (text, length, error);
  if (rows == NULL)
    {
      g_prefix_error (error, "tables/%s.csv, ", table);
      return FALSE;
    }

  return rows->len < 2 || import_rows (library, table, rows, error);
}

static gboolean
check_empty (BwLibrary  *library,
             GError    **error)
{
  gint64 n;

  if (!bw_sql_get_int (library, &n, error,
                       "SELECT (SELECT count (*) FROM design_head) + (SELECT count (*) FROM yarn)"
                       " + (SELECT count (*) FROM size_table)",
                       ""))
    return FALSE;

  if (n == 0)
    return TRUE;

  g_set_error (error, BW_LIBRARY_ERROR, BW_LIBRARY_ERROR_EXISTS,
               "%s: there is something in the library already; import everything into a new one",
               library->path);
  return FALSE;
}

static gboolean
import_tables (BwLibrary   *library,
               const char  *folder,
               GError     **error)
{
  /* rows point at rows that come later */
  if (!check_empty (library, error) || !bw_sql_run (library, "PRAGMA defer_foreign_keys = ON",
                                                    error))
    return FALSE;

  for (gsize i = 0; bw_library_table_names[i] != NULL; i++)
    if (!import_table (library, bw_library_table_names[i], folder, error))
      return FALSE;

  return TRUE;
}

/**
 * bw_library_import_all:
 * @library: an empty library
 * @folder: what bw_library_export_all() wrote
 * @error: return location; names the file and the line
 *
 * Makes the library again, all or nothing.
 *
 * Returns: %TRUE if its content is equal to what was exported
 */
gboolean
bw_library_import_all (BwLibrary   *library,
                       const char  *folder,
                       GError     **error)
{
  gboolean ok;

  g_return_val_if_fail (library != NULL && folder != NULL, FALSE);

  if (!bw_library_begin (library, error))
    return FALSE;

  ok = import_tables (library, folder, error);

  return bw_library_end (library, ok, error);
}
