#define G_LOG_DOMAIN "bw-reference"

#include "bw-reference-builtin.h"

#include <string.h>

#include <gio/gio.h>

#include "bw-reference-data.h"

#define PREFIX        "/org/brimwright/reference/"
#define DEFAULT_SIZES "sizes-head-data.ini"

/* Registers the compiled-in files once, whoever asks first. They are then looked up
 * among all resources: a new one is only queued, another thread that looks anything
 * up may be the one to enter it, and only those look-ups wait for it. The resource
 * itself could still be NULL here. */
static void
need_builtin (void)
{
  static gsize registered = 0;

  if (g_once_init_enter (&registered))
    {
      bw_reference_data_register_resource ();
      g_once_init_leave (&registered, 1);
    }
}

/* Text of one file; resources end in a zero byte. Adds what keeps it alive to `held`. */
static const char *
load (const char  *name,
      GPtrArray   *held,
      GError     **error)
{
  g_autofree char *path = g_strconcat (PREFIX, name, NULL);
  GBytes *bytes = g_resources_lookup_data (path, G_RESOURCE_LOOKUP_FLAGS_NONE, error);

  if (bytes == NULL)
    return NULL;
  g_ptr_array_add (held, bytes);
  return g_bytes_get_data (bytes, NULL);
}

static int
compare_names (gconstpointer a,
               gconstpointer b)
{
  return strcmp (*(const char *const *) a, *(const char *const *) b);
}

/* Every file whose name begins with "sizes-", in alphabetical order but for our
 * default table, which comes first. Ends with NULL. */
static gboolean
load_size_tables (GPtrArray  *texts,
                  GPtrArray  *held,
                  GError    **error)
{
  g_auto (GStrv) names = g_resources_enumerate_children (PREFIX, G_RESOURCE_LOOKUP_FLAGS_NONE,
                                                         error);
  gsize n_names = names == NULL ? 0 : g_strv_length (names);

  if (names == NULL)
    return FALSE;

  qsort (names, n_names, sizeof *names, compare_names);
  for (gsize i = 0; i < n_names; i++)
    {
      const char *text;

      if (!g_str_has_prefix (names[i], "sizes-"))
        continue;
      text = load (names[i], held, error);
      if (text == NULL)
        return FALSE;
      g_ptr_array_insert (texts, g_str_equal (names[i], DEFAULT_SIZES) ? 0 : -1, (gpointer) text);
    }

  g_ptr_array_add (texts, NULL);
  return TRUE;
}

/**
 * bw_reference_builtin:
 * @error: return location for an error
 *
 * Reads the tables that are compiled into the program: data/reference/. The only
 * place that knows where they are kept. May be called from any thread; each call
 * reads them anew, in about a millisecond, so keep what it gives.
 *
 * Returns: (transfer full) (nullable): the tables, the default size table first;
 *   NULL with @error set would mean that the program was built from broken data
 */
BwReference *
bw_reference_builtin (GError **error)
{
  g_autoptr (GPtrArray) held = g_ptr_array_new_with_free_func ((GDestroyNotify) g_bytes_unref);
  g_autoptr (GPtrArray) tables = g_ptr_array_new ();
  BwReferenceTexts texts = { 0 };

  need_builtin ();

  if ((texts.stitches = load ("stitches.ini", held, error)) == NULL ||
      (texts.fabrics = load ("stitch-patterns.ini", held, error)) == NULL ||
      (texts.hooks = load ("hooks.ini", held, error)) == NULL ||
      (texts.yarn_classes = load ("yarn-classes.ini", held, error)) == NULL ||
      (texts.crown_close = load ("crown-close.ini", held, error)) == NULL ||
      !load_size_tables (tables, held, error))
    return NULL;

  texts.size_tables = (const char *const *) tables->pdata;
  return bw_reference_new (&texts, error);
}
