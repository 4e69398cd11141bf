#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#include <glib/gstdio.h>

#include "bw-application.h"
#include "bw-design-file.h"
#include "bw-design-ops.h"
#include "bw-library-demo.h"
#include "bw-library-design.h"
#include "bw-reference-builtin.h"
#include "bw-window.h"

/* Figures of the window, under whatever display there is:
 *
 *   first frame and peak memory, against an empty GtkApplicationWindow
 *   from a keystroke in the form to the repainted frame, with twelve sizes
 *
 * Each start is a process of its own, ours and the empty one in turn, so that
 * both meet the same machine. Fails where a ratio or a frame is over its limit. */

#define STARTS          9
#define FRAME_RATIO     1.5
#define MEMORY_RATIO    1.4
#define KEYSTROKES      100
#define REST_MS         100
#define SIZES           12
#define MEDIAN_LIMIT_MS 16.0
#define WORST_LIMIT_MS  33.0

static gint64 started;

/* ---- one start, in a process of its own -------------------------------- */

static long
peak_kb (void)
{
  g_autofree char *status = NULL;
  const char *line;

  g_assert_true (g_file_get_contents ("/proc/self/status", &status, NULL, NULL));
  line = strstr (status, "VmHWM:");
  g_assert_nonnull (line);

  return strtol (line + strlen ("VmHWM:"), NULL, 10);
}

static void
painted_cb (GdkFrameClock *clock G_GNUC_UNUSED,
            gpointer       data G_GNUC_UNUSED)
{
  g_print ("%" G_GINT64_FORMAT " %ld\n", g_get_monotonic_time () - started, peak_kb ());
  _Exit (0);
}

static void
watch (GtkWidget *window)
{
  gtk_widget_realize (window);
  g_signal_connect (gtk_widget_get_frame_clock (window), "after-paint", G_CALLBACK (painted_cb),
                    NULL);
}

static void
empty_cb (GApplication *application,
          gpointer      data G_GNUC_UNUSED)
{
  GtkWidget *window = gtk_application_window_new (GTK_APPLICATION (application));

  gtk_window_set_default_size (GTK_WINDOW (window), 1280, 800);
  watch (window);
  gtk_window_present (GTK_WINDOW (window));
}

static int
start_empty (void)
{
  GtkApplication *application = gtk_application_new ("org.brimwright.Empty",
                                                     G_APPLICATION_NON_UNIQUE);

  g_signal_connect (application, "activate", G_CALLBACK (empty_cb), NULL);

  return g_application_run (G_APPLICATION (application), 0, NULL);
}

static void
added_cb (GtkApplication *application G_GNUC_UNUSED,
          GtkWindow      *window,
          gpointer        data G_GNUC_UNUSED)
{
  watch (GTK_WIDGET (window));
}

static int
start_ours (const char *library)
{
  BwApplication *application = bw_application_new (G_APPLICATION_NON_UNIQUE);

  bw_application_set_library_path (application, library);
  g_signal_connect (application, "window-added", G_CALLBACK (added_cb), NULL);

  return g_application_run (G_APPLICATION (application), 0, NULL);
}

/* ---- starts compared --------------------------------------------------- */

static void
measure_start (const char *program,
               const char *mode,
               const char *library,
               double     *ms,
               double     *mb)
{
  const char *const arguments[] = { program, mode, library, NULL };
  g_autofree char *out = NULL;
  g_autoptr (GError) error = NULL;
  gint64 us;
  long kb;
  char *end;

  if (!g_spawn_sync (NULL, (char **) arguments, NULL, G_SPAWN_DEFAULT, NULL, NULL, &out, NULL,
                     NULL, &error))
    g_error ("%s", error->message);

  us = g_ascii_strtoll (out, &end, 10);
  kb = strtol (end, NULL, 10);
  g_assert_cmpint (us, >, 0);
  g_assert_cmpint (kb, >, 0);
  *ms = us / 1000.0;
  *mb = kb / 1024.0;
}

static int
compare (gconstpointer a,
         gconstpointer b)
{
  double x = *(const double *) a;
  double y = *(const double *) b;

  return x < y ? -1 : x > y;
}

static double
at (double *values,
    guint   n,
    double  share)
{
  qsort (values, n, sizeof (double), compare);

  return values[MIN (n - 1, (guint) floor (share * n))];
}

static gboolean
compare_starts (const char *program,
                const char *library)
{
  double ours_ms[STARTS], ours_mb[STARTS], empty_ms[STARTS], empty_mb[STARTS];
  double frame;
  double memory;

  for (guint i = 0; i < STARTS; i++)
    {
      measure_start (program, "--ours", library, &ours_ms[i], &ours_mb[i]);
      measure_start (program, "--empty", library, &empty_ms[i], &empty_mb[i]);
    }

  frame = at (ours_ms, STARTS, 0.5) / at (empty_ms, STARTS, 0.5);
  memory = at (ours_mb, STARTS, 0.5) / at (empty_mb, STARTS, 0.5);
  g_print ("first frame: %.0f ms, empty window %.0f ms: %.2f times (limit %.1f)\n",
           at (ours_ms, STARTS, 0.5), at (empty_ms, STARTS, 0.5), frame, FRAME_RATIO);
  g_print ("peak memory: %.1f MB, empty window %.1f MB: %.2f times (limit %.1f)\n",
           at (ours_mb, STARTS, 0.5), at (empty_mb, STARTS, 0.5), memory, MEMORY_RATIO);

  return frame <= FRAME_RATIO && memory <= MEMORY_RATIO;
}

/* ---- keystrokes -------------------------------------------------------- */

static void
frame_done_cb (GdkFrameClock *clock G_GNUC_UNUSED,
               gboolean      *done)
{
  *done = TRUE;
}

static gboolean
rested_cb (gpointer data)
{
  *(gboolean *) data = TRUE;

  return G_SOURCE_REMOVE;
}

/* As long as a quick hand takes from key to key, and what follows an edit (the
 * stitches of the large hat, the theme's own transitions) has been painted. */
static void
rest (void)
{
  gboolean rested = FALSE;

  g_timeout_add (REST_MS, rested_cb, &rested);
  while (!rested)
    g_main_context_iteration (NULL, TRUE);
}

/* What the thread worked, without what it waited: for others, or for the display. */
static double
worked_ms (void)
{
  struct timespec now;

  clock_gettime (CLOCK_THREAD_CPUTIME_ID, &now);

  return now.tv_sec * 1e3 + now.tv_nsec / 1e6;
}

/* From the change of the text to the end of the frame that shows it. */
static double
measure_keystroke (GtkWidget   *window,
                   GtkEditable *entry,
                   const char  *text,
                   double      *worked)
{
  GdkFrameClock *clock = gtk_widget_get_frame_clock (window);
  gboolean done = FALSE;
  gint64 begin;
  gulong handler;

  rest ();
  handler = g_signal_connect (clock, "after-paint", G_CALLBACK (frame_done_cb), &done);
  *worked = -worked_ms ();
  begin = g_get_monotonic_time ();
  gtk_editable_set_text (entry, text);
  while (!done)
    g_main_context_iteration (NULL, TRUE);
  g_signal_handler_disconnect (clock, handler);
  *worked += worked_ms ();

  return (g_get_monotonic_time () - begin) / 1000.0;
}

static BwDocument *
twelve_sizes (BwApplication *application)
{
  BwLibrary *library = bw_application_get_library (application);
  const BwReference *reference = bw_application_get_reference (application);
  BwDesign *design;
  gint64 id;

  g_assert_true (bw_library_find (library, "Lugger", &id, NULL));
  design = bw_library_load (library, id, NULL, NULL);
  while (design->sizes->len < SIZES)
    g_assert_true (bw_design_ops_add (reference, design, BW_GROUP_SIZE));

  return bw_application_add_design (application, design);
}

static gboolean
time_keystrokes (const char *path)
{
  BwApplication *application = bw_application_new (G_APPLICATION_NON_UNIQUE);
  g_autoptr (BwDocument) document = NULL;
  GtkWidget *window;
  GtkEditable *entry;
  double ms[KEYSTROKES];
  double worked[KEYSTROKES];
  double median;
  double worst;

  bw_application_set_library_path (application, path);
  g_assert_true (g_application_register (G_APPLICATION (application), NULL, NULL));
  document = twelve_sizes (application);
  g_assert_cmpuint (bw_document_get_grading (document)->sizes->len, ==, SIZES);
  window = bw_window_new (application, document);
  gtk_window_set_default_size (GTK_WINDOW (window), 1280, 800);
  gtk_window_present (GTK_WINDOW (window));
  gtk_test_widget_wait_for_draw (window);
  entry = GTK_EDITABLE (bw_field_row_get_control (bw_form_find_row (
    bw_design_place_get_form (bw_window_get_design_place (BW_WINDOW (window))),
    "design:body-ease")));

  for (guint i = 0; i < KEYSTROKES; i++)
    {
      g_autofree char *text = g_strdup_printf ("-%u.%u %%", 3 + i % 5, i % 10);

      ms[i] = measure_keystroke (window, entry, text, &worked[i]);
    }

  median = at (ms, KEYSTROKES, 0.5);
  worst = at (ms, KEYSTROKES, 0.99);
  g_print ("keystroke to frame, %u sizes: median %.1f ms (limit %.0f), "
           "99 %% %.1f ms (limit %.0f)\n", SIZES, median, MEDIAN_LIMIT_MS, worst, WORST_LIMIT_MS);
  g_print ("  of it worked by this thread: median %.1f ms, 99 %% %.1f ms\n",
           at (worked, KEYSTROKES, 0.5), at (worked, KEYSTROKES, 0.99));
  gtk_window_destroy (GTK_WINDOW (window));

  return median < MEDIAN_LIMIT_MS && worst < WORST_LIMIT_MS;
}

static void
fill (const char *path)
{
  BwReference *reference = bw_reference_builtin (NULL);
  BwLibrary *library = bw_library_open (path, BW_LIBRARY_OPEN_CREATE, NULL);

  g_assert_true (bw_library_fill_demo (library, reference, NULL));
  bw_library_close (library);
  bw_reference_free (reference);
}

int
main (int    argc,
      char **argv)
{
  g_autofree char *folder = NULL;
  g_autofree char *path = NULL;
  gboolean starts;
  gboolean keystrokes;

  started = g_get_monotonic_time ();
  if (argc > 1 && g_str_equal (argv[1], "--empty"))
    return start_empty ();
  if (argc > 2 && g_str_equal (argv[1], "--ours"))
    return start_ours (argv[2]);

  if (argc > 2 && g_str_equal (argv[1], "--keys"))
    {
      gtk_init ();
      return time_keystrokes (argv[2]) ? 0 : 1;
    }
  if (!gtk_init_check ())
    {
      g_print ("no display: nothing measured\n");
      return 77;
    }

  folder = g_dir_make_tmp ("brimwright-bench-XXXXXX", NULL);
  path = g_build_filename (folder, "library.db", NULL);
  fill (path);
  starts = compare_starts (argv[0], path);
  keystrokes = time_keystrokes (path);
  g_unlink (path);

  return starts && keystrokes ? EXIT_SUCCESS : EXIT_FAILURE;
}
