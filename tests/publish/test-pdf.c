#include "bw-page-style.h"
#include "family.h"
#include "hats.h"
#include "paper.h"
#include "../words/read-back.h"

/* PDFs opened by other programs: they are sound, say what was graded in every
 * edition and size, and are the same bytes for the same edition. */

#define FAMILIES 8

static BwReference *reference;

/* Distance of lines of text in a paragraph, with the font of the tests: DejaVu Sans
 * is 1.164 of its size high (its ascent and descent). */
static double
leading_of (const BwPageStyle *style)
{
  return style->text * 1.164 * style->leading;
}

static char *
text_of (const char      *path,
         const BwEdition *edition)
{
  BwPageStyle style;

  bw_page_style_init (&style, edition);
  return paper_text (path, style.text, leading_of (&style), style.height - style.bottom + 2);
}

static int
compare_lengths (gconstpointer a,
                 gconstpointer b)
{
  gsize x = strlen (((const char *const *) a)[0]);
  gsize y = strlen (((const char *const *) b)[0]);

  return (x < y) - (x > y);
}

/* Large print read as any other: names of stitches by their abbreviations, the words
 * start and end by brackets. The longest names go first, as they hold others. */
static char *
shorten (const char *text,
         BwTerms     terms)
{
  const BwStitchDictionary *stitches = reference->stitches;
  GString *out = g_string_new (text);
  g_autoptr (GArray) names = g_array_new (FALSE, FALSE, 2 * sizeof (char *));

  for (guint i = 0; i < bw_stitch_dictionary_size (stitches); i++)
    {
      const BwStitch *stitch = bw_stitch_get (stitches, (BwStitchIndex) i);
      const char *pair[2] = { terms == BW_TERMS_UK ? stitch->uk_name : stitch->us_name,
                              terms == BW_TERMS_UK ? stitch->uk : stitch->us };

      g_array_append_vals (names, pair, 1);
    }
  g_array_sort (names, compare_lengths);
  for (guint i = 0; i < names->len; i++)
    {
      const char *const *pair = (const char *const *) (void *) names->data + 2 * i;

      g_string_replace (out, pair[0], pair[1], 0);
    }
  g_string_replace (out, "start, ", "[", 0);
  g_string_replace (out, ", end,", "]", 0);
  g_string_replace (out, "ch space", "ch-sp", 0);
  return g_string_free (out, FALSE);
}

static BwPattern *
read_text (const char *text)
{
  g_autoptr (GError) error = NULL;
  BwPattern *pattern = bw_pattern_read (reference->stitches, text, -1, BW_TERMS_UNSAID, &error);

  g_assert_no_error (error);
  if (pattern->errors->len > 0)
    {
      const BwPatternError *first = &g_array_index (pattern->errors, BwPatternError, 0);
      guint line, column;

      bw_pattern_place (pattern, first->offset, &line, &column);
      g_printerr ("%s\n", text);
      g_error ("line %u, column %u: %s", line, column, first->wanted);
    }
  return pattern;
}

/* The text on the pages, read back, gives exactly the rounds. */
static void
check_rounds (const BwGrading *grading,
              const BwEdition *edition,
              guint32          seed)
{
  g_autoptr (GBytes) bytes = paper_bytes (grading, edition);
  g_autofree char *path = paper_file (bytes);
  g_autofree char *full = text_of (path, edition);
  g_autofree char *text = edition->form == BW_FORM_LARGE_PRINT ? shorten (full, edition->terms)
                                                               : g_strdup (full);
  g_autoptr (BwPattern) pattern = read_text (text);

  g_assert_cmpint (pattern->terms, ==, edition->terms);
  if (edition->size >= 0)
    {
      g_assert_cmpuint (pattern->n_sizes, ==, 1);
      check_size (text, seed, grading, (guint) edition->size, pattern, 0);
    }
  else
    {
      g_assert_cmpuint (pattern->n_sizes, ==, grading->sizes->len);
      for (guint k = 0; k < grading->sizes->len; k++)
        check_size (text, seed, grading, k, pattern, k);
    }
  g_unlink (path);
}

static void
test_editions (void)
{
  for (guint i = 0; i < G_N_ELEMENTS (demo_families); i++)
    {
      g_autoptr (BwGrading) grading = family_demo (reference, demo_families[i]);
      g_autoptr (BwEdition) edition = bw_edition_new (grading->design, PAPER_DATE);

      for (guint terms = 0; terms < 2; terms++)
        for (int size = -1; size < (int) grading->sizes->len; size += 2)
          {
            edition->terms = terms == 0 ? BW_TERMS_UK : BW_TERMS_US;
            edition->paper = terms == 0 ? BW_PAPER_A4 : BW_PAPER_LETTER;
            edition->size = size;
            edition->form = size == 1 ? BW_FORM_LOW_INK : BW_FORM_NORMAL;
            check_rounds (grading, edition, i);
          }
    }
}

/* Large print of every demo, and nothing in its instructions is brief. */
static void
test_large_print (void)
{
  for (guint i = 0; i < G_N_ELEMENTS (demo_families); i++)
    {
      g_autoptr (BwGrading) grading = family_demo (reference, demo_families[i]);
      g_autoptr (BwEdition) edition = bw_edition_new (grading->design, PAPER_DATE);

      edition->form = BW_FORM_LARGE_PRINT;
      for (guint terms = 0; terms < 2; terms++)
        for (int size = -1; size < 1; size++)
          {
            g_autoptr (GRegex) brief =
              g_regex_new ("\\b(sts?|rnds?|ch|dc|sc|tr|hdc|htr|ss|BLO|dc2tog)\\b", 0, 0, NULL);
            g_autoptr (GBytes) bytes = NULL;
            g_autofree char *path = NULL;
            g_autofree char *text = NULL;

            edition->terms = terms == 0 ? BW_TERMS_UK : BW_TERMS_US;
            edition->size = size;
            check_rounds (grading, edition, i);
            bytes = paper_bytes (grading, edition);
            path = paper_file (bytes);
            text = text_of (path, edition);
            g_assert_false (g_regex_match (brief, text, 0, NULL));
            g_unlink (path);
          }
    }
}

static void
test_large_family (void)
{
  g_autofree char *text = family_text ("data/designs", "large");
  g_autoptr (BwGrading) grading = family_grade (reference, text);
  g_autoptr (BwEdition) edition = bw_edition_new (grading->design, PAPER_DATE);

  g_assert_cmpuint (grading->sizes->len, ==, BW_DESIGN_SIZES_MAX);
  check_rounds (grading, edition, 0);
}

static void
test_random (void)
{
  guint families = 0;

  for (guint32 seed = 1; families < FAMILIES; seed++)
    {
      g_autoptr (BwDesign) design = random_hat (reference, HATS_ANY, seed);
      g_autoptr (BwGrading) grading = bw_grade (reference, design, NULL);
      g_autoptr (BwEdition) edition = NULL;

      if (grading == NULL || grading->refused)
        continue;
      edition = bw_edition_new (grading->design, PAPER_DATE);
      edition->terms = seed % 2 == 0 ? BW_TERMS_UK : BW_TERMS_US;
      check_rounds (grading, edition, seed);
      edition->size = 0;
      check_rounds (grading, edition, seed);
      edition->form = BW_FORM_LARGE_PRINT;
      check_rounds (grading, edition, seed);
      families++;
    }
}

/* --- The file --- */

static char *
file_of (const BwEdition *edition,
         const BwGrading *grading)
{
  g_autoptr (GBytes) bytes = paper_bytes (grading, edition);

  return paper_file (bytes);
}

static void
assert_has (const char *text,
            const char *part)
{
  if (strstr (text, part) == NULL)
    g_error ("“%s” is not in:\n%s", part, text);
}

static void
test_sound (void)
{
  g_autoptr (BwGrading) grading = family_demo (reference, "lugger");
  g_autoptr (BwEdition) edition = bw_edition_new (grading->design, PAPER_DATE);

  for (guint form = BW_FORM_NORMAL; form <= BW_FORM_LOW_INK; form++)
    for (guint paper = BW_PAPER_A4; paper <= BW_PAPER_LETTER; paper++)
      {
        g_autofree char *path = NULL;
        g_autofree char *checked = NULL;
        g_autofree char *info = NULL;

        edition->form = (BwEditionForm) form;
        edition->paper = (BwPaper) paper;
        path = file_of (edition, grading);
        checked = paper_ask (path, "qpdf", "--check", NULL);
        info = paper_ask (path, "pdfinfo", NULL);
        assert_has (checked, "No syntax or stream encoding errors found");
        assert_has (info, paper == BW_PAPER_A4 ? "595.276 x 841.89 pts (A4)"
                                               : "612 x 792 pts (letter)");
        assert_has (info, "Tagged:          yes");
        g_unlink (path);
      }
}

static void
test_metadata (void)
{
  g_autoptr (BwGrading) grading = family_demo (reference, "lugger");
  g_autoptr (BwEdition) edition = bw_edition_new (grading->design, PAPER_DATE);
  g_autofree char *path = file_of (edition, grading);
  g_autofree char *info = paper_ask (path, "pdfinfo", "-isodates", NULL);

  assert_has (info, "Title:           Lugger (HB-01)\n");
  assert_has (info, "Author:          Harbour Studio (invented)\n");
  assert_has (info, "Keywords:        crochet, hat, UK terms\n");
  assert_has (info, "CreationDate:    2026-03-01T00:00:00Z\n");
  assert_has (info, "ModDate:         2026-03-01T00:00:00Z\n");
  g_unlink (path);
}

/* Every font is in the file, cut down to the letters used. */
static void
test_fonts (void)
{
  g_autoptr (BwGrading) grading = family_demo (reference, "smack");
  g_autoptr (BwEdition) edition = bw_edition_new (grading->design, PAPER_DATE);
  g_autofree char *path = file_of (edition, grading);
  g_autofree char *fonts = paper_ask (path, "pdffonts", NULL);
  g_auto (GStrv) lines = g_strsplit (fonts, "\n", -1);
  guint n = 0;

  for (guint i = 2; lines[i] != NULL && lines[i][0] != '\0'; i++)
    {
      assert_has (lines[i], " yes yes yes ");
      n++;
    }
  g_assert_cmpuint (n, >=, 2);
  g_unlink (path);
}

static guint
count (const char *text,
       const char *part)
{
  guint n = 0;

  for (const char *at = strstr (text, part); at != NULL; at = strstr (at + 1, part))
    n++;
  return n;
}

/* The structure as a screen reader meets it: one title, headings of sections and
 * parts, rows of tables with their heads, no table head that is a cell. */
static void
test_structure (void)
{
  g_autoptr (BwGrading) grading = family_demo (reference, "lugger");
  g_autoptr (BwEdition) edition = bw_edition_new (grading->design, PAPER_DATE);
  g_autofree char *path = file_of (edition, grading);
  g_autofree char *tree = paper_ask (path, "pdfinfo", "-struct-text", NULL);
  guint sizes = grading->sizes->len;
  guint colours = grading->design->colours->len;

  g_assert_true (g_str_has_prefix (tree, "Document\n"));
  g_assert_cmpuint (count (tree, "\n  H1 "), ==, 1);
  g_assert_cmpuint (count (tree, "\n  H2 "), >=, 9);
  g_assert_cmpuint (count (tree, "\n  H3 "), >=, 5);
  g_assert_cmpuint (count (tree, "\n  Table"), ==, 2);
  g_assert_cmpuint (count (tree, "\n    TR"), ==, 2 * (sizes + 1));
  g_assert_cmpuint (count (tree, "\n      TD"), ==, sizes * (4 + colours));
  g_assert_cmpuint (count (tree, "\n      TH"), ==, 2 * sizes + 5 + 1 + colours);
  g_assert_cmpuint (count (tree, "Figure"), >=, 2);
  g_unlink (path);
}

/* Text of one page, as pdftotext gives it. */
static char *
page_text (const char *path,
           const char *page)
{
  return paper_ask (path, "pdftotext", "-raw", "-f", page, "-l", page, NULL);
}

/* Every entry of the outline names a page on which its heading stands, and every
 * link of the contents leads to the page it prints: Cairo says nothing of a link
 * that leads nowhere. */
static void
test_links (void)
{
  g_autoptr (BwGrading) grading = family_demo (reference, "lugger");
  g_autoptr (BwEdition) edition = bw_edition_new (grading->design, PAPER_DATE);
  g_autofree char *path = file_of (edition, grading);
  g_autofree char *xml = paper_ask (path, "pdftohtml", "-xml", "-i", "-stdout", NULL);
  g_autoptr (GRegex) item = g_regex_new ("<item page=\"(\\d+)\">([^<]+)<", 0, 0, NULL);
  g_autoptr (GRegex) link = g_regex_new ("<a href=\"[^\"#]+#(\\d+)\"><b>(\\d+)</b></a>", 0, 0,
                                         NULL);
  GMatchInfo *match;
  guint n = 0;

  for (g_regex_match (item, xml, 0, &match); g_match_info_matches (match);
       g_match_info_next (match, NULL))
    {
      g_autofree char *page = g_match_info_fetch (match, 1);
      g_autofree char *heading = g_match_info_fetch (match, 2);
      g_autofree char *line = g_strconcat ("\n", heading, "\n", NULL);
      g_autofree char *text = page_text (path, page);
      g_autofree char *lines = g_strconcat ("\n", text, NULL);

      assert_has (lines, line);
      n++;
    }
  g_match_info_free (match);
  g_assert_cmpuint (n, >=, 15);

  n = 0;
  for (g_regex_match (link, xml, 0, &match); g_match_info_matches (match);
       g_match_info_next (match, NULL))
    {
      g_autofree char *target = g_match_info_fetch (match, 1);
      g_autofree char *printed = g_match_info_fetch (match, 2);

      g_assert_cmpstr (target, ==, printed);
      n++;
    }
  g_match_info_free (match);
  g_assert_cmpuint (n, >=, 9);
  g_unlink (path);
}

/* "3 of 6" and the running title at the foot of every page, and no page without. */
static void
test_foot (void)
{
  g_autoptr (BwGrading) grading = family_demo (reference, "lugger");
  g_autoptr (BwEdition) edition = bw_edition_new (grading->design, PAPER_DATE);
  g_autoptr (BwPages) pages = NULL;
  g_autofree char *path = NULL;

  edition->revision.number = 3;
  edition->revision.date = PAPER_DATE;
  pages = bw_pages_new (grading, edition);
  path = file_of (edition, grading);
  for (guint n = 1; n <= bw_pages_n (pages); n++)
    {
      g_autofree char *page = g_strdup_printf ("%u", n);
      g_autofree char *number = g_strdup_printf ("%u of %u", n, bw_pages_n (pages));
      g_autofree char *text = page_text (path, page);

      assert_has (text, number);
      assert_has (text, "Lugger (HB-01) · UK terms · Revision 3, 2026-03-01");
    }
  g_unlink (path);
}

static void
test_same_bytes (void)
{
  g_autoptr (BwGrading) grading = family_demo (reference, "lugger");
  g_autoptr (BwEdition) edition = bw_edition_new (grading->design, PAPER_DATE);

  for (guint form = BW_FORM_NORMAL; form <= BW_FORM_LOW_INK; form++)
    {
      g_autoptr (GBytes) first = NULL;
      g_autoptr (GBytes) second = NULL;
      g_autoptr (GBytes) later = NULL;

      edition->form = (BwEditionForm) form;
      first = paper_bytes (grading, edition);
      g_usleep (1100000); /* into another second of the clock */
      second = paper_bytes (grading, edition);
      g_assert_true (g_bytes_equal (first, second));
      edition->date += 86400;
      later = paper_bytes (grading, edition);
      g_assert_false (g_bytes_equal (first, later));
      edition->date -= 86400;
    }
}

/* --- Bad cases --- */

static BwGrading *
named_family (const char *name)
{
  g_autoptr (BwGrading) grading = family_demo (reference, "lugger");
  g_autoptr (BwDesign) design = bw_design_copy (grading->design);

  g_free (design->name);
  design->name = g_strdup (name);
  return bw_grade (reference, design, NULL);
}

static void
test_long_title (void)
{
  g_autofree char *words = g_strnfill (300, 'W');
  g_autoptr (BwGrading) grading = named_family (words);
  g_autoptr (BwEdition) edition = bw_edition_new (grading->design, PAPER_DATE);

  for (guint form = BW_FORM_NORMAL; form <= BW_FORM_LOW_INK; form++)
    {
      edition->form = (BwEditionForm) form;
      check_rounds (grading, edition, 0);
    }
}

static void
test_right_to_left (void)
{
  g_autoptr (BwGrading) grading = named_family ("סירה קטנה (כובע)");
  g_autoptr (BwEdition) edition = bw_edition_new (grading->design, PAPER_DATE);
  g_autoptr (BwPages) pages = bw_pages_new (grading, edition);
  g_autofree char *path = file_of (edition, grading);
  g_autofree char *info = paper_ask (path, "pdfinfo", NULL);

  g_assert_cmpuint (bw_pages_remarks (pages)->len, ==, 0);
  assert_has (info, "סירה קטנה (כובע) (HB-01)");
  check_rounds (grading, edition, 0);
  g_unlink (path);
}

/* A letter of a script that few fonts have: cuneiform. */
static void
test_missing_letter (void)
{
  g_autoptr (BwGrading) grading = named_family ("Lugger \xf0\x92\x80\xb8");
  g_autoptr (BwEdition) edition = bw_edition_new (grading->design, PAPER_DATE);
  g_autoptr (BwPages) pages = bw_pages_new (grading, edition);

  if (bw_pages_remarks (pages)->len == 0)
    {
      g_test_skip ("a font here has cuneiform letters");
      return;
    }
  assert_has (g_ptr_array_index (bw_pages_remarks (pages), 0), "U+12038");
}

static void
test_missing_photo (void)
{
  g_autoptr (BwGrading) grading = family_demo (reference, "lugger");
  g_autoptr (BwEdition) edition = bw_edition_new (grading->design, PAPER_DATE);
  g_autoptr (BwPages) pages = NULL;

  edition->photo = g_strdup ("there-is-no-such.png");
  pages = bw_pages_new (grading, edition);
  g_assert_cmpuint (bw_pages_remarks (pages)->len, ==, 1);
  assert_has (g_ptr_array_index (bw_pages_remarks (pages), 0), "there-is-no-such.png");
  check_rounds (grading, edition, 0);
}

int
main (int    argc,
      char **argv)
{
  int status;

  g_test_init (&argc, &argv, NULL);
  reference = bw_reference_builtin (NULL);
  g_assert_nonnull (reference);
  g_test_add_func ("/publish/pdf/editions", test_editions);
  g_test_add_func ("/publish/pdf/large-print", test_large_print);
  g_test_add_func ("/publish/pdf/large-family", test_large_family);
  g_test_add_func ("/publish/pdf/random", test_random);
  g_test_add_func ("/publish/pdf/sound", test_sound);
  g_test_add_func ("/publish/pdf/metadata", test_metadata);
  g_test_add_func ("/publish/pdf/fonts", test_fonts);
  g_test_add_func ("/publish/pdf/structure", test_structure);
  g_test_add_func ("/publish/pdf/links", test_links);
  g_test_add_func ("/publish/pdf/foot", test_foot);
  g_test_add_func ("/publish/pdf/same-bytes", test_same_bytes);
  g_test_add_func ("/publish/pdf/long-title", test_long_title);
  g_test_add_func ("/publish/pdf/right-to-left", test_right_to_left);
  g_test_add_func ("/publish/pdf/missing-letter", test_missing_letter);
  g_test_add_func ("/publish/pdf/missing-photo", test_missing_photo);
  status = g_test_run ();
  bw_reference_free (reference);
  return status;
}
