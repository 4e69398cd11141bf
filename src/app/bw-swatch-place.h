#pragma once

#include <gtk/gtk.h>

#include "bw-library.h"
#include "bw-reference.h"

G_BEGIN_DECLS

#define BW_TYPE_SWATCH_PLACE (bw_swatch_place_get_type ())
G_DECLARE_FINAL_TYPE (BwSwatchPlace, bw_swatch_place, BW, SWATCH_PLACE, GtkWidget)

void bw_swatch_place_set_library (BwSwatchPlace     *self,
                                  const BwReference *reference,
                                  BwLibrary         *library);
void bw_swatch_place_refresh     (BwSwatchPlace     *self);

G_END_DECLS
