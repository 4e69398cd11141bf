#define G_LOG_DOMAIN "bw-core"

#include "bw-pattern-audit-private.h"

/* Findings over a written pattern: the whole of it is gone through once for
 * each size, and once for what concerns no size. Nothing is told without a
 * proof: where the text leaves open how it is meant, it is taken in the way in
 * which the fewest rounds are at fault, the same for all sizes and rounds. */

static void
finding_clear (BwPatternFinding *finding)
{
  g_clear_pointer (&finding->mended, g_free);
}

/* The line of that index. */
const BwPatternLine *
bw_audit_line (const BwPatternAudit *audit,
               guint                 index)
{
  return &g_array_index (audit->pattern->lines, BwPatternLine, index);
}

/* Adds a finding; what else is known of it the caller fills in, before the next. */
BwPatternFinding *
bw_audit_add (BwPatternAudit *audit,
              BwFindingKind   kind,
              BwSeverity      severity,
              BwSlice         where)
{
  BwPatternFinding finding = { .kind = kind, .severity = severity, .offset = where.offset,
                               .length = where.length };

  g_array_append_val (audit->findings, finding);
  return &g_array_index (audit->findings, BwPatternFinding, audit->findings->len - 1);
}

/* --- How the text is meant --- */

static guint
count_misfits (const BwPattern *pattern,
               guint            reading)
{
  guint misfits = 0;

  for (guint k = 0; k < pattern->n_sizes; k++)
    {
      BwPatternWalk walk;
      BwPatternStep step;

      bw_pattern_walk_init (&walk, pattern, k, reading);
      while (bw_pattern_walk_next (&walk, &step))
        misfits += (step.fit.status != BW_FIT_WELL && step.fit.status != BW_FIT_UNKNOWN) ||
                   !step.count_holds;
      bw_pattern_walk_clear (&walk);
    }

  return misfits;
}

/* What suits most sizes suits the text: it says the same to all of them. */
static guint
common_reading (const BwPattern *pattern)
{
  guint best = bw_pattern_best_reading (pattern, 0);
  guint fewest = G_MAXUINT;

  for (guint k = 1; k < pattern->n_sizes; k++)
    {
      guint reading = bw_pattern_best_reading (pattern, k);
      guint misfits;

      if (reading == best)
        continue;
      if (fewest == G_MAXUINT)
        fewest = count_misfits (pattern, best);
      misfits = count_misfits (pattern, reading);
      if (misfits < fewest)
        {
          fewest = misfits;
          best = reading;
        }
    }

  return best;
}

/* --- One size --- */

/* Is the round as wide as the girth that is stated, or the nearest to it so far? */
static void
note_girth (BwAuditSize *facts,
            guint        makes)
{
  double middle = (facts->least + facts->largest) / 2;

  if (facts->largest <= 0)
    return;
  facts->matched |= makes >= facts->least && makes <= facts->largest;
  if (facts->nearest == 0 || ABS (makes - middle) < ABS (facts->nearest - middle))
    facts->nearest = makes;
}

static void
note_round (BwPatternAudit      *audit,
            const BwPatternStep *step,
            guint                size)
{
  BwAuditSize *facts = &audit->sizes[size];
  const BwPatternLine *line = bw_audit_line (audit, step->line);

  facts->closed |= line->kind == BW_LINE_CLOSE;
  if (line->kind != BW_LINE_ROUND && line->kind != BW_LINE_UNREADABLE)
    return;
  facts->digest = facts->digest * 31 + step->fit.makes;
  facts->digest = facts->digest * 31 + step->run;
  if (line->row)
    {
      facts->rows += facts->rounds == 0 ? step->run : 0;
      return;
    }
  facts->rounds += step->run;
  facts->unsure |= step->fit.makes == BW_COUNT_UNKNOWN;
  if (step->fit.makes == BW_COUNT_UNKNOWN)
    return;
  note_girth (facts, step->fit.makes);
  if (step->fit.makes > facts->most)
    {
      facts->most = step->fit.makes;
      facts->widest = step->line;
    }
}

/* Two stated counts in a row that are one too many, each counting on from the
 * last: the join was counted. `first` is the finding of the first of them. */
static void
find_counted_join (BwPatternAudit *audit,
                   guint           begin)
{
  guint run = 0;

  for (guint i = begin; i <= audit->findings->len; i++)
    {
      const BwPatternFinding *finding = i < audit->findings->len
        ? &g_array_index (audit->findings, BwPatternFinding, i) : NULL;
      gboolean drifts = finding != NULL && finding->kind == BW_FINDING_COUNT_DIFFERS &&
                        !finding->row && finding->b == finding->a + 1;

      if (drifts && (run == 0 ||
                     (finding->round == g_array_index (audit->findings, BwPatternFinding,
                                                       i - 1).round + 1 &&
                      finding->a == g_array_index (audit->findings, BwPatternFinding, i - 1).b)))
        {
          run++;
          continue;
        }
      if (run >= 2)
        {
          BwPatternFinding *first = &g_array_index (audit->findings, BwPatternFinding, i - run);

          first->kind = BW_FINDING_JOIN_COUNTED;
          first->severity = BW_SEVERITY_WARNING;
          first->a = run;
          g_array_remove_range (audit->findings, i - run + 1, run - 1);
          i -= run - 1;
        }
      run = drifts ? 1 : 0;
    }
}

static void
walk_size (BwPatternAudit *audit,
           guint           size)
{
  BwPatternWalk walk;
  BwPatternStep step;
  guint begin;
  guint told = G_MAXUINT; /* entry of which something was told */
  g_autofree guint8 *after_fault = NULL;

  bw_pattern_walk_init (&walk, audit->pattern, size, audit->reading);
  after_fault = g_new0 (guint8, walk.entries->len + 1);
  bw_audit_numbers (audit, &walk, after_fault);
  bw_audit_again (audit, &walk);
  bw_audit_sides (audit, &walk);
  bw_audit_stripes (audit, &walk);
  bw_audit_rib (audit, &walk);
  begin = audit->findings->len;
  while (bw_pattern_walk_next (&walk, &step))
    {
      const BwPatternLine *line = bw_audit_line (audit, step.line);
      guint before = audit->findings->len;

      note_round (audit, &step, size);
      audit->sizes[size].faulty |= audit->faulty[step.line] || after_fault[step.entry];
      if (told == step.entry || audit->faulty[step.line] || after_fault[step.entry])
        continue;
      if (line->kind == BW_LINE_JOIN || line->kind == BW_LINE_CLOSE)
        bw_audit_close (audit, &walk, &step);
      else if (line->kind == BW_LINE_ROUND)
        bw_audit_round (audit, &walk, &step);
      if (line->kind == BW_LINE_ROUND && audit->findings->len == before)
        bw_audit_round_stitches (audit, &walk, &step);
      if (audit->findings->len > before)
        told = step.entry;
    }
  audit->sizes[size].faulty |= audit->findings->len > begin;
  find_counted_join (audit, begin);
  bw_pattern_walk_clear (&walk);
}

/* --- In the end --- */

static int
compare (gconstpointer a,
         gconstpointer b)
{
  const BwPatternFinding *x = a;
  const BwPatternFinding *y = b;

  if (x->offset != y->offset)
    return x->offset < y->offset ? -1 : 1;
  if (x->kind != y->kind)
    return x->kind < y->kind ? -1 : 1;
  if (x->round != y->round)
    return x->round < y->round ? -1 : 1;
  if (x->a != y->a)
    return x->a < y->a ? -1 : 1;
  if (x->b != y->b)
    return x->b < y->b ? -1 : 1;
  if (x->sizes != y->sizes)
    return x->sizes < y->sizes ? -1 : 1;
  return 0;
}

static gboolean
same_but_size (const BwPatternFinding *x,
               const BwPatternFinding *y)
{
  return x->kind == y->kind && x->offset == y->offset && x->length == y->length &&
         x->round == y->round && x->a == y->a && x->b == y->b && x->c == y->c &&
         x->low == y->low && x->high == y->high && x->word.offset == y->word.offset &&
         x->other.offset == y->other.offset;
}

/* In the order of the text, one for all sizes of which the same is told. */
static void
settle (BwPatternAudit *audit)
{
  BwPatternFinding *findings = (BwPatternFinding *) (void *) audit->findings->data;
  guint n = audit->findings->len;
  guint kept = 0;

  if (n == 0)
    return;
  qsort (findings, n, sizeof (BwPatternFinding), compare);
  for (guint i = 1; i < n; i++)
    {
      if (same_but_size (&findings[kept], &findings[i]))
        {
          findings[kept].sizes |= findings[i].sizes;
          finding_clear (&findings[i]);
        }
      else if (++kept != i)
        {
          BwPatternFinding moved = findings[i];

          findings[i].mended = NULL;
          findings[kept] = moved;
        }
    }
  g_array_set_size (audit->findings, kept + 1);
}

static void
place (BwPatternAudit *audit)
{
  for (guint i = 0; i < audit->findings->len; i++)
    {
      BwPatternFinding *finding = &g_array_index (audit->findings, BwPatternFinding, i);

      bw_pattern_place (audit->pattern, finding->offset, &finding->line, &finding->column);
    }
}

/**
 * bw_pattern_audit_by:
 * @pattern: a pattern that was read
 * @reference: (nullable): tables to hold its yarns against
 *
 * Looks for what a technical editor would mark. Of each round at fault one thing
 * is told, what explains it best; what follows it is held against the count that
 * the text states, so that a fault stays in its place.
 *
 * Takes time in proportion to the length of the text and the number of its sizes.
 *
 * Returns: (transfer full) (element-type BwPatternFinding): the findings, in the order of
 *   the text; free with g_array_unref()
 */
GArray *
bw_pattern_audit_by (const BwPattern   *pattern,
                     const BwReference *reference)
{
  BwPatternAudit audit = { .pattern = pattern, .reference = reference };

  audit.findings = g_array_new (FALSE, TRUE, sizeof (BwPatternFinding));
  g_array_set_clear_func (audit.findings, (GDestroyNotify) finding_clear);
  audit.trial = g_array_new (FALSE, TRUE, sizeof (BwItem));
  audit.map = g_array_new (FALSE, FALSE, sizeof (guint32));
  audit.faulty = g_new0 (guint8, pattern->lines->len + 1);
  audit.reading = common_reading (pattern);

  bw_audit_unreadable (&audit);
  bw_audit_lists (&audit);
  bw_audit_terms (&audit);
  bw_audit_chains (&audit);
  bw_audit_joins (&audit);
  bw_audit_colours (&audit);
  bw_audit_wording (&audit);
  bw_audit_front (&audit);
  bw_audit_yarn (&audit);
  bw_audit_expect (&audit);
  for (guint k = 0; k < pattern->n_sizes; k++)
    {
      walk_size (&audit, k);
      bw_audit_stitches (&audit, k);
    }
  bw_audit_measures (&audit);
  settle (&audit);
  bw_audit_settle_numbers (&audit);
  place (&audit);

  g_array_unref (audit.trial);
  g_array_unref (audit.map);
  g_free (audit.faulty);
  return audit.findings;
}

/**
 * bw_pattern_audit:
 * @pattern: a pattern that was read
 *
 * The same without tables.
 *
 * Returns: (transfer full) (element-type BwPatternFinding): the findings; free with
 *   g_array_unref()
 */
GArray *
bw_pattern_audit (const BwPattern *pattern)
{
  return bw_pattern_audit_by (pattern, NULL);
}
