#define G_LOG_DOMAIN "bw-core"

#include "bw-pattern-private.h"

#include <math.h>
#include <string.h>

/* Figures with their unit, as they stand in sizes, gauge and materials.
 *
 *   quantity = figures [ unit ]
 *   figures  = figure [ brackets { figure brackets } ]   46 (50, 54); 46 (50) 54 (58)
 *            | figure { ( "," | "/" ) figure } unit      46, 50, 54 cm
 *            | figure unit brackets                      46 cm (50 cm, 54 cm)
 *   figure   = number [ ( "–" | "to" ) number ] | "–"
 *   number   = digits [ "." digits ] [ fraction ] | fraction
 *   fraction = "1/2" | "½"
 */

#define VALUES_MAX 64

static const struct
{
  const char    *word;
  BwPatternUnit  unit;
} units[] = {
  { "mm", BW_UNIT_MM },           { "cm", BW_UNIT_CM },         { "cms", BW_UNIT_CM },
  { "centimetres", BW_UNIT_CM },  { "centimeters", BW_UNIT_CM }, { "in", BW_UNIT_INCH },
  { "ins", BW_UNIT_INCH },        { "inch", BW_UNIT_INCH },     { "inches", BW_UNIT_INCH },
  { "m", BW_UNIT_METRE },         { "metre", BW_UNIT_METRE },   { "metres", BW_UNIT_METRE },
  { "meter", BW_UNIT_METRE },     { "meters", BW_UNIT_METRE },  { "yd", BW_UNIT_YARD },
  { "yds", BW_UNIT_YARD },        { "yard", BW_UNIT_YARD },     { "yards", BW_UNIT_YARD },
  { "g", BW_UNIT_GRAM },          { "gr", BW_UNIT_GRAM },       { "gram", BW_UNIT_GRAM },
  { "grams", BW_UNIT_GRAM },      { "oz", BW_UNIT_OUNCE },      { "ounce", BW_UNIT_OUNCE },
  { "ounces", BW_UNIT_OUNCE },    { "ball", BW_UNIT_BALL },     { "balls", BW_UNIT_BALL },
  { "skein", BW_UNIT_BALL },      { "skeins", BW_UNIT_BALL },   { "hank", BW_UNIT_BALL },
  { "hanks", BW_UNIT_BALL },      { "st", BW_UNIT_STITCH },     { "sts", BW_UNIT_STITCH },
  { "stitch", BW_UNIT_STITCH },   { "stitches", BW_UNIT_STITCH }, { "rnd", BW_UNIT_ROUND },
  { "rnds", BW_UNIT_ROUND },      { "round", BW_UNIT_ROUND },   { "rounds", BW_UNIT_ROUND },
  { "row", BW_UNIT_ROW },         { "rows", BW_UNIT_ROW },
};

static const struct
{
  const char *sign;
  double      value;
  double      step;
} fractions[] = {
  { "\xc2\xbc", 0.25, 0.25 },          { "\xc2\xbd", 0.5, 0.5 },
  { "\xc2\xbe", 0.75, 0.25 },          { "\xe2\x85\x93", 1.0 / 3, 1.0 / 3 },
  { "\xe2\x85\x94", 2.0 / 3, 1.0 / 3 }, { "\xe2\x85\x9b", 0.125, 0.125 },
  { "\xe2\x85\x9c", 0.375, 0.125 },    { "\xe2\x85\x9d", 0.625, 0.125 },
  { "\xe2\x85\x9e", 0.875, 0.125 },
};

static const char *const spaces[] = { " ", "\t", "\xc2\xa0", "\xe2\x80\xaf", "\xe2\x80\x89" };

static const char *const dashes[] = { "-", "\xe2\x80\x93", "\xe2\x80\x94", "\xe2\x88\x92",
                                      "\xe2\x80\x90", "\xe2\x80\x91", "\xe2\x80\x92" };

/* Where the text goes on behind one of some signs; NULL = none of them is here. */
static const char *
behind_any (const char        *at,
            const char        *end,
            const char *const *signs,
            gsize              n_signs)
{
  for (gsize i = 0; i < n_signs; i++)
    {
      gsize n = strlen (signs[i]);

      if ((gsize) (end - at) >= n && memcmp (at, signs[i], n) == 0)
        return at + n;
    }

  return NULL;
}

static const char *
skip_spaces (const char *at,
             const char *end)
{
  const char *next;

  while ((next = behind_any (at, end, spaces, G_N_ELEMENTS (spaces))) != NULL)
    at = next;
  return at;
}

static const char *
behind_dash (const char *at,
             const char *end)
{
  return behind_any (at, end, dashes, G_N_ELEMENTS (dashes));
}

static gboolean
is_digit (const char *at,
          const char *end)
{
  return at < end && g_ascii_isdigit (*at);
}

/* --- Numbers --- */

/* "½", or "1/2" with a denominator that rulers have. */
static gboolean
take_fraction (const char **at,
               const char  *end,
               double      *value,
               double      *step)
{
  const char *c = *at;
  guint top = 0;
  guint bottom = 0;

  for (gsize i = 0; i < G_N_ELEMENTS (fractions); i++)
    {
      gsize n = strlen (fractions[i].sign);

      if ((gsize) (end - c) >= n && memcmp (c, fractions[i].sign, n) == 0)
        {
          *value = fractions[i].value;
          *step = fractions[i].step;
          *at = c + n;
          return TRUE;
        }
    }

  for (guint i = 0; i < 2 && is_digit (c, end); i++, c++)
    top = top * 10 + (guint) (*c - '0');
  if (c == *at)
    return FALSE;
  if (c < end && *c == '/')
    c++;
  else if ((c = behind_any (c, end, (const char *const[]) { "\xe2\x81\x84" }, 1)) == NULL)
    return FALSE;
  for (guint i = 0; i < 2 && is_digit (c, end); i++, c++)
    bottom = bottom * 10 + (guint) (*c - '0');
  if (is_digit (c, end) || top == 0 || top >= bottom ||
      (bottom != 2 && bottom != 3 && bottom != 4 && bottom != 8 && bottom != 16))
    return FALSE;

  *value = (double) top / bottom;
  *step = 1.0 / bottom;
  *at = c;
  return TRUE;
}

static gboolean
take_decimals (const char **at,
               const char  *end,
               double      *value,
               double      *step)
{
  const char *c = *at + 1;
  gboolean comma = **at == ',';

  /* "46,5 cm" has a decimal comma; "46,50,54" is a list without spaces */
  if ((*(*at) != '.' && !comma) || !is_digit (c, end) ||
      (comma && (is_digit (c + 1, end) || (c + 1 < end && c[1] == ','))))
    return FALSE;
  for (guint i = 0; is_digit (c, end); c++)
    if (i++ < 9)
      {
        *step /= 10;
        *value += (*c - '0') * *step;
      }
  *at = c;
  return TRUE;
}

/* "8", "8.5", "8 1/2", "8-1/2", "8½". */
static gboolean
take_number (const char **at,
             const char  *end,
             double      *value,
             double      *step)
{
  const char *c = *at;
  const char *behind;
  double part;

  *step = 1;
  if (take_fraction (at, end, value, step))
    return TRUE;
  if (!is_digit (c, end))
    return FALSE;

  *value = 0;
  for (guint i = 0; is_digit (c, end); c++)
    if (i++ < 12)
      *value = *value * 10 + (*c - '0');
  if (c < end && take_decimals (&c, end, value, step))
    {
      *at = c;
      return TRUE;
    }

  *at = c;
  behind = skip_spaces (c, end);
  if (behind == c && behind_dash (c, end) != NULL)
    behind = behind_dash (c, end);
  if (take_fraction (&behind, end, &part, step))
    {
      *value += part;
      *at = behind;
    }
  return TRUE;
}

/* A figure, perhaps a range or, if they may stand here, a dash. */
static gboolean
take_value (const BwPattern *pattern,
            const char     **at,
            const char      *end,
            gboolean         dash,
            BwValue         *value)
{
  const char *next;
  double step;

  value->offset = (guint32) (*at - pattern->text);
  if (dash && (next = behind_dash (*at, end)) != NULL)
    {
      value->low = value->high = NAN;
      value->step = 1;
      *at = next;
      return TRUE;
    }
  if (!take_number (at, end, &value->low, &value->step))
    return FALSE;

  value->high = value->low;
  next = skip_spaces (*at, end);
  if (behind_dash (next, end) != NULL)
    next = skip_spaces (behind_dash (next, end), end);
  else if (end - next > 3 && g_ascii_strncasecmp (next, "to ", 3) == 0)
    next = skip_spaces (next + 3, end);
  else
    return TRUE;
  if (take_number (&next, end, &value->high, &step) && value->high > value->low)
    {
      value->step = MIN (value->step, step);
      *at = next;
    }
  else
    value->high = value->low;
  return TRUE;
}

/* --- Units --- */

static BwPatternUnit
unit_named (const BwPattern *pattern,
            const char      *word,
            gsize            length)
{
  for (gsize i = 0; i < G_N_ELEMENTS (units); i++)
    if (strlen (units[i].word) == length && g_ascii_strncasecmp (word, units[i].word, length) == 0)
      return units[i].unit;

  return length > 1 && bw_stitch_find_abbreviation (pattern->dictionary, word, length,
                                                    pattern->terms) != BW_STITCH_NONE
           ? BW_UNIT_STITCH : BW_UNIT_NONE;
}

static BwPatternUnit
take_unit (const BwPattern *pattern,
           const char     **at,
           const char      *end)
{
  static const char *const quotes[] = { "\"", "''", "\xe2\x80\xb3", "\xe2\x80\x9d" };
  const char *word = skip_spaces (*at, end);
  const char *c;
  BwPatternUnit unit;

  if (behind_any (word, end, quotes, G_N_ELEMENTS (quotes)) != NULL)
    {
      *at = behind_any (word, end, quotes, G_N_ELEMENTS (quotes));
      return BW_UNIT_INCH;
    }
  if (word < end && *word == '%')
    {
      *at = word + 1;
      return BW_UNIT_PERCENT;
    }
  if (word == *at && word < end && *word == '-')
    word++;
  for (c = word; c < end && g_ascii_isalnum (*c); c++)
    continue;
  unit = c > word ? unit_named (pattern, word, (gsize) (c - word)) : BW_UNIT_NONE;
  if (unit != BW_UNIT_NONE)
    *at = c;
  return unit;
}

/* --- Lists --- */

typedef struct
{
  BwValue values[VALUES_MAX];
  guint   n;
} Values;

static gboolean
add_value (const BwPattern *pattern,
           const char     **at,
           const char      *end,
           gboolean         dash,
           Values          *values)
{
  if (values->n >= VALUES_MAX || !take_value (pattern, at, end, dash, &values->values[values->n]))
    return FALSE;
  values->n++;
  return TRUE;
}

/* "(50, 54)" or, after a unit, "(50 cm, 54 cm)"; `at` and the values stay as
 * they were when it is none. */
static gboolean
take_brackets (const BwPattern *pattern,
               const char     **at,
               const char      *end,
               BwPatternUnit    unit,
               Values          *values)
{
  const char *c = skip_spaces (*at, end);
  guint before = values->n;
  char closing = c < end && *c == '(' ? ')' : c < end && *c == '[' ? ']' : 0;

  if (closing == 0)
    return FALSE;
  c = skip_spaces (c + 1, end);
  while (add_value (pattern, &c, end, TRUE, values))
    {
      if (unit != BW_UNIT_NONE && take_unit (pattern, &c, end) != unit)
        break;
      c = skip_spaces (c, end);
      if (c < end && *c == closing)
        {
          *at = c + 1;
          return TRUE;
        }
      if (c < end && (*c == ',' || *c == ';' || *c == '/'))
        c++;
      c = skip_spaces (c, end);
    }

  values->n = before;
  return FALSE;
}

/* ", 50, 54" or "/50/54". One that no unit ends says nothing, but is passed all the
 * same: what has been looked at is not looked at again from its second number on. */
static void
take_plain_list (const BwPattern *pattern,
                 const char     **at,
                 const char      *end,
                 Values          *values)
{
  const char *c = *at;
  char separator = c < end && (*c == ',' || *c == '/') ? *c : 0;

  while (separator != 0 && c < end && *c == separator)
    {
      c = skip_spaces (c + 1, end);
      if (!add_value (pattern, &c, end, FALSE, values))
        return;
      *at = c;
    }
}

/* Numbers in brackets and out of them by turns: "96 (96) 112 (112)". */
static void
take_turns (const BwPattern *pattern,
            const char     **at,
            const char      *end,
            Values          *values)
{
  for (;;)
    {
      const char *c = skip_spaces (*at, end);
      guint before = values->n;

      if (!is_digit (c, end) || !add_value (pattern, &c, end, FALSE, values) ||
          !take_brackets (pattern, &c, end, BW_UNIT_NONE, values))
        {
          values->n = before;
          return;
        }
      *at = c;
    }
}

/* Takes a quantity, which must begin at `at`. */
gboolean
bw_pattern_take_quantity (BwPattern   *pattern,
                          const char **at,
                          const char  *end,
                          BwQuantity  *quantity)
{
  Values values = { .n = 0 };
  const char *c = *at;
  BwPatternUnit unit;

  if (!add_value (pattern, &c, end, TRUE, &values))
    return FALSE;
  if (take_brackets (pattern, &c, end, BW_UNIT_NONE, &values))
    {
      if (values.n == 2)
        take_turns (pattern, &c, end, &values);
    }
  else if (!isnan (values.values[0].low))
    take_plain_list (pattern, &c, end, &values);
  else
    return FALSE; /* a dash alone says nothing */

  unit = take_unit (pattern, &c, end);
  if (values.n == 1 && unit != BW_UNIT_NONE)
    take_brackets (pattern, &c, end, unit, &values);
  *quantity = (BwQuantity) { pattern->front.values->len, values.n,
                             (guint32) (*at - pattern->text), (guint32) (c - *at),
                             (guint8) unit };
  g_array_append_vals (pattern->front.values, values.values, values.n);
  *at = c;
  return TRUE;
}

/* May a quantity begin here? Not within a word, nor in "H-8". */
static gboolean
may_begin (const BwPattern *pattern,
           const char      *at,
           const char      *end)
{
  const char *next;

  if (at > pattern->text && (g_ascii_isalnum (at[-1]) || at[-1] == '.'))
    return FALSE;
  if (at > pattern->text + 1 && at[-1] == '-' && g_ascii_isalnum (at[-2]))
    return FALSE;
  if (g_ascii_isdigit (*at) || (guchar) *at == 0xc2 || (guchar) *at == 0xe2)
    {
      double value, step;

      next = at;
      if (take_number (&next, end, &value, &step))
        return TRUE;
    }
  next = behind_dash (at, end);
  if (next == NULL)
    return FALSE;
  next = skip_spaces (next, end);
  return next < end && (*next == '(' || *next == '[');
}

/* Goes to the next quantity and takes it; FALSE when there is none. */
gboolean
bw_pattern_next_quantity (BwPattern   *pattern,
                          const char **at,
                          const char  *end,
                          BwQuantity  *quantity)
{
  for (; *at < end; (*at)++)
    if (may_begin (pattern, *at, end) && bw_pattern_take_quantity (pattern, at, end, quantity))
      return TRUE;

  return FALSE;
}

/**
 * bw_pattern_value:
 * @pattern: a pattern
 * @quantity: a quantity of its front
 * @size: index of a size
 *
 * Returns: (nullable): the figure for that size; NULL when the quantity is not
 *   said, or has another number of figures than there are sizes
 */
const BwValue *
bw_pattern_value (const BwPattern  *pattern,
                  const BwQuantity *quantity,
                  guint             size)
{
  if (quantity->n == 0 || (quantity->n > 1 && quantity->n != pattern->n_sizes))
    return NULL;
  return &g_array_index (pattern->front.values, BwValue,
                         quantity->first + (quantity->n > 1 ? size : 0));
}
