#define G_LOG_DOMAIN "bw-core"

#include "bw-reference.h"

#include <math.h>
#include <string.h>

#include "bw-crown.h"
#include "bw-error.h"

/* Two hooks are the same size when they differ by less than this, mm. */
#define HOOK_SAME_MM 0.05

static void
hook_clear (gpointer data)
{
  BwHook *hook = data;

  g_free (hook->us);
  g_free (hook->uk_old);
}

static void
yarn_class_clear (gpointer data)
{
  BwYarnClass *yarn_class = data;

  g_free (yarn_class->us);
  g_free (yarn_class->uk);
}

static int
compare_hooks (gconstpointer a,
               gconstpointer b)
{
  double x = ((const BwHook *) a)->mm;
  double y = ((const BwHook *) b)->mm;

  return (x > y) - (x < y);
}

static gboolean
read_hooks (const char  *text,
            GArray      *hooks,
            GError     **error)
{
  g_autoptr (GKeyFile) file = g_key_file_new ();
  g_auto (GStrv) groups = NULL;

  if (!g_key_file_load_from_data (file, text, strlen (text), G_KEY_FILE_NONE, error))
    return FALSE;

  groups = g_key_file_get_groups (file, NULL);
  for (guint i = 0; groups[i] != NULL; i++)
    {
      BwHook hook = { g_ascii_strtod (groups[i], NULL),
                      g_key_file_get_string (file, groups[i], "us", NULL),
                      g_key_file_get_string (file, groups[i], "uk-old", NULL) };

      g_array_append_val (hooks, hook);
      if (!(hook.mm > 0))
        {
          g_set_error (error, BW_ERROR, BW_ERROR_SYNTAX,
                       "[%s]: a hook's group is its size in mm, such as [5.5]", groups[i]);
          return FALSE;
        }
    }

  g_array_sort (hooks, compare_hooks);
  return TRUE;
}

/* "least;most" */
static gboolean
read_range (GKeyFile    *file,
            const char  *group,
            const char  *key,
            double      *least,
            double      *most,
            GError     **error)
{
  gsize n = 0;
  g_autofree double *values = g_key_file_get_double_list (file, group, key, &n, NULL);

  if (n != 2)
    {
      g_set_error (error, BW_ERROR, BW_ERROR_SYNTAX, "[%s] %s: wants two numbers, least;most", group,
                   key);
      return FALSE;
    }

  *least = values[0];
  *most = values[1];
  return TRUE;
}

/* An open end stays open; else the wider of the two editions. */
static double
widest (double   a,
        double   b,
        gboolean most)
{
  if (a == 0 || b == 0)
    return 0;
  return most ? MAX (a, b) : MIN (a, b);
}

static gboolean
read_yarn_class (GKeyFile     *file,
                 const char   *group,
                 BwYarnClass  *out,
                 GError      **error)
{
  double a_least, a_most, b_least, b_most;

  out->us = g_key_file_get_string (file, group, "us", error);
  out->uk = out->us == NULL ? NULL : g_key_file_get_string (file, group, "uk", error);
  if (out->uk == NULL ||
      !read_range (file, group, "stitches-a", &a_least, &a_most, error) ||
      !read_range (file, group, "stitches-b", &b_least, &b_most, error))
    return FALSE;
  out->stitches_min = widest (a_least, b_least, FALSE);
  out->stitches_max = widest (a_most, b_most, TRUE);

  if (!read_range (file, group, "hook-mm-a", &a_least, &a_most, error) ||
      !read_range (file, group, "hook-mm-b", &b_least, &b_most, error))
    return FALSE;
  out->hook_min_mm = widest (a_least, b_least, FALSE);
  out->hook_max_mm = widest (a_most, b_most, TRUE);
  return read_range (file, group, "m-per-100g", &out->m_per_100g_min, &out->m_per_100g_max, error);
}

static gboolean
read_yarn_classes (const char  *text,
                   GArray      *classes,
                   GError     **error)
{
  g_autoptr (GKeyFile) file = g_key_file_new ();
  g_auto (GStrv) groups = NULL;

  if (!g_key_file_load_from_data (file, text, strlen (text), G_KEY_FILE_NONE, error))
    return FALSE;

  groups = g_key_file_get_groups (file, NULL);
  for (guint i = 0; groups[i] != NULL; i++)
    {
      BwYarnClass *yarn_class;
      g_autofree char *expected = g_strdup_printf ("%u", i);

      g_array_set_size (classes, i + 1);
      yarn_class = &g_array_index (classes, BwYarnClass, i);
      yarn_class->number = i;
      if (!g_str_equal (groups[i], expected))
        {
          g_set_error (error, BW_ERROR, BW_ERROR_SYNTAX,
                       "[%s]: yarn classes stand in order from [0], this should be [%s]", groups[i],
                       expected);
          return FALSE;
        }
      if (!read_yarn_class (file, groups[i], yarn_class, error))
        return FALSE;
    }

  return TRUE;
}

static gboolean
read_size_tables (const char *const  *texts,
                  GPtrArray          *tables,
                  GError            **error)
{
  for (guint i = 0; texts[i] != NULL; i++)
    {
      BwSizeTable *table = bw_size_table_parse (texts[i], strlen (texts[i]), error);

      if (table == NULL)
        return FALSE;
      g_ptr_array_add (tables, table);
    }

  return TRUE;
}

/**
 * bw_reference_new:
 * @texts: the texts that the tables are read from
 * @error: return location for an error
 *
 * Returns: (transfer full) (nullable): the tables, or NULL with @error set
 */
BwReference *
bw_reference_new (const BwReferenceTexts  *texts,
                  GError                 **error)
{
  g_autoptr (BwReference) reference = g_new0 (BwReference, 1);

  reference->size_tables = g_ptr_array_new_with_free_func ((GDestroyNotify) bw_size_table_free);
  reference->hooks = g_array_new (FALSE, TRUE, sizeof (BwHook));
  g_array_set_clear_func (reference->hooks, hook_clear);
  reference->yarn_classes = g_array_new (FALSE, TRUE, sizeof (BwYarnClass));
  g_array_set_clear_func (reference->yarn_classes, yarn_class_clear);

  reference->stitches = bw_stitch_dictionary_parse (texts->stitches, strlen (texts->stitches), error);
  if (reference->stitches == NULL)
    return NULL;
  reference->fabrics = bw_fabric_table_parse (reference->stitches, texts->fabrics,
                                              strlen (texts->fabrics), error);
  if (reference->fabrics == NULL ||
      !read_hooks (texts->hooks, reference->hooks, error) ||
      !read_yarn_classes (texts->yarn_classes, reference->yarn_classes, error) ||
      !read_size_tables (texts->size_tables, reference->size_tables, error))
    return NULL;
  reference->crown_close = bw_crown_close_parse (texts->crown_close, strlen (texts->crown_close),
                                                 error);
  if (reference->crown_close == NULL)
    return NULL;

  return g_steal_pointer (&reference);
}

/**
 * bw_reference_free:
 * @reference: (nullable): the tables
 */
void
bw_reference_free (BwReference *reference)
{
  if (reference == NULL)
    return;

  g_clear_pointer (&reference->crown_close, g_array_unref);
  g_clear_pointer (&reference->yarn_classes, g_array_unref);
  g_clear_pointer (&reference->hooks, g_array_unref);
  g_clear_pointer (&reference->size_tables, g_ptr_array_unref);
  bw_fabric_table_free (reference->fabrics);
  bw_stitch_dictionary_free (reference->stitches);
  g_free (reference);
}

/**
 * bw_reference_size_table:
 * @reference: the tables
 * @id: identifier of a size table
 *
 * Returns: (transfer none) (nullable): the table
 */
const BwSizeTable *
bw_reference_size_table (const BwReference *reference,
                         const char        *id)
{
  for (guint i = 0; i < reference->size_tables->len; i++)
    {
      const BwSizeTable *table = g_ptr_array_index (reference->size_tables, i);

      if (g_str_equal (table->id, id))
        return table;
    }

  return NULL;
}

/**
 * bw_reference_hook:
 * @reference: the tables
 * @mm: size of a hook
 *
 * Returns: (transfer none) (nullable): its row, for its labels
 */
const BwHook *
bw_reference_hook (const BwReference *reference,
                   double             mm)
{
  for (guint i = 0; i < reference->hooks->len; i++)
    {
      const BwHook *hook = &g_array_index (reference->hooks, BwHook, i);

      if (fabs (hook->mm - mm) < HOOK_SAME_MM)
        return hook;
    }

  return NULL;
}

/**
 * bw_reference_yarn_class:
 * @reference: the tables
 * @number: 0 to 7
 *
 * Returns: (transfer none) (nullable): the class of yarn thickness
 */
const BwYarnClass *
bw_reference_yarn_class (const BwReference *reference,
                         guint              number)
{
  return number < reference->yarn_classes->len
    ? &g_array_index (reference->yarn_classes, BwYarnClass, number)
    : NULL;
}
