#define G_LOG_DOMAIN "bw-core"

#include "bw-chooser.h"

#include <math.h>
#include <string.h>

static double
squared (double value)
{
  return value * value;
}

static gboolean
serves (const BwFabric *fabric,
        guint           stitches)
{
  return stitches >= fabric->multiple &&
         stitches % fabric->multiple == fabric->offset % fabric->multiple;
}

/**
 * bw_choose_band_count:
 * @plan: the plan
 * @mode: how counts are brought together
 * @body: body stitches
 * @band: index of a band
 *
 * Returns: the stitches that the band is worked over
 */
guint
bw_choose_band_count (const BwPlan *plan,
                      BwCountMode   mode,
                      guint         body,
                      guint         band)
{
  const BwFabric *fabric = plan->bands[band].fabric;

  if (mode == BW_COUNTS_COMMON || (mode == BW_COUNTS_FIRST && band == 0))
    return body;
  return bw_plan_nearest (body, fabric->multiple, fabric->offset);
}

/* May the body have this count at all, whatever its girth? */
gboolean
bw_candidates_body_serves (const BwChooser *chooser,
                           guint            stitches)
{
  const BwPlan *plan = chooser->plan;
  guint n = chooser->mode == BW_COUNTS_COMMON ? plan->n_bands
          : chooser->mode == BW_COUNTS_FIRST  ? MIN (plan->n_bands, 1)
                                              : 0;

  for (guint i = 0; i < n; i++)
    if (!serves (plan->bands[i].fabric, stitches))
      return FALSE;

  return !plan->design->crown.multiple_on_body || stitches % chooser->wedges == 0;
}

static BwBodyCandidate
body_candidate (const BwChooser    *chooser,
                const BwSizeStates *table,
                guint               stitches)
{
  const BwPlan *plan = chooser->plan;
  const BwRules *rules = &plan->design->rules;
  BwBodyCandidate candidate = { .body = stitches, .last = stitches };
  double miss = stitches * plan->body.stitch_mm - table->body_target;

  candidate.girth = squared (miss / rules->girth_tolerance_mm);
  candidate.depth_mm = bw_plan_brim_mm (plan, table->brim_height) + plan->plain_mm;

  for (guint i = 0; i < plan->n_bands; i++)
    {
      guint count = bw_choose_band_count (plan, chooser->mode, stitches, i);

      candidate.depth_mm += plan->bands[i].base_mm;
      if (count > 2 * candidate.last || candidate.last > 2 * count)
        candidate.girth = BW_INFEASIBLE; /* no one round leads there */
      if (count != candidate.last)
        {
          candidate.adjust += rules->adjust_weight * squared ((double) count - candidate.last);
          candidate.depth_mm += plan->plain_mm;
        }
      candidate.last = count;
    }

  return candidate;
}

/* What body and brim cost each other; infeasible when one round cannot lead
 * from one to the other. No more than 2 stitches go into a row end, and no 3
 * row ends in a row stay empty. */
static double
meeting_cost (const BwPlan *plan,
              guint         body,
              guint         brim)
{
  const BwBrim *choice = &plan->design->brim;
  const BwRules *rules = &plan->design->rules;

  if (plan->brim.sideways)
    {
      if (body > 2 * brim || body < (brim + 2) / 3)
        return BW_INFEASIBLE;
      return choice->pick_up == BW_PICK_UP_PER_ROW
        ? rules->pick_up_weight * squared (body - choice->per_row * brim)
        : 0;
    }

  if (plan->brim.round)
    return body > 2 * brim || brim > 2 * body
      ? BW_INFEASIBLE
      : rules->adjust_weight * squared ((double) body - brim);

  return 0;
}

/* What bodies and brims cost together: the same for every wedge count. */
static void
fill_meetings (const BwChooser *chooser,
               BwSizeStates    *table)
{
  guint nb = table->brims->len;

  table->meeting = g_renew (double, table->meeting, (gsize) table->bodies->len * nb);
  for (guint s = 0; s < table->bodies->len; s++)
    for (guint b = 0; b < nb; b++)
      {
        const BwBrimCandidate *brim = &g_array_index (table->brims, BwBrimCandidate, b);
        guint body = g_array_index (table->bodies, BwBodyCandidate, s).body;

        table->meeting[s * nb + b] =
          brim->cost + meeting_cost (chooser->plan, body, brim->brim);
      }
}

void
bw_candidates_collect_bodies (BwChooser    *chooser,
                              BwSizeStates *table)
{
  const BwRules *rules = &chooser->plan->design->rules;
  double stitch = chooser->plan->body.stitch_mm;
  double low = table->body_target - (rules->rounding == BW_ROUND_UP ? 0 : rules->girth_limit_mm);
  double high = table->body_target + (rules->rounding == BW_ROUND_DOWN ? 0 : rules->girth_limit_mm);
  guint first = (guint) MAX (1, ceil (low / stitch - BW_TIE));
  guint last = (guint) MAX (0, floor (high / stitch + BW_TIE));
  guint pin;

  g_array_set_size (table->bodies, 0);
  if (bw_candidates_pinned (table, BW_PIN_BODY_STITCHES, &pin))
    first = last = pin;

  for (guint s = first; s <= last; s++)
    if (bw_candidates_body_serves (chooser, s))
      {
        BwBodyCandidate candidate = body_candidate (chooser, table, s);

        g_array_append_val (table->bodies, candidate);
      }

  fill_meetings (chooser, table);
}

gboolean
bw_candidates_brim_passes (const BwPlan       *plan,
                           const BwSizeStates *table,
                           guint               brim)
{
  double stretched = brim * plan->brim.count_mm * (1 + plan->brim.gauge.stretch);

  return stretched + BW_TIE >= table->choice->size->head_mm;
}

void
bw_candidates_collect_brims (BwChooser    *chooser,
                             BwSizeStates *table)
{
  const BwBrimPlan *brim = &chooser->plan->brim;
  const BwRules *rules = &chooser->plan->design->rules;
  guint step = brim->sideways ? 2 : brim->fabric->multiple;
  double low = (table->brim_target - rules->brim_limit_mm) / brim->count_mm;
  double high = (table->brim_target + rules->brim_limit_mm) / brim->count_mm;
  guint first = (guint) MAX (1, ceil (low - BW_TIE));
  guint last = (guint) MAX (0, floor (high + BW_TIE));
  guint pin;

  g_array_set_size (table->brims, 0);
  if (!brim->sideways && !brim->round)
    {
      g_array_append_val (table->brims, ((BwBrimCandidate) { 0, 0 }));
      return;
    }

  if (bw_candidates_pinned (table, BW_PIN_BRIM_COUNT, &pin))
    first = last = pin;

  for (guint b = (first + step - 1) / step * step; b <= last; b += step)
    if (bw_candidates_brim_passes (chooser->plan, table, b))
      {
        double miss = b * brim->count_mm - table->brim_target;

        g_array_append_val (table->brims,
                            ((BwBrimCandidate) { b, squared (miss / rules->brim_tolerance_mm) }));
      }
}

/* Rounds of the crown, or 0 when it cannot start with `start` for this size.
 * They hang on K and W alone, so they are worked out once for all sizes. */
static guint
crown_rounds (BwChooser          *chooser,
              const BwSizeStates *table,
              guint               start)
{
  guint per_wedge = start / chooser->wedges;
  BwCrownShape shape;
  guint *known;

  if (chooser->plan->design->crown.profile == BW_CROWN_OWN)
    return table->choice->crown_counts->len - 1;

  if (per_wedge >= chooser->crown_rounds->len)
    g_array_set_size (chooser->crown_rounds, per_wedge + 1);
  known = &g_array_index (chooser->crown_rounds, guint, per_wedge);
  if (*known == 0 && start > 0)
    {
      shape = bw_plan_crown_shape (chooser->plan, start, chooser->wedges);
      *known = bw_crown_n_rounds (&shape, start);
    }

  return *known;
}

/* Cost of crown start K on body S, with the fill that suits them best. */
static double
crown_cost (BwChooser             *chooser,
            const BwSizeStates    *table,
            const BwBodyCandidate *body,
            guint                  start,
            BwChoice              *choice)
{
  const BwPlan *plan = chooser->plan;
  const BwRules *rules = &plan->design->rules;
  guint rounds = crown_rounds (chooser, table, start);
  double depth = body->depth_mm + rounds * plan->crown_round_mm;
  double unit = chooser->fill_mm;
  guint fill = 0;

  if (rounds == 0 || start > 2 * body->last || body->last > 2 * start ||
      (plan->design->crown.multiple_on_body && start != body->last))
    return BW_INFEASIBLE;

  if (start != body->last)
    depth += plan->plain_mm;

  if (unit > 0 && !bw_candidates_pinned (table, BW_PIN_FILL_REPEATS, &fill) &&
      table->depth_target > depth)
    fill = (guint) ceil ((table->depth_target - depth) / unit - 0.5);

  choice->fill = fill;
  choice->depth_mm = depth + fill * unit;
  choice->cost.depth = squared ((choice->depth_mm - table->depth_target) /
                                rules->depth_tolerance_mm);
  choice->cost.adjust = body->adjust +
                        rules->adjust_weight * squared ((double) body->last - start);
  return choice->cost.depth + choice->cost.adjust;
}

/* May this body and this crown start go together, by pin and nearness? */
static gboolean
crown_allowed (const BwChooser       *chooser,
               const BwSizeStates    *table,
               const BwBodyCandidate *body,
               guint                  start)
{
  guint pin;

  if (chooser->plan->design->crown.profile == BW_CROWN_OWN)
    return start == g_array_index (table->choice->crown_counts, guint, 0);
  if (bw_candidates_pinned (table, BW_PIN_CROWN_START, &pin))
    return start == pin;

  return start + chooser->wedges > body->last && body->last + chooser->wedges > start;
}

/* What bodies and crown starts cost together. */
static void
fill_crowns (BwChooser    *chooser,
             BwSizeStates *table)
{
  guint nq = table->n_crowns;

  table->upper = g_renew (double, table->upper, (gsize) table->bodies->len * nq);
  for (guint s = 0; s < table->bodies->len; s++)
    for (guint q = 0; q < nq; q++)
      {
        const BwBodyCandidate *body = &g_array_index (table->bodies, BwBodyCandidate, s);
        guint start = (table->crown_first + q) * chooser->wedges;
        BwChoice scratch;

        table->upper[s * nq + q] = !crown_allowed (chooser, table, body, start)
          ? BW_INFEASIBLE
          : body->girth + crown_cost (chooser, table, body, start, &scratch);
      }
}

/* The box of crown starts: every multiple of W next to a body count. */
static void
collect_crowns (const BwChooser *chooser,
                BwSizeStates    *table)
{
  guint w = chooser->wedges;
  guint lowest = G_MAXUINT;
  guint highest = 0;
  guint pin = 0;

  for (guint s = 0; s < table->bodies->len; s++)
    {
      guint last = g_array_index (table->bodies, BwBodyCandidate, s).last;

      lowest = MIN (lowest, last);
      highest = MAX (highest, last);
    }

  if (chooser->plan->design->crown.profile == BW_CROWN_OWN)
    lowest = highest = g_array_index (table->choice->crown_counts, guint, 0);
  else if (bw_candidates_pinned (table, BW_PIN_CROWN_START, &pin))
    lowest = highest = pin;

  table->crown_first = MAX (1, lowest / w);
  table->n_crowns = highest < lowest ? 0 : MAX (1, (highest + w - 1) / w - table->crown_first + 1);
}

void
bw_candidates_prepare (BwChooser    *chooser,
                       BwSizeStates *table)
{
  collect_crowns (chooser, table);
  table->n_states = (gsize) table->bodies->len * table->brims->len * table->n_crowns;
  if (table->n_states > table->allocated)
    {
      table->allocated = table->n_states;
      table->forward = g_renew (double, table->forward, table->n_states);
      table->below = g_renew (double, table->below, table->n_states);
    }
  fill_crowns (chooser, table);
}

void
bw_candidates_state_values (const BwSizeStates *table,
                            guint               wedges,
                            gsize               state,
                            guint              *body,
                            guint              *brim,
                            guint              *crown)
{
  guint nb = table->brims->len;
  guint nq = table->n_crowns;

  *body = g_array_index (table->bodies, BwBodyCandidate, state / nq / nb).body;
  *brim = g_array_index (table->brims, BwBrimCandidate, state / nq % nb).brim;
  *crown = (table->crown_first + state % nq) * wedges;
}

void
bw_candidates_read_choice (BwChooser          *chooser,
                           const BwSizeStates *table,
                           gsize               state,
                           BwChoice           *choice)
{
  guint nb = table->brims->len;
  guint nq = table->n_crowns;
  const BwBodyCandidate *body = &g_array_index (table->bodies, BwBodyCandidate, state / nq / nb);
  const BwBrimCandidate *brim = &g_array_index (table->brims, BwBrimCandidate, state / nq % nb);

  memset (choice, 0, sizeof *choice);
  bw_candidates_state_values (table, chooser->wedges, state, &choice->body,
                              &choice->brim, &choice->crown);
  choice->brim_height = table->brim_height;
  crown_cost (chooser, table, body, choice->crown, choice);
  choice->cost.girth = body->girth;
  choice->cost.brim = brim->cost;
  choice->cost.pick_up = meeting_cost (chooser->plan, choice->body, choice->brim);
}

