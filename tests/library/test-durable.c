#ifndef _GNU_SOURCE
#define _GNU_SOURCE /* syscall() */
#endif

#include <errno.h>
#include <sys/syscall.h>
#include <unistd.h>

#include "graded.h"
#include "library-fixture.h"

#include "bw-library-private.h"
#include "bw-library-revision.h"

/* What must survive the power going. SQLite's document "PRAGMA statements"
 * (sqlite.org) says that with a write-ahead log, synchronous=FULL syncs the log
 * at each commit and NORMAL does not. Both are looked at: what the pragma says
 * while a revision is written, and which files are synced, because the calls by
 * which SQLite syncs are answered by this program. */

static guint n_log_syncs;  /* of the write-ahead log */
static gint64 log_synced;  /* how long the log was at its last sync */


static void
note_sync (int fd)
{
  g_autofree char *link = g_strdup_printf ("/proc/self/fd/%d", fd);
  char path[4096];
  gssize length = readlink (link, path, sizeof path - 1);

  if (length < 4 || memcmp (path + length - 4, "-wal", 4) != 0)
    return;

  n_log_syncs++;
  log_synced = lseek (fd, 0, SEEK_END);
}

int
fdatasync (int fd)
{
  note_sync (fd);

  return (int) syscall (SYS_fdatasync, fd);
}

int
fsync (int fd)
{
  note_sync (fd);

  return (int) syscall (SYS_fsync, fd);
}

static gint64
synchronous_of (BwLibrary *library)
{
  g_autoptr (GError) error = NULL;
  gint64 value = -1;

  bw_sql_get_int (library, &value, &error, "PRAGMA synchronous", "");
  g_assert_no_error (error);

  return value;
}

static void
copy_beginning (const char *from,
                const char *to,
                gint64      length)
{
  g_autofree char *bytes = NULL;
  g_autoptr (GError) error = NULL;
  gsize whole;

  g_file_get_contents (from, &bytes, &whole, &error);
  g_assert_no_error (error);
  if (length >= 0)
    whole = MIN (whole, (gsize) length);
  g_file_set_contents (to, bytes, (gssize) whole, &error);
  g_assert_no_error (error);
}

/* What is left after the power went: the library, and so much of its log. */
static BwLibrary *
open_after_power_cut (Fixture *fixture,
                      gint64   log_length)
{
  g_autofree char *path = g_build_filename (fixture->folder, "left.db", NULL);
  g_autofree char *log = g_strconcat (fixture->path, "-wal", NULL);
  g_autofree char *left_log = g_strconcat (path, "-wal", NULL);
  g_autofree char *left_shm = g_strconcat (path, "-shm", NULL);
  g_autoptr (GError) error = NULL;
  BwLibrary *left;

  g_unlink (left_shm);
  copy_beginning (fixture->path, path, -1);
  copy_beginning (log, left_log, log_length);
  left = bw_library_open (path, BW_LIBRARY_OPEN_DEFAULT, &error);
  g_assert_no_error (error);

  return left;
}

static void
save_edit (Fixture  *fixture,
           gint64    id,
           BwDesign *design,
           double    brim_mm)
{
  g_autoptr (GError) error = NULL;
  BwLibraryEdit edit = { .label = "Edit" };

  design->brim.height_mm = brim_mm;
  g_assert_true (bw_library_save (fixture->library, id, design, &edit, &error));
  g_assert_no_error (error);
}

static gint64
add_oracle (Fixture   *fixture,
            BwDesign **design)
{
  g_autoptr (GError) error = NULL;
  gint64 id = 0;

  *design = read_design (fixture->reference, "oracle.hat");
  g_assert_true (bw_library_add (fixture->library, *design, &id, &error));
  g_assert_no_error (error);

  return id;
}

/* 2 is FULL, 1 is NORMAL. A trigger of this connection alone looks at the very
 * moment at which the revision's row is there. */
static void
test_pragma (Fixture       *fixture,
             gconstpointer  data)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (BwDesign) design = NULL;
  gint64 id = add_oracle (fixture, &design);
  g_autoptr (BwGrading) grading = grade (fixture->reference, design);
  g_autoptr (BwLibrary) reader = bw_library_open (fixture->path, BW_LIBRARY_OPEN_READ_ONLY, &error);
  gint64 seen = 0;
  guint number;

  (void) data;
  g_assert_cmpint (synchronous_of (fixture->library), ==, 1);
  g_assert_cmpint (synchronous_of (reader), >=, 1);
  g_assert_true (bw_sql_run (fixture->library,
                             "CREATE TEMP TABLE seen (what TEXT, value INTEGER);"
                             "CREATE TEMP TRIGGER see AFTER INSERT ON main.revision BEGIN"
                             " INSERT INTO seen"
                             " SELECT 'revision', synchronous FROM pragma_synchronous; END;"
                             "CREATE TEMP TRIGGER see_save AFTER INSERT ON main.undo_step BEGIN"
                             " INSERT INTO seen"
                             " SELECT 'save', synchronous FROM pragma_synchronous; END",
                             &error));
  g_assert_no_error (error);

  save_edit (fixture, id, design, 61.0);
  g_assert_true (bw_library_revise (fixture->library, id, grading, "One", &number, &error));
  g_assert_no_error (error);
  g_assert_true (bw_sql_get_int (fixture->library, &seen, &error,
                                 "SELECT value FROM seen WHERE what = 'revision'", ""));
  g_assert_cmpint (seen, ==, 2);
  g_assert_true (bw_sql_get_int (fixture->library, &seen, &error,
                                 "SELECT value FROM seen WHERE what = 'save'", ""));
  g_assert_cmpint (seen, >=, 1);
  g_assert_cmpint (synchronous_of (fixture->library), ==, 1);

  /* one that fails goes back to it, too */
  g_assert_false (bw_library_revise (fixture->library, 4711, grading, "None", &number, &error));
  g_assert_error (error, BW_LIBRARY_ERROR, BW_LIBRARY_ERROR_INVALID);
  g_assert_cmpint (synchronous_of (fixture->library), ==, 1);
}

/* The log is on the disk before a revision is reported, and a revision is there
 * when the power goes at once and takes all that was not synced. */
static void
test_revision_synced (Fixture       *fixture,
                      gconstpointer  data)
{
  g_autoptr (BwDesign) design = NULL;
  gint64 id = add_oracle (fixture, &design);
  g_autoptr (BwGrading) grading = grade (fixture->reference, design);

  (void) data;
  for (guint i = 1; i <= 10; i++)
    {
      g_autoptr (GError) error = NULL;
      g_autoptr (BwLibrary) left = NULL;
      g_autoptr (GPtrArray) revisions = NULL;
      guint before, number;

      save_edit (fixture, id, design, 40.0 + i);
      before = n_log_syncs;
      g_assert_true (bw_library_revise (fixture->library, id, grading, "Again", &number, &error));
      g_assert_cmpuint (n_log_syncs, >, before);

      left = open_after_power_cut (fixture, log_synced);
      revisions = bw_library_get_revisions (left, id, &error);
      g_assert_no_error (error);
      g_assert_cmpuint (revisions->len, ==, i);
      assert_sound (left);
    }
}

/* A save is not synced by itself, which makes it quick; what the power leaves of
 * it is a library as it was after some save, never a broken one. */
static void
test_save_whole (Fixture       *fixture,
                 gconstpointer  data)
{
  g_autofree char *log = g_strconcat (fixture->path, "-wal", NULL);
  g_autoptr (GRand) rand = g_rand_new_with_seed (60);
  g_autoptr (BwDesign) design = NULL;
  gint64 id = add_oracle (fixture, &design);
  guint before = n_log_syncs;
  double last = 0.0;
  GStatBuf about;

  (void) data;
  for (guint i = 1; i <= 60; i++)
    save_edit (fixture, id, design, i);
  g_assert_cmpuint (n_log_syncs, ==, before);

  g_assert_cmpint (g_stat (log, &about), ==, 0);
  for (guint i = 0; i < 60; i++)
    {
      g_autoptr (GError) error = NULL;
      gint64 length = i == 0 ? about.st_size : g_rand_int_range (rand, 0, (gint32) about.st_size);
      g_autoptr (BwLibrary) left = open_after_power_cut (fixture, length);
      g_autoptr (BwDesign) found = bw_library_load (left, id, NULL, &error);

      assert_sound (left);
      if (i == 0)
        g_assert_cmpfloat (found->brim.height_mm, ==, 60.0);
      if (found == NULL)
        {
          g_assert_error (error, BW_LIBRARY_ERROR, BW_LIBRARY_ERROR_MISSING);
          continue;
        }

      last = MAX (last, found->brim.height_mm);
      design->brim.height_mm = found->brim.height_mm;
      g_assert_true (bw_design_equal (found, design));
    }
  g_assert_cmpfloat (last, >, 0.0);
}

int
main (int    argc,
      char **argv)
{
  g_test_init (&argc, &argv, NULL);

#define ADD(path, function) \
  g_test_add ("/library/durable/" path, Fixture, NULL, fixture_set_up, function, fixture_tear_down)
  ADD ("pragma", test_pragma);
  ADD ("revision-synced", test_revision_synced);
  ADD ("save-whole", test_save_whole);

  return g_test_run ();
}
