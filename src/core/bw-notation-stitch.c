#define G_LOG_DOMAIN "bw-core"

#include "bw-notation-reader.h"

#include <string.h>

/* A stitch with its number, a miss, a chain, an increase. The grammar stands in
 * bw-notation.c. */

#define OPEN(reader) ((reader)->sink != NULL)

/* --- Stitches --- */

/* Remembers where a stitch came first, and where first in another spelling; the
 * spelling goes from the token in hand to `end`. */
static void
note_stitch (BwReader      *reader,
             BwStitchIndex  stitch,
             const char    *end)
{
  BwNotationSink *sink = reader->sink;
  gsize length = (gsize) (end - reader->token.start);
  const char *first;

  if (sink == NULL || stitch == BW_STITCH_NONE)
    return;
  if (sink->stitches[stitch] == 0)
    sink->stitches[stitch] = bw_reader_offset (reader) + 1;
  if (sink->spellings[stitch] != 0)
    return;

  first = sink->text + sink->stitches[stitch] - 1;
  if (g_ascii_strncasecmp (first, reader->token.start, length) != 0 ||
      g_ascii_isalnum (first[length]))
    sink->spellings[stitch] = bw_reader_offset (reader) + 1;
}

/* The stitch that begins with the token in hand, which is passed over;
 * abbreviations have one word or two ("sl st"). */
BwStitchIndex
bw_reader_take_stitch (BwReader *reader)
{
  BwToken next;
  BwStitchIndex stitch;
  char both[32];

  if (reader->token.kind != BW_TOKEN_WORD)
    return BW_STITCH_NONE;
  if (reader->word == BW_WORD_MISS)
    {
      stitch = bw_stitch_find (reader->dictionary, "miss");
      note_stitch (reader, stitch, reader->token.start + reader->token.length);
      bw_reader_advance (reader);
      return stitch;
    }

  stitch = bw_stitch_find_abbreviation (reader->dictionary, reader->token.start,
                                        reader->token.length, reader->terms);
  bw_reader_ahead (reader, &next);
  if (next.kind == BW_TOKEN_WORD && reader->token.length + next.length + 2 <= sizeof both &&
      (stitch == BW_STITCH_NONE || bw_token_is_word (&next, "st")))
    {
      BwStitchIndex longer;

      g_snprintf (both, sizeof both, "%.*s %.*s", (int) reader->token.length, reader->token.start,
                  (int) next.length, next.start);
      longer = bw_stitch_find_abbreviation (reader->dictionary, both, strlen (both),
                                            reader->terms);
      if (longer != BW_STITCH_NONE)
        {
          note_stitch (reader, longer, next.start + next.length);
          bw_reader_advance (reader);
          bw_reader_advance (reader);
          return longer;
        }
    }

  if (stitch != BW_STITCH_NONE)
    {
      note_stitch (reader, stitch, reader->token.start + reader->token.length);
      bw_reader_advance (reader);
    }
  return stitch;
}

static gboolean
read_miss (BwReader      *reader,
           BwStitchIndex  stitch)
{
  BwCount count = BW_COUNT_ONE;
  BwItem item = bw_item_each (stitch, 1);
  guint index = bw_reader_add (reader, item, count);

  bw_reader_take (reader, BW_WORD_NEXT);
  if (OPEN (reader))
    {
      bw_reader_take (reader, BW_WORD_THE);
      while (bw_reader_take (reader, BW_WORD_NEXT) || bw_reader_take (reader, BW_WORD_FIRST))
        continue;
    }
  if (bw_reader_at_number (reader) && !bw_reader_take_count (reader, &count))
    return FALSE;
  if (!bw_reader_take_position (reader, &bw_reader_item (reader, index)->place))
    return FALSE;
  bw_reader_set_count (reader, index, count);
  return TRUE;
}

static gboolean
read_chain (BwReader      *reader,
            BwStitchIndex  stitch,
            BwCount        count)
{
  BwItem item = bw_item_each (stitch, 1);

  if (bw_reader_at_number (reader) && !bw_reader_take_count (reader, &count))
    return FALSE;
  bw_reader_add (reader, item, count);
  return TRUE;
}

/* "inc" and "dec": the base stitch does not matter to any count, so it is the
 * lowest. */
static gboolean
read_shaping (BwReader *reader,
              BwCount   count)
{
  gboolean increase = reader->word == BW_WORD_INCREASE;
  BwStitchIndex stitch = bw_stitch_find (reader->dictionary, increase ? "low" : "low2tog");

  guint index = bw_reader_add (reader, bw_item_each (stitch, 1), count);
  BwCount two = { 2, 0 };

  bw_reader_advance (reader);
  if (bw_reader_take (reader, BW_WORD_AROUND) || bw_reader_take (reader, BW_WORD_ACROSS) ||
      bw_reader_take (reader, BW_WORD_ROUND))
    return bw_reader_settle_each (reader, index, increase ? two : BW_COUNT_ONE, (BwCount) { 0, 0 });
  if (increase && bw_reader_take (reader, BW_WORD_IN))
    return bw_reader_read_where (reader, index, two);
  if (increase)
    bw_reader_settle_each (reader, index, two, count);
  if (reader->word == BW_WORD_OVER || reader->word == BW_WORD_IN)
    bw_reader_skip_clause (reader);
  return TRUE;
}

/* "78 dc evenly along row ends": where is left to the maker. */
static gboolean
take_evenly (BwReader *reader)
{
  if (!OPEN (reader) || reader->word != BW_WORD_EVENLY)
    return FALSE;
  reader->facts->evenly = TRUE;
  bw_reader_skip_clause (reader);
  return TRUE;
}

/* "dc2tog 6 times", "dc in each st to last 2 sts" and the like, behind a stitch
 * with nothing said about where. */
static gboolean
read_tail (BwReader *reader,
           guint     index,
           BwCount   count)
{
  BwToken next;
  BwCount times;

  if (!OPEN (reader))
    return TRUE;
  if (take_evenly (reader))
    return TRUE;
  if (reader->word == BW_WORD_OVER)
    {
      bw_reader_skip_clause (reader);
      return TRUE;
    }
  if (reader->token.kind == BW_TOKEN_NUMBER && bw_reader_ahead (reader, &next) == BW_WORD_TIMES)
    {
      if (!bw_reader_take_count (reader, &times))
        return FALSE;
      bw_reader_advance (reader);
      if (bw_count_is_one (count))
        bw_reader_set_count (reader, index, times);
      else
        return bw_reader_fail (reader, "brackets round what is worked several times");
      return TRUE;
    }
  if (reader->word == BW_WORD_TO && bw_reader_ahead (reader, &next) == BW_WORD_LAST)
    return bw_reader_read_to_last (reader, index);
  if (reader->word == BW_WORD_TO)
    return bw_reader_take_extent (reader, TRUE, FALSE, &times) &&
           bw_reader_settle_each (reader, index, count, times);
  if (count.list != 0 || count.value > 1)
    bw_reader_flag (reader, index, BW_SOURCE_COUNTED);
  return TRUE;
}

/* "ss to first st", "ss in top of ch-3", "ss to join": a slip stitch that closes
 * the round. The stitch is passed, what follows is in hand. */
static gboolean
closes_round (const BwReader *reader)
{
  BwReader ahead = *reader;

  if (!OPEN (reader) || reader->depth > 0 || reader->items->len == 0 ||
      (reader->word != BW_WORD_IN && reader->word != BW_WORD_TO))
    return FALSE;
  ahead.sink = NULL;
  bw_reader_advance (&ahead);
  bw_reader_take (&ahead, BW_WORD_THE);
  return ahead.word == BW_WORD_FIRST || ahead.word == BW_WORD_TOP || ahead.word == BW_WORD_JOIN ||
         ahead.word == BW_WORD_BEGINNING || bw_token_is_first (&ahead.token) ||
                bw_reader_at_counted_space (&ahead);
}

/* --- One item --- */

static gboolean
read_counted (BwReader *reader,
              BwCount   count,
              guint8    flags)
{
  guint index = reader->items->len;
  guint8 loop = reader->loop;
  BwStitchIndex stitch;
  BwItem item;

  bw_reader_take_loop (reader, &loop);
  if (OPEN (reader) && (reader->word == BW_WORD_INCREASE || reader->word == BW_WORD_DECREASE))
    return read_shaping (reader, count);
  stitch = bw_reader_take_stitch (reader);
  if (stitch == BW_STITCH_NONE)
    return bw_reader_fail (reader, "a stitch");
  if (bw_stitch_get (reader->dictionary, stitch)->makes == 0)
    return read_miss (reader, stitch);
  if (bw_stitch_get (reader->dictionary, stitch)->takes == 0)
    return read_chain (reader, stitch, count);

  if (bw_count_is_one (count) && closes_round (reader) &&
      stitch == bw_stitch_find (reader->dictionary, "slip"))
    {
      bw_reader_read_join (reader);
      return TRUE;
    }

  item = bw_item_each (stitch, 1);
  item.loop = loop;
  bw_reader_take_loop (reader, &item.loop);
  if (bw_reader_at_below (reader) && !bw_reader_take_below (reader, &item.below))
    return FALSE;
  bw_reader_add (reader, item, count);
  bw_reader_flag (reader, index, flags);

  if (bw_reader_take (reader, BW_WORD_IN))
    return bw_reader_read_where (reader, index, count);
  if (OPEN (reader) && reader->word == BW_WORD_EACH)
    return bw_reader_read_where (reader, index, count);
  if (bw_reader_take (reader, BW_WORD_AROUND) || bw_reader_take (reader, BW_WORD_ACROSS) ||
      bw_reader_take (reader, BW_WORD_ROUND))
    return bw_reader_read_around (reader, index, count);
  return read_tail (reader, index, count);
}

/* One stitch with its number, or "miss", or a chain. */
gboolean
bw_reader_read_stitch (BwReader *reader)
{
  BwCount count = BW_COUNT_ONE;
  guint8 flags = 0;

  if (bw_reader_at_number (reader))
    {
      const char *end = reader->token.start + reader->token.length;

      if (!bw_reader_take_count (reader, &count))
        return FALSE;
      flags = count.list == 0 && reader->token.start == end ? BW_SOURCE_GLUED : 0;
    }
  return read_counted (reader, count, flags);
}
