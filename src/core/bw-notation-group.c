#define G_LOG_DOMAIN "bw-core"

#include "bw-notation-reader.h"

/* Brackets and stars: what is worked several times, or all into one place. The
 * grammar stands in bw-notation.c. */

#define OPEN(reader) ((reader)->sink != NULL)

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

gboolean
bw_reader_read_bracket (BwReader      *reader,
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

/* "**" in the middle of a starred group, where its last working ends: passed over
 * when more of the group follows. */
static gboolean
take_last_end (BwReader *reader)
{
  BwReader back = *reader;
  guint stars = 0;

  for (; bw_reader_take_mark (reader, '*'); stars++)
    continue;
  while (bw_reader_take_mark (reader, ',') || bw_reader_take_mark (reader, ';'))
    continue;
  if (stars == 2 && reader->depth == 1 && reader->word != BW_WORD_AGAIN &&
      reader->token.kind != BW_TOKEN_END && !bw_reader_at_times (reader) && !at_extent (reader))
    return TRUE;
  *reader = back;
  return FALSE;
}

/* ", ending last rep at **". */
static gboolean
take_ending (BwReader *reader)
{
  BwReader ahead = *reader;

  while (bw_reader_take_mark (&ahead, ',') || bw_reader_take_mark (&ahead, ';') ||
         bw_reader_take (&ahead, BW_WORD_AND))
    continue;
  if (!bw_reader_take (&ahead, BW_WORD_END))
    return FALSE;
  while (bw_reader_take (&ahead, BW_WORD_THE) || bw_reader_take (&ahead, BW_WORD_LAST) ||
         bw_reader_take (&ahead, BW_WORD_AGAIN) || bw_reader_take (&ahead, BW_WORD_IN))
    continue;
  if (!skip_stars (&ahead))
    return FALSE;
  *reader = ahead;
  return TRUE;
}

/* The last working ends early: the items of the group up to `end` once more behind
 * it, and the group once less. */
static gboolean
add_last_working (BwReader *reader,
                  guint     index,
                  guint     end)
{
  BwItem *repeat = bw_reader_item (reader, index);

  if (repeat->kind != BW_ITEM_REPEAT || repeat->count == 1 ||
      g_array_index (reader->sink->sources, BwItemSource, index).list != 0)
    return bw_reader_fail (reader, "a number of times above 1, or \"around\"");
  if (repeat->count > 1)
    repeat->count--;
  for (guint i = index + 1; i < end; i++)
    {
      BwItem item = *bw_reader_item (reader, i);
      BwItemSource source = g_array_index (reader->sink->sources, BwItemSource, i);

      g_array_append_val (reader->items, item);
      g_array_append_val (reader->sink->sources, source);
    }
  return TRUE;
}

/* "*5 dc, dc2tog; rep from * around" */
gboolean
bw_reader_read_starred (BwReader *reader)
{
  guint last_end = 0;
  gboolean closed;
  guint index;

  if (!begin_group (reader, &index))
    return FALSE;
  bw_reader_advance (reader);
  if (OPEN (reader))
    skip_stars (reader);
  if (!bw_reader_read_items (reader))
    return FALSE;
  if (OPEN (reader) && take_last_end (reader))
    {
      last_end = reader->items->len;
      if (!bw_reader_read_items (reader))
        return FALSE;
    }
  if (!end_group (reader, index))
    return FALSE;
  closed = skip_stars (reader);
  while (bw_reader_take_mark (reader, ';') || bw_reader_take_mark (reader, ',') ||
         bw_reader_take_mark (reader, '.') || (OPEN (reader) && bw_reader_take_mark (reader, ':')))
    continue;
  if (OPEN (reader) && closed && (bw_reader_at_times (reader) || at_extent (reader)))
    return read_times (reader, index, 0); /* "*5 dc, dc2tog* 6 times" */
  if (!bw_reader_take (reader, BW_WORD_AGAIN))
    return bw_reader_fail (reader, "\"rep from *\"");
  if (bw_reader_take (reader, BW_WORD_FROM))
    skip_stars (reader);
  if (OPEN (reader))
    skip_to_star (reader);
  if (!read_times (reader, index, 1))
    return FALSE;
  return last_end == 0 || !take_ending (reader) || add_last_working (reader, index, last_end);
}
