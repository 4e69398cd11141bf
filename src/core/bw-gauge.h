#pragma once

#include <glib.h>

#include "bw-stats.h"
#include "bw-units.h"

G_BEGIN_DECLS

typedef enum
{
  BW_READING_STITCHES, /* across: so many stitches span so many mm */
  BW_READING_ROUNDS,   /* upwards: so many rounds (or rows) span so many mm */
} BwReadingDirection;

typedef enum
{
  BW_LAID_RELAXED,
  BW_LAID_GENTLY_STRETCHED,
  BW_LAID_FULLY_STRETCHED,
} BwLaid;

/* One reading of a swatch: a span is measured, never "stitches in 10 cm",
 * because counting in a fixed window rounds to half stitches. */
typedef struct
{
  BwReadingDirection direction;
  double             count;   /* stitches or rounds spanned; > 0, may be a half */
  double             span_mm; /* > 0 */
  gboolean           washed;
  BwLaid             laid;
} BwReading;

/* How sure a tape measurement is (type B of the GUM). */
typedef struct
{
  double tape_division_mm; /* smallest division of the tape; half of it either way */
  double edge_stitches;    /* either way, where an edge stitch is judged to begin */
} BwTape;

#define BW_TAPE_DEFAULT ((BwTape) { 1.0, 0.25 })

/* How far beyond the hooks that were swatched a line may be read, mm. */
#define BW_HOOK_EXTRAPOLATE_MM 0.5

/* Size of one stitch (its width) or of one round (its height). */
typedef struct
{
  double   mm;           /* estimate: sum of spans / sum of counts; 0 = not known */
  double   u;            /* combined standard uncertainty, mm */
  double   u_type_a;     /* from the scatter of the readings */
  double   u_type_b;     /* from tape and edges */
  double   dof;          /* effective (Welch-Satterthwaite); INFINITY for type B alone */
  double   coverage;     /* k: Student's t for 95 % at dof */
  double   U95;          /* coverage * u */
  guint    n_readings;
  gboolean type_b_only;  /* one reading: no scatter to judge by */
} BwGaugeSide;

typedef struct
{
  BwGaugeSide stitch;         /* width of one stitch */
  BwGaugeSide round;          /* height of one round or row */
  gboolean    washed;         /* all that is known of it is from washed readings */
  double      stitch_growth;  /* washed / unwashed width; 0 = not known */
  double      round_growth;   /* washed / unwashed height; 0 = not known */
  double      stitch_stretch; /* fully stretched / relaxed; 0 = not measured */
  double      round_stretch;  /* the same upwards (a sideways rib stretches across its rows) */
} BwGauge;

gboolean bw_gauge_side_from_readings (const BwReading    *readings,
                                      gsize               n_readings,
                                      BwReadingDirection  direction,
                                      gboolean            washed,
                                      BwLaid              laid,
                                      const BwTape       *tape,
                                      BwGaugeSide        *side);
gboolean bw_gauge_from_readings      (const BwReading    *readings,
                                      gsize               n_readings,
                                      const BwTape       *tape,
                                      BwGauge            *gauge,
                                      GError            **error);
gsize    bw_gauge_outliers           (const BwReading    *readings,
                                      gsize               n_readings,
                                      BwReadingDirection  direction,
                                      gboolean           *flags);
gboolean bw_gauge_parse_stated       (const char         *text,
                                      BwReading          *stitches,
                                      BwReading          *rounds,
                                      GError            **error);
char    *bw_gauge_format             (const BwGauge      *gauge,
                                      double              span_mm,
                                      BwUnits             units,
                                      double              mm_per_inch) G_GNUC_WARN_UNUSED_RESULT;
gboolean bw_gauge_suggest_hook       (const double       *hook_mm,
                                      const double       *stitch_mm,
                                      gsize               n,
                                      double              wanted_stitch_mm,
                                      double              extrapolate_mm,
                                      double             *suggested_hook_mm,
                                      double             *stitch_mm_U95,
                                      GError            **error);

G_END_DECLS
