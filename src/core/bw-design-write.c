#define G_LOG_DOMAIN "bw-core"

#include <string.h>

#include "bw-design-fields.h"

/* Writing a design file. The text that the design was read from is edited, not
 * replaced: a key whose text still means the same keeps its text, so the
 * designer finds "22 in" and every comment where they were. */

typedef struct
{
  GKeyFile       *key_file; /* borrowed; being edited */
  const BwDesign *design;   /* borrowed */
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
  g_autofree char *old = g_key_file_get_string (writer->key_file, group, field->key, NULL);

  if (old == NULL || !bw_field_read (field, &writer->context, scratch, old, NULL))
    return NULL;

  return bw_field_print (field, &writer->context, scratch);
}

static void
remove_key (Writer     *writer,
            const char *group,
            const char *key)
{
  if (g_key_file_has_key (writer->key_file, group, key, NULL))
    g_key_file_remove_key (writer->key_file, group, key, NULL);
}

/* @defaults says what the reader takes where the key is absent; the scratch
 * structure serves for both, because it is printed before it is read into. */
static void
write_field (Writer        *writer,
             const char    *group,
             const BwField *field,
             gconstpointer  base,
             gpointer       defaults)
{
  g_autofree char *text = bw_field_print (field, &writer->context, base);
  g_autofree char *absent = bw_field_print (field, &writer->context, defaults);
  g_autofree char *old = meaning_of_old (writer, group, field, defaults);

  if (g_strcmp0 (old, text) == 0)
    return;

  if (g_str_equal (text, absent) && !(field->flags & BW_FIELD_ALWAYS))
    remove_key (writer, group, field->key);
  else
    g_key_file_set_string (writer->key_file, group, field->key, text);
}

/* ---- one group --------------------------------------------------------- */

static void
remove_unknown_keys (Writer             *writer,
                     const char         *group,
                     const BwFieldGroup *known)
{
  g_auto (GStrv) keys = g_key_file_get_keys (writer->key_file, group, NULL, NULL);

  for (guint i = 0; keys != NULL && keys[i] != NULL; i++)
    if (bw_field_find (known, keys[i]) == NULL)
      remove_key (writer, group, keys[i]);
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

  g_hash_table_add (writer->written, group); /* takes it; outlives the group */
  remove_unknown_keys (writer, group, known);
  for (guint i = 0; i < known->n_fields; i++)
    if (known->fields[i].kind != BW_FIELD_GAUGE)
      write_field (writer, group, &known->fields[i], base, defaults);
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
      write_group (writer, BW_GROUP_COLOUR, i, &g_array_index (writer->design->colours, BwColour, i),
                   &defaults);
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
  g_autofree char *old = g_key_file_get_string (writer->key_file, group, "gauge", NULL);
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
      remove_key (writer, group, "stitches");
      remove_key (writer, group, "rounds");
    }
  else
    {
      remove_key (writer, group, "gauge");
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
  g_auto (GStrv) keys = NULL;

  for (guint i = 0; i < pins->len; i++)
    {
      const BwPin *pin = &g_array_index (pins, BwPin, i);
      const BwField *field = &bw_field_group (BW_GROUP_PINS)->fields[pin->kind];
      g_autofree char *key = pin_key (pin);
      BwField named = *field;
      BwPin scratch = { .value = G_MAXUINT };

      named.key = key;
      write_field (writer, "Pins", &named, pin, &scratch);
      g_hash_table_add (wanted, g_steal_pointer (&key));
    }

  keys = g_key_file_get_keys (writer->key_file, "Pins", NULL, NULL);
  for (guint i = 0; keys != NULL && keys[i] != NULL; i++)
    if (!g_hash_table_contains (wanted, keys[i]))
      remove_key (writer, "Pins", keys[i]);

  g_hash_table_add (writer->written, g_strdup ("Pins"));
}

/* ---- order ------------------------------------------------------------- */

static void
copy_comment (GKeyFile   *from,
              GKeyFile   *to,
              const char *group,
              const char *key)
{
  g_autofree char *comment = g_key_file_get_comment (from, group, key, NULL);

  if (comment != NULL && comment[0] != '\0')
    g_key_file_set_comment (to, group, key, comment, NULL);
}

/* Takes a key out and puts it back at the end of its group, comment and all. */
static void
move_key_to_end (GKeyFile   *key_file,
                 const char *group,
                 const char *key)
{
  g_autofree char *value = g_key_file_get_value (key_file, group, key, NULL);
  g_autofree char *comment = g_key_file_get_comment (key_file, group, key, NULL);

  g_key_file_remove_key (key_file, group, key, NULL);
  g_key_file_set_value (key_file, group, key, value);
  if (comment != NULL && comment[0] != '\0')
    g_key_file_set_comment (key_file, group, key, comment, NULL);
}

static void
move_group_to_end (GKeyFile   *key_file,
                   const char *group)
{
  g_auto (GStrv) keys = g_key_file_get_keys (key_file, group, NULL, NULL);
  g_autoptr (GKeyFile) aside = g_key_file_new ();

  for (guint i = 0; keys != NULL && keys[i] != NULL; i++)
    {
      g_autofree char *value = g_key_file_get_value (key_file, group, keys[i], NULL);

      g_key_file_set_value (aside, group, keys[i], value);
      copy_comment (key_file, aside, group, keys[i]);
    }

  g_key_file_remove_group (key_file, group, NULL);
  for (guint i = 0; keys != NULL && keys[i] != NULL; i++)
    {
      g_autofree char *value = g_key_file_get_value (aside, group, keys[i], NULL);

      g_key_file_set_value (key_file, group, keys[i], value);
      copy_comment (aside, key_file, group, keys[i]);
    }
}

/* Whether @wanted occur in @actual in that order; others may lie between. */
static gboolean
in_order (const GPtrArray  *wanted,
          char            **actual)
{
  guint n = 0;

  for (guint i = 0; actual != NULL && actual[i] != NULL && n < wanted->len; i++)
    if (g_str_equal (actual[i], g_ptr_array_index (wanted, n)))
      n++;

  return n == wanted->len;
}

/* The first swatch of a stitch pattern is the one a band takes, so the order of
 * swatches says something and must survive. */
static void
order_swatches (Writer *writer)
{
  g_autoptr (GPtrArray) wanted = g_ptr_array_new_with_free_func (g_free);
  g_auto (GStrv) groups = g_key_file_get_groups (writer->key_file, NULL);

  for (guint i = 0; i < writer->design->swatches->len; i++)
    g_ptr_array_add (wanted, bw_design_group_name (BW_GROUP_SWATCH, writer->design, i));

  if (in_order (wanted, groups))
    return;

  for (guint i = 0; i < wanted->len; i++)
    move_group_to_end (writer->key_file, g_ptr_array_index (wanted, i));
}

static void
order_pins (Writer *writer)
{
  g_autoptr (GPtrArray) wanted = g_ptr_array_new_with_free_func (g_free);
  g_auto (GStrv) keys = g_key_file_get_keys (writer->key_file, "Pins", NULL, NULL);

  for (guint i = 0; i < writer->design->pins->len; i++)
    g_ptr_array_add (wanted, pin_key (&g_array_index (writer->design->pins, BwPin, i)));

  if (in_order (wanted, keys))
    return;

  for (guint i = 0; i < wanted->len; i++)
    move_key_to_end (writer->key_file, "Pins", g_ptr_array_index (wanted, i));
}

static void
remove_other_groups (Writer *writer)
{
  g_auto (GStrv) groups = g_key_file_get_groups (writer->key_file, NULL);

  for (guint i = 0; groups[i] != NULL; i++)
    if (!g_hash_table_contains (writer->written, groups[i]))
      g_key_file_remove_group (writer->key_file, groups[i], NULL);
}

/* ---- the whole --------------------------------------------------------- */

/* What cannot be read as a design cannot be edited either: then a new text is
 * begun. */
static GKeyFile *
key_file_from (const char *previous)
{
  GKeyFile *key_file = g_key_file_new ();

  if (previous != NULL && previous[0] != '\0' &&
      bw_design_scan (previous, strlen (previous), NULL) &&
      g_key_file_load_from_data (key_file, previous, strlen (previous),
                                 G_KEY_FILE_KEEP_COMMENTS | G_KEY_FILE_KEEP_TRANSLATIONS, NULL))
    return key_file;

  g_key_file_unref (key_file);
  key_file = g_key_file_new ();
  g_key_file_set_comment (key_file, NULL, NULL,
                          " A hat design for Brimwright; brimwright-design(5) says what may stand "
                          "here.", NULL);

  return key_file;
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
  g_autoptr (GKeyFile) key_file = NULL;
  g_autoptr (GHashTable) written = NULL;
  Writer writer;

  g_return_val_if_fail (reference != NULL, NULL);
  g_return_val_if_fail (design != NULL, NULL);

  key_file = key_file_from (previous);
  written = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  writer = (Writer) {
    .key_file = key_file,
    .design = design,
    .written = written,
    .context = { .reference = reference, .units = design->units,
                 .mm_per_inch = design->mm_per_inch, .group = "" },
  };
  write_all (&writer);

  return g_key_file_to_data (key_file, length, NULL);
}
