#pragma once

#include "bw-design.h"
#include "bw-reference.h"

G_BEGIN_DECLS

/* The choice of a family's counts, stated a second time as an integer
 * programme and left to GLPK (GNU Linear Programming Kit, https://www.gnu.org/software/glpk/).
 * Only for designs whose swatches have one relaxed reading a direction. */
typedef struct
{
  gboolean feasible;
  double   cost;      /* of the family */
  guint    n_columns; /* of the programme that was solved last */
  double   solve_us;  /* time in the solver alone, microseconds */
} GlpkChoice;

void glpk_choice (const BwReference *reference,
                  const BwDesign    *design,
                  GlpkChoice        *choice);

G_END_DECLS
