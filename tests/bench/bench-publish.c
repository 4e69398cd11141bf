#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>
#include <unistd.h>

#include <cairo-pdf.h>
#include <pango/pangocairo.h>

#include "bw-pages-private.h"
#include "bw-pdf.h"
#include "hats.h"
#include "family.h"

/* How long a PDF takes: a pattern in twelve sizes against the same text laid out by
 * plain Pango and Cairo in the same run, and a thousand designs one after the other,
 * whose cost and memory must stay what they were at the start. Fails only on
 * ratios. Processor time, as others may be at work on the machine. */

#define RUNS         21
#define RATIO_MOST   2.0   /* without charts, over plain text */
#define DESIGNS      1000
#define COST_MOST    1.5   /* of the last hundred designs, over the first */
#define GROWTH_MOST  8192  /* KiB resident, from design 200 to the end */

static BwReference *reference;

static double
now_ms (void)
{
  struct timespec now;

  clock_gettime (CLOCK_PROCESS_CPUTIME_ID, &now);
  return (double) now.tv_sec * 1e3 + (double) now.tv_nsec / 1e6;
}

static int
compare_cb (const void *a,
            const void *b)
{
  double x = *(const double *) a;
  double y = *(const double *) b;

  return (x > y) - (x < y);
}

/* A demo with twelve sizes in the place of its own. */
static BwGrading *
twelve_sizes (void)
{
  g_autoptr (BwGrading) grading = family_demo (reference, "lugger");
  g_autoptr (BwDesign) design = bw_design_copy (grading->design);
  BwGrading *wide;

  for (guint i = 0; i < design->sizes->len; i++)
    bw_size_choice_clear (&g_array_index (design->sizes, BwSizeChoice, i));
  g_array_set_size (design->sizes, 0);
  for (guint i = 0; i < 12; i++)
    {
      g_autofree char *id = g_strdup_printf ("size-%u", i + 1);
      BwSizeChoice choice;

      bw_size_choice_init (&choice, bw_size_new (id, id, 400 + 18 * i, 165 + 6 * i));
      g_array_append_val (design->sizes, choice);
    }
  wide = bw_grade (reference, design, NULL);
  g_assert_true (wide != NULL && !wide->refused);
  return wide;
}

static cairo_status_t
count_cb (void                *closure,
          const unsigned char *bytes G_GNUC_UNUSED,
          unsigned int         length)
{
  *(gsize *) closure += length;
  return CAIRO_STATUS_SUCCESS;
}

/* Everything that is written on the pages, in the same type and weights, set by plain
 * Pango one below the other and drawn by plain Cairo on pages of the same size. */
static double
run_plain (const BwPages *pages)
{
  double start = now_ms (), y = 56;
  gsize length = 0;
  cairo_surface_t *surface = cairo_pdf_surface_create_for_stream (count_cb, &length, 595, 842);
  cairo_t *cr = cairo_create (surface);

  for (guint i = 0; i < pages->flow->pieces->len; i++)
    {
      const BwPiece *piece = g_ptr_array_index (pages->flow->pieces, i);
      double highest = 0;

      for (guint t = 0; t < piece->texts->len; t++)
        {
          const BwPieceText *text = &g_array_index (piece->texts, BwPieceText, t);
          PangoLayout *layout = pango_cairo_create_layout (cr);
          int height;

          pango_layout_set_font_description (layout,
                                             pango_layout_get_font_description (text->layout));
          pango_layout_set_attributes (layout, pango_layout_get_attributes (text->layout));
          pango_layout_set_width (layout, pango_layout_get_width (text->layout));
          pango_layout_set_text (layout, pango_layout_get_text (text->layout), -1);
          pango_layout_get_pixel_size (layout, NULL, &height);
          highest = MAX (highest, height);
          if (t == 0 && y + height > 770)
            {
              cairo_show_page (cr);
              y = 56;
            }
          cairo_move_to (cr, 56 + text->x, y);
          pango_cairo_show_layout (cr, layout);
          g_object_unref (layout);
        }
      y += highest;
    }

  cairo_destroy (cr);
  cairo_surface_destroy (surface);
  return now_ms () - start;
}

static double
run_pdf (const BwGrading *grading,
         gboolean         charts,
         guint           *n_pages)
{
  double start = now_ms ();
  g_autoptr (BwEdition) edition = bw_edition_new (grading->design, 0);
  g_autoptr (BwPages) pages = NULL;
  g_autoptr (GBytes) bytes = NULL;

  edition->charts = charts;
  pages = bw_pages_new (grading, edition);
  bytes = bw_pdf_new (pages, NULL);
  g_assert_nonnull (bytes);
  if (n_pages != NULL)
    *n_pages = bw_pages_n (pages);
  return now_ms () - start;
}

static gboolean
bench_twelve (void)
{
  g_autoptr (BwGrading) grading = twelve_sizes ();
  g_autoptr (BwEdition) edition = bw_edition_new (grading->design, 0);
  g_autoptr (BwPages) pages = NULL;
  double plain[RUNS], without[RUNS], with[RUNS];
  guint n_pages, n_charts;
  gboolean holds;

  edition->charts = FALSE;
  pages = bw_pages_new (grading, edition);
  for (guint i = 0; i < 2; i++) /* fonts are loaded by the first */
    {
      run_plain (pages);
      run_pdf (grading, TRUE, &n_charts);
    }
  for (guint i = 0; i < RUNS; i++)
    {
      plain[i] = run_plain (pages);
      without[i] = run_pdf (grading, FALSE, &n_pages);
      with[i] = run_pdf (grading, TRUE, NULL);
    }
  qsort (plain, RUNS, sizeof *plain, compare_cb);
  qsort (without, RUNS, sizeof *without, compare_cb);
  qsort (with, RUNS, sizeof *with, compare_cb);
  holds = without[RUNS / 2] < RATIO_MOST * plain[RUNS / 2];
  printf ("12 sizes, median of %d (least, most):\n", RUNS);
  printf ("  plain text           %6.1f ms (%.1f, %.1f)\n", plain[RUNS / 2], plain[0],
          plain[RUNS - 1]);
  printf ("  PDF, %2u pages        %6.1f ms (%.1f, %.1f), %.2f times plain text, at most %.1f%s\n",
          n_pages, without[RUNS / 2], without[0], without[RUNS - 1],
          without[RUNS / 2] / plain[RUNS / 2], RATIO_MOST, holds ? "" : ": TOO SLOW");
  printf ("  with charts, %2u pages %5.1f ms (%.1f, %.1f)\n", n_charts, with[RUNS / 2], with[0],
          with[RUNS - 1]);
  return holds;
}

/* --- A thousand designs --- */

static long
resident_kib (void)
{
  g_autofree char *text = NULL;
  long pages = 0;

  if (g_file_get_contents ("/proc/self/statm", &text, NULL, NULL))
    sscanf (text, "%*d %ld", &pages);
  return pages * sysconf (_SC_PAGESIZE) / 1024;
}

/* The same twenty designs over and over: each hundred has the same work. */
static gboolean
bench_thousand (void)
{
  g_autoptr (GPtrArray) gradings =
    g_ptr_array_new_with_free_func ((GDestroyNotify) bw_grading_free);
  double cost[DESIGNS / 100];
  long before = 0, after;
  gboolean holds;

  for (guint32 seed = 1; gradings->len < 20; seed++)
    {
      g_autoptr (BwDesign) design = random_hat (reference, HATS_SMALL, seed);
      BwGrading *grading = bw_grade (reference, design, NULL);

      if (grading != NULL && !grading->refused)
        g_ptr_array_add (gradings, grading);
      else
        bw_grading_free (grading);
    }

  for (guint i = 0; i < DESIGNS; i++)
    {
      if (i % 100 == 0)
        cost[i / 100] = 0;
      if (i == 200)
        before = resident_kib ();
      cost[i / 100] += run_pdf (g_ptr_array_index (gradings, i % gradings->len), TRUE, NULL);
    }
  after = resident_kib ();

  printf ("%d designs to PDF with charts, ms each by hundreds:", DESIGNS);
  for (guint i = 0; i < G_N_ELEMENTS (cost); i++)
    printf (" %.1f", cost[i] / 100);
  holds = cost[G_N_ELEMENTS (cost) - 1] < COST_MOST * cost[1] && after - before < GROWTH_MOST;
  printf ("\n  resident after 200: %ld KiB, after all: %ld KiB%s\n", before, after,
          holds ? "" : ": NOT FLAT");
  return holds;
}

int
main (int    argc,
      char **argv)
{
  gboolean holds;

  g_test_init (&argc, &argv, NULL);
  reference = bw_reference_builtin (NULL);
  g_assert_nonnull (reference);
  holds = bench_twelve ();
  holds = bench_thousand () && holds;
  bw_reference_free (reference);
  return holds ? 0 : 1;
}
