#pragma once

#include "bw-words-pattern.h"

G_BEGIN_DECLS

/* What a shop tells of a pattern: enough to know whether one can make it and what
 * one needs, and nothing of how it is worked. */

GPtrArray *bw_words_listing      (const BwGrading *grading) G_GNUC_WARN_UNUSED_RESULT;
char      *bw_words_listing_text (const GPtrArray *blocks) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
