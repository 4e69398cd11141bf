/* What the command line takes and refuses, and how it says so. */

#include <string.h>

#include <glib/gstdio.h>

#include "run.h"

/* Bad input: status 2, nothing on the standard output, one line of complaint. */
static void
assert_bad_input (const Run  *run,
                  const char *says)
{
  g_assert_cmpint (run->status, ==, 2);
  g_assert_cmpstr (run->out, ==, "");
  g_assert_true (g_str_has_prefix (run->err, "brimwright-cli: "));
  g_assert_cmpuint (count_lines (run->err), ==, 1);
  if (says != NULL && strstr (run->err, says) == NULL)
    g_error ("“%s” is not in “%s”", says, run->err);
}

static void
test_help (void)
{
  g_auto (Run) run = { 0 };
  g_auto (GStrv) lines = NULL;

  run_with (&run, NULL, "--help", NULL);
  g_assert_cmpint (run.status, ==, 0);
  g_assert_cmpstr (run.err, ==, "");
  g_assert_cmpuint (count_lines (run.out), <=, 24);
  lines = g_strsplit (run.out, "\n", -1);
  for (guint i = 0; lines[i] != NULL; i++)
    g_assert_cmpint (g_utf8_strlen (lines[i], -1), <=, 80);
  for (guint i = 0; i < 8; i++)
    {
      static const char *const words[] = { "grade", "explain", "--size", "--all-sizes",
                                           "--csv", "--terms", "--units", "--version" };

      g_assert_nonnull (strstr (run.out, words[i]));
    }
}

static void
test_version (void)
{
  g_auto (Run) run = { 0 };

  run_with (&run, NULL, "--version", NULL);
  g_assert_cmpint (run.status, ==, 0);
  g_assert_cmpstr (run.out, ==, "brimwright-cli " BW_VERSION "\n");
}

static void
test_arguments (void)
{
  g_autofree char *path = write_design ("family.hat", family ());
  g_auto (Run) run = { 0 };

  run_with (&run, NULL, NULL);
  assert_bad_input (&run, "--help");
  run_with (&run, NULL, "unravel", path, NULL);
  assert_bad_input (&run, "unravel");
  run_with (&run, NULL, "grade", NULL);
  assert_bad_input (&run, "file");
  run_with (&run, NULL, "grade", path, path, NULL);
  assert_bad_input (&run, "one design file");
  run_with (&run, NULL, "grade", path, "--frill", NULL);
  assert_bad_input (&run, "--frill");
  run_with (&run, NULL, "grade", path, "--csv", "stitches", NULL);
  assert_bad_input (&run, "--csv");
  run_with (&run, NULL, "grade", path, "--terms", "au", NULL);
  assert_bad_input (&run, "--terms");
  run_with (&run, NULL, "grade", path, "--units", "feet", NULL);
  assert_bad_input (&run, "--units");
  run_with (&run, NULL, "grade", path, "--size", NULL);
  assert_bad_input (&run, "--size");
  run_with (&run, NULL, "grade", path, "--size", "medium", "--all-sizes", NULL);
  assert_bad_input (&run, "--all-sizes");
  run_with (&run, NULL, "grade", path, "--size", "giant", NULL);
  assert_bad_input (&run, "small, medium, large");
  run_with (&run, NULL, "explain", path, NULL);
  assert_bad_input (&run, "--size");
  run_with (&run, NULL, "explain", path, "--size", "giant", NULL);
  assert_bad_input (&run, "giant");
  run_with (&run, NULL, "explain", path, "--size", "small", "--csv", "sizes", NULL);
  assert_bad_input (&run, "--csv");
}

/* What stands behind "--" is a file, whatever it looks like. */
static void
test_double_dash (void)
{
  g_autofree char *path = write_design ("family.hat", family ());
  g_auto (Run) run = { 0 };

  run_with (&run, NULL, "grade", "--", path, NULL);
  g_assert_cmpint (run.status, ==, 0);
  run_with (&run, NULL, "grade", "--", "--help", NULL);
  assert_bad_input (&run, "--help");
}

static void
test_files (void)
{
  g_autofree char *folder = write_design ("gone.hat", "");
  g_autofree char *empty = write_design ("empty.hat", "");
  g_autofree char *prose = write_design ("prose.hat", "Chain ten and hope.\n");
  g_autofree char *latin = write_design ("latin.hat", "[Design]\nname=Gr\xf6\xdf" "e\n");
  g_autofree char *large_text = g_strnfill (3 * 1024 * 1024, '#');
  g_autofree char *large = write_design ("large.hat", large_text);
  g_auto (Run) run = { 0 };

  g_remove (folder);
  run_with (&run, NULL, "grade", folder, NULL);
  assert_bad_input (&run, folder);
  g_mkdir (folder, 0700);
  run_with (&run, NULL, "grade", folder, NULL);
  assert_bad_input (&run, folder);
  run_with (&run, NULL, "grade", empty, NULL);
  assert_bad_input (&run, "empty.hat");
  run_with (&run, NULL, "grade", prose, NULL);
  assert_bad_input (&run, "prose.hat");
  run_with (&run, NULL, "grade", latin, NULL);
  assert_bad_input (&run, "UTF-8");
  run_with (&run, NULL, "grade", large, NULL);
  assert_bad_input (&run, "1024 KiB");
  /* Has no end: the cap must hold while reading */
  run_with (&run, NULL, "grade", "/dev/zero", NULL);
  assert_bad_input (&run, "1024 KiB");
}

/* Replaces one line of the family and expects one complaint that names it. */
static void
assert_line_is_bad (const char *line,
                    const char *with,
                    const char *says)
{
  g_auto (GStrv) parts = g_strsplit (family (), line, 2);
  g_autofree char *text = NULL;
  g_autofree char *path = NULL;
  g_auto (Run) run = { 0 };

  g_assert_nonnull (parts[1]);
  text = g_strconcat (parts[0], with, parts[1], NULL);
  path = write_design ("bad.hat", text);
  run_with (&run, NULL, "grade", path, NULL);
  assert_bad_input (&run, says);
}

static void
test_designs (void)
{
  assert_line_is_bad ("head=55 cm", "head=-55 cm", "head");
  assert_line_is_bad ("head=55 cm", "head=55 ells", "head");
  assert_line_is_bad ("amount=3", "amount=10000", "amount");
  assert_line_is_bad ("amount=3", "amount=three", "amount");
  assert_line_is_bad ("stripe=A 2, B 2", "stripe=A 2, C 2", "C");
  assert_line_is_bad ("profile=round", "profile=square", "profile");
  assert_line_is_bad ("profile=round", "feather=long", "feather");
  assert_line_is_bad ("stitch-pattern=raised-thirds", "stitch-pattern=seaweed", "seaweed");
  assert_line_is_bad ("body-swatch=body", "body-swatch=sleeve", "sleeve");
  assert_line_is_bad ("use=small;medium;large", "use=small;medium;large;tiny", "tiny");
  assert_line_is_bad ("[Crown]", "[Sleeve]", "Sleeve");
}

/* A design that no counts can serve: status 1, the reasons, no output. */
static void
test_refusal (void)
{
  g_autofree char *text = g_strconcat (family (), "[Rules]\nleast-step=40\n", NULL);
  g_autofree char *path = write_design ("refused.hat", text);
  g_auto (Run) run = { 0 };

  run_with (&run, NULL, "grade", path, NULL);
  g_assert_cmpint (run.status, ==, 1);
  g_assert_cmpstr (run.out, ==, "");
  /* The finding, by its code and by the step that fails */
  g_assert_nonnull (strstr (run.err, "G07"));
  g_assert_nonnull (strstr (run.err, "40"));
  run_with (&run, NULL, "grade", path, "--csv", "sizes", NULL);
  g_assert_cmpint (run.status, ==, 1);
  g_assert_cmpstr (run.out, ==, "");
  run_with (&run, NULL, "explain", path, "--size", "small", NULL);
  g_assert_cmpint (run.status, ==, 1);
}

/* Output that cannot be written is no success. */
static void
test_full_disk (void)
{
  g_autofree char *path = write_design ("family.hat", family ());
  g_autofree char *command = g_strdup_printf ("\"$BW_CLI\" grade '%s' > /dev/full", path);
  const char *arguments[] = { "sh", "-c", command, NULL };
  g_autofree char *err = NULL;
  g_autoptr (GError) error = NULL;
  int wait_status;

  if (!g_file_test ("/dev/full", G_FILE_TEST_EXISTS))
    {
      g_test_skip ("no /dev/full here");
      return;
    }
  g_spawn_sync (NULL, (char **) arguments, NULL, G_SPAWN_SEARCH_PATH, NULL, NULL, NULL, &err,
                &wait_status, &error);
  g_assert_no_error (error);
  g_assert_false (g_spawn_check_wait_status (wait_status, &error));
  g_assert_cmpint (error->code, ==, 2);
  g_assert_nonnull (strstr (err, "cannot be written"));
}

int
main (int    argc,
      char **argv)
{
  g_test_init (&argc, &argv, NULL);

  g_test_add_func ("/cli/input/help", test_help);
  g_test_add_func ("/cli/input/version", test_version);
  g_test_add_func ("/cli/input/arguments", test_arguments);
  g_test_add_func ("/cli/input/double-dash", test_double_dash);
  g_test_add_func ("/cli/input/files", test_files);
  g_test_add_func ("/cli/input/designs", test_designs);
  g_test_add_func ("/cli/input/refusal", test_refusal);
  g_test_add_func ("/cli/input/full-disk", test_full_disk);

  return g_test_run ();
}
