#include <math.h>

#include "graded.h"
#include "library-fixture.h"

#include "bw-library-gauge.h"
#include "bw-library-yarn.h"

static void
add_yarn (Fixture    *fixture,
          const char *name)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (BwLibraryYarn) yarn = bw_library_yarn_new (name);

  g_assert_true (bw_library_save_yarn (fixture->library, yarn, &error));
  g_assert_no_error (error);
}

static gint64
add_swatch (Fixture         *fixture,
            const char      *yarn,
            double           hook_mm,
            const BwReading *readings,
            guint            n)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (BwLibrarySwatch) swatch = bw_library_swatch_new (yarn, hook_mm, "plain-low");

  for (guint i = 0; i < n; i++)
    bw_library_swatch_add_reading (swatch, &readings[i], "");
  g_assert_true (bw_library_save_swatch (fixture->library, swatch, &error));
  g_assert_no_error (error);

  return swatch->id;
}

static BwReading
across (double   count,
        double   span_mm,
        gboolean washed,
        BwLaid   laid)
{
  return (BwReading) { BW_READING_STITCHES, count, span_mm, washed, laid };
}

/* ---- the table -------------------------------------------------------------------- */

/* n readings of equal count whose sizes have exactly this standard deviation. */
static void
readings_with_spread (GRand     *rand,
                      guint      n,
                      double     spread,
                      BwReading *readings)
{
  double values[16], mean = 0.0, squares = 0.0;

  for (guint i = 0; i < n; i++)
    mean += values[i] = g_rand_double (rand);
  mean /= n;
  for (guint i = 0; i < n; i++)
    squares += (values[i] - mean) * (values[i] - mean);
  for (guint i = 0; i < n; i++)
    readings[i] = across (20, 130 * (1 + spread * (values[i] - mean) / sqrt (squares / (n - 1))),
                          TRUE, BW_LAID_RELAXED);
}

/* Half-widths of a 95 % interval, t s / sqrt n, in per cent; t from any table of
 * Student's distribution. Through the library and back, to 0.1. */
static void
test_half_widths (Fixture       *fixture,
                  gconstpointer  data)
{
  static const guint ns[] = { 3, 4, 5, 6, 8, 10 };
  static const double table[3][6] = {
    { 2.5, 1.6, 1.2, 1.0, 0.8, 0.7 },
    { 5.0, 3.2, 2.5, 2.1, 1.7, 1.4 },
    { 7.5, 4.8, 3.7, 3.1, 2.5, 2.1 },
  };
  g_autoptr (GRand) rand = g_rand_new_with_seed (1);
  BwTape exact = { 0.0, 0.0 };

  (void) data;
  for (guint row = 0; row < 3; row++)
    for (guint i = 0; i < G_N_ELEMENTS (ns); i++)
      {
        g_autofree char *yarn = g_strdup_printf ("Yarn %u-%u", row, i);
        g_autoptr (GError) error = NULL;
        BwSwatchSet set = { yarn, 4.0, (char *) "plain-low" };
        g_autoptr (BwLibraryGauge) gauge = NULL;
        BwReading readings[16];
        double percent;

        readings_with_spread (rand, ns[i], 0.01 * (row + 1), readings);
        add_yarn (fixture, yarn);
        add_swatch (fixture, yarn, 4.0, readings, ns[i]);
        gauge = bw_library_gauge (fixture->library, &set, &exact, &error);
        g_assert_no_error (error);
        g_assert_cmpfloat_with_epsilon (gauge->pool.gauge.stitch.mm, 6.5, 1e-9);
        g_assert_cmpfloat_with_epsilon (gauge->pool.stitch.within, 0.01 * (row + 1), 1e-9);
        percent = 100 * gauge->pool.gauge.stitch.U95 / gauge->pool.gauge.stitch.mm;
        g_assert_cmpfloat_with_epsilon (percent, table[row][i], 0.05001);
      }
}

/* ---- outliers, washing, stretch ----------------------------------------------------- */

static void
test_outlier (Fixture       *fixture,
              gconstpointer  data)
{
  const BwReading readings[] = {
    across (20, 127, TRUE, BW_LAID_RELAXED), across (20, 128, TRUE, BW_LAID_RELAXED),
    across (20, 126, TRUE, BW_LAID_RELAXED), across (20, 111, TRUE, BW_LAID_RELAXED),
    across (20, 127, TRUE, BW_LAID_RELAXED), across (20, 180, TRUE, BW_LAID_FULLY_STRETCHED),
  };
  BwSwatchSet set = { (char *) "Quay", 4.0, (char *) "plain-low" };
  BwTape tape = BW_TAPE_DEFAULT;
  g_autoptr (GError) error = NULL;
  g_autoptr (BwLibraryGauge) gauge = NULL;
  const BwSwatchOutlier *outlier;
  gint64 id;

  (void) data;
  add_yarn (fixture, "Quay");
  id = add_swatch (fixture, "Quay", 4.0, readings, G_N_ELEMENTS (readings));
  gauge = bw_library_gauge (fixture->library, &set, &tape, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (gauge->outliers->len, ==, 1);
  outlier = &g_array_index (gauge->outliers, BwSwatchOutlier, 0);
  g_assert_cmpint (outlier->swatch, ==, id);
  g_assert_cmpuint (outlier->number, ==, 4);
  g_assert_cmpfloat_with_epsilon (outlier->each_mm, 5.55, 1e-12);
  g_assert_cmpfloat_with_epsilon (outlier->median_mm, 6.35, 1e-12);

  /* told, and not dropped */
  g_assert_cmpuint (gauge->pool.gauge.stitch.n_readings, ==, 5);
  g_assert_cmpfloat_with_epsilon (gauge->pool.gauge.stitch.mm,
                                  (127 + 128 + 126 + 111 + 127) / 100.0, 1e-12);
}

static void
test_washed (Fixture       *fixture,
             gconstpointer  data)
{
  const BwReading readings[] = {
    across (20, 120, FALSE, BW_LAID_RELAXED),      across (20, 120, FALSE, BW_LAID_RELAXED),
    across (20, 126, TRUE, BW_LAID_RELAXED),       across (20, 126, TRUE, BW_LAID_RELAXED),
    across (20, 189, TRUE, BW_LAID_FULLY_STRETCHED),
  };
  BwSwatchSet set = { (char *) "quay", 4.0, (char *) "plain-low" };
  BwTape tape = BW_TAPE_DEFAULT;
  g_autoptr (GError) error = NULL;
  g_autoptr (BwLibraryGauge) gauge = NULL;

  (void) data;
  add_yarn (fixture, "Quay");
  add_swatch (fixture, "Quay", 4.0, readings, G_N_ELEMENTS (readings));
  gauge = bw_library_gauge (fixture->library, &set, &tape, &error);
  g_assert_no_error (error);
  g_assert_true (gauge->pool.gauge.washed);
  g_assert_cmpfloat_with_epsilon (gauge->pool.gauge.stitch.mm, 6.3, 1e-12);
  g_assert_cmpfloat_with_epsilon (gauge->pool.gauge.stitch_growth, 1.05, 1e-12);
  g_assert_cmpfloat_with_epsilon (gauge->pool.gauge.stitch_stretch, 1.5, 1e-12);
}

static void
test_missing (Fixture       *fixture,
              gconstpointer  data)
{
  BwSwatchSet set = { (char *) "Nothing", 4.0, (char *) "plain-low" };
  BwTape tape = BW_TAPE_DEFAULT;
  g_autoptr (GError) error = NULL;

  (void) data;
  g_assert_null (bw_library_gauge (fixture->library, &set, &tape, &error));
  g_assert_error (error, BW_LIBRARY_ERROR, BW_LIBRARY_ERROR_MISSING);
}

/* ---- hooks ------------------------------------------------------------------------------ */

/* Widths on a straight line over 4, 4.5 and 5 mm: an answer up to 1 mm beyond is
 * given, one further out is refused. */
static void
test_hooks (Fixture       *fixture,
            gconstpointer  data)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GArray) gauges = NULL;
  BwTape tape = BW_TAPE_DEFAULT;
  double hook_mm, interval;

  (void) data;
  add_yarn (fixture, "Quay");
  for (guint i = 0; i < 3; i++)
    {
      double hook = 4.0 + 0.5 * i;
      double width = 3.0 + 0.6 * hook;
      const BwReading readings[] = {
        across (20, 20 * width + (i == 1 ? 0.8 : -0.4), TRUE, BW_LAID_RELAXED),
        across (20, 20 * width + (i == 1 ? 0.8 : -0.4), TRUE, BW_LAID_RELAXED),
      };

      add_swatch (fixture, "Quay", hook, readings, 2);
    }

  gauges = bw_library_hook_gauges (fixture->library, "Quay", "plain-low", &tape, &error);
  g_assert_cmpuint (gauges->len, ==, 3);
  g_assert_cmpfloat (g_array_index (gauges, BwHookGauge, 2).hook_mm, ==, 5.0);

  g_assert_true (bw_library_suggest_hook (fixture->library, "Quay", "plain-low", 3.0 + 0.6 * 4.6,
                                          &hook_mm, &interval, &error));
  g_assert_no_error (error);
  g_assert_cmpfloat_with_epsilon (hook_mm, 4.6, 1e-9);
  g_assert_cmpfloat (interval, >, 0.0);
  g_assert_true (bw_library_suggest_hook (fixture->library, "Quay", "plain-low", 3.0 + 0.6 * 5.95,
                                          &hook_mm, &interval, &error));
  g_assert_cmpfloat_with_epsilon (hook_mm, 5.95, 1e-9);
  g_assert_false (bw_library_suggest_hook (fixture->library, "Quay", "plain-low", 3.0 + 0.6 * 6.05,
                                           &hook_mm, &interval, &error));
  g_assert_nonnull (error);
  g_clear_error (&error);
  g_assert_false (bw_library_suggest_hook (fixture->library, "Quay", "plain-low", 3.0 + 0.6 * 2.95,
                                           &hook_mm, &interval, &error));
  g_assert_nonnull (error);
}

/* ---- sets ---------------------------------------------------------------------------------- */

static void
test_set_names (void)
{
  static const char *const refused[] = { "", "Quay", "Quay / 4", "Quay / thick / plain-low",
                                         "a / 4 / b / c" };
  g_autofree char *name = bw_swatch_set_format ("Quay Merino", 4.5, "plain-low");
  g_auto (BwSwatchSet) set = { 0 };
  g_autoptr (GError) error = NULL;

  g_assert_cmpstr (name, ==, "Quay Merino / 4.5 / plain-low");
  g_assert_true (bw_swatch_set_parse (name, &set, &error));
  g_assert_cmpstr (set.yarn, ==, "Quay Merino");
  g_assert_cmpfloat (set.hook_mm, ==, 4.5);
  g_assert_cmpstr (set.fabric, ==, "plain-low");
  bw_swatch_set_clear (&set);
  g_assert_true (bw_swatch_set_parse ("Quay / 4,5 mm / plain-low", &set, &error));
  g_assert_cmpfloat (set.hook_mm, ==, 4.5);

  for (gsize i = 0; i < G_N_ELEMENTS (refused); i++)
    {
      BwSwatchSet unused = { 0 };

      g_assert_false (bw_swatch_set_parse (refused[i], &unused, &error));
      g_assert_nonnull (error);
      g_clear_error (&error);
    }
}

/* ---- grading from the library -------------------------------------------- */

static double
graded_girth (Fixture  *fixture,
              BwDesign *design)
{
  g_autoptr (BwDesign) copy = bw_design_copy (design);
  g_autoptr (BwGrading) grading = NULL;
  g_autoptr (GError) error = NULL;

  g_assert_true (bw_library_resolve_swatches (fixture->library, copy, &error));
  g_assert_no_error (error);
  grading = grade (fixture->reference, copy);

  return grading->body_gauge.stitch.mm;
}

/* A design that names a set is graded by it, and a new reading moves it. */
static void
test_resolve (Fixture       *fixture,
              gconstpointer  data)
{
  g_autoptr (BwDesign) design = read_design (fixture->reference, "oracle.hat");
  g_autoptr (BwDesign) back = NULL;
  BwSwatch *body = (BwSwatch *) bw_design_find_swatch (design, design->body_swatch);
  BwReading readings[] = {
    across (15, 100.0, TRUE, BW_LAID_RELAXED),
    across (15, 100.4, TRUE, BW_LAID_RELAXED),
    { BW_READING_ROUNDS, 11.5, 100.0, TRUE, BW_LAID_RELAXED },
    { BW_READING_ROUNDS, 11.5, 100.2, TRUE, BW_LAID_RELAXED },
  };
  BwReading another = across (15, 103.0, TRUE, BW_LAID_RELAXED);
  g_autoptr (BwLibrarySwatch) swatch = NULL;
  g_autoptr (GError) error = NULL;
  double before, after;
  gint64 id, design_id;

  (void) data;
  add_yarn (fixture, "Quay");
  id = add_swatch (fixture, "Quay", 5.0, readings, G_N_ELEMENTS (readings));
  g_free (body->from);
  body->from = bw_swatch_set_format ("Quay", 5.0, "plain-low");
  g_assert_true (bw_library_add (fixture->library, design, &design_id, &error));
  back = bw_library_load (fixture->library, design_id, NULL, &error);

  before = graded_girth (fixture, back);
  g_assert_cmpfloat_with_epsilon (before, 200.4 / 30, 1e-9);

  swatch = bw_library_get_swatch (fixture->library, id, &error);
  bw_library_swatch_add_reading (swatch, &another, "cuff");
  g_assert_true (bw_library_save_swatch (fixture->library, swatch, &error));
  after = graded_girth (fixture, back);
  g_assert_cmpfloat_with_epsilon (after, 303.4 / 45, 1e-9);

  /* a second swatch that differs: each counts as one, and the gauge is less sure */
  {
    const BwReading tight[] = { across (15, 95.0, TRUE, BW_LAID_RELAXED),
                                across (15, 95.2, TRUE, BW_LAID_RELAXED) };

    add_swatch (fixture, "Quay", 5.0, tight, 2);
    g_assert_cmpfloat_with_epsilon (graded_girth (fixture, back), (303.4 / 3 + 95.1) / 30, 1e-9);
  }

  body = (BwSwatch *) bw_design_find_swatch (back, back->body_swatch);
  g_free (body->from);
  body->from = g_strdup ("Quay / 9 / plain-low");
  g_assert_false (bw_library_resolve_swatches (fixture->library, back, &error));
  g_assert_error (error, BW_LIBRARY_ERROR, BW_LIBRARY_ERROR_MISSING);
}

/* ---- yarns and swatches as they are kept --------------------------------- */

static void
test_yarn (Fixture       *fixture,
           gconstpointer  data)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (BwLibraryYarn) yarn = bw_library_yarn_new ("Harbour Wool");
  g_autoptr (BwLibraryYarn) back = NULL;
  g_autoptr (BwLibraryYarn) twin = bw_library_yarn_new ("Harbour Wool");
  g_autoptr (GPtrArray) found = NULL;

  (void) data;
  yarn->weight_class = 4;
  yarn->metres_per_ball = 200;
  yarn->price_per_ball = 7.5;
  bw_library_yarn_add_fibre (yarn, "wool", 75);
  bw_library_yarn_add_fibre (yarn, "alpaca", 20);
  g_assert_false (bw_library_save_yarn (fixture->library, yarn, &error));
  g_assert_error (error, BW_LIBRARY_ERROR, BW_LIBRARY_ERROR_INVALID);
  g_clear_error (&error);
  g_assert_cmpint (yarn->id, ==, 0);

  bw_library_yarn_add_fibre (yarn, "nylon", 5);
  bw_library_yarn_add_lot (yarn, "A17", "Tar", 6.5);
  bw_library_yarn_add_lot (yarn, "B2", "Foam", 3);
  g_assert_true (bw_library_save_yarn (fixture->library, yarn, &error));
  g_assert_no_error (error);
  back = bw_library_get_yarn (fixture->library, yarn->id, &error);
  g_assert_cmpint (back->weight_class, ==, 4);
  g_assert_cmpuint (back->fibres->len, ==, 3);
  g_assert_cmpstr (g_array_index (back->fibres, BwFibre, 1).fibre, ==, "alpaca");
  g_assert_cmpuint (back->lots->len, ==, 2);
  g_assert_cmpfloat (g_array_index (back->lots, BwYarnLot, 0).balls, ==, 6.5);

  g_array_set_size (back->lots, 1);
  g_assert_true (bw_library_save_yarn (fixture->library, back, &error));
  g_clear_pointer (&back, bw_library_yarn_free);
  back = bw_library_get_yarn (fixture->library, yarn->id, &error);
  g_assert_cmpuint (back->lots->len, ==, 1);

  g_assert_false (bw_library_save_yarn (fixture->library, twin, &error));
  g_assert_error (error, BW_LIBRARY_ERROR, BW_LIBRARY_ERROR_INVALID);
  g_clear_error (&error);
  found = bw_library_list_yarns (fixture->library, "alpa", &error);
  g_assert_cmpuint (found->len, ==, 1);
  g_assert_cmpint (sql_result (fixture->path, "INSERT INTO yarn_fibre VALUES (1, 9, 'silk', 1)"),
                   ==, SQLITE_CONSTRAINT);
  g_assert_cmpint (sql_result (fixture->path, "UPDATE yarn SET weight_class = 8"), ==,
                   SQLITE_CONSTRAINT);
  assert_sound (fixture->library);
}

static void
test_swatch (Fixture       *fixture,
             gconstpointer  data)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (BwLibrarySwatch) swatch = NULL;
  g_autoptr (BwLibrarySwatch) back = NULL;
  BwReading reading = across (20, 127, TRUE, BW_LAID_RELAXED);
  g_autofree char *big = g_malloc0 (BW_LIBRARY_PHOTO_MAX + 1);

  (void) data;
  add_yarn (fixture, "Quay");
  swatch = bw_library_swatch_new ("Nobody's", 4.0, "plain-low");
  g_assert_false (bw_library_save_swatch (fixture->library, swatch, &error));
  g_assert_error (error, BW_LIBRARY_ERROR, BW_LIBRARY_ERROR_MISSING);
  g_clear_error (&error);

  g_free (swatch->yarn);
  swatch->yarn = g_strdup ("Quay");
  g_free (swatch->lot);
  swatch->lot = g_strdup ("A17");
  bw_library_swatch_add_reading (swatch, &reading, "middle");
  swatch->photo = g_bytes_new_static (big, BW_LIBRARY_PHOTO_MAX + 1);
  g_assert_false (bw_library_save_swatch (fixture->library, swatch, &error));
  g_assert_error (error, BW_LIBRARY_ERROR, BW_LIBRARY_ERROR_INVALID);
  g_clear_error (&error);
  g_assert_cmpint (swatch->id, ==, 0);
  g_bytes_unref (swatch->photo);
  swatch->photo = g_bytes_new_static (big, BW_LIBRARY_PHOTO_MAX);
  g_assert_true (bw_library_save_swatch (fixture->library, swatch, &error));
  g_assert_no_error (error);

  back = bw_library_get_swatch (fixture->library, swatch->id, &error);
  g_assert_cmpstr (back->lot, ==, "A17");
  g_assert_true (g_bytes_equal (back->photo, swatch->photo));
  g_assert_cmpuint (back->readings->len, ==, 1);
  g_assert_false (bw_library_remove_yarn (fixture->library, 1, &error));
  g_assert_error (error, BW_LIBRARY_ERROR, BW_LIBRARY_ERROR_INVALID);
  g_clear_error (&error);
  g_assert_cmpint (sql_result (fixture->path,
                               "UPDATE swatch_photo SET bytes = NULL, path = '/etc/photo'"), ==,
                   SQLITE_CONSTRAINT);
  g_assert_cmpint (sql_result (fixture->path,
                               "UPDATE swatch_photo SET bytes = NULL, path = 'a/../../b'"), ==,
                   SQLITE_CONSTRAINT);
  g_assert_cmpint (sql_result (fixture->path, "UPDATE swatch SET made_on = '2023-02-29'"), ==,
                   SQLITE_CONSTRAINT);
  g_assert_true (bw_library_remove_swatch (fixture->library, swatch->id, &error));
  g_assert_false (bw_library_remove_swatch (fixture->library, swatch->id, &error));
  g_assert_error (error, BW_LIBRARY_ERROR, BW_LIBRARY_ERROR_MISSING);
  assert_sound (fixture->library);
}

int
main (int    argc,
      char **argv)
{
  g_test_init (&argc, &argv, NULL);

#define ADD(path, function) \
  g_test_add ("/library/gauge/" path, Fixture, NULL, fixture_set_up, function, fixture_tear_down)
  ADD ("half-widths", test_half_widths);
  ADD ("outlier", test_outlier);
  ADD ("washed", test_washed);
  ADD ("missing", test_missing);
  ADD ("hooks", test_hooks);
  g_test_add_func ("/library/gauge/set-names", test_set_names);
  ADD ("resolve", test_resolve);
  ADD ("yarn", test_yarn);
  ADD ("swatch", test_swatch);

  return g_test_run ();
}
