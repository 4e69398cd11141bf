#define G_LOG_DOMAIN "bw-app"

#include "bw-app-words.h"

#include "bw-window-files.h"

#include "bw-dialogs.h"
#include "bw-import-dialog.h"
#include "bw-preferences.h"
#include "bw-print.h"
#include "bw-publish-dialog.h"

static BwApplication *
application_of (BwWindow *self)
{
  return BW_APPLICATION (gtk_window_get_application (GTK_WINDOW (self)));
}

/* ---- files -------------------------------------------------------------- */

/**
 * bw_window_import:
 * @self: a window
 * @file: a maker's spreadsheet of swatches, as CSV
 *
 * Says what can be taken in of it, and what not.
 */
void
bw_window_import (BwWindow *self,
                  GFile    *file)
{
  BwApplication *application = application_of (self);
  BwLibrary *library = bw_application_get_library (application);
  g_autoptr (GError) error = NULL;
  GtkWidget *dialog;

  if (library == NULL)
    {
      bw_window_tell (self, _("There is no library that swatches could be taken into."));
      return;
    }

  dialog = bw_import_dialog_new (GTK_WINDOW (self), library,
                                 bw_application_get_reference (application), file, &error);
  if (dialog == NULL)
    {
      bw_window_tell (self, error->message);
      return;
    }

  gtk_widget_activate_action (GTK_WIDGET (self), "win.place", "s", "swatches");
  g_signal_connect_object (dialog, "taken", G_CALLBACK (bw_window_refresh_swatches), self,
                           G_CONNECT_SWAPPED);
  gtk_window_present (GTK_WINDOW (dialog));
}

static void
import_chosen_cb (GFile    *file,
                  gpointer  data)
{
  bw_window_import (data, file);
}

static void
ask_import (BwWindow *self)
{
  static const char *const endings[] = { "csv", NULL };

  bw_dialogs_open_as (GTK_WINDOW (self), _("Take swatches in"), _("Spreadsheets as CSV"), endings,
                      import_chosen_cb, self);
}

static gboolean
ends_in (GFile      *file,
         const char *ending)
{
  g_autofree char *name = g_file_get_basename (file);
  g_autofree char *lower = name == NULL ? NULL : g_ascii_strdown (name, -1);

  return lower != NULL && g_str_has_suffix (lower, ending);
}

/**
 * bw_window_take_file:
 * @self: a window
 * @file: what was dropped on it: a design, a spreadsheet of swatches or a written
 *   pattern, by the ending of its name
 */
void
bw_window_take_file (BwWindow *self,
                     GFile    *file)
{
  g_autoptr (GError) error = NULL;

  if (ends_in (file, ".csv"))
    bw_window_import (self, file);
  else if (!ends_in (file, ".txt") && !ends_in (file, ".md"))
    bw_window_open_design (self, file);
  else if (!bw_pattern_place_open (bw_window_get_pattern_place (self), file, &error))
    bw_window_tell (self, error->message);
}

/* ---- publishing ---------------------------------------------------------- */

static void
publish (BwWindow *self)
{
  GtkWidget *dialog = bw_publish_dialog_new (GTK_WINDOW (self), bw_window_get_document (self));

  gtk_window_present (GTK_WINDOW (dialog));
}

static void
print (BwWindow *self)
{
  BwDocument *document = bw_window_get_document (self);
  const BwGrading *grading = bw_document_get_grading (document);
  g_autoptr (BwEdition) edition = NULL;

  if (grading == NULL)
    {
      bw_window_tell (self, _("There is nothing to print yet: the findings say why."));
      return;
    }

  edition = bw_edition_new (grading->design, g_get_real_time () / G_USEC_PER_SEC);
  bw_print (GTK_WINDOW (self), grading, edition);
}

static void
show_preferences (BwWindow *self)
{
  BwApplication *application = application_of (self);
  GSettings *settings = bw_application_get_settings (application);

  if (settings == NULL)
    {
      bw_window_tell (self, _("The program was not installed with its preferences; the usual ones "
                              "are used."));
      return;
    }

  gtk_window_present (GTK_WINDOW (bw_preferences_new (GTK_WINDOW (self), settings,
                                                      bw_application_get_reference (application))));
}

/* ---- actions -------------------------------------------------------------- */

static void
dialog_cb (GtkWidget  *widget,
           const char *name,
           GVariant   *parameter)
{
  BwWindow *self = BW_WINDOW (widget);

  if (g_str_equal (name, "win.publish"))
    publish (self);
  else if (g_str_equal (name, "win.print"))
    print (self);
  else if (g_str_equal (name, "win.import"))
    ask_import (self);
  else
    show_preferences (self);
}

/**
 * bw_window_install_dialogs:
 * @widget_class: of the window
 *
 * Gives the window its actions that open dialogues.
 */
void
bw_window_install_dialogs (GtkWidgetClass *widget_class)
{
  static const char *const names[] = {
    "win.publish", "win.print", "win.import", "win.preferences",
  };

  for (guint i = 0; i < G_N_ELEMENTS (names); i++)
    gtk_widget_class_install_action (widget_class, names[i], NULL, dialog_cb);
}
