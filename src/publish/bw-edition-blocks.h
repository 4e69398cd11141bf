#pragma once

#include "bw-edition.h"
#include "bw-words-pattern.h"

G_BEGIN_DECLS

/* The written pattern of an edition, and the lines that say which revision it is. */

GPtrArray *bw_edition_blocks        (const BwEdition *edition,
                                     const BwGrading *view) G_GNUC_WARN_UNUSED_RESULT;
GPtrArray *bw_edition_sheet         (const BwEdition *edition,
                                     const BwGrading *view) G_GNUC_WARN_UNUSED_RESULT;
char     **bw_edition_revision_lines (const BwEdition *edition) G_GNUC_WARN_UNUSED_RESULT;
char      *bw_edition_stamp         (const BwEdition *edition) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
