#define G_LOG_DOMAIN "bw-app"

#include "bw-app-words.h"

#include "bw-import-dialog.h"

/* A spreadsheet of swatches is read and nothing changed: what could be taken in and
 * what not is said, cell by cell; then the person decides. */

#define SHOWN 100 /* problems */

struct _BwImportDialog
{
  GtkWindow parent_instance;

  /* Children */
  GtkWidget         *page;
  GtkWidget         *take;
  GtkWidget         *message;

  /* Borrowed references */
  BwLibrary         *library;
  const BwReference *reference;

  /* Owned references */
  char              *text;
  char              *folder;   /* of the file, where photographs lie; NULL = not on this computer */
  BwImportReport    *report;

  gsize              length;
};

enum
{
  SIGNAL_TAKEN,
  N_SIGNALS,
};

static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (BwImportDialog, bw_import_dialog, GTK_TYPE_WINDOW)

static GtkWidget *
append_text (BwImportDialog *self,
             const char     *text,
             const char     *css_class)
{
  GtkWidget *label = gtk_label_new (text);

  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_label_set_wrap_mode (GTK_LABEL (label), PANGO_WRAP_WORD_CHAR);
  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_label_set_selectable (GTK_LABEL (label), FALSE);
  if (css_class != NULL)
    gtk_widget_add_css_class (label, css_class);
  gtk_box_append (GTK_BOX (self->page), label);

  return label;
}

static void
append_problem (BwImportDialog        *self,
                const BwImportProblem *problem)
{
  g_autofree char *text = NULL;

  if (problem->column == 0)
    text = g_strdup_printf (_("Line %u: %s"), problem->line, problem->message);
  else
    /* Translators: line, heading of the column, what stands there, what is wrong */
    text = g_strdup_printf (_("Line %u, %s, “%s”: %s"), problem->line, problem->heading,
                            problem->cell, problem->message);
  append_text (self, text, NULL);
}

static void
show_report (BwImportDialog *self)
{
  const BwImportReport *report = self->report;
  g_autofree char *sum = NULL;

  sum = g_strdup_printf (_("Rows: %u, cannot be read: %u. Swatches: %u, readings: %u."),
                         report->n_rows, report->n_left_out, report->n_swatches,
                         report->n_readings);
  append_text (self, sum, "heading");
  for (guint i = 0; i < MIN (report->problems->len, SHOWN); i++)
    append_problem (self, report->problems->pdata[i]);
  if (report->problems->len > SHOWN)
    {
      g_autofree char *more = g_strdup_printf (_("And %u more."), report->problems->len - SHOWN);

      append_text (self, more, NULL);
    }
  if (report->ignored->len > 0)
    {
      g_autofree char *names = NULL;
      g_autofree char *text = NULL;

      g_ptr_array_add (report->ignored, NULL);
      names = g_strjoinv (", ", (char **) report->ignored->pdata);
      g_ptr_array_remove_index (report->ignored, report->ignored->len - 1);
      text = g_strdup_printf (_("Columns that mean nothing here: %s"), names);
      append_text (self, text, "dim-label");
    }
  gtk_widget_set_sensitive (self->take, report->n_swatches > 0);
}

static gboolean
import (BwImportDialog  *self,
        BwImportFlags    flags,
        BwImportReport  *report,
        GError         **error)
{
  return bw_library_import_with_photos (self->library, self->reference, self->text, self->length,
                                        self->folder, BW_IMPORT_PARTIAL | flags, report, error);
}

/**
 * bw_import_dialog_take:
 * @self: a dialogue
 *
 * Takes in what can be read, tells so by "taken", and closes.
 *
 * Returns: whether it is in the library; the dialogue says why otherwise
 */
gboolean
bw_import_dialog_take (BwImportDialog *self)
{
  g_autoptr (BwImportReport) report = bw_import_report_new ();
  g_autoptr (GError) error = NULL;

  g_return_val_if_fail (BW_IS_IMPORT_DIALOG (self), FALSE);

  if (!import (self, BW_IMPORT_ALL, report, &error))
    {
      gtk_label_set_text (GTK_LABEL (self->message), error->message);
      gtk_widget_set_visible (self->message, TRUE);
      return FALSE;
    }

  g_signal_emit (self, signals[SIGNAL_TAKEN], 0);
  gtk_window_destroy (GTK_WINDOW (self));

  return TRUE;
}

static void
bw_import_dialog_finalize (GObject *object)
{
  BwImportDialog *self = BW_IMPORT_DIALOG (object);

  g_free (self->text);
  g_free (self->folder);
  g_clear_pointer (&self->report, bw_import_report_free);

  G_OBJECT_CLASS (bw_import_dialog_parent_class)->finalize (object);
}

static void
bw_import_dialog_class_init (BwImportDialogClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = bw_import_dialog_finalize;
  signals[SIGNAL_TAKEN] = g_signal_new ("taken", BW_TYPE_IMPORT_DIALOG, G_SIGNAL_RUN_LAST, 0, NULL,
                                        NULL, NULL, G_TYPE_NONE, 0);
  gtk_widget_class_add_binding_action (GTK_WIDGET_CLASS (klass), GDK_KEY_Escape, 0, "window.close",
                                       NULL);
}

static void
bw_import_dialog_init (BwImportDialog *self)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  GtkWidget *scroller = gtk_scrolled_window_new ();
  GtkWidget *tools = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  GtkWidget *leave = gtk_button_new_with_label (_("Leave it"));

  gtk_window_set_title (GTK_WINDOW (self), _("Take swatches in"));
  gtk_window_set_default_size (GTK_WINDOW (self), 560, 420);
  self->page = gtk_box_new (GTK_ORIENTATION_VERTICAL, 8);
  gtk_widget_add_css_class (self->page, "page");
  self->message = append_text (self, NULL, "field-error");
  gtk_widget_set_visible (self->message, FALSE);
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (scroller), GTK_POLICY_NEVER,
                                  GTK_POLICY_AUTOMATIC);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (scroller), self->page);
  gtk_widget_set_vexpand (scroller, TRUE);
  self->take = gtk_button_new_with_label (_("Take in what can be read"));
  gtk_widget_add_css_class (self->take, "suggested-action");
  gtk_widget_add_css_class (tools, "tools");
  gtk_widget_set_halign (tools, GTK_ALIGN_END);
  gtk_box_append (GTK_BOX (tools), leave);
  gtk_box_append (GTK_BOX (tools), self->take);
  gtk_box_append (GTK_BOX (box), scroller);
  gtk_box_append (GTK_BOX (box), tools);
  gtk_window_set_child (GTK_WINDOW (self), box);
  g_signal_connect_swapped (leave, "clicked", G_CALLBACK (gtk_window_close), self);
  g_signal_connect_swapped (self->take, "clicked", G_CALLBACK (bw_import_dialog_take), self);
}

/**
 * bw_import_dialog_new:
 * @parent: (nullable): the window that asks
 * @library: where swatches go; must outlive the dialogue
 * @reference: tables; must outlive the dialogue
 * @file: a spreadsheet's CSV
 * @error: (out) (optional): why nothing of it can be read
 *
 * Returns: (transfer floating) (nullable): the dialogue, not shown yet
 */
GtkWidget *
bw_import_dialog_new (GtkWindow          *parent,
                      BwLibrary          *library,
                      const BwReference  *reference,
                      GFile              *file,
                      GError            **error)
{
  g_autofree char *text = NULL;
  g_autofree char *path = g_file_get_path (file);
  BwImportDialog *self;
  gsize length;

  if (!g_file_load_contents (file, NULL, &text, &length, NULL, error))
    return NULL;

  self = g_object_new (BW_TYPE_IMPORT_DIALOG, "transient-for", parent, "modal", TRUE,
                       "destroy-with-parent", TRUE, NULL);
  self->library = library;
  self->reference = reference;
  self->text = g_steal_pointer (&text);
  self->length = length;
  self->folder = path == NULL ? NULL : g_path_get_dirname (path);
  self->report = bw_import_report_new ();
  if (!import (self, BW_IMPORT_TRY, self->report, error))
    {
      gtk_window_destroy (GTK_WINDOW (self));
      return NULL;
    }

  show_report (self);

  return GTK_WIDGET (self);
}

const BwImportReport *
bw_import_dialog_get_report (BwImportDialog *self)
{
  return self->report;
}
