#pragma once

#include "bw-design-file.h"
#include "bw-grade.h"

/* A design of the tests' data, and its grading. */
static inline BwDesign *
read_design (const BwReference *reference,
             const char        *name)
{
  g_autofree char *path = g_test_build_filename (G_TEST_DIST, "data", "designs", name, NULL);
  g_autofree char *text = NULL;
  g_autoptr (GError) error = NULL;
  BwDesign *design;
  gsize length;

  g_file_get_contents (path, &text, &length, &error);
  g_assert_no_error (error);
  design = bw_design_from_text (reference, text, length, &error);
  g_assert_no_error (error);

  return design;
}

static inline BwGrading *
grade (const BwReference *reference,
       const BwDesign    *design)
{
  g_autoptr (GError) error = NULL;
  BwGrading *grading = bw_grade (reference, design, &error);

  g_assert_no_error (error);
  g_assert_false (grading->refused);

  return grading;
}
