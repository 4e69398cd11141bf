#define G_LOG_DOMAIN "bw-core"

#include "bw-gauge.h"

#include <math.h>
#include <string.h>

#include "bw-error.h"
#include "bw-units.h"

/* A gauge as people write it: counts, a sign that says "over", and a span. */

#define WANTED "write a gauge such as 16 sts and 18 rounds to 10 cm"

/* --- Reading --- */

/* Spaces of every kind made plain, and lower case: what is left is words. */
static char *
normalise (const char *text)
{
  g_autoptr (GString) out = g_string_new (NULL);

  for (const char *at = text; *at != '\0'; at = g_utf8_next_char (at))
    {
      gunichar c = g_utf8_get_char (at);

      g_string_append_unichar (out, g_unichar_isspace (c) ? ' ' : g_unichar_tolower (c));
    }

  return g_strdup (g_strstrip (out->str));
}

/* An inch is 2.5 cm to some and 2.54 to others: two ways of writing one span may
 * differ by that much. */
#define SPANS_ALIKE 0.02

static gboolean
read_length (const char *text,
             double     *mm)
{
  return bw_units_parse_length (text, BW_UNITS_CM, BW_MM_PER_INCH_ROUND, mm, NULL);
}

/* "10 x 10 cm", "10 cm x 10 cm": the same span both ways. */
static gboolean
read_square (const char *span,
             double     *mm)
{
  g_auto (GStrv) sides = g_regex_split_simple ("\\s*[x×]\\s*", span, 0, 0);
  g_autofree char *first_word = NULL;
  g_autofree char *word = NULL;
  double first, number;

  return g_strv_length (sides) == 2 && bw_units_split (sides[0], &first, &first_word, NULL) &&
         bw_units_split (sides[1], &number, &word, NULL) && first == number &&
         (first_word[0] == '\0' || g_str_equal (first_word, word)) && read_length (sides[1], mm);
}

/* "10 cm", "10 x 10 cm", "10 cm square". */
static gboolean
read_one_span (char   *span,
               double *mm)
{
  static const char *const tails[] = { " square", " sq" };

  g_strstrip (span);
  for (guint i = 0; i < G_N_ELEMENTS (tails); i++)
    if (g_str_has_suffix (span, tails[i]))
      span[strlen (span) - strlen (tails[i])] = '\0';

  return read_length (span, mm) || read_square (span, mm);
}

/* The same span once more in other units, or the interval that
 * bw_gauge_format() adds, "± 0.4". */
static gboolean
agrees (char   *remark,
        double  mm)
{
  double again;

  g_strstrip (remark);
  if (g_str_has_prefix (remark, "±"))
    return bw_units_parse_number (remark + strlen ("±"), &again, NULL);

  return read_one_span (remark, &again) && fabs (again - mm) <= SPANS_ALIKE * mm;
}

/* "10 cm", or that with a remark: "4 in (10 cm)", "10 cm / 4 in", "4 in = 10 cm",
 * "10 cm (± 0.4)". */
static gboolean
read_span (const char *text,
           double     *mm)
{
  g_autofree char *span = g_strdup (text);
  char *remark;

  g_strstrip (span);
  if (g_str_has_suffix (span, ")"))
    {
      span[strlen (span) - 1] = '\0';
      remark = strrchr (span, '(');
      if (remark == NULL)
        return FALSE;
      *remark++ = '\0';
      return read_one_span (span, mm) && agrees (remark, *mm);
    }
  if (read_one_span (span, mm))
    return TRUE;

  remark = strpbrk (span, "/=");
  if (remark == NULL)
    return FALSE;
  *remark++ = '\0';
  return read_one_span (span, mm) && agrees (remark, *mm);
}

/* One count with its word, "16 sts" or "11.5 rounds". */
static gboolean
read_count (const char *part,
            double      span_mm,
            BwReading  *stitches,
            BwReading  *rounds)
{
  static const char *const stitch_words[] = { "st", "sts", "stitch", "stitches", NULL };
  static const char *const round_words[] = {
    "rnd", "rnds", "round", "rounds", "row", "rows", NULL
  };
  g_autofree char *word = NULL;
  BwReading reading = { BW_READING_STITCHES, 0, span_mm, FALSE, BW_LAID_RELAXED };

  if (!bw_units_split (part, &reading.count, &word, NULL) || reading.count <= 0)
    return FALSE;

  if (stitches->count == 0 && g_strv_contains (stitch_words, word))
    {
      *stitches = reading;
      return TRUE;
    }
  if (rounds->count == 0 && g_strv_contains (round_words, word))
    {
      reading.direction = BW_READING_ROUNDS;
      *rounds = reading;
      return TRUE;
    }

  return FALSE;
}

/* "16 sts and 18 rounds", "16 sts / 18 rounds": at most one count of each. A
 * stroke stands between them only behind a word: "16 1/2 sts" is one count. */
static gboolean
read_counts (const char *text,
             double      span_mm,
             BwReading  *stitches,
             BwReading  *rounds)
{
  static const char separators[] =
    "\\s+(?:and|x|by)\\s+|\\s*[×&+;]\\s*|\\s*,\\s+(?:and\\s+)?|(?<=[a-z.])\\s*/\\s*";
  g_auto (GStrv) parts = g_regex_split_simple (separators, text, 0, 0);

  memset (stitches, 0, sizeof *stitches);
  memset (rounds, 0, sizeof *rounds);
  for (guint i = 0; parts[i] != NULL; i++)
    if (!read_count (g_strstrip (parts[i]), span_mm, stitches, rounds))
      return FALSE;

  return parts[0] != NULL;
}

/* What stands between counts and span. A text may hold several, "16 sts = 10 cm
 * / 4 in": the first with counts before it and a span behind it is meant. */
static gsize
span_sign (const char *at)
{
  static const char *const signs[] = { "=", "/", " to ", " over ", " in ", " per ", " on " };

  for (guint i = 0; i < G_N_ELEMENTS (signs); i++)
    if (g_str_has_prefix (at, signs[i]))
      return strlen (signs[i]);

  return 0;
}

/**
 * bw_gauge_parse_stated:
 * @text: a stated gauge: `16 sts and 18 rounds to 10 cm`, `15 sts x 11.5 rnds = 4 in`,
 *   `27 rows = 10 cm`
 * @stitches: (out caller-allocates): a reading of stitches; count 0 when none is stated
 * @rounds: (out caller-allocates): a reading of rounds; count 0 when none is stated
 * @error: return location for an error
 *
 * Reads a gauge as patterns print it, and as bw_gauge_format() does. "4 in =
 * 10 cm" there, so an inch is 25 mm. Both readings are unwashed and relaxed;
 * who knows better sets them so.
 *
 * Returns: FALSE with @error set when @text is not a gauge; both counts are then 0
 */
gboolean
bw_gauge_parse_stated (const char  *text,
                       BwReading   *stitches,
                       BwReading   *rounds,
                       GError     **error)
{
  g_autofree char *excerpt = bw_error_excerpt (text);
  g_autofree char *plain = NULL;
  gboolean spanned = FALSE;

  plain = g_utf8_validate (text, -1, NULL) ? normalise (text) : g_strdup ("");
  for (const char *at = plain; *at != '\0'; at++)
    {
      gsize length = span_sign (at);
      g_autofree char *counts = NULL;
      double span_mm;

      if (length == 0 || !read_span (at + length, &span_mm) || span_mm <= 0)
        continue;
      spanned = TRUE;
      counts = g_strndup (plain, (gsize) (at - plain));
      if (read_counts (counts, span_mm, stitches, rounds))
        return TRUE;
    }

  memset (stitches, 0, sizeof *stitches);
  memset (rounds, 0, sizeof *rounds);
  g_set_error (error, BW_ERROR, BW_ERROR_SYNTAX,
               spanned ? "\"%s\" has no counts of stitches or rounds that can be read: " WANTED
                       : "\"%s\" does not say over which length: " WANTED, excerpt);
  return FALSE;
}

/* --- Printing --- */

/* How many of a thing there are over the span. */
static char *
format_count (const BwGaugeSide *side,
              double             span_mm)
{
  return side->mm > 0 ? bw_units_format_number (span_mm / side->mm, 1) : NULL;
}

/* The interval of that number: to one decimal, to two when one would show 0. */
static char *
format_interval (const BwGaugeSide *side,
                 double             span_mm)
{
  double interval = span_mm / side->mm * side->U95 / side->mm;

  return bw_units_format_number (interval, interval < 0.05 ? 2 : 1);
}

/**
 * bw_gauge_format:
 * @gauge: a gauge
 * @span_mm: span to state it over, mm: 100, or four inches
 * @units: units to call the span by
 * @mm_per_inch: what an inch counts as
 *
 * Returns: (transfer full): the gauge as people write it:
 *   `16 sts and 18 rounds = 4 in (± 0.4)`. The interval is that of the first
 *   number, for 95 %. "" when neither direction is known
 */
char *
bw_gauge_format (const BwGauge *gauge,
                 double         span_mm,
                 BwUnits        units,
                 double         mm_per_inch)
{
  g_autofree char *stitches = format_count (&gauge->stitch, span_mm);
  g_autofree char *rounds = format_count (&gauge->round, span_mm);
  g_autofree char *span = bw_units_format_length (span_mm, units, mm_per_inch);
  g_autofree char *interval = NULL;

  if (stitches == NULL && rounds == NULL)
    return g_strdup ("");

  interval = format_interval (stitches != NULL ? &gauge->stitch : &gauge->round, span_mm);
  if (stitches == NULL)
    return g_strdup_printf ("%s rounds = %s (± %s)", rounds, span, interval);
  if (rounds == NULL)
    return g_strdup_printf ("%s sts = %s (± %s)", stitches, span, interval);
  return g_strdup_printf ("%s sts and %s rounds = %s (± %s)", stitches, rounds, span, interval);
}
