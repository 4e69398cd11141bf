#include <cairo.h>
#include <glib.h>
#include <string.h>

#include "bw-reference-builtin.h"
#include "bw-symbol.h"

/* Symbols: the whole dictionary has them, no two look alike, and the plain ones have
 * the marks that the published symbol lists give them. */

#define SIDE 160
#define CELL 40.0

static BwReference *reference;

static const BwStitch *
stitch_at (guint i)
{
  return bw_stitch_get (reference->stitches, (BwStitchIndex) i);
}

/* Black on white, so large that no stroke is lost. */
static cairo_surface_t *
draw (const BwSymbol *symbol,
      guint           takes,
      guint           makes,
      BwLoop          loop,
      gboolean        deep)
{
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_A8, SIDE, SIDE);
  cairo_t *cr = cairo_create (surface);
  BwSymbolPlace place = { .cell = CELL, .line = 2, .loop = loop, .deep = deep, .floor = 80 };
  double height = bw_symbol_height (symbol) * CELL;

  place.n_feet = MAX (takes, 1);
  place.n_tops = MAX (makes, 1);
  for (guint i = 0; i < place.n_feet; i++)
    place.feet[i] = (BwSymbolPoint) { SIDE / 2 - (i - (place.n_feet - 1) / 2.0) * CELL * 0.6,
                                      deep ? 140 : 80 + height / 2 };
  for (guint i = 0; i < place.n_tops; i++)
    place.tops[i] = (BwSymbolPoint) { SIDE / 2 - (i - (place.n_tops - 1) / 2.0) * CELL * 0.6,
                                      deep ? 30 : 80 - height / 2 };
  bw_symbol_draw (cr, symbol, &place);
  cairo_destroy (cr);
  cairo_surface_flush (surface);
  return surface;
}

static guint
count_ink (cairo_surface_t *surface)
{
  const unsigned char *data = cairo_image_surface_get_data (surface);
  guint n = 0;

  for (int y = 0; y < SIDE; y++)
    for (int x = 0; x < SIDE; x++)
      n += data[y * cairo_image_surface_get_stride (surface) + x] > 127;

  return n;
}

static guint
count_difference (cairo_surface_t *a,
                  cairo_surface_t *b)
{
  const unsigned char *p = cairo_image_surface_get_data (a);
  const unsigned char *q = cairo_image_surface_get_data (b);
  int stride = cairo_image_surface_get_stride (a);
  guint n = 0;

  for (int y = 0; y < SIDE; y++)
    for (int x = 0; x < SIDE; x++)
      n += ABS ((int) p[y * stride + x] - (int) q[y * stride + x]) > 127;

  return n;
}

/* A stitch that is added to the dictionary without a symbol that can be drawn is seen
 * here. Only what makes no stitch may leave its place empty. */
static void
test_complete (void)
{
  for (guint i = 0; i < bw_stitch_dictionary_size (reference->stitches); i++)
    {
      const BwStitch *stitch = stitch_at (i);
      BwSymbol symbol;

      if (!bw_symbol_parse (stitch->symbol, &symbol))
        g_error ("[%s] there is no symbol “%s”", stitch->id, stitch->symbol);
      g_assert_true ((symbol.form == BW_SYMBOL_NONE) == (stitch->makes == 0));
      if (symbol.stems > 1)
        g_assert_cmpuint (symbol.stems, ==, stitch->takes);
      if (stitch->makes > 0)
        {
          cairo_surface_t *drawn = draw (&symbol, stitch->takes, stitch->makes, BW_LOOP_BOTH,
                                         FALSE);

          g_assert_cmpuint (count_ink (drawn), >, 40);
          cairo_surface_destroy (drawn);
        }
    }
}

/* A post stitch has a hook on the right side of the stem, and nothing else has. */
static void
test_posts (void)
{
  for (guint i = 0; i < bw_stitch_dictionary_size (reference->stitches); i++)
    {
      const BwStitch *stitch = stitch_at (i);
      BwSymbol symbol;

      g_assert_true (bw_symbol_parse (stitch->symbol, &symbol));
      g_assert_cmpint (symbol.post, ==,
                       stitch->anchor == BW_ANCHOR_FRONT_POST ? BW_SYMBOL_FRONT_POST
                       : stitch->anchor == BW_ANCHOR_BACK_POST ? BW_SYMBOL_BACK_POST
                                                               : BW_SYMBOL_NO_POST);
    }
}

static cairo_surface_t *
draw_stitch (const BwStitch *stitch,
             BwLoop          loop,
             gboolean        deep)
{
  BwSymbol symbol;

  g_assert_true (bw_symbol_parse (stitch->symbol, &symbol));
  return draw (&symbol, stitch->takes, stitch->makes, loop, deep);
}

static void
assert_distinct (GPtrArray  *drawn,
                 const char *what)
{
  for (guint i = 0; i < drawn->len; i++)
    for (guint j = 0; j < i; j++)
      if (count_difference (drawn->pdata[i], drawn->pdata[j]) < 24)
        g_error ("%s: symbols %u and %u of the dictionary look alike", what, i, j);
}

/* No two stitches look alike, nor a stitch in one loop and in both, nor a post stitch
 * that goes deep and one that does not. */
static void
test_distinct (void)
{
  g_autoptr (GPtrArray) plain =
    g_ptr_array_new_with_free_func ((GDestroyNotify) cairo_surface_destroy);
  g_autoptr (GPtrArray) deep =
    g_ptr_array_new_with_free_func ((GDestroyNotify) cairo_surface_destroy);

  for (guint i = 0; i < bw_stitch_dictionary_size (reference->stitches); i++)
    {
      const BwStitch *stitch = stitch_at (i);
      g_autoptr (GPtrArray) loops = NULL;

      if (stitch->makes == 0)
        continue;
      g_ptr_array_add (plain, draw_stitch (stitch, BW_LOOP_BOTH, FALSE));
      if (stitch->takes == 0)
        continue;

      loops = g_ptr_array_new_with_free_func ((GDestroyNotify) cairo_surface_destroy);
      for (guint loop = BW_LOOP_BOTH; loop <= BW_LOOP_FRONT; loop++)
        g_ptr_array_add (loops, draw_stitch (stitch, (BwLoop) loop, FALSE));
      assert_distinct (loops, stitch->id);
      if (stitch->anchor == BW_ANCHOR_FRONT_POST || stitch->anchor == BW_ANCHOR_BACK_POST ||
          stitch->anchor == BW_ANCHOR_BASE)
        g_ptr_array_add (deep, draw_stitch (stitch, BW_LOOP_BOTH, TRUE));
    }

  assert_distinct (plain, "stitches");
  assert_distinct (deep, "deep stitches");
}

/* Strokes on the line from x0 to x1 at y: runs of ink. */
static guint
count_runs (cairo_surface_t *surface,
            int              y)
{
  const unsigned char *data = cairo_image_surface_get_data (surface);
  const unsigned char *row = data + y * cairo_image_surface_get_stride (surface);
  guint n = 0;

  for (int x = 1; x < SIDE; x++)
    n += row[x] > 127 && row[x - 1] <= 127;

  return n;
}

/* Ink left of the stem, as marks counted upwards: each stroke across it gives one. */
static guint
count_marks_beside_stem (cairo_surface_t *surface)
{
  const unsigned char *data = cairo_image_surface_get_data (surface);
  int stride = cairo_image_surface_get_stride (surface);
  guint n = 0;

  for (int y = 1; y < SIDE; y++)
    {
      int x = SIDE / 2 - 5;

      n += data[y * stride + x] > 127 && data[(y - 1) * stride + x] <= 127;
    }

  return n;
}

/* The published marks: chain an open oval, slip stitch filled, UK double crochet a cross,
 * half treble a T, and one stroke more across the stem for each taller stitch. Sources:
 * "Crochet Pattern Symbols", crochetzen.com/blog/crochet-pattern-symbols/ and "Crochet
 * Chart Symbols", www.cozycrochet.ca/crochet-chart-symbols/, both read. */
static void
test_published_forms (void)
{
  static const struct { const char *id; guint marks; } stems[] = {
    { "low", 1 }, { "mid", 1 }, { "tall", 2 }, { "taller", 3 }, { "tallest", 4 },
  };
  BwStitchIndex chain = bw_stitch_find (reference->stitches, "chain");
  BwStitchIndex slip = bw_stitch_find (reference->stitches, "slip");
  cairo_surface_t *drawn = draw_stitch (stitch_at (chain), BW_LOOP_BOTH, FALSE);

  g_assert_cmpuint (count_runs (drawn, SIDE / 2), ==, 2); /* open */
  cairo_surface_destroy (drawn);
  drawn = draw_stitch (stitch_at (slip), BW_LOOP_BOTH, FALSE);
  g_assert_cmpuint (count_runs (drawn, SIDE / 2), ==, 1); /* filled */
  cairo_surface_destroy (drawn);

  for (guint i = 0; i < G_N_ELEMENTS (stems); i++)
    {
      BwStitchIndex index = bw_stitch_find (reference->stitches, stems[i].id);

      drawn = draw_stitch (stitch_at (index), BW_LOOP_BOTH, FALSE);
      g_test_message ("%s", stems[i].id);
      g_assert_cmpuint (count_marks_beside_stem (drawn), ==, stems[i].marks);
      cairo_surface_destroy (drawn);
    }
}

/* Stems of a decrease meet at the top, and stand on so many feet. */
static void
test_decreases (void)
{
  for (guint i = 0; i < bw_stitch_dictionary_size (reference->stitches); i++)
    {
      const BwStitch *stitch = stitch_at (i);
      cairo_surface_t *drawn;
      BwSymbol symbol;
      int bottom;

      if (stitch->takes < 2 || stitch->makes != 1)
        continue;
      g_assert_true (bw_symbol_parse (stitch->symbol, &symbol));
      if (symbol.post != BW_SYMBOL_NO_POST)
        continue;
      drawn = draw_stitch (stitch, BW_LOOP_BOTH, FALSE);
      bottom = (int) (80 + bw_symbol_height (&symbol) * CELL / 2) - 5;
      g_test_message ("%s", stitch->id);
      g_assert_cmpuint (count_runs (drawn, bottom), ==, stitch->takes);
      cairo_surface_destroy (drawn);
    }
}

static void
test_names (void)
{
  static const char *const wrong[] = {
    "", "tee-", "tee-0", "tee-9", "tee-1-tog1", "tee-x", "cross-tog", "oval-tog2", "post-tee-1",
    "front-post-oval", "front-post-", "tee-1-tog2-tog2", "bobble-1", "xtee-1",
  };
  BwSymbol symbol;

  for (guint i = 0; i < G_N_ELEMENTS (wrong); i++)
    {
      g_test_message ("%s", wrong[i]);
      g_assert_false (bw_symbol_parse (wrong[i], &symbol));
    }

  g_assert_true (bw_symbol_parse ("back-post-tee-4-tog5", &symbol));
  g_assert_cmpuint (symbol.form, ==, BW_SYMBOL_TEE);
  g_assert_cmpuint (symbol.bars, ==, 4);
  g_assert_cmpuint (symbol.stems, ==, 5);
  g_assert_cmpuint (symbol.post, ==, BW_SYMBOL_BACK_POST);
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

  g_test_add_func ("/symbol/complete", test_complete);
  g_test_add_func ("/symbol/posts", test_posts);
  g_test_add_func ("/symbol/distinct", test_distinct);
  g_test_add_func ("/symbol/published-forms", test_published_forms);
  g_test_add_func ("/symbol/decreases", test_decreases);
  g_test_add_func ("/symbol/names", test_names);

  status = g_test_run ();
  bw_reference_free (reference);
  return status;
}
