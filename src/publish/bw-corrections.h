#pragma once

#include "bw-grade.h"
#include "bw-library-revision.h"

G_BEGIN_DECLS

/* Corrections as sentences for who works from the earlier revision. */

char **bw_correction_sentences (const GPtrArray *corrections,
                                const BwGrading *view,
                                BwTerms          was_terms,
                                BwTerms          is_terms) G_GNUC_WARN_UNUSED_RESULT;
char **bw_correction_lines     (BwLibrary       *library,
                                gint64           design,
                                guint            from,
                                guint            to,
                                const BwGrading *view,
                                GError         **error) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
