#define G_LOG_DOMAIN "bw-words"

#include "bw-words-private.h"

#include <string.h>

#include "bw-words-pattern.h"

/* The instructions of a pattern: lines of the write-up with the sentences that
 * stand between them. */

static const BwGradedSize *
size_at (const BwWriteup *writeup,
         guint            k)
{
  return g_ptr_array_index (writeup->grading->sizes, g_array_index (writeup->sizes, guint, k));
}

/* "S, M and L" */
static char *
list_sizes (const BwWriteup     *writeup,
            const BwWriteupLine *line)
{
  GString *out = g_string_new (NULL);
  guint left = 0;

  for (guint k = 0; k < writeup->sizes->len; k++)
    left += line->works[k];
  for (guint k = 0; k < writeup->sizes->len; k++)
    if (line->works[k])
      {
        g_string_append (out, bw_words_size_name (size_at (writeup, k)->choice));
        left--;
        g_string_append (out, left == 0 ? "" : left == 1 ? _(" and ") : ", ");
      }

  return g_string_free (out, FALSE);
}

static guint
count_sizes (const BwWriteup     *writeup,
             const BwWriteupLine *line)
{
  guint n = 0;

  for (guint k = 0; k < writeup->sizes->len; k++)
    n += line->works[k];

  return n;
}

/* "Sizes M and L only: Rnd 7 (8)" */
static char *
line_lead (const BwWriteup     *writeup,
           const BwWriteupLine *line,
           guint               *label_at)
{
  g_autoptr (GString) label = g_string_new (NULL);
  g_autofree char *names = NULL;
  char *lead;

  *label_at = 0;
  bw_writeup_print_label (writeup, line, label);
  if (!line->only)
    return g_strdup (label->str);

  names = list_sizes (writeup, line);
  /* Translators: the first %s is one size or several, the second a round's label */
  lead = g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "Size %s only: %s", "Sizes %s only: %s",
                                       count_sizes (writeup, line)),
                          names, label->str);
  if (g_str_has_suffix (lead, label->str))
    *label_at = (guint) (strlen (lead) - label->len);
  return lead;
}

static const char *
slip_stitch (const BwGrading *grading)
{
  const BwStitchDictionary *stitches = grading->reference->stitches;

  return bw_stitch_abbreviation (stitches, bw_stitch_find (stitches, "slip"),
                                 grading->design->terms);
}

static char *
foundation_text (const BwWriteup     *writeup,
                 const BwWriteupLine *line)
{
  g_autoptr (GString) chains = g_string_new (NULL);

  bw_writeup_print_numbers (writeup, line, BW_WRITEUP_STITCHES_OUT, chains);
  if (line->row)
    return g_strdup_printf (_("Ch %s."), chains->str);
  if (writeup->grading->design->spiral)
    return g_strdup_printf (_("Ch %s; without twisting it, go on into the first ch."), chains->str);
  /* Translators: the second %s is the abbreviation of slip stitch */
  return g_strdup_printf (_("Ch %s; without twisting it, join with %s to the first ch."),
                          chains->str, slip_stitch (writeup->grading));
}

static char *
join_text (const BwWriteup     *writeup,
           const BwWriteupLine *line)
{
  g_autoptr (GString) stitches = g_string_new (NULL);

  bw_writeup_print_numbers (writeup, line, BW_WRITEUP_STITCHES_OUT, stitches);
  return g_strdup_printf (_("Bring the foundation chain behind the last row and join the two with "
                            "%s %s through both."),
                          stitches->str, slip_stitch (writeup->grading));
}

static char *
close_text (const BwWriteup     *writeup,
            const BwWriteupLine *line)
{
  g_autofree char *tail = bw_words_tail (writeup->grading->design);
  g_autoptr (GString) stitches = g_string_new (NULL);

  bw_writeup_print_numbers (writeup, line, BW_WRITEUP_STITCHES_IN, stitches);
  return g_strdup_printf (_("Cut the yarn, leaving %s; thread it through the %s stitches left, draw "
                            "up tight and fasten off inside."),
                          tail, stitches->str);
}

static gboolean
is_foundation (const BwWriteup     *writeup,
               const BwWriteupLine *line)
{
  return line->section == BW_SECTION_BRIM &&
         bw_writeup_round (writeup, line, bw_writeup_example (writeup, line))->number == 0;
}

static char *
line_text (const BwWriteup     *writeup,
           const BwWriteupLine *line)
{
  g_autoptr (GString) text = g_string_new (NULL);

  if (is_foundation (writeup, line))
    return foundation_text (writeup, line);
  if (line->section == BW_SECTION_JOIN)
    return join_text (writeup, line);
  if (line->section == BW_SECTION_CLOSE)
    return close_text (writeup, line);

  bw_writeup_print_work (writeup, line, writeup->grading->design->terms, text);
  g_string_append_c (text, ' ');
  bw_writeup_print_count (writeup, line, text);
  return g_strdup (text->str);
}

/* "Round 24": for one size, whose labels have no lists. */
static char *
sentence_lead (const BwWriteup     *writeup,
               const BwWriteupLine *line)
{
  const BwRound *round = bw_writeup_round (writeup, line, 0);

  if (round->number == 0)
    return g_strdup ("");
  return g_strdup_printf (line->row ? _("Row %u") : _("Round %u"), round->number);
}

/* "Work 5 dc, dc2tog. You have 54 sts." */
static char *
sentence_text (const BwWriteup     *writeup,
               const BwWriteupLine *line)
{
  g_autoptr (GString) text = g_string_new (NULL);
  guint stitches = bw_writeup_round (writeup, line, 0)->stitches_out;

  if (is_foundation (writeup, line) || line->section == BW_SECTION_JOIN ||
      line->section == BW_SECTION_CLOSE)
    return line_text (writeup, line);

  bw_writeup_print_work (writeup, line, writeup->grading->design->terms, text);
  /* Translators: the first is the work of a round: "Work 5 dc, dc2tog. You have 54 sts." */
  return g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "Work %s. You have %u st.",
                                       "Work %s. You have %u sts.", stitches),
                          text->str, stitches);
}

/* A measure of every size: "46 (48, 50) cm", in the design's units. */
char *
bw_words_measures (const BwGrading *grading,
                   const GArray    *sizes,
                   double         (*measure) (const BwGradedSize *size))
{
  g_autoptr (GString) out = g_string_new (NULL);
  gboolean same = TRUE;
  g_autofree char *first = NULL;

  for (guint k = 0; k < sizes->len; k++)
    {
      const BwGradedSize *size = g_ptr_array_index (grading->sizes, g_array_index (sizes, guint, k));
      g_autofree char *value = bw_words_length_value (grading->design, measure (size));

      g_string_append (out, k == 0 ? "" : k == 1 ? " (" : ", ");
      g_string_append (out, value);
      same = same && (first == NULL || g_str_equal (first, value));
      if (first == NULL)
        first = g_steal_pointer (&value);
    }

  if (sizes->len > 1)
    g_string_append_c (out, ')');
  return g_strdup_printf ("%s %s", same ? first : out->str, bw_words_unit (grading->design));
}

static double
brim_length (const BwGradedSize *size)
{
  return size->brim_mm;
}

static double
girth (const BwGradedSize *size)
{
  return size->girth_mm;
}

/* What can be measured when a part is done, before it is too late to mend. */
static void
add_milestone (GPtrArray       *blocks,
               const BwWriteup *writeup,
               int              section)
{
  g_autofree char *figures = NULL;
  g_autofree char *text = NULL;

  if (section == BW_SECTION_BRIM && writeup->grading->design->brim.kind != BW_BRIM_NONE)
    {
      figures = bw_words_measures (writeup->grading, writeup->sizes, brim_length);
      text = g_strdup_printf (_("Check: the brim measures %s, relaxed."), figures);
    }
  else if (section == BW_SECTION_BAND)
    {
      figures = bw_words_measures (writeup->grading, writeup->sizes, girth);
      text = g_strdup_printf (_("Check: laid flat, the hat measures %s round."), figures);
    }

  if (text != NULL)
    bw_words_add_block (blocks, BW_BLOCK_CHECK, "", text);
}

/* The sizes of a line, for whoever shows one size of the text. */
static void
mark_sizes (BwBlock             *block,
            const BwWriteup     *writeup,
            const BwWriteupLine *line)
{
  for (guint k = 0; k < writeup->sizes->len; k++)
    if (line->works[k])
      block->sizes |= 1u << k;
  block->only = line->only;
}

/* What is done to the yarn after the line: the same in all its sizes. */
static void
add_yarn (GPtrArray           *blocks,
          const BwWriteup     *writeup,
          const BwWriteupLine *line)
{
  guint k = bw_writeup_example (writeup, line);
  g_autofree char *yarn = bw_words_round_yarn (writeup->grading, size_at (writeup, k)->rounds,
                                               line->first[k] + line->n_rounds[k] - 1);

  if (yarn[0] == '\0')
    return;
  yarn[0] = g_ascii_toupper (yarn[0]);
  mark_sizes (bw_words_add_block (blocks, BW_BLOCK_CHECK, "", yarn), writeup, line);
}

static void
add_line (GPtrArray           *blocks,
          const BwWriteup     *writeup,
          const BwWriteupLine *line,
          gboolean             sentence)
{
  guint label = 0;
  g_autofree char *lead = sentence ? sentence_lead (writeup, line)
                                   : line_lead (writeup, line, &label);
  g_autofree char *text = sentence ? sentence_text (writeup, line) : line_text (writeup, line);
  BwBlock *block = bw_words_add_block (blocks, BW_BLOCK_ROUND, lead, text);

  block->tick = sentence;
  block->colour = line->colour;
  block->label = label;
  mark_sizes (block, writeup, line);
}

/* Every round of a folded line by itself, for one size. */
static void
add_unfolded (GPtrArray           *blocks,
              const BwWriteup     *writeup,
              const BwWriteupLine *line,
              gboolean             sentences)
{
  for (guint i = 0; i < line->n_rounds[0]; i++)
    {
      BwWriteupLine one = *line;

      one.first[0] += i;
      one.n_rounds[0] = 1;
      add_line (blocks, writeup, &one, sentences);
    }
}

/**
 * bw_words_pattern_rounds:
 * @blocks: blocks are added here
 * @writeup: the rounds, lined up
 * @form: folded, in full or in sentences; only one size is in full or in sentences
 *
 * Adds the instructions of a pattern, part by part.
 */
void
bw_words_pattern_rounds (GPtrArray       *blocks,
                         const BwWriteup *writeup,
                         BwPatternForm    form)
{
  int section = -1;
  guint band = 0;

  for (guint i = 0; i < writeup->lines->len; i++)
    {
      const BwWriteupLine *line = &g_array_index (writeup->lines, BwWriteupLine, i);

      if (line->section != section || (section == BW_SECTION_BAND && line->band != band))
        {
          g_autofree char *part = bw_words_part (writeup->grading, line->section, line->band);

          if (section >= 0 && (section != BW_SECTION_BAND || line->section != BW_SECTION_BAND))
            add_milestone (blocks, writeup, section);
          bw_words_add_block (blocks, BW_BLOCK_PART, "", part);
          section = line->section;
          band = line->band;
        }
      if (form != BW_PATTERN_FOLDED && writeup->sizes->len == 1)
        add_unfolded (blocks, writeup, line, form == BW_PATTERN_SENTENCES);
      else
        add_line (blocks, writeup, line, FALSE);
      add_yarn (blocks, writeup, line);
    }
}
