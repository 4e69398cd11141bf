#pragma once

#include <gtk/gtk.h>

#include "bw-pattern-audit.h"

G_BEGIN_DECLS

#define BW_TYPE_PATTERN_PLACE (bw_pattern_place_get_type ())
G_DECLARE_FINAL_TYPE (BwPatternPlace, bw_pattern_place, BW, PATTERN_PLACE, GtkWidget)

/* Longer lists of findings are cut: the first ones are mended first anyway. */
#define BW_PATTERN_PLACE_SHOWN 200

void           bw_pattern_place_set_reference (BwPatternPlace    *self,
                                               const BwReference *reference);
gboolean       bw_pattern_place_open          (BwPatternPlace    *self,
                                               GFile             *file,
                                               GError           **error);
GtkTextBuffer *bw_pattern_place_get_buffer    (BwPatternPlace    *self);
void           bw_pattern_place_audit         (BwPatternPlace    *self);
guint          bw_pattern_place_get_n_findings (BwPatternPlace   *self);
void           bw_pattern_place_mend          (BwPatternPlace    *self,
                                               guint              finding);

G_END_DECLS
