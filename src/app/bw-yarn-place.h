#pragma once

#include <gtk/gtk.h>

#include "bw-library.h"

G_BEGIN_DECLS

#define BW_TYPE_YARN_PLACE (bw_yarn_place_get_type ())
G_DECLARE_FINAL_TYPE (BwYarnPlace, bw_yarn_place, BW, YARN_PLACE, GtkWidget)

void bw_yarn_place_set_library (BwYarnPlace *self,
                                BwLibrary   *library);

G_END_DECLS
