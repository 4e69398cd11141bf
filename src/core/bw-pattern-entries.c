#define G_LOG_DOMAIN "bw-core"

#include "bw-pattern-private.h"

/* The rounds of one size in the order of work. Lines stand in the order of the
 * text; "Rnds 5, 7 and 9" and "Rnds 6, 8 and 10" take turns, so where a scope has
 * such, its runs are sorted by number. Else a number out of order is a wrong
 * number, and the text's order is that of the work. */

typedef struct
{
  const BwPattern *pattern;
  guint            size;
  GArray          *entries;
  guint32          scope;
  guint32          last;     /* number worked last in the scope */
  guint32          section;
  gboolean         row;
  gboolean         mixed;    /* numbers of the scope do not rise, */
  gboolean         in_turn;  /* as lines take turns: sort */
  guint            begin;    /* index of the scope's first entry */
} Collector;

static int
compare_entries (gconstpointer a,
                 gconstpointer b)
{
  const BwPatternEntry *x = a;
  const BwPatternEntry *y = b;

  if (x->number != y->number)
    return x->number < y->number ? -1 : 1;
  return (x->line > y->line) - (x->line < y->line);
}

static void
end_scope (Collector *collector)
{
  BwPatternEntry *entries = (BwPatternEntry *) (void *) collector->entries->data;
  guint n = collector->entries->len - collector->begin;

  if (collector->mixed && collector->in_turn && n > 1)
    qsort (entries + collector->begin, n, sizeof (BwPatternEntry), compare_entries);
  collector->mixed = collector->in_turn = FALSE;
  collector->begin = collector->entries->len;
  collector->scope++;
  collector->last = 0;
}

static void
add (Collector *collector,
     guint      line,
     guint32    number,
     guint32    n)
{
  BwPatternEntry entry = { line, number, n, collector->scope };

  g_array_append_val (collector->entries, entry);
}

static void
add_span (Collector    *collector,
          guint         index,
          const BwSpan *span)
{
  guint32 n = span->last - span->first + 1;

  if (span->first <= collector->last)
    collector->mixed = TRUE;
  collector->last = MAX (collector->last, span->last);
  add (collector, index, span->first, n);
}

/* How many rounds a line without numbers stands for. */
static guint32
unnumbered_rounds (const Collector     *collector,
                   const BwPatternLine *line)
{
  const BwPattern *pattern = collector->pattern;
  guint32 from = bw_pattern_figure (pattern, line, line->facts.from_list, collector->size);
  guint32 to = bw_pattern_figure (pattern, line, line->facts.to_list, collector->size);
  guint32 times = bw_pattern_figure (pattern, line, line->facts.repeat_list, collector->size);
  guint32 back = bw_pattern_figure (pattern, line, line->facts.back_list, collector->size);
  guint32 rounds = bw_pattern_figure (pattern, line, line->facts.rounds_list, collector->size);
  guint32 period;

  if (line->facts.rounds_list != 0 && rounds != BW_FIGURE_NONE)
    return MIN (rounds, BW_ITEM_COUNT_MAX);
  if (line->facts.back_list != 0 && back != BW_FIGURE_NONE)
    return (guint32) MIN ((guint64) back * (times == BW_FIGURE_NONE || times == 0 ? 1 : times),
                          BW_ITEM_COUNT_MAX);
  if (line->facts.from_list == 0 || from == BW_FIGURE_NONE || to == BW_FIGURE_NONE || to < from)
    return 1;
  period = to - from + 1;
  if (times == BW_FIGURE_NONE || times == 0)
    times = 1;
  return (guint32) MIN ((guint64) period * times, BW_ITEM_COUNT_MAX);
}

/* A new numbering begins with another kind of work, and with a first round. */
static gboolean
begins_scope (const Collector     *collector,
              const BwPatternLine *line,
              guint32              first)
{
  if (collector->entries->len == collector->begin)
    return FALSE;
  if (line->row != collector->row)
    return TRUE;
  return first == 1 && collector->last > 0 &&
         (line->section != collector->section || collector->last >= 3);
}

static void
add_line (Collector           *collector,
          guint                index,
          const BwPatternLine *line)
{
  BwSpan span = { 0, 0 };

  if (line->kind == BW_LINE_JOIN || line->kind == BW_LINE_CLOSE)
    {
      end_scope (collector);
      add (collector, index, 0, 1);
      end_scope (collector);
      return;
    }
  if (line->kind == BW_LINE_FOUNDATION && !line->numbered)
    {
      end_scope (collector);
      add (collector, index, 0, 1);
      collector->row = line->row;
      collector->section = line->section;
      return;
    }

  if (line->numbered)
    span = line->in_turn
             ? g_array_index (collector->pattern->spans, BwSpan, line->first_span)
             : bw_pattern_span (collector->pattern, line, collector->size);
  if (begins_scope (collector, line, span.first))
    end_scope (collector);
  collector->row = line->row;
  collector->section = line->section;
  collector->in_turn |= line->in_turn;

  if (!line->numbered)
    {
      guint32 n = unnumbered_rounds (collector, line);

      add (collector, index, collector->last + 1, n);
      collector->last += n;
    }
  else if (!line->in_turn)
    add_span (collector, index, &span);
  else
    for (guint i = 0; i < line->n_spans; i++)
      add_span (collector, index,
                &g_array_index (collector->pattern->spans, BwSpan, line->first_span + i));
}

/* Appends the runs of rounds of one size, in the order of work. */
void
bw_pattern_entries (const BwPattern *pattern,
                    guint            size,
                    GArray          *entries)
{
  Collector collector = { .pattern = pattern, .size = size, .entries = entries };

  collector.begin = entries->len;
  for (guint i = 0; i < pattern->lines->len; i++)
    {
      const BwPatternLine *line = &g_array_index (pattern->lines, BwPatternLine, i);

      if (bw_pattern_line_works (pattern, line, size))
        add_line (&collector, i, line);
    }
  end_scope (&collector);
}

/* Index of the entry of a scope that has the round of that number; -1 = none. */
static int
find_number (const GArray *entries,
             guint         before,
             guint32       scope,
             guint32       number)
{
  guint low = 0;
  guint high = before;

  while (low < high)
    {
      guint middle = (low + high) / 2;
      const BwPatternEntry *entry = &g_array_index (entries, BwPatternEntry, middle);

      if (entry->scope < scope || (entry->scope == scope && entry->number + entry->n <= number))
        low = middle + 1;
      else
        high = middle;
    }

  if (low < before)
    {
      const BwPatternEntry *entry = &g_array_index (entries, BwPatternEntry, low);

      if (entry->scope == scope && entry->number <= number && entry->number > 0)
        return (int) low;
    }
  return -1;
}

/* The line whose work is done in round `nth` of an entry: its own, or for "rep
 * rnds 2–3" that of the round repeated. NULL when there is no such round. */
const BwPatternLine *
bw_pattern_work_of (const BwPattern *pattern,
                    const GArray    *entries,
                    guint            index,
                    guint            nth,
                    guint            size)
{
  for (guint step = 0; step < 16; step++)
    {
      const BwPatternEntry *entry = &g_array_index (entries, BwPatternEntry, index);
      const BwPatternLine *line = &g_array_index (pattern->lines, BwPatternLine, entry->line);
      guint32 from, to, number;
      int found;

      if (line->facts.back_list != 0)
        {
          guint32 back = bw_pattern_figure (pattern, line, line->facts.back_list, size);

          if (back == BW_FIGURE_NONE || back == 0 || back >= entry->number)
            return NULL;
          number = entry->number - back + nth % back;
          found = find_number (entries, index, entry->scope, number);
          if (found < 0)
            return NULL;
          index = (guint) found;
          nth = number - g_array_index (entries, BwPatternEntry, index).number;
          continue;
        }
      if (line->facts.from_list == 0)
        return line;
      from = bw_pattern_figure (pattern, line, line->facts.from_list, size);
      to = bw_pattern_figure (pattern, line, line->facts.to_list, size);
      if (from == BW_FIGURE_NONE || to == BW_FIGURE_NONE || to < from)
        return NULL;
      number = from + nth % (to - from + 1);
      found = find_number (entries, index, entry->scope, number);
      if (found < 0)
        return NULL;
      index = (guint) found;
      nth = number - g_array_index (entries, BwPatternEntry, index).number;
    }

  return NULL;
}
