#define G_LOG_DOMAIN "bw-core"

#include "bw-pattern-private.h"

#include <string.h>

/* "Tension: 16 dc and 18 rnds = 10 cm (4 in), using 5 mm hook, washed". Figures
 * come in any order; a count that is said twice begins another gauge. */

#define EARLIER_MOST 16 /* gauges that a line without a count may tell of */

typedef struct
{
  BwPattern      *pattern;
  const BwStretch *line;
  BwPatternGauge  gauge;
  gboolean        begun;  /* a figure was taken */
  guint           first;  /* index of the line's first gauge */
  BwSlice         fabric; /* what the line says for all of them */
  BwStitchIndex   stitch;
  guint8          washed;
} Gauges;

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

/* "washed", "after blocking" or "unwashed", "before washing". */
static guint8
washed (const BwStretch *line)
{
  const char *word = find_word (line->start, line->end, "wash");

  if (word == NULL)
    word = find_word (line->start, line->end, "block");
  if (word == NULL)
    return BW_SAID_NOTHING;
  if (find_word (line->start, word, "before ") != NULL ||
      find_word (line->start, word, "not ") != NULL ||
      (word - line->start >= 2 && g_ascii_strncasecmp (word - 2, "un", 2) == 0))
    return BW_SAID_NO;
  return BW_SAID_YES;
}

static BwSlice
trimmed (const BwPattern *pattern,
         const char      *start,
         const char      *end)
{
  while (start < end && (g_ascii_isspace (*start) || *start == ',' || *start == ':'))
    start++;
  while (end > start && (g_ascii_isspace (end[-1]) || end[-1] == ':' || end[-1] == '.'))
    end--;
  return (BwSlice) { (guint32) (start - pattern->text), (guint32) (end - start) };
}

/* The fabric stands in front of the figures, "Plain rounds of tr: 12 sts …", or
 * behind them, "… in tr worked in the round". */
static BwSlice
find_fabric (const BwPattern *pattern,
             const BwStretch *line)
{
  static const char *const openings[] = { " in ", " over ", " worked ", " measured ", " of " };
  const char *behind = line->start;
  const char *colon;

  if (bw_pattern_titled (line, &behind) == BW_PART_WORK)
    behind = line->start;
  colon = memchr (behind, ':', (gsize) (line->end - behind));
  if (colon != NULL && colon > behind && !g_ascii_isdigit (*behind))
    return trimmed (pattern, behind, colon);

  for (gsize i = 0; i < G_N_ELEMENTS (openings); i++)
    for (const char *at = behind; (at = find_word (at, line->end, openings[i])) != NULL;)
      {
        const char *word = at + strlen (openings[i]);
        const char *stop = word;

        while (stop < line->end && strchr (",;.()=", *stop) == NULL)
          stop++;
        if (word < line->end && g_ascii_isalpha (*word))
          return trimmed (pattern, word, stop);
        at = word;
      }
  return (BwSlice) { 0, 0 };
}

static BwStitchIndex
find_stitch (const BwPattern *pattern,
             const char      *at,
             const char      *end)
{
  while (at < end)
    {
      const char *word;
      BwStitchIndex stitch;

      while (at < end && !g_ascii_isalpha (*at))
        at++;
      for (word = at; at < end && g_ascii_isalnum (*at); at++)
        continue;
      stitch = at - word < 2 ? BW_STITCH_NONE
        : bw_stitch_find_abbreviation (pattern->dictionary, word, (gsize) (at - word),
                                       pattern->terms);
      if (stitch != BW_STITCH_NONE)
        return stitch;
    }

  return BW_STITCH_NONE;
}

static void
keep (Gauges *gauges)
{
  BwPatternGauge *gauge = &gauges->gauge;
  GArray *all = gauges->pattern->front.gauges;

  if ((gauge->stitches.n == 0 && gauge->rounds.n == 0) || !bw_pattern_has_room (all))
    return;
  gauge->fabric = gauges->fabric;
  gauge->stitch = gauges->stitch;
  gauge->washed = gauges->washed;
  if (all->len > gauges->first)
    {
      const BwPatternGauge *before = &g_array_index (all, BwPatternGauge, all->len - 1);

      if ((before->span.unit == BW_UNIT_INCH) != (gauge->span.unit == BW_UNIT_INCH))
        gauge->twin = all->len;
      if (gauge->hook.n == 0)
        gauge->hook = before->hook;
    }
  g_array_append_val (all, *gauge);
}

static void
begin_next (Gauges *gauges)
{
  keep (gauges);
  gauges->gauge = (BwPatternGauge) { .stitch = BW_STITCH_NONE };
  gauges->begun = FALSE;
}

static gboolean
is_inch (const BwQuantity *quantity)
{
  return quantity->unit == BW_UNIT_INCH;
}

static void
take_span (Gauges           *gauges,
           const BwQuantity *quantity)
{
  BwPatternGauge *gauge = &gauges->gauge;

  if (gauge->span.n == 0)
    gauge->span = *quantity;
  else if (is_inch (quantity) != is_inch (&gauge->span) && gauge->span_again.n == 0)
    gauge->span_again = *quantity;
  else if (gauge->rounds.n > 0 && gauge->rounds.offset > gauge->span.offset &&
           gauge->stitches.n > 0 && gauge->stitches.offset < gauge->span.offset &&
           is_inch (quantity) == is_inch (&gauge->span))
    gauge->rounds_span = *quantity;
}

static void
take_figure (Gauges           *gauges,
             const BwQuantity *quantity)
{
  BwPatternGauge *gauge = &gauges->gauge;
  BwQuantity *count = quantity->unit == BW_UNIT_STITCH ? &gauge->stitches : &gauge->rounds;

  switch ((BwPatternUnit) quantity->unit)
    {
    case BW_UNIT_STITCH: case BW_UNIT_ROUND: case BW_UNIT_ROW:
      if (count->n > 0)
        {
          begin_next (gauges);
          count = quantity->unit == BW_UNIT_STITCH ? &gauge->stitches : &gauge->rounds;
        }
      *count = *quantity;
      break;
    case BW_UNIT_MM:
      if (g_array_index (gauges->pattern->front.values, BwValue, quantity->first).low < 25)
        gauge->hook = *quantity;
      else
        take_span (gauges, quantity);
      break;
    case BW_UNIT_CM: case BW_UNIT_INCH: take_span (gauges, quantity); break;
    default: return;
    }
  if (!gauges->begun)
    gauge->offset = quantity->offset;
  gauges->begun = TRUE;
}

/* A line without a count tells of the gauge before: "Use a 5 mm hook". */
static void
settle_earlier (Gauges *gauges)
{
  GArray *all = gauges->pattern->front.gauges;

  for (guint i = all->len > EARLIER_MOST ? all->len - EARLIER_MOST : 0; i < all->len; i++)
    {
      BwPatternGauge *gauge = &g_array_index (all, BwPatternGauge, i);

      if (gauge->hook.n == 0)
        gauge->hook = gauges->gauge.hook;
      if (gauge->washed == BW_SAID_NOTHING)
        gauge->washed = gauges->washed;
      if (gauge->span.n == 0)
        gauge->span = gauges->gauge.span;
      if (gauge->fabric.length == 0)
        gauge->fabric = gauges->fabric;
    }
}

/* Reads a line of the gauge. */
void
bw_pattern_read_gauge (BwPattern       *pattern,
                       const BwStretch *line)
{
  Gauges gauges = { .pattern = pattern, .line = line, .gauge = { .stitch = BW_STITCH_NONE },
                    .first = pattern->front.gauges->len };
  const char *at = line->start;
  BwQuantity quantity;

  gauges.fabric = find_fabric (pattern, line);
  gauges.stitch = find_stitch (pattern, line->start, line->end);
  gauges.washed = washed (line);
  while (bw_pattern_next_quantity (pattern, &at, line->end, &quantity))
    take_figure (&gauges, &quantity);
  if (gauges.gauge.stitches.n == 0 && gauges.gauge.rounds.n == 0)
    settle_earlier (&gauges);
  else
    keep (&gauges);
  for (guint i = gauges.first; i < pattern->front.gauges->len; i++)
    {
      BwPatternGauge *gauge = &g_array_index (pattern->front.gauges, BwPatternGauge, i);

      if (gauge->hook.n == 0)
        gauge->hook = gauges.gauge.hook;
    }
}
