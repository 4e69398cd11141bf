#ifndef _GNU_SOURCE
#define _GNU_SOURCE /* unshare(): a mount of the test's own */
#endif

#include <errno.h>
#include <sched.h>
#include <signal.h>
#include <sys/mount.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include "graded.h"
#include "library-fixture.h"

#include "bw-library-revision.h"

/* A disk with no room left: on a small file system where the test may mount
 * one, and under a limit on the size of files anywhere. */

/* Saves until it is refused; the number of the last state that was reported. */
static guint
save_until_refused (Fixture   *fixture,
                    BwLibrary *library,
                    GRand     *rand,
                    BwDesign **last,
                    GError   **error)
{
  guint n = 0;

  for (;;)
    {
      g_autoptr (BwDesign) design = random_design (rand, fixture->reference);
      BwLibraryEdit edit = { .label = "Edit" };

      if (!bw_library_save (library, 1, design, &edit, error))
        return n;

      n++;
      bw_design_free (*last);
      *last = g_steal_pointer (&design);
      g_assert_cmpuint (n, <, 100000);
    }
}

static void
assert_exportable (Fixture        *fixture,
                   const BwDesign *design)
{
  g_autofree char *path = g_build_filename (fixture->folder, "rescued.hat", NULL);
  g_autofree char *text = bw_design_to_text (fixture->reference, design, NULL, NULL);
  g_autofree char *read = NULL;
  g_autoptr (GError) error = NULL;
  g_autoptr (BwDesign) back = NULL;

  g_assert_true (g_file_set_contents (path, text, -1, &error));
  g_assert_true (g_file_get_contents (path, &read, NULL, &error));
  back = bw_design_from_text (fixture->reference, read, strlen (read), &error);
  g_assert_no_error (error);
  g_assert_true (bw_design_equal (back, design));
}

/* There may be room for a copy where there is none for the log; half of one
 * there never is. */
static void
assert_no_half_backup (BwLibrary  *library,
                       const char *path)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (BwLibrary) copy = NULL;

  if (bw_library_backup (library, path, &error))
    {
      copy = bw_library_open (path, BW_LIBRARY_OPEN_READ_ONLY, &error);
      g_assert_no_error (error);
      assert_sound (copy);
      return;
    }

  g_assert_error (error, BW_LIBRARY_ERROR, BW_LIBRARY_ERROR_FULL);
  g_assert_false (g_file_test (path, G_FILE_TEST_EXISTS));
}

static void
run_full (Fixture    *fixture,
          const char *path,
          void      (*make_room) (const char *folder))
{
  g_autofree char *folder = g_path_get_dirname (path);
  g_autoptr (GRand) rand = g_rand_new_with_seed (20);
  g_autoptr (GError) error = NULL;
  g_autoptr (BwLibrary) library = bw_library_open (path, BW_LIBRARY_OPEN_CREATE, &error);
  BwDesign *last = random_design (rand, fixture->reference);
  BwLibraryEdit edit = { .label = "Again" };
  g_autofree char *backup = g_build_filename (folder, "backup.db", NULL);
  gint64 id;
  guint n;

  g_assert_no_error (error);
  g_assert_true (bw_library_add (library, last, &id, &error));
  n = save_until_refused (fixture, library, rand, &last, &error);
  g_test_message ("after %u saves: %s", n, error->message);
  g_assert_cmpuint (n, >, 3);
  g_assert_error (error, BW_LIBRARY_ERROR, BW_LIBRARY_ERROR_FULL);
  g_clear_error (&error);

  /* nothing was overwritten, and the design can go elsewhere */
  assert_stored (library, 1, last);
  assert_exportable (fixture, last);
  assert_no_half_backup (library, backup);

  g_clear_pointer (&library, bw_library_close);
  library = bw_library_open (path, BW_LIBRARY_OPEN_DEFAULT, &error);
  g_assert_no_error (error);
  assert_stored (library, 1, last);

  make_room (folder);
  last->brim.height_mm += 1.0;
  g_assert_true (bw_library_save (library, 1, last, &edit, &error));
  g_assert_no_error (error);
  assert_stored (library, 1, last);
  assert_sound (library);
  bw_design_free (last);
}

/* ---- a small file system ----------------------------------------------------------- */

static void
remount_larger (const char *folder)
{
  g_assert_cmpint (mount ("none", folder, "tmpfs", MS_REMOUNT, "size=16m"), ==, 0);
}

static void
full_child (Fixture *fixture)
{
  g_autofree char *folder = g_build_filename (fixture->folder, "small", NULL);
  g_autofree char *path = g_build_filename (folder, "library.db", NULL);

  g_mkdir (folder, 0755);
  if (unshare (CLONE_NEWNS) != 0 || mount ("none", "/", NULL, MS_REC | MS_PRIVATE, NULL) != 0 ||
      mount ("none", folder, "tmpfs", 0, "size=1500k") != 0)
    _exit (77);

  run_full (fixture, path, remount_larger);
  _exit (0);
}

static void
run_in_child (Fixture *fixture,
              void   (*work) (Fixture *))
{
  int status;
  pid_t child;

  g_clear_pointer (&fixture->library, bw_library_close);
  child = fork ();
  if (child == 0)
    work (fixture);
  g_assert_cmpint (waitpid (child, &status, 0), ==, child);
  if (WIFEXITED (status) && WEXITSTATUS (status) == 77)
    g_test_skip ("a file system cannot be mounted here");
  else
    g_assert_true (WIFEXITED (status) && WEXITSTATUS (status) == 0);
}

static void
test_disk (Fixture       *fixture,
           gconstpointer  data)
{
  (void) data;
  run_in_child (fixture, full_child);
}

/* ---- a file system mounted for reading ------------------------------------------------ */

static void
read_only_child (Fixture *fixture)
{
  g_autofree char *folder = g_build_filename (fixture->folder, "mounted", NULL);
  g_autofree char *path = g_build_filename (folder, "library.db", NULL);
  g_autofree char *other = g_build_filename (folder, "other.db", NULL);
  g_autoptr (GRand) rand = g_rand_new_with_seed (21);
  g_autoptr (GError) error = NULL;
  g_autoptr (BwDesign) design = random_design (rand, fixture->reference);
  g_autoptr (BwLibrary) library = NULL;
  gint64 id;

  g_mkdir (folder, 0755);
  if (unshare (CLONE_NEWNS) != 0 || mount ("none", "/", NULL, MS_REC | MS_PRIVATE, NULL) != 0 ||
      mount ("none", folder, "tmpfs", 0, "size=8m") != 0)
    _exit (77);

  library = bw_library_open (path, BW_LIBRARY_OPEN_CREATE, &error);
  g_assert_true (bw_library_add (library, design, &id, &error));
  g_clear_pointer (&library, bw_library_close);
  g_assert_cmpint (mount ("none", folder, "tmpfs", MS_REMOUNT | MS_RDONLY, NULL), ==, 0);

  library = bw_library_open (path, BW_LIBRARY_OPEN_CREATE, &error);
  g_assert_no_error (error);
  g_assert_true (bw_library_is_read_only (library));
  assert_stored (library, id, design);
  assert_sound (library);
  g_assert_false (bw_library_add (library, design, &id, &error));
  g_assert_error (error, BW_LIBRARY_ERROR, BW_LIBRARY_ERROR_READ_ONLY);
  g_clear_error (&error);
  g_assert_false (bw_library_vacuum (library, &error));
  g_assert_error (error, BW_LIBRARY_ERROR, BW_LIBRARY_ERROR_READ_ONLY);
  g_clear_error (&error);
  g_assert_null (bw_library_open (other, BW_LIBRARY_OPEN_CREATE, &error));
  g_assert_error (error, BW_LIBRARY_ERROR, BW_LIBRARY_ERROR_READ_ONLY);
  _exit (0);
}

static void
test_mounted_read_only (Fixture       *fixture,
                        gconstpointer  data)
{
  (void) data;
  run_in_child (fixture, read_only_child);
}

/* ---- a limit on files ---------------------------------------------------------------------- */

static void
lift_limit (const char *folder)
{
  struct rlimit limit;

  (void) folder;
  g_assert_cmpint (getrlimit (RLIMIT_FSIZE, &limit), ==, 0);
  limit.rlim_cur = limit.rlim_max;
  g_assert_cmpint (setrlimit (RLIMIT_FSIZE, &limit), ==, 0);
}

static void
limited_child (Fixture *fixture)
{
  struct rlimit limit;

  signal (SIGXFSZ, SIG_IGN);
  g_assert_cmpint (getrlimit (RLIMIT_FSIZE, &limit), ==, 0);
  limit.rlim_cur = 700 * 1024;
  g_assert_cmpint (setrlimit (RLIMIT_FSIZE, &limit), ==, 0);
  run_full (fixture, fixture->path, lift_limit);
  _exit (0);
}

static void
test_limit (Fixture       *fixture,
            gconstpointer  data)
{
  (void) data;
  run_in_child (fixture, limited_child);
}

int
main (int    argc,
      char **argv)
{
  g_test_init (&argc, &argv, NULL);

#define ADD(path, function) \
  g_test_add ("/library/full/" path, Fixture, NULL, fixture_set_up, function, fixture_tear_down)
  ADD ("disk", test_disk);
  ADD ("mounted-read-only", test_mounted_read_only);
  ADD ("limit", test_limit);

  return g_test_run ();
}
