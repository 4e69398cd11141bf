#define G_LOG_DOMAIN "bw-app"

#include "bw-hint.h"

static gboolean
query_cb (GtkWidget  *widget,
          int         x,
          int         y,
          gboolean    keyboard,
          GtkTooltip *tooltip,
          gpointer    data)
{
  const char *text = g_object_get_data (G_OBJECT (widget), "bw-hint");

  if (text == NULL)
    return FALSE;

  gtk_tooltip_set_text (tooltip, text);

  return TRUE;
}

/**
 * bw_hint_set:
 * @widget: a widget
 * @text: (nullable): what is said when the pointer rests on it
 *
 * As gtk_widget_set_tooltip_text(), but without asking the display at once where
 * the pointer is: GTK does so for each widget, and each time waits for the
 * answer, which is seen when a window opens and when somebody types.
 */
void
bw_hint_set (GtkWidget  *widget,
             const char *text)
{
  const char *old;

  g_return_if_fail (GTK_IS_WIDGET (widget));

  old = g_object_get_data (G_OBJECT (widget), "bw-hint");
  if (g_strcmp0 (old, text) == 0)
    return;

  if (old == NULL)
    g_signal_connect (widget, "query-tooltip", G_CALLBACK (query_cb), NULL);
  else if (text == NULL)
    g_signal_handlers_disconnect_by_func (widget, query_cb, NULL);
  g_object_set_data_full (G_OBJECT (widget), "bw-hint", g_strdup (text), g_free);
  gtk_widget_set_has_tooltip (widget, text != NULL);
  if (text == NULL)
    gtk_accessible_reset_property (GTK_ACCESSIBLE (widget), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION);
  else
    gtk_accessible_update_property (GTK_ACCESSIBLE (widget), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION,
                                    text, -1);
}

/* (nullable) */
const char *
bw_hint_get (GtkWidget *widget)
{
  return g_object_get_data (G_OBJECT (widget), "bw-hint");
}
