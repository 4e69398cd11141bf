#define G_LOG_DOMAIN "bw-app"

#include "bw-app-words.h"

#include "bw-dialogs.h"

#include "bw-settings.h"

/* What was asked for, kept until it is answered. */
typedef struct
{
  GtkFileChooserNative *chooser;
  BwFileCallback        callback;
  gpointer              data;
} BwQuestion;

void
bw_dialogs_about (GtkWindow *parent)
{
  gtk_show_about_dialog (parent,
                         "program-name", "Brimwright",
                         "version", BW_VERSION,
                         "comments", _("A pattern workbench for people who design crochet hats"),
                         "license-type", GTK_LICENSE_MIT_X11,
                         "logo-icon-name", BW_APP_ID,
                         NULL);
}

static void
answered_cb (GtkNativeDialog *dialog,
             int              response,
             BwQuestion      *question)
{
  if (response == GTK_RESPONSE_ACCEPT)
    {
      g_autoptr (GFile) file = gtk_file_chooser_get_file (GTK_FILE_CHOOSER (dialog));

      question->callback (file, question->data);
    }

  g_object_unref (question->chooser);
  g_free (question);
}

static const char *const design_endings[] = { "hat", NULL };

static void
ask (GtkWindow            *parent,
     const char           *title,
     GtkFileChooserAction  action,
     const char           *kind,
     const char *const    *endings,
     const char           *name,
     BwFileCallback        callback,
     gpointer              data)
{
  BwQuestion *question = g_new0 (BwQuestion, 1);
  GtkFileFilter *filter = gtk_file_filter_new ();

  question->callback = callback;
  question->data = data;
  question->chooser = gtk_file_chooser_native_new (title, parent, action, NULL, NULL);
  gtk_native_dialog_set_modal (GTK_NATIVE_DIALOG (question->chooser), TRUE);
  gtk_file_filter_set_name (filter, kind);
  for (guint i = 0; endings[i] != NULL; i++)
    gtk_file_filter_add_suffix (filter, endings[i]);
  gtk_file_chooser_add_filter (GTK_FILE_CHOOSER (question->chooser), filter);
  g_object_unref (filter);
  if (name != NULL)
    gtk_file_chooser_set_current_name (GTK_FILE_CHOOSER (question->chooser), name);
  g_signal_connect (question->chooser, "response", G_CALLBACK (answered_cb), question);
  gtk_native_dialog_show (GTK_NATIVE_DIALOG (question->chooser));
}

/**
 * bw_dialogs_open:
 * @parent: the window that asks
 * @callback: called with the file, if one is chosen
 * @data: for @callback
 */
void
bw_dialogs_open (GtkWindow      *parent,
                 BwFileCallback  callback,
                 gpointer        data)
{
  ask (parent, _("Open a design file"), GTK_FILE_CHOOSER_ACTION_OPEN, _("Design files"),
       design_endings, NULL, callback, data);
}

/**
 * bw_dialogs_save:
 * @parent: the window that asks
 * @name: suggested name
 * @callback: called with the file, if one is chosen
 * @data: for @callback
 */
void
bw_dialogs_save (GtkWindow      *parent,
                 const char     *name,
                 BwFileCallback  callback,
                 gpointer        data)
{
  ask (parent, _("Save as a design file"), GTK_FILE_CHOOSER_ACTION_SAVE, _("Design files"),
       design_endings, name, callback, data);
}

/**
 * bw_dialogs_open_as:
 * @parent: the window that asks
 * @title: of the dialogue
 * @kind: what such files are called
 * @endings: NULL-terminated: how their names end
 * @callback: called with the file, if one is chosen
 * @data: for @callback
 */
void
bw_dialogs_open_as (GtkWindow         *parent,
                    const char        *title,
                    const char        *kind,
                    const char *const *endings,
                    BwFileCallback     callback,
                    gpointer           data)
{
  ask (parent, title, GTK_FILE_CHOOSER_ACTION_OPEN, kind, endings, NULL, callback, data);
}

/**
 * bw_dialogs_save_as:
 * @parent: the window that asks
 * @title: of the dialogue
 * @kind: what such files are called
 * @endings: NULL-terminated: how their names end
 * @name: suggested name
 * @callback: called with the file, if one is chosen
 * @data: for @callback
 */
void
bw_dialogs_save_as (GtkWindow         *parent,
                    const char        *title,
                    const char        *kind,
                    const char *const *endings,
                    const char        *name,
                    BwFileCallback     callback,
                    gpointer           data)
{
  ask (parent, title, GTK_FILE_CHOOSER_ACTION_SAVE, kind, endings, name, callback, data);
}
