#include <glib.h>
#include <math.h>
#include <string.h>

#include "bw-pattern.h"
#include "bw-reference-builtin.h"

/* What a pattern says besides its work: gauge, hooks, yarn, sizes, abbreviations.
 * Each value is printed in one short way and compared. All text is our own. */

static BwReference *reference;

#define WORK "\nInstructions\nCh 9, join.\nRnd 1: dc in each ch around (9)\n"

static BwPattern *
read_front (const char *text)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *whole = g_strconcat ("A hat\nSizes: S (M, L)\n", text, WORK, NULL);
  BwPattern *pattern = bw_pattern_read (reference->stitches, whole, -1, BW_TERMS_UK, &error);

  g_assert_no_error (error);
  g_assert_cmpuint (pattern->errors->len, ==, 0);
  g_assert_cmpuint (pattern->lines->len, ==, 2);
  return pattern;
}

static void
put_quantity (const BwPattern  *pattern,
              const char       *name,
              const BwQuantity *quantity,
              GString          *out)
{
  static const char *const units[] = { "", "mm", "cm", "in", "m", "yd", "g", "oz", "%", "balls",
                                       "sts", "rnds", "rows" };

  if (quantity->n == 0)
    return;
  g_string_append_printf (out, " %s", name);
  for (guint i = 0; i < quantity->n; i++)
    {
      const BwValue *value = &g_array_index (pattern->front.values, BwValue, quantity->first + i);

      g_string_append_c (out, i == 0 ? '=' : '|');
      if (isnan (value->low))
        g_string_append_c (out, '-');
      else
        g_string_append_printf (out, "%g", value->low);
      if (value->high > value->low)
        g_string_append_printf (out, "..%g", value->high);
      if (value->step != 1)
        g_string_append_printf (out, "~%.3g", value->step);
    }
  g_string_append (out, units[quantity->unit]);
}

static void
put_slice (const BwPattern *pattern,
           const char      *name,
           BwSlice          slice,
           GString         *out)
{
  if (slice.length > 0)
    g_string_append_printf (out, " %s=\"%.*s\"", name, (int) slice.length,
                            pattern->text + slice.offset);
}

static char *
gauges_of (const BwPattern *pattern)
{
  GString *out = g_string_new (NULL);

  for (guint i = 0; i < pattern->front.gauges->len; i++)
    {
      const BwPatternGauge *gauge = &g_array_index (pattern->front.gauges, BwPatternGauge, i);

      g_string_append (out, i > 0 ? ";" : "");
      put_quantity (pattern, "st", &gauge->stitches, out);
      put_quantity (pattern, "rnd", &gauge->rounds, out);
      put_quantity (pattern, "span", &gauge->span, out);
      put_quantity (pattern, "or", &gauge->span_again, out);
      put_quantity (pattern, "rnd-span", &gauge->rounds_span, out);
      put_quantity (pattern, "hook", &gauge->hook, out);
      put_slice (pattern, "in", gauge->fabric, out);
      if (gauge->washed != BW_SAID_NOTHING)
        g_string_append (out, gauge->washed == BW_SAID_YES ? " washed" : " unwashed");
      if (gauge->twin > 0)
        g_string_append_printf (out, " twin=%u", gauge->twin);
    }
  return g_string_free (out, FALSE);
}

static char *
yarns_of (const BwPattern *pattern)
{
  GString *out = g_string_new (NULL);

  for (guint i = 0; i < pattern->front.yarns->len; i++)
    {
      const BwPatternYarn *yarn = &g_array_index (pattern->front.yarns, BwPatternYarn, i);

      g_string_append (out, i > 0 ? ";" : "");
      put_slice (pattern, "letter", yarn->letter, out);
      put_slice (pattern, "name", yarn->name, out);
      put_quantity (pattern, "m", &yarn->metres, out);
      put_quantity (pattern, "yd", &yarn->yards, out);
      put_quantity (pattern, "g", &yarn->grams, out);
      put_quantity (pattern, "oz", &yarn->ounces, out);
      put_quantity (pattern, "balls", &yarn->balls, out);
      put_quantity (pattern, "ball-m", &yarn->ball_metres, out);
      put_quantity (pattern, "ball-yd", &yarn->ball_yards, out);
      put_quantity (pattern, "ball-g", &yarn->ball_grams, out);
      put_quantity (pattern, "ball-oz", &yarn->ball_ounces, out);
      if (yarn->weight_class >= 0)
        g_string_append_printf (out, " class=%d", yarn->weight_class);
    }
  return g_string_free (out, FALSE);
}

static char *
measures_of (const BwPattern *pattern)
{
  static const char *const kinds[] = { "other", "head", "girth", "depth", "brim-girth",
                                       "brim-depth", "ease" };
  GString *out = g_string_new (NULL);

  for (guint i = 0; i < pattern->front.measures->len; i++)
    {
      const BwPatternMeasure *m = &g_array_index (pattern->front.measures, BwPatternMeasure, i);

      g_string_append (out, i > 0 ? "; " : "");
      g_string_append (out, kinds[m->kind]);
      if (m->size >= 0)
        g_string_append_printf (out, "[%d]", m->size);
      put_quantity (pattern, "m", &m->metric, out);
      put_quantity (pattern, "i", &m->imperial, out);
    }
  return g_string_free (out, FALSE);
}

static char *
tools_of (const BwPattern *pattern)
{
  GString *out = g_string_new (NULL);

  for (guint i = 0; i < pattern->front.tools->len; i++)
    {
      const BwPatternTool *tool = &g_array_index (pattern->front.tools, BwPatternTool, i);

      g_string_append_printf (out, "%s%u", i > 0 ? ";" : "", tool->part);
      put_quantity (pattern, "hook", &tool->mm, out);
      put_slice (pattern, "name", tool->name, out);
    }
  return g_string_free (out, FALSE);
}

static char *
abbreviations_of (const BwPattern *pattern)
{
  GString *out = g_string_new (NULL);

  for (guint i = 0; i < pattern->front.abbreviations->len; i++)
    {
      const BwPatternAbbreviation *entry =
        &g_array_index (pattern->front.abbreviations, BwPatternAbbreviation, i);

      g_string_append_printf (out, "%s%.*s", i > 0 ? ";" : "", (int) entry->term.length,
                              pattern->text + entry->term.offset);
      g_string_append_printf (out, "=%.*s", (int) entry->meaning.length,
                              pattern->text + entry->meaning.offset);
      if (entry->stitch != BW_STITCH_NONE)
        g_string_append_printf (out, "[%s]", bw_stitch_get (reference->stitches, entry->stitch)->id);
      if (entry->special)
        g_string_append_c (out, '!');
    }
  return g_string_free (out, FALSE);
}

typedef struct
{
  const char *text;
  const char *wanted;
} Case;

static void
check (const Case *cases,
       gsize       n,
       char     *(*print) (const BwPattern *pattern))
{
  for (gsize i = 0; i < n; i++)
    {
      g_autoptr (BwPattern) pattern = NULL;
      g_autofree char *found = NULL;

      g_test_message ("%s", cases[i].text);
      pattern = read_front (cases[i].text);
      found = print (pattern);
      g_assert_cmpstr (g_strstrip (found), ==, cases[i].wanted);
    }
}

static void
test_gauge (void)
{
  static const Case cases[] = {
    { "Gauge: 16 dc and 18 rnds = 10 cm (4 in), 5 mm hook, washed",
      "st=16sts rnd=18rnds span=10cm or=4in hook=5mm washed" },
    { "Tension: 15.5 sts x 18 rows to 10 cm x 10 cm in dc worked in the round",
      "st=15.5~0.1sts rnd=18rows span=10cm in=\"dc worked in the round\"" },
    { "Gauge\nPlain rounds of double crochet: 15 sts and 11.5 rounds = 10 cm (\xc2\xb1 0.2); "
      "15.2 sts and 11.7 rounds = 4 in (\xc2\xb1 0.2); washed and dried",
      "st=15sts rnd=11.5~0.1rnds span=10cm in=\"Plain rounds of double crochet\" washed; "
      "st=15.2~0.1sts rnd=11.7~0.1rnds span=4in in=\"Plain rounds of double crochet\" washed twin=1" },
    { "Gauge\n8\xc2\xbd sts and 9 1/2 rows over 2 1/4 inches in tr.\nUse a 4.5 mm hook. Measure before washing.",
      "st=8.5~0.5sts rnd=9.5~0.5rows span=2.25~0.25in hook=4.5~0.1mm in=\"tr\" unwashed" },
    { "Materials\nTension 20 sts and 24 rows to 10cm square over dc",
      "st=20sts rnd=24rows span=10cm in=\"dc\"" },
    { "Gauge: 10 cm (4 in) = 16 sts and 18 rnds", "st=16sts rnd=18rnds span=10cm or=4in" },
    { "Tension\nBody: 16 sts = 10 cm\nBrim: 27 rows = 10 cm",
      "st=16sts span=10cm in=\"Body\"; rnd=27rows span=10cm in=\"Brim\"" },
    { "Gauge: 16 sts = 10 cm and 9 rounds = 5 cm",
      "st=16sts rnd=9rnds span=10cm rnd-span=5cm" },
  };

  check (cases, G_N_ELEMENTS (cases), gauges_of);
}

static void
test_yarn (void)
{
  static const Case cases[] = {
    { "Materials\nYarn: Invented worsted; 200 m (219 yd) in a ball of 100 g\n"
      "A (Tar): 68 (81, 85) m; 1 (1, 1) balls\nB (Foam): 7 (8, 8) m; 1 (1, 1) balls",
      "name=\"Invented worsted\" ball-m=200m ball-yd=219yd ball-g=100g class=4; letter=\"A\" name=\"Tar\" "
      "m=68|81|85m balls=1|1|1balls; letter=\"B\" name=\"Foam\" m=7|8|8m balls=1|1|1balls" },
    { "Materials\n2 (2, 3) balls of DK wool, 100 g = 240 m (262 yd) (A)",
      "letter=\"A\" balls=2|2|3balls ball-m=240m ball-yd=262yd ball-g=100g class=3" },
    { "Yarn: 150 (170, 190) m of aran wool", "m=150|170|190m class=4" },
    { "Materials\nMain colour (MC), navy: 150 m (164 yd)\nCC: 40 m",
      "letter=\"MC\" name=\"Main colour\" m=150m yd=164yd; letter=\"CC\" m=40m" },
    { "Colours: A navy, B cream", "" },
    { "A (Tar): 68 (81, 85) m\nMC: 2 balls\nA note: 3 of them",
      "letter=\"A\" name=\"Tar\" m=68|81|85m; letter=\"MC\" balls=2balls" },
    { "Materials\nColours: A navy, B cream",
      "letter=\"A\" name=\"navy\"; letter=\"B\" name=\"cream\"" },
    { "Materials\nYarn A: 100 m (50 g/125 m)", "letter=\"A\" m=100m ball-m=125m ball-g=50g" },
    { "Materials\nNavy: 1 ball of 50 g", "name=\"Navy\" balls=1balls ball-g=50g" },
    { "Materials\nNotions: 3 stitch markers\nHook: 5 mm", "" },
  };

  check (cases, G_N_ELEMENTS (cases), yarns_of);
}

static void
test_measures (void)
{
  static const Case cases[] = {
    { "Finished girth: 46 (50.5, 54) cm / 18 (19\xc2\xbe, 21 1/4) in",
      "girth m=46|50.5~0.1|54cm i=18|19.75~0.25|21.25~0.25in" },
    { "Sizes\nTo fit head: 51\xe2\x80\x93" "54 (55-58, 59 to 62) cm\nDepth: 20, 21, 22 cm (8, 8\xc2\xbc, 8\xc2\xbe in)",
      "head m=51..54|55..58|59..62cm; depth m=20|21|22cm i=8|8.25~0.25|8.75~0.25in" },
    { "Finished size: circumference 46 (50, 54) cm, depth 20 (21, 22) cm; brim 5 cm tall",
      "girth m=46|50|54cm; depth m=20|21|22cm; brim-depth m=5cm" },
    { "Sizes\nS: 46 cm (18 in) round, 20 cm (8 in) deep\nM: 50 cm (20 in) round, 21 cm (8\xc2\xbd in) deep",
      "girth[0] m=46cm i=18in; depth[0] m=20cm i=8in; "
      "girth[1] m=50cm i=20in; depth[1] m=21cm i=8.5~0.5in" },
    { "Sizes\nBrim, relaxed: 41.5 (45, 48) cm\nEase allowed: \xe2\x88\x92" "7 %",
      "brim-girth m=41.5~0.1|45|48cm; ease m=7%" },
    { "Finished girth: 46 cm (50 cm, 54 cm)", "girth m=46|50|54cm" },
    { "Finished girth: 96 (96) 112 (112) cm", "girth m=96|96|112|112cm" },
  };

  check (cases, G_N_ELEMENTS (cases), measures_of);
}

static void
test_tools (void)
{
  static const Case cases[] = {
    { "Materials\nHook: 5 mm (US H-8), or what gives the gauge; 6 mm for the brim",
      "2 hook=5mm name=\"US H-8\";2 hook=6mm name=\"for the brim\"" },
    { "Materials\n5.5 mm (I-9) hook\nGauge: 16 sts = 10 cm with a 5 mm hook",
      "2 hook=5.5~0.1mm name=\"I-9\";3 hook=5mm" },
    { "Instructions\nChange to the 6 mm hook.", "0 hook=6mm" },
    { "Materials\n4 mm and 4.5 mm (7) hooks", "2 hook=4mm;2 hook=4.5~0.1mm name=\"7\"" },
  };

  check (cases, G_N_ELEMENTS (cases), tools_of);
}

static void
test_abbreviations (void)
{
  static const Case cases[] = {
    { "Abbreviations\nch: chain\nst(s) = stitch(es)\ndc \xe2\x80\x93 double crochet\nss  slip stitch\nBLO back loop only",
      "ch=chain[chain];st(s)=stitch(es);dc=double crochet[low];ss=slip stitch[slip];BLO=back loop only" },
    { "Abbreviations: ch - chain; dc - double crochet, rnd(s) - round(s)",
      "ch=chain[chain];dc=double crochet[low];rnd(s)=round(s)" },
    { "Abbreviations: ch, dc, sl st, st(s)", "ch=[chain];dc=[low];sl st=[slip];st(s)=" },
    { "Special stitches\nFPtr: work the treble round the stem, from the front",
      "FPtr=work the treble round the stem, from the front[front-post-tall]!" },
  };

  check (cases, G_N_ELEMENTS (cases), abbreviations_of);
}

static void
test_lookups (void)
{
  g_autoptr (BwPattern) pattern = read_front ("Materials\nA (Tar): 80 (90, 100) m\nYarn B, sea foam: 20 m\n"
                                              "Abbreviations\nst(s): stitch(es)\nss / sl st: slip stitch");
  const char *text = pattern->text;
  const BwPatternYarn *tar = &g_array_index (pattern->front.yarns, BwPatternYarn, 0);
  BwSlice letter = { (guint32) (strstr (text, "B, sea") - text), 1 };
  BwSlice word = { (guint32) (strstr (text, "foam") - text), 4 };
  BwSlice none = { (guint32) (strstr (text, "hat") - text), 3 };

  g_assert_cmpint (bw_pattern_yarn_named (pattern, letter), ==, 1);
  g_assert_cmpint (bw_pattern_yarn_named (pattern, word), ==, 1);
  g_assert_cmpint (bw_pattern_yarn_named (pattern, none), ==, -1);
  g_assert_cmpfloat (bw_pattern_value (pattern, &tar->metres, 2)->low, ==, 100);
  g_assert_null (bw_pattern_value (pattern, &tar->grams, 0));
  g_assert_true (bw_pattern_lists (pattern, "st", 2));
  g_assert_true (bw_pattern_lists (pattern, "sts", 3));
  g_assert_true (bw_pattern_lists (pattern, "sl st", 5));
  g_assert_true (bw_pattern_lists (pattern, "SS", 2));
  g_assert_false (bw_pattern_lists (pattern, "s", 1));
  g_assert_false (bw_pattern_lists (pattern, "dc", 2));
}

static void
test_pieces (void)
{
  static const struct { const char *text; BwPatternPiece piece; const char *found; } cases[] = {
    { "", BW_PIECE_TITLE, "A hat" },
    { "", BW_PIECE_SIZES, "Sizes: S (M, L)" },
    { "", BW_PIECE_TERMS, NULL },
    { "", BW_PIECE_GAUGE, NULL },
    { "", BW_PIECE_DATE, NULL },
    { "Written in UK terms.", BW_PIECE_TERMS, "terms" },
    { "Gauge: 16 sts = 10 cm", BW_PIECE_GAUGE, "Gauge: 16 sts = 10 cm" },
    { "Materials", BW_PIECE_MATERIALS, NULL },
    { "Materials\nSome wool", BW_PIECE_MATERIALS, "Some wool" },
    { "Revision 3, 4 May 2026", BW_PIECE_REVISION, "Revision 3, 4 May 2026" },
    { "Revision 3, 4 May 2026", BW_PIECE_DATE, "2026" },
    { "Use 2026 m of wool", BW_PIECE_DATE, NULL },
    { "\xc2\xa9 (designer)", BW_PIECE_COPYRIGHT, "\xc2\xa9 (designer)" },
    { "Finished girth: 46 cm", BW_PIECE_FINISHED_SIZE, "Finished girth: 46 cm" },
    { "Questions? hats@example.org", BW_PIECE_CONTACT, "Questions? hats@example.org" },
    { "Skill: Intermediate", BW_PIECE_SKILL, "Skill: Intermediate" },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (BwPattern) pattern = read_front (cases[i].text);
      BwSlice piece = pattern->front.pieces[cases[i].piece];
      g_autofree char *found = piece.length == 0 ? NULL
        : g_strndup (pattern->text + piece.offset, piece.length);

      g_test_message ("%s", cases[i].text);
      g_assert_cmpstr (found, ==, cases[i].found);
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
  g_test_add_func ("/pattern-front/gauge", test_gauge);
  g_test_add_func ("/pattern-front/yarn", test_yarn);
  g_test_add_func ("/pattern-front/measures", test_measures);
  g_test_add_func ("/pattern-front/tools", test_tools);
  g_test_add_func ("/pattern-front/abbreviations", test_abbreviations);
  g_test_add_func ("/pattern-front/lookups", test_lookups);
  g_test_add_func ("/pattern-front/pieces", test_pieces);
  status = g_test_run ();
  bw_reference_free (reference);
  return status;
}
