#include <locale.h>
#include <string.h>

#include "bw-design-fields.h"
#include "bw-reference-builtin.h"
#include "random-design.h"

/* The design file: what is written reads back as the same bits, what is edited
 * keeps the designer's own text, and what will not do is refused with one
 * error that says where, what and what would do. */

static BwReference *reference;

static BwDesign *
read_text (const char *text)
{
  g_autoptr (GError) error = NULL;
  BwDesign *design = bw_design_from_text (reference, text, strlen (text), &error);

  g_assert_no_error (error);

  return design;
}

/* A small design that everything below is a change of. */
static const char good[] =
  "# A demo design, invented.\n"
  "[Design]\n"
  "name=Lugger\n"
  "terms=uk\n"
  "units=cm\n"
  "body-swatch=body\n"
  "body-ease=-7 %\n"
  "\n"
  "[Colour A]\n"
  "name=Tar\n"
  "rgb=#102030\n"
  "\n"
  "[Colour B]\n"
  "name=Foam\n"
  "rgb=#F0F0E0\n"
  "\n"
  "[Swatch body]\n"
  "stitch-pattern=plain-low\n"
  "hook=5 mm\n"
  "stitches=20 in 133 mm washed; 20 in 134 mm washed\n"
  "rounds=12 in 104 mm washed\n"
  "\n"
  "[Swatch brim]\n"
  "stitch-pattern=slip-rib\n"
  "# as the ball band has it\n"
  "gauge=15 sts and 27 rounds to 10 cm\n"
  "\n"
  "[Sizes]\n"
  "use=small;large\n"
  "\n"
  "[Size small]\n"
  "head=22 in\n"
  "depth=21cm\n"
  "\n"
  "[Size large]\n"
  "head=600 mm\n"
  "depth=23\n"
  "\n"
  "[Brim]\n"
  "kind=slip-rib\n"
  "height=6.5 cm\n"
  "swatch=brim\n"
  "\n"
  "# a stripe\n"
  "[Band 1]\n"
  "stitch-pattern=raised-thirds\n"
  "mode=repeats\n"
  "amount=3\n"
  "stripe=A 2, B 2\n"
  "\n"
  "[Band 2]\n"
  "stitch-pattern=plain-low\n"
  "mode=fill\n"
  "amount=1\n"
  "\n"
  "[Crown]\n"
  "profile=round\n"
  "wedges=6; 8\n"
  "\n"
  "[Pins]\n"
  "small.body-stitches=72\n";

/* ---- what is read ------------------------------------------------------ */

static void
test_read (void)
{
  g_autoptr (BwDesign) design = read_text (good);
  const BwSizeChoice *small = &g_array_index (design->sizes, BwSizeChoice, 0);
  const BwSizeChoice *large = &g_array_index (design->sizes, BwSizeChoice, 1);
  const BwSwatch *body = bw_design_find_swatch (design, "body");
  const BwSwatch *brim = bw_design_find_swatch (design, "brim");
  const BwReading *reading = &g_array_index (body->readings, BwReading, 1);
  const BwBand *band = &g_array_index (design->bands, BwBand, 0);

  g_assert_cmpstr (design->name, ==, "Lugger");
  g_assert_cmpuint (design->colours->len, ==, 2);
  g_assert_cmphex (g_array_index (design->colours, BwColour, 1).rgb, ==, 0xf0f0e0);
  g_assert_cmpfloat_with_epsilon (small->size->head_mm, 558.8, 1e-9);
  g_assert_cmpstr (small->size->name, ==, "small");
  g_assert_cmpint (small->size->months_from, ==, -1);
  g_assert_cmpfloat (large->size->depth_mm, ==, 230);
  g_assert_cmpfloat (body->hook_mm, ==, 5);
  g_assert_cmpuint (body->readings->len, ==, 3);
  g_assert_cmpfloat (reading->count, ==, 20);
  g_assert_cmpfloat (reading->span_mm, ==, 134);
  g_assert_true (reading->washed);
  g_assert_cmpuint (brim->readings->len, ==, 2);
  g_assert_cmpfloat (g_array_index (brim->readings, BwReading, 1).count, ==, 27);
  g_assert_cmpfloat (design->brim.height_mm, ==, 65);
  g_assert_cmpint (band->mode, ==, BW_BAND_REPEATS);
  g_assert_cmpuint (band->stripe->len, ==, 2);
  g_assert_cmpuint (g_array_index (band->stripe, BwStripeStep, 1).colour, ==, 1);
  g_assert_cmpuint (design->crown.wedges->len, ==, 2);
  g_assert_cmpuint (bw_design_find_pin (design, "small", BW_PIN_BODY_STITCHES)->value, ==, 72);
  /* not said, so the default */
  g_assert_cmpfloat (design->brim_ease.fraction, ==, -0.18);
}

/* Sizes may be listed in any order; a byte order mark and CRLF do no harm. */
static void
test_read_as_editors_write (void)
{
  g_autofree char *crlf = NULL;
  g_autofree char *text = NULL;
  g_auto (GStrv) lines = g_strsplit (good, "\n", -1);
  g_autoptr (BwDesign) plain = read_text (good);
  g_autoptr (BwDesign) other = NULL;
  char *list;

  crlf = g_strjoinv ("\r\n", lines);
  text = g_strconcat ("\xef\xbb\xbf", crlf, NULL);
  list = strstr (text, "small;large");
  memcpy (list, "large;small", strlen ("large;small"));
  other = read_text (text);

  g_assert_true (bw_design_equal (plain, other));
}

/* ---- what is written --------------------------------------------------- */

static void
test_round_trip_random (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (3);
  guint n = g_test_slow () ? 20000 : 800;
  g_autofree char *previous = NULL;

  for (guint i = 0; i < n; i++)
    {
      g_autoptr (BwDesign) design = random_design (rand, reference);
      g_autoptr (BwDesign) back = NULL;
      g_autoptr (BwDesign) edited = NULL;
      g_autoptr (GError) error = NULL;
      g_autofree char *text = NULL;
      g_autofree char *again = NULL;
      g_autofree char *over = NULL;
      gsize length;

      bw_design_check (reference, design, &error);
      g_assert_no_error (error);

      text = bw_design_to_text (reference, design, NULL, &length);
      g_assert_cmpuint (strlen (text), ==, length);
      back = read_text (text);
      if (!bw_design_equal (design, back))
        g_error ("seed 3, design %u comes back changed:\n%s", i, text);

      /* what is written again over itself does not change by a byte */
      again = bw_design_to_text (reference, back, text, NULL);
      g_assert_cmpstr (again, ==, text);

      /* written over any other design it is still the same design */
      over = bw_design_to_text (reference, design, previous, NULL);
      edited = read_text (over);
      if (!bw_design_equal (design, edited))
        g_error ("seed 3, design %u comes back changed when written over:\n%s\nas:\n%s", i,
                 previous, over);

      g_free (previous);
      previous = g_steal_pointer (&text);
    }
}

static void
test_keeps_what_was_typed (void)
{
  g_autoptr (BwDesign) design = read_text (good);
  g_autofree char *text = bw_design_to_text (reference, design, good, NULL);
  g_autofree char *changed = NULL;

  /* nothing changed, not a byte */
  g_assert_cmpstr (text, ==, good);

  /* what changed is changed, and nothing else */
  g_array_index (design->sizes, BwSizeChoice, 0).size->head_mm = 560.0;
  design->brim.folded = TRUE;
  g_array_set_size (design->bands, 1);
  g_array_set_size (design->pins, 0);
  changed = bw_design_to_text (reference, design, text, NULL);
  g_assert_nonnull (strstr (changed, "head=56 cm\ndepth=21cm\n"));
  g_assert_nonnull (strstr (changed, "swatch=brim\nfolded=yes\n\n# a stripe\n[Band 1]\n"));
  g_assert_null (strstr (changed, "[Band 2]"));
  g_assert_null (strstr (changed, "small.body-stitches"));
  g_assert_nonnull (strstr (changed, "# as the ball band has it\n"));
}

/* A bare number follows the units, so with other units its text must change. */
static void
test_units_change (void)
{
  g_autoptr (BwDesign) design = read_text (good);
  g_autoptr (BwDesign) back = NULL;
  g_autofree char *text = NULL;

  design->units = BW_UNITS_INCH;
  text = bw_design_to_text (reference, design, good, NULL);
  back = read_text (text);

  g_assert_true (bw_design_equal (design, back));
  g_assert_null (strstr (text, "depth=23\n"));
  g_assert_nonnull (strstr (text, "head=22 in\n"));
}

static void
test_order_survives (void)
{
  g_autoptr (BwDesign) design = read_text (good);
  g_autoptr (BwDesign) back = NULL;
  g_autofree char *text = NULL;
  BwSwatch first = g_array_index (design->swatches, BwSwatch, 0);

  g_array_index (design->swatches, BwSwatch, 0) = g_array_index (design->swatches, BwSwatch, 1);
  g_array_index (design->swatches, BwSwatch, 1) = first;
  text = bw_design_to_text (reference, design, good, NULL);
  back = read_text (text);

  g_assert_true (bw_design_equal (design, back));
  g_assert_nonnull (strstr (text, "# as the ball band has it\n"
                                  "gauge=15 sts and 27 rounds to 10 cm\n"));
}

static void
test_numbers (void)
{
  static const struct
  {
    double      value;
    const char *text;
  } cases[] = {
    { 0.1, "0.1" },
    { 560, "560" },
    { -0.07, "-0.07" },
    { 1.0 / 3.0, "0.3333333333333333" },
    { 0.1 + 0.2, "0.30000000000000004" },
    { 1e-7, "0.0000001" },
    { 123456789, "123456789" },
    { 1200, "1200" },
    { 1e-60, "1.00000000000000e-60" },
    { 0, "0" },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (GString) out = g_string_new (NULL);

      bw_field_append_number (out, cases[i].value);
      g_assert_cmpstr (out->str, ==, cases[i].text);
    }
}

/* A decimal comma in the locale must not reach the file. */
static void
test_locale (void)
{
  g_autoptr (BwDesign) design = read_text (good);
  g_autofree char *before = bw_design_to_text (reference, design, NULL, NULL);
  g_autofree char *after = NULL;
  g_autoptr (BwDesign) back = NULL;

  if (setlocale (LC_NUMERIC, "de_DE.UTF-8") == NULL)
    {
      g_test_skip ("the locale de_DE.UTF-8 is not installed");
      return;
    }

  after = bw_design_to_text (reference, design, NULL, NULL);
  back = read_text (before);
  setlocale (LC_NUMERIC, "C");

  g_assert_cmpstr (before, ==, after);
  g_assert_true (bw_design_equal (design, back));
}

/* ---- what is refused --------------------------------------------------- */

typedef struct
{
  const char *name;
  const char *old;   /* first occurrence in the good text; NULL = put at the end */
  const char *new;
  BwError     code;
  const char *where; /* must be in the message */
  const char *what;  /* must be in the message: what would do */
} BadCase;

static const BadCase bad_cases[] = {
  { "unknown-group", "[Brim]", "[Bim]", BW_ERROR_UNKNOWN, "“Bim”", "“Brim”" },
  { "unknown-group-far", "[Brim]", "[Weather]", BW_ERROR_UNKNOWN, "“Weather”", "take it out" },
  { "unknown-key", "height=", "heigth=", BW_ERROR_UNKNOWN, "[Brim]", "“height”" },
  { "translated-key", "name=Lugger", "name[de]=Lugger", BW_ERROR_UNKNOWN, "“name[de]”",
    "take it" },
  { "group-twice", NULL, "[Brim]\nkind=none\n", BW_ERROR_CONFLICT, "line 62", "“Brim”" },
  { "key-twice", "kind=slip-rib", "kind=slip-rib\nkind=none", BW_ERROR_CONFLICT, "“kind”",
    "keep one" },
  { "no-group", "[Design]", "", BW_ERROR_SYNTAX, "line 3", "[Design]" },
  { "no-key", "terms=uk", "terms uk", BW_ERROR_SYNTAX, "line 4", "key=value" },
  { "semicolon-comment", "terms=uk", "; comment", BW_ERROR_SYNTAX, "line 4", "#" },
  { "bad-escape", "name=Lugger", "name=Lug\\ger", BW_ERROR_SYNTAX, "[Design] name", "\\\\" },
  { "control-character", "name=Lugger", "name=Lug\001ger", BW_ERROR_RANGE, "[Design] name",
    "one line" },
  { "two-lines", "name=Lugger", "name=Lug\\nger", BW_ERROR_RANGE, "[Design] name", "one line" },
  { "later-format", "name=Lugger", "format=2", BW_ERROR_SYNTAX, "[Design] format", "1" },
  { "word", "kind=slip-rib", "kind=sliprib", BW_ERROR_SYNTAX, "[Brim] kind", "“slip-rib”" },
  { "word-far", "kind=slip-rib", "kind=furry", BW_ERROR_SYNTAX, "[Brim] kind",
    "none, slip-rib, low-rib, post-rib or rolled" },
  { "switch", "kind=slip-rib", "folded=perhaps\nkind=slip-rib", BW_ERROR_SYNTAX, "[Brim] folded",
    "yes or no" },
  { "length", "height=6.5 cm", "height=6.5 furlongs", BW_ERROR_SYNTAX, "[Brim] height", "cm" },
  { "length-empty", "height=6.5 cm", "height=", BW_ERROR_SYNTAX, "[Brim] height", "cm" },
  { "length-huge", "height=6.5 cm", "height=650 m", BW_ERROR_RANGE, "[Brim] height", "cm" },
  { "length-nan", "height=6.5 cm", "height=nan", BW_ERROR_SYNTAX, "[Brim] height", "cm" },
  { "girth-negative", "head=22 in", "head=-22 in", BW_ERROR_RANGE, "[Size small] head",
    "from 15 cm to 100 cm" },
  { "girth-missing", "head=22 in\n", "", BW_ERROR_MISSING, "[Size small] head", "15 cm" },
  { "ease-bare", "body-ease=-7 %", "body-ease=-7", BW_ERROR_SYNTAX, "[Design] body-ease", "-7 %" },
  { "ease-huge", "body-ease=-7 %", "body-ease=-70 %", BW_ERROR_RANGE, "[Design] body-ease",
    "-50 %" },
  { "ease-twice", "body-ease=-7 %", "body-ease=-7 %; 3 %", BW_ERROR_SYNTAX, "[Design] body-ease",
    "-7 %" },
  { "multiple-of-0", "wedges=6; 8", "wedges=0", BW_ERROR_SYNTAX, "[Crown] wedges", "from 2 to 40" },
  { "rounds-10000", "mode=repeats\namount=3", "mode=rounds\namount=10000", BW_ERROR_RANGE,
    "[Band 1] amount", "from 0 to 2000" },
  { "repeats-too-many", "amount=3", "amount=1999", BW_ERROR_TOO_LARGE, "[Band 1] amount", "1000" },
  { "rounds-none", "amount=3", "amount=0", BW_ERROR_RANGE, "[Band 1] amount", "at least 1" },
  { "rounds-negative", "amount=3", "amount=-3", BW_ERROR_SYNTAX, "[Band 1] amount", "whole" },
  { "rounds-half", "amount=3", "amount=3.5", BW_ERROR_SYNTAX, "[Band 1] amount", "whole" },
  { "rounds-overflow", "amount=3", "amount=99999999999999999999", BW_ERROR_SYNTAX,
    "[Band 1] amount", "whole" },
  { "stripe-letter", "stripe=A 2, B 2", "stripe=A 2, Z 2", BW_ERROR_SYNTAX, "[Band 1] stripe",
    "A 2, B 2" },
  { "stripe-unknown-colour", "stripe=A 2, B 2", "stripe=A 2, C 2", BW_ERROR_UNKNOWN,
    "[Band 1] stripe", "[Colour C]" },
  { "stripe-0-rounds", "stripe=A 2, B 2", "stripe=A 0", BW_ERROR_SYNTAX, "[Band 1] stripe",
    "from 1 to 2000" },
  { "stripe-hole", "stripe=A 2, B 2", "stripe=A 2,,B 2", BW_ERROR_SYNTAX, "[Band 1] stripe",
    "A 2, B 2" },
  { "brim-colour", "kind=slip-rib", "colour=D\nkind=slip-rib", BW_ERROR_UNKNOWN, "[Brim] colour",
    "[Colour D]" },
  { "rgb", "rgb=#102030", "rgb=dark blue", BW_ERROR_SYNTAX, "[Colour A] rgb", "#" },
  { "rgb-signed", "rgb=#102030", "rgb=#-10203", BW_ERROR_SYNTAX, "[Colour A] rgb", "#" },
  { "colour-gap", "[Colour B]", "[Colour C]", BW_ERROR_MISSING, "[Colour C]", "[Colour B]" },
  { "colour-13", "[Colour B]", "[Colour M]", BW_ERROR_RANGE, "[Colour M]", "[Colour L]" },
  { "colour-name", "name=Foam\n", "", BW_ERROR_MISSING, "[Colour B] name", "text" },
  { "band-gap", "[Band 2]", "[Band 3]", BW_ERROR_MISSING, "[Band 3]", "[Band 2]" },
  { "band-13", "[Band 2]", "[Band 13]", BW_ERROR_RANGE, "[Band 13]", "[Band 12]" },
  { "band-0", "[Band 2]", "[Band 0]", BW_ERROR_RANGE, "[Band 0]", "[Band 1]" },
  { "band-leading-zero", "[Band 2]", "[Band 02]", BW_ERROR_RANGE, "[Band 02]", "[Band 1]" },
  { "band-pattern", "stitch-pattern=raised-thirds", "stitch-pattern=raised-third",
    BW_ERROR_UNKNOWN, "[Band 1] stitch-pattern", "“raised-thirds”" },
  { "band-pattern-missing", "stitch-pattern=raised-thirds\n", "", BW_ERROR_MISSING,
    "[Band 1] stitch-pattern", "missing" },
  { "band-swatch", "mode=repeats", "mode=repeats\nswatch=bodi", BW_ERROR_UNKNOWN,
    "[Band 1] swatch", "“body”" },
  { "body-swatch-missing", "body-swatch=body\n", "", BW_ERROR_MISSING, "[Design] body-swatch",
    "missing" },
  { "body-swatch-unknown", "body-swatch=body", "body-swatch=bod", BW_ERROR_UNKNOWN,
    "[Design] body-swatch", "“body”" },
  { "swatch-id", "[Swatch body]", "[Swatch my body]", BW_ERROR_SYNTAX, "[Swatch my body]",
    "letters" },
  { "swatch-no-readings", "gauge=15 sts and 27 rounds to 10 cm\n", "", BW_ERROR_MISSING,
    "[Swatch brim] stitches", "133 mm" },
  { "swatch-no-rounds", "rounds=12 in 104 mm washed\n", "", BW_ERROR_MISSING,
    "[Swatch body] rounds", "both" },
  { "swatch-stretched-only", "104 mm washed", "104 mm fully-stretched", BW_ERROR_MISSING,
    "[Swatch body] rounds", "relaxed" },
  { "swatch-pattern", "stitch-pattern=slip-rib", "stitch-pattern=slop-rib", BW_ERROR_UNKNOWN,
    "[Swatch brim] stitch-pattern", "“slip-rib”" },
  { "swatch-reading", "stitches=20 in 133 mm washed", "stitches=20 per 133 mm", BW_ERROR_SYNTAX,
    "[Swatch body] stitches", "20 in 133 mm" },
  { "swatch-reading-0", "stitches=20 in 133 mm washed", "stitches=0 in 133 mm", BW_ERROR_SYNTAX,
    "[Swatch body] stitches", "20 in 133 mm" },
  { "swatch-gauge-and-readings", "gauge=", "stitches=20 in 100 mm\ngauge=", BW_ERROR_CONFLICT,
    "[Swatch brim] gauge", "instead" },
  { "swatch-gauge", "gauge=15 sts and 27 rounds to 10 cm", "gauge=plenty", BW_ERROR_SYNTAX,
    "[Swatch brim] gauge", "15 sts" },
  { "swatch-weighed", "hook=5 mm", "weight=20 g", BW_ERROR_MISSING, "[Swatch body] piece-stitches",
    "piece-rounds" },
  { "hook", "hook=5 mm", "hook=5", BW_ERROR_RANGE, "[Swatch body] hook", "0.5 mm to 40 mm" },
  { "no-sizes", "[Sizes]\nuse=small;large\n", "", BW_ERROR_MISSING, "[Sizes] use", "[Sizes]" },
  { "no-sizes-in-use", "use=small;large", "use=", BW_ERROR_SYNTAX, "[Sizes] use", "ids" },
  { "size-unknown", "use=small;large", "use=small;large;medium", BW_ERROR_UNKNOWN, "[Sizes] use",
    "[Size medium]" },
  { "size-unused", "use=small;large", "use=small", BW_ERROR_UNKNOWN, "[Size large]", "take" },
  { "size-twice", "use=small;large", "use=small;large;small", BW_ERROR_CONFLICT, "[Sizes] use",
    "twice" },
  { "size-same-head", "head=600 mm", "head=22 in", BW_ERROR_CONFLICT, "[Size large]",
    "head girth" },
  { "size-same-name", "head=600 mm", "name=small\nhead=600 mm", BW_ERROR_CONFLICT, "[Size large]",
    "name" },
  { "size-id", "use=small;large", "use=small;large;x y", BW_ERROR_SYNTAX, "[Sizes] use",
    "“x y”" },
  { "table-unknown", "use=small", "table=headz\nuse=small", BW_ERROR_UNKNOWN, "[Sizes] table",
    "“heads”" },
  { "brim-swatch", "swatch=brim", "swatch=rim", BW_ERROR_UNKNOWN, "[Brim] swatch", "“brim”" },
  { "brim-swatch-missing", "swatch=brim\n", "", BW_ERROR_MISSING, "[Brim] swatch", "missing" },
  { "crown-pattern", "profile=round", "stitch-pattern=raised-thirds", BW_ERROR_RANGE,
    "[Crown] stitch-pattern", "plain-low" },
  { "crown-slip", "profile=round", "stitch-pattern=slip-rib", BW_ERROR_RANGE,
    "[Crown] stitch-pattern", "two together" },
  { "crown-own", "profile=round", "profile=own", BW_ERROR_MISSING, "[Size small] crown-counts",
    "70; 56; 42; 28; 14" },
  { "pin-size", "small.body-stitches", "smal.body-stitches", BW_ERROR_UNKNOWN,
    "[Pins] smal.body-stitches", "“small”" },
  { "pin-kind", "small.body-stitches", "small.body-stiches", BW_ERROR_UNKNOWN, "[Pins]",
    "“body-stitches”" },
  { "pin-no-dot", "small.body-stitches", "body-stitches", BW_ERROR_UNKNOWN, "[Pins]",
    "SIZE.KEY" },
  { "pin-value", "body-stitches=72", "body-stitches=0", BW_ERROR_RANGE,
    "[Pins] small.body-stitches", "whole" },
  { "pin-fill", "mode=fill", "mode=rounds\n[Size-]\n", BW_ERROR_UNKNOWN, "“Size-”", "“Size" },
  { "margin", NULL, "[Yarn]\nmargin=200 %\n", BW_ERROR_RANGE, "[Yarn] margin", "100 %" },
  { "thickness", NULL, "[Yarn]\nthickness=9\n", BW_ERROR_RANGE, "[Yarn] thickness", "0 to 7" },
  { "inch", "units=cm", "inch=2.6 cm", BW_ERROR_SYNTAX, "[Design] inch", "25.4 mm or 25 mm" },
};

static void
test_bad (gconstpointer data)
{
  const BadCase *bad = data;
  const char *place = bad->old != NULL ? strstr (good, bad->old) : good + strlen (good);
  g_autoptr (GError) error = NULL;
  g_autoptr (BwDesign) design = NULL;
  g_autofree char *text = NULL;

  g_assert_nonnull (place);
  text = g_strdup_printf ("%.*s%s%s", (int) (place - good), good, bad->new,
                          place + (bad->old != NULL ? strlen (bad->old) : 0));
  design = bw_design_from_text (reference, text, strlen (text), &error);

  g_assert_null (design);
  g_test_message ("%s", error->message);
  g_assert_error (error, BW_ERROR, (int) bad->code);
  g_assert_true (g_utf8_validate (error->message, -1, NULL));
  g_assert_null (strchr (error->message, '\n'));
  g_assert_cmpuint (strlen (error->message), <, 400);
  g_assert_nonnull (strstr (error->message, bad->where));
  g_assert_nonnull (strstr (error->message, bad->what));
}

static void
refuse_bytes (const char *text,
              gsize       length,
              BwError     code,
              const char *what)
{
  g_autoptr (GError) error = NULL;

  g_assert_null (bw_design_from_text (reference, text, length, &error));
  g_test_message ("%s", error->message);
  g_assert_error (error, BW_ERROR, (int) code);
  g_assert_nonnull (strstr (error->message, what));
}

static void
test_bad_bytes (void)
{
  static const char nul[] = "[Design]\nname=a\0b\n";
  g_autofree char *large = g_malloc (50 * 1024 * 1024);

  memset (large, '#', 50 * 1024 * 1024);
  refuse_bytes (large, 50 * 1024 * 1024, BW_ERROR_TOO_LARGE, "at most 1048576");
  refuse_bytes ("[Design]\nname=\xff\n", 16, BW_ERROR_SYNTAX, "line 2: not UTF-8");
  refuse_bytes (nul, sizeof nul - 1, BW_ERROR_SYNTAX, "line 2");
  refuse_bytes ("", 0, BW_ERROR_SYNTAX, "empty");
  refuse_bytes ("# nothing\n", 10, BW_ERROR_MISSING, "[Design]");
  refuse_bytes ("[", 1, BW_ERROR_SYNTAX, "[Brim]");
  refuse_bytes ("=", 1, BW_ERROR_SYNTAX, "line 1");
}

/* As many as a limit allows, and one more. */
static void
test_limits (void)
{
  for (guint n = BW_DESIGN_SIZES_MAX; n <= BW_DESIGN_SIZES_MAX + 1; n++)
    {
      g_autoptr (GString) text = g_string_new ("[Design]\nbody-swatch=body\n[Swatch body]\n"
                                               "stitch-pattern=plain-low\n"
                                               "gauge=15 sts and 17 rounds to 10 cm\n"
                                               "[Sizes]\nuse=");
      g_autoptr (GError) error = NULL;
      g_autoptr (BwDesign) design = NULL;

      for (guint i = 0; i < n; i++)
        g_string_append_printf (text, "%ss%u", i > 0 ? ";" : "", i);
      for (guint i = 0; i < n; i++)
        g_string_append_printf (text, "\n[Size s%u]\nhead=%u mm\ndepth=20 cm\n", i, 300 + 10 * i);

      design = bw_design_from_text (reference, text->str, text->len, &error);
      if (n <= BW_DESIGN_SIZES_MAX)
        {
          g_assert_no_error (error);
          g_assert_cmpuint (design->sizes->len, ==, n);
        }
      else
        {
          g_assert_error (error, BW_ERROR, BW_ERROR_TOO_LARGE);
          g_assert_nonnull (strstr (error->message, "30"));
        }
    }
}

/* ---- mutations --------------------------------------------------------- */

/* Whatever a slip of the keyboard makes of a good file, the answer is a design
 * that passes its own checks and can be written, or one error. */
static void
test_mutations (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (4);
  guint accepted = 0;
  guint n = g_test_slow () ? 100000 : 5000;

  for (guint i = 0; i < n; i++)
    {
      g_autofree char *text = g_strdup (good);
      gsize length = strlen (good);
      guint changes = (guint) g_rand_int_range (rand, 1, 4);
      g_autoptr (GError) error = NULL;
      g_autoptr (BwDesign) design = NULL;

      for (guint j = 0; j < changes; j++)
        {
          gsize from = (gsize) g_rand_int_range (rand, 0, (gint32) length);
          gsize to = (gsize) g_rand_int_range (rand, 0, (gint32) length);

          if (g_rand_boolean (rand))
            text[from] = (char) g_rand_int_range (rand, 0, 256);
          else
            text[from] = text[to];
        }

      design = bw_design_from_text (reference, text, length, &error);
      if (design == NULL)
        {
          g_assert_nonnull (error);
          g_assert_true (error->domain == BW_ERROR);
          g_assert_true (g_utf8_validate (error->message, -1, NULL));
        }
      else
        {
          g_autofree char *again = bw_design_to_text (reference, design, text, NULL);
          g_autoptr (BwDesign) back = read_text (again);

          g_assert_no_error (error);
          g_assert_true (bw_design_equal (design, back));
          accepted++;
        }
    }

  g_test_message ("%u of %u still make a design", accepted, n);
  g_assert_cmpuint (accepted, >, 0);
  g_assert_cmpuint (accepted, <, n);
}

int
main (int    argc,
      char **argv)
{
  g_autoptr (GError) error = NULL;
  int status;

  g_test_init (&argc, &argv, NULL);
  reference = bw_reference_builtin (&error);
  g_assert_no_error (error);

  g_test_add_func ("/core/design-file/read", test_read);
  g_test_add_func ("/core/design-file/read-as-editors-write", test_read_as_editors_write);
  g_test_add_func ("/core/design-file/numbers", test_numbers);
  g_test_add_func ("/core/design-file/round-trip-random", test_round_trip_random);
  g_test_add_func ("/core/design-file/keeps-what-was-typed", test_keeps_what_was_typed);
  g_test_add_func ("/core/design-file/units-change", test_units_change);
  g_test_add_func ("/core/design-file/order-survives", test_order_survives);
  g_test_add_func ("/core/design-file/locale", test_locale);
  for (guint i = 0; i < G_N_ELEMENTS (bad_cases); i++)
    {
      g_autofree char *path = g_strconcat ("/core/design-file/bad/", bad_cases[i].name, NULL);

      g_test_add_data_func (path, &bad_cases[i], test_bad);
    }
  g_test_add_func ("/core/design-file/bad-bytes", test_bad_bytes);
  g_test_add_func ("/core/design-file/limits", test_limits);
  g_test_add_func ("/core/design-file/mutations", test_mutations);

  status = g_test_run ();
  bw_reference_free (reference);

  return status;
}
