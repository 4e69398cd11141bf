#include "bus-check.h"

#include <stdlib.h>
#include <string.h>

#include <glib/gstdio.h>
#include <sqlite3.h>

#include "../cli/run.h"

/* ---- what is stored ---------------------------------------------------- */

/* The design file that the command line makes of a design of the library. */
static char *
export_design (Bus        *bus,
               const char *design)
{
  g_auto (Run) run = { 0 };
  char *path = g_build_filename (bus->folder, "exported.hat", NULL);

  g_unlink (path);
  run_with (&run, NULL, "library", "export", design, path, "--library", bus->library, NULL);
  g_assert_cmpstr (run.err, ==, "");
  g_assert_cmpint (run.status, ==, 0);

  return path;
}

char *
stored_design (Bus        *bus,
               const char *design)
{
  g_autofree char *path = export_design (bus, design);
  char *text;

  g_assert_true (g_file_get_contents (path, &text, NULL, NULL));

  return text;
}

/* One value, or several lines; somebody else is writing, and is waited for. */
char *
query (Bus        *bus,
       const char *sql)
{
  GString *out = g_string_new (NULL);
  sqlite3_stmt *statement;
  sqlite3 *db;

  g_assert_cmpint (sqlite3_open_v2 (bus->library, &db, SQLITE_OPEN_READONLY, NULL), ==, SQLITE_OK);
  sqlite3_busy_timeout (db, 5000);
  if (sqlite3_prepare_v2 (db, sql, -1, &statement, NULL) != SQLITE_OK)
    g_error ("%s: %s", sql, sqlite3_errmsg (db));
  while (sqlite3_step (statement) == SQLITE_ROW)
    g_string_append_printf (out, "%s%s", out->len == 0 ? "" : "; ",
                            (const char *) sqlite3_column_text (statement, 0));
  sqlite3_finalize (statement);
  sqlite3_close (db);

  return g_string_free (out, FALSE);
}

typedef struct
{
  const char *asked;
  char       *shown;
  char       *expected;
} Comparison;

static gboolean
is_stored (Bus      *bus,
           gpointer  data)
{
  Comparison *comparison = data;

  g_free (comparison->shown);
  comparison->shown = query (bus, comparison->asked);

  return g_str_equal (comparison->shown, comparison->expected);
}

void
check_database (Bus        *bus,
                const char *sql,
                const char *expected)
{
  Comparison comparison = { sql, NULL, g_strdup (expected) };

  bus_until (bus, is_stored, &comparison);
  g_assert_cmpstr (comparison.shown, ==, comparison.expected);
  g_free (comparison.shown);
  g_free (comparison.expected);
}

/* ---- the written pattern ----------------------------------------------- */

char *
shown_pattern (Bus *bus)
{
  AtspiAccessible *page = bus_find (bus, bus_frame (bus), ATSPI_ROLE_PANEL, "Written pattern");

  bus_key (bus, "Control+2");

  return bus_text (bus_find (bus, page, ATSPI_ROLE_TEXT, "Written pattern"));
}

static char *
printed_pattern (Bus        *bus,
                 const char *design)
{
  g_autofree char *path = export_design (bus, design);
  g_auto (Run) run = { 0 };

  run_with (&run, NULL, "write", path, "--library", bus->library, NULL);
  g_assert_cmpint (run.status, ==, 0);

  return g_steal_pointer (&run.out);
}

static gboolean
is_same_pattern (Bus      *bus,
                 gpointer  data)
{
  Comparison *comparison = data;

  g_free (comparison->shown);
  g_free (comparison->expected);
  comparison->shown = g_strchomp (shown_pattern (bus));
  comparison->expected = g_strchomp (printed_pattern (bus, comparison->asked));

  return g_str_equal (comparison->shown, comparison->expected);
}

/* The page "Written pattern" is word for word what the command line writes. */
void
check_pattern (Bus        *bus,
               const char *design)
{
  Comparison comparison = { design, NULL, NULL };

  bus_until (bus, is_same_pattern, &comparison);
  g_assert_cmpuint (strlen (comparison.expected), >, 500);
  g_assert_cmpstr (comparison.shown, ==, comparison.expected);
  g_free (comparison.shown);
  g_free (comparison.expected);
}

/* ---- the numbers of the chosen size ------------------------------------ */

static char *
after_colon (AtspiAccessible *accessible)
{
  g_autofree char *name = bus_name (accessible);
  const char *colon = strstr (name, ": ");

  g_assert_nonnull (colon);

  return g_strdup (colon + 2);
}

static char *
chosen_size (Bus *bus)
{
  return after_colon (bus_find (bus, bus_frame (bus), ATSPI_ROLE_PUSH_BUTTON, "Size: *"));
}

static guint
shown_number (Bus        *bus,
              const char *name)
{
  g_autofree char *value = after_colon (bus_find (bus, bus_frame (bus), ATSPI_ROLE_PUSH_BUTTON,
                                                  name));

  return (guint) strtoul (value, NULL, 10);
}

static guint
row_of (GPtrArray  *table,
        const char *size)
{
  for (guint i = 1; i < table->len; i++)
    if (g_str_equal (cell (table, i, "size"), size))
      return i;

  g_error ("the command line prints no size %s", size);
}

void
check_numbers (Bus        *bus,
               const char *design)
{
  g_autofree char *path = export_design (bus, design);
  g_autofree char *size = chosen_size (bus);
  g_autoptr (GPtrArray) table = NULL;
  g_auto (Run) run = { 0 };
  guint row;

  run_with (&run, NULL, "grade", path, "--csv", "sizes", "--library", bus->library, NULL);
  g_assert_cmpint (run.status, ==, 0);
  table = parse_csv (run.out);
  row = row_of (table, size);
  g_assert_cmpuint (shown_number (bus, "Body stitches: *"), ==,
                    (guint) number (table, row, "body_stitches"));
  g_assert_cmpuint (shown_number (bus, "Crown start: *"), ==,
                    (guint) number (table, row, "crown_start"));
}

/* ---- the table of rounds ----------------------------------------------- */

/* "Rnds 2–11: dc in each st around" is ten rounds of the command line's table. */
static guint
check_line (GPtrArray  *table,
            guint       row,
            const char *line)
{
  const char *dash = strstr (line, "–");
  const char *colon = strstr (line, ": ");
  const char *work = line;
  guint n = 1;

  if (g_str_has_prefix (line, "R") && colon != NULL)
    {
      const char *first = strpbrk (line, "0123456789");

      g_assert_cmpuint (strtoul (first, NULL, 10), ==, (gulong) number (table, row, "round"));
      if (dash != NULL && dash < colon)
        n = (guint) (strtoul (dash + strlen ("–"), NULL, 10) - strtoul (first, NULL, 10) + 1);
      work = colon + 2;
    }
  for (guint i = 0; i < n; i++)
    {
      g_assert_cmpuint (row + i, <, table->len);
      g_assert_cmpstr (work, ==, cell (table, row + i, "instruction"));
    }

  return n;
}

/* Line for line what the command line grades for the size that is shown. */
void
check_rounds (Bus        *bus,
              const char *design)
{
  g_autofree char *path = export_design (bus, design);
  g_autofree char *size = chosen_size (bus);
  AtspiAccessible *page = bus_find (bus, bus_frame (bus), ATSPI_ROLE_PANEL, "Rounds");
  AtspiAccessible *list = bus_find (bus, page, ATSPI_ROLE_LIST, "Rounds");
  int n = atspi_accessible_get_child_count (list, NULL);
  g_autoptr (GPtrArray) table = NULL;
  g_auto (Run) run = { 0 };
  guint row = 1;

  run_with (&run, NULL, "grade", path, "--csv", "rounds", "--size", size, "--library",
            bus->library, NULL);
  g_assert_cmpint (run.status, ==, 0);
  table = parse_csv (run.out);
  for (int i = 0; i < n; i++)
    {
      AtspiAccessible *child = atspi_accessible_get_child_at_index (list, i, NULL);
      g_autofree char *line = bus_name (child);

      row += check_line (table, row, line);
      g_clear_object (&child);
    }
  g_assert_cmpuint (row, ==, table->len);
}

void
check_all (Bus        *bus,
           const char *design)
{
  check_pattern (bus, design);
  check_numbers (bus, design);
  check_rounds (bus, design);
}

/* ---- finding one's way ------------------------------------------------- */

/* Opens a design of the library, by keys. */
void
choose_design (Bus        *bus,
               const char *name)
{
  g_autofree char *title = g_strconcat (name, " – Brimwright", NULL);

  bus_key (bus, "Control+f");
  bus_type (bus, name);
  bus_find (bus, bus_frame (bus), ATSPI_ROLE_INVALID, name);
  bus_tab_to (bus, name);
  bus_key (bus, "Return");
  bus_find (bus, bus->application, ATSPI_ROLE_FRAME, title);
  bus_key (bus, "F9");
}
