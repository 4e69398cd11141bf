#define G_LOG_DOMAIN "bw-core"

#include "bw-pattern-audit-private.h"

/* Numbers for every size, and the numbers of rounds. */

/* --- Lists --- */

typedef struct
{
  BwPatternAudit *audit;
  guint           line;  /* index */
} Lists;

static guint
count_bits (guint32 bits)
{
  guint n = 0;

  for (; bits != 0; bits &= bits - 1)
    n++;
  return n;
}

static void
tell_length (Lists  *lists,
             BwSlice where,
             guint   n)
{
  const BwPatternLine *line = bw_audit_line (lists->audit, lists->line);
  BwPatternFinding *finding = bw_audit_add (lists->audit, BW_FINDING_LIST_LENGTH,
                                            BW_SEVERITY_ERROR, where);

  finding->a = n;
  finding->b = lists->audit->pattern->n_sizes;
  finding->c = count_bits (line->sizes);
  if (line->n_spans > 0)
    finding->round = g_array_index (lists->audit->pattern->spans, BwSpan, line->first_span).first;
  finding->row = line->row;
  lists->audit->faulty[lists->line] = TRUE;
}

static void
check_list (Lists   *lists,
            guint32  list)
{
  const BwPattern *pattern = lists->audit->pattern;
  guint n;

  if (list == 0)
    return;
  n = g_array_index (pattern->sink.lists, BwNumberList, list - 1).n;
  if (!bw_pattern_list_fits (pattern, bw_audit_line (lists->audit, lists->line), n))
    tell_length (lists, bw_audit_list (lists->audit, list), n);
}

/* Of the count of a line the sizes that do not work it have a dash, and no others. */
static void
check_dashes (Lists               *lists,
              const BwPatternLine *line)
{
  const BwPattern *pattern = lists->audit->pattern;
  guint32 stated = line->facts.stated;

  if (stated == 0 || line->in_turn || line->n_spans != pattern->n_sizes || pattern->n_sizes < 2 ||
      g_array_index (pattern->sink.lists, BwNumberList, stated - 1).n != pattern->n_sizes)
    return;
  for (guint k = 0; k < pattern->n_sizes; k++)
    {
      gboolean works = bw_pattern_span (pattern, line, k).first > 0;
      BwPatternFinding *finding;

      if (works == (bw_pattern_figure (pattern, line, stated, k) != BW_FIGURE_NONE))
        continue;
      finding = bw_audit_add (lists->audit, BW_FINDING_LIST_PLACE, BW_SEVERITY_ERROR,
                              bw_audit_list (lists->audit, stated));
      finding->sizes = (guint32) 1 << k;
      finding->round = bw_pattern_span (pattern, line, k).first;
      finding->row = line->row;
      finding->a = works;
    }
}

static void
check_line_lists (Lists               *lists,
                  const BwPatternLine *line)
{
  const BwPattern *pattern = lists->audit->pattern;
  const BwItemSource *sources = (const BwItemSource *) (void *) pattern->sources->data;

  if (line->numbered && !line->in_turn && !bw_pattern_list_fits (pattern, line, line->n_spans))
    tell_length (lists, bw_audit_label (lists->audit, line), line->n_spans);
  for (guint i = line->first_item; i < line->first_item + line->n_items; i++)
    if (sources[i].list != 0)
      check_list (lists, sources[i].list);
  check_list (lists, line->facts.chain_list);
  check_list (lists, line->facts.from_list);
  if (line->facts.to_list != line->facts.from_list)
    check_list (lists, line->facts.to_list);
  check_list (lists, line->facts.repeat_list);
  check_list (lists, line->facts.stated);
  if (line->numbered)
    check_dashes (lists, line);
}

/* Every list of numbers has one for all sizes, or one for each. */
void
bw_audit_lists (BwPatternAudit *audit)
{
  Lists lists = { audit, 0 };

  for (; lists.line < audit->pattern->lines->len; lists.line++)
    check_line_lists (&lists, bw_audit_line (audit, lists.line));
}

/* --- Numbers of rounds --- */

/* The numbering of one size, followed from label to label. */
typedef struct
{
  BwPatternAudit      *audit;
  const BwPatternWalk *walk;
  guint                entry;
  guint32              scope;
  gboolean             begun;    /* something of the scope was seen */
  gboolean             founded;  /* the piece begins here, so that nothing is before it */
  guint32              last;     /* number worked last in the scope */
  guint32              earlier;  /* and in the scope before */
} Numbering;

static const BwPatternEntry *
entry_at (const Numbering *numbering,
          guint            index)
{
  return &g_array_index (numbering->walk->entries, BwPatternEntry, index);
}

static void
tell_number (Numbering     *numbering,
             guint32        wanted)
{
  const BwPatternEntry *entry = entry_at (numbering, numbering->entry);
  const BwPatternLine *line = bw_audit_line (numbering->audit, entry->line);
  BwPatternFinding *finding;

  if (numbering->audit->faulty[entry->line])
    return;
  finding = bw_audit_add (numbering->audit,
                          entry->number > wanted ? BW_FINDING_NUMBER_GAP : BW_FINDING_NUMBER_AGAIN,
                          BW_SEVERITY_ERROR, bw_audit_label (numbering->audit, line));
  finding->sizes = (guint32) 1 << numbering->walk->size;
  finding->round = entry->number;
  finding->row = line->row;
  finding->a = entry->number;
  finding->b = entry->number > wanted ? wanted : numbering->last;
}

/* Is the label alone at fault: does the next one go on as if it were right? */
static gboolean
next_goes_on (const Numbering *numbering,
              guint32          number)
{
  const BwPatternEntry *entry = entry_at (numbering, numbering->entry);
  const BwPatternEntry *next;

  if (numbering->entry + 1 >= numbering->walk->entries->len)
    return FALSE;
  next = entry_at (numbering, numbering->entry + 1);
  return next->scope == entry->scope && next->number == number + entry->n;
}

static gboolean
may_begin (const Numbering *numbering,
           guint32          number)
{
  return number == 1 || (numbering->earlier > 0 && number == numbering->earlier + 1) ||
         (numbering->earlier == 0 && !numbering->founded);
}

/* The first label of a numbering that stands there twice begins another one. */
static gboolean
is_twice (const Numbering *numbering)
{
  const BwPatternEntry *entry = entry_at (numbering, numbering->entry);
  const BwPatternEntry *before = numbering->entry > 0 ? entry_at (numbering, numbering->entry - 1)
                                                      : NULL;
  const BwPatternLine *line = bw_audit_line (numbering->audit, entry->line);

  return before != NULL && entry->number == 1 && before->number == 1 && before->n == entry->n &&
         line->numbered && bw_audit_line (numbering->audit, before->line)->numbered &&
         bw_audit_line (numbering->audit, before->line)->row == line->row &&
         bw_audit_line (numbering->audit, before->line)->section == line->section;
}

static void
begin_scope (Numbering *numbering,
             guint32    scope)
{
  if (numbering->last > 0)
    numbering->earlier = numbering->last;
  numbering->scope = scope;
  numbering->begun = FALSE;
  numbering->founded = FALSE;
  numbering->last = 0;
}

/* Looks at one entry; TRUE when rounds seem to be missing before it, or when it
 * stands there twice: what is below it is not known then. */
static gboolean
check_number (Numbering *numbering)
{
  const BwPatternEntry *entry = entry_at (numbering, numbering->entry);
  const BwPatternLine *line = bw_audit_line (numbering->audit, entry->line);
  guint32 wanted = numbering->last + 1;
  gboolean fault = FALSE;
  gboolean label_only = FALSE;

  if (entry->scope != numbering->scope)
    begin_scope (numbering, entry->scope);
  wanted = numbering->last + 1;
  if (entry->number == 0)
    {
      numbering->founded |= line->kind == BW_LINE_FOUNDATION;
      return FALSE;
    }
  if (!line->numbered)
    {
      numbering->last = entry->number + entry->n - 1;
      numbering->begun = TRUE;
      return FALSE;
    }

  if (!numbering->begun && is_twice (numbering))
    {
      fault = TRUE;
      numbering->last = entry->number;
      tell_number (numbering, wanted + 1);
    }
  else if (numbering->begun ? entry->number != wanted : !may_begin (numbering, entry->number))
    {
      fault = TRUE;
      label_only = next_goes_on (numbering, wanted);
      tell_number (numbering, wanted);
    }
  numbering->last = (label_only ? wanted : entry->number) + entry->n - 1;
  numbering->begun = TRUE;
  return fault && !label_only;
}

/* Holds the labels of one size's rounds against each other. Entries whose number
 * is at fault are marked: what stands below them is not known. */
void
bw_audit_numbers (BwPatternAudit      *audit,
                  const BwPatternWalk *walk,
                  guint8              *after_fault)
{
  Numbering numbering = { .audit = audit, .walk = walk, .scope = G_MAXUINT32 };

  for (; numbering.entry < walk->entries->len; numbering.entry++)
    after_fault[numbering.entry] = check_number (&numbering);
}

/* A label with one number for all sizes that is wrong for some only: the rounds
 * before it are not the same number in every size. */
void
bw_audit_settle_numbers (BwPatternAudit *audit)
{
  const BwPattern *pattern = audit->pattern;
  guint32 all = pattern->n_sizes >= 32 ? G_MAXUINT32 : ((guint32) 1 << pattern->n_sizes) - 1;

  for (guint i = 0; i < audit->findings->len; i++)
    {
      BwPatternFinding *finding = &g_array_index (audit->findings, BwPatternFinding, i);
      BwSlice where = { finding->offset, finding->length };

      if ((finding->kind != BW_FINDING_NUMBER_GAP && finding->kind != BW_FINDING_NUMBER_AGAIN) ||
          finding->sizes == all || pattern->n_sizes == 1 || bw_audit_says (audit, where, "(") ||
          bw_audit_says (audit, where, "size"))
        continue;
      if (finding->kind == BW_FINDING_NUMBER_AGAIN)
        finding->b += 1;
      finding->kind = BW_FINDING_NUMBER_OF_SIZE;
    }
}

/* --- What could not be read --- */

/* Lines that could not be read could not be checked; a word of the other terms
 * is told as what it is. */
void
bw_audit_unreadable (BwPatternAudit *audit)
{
  const BwPattern *pattern = audit->pattern;

  for (guint i = 0; i < pattern->errors->len; i++)
    {
      const BwPatternError *error = &g_array_index (pattern->errors, BwPatternError, i);
      BwLexer lexer;
      BwToken token;
      BwSlice where = { error->offset, 0 };
      gboolean foreign;

      bw_lexer_init (&lexer, pattern->text + error->offset, pattern->length - error->offset);
      bw_lexer_next (&lexer, &token);
      if (token.start == pattern->text + error->offset)
        where.length = (guint32) token.length;
      foreign = where.length > 0 && token.kind == BW_TOKEN_WORD &&
                bw_pattern_foreign_word (pattern->terms, token.start, token.length);
      if (foreign || bw_audit_says (audit, bw_audit_slice (error->offset,
                                                           bw_audit_end_of_line (audit,
                                                                                 error->offset)),
                                    "chart"))
        continue; /* told as what it is */
      bw_audit_add (audit, BW_FINDING_UNREADABLE, BW_SEVERITY_WARNING, where)->wanted =
        error->wanted;
    }
}
