#include <string.h>

#include "app-fixture.h"
#include "bw-accels.h"
#include "bw-window.h"

/* Keys: every one of the table can be read, stands once, and does something. */

static void
test_table (void)
{
  g_autoptr (GHashTable) seen = g_hash_table_new (g_str_hash, g_str_equal);

  for (const BwAccel *accel = bw_accels; accel->action != NULL; accel++)
    for (guint i = 0; accel->accels[i] != NULL; i++)
      {
        guint key;
        GdkModifierType state;

        g_assert_true (gtk_accelerator_parse (accel->accels[i], &key, &state));
        g_assert_cmpuint (key, !=, 0);
        if (!g_hash_table_add (seen, (gpointer) accel->accels[i]))
          g_test_fail_printf ("%s is bound twice", accel->accels[i]);
      }
}

static gboolean
exists (GtkWidget  *window,
        const char *action)
{
  g_autofree char *name = NULL;
  g_autoptr (GVariant) target = NULL;
  g_autoptr (GError) error = NULL;
  const char *plain;

  g_assert_true (g_action_parse_detailed_name (action, &name, &target, &error));
  plain = strchr (name, '.') + 1;
  if (g_str_has_prefix (name, "app."))
    return g_action_group_has_action (
      G_ACTION_GROUP (gtk_window_get_application (GTK_WINDOW (window))), plain);
  if (g_str_has_prefix (name, "window."))
    return TRUE;

  for (guint i = 0;; i++)
    {
      const GVariantType *parameter;
      const char *installed;
      const char *property;
      GType owner;

      if (!gtk_widget_class_query_action (GTK_WIDGET_GET_CLASS (window), i, &owner, &installed,
                                          &parameter, &property))
        break;
      if (g_str_equal (installed, name))
        return TRUE;
    }

  return g_action_group_has_action (G_ACTION_GROUP (window), plain);
}

static void
test_actions (void)
{
  g_autofree char *path = fixture_library_path ();
  BwApplication *application = bw_application_new (G_APPLICATION_NON_UNIQUE);
  BwDocument *document;
  GtkWidget *window;

  bw_application_set_library_path (application, path);
  g_assert_true (g_application_register (G_APPLICATION (application), NULL, NULL));
  document = bw_application_last_design (application);
  window = bw_window_new (application, document);
  g_object_unref (document);

  for (const BwAccel *accel = bw_accels; accel->action != NULL; accel++)
    if (!exists (window, accel->action))
      g_test_fail_printf ("%s does nothing", accel->action);

  gtk_window_destroy (GTK_WINDOW (window));
  fixture_leave (application);
  fixture_remove (path);
}

static void
test_window (void)
{
  GtkWidget *window = bw_accels_window ();

  g_assert_true (GTK_IS_SHORTCUTS_WINDOW (window));
  gtk_window_destroy (GTK_WINDOW (window));
  g_object_unref (window);
}

int
main (int    argc,
      char **argv)
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
  if (!gtk_init_check ())
    {
      g_print ("1..0 # SKIP no display\n");
      return 0;
    }
  g_test_add_func ("/app/shortcuts/table", test_table);
  g_test_add_func ("/app/shortcuts/actions", test_actions);
  g_test_add_func ("/app/shortcuts/window", test_window);

  return g_test_run ();
}
