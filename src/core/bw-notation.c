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

/* --- Groups --- */

/* "8 more times", "8 times", "8 times in all": the number is taken; `worked` is
 * how often the group was worked already ("rep from *" has been once). */
static gboolean
settle_times (BwReader *reader,
              guint     index,
              guint     worked,
              BwCount   count)
{
  gboolean more = bw_reader_take (reader, BW_WORD_MORE);
  BwToken next;

  if (!bw_reader_take (reader, BW_WORD_TIMES) &&
      !(OPEN (reader) && (bw_reader_take (reader, BW_WORD_X) || bw_reader_take_mark (reader, 'x'))))
    return bw_reader_fail (reader, "\"times\"");
  more |= bw_reader_take (reader, BW_WORD_MORE);
  if (OPEN (reader) && reader->word == BW_WORD_IN &&
      bw_reader_ahead (reader, &next) == BW_WORD_TOTAL)
    {
      bw_reader_advance (reader);
      bw_reader_advance (reader);
      worked = 0;
    }
  else if (OPEN (reader) && bw_reader_take (reader, BW_WORD_TOTAL))
    worked = 0;

  if (worked > 0 && count.list != 0)
    bw_reader_flag (reader, index, BW_SOURCE_PLUS_ONE);
  else
    count.value += worked;
  if (worked > 0 && !more)
    bw_reader_flag (reader, index, BW_SOURCE_LOOSE);
  bw_reader_set_count (reader, index, count);
  return TRUE;
}

/* "until 2 sts remain", "to within 2 sts of end": the number is in hand. */
static gboolean
read_until_left (BwReader *reader,
                 guint     index)
{
  BwCount count;
  guint8 place;

  if (!bw_reader_take_count (reader, &count) || !bw_reader_take_position (reader, &place))
    return FALSE;
  if (reader->word != BW_WORD_REMAIN && reader->word != BW_WORD_OF && reader->word != BW_WORD_FROM)
    return bw_reader_fail (reader, "\"remain\"");
  bw_reader_skip_clause (reader);
  bw_reader_item (reader, index)->kind = BW_ITEM_TO_LAST;
  bw_reader_set_count (reader, index, count);
  return TRUE;
}

/* "to end", "to last 2 sts"; "to" is in hand. */
static gboolean
read_to (BwReader *reader,
         guint     index)
{
  BwCount count = BW_COUNT_ONE;
  guint8 place;

  bw_reader_advance (reader);
  if (OPEN (reader))
    {
      if (bw_token_is_word (&reader->token, "within"))
        bw_reader_advance (reader);
      bw_reader_take (reader, BW_WORD_THE);
      if (bw_reader_at_number (reader))
        return read_until_left (reader, index);
    }
  if (bw_reader_take (reader, BW_WORD_END))
    {
      if (OPEN (reader) && reader->word == BW_WORD_OF)
        bw_reader_skip_clause (reader);
      return TRUE;
    }
  if (!bw_reader_take (reader, BW_WORD_LAST))
    return bw_reader_fail (reader, "\"last\" and a number of stitches");
  if (!(OPEN (reader) && !bw_reader_at_number (reader)) && !bw_reader_take_count (reader, &count))
    return FALSE;
  if (!bw_reader_take_position (reader, &place))
    return FALSE;

  bw_reader_item (reader, index)->kind = BW_ITEM_TO_LAST;
  bw_reader_set_count (reader, index, count);
  return TRUE;
}

/* "rep", "all" and "a total of" in front of how often. */
static void
skip_before_times (BwReader *reader,
                   guint    *worked)
{
  BwToken next;

  if (*worked == 0)
    bw_reader_take (reader, BW_WORD_AGAIN);
  bw_reader_take (reader, BW_WORD_FOR);
  bw_reader_take (reader, BW_WORD_THE);
  if (reader->word == BW_WORD_TOTAL && bw_reader_ahead (reader, &next) == BW_WORD_OF)
    {
      *worked = 0;
      bw_reader_advance (reader);
      bw_reader_advance (reader);
    }
  else if (reader->word == BW_WORD_TOTAL)
    bw_reader_advance (reader);
}

/* "9 times", "x 9", "twice", "around", "to last 2 sts". */
static gboolean
read_times (BwReader *reader,
            guint     index,
            guint     worked)
{
  BwCount count;

  if (OPEN (reader))
    skip_before_times (reader, &worked);
  if (bw_reader_take (reader, BW_WORD_AROUND) || bw_reader_take (reader, BW_WORD_ACROSS) ||
      bw_reader_take (reader, BW_WORD_ROUND))
    {
      bw_reader_set_count (reader, index, (BwCount) { 0, 0 });
      return !(OPEN (reader) && reader->word == BW_WORD_TO) || read_to (reader, index);
    }
  if (reader->word == BW_WORD_ONCE || reader->word == BW_WORD_TWICE)
    {
      count = (BwCount) { worked + (reader->word == BW_WORD_ONCE ? 1 : 2), 0 };
      bw_reader_set_count (reader, index, count);
      bw_reader_advance (reader);
      if (!bw_reader_take (reader, BW_WORD_MORE) && worked > 0)
        bw_reader_flag (reader, index, BW_SOURCE_LOOSE);
      return TRUE;
    }
  if (reader->word == BW_WORD_TO || (OPEN (reader) && reader->word == BW_WORD_UNTIL))
    return read_to (reader, index);

  if (bw_reader_take (reader, BW_WORD_X) || bw_reader_take_mark (reader, 'x'))
    {
      if (!bw_reader_take_count (reader, &count))
        return FALSE;
      bw_reader_set_count (reader, index, count);
      return TRUE;
    }

  if (!bw_reader_at_number (reader))
    return bw_reader_fail (reader, "how often: \"9 times\" or \"around\"");
  return bw_reader_take_count (reader, &count) && settle_times (reader, index, worked, count);
}

/* Puts a repeat round the cluster at `index`. */
static void
repeat_cluster (BwReader *reader,
                guint     index,
                BwCount   times)
{
  BwItem repeat = bw_item_repeat (times.value, bw_reader_item (reader, index)->span + 1u);
  BwItemSource source = g_array_index (reader->sink->sources, BwItemSource, index);

  source.list = times.list;
  g_array_insert_val (reader->items, index, repeat);
  g_array_insert_val (reader->sink->sources, index, source);
}

/* "in next st", "in same st", "in each ch-sp around", "in ring". */
static gboolean
read_into (BwReader *reader,
           guint     index)
{
  guint8 place;
  gboolean same = FALSE;
  gboolean each = FALSE;
  BwCount times = BW_COUNT_ONE;

  if (OPEN (reader))
    bw_reader_take (reader, BW_WORD_THE);
  if (!bw_reader_take (reader, BW_WORD_NEXT))
    {
      same = bw_reader_take (reader, BW_WORD_SAME);
      each = OPEN (reader) && bw_reader_take (reader, BW_WORD_EACH);
      if (!same && !each && !(OPEN (reader) && (reader->word == BW_WORD_RING ||
                                                reader->word == BW_WORD_MAGIC ||
                                                bw_reader_take (reader, BW_WORD_FIRST) ||
                                                bw_reader_take (reader, BW_WORD_LAST))))
        return bw_reader_fail (reader, "\"next\" or \"same\"");
    }
  if (each)
    {
      times = (BwCount) { 0, 0 };
      bw_reader_take (reader, BW_WORD_OF);
      bw_reader_take (reader, BW_WORD_THE);
      bw_reader_take (reader, BW_WORD_NEXT);
      if (bw_reader_at_number (reader) && !bw_reader_take_count (reader, &times))
        return FALSE;
    }
  if (!bw_reader_take_position (reader, &place))
    return FALSE;

  bw_reader_item (reader, index)->kind = BW_ITEM_CLUSTER;
  bw_reader_set_count (reader, index, BW_COUNT_ONE);
  bw_reader_item (reader, index)->place = same ? BW_PLACE_SAME_STITCH : place;
  if (!each)
    return TRUE;
  if (!bw_reader_take (reader, BW_WORD_AROUND))
    bw_reader_take (reader, BW_WORD_ACROSS);
  repeat_cluster (reader, index, times);
  return TRUE;
}

static gboolean
begin_group (BwReader *reader,
             guint    *index)
{
  if (reader->depth >= BW_ITEM_DEPTH_MAX)
    return bw_reader_fail (reader, "at most 16 brackets inside each other");
  reader->depth++;
  *index = bw_reader_add (reader, (BwItem) { .kind = BW_ITEM_REPEAT, .stitch = BW_STITCH_NONE },
                          (BwCount) { 0, 0 });
  return TRUE;
}

static gboolean
end_group (BwReader *reader,
           guint     index)
{
  guint span = reader->items->len - index - 1;

  if (span == 0)
    return bw_reader_fail (reader, "something to work between the brackets");
  if (span >= G_MAXUINT16)
    return bw_reader_fail (reader, "a shorter group");
  bw_reader_item (reader, index)->span = (guint16) span;
  reader->depth--;
  return TRUE;
}

static gboolean
read_bracket (BwReader      *reader,
              char           closing,
              const BwCount *times)
{
  guint index;

  if (!begin_group (reader, &index))
    return FALSE;
  bw_reader_advance (reader);
  if (!bw_reader_read_items (reader))
    return FALSE;
  if (!bw_reader_at_mark (reader, closing))
    return bw_reader_fail (reader, closing == ')' ? "a comma or \")\"" : "a comma or \"]\"");
  bw_reader_advance (reader);
  if (!end_group (reader, index))
    return FALSE;
  if (times != NULL)
    {
      bw_reader_set_count (reader, index, *times);
      return TRUE;
    }
  if ((closing == ')' || OPEN (reader)) && bw_reader_take (reader, BW_WORD_IN))
    return read_into (reader, index);
  return read_times (reader, index, 0);
}

static gboolean
skip_stars (BwReader *reader)
{
  gboolean any = FALSE;

  while (bw_reader_take_mark (reader, '*'))
    any = TRUE;
  return any;
}

/* "to *", "between * and *" and commas, behind "rep from *". */
static void
skip_to_star (BwReader *reader)
{
  BwToken next;

  while (skip_stars (reader) || bw_reader_take_mark (reader, ','))
    continue;
  if (bw_token_is_word (&reader->token, "between"))
    bw_reader_advance (reader);
  while (skip_stars (reader) || bw_reader_take (reader, BW_WORD_AND))
    continue;
  bw_reader_ahead (reader, &next);
  if (reader->word == BW_WORD_TO && bw_token_is_mark (&next, '*'))
    bw_reader_advance (reader);
  while (skip_stars (reader) || bw_reader_take_mark (reader, ','))
    continue;
}

static gboolean
at_extent (const BwReader *reader)
{
  return reader->word == BW_WORD_AROUND || reader->word == BW_WORD_ACROSS ||
         reader->word == BW_WORD_TO || reader->word == BW_WORD_UNTIL;
}

/* "*5 dc, dc2tog; rep from * around" */
static gboolean
read_starred (BwReader *reader)
{
  gboolean closed;
  guint index;

  if (!begin_group (reader, &index))
    return FALSE;
  bw_reader_advance (reader);
  if (OPEN (reader))
    skip_stars (reader);
  if (!bw_reader_read_items (reader) || !end_group (reader, index))
    return FALSE;
  closed = skip_stars (reader);
  while (bw_reader_take_mark (reader, ';') || bw_reader_take_mark (reader, ',') ||
         bw_reader_take_mark (reader, '.'))
    continue;
  if (OPEN (reader) && closed && (bw_reader_at_times (reader) || at_extent (reader)))
    return read_times (reader, index, 0); /* "*5 dc, dc2tog* 6 times" */
  if (!bw_reader_take (reader, BW_WORD_AGAIN))
    return bw_reader_fail (reader, "\"rep from *\"");
  if (bw_reader_take (reader, BW_WORD_FROM))
    skip_stars (reader);
  if (OPEN (reader))
    skip_to_star (reader);
  return read_times (reader, index, 1);
}

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
      *read = read_bracket (reader, closing_of (&reader->token), NULL);
      return TRUE;
    }
  if (!bw_reader_at_times (reader))
    return FALSE;
  if (bw_reader_take_times (reader, &times) && closing_of (&reader->token) != 0)
    {
      *read = read_bracket (reader, closing_of (&reader->token), &times);
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
    case '[': return read_bracket (reader, ']', NULL);
    case '{': return read_bracket (reader, '}', NULL);
    case '(': return read_bracket (reader, ')', NULL);
    case '*': return read_starred (reader);
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
                            bw_reader_take_mark (reader, ':')));
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

static gboolean
read_open_items (BwReader *reader)
{
  gboolean sentence = FALSE;
  gboolean separated = TRUE;

  for (;;)
    {
      guint first = reader->items->len;
      guint32 offset;
      gboolean dashed;

      for (;;)
        {
          sentence |= bw_reader_at_mark (reader, '.');
          if (!take_separator (reader))
            break;
          separated = TRUE;
        }
      dashed = skip_dashes (reader) || skip_you_have (reader);
      if (at_list_end (reader) && (reader->depth > 0 || bw_reader_at_end (reader)))
        return TRUE;
      if (bw_reader_take_stated (reader, dashed) ||
          (reader->depth == 0 && bw_reader_read_remark (reader)))
        {
          sentence = FALSE;
          separated = TRUE;
          continue;
        }
      if (reader->wanted != NULL)
        return FALSE;

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
