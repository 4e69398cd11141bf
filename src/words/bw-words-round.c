#define G_LOG_DOMAIN "bw-words"

#include "bw-words-private.h"

#include <math.h>

static const BwRound *
round_at (const BwRoundList *list,
          guint              index)
{
  return &g_array_index (list->rounds, BwRound, index);
}

/* The foundation has no number of its own: it is what row or round 1 stands on. */
static gboolean
is_foundation (const BwRound *round)
{
  return round->number == 0 && round->section == BW_SECTION_BRIM;
}

static const char *
slip_stitch (const BwGrading *grading)
{
  const BwStitchDictionary *stitches = grading->reference->stitches;

  return bw_stitch_abbreviation (stitches, bw_stitch_find (stitches, "slip"),
                                 grading->design->terms);
}

/**
 * bw_words_round_label:
 * @list: the rounds of a size
 * @first: index of a round
 * @n: how many rounds of the same work start there
 *
 * Returns: (transfer full): "Rnd 7", "Rnds 24–31", "Rows 2–118"; empty for what has
 *   no number: foundation, join and close
 */
char *
bw_words_round_label (const BwRoundList *list,
                      guint              first,
                      guint              n)
{
  const BwRound *a = round_at (list, first);
  const BwRound *z = round_at (list, first + n - 1);

  if (a->number == 0)
    return g_strdup ("");
  if (n == 1)
    return a->row ? g_strdup_printf (_("Row %u"), a->number)
                  : g_strdup_printf (_("Rnd %u"), a->number);
  return a->row ? g_strdup_printf (_("Rows %u–%u"), a->number, z->number)
                : g_strdup_printf (_("Rnds %u–%u"), a->number, z->number);
}

static char *
foundation_words (const BwGrading *grading,
                  const BwRound   *round)
{
  if (round->row)
    return g_strdup_printf (_("Ch %u."), round->stitches_out);
  if (grading->design->spiral)
    return g_strdup_printf (_("Ch %u; without twisting it, go on into the first ch."),
                            round->stitches_out);
  /* Translators: the second %s is the abbreviation of slip stitch */
  return g_strdup_printf (_("Ch %u; without twisting it, join with %s to the first ch."),
                          round->stitches_out, slip_stitch (grading));
}

static char *
join_words (const BwGrading *grading,
            const BwRound   *round)
{
  return g_strdup_printf (g_dngettext (GETTEXT_PACKAGE,
                                       "Bring the foundation chain behind the last row and join "
                                       "the two with %u %s through both.",
                                       "Bring the foundation chain behind the last row and join "
                                       "the two with %u %s through both.",
                                       round->stitches_out),
                          round->stitches_out, slip_stitch (grading));
}

/**
 * bw_words_tail:
 * @design: a design
 *
 * Returns: (transfer full): the length of a yarn's end. It is cut by eye: to the
 *   half inch is as near as it is worth saying.
 */
char *
bw_words_tail (const BwDesign *design)
{
  double step = design->units == BW_UNITS_INCH ? design->mm_per_inch / 2 : 1;

  return bw_words_length (design, round (design->finishing.tail_mm / step) * step);
}

static char *
close_words (const BwGrading *grading,
             const BwRound   *round)
{
  g_autofree char *tail = bw_words_tail (grading->design);

  return g_strdup_printf (g_dngettext (GETTEXT_PACKAGE,
                                       "Cut the yarn, leaving %s; thread it through the last %u "
                                       "stitch, draw up tight and fasten off inside.",
                                       "Cut the yarn, leaving %s; thread it through the %u "
                                       "stitches left, draw up tight and fasten off inside.",
                                       round->stitches_in),
                          tail, round->stitches_in);
}

/**
 * bw_words_round_work:
 * @grading: a grading
 * @size: one of its sizes
 * @index: index of a round
 *
 * Returns: (transfer full): what is done in the round, in house style and the
 *   design's terms, without label and count
 */
char *
bw_words_round_work (const BwGrading    *grading,
                     const BwGradedSize *size,
                     guint               index)
{
  const BwRound *round = round_at (size->rounds, index);
  GString *work;

  if (is_foundation (round))
    return foundation_words (grading, round);
  if (round->section == BW_SECTION_JOIN)
    return join_words (grading, round);
  if (round->section == BW_SECTION_CLOSE)
    return close_words (grading, round);

  work = g_string_new (NULL);
  bw_round_print (grading->reference->stitches, size->rounds, round, grading->design->terms, work);
  return g_string_free (work, FALSE);
}

/**
 * bw_words_round_count:
 * @list: the rounds of a size
 * @index: index of a round
 *
 * Returns: (transfer full): "(54 sts)"; empty where a count says nothing
 */
char *
bw_words_round_count (const BwRoundList *list,
                      guint              index)
{
  const BwRound *round = round_at (list, index);

  if (is_foundation (round) || round->section == BW_SECTION_JOIN ||
      round->section == BW_SECTION_CLOSE)
    return g_strdup ("");
  return g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "(%u st)", "(%u sts)",
                                       round->stitches_out),
                          round->stitches_out);
}

static gboolean
works_yarn (const BwRound *round)
{
  return round->section != BW_SECTION_CLOSE;
}

/**
 * bw_words_round_yarn:
 * @grading: a grading
 * @list: the rounds of a size
 * @index: index of a round; of folded rounds, the last
 *
 * Says what to do with the yarn in hand and the next one where the colour
 * changes after the round.
 *
 * Returns: (transfer full): "change to B (take it up again); carry A up"; empty
 *   where the colour goes on
 */
char *
bw_words_round_yarn (const BwGrading   *grading,
                     const BwRoundList *list,
                     guint              index)
{
  const BwRound *round = round_at (list, index);
  const BwRound *next = index + 1 < list->rounds->len ? round_at (list, index + 1) : NULL;
  g_autofree char *tail = NULL;
  char old = (char) ('A' + round->colour);
  char new;

  if (round->after == BW_YARN_WORKING || next == NULL || !works_yarn (next))
    return g_strdup ("");

  tail = bw_words_tail (grading->design);
  new = (char) ('A' + next->colour);
  if (round->after == BW_YARN_CARRIED)
    return next->joins_in ? g_strdup_printf (_("carry %c up; join %c"), old, new)
                          : g_strdup_printf (_("carry %c up; take up %c"), old, new);
  return next->joins_in ? g_strdup_printf (_("cut %c, leaving %s; join %c"), old, tail, new)
                        : g_strdup_printf (_("cut %c, leaving %s; take up %c"), old, tail, new);
}

/**
 * bw_words_round_part:
 * @grading: a grading
 * @list: the rounds of a size
 * @index: index of a round
 *
 * Returns: (transfer full) (nullable): the heading that stands above the round, or
 *   NULL when it belongs under the one before
 */
char *
bw_words_round_part (const BwGrading   *grading,
                     const BwRoundList *list,
                     guint              index)
{
  const BwRound *round = round_at (list, index);
  const BwRound *before = index > 0 ? round_at (list, index - 1) : NULL;

  if (before != NULL && before->section == round->section &&
      (round->section != BW_SECTION_BAND || before->band == round->band))
    return NULL;
  return bw_words_part (grading, round->section, round->band);
}

/**
 * bw_words_way_of_working:
 * @grading: a grading
 *
 * Returns: (transfer full): how rounds begin and end, said once for the whole hat
 */
char *
bw_words_way_of_working (const BwGrading *grading)
{
  const char *slip = slip_stitch (grading);

  if (grading->design->spiral)
    return g_strdup (_("Rounds are worked in a spiral, without joining: mark the first stitch."));
  if (grading->design->chain_counts)
    return g_strdup_printf (_("Rounds are joined with %s to the top of the beginning chain, which "
                              "counts as the first stitch."),
                            slip);
  return g_strdup_printf (_("Rounds are joined with %s to the first stitch; the beginning chain "
                            "does not count as a stitch."),
                          slip);
}
