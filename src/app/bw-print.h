#pragma once

#include <gtk/gtk.h>

#include "bw-grade.h"
#include "bw-pages.h"

G_BEGIN_DECLS

GtkPrintOperation *bw_print_operation (const BwGrading *grading,
                                       const BwEdition *edition) G_GNUC_WARN_UNUSED_RESULT;
void               bw_print           (GtkWindow       *parent,
                                       const BwGrading *grading,
                                       const BwEdition *edition);

G_END_DECLS
