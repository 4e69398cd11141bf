#define G_LOG_DOMAIN "bw-app"

#include "bw-app-words.h"

#include "bw-window.h"

#include "bw-design-file.h"
#include "bw-dialogs.h"
#include "bw-hint.h"
#include "bw-later.h"
#include "bw-library-side.h"
#include "bw-settings.h"
#include "bw-spoken.h"
#include "bw-swatch-place.h"
#include "bw-window-files.h"
#include "bw-window-view.h"
#include "bw-yarn-place.h"

struct _BwWindow
{
  GtkApplicationWindow parent_instance;

  /* Template widgets */
  GtkWidget     *library_button;
  GtkWidget     *undo_button;
  GtkWidget     *redo_button;
  GtkWidget     *findings_button;
  GtkWidget     *menu_button;
  GtkInfoBar    *bar;
  GtkLabel      *message;
  GtkBox        *body;
  GtkStack      *places;
  BwDesignPlace *designs;
  GtkBox        *swatches_room;
  GtkBox        *yarns_room;
  GtkBox        *patterns_room;

  /* Made when they are first looked at; owned by the window */
  BwLibrarySide *side;
  BwSwatchPlace *swatches;
  BwYarnPlace   *yarns;
  BwPatternPlace *patterns;

  /* Owned references */
  BwDocument    *document;

  gboolean       told_trouble;  /* the bar says that saving failed */
  gboolean       may_lose;      /* closing was tried, and could not save */
};

G_DEFINE_FINAL_TYPE (BwWindow, bw_window, GTK_TYPE_APPLICATION_WINDOW)

static BwApplication *
application_of (BwWindow *self)
{
  return BW_APPLICATION (gtk_window_get_application (GTK_WINDOW (self)));
}

static GSettings *
settings_of (BwWindow *self)
{
  BwApplication *application = application_of (self);

  return application == NULL ? NULL : bw_application_get_settings (application);
}

/**
 * bw_window_tell:
 * @self: a window
 * @message: (nullable): what to say above everything else; %NULL takes it away
 */
void
bw_window_tell (BwWindow   *self,
                const char *message)
{
  g_return_if_fail (BW_IS_WINDOW (self));

  gtk_label_set_text (self->message, message == NULL ? "" : message);
  gtk_info_bar_set_revealed (self->bar, message != NULL);
}

/* ---- what the window shows of its document ----------------------------- */

static void
name_step (GtkWidget  *button,
           const char *format,
           const char *plain,
           const char *label)
{
  g_autofree char *text = NULL;

  if (label == NULL)
    text = g_strdup (plain);
  else
    {
      g_auto (GStrv) parts = g_strsplit (format, "%s", 2);

      text = g_strjoinv (label, parts);
    }
  bw_hint_set (button, text);
  gtk_accessible_update_property (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_PROPERTY_LABEL, text, -1);
}

static void
show_steps (BwWindow *self)
{
  const char *undo = bw_document_get_undo_label (self->document);
  const char *redo = bw_document_get_redo_label (self->document);

  gtk_widget_action_set_enabled (GTK_WIDGET (self), "win.undo", undo != NULL);
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "win.redo", redo != NULL);

  /* Translators: %s names an edit: "Undo: change Brim ease" */
  name_step (self->undo_button, _("Undo: %s"), _("Undo"), undo);
  name_step (self->redo_button, _("Redo: %s"), _("Redo"), redo);
}

static void
show_findings (BwWindow *self)
{
  const BwGrading *grading = bw_document_get_latest (self->document);
  guint n = grading == NULL ? 0 : grading->findings->len;
  BwSeverity worst = BW_SEVERITY_NOTE;
  g_autofree char *text = g_strdup_printf (_("Findings (%u)"), n);

  for (guint i = 0; i < n; i++)
    worst = MAX (worst, g_array_index (grading->findings, BwFinding, i).severity);

  gtk_button_set_label (GTK_BUTTON (self->findings_button), text);
  if (worst >= BW_SEVERITY_ERROR || grading == NULL)
    gtk_widget_add_css_class (self->findings_button, "has-errors");
  else
    gtk_widget_remove_css_class (self->findings_button, "has-errors");
}

static void
show_title (BwWindow *self)
{
  const BwDesign *design = bw_document_get_design (self->document);
  g_autofree char *title = g_strdup_printf (_("%s – Brimwright"), design->name);

  if (g_strcmp0 (gtk_window_get_title (GTK_WINDOW (self)), title) != 0)
    gtk_window_set_title (GTK_WINDOW (self), title);
}

static void
changed_cb (BwWindow *self)
{
  show_steps (self);
  show_findings (self);
  show_title (self);
}

static void
state_cb (BwWindow *self)
{
  const char *trouble = bw_document_get_trouble (self->document);
  g_autofree char *text = NULL;

  if (trouble == NULL)
    {
      if (self->told_trouble)
        bw_window_tell (self, NULL);
      self->told_trouble = FALSE;
      return;
    }

  text = g_strdup_printf (_("The last edits are not saved yet: %s. They stay in this window, and "
                            "saving is tried again by itself. Do not close it before that, or "
                            "save the design as a file."), trouble);
  bw_window_tell (self, text);
  self->told_trouble = TRUE;
}

/* ---- what is made when it is first looked at ---------------------------- */

static void
chosen_cb (BwLibrarySide *side,
           gint64         id,
           BwWindow      *self)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (BwDocument) document = NULL;

  if (id == bw_document_get_id (self->document))
    return;

  document = bw_application_load_design (application_of (self), id, &error);
  if (document == NULL)
    bw_window_tell (self, error->message);
  else
    bw_window_set_document (self, document);
}

static void
make_side (BwWindow *self)
{
  BwApplication *application = application_of (self);

  if (self->side != NULL)
    return;

  self->side = g_object_new (BW_TYPE_LIBRARY_SIDE, NULL);
  gtk_widget_add_css_class (GTK_WIDGET (self->side), "side");
  bw_library_side_set_library (self->side, bw_application_get_reference (application),
                               bw_application_get_library (application));
  if (self->document != NULL)
    bw_library_side_set_document (self->side, self->document);
  g_signal_connect (self->side, "chosen", G_CALLBACK (chosen_cb), self);
  gtk_box_prepend (self->body, GTK_WIDGET (self->side));
}

static void
refresh_side (BwWindow *self)
{
  if (self->side != NULL)
    bw_library_side_refresh (self->side);
}

static void
make_place (BwWindow *self)
{
  const char *name = gtk_stack_get_visible_child_name (self->places);
  BwApplication *application = application_of (self);

  if (g_strcmp0 (name, "swatches") == 0 && self->swatches == NULL)
    {
      self->swatches = g_object_new (BW_TYPE_SWATCH_PLACE, "hexpand", TRUE, NULL);
      bw_swatch_place_set_library (self->swatches, bw_application_get_reference (application),
                                   bw_application_get_library (application));
      gtk_box_append (self->swatches_room, GTK_WIDGET (self->swatches));
    }
  else if (g_strcmp0 (name, "yarns") == 0 && self->yarns == NULL)
    {
      self->yarns = g_object_new (BW_TYPE_YARN_PLACE, "hexpand", TRUE, NULL);
      bw_yarn_place_set_library (self->yarns, bw_application_get_library (application));
      gtk_box_append (self->yarns_room, GTK_WIDGET (self->yarns));
    }
  else if (g_strcmp0 (name, "patterns") == 0 && self->patterns == NULL)
    {
      self->patterns = g_object_new (BW_TYPE_PATTERN_PLACE, "hexpand", TRUE, NULL);
      bw_pattern_place_set_reference (self->patterns, bw_application_get_reference (application));
      gtk_box_append (self->patterns_room, GTK_WIDGET (self->patterns));
    }
}

/* ---- actions ----------------------------------------------------------- */

static gboolean
is_text (GtkWidget *focus)
{
  return focus != NULL && GTK_IS_TEXT (focus) &&
         gtk_widget_get_ancestor (focus, GTK_TYPE_SPIN_BUTTON) == NULL &&
         gtk_widget_get_ancestor (focus, BW_TYPE_FIELD_ROW) == NULL;
}

/* In a search the key undoes typing; in the form it undoes the edit that typing made. */
static void
undo_cb (GtkWidget  *widget,
         const char *name,
         GVariant   *parameter)
{
  BwWindow *self = BW_WINDOW (widget);
  GtkWidget *focus = gtk_window_get_focus (GTK_WINDOW (self));
  gboolean redo = g_str_equal (name, "win.redo");

  if (is_text (focus))
    gtk_widget_activate_action (focus, redo ? "text.redo" : "text.undo", NULL);
  else if (redo)
    bw_document_redo (self->document);
  else
    bw_document_undo (self->document);
}

static void
new_design_cb (GtkWidget  *widget,
               const char *name,
               GVariant   *parameter)
{
  BwWindow *self = BW_WINDOW (widget);
  BwApplication *application = application_of (self);
  g_autoptr (BwDocument) document = NULL;

  document = bw_application_add_design (application, bw_application_new_design (application));
  bw_window_set_document (self, document);
  refresh_side (self);
}

/**
 * bw_window_open_design:
 * @self: a window
 * @file: a design file
 *
 * Shows a copy of it, which is in the library from then on.
 */
void
bw_window_open_design (BwWindow *self,
                       GFile    *file)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (BwDocument) document = NULL;

  document = bw_application_open_file (application_of (self), file, &error);
  if (document == NULL)
    {
      bw_window_tell (self, error->message);
      return;
    }

  bw_window_set_document (self, document);
  refresh_side (self);
}

static void
opened_cb (GFile    *file,
           gpointer  data)
{
  bw_window_open_design (data, file);
}

static void
open_cb (GtkWidget  *widget,
         const char *name,
         GVariant   *parameter)
{
  bw_dialogs_open (GTK_WINDOW (widget), opened_cb, widget);
}

static void
save_as_chosen_cb (GFile    *file,
                   gpointer  data)
{
  BwWindow *self = data;
  g_autoptr (GError) error = NULL;
  g_autofree char *text = NULL;
  gsize length;

  text = bw_design_to_text (bw_document_get_reference (self->document),
                            bw_document_get_design (self->document), NULL, &length);
  if (!g_file_replace_contents (file, text, length, NULL, FALSE, G_FILE_CREATE_NONE, NULL, NULL,
                                &error))
    bw_window_tell (self, error->message);
}

static void
save_as_cb (GtkWidget  *widget,
            const char *name,
            GVariant   *parameter)
{
  BwWindow *self = BW_WINDOW (widget);
  g_autofree char *suggested = g_strconcat (bw_document_get_design (self->document)->name, ".hat",
                                            NULL);

  bw_dialogs_save (GTK_WINDOW (self), g_strdelimit (suggested, "/", '-'), save_as_chosen_cb, self);
}

static void
library_cb (GSimpleAction *action,
            GVariant      *state,
            gpointer       data)
{
  BwWindow *self = data;

  g_simple_action_set_state (action, state);
  if (g_variant_get_boolean (state))
    make_side (self);
  if (self->side != NULL)
    gtk_widget_set_visible (GTK_WIDGET (self->side), g_variant_get_boolean (state));
}

static void
find_cb (GtkWidget  *widget,
         const char *name,
         GVariant   *parameter)
{
  g_action_group_change_action_state (G_ACTION_GROUP (widget), "library",
                                      g_variant_new_boolean (TRUE));
  bw_library_side_search (BW_WINDOW (widget)->side);
}

static void
place_cb (GtkWidget  *widget,
          const char *name,
          GVariant   *parameter)
{
  gtk_stack_set_visible_child_name (BW_WINDOW (widget)->places,
                                    g_variant_get_string (parameter, NULL));
}

static void
page_cb (GtkWidget  *widget,
         const char *name,
         GVariant   *parameter)
{
  BwWindow *self = BW_WINDOW (widget);

  gtk_stack_set_visible_child_name (self->places, "designs");
  bw_design_place_show_page (self->designs, g_variant_get_string (parameter, NULL));
}

/* Files may be dropped anywhere on the window. */
static gboolean
dropped_cb (GtkDropTarget *target,
            const GValue  *value,
            double         x,
            double         y,
            BwWindow      *self)
{
  bw_window_take_file (self, g_value_get_object (value));

  return TRUE;
}

/* ---- the window -------------------------------------------------------- */

/* Nothing is asked; but where the last edits can be saved nowhere, the window stays
 * open once, so that they can be saved as a file. */
static gboolean
must_stay (BwWindow *self)
{
  if (bw_document_save (self->document, NULL) || self->may_lose)
    return FALSE;

  self->may_lose = TRUE;
  bw_window_tell (self, _("The last edits could not be saved in the library. Save the design as a "
                          "file to keep them; closing the window again gives them up."));

  return TRUE;
}

static gboolean
bw_window_close_request (GtkWindow *window)
{
  BwWindow *self = BW_WINDOW (window);
  GSettings *settings = settings_of (self);
  int width;
  int height;

  if (must_stay (self))
    return TRUE;

  if (settings != NULL)
    {
      gtk_window_get_default_size (window, &width, &height);
      g_settings_set_int (settings, "window-width", width);
      g_settings_set_int (settings, "window-height", height);
      g_settings_set_boolean (settings, "window-maximized", gtk_window_is_maximized (window));
      g_settings_set_boolean (settings, "library-shown",
                              self->side != NULL &&
                              gtk_widget_get_visible (GTK_WIDGET (self->side)));
      g_settings_set_int64 (settings, "last-design", bw_document_get_id (self->document));
    }

  return GTK_WINDOW_CLASS (bw_window_parent_class)->close_request (window);
}

static void
bw_window_dispose (GObject *object)
{
  BwWindow *self = BW_WINDOW (object);

  if (self->document != NULL)
    g_signal_handlers_disconnect_by_data (self->document, self);
  if (self->designs != NULL)
    bw_design_place_set_document (self->designs, NULL, NULL);
  g_clear_object (&self->document);

  G_OBJECT_CLASS (bw_window_parent_class)->dispose (object);
}

static void
install_actions (GtkWidgetClass *widget_class)
{
  gtk_widget_class_install_action (widget_class, "win.undo", NULL, undo_cb);
  gtk_widget_class_install_action (widget_class, "win.redo", NULL, undo_cb);
  gtk_widget_class_install_action (widget_class, "win.new-design", NULL, new_design_cb);
  gtk_widget_class_install_action (widget_class, "win.open", NULL, open_cb);
  gtk_widget_class_install_action (widget_class, "win.save-as", NULL, save_as_cb);
  gtk_widget_class_install_action (widget_class, "win.find", NULL, find_cb);
  gtk_widget_class_install_action (widget_class, "win.place", "s", place_cb);
  gtk_widget_class_install_action (widget_class, "win.page", "s", page_cb);
  bw_window_install_dialogs (widget_class);
  bw_window_install_views (widget_class);
}

static void
bw_window_class_init (BwWindowClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = bw_window_dispose;
  GTK_WINDOW_CLASS (klass)->close_request = bw_window_close_request;
  install_actions (widget_class);

  g_type_ensure (BW_TYPE_DESIGN_PLACE);
  gtk_widget_class_set_template_from_resource (widget_class,
                                               "/org/brimwright/Brimwright/bw-window.ui");
  gtk_widget_class_bind_template_child (widget_class, BwWindow, library_button);
  gtk_widget_class_bind_template_child (widget_class, BwWindow, undo_button);
  gtk_widget_class_bind_template_child (widget_class, BwWindow, redo_button);
  gtk_widget_class_bind_template_child (widget_class, BwWindow, findings_button);
  gtk_widget_class_bind_template_child (widget_class, BwWindow, menu_button);
  gtk_widget_class_bind_template_child (widget_class, BwWindow, bar);
  gtk_widget_class_bind_template_child (widget_class, BwWindow, message);
  gtk_widget_class_bind_template_child (widget_class, BwWindow, body);
  gtk_widget_class_bind_template_child (widget_class, BwWindow, places);
  gtk_widget_class_bind_template_child (widget_class, BwWindow, designs);
  gtk_widget_class_bind_template_child (widget_class, BwWindow, swatches_room);
  gtk_widget_class_bind_template_child (widget_class, BwWindow, yarns_room);
  gtk_widget_class_bind_template_child (widget_class, BwWindow, patterns_room);
}

static void
hide_bar_cb (GtkInfoBar *bar,
             int         response,
             gpointer    data)
{
  gtk_info_bar_set_revealed (bar, FALSE);
}

/* Drawn at many sizes for the window manager: that can wait. */
static gboolean
set_icon (GtkWidget *widget)
{
  gtk_window_set_icon_name (GTK_WINDOW (widget), BW_APP_ID);

  return FALSE;
}

/* The button that GTK puts into the bar has a picture and no name. */
static void
name_close_button (GtkWidget *widget)
{
  if (GTK_IS_BUTTON (widget))
    bw_spoken_name (widget, _("Close this message"));

  for (GtkWidget *child = gtk_widget_get_first_child (widget); child != NULL;
       child = gtk_widget_get_next_sibling (child))
    name_close_button (child);
}

static void
bw_window_init (BwWindow *self)
{
  static const GActionEntry actions[] = {
    { .name = "library", .state = "false", .change_state = library_cb },
  };
  GtkDropTarget *drop = gtk_drop_target_new (G_TYPE_FILE, GDK_ACTION_COPY);

  g_action_map_add_action_entries (G_ACTION_MAP (self), actions, G_N_ELEMENTS (actions), self);
  gtk_widget_init_template (GTK_WIDGET (self));
  name_close_button (GTK_WIDGET (self->bar));
  bw_hint_set (self->library_button, _("Library"));
  bw_hint_set (self->menu_button, _("Menu"));
  bw_hint_set (self->findings_button, _("What there is to know about this design"));
  g_signal_connect_swapped (self->places, "notify::visible-child", G_CALLBACK (make_place), self);
  g_signal_connect (self->bar, "response", G_CALLBACK (hide_bar_cb), NULL);
  g_signal_connect (drop, "drop", G_CALLBACK (dropped_cb), self);
  gtk_widget_add_controller (GTK_WIDGET (self), GTK_EVENT_CONTROLLER (drop));
  bw_later_add (GTK_WIDGET (self), set_icon);
}

static void
autosave_cb (GSettings  *settings,
             const char *key,
             BwWindow   *self)
{
  if (self->document != NULL)
    bw_document_set_autosave (self->document, g_settings_get_boolean (settings, key));
}

static void
restore (BwWindow  *self,
         GSettings *settings)
{
  g_signal_connect_object (settings, "changed::autosave", G_CALLBACK (autosave_cb), self, 0);
  gtk_window_set_default_size (GTK_WINDOW (self), g_settings_get_int (settings, "window-width"),
                               g_settings_get_int (settings, "window-height"));
  if (g_settings_get_boolean (settings, "window-maximized"))
    gtk_window_maximize (GTK_WINDOW (self));
  g_action_group_change_action_state (G_ACTION_GROUP (self), "library",
                                      g_settings_get_value (settings, "library-shown"));
}

/**
 * bw_window_new:
 * @application: the application
 * @document: what it shows
 *
 * Returns: (transfer none): a window, owned by GTK
 */
GtkWidget *
bw_window_new (BwApplication *application,
               BwDocument    *document)
{
  BwWindow *self = g_object_new (BW_TYPE_WINDOW, "application", application, NULL);
  GSettings *settings = bw_application_get_settings (application);

  gtk_window_set_default_size (GTK_WINDOW (self), 1280, 800);
  if (settings != NULL)
    restore (self, settings);
  bw_window_set_document (self, document);
  bw_window_tell (self, bw_application_get_trouble (application));

  return GTK_WIDGET (self);
}

/**
 * bw_window_set_document:
 * @self: a window
 * @document: what it is to show; what it showed is saved
 */
void
bw_window_set_document (BwWindow   *self,
                        BwDocument *document)
{
  g_return_if_fail (BW_IS_WINDOW (self));
  g_return_if_fail (BW_IS_DOCUMENT (document));

  if (self->document != NULL)
    {
      bw_document_save (self->document, NULL);
      g_signal_handlers_disconnect_by_data (self->document, self);
    }
  g_set_object (&self->document, document);
  if (settings_of (self) != NULL)
    bw_document_set_autosave (document, g_settings_get_boolean (settings_of (self), "autosave"));
  g_signal_connect_swapped (document, "changed", G_CALLBACK (changed_cb), self);
  g_signal_connect_swapped (document, "state", G_CALLBACK (state_cb), self);
  /* Now and not on closing: a program that is killed comes back here, too */
  if (settings_of (self) != NULL)
    g_settings_set_int64 (settings_of (self), "last-design", bw_document_get_id (document));
  bw_design_place_set_document (self->designs, document, settings_of (self));
  if (self->side != NULL)
    bw_library_side_set_document (self->side, document);
  changed_cb (self);
}

/* It is shown, and made where it was not yet. */
BwPatternPlace *
bw_window_get_pattern_place (BwWindow *self)
{
  gtk_stack_set_visible_child_name (self->places, "patterns");

  return self->patterns;
}

/**
 * bw_window_refresh_swatches:
 * @self: a window
 *
 * Reads the swatches again, if they are shown.
 */
void
bw_window_refresh_swatches (BwWindow *self)
{
  if (self->swatches != NULL)
    bw_swatch_place_refresh (self->swatches);
}

BwDocument *
bw_window_get_document (BwWindow *self)
{
  return self->document;
}

/* (nullable): until it was shown */
BwLibrarySide *
bw_window_get_library_side (BwWindow *self)
{
  return self->side;
}

BwDesignPlace *
bw_window_get_design_place (BwWindow *self)
{
  return self->designs;
}
