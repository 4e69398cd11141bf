#define G_LOG_DOMAIN "bw-library"

#include "bw-library-design-private.h"

/* Colourways: a design with other colours in the same places. */

static gboolean
write_colourway (BwLibrary     *library,
                 gint64         id,
                 const char    *name,
                 const GArray  *colours,
                 GError       **error)
{
  if (!bw_sql_do (library, error,
                  "DELETE FROM design_colourway_colour WHERE design = ? AND colourway = ?",
                  "ls", id, name))
    return FALSE;

  if (colours == NULL)
    return bw_sql_do (library, error, "DELETE FROM design_colourway WHERE design = ? AND name = ?",
                      "ls", id, name);

  if (!bw_sql_do (library, error,
                  "INSERT OR IGNORE INTO design_colourway (design, name) VALUES (?, ?)", "ls",
                  id, name))
    return FALSE;

  for (guint i = 0; i < colours->len; i++)
    {
      const BwColour *colour = &g_array_index (colours, BwColour, i);

      if (!bw_sql_do (library, error,
                      "INSERT INTO design_colourway_colour (design, colourway, place, name, rgb)"
                      " VALUES (?, ?, ?, ?, ?)",
                      "lsisl", id, name, (int) i, colour->name, (gint64) colour->rgb))
        return FALSE;
    }

  return TRUE;
}

/**
 * bw_library_set_colourway:
 * @library: a library
 * @id: a design
 * @name: the colourway's name
 * @colours: (element-type BwColour) (nullable): in the order of the design's;
 *   %NULL removes it
 * @error: return location
 *
 * Keeps a set of other colours for a design.
 *
 * Returns: %TRUE if it is on disk
 */
gboolean
bw_library_set_colourway (BwLibrary     *library,
                          gint64         id,
                          const char    *name,
                          const GArray  *colours,
                          GError       **error)
{
  gboolean ok;

  g_return_val_if_fail (library != NULL && name != NULL, FALSE);

  if (!bw_library_begin (library, error))
    return FALSE;

  ok = write_colourway (library, id, name, colours, error) &&
       bw_library_bump (library, id, NULL, error);

  return bw_library_end (library, ok, error);
}

/**
 * bw_library_get_colourways:
 * @library: a library
 * @id: a design
 * @error: return location
 *
 * Returns: (transfer full) (element-type utf8) (nullable): names, sorted
 */
GPtrArray *
bw_library_get_colourways (BwLibrary  *library,
                           gint64      id,
                           GError    **error)
{
  g_autoptr (GPtrArray) names = g_ptr_array_new_with_free_func (g_free);
  sqlite3_stmt *statement;
  BwStep step;

  g_return_val_if_fail (library != NULL, NULL);

  statement = bw_sql_start (library, error,
                            "SELECT name FROM design_colourway WHERE design = ? ORDER BY name",
                            "l", id);
  if (statement == NULL)
    return NULL;

  while ((step = bw_sql_step (library, statement, error)) == BW_STEP_ROW)
    g_ptr_array_add (names, bw_sql_dup_text (statement, 0));

  return step == BW_STEP_DONE ? g_steal_pointer (&names) : NULL;
}

/**
 * bw_library_apply_colourway:
 * @library: a library
 * @id: a design
 * @name: one of its colourways
 * @design: the design as it was loaded; its colours are exchanged
 * @error: return location
 *
 * Colours beyond those of the colourway stay as they are.
 *
 * Returns: %TRUE if @design has the colourway's colours
 */
gboolean
bw_library_apply_colourway (BwLibrary   *library,
                            gint64       id,
                            const char  *name,
                            BwDesign    *design,
                            GError     **error)
{
  sqlite3_stmt *statement;
  guint n_found = 0;
  BwStep step;

  g_return_val_if_fail (library != NULL && name != NULL && design != NULL, FALSE);

  statement = bw_sql_start (library, error,
                            "SELECT place, name, rgb FROM design_colourway_colour"
                            " WHERE design = ? AND colourway = ? ORDER BY place",
                            "ls", id, name);
  if (statement == NULL)
    return FALSE;

  while ((step = bw_sql_step (library, statement, error)) == BW_STEP_ROW)
    {
      guint place = (guint) sqlite3_column_int (statement, 0);
      BwColour *colour;

      n_found++;
      if (place >= design->colours->len)
        continue;

      colour = &g_array_index (design->colours, BwColour, place);
      g_free (colour->name);
      colour->name = bw_sql_dup_text (statement, 1);
      colour->rgb = (guint32) sqlite3_column_int64 (statement, 2);
    }

  if (step == BW_STEP_DONE && n_found == 0)
    g_set_error (error, BW_LIBRARY_ERROR, BW_LIBRARY_ERROR_MISSING,
                 "the design has no colourway \"%s\"; list its colourways", name);

  return step == BW_STEP_DONE && n_found > 0;
}
