#define G_LOG_DOMAIN "bw-library"

#include "bw-library-design-private.h"
#include "bw-library-yarn-private.h"

/* Lists of designs, and finding as one types. */

#define ENTRY_COLUMNS                                                                        \
  "d.id, d.name, d.code, d.yarn_name,"                                                       \
  " (SELECT group_concat (tag, ', ')"                                                        \
  "    FROM (SELECT tag FROM design_tag WHERE design = d.id ORDER BY tag)),"                 \
  " h.version, h.changed_at, h.binned_at,"                                                   \
  " (SELECT count (*) FROM revision WHERE design = d.id)"

/**
 * bw_library_entry_free:
 * @entry: (nullable) (transfer full): an entry
 *
 * Frees @entry and all it owns.
 */
void
bw_library_entry_free (BwLibraryEntry *entry)
{
  if (entry == NULL)
    return;

  g_free (entry->name);
  g_free (entry->code);
  g_free (entry->yarn);
  g_free (entry->tags);
  g_free (entry);
}

static char *
text_or_empty (sqlite3_stmt *statement,
               int           column)
{
  char *text = bw_sql_dup_text (statement, column);

  return text != NULL ? text : g_strdup ("");
}

static BwLibraryEntry *
read_entry (sqlite3_stmt *statement)
{
  BwLibraryEntry *entry = g_new0 (BwLibraryEntry, 1);

  entry->id = sqlite3_column_int64 (statement, 0);
  entry->name = text_or_empty (statement, 1);
  entry->code = text_or_empty (statement, 2);
  entry->yarn = text_or_empty (statement, 3);
  entry->tags = text_or_empty (statement, 4);
  entry->version = sqlite3_column_int64 (statement, 5);
  entry->changed_at = sqlite3_column_int64 (statement, 6);
  entry->binned_at = sqlite3_column_int64 (statement, 7);
  entry->n_revisions = (guint) sqlite3_column_int (statement, 8);

  return entry;
}

static gboolean
read_entries (BwLibrary     *library,
              sqlite3_stmt  *statement,
              GPtrArray     *entries,
              GError       **error)
{
  BwStep step;

  if (statement == NULL)
    return FALSE;

  while ((step = bw_sql_step (library, statement, error)) == BW_STEP_ROW)
    g_ptr_array_add (entries, read_entry (statement));

  return step == BW_STEP_DONE;
}

static GPtrArray *
entries_new (void)
{
  return g_ptr_array_new_with_free_func ((GDestroyNotify) bw_library_entry_free);
}

/**
 * bw_library_list:
 * @library: a library
 * @order: what comes first
 * @binned: the bin, rather than the shelf
 * @limit: how many at most; 0 = all
 * @error: return location
 *
 * Returns: (transfer full) (element-type BwLibraryEntry) (nullable): the designs
 */
GPtrArray *
bw_library_list (BwLibrary       *library,
                 BwLibraryOrder   order,
                 gboolean         binned,
                 guint            limit,
                 GError         **error)
{
  static const char by_name[] =
    "SELECT " ENTRY_COLUMNS " FROM design d JOIN design_head h ON h.design = d.id"
    " WHERE (h.binned_at IS NOT NULL) = ? ORDER BY d.name COLLATE NOCASE, d.id LIMIT ?";
  static const char by_change[] =
    "SELECT " ENTRY_COLUMNS " FROM design_head h JOIN design d ON d.id = h.design"
    " WHERE (h.binned_at IS NOT NULL) = ? ORDER BY h.changed_at DESC, h.design LIMIT ?";
  g_autoptr (GPtrArray) entries = entries_new ();
  sqlite3_stmt *statement;

  g_return_val_if_fail (library != NULL, NULL);

  statement = bw_sql_start (library, error, order == BW_LIBRARY_ORDER_NAME ? by_name : by_change,
                            "il", binned ? 1 : 0, limit > 0 ? (gint64) limit : (gint64) -1);

  return read_entries (library, statement, entries, error) ? g_steal_pointer (&entries) : NULL;
}

/**
 * bw_library_list_marks:
 * @library: a library
 * @binned: the bin, rather than the shelf
 * @after: (nullable): the last mark that is known; %NULL = from the beginning
 * @limit: how many at most
 * @marks: (element-type BwLibraryMark): what is found is appended
 * @error: return location
 *
 * Lists designs, last changed first, by nothing but their numbers: a list of a
 * hundred thousand is known in little time, piece by piece, and asks
 * bw_library_get_entry() about those that it shows.
 *
 * Returns: whether it could be read
 */
gboolean
bw_library_list_marks (BwLibrary            *library,
                       gboolean              binned,
                       const BwLibraryMark  *after,
                       guint                 limit,
                       GArray               *marks,
                       GError              **error)
{
  static const char first[] =
    "SELECT design, changed_at FROM design_head WHERE (binned_at IS NOT NULL) = ?"
    " ORDER BY changed_at DESC, design LIMIT ?";
  static const char next[] =
    "SELECT design, changed_at FROM design_head WHERE changed_at <= ?"
    " AND NOT (changed_at = ? AND design <= ?) AND (binned_at IS NOT NULL) = ?"
    " ORDER BY changed_at DESC, design LIMIT ?";
  sqlite3_stmt *statement;
  BwStep step;

  g_return_val_if_fail (library != NULL && marks != NULL, FALSE);

  statement = after == NULL
    ? bw_sql_start (library, error, first, "ii", binned ? 1 : 0, (int) limit)
    : bw_sql_start (library, error, next, "lllii", after->changed_at, after->changed_at, after->id,
                    binned ? 1 : 0, (int) limit);
  if (statement == NULL)
    return FALSE;

  while ((step = bw_sql_step (library, statement, error)) == BW_STEP_ROW)
    {
      BwLibraryMark mark = { sqlite3_column_int64 (statement, 0),
                             sqlite3_column_int64 (statement, 1) };

      g_array_append_val (marks, mark);
    }

  return step == BW_STEP_DONE;
}

/*
 * bw_library_question:
 *
 * What is typed becomes a question to the index: every word must begin a word
 * of what is sought. Anything but letters and digits parts words, so nothing
 * that is typed has a meaning to the index itself.
 *
 * Returns: (transfer full): the question; empty where no word was typed
 */
char *
bw_library_question (const char *typed)
{
  g_autofree char *valid = g_utf8_make_valid (typed, -1);
  GString *question = g_string_new (NULL);
  gboolean in_word = FALSE;

  for (const char *p = valid; *p != '\0'; p = g_utf8_next_char (p))
    {
      gunichar c = g_utf8_get_char (p);
      gboolean word = g_unichar_isalnum (c) || g_unichar_ismark (c);

      if (word && !in_word)
        g_string_append (question, question->len > 0 ? " \"" : "\"");
      else if (!word && in_word)
        g_string_append (question, "\"*");
      if (word)
        g_string_append_unichar (question, c);
      in_word = word;
    }
  if (in_word)
    g_string_append (question, "\"*");

  return g_string_free (question, FALSE);
}

/**
 * bw_library_search:
 * @library: a library
 * @typed: what was typed: beginnings of words, in any order
 * @limit: how many at most
 * @error: return location
 *
 * Finds designs on the shelf in which every word typed begins a word of the
 * name, the code, the designer, the tags, the notes or the yarn; accents and
 * case do not matter. The newest come first.
 *
 * Returns: (transfer full) (element-type BwLibraryEntry) (nullable): the
 * designs; none where no word was typed
 */
GPtrArray *
bw_library_search (BwLibrary   *library,
                   const char  *typed,
                   guint        limit,
                   GError     **error)
{
  g_autoptr (GPtrArray) entries = entries_new ();
  g_autofree char *question = NULL;
  sqlite3_stmt *statement;

  g_return_val_if_fail (library != NULL && typed != NULL, NULL);

  question = bw_library_question (typed);
  if (question[0] == '\0')
    return g_steal_pointer (&entries);

  /* CROSS JOIN: the index leads, whatever the planner thinks of it */
  statement = bw_sql_start (library, error,
                            "SELECT " ENTRY_COLUMNS " FROM design_search s"
                            " CROSS JOIN design_head h ON h.design = s.rowid"
                            " CROSS JOIN design d ON d.id = s.rowid"
                            " WHERE design_search MATCH ? AND h.binned_at IS NULL"
                            " ORDER BY s.rowid DESC LIMIT ?",
                            "si", question, (int) limit);

  return read_entries (library, statement, entries, error) ? g_steal_pointer (&entries) : NULL;
}

/**
 * bw_library_get_entry:
 * @library: a library
 * @id: a design
 * @error: return location
 *
 * Returns: (transfer full) (nullable): what a list shows of it
 */
BwLibraryEntry *
bw_library_get_entry (BwLibrary  *library,
                      gint64      id,
                      GError    **error)
{
  g_autoptr (GPtrArray) entries = entries_new ();
  sqlite3_stmt *statement;

  g_return_val_if_fail (library != NULL, NULL);

  statement = bw_sql_start (library, error,
                            "SELECT " ENTRY_COLUMNS
                            " FROM design d JOIN design_head h ON h.design = d.id WHERE d.id = ?",
                            "l", id);
  if (!read_entries (library, statement, entries, error))
    return NULL;

  if (entries->len == 0)
    {
      g_set_error (error, BW_LIBRARY_ERROR, BW_LIBRARY_ERROR_MISSING,
                   "there is no such design in the library; list the designs");
      return NULL;
    }

  return g_ptr_array_steal_index (entries, 0);
}

/* A number, or a code, or a name: the first of these that fits one design. */
static gboolean
find_by (BwLibrary   *library,
         const char  *sql,
         const char  *name,
         gint64      *id,
         guint       *n_found,
         GError     **error)
{
  sqlite3_stmt *statement = bw_sql_start (library, error, sql, "s", name);
  BwStep step;

  *n_found = 0;
  if (statement == NULL)
    return FALSE;

  while ((step = bw_sql_step (library, statement, error)) == BW_STEP_ROW)
    {
      *id = sqlite3_column_int64 (statement, 0);
      (*n_found)++;
    }

  return step == BW_STEP_DONE;
}

/**
 * bw_library_find:
 * @library: a library
 * @name: a design's name or code, in any case, or its number
 * @id: (out): the design
 * @error: return location; BW_LIBRARY_ERROR_EXISTS where several are called that
 *
 * Finds the design that people mean. Names come before numbers.
 *
 * Returns: %TRUE if there is exactly one
 */
gboolean
bw_library_find (BwLibrary   *library,
                 const char  *name,
                 gint64      *id,
                 GError     **error)
{
  static const char *const ways[] = {
    "SELECT design FROM design_head JOIN design ON design.id = design"
    " WHERE name = ? COLLATE NOCASE AND binned_at IS NULL",
    "SELECT design FROM design_head JOIN design ON design.id = design"
    " WHERE code = ? COLLATE NOCASE AND code <> '' AND binned_at IS NULL",
    "SELECT design FROM design_head WHERE cast (design AS TEXT) = ?",
  };
  guint n_found = 0;

  g_return_val_if_fail (library != NULL && name != NULL && id != NULL, FALSE);

  for (gsize i = 0; i < G_N_ELEMENTS (ways) && n_found == 0; i++)
    if (!find_by (library, ways[i], name, id, &n_found, error))
      return FALSE;

  if (n_found == 1)
    return TRUE;

  g_set_error (error, BW_LIBRARY_ERROR,
               n_found == 0 ? BW_LIBRARY_ERROR_MISSING : BW_LIBRARY_ERROR_EXISTS,
               n_found == 0 ? "there is no design \"%s\" in the library; list the designs"
                            : "several designs are called \"%s\"; give the number instead",
               name);
  return FALSE;
}
