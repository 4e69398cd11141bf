#include <string.h>

#include "../cli/run.h"
#include "bus-check.h"

/* From end to end: the program by itself, read and worked over the accessibility
 * bus; what it shows is compared with what the command line prints for the same
 * design, and with the database. */

static void
set_up (Bus           *bus,
        gconstpointer  data)
{
  bus_open (bus);
  bus_start (bus, NULL);
  if (data != NULL)
    choose_design (bus, data);
}

static void
tear_down (Bus           *bus,
           gconstpointer  data)
{
  bus_close (bus);
}

static AtspiAccessible *
entry (Bus        *bus,
       const char *card,
       const char *name)
{
  AtspiAccessible *root = bus_frame (bus);

  if (card != NULL)
    root = bus_find (bus, root, ATSPI_ROLE_PANEL, card);

  return bus_find (bus, root, ATSPI_ROLE_TEXT, name);
}

/* Opens a card of the form that shows only its title. */
static void
unfold (Bus        *bus,
        const char *card)
{
  AtspiAccessible *title = bus_find (bus, bus_frame (bus), ATSPI_ROLE_PUSH_BUTTON, card);

  if (!bus_is (title, ATSPI_STATE_EXPANDED))
    bus_act (title, "activate");
}

/* Chooses in a list that opens, by keys, as it is far down the form. */
static void
choose (Bus        *bus,
        const char *list,
        const char *value)
{
  g_autofree char *label = g_strconcat (list, ": ", NULL);
  g_autofree char *chosen = g_strconcat (label, value, NULL);

  bus_tab_to (bus, label);
  bus_take (bus, value);
  bus_find (bus, bus_frame (bus), ATSPI_ROLE_PUSH_BUTTON, chosen);
}

/* ---- tests ------------------------------------------------------------- */

/* The first start shows a design of the demo library, never an empty page. */
static void
test_demo (Bus           *bus,
           gconstpointer  data)
{
  g_autofree char *title = bus_name (bus_frame (bus));

  g_assert_cmpstr (title, ==, "Coble – Brimwright");
  check_all (bus, "Coble");
  check_database (bus, "SELECT count (*) FROM design_head", "12");
}

/* What every edit must do: the written pattern changes, the window and the command
 * line agree on it, the database holds it, and it can be taken back by name. */
static void
check_edit (Bus        *bus,
            const char *before,
            const char *undo,
            const char *sql,
            const char *stored)
{
  g_autofree char *after = NULL;

  check_database (bus, sql, stored);
  check_all (bus, "Lugger");
  after = shown_pattern (bus);
  g_assert_cmpstr (before, !=, after);
  bus_find (bus, bus_frame (bus), ATSPI_ROLE_PUSH_BUTTON, undo);
}

#define OF_LUGGER "design = (SELECT id FROM design WHERE name = 'Lugger')"

static void
change_ease (Bus *bus)
{
  bus_enter (entry (bus, NULL, "Body ease"), "-3 %");
}

static void
test_ease (Bus           *bus,
           gconstpointer  data)
{
  g_autofree char *before = shown_pattern (bus);

  change_ease (bus);
  check_edit (bus, before, "Undo: change Body ease",
              "SELECT body_ease_fraction FROM design WHERE name = 'Lugger'", "-0.03");
}

static void
change_head (Bus *bus)
{
  unfold (bus, "Toddler");
  bus_enter (entry (bus, "Toddler", "Head girth"), "49 cm");
}

static void
test_head (Bus           *bus,
           gconstpointer  data)
{
  g_autofree char *before = shown_pattern (bus);

  change_head (bus);
  check_edit (bus, before, "Undo: change Head girth",
              "SELECT head_mm FROM design_size WHERE id = 'toddler' AND " OF_LUGGER, "490.0");
}

static void
change_hook (Bus *bus)
{
  unfold (bus, "Swatch body");
  bus_enter (entry (bus, "Swatch body", "Hook"), "5.5 mm");
}

static void
test_hook (Bus           *bus,
           gconstpointer  data)
{
  g_autofree char *before = shown_pattern (bus);

  change_hook (bus);
  check_edit (bus, before, "Undo: change Hook",
              "SELECT hook_mm FROM design_swatch WHERE id = 'body' AND " OF_LUGGER, "5.5");
}

static void
change_stripe (Bus *bus)
{
  bus_enter (entry (bus, "Band 2: Body", "Stripe"), "A 3, C 1");
}

static void
test_stripe (Bus           *bus,
             gconstpointer  data)
{
  g_autofree char *before = shown_pattern (bus);

  change_stripe (bus);
  check_edit (bus, before, "Undo: change Stripe",
              "SELECT colour || ' ' || rounds FROM design_stripe WHERE band = 1 AND " OF_LUGGER
              " ORDER BY place", "0 3; 2 1");
}

static void
change_crown (Bus *bus)
{
  choose (bus, "Shape", "Flat top");
}

static void
test_crown (Bus           *bus,
            gconstpointer  data)
{
  g_autofree char *before = shown_pattern (bus);

  change_crown (bus);
  check_edit (bus, before, "Undo: change Shape",
              "SELECT crown_profile FROM design WHERE name = 'Lugger'", "flat");
}

/* In what opens beside a number. */
static void
pin_number (Bus *bus)
{
  bus_tab_to (bus, "Body stitches: ");
  bus_key (bus, "space");
  bus_find (bus, bus_frame (bus), ATSPI_ROLE_CHECK_BOX, "Pinned*");
  bus_wait (300);
  bus_tab_to (bus, "Pinned");
  bus_key (bus, "space");
  bus_find (bus, bus_frame (bus), ATSPI_ROLE_PUSH_BUTTON, "Body stitches: *, pinned");
  bus_key (bus, "Escape");
}

static void
test_pin (Bus           *bus,
          gconstpointer  data)
{
  pin_number (bus);
  check_database (bus, "SELECT count (*) FROM design_pin WHERE kind = 'body-stitches' AND " OF_LUGGER,
                  "1");
  bus_find (bus, bus_frame (bus), ATSPI_ROLE_PUSH_BUTTON, "Undo: pin a number");
  check_all (bus, "Lugger");

  /* A pinned number stays, whatever else changes */
  change_ease (bus);
  check_all (bus, "Lugger");
  bus_find (bus, bus_frame (bus), ATSPI_ROLE_PUSH_BUTTON, "Body stitches: *, pinned");
}

static void
add_size (Bus *bus)
{
  bus_act (bus_find (bus, bus_frame (bus), ATSPI_ROLE_PUSH_BUTTON, "Add a size"), "click");
}

static void
test_size (Bus           *bus,
           gconstpointer  data)
{
  g_autofree char *before = shown_pattern (bus);

  check_database (bus, "SELECT count (*) FROM design_size WHERE " OF_LUGGER, "8");
  add_size (bus);
  check_edit (bus, before, "Undo: add a size",
              "SELECT count (*) FROM design_size WHERE " OF_LUGGER, "9");
}

static void
assert_shown (Bus        *bus,
              const char *pattern)
{
  g_autofree char *shown = shown_pattern (bus);

  g_assert_cmpstr (shown, ==, pattern);
}

static void
assert_file (Bus        *bus,
             const char *file)
{
  g_autofree char *stored = stored_design (bus, "Lugger");

  g_assert_cmpstr (stored, ==, file);
}

/* All of it; back to the first state, forward to the last, and there after a new start. */
static void
test_all (Bus           *bus,
          gconstpointer  data)
{
  static void (*const edits[]) (Bus *) = {
    change_head, change_ease, change_hook, change_stripe, change_crown, pin_number, add_size,
  };
  g_autofree char *first = shown_pattern (bus);
  g_autofree char *first_file = stored_design (bus, "Lugger");
  g_autofree char *last = NULL;
  g_autofree char *last_file = NULL;

  for (guint i = 0; i < G_N_ELEMENTS (edits); i++)
    {
      edits[i] (bus);
      check_pattern (bus, "Lugger");
    }
  check_all (bus, "Lugger");
  last = shown_pattern (bus);
  last_file = stored_design (bus, "Lugger");

  for (guint i = 0; i < G_N_ELEMENTS (edits); i++)
    bus_act (bus_frame (bus), "win.undo");
  bus_find (bus, bus_frame (bus), ATSPI_ROLE_PUSH_BUTTON, "Undo");
  check_all (bus, "Lugger");
  assert_shown (bus, first);
  assert_file (bus, first_file);

  for (guint i = 0; i < G_N_ELEMENTS (edits); i++)
    bus_act (bus_frame (bus), "win.redo");
  bus_find (bus, bus_frame (bus), ATSPI_ROLE_PUSH_BUTTON, "Redo");
  check_all (bus, "Lugger");
  assert_shown (bus, last);
  assert_file (bus, last_file);

  bus_leave (bus);
  bus_start (bus, NULL);
  bus_find (bus, bus->application, ATSPI_ROLE_FRAME, "Lugger – Brimwright");
  check_all (bus, "Lugger");
  assert_shown (bus, last);
}

/* The command line's gauge of what was measured last: "9.1 sts and ... = 10 cm". */
static char *
printed_gauge (Bus *bus)
{
  g_autofree char *set = NULL;
  g_auto (GStrv) lines = NULL;
  g_auto (Run) run = { 0 };

  set = query (bus, "SELECT yarn.name || ' / ' || printf ('%g', hook_mm) || ' / ' || fabric "
               "FROM swatch JOIN yarn ON swatch.yarn = yarn.id WHERE swatch.id = "
               "(SELECT max (id) FROM swatch)");
  run_with (&run, NULL, "swatch", "gauge", set, "--library", bus->library, NULL);
  g_assert_cmpint (run.status, ==, 0);
  lines = g_strsplit (run.out, "\n", 3);

  return g_strdup (lines[1]);
}

/* A label may have more lines after this one. */
static void
check_gauge (Bus *bus)
{
  g_autofree char *gauge = printed_gauge (bus);
  g_autofree char *pattern = g_strconcat (gauge, "*", NULL);

  g_assert_nonnull (strstr (gauge, " = 10 cm"));
  bus_find (bus, bus_frame (bus), ATSPI_ROLE_LABEL, pattern);
}

/* A swatch with readings typed one after the other, and found again after a new start. */
static void
test_swatch (Bus           *bus,
             gconstpointer  data)
{
  g_autofree char *gauge = NULL;
  g_autofree char *other = NULL;

  bus_key (bus, "Alt+2");
  bus_act (bus_find (bus, bus_frame (bus), ATSPI_ROLE_PUSH_BUTTON, "New swatch"), "click");
  check_database (bus, "SELECT count (*) FROM reading WHERE swatch = (SELECT max (id) FROM swatch)",
                  "0");
  gauge = printed_gauge (bus);

  bus_type (bus, "20 in 231 mm washed");
  bus_key (bus, "Return");
  bus_type (bus, "10 in 116.5 mm washed");
  bus_key (bus, "Return");
  check_database (bus, "SELECT direction || ' ' || count || ' ' || span_mm || ' ' || washed "
                  "FROM reading WHERE swatch = (SELECT max (id) FROM swatch) ORDER BY number",
                  "stitches 20.0 231.0 1; stitches 10.0 116.5 1");
  bus_find (bus, bus_frame (bus), ATSPI_ROLE_LABEL, "20 stitches in 231 mm, washed");
  bus_find (bus, bus_frame (bus), ATSPI_ROLE_LABEL, "10 stitches in 116.5 mm, washed");
  other = printed_gauge (bus);
  g_assert_cmpstr (gauge, !=, other);
  check_gauge (bus);

  bus_leave (bus);
  bus_start (bus, NULL);
  bus_key (bus, "Alt+2");
  check_gauge (bus);
}

int
main (int    argc,
      char **argv)
{
  g_test_init (&argc, &argv, NULL);

#define ADD(name, function, design) \
  g_test_add ("/app/bus/" name, Bus, design, set_up, function, tear_down)
  ADD ("demo", test_demo, NULL);
  ADD ("head", test_head, "Lugger");
  ADD ("ease", test_ease, "Lugger");
  ADD ("hook", test_hook, "Lugger");
  ADD ("stripe", test_stripe, "Lugger");
  ADD ("crown", test_crown, "Lugger");
  ADD ("pin", test_pin, "Lugger");
  ADD ("size", test_size, "Lugger");
  ADD ("all", test_all, "Lugger");
  ADD ("swatch", test_swatch, NULL);

  return g_test_run ();
}
