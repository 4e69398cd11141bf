#pragma once

#include "bw-words.h"
#include "bw-writeup.h"

G_BEGIN_DECLS

/* A complete written pattern as blocks in reading order: whoever sets it (as
 * plain text, on paper, as a page for a browser) decides how each kind looks. */

typedef enum
{
  BW_BLOCK_TITLE,
  BW_BLOCK_HEADING,   /* a section: Materials */
  BW_BLOCK_PART,      /* a part of the instructions: Brim */
  BW_BLOCK_PARAGRAPH,
  BW_BLOCK_ITEM,      /* lead: what, text: its value or meaning */
  BW_BLOCK_ROUND,     /* lead: which sizes and rounds, text: the work and its count */
  BW_BLOCK_CHECK,     /* what to do between rounds: yarn, a measure to check */
  BW_BLOCK_FILL_IN,   /* lead: what is asked; a place to write behind it (bw-words-sheet.h) */
} BwBlockKind;

/* Figures of every size that a page with tables shows in one instead. */
typedef enum
{
  BW_BLOCK_NO_TABLE,
  BW_BLOCK_SIZE_TABLE,
  BW_BLOCK_YARN_TABLE,
} BwBlockTable;

/* Blocks that whoever publishes the pattern puts something better in the place of. */
typedef enum
{
  BW_BLOCK_NO_PLACE,
  BW_BLOCK_PLACE_PHOTOGRAPHS, /* the heading and the space for them */
  BW_BLOCK_PLACE_REVISION,    /* which revision it is, and its corrections */
  BW_BLOCK_PLACE_ABBREVIATIONS, /* the heading and the list of them */
  BW_BLOCK_PLACE_REPEATS,     /* what square brackets mean */
} BwBlockPlace;

typedef struct
{
  BwBlockKind  kind;
  guint        colour; /* rounds: index of the colour worked with */
  char        *lead;   /* empty where a kind has none */
  char        *text;
  guint32      sizes;  /* bit k: it concerns the k-th size written; 0 = all of them */
  gboolean     only;   /* its wording names them: numbers run over these and no others */
  BwBlockTable table;
  guint        label;  /* rounds: byte of the lead at which "Rnd 7" begins, behind the sizes */
  BwBlockPlace place;
  gboolean     tick;   /* rounds: a box to tick when it is worked stands before it */
} BwBlock;

typedef enum
{
  BW_PATTERN_FOLDED, /* a run of equal rounds shares a line */
  BW_PATTERN_FULL,   /* every round has a line; only for one size */
  BW_PATTERN_SENTENCES, /* the same in full sentences; only for one size */
} BwPatternForm;

GPtrArray *bw_words_pattern        (const BwGrading *grading,
                                    int              size,
                                    BwPatternForm    form) G_GNUC_WARN_UNUSED_RESULT;
char      *bw_words_pattern_text   (const GPtrArray *blocks) G_GNUC_WARN_UNUSED_RESULT;
char      *bw_words_spell_out      (const BwGrading *grading,
                                    const char      *text) G_GNUC_WARN_UNUSED_RESULT;
void       bw_words_spell_blocks   (GPtrArray       *blocks,
                                    const BwGrading *grading);
char      *bw_words_in_terms       (const BwGrading *grading,
                                    const char      *uk) G_GNUC_WARN_UNUSED_RESULT;
void       bw_block_free           (BwBlock         *block);
void       bw_words_pattern_rounds (GPtrArray       *blocks,
                                    const BwWriteup *writeup,
                                    BwPatternForm    form);
BwBlock   *bw_words_add_block      (GPtrArray       *blocks,
                                    BwBlockKind      kind,
                                    const char      *lead,
                                    const char      *text);

G_END_DECLS
