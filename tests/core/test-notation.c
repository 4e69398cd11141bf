#include <glib.h>
#include <string.h>

#include "bw-error.h"
#include "bw-notation.h"
#include "bw-reference-builtin.h"

static BwReference *reference;

static GArray *
read_text (const char *text,
           BwTerms     terms)
{
  g_autoptr (GArray) items = g_array_new (FALSE, TRUE, sizeof (BwItem));
  g_autoptr (GError) error = NULL;

  bw_notation_read_round (reference->stitches, text, -1, terms, items, &error);
  g_assert_no_error (error);
  return g_steal_pointer (&items);
}

static char *
print_items (const GArray *items,
             guint         available,
             BwTerms       terms)
{
  GString *out = g_string_new (NULL);

  bw_notation_print_round (reference->stitches, (const BwItem *) (void *) items->data, items->len,
                           available, FALSE, terms, out);
  return g_string_free (out, FALSE);
}

/* What is read in house style is printed the same. */
static void
test_house_style (void)
{
  static const char *const lines[] = {
    "3 dc",
    "dc",
    "2 dc in next st",
    "dc2tog",
    "[5 dc, dc2tog] 9 times",
    "dc in each st around",
    "dc BLO in each st around",
    "[2 dc, FPtr 2 rnds below] 24 times",
    "[2 dc, FPtr 2 rnds below] around",
    "miss 1 st, tr, miss 2 sts",
    "ch 3",
    "(2 tr, ch 1, 2 tr) in next st",
    "(tr, ch 1, tr) in next ch-sp, dc in next ch-sp",
    "[[2 dc, dc2tog] 3 times, dc] 4 times",
    "2 dc in next row end, dc in each of next 3 row ends, miss 1 row end",
    "dc, [4 dc, dc2tog] to last 5 sts, 5 dc",
    "3 ss BLO, dc FLO",
    "dc in same st, 2 dc",
    "[dc2tog] 14 times",
    "ss in 2nd ch from hook and in each ch across",
  };

  for (guint i = 0; i < G_N_ELEMENTS (lines); i++)
    {
      g_autoptr (GArray) items = read_text (lines[i], BW_TERMS_UK);
      g_autofree char *printed = print_items (items, 0, BW_TERMS_UK);

      g_assert_cmpstr (printed, ==, lines[i]);
    }
}

/* Common ways of writing, and the house style for the same. */
static void
test_variants (void)
{
  static const struct { const char *text; BwTerms terms; const char *house; } cases[] = {
    { "1 dc in each of next 3 sts", BW_TERMS_UK, "3 dc" },
    { "dc in next 3 sts", BW_TERMS_UK, "3 dc" },
    { "1 dc in each st around", BW_TERMS_UK, "dc in each st around" },
    { "DC in each stitch around.", BW_TERMS_UK, "dc in each st around" },
    { "2 dc in each st around", BW_TERMS_UK, "[2 dc in next st] around" },
    { "2 dc in each of next 4 sts", BW_TERMS_UK, "[2 dc in next st] 4 times" },
    { "*5 dc, dc2tog; rep from * around", BW_TERMS_UK, "[5 dc, dc2tog] around" },
    { "*5 dc, dc2tog, rep from * 8 more times", BW_TERMS_UK, "[5 dc, dc2tog] 9 times" },
    { "*5 dc, dc2tog* repeat to end", BW_TERMS_UK, "[5 dc, dc2tog] around" },
    { "(5 dc, dc2tog) x 9", BW_TERMS_UK, "[5 dc, dc2tog] 9 times" },
    { "[5 dc, dc2tog] \xc3\x97 9", BW_TERMS_UK, "[5 dc, dc2tog] 9 times" },
    { "[dc, dc2tog] twice", BW_TERMS_UK, "[dc, dc2tog] 2 times" },
    { "sl st in each st around", BW_TERMS_US, "ss in each st around" },
    { "skip next st, sc in next st", BW_TERMS_US, "miss 1 st, dc" },
    { "BLO sc in each st around", BW_TERMS_US, "dc BLO in each st around" },
    { "sk next st, sc", BW_TERMS_US, "miss 1 st, dc" },
    { "miss next 2 sts, dc", BW_TERMS_UK, "miss 2 sts, dc" },
    { "sc in BLO of each st around", BW_TERMS_US, "dc BLO in each st around" },
    { "FPdc around next st 2 rnds below, 2 sc", BW_TERMS_US, "FPtr 2 rnds below, 2 dc" },
    { "{dc, [dc2tog] twice} 3 times", BW_TERMS_UK, "[dc, [dc2tog] 2 times] 3 times" },
    { "2\xc2\xa0" "dc in next\xe2\x80\xaf" "st", BW_TERMS_UK, "2 dc in next st" },
    { "dc in next tr", BW_TERMS_UK, "dc" },
    { "dc in next ch-1 sp", BW_TERMS_UK, "dc in next ch-sp" },
    { "dc around", BW_TERMS_UK, "dc in each st around" },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (GArray) items = read_text (cases[i].text, cases[i].terms);
      g_autofree char *printed = print_items (items, 0, BW_TERMS_UK);

      g_assert_cmpstr (printed, ==, cases[i].house);
    }
}

static void
test_terms (void)
{
  g_autoptr (GArray) uk = read_text ("dc, htr, tr, dtr, dc2tog, FPtr", BW_TERMS_UK);
  g_autoptr (GArray) us = read_text ("sc, hdc, dc, tr, sc2tog, FPdc", BW_TERMS_US);
  g_autofree char *printed = print_items (uk, 0, BW_TERMS_US);

  g_assert_cmpuint (uk->len, ==, us->len);
  g_assert_cmpmem (uk->data, uk->len * sizeof (BwItem), us->data, us->len * sizeof (BwItem));
  g_assert_cmpstr (printed, ==, "sc, hdc, dc, tr, sc2tog, FPdc");
}

static void
test_fills_round (void)
{
  g_autoptr (GArray) items = read_text ("54 dc", BW_TERMS_UK);
  g_autofree char *whole = print_items (items, 54, BW_TERMS_UK);
  g_autofree char *part = print_items (items, 55, BW_TERMS_UK);

  g_assert_cmpstr (whole, ==, "dc in each st around");
  g_assert_cmpstr (part, ==, "54 dc");
}

static void
test_errors (void)
{
  static const struct { const char *text; const char *column; } cases[] = {
    { "", "column 1" },
    { "3 zz", "column 3" },
    { "dc dc", "column 4" },
    { "[dc, dc2tog", "column 12" },
    { "[dc] 0 times", "column 6" },
    { "[dc] 999999999999 times", "column 6" },
    { "0 dc", "column 1" },
    { "[] 3 times", "column 2" },
    { "dc in next", "column 11" },
    { "dc )", "column 4" },
    { "FPtr 9 rnds below", "column 8" },
    { "\x01", "column 1" },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (GArray) items = g_array_new (FALSE, TRUE, sizeof (BwItem));
      g_autoptr (GError) error = NULL;

      g_assert_false (bw_notation_read_round (reference->stitches, cases[i].text, -1, BW_TERMS_UK,
                                              items, &error));
      g_assert_error (error, BW_ERROR, BW_ERROR_SYNTAX);
      g_assert_true (g_str_has_prefix (error->message, cases[i].column));
      g_assert_cmpuint (items->len, ==, 0);
    }
}

/* Nothing that can be typed takes long or much. */
static void
test_nasty (void)
{
  g_autoptr (GString) text = g_string_new (NULL);
  g_autoptr (GArray) items = g_array_new (FALSE, TRUE, sizeof (BwItem));
  g_autoptr (GError) error = NULL;

  for (guint i = 0; i < 10000; i++)
    g_string_append_c (text, '[');
  g_assert_false (bw_notation_read_round (reference->stitches, text->str, -1, BW_TERMS_UK, items,
                                          &error));
  g_assert_error (error, BW_ERROR, BW_ERROR_SYNTAX);
  g_clear_error (&error);

  g_string_truncate (text, 0);
  for (guint i = 0; i < 2500000; i++)
    g_string_append (text, "dc, ");
  g_string_append (text, "dc");
  g_assert_true (bw_notation_read_round (reference->stitches, text->str, -1, BW_TERMS_UK, items,
                                         &error));
  g_assert_cmpuint (items->len, ==, 2500001);

  g_assert_false (bw_notation_read_round (reference->stitches, "dc \xff", -1, BW_TERMS_UK, items,
                                          &error));
  g_assert_error (error, BW_ERROR, BW_ERROR_SYNTAX);
  g_assert_cmpuint (items->len, ==, 2500001);
}

/* --- Random rounds, printed and read back --- */

static void
random_items (GArray *items,
              guint   depth)
{
  guint n = (guint) g_test_rand_int_range (1, 4);
  static const char *const ids[] = { "low", "mid", "tall", "front-post-tall", "bobble", "low2tog",
                                     "slip", "crossed-tall", "chain", "miss" };

  for (guint i = 0; i < n; i++)
    {
      guint kind = (guint) g_test_rand_int_range (0, depth < 3 ? 10 : 7);
      BwStitchIndex stitch = bw_stitch_find (reference->stitches,
                                             ids[g_test_rand_int_range (0, G_N_ELEMENTS (ids))]);
      const BwStitch *what = bw_stitch_get (reference->stitches, stitch);
      BwItem item = bw_item_each (stitch, (guint) g_test_rand_int_range (1, 60));

      if (kind >= 7)
        {
          guint at = items->len;

          item = bw_item_repeat ((guint) g_test_rand_int_range (2, 40), 0);
          if (kind == 9)
            item.kind = BW_ITEM_CLUSTER, item.count = 1;
          g_array_append_val (items, item);
          random_items (items, kind == 9 ? 9 : depth + 1);
          g_array_index (items, BwItem, at).span = (guint16) (items->len - at - 1);
          continue;
        }

      if (what->takes > 1)
        item.count = 1;
      if (kind == 0 && what->takes == 1 && what->makes == 1)
        item = bw_item_in_one (stitch, (guint) g_test_rand_int_range (2, 6));
      else if (kind == 1 && what->takes == 1 && what->makes == 1)
        item.loop = (guint8) g_test_rand_int_range (0, 3);
      else if (kind == 2 && what->anchor == BW_ANCHOR_FRONT_POST)
        item.below = 2;
      else if (kind == 3 && what->takes == 1)
        item.place = BW_PLACE_CHAIN_SPACE;
      g_array_append_val (items, item);
    }
}

static void
test_round_trip (void)
{
  for (guint i = 0; i < 20000; i++)
    {
      g_autoptr (GArray) items = g_array_new (FALSE, TRUE, sizeof (BwItem));
      BwTerms terms = i % 2 == 0 ? BW_TERMS_UK : BW_TERMS_US;
      g_autofree char *printed = NULL;
      g_autoptr (GArray) again = NULL;

      random_items (items, 0);
      printed = print_items (items, 0, terms);
      again = read_text (printed, terms);
      g_test_message ("%s", printed);
      g_assert_cmpmem (items->data, items->len * sizeof (BwItem), again->data,
                       again->len * sizeof (BwItem));
    }
}

int
main (int    argc,
      char **argv)
{
  int status;

  g_test_init (&argc, &argv, NULL);
  reference = bw_reference_builtin (NULL);
  g_assert_nonnull (reference);
  g_test_add_func ("/notation/house-style", test_house_style);
  g_test_add_func ("/notation/variants", test_variants);
  g_test_add_func ("/notation/terms", test_terms);
  g_test_add_func ("/notation/fills-round", test_fills_round);
  g_test_add_func ("/notation/errors", test_errors);
  g_test_add_func ("/notation/nasty", test_nasty);
  g_test_add_func ("/notation/round-trip", test_round_trip);
  status = g_test_run ();
  bw_reference_free (reference);
  return status;
}
