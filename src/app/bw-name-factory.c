#define G_LOG_DOMAIN "bw-app"

#include "bw-name-factory.h"

#include "bw-hint.h"

static void
set_up_cb (GtkSignalListItemFactory *factory,
           GtkListItem              *item,
           gpointer                  data)
{
  GtkWidget *label = gtk_label_new (NULL);

  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_label_set_ellipsize (GTK_LABEL (label), PANGO_ELLIPSIZE_END);
  gtk_list_item_set_child (item, label);
}

static void
bind_cb (GtkSignalListItemFactory *factory,
         GtkListItem              *item,
         gpointer                  data)
{
  const char *name = gtk_string_object_get_string (gtk_list_item_get_item (item));
  GtkWidget *label = gtk_list_item_get_child (item);

  gtk_label_set_text (GTK_LABEL (label), name);
  bw_hint_set (label, name);
  gtk_accessible_update_property (GTK_ACCESSIBLE (gtk_widget_get_parent (label)),
                                  GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
}

/**
 * bw_name_factory_new:
 *
 * Returns: (transfer full): rows of a list of strings: a name each, cut short where
 *   there is no room and then said whole when the pointer asks
 */
GtkListItemFactory *
bw_name_factory_new (void)
{
  GtkListItemFactory *factory = gtk_signal_list_item_factory_new ();

  g_signal_connect (factory, "setup", G_CALLBACK (set_up_cb), NULL);
  g_signal_connect (factory, "bind", G_CALLBACK (bind_cb), NULL);

  return factory;
}
