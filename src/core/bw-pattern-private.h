#pragma once

#include "bw-pattern.h"

G_BEGIN_DECLS

/* Shared by bw-pattern*.c: reading, and the walk from round to round. */

/* A line of the text, or several that belong together. */
typedef struct
{
  const char *start;
  const char *end;
} BwStretch;

/* What stands in front of the work: "Sizes M and L only: Rnds 8–10 (9–11):". */
typedef struct
{
  gboolean row;
  gboolean numbered;
  gboolean in_turn;
  guint32  sizes;
  guint32  first_span;
  guint32  n_spans;
  guint8   side;
  BwSlice  colour;
  guint32  stated;      /* "Rnd 3 (18):" */
  const char *work;     /* where the work begins */
  const char *rounds_at; /* "Next 3 rnds": where the number stands; NULL = no number */
} BwLabel;

/* --- bw-pattern-label.c --- */

gboolean   bw_pattern_sizes_line   (const BwPattern  *pattern,
                                    const BwStretch  *line,
                                    guint32          *sizes);
gboolean   bw_pattern_read_label   (BwPattern        *pattern,
                                    const BwStretch  *line,
                                    BwLabel          *label);
gboolean   bw_pattern_may_label    (const BwPattern  *pattern,
                                    const BwStretch  *line);
guint32    bw_pattern_size_names   (const BwPattern  *pattern,
                                    const char      **at,
                                    const char       *end);

/* --- bw-pattern-lines.c --- */

void       bw_pattern_read_lines   (BwPattern        *pattern);

/* --- bw-pattern-front.c --- */

gboolean   bw_pattern_read_heading (BwPattern        *pattern,
                                    const BwStretch  *line);
BwPatternPart bw_pattern_titled    (const BwStretch  *line,
                                    const char      **behind);
void       bw_pattern_read_front   (BwPattern        *pattern,
                                    const BwStretch  *line,
                                    BwPatternPart     part);

/* --- bw-pattern-quantity.c --- */

gboolean   bw_pattern_take_quantity (BwPattern       *pattern,
                                    const char      **at,
                                    const char       *end,
                                    BwQuantity       *quantity);
gboolean   bw_pattern_next_quantity (BwPattern       *pattern,
                                    const char      **at,
                                    const char       *end,
                                    BwQuantity       *quantity);

/* --- bw-pattern-facts.c --- */

gboolean   bw_pattern_has_room     (const GArray     *facts);
void       bw_pattern_front_init   (BwPatternFront   *front);
void       bw_pattern_front_clear  (BwPatternFront   *front);
void       bw_pattern_read_facts   (BwPattern        *pattern,
                                    const BwStretch  *line,
                                    BwPatternPart     part);
void       bw_pattern_find_hooks   (BwPattern        *pattern);
void       bw_pattern_note_piece   (BwPattern        *pattern,
                                    BwPatternPiece    piece,
                                    const char       *start,
                                    const char       *end);
BwPatternPart bw_pattern_part_at   (const BwPattern  *pattern,
                                    guint32           offset);

/* --- bw-pattern-gauge.c --- */

void       bw_pattern_read_gauge   (BwPattern        *pattern,
                                    const BwStretch  *line);

/* --- bw-pattern-yarn.c --- */

gboolean   bw_pattern_begins_colour (const BwPattern *pattern,
                                    const BwStretch  *line);
void       bw_pattern_read_yarn    (BwPattern        *pattern,
                                    const BwStretch  *line);

/* --- bw-pattern-abbreviation.c --- */

void       bw_pattern_read_abbreviations (BwPattern  *pattern,
                                    const BwStretch  *line,
                                    gboolean          special);

/* --- bw-pattern-terms.c --- */

void       bw_pattern_find_terms   (BwPattern        *pattern);
gboolean   bw_pattern_foreign_word (BwTerms           terms,
                                    const char       *word,
                                    gsize             length);

/* --- bw-pattern-entries.c --- */

/* A run of rounds of one size, in the order of work. */
typedef struct
{
  guint32 line;   /* index */
  guint32 number; /* of the first; 0 = none */
  guint32 n;      /* how many */
  guint32 scope;  /* rounds are numbered within it */
} BwPatternEntry;

void       bw_pattern_entries      (const BwPattern  *pattern,
                                    guint             size,
                                    GArray           *entries);
const BwPatternLine *bw_pattern_work_of (const BwPattern *pattern,
                                    const GArray     *entries,
                                    guint             index,
                                    guint             nth,
                                    guint             size);

/* --- bw-pattern-fit.c --- */

/* How to understand what the text leaves open; bits. */
typedef enum
{
  BW_READING_CHAIN_1 = 1 << 0, /* a beginning chain of 1 counts as a stitch */
  BW_READING_CHAIN_2 = 1 << 1,
  BW_READING_CHAIN_3 = 1 << 2, /* of 3 or more */
  BW_READING_IN_ALL = 1 << 3,  /* "rep from * 8 times": eight in all */
  BW_READING_N = 1 << 4,
} BwReading;

#define BW_READING_USUAL BW_READING_CHAIN_3
#define BW_COUNT_UNKNOWN G_MAXUINT

typedef enum
{
  BW_FIT_WELL,
  BW_FIT_TAKES,     /* takes another number than is offered */
  BW_FIT_REMAINDER, /* a repeat does not end with the round */
  BW_FIT_TO_LAST,   /* stops before the last n, what follows takes another number */
  BW_FIT_SEVERAL,   /* more than one repeat without end */
  BW_FIT_TOO_LARGE,
  BW_FIT_UNKNOWN,   /* nothing to hold it against */
} BwFitStatus;

typedef struct
{
  BwFitStatus status;
  guint       takes;    /* positions, the beginning chain's with them */
  guint       makes;
  guint       stitches; /* of what it makes, without chains */
  guint       turn;     /* REMAINDER: positions of one turn of the repeat */
  guint       room;     /* and what it had to fill */
  guint       after;    /* TO_LAST: what follows takes */
  guint       open;     /* index of the repeat without end, among the items */
} BwPatternFit;

/* What a beginning chain takes and makes. */
typedef struct
{
  guint takes;
  guint makes;
} BwPatternLead;

void       bw_pattern_items        (const BwPattern     *pattern,
                                    const BwPatternLine *line,
                                    guint                size,
                                    guint                reading,
                                    BwPatternLead        lead,
                                    GArray              *items);
BwPatternLead bw_pattern_lead      (const BwPattern     *pattern,
                                    const BwPatternLine *line,
                                    const BwPatternLine *before,
                                    guint                reading);
void       bw_pattern_fit          (const BwPattern     *pattern,
                                    const BwPatternLine *line,
                                    BwPatternLead        lead,
                                    GArray              *items,
                                    guint                available,
                                    BwPatternFit        *fit);
/* --- bw-pattern-walk.c --- */

/* Goes from round to round of one size, holding each against the one below. */
typedef struct
{
  const BwPattern *pattern;
  guint    size;
  guint    reading;
  GArray  *entries;
  GArray  *items;       /* of the round in hand */
  guint    entry;       /* the next one */
  guint    nth;         /* the next round of it */
  guint    below[2];    /* what the last round may offer: as stated, as computed */
  guint    n_below;     /* 0 = not known */
  guint    other;       /* what the round would make on the other offer; BW_COUNT_UNKNOWN */
  guint    rows;        /* of the flat piece in hand */
  gboolean ring;        /* the foundation is a ring, and nothing is worked into it yet */
  guint    left;        /* rounds that may still be walked */
  const BwPatternLine *before; /* the line worked last */
} BwPatternWalk;

typedef struct
{
  guint    entry;
  guint    line;        /* index of the line that the round belongs to */
  const BwPatternLine *work; /* the line whose work is done: another one in a repeat */
  guint32  number;      /* 0 = none */
  guint    run;         /* so many rounds that are alike */
  gboolean last;        /* the last round of its entry: the stated count is of it */
  guint    available;   /* BW_COUNT_UNKNOWN = not known */
  guint    stated;      /* BW_COUNT_UNKNOWN = not said */
  gboolean count_holds; /* what is stated is what is made, as far as both are known */
  BwPatternLead lead;
  BwPatternFit fit;
} BwPatternStep;

void       bw_pattern_walk_init    (BwPatternWalk       *walk,
                                    const BwPattern     *pattern,
                                    guint                size,
                                    guint                reading);
gboolean   bw_pattern_walk_next    (BwPatternWalk       *walk,
                                    BwPatternStep       *step);
void       bw_pattern_walk_clear   (BwPatternWalk       *walk);
guint      bw_pattern_best_reading (const BwPattern     *pattern,
                                    guint                size);

gboolean   bw_pattern_takes_row_ends (const BwPattern     *pattern,
                                    const BwPatternLine *line);
gboolean   bw_pattern_in_ring      (const BwPattern     *pattern,
                                    const BwPatternLine *line);

G_END_DECLS
