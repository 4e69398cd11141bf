#define G_LOG_DOMAIN "bw-words"

#include "bw-words-private.h"

#include <string.h>

#include "bw-words-pattern.h"

/* A sentence in UK terms put into the design's terms. All words are replaced in
 * one pass, the longest first: one after the other would turn the UK "double
 * crochet" into "single crochet" and what had been "treble" into it again. */

static const struct
{
  const char *uk;
  const char *us;
} craft_words[] = {
  { "yarn round hook", "yarn over" },
  { "tension", "gauge" },
  { "missed", "skipped" },
  { "miss", "skip" },
};

/* The US words for what stands at `at`, and how much of it they replace. Plurals
 * and endings follow by themselves. */
static const char *
us_words_at (const BwStitchDictionary *stitches,
             const char               *at,
             gsize                    *length)
{
  const char *best = NULL;

  *length = 0;
  for (guint i = 0; i < bw_stitch_dictionary_size (stitches); i++)
    {
      const BwStitch *stitch = bw_stitch_get (stitches, (BwStitchIndex) i);
      gsize n = strlen (stitch->uk_name);

      if (n > *length && g_ascii_strncasecmp (at, stitch->uk_name, n) == 0)
        {
          *length = n;
          best = stitch->us_name;
        }
    }
  for (guint i = 0; i < G_N_ELEMENTS (craft_words); i++)
    {
      gsize n = strlen (craft_words[i].uk);

      if (n > *length && g_ascii_strncasecmp (at, craft_words[i].uk, n) == 0)
        {
          *length = n;
          best = craft_words[i].us;
        }
    }

  return best;
}

/**
 * bw_words_in_terms:
 * @grading: a grading
 * @uk: a sentence in UK terms
 *
 * Returns: (transfer full): the sentence in the design's terms
 */
char *
bw_words_in_terms (const BwGrading *grading,
                   const char      *uk)
{
  GString *out = g_string_new (NULL);
  gboolean word_start = TRUE;

  if (grading->design->terms == BW_TERMS_UK)
    {
      g_string_append (out, uk);
      return g_string_free (out, FALSE);
    }

  for (const char *at = uk; *at != '\0';)
    {
      gsize length;
      const char *us = word_start ? us_words_at (grading->reference->stitches, at, &length) : NULL;

      if (us != NULL)
        {
          g_string_append (out, us);
          at += length;
        }
      else
        {
          g_string_append_c (out, *at++);
        }
      word_start = !g_ascii_isalpha (at[-1]);
    }

  return g_string_free (out, FALSE);
}
