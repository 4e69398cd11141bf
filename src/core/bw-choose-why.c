#define G_LOG_DOMAIN "bw-core"

#include "bw-chooser.h"

#include <math.h>
#include <string.h>

/* --- Alternatives: what the family costs at best when a size takes a state --- */

/* Cheapest way on from a state of size k to the last size, its own cost left
 * out. The mirror image of go_forward(); `above` is a running minimum from the
 * far corner of the box of size k + 1. */
static void
running_minimum_above (BwSizeStates *table,
                       const double *onward,
                       double       *above)
{
  guint nb = table->brims->len;
  guint nq = table->n_crowns;

  for (gsize i = table->n_states; i-- > 0;)
    {
      guint q = i % nq;
      guint b = i / nq % nb;

      above[i] = onward[i];
      if (q + 1 < nq)
        above[i] = MIN (above[i], above[i + 1]);
      if (b + 1 < nb)
        above[i] = MIN (above[i], above[i + nq]);
      if (i + (gsize) nb * nq < table->n_states)
        above[i] = MIN (above[i], above[i + nb * nq]);
    }
}

/* Index of the first candidate that may follow the given state. */
static gsize
successor_corner (const BwChooser    *chooser,
                  const BwSizeStates *table,
                  guint               body,
                  guint               brim,
                  guint               crown)
{
  guint step = chooser->plan->design->rules.least_step;
  guint s = 0;
  guint b = 0;
  guint q = crown / chooser->wedges - MIN (table->crown_first, crown / chooser->wedges);

  while (s < table->bodies->len &&
         g_array_index (table->bodies, BwBodyCandidate, s).body < body + step)
    s++;
  while (b < table->brims->len && g_array_index (table->brims, BwBrimCandidate, b).brim < brim)
    b++;

  if (s == table->bodies->len || b == table->brims->len || q >= table->n_crowns)
    return G_MAXSIZE;
  return ((gsize) s * table->brims->len + b) * table->n_crowns + q;
}

static BwAlternative
alternative_at (BwChooser          *chooser,
                const BwSizeStates *table,
                gsize               state,
                double              cost)
{
  BwChoice choice;

  bw_candidates_read_choice (chooser, table, state, &choice);
  return (BwAlternative) { choice.body, choice.brim, choice.crown, choice.fill,
                           chooser->wedges, cost };
}

/* Keeps the best state for each body count, brim count and crown start other
 * than the chosen ones, so that each number has its next best choices. */
static void
collect_alternatives (BwChooser          *chooser,
                      const BwSizeStates *table,
                      const double       *total,
                      const BwChoice     *chosen,
                      double              best,
                      GArray             *out)
{
  guint ns = table->bodies->len;
  guint nb = table->brims->len;
  guint nq = table->n_crowns;
  guint n = ns + nb + nq;
  g_autofree gsize *best_of = g_new (gsize, n);
  BwAlternative first = { chosen->body, chosen->brim, chosen->crown, chosen->fill,
                          chooser->wedges, best };

  for (guint i = 0; i < n; i++)
    best_of[i] = G_MAXSIZE;
  for (gsize i = 0; i < table->n_states; i++)
    {
      gsize slots[] = { i / nq / nb, ns + i / nq % nb, ns + nb + i % nq };

      for (guint j = 0; j < G_N_ELEMENTS (slots); j++)
        if (isfinite (total[i]) &&
            (best_of[slots[j]] == G_MAXSIZE || total[i] < total[best_of[slots[j]]] - BW_TIE))
          best_of[slots[j]] = i;
    }

  g_array_append_val (out, first);
  for (guint i = 0; i < n; i++)
    {
      guint body, brim, crown;

      if (best_of[i] == G_MAXSIZE)
        continue;
      bw_candidates_state_values (table, chooser->wedges, best_of[i], &body, &brim, &crown);
      if (i < ns        ? body != chosen->body
          : i < ns + nb ? brim != chosen->brim
                        : crown != chosen->crown)
        {
          BwAlternative other = alternative_at (chooser, table, best_of[i], total[best_of[i]]);

          g_array_append_val (out, other);
        }
    }
}

static int
compare_alternatives (gconstpointer a,
                      gconstpointer b)
{
  const BwAlternative *x = a;
  const BwAlternative *y = b;

  if (fabs (x->cost - y->cost) > BW_TIE)
    return x->cost < y->cost ? -1 : 1;
  if (x->body_stitches != y->body_stitches)
    return x->body_stitches < y->body_stitches ? -1 : 1;
  if (x->brim_count != y->brim_count)
    return x->brim_count < y->brim_count ? -1 : 1;
  return (x->crown_start > y->crown_start) - (x->crown_start < y->crown_start);
}

/* The chosen one stays first; of two equal entries one goes. */
static void
sort_alternatives (GArray *alternatives)
{
  BwAlternative *all = (BwAlternative *) (void *) alternatives->data;

  if (alternatives->len < 3)
    return;
  qsort (all + 1, alternatives->len - 1, sizeof *all, compare_alternatives);
  for (guint i = alternatives->len - 1; i > 1; i--)
    if (compare_alternatives (&all[i], &all[i - 1]) == 0)
      g_array_remove_index (alternatives, i);
}

/* Needs the forward tables of the chosen wedge count. */
void
bw_choose_find_alternatives (BwChooser      *chooser,
                             BwFamilyChoice *family)
{
  g_autofree double *above = NULL; /* of size k + 1 */

  for (guint k = chooser->n_sizes; k-- > 0;)
    {
      BwSizeStates *table = &chooser->sizes[k];
      g_autofree double *total = g_new (double, table->n_states);
      g_autofree double *onward = g_new (double, table->n_states);
      double *mine = g_new (double, table->n_states);

      for (gsize i = 0; i < table->n_states; i++)
        {
          guint body, brim, crown;
          gsize corner = 0;
          double rest = 0;

          bw_candidates_state_values (table, chooser->wedges, i, &body, &brim, &crown);
          if (k + 1 < chooser->n_sizes)
            corner = successor_corner (chooser, &chooser->sizes[k + 1], body, brim, crown);
          if (k + 1 < chooser->n_sizes)
            rest = corner == G_MAXSIZE ? BW_INFEASIBLE : above[corner];
          total[i] = table->forward[i] + rest;
          onward[i] = rest;
        }

      family->alternatives[k] = g_array_new (FALSE, TRUE, sizeof (BwAlternative));
      collect_alternatives (chooser, table, total, &family->sizes[k], family->cost,
                            family->alternatives[k]);
      sort_alternatives (family->alternatives[k]);

      for (gsize i = 0; i < table->n_states; i++)
        onward[i] += bw_candidates_own_cost (table, i);
      running_minimum_above (table, onward, mine);
      g_free (above);
      above = mine;
    }
}

/* --- Refusals --- */

static void
add_refusal (GArray       *findings,
             BwFindingKind kind,
             int           size,
             int           other,
             double        a,
             double        b,
             double        c)
{
  BwFinding finding = { kind, BW_SEVERITY_REFUSAL, size, other, -1, -1, a, b, c };

  g_array_append_val (findings, finding);
}

/* The body count nearest to a size's target that serves, with no limit. */
static guint
nearest_body (const BwChooser    *chooser,
              const BwSizeStates *table)
{
  guint ideal = (guint) MAX (1, lround (table->body_target / chooser->plan->body.stitch_mm));

  for (guint d = 0; d < BW_ITEM_COUNT_MAX; d++)
    {
      if (d < ideal && bw_candidates_body_serves (chooser, ideal - d))
        return ideal - d;
      if (bw_candidates_body_serves (chooser, ideal + d))
        return ideal + d;
    }

  return ideal;
}

static void
explain_bodies (BwChooser *chooser,
                guint      k,
                GArray    *findings)
{
  const BwSizeStates *table = &chooser->sizes[k];
  const BwPlan *plan = chooser->plan;
  guint pin;

  if (bw_candidates_pinned (table, BW_PIN_BODY_STITCHES, &pin))
    add_refusal (findings, BW_FINDING_PIN_IMPOSSIBLE, (int) k, -1, pin, 0, 0);
  else
    add_refusal (findings, BW_FINDING_GIRTH_OUT_OF_LIMIT, (int) k, -1,
                 nearest_body (chooser, table) * plan->body.stitch_mm, table->body_target,
                 plan->design->rules.girth_limit_mm);
}

static void
explain_brims (BwChooser *chooser,
               guint      k,
               GArray    *findings)
{
  const BwBrimPlan *brim = &chooser->plan->brim;
  const BwSizeStates *table = &chooser->sizes[k];
  double widest = table->brim_target + chooser->plan->design->rules.brim_limit_mm;
  guint pin = 0;
  gboolean is_pinned = bw_candidates_pinned (table, BW_PIN_BRIM_COUNT, &pin);

  if (is_pinned)
    widest = pin * brim->count_mm;
  if (is_pinned && bw_candidates_brim_passes (chooser->plan, table, pin))
    add_refusal (findings, BW_FINDING_PIN_IMPOSSIBLE, (int) k, -1, pin, 0, 0);
  else
    add_refusal (findings, BW_FINDING_BRIM_TOO_SMALL, (int) k, -1,
                 widest * (1 + brim->gauge.stretch), table->choice->size->head_mm, 0);
}

/* Sizes k - 1 and k cannot both be had; says so, and which count both would take. */
static void
explain_step (BwChooser *chooser,
              guint      k,
              GArray    *findings)
{
  guint step = chooser->plan->design->rules.least_step;
  guint before = nearest_body (chooser, &chooser->sizes[k - 1]);
  guint after = nearest_body (chooser, &chooser->sizes[k]);

  add_refusal (findings, BW_FINDING_STEP_IMPOSSIBLE, (int) k, (int) k - 1, step, before, after);
  if (before == after)
    add_refusal (findings, BW_FINDING_SIZES_ALIKE, (int) k, (int) k - 1, after, 0, 0);
}

/* Can size k be had by itself, for the current wedge count? */
static gboolean
size_stands_alone (BwChooser *chooser,
                   guint      k)
{
  BwSizeStates *table = &chooser->sizes[k];

  bw_candidates_prepare (chooser, table);
  for (gsize i = 0; i < table->n_states; i++)
    if (isfinite (bw_candidates_own_cost (table, i)))
      return TRUE;

  return FALSE;
}

/* Says why the family cannot be graded; `failed` is where the last try stopped. */
void
bw_choose_explain_failure (BwChooser *chooser,
                           guint      failed,
                           GArray    *findings)
{
  guint before = findings->len;

  for (guint k = 0; k < chooser->n_sizes; k++)
    {
      if (chooser->sizes[k].bodies->len == 0)
        explain_bodies (chooser, k, findings);
      if (chooser->sizes[k].brims->len == 0)
        explain_brims (chooser, k, findings);
    }
  if (findings->len > before)
    return;

  if (!size_stands_alone (chooser, failed))
    {
      const BwSizeStates *table = &chooser->sizes[failed];
      guint body = nearest_body (chooser, table);
      guint brim = g_array_index (table->brims, BwBrimCandidate, 0).brim;

      if (!isfinite (bw_candidates_meeting_cost (chooser->plan, body, brim)))
        add_refusal (findings, BW_FINDING_PICK_UP, (int) failed, -1, body, brim, 0);
      else
        add_refusal (findings, BW_FINDING_NO_WEDGES, (int) failed, -1, body, chooser->wedges, 0);
      return;
    }

  if (failed > 0)
    explain_step (chooser, failed, findings);
}

