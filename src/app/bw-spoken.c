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

/* Long names end in dots instead of making the form wide. */
static void
set_up_choice_cb (GtkSignalListItemFactory *factory,
                  GtkListItem              *item,
                  gpointer                  data)
{
  GtkWidget *label = gtk_label_new (NULL);

  gtk_label_set_xalign (GTK_LABEL (label), 0);
  if (data != NULL)
    {
      gtk_label_set_ellipsize (GTK_LABEL (label), PANGO_ELLIPSIZE_END);
      gtk_label_set_width_chars (GTK_LABEL (label), 6);
    }
  gtk_list_item_set_child (item, label);
}

static void
bind_choice_cb (GtkSignalListItemFactory *factory,
                GtkListItem              *item,
                gpointer                  data)
{
  GtkStringObject *string = gtk_list_item_get_item (item);

  gtk_label_set_text (GTK_LABEL (gtk_list_item_get_child (item)),
                      gtk_string_object_get_string (string));
  bw_spoken_name (gtk_widget_get_parent (gtk_list_item_get_child (item)),
                  gtk_string_object_get_string (string));
}

static GtkListItemFactory *
choice_factory (gboolean short_names)
{
  GtkListItemFactory *factory = gtk_signal_list_item_factory_new ();

  g_signal_connect (factory, "setup", G_CALLBACK (set_up_choice_cb),
                    GINT_TO_POINTER (short_names));
  g_signal_connect (factory, "bind", G_CALLBACK (bind_choice_cb), NULL);

  return factory;
}

/**
 * bw_spoken_choice:
 * @list: a list of strings
 * @label: what it is called
 *
 * Lets the part of the list that takes the keyboard say the label and what is
 * chosen, and each line of the open list what it holds.
 */
void
bw_spoken_choice (GtkDropDown *list,
                  const char  *label)
{
  g_autoptr (GtkListItemFactory) closed = choice_factory (TRUE);
  g_autoptr (GtkListItemFactory) open = choice_factory (FALSE);

  g_return_if_fail (GTK_IS_DROP_DOWN (list));

  gtk_drop_down_set_factory (list, closed);
  gtk_drop_down_set_list_factory (list, open);
  g_object_set_data_full (G_OBJECT (list), "bw-spoken", g_strdup (label), g_free);
  g_signal_connect (list, "notify::selected-item", G_CALLBACK (name_button), NULL);
  name_button (list);
}
