#define G_LOG_DOMAIN "bw-core"

#include <string.h>

#include "bw-design-reader.h"

/* Reading a design file. The order is: is it text, does it say anything twice,
 * are all groups and keys known, then each group through the table of fields,
 * and at last whether the parts fit together (bw_design_check). */

/* ---- keys --------------------------------------------------------------- */

static gboolean
check_keys (BwReader            *reader,
            const char          *group,
            const BwFieldGroup  *known,
            GError             **error)
{
  g_auto (GStrv) keys = g_key_file_get_keys (reader->key_file, group, NULL, error);

  if (keys == NULL)
    return FALSE;

  for (guint i = 0; keys[i] != NULL; i++)
    {
      g_autofree char *question = NULL;
      g_autofree char *quoted = NULL;
      BwNearest nearest;

      if (bw_field_find (known, keys[i]) != NULL)
        continue;

      bw_nearest_init (&nearest, keys[i]);
      for (guint j = 0; j < known->n_fields; j++)
        bw_nearest_offer (&nearest, known->fields[j].key);
      question = bw_nearest_question (&nearest);
      quoted = bw_field_quote (keys[i]);
      bw_design_set_error (error, BW_ERROR_UNKNOWN, group, NULL, "there is no key %s%s", quoted,
                           nearest.best != NULL ? question : "; take it out");
      return FALSE;
    }

  return TRUE;
}

static gboolean
check_groups (BwReader  *reader,
              GError   **error)
{
  g_auto (GStrv) groups = g_key_file_get_groups (reader->key_file, NULL);

  for (guint i = 0; groups[i] != NULL; i++)
    {
      const char *rest;
      BwGroupId id;
      guint place;

      if (!bw_design_identify_group (groups[i], &id, &rest, &place, error))
        return FALSE;

      if (id != BW_GROUP_PINS && !check_keys (reader, groups[i], bw_field_group (id), error))
        return FALSE;
    }

  return TRUE;
}

/* ---- one group --------------------------------------------------------- */

/**
 * bw_reader_get_text:
 * @reader: the reader
 * @group: a header, without the brackets
 * @key: a key that is there
 * @error: (out) (optional): %BW_ERROR_SYNTAX
 *
 * Returns: (transfer full): the value as GLib's key file unescapes it, or %NULL
 */
char *
bw_reader_get_text (BwReader    *reader,
                    const char  *group,
                    const char  *key,
                    GError     **error)
{
  g_autoptr (GError) local = NULL;
  g_autofree char *text = g_key_file_get_string (reader->key_file, group, key, &local);

  /* for a wrong escape GLib sets an error and gives a text nevertheless */
  if (text == NULL || local != NULL)
    {
      bw_design_set_error (error, BW_ERROR_SYNTAX, group, key,
                           "a \\ stands only in \\n, \\t, \\s, \\r and \\\\; write \\\\ for a "
                           "backslash");
      return NULL;
    }

  return g_steal_pointer (&text);
}

/**
 * bw_reader_read_group:
 * @reader: the reader
 * @group: a header that is there, without the brackets
 * @id: which kind of group it is
 * @base: the structure to read it into
 * @error: (out) (optional): %BW_ERROR
 *
 * Reads every key of the group that is there.
 *
 * Returns: whether all will do and none is missing
 */
gboolean
bw_reader_read_group (BwReader    *reader,
                      const char  *group,
                      BwGroupId    id,
                      gpointer     base,
                      GError     **error)
{
  const BwFieldGroup *known = bw_field_group (id);

  reader->context.group = group;
  for (guint i = 0; i < known->n_fields; i++)
    {
      const BwField *field = &known->fields[i];
      g_autofree char *text = NULL;

      if (!g_key_file_has_key (reader->key_file, group, field->key, NULL))
        {
          g_autofree char *expected = NULL;

          if (!(field->flags & BW_FIELD_REQUIRED))
            continue;

          expected = bw_field_expectation (field, &reader->context);
          bw_design_set_error (error, BW_ERROR_MISSING, group, field->key,
                               "is missing; write %s", expected);
          return FALSE;
        }

      text = bw_reader_get_text (reader, group, field->key, error);
      if (text == NULL || !bw_field_read (field, &reader->context, base, text, error))
        return FALSE;

      /* the units of every length after it */
      if (id == BW_GROUP_DESIGN)
        {
          reader->context.units = reader->design->units;
          reader->context.mm_per_inch = reader->design->mm_per_inch;
        }
    }

  return TRUE;
}

/**
 * bw_reader_read_single:
 * @reader: the reader
 * @id: a kind of group of which there is one
 * @error: (out) (optional): %BW_ERROR
 *
 * Reads the group into the design if it is there.
 *
 * Returns: whether it will do, or may be missing
 */
gboolean
bw_reader_read_single (BwReader   *reader,
                       BwGroupId   id,
                       GError    **error)
{
  const char *group = bw_field_group (id)->name;

  if (g_key_file_has_group (reader->key_file, group))
    return bw_reader_read_group (reader, group, id, reader->design, error);

  /* a group that must be there is read as an empty one, to name what it lacks */
  for (guint i = 0; i < bw_field_group (id)->n_fields; i++)
    if (bw_field_group (id)->fields[i].flags & BW_FIELD_REQUIRED)
      {
        bw_design_set_error (error, BW_ERROR_MISSING, group, bw_field_group (id)->fields[i].key,
                             "is missing; add the group [%s] with it", group);
        return FALSE;
      }

  return TRUE;
}

/* ---- groups of which there are several --------------------------------- */

/* Colours and bands are counted on from the first without a gap. */
static gboolean
check_no_gap (BwReader   *reader,
              BwGroupId   id,
              guint       n_read,
              GError    **error)
{
  g_auto (GStrv) groups = g_key_file_get_groups (reader->key_file, NULL);

  for (guint i = 0; groups[i] != NULL; i++)
    {
      g_autofree char *next = NULL;
      const char *rest;
      BwGroupId found;
      guint place;

      if (!bw_design_identify_group (groups[i], &found, &rest, &place, error))
        return FALSE;
      if (found != id || place < n_read)
        continue;

      next = bw_design_group_name (id, reader->design, n_read);
      bw_design_set_error (error, BW_ERROR_MISSING, groups[i], NULL,
                           "there is no [%s] before it; name them on from the first without a gap",
                           next);
      return FALSE;
    }

  return TRUE;
}

static gboolean
read_colours (BwReader  *reader,
              GError   **error)
{
  BwDesign *design = reader->design;
  guint n = 0;

  for (; n < BW_STRIPE_COLOURS_MAX; n++)
    {
      g_autofree char *group = bw_design_group_name (BW_GROUP_COLOUR, design, n);

      if (!g_key_file_has_group (reader->key_file, group))
        break;

      if (n == design->colours->len)
        {
          BwColour colour;

          bw_colour_init (&colour, "", 0x808080);
          g_array_append_val (design->colours, colour);
        }

      if (!bw_reader_read_group (reader, group, BW_GROUP_COLOUR,
                                 &g_array_index (design->colours, BwColour, n), error))
        return FALSE;
    }

  return check_no_gap (reader, BW_GROUP_COLOUR, n, error);
}

static gboolean
read_bands (BwReader  *reader,
            GError   **error)
{
  BwDesign *design = reader->design;
  guint n = 0;

  for (; n < BW_DESIGN_BANDS_MAX; n++)
    {
      g_autofree char *group = bw_design_group_name (BW_GROUP_BAND, design, n);
      BwBand band;

      if (!g_key_file_has_group (reader->key_file, group))
        break;

      bw_band_init (&band, "");
      g_array_append_val (design->bands, band);
      if (!bw_reader_read_group (reader, group, BW_GROUP_BAND,
                                 &g_array_index (design->bands, BwBand, n), error))
        return FALSE;
    }

  return check_no_gap (reader, BW_GROUP_BAND, n, error);
}

static gboolean
read_swatch (BwReader    *reader,
             const char  *group,
             const char  *id,
             GError     **error)
{
  GArray *swatches = reader->design->swatches;
  BwSwatch swatch;

  if (swatches->len == BW_DESIGN_SWATCHES_MAX)
    {
      bw_design_set_error (error, BW_ERROR_TOO_LARGE, group, NULL,
                           "more than %d swatches; leave some out", BW_DESIGN_SWATCHES_MAX);
      return FALSE;
    }

  if (g_key_file_has_key (reader->key_file, group, "gauge", NULL) &&
      (g_key_file_has_key (reader->key_file, group, "stitches", NULL) ||
       g_key_file_has_key (reader->key_file, group, "rounds", NULL)))
    {
      bw_design_set_error (error, BW_ERROR_CONFLICT, group, "gauge",
                           "stands instead of stitches and rounds; keep either it or those");
      return FALSE;
    }

  bw_swatch_init (&swatch, id, "");
  g_array_append_val (swatches, swatch);

  return bw_reader_read_group (reader, group, BW_GROUP_SWATCH,
                               &g_array_index (swatches, BwSwatch, swatches->len - 1), error);
}

static gboolean
read_swatches (BwReader  *reader,
               GError   **error)
{
  g_auto (GStrv) groups = g_key_file_get_groups (reader->key_file, NULL);

  for (guint i = 0; groups[i] != NULL; i++)
    {
      const char *rest;
      BwGroupId id;
      guint place;

      if (!bw_design_identify_group (groups[i], &id, &rest, &place, error))
        return FALSE;

      if (id == BW_GROUP_SWATCH && !read_swatch (reader, groups[i], rest, error))
        return FALSE;
    }

  return TRUE;
}

/* ---- the whole --------------------------------------------------------- */

static gboolean
read_all (BwReader  *reader,
          GError   **error)
{
  static const BwGroupId rest[] = {
    BW_GROUP_BRIM, BW_GROUP_CROWN, BW_GROUP_FINISHING, BW_GROUP_RULES,
  };

  if (!check_groups (reader, error) || !bw_reader_read_single (reader, BW_GROUP_DESIGN, error) ||
      !bw_reader_read_single (reader, BW_GROUP_YARN, error) || !read_colours (reader, error) ||
      !read_swatches (reader, error) || !bw_reader_read_sizes (reader, error) ||
      !read_bands (reader, error))
    return FALSE;

  for (guint i = 0; i < G_N_ELEMENTS (rest); i++)
    if (!bw_reader_read_single (reader, rest[i], error))
      return FALSE;

  return bw_reader_read_pins (reader, error);
}

/* An editor's byte order mark is no fault of the designer. */
static void
skip_byte_order_mark (const char **text,
                      gsize       *length)
{
  if (*length >= 3 && memcmp (*text, "\xef\xbb\xbf", 3) == 0)
    {
      *text += 3;
      *length -= 3;
    }
}

/**
 * bw_design_from_text:
 * @reference: stitch patterns and size tables that the file may name
 * @text: a whole design file, as brimwright-design(5) describes it
 * @length: its length in bytes
 * @error: (out) (optional): %BW_ERROR, saying group, key and what would do
 *
 * Reads a design. What the file does not say has the default of
 * bw_design_new(); what it says must make sense, in itself and together
 * (bw_design_check()). Sizes are brought into ascending order of head girth.
 *
 * Returns: (transfer full): the design, or %NULL
 */
BwDesign *
bw_design_from_text (const BwReference  *reference,
                     const char         *text,
                     gsize               length,
                     GError            **error)
{
  g_autoptr (BwDesign) design = NULL;
  g_autoptr (GKeyFile) key_file = NULL;
  g_autoptr (GError) local = NULL;
  BwReader reader;

  g_return_val_if_fail (reference != NULL, NULL);
  g_return_val_if_fail (text != NULL, NULL);

  skip_byte_order_mark (&text, &length);
  if (!bw_design_scan (text, length, error))
    return NULL;

  key_file = g_key_file_new ();
  if (length == 0 ||
      !g_key_file_load_from_data (key_file, text, length, G_KEY_FILE_KEEP_TRANSLATIONS,
                                  &local))
    {
      g_set_error (error, BW_ERROR, BW_ERROR_SYNTAX, "this is no design file: %s",
                   local != NULL ? local->message : "it is empty; begin with [Design]");
      return NULL;
    }

  design = bw_design_new ();
  reader = (BwReader) {
    .key_file = key_file,
    .design = design,
    .context = { .reference = reference, .units = design->units,
                 .mm_per_inch = design->mm_per_inch },
  };

  if (!read_all (&reader, error) || !bw_design_check (reference, design, error))
    return NULL;

  return g_steal_pointer (&design);
}
