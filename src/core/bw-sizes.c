#define G_LOG_DOMAIN "bw-core"

#include "bw-sizes.h"

#include <math.h>

#include "bw-design-fields.h"
#include "bw-error.h"
#include "bw-units.h"

/* No head is smaller or larger than these, mm. */
#define HEAD_LEAST 150
#define HEAD_MOST  800

/* Nor is a hat flatter or, slouchy ones and all, deeper, mm. */
#define DEPTH_LEAST 50
#define DEPTH_MOST  600

/* Sizes of one table differ by this at least, mm: a head is not known better, and
 * the same figure in other units must not pass for a larger one. */
#define HEAD_STEP_LEAST 0.1

#define MONTHS_MOST 1200
#define SIZES_MOST  100

static const char *const table_keys[] = { "id", "name", "source", "status", NULL };

static const char *const size_keys[] = {
  "name", "head", "depth", "months-from", "source", "status",
  "head-in", "head-cm", "depth-in", "depth-cm", "hat-in", "hat-cm", NULL
};

/* Depth of a hat as a share of the head, where no table says better. Read in
 * "Do you struggle with hat sizing" (thecountrywillows.com/do-you-struggle-with-
 * hat-sizing/) and "How to size a hat" (hookthatyarn.wordpress.com/2016/06/09/
 * how-to-size-a-hat/). */
#define DEPTH_OF_HEAD 0.4

/**
 * bw_size_new:
 * @id: identifier, unique in its table
 * @name: name for people
 * @head_mm: head girth, mm
 * @depth_mm: hat depth, edge to top along the fabric, mm
 *
 * Returns: (transfer full): a size for a wearer whose age is not stated
 */
BwSize *
bw_size_new (const char *id,
             const char *name,
             double      head_mm,
             double      depth_mm)
{
  BwSize *size = g_new0 (BwSize, 1);

  size->id = g_strdup (id);
  size->name = g_strdup (name);
  size->source = g_strdup ("");
  size->head_mm = head_mm;
  size->depth_mm = depth_mm;
  size->months_from = -1;
  return size;
}

/**
 * bw_size_copy:
 * @size: a size
 *
 * Returns: (transfer full): a copy of it
 */
BwSize *
bw_size_copy (const BwSize *size)
{
  BwSize *copy = bw_size_new (size->id, size->name, size->head_mm, size->depth_mm);

  g_free (copy->source);
  copy->source = g_strdup (size->source);
  copy->months_from = size->months_from;
  copy->status = size->status;
  return copy;
}

/**
 * bw_size_free:
 * @size: (nullable): a size
 */
void
bw_size_free (BwSize *size)
{
  if (size == NULL)
    return;

  g_free (size->id);
  g_free (size->name);
  g_free (size->source);
  g_free (size);
}

/* --- Tables --- */

/* A length between two limits, both in mm; the messages speak of cm. */
static gboolean
read_length (GKeyFile    *file,
             const char  *id,
             const char  *key,
             int          least,
             int          most,
             double      *mm,
             GError     **error)
{
  g_autofree char *text = bw_data_file_string (file, id, key, error);

  if (text == NULL)
    return FALSE;
  if (!bw_units_parse_length (text, BW_UNITS_CM, BW_MM_PER_INCH, mm, error))
    {
      g_prefix_error (error, "[%s] %s: ", id, key);
      return FALSE;
    }
  if (!(*mm >= least && *mm <= most))
    {
      g_set_error (error, BW_ERROR, BW_ERROR_RANGE, "[%s] %s: %s is not between %d and %d cm", id,
                   key, text, least / 10, most / 10);
      return FALSE;
    }

  return TRUE;
}

static gboolean
read_months (GKeyFile    *file,
             const char  *id,
             BwSize      *size,
             GError     **error)
{
  guint months;

  if (!g_key_file_has_key (file, id, "months-from", NULL))
    return TRUE;
  if (!bw_data_file_integer (file, id, "months-from", MONTHS_MOST, &months, error))
    return FALSE;

  size->months_from = (int) months;
  return TRUE;
}

static BwSize *
read_size (GKeyFile    *file,
           const char  *id,
           GError     **error)
{
  g_autoptr (BwSize) size = g_new0 (BwSize, 1);

  size->id = g_strdup (id);
  size->months_from = -1;
  if (!bw_design_id_is_valid (id))
    {
      g_set_error (error, BW_ERROR, BW_ERROR_SYNTAX,
                   "[%s]: a size is named by letters, digits, - and _, such as adult-m", id);
      return NULL;
    }
  if (!bw_data_file_keys (file, id, size_keys, error) ||
      (size->name = bw_data_file_string (file, id, "name", error)) == NULL ||
      (size->source = bw_data_file_string (file, id, "source", error)) == NULL ||
      !bw_data_file_status (file, id, "status", &size->status, error) ||
      !read_length (file, id, "head", HEAD_LEAST, HEAD_MOST, &size->head_mm, error) ||
      !read_length (file, id, "depth", DEPTH_LEAST, DEPTH_MOST, &size->depth_mm, error) ||
      !read_months (file, id, size, error))
    return NULL;

  return g_steal_pointer (&size);
}

static gboolean
read_header (GKeyFile     *file,
             BwSizeTable  *table,
             GError      **error)
{
  if (!g_key_file_has_group (file, "Table"))
    {
      g_set_error (error, BW_ERROR, BW_ERROR_MISSING,
                   "A size table begins with the group [Table]: write id, name, source and status");
      return FALSE;
    }

  return bw_data_file_keys (file, "Table", table_keys, error) &&
         (table->id = bw_data_file_string (file, "Table", "id", error)) != NULL &&
         (table->name = bw_data_file_string (file, "Table", "name", error)) != NULL &&
         (table->source = bw_data_file_string (file, "Table", "source", error)) != NULL &&
         bw_data_file_status (file, "Table", "status", &table->status, error);
}

static gboolean
add_size (BwSizeTable  *table,
          BwSize       *size,
          GError      **error)
{
  const BwSize *before = table->sizes->len > 0
    ? g_ptr_array_index (table->sizes, table->sizes->len - 1)
    : NULL;

  g_ptr_array_add (table->sizes, size);
  if (table->sizes->len > SIZES_MOST)
    {
      g_set_error (error, BW_ERROR, BW_ERROR_TOO_LARGE,
                   "[%s]: a size table holds %d sizes at most; leave some out", size->id,
                   SIZES_MOST);
      return FALSE;
    }
  if (before != NULL && size->head_mm < before->head_mm + HEAD_STEP_LEAST)
    {
      g_autofree char *head = bw_units_format_number (size->head_mm / 10, 2);
      g_autofree char *head_before = bw_units_format_number (before->head_mm / 10, 2);

      g_set_error (error, BW_ERROR, BW_ERROR_CONFLICT,
                   "[%s] head: sizes have to ascend, and %s cm is not more than %s cm of [%s]",
                   size->id, head, head_before, before->id);
      return FALSE;
    }

  return TRUE;
}

/**
 * bw_size_table_parse:
 * @text: a key file: a group [Table] with id, name, source and status, and then one
 *   group a size, smallest first, with name, head, depth (bare numbers are cm),
 *   source, status and perhaps months-from. Keys that end in -in and -cm keep what
 *   the source printed, for people; nothing is read from them.
 * @length: its length in bytes
 * @error: return location for an error
 *
 * Returns: (transfer full) (nullable): the table, or NULL with @error set to what
 *   has to change, by group and key
 */
BwSizeTable *
bw_size_table_parse (const char  *text,
                     gsize        length,
                     GError     **error)
{
  g_autoptr (GKeyFile) file = bw_data_file_load (text, length, "Size table", error);
  g_autoptr (BwSizeTable) table = g_new0 (BwSizeTable, 1);
  g_auto (GStrv) ids = NULL;

  table->sizes = g_ptr_array_new_with_free_func ((GDestroyNotify) bw_size_free);
  if (file == NULL || !read_header (file, table, error))
    return NULL;

  ids = g_key_file_get_groups (file, NULL);
  for (guint i = 0; ids[i] != NULL; i++)
    {
      BwSize *size;

      if (g_str_equal (ids[i], "Table"))
        continue;
      size = read_size (file, ids[i], error);
      if (size == NULL || !add_size (table, size, error))
        return NULL;
    }

  if (table->sizes->len == 0)
    {
      g_set_error (error, BW_ERROR, BW_ERROR_MISSING,
                   "The size table “%s” holds no size: add a group such as [adult-m]", table->id);
      return NULL;
    }

  return g_steal_pointer (&table);
}

/**
 * bw_size_table_free:
 * @table: (nullable): a table
 */
void
bw_size_table_free (BwSizeTable *table)
{
  if (table == NULL)
    return;

  g_free (table->id);
  g_free (table->name);
  g_free (table->source);
  g_clear_pointer (&table->sizes, g_ptr_array_unref);
  g_free (table);
}

/**
 * bw_size_table_find:
 * @table: a table
 * @id: identifier of a size
 *
 * Returns: (transfer none) (nullable): the size
 */
const BwSize *
bw_size_table_find (const BwSizeTable *table,
                    const char        *id)
{
  for (guint i = 0; i < table->sizes->len; i++)
    {
      const BwSize *size = g_ptr_array_index (table->sizes, i);

      if (g_str_equal (size->id, id))
        return size;
    }

  return NULL;
}

/* --- Figures of a head --- */

/**
 * bw_ease_apply:
 * @ease: an ease
 * @head_mm: head girth, mm
 *
 * Returns: what the ease makes of the head, mm
 */
double
bw_ease_apply (const BwEase *ease,
               double        head_mm)
{
  return head_mm * (1 + ease->fraction) + ease->length_mm;
}

/**
 * bw_sizes_crown_diameter:
 * @girth_mm: finished circumference, mm
 *
 * Returns: diameter of a flat crown that fits it, mm: girth / pi ("Do you
 *   struggle with hat sizing", thecountrywillows.com)
 */
double
bw_sizes_crown_diameter (double girth_mm)
{
  return girth_mm / G_PI;
}

/**
 * bw_sizes_depth_from_head:
 * @head_mm: head girth, mm
 *
 * Returns: depth of a hat, crown to ear, mm: 0.4 of the head
 */
double
bw_sizes_depth_from_head (double head_mm)
{
  return DEPTH_OF_HEAD * head_mm;
}

/* Eighths as a hat shop writes them: `7 1/8`. */
static char *
format_eighths (long eighths)
{
  long over = eighths % 8;
  long under = 8;

  if (over == 0)
    return g_strdup_printf ("%ld", eighths / 8);
  while (over % 2 == 0)
    {
      over /= 2;
      under /= 2;
    }
  return g_strdup_printf ("%ld %ld/%ld", eighths / 8, over, under);
}

static long
us_eighths (double head_mm)
{
  return lround (head_mm / BW_MM_PER_INCH / G_PI * 8);
}

/**
 * bw_sizes_hat_size_us:
 * @head_mm: head girth, mm
 *
 * Returns: (transfer full): US hat size, such as `7 1/8`: girth in inches / pi, to
 *   the nearest eighth ("Hat", printpromotionguide.com/blog/hats-as-promotional-
 *   products.php; "Hat size", liquisearch.com/hat/hat_size)
 */
char *
bw_sizes_hat_size_us (double head_mm)
{
  g_return_val_if_fail (head_mm > BW_MM_PER_INCH && head_mm < 1e4, NULL);

  return format_eighths (us_eighths (head_mm));
}

/**
 * bw_sizes_hat_size_uk:
 * @head_mm: head girth, mm
 *
 * Returns: (transfer full): UK hat size, an eighth below the US one (same sources)
 */
char *
bw_sizes_hat_size_uk (double head_mm)
{
  g_return_val_if_fail (head_mm > BW_MM_PER_INCH && head_mm < 1e4, NULL);

  return format_eighths (us_eighths (head_mm) - 1);
}
