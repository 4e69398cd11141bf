#define G_LOG_DOMAIN "bw-core"

#include "bw-notation.h"

#include <string.h>

#include "bw-error.h"
#include "bw-notation-lexer.h"

/* A recursive-descent reader of one round.
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
 * "Rep from *" comes after the group was worked once: "2 times" and "2 more
 * times" are 3 in all.
 */

typedef struct
{
  const BwStitchDictionary *dictionary;
  BwTerms                   terms;
  BwLexer                   lexer;
  BwToken                   token;  /* the one in hand */
  GArray                   *items;
  guint                     depth;
  GError                  **error;
} Reader;

/* --- Helpers on the token in hand --- */

static void
advance (Reader *reader)
{
  bw_lexer_next (&reader->lexer, &reader->token);
}

static gboolean
at_word (const Reader *reader,
         const char   *word)
{
  return bw_token_is_word (&reader->token, word);
}

static gboolean
at_mark (const Reader *reader,
         char          mark)
{
  return bw_token_is_mark (&reader->token, mark);
}

static gboolean
take_word (Reader     *reader,
           const char *word)
{
  if (!at_word (reader, word))
    return FALSE;
  advance (reader);
  return TRUE;
}

static gboolean
take_any_word (Reader            *reader,
               const char *const *words)
{
  for (guint i = 0; words[i] != NULL; i++)
    if (take_word (reader, words[i]))
      return TRUE;

  return FALSE;
}

static gboolean
take_mark (Reader *reader,
           char    mark)
{
  if (!at_mark (reader, mark))
    return FALSE;
  advance (reader);
  return TRUE;
}

static gboolean
fail (Reader     *reader,
      const char *wanted)
{
  const BwToken *token = &reader->token;
  g_autofree char *found = token->kind == BW_TOKEN_END
    ? g_strdup ("the end")
    : g_strdup_printf ("\"%.*s\"", (int) MIN (token->length, 24), token->start);

  g_set_error (reader->error, BW_ERROR, BW_ERROR_SYNTAX, "column %u: wants %s, not %s",
               token->column, wanted, found);
  return FALSE;
}

/* A number in hand that makes sense as a count. */
static gboolean
take_count (Reader *reader,
            guint  *count)
{
  if (reader->token.kind != BW_TOKEN_NUMBER)
    return fail (reader, "a number");
  if (reader->token.number == 0 || reader->token.number > BW_ITEM_COUNT_MAX)
    return fail (reader, "a number from 1 to 100000");
  *count = reader->token.number;
  advance (reader);
  return TRUE;
}

static BwItem *
item_at (Reader *reader,
         guint   index)
{
  return &g_array_index (reader->items, BwItem, index);
}

/* --- Places --- */

static const char *const stitch_words[] = { "st", "sts", "stitch", "stitches", NULL };
static const char *const space_words[] = { "ch-sp", "ch-sps", "sp", "sps", "space", NULL };
static const char *const around_words[] = { "around", "across", "round", NULL };
static const char *const round_words[] = { "rnd", "rnds", "round", "rounds", "row", "rows", NULL };
static const char *const miss_words[] = { "miss", "skip", "sk", NULL };
static const char *const times_words[] = { "times", "time", NULL };
static const char *const loop_back_words[] = { "blo", "bl", "bl only", NULL };
static const char *const loop_front_words[] = { "flo", "fl", NULL };

/* "ch-1 sp": the number says which space, and one space is what is worked into. */
static gboolean
take_counted_space (Reader *reader)
{
  if (reader->token.kind != BW_TOKEN_WORD || reader->token.length < 4 ||
      g_ascii_strncasecmp (reader->token.start, "ch-", 3) != 0 ||
      !g_ascii_isdigit (reader->token.start[3]))
    return FALSE;

  advance (reader);
  return TRUE;
}

/* What a stitch is worked into, by any of its names. A stitch's own name will
 * do: "in next tr". */
static gboolean
take_position (Reader *reader,
               guint8 *place)
{
  BwStitchIndex stitch;

  *place = BW_PLACE_NEXT_STITCH;
  if (take_any_word (reader, stitch_words))
    return TRUE;

  if (take_counted_space (reader))
    {
      take_any_word (reader, space_words);
      *place = BW_PLACE_CHAIN_SPACE;
      return TRUE;
    }
  if (take_any_word (reader, space_words))
    {
      *place = BW_PLACE_CHAIN_SPACE;
      return TRUE;
    }
  if (take_word (reader, "row"))
    {
      *place = BW_PLACE_ROW_END;
      return take_word (reader, "end") || take_word (reader, "ends") || fail (reader, "\"end\"");
    }
  if (reader->token.kind == BW_TOKEN_WORD)
    {
      stitch = bw_stitch_find_abbreviation (reader->dictionary, reader->token.start,
                                            reader->token.length, reader->terms);
      if (stitch != BW_STITCH_NONE)
        {
          advance (reader);
          return TRUE;
        }
    }

  return fail (reader, "\"st\", \"ch-sp\" or \"row end\"");
}

/* "in [the] back loop of", "BLO of" and the like, before the place. */
static void
take_loop (Reader *reader,
           guint8 *loop)
{
  if (take_any_word (reader, loop_back_words))
    *loop = BW_LOOP_BACK;
  else if (take_any_word (reader, loop_front_words))
    *loop = BW_LOOP_FRONT;
  else
    return;
  take_word (reader, "only");
  take_word (reader, "of");
}

static gboolean
take_below (Reader *reader,
            guint8 *below)
{
  guint count = 0;

  if (!take_count (reader, &count))
    return FALSE;
  if (count > 8)
    return fail (reader, "at most 8 rounds below");
  *below = (guint8) count;
  if (!take_any_word (reader, round_words))
    return fail (reader, "\"rnds below\"");
  return take_word (reader, "below") || fail (reader, "\"below\"");
}

/* A number in hand followed by "rnds": looks ahead without moving. */
static gboolean
at_below (const Reader *reader)
{
  BwLexer ahead = reader->lexer;
  BwToken next;

  if (reader->token.kind != BW_TOKEN_NUMBER)
    return FALSE;
  bw_lexer_next (&ahead, &next);
  for (guint i = 0; round_words[i] != NULL; i++)
    if (bw_token_is_word (&next, round_words[i]))
      return TRUE;

  return FALSE;
}

/* --- Items --- */

static gboolean read_items (Reader *reader);

/* Turns the stitch at `index`, worked `count` times into each of `times`
 * positions (0 = all), into the item or items that say so. */
static void
settle_each (Reader *reader,
             guint   index,
             guint   count,
             guint   times)
{
  BwItem body = *item_at (reader, index);

  if (count == 1)
    {
      item_at (reader, index)->kind = BW_ITEM_EACH;
      item_at (reader, index)->count = times;
      return;
    }

  body.kind = BW_ITEM_IN_ONE;
  body.count = count;
  if (times == 1)
    {
      *item_at (reader, index) = body;
      return;
    }

  *item_at (reader, index) = bw_item_repeat (times, 1);
  g_array_append_val (reader->items, body);
}

static gboolean
read_second_chain (Reader *reader,
                   guint   index,
                   guint   count)
{
  BwItem *item = item_at (reader, index);

  if (reader->token.number != 2)
    return fail (reader, "\"2nd ch from hook\"");
  advance (reader);
  if (!take_word (reader, "ch") || !take_word (reader, "from") || !take_word (reader, "hook"))
    return fail (reader, "\"2nd ch from hook\"");

  item->place = BW_PLACE_SECOND_CHAIN;
  item->kind = BW_ITEM_EACH;
  item->count = count;
  if (take_word (reader, "and"))
    {
      item->count = 0;
      if (!take_word (reader, "in") || !take_word (reader, "each") || !take_word (reader, "ch") ||
          !take_any_word (reader, around_words))
        return fail (reader, "\"in each ch across\"");
    }
  return TRUE;
}

/* Behind "in": the stitch is the item at `index`, `count` is what stood before it. */
static gboolean
read_where (Reader *reader,
            guint   index,
            guint   count)
{
  gboolean each = FALSE;
  guint times = 0;
  guint8 place;

  take_loop (reader, &item_at (reader, index)->loop);
  if (reader->token.kind == BW_TOKEN_ORDINAL)
    return read_second_chain (reader, index, count);

  if (take_word (reader, "same"))
    {
      if (!take_position (reader, &place))
        return FALSE;
      item_at (reader, index)->kind = BW_ITEM_IN_ONE;
      item_at (reader, index)->count = count;
      item_at (reader, index)->place = BW_PLACE_SAME_STITCH;
      return TRUE;
    }

  each = take_word (reader, "each");
  if (each)
    take_word (reader, "of");
  if (!take_word (reader, "next") && !each)
    return fail (reader, "\"next\", \"each\" or \"same\"");
  if (reader->token.kind == BW_TOKEN_NUMBER && !take_count (reader, &times))
    return FALSE;
  if (!take_position (reader, &place))
    return FALSE;

  item_at (reader, index)->place = place;
  if (take_any_word (reader, around_words))
    times = 0;
  else if (take_word (reader, "to"))
    {
      if (!take_word (reader, "end"))
        return fail (reader, "\"end\"");
      times = 0;
    }
  else if (times == 0)
    {
      if (each)
        return fail (reader, "\"around\"");
      times = 1;
    }
  settle_each (reader, index, count, times);
  return TRUE;
}

/* "around next st 2 rnds below" behind a post stitch, or a bare "around". */
static gboolean
read_around (Reader *reader,
             guint   index,
             guint   count)
{
  guint8 place;

  if (!take_word (reader, "next") && !take_word (reader, "each"))
    {
      settle_each (reader, index, count, 0);
      return TRUE;
    }
  if (!take_position (reader, &place))
    return FALSE;
  if (at_below (reader) && !take_below (reader, &item_at (reader, index)->below))
    return FALSE;
  item_at (reader, index)->count = take_any_word (reader, around_words) ? 0 : count;
  return TRUE;
}

/* The stitch that begins with the token in hand, which is passed over;
 * abbreviations have one word or two ("sl st"). */
static BwStitchIndex
take_stitch (Reader *reader)
{
  BwLexer ahead = reader->lexer;
  BwToken next;
  BwStitchIndex stitch;
  char both[32];

  if (reader->token.kind != BW_TOKEN_WORD)
    return BW_STITCH_NONE;
  if (take_any_word (reader, miss_words))
    return bw_stitch_find (reader->dictionary, "miss");

  stitch = bw_stitch_find_abbreviation (reader->dictionary, reader->token.start,
                                        reader->token.length, reader->terms);
  if (stitch != BW_STITCH_NONE)
    {
      advance (reader);
      return stitch;
    }

  bw_lexer_next (&ahead, &next);
  if (next.kind != BW_TOKEN_WORD || reader->token.length + next.length + 2 > sizeof both)
    return BW_STITCH_NONE;
  g_snprintf (both, sizeof both, "%.*s %.*s", (int) reader->token.length, reader->token.start,
              (int) next.length, next.start);
  stitch = bw_stitch_find_abbreviation (reader->dictionary, both, strlen (both), reader->terms);
  if (stitch != BW_STITCH_NONE)
    {
      advance (reader);
      advance (reader);
    }
  return stitch;
}

static gboolean
read_miss (Reader        *reader,
           BwStitchIndex  stitch)
{
  BwItem item = bw_item_each (stitch, 1);

  take_word (reader, "next");
  if (reader->token.kind == BW_TOKEN_NUMBER && !take_count (reader, &item.count))
    return FALSE;
  if (!take_position (reader, &item.place))
    return FALSE;
  g_array_append_val (reader->items, item);
  return TRUE;
}

static gboolean
read_chain (Reader        *reader,
            BwStitchIndex  stitch,
            guint          count)
{
  BwItem item = bw_item_each (stitch, count);

  if (reader->token.kind == BW_TOKEN_NUMBER && !take_count (reader, &item.count))
    return FALSE;
  g_array_append_val (reader->items, item);
  return TRUE;
}

static gboolean
read_stitch (Reader *reader)
{
  guint count = 1;
  guint index = reader->items->len;
  guint8 loop = BW_LOOP_BOTH;
  BwStitchIndex stitch;
  BwItem item;

  if (reader->token.kind == BW_TOKEN_NUMBER && !take_count (reader, &count))
    return FALSE;
  take_loop (reader, &loop);
  stitch = take_stitch (reader);
  if (stitch == BW_STITCH_NONE)
    return fail (reader, "a stitch");
  if (bw_stitch_get (reader->dictionary, stitch)->makes == 0)
    return read_miss (reader, stitch);
  if (bw_stitch_get (reader->dictionary, stitch)->takes == 0)
    return read_chain (reader, stitch, count);

  item = bw_item_each (stitch, count);
  item.loop = loop;
  take_loop (reader, &item.loop);
  if (at_below (reader) && !take_below (reader, &item.below))
    return FALSE;
  g_array_append_val (reader->items, item);

  if (take_word (reader, "in"))
    return read_where (reader, index, count);
  if (take_any_word (reader, around_words))
    return read_around (reader, index, count);
  return TRUE;
}

/* --- Groups --- */

/* "9 times", "x 9", "twice", "around", "to last 2 sts"; `worked` is how often
 * the group was worked already ("rep from *" has been once). */
static gboolean
read_times (Reader *reader,
            guint   index,
            guint   worked)
{
  guint count = 0;
  guint8 place;

  if (take_any_word (reader, around_words))
    {
      item_at (reader, index)->count = 0;
      return TRUE;
    }
  if (at_word (reader, "once") || at_word (reader, "twice"))
    {
      item_at (reader, index)->count = worked + (at_word (reader, "once") ? 1 : 2);
      advance (reader);
      take_word (reader, "more");
      return TRUE;
    }
  if (take_word (reader, "to"))
    {
      if (take_word (reader, "end"))
        return TRUE;
      if (!take_word (reader, "last") || !take_count (reader, &count) ||
          !take_position (reader, &place))
        return *reader->error != NULL ? FALSE : fail (reader, "\"last\" and a number of stitches");
      item_at (reader, index)->kind = BW_ITEM_TO_LAST;
      item_at (reader, index)->count = count;
      return TRUE;
    }

  if (take_word (reader, "x") || take_mark (reader, 'x'))
    {
      if (!take_count (reader, &count))
        return FALSE;
      item_at (reader, index)->count = count;
      return TRUE;
    }

  if (reader->token.kind != BW_TOKEN_NUMBER)
    return fail (reader, "how often: \"9 times\" or \"around\"");
  if (!take_count (reader, &count))
    return FALSE;
  take_word (reader, "more");
  item_at (reader, index)->count = worked + count;
  return take_any_word (reader, times_words) || fail (reader, "\"times\"");
}

static gboolean
read_into (Reader *reader,
           guint   index)
{
  guint8 place;
  gboolean same = FALSE;

  if (!take_word (reader, "next"))
    {
      same = take_word (reader, "same");
      if (!same)
        return fail (reader, "\"next\" or \"same\"");
    }
  if (!take_position (reader, &place))
    return FALSE;
  item_at (reader, index)->kind = BW_ITEM_CLUSTER;
  item_at (reader, index)->count = 1;
  item_at (reader, index)->place = same ? BW_PLACE_SAME_STITCH : place;
  return TRUE;
}

static gboolean
begin_group (Reader *reader,
             guint  *index)
{
  *index = reader->items->len;
  if (reader->depth >= BW_ITEM_DEPTH_MAX)
    return fail (reader, "at most 16 brackets inside each other");
  reader->depth++;
  g_array_append_val (reader->items, ((BwItem) { .kind = BW_ITEM_REPEAT,
                                                 .stitch = BW_STITCH_NONE }));
  return TRUE;
}

static gboolean
end_group (Reader *reader,
           guint   index)
{
  guint span = reader->items->len - index - 1;

  if (span == 0)
    return fail (reader, "something to work between the brackets");
  if (span > G_MAXUINT16)
    return fail (reader, "a shorter group");
  item_at (reader, index)->span = (guint16) span;
  reader->depth--;
  return TRUE;
}

static gboolean
read_bracket (Reader *reader,
              char    closing)
{
  guint index;

  if (!begin_group (reader, &index))
    return FALSE;
  advance (reader);
  if (!read_items (reader))
    return FALSE;
  if (!at_mark (reader, closing))
    return fail (reader, closing == ')' ? "a comma or \")\"" : "a comma or \"]\"");
  advance (reader);
  if (!end_group (reader, index))
    return FALSE;
  if (closing == ')' && take_word (reader, "in"))
    return read_into (reader, index);
  return read_times (reader, index, 0);
}

/* "*5 dc, dc2tog; rep from * around" */
static gboolean
read_starred (Reader *reader)
{
  static const char *const repeat_words[] = { "rep", "repeat", NULL };
  guint index;

  if (!begin_group (reader, &index))
    return FALSE;
  advance (reader);
  if (!read_items (reader) || !end_group (reader, index))
    return FALSE;
  take_mark (reader, '*');
  while (take_mark (reader, ';') || take_mark (reader, ',') || take_mark (reader, '.'))
    continue;
  if (!take_any_word (reader, repeat_words))
    return fail (reader, "\"rep from *\"");
  if (take_word (reader, "from"))
    while (take_mark (reader, '*'))
      continue;
  return read_times (reader, index, 1);
}

static gboolean
read_item (Reader *reader)
{
  switch (reader->token.kind == BW_TOKEN_MARK ? reader->token.mark : 0)
    {
    case '[': return read_bracket (reader, ']');
    case '{': return read_bracket (reader, '}');
    case '(': return read_bracket (reader, ')');
    case '*': return read_starred (reader);
    default: return read_stitch (reader);
    }
}

/* Does the list end here, or does "rep from *" close a starred group? */
static gboolean
at_list_end (const Reader *reader)
{
  return reader->token.kind == BW_TOKEN_END || at_mark (reader, ']') || at_mark (reader, '}') ||
         at_mark (reader, ')') || at_mark (reader, '*') || at_word (reader, "rep") ||
         at_word (reader, "repeat");
}

static gboolean
read_items (Reader *reader)
{
  for (;;)
    {
      gboolean separated = FALSE;

      if (!read_item (reader))
        return FALSE;
      while (take_mark (reader, ',') || take_mark (reader, ';') || take_mark (reader, '.') ||
             take_word (reader, "then"))
        separated = TRUE;
      if (at_list_end (reader) && (!at_mark (reader, '*') || reader->depth > 0))
        return TRUE;
      if (!separated)
        return fail (reader, "a comma");
    }
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
  GError *local = NULL;
  guint before = items->len;
  Reader reader = { dictionary, terms, { 0 }, { 0 }, items, 0, &local };
  gsize bytes = length < 0 ? strlen (text) : (gsize) length;

  if (!g_utf8_validate_len (text, bytes, NULL))
    {
      g_set_error (error, BW_ERROR, BW_ERROR_SYNTAX, "The text is not UTF-8");
      return FALSE;
    }

  bw_lexer_init (&reader.lexer, text, bytes);
  advance (&reader);
  if (read_items (&reader) && reader.token.kind != BW_TOKEN_END)
    fail (&reader, "the end of the round");

  if (local != NULL)
    {
      g_array_set_size (items, before);
      g_propagate_error (error, local);
      return FALSE;
    }

  return TRUE;
}
