#define G_LOG_DOMAIN "bw-app"

#include "bw-value-row.h"

struct _BwValueRow
{
  GtkWidget parent_instance;

  /* Children */
  GtkWidget *entry;
  GtkWidget *error;

  gboolean   updating;
};

enum
{
  SIGNAL_TYPED,
  SIGNAL_ENTERED,
  N_SIGNALS,
};

static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (BwValueRow, bw_value_row, GTK_TYPE_WIDGET)

static void
changed_cb (BwValueRow *self)
{
  if (!self->updating)
    g_signal_emit (self, signals[SIGNAL_TYPED], 0);
}

static void
activate_cb (BwValueRow *self)
{
  g_signal_emit (self, signals[SIGNAL_ENTERED], 0);
}

static void
bw_value_row_dispose (GObject *object)
{
  GtkWidget *child;

  while ((child = gtk_widget_get_first_child (GTK_WIDGET (object))) != NULL)
    gtk_widget_unparent (child);

  G_OBJECT_CLASS (bw_value_row_parent_class)->dispose (object);
}

static void
bw_value_row_class_init (BwValueRowClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = bw_value_row_dispose;
  signals[SIGNAL_TYPED] = g_signal_new ("typed", BW_TYPE_VALUE_ROW, G_SIGNAL_RUN_LAST, 0, NULL,
                                        NULL, NULL, G_TYPE_NONE, 0);
  signals[SIGNAL_ENTERED] = g_signal_new ("entered", BW_TYPE_VALUE_ROW, G_SIGNAL_RUN_LAST, 0, NULL,
                                          NULL, NULL, G_TYPE_NONE, 0);
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (klass), GTK_TYPE_BOX_LAYOUT);
}

static void
bw_value_row_init (BwValueRow *self)
{
  gtk_orientable_set_orientation (
    GTK_ORIENTABLE (gtk_widget_get_layout_manager (GTK_WIDGET (self))), GTK_ORIENTATION_VERTICAL);
  self->entry = gtk_entry_new ();
  gtk_widget_set_hexpand (self->entry, TRUE);
  gtk_editable_set_width_chars (GTK_EDITABLE (self->entry), 8);
  g_signal_connect_swapped (self->entry, "changed", G_CALLBACK (changed_cb), self);
  g_signal_connect_swapped (self->entry, "activate", G_CALLBACK (activate_cb), self);
}

/**
 * bw_value_row_new:
 * @label: what the value is called
 *
 * Returns: (transfer floating): a row without a value
 */
GtkWidget *
bw_value_row_new (const char *label)
{
  BwValueRow *self = g_object_new (BW_TYPE_VALUE_ROW, NULL);
  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  GtkWidget *text = gtk_label_new (label);

  gtk_label_set_xalign (GTK_LABEL (text), 0);
  gtk_label_set_wrap (GTK_LABEL (text), TRUE);
  gtk_label_set_width_chars (GTK_LABEL (text), 8);
  gtk_widget_set_hexpand (text, TRUE);
  gtk_label_set_mnemonic_widget (GTK_LABEL (text), self->entry);
  gtk_box_set_homogeneous (GTK_BOX (line), TRUE);
  gtk_box_append (GTK_BOX (line), text);
  gtk_box_append (GTK_BOX (line), self->entry);

  self->error = gtk_label_new (NULL);
  gtk_label_set_xalign (GTK_LABEL (self->error), 0);
  gtk_label_set_wrap (GTK_LABEL (self->error), TRUE);
  gtk_widget_add_css_class (self->error, "field-error");
  gtk_widget_set_visible (self->error, FALSE);
  gtk_widget_set_parent (line, GTK_WIDGET (self));
  gtk_widget_set_parent (self->error, GTK_WIDGET (self));

  return GTK_WIDGET (self);
}

const char *
bw_value_row_get_text (BwValueRow *self)
{
  return gtk_editable_get_text (GTK_EDITABLE (self->entry));
}

/**
 * bw_value_row_set_text:
 * @self: a row
 * @text: its value; nobody is told that it was typed
 */
void
bw_value_row_set_text (BwValueRow *self,
                       const char *text)
{
  g_return_if_fail (BW_IS_VALUE_ROW (self));

  self->updating = TRUE;
  gtk_editable_set_text (GTK_EDITABLE (self->entry), text);
  self->updating = FALSE;
  bw_value_row_set_error (self, NULL);
}

/**
 * bw_value_row_set_error:
 * @self: a row
 * @message: (nullable): what is wrong with what was typed
 */
void
bw_value_row_set_error (BwValueRow *self,
                        const char *message)
{
  g_return_if_fail (BW_IS_VALUE_ROW (self));

  gtk_label_set_text (GTK_LABEL (self->error), message == NULL ? "" : message);
  gtk_widget_set_visible (self->error, message != NULL);
  gtk_accessible_update_state (GTK_ACCESSIBLE (self->entry), GTK_ACCESSIBLE_STATE_INVALID,
                               message == NULL ? GTK_ACCESSIBLE_INVALID_FALSE
                                               : GTK_ACCESSIBLE_INVALID_TRUE, -1);
  if (message == NULL)
    gtk_widget_remove_css_class (self->entry, "error");
  else
    gtk_widget_add_css_class (self->entry, "error");
}

GtkWidget *
bw_value_row_get_entry (BwValueRow *self)
{
  return self->entry;
}
