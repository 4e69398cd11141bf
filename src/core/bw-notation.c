#define G_LOG_DOMAIN "bw-core"

#include "bw-notation.h"

#include <string.h>

#include "bw-error.h"
#include "bw-notation-reader.h"

/* A recursive-descent reader of one round: what is said of one stitch is read in
 * bw-notation-stitch.c, numbers in bw-notation-count.c.
 *
 *   round    = items
 *   items    = item { ( "," | ";" | "." | "then" ) item }
 *   item     = "[" items "]" times
 *            | "{" items "}" times
 *            | "(" items ")" ( times | into )
 *            | "*" items ( "*" | ";" | "," | "." ) "rep" [ "from" "*" ] times
 *            | "miss" [ "next" ] [ number ] position
 *            | "ch" [ number ]
 *            | [ number ] stitch hold [ target ]
 *   hold     = [ "BLO" | "FLO" ] [ number "rnds" "below" ]
 *   target   = "in" [ loop "of" ] where | "around" [ "next" position [ number "rnds" "below" ] ]
 *   where    = [ "each" [ "of" ] ] [ "next" ] [ number ] position
 *              [ "around" | "across" | "to end" ]
 *            | "same" position
 *            | "2nd" "ch" "from" "hook" [ "and" "in" "each" "ch" "across" ]
 *   into     = "in" ( "next" | "same" ) position
 *   times    = number "times" | "x" number | "once" | "twice" | "around" | "to end"
 *            | number "more" "times" | "to" "last" number position
 *   position = "st" | "sts" | "stitch" | "stitches" | "ch-sp" | "row end" | a stitch
 *
 * Openly (see bw-notation-reader.h) numbers come for every size, remarks stand
 * among the items (bw-notation-remark.c), the stitch count ends the line, and
 * more ways to write are understood.
 *
 * "Rep from *" comes after the group was worked once: "2 times" and "2 more
 * times" are 3 in all.
 */

#define OPEN(reader) ((reader)->sink != NULL)

/* --- Lists of items --- */

/* The mark that closes a bracket which is opened by the token; 0 = it opens none. */
static char
closing_of (const BwToken *token)
{
  return bw_token_is_mark (token, '[') ? ']' : bw_token_is_mark (token, '(') ? ')'
         : bw_token_is_mark (token, '{') ? '}' : 0;
}

/* "6 times [dc, dc2tog]", "rep [dc, dc2tog] 6 times": words in front of a
 * bracket. Gives whether they were there; `read` is then whether they were read. */
static gboolean
read_before_bracket (BwReader *reader,
                     gboolean *read)
{
  BwReader back = *reader;
  BwToken next;
  BwCount times;

  bw_reader_ahead (reader, &next);
  if (reader->word == BW_WORD_AGAIN && closing_of (&next) != 0)
    {
      bw_reader_advance (reader);
      *read = bw_reader_read_bracket (reader, closing_of (&reader->token), NULL);
      return TRUE;
    }
  if (!bw_reader_at_times (reader))
    return FALSE;
  if (bw_reader_take_times (reader, &times) && closing_of (&reader->token) != 0)
    {
      *read = bw_reader_read_bracket (reader, closing_of (&reader->token), &times);
      return TRUE;
    }
  *reader = back;
  return FALSE;
}

static gboolean
read_item (BwReader *reader)
{
  gboolean read;

  if (OPEN (reader) && read_before_bracket (reader, &read))
    return read;
  switch (reader->token.kind == BW_TOKEN_MARK ? reader->token.mark : 0)
    {
    case '[': return bw_reader_read_bracket (reader, ']', NULL);
    case '{': return bw_reader_read_bracket (reader, '}', NULL);
    case '(': return bw_reader_read_bracket (reader, ')', NULL);
    case '*': return bw_reader_read_starred (reader);
    default: return bw_reader_read_stitch (reader);
    }
}

/* Does the list end here, or does "rep from *" close a starred group? */
static gboolean
at_list_end (const BwReader *reader)
{
  return bw_reader_at_end (reader) || bw_reader_at_mark (reader, ']') ||
         bw_reader_at_mark (reader, '}') || bw_reader_at_mark (reader, ')') ||
         bw_reader_at_mark (reader, '*') || reader->word == BW_WORD_AGAIN;
}

static gboolean
take_separator (BwReader *reader)
{
  return bw_reader_take_mark (reader, ',') || bw_reader_take_mark (reader, ';') ||
         bw_reader_take_mark (reader, '.') || bw_reader_take (reader, BW_WORD_THEN) ||
         (OPEN (reader) && (bw_reader_take (reader, BW_WORD_AND) ||
                            bw_reader_take_mark (reader, ':') ||
                            bw_reader_take_mark (reader, '|')));
}

static gboolean
read_strict_items (BwReader *reader)
{
  for (;;)
    {
      gboolean separated = FALSE;

      if (!read_item (reader))
        return FALSE;
      while (take_separator (reader))
        separated = TRUE;
      if (at_list_end (reader) && (!bw_reader_at_mark (reader, '*') || reader->depth > 0))
        return TRUE;
      if (!separated)
        return bw_reader_fail (reader, "a comma");
    }
}

static gboolean
is_chain (const BwReader *reader,
          const BwItem   *item)
{
  return item->kind == BW_ITEM_EACH && item->stitch != BW_STITCH_NONE &&
         bw_stitch_get (reader->dictionary, item->stitch)->takes == 0;
}

/* A chain that begins the line, or follows the turn at its end, is no item: it
 * lifts the yarn, or is the foundation. */
static void
take_out_chain (BwReader *reader,
                guint32   offset)
{
  BwLineFacts *facts = reader->facts;
  guint last = reader->items->len - 1;
  const BwItem *item = bw_reader_item (reader, last);

  if (!is_chain (reader, item))
    return;
  if (last == 0 && (facts->chain == 0 || facts->ring))
    {
      if (facts->ring)
        facts->join = BW_JOIN_NONE; /* it made the ring */
      facts->chain = (guint16) MIN (item->count, G_MAXUINT16);
      facts->chain_list = g_array_index (reader->sink->sources, BwItemSource, last).list;
      facts->chain_offset = offset;
    }
  else if (facts->turned == BW_SAID_YES && last > 0)
    facts->end_chain = (guint16) MIN (item->count, 100);
  else
    return;

  g_array_set_size (reader->items, last);
  g_array_set_size (reader->sink->sources, last);
}

/* A count that may be the stitch count: "[dc, 2 dc in next st] x 6 (18)". */
static void
note_tail (BwReader *reader,
           guint     first)
{
  const BwItemSource *source = &g_array_index (reader->sink->sources, BwItemSource, first);

  /* only of the last item that stays: a chain may be taken out again */
  reader->facts->tail = reader->facts->stated == 0 ? source->list : 0;
  reader->facts->tail_item = first;
}

/* Prose behind the work of a line is nobody's instruction. */
static gboolean
stop_at_prose (BwReader *reader,
               guint     begun,
               gboolean  sentence)
{
  if (reader->depth > 0 || (reader->items->len == 0 && reader->facts->from_list == 0) ||
      !(reader->facts->stated != 0 || sentence))
    return FALSE;

  g_array_set_size (reader->items, begun);
  g_array_set_size (reader->sink->sources, begun);
  reader->wanted = NULL;
  while (!bw_reader_at_end (reader))
    bw_reader_advance (reader);
  return TRUE;
}

/* Dashes and equals signs in front of the stitch count. */
static gboolean
skip_dashes (BwReader *reader)
{
  gboolean dashed = FALSE;

  while (reader->depth == 0 && !bw_reader_at_number (reader) &&
         (bw_reader_at_mark (reader, '-') || bw_reader_at_mark (reader, '=')))
    {
      bw_reader_advance (reader);
      dashed = TRUE;
    }
  return dashed;
}

/* "you now have", "there are", "for a total of" in front of the stitch count. */
static gboolean
skip_you_have (BwReader *reader)
{
  BwReader ahead = *reader;

  if (reader->depth > 0 || reader->items->len == 0 || reader->token.kind != BW_TOKEN_WORD ||
      !(reader->word == BW_WORD_FOR || bw_token_is_word (&reader->token, "you") ||
        bw_token_is_word (&reader->token, "there")))
    return FALSE;
  ahead.sink = NULL;
  for (guint i = 0; i < 5 && ahead.token.kind == BW_TOKEN_WORD; i++)
    bw_reader_advance (&ahead);
  if (ahead.token.kind != BW_TOKEN_NUMBER)
    return FALSE;
  while (reader->token.kind == BW_TOKEN_WORD)
    bw_reader_advance (reader);
  return TRUE;
}

/* In a table copied as text the count has a column of its own. */
static gboolean
behind_tab (const BwReader *reader)
{
  return reader->token.start > reader->sink->text && reader->token.start[-1] == '\t';
}

/* "with A" among the stitches of a group. */
static gboolean
at_with_colour (const BwReader *reader)
{
  BwReader ahead = *reader;

  if (reader->word != BW_WORD_WITH && reader->word != BW_WORD_USING)
    return FALSE;
  bw_reader_advance (&ahead);
  return bw_reader_at_colour (&ahead);
}

static gboolean
read_open_items (BwReader *reader)
{
  gboolean sentence = FALSE;
  gboolean separated = TRUE;

  for (;;)
    {
      guint first = reader->items->len;
      guint32 offset;
      gboolean dashed = FALSE;

      for (;;)
        {
          sentence |= bw_reader_at_mark (reader, '.');
          dashed |= bw_reader_at_mark (reader, '|');
          if (!take_separator (reader))
            break;
          separated = TRUE;
        }
      dashed |= skip_dashes (reader) || skip_you_have (reader) || sentence || behind_tab (reader);
      if (at_list_end (reader) && (reader->depth > 0 || bw_reader_at_end (reader)))
        return TRUE;
      if (bw_reader_take_stated (reader, dashed) ||
          ((reader->depth == 0 || at_with_colour (reader)) && bw_reader_read_remark (reader)))
        {
          sentence = FALSE;
          separated = TRUE;
          continue;
        }
      if (reader->wanted != NULL)
        return FALSE;

      if (reader->depth > 0)
        bw_reader_take (reader, BW_WORD_WORK);
      offset = bw_reader_offset (reader);
      if (!separated)
        {
          bw_reader_fail (reader, "a comma");
          return stop_at_prose (reader, first, FALSE);
        }
      if (!read_item (reader))
        return stop_at_prose (reader, first, sentence);
      if (reader->depth == 0 && reader->items->len > first)
        {
          if (reader->items->len == first + 1)
            take_out_chain (reader, offset);
          if (reader->items->len > first)
            note_tail (reader, first);
        }
      sentence = separated = FALSE;
    }
}

gboolean
bw_reader_read_items (BwReader *reader)
{
  return OPEN (reader) ? read_open_items (reader) : read_strict_items (reader);
}

void
bw_reader_init (BwReader   *reader,
                const char *text,
                gsize       length)
{
  bw_lexer_init (&reader->lexer, text, length);
  reader->depth = 0;
  reader->loop = BW_LOOP_BOTH;
  reader->wanted = NULL;
  bw_reader_advance (reader);
}

/* Reads to the end of the text given; FALSE with `wanted` and `failed` set. */
gboolean
bw_reader_read_round (BwReader *reader)
{
  return bw_reader_read_items (reader) &&
         (bw_reader_at_end (reader) || bw_reader_fail (reader, "the end of the round"));
}

/**
 * bw_notation_read_round:
 * @dictionary: the stitches
 * @text: instruction of one round, without its number and count
 * @length: its length in bytes; -1 = up to the zero byte
 * @terms: the terms it is written in
 * @items: (element-type BwItem): the items are appended here; left as it was on failure
 * @error: return location for an error
 *
 * Reads one round. Repeats "around" are left open; see bw_items_bind().
 *
 * Returns: FALSE with @error set; the message names the column and what was wanted there
 */
gboolean
bw_notation_read_round (const BwStitchDictionary  *dictionary,
                        const char                *text,
                        gssize                     length,
                        BwTerms                    terms,
                        GArray                    *items,
                        GError                   **error)
{
  guint before = items->len;
  BwReader reader = { .dictionary = dictionary, .terms = terms, .items = items };
  gsize bytes = length < 0 ? strlen (text) : (gsize) length;
  g_autofree char *found = NULL;

  if (!g_utf8_validate_len (text, bytes, NULL))
    {
      g_set_error (error, BW_ERROR, BW_ERROR_SYNTAX, "The text is not UTF-8");
      return FALSE;
    }

  bw_reader_init (&reader, text, bytes);
  if (bw_reader_read_round (&reader))
    return TRUE;

  g_array_set_size (items, before);
  found = reader.failed.kind == BW_TOKEN_END
    ? g_strdup ("the end")
    : g_strdup_printf ("\"%.*s\"", (int) MIN (reader.failed.length, 24), reader.failed.start);
  g_set_error (error, BW_ERROR, BW_ERROR_SYNTAX, "column %u: wants %s, not %s",
               reader.failed.column, reader.wanted, found);
  return FALSE;
}
