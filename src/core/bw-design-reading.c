#define G_LOG_DOMAIN "bw-core"

#include <string.h>

#include "bw-design-fields.h"

/* The readings of a swatch as text: "20 in 133 mm washed; 20 in 134 mm washed",
 * or a gauge as people state one. */

#define SPAN_MIN_MM 1.0
#define SPAN_MAX_MM 10000.0

static const struct
{
  const char *word;
  gboolean    says_washed; /* the word is about washing, not about stretch */
  gboolean    washed;
  BwLaid      laid;
} reading_words[] = {
  { "washed", TRUE, TRUE, BW_LAID_RELAXED },
  { "unwashed", TRUE, FALSE, BW_LAID_RELAXED },
  { "relaxed", FALSE, FALSE, BW_LAID_RELAXED },
  { "gently-stretched", FALSE, FALSE, BW_LAID_GENTLY_STRETCHED },
  { "fully-stretched", FALSE, FALSE, BW_LAID_FULLY_STRETCHED },
};

/* Takes one word about the state of the swatch off the end of @text. */
static gboolean
take_state (char      *text,
            BwReading *reading)
{
  char *space;

  g_strchomp (text);
  space = strrchr (text, ' ');
  if (space == NULL)
    return FALSE;

  for (guint i = 0; i < G_N_ELEMENTS (reading_words); i++)
    if (g_str_equal (space + 1, reading_words[i].word))
      {
        if (reading_words[i].says_washed)
          reading->washed = reading_words[i].washed;
        else
          reading->laid = reading_words[i].laid;

        *space = '\0';
        return TRUE;
      }

  return FALSE;
}

/* "20 in 133 mm washed": the first " in " parts the count from the span, so
 * that a span may itself be in inches. */
static gboolean
read_reading (const BwFieldContext *context,
              char                 *text,
              BwReadingDirection    direction,
              BwReading            *reading)
{
  char *in = strstr (text, " in ");

  if (in == NULL)
    return FALSE;

  *reading = (BwReading) { .direction = direction };
  *in = '\0';
  in += strlen (" in ");
  while (take_state (in, reading))
    ;

  return bw_units_parse_number (text, &reading->count, NULL) &&
         bw_units_parse_length (g_strstrip (in), context->units, context->mm_per_inch,
                                &reading->span_mm, NULL);
}

static gboolean
reading_in_range (const BwField   *field,
                  const BwReading *reading)
{
  return reading->count >= field->min && reading->count <= field->max &&
         reading->span_mm >= SPAN_MIN_MM && reading->span_mm <= SPAN_MAX_MM;
}

static void
remove_readings (GArray             *readings,
                 BwReadingDirection  direction)
{
  for (guint i = readings->len; i > 0; i--)
    if (g_array_index (readings, BwReading, i - 1).direction == direction)
      g_array_remove_index (readings, i - 1);
}

static gboolean
read_readings (const BwField        *field,
               const BwFieldContext *context,
               GArray               *readings,
               BwReadingDirection    direction,
               const char           *text,
               GError              **error)
{
  g_auto (GStrv) parts = bw_field_split (text, ";");

  remove_readings (readings, direction);
  if (parts == NULL)
    return bw_field_refuse (field, context, BW_ERROR_SYNTAX, text, error);

  for (guint i = 0; parts[i] != NULL; i++)
    {
      g_autofree char *part = g_strdup (parts[i]);
      BwReading reading;

      if (!read_reading (context, part, direction, &reading) || !reading_in_range (field, &reading))
        return bw_field_refuse (field, context, BW_ERROR_SYNTAX, parts[i], error);
      if (readings->len == BW_DESIGN_READINGS_MAX)
        {
          bw_design_set_error (error, BW_ERROR_TOO_LARGE, context->group, field->key,
                               "more than %d readings; leave some out", BW_DESIGN_READINGS_MAX);
          return FALSE;
        }

      g_array_append_val (readings, reading);
    }

  return TRUE;
}

static gboolean
read_gauge (const BwField        *field,
            const BwFieldContext *context,
            GArray               *readings,
            const char           *text,
            GError              **error)
{
  g_autofree char *stated = g_strdup (text);
  BwReading state = { 0 };
  BwReading both[2];

  while (take_state (stated, &state))
    ;

  g_array_set_size (readings, 0);
  if (!bw_gauge_parse_stated (g_strstrip (stated), &both[0], &both[1], NULL))
    return bw_field_refuse (field, context, BW_ERROR_SYNTAX, text, error);

  for (guint i = 0; i < 2; i++)
    {
      if (both[i].count == 0.0)
        continue; /* that direction is not stated */
      if (!reading_in_range (field, &both[i]))
        return bw_field_refuse (field, context, BW_ERROR_RANGE, text, error);

      both[i].washed = both[i].washed || state.washed;
      if (state.laid != BW_LAID_RELAXED)
        both[i].laid = state.laid;
      g_array_append_val (readings, both[i]);
    }

  return TRUE;
}

static void
print_readings (const BwFieldContext *context,
                const GArray         *readings,
                BwReadingDirection    direction,
                GString              *out)
{
  for (guint i = 0; i < readings->len; i++)
    {
      const BwReading *reading = &g_array_index (readings, BwReading, i);

      if (reading->direction != direction)
        continue;

      if (out->len > 0)
        g_string_append (out, "; ");
      bw_field_append_number (out, reading->count);
      g_string_append (out, " in ");
      bw_field_append_length (out, context, reading->span_mm, context->units == BW_UNITS_CM);
      if (reading->washed)
        g_string_append (out, " washed");
      if (reading->laid != BW_LAID_RELAXED)
        g_string_append (out, reading->laid == BW_LAID_FULLY_STRETCHED ? " fully-stretched"
                                                                       : " gently-stretched");
    }
}

static gboolean
readings_in_range (const BwField      *field,
                   const GArray       *readings,
                   BwReadingDirection  direction)
{
  for (guint i = 0; i < readings->len; i++)
    {
      const BwReading *reading = &g_array_index (readings, BwReading, i);

      if (reading->direction == direction && !reading_in_range (field, reading))
        return FALSE;
    }

  return readings->len <= BW_DESIGN_READINGS_MAX;
}

static BwReadingDirection
direction_of (const BwField *field)
{
  return field->kind == BW_FIELD_STITCHES ? BW_READING_STITCHES : BW_READING_ROUNDS;
}

/**
 * bw_field_readings_read:
 * @field: the key stitches, rounds or gauge
 * @context: units of the design, and the group
 * @readings: (element-type BwReading): a swatch's readings
 * @text: what was typed, trimmed
 * @error: (out) (optional): %BW_ERROR
 *
 * Reads @text in place of the readings of the same direction; a gauge takes
 * the place of all.
 *
 * Returns: whether it could be read
 */
gboolean
bw_field_readings_read (const BwField        *field,
                        const BwFieldContext *context,
                        GArray               *readings,
                        const char           *text,
                        GError              **error)
{
  if (field->kind == BW_FIELD_GAUGE)
    return read_gauge (field, context, readings, text, error);

  return read_readings (field, context, readings, direction_of (field), text, error);
}

/**
 * bw_field_readings_print:
 * @field: the key stitches or rounds; nothing is printed for gauge
 * @context: units of the design
 * @readings: (element-type BwReading): a swatch's readings
 * @out: where the text goes; must be empty
 *
 * Prints the readings of the key's direction so that they read back the same.
 */
void
bw_field_readings_print (const BwField        *field,
                         const BwFieldContext *context,
                         const GArray         *readings,
                         GString              *out)
{
  if (field->kind != BW_FIELD_GAUGE)
    print_readings (context, readings, direction_of (field), out);
}

/**
 * bw_field_readings_in_range:
 * @field: the key stitches or rounds; gauge is always in range
 * @readings: (element-type BwReading): a swatch's readings
 *
 * Returns: whether each reading of the key's direction makes sense
 */
gboolean
bw_field_readings_in_range (const BwField *field,
                            const GArray  *readings)
{
  return field->kind == BW_FIELD_GAUGE ||
         readings_in_range (field, readings, direction_of (field));
}
