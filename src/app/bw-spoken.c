#define G_LOG_DOMAIN "bw-app"

#include "bw-app-words.h"

#include "bw-spoken.h"

/* Names for people who hear the window. GTK 4.8 calls what has none by its
 * class, and some of its parts cannot be named from a template. */

/**
 * bw_spoken_name:
 * @widget: a widget
 * @name: what it is called
 */
void
bw_spoken_name (GtkWidget  *widget,
                const char *name)
{
  gtk_accessible_update_property (GTK_ACCESSIBLE (widget), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
}

static void
name_button (GtkDropDown *list)
{
  const char *label = g_object_get_data (G_OBJECT (list), "bw-spoken");
  GtkStringObject *chosen = gtk_drop_down_get_selected_item (list);
  g_autofree char *name = NULL;

  if (chosen == NULL)
    name = g_strdup (label);
  else
    /* Translators: the label of a list and what is chosen in it: "Shape: Flat top" */
    name = g_strdup_printf (_("%s: %s"), label, gtk_string_object_get_string (chosen));
  bw_spoken_name (gtk_widget_get_first_child (GTK_WIDGET (list)), name);
}

/**
 * bw_spoken_choice:
 * @list: a list of strings
 * @label: what it is called
 *
 * Lets the part of the list that takes the keyboard say the label and what is chosen.
 */
void
bw_spoken_choice (GtkDropDown *list,
                  const char  *label)
{
  g_return_if_fail (GTK_IS_DROP_DOWN (list));

  g_object_set_data_full (G_OBJECT (list), "bw-spoken", g_strdup (label), g_free);
  g_signal_connect (list, "notify::selected-item", G_CALLBACK (name_button), NULL);
  name_button (list);
}
