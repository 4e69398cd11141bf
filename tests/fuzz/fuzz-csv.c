#include <glib/gstdio.h>
#include <stdlib.h>

#include "bw-library-csv.h"
#include "bw-library.h"
#include "bw-reference-builtin.h"
#include "fuzz.h"

/* Any bytes are a table of swatches or one error. It is tried on a library, which
 * changes nothing; every cell that could not be read is named by a place in the
 * table. */

static const BwReference *reference;
static BwLibrary *library;
static char *folder;

static void
remove_library (void)
{
  static const char *const names[] = { "library.db", "library.db-wal", "library.db-shm" };

  bw_library_close (library);
  for (guint i = 0; i < G_N_ELEMENTS (names); i++)
    {
      g_autofree char *path = g_build_filename (folder, names[i], NULL);

      g_unlink (path);
    }
  g_rmdir (folder);
}

static void
open_library (void)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *path = NULL;

  folder = g_dir_make_tmp ("fuzz-csv-XXXXXX", &error);
  g_assert_no_error (error);
  path = g_build_filename (folder, "library.db", NULL);
  library = bw_library_open (path, BW_LIBRARY_OPEN_CREATE, &error);
  g_assert_no_error (error);
  reference = bw_reference_builtin (NULL);
  g_assert (reference != NULL);
  atexit (remove_library);
}

static void
check_report (const BwImportReport *report,
              const guint8         *data,
              gsize                 size)
{
  guint lines = 2;

  for (gsize i = 0; i < size; i++)
    lines += data[i] == '\n' || data[i] == '\r';
  g_assert (report->n_left_out <= report->n_rows);
  g_assert (report->n_swatches <= report->n_rows);
  for (guint i = 0; i < report->problems->len; i++)
    {
      const BwImportProblem *problem = g_ptr_array_index (report->problems, i);

      g_assert (problem->line >= 1 && problem->line <= lines);
      g_assert (problem->message != NULL && g_utf8_validate (problem->message, -1, NULL));
      g_assert (problem->heading != NULL);
    }
}

int
LLVMFuzzerTestOneInput (const guint8 *data,
                        gsize         size)
{
  g_autoptr (BwImportReport) report = bw_import_report_new ();
  g_autoptr (GError) error = NULL;
  gboolean ok;

  if (library == NULL)
    open_library ();
  ok = bw_library_import_swatches (library, reference, size > 0 ? (const char *) data : "", size,
                                   BW_IMPORT_PARTIAL | BW_IMPORT_TRY, report, &error);
  g_assert (ok == (error == NULL));
  check_report (report, data, size);
  return 0;
}
