#include <string.h>

#include <glib/gstdio.h>
#include <sqlite3.h>

#include "../cli/run.h"

/* The library's verbs as people and scripts use them. */

typedef struct
{
  char *folder;
  char *library;
} Place;

static void
set_up (Place         *place,
        gconstpointer  data)
{
  g_autoptr (GError) error = NULL;

  (void) data;
  place->folder = g_dir_make_tmp ("bw-cli-library-XXXXXX", &error);
  g_assert_no_error (error);
  place->library = g_build_filename (place->folder, "library.db", NULL);
}

static void
tear_down (Place         *place,
           gconstpointer  data)
{
  g_autofree char *quoted = g_shell_quote (place->folder);
  g_autofree char *command = g_strconcat ("rm -rf ", quoted, NULL);

  (void) data;
  g_spawn_command_line_sync (command, NULL, NULL, NULL, NULL);
  g_free (place->folder);
  g_free (place->library);
}

#define RUN(run, place, ...) run_with (run, NULL, __VA_ARGS__, "--library", (place)->library, NULL)

static void
assert_status (const Run *run,
               int        status)
{
  if (run->status != status)
    g_test_message ("%s%s", run->out, run->err);
  g_assert_cmpint (run->status, ==, status);
  g_assert_cmpint (run->err[0] != '\0', ==, status == 2 || (status == 1 && run->err[0] != '\0'));
}

static void
assert_says (const char *text,
             const char *wanted)
{
  if (strstr (text, wanted) == NULL)
    g_error ("“%s” is not in “%s”", wanted, text);
}

/* Runs, and looks for @wanted in what it prints. */
#define SAYS(place, status_, wanted, ...)                              \
  G_STMT_START                                                         \
    {                                                                  \
      g_auto (Run) run_ = { 0 };                                       \
      RUN (&run_, place, __VA_ARGS__);                                 \
      assert_status (&run_, status_);                                  \
      assert_says (status_ == 0 ? run_.out : run_.err, wanted);        \
    }                                                                  \
  G_STMT_END

static char *
file_in (const Place *place,
         const char  *name,
         const char  *text)
{
  char *path = g_build_filename (place->folder, name, NULL);

  if (text != NULL)
    g_assert_true (g_file_set_contents (path, text, -1, NULL));

  return path;
}

static char *
design_file (const char *name)
{
  return g_build_filename (g_getenv ("BW_DESIGNS"), name, NULL);
}

static void
test_help (void)
{
  static const char *const verbs[] = { "library", "swatch" };

  for (gsize i = 0; i < G_N_ELEMENTS (verbs); i++)
    {
      g_auto (Run) run = { 0 };
      g_auto (Run) nothing = { 0 };
      g_auto (GStrv) lines = NULL;

      run_with (&run, NULL, verbs[i], "--help", NULL);
      g_assert_cmpint (run.status, ==, 0);
      g_assert_cmpuint (count_lines (run.out), <=, 24);
      lines = g_strsplit (run.out, "\n", -1);
      for (guint k = 0; lines[k] != NULL; k++)
        g_assert_cmpint (g_utf8_strlen (lines[k], -1), <=, 80);
      run_with (&nothing, NULL, verbs[i], NULL);
      g_assert_cmpint (nothing.status, ==, 2);
    }
}

static void
test_designs (Place         *place,
              gconstpointer  data)
{
  g_autofree char *lugger = design_file ("lugger.hat");
  g_autofree char *coble = design_file ("coble.hat");
  g_autofree char *out = file_in (place, "out.hat", NULL);
  g_autofree char *folder = file_in (place, "all", NULL);
  g_autofree char *other = file_in (place, "other.db", NULL);
  g_auto (Run) empty = { 0 };
  g_auto (Run) import = { 0 };
  g_auto (Run) list = { 0 };
  g_auto (Run) graded = { 0 };
  g_auto (Run) again = { 0 };

  (void) data;
  RUN (&empty, place, "library", "list");
  assert_status (&empty, 2);
  SAYS (place, 0, "Lugger is design 1 now", "library", "add", lugger, coble, "--tag", "demo");
  SAYS (place, 0, "Coble", "library", "list");
  SAYS (place, 0, "Coble", "library", "list", "--order", "changed");
  SAYS (place, 2, "changed", "library", "list", "--order", "size");
  SAYS (place, 0, "Lugger", "library", "search", "lug");
  SAYS (place, 1, "no design", "library", "search", "zebra");
  SAYS (place, 0, "Tags: demo", "library", "show", "HB-02");
  SAYS (place, 2, "no design", "library", "show", "Sloop");
  SAYS (place, 0, "", "library", "tag", "Coble", "one", "two");
  SAYS (place, 0, "Tags: one, two", "library", "show", "Coble");

  /* what is exported is graded like what was added */
  SAYS (place, 0, "", "library", "export", "Coble", out);
  SAYS (place, 2, "already", "library", "export", "Coble", out);
  run_with (&graded, NULL, "grade", out, "--csv", "sizes", NULL);
  run_with (&again, NULL, "grade", coble, "--csv", "sizes", NULL);
  g_assert_cmpint (graded.status, ==, 0);
  g_assert_cmpstr (graded.out, ==, again.out);

  SAYS (place, 0, "was changed", "library", "add", lugger, "--into", "Coble");
  SAYS (place, 2, "several designs", "library", "show", "Lugger");
  SAYS (place, 0, "taken back", "library", "undo", "2");
  SAYS (place, 0, "Coble", "library", "show", "2");
  SAYS (place, 0, "made again", "library", "redo", "2");
  SAYS (place, 0, "taken back", "library", "undo", "2");

  SAYS (place, 0, "in the bin", "library", "remove", "Coble");
  SAYS (place, 0, "Coble", "library", "list", "--bin");
  SAYS (place, 2, "no design", "library", "show", "Coble");
  SAYS (place, 0, "", "library", "put-back", "coble");
  SAYS (place, 0, "Coble", "library", "show", "Coble");
  SAYS (place, 0, "in the bin", "library", "remove", "Coble");
  SAYS (place, 0, "1 design is gone", "library", "empty-bin");
  SAYS (place, 2, "in the bin", "library", "put-back", "Coble");

  SAYS (place, 0, "", "library", "export", "--all", folder);
  run_with (&import, NULL, "library", "import", folder, "--library", other, NULL);
  g_assert_cmpint (import.status, ==, 0);
  run_with (&list, NULL, "library", "list", "--library", other, NULL);
  assert_says (list.out, "Lugger");
  SAYS (place, 0, "sound", "library", "verify");
  SAYS (place, 0, "", "library", "vacuum");
}

static void
test_revisions (Place         *place,
                gconstpointer  data)
{
  g_auto (Run) text = { 0 };

  (void) data;
  SAYS (place, 0, "40 swatches", "library", "demo");
  SAYS (place, 2, "already", "library", "demo");
  SAYS (place, 0, "A deeper rib", "library", "revisions", "Ketch");
  SAYS (place, 0, "no revision yet", "library", "revisions", "Yawl");
  SAYS (place, 0, "Revision 4 of Ketch", "library", "revise", "Ketch", "--note", "again");
  SAYS (place, 0, "Both say the same", "library", "corrections", "Ketch", "3", "4");
  SAYS (place, 0, ": work ", "library", "corrections", "Ketch", "1", "2");
  SAYS (place, 2, "revision 9", "library", "corrections", "Ketch", "1", "9");
  SAYS (place, 2, "no revision", "library", "corrections", "Ketch", "one", "2");
  RUN (&text, place, "library", "show", "Ketch", "--revision", "1");
  assert_says (text.out, "body-ease=-5 %");
  SAYS (place, 0, "in the bin", "library", "remove", "Ketch");
  SAYS (place, 0, "1 stays in the bin", "library", "empty-bin");
  SAYS (place, 0, "1 design is gone", "library", "empty-bin", "--with-revisions");
}

/* Grading takes the gauge from the library: a new reading moves the numbers. */
static void
test_grade (Place         *place,
            gconstpointer  data)
{
  g_autofree char *skiff = file_in (place, "skiff.hat", NULL);
  g_auto (Run) before = { 0 };
  g_auto (Run) after = { 0 };
  g_auto (Run) nowhere = { 0 };

  (void) data;
  SAYS (place, 0, "", "library", "demo");
  SAYS (place, 0, "", "library", "export", "Skiff", skiff);
  RUN (&before, place, "grade", skiff, "--csv", "sizes");
  assert_status (&before, 0);
  SAYS (place, 0, "1 swatches with 2 readings", "swatch", "add", "--yarn", "Invented quay sock",
        "--hook", "3", "--pattern", "plain-low", "--reading", "26 sts in 108,5 mm washed",
        "--reading", "30 sts in 12.6 cm washed");
  RUN (&after, place, "grade", skiff, "--csv", "sizes");
  assert_status (&after, 0);
  g_assert_cmpstr (before.out, !=, after.out);

  run_with (&nowhere, NULL, "grade", skiff, "--library", "/nowhere/library.db", NULL);
  g_assert_cmpint (nowhere.status, ==, 2);
  assert_says (nowhere.err, "/nowhere/library.db");
}

static void
test_swatches (Place         *place,
               gconstpointer  data)
{
  g_autofree char *good = file_in (place, "good.csv",
                                   "\xef\xbb\xbfYarn;Hook;Pattern;Stitches;Width;Washed\r\n"
                                   "Quay;4,5;plain-low;20;12,7 cm;yes\r\n"
                                   ";;;20;128 mm;yes\r\n;;;20;126,5 mm;yes\r\n");
  g_autofree char *bad = file_in (place, "bad.csv",
                                  "yarn,hook,pattern,stitches,width\n"
                                  "Quay,5,plain-low,20,130 mm\nQuay,5,lace,20,131\n");
  g_autofree char *yarns =
    file_in (place, "yarns.ini",
             "[Harbour]\nfibres=wool 80 %; nylon 20 %\nlots=A1, Tar, 3 balls\n");
  g_autofree char *wrong = file_in (place, "wrong.ini", "[Sand]\nfibres=wool 80 %\n");
  g_auto (Run) refused = { 0 };
  g_auto (Run) twice = { 0 };

  (void) data;
  SAYS (place, 0, "would be taken", "swatch", "import", good, "--try");
  SAYS (place, 0, "There is no such swatch", "swatch", "list");
  SAYS (place, 0, "1 swatches with 3 readings were taken", "swatch", "import", good);
  SAYS (place, 0, "Quay", "swatch", "list", "--hook", "4.5 mm");
  SAYS (place, 0, "15.7 sts = 10 cm", "swatch", "gauge", "quay / 4.5 / plain-low");
  SAYS (place, 0, "1 swatch, 3 readings", "swatch", "gauge", "--yarn", "Quay", "--hook", "4.5",
        "--pattern", "plain-low");
  SAYS (place, 2, "YARN / HOOK / PATTERN", "swatch", "gauge", "Quay");
  SAYS (place, 2, "no swatch of", "swatch", "gauge", "Quay / 9 / plain-low");

  RUN (&refused, place, "swatch", "import", bad);
  assert_status (&refused, 1);
  assert_says (refused.err, "bad.csv, line 3, column 3 (pattern), “lace”");
  assert_says (refused.err, "bad.csv, line 3, column 5 (width), “131”");
  assert_says (refused.err, "nothing was taken");
  RUN (&twice, place, "swatch", "import", bad, "--partial");
  g_assert_cmpint (twice.status, ==, 0);
  assert_says (twice.out, "1 swatches with 1 readings were taken; 1 rows left out");
  SAYS (place, 1, "more than 1 mm", "swatch", "hook", "--yarn", "Quay", "--pattern", "plain-low",
        "5 sts to 10 cm");

  SAYS (place, 0, "1 yarn was taken", "swatch", "yarns", yarns);
  SAYS (place, 0, "wool 80 %, nylon 20 %", "swatch", "yarns");
  SAYS (place, 2, "add up to 80 %", "swatch", "yarns", wrong);
  SAYS (place, 2, "is no reading", "swatch", "add", "--yarn", "Quay", "--hook", "4", "--pattern",
        "plain-low", "--reading", "about right");
  SAYS (place, 2, "--reading", "swatch", "add", "--yarn", "Quay");
  SAYS (place, 0, "direction", "swatch", "export");
  SAYS (place, 0, "", "swatch", "remove", "1");
  SAYS (place, 2, "no such swatch", "swatch", "remove", "1");
}

/* A photograph by its place in the library's folder, and one in the library. */
static void
test_photographs (Place         *place,
                  gconstpointer  data)
{
  static const char png[] = "\x89PNG\r\n\x1a\n like one";
  g_autofree char *beside = file_in (place, "tar.png", png);
  g_autofree char *elsewhere = g_strconcat (place->folder, "-else.png", NULL);
  g_autofree char *folder = file_in (place, "pictures", NULL);
  g_autofree char *table_path = file_in (place, "table.csv", NULL);
  g_autofree char *other = file_in (place, "other.db", NULL);
  g_autofree char *picture = g_build_filename (folder, "swatch-2.png", NULL);
  g_auto (Run) table = { 0 };
  g_auto (Run) import = { 0 };
  g_auto (Run) bare = { 0 };
  g_autofree char *bytes = NULL;

  (void) data;
#define ADD_ONE(hook, ...) \
  "swatch", "add", "--yarn", "Quay", "--hook", hook, "--pattern", "plain-low", "--reading", \
    "20 sts in 127 mm washed", __VA_ARGS__
  SAYS (place, 0, "1 swatches", ADD_ONE ("4", "--photograph", beside));
  SAYS (place, 0, "1 photograph goes into", ADD_ONE ("5", "--photograph", beside, "--embed"));
  g_assert_true (g_file_set_contents (elsewhere, png, -1, NULL));
  SAYS (place, 2, "library's folder", ADD_ONE ("6", "--photograph", elsewhere));
  SAYS (place, 0, "1 photograph goes into", ADD_ONE ("6", "--photograph", elsewhere, "--embed"));
  g_unlink (elsewhere);
  SAYS (place, 2, "no photograph", ADD_ONE ("6", "--photograph", elsewhere, "--embed"));
  SAYS (place, 2, "--photograph", ADD_ONE ("6", "--embed"));
#undef ADD_ONE

  RUN (&bare, place, "swatch", "export");
  assert_says (bare.out, ",tar.png,");
  assert_says (bare.err, "2 photographs are kept in the library");
  RUN (&table, place, "swatch", "export", "--photographs", folder);
  assert_status (&table, 0);
  assert_says (table.out, ",swatch-2.png,");
  g_assert_true (g_file_get_contents (picture, &bytes, NULL, NULL));
  g_assert_cmpstr (bytes, ==, png);

  g_assert_true (g_file_set_contents (table_path, table.out, -1, NULL));
  run_with (&import, NULL, "swatch", "import", table_path, "--photographs", folder, "--library",
            other, NULL);
  g_assert_cmpint (import.status, ==, 0);
  assert_says (import.out, "2 photographs go into");
  SAYS (place, 2, "is no folder", "swatch", "import", table_path, "--photographs", table_path);
}

static void
test_hook (Place         *place,
           gconstpointer  data)
{
  g_auto (Run) far = { 0 };

  (void) data;
  SAYS (place, 0, "", "library", "demo");
  SAYS (place, 0, "a hook of 4.8", "swatch", "hook", "--yarn", "Invented harbour worsted",
        "--pattern", "plain-low", "16 sts to 10 cm");
  RUN (&far, place, "swatch", "hook", "--yarn", "Invented harbour worsted", "--pattern",
       "plain-low", "12 sts to 10 cm");
  g_assert_cmpint (far.status, ==, 1);
  assert_says (far.err, "more than 1 mm");
}

/* A design that names a table of one's own is added and graded by it, and is
 * refused where there is none. */
static void
assert_own_table (const Place *place,
                  const char  *design)
{
  g_autofree char *text = NULL;
  g_autofree char *own = NULL;
  g_auto (Run) graded = { 0 };
  g_auto (Run) refused = { 0 };
  g_auto (GStrv) parts = NULL;
  g_autofree char *other = file_in (place, "none.db", NULL);

  g_assert_true (g_file_get_contents (design, &text, NULL, NULL));
  parts = g_strsplit (text, "[Sizes]", 2);
  g_assert_nonnull (parts[1]);
  g_clear_pointer (&text, g_free);
  text = g_strconcat (parts[0], "[Sizes]\ntable=quay\nuse=m\n", strstr (parts[1], "\n["), NULL);
  own = file_in (place, "own.hat", text);

  SAYS (place, 0, "is design", "library", "add", own);
  RUN (&graded, place, "grade", own, "--csv", "sizes");
  assert_status (&graded, 0);
  assert_says (graded.out, "Medium,560.0,");
  run_with (&refused, NULL, "grade", own, "--library", other, NULL);
  g_assert_cmpint (refused.status, ==, 2);
  assert_says (refused.err, "no table");
}

static void
test_keeping (Place         *place,
              gconstpointer  data)
{
  g_autofree char *backup = file_in (place, "backup.db", NULL);
  g_autofree char *lugger = design_file ("lugger.hat");
  g_autofree char *coble = design_file ("coble.hat");
  g_autofree char *sizes = file_in (place, "sizes.ini",
                                    "[Table]\nid=quay\nname=Quay heads\n"
                                    "source=measured on the quay (invented)\nstatus=read\n\n"
                                    "[m]\nname=Medium\nhead=56 cm\ndepth=21 cm\nmonths-from=216\n"
                                    "source=measured on the quay (invented)\nstatus=read\n");
  g_auto (Run) damaged = { 0 };

  (void) data;
  SAYS (place, 0, "", "library", "demo");
  SAYS (place, 0, "in the library now", "library", "sizes", sizes);
  SAYS (place, 0, "Quay heads", "library", "sizes");
  assert_own_table (place, coble);
  SAYS (place, 0, "the copy was checked", "library", "backup", backup);
  SAYS (place, 2, "already", "library", "backup", backup);
  SAYS (place, 0, "", "library", "remove", "Ketch");
  SAYS (place, 0, "was kept as", "library", "restore", backup);
  SAYS (place, 0, "Ketch", "library", "show", "Ketch");

  g_assert_true (g_file_set_contents (place->library, "no library", -1, NULL));
  RUN (&damaged, place, "library", "list");
  assert_status (&damaged, 2);
  assert_says (damaged.err, "no library");
  SAYS (place, 0, "restored", "library", "restore", backup);
  SAYS (place, 0, "sound", "library", "verify");
  SAYS (place, 2, "nothing that", "library", "polish");
  SAYS (place, 2, "--bin", "library", "add", lugger, "--bin");
}

/* The usual place, by the XDG Base Directory Specification. */
static void
test_usual_place (Place         *place,
                  gconstpointer  data)
{
  g_auto (GStrv) environment = g_environ_setenv (g_get_environ (), "XDG_DATA_HOME", place->folder,
                                                 TRUE);
  g_autofree char *path = g_build_filename (place->folder, "brimwright", "library.db", NULL);
  g_autofree char *lugger = design_file ("lugger.hat");
  g_auto (Run) run = { 0 };

  (void) data;
  run_with (&run, environment, "library", "add", lugger, NULL);
  g_assert_cmpint (run.status, ==, 0);
  g_assert_true (g_file_test (path, G_FILE_TEST_IS_REGULAR));
}

int
main (int    argc,
      char **argv)
{
  g_test_init (&argc, &argv, NULL);

  g_test_add_func ("/library/cli/help", test_help);
#define ADD(path, function) \
  g_test_add ("/library/cli/" path, Place, NULL, set_up, function, tear_down)
  ADD ("designs", test_designs);
  ADD ("revisions", test_revisions);
  ADD ("grade", test_grade);
  ADD ("swatches", test_swatches);
  ADD ("photographs", test_photographs);
  ADD ("hook", test_hook);
  ADD ("keeping", test_keeping);
  ADD ("usual-place", test_usual_place);

  return g_test_run ();
}
