#include <glib.h>
#include <math.h>

#include "bw-silhouette.h"

#define HEIGHT 8.0

/* A size of nothing but rounds, as much as the outline needs. */
typedef struct
{
  BwGradedSize size;
  BwRoundList  list;
} Hat;

static void
hat_init (Hat *hat)
{
  *hat = (Hat) { 0 };
  hat->list.rounds = g_array_new (FALSE, TRUE, sizeof (BwRound));
  hat->size.rounds = &hat->list;
}

static void
hat_clear (Hat *hat)
{
  g_array_unref (hat->list.rounds);
}

static void
hat_add (Hat       *hat,
         BwSection  section,
         gboolean   row,
         double     radius_mm)
{
  BwRound round = { 0 };

  round.section = (guint8) section;
  round.row = row;
  round.girth_mm = 2 * G_PI * radius_mm;
  round.round_mm = HEIGHT;
  g_array_append_val (hat->list.rounds, round);
}

static void
assert_point (const GArray *points,
              guint         index,
              double        radius_mm,
              double        height_mm,
              double        fullness,
              guint         round)
{
  const BwSilhouettePoint *point = &g_array_index (points, BwSilhouettePoint, index);

  g_assert_cmpfloat_with_epsilon (point->radius_mm, radius_mm, 1e-9);
  g_assert_cmpfloat_with_epsilon (point->height_mm, height_mm, 1e-9);
  g_assert_cmpfloat_with_epsilon (point->fullness, fullness, 1e-9);
  g_assert_cmpuint (point->round, ==, round);
}

static void
test_tube (void)
{
  g_autoptr (GArray) points = NULL;
  Hat hat;

  hat_init (&hat);
  for (guint i = 0; i < 3; i++)
    hat_add (&hat, BW_SECTION_BAND, FALSE, 80);
  points = bw_silhouette (&hat.size);

  g_assert_cmpuint (points->len, ==, 4);
  assert_point (points, 0, 80, 0, 1, 0);
  for (guint i = 0; i < 3; i++)
    assert_point (points, i + 1, 80, (i + 1) * HEIGHT, 1, i);
  hat_clear (&hat);
}

/* A cone and a flat top: the slope is the fabric, so height and radius make a
 * right angle. */
static void
test_cone_and_disc (void)
{
  g_autoptr (GArray) points = NULL;
  const double rise = sqrt (HEIGHT * HEIGHT - 4.8 * 4.8);
  Hat hat;

  hat_init (&hat);
  hat_add (&hat, BW_SECTION_BAND, FALSE, 40);
  hat_add (&hat, BW_SECTION_CROWN, FALSE, 40 - 4.8);
  hat_add (&hat, BW_SECTION_CROWN, FALSE, 40 - 4.8 - HEIGHT);
  hat_add (&hat, BW_SECTION_CLOSE, FALSE, 0);
  points = bw_silhouette (&hat.size);

  g_assert_cmpuint (points->len, ==, 5);
  assert_point (points, 1, 40, HEIGHT, 1, 0);
  assert_point (points, 2, 35.2, HEIGHT + rise, 1, 1);
  assert_point (points, 3, 27.2, HEIGHT + rise, 1, 2);
  assert_point (points, 4, 0, HEIGHT + rise, 1, 3);
  hat_clear (&hat);
}

/* Twice the stitches at once cannot lie flat: they ruffle. */
static void
test_ruffle (void)
{
  g_autoptr (GArray) points = NULL;
  Hat hat;

  hat_init (&hat);
  hat_add (&hat, BW_SECTION_BAND, FALSE, 40);
  hat_add (&hat, BW_SECTION_BAND, FALSE, 80);
  points = bw_silhouette (&hat.size);

  assert_point (points, 1, 40, HEIGHT, 1, 0);
  assert_point (points, 2, 40 + HEIGHT, HEIGHT, 80 / (40 + HEIGHT), 1);
  hat_clear (&hat);
}

/* Half the stitches at once draw in the round below them, and that the next. */
static void
test_gather (void)
{
  g_autoptr (GArray) points = NULL;
  Hat hat;

  hat_init (&hat);
  for (guint i = 0; i < 3; i++)
    hat_add (&hat, BW_SECTION_BAND, FALSE, 80);
  hat_add (&hat, BW_SECTION_CROWN, FALSE, 60);
  points = bw_silhouette (&hat.size);

  assert_point (points, 2, 76, 2 * HEIGHT - HEIGHT + sqrt (HEIGHT * HEIGHT - 16), 80.0 / 76, 1);
  assert_point (points, 3, 68, g_array_index (points, BwSilhouettePoint, 2).height_mm, 80.0 / 68,
                2);
  assert_point (points, 4, 60, g_array_index (points, BwSilhouettePoint, 2).height_mm, 1, 3);
  hat_clear (&hat);
}

/* Rows of a sideways brim stand side by side: one step, as high as the brim. */
static void
test_sideways_brim (void)
{
  g_autoptr (GArray) points = NULL;
  Hat hat;

  hat_init (&hat);
  hat.size.brim_mm = 2 * G_PI * 70;
  hat.size.brim_height_mm = 50;
  for (guint i = 0; i < 6; i++)
    hat_add (&hat, BW_SECTION_BRIM, TRUE, 0);
  hat_add (&hat, BW_SECTION_JOIN, FALSE, 0);
  hat_add (&hat, BW_SECTION_PICK_UP, FALSE, 74);
  points = bw_silhouette (&hat.size);

  g_assert_cmpuint (points->len, ==, 3);
  assert_point (points, 0, 70, 0, 1, 0);
  assert_point (points, 1, 70, 50, 1, 6);
  assert_point (points, 2, 74, 50 + sqrt (HEIGHT * HEIGHT - 16), 1, 7);
  hat_clear (&hat);
}

static void
test_nothing (void)
{
  g_autoptr (GArray) points = NULL;
  Hat hat;

  hat_init (&hat);
  points = bw_silhouette (&hat.size);
  g_assert_cmpuint (points->len, ==, 0);
  hat_clear (&hat);
}

/* Whatever the rounds: never wider than the stitches, never steeper than the
 * fabric, never downwards. */
static void
test_random (void)
{
  for (guint turn = 0; turn < 500; turn++)
    {
      g_autoptr (GArray) points = NULL;
      guint n = (guint) g_test_rand_int_range (1, 40);
      Hat hat;

      hat_init (&hat);
      for (guint i = 0; i < n; i++)
        hat_add (&hat, BW_SECTION_BAND, FALSE, g_test_rand_double_range (5, 90));
      points = bw_silhouette (&hat.size);
      g_assert_cmpuint (points->len, ==, n + 1);
      for (guint i = 1; i <= n; i++)
        {
          const BwSilhouettePoint *below = &g_array_index (points, BwSilhouettePoint, i - 1);
          const BwSilhouettePoint *point = &g_array_index (points, BwSilhouettePoint, i);
          double slope = hypot (point->radius_mm - below->radius_mm,
                                point->height_mm - below->height_mm);

          g_assert_cmpfloat_with_epsilon (slope, HEIGHT, 1e-6);
          g_assert_cmpfloat (point->height_mm, >=, below->height_mm);
          g_assert_cmpfloat (point->fullness, >, 1 - 1e-9);
        }
      hat_clear (&hat);
    }
}

int
main (int   argc,
      char *argv[])
{
  g_test_init (&argc, &argv, NULL);

  g_test_add_func ("/silhouette/tube", test_tube);
  g_test_add_func ("/silhouette/cone-and-disc", test_cone_and_disc);
  g_test_add_func ("/silhouette/ruffle", test_ruffle);
  g_test_add_func ("/silhouette/gather", test_gather);
  g_test_add_func ("/silhouette/sideways-brim", test_sideways_brim);
  g_test_add_func ("/silhouette/nothing", test_nothing);
  g_test_add_func ("/silhouette/random", test_random);

  return g_test_run ();
}
