#pragma once

#include "bw-edition.h"
#include "bw-words-pattern.h"

G_BEGIN_DECLS

/* A pattern as one page for a browser: a file by itself, without scripts, that
 * loads nothing. */

char *bw_html_pattern  (const BwGrading *grading,
                        const BwEdition *edition,
                        gsize           *length,
                        GError         **error) G_GNUC_WARN_UNUSED_RESULT;
char *bw_html_sheet    (const BwGrading *grading,
                        const BwEdition *edition,
                        gsize           *length) G_GNUC_WARN_UNUSED_RESULT;
gboolean bw_html_check_photo (const char *path,
                        GError         **error);
char *bw_hat_in_words  (const BwGrading *grading,
                        guint            k,
                        gboolean         above) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
