#include <glib.h>

#include "bw-publish-kind.h"
#include "charts.h"

/* Charts and schematics as kinds of files: in the edition's terms, for its size, the same
 * bytes again. */

static GBytes *
make (const BwGrading *grading,
      const BwEdition *edition,
      const char      *name)
{
  const BwPublishKind *kind = bw_publish_kind_find (name);
  g_autoptr (GError) error = NULL;
  gsize length = 0;
  char *bytes;

  g_assert_nonnull (kind);
  bytes = kind->make (grading, edition, &length, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (length, >, 1000);
  return g_bytes_new_take (bytes, length);
}

static gboolean
says (GBytes     *bytes,
      const char *words)
{
  return g_strstr_len (g_bytes_get_data (bytes, NULL), (gssize) g_bytes_get_size (bytes),
                       words) != NULL;
}

static void
test_terms (void)
{
  g_autoptr (BwGrading) grading = family_demo (reference, "smack");
  g_autoptr (BwEdition) edition = bw_edition_new (grading->design, 0);
  g_autoptr (GBytes) uk = NULL;
  g_autoptr (GBytes) us = NULL;
  g_autoptr (GBytes) again = NULL;

  edition->terms = BW_TERMS_UK;
  uk = make (grading, edition, "charts");
  again = make (grading, edition, "charts");
  edition->terms = BW_TERMS_US;
  us = make (grading, edition, "charts");
  g_assert_true (says (uk, "[FPtr, BPtr]"));
  g_assert_true (says (us, "[FPdc, BPdc]"));
  g_assert_false (says (us, "FPtr"));
  g_assert_true (g_bytes_equal (uk, again));
}

static void
test_sizes (void)
{
  g_autoptr (BwGrading) grading = family_demo (reference, "smack");
  g_autoptr (BwEdition) edition = bw_edition_new (grading->design, 0);
  g_autoptr (GBytes) small = NULL;
  g_autoptr (GBytes) large = NULL;
  g_autoptr (GBytes) all = NULL;

  edition->size = 0;
  small = make (grading, edition, "charts");
  edition->size = 2;
  large = make (grading, edition, "charts");
  edition->size = BW_EDITION_ALL_SIZES;
  all = make (grading, edition, "schematic");
  g_assert_true (says (small, "<title>Smack, Small</title>"));
  g_assert_true (says (large, "<title>Smack, Large</title>"));
  g_assert_true (says (all, "size Medium"));
}

/* Each form and format is a file of its own. */
static void
test_forms (void)
{
  static const char *const names[] = { "charts", "charts-png", "schematic", "schematic-png" };
  g_autoptr (BwGrading) grading = family_demo (reference, "coble");
  g_autoptr (BwEdition) edition = bw_edition_new (grading->design, 0);

  for (guint i = 0; i < G_N_ELEMENTS (names); i++)
    {
      g_autoptr (GBytes) normal = NULL;
      g_autoptr (GBytes) large = NULL;
      const char *data;

      edition->form = BW_FORM_NORMAL;
      normal = make (grading, edition, names[i]);
      edition->form = BW_FORM_LARGE_PRINT;
      large = make (grading, edition, names[i]);
      g_assert_false (g_bytes_equal (normal, large));
      data = g_bytes_get_data (normal, NULL);
      g_assert_true (g_str_has_suffix (names[i], "-png") ? memcmp (data + 1, "PNG", 3) == 0
                                                         : g_str_has_prefix (data, "<?xml"));
    }
}

/* Ends of names tell the kinds apart. */
static void
test_endings (void)
{
  g_assert_cmpstr (bw_publish_kind_for_file ("hats.v2/Coble.SVG")->name, ==, "charts");
  g_assert_cmpstr (bw_publish_kind_for_file ("coble.png")->name, ==, "charts-png");
}

int
main (int   argc,
      char *argv[])
{
  g_autoptr (GError) error = NULL;
  int status;

  g_test_init (&argc, &argv, NULL);
  reference = bw_reference_builtin (&error);
  g_assert_no_error (error);

  g_test_add_func ("/publish-picture/terms", test_terms);
  g_test_add_func ("/publish-picture/sizes", test_sizes);
  g_test_add_func ("/publish-picture/forms", test_forms);
  g_test_add_func ("/publish-picture/endings", test_endings);

  status = g_test_run ();
  bw_reference_free (reference);
  return status;
}
