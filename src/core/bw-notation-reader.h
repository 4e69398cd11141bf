#pragma once

#include "bw-instruction.h"
#include "bw-notation-words.h"

G_BEGIN_DECLS

/* The reader of one round, private to bw-notation*.c and bw-pattern*.c. It has
 * two ways of working: strictly, for one round of one size in our own tables
 * and the editor; and openly, for a line of a written pattern, where numbers
 * come for every size and what is done besides stitches stands among them.
 */

/* Numbers as written: one for all sizes, or one for each. */
typedef struct
{
  guint32 first;  /* index into the figures */
  guint32 n;
  guint32 offset; /* where it begins in the text, bytes */
} BwNumberList;

#define BW_FIGURE_NONE G_MAXUINT32 /* a dash: the size does not work it */
#define BW_FIGURES_MAX 64          /* in one list: more sizes than any pattern has */

typedef enum
{
  BW_SOURCE_PLUS_ONE = 1 << 0, /* "rep from *" counts on from the first working */
  BW_SOURCE_LOOSE = 1 << 1,    /* without "more": in all, or once more than that? */
  BW_SOURCE_GLUED = 1 << 2,    /* "2dc" */
  BW_SOURCE_COUNTED = 1 << 3,  /* "2 dc" with nothing said about where */
} BwSourceFlags;

/* What is known of an item beside the item. */
typedef struct
{
  guint32 list;   /* index + 1 of its numbers; 0 = item.count for all sizes */
  guint32 offset; /* in the text */
  guint8  flags;  /* BwSourceFlags */
} BwItemSource;

typedef enum
{
  BW_SAID_NOTHING,
  BW_SAID_NO,
  BW_SAID_YES,
} BwSaid;

typedef enum
{
  BW_JOIN_NONE,
  BW_JOIN_BARE,   /* "join", without saying where */
  BW_JOIN_PLACED, /* "join with ss to first st" */
} BwJoin;

/* A piece of the text. */
typedef struct
{
  guint32 offset;
  guint32 length; /* 0 = nothing */
} BwSlice;

/* What a line says besides its stitches. */
typedef struct
{
  guint32 stated;        /* index + 1 of the stitch count's numbers; 0 = none */
  guint32 stated_first;  /* the same for the first of several kinds: "(24 tr, 12 ch-sps)" */
  guint32 tail;          /* the list that ends the line, which may be the count: "x 6 (18)" */
  guint32 tail_item;     /* its item */
  guint32 chain_list;    /* index + 1 of the beginning chain's numbers */
  guint32 chain_offset;
  guint32 join_offset;
  guint32 repeat_list;   /* "rep rnds 2–3 6 times": how often; 0 = as the label says */
  guint32 from_list;     /* first and last round repeated */
  guint32 to_list;
  BwSlice colour;        /* worked with */
  BwSlice next_colour;   /* changed to at the end */
  guint16 chain;         /* the beginning chain; 0 = none */
  guint16 end_chain;     /* turning chain at the end of the line before its row */
  guint8  chain_counts;  /* BwSaid */
  guint8  chain_extra;   /* chains it stands for besides a stitch */
  guint8  join;          /* BwJoin */
  guint8  turned;        /* BwSaid */
  guint8  side;          /* 1 = right side, 2 = wrong side */
  guint8  from_hook;     /* "in 4th ch from hook" */
  gboolean ring;         /* worked into a ring */
  gboolean evenly;       /* spread as the maker likes */
  gboolean fastened;     /* fastened off, or closed */
  gboolean until;        /* repeated until something is measured */
  guint32 back_list;     /* "rep last 2 rnds": how many rounds back it begins; 0 = none */
  guint32 rounds_list;   /* "next 3 rnds": so many rounds, without numbers; 0 = one */
} BwLineFacts;

/* Where open reading leaves what it found; shared by all lines of a pattern. */
typedef struct
{
  const char *text;    /* begin of the whole text, for offsets */
  GArray     *sources; /* of BwItemSource, one for each item */
  GArray     *lists;   /* of BwNumberList */
  GArray     *figures; /* of guint32 */
  /* offset + 1 where each way to write a word came first */
  guint32     forms[BW_WORD_N][BW_WORD_FORMS];
  guint32    *stitches; /* offset + 1 of the first use of each stitch */
  guint32    *spellings; /* and of the first that is spelled otherwise */
} BwNotationSink;

typedef struct
{
  const BwStitchDictionary *dictionary;
  BwTerms                   terms;
  BwLexer                   lexer;
  BwToken                   token;  /* the one in hand */
  BwWord                    word;   /* the word it is */
  GArray                   *items;
  guint                     depth;
  guint8                    loop;   /* "working in back loops only": for the whole line */
  const char               *wanted; /* what was wanted where reading failed; NULL = it did not */
  BwToken                   failed; /* and the token that stood there */
  BwNotationSink           *sink;   /* NULL = strictly */
  BwLineFacts              *facts;
} BwReader;

/* A number in hand: one figure, and the list it may have come with. */
typedef struct
{
  guint   value; /* of the first size that works it */
  guint32 list;  /* index + 1; 0 = the same for all sizes */
} BwCount;

#define BW_COUNT_ONE ((BwCount) { 1, 0 })

/* --- bw-notation.c --- */

void          bw_reader_init            (BwReader   *reader,
                                         const char *text,
                                         gsize       length);
gboolean      bw_reader_read_round      (BwReader   *reader);
gboolean      bw_reader_read_items      (BwReader   *reader);

/* --- bw-notation-group.c --- */

gboolean      bw_reader_read_bracket    (BwReader      *reader,
                                         char           closing,
                                         const BwCount *times);
gboolean      bw_reader_read_starred    (BwReader   *reader);

/* --- bw-notation-again.c --- */

gboolean      bw_reader_read_again      (BwReader   *reader);
gboolean      bw_reader_read_even       (BwReader   *reader);
gboolean      bw_reader_read_more_rounds (BwReader  *reader);

/* --- bw-notation-token.c --- */

void          bw_reader_advance         (BwReader   *reader);
gboolean      bw_reader_take            (BwReader   *reader,
                                         BwWord      word);
gboolean      bw_reader_take_mark       (BwReader   *reader,
                                         char        mark);
gboolean      bw_reader_at_mark         (const BwReader *reader,
                                         char        mark);
BwWord        bw_reader_ahead           (const BwReader *reader,
                                         BwToken    *next);
gboolean      bw_reader_fail            (BwReader   *reader,
                                         const char *wanted);
gboolean      bw_reader_at_end          (const BwReader *reader);
guint32       bw_reader_offset          (const BwReader *reader);
void          bw_reader_skip_clause     (BwReader   *reader);
guint         bw_reader_add             (BwReader   *reader,
                                         BwItem      item,
                                         BwCount     count);
BwItem       *bw_reader_item            (BwReader   *reader,
                                         guint       index);
void          bw_reader_set_count       (BwReader   *reader,
                                         guint       index,
                                         BwCount     count);
void          bw_reader_flag            (BwReader   *reader,
                                         guint       index,
                                         guint8      flag);

/* --- bw-notation-count.c --- */

gboolean      bw_reader_at_number       (const BwReader *reader);
gboolean      bw_reader_take_count      (BwReader   *reader,
                                         BwCount    *count);
gboolean      bw_reader_at_times        (const BwReader *reader);
gboolean      bw_reader_take_times      (BwReader   *reader,
                                         BwCount    *times);
gboolean      bw_reader_take_stated     (BwReader   *reader,
                                         gboolean    dashed);

/* --- bw-notation-place.c --- */

gboolean      bw_reader_take_position   (BwReader   *reader,
                                         guint8     *place);
gboolean      bw_reader_settle_each (BwReader *reader,
                                     guint index,
                                     BwCount count,
                                     BwCount times);
gboolean      bw_reader_read_where (BwReader *reader,
                                    guint index,
                                    BwCount count);
gboolean      bw_reader_read_around (BwReader *reader,
                                     guint index,
                                     BwCount count);
gboolean      bw_reader_at_to_last (const BwReader *reader);
gboolean      bw_reader_read_to_last (BwReader *reader,
                                      guint index);
gboolean      bw_reader_take_extent (BwReader *reader,
                                     gboolean each,
                                     gboolean counted,
                                     BwCount *times);
void          bw_reader_take_loop (BwReader *reader,
                                   guint8 *loop);
gboolean      bw_reader_at_below (const BwReader *reader);
gboolean      bw_reader_take_below (BwReader *reader,
                                    guint8 *below);
gboolean      bw_reader_at_counted_space (const BwReader *reader);
gboolean      bw_token_is_first (const BwToken *token);
gboolean      bw_count_is_one (BwCount count);

/* --- bw-notation-stitch.c --- */

BwStitchIndex bw_reader_take_stitch     (BwReader   *reader);
gboolean      bw_reader_read_stitch     (BwReader   *reader);

/* --- bw-notation-remark.c --- */

gboolean      bw_reader_at_colour       (const BwReader *reader);
gboolean      bw_reader_read_remark     (BwReader   *reader);
void          bw_reader_read_join       (BwReader   *reader);

G_END_DECLS
