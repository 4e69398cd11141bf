#define G_LOG_DOMAIN "bw-core"

#include "bw-check.h"

#include <math.h>

#include "bw-choose.h"

/* What a designer should know about a family that can be worked: wear, depth,
 * steps between sizes, crowns that pleat, estimates, cautions. */

/* Above this ratio of change of radius to height a round pleats (grading rule 5). */
#define FLATNESS_MOST 1.15

/* Worn depth below this share of the target is worth a warning. Our choice. */
#define WORN_DEPTH_LEAST 0.90

/* Ages in months. Small parts: under 36 (16 CFR 1501 and EN 71-1 use that age
 * for toys). Cords: under 14 years (EN 14682's span for clothes in its scope).
 * Sleep: the first year. */
#define MONTHS_SMALL_PARTS 36
#define MONTHS_CORDS       168
#define MONTHS_SLEEP       12

/* A size that does not say its wearer's age is a small child's below this head
 * girth: about the median boy of three years (WHO Child Growth Standards, 49.5 cm). */
#define HEAD_OF_THREE_YEARS_MM 495.0


typedef struct
{
  const BwPlan *plan;
  BwGrading    *grading;
} Check;

static const BwGradedSize *
size_at (const Check *check,
         guint        k)
{
  return g_ptr_array_index (check->grading->sizes, k);
}

static void
add (Check         *check,
     BwFindingKind  kind,
     BwSeverity     severity,
     int            size,
     int            part,
     double         a,
     double         b)
{
  BwFinding finding = { kind, severity, size, -1, -1, part, a, b, 0, 0 };

  g_array_append_val (check->grading->findings, finding);
}

/* The same about the design's band of index `band`; `c` as BwFindingKind says. */
static void
add_to_band (Check         *check,
             BwFindingKind  kind,
             BwSeverity     severity,
             int            size,
             guint          band,
             double         a,
             double         b,
             double         c)
{
  BwFinding finding = { kind, severity, size, -1, -1, BW_SECTION_BAND, a, b, c, band + 1 };

  g_array_append_val (check->grading->findings, finding);
}

/* --- One size --- */

static double
needed_stretch (const BwGradedSize *size,
                double              girth_mm)
{
  return size->head_mm / girth_mm - 1;
}

static void
check_stretch (Check             *check,
               int                k,
               BwSection          section,
               const BwPartGauge *gauge,
               double             girth_mm)
{
  double needed = needed_stretch (size_at (check, (guint) k), girth_mm);

  if (needed > gauge->stretch)
    add (check, BW_FINDING_STRETCH, BW_SEVERITY_WARNING, k, section, needed, gauge->stretch);
}

static void
check_band_stretch (Check       *check,
                    BwCountMode  mode,
                    int          k,
                    guint        band)
{
  const BwGradedSize *size = size_at (check, (guint) k);
  const BwPartGauge *gauge = &check->plan->bands[band].gauge;
  guint count = bw_choose_band_count (check->plan, mode, size->body_stitches, band);
  double needed = needed_stretch (size, count * gauge->stitch_mm);

  if (needed > gauge->stretch)
    add_to_band (check, BW_FINDING_STRETCH, BW_SEVERITY_WARNING, k, band, needed, gauge->stretch,
                 0);
}

static void
check_wear (Check       *check,
            BwCountMode  mode,
            int          k)
{
  const BwPlan *plan = check->plan;
  const BwGradedSize *size = size_at (check, (guint) k);

  if (size->brim_mm > 0)
    check_stretch (check, k, BW_SECTION_BRIM, &plan->brim.gauge, size->brim_mm);
  check_stretch (check, k, BW_SECTION_PICK_UP, &plan->body, size->girth_mm);
  for (guint i = 0; i < plan->n_bands; i++)
    check_band_stretch (check, mode, k, i);

  if (size->worn_depth_mm < WORN_DEPTH_LEAST * size->depth_target_mm)
    add (check, BW_FINDING_WORN_DEPTH, BW_SEVERITY_WARNING, k, -1, size->worn_depth_mm,
         size->depth_target_mm);
}

static void
check_depth (Check *check,
             int    k)
{
  const BwGradedSize *size = size_at (check, (guint) k);
  double miss = fabs (size->depth_mm - size->depth_target_mm);
  gboolean fills = FALSE;

  for (guint i = 0; i < check->plan->n_bands; i++)
    fills = fills || check->plan->bands[i].unit_rounds > 0;

  if (miss <= 3 * check->plan->design->rules.depth_tolerance_mm)
    return;
  add (check,
       fills && size->fill_repeats == 0 && size->depth_mm > size->depth_target_mm
         ? BW_FINDING_DEPTH_TOO_SHORT
         : BW_FINDING_DEPTH,
       BW_SEVERITY_WARNING, k, -1, size->depth_mm, size->depth_target_mm);
}

/* The worst round only: a crown that pleats does so for several rounds. A
 * gathered crown is meant to. */
static void
check_flatness (Check *check,
                int    k)
{
  const GArray *rounds = size_at (check, (guint) k)->rounds->rounds;
  int worst = -1;

  if (check->plan->design->crown.profile == BW_CROWN_GATHERED)
    return;
  for (guint i = 0; i < rounds->len; i++)
    {
      double flatness = g_array_index (rounds, BwRound, i).flatness;

      if (flatness > FLATNESS_MOST &&
          (worst < 0 || flatness > g_array_index (rounds, BwRound, worst).flatness))
        worst = (int) i;
    }

  if (worst >= 0)
    {
      add (check, BW_FINDING_FLATNESS, BW_SEVERITY_WARNING, k, BW_SECTION_CROWN,
           g_array_index (rounds, BwRound, worst).flatness, FLATNESS_MOST);
      g_array_index (check->grading->findings, BwFinding,
                     check->grading->findings->len - 1).round = worst;
    }
}

static gboolean
younger_than (const BwGradedSize *size,
              int                 months)
{
  int from = size->choice->size->months_from;

  return from >= 0 ? from < months : size->head_mm < HEAD_OF_THREE_YEARS_MM;
}

/* The largest head that the tables give to a child under the age of cords. */
static double
largest_child_mm (const BwReference *reference)
{
  double largest = HEAD_OF_THREE_YEARS_MM;

  for (guint i = 0; i < reference->size_tables->len; i++)
    {
      const BwSizeTable *table = g_ptr_array_index (reference->size_tables, i);

      for (guint j = 0; j < table->sizes->len; j++)
        {
          const BwSize *size = g_ptr_array_index (table->sizes, j);

          if (size->months_from >= 0 && size->months_from < MONTHS_CORDS)
            largest = MAX (largest, size->head_mm);
        }
    }

  return largest;
}

static gboolean
may_be_a_childs (const BwPlan       *plan,
                 const BwGradedSize *size)
{
  int from = size->choice->size->months_from;

  return from >= 0 ? from < MONTHS_CORDS : size->head_mm <= largest_child_mm (plan->reference);
}

static void
check_cautions (Check *check,
                int    k)
{
  const BwFinishing *finishing = &check->plan->design->finishing;
  const BwGradedSize *size = size_at (check, (guint) k);

  if ((finishing->pompom_mm > 0 || finishing->buttons) && younger_than (size, MONTHS_SMALL_PARTS))
    add (check, BW_FINDING_CAUTION_SMALL_PARTS, BW_SEVERITY_NOTE, k, -1, 0, 0);
  if (finishing->cords && may_be_a_childs (check->plan, size))
    add (check, BW_FINDING_CAUTION_CORDS, BW_SEVERITY_NOTE, k, -1, 0, 0);
  if (younger_than (size, MONTHS_SLEEP))
    add (check, BW_FINDING_CAUTION_SLEEP, BW_SEVERITY_NOTE, k, -1, 0, 0);
}

/* --- The family --- */

/* Two sizes that a maker's gauge cannot tell apart, or that are the same hat. */
static void
check_step (Check *check,
            int    k)
{
  const BwGradedSize *size = size_at (check, (guint) k);
  const BwGradedSize *before = size_at (check, (guint) k - 1);
  double step = size->girth_mm - before->girth_mm;
  BwFinding finding = { BW_FINDING_STEP_WITHIN_GAUGE, BW_SEVERITY_WARNING, k, k - 1, -1, -1,
                        step, size->girth_u95_mm, 0, 0 };

  if (size->body_stitches == before->body_stitches)
    {
      finding.kind = BW_FINDING_SIZES_ALIKE;
      finding.a = size->body_stitches;
      finding.b = 0;
    }
  else if (step >= size->girth_u95_mm)
    {
      return;
    }

  g_array_append_val (check->grading->findings, finding);
}

/* Is a part's gauge taken from another stitch pattern's, by relative heights? */
static gboolean
is_estimated (const BwPlan      *plan,
              const BwPartGauge *gauge,
              const BwFabric    *fabric)
{
  return gauge->swatch != NULL ? !g_str_equal (gauge->swatch->fabric, fabric->id)
                               : fabric != plan->body_fabric;
}

static void
check_gauges (Check *check)
{
  const BwPlan *plan = check->plan;
  const BwGauge *body = &plan->body_gauge;

  if (body->stitch.type_b_only || body->round.type_b_only)
    add (check, BW_FINDING_GAUGE_ONE_READING, BW_SEVERITY_NOTE, -1, -1, body->stitch.U95 /
         body->stitch.mm, 0);
  if (plan->design->brim.kind != BW_BRIM_NONE && is_estimated (plan, &plan->brim.gauge,
                                                               plan->brim.fabric))
    add (check, BW_FINDING_GAUGE_ESTIMATED, BW_SEVERITY_NOTE, -1, BW_SECTION_BRIM, 0, 0);
  for (guint i = 0; i < plan->n_bands; i++)
    if (is_estimated (plan, &plan->bands[i].gauge, plan->bands[i].fabric))
      add_to_band (check, BW_FINDING_GAUGE_ESTIMATED, BW_SEVERITY_NOTE, -1, i, 0, 0, 0);
  if (is_estimated (plan, &plan->crown_gauge, plan->crown_fabric))
    add (check, BW_FINDING_GAUGE_ESTIMATED, BW_SEVERITY_NOTE, -1, BW_SECTION_CROWN, 0, 0);
  if (plan->yarn_estimated)
    add (check, BW_FINDING_YARN_ESTIMATED, BW_SEVERITY_NOTE, -1, -1, 0, 0);
}

/* The count nearest to `before` on the other side of `count` that the stitch
 * pattern is worked over too; 0 when `before` fits by itself, so that the change
 * has another reason, or when there is none. */
static guint
other_count (const BwFabric *fabric,
             guint           before,
             guint           count)
{
  if (before % fabric->multiple == fabric->offset % fabric->multiple)
    return 0;
  if (count < before)
    return count + fabric->multiple;
  return count >= 2 * fabric->multiple + fabric->offset ? count - fabric->multiple : 0;
}

/* Bands whose stripe or stitch pattern stops short; the same for every size. */
static void
check_bands (Check       *check,
             BwCountMode  mode)
{
  const BwPlan *plan = check->plan;

  for (guint i = 0; i < plan->n_bands; i++)
    {
      const BwBandPlan *band = &plan->bands[i];
      guint left = band->base_rounds - bw_fabric_whole_rounds (band->fabric, band->base_rounds);

      if (left > 0)
        add_to_band (check, BW_FINDING_PATTERN_UNFINISHED, BW_SEVERITY_NOTE, -1, i, left,
                     band->fabric->n_rounds, 0);
      if (band->stripe_open)
        add_to_band (check, BW_FINDING_STRIPE_UNFINISHED, BW_SEVERITY_WARNING, -1, i, 0, 0, 0);
    }

  for (guint k = 0; k < check->grading->sizes->len; k++)
    {
      guint before = size_at (check, k)->body_stitches;

      for (guint i = 0; i < plan->n_bands; i++)
        {
          guint count = bw_choose_band_count (plan, mode, size_at (check, k)->body_stitches, i);

          if (count != before)
            add_to_band (check, BW_FINDING_BAND_ADJUSTED, BW_SEVERITY_NOTE, (int) k, i, before,
                         count, other_count (plan->bands[i].fabric, before, count));
          before = count;
        }
    }
}

/**
 * bw_check_own_crowns:
 * @plan: the plan
 * @findings: (element-type BwFinding): refusals are added here
 *
 * Sees that crown counts typed by hand never rise and never fall by more than
 * half, so that each round can be worked.
 *
 * Returns: FALSE when a size is refused
 */
gboolean
bw_check_own_crowns (const BwPlan *plan,
                     GArray       *findings)
{
  guint before = findings->len;

  if (plan->design->crown.profile != BW_CROWN_OWN)
    return TRUE;

  for (guint k = 0; k < plan->design->sizes->len; k++)
    {
      const GArray *counts = g_array_index (plan->design->sizes, BwSizeChoice, k).crown_counts;

      for (guint i = 1; i < counts->len; i++)
        {
          guint from = g_array_index (counts, guint, i - 1);
          guint to = g_array_index (counts, guint, i);
          BwFinding finding = { BW_FINDING_TOO_MANY_DECREASES, BW_SEVERITY_REFUSAL, (int) k, -1, -1,
                                BW_SECTION_CROWN, (double) from - to, from, 0, 0 };

          if (to > from || 2 * to < from)
            g_array_append_val (findings, finding);
        }
    }

  return findings->len == before;
}

/**
 * bw_check_family:
 * @plan: the plan
 * @mode: how the counts of bands were brought together
 * @grading: a graded family; findings are added to it
 *
 * Finds what a designer should know about a family whose rounds are sound.
 */
void
bw_check_family (const BwPlan *plan,
                 BwCountMode   mode,
                 BwGrading    *grading)
{
  Check check = { plan, grading };

  check_gauges (&check);
  check_bands (&check, mode);
  for (guint k = 0; k < grading->sizes->len; k++)
    {
      if (k > 0)
        check_step (&check, (int) k);
      check_wear (&check, mode, (int) k);
      check_depth (&check, (int) k);
      check_flatness (&check, (int) k);
      check_cautions (&check, (int) k);
    }
}
