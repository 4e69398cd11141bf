#include "library-fixture.h"

#include "bw-csv.h"
#include "bw-library-csv.h"
#include "bw-library-yarn.h"

/* ---- the format itself --------------------------------------------------------- */

static void
assert_rows (const char *text,
             const char *wanted)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) rows = bw_csv_parse (text, strlen (text), &error);
  g_autoptr (GString) found = g_string_new (NULL);

  g_assert_no_error (error);
  for (guint i = 0; i < rows->len; i++)
    {
      const BwCsvRow *row = rows->pdata[i];

      g_string_append_printf (found, "%u:", row->line);
      for (guint k = 0; k < row->cells->len; k++)
        {
          const char *cell = bw_csv_cell (row, k);

          g_string_append_printf (found, "[%s]", cell != NULL ? cell : "~");
        }
    }
  g_assert_cmpstr (found->str, ==, wanted);
}

static void
test_format (void)
{
  assert_rows ("a,b,c\r\n1,2,3\r\n", "1:[a][b][c]2:[1][2][3]");
  assert_rows ("a,b\n1,2", "1:[a][b]2:[1][2]");
  assert_rows ("a,b\r1,2\r", "1:[a][b]2:[1][2]");
  assert_rows ("\xef\xbb\xbf" "a;b\n1,5;2\n", "1:[a][b]2:[1,5][2]");
  assert_rows ("a\tb\n1;5\t2,5\n", "1:[a][b]2:[1;5][2,5]");
  assert_rows ("a,b\n\n,\n\"\",x\n", "1:[a][b]4:[][x]");
  assert_rows ("a,b\n\"one, \"\"two\"\"\r\nthree\",x\ny,z\n",
               "1:[a][b]2:[one, \"two\"\r\nthree][x]4:[y][z]");
  assert_rows ("\"a;b\",c\n1,2\n", "1:[a;b][c]2:[1][2]");
  assert_rows ("", "");
}

static void
test_format_errors (void)
{
  g_autoptr (GError) error = NULL;

  g_assert_null (bw_csv_parse ("a,b\n\"never, closed\n", 19, &error));
  g_assert_error (error, BW_LIBRARY_ERROR, BW_LIBRARY_ERROR_INVALID);
  g_assert_true (g_str_has_prefix (error->message, "line 2:"));
  g_clear_error (&error);
  g_assert_null (bw_csv_parse ("a,b\n\xff\xfe,1\n", 9, &error));
  g_assert_true (g_str_has_prefix (error->message, "line 2:"));
}

/* Anything that is written is read back. */
static void
test_format_round_trip (void)
{
  static const char *const pieces[] = { "a", "\"", ",", ";", "\n", "\r\n", " ", "é", "\t", "",
                                        "0" };
  g_autoptr (GRand) rand = g_rand_new_with_seed (3);

  for (guint turn = 0; turn < 300; turn++)
    {
      g_autoptr (GString) out = g_string_new ("one,two,three\r\n");
      g_autoptr (GPtrArray) cells = g_ptr_array_new_with_free_func (g_free);
      g_autoptr (GPtrArray) rows = NULL;

      for (guint i = 0; i < 3; i++)
        {
          g_autoptr (GString) cell = g_string_new (NULL);

          for (gint k = g_rand_int_range (rand, 0, 5); k > 0; k--)
            g_string_append (cell, pieces[g_rand_int_range (rand, 0, G_N_ELEMENTS (pieces))]);
          if (i > 0 && g_rand_int_range (rand, 0, 5) == 0)
            g_ptr_array_add (cells, NULL);
          else
            g_ptr_array_add (cells, g_strdup (cell->str));
          bw_csv_append_cell (out, cells->pdata[i], i == 2);
        }
      rows = bw_csv_parse (out->str, out->len, NULL);
      g_assert_cmpuint (rows->len, ==, 2);
      for (guint i = 0; i < 3; i++)
        g_assert_cmpstr (bw_csv_cell (rows->pdata[1], i), ==, cells->pdata[i]);
    }
}

/* ---- swatches --------------------------------------------------------------------- */

static BwImportReport *
import (Fixture       *fixture,
        const char    *text,
        BwImportFlags  flags,
        gboolean       wanted,
        int            code)
{
  g_autoptr (GError) error = NULL;
  BwImportReport *report = bw_import_report_new ();
  gboolean ok = bw_library_import_swatches (fixture->library, fixture->reference, text,
                                            strlen (text), flags, report, &error);

  for (guint i = 0; i < report->problems->len; i++)
    {
      const BwImportProblem *problem = report->problems->pdata[i];

      g_test_message ("%u:%u %s \"%s\": %s", problem->line, problem->column, problem->heading,
                      problem->cell, problem->message);
    }
  if (wanted)
    g_assert_no_error (error);
  else
    g_assert_error (error, BW_LIBRARY_ERROR, code);
  g_assert_cmpint (ok, ==, wanted);

  return report;
}

static BwLibrarySwatch *
only_swatch (Fixture *fixture)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) swatches = bw_library_list_swatches (fixture->library, NULL, &error);

  g_assert_no_error (error);
  g_assert_cmpuint (swatches->len, ==, 1);

  return g_ptr_array_steal_index (swatches, 0);
}

static void
assert_reading (const BwLibrarySwatch *swatch,
                guint                  at,
                BwReadingDirection     direction,
                double                 count,
                double                 span_mm,
                gboolean               washed,
                BwLaid                 laid)
{
  const BwReading *reading = &g_array_index (swatch->readings, BwPlacedReading, at).reading;

  g_assert_cmpint (reading->direction, ==, direction);
  g_assert_cmpfloat (reading->count, ==, count);
  g_assert_cmpfloat_with_epsilon (reading->span_mm, span_mm, 1e-9);
  g_assert_cmpint (reading->washed, ==, washed);
  g_assert_cmpint (reading->laid, ==, laid);
}

/* As a spreadsheet of the continent writes it. */
static void
test_semicolons (Fixture       *fixture,
                 gconstpointer  data)
{
  static const char text[] =
    "\xef\xbb\xbf"
    "Yarn;Brand;Hook size;Stitch;Sts;Width;Rnds;Height (cm);Where;Washed;Weight;Mood\r\n"
    "Quay Merino;Invented;4,5 mm;plain-low;20;12,7 cm;16;9,15;middle;yes;12,5 g;calm\r\n"
    ";;;;20;128 mm;;;edge;x;;\r\n"
    ";;;;22;5,5 in;;;;no;;\r\n";
  g_autoptr (BwImportReport) report = import (fixture, text, BW_IMPORT_ALL, TRUE, 0);
  g_autoptr (BwLibrarySwatch) swatch = only_swatch (fixture);
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) yarns = bw_library_list_yarns (fixture->library, NULL, &error);

  (void) data;
  g_assert_cmpuint (report->problems->len, ==, 0);
  g_assert_cmpuint (report->n_rows, ==, 3);
  g_assert_cmpuint (report->n_readings, ==, 4);
  g_assert_cmpuint (report->n_yarns, ==, 1);
  g_assert_cmpuint (report->ignored->len, ==, 1);
  g_assert_cmpstr (report->ignored->pdata[0], ==, "Mood");
  g_assert_cmpstr (((BwLibraryYarn *) yarns->pdata[0])->maker, ==, "Invented");
  g_assert_cmpfloat_with_epsilon (swatch->hook_mm, 4.5, 1e-12);
  g_assert_cmpfloat_with_epsilon (swatch->grams, 12.5, 1e-12);
  g_assert_cmpuint (swatch->readings->len, ==, 4);
  assert_reading (swatch, 0, BW_READING_STITCHES, 20, 127.0, TRUE, BW_LAID_RELAXED);
  assert_reading (swatch, 1, BW_READING_ROUNDS, 16, 91.5, TRUE, BW_LAID_RELAXED);
  assert_reading (swatch, 2, BW_READING_STITCHES, 20, 128.0, TRUE, BW_LAID_RELAXED);
  assert_reading (swatch, 3, BW_READING_STITCHES, 22, 139.7, FALSE, BW_LAID_RELAXED);
  g_assert_cmpstr (g_array_index (swatch->readings, BwPlacedReading, 2).place, ==, "edge");
}

static void
test_long_form (Fixture       *fixture,
                gconstpointer  data)
{
  static const char text[] =
    "code,yarn,hook,stitch pattern,worked in,date,direction,count,length in mm,laid\n"
    "S1,Quay Merino,5,Slip rib,rows,2024-05-31,stitches,27,100,relaxed\n"
    "S2,Quay Merino,5,plain_low,turned rounds,2024-02-29,rows,12.5,104.25,gently\n"
    "S1,Quay Merino,5,slip-rib,rows,2024-05-31,stitches,27,143.5,fully stretched\n";
  g_autoptr (BwImportReport) report = import (fixture, text, BW_IMPORT_ALL, TRUE, 0);
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) swatches = bw_library_list_swatches (fixture->library, NULL, &error);

  (void) data;
  g_assert_cmpuint (report->n_swatches, ==, 2);
  g_assert_cmpuint (swatches->len, ==, 2);
  for (guint i = 0; i < 2; i++)
    {
      const BwLibrarySwatch *swatch = swatches->pdata[i];

      if (g_str_equal (swatch->fabric, "slip-rib"))
        {
          g_assert_cmpint (swatch->worked, ==, BW_WORKED_ROWS);
          g_assert_cmpuint (swatch->readings->len, ==, 2);
          assert_reading (swatch, 1, BW_READING_STITCHES, 27, 143.5, FALSE,
                          BW_LAID_FULLY_STRETCHED);
        }
      else
        {
          g_assert_cmpint (swatch->worked, ==, BW_WORKED_TURNED_ROUNDS);
          g_assert_cmpstr (swatch->made_on, ==, "2024-02-29");
          assert_reading (swatch, 0, BW_READING_ROUNDS, 12.5, 104.25, FALSE,
                          BW_LAID_GENTLY_STRETCHED);
        }
    }
}

static void
assert_problem (const BwImportReport *report,
                guint                 at,
                guint                 line,
                guint                 column,
                const char           *cell)
{
  const BwImportProblem *problem = report->problems->pdata[at];

  g_assert_cmpuint (problem->line, ==, line);
  g_assert_cmpuint (problem->column, ==, column);
  g_assert_cmpstr (problem->cell, ==, cell);
}

static const char faulty[] =
  "yarn,hook,pattern,stitches,width,washed,date\n"
  "Quay Merino,4 mm,plain-low,20,127 mm,yes,2024-05-31\n"
  "Quay Merino,thick,plain-low,20,127 mm,yes,\n"
  "Quay Merino,4 mm,cable,20,127 mm,yes,\n"
  "Quay Merino,4 mm,plain-low,20,127,yes,2023-02-29\n"
  "Quay Merino,4 mm,plain-low,,127 mm,perhaps,\n"
  "Quay Merino,4 mm,plain-low,20,\"128\n mm\",yes,2024-05-31\n"
  ",4 mm,plain-low,0,127 mm,yes,\n";

/* All or nothing: where the faults are, line by line and column by column. */
static void
test_all_or_nothing (Fixture       *fixture,
                     gconstpointer  data)
{
  g_autoptr (BwImportReport) report = import (fixture, faulty, BW_IMPORT_ALL, FALSE,
                                              BW_LIBRARY_ERROR_INVALID);
  g_autofree char *left = NULL;

  (void) data;
  g_assert_cmpuint (report->problems->len, ==, 8);
  assert_problem (report, 0, 3, 2, "thick");
  assert_problem (report, 1, 4, 3, "cable");
  assert_problem (report, 2, 5, 7, "2023-02-29");
  assert_problem (report, 3, 5, 5, "127");
  assert_problem (report, 4, 6, 6, "perhaps");
  assert_problem (report, 5, 6, 4, "");
  assert_problem (report, 6, 9, 1, "");
  assert_problem (report, 7, 9, 4, "0");
  g_assert_cmpuint (report->n_swatches, ==, 0);
  left =
    sql_text (fixture->path,
              "SELECT (SELECT count (*) FROM swatch) + (SELECT count (*) FROM yarn)");
  g_assert_cmpstr (left, ==, "0");
}

static void
test_partial (Fixture       *fixture,
              gconstpointer  data)
{
  g_autoptr (BwImportReport) report = import (fixture, faulty, BW_IMPORT_PARTIAL, TRUE, 0);
  g_autoptr (BwLibrarySwatch) swatch = only_swatch (fixture);

  (void) data;
  g_assert_cmpuint (report->problems->len, ==, 8);
  g_assert_cmpuint (report->n_rows, ==, 7);
  g_assert_cmpuint (report->n_left_out, ==, 5);
  g_assert_cmpuint (swatch->readings->len, ==, 2);
  assert_reading (swatch, 1, BW_READING_STITCHES, 20, 128, TRUE, BW_LAID_RELAXED);
}

static void
test_try (Fixture       *fixture,
          gconstpointer  data)
{
  g_autoptr (BwImportReport) report = import (fixture, faulty, BW_IMPORT_PARTIAL | BW_IMPORT_TRY,
                                              TRUE, 0);
  g_autofree char *left = sql_text (fixture->path, "SELECT count (*) FROM swatch");

  (void) data;
  g_assert_cmpuint (report->n_swatches, ==, 1);
  g_assert_cmpstr (left, ==, "0");
}

static void
test_headings (Fixture       *fixture,
               gconstpointer  data)
{
  static const char *const refused[] = {
    "hook,pattern,stitches,width\n4,plain-low,20,127 mm\n",
    "yarn,hook,pattern,stitches\nQuay,4,plain-low,20\n",
    "yarn,hook,hook size,pattern,stitches,width\nQuay,4,5,plain-low,20,127 mm\n",
    "yarn,hook,pattern,stitches,width\n",
    "",
    "yarn,hook,pattern,stitches,width\nQuay / West,4,plain-low,20,127 mm\n",
    "yarn,hook,pattern,stitches,width\n,,,20,127 mm\n",
    "yarn,hook,pattern,stitches,width\nQuay,4,plain-low,20,-127 mm\n",
    "yarn,hook,pattern,stitches,width\nQuay,4,plain-low,20,127 furlongs\n",
    "no,yarn,hook,stitch,sts,across\n1,Quay,4,plain-low,20,127 mm\n1,Quay,5,plain-low,20,127 mm\n",
  };

  (void) data;
  for (gsize i = 0; i < G_N_ELEMENTS (refused); i++)
    {
      g_autoptr (BwImportReport) report = import (fixture, refused[i], BW_IMPORT_ALL, FALSE,
                                                  BW_LIBRARY_ERROR_INVALID);

      g_assert_cmpuint (report->n_swatches, ==, 0);
    }
}

/* What goes out comes in again, equal to the last bit. */
static void
test_round_trip (Fixture       *fixture,
                 gconstpointer  data)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (14);
  g_autoptr (GError) error = NULL;
  g_autofree char *out = NULL;
  g_autofree char *again = NULL;
  g_autofree char *path = g_build_filename (fixture->folder, "second.db", NULL);
  g_autoptr (BwLibrary) second = bw_library_open (path, BW_LIBRARY_OPEN_CREATE, &error);
  g_autoptr (BwImportReport) report = bw_import_report_new ();
  g_autoptr (BwLibraryYarn) yarn = bw_library_yarn_new ("Quay, \"Merino\"");

  (void) data;
  g_assert_true (bw_library_save_yarn (fixture->library, yarn, &error));
  for (guint i = 0; i < 60; i++)
    {
      g_autoptr (BwLibrarySwatch) swatch = bw_library_swatch_new (yarn->name,
                                                                  random_figure (rand, 2, 12),
                                                                  "plain-low");

      swatch->worked = (BwWorked) (i % 3);
      swatch->grams = i % 4 == 0 ? 0 : random_figure (rand, 1, 50);
      swatch->piece_stitches = i;
      g_free (swatch->note);
      swatch->note = g_strdup (i % 2 == 0 ? "two\nlines; \"quoted\"" : "");
      g_free (swatch->lot);
      swatch->lot = g_strdup (i % 5 == 0 ? "A17" : "");
      for (guint k = 0; k < 5; k++)
        {
          BwReading reading = {
            .direction = (BwReadingDirection) g_rand_boolean (rand),
            .count = random_figure (rand, 1, 60),
            .span_mm = random_figure (rand, 10, 300),
            .washed = g_rand_boolean (rand),
            .laid = (BwLaid) g_rand_int_range (rand, 0, 3),
          };

          bw_library_swatch_add_reading (swatch, &reading, k == 0 ? "by the edge" : "");
        }
      g_assert_true (bw_library_save_swatch (fixture->library, swatch, &error));
      g_assert_no_error (error);
    }

  out = bw_library_export_swatches (fixture->library, NULL, &error);
  g_assert_no_error (error);
  g_assert_true (bw_library_import_swatches (second, fixture->reference, out, strlen (out),
                                             BW_IMPORT_ALL, report, &error));
  g_assert_no_error (error);
  g_assert_cmpuint (report->n_readings, ==, 300);
  again = bw_library_export_swatches (second, NULL, &error);

  /* the codes are each library's own */
  {
    g_auto (GStrv) a = g_strsplit (out, "\r\n", -1);
    g_auto (GStrv) b = g_strsplit (again, "\r\n", -1);

    g_assert_cmpuint (g_strv_length (a), ==, g_strv_length (b));
    g_assert_cmpuint (g_strv_length (a), >, 300);
    for (guint i = 0; a[i] != NULL && strchr (a[i], ',') != NULL; i++)
      g_assert_cmpstr (strchr (a[i], ','), ==, strchr (b[i], ','));
  }
}

int
main (int    argc,
      char **argv)
{
  g_test_init (&argc, &argv, NULL);

  g_test_add_func ("/library/csv/format", test_format);
  g_test_add_func ("/library/csv/format-errors", test_format_errors);
  g_test_add_func ("/library/csv/format-round-trip", test_format_round_trip);
#define ADD(path, function) \
  g_test_add ("/library/csv/" path, Fixture, NULL, fixture_set_up, function, fixture_tear_down)
  ADD ("semicolons", test_semicolons);
  ADD ("long-form", test_long_form);
  ADD ("all-or-nothing", test_all_or_nothing);
  ADD ("partial", test_partial);
  ADD ("try", test_try);
  ADD ("headings", test_headings);
  ADD ("round-trip", test_round_trip);

  return g_test_run ();
}
