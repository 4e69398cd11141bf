#pragma once

#include <glib.h>

#include "bw-choose.h"
#include "bw-plan.h"

G_BEGIN_DECLS

gboolean bw_build_size (const BwPlan         *plan,
                        const BwFamilyChoice *family,
                        guint                 k,
                        BwGradedSize         *size,
                        GError              **error);

G_END_DECLS
