#include <glib.h>
#include <string.h>

#include "bw-notation.h"
#include "bw-reference-builtin.h"

/* Names and abbreviations in UK and US terms against published lists. Beside
 * each group of cases stands where it was read. */

static BwReference *reference;

static const BwStitch *
stitch_named (const char *id)
{
  BwStitchIndex index = bw_stitch_find (reference->stitches, id);

  g_assert_cmpuint (index, !=, BW_STITCH_NONE);
  return bw_stitch_get (reference->stitches, index);
}

/* Reads a round in one set of terms and prints it in another. */
static char *
translate (const char *text,
           BwTerms     from,
           BwTerms     to)
{
  g_autoptr (GArray) items = g_array_new (FALSE, TRUE, sizeof (BwItem));
  g_autoptr (GError) error = NULL;
  GString *out = g_string_new (NULL);

  bw_notation_read_round (reference->stitches, text, -1, from, items, &error);
  g_assert_no_error (error);
  bw_notation_print_round (reference->stitches, (const BwItem *) (void *) items->data, items->len,
                           0, FALSE, to, out);
  return g_string_free (out, FALSE);
}

static void
assert_both_ways (const char *us,
                  const char *uk)
{
  g_autofree char *to_uk = translate (us, BW_TERMS_US, BW_TERMS_UK);
  g_autofree char *to_us = translate (uk, BW_TERMS_UK, BW_TERMS_US);

  g_assert_cmpstr (to_uk, ==, uk);
  g_assert_cmpstr (to_us, ==, us);
}

/* The pairs of plain stitches: "Crochet terms by country",
 * funcrochetdesigns.com/crochet/tuesday-crochet-tip-crochet-terms-by-country/;
 * "UK and US crochet terms", woolandcrafts.co.uk/blogs/news/;
 * "UK to US crochet terms", niniecrochet.com/?p=841. They write US "treble" and
 * "double treble"; the word crochet behind them is ours. */
static void
test_names (void)
{
  static const struct { const char *id, *us, *us_name, *uk, *uk_name; } pairs[] = {
    { "chain", "ch", "chain", "ch", "chain" },
    { "slip", "sl st", "slip stitch", "ss", "slip stitch" },
    { "low", "sc", "single crochet", "dc", "double crochet" },
    { "mid", "hdc", "half double crochet", "htr", "half treble" },
    { "tall", "dc", "double crochet", "tr", "treble" },
    { "taller", "tr", "treble crochet", "dtr", "double treble" },
    { "tallest", "dtr", "double treble crochet", "trtr", "triple treble" },
  };

  for (guint i = 0; i < G_N_ELEMENTS (pairs); i++)
    {
      const BwStitch *stitch = stitch_named (pairs[i].id);

      g_assert_cmpstr (stitch->us, ==, pairs[i].us);
      g_assert_cmpstr (stitch->us_name, ==, pairs[i].us_name);
      g_assert_cmpstr (stitch->uk, ==, pairs[i].uk);
      g_assert_cmpstr (stitch->uk_name, ==, pairs[i].uk_name);
    }
}

/* UK double crochet is US single crochet, and UK treble is US double crochet
 * (common practice, no source). */
static void
test_trade_fact (void)
{
  assert_both_ways ("sc", "dc");
  assert_both_ways ("dc", "tr");
}

/* Abbreviations of the US list: "Abbreviations in crochet patterns",
 * stitch4ever.com/2012/01/30/abbreviations-in-crochet-patterns/, and
 * "Understanding crochet abbreviations",
 * danceswithwools.net/2022/09/16/understanding-crochet-abbreviations/;
 * of the UK list: the abbreviations page of a UK book of shawls (PDF, address
 * withheld): ch, ss or sl st, dc, htr, tr, dtr, trtr or ttr, dc2tog, tr2tog,
 * FPtr. Miss: the heading of a UK glossary. UK htr2tog and BPtr follow from
 * these by the same rule. */
static void
test_published_abbreviations (void)
{
  static const char *const us[] = { "ch", "sl st", "sc", "hdc", "dc", "tr", "dtr", "sc2tog",
                                    "hdc2tog", "dc2tog", "FPdc", "BPdc", "sk" };
  static const char *const uk[] = { "ch", "ss", "dc", "htr", "tr", "dtr", "trtr", "dc2tog",
                                    "htr2tog", "tr2tog", "FPtr", "BPtr", "miss" };

  for (guint i = 0; i < G_N_ELEMENTS (us); i++)
    {
      BwStitchIndex stitch = bw_stitch_find_abbreviation (reference->stitches, us[i],
                                                          strlen (us[i]), BW_TERMS_US);

      g_assert_cmpuint (stitch, !=, BW_STITCH_NONE);
      g_assert_cmpuint (stitch, ==, bw_stitch_find_abbreviation (reference->stitches, uk[i],
                                                                 strlen (uk[i]), BW_TERMS_UK));
    }
}

/* A published row of plain stitches; the compounds follow from the pairs above
 * by the same rule. Translated stitch by stitch in one pass: replacing sc by dc
 * and then dc by tr in the text would turn every sc into a tr. */
static void
test_one_pass (void)
{
  assert_both_ways ("sc, hdc, dc, tr, sc2tog, FPdc", "dc, htr, tr, dtr, dc2tog, FPtr");
  assert_both_ways ("sc, dc, sc", "dc, tr, dc");
  assert_both_ways ("BPdc, FPtr, BPtr, hdc3tog", "BPtr, FPdtr, BPdtr, htr3tog");
  assert_both_ways ("sl st, ch 2, sk 1 st, dtr", "ss, ch 2, miss 1 st, trtr");
}

/* "Single crochet" never occurs in UK terms: "UK and US crochet terms", blog,
 * 2016 (address withheld). Half treble, miss and triple treble are as safe a
 * sign of UK terms (the lists above). */
static void
test_telling_words (void)
{
  guint n = bw_stitch_dictionary_size (reference->stitches);

  for (guint i = 0; i < n; i++)
    {
      const BwStitch *stitch = bw_stitch_get (reference->stitches, (BwStitchIndex) i);

      g_assert_null (strstr (stitch->uk_name, "single"));
      g_assert_null (strstr (stitch->us_name, "half treble"));
      if (stitch->special != NULL)
        g_assert_null (strstr (stitch->special, "single crochet"));
    }

  g_assert_cmpuint (bw_stitch_find_abbreviation (reference->stitches, "sc", 2, BW_TERMS_UK), ==,
                    BW_STITCH_NONE);
  g_assert_cmpuint (bw_stitch_find_abbreviation (reference->stitches, "htr", 3, BW_TERMS_US), ==,
                    BW_STITCH_NONE);
}

/* Turning chains of US sc, hdc, dc, tr, dtr: 1, 2, 3, 4, 5. "How to crochet a
 * turning chain", dummies.com/how-to/content/how-to-crochet-a-turning-chain.html;
 * "Turning chain table", crochetforall.com/category/crochet-techniques */
static void
test_turning_chains (void)
{
  static const char *const ids[] = { "low", "mid", "tall", "taller", "tallest" };

  for (guint i = 0; i < G_N_ELEMENTS (ids); i++)
    g_assert_cmpuint (stitch_named (ids[i])->turning_chain, ==, i + 1);
}

/* The row ends of a 2009 blog on edgings (address withheld): sc is square, dc
 * twice and tr three times as tall, in US terms. */
static void
test_heights (void)
{
  g_assert_cmpfloat (stitch_named ("low")->height, ==, 1);
  g_assert_cmpfloat (stitch_named ("tall")->height, ==, 2);
  g_assert_cmpfloat (stitch_named ("taller")->height, ==, 3);
}

/* UK to US and back, and US to UK and back, is the identity: of every stitch,
 * and of every round of every stitch pattern. */
static void
test_identity (void)
{
  guint n = bw_stitch_dictionary_size (reference->stitches);

  for (guint i = 0; i < n; i++)
    {
      const BwStitch *stitch = bw_stitch_get (reference->stitches, (BwStitchIndex) i);

      if (stitch->makes > 0 && stitch->takes > 0)
        assert_both_ways (stitch->us, stitch->uk);
    }

  for (guint f = 0; f < reference->fabrics->fabrics->len; f++)
    {
      const BwFabric *fabric = g_ptr_array_index (reference->fabrics->fabrics, f);

      for (guint r = 0; r < fabric->n_start + fabric->n_rounds; r++)
        {
          g_autoptr (GString) uk = g_string_new (NULL);
          g_autofree char *us = NULL;
          guint n_items;
          const BwItem *items = bw_fabric_round_items (fabric, r, &n_items);

          bw_notation_print_round (reference->stitches, items, n_items, 0, FALSE, BW_TERMS_UK, uk);
          us = translate (uk->str, BW_TERMS_UK, BW_TERMS_US);
          assert_both_ways (us, uk->str);
        }
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
  g_test_add_func ("/abbreviations/names", test_names);
  g_test_add_func ("/abbreviations/trade-fact", test_trade_fact);
  g_test_add_func ("/abbreviations/published", test_published_abbreviations);
  g_test_add_func ("/abbreviations/one-pass", test_one_pass);
  g_test_add_func ("/abbreviations/telling-words", test_telling_words);
  g_test_add_func ("/abbreviations/turning-chains", test_turning_chains);
  g_test_add_func ("/abbreviations/heights", test_heights);
  g_test_add_func ("/abbreviations/identity", test_identity);
  status = g_test_run ();
  bw_reference_free (reference);
  return status;
}
