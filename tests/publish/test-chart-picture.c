#include <cairo.h>
#include <glib.h>
#include <glib/gstdio.h>

#include "charts.h"

/* Charts as files and on paper. Pictures are left in the build folder, in
 * tests/publish/charts, to be looked at. */

/* --- Pictures --- */

static char *
picture_path (const char *name,
              const char *suffix)
{
  g_autofree char *folder = g_test_build_filename (G_TEST_BUILT, "publish", "charts", NULL);
  g_autofree char *file = g_strconcat (name, suffix, NULL);

  g_assert_cmpint (g_mkdir_with_parents (folder, 0755), ==, 0);
  return g_build_filename (folder, file, NULL);
}

static void
leave (GBytes     *bytes,
       const char *path)
{
  g_autoptr (GError) error = NULL;

  g_file_set_contents (path, g_bytes_get_data (bytes, NULL), (gssize) g_bytes_get_size (bytes),
                       &error);
  g_assert_no_error (error);
}

static gboolean
run (const char *const *arguments)
{
  g_autofree char *tool = g_find_program_in_path (arguments[0]);
  g_autoptr (GError) error = NULL;
  int status;

  if (tool == NULL)
    return FALSE;
  g_spawn_sync (NULL, (char **) arguments, NULL, G_SPAWN_SEARCH_PATH, NULL, NULL, NULL, NULL,
                &status, &error);
  g_assert_no_error (error);
  g_assert_true (g_spawn_check_wait_status (status, &error));
  g_assert_no_error (error);
  return TRUE;
}

static guint
count_dark (const char *png)
{
  cairo_surface_t *surface = cairo_image_surface_create_from_png (png);
  guint n = 0;

  g_assert_cmpint (cairo_surface_status (surface), ==, CAIRO_STATUS_SUCCESS);
  for (int y = 0; y < cairo_image_surface_get_height (surface); y++)
    {
      const guint32 *row = (const guint32 *) (const void *)
        (cairo_image_surface_get_data (surface) + y * cairo_image_surface_get_stride (surface));

      for (int x = 0; x < cairo_image_surface_get_width (surface); x++)
        n += (row[x] >> 8 & 0xff) < 100;
    }
  cairo_surface_destroy (surface);
  return n;
}

/* Other programs read the file: xmllint finds it well formed, librsvg draws what we
 * draw, ink for ink, give or take its own smoothing. */
static void
check_outside (const char *svg,
               const char *png,
               const char *name)
{
  g_autofree char *drawn = picture_path (name, "-librsvg.png");
  const char *const lint[] = { "xmllint", "--noout", "--nonet", svg, NULL };
  /* from 96 dots an inch to 127 */
  const char *const convert[] = { "rsvg-convert", "--zoom", "1.322917", "-o", drawn, svg, NULL };
  double ours, theirs;

  if (!run (lint) || !run (convert))
    {
      g_test_skip ("xmllint or rsvg-convert is not installed");
      return;
    }

  ours = count_dark (png);
  theirs = count_dark (drawn);
  g_assert_cmpfloat (ours, >, 1000);
  g_assert_cmpfloat (fabs (ours - theirs), <, 0.1 * ours);
}

static void
check_pictures (const BwGrading *grading,
                const char      *name)
{
  g_autoptr (BwChart) chart = bw_chart_new (grading, grading->sizes->len / 2);
  g_autoptr (BwChart) again = bw_chart_new (grading, grading->sizes->len / 2);
  BwChartStyle style = BW_CHART_STYLE_DEFAULT;
  g_autofree char *svg_path = picture_path (name, ".svg");
  g_autofree char *png_path = picture_path (name, ".png");
  g_autoptr (GError) error = NULL;
  g_autoptr (GBytes) svg = bw_chart_to_svg (chart, &style, &error);
  g_autoptr (GBytes) svg2 = bw_chart_to_svg (again, &style, &error);
  g_autoptr (GBytes) png = bw_chart_to_png (chart, &style, 5, &error);
  g_autoptr (GBytes) png2 = bw_chart_to_png (again, &style, 5, &error);

  g_assert_no_error (error);
  g_assert_true (g_bytes_equal (svg, svg2));
  g_assert_true (g_bytes_equal (png, png2));
  leave (svg, svg_path);
  leave (png, png_path);
  check_outside (svg_path, png_path, name);
}

static void
test_pictures (void)
{
  static const char *const tests[] = { "thirds", "large", "oracle" };

  for (guint d = 0; d < G_N_ELEMENTS (demo_families); d++)
    {
      g_autoptr (BwGrading) grading = family_demo (reference, demo_families[d]);

      check_pictures (grading, demo_families[d]);
    }
  for (guint d = 0; d < G_N_ELEMENTS (tests); d++)
    {
      g_autoptr (BwGrading) grading = grade_file ("data/designs", tests[d]);

      check_pictures (grading, tests[d]);
    }
}

/* Every stitch pattern in one picture. */
static void
test_pattern_pictures (void)
{
  static const char *const thick[] = { "shells", "v-stitch", "basket", "waffle", "diagonal",
                                       "post-rib", "bobble-grid", "spikes", "linen",
                                       "crab-edge", "raised-staggered" };
  g_autoptr (BwDesign) design = plain_hat ();
  g_autoptr (BwGrading) grading = NULL;

  loosen (design);
  g_array_index (design->sizes, BwSizeChoice, 0).size->depth_mm = 900;
  g_array_index (design->sizes, BwSizeChoice, 1).size->depth_mm = 910;
  g_array_index (design->sizes, BwSizeChoice, 2).size->depth_mm = 920;
  design->rules.depth_tolerance_mm = 400;
  for (guint i = 0; i < G_N_ELEMENTS (thick); i++)
    {
      BwBand *band = hat_add_band (design, thick[i], BW_BAND_REPEATS, 2);

      hat_add_step (band->stripe, 0, 2);
      hat_add_step (band->stripe, 1, 2);
    }
  grading = grade_hat (design);
  g_assert_false (grading->refused);
  check_grading (grading);
  check_pictures (grading, "patterns");
}

/* --- Colour is never the only sign --- */

static GBytes *
low_ink_png (const BwChart *chart)
{
  BwChartStyle style = BW_CHART_STYLE_DEFAULT;
  g_autoptr (GError) error = NULL;
  GBytes *png;

  style.low_ink = TRUE;
  style.ink = 0;
  png = bw_chart_to_png (chart, &style, 3, &error);
  g_assert_no_error (error);
  return png;
}

typedef struct
{
  const guint8 *data;
  gsize         left;
} Stream;

static cairo_status_t
read_cb (void          *closure,
         unsigned char *data,
         unsigned int   length)
{
  Stream *stream = closure;

  if (length > stream->left)
    return CAIRO_STATUS_READ_ERROR;
  memcpy (data, stream->data, length);
  stream->data += length;
  stream->left -= length;
  return CAIRO_STATUS_SUCCESS;
}

/* Dots that are neither black nor white nor grey. */
static guint
count_coloured (GBytes *png)
{
  Stream stream = { g_bytes_get_data (png, NULL), g_bytes_get_size (png) };
  cairo_surface_t *surface = cairo_image_surface_create_from_png_stream (read_cb, &stream);
  guint n = 0;

  for (int y = 0; y < cairo_image_surface_get_height (surface); y++)
    {
      const guint32 *row = (const guint32 *) (const void *)
        (cairo_image_surface_get_data (surface) + y * cairo_image_surface_get_stride (surface));

      for (int x = 0; x < cairo_image_surface_get_width (surface); x++)
        n += (row[x] & 0xff) != (row[x] >> 8 & 0xff) || (row[x] & 0xff) != (row[x] >> 16 & 0xff);
    }
  cairo_surface_destroy (surface);
  return n;
}

/* Without any colour the rounds of two colours are still told apart. */
static void
test_without_colour (void)
{
  g_autoptr (BwGrading) grading = family_demo (reference, "lugger");
  g_autoptr (BwChart) chart = bw_chart_new (grading, 0);
  BwChartStyle style = BW_CHART_STYLE_DEFAULT;
  g_autoptr (GBytes) png = low_ink_png (chart);
  g_autoptr (GBytes) other = NULL;
  g_autoptr (GBytes) coloured = bw_chart_to_png (chart, &style, 3, NULL);

  g_assert_cmpuint (count_coloured (png), ==, 0);
  g_assert_cmpuint (count_coloured (coloured), >, 500);
  g_array_index (chart->rows, BwChartRow, chart->rows->len - 1).colour = 2;
  other = low_ink_png (chart);
  g_assert_false (g_bytes_equal (png, other));
}

/* A panel keeps to the size that it gives, and all of them to the sheet's. */
static void
test_sizes (void)
{
  g_autoptr (BwGrading) grading = family_demo (reference, "smack");
  g_autoptr (BwChart) chart = bw_chart_new (grading, 0);
  BwChartStyle style = BW_CHART_STYLE_DEFAULT;
  double width, height, whole_width, whole_height;
  double sum = 0;

  bw_chart_get_size (chart, &style, &whole_width, &whole_height);
  for (guint p = 0; p < chart->panels->len; p++)
    {
      cairo_surface_t *recording = cairo_recording_surface_create (CAIRO_CONTENT_COLOR_ALPHA, NULL);
      cairo_t *cr = cairo_create (recording);
      double x, y, w, h;

      bw_chart_panel_get_size (chart, p, &style, &width, &height);
      bw_chart_panel_draw (chart, p, cr, &style);
      cairo_recording_surface_ink_extents (recording, &x, &y, &w, &h);
      g_test_message ("panel %u: %.1f %.1f %.1f %.1f in %.1f %.1f", p, x, y, w, h, width, height);
      g_assert_cmpfloat (x, >=, -1);
      g_assert_cmpfloat (y, >=, -1);
      g_assert_cmpfloat (x + w, <=, width + 1);
      g_assert_cmpfloat (y + h, <=, height + 1);
      g_assert_cmpfloat (width, <=, whole_width);
      sum += height;
      cairo_destroy (cr);
      cairo_surface_destroy (recording);
    }
  bw_chart_key_get_size (chart, &style, &width, &height);
  g_assert_cmpfloat (width, <=, whole_width);
  /* two panels at the most stand side by side */
  g_assert_cmpfloat (sum / 2 + height, <, whole_height);
}

/* Whatever a designer calls things, nothing is wider than it may be. */
static void
test_strange_names (void)
{
  g_autofree char *long_word = g_strnfill (300, 'x');
  const char *names[] = { long_word, "قارب صغير", "A & B <i>", "", "a\001b\302\205" };
  BwChartStyle style = BW_CHART_STYLE_DEFAULT;

  for (guint i = 0; i < G_N_ELEMENTS (names); i++)
    {
      g_autoptr (BwGrading) grading = family_demo (reference, "lugger");
      g_autoptr (BwChart) chart = NULL;
      g_autoptr (GError) error = NULL;
      g_autoptr (GBytes) svg = NULL;
      g_autofree char *path = picture_path ("strange", ".svg");
      const char *const lint[] = { "xmllint", "--noout", "--nonet", path, NULL };
      double width, height;

      for (guint c = 0; c < grading->design->colours->len; c++)
        {
          BwColour *colour = &g_array_index (grading->design->colours, BwColour, c);

          g_free (colour->name);
          colour->name = g_strdup (names[i]);
        }
      g_free (grading->design->name);
      grading->design->name = g_strdup (names[i]);
      chart = bw_chart_new (grading, 0);
      bw_chart_get_size (chart, &style, &width, &height);
      g_assert_cmpfloat (width, <=, style.width_mm + 0.01);
      bw_chart_key_get_size (chart, &style, &width, &height);
      g_assert_cmpfloat (width, <=, style.width_mm + 0.01);
      svg = bw_chart_to_svg (chart, &style, &error);
      g_assert_no_error (error);
      leave (svg, path);
      if (!run (lint))
        g_test_skip ("xmllint is not installed");
    }
}

int
main (int   argc,
      char *argv[])
{
  g_autoptr (GError) error = NULL;
  int status;

  g_test_init (&argc, &argv, NULL);
  reference = bw_reference_builtin (&error);
  g_assert_no_error (error);

  g_test_add_func ("/chart-picture/files", test_pictures);
  g_test_add_func ("/chart-picture/patterns", test_pattern_pictures);
  g_test_add_func ("/chart-picture/without-colour", test_without_colour);
  g_test_add_func ("/chart-picture/sizes", test_sizes);
  g_test_add_func ("/chart-picture/strange-names", test_strange_names);

  status = g_test_run ();
  bw_reference_free (reference);
  return status;
}
