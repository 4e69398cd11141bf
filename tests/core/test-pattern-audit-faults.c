#include <glib.h>
#include <string.h>

#include "bw-pattern-audit.h"
#include "bw-reference-builtin.h"

/* One clean pattern, and one thing spoiled in it at a time: what is found is that
 * and nothing else. All text is our own; hat, yarn and studio are invented. */

static BwReference *reference;

static const char clean[] =
  "Sandling Hat\n"
  "Written in UK terms. Skill level: easy.\n"
  "\n"
  "Sizes\n"
  "Sizes: S (M, L)\n"
  "To fit head: 50 (54, 58) cm / 20 (21½, 23¼) in\n"
  "Finished girth: 46 (50, 54) cm / 18½ (20, 21½) in\n"
  "Depth: 20 (21, 22) cm / 8 (8½, 8¾) in\n"
  "Brim, relaxed: 40 (43.5, 47) cm\n"
  "\n"
  "Materials\n"
  "Yarn: harbour wool, aran; 90 m (98 yd) in a ball of 50 g (1.76 oz)\n"
  "A (Slate): 120 (135, 150) m; 2 (2, 2) balls\n"
  "B (Rope): 30 (35, 40) m; 1 (1, 1) balls\n"
  "Hook: 5 mm\n"
  "\n"
  "Tension\n"
  "Body: 15 sts and 18 rounds = 10 cm (4 in) in dc, worked in rounds on the 5 mm hook, washed\n"
  "Brim: 27 rows = 10 cm\n"
  "\n"
  "Abbreviations\n"
  "BLO: back loop only\n"
  "ch: chain\n"
  "dc: double crochet\n"
  "dc2tog: double crochet two together\n"
  "FPtr: front post treble\n"
  "RS: right side\n"
  "rnd(s): round(s)\n"
  "ss: slip stitch\n"
  "st(s): stitch(es)\n"
  "WS: wrong side\n"
  "\n"
  "Notes\n"
  "The beginning chain does not count as a stitch.\n"
  "\n"
  "Instructions\n"
  "\n"
  "Brim\n"
  "With A, ch 10.\n"
  "Row 1 (RS): Ss in 2nd ch from hook and in each ch across, turn. (9 sts)\n"
  "Row 2 (WS): Ch 1, ss BLO in each st across, turn. (9 sts)\n"
  "Rows 3–108 (3–118, 3–126): Ch 1, ss BLO in each st across, turn. (9 sts)\n"
  "Sew the ends together to a ring.\n"
  "\n"
  "Band\n"
  "Rnd 1: With A, ch 1, [dc in next 2 row ends, miss 1 row end] 30 (32, 36) times, [dc in next row "
  "end, miss 1 row end] 9 (11, 9) times, join with ss to first st. (69 (75, 81) sts)\n"
  "Rnd 2: With A, ch 1, dc in each st around, join with ss to first st. (69 (75, 81) sts)\n"
  "Rnd 3: With B, ch 1, [2 dc, FPtr 2 rnds below] around, join with ss to first st. (69 (75, 81) "
  "sts)\n"
  "Rnd 4: With B, ch 1, dc in each st around, join with ss to first st. (69 (75, 81) sts)\n"
  "Rnds 5–6: With A, ch 1, dc in each st around, join with ss to first st. (69 (75, 81) sts)\n"
  "Rnds 7–8: With B, ch 1, dc in each st around, join with ss to first st. (69 (75, 81) sts)\n"
  "Rnds 9–10: With A, ch 1, dc in each st around, join with ss to first st. (69 (75, 81) sts)\n"
  "Rnds 11–12: With B, ch 1, dc in each st around, join with ss to first st. (69 (75, 81) sts)\n"
  "Rnds 13–14: With A, ch 1, dc in each st around, join with ss to first st. (69 (75, 81) sts)\n"
  "Rnds 15–16: With B, ch 1, dc in each st around, join with ss to first st. (69 (75, 81) sts)\n"
  "Rnds 17–20 (17–22, 17–24): With A, ch 1, dc in each st around, join with ss to first st. (69 (75, "
  "81) sts)\n"
  "The hat measures 46 (50, 54) cm round.\n"
  "\n"
  "Crown\n"
  "Rnd 21 (23, 25): Ch 1, [21 (23, 25) dc, dc2tog] 3 times, join with ss to first st. (66 (72, 78) "
  "sts)\n"
  "Rnd 22 (24, 26): Ch 1, [9 (10, 11) dc, dc2tog] 6 times, join with ss to first st. (60 (66, 72) "
  "sts)\n"
  "Rnd 23 (25, 27): Ch 1, [8 (9, 10) dc, dc2tog] 6 times, join with ss to first st. (54 (60, 66) "
  "sts)\n"
  "Rnd – (26, 28): Ch 1, [– (8, 9) dc, dc2tog] 6 times, join with ss to first st. (– (54, 60) sts)\n"
  "Size L only: Rnd 29: Ch 1, [8 dc, dc2tog] 6 times, join with ss to first st. (54 sts)\n"
  "Rnd 24 (27, 30): Ch 1, [7 dc, dc2tog] 6 times, join with ss to first st. (48 sts)\n"
  "Rnd 25 (28, 31): Ch 1, [6 dc, dc2tog] 6 times, join with ss to first st. (42 sts)\n"
  "Rnd 26 (29, 32): Ch 1, [5 dc, dc2tog] 6 times, join with ss to first st. (36 sts)\n"
  "Rnd 27 (30, 33): Ch 1, [4 dc, dc2tog] 6 times, join with ss to first st. (30 sts)\n"
  "Rnd 28 (31, 34): Ch 1, [3 dc, dc2tog] 6 times, join with ss to first st. (24 sts)\n"
  "Rnd 29 (32, 35): Ch 1, [2 dc, dc2tog] 6 times, join with ss to first st. (18 sts)\n"
  "Rnd 30 (33, 36): Ch 1, [dc, dc2tog] 6 times, join with ss to first st. (12 sts)\n"
  "Cut A and thread the end through the 12 sts left.\n"
  "\n"
  "Finishing\n"
  "Weave in the ends.\n"
  "\n"
  "Version 1.2, March 2026\n"
  "© an invented harbour studio. Questions: studio@example.com\n";

static char *
with (const char *find,
      const char *replace)
{
  const char *at = strstr (clean, find);

  g_assert_nonnull (at);
  return g_strdup_printf ("%.*s%s%s", (int) (at - clean), clean, replace, at + strlen (find));
}

/* Identifiers of all findings, each once, and whether one of them is in the line
 * of `offset`; those of notes only if `notes`. */
static char *
found (const char *text,
       guint32     offset,
       gboolean    notes,
       gboolean   *placed)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (BwPattern) pattern = bw_pattern_read (reference->stitches, text, -1, BW_TERMS_UK,
                                                   &error);
  g_autoptr (GArray) findings = NULL;
  GString *out = g_string_new (NULL);
  guint line, column;

  g_assert_no_error (error);
  findings = bw_pattern_audit_by (pattern, reference);
  bw_pattern_place (pattern, offset, &line, &column);
  *placed = FALSE;
  for (guint i = 0; i < findings->len; i++)
    {
      const BwPatternFinding *finding = &g_array_index (findings, BwPatternFinding, i);
      const char *code = bw_finding_code (finding->kind);

      if (finding->severity == BW_SEVERITY_NOTE && !notes)
        continue;
      *placed |= finding->line == line;
      if (strstr (out->str, code) == NULL)
        g_string_append_printf (out, "%s%s", out->len > 0 ? " " : "", code);
      g_test_message ("%s kind %d line %u: %g %g %g", code, finding->kind, finding->line, finding->a,
                      finding->b, finding->c);
    }
  return g_string_free (out, FALSE);
}

static void
test_clean (void)
{
  gboolean placed;
  g_autofree char *list = found (clean, 0, TRUE, &placed);

  g_assert_cmpstr (list, ==, "");
}

typedef struct
{
  const char *code;
  const char *find;
  const char *replace;
  gboolean    elsewhere; /* told in another line than the one that is spoiled */
} Fault;

static const Fault faults[] = {
  { "B01", "[dc, dc2tog] 6 times", "[2 dc, dc2tog] 6 times", FALSE },
  { "B02", "6 times, join with ss to first st. (42 sts)", "6 times, join with ss to first st. (43 sts)",
    FALSE },
  { "B03", "[2 dc, FPtr 2 rnds below] around", "[3 dc, FPtr 2 rnds below] around", FALSE },
  { "B04", "[3 dc, dc2tog] 6 times", "[3 dc, dc2tog] 7 times", FALSE },
  { "B06", "(66 (72, 78) sts)", "(66 (72) sts)", FALSE },
  { "B06", "(– (54, 60) sts)", "(54 (54, 60) sts)", FALSE },
  { "B06", "30 (32, 36) times", "30 (32) times", FALSE },
  { "B07", "Depth: 20 (21, 22) cm / 8 (8½, 8¾) in", "Depth: 20 (22, 21) cm / 8 (8¾, 8½) in", FALSE },
  { "B09", "Rnds 9–10: With A", "Rnds 9–11: With A", TRUE },
  { "B09", "Rnd 25 (28, 31): Ch 1", "Rnd 26 (28, 31): Ch 1", FALSE },
  { "B10", "Rnd 21 (23, 25): Ch", "Rnd 21: Ch", FALSE },
  { "B11", "Rnds 7–8: With B, ch 1, dc in each st around, join with ss to first st. (69 (75, 81) sts)\n"
           "Rnds 9–10: With A, ch 1, dc in each st around, join with ss to first st. (69 (75, 81) "
           "sts)\n",
    "Rnds 7–8: Work as rnds 3–5. (69 (75, 81) sts)\nRnds 9–10: Work as rnds 12–13. (69 (75, 81) "
    "sts)\n", TRUE },
  { "B12", "Rows 3–108 (3–118, 3–126):", "Rows 3–108 (3–118, 3–126) (WS):", FALSE },
  { "B13", "dc2tog: double crochet two together\n", "", TRUE },
  { "B13", "BLO: back loop only\n", "", TRUE },
  { "B14", "ch: chain\n", "ch: chain\nhtr: half treble\n", TRUE },
  { "B15", "Ch 1, [7 dc, dc2tog] 6 times, join with ss", "Ch 1, [7 dc, dc2tog] 6 times, join with sl st",
    FALSE },
  { "B15", "Rnds 9–10: With A", "Rounds 9–10: With A", FALSE },
  { "B16", "[3 dc, dc2tog]", "[3 sc, sc2tog]", FALSE },
  { "B16", "Tension\n", "Gauge\n", FALSE },
  { "B17", "Written in UK terms. Skill", "Skill", TRUE },
  { "B18", "Rnd 4: With B, ch 1, dc", "Rnd 4: With B, ch 1 (counts as a st), dc", FALSE },
  { "B19", "Ch 1, [4 dc, dc2tog] 6 times, join with ss to first st.", "Ch 1, [4 dc, dc2tog] 6 times.",
    FALSE },
  { "B19", "Ch 1, [4 dc, dc2tog] 6 times, join with ss to first st.",
    "Ch 1, [4 dc, dc2tog] 6 times, join.", FALSE },
  { "B21", "15 sts and 18 rounds = 10 cm (4 in)", "15 sts = 10 cm (4 in)", FALSE },
  { "B21", "15 sts and 18 rounds = 10 cm (4 in)", "6 sts and 7.2 rounds = 4 cm", FALSE },
  { "B21", "Body: 15 sts and 18 rounds = 10 cm (4 in) in dc, worked in rounds on the 5 mm hook, "
           "washed\n", "", TRUE },
  { "B21", "hook, washed", "hook", FALSE },
  { "B22", "15 sts and 18 rounds", "17 sts and 18 rounds", TRUE },
  { "B22", "Brim: 27 rows", "Brim: 22 rows", TRUE },
  { "B23", "The hat measures 46 (50, 54) cm round.", "The hat measures 46 (52, 54) cm round.", FALSE },
  { "B24", "18½ (20, 21½) in", "18½ (21, 21½) in", FALSE },
  { "B25", "Brim, relaxed: 40 (43.5, 47) cm", "Brim, relaxed: 40 (43.55, 47) cm", FALSE },
  { "B26", "A (Slate): 120 (135, 150) m", "A (Slate): 120 (235, 150) m", FALSE },
  { "B26", "2 (2, 2) balls", "2 (2, 1) balls", FALSE },
  { "B26", "A (Slate): 120 (135, 150) m; 2 (2, 2) balls\nB (Rope): 30 (35, 40) m; 1 (1, 1) balls",
    "A (Slate)\nB (Rope)", TRUE },
  { "B27", "90 m (98 yd)", "90 m (90 yd)", FALSE },
  { "B27", "(1.76 oz)", "(3.5 oz)", FALSE },
  { "B27", "in a ball of 50 g (1.76 oz)", "in a ball of 20 g", FALSE },
  { "B28", "Rnds 11–12: With B", "Rnds 11–12: With C", FALSE },
  { "B28", "B (Rope): 30 (35, 40) m; 1 (1, 1) balls\n",
    "B (Rope): 30 (35, 40) m; 1 (1, 1) balls\nC (Lamp): 3 (3, 4) m; 1 (1, 1) balls\n", TRUE },
  { "B29", "Rnds 11–12: With B, ch 1, dc in each st around, join with ss to first st. (69 (75, 81) "
           "sts)\nRnds 13–14: With A",
    "Rnd 11: With B, ch 1, dc in each st around, join with ss to first st. (69 (75, 81) sts)\n"
    "Rnds 12–14: With A", TRUE },
  { "B30", "Hook: 5 mm\n", "Hook: 5 mm; 7 mm\n", FALSE },
  { "B30", "Hook: 5 mm\n", "Hook: 4.5 mm\n", TRUE },
  { "B31", "Rnd 3: With B, ch 1, [2 dc, FPtr 2 rnds below] around",
    "Rnd 3: With B, ch 1, [2 dc, FPtr 3 rnds below] around", FALSE },
  { "B33", "[6 dc, dc2tog] 6 times", "[5 dc, dc2tog] 5 times, 11 dc, dc2tog", FALSE },
  { "B34", "Rnd 30 (33, 36): Ch 1, [dc, dc2tog] 6 times, join with ss to first st. (12 sts)\n"
           "Cut A and thread the end through the 12 sts left.",
    "Cut A and thread the end through the 18 sts left.", FALSE },
  { "B35", "miss 1 row end] 30 (32, 36) times", "miss 1 row end] 31 (32, 36) times", FALSE },
  { "B37", "[5 dc, dc2tog] 6 times", "[5dc, dc2tog] 6 times", FALSE },
  { "B38", "[9 (10, 11) dc, dc2tog] 6 times", "(9 (10, 11) dc, dc2tog) 6 times", FALSE },
  /* and then a round is missing */
  { "B39 B09", "Size L only:", "Size XL only:", FALSE },
  { "B40", "© an invented harbour studio. Questions: studio@example.com\n", "", TRUE },
  { "B40", "Finishing\nWeave in the ends.\n", "", TRUE },
  { "B41", "Rnd 24 (27, 30): Ch 1, [7 dc, dc2tog] 6 times, join with ss to first st. (48 sts)",
    "Rnd 24 (27, 30): Follow the chart. (48 sts)", FALSE },
};

static void
test_fault (gconstpointer data)
{
  const Fault *fault = data;
  g_autofree char *text = with (fault->find, fault->replace);
  guint32 offset = (guint32) (strstr (clean, fault->find) - clean);
  gboolean placed;
  g_autofree char *list = found (text, offset, TRUE, &placed);

  g_test_message ("%s", fault->replace);
  g_assert_nonnull (strstr (list, fault->code));
  g_assert_cmpstr (list, ==, fault->code);
  g_assert_true (placed || fault->elsewhere);
}

int
main (int    argc,
      char **argv)
{
  int status;

  g_test_init (&argc, &argv, NULL);
  reference = bw_reference_builtin (NULL);
  g_assert_nonnull (reference);
  g_test_add_func ("/pattern-audit-faults/clean", test_clean);
  for (gsize i = 0; i < G_N_ELEMENTS (faults); i++)
    {
      g_autofree char *path = g_strdup_printf ("/pattern-audit-faults/%s-%zu", faults[i].code, i);

      g_test_add_data_func (path, &faults[i], test_fault);
    }
  status = g_test_run ();
  bw_reference_free (reference);
  return status;
}
