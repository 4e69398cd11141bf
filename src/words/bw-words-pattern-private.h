#pragma once

#include "bw-words-pattern.h"

G_BEGIN_DECLS

/* Parts of a written pattern that other texts have too. */

gboolean   *bw_words_used_stitches (const BwWriteup *writeup) G_GNUC_WARN_UNUSED_RESULT;
const char *bw_words_skill         (const BwWriteup *writeup,
                                    const gboolean  *used);
void        bw_words_add_yarn      (GPtrArray       *blocks,
                                    const BwWriteup *writeup);
void        bw_words_add_hooks     (GPtrArray       *blocks,
                                    const BwWriteup *writeup);
void        bw_words_add_gauge     (GPtrArray       *blocks,
                                    const BwGrading *grading);
void        bw_words_add_cautions  (GPtrArray       *blocks,
                                    const BwWriteup *writeup);

G_END_DECLS
