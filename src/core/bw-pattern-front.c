#define G_LOG_DOMAIN "bw-core"

#include "bw-pattern-private.h"

#include <string.h>

/* What is no work: headings, the list of sizes, notes on the beginning chain. */

static const struct
{
  const char    *word;  /* begins the heading */
  BwPatternPart  part;
} headings[] = {
  { "abbreviation", BW_PART_ABBREVIATIONS }, { "ability", BW_PART_NOTES },
  { "about", BW_PART_NOTES },               { "care", BW_PART_END },
  { "chart", BW_PART_NOTES },
  { "copyright", BW_PART_END },             { "finish", BW_PART_END },
  { "gauge", BW_PART_GAUGE },               { "hook", BW_PART_MATERIALS },
  { "making up", BW_PART_END },             { "material", BW_PART_MATERIALS },
  { "measurement", BW_PART_SIZES },         { "note", BW_PART_NOTES },
  { "notion", BW_PART_MATERIALS },          { "pattern note", BW_PART_NOTES },
  { "photograph", BW_PART_END },            { "revision", BW_PART_END },
  { "safety", BW_PART_END },                { "finished size", BW_PART_SIZES },
  { "finished measurement", BW_PART_SIZES }, { "size", BW_PART_SIZES },
  { "skill", BW_PART_NOTES },               { "special", BW_PART_SPECIAL },
  { "stitches used", BW_PART_ABBREVIATIONS }, { "supplies", BW_PART_MATERIALS },
  { "tension", BW_PART_GAUGE },             { "terms", BW_PART_NOTES },
  { "to finish", BW_PART_END },             { "tools", BW_PART_MATERIALS },
  { "yarn", BW_PART_MATERIALS },            { "you need", BW_PART_MATERIALS },
  { "you will need", BW_PART_MATERIALS },
};

#define HEADING_MOST 64

static gboolean
begins_with (const char *at,
             const char *end,
             const char *word)
{
  gsize length = strlen (word);

  return (gsize) (end - at) >= length && g_ascii_strncasecmp (at, word, length) == 0;
}

static BwPatternPart
part_named (const char *at,
            const char *end)
{
  for (guint i = 0; i < G_N_ELEMENTS (headings); i++)
    if (begins_with (at, end, headings[i].word))
      return headings[i].part;

  return BW_PART_WORK;
}

/* A heading stands alone: a few words, no full stop, nothing behind a colon. */
static gboolean
is_heading (const BwStretch *line)
{
  guint words = 0;
  gboolean in_word = FALSE;

  if (line->end - line->start > HEADING_MOST ||
      !(g_ascii_isupper (line->start[0]) || (guchar) line->start[0] >= 0x80) ||
      begins_with (line->start, line->end, "\xc2\xa9"))
    return FALSE;
  for (const char *at = line->start; at < line->end; at++)
    {
      if (*at == ':' && at + 1 < line->end)
        return FALSE;
      if (strchr (".,;=*[]", *at) != NULL || g_ascii_isdigit (*at))
        return FALSE;
      if (g_ascii_isspace (*at))
        in_word = FALSE;
      else if (!in_word)
        {
          in_word = TRUE;
          words++;
        }
    }

  return words <= 6;
}

/* Does an empty line, or the beginning, stand in front of this one? */
static gboolean
after_gap (const BwPattern *pattern,
           const BwStretch *line)
{
  const char *at = line->start;

  while (at > pattern->text && at[-1] != '\n' && at[-1] != '\r')
    at--;
  if (at > pattern->text && at[-1] == '\n')
    at--;
  if (at > pattern->text && at[-1] == '\r')
    at--;
  while (at > pattern->text && (at[-1] == ' ' || at[-1] == '\t'))
    at--;
  return at == pattern->text || at[-1] == '\n' || at[-1] == '\r';
}

/* Among lists a few words may be an entry as well as a heading: "BLO back loop
 * only". */
static gboolean
may_be_entry (const BwPattern *pattern,
              const BwStretch *line)
{
  static const char *const of_work[] = {
    "instruction", "direction", "pattern", "method", "brim", "band", "body", "crown", "hat",
    "pick", "join", "clos", "cuff", "ear", "foundation", "ribbing", "set", "start", "decrease",
    "increase", "shap", "top", "main", "round", "row",
  };
  BwPatternPart part = (BwPatternPart) g_array_index (pattern->sections, BwPatternSection,
                                                      pattern->sections->len - 1).part;

  if (part == BW_PART_WORK || part == BW_PART_END || part == BW_PART_NOTES ||
      after_gap (pattern, line))
    return FALSE;
  for (guint i = 0; i < G_N_ELEMENTS (of_work); i++)
    if (begins_with (line->start, line->end, of_work[i]))
      return FALSE;

  return TRUE;
}

/* Begins a new section, if the line is a heading. */
gboolean
bw_pattern_read_heading (BwPattern       *pattern,
                         const BwStretch *line)
{
  BwPatternSection section;
  BwPatternPart part;

  if (!is_heading (line))
    return FALSE;
  part = part_named (line->start, line->end);
  if (part == BW_PART_WORK && may_be_entry (pattern, line))
    return FALSE;

  section.heading = (BwSlice) { (guint32) (line->start - pattern->text),
                                (guint32) (line->end - line->start) };
  section.part = (guint8) part;
  g_array_append_val (pattern->sections, section);
  return TRUE;
}

/* "Gauge: 16 dc = 10 cm": the part that a line's own title names, and what
 * stands behind the colon; BW_PART_WORK = none. */
BwPatternPart
bw_pattern_titled (const BwStretch  *line,
                   const char      **behind)
{
  const char *end = MIN (line->end, line->start + HEADING_MOST);
  const char *colon = end > line->start ? memchr (line->start, ':', (gsize) (end - line->start))
                                        : NULL;
  BwPatternPart part = BW_PART_WORK;

  if (colon != NULL)
    part = part_named (line->start, colon);
  else if (begins_with (line->start, line->end, "tension ") ||
           begins_with (line->start, line->end, "gauge "))
    {
      colon = strchr (line->start, ' ');
      part = BW_PART_GAUGE;
    }
  if (part != BW_PART_WORK && behind != NULL)
    *behind = colon + 1;
  return part;
}

/* --- Sizes --- */

static void
add_size (BwPattern  *pattern,
          const char *start,
          const char *end)
{
  while (start < end && (g_ascii_isspace (*start) || *start == '['))
    start++;
  while (end > start && (g_ascii_isspace (end[-1]) || end[-1] == '.' || end[-1] == ']'))
    end--;
  if (start < end && end - start <= 40 && pattern->size_names->len < BW_PATTERN_SIZES_MAX)
    g_ptr_array_add (pattern->size_names, g_strndup (start, (gsize) (end - start)));
}

static gboolean
is_size_separator (const char *at,
                   const char *end)
{
  return *at == ',' || *at == ';' || *at == '/' || *at == ':' ||
         (*at == '-' && at + 1 < end && g_ascii_isdigit (at[1]) && g_ascii_isdigit (at[-1]));
}

static const char *
find_any (const char *at,
          const char *end,
          const char *marks)
{
  while (at < end && strchr (marks, *at) == NULL)
    at++;
  return at;
}

static void
split_sizes (BwPattern  *pattern,
             const char *start,
             const char *end,
             gboolean    explained)
{
  const char *at;

  for (at = start; at < end; at++)
    {
      if (explained && *at == '(')
        {
          add_size (pattern, start, at);
          at = find_any (at, end, ")");
          start = find_any (at, end, ",;");
          start = MIN (start + 1, end);
        }
      else if (is_size_separator (at, end) && at >= start)
        {
          add_size (pattern, start, at);
          start = at + 1;
        }
      else if (!explained && end - at > 5 && memcmp (at, " and ", 5) == 0)
        {
          add_size (pattern, start, at);
          start = at + 5;
        }
    }
  add_size (pattern, start, end);
}

/* "S (M, L)" or "S, M, L". */
static void
read_sizes (BwPattern  *pattern,
            const char *at,
            const char *end)
{
  const char *open = find_any (at, end, "([");
  const char *close = find_any (open, end, ")]");
  const char *next = find_any (close, end, "([");

  if (open == end || close == end)
    split_sizes (pattern, at, end, FALSE);
  else if (next < end && close + 1 < end && (close[1] == ',' || close[1] == ';'))
    split_sizes (pattern, at, end, TRUE); /* "Baby (0–3 months), Child (…)" */
  else if (next < end)
    for (; at < end; at = close + 1) /* "XS (S) M (L)", "S (M) (L)" */
      {
        open = find_any (at, end, "([");
        close = find_any (open, end, ")]");
        add_size (pattern, at, open);
        if (open < end)
          add_size (pattern, open + 1, close);
      }
  else
    {
      add_size (pattern, at, open);
      split_sizes (pattern, open + 1, close, FALSE);
    }
}

/* --- Notes --- */

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

/* The height of chain that a sentence is about: "ch 3", "the beginning chain". */
static int
chain_height (const char *at,
              const char *end)
{
  const char *chain = find_word (at, end, "ch");

  while (chain != NULL && chain > at && g_ascii_isalpha (chain[-1]))
    chain = find_word (chain + 1, end, "ch");
  if (chain == NULL)
    return -1;
  chain += 2;
  if (chain < end && (*chain == ' ' || *chain == '-'))
    chain++;
  if (chain < end && g_ascii_isdigit (*chain))
    return MIN (*chain - '0', 3);
  return 0;
}

/* "The beginning chain does not count as a stitch", "ch 3 counts as tr". */
static void
read_chain_note (BwPattern  *pattern,
                 const char *at,
                 const char *end)
{
  while (at < end)
    {
      const char *stop = at;
      const char *counts;

      while (stop < end && *stop != '.' && *stop != ';')
        stop++;
      counts = find_word (at, stop, "count");
      if (counts != NULL)
        {
          int height = chain_height (at, stop);
          gboolean no = find_word (at, counts, "not ") != NULL ||
                        find_word (at, counts, "n't") != NULL ||
                        find_word (at, counts, "never") != NULL;

          if (height >= 0 && find_word (counts, stop, "st") != NULL)
            pattern->chain_said[height] = no ? BW_SAID_NO : BW_SAID_YES;
          else if (height > 0 && find_word (counts, stop, "as") != NULL)
            pattern->chain_said[height] = no ? BW_SAID_NO : BW_SAID_YES;
        }
      at = stop + 1;
    }
}

/* Takes what a line of prose tells; `part` is what it belongs to. */
void
bw_pattern_read_front (BwPattern       *pattern,
                       const BwStretch *line,
                       BwPatternPart    part)
{
  const char *at = line->start;

  if (pattern->size_names->len == 0 && begins_with (at, line->end, "size"))
    {
      at += begins_with (at, line->end, "sizes") ? 5 : 4;
      while (at < line->end && *at == ' ')
        at++;
      if (at < line->end && *at == ':')
        read_sizes (pattern, at + 1, line->end);
    }
  if (find_word (line->start, line->end, "count") != NULL)
    read_chain_note (pattern, line->start, line->end);
  bw_pattern_read_facts (pattern, line, part);
}
