#include <glib.h>
#include <string.h>

#include "bw-pattern-private.h"
#include "bw-reference-builtin.h"

/* What published guides say a pattern's marks mean, and the stitch counts of
 * published patterns, read by the reader. Facts only; where a guide's example is
 * no whole round, the rounds round it are ours. Sources stand beside the cases. */

static BwReference *reference;

static void
put_size (const BwPattern *pattern,
          guint            size,
          GString         *out)
{
  g_autoptr (BwPatternRounds) rounds = bw_pattern_evaluate (pattern, size);

  for (guint i = 0; i < rounds->list->rounds->len; i++)
    g_string_append_printf (out, "%s%u", i > 0 ? " " : "",
                            g_array_index (rounds->list->rounds, BwRound, i).stitches_out);
}

static void
assert_fits (const BwPattern *pattern,
             guint            size)
{
  BwPatternWalk walk;
  BwPatternStep step;

  bw_pattern_walk_init (&walk, pattern, size, bw_pattern_best_reading (pattern, size));
  while (bw_pattern_walk_next (&walk, &step))
    {
      g_assert_true (step.fit.status == BW_FIT_WELL || step.fit.status == BW_FIT_UNKNOWN);
      g_assert_true (step.count_holds);
    }
  bw_pattern_walk_clear (&walk);
}

/* Reads a text; its rounds leave `counts`, "6 12", those of further sizes behind
 * a stroke. */
static void
assert_counts (const char *text,
               BwTerms     terms,
               const char *counts)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (BwPattern) pattern = bw_pattern_read (reference->stitches, text, -1, (int) terms,
                                                   &error);
  g_autoptr (GString) found = g_string_new (NULL);

  g_test_message ("%s", text);
  g_assert_no_error (error);
  g_assert_cmpuint (pattern->errors->len, ==, 0);
  for (guint k = 0; k < pattern->n_sizes; k++)
    {
      if (k > 0)
        g_string_append (found, " / ");
      put_size (pattern, k, found);
      assert_fits (pattern, k);
    }
  g_assert_cmpstr (found->str, ==, counts);
}

/* "Asterisks", a page of a handbook, zanotowane.pl/837/653: what stands from the
 * asterisk to the semicolon is worked once and then as often as is said, so
 * "four more times" is five in all; "around" is to the end of the round; two
 * asterisks are where the last, incomplete repeat ends. */
static void
test_asterisks (void)
{
  assert_counts ("Ch 10, join.\nRnd 1: *sc in next st, ch 1, sk 1 st; repeat from * four more times",
                 BW_TERMS_US, "10 10");
  assert_counts ("Ch 10, join.\nRnd 1: *2 sc in next st, sc in next st; rep from * four more times",
                 BW_TERMS_US, "10 15");
  assert_counts ("Ch 8, join.\nRnd 1: *dc in next ch, ch 3: repeat from * around, join with slip "
                 "stitch", BW_TERMS_US, "8 32");
  assert_counts ("Ch 11, join.\nRnd 1: *sc in next st, ch 5, sc in next st**, dc in next st; "
                 "repeat from * around, ending last repeat at **, join with slip stitch to first "
                 "sc.", BW_TERMS_US, "11 31");
  assert_counts ("Ch 11, join.\nRnd 1: *2 sc, ** sc2tog; rep from * 2 more times, ending last rep "
                 "at **, sc", BW_TERMS_US, "11 9");
}

/* A craft publisher's page on symbols (address withheld): square brackets hold
 * what is worked a number of times, or all into one place; curly ones are a
 * repeat inside of brackets; an asterisk with "around" goes round the whole
 * round, and its group may hold brackets. Its examples: seven times; three
 * stitches missed and three, a chain and three into the next; one in each of five
 * and two in the next. */
static void
test_brackets (void)
{
  assert_counts ("Ch 7, join.\nRnd 1: [ch 3, sc in next ch] 7 times", BW_TERMS_US, "7 28");
  assert_counts ("Ch 12, join.\nRnd 1: [Sk 3 sc, [3 dc, ch 1, 3 dc] in next st] 3 times",
                 BW_TERMS_US, "12 21");
  assert_counts ("Ch 12, join.\nRnd 1: *Sk 3 sc, [3 dc, ch 1, 3 dc] in next st, rep from * around",
                 BW_TERMS_US, "12 21");
  assert_counts ("Ch 36, join.\nRnd 1: *Sc in each of the next 5 sc, 2 sc in next sc, rep from * "
                 "around, join with a sl st in beg sc", BW_TERMS_US, "36 42");
  assert_counts ("Ch 16, join.\nRnd 1: [{sc, sk 1 st} 3 times, 2 sc] 2 times", BW_TERMS_US,
                 "16 10");
}

/* "Crochet pattern symbols", mooglyblog.com/crochet-pattern-symbols/: round
 * brackets at the end are the stitch count, inside they are what goes into one
 * stitch, or the numbers of the sizes. Its counts: three, two into the next with
 * a chain, and three leave 8 stitches; 7 (8, 9), two together and two leave
 * 10 (11, 12). */
static void
test_parentheses (void)
{
  assert_counts ("Ch 7, join.\nRnd 1: Ch 1 (not a st), dc in next 3 sts, (dc, ch 1, dc) in next st, "
                 "dc 3; join. (8 sts)", BW_TERMS_US, "7 9");
  assert_counts ("Sizes: S (M, L)\nCh 12 (13, 14).\n"
                 "Row 1: Sc in 2nd ch from hook and in each ch across; turn. (11 (12, 13) sts)\n"
                 "Row 2: Ch 1 (not a st), sc 7 (8, 9), sc2tog, sc 2; turn. (10 (11, 12) sts)",
                 BW_TERMS_US, "12 11 10 / 13 12 11 / 14 13 12");
}

/* "How to read crochet patterns: identify the repeats",
 * cnas.ca/rcp/read-crochet-patterns-basics-repeats: "repeat rows 2–5" means rows
 * 1, 2, 3, 4, 5, then 2, 3, 4, 5 again and again; the first row is worked once. */
static void
test_repeated_rows (void)
{
  assert_counts ("Ch 11.\nRow 1: Sc in 2nd ch from hook and in each ch across. (10)\n"
                 "Row 2: 2 sc in next st, sc in each st across. (11)\nRow 3: sc across. (11)\n"
                 "Row 4: sc2tog, sc in each st across. (10)\nRow 5: sc across. (10)\n"
                 "Rep rows 2–5 twice.", BW_TERMS_US,
                 "11 10 11 11 10 10 11 11 10 10 11 11 10 10");
}

/* Counts of published patterns, in wordings of our own. From 6 to 54 by six a
 * round: headhuggers.org/patterns/cpatt01.htm; from 8 to 72 by eight:
 * d60crochet.com/p/chains-of-color-beanie.html; from 10 to 40 by ten:
 * warmdetroit.org/c3.html. */
static void
test_circles (void)
{
  assert_counts ("Rnd 1: 6 sc in ring (6)\nRnd 2: [2 sc in next st] 6 times (12)\n"
                 "Rnd 3: [sc, 2 sc in next st] 6 times (18)\nRnd 4: [2 sc, 2 sc in next st] 6 times (24)\n"
                 "Rnd 5: [3 sc, 2 sc in next st] x 6 (30)\n"
                 "Rnd 6: *4 sc, 2 sc in next st; rep from * 5 more times (36)\n"
                 "Rnd 7: (5 sc, 2 sc in next st) around (42)\n"
                 "Rnd 8: *sc in next 6 sts, 2 sc in next st* 6 times (48)\n"
                 "Rnd 9: 6 times [sc 7, inc] (54)", BW_TERMS_US, "6 12 18 24 30 36 42 48 54");
  assert_counts ("Rnd 1: Magic ring, 8 hdc (8)\nRnd 2: 2 hdc in each st around (16)\n"
                 "Rnd 3: *hdc, 2 hdc in next st; rep from * around (24)\n"
                 "Rnd 4: *2 hdc, 2 hdc in next st; rep from * around (32)\n"
                 "Rnd 5: *3 hdc, 2 hdc in next st; rep from * around (40)\n"
                 "Rnd 6: *4 hdc, 2 hdc in next st; rep from * around (48)\n"
                 "Rnd 7: *5 hdc, 2 hdc in next st; rep from * around (56)\n"
                 "Rnd 8: *6 hdc, 2 hdc in next st; rep from * around (64)\n"
                 "Rnd 9: *7 hdc, 2 hdc in next st; rep from * around (72)", BW_TERMS_US,
                 "8 16 24 32 40 48 56 64 72");
  assert_counts ("Rnd 1: 10 dc in ring\nRnd 2: inc around\nRnd 3: [dc, inc] around\n"
                 "Rnd 4: [2 dc, inc] around (40 dc)", BW_TERMS_US, "10 20 30 40");
}

/* One circle in three sizes, 10 (11, 12), 20 (22, 24), 30 (33, 36), 40 (44, 48):
 * gracefullymadecrochet.com/2021/06/05/basic-beanie-thick/. The n-th number
 * belongs to the n-th size throughout: "How to read crochet pattern sizes",
 * dailyhandmade.com/read-crochet-pattern-multiple-sizes/. */
static void
test_sizes (void)
{
  assert_counts ("Sizes: Child (Adult, Large)\nRnd 1: 10 (11, 12) dc in ring\n"
                 "Rnd 2: 2 dc in each st around. 20 (22, 24) dc.\n"
                 "Rnd 3: [dc in next st, 2 dc in next st] 10 (11, 12) times – 30 (33, 36) dc\n"
                 "Rnd 4: [2 dc, 2 dc in next st] around [40 (44, 48)]", BW_TERMS_US,
                 "10 20 30 40 / 11 22 33 44 / 12 24 36 48");
}

/* A children's hat in five sizes, portacraft.com.au/beanie-crochet-pattern: from 64
 * half trebles, two in the next and one in each of 15 makes 68, of 7 makes 72; from
 * 72, of 17 makes 76 and of 11 makes 78. Steps that some sizes leave out begin with
 * "Sizes 6, 8 and 10 only", and "All sizes" follows. */
static void
test_growing (void)
{
  assert_counts ("Ch 64, join.\nRnd 1: [2 htr in next st, 1 htr in each of next 15 sts] around (68)",
                 BW_TERMS_UK, "64 68");
  assert_counts ("Ch 64, join.\nRnd 1: [2 htr in next st, 1 htr in each of next 7 sts] around (72)",
                 BW_TERMS_UK, "64 72");
  assert_counts ("Ch 72, join.\nRnd 1: *2 htr in next st, 1 htr in each of next 17 sts; rep from * "
                 "around (76)", BW_TERMS_UK, "72 76");
  assert_counts ("Ch 72, join.\nRnd 1: *2 htr in next st, 1 htr in each of next 11 sts; rep from * "
                 "around (78)", BW_TERMS_UK, "72 78");
  assert_counts ("Sizes: 2 (4, 6, 8, 10)\nCh 64, join.\nRnd 1: htr in each ch around (64)\n"
                 "Sizes 6, 8 and 10 only:\n"
                 "Rnd 2: [2 htr in next st, 1 htr in each of next 15 sts] around (68)\n"
                 "All sizes:\nRnd 2 (2, 3, 3, 3): htr in each st around", BW_TERMS_UK,
                 "64 64 64 / 64 64 64 / 64 64 68 68 / 64 64 68 68 / 64 64 68 68");
}

/* Sizes as print has them, 64 (68-72-76-78), 126[140] and 96 (96) 112 (112): seen
 * in published patterns, addresses withheld. */
static void
test_lists (void)
{
  assert_counts ("Sizes: 1 (2-3-4-5)\nCh 64 (68-72-76-78), join.", BW_TERMS_UK,
                 "64 / 68 / 72 / 76 / 78");
  assert_counts ("Sizes: S [L]\nCh 126[140], join.", BW_TERMS_UK, "126 / 140");
  assert_counts ("Sizes: XS (S) M (L)\nCh 96 (96) 112 (112), join.", BW_TERMS_UK,
                 "96 / 96 / 112 / 112");
}

/* Words of the published lists, "Abbreviations in crochet patterns",
 * stitch4ever.com/2012/01/30/abbreviations-in-crochet-patterns/, "Understanding
 * crochet abbreviations", danceswithwools.net/2022/09/16/, and of a UK book of
 * shawls (PDF, address withheld): each is the same word written short and in full. */
static void
test_words (void)
{
  static const struct { const char *brief, *full; } words[] = {
    { "beg", "beginning" }, { "dec", "decrease" }, { "inc", "increase" }, { "foll", "following" },
    { "rem", "remaining" }, { "rep", "repeat" }, { "lp", "loop" }, { "sp", "space" },
    { "st", "stitch" }, { "sts", "stitches" }, { "tog", "together" }, { "sk", "skip" },
    { "ch-sp", "ch-space" }, { "BLO", "BL" }, { "FLO", "FL" }, { "t-ch", "tch" },
    { "rnd", "rounds" },
  };

  for (guint i = 0; i < G_N_ELEMENTS (words); i++)
    {
      BwToken brief = { .kind = BW_TOKEN_WORD, .start = words[i].brief,
                        .length = strlen (words[i].brief) };
      BwToken full = { .kind = BW_TOKEN_WORD, .start = words[i].full,
                       .length = strlen (words[i].full) };

      g_assert_cmpint (bw_word_of (&brief, NULL), !=, BW_WORD_NONE);
      g_assert_cmpint (bw_word_of (&brief, NULL), ==, bw_word_of (&full, NULL));
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
  g_test_add_func ("/reading/asterisks", test_asterisks);
  g_test_add_func ("/reading/brackets", test_brackets);
  g_test_add_func ("/reading/parentheses", test_parentheses);
  g_test_add_func ("/reading/repeated-rows", test_repeated_rows);
  g_test_add_func ("/reading/circles", test_circles);
  g_test_add_func ("/reading/sizes", test_sizes);
  g_test_add_func ("/reading/growing", test_growing);
  g_test_add_func ("/reading/lists", test_lists);
  g_test_add_func ("/reading/words", test_words);
  status = g_test_run ();
  bw_reference_free (reference);
  return status;
}
