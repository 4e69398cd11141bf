#pragma once

#include <gtk/gtk.h>

#include "bw-library-swatch.h"

G_BEGIN_DECLS

/* The photograph of a swatch. "changed" tells that it was chosen or taken away. */
#define BW_TYPE_SWATCH_PHOTO (bw_swatch_photo_get_type ())
G_DECLARE_FINAL_TYPE (BwSwatchPhoto, bw_swatch_photo, BW, SWATCH_PHOTO, GtkWidget)

GtkWidget *bw_swatch_photo_new  (void) G_GNUC_WARN_UNUSED_RESULT;
void       bw_swatch_photo_show (BwSwatchPhoto   *self,
                                 BwLibrary       *library,
                                 BwLibrarySwatch *swatch);
gboolean   bw_swatch_photo_take (BwSwatchPhoto   *self,
                                 GFile           *file);
GdkPaintable *bw_swatch_photo_get_picture (BwSwatchPhoto *self);

G_END_DECLS
