#include "app-fixture.h"
#include "bw-document.h"

/* The document: edits, history, what is kept when something will not do, saving. */

typedef struct
{
  BwReference *reference;
  BwDocument  *document;
  guint        changes;
} Fixture;

static void
count_cb (Fixture *fixture)
{
  fixture->changes++;
}

static void
set_up (Fixture       *fixture,
        gconstpointer  data G_GNUC_UNUSED)
{
  fixture->reference = bw_reference_builtin (NULL);
  fixture->document = bw_document_new (fixture->reference, NULL, 0,
                                       fixture_design (fixture->reference, "lugger"));
  g_signal_connect_swapped (fixture->document, "changed", G_CALLBACK (count_cb), fixture);
}

static void
tear_down (Fixture       *fixture,
           gconstpointer  data G_GNUC_UNUSED)
{
  g_assert_finalize_object (fixture->document);
  bw_reference_free (fixture->reference);
}

static void
type (Fixture    *fixture,
      const char *place,
      const char *text)
{
  g_autoptr (GError) error = NULL;

  g_assert_true (bw_document_type (fixture->document, place, "it", text, &error));
  g_assert_no_error (error);
}

/* A grading of the document is what bw_grade() makes of its design. */
static void
assert_graded (Fixture *fixture)
{
  g_autoptr (BwGrading) grading = bw_grade (fixture->reference,
                                            bw_document_get_design (fixture->document), NULL);
  const BwGrading *shown = bw_document_get_grading (fixture->document);

  g_assert_cmpuint (grading->sizes->len, ==, shown->sizes->len);
  for (guint k = 0; k < grading->sizes->len; k++)
    {
      const BwGradedSize *a = grading->sizes->pdata[k];
      const BwGradedSize *b = shown->sizes->pdata[k];

      g_assert_cmpuint (a->body_stitches, ==, b->body_stitches);
      g_assert_cmpuint (a->crown_start, ==, b->crown_start);
      g_assert_cmpfloat (a->depth_mm, ==, b->depth_mm);
    }
}

static void
test_edit (Fixture       *fixture,
           gconstpointer  data G_GNUC_UNUSED)
{
  guint before = bw_document_get_graded_size (fixture->document)->body_stitches;

  type (fixture, "design:body-ease", "4 %");
  g_assert_cmpuint (fixture->changes, ==, 1);
  g_assert_cmpuint (bw_document_get_graded_size (fixture->document)->body_stitches, >, before);
  assert_graded (fixture);
  g_assert_cmpstr (bw_document_get_undo_label (fixture->document), ==, "change it");

  type (fixture, "design:body-ease", "4%");
  g_assert_cmpuint (fixture->changes, ==, 1);
}

/* Undoing all and doing all again is the identity, both ways. */
static void
test_undo (Fixture       *fixture,
           gconstpointer  data G_GNUC_UNUSED)
{
  static const char *const edits[][2] = {
    { "design:body-ease", "-4 %" }, { "brim:height", "2 in" }, { "band/0:stripe", "B 1, C 3" },
    { "crown:profile", "flat" }, { "finishing:pompom", "" }, { "colour/1:name", "Rust" },
    { "size/2:head", "46.5 cm" },
  };
  g_autoptr (BwDesign) first = bw_design_copy (bw_document_get_design (fixture->document));
  g_autoptr (BwDesign) last = NULL;

  for (guint i = 0; i < G_N_ELEMENTS (edits); i++)
    type (fixture, edits[i][0], edits[i][1]);
  last = bw_design_copy (bw_document_get_design (fixture->document));
  g_assert_false (bw_design_equal (first, last));

  for (guint i = 0; i < G_N_ELEMENTS (edits); i++)
    bw_document_undo (fixture->document);
  g_assert_null (bw_document_get_undo_label (fixture->document));
  g_assert_true (bw_design_equal (first, bw_document_get_design (fixture->document)));
  assert_graded (fixture);

  bw_document_undo (fixture->document);
  for (guint i = 0; i < G_N_ELEMENTS (edits); i++)
    bw_document_redo (fixture->document);
  g_assert_null (bw_document_get_redo_label (fixture->document));
  g_assert_true (bw_design_equal (last, bw_document_get_design (fixture->document)));

  bw_document_undo (fixture->document);
  type (fixture, "brim:height", "5 cm");
  g_assert_null (bw_document_get_redo_label (fixture->document));
}

/* Typing in one entry is one step; going back closes it. */
static void
test_merge (Fixture       *fixture,
            gconstpointer  data G_GNUC_UNUSED)
{
  g_autoptr (BwDesign) first = bw_design_copy (bw_document_get_design (fixture->document));

  type (fixture, "brim:height", "4 cm");
  type (fixture, "brim:height", "4.5 cm");
  bw_document_undo (fixture->document);
  g_assert_true (bw_design_equal (first, bw_document_get_design (fixture->document)));
  g_assert_null (bw_document_get_undo_label (fixture->document));

  bw_document_redo (fixture->document);
  type (fixture, "brim:height", "5 cm");
  bw_document_undo (fixture->document);
  g_assert_cmpfloat (bw_document_get_design (fixture->document)->brim.height_mm, ==, 45);
}

/* What cannot be read changes nothing. */
static void
test_unreadable (Fixture       *fixture,
                 gconstpointer  data G_GNUC_UNUSED)
{
  static const char *const bad[][2] = {
    { "brim:height", "tall" }, { "brim:height", "4 m" }, { "band/0:stripe", "Z 2" },
    { "band/0:stripe", "A" }, { "brim:colour", "D" },
    { "size/1:head", "1 cm" }, { "design:body-swatch", "none" },
  };
  g_autoptr (BwDesign) first = bw_design_copy (bw_document_get_design (fixture->document));

  for (guint i = 0; i < G_N_ELEMENTS (bad); i++)
    {
      g_autoptr (GError) error = NULL;

      g_assert_false (bw_document_type (fixture->document, bad[i][0], "it", bad[i][1], &error));
      g_assert_nonnull (error);
      g_assert_true (bw_design_equal (first, bw_document_get_design (fixture->document)));
    }
  g_assert_cmpuint (fixture->changes, ==, 0);
}

/* A family that is refused is the design now, but the last good grading stays. */
static void
test_refused (Fixture       *fixture,
              gconstpointer  data G_GNUC_UNUSED)
{
  guint before = bw_document_get_graded_size (fixture->document)->body_stitches;

  type (fixture, "rules:girth-limit", "0.1 mm");
  if (!bw_document_get_latest (fixture->document)->refused)
    {
      g_test_fail_printf ("a limit of 0.1 mm was expected to be refused");
      return;
    }

  g_assert_cmpuint (bw_document_get_latest (fixture->document)->findings->len, >, 0);
  g_assert_true (bw_document_is_stale (fixture->document));
  g_assert_cmpuint (bw_document_get_graded_size (fixture->document)->body_stitches, ==, before);

  bw_document_undo (fixture->document);
  g_assert_false (bw_document_is_stale (fixture->document));
  assert_graded (fixture);
}

static void
test_faults (Fixture       *fixture,
             gconstpointer  data G_GNUC_UNUSED)
{
  bw_document_set_fault (fixture->document, "brim:height", TRUE);
  bw_document_set_fault (fixture->document, "brim:height", TRUE);
  g_assert_cmpuint (bw_document_get_n_faults (fixture->document), ==, 1);
  g_assert_true (bw_document_is_stale (fixture->document));
  bw_document_set_fault (fixture->document, "brim:height", FALSE);
  g_assert_false (bw_document_is_stale (fixture->document));
}

/* The chosen size is kept by its name where sizes come and go. */
static void
test_size (Fixture       *fixture,
           gconstpointer  data G_GNUC_UNUSED)
{
  g_autofree char *id = NULL;
  BwDesign *design;

  bw_document_set_size (fixture->document, 3);
  id = g_strdup (bw_document_get_graded_size (fixture->document)->choice->size->id);
  bw_document_set_round (fixture->document, 5);
  g_assert_cmpint (bw_document_get_round (fixture->document), ==, 5);

  design = bw_design_copy (bw_document_get_design (fixture->document));
  g_array_remove_index (design->sizes, 0);
  g_assert_true (bw_document_edit (fixture->document, design, "remove a size", NULL, NULL));
  g_assert_cmpuint (bw_document_get_size (fixture->document), ==, 2);
  g_assert_cmpstr (bw_document_get_graded_size (fixture->document)->choice->size->id, ==, id);

  bw_document_set_round (fixture->document, 100000);
  g_assert_cmpint (bw_document_get_round (fixture->document), ==, -1);
}

/* Saved a moment after the edit, and at once when the document is let go. */
static void
test_saving (void)
{
  g_autofree char *path = fixture_library_path ();
  BwReference *reference = bw_reference_builtin (NULL);
  BwLibrary *library = bw_library_open (path, BW_LIBRARY_OPEN_CREATE, NULL);
  g_autoptr (BwDesign) design = fixture_design (reference, "lugger");
  g_autoptr (BwDesign) stored = NULL;
  g_autoptr (BwDesign) again = NULL;
  BwDocument *document;
  gint64 id;

  g_assert_true (bw_library_add (library, design, &id, NULL));
  document = bw_document_new (reference, library, id, bw_design_copy (design));
  g_assert_true (bw_document_type (document, "brim:height", "Height", "5 cm", NULL));
  g_assert_false (bw_document_is_saved (document));
  fixture_wait (50);
  g_assert_true (bw_document_is_saved (document));
  stored = bw_library_load (library, id, NULL, NULL);
  g_assert_cmpfloat (stored->brim.height_mm, ==, 50);

  g_assert_true (bw_document_type (document, "brim:height", "Height", "6 cm", NULL));
  g_assert_finalize_object (document);
  again = bw_library_load (library, id, NULL, NULL);
  g_assert_cmpfloat (again->brim.height_mm, ==, 60);

  bw_library_close (library);
  bw_reference_free (reference);
  fixture_remove (path);
}

/* A library that cannot be written loses nothing that was typed. */
static void
test_read_only (void)
{
  g_autofree char *path = fixture_library_path ();
  BwReference *reference = bw_reference_builtin (NULL);
  BwLibrary *library = bw_library_open (path, BW_LIBRARY_OPEN_CREATE, NULL);
  g_autoptr (BwDesign) design = fixture_design (reference, "lugger");
  g_autoptr (GError) error = NULL;
  BwDocument *document;
  gint64 id;

  g_assert_true (bw_library_add (library, design, &id, NULL));
  bw_library_close (library);
  library = bw_library_open (path, BW_LIBRARY_OPEN_READ_ONLY, NULL);
  document = bw_document_new (reference, library, id, bw_design_copy (design));
  g_assert_true (bw_document_type (document, "brim:height", "Height", "5 cm", NULL));
  g_assert_false (bw_document_save (document, &error));
  g_assert_nonnull (error);
  g_assert_nonnull (bw_document_get_trouble (document));
  g_assert_cmpfloat (bw_document_get_design (document)->brim.height_mm, ==, 50);
  g_assert_false (bw_document_is_saved (document));

  g_assert_finalize_object (document);
  bw_library_close (library);
  bw_reference_free (reference);
  fixture_remove (path);
}

int
main (int    argc,
      char **argv)
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);

#define ADD(name, function) \
  g_test_add ("/app/document/" name, Fixture, NULL, set_up, function, tear_down)
  ADD ("edit", test_edit);
  ADD ("undo", test_undo);
  ADD ("merge", test_merge);
  ADD ("unreadable", test_unreadable);
  ADD ("refused", test_refused);
  ADD ("faults", test_faults);
  ADD ("size", test_size);
  g_test_add_func ("/app/document/saving", test_saving);
  g_test_add_func ("/app/document/read-only", test_read_only);

  return g_test_run ();
}
