#include "graded.h"
#include "library-fixture.h"

#include "bw-library-demo.h"
#include "bw-library-gauge.h"
#include "bw-library-revision.h"

static void
assert_count (Fixture    *fixture,
              const char *sql,
              const char *wanted)
{
  g_autofree char *found = sql_text (fixture->path, sql);

  g_assert_cmpstr (found, ==, wanted);
}

static void
test_contents (Fixture       *fixture,
               gconstpointer  data)
{
  g_autoptr (GError) error = NULL;

  (void) data;
  g_assert_true (bw_library_fill_demo (fixture->library, fixture->reference, &error));
  g_assert_no_error (error);
  assert_sound (fixture->library);
  assert_count (fixture, "SELECT count (*) FROM design", "12");
  assert_count (fixture, "SELECT count (*) FROM yarn", "6");
  assert_count (fixture, "SELECT count (*) FROM swatch", "40");
  assert_count (fixture, "SELECT min (n) || '-' || max (n) FROM (SELECT count (*) AS n"
                         " FROM reading GROUP BY swatch)",
                "4-8");
  assert_count (fixture,
                "SELECT count (*) FROM (SELECT swatch FROM reading WHERE laid = 'relaxed'"
                " GROUP BY swatch HAVING count (DISTINCT washed) = 2)",
                "2");
  assert_count (fixture, "SELECT max (number) || ' ' || count (DISTINCT design) FROM revision",
                "3 1");
  assert_count (fixture, "SELECT count (*) FROM design WHERE designer NOT LIKE '%invented%'", "0");
  assert_count (fixture, "SELECT count (*) FROM yarn WHERE name NOT LIKE 'Invented %'", "0");
  assert_count (fixture, "SELECT count (*) > 8 FROM (SELECT DISTINCT yarn, hook_mm FROM swatch)",
                "1");
}

/* Each design of it can be graded with the library's own swatches. */
static void
test_grades (Fixture       *fixture,
             gconstpointer  data)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) list = NULL;
  guint n_from = 0;

  (void) data;
  g_assert_true (bw_library_fill_demo (fixture->library, fixture->reference, &error));
  list = bw_library_list (fixture->library, BW_LIBRARY_ORDER_NAME, FALSE, 0, &error);
  for (guint i = 0; i < list->len; i++)
    {
      const BwLibraryEntry *entry = list->pdata[i];
      g_autoptr (BwDesign) design = bw_library_load (fixture->library, entry->id, NULL, &error);
      g_autoptr (BwGrading) grading = NULL;

      for (guint k = 0; k < design->swatches->len; k++)
        n_from += g_array_index (design->swatches, BwSwatch, k).from[0] != '\0';
      g_assert_true (bw_library_resolve_swatches (fixture->library, design, &error));
      g_assert_no_error (error);
      g_test_message ("%s", entry->name);
      grading = grade (fixture->reference, design);
      for (guint k = 0; k < grading->findings->len; k++)
        g_assert_cmpint (g_array_index (grading->findings, BwFinding, k).severity, <,
                         BW_SEVERITY_ERROR);
    }
  g_assert_cmpuint (n_from, >=, 18);
}

static void
test_corrections (Fixture       *fixture,
                  gconstpointer  data)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) corrections = NULL;
  gint64 id;

  (void) data;
  g_assert_true (bw_library_fill_demo (fixture->library, fixture->reference, &error));
  g_assert_true (bw_library_find (fixture->library, "Ketch", &id, &error));
  corrections = bw_library_corrections (fixture->library, id, 1, 2, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (corrections->len, >, 0);
}

int
main (int    argc,
      char **argv)
{
  g_test_init (&argc, &argv, NULL);

#define ADD(path, function) \
  g_test_add ("/library/demo/" path, Fixture, NULL, fixture_set_up, function, fixture_tear_down)
  ADD ("contents", test_contents);
  ADD ("grades", test_grades);
  ADD ("corrections", test_corrections);

  return g_test_run ();
}
