#define G_LOG_DOMAIN "bw-library"

#include "bw-library-design-private.h"
#include "bw-library-design-rows.h"

/* The undo history. While a design is saved, SQLite's session extension records
 * which rows changed and how; that changeset is kept as one numbered step.
 * Undoing applies its inverse, redoing applies it again.
 *
 *   steps:  1 2 3 ... undo_step | undo_step + 1 ...
 *           can be undone       | can be redone, until something new is saved
 *
 * Numbers go on rising; only the last BW_LIBRARY_UNDO_MAX steps are kept. */

struct _BwRecording
{
  BwLibrary       *library;
  sqlite3_session *session;
};

/*
 * bw_recording_start:
 *
 * Returns: (transfer full) (nullable): from now on, changes of designs' rows
 * are recorded
 */
BwRecording *
bw_recording_start (BwLibrary  *library,
                    GError    **error)
{
  g_autoptr (BwRecording) recording = g_new0 (BwRecording, 1);
  int rc;

  recording->library = library;
  rc = sqlite3session_create (library->db, "main", &recording->session);
  for (guint i = 0; rc == SQLITE_OK && bw_design_table_names[i] != NULL; i++)
    rc = sqlite3session_attach (recording->session, bw_design_table_names[i]);

  if (rc != SQLITE_OK)
    {
      bw_library_set_error (error, NULL, rc, library->path);
      return NULL;
    }

  return g_steal_pointer (&recording);
}

/*
 * bw_recording_free:
 *
 * Ends a recording, kept or not.
 */
void
bw_recording_free (BwRecording *recording)
{
  if (recording == NULL)
    return;

  if (recording->session != NULL)
    sqlite3session_delete (recording->session);
  g_free (recording);
}

/* ---- keeping a step ------------------------------------------------------ */

/* Two changes in a row as one; NULL where the second takes the first back. */
static gboolean
join_changesets (BwLibrary    *library,
                 const void   *first,
                 int           n_first,
                 void         *second,
                 int           n_second,
                 void        **joined,
                 int          *n_joined,
                 GError      **error)
{
  int rc = sqlite3changeset_concat (n_first, (void *) first, n_second, second, n_joined, joined);

  if (rc != SQLITE_OK)
    bw_library_set_error (error, NULL, rc, library->path);

  return rc == SQLITE_OK;
}

/* Of two edits that came to nothing there is no step. */
static gboolean
drop_step (BwLibrary  *library,
           gint64      id,
           gint64      step,
           GError    **error)
{
  return bw_sql_do (library, error, "DELETE FROM undo_step WHERE design = ? AND step = ?", "ll", id,
                    step) &&
         bw_sql_do (library, error, "UPDATE design_head SET undo_step = ? WHERE design = ?", "ll",
                    step - 1, id);
}

/* Adds to the step before, where that may be done. */
static gboolean
merge_step (BwLibrary   *library,
            gint64       id,
            gint64       step,
            const char  *label,
            void        *changes,
            int          n_changes,
            gboolean    *merged,
            GError     **error)
{
  sqlite3_stmt *statement = bw_sql_start (library, error,
                                          "SELECT changeset FROM undo_step"
                                          " WHERE design = ? AND step = ? AND label = ?",
                                          "lls", id, step, label);
  void *joined = NULL;
  int n_joined = 0;
  BwStep result;
  gboolean ok;

  *merged = FALSE;
  if (statement == NULL)
    return FALSE;

  result = bw_sql_step (library, statement, error);
  if (result != BW_STEP_ROW)
    return result == BW_STEP_DONE;

  ok = join_changesets (library, sqlite3_column_blob (statement, 0),
                        sqlite3_column_bytes (statement, 0),
                        changes, n_changes, &joined, &n_joined, error);
  bw_sql_done (statement);
  if (!ok)
    return FALSE;

  if (n_joined == 0)
    ok = drop_step (library, id, step, error);
  else
    ok = bw_sql_do (library, error,
                    "UPDATE undo_step SET changeset = ?, made_at = ? WHERE design = ? AND step = ?",
                    "blll", joined, (gsize) n_joined, bw_library_now (), id, step);
  sqlite3_free (joined);
  *merged = ok;

  return ok;
}

static gboolean
add_step (BwLibrary   *library,
          gint64       id,
          gint64       step,
          const char  *label,
          void        *changes,
          int          n_changes,
          GError     **error)
{
  return bw_sql_do (library, error,
                    "INSERT INTO undo_step (design, step, made_at, label, changeset)"
                    " VALUES (?, ?, ?, ?, ?)",
                    "lllsb", id, step, bw_library_now (), label, changes, (gsize) n_changes) &&
         bw_sql_do (library, error, "UPDATE design_head SET undo_step = ? WHERE design = ?", "ll",
                    step, id) &&
         bw_sql_do (library, error, "DELETE FROM undo_step WHERE design = ? AND step <= ?", "ll",
                    id, step - BW_LIBRARY_UNDO_MAX);
}

static gboolean
keep_changes (BwLibrary   *library,
              gint64       id,
              const char  *label,
              gboolean     merge,
              void        *changes,
              int          n_changes,
              GError     **error)
{
  gboolean merged = FALSE;
  gint64 step;

  if (!bw_sql_get_int (library, &step, error, "SELECT undo_step FROM design_head WHERE design = ?",
                       "l", id))
    return FALSE;

  /* what could have been redone is gone once something else is done */
  if (!bw_sql_do (library, error, "DELETE FROM undo_step WHERE design = ? AND step > ?", "ll", id,
                  step))
    return FALSE;

  if (merge && !merge_step (library, id, step, label, changes, n_changes, &merged, error))
    return FALSE;

  return merged || add_step (library, id, step + 1, label, changes, n_changes, error);
}

/*
 * bw_recording_keep:
 * @changed: (out): %FALSE if nothing was changed; then there is no step
 *
 * Keeps what was recorded as the design's last undo step. Within the
 * transaction in which it was recorded.
 */
gboolean
bw_recording_keep (BwRecording  *recording,
                   gint64        id,
                   const char   *label,
                   gboolean      merge,
                   gboolean     *changed,
                   GError      **error)
{
  void *changes = NULL;
  gboolean ok = TRUE;
  int n_changes = 0;
  int rc = sqlite3session_changeset (recording->session, &n_changes, &changes);

  if (rc != SQLITE_OK)
    {
      bw_library_set_error (error, NULL, rc, recording->library->path);
      return FALSE;
    }

  *changed = n_changes > 0;
  if (*changed)
    ok = keep_changes (recording->library, id, label, merge, changes, n_changes, error);
  sqlite3_free (changes);

  return ok;
}

/* ---- undo and redo -------------------------------------------------------- */

/* The rows are as the step left them, as nobody else writes them: any conflict
 * means that the file was changed behind our back. */
static int
refuse_conflict (void                    *data,
                 int                      conflict,
                 sqlite3_changeset_iter  *iterator)
{
  (void) data;
  (void) conflict;
  (void) iterator;

  return SQLITE_CHANGESET_ABORT;
}

static gboolean
apply (BwLibrary   *library,
       const void  *changes,
       int          n_changes,
       gboolean     invert,
       GError     **error)
{
  int rc = sqlite3changeset_apply_v2 (library->db, n_changes, (void *) changes, NULL,
                                      refuse_conflict, NULL,
                                      NULL, NULL, invert ? SQLITE_CHANGESETAPPLY_INVERT : 0);

  if (rc == SQLITE_OK)
    return TRUE;

  if (rc == SQLITE_ABORT)
    g_set_error (error, BW_LIBRARY_ERROR, BW_LIBRARY_ERROR_CONFLICT,
                 "the design was changed by another program; its undo history no longer fits");
  else
    bw_library_set_error (error, library->db, rc, library->path);

  return FALSE;
}

static gboolean
apply_step (BwLibrary   *library,
            gint64       id,
            gint64       step,
            gboolean     undo,
            GError     **error)
{
  sqlite3_stmt *statement = bw_sql_start (library, error,
                                          "SELECT changeset FROM undo_step WHERE design = ?"
                                          " AND step = ?",
                                          "ll", id, step);
  g_autoptr (GBytes) changes = NULL;
  BwStep result;

  if (statement == NULL)
    return FALSE;

  result = bw_sql_step (library, statement, error);
  if (result == BW_STEP_DONE)
    g_set_error (error, BW_LIBRARY_ERROR, BW_LIBRARY_ERROR_MISSING,
                 undo ? "there is nothing to undo" : "there is nothing to redo");
  if (result != BW_STEP_ROW)
    return FALSE;

  changes = g_bytes_new (sqlite3_column_blob (statement, 0),
                         (gsize) sqlite3_column_bytes (statement, 0));
  bw_sql_done (statement);

  return apply (library, g_bytes_get_data (changes, NULL), (int) g_bytes_get_size (changes), undo,
                error);
}

static gboolean
move_in_history (BwLibrary  *library,
                 gint64      id,
                 gboolean    undo,
                 gint64     *version,
                 GError    **error)
{
  gint64 step;

  if (!bw_sql_get_int (library, &step, error, "SELECT undo_step FROM design_head WHERE design = ?",
                       "l", id))
    return FALSE;

  return apply_step (library, id, undo ? step : step + 1, undo, error) &&
         bw_sql_do (library, error, "UPDATE design_head SET undo_step = ? WHERE design = ?", "ll",
                    undo ? step - 1 : step + 1, id) &&
         bw_library_bump (library, id, version, error);
}

static gboolean
move_in_transaction (BwLibrary  *library,
                     gint64      id,
                     gboolean    undo,
                     gint64     *version,
                     GError    **error)
{
  gboolean ok;

  if (!bw_library_begin (library, error))
    return FALSE;

  ok = move_in_history (library, id, undo, version, error);

  return bw_library_end (library, ok, error);
}

/**
 * bw_library_undo:
 * @library: a library
 * @id: a design
 * @version: (out) (optional): the version that it has now
 * @error: return location; BW_LIBRARY_ERROR_MISSING if there is nothing to undo
 *
 * Takes back the last saved edit that is not taken back yet.
 *
 * Returns: %TRUE if the design is as it was before
 */
gboolean
bw_library_undo (BwLibrary  *library,
                 gint64      id,
                 gint64     *version,
                 GError    **error)
{
  g_return_val_if_fail (library != NULL, FALSE);

  return move_in_transaction (library, id, TRUE, version, error);
}

/**
 * bw_library_redo:
 * @library: a library
 * @id: a design
 * @version: (out) (optional): the version that it has now
 * @error: return location; BW_LIBRARY_ERROR_MISSING if there is nothing to redo
 *
 * Does again what was last taken back.
 *
 * Returns: %TRUE if the edit is there again
 */
gboolean
bw_library_redo (BwLibrary  *library,
                 gint64      id,
                 gint64     *version,
                 GError    **error)
{
  g_return_val_if_fail (library != NULL, FALSE);

  return move_in_transaction (library, id, FALSE, version, error);
}

/**
 * bw_library_get_undo:
 * @library: a library
 * @id: a design
 * @undo_label: (out) (optional) (nullable): what undoing would take back
 * @redo_label: (out) (optional) (nullable): what redoing would do again
 * @n_undo: (out) (optional): how many steps can be undone
 * @n_redo: (out) (optional): how many can be redone
 * @error: return location
 *
 * Tells what the undo history holds.
 *
 * Returns: %TRUE if it was read
 */
gboolean
bw_library_get_undo (BwLibrary  *library,
                     gint64      id,
                     char      **undo_label,
                     char      **redo_label,
                     guint      *n_undo,
                     guint      *n_redo,
                     GError    **error)
{
  sqlite3_stmt *statement;
  BwStep step;

  g_return_val_if_fail (library != NULL, FALSE);

  statement = bw_sql_start (library, error,
                            "SELECT (SELECT label FROM undo_step WHERE design = h.design"
                            " AND step = h.undo_step),"
                            " (SELECT label FROM undo_step WHERE design = h.design"
                            " AND step = h.undo_step + 1),"
                            " (SELECT count (*) FROM undo_step WHERE design = h.design"
                            " AND step <= h.undo_step),"
                            " (SELECT count (*) FROM undo_step WHERE design = h.design"
                            " AND step > h.undo_step)"
                            " FROM design_head h WHERE design = ?",
                            "l", id);
  if (statement == NULL)
    return FALSE;

  step = bw_sql_step (library, statement, error);
  if (step == BW_STEP_DONE)
    g_set_error (error, BW_LIBRARY_ERROR, BW_LIBRARY_ERROR_MISSING,
                 "there is no such design in the library; list the designs");
  if (step != BW_STEP_ROW)
    return FALSE;

  if (undo_label != NULL)
    *undo_label = bw_sql_dup_text (statement, 0);
  if (redo_label != NULL)
    *redo_label = bw_sql_dup_text (statement, 1);
  if (n_undo != NULL)
    *n_undo = (guint) sqlite3_column_int (statement, 2);
  if (n_redo != NULL)
    *n_redo = (guint) sqlite3_column_int (statement, 3);
  bw_sql_done (statement);

  return TRUE;
}
