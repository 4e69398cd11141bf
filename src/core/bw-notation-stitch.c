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
note_stitch (const BwReader *reader,
             BwStitchIndex   stitch,
             const char     *end)
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

/* How many words of a name stand here, one behind the other; 0 = not the name.
 * The last may be a plural. */
static guint
words_of_name (const BwReader *reader,
               const char     *name)
{
  BwLexer lexer = reader->lexer;
  BwToken token = reader->token;
  guint n = 0;

  for (;;)
    {
      gsize length = strcspn (name, " ");
      gboolean last = name[length] == '\0';

      if (token.kind != BW_TOKEN_WORD && token.kind != BW_TOKEN_NUMBER)
        return 0;
      if (g_ascii_strncasecmp (token.start, name, MIN (length, token.length)) != 0 ||
          !(token.length == length || (last && token.length == length + 1 &&
                                       g_ascii_tolower (token.start[length]) == 's')))
        return 0;
      n++;
      if (last)
        return n;
      name += length + 1;
      bw_lexer_next (&lexer, &token);
    }
}

/* A stitch by its full name, "half treble"; the longest that fits. */
static BwStitchIndex
take_name (BwReader *reader)
{
  BwStitchIndex best = BW_STITCH_NONE;
  guint longest = 0;
  BwWord word = reader->word;
  const BwReader first = *reader;
  const char *end = reader->token.start;

  if (reader->token.length < 4 ||
      (word != BW_WORD_NONE && word != BW_WORD_FRONT && word != BW_WORD_BACK &&
       word != BW_WORD_CHAIN))
    return BW_STITCH_NONE;
  for (guint i = 0; i < bw_stitch_dictionary_size (reader->dictionary); i++)
    {
      const BwStitch *stitch = bw_stitch_get (reader->dictionary, (BwStitchIndex) i);
      guint n = words_of_name (reader, reader->terms == BW_TERMS_UK ? stitch->uk_name
                                                                    : stitch->us_name);

      if (n > longest)
        {
          longest = n;
          best = (BwStitchIndex) i;
        }
    }

  for (guint i = 0; i < longest; i++)
    {
      end = reader->token.start + reader->token.length;
      bw_reader_advance (reader);
    }
  note_stitch (&first, best, end);
  /* "treble crochet" is what UK terms call a treble as well */
  if (best != BW_STITCH_NONE && bw_token_is_word (&reader->token, "crochet"))
    bw_reader_advance (reader);
  return best;
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
      if (longer == BW_STITCH_NONE && reader->token.length == 2)
        {
          /* "FP dc" */
          g_snprintf (both, sizeof both, "%.*s%.*s", (int) reader->token.length,
                      reader->token.start, (int) next.length, next.start);
          longer = bw_stitch_find_abbreviation (reader->dictionary, both, strlen (both),
                                                reader->terms);
        }
      if (longer != BW_STITCH_NONE)
        {
          note_stitch (reader, longer, next.start + next.length);
          bw_reader_advance (reader);
          bw_reader_advance (reader);
          return longer;
        }
    }

  if (stitch == BW_STITCH_NONE && OPEN (reader))
    return take_name (reader);
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
  if (!(OPEN (reader) && reader->token.kind != BW_TOKEN_WORD) && /* "skip 2," */
      !bw_reader_take_position (reader, &bw_reader_item (reader, index)->place))
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
  BwCount times;

  bw_reader_advance (reader);
  if (bw_reader_take (reader, BW_WORD_AROUND) || bw_reader_take (reader, BW_WORD_ACROSS) ||
      bw_reader_take (reader, BW_WORD_ROUND))
    return bw_reader_settle_each (reader, index, increase ? two : BW_COUNT_ONE, (BwCount) { 0, 0 });
  if (increase && bw_reader_take (reader, BW_WORD_IN))
    return bw_reader_read_where (reader, index, two);
  if (bw_count_is_one (count) && bw_reader_at_times (reader))
    return bw_reader_take_times (reader, &times) &&
           bw_reader_settle_each (reader, index, increase ? two : BW_COUNT_ONE, times);
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
  if (bw_reader_at_times (reader))
    {
      if (!bw_reader_take_times (reader, &times))
        return FALSE;
      if (bw_count_is_one (count))
        bw_reader_set_count (reader, index, times);
      else
        return bw_reader_fail (reader, "brackets round what is worked several times");
      return TRUE;
    }
  if (bw_reader_at_to_last (reader))
    return bw_reader_read_to_last (reader, index);
  if (reader->word == BW_WORD_TO)
    {
      if (!bw_reader_take_extent (reader, TRUE, FALSE, &times))
        return FALSE;
      if (reader->word == BW_WORD_OF)
        bw_reader_skip_clause (reader);
      return bw_reader_settle_each (reader, index, count, times);
    }
  if (count.list != 0 || count.value > 1)
    bw_reader_flag (reader, index, BW_SOURCE_COUNTED);
  return TRUE;
}

static gboolean
at_chain (const BwReader *reader)
{
  return reader->word == BW_WORD_CHAIN || bw_token_is_word (&reader->token, "ch");
}

/* "ss to first st", "ss in top of ch-3", "ss in 3rd ch of beg ch-3", "ss to join":
 * a slip stitch that closes the round, or "ss in first ch" the foundation. The
 * stitch is passed, what follows is in hand. */
static gboolean
closes_round (const BwReader *reader)
{
  BwReader ahead = *reader;

  if (!OPEN (reader) || reader->depth > 0 ||
      (reader->items->len == 0 && reader->facts->chain < 2) ||
      (reader->word != BW_WORD_IN && reader->word != BW_WORD_TO))
    return FALSE;
  ahead.sink = NULL;
  bw_reader_advance (&ahead);
  bw_reader_take (&ahead, BW_WORD_THE);
  if (reader->items->len == 0)
    return ahead.word == BW_WORD_JOIN ||
           ((bw_reader_take (&ahead, BW_WORD_FIRST) || bw_token_is_first (&ahead.token)) &&
            (at_chain (&ahead) || bw_token_is_first (&ahead.token)));
  if (ahead.token.kind == BW_TOKEN_ORDINAL && ahead.token.number > 1)
    {
      bw_reader_advance (&ahead);
      if (!at_chain (&ahead))
        return FALSE;
      bw_reader_advance (&ahead);
      return ahead.word != BW_WORD_FROM;
    }
  return ahead.word == BW_WORD_FIRST || ahead.word == BW_WORD_TOP || ahead.word == BW_WORD_JOIN ||
         ahead.word == BW_WORD_BEGINNING || bw_token_is_first (&ahead.token) ||
                bw_reader_at_counted_space (&ahead);
}

/* "dc in first st and in each st around": the stitch again, somewhere else. */
static gboolean
read_and_each (BwReader *reader,
               guint     index)
{
  BwItem item = *bw_reader_item (reader, index);
  BwToken next;

  item.kind = BW_ITEM_EACH;
  item.place = BW_PLACE_NEXT_STITCH;
  while (OPEN (reader) && reader->word == BW_WORD_AND && item.stitch != BW_STITCH_NONE)
    {
      BwWord word = bw_reader_ahead (reader, &next);

      if (word != BW_WORD_IN && word != BW_WORD_EACH)
        return TRUE;
      bw_reader_advance (reader);
      bw_reader_take (reader, BW_WORD_IN);
      index = bw_reader_add (reader, item, BW_COUNT_ONE);
      if (!bw_reader_read_where (reader, index, BW_COUNT_ONE))
        return FALSE;
    }
  return TRUE;
}

/* "2 dc in next st 6 times". */
static gboolean
read_where_times (BwReader *reader,
                  guint     index)
{
  BwItem body = *bw_reader_item (reader, index);
  BwCount count = { body.count, 0 };
  BwCount times;

  if (!bw_reader_at_times (reader) || index + 1 != reader->items->len)
    return TRUE;
  if (!bw_reader_take_times (reader, &times))
    return FALSE;
  if (body.kind == BW_ITEM_EACH && body.count == 1)
    {
      bw_reader_set_count (reader, index, times);
      return TRUE;
    }
  count.list = g_array_index (reader->sink->sources, BwItemSource, index).list;
  *bw_reader_item (reader, index) = bw_item_repeat (times.value, 1);
  bw_reader_set_count (reader, index, times);
  bw_reader_add (reader, body, count);
  return TRUE;
}

/* "dc 12": the number stands behind the stitch. */
static void
take_number_behind (BwReader *reader,
                    BwCount  *count)
{
  BwReader back = *reader;
  BwToken next;

  if (!bw_reader_at_number (reader) || bw_reader_at_times (reader) || bw_reader_at_below (reader) ||
      bw_reader_ahead (reader, &next) == BW_WORD_STITCH)
    return;
  if (!bw_reader_take_count (reader, count))
    {
      *reader = back;
      *count = BW_COUNT_ONE;
    }
}

/* "dc next 2 sts tog", "dc 2 tog": the number is taken already or follows. */
static BwStitchIndex
take_together (BwReader      *reader,
               BwStitchIndex  stitch,
               BwCount       *count)
{
  BwReader ahead = *reader;
  BwCount n = *count;
  BwStitchIndex together;

  if (bw_reader_take (&ahead, BW_WORD_NEXT) && ahead.token.kind == BW_TOKEN_NUMBER)
    {
      n = (BwCount) { ahead.token.number, 0 };
      bw_reader_advance (&ahead);
    }
  bw_reader_take (&ahead, BW_WORD_STITCH);
  if (ahead.word != BW_WORD_TOGETHER || n.list != 0 || n.value < 2 || n.value > 3)
    return stitch;
  together = bw_stitch_together (reader->dictionary, stitch, n.value);
  if (together == BW_STITCH_NONE)
    return stitch;
  note_stitch (reader, together, ahead.token.start + ahead.token.length);
  bw_reader_advance (&ahead);
  *reader = ahead;
  *count = BW_COUNT_ONE;
  return together;
}

/* "dc inc", "dc dec over next 2 sts". */
static gboolean
read_shaping_of (BwReader      *reader,
                 BwStitchIndex  stitch,
                 BwCount        count)
{
  gboolean increase = reader->word == BW_WORD_INCREASE;
  BwStitchIndex together = bw_stitch_together (reader->dictionary, stitch, 2);
  guint index = reader->items->len;

  if (!read_shaping (reader, count))
    return FALSE;
  for (guint i = index; i < reader->items->len; i++)
    if (bw_reader_item (reader, i)->stitch != BW_STITCH_NONE)
      bw_reader_item (reader, i)->stitch = increase || together == BW_STITCH_NONE ? (increase ?
        stitch : bw_reader_item (reader, i)->stitch) : together;
  return TRUE;
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

  if (OPEN (reader) && bw_count_is_one (count))
    {
      take_number_behind (reader, &count);
      stitch = take_together (reader, stitch, &count);
    }
  if (OPEN (reader) && (reader->word == BW_WORD_INCREASE || reader->word == BW_WORD_DECREASE))
    return read_shaping_of (reader, stitch, count);
  item = bw_item_each (stitch, 1);
  item.loop = loop;
  bw_reader_take_loop (reader, &item.loop);
  if (bw_reader_at_below (reader) && !bw_reader_take_below (reader, &item.below))
    return FALSE;
  bw_reader_add (reader, item, count);
  bw_reader_flag (reader, index, flags);

  if (bw_reader_take (reader, BW_WORD_IN) || (OPEN (reader) && reader->word == BW_WORD_EACH))
    return bw_reader_read_where (reader, index, count) && read_and_each (reader, index) &&
           read_where_times (reader, index);
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
