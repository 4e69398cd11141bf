#include <fcntl.h>
#include <signal.h>
#include <string.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include <glib/gstdio.h>

#include "run.h"

/* Publishing a library as a script does it: what is written, what fails, what a
 * stop or a full disk leaves behind. */

#define DATE "1772323200" /* 2026-03-01 */

typedef struct
{
  char  *folder;
  char  *library;
  char  *out;
  char **environment;
} Place;

static void
remove_tree (const char *path)
{
  g_autoptr (GDir) dir = g_dir_open (path, 0, NULL);
  const char *name;

  while (dir != NULL && (name = g_dir_read_name (dir)) != NULL)
    {
      g_autofree char *inner = g_build_filename (path, name, NULL);

      remove_tree (inner);
    }
  if (dir != NULL)
    g_rmdir (path);
  else
    g_unlink (path);
}

static void
set_up (Place *place,
        G_GNUC_UNUSED gconstpointer data)
{
  g_autoptr (GError) error = NULL;
  g_auto (Run) run = { 0 };

  place->folder = g_dir_make_tmp ("bw-publish-XXXXXX", &error);
  g_assert_no_error (error);
  place->library = g_build_filename (place->folder, "library.db", NULL);
  place->out = g_build_filename (place->folder, "out", NULL);
  place->environment = g_environ_setenv (g_get_environ (), "SOURCE_DATE_EPOCH", DATE, TRUE);
  run_with (&run, NULL, "library", "demo", "--library", place->library, NULL);
  g_assert_cmpint (run.status, ==, 0);
}

static void
tear_down (Place *place,
           G_GNUC_UNUSED gconstpointer data)
{
  remove_tree (place->folder);
  g_free (place->folder);
  g_free (place->library);
  g_free (place->out);
  g_strfreev (place->environment);
}

static int
compare_names (gconstpointer a,
               gconstpointer b)
{
  return strcmp (*(const char *const *) a, *(const char *const *) b);
}

static void
list_into (GPtrArray  *paths,
           const char *folder,
           const char *within)
{
  g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);
  const char *name;

  while (dir != NULL && (name = g_dir_read_name (dir)) != NULL)
    {
      g_autofree char *inner = g_build_filename (folder, name, NULL);
      char *path = *within != '\0' ? g_build_filename (within, name, NULL) : g_strdup (name);

      if (g_file_test (inner, G_FILE_TEST_IS_DIR))
        {
          list_into (paths, inner, path);
          g_free (path);
        }
      else
        g_ptr_array_add (paths, path);
    }
}

/* Names of all files, in order. */
static GPtrArray *
list (const char *folder)
{
  GPtrArray *paths = g_ptr_array_new_with_free_func (g_free);

  list_into (paths, folder, "");
  g_ptr_array_sort (paths, compare_names);
  return paths;
}

static char *
contents (const char *folder,
          const char *name,
          gsize      *length)
{
  g_autofree char *path = g_build_filename (folder, name, NULL);
  g_autoptr (GError) error = NULL;
  char *text;

  g_file_get_contents (path, &text, length, &error);
  g_assert_no_error (error);
  return text;
}

static void
assert_same_files (const char *a,
                   const char *b)
{
  g_autoptr (GPtrArray) left = list (a);
  g_autoptr (GPtrArray) right = list (b);

  g_assert_cmpuint (left->len, ==, right->len);
  for (guint i = 0; i < left->len; i++)
    {
      const char *name = g_ptr_array_index (left, i);
      gsize n, m;
      g_autofree char *x = contents (a, name, &n);
      g_autofree char *y = contents (b, name, &m);

      g_assert_cmpstr (name, ==, g_ptr_array_index (right, i));
      g_assert_cmpmem (x, n, y, m);
    }
}

/* A file is whole when it ends as its kind ends; nothing else lies about. */
static void
assert_whole (const char *folder)
{
  g_autoptr (GPtrArray) names = list (folder);

  for (guint i = 0; i < names->len; i++)
    {
      const char *name = g_ptr_array_index (names, i);
      gsize length;
      g_autofree char *text = contents (folder, name, &length);

      g_assert_cmpuint (length, >, 0);
      if (g_str_has_suffix (name, ".html"))
        g_assert_true (g_str_has_suffix (text, "</body>\n</html>\n"));
      else if (g_str_has_suffix (name, ".pdf"))
        g_assert_true (g_str_has_suffix (text + length - 7, "%%EOF\n") ||
                       g_str_has_suffix (text + length - 6, "%%EOF"));
      else if (g_str_has_suffix (name, ".csv"))
        g_assert_true (g_str_has_suffix (text, "\r\n"));
      else
        g_assert_true (g_str_has_suffix (name, ".txt") && g_str_has_suffix (text, "\n"));
    }
}

static guint
count_revisions (const Place *place,
                 const char  *design)
{
  g_auto (Run) run = { 0 };

  run_with (&run, NULL, "library", "revisions", design, "--library", place->library, NULL);
  g_assert_cmpint (run.status, ==, 0);
  return strstr (run.out, "There is no revision") != NULL ? 0 : count_lines (run.out) - 1;
}

/* All of it: a folder for each design, both editions, a number each; a second
 * time the numbers and the bytes are the same, however many work at it. */
static void
test_all (Place *place,
          G_GNUC_UNUSED gconstpointer data)
{
  g_autofree char *again = g_build_filename (place->folder, "again", NULL);
  g_autofree char *text = NULL;
  g_autofree char *page = NULL;
  g_autoptr (GPtrArray) names = NULL;
  g_auto (Run) run = { 0 };
  gsize length;

  run_with (&run, place->environment, "publish", "--all", "--to", place->out, "--terms", "both",
            "--jobs", "3", "--library", place->library, "--note", "For the spring fair", NULL);
  g_assert_cmpint (run.status, ==, 0);
  g_assert_nonnull (strstr (run.out, "12 of 12 designs were published"));
  g_assert_nonnull (strstr (run.err, "12 of 12: "));
  g_assert_nonnull (strstr (run.err, "  with warnings: "));
  names = list (place->out);
  g_assert_cmpuint (names->len, >, 12 * 10);
  assert_whole (place->out);

  text = contents (place->out, "lugger/lugger-us.txt", &length);
  g_assert_nonnull (strstr (text, "Terms: US terms"));
  g_assert_nonnull (strstr (text, "Revision 1, "));
  g_assert_nonnull (strstr (text, "For the spring fair"));
  page = contents (place->out, "ketch/ketch-uk.html", &length);
  g_assert_nonnull (strstr (page, "Corrections for those who have revision "));
  g_assert_cmpuint (count_revisions (place, "Lugger"), ==, 1);

  run_with (&run, place->environment, "publish", "--all", "--to", again, "--terms", "both",
            "--jobs", "1", "--library", place->library, "--quiet", NULL);
  g_assert_cmpint (run.status, ==, 0);
  g_assert_cmpstr (run.err, ==, "");
  g_assert_cmpuint (count_revisions (place, "Lugger"), ==, 1);
}

/* Without notes or numbers: a draft is the same from any library, and keeps none. */
static void
test_draft (Place *place,
            G_GNUC_UNUSED gconstpointer data)
{
  g_autofree char *again = g_build_filename (place->folder, "again", NULL);
  g_autofree char *text = NULL;
  g_auto (Run) run = { 0 };
  gsize length;

  run_with (&run, place->environment, "publish", "--all", "--draft", "--to", place->out, "--jobs",
            "4", "--library", place->library, "--kinds", "html,text,listing,sheet,rounds,sizes,yarn",
            NULL);
  g_assert_cmpint (run.status, ==, 0);
  run_with (&run, place->environment, "publish", "--all", "--draft", "--to", again, "--jobs", "1",
            "--library", place->library, "--kinds", "html,text,listing,sheet,rounds,sizes,yarn",
            NULL);
  g_assert_cmpint (run.status, ==, 0);
  assert_same_files (place->out, again);
  text = contents (place->out, "lugger/lugger-uk.txt", &length);
  g_assert_nonnull (strstr (text, "Draft, 2026-03-01."));
  g_assert_cmpuint (count_revisions (place, "Lugger"), ==, 0);
}

/* A design that cannot be graded is named, and the rest is published. */
static void
test_failing (Place *place,
              G_GNUC_UNUSED gconstpointer data)
{
  g_autoptr (GString) text = g_string_new (family ());
  g_autofree char *path = NULL;
  g_auto (Run) run = { 0 };

  g_string_replace (text, "name=", "name=Wreck of ", 1);
  g_string_append (text, "\n[Rules]\ngirth-limit=0.1 mm\n");
  path = write_design ("wreck.hat", text->str);
  run_with (&run, NULL, "library", "add", path, "--library", place->library, NULL);
  g_assert_cmpint (run.status, ==, 0);
  run_with (&run, NULL, "grade", path, NULL);
  g_assert_cmpint (run.status, ==, 1);

  run_with (&run, NULL, "publish", "--all", "--to", place->out, "--kinds", "text", "--library",
            place->library, NULL);
  g_assert_cmpint (run.status, ==, 1);
  g_assert_nonnull (strstr (run.out, "12 of 13 designs were published"));
  g_assert_nonnull (strstr (run.out, "Not published: Wreck of "));
  g_assert_nonnull (strstr (run.err, "Wreck of "));
  g_assert_nonnull (strstr (run.err, " failed: "));
  assert_whole (place->out);
}

/* Names no folder should ever have, twice the same, a photograph for one. */
static void
test_names (Place *place,
            G_GNUC_UNUSED gconstpointer data)
{
  static const char *const titles[] = { "../../Mooring", "Mooring!", "סירת מפרש" };
  g_autofree char *photos = g_build_filename (place->folder, "photos", NULL);
  g_autofree char *photo = g_build_filename (photos, "סירת-מפרש.png", NULL);
  g_autofree char *page = NULL;
  g_autoptr (GPtrArray) names = NULL;
  g_auto (Run) run = { 0 };
  gsize length;

  for (guint i = 0; i < G_N_ELEMENTS (titles); i++)
    {
      g_autofree char *name = g_strconcat ("name=", titles[i], NULL);
      g_autoptr (GString) text = g_string_new (family ());
      g_autofree char *path = NULL;

      g_assert_cmpuint (g_string_replace (text, "name=Coble", name, 1), ==, 1);
      path = write_design ("named.hat", text->str);
      run_with (&run, NULL, "library", "add", path, "--library", place->library, NULL);
      g_assert_cmpstr (run.err, ==, "");
      g_assert_cmpint (run.status, ==, 0);
    }
  g_mkdir (photos, 0700);
  g_file_set_contents (photo, "\x89PNG\r\n\x1a\n....", 12, NULL);

  run_with (&run, NULL, "publish", "13", "14", "15", "--to", place->out, "--kinds", "html",
            "--photographs", photos, "--library", place->library, NULL);
  g_assert_cmpint (run.status, ==, 0);
  names = list (place->out);
  g_assert_cmpuint (names->len, ==, 3);
  g_assert_cmpstr (g_ptr_array_index (names, 0), ==, "mooring_13/mooring_13-uk.html");
  g_assert_cmpstr (g_ptr_array_index (names, 1), ==, "mooring_14/mooring_14-uk.html");
  g_assert_cmpstr (g_ptr_array_index (names, 2), ==, "סירת-מפרש/סירת-מפרש-uk.html");
  g_assert_nonnull (strstr (run.err, "there is no photograph mooring_13.png"));
  page = contents (place->out, "סירת-מפרש/סירת-מפרש-uk.html", &length);
  g_assert_nonnull (strstr (page, "data:image/png;base64,"));
}

/* Starts the program by itself; the limit is on the size of its files. */
static GPid
start (const Place *place,
       rlim_t       most)
{
  GPid pid = fork ();

  if (pid == 0)
    {
      struct rlimit limit = { most, most };
      int nothing = open ("/dev/null", O_WRONLY);

      if (most != RLIM_INFINITY)
        setrlimit (RLIMIT_FSIZE, &limit);
      dup2 (nothing, STDOUT_FILENO);
      dup2 (nothing, STDERR_FILENO);
      execl (g_getenv ("BW_CLI"), "brimwright-cli", "publish", "--all", "--draft", "--terms", "both",
             "--jobs", "2", "--to", place->out, "--library", place->library, "--kinds",
             "html,text,sheet,rounds", NULL);
      _exit (127);
    }
  g_assert_cmpint (pid, >, 0);
  return pid;
}

static int
wait_for (GPid pid)
{
  int status;

  g_assert_cmpint (waitpid (pid, &status, 0), ==, pid);
  return WIFEXITED (status) ? WEXITSTATUS (status) : -WTERMSIG (status);
}

/* No room for what is larger than 40 KB: a page is not there at all rather than by
 * half, and its design is told to have failed. */
static void
test_no_room (Place *place,
              G_GNUC_UNUSED gconstpointer data)
{
  g_autoptr (GPtrArray) names = NULL;
  guint pages = 0;

  g_assert_cmpint (wait_for (start (place, 40 * 1024)), ==, 1);
  names = list (place->out);
  assert_whole (place->out);
  for (guint i = 0; i < names->len; i++)
    pages += g_str_has_suffix (g_ptr_array_index (names, i), "-uk.html");
  g_assert_cmpuint (pages, ==, 0);
}

/* Stopped at any moment, only whole files are left, and it says that it was. */
static void
test_stop (Place *place,
           G_GNUC_UNUSED gconstpointer data)
{
  guint stopped = 0;

  for (guint i = 0; i < 12; i++)
    {
      GPid pid = start (place, RLIM_INFINITY);
      int status;

      g_usleep (15000 + i * 25000);
      kill (pid, SIGINT);
      status = wait_for (pid);
      /* before the program was ready it is ended as usual */
      g_assert_true (status == 0 || status == 1 || status == -SIGINT);
      stopped += status == 1;
      assert_whole (place->out);
      remove_tree (place->out);
    }
  g_test_message ("stopped at work %u times of 12", stopped);
}

static void
test_errors (Place *place,
             G_GNUC_UNUSED gconstpointer data)
{
  static const char *const wrong[][5] = {
    { "--all", NULL, "--to FOLDER", NULL, NULL },
    { "--to", "x", "--all", NULL, NULL },
    { "--all", "Lugger", "--all", NULL, NULL },
    { "--all", "--kinds=html,poem", "no kind of file", NULL, NULL },
    { "--all", "--terms=fr", "both", NULL, NULL },
    { "--all", "--jobs=-1", "--jobs", NULL, NULL },
    { "Nemo", NULL, "Nemo", NULL, NULL },
  };
  g_auto (Run) run = { 0 };

  run_with (&run, NULL, "publish", "--all", "--library", place->library, NULL);
  g_assert_cmpint (run.status, ==, 2);
  g_assert_nonnull (strstr (run.err, "--to FOLDER"));
  for (guint i = 2; i < G_N_ELEMENTS (wrong); i++)
    {
      run_with (&run, NULL, "publish", "--to", place->out, "--library", place->library, wrong[i][0],
                wrong[i][1], NULL);
      g_assert_cmpint (run.status, ==, 2);
      g_assert_nonnull (strstr (run.err, wrong[i][2]));
      g_assert_cmpstr (run.out, ==, "");
    }

  /* a file is where the folder should be */
  run_with (&run, NULL, "publish", "--all", "--to", place->library, "--library", place->library,
            NULL);
  g_assert_cmpint (run.status, ==, 2);
  g_assert_nonnull (strstr (run.err, "choose another"));
  g_assert_cmpuint (count_revisions (place, "Lugger"), ==, 0);
}

/* A page whose photograph is gone is written without it; a listing needs no file. */
static void
test_write (Place *place,
            G_GNUC_UNUSED gconstpointer data)
{
  g_autofree char *design = g_build_filename (g_getenv ("BW_DESIGNS"), "lugger.hat", NULL);
  g_autofree char *gone = g_build_filename (place->folder, "gone.png", NULL);
  g_autofree char *path = g_build_filename (place->folder, "page.html", NULL);
  g_autofree char *text = NULL;
  g_auto (Run) run = { 0 };

  run_with (&run, NULL, "write", design, "--to", path, "--photo", gone, NULL);
  g_assert_cmpint (run.status, ==, 0);
  g_assert_nonnull (strstr (run.err, "gone.png"));
  g_file_get_contents (path, &text, NULL, NULL);
  g_assert_true (g_str_has_suffix (text, "</body>\n</html>\n"));
  g_assert_null (strstr (text, "<img"));

  run_with (&run, NULL, "write", design, "--as", "listing", NULL);
  g_assert_cmpint (run.status, ==, 0);
  g_assert_true (g_str_has_prefix (run.out, "Lugger: crochet hat pattern in 8 sizes\n"));
  run_with (&run, NULL, "write", design, "--as", "sheet", NULL);
  g_assert_cmpint (run.status, ==, 2);
  g_assert_nonnull (strstr (run.err, "--size"));
  run_with (&run, NULL, "write", design, "--as", "html", NULL);
  g_assert_cmpint (run.status, ==, 2);
  g_assert_nonnull (strstr (run.err, "--to FILE"));
  run_with (&run, NULL, "write", design, "--as", "poem", NULL);
  g_assert_cmpint (run.status, ==, 2);
  g_assert_nonnull (strstr (run.err, "listing"));
}

/* A sheet that was published, filled in, and read again. */
static void
test_tested (Place *place,
             G_GNUC_UNUSED gconstpointer data)
{
  g_autofree char *design = g_build_filename (g_getenv ("BW_DESIGNS"), "lugger.hat", NULL);
  g_autofree char *other = g_build_filename (g_getenv ("BW_DESIGNS"), "smack.hat", NULL);
  g_autofree char *path = g_build_filename (place->folder, "sheet.txt", NULL);
  g_autofree char *text = NULL;
  g_autoptr (GString) sheet = NULL;
  g_auto (Run) run = { 0 };

  run_with (&run, NULL, "write", design, "--as", "sheet", "--size", "adult-m", "--to", path, NULL);
  g_assert_cmpstr (run.err, ==, "");
  g_assert_cmpint (run.status, ==, 0);
  run_with (&run, NULL, "tested", design, path, NULL);
  g_assert_cmpint (run.status, ==, 2);
  g_assert_nonnull (strstr (run.err, "nothing is filled in"));

  g_file_get_contents (path, &text, NULL, NULL);
  sheet = g_string_new (text);
  g_assert_cmpuint (g_string_replace (sheet, "back (53.4 cm): ", "back (53.4 cm): 55.1 cm", 1), ==, 1);
  g_file_set_contents (path, sheet->str, -1, NULL);
  run_with (&run, NULL, "tested", design, path, path, NULL);
  g_assert_cmpint (run.status, ==, 0);
  g_assert_nonnull (strstr (run.out, "  Girth: 55.1 cm; worked out 53.4 cm: 1.7 cm more\n"));
  run_with (&run, NULL, "tested", other, path, NULL);
  g_assert_cmpint (run.status, ==, 2);
  g_assert_nonnull (strstr (run.err, "for “Lugger”"));
}

int
main (int    argc,
      char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add ("/publish/all", Place, NULL, set_up, test_all, tear_down);
  g_test_add ("/publish/draft", Place, NULL, set_up, test_draft, tear_down);
  g_test_add ("/publish/failing", Place, NULL, set_up, test_failing, tear_down);
  g_test_add ("/publish/names", Place, NULL, set_up, test_names, tear_down);
  g_test_add ("/publish/no-room", Place, NULL, set_up, test_no_room, tear_down);
  g_test_add ("/publish/stop", Place, NULL, set_up, test_stop, tear_down);
  g_test_add ("/publish/errors", Place, NULL, set_up, test_errors, tear_down);
  g_test_add ("/publish/write", Place, NULL, set_up, test_write, tear_down);
  g_test_add ("/publish/tested", Place, NULL, set_up, test_tested, tear_down);
  return g_test_run ();
}
