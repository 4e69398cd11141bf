#include "graded.h"
#include "library-fixture.h"

#include "bw-library-csv.h"
#include "bw-library-exchange.h"
#include "bw-library-photo.h"
#include "bw-library-yarn.h"

/* Photographs: beside the library by their path, or in it up to 4 MiB. */

static const char png[] = "\x89PNG\r\n\x1a\n" "no picture, but it begins like one";

static char *
file_in (Fixture    *fixture,
         const char *name,
         const char *bytes,
         gsize       length)
{
  char *path = g_build_filename (fixture->folder, name, NULL);
  g_autofree char *folder = g_path_get_dirname (path);

  g_assert_cmpint (g_mkdir_with_parents (folder, 0755), ==, 0);
  if (bytes != NULL)
    g_assert_true (g_file_set_contents (path, bytes, (gssize) length, NULL));

  return path;
}

static BwLibrarySwatch *
new_swatch (Fixture    *fixture,
            const char *yarn_name)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (BwLibraryYarn) yarn = bw_library_yarn_new (yarn_name);
  BwLibrarySwatch *swatch = bw_library_swatch_new (yarn_name, 4.0, "plain-low");
  BwReading reading = { BW_READING_STITCHES, 20, 127, TRUE, BW_LAID_RELAXED };

  g_assert_true (bw_library_save_yarn (fixture->library, yarn, &error));
  bw_library_swatch_add_reading (swatch, &reading, "");

  return swatch;
}

static void
assert_photo (BwLibrary  *library,
              gint64      id,
              const void *bytes,
              gsize       length)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (BwLibrarySwatch) swatch = bw_library_get_swatch (library, id, &error);

  g_assert_no_error (error);
  g_assert_null (swatch->photo_path);
  g_assert_nonnull (swatch->photo);
  g_assert_cmpmem (g_bytes_get_data (swatch->photo, NULL), g_bytes_get_size (swatch->photo), bytes,
                   length);
}

/* 4 MiB is kept, one byte more is not even read. */
static void
test_limit (Fixture       *fixture,
            gconstpointer  data)
{
  g_autofree char *bytes = g_malloc0 (BW_LIBRARY_PHOTO_MAX + 1);
  g_autofree char *largest = file_in (fixture, "largest.jpg", bytes, BW_LIBRARY_PHOTO_MAX);
  g_autofree char *large = file_in (fixture, "large.jpg", bytes, BW_LIBRARY_PHOTO_MAX + 1);
  g_autoptr (BwLibrarySwatch) swatch = new_swatch (fixture, "Quay");
  g_autoptr (GError) error = NULL;

  (void) data;
  g_assert_false (bw_library_swatch_take_photo (swatch, large, &error));
  g_assert_error (error, BW_LIBRARY_ERROR, BW_LIBRARY_ERROR_INVALID);
  g_clear_error (&error);
  g_assert_false (bw_library_swatch_take_photo (swatch, fixture->folder, &error));
  g_assert_error (error, BW_LIBRARY_ERROR, BW_LIBRARY_ERROR_MISSING);
  g_clear_error (&error);
  g_assert_true (bw_library_swatch_take_photo (swatch, largest, &error));
  g_assert_no_error (error);
  g_assert_true (bw_library_save_swatch (fixture->library, swatch, &error));
  g_assert_no_error (error);
  assert_photo (fixture->library, swatch->id, bytes, BW_LIBRARY_PHOTO_MAX);
  assert_sound (fixture->library);
}

/* A path is kept from the library's folder on, and nowhere else. */
static void
test_path (Fixture       *fixture,
           gconstpointer  data)
{
  g_autofree char *inside = file_in (fixture, "photos/tar.png", png, sizeof png);
  g_autofree char *beside = g_strconcat (fixture->folder, "-beside.png", NULL);
  g_autoptr (GError) error = NULL;
  g_autofree char *path = bw_library_photo_path (fixture->library, inside, &error);
  g_autofree char *later = bw_library_photo_path (fixture->library, "photos/later.png", &error);

  (void) data;
  g_assert_no_error (error);
  g_assert_cmpstr (path, ==, "photos/tar.png");
  g_assert_cmpstr (later, ==, "photos/later.png");
  g_assert_null (bw_library_photo_path (fixture->library, "/etc/passwd", &error));
  g_assert_error (error, BW_LIBRARY_ERROR, BW_LIBRARY_ERROR_INVALID);
  g_clear_error (&error);
  g_assert_null (bw_library_photo_path (fixture->library, beside, &error));
  g_assert_error (error, BW_LIBRARY_ERROR, BW_LIBRARY_ERROR_INVALID);
}

static void
test_names (void)
{
  static const struct
  {
    const char *bytes;
    gsize       length;
    const char *name;
  } cases[] = {
    { png, sizeof png, "swatch-3.png" },
    { "\xff\xd8\xff\xe0", 4, "swatch-3.jpg" },
    { "GIF89a", 6, "swatch-3.gif" },
    { "RIFF\1\2\3\4WEBPVP8 ", 16, "swatch-3.webp" },
    { "RIFF\1\2\3\4WAVEfmt ", 16, "swatch-3.picture" },
    { "", 0, "swatch-3.picture" },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (GBytes) photo = g_bytes_new_static (cases[i].bytes, cases[i].length);
      g_autofree char *name = bw_library_photo_name (3, photo);

      g_assert_cmpstr (name, ==, cases[i].name);
    }
}

/* Out as a table and pictures beside it, and in again: pictures and paths. */
static void
test_table (Fixture       *fixture,
            gconstpointer  data)
{
  g_autofree char *folder = file_in (fixture, "out", NULL, 0);
  g_autofree char *other = file_in (fixture, "second.db", NULL, 0);
  g_autoptr (BwLibrarySwatch) with = new_swatch (fixture, "Quay");
  g_autoptr (BwLibrarySwatch) by_path = new_swatch (fixture, "Pier");
  g_autoptr (BwImportReport) report = bw_import_report_new ();
  g_autoptr (BwLibrary) second = NULL;
  g_autoptr (BwLibrarySwatch) back = NULL;
  g_autoptr (GError) error = NULL;
  g_autofree char *table = NULL;
  guint n_photos;

  (void) data;
  with->photo = g_bytes_new_static (png, sizeof png);
  by_path->photo_path = g_strdup ("photos/tar.png");
  g_assert_true (bw_library_save_swatch (fixture->library, with, &error));
  g_assert_true (bw_library_save_swatch (fixture->library, by_path, &error));
  table = bw_library_export_with_photos (fixture->library, NULL, folder, &n_photos, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (n_photos, ==, 1);
  g_assert_nonnull (strstr (table, ",swatch-1.png,"));
  g_assert_nonnull (strstr (table, ",photos/tar.png,"));

  second = bw_library_open (other, BW_LIBRARY_OPEN_CREATE, &error);
  g_assert_true (bw_library_import_with_photos (second, fixture->reference, table, strlen (table),
                                                folder, BW_IMPORT_ALL, report, &error));
  g_assert_no_error (error);
  g_assert_cmpuint (report->n_photos, ==, 1);
  back = bw_library_get_swatch (second, 1, &error);
  g_assert_cmpstr (back->photo_path, ==, "photos/tar.png"); /* Pier comes before Quay */
  assert_photo (second, 2, png, sizeof png);

  /* nothing is overwritten */
  g_clear_pointer (&table, g_free);
  table = bw_library_export_with_photos (fixture->library, NULL, folder, &n_photos, &error);
  g_assert_null (table);
  g_assert_error (error, BW_LIBRARY_ERROR, BW_LIBRARY_ERROR_EXISTS);
}

/* One that is too large is told by line and column, and nothing is taken. */
static void
test_too_large (Fixture       *fixture,
                gconstpointer  data)
{
  static const char text[] =
    "yarn,hook,pattern,stitches,width,photo\nQuay,4,plain-low,20,127 mm,small.png\n"
    "Quay,5,plain-low,20,135 mm,large.png\n";
  g_autofree char *bytes = g_malloc0 (BW_LIBRARY_PHOTO_MAX + 1);
  g_autofree char *large = file_in (fixture, "in/large.png", bytes, BW_LIBRARY_PHOTO_MAX + 1);
  g_autofree char *small = file_in (fixture, "in/small.png", png, sizeof png);
  g_autofree char *folder = g_path_get_dirname (large);
  g_autoptr (BwImportReport) report = bw_import_report_new ();
  g_autoptr (GError) error = NULL;
  g_autofree char *left = NULL;
  const BwImportProblem *problem;

  (void) data;
  (void) small;
  g_assert_false (bw_library_import_with_photos (fixture->library, fixture->reference, text,
                                                 strlen (text), folder, BW_IMPORT_ALL, report,
                                                 &error));
  g_assert_error (error, BW_LIBRARY_ERROR, BW_LIBRARY_ERROR_INVALID);
  g_clear_error (&error);
  g_assert_cmpuint (report->problems->len, ==, 1);
  problem = report->problems->pdata[0];
  g_assert_cmpuint (problem->line, ==, 3);
  g_assert_cmpuint (problem->column, ==, 6);
  g_assert_nonnull (strstr (problem->message, "4 MiB"));
  left = sql_text (fixture->path, "SELECT count (*) FROM swatch");
  g_assert_cmpstr (left, ==, "0");

  g_ptr_array_set_size (report->problems, 0);
  g_assert_true (bw_library_import_with_photos (fixture->library, fixture->reference, text,
                                                strlen (text), folder, BW_IMPORT_PARTIAL, report,
                                                &error));
  assert_photo (fixture->library, 1, png, sizeof png);
}

static void
test_export_all (Fixture       *fixture,
                 gconstpointer  data)
{
  g_autofree char *folder = file_in (fixture, "out", NULL, 0);
  g_autofree char *picture = file_in (fixture, "out/photographs/swatch-1.png", NULL, 0);
  g_autoptr (BwLibrarySwatch) swatch = new_swatch (fixture, "Quay");
  g_autoptr (GPtrArray) problems = g_ptr_array_new_with_free_func (g_free);
  g_autoptr (GError) error = NULL;
  g_autofree char *bytes = NULL;
  gsize length;

  (void) data;
  remove_tree (folder);
  swatch->photo = g_bytes_new_static (png, sizeof png);
  g_assert_true (bw_library_save_swatch (fixture->library, swatch, &error));
  g_assert_true (bw_library_export_all (fixture->library, fixture->reference, folder, problems,
                                        &error));
  g_assert_no_error (error);
  g_assert_cmpuint (problems->len, ==, 0);
  g_assert_true (g_file_get_contents (picture, &bytes, &length, &error));
  g_assert_cmpmem (bytes, length, png, sizeof png);
}

int
main (int    argc,
      char **argv)
{
  g_test_init (&argc, &argv, NULL);

#define ADD(path, function) \
  g_test_add ("/library/photo/" path, Fixture, NULL, fixture_set_up, function, fixture_tear_down)
  ADD ("limit", test_limit);
  ADD ("path", test_path);
  g_test_add_func ("/library/photo/names", test_names);
  ADD ("table", test_table);
  ADD ("too-large", test_too_large);
  ADD ("export-all", test_export_all);

  return g_test_run ();
}
