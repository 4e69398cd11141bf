#pragma once

#include "bw-library-gauge.h"
#include "bw-plot.h"

G_BEGIN_DECLS

/* What the library makes of the swatches that a swatch is one of. */

char    *bw_swatch_report_words    (BwLibrary             *library,
                                    const BwLibrarySwatch *swatch) G_GNUC_WARN_UNUSED_RESULT;
char    *bw_swatch_report_reading  (const BwPlacedReading *placed) G_GNUC_WARN_UNUSED_RESULT;
char    *bw_swatch_report_figure   (double                 value,
                                    const char            *unit) G_GNUC_WARN_UNUSED_RESULT;
gboolean bw_swatch_report_is_day   (const char            *text);
void     bw_swatch_report_readings (BwPlot                *plot,
                                    BwLibrary             *library,
                                    const BwLibrarySwatch *swatch);
void     bw_swatch_report_hooks    (BwPlot                *plot,
                                    BwLibrary             *library,
                                    const BwLibrarySwatch *swatch);

G_END_DECLS
