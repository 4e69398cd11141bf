#define G_LOG_DOMAIN "bw-library"

#include "bw-csv.h"

#include "bw-library.h"

#define BYTE_ORDER_MARK "\xef\xbb\xbf"

static void
row_free (BwCsvRow *row)
{
  g_ptr_array_unref (row->cells);
  g_free (row);
}

/* The sign that parts cells: of those in the first line outside of quotes the
 * one that is there most often. */
static char
find_delimiter (const char *text,
                const char *end)
{
  static const char signs[] = { ';', ',', '\t' };
  guint counts[G_N_ELEMENTS (signs)] = { 0 };
  gboolean quoted = FALSE;
  guint best = 1;

  for (const char *p = text; p < end && (quoted || (*p != '\n' && *p != '\r')); p++)
    {
      if (*p == '"')
        quoted = !quoted;
      for (guint i = 0; i < G_N_ELEMENTS (signs); i++)
        counts[i] += !quoted && *p == signs[i];
    }
  for (guint i = 0; i < G_N_ELEMENTS (signs); i++)
    if (counts[i] > counts[best])
      best = i;

  return signs[best];
}

static gboolean
check_text (const char  *text,
            gsize        length,
            GError     **error)
{
  const char *bad;
  guint line = 1;

  if (g_utf8_validate_len (text, length, &bad))
    return TRUE;

  for (const char *p = text; p < bad; p++)
    line += *p == '\n';
  g_set_error (error, BW_LIBRARY_ERROR, BW_LIBRARY_ERROR_INVALID,
               "line %u: this is not UTF-8 text; save the table as CSV in UTF-8", line);
  return FALSE;
}

/* Where reading stands. */
typedef struct
{
  const char *p;
  const char *end;
  char        delimiter;
  guint       line;
} Reader;

/* Steps over a line's end of any kind. */
static gboolean
skip_line_end (Reader *reader)
{
  if (reader->p >= reader->end || (*reader->p != '\n' && *reader->p != '\r'))
    return FALSE;

  if (*reader->p == '\r' && reader->p + 1 < reader->end && reader->p[1] == '\n')
    reader->p++;
  reader->p++;
  reader->line++;

  return TRUE;
}

static gboolean
read_quoted (Reader   *reader,
             GString  *cell,
             GError  **error)
{
  guint from = reader->line;

  for (reader->p++; reader->p < reader->end; reader->p++)
    {
      if (*reader->p == '"')
        {
          if (reader->p + 1 >= reader->end || reader->p[1] != '"')
            break;
          reader->p++;
        }
      else if (*reader->p == '\n')
        {
          reader->line++;
        }
      g_string_append_c (cell, *reader->p);
    }

  if (reader->p >= reader->end)
    {
      g_set_error (error, BW_LIBRARY_ERROR, BW_LIBRARY_ERROR_INVALID,
                   "line %u: a quoted cell has no closing quote; add it", from);
      return FALSE;
    }
  reader->p++;

  return TRUE;
}

/* One cell, up to the delimiter or the line's end. What stands around quotes is
 * taken as it is, since spreadsheets of old wrote it. */
static gboolean
read_cell (Reader   *reader,
           char    **cell,
           GError  **error)
{
  g_autoptr (GString) text = g_string_new (NULL);
  gboolean quoted = FALSE;

  while (reader->p < reader->end && *reader->p != reader->delimiter && *reader->p != '\n' &&
         *reader->p != '\r')
    {
      if (*reader->p == '"' && text->len == 0 && !quoted)
        {
          quoted = TRUE;
          if (!read_quoted (reader, text, error))
            return FALSE;
          continue;
        }
      g_string_append_c (text, *reader->p++);
    }

  *cell = text->len > 0 || quoted ? g_string_free (g_steal_pointer (&text), FALSE) : NULL;

  return TRUE;
}

static gboolean
read_row (Reader    *reader,
          BwCsvRow  *row,
          GError   **error)
{
  row->line = reader->line;
  for (;;)
    {
      char *cell = NULL;

      if (!read_cell (reader, &cell, error))
        return FALSE;

      g_ptr_array_add (row->cells, cell);
      if (reader->p >= reader->end || skip_line_end (reader))
        return TRUE;
      reader->p++;
    }
}

static gboolean
is_blank (const BwCsvRow *row)
{
  for (guint i = 0; i < row->cells->len; i++)
    if (row->cells->pdata[i] != NULL)
      return FALSE;

  return TRUE;
}

/**
 * bw_csv_parse:
 * @text: (array length=length): a table
 * @length: bytes
 * @error: return location; the message names the line
 *
 * Reads a table of comma-separated values. Blank lines are left out.
 *
 * Returns: (transfer full) (element-type BwCsvRow) (nullable): its rows, of
 * which the first are the headings
 */
GPtrArray *
bw_csv_parse (const char  *text,
              gsize        length,
              GError     **error)
{
  g_autoptr (GPtrArray) rows = g_ptr_array_new_with_free_func ((GDestroyNotify) row_free);
  Reader reader = { text, text + length, 0, 1 };

  g_return_val_if_fail (text != NULL, NULL);

  if (!check_text (text, length, error))
    return NULL;

  if (length >= 3 && memcmp (text, BYTE_ORDER_MARK, 3) == 0)
    reader.p += 3;
  reader.delimiter = find_delimiter (reader.p, reader.end);

  while (reader.p < reader.end)
    {
      BwCsvRow *row = g_new0 (BwCsvRow, 1);

      row->cells = g_ptr_array_new_with_free_func (g_free);
      if (!read_row (&reader, row, error))
        {
          row_free (row);
          return NULL;
        }
      if (is_blank (row))
        row_free (row);
      else
        g_ptr_array_add (rows, row);
    }

  return g_steal_pointer (&rows);
}

/**
 * bw_csv_cell:
 * @row: a row
 * @column: from 0
 *
 * Returns: (transfer none) (nullable): the cell; %NULL where the row is shorter
 * or there is nothing
 */
const char *
bw_csv_cell (const BwCsvRow *row,
             guint           column)
{
  return column < row->cells->len ? row->cells->pdata[column] : NULL;
}

/**
 * bw_csv_append_cell:
 * @out: the table so far
 * @cell: (nullable): %NULL = nothing at all
 * @last: whether the row ends here
 *
 * Writes a cell, quoted where that is needed to read it back.
 */
void
bw_csv_append_cell (GString    *out,
                    const char *cell,
                    gboolean    last)
{
  /* a space at either end would be lost on those who trim */
  gboolean quote = cell != NULL && (cell[0] == '\0' || strpbrk (cell, "\",;\t\r\n") != NULL ||
                                    cell[0] == ' ' ||
                                    g_str_has_suffix (cell, " "));

  if (quote)
    {
      g_string_append_c (out, '"');
      for (const char *p = cell; *p != '\0'; p++)
        {
          if (*p == '"')
            g_string_append_c (out, '"');
          g_string_append_c (out, *p);
        }
      g_string_append_c (out, '"');
    }
  else if (cell != NULL)
    {
      g_string_append (out, cell);
    }

  g_string_append (out, last ? "\r\n" : ",");
}
