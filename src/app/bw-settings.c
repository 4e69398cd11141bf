#define G_LOG_DOMAIN "bw-app"

#include "bw-settings.h"

/* Where the schema lies when the program is run out of its build folder:
 * beside the folder that the program is in. */
static GSettingsSchemaSource *
source_beside_program (void)
{
  g_autofree char *program = g_file_read_link ("/proc/self/exe", NULL);
  g_autofree char *folder = program == NULL ? NULL : g_path_get_dirname (program);
  g_autofree char *data = NULL;

  if (folder == NULL)
    return NULL;

  data = g_build_filename (folder, "..", "data", NULL);

  return g_settings_schema_source_new_from_directory (data, g_settings_schema_source_get_default (),
                                                      FALSE, NULL);
}

/**
 * bw_settings_new:
 *
 * Returns: (transfer full) (nullable): the preferences; %NULL when the program is
 *   neither installed nor in its build folder, so that there is no schema
 */
GSettings *
bw_settings_new (void)
{
  GSettingsSchemaSource *installed = g_settings_schema_source_get_default ();
  GSettingsSchemaSource *beside = NULL;
  g_autoptr (GSettingsSchema) schema = NULL;
  GSettings *settings;

  if (installed != NULL)
    schema = g_settings_schema_source_lookup (installed, BW_APP_ID, TRUE);
  if (schema == NULL)
    {
      beside = source_beside_program ();
      if (beside != NULL)
        schema = g_settings_schema_source_lookup (beside, BW_APP_ID, FALSE);
    }
  settings = schema == NULL ? NULL : g_settings_new_full (schema, NULL, NULL);
  g_clear_pointer (&beside, g_settings_schema_source_unref);

  return settings;
}
