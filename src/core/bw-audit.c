#define G_LOG_DOMAIN "bw-core"

#include "bw-audit.h"

#include "bw-anchor.h"

/* Indexed by BwFindingKind. Printed, so they never change. */
static const char *const codes[BW_FINDING_N] = {
  [BW_FINDING_ROUND_DOES_NOT_FIT] = "B01",
  [BW_FINDING_COUNT_DIFFERS] = "B02",
  [BW_FINDING_REPEAT_DOES_NOT_END] = "B03",
  [BW_FINDING_NOT_A_MULTIPLE] = "B05",
  [BW_FINDING_SIZES_ALIKE] = "B08",
  [BW_FINDING_PATTERN_UNFINISHED] = "B11",
  [BW_FINDING_COLOUR_NOT_JOINED] = "B28",
  [BW_FINDING_STRIPE_UNFINISHED] = "B29",
  [BW_FINDING_NO_POST] = "B31",
  [BW_FINDING_POST_COVERED] = "B31",
  [BW_FINDING_CROWN_NOT_WEDGES] = "B34",
  [BW_FINDING_CLOSE_TOO_MANY] = "B34",
  [BW_FINDING_PICK_UP] = "B35",
  [BW_FINDING_BRIM_ODD] = "B36",
  [BW_FINDING_STRETCH] = "B44",
  [BW_FINDING_WORN_DEPTH] = "B44",
  [BW_FINDING_STEP_WITHIN_GAUGE] = "G01",
  [BW_FINDING_FLATNESS] = "G02",
  [BW_FINDING_TOO_MANY_DECREASES] = "G03",
  [BW_FINDING_BRIM_TOO_SMALL] = "G04",
  [BW_FINDING_DEPTH] = "G05",
  [BW_FINDING_GIRTH_OUT_OF_LIMIT] = "G06",
  [BW_FINDING_STEP_IMPOSSIBLE] = "G07",
  [BW_FINDING_NO_WEDGES] = "G08",
  [BW_FINDING_DEPTH_TOO_SHORT] = "G09",
  [BW_FINDING_GAUGE_ONE_READING] = "G10",
  [BW_FINDING_GAUGE_ESTIMATED] = "G11",
  [BW_FINDING_YARN_ESTIMATED] = "G12",
  [BW_FINDING_BAND_ADJUSTED] = "G13",
  [BW_FINDING_PIN_IMPOSSIBLE] = "G14",
  [BW_FINDING_UNREADABLE] = "T01",
  [BW_FINDING_NOT_COUNTABLE] = "T02",
  [BW_FINDING_TO_LAST] = "B03",
  [BW_FINDING_TIMES] = "B04",
  [BW_FINDING_LIST_LENGTH] = "B06",
  [BW_FINDING_LIST_PLACE] = "B06",
  [BW_FINDING_SIZES_OUT_OF_ORDER] = "B07",
  [BW_FINDING_SIZES_NEAR] = "B08",
  [BW_FINDING_NUMBER_GAP] = "B09",
  [BW_FINDING_NUMBER_AGAIN] = "B09",
  [BW_FINDING_NUMBER_OF_SIZE] = "B10",
  [BW_FINDING_REPEAT_UNFINISHED] = "B11",
  [BW_FINDING_REPEAT_TIMES] = "B11",
  [BW_FINDING_NO_SUCH_ROUND] = "B11",
  [BW_FINDING_SIDE] = "B12",
  [BW_FINDING_NOT_LISTED] = "B13",
  [BW_FINDING_NOT_USED] = "B14",
  [BW_FINDING_TWO_SPELLINGS] = "B15",
  [BW_FINDING_OTHER_TERMS] = "B16",
  [BW_FINDING_TERMS_UNSAID] = "B17",
  [BW_FINDING_CHAIN_UNSAID] = "B18",
  [BW_FINDING_CHAIN_BOTH_WAYS] = "B18",
  [BW_FINDING_JOIN_UNSAID] = "B19",
  [BW_FINDING_JOIN_PLACE] = "B19",
  [BW_FINDING_JOIN_COUNTED] = "B20",
  [BW_FINDING_GAUGE_MISSING] = "B21",
  [BW_FINDING_GAUGE_INCOMPLETE] = "B21",
  [BW_FINDING_GAUGE_AND_SIZE] = "B22",
  [BW_FINDING_GAUGE_AND_DEPTH] = "B22",
  [BW_FINDING_FIGURES_DIFFER] = "B23",
  [BW_FINDING_UNITS_DIFFER] = "B24",
  [BW_FINDING_OTHER_INCH] = "B24",
  [BW_FINDING_NOT_ON_RULER] = "B25",
  [BW_FINDING_YARN_MISSING] = "B26",
  [BW_FINDING_YARN_FALLS] = "B26",
  [BW_FINDING_YARN_OFF] = "B26",
  [BW_FINDING_YARN_BALLS] = "B26",
  [BW_FINDING_BALL_LENGTHS] = "B27",
  [BW_FINDING_BALL_MASSES] = "B27",
  [BW_FINDING_BALL_THICKNESS] = "B27",
  [BW_FINDING_COLOUR_UNKNOWN] = "B28",
  [BW_FINDING_COLOUR_NOT_USED] = "B28",
  [BW_FINDING_COLOUR_CHANGE] = "B28",
  [BW_FINDING_STRIPE_RHYTHM] = "B29",
  [BW_FINDING_TOOL_NOT_USED] = "B30",
  [BW_FINDING_TOOL_NOT_LISTED] = "B30",
  [BW_FINDING_POST_COLUMNS] = "B32",
  [BW_FINDING_UNEVEN] = "B33",
  [BW_FINDING_ROW_ENDS] = "B35",
  [BW_FINDING_ROW_ENDS_CROWDED] = "B35",
  [BW_FINDING_ROW_ENDS_SKIPPED] = "B35",
  [BW_FINDING_TWO_MEANINGS] = "B37",
  [BW_FINDING_GLUED] = "B37",
  [BW_FINDING_BRACKETS] = "B38",
  [BW_FINDING_STALE] = "B39",
  [BW_FINDING_PIECE_MISSING] = "B40",
  [BW_FINDING_CHART_ONLY] = "B41",
  [BW_FINDING_CAUTION_SMALL_PARTS] = "S01",
  [BW_FINDING_CAUTION_CORDS] = "S02",
  [BW_FINDING_CAUTION_SLEEP] = "S03",
};

typedef struct
{
  const BwStitchDictionary *dictionary;
  const BwRoundList        *list;
  guint                     wedges;
  int                       size;
  GArray                   *findings;
} Audit;

static void
add (Audit         *audit,
     BwFindingKind  kind,
     BwSeverity     severity,
     guint          index,
     double         a,
     double         b)
{
  const BwRound *round = &g_array_index (audit->list->rounds, BwRound, index);
  guint band = round->section == BW_SECTION_BAND ? round->band + 1u : 0;
  BwFinding finding = { kind, severity, audit->size, -1, (int) index, round->section, a, b, 0,
                        band };

  g_array_append_val (audit->findings, finding);
}

/* What the round below offers: row ends for a pick-up, else its stitches. */
static guint
offered (const Audit *audit,
         guint        index)
{
  const BwRound *rounds = (const BwRound *) (void *) audit->list->rounds->data;

  if (index == 0)
    return 0;
  if (rounds[index].section == BW_SECTION_PICK_UP && rounds[index - 1].section == BW_SECTION_JOIN)
    return index >= 2 ? rounds[index - 2].number : 0;
  return rounds[index - 1].stitches_out;
}

static void
check_counts (Audit *audit,
              guint  index)
{
  const BwRound *round = &g_array_index (audit->list->rounds, BwRound, index);
  guint below = offered (audit, index);
  guint64 takes = 0;
  guint64 makes = 0;

  if (!bw_items_measure (audit->dictionary, bw_round_items (audit->list, round), round->n_items,
                         &takes, &makes))
    takes = makes = G_MAXUINT;
  if (round->section == BW_SECTION_CLOSE)
    takes = below;

  if (takes != below || round->stitches_in != below)
    add (audit, BW_FINDING_ROUND_DOES_NOT_FIT, BW_SEVERITY_ERROR, index, (double) takes, below);
  if (makes != round->stitches_out)
    add (audit, BW_FINDING_COUNT_DIFFERS, BW_SEVERITY_ERROR, index, (double) makes,
         round->stitches_out);
}

static void
check_crown (Audit *audit,
             guint  index)
{
  const BwRound *round = &g_array_index (audit->list->rounds, BwRound, index);

  if (round->section == BW_SECTION_CLOSE && round->stitches_in > BW_CLOSE_MOST)
    add (audit, BW_FINDING_CLOSE_TOO_MANY, BW_SEVERITY_WARNING, index, round->stitches_in,
         BW_CLOSE_MOST);
  if (round->section != BW_SECTION_CROWN)
    return;

  if (audit->wedges > 0 &&
      (round->stitches_in % audit->wedges != 0 || round->stitches_out % audit->wedges != 0))
    add (audit, BW_FINDING_CROWN_NOT_WEDGES, BW_SEVERITY_ERROR, index, round->stitches_out,
         audit->wedges);
  if (round->stitches_out * 2 < round->stitches_in)
    add (audit, BW_FINDING_TOO_MANY_DECREASES, BW_SEVERITY_ERROR, index,
         round->stitches_in - round->stitches_out, round->stitches_in);
}

/* A colour that is worked was there already, carried or going on, or is joined. */
static void
check_colours (Audit *audit)
{
  const BwRound *rounds = (const BwRound *) (void *) audit->list->rounds->data;
  guint n = audit->list->rounds->len;
  gboolean live[BW_STRIPE_COLOURS_MAX] = { FALSE };

  for (guint i = 0; i < n && rounds[i].section != BW_SECTION_CLOSE; i++)
    {
      guint c = rounds[i].colour;

      if (c >= BW_STRIPE_COLOURS_MAX || live[c] == rounds[i].joins_in)
        add (audit, BW_FINDING_COLOUR_NOT_JOINED, BW_SEVERITY_ERROR, i, c, 0);
      if (c < BW_STRIPE_COLOURS_MAX)
        live[c] = rounds[i].after != BW_YARN_CUT;
    }

  for (guint c = 0; c < BW_STRIPE_COLOURS_MAX; c++)
    if (live[c] && n > 0)
      add (audit, BW_FINDING_COLOUR_NOT_JOINED, BW_SEVERITY_ERROR, n - 1, c, 1);
}

/* Post stitches stand on a stem of the right column that nobody else uses.
 * Rows of a sideways brim lie across the hat, so only rounds are looked at. */
static void
check_posts (Audit *audit)
{
  const BwRound *rounds = (const BwRound *) (void *) audit->list->rounds->data;
  guint n = audit->list->rounds->len;
  g_autofree BwAnchorRound *stack = g_new (BwAnchorRound, n);
  guint first = 0;
  guint n_stack = 0;
  BwAnchorFault fault;

  while (first < n && (rounds[first].row || rounds[first].number == 0))
    first++;
  for (guint i = first; i < n && rounds[i].section != BW_SECTION_CLOSE; i++)
    stack[n_stack++] = (BwAnchorRound) { bw_round_items (audit->list, &rounds[i]),
                                         rounds[i].n_items };

  if (!bw_anchor_check (audit->dictionary, stack, n_stack, &fault))
    add (audit, fault.covered ? BW_FINDING_POST_COVERED : BW_FINDING_NO_POST, BW_SEVERITY_ERROR,
         first + fault.round, fault.position + 1, 0);
}

/**
 * bw_finding_code:
 * @kind: a kind of finding
 *
 * Returns: (transfer none): the identifier that people see: "B01"
 */
const char *
bw_finding_code (BwFindingKind kind)
{
  g_return_val_if_fail (kind > 0 && kind < BW_FINDING_N, "");

  return codes[kind];
}

/**
 * bw_audit_rounds:
 * @dictionary: the stitches that the rounds are made of
 * @list: the rounds of one size, from the foundation to the close
 * @wedges: wedge count that crown counts must divide by; 0 = none
 * @size: index of the size, for the findings
 * @findings: (element-type BwFinding): findings are added here
 *
 * Checks that every round takes exactly what the round below offers and makes
 * what it says, that post stitches have a stem to stand on, that no round
 * decreases by more than half, and that colours start and end.
 *
 * Returns: how many findings of severity error were added
 */
guint
bw_audit_rounds (const BwStitchDictionary *dictionary,
                 const BwRoundList        *list,
                 guint                     wedges,
                 int                       size,
                 GArray                   *findings)
{
  Audit audit = { dictionary, list, wedges, size, findings };
  guint before = findings->len;
  guint errors = 0;

  for (guint i = 0; i < list->rounds->len; i++)
    {
      check_counts (&audit, i);
      check_crown (&audit, i);
    }
  check_colours (&audit);
  check_posts (&audit);

  for (guint i = before; i < findings->len; i++)
    errors += g_array_index (findings, BwFinding, i).severity >= BW_SEVERITY_ERROR;
  return errors;
}
