#pragma once

#include <glib.h>

#include "bw-crown.h"
#include "bw-gauge.h"
#include "bw-sizes.h"
#include "bw-stitch.h"
#include "bw-stripe.h"
#include "bw-units.h"
#include "bw-yarn.h"

G_BEGIN_DECLS

/* Everything the designer decided: the whole input of grading, a plain value.
 * Strings are owned and never NULL unless it says so (an empty string means
 * "not said"). Arrays hold the structs below by value; bw_design_free() frees
 * what their elements own. */

typedef struct
{
  char   *name;  /* "Harbour green" */
  guint32 rgb;   /* 0xRRGGBB */
} BwColour;      /* its letter is its place: A, B, C ... */

/* One swatch: what it is of, and its readings. */
typedef struct
{
  char   *id;             /* the group's name in the file: "body" */
  char   *fabric;         /* stitch pattern id, or a brim word: "slip-rib", "low-rib" */
  char   *from;           /* name of a swatch set in the library; empty = the readings here */
  double  hook_mm;        /* 0 = not said */
  GArray *readings;       /* of BwReading */
  BwTape  tape;
  double  stretch;        /* usable stretch, fraction; 0 = by the readings or a default */
  double  height_loss;    /* height lost for each 1 of widening; 0 = default, marked */
  double  grams;          /* weighed piece; 0 = not weighed */
  guint   piece_stitches; /* its stitches and rounds */
  guint   piece_rounds;
} BwSwatch;

/* A size that the design is graded for, with what it changes for itself. */
typedef struct
{
  BwSize  *size;
  gboolean own_body_ease;
  BwEase   body_ease;
  gboolean own_brim_ease;
  BwEase   brim_ease;
  GArray  *crown_counts;  /* of guint; only for the designer's own crown, K first */
} BwSizeChoice;

typedef enum
{
  BW_BRIM_NONE,
  BW_BRIM_SLIP_RIB,  /* sideways, slip stitches into the back loop */
  BW_BRIM_LOW_RIB,   /* sideways, UK dc (US sc) into the back loop */
  BW_BRIM_POST_RIB,  /* in the round, front and back posts in turn */
  BW_BRIM_ROLLED,    /* in the round, plain, left to roll */
} BwBrimKind;

typedef enum
{
  BW_PICK_UP_COMPUTED, /* as many as the body needs, spread over the row ends */
  BW_PICK_UP_PER_ROW,  /* a fixed number a row end, extras spread and paid for */
} BwPickUp;

typedef struct
{
  BwBrimKind kind;
  gboolean   folded;        /* worked double and turned up: depth counts once */
  double     height_mm;     /* as seen when worn */
  BwPickUp   pick_up;
  double     per_row;       /* stitches a row end, 0.5 = one in each valley */
  guint8     colour;
  char      *swatch;        /* id */
} BwBrim;

typedef enum
{
  BW_BAND_ROUNDS,  /* so many rounds, as said */
  BW_BAND_REPEATS, /* so many repeats of the stitch pattern */
  BW_BAND_FILL,    /* whole repeats until the depth is right */
} BwBandMode;

typedef struct
{
  char      *name;    /* heading; empty = the stitch pattern's name */
  char      *fabric;  /* stitch pattern id */
  char      *swatch;  /* id; empty = the one of that stitch pattern, else the body's */
  BwBandMode mode;
  guint      amount;  /* rounds or repeats; for a filling band the fewest repeats allowed */
  GArray    *stripe;  /* of BwStripeStep; empty = colour A */
} BwBand;

typedef struct
{
  BwCrownProfile profile;
  char          *fabric;           /* one-round stitch pattern the crown is plain in: "plain-low" */
  char          *swatch;           /* id; empty = as a band's */
  double         length_mm;        /* tapered and pointed; 0 = default */
  double         length_of_radius; /* the same as a multiple of the radius; 0 = not said */
  GArray        *wedges;           /* of guint: allowed wedge counts; empty = 6, 7, 8, 9, 10, 12 */
  gboolean       staggered;        /* every other decrease round shifted half a run */
  guint          close_at;         /* 0 = by gauge */
  gboolean       multiple_on_body; /* force the crown's multiple on the body: no set-up round */
  GArray        *stripe;           /* of BwStripeStep; empty = last colour goes on */
} BwCrownChoice;

typedef struct
{
  double  pompom_mm;     /* across; 0 = none */
  double  pompom_grams;
  guint8  pompom_colour;
  double  tail_mm;       /* each end */
  guint   carry_rounds;  /* carry a colour that returns within so many rounds */
  double  carry_mm;      /* and below this height */
  gboolean cords;        /* ties, ear-flap cords */
  gboolean buttons;      /* buttons, beads, other small parts */
} BwFinishing;

typedef enum
{
  BW_ROUND_NEAREST,
  BW_ROUND_DOWN, /* never larger than the target */
  BW_ROUND_UP,
} BwRounding;

/* Tolerances divide a miss before it is squared; limits refuse. All mm. */
typedef struct
{
  double     girth_tolerance_mm;
  double     girth_limit_mm;
  double     brim_tolerance_mm;
  double     brim_limit_mm;
  double     depth_tolerance_mm;
  double     adjust_weight;    /* of the stitches that a round adjusts, squared */
  double     pick_up_weight;   /* for each extra or missing picked-up stitch, squared */
  guint      least_step;       /* stitches from size to size; 0 = sizes may be alike */
  BwRounding rounding;
} BwRules;

typedef enum
{
  BW_PIN_BODY_STITCHES,
  BW_PIN_BRIM_COUNT,     /* rows of a sideways brim, stitches of one in the round */
  BW_PIN_BRIM_HEIGHT,    /* stitches of a sideways brim, rounds of one in the round */
  BW_PIN_CROWN_START,
  BW_PIN_FILL_REPEATS,
  BW_PIN_N,
} BwPinKind;

typedef struct
{
  char     *size; /* id */
  BwPinKind kind;
  guint     value;
} BwPin;

typedef struct
{
  char           *name;
  char           *code;
  char           *designer;
  char           *summary;
  char           *notes;
  BwTerms         terms;
  BwUnits         units;
  double          mm_per_inch;     /* BW_MM_PER_INCH or BW_MM_PER_INCH_ROUND */
  gboolean        spiral;          /* spiral rounds; otherwise joined */
  gboolean        chain_counts;    /* the turning chain counts as the first stitch */
  BwYarn          yarn;
  double          yarn_margin;     /* fraction added before balls are counted */
  double          stitches_per_minute;
  GArray         *colours;         /* of BwColour; at least one */
  GArray         *swatches;        /* of BwSwatch */
  char           *body_swatch;     /* id of the swatch that girth is graded with */
  char           *body_fabric;     /* plain stitch pattern of pick-up and adjusting rounds */
  BwEase          body_ease;
  BwEase          brim_ease;
  char           *size_table;      /* id of the table the sizes came from; empty = own */
  GArray         *sizes;           /* of BwSizeChoice, in ascending head girth */
  BwBrim          brim;
  GArray         *bands;           /* of BwBand, upwards from the brim */
  BwCrownChoice   crown;
  BwFinishing     finishing;
  BwRules rules;
  GArray         *pins;            /* of BwPin */
} BwDesign;

#define BW_DESIGN_SIZES_MAX  30
#define BW_DESIGN_BANDS_MAX  12
#define BW_DESIGN_ROUNDS_MAX 2000 /* of one size */

BwDesign       *bw_design_new          (void) G_GNUC_WARN_UNUSED_RESULT;
BwDesign       *bw_design_copy         (const BwDesign *design) G_GNUC_WARN_UNUSED_RESULT;
gboolean        bw_design_equal        (const BwDesign *a,
                                        const BwDesign *b);
void            bw_design_free         (BwDesign       *design);
const BwSwatch *bw_design_find_swatch  (const BwDesign *design,
                                        const char     *id);
const BwPin    *bw_design_find_pin     (const BwDesign *design,
                                        const char     *size,
                                        BwPinKind       kind);
const BwSizeChoice *bw_design_find_size (const BwDesign *design,
                                        const char     *size);

/* What is appended to a design's array is made by these and then owned by the array. */
void            bw_colour_init         (BwColour       *colour,
                                        const char     *name,
                                        guint32         rgb);
void            bw_swatch_init         (BwSwatch       *swatch,
                                        const char     *id,
                                        const char     *fabric);
void            bw_size_choice_init    (BwSizeChoice   *choice,
                                        BwSize         *size);
void            bw_band_init           (BwBand         *band,
                                        const char     *fabric);

void            bw_colour_clear        (BwColour       *colour);
void            bw_swatch_clear        (BwSwatch       *swatch);
void            bw_size_choice_clear   (BwSizeChoice   *choice);
void            bw_band_clear          (BwBand         *band);
void            bw_pin_clear           (BwPin          *pin);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (BwDesign, bw_design_free)

G_END_DECLS
