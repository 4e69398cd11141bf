#include "shell.h"

#include <fcntl.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

gboolean
shell_is_there (void)
{
  g_autofree char *path = g_find_program_in_path ("sqlite3");

  return path != NULL;
}

static double
microseconds (const struct timeval *time)
{
  return (double) time->tv_sec * 1e6 + (double) time->tv_usec;
}

/* This process, its own processor time and the clock. */
Took
took_now (void)
{
  struct timespec now;

  clock_gettime (CLOCK_PROCESS_CPUTIME_ID, &now);

  return (Took) {
    (double) now.tv_sec * 1e6 + (double) now.tv_nsec / 1e3, (double) g_get_monotonic_time (),
  };
}

Took
took_since (Took start)
{
  Took now = took_now ();

  return (Took) { now.cpu_us - start.cpu_us, now.wall_us - start.wall_us };
}

static void
redirect (int         to,
          const char *path,
          int         flags)
{
  int fd = open (path, flags, 0600);

  if (fd < 0 || dup2 (fd, to) < 0)
    _exit (126);
}

/* What all children that were waited for took so far. */
static double
children_us (void)
{
  struct rusage usage;

  g_assert_cmpint (getrusage (RUSAGE_CHILDREN, &usage), ==, 0);

  return microseconds (&usage.ru_utime) + microseconds (&usage.ru_stime);
}

/* A script with ".bail on" at its head ends the shell at a statement that fails,
 * with a status that ends the benchmark, too. */
Took
shell_run (const char *database,
           const char *script,
           const char *out_path)
{
  double start = (double) g_get_monotonic_time ();
  double before = children_us ();
  pid_t child = fork ();
  int status;

  if (child == 0)
    {
      redirect (STDIN_FILENO, script, O_RDONLY);
      redirect (STDOUT_FILENO, out_path, O_WRONLY | O_CREAT | O_TRUNC);
      execlp ("sqlite3", "sqlite3", "-batch", "-init", "/dev/null", database, (char *) NULL);
      _exit (127);
    }
  g_assert_cmpint (waitpid (child, &status, 0), ==, child);
  g_assert_true (WIFEXITED (status));
  g_assert_cmpint (WEXITSTATUS (status), ==, 0);

  return (Took) {
    children_us () - before,
    (double) g_get_monotonic_time () - start,
  };
}

/* ---- many of them ---------------------------------------------------------- */

Times
times_new (guint most)
{
  return (Times) { .wall_ms = g_new0 (double, most), .cpu_ms = g_new0 (double, most) };
}

void
times_add (Times *times,
           Took   took)
{
  times->wall_ms[times->n] = took.wall_us / 1e3;
  times->cpu_ms[times->n++] = took.cpu_us / 1e3;
  times->cpu_us += took.cpu_us;
}

void
times_clear (Times *times)
{
  g_free (times->wall_ms);
  g_free (times->cpu_ms);
}

static int
compare_doubles (const void *a,
                 const void *b)
{
  double x = *(const double *) a;
  double y = *(const double *) b;

  return (x > y) - (x < y);
}

/* The nearest rank: the smallest one that so many are not above. Sorts @values. */
double
percentile (double *values,
            guint   n,
            double  fraction)
{
  guint rank = (guint) (fraction * n + 0.999999);

  qsort (values, n, sizeof (double), compare_doubles);

  return values[CLAMP (rank, 1, n) - 1];
}
