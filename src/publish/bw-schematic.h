#pragma once

#include <cairo.h>
#include <glib.h>

#include "bw-grade.h"

G_BEGIN_DECLS

/* The schematic of a family: the outline of a hat laid flat, to scale, with dimension
 * lines, and what they measure in every size, in cm and in inches. Every figure is one
 * of the graded size; a schematic copies what it needs. */

typedef enum
{
  BW_MEASURE_GIRTH,        /* round the body */
  BW_MEASURE_BRIM,         /* round the brim, relaxed */
  BW_MEASURE_BRIM_HEIGHT,
  BW_MEASURE_CROWN_START,  /* edge to where the crown starts */
  BW_MEASURE_DEPTH,        /* edge to the middle of the crown, along the fabric */
} BwMeasureKind;

typedef struct
{
  BwMeasureKind kind;
  char          letter;   /* on the drawing */
  char         *name;
  double       *mm;       /* of each size of the schematic */
} BwMeasure;

/* A corner of the outline, of its right half. */
typedef struct
{
  double half_mm;   /* from the middle: a quarter of the girth there */
  double height_mm; /* above the edge */
} BwOutlinePoint;

typedef struct
{
  char      *title;
  GPtrArray *sizes;       /* of char: names */
  GArray    *measures;    /* of BwMeasure */
  GArray    *outline;     /* of BwOutlinePoint, upwards, of the size that is drawn */
  guint      drawn;       /* which of the sizes that is */
  gboolean   folded;      /* the brim is turned up */
  double     mm_per_inch;
} BwSchematic;

/* Lengths in mm on paper. */
typedef struct
{
  double      scale;   /* mm on paper for a mm of the hat */
  double      line_mm;
  double      text_mm;
  guint32     ink;     /* 0xRRGGBB */
  gboolean    values;  /* the drawn size's figures at the lines; else letters alone */
  const char *family;  /* of the type */
} BwSchematicStyle;

#define BW_SCHEMATIC_STYLE_DEFAULT \
  ((BwSchematicStyle) { 0.3, 0.3, 3.0, 0x1c1c1c, FALSE, "Sans" })

BwSchematic *bw_schematic_new      (const BwGrading        *grading,
                                    int                     size) G_GNUC_WARN_UNUSED_RESULT;
void         bw_schematic_free     (BwSchematic            *schematic);
char        *bw_schematic_value    (const BwSchematic      *schematic,
                                    guint                   measure,
                                    guint                   size,
                                    BwUnits                 units) G_GNUC_WARN_UNUSED_RESULT;
char        *bw_schematic_describe (const BwSchematic      *schematic) G_GNUC_WARN_UNUSED_RESULT;

/* The drawing alone, for who sets the figures in a table of its own. */
void         bw_schematic_get_size (const BwSchematic      *schematic,
                                    const BwSchematicStyle *style,
                                    double                 *width_mm,
                                    double                 *height_mm);
void         bw_schematic_draw     (const BwSchematic      *schematic,
                                    cairo_t                *cr,
                                    const BwSchematicStyle *style);

/* Drawing and figures, as a file. */
GBytes      *bw_schematic_to_svg   (const BwSchematic      *schematic,
                                    const BwSchematicStyle *style,
                                    GError                **error) G_GNUC_WARN_UNUSED_RESULT;
GBytes      *bw_schematic_to_png   (const BwSchematic      *schematic,
                                    const BwSchematicStyle *style,
                                    double                  dots_per_mm,
                                    GError                **error) G_GNUC_WARN_UNUSED_RESULT;

G_DEFINE_AUTOPTR_CLEANUP_FUNC (BwSchematic, bw_schematic_free)

G_END_DECLS
