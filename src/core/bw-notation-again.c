#define G_LOG_DOMAIN "bw-core"

#include "bw-notation-reader.h"

/* Rounds that are not written out: earlier ones again, and working even. */

/* "2 times", "2 more times", "2 (3, 4) times". */
static gboolean
at_more_times (const BwReader *reader)
{
  BwToken next;

  return bw_reader_at_times (reader) || (bw_reader_at_number (reader) &&
                                         bw_reader_ahead (reader, &next) == BW_WORD_MORE);
}

/* One round's number as a list, for every size if it has several. */
static guint32
take_round_number (BwReader *reader)
{
  BwCount count;

  if (!bw_reader_take_count (reader, &count))
    return 0;
  if (count.list == 0)
    {
      BwNumberList list = { reader->sink->figures->len, 1, bw_reader_offset (reader) };
      guint32 figure = count.value;

      g_array_append_val (reader->sink->figures, figure);
      g_array_append_val (reader->sink->lists, list);
      count.list = reader->sink->lists->len;
    }
  return count.list;
}

static guint32
add_number (BwReader *reader,
            guint32   figure)
{
  BwNumberList list = { reader->sink->figures->len, 1, bw_reader_offset (reader) };

  g_array_append_val (reader->sink->figures, figure);
  g_array_append_val (reader->sink->lists, list);
  return reader->sink->lists->len;
}

/* "–3", "and 3", ", 3 and 4" behind the first round repeated. A number with
 * "times" behind it says how often. */
static gboolean
take_last_round (BwReader *reader)
{
  for (;;)
    {
      BwReader back = *reader;
      gboolean separated = FALSE;

      while (bw_reader_take_mark (reader, ',') || bw_reader_take_mark (reader, '-') ||
             bw_reader_take_mark (reader, '&') || bw_reader_take (reader, BW_WORD_AND) ||
             bw_reader_take (reader, BW_WORD_TO))
        separated = TRUE;
      if (!separated)
        return TRUE;
      if (!bw_reader_at_number (reader) || at_more_times (reader))
        {
          if (!at_more_times (reader))
            *reader = back;
          return TRUE;
        }
      reader->facts->to_list = take_round_number (reader);
      if (reader->facts->to_list == 0)
        return FALSE;
    }
}

/* "6 times", "twice more", "until …" behind the rounds that are repeated. */
static gboolean
read_how_often (BwReader *reader)
{
  BwLineFacts *facts = reader->facts;

  if (bw_reader_at_number (reader))
    {
      facts->repeat_list = take_round_number (reader);
      if (facts->repeat_list == 0)
        return FALSE;
    }
  else if (reader->word == BW_WORD_ONCE || reader->word == BW_WORD_TWICE)
    facts->repeat_list = add_number (reader, reader->word == BW_WORD_ONCE ? 1 : 2);
  facts->until = reader->word == BW_WORD_UNTIL;
  for (; !bw_reader_at_end (reader) && !bw_reader_at_mark (reader, '.') &&
         !bw_reader_at_mark (reader, ',') && !bw_reader_at_mark (reader, ';') &&
         !bw_reader_at_mark (reader, '(') && !bw_reader_at_mark (reader, '[');
       bw_reader_advance (reader))
    continue;
  return TRUE;
}

/* "rnds 2–3 6 times", "rnd 4 until …": the word for rounds is in hand. In "as 1st
 * rnd" the number, not 0, stood in front of it. */
static gboolean
read_rounds_again (BwReader *reader,
                   guint     ordinal)
{
  BwLineFacts *facts = reader->facts;

  bw_reader_advance (reader);
  facts->from_list = ordinal > 0 ? add_number (reader, ordinal) : take_round_number (reader);
  facts->to_list = facts->from_list;
  if (facts->from_list == 0)
    return FALSE;
  if (ordinal == 0 && !take_last_round (reader))
    return FALSE;
  return read_how_often (reader);
}

/* "last rnd", "the last 2 rnds", "previous round". */
static gboolean
at_back (const BwReader *reader)
{
  BwReader copy = *reader;
  BwReader *ahead = &copy;

  copy.sink = NULL;
  for (guint i = 0; i < 3 && ahead->token.kind == BW_TOKEN_WORD && ahead->word != BW_WORD_LAST; i++)
    {
      if (bw_token_is_word (&ahead->token, "previous") || bw_token_is_word (&ahead->token, "prev"))
        break;
      bw_reader_advance (ahead);
    }
  if (ahead->word != BW_WORD_LAST && !bw_token_is_word (&ahead->token, "previous") &&
      !bw_token_is_word (&ahead->token, "prev"))
    return FALSE;
  bw_reader_advance (ahead);
  if (ahead->token.kind == BW_TOKEN_NUMBER)
    bw_reader_advance (ahead);
  return bw_word_is_round (ahead->word);
}

static gboolean
read_back (BwReader *reader)
{
  while (reader->token.kind != BW_TOKEN_NUMBER && !bw_word_is_round (reader->word))
    bw_reader_advance (reader);
  reader->facts->back_list = reader->token.kind == BW_TOKEN_NUMBER ? take_round_number (reader)
                                                                   : add_number (reader, 1);
  if (reader->facts->back_list == 0)
    return FALSE;
  bw_reader_advance (reader);
  return read_how_often (reader);
}

/* "rep rnd 2", "as rnd 2", "work as for rnd 2": nothing but words up to it. */
gboolean
bw_reader_read_again (BwReader *reader)
{
  BwReader ahead = *reader;
  guint ordinal = 0;

  ahead.sink = NULL;
  if (reader->items->len == 0 && at_back (reader))
    return read_back (reader);
  for (guint i = 0; i < 4 && !bw_word_is_round (ahead.word); i++)
    {
      if (ahead.token.kind == BW_TOKEN_ORDINAL && ahead.token.number <= BW_ITEM_COUNT_MAX)
        ordinal = ahead.token.number;
      else if (ahead.token.kind != BW_TOKEN_WORD)
        return FALSE;
      bw_reader_advance (&ahead);
    }
  if (!bw_word_is_round (ahead.word) || reader->items->len > 0)
    return FALSE;

  while (!bw_word_is_round (reader->word))
    bw_reader_advance (reader);
  return read_rounds_again (reader, ordinal);
}

/* --- Working even --- */

/* "even", "straight", "in dc until it measures 18 cm": one in each stitch, round
 * after round. */
static void
read_even (BwReader *reader)
{
  BwItem item = bw_item_each (bw_stitch_find (reader->dictionary, "low"), 1);
  BwStitchIndex stitch;

  bw_reader_take (reader, BW_WORD_EVENLY);
  if (bw_token_is_word (&reader->token, "even") || bw_token_is_word (&reader->token, "straight"))
    bw_reader_advance (reader);
  if (bw_reader_take (reader, BW_WORD_IN))
    {
      stitch = bw_reader_take_stitch (reader);
      if (stitch != BW_STITCH_NONE && bw_stitch_get (reader->dictionary, stitch)->takes == 1)
        item.stitch = stitch;
    }
  bw_reader_add (reader, item, (BwCount) { 0, 0 });
  for (; !bw_reader_at_end (reader) && !bw_reader_at_mark (reader, '.') &&
         !bw_reader_at_mark (reader, ',') && !bw_reader_at_mark (reader, ';') &&
         !bw_reader_at_mark (reader, '(') && !bw_reader_at_mark (reader, '[') &&
         !bw_reader_at_mark (reader, '-');
       bw_reader_advance (reader))
    reader->facts->until |= reader->word == BW_WORD_UNTIL;
}

static gboolean
at_even (const BwReader *reader)
{
  return reader->items->len == 0 && (bw_token_is_word (&reader->token, "even") ||
                                     bw_token_is_word (&reader->token, "straight"));
}

/* Does "in dc", "in pattern" stand here, and "until" further on? */
static gboolean
goes_on_until (const BwReader *reader)
{
  BwReader ahead = *reader;

  ahead.sink = NULL;
  if (reader->items->len > 0 || reader->word != BW_WORD_IN)
    return FALSE;
  for (guint i = 0; i < 8 && ahead.token.kind == BW_TOKEN_WORD; i++)
    {
      if (ahead.word == BW_WORD_UNTIL)
        return TRUE;
      bw_reader_advance (&ahead);
    }
  return FALSE;
}

/* Takes "even", "in dc until …" if that stands here. */
gboolean
bw_reader_read_even (BwReader *reader)
{
  if (!at_even (reader) && !goes_on_until (reader))
    return FALSE;
  read_even (reader);
  return TRUE;
}

/* "3 more rnds in dc", "a further 3 rounds even". */
gboolean
bw_reader_read_more_rounds (BwReader *reader)
{
  BwReader ahead = *reader;
  guint32 list;

  ahead.sink = NULL;
  bw_reader_take (&ahead, BW_WORD_THE);
  while (bw_token_is_word (&ahead.token, "further") || bw_token_is_word (&ahead.token, "another") ||
         ahead.word == BW_WORD_NEXT)
    bw_reader_advance (&ahead);
  if (reader->items->len > 0 || ahead.token.kind != BW_TOKEN_NUMBER)
    return FALSE;
  ahead.sink = reader->sink;
  list = take_round_number (&ahead);
  bw_reader_take (&ahead, BW_WORD_MORE);
  if (list == 0 || !bw_word_is_round (ahead.word))
    return FALSE;
  *reader = ahead;
  bw_reader_advance (reader);
  reader->facts->rounds_list = list;
  if (bw_reader_at_end (reader) || at_even (reader) || reader->word == BW_WORD_IN)
    read_even (reader);
  return TRUE;
}
