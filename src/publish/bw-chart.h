#pragma once

#include <cairo.h>
#include <glib.h>

#include "bw-grade.h"
#include "bw-symbol.h"

G_BEGIN_DECLS

/* Charts of one graded size, as seen from the right side of the work: a panel
 * for the brim, for each band and for the crown. A panel is one repeat of its
 * rounds, drawn a few times side by side, or one wedge of the crown. It says
 * what the rounds of the size say: nothing is worked out again, and
 * bw_chart_expand() gives every stitch of a round back.
 *
 * A chart is a plain value; it copies what it needs of the grading. */

typedef enum
{
  BW_CHART_BRIM,
  BW_CHART_BAND,
  BW_CHART_CROWN,
} BwChartKind;

/* One stitch of a repeat. Feet are positions of the row below, tops of its own
 * row, both counted from where the repeat starts in that row. */
typedef struct
{
  BwStitchIndex stitch;
  guint8        loop;   /* BwLoop, as it is worked */
  guint8        place;  /* BwPlace */
  guint8        below;  /* rounds down to where it takes hold; 0 = nowhere */
  gboolean      fan;    /* shares its foot with a neighbour */
  guint         foot;
  guint         n_feet;
  guint         top;
  guint         n_tops;
} BwChartStitch;

/* One round, or the round below the panel's first (`context`), which shows what
 * that one stands on. */
typedef struct
{
  guint    round;        /* index in the size's rounds */
  guint    number;
  guint8   colour;
  gboolean context;
  gboolean is_row;       /* a row, not a round */
  gboolean wrong_side;   /* worked from the wrong side: from left to right */
  guint    first_stitch; /* of one repeat */
  guint    n_stitches;
  guint    times;        /* repeats in the whole round */
  guint    takes;        /* positions of one repeat */
  guint    makes;
  guint    stitches_out; /* of the whole round */
  double   shift;        /* columns from the panel's right edge to its first position */
  double   step;         /* columns from position to position */
  gboolean by_feet;      /* a position is as wide as what it stands on */
  double   height;       /* in widths of a column */
  char    *work;         /* the whole round in words */
} BwChartRow;

typedef struct
{
  BwChartKind kind;
  guint       band;
  char       *title;
  char       *caption;       /* what is repeated, in words; may be empty */
  guint       first_row;     /* upwards; a context row, if there is one, is first */
  guint       n_rows;
  guint       last_round;    /* index of the last round that it stands for */
  guint       columns;       /* of one repeat, where it is widest */
  guint       times;         /* repeats, or wedges, in the whole round */
  guint       copies;        /* repeats drawn side by side */
  guint       repeat_row;    /* first of the rounds worked again, counted in the panel */
  guint       n_repeat_rows; /* 0 = none are */
  gboolean    numbers_shape; /* the count of each round is shown at its end */
} BwChartPanel;

typedef struct
{
  BwStitchIndex stitch;  /* BW_STITCH_NONE = a colour, or the arc of a loop */
  BwSymbol      symbol;
  guint         takes;
  guint         makes;
  guint         below;
  gboolean      deep;    /* takes hold further down than its dictionary form */
  guint8        loop;    /* BwLoop: an entry for the arc */
  int           colour;  /* -1 = none */
  char         *label;   /* "dc", "A" */
  char         *text;    /* "double crochet", "Tar" */
} BwChartKeyEntry;

typedef struct
{
  char      *title;       /* the design and the size */
  GArray    *panels;      /* of BwChartPanel */
  GArray    *rows;        /* of BwChartRow */
  GArray    *stitches;    /* of BwChartStitch */
  GArray    *key;         /* of BwChartKeyEntry: only what the panels show */
  GPtrArray *notes;       /* of char: how the chart is read */
  BwSymbol  *symbols;     /* of each stitch of the dictionary */
  guint32    rgb[BW_STRIPE_COLOURS_MAX];
  guint      n_colours;
} BwChart;

/* Lengths in mm on paper. */
typedef struct
{
  double      cell_mm;  /* width of a column */
  double      line_mm;  /* of a symbol's stroke */
  double      text_mm;  /* size of the type */
  double      width_mm; /* the key turns into a new line here */
  guint32     ink;      /* 0xRRGGBB */
  gboolean    low_ink;  /* colours by letter alone, nothing tinted */
  const char *family;   /* of the type */
} BwChartStyle;

#define BW_CHART_STYLE_DEFAULT \
  ((BwChartStyle) { 5.5, 0.32, 3.0, 170, 0x1c1c1c, FALSE, "Sans" })

BwChart  *bw_chart_new            (const BwGrading      *grading,
                                   guint                 size) G_GNUC_WARN_UNUSED_RESULT;
void      bw_chart_free           (BwChart              *chart);

/* The whole chart: title, panels above each other, key, notes. */
void      bw_chart_get_size       (const BwChart        *chart,
                                   const BwChartStyle   *style,
                                   double               *width_mm,
                                   double               *height_mm);
void      bw_chart_draw           (const BwChart        *chart,
                                   cairo_t              *cr,
                                   const BwChartStyle   *style);

/* Its parts, for who lays out pages. A panel has no title: see BwChartPanel. */
void      bw_chart_panel_get_size (const BwChart        *chart,
                                   guint                 panel,
                                   const BwChartStyle   *style,
                                   double               *width_mm,
                                   double               *height_mm);
void      bw_chart_panel_draw     (const BwChart        *chart,
                                   guint                 panel,
                                   cairo_t              *cr,
                                   const BwChartStyle   *style);
void      bw_chart_key_get_size   (const BwChart        *chart,
                                   const BwChartStyle   *style,
                                   double               *width_mm,
                                   double               *height_mm);
void      bw_chart_key_draw       (const BwChart        *chart,
                                   cairo_t              *cr,
                                   const BwChartStyle   *style);

/* What it says. */
char     *bw_chart_describe       (const BwChart        *chart,
                                   guint                 panel) G_GNUC_WARN_UNUSED_RESULT;
int       bw_chart_row_of_round   (const BwChart        *chart,
                                   guint                 panel,
                                   guint                 round);
void      bw_chart_expand         (const BwChart        *chart,
                                   guint                 row,
                                   GArray               *stitches);

/* As files. */
GBytes   *bw_chart_to_svg         (const BwChart        *chart,
                                   const BwChartStyle   *style,
                                   GError              **error) G_GNUC_WARN_UNUSED_RESULT;
GBytes   *bw_chart_to_png         (const BwChart        *chart,
                                   const BwChartStyle   *style,
                                   double                dots_per_mm,
                                   GError              **error) G_GNUC_WARN_UNUSED_RESULT;

G_DEFINE_AUTOPTR_CLEANUP_FUNC (BwChart, bw_chart_free)

G_END_DECLS
