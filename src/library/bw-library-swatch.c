#define G_LOG_DOMAIN "bw-library"

#include "bw-library-swatch-private.h"

static const char *const worked_words[] = { "rows", "turned-rounds", "rounds" };
static const char *const direction_words[] = { "stitches", "rounds" };
static const char *const laid_words[] = { "relaxed", "gently", "fully" };

/* ---- the value ------------------------------------------------------------- */

static void
placed_reading_clear (BwPlacedReading *placed)
{
  g_free (placed->place);
}

static BwLibrarySwatch *
swatch_blank (void)
{
  BwLibrarySwatch *swatch = g_new0 (BwLibrarySwatch, 1);

  swatch->worked = BW_WORKED_ROUNDS;
  swatch->readings = g_array_new (FALSE, TRUE, sizeof (BwPlacedReading));
  g_array_set_clear_func (swatch->readings, (GDestroyNotify) placed_reading_clear);

  return swatch;
}

/**
 * bw_library_swatch_new:
 * @yarn: name of a yarn
 * @hook_mm: measured hook, mm; 0 = not said
 * @fabric: stitch pattern id, or a brim word
 *
 * Returns: (transfer full): a swatch without readings
 */
BwLibrarySwatch *
bw_library_swatch_new (const char *yarn,
                       double      hook_mm,
                       const char *fabric)
{
  BwLibrarySwatch *swatch = swatch_blank ();

  swatch->yarn = g_strdup (yarn);
  swatch->hook_mm = hook_mm;
  swatch->fabric = g_strdup (fabric);
  swatch->lot = g_strdup ("");
  swatch->worked_by = g_strdup ("");
  swatch->made_on = g_strdup ("");
  swatch->note = g_strdup ("");

  return swatch;
}

/**
 * bw_library_swatch_free:
 * @swatch: (nullable) (transfer full): a swatch
 *
 * Frees @swatch and all it owns.
 */
void
bw_library_swatch_free (BwLibrarySwatch *swatch)
{
  if (swatch == NULL)
    return;

  g_free (swatch->yarn);
  g_free (swatch->lot);
  g_free (swatch->fabric);
  g_free (swatch->worked_by);
  g_free (swatch->made_on);
  g_free (swatch->note);
  g_free (swatch->photo_path);
  g_clear_pointer (&swatch->photo, g_bytes_unref);
  g_array_unref (swatch->readings);
  g_free (swatch);
}

/**
 * bw_library_swatch_add_reading:
 * @swatch: a swatch
 * @reading: a reading
 * @place: where on the piece; "" = not said
 *
 * Adds a reading.
 */
void
bw_library_swatch_add_reading (BwLibrarySwatch *swatch,
                               const BwReading *reading,
                               const char      *place)
{
  BwPlacedReading placed = { *reading, g_strdup (place) };

  g_array_append_val (swatch->readings, placed);
}

/**
 * bw_worked_id:
 * @worked: a way of working
 *
 * Returns: (transfer none): "rows", "turned-rounds" or "rounds"
 */
const char *
bw_worked_id (BwWorked worked)
{
  g_return_val_if_fail (worked < G_N_ELEMENTS (worked_words), NULL);

  return worked_words[worked];
}

/**
 * bw_worked_from_text:
 * @text: "rows", "turned rounds", "rounds", in any case
 * @worked: (out): the way of working
 *
 * Returns: %TRUE if @text names one
 */
gboolean
bw_worked_from_text (const char *text,
                     BwWorked   *worked)
{
  g_autofree char *word = g_strdelimit (g_ascii_strdown (text, -1), " _", '-');

  for (guint i = 0; i < G_N_ELEMENTS (worked_words); i++)
    if (g_str_equal (word, worked_words[i]))
      {
        *worked = (BwWorked) i;
        return TRUE;
      }

  return FALSE;
}

/* ---- saving ------------------------------------------------------------------ */

static gboolean
find_lot (BwLibrary              *library,
          gint64                  yarn,
          const BwLibrarySwatch  *swatch,
          GError                **error)
{
  return swatch->lot[0] == '\0' ||
         bw_sql_do (library, error,
                    "INSERT OR IGNORE INTO yarn_lot (yarn, lot) VALUES (?, trim (?))", "ls", yarn,
                    swatch->lot);
}

static gboolean
save_head (BwLibrary        *library,
           BwLibrarySwatch  *swatch,
           gint64            yarn,
           GError          **error)
{
  g_autofree char *uuid = g_uuid_string_random ();

  if (swatch->id == 0 &&
      !(bw_sql_get_int (library, &swatch->id, error, "SELECT ifnull (max (id), 0) + 1 FROM swatch",
                        "") &&
        bw_sql_do (library, error,
                   "INSERT INTO swatch (id, uuid, yarn, hook_mm, fabric) VALUES (?, ?, ?, ?, ?)",
                   "lslds", swatch->id, uuid, yarn, swatch->hook_mm, swatch->fabric)))
    return FALSE;

  return bw_sql_do (library, error,
                    "UPDATE swatch SET yarn = ?1, lot = (SELECT id FROM yarn_lot"
                    " WHERE yarn = ?1 AND lot = trim (?2)),"
                    " hook_mm = ?3, fabric = ?4, worked = ?5, worked_by = ?6, made_on = ?7, "
                    " note = ?8, grams = ?9,"
                    " piece_stitches = ?10, piece_rounds = ?11 WHERE id = ?12",
                    "lsdsssssdiil", yarn, swatch->lot, swatch->hook_mm, swatch->fabric,
                    worked_words[swatch->worked], swatch->worked_by, swatch->made_on, swatch->note,
                    swatch->grams,
                    (int) swatch->piece_stitches, (int) swatch->piece_rounds, swatch->id);
}

static gboolean
save_photo (BwLibrary              *library,
            const BwLibrarySwatch  *swatch,
            GError                **error)
{
  gsize length = 0;
  gconstpointer bytes;

  if (!bw_sql_do (library, error, "DELETE FROM swatch_photo WHERE swatch = ?", "l", swatch->id))
    return FALSE;

  if (swatch->photo_path != NULL && swatch->photo_path[0] != '\0')
    return bw_sql_do (library, error, "INSERT INTO swatch_photo (swatch, path) VALUES (?, ?)", "ls",
                      swatch->id, swatch->photo_path);

  if (swatch->photo == NULL)
    return TRUE;

  bytes = g_bytes_get_data (swatch->photo, &length);
  if (length > BW_LIBRARY_PHOTO_MAX)
    {
      g_set_error (error, BW_LIBRARY_ERROR, BW_LIBRARY_ERROR_INVALID,
                   "the photograph is larger than 4 MiB; make it smaller, or keep it beside the"
                   " library");
      return FALSE;
    }

  return bw_sql_do (library, error, "INSERT INTO swatch_photo (swatch, bytes) VALUES (?, ?)", "lb",
                    swatch->id, bytes, length);
}

static gboolean
save_readings (BwLibrary              *library,
               const BwLibrarySwatch  *swatch,
               GError                **error)
{
  for (guint i = 0; i < swatch->readings->len; i++)
    {
      const BwPlacedReading *placed = &g_array_index (swatch->readings, BwPlacedReading, i);
      const BwReading *reading = &placed->reading;

      if (!bw_sql_do (library, error,
                      "INSERT INTO reading (swatch, number, direction, count, span_mm, place,"
                      " washed, laid)"
                      " VALUES (?, ?, ?, ?, ?, ?, ?, ?) ON CONFLICT (swatch, number) DO UPDATE SET"
                      " direction = excluded.direction, count = excluded.count, "
                      " span_mm = excluded.span_mm,"
                      " place = excluded.place, washed = excluded.washed, laid = excluded.laid",
                      "lisddsis", swatch->id, (int) i + 1, direction_words[reading->direction],
                      reading->count,
                      reading->span_mm, placed->place, reading->washed ? 1 : 0,
                      laid_words[reading->laid]))
        return FALSE;
    }

  return bw_sql_do (library, error, "DELETE FROM reading WHERE swatch = ? AND number > ?", "li",
                    swatch->id, (int) swatch->readings->len);
}

/*
 * bw_library_swatch_rows_save:
 *
 * Within a transaction of the caller's. Sets the id of a new swatch.
 */
gboolean
bw_library_swatch_rows_save (BwLibrary        *library,
                             BwLibrarySwatch  *swatch,
                             GError          **error)
{
  gint64 yarn;

  if (!bw_sql_get_int (library, &yarn, error,
                       "SELECT id FROM yarn WHERE name = trim (?1) COLLATE NOCASE"
                       " ORDER BY name <> trim (?1) LIMIT 1",
                       "s", swatch->yarn))
    {
      g_prefix_error (error, "yarn \"%s\": ", swatch->yarn);
      return FALSE;
    }

  return find_lot (library, yarn, swatch, error) && save_head (library, swatch, yarn, error) &&
         save_photo (library, swatch, error) && save_readings (library, swatch, error);
}

/**
 * bw_library_save_swatch:
 * @library: a library
 * @swatch: a swatch; one without an id is added and gets one. Its yarn must be
 *   in the library; a new lot of it is made.
 * @error: return location
 *
 * Saves a swatch with its readings.
 *
 * Returns: %TRUE if it is on disk
 */
gboolean
bw_library_save_swatch (BwLibrary        *library,
                        BwLibrarySwatch  *swatch,
                        GError          **error)
{
  gint64 id;
  gboolean ok;

  g_return_val_if_fail (library != NULL && swatch != NULL, FALSE);

  id = swatch->id;
  if (!bw_library_begin (library, error))
    return FALSE;

  ok = bw_library_swatch_rows_save (library, swatch, error);
  ok = bw_library_end (library, ok, error);
  if (!ok)
    swatch->id = id;

  return ok;
}

/**
 * bw_library_remove_swatch:
 * @library: a library
 * @id: a swatch
 * @error: return location
 *
 * Removes a swatch with its readings.
 *
 * Returns: %TRUE if it is gone
 */
gboolean
bw_library_remove_swatch (BwLibrary  *library,
                          gint64      id,
                          GError    **error)
{
  gboolean ok;

  g_return_val_if_fail (library != NULL, FALSE);

  if (!bw_library_begin (library, error))
    return FALSE;

  ok = bw_sql_do (library, error, "DELETE FROM swatch WHERE id = ?", "l", id);
  if (ok && sqlite3_changes (library->db) == 0)
    {
      g_set_error (error, BW_LIBRARY_ERROR, BW_LIBRARY_ERROR_MISSING,
                   "there is no such swatch in the library; list the swatches");
      ok = FALSE;
    }

  return bw_library_end (library, ok, error);
}

/* ---- reading ------------------------------------------------------------------ */

/* The table lets no other word in. */
static guint
word_at (sqlite3_stmt      *statement,
         int                column,
         const char *const *words,
         guint              n)
{
  const char *word = (const char *) sqlite3_column_text (statement, column);

  for (guint i = 0; i < n; i++)
    if (g_strcmp0 (words[i], word) == 0)
      return i;

  return 0;
}

static gboolean
load_readings (BwLibrary        *library,
               BwLibrarySwatch  *swatch,
               GError          **error)
{
  sqlite3_stmt *statement = bw_sql_start (library, error,
                                          "SELECT direction, count, span_mm, place, washed, laid"
                                          " FROM reading"
                                          " WHERE swatch = ? ORDER BY number",
                                          "l", swatch->id);
  BwStep step;

  if (statement == NULL)
    return FALSE;

  while ((step = bw_sql_step (library, statement, error)) == BW_STEP_ROW)
    {
      BwReading reading = {
        .direction = (BwReadingDirection) word_at (statement, 0, direction_words, 2),
        .count = sqlite3_column_double (statement, 1),
        .span_mm = sqlite3_column_double (statement, 2),
        .washed = sqlite3_column_int (statement, 4),
        .laid = (BwLaid) word_at (statement, 5, laid_words, 3),
      };

      bw_library_swatch_add_reading (swatch, &reading,
                                     (const char *) sqlite3_column_text (statement, 3));
    }

  return step == BW_STEP_DONE;
}

static void
load_head (BwLibrarySwatch *swatch,
           sqlite3_stmt    *statement)
{
  swatch->id = sqlite3_column_int64 (statement, 0);
  swatch->yarn = bw_sql_dup_text (statement, 1);
  swatch->lot = bw_sql_dup_text (statement, 2);
  swatch->hook_mm = sqlite3_column_double (statement, 3);
  swatch->fabric = bw_sql_dup_text (statement, 4);
  swatch->worked = (BwWorked) word_at (statement, 5, worked_words, 3);
  swatch->worked_by = bw_sql_dup_text (statement, 6);
  swatch->made_on = bw_sql_dup_text (statement, 7);
  swatch->note = bw_sql_dup_text (statement, 8);
  swatch->grams = sqlite3_column_double (statement, 9);
  swatch->piece_stitches = (guint) sqlite3_column_int (statement, 10);
  swatch->piece_rounds = (guint) sqlite3_column_int (statement, 11);
  swatch->photo_path = bw_sql_dup_text (statement, 12);
  if (sqlite3_column_type (statement, 13) == SQLITE_BLOB)
    swatch->photo = g_bytes_new (sqlite3_column_blob (statement, 13),
                                 (gsize) sqlite3_column_bytes (statement, 13));
}

#define SWATCH_SELECT                                                                        \
  "SELECT s.id, y.name, ifnull (l.lot, ''), s.hook_mm, s.fabric, s.worked, s.worked_by,"     \
  " s.made_on, s.note, s.grams, s.piece_stitches, s.piece_rounds, p.path, p.bytes"           \
  " FROM swatch s JOIN yarn y ON y.id = s.yarn LEFT JOIN yarn_lot l ON l.id = s.lot"         \
  " LEFT JOIN swatch_photo p ON p.swatch = s.id"

static gboolean
load_swatches (BwLibrary     *library,
               sqlite3_stmt  *statement,
               GPtrArray     *swatches,
               GError       **error)
{
  BwStep step;

  if (statement == NULL)
    return FALSE;

  while ((step = bw_sql_step (library, statement, error)) == BW_STEP_ROW)
    {
      BwLibrarySwatch *swatch = swatch_blank ();

      load_head (swatch, statement);
      g_ptr_array_add (swatches, swatch);
    }
  if (step == BW_STEP_FAILED)
    return FALSE;

  for (guint i = 0; i < swatches->len; i++)
    if (!load_readings (library, g_ptr_array_index (swatches, i), error))
      return FALSE;

  return TRUE;
}

/**
 * bw_library_get_swatch:
 * @library: a library
 * @id: a swatch
 * @error: return location
 *
 * Returns: (transfer full) (nullable): the swatch with its readings
 */
BwLibrarySwatch *
bw_library_get_swatch (BwLibrary  *library,
                       gint64      id,
                       GError    **error)
{
  g_autoptr (GPtrArray) swatches =
    g_ptr_array_new_with_free_func ((GDestroyNotify) bw_library_swatch_free);
  sqlite3_stmt *statement;

  g_return_val_if_fail (library != NULL, NULL);

  statement = bw_sql_start (library, error, SWATCH_SELECT " WHERE s.id = ?", "l", id);
  if (!load_swatches (library, statement, swatches, error))
    return NULL;

  if (swatches->len == 0)
    {
      g_set_error (error, BW_LIBRARY_ERROR, BW_LIBRARY_ERROR_MISSING,
                   "there is no such swatch in the library; list the swatches");
      return NULL;
    }

  return g_ptr_array_steal_index (swatches, 0);
}

/* A set is looked up by its index; anything less is a walk along it. */
static sqlite3_stmt *
start_list (BwLibrary             *library,
            const BwSwatchFilter  *filter,
            GError               **error)
{
  static const char of_set[] =
    SWATCH_SELECT " WHERE s.yarn = (SELECT id FROM yarn WHERE name = ?1 COLLATE NOCASE"
                  " ORDER BY name <> ?1 LIMIT 1)"
                  " AND s.hook_mm BETWEEN ?2 - 0.005 AND ?2 + 0.005 AND s.fabric = ?3"
                  " ORDER BY s.id";
  static const char any[] =
    SWATCH_SELECT " WHERE (?1 = '' OR y.name = ?1 COLLATE NOCASE)"
                  " AND (?2 = 0 OR abs (s.hook_mm - ?2) < 0.005)"
                  " AND (?3 = '' OR s.fabric = ?3)"
                  " ORDER BY y.name COLLATE NOCASE, s.fabric, s.hook_mm, s.id";
  const char *yarn = filter != NULL && filter->yarn != NULL ? filter->yarn : "";
  const char *fabric = filter != NULL && filter->fabric != NULL ? filter->fabric : "";
  double hook_mm = filter != NULL ? filter->hook_mm : 0.0;
  gboolean whole = yarn[0] != '\0' && fabric[0] != '\0' && hook_mm > 0.0;

  return bw_sql_start (library, error, whole ? of_set : any, "sds", yarn, hook_mm, fabric);
}

/**
 * bw_library_list_swatches:
 * @library: a library
 * @filter: (nullable): which ones
 * @error: return location
 *
 * Returns: (transfer full) (element-type BwLibrarySwatch) (nullable): swatches
 * with their readings, by yarn, stitch pattern and hook
 */
GPtrArray *
bw_library_list_swatches (BwLibrary             *library,
                          const BwSwatchFilter  *filter,
                          GError               **error)
{
  g_autoptr (GPtrArray) swatches =
    g_ptr_array_new_with_free_func ((GDestroyNotify) bw_library_swatch_free);

  g_return_val_if_fail (library != NULL, NULL);

  return load_swatches (library, start_list (library, filter, error), swatches, error)
           ? g_steal_pointer (&swatches)
           : NULL;
}
