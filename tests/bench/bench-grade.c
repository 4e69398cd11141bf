#include <math.h>
#include <string.h>
#include <time.h>

#include "bw-choose.h"
#include "bw-grade.h"
#include "bw-plan.h"
#include "bw-reference-builtin.h"
#include "bw-stats.h"
#include "glpk-choice.h"
#include "hats.h"

/* How long grading takes. Prints figures; fails only when a ratio is broken
 * that does not hang on the machine: GLPK (https://www.gnu.org/software/glpk/)
 * on the same choice takes at least a hundred times as long, and time grows no
 * faster than the number of rounds of all sizes. */

#define GLPK_RATIO_LEAST 100
#define SLOPE_MOST       1.1 /* of log time over log rounds; the rest is noise */

static const BwReference *reference;

/* Processor time, as others may be at work on the same machine. */
static double
now_us (void)
{
  struct timespec now;

  clock_gettime (CLOCK_PROCESS_CPUTIME_ID, &now);
  return (double) now.tv_sec * 1e6 + (double) now.tv_nsec / 1e3;
}

/* Twelve sizes from baby to large and four bands, a sideways brim and stripes;
 * `plain` rounds more in one band to make it as long as wanted. */
static BwDesign *
family_new (guint n_sizes,
            guint plain)
{
  BwDesign *design = hat_new ();
  BwBand *band;
  double step = 270.0 / MAX (n_sizes - 1, 1);

  hat_add_swatch (design, "body", "plain-low", 20, 22);
  hat_add_swatch (design, "brim", "slip-rib", 0, 38);
  hat_set_brim (design, BW_BRIM_SLIP_RIB, "brim", 45);
  g_array_append_val (design->colours, ((BwColour) { g_strdup ("Rust"), 0x884422 }));
  band = hat_add_band (design, "raised-thirds", BW_BAND_REPEATS, 4);
  hat_add_step (band->stripe, 0, 2);
  hat_add_step (band->stripe, 1, 2);
  hat_add_band (design, "plain-low", BW_BAND_ROUNDS, plain);
  hat_add_band (design, "linen", BW_BAND_REPEATS, 3);
  hat_add_band (design, "plain-low", BW_BAND_FILL, 1);
  for (guint k = 0; k < n_sizes; k++)
    {
      g_autofree char *id = g_strdup_printf ("size-%u", k + 1);

      hat_add_size (design, id, 340 + step * k, 160 + step / 3 * k);
    }

  return design;
}

/* Grades, audits (bw_grade() does) and words every round; returns rounds of all sizes. */
static guint
grade_and_word (const BwDesign *design)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (BwGrading) grading = bw_grade (reference, design, &error);
  g_autoptr (GString) text = g_string_sized_new (4096);
  guint n = 0;

  g_assert_no_error (error);
  g_assert_false (grading->refused);
  for (guint k = 0; k < grading->sizes->len; k++)
    {
      const BwRoundList *list = ((BwGradedSize *) g_ptr_array_index (grading->sizes, k))->rounds;

      for (guint i = 0; i < list->rounds->len; i++)
        {
          g_string_truncate (text, 0);
          bw_round_print (reference->stitches, list, &g_array_index (list->rounds, BwRound, i),
                          design->terms, text);
        }
      n += list->rounds->len;
    }

  return n;
}

/* Median of many runs, in microseconds. */
static double
time_design (const BwDesign *design,
             guint           runs,
             guint          *n_rounds)
{
  g_autofree double *took = g_new (double, runs);

  for (guint i = 0; i < runs; i++)
    {
      double start = now_us ();

      *n_rounds = grade_and_word (design);
      took[i] = now_us () - start;
    }

  return bw_stats_median (took, runs);
}

static void
time_usual_family (void)
{
  g_autoptr (BwDesign) design = family_new (12, 6);
  guint rounds;
  double us = time_design (design, 2000, &rounds);

  g_print ("12 sizes, 4 bands, %u rounds and rows: graded, audited, worded in %.3f ms (target 1)\n",
           rounds, us / 1000);
}

/* --- Growth --- */

static double
slope (const char   *what,
       const double *x,
       const double *us,
       guint         n)
{
  g_autofree double *log_x = g_new (double, n);
  g_autofree double *log_us = g_new (double, n);
  BwLine line;

  for (guint i = 0; i < n; i++)
    {
      log_x[i] = log (x[i]);
      log_us[i] = log (us[i]);
      g_print ("  %s %6.0f  %8.3f ms\n", what, x[i], us[i] / 1000);
    }

  g_assert_true (bw_stats_fit_line (log_x, log_us, n, &line, NULL));
  g_print ("%s: time grows with power %.2f (at most %.1f)\n", what, line.slope, SLOPE_MOST);
  return line.slope;
}

static gboolean
grows_with_sizes (void)
{
  static const guint sizes[] = { 1, 2, 4, 8, 16, 30 };
  double x[G_N_ELEMENTS (sizes)], us[G_N_ELEMENTS (sizes)];

  for (guint i = 0; i < G_N_ELEMENTS (sizes); i++)
    {
      g_autoptr (BwDesign) design = family_new (sizes[i], 6);
      guint rounds;

      design->rules.least_step = 0; /* or thirty sizes are another problem than ten */
      us[i] = time_design (design, 300, &rounds);
      x[i] = sizes[i];
    }

  return slope ("sizes", x, us, G_N_ELEMENTS (sizes)) <= SLOPE_MOST;
}

static gboolean
grows_with_rounds (void)
{
  static const guint plain[] = { 1, 60, 160, 360, 660, 960 };
  double x[G_N_ELEMENTS (plain)], us[G_N_ELEMENTS (plain)];

  for (guint i = 0; i < G_N_ELEMENTS (plain); i++)
    {
      g_autoptr (BwDesign) design = family_new (6, plain[i]);
      guint rounds;

      design->brim.kind = BW_BRIM_NONE;
      us[i] = time_design (design, 300, &rounds);
      x[i] = rounds / 6.0;
    }

  return slope ("rounds", x, us, G_N_ELEMENTS (plain)) <= SLOPE_MOST;
}

/* --- Against GLPK --- */

/* Gauges and names are looked up before, as GLPK's programme is stated before:
 * what is timed is choosing, though ours works out its costs on the way. */
static double
time_choice (const BwDesign *design,
             guint           runs,
             double         *cost)
{
  g_autoptr (GArray) findings = g_array_new (FALSE, FALSE, sizeof (BwFinding));
  BwFamilyChoice family;
  BwPlan plan;
  double start;

  g_assert_true (bw_plan_init (&plan, reference, design, NULL));
  start = now_us ();
  for (guint i = 0; i < runs; i++)
    g_assert_true (bw_choose (&plan, FALSE, &family, findings));
  *cost = family.cost;
  bw_plan_clear (&plan);

  return (now_us () - start) / runs;
}

/* Eight sizes with the usual limits and all wedge counts. With twelve GLPK has
 * to prove that no count serves all bands first, which took it minutes. */
static gboolean
faster_than_glpk (void)
{
  g_autoptr (BwDesign) design = family_new (8, 6);
  double theirs = INFINITY;
  double ours, cost;
  GlpkChoice glpk;

  ours = time_choice (design, 500, &cost);
  for (guint i = 0; i < 5; i++)
    {
      glpk_choice (reference, design, &glpk);
      theirs = MIN (theirs, glpk.solve_us);
    }

  g_assert_true (glpk.feasible);
  g_assert_cmpfloat_with_epsilon (cost, glpk.cost, 1e-9);
  g_print ("choice of 8 sizes: %.3f ms; GLPK on %u columns %.2f ms: %.0f times (at least %d)\n",
           ours / 1000, glpk.n_columns, theirs / 1000, theirs / ours, GLPK_RATIO_LEAST);
  return theirs >= GLPK_RATIO_LEAST * ours;
}

/* The system's own high-water mark: that of getrusage() goes back to before
 * this program was started, to whatever started it. */
static void
print_memory (void)
{
  g_autofree char *status = NULL;
  const char *mark = NULL;

  if (g_file_get_contents ("/proc/self/status", &status, NULL, NULL))
    mark = strstr (status, "VmHWM:");
  if (mark != NULL)
    g_print ("peak memory so far %.1f MB\n",
             g_ascii_strtod (mark + strlen ("VmHWM:"), NULL) / 1024);
}

int
main (void)
{
  g_autoptr (GError) error = NULL;
  BwReference *builtin = bw_reference_builtin (&error);
  gboolean good = TRUE;

  g_assert_no_error (error);
  reference = builtin;
  time_usual_family ();
  print_memory (); /* before GLPK, whose memory is its own */
  good = grows_with_sizes () && good;
  good = grows_with_rounds () && good;
  print_memory ();
  good = faster_than_glpk () && good;
  bw_reference_free (builtin);

  return good ? 0 : 1;
}
