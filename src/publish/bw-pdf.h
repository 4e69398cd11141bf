#pragma once

#include "bw-pages.h"

G_BEGIN_DECLS

GBytes *bw_pdf_new (const BwPages *pages,
                    GError       **error) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
