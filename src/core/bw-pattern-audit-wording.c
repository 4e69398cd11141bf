#define G_LOG_DOMAIN "bw-core"

#include "bw-pattern-audit-private.h"

#include <string.h>

/* The wording: shorthand that can be read in two ways, brackets with two
 * meanings, words left over from another pattern. */

/* --- "2dc" --- */

static void
check_glued (BwPatternAudit *audit)
{
  const BwPattern *pattern = audit->pattern;

  for (guint i = 0; i < pattern->sources->len; i++)
    {
      const BwItemSource *source = &g_array_index (pattern->sources, BwItemSource, i);
      const BwItem *item = &g_array_index (pattern->items, BwItem, i);
      BwPatternFinding *finding;
      guint32 start = source->offset;
      guint32 end;

      /* "2dc in next st" says it */
      if (!(source->flags & BW_SOURCE_GLUED) || !(source->flags & BW_SOURCE_COUNTED) ||
          item->count < 2)
        continue;
      while (start > 0 && pattern->text[start - 1] == ' ')
        start--;
      end = start;
      while (start > 0 && g_ascii_isalnum (pattern->text[start - 1]))
        start--;
      finding = bw_audit_add (audit, BW_FINDING_GLUED, BW_SEVERITY_WARNING,
                              bw_audit_slice (start, end));
      finding->word = bw_audit_slice (start, end);
      bw_audit_name_round (audit, finding);
      return; /* a habit: once is enough */
    }
}

/* --- One kind of bracket for two things --- */

typedef struct
{
  guint32 sizes;    /* offset + 1 of a bracket with the numbers of sizes */
  guint32 repeats;  /* and of one whose contents are repeated */
} Brackets;

static gboolean
is_figures (const char *at,
            const char *end)
{
  gboolean digits = FALSE;

  for (; at < end; at++)
    {
      digits |= g_ascii_isdigit (*at);
      if (g_ascii_isalpha (*at))
        return FALSE;
    }

  return digits;
}

/* Is what stands between round brackets repeated: does "times" or the like follow? */
static gboolean
is_repeated (const char *at,
             const char *end)
{
  BwLexer lexer;
  BwToken token;
  BwWord word;

  bw_lexer_init (&lexer, at, (gsize) (end - at));
  bw_lexer_next (&lexer, &token);
  if (bw_token_is_mark (&token, 'x'))
    return TRUE;
  word = bw_word_of (&token, NULL);
  if (token.kind == BW_TOKEN_NUMBER)
    {
      bw_lexer_next (&lexer, &token);
      return bw_word_of (&token, NULL) == BW_WORD_TIMES || bw_token_is_mark (&token, '(') ||
             bw_token_is_mark (&token, '[');
    }
  return word == BW_WORD_X || word == BW_WORD_TWICE || word == BW_WORD_AROUND;
}

/* The bracket that closes the one at `open`; `end` = none does. */
static guint32
closing_of (const char *text,
            guint32     open,
            guint32     end)
{
  guint depth = 0;

  for (guint32 at = open; at < end; at++)
    {
      if (text[at] == '(')
        depth++;
      else if (text[at] == ')' && --depth == 0)
        return at;
    }

  return end;
}

static void
find_brackets (const char *text,
               guint32     offset,
               guint32     end,
               Brackets   *brackets)
{
  for (guint32 at = offset; at < end; at++)
    {
      guint32 close;

      if (text[at] != '(')
        continue;
      close = closing_of (text, at, end);
      if (close == end)
        return;
      if (is_figures (text + at + 1, text + close))
        {
          /* a list follows a number; alone in brackets it is the stitch count */
          guint32 before = at;

          while (before > offset && text[before - 1] == ' ')
            before--;
          if (before > offset && g_ascii_isdigit (text[before - 1]) && brackets->sizes == 0)
            brackets->sizes = at + 1;
        }
      else if (is_repeated (text + close + 1, text + end) && brackets->repeats == 0)
        {
          brackets->repeats = at + 1;
        }
    }
}

static void
check_brackets (BwPatternAudit *audit)
{
  const BwPattern *pattern = audit->pattern;

  if (pattern->n_sizes < 2)
    return;
  for (guint i = 0; i < pattern->lines->len; i++)
    {
      const BwPatternLine *line = bw_audit_line (audit, i);
      Brackets brackets = { 0, 0 };
      BwPatternFinding *finding;
      BwSlice work;

      if (line->kind != BW_LINE_ROUND || line->n_items == 0)
        continue;
      work = bw_audit_work (audit, line);
      find_brackets (pattern->text, work.offset, work.offset + work.length, &brackets);
      if (brackets.sizes == 0 || brackets.repeats == 0)
        continue;
      finding = bw_audit_add (audit, BW_FINDING_BRACKETS, BW_SEVERITY_WARNING,
                              (BwSlice) { brackets.repeats - 1, 1 });
      bw_audit_name_round (audit, finding);
    }
}

/* --- Words left over --- */

/* "Size XL only: …", where the list of sizes has no XL. */
static void
check_size_names (BwPatternAudit *audit)
{
  const BwPattern *pattern = audit->pattern;

  if (pattern->size_names->len < 2)
    return;
  for (guint i = 0; i < pattern->line_starts->len; i++)
    {
      guint32 start = g_array_index (pattern->line_starts, guint32, i);
      guint32 end = bw_audit_end_of_line (audit, start);
      const char *at = pattern->text + start;
      const char *stop = pattern->text + end;
      const char *name;

      while (at < stop && *at == ' ')
        at++;
      if (stop - at < 8 || g_ascii_strncasecmp (at, "size", 4) != 0)
        continue;
      at += 4;
      at += *at == 's';
      while (at < stop && *at == ' ')
        at++;
      name = at;
      if (*name == ':' || bw_pattern_size_names (pattern, &at, stop) != 0)
        continue;
      while (at < stop && *at != ':')
        at++;
      if (at - name > 6 && at < stop && g_ascii_strncasecmp (at - 5, " only", 5) == 0)
        bw_audit_add (audit, BW_FINDING_STALE, BW_SEVERITY_WARNING,
                      bw_audit_slice ((guint32) (name - pattern->text),
                                      (guint32) (at - 5 - pattern->text)))->word =
          bw_audit_slice ((guint32) (name - pattern->text), (guint32) (at - 5 - pattern->text));
    }
}

/* Rounds that only a chart would tell. */
static void
check_charts (BwPatternAudit *audit)
{
  for (guint i = 0; i < audit->pattern->lines->len; i++)
    {
      const BwPatternLine *line = bw_audit_line (audit, i);
      BwSlice text;
      BwPatternFinding *finding;

      if (line->kind != BW_LINE_UNREADABLE && line->n_items > 0)
        continue;
      text = bw_audit_slice (line->offset, bw_audit_end_of_line (audit, line->offset));
      if (!bw_audit_says (audit, text, "chart"))
        continue;
      finding = bw_audit_add (audit, BW_FINDING_CHART_ONLY, BW_SEVERITY_WARNING, text);
      bw_audit_name_round (audit, finding);
    }
}

/* Looks at how things are put. */
void
bw_audit_wording (BwPatternAudit *audit)
{
  check_glued (audit);
  check_brackets (audit);
  check_size_names (audit);
  check_charts (audit);
}
