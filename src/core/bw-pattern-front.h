#pragma once

#include <glib.h>

#include "bw-notation-reader.h"

G_BEGIN_DECLS

/* What a written pattern says before and after its work: sizes, measurements,
 * yarn, hooks, gauge, abbreviations, and whether it says its title, revision and
 * so on. Figures stay as written, each with its unit: nothing is converted, so
 * that two that should agree can be compared.
 *
 *   BwPatternFront ──► gauges, tools, yarns, measures, abbreviations
 *                        └─► BwQuantity ──► values (one pool)
 */

#define BW_PATTERN_FACTS_MAX 1000 /* of each kind: more than any pattern has */

typedef enum
{
  BW_UNIT_NONE,
  BW_UNIT_MM,
  BW_UNIT_CM,
  BW_UNIT_INCH,
  BW_UNIT_METRE,
  BW_UNIT_YARD,
  BW_UNIT_GRAM,
  BW_UNIT_OUNCE,
  BW_UNIT_PERCENT,
  BW_UNIT_BALL,
  BW_UNIT_STITCH, /* "sts", or a stitch by its name */
  BW_UNIT_ROUND,
  BW_UNIT_ROW,
} BwPatternUnit;

/* One figure; NAN = a dash, said for a size that has none. */
typedef struct
{
  double  low;
  double  high;   /* of a range "51–54"; equal to low without one */
  double  step;   /* how finely it is written: 1, 0.1, 0.25 for "¼", 0.125 for "3/8" */
  guint32 offset; /* in the text */
} BwValue;

/* Figures with their unit: one for all sizes, or one for each. n 0 = not said. */
typedef struct
{
  guint32 first;  /* index into the values */
  guint32 n;
  guint32 offset;
  guint32 length; /* of the text, unit included */
  guint8  unit;   /* BwPatternUnit */
} BwQuantity;

/* "15 sts and 11.5 rounds = 10 cm in dc, 5 mm hook, after washing" */
typedef struct
{
  guint32       offset;
  BwQuantity    stitches;
  BwQuantity    rounds;      /* unit ROUND or ROW */
  BwQuantity    span;        /* over which they are counted; cm, mm or in */
  BwQuantity    span_again;  /* the same span in the other unit */
  BwQuantity    rounds_span; /* where rounds are counted over another span */
  BwQuantity    hook;        /* mm */
  BwSlice       fabric;      /* the words for the stitch pattern; length 0 = not said */
  BwStitchIndex stitch;      /* the first stitch named; BW_STITCH_NONE */
  guint8        washed;      /* BwSaid: washed or blocked before measuring */
  guint32       twin;        /* index + 1 of the gauge before that says the same in another unit */
} BwPatternGauge;

/* A hook that is listed, or used in the work. */
typedef struct
{
  guint32    offset;
  BwQuantity mm;     /* n 0 = only named */
  BwSlice    name;   /* "H-8", "smaller", "B"; length 0 = none */
  guint8     part;   /* BwPatternPart where it stands: MATERIALS, GAUGE, WORK ... */
} BwPatternTool;

/* A yarn or a colour of the materials. */
typedef struct
{
  guint32    offset;
  BwSlice    letter;      /* "A", "MC", as the work calls it; length 0 = none */
  BwSlice    name;        /* other words for it: "Tar" */
  BwQuantity metres;      /* wanted, by size */
  BwQuantity yards;
  BwQuantity grams;
  BwQuantity ounces;
  BwQuantity balls;
  BwQuantity ball_metres; /* in a ball, or in the grams that it names */
  BwQuantity ball_yards;
  BwQuantity ball_grams;
  BwQuantity ball_ounces;
  int        weight_class; /* 0 to 7 when the words for a class stand there; -1 */
} BwPatternYarn;

typedef enum
{
  BW_MEASURE_OTHER,
  BW_MEASURE_HEAD,       /* to fit */
  BW_MEASURE_GIRTH,      /* of the finished hat, round */
  BW_MEASURE_DEPTH,
  BW_MEASURE_BRIM_GIRTH,
  BW_MEASURE_BRIM_DEPTH,
  BW_MEASURE_EASE,
} BwMeasureKind;

/* "Finished girth: 46 (50, 54) cm / 18 (19¾, 21¼) in" */
typedef struct
{
  guint32    offset;
  guint8     kind;     /* BwMeasureKind */
  guint8     part;     /* BwPatternPart: SIZES, or WORK for a milestone */
  int        size;     /* in a table with a line for each size: its index; -1 = for all */
  BwSlice    label;    /* the words that say what is measured */
  BwQuantity metric;   /* cm or mm; n 0 = not said */
  BwQuantity imperial; /* in */
} BwPatternMeasure;

typedef struct
{
  guint32       offset;
  BwSlice       term;    /* as listed: "st(s)", "ss / sl st" */
  BwSlice       meaning; /* length 0 = only named */
  BwStitchIndex stitch;  /* BW_STITCH_NONE = no stitch */
  guint16       word;    /* BwWord; BW_WORD_NONE = none of the reader's */
  guint8        form;    /* which way of writing that word */
  gboolean      special; /* explained among the special stitches */
} BwPatternAbbreviation;

/* What a complete pattern has; a slice of where the text has it. */
typedef enum
{
  BW_PIECE_TITLE,
  BW_PIECE_TERMS,
  BW_PIECE_SKILL,
  BW_PIECE_SIZES,
  BW_PIECE_FINISHED_SIZE,
  BW_PIECE_MATERIALS,
  BW_PIECE_GAUGE,
  BW_PIECE_ABBREVIATIONS,
  BW_PIECE_NOTES,
  BW_PIECE_INSTRUCTIONS,
  BW_PIECE_FINISHING,
  BW_PIECE_CARE,
  BW_PIECE_REVISION,
  BW_PIECE_DATE,
  BW_PIECE_COPYRIGHT,
  BW_PIECE_CONTACT,
  BW_PIECE_N,
} BwPatternPiece;

typedef struct
{
  GArray  *values;        /* of BwValue */
  GArray  *gauges;        /* of BwPatternGauge */
  GArray  *tools;         /* of BwPatternTool */
  GArray  *yarns;         /* of BwPatternYarn */
  GArray  *measures;      /* of BwPatternMeasure */
  GArray  *abbreviations; /* of BwPatternAbbreviation */
  BwSlice  pieces[BW_PIECE_N]; /* length 0 = not there */
} BwPatternFront;

G_END_DECLS
