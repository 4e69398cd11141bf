#include <math.h>

#include "bw-design-file.h"
#include "bw-grade.h"
#include "bw-reference-builtin.h"
#include "glpk-choice.h"
#include "hats.h"

/* The choice of counts against an integer programme solved by GLPK (GNU Linear
 * Programming Kit, https://www.gnu.org/software/glpk/): the same least cost for
 * every random family, and a refusal just where GLPK finds none either. */

#define FAMILIES 5000

static BwReference *reference;

static void
tell (const BwDesign *design,
      guint32         seed)
{
  g_autofree char *text = bw_design_to_text (reference, design, NULL, NULL);

  g_printerr ("family %u\n%s\n", seed, text);
}

/* Rounds that do not stand on one another are refused after the choice, by the
 * audit; that refusal is not the optimiser's. */
static gboolean
refused_by_choice (const BwGrading *grading)
{
  for (guint i = 0; i < grading->findings->len; i++)
    if (g_array_index (grading->findings, BwFinding, i).severity == BW_SEVERITY_REFUSAL)
      return TRUE;

  return FALSE;
}

static gboolean
check_family (guint32 seed)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (BwDesign) design = random_hat (reference, HATS_SMALL, seed);
  g_autoptr (BwGrading) grading = bw_grade (reference, design, &error);
  gboolean refused;
  GlpkChoice glpk;

  g_assert_no_error (error);
  glpk_choice (reference, design, &glpk);
  refused = refused_by_choice (grading);
  if (refused == glpk.feasible || (!refused && !(fabs (grading->cost - glpk.cost) <= 1e-9)))
    tell (design, seed);

  g_assert_cmpint (refused, ==, !glpk.feasible);
  if (!refused)
    g_assert_cmpfloat_with_epsilon (grading->cost, glpk.cost, 1e-9);
  return !refused;
}

static void
test_random (void)
{
  guint32 seed = (guint32) g_test_rand_int ();
  guint chosen = 0;

  for (guint i = 0; i < FAMILIES; i++)
    chosen += check_family (seed + i);

  g_test_message ("%u families with the same least cost, %u refused by both; first seed %u",
                  chosen, FAMILIES - chosen, seed);
  g_assert_cmpuint (chosen, >, FAMILIES / 2);
}

int
main (int    argc,
      char **argv)
{
  g_autoptr (GError) error = NULL;
  int result;

  g_test_init (&argc, &argv, NULL);
  reference = bw_reference_builtin (&error);
  g_assert_no_error (error);
  g_test_add_func ("/standards/optimiser/glpk", test_random);
  result = g_test_run ();
  bw_reference_free (reference);
  return result;
}
