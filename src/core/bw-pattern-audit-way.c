#define G_LOG_DOMAIN "bw-core"

#include "bw-pattern-audit-private.h"

#include <string.h>

/* The way of working: what a beginning chain counts as, where rounds are joined,
 * which side faces, and rounds worked again. */

/* --- Beginning chains --- */

typedef struct
{
  guint32 unsaid[4]; /* index + 1 of the first line with a chain of that height of which nothing is said */
  guint32 yes[4];    /* that counts */
  guint32 no[4];     /* that does not */
} Chains;

static void
tell_chain (BwPatternAudit *audit,
            BwFindingKind   kind,
            BwSeverity      severity,
            guint           line_index,
            guint           height)
{
  const BwPatternLine *line = bw_audit_line (audit, line_index);
  guint32 offset = line->facts.chain > 0 ? line->facts.chain_offset : line->offset;
  BwPatternFinding *finding = bw_audit_add (audit, kind, severity,
                                            bw_audit_slice (offset, offset + 2));

  bw_audit_name_round (audit, finding);
  finding->a = height;
}

static void
note_chain (Chains              *chains,
            const BwPattern     *pattern,
            const BwPatternLine *line,
            guint                index)
{
  guint height = MIN (line->facts.chain > 0 ? line->facts.chain : line->facts.end_chain, 3);
  guint32 *first;

  if (line->kind != BW_LINE_ROUND || height == 0 || line->facts.from_hook != 0)
    return;
  if (line->facts.chain_counts == BW_SAID_YES)
    first = &chains->yes[height];
  else if (line->facts.chain_counts == BW_SAID_NO)
    first = &chains->no[height];
  else if (pattern->chain_said[height] == BW_SAID_NOTHING &&
           pattern->chain_said[0] == BW_SAID_NOTHING)
    first = &chains->unsaid[height];
  else
    return;
  if (*first == 0)
    *first = index + 1;
}

/* A chain of one lifts the yarn for the shortest stitch and never counts, unless
 * the text says so; of taller ones it must be said (common practice, no source). */
void
bw_audit_chains (BwPatternAudit *audit)
{
  const BwPattern *pattern = audit->pattern;
  Chains chains = { { 0 }, { 0 }, { 0 } };

  for (guint i = 0; i < pattern->lines->len; i++)
    note_chain (&chains, pattern, bw_audit_line (audit, i), i);

  for (guint height = 1; height <= 3; height++)
    {
      guint8 said = pattern->chain_said[height] != BW_SAID_NOTHING ? pattern->chain_said[height]
                                                                    : pattern->chain_said[0];

      if (chains.yes[height] != 0 && chains.no[height] != 0)
        tell_chain (audit, BW_FINDING_CHAIN_BOTH_WAYS, BW_SEVERITY_WARNING,
                    MAX (chains.yes[height], chains.no[height]) - 1, height);
      else if (chains.yes[height] != 0 && said == BW_SAID_NO)
        tell_chain (audit, BW_FINDING_CHAIN_BOTH_WAYS, BW_SEVERITY_WARNING,
                    chains.yes[height] - 1, height);
      else if (chains.no[height] != 0 && said == BW_SAID_YES)
        tell_chain (audit, BW_FINDING_CHAIN_BOTH_WAYS, BW_SEVERITY_WARNING,
                    chains.no[height] - 1, height);
      if (height >= 2 && chains.unsaid[height] != 0 && chains.yes[height] == 0 &&
          chains.no[height] == 0)
        tell_chain (audit, BW_FINDING_CHAIN_UNSAID, BW_SEVERITY_ERROR,
                    chains.unsaid[height] - 1, height);
    }
}

/* --- Joins --- */

/* Does a line that is no work say where rounds are joined? */
static gboolean
notes_say_where (const BwPatternAudit *audit)
{
  const BwPattern *pattern = audit->pattern;
  guint next = 0;

  for (guint i = 0; i < pattern->line_starts->len; i++)
    {
      guint32 start = g_array_index (pattern->line_starts, guint32, i);
      guint32 end = bw_audit_end_of_line (audit, start);
      BwSlice line = bw_audit_slice (start, end);

      while (next < pattern->lines->len && bw_audit_line (audit, next)->offset < start)
        next++;
      if (next < pattern->lines->len && bw_audit_line (audit, next)->offset < end)
        continue;
      if (bw_audit_says (audit, line, "join") &&
          (bw_audit_says (audit, line, "first") || bw_audit_says (audit, line, "top of") ||
           bw_audit_says (audit, line, "1st")))
        return TRUE;
    }

  return FALSE;
}

static BwPatternFinding *
tell_join (BwPatternAudit      *audit,
           BwFindingKind        kind,
           const BwPatternLine *line)
{
  guint32 offset = line->facts.join != BW_JOIN_NONE ? line->facts.join_offset : line->offset;
  BwSlice where = line->facts.join != BW_JOIN_NONE
    ? bw_audit_slice (offset, offset + 4) : bw_audit_work (audit, line);
  BwPatternFinding *finding = bw_audit_add (audit, kind, BW_SEVERITY_ERROR, where);

  bw_audit_name_round (audit, finding);
  return finding;
}

static gboolean
may_join (const BwPatternLine *line)
{
  return line->kind == BW_LINE_ROUND && !line->row && line->n_items > 0 &&
         !line->facts.fastened && line->facts.from_list == 0 && !line->facts.evenly;
}

/* Rounds of one section, from `first` up to `end`: all of them join but one. */
static void
check_section_joins (BwPatternAudit *audit,
                     guint           first,
                     guint           end)
{
  guint joined = 0;
  guint open = 0;
  guint open_at = 0;

  for (guint i = first; i < end; i++)
    {
      const BwPatternLine *line = bw_audit_line (audit, i);

      if (!may_join (line))
        continue;
      if (line->facts.join != BW_JOIN_NONE)
        joined++;
      else if (open++ == 0)
        open_at = i;
    }
  if (joined >= 3 && open == 1)
    tell_join (audit, BW_FINDING_JOIN_UNSAID, bw_audit_line (audit, open_at));
}

/* Joined rounds say that they are joined, and where. */
void
bw_audit_joins (BwPatternAudit *audit)
{
  const BwPattern *pattern = audit->pattern;
  guint bare = 0;
  guint begin = 0;

  for (guint i = 0; i < pattern->lines->len; i++)
    {
      const BwPatternLine *line = bw_audit_line (audit, i);

      bare += may_join (line) && line->facts.join == BW_JOIN_BARE;
      if (line->section != bw_audit_line (audit, begin)->section)
        {
          check_section_joins (audit, begin, i);
          begin = i;
        }
    }
  check_section_joins (audit, begin, pattern->lines->len);
  if (bare == 0 || notes_say_where (audit))
    return;

  for (guint i = 0; i < pattern->lines->len; i++)
    {
      const BwPatternLine *line = bw_audit_line (audit, i);

      if (!may_join (line) || line->facts.join != BW_JOIN_BARE)
        continue;
      tell_join (audit, BW_FINDING_JOIN_PLACE, line)->a = bare;
      if (bare > 3)
        return; /* a habit: once is enough */
    }
}

/* --- Rounds worked again --- */

static const BwPatternEntry *
entry_at (const BwPatternWalk *walk,
          guint                index)
{
  return &g_array_index (walk->entries, BwPatternEntry, index);
}

static BwPatternFinding *
tell_again (BwPatternAudit       *audit,
            const BwPatternWalk  *walk,
            const BwPatternEntry *entry,
            BwFindingKind         kind)
{
  const BwPatternLine *line = bw_audit_line (audit, entry->line);
  BwPatternFinding *finding = bw_audit_add (audit, kind, BW_SEVERITY_ERROR,
                                            bw_audit_label (audit, line));

  finding->sizes = (guint32) 1 << walk->size;
  finding->round = entry->number;
  finding->row = line->row;
  return finding;
}

/* Does the line say with which round it ends, or how long it goes on? */
static gboolean
says_end (const BwPatternAudit *audit,
          const BwPatternLine  *line)
{
  BwSlice text = bw_audit_slice (line->offset, bw_audit_end_of_line (audit, line->offset));

  return line->facts.until || bw_audit_says (audit, text, "end") ||
         bw_audit_says (audit, text, "then") || bw_audit_says (audit, text, "finish");
}

static void
check_again (BwPatternAudit       *audit,
             const BwPatternWalk  *walk,
             guint                 index)
{
  const BwPatternEntry *entry = entry_at (walk, index);
  const BwPatternLine *line = bw_audit_line (audit, entry->line);
  const BwPattern *pattern = audit->pattern;
  guint32 from = bw_pattern_figure (pattern, line, line->facts.from_list, walk->size);
  guint32 to = bw_pattern_figure (pattern, line, line->facts.to_list, walk->size);
  guint32 times = bw_pattern_figure (pattern, line, line->facts.repeat_list, walk->size);
  BwPatternFinding *finding;
  guint32 period;

  if (from == BW_FIGURE_NONE || to == BW_FIGURE_NONE || entry->number == 0)
    return;
  period = to >= from ? to - from + 1 : 0;
  if (period == 0 || to >= entry->number ||
      bw_pattern_work_of (pattern, walk->entries, index, 0, walk->size) == NULL)
    {
      finding = tell_again (audit, walk, entry, BW_FINDING_NO_SUCH_ROUND);
      finding->a = from;
      finding->b = to;
    }
  else if (line->facts.repeat_list != 0 && times != BW_FIGURE_NONE && line->numbered &&
           (guint64) times * period != entry->n)
    {
      finding = tell_again (audit, walk, entry, BW_FINDING_REPEAT_TIMES);
      finding->a = entry->n;
      finding->b = period;
      finding->c = times;
      finding->low = entry->n % period == 0 ? entry->n / period : 0;
    }
  else if (line->facts.repeat_list == 0 && entry->n % period != 0 && entry->n > period &&
           !says_end (audit, line))
    {
      finding = tell_again (audit, walk, entry, BW_FINDING_REPEAT_UNFINISHED);
      finding->a = entry->n;
      finding->b = period;
      finding->low = entry->n - entry->n % period;
      finding->high = finding->low + period;
    }
}

/* "Rnds 4–13: rep rnds 2–3": whole repeats, of rounds that are there. */
void
bw_audit_again (BwPatternAudit      *audit,
                const BwPatternWalk *walk)
{
  for (guint i = 0; i < walk->entries->len; i++)
    if (bw_audit_line (audit, entry_at (walk, i)->line)->facts.from_list != 0 &&
        !audit->faulty[entry_at (walk, i)->line])
      check_again (audit, walk, i);
}

/* --- Sides --- */

/* Rows are turned, so every other one shows the right side; rounds are turned
 * where the text says so. A side that is named must be the one that comes. */
void
bw_audit_sides (BwPatternAudit      *audit,
                const BwPatternWalk *walk)
{
  guint32 scope = G_MAXUINT32;
  guint32 number = 0; /* of the last round with a side */
  guint side = 0;
  gboolean turns = FALSE;

  for (guint i = 0; i < walk->entries->len; i++)
    {
      const BwPatternEntry *entry = entry_at (walk, i);
      const BwPatternLine *line = bw_audit_line (audit, entry->line);
      guint wanted;

      if (entry->scope != scope)
        {
          scope = entry->scope;
          side = 0;
          turns = line->row;
        }
      if (line->facts.turned != BW_SAID_NOTHING)
        turns = line->facts.turned == BW_SAID_YES;
      if (line->facts.side == 0 || entry->number == 0)
        continue;

      wanted = turns && (entry->number - number) % 2 != 0 ? 3 - side : side;
      if (side != 0 && wanted != line->facts.side && line->numbered)
        {
          BwPatternFinding *finding = bw_audit_add (audit, BW_FINDING_SIDE, BW_SEVERITY_ERROR,
                                                    bw_audit_label (audit, line));

          finding->sizes = (guint32) 1 << walk->size;
          finding->round = entry->number;
          finding->row = line->row;
          finding->a = line->facts.side;
          continue;
        }
      side = line->facts.side;
      number = entry->number;
    }
}
