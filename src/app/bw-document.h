#pragma once

#include <gio/gio.h>

#include "bw-grade.h"
#include "bw-library.h"

G_BEGIN_DECLS

#define BW_TYPE_DOCUMENT (bw_document_get_type ())
G_DECLARE_FINAL_TYPE (BwDocument, bw_document, BW, DOCUMENT, GObject)

/* Edits of one kind that follow each other so soon are one step of the library's history. */
#define BW_DOCUMENT_MERGE_MS 1000

/* What could not be saved is tried again so long after. */
#define BW_DOCUMENT_RETRY_MS 2000

BwDocument      *bw_document_new             (const BwReference  *reference,
                                              BwLibrary          *library,
                                              gint64              id,
                                              BwDesign           *design) G_GNUC_WARN_UNUSED_RESULT;

const BwReference *bw_document_get_reference (BwDocument         *self);
BwLibrary       *bw_document_get_library     (BwDocument         *self);
void             bw_document_set_version     (BwDocument         *self,
                                              gint64              version);
gint64           bw_document_get_id          (BwDocument         *self);
const BwDesign  *bw_document_get_design      (BwDocument         *self);
const BwGrading *bw_document_get_grading     (BwDocument         *self);
const BwGrading *bw_document_get_latest      (BwDocument         *self);
const BwGradedSize *bw_document_get_graded_size (BwDocument      *self);
gboolean         bw_document_is_stale        (BwDocument         *self);

guint            bw_document_get_size        (BwDocument         *self);
void             bw_document_set_size        (BwDocument         *self,
                                              guint               size);
int              bw_document_get_round       (BwDocument         *self);
void             bw_document_set_round       (BwDocument         *self,
                                              int                 round);

gboolean         bw_document_edit            (BwDocument         *self,
                                              BwDesign           *design,
                                              const char         *label,
                                              const char         *what,
                                              GError            **error);
gboolean         bw_document_type            (BwDocument         *self,
                                              const char         *place,
                                              const char         *label,
                                              const char         *text,
                                              GError            **error);
void             bw_document_set_fault       (BwDocument         *self,
                                              const char         *what,
                                              gboolean            faulty);
guint            bw_document_get_n_faults    (BwDocument         *self);

const char      *bw_document_get_undo_label  (BwDocument         *self);
const char      *bw_document_get_redo_label  (BwDocument         *self);
void             bw_document_undo            (BwDocument         *self);
void             bw_document_redo            (BwDocument         *self);

gboolean         bw_document_save            (BwDocument         *self,
                                              GError            **error);
gboolean         bw_document_is_saved        (BwDocument         *self);

void             bw_document_catch_up        (BwDocument         *self);
void             bw_document_set_autosave    (BwDocument         *self,
                                              gboolean            autosave);

char            *bw_document_get_tags        (BwDocument         *self) G_GNUC_WARN_UNUSED_RESULT;
gboolean         bw_document_set_tags        (BwDocument         *self,
                                              const char         *typed,
                                              GError            **error);
const char      *bw_document_get_trouble     (BwDocument         *self);

G_END_DECLS
