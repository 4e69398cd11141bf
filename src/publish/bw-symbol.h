#pragma once

#include <cairo.h>
#include <glib.h>

#include "bw-instruction.h"

G_BEGIN_DECLS

/* Chart symbols of stitches. A symbol's name, as the stitch dictionary has it, is
 * taken apart into what it is made of, so that a new stitch of a known make needs
 * no C:
 *
 *   oval, dot, cross, crab, spike, bobble, puff, popcorn, shell, v, crossed, none
 *   tee, tee-1, tee-2 ...               a T, with so many strokes across its stem
 *   front-post-…, back-post-…           a hook at the foot
 *   …-tog2, …-tog3 ...                  so many stems joined at the top
 */

typedef enum
{
  BW_SYMBOL_NONE,    /* a stitch missed: nothing is drawn */
  BW_SYMBOL_OVAL,
  BW_SYMBOL_DOT,
  BW_SYMBOL_CROSS,
  BW_SYMBOL_TEE,
  BW_SYMBOL_CRAB,
  BW_SYMBOL_SPIKE,
  BW_SYMBOL_BOBBLE,
  BW_SYMBOL_PUFF,
  BW_SYMBOL_POPCORN,
  BW_SYMBOL_SHELL,
  BW_SYMBOL_V,
  BW_SYMBOL_CROSSED,
} BwSymbolForm;

typedef enum
{
  BW_SYMBOL_NO_POST,
  BW_SYMBOL_FRONT_POST,
  BW_SYMBOL_BACK_POST,
} BwSymbolPost;

typedef struct
{
  guint8 form;  /* BwSymbolForm */
  guint8 bars;  /* strokes across each stem */
  guint8 stems; /* joined at the top; 1 = no decrease */
  guint8 post;  /* BwSymbolPost */
} BwSymbol;

#define BW_SYMBOL_BARS_MAX   8
#define BW_SYMBOL_POINTS_MAX 12

typedef struct
{
  double x;
  double y; /* downwards, as Cairo has it */
} BwSymbolPoint;

/* Where one symbol stands, in the context's units. Feet and tops are in the
 * order of work. A chain has one foot all the same: the edge of its cell. */
typedef struct
{
  double        cell;   /* width of a column; every part of a symbol is sized by it */
  double        line;   /* width of a stroke */
  guint         n_feet;
  BwSymbolPoint feet[BW_SYMBOL_POINTS_MAX];
  guint         n_tops;
  BwSymbolPoint tops[BW_SYMBOL_POINTS_MAX];
  double        floor;  /* y of the lower edge of its own row */
  gboolean      deep;   /* its feet lie in a row below the one that it stands on */
  BwLoop        loop;   /* as seen from the right side */
} BwSymbolPlace;

gboolean bw_symbol_parse  (const char          *name,
                           BwSymbol            *symbol);
double   bw_symbol_height (const BwSymbol      *symbol);
void     bw_symbol_draw   (cairo_t             *cr,
                           const BwSymbol      *symbol,
                           const BwSymbolPlace *place);

G_END_DECLS
