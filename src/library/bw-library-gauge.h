#pragma once

#include "bw-design.h"
#include "bw-gauge-pool.h"
#include "bw-library-swatch.h"

G_BEGIN_DECLS

/* Gauge from the swatches of the library. A set is all swatches of one yarn,
 * hook and stitch pattern; written "Harbour Wool / 4.5 / plain-low". */
typedef struct
{
  char   *yarn;
  double  hook_mm;
  char   *fabric;
} BwSwatchSet;

/* A reading that stands apart from the others of its swatch; it is used all the
 * same, because leaving it out is the designer's to decide. */
typedef struct
{
  gint64 swatch;
  guint  number;    /* from 1 */
  double each_mm;   /* what it says */
  double median_mm; /* what the others say */
} BwSwatchOutlier;

typedef struct
{
  GPtrArray   *swatches;  /* of BwLibrarySwatch */
  BwGaugePool  pool;
  GArray      *outliers;  /* of BwSwatchOutlier */
} BwLibraryGauge;

/* One hook's gauge, for choosing a hook. */
typedef struct
{
  double      hook_mm;
  BwGaugePool pool;
} BwHookGauge;

void            bw_swatch_set_clear         (BwSwatchSet       *set);
gboolean        bw_swatch_set_parse         (const char        *text,
                                             BwSwatchSet       *set,
                                             GError           **error);
gboolean        bw_swatch_hook_parse        (const char        *text,
                                             double            *hook_mm,
                                             GError           **error);
char           *bw_swatch_set_format        (const char        *yarn,
                                             double             hook_mm,
                                             const char        *fabric) G_GNUC_WARN_UNUSED_RESULT;

void            bw_library_gauge_free       (BwLibraryGauge    *gauge);
BwLibraryGauge *bw_library_gauge            (BwLibrary         *library,
                                             const BwSwatchSet *set,
                                             const BwTape      *tape,
                                             GError           **error) G_GNUC_WARN_UNUSED_RESULT;
GArray         *bw_library_hook_gauges      (BwLibrary         *library,
                                             const char        *yarn,
                                             const char        *fabric,
                                             const BwTape      *tape,
                                             GError           **error) G_GNUC_WARN_UNUSED_RESULT;
gboolean        bw_library_suggest_hook     (BwLibrary         *library,
                                             const char        *yarn,
                                             const char        *fabric,
                                             double             wanted_stitch_mm,
                                             double            *hook_mm,
                                             double            *stitch_mm_U95,
                                             GError           **error);
gboolean        bw_library_resolve_swatches (BwLibrary         *library,
                                             BwDesign          *design,
                                             GError           **error);

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (BwSwatchSet, bw_swatch_set_clear)
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BwLibraryGauge, bw_library_gauge_free)

G_END_DECLS
