#define G_LOG_DOMAIN "bw-core"

#include "bw-pattern-audit-private.h"

#include <string.h>

/* Where in the text a finding is: the reader keeps where things begin, here is
 * found where they end. Called for findings only, so it may take its time. */

/* The bytes from an offset up to another. */
BwSlice
bw_audit_slice (guint32 offset,
                guint32 end)
{
  return (BwSlice) { offset, end > offset ? end - offset : 0 };
}

/* Where the line of the text ends that an offset is in. */
guint32
bw_audit_end_of_line (const BwPatternAudit *audit,
                      guint32               offset)
{
  const char *text = audit->pattern->text;
  guint32 end = (guint32) audit->pattern->length;

  while (offset < end && text[offset] != '\n' && text[offset] != '\r')
    offset++;
  return offset;
}

static guint32
trim (const BwPatternAudit *audit,
      guint32               offset,
      guint32               end)
{
  const char *text = audit->pattern->text;

  while (end > offset && g_ascii_isspace (text[end - 1]))
    end--;
  return end;
}

/* "Rnds 8–10 (9–11)": the label of a line, without what ends it. */
BwSlice
bw_audit_label (const BwPatternAudit *audit,
                const BwPatternLine  *line)
{
  const char *text = audit->pattern->text;
  guint32 end = bw_audit_end_of_line (audit, line->offset);

  if (line->numbered)
    for (guint32 at = line->offset; at < end; at++)
      if (text[at] == ':')
        {
          end = at;
          break;
        }
  if (line->numbered && line->n_items > 0)
    end = MIN (end, MAX (line->offset + 1,
                         g_array_index (audit->pattern->sources, BwItemSource,
                                        line->first_item).offset));
  return bw_audit_slice (line->offset, trim (audit, line->offset, end));
}

/* Where a list begins. Of a single number the reader keeps what follows it. */
static guint32
offset_of_list (const BwPatternAudit *audit,
                guint32               list)
{
  const BwNumberList *numbers = &g_array_index (audit->pattern->sink.lists, BwNumberList, list - 1);
  const char *text = audit->pattern->text;
  guint32 offset = numbers->offset;

  if (numbers->n != 1 || strchr ("([{-", text[offset]) != NULL || g_ascii_isdigit (text[offset]) ||
      (guchar) text[offset] >= 0x80)
    return offset;
  while (offset > 0 && text[offset - 1] == ' ')
    offset--;
  if (offset == 0 || !g_ascii_isdigit (text[offset - 1]))
    return numbers->offset;
  while (offset > 0 && g_ascii_isdigit (text[offset - 1]))
    offset--;
  return offset;
}

/* What is worked: behind the label, up to the stitch count or the end. */
BwSlice
bw_audit_work (const BwPatternAudit *audit,
               const BwPatternLine  *line)
{
  BwSlice label = bw_audit_label (audit, line);
  const char *text = audit->pattern->text;
  guint32 start = line->offset;
  guint32 last = line->offset;
  guint32 end;

  if (line->numbered)
    for (start += label.length; text[start] == ':' || text[start] == ' '; start++)
      continue;
  if (line->n_items > 0)
    last = g_array_index (audit->pattern->sources, BwItemSource,
                          line->first_item + line->n_items - 1).offset;
  end = bw_audit_end_of_line (audit, MAX (last, start));
  if (line->facts.stated != 0 && offset_of_list (audit, line->facts.stated) > start)
    end = MIN (end, offset_of_list (audit, line->facts.stated));
  return bw_audit_slice (start, trim (audit, start, end));
}

/* Where the last line of the text ends that work belongs to. */
guint32
bw_audit_end_of_work (const BwPatternAudit *audit,
                      const BwPatternLine  *line)
{
  guint32 last = line->offset;

  if (line->n_items > 0)
    last = g_array_index (audit->pattern->sources, BwItemSource,
                          line->first_item + line->n_items - 1).offset;
  return bw_audit_end_of_line (audit, MAX (last, line->offset));
}

/* Says of which round it is, for a finding within the work. */
void
bw_audit_name_round (const BwPatternAudit *audit,
                     BwPatternFinding     *finding)
{
  const BwPattern *pattern = audit->pattern;
  const BwPatternLine *line;
  guint low = 0;
  guint high = pattern->lines->len;

  while (high - low > 1)
    {
      guint middle = (low + high) / 2;

      if (bw_audit_line (audit, middle)->offset <= finding->offset)
        low = middle;
      else
        high = middle;
    }
  if (pattern->lines->len == 0)
    return;
  line = bw_audit_line (audit, low);
  if (line->offset > finding->offset || finding->offset > bw_audit_end_of_work (audit, line) ||
      !line->numbered)
    return;
  for (guint k = 0; k < pattern->n_sizes && finding->round == 0; k++)
    finding->round = line->in_turn
      ? g_array_index (pattern->spans, BwSpan, line->first_span).first
      : bw_pattern_span (pattern, line, k).first;
  finding->row = line->row;
}

/* A list of numbers, to its closing bracket. */
BwSlice
bw_audit_list (const BwPatternAudit *audit,
               guint32               list)
{
  guint32 offset = offset_of_list (audit, list);
  guint32 end = bw_audit_end_of_line (audit, offset);
  const char *text = audit->pattern->text;
  guint depth = 0;

  for (guint32 at = offset; at < end; at++)
    {
      if (text[at] == '(' || text[at] == '[')
        depth++;
      else if ((text[at] == ')' || text[at] == ']') && (depth == 0 || --depth == 0))
        return bw_audit_slice (offset, at + 1);
      else if (depth == 0 && g_ascii_isalpha (text[at]))
        return bw_audit_slice (offset, trim (audit, offset, at));
    }

  return bw_audit_slice (offset, trim (audit, offset, end));
}

/* The number of one size within a list: the entries stand in their order. */
BwSlice
bw_audit_figure (const BwPatternAudit *audit,
                 const BwPatternLine  *line,
                 guint32               list,
                 guint                 size)
{
  const BwPattern *pattern = audit->pattern;
  const BwNumberList *numbers = &g_array_index (pattern->sink.lists, BwNumberList, list - 1);
  guint32 figure = bw_pattern_figure (pattern, line, list, size);
  guint32 offset = offset_of_list (audit, list);
  guint32 place = size;
  BwLexer lexer;
  BwToken token;

  if (numbers->n == 1)
    place = 0;
  else if (numbers->n != pattern->n_sizes)
    for (place = 0; size > 0; size--)
      place += line->sizes >> (size - 1) & 1;

  bw_lexer_init (&lexer, pattern->text + offset, bw_audit_end_of_line (audit, offset) - offset);
  for (bw_lexer_next (&lexer, &token); token.kind != BW_TOKEN_END; bw_lexer_next (&lexer, &token))
    {
      if (token.kind != BW_TOKEN_NUMBER && !bw_token_is_mark (&token, '-'))
        continue;
      if (place-- > 0)
        continue;
      if (token.kind == BW_TOKEN_NUMBER && token.number == figure)
        return (BwSlice) { (guint32) (token.start - pattern->text), (guint32) token.length };
      break;
    }

  /* figures added up from several kinds of stitches stand nowhere */
  return bw_audit_list (audit, list);
}

/* Bytes from the beginning of a group to where it is said how often it is worked. */
#define GROUP_MOST 4096

static gboolean
opens (const BwToken *token)
{
  return bw_token_is_mark (token, '[') || bw_token_is_mark (token, '(') ||
         bw_token_is_mark (token, '{');
}

static gboolean
closes (const BwToken *token)
{
  return bw_token_is_mark (token, ']') || bw_token_is_mark (token, ')') ||
         bw_token_is_mark (token, '}');
}

/* "9" of "[5 dc, dc2tog] 9 times", "twice": how often a group is worked; nothing
 * when that is not said with one word. */
BwSlice
bw_audit_times (const BwPatternAudit *audit,
                guint32               item)
{
  const BwPattern *pattern = audit->pattern;
  guint32 offset = g_array_index (pattern->sources, BwItemSource, item).offset;
  gboolean starred = pattern->text[offset] == '*';
  gboolean again = !starred;
  guint depth = 0;
  BwLexer lexer;
  BwToken token;

  bw_lexer_init (&lexer, pattern->text + offset, MIN (pattern->length - offset, GROUP_MOST));
  for (bw_lexer_next (&lexer, &token); token.kind != BW_TOKEN_END; bw_lexer_next (&lexer, &token))
    {
      BwWord word = bw_word_of (&token, NULL);

      if (opens (&token))
        depth++;
      else if (closes (&token))
        depth -= depth > 0;
      else if (word == BW_WORD_AGAIN)
        again = TRUE;
      else if (depth == 0 && again &&
               (token.kind == BW_TOKEN_NUMBER || word == BW_WORD_TWICE || word == BW_WORD_ONCE))
        return (BwSlice) { (guint32) (token.start - pattern->text), (guint32) token.length };
      else if (!starred && depth == 0 && word != BW_WORD_X && !bw_token_is_mark (&token, 'x'))
        break;
    }

  return (BwSlice) { 0, 0 };
}

/* Does the text there have the word, in lower-case ASCII, in any case? A word
 * may be the beginning of one. */
gboolean
bw_audit_says (const BwPatternAudit *audit,
               BwSlice               where,
               const char           *word)
{
  const char *at = audit->pattern->text + where.offset;
  const char *end = at + where.length;
  gsize length = strlen (word);

  for (; at + length <= end; at++)
    if (g_ascii_tolower (*at) == word[0] && g_ascii_strncasecmp (at, word, length) == 0)
      return TRUE;

  return FALSE;
}
