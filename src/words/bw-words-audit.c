#define G_LOG_DOMAIN "bw-words"

#include "bw-words-private.h"

#include "bw-units.h"
#include "bw-words-audit.h"

/* What cannot change with the figures; NULL = said elsewhere. */
typedef struct
{
  BwFindingKind kind;
  const char   *why;
  const char   *mend;
} Advice;

static const Advice advice[] = {
  { BW_FINDING_UNREADABLE,
    N_("What cannot be read cannot be checked; people may stumble over it too."),
    N_("Write it as the other rounds are written, or check the round by hand.") },
  { BW_FINDING_NOT_COUNTABLE,
    N_("Nobody can tell from it how many stitches the round makes."),
    N_("Say of all repeats but one how often they are worked.") },
  { BW_FINDING_ROUND_DOES_NOT_FIT, NULL,
    N_("Count the round again: either it or the count of the round below is wrong.") },
  { BW_FINDING_COUNT_DIFFERS, NULL,
    N_("Correct the stated count, if the round is worked as it should be.") },
  { BW_FINDING_REPEAT_DOES_NOT_END, NULL,
    N_("Take a count that the repeat divides, or write out what is worked after the last "
       "repeat.") },
  { BW_FINDING_TO_LAST,
    N_("The last stitches of the round are too few or too many for what is worked into them."),
    N_("Stop as many stitches before the end as what follows takes.") },
  { BW_FINDING_TIMES,
    N_("Whoever counts the repeats does not come out at the end of the round."),
    N_("Correct how often the repeat is worked.") },
  { BW_FINDING_LIST_LENGTH,
    N_("Nobody can tell which number is for which size."),
    N_("Give one number for all sizes, or one for each, with a dash for a size that has none.") },
  { BW_FINDING_LIST_PLACE,
    N_("The numbers seem to have slipped from size to size."),
    N_("Give a number to each size that works the line, and a dash to the others.") },
  { BW_FINDING_NUMBER_GAP,
    N_("A round is missing, or the makers look for one that is not there."),
    N_("Put in what is missing, or number the rounds on from the one before.") },
  { BW_FINDING_NUMBER_AGAIN,
    N_("Two rounds with one number are taken for one, or a round is worked twice."),
    N_("Take out what is there twice, or number the rounds on from the one before.") },
  { BW_FINDING_NUMBER_OF_SIZE,
    N_("The sizes have not worked the same number of rounds so far."),
    N_("Give the label a number for each size, or begin to count anew with the section.") },
  { BW_FINDING_ROW_ENDS,
    N_("The stitches of the round do not come out at the end of the edge."),
    N_("Count the rows of the piece, and how many row ends each repeat takes.") },
  { BW_FINDING_TWO_MEANINGS,
    N_("The round adds up only when a number before a stitch means so many in one stitch; others "
       "read one in each of so many."),
    N_("Write 2 sts in next st for an increase, with the stitch's name.") },
  { BW_FINDING_JOIN_COUNTED,
    N_("A joining slip stitch is no stitch of the round."),
    N_("Leave the join out of the counts, from this round on.") },
  { BW_FINDING_SIZES_OUT_OF_ORDER,
    N_("A larger size that is smaller is a slip of the pen, or two sizes have changed places."),
    N_("Put the numbers in the order of the sizes, the smallest first.") },
  { BW_FINDING_SIZES_NEAR,
    N_("Tension alone makes a larger difference, so the two sizes can't be told apart."),
    N_("Move the two sizes apart, or make one of them.") },
  { BW_FINDING_SIZES_ALIKE, NULL,
    N_("Make them one size, or correct the counts of one of them.") },
  { BW_FINDING_REPEAT_UNFINISHED,
    N_("The makers do not know with which round of the repeat the part ends."),
    N_("Give as many rounds as whole repeats have, or say which round is the last.") },
  { BW_FINDING_REPEAT_TIMES,
    N_("The label and the number of repeats can't both be right."),
    N_("Correct one of the two.") },
  { BW_FINDING_NO_SUCH_ROUND,
    N_("There is nothing to repeat."),
    N_("Name rounds that were worked before this one.") },
  { BW_FINDING_SIDE,
    N_("Whoever goes by the side works the round inside out."),
    N_("Name the other side, or keep the rounds of this part all even, or all odd.") },
  { BW_FINDING_NOT_LISTED,
    N_("A maker who does not know it looks for it among the abbreviations."),
    N_("Add it to the abbreviations.") },
  { BW_FINDING_NOT_USED,
    N_("The makers look in vain for what it belongs to."),
    N_("Take it out of the abbreviations.") },
  { BW_FINDING_TWO_SPELLINGS,
    N_("Two words for one thing are taken for two things."),
    N_("Use one of them throughout.") },
  { BW_FINDING_OTHER_TERMS,
    N_("The same abbreviation is another stitch in the other terms: a mixture can't be worked."),
    N_("Use the words of one of the two throughout.") },
  { BW_FINDING_TERMS_UNSAID,
    N_("The same abbreviation is another stitch in UK and in US terms."),
    N_("Say on the first page which they are.") },
  { BW_FINDING_CHAIN_UNSAID,
    N_("Half of the makers count it, the other half don't."),
    N_("Say once for all rounds whether the beginning chain counts as a stitch.") },
  { BW_FINDING_CHAIN_BOTH_WAYS,
    N_("Makers keep to what they read first."),
    N_("Let the beginning chain count as a stitch always, or never.") },
  { BW_FINDING_JOIN_UNSAID,
    N_("The rounds beside it are joined; nobody can tell whether this one is."),
    N_("Say how the round is joined, and where.") },
  { BW_FINDING_JOIN_PLACE,
    N_("Joined to the beginning chain or to the first stitch: it makes a stitch more or less."),
    N_("Say where the round is joined: to the first stitch, or to the top of the chain.") },
  { BW_FINDING_GAUGE_MISSING,
    N_("Without it nobody gets the size."),
    N_("Give stitches and rounds over 10 cm (4 in), the stitch pattern, the hook, and whether the "
       "swatch was washed.") },
  { BW_FINDING_GAUGE_INCOMPLETE,
    N_("Two people read it in two ways, and get two sizes."),
    N_("Add what is missing.") },
  { BW_FINDING_GAUGE_AND_SIZE,
    N_("Whoever gets the gauge does not get the size."),
    N_("Correct the gauge, the counts or the size.") },
  { BW_FINDING_GAUGE_AND_DEPTH,
    N_("Whoever gets the gauge does not get the size."),
    N_("Correct the gauge, the rows or the measure.") },
  { BW_FINDING_FIGURES_DIFFER,
    N_("One of the two is out of date."),
    N_("Give the same figure in both places.") },
  { BW_FINDING_UNITS_DIFFER,
    N_("Makers who go by inches make another size."),
    N_("Correct one of the two figures.") },
  { BW_FINDING_OTHER_INCH,
    N_("The other figures of the pattern count the inch otherwise."),
    N_("Convert all of them in one way.") },
  { BW_FINDING_NOT_ON_RULER,
    N_("Nobody can measure it."),
    N_("Round it to an eighth of an inch, or to a millimetre.") },
  { BW_FINDING_YARN_MISSING,
    N_("Nobody knows how much to buy."),
    N_("Give metres for every size and colour.") },
  { BW_FINDING_YARN_FALLS,
    N_("A larger size needs more yarn."),
    N_("Weigh the sample again, or put the amounts in order.") },
  { BW_FINDING_YARN_OFF,
    N_("Yarn follows girth times depth from size to size, within a few per cent."),
    N_("Scale the amount from a size that was made and weighed.") },
  { BW_FINDING_YARN_BALLS,
    N_("Makers run out of yarn, or buy balls that they don't need."),
    N_("Divide the metres by what a ball holds, and round up.") },
  { BW_FINDING_BALL_LENGTHS,
    N_("Makers elsewhere buy too little or too much."),
    N_("Correct one of the two: a yard is 0.9144 m.") },
  { BW_FINDING_BALL_MASSES,
    N_("Makers elsewhere buy too little or too much."),
    N_("Correct one of the two: an ounce is 28.35 g.") },
  { BW_FINDING_BALL_THICKNESS,
    N_("Either the thickness or the length is a slip of the pen."),
    N_("Look at the ball band again.") },
  { BW_FINDING_COLOUR_UNKNOWN,
    N_("Nobody has a yarn of that name."),
    N_("Add the colour to the materials, or correct its name.") },
  { BW_FINDING_COLOUR_NOT_USED,
    N_("Makers buy a yarn that they don't need, or a change of colour is missing."),
    N_("Take it out of the materials, or say where it is used.") },
  { BW_FINDING_COLOUR_CHANGE,
    N_("One of the two is wrong."),
    N_("Name the same colour in both places.") },
  { BW_FINDING_STRIPE_RHYTHM,
    N_("One stripe is higher or lower than its fellows."),
    N_("Give it as many rounds as the others have, if it is not meant so.") },
  { BW_FINDING_TOOL_NOT_USED,
    N_("Nobody can tell what the hook is for."),
    N_("Say where it is used, or take it out.") },
  { BW_FINDING_TOOL_NOT_LISTED,
    N_("It is missing when it is needed."),
    N_("Add it to the materials.") },
  { BW_FINDING_POST_COLUMNS,
    N_("The ribs of the rounds below and above are interrupted."),
    N_("Work front posts over front posts and back posts over back posts.") },
  { BW_FINDING_UNEVEN,
    N_("Shaping that is not spread evenly shows as a dent."),
    N_("Spread it so that no two gaps differ by more than one stitch.") },
  { BW_FINDING_ROW_ENDS_CROWDED,
    N_("More than two stitches in one row end make a ruffle."),
    N_("Spread them over more row ends.") },
  { BW_FINDING_ROW_ENDS_SKIPPED,
    N_("Three row ends missed in a row leave a gap."),
    N_("Spread the stitches over the edge.") },
  { BW_FINDING_GLUED,
    N_("It can be read as so many in one stitch, or as one in each of so many."),
    N_("Write a space between, and say for an increase: 2 in next st.") },
  { BW_FINDING_BRACKETS,
    N_("Repeats and the numbers of other sizes can't be told apart."),
    N_("Give repeats square brackets, and sizes round ones.") },
  { BW_FINDING_STALE,
    N_("It seems to be left over from another pattern."),
    N_("Use the names of the list of sizes.") },
  { BW_FINDING_PIECE_MISSING,
    N_("Makers look for it in every pattern."),
    N_("Add it.") },
  { BW_FINDING_CHART_ONLY,
    N_("Who can't read charts, or doesn't see them, can't work these rounds."),
    N_("Write the rounds out as well.") },
  { BW_FINDING_NO_POST, NULL,
    N_("Work a plain round below, or work into the top of the stitch.") },
  { BW_FINDING_POST_COVERED, NULL,
    N_("Let the post stitches stand in another column, or one round later.") },
  { BW_FINDING_CLOSE_TOO_MANY, NULL, N_("Add a decrease round.") },
  { BW_FINDING_BRIM_ODD, NULL, N_("Take an even number of rows.") },
};

static const Advice *
find_advice (BwFindingKind kind)
{
  for (guint i = 0; i < G_N_ELEMENTS (advice); i++)
    if (advice[i].kind == kind)
      return &advice[i];

  return NULL;
}

/* --- Where --- */

/**
 * bw_words_audit_sizes:
 * @pattern: a pattern
 * @sizes: a bit for each size
 *
 * Returns: (transfer full): their names, or their places in the list where the text
 *   names none; empty for a pattern of one size
 */
char *
bw_words_audit_sizes (const BwPattern *pattern,
                      guint32          sizes)
{
  GString *out = g_string_new (NULL);

  for (guint k = 0; k < pattern->n_sizes && pattern->n_sizes > 1; k++)
    {
      if ((sizes >> k & 1) == 0)
        continue;
      if (out->len > 0)
        g_string_append (out, ", ");
      if (k < pattern->size_names->len)
        g_string_append (out, g_ptr_array_index (pattern->size_names, k));
      else
        g_string_append_printf (out, _("size %u of %u"), k + 1, pattern->n_sizes);
    }

  return g_string_free (out, FALSE);
}

/**
 * bw_words_audit_round:
 * @finding: a finding
 *
 * Returns: (transfer full): "Rnd 7", "Row 7"; empty when it is about no round
 */
char *
bw_words_audit_round (const BwPatternFinding *finding)
{
  if (finding->round == 0)
    return g_strdup ("");
  return g_strdup_printf (finding->row ? _("Row %u") : _("Rnd %u"), finding->round);
}

static char *
where_words (const BwPattern        *pattern,
             const BwPatternFinding *finding)
{
  g_autofree char *sizes = bw_words_audit_sizes (pattern, finding->sizes);
  g_autofree char *round = bw_words_audit_round (finding);

  if (*sizes != '\0' && *round != '\0')
    return g_strdup_printf ("%s: %s", sizes, round);
  return g_strdup (*sizes != '\0' ? sizes : round);
}

/* --- What --- */

/* The text at fault, on one line and not too long. */
static char *
quote (const BwPattern *pattern,
       BwSlice          where)
{
  GString *out = g_string_new (NULL);
  const char *at = pattern->text + where.offset;
  const char *end = at + where.length;

  for (guint n = 0; at < end && n < 40; at = g_utf8_next_char (at), n++)
    {
      gunichar c = g_utf8_get_char (at);

      g_string_append_unichar (out, g_unichar_iscntrl (c) || g_unichar_isspace (c) ? ' ' : c);
    }
  if (at < end)
    g_string_append (out, "…");
  return g_string_free (out, FALSE);
}

static char *
label_words (const BwPatternFinding *finding)
{
  guint a = (guint) finding->a;
  guint b = (guint) finding->b;

  switch (finding->kind)
    {
    case BW_FINDING_LIST_LENGTH:
      if (finding->c > 0)
        return g_strdup_printf (_("%u numbers stand here; the pattern has %u sizes, the line is for "
                                  "%u."),
                                a, b, (guint) finding->c);
      return g_strdup_printf (_("%u numbers stand here; the pattern has %u sizes."), a, b);
    case BW_FINDING_LIST_PLACE:
      return g_strdup (a > 0 ? _("The size works the line, but has no count.")
                             : _("The size does not work the line, but has a count."));
    case BW_FINDING_NUMBER_GAP:
      return g_strdup_printf (finding->row ? _("Row %u follows where row %u should be.")
                                           : _("Round %u follows where round %u should be."),
                              a, b);
    case BW_FINDING_NUMBER_AGAIN:
      return g_strdup_printf (finding->row ? _("Row %u follows after row %u.")
                                           : _("Round %u follows after round %u."),
                              a, b);
    case BW_FINDING_NUMBER_OF_SIZE:
      return g_strdup_printf (finding->row ? _("Row %u is for all sizes, but here it would be row "
                                               "%u.")
                                           : _("Round %u is for all sizes, but here it would be "
                                               "round %u."),
                              a, b);
    default:
      return NULL;
    }
}

static char *
round_words (const BwPattern        *pattern,
             const BwPatternFinding *finding)
{
  guint a = (guint) finding->a;
  guint b = (guint) finding->b;
  BwSlice where = { finding->offset, finding->length };
  g_autofree char *text = NULL;

  switch (finding->kind)
    {
    case BW_FINDING_UNREADABLE:
      text = quote (pattern, where);
      if (*text == '\0')
        return g_strdup (_("The line ends before it is complete."));
      return g_strdup_printf (_("This cannot be read here: “%s”."), text);
    case BW_FINDING_NOT_COUNTABLE:
      return g_strdup (a > 0 ? _("More than one repeat is to be worked as often as there is room.")
                             : _("The counts go beyond anything that can be made."));
    case BW_FINDING_TO_LAST:
      return g_strdup_printf (_("It stops %u stitches before the end, but what follows takes %u."),
                              a, b);
    case BW_FINDING_TIMES:
      return g_strdup_printf (_("The repeat is worked %u times; there is room for %u."), a, b);
    case BW_FINDING_ROW_ENDS:
      return g_strdup_printf (_("The round takes %u row ends, the piece has %u."), a, b);
    case BW_FINDING_TWO_MEANINGS:
      return g_strdup (_("A number before a stitch is used for an increase."));
    case BW_FINDING_JOIN_COUNTED:
      return g_strdup_printf (_("The stated counts of %u rounds grow by one each more than the rounds "
                                "make."),
                              a);
    default:
      return NULL;
    }
}

/* What is told with the words of the text. */
static char *
word_words (const BwPattern        *pattern,
            const BwPatternFinding *finding)
{
  g_autofree char *word = quote (pattern, finding->word);
  g_autofree char *other = quote (pattern, finding->other);

  switch (finding->kind)
    {
    case BW_FINDING_NOT_LISTED:
      return g_strdup_printf (_("“%s” is not among the abbreviations."), word);
    case BW_FINDING_NOT_USED:
      return g_strdup_printf (_("“%s” is among the abbreviations, but not in the rounds."), word);
    case BW_FINDING_TWO_SPELLINGS:
      return g_strdup_printf (_("“%s” is written “%s” elsewhere."), word, other);
    case BW_FINDING_OTHER_TERMS:
      return g_strdup_printf (pattern->terms == BW_TERMS_UK
                                ? _("“%s” belongs to US terms; the pattern is in UK terms.")
                                : _("“%s” belongs to UK terms; the pattern is in US terms."),
                              word);
    case BW_FINDING_TERMS_UNSAID:
      return g_strdup (_("It is not said whether the terms are UK or US."));
    case BW_FINDING_COLOUR_UNKNOWN:
      return g_strdup_printf (_("Colour %s is not among the materials."), word);
    case BW_FINDING_COLOUR_NOT_USED:
      return g_strdup_printf (_("Colour %s is among the materials, but never worked with."), word);
    case BW_FINDING_COLOUR_CHANGE:
      return g_strdup_printf (_("The round before changes to %s; this one is worked with %s."), other,
                              word);
    case BW_FINDING_GLUED:
      return g_strdup_printf (_("“%s” is written as one word."), word);
    case BW_FINDING_STALE:
      return g_strdup_printf (_("The pattern has no size “%s”."), word);
    case BW_FINDING_YARN_MISSING:
      if (*word == '\0')
        return g_strdup (_("The materials say of no yarn how much is needed."));
      return g_strdup_printf (_("It is not said how much of %s is needed."), word);
    default:
      return NULL;
    }
}

/* --- Measures --- */

static char *
number (double value)
{
  return bw_units_format_number (value, 1);
}

static char *
measure_words (const BwPatternFinding *finding)
{
  g_autofree char *a = number (finding->a);
  g_autofree char *b = number (finding->b);
  g_autofree char *c = number (finding->c);
  g_autofree char *a_cm = number (finding->a / 10);
  g_autofree char *b_cm = number (finding->b / 10);
  g_autofree char *c_cm = number (finding->c / 10);
  g_autofree char *inch = bw_units_format_number (finding->c, 2);

  switch (finding->kind)
    {
    case BW_FINDING_SIZES_OUT_OF_ORDER:
      return g_strdup_printf (_("%s follows after %s in the size before it."), a, b);
    case BW_FINDING_SIZES_NEAR:
      return g_strdup_printf (_("It is only %s cm larger than the size before it."), a_cm);
    case BW_FINDING_GAUGE_AND_SIZE:
      return g_strdup_printf (_("%s cm are stated; at the gauge no round comes to that, the nearest is "
                                "%u stitches, %s cm."),
                              c_cm, (guint) finding->a, b_cm);
    case BW_FINDING_GAUGE_AND_DEPTH:
      return g_strdup_printf (_("%s cm are stated; at the gauge the rows are %s cm."), b_cm, a_cm);
    case BW_FINDING_FIGURES_DIFFER:
      return g_strdup_printf (_("It is %s cm here, and %s cm in the list of sizes."), a_cm, b_cm);
    case BW_FINDING_UNITS_DIFFER:
      return g_strdup_printf (_("%s cm and %s in are not the same: %s in are %s cm."), a, b, b, c);
    case BW_FINDING_OTHER_INCH:
      return g_strdup_printf (_("%s cm and %s in: here %s cm seem to be an inch."), a, b, inch);
    case BW_FINDING_NOT_ON_RULER:
      return g_strdup_printf (finding->b > 0 ? _("%s in are not on any ruler.")
                                             : _("%s cm are not on any ruler."),
                              a);
    case BW_FINDING_YARN_FALLS:
      return g_strdup_printf (_("%s m of yarn follow after %s m in the size before it."), a, b);
    case BW_FINDING_YARN_OFF:
      return g_strdup_printf (_("%s m of yarn are stated; going by the other sizes it should be about "
                                "%s m."),
                              a, b);
    case BW_FINDING_YARN_BALLS:
      return g_strdup_printf (_("%s balls are stated; %s m need %s."), a, c, b);
    case BW_FINDING_BALL_LENGTHS:
      return g_strdup_printf (_("%s m and %s yd are not the same."), a, b);
    case BW_FINDING_BALL_MASSES:
      return g_strdup_printf (_("%s g and %s oz are not the same."), a, b);
    case BW_FINDING_BALL_THICKNESS:
      return g_strdup_printf (_("%s m to 100 g; yarns of this thickness have %s to %s m."), a, b, c);
    default:
      return NULL;
    }
}

static const char *
piece_name (BwPatternPiece piece)
{
  switch (piece)
    {
    case BW_PIECE_TITLE: return _("a title");
    case BW_PIECE_SIZES: return _("the sizes");
    case BW_PIECE_FINISHED_SIZE: return _("the finished measurements");
    case BW_PIECE_MATERIALS: return _("the materials");
    case BW_PIECE_ABBREVIATIONS: return _("the abbreviations");
    case BW_PIECE_NOTES: return _("notes on how it is worked");
    case BW_PIECE_FINISHING: return _("the finishing");
    case BW_PIECE_REVISION: return _("a version or a date");
    case BW_PIECE_COPYRIGHT: return _("a copyright line or a contact");
    case BW_PIECE_TERMS: case BW_PIECE_SKILL: case BW_PIECE_GAUGE: case BW_PIECE_INSTRUCTIONS:
    case BW_PIECE_CARE: case BW_PIECE_DATE: case BW_PIECE_CONTACT: case BW_PIECE_N:
    default:
      return "";
    }
}

static const char *
lack_name (BwGaugeLack lack)
{
  switch (lack)
    {
    case BW_LACK_ROUNDS: return _("how many rounds or rows");
    case BW_LACK_SPAN: return _("a span of 10 cm (4 in) or more");
    case BW_LACK_FABRIC: return _("the stitch pattern");
    case BW_LACK_HOOK: return _("the hook");
    case BW_LACK_WASHED: return _("whether the swatch was washed");
    case BW_LACK_N:
    default:
      return "";
    }
}

static char *
front_words (const BwPatternFinding *finding)
{
  g_autofree char *mm = bw_units_format_number (finding->a, 2);

  switch (finding->kind)
    {
    case BW_FINDING_GAUGE_MISSING:
      return g_strdup (_("There is no gauge in stitches."));
    case BW_FINDING_GAUGE_INCOMPLETE:
      return g_strdup_printf (_("The gauge leaves out: %s."), lack_name ((BwGaugeLack) finding->a));
    case BW_FINDING_PIECE_MISSING:
      return g_strdup_printf (_("The pattern leaves out: %s."),
                              piece_name ((BwPatternPiece) finding->a));
    case BW_FINDING_TOOL_NOT_USED:
      return g_strdup_printf (_("The %s mm hook is among the materials, but is not used."), mm);
    case BW_FINDING_TOOL_NOT_LISTED:
      return g_strdup_printf (_("The %s mm hook is not among the materials."), mm);
    default:
      return NULL;
    }
}

/* --- The way of working --- */

static char *
way_words (const BwPatternFinding *finding)
{
  guint a = (guint) finding->a;
  guint b = (guint) finding->b;
  guint c = (guint) finding->c;

  switch (finding->kind)
    {
    case BW_FINDING_REPEAT_UNFINISHED:
      return g_strdup_printf (_("%u rounds are no whole repeats of %u."), a, b);
    case BW_FINDING_REPEAT_TIMES:
      return g_strdup_printf (_("%u rounds %u times are %u, but the label has %u."), b, c, b * c, a);
    case BW_FINDING_NO_SUCH_ROUND:
      if (a == b)
        return g_strdup_printf (_("Round %u was not worked before."), a);
      return g_strdup_printf (_("Rounds %u to %u were not worked before."), a, b);
    case BW_FINDING_SIDE:
      return g_strdup (a == 1 ? _("The right side is named, but the wrong side comes.")
                              : _("The wrong side is named, but the right side comes."));
    case BW_FINDING_CHAIN_UNSAID:
      return g_strdup_printf (_("It is not said whether a beginning chain of %u counts as a stitch."),
                              a);
    case BW_FINDING_CHAIN_BOTH_WAYS:
      return g_strdup_printf (_("A beginning chain of %u counts as a stitch in one place, but not in "
                                "another."),
                              a);
    case BW_FINDING_JOIN_UNSAID:
      return g_strdup (_("It is not said that the round is joined."));
    case BW_FINDING_JOIN_PLACE:
      return g_strdup (_("It is not said where the round is joined."));
    case BW_FINDING_STRIPE_RHYTHM:
      return g_strdup_printf (_("The stripe has %u rounds, the others of its colour have %u."), a, b);
    case BW_FINDING_POST_COLUMNS:
      return g_strdup (_("Front and back posts have changed places in this round alone."));
    case BW_FINDING_UNEVEN:
      return g_strdup_printf (_("Between the shapings of the round are %u to %u stitches."), a, b);
    case BW_FINDING_ROW_ENDS_CROWDED:
      return g_strdup_printf (_("%u stitches go into one row end."), a);
    case BW_FINDING_ROW_ENDS_SKIPPED:
      return g_strdup_printf (_("%u row ends are missed in a row."), a);
    case BW_FINDING_BRACKETS:
      return g_strdup (_("Round brackets stand for a repeat and for other sizes in one line."));
    case BW_FINDING_CHART_ONLY:
      return g_strdup (_("The rounds are told by a chart only."));
    default:
      return NULL;
    }
}

static char *
what_words (const BwPattern        *pattern,
            const BwPatternFinding *finding)
{
  BwFinding plain = { .kind = finding->kind, .severity = finding->severity, .size = -1, .other = -1,
                      .round = -1, .part = -1, .a = finding->a, .b = finding->b, .c = finding->c };
  char *what = round_words (pattern, finding);

  if (what == NULL)
    what = label_words (finding);
  if (what == NULL)
    what = word_words (pattern, finding);
  if (what == NULL)
    what = measure_words (finding);
  if (what == NULL)
    what = front_words (finding);
  if (what == NULL)
    what = way_words (finding);
  if (what == NULL && finding->kind == BW_FINDING_SIZES_ALIKE)
    what = g_strdup_printf (_("The two sizes have the same counts throughout, up to %u stitches."),
                            (guint) finding->a);
  if (what == NULL)
    what = bw_words_finding_counts (&plain);
  return what != NULL ? what : g_strdup ("");
}

/* --- How to mend it --- */

static char *
mend_words (const BwPatternFinding *finding)
{
  const Advice *advised = find_advice (finding->kind);
  const char *general = advised != NULL && advised->mend != NULL ? _(advised->mend) : "";

  switch (finding->kind)
    {
    case BW_FINDING_REPEAT_DOES_NOT_END:
      if (finding->low > 0)
        return g_strdup_printf (_("It would end with %u or with %u stitches. %s"), finding->low,
                                finding->high, general);
      if (finding->high > 0)
        return g_strdup_printf (_("It would end with %u stitches. %s"), finding->high, general);
      break;
    case BW_FINDING_ROUND_DOES_NOT_FIT:
      if (finding->low > 0)
        return g_strdup_printf (_("It adds up with %u in place of %u."), finding->low,
                                (guint) finding->c);
      break;
    case BW_FINDING_TO_LAST:
      if (finding->low > 0)
        return g_strdup_printf (_("It adds up when it stops %u before the end."), finding->low);
      break;
    default:
      break;
    }

  return g_strdup (general);
}

/**
 * bw_words_audit_finding:
 * @pattern: the pattern it was found in
 * @finding: one of its findings
 *
 * Returns: (transfer full): the finding in words; free with bw_words_finding_free()
 */
BwWordsFinding *
bw_words_audit_finding (const BwPattern        *pattern,
                        const BwPatternFinding *finding)
{
  BwWordsFinding *words = g_new0 (BwWordsFinding, 1);
  const Advice *advised = find_advice (finding->kind);
  const char *why = advised != NULL && advised->why != NULL ? _(advised->why)
                                                            : bw_words_finding_why (finding->kind);

  words->code = bw_finding_code (finding->kind);
  words->severity = finding->severity;
  words->where = where_words (pattern, finding);
  words->what = what_words (pattern, finding);
  words->why = g_strdup (why != NULL ? why : "");
  words->mend = mend_words (finding);
  return words;
}
