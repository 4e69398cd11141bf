#define G_LOG_DOMAIN "bw-core"

#include "bw-pattern-audit-private.h"

#include <math.h>

#include "bw-units.h"

/* What a pattern tells before its rounds: is anything missing? Gauge, hooks. */

/* Is the text a whole pattern, not a part of one? Of a part nothing is missing. */
gboolean
bw_audit_is_whole (const BwPatternAudit *audit)
{
  static const BwPatternPiece pieces[] = { BW_PIECE_SIZES, BW_PIECE_FINISHED_SIZE,
                                           BW_PIECE_MATERIALS, BW_PIECE_GAUGE,
                                           BW_PIECE_ABBREVIATIONS, BW_PIECE_NOTES };
  guint n = 0;

  for (guint i = 0; i < G_N_ELEMENTS (pieces); i++)
    n += audit->pattern->front.pieces[pieces[i]].length > 0;
  return n >= 3;
}

static gboolean
has_piece (const BwPatternAudit *audit,
           BwPatternPiece        piece)
{
  return audit->pattern->front.pieces[piece].length > 0;
}

/* Is there a heading with the word? */
static gboolean
has_heading (const BwPatternAudit *audit,
             const char           *word)
{
  const GArray *sections = audit->pattern->sections;

  for (guint i = 0; i < sections->len; i++)
    if (bw_audit_says (audit, g_array_index (sections, BwPatternSection, i).heading, word))
      return TRUE;

  return FALSE;
}

static void
tell_piece (BwPatternAudit *audit,
            BwPatternPiece  piece)
{
  bw_audit_add (audit, BW_FINDING_PIECE_MISSING, BW_SEVERITY_ERROR, (BwSlice) { 0, 0 })->a = piece;
}

static void
check_pieces (BwPatternAudit *audit)
{
  static const BwPatternPiece pieces[] = { BW_PIECE_TITLE, BW_PIECE_FINISHED_SIZE,
                                           BW_PIECE_MATERIALS, BW_PIECE_ABBREVIATIONS,
                                           BW_PIECE_NOTES, BW_PIECE_FINISHING };

  for (guint i = 0; i < G_N_ELEMENTS (pieces); i++)
    if (!has_piece (audit, pieces[i]))
      tell_piece (audit, pieces[i]);
  if (!has_piece (audit, BW_PIECE_SIZES) && !has_piece (audit, BW_PIECE_FINISHED_SIZE))
    tell_piece (audit, BW_PIECE_SIZES);
  if (!has_piece (audit, BW_PIECE_REVISION) && !has_piece (audit, BW_PIECE_DATE) &&
      !has_heading (audit, "revision") && !has_heading (audit, "version"))
    tell_piece (audit, BW_PIECE_REVISION);
  if (!has_piece (audit, BW_PIECE_COPYRIGHT) && !has_piece (audit, BW_PIECE_CONTACT))
    tell_piece (audit, BW_PIECE_COPYRIGHT);
}

/* --- Gauge --- */

/* Over how much it is counted, in cm; inches as the gauge of 4 in has them. */
static double
span_cm (const BwPatternAudit *audit,
         const BwQuantity     *span)
{
  const BwValue *value = bw_pattern_value (audit->pattern, span, 0);

  if (value == NULL || isnan (value->low))
    return 0;
  if (span->unit == BW_UNIT_INCH)
    return value->low * BW_MM_PER_INCH_ROUND / 10;
  return span->unit == BW_UNIT_MM ? value->low / 10 : value->low;
}

static gboolean
names_hook (const BwPatternAudit *audit)
{
  const GArray *tools = audit->pattern->front.tools;

  for (guint i = 0; i < tools->len; i++)
    {
      const BwPatternTool *tool = &g_array_index (tools, BwPatternTool, i);

      if (tool->part == BW_PART_MATERIALS || tool->part == BW_PART_GAUGE)
        return TRUE;
    }

  return FALSE;
}

static void
tell_lack (BwPatternAudit       *audit,
           const BwPatternGauge *gauge,
           BwGaugeLack           lack)
{
  BwSlice where = bw_audit_slice (gauge->offset, bw_audit_end_of_line (audit, gauge->offset));

  bw_audit_add (audit, BW_FINDING_GAUGE_INCOMPLETE,
                lack == BW_LACK_WASHED ? BW_SEVERITY_WARNING : BW_SEVERITY_ERROR, where)->a = lack;
}

static gboolean
any_washed (const BwPatternAudit *audit)
{
  const GArray *gauges = audit->pattern->front.gauges;

  for (guint i = 0; i < gauges->len; i++)
    {
      const BwPatternGauge *gauge = &g_array_index (gauges, BwPatternGauge, i);
      BwSlice line = bw_audit_slice (gauge->offset, bw_audit_end_of_line (audit, gauge->offset));

      if (gauge->washed != BW_SAID_NOTHING || bw_audit_says (audit, line, "as worked") ||
          bw_audit_says (audit, line, "unwashed"))
        return TRUE;
    }

  return FALSE;
}

static void
check_gauges (BwPatternAudit *audit)
{
  const GArray *gauges = audit->pattern->front.gauges;
  const BwPatternGauge *first = NULL;
  gboolean rounds = FALSE;

  for (guint i = 0; i < gauges->len; i++)
    {
      const BwPatternGauge *gauge = &g_array_index (gauges, BwPatternGauge, i);

      if (gauge->twin > 0)
        continue;
      if (gauge->stitches.n > 0 && first == NULL)
        first = gauge;
      rounds |= gauge->rounds.n > 0 && (gauge->stitches.n > 0 || gauge->rounds.unit == BW_UNIT_ROUND);
      if (MAX (span_cm (audit, &gauge->span), span_cm (audit, &gauge->rounds_span)) < 9.9)
        tell_lack (audit, gauge, BW_LACK_SPAN);
    }
  if (first == NULL)
    {
      bw_audit_add (audit, BW_FINDING_GAUGE_MISSING, BW_SEVERITY_ERROR,
                    audit->pattern->front.pieces[BW_PIECE_GAUGE]);
      return;
    }
  if (!rounds)
    tell_lack (audit, first, BW_LACK_ROUNDS);
  if (first->fabric.length == 0 && first->stitch == BW_STITCH_NONE)
    tell_lack (audit, first, BW_LACK_FABRIC);
  if (first->hook.n == 0 && !names_hook (audit))
    tell_lack (audit, first, BW_LACK_HOOK);
  if (!any_washed (audit))
    tell_lack (audit, first, BW_LACK_WASHED);
}

/* --- Hooks --- */

static double
size_of_tool (const BwPatternAudit *audit,
              const BwPatternTool  *tool)
{
  const BwValue *value = bw_pattern_value (audit->pattern, &tool->mm, 0);

  return value != NULL && !isnan (value->low) ? value->low : 0;
}

/* Does one of the hooks in other parts, or in the materials, have that size? */
static gboolean
has_tool (const BwPatternAudit *audit,
          double                mm,
          gboolean              materials)
{
  const BwPattern *pattern = audit->pattern;

  for (guint i = 0; i < pattern->front.tools->len; i++)
    {
      const BwPatternTool *tool = &g_array_index (pattern->front.tools, BwPatternTool, i);

      if ((tool->part == BW_PART_MATERIALS) == materials &&
          fabs (size_of_tool (audit, tool) - mm) < 0.01)
        return TRUE;
    }
  for (guint i = 0; i < pattern->front.gauges->len && !materials; i++)
    {
      const BwPatternGauge *gauge = &g_array_index (pattern->front.gauges, BwPatternGauge, i);
      const BwValue *value = bw_pattern_value (pattern, &gauge->hook, 0);

      if (value != NULL && fabs (value->low - mm) < 0.01)
        return TRUE;
    }

  return FALSE;
}

/* "6 mm for the brim" says where it is used. */
static gboolean
says_purpose (const BwPatternAudit *audit,
              const BwPatternTool  *tool)
{
  BwSlice line = bw_audit_slice (tool->offset, bw_audit_end_of_line (audit, tool->offset));
  const char *stop = memchr (audit->pattern->text + line.offset, ';', line.length);

  if (stop != NULL)
    line.length = (guint32) (stop - (audit->pattern->text + line.offset));
  return bw_audit_says (audit, line, "for ") || bw_audit_says (audit, line, "brim") ||
         bw_audit_says (audit, line, "body");
}

/* The one hook of a pattern need not be named again; of two it must be said
 * which is for what. */
static void
check_tools (BwPatternAudit *audit)
{
  const GArray *tools = audit->pattern->front.tools;
  guint listed = 0;

  for (guint i = 0; i < tools->len; i++)
    {
      const BwPatternTool *tool = &g_array_index (tools, BwPatternTool, i);

      listed += tool->part == BW_PART_MATERIALS && size_of_tool (audit, tool) > 0;
    }
  for (guint i = 0; i < tools->len && listed > 0; i++)
    {
      const BwPatternTool *tool = &g_array_index (tools, BwPatternTool, i);
      double mm = size_of_tool (audit, tool);
      BwSlice where = { tool->offset, tool->mm.length };

      if (mm <= 0)
        continue;
      if (tool->part == BW_PART_MATERIALS && listed > 1 && !has_tool (audit, mm, FALSE) &&
          !says_purpose (audit, tool))
        bw_audit_add (audit, BW_FINDING_TOOL_NOT_USED, BW_SEVERITY_ERROR, where)->a = mm;
      else if (tool->part != BW_PART_MATERIALS && !has_tool (audit, mm, TRUE))
        bw_audit_add (audit, BW_FINDING_TOOL_NOT_LISTED, BW_SEVERITY_ERROR, where)->a = mm;
    }
  for (guint i = 0; i < audit->pattern->front.gauges->len && listed > 0; i++)
    {
      const BwQuantity *hook = &g_array_index (audit->pattern->front.gauges, BwPatternGauge, i).hook;
      const BwValue *value = bw_pattern_value (audit->pattern, hook, 0);
      BwSlice where = { hook->offset, hook->length };

      if (value != NULL && !isnan (value->low) && !has_tool (audit, value->low, TRUE))
        bw_audit_add (audit, BW_FINDING_TOOL_NOT_LISTED, BW_SEVERITY_ERROR, where)->a = value->low;
    }
}

/* Looks at what stands before the rounds, and behind them. */
void
bw_audit_front (BwPatternAudit *audit)
{
  if (bw_audit_is_whole (audit))
    {
      check_pieces (audit);
      check_gauges (audit);
    }
  check_tools (audit);
}
