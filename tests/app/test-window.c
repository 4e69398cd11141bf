#include <string.h>

#include "app-fixture.h"
#include "bw-words.h"
#include "bw-window.h"

/* The window as a whole, on the demo library, in process. */

typedef struct
{
  char          *path;
  BwApplication *application;
  GtkWidget     *window;
  BwDocument    *document;
  BwDesignPlace *place;
} Fixture;

static void
open_window (Fixture *fixture,
             int      width,
             int      height)
{
  gint64 id;

  /* Folders are isolated, but the icons of the system are wanted in the pictures */
  gtk_icon_theme_add_search_path (gtk_icon_theme_get_for_display (gdk_display_get_default ()),
                                  "/usr/share/icons");
  fixture->path = fixture_library_path ();
  fixture->application = bw_application_new (G_APPLICATION_NON_UNIQUE);
  bw_application_set_library_path (fixture->application, fixture->path);
  g_assert_true (g_application_register (G_APPLICATION (fixture->application), NULL, NULL));
  g_assert_null (bw_application_get_trouble (fixture->application));
  g_assert_nonnull (bw_application_get_settings (fixture->application));
  g_assert_true (bw_library_find (bw_application_get_library (fixture->application), "Lugger", &id,
                                  NULL));
  fixture->document = bw_application_load_design (fixture->application, id, NULL);
  fixture->window = bw_window_new (fixture->application, fixture->document);
  fixture->place = bw_window_get_design_place (BW_WINDOW (fixture->window));
  gtk_window_set_default_size (GTK_WINDOW (fixture->window), width, height);
  gtk_window_present (GTK_WINDOW (fixture->window));
  gtk_test_widget_wait_for_draw (fixture->window);
  fixture_wait (60);
}

static void
set_up (Fixture       *fixture,
        gconstpointer  data G_GNUC_UNUSED)
{
  open_window (fixture, 1280, 800);
}

static void
tear_down (Fixture       *fixture,
           gconstpointer  data G_GNUC_UNUSED)
{
  gtk_window_destroy (GTK_WINDOW (fixture->window));
  fixture_wait (20);
  g_assert_finalize_object (fixture->document);
  fixture_leave (fixture->application);
  fixture_remove (fixture->path);
  g_free (fixture->path);
}

/* ---- names for people who hear the window ------------------------------ */

static gboolean
holds_text (GtkWidget *widget)
{
  if (GTK_IS_LABEL (widget) && *gtk_label_get_text (GTK_LABEL (widget)) != '\0')
    return TRUE;

  for (GtkWidget *child = gtk_widget_get_first_child (widget); child != NULL;
       child = gtk_widget_get_next_sibling (child))
    if (holds_text (child))
      return TRUE;

  return FALSE;
}

static gboolean
is_named (GtkWidget *widget)
{
  GtkAccessible *accessible = GTK_ACCESSIBLE (widget);

  return gtk_test_accessible_has_property (accessible, GTK_ACCESSIBLE_PROPERTY_LABEL) ||
         gtk_test_accessible_has_relation (accessible, GTK_ACCESSIBLE_RELATION_LABELLED_BY) ||
         holds_text (widget);
}

/* Parts of a control that is named as a whole: the text inside an entry, the
 * button inside a menu button, rows and cells of tables. */
static gboolean
is_part (GtkWidget *widget)
{
  GtkWidget *parent = gtk_widget_get_parent (widget);

  return parent != NULL &&
         (GTK_IS_EDITABLE (parent) || GTK_IS_MENU_BUTTON (parent) ||
          gtk_widget_get_ancestor (parent, GTK_TYPE_DROP_DOWN) != NULL ||
          GTK_IS_COLOR_BUTTON (parent) || GTK_IS_COLUMN_VIEW (parent) ||
          GTK_IS_WINDOW_CONTROLS (parent) || GTK_IS_INFO_BAR (widget) ||
          g_str_equal (G_OBJECT_TYPE_NAME (widget), "GtkColumnListView"));
}

static guint
check_names (GtkWidget *widget)
{
  guint n = 0;

  if (!gtk_widget_get_visible (widget))
    return 0;

  if (gtk_widget_get_focusable (widget) && !GTK_IS_WINDOW (widget) &&
      !GTK_IS_SCROLLED_WINDOW (widget) && !is_part (widget))
    {
      n++;
      if (!is_named (widget))
        g_test_fail_printf ("a %s has no name", G_OBJECT_TYPE_NAME (widget));
    }

  for (GtkWidget *child = gtk_widget_get_first_child (widget); child != NULL;
       child = gtk_widget_get_next_sibling (child))
    n += check_names (child);

  return n;
}

static void
test_names (Fixture       *fixture,
            gconstpointer  data G_GNUC_UNUSED)
{
  static const char *const pages[] = { "rounds", "pattern", "findings", "yarn" };
  static const char *const places[] = { "swatches", "yarns", "designs" };

  /* The whole form, not only what fills the window */
  bw_form_find_row (bw_design_place_get_form (fixture->place), "design:name");
  g_action_group_change_action_state (G_ACTION_GROUP (fixture->window), "library",
                                      g_variant_new_boolean (TRUE));
  for (guint i = 0; i < G_N_ELEMENTS (pages); i++)
    {
      gtk_widget_activate_action (fixture->window, "win.page", "s", pages[i]);
      fixture_wait (30);
      g_assert_cmpuint (check_names (fixture->window), >, 60);
    }
  for (guint i = 0; i < G_N_ELEMENTS (places); i++)
    {
      gtk_widget_activate_action (fixture->window, "win.place", "s", places[i]);
      fixture_wait (60);
      g_assert_cmpuint (check_names (fixture->window), >, 60);
    }
}

/* ---- the form ---------------------------------------------------------- */

static GtkEditable *
entry_of (Fixture    *fixture,
          const char *field)
{
  BwFieldRow *row = bw_form_find_row (bw_design_place_get_form (fixture->place), field);

  g_assert_nonnull (row);

  return GTK_EDITABLE (bw_field_row_get_control (row));
}

static const char *
error_of (Fixture    *fixture,
          const char *field)
{
  return bw_field_row_get_error (bw_form_find_row (bw_design_place_get_form (fixture->place),
                                                   field));
}

/* What the table shows is what is graded, word for word. */
static void
assert_table (Fixture *fixture)
{
  GListModel *list = G_LIST_MODEL (bw_round_table_get_model (
    bw_design_place_get_table (fixture->place)));
  const BwGrading *grading = bw_document_get_grading (fixture->document);
  const BwGradedSize *size = bw_document_get_graded_size (fixture->document);
  guint i = 0;

  for (guint line = 0; line < g_list_model_get_n_items (list); line++)
    {
      g_autoptr (BwRoundLine) item = g_list_model_get_item (list, line);
      g_autofree char *work = NULL;
      g_autofree char *expected = bw_words_round_work (grading, size, i);

      g_object_get (item, "work", &work, NULL);
      g_assert_cmpstr (work, ==, expected);
      i += bw_round_list_run (size->rounds, i);
    }
  g_assert_cmpuint (i, ==, size->rounds->rounds->len);
}

static void
test_typing (Fixture       *fixture,
             gconstpointer  data G_GNUC_UNUSED)
{
  GtkEditable *ease = entry_of (fixture, "design:body-ease");
  guint before = bw_document_get_graded_size (fixture->document)->body_stitches;

  g_assert_cmpstr (gtk_editable_get_text (ease), ==, "-7 %");
  gtk_editable_set_text (ease, "1 %");
  g_assert_cmpuint (bw_document_get_graded_size (fixture->document)->body_stitches, >, before);
  assert_table (fixture);
  g_assert_null (error_of (fixture, "design:body-ease"));

  /* Any unit, and the words stay as they were typed */
  gtk_editable_set_text (entry_of (fixture, "brim:height"), "2 in");
  g_assert_cmpfloat_with_epsilon (bw_document_get_design (fixture->document)->brim.height_mm,
                                  50.8, 1e-9);
}

static void
test_errors (Fixture       *fixture,
             gconstpointer  data G_GNUC_UNUSED)
{
  GtkEditable *height = entry_of (fixture, "brim:height");

  gtk_editable_set_text (height, "tall");
  g_assert_nonnull (error_of (fixture, "brim:height"));
  g_assert_nonnull (strstr (error_of (fixture, "brim:height"), "a length from"));
  g_assert_cmpfloat (bw_document_get_design (fixture->document)->brim.height_mm, ==, 35);
  g_assert_true (bw_document_is_stale (fixture->document));
  g_assert_true (gtk_test_accessible_has_state (GTK_ACCESSIBLE (height),
                                                GTK_ACCESSIBLE_STATE_INVALID));

  /* Another edit does not throw the text away */
  gtk_editable_set_text (entry_of (fixture, "design:body-ease"), "-3 %");
  g_assert_cmpstr (gtk_editable_get_text (height), ==, "tall");
  g_assert_nonnull (error_of (fixture, "brim:height"));

  gtk_editable_set_text (height, "40 mm");
  g_assert_null (error_of (fixture, "brim:height"));
  g_assert_false (bw_document_is_stale (fixture->document));
  g_assert_cmpfloat (bw_document_get_design (fixture->document)->brim.height_mm, ==, 40);
}

static void
test_undo (Fixture       *fixture,
           gconstpointer  data G_GNUC_UNUSED)
{
  g_autoptr (BwDesign) first = bw_design_copy (bw_document_get_design (fixture->document));
  GtkEditable *ease = entry_of (fixture, "design:body-ease");

  gtk_editable_set_text (ease, "-3 %");
  gtk_editable_set_text (entry_of (fixture, "brim:height"), "4 cm");
  g_assert_cmpstr (bw_document_get_undo_label (fixture->document), ==, "change Height when worn");
  gtk_widget_activate_action (fixture->window, "win.undo", NULL);
  gtk_widget_activate_action (fixture->window, "win.undo", NULL);
  g_assert_true (bw_design_equal (first, bw_document_get_design (fixture->document)));
  g_assert_cmpstr (gtk_editable_get_text (ease), ==, "-7 %");
  gtk_widget_activate_action (fixture->window, "win.redo", NULL);
  g_assert_cmpstr (gtk_editable_get_text (ease), ==, "-3 %");
  assert_table (fixture);
}

/* Bands come and go with the design, and their entries with them. */
static void
test_bands (Fixture       *fixture,
            gconstpointer  data G_GNUC_UNUSED)
{
  BwDesign *design = bw_design_copy (bw_document_get_design (fixture->document));
  BwForm *form = bw_design_place_get_form (fixture->place);
  BwBand band;

  g_assert_null (bw_form_find_row (form, "band/2:stripe"));
  bw_band_init (&band, "plain-low");
  band.mode = BW_BAND_ROUNDS;
  band.amount = 3;
  g_array_append_val (design->bands, band);
  g_assert_true (bw_document_edit (fixture->document, design, "add a band", NULL, NULL));
  g_assert_nonnull (bw_form_find_row (form, "band/2:stripe"));
  gtk_editable_set_text (entry_of (fixture, "band/2:stripe"), "C 1, B 2");
  g_assert_cmpuint (g_array_index (bw_document_get_design (fixture->document)->bands, BwBand,
                                   2).stripe->len, ==, 2);
  assert_table (fixture);
  bw_document_undo (fixture->document);
  bw_document_undo (fixture->document);
  g_assert_null (bw_form_find_row (form, "band/2:stripe"));
}

/* ---- picking, both ways ------------------------------------------------ */

/* Every round of the bands is seen from the side, as this brim is not turned up: the
 * medium adult has nine of them. Of the crown those count that can be seen. */
static void
test_picking (Fixture       *fixture,
              gconstpointer  data G_GNUC_UNUSED)
{
  BwHats *hats = bw_design_place_get_hats (fixture->place);
  const BwGradedSize *size;
  guint n_bands = 0;
  guint n_crown = 0;

  bw_document_set_size (fixture->document, 6);
  size = bw_document_get_graded_size (fixture->document);
  for (guint i = 0; i < size->rounds->rounds->len; i++)
    {
      BwSection section = g_array_index (size->rounds->rounds, BwRound, i).section;
      double x;
      double y;
      guint k;
      int round;

      if (section != BW_SECTION_BAND && section != BW_SECTION_CROWN)
        continue;
      if (!bw_hats_locate (hats, (int) i, &x, &y))
        {
          g_assert_cmpint (section, ==, BW_SECTION_CROWN);
          continue;
        }

      n_bands += section == BW_SECTION_BAND;
      n_crown += section == BW_SECTION_CROWN;
      g_assert_true (bw_hats_find (hats, x, y, &k, &round));
      g_assert_cmpuint (k, ==, 6);
      g_assert_cmpint (round, ==, (int) i);
    }
  g_assert_cmpuint (n_bands, ==, 9);
  g_assert_cmpuint (n_crown, >, 5);
}

/* ---- opening, closing, opening again ----------------------------------- */

static void
test_reopen (Fixture       *fixture,
             gconstpointer  data G_GNUC_UNUSED)
{
  g_autoptr (BwDocument) again = NULL;

  gtk_editable_set_text (entry_of (fixture, "brim:height"), "4.4 cm");
  gtk_window_close (GTK_WINDOW (fixture->window));
  while (gtk_application_get_windows (GTK_APPLICATION (fixture->application)) != NULL)
    fixture_wait (10);
  again = bw_application_last_design (fixture->application);
  g_assert_cmpint (bw_document_get_id (again), ==, bw_document_get_id (fixture->document));
  g_assert_cmpfloat (bw_document_get_design (again)->brim.height_mm, ==, 44);

  /* tear_down destroys a window */
  fixture->window = bw_window_new (fixture->application, again);
}

/* ---- pictures ---------------------------------------------------------- */

static void
save_picture (GtkWidget  *window,
              const char *name)
{
  g_autoptr (GdkPaintable) paintable = gtk_widget_paintable_new (window);
  g_autofree char *folder = g_build_filename (g_getenv ("G_TEST_BUILDDIR"), "screenshots", NULL);
  g_autofree char *path = g_strconcat (folder, "/", name, ".png", NULL);
  g_autoptr (GdkTexture) texture = NULL;
  GskRenderNode *node = NULL;

  /* While sizes are being given out there is nothing to be had */
  for (guint i = 0; i < 100 && node == NULL; i++)
    {
      GtkSnapshot *snapshot = gtk_snapshot_new ();

      gdk_paintable_snapshot (paintable, snapshot, gtk_widget_get_width (window),
                              gtk_widget_get_height (window));
      node = gtk_snapshot_free_to_node (snapshot);
      if (node == NULL)
        fixture_wait (60);
    }
  g_assert_nonnull (node);
  texture = gsk_renderer_render_texture (gtk_native_get_renderer (GTK_NATIVE (window)), node,
                                         NULL);
  g_mkdir_with_parents (folder, 0755);
  g_assert_true (gdk_texture_save_to_png (texture, path));
  gsk_render_node_unref (node);
}

typedef struct
{
  const char *name;
  int         width;
  int         height;
  gboolean    dark;
  gboolean    large;
  gboolean    mirrored;
  const char *page;
  gboolean    library;
  gboolean    folds;
} View;

static const View views[] = {
  { "wide", 1280, 800, FALSE, FALSE, FALSE, "rounds", FALSE, FALSE },
  { "library", 1280, 800, FALSE, FALSE, FALSE, "yarn", TRUE, FALSE },
  { "pattern", 1280, 800, FALSE, FALSE, FALSE, "pattern", FALSE, FALSE },
  { "narrow", 900, 600, FALSE, FALSE, FALSE, "rounds", FALSE, FALSE },
  { "narrow-library", 900, 600, FALSE, FALSE, FALSE, "rounds", TRUE, TRUE },
  { "dark", 1280, 800, TRUE, FALSE, FALSE, "findings", FALSE, FALSE },
  { "large-text", 1280, 800, FALSE, TRUE, FALSE, "rounds", FALSE, TRUE },
  { "swatches", 1280, 800, FALSE, FALSE, FALSE, NULL, FALSE, FALSE },
  { "yarns", 900, 600, FALSE, FALSE, FALSE, NULL, FALSE, FALSE },
  { "patterns", 1280, 800, FALSE, FALSE, FALSE, NULL, FALSE, FALSE },
  { "mirrored", 1280, 800, FALSE, FALSE, TRUE, "rounds", TRUE, FALSE },
};

static void
show_pattern (Fixture *fixture)
{
  BwPatternPlace *place = bw_window_get_pattern_place (BW_WINDOW (fixture->window));

  gtk_text_buffer_set_text (bw_pattern_place_get_buffer (place),
                            "A small hat\n\nTerms: UK terms\n\n"
                            "Rnd 1: 6 dc in ring (6 sts)\n"
                            "Rnd 2: 2 dc in each st around (12 sts)\n"
                            "Rnd 3: [dc, 2 dc in next st] 6 times (19 sts)\n"
                            "Rnd 4: [2 dc, 2 dc in next st] 5 times (24 sts)\n", -1);
  bw_pattern_place_audit (place);
}

static void
test_view (gconstpointer data)
{
  const View *view = data;
  GtkSettings *settings = gtk_settings_get_default ();
  Fixture fixture;

  g_object_set (settings, "gtk-application-prefer-dark-theme", view->dark,
                "gtk-xft-dpi", (view->large ? 192 : 96) * 1024, NULL);
  gtk_widget_set_default_direction (view->mirrored ? GTK_TEXT_DIR_RTL : GTK_TEXT_DIR_LTR);
  open_window (&fixture, view->width, view->height);
  g_action_group_change_action_state (G_ACTION_GROUP (fixture.window), "library",
                                      g_variant_new_boolean (view->library));
  if (view->page != NULL)
    gtk_widget_activate_action (fixture.window, "win.page", "s", view->page);
  else
    gtk_widget_activate_action (fixture.window, "win.place", "s", view->name);
  if (g_str_equal (view->name, "patterns"))
    show_pattern (&fixture);
  bw_document_set_size (fixture.document, 6);
  bw_document_set_round (fixture.document, 125);
  fixture_wait (300);

  g_assert_cmpint (gtk_widget_get_width (fixture.window), <=, view->width);
  g_assert_cmpint (gtk_widget_get_height (fixture.window), <=, view->height);
  g_assert_cmpint (bw_design_place_is_folded (fixture.place), ==, view->folds);
  save_picture (fixture.window, view->name);
  tear_down (&fixture, NULL);

  gtk_widget_set_default_direction (GTK_TEXT_DIR_LTR);
  g_object_set (settings, "gtk-application-prefer-dark-theme", FALSE, "gtk-xft-dpi", 96 * 1024,
                NULL);
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
  g_test_add ("/app/window/" name, Fixture, NULL, set_up, function, tear_down)
  ADD ("names", test_names);
  ADD ("typing", test_typing);
  ADD ("errors", test_errors);
  ADD ("undo", test_undo);
  ADD ("bands", test_bands);
  ADD ("picking", test_picking);
  ADD ("reopen", test_reopen);
  for (guint i = 0; i < G_N_ELEMENTS (views); i++)
    {
      g_autofree char *path = g_strconcat ("/app/window/view/", views[i].name, NULL);

      g_test_add_data_func (path, &views[i], test_view);
    }

  return g_test_run ();
}
