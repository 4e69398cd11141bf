#include <glib.h>

#include "bw-stitch-layout.h"
#include "family.h"

/* Every stitch of a round has its place: what a turn takes and makes, times the
 * turns, is what the round takes and makes by the core's own reckoning. */

static BwReference *reference;

static void
check (const BwItem *items,
       gsize         n_items)
{
  BwStitchLayout layout;
  guint64 takes, makes;
  guint top = 0;

  g_assert_true (bw_items_measure (reference->stitches, items, n_items, &takes, &makes));
  bw_stitch_layout_init (&layout);
  bw_stitch_layout_set (&layout, reference->stitches, items, n_items);
  g_assert_cmpuint (layout.turns * layout.takes, ==, takes);
  g_assert_cmpuint (layout.turns * layout.makes, ==, makes);

  for (guint i = 0; i < layout.stitches->len; i++)
    {
      const BwPlacedStitch *placed = &g_array_index (layout.stitches, BwPlacedStitch, i);

      g_assert_cmpuint (placed->top, ==, top);
      g_assert_cmpuint (placed->base + placed->takes, <=, MAX (layout.takes, placed->takes));
      top += placed->makes;
    }
  g_assert_cmpuint (top, ==, layout.makes);
  bw_stitch_layout_clear (&layout);
}

static void
test_demo_rounds (void)
{
  for (guint f = 0; f < G_N_ELEMENTS (demo_families); f++)
    {
      g_autoptr (BwGrading) grading = family_demo (reference, demo_families[f]);

      for (guint k = 0; k < grading->sizes->len; k++)
        {
          const BwRoundList *list = family_size (grading, k)->rounds;

          for (guint i = 0; i < list->rounds->len; i++)
            {
              const BwRound *round = &g_array_index (list->rounds, BwRound, i);

              check (bw_round_items (list, round), round->n_items);
            }
        }
    }
}

/* The items of a pattern's round, bound to six repeats. */
static void
test_patterns (void)
{
  guint available;

  for (guint f = 0; f < reference->fabrics->fabrics->len; f++)
    {
      const BwFabric *fabric = g_ptr_array_index (reference->fabrics->fabrics, f);

      available = 6 * fabric->multiple + fabric->offset;
      for (guint r = 0; r < fabric->n_start + fabric->n_rounds; r++)
        {
          guint n;
          const BwItem *items = bw_fabric_round_items (fabric, r, &n);
          g_autofree BwItem *bound = g_memdup2 (items, n * sizeof *items);
          g_autoptr (GError) error = NULL;
          guint64 takes, makes;

          g_assert_true (bw_items_bind (reference->stitches, bound, n, available, &error));
          g_assert_no_error (error);
          check (bound, n);
          g_assert_true (bw_items_measure (reference->stitches, bound, n, &takes, &makes));
          available = (guint) makes;
        }
    }
}

/* A turn of a repeat is laid out once, however often it is worked. */
static void
test_turn (void)
{
  BwStitchIndex low = bw_stitch_find (reference->stitches, "low");
  BwStitchIndex together = bw_stitch_find (reference->stitches, "low2tog");
  BwItem items[] = { bw_item_repeat (1000, 2), bw_item_each (low, 3), bw_item_each (together, 1) };
  BwStitchLayout layout;

  bw_stitch_layout_init (&layout);
  bw_stitch_layout_set (&layout, reference->stitches, items, G_N_ELEMENTS (items));
  g_assert_cmpuint (layout.turns, ==, 1000);
  g_assert_cmpuint (layout.stitches->len, ==, 4);
  g_assert_cmpuint (g_array_index (layout.stitches, BwPlacedStitch, 3).base, ==, 3);
  g_assert_cmpuint (g_array_index (layout.stitches, BwPlacedStitch, 3).takes, ==, 2);
  g_assert_cmpuint (g_array_index (layout.stitches, BwPlacedStitch, 3).top, ==, 3);
  bw_stitch_layout_clear (&layout);
}

/* However long a turn, no more is laid out than the limit. */
static void
test_limit (void)
{
  BwStitchIndex low = bw_stitch_find (reference->stitches, "low");
  BwItem items[] = { bw_item_each (low, BW_ITEM_COUNT_MAX), bw_item_each (low, 1) };
  BwStitchLayout layout;

  bw_stitch_layout_init (&layout);
  bw_stitch_layout_set (&layout, reference->stitches, items, G_N_ELEMENTS (items));
  g_assert_cmpuint (layout.stitches->len, ==, BW_STITCH_LAYOUT_MAX);
  bw_stitch_layout_clear (&layout);
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

  g_test_add_func ("/stitch-layout/demo-rounds", test_demo_rounds);
  g_test_add_func ("/stitch-layout/patterns", test_patterns);
  g_test_add_func ("/stitch-layout/turn", test_turn);
  g_test_add_func ("/stitch-layout/limit", test_limit);

  status = g_test_run ();
  bw_reference_free (reference);
  return status;
}
