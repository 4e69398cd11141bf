#define G_LOG_DOMAIN "bw-core"

#include "bw-pattern-private.h"

#include <string.h>

/* Lists of abbreviations: "ch: chain", "st(s) = stitch(es)", "ch – chain; dc –
 * double crochet", or the bare words "ch, dc, ss". */

#define TERM_MOST 24

static const char *const separators[] = { ":", "=", " \xe2\x80\x93", " \xe2\x80\x94", " - ", "\t",
                                          "  ", "\xe2\x80\x94", "\xe2\x80\x93" };

/* Where the first separator stands, and how long it is. */
static const char *
find_separator (const char *at,
                const char *end,
                gsize      *length)
{
  for (; at < end; at++)
    for (gsize i = 0; i < G_N_ELEMENTS (separators); i++)
      {
        gsize n = strlen (separators[i]);

        if ((gsize) (end - at) >= n && memcmp (at, separators[i], n) == 0)
          {
            *length = n;
            return at;
          }
      }

  *length = 0;
  return NULL;
}

static BwSlice
trimmed (const BwPattern *pattern,
         const char      *start,
         const char      *end)
{
  while (start < end && (g_ascii_isspace (*start) || *start == ',' || *start == '='))
    start++;
  while (end > start && (g_ascii_isspace (end[-1]) || strchr (".,;:=", end[-1]) != NULL))
    end--;
  return (BwSlice) { (guint32) (start - pattern->text), (guint32) (end - start) };
}

/* The next way of writing it within a term: "st(s)" is "st" and "sts", "ss / sl
 * st" and "BLO/FLO" are two, "sl st (ss)" too. `word` holds what was found. */
static gboolean
next_form (const char **at,
           const char  *end,
           char        *word)
{
  gsize n = 0;

  while (*at < end && (g_ascii_isspace (**at) || strchr ("/,()", **at) != NULL))
    (*at)++;
  while (*at < end && strchr ("/,()", **at) == NULL && n < TERM_MOST)
    word[n++] = *(*at)++;
  while (n > 0 && g_ascii_isspace (word[n - 1]))
    n--;
  word[n] = '\0';
  return n > 0;
}

static gboolean
is_form_of (const BwPattern *pattern,
            BwSlice          term,
            const char      *word,
            gsize            length)
{
  const char *at = pattern->text + term.offset;
  const char *end = at + term.length;
  const char *ending = term.length > 3 && memcmp (end - 3, "(s)", 3) == 0 ? end - 3 : NULL;
  char form[TERM_MOST + 1];

  if (ending != NULL)
    {
      gsize stem = (gsize) (ending - at);

      return (length == stem || (length == stem + 1 && g_ascii_tolower (word[stem]) == 's')) &&
             g_ascii_strncasecmp (at, word, stem) == 0;
    }
  while (next_form (&at, end, form))
    if (strlen (form) == length && g_ascii_strncasecmp (form, word, length) == 0)
      return TRUE;

  return FALSE;
}

/* The stitch or word of the reader that the term is. */
static void
identify (const BwPattern       *pattern,
          BwPatternAbbreviation *entry)
{
  const char *at = pattern->text + entry->term.offset;
  const char *end = at + entry->term.length;
  char form[TERM_MOST + 1];

  entry->stitch = BW_STITCH_NONE;
  while (entry->stitch == BW_STITCH_NONE && entry->word == BW_WORD_NONE &&
         next_form (&at, end, form))
    {
      BwToken token = { .kind = BW_TOKEN_WORD, .start = form, .length = strlen (form) };
      guint which = 0;

      entry->stitch = bw_stitch_find_abbreviation (pattern->dictionary, form, strlen (form),
                                                   pattern->terms);
      entry->word = (guint16) bw_word_of (&token, &which);
      entry->form = (guint8) which;
    }
}

static gboolean
may_be_term (const BwPattern *pattern,
             BwSlice          term)
{
  const char *at = pattern->text + term.offset;
  guint words = 1;

  if (term.length == 0 || term.length > TERM_MOST || !g_ascii_isalnum (*at))
    return FALSE;
  for (guint i = 0; i < term.length; i++)
    words += at[i] == ' ';
  return words <= 4;
}

static void
add_entry (BwPattern  *pattern,
           const char *start,
           const char *end,
           gboolean    special)
{
  BwPatternAbbreviation entry = { .special = special };
  gsize length;
  const char *separator;

  entry.term = trimmed (pattern, start, end);
  start = pattern->text + entry.term.offset;
  separator = find_separator (start, start + entry.term.length, &length);
  if (separator != NULL)
    {
      entry.meaning = trimmed (pattern, separator + length, start + entry.term.length);
      entry.term = trimmed (pattern, start, separator);
    }
  else
    {
      /* "ch chain", "sl st slip stitch": the abbreviation, then its words */
      const char *stop = memchr (start, ' ', entry.term.length);

      if (stop != NULL)
        {
          if (stop - start == 2 && g_ascii_strncasecmp (start, "sl st", 5) == 0)
            stop += 3;
          entry.meaning = trimmed (pattern, stop, start + entry.term.length);
          entry.term = trimmed (pattern, start, stop);
        }
    }
  entry.offset = entry.term.offset;
  if (!may_be_term (pattern, entry.term) || !bw_pattern_has_room (pattern->front.abbreviations))
    return;
  identify (pattern, &entry);
  g_array_append_val (pattern->front.abbreviations, entry);
}

/* Does a list go on behind the comma or semicolon at `at`? With meanings each
 * entry has a separator of its own, without them none has. */
static gboolean
splits (const char *at,
        const char *end,
        gboolean    separated)
{
  const char *stop = at + 1;
  gsize length;

  if (*at == ';')
    return TRUE;
  if (*at != ',')
    return FALSE;
  while (stop < end && *stop != ',' && *stop != ';')
    stop++;
  return !separated || find_separator (at + 1, stop, &length) != NULL;
}

/* Reads a line of the list of abbreviations, or of the special stitches. */
void
bw_pattern_read_abbreviations (BwPattern       *pattern,
                               const BwStretch *line,
                               gboolean         special)
{
  const char *at = line->start;
  gsize length;
  gboolean separated;
  const char *start;

  if (bw_pattern_titled (line, &start) == BW_PART_ABBREVIATIONS ||
      bw_pattern_titled (line, NULL) == BW_PART_SPECIAL)
    bw_pattern_titled (line, &at);
  separated = find_separator (at, line->end, &length) != NULL;
  if (special)
    {
      add_entry (pattern, at, line->end, TRUE);
      return;
    }

  for (start = at; at < line->end; at++)
    if (splits (at, line->end, separated))
      {
        add_entry (pattern, start, at, FALSE);
        start = at + 1;
      }
  add_entry (pattern, start, line->end, FALSE);
}

/**
 * bw_pattern_lists:
 * @pattern: a pattern
 * @word: an abbreviation
 * @length: its length in bytes
 *
 * Returns: whether the pattern's abbreviations or special stitches list it
 */
gboolean
bw_pattern_lists (const BwPattern *pattern,
                  const char      *word,
                  gsize            length)
{
  for (guint i = 0; i < pattern->front.abbreviations->len; i++)
    if (is_form_of (pattern,
                    g_array_index (pattern->front.abbreviations, BwPatternAbbreviation, i).term,
                    word, length))
      return TRUE;

  return FALSE;
}
