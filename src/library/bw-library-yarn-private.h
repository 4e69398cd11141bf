#pragma once

#include "bw-library-private.h"
#include "bw-library-yarn.h"

G_BEGIN_DECLS

/* Within a transaction of the caller's. */
gboolean bw_library_yarn_rows_save (BwLibrary      *library,
                                    BwLibraryYarn  *yarn,
                                    GError        **error);

/* bw-library-list.c: what is typed, as a question to a full-text index */
char    *bw_library_question       (const char     *typed);

G_END_DECLS
