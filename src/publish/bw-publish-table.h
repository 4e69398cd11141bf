#pragma once

#include "bw-grade.h"

G_BEGIN_DECLS

/* Tables for spreadsheets; lengths in mm and yarn in m, whatever the design says.
 * `only` is the one size to print, -1 = all. */

void bw_table_field  (GString         *line,
                      const char      *text);
void bw_table_rounds (GString         *out,
                      const BwGrading *grading,
                      int              only);
void bw_table_sizes  (GString         *out,
                      const BwGrading *grading,
                      int              only);
void bw_table_yarn   (GString         *out,
                      const BwGrading *grading,
                      int              only);

G_END_DECLS
