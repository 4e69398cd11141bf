#define G_LOG_DOMAIN "bw-library"

#include "bw-design-file.h"
#include "bw-library-private.h"
#include "bw-library-revision.h"

/* ---- making one ----------------------------------------------------------- */

static gboolean
write_round (BwLibrary           *library,
             gint64               revision,
             int                  size,
             int                  place,
             const BwGrading     *grading,
             const BwRoundList   *list,
             const BwRound       *round,
             GError             **error)
{
  g_autoptr (GString) text = g_string_new (NULL);

  bw_round_print (grading->reference->stitches, list, round, grading->design->terms, text);

  return bw_sql_do (library, error,
                    "INSERT INTO revision_round (revision, size, place, section, is_row, number,"
                    " colour,"
                    " instruction, stitches_in, stitches_out, height_mm, yarn_m)"
                    " VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
                    "liisilisiidd", revision, size, place, bw_section_id (round->section),
                    round->row ? 1 : 0,
                    (gint64) round->number, (int) round->colour, text->str,
                    (int) round->stitches_in,
                    (int) round->stitches_out, round->height_mm, round->yarn_m);
}

static gboolean
write_size (BwLibrary        *library,
            gint64            revision,
            int               place,
            const BwGrading  *grading,
            GError          **error)
{
  const BwGradedSize *graded = g_ptr_array_index (grading->sizes, place);
  const BwSize *wearer = graded->choice->size;

  if (!bw_sql_do (library, error,
                  "INSERT INTO revision_size (revision, place, size, name, head_mm, girth_mm,"
                  " depth_mm, brim_mm,"
                  " brim_rows, brim_stitches, body_stitches, yarn_m)"
                  " VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
                  "lissddddiiid", revision, place, wearer->id,
                  wearer->name != NULL ? wearer->name : "",
                  graded->head_mm, graded->girth_mm, graded->depth_mm, graded->brim_mm,
                  (int) graded->brim_rows,
                  (int) graded->brim_stitches, (int) graded->body_stitches, graded->yarn_m))
    return FALSE;

  for (guint i = 0; i < graded->rounds->rounds->len; i++)
    if (!write_round (library, revision, place, (int) i, grading, graded->rounds,
                      &g_array_index (graded->rounds->rounds, BwRound, i), error))
      return FALSE;

  return TRUE;
}

/* The revision's own row comes last: it seals what is there. */
static gboolean
write_revision (BwLibrary        *library,
                gint64            design,
                const BwGrading  *grading,
                const char       *note,
                const char       *text,
                guint            *number,
                GError          **error)
{
  g_autofree char *uuid = g_uuid_string_random ();
  gint64 id;
  gint64 next;

  if (!bw_sql_get_int (library, &id, error, "SELECT ifnull (max (id), 0) + 1 FROM revision", "") ||
      !bw_sql_get_int (library, &next, error,
                       "SELECT ifnull (max (number), 0) + 1 FROM revision WHERE design = ?",
                       "l", design))
    return FALSE;

  for (guint i = 0; i < grading->sizes->len; i++)
    if (!write_size (library, id, (int) i, grading, error))
      return FALSE;

  *number = (guint) next;

  return bw_sql_do (library, error,
                    "INSERT INTO revision (id, uuid, design, number, made_at, note, name,"
                    " design_text)"
                    " VALUES (?, ?, ?, ?, ?, ?, ?, ?)",
                    "lslllsss", id, uuid, design, next, bw_library_now (), note,
                    grading->design->name, text);
}

static gboolean
write_durably (BwLibrary        *library,
               gint64            design,
               const BwGrading  *grading,
               const char       *note,
               const char       *text,
               guint            *number,
               GError          **error)
{
  gboolean ok;

  /* what is given away must survive the power going, too */
  if (!bw_sql_run (library, "PRAGMA synchronous = FULL", error) ||
      !bw_library_begin (library, error))
    return FALSE;

  ok = write_revision (library, design, grading, note, text, number, error);

  return bw_library_end (library, ok, error);
}

/**
 * bw_library_revise:
 * @library: a library
 * @design: the design it is a revision of
 * @grading: the design as it is graded now
 * @note: what is new in it
 * @number: (out): the revision's number
 * @error: return location
 *
 * Keeps the graded rounds and the design file's text for good. A grading that
 * was refused cannot be kept.
 *
 * Returns: %TRUE if it is on disk, the disk's own cache included
 */
gboolean
bw_library_revise (BwLibrary        *library,
                   gint64            design,
                   const BwGrading  *grading,
                   const char       *note,
                   guint            *number,
                   GError          **error)
{
  g_autofree char *text = NULL;
  gboolean ok;

  g_return_val_if_fail (library != NULL && grading != NULL && note != NULL && number != NULL,
                        FALSE);

  if (grading->refused)
    {
      g_set_error (error, BW_LIBRARY_ERROR, BW_LIBRARY_ERROR_INVALID,
                   "the design cannot be graded as it is; mend its findings first");
      return FALSE;
    }

  text = bw_design_to_text (grading->reference, grading->design, NULL, NULL);
  ok = write_durably (library, design, grading, note, text, number, error);
  bw_sql_run (library, "PRAGMA synchronous = NORMAL", NULL);

  return ok;
}

/* ---- reading ---------------------------------------------------------------- */

/**
 * bw_revision_free:
 * @revision: (nullable) (transfer full): a revision's heading
 *
 * Frees @revision and all it owns.
 */
void
bw_revision_free (BwRevision *revision)
{
  if (revision == NULL)
    return;

  g_free (revision->note);
  g_free (revision->name);
  g_free (revision);
}

/**
 * bw_library_get_revisions:
 * @library: a library
 * @design: a design
 * @error: return location
 *
 * Returns: (transfer full) (element-type BwRevision) (nullable): its revisions,
 * the first one first
 */
GPtrArray *
bw_library_get_revisions (BwLibrary  *library,
                          gint64      design,
                          GError    **error)
{
  g_autoptr (GPtrArray) revisions =
    g_ptr_array_new_with_free_func ((GDestroyNotify) bw_revision_free);
  sqlite3_stmt *statement;
  BwStep step;

  g_return_val_if_fail (library != NULL, NULL);

  statement = bw_sql_start (library, error,
                            "SELECT id, number, made_at, note, name FROM revision"
                            " WHERE design = ? ORDER BY number",
                            "l", design);
  if (statement == NULL)
    return NULL;

  while ((step = bw_sql_step (library, statement, error)) == BW_STEP_ROW)
    {
      BwRevision *revision = g_new0 (BwRevision, 1);

      revision->id = sqlite3_column_int64 (statement, 0);
      revision->number = (guint) sqlite3_column_int (statement, 1);
      revision->made_at = sqlite3_column_int64 (statement, 2);
      revision->note = bw_sql_dup_text (statement, 3);
      revision->name = bw_sql_dup_text (statement, 4);
      g_ptr_array_add (revisions, revision);
    }

  return step == BW_STEP_DONE ? g_steal_pointer (&revisions) : NULL;
}

/**
 * bw_library_get_revision_text:
 * @library: a library
 * @design: a design
 * @number: a revision's number
 * @error: return location
 *
 * Returns: (transfer full) (nullable): the design file that the revision was
 * made of, byte for byte
 */
char *
bw_library_get_revision_text (BwLibrary  *library,
                              gint64      design,
                              guint       number,
                              GError    **error)
{
  sqlite3_stmt *statement;
  char *text;
  BwStep step;

  g_return_val_if_fail (library != NULL, NULL);

  statement = bw_sql_start (library, error,
                            "SELECT design_text FROM revision WHERE design = ? AND number = ?",
                            "ll", design, (gint64) number);
  if (statement == NULL)
    return NULL;

  step = bw_sql_step (library, statement, error);
  if (step == BW_STEP_DONE)
    g_set_error (error, BW_LIBRARY_ERROR, BW_LIBRARY_ERROR_MISSING,
                 "the design has no revision %u; list its revisions", number);
  if (step != BW_STEP_ROW)
    return NULL;

  text = bw_sql_dup_text (statement, 0);
  bw_sql_done (statement);

  return text;
}
