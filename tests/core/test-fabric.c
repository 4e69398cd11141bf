#include <glib.h>
#include <string.h>

#include "bw-anchor.h"
#include "bw-error.h"
#include "bw-notation.h"
#include "bw-reference-builtin.h"

static BwReference *reference;

/* The common stock that a designer expects to find. */
static void
test_stock (void)
{
  static const struct { const char *id; guint multiple, rounds, colours; } stock[] = {
    { "plain-low", 1, 1, 1 }, { "plain-mid", 1, 1, 1 }, { "plain-tall", 1, 1, 1 },
    { "plain-taller", 1, 1, 1 }, { "back-loop-low", 1, 1, 1 }, { "post-rib", 2, 1, 1 },
    { "raised-thirds", 3, 2, 2 }, { "raised-staggered", 4, 4, 2 }, { "linen", 2, 1, 1 },
    { "v-stitch", 3, 1, 1 }, { "shells", 6, 2, 1 }, { "bobble-grid", 4, 4, 1 },
    { "spikes", 4, 4, 2 }, { "basket", 6, 6, 1 }, { "waffle", 3, 2, 1 }, { "diagonal", 4, 4, 1 },
    { "slip-rib", 1, 1, 1 }, { "low-rib", 1, 1, 1 },
  };

  for (guint i = 0; i < G_N_ELEMENTS (stock); i++)
    {
      const BwFabric *fabric = bw_fabric_find (reference->fabrics, stock[i].id);

      g_assert_nonnull (fabric);
      g_assert_cmpuint (fabric->multiple, ==, stock[i].multiple);
      g_assert_cmpuint (fabric->n_rounds, ==, stock[i].rounds);
      g_assert_cmpuint (fabric->colours, ==, stock[i].colours);
      g_assert_nonnull (fabric->name_us);
    }
  g_assert_null (bw_fabric_find (reference->fabrics, "nothing"));
}

static void
test_heights (void)
{
  const BwFabric *rib = bw_fabric_find (reference->fabrics, "post-rib");
  const BwFabric *spikes = bw_fabric_find (reference->fabrics, "spikes");

  g_assert_cmpuint (bw_fabric_round_index (rib, 0), ==, 0);
  g_assert_cmpuint (bw_fabric_round_index (rib, 7), ==, 1);
  g_assert_cmpfloat (bw_fabric_height (rib, 1), ==, rib->round_height[0]);
  for (guint n = 0; n < 40; n++)
    {
      double sum = 0;

      for (guint i = 0; i < n; i++)
        sum += rib->round_height[bw_fabric_round_index (rib, i)];
      g_assert_cmpfloat_with_epsilon (bw_fabric_height (rib, n), sum, 1e-9);
    }

  g_assert_cmpuint (bw_fabric_whole_rounds (spikes, 3), ==, 0);
  g_assert_cmpuint (bw_fabric_whole_rounds (spikes, 4), ==, 4);
  g_assert_cmpuint (bw_fabric_whole_rounds (spikes, 11), ==, 8);
  g_assert_cmpuint (bw_fabric_whole_rounds (rib, 5), ==, 5);
}

static void
test_errors (void)
{
  static const struct { const char *text; int code; const char *part; } cases[] = {
    { "[x]\nname-uk=x\nname-us=x\nmultiple=3\n", BW_ERROR_MISSING, "round-1" },
    { "[x]\nname-us=x\nround-1=dc\n", BW_ERROR_MISSING, "name-uk" },
    { "[x]\nname-uk=x\nname-us=x\nmultiple=0\nround-1=dc in each st around\n", BW_ERROR_RANGE,
      "multiple" },
    { "[x]\nname-uk=x\nname-us=x\ncolor=2\nround-1=dc in each st around\n", BW_ERROR_UNKNOWN,
      "color" },
    { "[x]\nname-uk=x\nname-us=x\nround-1=dc in each st around\nround-3=dc in each st around\n",
      BW_ERROR_UNKNOWN, "round-3" },
    { "[x]\nname-uk=x\nname-us=x\nstretch=-1\nround-1=dc in each st around\n", BW_ERROR_RANGE,
      "stretch" },
    { "[x]\nname-uk=x\nname-us=x\nround-1=zz in each st around\n", BW_ERROR_SYNTAX, "round-1" },
    { "[x]\nname-uk=x\nname-us=x\nmultiple=2\nround-1=[2 dc, dc2tog] around\n", BW_ERROR_CONFLICT,
      "left over" },
    { "[x]\nname-uk=x\nname-us=x\nmultiple=2\nround-1=[dc2tog] around\n", BW_ERROR_CONFLICT, "" },
    { "[x]\nname-uk=x\nname-us=x\nround-1=2 dc in each st around\n", BW_ERROR_CONFLICT,
      "keep the count" },
    /* a post stitch over slip stitches has no stem */
    { "[x]\nname-uk=x\nname-us=x\nround-1=ss in each st around\nround-2=FPtr in each st around\n",
      BW_ERROR_CONFLICT, "no stem" },
    /* round 2 is round the stems that round 1 is round already */
    { "[x]\nname-uk=x\nname-us=x\nround-1=FPtr in each st around\n"
      "round-2=FPtr 2 rnds below in each st around\n", BW_ERROR_CONFLICT, "already" },
    { "[x]\nname-uk=x\nname-us=x\nround-1=dc in next ch-sp, dc in each st around\n",
      BW_ERROR_CONFLICT, "" },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (GError) error = NULL;

      g_assert_null (bw_fabric_table_parse (reference->stitches, cases[i].text,
                                            strlen (cases[i].text), &error));
      g_assert_error (error, BW_ERROR, cases[i].code);
      g_assert_nonnull (strstr (error->message, cases[i].part));
    }
}

/* --- Anchors: the walk by turns against one stitch by stitch --- */

#define STITCHES 24

static void
random_round (GArray *items)
{
  static const char *const rounds[] = {
    "dc in each st around", "tr in each st around", "[FPtr, BPtr] around", "[2 dc, FPtr] around",
    "[2 dc, FPtr 2 rnds below] around", "[3 dc, FPtr 3 rnds below] around", "[FPtr 2 rnds below, dc] around",
    "[5 dc, spdc] around", "[3 dc, bo] around", "[FPtr, 5 dc] around", "ss in each st around",
    "dc, [FPtr, dc] 11 times, dc", "[tr, ch 1, miss 1 st] around", "[dc, tr in next ch-sp] around",
    "[miss 1 st, (tr, ch 1, tr) in next st, miss 1 st] around", "[crtr, FPtr, dc] around",
    "[dc, dc in next ch-sp, dc] around", "[V-st, miss 2 sts] around",
    "[(FPtr, tr) in next st, miss 1 st] around", "[(FPtr 2 rnds below, dc) in next st, miss 1 st] around",
    "[(dc, [ch 1] 2 times) in next st, miss 2 sts] around",
  };
  const char *text = rounds[g_test_rand_int_range (0, G_N_ELEMENTS (rounds))];
  g_autoptr (GError) error = NULL;

  bw_notation_read_round (reference->stitches, text, -1, BW_TERMS_UK, items, &error);
  g_assert_no_error (error);
  bw_items_bind (reference->stitches, (BwItem *) (void *) items->data, items->len, STITCHES, &error);
  g_assert_no_error (error);
}

typedef struct { BwStitchIndex stitch; guint base; gboolean taken; } Made;

/* An own, slow reading of the same rule; FALSE when a stitch has nothing to hold. */
static gboolean
work_items (GArray **done, guint r, const BwItem *items, guint n, guint *base, gboolean cluster)
{
  BwStitchIndex chain = bw_stitch_find (reference->stitches, "chain");

  for (guint i = 0; i < n; i += 1u + items[i].span)
    for (guint times = 0; times < MAX (1, items[i].count); times++)
      {
        if (items[i].stitch == BW_STITCH_NONE)
          {
            gboolean inner = items[i].kind == BW_ITEM_CLUSTER;

            if (!work_items (done, r, items + i + 1, items[i].span, base, cluster || inner))
              return FALSE;
            *base += inner && !cluster;
            continue;
          }

        const BwStitch *stitch = bw_stitch_get (reference->stitches, items[i].stitch);
        guint reach = items[i].below ? items[i].below : stitch->below;

        if (items[i].place == BW_PLACE_CHAIN_SPACE)
          {
            if (r == 0 || bw_stitch_get (reference->stitches,
                                         g_array_index (done[r - 1], Made, *base).stitch)->takes != 0)
              return FALSE;
          }
        else if (stitch->anchor > BW_ANCHOR_TOP)
          {
            guint at = *base;
            Made *made;

            if (reach > r)
              return FALSE;
            for (guint down = 1; down < reach; down++)
              at = g_array_index (done[r - down], Made, at).base;
            made = &g_array_index (done[r - reach], Made, at);
            if (stitch->anchor != BW_ANCHOR_BASE)
              {
                if (made->taken || !bw_stitch_get (reference->stitches, made->stitch)->has_post)
                  return FALSE;
                made->taken = TRUE;
              }
          }
        for (guint m = 0; m < stitch->makes; m++)
          g_array_append_val (done[r], ((Made) { m + 1 == stitch->space ? chain : items[i].stitch,
                                                 *base, FALSE }));
        if (!cluster)
          *base += stitch->takes;
      }

  return TRUE;
}

static void
test_anchors (void)
{
  guint sound = 0;
  guint faulty = 0;

  for (guint trial = 0; trial < 20000; trial++)
    {
      GArray *items[6];
      GArray *done[6];
      BwAnchorRound rounds[6];
      BwAnchorFault fault;
      int expected = -1;

      for (guint r = 0; r < 6; r++)
        {
          guint base = 0;

          items[r] = g_array_new (FALSE, TRUE, sizeof (BwItem));
          done[r] = g_array_new (FALSE, TRUE, sizeof (Made));
          random_round (items[r]);
          rounds[r] = (BwAnchorRound) { (BwItem *) (void *) items[r]->data, items[r]->len };
          if (expected < 0 && !work_items (done, r, rounds[r].items, rounds[r].n_items, &base, FALSE))
            expected = (int) r;
        }

      if (bw_anchor_check (reference->stitches, rounds, 6, &fault))
        {
          g_assert_cmpint (expected, ==, -1);
          sound++;
        }
      else
        {
          g_assert_cmpint (expected, ==, (int) fault.round);
          faulty++;
        }
      for (guint r = 0; r < 6; r++)
        {
          g_array_unref (items[r]);
          g_array_unref (done[r]);
        }
    }

  /* both outcomes have to have been tried */
  g_assert_cmpuint (sound, >, 100);
  g_assert_cmpuint (faulty, >, 100);
}

int
main (int    argc,
      char **argv)
{
  int status;

  g_test_init (&argc, &argv, NULL);
  reference = bw_reference_builtin (NULL);
  g_assert_nonnull (reference);
  g_test_add_func ("/fabric/stock", test_stock);
  g_test_add_func ("/fabric/heights", test_heights);
  g_test_add_func ("/fabric/errors", test_errors);
  g_test_add_func ("/fabric/anchors", test_anchors);
  status = g_test_run ();
  bw_reference_free (reference);
  return status;
}
