#define G_LOG_DOMAIN "bw-library"

#include "bw-library-design-private.h"
#include "bw-library-design-rows.h"

/* ---- within a transaction ------------------------------------------------ */

/*
 * bw_library_bump:
 * @version: (out) (optional): the new version
 *
 * Marks a design as changed.
 */
gboolean
bw_library_bump (BwLibrary  *library,
                 gint64      id,
                 gint64     *version,
                 GError    **error)
{
  gint64 found;

  if (!bw_sql_do (library, error,
                  "UPDATE design_head SET version = version + 1, changed_at = ? WHERE design = ?",
                  "ll", bw_library_now (), id) ||
      !bw_sql_get_int (library, &found, error, "SELECT version FROM design_head WHERE design = ?",
                       "l", id))
    return FALSE;

  if (version != NULL)
    *version = found;

  return TRUE;
}

/*
 * bw_library_add_rows:
 * @uuid: (nullable): NULL for a new one
 *
 * Adds a design with an empty undo history.
 */
gboolean
bw_library_add_rows (BwLibrary       *library,
                     const BwDesign  *design,
                     const char      *uuid,
                     gint64          *id,
                     GError         **error)
{
  g_autofree char *fresh = uuid == NULL ? g_uuid_string_random () : NULL;
  gint64 now = bw_library_now ();

  return bw_sql_get_int (library, id, error, "SELECT ifnull (max (design), 0) + 1 FROM design_head",
                         "") &&
         bw_sql_do (library, error,
                    "INSERT INTO design_head (design, uuid, created_at, changed_at)"
                    " VALUES (?, ?, ?, ?)",
                    "lsll", *id, uuid != NULL ? uuid : fresh, now, now) &&
         bw_design_rows_save (library, *id, design, error);
}

/* ---- adding, loading, saving ---------------------------------------------- */

/**
 * bw_library_add:
 * @library: a library
 * @design: a design
 * @id: (out): its number in the library
 * @error: return location
 *
 * Adds a design.
 *
 * Returns: %TRUE if it is on disk
 */
gboolean
bw_library_add (BwLibrary       *library,
                const BwDesign  *design,
                gint64          *id,
                GError         **error)
{
  gboolean ok;

  g_return_val_if_fail (library != NULL && design != NULL && id != NULL, FALSE);

  if (!bw_library_begin (library, error))
    return FALSE;

  ok = bw_library_add_rows (library, design, NULL, id, error);

  return bw_library_end (library, ok, error);
}

/**
 * bw_library_load:
 * @library: a library
 * @id: a design
 * @version: (out) (optional): its version, to be given back when it is saved
 * @error: return location
 *
 * Returns: (transfer full) (nullable): the design as it was last saved
 */
BwDesign *
bw_library_load (BwLibrary  *library,
                 gint64      id,
                 gint64     *version,
                 GError    **error)
{
  g_autoptr (BwDesign) design = NULL;
  gint64 found = 0;

  g_return_val_if_fail (library != NULL, NULL);

  if (!bw_library_begin_read (library, error))
    return NULL;

  design = bw_design_rows_load (library, id, error);
  if (design != NULL &&
      !bw_sql_get_int (library, &found, error, "SELECT version FROM design_head WHERE design = ?",
                       "l", id))
    g_clear_pointer (&design, bw_design_free);
  bw_library_end (library, design != NULL, NULL);

  if (design != NULL && version != NULL)
    *version = found;

  return g_steal_pointer (&design);
}

static gboolean
save_edit (BwLibrary       *library,
           gint64           id,
           const BwDesign  *design,
           BwLibraryEdit   *edit,
           GError         **error)
{
  g_autoptr (BwRecording) recording = bw_recording_start (library, error);
  gboolean changed;

  if (recording == NULL || !bw_design_rows_save (library, id, design, error) ||
      !bw_recording_keep (recording, id, edit->label, edit->merge, &changed, error))
    return FALSE;

  return !changed || bw_library_bump (library, id, &edit->version, error);
}

/* What came too late is not thrown away: it becomes a design of its own. */
static gboolean
keep_late_comer (BwLibrary       *library,
                 const BwDesign  *design,
                 BwLibraryEdit   *edit,
                 GError         **error)
{
  g_autoptr (BwDesign) copy = bw_design_copy (design);

  g_free (copy->name);
  copy->name = g_strdup_printf ("%s (kept apart)", design->name);

  return bw_library_add_rows (library, copy, NULL, &edit->kept_as, error);
}

static gboolean
save_in_transaction (BwLibrary       *library,
                     gint64           id,
                     const BwDesign  *design,
                     BwLibraryEdit   *edit,
                     gboolean        *conflict,
                     GError         **error)
{
  gint64 found;

  *conflict = FALSE;
  if (!bw_sql_get_int (library, &found, error, "SELECT version FROM design_head WHERE design = ?",
                       "l", id))
    return FALSE;

  if (edit->version == 0 || edit->version == found)
    {
      edit->version = found;
      return save_edit (library, id, design, edit, error);
    }

  *conflict = TRUE;

  return keep_late_comer (library, design, edit, error);
}

/**
 * bw_library_save:
 * @library: a library
 * @id: a design
 * @design: what it is now
 * @edit: what the edit was, and which version it began from
 * @error: return location
 *
 * Saves an edit as one undo step; where nothing differs there is none. If the
 * design has got another version meanwhile, it is left as it is, what was to be
 * saved is kept as a new design (@edit->kept_as), and the error is
 * BW_LIBRARY_ERROR_CONFLICT: neither version is lost.
 *
 * Returns: %TRUE if it is on disk
 */
gboolean
bw_library_save (BwLibrary       *library,
                 gint64           id,
                 const BwDesign  *design,
                 BwLibraryEdit   *edit,
                 GError         **error)
{
  gint64 version;
  gboolean conflict;
  gboolean ok;

  g_return_val_if_fail (library != NULL && design != NULL && edit != NULL && edit->label != NULL,
                        FALSE);

  version = edit->version;
  edit->kept_as = 0;
  if (!bw_library_begin (library, error))
    return FALSE;

  ok = save_in_transaction (library, id, design, edit, &conflict, error);
  ok = bw_library_end (library, ok, error);
  if (!ok)
    {
      edit->version = version;
      edit->kept_as = 0;
      return FALSE;
    }

  if (conflict)
    g_set_error (error, BW_LIBRARY_ERROR, BW_LIBRARY_ERROR_CONFLICT,
                 "\"%s\" was changed by another program; your version was kept as \"%s (kept"
                 " apart)\"",
                 design->name, design->name);

  return !conflict;
}

/* ---- tags ------------------------------------------------------------------ */

static gboolean
write_tags (BwLibrary          *library,
            gint64              id,
            const char *const  *tags,
            GError            **error)
{
  if (!bw_sql_do (library, error, "DELETE FROM design_tag WHERE design = ?", "l", id))
    return FALSE;

  for (guint i = 0; tags[i] != NULL; i++)
    if (!bw_sql_do (library, error,
                    "INSERT OR IGNORE INTO design_tag (design, tag) VALUES (?, trim (?))", "ls",
                    id, tags[i]))
      return FALSE;

  return bw_library_bump (library, id, NULL, error);
}

/**
 * bw_library_set_tags:
 * @library: a library
 * @id: a design
 * @tags: NULL-terminated
 * @error: return location
 *
 * Gives a design these tags and no others.
 *
 * Returns: %TRUE if they are on disk
 */
gboolean
bw_library_set_tags (BwLibrary          *library,
                     gint64              id,
                     const char *const  *tags,
                     GError            **error)
{
  gboolean ok;

  g_return_val_if_fail (library != NULL && tags != NULL, FALSE);

  if (!bw_library_begin (library, error))
    return FALSE;

  ok = write_tags (library, id, tags, error);

  return bw_library_end (library, ok, error);
}

/**
 * bw_library_get_tags:
 * @library: a library
 * @id: a design
 * @error: return location
 *
 * Returns: (transfer full) (element-type utf8) (nullable): its tags, sorted
 */
GPtrArray *
bw_library_get_tags (BwLibrary  *library,
                     gint64      id,
                     GError    **error)
{
  g_autoptr (GPtrArray) tags = g_ptr_array_new_with_free_func (g_free);
  sqlite3_stmt *statement;
  BwStep step;

  g_return_val_if_fail (library != NULL, NULL);

  statement =
    bw_sql_start (library, error, "SELECT tag FROM design_tag WHERE design = ? ORDER BY tag", "l",
                  id);
  if (statement == NULL)
    return NULL;

  while ((step = bw_sql_step (library, statement, error)) == BW_STEP_ROW)
    g_ptr_array_add (tags, bw_sql_dup_text (statement, 0));

  return step == BW_STEP_DONE ? g_steal_pointer (&tags) : NULL;
}

/* ---- the bin ---------------------------------------------------------------- */

static gboolean
set_binned (BwLibrary  *library,
            gint64      id,
            gint64      when,
            GError    **error)
{
  gboolean ok;

  if (!bw_library_begin (library, error))
    return FALSE;

  ok = bw_sql_do (library, error,
                  "UPDATE design_head SET binned_at = nullif (?, 0) WHERE design = ?", "ll",
                  when, id);
  if (ok && sqlite3_changes (library->db) == 0)
    {
      g_set_error (error, BW_LIBRARY_ERROR, BW_LIBRARY_ERROR_MISSING,
                   "there is no such design in the library; list the designs");
      ok = FALSE;
    }

  return bw_library_end (library, ok, error);
}

/**
 * bw_library_bin:
 * @library: a library
 * @id: a design
 * @error: return location
 *
 * Puts a design into the bin, from which bw_library_unbin() takes it again.
 *
 * Returns: %TRUE if it is there
 */
gboolean
bw_library_bin (BwLibrary  *library,
                gint64      id,
                GError    **error)
{
  g_return_val_if_fail (library != NULL, FALSE);

  return set_binned (library, id, bw_library_now (), error);
}

/**
 * bw_library_unbin:
 * @library: a library
 * @id: a design
 * @error: return location
 *
 * Takes a design out of the bin.
 *
 * Returns: %TRUE if it is back
 */
gboolean
bw_library_unbin (BwLibrary  *library,
                  gint64      id,
                  GError    **error)
{
  g_return_val_if_fail (library != NULL, FALSE);

  return set_binned (library, id, 0, error);
}

static gboolean
remove_for_good (BwLibrary  *library,
                 gint64      id,
                 GError    **error)
{
  static const char *const deletions[] = {
    "DELETE FROM revision_round WHERE revision IN (SELECT id FROM revision WHERE design = ?)",
    "DELETE FROM revision_size WHERE revision IN (SELECT id FROM revision WHERE design = ?)",
    "DELETE FROM revision WHERE design = ?",
    "DELETE FROM undo_step WHERE design = ?",
    "DELETE FROM design_thumbnail WHERE design = ?",
    "DELETE FROM design_tag WHERE design = ?",
    "DELETE FROM design_colourway_colour WHERE design = ?",
    "DELETE FROM design_colourway WHERE design = ?",
    "DELETE FROM design_head WHERE design = ?",
  };

  for (gsize i = 0; i < G_N_ELEMENTS (deletions); i++)
    if (!bw_sql_do (library, error, deletions[i], "l", id))
      return FALSE;

  return bw_design_rows_remove (library, id, error);
}

static gboolean
remove_binned (BwLibrary  *library,
               gboolean    with_revisions,
               guint      *n_removed,
               guint      *n_kept,
               GError    **error)
{
  g_autoptr (GArray) ids = g_array_new (FALSE, FALSE, sizeof (gint64));
  sqlite3_stmt *statement = bw_sql_start (library, error,
                                          "SELECT design, EXISTS (SELECT 1 FROM revision r"
                                          " WHERE r.design = h.design)"
                                          " FROM design_head h WHERE binned_at IS NOT NULL"
                                          " ORDER BY design",
                                          "");
  BwStep step;

  if (statement == NULL)
    return FALSE;

  while ((step = bw_sql_step (library, statement, error)) == BW_STEP_ROW)
    {
      gint64 id = sqlite3_column_int64 (statement, 0);

      if (with_revisions || sqlite3_column_int (statement, 1) == 0)
        g_array_append_val (ids, id);
      else
        (*n_kept)++;
    }
  if (step == BW_STEP_FAILED)
    return FALSE;

  for (guint i = 0; i < ids->len; i++)
    if (!remove_for_good (library, g_array_index (ids, gint64, i), error))
      return FALSE;
  *n_removed = ids->len;

  return TRUE;
}

/**
 * bw_library_empty_bin:
 * @library: a library
 * @with_revisions: whether designs that were published go too
 * @n_removed: (out): how many designs are gone
 * @n_kept: (out): how many stay in the bin because they were published
 * @error: return location
 *
 * Removes for good what is in the bin. A design that has revisions stays,
 * unless it is said that those may go with it.
 *
 * Returns: %TRUE if it is done
 */
gboolean
bw_library_empty_bin (BwLibrary  *library,
                      gboolean    with_revisions,
                      guint      *n_removed,
                      guint      *n_kept,
                      GError    **error)
{
  gboolean ok;

  g_return_val_if_fail (library != NULL && n_removed != NULL && n_kept != NULL, FALSE);

  *n_removed = 0;
  *n_kept = 0;
  if (!bw_library_begin (library, error))
    return FALSE;

  ok = remove_binned (library, with_revisions, n_removed, n_kept, error);

  return bw_library_end (library, ok, error);
}
