#include <string.h>

#include "bw-design-file.h"
#include "bw-grade.h"
#include "bw-reference-builtin.h"

/* The demo families and the designs of the tests: they read, say that they are
 * invented, are rewritten to the byte, and grade without anything to mend. The
 * worked example of grading comes out exactly. */

static BwReference *reference;

static char *
load (const char *folder,
      const char *name)
{
  g_autofree char *path = g_test_build_filename (G_TEST_DIST, folder, name, NULL);
  g_autoptr (GError) error = NULL;
  char *text;

  g_file_get_contents (path, &text, NULL, &error);
  g_assert_no_error (error);

  return text;
}

static BwGrading *
grade_text (const char *text)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (BwDesign) design = bw_design_from_text (reference, text, strlen (text), &error);
  g_autofree char *again = NULL;
  BwGrading *grading;

  g_assert_no_error (error);
  again = bw_design_to_text (reference, design, text, NULL);
  g_assert_cmpstr (again, ==, text);

  grading = bw_grade (reference, design, &error);
  g_assert_no_error (error);

  return grading;
}

static guint
count_findings (const BwGrading *grading,
                BwSeverity       severity)
{
  guint n = 0;

  for (guint i = 0; i < grading->findings->len; i++)
    n += g_array_index (grading->findings, BwFinding, i).severity >= severity;

  return n;
}

static guint
count_kind (const BwGrading *grading,
            BwFindingKind    kind)
{
  guint n = 0;

  for (guint i = 0; i < grading->findings->len; i++)
    n += g_array_index (grading->findings, BwFinding, i).kind == kind;

  return n;
}

/* ---- demo families ----------------------------------------------------- */

static const struct
{
  const char *file;
  guint       n_sizes;
  guint       n_colours;
} demos[] = {
  { "coble.hat", 5, 1 },
  { "lugger.hat", 8, 3 },
  { "smack.hat", 3, 3 },
};

static void
test_demos (void)
{
  for (guint i = 0; i < G_N_ELEMENTS (demos); i++)
    {
      g_autofree char *text = load ("../data/designs", demos[i].file);
      g_autoptr (BwGrading) grading = grade_text (text);

      g_assert_true (g_str_has_prefix (text, "# "));
      g_assert_nonnull (strstr (text, "# Demo data. "));
      g_assert_nonnull (strstr (text, "invented"));
      g_assert_false (grading->refused);
      g_assert_cmpuint (count_findings (grading, BW_SEVERITY_WARNING), ==, 0);
      g_assert_cmpuint (grading->sizes->len, ==, demos[i].n_sizes);
      g_assert_cmpuint (grading->design->colours->len, ==, demos[i].n_colours);
    }
}

/* Sideways rib, two-colour raised columns changed every two rounds, plain
 * rounds, evenly decreased crown. */
static void
test_thirds (void)
{
  g_autofree char *text = load ("data/designs", "thirds.hat");
  g_autoptr (BwGrading) grading = grade_text (text);

  g_assert_false (grading->refused);
  g_assert_cmpuint (count_findings (grading, BW_SEVERITY_WARNING), ==, 0);
  for (guint i = 0; i < grading->sizes->len; i++)
    {
      const BwGradedSize *size = g_ptr_array_index (grading->sizes, i);

      g_assert_cmpuint (size->body_stitches % 3, ==, 0);
      g_assert_cmpuint (size->brim_rows % 2, ==, 0);
      g_assert_cmpuint (size->crown_start % grading->wedges, ==, 0);
    }
}

static void
test_large (void)
{
  g_autofree char *text = load ("data/designs", "large.hat");
  g_autoptr (BwGrading) grading = grade_text (text);

  g_assert_cmpuint (grading->design->bands->len, ==, BW_DESIGN_BANDS_MAX);
  g_assert_cmpuint (grading->design->colours->len, ==, BW_STRIPE_COLOURS_MAX);
  g_assert_cmpuint (grading->sizes->len, ==, BW_DESIGN_SIZES_MAX);
  g_assert_cmpuint (count_findings (grading, BW_SEVERITY_ERROR), ==, 0);
}

/* ---- the worked example ------------------------------------------------ */

/* Plain arithmetic: 15 stitches to 10 cm around 0.93 of the head, to the
 * nearest multiple; 27 rows to 10 cm around 0.82 of it, to the nearest even
 * number. */
static const struct
{
  const char *file;
  guint       body[5];
  guint       n_alike;
} examples[] = {
  { "oracle.hat", { 66, 72, 76, 80, 84 }, 0 },
  { "oracle-6.hat", { 66, 72, 78, 78, 84 }, 1 },
  { "oracle-8.hat", { 64, 72, 72, 80, 80 }, 2 },
};

static const guint brim_rows[5] = { 106, 112, 120, 126, 132 };

static void
test_worked_example (void)
{
  for (guint i = 0; i < G_N_ELEMENTS (examples); i++)
    {
      g_autofree char *text = load ("data/designs", examples[i].file);
      g_autoptr (BwGrading) grading = grade_text (text);

      g_assert_cmpuint (grading->sizes->len, ==, 5);
      for (guint k = 0; k < 5; k++)
        {
          const BwGradedSize *size = g_ptr_array_index (grading->sizes, k);

          g_assert_cmpuint (size->body_stitches, ==, examples[i].body[k]);
          g_assert_cmpuint (size->brim_rows, ==, brim_rows[k]);
        }
      g_assert_cmpuint (count_kind (grading, BW_FINDING_SIZES_ALIKE), ==, examples[i].n_alike);
    }
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

  g_test_add_func ("/core/demo-designs/demos", test_demos);
  g_test_add_func ("/core/demo-designs/thirds", test_thirds);
  g_test_add_func ("/core/demo-designs/large", test_large);
  g_test_add_func ("/core/demo-designs/worked-example", test_worked_example);

  status = g_test_run ();
  bw_reference_free (reference);

  return status;
}
