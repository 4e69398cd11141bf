#pragma once

/* Families to draw, read from the demo designs and those of the tests. */

#include <string.h>

#include "bw-design-file.h"
#include "bw-grade.h"
#include "bw-reference-builtin.h"

static const char *const demo_families[] = { "coble", "lugger", "smack" };

static inline BwGrading *
family_grade (const BwReference *reference,
              const char        *text)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (BwDesign) design = bw_design_from_text (reference, text, strlen (text), &error);
  BwGrading *grading;

  g_assert_no_error (error);
  grading = bw_grade (reference, design, &error);
  g_assert_no_error (error);
  g_assert_false (grading->refused);
  return grading;
}

static inline char *
family_text (const char *folder,
             const char *name)
{
  g_autofree char *file = g_strconcat (name, ".hat", NULL);
  g_autofree char *path = g_test_build_filename (G_TEST_DIST, folder, file, NULL);
  g_autoptr (GError) error = NULL;
  char *text;

  g_file_get_contents (path, &text, NULL, &error);
  g_assert_no_error (error);
  return text;
}

static inline BwGrading *
family_demo (const BwReference *reference,
             const char        *name)
{
  g_autofree char *text = family_text ("../data/designs", name);

  return family_grade (reference, text);
}

static inline const BwGradedSize *
family_size (const BwGrading *grading,
             guint            size)
{
  return g_ptr_array_index (grading->sizes, size);
}

/* Lugger in twelve sizes. */
static inline BwGrading *
family_twelve (const BwReference *reference)
{
  g_autofree char *text = family_text ("../data/designs", "lugger");
  g_auto (GStrv) parts = g_strsplit (text, "use=newborn; baby-6m; baby-12m; toddler; child; "
                                           "adult-s;", 2);
  g_autofree char *twelve = NULL;
  BwGrading *grading;

  g_assert_cmpuint (g_strv_length (parts), ==, 2);
  twelve = g_strjoin ("use=newborn; baby-3m; baby-6m; baby-12m; toddler; child; child-l; teen; "
                      "adult-s; adult-xl;", parts[0], parts[1], NULL);
  grading = family_grade (reference, twelve);
  g_assert_cmpuint (grading->sizes->len, ==, 12);
  return grading;
}
