#pragma once

#include <pango/pangocairo.h>

#include "bw-page-style.h"

G_BEGIN_DECLS

/* Pieces of text and pictures put one below the other and cut into pages.
 *
 *   pieces ──► bw_page_flow_place () ──► placed: piece, page, y, which lines
 *
 * A piece is not split over two pages unless it may be, or is taller than a page.
 * Everything is in points, x from the left edge of the frame, y from its top.
 */

typedef struct _BwPageFlow BwPageFlow;

/* Draws a picture with its upper left corner at the origin. */
typedef void (*BwPieceDraw) (gconstpointer data,
                               cairo_t      *cr);

typedef struct
{
  PangoLayout *layout;
  double       x;
  const char  *tag;   /* structure inside the piece: "TH", "TD"; NULL = none */
  const char  *dest;  /* where a click on it leads; NULL = nowhere */
  int          page_of; /* index of a piece whose page number is printed instead; -1 = none */
} BwPieceText;

typedef enum
{
  BW_PIECE_SPLITS    = 1 << 0, /* its lines may stand on two pages */
  BW_PIECE_KEEP      = 1 << 1, /* on the page where the next one begins */
  BW_PIECE_NEW_PAGE  = 1 << 2, /* begins one */
  BW_PIECE_TICK      = 1 << 3, /* a box to tick at its left */
  BW_PIECE_RULE      = 1 << 4, /* a fine line above it */
  BW_PIECE_RULE_BELOW = 1 << 5,
  BW_PIECE_NEW_TABLE = 1 << 6, /* the first row of a table */
} BwPieceFlags;

typedef struct
{
  guint          flags;    /* BwPieceFlags */
  double         space;    /* above it; none at the top of a page */
  double         height;
  const char    *tag;      /* its structure: "P", "H1", "TR", "Figure" */
  char          *dest;     /* where links lead that want this piece; NULL = none */
  char          *outline;  /* its title in the outline; NULL = it has none */
  guint          level;    /* in the outline: 0, 1 */
  GArray        *texts;    /* of BwPieceText */
  int            repeats;  /* index of the head of its table, set again on a new page; -1 = none */
  guint32        chip;     /* colour beside its letter, 0xRRGGBB */
  double         chip_x;   /* where; below 0 = none */
  BwPieceDraw  draw;     /* NULL = no picture */
  gpointer       data;     /* of the picture; owned */
  GDestroyNotify free_data;
} BwPiece;

typedef struct
{
  guint  piece;
  guint  page;        /* 0, 1, 2 ... */
  double y;
  guint  first_line;
  guint  n_lines;     /* G_MAXUINT = all from the first on */
} BwPlaced;

struct _BwPageFlow
{
  BwPageStyle   style;
  PangoContext *context;
  GPtrArray    *pieces;   /* of BwPiece */
  GArray       *placed;   /* of BwPlaced, in order of pages */
  guint         n_pages;
  GHashTable   *missing;  /* letters no font has, a set; read in sorted order only */
};

BwPageFlow  *bw_page_flow_new      (const BwPageStyle *style) G_GNUC_WARN_UNUSED_RESULT;
void         bw_page_flow_free     (BwPageFlow        *flow);
PangoLayout *bw_page_flow_layout   (BwPageFlow        *flow,
                                    const char        *text,
                                    double             size,
                                    gboolean           bold,
                                    double             width) G_GNUC_WARN_UNUSED_RESULT;
void         bw_page_flow_bold     (PangoLayout       *layout,
                                    guint              start,
                                    guint              end);
BwPiece     *bw_page_flow_add      (BwPageFlow        *flow,
                                    const char        *tag,
                                    double             space,
                                    guint              flags);
void         bw_page_flow_set      (BwPageFlow        *flow,
                                    BwPiece           *piece,
                                    PangoLayout       *layout,
                                    double             x,
                                    const char        *tag);
BwPiece     *bw_page_flow_text     (BwPageFlow        *flow,
                                    const char        *tag,
                                    const char        *text,
                                    double             size,
                                    gboolean           bold,
                                    double             space,
                                    guint              flags);
void         bw_page_flow_place    (BwPageFlow        *flow);
guint        bw_page_flow_page_of  (const BwPageFlow  *flow,
                                    guint              piece);
void         bw_page_flow_draw     (const BwPageFlow  *flow,
                                    guint              page,
                                    gboolean           tagged,
                                    cairo_t           *cr);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (BwPageFlow, bw_page_flow_free)

G_END_DECLS
