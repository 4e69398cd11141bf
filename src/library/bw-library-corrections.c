#define G_LOG_DOMAIN "bw-library"

#include "bw-library-private.h"
#include "bw-library-revision.h"

/* Corrections: what a maker who holds an earlier revision has to know of a
 * later one. Sizes are matched by their id. Within a size, sections are
 * compared one by one: what is alike at their beginning and at their end is
 * set aside, and what is left in between is paired in order. */

typedef struct
{
  char    *section;
  char    *instruction;
  gboolean row;
  guint    number;
  guint    offered;  /* stitches of the round below */
  guint    stitches;
  guint8   colour;
} RoundLine;

typedef struct
{
  char      *id;
  char      *name;
  GPtrArray *rounds; /* of RoundLine */
} SizeLines;

static void
round_line_free (RoundLine *line)
{
  g_free (line->section);
  g_free (line->instruction);
  g_free (line);
}

static void
size_lines_free (SizeLines *size)
{
  g_free (size->id);
  g_free (size->name);
  g_ptr_array_unref (size->rounds);
  g_free (size);
}

/**
 * bw_correction_free:
 * @correction: (nullable) (transfer full): a correction
 *
 * Frees @correction and all it owns.
 */
void
bw_correction_free (BwCorrection *correction)
{
  if (correction == NULL)
    return;

  g_free (correction->size);
  g_free (correction->section);
  g_free (correction->was);
  g_free (correction->is);
  g_free (correction);
}

/* ---- reading two revisions -------------------------------------------------- */

static gboolean
read_sizes (BwLibrary  *library,
            gint64      revision,
            GPtrArray  *sizes,
            GError    **error)
{
  sqlite3_stmt *statement = bw_sql_start (library, error,
                                          "SELECT size, name FROM revision_size"
                                          " WHERE revision = ? ORDER BY place",
                                          "l", revision);
  BwStep step;

  if (statement == NULL)
    return FALSE;

  while ((step = bw_sql_step (library, statement, error)) == BW_STEP_ROW)
    {
      SizeLines *size = g_new0 (SizeLines, 1);

      size->id = bw_sql_dup_text (statement, 0);
      size->name = bw_sql_dup_text (statement, 1);
      size->rounds = g_ptr_array_new_with_free_func ((GDestroyNotify) round_line_free);
      g_ptr_array_add (sizes, size);
    }

  return step == BW_STEP_DONE;
}

static gboolean
read_rounds (BwLibrary  *library,
             gint64      revision,
             GPtrArray  *sizes,
             GError    **error)
{
  sqlite3_stmt *statement = bw_sql_start (library, error,
                                          "SELECT size, section, is_row, number, colour,"
                                          " instruction, stitches_out, stitches_in"
                                          " FROM revision_round WHERE revision = ?"
                                          " ORDER BY size, place",
                                          "l", revision);
  BwStep step;

  if (statement == NULL)
    return FALSE;

  while ((step = bw_sql_step (library, statement, error)) == BW_STEP_ROW)
    {
      guint place = (guint) sqlite3_column_int (statement, 0);
      RoundLine *line;

      if (place >= sizes->len)
        continue;

      line = g_new0 (RoundLine, 1);
      line->section = bw_sql_dup_text (statement, 1);
      line->row = sqlite3_column_int (statement, 2);
      line->number = (guint) sqlite3_column_int (statement, 3);
      line->colour = (guint8) sqlite3_column_int (statement, 4);
      line->instruction = bw_sql_dup_text (statement, 5);
      line->stitches = (guint) sqlite3_column_int (statement, 6);
      line->offered = (guint) sqlite3_column_int (statement, 7);
      g_ptr_array_add (((SizeLines *) g_ptr_array_index (sizes, place))->rounds, line);
    }

  return step == BW_STEP_DONE;
}

static GPtrArray *
read_revision (BwLibrary  *library,
               gint64      design,
               guint       number,
               GError    **error)
{
  g_autoptr (GPtrArray) sizes = g_ptr_array_new_with_free_func ((GDestroyNotify) size_lines_free);
  gint64 id;

  if (!bw_sql_get_int (library, &id, error,
                       "SELECT id FROM revision WHERE design = ? AND number = ?", "ll",
                       design, (gint64) number))
    {
      g_prefix_error (error, "revision %u: ", number);
      return NULL;
    }

  if (!read_sizes (library, id, sizes, error) || !read_rounds (library, id, sizes, error))
    return NULL;

  return g_steal_pointer (&sizes);
}

/* ---- comparing ---------------------------------------------------------------- */

static gboolean
same_work (const RoundLine *a,
           const RoundLine *b)
{
  return a->colour == b->colour && a->stitches == b->stitches && a->row == b->row &&
         g_str_equal (a->instruction, b->instruction);
}

/* @was or @is may be NULL, not both. */
static void
add_correction (GPtrArray       *corrections,
                const SizeLines *size,
                const RoundLine *was,
                const RoundLine *is)
{
  BwCorrection *correction = g_new0 (BwCorrection, 1);
  const RoundLine *line = is != NULL ? is : was;

  correction->kind = was == NULL  ? BW_CORRECTION_ADDED
                     : is == NULL ? BW_CORRECTION_REMOVED
                                  : BW_CORRECTION_CHANGED;
  correction->size = g_strdup (size->name[0] != '\0' ? size->name : size->id);
  correction->section = g_strdup (line->section);
  correction->row = line->row;
  correction->number = line->number;
  correction->old_number = was != NULL ? was->number : 0;
  correction->was = g_strdup (was != NULL ? was->instruction : "");
  correction->is = g_strdup (is != NULL ? is->instruction : "");
  correction->was_stitches = was != NULL ? was->stitches : 0;
  correction->is_stitches = is != NULL ? is->stitches : 0;
  correction->was_colour = was != NULL ? was->colour : 0;
  correction->is_colour = is != NULL ? is->colour : 0;
  correction->was_offered = was != NULL ? was->offered : 0;
  correction->is_offered = is != NULL ? is->offered : 0;
  g_ptr_array_add (corrections, correction);
}

static void
add_size_correction (GPtrArray       *corrections,
                     const SizeLines *size,
                     BwCorrectionKind kind)
{
  BwCorrection *correction = g_new0 (BwCorrection, 1);

  correction->kind = kind;
  correction->size = g_strdup (size->name[0] != '\0' ? size->name : size->id);
  correction->section = g_strdup ("");
  correction->was = g_strdup ("");
  correction->is = g_strdup ("");
  g_ptr_array_add (corrections, correction);
}

/* Lines [a0, a1) of one list against [b0, b1) of the other. */
static void
compare_runs (GPtrArray       *corrections,
              const SizeLines *size,
              gpointer        *a,
              guint            n_a,
              gpointer        *b,
              guint            n_b)
{
  while (n_a > 0 && n_b > 0 && same_work (*a, *b))
    {
      a++;
      b++;
      n_a--;
      n_b--;
    }
  while (n_a > 0 && n_b > 0 && same_work (a[n_a - 1], b[n_b - 1]))
    {
      n_a--;
      n_b--;
    }

  for (guint i = 0; i < MAX (n_a, n_b); i++)
    if (i >= n_a || i >= n_b || !same_work (a[i], b[i]))
      add_correction (corrections, size, i < n_a ? a[i] : NULL, i < n_b ? b[i] : NULL);
}

/* How many lines from @from on are of the section that begins there. */
static guint
section_length (const GPtrArray *lines,
                guint            from)
{
  const RoundLine *first = g_ptr_array_index (lines, from);
  guint n = 1;

  while (from + n < lines->len &&
         g_str_equal (((RoundLine *) g_ptr_array_index (lines, from + n))->section, first->section))
    n++;

  return n;
}

/* Where @section begins, from @from on; @lines->len if it does not. */
static guint
find_section (const GPtrArray *lines,
              guint            from,
              const char      *section)
{
  for (; from < lines->len; from++)
    {
      const RoundLine *line = g_ptr_array_index (lines, from);

      if (g_str_equal (line->section, section))
        break;
    }

  return from;
}

static void
compare_size (GPtrArray       *corrections,
              const SizeLines *was,
              const SizeLines *is)
{
  guint i = 0;
  guint j = 0;

  while (j < is->rounds->len)
    {
      const RoundLine *line = g_ptr_array_index (is->rounds, j);
      guint n_new = section_length (is->rounds, j);
      guint at = find_section (was->rounds, i, line->section);
      guint n_old = 0;

      if (at < was->rounds->len)
        {
          /* sections that are there no more */
          compare_runs (corrections, is, was->rounds->pdata + i, at - i, NULL, 0);
          n_old = section_length (was->rounds, at);
          i = at;
        }
      compare_runs (corrections, is, n_old > 0 ? was->rounds->pdata + i : NULL, n_old,
                    is->rounds->pdata + j, n_new);
      i += n_old;
      j += n_new;
    }

  if (i < was->rounds->len)
    compare_runs (corrections, is, was->rounds->pdata + i, was->rounds->len - i, NULL, 0);
}

static const SizeLines *
find_size (const GPtrArray *sizes,
           const char      *id)
{
  for (guint i = 0; i < sizes->len; i++)
    if (g_str_equal (((SizeLines *) g_ptr_array_index (sizes, i))->id, id))
      return g_ptr_array_index (sizes, i);

  return NULL;
}

static void
compare_sizes (GPtrArray       *corrections,
               const GPtrArray *was,
               const GPtrArray *is)
{
  for (guint i = 0; i < is->len; i++)
    {
      const SizeLines *size = g_ptr_array_index (is, i);
      const SizeLines *old = find_size (was, size->id);

      if (old == NULL)
        add_size_correction (corrections, size, BW_CORRECTION_SIZE_ADDED);
      else
        compare_size (corrections, old, size);
    }

  for (guint i = 0; i < was->len; i++)
    {
      const SizeLines *size = g_ptr_array_index (was, i);

      if (find_size (is, size->id) == NULL)
        add_size_correction (corrections, size, BW_CORRECTION_SIZE_REMOVED);
    }
}

/**
 * bw_library_corrections:
 * @library: a library
 * @design: a design
 * @from: number of the earlier revision
 * @to: number of the later one
 * @error: return location
 *
 * Lists what differs, size by size and round by round, in the order of the
 * later revision.
 *
 * Returns: (transfer full) (element-type BwCorrection) (nullable): none where
 * both say the same
 */
GPtrArray *
bw_library_corrections (BwLibrary  *library,
                        gint64      design,
                        guint       from,
                        guint       to,
                        GError    **error)
{
  g_autoptr (GPtrArray) corrections =
    g_ptr_array_new_with_free_func ((GDestroyNotify) bw_correction_free);
  g_autoptr (GPtrArray) was = NULL;
  g_autoptr (GPtrArray) is = NULL;

  g_return_val_if_fail (library != NULL, NULL);

  was = read_revision (library, design, from, error);
  if (was == NULL)
    return NULL;

  is = read_revision (library, design, to, error);
  if (is == NULL)
    return NULL;

  compare_sizes (corrections, was, is);

  return g_steal_pointer (&corrections);
}
