#define G_LOG_DOMAIN "bw-core"

#include "bw-pattern-private.h"

#include <string.h>

/* Labels of lines.
 *
 *   label  = [ sizes ] [ colour ] ( which numbers | kind which | ordinal which )
 *            { "(" words ")" } [ "with" colour ] ( ":" | "." | "–" | ")" )
 *   sizes  = ( "Size" | "Sizes" ) name { ( "," | "and" | "&" ) name } [ "only" ] ":"
 *   which  = "Rnd" | "Rnds" | "Round" | "Rounds" | "Row" | "Rows" | "R"
 *   numbers = span [ "(" span { "," span } ")" ]    one for each size
 *           | span { "," span } "and" span           one after the other
 *   span   = number [ "–" number ] | "–"
 *   kind   = "Next" | "Dec" | "Set-up" and the like
 */

#define SPANS_MAX 64

typedef struct
{
  BwReader reader;  /* without a sink: only its tokens are used */
  BwSpan   spans[SPANS_MAX];
  guint    n;
  gboolean vector;  /* spans of several sizes */
} Labels;

/* --- Names of sizes --- */

static gboolean
name_at (const char *name,
         const char *at,
         const char *end)
{
  gsize length = strlen (name);

  return (gsize) (end - at) >= length && g_ascii_strncasecmp (at, name, length) == 0 &&
         ((gsize) (end - at) == length || !g_ascii_isalnum (at[length]));
}

/* Bit of the longest size name that stands here; 0 = none. */
static guint32
size_at (const BwPattern *pattern,
         const char      *at,
         const char      *end,
         gsize           *length)
{
  guint32 bit = 0;

  *length = 0;
  for (guint i = 0; i < pattern->size_names->len; i++)
    {
      const char *name = g_ptr_array_index (pattern->size_names, i);

      if (strlen (name) > *length && name_at (name, at, end))
        {
          *length = strlen (name);
          bit = (guint32) 1 << i;
        }
    }

  return bit;
}

static const char *
skip_spaces (const char *at,
             const char *end)
{
  while (at < end && (*at == ' ' || *at == '\t'))
    at++;
  return at;
}

/* Bits of the names that stand here, which `at` is moved behind. */
guint32
bw_pattern_size_names (const BwPattern  *pattern,
                       const char      **at,
                       const char       *end)
{
  guint32 sizes = 0;

  for (;;)
    {
      const char *start = skip_spaces (*at, end);
      gsize length;
      guint32 bit = size_at (pattern, start, end, &length);

      if (bit == 0)
        return sizes;
      sizes |= bit;
      *at = start + length;
      start = skip_spaces (*at, end);
      if (start < end && (*start == ',' || *start == '&'))
        start = skip_spaces (start + 1, end);
      if (end - start > 4 && g_ascii_strncasecmp (start, "and ", 4) == 0)
        start += 4;
      if (start > *at)
        {
          const char *ahead = skip_spaces (start, end);

          if (size_at (pattern, ahead, end, &length) != 0)
            *at = ahead;
        }
    }
}

static gboolean
starts_with (const char *at,
             const char *end,
             const char *word)
{
  gsize length = strlen (word);

  return (gsize) (end - at) >= length && g_ascii_strncasecmp (at, word, length) == 0;
}

/* "Sizes M and L only:", "For size S:", "S only:" in front of a line. */
static const char *
skip_sizes (const BwPattern *pattern,
            const char      *at,
            const char      *end,
            guint32         *sizes)
{
  const char *start = at;

  if (starts_with (at, end, "for "))
    at = skip_spaces (at + 4, end);
  if (starts_with (at, end, "size"))
    at = skip_spaces (at + (starts_with (at, end, "sizes") ? 5 : 4), end);
  if (starts_with (at, end, "all sizes"))
    at += 9;
  else
    *sizes = bw_pattern_size_names (pattern, &at, end);

  if (at == start || (*sizes == 0 && !starts_with (start, end, "all sizes")))
    {
      *sizes = 0;
      return start;
    }
  at = skip_spaces (at, end);
  if (starts_with (at, end, "only"))
    at = skip_spaces (at + 4, end);
  if (at >= end || *at != ':')
    {
      *sizes = 0;
      return start;
    }
  return skip_spaces (at + 1, end);
}

/* "Size Small", "Sizes M and L only:", "All sizes": a line of its own, which
 * tells for whom the lines below are; 0 = for all. */
gboolean
bw_pattern_sizes_line (const BwPattern *pattern,
                       const BwStretch *line,
                       guint32         *sizes)
{
  const char *at = line->start;
  gboolean word = FALSE;

  *sizes = 0;
  if (pattern->size_names->len == 0)
    return FALSE;
  if (starts_with (at, line->end, "for "))
    at = skip_spaces (at + 4, line->end);
  if (starts_with (at, line->end, "all sizes"))
    at += strlen ("all sizes");
  else
    {
      word = starts_with (at, line->end, "size");
      if (word)
        at = skip_spaces (at + (starts_with (at, line->end, "sizes") ? 5 : 4), line->end);
      *sizes = bw_pattern_size_names (pattern, &at, line->end);
      at = skip_spaces (at, line->end);
      if (*sizes == 0 || (!word && !starts_with (at, line->end, "only")))
        return FALSE;
    }
  at = skip_spaces (at, line->end);
  if (starts_with (at, line->end, "only"))
    at = skip_spaces (at + 4, line->end);
  if (at < line->end && (*at == ':' || *at == '.'))
    at = skip_spaces (at + 1, line->end);
  return at == line->end;
}

/* --- Numbers --- */

/* A span; the token in hand is its number or dash. */
static gboolean
take_span (BwReader *reader,
           BwSpan   *span)
{
  BwReader back;

  if (bw_reader_take_mark (reader, '-'))
    {
      *span = (BwSpan) { 0, 0 };
      return TRUE;
    }
  if (reader->token.kind != BW_TOKEN_NUMBER || reader->token.number == 0 ||
      reader->token.number > BW_ITEM_COUNT_MAX)
    return FALSE;

  *span = (BwSpan) { reader->token.number, reader->token.number };
  bw_reader_advance (reader);
  back = *reader;
  if (!bw_reader_take_mark (reader, '-') && !bw_reader_take (reader, BW_WORD_TO))
    return TRUE;
  if (reader->token.kind == BW_TOKEN_NUMBER && reader->token.number > span->first &&
      reader->token.number <= BW_ITEM_COUNT_MAX)
    {
      span->last = reader->token.number;
      bw_reader_advance (reader);
    }
  else
    *reader = back; /* the dash ends the label: "Rnd 5 – dc in each st" */
  return TRUE;
}

/* "(8, 9)" behind the first span; `labels` is left as it was when it is none. */
static gboolean
take_bracketed (Labels *labels)
{
  BwReader back = labels->reader;
  guint before = labels->n;
  char closing = bw_reader_at_mark (&back, '(') ? ')' : bw_reader_at_mark (&back, '[') ? ']' : 0;

  if (closing == 0)
    return FALSE;
  bw_reader_advance (&labels->reader);
  while (labels->n < SPANS_MAX)
    {
      if (!take_span (&labels->reader, &labels->spans[labels->n]))
        break;
      labels->n++;
      if (bw_reader_take_mark (&labels->reader, closing))
        return TRUE;
      if (!bw_reader_take_mark (&labels->reader, ',') &&
          !bw_reader_take_mark (&labels->reader, ';') &&
          !bw_reader_take_mark (&labels->reader, ':') &&
          !bw_reader_take_mark (&labels->reader, '/'))
        break;
    }

  labels->reader = back;
  labels->n = before;
  return FALSE;
}

/* The spans of the other sizes: "(8, 9)", "/8/9", "(8) 9 (10)". */
static void
take_vector (Labels *labels)
{
  while (labels->n < SPANS_MAX && bw_reader_at_mark (&labels->reader, '/'))
    {
      BwReader back = labels->reader;

      bw_reader_advance (&labels->reader);
      if (labels->reader.token.kind != BW_TOKEN_NUMBER ||
          !take_span (&labels->reader, &labels->spans[labels->n]))
        {
          labels->reader = back;
          return;
        }
      labels->n++;
      labels->vector = TRUE;
    }

  while (labels->n < SPANS_MAX && take_bracketed (labels))
    {
      BwReader back = labels->reader;
      guint before = labels->n;

      labels->vector = TRUE;
      if (labels->reader.token.kind == BW_TOKEN_NUMBER && labels->n + 1 < SPANS_MAX &&
          take_span (&labels->reader, &labels->spans[labels->n]))
        labels->n++;
      if (labels->n > before && !bw_reader_at_mark (&labels->reader, '(') &&
          !bw_reader_at_mark (&labels->reader, '['))
        {
          labels->reader = back;
          labels->n = before;
        }
    }
}

/* "5, 7 and 9" behind the first span. */
static void
take_more (Labels *labels)
{
  for (;;)
    {
      BwReader back = labels->reader;
      gboolean separated = FALSE;

      while (bw_reader_take_mark (&labels->reader, ',') ||
             bw_reader_take_mark (&labels->reader, '&') ||
             bw_reader_take (&labels->reader, BW_WORD_AND))
        separated = TRUE;
      if (!separated || labels->n == SPANS_MAX || labels->reader.token.kind != BW_TOKEN_NUMBER ||
          !take_span (&labels->reader, &labels->spans[labels->n]))
        {
          labels->reader = back;
          return;
        }
      labels->n++;
    }
}

static gboolean
take_numbers (Labels *labels)
{
  BwToken next;

  if (bw_reader_at_mark (&labels->reader, '-'))
    {
      /* a dash only stands for a number when those of other sizes follow */
      bw_reader_ahead (&labels->reader, &next);
      if (!bw_token_is_mark (&next, '(') && !bw_token_is_mark (&next, '['))
        return FALSE;
    }
  if (!take_span (&labels->reader, &labels->spans[0]))
    return FALSE;
  labels->n = 1;
  take_vector (labels);
  if (!labels->vector)
    take_more (labels);
  return TRUE;
}

/* --- What stands between the numbers and the colon --- */

static BwSlice
slice_of (const BwPattern *pattern,
          const BwToken   *token)
{
  return (BwSlice) { (guint32) (token->start - pattern->text), (guint32) token->length };
}

static gboolean
is_colour (const BwToken *token)
{
  return token->kind == BW_TOKEN_WORD && g_ascii_isupper (token->start[0]) &&
         (token->length == 1 ||
          (token->length <= 3 && (token->start[0] == 'M' || token->start[0] == 'C') &&
           token->start[1] == 'C'));
}

/* "(RS)", "(dec rnd)", "(3 rnds)", "(A)", "(18 sts)". */
static void
take_brackets (const BwPattern *pattern,
               BwReader        *reader,
               BwLabel         *label)
{
  for (guint i = 0; i < 4 && (bw_reader_at_mark (reader, '(') || bw_reader_at_mark (reader, '['));
       i++)
    {
      BwReader back = *reader;
      guint tokens = 0;

      for (bw_reader_advance (reader); !bw_reader_at_end (reader) && tokens++ < 12;
           bw_reader_advance (reader))
        {
          if (bw_reader_at_mark (reader, ')') || bw_reader_at_mark (reader, ']'))
            break;
          if (reader->word == BW_WORD_RIGHT_SIDE)
            label->side = 1;
          else if (reader->word == BW_WORD_WRONG_SIDE)
            label->side = 2;
          else if (is_colour (&reader->token))
            label->colour = slice_of (pattern, &reader->token);
        }
      if (!bw_reader_at_mark (reader, ')') && !bw_reader_at_mark (reader, ']'))
        {
          *reader = back;
          return;
        }
      bw_reader_advance (reader);
    }
}

/* "with B", "in A", "RS" before the colon. */
static void
take_colour (const BwPattern *pattern,
             BwReader        *reader,
             BwLabel         *label)
{
  BwReader back = *reader;

  if (reader->word == BW_WORD_RIGHT_SIDE || reader->word == BW_WORD_WRONG_SIDE)
    {
      label->side = reader->word == BW_WORD_RIGHT_SIDE ? 1 : 2;
      bw_reader_advance (reader);
      return;
    }
  bw_reader_take_mark (reader, ',');
  if (bw_reader_take (reader, BW_WORD_WITH) || bw_reader_take (reader, BW_WORD_IN))
    bw_reader_take (reader, BW_WORD_COLOUR);
  if (is_colour (&reader->token))
    {
      label->colour = slice_of (pattern, &reader->token);
      bw_reader_advance (reader);
    }
  if (!bw_reader_at_mark (reader, ':'))
    {
      *reader = back;
      label->colour.length = back.token.start == reader->token.start ? label->colour.length : 0;
    }
}

/* The mark that ends the label; without one the line may be prose. */
static gboolean
take_end (BwReader *reader)
{
  gboolean marked = bw_reader_take_mark (reader, ')');

  /* a dash behind the colon may be a number: "Rnd – (26): – (95) dc" */
  return bw_reader_take_mark (reader, ':') || bw_reader_take_mark (reader, '.') ||
         bw_reader_take_mark (reader, '-') || bw_reader_take_mark (reader, '|') || marked;
}

static void
store_spans (BwPattern *pattern,
             Labels    *labels,
             BwLabel   *label)
{
  label->numbered = labels->n > 0;
  label->in_turn = !labels->vector && labels->n > 1;
  label->first_span = pattern->spans->len;
  label->n_spans = labels->n;
  g_array_append_vals (pattern->spans, labels->spans, labels->n);
}

/* --- The label --- */

/* Digits of a short label from `at` on; 0 = none, or too many. */
static guint32
short_number (const char **at,
              const char  *end)
{
  guint64 number = 0;

  if (*at < end && g_ascii_tolower (**at) == 'r')
    (*at)++;
  for (; *at < end && g_ascii_isdigit (**at); (*at)++)
    number = MIN (number * 10 + (guint64) (**at - '0'), (guint64) BW_ITEM_COUNT_MAX + 1);
  return number <= BW_ITEM_COUNT_MAX ? (guint32) number : 0;
}

/* "R5", "R5-R8", "R5-8", which the lexer takes for words. */
static gboolean
take_short (Labels *labels)
{
  BwToken *token = &labels->reader.token;
  const char *at = token->start;
  const char *end = at + token->length;
  BwSpan span;

  if (token->kind != BW_TOKEN_WORD || token->length < 2 || g_ascii_tolower (*at) != 'r')
    return FALSE;
  span.first = span.last = short_number (&at, end);
  if (span.first > 0 && at < end && *at == '-')
    {
      at++;
      span.last = short_number (&at, end);
    }
  if (span.first == 0 || span.last < span.first || at != end)
    return FALSE;

  bw_reader_advance (&labels->reader);
  labels->spans[0] = span;
  labels->n = 1;
  return TRUE;
}

static gboolean
begins_work (const BwReader *reader)
{
  BwReader ahead = *reader;

  if (bw_reader_at_mark (reader, '*') || bw_reader_at_mark (reader, '[') ||
      bw_reader_at_mark (reader, '(') || reader->word == BW_WORD_AGAIN ||
      reader->word == BW_WORD_WORK || bw_token_is_word (&reader->token, "as"))
    return TRUE;
  if (ahead.token.kind == BW_TOKEN_NUMBER)
    bw_reader_advance (&ahead);
  return bw_reader_take_stitch (&ahead) != BW_STITCH_NONE;
}

/* "1.", "2)" in front of work, with nothing to say whether rounds or rows. */
static gboolean
take_bare (Labels *labels)
{
  BwReader ahead = labels->reader;

  if (ahead.token.kind != BW_TOKEN_NUMBER || ahead.token.number == 0 ||
      ahead.token.number > BW_ITEM_COUNT_MAX)
    return FALSE;
  labels->spans[0] = (BwSpan) { ahead.token.number, ahead.token.number };
  bw_reader_advance (&ahead);
  if (!bw_reader_at_mark (&ahead, '.') && !bw_reader_at_mark (&ahead, ')') &&
      !bw_reader_at_mark (&ahead, ':'))
    return FALSE;
  bw_reader_advance (&ahead);
  if (ahead.token.kind == BW_TOKEN_NUMBER && ahead.token.start == labels->reader.token.start +
      labels->reader.token.length + 1)
    return FALSE; /* "1.5" */
  if (!begins_work (&ahead))
    return FALSE;

  bw_reader_advance (&labels->reader);
  labels->n = 1;
  return TRUE;
}

/* "Next 3 rnds", "Next 3 (4, 5) rows". */
static gboolean
take_next_rounds (Labels  *labels,
                  BwLabel *label)
{
  BwReader back = labels->reader;

  if (!bw_reader_take (&labels->reader, BW_WORD_NEXT))
    return FALSE;
  label->rounds_at = labels->reader.token.start;
  if (labels->reader.token.kind != BW_TOKEN_NUMBER || !take_numbers (labels) ||
      !bw_word_is_round (labels->reader.word))
    {
      labels->reader = back;
      labels->n = 0;
      labels->vector = FALSE;
      label->rounds_at = NULL;
      return FALSE;
    }
  labels->n = 0;
  labels->vector = FALSE;
  label->row = labels->reader.word == BW_WORD_ROW;
  bw_reader_advance (&labels->reader);
  return TRUE;
}

/* "Next rnd", "Dec rnd", "5th row": a word or ordinal in front of the word. */
static gboolean
take_kind (Labels  *labels,
           BwLabel *label)
{
  BwToken next;
  BwWord word = bw_reader_ahead (&labels->reader, &next);
  gboolean ordinal = labels->reader.token.kind == BW_TOKEN_ORDINAL;

  if (take_next_rounds (labels, label))
    return TRUE;
  if (!bw_word_is_round (word) || (!ordinal && labels->reader.token.kind != BW_TOKEN_WORD) ||
      (!ordinal && !g_ascii_isupper (labels->reader.token.start[0])))
    return FALSE;
  if (ordinal)
    {
      if (labels->reader.token.number == 0 || labels->reader.token.number > BW_ITEM_COUNT_MAX)
        return FALSE;
      labels->spans[0] = (BwSpan) { labels->reader.token.number, labels->reader.token.number };
      labels->n = 1;
    }
  label->row = word == BW_WORD_ROW;
  bw_reader_advance (&labels->reader);
  bw_reader_advance (&labels->reader);
  return TRUE;
}

static gboolean
take_word_and_numbers (Labels  *labels,
                       BwLabel *label)
{
  if (bw_word_is_round (labels->reader.word))
    {
      label->row = labels->reader.word == BW_WORD_ROW;
      bw_reader_advance (&labels->reader);
      return take_numbers (labels);
    }
  return take_short (labels) || take_bare (labels) || take_kind (labels, label);
}

/* Whether a line can begin with a label, by its first letters; cheap, so that
 * prose costs little. */
gboolean
bw_pattern_may_label (const BwPattern *pattern,
                      const BwStretch *line)
{
  const char *at = line->start;
  gsize left = (gsize) (line->end - at);

  if (left < 3)
    return FALSE;
  if (g_ascii_tolower (at[0]) == 'r' || g_ascii_isdigit (at[0]))
    return TRUE;
  return g_ascii_isupper (at[0]) || (pattern->size_names->len > 0 && (guchar) at[0] >= 0x80);
}

/* "A  Rnd 7": the colour of a line stands in front of it. */
static const char *
skip_colour_letter (const BwPattern *pattern,
                    const char      *at,
                    const char      *end,
                    BwLabel         *label)
{
  BwLexer lexer;
  BwToken token;

  if (end - at < 4 || !g_ascii_isupper (at[0]) || at[1] != ' ')
    return at;
  bw_lexer_init (&lexer, at + 1, (gsize) (end - at - 1));
  bw_lexer_next (&lexer, &token);
  if (at[2] != ' ' && !bw_word_is_round (bw_word_of (&token, NULL)))
    return at;

  label->colour = (BwSlice) { (guint32) (at - pattern->text), 1 };
  return token.start;
}

/* "**Rnd 1:** dc …": two stars in front make letters bold. */
static gboolean
is_bold (const BwPattern *pattern,
         const BwStretch *line)
{
  return line->start - pattern->text >= 2 && line->start[-1] == '*' && line->start[-2] == '*';
}

/* Reads the label of a line; FALSE when it has none. `label->work` is set in
 * any case to where work could begin, behind sizes and colour. */
gboolean
bw_pattern_read_label (BwPattern       *pattern,
                       const BwStretch *line,
                       BwLabel         *label)
{
  Labels labels = { .reader = { .dictionary = pattern->dictionary, .terms = pattern->terms } };
  const char *at = line->start;
  BwWord word;
  guint form = 0;
  BwToken first;

  memset (label, 0, sizeof *label);
  at = skip_colour_letter (pattern, at, line->end, label);
  at = skip_sizes (pattern, at, line->end, &label->sizes);
  while (label->sizes != 0 && at < line->end && (*at == ':' || *at == ' '))
    at++;
  at = skip_colour_letter (pattern, at, line->end, label);
  label->work = at;

  bw_reader_init (&labels.reader, at, (gsize) (line->end - at));
  first = labels.reader.token;
  word = bw_word_of (&first, &form);
  if (!take_word_and_numbers (&labels, label))
    return FALSE;
  take_brackets (pattern, &labels.reader, label);
  take_colour (pattern, &labels.reader, label);
  take_brackets (pattern, &labels.reader, label);
  if (!take_end (&labels.reader) && !begins_work (&labels.reader))
    return FALSE;
  if (is_bold (pattern, line))
    while (bw_reader_take_mark (&labels.reader, '*') || bw_reader_take_mark (&labels.reader, ':'))
      continue;

  if (bw_word_is_round (word) && pattern->sink.forms[word][form] == 0)
    pattern->sink.forms[word][form] = (guint32) (first.start - pattern->text) + 1;
  store_spans (pattern, &labels, label);
  label->work = labels.reader.token.start;
  return TRUE;
}
