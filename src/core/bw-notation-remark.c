#define G_LOG_DOMAIN "bw-core"

#include "bw-notation-reader.h"

/* What stands among the stitches of a line and is no stitch: joining, turning,
 * what the beginning chain counts as, colours, sides. */

static BwSlice
slice_of (const BwReader *reader)
{
  return (BwSlice) { bw_reader_offset (reader), (guint32) reader->token.length };
}

/* "A", "MC", "CC2", "colour B", or a name that begins with a capital letter. */
gboolean
bw_reader_at_colour (const BwReader *reader)
{
  const BwToken *token = &reader->token;

  return token->kind == BW_TOKEN_WORD && g_ascii_isupper (token->start[0]) &&
         reader->word == BW_WORD_NONE &&
         (token->length == 1 ||
          bw_stitch_find_abbreviation (reader->dictionary, token->start, token->length,
                                       reader->terms) == BW_STITCH_NONE);
}

/* Skips "new", "the", "colour" and the like up to the name of a colour. */
static gboolean
take_colour (BwReader *reader,
             BwSlice  *colour)
{
  while (reader->word == BW_WORD_COLOUR || reader->word == BW_WORD_THE ||
         reader->word == BW_WORD_TO || bw_token_is_word (&reader->token, "new") ||
         bw_token_is_word (&reader->token, "shade"))
    bw_reader_advance (reader);
  if (!bw_reader_at_colour (reader))
    return FALSE;

  *colour = slice_of (reader);
  bw_reader_advance (reader);
  return TRUE;
}

static BwSlice *
colour_of_moment (BwReader *reader)
{
  return reader->items->len == 0 || reader->facts->colour.length == 0 ? &reader->facts->colour
                                                                      : &reader->facts->next_colour;
}

/* Does the mark in hand stand between a number and a word: "3-ch"? */
static gboolean
glued (const BwReader *reader)
{
  const char *at = reader->token.start;

  return at > reader->sink->text && g_ascii_isdigit (at[-1]) &&
         reader->lexer.at < reader->lexer.end && g_ascii_isalpha (*reader->lexer.at);
}

/* Passes over the clause; tells whether it said a place to join at. */
static gboolean
skip_to_place (BwReader *reader)
{
  gboolean placed = FALSE;

  while (!bw_reader_at_end (reader))
    {
      char mark = reader->token.kind == BW_TOKEN_MARK ? reader->token.mark : 0;

      if (mark == ',' || mark == ';' || mark == '.' || mark == '(' || mark == '[' || mark == ')' ||
          (mark == '-' && !glued (reader)) || mark == '=')
        break;
      if (reader->word == BW_WORD_TURN)
        break;
      placed |= reader->word == BW_WORD_FIRST || reader->word == BW_WORD_TOP ||
                reader->word == BW_WORD_BEGINNING || reader->word == BW_WORD_FORM ||
                reader->token.kind == BW_TOKEN_ORDINAL || reader->word == BW_WORD_THE ||
                reader->word == BW_WORD_SAME || reader->word == BW_WORD_TURNING_CHAIN;
      if (reader->word == BW_WORD_RING)
        reader->facts->ring = TRUE;
      /* "ss" is passed over as the stitch it is, for its spelling's sake */
      if (reader->word != BW_WORD_NONE || bw_reader_take_stitch (reader) == BW_STITCH_NONE)
        bw_reader_advance (reader);
    }

  return placed;
}

/* "join", "join with ss to first st", "ss in first st", "join B". */
void
bw_reader_read_join (BwReader *reader)
{
  BwLineFacts *facts = reader->facts;
  guint32 offset = bw_reader_offset (reader);
  gboolean placed;

  bw_reader_advance (reader);
  if (bw_reader_at_colour (reader) || reader->word == BW_WORD_COLOUR ||
      bw_token_is_word (&reader->token, "new"))
    {
      take_colour (reader, colour_of_moment (reader));
      bw_reader_skip_clause (reader);
      return;
    }

  placed = skip_to_place (reader);
  facts->join_offset = offset;
  facts->join = placed ? BW_JOIN_PLACED : BW_JOIN_BARE;
}

/* --- What the beginning chain counts as --- */

/* Reads the words of "does not count as a st", "counts as tr and ch 1" up to
 * the end of the clause or bracket. */
static void
read_counts (BwReader *reader)
{
  gboolean no = FALSE;
  gboolean said = FALSE;
  gboolean extra = FALSE;

  for (; !bw_reader_at_end (reader); bw_reader_advance (reader))
    {
      char mark = reader->token.kind == BW_TOKEN_MARK ? reader->token.mark : 0;

      if (mark == ')' || mark == ']' || mark == '.' || mark == ';' || (mark == ',' && !said))
        break;
      no |= reader->word == BW_WORD_NOT || reader->word == BW_WORD_DOES ||
            bw_token_is_word (&reader->token, "no");
      said |= reader->word == BW_WORD_COUNTS;
      if (mark == ',')
        break;
      if (said && bw_token_is_word (&reader->token, "ch"))
        extra = TRUE;
      else if (extra && reader->token.kind == BW_TOKEN_NUMBER)
        {
          reader->facts->chain_extra = (guint8) MIN (reader->token.number, 20);
          extra = FALSE;
        }
    }

  if (said)
    reader->facts->chain_counts = no ? BW_SAID_NO : BW_SAID_YES;
}

/* Is what stands between the brackets no work? Its first words tell. */
static gboolean
begins_remark (const BwReader *reader)
{
  BwReader ahead = *reader;

  ahead.sink = NULL;
  bw_reader_advance (&ahead);
  if (ahead.token.kind == BW_TOKEN_NUMBER)
    {
      /* "(3 skipped ch count as tr)", "(3 rnds)" */
      bw_reader_advance (&ahead);
      if (ahead.token.kind == BW_TOKEN_WORD && ahead.word == BW_WORD_NONE && reader->items->len > 0)
        {
          /* "(5 shells, 5 dc)": a count of something that is no stitch */
          BwReader unit = ahead;

          return bw_reader_take_stitch (&unit) == BW_STITCH_NONE;
        }
      return ahead.word == BW_WORD_MISS || bw_word_is_round (ahead.word);
    }
  if (ahead.word == BW_WORD_WITH || ahead.word == BW_WORD_USING)
    {
      bw_reader_advance (&ahead);
      return !bw_reader_at_colour (&ahead);
    }
  return ahead.token.kind == BW_TOKEN_WORD && ahead.word != BW_WORD_MISS &&
         ahead.word != BW_WORD_INCREASE && ahead.word != BW_WORD_DECREASE &&
         ahead.word != BW_WORD_BACK_LOOP && ahead.word != BW_WORD_FRONT_LOOP &&
         bw_reader_take_stitch (&ahead) == BW_STITCH_NONE;
}

/* Words in brackets that are no work: "(counts as first tr)", "(RS)". */
static gboolean
read_bracket_remark (BwReader *reader)
{
  char closing = bw_reader_at_mark (reader, '(') ? ')' : ']';
  guint depth = 1;

  if (!begins_remark (reader))
    return FALSE;

  bw_reader_advance (reader);
  if (reader->word == BW_WORD_RIGHT_SIDE)
    reader->facts->side = 1;
  else if (reader->word == BW_WORD_WRONG_SIDE)
    reader->facts->side = 2;
  read_counts (reader);
  for (; !bw_reader_at_end (reader); bw_reader_advance (reader))
    {
      if (bw_reader_at_mark (reader, closing == ')' ? '(' : '['))
        depth++;
      else if (bw_reader_at_mark (reader, closing) && --depth == 0)
        {
          bw_reader_advance (reader);
          break;
        }
    }
  return TRUE;
}

/* --- One remark --- */

/* Words in front of a colour that is worked with from there on. */
static const char *const taking_up[] = { "add", "attach", "pick", "take", "taking", "tie" };

/* Words that begin a clause which changes no count. */
static const char *const asides[] = {
  "being", "bring", "careful", "carry", "drop", "go", "hold", "keep", "leave",
  "leaving", "making", "note",
};

/* A turning chain written before the turn belongs to the next row. */
static void
read_turn (BwReader *reader)
{
  BwLineFacts *facts = reader->facts;

  facts->turned = BW_SAID_YES;
  bw_reader_advance (reader);
  if (reader->items->len > 0)
    {
      const BwItem *last = bw_reader_item (reader, reader->items->len - 1);

      if (last->stitch != BW_STITCH_NONE && last->kind == BW_ITEM_EACH && reader->items->len > 1 &&
          bw_stitch_get (reader->dictionary, last->stitch)->takes == 0)
        {
          facts->end_chain = (guint16) MIN (last->count, 100);
          g_array_set_size (reader->items, reader->items->len - 1);
          g_array_set_size (reader->sink->sources, reader->items->len);
        }
    }
}

static gboolean
at_loop (const BwReader *reader)
{
  return reader->word == BW_WORD_BACK_LOOP || reader->word == BW_WORD_FRONT_LOOP ||
         reader->word == BW_WORD_BACK || reader->word == BW_WORD_FRONT;
}

static void
read_do_not (BwReader *reader)
{
  bw_reader_advance (reader);
  bw_reader_take (reader, BW_WORD_NOT);
  if (reader->word == BW_WORD_TURN)
    reader->facts->turned = BW_SAID_NO;
  bw_reader_skip_clause (reader);
}

static void
read_magic (BwReader *reader)
{
  bw_reader_advance (reader);
  while (bw_reader_take (reader, BW_WORD_RING) || bw_reader_take (reader, BW_WORD_LOOP))
    continue;
  reader->facts->ring = TRUE;
}

/* "back loops only" for all that follows; FALSE when none is said. */
static gboolean
take_loop_of_line (BwReader *reader)
{
  if (!at_loop (reader))
    return FALSE;
  reader->loop = reader->word == BW_WORD_BACK_LOOP || reader->word == BW_WORD_BACK
                   ? BW_LOOP_BACK : BW_LOOP_FRONT;
  bw_reader_skip_clause (reader);
  return TRUE;
}

/* The dot in "4.5". */
static gboolean
at_decimals (const BwReader *reader)
{
  return bw_reader_at_mark (reader, '.') && reader->lexer.at < reader->lexer.end &&
         g_ascii_isdigit (*reader->lexer.at);
}

static gboolean
begins_chain (const BwReader *reader)
{
  return reader->word == BW_WORD_MAKE || reader->word == BW_WORD_CHAIN ||
         reader->word == BW_WORD_WORK || bw_token_is_word (&reader->token, "ch");
}

/* Still at the words for a hook, or whatever else is worked with? */
static gboolean
at_tool (const BwReader *reader)
{
  return (reader->token.kind == BW_TOKEN_NUMBER || at_decimals (reader) ||
          (reader->token.kind == BW_TOKEN_WORD && reader->word != BW_WORD_AND)) &&
         !begins_chain (reader);
}

static void
read_with (BwReader *reader)
{
  bw_reader_advance (reader);
  bw_reader_take (reader, BW_WORD_THE);
  if (take_loop_of_line (reader))
    return;
  if (reader->word == BW_WORD_MAGIC)
    {
      read_magic (reader);
      return;
    }
  if (reader->word == BW_WORD_RIGHT_SIDE || reader->word == BW_WORD_WRONG_SIDE)
    {
      reader->facts->side = reader->word == BW_WORD_RIGHT_SIDE ? 1 : 2;
      bw_reader_skip_clause (reader);
    }
  else if (!take_colour (reader, colour_of_moment (reader)))
    {
      /* "with 4 mm hook and A" */
      while (at_tool (reader))
        bw_reader_advance (reader);
      if (bw_reader_take (reader, BW_WORD_AND) && !take_colour (reader, colour_of_moment (reader)))
        while (at_tool (reader))
          bw_reader_advance (reader);
      if (!begins_chain (reader))
        bw_reader_skip_clause (reader);
    }
  else if (reader->word == BW_WORD_AND)
    {
      /* "with A and a 4 mm hook make 19 ch"; "with A and B" */
      bw_reader_advance (reader);
      while (at_tool (reader))
        bw_reader_advance (reader);
    }
}

/* "starting in 2nd ch from hook": the chain that the first stitch goes into. */
static void
read_beginning (BwReader *reader)
{
  BwReader ahead = *reader;

  bw_reader_advance (&ahead);
  bw_reader_take (&ahead, BW_WORD_WITH);
  bw_reader_take (&ahead, BW_WORD_IN);
  bw_reader_take (&ahead, BW_WORD_THE);
  if (ahead.token.kind == BW_TOKEN_ORDINAL && ahead.token.number >= 2 && ahead.token.number <= 8)
    {
      guint8 nth = (guint8) ahead.token.number;

      bw_reader_advance (&ahead);
      if (!bw_reader_take (&ahead, BW_WORD_CHAIN) && bw_token_is_word (&ahead.token, "ch"))
        bw_reader_advance (&ahead);
      if (ahead.word == BW_WORD_FROM)
        {
          reader->facts->from_hook = nth;
          bw_reader_skip_clause (reader);
          return;
        }
    }
  bw_reader_advance (reader);
  if (reader->word == BW_WORD_WITH)
    read_with (reader);
  else
    bw_reader_skip_clause (reader);
}

/* "change to B (take it up again)", "cut A". */
static void
read_change (BwReader *reader)
{
  bw_reader_advance (reader);
  take_colour (reader, reader->items->len == 0 ? &reader->facts->colour
                                               : &reader->facts->next_colour);
  bw_reader_skip_clause (reader);
}

/* "pick up B", "attach B", "take up A again". */
static void
read_take_up (BwReader *reader)
{
  BwReader back;

  bw_reader_advance (reader);
  while (bw_token_is_word (&reader->token, "up") || reader->word == BW_WORD_IN)
    bw_reader_advance (reader);
  back = *reader;
  if (!take_colour (reader, reader->items->len == 0 ? &reader->facts->colour
                                                    : &reader->facts->next_colour))
    *reader = back;
  bw_reader_skip_clause (reader);
}

/* "work", "working in back loops only", "work even", "continue in dc until". */
static void
read_work (BwReader *reader)
{
  bw_reader_advance (reader);
  if (bw_reader_read_even (reader) || bw_reader_read_more_rounds (reader) || reader->word != BW_WORD_IN)
    return;
  bw_reader_advance (reader);
  bw_reader_take (reader, BW_WORD_THE);
  if (!take_loop_of_line (reader))
    bw_reader_skip_clause (reader);
}

/* "continue even", "cont in dc until …", "continue to work"; else an aside. */
static void
read_continue (BwReader *reader)
{
  BwToken next;

  bw_reader_advance (reader);
  if (bw_reader_read_even (reader))
    return;
  if (reader->word == BW_WORD_TO && bw_reader_ahead (reader, &next) == BW_WORD_WORK)
    {
      bw_reader_advance (reader);
      read_work (reader);
    }
  else
    bw_reader_skip_clause (reader);
}

static void
read_side (BwReader *reader)
{
  reader->facts->side = reader->word == BW_WORD_RIGHT_SIDE ? 1 : 2;
  bw_reader_advance (reader);
  if (bw_token_is_word (&reader->token, "facing") || bw_token_is_word (&reader->token, "row"))
    bw_reader_advance (reader);
}

/* Takes one remark; FALSE when what stands here is none. */
gboolean
bw_reader_read_remark (BwReader *reader)
{
  BwLineFacts *facts = reader->facts;

  if (bw_reader_at_mark (reader, '(') || bw_reader_at_mark (reader, '['))
    return read_bracket_remark (reader);

  switch (reader->word)
    {
    case BW_WORD_JOIN: bw_reader_read_join (reader); return TRUE;
    case BW_WORD_TURN: read_turn (reader); return TRUE;
    case BW_WORD_DO: read_do_not (reader); return TRUE;
    case BW_WORD_WITH: case BW_WORD_USING: read_with (reader); return TRUE;
    case BW_WORD_IN: read_with (reader); return TRUE;
    case BW_WORD_CHANGE: read_change (reader); return TRUE;
    case BW_WORD_WORK: read_work (reader); return TRUE;
    case BW_WORD_MAGIC: read_magic (reader); return TRUE;
    case BW_WORD_RIGHT_SIDE: case BW_WORD_WRONG_SIDE: read_side (reader); return TRUE;
    case BW_WORD_DOES: case BW_WORD_COUNTS: read_counts (reader); return TRUE;
    case BW_WORD_AGAIN: case BW_WORD_SAME: return bw_reader_read_again (reader);
    case BW_WORD_BEGINNING: read_beginning (reader); return TRUE;
    case BW_WORD_MAKE: case BW_WORD_THE: bw_reader_advance (reader); return TRUE;
    case BW_WORD_END:
      bw_reader_advance (reader);
      bw_reader_take (reader, BW_WORD_WITH);
      bw_reader_take (reader, BW_WORD_IN);
      if (bw_word_is_round (reader->word) || reader->word == BW_WORD_RIGHT_SIDE ||
          reader->word == BW_WORD_WRONG_SIDE)
        bw_reader_skip_clause (reader); /* "ending with rnd 2" */
      return TRUE;
    case BW_WORD_FASTEN: case BW_WORD_CLOSE:
      facts->fastened = TRUE;
      bw_reader_skip_clause (reader);
      return TRUE;
    case BW_WORD_CUT: case BW_WORD_PLACE: case BW_WORD_MARKER: case BW_WORD_WITHOUT:
      bw_reader_skip_clause (reader);
      return TRUE;
    default:
      break;
    }

  if (bw_token_is_word (&reader->token, "as"))
    return bw_reader_read_again (reader);
  if (bw_token_is_word (&reader->token, "through"))
    {
      bw_reader_advance (reader);
      bw_reader_take (reader, BW_WORD_THE);
      if (!take_loop_of_line (reader))
        bw_reader_skip_clause (reader);
      return TRUE;
    }
  if (bw_token_is_word (&reader->token, "continue") || bw_token_is_word (&reader->token, "cont"))
    {
      read_continue (reader);
      return TRUE;
    }
  if (reader->word != BW_WORD_IN && bw_reader_read_even (reader))
    return TRUE;
  for (guint i = 0; i < G_N_ELEMENTS (taking_up); i++)
    if (bw_token_is_word (&reader->token, taking_up[i]))
      {
        read_take_up (reader);
        return TRUE;
      }
  for (guint i = 0; i < G_N_ELEMENTS (asides); i++)
    if (bw_token_is_word (&reader->token, asides[i]))
      {
        bw_reader_skip_clause (reader);
        return TRUE;
      }
  return FALSE;
}
