#include <cairo-script.h>
#include <glib.h>
#include <glib/gstdio.h>
#include <math.h>

#include "bw-hat-drawing.h"
#include "bw-silhouette.h"
#include "bw-tone.h"
#include "family.h"

/* Hats are drawn on image and recording surfaces, without a display. The pictures
 * of the demo families stay in the build folder, to be looked at. */

#define MARGIN 12 /* mm round a picture, where nothing may be drawn */

static BwReference *reference;

typedef struct
{
  BwHatDrawing    *drawing;
  cairo_surface_t *surface;
  double           scale;
  int              width;
  int              height;
  gboolean         above;
} Picture;

static void
picture_draw (Picture           *picture,
              const BwHatStyle  *style)
{
  cairo_t *cr = cairo_create (picture->surface);

  cairo_translate (cr, picture->width / 2.0,
                   picture->above ? picture->height / 2.0
                                  : picture->height - MARGIN * picture->scale);
  cairo_scale (cr, picture->scale, -picture->scale);
  if (picture->above)
    bw_hat_drawing_draw_crown (picture->drawing, cr, style);
  else
    bw_hat_drawing_draw_side (picture->drawing, cr, style);
  g_assert_cmpint (cairo_status (cr), ==, CAIRO_STATUS_SUCCESS);
  cairo_destroy (cr);
  cairo_surface_flush (picture->surface);
}

static void
picture_init (Picture          *picture,
              const BwGrading  *grading,
              guint             size,
              double            scale,
              gboolean          above,
              const BwHatStyle *style)
{
  BwHatDrawing *drawing = bw_hat_drawing_new (grading, size);
  double width = above ? 2 * bw_hat_drawing_crown_radius (drawing) : bw_hat_drawing_width (drawing);
  double height = above ? width : bw_hat_drawing_height (drawing);

  *picture = (Picture) { drawing, NULL, scale, (int) ceil ((width + 2 * MARGIN) * scale),
                         (int) ceil ((height + 2 * MARGIN) * scale), above };
  picture->surface = cairo_image_surface_create (CAIRO_FORMAT_ARGB32, picture->width,
                                                 picture->height);
  picture_draw (picture, style);
}

static void
picture_clear (Picture *picture)
{
  bw_hat_drawing_free (picture->drawing);
  cairo_surface_destroy (picture->surface);
}

/* The pixel at a place of the picture, in mm. */
static guint32
picture_pixel (const Picture *picture,
               double         x_mm,
               double         y_mm)
{
  int x = (int) floor (picture->width / 2.0 + x_mm * picture->scale);
  double origin = picture->above ? picture->height / 2.0
                                 : picture->height - MARGIN * picture->scale;
  int y = (int) floor (origin - y_mm * picture->scale);
  const unsigned char *data = cairo_image_surface_get_data (picture->surface);
  int stride = cairo_image_surface_get_stride (picture->surface);

  g_assert_cmpint (x, >=, 0);
  g_assert_cmpint (x, <, picture->width);
  g_assert_cmpint (y, >=, 0);
  g_assert_cmpint (y, <, picture->height);
  return *(const guint32 *) (const void *) (data + y * stride + 4 * x);
}

typedef void (*SizeFunc) (const BwGrading *grading,
                          guint            size);

/* Every size of the demo families and of a family of thirty. */
static void
each_size (SizeFunc func)
{
  g_autofree char *text = family_text ("data/designs", "large");
  g_autoptr (BwGrading) large = family_grade (reference, text);

  for (guint f = 0; f < G_N_ELEMENTS (demo_families); f++)
    {
      g_autoptr (BwGrading) grading = family_demo (reference, demo_families[f]);

      for (guint k = 0; k < grading->sizes->len; k++)
        func (grading, k);
    }
  for (guint k = 0; k < large->sizes->len; k += 7)
    func (large, k);
}

/* --- Shape --- */

/* As wide as the silhouette, at least as high (it stands in steps where the
 * picture is evened out), and never higher than its fabric is long. */
static void
check_extents (const BwGrading *grading,
               guint            size)
{
  BwHatDrawing *drawing = bw_hat_drawing_new (grading, size);
  g_autoptr (GArray) points = bw_silhouette (family_size (grading, size));
  cairo_surface_t *surface = cairo_recording_surface_create (CAIRO_CONTENT_COLOR_ALPHA, NULL);
  cairo_t *cr = cairo_create (surface);
  double ragged = 0.04 * grading->design->finishing.pompom_mm;
  double radius = 0, height = 0, length = 0, x, y, width, drawn;

  for (guint i = 0; i < points->len; i++)
    {
      const BwSilhouettePoint *point = &g_array_index (points, BwSilhouettePoint, i);

      radius = MAX (radius, point->radius_mm);
      height = point->height_mm;
      if (i > 0)
        length += hypot (point->radius_mm - point[-1].radius_mm,
                         point->height_mm - point[-1].height_mm);
    }
  g_assert_cmpfloat (bw_hat_drawing_crown_radius (drawing), <=, radius + 1e-6);
  g_assert_cmpfloat (bw_hat_drawing_crown_radius (drawing), >=, 0.97 * radius);
  g_assert_cmpfloat (bw_hat_drawing_hat_height (drawing), >=, height - 1e-6);
  g_assert_cmpfloat (bw_hat_drawing_hat_height (drawing), <=, length + 1e-6);

  cairo_scale (cr, 10, -10);
  bw_hat_drawing_draw_side (drawing, cr, NULL);
  cairo_recording_surface_ink_extents (surface, &x, &y, &width, &drawn);
  g_assert_cmpfloat_with_epsilon (width / 10, bw_hat_drawing_width (drawing), 0.3);
  g_assert_cmpfloat_with_epsilon (x / 10, -bw_hat_drawing_width (drawing) / 2, 0.2);
  g_assert_cmpfloat_with_epsilon (y / 10, -bw_hat_drawing_height (drawing), 0.2 + ragged);
  g_assert_cmpfloat_with_epsilon ((y + drawn) / 10, 0, 0.2);

  cairo_destroy (cr);
  cairo_surface_destroy (surface);
  bw_hat_drawing_free (drawing);
}

static void
test_extents (void)
{
  each_size (check_extents);
}

/* Rounds lie on each other without a gap, from the lower edge to the top, and the
 * fabric keeps the length that the rounds have. */
static void
check_rounds (const BwGrading *grading,
              guint            size)
{
  BwHatDrawing *drawing = bw_hat_drawing_new (grading, size);
  const GArray *rounds = family_size (grading, size)->rounds->rounds;
  double low, high, half, top = 0;

  for (guint i = 0; i < rounds->len; i++)
    {
      const BwRound *round = &g_array_index (rounds, BwRound, i);

      if (!bw_hat_drawing_find_round (drawing, i, &low, &high, &half))
        continue;
      if (round->row)
        {
          g_assert_cmpfloat_with_epsilon (low, 0, 1e-9);
          g_assert_cmpfloat_with_epsilon (high, family_size (grading, size)->brim_height_mm, 1e-6);
          top = high;
          continue;
        }
      g_assert_cmpfloat_with_epsilon (low, top, 1e-9);
      g_assert_cmpfloat (high - low, <=, round->round_mm + 1e-6);
      top = high;
    }
  g_assert_cmpfloat_with_epsilon (top, bw_hat_drawing_hat_height (drawing), 1e-6);
  bw_hat_drawing_free (drawing);
}

static void
test_rounds (void)
{
  each_size (check_rounds);
}

/* --- Colour --- */

static double
distance (guint32 pixel,
          guint32 rgb)
{
  double sum = 0;

  for (guint i = 0; i < 24; i += 8)
    {
      double part = (double) (pixel >> i & 0xff) - (double) (rgb >> i & 0xff);

      sum += part * part;
    }

  return sqrt (sum);
}

/* In the middle of each stripe its round's colour, within the shading, and no
 * other colour of the design is nearer. */
static void
check_colours (const BwGrading *grading,
               guint            size)
{
  BwHatStyle style = BW_HAT_STYLE_DEFAULT;
  const BwGradedSize *graded = family_size (grading, size);
  const GArray *colours = grading->design->colours;
  double low, high, half;
  guint seen = 0;
  Picture picture;

  style.plain = TRUE;
  picture_init (&picture, grading, size, 8, FALSE, &style);
  for (guint i = 0; i < graded->rounds->rounds->len; i++)
    {
      const BwRound *round = &g_array_index (graded->rounds->rounds, BwRound, i);
      guint32 own = g_array_index (colours, BwColour, round->colour).rgb;
      guint32 pixel;
      BwTone want, got;

      if (!bw_hat_drawing_find_round (picture.drawing, i, &low, &high, &half) ||
          (high - low) * picture.scale < 4 ||
          /* under the line of the outline */
          (low + high) / 2 > bw_hat_drawing_hat_height (picture.drawing) - 1)
        continue;
      /* not where the pom-pom hangs over */
      if (grading->design->finishing.pompom_mm > 0 &&
          high > bw_hat_drawing_hat_height (picture.drawing) - 10)
        continue;
      seen++;
      pixel = picture_pixel (&picture, 0, (low + high) / 2);
      g_assert_cmphex (pixel >> 24, ==, 0xff);
      bw_tone_init (&want, own);
      bw_tone_init (&got, pixel);
      g_assert_cmpfloat_with_epsilon (got.lightness, want.lightness, 12);
      for (guint c = 0; c < colours->len; c++)
        if (c != round->colour)
          g_assert_cmpfloat (distance (pixel, own), <,
                             distance (pixel, g_array_index (colours, BwColour, c).rgb));
    }
  g_assert_cmpuint (seen, >, graded->n_rounds / 2);
  picture_clear (&picture);
}

static void
test_colours (void)
{
  each_size (check_colours);
}

/* A stripe that is lit is lighter than it was, and the others are as they were. */
static void
test_lit (void)
{
  g_autoptr (BwGrading) grading = family_demo (reference, "smack");
  BwHatStyle style = BW_HAT_STYLE_DEFAULT;
  double low, high, half;
  Picture plain, lit;

  style.plain = TRUE;
  picture_init (&plain, grading, 1, 8, FALSE, &style);
  style.lit_round = 12;
  style.n_lit = 2;
  picture_init (&lit, grading, 1, 8, FALSE, &style);
  for (guint i = 8; i < 18; i++)
    {
      guint32 before, after;
      BwTone dark, light;

      g_assert_true (bw_hat_drawing_find_round (lit.drawing, i, &low, &high, &half));
      before = picture_pixel (&plain, 0, (low + high) / 2);
      after = picture_pixel (&lit, 0, (low + high) / 2);
      bw_tone_init (&dark, before);
      bw_tone_init (&light, after);
      if (i == 12 || i == 13)
        g_assert_cmpfloat (light.lightness, >, dark.lightness + 5);
      else
        g_assert_cmphex (after, ==, before);
    }
  picture_clear (&plain);
  picture_clear (&lit);
}

/* Hatched, there is nothing but black, white and what lies between them. */
static void
test_hatch (void)
{
  g_autoptr (BwGrading) grading = family_demo (reference, "lugger");
  BwHatStyle style = BW_HAT_STYLE_DEFAULT;
  guint dark = 0;

  style.hatch = TRUE;
  for (guint above = 0; above < 2; above++)
    {
      Picture picture;

      picture_init (&picture, grading, 3, 4, above, &style);
      for (int y = 0; y < picture.height; y++)
        for (int x = 0; x < picture.width; x++)
          {
            guint32 pixel = *(const guint32 *) (const void *)
              (cairo_image_surface_get_data (picture.surface) +
               y * cairo_image_surface_get_stride (picture.surface) + 4 * x);

            g_assert_cmpuint (pixel & 0xff, ==, pixel >> 8 & 0xff);
            g_assert_cmpuint (pixel & 0xff, ==, pixel >> 16 & 0xff);
            dark += pixel == 0xff000000;
          }
      picture_clear (&picture);
    }
  g_assert_cmpuint (dark, >, 1000);
}

/* --- Hits --- */

static void
check_hits (const BwGrading *grading,
            guint            size)
{
  BwHatDrawing *drawing = bw_hat_drawing_new (grading, size);
  const GArray *rounds = family_size (grading, size)->rounds->rounds;
  double low, high, half;

  for (guint i = 0; i < rounds->len; i++)
    {
      const BwRound *round = &g_array_index (rounds, BwRound, i);
      double y;

      if (!bw_hat_drawing_find_round (drawing, i, &low, &high, &half))
        continue;
      y = (low + high) / 2;
      g_assert_cmpint (bw_hat_drawing_round_at (drawing, half + 0.01, y), ==, -1);
      g_assert_cmpint (bw_hat_drawing_round_at (drawing, -half - 0.01, y), ==, -1);
      if (round->row)
        continue;
      for (int part = -3; part <= 3; part++)
        g_assert_cmpint (bw_hat_drawing_round_at (drawing, part / 3.01 * half, y), ==, (int) i);
    }
  g_assert_cmpint (bw_hat_drawing_round_at (drawing, 0, -0.01), ==, -1);
  g_assert_cmpint (bw_hat_drawing_round_at (drawing, 0, bw_hat_drawing_hat_height (drawing) + 0.01),
                   ==, -1);
  bw_hat_drawing_free (drawing);
}

static void
test_hits (void)
{
  each_size (check_hits);
}

/* Along a sideways brim the rows come one after the other, to the left, those at
 * the back not at all. */
static void
test_brim_hits (void)
{
  g_autoptr (BwGrading) grading = family_demo (reference, "lugger");
  const BwGradedSize *size = family_size (grading, 6);
  BwHatDrawing *drawing = bw_hat_drawing_new (grading, 6);
  double low, high, half;
  int before = G_MAXINT;

  g_assert_true (bw_hat_drawing_find_round (drawing, 1, &low, &high, &half));
  for (int i = -100; i <= 100; i++)
    {
      int at = bw_hat_drawing_round_at (drawing, i * half / 101, high / 2);
      const BwRound *round;

      g_assert_cmpint (at, >=, 0);
      round = &g_array_index (size->rounds->rounds, BwRound, at);
      g_assert_true (round->row);
      g_assert_cmpuint (round->number, >=, size->brim_rows / 4);
      g_assert_cmpuint (round->number, <=, size->brim_rows * 3 / 4 + 1);
      g_assert_cmpint (at, <=, before);
      before = at;
    }
  bw_hat_drawing_free (drawing);
}

/* From above, rounds follow each other from the rim inwards, and every place of
 * the disc has one. */
static void
check_crown_hits (const BwGrading *grading,
                  guint            size)
{
  BwHatDrawing *drawing = bw_hat_drawing_new (grading, size);
  const GArray *rounds = family_size (grading, size)->rounds->rounds;
  double radius = bw_hat_drawing_crown_radius (drawing);
  int before = -1;

  for (guint i = 1; i <= 200; i++)
    {
      double out = radius * (200.5 - i) / 200;
      int at = bw_hat_drawing_crown_round_at (drawing, out * cos (i), out * sin (i));

      g_assert_cmpint (at, >=, MAX (before, 0));
      g_assert_cmpint (at, <, (int) rounds->len);
      before = at;
    }
  g_assert_cmpuint (g_array_index (rounds, BwRound, before).section, ==, BW_SECTION_CLOSE);
  g_assert_cmpint (bw_hat_drawing_crown_round_at (drawing, radius + 0.1, 0), ==, -1);
  bw_hat_drawing_free (drawing);
}

static void
test_crown_hits (void)
{
  each_size (check_crown_hits);
}

/* --- Bounds --- */

/* Whether any place within a dot and a half is part of the hat or its pom-pom. */
static gboolean
is_near (const Picture *picture,
         double         x,
         double         y)
{
  double reach = 1.5 / picture->scale;

  if (picture->above)
    return hypot (x, y) < bw_hat_drawing_crown_radius (picture->drawing) + reach;
  if (y > bw_hat_drawing_hat_height (picture->drawing) * 0.9)
    return fabs (x) < bw_hat_drawing_width (picture->drawing) / 2 + reach &&
           y < bw_hat_drawing_height (picture->drawing) + reach;
  for (int i = -1; i <= 1; i++)
    for (int k = -1; k <= 1; k++)
      if (bw_hat_drawing_round_at (picture->drawing, x + i * reach, y + k * reach) >= 0)
        return TRUE;

  return FALSE;
}

static void
check_bounds (const BwGrading  *grading,
              guint             size,
              gboolean          above,
              double            scale,
              const BwHatStyle *style)
{
  Picture picture;

  picture_init (&picture, grading, size, scale, above, style);
  for (int y = 0; y < picture.height; y++)
    for (int x = 0; x < picture.width; x++)
      {
        double x_mm = (x + 0.5 - picture.width / 2.0) / scale;
        double y_mm = above ? (picture.height / 2.0 - y - 0.5) / scale
                            : (picture.height - y - 0.5) / scale - MARGIN;
        guint32 pixel = picture_pixel (&picture, x_mm, y_mm);

        if (pixel >> 24 > 8 && !is_near (&picture, x_mm, y_mm))
          g_error ("%s, size %u, from %s: drawn outside, at %.2f %.2f", grading->design->name, size,
                   above ? "above" : "the side", x_mm, y_mm);
      }
  picture_clear (&picture);
}

/* Nothing is drawn outside the hat, in any style and at any scale. */
static void
test_bounds (void)
{
  static const char *const brims[] = {
    "kind=post-rib", "kind=rolled", "kind=post-rib\nfolded=yes", "kind=none",
  };
  BwHatStyle style = BW_HAT_STYLE_DEFAULT;

  for (guint f = 0; f < G_N_ELEMENTS (demo_families); f++)
    {
      g_autoptr (BwGrading) grading = family_demo (reference, demo_families[f]);

      for (guint above = 0; above < 2; above++)
        for (guint i = 0; i < 4; i++)
          {
            style = (BwHatStyle) BW_HAT_STYLE_DEFAULT;
            style.letters = TRUE;
            style.hatch = i == 3;
            style.lit_round = i == 2 ? 14 : -1;
            check_bounds (grading, f, above, 0.7 + 1.9 * i, &style);
          }
    }

  for (guint i = 0; i < G_N_ELEMENTS (brims); i++)
    {
      g_autofree char *text = family_text ("../data/designs", "smack");
      g_auto (GStrv) parts = g_strsplit (text, "kind=post-rib", 2);
      g_autofree char *other = g_strjoin (brims[i], parts[0], parts[1], NULL);
      g_autoptr (BwGrading) grading = family_grade (reference, other);

      check_bounds (grading, 0, FALSE, 3, NULL);
    }
}

/* --- Stitch patterns --- */

/* A hat in every stitch pattern there is, once with a turn that is long. */
static void
test_patterns (void)
{
  g_autofree char *text = family_text ("../data/designs", "smack");
  g_auto (GStrv) parts = g_strsplit (text, "stitch-pattern=plain-low\nmode=rounds\namount=10", 2);

  g_assert_cmpuint (g_strv_length (parts), ==, 2);
  for (guint f = 0; f < reference->fabrics->fabrics->len; f++)
    {
      const BwFabric *fabric = g_ptr_array_index (reference->fabrics->fabrics, f);
      g_autofree char *band = g_strdup_printf ("stitch-pattern=%s\nmode=repeats\namount=1",
                                               fabric->id);
      g_autofree char *other = g_strjoin (band, parts[0], parts[1], NULL);
      g_autoptr (BwGrading) grading = family_grade (reference, other);

      check_bounds (grading, 0, FALSE, 4, NULL);
      check_bounds (grading, 0, TRUE, 2, NULL);
      check_rounds (grading, 0);
      check_hits (grading, 0);
    }
}

/* --- Threads and work --- */

typedef struct
{
  const Picture *same;
  guint          turns;
} Work;

static gpointer
draw_again (gpointer data)
{
  const Work *work = data;
  const Picture *same = work->same;
  guint wrong = 0;

  for (guint i = 0; i < work->turns; i++)
    {
      Picture again = *same;
      gsize size;

      again.surface = cairo_image_surface_create (CAIRO_FORMAT_ARGB32, same->width, same->height);
      picture_draw (&again, NULL);
      size = (gsize) cairo_image_surface_get_stride (again.surface) * (gsize) same->height;
      wrong += memcmp (cairo_image_surface_get_data (again.surface),
                       cairo_image_surface_get_data (same->surface), size) != 0;
      cairo_surface_destroy (again.surface);
    }

  return GUINT_TO_POINTER (wrong);
}

/* Two threads each draw two hats that they share: the same dots as before. */
static void
test_threads (void)
{
  g_autoptr (BwGrading) grading = family_demo (reference, "lugger");
  Picture pictures[2];
  GThread *threads[4];
  Work work[2];

  for (guint i = 0; i < 2; i++)
    {
      picture_init (&pictures[i], grading, 2 + i, 3, FALSE, NULL);
      work[i] = (Work) { &pictures[i], 8 };
    }
  for (guint i = 0; i < G_N_ELEMENTS (threads); i++)
    threads[i] = g_thread_new ("draw", draw_again, &work[i % 2]);
  for (guint i = 0; i < G_N_ELEMENTS (threads); i++)
    g_assert_cmpuint (GPOINTER_TO_UINT (g_thread_join (threads[i])), ==, 0);
  for (guint i = 0; i < 2; i++)
    picture_clear (&pictures[i]);
}

static cairo_status_t
append_cb (void                *closure,
           const unsigned char *data,
           unsigned int         length)
{
  g_string_append_len (closure, (const char *) data, length);
  return CAIRO_STATUS_SUCCESS;
}

/* Drawing operations in a picture, counted in Cairo's own script of it. */
static guint
count_operations (const BwHatDrawing *drawing,
                  double              scale)
{
  static const char *const operations[] = { "\nfill", "\nstroke", "\npaint", "\nmask", "\nclip" };
  g_autoptr (GString) script = g_string_new (NULL);
  cairo_device_t *device = cairo_script_create_for_stream (append_cb, script);
  cairo_surface_t *surface = cairo_script_surface_create (device, CAIRO_CONTENT_COLOR_ALPHA,
                                                          1000, 1000);
  cairo_t *cr = cairo_create (surface);
  guint n = 0;

  cairo_scale (cr, scale, -scale);
  bw_hat_drawing_draw_side (drawing, cr, NULL);
  cairo_destroy (cr);
  cairo_surface_destroy (surface);
  cairo_device_finish (device);
  cairo_device_destroy (device);
  for (guint i = 0; i < G_N_ELEMENTS (operations); i++)
    for (const char *at = script->str; (at = strstr (at, operations[i])) != NULL; at++)
      n++;

  g_assert_cmpuint (n, >, 0);
  return n;
}

/* Thirty sizes at once: the operations go with the rounds, a handful for each,
 * however many stitches a round has. */
static void
test_operations (void)
{
  g_autofree char *text = family_text ("data/designs", "large");
  g_autoptr (BwGrading) grading = family_grade (reference, text);
  guint small = 0, large = 0, rounds = 0;

  g_assert_cmpuint (grading->sizes->len, ==, 30);
  for (guint k = 0; k < grading->sizes->len; k++)
    {
      BwHatDrawing *drawing = bw_hat_drawing_new (grading, k);

      small += count_operations (drawing, 0.4);
      large += count_operations (drawing, 4);
      rounds += family_size (grading, k)->n_rounds;
      bw_hat_drawing_free (drawing);
    }
  g_test_message ("30 sizes, %u rounds: %u operations small, %u large", rounds, small, large);
  g_assert_cmpuint (small, <=, 3 * rounds + 30 * 20);
  g_assert_cmpuint (large, <=, 6 * rounds + 30 * 20);
}

/* --- Pictures to look at --- */

static void
write_family (const BwGrading *grading,
              const char      *name,
              guint32          ground,
              guint32          ink)
{
  g_autofree char *folder = g_test_build_filename (G_TEST_BUILT, "publish", "pictures", NULL);
  g_autofree char *path = g_strdup_printf ("%s/%s-%06x.png", folder, name, ground);
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_RGB24, 1600, 420);
  cairo_t *cr = cairo_create (surface);
  BwHatStyle style = BW_HAT_STYLE_DEFAULT;
  double x = MARGIN;

  g_assert_cmpint (g_mkdir_with_parents (folder, 0755), ==, 0);
  style.ink = ink;
  style.line_mm = 0.8;
  bw_rgb_source (cr, ground, 1);
  cairo_paint (cr);
  cairo_translate (cr, 0, 400);
  cairo_scale (cr, 1.1, -1.1);
  for (guint k = 0; k < grading->sizes->len; k++)
    {
      BwHatDrawing *drawing = bw_hat_drawing_new (grading, k);

      x += bw_hat_drawing_width (drawing) / 2;
      cairo_save (cr);
      cairo_translate (cr, x, 0);
      bw_hat_drawing_draw_side (drawing, cr, &style);
      cairo_restore (cr);
      x += bw_hat_drawing_width (drawing) / 2 + MARGIN;
      bw_hat_drawing_free (drawing);
    }
  g_assert_cmpint (cairo_status (cr), ==, CAIRO_STATUS_SUCCESS);
  cairo_destroy (cr);
  g_assert_cmpint (cairo_surface_write_to_png (surface, path), ==, CAIRO_STATUS_SUCCESS);
  cairo_surface_destroy (surface);
}

static void
test_pictures (void)
{
  for (guint f = 0; f < G_N_ELEMENTS (demo_families); f++)
    {
      g_autoptr (BwGrading) grading = family_demo (reference, demo_families[f]);

      write_family (grading, demo_families[f], 0xffffff, 0x202020);
      write_family (grading, demo_families[f], 0x1e1e1e, 0xc8c8c8);
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

  g_test_add_func ("/hat-drawing/extents", test_extents);
  g_test_add_func ("/hat-drawing/rounds", test_rounds);
  g_test_add_func ("/hat-drawing/colours", test_colours);
  g_test_add_func ("/hat-drawing/lit", test_lit);
  g_test_add_func ("/hat-drawing/hatch", test_hatch);
  g_test_add_func ("/hat-drawing/hits", test_hits);
  g_test_add_func ("/hat-drawing/brim-hits", test_brim_hits);
  g_test_add_func ("/hat-drawing/crown-hits", test_crown_hits);
  g_test_add_func ("/hat-drawing/bounds", test_bounds);
  g_test_add_func ("/hat-drawing/patterns", test_patterns);
  g_test_add_func ("/hat-drawing/threads", test_threads);
  g_test_add_func ("/hat-drawing/operations", test_operations);
  g_test_add_func ("/hat-drawing/pictures", test_pictures);

  status = g_test_run ();
  bw_reference_free (reference);
  cairo_debug_reset_static_data ();
  return status;
}
