#include <unistd.h>

#include <glib/gstdio.h>
#include <sqlite3.h>

#include "../cli/run.h"
#include "bus-check.h"

/* What goes wrong around the program: it is killed while editing; somebody else
 * writes to the library; the library can only be read, or not even that. */

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

static AtspiAccessible *
ease (Bus *bus)
{
  return bus_find (bus, bus_frame (bus), ATSPI_ROLE_TEXT, "Body ease");
}

static void
expect_label (Bus        *bus,
              const char *text)
{
  bus_find (bus, bus_frame (bus), ATSPI_ROLE_LABEL, text);
}

static void
set_ease (Bus  *bus,
          guint percent)
{
  g_autofree char *text = g_strdup_printf ("-%u %%", percent);

  bus_enter (ease (bus), text);
}

static void
assert_ease (Bus  *bus,
             guint percent)
{
  g_autofree char *expected = g_strdup_printf ("-%u %%", percent);
  g_autofree char *shown = bus_text (ease (bus));

  g_assert_cmpstr (shown, ==, expected);
}

static void
verify_library (Bus *bus)
{
  g_auto (Run) run = { 0 };

  run_with (&run, NULL, "library", "verify", "--library", bus->library, NULL);
  g_assert_cmpstr (run.err, ==, "");
  g_assert_cmpint (run.status, ==, 0);
}

/* ---- killed ------------------------------------------------------------ */

/* An edit is saved once it has been painted. Killed at any moment after that, the
 * program comes back to the same design with the last edit. */
static void
test_killed (Bus           *bus,
             gconstpointer  data)
{
  for (guint i = 1; i <= 6; i++)
    {
      guint wait = (guint) g_test_rand_int_range (80, 500);

      set_ease (bus, 10 + i);
      set_ease (bus, i);
      bus_wait (wait);
      g_test_message ("killed after %u ms", wait);
      bus_kill (bus);
      verify_library (bus);

      bus_start (bus, NULL);
      bus_find (bus, bus->application, ATSPI_ROLE_FRAME, "Lugger – Brimwright");
      assert_ease (bus, i);
    }
  check_all (bus, "Lugger");
}

/* Killed in the middle of it, it comes back with the one or the other, and whole. */
static void
test_killed_at_once (Bus           *bus,
                     gconstpointer  data)
{
  g_autofree char *stored = bus_text (ease (bus));

  for (guint i = 1; i <= 4; i++)
    {
      g_autofree char *last = g_strdup_printf ("-%u %%", i);
      g_autofree char *shown = NULL;

      set_ease (bus, i);
      bus_wait ((guint) g_test_rand_int_range (1, 20));
      bus_kill (bus);
      verify_library (bus);

      bus_start (bus, NULL);
      bus_find (bus, bus->application, ATSPI_ROLE_FRAME, "Lugger – Brimwright");
      shown = bus_text (ease (bus));
      if (!g_str_equal (shown, last))
        g_assert_cmpstr (shown, ==, stored);
      check_pattern (bus, "Lugger");
      g_free (stored);
      stored = g_steal_pointer (&shown);
    }
}

/* ---- locked ------------------------------------------------------------ */

static void
test_locked (Bus           *bus,
             gconstpointer  data)
{
  const char *asked = "SELECT body_ease_fraction FROM design WHERE name = 'Lugger'";
  g_autofree char *before = shown_pattern (bus);
  g_autofree char *after = NULL;
  sqlite3 *other;

  g_assert_cmpint (sqlite3_open (bus->library, &other), ==, SQLITE_OK);
  g_assert_cmpint (sqlite3_exec (other, "BEGIN IMMEDIATE", NULL, NULL, NULL), ==, SQLITE_OK);

  set_ease (bus, 3);
  expect_label (bus, "The last edits are not saved yet: *another program is writing*");
  set_ease (bus, 2);
  after = shown_pattern (bus);
  g_assert_cmpstr (before, !=, after);
  check_database (bus, asked, "-0.07");

  g_assert_cmpint (sqlite3_exec (other, "ROLLBACK", NULL, NULL, NULL), ==, SQLITE_OK);
  sqlite3_close (other);
  check_database (bus, asked, "-0.02");
  bus_gone (bus, bus_frame (bus), ATSPI_ROLE_LABEL, "The last edits are not saved yet*");
  check_all (bus, "Lugger");
}

/* ---- read only, damaged ------------------------------------------------ */

/* Saves the design as a file, by keys, and compares what the command line writes of
 * it with what is shown. */
static void
check_export (Bus *bus)
{
  g_autofree char *path = g_build_filename (bus->folder, "kept.hat", NULL);
  g_autofree char *shown = shown_pattern (bus);
  g_auto (Run) run = { 0 };

  bus_key (bus, "Control+s");
  bus_find (bus, bus->application, ATSPI_ROLE_INVALID, "Save as a design file");
  bus_wait (500);
  bus_take_keys (bus);
  bus_key (bus, "Control+a");
  bus_type (bus, path);
  bus_wait (300);
  bus_key (bus, "Return");
  for (guint i = 0; i < 200 && !g_file_test (path, G_FILE_TEST_EXISTS); i++)
    bus_wait (50);
  bus_wait (100);
  bus_take_keys (bus);

  run_with (&run, NULL, "write", path, NULL);
  g_assert_cmpint (run.status, ==, 0);
  g_assert_cmpstr (g_strchomp (run.out), ==, g_strchomp (shown));
}

static void
edit_and_export (Bus *bus)
{
  g_autofree char *before = shown_pattern (bus);
  g_autofree char *after = NULL;

  set_ease (bus, 3);
  assert_ease (bus, 3);
  after = shown_pattern (bus);
  g_assert_cmpstr (before, !=, after);
  check_export (bus);
}

static void
test_read_only (Bus           *bus,
                gconstpointer  data)
{
  /* Nobody keeps the superuser from writing but this */
  static const char *const as_others[] = {
    "setpriv", "--bounding-set=-dac_override", "--inh-caps=-dac_override", NULL,
  };
  g_autofree char *folder = g_path_get_dirname (bus->library);

  bus_leave (bus);
  g_chmod (bus->library, 0444);
  g_chmod (folder, 0555);
  if (geteuid () == 0)
    bus->wrapper = as_others;

  bus_start (bus, NULL);
  expect_label (bus, "The library can be read, not written*");
  bus_find (bus, bus->application, ATSPI_ROLE_FRAME, "Lugger – Brimwright");
  edit_and_export (bus);
  expect_label (bus, "The last edits are not saved yet*");

  /* Closing would lose them, and says so once */
  bus_key (bus, "Control+w");
  expect_label (bus, "The last edits could not be saved in the library*");
  bus_leave (bus);
  g_chmod (folder, 0755);
  g_chmod (bus->library, 0644);
  check_database (bus, "SELECT body_ease_fraction FROM design WHERE name = 'Lugger'", "-0.07");
}

static void
test_damaged (Bus           *bus,
              gconstpointer  data)
{
  g_autofree char *damaged = NULL;
  g_autofree char *after = NULL;
  gsize length;
  gsize length_after;

  bus_leave (bus);
  g_assert_true (g_file_get_contents (bus->library, &damaged, &length, NULL));
  for (gsize i = 100; i < length; i++)
    damaged[i] = (char) (i * 7);
  g_assert_true (g_file_set_contents (bus->library, damaged, (gssize) length, NULL));

  bus_start (bus, NULL);
  expect_label (bus, "*damaged*You can go on working*");
  edit_and_export (bus);
  bus_leave (bus);

  /* Somebody may be able to save what is in it */
  g_assert_true (g_file_get_contents (bus->library, &after, &length_after, NULL));
  g_assert_cmpmem (damaged, length, after, length_after);
}

static void
test_no_library (Bus           *bus,
                 gconstpointer  data)
{
  bus_leave (bus);
  g_assert_true (g_file_set_contents (bus->library, "no library at all, but a letter\n", -1, NULL));
  bus_start (bus, NULL);
  expect_label (bus, "*You can go on working*");
  edit_and_export (bus);
}

int
main (int    argc,
      char **argv)
{
  g_test_init (&argc, &argv, NULL);

#define ADD(name, function) \
  g_test_add ("/app/rescue/" name, Bus, NULL, set_up, function, tear_down)
  ADD ("killed", test_killed);
  ADD ("killed-at-once", test_killed_at_once);
  ADD ("locked", test_locked);
  ADD ("read-only", test_read_only);
  ADD ("damaged", test_damaged);
  ADD ("no-library", test_no_library);

  return g_test_run ();
}
