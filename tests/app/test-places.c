#include <string.h>

#include "app-fixture.h"
#include "bw-library-swatch.h"
#include "bw-library-yarn.h"
#include "bw-swatch-place.h"
#include "bw-value-row.h"
#include "bw-yarn-place.h"

/* The places of swatches and yarns, each in a window of its own on the demo
 * library: what is typed is in the library. */

typedef struct
{
  char        *path;
  BwReference *reference;
  BwLibrary   *library;
  GtkWidget   *window;
} Fixture;

static void
set_up (Fixture       *fixture,
        gconstpointer  data G_GNUC_UNUSED)
{
  g_autoptr (GError) error = NULL;

  fixture->path = fixture_library_path ();
  fixture->reference = bw_reference_builtin (NULL);
  fixture->library = bw_library_open (fixture->path, BW_LIBRARY_OPEN_CREATE, NULL);
  bw_library_fill_demo (fixture->library, fixture->reference, &error);
  g_assert_no_error (error);
  fixture->window = gtk_window_new ();
  gtk_window_set_default_size (GTK_WINDOW (fixture->window), 1000, 700);
}

static void
tear_down (Fixture       *fixture,
           gconstpointer  data G_GNUC_UNUSED)
{
  gtk_window_destroy (GTK_WINDOW (fixture->window));
  bw_library_close (fixture->library);
  bw_reference_free (fixture->reference);
  fixture_remove (fixture->path);
  g_free (fixture->path);
}

static void
show (Fixture   *fixture,
      GtkWidget *place)
{
  gtk_window_set_child (GTK_WINDOW (fixture->window), place);
  gtk_window_present (GTK_WINDOW (fixture->window));
  gtk_test_widget_wait_for_draw (fixture->window);
}

static gboolean
has_label (GtkWidget  *widget,
           const char *text)
{
  if (GTK_IS_LABEL (widget) && g_str_equal (gtk_label_get_text (GTK_LABEL (widget)), text))
    return TRUE;

  for (GtkWidget *child = gtk_widget_get_first_child (widget); child != NULL;
       child = gtk_widget_get_next_sibling (child))
    if (has_label (child, text))
      return TRUE;

  return FALSE;
}

/* The widget of that type that holds a label of that text. */
static GtkWidget *
find (GtkWidget  *widget,
      GType       type,
      const char *text)
{
  GtkWidget *found = NULL;

  if (G_TYPE_CHECK_INSTANCE_TYPE (widget, type) && has_label (widget, text))
    return widget;

  for (GtkWidget *child = gtk_widget_get_first_child (widget); child != NULL && found == NULL;
       child = gtk_widget_get_next_sibling (child))
    found = find (child, type, text);

  return found;
}

static GtkEditable *
entry (Fixture    *fixture,
       const char *label)
{
  GtkWidget *row = find (fixture->window, BW_TYPE_VALUE_ROW, label);

  g_assert_nonnull (row);

  return GTK_EDITABLE (bw_value_row_get_entry (BW_VALUE_ROW (row)));
}

static void
click (Fixture    *fixture,
       const char *label)
{
  GtkWidget *button = find (fixture->window, GTK_TYPE_BUTTON, label);

  g_assert_nonnull (button);
  g_signal_emit_by_name (button, "clicked");
}

/* The newest swatch of the library. */
static BwLibrarySwatch *
newest (Fixture *fixture)
{
  const BwSwatchFilter all = { "", 0, "" };
  g_autoptr (GPtrArray) swatches = bw_library_list_swatches (fixture->library, &all, NULL);
  gint64 id = 0;

  for (guint i = 0; i < swatches->len; i++)
    id = MAX (id, ((BwLibrarySwatch *) swatches->pdata[i])->id);

  return bw_library_get_swatch (fixture->library, id, NULL);
}

static void
enter (Fixture    *fixture,
       const char *label,
       const char *text)
{
  GtkEditable *editable = entry (fixture, label);

  gtk_editable_set_text (editable, text);
  g_signal_emit_by_name (editable, "activate");
}

static void
test_log_swatch (Fixture       *fixture,
                 gconstpointer  data G_GNUC_UNUSED)
{
  GtkWidget *place = g_object_new (BW_TYPE_SWATCH_PLACE, NULL);
  g_autoptr (BwLibrarySwatch) swatch = NULL;
  const BwReading *reading;

  bw_swatch_place_set_library (BW_SWATCH_PLACE (place), fixture->reference, fixture->library);
  show (fixture, place);

  click (fixture, "New swatch");
  gtk_editable_set_text (entry (fixture, "Hook"), "5.25 mm");
  enter (fixture, "Stitches across, then Enter", "20 in 127 mm washed");
  g_assert_cmpstr (gtk_editable_get_text (entry (fixture, "Stitches across, then Enter")), ==, "");
  enter (fixture, "Stitches across, then Enter", "20 in 129 mm washed; 10 in 64 mm washed");
  enter (fixture, "Rounds upwards, then Enter", "16 in 91 mm washed");

  swatch = newest (fixture);
  g_assert_cmpfloat (swatch->hook_mm, ==, 5.25);
  g_assert_cmpuint (swatch->readings->len, ==, 4);
  reading = &g_array_index (swatch->readings, BwPlacedReading, 1).reading;
  g_assert_cmpfloat (reading->count, ==, 20);
  g_assert_cmpfloat (reading->span_mm, ==, 129);
  g_assert_true (reading->washed);
  g_assert_true (has_label (fixture->window, "20 stitches in 129 mm, washed"));
}

/* What cannot be read stays in its entry and out of the library. */
static void
test_bad_reading (Fixture       *fixture,
                  gconstpointer  data G_GNUC_UNUSED)
{
  GtkWidget *place = g_object_new (BW_TYPE_SWATCH_PLACE, NULL);
  g_autoptr (BwLibrarySwatch) swatch = NULL;

  bw_swatch_place_set_library (BW_SWATCH_PLACE (place), fixture->reference, fixture->library);
  show (fixture, place);
  click (fixture, "New swatch");
  enter (fixture, "Stitches across, then Enter", "about twenty");
  g_assert_cmpstr (gtk_editable_get_text (entry (fixture, "Stitches across, then Enter")), ==,
                   "about twenty");
  g_assert_true (has_label (fixture->window,
                            "Type how many in which length: 20 in 127 mm washed."));
  gtk_editable_set_text (entry (fixture, "Made on"), "2025-02-30");
  gtk_editable_set_text (entry (fixture, "Hook"), "thick");

  swatch = newest (fixture);
  g_assert_cmpuint (swatch->readings->len, ==, 0);
  g_assert_cmpstr (swatch->made_on, ==, "");
  g_assert_cmpfloat (swatch->hook_mm, >, 0);
}

static void
test_yarn (Fixture       *fixture,
           gconstpointer  data G_GNUC_UNUSED)
{
  GtkWidget *place = g_object_new (BW_TYPE_YARN_PLACE, NULL);
  g_autoptr (BwLibraryYarn) yarn = NULL;
  gint64 id;

  bw_yarn_place_set_library (BW_YARN_PLACE (place), fixture->library);
  show (fixture, place);
  click (fixture, "New yarn");
  gtk_editable_set_text (entry (fixture, "Name"), "Invented test yarn");
  gtk_editable_set_text (entry (fixture, "Length of a ball"), "100 yd");
  gtk_editable_set_text (entry (fixture, "Weight of a ball"), "50 g");
  gtk_editable_set_text (entry (fixture, "Thickness class"), "9");
  click (fixture, "Add a lot");

  g_assert_true (bw_library_find_yarn (fixture->library, "Invented test yarn", &id, NULL));
  yarn = bw_library_get_yarn (fixture->library, id, NULL);
  g_assert_cmpfloat_with_epsilon (yarn->metres_per_ball, 91.44, 1e-9);
  g_assert_cmpfloat (yarn->grams_per_ball, ==, 50);
  g_assert_cmpint (yarn->weight_class, ==, -1);
  g_assert_cmpuint (yarn->lots->len, ==, 1);
  g_assert_true (has_label (fixture->window, "Type 0 to 7, or nothing."));
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
  g_test_add ("/app/places/" name, Fixture, NULL, set_up, function, tear_down)
  ADD ("log-swatch", test_log_swatch);
  ADD ("bad-reading", test_bad_reading);
  ADD ("yarn", test_yarn);

  return g_test_run ();
}
