#include <glib.h>
#include <string.h>

#include "bw-error.h"
#include "bw-notation.h"
#include "bw-reference-builtin.h"

static BwReference *reference;

static GArray *
items_of (const char *text)
{
  g_autoptr (GArray) items = g_array_new (FALSE, TRUE, sizeof (BwItem));
  g_autoptr (GError) error = NULL;

  bw_notation_read_round (reference->stitches, text, -1, BW_TERMS_UK, items, &error);
  g_assert_no_error (error);
  return g_steal_pointer (&items);
}

static BwItem *
data_of (GArray *items)
{
  return (BwItem *) (void *) items->data;
}

static void
test_measure (void)
{
  static const struct { const char *text; guint takes, makes; } cases[] = {
    { "3 dc", 3, 3 },
    { "2 dc in next st", 1, 2 },
    { "dc2tog", 2, 1 },
    { "[5 dc, dc2tog] 9 times", 63, 54 },
    { "(2 tr, ch 1, 2 tr) in next st, miss 2 sts", 3, 5 },
    { "ch 3", 0, 3 },
    { "dc, 2 dc in same st", 1, 3 },
    { "sh, 2 crtr", 5, 9 },
    { "[[2 dc, dc2tog] 3 times, dc] 4 times", 52, 40 },
    /* ten chains give nine slip stitches when the first goes into the second
     * chain (common practice, no source) */
    { "9 ss in 2nd ch from hook", 10, 9 },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (GArray) items = items_of (cases[i].text);
      guint64 takes, makes;

      g_assert_true (bw_items_measure (reference->stitches, data_of (items), items->len, &takes,
                                       &makes));
      g_assert_cmpuint (takes, ==, cases[i].takes);
      g_assert_cmpuint (makes, ==, cases[i].makes);
    }
}

static void
test_malformed (void)
{
  BwStitchIndex low = bw_stitch_find (reference->stitches, "low");
  BwItem deep[BW_ITEM_DEPTH_MAX + 2];
  BwItem items[2] = { bw_item_repeat (2, 5), bw_item_each (low, 1) };
  BwItem many[3] = { bw_item_repeat (100000, 2), bw_item_repeat (100000, 1), bw_item_each (low, 1) };
  guint64 takes, makes;

  g_assert_false (bw_items_measure (reference->stitches, items, 2, &takes, &makes));
  g_assert_false (bw_items_measure (reference->stitches, many, 3, &takes, &makes));
  for (guint i = 0; i < G_N_ELEMENTS (deep); i++)
    deep[i] = bw_item_repeat (1, (guint) G_N_ELEMENTS (deep) - 1 - i);
  deep[G_N_ELEMENTS (deep) - 1] = bw_item_each (low, 1);
  g_assert_false (bw_items_measure (reference->stitches, deep, G_N_ELEMENTS (deep), &takes, &makes));
}

static void
test_bind (void)
{
  static const struct { const char *text; guint available; guint times; } good[] = {
    { "dc in each st around", 54, 54 },
    { "[5 dc, dc2tog] around", 63, 9 },
    { "[2 dc, FPtr 2 rnds below] around", 72, 24 },
  };
  static const struct { const char *text; guint available; const char *figure; } bad[] = {
    { "[5 dc, dc2tog] around", 64, "1 are left over" },
    { "3 dc", 4, "takes 3 stitches, the round below offers 4" },
    { "5 dc", 4, "takes 5 stitches, the round below offers 4" },
    { "[ch 1] around", 4, "takes no stitches" },
    { "[dc, dc2tog] to last 2 sts, dc", 10, "what follows takes 1" },
    { "[dc] around, [dc] around", 10, "Only one repeat" },
    /* 71 stitches do not divide by a repeat of three (common practice, no source) */
    { "[2 dc, FPtr 2 rnds below] around", 71, "2 are left over" },
  };

  for (guint i = 0; i < G_N_ELEMENTS (good); i++)
    {
      g_autoptr (GArray) items = items_of (good[i].text);
      g_autoptr (GError) error = NULL;

      bw_items_bind (reference->stitches, data_of (items), items->len, good[i].available, &error);
      g_assert_no_error (error);
      g_assert_cmpuint (data_of (items)[0].count, ==, good[i].times);
    }

  for (guint i = 0; i < G_N_ELEMENTS (bad); i++)
    {
      g_autoptr (GArray) items = items_of (bad[i].text);
      g_autoptr (GError) error = NULL;

      g_assert_false (bw_items_bind (reference->stitches, data_of (items), items->len,
                                     bad[i].available, &error));
      g_assert_error (error, BW_ERROR, BW_ERROR_CONFLICT);
      g_assert_nonnull (strstr (error->message, bad[i].figure));
    }
}

static void
test_to_last (void)
{
  g_autoptr (GArray) items = items_of ("3 dc, [4 dc, dc2tog] to last 2 sts, dc2tog");
  g_autoptr (GError) error = NULL;
  guint64 takes, makes;

  bw_items_bind (reference->stitches, data_of (items), items->len, 41, &error);
  g_assert_no_error (error);
  g_assert_true (bw_items_measure (reference->stitches, data_of (items), items->len, &takes, &makes));
  g_assert_cmpuint (takes, ==, 41);
  g_assert_cmpuint (makes, ==, 3 + 6 * 5 + 1);
}

static void
test_yarn_and_height (void)
{
  guint n = bw_stitch_dictionary_size (reference->stitches);
  g_autofree double *metres = g_new0 (double, n);
  g_autoptr (GArray) items = items_of ("[2 dc, (tr, ch 1, tr) in next st] 10 times");

  metres[bw_stitch_find (reference->stitches, "low")] = 0.5;
  metres[bw_stitch_find (reference->stitches, "tall")] = 2;
  g_assert_cmpfloat_with_epsilon (bw_items_yarn (reference->stitches, data_of (items), items->len,
                                                 metres), 10 * (2 * 0.5 + 2 * 2), 1e-12);
  g_assert_cmpfloat (bw_items_height (reference->stitches, data_of (items), items->len), ==, 2);
}

int
main (int    argc,
      char **argv)
{
  int status;

  g_test_init (&argc, &argv, NULL);
  reference = bw_reference_builtin (NULL);
  g_assert_nonnull (reference);
  g_test_add_func ("/instruction/measure", test_measure);
  g_test_add_func ("/instruction/malformed", test_malformed);
  g_test_add_func ("/instruction/bind", test_bind);
  g_test_add_func ("/instruction/to-last", test_to_last);
  g_test_add_func ("/instruction/yarn-and-height", test_yarn_and_height);
  status = g_test_run ();
  bw_reference_free (reference);
  return status;
}
