#pragma once

#include <glib.h>

#include "bw-grade.h"
#include "bw-notation.h"

G_BEGIN_DECLS

/* Many sizes in one text: what each size works, lined up so that a line says it
 * for every size that works it the same way. Structure only; the sentences
 * round it are made in src/words. */

/* One line: a round, a row, or a run of equal ones, of some or all sizes.
 * Arrays run over the sizes of the write-up. */
typedef struct
{
  guint8   section;                      /* BwSection */
  guint8   band;
  guint8   colour;
  gboolean row;
  gboolean only;                         /* the wording is that of these sizes only */
  gboolean works[BW_DESIGN_SIZES_MAX];
  guint    first[BW_DESIGN_SIZES_MAX];   /* index of the first round in the size's list */
  guint    n_rounds[BW_DESIGN_SIZES_MAX];
} BwWriteupLine;

typedef struct
{
  const BwGrading *grading;  /* borrowed */
  GArray          *sizes;    /* of guint: indices of the grading's sizes */
  GArray          *lines;    /* of BwWriteupLine, as worked */
} BwWriteup;

typedef enum
{
  BW_WRITEUP_STITCHES_IN,
  BW_WRITEUP_STITCHES_OUT,
} BwWriteupNumber;

BwWriteup     *bw_writeup_new         (const BwGrading     *grading,
                                       int                  size) G_GNUC_WARN_UNUSED_RESULT;
void           bw_writeup_free        (BwWriteup           *writeup);
const BwRound *bw_writeup_round       (const BwWriteup     *writeup,
                                       const BwWriteupLine *line,
                                       guint                k);
guint          bw_writeup_example     (const BwWriteup     *writeup,
                                       const BwWriteupLine *line);
void           bw_writeup_print_label (const BwWriteup     *writeup,
                                       const BwWriteupLine *line,
                                       GString             *out);
void           bw_writeup_print_work  (const BwWriteup     *writeup,
                                       const BwWriteupLine *line,
                                       BwTerms              terms,
                                       GString             *out);
void           bw_writeup_print_numbers (const BwWriteup   *writeup,
                                       const BwWriteupLine *line,
                                       BwWriteupNumber      number,
                                       GString             *out);
void           bw_writeup_print_count (const BwWriteup     *writeup,
                                       const BwWriteupLine *line,
                                       GString             *out);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (BwWriteup, bw_writeup_free)

G_END_DECLS
