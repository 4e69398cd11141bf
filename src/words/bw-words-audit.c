#define G_LOG_DOMAIN "bw-words"

#include "bw-words-private.h"

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
