#include <glib.h>
#include <string.h>

#include "bw-error.h"
#include "bw-pattern-private.h"
#include "bw-reference-builtin.h"

/* Every way to write in tests/data/forms.txt, with the rounds that stand there. */

static BwReference *reference;

static void
put_rounds (const BwPattern *pattern,
            guint            size,
            GString         *out)
{
  g_autoptr (BwPatternRounds) rounds = bw_pattern_evaluate (pattern, size);

  for (guint i = 0; i < rounds->list->rounds->len; i++)
    {
      const BwRound *round = &g_array_index (rounds->list->rounds, BwRound, i);
      BwSlice colour = g_array_index (rounds->colours, BwSlice, round->colour);

      g_string_append_printf (out, "%s%u:%u", i > 0 ? " " : "", round->number,
                              round->stitches_out);
      if (colour.length > 0)
        g_string_append_printf (out, "@%.*s", (int) colour.length, pattern->text + colour.offset);
    }
}

/* Rounds that do not add up, in the best reading. */
static guint
count_misfits (const BwPattern *pattern,
               guint            size)
{
  BwPatternWalk walk;
  BwPatternStep step;
  guint misfits = 0;

  bw_pattern_walk_init (&walk, pattern, size, bw_pattern_best_reading (pattern, size));
  while (bw_pattern_walk_next (&walk, &step))
    misfits += (step.fit.status != BW_FIT_WELL && step.fit.status != BW_FIT_UNKNOWN) ||
               !step.count_holds;
  bw_pattern_walk_clear (&walk);
  return misfits;
}

static void
check_form (const char *terms,
            guint       size,
            const char *wanted,
            const char *text)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (BwPattern) pattern = NULL;
  g_autoptr (GString) found = g_string_new (NULL);
  int known = g_str_equal (terms, "uk") ? BW_TERMS_UK
              : g_str_equal (terms, "us") ? BW_TERMS_US : BW_TERMS_UNSAID;

  g_test_message ("%s", text);
  pattern = bw_pattern_read (reference->stitches, text, -1, known, &error);
  if (g_str_equal (wanted, "asks"))
    {
      g_assert_error (error, BW_ERROR, BW_ERROR_MISSING);
      return;
    }
  g_assert_no_error (error);
  g_assert_cmpuint (pattern->errors->len, ==, 0);
  g_assert_cmpuint (size, <=, pattern->n_sizes);
  put_rounds (pattern, size - 1, found);
  g_assert_cmpstr (found->str, ==, wanted);
  g_assert_cmpuint (count_misfits (pattern, size - 1), ==, 0);
}

/* One case, behind its "= ". */
static void
check_case (char *text)
{
  char *end = strchr (text, '\n');
  char *comma = strstr (text, ", size ");
  char *colon = strstr (text, ": ");

  g_assert_true (end != NULL && comma != NULL && colon != NULL && comma < colon && colon < end);
  *comma = *colon = *end = '\0';
  check_form (text, (guint) g_ascii_strtoull (comma + strlen (", size "), NULL, 10), colon + 2,
              end + 1);
}

static void
test_forms (void)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *path = g_test_build_filename (G_TEST_DIST, "data", "forms.txt", NULL);
  g_autofree char *text = NULL;
  g_auto (GStrv) cases = NULL;
  guint n = 0;

  g_file_get_contents (path, &text, NULL, &error);
  g_assert_no_error (error);
  cases = g_strsplit (text, "\n= ", -1);
  for (guint i = 1; cases[i] != NULL; i++, n++)
    check_case (cases[i]);
  g_test_message ("%u forms", n);
  g_assert_cmpuint (n, >=, 200);
}

int
main (int    argc,
      char **argv)
{
  int status;

  g_test_init (&argc, &argv, NULL);
  reference = bw_reference_builtin (NULL);
  g_assert_nonnull (reference);
  g_test_add_func ("/pattern-forms/table", test_forms);
  status = g_test_run ();
  bw_reference_free (reference);
  return status;
}
