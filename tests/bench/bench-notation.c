#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>
#include <unistd.h>

#include <glib/gstdio.h>

#include "bw-pattern-audit.h"
#include "bw-reference-builtin.h"
#include "bw-words-pattern.h"
#include "hats.h"

/* How fast written patterns are read and audited, and a family written out. Prints
 * figures; fails only on what does not hang on the machine: time must grow in
 * proportion to the length, and stay within a multiple of what wc -w takes for the
 * same bytes in the same run. */

#define SLOPE_MOST 1.1  /* of log time over log bytes; the rest is noise */
#define WC_MOST    60.0 /* times as long as wc -w */
#define RUNS       5

static const BwReference *reference;

/* Processor time of this process, or of the children it has waited for. */
static double
now_ms (clockid_t clock)
{
  struct timespec now;

  clock_gettime (clock, &now);
  return (double) now.tv_sec * 1e3 + (double) now.tv_nsec / 1e6;
}

/* One round of a hat that gains and loses stitches by turns, in one of several
 * wordings, so that the words of the reader all come by. */
static void
append_round (GString *text,
              guint    number)
{
  static const char *const work[] = {
    "With A, dc BLO in each st around (54 (63, 72) sts)",
    "[8 dc, 2 dc in next st] 6 (7, 8) times (60 (70, 80) sts)",
    "dc in each st around, changing to B in last st (60 (70, 80) sts)",
    "[8 dc, dc2tog] 6 (7, 8) times (54 (63, 72) sts)",
    "With A, [2 dc, tr in next st] 18 (21, 24) times (54 (63, 72) sts)",
    "*dc in next 8 sts, 2 dc in next st; rep from * around. (60 (70, 80) sts)",
    "1 dc in each st around, changing to B in last st — 60 (70, 80) sts",
    "Ch 1 (not a st), *8 dc, dc2tog; rep from * around, ss to first dc. (54 (63, 72) sts)",
  };

  g_string_append_printf (text, "Rnd %u: %s\n", number, work[number % G_N_ELEMENTS (work)]);
}

/* A hat's pattern of some bytes, the front matter once for every 500 rounds. */
static GString *
make_text (gsize bytes)
{
  GString *text = g_string_new (NULL);
  guint number = 0;

  while (text->len < bytes)
    {
      if (number % 500 == 0)
        {
          g_string_append (text,
            "\nBench hat\nUK terms\nSizes: S (M, L)\nFinished girth: 46 (50, 54) cm\n"
            "Gauge: 12 dc and 14 rnds = 10 cm (4 in), 5 mm hook, washed\n"
            "A (Tar): 68 (81, 85) m\nB (Foam): 7 (8, 8) m\n\nInstructions\n"
            "Ch 54 (63, 72), join with ss to first ch.\n");
          number = 0;
        }
      append_round (text, ++number);
    }
  return text;
}

static double
median (double *values)
{
  for (guint i = 1; i < RUNS; i++)
    for (guint k = i; k > 0 && values[k] < values[k - 1]; k--)
      {
        double value = values[k];

        values[k] = values[k - 1];
        values[k - 1] = value;
      }
  return values[RUNS / 2];
}

/* Milliseconds to read, or to read and audit; the median of some runs. */
static double
time_reading (const GString *text,
              gboolean       audit,
              guint         *findings)
{
  double times[RUNS];
  guint repeat = (guint) MAX (1, 1000000 / text->len);

  for (guint i = 0; i < RUNS; i++)
    {
      double start = now_ms (CLOCK_PROCESS_CPUTIME_ID);

      for (guint k = 0; k < repeat; k++)
        {
          g_autoptr (GError) error = NULL;
          g_autoptr (BwPattern) pattern = NULL;

          pattern = bw_pattern_read (reference->stitches, text->str, (gssize) text->len,
                                     BW_TERMS_UNSAID, &error);
          g_assert_no_error (error);
          g_assert_cmpuint (pattern->errors->len, ==, 0);
          if (audit)
            {
              g_autoptr (GArray) found = bw_pattern_audit (pattern);

              *findings = found->len;
            }
        }
      times[i] = (now_ms (CLOCK_PROCESS_CPUTIME_ID) - start) / repeat;
    }
  return median (times);
}

/* Milliseconds that wc -w takes for the bytes; its start is measured and taken off. */
static double
time_wc (const char *path,
         const char *empty)
{
  double times[2][RUNS];
  const char *paths[2] = { empty, path };

  for (guint i = 0; i < RUNS; i++)
    for (guint k = 0; k < 2; k++)
      {
        const char *argv[] = { "wc", "-w", paths[k], NULL };
        g_autoptr (GError) error = NULL;
        g_autofree char *out = NULL;
        double start = now_ms (CLOCK_MONOTONIC);

        g_spawn_sync (NULL, (char **) argv, NULL, G_SPAWN_SEARCH_PATH, NULL, NULL, &out, NULL, NULL,
                      &error);
        g_assert_no_error (error);
        times[k][i] = now_ms (CLOCK_MONOTONIC) - start;
      }
  return MAX (median (times[1]) - median (times[0]), 1e-3);
}

static gboolean
compare_with_wc (const GString *text,
                 double         ms)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *path = NULL;
  g_autofree char *empty = NULL;
  double wc;

  close (g_file_open_tmp ("bench-XXXXXX", &path, &error));
  close (g_file_open_tmp ("bench-XXXXXX", &empty, &error));
  g_assert_no_error (error);
  g_file_set_contents (path, text->str, (gssize) text->len, &error);
  g_assert_no_error (error);
  wc = time_wc (path, empty);
  g_unlink (path);
  g_unlink (empty);
  printf ("wc -w: %.1f ms, %.0f MB/s; reading and auditing takes %.1f times as long\n", wc,
          (double) text->len / wc / 1e3, ms / wc);
  return ms / wc <= WC_MOST;
}

/* --- Writing --- */

static void
bench_writing (void)
{
  g_autoptr (BwDesign) design = hat_new ();
  g_autoptr (BwGrading) grading = NULL;
  double times[RUNS];
  gsize bytes = 0;

  hat_add_swatch (design, "body", "plain-low", 20, 22);
  hat_add_swatch (design, "brim", "slip-rib", 0, 38);
  hat_set_brim (design, BW_BRIM_SLIP_RIB, "brim", 45);
  hat_add_band (design, "raised-thirds", BW_BAND_REPEATS, 4);
  hat_add_band (design, "plain-low", BW_BAND_FILL, 1);
  for (guint k = 0; k < 12; k++)
    {
      g_autofree char *id = g_strdup_printf ("size-%u", k + 1);

      hat_add_size (design, id, 340 + 25 * k, 160 + 8 * k);
    }
  grading = bw_grade (reference, design, NULL);
  g_assert_nonnull (grading);
  g_assert_false (grading->refused);
  for (guint i = 0; i < RUNS; i++)
    {
      double start = now_ms (CLOCK_PROCESS_CPUTIME_ID);

      for (guint k = 0; k < 100; k++)
        {
          g_autoptr (GPtrArray) blocks = bw_words_pattern (grading, -1, BW_PATTERN_FOLDED);
          g_autofree char *text = bw_words_pattern_text (blocks);

          bytes = strlen (text);
        }
      times[i] = (now_ms (CLOCK_PROCESS_CPUTIME_ID) - start) / 100;
    }
  printf ("full write-up of 12 sizes, %zu bytes: %.2f ms\n", bytes, median (times));
}

int
main (void)
{
  static const gsize sizes[] = { 10000, 100000, 1000000, 10000000 };
  double first = 0;
  double slope = 0;
  gboolean good = TRUE;

  reference = bw_reference_builtin (NULL);
  for (guint i = 0; i < G_N_ELEMENTS (sizes); i++)
    {
      g_autoptr (GString) text = make_text (sizes[i]);
      guint findings = 0;
      double reading = time_reading (text, FALSE, &findings);
      double both = time_reading (text, TRUE, &findings);

      printf ("%8zu bytes: reading %.2f ms, %.1f MB/s; with auditing %.2f ms, %.1f MB/s, "
              "%u findings\n", (gsize) text->len, reading, (double) text->len / reading / 1e3,
              both, (double) text->len / both / 1e3, findings);
      if (i == 0)
        first = both;
      else
        slope = log (both / first) / log ((double) sizes[i] / sizes[0]);
      if (i + 1 == G_N_ELEMENTS (sizes))
        good = compare_with_wc (text, both);
    }
  printf ("slope from 10 kB to 10 MB: %.3f\n", slope);
  bench_writing ();
  return good && slope <= SLOPE_MOST ? EXIT_SUCCESS : EXIT_FAILURE;
}
