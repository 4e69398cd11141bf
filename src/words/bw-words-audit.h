#pragma once

#include "bw-pattern-audit.h"
#include "bw-words.h"

G_BEGIN_DECLS

/* Words for what is found in a written pattern, in the same shape as those for a
 * design. Figures of a pattern are put as it writes them. */

char           *bw_words_audit_sizes   (const BwPattern        *pattern,
                                        guint32                 sizes) G_GNUC_WARN_UNUSED_RESULT;
char           *bw_words_audit_round   (const BwPatternFinding *finding) G_GNUC_WARN_UNUSED_RESULT;
BwWordsFinding *bw_words_audit_finding (const BwPattern        *pattern,
                                        const BwPatternFinding *finding) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
