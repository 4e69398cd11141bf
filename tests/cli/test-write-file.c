#include <string.h>
#include <sys/resource.h>

#include <glib/gstdio.h>

#include "run.h"

/* write --to: files of every kind, in a folder of their own. */

static char *
make_folder (void)
{
  char *folder = g_dir_make_tmp ("write-XXXXXX", NULL);

  g_assert_nonnull (folder);
  return folder;
}

static void
remove_folder (const char *folder)
{
  g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);
  const char *name;

  while ((name = g_dir_read_name (dir)) != NULL)
    {
      g_autofree char *path = g_build_filename (folder, name, NULL);

      g_assert_cmpint (g_unlink (path), ==, 0);
    }
  g_assert_cmpint (g_rmdir (folder), ==, 0);
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

static char *
contents (const char *folder,
          const char *name,
          gsize      *length)
{
  g_autofree char *path = g_build_filename (folder, name, NULL);
  char *bytes = NULL;

  if (!g_file_get_contents (path, &bytes, length, NULL))
    g_error ("there is no %s", path);
  return bytes;
}

static char **
dated (const char *date)
{
  return g_environ_setenv (g_get_environ (), "SOURCE_DATE_EPOCH", date, TRUE);
}

/* Each ending makes the kind of file that it names, by how such files begin. */
static void
test_kinds (void)
{
  static const char *const kinds[][2] = {
    { "hat.pdf", "%PDF-1." }, { "hat.PDF", "%PDF-1." },   { "hat.html", "<!DOCTYPE html>" },
    { "hat.txt", "Coble\n" }, { "hat.csv", "size,section,round," },
  };
  g_autofree char *path = write_design ("write.hat", family ());
  g_autofree char *folder = make_folder ();

  for (guint i = 0; i < G_N_ELEMENTS (kinds); i++)
    {
      g_autofree char *to = g_build_filename (folder, kinds[i][0], NULL);
      g_autofree char *bytes = NULL;
      g_auto (Run) run = { 0 };
      gsize length;

      run_with (&run, NULL, "write", path, "--to", to, NULL);
      g_assert_cmpstr (run.err, ==, "");
      g_assert_cmpstr (run.out, ==, "");
      g_assert_cmpint (run.status, ==, 0);
      bytes = contents (folder, kinds[i][0], &length);
      g_assert_true (g_str_has_prefix (bytes, kinds[i][1]));
      g_assert_cmpuint (length, >, 500);
    }
  g_assert_cmpuint (count_files (folder), ==, G_N_ELEMENTS (kinds));
  remove_folder (folder);
}

static void
test_both_terms (void)
{
  g_autofree char *path = write_design ("write.hat", family ());
  g_autofree char *folder = make_folder ();
  g_autofree char *to = g_build_filename (folder, "hat.txt", NULL);
  g_autofree char *uk = NULL;
  g_autofree char *us = NULL;
  g_auto (Run) run = { 0 };

  run_with (&run, NULL, "write", path, "--to", to, "--terms", "both", NULL);
  g_assert_cmpint (run.status, ==, 0);
  uk = contents (folder, "hat-uk.txt", NULL);
  us = contents (folder, "hat-us.txt", NULL);
  g_assert_nonnull (strstr (uk, "\nTension\n"));
  g_assert_nonnull (strstr (us, "\nGauge\n"));
  g_assert_cmpuint (count_files (folder), ==, 2);
  remove_folder (folder);
}

/* One size alone is in sentences, with a box for each round. */
static void
test_one_size (void)
{
  g_autofree char *path = write_design ("write.hat", family ());
  g_autofree char *folder = make_folder ();
  g_autofree char *to = g_build_filename (folder, "hat.txt", NULL);
  g_autofree char *text = NULL;
  g_auto (Run) run = { 0 };

  run_with (&run, NULL, "write", path, "--to", to, "--size", "medium", NULL);
  g_assert_cmpint (run.status, ==, 0);
  text = contents (folder, "hat.txt", NULL);
  g_assert_nonnull (strstr (text, "\n☐ A  Round 1: Work "));
  g_assert_nonnull (strstr (text, ". You have "));
  g_assert_null (strstr (text, "Rnds"));
  remove_folder (folder);
}

/* The same bytes for the same date, others for another; a date that is none is
 * told. */
static void
test_date (void)
{
  g_autofree char *path = write_design ("write.hat", family ());
  g_autofree char *folder = make_folder ();
  g_autofree char *to = g_build_filename (folder, "hat.pdf", NULL);
  static const char *const dates[] = { "1772323200", "1772323200", "1772409600" };
  g_autofree char *bytes[3] = { NULL };
  gsize lengths[3];
  g_auto (GStrv) never = dated ("yesterday");
  g_auto (Run) bad = { 0 };

  for (guint i = 0; i < 3; i++)
    {
      g_auto (GStrv) environment = dated (dates[i]);
      g_auto (Run) run = { 0 };

      run_with (&run, environment, "write", path, "--to", to, NULL);
      g_assert_cmpint (run.status, ==, 0);
      bytes[i] = contents (folder, "hat.pdf", &lengths[i]);
    }
  g_assert_cmpmem (bytes[0], lengths[0], bytes[1], lengths[1]);
  g_assert_true (lengths[2] != lengths[0] || memcmp (bytes[0], bytes[2], lengths[0]) != 0);

  run_with (&bad, never, "write", path, "--to", to, NULL);
  g_assert_cmpint (bad.status, ==, 2);
  g_assert_nonnull (strstr (bad.err, "SOURCE_DATE_EPOCH"));
  g_assert_cmpuint (count_files (folder), ==, 1);
  remove_folder (folder);
  for (guint i = 1; i < 3; i++)
    g_clear_pointer (&bytes[i], g_free);
}

/* What cannot be written is told in one line that names the file, the status says
 * so, and nothing is left behind. */
static void
test_no_place (void)
{
  g_autofree char *path = write_design ("write.hat", family ());
  g_autofree char *folder = make_folder ();
  g_autofree char *deep = g_build_filename (folder, "no", "hat.pdf", NULL);
  g_auto (Run) run = { 0 };

  run_with (&run, NULL, "write", path, "--to", deep, NULL);
  g_assert_cmpint (run.status, ==, 2);
  g_assert_nonnull (strstr (run.err, deep));
  g_assert_nonnull (strstr (run.err, "there is no folder"));
  g_assert_cmpuint (count_lines (run.err), ==, 1);
  remove_folder (folder);
}

/* A limit on the size of files stands for a full disk: it stops the write half-way.
 * The limit is inherited by the program that is run. */
static void
test_no_room (void)
{
  g_autofree char *path = write_design ("write.hat", family ());
  g_autofree char *folder = make_folder ();
  g_autofree char *to = g_build_filename (folder, "hat.pdf", NULL);
  struct rlimit before, small;
  g_auto (Run) run = { 0 };

  g_assert_true (g_file_set_contents (to, "as it was", -1, NULL));
  g_assert_cmpint (getrlimit (RLIMIT_FSIZE, &before), ==, 0);
  small = before;
  small.rlim_cur = 20000;
  g_assert_cmpint (setrlimit (RLIMIT_FSIZE, &small), ==, 0);
  run_with (&run, NULL, "write", path, "--to", to, NULL);
  g_assert_cmpint (setrlimit (RLIMIT_FSIZE, &before), ==, 0);

  g_assert_cmpint (run.status, ==, 2);
  g_assert_nonnull (strstr (run.err, "larger than files may be"));
  g_assert_cmpuint (count_files (folder), ==, 1);
  {
    g_autofree char *old = contents (folder, "hat.pdf", NULL);

    g_assert_cmpstr (old, ==, "as it was");
  }
  remove_folder (folder);
}

static void
test_orders (void)
{
  static const char *const bad[][4] = {
    { "--to", "hat.docx", NULL },
    { "--to", "hat", NULL },
    { "--terms", "both", NULL },
    { "--large-print", NULL },
    { "--paper", "a4", NULL },
    { "--to", "hat.pdf", "--paper=a5", NULL },
  };
  static const char *const told[] = { ".pdf", ".pdf", "--to", "--to", "--to", "letter" };
  g_autofree char *path = write_design ("write.hat", family ());

  for (guint i = 0; i < G_N_ELEMENTS (bad); i++)
    {
      g_auto (Run) run = { 0 };

      run_with (&run, NULL, "write", path, bad[i][0], bad[i][1],
                bad[i][1] != NULL ? bad[i][2] : NULL, NULL);
      g_assert_cmpint (run.status, ==, 2);
      g_assert_nonnull (strstr (run.err, told[i]));
      g_assert_cmpuint (count_lines (run.err), ==, 1);
    }
  g_assert_false (g_file_test ("hat.pdf", G_FILE_TEST_EXISTS));
}

int
main (int    argc,
      char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/write-file/kinds", test_kinds);
  g_test_add_func ("/write-file/both-terms", test_both_terms);
  g_test_add_func ("/write-file/one-size", test_one_size);
  g_test_add_func ("/write-file/date", test_date);
  g_test_add_func ("/write-file/no-place", test_no_place);
  g_test_add_func ("/write-file/no-room", test_no_room);
  g_test_add_func ("/write-file/orders", test_orders);
  return g_test_run ();
}
