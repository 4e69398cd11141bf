#define G_LOG_DOMAIN "bw-core"

#include "bw-pattern-audit-private.h"

#include <math.h>

#include "bw-units.h"

/* Measurements: against the gauge and the stitches, against each other, in both
 * units, from size to size. */

/* Nearer than this two sizes are hard to tell apart, and than that they are one
 * hat (common practice, no source). */
#define SIZES_APART_MM 15
#define SIZES_ALIKE_MM 9.9
/* A measure is met within half a stitch or this (from the audit's own rules). */
#define GIRTH_MISS_MM 5

static double
mm_of (guint8 unit,
       double figure)
{
  return unit == BW_UNIT_CM ? figure * 10 : unit == BW_UNIT_INCH ? figure * BW_MM_PER_INCH : figure;
}

static BwSlice
slice_of (const BwValue *value)
{
  return (BwSlice) { value->offset, 0 };
}

/* The digits of a figure, with fraction and decimals. */
static BwSlice
figure_slice (const BwPatternAudit *audit,
              const BwValue        *value)
{
  const char *text = audit->pattern->text;
  guint32 end = value->offset;

  while (end < audit->pattern->length &&
         (g_ascii_isdigit (text[end]) ||
          ((text[end] == '.' || text[end] == ',') && g_ascii_isdigit (text[end + 1]))))
    end++;
  return end > value->offset ? bw_audit_slice (value->offset, end) : slice_of (value);
}

/* The figure of a measure for a size, metric if the text has it. */
static const BwValue *
value_of (const BwPatternAudit   *audit,
          const BwPatternMeasure *measure,
          guint                   size,
          guint8                 *unit)
{
  const BwQuantity *quantity = measure->metric.n > 0 ? &measure->metric : &measure->imperial;
  const BwValue *value = NULL;

  *unit = quantity->unit;
  if (measure->size >= 0)
    value = measure->size == (int) size && quantity->n > 0
      ? &g_array_index (audit->pattern->front.values, BwValue, quantity->first) : NULL;
  else
    value = bw_pattern_value (audit->pattern, quantity, size);
  return value != NULL && !isnan (value->low) ? value : NULL;
}

/* Is it said in the midst of the work, to be checked there? */
static gboolean
is_milestone (const BwPatternAudit   *audit,
              const BwPatternMeasure *measure)
{
  return measure->part == BW_PART_WORK && measure->offset > bw_audit_line (audit, 0)->offset;
}

/* A measure of a size, as the list of sizes has it; the middle of a range. */
gboolean
bw_audit_measure (const BwPatternAudit *audit,
                  BwMeasureKind         kind,
                  guint                 size,
                  double               *mm,
                  double               *step_mm,
                  BwSlice              *where)
{
  const GArray *measures = audit->pattern->front.measures;

  for (guint i = 0; i < measures->len; i++)
    {
      const BwPatternMeasure *measure = &g_array_index (measures, BwPatternMeasure, i);
      const BwValue *value;
      guint8 unit;

      if (measure->kind != kind || is_milestone (audit, measure))
        continue;
      value = value_of (audit, measure, size, &unit);
      if (value == NULL)
        continue;
      *mm = mm_of (unit, (value->low + value->high) / 2);
      *step_mm = mm_of (unit, value->step);
      *where = figure_slice (audit, value);
      return TRUE;
    }

  return FALSE;
}

/* --- Gauge and girth --- */

/* Millimetres of a stitch, and of the last digit of the gauge in parts of it. */
static gboolean
width_of (const BwPatternAudit *audit,
          const BwPatternGauge *gauge,
          double               *width,
          double               *doubt)
{
  const BwValue *stitches = bw_pattern_value (audit->pattern, &gauge->stitches, 0);
  const BwValue *span = bw_pattern_value (audit->pattern, &gauge->span, 0);

  if (stitches == NULL || span == NULL || !(stitches->low > 0) || !(span->low > 0))
    return FALSE;
  *width = mm_of (gauge->span.unit, span->low) / stitches->low;
  /* 4 in are 10 cm to most who write gauges */
  if (gauge->span.unit == BW_UNIT_INCH)
    *width = span->low * BW_MM_PER_INCH_ROUND / stitches->low;
  *doubt = stitches->step / 2 / stitches->low;
  return TRUE;
}

/* How many stitches the stated girth of each size has room for, at any of the
 * gauges: found before the rounds are walked. */
void
bw_audit_expect (BwPatternAudit *audit)
{
  const GArray *gauges = audit->pattern->front.gauges;

  for (guint k = 0; k < audit->pattern->n_sizes; k++)
    for (guint i = 0; i < gauges->len; i++)
      {
        double width, doubt, mm, step, miss;
        BwSlice where;

        if (!width_of (audit, &g_array_index (gauges, BwPatternGauge, i), &width, &doubt) ||
            !bw_audit_measure (audit, BW_MEASURE_GIRTH, k, &mm, &step, &where))
          continue;
        miss = MAX (width / 2, GIRTH_MISS_MM) + step / 2 + mm * doubt;
        if (audit->sizes[k].largest <= 0 || (mm - miss) / width < audit->sizes[k].least)
          audit->sizes[k].least = (mm - miss) / width;
        audit->sizes[k].largest = MAX (audit->sizes[k].largest, (mm + miss) / width);
      }
}

static void
check_girth (BwPatternAudit *audit,
             guint           size)
{
  const BwAuditSize *facts = &audit->sizes[size];
  BwPatternFinding *finding;
  double width = 0;
  double doubt, mm, step;
  BwSlice where;

  if (facts->largest <= 0 || facts->matched || facts->nearest == 0 || facts->unsure ||
      !bw_audit_measure (audit, BW_MEASURE_GIRTH, size, &mm, &step, &where))
    return;
  for (guint i = 0; i < audit->pattern->front.gauges->len && width <= 0; i++)
    if (!width_of (audit, &g_array_index (audit->pattern->front.gauges, BwPatternGauge, i), &width,
                   &doubt))
      width = 0;
  finding = bw_audit_add (audit, BW_FINDING_GAUGE_AND_SIZE, BW_SEVERITY_ERROR, where);
  finding->sizes = (guint32) 1 << size;
  finding->a = facts->nearest;
  finding->b = facts->nearest * width;
  finding->c = mm;
}

/* The rows of a brim worked sideways, at a gauge in rows. */
static void
check_brim (BwPatternAudit *audit,
            guint           size)
{
  const GArray *gauges = audit->pattern->front.gauges;
  guint rows = audit->sizes[size].rows;
  double best = -1;
  double mm, step;
  BwSlice where;

  if (rows == 0 || !bw_audit_measure (audit, BW_MEASURE_BRIM_GIRTH, size, &mm, &step, &where))
    return;
  for (guint i = 0; i < gauges->len; i++)
    {
      const BwPatternGauge *gauge = &g_array_index (gauges, BwPatternGauge, i);
      const BwValue *n = bw_pattern_value (audit->pattern, &gauge->rounds, 0);
      const BwQuantity *over = gauge->rounds_span.n > 0 ? &gauge->rounds_span : &gauge->span;
      const BwValue *span = bw_pattern_value (audit->pattern, over, 0);
      double height, length;

      if (n == NULL || span == NULL || !(n->low > 0) || !(span->low > 0) ||
          gauge->rounds.unit != BW_UNIT_ROW)
        continue;
      height = mm_of (over->unit, span->low) / n->low;
      length = rows * height;
      if (fabs (length - mm) <= MAX (height / 2, GIRTH_MISS_MM) + step / 2 +
                                length * n->step / 2 / n->low)
        return;
      if (best < 0 || fabs (length - mm) < fabs (best - mm))
        best = length;
    }
  if (best >= 0)
    {
      BwPatternFinding *finding = bw_audit_add (audit, BW_FINDING_GAUGE_AND_DEPTH,
                                                BW_SEVERITY_ERROR, where);

      finding->sizes = (guint32) 1 << size;
      finding->a = best;
      finding->b = mm;
    }
}

/* --- From size to size --- */

static void
check_order (BwPatternAudit *audit,
             BwMeasureKind   kind)
{
  double before = 0;

  for (guint k = 0; k < audit->pattern->n_sizes; k++)
    {
      double mm, step;
      BwSlice where;

      if (!bw_audit_measure (audit, kind, k, &mm, &step, &where))
        return;
      if (k > 0 && mm < before - 0.01)
        {
          BwPatternFinding *finding = bw_audit_add (audit, BW_FINDING_SIZES_OUT_OF_ORDER,
                                                    BW_SEVERITY_WARNING, where);

          finding->sizes = (guint32) 1 << k;
          finding->a = mm / 10;
          finding->b = before / 10;
        }
      else if (k > 0 && kind == BW_MEASURE_GIRTH && mm - before < SIZES_APART_MM)
        {
          BwPatternFinding *finding = bw_audit_add (audit, BW_FINDING_SIZES_NEAR,
                                                    mm - before < SIZES_ALIKE_MM
                                                      ? BW_SEVERITY_WARNING : BW_SEVERITY_NOTE,
                                                    where);

          finding->sizes = (guint32) 1 << k;
          finding->a = mm - before;
        }
      before = mm;
    }
}

/* The widest round may not get narrower as the sizes grow; two sizes with the
 * same counts throughout are one. */
static void
check_stitches (BwPatternAudit *audit)
{
  for (guint k = 1; k < audit->pattern->n_sizes; k++)
    {
      const BwAuditSize *size = &audit->sizes[k];
      const BwAuditSize *before = &audit->sizes[k - 1];
      const BwPatternLine *line = bw_audit_line (audit, size->widest);
      BwPatternFinding *finding;

      if (size->unsure || before->unsure || size->most == 0)
        continue;
      if (size->most < before->most)
        {
          finding = bw_audit_add (audit, BW_FINDING_SIZES_OUT_OF_ORDER, BW_SEVERITY_WARNING,
                                  bw_audit_label (audit, line));
          finding->sizes = (guint32) 1 << k;
          finding->a = size->most;
          finding->b = before->most;
          bw_audit_name_round (audit, finding);
        }
      else if (size->digest == before->digest && size->rounds == before->rounds &&
               size->rounds >= 3)
        {
          finding = bw_audit_add (audit, BW_FINDING_SIZES_ALIKE, BW_SEVERITY_WARNING,
                                  bw_audit_label (audit, line));
          finding->sizes = (guint32) 3 << (k - 1);
          finding->a = size->most;
        }
    }
}

/* --- Both units --- */

/* Which inch fits a pair of figures: bit 0 = 2.5 cm, bit 1 = 2.54 cm. */
static guint
inches_that_fit (double cm,
                 double cm_step,
                 double in,
                 double in_step)
{
  static const double inches[] = { BW_MM_PER_INCH_ROUND / 10, BW_MM_PER_INCH / 10 };
  guint fit = 0;

  for (guint i = 0; i < G_N_ELEMENTS (inches); i++)
    if (fabs (cm - in * inches[i]) <= cm_step / 2 + in_step / 2 * inches[i] + 1e-9)
      fit |= 1u << i;

  return fit;
}

/* Goes over all figures said in both units; `house` = which inch the text uses,
 * 0 in the first round, which counts. */
static void
compare_units (BwPatternAudit *audit,
               guint           house,
               guint          *only)
{
  const BwPattern *pattern = audit->pattern;

  for (guint i = 0; i < pattern->front.measures->len; i++)
    {
      const BwPatternMeasure *measure = &g_array_index (pattern->front.measures, BwPatternMeasure,
                                                        i);
      guint n = measure->metric.n;

      for (guint j = 0; j < n && n == measure->imperial.n; j++)
        {
          const BwValue *cm = &g_array_index (pattern->front.values, BwValue,
                                              measure->metric.first + j);
          const BwValue *in = &g_array_index (pattern->front.values, BwValue,
                                              measure->imperial.first + j);
          double scale = measure->metric.unit == BW_UNIT_MM ? 10 : 1;
          BwPatternFinding *finding;
          guint fit;

          if (isnan (cm->low) || isnan (in->low))
            continue;
          fit = inches_that_fit (cm->low / scale, cm->step / scale, in->low, in->step) &
                inches_that_fit (cm->high / scale, cm->step / scale, in->high, in->step);
          if (house == 0)
            {
              only[0] += fit == 1;
              only[1] += fit == 2;
              continue;
            }
          if (fit != 0 && ((fit & house) != 0 || house == 3))
            continue;
          finding = bw_audit_add (audit, fit == 0 ? BW_FINDING_UNITS_DIFFER
                                                  : BW_FINDING_OTHER_INCH,
                                  BW_SEVERITY_WARNING, figure_slice (audit, in));
          if (n > 1)
            finding->sizes = (guint32) 1 << j;
          finding->a = cm->low / scale;
          finding->b = in->low;
          finding->c = fit == 1 ? 2.5 : fit == 2 ? 2.54
                       : in->low * (house == 1 ? BW_MM_PER_INCH_ROUND : BW_MM_PER_INCH) / 10;
        }
    }
}

static gboolean
on_ruler (double figure,
          double parts)
{
  return fabs (figure * parts - round (figure * parts)) < 1e-6;
}

/* Inches to the eighth, centimetres to the millimetre (common practice). */
static void
check_ruler (BwPatternAudit   *audit,
             const BwQuantity *quantity)
{
  if (quantity->unit != BW_UNIT_INCH && quantity->unit != BW_UNIT_CM)
    return;
  for (guint i = 0; i < quantity->n; i++)
    {
      const BwValue *value = &g_array_index (audit->pattern->front.values, BwValue,
                                             quantity->first + i);
      gboolean inch = quantity->unit == BW_UNIT_INCH;
      BwPatternFinding *finding;

      if (isnan (value->low) || on_ruler (value->low, inch ? 8 : 10))
        continue;
      finding = bw_audit_add (audit, BW_FINDING_NOT_ON_RULER, BW_SEVERITY_NOTE,
                              figure_slice (audit, value));
      finding->a = value->low;
      finding->b = inch;
      return; /* the others of the list are mended with it */
    }
}

/* --- Milestones --- */

/* "The brim measures 46 (50) cm" in the work, against the list of sizes; a girth
 * may be said as the width of the hat laid flat. */
static void
check_milestone (BwPatternAudit         *audit,
                 const BwPatternMeasure *measure,
                 guint                   size)
{
  guint8 unit;
  const BwValue *value = value_of (audit, measure, size, &unit);
  BwPatternFinding *finding;
  double mm, step, here, doubt;
  BwSlice where;

  if (value == NULL ||
      !bw_audit_measure (audit, (BwMeasureKind) measure->kind, size, &mm, &step, &where))
    return;
  here = mm_of (unit, (value->low + value->high) / 2);
  doubt = mm_of (unit, value->step) / 2 + step / 2 + 0.01;
  if (unit == BW_UNIT_INCH)
    doubt += here * (BW_MM_PER_INCH - BW_MM_PER_INCH_ROUND) / BW_MM_PER_INCH;
  if (fabs (here - mm) <= doubt || fabs (here * 2 - mm) <= doubt * 2)
    return;
  finding = bw_audit_add (audit, BW_FINDING_FIGURES_DIFFER, BW_SEVERITY_ERROR,
                          figure_slice (audit, value));
  finding->sizes = (guint32) 1 << size;
  finding->a = here;
  finding->b = mm;
  finding->other = where;
}

/* Looks at all measurements, when the rounds have been walked. */
void
bw_audit_measures (BwPatternAudit *audit)
{
  const BwPattern *pattern = audit->pattern;
  guint only[2] = { 0, 0 };

  for (guint k = 0; k < pattern->n_sizes; k++)
    {
      check_girth (audit, k);
      check_brim (audit, k);
    }
  for (int kind = BW_MEASURE_HEAD; kind <= BW_MEASURE_BRIM_DEPTH; kind++)
    check_order (audit, (BwMeasureKind) kind);
  check_stitches (audit);

  compare_units (audit, 0, only);
  compare_units (audit, only[0] == only[1] ? 3 : only[0] > only[1] ? 1 : 2, only);
  for (guint i = 0; i < pattern->front.measures->len; i++)
    {
      const BwPatternMeasure *measure = &g_array_index (pattern->front.measures, BwPatternMeasure,
                                                        i);

      check_ruler (audit, &measure->metric);
      check_ruler (audit, &measure->imperial);
      if (is_milestone (audit, measure) &&
          (measure->kind == BW_MEASURE_GIRTH || measure->kind == BW_MEASURE_BRIM_GIRTH) &&
          (measure->metric.n == pattern->n_sizes || measure->imperial.n == pattern->n_sizes))
        for (guint k = 0; k < pattern->n_sizes; k++)
          check_milestone (audit, measure, k);
    }
}
