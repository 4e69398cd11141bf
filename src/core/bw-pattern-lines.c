#define G_LOG_DOMAIN "bw-core"

#include "bw-pattern-private.h"

#include <string.h>

/* Cuts the text into lines, joins what was wrapped, and decides what each is:
 * a heading, work with a label, work without one, or prose. Every character is
 * looked at a fixed number of times. */

typedef struct
{
  BwPattern *pattern;
  const char *at;           /* the next physical line */
  const char *end;
  gboolean    rows;         /* the last round read was a row */
  BwSlice     colour;       /* "Change to B." stood on a line of its own */
  guint32     sizes;        /* "Size S only" stood on a line of its own: a bit for each; 0 = all */
} Cutter;

static gboolean
is_blank (char c)
{
  return c == ' ' || c == '\t' || c == '\f' || c == '\v';
}

/* A star that is a bullet, or two that make the label bold; no repeat. */
static gboolean
bullet_star (const char *at,
             const char *end)
{
  static const char *const starts[] = { "rnd", "round", "row", "next r", "ch ", "size" };

  if (at[1] != '*' && at[1] != ' ')
    return FALSE;
  at += 2;
  for (guint i = 0; i < G_N_ELEMENTS (starts); i++)
    if ((gsize) (end - at) > strlen (starts[i]) &&
        g_ascii_strncasecmp (at, starts[i], strlen (starts[i])) == 0)
      return TRUE;

  return FALSE;
}

/* Spaces, quotation marks and bullets that may stand in front of a line. */
static const char *
skip_bullet (const char *at,
             const char *end)
{
  static const char *const bullets[] = { "\xe2\x80\xa2", "\xe2\x98\x90", "\xe2\x96\xa1",
                                         "\xc2\xa0", "\xef\xbb\xbf" };

  for (;;)
    {
      const char *before = at;

      while (at < end && (is_blank (*at) || *at == '#' || *at == '>'))
        at++;
      if (end - at > 3 && *at == '*' && bullet_star (at, end))
        at += at[1] == '*' ? 2 : 1;
      if (end - at > 2 && *at == '-' && at[1] == ' ')
        at += 2;
      for (guint i = 0; i < G_N_ELEMENTS (bullets); i++)
        {
          gsize n = strlen (bullets[i]);

          if ((gsize) (end - at) >= n && memcmp (at, bullets[i], n) == 0)
            at += n;
        }
      if (at == before)
        return at;
    }
}

/* The next physical line without the spaces around it; FALSE at the end. */
static gboolean
next_line (Cutter    *cutter,
           BwStretch *line)
{
  const char *end;
  guint32 start;

  if (cutter->at >= cutter->end)
    return FALSE;

  start = (guint32) (cutter->at - cutter->pattern->text);
  g_array_append_val (cutter->pattern->line_starts, start);
  for (end = cutter->at; end < cutter->end && *end != '\n' && *end != '\r'; end++)
    continue;
  line->start = skip_bullet (cutter->at, end);
  line->end = end;
  while (line->end > line->start && is_blank (line->end[-1]))
    line->end--;

  if (end < cutter->end)
    end += *end == '\r' && end + 1 < cutter->end && end[1] == '\n' ? 2 : 1;
  cutter->at = end;
  return TRUE;
}

/* --- Wrapped lines --- */

/* Brackets left open in a stretch, and its last character. */
typedef struct
{
  int  depth;
  char last;
} Tail;

static void
follow_brackets (const BwStretch *line,
                 Tail            *tail)
{
  for (const char *at = line->start; at < line->end; at++)
    {
      if (*at == '(' || *at == '[' || *at == '{')
        tail->depth++;
      else if ((*at == ')' || *at == ']' || *at == '}') && tail->depth > 0)
        tail->depth--;
    }
  if (line->end > line->start)
    tail->last = line->end[-1];
}

/* Begins with "Rnd 7" or "Row 3" in any case. */
static gboolean
begins_round (const BwStretch *line)
{
  static const char *const starts[] = { "rnd ", "rnds ", "round ", "rounds ", "row ", "rows ",
                                        "next r", "size ", "sizes " };

  for (guint i = 0; i < G_N_ELEMENTS (starts); i++)
    if ((gsize) (line->end - line->start) > strlen (starts[i]) &&
        g_ascii_strncasecmp (line->start, starts[i], strlen (starts[i])) == 0)
      return TRUE;

  return FALSE;
}

/* "last rnd", "rnds 2–3": what "rep" is said of are rounds. */
static gboolean
names_rounds (BwLexer *lexer)
{
  BwToken token;

  for (guint i = 0; i < 4; i++)
    {
      bw_lexer_next (lexer, &token);
      if (bw_word_is_round (bw_word_of (&token, NULL)))
        return TRUE;
    }
  return FALSE;
}

/* Begins with what stands behind a bracket: "4 times", "around", "to last 2 sts". */
static gboolean
begins_times (const BwStretch *line)
{
  BwLexer lexer;
  BwToken token;

  bw_lexer_init (&lexer, line->start, (gsize) (line->end - line->start));
  bw_lexer_next (&lexer, &token);
  if (token.kind == BW_TOKEN_NUMBER)
    bw_lexer_next (&lexer, &token);
  if (bw_token_is_mark (&token, 'x'))
    return TRUE;
  switch (bw_word_of (&token, NULL))
    {
    case BW_WORD_TIMES: case BW_WORD_MORE: case BW_WORD_X: case BW_WORD_AROUND: case BW_WORD_ACROSS:
    case BW_WORD_TO: case BW_WORD_TWICE: case BW_WORD_ONCE: case BW_WORD_IN:
      return TRUE;
    case BW_WORD_AGAIN:
      return !names_rounds (&lexer);
    default:
      return FALSE;
    }
}

/* Does a line that follows one of work belong to it? */
static gboolean
goes_on (const BwStretch *line,
         const Tail      *tail)
{
  char c = line->start < line->end ? line->start[0] : 0;
  gboolean count = (c == '(' || c == '[') && line->end - line->start > 1 &&
                   g_ascii_isdigit (line->start[1]);

  if (c == 0 || begins_round (line))
    return FALSE;
  if (tail->depth > 0 || strchr (",;*-", tail->last) != NULL)
    return TRUE;
  if (count)
    return tail->last != ')' && tail->last != ']';
  if (tail->last == ')' || tail->last == ']')
    return begins_times (line);
  return strchr (".:", tail->last) == NULL &&
         (g_ascii_islower (c) || g_ascii_isdigit (c) || strchr ("([*", c) != NULL);
}

/* Takes the lines that belong to one that has begun. */
static void
take_wrapped (Cutter    *cutter,
              BwStretch *line)
{
  Tail tail = { 0, '.' };

  follow_brackets (line, &tail);
  for (;;)
    {
      Cutter back = *cutter;
      guint n_starts = cutter->pattern->line_starts->len;
      BwStretch next;

      if (!next_line (cutter, &next))
        return;
      if (!goes_on (&next, &tail))
        {
          g_array_set_size (cutter->pattern->line_starts, n_starts);
          *cutter = back;
          return;
        }
      follow_brackets (&next, &tail);
      line->end = next.end;
    }
}

/* --- Work --- */

static BwPatternLine *
add_line (BwPattern         *pattern,
          BwPatternLineKind  kind,
          const BwStretch   *line)
{
  BwPatternLine new = { 0 };

  new.kind = (guint8) kind;
  new.offset = (guint32) (line->start - pattern->text);
  new.section = pattern->sections->len - 1;
  new.first_item = pattern->items->len;
  g_array_append_val (pattern->lines, new);
  return &g_array_index (pattern->lines, BwPatternLine, pattern->lines->len - 1);
}

static void
label_line (Cutter        *cutter,
            BwPatternLine *line,
            const BwLabel *label)
{
  line->row = label->row;
  line->numbered = label->numbered;
  line->in_turn = label->in_turn;
  line->sizes = label->sizes != 0 ? label->sizes : cutter->sizes;
  line->first_span = label->first_span;
  line->n_spans = label->n_spans;
  if (line->facts.side == 0)
    line->facts.side = label->side;
  if (line->facts.colour.length == 0)
    line->facts.colour = label->colour.length > 0 ? label->colour : cutter->colour;
  cutter->colour.length = 0;
}

/* The items of one line go to an array of their own first: indices among them
 * begin with 0. */
static gboolean
read_work (BwPattern   *pattern,
           const char  *work,
           const char  *end,
           BwLineFacts *facts,
           BwReader    *reader)
{
  *reader = (BwReader) { .dictionary = pattern->dictionary, .terms = pattern->terms,
                         .items = pattern->scratch, .sink = &pattern->sink, .facts = facts };
  memset (facts, 0, sizeof *facts);
  g_array_set_size (pattern->scratch, 0);
  g_array_set_size (pattern->sink.sources, 0);
  bw_reader_init (reader, work, (gsize) (end - work));
  return bw_reader_read_round (reader);
}

/* Moves the items just read to the pattern's. */
static void
keep_items (BwPattern     *pattern,
            BwPatternLine *line)
{
  line->first_item = pattern->items->len;
  line->n_items = pattern->scratch->len;
  g_array_append_vals (pattern->items, pattern->scratch->data, pattern->scratch->len);
  g_array_append_vals (pattern->sources, pattern->sink.sources->data, pattern->sink.sources->len);
}

static gboolean
is_foundation (const BwPattern   *pattern,
               const BwLineFacts *facts)
{
  return pattern->scratch->len == 0 && facts->from_list == 0 && facts->back_list == 0 &&
         (facts->chain >= 2 || facts->ring) && facts->chain_counts == BW_SAID_NOTHING &&
         !facts->fastened;
}

/* "Next 3 (4, 5) rnds": the number of rounds, as a list. */
static guint32
read_rounds (BwPattern   *pattern,
             const char  *at,
             const char  *end,
             BwLineFacts *facts)
{
  BwReader reader = { .dictionary = pattern->dictionary, .terms = pattern->terms,
                      .items = pattern->scratch, .sink = &pattern->sink, .facts = facts };
  BwNumberList one = { pattern->sink.figures->len, 1, (guint32) (at - pattern->text) };
  guint32 figure;
  BwCount count;

  bw_reader_init (&reader, at, (gsize) (end - at));
  if (!bw_reader_take_count (&reader, &count))
    return 0;
  if (count.list != 0)
    return count.list;
  figure = count.value;
  g_array_append_val (pattern->sink.figures, figure);
  g_array_append_val (pattern->sink.lists, one);
  return pattern->sink.lists->len;
}

static void
read_labelled (Cutter          *cutter,
               const BwStretch *stretch,
               const BwLabel   *label)
{
  BwPattern *pattern = cutter->pattern;
  BwLineFacts facts;
  BwReader reader;
  BwPatternLine *line;

  if (read_work (pattern, label->work, stretch->end, &facts, &reader))
    {
      line = add_line (pattern, is_foundation (pattern, &facts) ? BW_LINE_FOUNDATION
                                                                : BW_LINE_ROUND,
                       stretch);
      line->facts = facts;
      keep_items (pattern, line);
      if (label->rounds_at != NULL)
        line->facts.rounds_list = read_rounds (pattern, label->rounds_at, stretch->end, &facts);
    }
  else
    {
      BwPatternError error = { (guint32) (reader.failed.start - pattern->text), reader.wanted };

      line = add_line (pattern, BW_LINE_UNREADABLE, stretch);
      line->facts.stated = facts.stated;
      g_array_append_val (pattern->errors, error);
    }
  label_line (cutter, line, label);
  cutter->rows = label->row;
}

/* Does a line without a label say enough to be a round? A stitch alone may be
 * a heading, or the name of one that is explained. */
static gboolean
is_round (const BwPattern   *pattern,
          const BwLineFacts *facts)
{
  const BwItem *items = (const BwItem *) (void *) pattern->scratch->data;

  if (facts->from_list != 0 || facts->back_list != 0 || facts->rounds_list != 0)
    return TRUE;
  if (pattern->scratch->len == 0)
    return FALSE;
  if (facts->stated != 0 || pattern->scratch->len > 2)
    return TRUE;
  for (guint i = 0; i < pattern->scratch->len; i++)
    if (items[i].kind != BW_ITEM_EACH || items[i].count != 1)
      return TRUE;

  return FALSE;
}

/* May a line without a label be work, judging by its first word? */
static gboolean
may_be_work (const BwPattern *pattern,
             const char      *at,
             const char      *end)
{
  BwReader reader = { .dictionary = pattern->dictionary, .terms = pattern->terms };

  bw_reader_init (&reader, at, (gsize) (end - at));
  if (reader.token.kind == BW_TOKEN_MARK)
    return reader.token.mark == '*' || reader.token.mark == '[' || reader.token.mark == '(';
  if (reader.token.kind == BW_TOKEN_NUMBER)
    bw_reader_advance (&reader);
  switch (reader.word)
    {
    case BW_WORD_MAGIC: case BW_WORD_MAKE: case BW_WORD_WITH: case BW_WORD_AGAIN:
    case BW_WORD_CHAIN: case BW_WORD_WORK: case BW_WORD_USING: case BW_WORD_JOIN:
    case BW_WORD_CHANGE:
      return TRUE;
    default:
      if (bw_token_is_word (&reader.token, "continue") || bw_token_is_word (&reader.token, "cont") ||
          bw_token_is_word (&reader.token, "even"))
        return TRUE;
      return bw_reader_take_stitch (&reader) != BW_STITCH_NONE;
    }
}

/* "Foundation: Ch 72": words in front of the work, ended by a colon. */
static const char *
skip_title (const char *at,
            const char *end)
{
  for (const char *c = at; c < end && c < at + 32; c++)
    {
      if (*c == ':')
        return c + 1;
      if (!g_ascii_isalpha (*c) && *c != ' ' && *c != '-')
        break;
    }

  return at;
}

static gboolean
read_unlabelled (Cutter    *cutter,
                 BwStretch *stretch,
                 BwLabel   *label)
{
  BwPattern *pattern = cutter->pattern;
  guint32 forms[BW_WORD_N][BW_WORD_FORMS];
  BwLineFacts facts;
  BwReader reader;
  BwPatternLine *line;
  const char *work = label->work;
  guint n_lists = pattern->sink.lists->len;

  if (!may_be_work (pattern, work, stretch->end))
    work = skip_title (work, stretch->end);
  if (work >= stretch->end || !may_be_work (pattern, work, stretch->end))
    return FALSE;

  memcpy (forms, pattern->sink.forms, sizeof forms);
  take_wrapped (cutter, stretch);
  if (read_work (pattern, work, stretch->end, &facts, &reader) &&
      (is_foundation (pattern, &facts) || is_round (pattern, &facts)))
    {
      line = add_line (pattern, is_foundation (pattern, &facts) ? BW_LINE_FOUNDATION
                                                                : BW_LINE_ROUND,
                       stretch);
      line->facts = facts;
      keep_items (pattern, line);
      label->row = line->kind == BW_LINE_ROUND && cutter->rows;
      label_line (cutter, line, label);
      return TRUE;
    }

  memcpy (pattern->sink.forms, forms, sizeof forms);
  g_array_set_size (pattern->sink.lists, n_lists);
  if (reader.wanted == NULL && pattern->scratch->len == 0 && facts.colour.length > 0)
    cutter->colour = facts.colour;
  return FALSE;
}

/* --- Joining and closing, said in sentences --- */

typedef struct
{
  gboolean thread, through, stitches, join, ends;
  guint32  list; /* the number in front of the stitches */
} Sentence;

static void
scan_sentence (BwPattern       *pattern,
               const BwStretch *stretch,
               const char      *start,
               Sentence        *sentence)
{
  BwLineFacts facts = { 0 };
  BwReader reader = { .dictionary = pattern->dictionary, .terms = pattern->terms,
                      .items = pattern->scratch, .sink = &pattern->sink, .facts = &facts };
  guint32 list = 0;

  g_array_set_size (pattern->scratch, 0);
  g_array_set_size (pattern->sink.sources, 0);
  bw_reader_init (&reader, start, (gsize) (stretch->end - start));
  while (!bw_reader_at_end (&reader))
    {
      BwCount count;

      if (bw_reader_at_number (&reader) && bw_reader_take_count (&reader, &count))
        {
          BwNumberList one = { pattern->sink.figures->len, 1, bw_reader_offset (&reader) };
          guint32 figure = count.value;

          list = count.list;
          if (list == 0)
            {
              g_array_append_val (pattern->sink.figures, figure);
              g_array_append_val (pattern->sink.lists, one);
              list = pattern->sink.lists->len;
            }
          if (reader.word == BW_WORD_REMAIN)
            bw_reader_advance (&reader);
          if (reader.word == BW_WORD_STITCH || bw_reader_take_stitch (&reader) != BW_STITCH_NONE)
            {
              sentence->stitches = TRUE;
              sentence->list = list;
            }
          continue;
        }
      sentence->thread |= reader.word == BW_WORD_CLOSE;
      sentence->through |= bw_token_is_word (&reader.token, "through");
      sentence->stitches |= reader.word == BW_WORD_STITCH;
      sentence->join |= reader.word == BW_WORD_JOIN || bw_token_is_word (&reader.token, "sew") ||
                        bw_token_is_word (&reader.token, "seam");
      sentence->ends |= reader.word == BW_WORD_END || reader.word == BW_WORD_ROW ||
                        bw_token_is_word (&reader.token, "foundation") ||
                        bw_token_is_word (&reader.token, "edges") ||
                        bw_token_is_word (&reader.token, "seam");
      bw_reader_advance (&reader);
    }
}

static void
read_sentence (Cutter          *cutter,
               const BwStretch *stretch,
               const BwLabel   *label)
{
  BwPattern *pattern = cutter->pattern;
  guint32 forms[BW_WORD_N][BW_WORD_FORMS];
  Sentence sentence = { 0 };
  BwPatternLine *line;
  BwPatternLineKind kind;

  if (pattern->lines->len == 0)
    return;
  memcpy (forms, pattern->sink.forms, sizeof forms);
  scan_sentence (pattern, stretch, label->work, &sentence);
  memcpy (pattern->sink.forms, forms, sizeof forms);

  if (sentence.thread && sentence.through && sentence.stitches)
    kind = BW_LINE_CLOSE;
  else if (sentence.join && sentence.ends && cutter->rows)
    kind = BW_LINE_JOIN;
  else
    return;

  line = add_line (pattern, kind, stretch);
  label_line (cutter, line, label);
  line->row = kind == BW_LINE_JOIN;
  line->facts.stated = sentence.list;
  cutter->rows = FALSE;
}

/* --- Lines --- */

static BwPatternPart
part_of (const BwPattern *pattern)
{
  return (BwPatternPart) g_array_index (pattern->sections, BwPatternSection,
                                        pattern->sections->len - 1).part;
}

/* "Rnd 1:" alone on its line: the work is on the next. */
static void
take_work_below (Cutter    *cutter,
                 BwStretch *line,
                 BwLabel   *label)
{
  Cutter back = *cutter;
  guint n_starts = cutter->pattern->line_starts->len;
  BwStretch next;

  if (next_line (cutter, &next) && next.start < next.end && !begins_round (&next))
    {
      label->work = next.start;
      line->end = next.end;
      return;
    }
  g_array_set_size (cutter->pattern->line_starts, n_starts);
  *cutter = back;
}

static void
read_line (Cutter    *cutter,
           BwStretch *line)
{
  BwPattern *pattern = cutter->pattern;
  BwLabel label = { .work = line->start };
  BwPatternPart titled;
  guint32 sizes;

  if (pattern->lines->len > 0 && bw_pattern_sizes_line (pattern, line, &sizes))
    {
      cutter->sizes = sizes;
      return;
    }
  if (bw_pattern_may_label (pattern, line) && bw_pattern_read_label (pattern, line, &label))
    {
      if (label.work >= line->end)
        take_work_below (cutter, line, &label);
      take_wrapped (cutter, line);
      read_labelled (cutter, line, &label);
      return;
    }
  if (bw_pattern_read_heading (pattern, line))
    {
      cutter->sizes = 0;
      return;
    }

  titled = label.sizes == 0 ? bw_pattern_titled (line, NULL) : BW_PART_WORK;
  if (titled == BW_PART_WORK)
    titled = part_of (pattern);
  if (titled == BW_PART_WORK && read_unlabelled (cutter, line, &label))
    return;
  if (titled == BW_PART_WORK || titled == BW_PART_END)
    read_sentence (cutter, line, &label);
  bw_pattern_read_front (pattern, line, titled);
}

#define TITLE_LEAST 12 /* bytes of a title in front of the terms: "Hat – UK terms" */

/* The first line is the title when it is a few words and nothing else. */
static void
read_title (BwPattern       *pattern,
            const BwStretch *line)
{
  gsize length = (gsize) (line->end - line->start);
  BwSlice terms = pattern->front.pieces[BW_PIECE_TERMS];
  const char *said = pattern->text + terms.offset;

  if (length <= 80 && memchr (line->start, ':', length) == NULL && line->end[-1] != '.' &&
      !(terms.length > 0 && said >= line->start && said < line->start + TITLE_LEAST) &&
      g_ascii_strncasecmp (line->start, "ch", 2) != 0)
    bw_pattern_note_piece (pattern, BW_PIECE_TITLE, line->start, line->end);
}

/* Reads all lines of the text. */
void
bw_pattern_read_lines (BwPattern *pattern)
{
  Cutter cutter = { pattern, pattern->text, pattern->text + pattern->length, FALSE, { 0, 0 },
                    0 };
  BwPatternSection first = { { 0, 0 }, BW_PART_WORK };
  BwStretch line;
  gboolean untitled = TRUE;

  g_array_append_val (pattern->sections, first);
  while (next_line (&cutter, &line))
    if (line.start < line.end)
      {
        if (untitled)
          read_title (pattern, &line);
        untitled = FALSE;
        read_line (&cutter, &line);
      }
  if (pattern->lines->len > 0)
    {
      guint32 offset = g_array_index (pattern->lines, BwPatternLine, 0).offset;

      bw_pattern_note_piece (pattern, BW_PIECE_INSTRUCTIONS, pattern->text + offset,
                             pattern->text + pattern->length);
    }
  bw_pattern_find_hooks (pattern);
}
