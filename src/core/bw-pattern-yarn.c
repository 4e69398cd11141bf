#define G_LOG_DOMAIN "bw-core"

#include "bw-pattern-private.h"

#include <string.h>

/* Lines of the materials: "Yarn: DK wool; 240 m in a ball of 100 g",
 * "A (Tar): 68 (81, 85) m; 1 (1, 1) balls", "Colours: A navy, B cream". */

/* Words for the thickness of a yarn, and the class 0 to 7 that they mean. Longer
 * ones first: "super chunky" is not "chunky". */
static const struct
{
  const char *words;
  int         weight_class;
} thicknesses[] = {
  { "super chunky", 6 }, { "super bulky", 6 }, { "super fine", 1 }, { "jumbo", 7 },
  { "roving", 7 },       { "chunky", 5 },      { "bulky", 5 },      { "light worsted", 3 },
  { "worsted", 4 },      { "aran", 4 },        { "10 ply", 4 },     { "10-ply", 4 },
  { "double knit", 3 },  { "dk", 3 },          { "8 ply", 3 },      { "8-ply", 3 },
  { "sport", 2 },        { "5 ply", 2 },       { "5-ply", 2 },      { "fingering", 1 },
  { "sock", 1 },         { "4 ply", 1 },       { "4-ply", 1 },      { "3 ply", 1 },
  { "lace", 0 },
};

static const char *
find_word (const char *at,
           const char *end,
           const char *word)
{
  gsize length = strlen (word);

  for (; at + length <= end; at++)
    if (g_ascii_tolower (*at) == word[0] && g_ascii_strncasecmp (at, word, length) == 0)
      return at;

  return NULL;
}

static gboolean
stands_alone (const BwPattern *pattern,
              const char      *at,
              gsize            length,
              const char      *end)
{
  return (at == pattern->text || !g_ascii_isalnum (at[-1])) &&
         (at + length >= end || !g_ascii_isalnum (at[length]));
}

static int
class_of (const BwPattern *pattern,
          const char      *at,
          const char      *end)
{
  for (gsize i = 0; i < G_N_ELEMENTS (thicknesses); i++)
    {
      const char *found = find_word (at, end, thicknesses[i].words);

      if (found != NULL && stands_alone (pattern, found, strlen (thicknesses[i].words), end))
        return thicknesses[i].weight_class;
    }

  return -1;
}

static BwSlice
trimmed (const BwPattern *pattern,
         const char      *start,
         const char      *end)
{
  while (start < end && (g_ascii_isspace (*start) || strchr (",;:()=-", *start) != NULL))
    start++;
  while (end > start && (g_ascii_isspace (end[-1]) || strchr (",;:()=-.", end[-1]) != NULL))
    end--;
  return (BwSlice) { (guint32) (start - pattern->text), (guint32) (end - start) };
}

/* "A", "MC", "CC2": how long it is; 0 = none begins here. */
static gsize
letter_at (const BwPattern *pattern,
           const char      *at,
           const char      *end)
{
  gsize length = 1;

  if (!g_ascii_isupper (*at))
    return 0;
  if (end - at > 1 && (*at == 'M' || *at == 'C') && at[1] == 'C')
    length = end - at > 2 && g_ascii_isdigit (at[2]) ? 3 : 2;
  return stands_alone (pattern, at, length, end) ? length : 0;
}

/* What the work calls the yarn, and its other words, in "Yarn A (navy)". */
static void
read_name (const BwPattern *pattern,
           const char      *start,
           const char      *end,
           BwPatternYarn   *yarn)
{
  static const char *const skipped[] = { "yarn", "colour", "color", "colours", "colors", "shade" };
  const char *at;
  const char *behind = start;

  for (gsize i = 0; i < G_N_ELEMENTS (skipped); i++)
    {
      gsize n = strlen (skipped[i]);

      if ((gsize) (end - start) >= n && g_ascii_strncasecmp (start, skipped[i], n) == 0 &&
          ((gsize) (end - start) == n || !g_ascii_isalnum (start[n])))
        {
          start += n;
          while (start < end && g_ascii_isspace (*start))
            start++;
        }
    }
  for (at = behind = start; at < end; at++)
    {
      gsize n = letter_at (pattern, at, end);

      if (n == 0 || (n == 1 && at > start && *at != 'A' && at[-1] != '('  && at[-1] != ' '))
        continue;
      yarn->letter = (BwSlice) { (guint32) (at - pattern->text), (guint32) n };
      if (at > start + 1)
        end = at; /* "main colour (MC)": the words stand in front */
      else
        behind = at + n;
      break;
    }
  yarn->name = trimmed (pattern, behind, end);
}

/* --- Amounts --- */

/* Is the quantity of one ball, or of so many grams? Words round it tell. */
static gboolean
is_of_ball (const char *before_start,
            const char *start,
            const char *behind,
            const char *end)
{
  static const char *const before[] = { "per", "/", " of ", "=", "ball", "skein", "hank" };
  static const char *const after[] = { " in a ball", " per", "/", " a ball", " ball", " each",
                                       " in each", " to ", " in ", " =", " skein", " hank" };

  for (gsize i = 0; i < G_N_ELEMENTS (before); i++)
    if (find_word (before_start, start, before[i]) != NULL)
      return TRUE;
  while (behind < end && (*behind == ')' || *behind == ' '))
    behind++;
  for (gsize i = 0; i < G_N_ELEMENTS (after); i++)
    {
      const char *word = after[i] + (after[i][0] == ' ');
      gsize n = strlen (word);

      if ((gsize) (end - behind) >= n && g_ascii_strncasecmp (behind, word, n) == 0)
        return TRUE;
    }
  return FALSE;
}

static BwQuantity *
slot (BwPatternYarn *yarn,
      BwPatternUnit  unit,
      gboolean       ball)
{
  switch (unit)
    {
    case BW_UNIT_METRE: return ball ? &yarn->ball_metres : &yarn->metres;
    case BW_UNIT_YARD: return ball ? &yarn->ball_yards : &yarn->yards;
    case BW_UNIT_GRAM: return ball ? &yarn->ball_grams : &yarn->grams;
    case BW_UNIT_OUNCE: return ball ? &yarn->ball_ounces : &yarn->ounces;
    case BW_UNIT_BALL: return &yarn->balls;
    default: return NULL;
    }
}

/* "200 m (219 yd)": the second says the first again, so it belongs where that does. */
static gboolean
says_again (const BwPattern  *pattern,
            const BwQuantity *first,
            const BwQuantity *second)
{
  const char *at = pattern->text + first->offset + first->length;
  const char *end = pattern->text + second->offset;
  gboolean lengths = first->unit == BW_UNIT_METRE || first->unit == BW_UNIT_YARD;
  gboolean lengths_too = second->unit == BW_UNIT_METRE || second->unit == BW_UNIT_YARD;

  while (at < end && (*at == ' ' || *at == '(' || *at == '/' || *at == ','))
    at++;
  return first->n > 0 && at == end && lengths == lengths_too && first->unit != second->unit &&
         first->unit != BW_UNIT_BALL && second->unit != BW_UNIT_BALL;
}

static gboolean
read_amounts (BwPattern     *pattern,
              const char    *at,
              const char    *end,
              BwPatternYarn *yarn)
{
  BwQuantity last = { 0 };
  const char *behind = at;
  gboolean ball = FALSE;
  gboolean any = FALSE;
  BwQuantity quantity;

  while (bw_pattern_next_quantity (pattern, &at, end, &quantity))
    {
      const char *start = pattern->text + quantity.offset;
      BwQuantity *where;

      if (slot (yarn, (BwPatternUnit) quantity.unit, FALSE) == NULL)
        continue;
      if (says_again (pattern, &last, &quantity))
        ball |= is_of_ball (start, start, at, end);
      else
        ball = is_of_ball (behind, start, at, end);
      if (ball && last.n > 0 && says_again (pattern, &last, &quantity))
        {
          /* what says it is of a ball stands behind both */
          BwQuantity *first = slot (yarn, (BwPatternUnit) last.unit, FALSE);
          BwQuantity *moved = slot (yarn, (BwPatternUnit) last.unit, TRUE);

          if (first->n > 0 && first->offset == last.offset && moved->n == 0)
            {
              *moved = *first;
              *first = (BwQuantity) { 0 };
            }
        }
      where = slot (yarn, (BwPatternUnit) quantity.unit, ball && quantity.n == 1);
      if (where->n == 0)
        *where = quantity;
      any = TRUE;
      last = quantity;
      behind = at;
    }

  return any;
}

/* --- Lines --- */

/* "A navy, B cream": a colour between the commas. */
static void
read_colours (BwPattern  *pattern,
              const char *at,
              const char *end)
{
  while (at < end)
    {
      BwPatternYarn yarn = { .weight_class = -1 };
      const char *stop = at;
      BwSlice piece;

      while (stop < end && *stop != ',' && *stop != ';')
        stop++;
      piece = trimmed (pattern, at, stop);
      if (piece.length > 0 && piece.length <= 60)
        {
          yarn.offset = piece.offset;
          read_name (pattern, pattern->text + piece.offset,
                     pattern->text + piece.offset + piece.length, &yarn);
          if (bw_pattern_has_room (pattern->front.yarns))
            g_array_append_val (pattern->front.yarns, yarn);
        }
      at = stop + 1;
    }
}

static gboolean
is_word (const char *start,
         const char *end,
         const char *word)
{
  return strlen (word) == (gsize) (end - start) &&
         g_ascii_strncasecmp (start, word, (gsize) (end - start)) == 0;
}

/* The words up to a comma or a figure. */
static BwSlice
first_words (const BwPattern *pattern,
             const char      *start,
             const char      *end)
{
  const char *stop = start;

  while (stop < end && *stop != ',' && *stop != ';' && *stop != '(' && !g_ascii_isdigit (*stop))
    stop++;
  return trimmed (pattern, start, stop);
}

/* "A (Tar): 68 m", "MC: 2 balls" outside of the materials. */
gboolean
bw_pattern_begins_colour (const BwPattern *pattern,
                          const BwStretch *line)
{
  gsize length = letter_at (pattern, line->start, line->end);
  const char *colon = memchr (line->start, ':', (gsize) MIN (line->end - line->start, 60));
  const char *at = line->start + length;

  if (length == 0 || colon == NULL || colon + 1 >= line->end)
    return FALSE;
  while (at < colon && g_ascii_isspace (*at))
    at++;
  if (*at != ':' && *at != '(' && *at != ',')
    return FALSE;
  for (at = colon + 1; at < line->end && g_ascii_isspace (*at);)
    at++;
  return at < line->end && g_ascii_isdigit (*at);
}

/* Reads a line of the materials that is about yarn. */
void
bw_pattern_read_yarn (BwPattern       *pattern,
                      const BwStretch *line)
{
  BwPatternYarn yarn = { .offset = (guint32) (line->start - pattern->text) };
  const char *colon = memchr (line->start, ':', (gsize) (line->end - line->start));
  const char *start = line->start;

  if (colon != NULL && colon - start > 60)
    colon = NULL;
  if (colon != NULL && (is_word (start, colon, "colours") || is_word (start, colon, "colors")))
    {
      read_colours (pattern, colon + 1, line->end);
      return;
    }
  if (colon != NULL && (is_word (start, colon, "materials") || is_word (start, colon, "you will need")))
    {
      start = colon + 1;
      colon = NULL;
    }

  yarn.weight_class = class_of (pattern, start, line->end);
  if (!read_amounts (pattern, colon != NULL ? colon : start, line->end, &yarn) && colon == NULL &&
      yarn.weight_class < 0)
    return;
  if (colon != NULL)
    {
      read_name (pattern, start, colon, &yarn);
      if (yarn.letter.length == 0 && yarn.name.length == 0)
        yarn.name = first_words (pattern, colon + 1, line->end);
    }
  else
    {
      const char *open = memchr (start, '(', (gsize) (line->end - start));

      /* "2 balls of harbour wool (A)" */
      for (; open != NULL; open = memchr (open + 1, '(', (gsize) (line->end - open - 1)))
        {
          gsize n = open + 1 < line->end ? letter_at (pattern, open + 1, line->end) : 0;

          if (n > 0 && open + 1 + n < line->end && open[1 + n] == ')')
            yarn.letter = (BwSlice) { (guint32) (open + 1 - pattern->text), (guint32) n };
        }
    }
  if (bw_pattern_has_room (pattern->front.yarns))
    g_array_append_val (pattern->front.yarns, yarn);
}

/**
 * bw_pattern_yarn_named:
 * @pattern: a pattern
 * @name: a piece of its text: what the work calls a colour
 *
 * Returns: index of the yarn of the materials with that letter or among whose
 *   words it is; -1 = none
 */
int
bw_pattern_yarn_named (const BwPattern *pattern,
                       BwSlice          name)
{
  const char *text = pattern->text;
  g_autofree char *wanted = g_ascii_strdown (text + name.offset, (gssize) name.length);

  for (guint i = 0; i < pattern->front.yarns->len; i++)
    {
      const BwPatternYarn *yarn = &g_array_index (pattern->front.yarns, BwPatternYarn, i);
      const char *words = text + yarn->name.offset;
      const char *end = words + yarn->name.length;
      const char *at;

      if (yarn->letter.length == name.length &&
          g_ascii_strncasecmp (text + yarn->letter.offset, wanted, name.length) == 0)
        return (int) i;
      for (at = words; name.length > 0 && (at = find_word (at, end, wanted)) != NULL; at++)
        if (stands_alone (pattern, at, name.length, end))
          return (int) i;
    }

  return -1;
}
