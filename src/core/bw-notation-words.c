#define G_LOG_DOMAIN "bw-core"

#include "bw-notation-words.h"

#include <string.h>

#define LONGEST 12

typedef struct
{
  char    text[LONGEST + 1];
  guint8  form;
  guint16 word; /* BwWord */
} Entry;

/* In the order of strcmp(), for the search. */
static const Entry entries[] = {
  { "across", 0, BW_WORD_ACROSS },
  { "adjustable", 1, BW_WORD_MAGIC },
  { "all", 0, BW_WORD_TOTAL },
  { "along", 1, BW_WORD_ACROSS },
  { "altogether", 0, BW_WORD_TOTAL },
  { "and", 0, BW_WORD_AND },
  { "around", 0, BW_WORD_AROUND },
  { "at", 0, BW_WORD_IN },
  { "back", 0, BW_WORD_BACK },
  { "beg", 0, BW_WORD_BEGINNING },
  { "beginning", 1, BW_WORD_BEGINNING },
  { "below", 0, BW_WORD_BELOW },
  { "bl", 0, BW_WORD_BACK_LOOP },
  { "blo", 0, BW_WORD_BACK_LOOP },
  { "break", 0, BW_WORD_CUT },
  { "ch-sp", 0, BW_WORD_CHAIN_SPACE },
  { "ch-space", 0, BW_WORD_CHAIN_SPACE },
  { "ch-spaces", 0, BW_WORD_CHAIN_SPACE },
  { "ch-sps", 0, BW_WORD_CHAIN_SPACE },
  { "chain", 1, BW_WORD_CHAIN },
  { "chains", 1, BW_WORD_CHAIN },
  { "change", 0, BW_WORD_CHANGE },
  { "changing", 0, BW_WORD_CHANGE },
  { "chs", 0, BW_WORD_CHAIN },
  { "chsp", 0, BW_WORD_CHAIN_SPACE },
  { "circle", 0, BW_WORD_RING },
  { "color", 0, BW_WORD_COLOUR },
  { "colour", 0, BW_WORD_COLOUR },
  { "count", 0, BW_WORD_COUNTS },
  { "counted", 0, BW_WORD_COUNTS },
  { "counting", 0, BW_WORD_COUNTS },
  { "counts", 0, BW_WORD_COUNTS },
  { "cut", 0, BW_WORD_CUT },
  { "dec", 0, BW_WORD_DECREASE },
  { "decrease", 1, BW_WORD_DECREASE },
  { "decreases", 1, BW_WORD_DECREASE },
  { "do", 0, BW_WORD_DO },
  { "does", 0, BW_WORD_DOES },
  { "doesn", 0, BW_WORD_DOES },
  { "draw", 0, BW_WORD_CLOSE },
  { "ea", 0, BW_WORD_EACH },
  { "each", 1, BW_WORD_EACH },
  { "end", 0, BW_WORD_END },
  { "ending", 0, BW_WORD_END },
  { "ends", 0, BW_WORD_END },
  { "evenly", 0, BW_WORD_EVENLY },
  { "every", 1, BW_WORD_EACH },
  { "fasten", 1, BW_WORD_FASTEN },
  { "first", 0, BW_WORD_FIRST },
  { "fl", 0, BW_WORD_FRONT_LOOP },
  { "flo", 0, BW_WORD_FRONT_LOOP },
  { "fo", 0, BW_WORD_FASTEN },
  { "foll", 0, BW_WORD_NEXT },
  { "following", 2, BW_WORD_NEXT },
  { "for", 0, BW_WORD_FOR },
  { "form", 0, BW_WORD_FORM },
  { "forming", 0, BW_WORD_FORM },
  { "from", 0, BW_WORD_FROM },
  { "front", 0, BW_WORD_FRONT },
  { "gather", 0, BW_WORD_CLOSE },
  { "hook", 0, BW_WORD_HOOK },
  { "in", 0, BW_WORD_IN },
  { "inc", 0, BW_WORD_INCREASE },
  { "increase", 1, BW_WORD_INCREASE },
  { "increases", 1, BW_WORD_INCREASE },
  { "into", 0, BW_WORD_IN },
  { "invdec", 0, BW_WORD_DECREASE },
  { "join", 0, BW_WORD_JOIN },
  { "joined", 0, BW_WORD_JOIN },
  { "joining", 0, BW_WORD_JOIN },
  { "last", 0, BW_WORD_LAST },
  { "left", 1, BW_WORD_REMAIN },
  { "loop", 1, BW_WORD_LOOP },
  { "loops", 1, BW_WORD_LOOP },
  { "lp", 0, BW_WORD_LOOP },
  { "lps", 0, BW_WORD_LOOP },
  { "magic", 1, BW_WORD_MAGIC },
  { "make", 0, BW_WORD_MAKE },
  { "making", 0, BW_WORD_MAKE },
  { "mark", 1, BW_WORD_PLACE },
  { "marker", 0, BW_WORD_MARKER },
  { "miss", 1, BW_WORD_MISS },
  { "missed", 1, BW_WORD_MISS },
  { "missing", 1, BW_WORD_MISS },
  { "more", 0, BW_WORD_MORE },
  { "move", 1, BW_WORD_PLACE },
  { "mr", 0, BW_WORD_MAGIC },
  { "next", 1, BW_WORD_NEXT },
  { "not", 0, BW_WORD_NOT },
  { "of", 0, BW_WORD_OF },
  { "on", 0, BW_WORD_IN },
  { "once", 0, BW_WORD_ONCE },
  { "only", 0, BW_WORD_ONLY },
  { "over", 0, BW_WORD_OVER },
  { "place", 1, BW_WORD_PLACE },
  { "plus", 0, BW_WORD_AND },
  { "pm", 0, BW_WORD_PLACE },
  { "post", 0, BW_WORD_POST },
  { "pull", 0, BW_WORD_CLOSE },
  { "rd", 0, BW_WORD_RND },
  { "rds", 0, BW_WORD_RND },
  { "rem", 0, BW_WORD_REMAIN },
  { "remain", 1, BW_WORD_REMAIN },
  { "remaining", 1, BW_WORD_REMAIN },
  { "remains", 1, BW_WORD_REMAIN },
  { "remove", 1, BW_WORD_PLACE },
  { "rep", 0, BW_WORD_AGAIN },
  { "repeat", 1, BW_WORD_AGAIN },
  { "repeating", 1, BW_WORD_AGAIN },
  { "repeats", 1, BW_WORD_AGAIN },
  { "reps", 0, BW_WORD_AGAIN },
  { "ring", 0, BW_WORD_RING },
  { "rnd", 0, BW_WORD_RND },
  { "rnds", 0, BW_WORD_RND },
  { "round", 0, BW_WORD_ROUND },
  { "rounds", 1, BW_WORD_RND },
  { "row", 0, BW_WORD_ROW },
  { "rows", 0, BW_WORD_ROW },
  { "rs", 0, BW_WORD_RIGHT_SIDE },
  { "same", 0, BW_WORD_SAME },
  { "size", 0, BW_WORD_SIZE },
  { "sizes", 0, BW_WORD_SIZE },
  { "sk", 0, BW_WORD_MISS },
  { "skip", 1, BW_WORD_MISS },
  { "skipped", 1, BW_WORD_MISS },
  { "skipping", 1, BW_WORD_MISS },
  { "sm", 0, BW_WORD_PLACE },
  { "sp", 0, BW_WORD_SPACE },
  { "space", 1, BW_WORD_SPACE },
  { "spaces", 1, BW_WORD_SPACE },
  { "sps", 0, BW_WORD_SPACE },
  { "st", 0, BW_WORD_STITCH },
  { "start", 1, BW_WORD_BEGINNING },
  { "starting", 1, BW_WORD_BEGINNING },
  { "stem", 0, BW_WORD_POST },
  { "stitch", 1, BW_WORD_STITCH },
  { "stitches", 1, BW_WORD_STITCH },
  { "sts", 0, BW_WORD_STITCH },
  { "switch", 0, BW_WORD_CHANGE },
  { "t-ch", 0, BW_WORD_TURNING_CHAIN },
  { "tch", 0, BW_WORD_TURNING_CHAIN },
  { "the", 0, BW_WORD_THE },
  { "then", 0, BW_WORD_THEN },
  { "thread", 0, BW_WORD_CLOSE },
  { "time", 0, BW_WORD_TIMES },
  { "times", 0, BW_WORD_TIMES },
  { "to", 0, BW_WORD_TO },
  { "tog", 0, BW_WORD_TOGETHER },
  { "together", 1, BW_WORD_TOGETHER },
  { "top", 0, BW_WORD_TOP },
  { "total", 0, BW_WORD_TOTAL },
  { "turn", 0, BW_WORD_TURN },
  { "turning", 0, BW_WORD_TURN },
  { "twice", 0, BW_WORD_TWICE },
  { "until", 0, BW_WORD_UNTIL },
  { "using", 0, BW_WORD_USING },
  { "weave", 0, BW_WORD_CLOSE },
  { "with", 0, BW_WORD_WITH },
  { "without", 0, BW_WORD_WITHOUT },
  { "work", 0, BW_WORD_WORK },
  { "worked", 0, BW_WORD_WORK },
  { "working", 0, BW_WORD_WORK },
  { "ws", 0, BW_WORD_WRONG_SIDE },
  { "x", 0, BW_WORD_X },
  { "yarn", 0, BW_WORD_COLOUR },
};

/* The token in lower case; FALSE when it is too long to be one of the words. */
static gboolean
fold (const BwToken *token,
      char          *folded)
{
  if (token->kind != BW_TOKEN_WORD || token->length > LONGEST)
    return FALSE;

  for (gsize i = 0; i < token->length; i++)
    folded[i] = g_ascii_tolower (token->start[i]);
  folded[token->length] = '\0';
  return TRUE;
}

/**
 * bw_word_of:
 * @token: a token
 * @form: (out) (optional): which way of writing the word it is
 *
 * Returns: the word, or BW_WORD_NONE
 */
BwWord
bw_word_of (const BwToken *token,
            guint         *form)
{
  char folded[LONGEST + 1];
  guint low = 0;
  guint high = G_N_ELEMENTS (entries);

  if (!fold (token, folded))
    return BW_WORD_NONE;
  if (token->start[0] == 'a' && (token->length == 1 || strcmp (folded, "an") == 0))
    return BW_WORD_THE; /* in capitals it is a colour */

  while (low < high)
    {
      guint middle = (low + high) / 2;
      int order = folded[0] - entries[middle].text[0];

      if (order == 0)
        order = strcmp (folded, entries[middle].text);

      if (order == 0)
        {
          if (form != NULL)
            *form = entries[middle].form;
          return (BwWord) entries[middle].word;
        }
      if (order < 0)
        high = middle;
      else
        low = middle + 1;
    }

  return BW_WORD_NONE;
}

/**
 * bw_word_is_round:
 * @word: a word
 *
 * Returns: whether it means a round or row
 */
gboolean
bw_word_is_round (BwWord word)
{
  return word == BW_WORD_RND || word == BW_WORD_ROUND || word == BW_WORD_ROW;
}
