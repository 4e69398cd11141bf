#define G_LOG_DOMAIN "bw-core"

#include "bw-pattern-audit-private.h"

#include <string.h>

/* Colours of the rounds against those of the materials, and stripes. */

/* A name stands for a yarn of the materials; names come again and again. */
#define NAMES_KEPT 16

typedef struct
{
  BwPatternAudit *audit;
  BwSlice         names[NAMES_KEPT];
  int             yarns[NAMES_KEPT];
  guint           n;
} Names;

static gboolean
same_text (const BwPatternAudit *audit,
           BwSlice               a,
           BwSlice               b)
{
  const char *text = audit->pattern->text;

  return a.length == b.length && memcmp (text + a.offset, text + b.offset, a.length) == 0;
}

/* Index of the yarn; -1 = none. `fresh` = the name was not met before. */
static int
yarn_of (Names    *names,
         BwSlice   name,
         gboolean *fresh)
{
  int yarn;

  for (guint i = 0; i < MIN (names->n, NAMES_KEPT); i++)
    if (same_text (names->audit, names->names[i], name))
      {
        *fresh = FALSE;
        return names->yarns[i];
      }

  yarn = bw_pattern_yarn_named (names->audit->pattern, name);
  names->names[names->n % NAMES_KEPT] = name;
  names->yarns[names->n % NAMES_KEPT] = yarn;
  names->n++;
  *fresh = TRUE;
  return yarn;
}

/* "A", "MC", "CC2": what patterns call a colour without naming it. */
static gboolean
is_letter (const BwPatternAudit *audit,
           BwSlice               name)
{
  const char *text = audit->pattern->text + name.offset;

  return (name.length == 1 && g_ascii_isupper (text[0])) ||
         (name.length <= 3 && name.length >= 2 && (text[0] == 'M' || text[0] == 'C') &&
          text[1] == 'C');
}

static void
check_name (Names              *names,
            BwSlice             name,
            guint8             *used,
            gboolean            lettered)
{
  BwPatternAudit *audit = names->audit;
  gboolean fresh;
  int yarn;

  if (name.length == 0)
    return;
  yarn = yarn_of (names, name, &fresh);
  if (yarn >= 0)
    used[yarn] = TRUE;
  else if (fresh && lettered && is_letter (audit, name))
    {
      BwPatternFinding *finding = bw_audit_add (audit, BW_FINDING_COLOUR_UNKNOWN,
                                                BW_SEVERITY_ERROR, name);

      finding->word = name;
      bw_audit_name_round (audit, finding);
    }
}

static guint
count_letters (const BwPatternAudit *audit)
{
  guint n = 0;

  for (guint i = 0; i < audit->pattern->front.yarns->len; i++)
    n += g_array_index (audit->pattern->front.yarns, BwPatternYarn, i).letter.length > 0;
  return n;
}

/* Does the letter, or the name, stand alone somewhere behind the first round? */
static gboolean
is_mentioned (const BwPatternAudit *audit,
              BwSlice               word)
{
  const BwPattern *pattern = audit->pattern;
  const char *text = pattern->text;
  const char *at = text + bw_audit_line (audit, 0)->offset;
  const char *end = text + pattern->length;

  if (word.length == 0)
    return FALSE;
  for (; (at = memchr (at, text[word.offset], (gsize) (end - at))) != NULL; at++)
    if ((gsize) (end - at) >= word.length && memcmp (at, text + word.offset, word.length) == 0 &&
        (at == text || !g_ascii_isalnum (at[-1])) && !g_ascii_isalnum (at[word.length]))
      return TRUE;

  return FALSE;
}

/* Colours that the rounds name are listed, and those listed are worked with. */
void
bw_audit_colours (BwPatternAudit *audit)
{
  const BwPattern *pattern = audit->pattern;
  Names names = { .audit = audit };
  gboolean lettered = count_letters (audit) > 0;
  g_autofree guint8 *used = g_new0 (guint8, pattern->front.yarns->len + 1);

  for (guint i = 0; i < pattern->lines->len; i++)
    {
      check_name (&names, bw_audit_line (audit, i)->facts.colour, used, lettered);
      check_name (&names, bw_audit_line (audit, i)->facts.next_colour, used, lettered);
    }
  if (names.n == 0)
    return;
  for (guint i = 0; i < pattern->front.yarns->len; i++)
    {
      const BwPatternYarn *yarn = &g_array_index (pattern->front.yarns, BwPatternYarn, i);

      if (yarn->letter.length == 0 || used[i] || is_mentioned (audit, yarn->letter) ||
          is_mentioned (audit, yarn->name))
        continue;
      bw_audit_add (audit, BW_FINDING_COLOUR_NOT_USED, BW_SEVERITY_ERROR, yarn->letter)->word =
        yarn->letter;
    }
}

/* --- Stripes --- */

typedef struct
{
  guint32 line;    /* index, of its first round */
  guint32 section;
  guint32 number;
  guint32 n;       /* rounds */
  int     yarn;
} Run;

static void
tell_stripe (BwPatternAudit *audit,
             guint           size,
             const Run      *run,
             guint           usual)
{
  BwPatternFinding *finding = bw_audit_add (audit, BW_FINDING_STRIPE_RHYTHM, BW_SEVERITY_WARNING,
                                            bw_audit_label (audit, bw_audit_line (audit,
                                                                                  run->line)));

  finding->sizes = (guint32) 1 << size;
  finding->round = run->number;
  finding->a = run->n;
  finding->b = usual;
}

/* Stripes of one section, without its first and last: of each colour all are
 * equally high, but perhaps one. */
static void
check_stripes (BwPatternAudit *audit,
               guint           size,
               const Run      *runs,
               guint           n)
{
  for (guint i = 1; i + 1 < n; i++)
    {
      guint same = 0;
      guint other = 0;
      guint32 usual = 0;

      for (guint j = 1; j + 1 < n; j++)
        {
          if (j == i || runs[j].yarn != runs[i].yarn)
            continue;
          if (usual == 0)
            usual = runs[j].n;
          same += runs[j].n == usual;
          other += runs[j].n != usual;
        }
      if (same >= 3 && other == 0 && usual != runs[i].n)
        tell_stripe (audit, size, &runs[i], usual);
    }
}

static void
change_colour (Names   *names,
               BwSlice  name,
               int     *yarn)
{
  gboolean fresh;

  if (name.length > 0)
    *yarn = yarn_of (names, name, &fresh);
}

/* A blank line before it, with whatever title follows, begins another part. */
static gboolean
begins_part (const BwPatternAudit *audit,
             guint32               line_index)
{
  guint32 at = bw_audit_line (audit, line_index)->offset;
  const char *text = audit->pattern->text;
  guint lines = 0;
  gboolean blank = TRUE;
  guint32 before = line_index > 0 ? bw_audit_line (audit, line_index - 1)->offset : 0;

  for (; at > before && lines < 4; at--)
    if (text[at - 1] == '\n')
      {
        if (lines++ > 0 && blank)
          return TRUE;
        blank = TRUE;
      }
    else if (!g_ascii_isspace (text[at - 1]))
      {
        blank = FALSE;
      }

  return FALSE;
}

/* A line that says one colour, after one that said another is to come. */
static void
check_change (BwPatternAudit       *audit,
              const BwPatternWalk  *walk,
              const BwPatternEntry *entry,
              BwSlice               said)
{
  const BwPatternLine *line = bw_audit_line (audit, entry->line);
  BwPatternFinding *finding = bw_audit_add (audit, BW_FINDING_COLOUR_CHANGE, BW_SEVERITY_ERROR,
                                            line->facts.colour);

  finding->sizes = (guint32) 1 << walk->size;
  finding->round = entry->number;
  finding->row = line->row;
  finding->word = line->facts.colour;
  finding->other = said;
}

/* Follows the colours of one size from round to round. */
void
bw_audit_stripes (BwPatternAudit      *audit,
                  const BwPatternWalk *walk)
{
  Names names = { .audit = audit };
  g_autoptr (GArray) runs = NULL;
  int yarn = -1;
  guint begin = 0;
  BwSlice next = { 0, 0 };

  if (audit->pattern->front.yarns->len < 2)
    return;
  runs = g_array_new (FALSE, FALSE, sizeof (Run));
  for (guint i = 0; i < walk->entries->len; i++)
    {
      const BwPatternEntry *entry = &g_array_index (walk->entries, BwPatternEntry, i);
      const BwPatternLine *line = bw_audit_line (audit, entry->line);
      Run *last = runs->len > begin ? &g_array_index (runs, Run, runs->len - 1) : NULL;
      Run run = { entry->line, line->section, entry->number, entry->n, 0 };
      int said = -1;

      change_colour (&names, next, &said);
      if (said >= 0)
        yarn = said;
      change_colour (&names, line->facts.colour, &yarn);
      if (said >= 0 && yarn >= 0 && yarn != said && line->facts.colour.length > 0)
        check_change (audit, walk, entry, next);
      next = line->facts.next_colour;
      if (entry->number == 0 || line->row)
        continue;

      run.yarn = yarn;
      if (last != NULL && (last->section != run.section || begins_part (audit, entry->line)))
        {
          check_stripes (audit, walk->size, &g_array_index (runs, Run, begin), runs->len - begin);
          begin = runs->len;
          last = NULL;
        }
      if (last != NULL && last->yarn == yarn)
        last->n += run.n;
      else
        g_array_append_val (runs, run);
    }
  if (runs->len > begin)
    check_stripes (audit, walk->size, &g_array_index (runs, Run, begin), runs->len - begin);
}
