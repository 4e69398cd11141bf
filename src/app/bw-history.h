#pragma once

#include "bw-design.h"

G_BEGIN_DECLS

/* What was done to a design, as whole designs before and after: undoing is exact
 * by nature. Edits of one value shortly after each other are one step. */
typedef struct _BwHistory BwHistory;

/* How many edits can be undone. */
#define BW_HISTORY_STEPS_MAX 200

/* Edits of one value within so long make one step. */
#define BW_HISTORY_MERGE_US (1 * G_USEC_PER_SEC)

BwHistory      *bw_history_new            (void) G_GNUC_WARN_UNUSED_RESULT;
void            bw_history_free           (BwHistory       *self);
void            bw_history_record         (BwHistory       *self,
                                           const BwDesign  *before,
                                           const BwDesign  *after,
                                           const char      *label,
                                           const char      *what);
const BwDesign *bw_history_undo           (BwHistory       *self);
const BwDesign *bw_history_redo           (BwHistory       *self);
const char     *bw_history_get_undo_label (const BwHistory *self);
const char     *bw_history_get_redo_label (const BwHistory *self);

G_END_DECLS
