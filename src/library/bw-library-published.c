#define G_LOG_DOMAIN "bw-library"

#include "bw-design-file.h"
#include "bw-library-private.h"
#include "bw-library-revision.h"

/* Whether a design, as it is graded now, is what its last revision says: then
 * there is nothing new to publish, and its files may carry that number. */

/* One row of revision_round against the round that was graded. */
static gboolean
is_round (sqlite3_stmt    *statement,
          const BwGrading *grading,
          guint            k,
          guint            i)
{
  const BwGradedSize *size = g_ptr_array_index (grading->sizes, k);
  const BwRound *round = &g_array_index (size->rounds->rounds, BwRound, i);
  g_autofree char *section = bw_sql_dup_text (statement, 2);
  g_autofree char *instruction = bw_sql_dup_text (statement, 6);
  g_autoptr (GString) text = g_string_new (NULL);

  bw_round_print (grading->reference->stitches, size->rounds, round, grading->design->terms, text);
  return (guint) sqlite3_column_int (statement, 0) == k &&
         (guint) sqlite3_column_int (statement, 1) == i &&
         g_str_equal (section, bw_section_id (round->section)) &&
         (sqlite3_column_int (statement, 3) != 0) == round->row &&
         (guint) sqlite3_column_int (statement, 4) == round->number &&
         sqlite3_column_int (statement, 5) == round->colour &&
         g_str_equal (instruction, text->str) &&
         (guint) sqlite3_column_int (statement, 7) == round->stitches_out;
}

static guint
count_rounds (const BwGrading *grading,
              guint            k)
{
  const BwGradedSize *size = g_ptr_array_index (grading->sizes, k);

  return size->rounds->rounds->len;
}

/* @same: all rounds are there, in order, and no others. */
static gboolean
compare_rounds (BwLibrary        *library,
                gint64            revision,
                const BwGrading  *grading,
                gboolean         *same,
                GError          **error)
{
  sqlite3_stmt *statement = bw_sql_start (library, error,
                                          "SELECT size, place, section, is_row, number, colour,"
                                          " instruction, stitches_out FROM revision_round"
                                          " WHERE revision = ? ORDER BY size, place",
                                          "l", revision);
  guint k = 0;
  guint i = 0;
  BwStep step;

  if (statement == NULL)
    return FALSE;

  *same = TRUE;
  while ((step = bw_sql_step (library, statement, error)) == BW_STEP_ROW)
    {
      *same = *same && k < grading->sizes->len && is_round (statement, grading, k, i);
      if (*same && ++i == count_rounds (grading, k))
        {
          k++;
          i = 0;
        }
    }
  *same = *same && k == grading->sizes->len;

  return step == BW_STEP_DONE;
}

/**
 * bw_library_is_published:
 * @library: a library
 * @design: a design
 * @grading: the design as it is graded now
 * @last: (out) (transfer full) (nullable): the last revision where it says the
 *   same; otherwise NULL
 * @error: return location
 *
 * Compares the design file's text and every round.
 *
 * Returns: %FALSE where the library cannot be read
 */
gboolean
bw_library_is_published (BwLibrary        *library,
                         gint64            design,
                         const BwGrading  *grading,
                         BwRevision      **last,
                         GError          **error)
{
  g_autoptr (GPtrArray) revisions = bw_library_get_revisions (library, design, error);
  g_autofree char *was = NULL;
  g_autofree char *is = NULL;
  const BwRevision *newest;
  gboolean same;

  *last = NULL;
  if (revisions == NULL)
    return FALSE;
  if (revisions->len == 0)
    return TRUE;

  newest = g_ptr_array_index (revisions, revisions->len - 1);
  was = bw_library_get_revision_text (library, design, newest->number, error);
  if (was == NULL)
    return FALSE;
  is = bw_design_to_text (grading->reference, grading->design, NULL, NULL);
  if (!g_str_equal (was, is))
    return TRUE;
  if (!compare_rounds (library, newest->id, grading, &same, error))
    return FALSE;

  if (same)
    *last = g_ptr_array_steal_index (revisions, revisions->len - 1);
  return TRUE;
}
