#include <glib/gstdio.h>
#include <string.h>

#include "bw-chart.h"
#include "bw-html.h"
#include "family.h"
#include "hats.h"
#include "page.h"
#include "../words/read-back.h"

/* Pages for a browser: what they say is what was graded, for all sizes and for
 * each that may be chosen, and nothing in them depends on when they were made. */

#define DATE      G_GINT64_CONSTANT (1772323200) /* 2026-03-01 */
#define FAMILIES  12

static BwReference *reference;

static char *
make (const BwGrading *grading,
      const BwEdition *edition)
{
  g_autoptr (GError) error = NULL;
  gsize length;
  char *html = bw_html_pattern (grading, edition, &length, &error);

  g_assert_no_error (error);
  g_assert_cmpuint (strlen (html), ==, length);
  g_assert_true (g_utf8_validate (html, -1, NULL));
  return html;
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

/* With all sizes showing, and with each of them chosen. */
static void
check_page (const BwGrading *grading,
            guint32          seed)
{
  g_autoptr (BwEdition) edition = bw_edition_new (grading->design, DATE);
  g_autofree char *html = NULL;
  g_autofree char *text = NULL;
  g_autoptr (BwPattern) pattern = NULL;

  edition->terms = seed % 2 == 0 ? BW_TERMS_UK : BW_TERMS_US;
  html = make (grading, edition);
  text = page_text (html, PAGE_ALL_SIZES);
  pattern = read_text (text);
  g_assert_cmpint (pattern->terms, ==, edition->terms);
  g_assert_cmpuint (pattern->n_sizes, ==, grading->sizes->len);
  for (guint k = 0; k < grading->sizes->len; k++)
    check_size (text, seed, grading, k, pattern, k);

  for (guint k = 0; grading->sizes->len > 1 && k < grading->sizes->len; k++)
    {
      g_autofree char *one = page_text (html, (int) k);
      const char *rounds = strstr (one, "\nInstructions\n");
      g_autofree char *alone = NULL;
      g_autoptr (BwPattern) read = NULL;

      g_assert_nonnull (rounds);
      g_assert_false (g_regex_match_simple ("(Rnds|Rows) [0-9]+:", rounds, 0, 0));
      g_assert_false (g_regex_match_simple ("(Rnd|Row) [0-9]+–", rounds, 0, 0));
      alone = g_strconcat ("Terms: ", edition->terms == BW_TERMS_UK ? "UK" : "US", " terms\n",
                           rounds, NULL);
      read = read_text (alone);
      g_assert_cmpuint (read->n_sizes, ==, 1);
      check_size (alone, seed, grading, k, read, 0);
    }
}

static void
test_demo (void)
{
  for (guint i = 0; i < G_N_ELEMENTS (demo_families); i++)
    {
      g_autoptr (BwGrading) grading = family_demo (reference, demo_families[i]);

      check_page (grading, i);
    }
}

static void
test_random (void)
{
  guint families = 0;

  for (guint32 seed = 1; families < FAMILIES; seed++)
    {
      g_autoptr (BwDesign) design = random_hat (reference, HATS_ANY, seed);
      g_autoptr (BwGrading) grading = bw_grade (reference, design, NULL);

      if (grading == NULL || grading->refused)
        continue;
      check_page (grading, seed);
      families++;
    }
}

/* The page of one size, with every round by itself. */
static void
test_one_size (void)
{
  g_autoptr (BwGrading) grading = family_demo (reference, "lugger");
  g_autoptr (BwEdition) edition = bw_edition_new (grading->design, DATE);

  for (guint k = 0; k < grading->sizes->len; k++)
    {
      g_autofree char *html = NULL;
      g_autofree char *text = NULL;
      g_autoptr (BwPattern) pattern = NULL;

      edition->size = (int) k;
      edition->full = TRUE;
      html = bw_html_pattern (grading, edition, NULL, NULL);
      text = page_text (html, PAGE_ALL_SIZES);
      pattern = read_text (text);
      g_assert_cmpuint (pattern->n_sizes, ==, 1);
      check_size (text, k, grading, k, pattern, 0);
      g_assert_nonnull (strstr (html, "type=\"checkbox\""));
      g_assert_null (strstr (html, "type=\"radio\""));
    }
}

/* Every choice of the page has its rules in the style, and names one size. */
static void
test_chooser (void)
{
  g_autoptr (BwGrading) grading = family_demo (reference, "lugger");
  g_autoptr (BwEdition) edition = bw_edition_new (grading->design, DATE);
  g_autofree char *html = make (grading, edition);

  for (guint k = 0; k < grading->sizes->len; k++)
    {
      const BwGradedSize *size = family_size (grading, k);
      g_autofree char *button = g_strdup_printf ("id=\"size-%u\"><bdi>%s</bdi>", k,
                                                 size->choice->size->name);
      g_autofree char *rule = g_strdup_printf ("#size-%u:checked) :is(.s:not(.s%u),.r:not(.w%u))",
                                               k, k, k);

      g_assert_nonnull (strstr (html, button));
      g_assert_nonnull (strstr (html, rule));
    }
  g_assert_null (strstr (html, "<script"));
}

/* The same again in a program that has drawn other things meanwhile; another
 * date is another page. */
static void
test_same_again (void)
{
  g_autoptr (BwGrading) grading = family_demo (reference, "lugger");
  g_autoptr (BwGrading) other = family_demo (reference, "smack");
  g_autoptr (BwEdition) edition = bw_edition_new (grading->design, DATE);
  g_autofree char *first = make (grading, edition);
  g_autofree char *between = make (other, edition);
  g_autofree char *again = make (grading, edition);
  g_autofree char *later = NULL;

  g_assert_cmpstr (first, ==, again);
  g_assert_cmpstr (first, !=, between);
  edition->date += 86400;
  later = make (grading, edition);
  g_assert_cmpstr (first, !=, later);
  g_assert_nonnull (strstr (first, "Draft, 2026-03-01"));
  g_assert_nonnull (strstr (later, "Draft, 2026-03-02"));
}

/* Names of drawings and of what they use are there once. */
static void
test_names (void)
{
  g_autoptr (BwGrading) grading = family_demo (reference, "lugger");
  g_autoptr (BwEdition) edition = bw_edition_new (grading->design, DATE);
  g_autofree char *html = make (grading, edition);
  g_autoptr (GHashTable) ids = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  guint used = 0;

  for (const char *at = strstr (html, " id=\""); at != NULL; at = strstr (at + 1, " id=\""))
    g_assert_true (g_hash_table_add (ids, page_attribute (at, strcspn (at, ">"), "id")));
  for (const char *at = strstr (html, "url(#"); at != NULL; at = strstr (at + 1, "url(#"), used++)
    {
      g_autofree char *name = g_strndup (at + 5, strcspn (at + 5, ")"));

      g_assert_true (g_hash_table_contains (ids, name));
    }
  g_assert_cmpuint (used, >, 50);
}

/* Every drawing says in words what it shows. */
static void
test_alternatives (void)
{
  g_autoptr (BwGrading) grading = family_demo (reference, "lugger");
  g_autoptr (BwChart) chart = bw_chart_new (grading, grading->sizes->len / 2);
  g_autoptr (BwEdition) edition = bw_edition_new (grading->design, DATE);
  g_autofree char *html = make (grading, edition);
  guint n = 0;

  for (const char *at = strstr (html, "<svg"); at != NULL; at = strstr (at + 1, "<svg"), n++)
    {
      g_autofree char *words = page_attribute (at, strcspn (at, ">"), "aria-label");

      g_assert_nonnull (words);
      g_assert_cmpuint (strlen (words), >, 20);
    }
  /* cover, hats, schematic, key, charts */
  g_assert_cmpuint (n, ==, 2 + grading->sizes->len + 2 + chart->panels->len);
  g_assert_nonnull (strstr (html, "aria-label=\"Child seen from the side: 48.3 cm round, "
                                  "19.1 cm deep; Brim in A (Tar); Pick-up in A (Tar)"));
  g_assert_nonnull (strstr (html, "; a pom-pom in C (Foam)\""));
}

/* Charts are of the edition's size and in its terms; large print has their words alone. */
static void
test_charts (void)
{
  g_autoptr (BwGrading) grading = family_demo (reference, "smack");
  g_autoptr (BwEdition) edition = bw_edition_new (grading->design, DATE);
  g_autofree char *us = NULL;
  g_autofree char *large = NULL;
  g_autofree char *without = NULL;

  edition->size = 2;
  edition->terms = BW_TERMS_US;
  us = make (grading, edition);
  g_assert_nonnull (strstr (us, "<h3 dir=\"auto\">Chart: Crown</h3>"));
  g_assert_nonnull (strstr (us, "<p dir=\"auto\">Smack, Large</p>"));
  g_assert_nonnull (strstr (us, "Chart of Brim. Framed: one repeat of 2 stitches"));
  g_assert_nonnull (strstr (us, "FPdc, front post double crochet; "));
  g_assert_null (strstr (us, "FPtr"));

  edition->form = BW_FORM_LARGE_PRINT;
  large = make (grading, edition);
  g_assert_null (strstr (large, "Chart: Crown"));
  g_assert_nonnull (strstr (large, "Outline of the hat laid flat"));

  edition->form = BW_FORM_NORMAL;
  edition->charts = FALSE;
  without = make (grading, edition);
  g_assert_null (strstr (without, "Chart: Crown"));
}

/* Whatever a designer calls things, the page stays whole and says it. */
static void
test_strange_names (void)
{
  g_autoptr (BwGrading) grading = family_demo (reference, "lugger");
  g_autoptr (BwEdition) edition = bw_edition_new (grading->design, DATE);
  g_autofree char *long_name = g_strnfill (300, 'x');
  const char *names[] = {
    "</h1><script>alert (1)</script>", "A & B <i> \"quoted\" 'so'", "סירת מפרש", "قارب <b>",
    long_name, "a\302\205b", "",
  };

  for (guint i = 0; i < G_N_ELEMENTS (names); i++)
    {
      g_autofree char *html = NULL;
      g_autofree char *text = NULL;
      g_autofree char *heading = NULL;

      g_free (grading->design->name);
      grading->design->name = g_strdup (names[i]);
      g_free (grading->design->summary);
      grading->design->summary = g_strdup (names[i]);
      html = make (grading, edition);
      text = page_text (html, PAGE_ALL_SIZES);
      heading = g_strdup_printf ("%s (HB-01)\n", i == 5 ? "a\357\277\275b" : names[i]);
      g_assert_true (g_str_has_prefix (text, heading));
      g_assert_null (strstr (html, "<script"));
      g_assert_nonnull (strstr (html, "<h1 dir=\"auto\">"));
    }
}

static void
test_photo (void)
{
  g_autoptr (BwGrading) grading = family_demo (reference, "smack");
  g_autoptr (BwEdition) edition = bw_edition_new (grading->design, DATE);
  g_autoptr (GError) error = NULL;
  g_autofree char *folder = g_dir_make_tmp ("bw-photo-XXXXXX", NULL);
  g_autofree char *path = g_build_filename (folder, "photo.png", NULL);
  g_autofree char *html = NULL;

  edition->photo = g_strdup (path);
  g_assert_null (bw_html_pattern (grading, edition, NULL, &error));
  g_assert_error (error, G_FILE_ERROR, G_FILE_ERROR_NOENT);
  g_assert_nonnull (strstr (error->message, path));
  g_clear_error (&error);

  g_file_set_contents (path, "no picture", -1, NULL);
  g_assert_null (bw_html_pattern (grading, edition, NULL, &error));
  g_assert_nonnull (strstr (error->message, "PNG or JPEG"));

  g_file_set_contents (path, "\x89PNG\r\n\x1a\n....", 12, NULL);
  html = make (grading, edition);
  g_assert_nonnull (strstr (html, "src=\"data:image/png;base64,iVBORw0KGgouLi4u\""));
  g_assert_nonnull (strstr (html, "alt=\"Photograph of "));
  g_remove (path);
  g_rmdir (folder);
}

/* Which revision it is, and what a maker with the one before has to change. */
static void
test_revision (void)
{
  g_autoptr (BwGrading) grading = family_demo (reference, "smack");
  g_autoptr (BwEdition) edition = bw_edition_new (grading->design, DATE);
  const char *corrections[] = { "Medium, round 7: work 2 dc <more>.", NULL };
  g_autofree char *html = NULL;
  g_autofree char *text = NULL;

  edition->revision.number = 3;
  edition->revision.date = DATE + 86400;
  edition->revision.corrections = g_strdupv ((char **) corrections);
  html = make (grading, edition);
  text = page_text (html, PAGE_ALL_SIZES);
  g_assert_nonnull (strstr (text, "\nRevision 3, 2026-03-02.\nCorrections for those who have revision 2:\n"
                                  "Medium, round 7: work 2 dc <more>.\n"));
  g_assert_null (strstr (text, "First writing"));
}

int
main (int    argc,
      char **argv)
{
  int status;

  g_test_init (&argc, &argv, NULL);
  reference = bw_reference_builtin (NULL);
  g_assert_nonnull (reference);
  g_test_add_func ("/html/demo", test_demo);
  g_test_add_func ("/html/random", test_random);
  g_test_add_func ("/html/one-size", test_one_size);
  g_test_add_func ("/html/chooser", test_chooser);
  g_test_add_func ("/html/same-again", test_same_again);
  g_test_add_func ("/html/names", test_names);
  g_test_add_func ("/html/alternatives", test_alternatives);
  g_test_add_func ("/html/charts", test_charts);
  g_test_add_func ("/html/strange-names", test_strange_names);
  g_test_add_func ("/html/photo", test_photo);
  g_test_add_func ("/html/revision", test_revision);
  status = g_test_run ();
  bw_reference_free (reference);
  return status;
}
