#include <glib.h>
#include <string.h>

#include "bw-pattern-audit.h"
#include "bw-reference-builtin.h"

/* What the audit of a written pattern finds, and that it finds nothing where
 * nothing is wrong. All text is our own. */

static BwReference *reference;

/* "B02@2 B04@3": identifiers and lines of all findings but notes. */
static char *
found (const char *text,
       int         terms)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (BwPattern) pattern = bw_pattern_read (reference->stitches, text, -1, terms, &error);
  g_autoptr (GArray) findings = NULL;
  GString *out = g_string_new (NULL);

  g_assert_no_error (error);
  findings = bw_pattern_audit (pattern);
  for (guint i = 0; i < findings->len; i++)
    {
      const BwPatternFinding *finding = &g_array_index (findings, BwPatternFinding, i);

      if (finding->severity == BW_SEVERITY_NOTE || finding->kind == BW_FINDING_TERMS_UNSAID)
        continue;
      g_string_append_printf (out, "%s%s@%u", out->len > 0 ? " " : "",
                              bw_finding_code (finding->kind), finding->line);
      if (finding->sizes != 0 && pattern->n_sizes > 1)
        for (guint k = 0; k < pattern->n_sizes; k++)
          if (finding->sizes >> k & 1)
            g_string_append_printf (out, "%c", (char) ('a' + k));
      if (finding->mended != NULL)
        g_string_append_printf (out, "=%s", finding->mended);
    }
  return g_string_free (out, FALSE);
}

typedef struct
{
  const char *text;
  const char *found;
} Case;

static void
check (const Case *cases,
       gsize       n)
{
  for (gsize i = 0; i < n; i++)
    {
      g_autofree char *list = found (cases[i].text, BW_TERMS_UK);

      g_test_message ("%s", cases[i].text);
      g_assert_cmpstr (list, ==, cases[i].found);
    }
}

static void
test_counts (void)
{
  static const Case cases[] = {
    { "Ch 18, join.\nRnd 1: dc in each ch around (18)\nRnd 2: [dc, dc2tog] 6 times (12)", "" },
    { "Ch 18, join.\nRnd 1: dc in each ch around (18)\nRnd 2: [dc, dc2tog] 6 times (13)", "B02@3=12" },
    { "Ch 18, join.\nRnd 1: dc in each ch around (18)\nRnd 2: [dc, dc2tog] 5 times (12)", "B04@3=6" },
    { "Ch 18, join.\nRnd 1: dc in each ch around (18)\nRnd 2: [2 dc, dc2tog] 6 times (12)", "B01@3" },
    { "Ch 18, join.\nRnd 1: dc in each ch around (18)\nRnd 2: [3 dc, dc2tog] around", "B03@3" },
    { "Ch 18, join.\nRnd 1: dc in each ch around (18)\nRnd 2: dc to last 3 sts, dc2tog (17)", "B03@3" },
    { "Ch 18, join.\nRnd 1: *dc, dc2tog; rep from * 4 more times (12)", "B04@2=5" },
    /* "4 times" may mean in all or more */
    { "Ch 18, join.\nRnd 1: *dc, dc2tog; rep from * 5 times (12)\n"
      "Rnd 2: *dc, dc2tog; rep from * 3 times (8)", "" },
    { "Ch 18, join.\nRnd 1: *dc, dc2tog; rep from * 6 times (12)\n"
      "Rnd 2: *dc, dc2tog; rep from * 4 times (8)", "" },
    { "Ch 18, join.\nRnd 1: *dc, dc2tog; rep from * 6 times (12)\n"
      "Rnd 2: *dc, dc2tog; rep from * 3 times (8)", "B04@2=5" }, /* but not both in one text */
    /* a fault stays in its place */
    { "Ch 18, join.\nRnd 1: dc in each ch around (18)\nRnd 2: [dc, dc2tog] 6 times (13)\n"
      "Rnd 3: dc in each st around (12)\nRnd 4: dc2tog around (6)", "B02@3=12" },
    { "Ch 18, join.\nRnd 1: dc in each ch around (18)\nRnd 2: [dc, dc2tog] 6 times (13)\n"
      "Rnd 3: dc in each st around\nRnd 4: dc2tog around (6)", "B02@3=12" },
    { "Ch 18, join.\nRnd 1: dc in each ch around (18)\nRnd 2: dc in each st around (12)\n"
      "Rnd 3: dc in each st around\nRnd 4: dc2tog around (6)", "B02@3=18" },
    /* drawn up */
    { "Ch 18, join.\nRnd 1: [dc, dc2tog] 6 times (12)\nThread the end through the 11 sts left.",
      "B02@3=12" },
    { "Ch 18, join.\nRnd 1: dc in each ch around (18)\nThread the end through the 18 sts left.",
      "B34@3" },
    /* short rows leave stitches, and say so */
    { "Ch 11.\nRow 1: dc in 2nd ch from hook, dc in each ch across, turn (10)\n"
      "Row 2: ch 1, 6 dc, turn, leaving the rest unworked (6)", "" },
    { "Ch 11.\nRow 1: dc in 2nd ch from hook, dc in each ch across, turn (10)\n"
      "Row 2: ch 1, 6 dc, turn (6)", "B01@3" },
    /* two readings of a number before a stitch */
    { "Rnd 1: 6 dc in ring (6)\nRnd 2: [dc, 2 dc] 3 times (9)", "B37@2" },
    /* the join counted */
    { "Ch 18, join.\nRnd 1: dc in each ch around, join with ss to first st (18)\n"
      "Rnd 2: dc in each st around, join with ss to first st (19)\n"
      "Rnd 3: dc in each st around, join with ss to first st (20)\n"
      "Rnd 4: dc in each st around, join with ss to first st (21)", "B20@3=18" },
    /* spread as one likes */
    { "Ch 18, join.\nRnd 1: dc in each ch around (18)\nRnd 2: 6 dc2tog evenly around (12)", "" },
  };

  check (cases, G_N_ELEMENTS (cases));
}

#define SIZED "Sizes: S (M, L)\nCh 18 (24, 30), join.\n"

static void
test_sizes (void)
{
  static const Case cases[] = {
    { SIZED "Rnd 1: [dc, dc2tog] 6 (8, 10) times (12 (16, 20))", "" },
    { SIZED "Rnd 1: [dc, dc2tog] 6 (7, 10) times (12 (16, 20))", "B04@3b=8" },
    { SIZED "Rnd 1: [dc, dc2tog] 6 (8, 10) times (12 (15, 19))", "B02@3b=16 B02@3c=20" },
    { SIZED "Rnd 1: [dc, dc2tog] 6 (8) times (12 (16, 20))", "B06@3" },
    { SIZED "Rnd 1: [dc, dc2tog] around (12 (16) sts)", "B06@3" },
    { SIZED "Rnd 1 (2): [dc, dc2tog] around (12 (16, 20) sts)", "B06@3" },
    { SIZED "Sizes M and L only: Rnd 1: dc in each st around (24 (30))\n"
      "Rnd 1 (2, 2): [dc, dc2tog] around (12 (16, 20) sts)", "" },
    { SIZED "Sizes M and L only: Rnd 1: dc in each st around (24 (30))\n"
      "Rnd 1: [dc, dc2tog] around (12 (16, 20) sts)", "B10@4bc" },
  };

  check (cases, G_N_ELEMENTS (cases));
}

static void
test_labels (void)
{
  static const Case cases[] = {
    { "Ch 9, join.\nRnd 1: dc around (9)\nRnds 2, 4 and 6: dc around (9)\n"
      "Rnds 3 and 5: dc BLO around (9)\nRnds 7–9: dc around (9)", "" },
    { "Ch 9, join.\nRnd 1: dc around (9)\nRnd 3: dc around (9)", "B09@3" },
    { "Ch 9, join.\nRnd 1: dc around (9)\nRnd 2: dc around (9)\nRnd 2: dc around (9)", "B09@4" },
    { "Ch 9, join.\nRnd 1: dc around (9)\nRnds 2–4: dc around (9)\nRnds 4–6: dc around (9)", "B09@4" },
    { "Ch 9, join.\nRnd 2: dc around (9)\nRnd 3: dc around (9)", "B09@2" },
    { "Rnd 7: dc around (9)\nRnd 8: dc around (9)", "" },
    /* one wrong number is one finding */
    { "Ch 18, join.\nRnd 1: dc around (18)\nRnd 20: [dc, dc2tog] around (12)\nRnd 3: dc around (12)",
      "B09@3" },
    /* a round dropped: what is above it does not stand on what is below */
    { "Ch 18, join.\nRnd 1: dc around (18)\nRnd 3: dc in next 12 sts (12)\nRnd 4: dc around (12)",
      "B09@3" },
    { "Ch 10.\nRow 1: dc in 2nd ch from hook and in each ch across (9)\nRows 2–9: dc in each st (9)\n"
      "Sew the ends together.\nRnd 1: dc in each row end (9)\nRnd 2: dc around (9)", "" },
    { "Ch 10.\nRow 1: dc in 2nd ch from hook and in each ch across (9)\nRows 2–9: dc in each st (9)\n"
      "Sew the ends together.\nRnd 10: dc in each row end (9)\nRnd 11: dc around (9)", "" },
    { "Ch 10.\nRow 1: dc in 2nd ch from hook and in each ch across (9)\nRows 2–9: dc in each st (9)\n"
      "Sew the ends together.\nRnd 1: [dc in next row end] 8 times (8)", "B35@5" },
    { "Ch 9, join.\nRnd 1: zz around (9)", "T01@2" },
  };

  check (cases, G_N_ELEMENTS (cases));
}

/* The way of working, in parts of patterns. */
static void
test_way (void)
{
#define ROWS "Ch 10.\nRow 1: dc BLO in 2nd ch from hook and in each ch across (9)\n"
#define JOIN "Sew the ends together.\n"
  static const Case cases[] = {
    { "Ch 9, join.\nRnd 1: Ch 2, htr in each ch around (9)\nRnd 2: Ch 2, htr around (9)", "B18@2" },
    { "Ch 9, join.\nRnd 1: Ch 2 (does not count as a st), htr in each ch around (9)\n"
      "Rnd 2: Ch 2, htr around (9)", "" },
    { "Ch 9, join.\nRnd 1: Ch 1, dc in each ch around (9)\nRnd 2: Ch 1, dc around (9)", "" },
    { "Ch 9, join.\nRnd 1: Ch 3 (counts as tr), 8 tr, join (9)", "B19@2" },
    { "Ch 9, join.\nRnd 1: Ch 3 (counts as tr), 8 tr, join with ss to top of ch-3 (9)", "" },
    { "Rounds are joined with ss to the first stitch.\nCh 9, join.\nRnd 1: ch 1, 9 dc, join (9)", "" },
    { "Ch 9, join.\nRnd 1: 9 dc (9)\nRnd 2: dc BLO around (9)\nRnds 3–8: Rep rnds 1–2.", "" },
    { "Ch 9, join.\nRnd 1: 9 dc (9)\nRnd 2: dc BLO around (9)\nRnds 3–7: Rep rnds 1–2.", "B11@4" },
    { "Ch 9, join.\nRnd 1: 9 dc (9)\nRnd 2: dc BLO around (9)\nRnds 3–7: Rep rnds 1–2, ending with "
      "rnd 1.", "" },
    { "Ch 9, join.\nRnd 1: 9 dc (9)\nRnd 2: dc BLO around (9)\nRnds 3–8: Rep rnds 1–2 4 times.",
      "B11@4" },
    { "Ch 9, join.\nRnd 1: 9 dc (9)\nRnd 2: dc BLO around (9)\nRnds 3–8: Rep rnds 4–5.", "B11@4" },
    { ROWS "Rows 2–8: dc BLO in each st (9)\n" JOIN "Rnd 1: dc in each row end (8)", "" },
    { ROWS "Rows 2–9: dc BLO in each st (9)\n" JOIN "Rnd 1: dc in each row end (9)", "B36@4" },
    { ROWS "Rows 2–8: dc BLO in each st (9)\n" JOIN
      "Rnd 1: [3 dc in next row end, miss 1 row end] 4 times (12)", "B35@5" },
    { ROWS "Rows 2–8: dc BLO in each st (9)\n" JOIN
      "Rnd 1: [dc in next row end, miss 3 row ends] 2 times (2)", "B35@5" },
    { "Ch 12, join.\nRnd 1: ss around (12)\nRnd 2: [FPtr, BPtr] around (12)\n"
      "Rnd 3: [FPtr, BPtr] around (12)", "B31@3" },
    { "Ch 12, join.\nRnd 1: tr around (12)\nRnds 2–6: [FPtr, BPtr] around (12)\n"
      "Rnd 7: [BPtr, FPtr] around (12)\nRnds 8–12: [FPtr, BPtr] around (12)", "B32@4" },
    { "Ch 12, join.\nRnd 1: tr around (12)\nRnds 2–3: [FPtr, BPtr] around (12)\n"
      "Rnds 4–5: [BPtr, FPtr] around (12)\nRnds 6–7: [FPtr, BPtr] around (12)", "" },
  };

  check (cases, G_N_ELEMENTS (cases));
}

int
main (int    argc,
      char **argv)
{
  int status;

  g_test_init (&argc, &argv, NULL);
  reference = bw_reference_builtin (NULL);
  g_assert_nonnull (reference);
  g_test_add_func ("/pattern-audit/counts", test_counts);
  g_test_add_func ("/pattern-audit/sizes", test_sizes);
  g_test_add_func ("/pattern-audit/labels", test_labels);
  g_test_add_func ("/pattern-audit/way", test_way);
  status = g_test_run ();
  bw_reference_free (reference);
  return status;
}
