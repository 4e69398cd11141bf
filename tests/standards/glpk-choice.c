#include "glpk-choice.h"

#include <glpk.h>
#include <math.h>
#include <time.h>

#include "bw-crown.h"

/* Grading rule 3 as an integer programme. For each size k there is one binary
 * column for every way (W, S, B, K) that it could be worked by itself:
 *
 *   S  body stitches, B  brim count, K  crown start, W  wedges of the family
 *
 *   least    sum of cost * x
 *   so that  sum over W of y[W] = 1
 *            sum over (S, B, K) of x[k, W, S, B, K] = y[W]   for each k and W
 *            sum of S * x[k+1] - sum of S * x[k] >= least step, for each k
 *            the same for B and K with 0
 *
 * Nothing is taken from the core but the length of a crown in rounds and the
 * stitches left to draw up, which have tests of their own. */

typedef struct
{
  double stitch_mm;
  double low_mm;
} Part;

typedef struct
{
  const BwReference *reference;
  const BwDesign    *design;
  Part               body;
  Part               crown;
  double             plain_mm;   /* a plain round of the body */
  gboolean           sideways;
  gboolean           in_round;
  double             brim_count_mm;
  double             brim_stretch;
  guint              brim_multiple;
  guint              rule_bands; /* the first so many bands rule the body's count */
} Model;

/* One column. */
typedef struct
{
  guint  size;
  guint  wedge; /* index */
  guint  body, brim, crown;
  double cost;
} Way;

static double
squared (double value)
{
  return value * value;
}

static const BwFabric *
fabric_of (const Model *model,
           const char  *id)
{
  const BwFabric *fabric = bw_fabric_find (model->reference->fabrics, id);

  g_assert_nonnull (fabric);
  return fabric;
}

/* Heights of "low" in a round, on average over a repeat. */
static double
average_height (const BwFabric *fabric)
{
  guint start = fabric->n_start;

  return (bw_fabric_height (fabric, start + fabric->n_rounds) - bw_fabric_height (fabric, start)) /
         fabric->n_rounds;
}

/* --- Gauges --- */

static double
read_gauge (const BwSwatch     *swatch,
            BwReadingDirection  direction)
{
  for (guint i = 0; i < swatch->readings->len; i++)
    {
      const BwReading *reading = &g_array_index (swatch->readings, BwReading, i);

      if (reading->direction == direction)
        return reading->span_mm / reading->count;
    }

  return 0;
}

/* A part is measured by the swatch it names, else by one of its stitch pattern. */
static const BwSwatch *
swatch_of (const Model *model,
           const char  *named,
           const char  *fabric)
{
  const GArray *swatches = model->design->swatches;

  for (guint i = 0; i < swatches->len; i++)
    {
      const BwSwatch *swatch = &g_array_index (swatches, BwSwatch, i);

      if (g_str_equal (named[0] != '\0' ? swatch->id : swatch->fabric,
                       named[0] != '\0' ? named : fabric))
        return swatch;
    }

  return NULL;
}

/* What the swatch does not measure is taken from the body. */
static Part
measure (const Model *model,
         const char  *named,
         const char  *fabric)
{
  const BwSwatch *swatch = swatch_of (model, named, fabric);
  Part part = model->body;

  if (swatch == NULL)
    return part;
  if (read_gauge (swatch, BW_READING_STITCHES) > 0)
    part.stitch_mm = read_gauge (swatch, BW_READING_STITCHES);
  if (read_gauge (swatch, BW_READING_ROUNDS) > 0)
    part.low_mm = read_gauge (swatch, BW_READING_ROUNDS) /
                  average_height (fabric_of (model, swatch->fabric));
  return part;
}

static const char *
brim_fabric (const Model *model)
{
  static const char *const ids[] = {
    [BW_BRIM_NONE] = "plain-low",  [BW_BRIM_SLIP_RIB] = "slip-rib",
    [BW_BRIM_LOW_RIB] = "low-rib", [BW_BRIM_POST_RIB] = "post-rib",
    [BW_BRIM_ROLLED] = "plain-low",
  };

  return ids[model->design->brim.kind];
}

static void
model_init (Model             *model,
            const BwReference *reference,
            const BwDesign    *design)
{
  const char *brim;
  const BwSwatch *swatch;
  Part part;

  *model = (Model) { .reference = reference, .design = design };
  model->body = measure (model, design->body_swatch, design->body_fabric);
  model->crown = measure (model, design->crown.swatch, design->crown.fabric);
  model->plain_mm = model->body.low_mm * average_height (fabric_of (model, design->body_fabric));

  brim = brim_fabric (model);
  part = measure (model, design->brim.swatch, brim);
  swatch = swatch_of (model, design->brim.swatch, brim);
  model->sideways = design->brim.kind == BW_BRIM_SLIP_RIB || design->brim.kind == BW_BRIM_LOW_RIB;
  model->in_round = !model->sideways && design->brim.kind != BW_BRIM_NONE;
  model->brim_count_mm = model->sideways ? part.low_mm * average_height (fabric_of (model, brim))
                                         : part.stitch_mm;
  model->brim_stretch = fabric_of (model, brim)->stretch;
  if (swatch != NULL && swatch->stretch > 0)
    model->brim_stretch = swatch->stretch;
  model->brim_multiple = model->sideways ? 2 : fabric_of (model, brim)->multiple;
}

/* --- Heights --- */

static guint
pinned (const Model *model,
        guint        k,
        BwPinKind    kind,
        guint        otherwise)
{
  const BwSize *size = g_array_index (model->design->sizes, BwSizeChoice, k).size;

  for (guint i = 0; i < model->design->pins->len; i++)
    {
      const BwPin *pin = &g_array_index (model->design->pins, BwPin, i);

      if (pin->kind == kind && g_str_equal (pin->size, size->id))
        return pin->value;
    }

  return otherwise;
}

/* The brim as worn: whole stitches (sideways) or rounds, nearest to the height. */
static double
brim_height_mm (const Model *model,
                guint        k)
{
  const BwBrim *brim = &model->design->brim;
  const BwFabric *fabric = fabric_of (model, brim_fabric (model));
  Part part = measure (model, brim->swatch, fabric->id);
  double unit = model->sideways ? part.stitch_mm : part.low_mm * average_height (fabric);
  double worked = brim->height_mm * (brim->folded ? 2 : 1);
  guint count;

  if (!model->sideways && !model->in_round)
    return 0;
  count = pinned (model, k, BW_PIN_BRIM_HEIGHT, MAX (1, (guint) floor (worked / unit + 0.5)));
  worked = model->sideways ? count * unit : bw_fabric_height (fabric, count) * part.low_mm;
  return brim->folded ? worked / 2 : worked;
}

/* Rounds of a band, and how many more its next longer version has: a filling
 * band grows by repeats that end with the stripe, if any do. */
static void
band_rounds (const Model  *model,
             const BwBand *band,
             guint        *first,
             guint        *more)
{
  const BwFabric *fabric = fabric_of (model, band->fabric);
  guint period = 0;
  guint found[2];
  guint n = 0;

  *more = 0;
  *first = band->mode == BW_BAND_REPEATS ? fabric->n_start + band->amount * fabric->n_rounds
                                         : band->amount;
  if (band->mode != BW_BAND_FILL)
    return;

  for (guint i = 0; i < band->stripe->len; i++)
    period += g_array_index (band->stripe, BwStripeStep, i).rounds;
  if (band->stripe->len < 2)
    period = 1;
  *first = fabric->n_start + MAX (1, band->amount) * fabric->n_rounds;
  *more = fabric->n_rounds;
  for (guint i = 0; i < 2 * period && n < 2; i++)
    if ((*first + i * fabric->n_rounds) % period == 0)
      found[n++] = *first + i * fabric->n_rounds;
  if (n == 2)
    {
      *first = found[0];
      *more = found[1] - found[0];
    }
}

/* Depth of all bands, without adjusting rounds; `unit` is what a fill adds. */
static double
bands_mm (const Model *model,
          double      *unit)
{
  double sum = 0;

  *unit = 0;
  for (guint i = 0; i < model->design->bands->len; i++)
    {
      const BwBand *band = &g_array_index (model->design->bands, BwBand, i);
      const BwFabric *fabric = fabric_of (model, band->fabric);
      Part part = measure (model, band->swatch, band->fabric);
      guint first, more;

      band_rounds (model, band, &first, &more);
      sum += part.low_mm * bw_fabric_height (fabric, first);
      *unit += part.low_mm *
               (bw_fabric_height (fabric, first + more) - bw_fabric_height (fabric, first));
    }

  return sum;
}

/* --- What one size may be, and what it costs --- */

static gboolean
is_multiple (const BwFabric *fabric,
             guint           stitches)
{
  return stitches >= fabric->multiple && (stitches - fabric->offset) % fabric->multiple == 0;
}

static const BwFabric *
band_fabric (const Model *model,
             guint        i)
{
  return fabric_of (model, g_array_index (model->design->bands, BwBand, i).fabric);
}

/* The count of band i over a body: itself where the band rules, else the
 * nearest that serves, the lower of two as near. */
static guint
band_count (const Model *model,
            guint        i,
            guint        body)
{
  const BwFabric *fabric = band_fabric (model, i);

  for (guint d = 0; i >= model->rule_bands; d++)
    if (d <= body && is_multiple (fabric, body - d))
      return body - d;
    else if (is_multiple (fabric, body + d))
      return body + d;

  return body;
}

/* Least cost of the depth over every number of fills that could be best. */
static double
depth_cost (const Model *model,
            guint        k,
            double       without_fill,
            double       unit)
{
  double target = g_array_index (model->design->sizes, BwSizeChoice, k).size->depth_mm;
  guint only = pinned (model, k, BW_PIN_FILL_REPEATS, G_MAXUINT);
  double best = INFINITY;

  for (guint fill = 0; fill == 0 || without_fill + (fill - 1) * unit < target; fill++)
    {
      double depth = without_fill + (only != G_MAXUINT ? only : fill) * unit;

      best = MIN (best, squared ((depth - target) / model->design->rules.depth_tolerance_mm));
      if (unit <= 0)
        break;
    }

  return best;
}

/* Cost of bands, crown and depth; INFINITY when they cannot follow one another. */
static double
upper_cost (const Model *model,
            guint        k,
            guint        body,
            guint        crown,
            guint        wedges)
{
  const BwCrownChoice *choice = &model->design->crown;
  BwCrownShape shape = {
    .profile = choice->profile,
    .stitch_mm = model->crown.stitch_mm,
    .round_mm = model->crown.low_mm * average_height (fabric_of (model, choice->fabric)),
    .length_mm = choice->length_of_radius > 0
      ? choice->length_of_radius * crown * model->crown.stitch_mm / (2 * G_PI) : choice->length_mm,
    .wedges = wedges,
    .close_at = choice->close_at > 0
      ? choice->close_at
      : MIN (16, bw_crown_default_close (model->reference->crown_close, model->crown.stitch_mm)),
  };
  double unit;
  double depth = brim_height_mm (model, k) + model->plain_mm + bands_mm (model, &unit);
  double adjusted = 0;
  guint last = body;

  for (guint i = 0; i < model->design->bands->len; i++)
    {
      guint count = band_count (model, i, body);

      adjusted += squared ((double) count - last);
      depth += count != last ? model->plain_mm : 0;
      last = count;
    }

  if (crown > 2 * last || last > 2 * crown || (choice->multiple_on_body && crown != last) ||
      (pinned (model, k, BW_PIN_CROWN_START, 0) == 0 && fabs ((double) crown - last) >= wedges))
    return INFINITY;

  adjusted += squared ((double) crown - last);
  depth += (crown != last ? model->plain_mm : 0) +
           bw_crown_n_rounds (&shape, crown) * shape.round_mm;
  return model->design->rules.adjust_weight * adjusted + depth_cost (model, k, depth, unit);
}

/* Cost of a brim and of going from it to the body; INFINITY when that cannot be. */
static double
brim_cost (const Model *model,
           guint        k,
           guint        body,
           guint        brim)
{
  const BwSizeChoice *size = &g_array_index (model->design->sizes, BwSizeChoice, k);
  const BwEase *ease = size->own_brim_ease ? &size->brim_ease : &model->design->brim_ease;
  const BwRules *rules = &model->design->rules;
  double target = size->size->head_mm * (1 + ease->fraction) + ease->length_mm;
  double mm = brim * model->brim_count_mm;
  double cost = squared ((mm - target) / rules->brim_tolerance_mm);

  if (!model->sideways && !model->in_round)
    return 0;
  if (mm * (1 + model->brim_stretch) < size->size->head_mm - 1e-9 ||
      (pinned (model, k, BW_PIN_BRIM_COUNT, 0) == 0 &&
       fabs (mm - target) > rules->brim_limit_mm + 1e-9))
    return INFINITY;

  /* at most two in a row end, never three in a row missed; or one shaping round */
  if (body > 2 * brim || (model->sideways ? 3 * body < brim : brim > 2 * body))
    return INFINITY;
  if (model->in_round)
    cost += rules->adjust_weight * squared ((double) body - brim);
  else if (model->design->brim.pick_up == BW_PICK_UP_PER_ROW)
    cost += rules->pick_up_weight * squared (body - model->design->brim.per_row * brim);
  return cost;
}

static double
girth_cost (const Model *model,
            guint        k,
            guint        body,
            guint        wedges)
{
  const BwSizeChoice *size = &g_array_index (model->design->sizes, BwSizeChoice, k);
  const BwEase *ease = size->own_body_ease ? &size->body_ease : &model->design->body_ease;
  const BwRules *rules = &model->design->rules;
  double target = size->size->head_mm * (1 + ease->fraction) + ease->length_mm;
  double miss = body * model->body.stitch_mm - target;

  if (pinned (model, k, BW_PIN_BODY_STITCHES, 0) == 0 &&
      (fabs (miss) > rules->girth_limit_mm + 1e-9 ||
       (rules->rounding == BW_ROUND_DOWN && miss > 1e-9) ||
       (rules->rounding == BW_ROUND_UP && miss < -1e-9)))
    return INFINITY;

  for (guint i = 0; i < model->rule_bands; i++)
    if (!is_multiple (band_fabric (model, i), body))
      return INFINITY;
  if (model->design->crown.multiple_on_body && body % wedges != 0)
    return INFINITY;
  return squared (miss / rules->girth_tolerance_mm);
}

/* --- The programme --- */

static const guint usual_wedges[] = { 6, 7, 8, 9, 10, 12 };

static guint
list_wedges (const Model  *model,
             const guint **wedges)
{
  const GArray *own = model->design->crown.wedges;

  *wedges = own->len > 0 ? (const guint *) (void *) own->data : usual_wedges;
  return own->len > 0 ? own->len : G_N_ELEMENTS (usual_wedges);
}

/* All counts that could come into question lie in 1 .. most. */
static void
list_ways (const Model *model,
           guint        k,
           guint        wedge,
           guint        wedges,
           GArray      *ways)
{
  double head = g_array_index (model->design->sizes, BwSizeChoice, k).size->head_mm;
  guint most = (guint) (2 * head / MIN (model->body.stitch_mm, model->brim_count_mm)) + 2 * wedges;
  guint body_pin = pinned (model, k, BW_PIN_BODY_STITCHES, 0);
  guint brim_pin = pinned (model, k, BW_PIN_BRIM_COUNT, 0);
  guint crown_pin = pinned (model, k, BW_PIN_CROWN_START, 0);
  gboolean bare = !model->sideways && !model->in_round;

  for (guint body = body_pin > 0 ? body_pin : 1; body <= (body_pin > 0 ? body_pin : most); body++)
    {
      double girth = girth_cost (model, k, body, wedges);
      guint least = body > 3 * wedges ? (body - 3 * wedges) / wedges * wedges : wedges;

      for (guint crown = least; isfinite (girth) && crown <= body + 3 * wedges; crown += wedges)
        {
          guint start = crown_pin > 0 ? crown_pin : crown;
          double upper = INFINITY;

          if (start % wedges == 0)
            upper = upper_cost (model, k, body, start, wedges);
          for (guint brim = 0; isfinite (upper) && brim <= (bare ? 0 : most);
               brim += model->brim_multiple)
            {
              Way way = { k, wedge, body, brim, start,
                          girth + upper + brim_cost (model, k, body, brim) };

              if (isfinite (way.cost) && (bare || brim > 0) &&
                  (bare || brim_pin == 0 || brim == brim_pin))
                g_array_append_val (ways, way);
            }
          if (crown_pin > 0)
            break;
        }
    }
}

static glp_prob *
state (const Model *model,
       GArray      *ways,
       guint        n_wedges)
{
  guint n = model->design->sizes->len;
  guint choose = 1 + n * n_wedges; /* rows up to here choose; those above let sizes grow */
  glp_prob *problem = glp_create_prob ();

  glp_set_obj_dir (problem, GLP_MIN);
  glp_add_rows (problem, (int) (choose + 3 * (n - 1)));
  glp_add_cols (problem, (int) (ways->len + n_wedges));
  glp_set_row_bnds (problem, 1, GLP_FX, 1, 1);
  for (guint i = 2; i <= choose; i++)
    glp_set_row_bnds (problem, (int) i, GLP_FX, 0, 0);
  for (guint i = 0; i < 3 * (n - 1); i++)
    glp_set_row_bnds (problem, (int) (choose + 1 + i), GLP_LO,
                      i % 3 == 0 ? model->design->rules.least_step : 0, 0);

  for (guint i = 0; i < ways->len; i++)
    {
      const Way *way = &g_array_index (ways, Way, i);
      double counts[3] = { way->body, way->brim, way->crown };
      int rows[8] = { 0, (int) (2 + way->size * n_wedges + way->wedge) };
      double values[8] = { 0, 1 };
      int used = 1;

      for (guint c = 0; c < 3; c++)
        {
          guint grow = choose + 1 + c;

          if (way->size > 0)
            rows[++used] = (int) (grow + 3 * (way->size - 1)), values[used] = counts[c];
          if (way->size + 1 < n)
            rows[++used] = (int) (grow + 3 * way->size), values[used] = -counts[c];
        }
      glp_set_col_kind (problem, (int) i + 1, GLP_BV);
      glp_set_obj_coef (problem, (int) i + 1, way->cost);
      glp_set_mat_col (problem, (int) i + 1, used, rows, values);
    }

  for (guint w = 0; w < n_wedges; w++)
    {
      g_autofree int *rows = g_new (int, n + 2);
      g_autofree double *values = g_new (double, n + 2);

      rows[1] = 1, values[1] = 1;
      for (guint k = 0; k < n; k++)
        rows[2 + k] = (int) (2 + k * n_wedges + w), values[2 + k] = -1;
      glp_set_col_kind (problem, (int) (ways->len + w + 1), GLP_BV);
      glp_set_mat_col (problem, (int) (ways->len + w + 1), (int) n + 1, rows, values);
    }

  return problem;
}

/* Processor time, as others may be at work on the same machine. */
static double
now_us (void)
{
  struct timespec now;

  clock_gettime (CLOCK_PROCESS_CPUTIME_ID, &now);
  return (double) now.tv_sec * 1e6 + (double) now.tv_nsec / 1e3;
}

/* The cost is added up from the chosen columns, as GLPK's own has its tolerance in it. */
static void
solve (const Model *model,
       GlpkChoice  *choice)
{
  const guint *wedges;
  guint n_wedges = list_wedges (model, &wedges);
  g_autoptr (GArray) ways = g_array_new (FALSE, FALSE, sizeof (Way));
  glp_iocp options;
  glp_prob *problem;
  double start;

  for (guint k = 0; k < model->design->sizes->len; k++)
    for (guint w = 0; w < n_wedges; w++)
      list_ways (model, k, w, wedges[w], ways);

  problem = state (model, ways, n_wedges);
  choice->n_columns = ways->len + n_wedges;
  glp_init_iocp (&options);
  options.msg_lev = GLP_MSG_OFF;
  options.presolve = GLP_ON;
  options.tol_obj = 1e-12;
  start = now_us ();
  choice->feasible = ways->len > 0 && glp_intopt (problem, &options) == 0 &&
                     glp_mip_status (problem) == GLP_OPT;
  choice->solve_us += now_us () - start;

  choice->cost = 0;
  for (guint i = 0; i < ways->len && choice->feasible; i++)
    if (glp_mip_col_val (problem, (int) i + 1) > 0.5)
      choice->cost += g_array_index (ways, Way, i).cost;
  glp_delete_prob (problem);
}

/* Solves a family's choice: with one count for all bands if there is a way,
 * else with the first band ruling, else with the girth alone ruling. */
void
glpk_choice (const BwReference *reference,
             const BwDesign    *design,
             GlpkChoice        *choice)
{
  guint n_bands = design->bands->len;
  const guint ruling[] = { n_bands, MIN (n_bands, 1), 0 };
  Model model;

  glp_term_out (GLP_OFF);
  model_init (&model, reference, design);
  *choice = (GlpkChoice) { FALSE, 0, 0, 0 };
  for (guint i = 0; i < G_N_ELEMENTS (ruling); i++)
    {
      model.rule_bands = ruling[i];
      solve (&model, choice);
      if (choice->feasible || n_bands == 0)
        break;
    }
}
