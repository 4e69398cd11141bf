#pragma once

#include "bw-library-yarn.h"

G_BEGIN_DECLS

char    *bw_yarn_fibres_print (const BwLibraryYarn *yarn) G_GNUC_WARN_UNUSED_RESULT;
gboolean bw_yarn_fibres_read  (BwLibraryYarn       *yarn,
                               const char          *text);

G_END_DECLS
