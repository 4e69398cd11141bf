#pragma once

#include "bw-grade.h"
#include "bw-library.h"

G_BEGIN_DECLS

/* What was published, and never altered afterwards: the design file's text and
 * every size's rounds as they were. */

typedef struct
{
  gint64  id;
  guint   number;   /* 1, 2, 3 ... within the design */
  gint64  made_at;  /* seconds since 1970 */
  char   *note;
  char   *name;     /* the design's name at that time */
} BwRevision;

typedef enum
{
  BW_CORRECTION_CHANGED,
  BW_CORRECTION_ADDED,
  BW_CORRECTION_REMOVED,
  BW_CORRECTION_SIZE_ADDED,
  BW_CORRECTION_SIZE_REMOVED,
} BwCorrectionKind;

/* One place where two revisions differ. */
typedef struct
{
  BwCorrectionKind kind;
  char            *size;         /* name of the size */
  char            *section;      /* id, see bw_section_id(); empty for whole sizes */
  gboolean         row;          /* a row, not a round */
  guint            number;       /* of the later revision; of the earlier for what was removed */
  guint            old_number;
  char            *was;          /* instruction; empty for what was added */
  char            *is;           /* instruction; empty for what was removed */
  guint            was_stitches;
  guint            is_stitches;
  guint8           was_colour;
  guint8           is_colour;
  guint            was_offered;  /* stitches that the round below offered */
  guint            is_offered;
} BwCorrection;

void       bw_revision_free           (BwRevision      *revision);
void       bw_correction_free         (BwCorrection    *correction);

gboolean   bw_library_revise          (BwLibrary       *library,
                                       gint64           design,
                                       const BwGrading *grading,
                                       const char      *note,
                                       guint           *number,
                                       GError         **error);
GPtrArray *bw_library_get_revisions   (BwLibrary       *library,
                                       gint64           design,
                                       GError         **error) G_GNUC_WARN_UNUSED_RESULT;
char      *bw_library_get_revision_text (BwLibrary     *library,
                                       gint64           design,
                                       guint            number,
                                       GError         **error) G_GNUC_WARN_UNUSED_RESULT;
gboolean   bw_library_is_published    (BwLibrary       *library,
                                       gint64           design,
                                       const BwGrading *grading,
                                       BwRevision     **last,
                                       GError         **error);
GPtrArray *bw_library_corrections     (BwLibrary       *library,
                                       gint64           design,
                                       guint            from,
                                       guint            to,
                                       GError         **error) G_GNUC_WARN_UNUSED_RESULT;

G_DEFINE_AUTOPTR_CLEANUP_FUNC (BwRevision, bw_revision_free)
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BwCorrection, bw_correction_free)

G_END_DECLS
