#define G_LOG_DOMAIN "bw-core"

#include <string.h>

#include "bw-design-fields.h"
#include "bw-design-lines.h"

/* Writing a design file. The text that the design was read from is edited line
 * by line, not replaced: a key whose text still means the same keeps its text, so the
 * designer finds "22 in" and every comment where they were. */

typedef struct
{
  BwLines        *lines;    /* borrowed; being edited */
  GKeyFile       *previous; /* borrowed; what the lines said at first */
  const BwDesign *design;   /* borrowed */
  gboolean        fresh;    /* there was no text to edit */
  GHashTable     *written;  /* Set<owned string>: headers that belong, looked up only */
  BwFieldContext  context;
} Writer;

/* ---- one key ----------------------------------------------------------- */

/* What the text already in the file means, printed our way; NULL = nothing or
 * nonsense. @scratch is a structure of the same kind to read it into. */
static char *
meaning_of_old (Writer        *writer,
                const char    *group,
                const BwField *field,
                gpointer       scratch)
{
  g_autofree char *old = g_key_file_get_string (writer->previous, group, field->key, NULL);

  if (old == NULL || !bw_field_read (field, &writer->context, scratch, old, NULL))
    return NULL;

  return bw_field_print (field, &writer->context, scratch);
}

/* As GLib's key file escapes it. */
static char *
escape (const char *text)
{
  g_autoptr (GKeyFile) scratch = g_key_file_new ();

  g_key_file_set_string (scratch, "group", "key", text);

  return g_key_file_get_value (scratch, "group", "key", NULL);
}

/* @defaults says what the reader takes where the key is absent; it also serves
 * to read the old text into, after it was printed. @spell_out: write some keys
 * even where they say the default. */
static void
write_field (Writer        *writer,
             const char    *group,
             const BwField *field,
             gconstpointer  base,
             gpointer       defaults,
             gboolean       spell_out)
{
  g_autofree char *text = bw_field_print (field, &writer->context, base);
  g_autofree char *absent = bw_field_print (field, &writer->context, defaults);
  g_autofree char *old = meaning_of_old (writer, group, field, defaults);

  if (g_strcmp0 (old, text) == 0)
    return;

  if (!g_str_equal (text, absent) || (spell_out && (field->flags & BW_FIELD_ALWAYS)))
    {
      g_autofree char *value = escape (text);

      bw_lines_set (writer->lines, group, field->key, value);
    }
  else
    {
      bw_lines_remove_key (writer->lines, group, field->key);
    }
}

/* ---- one group --------------------------------------------------------- */

static void
remove_unknown_keys (Writer             *writer,
                     const char         *group,
                     const BwFieldGroup *known)
{
  g_autoptr (GPtrArray) keys = bw_lines_keys (writer->lines, group);

  for (guint i = 0; i < keys->len; i++)
    if (bw_field_find (known, g_ptr_array_index (keys, i)) == NULL)
      bw_lines_remove_key (writer->lines, group, g_ptr_array_index (keys, i));
}

static void
write_group (Writer        *writer,
             BwGroupId      id,
             guint          place,
             gconstpointer  base,
             gpointer       defaults)
{
  const BwFieldGroup *known = bw_field_group (id);
  char *group = bw_design_group_name (id, writer->design, place);
  /* a designer's own text is not filled up with what goes without saying */
  gboolean spell_out = writer->fresh ||
                       (known->many && !g_key_file_has_group (writer->previous, group));

  g_hash_table_add (writer->written, group); /* takes it; outlives the group */
  remove_unknown_keys (writer, group, known);
  for (guint i = 0; i < known->n_fields; i++)
    if (known->fields[i].kind != BW_FIELD_GAUGE)
      write_field (writer, group, &known->fields[i], base, defaults, spell_out);
}

static void
write_single (Writer    *writer,
              BwGroupId  id)
{
  g_autoptr (BwDesign) defaults = bw_design_new ();

  write_group (writer, id, 0, writer->design, defaults);
}

/* ---- groups of which there are several --------------------------------- */

static void
write_colours (Writer *writer)
{
  for (guint i = 0; i < writer->design->colours->len; i++)
    {
      BwColour defaults;

      bw_colour_init (&defaults, "", 0x808080);
      write_group (writer, BW_GROUP_COLOUR, i,
                   &g_array_index (writer->design->colours, BwColour, i), &defaults);
      bw_colour_clear (&defaults);
    }
}

/* A stated gauge stands as it was typed while it still means these readings. */
static gboolean
gauge_still_holds (Writer         *writer,
                   const char     *group,
                   const BwSwatch *swatch)
{
  const BwFieldGroup *known = bw_field_group (BW_GROUP_SWATCH);
  static const char *const keys[] = { "stitches", "rounds" };
  g_autofree char *old = g_key_file_get_string (writer->previous, group, "gauge", NULL);
  gboolean holds;
  BwSwatch scratch;

  if (old == NULL)
    return FALSE;

  bw_swatch_init (&scratch, swatch->id, "");
  holds = bw_field_read (bw_field_find (known, "gauge"), &writer->context, &scratch, old, NULL);
  for (guint i = 0; holds && i < G_N_ELEMENTS (keys); i++)
    {
      const BwField *field = bw_field_find (known, keys[i]);
      g_autofree char *was = bw_field_print (field, &writer->context, &scratch);
      g_autofree char *is = bw_field_print (field, &writer->context, swatch);

      holds = g_str_equal (was, is);
    }
  bw_swatch_clear (&scratch);

  return holds;
}

static void
write_swatch (Writer *writer,
              guint   place)
{
  const BwSwatch *swatch = &g_array_index (writer->design->swatches, BwSwatch, place);
  g_autofree char *group = bw_design_group_name (BW_GROUP_SWATCH, writer->design, place);
  gboolean keep_gauge = gauge_still_holds (writer, group, swatch);
  BwSwatch defaults;

  bw_swatch_init (&defaults, swatch->id, "");
  write_group (writer, BW_GROUP_SWATCH, place, swatch, &defaults);
  bw_swatch_clear (&defaults);

  if (keep_gauge)
    {
      bw_lines_remove_key (writer->lines, group, "stitches");
      bw_lines_remove_key (writer->lines, group, "rounds");
    }
  else
    {
      bw_lines_remove_key (writer->lines, group, "gauge");
    }
}

/* What a size is where its own group says nothing: the table's, or a blank. */
static void
init_default_size (Writer       *writer,
                   const BwSize *size,
                   BwSizeChoice *defaults)
{
  const BwSizeTable *table = NULL;
  const BwSize *known = NULL;

  if (writer->design->size_table[0] != '\0')
    table = bw_reference_size_table (writer->context.reference, writer->design->size_table);
  if (table != NULL)
    known = bw_size_table_find (table, size->id);

  bw_size_choice_init (defaults, known != NULL ? bw_size_copy (known)
                                               : bw_field_blank_size (size->id));
}

static void
write_sizes (Writer *writer)
{
  for (guint i = 0; i < writer->design->sizes->len; i++)
    {
      const BwSizeChoice *choice = &g_array_index (writer->design->sizes, BwSizeChoice, i);
      BwSizeChoice defaults;

      init_default_size (writer, choice->size, &defaults);
      write_group (writer, BW_GROUP_SIZE, i, choice, &defaults);
      bw_size_choice_clear (&defaults);
    }
}

static void
write_bands (Writer *writer)
{
  for (guint i = 0; i < writer->design->bands->len; i++)
    {
      BwBand defaults;

      bw_band_init (&defaults, "");
      write_group (writer, BW_GROUP_BAND, i, &g_array_index (writer->design->bands, BwBand, i),
                   &defaults);
      bw_band_clear (&defaults);
    }
}

/* ---- pins -------------------------------------------------------------- */

static char *
pin_key (const BwPin *pin)
{
  return g_strdup_printf ("%s.%s", pin->size,
                          bw_field_group (BW_GROUP_PINS)->fields[pin->kind].key);
}

static void
write_pins (Writer *writer)
{
  const GArray *pins = writer->design->pins;
  g_autoptr (GHashTable) wanted = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  g_autoptr (GPtrArray) keys = NULL;

  for (guint i = 0; i < pins->len; i++)
    {
      const BwPin *pin = &g_array_index (pins, BwPin, i);
      const BwField *field = &bw_field_group (BW_GROUP_PINS)->fields[pin->kind];
      g_autofree char *key = pin_key (pin);
      BwField named = *field;
      BwPin scratch = { .value = G_MAXUINT };

      named.key = key;
      write_field (writer, "Pins", &named, pin, &scratch, FALSE);
      g_hash_table_add (wanted, g_steal_pointer (&key));
    }

  keys = bw_lines_keys (writer->lines, "Pins");
  for (guint i = 0; i < keys->len; i++)
    if (!g_hash_table_contains (wanted, g_ptr_array_index (keys, i)))
      bw_lines_remove_key (writer->lines, "Pins", g_ptr_array_index (keys, i));

  g_hash_table_add (writer->written, g_strdup ("Pins"));
}

/* ---- order ------------------------------------------------------------- */

/* The first swatch of a stitch pattern is the one a band takes, so the order of
 * swatches says something and must survive. */
static void
order_swatches (Writer *writer)
{
  g_autoptr (GPtrArray) wanted = g_ptr_array_new_with_free_func (g_free);

  for (guint i = 0; i < writer->design->swatches->len; i++)
    g_ptr_array_add (wanted, bw_design_group_name (BW_GROUP_SWATCH, writer->design, i));

  bw_lines_order_groups (writer->lines, wanted);
}

static void
order_pins (Writer *writer)
{
  g_autoptr (GPtrArray) wanted = g_ptr_array_new_with_free_func (g_free);

  for (guint i = 0; i < writer->design->pins->len; i++)
    g_ptr_array_add (wanted, pin_key (&g_array_index (writer->design->pins, BwPin, i)));

  bw_lines_order_keys (writer->lines, "Pins", wanted);
}

static void
remove_other_groups (Writer *writer)
{
  g_autoptr (GPtrArray) groups = bw_lines_groups (writer->lines);

  for (guint i = 0; i < groups->len; i++)
    if (!g_hash_table_contains (writer->written, g_ptr_array_index (groups, i)))
      bw_lines_remove_group (writer->lines, g_ptr_array_index (groups, i));
}

/* ---- the whole --------------------------------------------------------- */

static const char first_line[] =
  "# A hat design for Brimwright; brimwright-design(5) says what may stand here.\n\n";

/* What cannot be read as a key file cannot be edited either: then a new text is
 * begun. */
static BwLines *
lines_from (const char *text,
            GKeyFile   *previous)
{
  if (text != NULL && g_str_has_prefix (text, "\xef\xbb\xbf"))
    text += 3;

  if (text != NULL && text[0] != '\0' && bw_design_scan (text, strlen (text), NULL) &&
      g_key_file_load_from_data (previous, text, strlen (text), G_KEY_FILE_KEEP_TRANSLATIONS,
                                 NULL))
    return bw_lines_new (text);

  return bw_lines_new (first_line);
}

static void
write_all (Writer *writer)
{
  write_single (writer, BW_GROUP_DESIGN);
  write_single (writer, BW_GROUP_YARN);
  write_colours (writer);
  for (guint i = 0; i < writer->design->swatches->len; i++)
    write_swatch (writer, i);
  write_single (writer, BW_GROUP_SIZES);
  write_sizes (writer);
  write_single (writer, BW_GROUP_BRIM);
  write_bands (writer);
  write_single (writer, BW_GROUP_CROWN);
  write_single (writer, BW_GROUP_FINISHING);
  write_single (writer, BW_GROUP_RULES);
  write_pins (writer);

  remove_other_groups (writer);
  order_swatches (writer);
  order_pins (writer);
}

/**
 * bw_design_to_text:
 * @reference: size tables that the design may name
 * @design: a design
 * @previous: (nullable): the text to edit, usually what the design was read
 *   from; %NULL begins a new one
 * @length: (out) (optional): length of the result in bytes
 *
 * Writes @design as a design file. Comments, order and the spelling of values
 * that did not change are kept from @previous; what the design no longer says
 * is removed. Reading the result gives a design equal to @design, bit for bit,
 * if @design passes bw_design_check().
 *
 * Returns: (transfer full): the text
 */
char *
bw_design_to_text (const BwReference *reference,
                   const BwDesign    *design,
                   const char        *previous,
                   gsize             *length)
{
  g_autoptr (GKeyFile) key_file = g_key_file_new ();
  g_autoptr (BwLines) lines = NULL;
  g_autoptr (GHashTable) written = NULL;
  Writer writer;

  g_return_val_if_fail (reference != NULL, NULL);
  g_return_val_if_fail (design != NULL, NULL);

  lines = lines_from (previous, key_file);
  written = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  writer = (Writer) {
    .lines = lines,
    .previous = key_file,
    .fresh = !g_key_file_has_group (key_file, "Design"),
    .design = design,
    .written = written,
    .context = { .reference = reference, .units = design->units,
                 .mm_per_inch = design->mm_per_inch, .group = "" },
  };
  write_all (&writer);

  return bw_lines_to_text (lines, length);
}
