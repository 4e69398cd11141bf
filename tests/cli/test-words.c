/* Words for what the core returns, called directly: every kind of finding must
 * have its sentences, and figures must come through. */

#include <string.h>

#include "bw-design-file.h"
#include "bw-reference-builtin.h"
#include "bw-words.h"

#include "run.h"

typedef struct
{
  BwReference *reference;
  BwGrading   *grading;
} Fixture;

static void
set_up (Fixture       *fixture,
        gconstpointer  data G_GNUC_UNUSED)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (BwDesign) design = NULL;

  fixture->reference = bw_reference_builtin (&error);
  g_assert_no_error (error);
  design = bw_design_from_text (fixture->reference, family (), strlen (family ()), &error);
  g_assert_no_error (error);
  fixture->grading = bw_grade (fixture->reference, design, &error);
  g_assert_no_error (error);
}

static void
tear_down (Fixture       *fixture,
           gconstpointer  data G_GNUC_UNUSED)
{
  bw_grading_free (fixture->grading);
  bw_reference_free (fixture->reference);
}

static BwFinding
finding_of (BwFindingKind kind,
            double        a,
            double        b,
            double        c)
{
  BwFinding finding = { kind, BW_SEVERITY_WARNING, 1, 0, 3, BW_SECTION_BAND, a, b, c, 0 };

  return finding;
}

/* A sentence: it begins with a capital or a figure and ends with a full stop. */
static void
assert_sentence (const char *text)
{
  g_assert_nonnull (text);
  g_assert_cmpuint (strlen (text), >, 10);
  g_assert_true (g_ascii_isupper (*text) || g_ascii_isdigit (*text));
  g_assert_true (g_str_has_suffix (text, "."));
  g_assert_true (g_utf8_validate (text, -1, NULL));
  g_assert_null (strstr (text, "(null)"));
}

static void
test_every_kind (Fixture       *fixture,
                 gconstpointer  data G_GNUC_UNUSED)
{
  for (int kind = 1; kind < BW_FINDING_DESIGN_N; kind++)
    {
      BwFinding finding = finding_of ((BwFindingKind) kind, 2, 3, 1);
      g_autoptr (BwWordsFinding) words = bw_words_finding (fixture->grading, &finding);

      g_test_message ("%d: %s", kind, words->what);
      assert_sentence (words->what);
      assert_sentence (words->why);
      assert_sentence (words->mend);
      g_assert_cmpuint (strlen (words->code), ==, 3);
      g_assert_nonnull (strstr (words->where, "Medium"));
    }
}

/* A finding of a refused family points at no round and no graded size. */
static void
test_nowhere (Fixture       *fixture,
              gconstpointer  data G_GNUC_UNUSED)
{
  for (int kind = 1; kind < BW_FINDING_DESIGN_N; kind++)
    {
      BwFinding finding = { (BwFindingKind) kind, BW_SEVERITY_REFUSAL, -1, -1, -1, -1, 0, 0, 0, 0 };
      g_autoptr (BwWordsFinding) words = bw_words_finding (fixture->grading, &finding);

      g_assert_cmpstr (words->where, ==, "");
      assert_sentence (words->what);
      assert_sentence (words->mend);
    }
}

/* 71 stitches do not divide by a repeat of three: 69 and 72 do. */
static void
test_multiple (Fixture       *fixture,
               gconstpointer  data G_GNUC_UNUSED)
{
  static const struct { guint stitches, multiple, plus; const char *mend; } cases[] = {
    { 71, 3, 0, "Take 69 or 72 stitches." },
    { 70, 6, 2, "Take 68 or 74 stitches." },
    { 7, 8, 0, "Take 8 stitches." },
    { 1, 4, 2, "Take 2 stitches." },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      BwFinding finding = finding_of (BW_FINDING_NOT_A_MULTIPLE, cases[i].stitches,
                                      cases[i].multiple, cases[i].plus);
      g_autoptr (BwWordsFinding) words = bw_words_finding (fixture->grading, &finding);

      g_assert_cmpstr (words->mend, ==, cases[i].mend);
    }
}

/* The same finding in several sizes is told once and names them all; findings
 * with other figures stay apart; the gravest comes first. */
static void
test_merging (Fixture       *fixture,
              gconstpointer  data G_GNUC_UNUSED)
{
  BwFinding note = { BW_FINDING_CAUTION_SLEEP, BW_SEVERITY_NOTE, 0, -1, -1, -1, 0, 0, 0, 0 };
  BwFinding deep = { BW_FINDING_DEPTH, BW_SEVERITY_WARNING, 0, -1, -1, -1, 250, 200, 0, 0 };
  g_autoptr (GPtrArray) words = NULL;
  const BwWordsFinding *first;
  const BwWordsFinding *last;

  g_array_set_size (fixture->grading->findings, 0);
  g_array_append_val (fixture->grading->findings, note);
  note.size = 2;
  g_array_append_val (fixture->grading->findings, note);
  g_array_append_val (fixture->grading->findings, deep);
  deep.a = 260;
  g_array_append_val (fixture->grading->findings, deep);

  words = bw_words_findings (fixture->grading);
  g_assert_cmpuint (words->len, ==, 3);
  first = g_ptr_array_index (words, 0);
  last = g_ptr_array_index (words, 2);
  g_assert_cmpint (first->severity, ==, BW_SEVERITY_WARNING);
  g_assert_nonnull (strstr (first->what, "25 cm"));
  g_assert_cmpstr (last->where, ==, "Small, say \"ten\", Größe L");
}

/* Ids are found before names, so that a size named like another's id is no trap. */
static void
test_find_size (Fixture       *fixture,
                gconstpointer  data G_GNUC_UNUSED)
{
  BwDesign *design = fixture->grading->design;
  BwSize *large = g_array_index (design->sizes, BwSizeChoice, 2).size;

  g_assert_cmpint (bw_words_find_size (design, "medium"), ==, 1);
  g_assert_cmpint (bw_words_find_size (design, "Medium"), ==, 1);
  g_assert_cmpint (bw_words_find_size (design, "MEDIUM"), ==, -1);
  g_free (large->name);
  large->name = g_strdup ("small");
  g_assert_cmpint (bw_words_find_size (design, "small"), ==, 0);
}

/* What is done with the yarn, for each way a colour can rest. */
static void
test_yarn (Fixture       *fixture,
           gconstpointer  data G_GNUC_UNUSED)
{
  static const struct { BwYarnEnd after; gboolean joins; const char *words; } cases[] = {
    { BW_YARN_WORKING, FALSE, "" },
    { BW_YARN_CARRIED, TRUE, "carry A up; join B" },
    { BW_YARN_CARRIED, FALSE, "carry A up; take up B" },
    { BW_YARN_CUT, TRUE, "cut A, leaving 15 cm; join B" },
    { BW_YARN_CUT, FALSE, "cut A, leaving 15 cm; take up B" },
  };
  g_autoptr (BwRoundList) list = bw_round_list_new ();

  bw_round_list_append (list, BW_SECTION_BAND, NULL, 0);
  bw_round_list_append (list, BW_SECTION_BAND, NULL, 0)->colour = 1;
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *words = NULL;

      g_array_index (list->rounds, BwRound, 0).after = (guint8) cases[i].after;
      g_array_index (list->rounds, BwRound, 1).joins_in = cases[i].joins;
      words = bw_words_round_yarn (fixture->grading, list, 0);
      g_assert_cmpstr (words, ==, cases[i].words);
    }
}

static void
test_figures (Fixture       *fixture,
              gconstpointer  data G_GNUC_UNUSED)
{
  BwDesign *design = fixture->grading->design;
  const BwEase eases[] = { { -0.07, 0 }, { 0, -25 }, { -0.05, 10 }, { 0, 0 } };
  static const char *const words[] = { "−7 %", "−2.5 cm", "−5 % +1 cm", "none" };

  for (guint i = 0; i < G_N_ELEMENTS (eases); i++)
    {
      g_autofree char *text = bw_words_ease (design, &eases[i]);

      g_assert_cmpstr (text, ==, words[i]);
    }
}

int
main (int    argc,
      char **argv)
{
  g_test_init (&argc, &argv, NULL);

#define ADD(path, function) g_test_add (path, Fixture, NULL, set_up, function, tear_down)
  ADD ("/words/finding/every-kind", test_every_kind);
  ADD ("/words/finding/nowhere", test_nowhere);
  ADD ("/words/finding/multiple", test_multiple);
  ADD ("/words/finding/merging", test_merging);
  ADD ("/words/find-size", test_find_size);
  ADD ("/words/yarn", test_yarn);
  ADD ("/words/figures", test_figures);

  return g_test_run ();
}
