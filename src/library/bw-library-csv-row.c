#define G_LOG_DOMAIN "bw-library"

#include <string.h>

#include "bw-library-csv-private.h"
#include "bw-units.h"

/* ---- cells --------------------------------------------------------------------- */

/*
 * bw_import_complain:
 * @column: a BwColumn; -1 = the whole row
 *
 * Notes what cannot be read, and where.
 */
void
bw_import_complain (BwImportReport  *report,
                    const BwColumns *columns,
                    const BwCsvRow  *row,
                    int              column,
                    const char      *format,
                    ...)
{
  BwImportProblem *problem = g_new0 (BwImportProblem, 1);
  gboolean known = column >= 0 && bw_columns_have (columns, (BwColumn) column);
  const char *cell = known ? bw_csv_cell (row, columns->at[column]) : NULL;
  va_list args;

  problem->line = row->line;
  problem->column = known ? columns->at[column] + 1 : 0;
  problem->heading = g_strdup (known ? columns->headings[column] : "");
  problem->cell = g_strdup (cell != NULL ? cell : "");
  va_start (args, format);
  problem->message = g_strdup_vprintf (format, args);
  va_end (args);
  g_ptr_array_add (report->problems, problem);
}

/* Where one row is read into. */
typedef struct
{
  const BwReference *reference;
  const BwColumns   *columns;
  const BwCsvRow    *row;
  BwImportReport    *report;
  gboolean           ok;
} Reading;

#define COMPLAIN(reading, column, ...)                                                     \
  G_STMT_START                                                                             \
    {                                                                                      \
      bw_import_complain ((reading)->report, (reading)->columns, (reading)->row, column,   \
                          __VA_ARGS__);                                                    \
      (reading)->ok = FALSE;                                                               \
    }                                                                                      \
  G_STMT_END

/* A cell without the spaces at its ends; "" where there is none. */
static char *
cell_of (const Reading *reading,
         BwColumn       column)
{
  const char *cell = NULL;

  if (bw_columns_have (reading->columns, column))
    cell = bw_csv_cell (reading->row, reading->columns->at[column]);

  return g_strstrip (g_strdup (cell != NULL ? cell : ""));
}

static char *
lower_cell (const Reading *reading,
            BwColumn       column)
{
  g_autofree char *cell = cell_of (reading, column);

  return g_utf8_strdown (cell, -1);
}

/* A number with its unit, or with the heading's; "" is 0. */
static double
number_of (Reading    *reading,
           BwColumn    column,
           gboolean    length,
           const char *bare)
{
  g_autofree char *cell = cell_of (reading, column);
  g_autofree char *word = NULL;
  g_autofree char *whole = NULL;
  g_autoptr (GError) error = NULL;
  double value = 0.0;
  gboolean ok;

  if (cell[0] == '\0')
    return 0.0;

  if (bw_units_split (cell, &value, &word, NULL) && word[0] == '\0')
    {
      const char *unit = reading->columns->units[column];

      if (unit == NULL || unit[0] == '\0')
        unit = bare;
      if (unit == NULL)
        {
          COMPLAIN (reading, column,
                    "there is no unit; write 105 mm, or put mm or cm into the heading");
          return 0.0;
        }
      whole = g_strconcat (cell, " ", unit, NULL);
    }

  ok = length ? bw_units_parse_length (whole != NULL ? whole : cell, BW_UNITS_CM, BW_MM_PER_INCH,
                                       &value, &error)
              : bw_units_parse_mass (whole != NULL ? whole : cell, &value, &error);
  if (!ok)
    COMPLAIN (reading, column, "%s", error->message);
  else if (value < 0.0)
    COMPLAIN (reading, column, "it cannot be less than nothing");

  return ok ? MAX (value, 0.0) : 0.0;
}

static double
count_of (Reading  *reading,
          BwColumn  column)
{
  g_autofree char *cell = cell_of (reading, column);
  g_autoptr (GError) error = NULL;
  double value = 0.0;

  if (cell[0] == '\0')
    return 0.0;

  if (!bw_units_parse_number (cell, &value, &error))
    COMPLAIN (reading, column, "%s", error->message);
  else if (value < 0.0)
    COMPLAIN (reading, column, "it cannot be less than nothing");

  return MAX (value, 0.0);
}

/* ---- what a row says of its swatch ------------------------------------------------- */

/* A stitch pattern's id, found by its id or by either of its names. */
static char *
fabric_of (Reading *reading)
{
  g_autofree char *cell = lower_cell (reading, BW_COLUMN_FABRIC);
  g_autofree char *id = g_strdelimit (g_strdup (cell), " _", '-');
  const GPtrArray *fabrics = reading->reference->fabrics->fabrics;

  if (g_str_equal (id, "slip-rib") || g_str_equal (id, "low-rib"))
    return g_steal_pointer (&id);

  for (guint i = 0; i < fabrics->len; i++)
    {
      const BwFabric *fabric = g_ptr_array_index (fabrics, i);
      g_autofree char *uk = g_utf8_strdown (fabric->name_uk != NULL ? fabric->name_uk : "", -1);
      g_autofree char *us = g_utf8_strdown (fabric->name_us != NULL ? fabric->name_us : "", -1);

      if (g_str_equal (id, fabric->id) || g_str_equal (cell, uk) || g_str_equal (cell, us))
        return g_strdup (fabric->id);
    }

  COMPLAIN (reading, BW_COLUMN_FABRIC,
            cell[0] == '\0' ? "there is no stitch pattern; write one, such as plain-low"
                            : "there is no stitch pattern of that name; write one such as plain-low"
                              " or slip-rib");
  return g_strdup ("");
}

static gboolean
is_date (const char *text)
{
  static const char shape[] = "dddd-dd-dd";

  if (strlen (text) != strlen (shape))
    return FALSE;

  for (gsize i = 0; shape[i] != '\0'; i++)
    if (shape[i] == 'd' ? !g_ascii_isdigit (text[i]) : text[i] != shape[i])
      return FALSE;

  return g_date_valid_dmy ((GDateDay) g_ascii_strtoull (text + 8, NULL, 10),
                           (GDateMonth) g_ascii_strtoull (text + 5, NULL, 10),
                           (GDateYear) g_ascii_strtoull (text, NULL, 10));
}

static void
read_identity (Reading         *reading,
               BwLibrarySwatch *swatch)
{
  g_autofree char *worked = cell_of (reading, BW_COLUMN_WORKED);
  g_autofree char *photo = cell_of (reading, BW_COLUMN_PHOTO);

  swatch->hook_mm = number_of (reading, BW_COLUMN_HOOK, TRUE, "mm");
  if (swatch->hook_mm > 50.0)
    COMPLAIN (reading, BW_COLUMN_HOOK, "no hook is thicker than 50 mm; write its thickness in mm");
  g_free (swatch->lot);
  swatch->lot = cell_of (reading, BW_COLUMN_LOT);
  g_free (swatch->worked_by);
  swatch->worked_by = cell_of (reading, BW_COLUMN_WORKED_BY);
  g_free (swatch->note);
  swatch->note = cell_of (reading, BW_COLUMN_NOTE);
  g_free (swatch->made_on);
  swatch->made_on = cell_of (reading, BW_COLUMN_MADE_ON);
  if (swatch->made_on[0] != '\0' && !is_date (swatch->made_on))
    COMPLAIN (reading, BW_COLUMN_MADE_ON, "this is no date; write 2024-05-31");
  swatch->grams = number_of (reading, BW_COLUMN_GRAMS, FALSE, "g");
  swatch->piece_stitches = (guint) MIN (count_of (reading, BW_COLUMN_PIECE_STITCHES), 1e6);
  swatch->piece_rounds = (guint) MIN (count_of (reading, BW_COLUMN_PIECE_ROUNDS), 1e6);
  if (worked[0] != '\0' && !bw_worked_from_text (worked, &swatch->worked))
    COMPLAIN (reading, BW_COLUMN_WORKED, "write rows, turned rounds or rounds");
  if (photo[0] != '\0')
    {
      if (photo[0] == '/' || strstr (photo, "..") != NULL)
        COMPLAIN (reading, BW_COLUMN_PHOTO, "write a path that begins in the library's folder");
      swatch->photo_path = g_steal_pointer (&photo);
    }
}

/* ---- its readings --------------------------------------------------------------------- */

static gboolean
yes_or_no (Reading  *reading,
           BwColumn  column)
{
  static const char *const yes[] = { "yes", "y", "x", "1", "true", "washed", "blocked" };
  static const char *const no[] = { "", "no", "n", "0", "false", "-", "unwashed", "not washed",
                                    "as worked" };
  g_autofree char *cell = lower_cell (reading, column);

  for (gsize i = 0; i < G_N_ELEMENTS (yes); i++)
    if (g_str_equal (cell, yes[i]))
      return TRUE;
  for (gsize i = 0; i < G_N_ELEMENTS (no); i++)
    if (g_str_equal (cell, no[i]))
      return FALSE;

  COMPLAIN (reading, column, "write yes or no");
  return FALSE;
}

static BwLaid
laid_of (Reading *reading)
{
  g_autofree char *cell = lower_cell (reading, BW_COLUMN_LAID);

  if (cell[0] == '\0' || g_str_equal (cell, "relaxed") || g_str_equal (cell, "no"))
    return BW_LAID_RELAXED;
  if (g_str_has_prefix (cell, "gently"))
    return BW_LAID_GENTLY_STRETCHED;
  if (g_str_has_prefix (cell, "fully") || g_str_equal (cell, "stretched") ||
      g_str_equal (cell, "yes"))
    return BW_LAID_FULLY_STRETCHED;

  COMPLAIN (reading, BW_COLUMN_LAID, "write relaxed, gently stretched or fully stretched");
  return BW_LAID_RELAXED;
}

/* A count and a length; both or neither. */
static void
read_pair (Reading         *reading,
           BwLibrarySwatch *swatch,
           BwColumn         counts,
           BwColumn         lengths,
           BwReading        like)
{
  g_autofree char *count = cell_of (reading, counts);
  g_autofree char *length = cell_of (reading, lengths);
  g_autofree char *place = cell_of (reading, BW_COLUMN_PLACE);
  guint n_problems;

  if (count[0] == '\0' && length[0] == '\0')
    return;

  if (count[0] == '\0' || length[0] == '\0')
    {
      COMPLAIN (reading, count[0] == '\0' ? counts : lengths,
                "a reading is a count and the length it spans; this is missing");
      return;
    }

  n_problems = reading->report->problems->len;
  like.count = count_of (reading, counts);
  if (like.count <= 0.0 && reading->report->problems->len == n_problems)
    COMPLAIN (reading, counts, "count at least one");

  n_problems = reading->report->problems->len;
  like.span_mm = number_of (reading, lengths, TRUE, NULL);
  if (like.span_mm <= 0.0 && reading->report->problems->len == n_problems)
    COMPLAIN (reading, lengths, "measure more than nothing");
  if (reading->ok)
    bw_library_swatch_add_reading (swatch, &like, place);
}

static void
read_readings (Reading         *reading,
               BwLibrarySwatch *swatch)
{
  BwReading like = {
    .washed = yes_or_no (reading, BW_COLUMN_WASHED),
    .laid = laid_of (reading),
  };
  g_autofree char *direction = lower_cell (reading, BW_COLUMN_DIRECTION);

  like.direction = BW_READING_STITCHES;
  read_pair (reading, swatch, BW_COLUMN_STITCHES, BW_COLUMN_WIDTH, like);
  like.direction = BW_READING_ROUNDS;
  read_pair (reading, swatch, BW_COLUMN_ROUNDS, BW_COLUMN_HEIGHT, like);

  if (!bw_columns_have (reading->columns, BW_COLUMN_DIRECTION))
    return;

  if (g_str_equal (direction, "stitches") || g_str_equal (direction, "sts") ||
      g_str_equal (direction, "across"))
    like.direction = BW_READING_STITCHES;
  else if (direction[0] != '\0' && !g_str_equal (direction, "rounds") &&
           !g_str_equal (direction, "rows") &&
           !g_str_equal (direction, "up") && !g_str_equal (direction, "upwards"))
    COMPLAIN (reading, BW_COLUMN_DIRECTION, "write stitches or rounds");

  if (direction[0] != '\0')
    read_pair (reading, swatch, BW_COLUMN_COUNT, BW_COLUMN_LENGTH, like);
}

/* ---- the row --------------------------------------------------------------------------- */

void
bw_swatch_row_free (BwSwatchRow *row)
{
  if (row == NULL)
    return;

  bw_library_swatch_free (row->swatch);
  g_free (row->key);
  g_free (row->maker);
  g_free (row);
}

static char *
key_of (const Reading         *reading,
        const BwLibrarySwatch *swatch)
{
  g_autofree char *code = cell_of (reading, BW_COLUMN_SWATCH);

  if (code[0] != '\0')
    return g_strconcat ("code\n", code, NULL);

  return g_strdup_printf ("%s\n%s\n%.6f\n%s\n%u\n%s\n%s", swatch->yarn, swatch->lot,
                          swatch->hook_mm,
                          swatch->fabric, swatch->worked, swatch->worked_by, swatch->made_on);
}

/*
 * bw_swatch_row_read:
 *
 * Returns: (transfer full) (nullable): what the row says; NULL where a cell
 * cannot be read, which is then in @report
 */
BwSwatchRow *
bw_swatch_row_read (const BwReference *reference,
                    const BwColumns   *columns,
                    const BwCsvRow    *row,
                    BwImportReport    *report)
{
  Reading reading = { reference, columns, row, report, TRUE };
  g_autofree char *yarn = cell_of (&reading, BW_COLUMN_YARN);
  g_autofree char *hook = cell_of (&reading, BW_COLUMN_HOOK);
  g_autofree char *fabric = cell_of (&reading, BW_COLUMN_FABRIC);
  g_autofree char *id = NULL;
  BwSwatchRow *read = g_new0 (BwSwatchRow, 1);

  /* a sheet that is filled in only where something changes */
  read->goes_on = yarn[0] == '\0' && hook[0] == '\0' && fabric[0] == '\0';
  id = read->goes_on ? g_strdup ("") : fabric_of (&reading);
  if (!read->goes_on && yarn[0] == '\0')
    COMPLAIN (&reading, BW_COLUMN_YARN, "there is no yarn; write its name");
  if (strstr (yarn, " / ") != NULL)
    COMPLAIN (&reading, BW_COLUMN_YARN,
              "a yarn's name has no stroke between spaces; write it with a dash");

  read->maker = cell_of (&reading, BW_COLUMN_MAKER);
  read->swatch = bw_library_swatch_new (yarn, 0.0, id);
  read_identity (&reading, read->swatch);
  read_readings (&reading, read->swatch);
  read->key = key_of (&reading, read->swatch);
  if (reading.ok)
    return read;

  bw_swatch_row_free (read);
  return NULL;
}
