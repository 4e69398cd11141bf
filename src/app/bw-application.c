#define G_LOG_DOMAIN "bw-app"

#include "bw-app-words.h"

#include "bw-application.h"

#include "bw-accels.h"
#include "bw-design-file.h"
#include "bw-dialogs.h"
#include "bw-library-demo.h"
#include "bw-library-design.h"
#include "bw-library-sizes.h"
#include "bw-reference-builtin.h"
#include "bw-settings.h"
#include "bw-window.h"

/* A change waits so long for another program that is writing; the window stands still. */
#define PATIENCE_MS 100

/* The application owns what all windows share: tables, library, preferences. */

struct _BwApplication
{
  GtkApplication parent_instance;

  /* Owned references */
  BwReference *reference;
  BwLibrary   *library;       /* NULL = could not be opened */
  GSettings   *settings;      /* NULL = no schema */
  char        *library_path;  /* from the command line; NULL = the usual place */
  char        *trouble;       /* what is wrong with the library; NULL = nothing */

  gboolean     exit_after_startup;
};

G_DEFINE_FINAL_TYPE (BwApplication, bw_application, GTK_TYPE_APPLICATION)

/* ---- the library ------------------------------------------------------- */

static gboolean
is_empty (BwLibrary *library)
{
  g_autoptr (GPtrArray) entries = bw_library_list (library, BW_LIBRARY_ORDER_CHANGED, FALSE, 1,
                                                   NULL);

  return entries != NULL && entries->len == 0;
}

static char *
trouble_words (const char *what)
{
  /* Translators: %s is what is wrong with the library */
  return g_strdup_printf (_("%s. You can go on working; what is to be kept must be saved as a "
                            "design file."), what);
}

/* A library that cannot be written is read; one that cannot be read is done
 * without, and the window says so. */
static void
open_library (BwApplication *self)
{
  g_autofree char *path = self->library_path == NULL ? bw_library_default_path ()
                                                     : g_strdup (self->library_path);
  g_autoptr (GError) error = NULL;
  gboolean fresh = !g_file_test (path, G_FILE_TEST_EXISTS);

  self->library = bw_library_open (path, BW_LIBRARY_OPEN_CREATE, &error);
  if (self->library == NULL)
    self->library = bw_library_open (path, BW_LIBRARY_OPEN_READ_ONLY, NULL);
  if (error != NULL)
    self->trouble = trouble_words (error->message);
  else if (bw_library_is_read_only (self->library))
    self->trouble = trouble_words (_("The library can be read, not written"));
  if (self->library != NULL)
    bw_library_set_patience (self->library, PATIENCE_MS);
  if (self->trouble != NULL)
    return;

  if (fresh && is_empty (self->library) &&
      !bw_library_fill_demo (self->library, self->reference, &error))
    self->trouble = g_strdup (error->message);
  else if (!bw_library_use_size_tables (self->library, self->reference, &error))
    self->trouble = g_strdup (error->message);
}

/* ---- designs ----------------------------------------------------------- */

/* All sizes of the table that is preferred, as many as a design may have. */
static void
take_sizes (BwApplication *self,
            BwDesign      *design,
            const char    *id)
{
  const BwSizeTable *table = *id == '\0' ? NULL : bw_reference_size_table (self->reference, id);

  if (table == NULL)
    return;

  g_array_set_size (design->sizes, 0);
  for (guint i = 0; i < MIN (table->sizes->len, BW_DESIGN_SIZES_MAX); i++)
    {
      BwSizeChoice choice;

      bw_size_choice_init (&choice, bw_size_copy (table->sizes->pdata[i]));
      g_array_append_val (design->sizes, choice);
    }
  g_free (design->size_table);
  design->size_table = g_strdup (id);
}

/**
 * bw_application_new_design:
 * @self: the application
 *
 * Returns: (transfer full): a design to begin with, in the units and terms preferred
 */
BwDesign *
bw_application_new_design (BwApplication *self)
{
  g_autoptr (GBytes) bytes = g_resources_lookup_data ("/org/brimwright/Brimwright/new.hat",
                                                      G_RESOURCE_LOOKUP_FLAGS_NONE, NULL);
  g_autofree char *units = NULL;
  g_autofree char *terms = NULL;
  g_autofree char *sizes = NULL;
  BwDesign *design;

  g_assert (bytes != NULL);
  design = bw_design_from_text (self->reference, g_bytes_get_data (bytes, NULL),
                                g_bytes_get_size (bytes), NULL);
  g_assert (design != NULL);
  if (self->settings == NULL)
    return design;

  units = g_settings_get_string (self->settings, "units");
  terms = g_settings_get_string (self->settings, "terms");
  design->units = g_str_equal (units, "in") ? BW_UNITS_INCH : BW_UNITS_CM;
  design->terms = g_str_equal (terms, "us") ? BW_TERMS_US : BW_TERMS_UK;
  sizes = g_settings_get_string (self->settings, "size-table");
  take_sizes (self, design, sizes);

  return design;
}

/**
 * bw_application_add_design:
 * @self: the application
 * @design: (transfer full): a design
 *
 * Returns: (transfer full): a document of it, in the library where there is one
 *   that can be written
 */
BwDocument *
bw_application_add_design (BwApplication *self,
                           BwDesign      *design)
{
  gint64 id = 0;

  if (self->library == NULL || !bw_library_add (self->library, design, &id, NULL))
    return bw_document_new (self->reference, NULL, 0, design);

  return bw_document_new (self->reference, self->library, id, design);
}

/**
 * bw_application_load_design:
 * @self: the application
 * @id: a design of the library
 * @error: (out) (optional): what the library says
 *
 * Returns: (transfer full) (nullable): a document of it
 */
BwDocument *
bw_application_load_design (BwApplication  *self,
                            gint64          id,
                            GError        **error)
{
  BwDocument *document;
  BwDesign *design;
  gint64 version;

  g_return_val_if_fail (self->library != NULL, NULL);

  design = bw_library_load (self->library, id, &version, error);
  if (design == NULL)
    return NULL;

  document = bw_document_new (self->reference, self->library, id, design);
  bw_document_set_version (document, version);

  return document;
}

/**
 * bw_application_last_design:
 * @self: the application
 *
 * Returns: (transfer full): what was worked on last; otherwise the design changed
 *   last, otherwise a new one
 */
BwDocument *
bw_application_last_design (BwApplication *self)
{
  g_autoptr (GPtrArray) entries = NULL;
  BwDocument *document = NULL;
  gint64 id = self->settings == NULL ? 0 : g_settings_get_int64 (self->settings, "last-design");

  if (self->library == NULL)
    return bw_application_add_design (self, bw_application_new_design (self));

  if (id != 0)
    document = bw_application_load_design (self, id, NULL);
  if (document != NULL)
    return document;

  entries = bw_library_list (self->library, BW_LIBRARY_ORDER_NAME, FALSE, 1, NULL);
  if (entries != NULL && entries->len > 0)
    document = bw_application_load_design (self, ((BwLibraryEntry *) entries->pdata[0])->id, NULL);
  if (document != NULL)
    return document;

  return bw_application_add_design (self, bw_application_new_design (self));
}

/**
 * bw_application_open_file:
 * @self: the application
 * @file: a design file
 * @error: (out) (optional): why it cannot be read
 *
 * Returns: (transfer full) (nullable): a document of a copy in the library
 */
BwDocument *
bw_application_open_file (BwApplication  *self,
                          GFile          *file,
                          GError        **error)
{
  g_autofree char *text = NULL;
  gsize length;
  BwDesign *design;

  if (!g_file_load_contents (file, NULL, &text, &length, NULL, error))
    return NULL;

  design = bw_design_from_text (self->reference, text, length, error);
  if (design == NULL)
    return NULL;

  return bw_application_add_design (self, design);
}

/* ---- starting ---------------------------------------------------------- */

static void
present (BwApplication *self,
         BwDocument    *document)
{
  GtkWidget *window = bw_window_new (self, document);

  g_object_unref (document);
  gtk_window_present (GTK_WINDOW (window));
}

static gboolean
exit_cb (gpointer data)
{
  GList *windows = gtk_application_get_windows (GTK_APPLICATION (data));

  if (windows != NULL)
    gtk_window_close (windows->data);

  return G_SOURCE_REMOVE;
}

/* Leaves as soon as the first frame has been painted. */
static void
painted_cb (GdkFrameClock *clock,
            BwApplication *self)
{
  g_signal_handlers_disconnect_by_func (clock, painted_cb, self);
  g_idle_add (exit_cb, self);
}

static void
leave_when_painted (BwApplication *self)
{
  GtkWindow *window = gtk_application_get_active_window (GTK_APPLICATION (self));

  if (self->exit_after_startup && window != NULL)
    g_signal_connect (gtk_widget_get_frame_clock (GTK_WIDGET (window)), "after-paint",
                      G_CALLBACK (painted_cb), self);
}

static void
bw_application_activate (GApplication *application)
{
  BwApplication *self = BW_APPLICATION (application);
  GtkWindow *window = gtk_application_get_active_window (GTK_APPLICATION (application));

  if (window != NULL)
    gtk_window_present (window);
  else
    present (self, bw_application_last_design (self));
  leave_when_painted (self);
}

static void
bw_application_open (GApplication  *application,
                     GFile        **files,
                     int            n_files,
                     const char    *hint)
{
  BwApplication *self = BW_APPLICATION (application);

  for (int i = 0; i < n_files; i++)
    {
      g_autoptr (GError) error = NULL;
      BwDocument *document = bw_application_open_file (self, files[i], &error);

      if (document == NULL)
        {
          document = bw_application_last_design (self);
          present (self, document);
          bw_window_tell (BW_WINDOW (gtk_application_get_active_window (GTK_APPLICATION (self))),
                          error->message);
          continue;
        }
      present (self, document);
    }
  leave_when_painted (self);
}

static void
new_window_cb (GSimpleAction *action,
               GVariant      *parameter,
               gpointer       data)
{
  present (data, bw_application_last_design (data));
}

static void
about_cb (GSimpleAction *action,
          GVariant      *parameter,
          gpointer       data)
{
  bw_dialogs_about (gtk_application_get_active_window (data));
}

static void
quit_cb (GSimpleAction *action,
         GVariant      *parameter,
         gpointer       data)
{
  GList *windows = g_list_copy (gtk_application_get_windows (data));

  for (GList *l = windows; l != NULL; l = l->next)
    gtk_window_close (l->data);
  g_list_free (windows);
}

static void
load_style (void)
{
  GtkCssProvider *provider = gtk_css_provider_new ();

  gtk_css_provider_load_from_resource (provider, "/org/brimwright/Brimwright/style.css");
  gtk_style_context_add_provider_for_display (gdk_display_get_default (),
                                              GTK_STYLE_PROVIDER (provider),
                                              GTK_STYLE_PROVIDER_PRIORITY_APPLICATION);
  g_object_unref (provider);
}

static void
bw_application_startup (GApplication *application)
{
  static const GActionEntry actions[] = {
    { .name = "new-window", .activate = new_window_cb },
    { .name = "about", .activate = about_cb },
    { .name = "quit", .activate = quit_cb },
  };
  BwApplication *self = BW_APPLICATION (application);
  g_autoptr (GError) error = NULL;

  G_APPLICATION_CLASS (bw_application_parent_class)->startup (application);

  self->reference = bw_reference_builtin (&error);
  if (self->reference == NULL)
    g_error ("the tables that are compiled in cannot be read: %s", error->message);
  self->settings = bw_settings_new ();
  open_library (self);
  load_style ();
  g_action_map_add_action_entries (G_ACTION_MAP (self), actions, G_N_ELEMENTS (actions), self);
  bw_accels_bind (GTK_APPLICATION (self));
}

static void
bw_application_shutdown (GApplication *application)
{
  BwApplication *self = BW_APPLICATION (application);

  G_APPLICATION_CLASS (bw_application_parent_class)->shutdown (application);

  g_clear_pointer (&self->library, bw_library_close);
  g_clear_object (&self->settings);
  g_clear_pointer (&self->reference, bw_reference_free);
}

static int
bw_application_handle_local_options (GApplication *application,
                                     GVariantDict *options)
{
  BwApplication *self = BW_APPLICATION (application);

  if (g_variant_dict_contains (options, "version"))
    {
      g_print ("Brimwright %s\n", BW_VERSION);
      return 0;
    }

  self->exit_after_startup = g_variant_dict_contains (options, "exit-after-startup");
  g_variant_dict_lookup (options, "library", "^ay", &self->library_path);
  if (self->library_path != NULL)
    g_application_set_flags (application,
                             g_application_get_flags (application) | G_APPLICATION_NON_UNIQUE);

  return -1;
}

static void
bw_application_finalize (GObject *object)
{
  BwApplication *self = BW_APPLICATION (object);

  g_free (self->library_path);
  g_free (self->trouble);

  G_OBJECT_CLASS (bw_application_parent_class)->finalize (object);
}

static void
bw_application_class_init (BwApplicationClass *klass)
{
  GApplicationClass *application_class = G_APPLICATION_CLASS (klass);

  G_OBJECT_CLASS (klass)->finalize = bw_application_finalize;
  application_class->activate = bw_application_activate;
  application_class->open = bw_application_open;
  application_class->startup = bw_application_startup;
  application_class->shutdown = bw_application_shutdown;
  application_class->handle_local_options = bw_application_handle_local_options;
}

static void
bw_application_init (BwApplication *self)
{
  static const GOptionEntry options[] = {
    { "library", 0, 0, G_OPTION_ARG_FILENAME, NULL, N_("Work on this library"), N_("FILE") },
    { "version", 0, 0, G_OPTION_ARG_NONE, NULL, N_("Print the version"), NULL },
    { "exit-after-startup", 0, G_OPTION_FLAG_HIDDEN, G_OPTION_ARG_NONE, NULL, NULL, NULL },
    { NULL, 0, 0, 0, NULL, NULL, NULL },
  };

  g_application_add_main_option_entries (G_APPLICATION (self), options);
}

BwApplication *
bw_application_new (GApplicationFlags flags)
{
  BwApplication *self = g_object_new (BW_TYPE_APPLICATION, "application-id", BW_APP_ID,
                                      "flags", flags | G_APPLICATION_HANDLES_OPEN, NULL);

  /* GTK would look there for icons, and so read all icon themes a second time */
  g_application_set_resource_base_path (G_APPLICATION (self), NULL);

  return self;
}

/**
 * bw_application_set_library_path:
 * @self: an application that has not been started
 * @path: the library's file, instead of the usual one
 */
void
bw_application_set_library_path (BwApplication *self,
                                 const char    *path)
{
  g_return_if_fail (BW_IS_APPLICATION (self));

  g_free (self->library_path);
  self->library_path = g_strdup (path);
}

const BwReference *
bw_application_get_reference (BwApplication *self)
{
  return self->reference;
}

/* (nullable) */
BwLibrary *
bw_application_get_library (BwApplication *self)
{
  return self->library;
}

/* (nullable): what is wrong with the library, for people */
const char *
bw_application_get_trouble (BwApplication *self)
{
  return self->trouble;
}

/* (nullable) */
GSettings *
bw_application_get_settings (BwApplication *self)
{
  return self->settings;
}
