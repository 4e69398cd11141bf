#include "window-frames.h"

#include <math.h>
#include <stdlib.h>
#include <time.h>

static int
compare (gconstpointer a,
         gconstpointer b)
{
  double x = *(const double *) a;
  double y = *(const double *) b;

  return x < y ? -1 : x > y;
}

/* The value that @share of them do not exceed; puts them in order. */
double
frames_at (double *values,
           guint   n,
           double  share)
{
  qsort (values, n, sizeof (double), compare);

  return values[MIN (n - 1, (guint) floor (share * n))];
}

static gboolean
rested_cb (gpointer data)
{
  *(gboolean *) data = TRUE;

  return G_SOURCE_REMOVE;
}

void
frames_rest (guint ms)
{
  gboolean rested = FALSE;

  g_timeout_add (ms, rested_cb, &rested);
  while (!rested)
    g_main_context_iteration (NULL, TRUE);
}

static void
done_cb (GdkFrameClock *clock G_GNUC_UNUSED,
         gboolean      *done)
{
  *done = TRUE;
}

static double
worked_ms (void)
{
  struct timespec now;

  clock_gettime (CLOCK_THREAD_CPUTIME_ID, &now);

  return now.tv_sec * 1e3 + now.tv_nsec / 1e6;
}

/* Where frames follow each other, what comes before a frame is the wait for it. */
static void
begun_cb (GdkFrameClock *clock G_GNUC_UNUSED,
          gint64        *begin)
{
  *begin = g_get_monotonic_time ();
}

static void
measure_one (Frames    *frames,
             BwWindow  *window,
             FrameFunc  cause,
             guint      i)
{
  GdkFrameClock *clock = gtk_widget_get_frame_clock (GTK_WIDGET (window));
  gboolean done = FALSE;
  double worked = worked_ms ();
  gint64 begin = g_get_monotonic_time ();
  gulong handler = g_signal_connect (clock, "after-paint", G_CALLBACK (done_cb), &done);
  gulong before = 0;

  if (frames->alone)
    before = g_signal_connect (clock, "flush-events", G_CALLBACK (begun_cb), &begin);
  cause (window, i);
  while (!done)
    g_main_context_iteration (NULL, TRUE);
  g_signal_handler_disconnect (clock, handler);
  if (before != 0)
    g_signal_handler_disconnect (clock, before);

  frames->ms[i] = (g_get_monotonic_time () - begin) / 1000.0;
  frames->worked[i] = worked_ms () - worked;
}

/* Causes @n frames, with a rest before each. */
void
frames_measure (Frames    *frames,
                BwWindow  *window,
                FrameFunc  cause,
                guint      n,
                guint      rest_ms)
{
  g_assert_cmpuint (n, <=, FRAMES_MOST);

  frames->n = n;
  for (guint i = 0; i < n; i++)
    {
      frames_rest (rest_ms);
      measure_one (frames, window, cause, i);
    }
}

/* Prints; returns whether both limits were kept. */
gboolean
frames_tell (const char *what,
             Frames     *frames,
             double      median_ms,
             double      worst_ms)
{
  double median = frames_at (frames->ms, frames->n, 0.5);
  double worst = frames_at (frames->ms, frames->n, 0.99);

  g_print ("%s: median %.1f ms (limit %.0f), 99 %% %.1f ms (limit %.0f); "
           "worked by this thread: median %.1f ms, 99 %% %.1f ms\n", what, median, median_ms,
           worst, worst_ms, frames_at (frames->worked, frames->n, 0.5),
           frames_at (frames->worked, frames->n, 0.99));

  return median < median_ms && worst < worst_ms;
}
