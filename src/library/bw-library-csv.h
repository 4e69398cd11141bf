#pragma once

#include "bw-library-swatch.h"
#include "bw-reference.h"

G_BEGIN_DECLS

/* A maker's spreadsheet of swatches, in and out. The columns are found by their
 * headings, in any order; brimwright-cli(1) lists them. One row holds one
 * reading of a swatch, or one across and one upwards. */

typedef enum
{
  BW_IMPORT_ALL     = 0,      /* all rows, or none */
  BW_IMPORT_PARTIAL = 1 << 0, /* leave out rows that cannot be read */
  BW_IMPORT_TRY     = 1 << 1, /* read and check, and change nothing */
} BwImportFlags;

/* A cell that could not be read. */
typedef struct
{
  guint  line;     /* of the file, from 1 */
  guint  column;   /* from 1; 0 = the whole row */
  char  *heading;  /* of that column; "" = none */
  char  *cell;
  char  *message;  /* what is wrong and what would do */
} BwImportProblem;

typedef struct
{
  guint      n_rows;       /* rows below the headings */
  guint      n_left_out;   /* rows that were not taken */
  guint      n_swatches;
  guint      n_readings;
  guint      n_yarns;      /* yarns that were not in the library */
  guint      n_photos;     /* photographs that were taken into the library */
  GPtrArray *problems;     /* of BwImportProblem */
  GPtrArray *ignored;      /* of char *: headings that mean nothing here */
} BwImportReport;

BwImportReport *bw_import_report_new      (void) G_GNUC_WARN_UNUSED_RESULT;
void            bw_import_report_free     (BwImportReport    *report);

gboolean        bw_library_import_swatches (BwLibrary         *library,
                                            const BwReference *reference,
                                            const char        *text,
                                            gsize              length,
                                            BwImportFlags      flags,
                                            BwImportReport    *report,
                                            GError           **error);
gboolean        bw_library_import_with_photos (BwLibrary      *library,
                                            const BwReference *reference,
                                            const char        *text,
                                            gsize              length,
                                            const char        *photos,
                                            BwImportFlags      flags,
                                            BwImportReport    *report,
                                            GError           **error);
char           *bw_library_export_swatches (BwLibrary            *library,
                                            const BwSwatchFilter *filter,
                                            GError              **error) G_GNUC_WARN_UNUSED_RESULT;
char           *bw_library_export_with_photos (BwLibrary         *library,
                                            const BwSwatchFilter *filter,
                                            const char           *photos,
                                            guint                *n_photos,
                                            GError              **error) G_GNUC_WARN_UNUSED_RESULT;

G_DEFINE_AUTOPTR_CLEANUP_FUNC (BwImportReport, bw_import_report_free)

G_END_DECLS
