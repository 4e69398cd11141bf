#include <stdio.h>
#include <stdlib.h>
#include <time.h>

#include <cairo-pdf.h>

#include "bw-chart.h"
#include "family.h"

/* How long it takes to make and draw the charts of twelve sizes as a PDF would have them,
 * against strokes and type of the same number set down in rows and nothing else, in the
 * same run. Fails only on that ratio. Processor time. */

#define RUNS       21
#define RATIO_MOST 3 /* charts over plain rows of marks */

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

static cairo_status_t
count_cb (void                *closure,
          G_GNUC_UNUSED const unsigned char *data,
          unsigned int         length)
{
  *(gsize *) closure += length;
  return CAIRO_STATUS_SUCCESS;
}

/* A cross for each stitch that the chart draws, each stroked by itself as symbols are,
 * and its cell. */
static void
draw_marks (const BwChart      *chart,
            cairo_t            *cr,
            const BwChartStyle *style)
{
  cairo_set_source_rgb (cr, 0, 0, 0);
  cairo_set_line_width (cr, style->line_mm);
  for (guint p = 0; p < chart->panels->len; p++)
    {
      const BwChartPanel *panel = &g_array_index (chart->panels, BwChartPanel, p);

      for (guint r = panel->first_row; r < panel->first_row + panel->n_rows; r++)
        for (guint i = 0; i < panel->copies * g_array_index (chart->rows, BwChartRow, r).makes; i++)
          {
            double x = i * style->cell_mm, y = r * style->cell_mm;

            cairo_rectangle (cr, x, y, style->cell_mm, style->cell_mm);
            cairo_stroke (cr);
            cairo_move_to (cr, x, y);
            cairo_line_to (cr, x + 3, y + 3);
            cairo_stroke (cr);
            cairo_move_to (cr, x, y + 3);
            cairo_line_to (cr, x + 3, y);
            cairo_stroke (cr);
          }
    }
}

/* All sizes once; returns milliseconds. */
static double
run (const BwGrading *grading,
     gboolean         charts,
     gsize           *bytes)
{
  BwChartStyle style = BW_CHART_STYLE_DEFAULT;
  double start = now_ms ();
  cairo_surface_t *surface = cairo_pdf_surface_create_for_stream (count_cb, bytes, 600, 2000);
  cairo_t *cr = cairo_create (surface);

  cairo_scale (cr, 72 / 25.4, 72 / 25.4);
  for (guint k = 0; k < grading->sizes->len; k++)
    {
      g_autoptr (BwChart) chart = bw_chart_new (grading, k);

      if (charts)
        bw_chart_draw (chart, cr, &style);
      else
        draw_marks (chart, cr, &style);
      cairo_show_page (cr);
    }
  cairo_destroy (cr);
  cairo_surface_destroy (surface);
  return now_ms () - start;
}

static double
median (const BwGrading *grading,
        gboolean         charts,
        gsize           *bytes)
{
  double times[RUNS];

  run (grading, charts, bytes);
  *bytes = 0;
  for (guint i = 0; i < RUNS; i++)
    times[i] = run (grading, charts, bytes);
  *bytes /= RUNS;
  qsort (times, RUNS, sizeof *times, compare_cb);
  printf ("%s: median %.2f ms, %.2f to %.2f ms, %zu kB\n", charts ? "charts" : "plain marks",
          times[RUNS / 2], times[0], times[RUNS - 1], (size_t) (*bytes / 1000));
  return times[RUNS / 2];
}

int
main (int   argc,
      char *argv[])
{
  g_autoptr (GError) error = NULL;
  g_autoptr (BwReference) reference = NULL;
  g_autoptr (BwGrading) grading = NULL;
  double charts, marks, made;
  gsize bytes = 0;

  g_test_init (&argc, &argv, NULL);
  reference = bw_reference_builtin (&error);
  g_assert_no_error (error);
  grading = family_twelve (reference);

  made = now_ms ();
  for (guint k = 0; k < grading->sizes->len; k++)
    bw_chart_free (bw_chart_new (grading, k));
  made = now_ms () - made;
  charts = median (grading, TRUE, &bytes);
  marks = median (grading, FALSE, &bytes);
  printf ("%u sizes: built in %.2f ms, ratio %.2f\n", grading->sizes->len, made, charts / marks);
  if (charts / marks > RATIO_MOST)
    printf ("Charts take more than %d times as long as plain marks\n", RATIO_MOST);
  return charts / marks <= RATIO_MOST ? EXIT_SUCCESS : EXIT_FAILURE;
}
