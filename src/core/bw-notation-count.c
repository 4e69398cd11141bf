#define G_LOG_DOMAIN "bw-core"

#include "bw-notation-reader.h"

#include <string.h>

/* Numbers, numbers for every size, and the stitch count at the end of a line.
 *
 *   numbers = figure [ "(" figure { sep figure } ")" ]     brackets may be square
 *   figure  = number | "–"
 *   sep     = "," | ";" | "/" | "–"
 *   stated  = "(" kinds ")" | "[" kinds "]" | ( "–" | "=" ) kinds
 *   kinds   = numbers [ unit ] { ( "," | "and" | "+" ) numbers unit }
 */

#define STATED_TOKENS_MAX 200

static gboolean
is_mark (const BwToken *token,
         char           mark)
{
  return bw_token_is_mark (token, mark);
}

static gboolean
is_separator (const BwToken *token)
{
  return is_mark (token, ',') || is_mark (token, ';') || is_mark (token, '/') ||
         is_mark (token, '-') || is_mark (token, ':');
}

/* The figures between brackets, the opening one passed already; the lexer is
 * left behind the closing one, or anywhere when this is not such a list. */
static gboolean
scan_list (BwLexer *lexer,
           char     closing,
           guint32 *figures,
           guint   *n)
{
  BwToken token;

  for (;;)
    {
      bw_lexer_next (lexer, &token);
      if (*n >= BW_FIGURES_MAX)
        return FALSE;
      if (token.kind == BW_TOKEN_NUMBER)
        figures[(*n)++] = token.number;
      else if (is_mark (&token, '-'))
        figures[(*n)++] = BW_FIGURE_NONE;
      else
        return FALSE;

      bw_lexer_next (lexer, &token);
      if (is_mark (&token, closing))
        return TRUE;
      if (!is_separator (&token))
        return FALSE;
    }
}

/* "/56/64" behind the first figure. */
static gboolean
scan_slashes (BwLexer *lexer,
              guint32 *figures,
              guint   *n)
{
  guint before = *n;

  for (;;)
    {
      BwLexer back = *lexer;
      BwToken token;

      bw_lexer_next (lexer, &token);
      if (is_mark (&token, '/'))
        bw_lexer_next (lexer, &token);
      else
        token.kind = BW_TOKEN_END;
      if (token.kind != BW_TOKEN_NUMBER || *n >= BW_FIGURES_MAX)
        {
          *lexer = back;
          return *n > before;
        }
      figures[(*n)++] = token.number;
    }
}

static gboolean
scan_one_bracket (BwLexer *lexer,
                  guint32 *figures,
                  guint   *n)
{
  BwLexer back = *lexer;
  guint before = *n;
  BwToken token;

  bw_lexer_next (lexer, &token);
  if ((is_mark (&token, '(') && scan_list (lexer, ')', figures, n)) ||
      (is_mark (&token, '[') && scan_list (lexer, ']', figures, n)))
    return TRUE;

  *lexer = back;
  *n = before;
  return FALSE;
}

/* Behind brackets with one figure sizes may go on by turns, "96 (96) 112 (112)",
 * or in brackets of their own, "48 (56) (64)". */
static void
scan_turns (BwLexer *lexer,
            guint32 *figures,
            guint   *n)
{
  for (;;)
    {
      BwLexer back = *lexer;
      guint before = *n;
      BwToken token;

      if (scan_one_bracket (lexer, figures, n) && *n == before + 1)
        continue;
      *lexer = back;
      *n = before;
      bw_lexer_next (lexer, &token);
      if (token.kind == BW_TOKEN_NUMBER && *n < BW_FIGURES_MAX)
        {
          figures[(*n)++] = token.number;
          if (scan_one_bracket (lexer, figures, n) && *n == before + 2)
            continue;
        }
      *lexer = back;
      *n = before;
      return;
    }
}

/* The figures of the other sizes, which follow the one in hand. */
static gboolean
scan_brackets (const BwLexer *from,
               BwLexer       *behind,
               guint32       *figures,
               guint         *n)
{
  guint before = *n;

  *behind = *from;
  if (scan_one_bracket (behind, figures, n))
    {
      if (*n == before + 1)
        scan_turns (behind, figures, n);
      return TRUE;
    }
  return scan_slashes (behind, figures, n);
}

static guint32
add_list (BwReader      *reader,
          const guint32 *figures,
          guint          n,
          guint32        offset)
{
  BwNumberList list = { reader->sink->figures->len, n, offset };

  g_array_append_vals (reader->sink->figures, figures, n);
  g_array_append_val (reader->sink->lists, list);
  return reader->sink->lists->len;
}

/* A dash in front of brackets with numbers: the first size does not work it. */
static gboolean
at_dash (const BwReader *reader)
{
  guint32 figures[BW_FIGURES_MAX];
  BwLexer behind;
  guint n = 0;

  return reader->sink != NULL && bw_reader_at_mark (reader, '-') &&
         scan_brackets (&reader->lexer, &behind, figures, &n);
}

gboolean
bw_reader_at_number (const BwReader *reader)
{
  return reader->token.kind == BW_TOKEN_NUMBER || at_dash (reader);
}

static gboolean
in_range (guint32 figure)
{
  return figure == BW_FIGURE_NONE || figure <= BW_ITEM_COUNT_MAX;
}

/* Numbers of several sizes: none of them above the limit, one of them more than 0. */
static gboolean
settle_list (BwReader      *reader,
             const guint32 *figures,
             guint          n,
             BwCount       *count)
{
  count->value = 0;
  for (guint i = 0; i < n; i++)
    {
      if (!in_range (figures[i]))
        return bw_reader_fail (reader, "a number from 1 to 100000");
      if (count->value == 0 && figures[i] != BW_FIGURE_NONE)
        count->value = figures[i];
    }
  if (count->value == 0)
    return bw_reader_fail (reader, "a number above 0 for one of the sizes");
  return TRUE;
}

/* A number that makes sense as a count, with those of other sizes. */
gboolean
bw_reader_take_count (BwReader *reader,
                      BwCount  *count)
{
  guint32 figures[BW_FIGURES_MAX];
  BwLexer behind;
  guint n = 1;

  count->list = 0;
  if (!bw_reader_at_number (reader))
    return bw_reader_fail (reader, "a number");

  figures[0] = reader->token.kind == BW_TOKEN_NUMBER ? reader->token.number : BW_FIGURE_NONE;
  if (reader->sink != NULL && scan_brackets (&reader->lexer, &behind, figures, &n))
    {
      if (!settle_list (reader, figures, n, count))
        return FALSE;
      count->list = add_list (reader, figures, n, bw_reader_offset (reader));
      reader->lexer = behind;
      bw_reader_advance (reader);
      return TRUE;
    }

  if (figures[0] == 0 || !in_range (figures[0]) || figures[0] == BW_FIGURE_NONE)
    return bw_reader_fail (reader, "a number from 1 to 100000");
  count->value = figures[0];
  bw_reader_advance (reader);
  return TRUE;
}

/* --- How often --- */

static gboolean
is_times (const BwToken *token)
{
  BwWord word = bw_word_of (token, NULL);

  return word == BW_WORD_TIMES || word == BW_WORD_X || is_mark (token, 'x');
}

/* Does "6 times", "6 (7, 8) times", "x 6", "6x", "once" or "twice" stand here? */
gboolean
bw_reader_at_times (const BwReader *reader)
{
  guint32 figures[BW_FIGURES_MAX];
  BwLexer behind = reader->lexer;
  BwToken token;
  guint n = 1;

  if (reader->sink == NULL)
    return FALSE;
  if (reader->word == BW_WORD_ONCE || reader->word == BW_WORD_TWICE)
    return TRUE;
  if (reader->word == BW_WORD_X || bw_reader_at_mark (reader, 'x'))
    {
      bw_lexer_next (&behind, &token);
      return token.kind == BW_TOKEN_NUMBER;
    }
  if (!bw_reader_at_number (reader))
    return FALSE;
  scan_brackets (&reader->lexer, &behind, figures, &n);
  bw_lexer_next (&behind, &token);
  return is_times (&token);
}

/* Takes what bw_reader_at_times() saw. */
gboolean
bw_reader_take_times (BwReader *reader,
                      BwCount  *times)
{
  if (reader->word == BW_WORD_ONCE || reader->word == BW_WORD_TWICE)
    {
      *times = (BwCount) { reader->word == BW_WORD_ONCE ? 1 : 2, 0 };
      bw_reader_advance (reader);
      return TRUE;
    }
  if (is_times (&reader->token))
    {
      bw_reader_advance (reader);
      return bw_reader_take_count (reader, times);
    }
  if (!bw_reader_take_count (reader, times))
    return FALSE;
  bw_reader_advance (reader);
  return TRUE;
}

/* --- The stitch count at the end --- */

/* What a count may be followed by: "sts", "dc", "ch-1 sps in total". Words of
 * work never follow one. */
static gboolean
is_unit (const BwReader *reader,
         const BwToken  *token)
{
  if (token->kind != BW_TOKEN_WORD)
    return FALSE;

  switch (bw_word_of (token, NULL))
    {
    case BW_WORD_STITCH: case BW_WORD_SPACE: case BW_WORD_CHAIN_SPACE: case BW_WORD_CHAIN:
    case BW_WORD_IN: case BW_WORD_TOTAL: case BW_WORD_REMAIN: case BW_WORD_LOOP:
      return TRUE;
    case BW_WORD_NONE:
      return bw_stitch_find_abbreviation (reader->dictionary, token->start, token->length,
                                          reader->terms) != BW_STITCH_NONE ||
             (token->length > 3 && g_ascii_strncasecmp (token->start, "ch-", 3) == 0) ||
             bw_token_is_word (token, "sl");
    default:
      return FALSE;
    }
}

/* Several kinds of stitches are added up, size by size. */
static gboolean
add_kind (guint32       *sum,
          guint         *n_sum,
          const guint32 *figures,
          guint          n)
{
  if (*n_sum == 0)
    *n_sum = n;
  if (*n_sum != n)
    return FALSE;

  for (guint i = 0; i < n; i++)
    {
      if (figures[i] == BW_FIGURE_NONE || sum[i] == BW_FIGURE_NONE)
        sum[i] = BW_FIGURE_NONE;
      else
        sum[i] = (guint32) MIN ((guint64) sum[i] + figures[i], BW_FIGURE_NONE - 1);
    }
  return TRUE;
}

typedef struct
{
  guint32  sum[BW_FIGURES_MAX];
  guint32  first[BW_FIGURES_MAX];
  guint    n;
  guint    kinds;
  gboolean unit;  /* "sts" was said: of no stitch is it said where it is worked */
  BwLexer  behind;
  BwToken  next;
} Stated;

/* Does another kind follow the one just read? */
static gboolean
goes_on (const Stated *stated)
{
  BwLexer ahead = stated->behind;
  BwToken token;

  if (!is_mark (&stated->next, ',') && !is_mark (&stated->next, '+') &&
      bw_word_of (&stated->next, NULL) != BW_WORD_AND)
    return FALSE;
  bw_lexer_next (&ahead, &token);
  return token.kind == BW_TOKEN_NUMBER || is_mark (&token, '-');
}

/* Numbers and units, one kind or several; `next` is what follows them. */
static gboolean
scan_kinds (const BwReader *reader,
            Stated         *stated)
{
  guint tokens = 0;

  for (;;)
    {
      guint32 figures[BW_FIGURES_MAX];
      guint n = 1;
      BwLexer behind;
      gboolean unit = FALSE;

      if (stated->next.kind != BW_TOKEN_NUMBER && !is_mark (&stated->next, '-'))
        return FALSE;
      figures[0] = stated->next.kind == BW_TOKEN_NUMBER ? stated->next.number : BW_FIGURE_NONE;
      if (scan_brackets (&stated->behind, &behind, figures, &n))
        stated->behind = behind;
      else if (figures[0] == BW_FIGURE_NONE)
        return FALSE;
      if (!add_kind (stated->sum, &stated->n, figures, n))
        return FALSE;
      if (stated->kinds++ == 0)
        memcpy (stated->first, stated->sum, sizeof stated->first);

      bw_lexer_next (&stated->behind, &stated->next);
      for (; is_unit (reader, &stated->next) && tokens++ < STATED_TOKENS_MAX;
           bw_lexer_next (&stated->behind, &stated->next))
        {
          unit = TRUE;
          stated->unit |= bw_word_of (&stated->next, NULL) == BW_WORD_STITCH;
        }
      if (!unit || !goes_on (stated))
        return TRUE;
      bw_lexer_next (&stated->behind, &stated->next);
      if (tokens++ > STATED_TOKENS_MAX)
        return FALSE;
    }
}

/* "(54, 60, 66)": figures of the sizes with nothing else between the brackets. */
static gboolean
scan_bare_list (const BwReader *reader,
                char            closing,
                Stated         *stated)
{
  memset (stated, 0, sizeof *stated);
  stated->behind = reader->lexer;
  if (!scan_list (&stated->behind, closing, stated->sum, &stated->n) || stated->n < 2)
    return FALSE;
  stated->kinds = 1;
  return TRUE;
}

/* Does what follows a count say that it was none: "(6 dc) in ring", "(54) times"? */
static gboolean
ends_line (BwLexer       *after,
           const BwToken *next)
{
  BwToken second;

  if (next->kind == BW_TOKEN_NUMBER)
    return FALSE;
  if (is_mark (next, '-'))
    {
      /* how often for the sizes, the first of them not at all: "– (45, 48) times" */
      bw_lexer_next (after, &second);
      return !is_mark (&second, '(') && !is_mark (&second, '[');
    }

  switch (bw_word_of (next, NULL))
    {
    case BW_WORD_X: case BW_WORD_TIMES: case BW_WORD_IN: case BW_WORD_AROUND: case BW_WORD_TO:
    case BW_WORD_ACROSS: case BW_WORD_ONCE: case BW_WORD_TWICE: case BW_WORD_ROUND:
      return FALSE;
    default:
      return !is_mark (next, 'x');
    }
}

/* "(12 sts.)", "(12 sts, the chain is none)": what follows a count up to the
 * bracket, where the count says that it is one. */
static gboolean
skip_to_closing (Stated *stated,
                 char    closing)
{
  guint tokens = 0;

  while (!is_mark (&stated->next, closing))
    {
      if (stated->next.kind == BW_TOKEN_END || tokens++ > STATED_TOKENS_MAX ||
          is_mark (&stated->next, '(') || is_mark (&stated->next, '[') ||
          !(stated->unit || is_mark (&stated->next, '.')))
        return FALSE;
      bw_lexer_next (&stated->behind, &stated->next);
    }
  return TRUE;
}

static void
settle_stated (BwReader     *reader,
               const Stated *stated,
               guint32       offset)
{
  reader->facts->stated = add_list (reader, stated->sum, stated->n, offset);
  if (stated->kinds > 1)
    reader->facts->stated_first = add_list (reader, stated->first, stated->n, offset);
}

/* Takes the stitch count of the line, if that is what stands here. `dashed`:
 * behind a dash or equals sign, "— 54 dc" is a count and no work. */
gboolean
bw_reader_take_stated (BwReader *reader,
                       gboolean  dashed)
{
  char opening = reader->token.kind == BW_TOKEN_MARK ? reader->token.mark : 0;
  char closing = opening == '(' ? ')' : opening == '[' ? ']' : opening == '{' ? '}'
                 : opening == '<' ? '>' : 0;
  gboolean bare = opening == 0;
  Stated stated = { .behind = reader->lexer };
  BwLexer after;
  BwToken next;

  if (reader->depth > 0 || (reader->items->len == 0 && reader->facts->from_list == 0 &&
                            reader->facts->chain == 0))
    return FALSE;
  if (bare)
    stated.next = reader->token;
  else
    bw_lexer_next (&stated.behind, &stated.next);
  if (opening == '(' && is_mark (&stated.next, '='))
    bw_lexer_next (&stated.behind, &stated.next);

  if (closing != 0 && scan_kinds (reader, &stated) && skip_to_closing (&stated, closing))
    ;
  else if (closing != 0 && scan_bare_list (reader, closing, &stated))
    ;
  else if (closing == 0 && scan_kinds (reader, &stated) &&
           (dashed || stated.unit) &&
           (stated.next.kind == BW_TOKEN_END || is_mark (&stated.next, '.') ||
            (dashed && (is_mark (&stated.next, ',') || is_mark (&stated.next, ';') ||
                        is_mark (&stated.next, '-') || is_mark (&stated.next, '|')))))
    stated.behind.at = stated.next.start;
  else
    return FALSE;

  after = stated.behind;
  bw_lexer_next (&after, &next);
  if (!ends_line (&after, &next))
    return FALSE;
  settle_stated (reader, &stated, bw_reader_offset (reader));
  reader->lexer = stated.behind;
  bw_reader_advance (reader);
  return TRUE;
}
