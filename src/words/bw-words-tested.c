#define G_LOG_DOMAIN "bw-words"

#include "bw-words-private.h"

#include <math.h>
#include <string.h>

#include "bw-words-sheet.h"

/* What a tester measured beside what was computed. Makers differ in tension far
 * more than readings of one swatch do, so the girth is also compared with what
 * the tester's own stitches make it: what is left then is the pattern's. */

/* A common difference that is worth looking for; common practice, no source. */
#define SHARED_MM 5.0

static void
add_item (GPtrArray  *blocks,
          const char *lead,
          const char *text)
{
  bw_words_add_block (blocks, BW_BLOCK_ITEM, lead, text);
}

/* "1.6 cm more", "0.4 cm less", "the same" */
static char *
difference (const BwDesign *design,
            double          mm)
{
  g_autofree char *length = bw_words_length (design, fabs (mm));
  g_autofree char *nothing = bw_words_length (design, 0);

  if (g_str_equal (length, nothing))
    return g_strdup (_("the same"));
  return g_strdup_printf (mm > 0 ? _("%s more") : _("%s less"), length);
}

static char *
difference_in_percent (double is,
                       double should)
{
  double fraction = is / should - 1;
  g_autofree char *percent = bw_words_percent (fabs (fraction), 0);

  if (fabs (fraction) < 0.005)
    return g_strdup (_("the same"));
  return g_strdup_printf (fraction > 0 ? _("%s more") : _("%s less"), percent);
}

static void
add_length (GPtrArray       *blocks,
            const BwGrading *grading,
            const char      *lead,
            double           is,
            double           should)
{
  g_autofree char *a = bw_words_length (grading->design, is);
  g_autofree char *b = bw_words_length (grading->design, should);
  /* What a tape shows as one is the same */
  g_autofree char *apart = difference (grading->design, g_str_equal (a, b) ? 0 : is - should);
  g_autofree char *text = g_strdup_printf (_("%s; worked out %s: %s"), a, b, apart);

  if (is > 0)
    add_item (blocks, lead, text);
}

/* Twenty stitches of the tester's and of the swatch's. */
static void
add_tension (GPtrArray       *blocks,
             const BwGrading *grading,
             const char      *lead,
             double           is,
             double           should)
{
  g_autofree char *a = bw_words_length (grading->design, BW_SHEET_SPAN * is);
  g_autofree char *b = bw_words_length (grading->design, BW_SHEET_SPAN * should);
  g_autofree char *percent = NULL;
  g_autofree char *text = NULL;
  double looser;

  if (is <= 0 || should <= 0)
    return;
  looser = is / should - 1;
  percent = bw_words_percent (fabs (looser), 0);
  if (fabs (looser) < 0.005)
    text = g_strdup_printf (_("%s, as the swatch"), a);
  else
    text = g_strdup_printf (looser > 0 ? _("%s, %s looser than the swatch’s %s")
                                       : _("%s, %s tighter than the swatch’s %s"),
                            a, percent, b);
  add_item (blocks, lead, text);
}

/* What the girth differs by once the tester's own stitches are allowed for, mm. */
static double
left_over (const BwGradedSize *size,
           const BwTested     *tested)
{
  return tested->girth_mm - size->body_stitches * tested->stitch_mm;
}

static void
add_girth (GPtrArray          *blocks,
           const BwGrading    *grading,
           const BwGradedSize *size,
           const BwTested     *tested)
{
  double apart = tested->girth_mm - size->girth_mm;
  g_autofree char *own = bw_words_length (grading->design, size->body_stitches * tested->stitch_mm);
  g_autofree char *rest = NULL;
  g_autofree char *text = NULL;

  if (tested->girth_mm <= 0)
    return;
  add_length (blocks, grading, _("Girth"), tested->girth_mm, size->girth_mm);
  bw_words_add_block (blocks, BW_BLOCK_PARAGRAPH, "",
                      fabs (apart) <= size->girth_u95_mm
                        ? _("That is within what the swatch leaves open.")
                        : _("That is more than the swatch leaves open."));
  if (tested->stitch_mm <= 0)
    return;
  rest = difference (grading->design, left_over (size, tested));
  text = g_strdup_printf (_("At the tester’s own tension %u stitches make %s; measured against "
                            "that: %s."),
                          size->body_stitches, own, rest);
  bw_words_add_block (blocks, BW_BLOCK_PARAGRAPH, "", text);
}

static void
add_yarn (GPtrArray          *blocks,
          const BwGrading    *grading,
          const BwGradedSize *size,
          const BwTested     *tested)
{
  for (guint c = 0; c < grading->design->colours->len; c++)
    {
      double used = tested->used_m[c];
      double balls = size->balls[c] * grading->design->yarn.metres_per_ball;
      g_autofree char *lead = g_strdup_printf (_("Yarn %c"), (char) ('A' + c));
      g_autofree char *is = bw_units_format_number (used, 0);
      g_autofree char *should = bw_units_format_number (size->colour_m[c], 0);
      g_autofree char *apart = NULL;
      g_autofree char *text = NULL;

      if (used <= 0 || size->colour_m[c] <= 0)
        continue;
      apart = difference_in_percent (used, size->colour_m[c]);
      text = g_strdup_printf (balls > 0 && used > balls
                                ? _("%s m; worked out %s m: %s. The balls that the pattern asks "
                                    "for were not enough.")
                                : _("%s m; worked out %s m: %s"),
                              is, should, apart);
      add_item (blocks, lead, text);
    }
}

static void
add_time (GPtrArray          *blocks,
          const BwGradedSize *size,
          const BwTested     *tested)
{
  g_autofree char *is = bw_units_format_number (tested->minutes, 0);
  g_autofree char *should = bw_units_format_number (size->minutes, 0);
  g_autofree char *apart = NULL;
  g_autofree char *text = NULL;

  if (tested->minutes <= 0)
    return;
  if (size->minutes <= 0)
    {
      text = g_strdup_printf (_("%s min"), is);
    }
  else
    {
      apart = difference_in_percent (tested->minutes, size->minutes);
      text = g_strdup_printf (_("%s min; worked out %s min: %s"), is, should, apart);
    }
  add_item (blocks, _("Time"), text);
}

static char *
title_of (const BwGradedSize *size,
          const BwTested     *tested)
{
  GString *out = g_string_new (bw_words_size_name (size->choice));

  if (tested->tester != NULL)
    g_string_append_printf (out, _(", tested by %s"), tested->tester);
  if (tested->date != NULL)
    g_string_append_printf (out, ", %s", tested->date);
  if (tested->revision > 0)
    g_string_append_printf (out, _(", of revision %u"), tested->revision);
  return g_string_free (out, FALSE);
}

/**
 * bw_words_tested:
 * @grading: the family that was tested
 * @tested: a sheet that was filled in for it
 *
 * Returns: (transfer full) (element-type BwBlock): what was measured beside what
 *   was computed, and what it differs by
 */
GPtrArray *
bw_words_tested (const BwGrading *grading,
                 const BwTested  *tested)
{
  GPtrArray *blocks = g_ptr_array_new_with_free_func ((GDestroyNotify) bw_block_free);
  const BwGradedSize *size = g_ptr_array_index (grading->sizes, tested->k);
  g_autofree char *title = title_of (size, tested);
  g_autofree char *hook = bw_units_format_number (tested->hook_mm, 2);
  g_autofree char *hook_mm = g_strdup_printf (_("%s mm"), hook);
  g_autofree char *stitches = g_strdup_printf (_("%d stitches"), BW_SHEET_SPAN);
  g_autofree char *rounds = g_strdup_printf (_("%d rounds"), BW_SHEET_SPAN);

  bw_words_add_block (blocks, BW_BLOCK_TITLE, "", title);
  if (tested->yarn != NULL)
    add_item (blocks, _("Yarn"), tested->yarn);
  if (tested->hook_mm > 0)
    add_item (blocks, _("Hook"), hook_mm);
  add_tension (blocks, grading, stitches, tested->stitch_mm, grading->body_gauge.stitch.mm);
  add_tension (blocks, grading, rounds, tested->round_mm, grading->body_gauge.round.mm);
  add_girth (blocks, grading, size, tested);
  add_length (blocks, grading, _("Brim"), tested->brim_mm, size->brim_mm);
  add_length (blocks, grading, _("Depth"), tested->depth_mm, size->depth_mm);
  add_yarn (blocks, grading, size, tested);
  add_time (blocks, size, tested);
  if (tested->remarks != NULL)
    add_item (blocks, _("Remarks"), tested->remarks);
  return blocks;
}

/**
 * bw_words_testers:
 * @grading: the family that was tested
 * @tested: (element-type BwTested): several sheets
 *
 * A difference that all testers share once their own tension is allowed for
 * points at the pattern; one that they do not share, at their hands.
 *
 * Returns: (transfer full): a sentence; empty for fewer than two sheets with girth
 *   and tension
 */
char *
bw_words_testers (const BwGrading *grading,
                  const GPtrArray *tested)
{
  guint n = 0, more = 0;
  double sum = 0;
  g_autofree char *mean = NULL;
  g_autofree char *least = bw_words_length (grading->design, SHARED_MM);

  for (guint i = 0; i < tested->len; i++)
    {
      const BwTested *one = g_ptr_array_index (tested, i);

      if (one->girth_mm <= 0 || one->stitch_mm <= 0)
        continue;
      n++;
      sum += left_over (g_ptr_array_index (grading->sizes, one->k), one);
      more += left_over (g_ptr_array_index (grading->sizes, one->k), one) > 0;
    }

  if (n < 2)
    return g_strdup ("");
  mean = bw_words_length (grading->design, fabs (sum / n));
  if ((more == n || more == 0) && fabs (sum / n) >= SHARED_MM)
    return g_strdup_printf (sum > 0
                              ? _("All %u testers’ hats are wider than their own tension makes "
                                  "them, by %s on average: look at the pattern.")
                              : _("All %u testers’ hats are narrower than their own tension makes "
                                  "them, by %s on average: look at the pattern."),
                            n, mean);
  return g_strdup_printf (_("The %u testers’ hats do not share a difference of %s or more once "
                            "their own tension is allowed for."),
                          n, least);
}
