#pragma once

#include <gtk/gtk.h>

#include "bw-library-design.h"
#include "bw-reference.h"

G_BEGIN_DECLS

/* A design in the list: its name, and its hat once that has been drawn. */
#define BW_TYPE_SHELF_ITEM (bw_shelf_item_get_type ())
G_DECLARE_FINAL_TYPE (BwShelfItem, bw_shelf_item, BW, SHELF_ITEM, GObject)

#define BW_SHELF_PICTURE 36 /* pixels */

BwShelfItem *bw_shelf_item_new         (const BwLibraryEntry *entry) G_GNUC_WARN_UNUSED_RESULT;
gint64       bw_shelf_item_get_id      (BwShelfItem          *self);
const char  *bw_shelf_item_get_name    (BwShelfItem          *self);
const char  *bw_shelf_item_get_details (BwShelfItem          *self);
GdkPaintable *bw_shelf_item_get_picture (BwShelfItem         *self);
gboolean     bw_shelf_item_want        (BwShelfItem          *self,
                                        gboolean              wanted);
void         bw_shelf_item_draw        (BwShelfItem          *self,
                                        const BwReference    *reference,
                                        BwLibrary            *library);

G_END_DECLS
