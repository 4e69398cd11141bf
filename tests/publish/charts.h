#pragma once

/* Hats to draw charts of, and what their charts must say. */

#include <math.h>

#include "bw-chart.h"
#include "family.h"
#include "hats.h"

static BwReference *reference;

/* --- A second reading of the instructions --- */

typedef struct
{
  GArray *stitches; /* of BwChartStitch, without `fan` */
  guint   base;
  guint   top;
} Reading;

static inline void
read_one (Reading      *reading,
          const BwItem *item,
          guint         foot)
{
  const BwStitch *stitch = bw_stitch_get (reference->stitches, item->stitch);
  BwChartStitch one = {
    .stitch = item->stitch,
    .loop = item->loop,
    .place = item->place,
    .below = item->below > 0 ? item->below : (guint8) stitch->below,
    .foot = foot,
    .n_feet = stitch->takes,
    .top = reading->top,
    .n_tops = stitch->makes,
  };

  g_array_append_val (reading->stitches, one);
  reading->top += stitch->makes;
}

/* What the words say, stitch by stitch: written again from the comments of
 * bw-instruction.h, so that it checks the layout of the drawing too. */
static inline void
read_items (Reading      *reading,
            const BwItem *items,
            guint         n_items)
{
  for (guint i = 0; i < n_items; i += 1u + items[i].span)
    {
      const BwItem *item = &items[i];
      guint takes = item->stitch != BW_STITCH_NONE
                      ? bw_stitch_get (reference->stitches, item->stitch)->takes : 0;

      if (item->place == BW_PLACE_SECOND_CHAIN)
        reading->base++;
      switch ((BwItemKind) item->kind)
        {
        case BW_ITEM_EACH:
          for (guint n = 0; n < item->count; n++, reading->base += takes)
            read_one (reading, item, reading->base);
          break;
        case BW_ITEM_IN_ONE:
          for (guint n = 0; n < item->count; n++)
            read_one (reading, item, reading->base);
          reading->base += takes;
          break;
        case BW_ITEM_CLUSTER:
          for (guint b = 1; b <= item->span; b++)
            for (guint n = 0; n < items[i + b].count; n++)
              read_one (reading, &items[i + b], reading->base);
          reading->base++;
          break;
        case BW_ITEM_REPEAT:
          for (guint n = 0; n < item->count; n++)
            read_items (reading, item + 1, item->span);
          break;
        case BW_ITEM_TO_LAST:
        default:
          g_assert_not_reached ();
        }
    }
}

static inline GArray *
read_round (const BwRoundList *list,
            const BwRound     *round)
{
  Reading reading = { g_array_new (FALSE, TRUE, sizeof (BwChartStitch)), 0, 0 };

  read_items (&reading, bw_round_items (list, round), round->n_items);
  return reading.stitches;
}

static inline gboolean
same_stitches (const GArray *a,
               const GArray *b)
{
  if (a->len != b->len)
    return FALSE;

  for (guint i = 0; i < a->len; i++)
    {
      const BwChartStitch *x = &g_array_index (a, BwChartStitch, i);
      const BwChartStitch *y = &g_array_index (b, BwChartStitch, i);

      if (x->stitch != y->stitch || x->loop != y->loop || x->place != y->place ||
          x->below != y->below || x->n_feet != y->n_feet || x->top != y->top ||
          x->n_tops != y->n_tops || (x->n_feet > 0 && x->foot != y->foot))
        return FALSE;
    }

  return TRUE;
}

/* --- Agreement --- */

static inline gboolean
is_charted (const BwRound *round)
{
  return round->section == BW_SECTION_BAND || round->section == BW_SECTION_CROWN ||
         (round->section == BW_SECTION_BRIM && (round->row || round->number > 0));
}

/* The one panel that shows a round, and its row there. */
static inline int
find_row (const BwChart *chart,
          guint          round)
{
  int found = -1;

  for (guint p = 0; p < chart->panels->len; p++)
    {
      int row = bw_chart_row_of_round (chart, p, round);

      if (row < 0)
        continue;
      g_assert_cmpint (found, <, 0);
      found = row;
    }

  return found;
}

static inline gboolean
agrees (const BwChart      *chart,
        const BwGradedSize *size)
{
  const BwRoundList *list = size->rounds;

  for (guint i = 0; i < list->rounds->len; i++)
    {
      const BwRound *round = &g_array_index (list->rounds, BwRound, i);
      int row = find_row (chart, i);
      const BwChartRow *shown;
      g_autoptr (GArray) written = NULL;
      g_autoptr (GArray) drawn = NULL;

      if ((row >= 0) != is_charted (round))
        return FALSE;
      if (row < 0)
        continue;

      shown = &g_array_index (chart->rows, BwChartRow, row);
      written = read_round (list, round);
      drawn = g_array_new (FALSE, TRUE, sizeof (BwChartStitch));
      bw_chart_expand (chart, (guint) row, drawn);
      if (shown->context || shown->colour != round->colour ||
          shown->stitches_out != round->stitches_out || !same_stitches (drawn, written))
        return FALSE;
    }

  return TRUE;
}

/* Each stitch has a column of its own, and in a band whole columns apart. */
static inline void
check_columns (const BwChart *chart)
{
  for (guint p = 0; p < chart->panels->len; p++)
    {
      const BwChartPanel *panel = &g_array_index (chart->panels, BwChartPanel, p);

      g_assert_cmpuint (panel->n_rows, >, 0);
      g_assert_cmpuint (panel->copies, >=, 1);
      g_assert_cmpuint (panel->copies, <=, MAX (panel->times, 1));
      for (guint r = panel->first_row; r < panel->first_row + panel->n_rows; r++)
        {
          const BwChartRow *row = &g_array_index (chart->rows, BwChartRow, r);

          g_assert_cmpfloat (row->step, >=, 1 - 1e-9);
          g_assert_cmpfloat (row->shift, >=, 0);
          g_assert_cmpuint (row->makes * row->times, ==, row->stitches_out);
          if (panel->kind != BW_CHART_CROWN)
            g_assert_cmpfloat (row->shift, ==, floor (row->shift));
          else
            g_assert_cmpfloat (row->shift * 2 + row->makes * row->step, <=, panel->columns + 1e-9);
        }
    }
}

static inline void
check_grading (const BwGrading *grading)
{
  for (guint k = 0; k < grading->sizes->len; k++)
    {
      g_autoptr (BwChart) chart = bw_chart_new (grading, k);

      if (!agrees (chart, family_size (grading, k)))
        g_error ("%s, size %u: chart and written rounds differ", grading->design->name, k);
      check_columns (chart);
    }
}

static inline BwGrading *
grade_file (const char *folder,
            const char *name)
{
  g_autofree char *text = family_text (folder, name);
  g_autoptr (GError) error = NULL;
  g_autoptr (BwDesign) design = bw_design_from_text (reference, text, strlen (text), &error);
  BwGrading *grading;

  g_assert_no_error (error);
  grading = bw_grade (reference, design, &error);
  g_assert_no_error (error);
  return grading;
}

/* --- Hats by hand --- */

static inline BwDesign *
plain_hat (void)
{
  BwDesign *design = hat_new ();
  BwColour colour;

  bw_colour_init (&colour, "Second", 0x33aa55);
  g_array_append_val (design->colours, colour);
  hat_add_swatch (design, "body", "plain-low", 16, 18);
  hat_add_size (design, "s", 520, 210);
  hat_add_size (design, "m", 560, 225);
  hat_add_size (design, "l", 600, 240);
  hat_set_wedges (design, 6);
  return design;
}

static inline BwGrading *
grade_hat (const BwDesign *design)
{
  g_autoptr (GError) error = NULL;
  BwGrading *grading = bw_grade (reference, design, &error);

  g_assert_no_error (error);
  return grading;
}

static inline void
loosen (BwDesign *design)
{
  design->rules.girth_limit_mm = 80;
  design->rules.brim_limit_mm = 80;
  design->rules.least_step = 0;
}
