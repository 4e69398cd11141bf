#pragma once

#include <glib.h>

#include "bw-rounds.h"

G_BEGIN_DECLS

/* Drawing up more than this leaves a hole or a lump (common practice, no source). */
#define BW_CLOSE_MOST 16

typedef enum
{
  BW_SEVERITY_NOTE,
  BW_SEVERITY_WARNING,
  BW_SEVERITY_ERROR,
  BW_SEVERITY_REFUSAL, /* this size (or family) cannot be graded */
} BwSeverity;

/* What a finding is about. The identifiers that people see ("B01") are made by
 * bw_finding_code() and never change once printed. */
typedef enum
{
  BW_FINDING_ROUND_DOES_NOT_FIT = 1, /* B01: takes a, offered b */
  BW_FINDING_COUNT_DIFFERS,          /* B02: makes a, stated b */
  BW_FINDING_REPEAT_DOES_NOT_END,    /* B03: repeat of a over b */
  BW_FINDING_NOT_A_MULTIPLE,         /* B05: a is not a multiple of b plus c */
  BW_FINDING_SIZES_ALIKE,            /* B08: size and other have a stitches both */
  BW_FINDING_STEP_WITHIN_GAUGE,      /* G01: step a mm smaller than the 95 % interval b mm */
  BW_FINDING_NO_POST,                /* B31: stitch a of the round stands on nothing with a stem */
  BW_FINDING_POST_COVERED,           /* B31: its stem is already taken */
  BW_FINDING_COLOUR_NOT_JOINED,      /* B28 */
  BW_FINDING_CROWN_NOT_WEDGES,       /* B34: a is not a multiple of b wedges */
  BW_FINDING_CLOSE_TOO_MANY,         /* B34: a stitches left to draw up, more than b */
  BW_FINDING_FLATNESS,               /* G02: round pleats: ratio a */
  BW_FINDING_TOO_MANY_DECREASES,     /* G03: a decreased of b, more than half */
  BW_FINDING_PICK_UP,                /* B35: a stitches on b row ends */
  BW_FINDING_BRIM_TOO_SMALL,         /* G04: stretched brim a mm, head b mm */
  BW_FINDING_BRIM_ODD,               /* B36: a rows */
  BW_FINDING_STRETCH,                /* B44: needs stretch a, allowed b */
  BW_FINDING_DEPTH,                  /* G05: depth a mm for a target of b mm */
  BW_FINDING_WORN_DEPTH,             /* B44: worn depth a mm for a target of b mm */
  BW_FINDING_GIRTH_OUT_OF_LIMIT,     /* G06: best girth a mm misses b mm by more than the limit c */
  BW_FINDING_STEP_IMPOSSIBLE,        /* G07: no counts that grow by a stitches from size to size */
  BW_FINDING_NO_WEDGES,              /* G08: no wedge count serves every size */
  BW_FINDING_DEPTH_TOO_SHORT,        /* G09: parts need a mm, target b mm: no room for the filling band */
  BW_FINDING_GAUGE_ONE_READING,      /* G10 */
  BW_FINDING_GAUGE_ESTIMATED,        /* G11: a part has no swatch of its own */
  BW_FINDING_YARN_ESTIMATED,         /* G12: no weighed swatch */
  BW_FINDING_STRIPE_UNFINISHED,      /* B29: the stripe stops after a of b rounds */
  BW_FINDING_PATTERN_UNFINISHED,     /* B11: the stitch pattern stops after a of b rounds */
  BW_FINDING_CAUTION_SMALL_PARTS,    /* S01 */
  BW_FINDING_CAUTION_CORDS,          /* S02 */
  BW_FINDING_CAUTION_SLEEP,          /* S03 */
  BW_FINDING_BAND_ADJUSTED,          /* G13: count changes from a to b before a band;
                                      * c, if not 0, would serve it too */
  BW_FINDING_PIN_IMPOSSIBLE,         /* G14: pinned value a cannot be had */

  /* Of written patterns only, see bw-pattern-audit.h; those above are of designs */
  BW_FINDING_UNREADABLE,             /* T01 */
  BW_FINDING_NOT_COUNTABLE,          /* T02: more than one repeat without end */
  BW_FINDING_TO_LAST,                /* B03: stops before the last a, what follows takes b */
  BW_FINDING_TIMES,                  /* B04: worked a times, room for b */
  BW_FINDING_LIST_LENGTH,            /* B06: a numbers for b sizes, or for c that the line names */
  BW_FINDING_LIST_PLACE,             /* B06: a 1: no number for a size that works the line; 0: one too many */
  BW_FINDING_SIZES_OUT_OF_ORDER,     /* B07: a, and b for the size before */
  BW_FINDING_SIZES_NEAR,             /* B08: a mm apart */
  BW_FINDING_NUMBER_GAP,             /* B09: a is numbered, b follows */
  BW_FINDING_NUMBER_AGAIN,           /* B09: a is numbered, b is the last one before */
  BW_FINDING_NUMBER_OF_SIZE,         /* B10: a for all sizes, b follows in this one */
  BW_FINDING_REPEAT_UNFINISHED,      /* B11: a rounds, repeats of b */
  BW_FINDING_REPEAT_TIMES,           /* B11: b rounds repeated c times; the label has a */
  BW_FINDING_NO_SUCH_ROUND,          /* B11: repeats rounds a to b */
  BW_FINDING_SIDE,                   /* B12: a: 1 = right side, 2 = wrong side */
  BW_FINDING_NOT_LISTED,             /* B13 */
  BW_FINDING_NOT_USED,               /* B14 */
  BW_FINDING_TWO_SPELLINGS,          /* B15 */
  BW_FINDING_OTHER_TERMS,            /* B16 */
  BW_FINDING_TERMS_UNSAID,           /* B17 */
  BW_FINDING_CHAIN_UNSAID,           /* B18: chain of a */
  BW_FINDING_CHAIN_BOTH_WAYS,        /* B18: chain of a */
  BW_FINDING_JOIN_UNSAID,            /* B19 */
  BW_FINDING_JOIN_PLACE,             /* B19 */
  BW_FINDING_JOIN_COUNTED,           /* B20: over a rounds */
  BW_FINDING_GAUGE_MISSING,          /* B21 */
  BW_FINDING_GAUGE_INCOMPLETE,       /* B21: a: BwGaugeLack */
  BW_FINDING_GAUGE_AND_SIZE,         /* B22: a sts are b mm at the gauge, c mm are stated */
  BW_FINDING_GAUGE_AND_DEPTH,        /* B22: rounds are a mm at the gauge, b mm are stated */
  BW_FINDING_FIGURES_DIFFER,         /* B23: a here, b there; mm */
  BW_FINDING_UNITS_DIFFER,           /* B24: a cm, b in, c cm would be right */
  BW_FINDING_OTHER_INCH,             /* B24: this one was converted with c cm to the inch */
  BW_FINDING_NOT_ON_RULER,           /* B25: a in (b 1) or a cm (b 0) */
  BW_FINDING_YARN_MISSING,           /* B26 */
  BW_FINDING_YARN_FALLS,             /* B26: a m, and b for the size before */
  BW_FINDING_YARN_OFF,               /* B26: a m, b expected from girth and depth */
  BW_FINDING_YARN_BALLS,             /* B26: a balls, b are needed for c m */
  BW_FINDING_BALL_LENGTHS,           /* B27: a m, b yd */
  BW_FINDING_BALL_MASSES,            /* B27: a g, b oz */
  BW_FINDING_BALL_THICKNESS,         /* B27: a m to 100 g, usual are b to c */
  BW_FINDING_COLOUR_UNKNOWN,         /* B28: worked with, not among the materials */
  BW_FINDING_COLOUR_NOT_USED,        /* B28: among the materials, never worked with */
  BW_FINDING_COLOUR_CHANGE,          /* B28: changes without a word */
  BW_FINDING_STRIPE_RHYTHM,          /* B29: a rounds where the others have b */
  BW_FINDING_TOOL_NOT_USED,          /* B30: a mm */
  BW_FINDING_TOOL_NOT_LISTED,        /* B30: a mm */
  BW_FINDING_POST_COLUMNS,           /* B32 */
  BW_FINDING_UNEVEN,                 /* B33: gaps of a to b */
  BW_FINDING_ROW_ENDS,               /* B35: takes a row ends of b */
  BW_FINDING_ROW_ENDS_CROWDED,       /* B35: a in one row end */
  BW_FINDING_ROW_ENDS_SKIPPED,       /* B35: a skipped in a row */
  BW_FINDING_TWO_MEANINGS,           /* B37: fits only with a in one stitch */
  BW_FINDING_GLUED,                  /* B37: "2dc" */
  BW_FINDING_BRACKETS,               /* B38 */
  BW_FINDING_STALE,                  /* B39 */
  BW_FINDING_PIECE_MISSING,          /* B40: a: BwPatternPiece */
  BW_FINDING_CHART_ONLY,             /* B41 */
  BW_FINDING_N,
} BwFindingKind;

#define BW_FINDING_DESIGN_N BW_FINDING_UNREADABLE

/* One finding: plain facts; words are put to it by src/words. */
typedef struct
{
  BwFindingKind kind;
  BwSeverity    severity;
  int           size;    /* index; -1 = the whole family */
  int           other;   /* another size it concerns; -1 = none */
  int           round;   /* index in the size's rounds; -1 = none */
  int           part;    /* BwSection; -1 = none */
  double        a, b, c; /* see BwFindingKind */
  guint         band;    /* its number, counted from 1; 0 = no band, or all */
} BwFinding;

const char *bw_finding_code   (BwFindingKind             kind);
guint       bw_audit_rounds   (const BwStitchDictionary *dictionary,
                               const BwRoundList        *list,
                               guint                     wedges,
                               int                       size,
                               GArray                   *findings);

G_END_DECLS
