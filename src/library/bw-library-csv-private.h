#pragma once

#include "bw-csv.h"
#include "bw-library-csv.h"

G_BEGIN_DECLS

/* What a column holds. */
typedef enum
{
  BW_COLUMN_SWATCH,
  BW_COLUMN_YARN,
  BW_COLUMN_MAKER,
  BW_COLUMN_LOT,
  BW_COLUMN_HOOK,
  BW_COLUMN_FABRIC,
  BW_COLUMN_WORKED,
  BW_COLUMN_WORKED_BY,
  BW_COLUMN_MADE_ON,
  BW_COLUMN_NOTE,
  BW_COLUMN_GRAMS,
  BW_COLUMN_PIECE_STITCHES,
  BW_COLUMN_PIECE_ROUNDS,
  BW_COLUMN_PHOTO,
  BW_COLUMN_DIRECTION,
  BW_COLUMN_COUNT,
  BW_COLUMN_LENGTH,
  BW_COLUMN_STITCHES,
  BW_COLUMN_WIDTH,
  BW_COLUMN_ROUNDS,
  BW_COLUMN_HEIGHT,
  BW_COLUMN_PLACE,
  BW_COLUMN_WASHED,
  BW_COLUMN_LAID,
  BW_COLUMN_N,
} BwColumn;

#define BW_COLUMN_NOWHERE G_MAXUINT

/* The headings: where each column is, and the unit that its heading names. */
typedef struct
{
  guint  at[BW_COLUMN_N];         /* from 0; BW_COLUMN_NOWHERE */
  char  *headings[BW_COLUMN_N];   /* as they stand there */
  char  *units[BW_COLUMN_N];      /* "" = none */
} BwColumns;

/* One row, read: what it says of the swatch, and its readings. */
typedef struct
{
  BwLibrarySwatch *swatch;  /* with the row's readings */
  char            *key;     /* rows with the same one are one swatch */
  char            *maker;
  gboolean         goes_on; /* says nothing of yarn, hook and stitch pattern: as the row above */
} BwSwatchRow;

extern const char *const bw_column_names[BW_COLUMN_N];

/* bw-library-csv-columns.c */
gboolean bw_columns_have    (const BwColumns   *columns,
                             BwColumn           column);
gboolean bw_columns_find    (const BwCsvRow    *headings,
                             BwColumns         *columns,
                             BwImportReport    *report,
                             GError           **error);
void     bw_columns_clear   (BwColumns         *columns);

/* bw-library-csv-row.c */
void     bw_swatch_row_free (BwSwatchRow       *row);
BwSwatchRow *bw_swatch_row_read (const BwReference *reference,
                             const BwColumns   *columns,
                             const BwCsvRow    *row,
                             BwImportReport    *report);
void     bw_import_complain (BwImportReport    *report,
                             const BwColumns   *columns,
                             const BwCsvRow    *row,
                             int                column,
                             const char        *format,
                             ...) G_GNUC_PRINTF (5, 6);

G_END_DECLS
