#pragma once

#include "bw-design.h"
#include "bw-library.h"

G_BEGIN_DECLS

/* Designs in the library. What is stored is always the designer's current
 * state (the draft); what was published is a revision. Every save is a step of
 * the undo history, which is kept with the design. */

#define BW_LIBRARY_UNDO_MAX 200

/* What a list shows of a design. */
typedef struct
{
  gint64   id;
  char    *name;
  char    *code;
  char    *yarn;
  char    *tags;        /* comma and space between them */
  gint64   version;
  gint64   changed_at;  /* seconds since 1970 */
  gint64   binned_at;   /* 0 = on the shelf */
  guint    n_revisions;
} BwLibraryEntry;

typedef enum
{
  BW_LIBRARY_ORDER_NAME,
  BW_LIBRARY_ORDER_CHANGED, /* last changed first */
} BwLibraryOrder;

/* A place in the list of designs by last change. */
typedef struct
{
  gint64 id;
  gint64 changed_at;
} BwLibraryMark;

/* One edit that is being saved. */
typedef struct
{
  const char *label;    /* what the edit was: "Change ease"; names the undo step */
  gint64      version;  /* in: the version that the edit began from, 0 = whatever there is;
                         * out: the version it made */
  gboolean    merge;    /* join the last undo step where that has the same label */
  gint64      kept_as;  /* out, on BW_LIBRARY_ERROR_CONFLICT: a new design that holds what was
                         * refused */
} BwLibraryEdit;

void       bw_library_entry_free     (BwLibraryEntry  *entry);

GPtrArray *bw_library_list           (BwLibrary       *library,
                                      BwLibraryOrder   order,
                                      gboolean         binned,
                                      guint            limit,
                                      GError         **error) G_GNUC_WARN_UNUSED_RESULT;
gboolean   bw_library_list_marks     (BwLibrary             *library,
                                      gboolean               binned,
                                      const BwLibraryMark   *after,
                                      guint                  limit,
                                      GArray                *marks,
                                      GError               **error);
GPtrArray *bw_library_search         (BwLibrary       *library,
                                      const char      *typed,
                                      guint            limit,
                                      GError         **error) G_GNUC_WARN_UNUSED_RESULT;
gboolean   bw_library_find           (BwLibrary       *library,
                                      const char      *name,
                                      gint64          *id,
                                      GError         **error);
BwLibraryEntry *bw_library_get_entry (BwLibrary       *library,
                                      gint64           id,
                                      GError         **error) G_GNUC_WARN_UNUSED_RESULT;

gboolean   bw_library_add            (BwLibrary       *library,
                                      const BwDesign  *design,
                                      gint64          *id,
                                      GError         **error);
BwDesign  *bw_library_load           (BwLibrary       *library,
                                      gint64           id,
                                      gint64          *version,
                                      GError         **error) G_GNUC_WARN_UNUSED_RESULT;
gboolean   bw_library_save           (BwLibrary       *library,
                                      gint64           id,
                                      const BwDesign  *design,
                                      BwLibraryEdit   *edit,
                                      GError         **error);

gboolean   bw_library_undo           (BwLibrary       *library,
                                      gint64           id,
                                      gint64          *version,
                                      GError         **error);
gboolean   bw_library_redo           (BwLibrary       *library,
                                      gint64           id,
                                      gint64          *version,
                                      GError         **error);
gboolean   bw_library_get_undo       (BwLibrary       *library,
                                      gint64           id,
                                      char           **undo_label,
                                      char           **redo_label,
                                      guint           *n_undo,
                                      guint           *n_redo,
                                      GError         **error);

gboolean   bw_library_set_tags       (BwLibrary         *library,
                                      gint64             id,
                                      const char *const *tags,
                                      GError           **error);
GPtrArray *bw_library_get_tags       (BwLibrary         *library,
                                      gint64             id,
                                      GError           **error) G_GNUC_WARN_UNUSED_RESULT;

gboolean   bw_library_set_colourway  (BwLibrary         *library,
                                      gint64             id,
                                      const char        *name,
                                      const GArray      *colours,
                                      GError           **error);
GPtrArray *bw_library_get_colourways (BwLibrary         *library,
                                      gint64             id,
                                      GError           **error) G_GNUC_WARN_UNUSED_RESULT;
gboolean   bw_library_apply_colourway (BwLibrary        *library,
                                      gint64             id,
                                      const char        *name,
                                      BwDesign          *design,
                                      GError           **error);

gboolean   bw_library_bin            (BwLibrary       *library,
                                      gint64           id,
                                      GError         **error);
gboolean   bw_library_unbin          (BwLibrary       *library,
                                      gint64           id,
                                      GError         **error);
gboolean   bw_library_empty_bin      (BwLibrary       *library,
                                      gboolean         with_revisions,
                                      guint           *n_removed,
                                      guint           *n_kept,
                                      GError         **error);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (BwLibraryEntry, bw_library_entry_free)

G_END_DECLS
