#define G_LOG_DOMAIN "bw-library"

#include <string.h>

#include "bw-library-csv-private.h"

/* What the columns of a maker's table hold, found by their headings. */

/* The names that are written, by BwColumn. */
const char *const bw_column_names[BW_COLUMN_N] = {
  "swatch", "yarn", "maker", "lot", "hook", "stitch pattern", "worked in", "worked by", "date",
  "note", "weight", "piece stitches", "piece rounds", "photograph", "direction", "count", "length",
  "stitches", "width", "rounds", "height", "place", "washed", "laid",
};

/* Other names under which makers keep them. */
static const struct
{
  const char *name;
  BwColumn    column;
} other_names[] = {
  { "code", BW_COLUMN_SWATCH },
  { "swatch code", BW_COLUMN_SWATCH },
  { "no", BW_COLUMN_SWATCH },
  { "number", BW_COLUMN_SWATCH },
  { "yarn name", BW_COLUMN_YARN },
  { "brand", BW_COLUMN_MAKER },
  { "yarn maker", BW_COLUMN_MAKER },
  { "dye lot", BW_COLUMN_LOT },
  { "hook size", BW_COLUMN_HOOK },
  { "pattern", BW_COLUMN_FABRIC },
  { "stitch", BW_COLUMN_FABRIC },
  { "worked", BW_COLUMN_WORKED },
  { "by", BW_COLUMN_WORKED_BY },
  { "made on", BW_COLUMN_MADE_ON },
  { "notes", BW_COLUMN_NOTE },
  { "remarks", BW_COLUMN_NOTE },
  { "comment", BW_COLUMN_NOTE },
  { "grams", BW_COLUMN_GRAMS },
  { "weight of piece", BW_COLUMN_GRAMS },
  { "photo", BW_COLUMN_PHOTO },
  { "span", BW_COLUMN_LENGTH },
  { "sts", BW_COLUMN_STITCHES },
  { "across", BW_COLUMN_WIDTH },
  { "rows", BW_COLUMN_ROUNDS },
  { "rnds", BW_COLUMN_ROUNDS },
  { "up", BW_COLUMN_HEIGHT },
  { "upwards", BW_COLUMN_HEIGHT },
  { "where", BW_COLUMN_PLACE },
  { "position", BW_COLUMN_PLACE },
  { "state", BW_COLUMN_WASHED },
  { "stretched", BW_COLUMN_LAID },
  { "stretch", BW_COLUMN_LAID },
};

static gboolean
find_column (const char *name,
             BwColumn   *column)
{
  for (guint i = 0; i < BW_COLUMN_N; i++)
    if (g_str_equal (name, bw_column_names[i]))
      {
        *column = (BwColumn) i;
        return TRUE;
      }

  for (gsize i = 0; i < G_N_ELEMENTS (other_names); i++)
    if (g_str_equal (name, other_names[i].name))
      {
        *column = other_names[i].column;
        return TRUE;
      }

  return FALSE;
}

/* Small letters, with one space between words and nothing else. */
static char *
plain_heading (const char *heading)
{
  g_autofree char *lower = g_utf8_strdown (heading, -1);
  g_auto (GStrv) words = NULL;
  GString *plain = g_string_new (NULL);

  g_strdelimit (lower, "()[]/_.,:\t", ' ');
  words = g_strsplit (lower, " ", -1);
  for (guint i = 0; words[i] != NULL; i++)
    if (words[i][0] != '\0')
      g_string_append_printf (plain, "%s%s", plain->len > 0 ? " " : "", words[i]);

  return g_string_free (plain, FALSE);
}

/* Takes the last word off @name and returns it; "" where there is but one. */
static char *
take_last_word (char *name)
{
  char *space = strrchr (name, ' ');
  char *word = g_strdup (space != NULL ? space + 1 : "");

  if (space != NULL)
    *space = '\0';

  return word;
}

/* "Length (mm)", "length in mm", "length mm" and "length/mm" are all one. */
static gboolean
match_heading (const char  *heading,
               BwColumn    *column,
               char       **unit)
{
  static const char *const units[] = { "mm", "cm", "in", "inch", "inches", "g", "grams", "oz" };
  g_autofree char *name = plain_heading (heading);
  g_autofree char *word = NULL;
  gboolean is_unit = FALSE;

  *unit = NULL;
  if (find_column (name, column))
    {
      *unit = g_strdup ("");
      return TRUE;
    }

  word = take_last_word (name);
  for (gsize i = 0; i < G_N_ELEMENTS (units); i++)
    is_unit = is_unit || g_str_equal (word, units[i]);
  if (g_str_has_suffix (name, " in"))
    name[strlen (name) - 3] = '\0';
  if (!is_unit || !find_column (name, column))
    return FALSE;

  *unit = g_steal_pointer (&word);

  return TRUE;
}

static gboolean
take_heading (BwColumns       *columns,
              guint            at,
              const char      *heading,
              BwImportReport  *report,
              GError         **error)
{
  g_autofree char *unit = NULL;
  BwColumn column;

  if (!match_heading (heading, &column, &unit))
    {
      g_ptr_array_add (report->ignored, g_strdup (heading));
      return TRUE;
    }

  if (columns->at[column] != BW_COLUMN_NOWHERE)
    {
      g_set_error (error, BW_LIBRARY_ERROR, BW_LIBRARY_ERROR_INVALID,
                   "columns %u and %u are both for \"%s\"; leave one heading",
                   columns->at[column] + 1, at + 1, bw_column_names[column]);
      return FALSE;
    }

  columns->at[column] = at;
  columns->headings[column] = g_strdup (heading);
  columns->units[column] = g_steal_pointer (&unit);

  return TRUE;
}

/*
 * bw_columns_have:
 *
 * Returns: %TRUE if the table has such a column
 */
gboolean
bw_columns_have (const BwColumns *columns,
                 BwColumn         column)
{
  return columns->at[column] != BW_COLUMN_NOWHERE;
}

static gboolean
check_columns (const BwColumns  *columns,
               GError          **error)
{
  static const BwColumn needed[] = { BW_COLUMN_YARN, BW_COLUMN_HOOK, BW_COLUMN_FABRIC };
  gboolean one = bw_columns_have (columns, BW_COLUMN_DIRECTION) &&
                 bw_columns_have (columns, BW_COLUMN_COUNT) &&
                 bw_columns_have (columns, BW_COLUMN_LENGTH);
  gboolean across = bw_columns_have (columns, BW_COLUMN_STITCHES) &&
                    bw_columns_have (columns, BW_COLUMN_WIDTH);
  gboolean upwards = bw_columns_have (columns, BW_COLUMN_ROUNDS) &&
                     bw_columns_have (columns, BW_COLUMN_HEIGHT);

  for (gsize i = 0; i < G_N_ELEMENTS (needed); i++)
    if (!bw_columns_have (columns, needed[i]))
      {
        g_set_error (error, BW_LIBRARY_ERROR, BW_LIBRARY_ERROR_INVALID,
                     "there is no column headed \"%s\"; add it to the first line",
                     bw_column_names[needed[i]]);
        return FALSE;
      }

  if (one || across || upwards)
    return TRUE;

  g_set_error (error, BW_LIBRARY_ERROR, BW_LIBRARY_ERROR_INVALID,
               "there are no readings; add columns headed \"stitches\" and \"width\", \"rounds\""
               " and \"height\", or "
               "\"direction\", \"count\" and \"length\"");
  return FALSE;
}

/*
 * bw_columns_find:
 *
 * Finds the columns by their headings.
 */
gboolean
bw_columns_find (const BwCsvRow  *headings,
                 BwColumns       *columns,
                 BwImportReport  *report,
                 GError         **error)
{
  for (guint i = 0; i < BW_COLUMN_N; i++)
    columns->at[i] = BW_COLUMN_NOWHERE;

  for (guint i = 0; i < headings->cells->len; i++)
    {
      const char *heading = bw_csv_cell (headings, i);

      if (heading != NULL && !take_heading (columns, i, heading, report, error))
        return FALSE;
    }

  return check_columns (columns, error);
}

/*
 * bw_columns_clear:
 *
 * Frees what @columns owns, not @columns itself.
 */
void
bw_columns_clear (BwColumns *columns)
{
  for (guint i = 0; i < BW_COLUMN_N; i++)
    {
      g_clear_pointer (&columns->headings[i], g_free);
      g_clear_pointer (&columns->units[i], g_free);
    }
}
