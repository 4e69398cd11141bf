#define G_LOG_DOMAIN "bw-app"

#include "bw-window-view.h"

#include "bw-accels.h"
#include "bw-window.h"

static void
step_size_cb (GtkWidget  *widget,
              const char *name,
              GVariant   *parameter)
{
  BwDocument *document = bw_window_get_document (BW_WINDOW (widget));
  guint size = bw_document_get_size (document);

  if (g_str_equal (name, "win.larger-size"))
    bw_document_set_size (document, size + 1);
  else if (size > 0)
    bw_document_set_size (document, size - 1);
}

static void
zoom_cb (GtkWidget  *widget,
         const char *name,
         GVariant   *parameter)
{
  BwDesignPlace *place = bw_window_get_design_place (BW_WINDOW (widget));
  BwHats *hats = bw_design_place_get_hats (place);

  if (g_str_equal (name, "win.zoom-fit"))
    bw_hats_set_zoom (hats, 1);
  else
    bw_hats_set_zoom (hats, bw_hats_get_zoom (hats) *
                            (g_str_equal (name, "win.zoom-in") ? 1.25 : 0.8));
}

static void
copy_rounds_cb (GtkWidget  *widget,
                const char *name,
                GVariant   *parameter)
{
  gtk_widget_activate_action (
    GTK_WIDGET (bw_design_place_get_table (bw_window_get_design_place (BW_WINDOW (widget)))), "rounds.copy-text", NULL);
}

static void
keys_cb (GtkWidget  *widget,
         const char *name,
         GVariant   *parameter)
{
  GtkWidget *keys = bw_accels_window ();

  gtk_window_set_transient_for (GTK_WINDOW (keys), GTK_WINDOW (widget));
  gtk_window_present (GTK_WINDOW (keys));
  g_object_unref (keys);
}

/**
 * bw_window_install_views:
 * @widget_class: of the window
 *
 * Gives the window its actions that change what is seen of a design and nothing else.
 */
void
bw_window_install_views (GtkWidgetClass *widget_class)
{
  gtk_widget_class_install_action (widget_class, "win.larger-size", NULL, step_size_cb);
  gtk_widget_class_install_action (widget_class, "win.smaller-size", NULL, step_size_cb);
  gtk_widget_class_install_action (widget_class, "win.zoom-in", NULL, zoom_cb);
  gtk_widget_class_install_action (widget_class, "win.zoom-out", NULL, zoom_cb);
  gtk_widget_class_install_action (widget_class, "win.zoom-fit", NULL, zoom_cb);
  gtk_widget_class_install_action (widget_class, "win.copy-rounds", NULL, copy_rounds_cb);
  gtk_widget_class_install_action (widget_class, "win.keys", NULL, keys_cb);
}
