#pragma once

#include "bw-shelf-item.h"

G_BEGIN_DECLS

/* The designs of a library as a list, of which only what is shown is read. */
#define BW_TYPE_SHELF (bw_shelf_get_type ())
G_DECLARE_FINAL_TYPE (BwShelf, bw_shelf, BW, SHELF, GObject)

/* What fills a window, and what is read in one go afterwards. */
#define BW_SHELF_FIRST      24
#define BW_SHELF_MORE       2000
#define BW_SHELF_SEARCH_MAX 500

BwShelf *bw_shelf_new       (const BwReference *reference,
                             BwLibrary         *library) G_GNUC_WARN_UNUSED_RESULT;
void     bw_shelf_show      (BwShelf           *self,
                             gboolean           binned);
void     bw_shelf_search    (BwShelf           *self,
                             const char        *typed);
gboolean bw_shelf_more      (BwShelf           *self);
guint    bw_shelf_find      (BwShelf           *self,
                             gint64             id);
void     bw_shelf_forget    (BwShelf           *self,
                             gint64             id);
void     bw_shelf_want      (BwShelf           *self,
                             BwShelfItem       *item,
                             gboolean           wanted);

G_END_DECLS
