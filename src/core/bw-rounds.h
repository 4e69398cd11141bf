#pragma once

#include <glib.h>

#include "bw-instruction.h"
#include "bw-stripe.h"

G_BEGIN_DECLS

typedef enum
{
  BW_SECTION_BRIM,    /* rows of a sideways brim, or rounds of one in the round */
  BW_SECTION_JOIN,    /* the two ends of a sideways brim joined to a ring */
  BW_SECTION_PICK_UP, /* body stitches worked along the row ends */
  BW_SECTION_ADJUST,  /* evenly adjusting round between two parts */
  BW_SECTION_BAND,
  BW_SECTION_SET_UP,  /* brings the body's count to the crown's multiple */
  BW_SECTION_CROWN,
  BW_SECTION_CLOSE,   /* drawn up; no stitches made */
  BW_SECTION_N,
} BwSection;

/* One round (or row) of one size. Rounds are numbered from 1 through the whole
 * hat above the brim; rows of a sideways brim from 1 within the brim, and its
 * foundation chain is row 0. */
typedef struct
{
  guint8   section;     /* BwSection */
  guint8   band;        /* index of the design's band, for BW_SECTION_BAND and ADJUST before it */
  guint8   colour;
  guint8   after;       /* BwYarnEnd of its colour */
  gboolean row;         /* a row, not a round */
  gboolean joins_in;    /* its colour starts here with a new end */
  guint    number;
  guint    first_item;
  guint    n_items;
  guint    stitches_in;  /* offered by the round below: row ends, for a pick-up */
  guint    stitches_out;
  double   girth_mm;     /* flat, at the round's own gauge */
  double   round_mm;     /* its own height */
  double   height_mm;    /* of the hat up to and with it, along the fabric */
  double   yarn_m;
  double   flatness;     /* crown: |change of radius| / height; else 0 */
} BwRound;

/* The rounds of one size; items of all rounds lie in one array. */
typedef struct
{
  GArray *rounds; /* of BwRound */
  GArray *items;  /* of BwItem */
} BwRoundList;

BwRoundList  *bw_round_list_new    (void) G_GNUC_WARN_UNUSED_RESULT;
void          bw_round_list_free   (BwRoundList               *list);
BwRound      *bw_round_list_append (BwRoundList               *list,
                                    BwSection                  section,
                                    const BwItem              *items,
                                    gsize                      n_items);
const BwItem *bw_round_items       (const BwRoundList         *list,
                                    const BwRound             *round);
gboolean      bw_round_same_work   (const BwRoundList         *list,
                                    const BwRound             *a,
                                    const BwRound             *b);
guint         bw_round_list_run    (const BwRoundList         *list,
                                    guint                      first);
const char   *bw_section_id        (BwSection                  section);
void          bw_round_print       (const BwStitchDictionary  *dictionary,
                                    const BwRoundList         *list,
                                    const BwRound             *round,
                                    BwTerms                    terms,
                                    GString                   *out);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (BwRoundList, bw_round_list_free)

G_END_DECLS
