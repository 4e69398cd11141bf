#define G_LOG_DOMAIN "bw-core"

#include "bw-grade.h"

#include <math.h>

#include "bw-build.h"
#include "bw-check.h"
#include "bw-choose.h"
#include "bw-error.h"
#include "bw-plan.h"

static void
graded_size_free (gpointer data)
{
  BwGradedSize *size = data;

  g_free (size->crown);
  g_clear_pointer (&size->rounds, bw_round_list_free);
  g_clear_pointer (&size->alternatives, g_array_unref);
  g_free (size);
}

static BwGradedSize *
graded_size_new (const BwPlan   *plan,
                 const BwDesign *design,
                 guint           k)
{
  BwGradedSize *size = g_new0 (BwGradedSize, 1);
  const BwSizeChoice *choice = &g_array_index (design->sizes, BwSizeChoice, k);

  size->choice = choice;
  size->head_mm = choice->size->head_mm;
  size->body_target_mm = bw_plan_body_target (plan, k);
  size->brim_target_mm = bw_plan_brim_target (plan, k);
  size->depth_target_mm = choice->size->depth_mm;
  size->crown = g_new0 (BwCrown, 1);
  size->rounds = bw_round_list_new ();
  return size;
}

/* Worn, the fabric is as wide as the head, and shorter for it (grading rule 3). */
static void
wear (const BwPlan *plan,
      BwGradedSize *size)
{
  size->needed_stretch = MAX (0, size->head_mm / size->girth_mm - 1);
  size->worn_depth_mm = size->depth_mm * (1 - plan->body.height_loss * size->needed_stretch);
}

/* Bands that are each within their limits, and pinned repeats of a long stripe,
 * can still add up to more than anyone would crochet or a screen can list. */
static gboolean
rounds_are_sane (const BwPlan     *plan,
                 const BwChoice   *choice,
                 const BwSize     *size,
                 GError          **error)
{
  guint64 rounds = 0;

  for (guint i = 0; i < plan->n_bands; i++)
    rounds += plan->bands[i].base_rounds + (guint64) choice->fill * plan->bands[i].unit_rounds;
  if (rounds <= BW_DESIGN_ROUNDS_MAX)
    return TRUE;

  g_set_error (error, BW_ERROR, BW_ERROR_TOO_LARGE,
               "Size \"%s\": its bands come to %" G_GUINT64_FORMAT " rounds, more than the %d that a "
               "hat may have; take fewer repeats or rounds, or take a pin on the repeats out",
               size->name, rounds, BW_DESIGN_ROUNDS_MAX);
  return FALSE;
}

static gboolean
build_family (const BwPlan    *plan,
              BwFamilyChoice  *family,
              BwGrading       *grading,
              GError         **error)
{
  for (guint k = 0; k < family->n_sizes; k++)
    {
      BwGradedSize *size = graded_size_new (plan, grading->design, k);

      g_ptr_array_add (grading->sizes, size);
      if (!rounds_are_sane (plan, &family->sizes[k], size->choice->size, error))
        return FALSE;
      if (!bw_build_size (plan, family, k, size, error))
        {
          g_prefix_error (error, "Size \"%s\": ", size->choice->size->name);
          return FALSE;
        }
      wear (plan, size);
      size->alternatives = g_steal_pointer (&family->alternatives[k]);
    }

  return TRUE;
}

/* No rounds leave this function that fail their own audit. */
static void
audit_family (const BwPlan *plan,
              BwGrading    *grading)
{
  gboolean own = plan->design->crown.profile == BW_CROWN_OWN;
  guint errors = 0;

  for (guint k = 0; k < grading->sizes->len; k++)
    {
      const BwGradedSize *size = g_ptr_array_index (grading->sizes, k);

      errors += bw_audit_rounds (plan->reference->stitches, size->rounds, own ? 0 : grading->wedges,
                                 (int) k, grading->findings);
    }

  if (errors > 0)
    {
      grading->refused = TRUE;
      g_ptr_array_set_size (grading->sizes, 0);
    }
}

static gboolean
has_pin (const BwDesign *design,
         const char     *size)
{
  for (guint i = 0; i < design->pins->len; i++)
    if (g_str_equal (g_array_index (design->pins, BwPin, i).size, size))
      return TRUE;

  return FALSE;
}

/* What a size's pins cost the family: its cost with them less that without. */
static void
price_pins (const BwReference *reference,
            BwGrading         *grading)
{
  for (guint k = 0; k < grading->sizes->len; k++)
    {
      BwGradedSize *size = g_ptr_array_index (grading->sizes, k);
      g_autoptr (BwDesign) without = NULL;
      g_autoptr (GArray) findings = NULL;
      BwFamilyChoice family;
      BwPlan plan;

      if (!has_pin (grading->design, size->choice->size->id))
        continue;

      without = bw_design_copy (grading->design);
      for (guint i = without->pins->len; i-- > 0;)
        if (g_str_equal (g_array_index (without->pins, BwPin, i).size, size->choice->size->id))
          g_array_remove_index (without->pins, i);

      findings = g_array_new (FALSE, FALSE, sizeof (BwFinding));
      if (bw_plan_init (&plan, reference, without, NULL) &&
          bw_choose (&plan, FALSE, &family, findings))
        size->pin_price = grading->cost - family.cost;
      bw_plan_clear (&plan);
    }
}

static gboolean
grade_plan (const BwPlan  *plan,
            BwGrading     *grading,
            GError       **error)
{
  BwFamilyChoice family;
  gboolean built = TRUE;

  grading->body_gauge = plan->body_gauge;
  grading->brim_gauge = plan->brim_gauge;
  if (!bw_check_own_crowns (plan, grading->findings) ||
      !bw_choose (plan, TRUE, &family, grading->findings))
    {
      grading->refused = TRUE;
      return TRUE;
    }

  grading->wedges = family.wedges;
  grading->cost = family.cost;
  built = build_family (plan, &family, grading, error);
  if (built)
    audit_family (plan, grading);
  if (built && !grading->refused)
    bw_check_family (plan, family.mode, grading);

  bw_family_choice_clear (&family);
  return built;
}

/**
 * bw_grade:
 * @reference: tables that names in the design are looked up in; must outlive the result
 * @design: what the designer decided
 * @error: return location for an error in the design
 *
 * Grades a design: chooses the counts of every size exactly (grading rule 3),
 * works out every round, audits them, and says what a designer should know.
 * The only function that grades; everything else shows what it returns.
 *
 * A design that cannot be graded by the hard rules is not an error: the result
 * is `refused` and its findings of severity refusal say why.
 *
 * Returns: (transfer full) (nullable): the graded family, or NULL with @error
 *   set when the design contradicts itself or names what does not exist
 */
BwGrading *
bw_grade (const BwReference  *reference,
          const BwDesign     *design,
          GError            **error)
{
  g_autoptr (BwGrading) grading = g_new0 (BwGrading, 1);
  BwPlan plan;
  gboolean graded;

  g_return_val_if_fail (reference != NULL, NULL);
  g_return_val_if_fail (design != NULL, NULL);

  grading->reference = reference;
  grading->design = bw_design_copy (design);
  grading->sizes = g_ptr_array_new_with_free_func (graded_size_free);
  grading->findings = g_array_new (FALSE, FALSE, sizeof (BwFinding));

  graded = bw_plan_init (&plan, reference, grading->design, error) &&
           grade_plan (&plan, grading, error);
  bw_plan_clear (&plan);
  if (!graded)
    return NULL;

  if (!grading->refused)
    price_pins (reference, grading);
  return g_steal_pointer (&grading);
}

/**
 * bw_grading_free:
 * @grading: (nullable): a grading
 */
void
bw_grading_free (BwGrading *grading)
{
  if (grading == NULL)
    return;

  g_clear_pointer (&grading->sizes, g_ptr_array_unref);
  g_clear_pointer (&grading->findings, g_array_unref);
  bw_design_free (grading->design);
  g_free (grading);
}
