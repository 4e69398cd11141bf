#define G_LOG_DOMAIN "bw-core"

#include "bw-reference.h"

#include <math.h>
#include <string.h>

#include "bw-crown.h"
#include "bw-error.h"

/* Two hooks are the same size when they differ by less than this, mm. */
#define HOOK_SAME_MM 0.05
#define HOOK_MOST_MM 100

#define YARN_CLASSES 8
#define NAME_PREFIX  "name "

static const char *const hook_keys[] = {
  "us", "us-source", "us-status", "uk-old", "uk-old-a", "uk-old-b", "uk-old-c", "uk-needle",
  "uk-old-status", "note", NULL
};

static const char *const class_keys[] = {
  "us", "types", "uk", "gauge-stitch", "stitches-a", "stitches-b", "hook-mm-a", "hook-mm-b",
  "steel-hook-mm-a", "hook-us-a", "source", "status", "note", NULL
};

static const char *const name_keys[] = {
  "uk", "class", "ply", "m-per-100g-a", "m-per-100g-b", "m-per-100g-c", "m-per-50g-d", "wraps-b",
  "wraps-d", "source", "status", "note", NULL
};

static void
hook_clear (gpointer data)
{
  BwHook *hook = data;

  g_free (hook->us);
  g_free (hook->uk_old);
  g_free (hook->note);
}

static void
yarn_class_clear (gpointer data)
{
  BwYarnClass *yarn_class = data;

  g_free (yarn_class->us);
  g_free (yarn_class->uk);
  g_free (yarn_class->gauge_stitch);
  g_free (yarn_class->note);
}

static void
yarn_name_clear (gpointer data)
{
  BwYarnName *name = data;

  g_free (name->id);
  g_free (name->uk);
  g_free (name->ply);
  g_free (name->note);
}

/* --- Hooks --- */

static gboolean
read_hook (GKeyFile    *file,
           const char  *group,
           BwHook      *hook,
           GError     **error)
{
  g_autofree char *source = NULL;
  char *end;

  hook->mm = g_ascii_strtod (group, &end);
  if (end == group || *end != '\0' || !(hook->mm > 0 && hook->mm <= HOOK_MOST_MM))
    {
      g_set_error (error, BW_ERROR, BW_ERROR_SYNTAX,
                   "[%s]: a hook's group is its size in mm, such as [5.5]", group);
      return FALSE;
    }
  if (!bw_data_file_keys (file, group, hook_keys, error))
    return FALSE;

  hook->us = bw_data_file_optional (file, group, "us");
  hook->uk_old = bw_data_file_optional (file, group, "uk-old");
  hook->note = bw_data_file_optional (file, group, "note");
  if (hook->us != NULL &&
      ((source = bw_data_file_string (file, group, "us-source", error)) == NULL ||
       !bw_data_file_status (file, group, "us-status", &hook->us_status, error)))
    return FALSE;
  return hook->uk_old == NULL ||
         bw_data_file_status (file, group, "uk-old-status", &hook->uk_old_status, error);
}

static gboolean
read_hooks (const char  *text,
            GArray      *hooks,
            GError     **error)
{
  g_autoptr (GKeyFile) file = bw_data_file_load (text, strlen (text), "Hooks", error);
  g_auto (GStrv) groups = NULL;

  if (file == NULL)
    return FALSE;

  groups = g_key_file_get_groups (file, NULL);
  for (guint i = 0; groups[i] != NULL; i++)
    {
      BwHook *hook;

      g_array_set_size (hooks, i + 1);
      hook = &g_array_index (hooks, BwHook, i);
      if (!read_hook (file, groups[i], hook, error))
        return FALSE;
      if (i > 0 && hook->mm <= g_array_index (hooks, BwHook, i - 1).mm + 2 * HOOK_SAME_MM)
        {
          g_set_error (error, BW_ERROR, BW_ERROR_CONFLICT, "[%s]: hooks stand in ascending size",
                       groups[i]);
          return FALSE;
        }
    }

  return TRUE;
}

/* --- Yarn --- */

/* Makes `range` reach as far as `other` does too; an open end stays open. */
static void
widen (BwRange       *range,
       const BwRange *other)
{
  range->least = MIN (range->least, other->least);
  range->most = range->most == 0 || other->most == 0 ? 0 : MAX (range->most, other->most);
}

/* What all of the keys that stand there reach, each multiplied by its factor. */
static gboolean
read_reach (GKeyFile           *file,
            const char         *group,
            const char *const  *keys,
            const double       *factors,
            BwRange            *reach,
            GError            **error)
{
  gboolean any = FALSE;

  for (guint i = 0; keys[i] != NULL; i++)
    {
      BwRange range;

      if (!g_key_file_has_key (file, group, keys[i], NULL))
        continue;
      if (!bw_data_file_range (file, group, keys[i], &range, error))
        return FALSE;
      range.least *= factors[i];
      range.most *= factors[i];
      if (any)
        widen (reach, &range);
      else
        *reach = range;
      any = TRUE;
    }

  return TRUE;
}

static gboolean
read_editions (GKeyFile     *file,
               const char   *group,
               BwYarnClass  *out,
               GError      **error)
{
  static const char *const stitches[] = { "stitches-a", "stitches-b" };
  static const char *const hooks[] = { "hook-mm-a", "hook-mm-b" };
  BwRange reach[2];

  for (guint i = 0; i < G_N_ELEMENTS (out->editions); i++)
    if (!bw_data_file_range (file, group, stitches[i], &out->editions[i].stitches, error) ||
        !bw_data_file_range (file, group, hooks[i], &out->editions[i].hook_mm, error))
      return FALSE;

  reach[0] = out->editions[0].stitches;
  reach[1] = out->editions[0].hook_mm;
  widen (&reach[0], &out->editions[1].stitches);
  widen (&reach[1], &out->editions[1].hook_mm);
  out->stitches_min = reach[0].least;
  out->stitches_max = reach[0].most;
  out->hook_min_mm = reach[1].least;
  out->hook_max_mm = reach[1].most;
  return TRUE;
}

static gboolean
read_yarn_class (GKeyFile     *file,
                 const char   *group,
                 BwYarnClass  *out,
                 GError      **error)
{
  g_autofree char *source = NULL;

  out->note = bw_data_file_optional (file, group, "note");
  return bw_data_file_keys (file, group, class_keys, error) &&
         (out->us = bw_data_file_string (file, group, "us", error)) != NULL &&
         (out->uk = bw_data_file_string (file, group, "uk", error)) != NULL &&
         (out->gauge_stitch = bw_data_file_string (file, group, "gauge-stitch", error)) != NULL &&
         (source = bw_data_file_string (file, group, "source", error)) != NULL &&
         bw_data_file_status (file, group, "status", &out->status, error) &&
         read_editions (file, group, out, error);
}

static gboolean
read_yarn_name (GKeyFile    *file,
                const char  *group,
                BwYarnName  *out,
                GError     **error)
{
  static const char *const metres[] = { "m-per-100g-a", "m-per-100g-b", "m-per-100g-c",
                                        "m-per-50g-d", NULL };
  static const double to_100g[] = { 1, 1, 1, 2 };
  static const char *const wraps[] = { "wraps-b", "wraps-d", NULL };
  g_autofree char *source = NULL;

  out->id = g_strdup (group + strlen (NAME_PREFIX));
  out->ply = bw_data_file_optional (file, group, "ply");
  out->note = bw_data_file_optional (file, group, "note");
  return bw_data_file_keys (file, group, name_keys, error) &&
         (out->uk = bw_data_file_string (file, group, "uk", error)) != NULL &&
         (source = bw_data_file_string (file, group, "source", error)) != NULL &&
         bw_data_file_status (file, group, "status", &out->status, error) &&
         bw_data_file_integer (file, group, "class", YARN_CLASSES - 1, &out->number, error) &&
         read_reach (file, group, metres, to_100g, &out->m_per_100g, error) &&
         read_reach (file, group, wraps, to_100g, &out->wraps_per_inch, error);
}

/* The metres of a class are those of its names. */
static gboolean
set_metres (BwReference  *reference,
            GError      **error)
{
  for (guint i = 0; i < reference->yarn_classes->len; i++)
    {
      BwYarnClass *yarn_class = &g_array_index (reference->yarn_classes, BwYarnClass, i);
      BwRange reach = { -1, 0 };

      for (guint j = 0; j < reference->yarn_names->len; j++)
        {
          const BwYarnName *name = &g_array_index (reference->yarn_names, BwYarnName, j);

          if (name->number != i)
            continue;
          if (reach.least < 0)
            reach = name->m_per_100g;
          else
            widen (&reach, &name->m_per_100g);
        }

      if (reach.least < 0)
        {
          g_set_error (error, BW_ERROR, BW_ERROR_MISSING,
                       "[%u]: no yarn name has this class; add a group [name ...]", i);
          return FALSE;
        }
      yarn_class->m_per_100g_min = reach.least;
      yarn_class->m_per_100g_max = reach.most;
    }

  return TRUE;
}

static gboolean
add_yarn_class (BwReference  *reference,
                GKeyFile     *file,
                const char   *group,
                GError      **error)
{
  guint number = reference->yarn_classes->len;
  g_autofree char *expected = g_strdup_printf ("%u", number);
  BwYarnClass *yarn_class;

  if (number == YARN_CLASSES || !g_str_equal (group, expected))
    {
      g_set_error (error, BW_ERROR, BW_ERROR_SYNTAX,
                   "[%s]: yarn classes stand in order from [0] to [%d], names in [name ...]", group,
                   YARN_CLASSES - 1);
      return FALSE;
    }

  g_array_set_size (reference->yarn_classes, number + 1);
  yarn_class = &g_array_index (reference->yarn_classes, BwYarnClass, number);
  yarn_class->number = number;
  if (!read_yarn_class (file, group, yarn_class, error))
    return FALSE;
  if (bw_stitch_find (reference->stitches, yarn_class->gauge_stitch) == BW_STITCH_NONE)
    {
      g_set_error (error, BW_ERROR, BW_ERROR_UNKNOWN, "[%s] gauge-stitch: “%s” is no stitch's id",
                   group, yarn_class->gauge_stitch);
      return FALSE;
    }

  return TRUE;
}

static gboolean
read_yarn (BwReference  *reference,
           const char   *text,
           GError      **error)
{
  g_autoptr (GKeyFile) file = bw_data_file_load (text, strlen (text), "Yarn classes", error);
  g_auto (GStrv) groups = NULL;

  if (file == NULL)
    return FALSE;

  groups = g_key_file_get_groups (file, NULL);
  for (guint i = 0; groups[i] != NULL; i++)
    {
      guint n = reference->yarn_names->len;

      if (!g_str_has_prefix (groups[i], NAME_PREFIX))
        {
          if (!add_yarn_class (reference, file, groups[i], error))
            return FALSE;
          continue;
        }
      g_array_set_size (reference->yarn_names, n + 1);
      if (!read_yarn_name (file, groups[i], &g_array_index (reference->yarn_names, BwYarnName, n),
                           error))
        return FALSE;
    }

  return set_metres (reference, error);
}

/* --- All of it --- */

static gboolean
read_size_tables (BwReference        *reference,
                  const char *const  *texts,
                  GError            **error)
{
  for (guint i = 0; texts[i] != NULL; i++)
    {
      g_autoptr (BwSizeTable) table = bw_size_table_parse (texts[i], strlen (texts[i]), error);

      if (table == NULL)
        return FALSE;
      if (bw_reference_size_table (reference, table->id) != NULL)
        {
          g_set_error (error, BW_ERROR, BW_ERROR_CONFLICT,
                       "Two size tables have the id “%s”; change one", table->id);
          return FALSE;
        }
      g_ptr_array_add (reference->size_tables, g_steal_pointer (&table));
    }

  return TRUE;
}

/**
 * bw_reference_new:
 * @texts: the texts that the tables are read from, none of them NULL; nothing of
 *   them is kept
 * @error: return location for an error
 *
 * Returns: (transfer full) (nullable): the tables, never changed again and so for
 *   any thread to read; or NULL with @error set
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
  reference->yarn_names = g_array_new (FALSE, TRUE, sizeof (BwYarnName));
  g_array_set_clear_func (reference->yarn_names, yarn_name_clear);

  reference->stitches = bw_stitch_dictionary_parse (texts->stitches, strlen (texts->stitches),
                                                    error);
  if (reference->stitches == NULL)
    return NULL;
  reference->fabrics = bw_fabric_table_parse (reference->stitches, texts->fabrics,
                                              strlen (texts->fabrics), error);
  if (reference->fabrics == NULL ||
      !read_hooks (texts->hooks, reference->hooks, error) ||
      !read_yarn (reference, texts->yarn_classes, error) ||
      !read_size_tables (reference, texts->size_tables, error))
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
  g_clear_pointer (&reference->yarn_names, g_array_unref);
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
 * Returns: (transfer none) (nullable): its row, for its labels; NULL when no table
 *   has a hook within 0.05 mm
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

/**
 * bw_reference_yarn_name:
 * @reference: the tables
 * @id: identifier of a name, such as "4-ply"
 *
 * Returns: (transfer none) (nullable): what the UK calls so
 */
const BwYarnName *
bw_reference_yarn_name (const BwReference *reference,
                        const char        *id)
{
  for (guint i = 0; i < reference->yarn_names->len; i++)
    {
      const BwYarnName *name = &g_array_index (reference->yarn_names, BwYarnName, i);

      if (g_str_equal (name->id, id))
        return name;
    }

  return NULL;
}
