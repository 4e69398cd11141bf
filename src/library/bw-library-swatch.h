#pragma once

#include "bw-gauge.h"
#include "bw-library.h"

G_BEGIN_DECLS

#define BW_LIBRARY_PHOTO_MAX (4 * 1024 * 1024)

typedef enum
{
  BW_WORKED_ROWS,
  BW_WORKED_TURNED_ROUNDS,
  BW_WORKED_ROUNDS, /* unturned */
} BwWorked;

/* One reading and where on the piece it was taken. */
typedef struct
{
  BwReading  reading;
  char      *place;
} BwPlacedReading;

/* A swatch with its readings. Strings are owned; "" = not said. */
typedef struct
{
  gint64    id;             /* 0 = not in the library yet */
  char     *yarn;           /* name; must be in the library */
  char     *lot;            /* dye lot; "" = not said */
  double    hook_mm;        /* measured; 0 = not said */
  char     *fabric;         /* stitch pattern id, or a brim word */
  BwWorked  worked;
  char     *worked_by;
  char     *made_on;        /* 2024-05-31 */
  char     *note;
  double    grams;          /* weighed piece; 0 = not weighed */
  guint     piece_stitches;
  guint     piece_rounds;
  char     *photo_path;     /* (nullable) relative to the library's folder */
  GBytes   *photo;          /* (nullable) the bytes, in its stead */
  GArray   *readings;       /* of BwPlacedReading */
} BwLibrarySwatch;

/* Which swatches; "" and 0 = any. */
typedef struct
{
  const char *yarn;
  double      hook_mm;
  const char *fabric;
} BwSwatchFilter;

BwLibrarySwatch *bw_library_swatch_new   (const char           *yarn,
                                          double                hook_mm,
                                          const char           *fabric) G_GNUC_WARN_UNUSED_RESULT;
void             bw_library_swatch_free  (BwLibrarySwatch      *swatch);
void             bw_library_swatch_add_reading
                                         (BwLibrarySwatch      *swatch,
                                          const BwReading      *reading,
                                          const char           *place);
const char      *bw_worked_id            (BwWorked              worked);
gboolean         bw_worked_from_text     (const char           *text,
                                          BwWorked             *worked);

gboolean         bw_library_save_swatch  (BwLibrary            *library,
                                          BwLibrarySwatch      *swatch,
                                          GError              **error);
BwLibrarySwatch *bw_library_get_swatch   (BwLibrary            *library,
                                          gint64                id,
                                          GError              **error) G_GNUC_WARN_UNUSED_RESULT;
GPtrArray       *bw_library_list_swatches (BwLibrary           *library,
                                          const BwSwatchFilter *filter,
                                          GError              **error) G_GNUC_WARN_UNUSED_RESULT;
gboolean         bw_library_remove_swatch (BwLibrary           *library,
                                          gint64                id,
                                          GError              **error);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (BwLibrarySwatch, bw_library_swatch_free)

G_END_DECLS
