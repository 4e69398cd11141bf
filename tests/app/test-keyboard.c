#include "bus-check.h"

/* The window without a mouse: every key goes through the display's own keyboard,
 * and the accessibility bus only listens. */

static void
set_up (Bus           *bus,
        gconstpointer  data)
{
  bus_open (bus);
  bus_start (bus, NULL);
  choose_design (bus, "Lugger");
}

static void
tear_down (Bus           *bus,
           gconstpointer  data)
{
  bus_close (bus);
}

/* Where the Tab key comes by, from where it is until it is there again. */
static GPtrArray *
walk (Bus        *bus,
      const char *key)
{
  GPtrArray *stops = g_ptr_array_new_with_free_func (g_free);
  g_autofree char *path = g_strdup (ATSPI_OBJECT (bus->focus)->path);

  do
    {
      g_ptr_array_add (stops, bus_name (bus->focus));
      g_free (bus_tab (bus, key));
    }
  while (!g_str_equal (ATSPI_OBJECT (bus->focus)->path, path) && stops->len < 400);
  g_assert_cmpuint (stops->len, <, 400);

  return stops;
}

static guint
place_of (GPtrArray  *stops,
          const char *name)
{
  for (guint i = 0; i < stops->len; i++)
    if (g_pattern_match_simple (name, stops->pdata[i]))
      return i;

  g_error ("the Tab key does not come by “%s”", name);
}

/* The stops follow the order in which a hat is worked out and made, then the
 * picture and what is written about it. */
static void
test_order (Bus           *bus,
            gconstpointer  data)
{
  static const char *const order[] = {
    "Library", "Designs", "Findings (*", "Menu",
    "Yarn and swatches", "Name of the design", "Yarn", "Length of a ball", "A (Tar)",
    "Take away: A (Tar)", "Add a colour", "Swatch body", "Add a swatch", "Swatch of the body: *",
    "Sizes and ease", "Body ease", "Brim ease", "Newborn", "Large adult", "Add a size",
    "Brim", "Kind of brim: *", "Height when worn",
    "Bands and stripes", "Way of working: *", "Band 1: Spikes", "Move down the hat: Band 1: Spikes",
    "Take away: Band 1: Spikes", "Band 2: Body", "Take away: Band 2: Body", "Add a band",
    "Crown", "Shape: *", "Drawn up at",
    "Finishing", "Pom-pom across", "Stitches a minute",
    "How numbers are chosen",
    "Size: *", "Body stitches: *", "Brim round: *", "Crown start: *", "Fill repeats: *",
    "The hats, all sizes to one scale",
    "Rounds", "Written pattern", "Findings", "Yarn and cost", "Fold equal rounds", "Copy text",
    "Worked so far: Row 1",
  };
  g_autoptr (GPtrArray) there = NULL;
  g_autoptr (GPtrArray) back = NULL;

  bus_tab_to (bus, order[0]);
  there = walk (bus, "Tab");
  back = walk (bus, "Shift+Tab");
  for (guint i = 1; i < G_N_ELEMENTS (order); i++)
    g_assert_cmpuint (place_of (there, order[i - 1]), <, place_of (there, order[i]));

  /* Every stop says what it is; GTK's name for what has none is that of its class */
  for (guint i = 0; i < there->len; i++)
    {
      const char *name = there->pdata[i];

      if (*name == '\0' || g_str_has_prefix (name, "Gtk") || g_str_has_prefix (name, "Bw"))
        g_test_fail_printf ("a stop between “%s” and “%s” is called “%s”",
                            (char *) there->pdata[(i + there->len - 1) % there->len],
                            (char *) there->pdata[(i + 1) % there->len], name);
    }

  /* Backwards the same way. The rounds are left out: the list is entered where it was left */
  for (guint i = 2; i < G_N_ELEMENTS (order) - 1; i++)
    g_assert_cmpuint (place_of (back, order[i - 1]), >, place_of (back, order[i]));
}

/* ---- the main job ------------------------------------------------------ */

static void
fill (Bus        *bus,
      const char *name,
      const char *text)
{
  bus_tab_to (bus, name);
  bus_key (bus, "Control+a");
  bus_type (bus, text);
}

static void
press (Bus        *bus,
       const char *name)
{
  bus_tab_to (bus, name);
  bus_key (bus, "space");
}

static void
expect_button (Bus        *bus,
               const char *name)
{
  bus_find (bus, bus_frame (bus), ATSPI_ROLE_PUSH_BUTTON, name);
}

/* From the first value to the last, without ever going back. */
static void
edit_everything (Bus *bus)
{
  press (bus, "Swatch body");
  fill (bus, "Hook", "5.5mm");
  expect_button (bus, "Undo: change Hook");
  fill (bus, "Body ease", "-3 %");
  expect_button (bus, "Undo: change Body ease");
  press (bus, "Toddler");
  fill (bus, "Head girth", "19 1/4 in");
  expect_button (bus, "Undo: change Head girth");
  press (bus, "Add a size");
  expect_button (bus, "Undo: add a size");
  bus_tab_to (bus, "Band 2: Body");
  fill (bus, "Stripe", "A 3, C 1");
  expect_button (bus, "Undo: change Stripe");
  bus_tab_to (bus, "Shape: ");
  bus_take (bus, "Flat top");
  expect_button (bus, "Undo: change Shape");
  press (bus, "Body stitches: ");
  bus_find (bus, bus_frame (bus), ATSPI_ROLE_CHECK_BOX, "Pinned*");
  bus_wait (300);
  press (bus, "Pinned");
  expect_button (bus, "Undo: pin a number");
  bus_key (bus, "Escape");
}

#define N_EDITS 7

#define OF_LUGGER "design = (SELECT id FROM design WHERE name = 'Lugger')"

static void
test_job (Bus           *bus,
          gconstpointer  data)
{
  g_autofree char *first = shown_pattern (bus);
  g_autofree char *last = NULL;
  g_autofree char *shown = NULL;
  g_autofree char *again = NULL;

  edit_everything (bus);
  check_all (bus, "Lugger");
  check_database (bus, "SELECT head_mm FROM design_size WHERE id = 'toddler' AND " OF_LUGGER,
                  "488.95");
  last = shown_pattern (bus);
  g_assert_cmpstr (first, !=, last);

  for (guint i = 0; i < N_EDITS; i++)
    bus_key (bus, "Control+z");
  expect_button (bus, "Undo");
  check_all (bus, "Lugger");
  shown = shown_pattern (bus);
  g_assert_cmpstr (first, ==, shown);

  for (guint i = 0; i < N_EDITS; i++)
    bus_key (bus, "Control+Shift+z");
  expect_button (bus, "Redo");
  check_all (bus, "Lugger");

  bus_leave (bus);
  bus_start (bus, NULL);
  check_all (bus, "Lugger");
  again = shown_pattern (bus);
  g_assert_cmpstr (last, ==, again);
}

static void
test_size (Bus           *bus,
           gconstpointer  data)
{
  expect_button (bus, "Size: Child");
  bus_key (bus, "Control+Page_Down");
  expect_button (bus, "Size: Small adult");
  check_all (bus, "Lugger");
  bus_key (bus, "Control+Page_Up");
  expect_button (bus, "Size: Child");
  check_all (bus, "Lugger");
}

static void
test_help (Bus           *bus,
           gconstpointer  data)
{
  bus_key (bus, "F1");
  bus_find (bus, bus->application, ATSPI_ROLE_INVALID, "Copy the rounds as text");
  bus_wait (300);
  bus_key (bus, "Escape");
  bus_gone (bus, bus->application, ATSPI_ROLE_INVALID, "Copy the rounds as text");
}

static void
test_move (Bus           *bus,
           gconstpointer  data)
{
  bus_tab_to (bus, "Band 2: Body");
  bus_key (bus, "Alt+Up");
  bus_find (bus, bus_frame (bus), ATSPI_ROLE_PANEL, "Band 1: Body");
  expect_button (bus, "Undo: move a band");
  check_all (bus, "Lugger");
  check_database (bus, "SELECT name FROM design_band WHERE " OF_LUGGER " ORDER BY place",
                  "Body; Spikes");
}

/* A yarn and a swatch of it, by keys. */
static void
test_places (Bus           *bus,
             gconstpointer  data)
{
  bus_key (bus, "Alt+3");
  bus_find (bus, bus_frame (bus), ATSPI_ROLE_PUSH_BUTTON, "New yarn");
  press (bus, "New yarn");
  fill (bus, "Name", "Invented bollard");
  fill (bus, "Length of a ball", "120 m");
  check_database (bus, "SELECT metres_per_ball FROM yarn WHERE name = 'Invented bollard'", "120.0");

  bus_key (bus, "Alt+2");
  bus_find (bus, bus_frame (bus), ATSPI_ROLE_PUSH_BUTTON, "New swatch");
  press (bus, "New swatch");
  check_database (bus, "SELECT count (*) FROM reading WHERE swatch = (SELECT max (id) FROM swatch)",
                  "0");
  bus_type (bus, "20 in 131 mm washed");
  bus_key (bus, "Return");
  bus_find (bus, bus_frame (bus), ATSPI_ROLE_LABEL, "20 stitches in 131 mm, washed");
  check_database (bus, "SELECT direction || ' ' || count || ' ' || span_mm FROM reading "
                  "WHERE swatch = (SELECT max (id) FROM swatch)", "stitches 20.0 131.0");
}

int
main (int    argc,
      char **argv)
{
  g_test_init (&argc, &argv, NULL);

#define ADD(name, function) \
  g_test_add ("/app/keyboard/" name, Bus, NULL, set_up, function, tear_down)
  ADD ("order", test_order);
  ADD ("job", test_job);
  ADD ("size", test_size);
  ADD ("help", test_help);
  ADD ("move", test_move);
  ADD ("places", test_places);

  return g_test_run ();
}
