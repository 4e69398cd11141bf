#include <string.h>

#include "bw-error.h"
#include "bw-pattern-audit.h"
#include "bw-reference-builtin.h"
#include "fuzz.h"

/* Any bytes are a written pattern or one error. Of what is read every place lies
 * within the text, the rounds of each size can be worked out, and the audit ends. */

static const BwReference *
reference (void)
{
  static BwReference *builtin;

  if (builtin == NULL)
    builtin = bw_reference_builtin (NULL);
  g_assert (builtin != NULL);

  return builtin;
}

static void
check_slice (const BwPattern *pattern,
             BwSlice          slice)
{
  g_assert (slice.length == 0 || slice.offset + (gsize) slice.length <= pattern->length);
}

static void
check_quantity (const BwPattern  *pattern,
                const BwQuantity *quantity)
{
  g_assert (quantity->first + (gsize) quantity->n <= pattern->front.values->len);
  check_slice (pattern, (BwSlice) { quantity->offset, quantity->length });
}

static void
check_front (const BwPattern *pattern)
{
  const BwPatternFront *front = &pattern->front;

  for (guint i = 0; i < BW_PIECE_N; i++)
    check_slice (pattern, front->pieces[i]);
  for (guint i = 0; i < front->measures->len; i++)
    {
      check_quantity (pattern, &g_array_index (front->measures, BwPatternMeasure, i).metric);
      check_quantity (pattern, &g_array_index (front->measures, BwPatternMeasure, i).imperial);
      check_slice (pattern, g_array_index (front->measures, BwPatternMeasure, i).label);
    }
  for (guint i = 0; i < front->gauges->len; i++)
    {
      check_quantity (pattern, &g_array_index (front->gauges, BwPatternGauge, i).span);
      check_slice (pattern, g_array_index (front->gauges, BwPatternGauge, i).fabric);
    }
  for (guint i = 0; i < front->yarns->len; i++)
    {
      check_slice (pattern, g_array_index (front->yarns, BwPatternYarn, i).letter);
      check_slice (pattern, g_array_index (front->yarns, BwPatternYarn, i).name);
      bw_pattern_yarn_named (pattern, g_array_index (front->yarns, BwPatternYarn, i).name);
    }
  for (guint i = 0; i < front->tools->len; i++)
    check_slice (pattern, g_array_index (front->tools, BwPatternTool, i).name);
  for (guint i = 0; i < front->abbreviations->len; i++)
    {
      BwSlice term = g_array_index (front->abbreviations, BwPatternAbbreviation, i).term;

      check_slice (pattern, term);
      bw_pattern_lists (pattern, pattern->text + term.offset, term.length);
    }
}

static void
check_lines (const BwPattern *pattern)
{
  guint line, column;

  for (guint i = 0; i < pattern->lines->len; i++)
    {
      const BwPatternLine *l = &g_array_index (pattern->lines, BwPatternLine, i);

      g_assert (l->offset <= pattern->length);
      g_assert (l->first_item + (gsize) l->n_items <= pattern->items->len);
      check_slice (pattern, l->facts.colour);
      check_slice (pattern, l->facts.next_colour);
    }
  for (guint i = 0; i < pattern->errors->len; i++)
    {
      const BwPatternError *error = &g_array_index (pattern->errors, BwPatternError, i);

      g_assert (error->offset <= pattern->length && error->wanted != NULL);
      bw_pattern_place (pattern, error->offset, &line, &column);
      g_assert (line >= 1 && column >= 1);
    }
}

static void
check_audit (const BwPattern *pattern)
{
  g_autoptr (GArray) findings = bw_pattern_audit (pattern);

  for (guint i = 0; i < findings->len; i++)
    {
      const BwPatternFinding *finding = &g_array_index (findings, BwPatternFinding, i);

      check_slice (pattern, (BwSlice) { finding->offset, finding->length });
      check_slice (pattern, finding->word);
      check_slice (pattern, finding->other);
    }
}

int
LLVMFuzzerTestOneInput (const guint8 *data,
                        gsize         size)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (BwPattern) pattern = NULL;
  int terms = size > 0 && data[size - 1] == '!' ? BW_TERMS_UNSAID
              : size > 0 && data[size - 1] == '~' ? BW_TERMS_US : BW_TERMS_UK;

  pattern = bw_pattern_read (reference ()->stitches, (const char *) data, (gssize) size, terms,
                             &error);
  if (pattern == NULL)
    {
      g_assert (error != NULL && error->domain == BW_ERROR);
      g_assert (g_utf8_validate (error->message, -1, NULL));
      return 0;
    }

  g_assert (error == NULL);
  g_assert (pattern->n_sizes >= 1 && pattern->n_sizes <= BW_PATTERN_SIZES_MAX);
  check_lines (pattern);
  check_front (pattern);
  for (guint k = 0; k < MIN (pattern->n_sizes, 3); k++)
    {
      g_autoptr (BwPatternRounds) rounds = bw_pattern_evaluate (pattern, k);

      g_assert (rounds->lines->len == rounds->list->rounds->len);
      g_assert (rounds->lines->len <= BW_PATTERN_ROUNDS_MAX);
    }
  check_audit (pattern);
  return 0;
}
