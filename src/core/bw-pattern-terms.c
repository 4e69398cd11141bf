#define G_LOG_DOMAIN "bw-core"

#include "bw-pattern-private.h"

#include <string.h>

/* UK or US? A text that says so is believed; else the words that only one of
 * the two has decide. "dc", "tr" and "dtr" are in both and never do. Stitch
 * names weigh more than the words round them, which travel.
 *
 * Which words belong to one edition: "Crochet terms by country"
 * (funcrochetdesigns.com), "UK and US crochet terms" (woolandcrafts.co.uk);
 * yrh from the abbreviations page of a UK book of shawls. */

typedef enum
{
  KIND_NONE,
  KIND_UK,        /* "UK", "British" */
  KIND_US,
  KIND_TERMS,     /* "terms" */
  KIND_BETWEEN,   /* words that may stand between the two: "in", "crochet" */
  KIND_STITCH_UK,
  KIND_STITCH_US,
  KIND_WORD_UK,
  KIND_WORD_US,
  KIND_SINGLE,    /* "single crochet" is US */
  KIND_HALF,      /* "half double" is US, "half treble" UK */
  KIND_N,
} Kind;

static const struct
{
  const char *word;
  Kind        kind;
} words[] = {
  { "american", KIND_US },     { "are", KIND_BETWEEN },      { "british", KIND_UK },
  { "crochet", KIND_BETWEEN }, { "edition", KIND_TERMS },    { "english", KIND_UK },
  { "gauge", KIND_WORD_US },   { "half", KIND_HALF },        { "hdc", KIND_STITCH_US },    { "hdc2tog", KIND_STITCH_US },
  { "hdc3tog", KIND_STITCH_US }, { "htr", KIND_STITCH_UK },  { "htr2tog", KIND_STITCH_UK },
  { "htr3tog", KIND_STITCH_UK }, { "in", KIND_BETWEEN },     { "miss", KIND_WORD_UK },
  { "sc", KIND_STITCH_US },    { "sc2tog", KIND_STITCH_US }, { "sc3tog", KIND_STITCH_US },
  { "single", KIND_SINGLE },   { "sk", KIND_WORD_US },      { "skip", KIND_WORD_US },     { "tension", KIND_WORD_UK },
  { "terminology", KIND_TERMS }, { "terms", KIND_TERMS },    { "trtr", KIND_STITCH_UK },
  { "ttr", KIND_STITCH_UK },   { "uk", KIND_UK },            { "us", KIND_US },
  { "yo", KIND_WORD_US },      { "yrh", KIND_WORD_UK },
};

static Kind
kind_of (const char *word,
         gsize       length)
{
  char first = g_ascii_tolower (word[0]);

  for (guint i = 0; i < G_N_ELEMENTS (words); i++)
    if (first == words[i].word[0] && strlen (words[i].word) == length &&
        g_ascii_strncasecmp (word, words[i].word, length) == 0)
      return words[i].kind;

  return KIND_NONE;
}

/* Letters that one of the words begins with. */
static gboolean
may_begin (char c)
{
  return strchr ("abceghimstuy", g_ascii_tolower (c)) != NULL && c != '\0';
}

/* Follows "UK … terms" and "Terms: UK" over the words. */
typedef struct
{
  Kind edition; /* an edition was named within the last words */
  guint edition_age;
  guint terms_age;
} Statement;

static Kind
follow (Statement *statement,
        Kind       kind)
{
  statement->edition_age++;
  statement->terms_age++;
  if (kind == KIND_UK || kind == KIND_US)
    {
      if (statement->terms_age <= 2)
        return kind;
      statement->edition = kind;
      statement->edition_age = 0;
    }
  else if (kind == KIND_TERMS)
    {
      if (statement->edition_age <= 2 && statement->edition != KIND_NONE)
        return statement->edition;
      statement->terms_age = 0;
    }
  return KIND_NONE;
}

/* The next word from `at` on; its length, 0 at the end. */
static gsize
next_word (const char **at,
           const char  *end)
{
  const char *word;

  while (*at < end && !g_ascii_isalnum (**at))
    (*at)++;
  word = *at;
  while (word < end && g_ascii_isalnum (*word))
    word++;
  return (gsize) (word - *at);
}

/* What "single" or "half" is with the word behind it. */
static Kind
with_next (Kind        kind,
           const char *behind,
           const char *end)
{
  gsize length = next_word (&behind, end);

  if (kind == KIND_SINGLE)
    return length == 7 && g_ascii_strncasecmp (behind, "crochet", 7) == 0 ? KIND_STITCH_US
                                                                         : KIND_NONE;
  if (kind != KIND_HALF || length != 6)
    return kind == KIND_HALF ? KIND_NONE : kind;
  return g_ascii_strncasecmp (behind, "treble", 6) == 0   ? KIND_STITCH_UK
         : g_ascii_strncasecmp (behind, "double", 6) == 0 ? KIND_STITCH_US
                                                          : KIND_NONE;
}

/* Counts the words of each kind; finds where each came first. A statement of
 * the terms ends the search. */
static Kind
scan (BwPattern *pattern,
      guint     *counts,
      guint32   *first)
{
  const char *at = pattern->text;
  const char *end = at + pattern->length;
  Statement statement = { KIND_NONE, 9, 9 };
  gsize length;

  for (; (length = next_word (&at, end)) > 0; at += length)
    {
      Kind kind = may_begin (*at) ? kind_of (at, length) : KIND_NONE;
      Kind stated;

      kind = with_next (kind, at + length, end);
      stated = follow (&statement, kind);

      if (stated != KIND_NONE)
        {
          bw_pattern_note_piece (pattern, BW_PIECE_TERMS, at, at + length);
          return stated;
        }
      if (counts[kind]++ == 0)
        first[kind] = (guint32) (at - pattern->text);
    }

  return KIND_NONE;
}

/* Sets the terms of the pattern, unless the caller said them. */
void
bw_pattern_find_terms (BwPattern *pattern)
{
  guint counts[KIND_N] = { 0 };
  guint32 first[KIND_N] = { 0 };
  Kind stated = scan (pattern, counts, first);
  guint uk = counts[KIND_STITCH_UK];
  guint us = counts[KIND_STITCH_US];

  pattern->terms_stated = stated != KIND_NONE;
  if (pattern->terms_from == BW_TERMS_ASKED)
    return;
  if (stated != KIND_NONE)
    {
      pattern->terms_from = BW_TERMS_STATED;
      pattern->terms = stated == KIND_UK ? BW_TERMS_UK : BW_TERMS_US;
      return;
    }

  if (uk == us)
    {
      uk = counts[KIND_WORD_UK];
      us = counts[KIND_WORD_US];
    }
  if (uk == us)
    return;
  pattern->terms_from = BW_TERMS_FROM_WORDS;
  pattern->terms = uk > us ? BW_TERMS_UK : BW_TERMS_US;
}

/* Is the word one that only the other edition has? */
gboolean
bw_pattern_foreign_word (BwTerms     terms,
                         const char *word,
                         gsize       length)
{
  Kind kind = may_begin (word[0]) ? kind_of (word, length) : KIND_NONE;

  if (terms == BW_TERMS_UK)
    return kind == KIND_STITCH_US || kind == KIND_WORD_US;
  return kind == KIND_STITCH_UK || kind == KIND_WORD_UK;
}
