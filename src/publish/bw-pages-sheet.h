#pragma once

#include "bw-pages.h"

G_BEGIN_DECLS

BwPages *bw_pages_sheet_new (const BwGrading *grading,
                             const BwEdition *edition) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
