#define G_LOG_DOMAIN "bw-cli"

#include "bw-cli-table.h"

#include <string.h>

struct _BwCliTable
{
  guint      n_columns;
  guint      n_left;  /* so many columns are flush left, the rest flush right */
  guint     *gaps;    /* spaces before each column */
  GPtrArray *cells;   /* of char *, row by row; the last row may be unfinished */
};

/**
 * bw_cli_text_width:
 * @text: a line of UTF-8
 *
 * Returns: cells it takes on a terminal: wide characters two, combining ones none
 */
guint
bw_cli_text_width (const char *text)
{
  guint width = 0;

  for (const char *c = text; *c != '\0'; c = g_utf8_next_char (c))
    {
      gunichar u = g_utf8_get_char (c);

      if (!g_unichar_iszerowidth (u))
        width += g_unichar_iswide (u) ? 2 : 1;
    }

  return width;
}

/**
 * bw_cli_table_new:
 * @n_columns: columns
 * @n_left: how many of them, from the first, are flush left; numbers are flush right
 *
 * Returns: (transfer full): an empty table
 */
BwCliTable *
bw_cli_table_new (guint n_columns,
                  guint n_left)
{
  BwCliTable *table = g_new0 (BwCliTable, 1);

  table->n_columns = n_columns;
  table->n_left = n_left;
  table->gaps = g_new (guint, n_columns);
  for (guint i = 0; i < n_columns; i++)
    table->gaps[i] = 2;
  table->cells = g_ptr_array_new_with_free_func (g_free);
  return table;
}

/**
 * bw_cli_table_free:
 * @table: (nullable): a table
 */
void
bw_cli_table_free (BwCliTable *table)
{
  if (table == NULL)
    return;

  g_ptr_array_unref (table->cells);
  g_free (table->gaps);
  g_free (table);
}

/**
 * bw_cli_table_tighten:
 * @table: a table
 * @column: a column that belongs to the one before it
 *
 * Sets the column one space from the one before it instead of two.
 */
void
bw_cli_table_tighten (BwCliTable *table,
                      guint       column)
{
  g_return_if_fail (column < table->n_columns);

  table->gaps[column] = 1;
}

/**
 * bw_cli_table_take:
 * @table: a table
 * @cell: (transfer full): text of the next cell, row by row
 */
void
bw_cli_table_take (BwCliTable *table,
                   char       *cell)
{
  g_ptr_array_add (table->cells, cell);
}

/**
 * bw_cli_table_add:
 * @table: a table
 * @cell: text of the next cell; copied
 */
void
bw_cli_table_add (BwCliTable *table,
                  const char *cell)
{
  bw_cli_table_take (table, g_strdup (cell));
}

static guint
column_width (const BwCliTable *table,
              guint             column)
{
  guint width = 0;

  for (guint i = column; i < table->cells->len; i += table->n_columns)
    width = MAX (width, bw_cli_text_width (g_ptr_array_index (table->cells, i)));

  return width;
}

static void
append_spaces (GString *out,
               guint    n)
{
  for (guint i = 0; i < n; i++)
    g_string_append_c (out, ' ');
}

static void
trim_end (GString *out)
{
  while (out->len > 0 && out->str[out->len - 1] == ' ')
    g_string_truncate (out, out->len - 1);
}

/**
 * bw_cli_table_print:
 * @table: a table of whole rows
 * @out: where it goes
 *
 * Sets the table, with no spaces at line ends.
 */
void
bw_cli_table_print (const BwCliTable *table,
                    GString          *out)
{
  g_autofree guint *widths = g_new0 (guint, table->n_columns);

  for (guint column = 0; column < table->n_columns; column++)
    widths[column] = column_width (table, column);

  for (guint i = 0; i < table->cells->len; i++)
    {
      const char *cell = g_ptr_array_index (table->cells, i);
      guint column = i % table->n_columns;
      guint fill = widths[column] - bw_cli_text_width (cell);

      append_spaces (out, table->gaps[column] + (column < table->n_left ? 0 : fill));
      g_string_append (out, cell);
      if (column < table->n_left)
        append_spaces (out, fill);
      if (column + 1 == table->n_columns)
        {
          trim_end (out);
          g_string_append_c (out, '\n');
        }
    }
}
