#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <time.h>

#include "bw-hat-drawing.h"
#include "bw-tone.h"
#include "family.h"

/* How long it takes to draw twelve sizes side by side, as the window shows them,
 * against filling the same area with plain stripes in the same run. Fails only
 * on that ratio. Processor time, as others may be at work on the machine. */

#define RUNS        31
#define RATIO_MOST  40 /* pictures over plain stripes */

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

typedef struct
{
  const BwGrading *grading;
  BwHatDrawing    *drawings[BW_DESIGN_SIZES_MAX];
  cairo_surface_t *surface;
  double           scale;
} Bench;

/* Plain stripes: one rectangle of one colour for each round. */
static void
fill_stripes (const Bench *bench,
              cairo_t     *cr,
              guint        size)
{
  const GArray *rounds = family_size (bench->grading, size)->rounds->rounds;

  for (guint i = 0; i < rounds->len; i++)
    {
      const BwRound *round = &g_array_index (rounds, BwRound, i);
      double low, high, half;

      if ((round->row && i > 0) ||
          !bw_hat_drawing_find_round (bench->drawings[size], i, &low, &high, &half))
        continue;
      bw_rgb_source (cr, g_array_index (bench->grading->design->colours, BwColour,
                                        round->colour).rgb, 1);
      cairo_rectangle (cr, -half, low, 2 * half, high - low);
      cairo_fill (cr);
    }
}

/* All sizes once; returns milliseconds. */
static double
run (const Bench      *bench,
     gboolean          pictures,
     const BwHatStyle *style)
{
  double start = now_ms (), x = 0;
  cairo_t *cr = cairo_create (bench->surface);

  cairo_translate (cr, 0, cairo_image_surface_get_height (bench->surface));
  cairo_scale (cr, bench->scale, -bench->scale);
  for (guint k = 0; k < bench->grading->sizes->len; k++)
    {
      double width = bw_hat_drawing_width (bench->drawings[k]) + 4;

      cairo_save (cr);
      cairo_translate (cr, x + width / 2, 0);
      if (pictures)
        bw_hat_drawing_draw_side (bench->drawings[k], cr, style);
      else
        fill_stripes (bench, cr, k);
      cairo_restore (cr);
      x += width;
    }
  cairo_destroy (cr);
  return now_ms () - start;
}

static double
median (const Bench      *bench,
        gboolean          pictures,
        const BwHatStyle *style)
{
  double times[RUNS];

  run (bench, pictures, style);
  for (guint i = 0; i < RUNS; i++)
    times[i] = run (bench, pictures, style);
  qsort (times, RUNS, sizeof *times, compare_cb);
  return times[RUNS / 2];
}

/* Twelve sizes in a strip of so many dots; returns whether the ratio holds. */
static gboolean
measure (Bench *bench,
         int    width)
{
  BwHatStyle style = BW_HAT_STYLE_DEFAULT;
  double total = 0, highest = 0, stripes, plain, full, made = now_ms ();
  guint n = bench->grading->sizes->len;

  for (guint k = 0; k < n; k++)
    bench->drawings[k] = bw_hat_drawing_new (bench->grading, k);
  made = now_ms () - made;
  for (guint k = 0; k < n; k++)
    {
      total += bw_hat_drawing_width (bench->drawings[k]) + 4;
      highest = MAX (highest, bw_hat_drawing_height (bench->drawings[k]));
    }
  bench->scale = width / total;
  bench->surface = cairo_image_surface_create (CAIRO_FORMAT_ARGB32, width,
                                               (int) ceil (highest * bench->scale));

  stripes = median (bench, FALSE, NULL);
  style.line_mm = 1 / bench->scale;
  full = median (bench, TRUE, &style);
  style.plain = TRUE;
  plain = median (bench, TRUE, &style);
  printf ("%u sizes in %d dots, %.2f dots a mm: prepared in %.2f ms, drawn in %.2f ms "
          "(%.2f ms without textures), plain stripes %.2f ms, ratio %.1f\n",
          n, width, bench->scale, made, full, plain, stripes, full / stripes);

  cairo_surface_destroy (bench->surface);
  for (guint k = 0; k < n; k++)
    bw_hat_drawing_free (bench->drawings[k]);
  return full / stripes <= RATIO_MOST;
}

int
main (int   argc,
      char *argv[])
{
  static const int widths[] = { 850, 1600 };
  g_autoptr (GError) error = NULL;
  g_autoptr (BwReference) reference = NULL;
  g_autoptr (BwGrading) grading = NULL;
  gboolean holds = TRUE;
  Bench bench = { 0 };

  g_test_init (&argc, &argv, NULL);
  reference = bw_reference_builtin (&error);
  g_assert_no_error (error);
  grading = family_twelve (reference);

  bench.grading = grading;
  for (guint i = 0; i < G_N_ELEMENTS (widths); i++)
    holds = measure (&bench, widths[i]) && holds;
  if (!holds)
    printf ("A picture takes more than %d times as long as plain stripes\n", RATIO_MOST);

  return holds ? EXIT_SUCCESS : EXIT_FAILURE;
}
