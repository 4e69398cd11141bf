#define G_LOG_DOMAIN "bw-library"

#include "bw-library-csv-private.h"
#include "bw-library-photo.h"
#include "bw-library-swatch-private.h"
#include "bw-library-yarn-private.h"
#include "bw-units.h"

/* ---- the report ---------------------------------------------------------------- */

static void
problem_free (BwImportProblem *problem)
{
  g_free (problem->heading);
  g_free (problem->cell);
  g_free (problem->message);
  g_free (problem);
}

/**
 * bw_import_report_new:
 *
 * Returns: (transfer full): an empty report
 */
BwImportReport *
bw_import_report_new (void)
{
  BwImportReport *report = g_new0 (BwImportReport, 1);

  report->problems = g_ptr_array_new_with_free_func ((GDestroyNotify) problem_free);
  report->ignored = g_ptr_array_new_with_free_func (g_free);

  return report;
}

/**
 * bw_import_report_free:
 * @report: (nullable) (transfer full): a report
 *
 * Frees @report and all it owns.
 */
void
bw_import_report_free (BwImportReport *report)
{
  if (report == NULL)
    return;

  g_ptr_array_unref (report->problems);
  g_ptr_array_unref (report->ignored);
  g_free (report);
}

/* ---- rows to swatches -------------------------------------------------------------- */

/* The swatches of a table, in its order. */
typedef struct
{
  GPtrArray  *swatches;  /* of BwLibrarySwatch */
  GPtrArray  *makers;    /* of char *, beside them */
  GHashTable *by_key;    /* key (owned) to index + 1 */
  guint       last;      /* index of the swatch of the row above, G_MAXUINT = none */
  const char *photos;    /* folder of photographs that are taken in; NULL = none is */
} Gathered;

static void
gathered_clear (Gathered *gathered)
{
  g_ptr_array_unref (gathered->swatches);
  g_ptr_array_unref (gathered->makers);
  g_hash_table_unref (gathered->by_key);
}

/* Rows of one swatch have to agree on what it is. */
static gboolean
agrees (const BwLibrarySwatch *a,
        const BwLibrarySwatch *b)
{
  return g_str_equal (a->yarn, b->yarn) && g_str_equal (a->fabric, b->fabric) &&
         a->hook_mm == b->hook_mm &&
         g_str_equal (a->lot, b->lot) && a->worked == b->worked;
}

static void
add_readings (BwLibrarySwatch       *to,
              const BwLibrarySwatch *from)
{
  for (guint i = 0; i < from->readings->len; i++)
    {
      const BwPlacedReading *placed = &g_array_index (from->readings, BwPlacedReading, i);

      bw_library_swatch_add_reading (to, &placed->reading, placed->place);
    }
}

/* A photograph that is in the folder of photographs becomes the swatch's own; any
 * other stays a path. */
static gboolean
take_photo (const Gathered  *gathered,
            BwLibrarySwatch *swatch,
            const BwColumns *columns,
            const BwCsvRow  *row,
            BwImportReport  *report)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *path = NULL;

  if (gathered->photos == NULL || swatch->photo_path == NULL)
    return TRUE;

  path = g_build_filename (gathered->photos, swatch->photo_path, NULL);
  if (!g_file_test (path, G_FILE_TEST_EXISTS))
    return TRUE;

  if (!bw_library_swatch_take_photo (swatch, path, &error))
    {
      bw_import_complain (report, columns, row, BW_COLUMN_PHOTO, "%s", error->message);
      return FALSE;
    }

  return TRUE;
}

/* Takes what @read owns of the swatch, or adds its readings to the one there. */
static gboolean
gather (Gathered        *gathered,
        BwSwatchRow     *read,
        const BwColumns *columns,
        const BwCsvRow  *row,
        BwImportReport  *report)
{
  guint at = GPOINTER_TO_UINT (g_hash_table_lookup (gathered->by_key, read->key));

  if (read->goes_on)
    {
      if (gathered->last == G_MAXUINT)
        {
          bw_import_complain (report, columns, row, BW_COLUMN_YARN,
                              "there is no yarn, and no row above; write its name");
          return FALSE;
        }
      add_readings (gathered->swatches->pdata[gathered->last], read->swatch);
      return TRUE;
    }

  if (at == 0)
    {
      if (!take_photo (gathered, read->swatch, columns, row, report))
        {
          gathered->last = G_MAXUINT;
          return FALSE;
        }
      g_ptr_array_add (gathered->swatches, g_steal_pointer (&read->swatch));
      g_ptr_array_add (gathered->makers, g_strdup (read->maker));
      at = gathered->swatches->len;
      g_hash_table_insert (gathered->by_key, g_strdup (read->key), GUINT_TO_POINTER (at));
      gathered->last = at - 1;
      return TRUE;
    }

  gathered->last = at - 1;
  if (!agrees (gathered->swatches->pdata[at - 1], read->swatch))
    {
      bw_import_complain (report, columns, row, BW_COLUMN_SWATCH,
                          "an earlier row says otherwise of the yarn, the lot, the hook or the"
                          " stitch pattern of this "
                          "swatch; give it a code of its own");
      return FALSE;
    }
  add_readings (gathered->swatches->pdata[at - 1], read->swatch);

  return TRUE;
}

static void
gather_rows (Gathered          *gathered,
             const BwReference *reference,
             const BwColumns   *columns,
             const GPtrArray   *rows,
             BwImportReport    *report)
{
  for (guint i = 1; i < rows->len; i++)
    {
      const BwCsvRow *row = g_ptr_array_index (rows, i);
      BwSwatchRow *read = bw_swatch_row_read (reference, columns, row, report);

      report->n_rows++;
      if (read == NULL || !gather (gathered, read, columns, row, report))
        report->n_left_out++;

      /* rows that lean on one that was not read would lean on another */
      if (read == NULL)
        gathered->last = G_MAXUINT;
      bw_swatch_row_free (read);
    }
}

/* ---- swatches to the library --------------------------------------------------------- */

static gboolean
need_yarn (BwLibrary       *library,
           const char      *name,
           const char      *maker,
           BwImportReport  *report,
           GError         **error)
{
  g_autoptr (BwLibraryYarn) yarn = NULL;
  g_autoptr (GError) found = NULL;
  gint64 id;

  if (bw_library_find_yarn (library, name, &id, &found))
    return TRUE;

  if (!g_error_matches (found, BW_LIBRARY_ERROR, BW_LIBRARY_ERROR_MISSING))
    {
      g_propagate_error (error, g_steal_pointer (&found));
      return FALSE;
    }

  yarn = bw_library_yarn_new (name);
  g_free (yarn->maker);
  yarn->maker = g_strdup (maker);
  report->n_yarns++;

  return bw_library_yarn_rows_save (library, yarn, error);
}

static gboolean
store (BwLibrary       *library,
       const Gathered  *gathered,
       BwImportReport  *report,
       GError         **error)
{
  for (guint i = 0; i < gathered->swatches->len; i++)
    {
      BwLibrarySwatch *swatch = gathered->swatches->pdata[i];

      if (!need_yarn (library, swatch->yarn, gathered->makers->pdata[i], report, error) ||
          !bw_library_swatch_rows_save (library, swatch, error))
        return FALSE;

      report->n_swatches++;
      report->n_readings += swatch->readings->len;
      report->n_photos += swatch->photo != NULL;
    }

  return TRUE;
}

static gboolean
store_or_try (BwLibrary       *library,
              const Gathered  *gathered,
              BwImportFlags    flags,
              BwImportReport  *report,
              GError         **error)
{
  gboolean ok;

  if ((flags & BW_IMPORT_PARTIAL) == 0 && report->problems->len > 0)
    {
      g_set_error (error, BW_LIBRARY_ERROR, BW_LIBRARY_ERROR_INVALID,
                   "%u of %u rows cannot be read, so nothing was taken; mend them, or say that the"
                   " others are enough",
                   report->n_left_out, report->n_rows);
      return FALSE;
    }

  if (!bw_library_begin (library, error))
    return FALSE;

  ok = store (library, gathered, report, error);
  if (ok && (flags & BW_IMPORT_TRY) != 0)
    {
      bw_library_end (library, FALSE, NULL);
      return TRUE;
    }

  return bw_library_end (library, ok, error);
}

/**
 * bw_library_import_with_photos:
 * @library: a library
 * @reference: stitch patterns
 * @text: (array length=length): a table with a line of headings
 * @length: bytes
 * @photos: (nullable): a folder; photographs of the table that are files in it
 *   are taken into the library, others stay paths
 * @flags: all or nothing, or what can be read; try without changing anything
 * @report: (inout): what was found is added here, cell by cell
 * @error: return location
 *
 * Takes in a table of swatches. Yarns that are not in the library are added by
 * their name. Decimal commas and units in cells are read; lengths need a unit
 * in the cell or in the heading, hooks are in mm without one.
 *
 * Returns: %TRUE if it was taken; %FALSE if the library is as it was
 */
gboolean
bw_library_import_with_photos (BwLibrary          *library,
                               const BwReference  *reference,
                               const char         *text,
                               gsize               length,
                               const char         *photos,
                               BwImportFlags       flags,
                               BwImportReport     *report,
                               GError            **error)
{
  g_autoptr (GPtrArray) rows = NULL;
  BwColumns columns = { .at = { 0 } };
  Gathered gathered = { .last = G_MAXUINT, .photos = photos };
  gboolean ok;

  g_return_val_if_fail (library != NULL && reference != NULL && text != NULL && report != NULL,
                        FALSE);

  rows = bw_csv_parse (text, length, error);
  if (rows == NULL)
    return FALSE;

  if (rows->len < 2)
    {
      g_set_error (error, BW_LIBRARY_ERROR, BW_LIBRARY_ERROR_INVALID,
                   "the table is empty; it needs a line of headings and a line for each reading");
      return FALSE;
    }

  gathered.swatches = g_ptr_array_new_with_free_func ((GDestroyNotify) bw_library_swatch_free);
  gathered.makers = g_ptr_array_new_with_free_func (g_free);
  gathered.by_key = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);

  ok = bw_columns_find (g_ptr_array_index (rows, 0), &columns, report, error);
  if (ok)
    {
      gather_rows (&gathered, reference, &columns, rows, report);
      ok = store_or_try (library, &gathered, flags, report, error);
    }
  if (!ok)
    report->n_swatches = report->n_readings = report->n_yarns = report->n_photos = 0;

  bw_columns_clear (&columns);
  gathered_clear (&gathered);

  return ok;
}

/**
 * bw_library_import_swatches:
 * @library: a library
 * @reference: stitch patterns
 * @text: (array length=length): a table with a line of headings
 * @length: bytes
 * @flags: all or nothing, or what can be read; try without changing anything
 * @report: (inout): what was found is added here, cell by cell
 * @error: return location
 *
 * The same, where photographs stay paths.
 *
 * Returns: %TRUE if it was taken; %FALSE if the library is as it was
 */
gboolean
bw_library_import_swatches (BwLibrary          *library,
                            const BwReference  *reference,
                            const char         *text,
                            gsize               length,
                            BwImportFlags       flags,
                            BwImportReport     *report,
                            GError            **error)
{
  return bw_library_import_with_photos (library, reference, text, length, NULL, flags, report,
                                        error);
}

/* ---- out ---------------------------------------------------------------------------------- */

/* All digits that are needed to read the same number again. */
static void
append_number (GString  *out,
               double    value,
               gboolean  last)
{
  char text[G_ASCII_DTOSTR_BUF_SIZE];

  for (int digits = 6; digits <= 17; digits++)
    {
      char format[8];

      g_snprintf (format, sizeof format, "%%.%dg", digits);
      g_ascii_formatd (text, sizeof text, format, value);
      if (g_ascii_strtod (text, NULL) == value)
        break;
    }
  bw_csv_append_cell (out, text, last);
}

static void
append_headings (GString *out)
{
  static const BwColumn columns[] = {
    BW_COLUMN_SWATCH, BW_COLUMN_YARN, BW_COLUMN_LOT, BW_COLUMN_HOOK, BW_COLUMN_FABRIC,
    BW_COLUMN_WORKED, BW_COLUMN_WORKED_BY, BW_COLUMN_MADE_ON, BW_COLUMN_NOTE, BW_COLUMN_GRAMS,
    BW_COLUMN_PIECE_STITCHES, BW_COLUMN_PIECE_ROUNDS, BW_COLUMN_PHOTO, BW_COLUMN_DIRECTION,
    BW_COLUMN_COUNT, BW_COLUMN_LENGTH, BW_COLUMN_PLACE, BW_COLUMN_WASHED, BW_COLUMN_LAID,
  };

  for (gsize i = 0; i < G_N_ELEMENTS (columns); i++)
    {
      gboolean length = columns[i] == BW_COLUMN_HOOK || columns[i] == BW_COLUMN_LENGTH;
      g_autofree char *heading = g_strconcat (bw_column_names[columns[i]],
                                              length                          ? " (mm)"
                                              : columns[i] == BW_COLUMN_GRAMS ? " (g)"
                                                                              : "",
                                              NULL);

      bw_csv_append_cell (out, heading, i + 1 == G_N_ELEMENTS (columns));
    }
}

/* @photo: what stands for its photograph; NULL = nothing */
static void
append_row (GString               *out,
            const BwLibrarySwatch *swatch,
            const char            *photo,
            const BwPlacedReading *placed)
{
  static const char *const directions[] = { "stitches", "rounds" };
  static const char *const laid[] = { "relaxed", "gently stretched", "fully stretched" };
  g_autofree char *code = g_strdup_printf ("%" G_GINT64_FORMAT, swatch->id);
  const BwReading *reading = placed != NULL ? &placed->reading : NULL;

  bw_csv_append_cell (out, code, FALSE);
  bw_csv_append_cell (out, swatch->yarn, FALSE);
  bw_csv_append_cell (out, swatch->lot, FALSE);
  append_number (out, swatch->hook_mm, FALSE);
  bw_csv_append_cell (out, swatch->fabric, FALSE);
  bw_csv_append_cell (out, bw_worked_id (swatch->worked), FALSE);
  bw_csv_append_cell (out, swatch->worked_by, FALSE);
  bw_csv_append_cell (out, swatch->made_on, FALSE);
  bw_csv_append_cell (out, swatch->note, FALSE);
  append_number (out, swatch->grams, FALSE);
  append_number (out, swatch->piece_stitches, FALSE);
  append_number (out, swatch->piece_rounds, FALSE);
  bw_csv_append_cell (out, photo, FALSE);
  bw_csv_append_cell (out, reading != NULL ? directions[reading->direction] : NULL, FALSE);
  if (reading != NULL)
    append_number (out, reading->count, FALSE);
  else
    bw_csv_append_cell (out, NULL, FALSE);
  if (reading != NULL)
    append_number (out, reading->span_mm, FALSE);
  else
    bw_csv_append_cell (out, NULL, FALSE);
  bw_csv_append_cell (out, placed != NULL ? placed->place : NULL, FALSE);
  bw_csv_append_cell (out, reading == NULL ? NULL : reading->washed ? "yes" : "no", FALSE);
  bw_csv_append_cell (out, reading == NULL ? NULL : laid[reading->laid], TRUE);
}

static gboolean
append_swatch (GString                *out,
               const BwLibrarySwatch  *swatch,
               const char             *photos,
               guint                  *n_photos,
               GError                **error)
{
  g_autofree char *name = NULL;
  const char *photo = swatch->photo_path;

  *n_photos += swatch->photo != NULL;
  if (swatch->photo != NULL && photos != NULL)
    {
      if (!bw_library_write_photo (swatch->id, swatch->photo, photos, error))
        return FALSE;
      photo = name = bw_library_photo_name (swatch->id, swatch->photo);
    }

  for (guint k = 0; k < swatch->readings->len; k++)
    append_row (out, swatch, photo, &g_array_index (swatch->readings, BwPlacedReading, k));
  if (swatch->readings->len == 0)
    append_row (out, swatch, photo, NULL);

  return TRUE;
}

/**
 * bw_library_export_with_photos:
 * @library: a library
 * @filter: (nullable): which swatches
 * @photos: (nullable): a folder, into which the photographs that are in the
 *   library are written; the table names them
 * @n_photos: (out): how many photographs those are, written or not
 * @error: return location
 *
 * Returns: (transfer full) (nullable): a table with a row for each reading, as
 * bw_library_import_with_photos() reads it
 */
char *
bw_library_export_with_photos (BwLibrary             *library,
                               const BwSwatchFilter  *filter,
                               const char            *photos,
                               guint                 *n_photos,
                               GError               **error)
{
  g_autoptr (GPtrArray) swatches = NULL;
  g_autoptr (GString) out = g_string_new (NULL);

  g_return_val_if_fail (library != NULL && n_photos != NULL, NULL);

  swatches = bw_library_list_swatches (library, filter, error);
  if (swatches == NULL)
    return NULL;

  *n_photos = 0;
  append_headings (out);
  for (guint i = 0; i < swatches->len; i++)
    if (!append_swatch (out, swatches->pdata[i], photos, n_photos, error))
      return NULL;

  return g_string_free (g_steal_pointer (&out), FALSE);
}

/**
 * bw_library_export_swatches:
 * @library: a library
 * @filter: (nullable): which swatches
 * @error: return location
 *
 * Returns: (transfer full) (nullable): the same table without the photographs
 * that are in the library
 */
char *
bw_library_export_swatches (BwLibrary             *library,
                            const BwSwatchFilter  *filter,
                            GError               **error)
{
  guint n_photos;

  return bw_library_export_with_photos (library, filter, NULL, &n_photos, error);
}
