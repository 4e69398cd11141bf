#define G_LOG_DOMAIN "bw-core"

#include "bw-pattern-private.h"

#include <string.h>

#include "bw-error.h"

static BwPattern *
pattern_new (const BwStitchDictionary *dictionary)
{
  BwPattern *pattern = g_new0 (BwPattern, 1);

  pattern->dictionary = dictionary;
  pattern->n_sizes = 1;
  pattern->size_names = g_ptr_array_new_with_free_func (g_free);
  pattern->sections = g_array_new (FALSE, TRUE, sizeof (BwPatternSection));
  pattern->lines = g_array_new (FALSE, TRUE, sizeof (BwPatternLine));
  pattern->spans = g_array_new (FALSE, FALSE, sizeof (BwSpan));
  pattern->items = g_array_new (FALSE, TRUE, sizeof (BwItem));
  pattern->errors = g_array_new (FALSE, FALSE, sizeof (BwPatternError));
  pattern->line_starts = g_array_new (FALSE, FALSE, sizeof (guint32));
  pattern->sources = g_array_new (FALSE, TRUE, sizeof (BwItemSource));
  pattern->scratch = g_array_new (FALSE, TRUE, sizeof (BwItem));
  pattern->sink.sources = g_array_new (FALSE, TRUE, sizeof (BwItemSource));
  pattern->sink.lists = g_array_new (FALSE, FALSE, sizeof (BwNumberList));
  pattern->sink.figures = g_array_new (FALSE, FALSE, sizeof (guint32));
  bw_pattern_front_init (&pattern->front);
  pattern->sink.stitches = g_new0 (guint32, bw_stitch_dictionary_size (dictionary));
  pattern->sink.spellings = g_new0 (guint32, bw_stitch_dictionary_size (dictionary));
  return pattern;
}

/**
 * bw_pattern_free:
 * @pattern: (nullable): a pattern
 */
void
bw_pattern_free (BwPattern *pattern)
{
  if (pattern == NULL)
    return;

  g_ptr_array_unref (pattern->size_names);
  g_array_unref (pattern->sections);
  g_array_unref (pattern->lines);
  g_array_unref (pattern->spans);
  g_array_unref (pattern->items);
  g_array_unref (pattern->errors);
  g_array_unref (pattern->line_starts);
  g_array_unref (pattern->sources);
  g_array_unref (pattern->scratch);
  g_array_unref (pattern->sink.sources);
  g_array_unref (pattern->sink.lists);
  g_array_unref (pattern->sink.figures);
  bw_pattern_front_clear (&pattern->front);
  g_free (pattern->sink.stitches);
  g_free (pattern->sink.spellings);
  g_free (pattern->text);
  g_free (pattern);
}

/* The text as valid UTF-8; a byte that is none becomes U+FFFD and an error. */
static void
take_text (BwPattern  *pattern,
           const char *text,
           gsize       length)
{
  const char *bad;

  if (g_utf8_validate_len (text, length, &bad))
    {
      pattern->text = g_strndup (text, length);
      pattern->length = length;
    }
  else
    {
      BwPatternError error = { (guint32) (bad - text), "text in UTF-8" };

      pattern->text = g_utf8_make_valid (text, (gssize) length);
      pattern->length = strlen (pattern->text);
      g_array_append_val (pattern->errors, error);
    }

  pattern->sink.text = pattern->text;
}

/* --- What can be settled only when all is read --- */

/* Without a list of sizes, the number of figures that most lists have. */
static guint
guess_sizes (const BwPattern *pattern)
{
  guint counts[BW_PATTERN_SIZES_MAX + 1] = { 0 };
  guint best = 1;

  for (guint i = 0; i < pattern->sink.lists->len; i++)
    {
      guint n = g_array_index (pattern->sink.lists, BwNumberList, i).n;

      if (n > 1 && n <= BW_PATTERN_SIZES_MAX)
        counts[n]++;
    }
  for (guint n = 2; n <= BW_PATTERN_SIZES_MAX; n++)
    if (counts[n] > (best > 1 ? counts[best] : 1))
      best = n;

  return best;
}

static guint
count_bits (guint32 bits)
{
  guint n = 0;

  for (; bits != 0; bits &= bits - 1)
    n++;
  return n;
}

/* A list at the end of a line with another number of figures than there are
 * sizes was no number for every size: "x 6 (18)". */
static void
settle_tail (BwPattern     *pattern,
             BwPatternLine *line)
{
  BwLineFacts *facts = &line->facts;
  BwNumberList *list;
  BwNumberList first;
  guint32 n = count_bits (line->sizes);
  guint item = line->first_item + facts->tail_item;

  if (facts->tail == 0 || facts->stated != 0 || facts->tail_item >= line->n_items)
    return;
  list = &g_array_index (pattern->sink.lists, BwNumberList, facts->tail - 1);
  if (list->n == pattern->n_sizes || (n > 0 && list->n == n) || list->n < 2)
    return;
  if (list->n - 1 != pattern->n_sizes && list->n - 1 != 1)
    return;

  first = (BwNumberList) { list->first + 1, list->n - 1, list->offset };
  g_array_index (pattern->items, BwItem, item).count =
    g_array_index (pattern->sink.figures, guint32, list->first);
  g_array_index (pattern->sources, BwItemSource, item).list = 0;
  g_array_append_val (pattern->sink.lists, first);
  facts->stated = pattern->sink.lists->len;
}

#define LINES_BACK 64 /* looked at for the round before: more are between no two numbers */

/* The last number of the lines before `index` that a size works; 0 = none is near. */
static guint32
number_before (const BwPattern *pattern,
               guint            index,
               guint            size)
{
  const BwPatternLine *line = &g_array_index (pattern->lines, BwPatternLine, index);

  for (guint i = index; i-- > 0 && index - i <= LINES_BACK;)
    {
      const BwPatternLine *before = &g_array_index (pattern->lines, BwPatternLine, i);

      if (before->row != line->row)
        return 0;
      if (before->numbered && bw_pattern_line_works (pattern, before, size))
        return before->in_turn ? g_array_index (pattern->spans, BwSpan, before->first_span +
                                                before->n_spans - 1).last
                               : bw_pattern_span (pattern, before, size).last;
    }
  return 0;
}

/* "Rows 2–74 (82, 90)" may say where the other sizes end, or that they work row 82
 * or row 90 only: what goes on from the line before is meant. */
static void
settle_ends (BwPattern     *pattern,
             BwPatternLine *line,
             guint          index)
{
  BwSpan *spans = &g_array_index (pattern->spans, BwSpan, line->first_span);

  if (!line->numbered || line->in_turn || line->n_spans != pattern->n_sizes ||
      line->n_spans < 2 || spans[0].last <= spans[0].first || line->sizes != 0)
    return;
  for (guint k = 1; k < line->n_spans; k++)
    {
      guint32 next = number_before (pattern, index, k) + 1;

      if (spans[k].first == spans[k].last && spans[k].first > spans[0].first &&
          spans[k].first != next && spans[0].first == next)
        spans[k].first = next;
    }
}

static void
settle (BwPattern *pattern)
{
  if (pattern->size_names->len > 0)
    pattern->n_sizes = pattern->size_names->len;
  else
    pattern->n_sizes = guess_sizes (pattern);

  for (guint i = 0; i < pattern->lines->len; i++)
    {
      BwPatternLine *line = &g_array_index (pattern->lines, BwPatternLine, i);

      settle_tail (pattern, line);
      settle_ends (pattern, line, i);
      /* a chain is the foundation of rows when rows follow */
      if (line->kind == BW_LINE_FOUNDATION && i + 1 < pattern->lines->len)
        line->row = g_array_index (pattern->lines, BwPatternLine, i + 1).row;
    }
}

/**
 * bw_pattern_read:
 * @dictionary: the stitches; must outlive the pattern
 * @text: a written pattern, whole or a part of one
 * @length: its length in bytes; -1 = up to the zero byte
 * @terms: a #BwTerms that is known, or BW_TERMS_UNSAID
 * @error: return location for an error
 *
 * Reads a written pattern as people write them. A line that cannot be read is
 * put down in the pattern's errors, and reading goes on behind it. Takes time
 * and memory in proportion to the length.
 *
 * Returns: (transfer full) (nullable): the pattern; NULL with @error set when the text is
 *   too large (BW_ERROR_TOO_LARGE), when nothing tells whether its terms are UK or
 *   US (BW_ERROR_MISSING), or when nothing in it is an instruction (BW_ERROR_SYNTAX)
 */
BwPattern *
bw_pattern_read (const BwStitchDictionary  *dictionary,
                 const char                *text,
                 gssize                     length,
                 int                        terms,
                 GError                   **error)
{
  gsize bytes = length < 0 ? strlen (text) : (gsize) length;
  g_autoptr (BwPattern) pattern = NULL;

  if (bytes > BW_PATTERN_BYTES_MAX)
    {
      g_set_error (error, BW_ERROR, BW_ERROR_TOO_LARGE,
                   "The text is larger than %u MiB, the most a pattern may have",
                   BW_PATTERN_BYTES_MAX / (1024 * 1024));
      return NULL;
    }

  pattern = pattern_new (dictionary);
  take_text (pattern, text, bytes);
  if (terms != BW_TERMS_UNSAID)
    {
      pattern->terms = (BwTerms) terms;
      pattern->terms_from = BW_TERMS_ASKED;
    }
  bw_pattern_find_terms (pattern);
  bw_pattern_read_lines (pattern);
  settle (pattern);

  if (pattern->lines->len == 0)
    {
      g_set_error (error, BW_ERROR, BW_ERROR_SYNTAX,
                   "No round or row is to be found; lines like \"Rnd 1: 6 dc in ring\" are read");
      return NULL;
    }
  if (pattern->terms_from == BW_TERMS_UNKNOWN)
    {
      g_set_error (error, BW_ERROR, BW_ERROR_MISSING,
                   "Nothing in the text tells whether its terms are UK or US; say which");
      return NULL;
    }
  return g_steal_pointer (&pattern);
}

/**
 * bw_pattern_place:
 * @pattern: a pattern
 * @offset: bytes from the beginning of its text
 * @line: (out): the line there, from 1
 * @column: (out): the character in it, from 1
 */
void
bw_pattern_place (const BwPattern *pattern,
                  guint32          offset,
                  guint           *line,
                  guint           *column)
{
  guint low = 0;
  guint high = pattern->line_starts->len;
  guint32 start;

  offset = (guint32) MIN (offset, pattern->length);
  while (high - low > 1)
    {
      guint middle = (low + high) / 2;

      if (g_array_index (pattern->line_starts, guint32, middle) <= offset)
        low = middle;
      else
        high = middle;
    }

  start = pattern->line_starts->len > 0 ? g_array_index (pattern->line_starts, guint32, low) : 0;
  *line = low + 1;
  *column = (guint) g_utf8_strlen (pattern->text + start, (gssize) (offset - start)) + 1;
}

/* --- What a line says for one size --- */

/* Place of the size among those that the line names; -1 = it is not for it. */
static int
place_among (const BwPatternLine *line,
             guint                size)
{
  if (line->sizes == 0)
    return (int) size;
  if ((line->sizes >> size & 1) == 0)
    return -1;
  return (int) count_bits (line->sizes & (((guint32) 1 << size) - 1));
}

/* Index into `n` entries for the size: one for all sizes, one for each size of the
 * pattern, or one for each that the line names; -1 = the number fits neither. */
static int
entry_of (const BwPattern     *pattern,
          const BwPatternLine *line,
          guint                n,
          guint                size)
{
  int place = place_among (line, size);

  if (place < 0)
    return -1;
  if (n == 1)
    return 0;
  if (n == pattern->n_sizes)
    return (int) size;
  if (line->sizes != 0 && n == count_bits (line->sizes))
    return place;
  return -1;
}

/**
 * bw_pattern_span:
 * @pattern: a pattern
 * @line: a line of it with numbers of rounds for each size
 * @size: index of a size
 *
 * Returns: the rounds it stands for in that size; from 0 when it is not worked
 */
BwSpan
bw_pattern_span (const BwPattern     *pattern,
                 const BwPatternLine *line,
                 guint                size)
{
  int entry = entry_of (pattern, line, line->n_spans, size);

  /* a list too short or too long says nothing certain: take what is there */
  if (entry < 0 && place_among (line, size) >= 0)
    entry = (int) MIN (size, line->n_spans - 1);
  if (entry < 0)
    return (BwSpan) { 0, 0 };
  return g_array_index (pattern->spans, BwSpan, line->first_span + (guint) entry);
}

/**
 * bw_pattern_line_works:
 * @pattern: a pattern
 * @line: a line of it
 * @size: index of a size
 *
 * Returns: whether the size works the line
 */
gboolean
bw_pattern_line_works (const BwPattern     *pattern,
                       const BwPatternLine *line,
                       guint                size)
{
  if (place_among (line, size) < 0)
    return FALSE;
  return !line->numbered || line->in_turn || bw_pattern_span (pattern, line, size).first > 0;
}

/**
 * bw_pattern_figure:
 * @pattern: a pattern
 * @line: a line of it
 * @list: index + 1 of a list of numbers of the line
 * @size: index of a size
 *
 * Returns: the number for that size; BW_FIGURE_NONE when there is none
 */
guint32
bw_pattern_figure (const BwPattern     *pattern,
                   const BwPatternLine *line,
                   guint32              list,
                   guint                size)
{
  const BwNumberList *numbers;
  int entry;

  if (list == 0)
    return BW_FIGURE_NONE;
  numbers = &g_array_index (pattern->sink.lists, BwNumberList, list - 1);
  entry = entry_of (pattern, line, numbers->n, size);
  if (entry < 0)
    return BW_FIGURE_NONE;
  return g_array_index (pattern->sink.figures, guint32, numbers->first + (guint) entry);
}

/**
 * bw_pattern_list_fits:
 * @pattern: a pattern
 * @line: a line of it
 * @n: entries of a list in the line
 *
 * Returns: whether the list has one entry, one for each size of the pattern, or
 *   one for each size that the line names
 */
gboolean
bw_pattern_list_fits (const BwPattern     *pattern,
                      const BwPatternLine *line,
                      guint                n)
{
  return n == 1 || n == pattern->n_sizes || (line->sizes != 0 && n == count_bits (line->sizes));
}
