#pragma once

#include <glib.h>

#include "bw-grade.h"
#include "bw-plan.h"

G_BEGIN_DECLS

void bw_check_family (const BwPlan *plan,
                      BwCountMode   mode,
                      BwGrading    *grading);

G_END_DECLS
