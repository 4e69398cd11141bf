#define G_LOG_DOMAIN "bw-core"

#include <string.h>

#include "bw-design-reader.h"

/* Reading the sizes of a design, and the pins that name them. */

/* ---- sizes ------------------------------------------------------------- */

static gboolean
check_table (BwReader  *reader,
             GError   **error)
{
  const GPtrArray *tables = reader->context.reference->size_tables;
  const char *wanted = reader->design->size_table;
  g_autofree char *question = NULL;
  BwNearest nearest;

  if (wanted[0] == '\0' || bw_reference_size_table (reader->context.reference, wanted) != NULL)
    return TRUE;

  bw_nearest_init (&nearest, wanted);
  for (guint i = 0; i < tables->len; i++)
    bw_nearest_offer (&nearest, ((const BwSizeTable *) g_ptr_array_index (tables, i))->id);
  question = bw_nearest_question (&nearest);
  bw_design_set_error (error, BW_ERROR_UNKNOWN, "Sizes", "table", "there is no table “%s”%s",
                       wanted, nearest.best != NULL ? question
                                                    : "; leave it out and give every size its own "
                                                      "group");

  return FALSE;
}

/* A size that is neither in the table nor described by a group of its own. */
static gboolean
unknown_size (BwReader    *reader,
              const char  *id,
              GError     **error)
{
  const BwSizeTable *table = NULL;
  g_autofree char *question = NULL;
  BwNearest nearest;

  bw_nearest_init (&nearest, id);
  if (reader->design->size_table[0] != '\0')
    table = bw_reference_size_table (reader->context.reference, reader->design->size_table);
  for (guint i = 0; table != NULL && i < table->sizes->len; i++)
    bw_nearest_offer (&nearest, ((const BwSize *) g_ptr_array_index (table->sizes, i))->id);
  question = bw_nearest_question (&nearest);

  bw_design_set_error (error, BW_ERROR_UNKNOWN, "Sizes", "use",
                       "no table says what size “%s” is%s%s give its head and depth in "
                       "[Size %s]", id, question, nearest.best != NULL ? " Or" : ";", id);

  return FALSE;
}

/* Head and depth have no default: what neither a table nor the size says. */
static gboolean
check_figures (BwReader            *reader,
               const char          *group,
               const BwSizeChoice  *choice,
               GError             **error)
{
  static const char *const keys[] = { "head", "depth" };

  for (guint i = 0; i < G_N_ELEMENTS (keys); i++)
    {
      const BwField *field = bw_field_find (bw_field_group (BW_GROUP_SIZE), keys[i]);
      g_autofree char *expected = NULL;

      if (*(const double *) bw_field_value (field, (gpointer) choice) != 0.0)
        continue;

      expected = bw_field_expectation (field, &reader->context);
      bw_design_set_error (error, BW_ERROR_MISSING, group, keys[i], "is missing; write %s",
                           expected);
      return FALSE;
    }

  return TRUE;
}

static gboolean
unused_size (BwReader    *reader,
             const char  *group,
             const char  *id,
             GError     **error)
{
  const GArray *sizes = reader->design->sizes;
  g_autofree char *question = NULL;
  BwNearest nearest;

  bw_nearest_init (&nearest, id);
  for (guint i = 0; i < sizes->len; i++)
    {
      const BwSize *size = g_array_index (sizes, BwSizeChoice, i).size;

      if (g_str_equal (size->id, id))
        return TRUE;

      bw_nearest_offer (&nearest, size->id);
    }

  question = bw_nearest_question (&nearest);
  bw_design_set_error (error, BW_ERROR_UNKNOWN, group, NULL,
                       "this size is not in use%s%s name it in [Sizes] use, or take the group out",
                       question, nearest.best != NULL ? " Or" : ";");

  return FALSE;
}

static gboolean
check_size_groups (BwReader  *reader,
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

      if (id == BW_GROUP_SIZE && !unused_size (reader, groups[i], rest, error))
        return FALSE;
    }

  return TRUE;
}

static int
compare_heads (gconstpointer a,
               gconstpointer b)
{
  double x = ((const BwSizeChoice *) a)->size->head_mm;
  double y = ((const BwSizeChoice *) b)->size->head_mm;

  return (x > y) - (x < y);
}

/**
 * bw_reader_read_sizes:
 * @reader: the reader, with the units read
 * @error: (out) (optional): %BW_ERROR
 *
 * Reads which sizes are in use and what they say for themselves, and brings
 * them into ascending order of head girth.
 *
 * Returns: whether all will do
 */
gboolean
bw_reader_read_sizes (BwReader  *reader,
                      GError   **error)
{
  GArray *sizes;

  if (!bw_reader_read_single (reader, BW_GROUP_SIZES, error) || !check_table (reader, error) ||
      !check_size_groups (reader, error))
    return FALSE;

  sizes = reader->design->sizes;
  for (guint i = 0; i < sizes->len; i++)
    {
      BwSizeChoice *choice = &g_array_index (sizes, BwSizeChoice, i);
      g_autofree char *group = bw_design_group_name (BW_GROUP_SIZE, reader->design, i);

      if (g_key_file_has_group (reader->key_file, group))
        {
          if (!bw_reader_read_group (reader, group, BW_GROUP_SIZE, choice, error) ||
              !check_figures (reader, group, choice, error))
            return FALSE;
        }
      else if (choice->size->head_mm == 0.0)
        {
          return unknown_size (reader, choice->size->id, error);
        }
    }

  /* people list sizes in any order; a family has one, and g_array_sort is stable */
  g_array_sort (sizes, compare_heads);

  return TRUE;
}

/* ---- pins -------------------------------------------------------------- */

static gboolean
bad_pin (const char  *key,
         const char  *what,
         GError     **error)
{
  const BwFieldGroup *pins = bw_field_group (BW_GROUP_PINS);
  g_autofree char *question = NULL;
  BwNearest nearest;

  bw_nearest_init (&nearest, what);
  for (guint i = 0; i < pins->n_fields; i++)
    bw_nearest_offer (&nearest, pins->fields[i].key);
  question = bw_nearest_question (&nearest);
  bw_design_set_error (error, BW_ERROR_UNKNOWN, "Pins", key,
                       "this cannot be pinned%s %s SIZE.KEY, such as adult-m.body-stitches, "
                       "with one of body-stitches, brim-count, brim-height, crown-start and "
                       "fill-repeats", nearest.best != NULL ? question : ";",
                       nearest.best != NULL ? "Write" : "write");

  return FALSE;
}

static gboolean
read_pin (BwReader    *reader,
          const char  *key,
          GError     **error)
{
  const char *dot = strrchr (key, '.');
  const BwField *field;
  g_autofree char *text = NULL;
  BwPin pin;

  field = dot != NULL ? bw_field_find (bw_field_group (BW_GROUP_PINS), dot + 1) : NULL;
  if (field == NULL || dot == key)
    return bad_pin (key, dot != NULL ? dot + 1 : key, error);

  text = bw_reader_get_text (reader, "Pins", key, error);
  if (text == NULL)
    return FALSE;

  reader->context.key = key;
  pin.kind = (BwPinKind) (field - bw_field_group (BW_GROUP_PINS)->fields);
  if (!bw_field_read (field, &reader->context, &pin, text, error))
    return FALSE;

  pin.size = g_strndup (key, (gsize) (dot - key));
  g_array_append_val (reader->design->pins, pin);

  return TRUE;
}

/**
 * bw_reader_read_pins:
 * @reader: the reader
 * @error: (out) (optional): %BW_ERROR
 *
 * Reads the pins; whether their sizes are in use is checked later.
 *
 * Returns: whether all will do
 */
gboolean
bw_reader_read_pins (BwReader  *reader,
                     GError   **error)
{
  g_auto (GStrv) keys = g_key_file_get_keys (reader->key_file, "Pins", NULL, NULL);

  reader->context.group = "Pins";
  for (guint i = 0; keys != NULL && keys[i] != NULL; i++)
    if (!read_pin (reader, keys[i], error))
      return FALSE;

  reader->context.key = NULL;

  return TRUE;
}
