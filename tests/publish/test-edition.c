#include <string.h>

#include "bw-edition.h"
#include "bw-error.h"
#include "family.h"

static BwReference *reference;

static void
test_paper_follows_terms (void)
{
  g_autoptr (BwDesign) design = bw_design_new ();
  g_autoptr (BwEdition) uk = NULL;
  g_autoptr (BwEdition) us = NULL;

  design->terms = BW_TERMS_UK;
  uk = bw_edition_new (design, 0);
  design->terms = BW_TERMS_US;
  us = bw_edition_new (design, 0);
  g_assert_cmpint (uk->paper, ==, BW_PAPER_A4);
  g_assert_cmpint (us->paper, ==, BW_PAPER_LETTER);
  g_assert_cmpint (us->size, ==, BW_EDITION_ALL_SIZES);
  g_assert_cmpuint (us->revision.number, ==, 0);
}

static void
test_copy (void)
{
  g_autoptr (BwDesign) design = bw_design_new ();
  BwEdition *edition = bw_edition_new (design, 5);
  const char *corrections[] = { "Size M, round 3: 54 sts, not 52.", NULL };
  g_autoptr (BwEdition) copy = NULL;

  edition->revision.corrections = g_strdupv ((char **) corrections);
  edition->photo = g_strdup ("cover.png");
  copy = bw_edition_copy (edition);
  bw_edition_free (edition);
  g_assert_cmpstr (copy->revision.corrections[0], ==, corrections[0]);
  g_assert_cmpstr (copy->photo, ==, "cover.png");
  g_assert_cmpint (copy->date, ==, 5);
}

static void
test_source_date (void)
{
  static const char *const none[] = { "", "now", "-1", "1.5", " 7", "99999999999999999999" };
  gint64 date;

  g_assert_true (bw_edition_source_date (NULL, 77, &date, NULL));
  g_assert_cmpint (date, ==, 77);
  g_assert_true (bw_edition_source_date ("1772323200", 77, &date, NULL));
  g_assert_cmpint (date, ==, 1772323200);

  for (guint i = 0; i < G_N_ELEMENTS (none); i++)
    {
      g_autoptr (GError) error = NULL;

      g_assert_false (bw_edition_source_date (none[i], 77, &date, &error));
      g_assert_error (error, BW_ERROR, BW_ERROR_SYNTAX);
    }
}

/* The last second of a day and the first of the next, by the calendar. */
static void
test_day (void)
{
  g_autofree char *last = bw_edition_day (1772323199);
  g_autofree char *first = bw_edition_day (1772323200);

  g_assert_cmpstr (last, ==, "2026-02-28");
  g_assert_cmpstr (first, ==, "2026-03-01");
}

static void
test_path (void)
{
  static const char *const cases[][3] = {
    { "lugger.pdf", "lugger-uk.pdf", "lugger-us.pdf" },
    { "a.b/lugger", "a.b/lugger-uk", "a.b/lugger-us" },
    { "/x/two.dots.html", "/x/two.dots-uk.html", "/x/two.dots-us.html" },
    { "/x/.hidden", "/x/.hidden-uk", "/x/.hidden-us" },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *uk = bw_edition_path (cases[i][0], BW_TERMS_UK);
      g_autofree char *us = bw_edition_path (cases[i][0], BW_TERMS_US);

      g_assert_cmpstr (uk, ==, cases[i][1]);
      g_assert_cmpstr (us, ==, cases[i][2]);
    }
}

/* A view changes words and never a figure, and leaves the grading as it was. */
static void
test_view (void)
{
  g_autoptr (BwGrading) grading = family_demo (reference, "lugger");
  g_autoptr (BwEdition) edition = bw_edition_new (grading->design, 0);
  BwTerms terms = grading->design->terms;
  BwGrading *view;

  edition->terms = terms == BW_TERMS_UK ? BW_TERMS_US : BW_TERMS_UK;
  edition->units = BW_UNITS_INCH;
  view = bw_edition_view (edition, grading);
  g_assert_cmpint (view->design->terms, ==, edition->terms);
  g_assert_cmpint (view->design->units, ==, BW_UNITS_INCH);
  g_assert_true (view->sizes == grading->sizes);
  g_assert_cmpint (grading->design->terms, ==, terms);
  bw_edition_view_free (view);
}

int
main (int    argc,
      char **argv)
{
  int status;

  g_test_init (&argc, &argv, NULL);
  reference = bw_reference_builtin (NULL);
  g_assert_nonnull (reference);
  g_test_add_func ("/publish/edition/paper-follows-terms", test_paper_follows_terms);
  g_test_add_func ("/publish/edition/copy", test_copy);
  g_test_add_func ("/publish/edition/source-date", test_source_date);
  g_test_add_func ("/publish/edition/day", test_day);
  g_test_add_func ("/publish/edition/path", test_path);
  g_test_add_func ("/publish/edition/view", test_view);
  status = g_test_run ();
  bw_reference_free (reference);
  return status;
}
