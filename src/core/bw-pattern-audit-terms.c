#define G_LOG_DOMAIN "bw-core"

#include "bw-pattern-audit-private.h"

#include <string.h>

/* The words of a pattern: UK or US, abbreviations listed and used, one way to
 * write each. */

/* Words that are abbreviated, and of whose abbreviation the makers are told. */
static const BwWord abbreviated[] = {
  BW_WORD_AGAIN, BW_WORD_BACK_LOOP, BW_WORD_BEGINNING, BW_WORD_CHAIN_SPACE, BW_WORD_DECREASE,
  BW_WORD_FRONT_LOOP, BW_WORD_INCREASE, BW_WORD_LOOP, BW_WORD_REMAIN, BW_WORD_RIGHT_SIDE,
  BW_WORD_RND, BW_WORD_SPACE, BW_WORD_STITCH, BW_WORD_TOGETHER, BW_WORD_TURNING_CHAIN,
  BW_WORD_WRONG_SIDE,
};

/* The word at an offset; a stitch may have two. */
static BwSlice
word_at (const BwPatternAudit *audit,
         guint32               offset)
{
  const BwPattern *pattern = audit->pattern;
  BwSlice word = { offset, 0 };
  BwLexer lexer;
  BwToken token;

  bw_lexer_init (&lexer, pattern->text + offset, pattern->length - offset);
  bw_lexer_next (&lexer, &token);
  word.length = (guint32) (token.start + token.length - (pattern->text + offset));
  if (bw_token_is_word (&token, "sl"))
    {
      bw_lexer_next (&lexer, &token);
      if (bw_token_is_word (&token, "st"))
        word.length = (guint32) (token.start + token.length - (pattern->text + offset));
    }
  else if (token.length > 2 && g_ascii_strncasecmp (token.start, "ch", 2) == 0 &&
           g_ascii_isdigit (token.start[2]))
    word.length = 2;
  return word;
}

static BwPatternFinding *
add_at (BwPatternAudit *audit,
        BwFindingKind   kind,
        BwSeverity      severity,
        BwSlice         where)
{
  BwPatternFinding *finding = bw_audit_add (audit, kind, severity, where);

  bw_audit_name_round (audit, finding);
  finding->word = where;
  return finding;
}

/* --- Abbreviations --- */

static gboolean
is_listed (const BwPatternAudit *audit,
           BwSlice               word)
{
  return bw_pattern_lists (audit->pattern, audit->pattern->text + word.offset, word.length);
}

/* The stitch itself may be listed in another spelling: one finding is enough. */
static gboolean
is_stitch_listed (const BwPatternAudit *audit,
                  BwStitchIndex         stitch)
{
  const GArray *list = audit->pattern->front.abbreviations;

  for (guint i = 0; i < list->len; i++)
    if (g_array_index (list, BwPatternAbbreviation, i).stitch == stitch)
      return TRUE;

  return FALSE;
}

/* An abbreviation, and no word that says it all, as "miss" does. */
static gboolean
is_abbreviation_of (const BwPatternAudit *audit,
                    BwStitchIndex         stitch,
                    BwSlice               word)
{
  const BwStitch *facts = bw_stitch_get (audit->pattern->dictionary, stitch);
  const char *name = audit->pattern->terms == BW_TERMS_UK ? facts->uk_name : facts->us_name;

  if (strlen (name) == word.length &&
      g_ascii_strncasecmp (name, audit->pattern->text + word.offset, word.length) == 0)
    return FALSE;
  return bw_stitch_find_abbreviation (audit->pattern->dictionary,
                                      audit->pattern->text + word.offset, word.length,
                                      audit->pattern->terms) == stitch;
}

static void
check_used (BwPatternAudit *audit)
{
  const BwPattern *pattern = audit->pattern;

  for (guint i = 0; i < bw_stitch_dictionary_size (pattern->dictionary); i++)
    {
      BwStitchIndex stitch = (BwStitchIndex) i;
      BwSlice word;

      if (pattern->sink.stitches[i] == 0)
        continue;
      word = word_at (audit, pattern->sink.stitches[i] - 1);
      if (!is_listed (audit, word) && !is_stitch_listed (audit, stitch) &&
          is_abbreviation_of (audit, stitch, word))
        add_at (audit, BW_FINDING_NOT_LISTED, BW_SEVERITY_ERROR, word);
    }
  for (guint i = 0; i < G_N_ELEMENTS (abbreviated); i++)
    {
      guint32 first = pattern->sink.forms[abbreviated[i]][0];
      BwSlice word;

      if (first == 0)
        continue;
      word = word_at (audit, first - 1);
      if (!is_listed (audit, word))
        add_at (audit, BW_FINDING_NOT_LISTED, BW_SEVERITY_ERROR, word);
    }
}

static gboolean
is_word_used (const BwPattern *pattern,
              guint            word)
{
  for (guint form = 0; form < BW_WORD_FORMS; form++)
    if (pattern->sink.forms[word][form] != 0)
      return TRUE;

  return FALSE;
}

/* Does the term stand alone somewhere outside the list, in the notes perhaps? */
static gboolean
is_mentioned (const BwPatternAudit *audit,
              BwSlice               term)
{
  const BwPattern *pattern = audit->pattern;
  const char *text = pattern->text;
  const char *at = text;
  const char *end = text + pattern->length;

  for (; (at = memchr (at, text[term.offset], (gsize) (end - at))) != NULL; at++)
    if ((gsize) (end - at) >= term.length && memcmp (at, text + term.offset, term.length) == 0 &&
        (at == text || !g_ascii_isalnum (at[-1])) && !g_ascii_isalnum (at[term.length]) &&
        bw_pattern_part_at (pattern, (guint32) (at - text)) != BW_PART_ABBREVIATIONS &&
        bw_pattern_part_at (pattern, (guint32) (at - text)) != BW_PART_SPECIAL)
      return TRUE;

  return FALSE;
}

static void
check_unused (BwPatternAudit *audit)
{
  const BwPattern *pattern = audit->pattern;

  for (guint i = 0; i < pattern->front.abbreviations->len; i++)
    {
      const BwPatternAbbreviation *entry = &g_array_index (pattern->front.abbreviations,
                                                           BwPatternAbbreviation, i);

      if (entry->stitch != BW_STITCH_NONE ? pattern->sink.stitches[entry->stitch] != 0
                                          : entry->word == BW_WORD_NONE ||
                                            is_word_used (pattern, entry->word))
        continue;
      /* rounds may be called rows, rounds or nothing at all */
      if (entry->word == BW_WORD_ROUND || entry->word == BW_WORD_RND || entry->word == BW_WORD_ROW)
        continue;
      if (is_mentioned (audit, entry->term))
        continue;
      bw_audit_add (audit, BW_FINDING_NOT_USED, BW_SEVERITY_NOTE, entry->term)->word = entry->term;
    }
}

/* --- Spellings --- */

static void
tell_spellings (BwPatternAudit *audit,
                guint32         first,
                guint32         second)
{
  BwSlice one = word_at (audit, MIN (first, second));
  BwSlice other = word_at (audit, MAX (first, second));
  BwPatternFinding *finding = add_at (audit, BW_FINDING_TWO_SPELLINGS, BW_SEVERITY_WARNING, other);

  finding->other = one;
}

static void
check_spellings (BwPatternAudit *audit)
{
  const BwNotationSink *sink = &audit->pattern->sink;

  for (guint i = 0; i < bw_stitch_dictionary_size (audit->pattern->dictionary); i++)
    if (sink->spellings[i] != 0)
      tell_spellings (audit, sink->stitches[i] - 1, sink->spellings[i] - 1);
  for (guint i = 0; i < G_N_ELEMENTS (abbreviated); i++)
    {
      const guint32 *forms = sink->forms[abbreviated[i]];
      guint32 full = forms[1] != 0 ? forms[1] : forms[2];

      if (forms[0] != 0 && full != 0)
        tell_spellings (audit, forms[0] - 1, full - 1);
    }
}

/* --- UK or US --- */

#define FOREIGN_MOST 24

typedef struct
{
  BwSlice words[FOREIGN_MOST]; /* that were told already */
  guint   n;
} Foreign;

static gboolean
was_told (const BwPatternAudit *audit,
          const Foreign        *foreign,
          BwSlice               word)
{
  const char *text = audit->pattern->text;

  for (guint i = 0; i < foreign->n; i++)
    if (foreign->words[i].length == word.length &&
        g_ascii_strncasecmp (text + foreign->words[i].offset, text + word.offset,
                             word.length) == 0)
      return TRUE;

  return foreign->n == FOREIGN_MOST;
}

/* Tells each word that only the other edition has, where it comes first. */
static void
find_foreign (BwPatternAudit *audit,
              Foreign        *foreign,
              guint32         offset,
              guint32         end)
{
  const char *text = audit->pattern->text;

  while (offset < end)
    {
      BwSlice word;

      while (offset < end && !g_ascii_isalpha (text[offset]))
        offset++;
      word.offset = offset;
      while (offset < end && g_ascii_isalnum (text[offset]))
        offset++;
      word.length = offset - word.offset;
      if (word.length < 2 || word.length > 8 ||
          !bw_pattern_foreign_word (audit->pattern->terms, text + word.offset, word.length) ||
          was_told (audit, foreign, word))
        continue;
      foreign->words[foreign->n++] = word;
      add_at (audit, BW_FINDING_OTHER_TERMS, BW_SEVERITY_ERROR, word);
    }
}

/* Only what is work, a heading, the gauge or a special stitch proves a mixture:
 * elsewhere a pattern may explain the other terms. */
static void
check_terms (BwPatternAudit *audit)
{
  const BwPattern *pattern = audit->pattern;
  Foreign foreign = { .n = 0 };

  if (!pattern->terms_stated)
    bw_audit_add (audit, BW_FINDING_TERMS_UNSAID, BW_SEVERITY_ERROR, (BwSlice) { 0, 0 });

  for (guint i = 0; i < pattern->sections->len; i++)
    {
      BwSlice heading = g_array_index (pattern->sections, BwPatternSection, i).heading;

      find_foreign (audit, &foreign, heading.offset, heading.offset + heading.length);
    }
  for (guint i = 0; i < pattern->front.gauges->len; i++)
    {
      guint32 offset = g_array_index (pattern->front.gauges, BwPatternGauge, i).offset;

      while (offset > 0 && pattern->text[offset - 1] != '\n' && pattern->text[offset - 1] != '\r')
        offset--;
      find_foreign (audit, &foreign, offset, bw_audit_end_of_line (audit, offset));
    }
  for (guint i = 0; i < pattern->front.abbreviations->len; i++)
    {
      const BwPatternAbbreviation *entry = &g_array_index (pattern->front.abbreviations,
                                                           BwPatternAbbreviation, i);

      if (entry->special)
        find_foreign (audit, &foreign, entry->term.offset,
                      entry->meaning.offset + entry->meaning.length);
    }
  for (guint i = 0; i < pattern->lines->len; i++)
    {
      const BwPatternLine *line = bw_audit_line (audit, i);

      find_foreign (audit, &foreign, line->offset, bw_audit_end_of_work (audit, line));
    }
}

/* Looks at the words of the pattern. */
void
bw_audit_terms (BwPatternAudit *audit)
{
  check_terms (audit);
  check_spellings (audit);
  if (audit->pattern->front.abbreviations->len > 0)
    {
      check_used (audit);
      check_unused (audit);
    }
}
