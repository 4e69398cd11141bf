#define G_LOG_DOMAIN "bw-core"

#include "bw-notation-lexer.h"

#include <string.h>

/* Marks outside ASCII and what they are read as. Spaces of every kind are
 * found by g_unichar_isspace(). */
static char
plain_mark (gunichar c)
{
  switch (c)
    {
    case 0x00d7: return 'x';                /* multiplication sign */
    case 0x2010: case 0x2011: case 0x2012:  /* hyphens and dashes */
    case 0x2013: case 0x2014: case 0x2212:
      return '-';
    case 0xfeff: case 0x200b: case 0x2060:  /* a byte order mark, spaces of no width */
    case 0x2018: case 0x2019: case 0x201c:  /* quotation marks */
    case 0x201d: case 0x201e: case 0xab: case 0xbb:
    case 0x2026:                            /* three dots */
      return ' ';
    default:
      return c < 0x80 ? (char) c : '?';
    }
}

/**
 * bw_lexer_init:
 * @lexer: (out caller-allocates): the lexer
 * @text: valid UTF-8
 * @length: its length in bytes
 */
void
bw_lexer_init (BwLexer    *lexer,
               const char *text,
               gsize       length)
{
  lexer->at = text;
  lexer->end = text + length;
  lexer->column = 1;
}

static gunichar
peek (const BwLexer *lexer)
{
  return lexer->at < lexer->end ? g_utf8_get_char (lexer->at) : 0;
}

static void
skip_one (BwLexer *lexer)
{
  lexer->at = MIN (g_utf8_next_char (lexer->at), lexer->end);
  lexer->column++;
}

/* Nearly all of a text is ASCII: the tables of Unicode are asked about the rest. */
static gboolean
at_letter (const BwLexer *lexer)
{
  guchar c = (guchar) *lexer->at;

  return c < 0x80 ? g_ascii_isalpha (c) : g_unichar_isalpha (peek (lexer));
}

static gboolean
at_word_character (const BwLexer *lexer)
{
  guchar c = (guchar) *lexer->at;

  return c < 0x80 ? g_ascii_isalnum (c) : g_unichar_isalnum (peek (lexer));
}

static gboolean
at_space (const BwLexer *lexer)
{
  guchar c = (guchar) *lexer->at;

  if (c < 0x80)
    return g_ascii_isspace (c) || c == '\v';
  return g_unichar_isspace (peek (lexer)) || plain_mark (peek (lexer)) == ' ';
}

/* A hyphen belongs to a word when letters or digits go on behind it: "ch-sp". */
static gboolean
hyphen_joins (const BwLexer *lexer)
{
  const char *next = lexer->at + 1;

  return *lexer->at == '-' && next < lexer->end && g_unichar_isalnum (g_utf8_get_char (next));
}

static void
read_word (BwLexer *lexer,
           BwToken *token)
{
  token->kind = BW_TOKEN_WORD;
  while (lexer->at < lexer->end && (at_word_character (lexer) || hyphen_joins (lexer)))
    skip_one (lexer);
}

/* Numbers in words, as far as patterns write them, by their length. */
static const struct
{
  char        word[8];
  guint8      length;
  guint8      number;
  BwTokenKind kind;
} number_words[] = {
  { "one", 3, 1, BW_TOKEN_NUMBER },     { "two", 3, 2, BW_TOKEN_NUMBER },
  { "six", 3, 6, BW_TOKEN_NUMBER },     { "ten", 3, 10, BW_TOKEN_NUMBER },
  { "four", 4, 4, BW_TOKEN_NUMBER },    { "five", 4, 5, BW_TOKEN_NUMBER },
  { "nine", 4, 9, BW_TOKEN_NUMBER },    { "three", 5, 3, BW_TOKEN_NUMBER },
  { "seven", 5, 7, BW_TOKEN_NUMBER },   { "eight", 5, 8, BW_TOKEN_NUMBER },
  { "eleven", 6, 11, BW_TOKEN_NUMBER }, { "twelve", 6, 12, BW_TOKEN_NUMBER },
  { "third", 5, 3, BW_TOKEN_ORDINAL },  { "fifth", 5, 5, BW_TOKEN_ORDINAL },
  { "sixth", 5, 6, BW_TOKEN_ORDINAL },  { "second", 6, 2, BW_TOKEN_ORDINAL },
  { "fourth", 6, 4, BW_TOKEN_ORDINAL },
};

static void
read_number_word (BwToken *token)
{
  char first = g_ascii_tolower (token->start[0]);

  if (token->length < 3 || token->length > 6)
    return;

  for (gsize i = 0; i < G_N_ELEMENTS (number_words); i++)
    if (number_words[i].length == token->length && number_words[i].word[0] == first &&
        g_ascii_strncasecmp (number_words[i].word, token->start, token->length) == 0)
      {
        token->kind = number_words[i].kind;
        token->number = number_words[i].number;
      }
}

static gboolean
is_ordinal_ending (const char *at,
                   const char *end)
{
  static const char *const endings[] = { "st", "nd", "rd", "th" };

  if (end - at < 2 || (end - at > 2 && g_ascii_isalnum (at[2])))
    return FALSE;
  for (guint i = 0; i < G_N_ELEMENTS (endings); i++)
    if (g_ascii_strncasecmp (at, endings[i], 2) == 0)
      return TRUE;

  return FALSE;
}

static void
read_number (BwLexer *lexer,
             BwToken *token)
{
  guint64 value = 0;

  token->kind = BW_TOKEN_NUMBER;
  for (; lexer->at < lexer->end && g_ascii_isdigit (*lexer->at); skip_one (lexer))
    value = MIN (value * 10 + (guint64) (*lexer->at - '0'), G_MAXUINT);
  token->number = (guint) value;

  if (is_ordinal_ending (lexer->at, lexer->end))
    {
      token->kind = BW_TOKEN_ORDINAL;
      skip_one (lexer);
      skip_one (lexer);
    }
}

/**
 * bw_lexer_next:
 * @lexer: the lexer
 * @token: (out caller-allocates): the next token
 */
void
bw_lexer_next (BwLexer *lexer,
               BwToken *token)
{
  while (lexer->at < lexer->end && at_space (lexer))
    skip_one (lexer);

  memset (token, 0, sizeof *token);
  token->start = lexer->at;
  token->column = lexer->column;
  if (lexer->at >= lexer->end)
    return;

  if (g_ascii_isdigit (*lexer->at))
    read_number (lexer, token);
  else if (at_letter (lexer))
    read_word (lexer, token);
  else
    {
      token->kind = BW_TOKEN_MARK;
      token->mark = plain_mark (peek (lexer));
      skip_one (lexer);
    }
  token->length = (gsize) (lexer->at - token->start);
  if (token->kind == BW_TOKEN_WORD)
    read_number_word (token);
}

/**
 * bw_token_is_word:
 * @token: a token
 * @word: a word in lower-case ASCII
 *
 * Returns: whether the token is that word, in any case
 */
gboolean
bw_token_is_word (const BwToken *token,
                  const char    *word)
{
  return token->kind == BW_TOKEN_WORD && strlen (word) == token->length &&
         g_ascii_strncasecmp (token->start, word, token->length) == 0;
}

/**
 * bw_token_is_mark:
 * @token: a token
 * @mark: a mark
 *
 * Returns: whether the token is that mark
 */
gboolean
bw_token_is_mark (const BwToken *token,
                  char           mark)
{
  return token->kind == BW_TOKEN_MARK && token->mark == mark;
}
