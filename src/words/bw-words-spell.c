#define G_LOG_DOMAIN "bw-words"

#include "bw-words-private.h"

#include <string.h>

#include "bw-words-pattern.h"

/* A pattern without abbreviations, square brackets and runs of signs, for large
 * print and for who has it read aloud: those trip over bare abbreviations and
 * brackets (common practice among publishers of accessible patterns, no source). */

/* Short words of the notation, longest first where one begins another. */
static const struct
{
  const char *brief;
  const char *full;
} short_words[] = {
  { "ch-sp", N_("chain space") }, { "Rnds", N_("Rounds") }, { "rnds", N_("rounds") },
  { "Rnd", N_("Round") },         { "rnd", N_("round") },   { "sts", N_("stitches") },
  { "st", N_("stitch") },         { "Ch", N_("Chain") },    { "BLO", N_("back loop only") },
  { "FLO", N_("front loop only") },
};

static gboolean
is_part_of_word (char c)
{
  return g_ascii_isalnum (c) || c == '-' || (guchar) c >= 0x80;
}

/* Does `brief` stand at `at`, as a whole word? */
static gboolean
stands_at (const char *at,
           const char *brief)
{
  gsize length = strlen (brief);

  return strncmp (at, brief, length) == 0 && !is_part_of_word (at[length]);
}

/* The full words for what stands at the beginning of a word, and how much of the
 * text they replace; NULL = it is no abbreviation. */
static const char *
full_words_at (const BwGrading *grading,
               const char      *at,
               gsize           *length)
{
  const BwStitchDictionary *stitches = grading->reference->stitches;
  const char *best = NULL;

  *length = 0;
  for (guint i = 0; i < bw_stitch_dictionary_size (stitches); i++)
    {
      const BwStitch *stitch = bw_stitch_get (stitches, (BwStitchIndex) i);
      gboolean uk = grading->design->terms == BW_TERMS_UK;
      const char *brief = uk ? stitch->uk : stitch->us;

      if (strlen (brief) > *length && stands_at (at, brief))
        {
          *length = strlen (brief);
          best = uk ? stitch->uk_name : stitch->us_name;
        }
    }
  for (guint i = 0; i < G_N_ELEMENTS (short_words); i++)
    if (strlen (short_words[i].brief) > *length && stands_at (at, short_words[i].brief))
      {
        *length = strlen (short_words[i].brief);
        best = _(short_words[i].full);
      }

  return best;
}

/**
 * bw_words_spell_out:
 * @grading: a grading, in whose terms the text is
 * @text: words of its pattern
 *
 * Returns: (transfer full): the text with every abbreviation in full, and what is
 *   repeated between the words start and end instead of in square brackets
 */
char *
bw_words_spell_out (const BwGrading *grading,
                    const char      *text)
{
  GString *out = g_string_new (NULL);
  gboolean begins = TRUE;

  for (const char *at = text; *at != '\0';)
    {
      gsize length;
      const char *full = begins ? full_words_at (grading, at, &length) : NULL;

      if (full != NULL && !g_str_has_prefix (at, full))
        {
          g_string_append (out, full);
          at += length;
        }
      else if (*at == '[')
        {
          g_string_append (out, _("start, "));
          at++;
        }
      else if (*at == ']')
        {
          g_string_append (out, _(", end,"));
          at++;
        }
      else
        {
          g_string_append_c (out, *at++);
        }
      begins = at > text && !is_part_of_word (at[-1]);
    }

  return g_string_free (out, FALSE);
}

/* Names of sizes in front of a lead are the designer's and stay as they are. */
static void
spell_block (BwBlock         *block,
             const BwGrading *grading)
{
  g_autofree char *names = g_strndup (block->lead, block->label);
  g_autofree char *lead = bw_words_spell_out (grading, block->lead + block->label);
  char *text = block->place == BW_BLOCK_PLACE_REPEATS
    ? g_strdup (_("What stands between the words start and end is worked as often as it says "
                  "behind the word end."))
    : bw_words_spell_out (grading, block->text);

  g_free (block->text);
  block->text = text;
  g_free (block->lead);
  block->lead = g_strconcat (names, lead, NULL);
}

/**
 * bw_words_spell_blocks:
 * @blocks: (element-type BwBlock): a pattern
 * @grading: the family it is of, in its terms
 *
 * Puts a pattern into full words, and leaves out the list of abbreviations, which
 * then has nothing to explain.
 */
void
bw_words_spell_blocks (GPtrArray       *blocks,
                       const BwGrading *grading)
{
  for (guint i = 0; i < blocks->len;)
    {
      BwBlock *block = g_ptr_array_index (blocks, i);

      if (block->place == BW_BLOCK_PLACE_ABBREVIATIONS)
        {
          g_ptr_array_remove_index (blocks, i);
          continue;
        }
      if (block->kind != BW_BLOCK_TITLE)
        spell_block (block, grading);
      i++;
    }
}
