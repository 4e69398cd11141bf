#pragma once

#include <math.h>

#include "bw-error.h"
#include "bw-grade.h"
#include "bw-reference-builtin.h"
#include "hats.h"

/* What the tests of grading by hand share: a worked example, and looking things
 * up in what comes out. */

static BwReference *reference;

static inline BwGrading *
grade (const BwDesign *design)
{
  g_autoptr (GError) error = NULL;
  BwGrading *grading = bw_grade (reference, design, &error);

  g_assert_no_error (error);
  return grading;
}

static inline BwGrading *
grade_well (const BwDesign *design)
{
  BwGrading *grading = grade (design);

  g_assert_false (grading->refused);
  g_assert_cmpuint (grading->sizes->len, ==, design->sizes->len);
  return grading;
}

static inline const BwGradedSize *
size_of (const BwGrading *grading,
         guint            k)
{
  return g_ptr_array_index (grading->sizes, k);
}

static inline const BwFinding *
find (const BwGrading *grading,
      BwFindingKind    kind,
      int              size)
{
  for (guint i = 0; i < grading->findings->len; i++)
    {
      const BwFinding *finding = &g_array_index (grading->findings, BwFinding, i);

      if (finding->kind == kind && (size < 0 || finding->size == size))
        return finding;
    }

  return NULL;
}

static inline guint
count_findings (const BwGrading *grading,
                BwFindingKind    kind)
{
  guint n = 0;

  for (guint i = 0; i < grading->findings->len; i++)
    n += g_array_index (grading->findings, BwFinding, i).kind == kind;
  return n;
}

/* Rounds of a section; `index` is the number of the band, or -1 for any. */
static inline guint
count_rounds (const BwGradedSize *size,
              BwSection           section,
              int                 band)
{
  guint n = 0;

  for (guint i = 0; i < size->rounds->rounds->len; i++)
    {
      const BwRound *round = &g_array_index (size->rounds->rounds, BwRound, i);

      n += round->section == section && (band < 0 || round->band == band);
    }

  return n;
}

static inline const BwRound *
last_round (const BwGradedSize *size,
            BwSection           section)
{
  const BwRound *last = NULL;

  for (guint i = 0; i < size->rounds->rounds->len; i++)
    if (g_array_index (size->rounds->rounds, BwRound, i).section == section)
      last = &g_array_index (size->rounds->rounds, BwRound, i);

  g_assert_nonnull (last);
  return last;
}

static inline void
assert_bodies (const BwGrading *grading,
               const guint     *wanted)
{
  for (guint k = 0; k < grading->sizes->len; k++)
    g_assert_cmpuint (size_of (grading, k)->body_stitches, ==, wanted[k]);
}

/* --- The worked example --- */

/* Five sizes at an invented gauge: body 15.0 sts and 11.5 rounds, brim 27 rows
 * to 10 cm, ease -7 %, brim 0.82 of the head (worked out, no source). Girth
 * alone rules: depth and adjusting cost next to nothing. */
static inline BwDesign *
worked_example (void)
{
  static const double heads[] = { 480, 510, 540, 570, 600 };
  static const char *const ids[] = { "toddler", "child", "adult-s", "adult-m", "adult-l" };
  BwDesign *design = hat_new ();

  hat_add_swatch (design, "body", "plain-low", 15.0, 11.5);
  hat_add_swatch (design, "brim", "slip-rib", 0, 27);
  hat_set_brim (design, BW_BRIM_SLIP_RIB, "brim", 50);
  hat_add_band (design, "post-rib", BW_BAND_REPEATS, 4);
  design->body_ease = (BwEase) { -0.07, 0 };
  design->brim_ease = (BwEase) { -0.18, 0 };
  design->rules.depth_tolerance_mm = 200;
  design->rules.adjust_weight = 0;
  for (guint k = 0; k < G_N_ELEMENTS (heads); k++)
    hat_add_size (design, ids[k], heads[k], heads[k] * 0.38);
  return design;
}
