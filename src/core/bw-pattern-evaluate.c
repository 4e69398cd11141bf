#define G_LOG_DOMAIN "bw-core"

#include "bw-pattern-private.h"

/* A written pattern as rounds, for one size. */

static BwSection
section_of (const BwPattern     *pattern,
            const BwPatternLine *line)
{
  switch ((BwPatternLineKind) line->kind)
    {
    case BW_LINE_FOUNDATION: return BW_SECTION_BRIM;
    case BW_LINE_JOIN: return BW_SECTION_JOIN;
    case BW_LINE_CLOSE: return BW_SECTION_CLOSE;
    case BW_LINE_ROUND:
    case BW_LINE_UNREADABLE:
    default:
      if (line->row)
        return BW_SECTION_BRIM;
      return bw_pattern_takes_row_ends (pattern, line) ? BW_SECTION_PICK_UP : BW_SECTION_BAND;
    }
}

/* The colour of that name, which is added when it is new. */
static guint8
colour_named (const BwPattern *pattern,
              GArray          *colours,
              BwSlice          name)
{
  for (guint i = 1; i < colours->len; i++)
    {
      const BwSlice *colour = &g_array_index (colours, BwSlice, i);

      if (colour->length == name.length &&
          g_ascii_strncasecmp (pattern->text + colour->offset, pattern->text + name.offset,
                               name.length) == 0)
        return (guint8) i;
    }

  if (colours->len > G_MAXUINT8)
    return 0;
  g_array_append_val (colours, name);
  return (guint8) (colours->len - 1);
}

static void
append (const BwPattern     *pattern,
        const BwPatternWalk *walk,
        const BwPatternStep *step,
        guint                nth,
        guint8               colour,
        BwPatternRounds     *rounds)
{
  const BwPatternLine *line = &g_array_index (pattern->lines, BwPatternLine, step->line);
  BwRound *round = bw_round_list_append (rounds->list, section_of (pattern, line),
                                         (const BwItem *) (void *) walk->items->data,
                                         walk->items->len);
  guint32 index = step->line;

  round->row = line->row;
  round->colour = colour;
  round->number = step->number > 0 ? step->number + nth : 0;
  round->stitches_in = step->available != BW_COUNT_UNKNOWN ? step->available : 0;
  round->stitches_out = step->fit.makes != BW_COUNT_UNKNOWN ? step->fit.makes : 0;
  g_array_append_val (rounds->lines, index);
}

/**
 * bw_pattern_evaluate:
 * @pattern: a pattern
 * @size: index of one of its sizes
 *
 * Takes one size out of the pattern and works its rounds out: repeats bound,
 * earlier rounds written out, stitches counted. Foundations, joins of flat
 * pieces and closings are rounds with number 0. A round that cannot be read or
 * whose count cannot be known has 0 stitches. A colour holds until another is named. At most BW_PATTERN_ROUNDS_MAX
 * rounds are made, and none any more when they have BW_PATTERN_ITEMS_MAX items.
 *
 * Returns: (transfer full): the rounds
 */
BwPatternRounds *
bw_pattern_evaluate (const BwPattern *pattern,
                     guint            size)
{
  BwPatternRounds *rounds = g_new0 (BwPatternRounds, 1);
  BwPatternWalk walk;
  BwPatternStep step;
  guint8 colour = 0;

  rounds->list = bw_round_list_new ();
  rounds->lines = g_array_new (FALSE, FALSE, sizeof (guint32));
  rounds->colours = g_array_new (FALSE, TRUE, sizeof (BwSlice));
  g_array_set_size (rounds->colours, 1);
  bw_pattern_walk_init (&walk, pattern, size, bw_pattern_best_reading (pattern, size));
  while (bw_pattern_walk_next (&walk, &step))
    {
      const BwPatternLine *line = &g_array_index (pattern->lines, BwPatternLine, step.line);

      if (line->facts.colour.length == 0 && line->facts.next_colour.length == 0 &&
          step.work != NULL)
        line = step.work; /* an earlier round again, in the colours that it had */

      if (line->facts.colour.length > 0)
        colour = colour_named (pattern, rounds->colours, line->facts.colour);
      for (guint i = 0; i < step.run && rounds->lines->len < BW_PATTERN_ROUNDS_MAX &&
                        rounds->list->items->len < BW_PATTERN_ITEMS_MAX; i++)
        append (pattern, &walk, &step, i, colour, rounds);
      if (line->facts.next_colour.length > 0)
        colour = colour_named (pattern, rounds->colours, line->facts.next_colour);
    }
  bw_pattern_walk_clear (&walk);
  return rounds;
}

/**
 * bw_pattern_rounds_free:
 * @rounds: (nullable): rounds of a pattern
 */
void
bw_pattern_rounds_free (BwPatternRounds *rounds)
{
  if (rounds == NULL)
    return;

  bw_round_list_free (rounds->list);
  g_array_unref (rounds->lines);
  g_array_unref (rounds->colours);
  g_free (rounds);
}
