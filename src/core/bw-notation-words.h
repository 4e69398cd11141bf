#pragma once

#include "bw-notation-lexer.h"

G_BEGIN_DECLS

/* The words of written crochet that are not stitches. Ways to write one word
 * are one word here; which was written is its form, so that a mixture shows. */
typedef enum
{
  BW_WORD_NONE,
  BW_WORD_ACROSS,
  BW_WORD_AGAIN,    /* to work once more: "rep" */
  BW_WORD_AND,
  BW_WORD_AROUND,
  BW_WORD_BACK,
  BW_WORD_BACK_LOOP,
  BW_WORD_BEGINNING,
  BW_WORD_BELOW,
  BW_WORD_CHAIN,    /* as a place: "in each ch" */
  BW_WORD_CHANGE,
  BW_WORD_CHAIN_SPACE,
  BW_WORD_CLOSE,    /* to draw up, gather, thread through */
  BW_WORD_COLOUR,
  BW_WORD_COUNTS,
  BW_WORD_CUT,
  BW_WORD_DECREASE,
  BW_WORD_DO,
  BW_WORD_DOES,
  BW_WORD_EACH,
  BW_WORD_END,
  BW_WORD_EVENLY,
  BW_WORD_FASTEN,
  BW_WORD_FIRST,
  BW_WORD_FOR,
  BW_WORD_FORM,
  BW_WORD_FROM,
  BW_WORD_FRONT,
  BW_WORD_FRONT_LOOP,
  BW_WORD_HOOK,
  BW_WORD_IN,
  BW_WORD_INCREASE,
  BW_WORD_JOIN,
  BW_WORD_LAST,
  BW_WORD_LOOP,
  BW_WORD_MAGIC,
  BW_WORD_MAKE,
  BW_WORD_MARKER,
  BW_WORD_MISS,
  BW_WORD_MORE,
  BW_WORD_NEXT,
  BW_WORD_NOT,
  BW_WORD_OF,
  BW_WORD_ONCE,
  BW_WORD_ONLY,
  BW_WORD_OVER,
  BW_WORD_PLACE,
  BW_WORD_POST,
  BW_WORD_REMAIN,
  BW_WORD_RIGHT_SIDE,
  BW_WORD_RING,
  BW_WORD_RND,
  BW_WORD_ROUND,    /* "round", which may also mean around */
  BW_WORD_ROW,
  BW_WORD_SAME,
  BW_WORD_SIZE,
  BW_WORD_SPACE,
  BW_WORD_STITCH,
  BW_WORD_THE,
  BW_WORD_THEN,
  BW_WORD_TIMES,
  BW_WORD_TO,
  BW_WORD_TOGETHER,
  BW_WORD_TOP,
  BW_WORD_TOTAL,
  BW_WORD_TURN,
  BW_WORD_TURNING_CHAIN,
  BW_WORD_TWICE,
  BW_WORD_UNTIL,
  BW_WORD_USING,
  BW_WORD_WITH,
  BW_WORD_WITHOUT,
  BW_WORD_WORK,
  BW_WORD_WRONG_SIDE,
  BW_WORD_X,
  BW_WORD_N,
} BwWord;

/* Ways to write one word that mean the same; the first is the abbreviation. */
#define BW_WORD_FORMS 3

BwWord   bw_word_of       (const BwToken *token,
                           guint         *form);
gboolean bw_word_is_round (BwWord         word);

G_END_DECLS
