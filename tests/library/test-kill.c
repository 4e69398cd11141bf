#include <errno.h>
#include <fcntl.h>
#include <signal.h>
#include <sys/wait.h>
#include <unistd.h>

#include "graded.h"
#include "library-fixture.h"

#include "bw-library-revision.h"

/* A child works on the library and tells over a pipe each step that was
 * reported done to it; it is killed at a random moment. What it told must be
 * there, what it did not must be there as a whole or not at all. */

#define KILLS_DEFAULT 300
#define KILLS_EACH    200

typedef struct
{
  guint32 kind; /* 's'aved, 'u'ndone, 'r'evised, 'o'pened */
  guint32 step; /* the state that the design is in, or the revision's number */
} Report;

static guint
n_kills (void)
{
  const char *said = g_getenv ("BW_LIBRARY_KILLS");

  return said != NULL ? (guint) g_ascii_strtoull (said, NULL, 10) : KILLS_DEFAULT;
}

/* The design in its nth state: any state can be made again to compare. */
static BwDesign *
state (const BwReference *reference,
       guint              n)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (1000 + n % 64);
  BwDesign *design = random_design (rand, reference);

  g_free (design->summary);
  design->summary = g_strdup_printf ("state %u", n);

  return design;
}

static guint
state_number (const BwDesign *design)
{
  g_assert_true (g_str_has_prefix (design->summary, "state "));

  return (guint) g_ascii_strtoull (design->summary + 6, NULL, 10);
}

/* ---- the child ---------------------------------------------------------------- */

static void
tell (int   pipe_out,
      char  kind,
      guint step)
{
  Report report = { (guint32) kind, step };

  if (write (pipe_out, &report, sizeof report) != (gssize) sizeof report)
    _exit (3);
}

/* A forked child would draw the same identifiers as the one before it, and one
 * whose number the system gives out again, those of that one. */
static void
draw_anew (void)
{
  int fd = open ("/dev/urandom", O_RDONLY | O_CLOEXEC);
  guint32 seed;

  if (fd < 0 || read (fd, &seed, sizeof seed) != (gssize) sizeof seed)
    _exit (7);
  close (fd);
  g_random_set_seed (seed);
}

static void
end_child (int           status,
           const GError *error)
{
  g_printerr ("# the child: %s\n", error->message);
  _exit (status);
}

static void
child_save (BwLibrary         *library,
            const BwReference *reference,
            guint              n)
{
  g_autoptr (BwDesign) design = state (reference, n);
  g_autoptr (GError) error = NULL;
  BwLibraryEdit edit = { .label = "Edit" };

  if (!bw_library_save (library, 1, design, &edit, &error))
    end_child (4, error);
}

static void
child_works (const char        *path,
             const BwReference *reference,
             const BwGrading   *grading,
             guint              n,
             int                pipe_out)
{
  g_autoptr (GError) error = NULL;
  BwLibrary *library = bw_library_open (path, BW_LIBRARY_OPEN_DEFAULT, &error);
  guint number;

  if (library == NULL)
    end_child (2, error);

  draw_anew ();
  tell (pipe_out, 'o', n);

  for (guint turn = 1;; turn++)
    {
      child_save (library, reference, ++n);
      tell (pipe_out, 's', n);
      if (turn % 5 == 0)
        {
          if (!bw_library_undo (library, 1, NULL, &error))
            end_child (5, error);
          tell (pipe_out, 'u', --n);
        }
      if (turn % 3 == 2)
        {
          if (!bw_library_revise (library, 1, grading, "kept", &number, &error))
            end_child (6, error);
          tell (pipe_out, 'r', number);
        }
    }
}

/* ---- the parent --------------------------------------------------------------- */

static gboolean
read_report (int     pipe_in,
             Report *report)
{
  gssize n;

  do
    n = read (pipe_in, report, sizeof *report);
  while (n < 0 && errno == EINTR);
  g_assert_true (n == 0 || n == (gssize) sizeof *report);

  return n > 0;
}

/* How long a step of a child takes here, seconds; a slow machine is waited for. */
static double step_time = 0.005;

static void
take_report (const Report *report,
             guint        *n_told,
             guint        *last_state,
             guint        *last_revision)
{
  if (report->kind == 'r')
    {
      *last_revision = report->step;
    }
  else if (report->kind != 'o')
    {
      *last_state = report->step;
      (*n_told)++;
    }
}

/* Waits until the child has opened and has told so many steps, and then for a
 * moment that may be in the middle of any of the next two. */
static void
wait_for_moment (int     pipe_in,
                 GRand  *rand,
                 guint  *n_told,
                 guint  *last_state,
                 guint  *last_revision)
{
  gint32 n_steps = g_rand_int_range (rand, 0, 10);
  gint64 start = 0;
  Report report;

  for (gint32 i = 0; i <= n_steps; i++)
    {
      g_assert_true (read_report (pipe_in, &report));
      g_assert_true ((report.kind == 'o') == (i == 0));
      take_report (&report, n_told, last_state, last_revision);
      if (i == 0)
        start = g_get_monotonic_time ();
    }
  if (n_steps > 0)
    step_time = (double) (g_get_monotonic_time () - start) / G_USEC_PER_SEC / n_steps;
  g_usleep ((gulong) (g_rand_double_range (rand, 0, 2 * step_time) * G_USEC_PER_SEC));
}

/* Kills the child at some moment and gives what it told last; returns how many
 * changes of the design it told. */
static guint
kill_one (pid_t   child,
          int     pipe_in,
          GRand  *rand,
          guint  *last_state,
          guint  *last_revision)
{
  guint n_told = 0;
  Report report;
  int status;

  wait_for_moment (pipe_in, rand, &n_told, last_state, last_revision);
  g_assert_cmpint (kill (child, SIGKILL), ==, 0);
  g_assert_cmpint (waitpid (child, &status, 0), ==, child);
  if (!WIFSIGNALED (status))
    g_test_message ("the child ended by itself: %d", WEXITSTATUS (status));
  g_assert_true (WIFSIGNALED (status));
  g_assert_cmpint (WTERMSIG (status), ==, SIGKILL);

  while (read_report (pipe_in, &report))
    take_report (&report, &n_told, last_state, last_revision);

  return n_told;
}

static guint
check_design (Fixture *fixture,
              guint    last)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (BwDesign) design = bw_library_load (fixture->library, 1, NULL, &error);
  g_autoptr (BwDesign) expected = NULL;
  guint n;

  g_assert_no_error (error);
  n = state_number (design);

  /* the step that was under way may be done without having been told: a save
   * after the last, or the undoing of the last */
  if (n != last && n != last + 1)
    g_assert_cmpuint (n, ==, last - 1);
  expected = state (fixture->reference, n);
  g_assert_true (bw_design_equal (design, expected));

  return n;
}

static void
check_history (Fixture *fixture,
               guint    n)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (BwDesign) before = NULL;
  guint n_undo;

  g_assert_true (bw_library_get_undo (fixture->library, 1, NULL, NULL, &n_undo, NULL, &error));
  /* the step that was just taken back is one of those that are kept */
  if (n_undo != BW_LIBRARY_UNDO_MAX - 1 || n < n_undo)
    g_assert_cmpuint (n_undo, ==, MIN (n, BW_LIBRARY_UNDO_MAX));
  if (n == 0)
    return;

  before = state (fixture->reference, n - 1);
  g_assert_true (bw_library_undo (fixture->library, 1, NULL, &error));
  g_assert_no_error (error);
  assert_stored (fixture->library, 1, before);
  g_assert_true (bw_library_redo (fixture->library, 1, NULL, &error));
  g_assert_no_error (error);
}

static void
check_revisions (Fixture         *fixture,
                 const BwGrading *grading,
                 guint           *last)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) revisions = bw_library_get_revisions (fixture->library, 1, &error);
  g_autofree char *n_rounds = sql_text (fixture->path, "SELECT count (*) FROM revision_round");
  guint each = 0;

  g_assert_no_error (error);
  g_assert_true (revisions->len == *last || revisions->len == *last + 1);
  for (guint i = 0; i < grading->sizes->len; i++)
    each += ((BwGradedSize *) grading->sizes->pdata[i])->rounds->rounds->len;
  g_assert_cmpint (g_ascii_strtoll (n_rounds, NULL, 10), ==, (gint64) revisions->len * each);
  *last = revisions->len;
}

static pid_t
start_child (Fixture         *fixture,
             const BwGrading *grading,
             guint            n,
             int             *pipe_in)
{
  int ends[2];
  pid_t child;

  g_assert_cmpint (pipe (ends), ==, 0);
  child = fork ();
  g_assert_cmpint (child, >=, 0);
  if (child == 0)
    {
      close (ends[0]);
      child_works (fixture->path, fixture->reference, grading, n, ends[1]);
    }
  close (ends[1]);
  *pipe_in = ends[0];

  return child;
}

/* What was seen of all kills. */
typedef struct
{
  guint n_kills;
  guint n_told;       /* saves and undoings that were reported done */
  guint n_revisions;  /* that are there at the end */
  guint n_untold;     /* kills that caught a step done and not reported yet */
} Seen;

static void
kill_many (Fixture         *fixture,
           const BwGrading *grading,
           GRand           *rand,
           guint            n_kills,
           Seen            *seen)
{
  g_autoptr (BwDesign) first = state (fixture->reference, 0);
  g_autoptr (GError) error = NULL;
  guint n = 0, n_revisions = 0;
  gint64 id;

  g_assert_true (bw_library_add (fixture->library, first, &id, &error));
  g_assert_cmpint (id, ==, 1);

  for (guint i = 0; i < n_kills; i++)
    {
      guint last = n, told_revisions = n_revisions;
      int pipe_in;
      pid_t child;

      /* no connection of ours is open while the child lives: what is found
       * afterwards is found by whoever opens the file next */
      g_clear_pointer (&fixture->library, bw_library_close);
      child = start_child (fixture, grading, n, &pipe_in);
      seen->n_told += kill_one (child, pipe_in, rand, &last, &told_revisions);
      close (pipe_in);

      fixture_reopen (fixture);
      n_revisions = told_revisions;
      n = check_design (fixture, last);
      check_revisions (fixture, grading, &n_revisions);
      check_history (fixture, n);
      assert_sound (fixture->library);
      seen->n_untold += n != last || n_revisions != told_revisions;
    }
  seen->n_kills += n_kills;
  seen->n_revisions += n_revisions;
  g_test_message ("%u kills: %u saves and undoings were told, %u revisions are there; "
                  "%u kills came between a step and its telling",
                  seen->n_kills, seen->n_told, seen->n_revisions, seen->n_untold);
}

/* A library of its own for so many kills, as looking through all that was kept
 * of the earlier ones would take longest. */
static void
test_saves (Fixture       *fixture,
            gconstpointer  data)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (20240502);
  g_autoptr (BwDesign) graded_design = read_design (fixture->reference, "oracle.hat");
  g_autoptr (BwGrading) grading = grade (fixture->reference, graded_design);
  Seen seen = { 0 };

  (void) data;
  for (guint left = n_kills (); left > 0; left -= MIN (left, KILLS_EACH))
    {
      g_autoptr (GError) error = NULL;

      kill_many (fixture, grading, rand, MIN (left, KILLS_EACH), &seen);
      g_clear_pointer (&fixture->library, bw_library_close);
      g_assert_cmpint (g_unlink (fixture->path), ==, 0);
      fixture->library = bw_library_open (fixture->path, BW_LIBRARY_OPEN_CREATE, &error);
      g_assert_no_error (error);
    }
  g_assert_cmpuint (seen.n_kills, ==, n_kills ());
  g_assert_cmpuint (seen.n_told, >, n_kills ());
  g_assert_cmpuint (seen.n_revisions, >, n_kills () / 4);
}

/* ---- killed while the file is being made ---------------------------------------- */

static void
child_creates (const char *path,
               int         pipe_out)
{
  BwLibrary *library;

  tell (pipe_out, 'o', 0);
  library = bw_library_open (path, BW_LIBRARY_OPEN_CREATE, NULL);
  if (library == NULL)
    _exit (2);
  tell (pipe_out, 's', 1);
  pause ();
  _exit (0);
}

/* Starts a child that makes a library and tells when it begins and when it is
 * done. */
static pid_t
start_creation (const char *path,
                int        *pipe_in)
{
  Report report;
  int ends[2];
  pid_t child;

  g_assert_cmpint (pipe (ends), ==, 0);
  child = fork ();
  if (child == 0)
    {
      close (ends[0]);
      child_creates (path, ends[1]);
    }
  close (ends[1]);
  *pipe_in = ends[0];
  g_assert_true (read_report (*pipe_in, &report));
  g_assert_cmpint ((int) report.kind, ==, 'o');

  return child;
}

/* Returns whether the child had told that it is done. */
static gboolean
end_creation (pid_t child,
              int   pipe_in)
{
  gboolean told = FALSE;
  Report report;
  int status;

  kill (child, SIGKILL);
  g_assert_cmpint (waitpid (child, &status, 0), ==, child);
  while (read_report (pipe_in, &report))
    told = TRUE;
  close (pipe_in);

  return told;
}

/* How long it takes here, microseconds. */
static double
creation_time (Fixture *fixture)
{
  g_autofree char *path = g_strdup_printf ("%s/whole.db", fixture->folder);
  int pipe_in;
  pid_t child = start_creation (path, &pipe_in);
  gint64 start = g_get_monotonic_time ();
  gint64 end;
  Report report;

  g_assert_true (read_report (pipe_in, &report));
  end = g_get_monotonic_time ();
  end_creation (child, pipe_in);

  return (double) (end - start);
}

/* Either there is nothing, or there is a whole library. */
static gboolean
check_created (const char *path,
               gboolean    told)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (BwLibrary) library = bw_library_open (path, BW_LIBRARY_OPEN_DEFAULT, &error);

  if (library != NULL)
    {
      assert_sound (library);
      return TRUE;
    }

  g_assert_error (error, BW_LIBRARY_ERROR, BW_LIBRARY_ERROR_MISSING);
  g_assert_false (told);
  g_clear_error (&error);
  library = bw_library_open (path, BW_LIBRARY_OPEN_CREATE, &error);
  g_assert_no_error (error);

  return FALSE;
}

static void
test_creation (Fixture       *fixture,
               gconstpointer  data)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (20240503);
  double usual = creation_time (fixture);
  guint n_whole = 0;

  (void) data;
  for (guint i = 0; i < 100; i++)
    {
      g_autofree char *path = g_strdup_printf ("%s/new-%u.db", fixture->folder, i);
      int pipe_in;
      pid_t child = start_creation (path, &pipe_in);

      g_usleep ((gulong) g_rand_double_range (rand, 0, 1.5 * usual));
      n_whole += check_created (path, end_creation (child, pipe_in));
    }
  g_test_message ("%u of 100 were whole", n_whole);
}

int
main (int    argc,
      char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add ("/library/kill/saves", Fixture, NULL, fixture_set_up, test_saves, fixture_tear_down);
  g_test_add ("/library/kill/creation", Fixture, NULL, fixture_set_up, test_creation,
              fixture_tear_down);

  return g_test_run ();
}
