#include "library-fixture.h"

/* What SQL can state, SQL refuses, whoever writes: each CHECK of the schema is
 * broken here once or at both of its ends. */

static const struct
{
  const char *table;
  const char *column; /* the CHECK's; "" = the table's own */
  const char *set;
} cases[] = {
  { "yarn", "name", "name = '  '" },
  { "yarn", "name", "name = 'a / b'" },
  { "yarn", "weight_class", "weight_class = 8" },
  { "yarn", "weight_class", "weight_class = -1" },
  { "yarn", "metres_per_ball", "metres_per_ball = -1" },
  { "yarn", "grams_per_ball", "grams_per_ball = -0.5" },
  { "yarn", "price_per_ball", "price_per_ball = -1" },
  { "yarn_fibre", "place", "place = -1" },
  { "yarn_fibre", "fibre", "fibre = ' '" },
  { "yarn_fibre", "percent", "percent = 0" },
  { "yarn_fibre", "percent", "percent = 100.5" },
  { "yarn_lot", "lot", "lot = ''" },
  { "yarn_lot", "balls", "balls = -1" },
  { "swatch", "hook_mm", "hook_mm = -1" },
  { "swatch", "hook_mm", "hook_mm = 51" },
  { "swatch", "fabric", "fabric = ''" },
  { "swatch", "worked", "worked = 'spiral'" },
  { "swatch", "made_on", "made_on = '2024-13-01'" },
  { "swatch", "made_on", "made_on = 'yesterday'" },
  { "swatch", "grams", "grams = -1" },
  { "swatch", "piece_stitches", "piece_stitches = -1" },
  { "swatch", "piece_rounds", "piece_rounds = -1" },
  { "swatch_photo", "path", "path = '/etc/passwd', bytes = NULL" },
  { "swatch_photo", "path", "path = 'a/../../b', bytes = NULL" },
  { "swatch_photo", "bytes", "path = NULL, bytes = zeroblob (4194305)" },
  { "swatch_photo", "", "path = NULL, bytes = NULL" },
  { "swatch_photo", "", "path = 'a', bytes = x'00'" },
  { "reading", "number", "number = 0" },
  { "reading", "direction", "direction = 'across'" },
  { "reading", "count", "count = 0" },
  { "reading", "span_mm", "span_mm = 0" },
  { "reading", "washed", "washed = 2" },
  { "reading", "laid", "laid = 'hung'" },
  { "size_table", "id", "id = ' '" },
  { "size_table", "status", "status = 'guessed'" },
  { "size_table_size", "place", "place = -1" },
  { "size_table_size", "size", "size = ''" },
  { "size_table_size", "head_mm", "head_mm = 0" },
  { "size_table_size", "depth_mm", "depth_mm = -1" },
  { "size_table_size", "months_from", "months_from = -2" },
  { "size_table_size", "status", "status = ''" },
  { "design", "terms", "terms = 'fr'" },
  { "design", "units", "units = 'ell'" },
  { "design", "mm_per_inch", "mm_per_inch = 0" },
  { "design", "spiral", "spiral = 2" },
  { "design", "chain_counts", "chain_counts = -1" },
  { "design", "yarn_weight_class", "yarn_weight_class = 8" },
  { "design", "yarn_weight_class", "yarn_weight_class = -2" },
  { "design", "yarn_metres_per_ball", "yarn_metres_per_ball = -1" },
  { "design", "yarn_grams_per_ball", "yarn_grams_per_ball = -1" },
  { "design", "yarn_price_per_ball", "yarn_price_per_ball = -1" },
  { "design", "yarn_margin", "yarn_margin = -0.1" },
  { "design", "stitches_per_minute", "stitches_per_minute = -1" },
  { "design", "brim_kind", "brim_kind = 'wide'" },
  { "design", "brim_folded", "brim_folded = 3" },
  { "design", "brim_height_mm", "brim_height_mm = -1" },
  { "design", "brim_pick_up", "brim_pick_up = 'some'" },
  { "design", "brim_per_row", "brim_per_row = -1" },
  { "design", "brim_colour", "brim_colour = 256" },
  { "design", "crown_profile", "crown_profile = 'square'" },
  { "design", "crown_length_mm", "crown_length_mm = -1" },
  { "design", "crown_of_radius", "crown_of_radius = -1" },
  { "design", "crown_staggered", "crown_staggered = 2" },
  { "design", "crown_close_at", "crown_close_at = -1" },
  { "design", "crown_multiple_on_body", "crown_multiple_on_body = 2" },
  { "design", "pompom_mm", "pompom_mm = -1" },
  { "design", "pompom_grams", "pompom_grams = -1" },
  { "design", "pompom_colour", "pompom_colour = -1" },
  { "design", "tail_mm", "tail_mm = -1" },
  { "design", "carry_rounds", "carry_rounds = -1" },
  { "design", "carry_mm", "carry_mm = -1" },
  { "design", "cords", "cords = 2" },
  { "design", "buttons", "buttons = 2" },
  { "design", "least_step", "least_step = -1" },
  { "design", "rounding", "rounding = 'sideways'" },
  { "design_head", "version", "version = 0" },
  { "design_head", "undo_step", "undo_step = -1" },
  { "design_tag", "tag", "tag = ' '" },
  { "design_colour", "place", "place = -1" },
  { "design_colour", "rgb", "rgb = -1" },
  { "design_colour", "rgb", "rgb = 4294967296" },
  { "design_colourway", "name", "name = ''" },
  { "design_colourway_colour", "place", "place = -1" },
  { "design_colourway_colour", "rgb", "rgb = -1" },
  { "design_swatch", "place", "place = -1" },
  { "design_swatch", "hook_mm", "hook_mm = -1" },
  { "design_swatch", "tape_division_mm", "tape_division_mm = -1" },
  { "design_swatch", "edge_stitches", "edge_stitches = -1" },
  { "design_swatch", "grams", "grams = -1" },
  { "design_swatch", "piece_stitches", "piece_stitches = -1" },
  { "design_swatch", "piece_rounds", "piece_rounds = -1" },
  { "design_reading", "place", "place = -1" },
  { "design_reading", "direction", "direction = 'up'" },
  { "design_reading", "count", "count = 0" },
  { "design_reading", "span_mm", "span_mm = -1" },
  { "design_reading", "washed", "washed = 2" },
  { "design_reading", "laid", "laid = ''" },
  { "design_size", "place", "place = -1" },
  { "design_size", "head_mm", "head_mm = -1" },
  { "design_size", "depth_mm", "depth_mm = -1" },
  { "design_size", "status", "status = 'guessed'" },
  { "design_size", "own_body_ease", "own_body_ease = 2" },
  { "design_size", "own_brim_ease", "own_brim_ease = 2" },
  { "design_crown_count", "place", "place = -1" },
  { "design_crown_count", "count", "count = -1" },
  { "design_band", "place", "place = -1" },
  { "design_band", "mode", "mode = 'forever'" },
  { "design_band", "amount", "amount = -1" },
  { "design_stripe", "place", "place = -1" },
  { "design_stripe", "colour", "colour = 256" },
  { "design_stripe", "rounds", "rounds = 65536" },
  { "design_crown_stripe", "place", "place = -1" },
  { "design_crown_stripe", "colour", "colour = -1" },
  { "design_crown_stripe", "rounds", "rounds = -1" },
  { "design_wedge", "place", "place = -1" },
  { "design_wedge", "wedges", "wedges = -1" },
  { "design_pin", "place", "place = -1" },
  { "design_pin", "kind", "kind = 'hope'" },
  { "design_pin", "value", "value = -1" },
  { "revision", "number", "number = 0" },
  { "revision", "design_text", "design_text = ''" },
  { "revision_size", "place", "place = -1" },
  { "revision_size", "brim_rows", "brim_rows = -1" },
  { "revision_size", "brim_stitches", "brim_stitches = -1" },
  { "revision_size", "body_stitches", "body_stitches = -1" },
  { "revision_round", "place", "place = -1" },
  { "revision_round", "is_row", "is_row = 2" },
  { "revision_round", "number", "number = -1" },
  { "revision_round", "colour", "colour = 256" },
  { "revision_round", "stitches_in", "stitches_in = -1" },
  { "revision_round", "stitches_out", "stitches_out = -1" },
  { "undo_step", "step", "step = 0" },
  { "design_thumbnail", "version", "version = 0" },
  { "design_thumbnail", "bytes", "bytes = x''" },
  { "design_thumbnail", "bytes", "bytes = zeroblob (262145)" },
};

static void
fill (Fixture *fixture)
{
  g_autofree char *kept = g_test_build_filename (G_TEST_DIST, "data", "library-3.db", NULL);
  g_autofree char *bytes = NULL;
  gsize length;

  g_clear_pointer (&fixture->library, bw_library_close);
  g_assert_true (g_file_get_contents (kept, &bytes, &length, NULL));
  g_assert_true (g_file_set_contents (fixture->path, bytes, (gssize) length, NULL));
  fixture_reopen (fixture);
  g_assert_cmpint (sql_result (fixture->path,
                               "INSERT INTO design_pin VALUES (1, 0, 'm', 'brim-height', 40)"),
                   ==, SQLITE_OK);
}

/* A table is not sealed where its rows are of a revision that is not there. */
static gboolean
is_sealed (const char *table)
{
  return g_str_has_prefix (table, "revision");
}

/* INSERT of a row like the first one, with one value set otherwise. */
static char *
insert_sql (Fixture    *fixture,
            const char *table,
            const char *column,
            const char *set)
{
  const char *value = strstr (set, " = ") + 3;
  g_autofree char *columns = NULL;
  g_autofree char *list = g_strdup_printf (
    "SELECT group_concat (CASE name WHEN '%s' THEN '%s' WHEN 'id' THEN '4711'"
    " WHEN 'uuid' THEN '''u''' WHEN 'revision' THEN '4711' WHEN 'number' THEN '99'"
    " ELSE name END) FROM pragma_table_info ('%s')",
    column, g_str_has_prefix (value, "'") ? "''''" : value, table);

  columns = sql_text (fixture->path, list);

  return g_strdup_printf ("INSERT INTO %s SELECT %s FROM %s LIMIT 1", table, columns, table);
}

static int
extended_result (const char *path,
                 const char *sql)
{
  sqlite3 *db = NULL;
  int rc;

  g_assert_cmpint (sqlite3_open (path, &db), ==, SQLITE_OK);
  sqlite3_extended_result_codes (db, 1);
  rc = sqlite3_exec (db, sql, NULL, NULL, NULL);
  sqlite3_close (db);

  return rc;
}

static void
test_checks (Fixture       *fixture,
             gconstpointer  data)
{
  (void) data;
  fill (fixture);
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *sql = is_sealed (cases[i].table)
                               ? insert_sql (fixture, cases[i].table, cases[i].column, cases[i].set)
                               : g_strdup_printf ("UPDATE %s SET %s", cases[i].table, cases[i].set);

      g_test_message ("%s", sql);
      g_assert_cmpint (extended_result (fixture->path, sql), ==, SQLITE_CONSTRAINT_CHECK);
    }
  assert_sound (fixture->library);
}

/* As many as the schema has: a new CHECK needs a case of its own. */
static void
test_all_checks (Fixture       *fixture,
                 gconstpointer  data)
{
  g_autofree char *text = sql_text (fixture->path,
                                    "SELECT sum ((length (sql)"
                                    " - length (replace (sql, 'CHECK (', ''))) / 7)"
                                    " FROM sqlite_schema WHERE type = 'table'");
  guint n = 0;

  (void) data;
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    n += i == 0 || !g_str_equal (cases[i].table, cases[i - 1].table) ||
         !g_str_equal (cases[i].column, cases[i - 1].column);
  g_assert_cmpint (g_ascii_strtoll (text, NULL, 10), ==, n);
}

/* What a single row cannot tell. */
static void
test_triggers (Fixture       *fixture,
               gconstpointer  data)
{
  static const char *const attempts[] = {
    "UPDATE yarn_fibre SET percent = percent + 1",
    "INSERT INTO yarn_fibre VALUES (1, 9, 'silk', 1)",
    "INSERT INTO yarn (id, uuid, name) VALUES (77, 'u', 'Other'); UPDATE swatch SET yarn = 77",
    "INSERT INTO swatch (uuid, yarn, lot, hook_mm, fabric) SELECT 'u', 7, id, 4, 'x' FROM yarn_lot",
  };

  (void) data;
  fill (fixture);
  for (gsize i = 0; i < G_N_ELEMENTS (attempts); i++)
    {
      g_test_message ("%s", attempts[i]);
      g_assert_cmpint (extended_result (fixture->path, attempts[i]), ==, SQLITE_CONSTRAINT_TRIGGER);
    }
}

/* STRICT: no column takes what is not of its type. */
static void
test_types (Fixture       *fixture,
            gconstpointer  data)
{
  static const char columns_sql[] =
    "SELECT group_concat (t.name || ' ' || c.name || ' ' || c.type, ';')"
    " FROM pragma_table_list t, pragma_table_info (t.name) c WHERE t.type = 'table'"
    " AND t.schema = 'main' AND t.name NOT LIKE 'sqlite_%' AND t.name NOT LIKE 'revision%'"
    " AND c.type <> 'TEXT'";
  g_autofree char *text = NULL;
  g_auto (GStrv) columns = NULL;
  guint n = 0;

  (void) data;
  fill (fixture);
  text = sql_text (fixture->path, columns_sql);
  columns = g_strsplit (text, ";", -1);
  for (guint i = 0; columns[i] != NULL; i++)
    {
      g_auto (GStrv) words = g_strsplit (columns[i], " ", -1);
      g_autofree char *sql = g_strdup_printf ("UPDATE %s SET %s = 'many'", words[0], words[1]);
      int rc = extended_result (fixture->path, sql);

      /* a rule of the column may be asked first, and a row's own number is no column */
      if (rc != SQLITE_CONSTRAINT_DATATYPE && rc != SQLITE_CONSTRAINT_CHECK &&
          rc != SQLITE_MISMATCH)
        g_error ("%s: %d", sql, rc);
      n++;
    }
  g_test_message ("%u columns", n);
  g_assert_cmpuint (n, >, 100);
}

/* SQL goes through prepared statements, of which values are bound; the calls that
 * take a text and run it are used nowhere in the program. */
static void
test_prepared (void)
{
  static const char *const calls[] = { "sqlite3_exec", "sqlite3_get_table", "sqlite3_mprintf" };
  g_autofree char *folder = g_test_build_filename (G_TEST_DIST, "..", "src", "library", NULL);
  g_autoptr (GError) error = NULL;
  g_autoptr (GDir) dir = g_dir_open (folder, 0, &error);
  const char *name;
  guint n = 0;

  g_assert_no_error (error);
  while ((name = g_dir_read_name (dir)) != NULL)
    {
      g_autofree char *path = g_build_filename (folder, name, NULL);
      g_autofree char *text = NULL;

      if (!g_str_has_suffix (name, ".c"))
        continue;

      g_assert_true (g_file_get_contents (path, &text, NULL, NULL));
      for (gsize i = 0; i < G_N_ELEMENTS (calls); i++)
        if (strstr (text, calls[i]) != NULL)
          g_error ("%s calls %s", name, calls[i]);
      n++;
    }
  g_assert_cmpuint (n, >, 20);
}

int
main (int    argc,
      char **argv)
{
  g_test_init (&argc, &argv, NULL);

#define ADD(path, function) \
  g_test_add ("/library/rules/" path, Fixture, NULL, fixture_set_up, function, fixture_tear_down)
  ADD ("checks", test_checks);
  ADD ("all-checks", test_all_checks);
  ADD ("triggers", test_triggers);
  ADD ("types", test_types);
  g_test_add_func ("/library/rules/prepared", test_prepared);

  return g_test_run ();
}
