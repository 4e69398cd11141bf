#include "bw-reference-builtin.h"
#include "bw-words-pattern.h"
#include "hats.h"
#include "read-back.h"

/* Any pattern that is written, read back, gives exactly the rounds of every size. */

#define FAMILIES 5000

static BwReference *reference;

static void
read_back (const BwGrading *grading,
           guint32          seed,
           int              only,
           BwPatternForm    form)
{
  g_autoptr (GPtrArray) blocks = bw_words_pattern (grading, only, form);
  g_autofree char *text = bw_words_pattern_text (blocks);
  g_autoptr (GError) error = NULL;
  g_autoptr (BwPattern) pattern = bw_pattern_read (reference->stitches, text, -1, BW_TERMS_UNSAID,
                                                   &error);

  if (pattern == NULL)
    fail_reading (text, seed, 0, 0, error->message);
  if (pattern->errors->len > 0)
    {
      const BwPatternError *first = &g_array_index (pattern->errors, BwPatternError, 0);
      guint line, column;

      bw_pattern_place (pattern, first->offset, &line, &column);
      g_printerr ("line %u, column %u:\n", line, column);
      fail_reading (text, seed, 0, 0, first->wanted);
    }
  g_assert_cmpint (pattern->terms, ==, grading->design->terms);
  g_assert_cmpint (pattern->terms_from, ==, BW_TERMS_STATED);

  if (only >= 0)
    {
      g_assert_cmpuint (pattern->n_sizes, ==, 1);
      check_size (text, seed, grading, (guint) only, pattern, 0);
      return;
    }
  g_assert_cmpuint (pattern->n_sizes, ==, grading->sizes->len);
  for (guint k = 0; k < grading->sizes->len; k++)
    check_size (text, seed, grading, k, pattern, k);
}

static void
test_families (void)
{
  guint families = 0;
  guint sizes = 0;

  for (guint32 seed = 1; families < FAMILIES; seed++)
    {
      g_autoptr (BwDesign) design = random_hat (reference, HATS_ANY, seed);
      g_autoptr (BwGrading) grading = NULL;

      design->terms = seed % 2 == 0 ? BW_TERMS_UK : BW_TERMS_US;
      grading = bw_grade (reference, design, NULL);
      if (grading == NULL || grading->refused)
        continue;
      read_back (grading, seed, -1, BW_PATTERN_FOLDED);
      if (seed % 8 == 0)
        {
          read_back (grading, seed, 0, BW_PATTERN_FOLDED);
          read_back (grading, seed, 0, BW_PATTERN_FULL);
          read_back (grading, seed, 0, BW_PATTERN_SENTENCES);
        }
      families++;
      sizes += grading->sizes->len;
    }
  g_test_message ("%u families, %u sizes read back", families, sizes);
}

int
main (int    argc,
      char **argv)
{
  int status;

  g_test_init (&argc, &argv, NULL);
  reference = bw_reference_builtin (NULL);
  g_assert_nonnull (reference);
  g_test_add_func ("/words/read-back/families", test_families);
  status = g_test_run ();
  bw_reference_free (reference);
  return status;
}
