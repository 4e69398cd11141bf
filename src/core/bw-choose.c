#define G_LOG_DOMAIN "bw-core"

#include "bw-chooser.h"

#include <math.h>
#include <string.h>

/* The exact choice of counts for a family (grading rule 3).
 *
 * For each size the candidates are few: body counts S that serve the bands and
 * lie within the girth limit, brim counts B within the brim limit, crown starts
 * K next to S. The cost of a size is a sum of terms in S, (S, K), B and (S, B);
 * the fill that suits (S, K) best is settled on the spot, since nothing else
 * depends on it. What ties sizes together is that S, B and K may not fall as
 * the head grows, and that S must grow by the wanted step.
 *
 * So one wedge count W is a shortest path over sizes, with states (S, B, K) in
 * a small box per size. A state may follow any state that lies below it in all
 * three directions; the cheapest of those is a running minimum over the box:
 *
 *     f_k(S, B, K) = cost_k(S, B, K) + min { f_k-1(S', B', K') :
 *                                            S' + step <= S, B' <= B, K' <= K }
 *
 * which costs a handful of comparisons a state instead of a pass over all of
 * them. W is enumerated. Ties go to the first state in ascending (S, B, K),
 * and to the wedge count named first.
 */

static const guint default_wedges[] = { 6, 7, 8, 9, 10, 12 };

/* Index of the last candidate of `table` that may come before the given state
 * of the next size; G_MAXSIZE when there is none. */
static gsize
predecessor_corner (const BwChooser    *chooser,
                    const BwSizeStates *table,
                    guint               body,
                    guint               brim,
                    guint               crown)
{
  guint step = chooser->plan->design->rules.least_step;
  guint s = table->bodies->len;
  guint b = table->brims->len;
  guint q = MIN (table->n_crowns, crown / chooser->wedges + 1 - MIN (table->crown_first,
                                                                     crown / chooser->wedges + 1));

  while (s > 0 && g_array_index (table->bodies, BwBodyCandidate, s - 1).body + step > body)
    s--;
  while (b > 0 && g_array_index (table->brims, BwBrimCandidate, b - 1).brim > brim)
    b--;

  if (s == 0 || b == 0 || q == 0)
    return G_MAXSIZE;
  return ((gsize) (s - 1) * table->brims->len + b - 1) * table->n_crowns + q - 1;
}

/* How many crown starts of `before` are at most that of index q in `table`. */
static guint
crowns_up_to (const BwSizeStates *before,
              const BwSizeStates *table,
              guint               q)
{
  guint crown = table->crown_first + q;

  return crown < before->crown_first ? 0
                                     : MIN (before->n_crowns, crown - before->crown_first + 1);
}

static void
take_minima (double       *row,
             const double *other,
             guint         n)
{
  for (guint i = 0; i < n; i++)
    row[i] = MIN (row[i], other[i]);
}

/* One row of states: body s and brim b of `table`, after the first n_bodies and
 * n_brims of `before` (NULL for the first size). */
static gboolean
go_forward_row (const BwSizeStates *before,
                BwSizeStates       *table,
                guint               s,
                guint               b,
                guint               n_bodies,
                guint               n_brims)
{
  guint nb = table->brims->len;
  guint nq = table->n_crowns;
  const double *upper = table->upper + (gsize) s * nq;
  double *forward = table->forward + ((gsize) s * nb + b) * nq;
  double *mine = table->below + ((gsize) s * nb + b) * nq;
  double meeting = table->meeting[s * nb + b];
  double least = BW_INFEASIBLE; /* of the row so far */
  const double *below = NULL;

  if (before != NULL && n_bodies > 0 && n_brims > 0)
    below = before->below +
            ((gsize) (n_bodies - 1) * before->brims->len + n_brims - 1) * before->n_crowns;

  for (guint q = 0; q < nq; q++)
    {
      double f = meeting + upper[q];

      if (before != NULL)
        {
          guint n_crowns = crowns_up_to (before, table, q);

          f = below != NULL && n_crowns > 0 ? f + below[n_crowns - 1] : BW_INFEASIBLE;
        }
      forward[q] = f;
      least = MIN (least, f);
      mine[q] = least;
    }

  if (b > 0)
    take_minima (mine, mine - nq, nq);
  if (s > 0)
    take_minima (mine, mine - (gsize) nb * nq, nq);

  return isfinite (least);
}

/* Works out for each state of size k the cheapest way to it, its own cost
 * included, and below[s][b][q], the least of those up to s, b and q. Returns
 * FALSE when no state can be reached. */
static gboolean
go_forward (const BwChooser *chooser,
            guint            k,
            BwSizeStates    *table)
{
  const BwSizeStates *before = k > 0 ? &chooser->sizes[k - 1] : NULL;
  guint step = chooser->plan->design->rules.least_step;
  gboolean reached = FALSE;
  guint n_bodies = 0;

  for (guint s = 0; s < table->bodies->len; s++)
    {
      guint body = g_array_index (table->bodies, BwBodyCandidate, s).body;
      guint n_brims = 0;

      while (before != NULL && n_bodies < before->bodies->len &&
             g_array_index (before->bodies, BwBodyCandidate, n_bodies).body + step <= body)
        n_bodies++;
      for (guint b = 0; b < table->brims->len; b++)
        {
          guint brim = g_array_index (table->brims, BwBrimCandidate, b).brim;

          while (before != NULL && n_brims < before->brims->len &&
                 g_array_index (before->brims, BwBrimCandidate, n_brims).brim <= brim)
            n_brims++;
          reached = go_forward_row (before, table, s, b, n_bodies, n_brims) || reached;
        }
    }

  return reached;
}

/* Solves one wedge count. Returns the family's cost, or infinity with the first
 * size that cannot be reached in @failed. */
static double
solve (BwChooser *chooser,
       guint     *failed)
{
  const BwSizeStates *last;

  g_array_set_size (chooser->crown_rounds, 0);
  for (guint k = 0; k < chooser->n_sizes; k++)
    {
      BwSizeStates *table = &chooser->sizes[k];

      *failed = k;
      if (chooser->plan->design->crown.multiple_on_body)
        bw_candidates_collect_bodies (chooser, table);
      if (table->bodies->len == 0)
        return BW_INFEASIBLE;
      bw_candidates_prepare (chooser, table);
      if (!go_forward (chooser, k, table))
        return BW_INFEASIBLE;
    }

  last = &chooser->sizes[chooser->n_sizes - 1];
  return last->below[last->n_states - 1];
}

/* First state in the box up to `corner` whose forward cost is `cost`. */
static gsize
find_state (const BwSizeStates *table,
            gsize               corner,
            double              cost)
{
  guint nb = table->brims->len;
  guint nq = table->n_crowns;
  gsize s = corner / nq / nb;
  gsize b = corner / nq % nb;
  gsize q = corner % nq;

  for (gsize i = 0; i <= corner; i++)
    if (i / nq / nb <= s && i / nq % nb <= b && i % nq <= q && table->forward[i] <= cost + BW_TIE)
      return i;

  g_assert_not_reached ();
}

static void
trace_back (BwChooser      *chooser,
            double          cost,
            BwFamilyChoice *family)
{
  const BwSizeStates *table = &chooser->sizes[chooser->n_sizes - 1];
  gsize corner = table->n_states - 1;

  family->cost = cost;
  family->mode = chooser->mode;
  family->wedges = chooser->wedges;
  family->n_sizes = chooser->n_sizes;
  for (guint k = chooser->n_sizes; k-- > 0;)
    {
      BwChoice *choice = &family->sizes[k];
      gsize state;

      table = &chooser->sizes[k];
      state = find_state (table, corner, table->below[corner]);
      bw_candidates_read_choice (chooser, table, state, choice);
      if (k > 0)
        corner = predecessor_corner (chooser, &chooser->sizes[k - 1], choice->body, choice->brim,
                                     choice->crown);
    }
}

/* --- The whole choice --- */

static void
chooser_init (BwChooser    *chooser,
              const BwPlan *plan)
{
  const BwDesign *design = plan->design;

  memset (chooser, 0, sizeof *chooser);
  chooser->plan = plan;
  chooser->n_sizes = MIN (design->sizes->len, BW_DESIGN_SIZES_MAX);
  chooser->crown_rounds = g_array_new (FALSE, TRUE, sizeof (guint));
  for (guint i = 0; i < plan->n_bands; i++)
    if (plan->bands[i].unit_rounds > 0)
      chooser->fill_mm += plan->bands[i].unit_mm;
  for (guint k = 0; k < chooser->n_sizes; k++)
    {
      BwSizeStates *table = &chooser->sizes[k];
      const BwSizeChoice *choice = &g_array_index (design->sizes, BwSizeChoice, k);

      table->choice = choice;
      for (int kind = 0; kind < BW_PIN_N; kind++)
        table->pins[kind] = bw_design_find_pin (design, choice->size->id, (BwPinKind) kind);
      table->body_target = bw_plan_body_target (plan, k);
      table->brim_target = bw_plan_brim_target (plan, k);
      table->depth_target = choice->size->depth_mm;
      table->brim_height = bw_plan_brim_height (plan, choice->size->id);
      table->bodies = g_array_new (FALSE, FALSE, sizeof (BwBodyCandidate));
      table->brims = g_array_new (FALSE, FALSE, sizeof (BwBrimCandidate));
      bw_candidates_collect_brims (chooser, table);
    }
}

static void
chooser_clear (BwChooser *chooser)
{
  g_array_unref (chooser->crown_rounds);
  for (guint k = 0; k < chooser->n_sizes; k++)
    {
      g_array_unref (chooser->sizes[k].bodies);
      g_array_unref (chooser->sizes[k].brims);
      g_clear_pointer (&chooser->sizes[k].slots, g_array_unref);
      g_free (chooser->sizes[k].meeting);
      g_free (chooser->sizes[k].upper);
      g_free (chooser->sizes[k].forward);
      g_free (chooser->sizes[k].below);
    }
}

static guint
list_wedges (const BwDesign *design,
             const guint   **wedges)
{
  static const guint one = 1;

  *wedges = default_wedges;
  if (design->crown.profile == BW_CROWN_OWN)
    {
      *wedges = &one;
      return 1;
    }
  if (design->crown.wedges->len == 0)
    return G_N_ELEMENTS (default_wedges);

  *wedges = (const guint *) (void *) design->crown.wedges->data;
  return design->crown.wedges->len;
}

/* Tries every wedge count in the current mode; TRUE when one can be had. */
static gboolean
choose_in_mode (BwChooser      *chooser,
                BwFamilyChoice *family,
                guint          *failed)
{
  const guint *wedges;
  guint n_wedges = list_wedges (chooser->plan->design, &wedges);
  gboolean found = FALSE;

  chooser->wedges = wedges[0];
  for (guint k = 0; k < chooser->n_sizes; k++)
    bw_candidates_collect_bodies (chooser, &chooser->sizes[k]);

  for (guint i = 0; i < n_wedges; i++)
    {
      guint stopped = 0;
      double cost;

      chooser->wedges = wedges[i];
      cost = solve (chooser, &stopped);
      if (isfinite (cost) && (!found || cost < family->cost - BW_TIE))
        {
          trace_back (chooser, cost, family);
          found = TRUE;
        }
      if (isfinite (cost) && chooser->with_alternatives)
        bw_choose_gather_alternatives (chooser);
      if (!isfinite (cost))
        *failed = MAX (*failed, stopped);
    }

  return found;
}

/**
 * bw_choose:
 * @plan: the plan of a design
 * @with_alternatives: also find the next best choices of each size
 * @family: (out caller-allocates): the choice; clear with bw_family_choice_clear()
 * @findings: (element-type BwFinding): refusals are added here
 *
 * Chooses body, brim, crown and fill counts of all sizes at the least cost
 * (grading rule 3), exactly.
 *
 * Returns: FALSE when no choice keeps the hard rules; @findings says why
 */
gboolean
bw_choose (const BwPlan   *plan,
           gboolean        with_alternatives,
           BwFamilyChoice *family,
           GArray         *findings)
{
  BwChooser chooser;
  gboolean found = FALSE;
  guint failed = 0;

  memset (family, 0, sizeof *family);
  chooser_init (&chooser, plan);
  chooser.with_alternatives = with_alternatives;
  for (int mode = BW_COUNTS_COMMON; mode <= BW_COUNTS_FREE && !found; mode++)
    {
      chooser.mode = (BwCountMode) mode;
      failed = 0;
      found = choose_in_mode (&chooser, family, &failed);
      if (plan->n_bands == 0)
        break;
    }

  if (found && with_alternatives)
    bw_choose_list_alternatives (&chooser, family);
  if (!found)
    bw_choose_explain_failure (&chooser, failed, findings);

  chooser_clear (&chooser);
  return found;
}

/**
 * bw_family_choice_clear:
 * @family: a choice made by bw_choose()
 */
void
bw_family_choice_clear (BwFamilyChoice *family)
{
  for (guint k = 0; k < BW_DESIGN_SIZES_MAX; k++)
    g_clear_pointer (&family->alternatives[k], g_array_unref);
}
