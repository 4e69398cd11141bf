#include <glib.h>
#include <string.h>

#include "bw-error.h"
#include "bw-pattern.h"
#include "bw-reference-builtin.h"

/* Written patterns, as people write them, and the stitch counts that come of
 * them. All text is our own. */

static BwReference *reference;

static BwPattern *
read_text (const char *text,
           int         terms)
{
  g_autoptr (GError) error = NULL;
  BwPattern *pattern = bw_pattern_read (reference->stitches, text, -1, terms, &error);

  g_assert_no_error (error);
  return pattern;
}

/* "1:6 2:12 ...": numbers and counts of a size's rounds. */
static char *
counts_of (const BwPattern *pattern,
           guint            size)
{
  g_autoptr (BwPatternRounds) rounds = bw_pattern_evaluate (pattern, size);
  GString *out = g_string_new (NULL);

  for (guint i = 0; i < rounds->list->rounds->len; i++)
    {
      const BwRound *round = &g_array_index (rounds->list->rounds, BwRound, i);

      g_string_append_printf (out, "%s%u:%u", i > 0 ? " " : "", round->number,
                              round->stitches_out);
    }
  return g_string_free (out, FALSE);
}

typedef struct
{
  const char *text;
  guint       size;
  const char *counts;
} Case;

static void
check_cases (const Case *cases,
             gsize       n,
             BwTerms     terms)
{
  for (gsize i = 0; i < n; i++)
    {
      g_autoptr (BwPattern) pattern = read_text (cases[i].text, (int) terms);
      g_autofree char *counts = counts_of (pattern, cases[i].size);

      g_test_message ("%s", cases[i].text);
      g_assert_cmpuint (pattern->errors->len, ==, 0);
      g_assert_cmpstr (counts, ==, cases[i].counts);
    }
}

static void
test_rounds (void)
{
  static const Case cases[] = {
    { "Rnd 1: 6 dc in ring. (6)\nRnd 2: 2 dc in each st around. (12 sts)", 0, "1:6 2:12" },
    { "Rnd 1: 6 dc in magic ring (6)\nRnd 2: [2 dc in next st] 6 times (12)\n"
      "Rnd 3: [dc, 2 dc in next st] x 6 (18)", 0, "1:6 2:12 3:18" },
    { "Rnd 1: Magic ring, 8 dc. (8)\nRnd 2: inc around (16)", 0, "1:8 2:16" },
    { "Rnd 1: Ch 2, 6 dc in 2nd ch from hook. [6]\nRnd 2: *2 dc in next st; rep from * to end. [12]",
      0, "1:6 2:12" },
    { "Ch 4, join with ss to form a ring.\n"
      "Rnd 1: Ch 3 (counts as tr), 11 tr in ring, join with ss in top of ch-3. (12 tr)\n"
      "Rnd 2: Ch 3 (counts as tr), tr in same st, 2 tr in each st around, join. (24 tr)",
      0, "0:4 1:12 2:24" },
    { "Ch 20.\nRow 1: Dc in 2nd ch from hook, dc in each ch across, turn. (19 sts)\n"
      "Row 2: Ch 1 (does not count as a st), dc in each st across, turn. (19 sts)\n"
      "Rows 3–10: Rep row 2.", 0, "0:20 1:19 2:19 3:19 4:19 5:19 6:19 7:19 8:19 9:19 10:19" },
    { "Ch 23.\nRow 1: Tr in 4th ch from hook (3 skipped ch count as tr), tr in each rem ch. (21 sts)",
      0, "0:23 1:21" },
    { "Ch 27, join with ss to first ch.\nRnd 1: dc in each ch around (27)\n"
      "Rnds 2, 4 and 6: [dc, dc2tog] around\nRnds 3 and 5: dc in each st around",
      0, "0:27 1:27 2:18 3:18 4:12 5:12 6:8" },
    { "Ch 60, join.\nRnd 1: *8 dc, dc2tog; rep from * 5 more times. — 54 sts\n"
      "Rnd 2: *7 dc, dc2tog, rep from * around. — 48 sts\nRnd 3: dc to last 2 sts, dc2tog. = 47 sts",
      0, "0:60 1:54 2:48 3:47" },
    { "Ch 10\nRow 1: ss in 2nd ch from hook and in each ch across, turn (9 sts)\n"
      "Rows 2–20: ss BLO in each st across, turn (9 sts)\nSew the short ends together.\n"
      "Rnd 1: Ch 1, 2 dc in each row end around, join with ss to first st. (40 sts)",
      0, "0:10 1:9 2:9 3:9 4:9 5:9 6:9 7:9 8:9 9:9 10:9 11:9 12:9 13:9 14:9 15:9 16:9 17:9 18:9 "
         "19:9 20:9 0:9 1:40" },
    { "Ch 12, join.\nRound 1: Work in back loops only, dc in each st around. (12)\n"
      "Next rnd: [dc2tog] 6 times. (6)\nCut yarn and thread through remaining 6 sts.",
      0, "0:12 1:12 2:6 0:0" },
    { "Ch 30, join with ss to first ch.\nRnd 1: dc in each ch around (30)\n"
      "Rnd 2: *miss 1 st, (tr, ch 1, tr) in next st, miss 1 st; rep from * around. (20 tr, 10 ch-sps)\n"
      "Rnd 3: [miss 1 st, (tr, ch 1, tr) in next ch-sp, miss 1 st] around (30 sts)",
      0, "0:30 1:30 2:30 3:30" },
    { "R1: 6 dc in ring (6)\nR2: 2 dc in each st (12)\nR3-R4: dc in each st (12)", 0, "1:6 2:12 3:12 4:12" },
    /* numbers of a chain that is taken out are no stitch count */
    { "Ch 12 (8)\nRnd 1: dc in each ch around", 0, "0:12 1:12" },
    { "1st row: Ch 12, dc in 2nd ch from hook, dc in each ch to end. (11 dc)\n"
      "2nd row: Ch 1, dc in each dc to end. (11 dc)", 0, "1:11 2:11" },
  };

  check_cases (cases, G_N_ELEMENTS (cases), BW_TERMS_UK);
}

static void
test_us (void)
{
  static const Case cases[] = {
    { "Rnd 1: 6 sc in ring. (6)\nRnd 2: 2 sc in each st around. (12 sc)", 0, "1:6 2:12" },
    { "Ch 40, join with sl st to first ch.\n"
      "Rnd 1: Ch 2 (counts as hdc), hdc in each of next 39 ch, sl st in top of ch-2. (40 hdc)\n"
      "Rnd 2: Ch 2 (counts as hdc), *hdc in next 6 sts, hdc2tog; rep from * 3 more times, "
      "hdc in next 7 sts, join with sl st to top of beg ch. (36 hdc)", 0, "0:40 1:40 2:36" },
    { "Ch 20, join.\nRnd 1: sk next st, sc in next st, *sk 1 st, 2 sc in next st; rep from * to end",
      0, "0:20 1:19" },
    { "Ch 20, join.\nRnd 1: FPdc around next st, BPdc around each of next 3 sts, 16 dc (20)",
      0, "0:20 1:20" },
    { "Ch 20, join.\nRnd 1: Sc in back loops only of each st around. (20)\n"
      "Rnd 2: With B, sc BLO in each st around, change to A in last st. (20)", 0, "0:20 1:20 2:20" },
    { "Ch 12, join.\nRnd 1: sc2tog 6 times (6)", 0, "0:12 1:6" },
    { "Ch 12, join.\nRnd 1: sc2tog around (6)", 0, "0:12 1:6" },
    { "Ch 12, join.\nRnd 1: {2 sc, [sc2tog] twice} 2 times (8)", 0, "0:12 1:8" },
  };

  check_cases (cases, G_N_ELEMENTS (cases), BW_TERMS_US);
}

#define SIZED "UK terms\nSizes: S (M, L)\n"

static void
test_sizes (void)
{
  static const Case cases[] = {
    { SIZED "Ch 48 (56, 64), join.\nRnd 1: dc in each ch around. (48 (56, 64) sts)", 0,
      "0:48 1:48" },
    { SIZED "Ch 48 (56-64), join.\nRnd 1: [6 dc, dc2tog] 6 [7-8] times. [42 (49, 56)]", 2,
      "0:64 1:56" },
    { SIZED "Ch 48 (56, 64), join.\nRnds 1–2 (1–3, 1–3): dc in each st around\n"
      "Rnd 3 (4, 4): [6 dc, dc2tog] around (42, 49, 56)", 1, "0:56 1:56 2:56 3:56 4:49" },
    { SIZED "Ch 48 (56, 64), join.\nSizes M and L only: Rnd 1: dc in each st around (56 (64))\n"
      "Rnd 1 (2, 2): [6 dc, dc2tog] around (42 (49, 56) sts)", 0, "0:48 1:42" },
    { SIZED "Ch 48 (56, 64), join.\nSizes M and L only: Rnd 1: dc in each st around (56 (64))\n"
      "Rnd 1 (2, 2): [6 dc, dc2tog] around (42 (49, 56) sts)", 2, "0:64 1:64 2:56" },
    { SIZED "Ch 48 (56, 64), join.\nRnd – (1, 1): dc in each st around (– (56, 64) sts)\n"
      "Rnd 1 (2, 2): [6 dc, dc2tog] around (42 (49, 56) sts)", 0, "0:48 1:42" },
    { SIZED "Ch 48 (56, 64), join.\nRnd 1: 0 (4, 4) dc, dc in next 48 (52, 60) sts", 0, "0:48 1:48" },
    { SIZED "Ch 48 (56, 64), join.\nSize S only: Rnd 1: [2 dc, dc2tog] 12 times (36 sts)", 1, "0:56" },
  };

  check_cases (cases, G_N_ELEMENTS (cases), BW_TERMS_UK);
}

static void
test_terms (void)
{
  static const struct { const char *text; BwTerms terms; BwTermsFrom from; } cases[] = {
    { "This pattern uses UK terms.\nRnd 1: 6 dc in ring", BW_TERMS_UK, BW_TERMS_STATED },
    { "Written in US crochet terms\nRnd 1: 6 dc in ring", BW_TERMS_US, BW_TERMS_STATED },
    { "Terms: UK\nRnd 1: 6 dc in ring", BW_TERMS_UK, BW_TERMS_STATED },
    { "Rnd 1: 6 sc in ring", BW_TERMS_US, BW_TERMS_FROM_WORDS },
    { "Rnd 1: 6 htr in ring", BW_TERMS_UK, BW_TERMS_FROM_WORDS },
    { "Tension: 16 dc to 10 cm\nRnd 1: 6 dc in ring", BW_TERMS_UK, BW_TERMS_FROM_WORDS },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (BwPattern) pattern = read_text (cases[i].text, BW_TERMS_UNSAID);

      g_assert_cmpint (pattern->terms, ==, cases[i].terms);
      g_assert_cmpint (pattern->terms_from, ==, cases[i].from);
    }
}

static void
test_refusals (void)
{
  static const struct { const char *text; int code; } cases[] = {
    { "", BW_ERROR_SYNTAX },
    { "A hat for a windy day.\nIt is warm.", BW_ERROR_SYNTAX },
    { "Rnd 1: 6 dc in ring", BW_ERROR_MISSING },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (GError) error = NULL;

      g_assert_null (bw_pattern_read (reference->stitches, cases[i].text, -1, BW_TERMS_UNSAID,
                                      &error));
      g_assert_error (error, BW_ERROR, cases[i].code);
    }
}

/* One bad line is named by its place; the rest is read. */
static void
test_errors (void)
{
  static const struct { const char *text; guint line, column; const char *counts; } cases[] = {
    { "Ch 9, join.\nRnd 1: zz in each st. (9)\nRnd 2: dc in each st around (9)", 2, 8,
      "0:9 1:0 2:0" },
    { "Ch 9, join.\nRnd 1: [dc, dc2tog 3 times (6)\nRnd 2: dc in each st around (6)", 2, 28,
      "0:9 1:0 2:0" },
    { "Ch 9, join.\r\nRnd 1: dc around (9)\r\nRnd 2: 3 dc, dc2tog dc2tog, 2 dc (7)", 3, 21,
      "0:9 1:9 2:0" },
    { "Ch 9, join.\nRnd 1: [dc] 999999999999 times (9)", 2, 13, "0:9 1:0" },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (BwPattern) pattern = read_text (cases[i].text, BW_TERMS_UK);
      g_autofree char *counts = counts_of (pattern, 0);
      guint line, column;

      g_assert_cmpuint (pattern->errors->len, ==, 1);
      bw_pattern_place (pattern, g_array_index (pattern->errors, BwPatternError, 0).offset, &line,
                        &column);
      g_assert_cmpuint (line, ==, cases[i].line);
      g_assert_cmpuint (column, ==, cases[i].column);
      g_assert_cmpstr (counts, ==, cases[i].counts);
    }
}

/* Wrapped lines, typographic marks and line ends of every kind. */
static void
test_layout (void)
{
  static const char *const texts[] = {
    "Ch 12, join.\nRnd 1: [dc, dc2tog]\n4 times (8 sts)",
    "Ch 12, join.\rRnd 1: [dc,\rdc2tog] 4 times (8 sts)\r",
    "\xef\xbb\xbf" "Ch 12, join.\r\n\r\n  \xe2\x80\xa2 Rnd 1: [dc, dc2tog] \xc3\x97 4\r\n(8 sts)\r\n",
    "Ch\xc2\xa0" "12, join.\nRnd\xc2\xa0" "1\xe2\x80\x94[dc, dc2tog] 4\xe2\x80\xaftimes \xe2\x80\x94 8 sts.",
    "Ch 12, join.\nRnd 1 \xe2\x80\x93 *dc, dc2tog; rep from *\naround. (8 sts)",
    "Ch 12, join.\nRND 1: *DC, DC2TOG* REP AROUND. (8 STS)",
  };

  for (guint i = 0; i < G_N_ELEMENTS (texts); i++)
    {
      g_autoptr (BwPattern) pattern = read_text (texts[i], BW_TERMS_UK);
      g_autofree char *counts = counts_of (pattern, 0);

      g_test_message ("%s", texts[i]);
      g_assert_cmpuint (pattern->errors->len, ==, 0);
      g_assert_cmpstr (counts, ==, "0:12 1:8");
    }
}

/* Nothing that can be typed takes long or much. */
static void
test_nasty (void)
{
  g_autoptr (GString) text = g_string_new ("Ch 9, join.\nRnd 1: ");
  g_autoptr (BwPattern) brackets = NULL;
  g_autoptr (BwPattern) rounds = NULL;
  g_autoptr (BwPattern) bytes = NULL;

  for (guint i = 0; i < 10000; i++)
    g_string_append_c (text, '[');
  brackets = read_text (text->str, BW_TERMS_UK);
  g_assert_cmpuint (brackets->errors->len, ==, 1);

  g_string_assign (text, "Ch 9, join.\n");
  for (guint i = 1; i < 100; i++)
    g_string_append_printf (text, "Rnds %u–100000: Rep rnds 1–99999.\n", i);
  rounds = read_text (text->str, BW_TERMS_UK);
  bw_pattern_rounds_free (bw_pattern_evaluate (rounds, 0));

  bytes = read_text ("Ch 9, join.\nRnd 1: dc around\nRnd 2: dc \xff\x01 around", BW_TERMS_UK);
  g_assert_cmpuint (bytes->errors->len, >=, 1);
}

static GString *
repeated (const char *begin,
          const char *piece,
          gsize       bytes)
{
  GString *text = g_string_new (begin);

  while (text->len < bytes)
    g_string_append (text, piece);
  return text;
}

/* Shapes that a reader which looks twice at what it has seen takes hours for:
 * each is hundreds of thousands of bytes of one piece. */
static void
test_long (void)
{
  static const char *const begins[] = {
    "Ch 9, join.\nRnd 1: dc around\n", "Ch 9, join.\nRnd 1: dc in first st ", "Sizes\n", "Gauge\n",
    "Materials\n", "Abbreviations\n", "Ch 9, join.\nRnd 1: ",
  };
  static const char *const pieces[] = {
    "[", "(", "*", "1 ", "1 (", "- (", "1, ", "1/", "1% ", "1 cm ", "1 st ", "1 st = 1 cm\nx\n",
    "-hook", "5 mm hook ", "A, ", "A: 1 m\n", "and in first st ", "and in each st ", "dc, ", "x 6 ", "\n",
    "\r", "\t", "\x01", "\xff", "Rnd 1: ", "Rnd 1: dc\n", "Rnds 1-100000: rep rnds 1-99999.\n",
    "rep last rnd.\n", "Size S only:\n", "9", "a", "\xc2\xbd ", "*dc** ", "rep from * ", "{dc} 6 times (",
  };

  for (guint i = 0; i < G_N_ELEMENTS (begins); i++)
    for (guint k = 0; k < G_N_ELEMENTS (pieces); k++)
      {
        g_autoptr (GString) text = repeated (begins[i], pieces[k], i == 0 ? 400000 : 60000);
        g_autoptr (BwPattern) pattern = NULL;
        gint64 start = g_get_monotonic_time ();

        pattern = bw_pattern_read (reference->stitches, text->str, (gssize) text->len, BW_TERMS_UK,
                                   NULL);
        if (pattern != NULL)
          bw_pattern_rounds_free (bw_pattern_evaluate (pattern, 0));
        g_test_message ("%u %u: %.0f ms", i, k, (double) (g_get_monotonic_time () - start) / 1000);
        g_assert_cmpint (g_get_monotonic_time () - start, <, 20 * G_USEC_PER_SEC);
      }
}

/* Ten megabytes, with a bad line among good ones: it is named, they are read. */
static void
test_large (void)
{
  g_autoptr (GString) text = repeated ("Ch 9, join.\n", "Rnd 1: [dc, dc2tog] 3 times (6)\n"
                                       "Rnd 2: [dc, 2 dc in next st] 3 times (9)\n", 5000000);
  g_autoptr (BwPattern) pattern = NULL;
  gsize good = text->len;
  guint line, column;

  g_string_append (text, "Rnd 3: dc in each zz around (9)\n");
  while (text->len < 10000000)
    g_string_append (text, "Rnd 1: dc in each st around (9)\n");
  pattern = read_text (text->str, BW_TERMS_UK);
  g_assert_cmpuint (pattern->errors->len, ==, 1);
  bw_pattern_place (pattern, g_array_index (pattern->errors, BwPatternError, 0).offset, &line,
                    &column);
  g_assert_cmpuint (line, ==, 2 + 2 * (good - strlen ("Ch 9, join.\n")) / 73);
  g_assert_cmpuint (column, ==, 19);
  g_assert_cmpuint (pattern->lines->len, >, 200000);
}

int
main (int    argc,
      char **argv)
{
  int status;

  g_test_init (&argc, &argv, NULL);
  reference = bw_reference_builtin (NULL);
  g_assert_nonnull (reference);
  g_test_add_func ("/pattern/rounds", test_rounds);
  g_test_add_func ("/pattern/us", test_us);
  g_test_add_func ("/pattern/sizes", test_sizes);
  g_test_add_func ("/pattern/terms", test_terms);
  g_test_add_func ("/pattern/refusals", test_refusals);
  g_test_add_func ("/pattern/errors", test_errors);
  g_test_add_func ("/pattern/layout", test_layout);
  g_test_add_func ("/pattern/nasty", test_nasty);
  g_test_add_func ("/pattern/long", test_long);
  g_test_add_func ("/pattern/large", test_large);
  status = g_test_run ();
  bw_reference_free (reference);
  return status;
}
