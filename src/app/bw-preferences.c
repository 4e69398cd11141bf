#define G_LOG_DOMAIN "bw-app"

#include "bw-app-words.h"

#include "bw-preferences.h"

/* What a person prefers: kept by GSettings as it is chosen, there is nothing to
 * confirm. What new designs begin with says so; a design keeps its own. */

typedef struct
{
  const char *const *values;   /* as GSettings has them, by position in the list */
  guint              n;
} Values;

static const char *const unit_values[] = { "cm", "in" };
static const char *const term_values[] = { "uk", "us" };
static const Values units = { unit_values, G_N_ELEMENTS (unit_values) };
static const Values terms = { term_values, G_N_ELEMENTS (term_values) };

static gboolean
to_position (GValue   *value,
             GVariant *variant,
             gpointer  data)
{
  const Values *values = data;

  for (guint i = 0; i < values->n; i++)
    if (g_str_equal (values->values[i], g_variant_get_string (variant, NULL)))
      g_value_set_uint (value, i);

  return TRUE;
}

static GVariant *
from_position (const GValue       *value,
               const GVariantType *type,
               gpointer            data)
{
  const Values *values = data;
  guint i = g_value_get_uint (value);

  return i < values->n ? g_variant_new_string (values->values[i]) : NULL;
}

static void
attach (GtkGrid    *grid,
        int         row,
        const char *label,
        GtkWidget  *control)
{
  GtkWidget *text = gtk_label_new (label);

  gtk_label_set_xalign (GTK_LABEL (text), 0);
  gtk_label_set_mnemonic_widget (GTK_LABEL (text), control);
  gtk_widget_set_hexpand (control, TRUE);
  gtk_accessible_update_property (GTK_ACCESSIBLE (control), GTK_ACCESSIBLE_PROPERTY_LABEL, label,
                                  -1);
  gtk_grid_attach (grid, text, 0, row, 1, 1);
  gtk_grid_attach (grid, control, 1, row, 1, 1);
}

static GtkWidget *
bound_list (GSettings         *settings,
            const char        *key,
            const char *const *names,
            const Values      *values)
{
  GtkWidget *list = gtk_drop_down_new_from_strings (names);

  g_settings_bind_with_mapping (settings, key, list, "selected", G_SETTINGS_BIND_DEFAULT,
                                to_position, from_position, (gpointer) values, NULL);

  return list;
}

static void
values_free (gpointer data)
{
  Values *values = data;

  g_free ((gpointer) values->values);
  g_free (values);
}

static GtkWidget *
table_list (GSettings         *settings,
            const BwReference *reference)
{
  const GPtrArray *tables = reference->size_tables;
  g_autofree const char **names = g_new0 (const char *, tables->len + 2);
  const char **ids = g_new0 (const char *, tables->len + 1);
  Values *values = g_new (Values, 1);
  GtkWidget *list;

  names[0] = _("Five sizes of the heads that were measured");
  ids[0] = "";
  for (guint i = 0; i < tables->len; i++)
    {
      const BwSizeTable *table = tables->pdata[i];

      names[i + 1] = table->name;
      ids[i + 1] = table->id;
    }
  values->values = ids;
  values->n = tables->len + 1;
  list = gtk_drop_down_new_from_strings (names);
  g_object_set_data_full (G_OBJECT (list), "bw-values", values, values_free);
  g_settings_bind_with_mapping (settings, "size-table", list, "selected", G_SETTINGS_BIND_DEFAULT,
                                to_position, from_position, values, NULL);

  return list;
}

static GtkWidget *
make_heading (const char *text)
{
  GtkWidget *label = gtk_label_new (text);

  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_widget_add_css_class (label, "heading");

  return label;
}

static GtkWidget *
make_note (const char *text)
{
  GtkWidget *label = gtk_label_new (text);

  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_label_set_max_width_chars (GTK_LABEL (label), 52);
  gtk_widget_add_css_class (label, "dim-label");

  return label;
}

/**
 * bw_preferences_new:
 * @parent: the window that asks
 * @settings: the preferences
 * @reference: tables; must outlive the dialogue
 *
 * Returns: (transfer floating): the dialogue, not shown yet
 */
GtkWidget *
bw_preferences_new (GtkWindow         *parent,
                    GSettings         *settings,
                    const BwReference *reference)
{
  const char *const unit_names[] = { _("Centimetres"), _("Inches"), NULL };
  const char *const term_names[] = { _("UK terms"), _("US terms"), NULL };
  GtkWidget *window = g_object_new (GTK_TYPE_WINDOW, "title", _("Preferences"), "modal", TRUE,
                                    "transient-for", parent, "destroy-with-parent", TRUE,
                                    "resizable", FALSE, NULL);
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 12);
  GtkWidget *grid = gtk_grid_new ();
  GtkWidget *autosave = gtk_check_button_new_with_label (_("Save a moment after each edit"));
  GtkEventController *keys = gtk_shortcut_controller_new ();

  gtk_grid_set_column_spacing (GTK_GRID (grid), 12);
  gtk_grid_set_row_spacing (GTK_GRID (grid), 6);
  attach (GTK_GRID (grid), 0, _("Measurements"), bound_list (settings, "units", unit_names,
                                                             &units));
  attach (GTK_GRID (grid), 1, _("Stitch names"), bound_list (settings, "terms", term_names,
                                                             &terms));
  attach (GTK_GRID (grid), 2, _("Sizes"), table_list (settings, reference));
  g_settings_bind (settings, "autosave", autosave, "active", G_SETTINGS_BIND_DEFAULT);

  gtk_widget_add_css_class (box, "page");
  gtk_box_append (GTK_BOX (box), make_heading (_("New designs")));
  gtk_box_append (GTK_BOX (box), grid);
  gtk_box_append (GTK_BOX (box), make_heading (_("Saving")));
  gtk_box_append (GTK_BOX (box), autosave);
  gtk_box_append (GTK_BOX (box),
                  make_note (_("Otherwise a design is saved when its window is closed or another "
                               "design is opened; what was edited since is lost if the program "
                               "ends in another way.")));
  gtk_window_set_child (GTK_WINDOW (window), box);
  gtk_shortcut_controller_add_shortcut (
    GTK_SHORTCUT_CONTROLLER (keys),
    gtk_shortcut_new (gtk_keyval_trigger_new (GDK_KEY_Escape, 0),
                      gtk_named_action_new ("window.close")));
  gtk_widget_add_controller (window, keys);

  return window;
}
