#include "library-fixture.h"

static void
test_schema (Fixture       *fixture,
             gconstpointer  data)
{
  g_autofree char *mode = sql_text (fixture->path, "PRAGMA journal_mode");
  g_autofree char *version = sql_text (fixture->path, "PRAGMA user_version");
  g_autofree char *id = sql_text (fixture->path, "PRAGMA application_id");
  g_autofree char *loose = sql_text (fixture->path,
                                     "SELECT group_concat (name) FROM pragma_table_list"
                                     " WHERE type = 'table'"
                                     " AND NOT strict AND name NOT LIKE 'sqlite_%'");
  g_autofree char *keyless = sql_text (fixture->path,
                                       "SELECT group_concat (name) FROM pragma_table_list t"
                                       " WHERE type = 'table'"
                                       " AND name NOT LIKE 'sqlite_%' AND NOT EXISTS"
                                       " (SELECT 1 FROM pragma_table_info (t.name) WHERE pk > 0)");
  g_autofree char *expected = g_strdup_printf ("%u", bw_library_schema_version ());

  (void) data;
  g_assert_cmpstr (mode, ==, "wal");
  g_assert_cmpstr (version, ==, expected);
  g_assert_cmpuint (bw_library_schema_version (), >=, 2);
  g_assert_cmpstr (id, ==, "1113017442"); /* "BWLb" as a number */
  g_assert_null (loose);
  g_assert_null (keyless);
  g_assert_null (bw_library_get_migrated_from (fixture->library));
  g_assert_false (bw_library_is_read_only (fixture->library));
  assert_sound (fixture->library);
}

/* Whatever a design is, it comes back exactly, over any other that was there. */
static void
test_round_trip (Fixture       *fixture,
                 gconstpointer  data)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (20240501);
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) designs = g_ptr_array_new_with_free_func ((GDestroyNotify) bw_design_free);

  (void) data;
  for (guint i = 0; i < 100; i++)
    {
      BwDesign *design = random_design (rand, fixture->reference);
      gint64 id;

      g_assert_true (bw_library_add (fixture->library, design, &id, &error));
      g_assert_no_error (error);
      g_ptr_array_add (designs, design);
      assert_stored (fixture->library, id, design);
    }

  for (guint i = 0; i < 100; i++)
    {
      gint64 id = i + 1;
      BwLibraryEdit edit = { .label = "All" };

      bw_design_free (designs->pdata[i]);
      designs->pdata[i] = random_design (rand, fixture->reference);
      g_assert_true (bw_library_save (fixture->library, id, designs->pdata[i], &edit, &error));
      g_assert_no_error (error);
      g_assert_cmpint (edit.version, ==, 2);
    }

  fixture_reopen (fixture);
  for (guint i = 0; i < 100; i++)
    assert_stored (fixture->library, i + 1, designs->pdata[i]);
  assert_sound (fixture->library);
}

static void
test_unchanged (Fixture       *fixture,
                gconstpointer  data)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (7);
  g_autoptr (GError) error = NULL;
  gint64 id = add_random (fixture, rand);
  g_autoptr (BwDesign) design = bw_library_load (fixture->library, id, NULL, &error);
  BwLibraryEdit edit = { .label = "Nothing", .version = 1 };
  guint n_undo = 99;

  (void) data;
  g_assert_true (bw_library_save (fixture->library, id, design, &edit, &error));
  g_assert_no_error (error);
  g_assert_cmpint (edit.version, ==, 1);
  g_assert_true (bw_library_get_undo (fixture->library, id, NULL, NULL, &n_undo, NULL, &error));
  g_assert_cmpuint (n_undo, ==, 0);
}

/* ---- undo ------------------------------------------------------------------- */

static void
assert_history (BwLibrary  *library,
                gint64      id,
                guint       n_undo,
                guint       n_redo,
                const char *undo_label,
                const char *redo_label)
{
  g_autofree char *undo = NULL;
  g_autofree char *redo = NULL;
  g_autoptr (GError) error = NULL;
  guint found_undo, found_redo;

  g_assert_true (bw_library_get_undo (library, id, &undo, &redo, &found_undo, &found_redo, &error));
  g_assert_no_error (error);
  g_assert_cmpuint (found_undo, ==, n_undo);
  g_assert_cmpuint (found_redo, ==, n_redo);
  g_assert_cmpstr (undo, ==, undo_label);
  g_assert_cmpstr (redo, ==, redo_label);
}

static GPtrArray *
save_many (Fixture *fixture,
           GRand   *rand,
           gint64  *id,
           guint    n)
{
  g_autoptr (GError) error = NULL;
  GPtrArray *states = g_ptr_array_new_with_free_func ((GDestroyNotify) bw_design_free);
  gint64 version = 1;

  g_ptr_array_add (states, random_design (rand, fixture->reference));
  g_assert_true (bw_library_add (fixture->library, states->pdata[0], id, &error));

  for (guint i = 1; i <= n; i++)
    {
      g_autofree char *label = g_strdup_printf ("Edit %u", i);
      BwLibraryEdit edit = { .label = label, .version = version };

      g_ptr_array_add (states, random_design (rand, fixture->reference));
      g_assert_true (bw_library_save (fixture->library, *id, states->pdata[i], &edit, &error));
      g_assert_no_error (error);
      version = edit.version;
    }

  return states;
}

/* 230 edits, of which the last 200 are kept, across a restart, both ways. */
static void
test_undo (Fixture       *fixture,
           gconstpointer  data)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (42);
  g_autoptr (GError) error = NULL;
  gint64 id, version;
  g_autoptr (GPtrArray) states = save_many (fixture, rand, &id, 230);

  (void) data;
  fixture_reopen (fixture);
  assert_history (fixture->library, id, BW_LIBRARY_UNDO_MAX, 0, "Edit 230", NULL);

  for (guint i = 0; i < BW_LIBRARY_UNDO_MAX; i++)
    {
      g_assert_true (bw_library_undo (fixture->library, id, &version, &error));
      g_assert_no_error (error);
      assert_stored (fixture->library, id, states->pdata[229 - i]);
      if (i == 100)
        fixture_reopen (fixture);
    }
  g_assert_cmpint (version, ==, 1 + 230 + 200);
  assert_history (fixture->library, id, 0, BW_LIBRARY_UNDO_MAX, NULL, "Edit 31");
  g_assert_false (bw_library_undo (fixture->library, id, NULL, &error));
  g_assert_error (error, BW_LIBRARY_ERROR, BW_LIBRARY_ERROR_MISSING);
  g_clear_error (&error);
  assert_stored (fixture->library, id, states->pdata[30]);

  for (guint i = 0; i < BW_LIBRARY_UNDO_MAX; i++)
    {
      g_assert_true (bw_library_redo (fixture->library, id, &version, &error));
      g_assert_no_error (error);
      assert_stored (fixture->library, id, states->pdata[31 + i]);
    }
  g_assert_false (bw_library_redo (fixture->library, id, NULL, &error));
  g_assert_error (error, BW_LIBRARY_ERROR, BW_LIBRARY_ERROR_MISSING);
  assert_sound (fixture->library);
}

static void
test_undo_then_edit (Fixture       *fixture,
                     gconstpointer  data)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (43);
  g_autoptr (GError) error = NULL;
  gint64 id;
  g_autoptr (GPtrArray) states = save_many (fixture, rand, &id, 5);
  BwLibraryEdit edit = { .label = "Other way" };

  (void) data;
  g_assert_true (bw_library_undo (fixture->library, id, NULL, &error));
  g_assert_true (bw_library_undo (fixture->library, id, NULL, &error));
  assert_history (fixture->library, id, 3, 2, "Edit 3", "Edit 4");
  g_assert_true (bw_library_save (fixture->library, id, states->pdata[0], &edit, &error));
  assert_history (fixture->library, id, 4, 0, "Other way", NULL);
  g_assert_true (bw_library_undo (fixture->library, id, NULL, &error));
  assert_stored (fixture->library, id, states->pdata[3]);
}

/* A number that is dragged is one step, and undone as one. */
static void
test_undo_merged (Fixture       *fixture,
                  gconstpointer  data)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (44);
  g_autoptr (GError) error = NULL;
  gint64 id = add_random (fixture, rand);
  g_autoptr (BwDesign) before = bw_library_load (fixture->library, id, NULL, &error);
  g_autoptr (BwDesign) after = bw_design_copy (before);

  (void) data;
  for (guint i = 0; i < 30; i++)
    {
      BwLibraryEdit edit = { .label = "Change height of brim", .merge = TRUE };

      after->brim.height_mm = 40.0 + i;
      g_array_set_size (after->crown.wedges, i % 3);
      g_assert_true (bw_library_save (fixture->library, id, after, &edit, &error));
      g_assert_no_error (error);
    }
  assert_history (fixture->library, id, 1, 0, "Change height of brim", NULL);
  assert_stored (fixture->library, id, after);
  g_assert_true (bw_library_undo (fixture->library, id, NULL, &error));
  assert_stored (fixture->library, id, before);
  g_assert_true (bw_library_redo (fixture->library, id, NULL, &error));
  assert_stored (fixture->library, id, after);
}

/* Dragged back to where it was, it is no step at all, and goes on from there. */
static void
test_undo_merged_away (Fixture       *fixture,
                       gconstpointer  data)
{
  static const double heights[] = { 41, 55, 40, 62 };
  g_autoptr (GRand) rand = g_rand_new_with_seed (46);
  g_autoptr (GError) error = NULL;
  gint64 id = add_random (fixture, rand);
  g_autoptr (BwDesign) design = bw_library_load (fixture->library, id, NULL, &error);
  BwLibraryEdit first = { .label = "First height" };

  (void) data;
  design->brim.height_mm = 40;
  g_assert_true (bw_library_save (fixture->library, id, design, &first, &error));
  for (guint i = 0; i < G_N_ELEMENTS (heights); i++)
    {
      BwLibraryEdit edit = { .label = "Change height of brim", .merge = TRUE };

      design->brim.height_mm = heights[i];
      g_assert_true (bw_library_save (fixture->library, id, design, &edit, &error));
      g_assert_no_error (error);
      assert_stored (fixture->library, id, design);
      if (heights[i] == 40)
        assert_history (fixture->library, id, 1, 0, "First height", NULL);
      else
        assert_history (fixture->library, id, 2, 0, "Change height of brim", NULL);
    }
}

/* A step holds what changed, not the design over and over. */
static void
test_undo_small (Fixture       *fixture,
                 gconstpointer  data)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (45);
  g_autoptr (GError) error = NULL;
  gint64 id = add_random (fixture, rand);
  g_autoptr (BwDesign) design = bw_library_load (fixture->library, id, NULL, &error);
  BwLibraryEdit edit = { .label = "Brim" };
  g_autofree char *length = NULL;

  (void) data;
  design->brim.height_mm += 1.0;
  g_assert_true (bw_library_save (fixture->library, id, design, &edit, &error));
  length = sql_text (fixture->path, "SELECT length (changeset) FROM undo_step");
  g_assert_cmpint (g_ascii_strtoll (length, NULL, 10), <, 300);
}

/* ---- conflicts ---------------------------------------------------------------- */

static void
test_conflict (Fixture       *fixture,
               gconstpointer  data)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (46);
  g_autoptr (GError) error = NULL;
  g_autoptr (BwLibrary) second = bw_library_open (fixture->path, BW_LIBRARY_OPEN_DEFAULT, &error);
  gint64 id = add_random (fixture, rand);
  gint64 version;
  g_autoptr (BwDesign) a = bw_library_load (fixture->library, id, &version, &error);
  g_autoptr (BwDesign) b = bw_library_load (second, id, NULL, &error);
  BwLibraryEdit edit_a = { .label = "A", .version = version };
  BwLibraryEdit edit_b = { .label = "B", .version = version };
  gint64 seen = bw_library_change_count (second);
  g_autoptr (BwDesign) kept = NULL;

  (void) data;
  a->brim.height_mm = 61.0;
  b->brim.height_mm = 62.0;
  g_assert_true (bw_library_save (fixture->library, id, a, &edit_a, &error));
  g_assert_no_error (error);
  g_assert_cmpint (bw_library_change_count (second), !=, seen);

  g_assert_false (bw_library_save (second, id, b, &edit_b, &error));
  g_assert_error (error, BW_LIBRARY_ERROR, BW_LIBRARY_ERROR_CONFLICT);
  g_clear_error (&error);
  g_assert_cmpint (edit_b.kept_as, >, 0);
  g_assert_cmpint (edit_b.kept_as, !=, id);

  /* neither is lost */
  assert_stored (second, id, a);
  kept = bw_library_load (fixture->library, edit_b.kept_as, NULL, &error);
  g_assert_no_error (error);
  g_assert_true (g_str_has_prefix (kept->name, b->name));
  g_free (kept->name);
  kept->name = g_strdup (b->name);
  g_assert_true (bw_design_equal (kept, b));
  assert_sound (second);
}

/* ---- finding -------------------------------------------------------------------- */

static gint64
add_named (BwLibrary  *library,
           const char *name,
           const char *yarn,
           const char *notes)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (BwDesign) design = bw_design_new ();
  gint64 id;

  g_free (design->name);
  design->name = g_strdup (name);
  g_free (design->yarn.name);
  design->yarn.name = g_strdup (yarn);
  g_free (design->notes);
  design->notes = g_strdup (notes);
  g_assert_true (bw_library_add (library, design, &id, &error));

  return id;
}

static void
assert_found (BwLibrary  *library,
              const char *typed,
              const char *names)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) entries = bw_library_search (library, typed, 50, &error);
  g_autoptr (GString) found = g_string_new (NULL);

  g_assert_no_error (error);
  for (guint i = 0; i < entries->len; i++)
    g_string_append_printf (found, "%s%s", i > 0 ? "," : "",
                            ((BwLibraryEntry *) g_ptr_array_index (entries, i))->name);
  g_assert_cmpstr (found->str, ==, names);
}

static void
test_search (Fixture       *fixture,
             gconstpointer  data)
{
  const char *const tags[] = { "winter", "children", "winter", NULL };
  BwLibrary *library = fixture->library;
  g_autoptr (GError) error = NULL;
  gint64 lugger = add_named (library, "Lugger", "Harbour Wool", "warm");
  gint64 cutter = add_named (library, "Café Cutter", "Quay Merino", "for cold ears");
  g_autoptr (BwDesign) design = NULL;
  g_autoptr (GPtrArray) stored = NULL;
  BwLibraryEdit edit = { .label = "Name" };

  (void) data;
  assert_found (library, "lug", "Lugger");
  assert_found (library, "LUGG harb", "Lugger");
  assert_found (library, "cafe", "Café Cutter");
  assert_found (library, "CAFÉ cut", "Café Cutter");
  assert_found (library, "quay", "Café Cutter");
  assert_found (library, "ears", "Café Cutter");
  assert_found (library, "ugger", "");
  assert_found (library, "", "");
  assert_found (library, "\"*) OR (name:", "");
  assert_found (library, "cut-caf", "Café Cutter");

  g_assert_true (bw_library_set_tags (library, cutter, tags, &error));
  g_assert_no_error (error);
  assert_found (library, "child", "Café Cutter");
  stored = bw_library_get_tags (library, cutter, &error);
  g_assert_cmpuint (stored->len, ==, 2);
  g_assert_cmpstr (stored->pdata[0], ==, "children");
  g_assert_true (bw_library_set_tags (library, cutter, tags + 3, &error));
  assert_found (library, "child", "");

  design = bw_library_load (library, lugger, NULL, &error);
  g_free (design->name);
  design->name = g_strdup ("Yawl");
  g_assert_true (bw_library_save (library, lugger, design, &edit, &error));
  assert_found (library, "lug", "");
  assert_found (library, "yaw", "Yawl");
  g_assert_true (bw_library_undo (library, lugger, NULL, &error));
  assert_found (library, "lug", "Lugger");

  g_assert_true (bw_library_bin (library, lugger, &error));
  assert_found (library, "lug", "");
  g_assert_true (bw_library_unbin (library, lugger, &error));
  assert_found (library, "lug", "Lugger");
  assert_sound (library);
}

static void
test_find (Fixture       *fixture,
           gconstpointer  data)
{
  g_autoptr (GError) error = NULL;
  gint64 one = add_named (fixture->library, "Lugger", "", "");
  gint64 id = 0;

  (void) data;
  add_named (fixture->library, "Ketch", "", "");
  add_named (fixture->library, "KETCH", "", "");
  g_assert_true (bw_library_find (fixture->library, "lugger", &id, &error));
  g_assert_cmpint (id, ==, one);
  g_assert_true (bw_library_find (fixture->library, "2", &id, &error));
  g_assert_cmpint (id, ==, 2);
  g_assert_false (bw_library_find (fixture->library, "ketch", &id, &error));
  g_assert_error (error, BW_LIBRARY_ERROR, BW_LIBRARY_ERROR_EXISTS);
  g_clear_error (&error);
  g_assert_false (bw_library_find (fixture->library, "sloop", &id, &error));
  g_assert_error (error, BW_LIBRARY_ERROR, BW_LIBRARY_ERROR_MISSING);
}

static void
test_bin (Fixture       *fixture,
          gconstpointer  data)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (47);
  g_autoptr (GError) error = NULL;
  gint64 stays = add_random (fixture, rand);
  gint64 goes;
  g_autoptr (GPtrArray) states = save_many (fixture, rand, &goes, 3);
  const char *const tags[] = { "old", NULL };
  g_autoptr (GPtrArray) list = NULL;
  guint n_removed, n_kept;

  (void) data;
  (void) states;
  g_assert_true (bw_library_set_tags (fixture->library, goes, tags, &error));
  g_assert_true (bw_library_bin (fixture->library, goes, &error));
  list = bw_library_list (fixture->library, BW_LIBRARY_ORDER_NAME, TRUE, 0, &error);
  g_assert_cmpuint (list->len, ==, 1);
  g_assert_true (bw_library_empty_bin (fixture->library, FALSE, &n_removed, &n_kept, &error));
  g_assert_no_error (error);
  g_assert_cmpuint (n_removed, ==, 1);
  g_assert_cmpuint (n_kept, ==, 0);

  g_clear_pointer (&list, g_ptr_array_unref);
  list = bw_library_list (fixture->library, BW_LIBRARY_ORDER_CHANGED, FALSE, 0, &error);
  g_assert_cmpuint (list->len, ==, 1);
  g_assert_cmpint (((BwLibraryEntry *) list->pdata[0])->id, ==, stays);
  g_assert_false (bw_library_bin (fixture->library, goes, &error));
  g_assert_error (error, BW_LIBRARY_ERROR, BW_LIBRARY_ERROR_MISSING);
  assert_sound (fixture->library);
}

static void
test_colourways (Fixture       *fixture,
                 gconstpointer  data)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GRand) rand = g_rand_new_with_seed (48);
  gint64 id = add_random (fixture, rand);
  g_autoptr (BwDesign) design = bw_library_load (fixture->library, id, NULL, &error);
  g_autoptr (GArray) colours = g_array_new (FALSE, FALSE, sizeof (BwColour));
  BwColour foam = { (char *) "Foam", 0xf0f4f8 };
  g_autoptr (GPtrArray) names = NULL;

  (void) data;
  g_array_append_val (colours, foam);
  g_assert_true (bw_library_set_colourway (fixture->library, id, "Winter", colours, &error));
  g_assert_no_error (error);
  names = bw_library_get_colourways (fixture->library, id, &error);
  g_assert_cmpuint (names->len, ==, 1);
  g_assert_true (bw_library_apply_colourway (fixture->library, id, "Winter", design, &error));
  g_assert_cmpstr (g_array_index (design->colours, BwColour, 0).name, ==, "Foam");
  g_assert_cmphex (g_array_index (design->colours, BwColour, 0).rgb, ==, 0xf0f4f8);
  g_assert_false (bw_library_apply_colourway (fixture->library, id, "Summer", design, &error));
  g_assert_error (error, BW_LIBRARY_ERROR, BW_LIBRARY_ERROR_MISSING);
  g_clear_error (&error);
  g_assert_true (bw_library_set_colourway (fixture->library, id, "Winter", NULL, &error));
  g_clear_pointer (&names, g_ptr_array_unref);
  names = bw_library_get_colourways (fixture->library, id, &error);
  g_assert_cmpuint (names->len, ==, 0);
}

/* What SQL can state, SQL refuses; a design with such a value is not half saved. */
static void
test_refused (Fixture       *fixture,
              gconstpointer  data)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (49);
  g_autoptr (GError) error = NULL;
  gint64 id = add_random (fixture, rand);
  g_autoptr (BwDesign) before = bw_library_load (fixture->library, id, NULL, &error);
  g_autoptr (BwDesign) bad = bw_design_copy (before);
  BwLibraryEdit edit = { .label = "Bad" };
  BwReading reading = { BW_READING_STITCHES, 10.0, -1.0, FALSE, BW_LAID_RELAXED };

  (void) data;
  bad->brim.height_mm += 5.0;
  g_array_append_val (g_array_index (bad->swatches, BwSwatch, 0).readings, reading);
  g_assert_false (bw_library_save (fixture->library, id, bad, &edit, &error));
  g_assert_error (error, BW_LIBRARY_ERROR, BW_LIBRARY_ERROR_INVALID);
  assert_stored (fixture->library, id, before);

  g_assert_cmpint (sql_result (fixture->path, "UPDATE design SET terms = 'xx'"), ==,
                   SQLITE_CONSTRAINT);
  g_assert_cmpint (sql_result (fixture->path, "UPDATE design SET brim_colour = 'red'"), ==,
                   SQLITE_CONSTRAINT);
  g_assert_cmpint (sql_result (fixture->path, "INSERT INTO design_tag VALUES (999, 'x')"), ==,
                   SQLITE_CONSTRAINT);
  assert_sound (fixture->library);
}

int
main (int    argc,
      char **argv)
{
  g_test_init (&argc, &argv, NULL);

#define ADD(path, function) \
  g_test_add ("/library/store/" path, Fixture, NULL, fixture_set_up, function, fixture_tear_down)
  ADD ("schema", test_schema);
  ADD ("round-trip", test_round_trip);
  ADD ("unchanged", test_unchanged);
  ADD ("undo", test_undo);
  ADD ("undo-then-edit", test_undo_then_edit);
  ADD ("undo-merged", test_undo_merged);
  ADD ("undo-merged-away", test_undo_merged_away);
  ADD ("undo-small", test_undo_small);
  ADD ("conflict", test_conflict);
  ADD ("search", test_search);
  ADD ("find", test_find);
  ADD ("bin", test_bin);
  ADD ("colourways", test_colourways);
  ADD ("refused", test_refused);

  return g_test_run ();
}
