#include "graded.h"
#include "library-fixture.h"

#include "bw-library-revision.h"

static gint64
add_and_revise (Fixture   *fixture,
                BwDesign **design)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (BwGrading) grading = NULL;
  gint64 id = 0;
  guint number = 0;

  *design = read_design (fixture->reference, "oracle.hat");
  g_assert_true (bw_library_add (fixture->library, *design, &id, &error));
  g_assert_no_error (error);
  grading = grade (fixture->reference, *design);
  g_assert_true (bw_library_revise (fixture->library, id, grading, "First", &number, &error));
  g_assert_no_error (error);
  g_assert_cmpuint (number, ==, 1);

  return id;
}

static guint
revise (Fixture        *fixture,
        gint64          id,
        const BwDesign *design,
        const char     *note)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (BwGrading) grading = grade (fixture->reference, design);
  guint number = 0;

  g_assert_true (bw_library_revise (fixture->library, id, grading, note, &number, &error));
  g_assert_no_error (error);

  return number;
}

/* The text reads back as the design, and every round of every size is there. */
static void
test_snapshot (Fixture       *fixture,
               gconstpointer  data)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (BwDesign) design = NULL;
  gint64 id = add_and_revise (fixture, &design);
  g_autoptr (BwGrading) grading = grade (fixture->reference, design);
  g_autofree char *text = bw_library_get_revision_text (fixture->library, id, 1, &error);
  g_autoptr (BwDesign) back = bw_design_from_text (fixture->reference, text, strlen (text), &error);
  g_autoptr (GPtrArray) revisions = bw_library_get_revisions (fixture->library, id, &error);
  g_autofree char *n_rounds = sql_text (fixture->path, "SELECT count (*) FROM revision_round");
  guint expected = 0;

  (void) data;
  g_assert_no_error (error);
  g_assert_true (bw_design_equal (design, back));
  g_assert_cmpuint (revisions->len, ==, 1);
  g_assert_cmpstr (((BwRevision *) revisions->pdata[0])->note, ==, "First");
  for (guint i = 0; i < grading->sizes->len; i++)
    expected += ((BwGradedSize *) grading->sizes->pdata[i])->rounds->rounds->len;
  g_assert_cmpuint (expected, >, 100);
  g_assert_cmpint (g_ascii_strtoll (n_rounds, NULL, 10), ==, expected);
  g_assert_null (bw_library_get_revision_text (fixture->library, id, 2, &error));
  g_assert_error (error, BW_LIBRARY_ERROR, BW_LIBRARY_ERROR_MISSING);
  assert_sound (fixture->library);
}

/* Not even with plain SQL, on any connection, in any of the ways there are. */
static void
test_unalterable (Fixture       *fixture,
                  gconstpointer  data)
{
  static const char *const attempts[] = {
    "UPDATE revision SET note = 'better'",
    "UPDATE revision SET design_text = design_text || ' '",
    "DELETE FROM revision",
    "DELETE FROM revision_size WHERE place = 0",
    "UPDATE revision_size SET girth_mm = girth_mm + 1",
    "UPDATE revision_round SET stitches_out = stitches_out + 1",
    "UPDATE revision_round SET instruction = 'dc' WHERE place = 3",
    "DELETE FROM revision_round WHERE place = 3",
    "INSERT INTO revision_round SELECT revision, size, place + 1000, section, is_row, number,"
    " colour,"
    " instruction, stitches_in, stitches_out, height_mm, yarn_m FROM revision_round",
    "INSERT OR REPLACE INTO revision_round SELECT revision, size, place, section, is_row, number,"
    " colour,"
    " 'dc', stitches_in, stitches_out, height_mm, yarn_m FROM revision_round",
    "INSERT OR REPLACE INTO revision_size SELECT revision, place, size, 'XXL', head_mm, girth_mm,"
    " depth_mm,"
    " brim_mm, brim_rows, brim_stitches, body_stitches, yarn_m FROM revision_size",
    "INSERT OR REPLACE INTO revision SELECT id, uuid, design, number, made_at, 'x', name,"
    " design_text FROM revision",
    "INSERT OR REPLACE INTO revision SELECT id + 1, uuid || 'x', design, number, made_at, 'x',"
    " name, design_text"
    " FROM revision",
    "PRAGMA recursive_triggers = OFF; REPLACE INTO revision SELECT id, uuid, design, number,"
    " made_at, 'x', name,"
    " design_text FROM revision",
  };
  g_autoptr (BwDesign) design = NULL;
  g_autofree char *before = NULL;
  g_autofree char *after = NULL;
  static const char whole[] =
    "SELECT (SELECT group_concat (instruction || stitches_out || place) FROM revision_round)"
    " || (SELECT group_concat (name || girth_mm) FROM revision_size)"
    " || (SELECT group_concat (note || design_text || number) FROM revision)";

  (void) data;
  add_and_revise (fixture, &design);
  before = sql_text (fixture->path, whole);
  for (gsize i = 0; i < G_N_ELEMENTS (attempts); i++)
    {
      g_test_message ("%s", attempts[i]);
      g_assert_cmpint (sql_result (fixture->path, attempts[i]), ==, SQLITE_CONSTRAINT);
    }
  after = sql_text (fixture->path, whole);
  g_assert_cmpstr (before, ==, after);
}

static void
test_refused (Fixture       *fixture,
              gconstpointer  data)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (BwDesign) design = NULL;
  gint64 id = add_and_revise (fixture, &design);
  BwGrading grading = { .reference = fixture->reference, .design = design, .refused = TRUE };
  guint number = 0;

  (void) data;
  g_assert_false (bw_library_revise (fixture->library, id, &grading, "", &number, &error));
  g_assert_error (error, BW_LIBRARY_ERROR, BW_LIBRARY_ERROR_INVALID);
}

/* A deeper brim: other rows in every size, and nothing else told as changed. */
static void
test_corrections (Fixture       *fixture,
                  gconstpointer  data)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (BwDesign) design = NULL;
  gint64 id = add_and_revise (fixture, &design);
  g_autoptr (GPtrArray) none = NULL;
  g_autoptr (GPtrArray) some = NULL;
  g_autoptr (GPtrArray) back = NULL;
  guint n_changed = 0;

  (void) data;
  g_assert_cmpuint (revise (fixture, id, design, "The same again"), ==, 2);
  none = bw_library_corrections (fixture->library, id, 1, 2, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (none->len, ==, 0);

  design->body_ease.fraction -= 0.05;
  g_assert_cmpuint (revise (fixture, id, design, "Closer"), ==, 3);
  some = bw_library_corrections (fixture->library, id, 1, 3, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (some->len, >, design->sizes->len);
  for (guint i = 0; i < some->len; i++)
    {
      const BwCorrection *correction = some->pdata[i];

      g_assert_cmpstr (correction->size, !=, "");
      g_assert_cmpstr (correction->section, !=, "");
      if (correction->kind == BW_CORRECTION_CHANGED)
        {
          n_changed++;
          g_assert_true (!g_str_equal (correction->was, correction->is) ||
                         correction->was_stitches != correction->is_stitches ||
                         correction->was_colour != correction->is_colour);
        }
    }
  g_assert_cmpuint (n_changed, >, 0);

  back = bw_library_corrections (fixture->library, id, 3, 1, &error);
  g_assert_cmpuint (back->len, ==, some->len);
  g_assert_null (bw_library_corrections (fixture->library, id, 1, 9, &error));
  g_assert_error (error, BW_LIBRARY_ERROR, BW_LIBRARY_ERROR_MISSING);
}

/* One round added to one size by hand: it alone is told. */
static void
test_one_round (Fixture       *fixture,
                gconstpointer  data)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (BwDesign) design = NULL;
  gint64 id = add_and_revise (fixture, &design);
  g_autoptr (BwGrading) grading = grade (fixture->reference, design);
  BwGradedSize *size = grading->sizes->pdata[1];
  g_autoptr (GPtrArray) corrections = NULL;
  const BwCorrection *correction;
  guint number, at = 0;
  BwRound *round;

  (void) data;
  while (g_array_index (size->rounds->rounds, BwRound, at).section != BW_SECTION_BAND)
    at++;
  round = &g_array_index (size->rounds->rounds, BwRound, at + 2);
  round->stitches_out++;
  g_assert_true (bw_library_revise (fixture->library, id, grading, "One", &number, &error));
  corrections = bw_library_corrections (fixture->library, id, 1, 2, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (corrections->len, ==, 1);
  correction = corrections->pdata[0];
  g_assert_cmpint (correction->kind, ==, BW_CORRECTION_CHANGED);
  g_assert_cmpstr (correction->size, ==, size->choice->size->name);
  g_assert_cmpstr (correction->section, ==, bw_section_id (BW_SECTION_BAND));
  g_assert_cmpuint (correction->number, ==, round->number);
  g_assert_cmpuint (correction->is_stitches, ==, correction->was_stitches + 1);
}

static void
test_sizes (Fixture       *fixture,
            gconstpointer  data)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (BwDesign) design = NULL;
  gint64 id = add_and_revise (fixture, &design);
  g_autoptr (GPtrArray) corrections = NULL;
  guint n = design->sizes->len;
  guint n_removed = 0;

  (void) data;
  g_array_set_size (design->sizes, n - 1);
  revise (fixture, id, design, "Without the largest");
  corrections = bw_library_corrections (fixture->library, id, 1, 2, &error);
  for (guint i = 0; i < corrections->len; i++)
    n_removed += ((BwCorrection *) corrections->pdata[i])->kind == BW_CORRECTION_SIZE_REMOVED;
  g_assert_cmpuint (n_removed, ==, 1);
}

/* What was published goes only with its whole design, and only when told to. */
static void
test_bin (Fixture       *fixture,
          gconstpointer  data)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (BwDesign) design = NULL;
  gint64 id = add_and_revise (fixture, &design);
  g_autofree char *left = NULL;
  guint n_removed, n_kept;

  (void) data;
  g_assert_true (bw_library_bin (fixture->library, id, &error));
  g_assert_true (bw_library_empty_bin (fixture->library, FALSE, &n_removed, &n_kept, &error));
  g_assert_cmpuint (n_removed, ==, 0);
  g_assert_cmpuint (n_kept, ==, 1);
  g_assert_cmpint (sql_result (fixture->path, "UPDATE revision SET note = 'x'"), ==,
                   SQLITE_CONSTRAINT);
  g_assert_true (bw_library_empty_bin (fixture->library, TRUE, &n_removed, &n_kept, &error));
  g_assert_no_error (error);
  g_assert_cmpuint (n_removed, ==, 1);
  left = sql_text (fixture->path, "SELECT count (*) FROM revision_round");
  g_assert_cmpstr (left, ==, "0");
  assert_sound (fixture->library);
}

int
main (int    argc,
      char **argv)
{
  g_test_init (&argc, &argv, NULL);

#define ADD(path, function) \
  g_test_add ("/library/revision/" path, Fixture, NULL, fixture_set_up, function, fixture_tear_down)
  ADD ("snapshot", test_snapshot);
  ADD ("unalterable", test_unalterable);
  ADD ("refused", test_refused);
  ADD ("corrections", test_corrections);
  ADD ("one-round", test_one_round);
  ADD ("sizes", test_sizes);
  ADD ("bin", test_bin);

  return g_test_run ();
}
