#pragma once

#include <glib.h>

#include "bw-grade.h"
#include "bw-plan.h"

G_BEGIN_DECLS

gboolean bw_check_own_crowns (const BwPlan *plan,
                              GArray       *findings);
void     bw_check_family     (const BwPlan *plan,
                              BwCountMode   mode,
                              BwGrading    *grading);

G_END_DECLS
