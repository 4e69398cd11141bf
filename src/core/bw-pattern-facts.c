#define G_LOG_DOMAIN "bw-core"

#include "bw-pattern-private.h"

#include <string.h>

/* Sorts what lines of prose say by the words in them: measurements, hooks,
 * revision, date, copyright; gauge, yarn and abbreviations have files of their
 * own. Words are looked at once. */

#define NEAR 120 /* bytes: words further off belong to something else */

typedef enum
{
  SAYS_BRIM = 1 << 0,
  SAYS_CARE = 1 << 1,
  SAYS_CONTACT = 1 << 2,
  SAYS_COPYRIGHT = 1 << 3,
  SAYS_DATE = 1 << 4,
  SAYS_DEPTH = 1 << 5,
  SAYS_EASE = 1 << 6,
  SAYS_FINISHED = 1 << 7,
  SAYS_FINISHING = 1 << 8,
  SAYS_GIRTH = 1 << 9,
  SAYS_HEAD = 1 << 10,
  SAYS_MEASURE = 1 << 11,
  SAYS_MONTH = 1 << 12,
  SAYS_REVISION = 1 << 13,
  SAYS_SIZE = 1 << 14,
  SAYS_SKILL = 1 << 15,
} Says;

static const struct
{
  const char *word; /* begins the word in the text */
  Says        says;
} words[] = {
  { "ability", SAYS_SKILL },      { "across", SAYS_GIRTH },      { "advanced", SAYS_SKILL },
  { "april", SAYS_MONTH },        { "around", SAYS_GIRTH },      { "august", SAYS_MONTH },
  { "beginner", SAYS_SKILL },     { "brim", SAYS_BRIM },         { "care", SAYS_CARE },
  { "circumference", SAYS_GIRTH }, { "contact", SAYS_CONTACT },  { "copyright", SAYS_COPYRIGHT },
  { "correction", SAYS_REVISION }, { "cuff", SAYS_BRIM },        { "date", SAYS_DATE },
  { "december", SAYS_MONTH },     { "deep", SAYS_DEPTH },        { "depth", SAYS_DEPTH },
  { "difficulty", SAYS_SKILL },   { "ease", SAYS_EASE },         { "e-mail", SAYS_CONTACT },
  { "email", SAYS_CONTACT },      { "february", SAYS_MONTH },    { "finish", SAYS_FINISHING },
  { "finished", SAYS_FINISHED },  { "fit", SAYS_HEAD },          { "fits", SAYS_HEAD },
  { "girth", SAYS_GIRTH },        { "head", SAYS_HEAD },         { "height", SAYS_DEPTH },
  { "high", SAYS_DEPTH },         { "http", SAYS_CONTACT },      { "https", SAYS_CONTACT },
  { "intermediate", SAYS_SKILL }, { "january", SAYS_MONTH },     { "july", SAYS_MONTH },
  { "june", SAYS_MONTH },         { "length", SAYS_DEPTH },      { "level", SAYS_SKILL },
  { "licence", SAYS_COPYRIGHT },  { "license", SAYS_COPYRIGHT }, { "long", SAYS_DEPTH },
  { "march", SAYS_MONTH },        { "may", SAYS_MONTH },         { "measure", SAYS_MEASURE },
  { "measures", SAYS_MEASURE },   { "measurement", SAYS_MEASURE },
  { "measurements", SAYS_MEASURE }, { "november", SAYS_MONTH },  { "october", SAYS_MONTH },
  { "published", SAYS_DATE },     { "questions", SAYS_CONTACT }, { "reserved", SAYS_COPYRIGHT },
  { "rev", SAYS_REVISION },       { "revised", SAYS_REVISION },  { "revision", SAYS_REVISION },
  { "round", SAYS_GIRTH },        { "september", SAYS_MONTH },   { "size", SAYS_SIZE },
  { "sizes", SAYS_SIZE },         { "skill", SAYS_SKILL },       { "support", SAYS_CONTACT },
  { "tall", SAYS_DEPTH },         { "updated", SAYS_DATE },      { "version", SAYS_REVISION },
  { "wash", SAYS_CARE },          { "weave", SAYS_FINISHING },   { "width", SAYS_GIRTH },
  { "www", SAYS_CONTACT },
};

static guint
said_by (const char *word,
         gsize       length)
{
  char first = g_ascii_tolower (word[0]);

  for (gsize i = 0; i < G_N_ELEMENTS (words); i++)
    if (first == words[i].word[0] && strlen (words[i].word) == length &&
        g_ascii_strncasecmp (word, words[i].word, length) == 0)
      return words[i].says;

  return 0;
}

/* What the words between `at` and `end` say; bits. */
static guint
says (const char *at,
      const char *end)
{
  guint said = 0;

  while (at < end)
    {
      const char *word;

      while (at < end && !g_ascii_isalpha (*at))
        {
          if (*at == '@')
            said |= SAYS_CONTACT;
          else if ((guchar) *at == 0xc2 && at + 1 < end && (guchar) at[1] == 0xa9)
            said |= SAYS_COPYRIGHT;
          at++;
        }
      for (word = at; at < end && (g_ascii_isalpha (*at) || (*at == '-' && at > word)); at++)
        continue;
      if (at > word)
        said |= said_by (word, (gsize) (at - word));
    }

  return said;
}

static BwSlice
slice_of (const BwPattern *pattern,
          const char      *start,
          const char      *end)
{
  while (start < end && (g_ascii_isspace (*start) || strchr (",;:(.", *start) != NULL))
    start++;
  while (end > start && (g_ascii_isspace (end[-1]) || strchr (",;:(", end[-1]) != NULL))
    end--;
  return (BwSlice) { (guint32) (start - pattern->text), (guint32) (end - start) };
}

/* Is there room for one more of a kind? So that a text of nothing else does not
 * make each look-up long. */
gboolean
bw_pattern_has_room (const GArray *facts)
{
  return facts->len < BW_PATTERN_FACTS_MAX;
}

void
bw_pattern_front_init (BwPatternFront *front)
{
  front->values = g_array_new (FALSE, FALSE, sizeof (BwValue));
  front->gauges = g_array_new (FALSE, TRUE, sizeof (BwPatternGauge));
  front->tools = g_array_new (FALSE, TRUE, sizeof (BwPatternTool));
  front->yarns = g_array_new (FALSE, TRUE, sizeof (BwPatternYarn));
  front->measures = g_array_new (FALSE, TRUE, sizeof (BwPatternMeasure));
  front->abbreviations = g_array_new (FALSE, TRUE, sizeof (BwPatternAbbreviation));
}

void
bw_pattern_front_clear (BwPatternFront *front)
{
  g_array_unref (front->values);
  g_array_unref (front->gauges);
  g_array_unref (front->tools);
  g_array_unref (front->yarns);
  g_array_unref (front->measures);
  g_array_unref (front->abbreviations);
}

/* --- Pieces --- */

/* Remembers where a piece of the pattern stands first. */
void
bw_pattern_note_piece (BwPattern      *pattern,
                       BwPatternPiece  piece,
                       const char     *start,
                       const char     *end)
{
  if (pattern->front.pieces[piece].length == 0 && end > start)
    pattern->front.pieces[piece] = (BwSlice) { (guint32) (start - pattern->text),
                                               (guint32) (end - start) };
}

/* A year between 1900 and 2199, where it stands; NULL = none. */
static const char *
find_year (const char *at,
           const char *end)
{
  for (; end - at >= 4; at++)
    {
      guint digits = 0;

      while (at + digits < end && g_ascii_isdigit (at[digits]))
        digits++;
      if (digits == 4 && ((at[0] == '1' && at[1] == '9') || (at[0] == '2' && at[1] <= '1')))
        return at;
      at += digits > 0 ? digits - 1 : 0;
    }

  return NULL;
}

static void
note_pieces (BwPattern       *pattern,
             const BwStretch *line,
             BwPatternPart    part,
             guint            said)
{
  static const struct { guint says; BwPatternPiece piece; } by_word[] = {
    { SAYS_CONTACT, BW_PIECE_CONTACT },   { SAYS_COPYRIGHT, BW_PIECE_COPYRIGHT },
    { SAYS_REVISION, BW_PIECE_REVISION }, { SAYS_SKILL, BW_PIECE_SKILL },
  };
  const char *year;

  for (gsize i = 0; i < G_N_ELEMENTS (by_word); i++)
    if (said & by_word[i].says)
      bw_pattern_note_piece (pattern, by_word[i].piece, line->start, line->end);
  if (said & (SAYS_DATE | SAYS_MONTH | SAYS_REVISION | SAYS_COPYRIGHT))
    {
      year = find_year (line->start, line->end);
      if (year != NULL)
        bw_pattern_note_piece (pattern, BW_PIECE_DATE, year, year + 4);
    }
  if (part == BW_PART_END && (said & SAYS_CARE))
    bw_pattern_note_piece (pattern, BW_PIECE_CARE, line->start, line->end);
  if (said & SAYS_FINISHING)
    bw_pattern_note_piece (pattern, BW_PIECE_FINISHING, line->start, line->end);
}

static void
note_part (BwPattern       *pattern,
           const BwStretch *line,
           BwPatternPart    part)
{
  static const int pieces[] = {
    [BW_PART_WORK] = -1,
    [BW_PART_SIZES] = BW_PIECE_SIZES,
    [BW_PART_MATERIALS] = BW_PIECE_MATERIALS,
    [BW_PART_GAUGE] = BW_PIECE_GAUGE,
    [BW_PART_ABBREVIATIONS] = BW_PIECE_ABBREVIATIONS,
    [BW_PART_SPECIAL] = -1,
    [BW_PART_NOTES] = BW_PIECE_NOTES,
    [BW_PART_END] = -1,
  };

  if (pieces[part] >= 0)
    bw_pattern_note_piece (pattern, (BwPatternPiece) pieces[part], line->start, line->end);
}

/* --- Measurements --- */

static BwMeasureKind
kind_of (guint said)
{
  if (said & SAYS_EASE)
    return BW_MEASURE_EASE;
  if ((said & SAYS_BRIM) && (said & SAYS_DEPTH))
    return BW_MEASURE_BRIM_DEPTH;
  if (said & SAYS_BRIM)
    return BW_MEASURE_BRIM_GIRTH;
  if (said & SAYS_DEPTH)
    return BW_MEASURE_DEPTH;
  if ((said & SAYS_GIRTH) && !((said & SAYS_HEAD) && !(said & SAYS_FINISHED)))
    return BW_MEASURE_GIRTH;
  return said & SAYS_HEAD ? BW_MEASURE_HEAD : BW_MEASURE_OTHER;
}

static gboolean
is_length (const BwQuantity *quantity)
{
  return quantity->unit == BW_UNIT_MM || quantity->unit == BW_UNIT_CM ||
         quantity->unit == BW_UNIT_INCH;
}

/* The size that a line of a table begins with; -1 = none. */
static int
size_of_line (const BwPattern *pattern,
              const BwStretch *line)
{
  const char *at = line->start;
  guint32 sizes;

  if (line->end - at > 5 && g_ascii_strncasecmp (at, "size ", 5) == 0)
    at += 5;
  sizes = bw_pattern_size_names (pattern, &at, line->end);
  if (sizes == 0 || (sizes & (sizes - 1)) != 0)
    return -1;
  return g_bit_nth_lsf (sizes, -1);
}

/* Puts a length to the measure in hand, or begins another one with it. */
static void
add_length (BwPattern        *pattern,
            BwPatternMeasure *measure,
            const BwQuantity *quantity,
            const char       *words_start,
            const char       *words_end)
{
  gboolean inch = quantity->unit == BW_UNIT_INCH;
  guint said = says (words_start, words_end);
  const BwQuantity *taken = inch ? &measure->imperial : &measure->metric;

  if (measure->label.length > 0 && taken->n == 0 && kind_of (said) == BW_MEASURE_OTHER &&
      pattern->front.measures->len > 0)
    {
      *(inch ? &measure->imperial : &measure->metric) = *quantity;
      g_array_index (pattern->front.measures, BwPatternMeasure,
                     pattern->front.measures->len - 1) = *measure;
      return;
    }

  measure->offset = quantity->offset;
  measure->label = slice_of (pattern, words_start, words_end);
  measure->kind = (guint8) kind_of (said);
  measure->metric = measure->imperial = (BwQuantity) { 0 };
  *(inch ? &measure->imperial : &measure->metric) = *quantity;
  if (measure->label.length == 0)
    measure->label = (BwSlice) { quantity->offset, quantity->length };
  if (bw_pattern_has_room (pattern->front.measures))
    g_array_append_val (pattern->front.measures, *measure);
}

/* "18 cm tall", "46 cm round": what is measured may stand behind it. Gives where
 * the words end that are not to be read again. */
static const char *
settle_kind (BwPattern  *pattern,
             const char *at,
             const char *end)
{
  GArray *measures = pattern->front.measures;
  const char *stop = at;

  while (stop < end && stop - at < NEAR && *stop != ',' && *stop != ';' && *stop != '.')
    stop++;
  if (measures->len > 0)
    {
      BwPatternMeasure *last = &g_array_index (measures, BwPatternMeasure, measures->len - 1);

      if (last->kind == BW_MEASURE_OTHER || last->kind == BW_MEASURE_BRIM_GIRTH)
        {
          guint said = says (at, stop);
          BwMeasureKind kind;

          if (last->kind == BW_MEASURE_BRIM_GIRTH)
            said |= SAYS_BRIM;
          kind = kind_of (said);
          if (kind != BW_MEASURE_OTHER)
            {
              last->kind = (guint8) kind;
              return stop;
            }
        }
    }

  return at;
}

static void
read_measures (BwPattern       *pattern,
               const BwStretch *line,
               BwPatternPart    part)
{
  BwPatternMeasure measure = { .part = (guint8) part, .size = size_of_line (pattern, line) };
  const char *at = line->start;
  const char *behind = line->start;
  BwQuantity quantity;
  gboolean any = FALSE;

  while (bw_pattern_next_quantity (pattern, &at, line->end, &quantity))
    {
      const char *start = pattern->text + quantity.offset;

      behind = MIN (behind, start); /* words behind the one before may hold this one */
      behind = MAX (behind, start - NEAR);
      if (is_length (&quantity) ||
          (quantity.unit == BW_UNIT_PERCENT && (says (behind, start) & SAYS_EASE)))
        {
          add_length (pattern, &measure, &quantity, behind, start);
          behind = settle_kind (pattern, at, line->end);
          any = TRUE;
        }
    }
  if (any && (says (line->start, line->end) & (SAYS_GIRTH | SAYS_FINISHED | SAYS_DEPTH)))
    bw_pattern_note_piece (pattern, BW_PIECE_FINISHED_SIZE, line->start, line->end);
}

/* --- Hooks --- */

/* "H-8", "US H-8", "smaller": the words between the figure and "hook". */
static void
add_hook (BwPattern     *pattern,
          const char    *start,
          const char    *end,
          BwPatternPart  part)
{
  BwPatternTool tool = { .offset = (guint32) (start - pattern->text), .part = (guint8) part };
  const char *at = start;
  const char *words_start = start;
  BwQuantity quantity;

  while (bw_pattern_next_quantity (pattern, &at, end, &quantity))
    if (quantity.unit == BW_UNIT_MM)
      {
        /* "4 mm and 5 mm hooks": the words are those of the last */
        if (tool.mm.n > 0 && bw_pattern_has_room (pattern->front.tools))
          g_array_append_val (pattern->front.tools, tool);
        tool.mm = quantity;
        tool.offset = quantity.offset;
        words_start = at;
      }
  while (words_start < end && (g_ascii_isspace (*words_start) || *words_start == '(' ||
                               *words_start == ')'))
    words_start++;
  while (end > words_start && (g_ascii_isspace (end[-1]) || end[-1] == ')'))
    end--;
  tool.name = slice_of (pattern, words_start, end);
  if ((tool.mm.n > 0 || tool.name.length > 0) && bw_pattern_has_room (pattern->front.tools))
    g_array_append_val (pattern->front.tools, tool);
}

/* "Hook: 5 mm (US H-8), or what gives the gauge; 6 mm for the brim". */
static void
read_hook_line (BwPattern  *pattern,
                const char *at,
                const char *end)
{
  while (at < end)
    {
      const char *stop = at;

      while (stop < end && *stop != ',' && *stop != ';')
        stop++;
      for (const char *c = at; c < stop; c++)
        if (g_ascii_isdigit (*c))
          {
            add_hook (pattern, at, stop, BW_PART_MATERIALS);
            break;
          }
      at = stop + 1;
    }
}

/* The beginning of the words that belong to "hook" at `at`. */
static const char *
hook_words (const BwPattern *pattern,
            const char      *at)
{
  const char *first = at - MIN (NEAR, at - pattern->text);
  guint words_before = 0;

  while (at > first && words_before < 9)
    {
      char c = at[-1];

      if (c == '\n' || c == '\r' || c == ',' || c == ';' || c == ':' ||
          (c == '.' && g_ascii_isspace (*at)))
        break;
      if (c == ' ' && at[0] != ' ')
        words_before++;
      at--;
    }
  return at;
}

/* Hooks named in other lines than "Hook:": "Change to the 6 mm hook". */
void
bw_pattern_find_hooks (BwPattern *pattern)
{
  const char *end = pattern->text + pattern->length;
  const char *at = pattern->text;

  while ((at = memchr (at, 'h', (gsize) (end - at))) != NULL)
    {
      const char *start;
      BwQuantity quantity;

      if (end - at < 4 || memcmp (at, "hook", 4) != 0 || at == pattern->text ||
          g_ascii_isalpha (at[-1]))
        {
          at++;
          continue;
        }
      start = hook_words (pattern, at);
      for (const char *c = start; bw_pattern_next_quantity (pattern, &c, at, &quantity);)
        if (quantity.unit == BW_UNIT_MM)
          {
            add_hook (pattern, start, at, bw_pattern_part_at (pattern, (guint32) (at - pattern->text)));
            break;
          }
      at += 4;
    }
}

/* The part of the pattern that a place in its text belongs to. */
BwPatternPart
bw_pattern_part_at (const BwPattern *pattern,
                    guint32          offset)
{
  guint low = 0;
  guint high = pattern->sections->len;
  BwStretch line = { pattern->text + offset, pattern->text + pattern->length };
  BwPatternPart part;

  while (high - low > 1)
    {
      guint middle = (low + high) / 2;

      if (g_array_index (pattern->sections, BwPatternSection, middle).heading.offset <= offset)
        low = middle;
      else
        high = middle;
    }
  while (line.start > pattern->text && line.start[-1] != '\n' && line.start[-1] != '\r' &&
         pattern->text + offset - line.start < 4096)
    line.start--;
  part = bw_pattern_titled (&line, NULL);
  return part != BW_PART_WORK ? part
                              : (BwPatternPart) g_array_index (pattern->sections, BwPatternSection,
                                                               low).part;
}

/* --- Lines --- */

static gboolean
begins_with (const BwStretch *line,
             const char      *word)
{
  gsize length = strlen (word);

  return (gsize) (line->end - line->start) >= length &&
         g_ascii_strncasecmp (line->start, word, length) == 0;
}

static gboolean
is_tool_line (const BwStretch *line)
{
  return begins_with (line, "notion") || begins_with (line, "tool") ||
         begins_with (line, "needle") || begins_with (line, "stitch marker");
}

static void
read_material (BwPattern       *pattern,
               const BwStretch *line)
{
  if (begins_with (line, "hook") || begins_with (line, "crochet hook"))
    read_hook_line (pattern, line->start, line->end);
  else if (!is_tool_line (line))
    bw_pattern_read_yarn (pattern, line);
}

/* Takes what a line of prose in a part of the pattern says. */
void
bw_pattern_read_facts (BwPattern       *pattern,
                       const BwStretch *line,
                       BwPatternPart    part)
{
  guint said = says (line->start, line->end);

  note_pieces (pattern, line, part, said);
  note_part (pattern, line, part);
  switch (part)
    {
    case BW_PART_MATERIALS: read_material (pattern, line); break;
    case BW_PART_GAUGE: bw_pattern_read_gauge (pattern, line); break;
    case BW_PART_ABBREVIATIONS: bw_pattern_read_abbreviations (pattern, line, FALSE); break;
    case BW_PART_SPECIAL: bw_pattern_read_abbreviations (pattern, line, TRUE); break;
    case BW_PART_SIZES: read_measures (pattern, line, part); break;
    case BW_PART_NOTES:
    case BW_PART_END:
    case BW_PART_WORK:
    default:
      if (pattern->lines->len == 0 && bw_pattern_begins_colour (pattern, line))
        bw_pattern_read_yarn (pattern, line);
      if (said & (SAYS_MEASURE | SAYS_FINISHED | SAYS_HEAD | SAYS_DEPTH | SAYS_GIRTH))
        read_measures (pattern, line, part);
      break;
    }
}
