#pragma once

#include <glib.h>

#include "bw-notation-reader.h"
#include "bw-pattern-front.h"
#include "bw-rounds.h"

G_BEGIN_DECLS

/* A written pattern as it was read: a value that knows where in the text each
 * thing stands. Nothing is judged here; bw-pattern-audit.h does that.
 *
 *   text ──► lines ──► items, numbers (one pool each for the whole pattern)
 *              └─► spans: which rounds the line stands for, in each size
 *
 * Offsets are bytes from the beginning of the text, which the pattern keeps.
 */

#define BW_PATTERN_BYTES_MAX  (64u * 1024 * 1024)
#define BW_PATTERN_SIZES_MAX  30
#define BW_PATTERN_ROUNDS_MAX 200000 /* of one size */
#define BW_PATTERN_ITEMS_MAX  (4u * 1024 * 1024) /* of all of its rounds */

typedef enum
{
  BW_LINE_ROUND,
  BW_LINE_FOUNDATION, /* a chain, or a ring */
  BW_LINE_JOIN,       /* the two ends of a flat piece joined to a ring */
  BW_LINE_CLOSE,      /* drawn up through the last stitches */
  BW_LINE_UNREADABLE, /* a labelled line that cannot be read */
} BwPatternLineKind;

/* Rounds that a line stands for; first 0 = the size does not work it. */
typedef struct
{
  guint32 first;
  guint32 last;
} BwSpan;

typedef struct
{
  guint8      kind;       /* BwPatternLineKind */
  gboolean    row;        /* a row, not a round */
  gboolean    numbered;   /* it has a label with numbers */
  gboolean    in_turn;    /* spans follow each other ("Rnds 5, 7 and 9"), not one a size */
  guint32     offset;     /* of its label */
  guint32     sizes;      /* "Sizes M and L only": a bit for each; 0 = all */
  guint32     section;    /* index */
  guint32     first_span;
  guint32     n_spans;
  guint32     first_item;
  guint32     n_items;
  BwLineFacts facts;
} BwPatternLine;

typedef enum
{
  BW_PART_WORK,          /* instructions, or nothing known */
  BW_PART_SIZES,
  BW_PART_MATERIALS,
  BW_PART_GAUGE,
  BW_PART_ABBREVIATIONS,
  BW_PART_SPECIAL,       /* special stitches */
  BW_PART_NOTES,
  BW_PART_END,           /* finishing, care and what follows */
} BwPatternPart;

typedef struct
{
  BwSlice heading;  /* length 0 = what stands before the first one */
  guint8  part;     /* BwPatternPart */
} BwPatternSection;

typedef enum
{
  BW_TERMS_UNKNOWN,   /* nothing tells: ask */
  BW_TERMS_ASKED,     /* the caller said so */
  BW_TERMS_STATED,    /* the text says so */
  BW_TERMS_FROM_WORDS, /* words that only one edition has */
} BwTermsFrom;

/* What could not be read; the words are English facts for a message. */
typedef struct
{
  guint32     offset;
  const char *wanted; /* static */
} BwPatternError;

typedef struct
{
  const BwStitchDictionary *dictionary; /* borrowed */
  char       *text;
  gsize       length;
  BwTerms     terms;
  BwTermsFrom terms_from;
  gboolean    terms_stated;  /* the text says them, whoever was believed */
  guint       n_sizes;       /* 1 or more */
  GPtrArray  *size_names;    /* of char *; empty = the text names none */
  GArray     *sections;      /* of BwPatternSection */
  GArray     *lines;         /* of BwPatternLine */
  GArray     *spans;         /* of BwSpan */
  GArray     *items;         /* of BwItem */
  GArray     *errors;        /* of BwPatternError */
  GArray     *line_starts;   /* of guint32: offsets of the lines of the text */
  guint8      chain_said[4]; /* BwSaid, by height of the beginning chain; 0 = of any height */
  GArray     *sources;       /* of BwItemSource, one for each item */
  GArray     *scratch;       /* of BwItem: of the line being read */
  BwNotationSink sink;       /* lists and figures; sources of the line being read */
  BwPatternFront front;      /* what it says besides its work */
} BwPattern;

/* Rounds of one size, each knowing the line it comes from. */
typedef struct
{
  BwRoundList *list;
  GArray      *lines;  /* of guint32: index of the line, by round */
  GArray      *colours; /* of BwSlice: what the text calls them; a round's colour is an index.
                         * The first, of length 0, is that of rounds before any is named. */
} BwPatternRounds;

#define BW_TERMS_UNSAID (-1)

BwPattern       *bw_pattern_read       (const BwStitchDictionary *dictionary,
                                        const char               *text,
                                        gssize                    length,
                                        int                       terms,
                                        GError                  **error) G_GNUC_WARN_UNUSED_RESULT;
void             bw_pattern_free       (BwPattern                *pattern);
void             bw_pattern_place      (const BwPattern          *pattern,
                                        guint32                   offset,
                                        guint                    *line,
                                        guint                    *column);
gboolean         bw_pattern_line_works (const BwPattern          *pattern,
                                        const BwPatternLine      *line,
                                        guint                     size);
BwSpan           bw_pattern_span       (const BwPattern          *pattern,
                                        const BwPatternLine      *line,
                                        guint                     size);
gboolean         bw_pattern_list_fits  (const BwPattern          *pattern,
                                        const BwPatternLine      *line,
                                        guint                     n);
guint32          bw_pattern_figure     (const BwPattern          *pattern,
                                        const BwPatternLine      *line,
                                        guint32                   list,
                                        guint                     size);
const BwValue   *bw_pattern_value      (const BwPattern          *pattern,
                                        const BwQuantity         *quantity,
                                        guint                     size);
int              bw_pattern_yarn_named (const BwPattern          *pattern,
                                        BwSlice                   name);
gboolean         bw_pattern_lists      (const BwPattern          *pattern,
                                        const char               *word,
                                        gsize                     length);
BwPatternRounds *bw_pattern_evaluate   (const BwPattern          *pattern,
                                        guint                     size) G_GNUC_WARN_UNUSED_RESULT;
void             bw_pattern_rounds_free (BwPatternRounds         *rounds);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (BwPattern, bw_pattern_free)
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BwPatternRounds, bw_pattern_rounds_free)

G_END_DECLS
