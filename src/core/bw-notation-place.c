#define G_LOG_DOMAIN "bw-core"

#include "bw-notation-reader.h"

/* Where a stitch is worked and how it takes hold. The grammar stands in
 * bw-notation.c. */

#define OPEN(reader) ((reader)->sink != NULL)

/* --- Places --- */

/* "ch-1 sp": the number says which space, and one space is what is worked into. */
gboolean
bw_reader_at_counted_space (const BwReader *reader)
{
  return reader->token.kind == BW_TOKEN_WORD && reader->token.length >= 4 &&
         g_ascii_strncasecmp (reader->token.start, "ch-", 3) == 0 &&
         g_ascii_isdigit (reader->token.start[3]);
}

/* "top of beginning ch-3", "top of t-ch": a stitch like any other. */
static gboolean
take_top (BwReader *reader)
{
  bw_reader_advance (reader);
  bw_reader_take (reader, BW_WORD_OF);
  bw_reader_take (reader, BW_WORD_THE);
  while (bw_reader_take (reader, BW_WORD_BEGINNING) || bw_reader_take (reader, BW_WORD_TURN) ||
         bw_reader_take (reader, BW_WORD_FIRST) || bw_reader_take (reader, BW_WORD_LAST))
    continue;
  if (bw_reader_take (reader, BW_WORD_TURNING_CHAIN) || bw_reader_take (reader, BW_WORD_CHAIN))
    return TRUE;
  if (bw_reader_at_counted_space (reader))
    {
      bw_reader_advance (reader);
      return TRUE;
    }
  if (reader->token.kind == BW_TOKEN_NUMBER) /* "top of beg 3-ch" */
    {
      bw_reader_advance (reader);
      bw_reader_take_mark (reader, '-');
    }
  if (bw_reader_take_stitch (reader) == BW_STITCH_NONE && !bw_reader_take (reader, BW_WORD_STITCH))
    return bw_reader_fail (reader, "a stitch or chain");
  if (reader->token.kind == BW_TOKEN_NUMBER)
    bw_reader_advance (reader);
  return TRUE;
}

static gboolean
take_ring (BwReader *reader,
           guint8   *place)
{
  if (!OPEN (reader))
    return FALSE;
  if (bw_reader_take (reader, BW_WORD_MAGIC))
    bw_reader_take (reader, BW_WORD_LOOP);
  else if (reader->word != BW_WORD_RING)
    return FALSE;

  bw_reader_take (reader, BW_WORD_RING);
  reader->facts->ring = TRUE;
  *place = BW_PLACE_RING;
  return TRUE;
}

static gboolean
take_space (BwReader *reader,
            guint8   *place)
{
  if (bw_reader_at_counted_space (reader))
    {
      bw_reader_advance (reader);
      if (!bw_reader_take (reader, BW_WORD_SPACE) && OPEN (reader))
        bw_reader_take (reader, BW_WORD_LOOP);
    }
  else if (!bw_reader_take (reader, BW_WORD_CHAIN_SPACE) &&
           !bw_reader_take (reader, BW_WORD_SPACE))
    return FALSE;

  *place = BW_PLACE_CHAIN_SPACE;
  return TRUE;
}

/* What a stitch is worked into, by any of its names. A stitch's own name will
 * do: "in next tr". */
gboolean
bw_reader_take_position (BwReader *reader,
                         guint8   *place)
{
  BwStitchIndex stitch;

  *place = BW_PLACE_NEXT_STITCH;
  if (bw_reader_take (reader, BW_WORD_STITCH) || take_space (reader, place) ||
      take_ring (reader, place))
    return TRUE;
  if (OPEN (reader) && (bw_reader_take (reader, BW_WORD_CHAIN) ||
                        bw_reader_take (reader, BW_WORD_TURNING_CHAIN) ||
                        bw_reader_take (reader, BW_WORD_LOOP)))
    return TRUE;
  if (OPEN (reader) && reader->word == BW_WORD_TOP)
    return take_top (reader);
  if (bw_reader_take (reader, BW_WORD_ROW))
    {
      *place = BW_PLACE_ROW_END;
      return bw_reader_take (reader, BW_WORD_END) || bw_reader_fail (reader, "\"end\"");
    }

  if (reader->token.kind == BW_TOKEN_WORD && reader->word == BW_WORD_NONE)
    {
      stitch = bw_stitch_find_abbreviation (reader->dictionary, reader->token.start,
                                            reader->token.length, reader->terms);
      if (stitch != BW_STITCH_NONE)
        {
          bw_reader_advance (reader);
          return TRUE;
        }
    }

  return bw_reader_fail (reader, "\"st\", \"ch-sp\" or \"row end\"");
}

/* "back loop only of", "BLO": which loop, if one is said here. */
void
bw_reader_take_loop (BwReader *reader,
                     guint8   *loop)
{
  BwToken next;

  if (reader->word == BW_WORD_BACK_LOOP || reader->word == BW_WORD_FRONT_LOOP)
    {
      *loop = reader->word == BW_WORD_BACK_LOOP ? BW_LOOP_BACK : BW_LOOP_FRONT;
      bw_reader_advance (reader);
    }
  else if (OPEN (reader) && (reader->word == BW_WORD_BACK || reader->word == BW_WORD_FRONT) &&
           bw_reader_ahead (reader, &next) == BW_WORD_LOOP)
    {
      *loop = reader->word == BW_WORD_BACK ? BW_LOOP_BACK : BW_LOOP_FRONT;
      bw_reader_advance (reader);
      bw_reader_advance (reader);
    }
  else
    return;

  bw_reader_take (reader, BW_WORD_ONLY);
  bw_reader_take (reader, BW_WORD_OF);
}

gboolean
bw_reader_take_below (BwReader *reader,
                      guint8   *below)
{
  BwCount count;

  if (!bw_reader_take_count (reader, &count))
    return FALSE;
  if (count.value > 8 || count.list != 0)
    return bw_reader_fail (reader, "at most 8 rounds below");
  *below = (guint8) count.value;
  bw_reader_advance (reader);
  return bw_reader_take (reader, BW_WORD_BELOW) || bw_reader_fail (reader, "\"below\"");
}

/* A number in hand followed by "rnds": looks ahead without moving. */
gboolean
bw_reader_at_below (const BwReader *reader)
{
  BwToken next;

  return reader->token.kind == BW_TOKEN_NUMBER && bw_word_is_round (bw_reader_ahead (reader, &next));
}

/* --- Where --- */

gboolean
bw_count_is_one (BwCount count)
{
  return count.list == 0 && count.value == 1;
}

static guint
stitch_takes (BwReader *reader,
              guint     index)
{
  return bw_stitch_get (reader->dictionary, bw_reader_item (reader, index)->stitch)->takes;
}

/* Turns the stitch at `index`, worked `count` times into each of `times`
 * positions (0 = all), into the item or items that say so. */
gboolean
bw_reader_settle_each (BwReader *reader,
                       guint     index,
                       BwCount   count,
                       BwCount   times)
{
  BwItem body = *bw_reader_item (reader, index);
  guint takes = stitch_takes (reader, index);

  if (bw_count_is_one (count))
    {
      if (takes > 1 && times.list == 0 && times.value % takes == 0)
        times.value /= takes; /* "dc2tog in next 2 sts" is one */
      bw_reader_item (reader, index)->kind = BW_ITEM_EACH;
      bw_reader_set_count (reader, index, times);
      return TRUE;
    }

  body.kind = BW_ITEM_IN_ONE;
  body.count = count.value;
  if (bw_count_is_one (times))
    {
      *bw_reader_item (reader, index) = body;
      bw_reader_set_count (reader, index, count);
      return TRUE;
    }

  *bw_reader_item (reader, index) = bw_item_repeat (times.value, 1);
  bw_reader_set_count (reader, index, times);
  bw_reader_add (reader, body, count);
  return TRUE;
}

/* "and in each", "and each". */
static gboolean
each_follows (const BwReader *reader)
{
  BwReader ahead = *reader;

  ahead.sink = NULL;
  bw_reader_advance (&ahead);
  bw_reader_take (&ahead, BW_WORD_IN);
  return ahead.word == BW_WORD_EACH;
}

/* "of next 8 ch" behind "2nd ch from hook and in each". */
static gboolean
read_hook_rest (BwReader *reader,
                guint     index)
{
  BwItem item = *bw_reader_item (reader, index);
  BwCount count;
  guint8 place;

  if (!bw_reader_take_count (reader, &count) || !bw_reader_take_position (reader, &place))
    return FALSE;
  bw_reader_set_count (reader, index, BW_COUNT_ONE);
  item.place = BW_PLACE_NEXT_STITCH;
  bw_reader_add (reader, item, count);
  return TRUE;
}

/* "2nd ch from hook", perhaps "and in each ch across": the ordinal is in hand. */
static gboolean
read_hook_chain (BwReader *reader,
                 guint     index,
                 BwCount   count)
{
  BwItem *item = bw_reader_item (reader, index);
  guint nth = reader->token.number;

  if (nth != 2 && !(OPEN (reader) && nth > 2 && nth <= 8))
    return bw_reader_fail (reader, "\"2nd ch from hook\"");
  bw_reader_advance (reader);
  if (!bw_token_is_word (&reader->token, "ch") && reader->word != BW_WORD_CHAIN)
    return bw_reader_fail (reader, "\"2nd ch from hook\"");
  bw_reader_advance (reader);
  if (!bw_reader_take (reader, BW_WORD_FROM))
    return bw_reader_fail (reader, "\"2nd ch from hook\"");
  bw_reader_take (reader, BW_WORD_THE);
  if (!bw_reader_take (reader, BW_WORD_HOOK))
    return bw_reader_fail (reader, "\"2nd ch from hook\"");

  if (OPEN (reader))
    reader->facts->from_hook = (guint8) nth;
  item->place = BW_PLACE_SECOND_CHAIN;
  item->kind = bw_count_is_one (count) || !OPEN (reader) ? BW_ITEM_EACH : BW_ITEM_IN_ONE;
  bw_reader_set_count (reader, index, count);
  if (reader->word == BW_WORD_AND && !(OPEN (reader) && !each_follows (reader)))
    {
      bw_reader_advance (reader);
      bw_reader_set_count (reader, index, (BwCount) { 0, 0 });
      bw_reader_item (reader, index)->kind = BW_ITEM_EACH;
      if ((!bw_reader_take (reader, BW_WORD_IN) && !OPEN (reader)) ||
          !bw_reader_take (reader, BW_WORD_EACH))
        return bw_reader_fail (reader, "\"in each ch across\"");
      if (OPEN (reader) && bw_reader_take (reader, BW_WORD_OF))
        bw_reader_take (reader, BW_WORD_THE);
      if (OPEN (reader) && bw_reader_at_number (reader))
        return read_hook_rest (reader, index);
      if (OPEN (reader))
        while (bw_reader_take (reader, BW_WORD_REMAIN) || bw_reader_take (reader, BW_WORD_OF) ||
               bw_reader_take (reader, BW_WORD_THE))
          continue;
      if (bw_token_is_word (&reader->token, "ch"))
        bw_reader_advance (reader);
      else if (!OPEN (reader) || !bw_reader_take (reader, BW_WORD_CHAIN))
        return bw_reader_fail (reader, "\"in each ch across\"");
      if (OPEN (reader))
        {
          BwCount all;

          return bw_reader_take_extent (reader, TRUE, FALSE, &all);
        }
      if (!bw_reader_take (reader, BW_WORD_ACROSS) && !bw_reader_take (reader, BW_WORD_AROUND))
        return bw_reader_fail (reader, "\"in each ch across\"");
    }
  return TRUE;
}

/* "same st", "same st as join", "base of ch-3": takes no further position. */
static gboolean
read_same (BwReader *reader,
           guint     index,
           BwCount   count)
{
  guint8 place = BW_PLACE_NEXT_STITCH;

  if (!OPEN (reader) || reader->word != BW_WORD_PLACE)
    {
      if (!bw_reader_take_position (reader, &place))
        return FALSE;
    }
  else
    bw_reader_advance (reader);

  bw_reader_item (reader, index)->kind = BW_ITEM_IN_ONE;
  bw_reader_item (reader, index)->place = BW_PLACE_SAME_STITCH;
  bw_reader_set_count (reader, index, count);
  if (OPEN (reader) && bw_token_is_word (&reader->token, "as"))
    while (reader->token.kind == BW_TOKEN_WORD && reader->word != BW_WORD_AND)
      bw_reader_advance (reader);
  return TRUE;
}

/* "around", "across", "to end": as far as there is room. Sets `times` to that. */
gboolean
bw_reader_take_extent (BwReader *reader,
                       gboolean  each,
                       gboolean  counted,
                       BwCount  *times)
{
  if (bw_reader_take (reader, BW_WORD_AROUND) || bw_reader_take (reader, BW_WORD_ACROSS) ||
      bw_reader_take (reader, BW_WORD_ROUND))
    {
      *times = (BwCount) { 0, 0 };
      return TRUE;
    }
  if (bw_reader_at_to_last (reader))
    {
      *times = (BwCount) { 0, 0 };
      return TRUE;
    }
  if (reader->word == BW_WORD_TO)
    {
      bw_reader_advance (reader);
      bw_reader_take (reader, BW_WORD_THE);
      if (!bw_reader_take (reader, BW_WORD_END))
        return bw_reader_fail (reader, "\"end\"");
      *times = (BwCount) { 0, 0 };
      return TRUE;
    }
  if (counted)
    return TRUE;
  if (each && !OPEN (reader))
    return bw_reader_fail (reader, "\"around\"");
  *times = each ? (BwCount) { 0, 0 } : BW_COUNT_ONE;
  return TRUE;
}

/* "to last 2 sts", "until the last 2 sts", "until 2 sts remain". */
gboolean
bw_reader_at_to_last (const BwReader *reader)
{
  BwReader ahead = *reader;

  if (!OPEN (reader) || (reader->word != BW_WORD_TO && reader->word != BW_WORD_UNTIL))
    return FALSE;
  ahead.sink = NULL;
  bw_reader_advance (&ahead);
  bw_reader_take (&ahead, BW_WORD_THE);
  return ahead.word == BW_WORD_LAST ||
         (reader->word == BW_WORD_UNTIL && ahead.token.kind == BW_TOKEN_NUMBER);
}

/* "to last 2 sts" behind "in each st": the stitch becomes the body of a repeat. */
gboolean
bw_reader_read_to_last (BwReader *reader,
                        guint     index)
{
  BwCount count;
  guint8 place;

  bw_reader_advance (reader);
  bw_reader_take (reader, BW_WORD_THE);
  bw_reader_take (reader, BW_WORD_LAST);
  if (reader->word == BW_WORD_STITCH)
    count = BW_COUNT_ONE;
  else if (!bw_reader_take_count (reader, &count))
    return FALSE;
  if (!bw_reader_take_position (reader, &place))
    return FALSE;
  bw_reader_take (reader, BW_WORD_REMAIN);

  if (bw_reader_item (reader, index)->kind == BW_ITEM_EACH)
    {
      BwItem body = *bw_reader_item (reader, index);

      *bw_reader_item (reader, index) = bw_item_repeat (0, 1);
      bw_reader_add (reader, body, BW_COUNT_ONE);
    }
  bw_reader_item (reader, index)->kind = BW_ITEM_TO_LAST;
  bw_reader_set_count (reader, index, count);
  return TRUE;
}

/* Ends of a place that say nothing new: "of rnd", "of previous row". */
static void
skip_of_round (BwReader *reader)
{
  BwToken next;

  if (!OPEN (reader) || (reader->word != BW_WORD_OF && reader->word != BW_WORD_FROM))
    return;
  bw_reader_ahead (reader, &next);
  bw_reader_advance (reader);
  while (reader->token.kind == BW_TOKEN_WORD && !bw_word_is_round (reader->word))
    bw_reader_advance (reader);
  if (bw_word_is_round (reader->word))
    bw_reader_advance (reader);
}

/* The words in front of a place: "each of the next", "first", "last". */
static gboolean
take_which (BwReader *reader,
            gboolean *each,
            BwCount  *times)
{
  gboolean which = FALSE;

  *each = bw_reader_take (reader, BW_WORD_EACH);
  if (*each)
    bw_reader_take (reader, BW_WORD_OF);
  bw_reader_take (reader, BW_WORD_THE);
  which = bw_reader_take (reader, BW_WORD_NEXT);
  if (OPEN (reader))
    while (bw_reader_take (reader, BW_WORD_FIRST) || bw_reader_take (reader, BW_WORD_LAST) ||
           bw_reader_take (reader, BW_WORD_REMAIN) || bw_reader_take (reader, BW_WORD_BEGINNING))
      which = TRUE;

  if (bw_reader_at_number (reader))
    return bw_reader_take_count (reader, times);
  if (reader->token.kind == BW_TOKEN_ORDINAL && OPEN (reader))
    {
      bw_reader_advance (reader);
      which = TRUE;
    }
  if (!which && !*each && !(OPEN (reader) && (reader->word == BW_WORD_RING ||
                                              reader->word == BW_WORD_MAGIC ||
                                              reader->word == BW_WORD_TOP ||
                                              reader->word == BW_WORD_CHAIN_SPACE ||
                                              reader->word == BW_WORD_SPACE ||
                                              reader->word == BW_WORD_ROW ||
                                              reader->word == BW_WORD_TURNING_CHAIN ||
                                              reader->word == BW_WORD_STITCH ||
                                              bw_reader_at_counted_space (reader))))
    return bw_reader_fail (reader, "\"next\", \"each\" or \"same\"");
  return TRUE;
}

gboolean
bw_token_is_first (const BwToken *token)
{
  return token->kind == BW_TOKEN_ORDINAL && token->number == 1;
}

/* "back bump of", "back ridge of" the chain, "third loop only of" the stitch: no
 * loop that items tell apart. */
static void
skip_bump (BwReader *reader)
{
  BwToken next;
  BwWord word = bw_reader_ahead (reader, &next);

  if (!(reader->token.kind == BW_TOKEN_ORDINAL && word == BW_WORD_LOOP) &&
      !(reader->word == BW_WORD_BACK &&
        (bw_token_is_word (&next, "bump") || bw_token_is_word (&next, "bumps") ||
         bw_token_is_word (&next, "ridge"))))
    return;
  bw_reader_advance (reader);
  bw_reader_advance (reader);
  bw_reader_take (reader, BW_WORD_ONLY);
  bw_reader_take (reader, BW_WORD_OF);
  bw_reader_take (reader, BW_WORD_THE);
}

/* "in BLO around", "in A", "in a MC": no stitch is named. */
static gboolean
take_short_place (BwReader *reader,
                  guint     index,
                  BwCount   count)
{
  const BwToken *token = &reader->token;
  gboolean after_article = token->start - reader->sink->text >= 2 && token->start[-2] == 'a';

  if (bw_reader_take (reader, BW_WORD_AROUND) || bw_reader_take (reader, BW_WORD_ACROSS))
    return bw_reader_settle_each (reader, index, count, (BwCount) { 0, 0 });
  if (after_article && bw_token_is_word (token, "mc"))
    {
      reader->facts->ring = TRUE;
      bw_reader_item (reader, index)->place = BW_PLACE_RING;
      bw_reader_item (reader, index)->kind = BW_ITEM_IN_ONE;
      bw_reader_set_count (reader, index, count);
      bw_reader_advance (reader);
      return TRUE;
    }
  if (!bw_reader_at_colour (reader))
    return FALSE;
  bw_reader_advance (reader); /* worked with it, as often as was said */
  return TRUE;
}

/* Behind "in": the stitch is the item at `index`, `count` is what stood before it. */
gboolean
bw_reader_read_where (BwReader *reader,
                      guint     index,
                      BwCount   count)
{
  gboolean each;
  BwCount times = { 0, 0 };
  gboolean counted;
  guint8 place = BW_PLACE_NEXT_STITCH;

  if (OPEN (reader))
    bw_reader_take (reader, BW_WORD_THE);
  bw_reader_take_loop (reader, &bw_reader_item (reader, index)->loop);
  if (OPEN (reader))
    bw_reader_take (reader, BW_WORD_THE);
  if (OPEN (reader))
    {
      skip_bump (reader);
      if (take_short_place (reader, index, count))
        return TRUE;
      if (bw_reader_take (reader, BW_WORD_MISS)) /* "in missed st": gone back to */
        return read_same (reader, index, count);
    }
  if (reader->token.kind == BW_TOKEN_ORDINAL && !(OPEN (reader) &&
      bw_token_is_first (&reader->token)))
    return read_hook_chain (reader, index, count);
  if (bw_reader_take (reader, BW_WORD_SAME))
    return read_same (reader, index, count);

  if (!take_which (reader, &each, &times))
    return FALSE;
  counted = times.value > 0;
  if (!(OPEN (reader) && counted && bw_reader_at_end (reader)) &&
      !bw_reader_take_position (reader, &place))
    return FALSE;
  if (OPEN (reader) && each && reader->word == BW_WORD_AND)
    {
      guint8 other;

      bw_reader_advance (reader);
      bw_reader_take (reader, BW_WORD_EACH);
      if (!bw_reader_take_position (reader, &other))
        return FALSE;
    }

  skip_of_round (reader);
  bw_reader_item (reader, index)->place = place;
  if (!bw_reader_take_extent (reader, each, counted, &times))
    return FALSE;
  skip_of_round (reader);
  if (place == BW_PLACE_RING && !each)
    {
      bw_reader_item (reader, index)->kind = BW_ITEM_IN_ONE;
      bw_reader_set_count (reader, index, count);
      return TRUE;
    }
  bw_reader_settle_each (reader, index, count, times);
  return !bw_reader_at_to_last (reader) || bw_reader_read_to_last (reader, index);
}

/* "post of the corresponding", "first", "last"; whether a place must follow. */
static gboolean
take_post (BwReader *reader)
{
  gboolean which = FALSE;

  for (;;)
    {
      if (bw_reader_take (reader, BW_WORD_POST))
        which |= bw_reader_take (reader, BW_WORD_OF);
      else if (bw_token_is_word (&reader->token, "corresponding") ||
               reader->word == BW_WORD_FIRST || reader->word == BW_WORD_LAST)
        {
          which = TRUE;
          bw_reader_advance (reader);
        }
      else if (!bw_reader_take (reader, BW_WORD_THE))
        return which;
    }
}

static gboolean
at_stitch (const BwReader *reader)
{
  return reader->word == BW_WORD_STITCH ||
         (reader->token.kind == BW_TOKEN_WORD && reader->word == BW_WORD_NONE &&
          bw_stitch_find_abbreviation (reader->dictionary, reader->token.start,
                                       reader->token.length, reader->terms) != BW_STITCH_NONE);
}

/* "around next st 2 rnds below" behind a post stitch, or a bare "around". */
gboolean
bw_reader_read_around (BwReader *reader,
                       guint     index,
                       BwCount   count)
{
  guint8 place;
  BwCount times = { 0, 0 };
  gboolean which = OPEN (reader) && take_post (reader);

  if (reader->word == BW_WORD_NEXT || reader->word == BW_WORD_EACH || reader->word == BW_WORD_SAME)
    bw_reader_advance (reader);
  else if (!which && !(OPEN (reader) && at_stitch (reader)))
    {
      bw_reader_settle_each (reader, index, count, times);
      return TRUE;
    }

  if (OPEN (reader))
    {
      bw_reader_take (reader, BW_WORD_OF);
      bw_reader_take (reader, BW_WORD_THE);
      bw_reader_take (reader, BW_WORD_NEXT);
      if (bw_reader_at_number (reader) && !bw_reader_at_below (reader))
        {
          if (!bw_reader_take_count (reader, &count))
            return FALSE;
        }
    }
  if (!bw_reader_take_position (reader, &place))
    return FALSE;
  if (bw_reader_at_below (reader) &&
      !bw_reader_take_below (reader, &bw_reader_item (reader, index)->below))
    return FALSE;
  if (bw_reader_take (reader, BW_WORD_AROUND) || bw_reader_take (reader, BW_WORD_ACROSS) ||
      bw_reader_take (reader, BW_WORD_ROUND))
    count = (BwCount) { 0, 0 };
  bw_reader_set_count (reader, index, count);
  return TRUE;
}
