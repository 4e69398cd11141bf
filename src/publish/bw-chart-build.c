#define G_LOG_DOMAIN "bw-publish"

#include "bw-chart-private.h"

#include "bw-stitch-layout.h"
#include "bw-words.h"

/* Rounds to rows. A round is laid out stitch by stitch and its shortest repeat is
 * found from the stitches, not from how the instruction is written: "2 dc, dc2tog,
 * [4 dc, dc2tog] 7 times, 2 dc" repeats eight times. The repeats of a panel's rounds
 * are then cut to the one number of times that divides them all. */

#define WORTH_A_REPEAT 3  /* rows that it spares */
#define COLUMNS_WANTED 8  /* drawn side by side, at least */
#define COLUMNS_TWICE  12 /* a repeat up to here is drawn twice, so that its edges are seen */

/* A whole round, every stitch in its place. */
typedef struct
{
  GArray *stitches; /* of BwPlacedStitch */
  guint   takes;
  guint   makes;
  guint   times;    /* of its shortest repeat */
} Laid;

static guint
greatest_common_divisor (guint a,
                         guint b)
{
  while (b != 0)
    {
      guint rest = a % b;

      a = b;
      b = rest;
    }

  return a;
}

static const BwRound *
round_at (const BwGradedSize *size,
          guint               index)
{
  return &g_array_index (size->rounds->rounds, BwRound, index);
}

/* --- Laying out --- */

/* Is the round so many equal parts, one after the other? */
static gboolean
repeats (const Laid *laid,
         guint       times)
{
  const BwPlacedStitch *stitches = (const BwPlacedStitch *) (void *) laid->stitches->data;
  guint n = laid->stitches->len;
  guint step = n / times;

  if (n % times != 0 || laid->takes % times != 0 || laid->makes % times != 0)
    return FALSE;

  for (guint i = 0; i + step < n; i++)
    {
      const BwPlacedStitch *a = &stitches[i];
      const BwPlacedStitch *b = &stitches[i + step];

      if (a->stitch != b->stitch || a->loop != b->loop || a->place != b->place ||
          a->below != b->below || b->base - a->base != laid->takes / times ||
          b->top - a->top != laid->makes / times)
        return FALSE;
    }

  return TRUE;
}

static guint
most_times (const Laid *laid)
{
  for (guint times = laid->stitches->len; times > 1; times--)
    if (repeats (laid, times))
      return times;

  return 1;
}

static void
laid_init (Laid                     *laid,
           const BwStitchDictionary *dictionary,
           const BwGradedSize       *size,
           const BwRound            *round)
{
  BwStitchLayout layout;

  bw_stitch_layout_init (&layout);
  bw_stitch_layout_set (&layout, dictionary, bw_round_items (size->rounds, round), round->n_items);
  laid->stitches = g_array_sized_new (FALSE, TRUE, sizeof (BwPlacedStitch),
                                      layout.stitches->len * layout.turns);
  for (guint t = 0; t < layout.turns; t++)
    for (guint i = 0; i < layout.stitches->len; i++)
      {
        BwPlacedStitch placed = g_array_index (layout.stitches, BwPlacedStitch, i);

        placed.base += t * layout.takes;
        placed.top += t * layout.makes;
        g_array_append_val (laid->stitches, placed);
      }

  laid->takes = layout.takes * layout.turns;
  laid->makes = layout.makes * layout.turns;
  laid->times = round->row ? 1 : most_times (laid);
  bw_stitch_layout_clear (&layout);
}

static void
laid_clear (gpointer data)
{
  g_array_unref (((Laid *) data)->stitches);
}

/* --- Which rounds --- */

/* Rounds that differ, and how many of the last of them are worked again, once at the
 * least. Of rows it is an even number, so that right and wrong side both show. A
 * repeat that spares a row or two is not worth the reading. */
static void
find_repeat (const BwGradedSize *size,
             guint               first,
             guint               n_rounds,
             guint              *n_shown,
             guint              *n_repeat)
{
  guint step = round_at (size, first)->row ? 2 : 1;

  *n_shown = n_rounds;
  *n_repeat = 0;
  for (guint period = step; 2 * period <= n_rounds; period += step)
    {
      guint start = n_rounds - period;

      while (start > 0 && bw_round_same_work (size->rounds, round_at (size, first + start - 1),
                                              round_at (size, first + start - 1 + period)))
        start--;
      if (start + 2 * period <= n_rounds && start + period < *n_shown &&
          n_rounds - (start + period) >= WORTH_A_REPEAT)
        {
          *n_shown = start + period;
          *n_repeat = period;
        }
    }
}

/* --- Rows --- */

static gboolean
shares_foot (const Laid *laid,
             guint       i)
{
  const BwPlacedStitch *stitches = (const BwPlacedStitch *) (void *) laid->stitches->data;

  if (stitches[i].takes != 1)
    return FALSE;
  for (guint j = i; j-- > 0 && stitches[j].base + 1 >= stitches[i].base;)
    if (stitches[j].takes == 1 && stitches[j].makes > 0 && stitches[j].base == stitches[i].base)
      return TRUE;
  for (guint j = i + 1; j < laid->stitches->len && stitches[j].base <= stitches[i].base; j++)
    if (stitches[j].takes == 1 && stitches[j].makes > 0 && stitches[j].base == stitches[i].base)
      return TRUE;

  return FALSE;
}

static void
add_row (BwChart            *chart,
         const BwGrading    *grading,
         const BwGradedSize *size,
         const Laid         *laid,
         guint               index,
         guint               times)
{
  const BwRound *round = round_at (size, index);
  BwChartRow row = {
    .round = index,
    .number = round->number,
    .colour = round->colour,
    .is_row = round->row,
    .wrong_side = round->row && round->number > 0 && round->number % 2 == 0,
    .first_stitch = chart->stitches->len,
    .n_stitches = laid->stitches->len / times,
    .times = times,
    .takes = laid->takes / times,
    .makes = laid->makes / times,
    .stitches_out = round->stitches_out,
    .work = bw_words_round_work (grading, size, index),
  };

  for (guint i = 0; i < row.n_stitches; i++)
    {
      const BwPlacedStitch *placed = &g_array_index (laid->stitches, BwPlacedStitch, i);
      BwChartStitch stitch = {
        .stitch = placed->stitch,
        .loop = placed->loop,
        .place = placed->place,
        .below = placed->below,
        .fan = shares_foot (laid, i),
        .foot = placed->base,
        .n_feet = placed->takes,
        .top = placed->top,
        .n_tops = placed->makes,
      };

      g_array_append_val (chart->stitches, stitch);
    }

  g_array_append_val (chart->rows, row);
}

/* What the panel's first round stands on: a stitch for each position, without what
 * that one itself stands on. */
static void
add_context (BwChart            *chart,
             const BwGrading    *grading,
             const BwGradedSize *size,
             guint               index,
             guint               positions,
             guint               times)
{
  const BwRound *round = round_at (size, index);
  BwChartRow row = {
    .round = index,
    .number = round->number,
    .colour = round->colour,
    .context = TRUE,
    .first_stitch = chart->stitches->len,
    .n_stitches = positions,
    .times = times,
    .takes = positions,
    .makes = positions,
    .stitches_out = round->stitches_out,
    .work = g_strdup (""),
  };
  Laid laid;
  guint made = 0;

  laid_init (&laid, grading->reference->stitches, size, round);
  for (guint i = 0; i < laid.stitches->len && made < positions; i++)
    {
      const BwPlacedStitch *placed = &g_array_index (laid.stitches, BwPlacedStitch, i);

      for (guint m = 0; m < placed->makes && made < positions; m++, made++)
        {
          BwChartStitch stitch = { .stitch = placed->stitch, .foot = made, .n_feet = 1,
                                   .top = made, .n_tops = 1,
                                   .below = MIN (placed->below, 1) };

          g_array_append_val (chart->stitches, stitch);
        }
    }

  row.n_stitches = made;
  laid_clear (&laid);
  g_array_append_val (chart->rows, row);
}

static guint
copies_of (const BwChartPanel *panel)
{
  guint wanted = panel->columns <= COLUMNS_TWICE ? 2 : 1;

  if (panel->kind == BW_CHART_CROWN)
    return 1;
  wanted = MAX (wanted, (COLUMNS_WANTED + panel->columns - 1) / MAX (panel->columns, 1));
  return MIN (wanted, panel->times);
}

/**
 * bw_chart_build_panel:
 * @chart: (inout): rows and stitches are appended
 * @grading: the grading
 * @size: the size
 * @panel: (inout): with its kind and band
 * @first_round: index of the part's first round
 * @n_rounds: its rounds
 */
void
bw_chart_build_panel (BwChart            *chart,
                      const BwGrading    *grading,
                      const BwGradedSize *size,
                      BwChartPanel       *panel,
                      guint               first_round,
                      guint               n_rounds)
{
  g_autoptr (GArray) laid = g_array_new (FALSE, TRUE, sizeof (Laid));
  guint n_shown = n_rounds;

  g_array_set_clear_func (laid, laid_clear);
  if (panel->kind != BW_CHART_CROWN)
    find_repeat (size, first_round, n_rounds, &n_shown, &panel->n_repeat_rows);
  for (guint i = 0; i < n_shown; i++)
    {
      Laid one;

      laid_init (&one, grading->reference->stitches, size, round_at (size, first_round + i));
      panel->times = greatest_common_divisor (panel->times, one.times);
      g_array_append_val (laid, one);
    }
  if (panel->kind == BW_CHART_CROWN && size->wedges > 0 && panel->times % size->wedges == 0)
    panel->times = size->wedges;

  panel->first_row = chart->rows->len;
  panel->last_round = first_round + n_rounds - 1;
  panel->numbers_shape = panel->kind == BW_CHART_CROWN;
  if (first_round > 0 && !round_at (size, first_round)->row)
    add_context (chart, grading, size, first_round - 1,
                 g_array_index (laid, Laid, 0).takes / panel->times, panel->times);
  for (guint i = 0; i < n_shown; i++)
    add_row (chart, grading, size, &g_array_index (laid, Laid, i), first_round + i, panel->times);

  panel->n_rows = chart->rows->len - panel->first_row;
  panel->repeat_row = panel->n_rows - panel->n_repeat_rows;
  for (guint i = 0; i < panel->n_rows; i++)
    panel->columns = MAX (panel->columns, BW_CHART_ROW (chart, panel->first_row + i)->makes);
  panel->copies = copies_of (panel);
  bw_chart_place_rows (chart, panel);
}
