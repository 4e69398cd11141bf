#define G_LOG_DOMAIN "bw-core"

#include "bw-pattern-audit-private.h"

#include <math.h>

#include "bw-units.h"

/* Amounts of yarn, and what is said of a ball. */

/* Amounts follow girth times depth within this (common practice, no source). */
#define SCALING_MISS 0.15
/* A kit holds some yarn in reserve, seldom more (common practice, no source). */
#define RESERVE_MOST 1.35

static double
figure (const BwPatternAudit *audit,
        const BwQuantity     *quantity,
        guint                 size)
{
  const BwValue *value = bw_pattern_value (audit->pattern, quantity, size);

  return value != NULL && !isnan (value->low) ? value->low : 0;
}

static double
last_digit (const BwPatternAudit *audit,
            const BwQuantity     *quantity)
{
  const BwValue *value = bw_pattern_value (audit->pattern, quantity, 0);

  return value != NULL ? value->step : 0;
}

static const BwPatternYarn *
yarn_at (const BwPatternAudit *audit,
         guint                 index)
{
  return &g_array_index (audit->pattern->front.yarns, BwPatternYarn, index);
}

/* Metres of a yarn for a size; 0 = not said. */
static double
metres_of (const BwPatternAudit *audit,
           const BwPatternYarn  *yarn,
           guint                 size)
{
  double metres = figure (audit, &yarn->metres, size);

  return metres > 0 ? metres : figure (audit, &yarn->yards, size) * BW_M_PER_YARD;
}

static BwSlice
amount_slice (const BwPatternYarn *yarn)
{
  const BwQuantity *quantity = yarn->metres.n > 0 ? &yarn->metres
                               : yarn->yards.n > 0 ? &yarn->yards : &yarn->balls;

  return (BwSlice) { quantity->offset, quantity->length };
}

/* --- Amounts --- */

static gboolean
has_amount (const BwPatternYarn *yarn)
{
  return yarn->metres.n > 0 || yarn->yards.n > 0 || yarn->grams.n > 0 || yarn->ounces.n > 0 ||
         yarn->balls.n > 0;
}

/* A yarn of which an amount is told, or one whose letter has none. */
static void
check_missing (BwPatternAudit *audit)
{
  const BwPattern *pattern = audit->pattern;
  guint told = 0;

  for (guint i = 0; i < pattern->front.yarns->len; i++)
    told += has_amount (yarn_at (audit, i));
  if (told == 0)
    {
      bw_audit_add (audit, BW_FINDING_YARN_MISSING, BW_SEVERITY_ERROR,
                    pattern->front.pieces[BW_PIECE_MATERIALS]);
      return;
    }
  for (guint i = 0; i < pattern->front.yarns->len; i++)
    {
      const BwPatternYarn *yarn = yarn_at (audit, i);

      if (yarn->letter.length > 0 && !has_amount (yarn))
        bw_audit_add (audit, BW_FINDING_YARN_MISSING, BW_SEVERITY_ERROR, yarn->letter)->word =
          yarn->letter;
    }
}

/* All yarns of a size; FALSE when one of them is not told for it. */
static gboolean
total_of (const BwPatternAudit *audit,
          guint                 size,
          double               *metres,
          BwSlice              *where)
{
  gboolean any = FALSE;

  *metres = 0;
  for (guint i = 0; i < audit->pattern->front.yarns->len; i++)
    {
      const BwPatternYarn *yarn = yarn_at (audit, i);
      double amount = metres_of (audit, yarn, size);

      if (amount <= 0 && yarn->letter.length > 0)
        return FALSE;
      if (amount > 0 && !any)
        *where = amount_slice (yarn);
      any |= amount > 0;
      *metres += amount;
    }

  return any;
}

static void
check_falling (BwPatternAudit *audit)
{
  double before = 0;

  for (guint k = 0; k < audit->pattern->n_sizes; k++)
    {
      double metres;
      BwSlice where;

      if (!total_of (audit, k, &metres, &where))
        return;
      if (metres < before)
        {
          BwPatternFinding *finding = bw_audit_add (audit, BW_FINDING_YARN_FALLS,
                                                    BW_SEVERITY_WARNING, where);

          finding->sizes = (guint32) 1 << k;
          finding->a = metres;
          finding->b = before;
        }
      before = metres;
    }
}

/* What the other sizes let expect of one: in proportion to its area, or with a
 * part that is the same for all sizes, as a pom-pom is. */
typedef struct
{
  double n, x, y, xx, xy;
} Line;

static void
expect (const Line *others,
        double      area,
        double     *proportional,
        double     *straight)
{
  double spread = others->n * others->xx - others->x * others->x;
  double slope = spread > 0 ? (others->n * others->xy - others->x * others->y) / spread : 0;

  *proportional = others->y / others->x * area;
  *straight = others->n >= 2 && spread > 0
    ? (others->y - slope * others->x) / others->n + slope * area : *proportional;
}

/* Yarn to the area of each size. */
static void
check_scaling (BwPatternAudit *audit)
{
  guint n = audit->pattern->n_sizes;
  double areas[BW_PATTERN_SIZES_MAX];
  double metres[BW_PATTERN_SIZES_MAX];
  BwSlice where = { 0, 0 };

  if (n < 3)
    return;
  for (guint k = 0; k < n; k++)
    {
      double girth, depth, step;
      BwSlice place;

      if (!total_of (audit, k, &metres[k], &where) ||
          !bw_audit_measure (audit, BW_MEASURE_GIRTH, k, &girth, &step, &place) ||
          !bw_audit_measure (audit, BW_MEASURE_DEPTH, k, &depth, &step, &place))
        return;
      areas[k] = girth * depth;
    }

  for (guint k = 0; k < n; k++)
    {
      Line others = { 0, 0, 0, 0, 0 };
      double proportional, straight;
      BwPatternFinding *finding;

      for (guint j = 0; j < n; j++)
        if (j != k)
          {
            others.n += 1;
            others.x += areas[j];
            others.y += metres[j];
            others.xx += areas[j] * areas[j];
            others.xy += areas[j] * metres[j];
          }
      expect (&others, areas[k], &proportional, &straight);
      if (metres[k] >= MIN (proportional, straight) * (1 - SCALING_MISS) &&
          metres[k] <= MAX (proportional, straight) * (1 + SCALING_MISS))
        continue;
      finding = bw_audit_add (audit, BW_FINDING_YARN_OFF, BW_SEVERITY_WARNING, where);
      finding->sizes = (guint32) 1 << k;
      finding->a = metres[k];
      finding->b = proportional;
    }
}

/* --- Balls --- */

/* Metres in a ball of a yarn; where the colours share one, it has a line of its own. */
static double
ball_of (const BwPatternAudit *audit,
         const BwPatternYarn  *yarn)
{
  double metres = figure (audit, &yarn->ball_metres, 0);

  if (metres <= 0)
    metres = figure (audit, &yarn->ball_yards, 0) * BW_M_PER_YARD;
  for (guint i = 0; i < audit->pattern->front.yarns->len && metres <= 0; i++)
    {
      const BwPatternYarn *other = yarn_at (audit, i);

      if (other->letter.length > 0)
        continue;
      metres = figure (audit, &other->ball_metres, 0);
      if (metres <= 0)
        metres = figure (audit, &other->ball_yards, 0) * BW_M_PER_YARD;
    }
  return metres;
}

static void
check_balls (BwPatternAudit      *audit,
             const BwPatternYarn *yarn,
             guint                size)
{
  double balls = figure (audit, &yarn->balls, size);
  double metres = metres_of (audit, yarn, size);
  double in_ball = ball_of (audit, yarn);
  BwPatternFinding *finding;
  double least, most;

  if (balls <= 0 || metres <= 0 || in_ball <= 0)
    return;
  least = ceil (metres / in_ball - 1e-9);
  most = ceil (metres * RESERVE_MOST / in_ball);
  if (balls >= least && balls <= most)
    return;
  finding = bw_audit_add (audit, BW_FINDING_YARN_BALLS,
                          balls < least ? BW_SEVERITY_ERROR : BW_SEVERITY_WARNING,
                          (BwSlice) { yarn->balls.offset, yarn->balls.length });
  finding->sizes = (guint32) 1 << size;
  finding->a = balls;
  finding->b = least;
  finding->c = metres;
}

/* Do two amounts of the same, in two units, agree within one in a hundred and
 * their last digits? */
static gboolean
agree (double a,
       double a_step,
       double b,
       double b_step,
       double factor)
{
  return fabs (a - b * factor) <= a_step / 2 + b_step / 2 * factor + 0.01 * a;
}

static void
compare (BwPatternAudit   *audit,
         const BwQuantity *metric,
         const BwQuantity *imperial,
         double            factor,
         BwFindingKind     kind)
{
  for (guint k = 0; k < MAX (metric->n, 1) && metric->n > 0 && metric->n == imperial->n; k++)
    {
      double a = g_array_index (audit->pattern->front.values, BwValue, metric->first + k).low;
      double b = g_array_index (audit->pattern->front.values, BwValue, imperial->first + k).low;
      BwPatternFinding *finding;

      if (isnan (a) || isnan (b) ||
          agree (a, last_digit (audit, metric), b, last_digit (audit, imperial), factor))
        continue;
      finding = bw_audit_add (audit, kind, BW_SEVERITY_WARNING,
                              (BwSlice) { imperial->offset, imperial->length });
      finding->a = a;
      finding->b = b;
    }
}

/* Metres to 100 g that yarns of a class have, as far as any source reaches, and a
 * fifth more either way. */
static gboolean
usual_length (const BwReference *reference,
              guint              number,
              double            *least,
              double            *most)
{
  *least = *most = 0;
  for (guint i = 0; i < reference->yarn_names->len; i++)
    {
      const BwYarnName *name = &g_array_index (reference->yarn_names, BwYarnName, i);

      if (name->number != number)
        continue;
      if (name->m_per_100g.least > 0)
        *least = *least > 0 ? MIN (*least, name->m_per_100g.least) : name->m_per_100g.least;
      *most = MAX (*most, name->m_per_100g.most);
    }
  *least *= 0.8;
  *most *= 1.2;
  return *least > 0 && *most > 0;
}

static void
check_thickness (BwPatternAudit      *audit,
                 const BwPatternYarn *yarn)
{
  double metres = ball_of (audit, yarn);
  double grams = figure (audit, &yarn->ball_grams, 0);
  BwPatternFinding *finding;
  double least, most;

  if (audit->reference == NULL || yarn->weight_class < 0 || metres <= 0 || grams <= 0 ||
      !usual_length (audit->reference, (guint) yarn->weight_class, &least, &most))
    return;
  metres *= 100 / grams;
  if (metres >= least && metres <= most)
    return;
  finding = bw_audit_add (audit, BW_FINDING_BALL_THICKNESS, BW_SEVERITY_WARNING,
                          (BwSlice) { yarn->ball_grams.offset, yarn->ball_grams.length });
  finding->a = metres;
  finding->b = least;
  finding->c = most;
}

/* Looks at the yarns of the materials. */
void
bw_audit_yarn (BwPatternAudit *audit)
{
  const BwPattern *pattern = audit->pattern;

  if (pattern->front.pieces[BW_PIECE_MATERIALS].length > 0)
    check_missing (audit);
  check_falling (audit);
  check_scaling (audit);
  for (guint i = 0; i < pattern->front.yarns->len; i++)
    {
      const BwPatternYarn *yarn = yarn_at (audit, i);

      for (guint k = 0; k < pattern->n_sizes; k++)
        check_balls (audit, yarn, k);
      compare (audit, &yarn->ball_metres, &yarn->ball_yards, BW_M_PER_YARD, BW_FINDING_BALL_LENGTHS);
      compare (audit, &yarn->metres, &yarn->yards, BW_M_PER_YARD, BW_FINDING_BALL_LENGTHS);
      compare (audit, &yarn->ball_grams, &yarn->ball_ounces, BW_G_PER_OUNCE,
               BW_FINDING_BALL_MASSES);
      compare (audit, &yarn->grams, &yarn->ounces, BW_G_PER_OUNCE, BW_FINDING_BALL_MASSES);
      check_thickness (audit, yarn);
    }
}
