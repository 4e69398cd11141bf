#include <cairo.h>
#include <glib.h>
#include <glib/gstdio.h>

#include "bw-schematic.h"
#include "bw-units.h"
#include "charts.h"

/* The schematic's figures are those of the graded sizes, to the printed digit, and its
 * outline is their fabric. Pictures are left in tests/publish/charts of the build
 * folder. */

static const BwMeasure *
measure_at (const BwSchematic *schematic,
            guint              m)
{
  return &g_array_index (schematic->measures, BwMeasure, m);
}

static double
graded (const BwGradedSize *size,
        BwMeasureKind       kind)
{
  guint first = 0;

  while (g_array_index (size->rounds->rounds, BwRound, first).section != BW_SECTION_CROWN)
    first++;
  switch (kind)
    {
    case BW_MEASURE_GIRTH:
      return size->girth_mm;
    case BW_MEASURE_BRIM:
      return size->brim_mm;
    case BW_MEASURE_BRIM_HEIGHT:
      return size->brim_height_mm;
    case BW_MEASURE_CROWN_START:
      return g_array_index (size->rounds->rounds, BwRound, first - 1).height_mm;
    case BW_MEASURE_DEPTH:
    default:
      return size->depth_mm;
    }
}

/* Every figure of every size, in both units, letter by letter. */
static void
test_figures (void)
{
  for (guint d = 0; d < G_N_ELEMENTS (demo_families); d++)
    {
      g_autoptr (BwGrading) grading = family_demo (reference, demo_families[d]);
      g_autoptr (BwSchematic) schematic = bw_schematic_new (grading, -1);

      g_assert_cmpuint (schematic->sizes->len, ==, grading->sizes->len);
      g_assert_cmpuint (schematic->measures->len, ==, 5);
      for (guint m = 0; m < schematic->measures->len; m++)
        for (guint k = 0; k < grading->sizes->len; k++)
          {
            const BwMeasure *measure = measure_at (schematic, m);
            double mm = graded (family_size (grading, k), measure->kind);
            g_autofree char *cm = bw_schematic_value (schematic, m, k, BW_UNITS_CM);
            g_autofree char *inch = bw_schematic_value (schematic, m, k, BW_UNITS_INCH);
            double read_cm, read_inch;

            g_assert_cmpfloat_with_epsilon (measure->mm[k], mm, 1e-6);
            g_assert_true (bw_units_parse_length (cm, BW_UNITS_CM, grading->design->mm_per_inch,
                                                  &read_cm, NULL));
            g_assert_true (bw_units_parse_length (inch, BW_UNITS_INCH,
                                                  grading->design->mm_per_inch, &read_inch, NULL));
            g_assert_cmpfloat (fabs (read_cm - mm), <=, 0.5 + 1e-6); /* half a tenth of a cm */
            g_assert_cmpfloat (fabs (read_inch - mm), <=, grading->design->mm_per_inch / 16 + 1e-6);
            g_assert_cmpint (measure->letter, ==, 'A' + (char) m);
          }
    }
}

/* The outline starts at the edge, ends in the middle of the crown, and is nowhere wider
 * than a quarter of a girth. */
static void
check_outline (const BwSchematic  *schematic,
               const BwGradedSize *size)
{
  const BwOutlinePoint *points = (const BwOutlinePoint *) (void *) schematic->outline->data;
  guint n = schematic->outline->len;
  double widest = 0;

  g_assert_cmpuint (n, >, 4);
  g_assert_cmpfloat (points[0].height_mm, ==, 0);
  g_assert_cmpfloat (points[n - 1].half_mm, ==, 0);
  g_assert_cmpfloat_with_epsilon (points[n - 1].height_mm, size->depth_mm, 1e-6);
  for (guint i = 0; i < n; i++)
    {
      widest = MAX (widest, points[i].half_mm);
      if (i > 0)
        g_assert_cmpfloat (points[i].height_mm, >=, points[i - 1].height_mm - 1e-9);
    }
  g_assert_cmpfloat (widest, >=, size->girth_mm / 4 - 1e-6);
}

static void
test_outline (void)
{
  for (guint d = 0; d < G_N_ELEMENTS (demo_families); d++)
    {
      g_autoptr (BwGrading) grading = family_demo (reference, demo_families[d]);

      for (guint k = 0; k < grading->sizes->len; k++)
        {
          g_autoptr (BwSchematic) schematic = bw_schematic_new (grading, (int) k);

          g_assert_cmpuint (schematic->sizes->len, ==, 1);
          g_assert_cmpuint (schematic->drawn, ==, 0);
          check_outline (schematic, family_size (grading, k));
        }
    }
}

/* Random hats: brims of every kind and none, folded, any crown. */
static void
test_random (void)
{
  guint bare = 0;
  guint n = 0;

  for (guint32 seed = 1; seed <= 60; seed++)
    {
      g_autoptr (BwDesign) design = random_hat (reference, HATS_SMALL, seed);
      g_autoptr (BwGrading) grading = grade_hat (design);

      for (guint k = 0; k < grading->sizes->len; k++)
        {
          g_autoptr (BwSchematic) schematic = bw_schematic_new (grading, (int) k);

          check_outline (schematic, family_size (grading, k));
          bare += design->brim.kind == BW_BRIM_NONE;
          g_assert_cmpuint (schematic->measures->len, ==,
                            design->brim.kind == BW_BRIM_NONE ? 3 : 5);
          n++;
        }
    }
  g_assert_cmpuint (n, >, 30);
  g_assert_cmpuint (bare, >, 0);
}

static void
test_describe (void)
{
  g_autoptr (BwGrading) grading = family_demo (reference, "lugger");
  g_autoptr (BwSchematic) schematic = bw_schematic_new (grading, 2);
  g_autofree char *words = bw_schematic_describe (schematic);

  for (guint m = 0; m < schematic->measures->len; m++)
    {
      g_autofree char *cm = bw_schematic_value (schematic, m, 0, BW_UNITS_CM);
      g_autofree char *inch = bw_schematic_value (schematic, m, 0, BW_UNITS_INCH);

      g_assert_nonnull (strstr (words, cm));
      g_assert_nonnull (strstr (words, inch));
      g_assert_nonnull (strstr (words, measure_at (schematic, m)->name));
    }
}

static void
check_picture (const BwGrading *grading,
               int              size,
               gboolean         values,
               const char      *name)
{
  g_autoptr (BwSchematic) schematic = bw_schematic_new (grading, size);
  BwSchematicStyle style = BW_SCHEMATIC_STYLE_DEFAULT;
  g_autofree char *folder = g_test_build_filename (G_TEST_BUILT, "publish", "charts", NULL);
  g_autofree char *png_path = g_strdup_printf ("%s/%s.png", folder, name);
  g_autoptr (GError) error = NULL;
  g_autoptr (GBytes) svg = NULL;
  g_autoptr (GBytes) again = NULL;
  g_autoptr (GBytes) png = NULL;
  cairo_surface_t *recording = cairo_recording_surface_create (CAIRO_CONTENT_COLOR_ALPHA, NULL);
  cairo_t *cr = cairo_create (recording);
  double x, y, w, h, width, height;

  style.values = values;
  svg = bw_schematic_to_svg (schematic, &style, &error);
  again = bw_schematic_to_svg (schematic, &style, &error);
  png = bw_schematic_to_png (schematic, &style, 5, &error);
  g_assert_no_error (error);
  g_assert_true (g_bytes_equal (svg, again));
  g_assert_nonnull (g_strstr_len (g_bytes_get_data (svg, NULL), (gssize) g_bytes_get_size (svg),
                                  "<desc>Outline of the hat"));
  g_assert_cmpint (g_mkdir_with_parents (folder, 0755), ==, 0);
  g_file_set_contents (png_path, g_bytes_get_data (png, NULL), (gssize) g_bytes_get_size (png),
                       &error);
  g_assert_no_error (error);

  bw_schematic_get_size (schematic, &style, &width, &height);
  bw_schematic_draw (schematic, cr, &style);
  cairo_recording_surface_ink_extents (recording, &x, &y, &w, &h);
  g_test_message ("%s: %.1f %.1f %.1f %.1f in %.1f %.1f", name, x, y, w, h, width, height);
  g_assert_cmpfloat (x, >=, -1);
  g_assert_cmpfloat (y, >=, -1);
  g_assert_cmpfloat (x + w, <=, width + 1);
  g_assert_cmpfloat (y + h, <=, height + 1);
  cairo_destroy (cr);
  cairo_surface_destroy (recording);
}

static void
test_pictures (void)
{
  for (guint d = 0; d < G_N_ELEMENTS (demo_families); d++)
    {
      g_autoptr (BwGrading) grading = family_demo (reference, demo_families[d]);
      g_autofree char *all = g_strconcat (demo_families[d], "-schematic", NULL);
      g_autofree char *one = g_strconcat (demo_families[d], "-schematic-one", NULL);

      check_picture (grading, -1, FALSE, all);
      check_picture (grading, 1, TRUE, one);
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

  g_test_add_func ("/schematic/figures", test_figures);
  g_test_add_func ("/schematic/outline", test_outline);
  g_test_add_func ("/schematic/random", test_random);
  g_test_add_func ("/schematic/describe", test_describe);
  g_test_add_func ("/schematic/pictures", test_pictures);

  status = g_test_run ();
  bw_reference_free (reference);
  return status;
}
