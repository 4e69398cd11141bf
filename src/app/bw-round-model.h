#pragma once

#include <gio/gio.h>

#include "bw-grade.h"

G_BEGIN_DECLS

/* One line of the round table: a round, or a run of equal rounds. */
#define BW_TYPE_ROUND_LINE (bw_round_line_get_type ())
G_DECLARE_FINAL_TYPE (BwRoundLine, bw_round_line, BW, ROUND_LINE, GObject)

/* The rounds of one size as a list. */
#define BW_TYPE_ROUND_MODEL (bw_round_model_get_type ())
G_DECLARE_FINAL_TYPE (BwRoundModel, bw_round_model, BW, ROUND_MODEL, GObject)

guint         bw_round_line_get_first    (BwRoundLine     *self);
guint         bw_round_line_get_n        (BwRoundLine     *self);

BwRoundModel *bw_round_model_new         (void) G_GNUC_WARN_UNUSED_RESULT;
void          bw_round_model_show        (BwRoundModel    *self,
                                          const BwGrading *grading,
                                          guint            size,
                                          gboolean         fold);
void          bw_round_model_set_current (BwRoundModel    *self,
                                          int              round);
guint         bw_round_model_find        (BwRoundModel    *self,
                                          int              round);
char         *bw_round_model_to_text     (BwRoundModel    *self,
                                          gboolean         csv) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
