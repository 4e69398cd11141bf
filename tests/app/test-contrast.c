#include <math.h>
#include <string.h>

#include "app-fixture.h"
#include "bw-window.h"

/* Contrast, measured on what is painted: within each label the colour that stands
 * out most from the colour that is most common. At 200 % strokes are thick enough for
 * some of their pixels to have the full colour of the text.
 *
 * Source of the formulas and of 4.5 : 1: W3C, Web Content Accessibility Guidelines
 * (WCAG) 2.1, "relative luminance", "contrast ratio" and success criterion 1.4.3,
 * https://www.w3.org/TR/WCAG21/ (from memory). */

#define LEAST_CONTRAST 4.5

typedef struct
{
  guchar *pixels;   /* B, G, R, A, as GdkTexture downloads them */
  int     width;
  int     height;
} Picture;

static double
linear (guchar value)
{
  double v = value / 255.0;

  return v <= 0.03928 ? v / 12.92 : pow ((v + 0.055) / 1.055, 2.4);
}

static double
luminance (guint32 colour)
{
  return 0.2126 * linear ((colour >> 16) & 0xff) + 0.7152 * linear ((colour >> 8) & 0xff) +
         0.0722 * linear (colour & 0xff);
}

static double
contrast (guint32 a,
          guint32 b)
{
  double l = luminance (a);
  double m = luminance (b);

  return (MAX (l, m) + 0.05) / (MIN (l, m) + 0.05);
}

static guint32
pixel (const Picture *picture,
       int            x,
       int            y)
{
  const guchar *p = picture->pixels + 4 * ((gsize) y * (gsize) picture->width + (gsize) x);

  return (guint32) (p[2] << 16 | p[1] << 8 | p[0]);
}

static void
take_picture (GtkWidget *window,
              Picture   *picture)
{
  g_autoptr (GdkPaintable) paintable = gtk_widget_paintable_new (window);
  g_autoptr (GdkTexture) texture = NULL;
  graphene_rect_t area;
  GskRenderNode *node = NULL;

  picture->width = gtk_widget_get_width (window);
  picture->height = gtk_widget_get_height (window);
  /* While sizes are being given out there is nothing to be had */
  for (guint i = 0; i < 50 && node == NULL; i++)
    {
      GtkSnapshot *snapshot = gtk_snapshot_new ();

      fixture_wait (60);
      gdk_paintable_snapshot (paintable, snapshot, picture->width, picture->height);
      node = gtk_snapshot_free_to_node (snapshot);
    }
  g_assert_nonnull (node);
  graphene_rect_init (&area, 0, 0, (float) picture->width, (float) picture->height);
  texture = gsk_renderer_render_texture (gtk_native_get_renderer (GTK_NATIVE (window)), node, &area);
  gsk_render_node_unref (node);
  picture->pixels = g_malloc (4 * (gsize) picture->width * (gsize) picture->height);
  gdk_texture_download (texture, picture->pixels, 4 * (gsize) picture->width);
}

/* The contrast in a part of the picture. */
static double
measure (const Picture         *picture,
         const graphene_rect_t *bounds)
{
  g_autoptr (GHashTable) counts = g_hash_table_new (NULL, NULL);
  guint32 ground = 0;
  guint most = 0;
  double best = 1;

  for (int pass = 0; pass < 2; pass++)
    for (int y = (int) bounds->origin.y; y < (int) (bounds->origin.y + bounds->size.height); y++)
      for (int x = (int) bounds->origin.x; x < (int) (bounds->origin.x + bounds->size.width); x++)
        {
          guint32 colour = pixel (picture, x, y);
          gpointer key = GUINT_TO_POINTER (colour + 1);
          guint n = GPOINTER_TO_UINT (g_hash_table_lookup (counts, key)) + 1;

          if (pass == 1)
            {
              best = MAX (best, contrast (colour, ground));
              continue;
            }
          g_hash_table_insert (counts, key, GUINT_TO_POINTER (n));
          if (n > most)
            {
              most = n;
              ground = colour;
            }
        }

  return best;
}

/* Is all of it to be seen, and not beyond the edge of something that scrolls? */
static gboolean
is_in_sight (GtkWidget       *widget,
             GtkWidget       *window,
             graphene_rect_t *bounds)
{
  for (GtkWidget *parent = gtk_widget_get_parent (widget); parent != NULL;
       parent = gtk_widget_get_parent (parent))
    {
      graphene_rect_t inside;
      graphene_rect_t room;

      graphene_rect_init (&room, 0, 0, (float) gtk_widget_get_width (parent),
                          (float) gtk_widget_get_height (parent));
      if (!gtk_widget_compute_bounds (widget, parent, &inside) ||
          !graphene_rect_contains_rect (&room, &inside))
        return FALSE;
    }

  return gtk_widget_compute_bounds (widget, window, bounds);
}

static guint
check_labels (GtkWidget     *widget,
              GtkWidget     *window,
              const Picture *picture)
{
  graphene_rect_t bounds;
  guint n = 0;

  if (!gtk_widget_get_mapped (widget))
    return 0;

  if (GTK_IS_LABEL (widget) && *gtk_label_get_text (GTK_LABEL (widget)) != '\0' &&
      gtk_widget_is_sensitive (widget) && is_in_sight (widget, window, &bounds))
    {
      double found = measure (picture, &bounds);

      n++;
      if (found < LEAST_CONTRAST)
        {
          g_test_message ("“%s” has a contrast of %.2f : 1",
                          gtk_label_get_text (GTK_LABEL (widget)), found);
          g_test_fail ();
        }
    }

  for (GtkWidget *child = gtk_widget_get_first_child (widget); child != NULL;
       child = gtk_widget_get_next_sibling (child))
    n += check_labels (child, window, picture);

  return n;
}

static void
check_window (GtkWidget *window)
{
  Picture picture;
  guint n;

  fixture_wait (150);
  take_picture (window, &picture);
  n = check_labels (window, window, &picture);
  g_assert_cmpuint (n, >, 12);
  g_free (picture.pixels);
}

/* Everything that may go wrong is made to, so that its colours are seen, too. */
static void
check_places (GtkWidget  *window,
              BwDocument *document)
{
  static const char *const pages[] = { "rounds", "pattern", "findings", "yarn" };
  BwDesignPlace *place = bw_window_get_design_place (BW_WINDOW (window));
  BwFieldRow *row;

  /* At this size of text the form comes first, then hats and rounds */
  check_window (window);
  row = bw_form_find_row (bw_design_place_get_form (place), "yarn:ball-length");
  gtk_editable_set_text (GTK_EDITABLE (bw_field_row_get_control (row)), "long");
  bw_window_tell (BW_WINDOW (window), "Something is wrong with the library.");
  check_window (window);

  bw_document_set_round (document, 125);
  for (guint i = 0; i < G_N_ELEMENTS (pages); i++)
    {
      gtk_widget_activate_action (window, "win.page", "s", pages[i]);
      check_window (window);
    }

  gtk_widget_activate_action (window, "win.place", "s", "swatches");
  check_window (window);
  gtk_widget_activate_action (window, "win.place", "s", "yarns");
  check_window (window);
}

static void
test_contrast (gconstpointer data)
{
  GtkSettings *settings = gtk_settings_get_default ();
  g_autofree char *path = fixture_library_path ();
  BwApplication *application = bw_application_new (G_APPLICATION_NON_UNIQUE);
  BwDocument *document;
  GtkWidget *window;
  gint64 id;

  g_object_set (settings, "gtk-application-prefer-dark-theme", GPOINTER_TO_INT (data) != 0,
                "gtk-xft-dpi", 192 * 1024, NULL);
  bw_application_set_library_path (application, path);
  g_assert_true (g_application_register (G_APPLICATION (application), NULL, NULL));
  g_assert_true (bw_library_find (bw_application_get_library (application), "Lugger", &id, NULL));
  document = bw_application_load_design (application, id, NULL);
  window = bw_window_new (application, document);
  gtk_window_set_default_size (GTK_WINDOW (window), 1270, 1000);
  gtk_window_present (GTK_WINDOW (window));
  gtk_test_widget_wait_for_draw (window);
  /* Much of the form is made after the first frame */
  fixture_wait (800);
  check_places (window, document);

  gtk_window_destroy (GTK_WINDOW (window));
  fixture_wait (20);
  g_object_unref (document);
  fixture_leave (application);
  fixture_remove (path);
}

/* The check itself can tell: black on white, and the grey that just fails. */
static void
test_formula (void)
{
  g_assert_cmpfloat_with_epsilon (contrast (0x000000, 0xffffff), 21, 1e-9);
  g_assert_cmpfloat (contrast (0x777777, 0xffffff), <, LEAST_CONTRAST);
  g_assert_cmpfloat (contrast (0x767676, 0xffffff), >, LEAST_CONTRAST);
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
  g_test_add_func ("/app/contrast/formula", test_formula);
  g_test_add_data_func ("/app/contrast/light", GINT_TO_POINTER (0), test_contrast);
  g_test_add_data_func ("/app/contrast/dark", GINT_TO_POINTER (1), test_contrast);

  return g_test_run ();
}
