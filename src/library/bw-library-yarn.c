#define G_LOG_DOMAIN "bw-library"

#include <math.h>

#include "bw-library-yarn-private.h"

/* ---- the value ------------------------------------------------------------- */

static void
fibre_clear (BwFibre *fibre)
{
  g_free (fibre->fibre);
}

static void
lot_clear (BwYarnLot *lot)
{
  g_free (lot->lot);
  g_free (lot->colour);
}

static BwLibraryYarn *
yarn_blank (void)
{
  BwLibraryYarn *yarn = g_new0 (BwLibraryYarn, 1);

  yarn->weight_class = -1;
  yarn->fibres = g_array_new (FALSE, TRUE, sizeof (BwFibre));
  g_array_set_clear_func (yarn->fibres, (GDestroyNotify) fibre_clear);
  yarn->lots = g_array_new (FALSE, TRUE, sizeof (BwYarnLot));
  g_array_set_clear_func (yarn->lots, (GDestroyNotify) lot_clear);

  return yarn;
}

/**
 * bw_library_yarn_new:
 * @name: its name
 *
 * Returns: (transfer full): a yarn of which nothing else is known
 */
BwLibraryYarn *
bw_library_yarn_new (const char *name)
{
  BwLibraryYarn *yarn = yarn_blank ();

  yarn->name = g_strdup (name);
  yarn->maker = g_strdup ("");
  yarn->uk_name = g_strdup ("");
  yarn->currency = g_strdup ("");
  yarn->care = g_strdup ("");

  return yarn;
}

/**
 * bw_library_yarn_free:
 * @yarn: (nullable) (transfer full): a yarn
 *
 * Frees @yarn and all it owns.
 */
void
bw_library_yarn_free (BwLibraryYarn *yarn)
{
  if (yarn == NULL)
    return;

  g_free (yarn->name);
  g_free (yarn->maker);
  g_free (yarn->uk_name);
  g_free (yarn->currency);
  g_free (yarn->care);
  g_array_unref (yarn->fibres);
  g_array_unref (yarn->lots);
  g_free (yarn);
}

/**
 * bw_library_yarn_add_fibre:
 * @yarn: a yarn
 * @fibre: what fibre
 * @percent: how much of it
 *
 * Adds a part of the mix.
 */
void
bw_library_yarn_add_fibre (BwLibraryYarn *yarn,
                           const char    *fibre,
                           double         percent)
{
  BwFibre part = { g_strdup (fibre), percent };

  g_array_append_val (yarn->fibres, part);
}

/**
 * bw_library_yarn_add_lot:
 * @yarn: a yarn
 * @lot: the dye lot
 * @colour: its colour
 * @balls: how many are in stock
 *
 * Adds a lot.
 */
void
bw_library_yarn_add_lot (BwLibraryYarn *yarn,
                         const char    *lot,
                         const char    *colour,
                         double         balls)
{
  BwYarnLot stock = { g_strdup (lot), g_strdup (colour), balls };

  g_array_append_val (yarn->lots, stock);
}

/* ---- saving ------------------------------------------------------------------ */

static gboolean
check_mix (const BwLibraryYarn  *yarn,
           GError              **error)
{
  double sum = 0.0;

  for (guint i = 0; i < yarn->fibres->len; i++)
    sum += g_array_index (yarn->fibres, BwFibre, i).percent;

  if (yarn->fibres->len == 0 || fabs (sum - 100.0) < 1e-4)
    return TRUE;

  g_set_error (error, BW_LIBRARY_ERROR, BW_LIBRARY_ERROR_INVALID,
               "the fibres of \"%s\" add up to %g %%; make them add up to 100 %%", yarn->name, sum);
  return FALSE;
}

static gboolean
save_head (BwLibrary      *library,
           BwLibraryYarn  *yarn,
           GError        **error)
{
  g_autofree char *uuid = g_uuid_string_random ();
  g_autofree char *weight = yarn->weight_class >= 0 ? g_strdup_printf ("%d", yarn->weight_class)
    : NULL;

  if (yarn->id == 0 &&
      !(bw_sql_get_int (library, &yarn->id, error, "SELECT ifnull (max (id), 0) + 1 FROM yarn",
                        "") &&
        bw_sql_do (library, error, "INSERT INTO yarn (id, uuid, name) VALUES (?, ?, trim (?))",
                   "lss", yarn->id, uuid, yarn->name)))
    return FALSE;

  return bw_sql_do (library, error,
                    "UPDATE yarn SET name = trim (?), maker = ?, weight_class = cast (? AS"
                    " INTEGER), uk_name = ?,"
                    " metres_per_ball = ?, grams_per_ball = ?, price_per_ball = ?, currency = ?,"
                    " care = ?"
                    " WHERE id = ?",
                    "ssssdddssl", yarn->name, yarn->maker, weight, yarn->uk_name,
                    yarn->metres_per_ball,
                    yarn->grams_per_ball, yarn->price_per_ball, yarn->currency, yarn->care,
                    yarn->id);
}

static gboolean
save_fibres (BwLibrary            *library,
             const BwLibraryYarn  *yarn,
             GError              **error)
{
  if (!bw_sql_do (library, error, "DELETE FROM yarn_fibre WHERE yarn = ?", "l", yarn->id))
    return FALSE;

  for (guint i = 0; i < yarn->fibres->len; i++)
    {
      const BwFibre *fibre = &g_array_index (yarn->fibres, BwFibre, i);

      if (!bw_sql_do (library, error,
                      "INSERT INTO yarn_fibre (yarn, place, fibre, percent) VALUES (?, ?, ?, ?)",
                      "lisd", yarn->id, (int) i, fibre->fibre, fibre->percent))
        return FALSE;
    }

  return TRUE;
}

/* A lot keeps its row, because swatches point at it; one that is not listed any
 * more goes, and its swatches stay without a lot. */
static gboolean
save_lots (BwLibrary            *library,
           const BwLibraryYarn  *yarn,
           GError              **error)
{
  if (!bw_sql_do (library, error, "UPDATE yarn_lot SET balls = 0, colour = char (1) WHERE yarn = ?",
                  "l", yarn->id))
    return FALSE;

  for (guint i = 0; i < yarn->lots->len; i++)
    {
      const BwYarnLot *lot = &g_array_index (yarn->lots, BwYarnLot, i);

      if (!bw_sql_do (library, error,
                      "INSERT INTO yarn_lot (yarn, lot, colour, balls) VALUES (?, ?, ?, ?)"
                      " ON CONFLICT (yarn, lot) DO UPDATE"
                      " SET colour = excluded.colour, balls = excluded.balls",
                      "lssd", yarn->id, lot->lot, lot->colour, lot->balls))
        return FALSE;
    }

  return bw_sql_do (library, error, "DELETE FROM yarn_lot WHERE yarn = ? AND colour = char (1)",
                    "l", yarn->id);
}

/*
 * bw_library_yarn_rows_save:
 *
 * Within a transaction of the caller's. Sets the id of a new yarn.
 */
gboolean
bw_library_yarn_rows_save (BwLibrary      *library,
                           BwLibraryYarn  *yarn,
                           GError        **error)
{
  return check_mix (yarn, error) && save_head (library, yarn, error) &&
         save_fibres (library, yarn, error) &&
         save_lots (library, yarn, error);
}

/**
 * bw_library_save_yarn:
 * @library: a library
 * @yarn: a yarn; one without an id is added and gets one
 * @error: return location
 *
 * Saves a yarn with its fibres and lots.
 *
 * Returns: %TRUE if it is on disk
 */
gboolean
bw_library_save_yarn (BwLibrary      *library,
                      BwLibraryYarn  *yarn,
                      GError        **error)
{
  gint64 id;
  gboolean ok;

  g_return_val_if_fail (library != NULL && yarn != NULL, FALSE);

  id = yarn->id;
  if (!bw_library_begin (library, error))
    return FALSE;

  ok = bw_library_yarn_rows_save (library, yarn, error);
  ok = bw_library_end (library, ok, error);
  if (!ok)
    yarn->id = id;

  return ok;
}

/* ---- reading ------------------------------------------------------------------ */

static gboolean
load_fibres (BwLibrary      *library,
             BwLibraryYarn  *yarn,
             GError        **error)
{
  sqlite3_stmt *statement = bw_sql_start (library, error,
                                          "SELECT fibre, percent FROM yarn_fibre"
                                          " WHERE yarn = ? ORDER BY place",
                                          "l", yarn->id);
  BwStep step;

  if (statement == NULL)
    return FALSE;

  while ((step = bw_sql_step (library, statement, error)) == BW_STEP_ROW)
    bw_library_yarn_add_fibre (yarn, (const char *) sqlite3_column_text (statement, 0),
                               sqlite3_column_double (statement, 1));

  return step == BW_STEP_DONE;
}

static gboolean
load_lots (BwLibrary      *library,
           BwLibraryYarn  *yarn,
           GError        **error)
{
  sqlite3_stmt *statement = bw_sql_start (library, error,
                                          "SELECT lot, colour, balls FROM yarn_lot"
                                          " WHERE yarn = ? ORDER BY lot",
                                          "l", yarn->id);
  BwStep step;

  if (statement == NULL)
    return FALSE;

  while ((step = bw_sql_step (library, statement, error)) == BW_STEP_ROW)
    bw_library_yarn_add_lot (yarn, (const char *) sqlite3_column_text (statement, 0),
                             (const char *) sqlite3_column_text (statement, 1),
                             sqlite3_column_double (statement, 2));

  return step == BW_STEP_DONE;
}

/**
 * bw_library_get_yarn:
 * @library: a library
 * @id: a yarn
 * @error: return location
 *
 * Returns: (transfer full) (nullable): the yarn with its fibres and lots
 */
BwLibraryYarn *
bw_library_get_yarn (BwLibrary  *library,
                     gint64      id,
                     GError    **error)
{
  g_autoptr (BwLibraryYarn) yarn = NULL;
  sqlite3_stmt *statement;
  BwStep step;

  g_return_val_if_fail (library != NULL, NULL);

  statement = bw_sql_start (library, error,
                            "SELECT name, maker, ifnull (weight_class, -1), uk_name,"
                            " metres_per_ball,"
                            " grams_per_ball, price_per_ball, currency, care FROM yarn"
                            " WHERE id = ?",
                            "l", id);
  if (statement == NULL)
    return NULL;

  step = bw_sql_step (library, statement, error);
  if (step == BW_STEP_DONE)
    g_set_error (error, BW_LIBRARY_ERROR, BW_LIBRARY_ERROR_MISSING,
                 "there is no such yarn in the library; list the yarns");
  if (step != BW_STEP_ROW)
    return NULL;

  yarn = yarn_blank ();
  yarn->id = id;
  yarn->name = bw_sql_dup_text (statement, 0);
  yarn->maker = bw_sql_dup_text (statement, 1);
  yarn->weight_class = sqlite3_column_int (statement, 2);
  yarn->uk_name = bw_sql_dup_text (statement, 3);
  yarn->metres_per_ball = sqlite3_column_double (statement, 4);
  yarn->grams_per_ball = sqlite3_column_double (statement, 5);
  yarn->price_per_ball = sqlite3_column_double (statement, 6);
  yarn->currency = bw_sql_dup_text (statement, 7);
  yarn->care = bw_sql_dup_text (statement, 8);
  bw_sql_done (statement);

  if (!load_fibres (library, yarn, error) || !load_lots (library, yarn, error))
    return NULL;

  return g_steal_pointer (&yarn);
}

/**
 * bw_library_find_yarn:
 * @library: a library
 * @name: a yarn's name, in any case
 * @id: (out): the yarn
 * @error: return location
 *
 * Returns: %TRUE if there is one of that name
 */
gboolean
bw_library_find_yarn (BwLibrary   *library,
                      const char  *name,
                      gint64      *id,
                      GError     **error)
{
  g_return_val_if_fail (library != NULL && name != NULL && id != NULL, FALSE);

  if (bw_sql_get_int (library, id, error,
                      "SELECT id FROM yarn WHERE name = trim (?1) COLLATE NOCASE"
                      " ORDER BY name <> trim (?1) LIMIT 1",
                      "s", name))
    return TRUE;

  g_prefix_error (error, "yarn \"%s\": ", name);
  return FALSE;
}

/**
 * bw_library_list_yarns:
 * @library: a library
 * @typed: (nullable): beginnings of words of name, maker, fibres or care; %NULL = all
 * @error: return location
 *
 * Returns: (transfer full) (element-type BwLibraryYarn) (nullable): yarns by name
 */
GPtrArray *
bw_library_list_yarns (BwLibrary   *library,
                       const char  *typed,
                       GError     **error)
{
  g_autoptr (GPtrArray) yarns =
    g_ptr_array_new_with_free_func ((GDestroyNotify) bw_library_yarn_free);
  g_autoptr (GArray) ids = g_array_new (FALSE, FALSE, sizeof (gint64));
  g_autofree char *question = typed != NULL ? bw_library_question (typed) : NULL;
  sqlite3_stmt *statement;
  BwStep step;

  g_return_val_if_fail (library != NULL, NULL);

  if (question != NULL && question[0] != '\0')
    statement = bw_sql_start (library, error,
                              "SELECT id FROM yarn WHERE id IN (SELECT rowid FROM yarn_search"
                              " WHERE yarn_search"
                              " MATCH ?) ORDER BY name COLLATE NOCASE, id",
                              "s", question);
  else
    statement =
    bw_sql_start (library, error, "SELECT id FROM yarn ORDER BY name COLLATE NOCASE, id", "");
  if (statement == NULL)
    return NULL;

  while ((step = bw_sql_step (library, statement, error)) == BW_STEP_ROW)
    {
      gint64 id = sqlite3_column_int64 (statement, 0);

      g_array_append_val (ids, id);
    }
  if (step == BW_STEP_FAILED)
    return NULL;

  for (guint i = 0; i < ids->len; i++)
    {
      BwLibraryYarn *yarn = bw_library_get_yarn (library, g_array_index (ids, gint64, i), error);

      if (yarn == NULL)
        return NULL;
      g_ptr_array_add (yarns, yarn);
    }

  return g_steal_pointer (&yarns);
}

/**
 * bw_library_remove_yarn:
 * @library: a library
 * @id: a yarn
 * @error: return location; BW_LIBRARY_ERROR_INVALID while it has swatches
 *
 * Removes a yarn with its lots.
 *
 * Returns: %TRUE if it is gone
 */
gboolean
bw_library_remove_yarn (BwLibrary  *library,
                        gint64      id,
                        GError    **error)
{
  gboolean ok;

  g_return_val_if_fail (library != NULL, FALSE);

  if (!bw_library_begin (library, error))
    return FALSE;

  ok = bw_sql_do (library, error, "DELETE FROM yarn WHERE id = ?", "l", id);

  return bw_library_end (library, ok, error);
}
