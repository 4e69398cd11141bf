#define G_LOG_DOMAIN "bw-publish"

#include "bw-chart-private.h"

#include <math.h>

/* Where the stitches of a panel stand: columns are counted from the right, the way
 * that a round is worked by the right hand. */

#define ARC_ROOM     0.24
#define LEAST_HEIGHT 0.85
#define NARROWING    1.5

/* The stitch that makes a position, wherever the repeat stands; NULL = none does. */
static const BwChartStitch *
maker (const BwChart    *chart,
       const BwChartRow *row,
       guint             position)
{
  guint in_repeat = row->makes > 0 ? position % row->makes : 0;

  for (guint i = 0; i < row->n_stitches; i++)
    {
      const BwChartStitch *stitch = BW_CHART_STITCH (chart, row->first_stitch + i);

      if (in_repeat >= stitch->top && in_repeat < stitch->top + stitch->n_tops)
        return stitch;
    }

  return NULL;
}

/**
 * bw_chart_edge:
 * @chart: a chart
 * @row: one of its rows
 * @position: a position that the row makes, from 0, over all repeats; or their number
 *
 * Returns: the column where the position's cell begins, in the order of work, from the
 *   panel's right edge
 */
double
bw_chart_edge (const BwChart    *chart,
               const BwChartRow *row,
               guint             position)
{
  const BwChartStitch *stitch;
  double feet;

  if (!row->by_feet || position >= row->makes)
    return row->shift + position * row->step;

  stitch = maker (chart, row, position);
  feet = stitch->foot + (position - stitch->top) * (double) stitch->n_feet / stitch->n_tops;
  return row->shift + feet * row->step * row->makes / MAX (row->takes, 1);
}

/**
 * bw_chart_column:
 * @chart: a chart
 * @row: one of its rows
 * @position: a position that the row makes, from 0, over all repeats
 *
 * Returns: the column of its middle, from the panel's right edge
 */
double
bw_chart_column (const BwChart    *chart,
                 const BwChartRow *row,
                 guint             position)
{
  if (row->wrong_side)
    position = row->makes - 1 - position;
  return (bw_chart_edge (chart, row, position) + bw_chart_edge (chart, row, position + 1)) / 2;
}

static gboolean
is_foundation (const BwChartRow *row)
{
  return row->is_row && row->number == 0;
}

/* Position of the row below that the n-th of those that a row takes is: rows are
 * turned, so their order is too. */
static guint
position_below (const BwChartRow *row,
                const BwChartRow *below,
                guint             nth)
{
  return row->is_row && !is_foundation (below) ? below->makes - 1 - nth : nth;
}

/**
 * bw_chart_foot_column:
 * @chart: a chart
 * @panel: one of its panels
 * @row: index of one of the panel's rows
 * @position: the n-th position that the row takes, counted over all repeats
 * @below: rounds down to where the stitch takes hold
 *
 * Returns: the column of the foot
 */
double
bw_chart_foot_column (const BwChart      *chart,
                      const BwChartPanel *panel,
                      guint               row,
                      guint               position,
                      guint               below)
{
  const BwChartRow *own = BW_CHART_ROW (chart, row);
  const BwChartRow *under;
  double column;

  if (row == panel->first_row)
    return own->shift + (position + 0.5) * panel->columns / (double) MAX (own->takes, 1);

  under = own - 1;
  column = bw_chart_column (chart, under, position_below (own, under, position));
  if (below > 1 && !under->context && row > panel->first_row)
    {
      const BwChartStitch *stitch = maker (chart, under, position);

      if (stitch != NULL && stitch->n_feet == 1)
        return bw_chart_foot_column (chart, panel, row - 1,
                                     position / MAX (under->makes, 1) * under->takes + stitch->foot,
                                     below - 1);
    }

  return column;
}

/* How far a round lies askew on the one below: a shell worked into the first stitch
 * stands over it all the same. In whole columns, so that the grid holds. */
static double
own_shift (const BwChart    *chart,
           const BwChartRow *row)
{
  double sum = 0;
  guint n = 0;

  for (guint i = 0; i < row->n_stitches; i++)
    {
      const BwChartStitch *stitch = BW_CHART_STITCH (chart, row->first_stitch + i);

      if (stitch->n_feet == 0 || stitch->n_tops == 0)
        continue;
      sum += stitch->foot + stitch->n_feet / 2.0 - stitch->top - stitch->n_tops / 2.0;
      n++;
    }

  return n > 0 ? round (sum / n) : 0;
}

/* A wedge narrows by no more than this from round to round, however many stitches go:
 * the fabric does not either, and stems that lean too far cannot be read. */
static void
narrow_row (const BwChartPanel *panel,
            BwChartRow         *row,
            const BwChartRow   *below)
{
  double before = below != NULL ? below->step * below->makes : row->makes;
  double width = MAX (row->makes, before - NARROWING);

  row->step = width / MAX (row->makes, 1);
  row->by_feet = width > row->makes && !row->context;
  row->shift = (panel->columns - width) / 2;
}

static void
shift_row (BwChart            *chart,
           const BwChartPanel *panel,
           guint               index)
{
  BwChartRow *row = BW_CHART_ROW (chart, index);
  const BwChartRow *below = index > panel->first_row ? row - 1 : NULL;

  row->step = row->is_row ? 1 : panel->columns / (double) MAX (row->makes, 1);
  if (panel->kind == BW_CHART_CROWN)
    narrow_row (panel, row, below);
  else if (below == NULL)
    row->shift = 0;
  else if (row->is_row && !is_foundation (below))
    row->shift = below->shift;
  else
    row->shift = below->shift + (row->context ? 0 : own_shift (chart, row));
}

/**
 * bw_chart_is_deep:
 * @chart: a chart
 * @stitch: one of its stitches
 *
 * Returns: whether it takes hold below the row that it stands on
 */
gboolean
bw_chart_is_deep (const BwChart       *chart,
                  const BwChartStitch *stitch)
{
  return stitch->below > 1 && chart->symbols[stitch->stitch].form != BW_SYMBOL_NONE;
}

/**
 * bw_chart_loop_shown:
 * @row: a row
 * @loop: the loop of one of its stitches, as it is worked
 *
 * Returns: the loop as it is seen from the right side
 */
BwLoop
bw_chart_loop_shown (const BwChartRow *row,
                     guint8            loop)
{
  if (row->wrong_side && loop == BW_LOOP_BACK)
    return BW_LOOP_FRONT;
  if (row->wrong_side && loop == BW_LOOP_FRONT)
    return BW_LOOP_BACK;
  return (BwLoop) loop;
}

static double
row_height (const BwChart    *chart,
            const BwChartRow *row)
{
  double height = LEAST_HEIGHT;

  for (guint i = 0; i < row->n_stitches; i++)
    {
      const BwChartStitch *stitch = BW_CHART_STITCH (chart, row->first_stitch + i);
      double own = bw_symbol_height (&chart->symbols[stitch->stitch]);

      /* a deep stem has the rows below it to stand in */
      if (bw_chart_is_deep (chart, stitch))
        own = MIN (own, 1.1);
      height = MAX (height, own + (stitch->loop != BW_LOOP_BOTH ? ARC_ROOM : 0));
    }

  return height;
}

/**
 * bw_chart_place_rows:
 * @chart: (inout): a chart
 * @panel: the last of its panels, with all its rows
 *
 * Gives each row its height and its place against the others.
 */
void
bw_chart_place_rows (BwChart      *chart,
                     BwChartPanel *panel)
{
  double least = 0;

  for (guint i = panel->first_row; i < panel->first_row + panel->n_rows; i++)
    {
      shift_row (chart, panel, i);
      BW_CHART_ROW (chart, i)->height = row_height (chart, BW_CHART_ROW (chart, i));
      least = MIN (least, BW_CHART_ROW (chart, i)->shift);
    }

  for (guint i = panel->first_row; i < panel->first_row + panel->n_rows; i++)
    BW_CHART_ROW (chart, i)->shift -= least;
}
