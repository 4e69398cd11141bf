#pragma once

#include <glib.h>

/* Reads the files of data/reference/ as they stand, for comparison with what was
 * published. */

static inline GKeyFile *
published_load (const char *name)
{
  g_autofree char *path = g_test_build_filename (G_TEST_DIST, "../data/reference", name, NULL);
  g_autoptr (GError) error = NULL;
  GKeyFile *file = g_key_file_new ();

  g_key_file_load_from_file (file, path, G_KEY_FILE_NONE, &error);
  g_assert_no_error (error);
  return file;
}

/* NULL = the key is not to be there. */
static inline void
published_assert (GKeyFile   *file,
                  const char *group,
                  const char *key,
                  const char *expected)
{
  g_autofree char *text = g_key_file_get_string (file, group, key, NULL);

  if (g_strcmp0 (text, expected) != 0)
    g_error ("[%s] %s is “%s”, published is “%s”", group, key, text, expected);
}
