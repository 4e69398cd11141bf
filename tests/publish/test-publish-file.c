#include <errno.h>
#include <signal.h>
#include <string.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#include <glib/gstdio.h>

#include "bw-publish-file.h"

/* A folder of its own for each case, which must hold exactly the files that are
 * expected: nothing half-written stays behind. */
typedef struct
{
  char *folder;
  char *path;  /* hat.pdf in it */
} Place;

static void
place_set_up (Place         *place,
              gconstpointer  data G_GNUC_UNUSED)
{
  place->folder = g_dir_make_tmp ("publish-XXXXXX", NULL);
  g_assert_nonnull (place->folder);
  place->path = g_build_filename (place->folder, "hat.pdf", NULL);
}

static void
place_tear_down (Place         *place,
                 gconstpointer  data G_GNUC_UNUSED)
{
  g_autoptr (GDir) dir = g_dir_open (place->folder, 0, NULL);
  const char *name;

  while ((name = g_dir_read_name (dir)) != NULL)
    {
      g_autofree char *path = g_build_filename (place->folder, name, NULL);

      g_assert_cmpint (g_unlink (path), ==, 0);
    }
  g_assert_cmpint (g_rmdir (place->folder), ==, 0);
  g_free (place->path);
  g_free (place->folder);
}

static guint
count_files (const char *folder)
{
  g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);
  guint n = 0;

  while (g_dir_read_name (dir) != NULL)
    n++;
  return n;
}

static void
assert_holds (const char *path,
              const char *expected)
{
  g_autofree char *text = NULL;

  g_assert_true (g_file_get_contents (path, &text, NULL, NULL));
  g_assert_cmpstr (text, ==, expected);
}

static void
test_replace (Place         *place,
              gconstpointer  data G_GNUC_UNUSED)
{
  struct stat status;

  umask (022);
  g_assert_true (bw_publish_file_write (place->path, "first", 5, NULL));
  assert_holds (place->path, "first");
  g_assert_true (bw_publish_file_write (place->path, "second", 6, NULL));
  assert_holds (place->path, "second");
  g_assert_cmpint (stat (place->path, &status), ==, 0);
  g_assert_cmpint (status.st_mode & 0777, ==, 0644);
  g_assert_cmpuint (count_files (place->folder), ==, 1);
}

/* A reader who has the old file open goes on reading the old one. */
static void
test_reader (Place         *place,
             gconstpointer  data G_GNUC_UNUSED)
{
  char bytes[8] = { 0 };
  FILE *reader;

  g_assert_true (bw_publish_file_write (place->path, "old", 3, NULL));
  reader = g_fopen (place->path, "rb");
  g_assert_true (bw_publish_file_write (place->path, "new one", 7, NULL));
  g_assert_cmpuint (fread (bytes, 1, sizeof bytes, reader), ==, 3);
  g_assert_cmpstr (bytes, ==, "old");
  fclose (reader);
  assert_holds (place->path, "new one");
}

static void
test_link (Place         *place,
           gconstpointer  data G_GNUC_UNUSED)
{
  g_autofree char *real = g_build_filename (place->folder, "real.pdf", NULL);

  g_assert_true (bw_publish_file_write (real, "old", 3, NULL));
  g_assert_cmpint (symlink (real, place->path), ==, 0);
  g_assert_true (bw_publish_file_write (place->path, "new", 3, NULL));
  g_assert_true (g_file_test (place->path, G_FILE_TEST_IS_SYMLINK));
  assert_holds (real, "new");
}

static void
assert_refuses (const char *path,
                const char *expected)
{
  g_autoptr (GError) error = NULL;

  g_assert_false (bw_publish_file_write (path, "x", 1, &error));
  g_assert_true (error != NULL && error->domain == G_FILE_ERROR);
  g_assert_nonnull (strstr (error->message, expected));
  g_assert_nonnull (strstr (error->message, path));
}

static void
test_no_place (Place         *place,
               gconstpointer  data G_GNUC_UNUSED)
{
  g_autofree char *deep = g_build_filename (place->folder, "no", "hat.pdf", NULL);

  assert_refuses (deep, "there is no folder");
  assert_refuses (place->folder, "it is a folder");
  assert_refuses ("/dev/null", "cannot be written");
  g_assert_true (g_file_test ("/dev/null", G_FILE_TEST_EXISTS));
  g_assert_cmpuint (count_files (place->folder), ==, 0);
}

/* In a process of its own, since limits and users are not given back. */
static void
run_apart (void      (*work) (const char *path),
           const char *path)
{
  pid_t child = fork ();
  int status;

  g_assert_cmpint (child, >=, 0);
  if (child == 0)
    {
      work (path);
      _exit (0);
    }
  g_assert_cmpint (waitpid (child, &status, 0), ==, child);
  g_assert_cmpint (status, ==, 0);
}

static void
write_beyond_limit (const char *path)
{
  static char bytes[100000];
  struct rlimit limit = { 4096, 4096 };
  g_autoptr (GError) error = NULL;

  signal (SIGXFSZ, SIG_IGN);
  g_assert_cmpint (setrlimit (RLIMIT_FSIZE, &limit), ==, 0);
  g_assert_false (bw_publish_file_write (path, bytes, sizeof bytes, &error));
  g_assert_error (error, G_FILE_ERROR, G_FILE_ERROR_NOSPC);
  g_assert_nonnull (strstr (error->message, "larger than files may be"));
}

static void
test_limit (Place         *place,
            gconstpointer  data G_GNUC_UNUSED)
{
  g_assert_true (bw_publish_file_write (place->path, "as it was", 9, NULL));
  run_apart (write_beyond_limit, place->path);
  assert_holds (place->path, "as it was");
  g_assert_cmpuint (count_files (place->folder), ==, 1);
}

static void
write_without_right (const char *path)
{
  g_autoptr (GError) error = NULL;

  /* The superuser may write anywhere: go on as nobody in particular */
  if (getuid () == 0)
    g_assert_cmpint (setuid (65534), ==, 0);
  g_assert_false (bw_publish_file_write (path, "x", 1, &error));
  g_assert_error (error, G_FILE_ERROR, G_FILE_ERROR_ACCES);
  g_assert_nonnull (strstr (error->message, "may only be read"));
}

static void
test_read_only (Place         *place,
                gconstpointer  data G_GNUC_UNUSED)
{
  g_assert_true (bw_publish_file_write (place->path, "as it was", 9, NULL));
  g_assert_cmpint (g_chmod (place->folder, 0555), ==, 0);
  run_apart (write_without_right, place->path);
  g_assert_cmpint (g_chmod (place->folder, 0755), ==, 0);
  assert_holds (place->path, "as it was");
  g_assert_cmpuint (count_files (place->folder), ==, 1);
}

/* /dev/full takes nothing, as a full disk; there only a link can lead to it. */
static void
test_device (Place         *place,
             gconstpointer  data G_GNUC_UNUSED)
{
  if (!g_file_test ("/dev/full", G_FILE_TEST_EXISTS))
    {
      g_test_skip ("no /dev/full");
      return;
    }
  g_assert_cmpint (symlink ("/dev/full", place->path), ==, 0);
  assert_refuses (place->path, "cannot be written");
  g_assert_true (g_file_test ("/dev/full", G_FILE_TEST_EXISTS));
  g_assert_cmpuint (count_files (place->folder), ==, 1);
}

int
main (int    argc,
      char **argv)
{
  static const struct
  {
    const char *name;
    void      (*run) (Place *, gconstpointer);
  } cases[] = {
    { "/publish/file/replace", test_replace },     { "/publish/file/reader", test_reader },
    { "/publish/file/link", test_link },           { "/publish/file/no-place", test_no_place },
    { "/publish/file/limit", test_limit },         { "/publish/file/read-only", test_read_only },
    { "/publish/file/device", test_device },
  };

  g_test_init (&argc, &argv, NULL);
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    g_test_add (cases[i].name, Place, NULL, place_set_up, cases[i].run, place_tear_down);
  return g_test_run ();
}
