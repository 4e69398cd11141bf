#define G_LOG_DOMAIN "bw-core"

#include "bw-notation-reader.h"

/* Steps from token to token, and the items that come of them. */

/* "x9" and "ch3" are two tokens written as one. */
static void
split (BwReader *reader)
{
  BwToken *token = &reader->token;
  gsize letters = g_ascii_tolower (token->start[0]) == 'x' ? 1 : 2;

  if (letters == 2 && (token->length < 3 || g_ascii_strncasecmp (token->start, "ch", 2) != 0))
    return;
  if (token->length <= letters)
    return;
  for (gsize i = letters; i < token->length; i++)
    if (!g_ascii_isdigit (token->start[i]))
      return;

  reader->lexer.at = token->start + letters;
  reader->lexer.column = token->column + (guint) letters;
  token->length = letters;
}

/* "dc12" and "dc-blo" are a stitch and something else. */
static void
split_stitch (BwReader *reader)
{
  BwToken *token = &reader->token;
  gsize letters = 0;

  while (letters < token->length && g_ascii_isalpha (token->start[letters]))
    letters++;
  if (letters < 2 || letters == token->length ||
      !(token->start[letters] == '-' || g_ascii_isdigit (token->start[token->length - 1])) ||
      bw_stitch_find_abbreviation (reader->dictionary, token->start, token->length,
                                   reader->terms) != BW_STITCH_NONE ||
      bw_stitch_find_abbreviation (reader->dictionary, token->start, letters,
                                   reader->terms) == BW_STITCH_NONE)
    return;
  if (token->start[letters] == '-')
    {
      const char *rest = token->start + letters + 1;

      if (g_ascii_strncasecmp (rest, "bl", 2) != 0 && g_ascii_strncasecmp (rest, "fl", 2) != 0)
        return;
      reader->lexer.at = rest;
    }
  else
    {
      for (gsize i = letters; i < token->length; i++)
        if (!g_ascii_isdigit (token->start[i]))
          return;
      reader->lexer.at = token->start + letters;
    }
  reader->lexer.column = token->column + (guint) (reader->lexer.at - token->start);
  token->length = letters;
}

/* Remembers the first use of each way to write a word. */
static void
note_form (BwReader *reader,
           guint     form)
{
  guint32 *first = &reader->sink->forms[reader->word][form];

  if (*first == 0)
    *first = bw_reader_offset (reader) + 1;
}

void
bw_reader_advance (BwReader *reader)
{
  guint form = 0;

  bw_lexer_next (&reader->lexer, &reader->token);
  reader->word = BW_WORD_NONE;
  if (reader->token.kind != BW_TOKEN_WORD)
    {
      if (reader->sink != NULL && bw_reader_at_mark (reader, '&'))
        reader->word = BW_WORD_AND;
      return;
    }

  split (reader);
  if (reader->sink != NULL)
    split_stitch (reader);
  reader->word = bw_word_of (&reader->token, &form);
  if (reader->sink != NULL && reader->word != BW_WORD_NONE)
    note_form (reader, form);
}

gboolean
bw_reader_take (BwReader *reader,
                BwWord    word)
{
  if (reader->word != word)
    return FALSE;
  bw_reader_advance (reader);
  return TRUE;
}

gboolean
bw_reader_at_mark (const BwReader *reader,
                   char            mark)
{
  return reader->token.kind == BW_TOKEN_MARK && reader->token.mark == mark;
}

gboolean
bw_reader_take_mark (BwReader *reader,
                     char      mark)
{
  if (!bw_reader_at_mark (reader, mark))
    return FALSE;
  bw_reader_advance (reader);
  return TRUE;
}

/* The token behind the one in hand, without moving; its word, if it is one. */
BwWord
bw_reader_ahead (const BwReader *reader,
                 BwToken        *next)
{
  BwLexer ahead = reader->lexer;

  bw_lexer_next (&ahead, next);
  return bw_word_of (next, NULL);
}

/* Remembers what was wanted here; the first failure stands. */
gboolean
bw_reader_fail (BwReader   *reader,
                const char *wanted)
{
  if (reader->wanted == NULL)
    {
      reader->wanted = wanted;
      reader->failed = reader->token;
    }
  return FALSE;
}

gboolean
bw_reader_at_end (const BwReader *reader)
{
  return reader->token.kind == BW_TOKEN_END;
}

guint32
bw_reader_offset (const BwReader *reader)
{
  return reader->sink == NULL ? 0 : (guint32) (reader->token.start - reader->sink->text);
}

/* Passes over words up to the next comma, semicolon, full stop or the bracket
 * that encloses them. */
void
bw_reader_skip_clause (BwReader *reader)
{
  guint depth = 0;

  for (; !bw_reader_at_end (reader); bw_reader_advance (reader))
    {
      char mark = reader->token.kind == BW_TOKEN_MARK ? reader->token.mark : 0;

      if (mark == '(' || mark == '[')
        depth++;
      else if (depth > 0 && (mark == ')' || mark == ']'))
        depth--;
      else if (depth == 0 && (mark == ',' || mark == ';' || mark == '.' || mark == ')' ||
                              mark == ']'))
        return;
    }
}

/* Appends an item; returns its index. */
guint
bw_reader_add (BwReader *reader,
               BwItem    item,
               BwCount   count)
{
  guint index = reader->items->len;

  item.count = count.value;
  g_array_append_val (reader->items, item);
  if (reader->sink != NULL)
    {
      BwItemSource source = { count.list, bw_reader_offset (reader), 0 };

      g_array_append_val (reader->sink->sources, source);
    }
  return index;
}

BwItem *
bw_reader_item (BwReader *reader,
                guint     index)
{
  return &g_array_index (reader->items, BwItem, index);
}

void
bw_reader_set_count (BwReader *reader,
                     guint     index,
                     BwCount   count)
{
  bw_reader_item (reader, index)->count = count.value;
  if (reader->sink != NULL)
    g_array_index (reader->sink->sources, BwItemSource, index).list = count.list;
}

void
bw_reader_flag (BwReader *reader,
                guint     index,
                guint8    flag)
{
  if (reader->sink != NULL)
    g_array_index (reader->sink->sources, BwItemSource, index).flags |= flag;
}
