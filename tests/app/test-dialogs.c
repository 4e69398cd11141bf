#include <string.h>

#include "app-fixture.h"
#include "bw-import-dialog.h"
#include "bw-library-revision.h"
#include "bw-library-swatch.h"
#include "bw-library-yarn.h"
#include "bw-preferences.h"
#include "bw-print.h"
#include "bw-publish-dialog.h"
#include "bw-settings.h"
#include "bw-swatch-photo.h"
#include "bw-yarn-fibres.h"

/* Dialogues and what they do to files, the library and the preferences. */

typedef struct
{
  char        *path;
  char        *folder;
  BwReference *reference;
  BwLibrary   *library;
  BwDocument  *document;
  GtkWidget   *parent;
} Fixture;

static void
set_up (Fixture       *fixture,
        gconstpointer  data G_GNUC_UNUSED)
{
  gint64 id;

  fixture->path = fixture_library_path ();
  fixture->folder = g_path_get_dirname (fixture->path);
  fixture->reference = bw_reference_builtin (NULL);
  fixture->library = bw_library_open (fixture->path, BW_LIBRARY_OPEN_CREATE, NULL);
  g_assert_true (bw_library_fill_demo (fixture->library, fixture->reference, NULL));
  g_assert_true (bw_library_find (fixture->library, "Lugger", &id, NULL));
  fixture->document = bw_document_new (fixture->reference, fixture->library, id,
                                       bw_library_load (fixture->library, id, NULL, NULL));
  fixture->parent = gtk_window_new ();
}

static void
tear_down (Fixture       *fixture,
           gconstpointer  data G_GNUC_UNUSED)
{
  gtk_window_destroy (GTK_WINDOW (fixture->parent));
  g_assert_finalize_object (fixture->document);
  bw_library_close (fixture->library);
  bw_reference_free (fixture->reference);
  fixture_remove (fixture->path);
  g_free (fixture->path);
  g_free (fixture->folder);
}

static GtkWidget *
find (GtkWidget  *widget,
      GType       type,
      const char *name)
{
  GtkWidget *found = NULL;

  if (G_TYPE_CHECK_INSTANCE_TYPE (widget, type) &&
      g_strcmp0 (gtk_buildable_get_buildable_id (GTK_BUILDABLE (widget)), name) == 0)
    return widget;

  for (GtkWidget *child = gtk_widget_get_first_child (widget); child != NULL && found == NULL;
       child = gtk_widget_get_next_sibling (child))
    found = find (child, type, name);

  return found;
}

static void
choose (GtkWidget  *dialog,
        const char *list,
        guint       position)
{
  GtkWidget *widget = find (dialog, GTK_TYPE_DROP_DOWN, list);

  g_assert_nonnull (widget);
  gtk_drop_down_set_selected (GTK_DROP_DOWN (widget), position);
}

/* ---- publishing --------------------------------------------------------- */

static void
test_publish (Fixture       *fixture,
              gconstpointer  data G_GNUC_UNUSED)
{
  GtkWidget *widget = bw_publish_dialog_new (GTK_WINDOW (fixture->parent), fixture->document);
  BwPublishDialog *dialog = BW_PUBLISH_DIALOG (widget);
  g_autofree char *path = g_build_filename (fixture->folder, "lugger.pdf", NULL);
  g_autofree char *us = g_build_filename (fixture->folder, "lugger-us.html", NULL);
  g_autofree char *uk = g_build_filename (fixture->folder, "lugger-uk.html", NULL);
  g_autofree char *both = g_build_filename (fixture->folder, "lugger.html", NULL);
  g_autofree char *odd = g_build_filename (fixture->folder, "lugger.odd", NULL);
  g_autofree char *bytes = NULL;
  g_autofree char *british = NULL;
  g_autofree char *american = NULL;
  g_autoptr (GError) error = NULL;
  guint n = bw_publish_dialog_get_n_pages (dialog);

  gtk_window_present (GTK_WINDOW (dialog));
  gtk_test_widget_wait_for_draw (widget);
  g_assert_cmpuint (n, >, 1);
  fixture_wait (200);
  fixture_save_picture (widget, "publish");
  choose (widget, "form", 1);
  g_assert_cmpuint (bw_publish_dialog_get_n_pages (dialog), >, n);
  choose (widget, "form", 0);

  g_assert_true (bw_publish_dialog_write (dialog, path, &error));
  g_assert_no_error (error);
  g_assert_true (g_file_get_contents (path, &bytes, NULL, NULL));
  g_assert_true (g_str_has_prefix (bytes, "%PDF-"));

  choose (widget, "terms", 2);
  g_assert_true (bw_publish_dialog_write (dialog, both, &error));
  g_assert_true (g_file_get_contents (uk, &british, NULL, NULL));
  g_assert_true (g_file_get_contents (us, &american, NULL, NULL));
  g_assert_nonnull (strstr (british, "dc2tog"));
  g_assert_nonnull (strstr (american, "sc2tog"));
  g_assert_null (strstr (american, "dc2tog"));

  choose (widget, "terms", 0);
  g_assert_false (bw_publish_dialog_write (dialog, odd, &error));
  g_assert_nonnull (strstr (error->message, ".pdf"));

  g_unlink (path);
  g_unlink (uk);
  g_unlink (us);
  gtk_window_destroy (GTK_WINDOW (dialog));
}

static void
test_revise (Fixture       *fixture,
             gconstpointer  data G_GNUC_UNUSED)
{
  GtkWidget *dialog = bw_publish_dialog_new (GTK_WINDOW (fixture->parent), fixture->document);
  g_autoptr (GPtrArray) before = NULL;
  g_autoptr (GPtrArray) after = NULL;
  g_autoptr (GError) error = NULL;
  gint64 id = bw_document_get_id (fixture->document);

  before = bw_library_get_revisions (fixture->library, id, NULL);
  gtk_editable_set_text (GTK_EDITABLE (find (dialog, GTK_TYPE_ENTRY, "note")), "First of the test");
  g_assert_true (bw_publish_dialog_revise (BW_PUBLISH_DIALOG (dialog), &error));
  g_assert_no_error (error);
  after = bw_library_get_revisions (fixture->library, id, NULL);
  g_assert_cmpuint (after->len, ==, before->len + 1);
  gtk_window_destroy (GTK_WINDOW (dialog));
}

/* The printer gets the pages of the PDF. */
static void
test_print (Fixture       *fixture,
            gconstpointer  data G_GNUC_UNUSED)
{
  const BwGrading *grading = bw_document_get_grading (fixture->document);
  g_autoptr (BwEdition) edition = bw_edition_new (grading->design, 1700000000);
  g_autoptr (BwPages) pages = bw_pages_new (grading, edition);
  g_autoptr (GtkPrintOperation) operation = bw_print_operation (grading, edition);
  g_autofree char *path = g_build_filename (fixture->folder, "printed.pdf", NULL);
  g_autofree char *bytes = NULL;
  g_autoptr (GError) error = NULL;
  int n;

  gtk_print_operation_set_export_filename (operation, path);
  g_assert_cmpint (gtk_print_operation_run (operation, GTK_PRINT_OPERATION_ACTION_EXPORT,
                                            GTK_WINDOW (fixture->parent), &error), ==,
                   GTK_PRINT_OPERATION_RESULT_APPLY);
  g_assert_no_error (error);
  g_object_get (operation, "n-pages", &n, NULL);
  g_assert_cmpint (n, ==, (int) bw_pages_n (pages));
  g_assert_true (g_file_get_contents (path, &bytes, NULL, NULL));
  g_assert_true (g_str_has_prefix (bytes, "%PDF-"));
  g_unlink (path);
}

/* ---- swatches and yarns --------------------------------------------------- */

static void
test_import (Fixture       *fixture,
             gconstpointer  data G_GNUC_UNUSED)
{
  static const char csv[] =
    "yarn,hook,stitch pattern,stitches,across\n"
    "Invented rope,5.5 mm,plain-low,20,13 cm\n"
    "Invented rope,thick,plain-low,20,13 cm\n";
  const BwSwatchFilter all = { "Invented rope", 0, "" };
  g_autofree char *path = g_build_filename (fixture->folder, "swatches.csv", NULL);
  g_autoptr (GFile) file = g_file_new_for_path (path);
  g_autoptr (GPtrArray) swatches = NULL;
  g_autoptr (GError) error = NULL;
  const BwImportReport *report;
  GtkWidget *dialog;

  g_assert_true (g_file_set_contents (path, csv, -1, NULL));
  dialog = bw_import_dialog_new (GTK_WINDOW (fixture->parent), fixture->library,
                                 fixture->reference, file, &error);
  g_assert_no_error (error);
  report = bw_import_dialog_get_report (BW_IMPORT_DIALOG (dialog));
  g_assert_cmpuint (report->n_rows, ==, 2);
  g_assert_cmpuint (report->n_left_out, ==, 1);
  g_assert_cmpuint (report->problems->len, >=, 1);
  g_assert_cmpuint (((BwImportProblem *) report->problems->pdata[0])->line, ==, 3);

  gtk_window_present (GTK_WINDOW (dialog));
  fixture_wait (200);
  fixture_save_picture (dialog, "import");

  /* Nothing is taken before it is said so */
  swatches = bw_library_list_swatches (fixture->library, &all, NULL);
  g_assert_cmpuint (swatches->len, ==, 0);
  g_ptr_array_unref (swatches);
  g_assert_true (bw_import_dialog_take (BW_IMPORT_DIALOG (dialog)));
  swatches = bw_library_list_swatches (fixture->library, &all, NULL);
  g_assert_cmpuint (swatches->len, ==, 1);
  g_unlink (path);
}

static void
test_photo (Fixture       *fixture,
            gconstpointer  data G_GNUC_UNUSED)
{
  const BwSwatchFilter all = { "", 0, "" };
  g_autoptr (GPtrArray) swatches = bw_library_list_swatches (fixture->library, &all, NULL);
  BwLibrarySwatch *swatch = swatches->pdata[0];
  g_autofree char *path = g_build_filename (fixture->folder, "photo.png", NULL);
  g_autoptr (GFile) file = g_file_new_for_path (path);
  g_autoptr (BwLibrarySwatch) again = NULL;
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_RGB24, 12, 8);
  GtkWidget *photo = g_object_ref_sink (bw_swatch_photo_new ());

  cairo_surface_write_to_png (surface, path);
  cairo_surface_destroy (surface);
  bw_swatch_photo_show (BW_SWATCH_PHOTO (photo), fixture->library, swatch);
  g_assert_null (bw_swatch_photo_get_picture (BW_SWATCH_PHOTO (photo)));
  g_assert_true (bw_swatch_photo_take (BW_SWATCH_PHOTO (photo), file));
  g_assert_nonnull (bw_swatch_photo_get_picture (BW_SWATCH_PHOTO (photo)));
  g_assert_true (bw_library_save_swatch (fixture->library, swatch, NULL));

  again = bw_library_get_swatch (fixture->library, swatch->id, NULL);
  bw_swatch_photo_show (BW_SWATCH_PHOTO (photo), fixture->library, again);
  g_assert_cmpint (gdk_paintable_get_intrinsic_width (
                     bw_swatch_photo_get_picture (BW_SWATCH_PHOTO (photo))), ==, 12);

  /* What is no picture is refused, and the photograph stays */
  g_assert_true (g_file_set_contents (path, "no picture", -1, NULL));
  g_assert_false (bw_swatch_photo_take (BW_SWATCH_PHOTO (photo), file));
  g_assert_nonnull (again->photo);
  g_object_unref (photo);
  g_unlink (path);
}

static void
test_fibres (void)
{
  static const char *const good[] = {
    "80 % wool, 20 % nylon", "80% wool,20% nylon", "wool 80 %, nylon 20 %",
  };
  static const char *const bad[] = {
    "wool", "80 % wool", "80 % wool, 30 % nylon", "80 %, 20 % nylon", "0 % wool, 100 % nylon", "%",
  };
  g_autoptr (BwLibraryYarn) yarn = bw_library_yarn_new ("Invented yarn");

  for (guint i = 0; i < G_N_ELEMENTS (good); i++)
    {
      g_autofree char *printed = NULL;

      g_assert_true (bw_yarn_fibres_read (yarn, good[i]));
      printed = bw_yarn_fibres_print (yarn);
      g_assert_cmpstr (printed, ==, good[0]);
    }
  for (guint i = 0; i < G_N_ELEMENTS (bad); i++)
    {
      g_assert_false (bw_yarn_fibres_read (yarn, bad[i]));
      g_assert_cmpuint (yarn->fibres->len, ==, 2);
    }
  g_assert_true (bw_yarn_fibres_read (yarn, ""));
  g_assert_cmpuint (yarn->fibres->len, ==, 0);
}

/* ---- preferences ----------------------------------------------------------- */

static GtkWidget *
list_called (GtkWidget  *widget,
             const char *text)
{
  GtkWidget *found = NULL;

  if (GTK_IS_LABEL (widget) && g_str_equal (gtk_label_get_text (GTK_LABEL (widget)), text))
    return gtk_label_get_mnemonic_widget (GTK_LABEL (widget));

  for (GtkWidget *child = gtk_widget_get_first_child (widget); child != NULL && found == NULL;
       child = gtk_widget_get_next_sibling (child))
    found = list_called (child, text);

  return found;
}

static void
test_preferences (Fixture       *fixture,
                  gconstpointer  data G_GNUC_UNUSED)
{
  g_autoptr (GSettings) settings = bw_settings_new ();
  GtkWidget *dialog = bw_preferences_new (GTK_WINDOW (fixture->parent), settings,
                                          fixture->reference);
  const BwSizeTable *table = fixture->reference->size_tables->pdata[0];
  g_autofree char *units = NULL;
  g_autofree char *sizes = NULL;

  g_assert_cmpuint (gtk_drop_down_get_selected (GTK_DROP_DOWN (list_called (dialog,
                                                                            "Measurements"))),
                    ==, 0);
  gtk_window_present (GTK_WINDOW (dialog));
  fixture_wait (200);
  fixture_save_picture (dialog, "preferences");
  gtk_drop_down_set_selected (GTK_DROP_DOWN (list_called (dialog, "Measurements")), 1);
  gtk_drop_down_set_selected (GTK_DROP_DOWN (list_called (dialog, "Sizes")), 1);
  units = g_settings_get_string (settings, "units");
  sizes = g_settings_get_string (settings, "size-table");
  g_assert_cmpstr (units, ==, "in");
  g_assert_cmpstr (sizes, ==, table->id);
  g_settings_reset (settings, "units");
  g_settings_reset (settings, "size-table");
  gtk_window_destroy (GTK_WINDOW (dialog));
}

/* A new design begins with all sizes of the table that is preferred. */
static void
test_new_design (void)
{
  g_autofree char *path = fixture_library_path ();
  BwApplication *application = bw_application_new (G_APPLICATION_NON_UNIQUE);
  const BwSizeTable *table;
  GSettings *settings;
  BwDesign *design;

  bw_application_set_library_path (application, path);
  g_assert_true (g_application_register (G_APPLICATION (application), NULL, NULL));
  settings = bw_application_get_settings (application);
  for (guint i = 0; i < bw_application_get_reference (application)->size_tables->len; i++)
    {
      g_autoptr (GError) error = NULL;

      table = bw_application_get_reference (application)->size_tables->pdata[i];
      g_settings_set_string (settings, "size-table", table->id);
      design = bw_application_new_design (application);
      g_assert_true (bw_design_check (bw_application_get_reference (application), design, &error));
      g_assert_no_error (error);
      g_assert_cmpuint (design->sizes->len, ==, MIN (table->sizes->len, BW_DESIGN_SIZES_MAX));
      g_assert_cmpstr (design->size_table, ==, table->id);
      bw_design_free (design);
    }
  g_settings_reset (settings, "size-table");
  fixture_leave (application);
  fixture_remove (path);
}

static double
stored_height (Fixture *fixture)
{
  g_autoptr (BwDesign) design = bw_library_load (fixture->library,
                                                 bw_document_get_id (fixture->document), NULL,
                                                 NULL);

  return design->brim.height_mm;
}

static void
test_autosave (Fixture       *fixture,
               gconstpointer  data G_GNUC_UNUSED)
{
  double before = stored_height (fixture);

  bw_document_set_autosave (fixture->document, FALSE);
  g_assert_true (bw_document_type (fixture->document, "brim:height", "Height", "47 mm", NULL));
  fixture_wait (300);
  g_assert_cmpfloat (stored_height (fixture), ==, before);
  bw_document_set_autosave (fixture->document, TRUE);
  g_assert_cmpfloat (stored_height (fixture), ==, 47);
}

/* Tags are no change by somebody else: the next save makes no second design. */
static void
test_tags (Fixture       *fixture,
           gconstpointer  data G_GNUC_UNUSED)
{
  g_autofree char *tags = NULL;
  g_autoptr (GError) error = NULL;
  gint64 id = bw_document_get_id (fixture->document);

  g_assert_true (bw_document_type (fixture->document, "brim:height", "Height", "41 mm", NULL));
  g_assert_true (bw_document_set_tags (fixture->document, " winter, boats ,winter", &error));
  g_assert_no_error (error);
  tags = bw_document_get_tags (fixture->document);
  g_assert_cmpstr (tags, ==, "boats, winter");
  g_assert_true (bw_document_type (fixture->document, "brim:height", "Height", "43 mm", NULL));
  g_assert_true (bw_document_save (fixture->document, &error));
  g_assert_cmpint (bw_document_get_id (fixture->document), ==, id);
  g_assert_cmpfloat (stored_height (fixture), ==, 43);
}

int
main (int    argc,
      char **argv)
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
  if (!gtk_init_check ())
    {
      g_print ("1..0 # SKIP no display\n");
      return 0;
    }

#define ADD(name, function) \
  g_test_add ("/app/dialogs/" name, Fixture, NULL, set_up, function, tear_down)
  ADD ("publish", test_publish);
  ADD ("revise", test_revise);
  ADD ("print", test_print);
  ADD ("import", test_import);
  ADD ("photo", test_photo);
  g_test_add_func ("/app/dialogs/fibres", test_fibres);
  ADD ("preferences", test_preferences);
  g_test_add_func ("/app/dialogs/new-design", test_new_design);
  ADD ("autosave", test_autosave);
  ADD ("tags", test_tags);

  return g_test_run ();
}
