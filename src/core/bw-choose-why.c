#define G_LOG_DOMAIN "bw-core"

#include "bw-chooser.h"

#include <math.h>
#include <string.h>

/* --- Alternatives: what the family costs at best when a size has a number --- */

/* What a slot is the best for. */
typedef enum
{
  SLOT_BODY,
  SLOT_BRIM,
  SLOT_CROWN,
} SlotKind;

/* The best family, of all wedge counts so far, in which a size has `value`. */
typedef struct
{
  SlotKind      kind;
  guint         value;
  BwAlternative best;
} Slot;

static void
offer (BwChooser    *chooser,
       BwSizeStates *table,
       SlotKind      kind,
       guint         value,
       gsize         state,
       double        cost)
{
  Slot *slot = NULL;
  BwChoice choice;

  for (guint i = 0; i < table->slots->len && slot == NULL; i++)
    {
      Slot *known = &g_array_index (table->slots, Slot, i);

      if (known->kind == kind && known->value == value)
        slot = known;
    }

  if (slot != NULL && cost >= slot->best.cost - BW_TIE)
    return;
  if (slot == NULL)
    {
      g_array_set_size (table->slots, table->slots->len + 1);
      slot = &g_array_index (table->slots, Slot, table->slots->len - 1);
    }

  bw_candidates_read_choice (chooser, table, state, &choice);
  *slot = (Slot) { kind, value, { choice.body, choice.brim, choice.crown, choice.fill,
                                  chooser->wedges, cost } };
}

/* The least cost seen, and of which state. */
typedef struct
{
  double cost;
  gsize  state;
} Least;

static void
keep_least (Least  *least,
            double  cost,
            gsize   state)
{
  if (cost < least->cost - BW_TIE)
    *least = (Least) { cost, state };
}

/* Offers the best state of each body count, brim count and crown start. `rest`
 * is what the larger sizes cost at best after each state. */
static void
offer_states (BwChooser    *chooser,
              BwSizeStates *table,
              const double *rest)
{
  guint ns = table->bodies->len;
  guint nb = table->brims->len;
  guint nq = table->n_crowns;
  g_autofree Least *least = g_new (Least, ns + nb + nq);
  gsize i = 0;

  for (guint j = 0; j < ns + nb + nq; j++)
    least[j].cost = BW_INFEASIBLE;
  for (guint s = 0; s < ns; s++)
    for (guint b = 0; b < nb; b++)
      {
        Least row = { BW_INFEASIBLE, 0 };

        for (guint q = 0; q < nq; q++, i++)
          {
            double total = table->forward[i] + rest[i];

            keep_least (&row, total, i);
            keep_least (&least[ns + nb + q], total, i);
          }
        keep_least (&least[s], row.cost, row.state);
        keep_least (&least[ns + b], row.cost, row.state);
      }

  for (guint j = 0; j < ns + nb + nq; j++)
    if (isfinite (least[j].cost))
      {
        SlotKind kind = j < ns ? SLOT_BODY : j < ns + nb ? SLOT_BRIM : SLOT_CROWN;
        guint values[3];

        bw_candidates_state_values (table, chooser->wedges, least[j].state, &values[SLOT_BODY],
                                    &values[SLOT_BRIM], &values[SLOT_CROWN]);
        offer (chooser, table, kind, values[kind], least[j].state, least[j].cost);
      }
}

/* What the larger sizes cost at best after each state of one row; `above`
 * begins at the row of the next size that may follow, NULL when none may. */
static void
go_back_row (const BwSizeStates *table,
             const BwSizeStates *after,
             const double       *above,
             double             *rest)
{
  for (guint q = 0; q < table->n_crowns; q++)
    {
      guint crown = table->crown_first + q;
      guint q_after = crown - MIN (crown, after->crown_first);

      rest[q] = above != NULL && q_after < after->n_crowns ? above[q_after] : BW_INFEASIBLE;
    }
}

/* What the larger sizes cost at best after each state of `table`: the mirror
 * image of go_forward(). `above` is a running minimum over the states of the
 * next size from the far corner of its box. */
static void
go_back (const BwChooser    *chooser,
         const BwSizeStates *table,
         const BwSizeStates *after,
         const double       *above,
         double             *rest)
{
  guint step = chooser->plan->design->rules.least_step;
  guint nb = table->brims->len;
  guint s_after = 0;

  for (guint s = 0; s < table->bodies->len; s++)
    {
      guint body = g_array_index (table->bodies, BwBodyCandidate, s).body + step;
      guint b_after = 0;

      while (s_after < after->bodies->len &&
             g_array_index (after->bodies, BwBodyCandidate, s_after).body < body)
        s_after++;
      for (guint b = 0; b < nb; b++)
        {
          guint brim = g_array_index (table->brims, BwBrimCandidate, b).brim;
          gsize row;

          while (b_after < after->brims->len &&
                 g_array_index (after->brims, BwBrimCandidate, b_after).brim < brim)
            b_after++;
          row = (gsize) s_after * after->brims->len + b_after;
          go_back_row (table, after,
                       s_after < after->bodies->len && b_after < after->brims->len
                         ? above + row * after->n_crowns : NULL,
                       rest + ((gsize) s * nb + b) * table->n_crowns);
        }
    }
}

/* Running minimum of own cost and rest, from the far corner of the box. */
static void
fill_above (const BwSizeStates *table,
            const double       *rest,
            double             *above)
{
  guint nb = table->brims->len;
  guint nq = table->n_crowns;

  for (guint s = table->bodies->len; s-- > 0;)
    for (guint b = nb; b-- > 0;)
      for (guint q = nq; q-- > 0;)
        {
          gsize i = ((gsize) s * nb + b) * nq + q;

          above[i] = table->meeting[s * nb + b] + table->upper[s * nq + q] + rest[i];
          if (q + 1 < nq)
            above[i] = MIN (above[i], above[i + 1]);
          if (b + 1 < nb)
            above[i] = MIN (above[i], above[i + nq]);
          if (s + 1 < table->bodies->len)
            above[i] = MIN (above[i], above[i + (gsize) nb * nq]);
        }
}

/* Offers every state of every size at the current wedge count, whose forward
 * tables it needs, to the alternatives. */
void
bw_choose_gather_alternatives (BwChooser *chooser)
{
  g_autofree double *above = NULL; /* of size k + 1 */

  for (guint k = chooser->n_sizes; k-- > 0;)
    {
      BwSizeStates *table = &chooser->sizes[k];
      g_autofree double *rest = g_new0 (double, table->n_states);
      double *mine = g_new (double, table->n_states);

      if (k + 1 < chooser->n_sizes)
        go_back (chooser, table, &chooser->sizes[k + 1], above, rest);
      if (table->slots == NULL)
        table->slots = g_array_new (FALSE, FALSE, sizeof (Slot));
      offer_states (chooser, table, rest);
      fill_above (table, rest, mine);
      g_free (above);
      above = mine;
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

static gboolean
is_chosen (const Slot     *slot,
           const BwChoice *chosen)
{
  const guint values[] = { chosen->body, chosen->brim, chosen->crown };

  return slot->value == values[slot->kind];
}

/* Lists what was gathered: for each body count, brim count and crown start
 * other than the chosen one the best family that has it. */
void
bw_choose_list_alternatives (const BwChooser *chooser,
                             BwFamilyChoice  *family)
{
  for (guint k = 0; k < chooser->n_sizes; k++)
    {
      const BwChoice *chosen = &family->sizes[k];
      const GArray *slots = chooser->sizes[k].slots;
      GArray *out = g_array_new (FALSE, FALSE, sizeof (BwAlternative));
      BwAlternative first = { chosen->body, chosen->brim, chosen->crown, chosen->fill,
                              family->wedges, family->cost };

      g_array_append_val (out, first);
      for (guint i = 0; i < slots->len; i++)
        if (!is_chosen (&g_array_index (slots, Slot, i), chosen))
          g_array_append_val (out, g_array_index (slots, Slot, i).best);
      sort_alternatives (out);
      family->alternatives[k] = out;
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
  BwFinding finding = { kind, BW_SEVERITY_REFUSAL, size, other, -1, -1, a, b, c, 0 };

  g_array_append_val (findings, finding);
}

/* The body count nearest to a size's target that serves, with no limit; the
 * pinned one if there is one. */
static guint
nearest_body (const BwChooser    *chooser,
              const BwSizeStates *table)
{
  guint ideal = (guint) MAX (1, lround (table->body_target / chooser->plan->body.stitch_mm));

  if (bw_candidates_pinned (table, BW_PIN_BODY_STITCHES, &ideal))
    return ideal;

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

/* Does any brim of the size lead to any body of it? */
static gboolean
brim_meets_body (const BwSizeStates *table)
{
  for (guint i = 0; i < table->bodies->len * table->brims->len; i++)
    if (isfinite (table->meeting[i]))
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

      if (!brim_meets_body (table))
        add_refusal (findings, BW_FINDING_PICK_UP, (int) failed, -1, body, brim, 0);
      else
        add_refusal (findings, BW_FINDING_NO_WEDGES, (int) failed, -1, body, chooser->wedges, 0);
      return;
    }

  if (failed > 0)
    explain_step (chooser, failed, findings);
}

