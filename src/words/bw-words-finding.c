#define G_LOG_DOMAIN "bw-words"

#include "bw-words-private.h"

#include <math.h>

/* What cannot change with the figures: why a finding matters and how to mend
 * it. Marked here, translated when a finding is worded. */
typedef struct
{
  const char *why;
  const char *mend;
} Advice;

#define BROKEN_ROUNDS N_("Whoever works the round finds stitches over, or too few.")
#define REPORT_IT N_("Rounds made here never fail this check: please report the design that did.")

static const Advice advice[BW_FINDING_DESIGN_N] = {
  [BW_FINDING_ROUND_DOES_NOT_FIT] = { BROKEN_ROUNDS, REPORT_IT },
  [BW_FINDING_COUNT_DIFFERS] = { BROKEN_ROUNDS, REPORT_IT },
  [BW_FINDING_REPEAT_DOES_NOT_END] = {
    N_("The last repeat breaks off, and the stitch pattern does not meet at the join."),
    N_("Take a count that the repeat divides, or write out what is worked after the last "
       "repeat.") },
  [BW_FINDING_NOT_A_MULTIPLE] = {
    N_("The stitch pattern does not come out even at the join."), NULL },
  [BW_FINDING_SIZES_ALIKE] = {
    N_("Two sizes that are the same hat are one size with two names."),
    N_("Let the crown's multiple off the body, allow other wedge counts, choose a stitch pattern "
       "with a smaller multiple, or move the two head girths apart.") },
  [BW_FINDING_STEP_WITHIN_GAUGE] = {
    N_("With a gauge no surer than this, nobody can tell the two sizes apart."),
    N_("Measure a larger swatch, or the same one in more places.") },
  [BW_FINDING_NO_POST] = {
    N_("A post stitch needs a stem to go round; a chain or a slip stitch has none."),
    N_("Work a plain round before the band, or choose another stitch pattern.") },
  [BW_FINDING_POST_COVERED] = {
    N_("A stem that has a post stitch round it already has no room for a second."),
    N_("Let the post stitches stand in another column, or one round later.") },
  [BW_FINDING_COLOUR_NOT_JOINED] = {
    N_("The round is to be worked in a yarn that is not there."), REPORT_IT },
  [BW_FINDING_CROWN_NOT_WEDGES] = {
    N_("The decreases do not stand above each other, and the wedges come out unequal."),
    N_("Give the crown counts that the number of wedges divides.") },
  [BW_FINDING_CLOSE_TOO_MANY] = {
    N_("So many stitches leave a hole, or pucker, when they are drawn up."),
    N_("Add a decrease round, or close at fewer stitches (close-at in the crown's group).") },
  [BW_FINDING_FLATNESS] = {
    N_("The fabric has more girth than a flat disc has room for, so the crown ripples."),
    N_("Take fewer wedges, a longer profile (round or tapered), or a crown stitch that is "
       "not as tall.") },
  [BW_FINDING_TOO_MANY_DECREASES] = {
    N_("Every stitch of the round would have to be part of a decrease, and some of two."),
    N_("Spread the decreases over two rounds.") },
  [BW_FINDING_PICK_UP] = {
    N_("No more than two stitches go into one row end, and three row ends skipped in a row gape."),
    N_("Bring brim and body closer together: change the ease of one of them, or the hook of the "
       "brim.") },
  [BW_FINDING_BRIM_TOO_SMALL] = {
    N_("The hat cannot be pulled on."),
    N_("Give the brim less negative ease, or a larger limit; or measure its stretch on a "
       "looser swatch.") },
  [BW_FINDING_BRIM_ODD] = {
    N_("Two rows make one ridge: an odd row leaves half a ridge, and the join shows."),
    N_("Take an even number of rows.") },
  [BW_FINDING_STRETCH] = {
    N_("The fabric would be stretched further than its swatch says it likes to be."),
    N_("Give less negative ease to this part, or measure the stretch of its swatch.") },
  [BW_FINDING_DEPTH] = {
    N_("The hat sits too high or hangs too low."),
    N_("Change the brim's height or the bands, or let one band fill up the depth.") },
  [BW_FINDING_WORN_DEPTH] = {
    N_("Stretched to the head's girth the fabric gets shorter, and the hat rides up."),
    N_("Add depth to the size, or give the body less negative ease.") },
  [BW_FINDING_GIRTH_OUT_OF_LIMIT] = {
    N_("The hat would be another size than its name says."),
    N_("Choose a stitch pattern with a smaller multiple, another gauge, or raise the limit "
       "(girth-limit in the rules).") },
  [BW_FINDING_STEP_IMPOSSIBLE] = {
    N_("The two sizes would be the same hat, or too near to it."),
    N_("Choose a stitch pattern with a smaller multiple, ask for a smaller step (least-step in the "
       "rules), or move the two head girths apart.") },
  [BW_FINDING_NO_WEDGES] = {
    N_("One text is to serve every size, so one number of wedges must."),
    N_("Allow more wedge counts (wedges in the crown's group), or let a set-up round lead to the "
       "crown.") },
  [BW_FINDING_DEPTH_TOO_SHORT] = {
    N_("The filling band has no room left, and the hat comes out too deep."),
    N_("Take a lower brim, fewer rounds in the other bands, or a flatter crown.") },
  [BW_FINDING_GAUGE_ONE_READING] = {
    N_("One reading has no scatter, so how sure it is rests on the tape alone."),
    N_("Measure the swatch in two more places and add the readings.") },
  [BW_FINDING_GAUGE_ESTIMATED] = {
    N_("Another stitch pattern has another gauge; counts that rest on a guess may miss the size."),
    N_("Make and measure a swatch of this stitch pattern, worked in rounds as the hat is.") },
  [BW_FINDING_YARN_ESTIMATED] = {
    N_("Makers buy by these figures, and tension changes them by a tenth and more."),
    N_("Weigh a swatch and give its weight, stitches and rounds (weight, piece-stitches and "
       "piece-rounds in its group).") },
  [BW_FINDING_STRIPE_UNFINISHED] = {
    N_("The last stripe comes out narrower than the others."),
    N_("Give the band as many rounds as whole stripes need.") },
  [BW_FINDING_PATTERN_UNFINISHED] = {
    N_("The band ends inside a repeat of its stitch pattern."),
    N_("Give the band whole repeats, if the end is not meant so.") },
  [BW_FINDING_CAUTION_SMALL_PARTS] = {
    N_("Small children choke on parts that come off, yarn pom-poms and buttons among them."),
    N_("Leave them off, or sew them on so that no pull loosens them. The safety rules of the place "
       "where the hat is sold decide.") },
  [BW_FINDING_CAUTION_CORDS] = {
    N_("Cords and ties at the neck catch and can strangle."),
    N_("Leave cords off hats for children. The safety rules of the place where the hat is sold "
       "decide.") },
  [BW_FINDING_CAUTION_SLEEP] = {
    N_("Babies lose heat through the head, and a covered head overheats them in sleep."),
    N_("Say in the pattern that the hat comes off indoors and for sleep, and follow the local "
       "health service's advice.") },
  [BW_FINDING_BAND_ADJUSTED] = {
    N_("The stitch pattern's multiple does not fit the count below it; the round shows a little."),
    N_("Choose stitch patterns that share a multiple, if the round disturbs.") },
  [BW_FINDING_PIN_IMPOSSIBLE] = {
    N_("The pinned value breaks a rule that cannot be bent."),
    N_("Let the pin go, or pin a value that the rules allow.") },
};

/* --- What was found --- */

/* Sentences that hold for a design's rounds as for those of any written pattern;
 * NULL for findings whose figures are no counts. */
char *
bw_words_finding_counts (const BwFinding *finding)
{
  guint a = (guint) MAX (0, finding->a);
  guint b = (guint) MAX (0, finding->b);
  guint c = (guint) MAX (0, finding->c);

  switch (finding->kind)
    {
    case BW_FINDING_ROUND_DOES_NOT_FIT:
      return g_strdup_printf (_("The round takes %u stitches, the round below offers %u."), a, b);
    case BW_FINDING_COUNT_DIFFERS:
      return g_strdup_printf (_("The round makes %u stitches, but %u are stated."), a, b);
    case BW_FINDING_REPEAT_DOES_NOT_END:
      return g_strdup_printf (_("A repeat over %u stitches does not end with the round's %u."),
                              a, b);
    case BW_FINDING_NOT_A_MULTIPLE:
      if (c > 0)
        return g_strdup_printf (_("%u stitches are not a multiple of %u plus %u."), a, b, c);
      return g_strdup_printf (_("%u stitches are not a multiple of %u."), a, b);
    case BW_FINDING_NO_POST:
      return g_strdup_printf (_("Stitch %u is worked round a stem that is not there."), a);
    case BW_FINDING_POST_COVERED:
      return g_strdup_printf (_("Stitch %u is worked round a stem that is covered already."), a);
    case BW_FINDING_CROWN_NOT_WEDGES:
      return g_strdup_printf (_("%u stitches are not a multiple of %u wedges."), a, b);
    case BW_FINDING_CLOSE_TOO_MANY:
      return g_strdup_printf (_("%u stitches are left to draw up; %u is the most that closes "
                                "well."),
                              a, b);
    case BW_FINDING_TOO_MANY_DECREASES:
      return g_strdup_printf (_("%u of %u stitches are decreased in one round, more than half."),
                              a, b);
    case BW_FINDING_PICK_UP:
      return g_strdup_printf (_("%u stitches cannot be picked up along %u row ends."), a, b);
    case BW_FINDING_BRIM_ODD:
      return g_strdup_printf (_("The brim has %u rows, an odd number."), a);
    case BW_FINDING_BAND_ADJUSTED:
      if (c > 0)
        return g_strdup_printf (_("%u stitches do not fit the repeat of a band; %u and %u do. The "
                                  "count changes to %u before it."),
                                a, MIN (b, c), MAX (b, c), b);
      return g_strdup_printf (_("The count changes from %u to %u before a band."), a, b);
    case BW_FINDING_PIN_IMPOSSIBLE:
      return g_strdup_printf (_("The pinned value %u cannot be had."), a);
    case BW_FINDING_PATTERN_UNFINISHED:
      return g_strdup_printf (_("The stitch pattern stops after %u of its %u rounds."), a, b);
    default:
      return NULL;
    }
}

static char *
length_words (const BwDesign  *design,
              const BwFinding *finding)
{
  g_autofree char *a = bw_words_length (design, finding->a);
  g_autofree char *b = bw_words_length (design, finding->b);
  g_autofree char *c = bw_words_length (design, finding->c);

  switch (finding->kind)
    {
    case BW_FINDING_STEP_WITHIN_GAUGE:
      return g_strdup_printf (_("The step from the size below is %s, less than the gauge's own "
                                "uncertainty of ± %s."),
                              a, b);
    case BW_FINDING_BRIM_TOO_SMALL:
      return g_strdup_printf (_("Fully stretched, the largest brim allowed is %s round; the head "
                                "is %s."),
                              a, b);
    case BW_FINDING_DEPTH:
      return g_strdup_printf (_("The hat is %s deep; %s is wanted."), a, b);
    case BW_FINDING_WORN_DEPTH:
      return g_strdup_printf (_("Worn, the hat is %s deep; %s is wanted."), a, b);
    case BW_FINDING_GIRTH_OUT_OF_LIMIT:
      return g_strdup_printf (_("The nearest girth that the stitch patterns allow is %s; that "
                                "misses %s by more than %s."),
                              a, b, c);
    case BW_FINDING_DEPTH_TOO_SHORT:
      return g_strdup_printf (_("Brim, bands and crown need %s; the depth wanted is %s."), a, b);
    default:
      return NULL;
    }
}

static char *
alike_words (const BwDesign  *design,
             const BwFinding *finding)
{
  const char *size = _("another");
  const char *other = _("One size");

  if (finding->size >= 0)
    size = bw_words_size_name (&g_array_index (design->sizes, BwSizeChoice, finding->size));
  if (finding->other >= 0)
    other = bw_words_size_name (&g_array_index (design->sizes, BwSizeChoice, finding->other));

  if (finding->kind == BW_FINDING_SIZES_ALIKE)
    return g_strdup_printf (_("%s and %s both come to %u stitches."), other, size,
                            (guint) finding->a);
  return g_strdup_printf (_("No counts grow by %u stitches or more from %s to %s; the nearest are "
                            "%u and %u."),
                          (guint) finding->a, other, size, (guint) finding->b,
                          (guint) finding->c);
}

static char *
share_words (const BwFinding *finding)
{
  g_autofree char *a = bw_words_percent (finding->a, 1);
  g_autofree char *b = bw_words_percent (finding->b, 1);

  if (finding->kind == BW_FINDING_STRETCH)
    return g_strdup_printf (_("It has to stretch by %s to fit the head; %s is what it allows."),
                            a, b);
  return g_strdup_printf (_("The gauge rests on one reading (± %s)."), a);
}

static char *
flatness_words (const BwFinding *finding)
{
  g_autofree char *ratio = bw_units_format_number (finding->a, 2);

  return g_strdup_printf (_("The round narrows %s times as fast as its height allows: it pleats."),
                          ratio);
}

static char *
plain_words (const BwFinding *finding)
{
  switch (finding->kind)
    {
    case BW_FINDING_COLOUR_NOT_JOINED:
      return g_strdup_printf (_("Colour %c is worked, carried or left without having been joined "
                                "or cut."),
                              (char) ('A' + (int) finding->a));
    case BW_FINDING_NO_WEDGES:
      return g_strdup (_("No allowed number of wedges serves every size."));
    case BW_FINDING_GAUGE_ESTIMATED:
      return g_strdup (_("This part has no swatch of its own: its gauge is estimated from the "
                         "body's."));
    case BW_FINDING_YARN_ESTIMATED:
      return g_strdup (_("No swatch is weighed: yarn amounts are estimates."));
    case BW_FINDING_STRIPE_UNFINISHED:
      return g_strdup (_("The band ends before its stripe does."));
    case BW_FINDING_CAUTION_SMALL_PARTS:
      return g_strdup (_("A pom-pom, buttons or beads on a hat for a child under three."));
    case BW_FINDING_CAUTION_CORDS:
      return g_strdup (_("Cords on a hat for a child."));
    case BW_FINDING_CAUTION_SLEEP:
      return g_strdup (_("A hat for a baby."));
    default:
      return NULL;
    }
}

static char *
what_words (const BwGrading *grading,
            const BwFinding *finding)
{
  const BwDesign *design = grading->design;
  char *what = NULL;

  switch (finding->kind)
    {
    case BW_FINDING_SIZES_ALIKE:
    case BW_FINDING_STEP_IMPOSSIBLE:
      return alike_words (design, finding);
    case BW_FINDING_STRETCH:
    case BW_FINDING_GAUGE_ONE_READING:
      return share_words (finding);
    case BW_FINDING_FLATNESS:
      return flatness_words (finding);
    default:
      what = bw_words_finding_counts (finding);
      if (what == NULL)
        what = length_words (design, finding);
      return what != NULL ? what : plain_words (finding);
    }
}

/* Why a finding matters, in the language of the moment; NULL = it says nothing. */
const char *
bw_words_finding_why (BwFindingKind kind)
{
  return kind < BW_FINDING_DESIGN_N && advice[kind].why != NULL ? _(advice[kind].why) : NULL;
}

/* --- How to mend it --- */

/* Counts on either side that the stitch pattern would take. */
static char *
multiple_words (const BwFinding *finding)
{
  guint stitches = (guint) finding->a;
  guint multiple = MAX (1, (guint) finding->b);
  guint offset = (guint) finding->c % multiple;
  guint over = (stitches + multiple - offset) % multiple;

  if (over == 0 || stitches <= over)
    return g_strdup_printf (_("Take %u stitches."), stitches - over + multiple);
  return g_strdup_printf (_("Take %u or %u stitches."), stitches - over,
                          stitches - over + multiple);
}

/* --- Where --- */

static char *
round_words (const BwGrading *grading,
             const BwFinding *finding)
{
  const BwGradedSize *size;

  if (finding->size < 0 || finding->round < 0 || (guint) finding->size >= grading->sizes->len)
    return NULL;
  size = g_ptr_array_index (grading->sizes, finding->size);
  if ((guint) finding->round >= size->rounds->rounds->len)
    return NULL;
  return bw_words_round_label (size->rounds, (guint) finding->round, 1);
}

/* The part and the round, without the size. */
static char *
place_words (const BwGrading *grading,
             const BwFinding *finding)
{
  g_autofree char *round = round_words (grading, finding);
  g_autofree char *part = NULL;

  /* The pick-up's stretch stands for all that is worked at the body's gauge */
  if (finding->kind == BW_FINDING_STRETCH && finding->part == BW_SECTION_PICK_UP)
    part = g_strdup (_("Body"));
  else if (finding->part >= 0)
    part = bw_words_part (grading, finding->part, finding->band - 1);
  if (part != NULL && round != NULL && *round != '\0')
    return g_strdup_printf ("%s, %s", part, round);
  return g_strdup (part != NULL ? part : round != NULL ? round : "");
}

static char *
where_words (const char *sizes,
             const char *place)
{
  if (*sizes != '\0' && *place != '\0')
    return g_strdup_printf ("%s: %s", sizes, place);
  return g_strdup (*sizes != '\0' ? sizes : place);
}

static const char *
finding_size (const BwGrading *grading,
              const BwFinding *finding)
{
  if (finding->size < 0 || (guint) finding->size >= grading->design->sizes->len)
    return "";
  return bw_words_size_name (&g_array_index (grading->design->sizes, BwSizeChoice, finding->size));
}

/**
 * bw_words_finding:
 * @grading: the grading it was found in
 * @finding: one of its findings
 *
 * Returns: (transfer full): the finding in words; free with bw_words_finding_free()
 */
BwWordsFinding *
bw_words_finding (const BwGrading *grading,
                  const BwFinding *finding)
{
  BwWordsFinding *words;
  g_autofree char *place = NULL;

  g_return_val_if_fail (finding->kind > 0 && finding->kind < BW_FINDING_DESIGN_N, NULL);

  words = g_new0 (BwWordsFinding, 1);
  place = place_words (grading, finding);
  words->code = bw_finding_code (finding->kind);
  words->severity = finding->severity;
  words->where = where_words (finding_size (grading, finding), place);
  words->what = what_words (grading, finding);
  words->why = g_strdup (_(advice[finding->kind].why));
  words->mend = finding->kind == BW_FINDING_NOT_A_MULTIPLE
                  ? multiple_words (finding)
                  : g_strdup (_(advice[finding->kind].mend));
  return words;
}

/* Two findings that read the same but for their size. */
static gboolean
same_words (const BwFinding *a,
            const BwFinding *b)
{
  return a->kind == b->kind && a->severity == b->severity && a->part == b->part &&
         a->other == b->other && a->round == b->round && a->a == b->a && a->b == b->b &&
         a->c == b->c && a->band == b->band && a->size >= 0 && b->size >= 0;
}

/* One worded finding for the findings at `first` and after it that differ only
 * by size; `done` marks which have been worded. */
static BwWordsFinding *
merged (const BwGrading *grading,
        guint            first,
        gboolean        *done)
{
  const BwFinding *finding = &g_array_index (grading->findings, BwFinding, first);
  BwWordsFinding *words = bw_words_finding (grading, finding);
  g_autofree char *place = place_words (grading, finding);
  g_autoptr (GString) sizes = g_string_new (finding_size (grading, finding));
  int last = finding->size;

  for (guint i = first + 1; i < grading->findings->len; i++)
    {
      const BwFinding *other = &g_array_index (grading->findings, BwFinding, i);

      if (done[i] || !same_words (finding, other))
        continue;
      done[i] = TRUE;
      if (other->size != last)
        g_string_append_printf (sizes, ", %s", finding_size (grading, other));
      last = other->size;
    }

  g_free (words->where);
  words->where = where_words (sizes->str, place);
  return words;
}

/**
 * bw_words_findings:
 * @grading: a grading
 *
 * Returns: (transfer full) (element-type BwWordsFinding): all findings in words, the
 *   gravest first and otherwise in the grading's order; those that differ only by
 *   size are one
 */
GPtrArray *
bw_words_findings (const BwGrading *grading)
{
  GPtrArray *all = g_ptr_array_new_with_free_func ((GDestroyNotify) bw_words_finding_free);
  guint n = grading->findings->len;
  g_autofree gboolean *done = g_new0 (gboolean, n + 1);

  for (int severity = BW_SEVERITY_REFUSAL; severity >= BW_SEVERITY_NOTE; severity--)
    for (guint i = 0; i < n; i++)
      {
        if (done[i] || (int) g_array_index (grading->findings, BwFinding, i).severity != severity)
          continue;
        done[i] = TRUE;
        g_ptr_array_add (all, merged (grading, i, done));
      }

  return all;
}

/**
 * bw_words_finding_free:
 * @words: (nullable): a worded finding
 */
void
bw_words_finding_free (BwWordsFinding *words)
{
  if (words == NULL)
    return;

  g_free (words->where);
  g_free (words->what);
  g_free (words->why);
  g_free (words->mend);
  g_free (words);
}
