#define G_LOG_DOMAIN "bw-publish"

#include "bw-chart-private.h"

#include "bw-words.h"

static void
row_clear (gpointer data)
{
  g_free (((BwChartRow *) data)->work);
}

static void
panel_clear (gpointer data)
{
  BwChartPanel *panel = data;

  g_free (panel->title);
  g_free (panel->caption);
}

static void
key_clear (gpointer data)
{
  BwChartKeyEntry *entry = data;

  g_free (entry->label);
  g_free (entry->text);
}

static BwChart *
chart_alloc (void)
{
  BwChart *chart = g_new0 (BwChart, 1);

  chart->panels = g_array_new (FALSE, TRUE, sizeof (BwChartPanel));
  chart->rows = g_array_new (FALSE, TRUE, sizeof (BwChartRow));
  chart->stitches = g_array_new (FALSE, TRUE, sizeof (BwChartStitch));
  chart->key = g_array_new (FALSE, TRUE, sizeof (BwChartKeyEntry));
  chart->notes = g_ptr_array_new_with_free_func (g_free);
  g_array_set_clear_func (chart->panels, panel_clear);
  g_array_set_clear_func (chart->rows, row_clear);
  g_array_set_clear_func (chart->key, key_clear);
  return chart;
}

/**
 * bw_chart_free:
 * @chart: (nullable): a chart
 */
void
bw_chart_free (BwChart *chart)
{
  if (chart == NULL)
    return;

  g_free (chart->title);
  g_array_unref (chart->panels);
  g_array_unref (chart->rows);
  g_array_unref (chart->stitches);
  g_array_unref (chart->key);
  g_ptr_array_unref (chart->notes);
  g_free (chart->symbols);
  g_free (chart);
}

/* A symbol of each stitch. One that the dictionary names and we have not is left
 * out of the drawing; a test sees that there is none. */
static void
read_symbols (BwChart                  *chart,
              const BwStitchDictionary *dictionary)
{
  guint n = bw_stitch_dictionary_size (dictionary);

  chart->symbols = g_new0 (BwSymbol, n);
  for (guint i = 0; i < n; i++)
    if (!bw_symbol_parse (bw_stitch_get (dictionary, (BwStitchIndex) i)->symbol,
                          &chart->symbols[i]))
      chart->symbols[i] = (BwSymbol) { .form = BW_SYMBOL_NONE, .stems = 1 };
}

static void
read_colours (BwChart        *chart,
              const BwDesign *design)
{
  chart->n_colours = MIN (design->colours->len, BW_STRIPE_COLOURS_MAX);
  for (guint i = 0; i < chart->n_colours; i++)
    chart->rgb[i] = g_array_index (design->colours, BwColour, i).rgb;
}

/* Whether a panel goes on with this round, or which kind of panel starts with it. */
static gboolean
kind_of (const BwRound *round,
         BwChartKind   *kind)
{
  switch ((BwSection) round->section)
    {
    case BW_SECTION_BRIM:
      *kind = BW_CHART_BRIM;
      return TRUE;
    case BW_SECTION_BAND:
      *kind = BW_CHART_BAND;
      return TRUE;
    case BW_SECTION_CROWN:
      *kind = BW_CHART_CROWN;
      return TRUE;
    case BW_SECTION_JOIN:
    case BW_SECTION_PICK_UP:
    case BW_SECTION_ADJUST:
    case BW_SECTION_SET_UP:
    case BW_SECTION_CLOSE:
    case BW_SECTION_N:
    default:
      return FALSE;
    }
}

static guint
part_length (const BwRoundList *list,
             guint              first)
{
  const BwRound *rounds = (const BwRound *) (void *) list->rounds->data;
  guint n = 1;

  while (first + n < list->rounds->len && rounds[first + n].section == rounds[first].section &&
         rounds[first + n].band == rounds[first].band)
    n++;

  return n;
}

/* The chain that a brim in the round stands on is shown as what lies below it. */
static guint
skip_foundation (const BwRound *round)
{
  return round->section == BW_SECTION_BRIM && round->number == 0 && !round->row ? 1 : 0;
}

/**
 * bw_chart_new:
 * @grading: a graded family, not refused
 * @size: index of one of its sizes
 *
 * Parts that have no repeat (picked-up and adjusting rounds) have no panel: their
 * stitches are spread over the whole round, and words say that shorter.
 *
 * Returns: (transfer full): the chart, in the design's terms
 */
BwChart *
bw_chart_new (const BwGrading *grading,
              guint            size)
{
  BwChart *chart = chart_alloc ();
  const BwGradedSize *graded;
  const BwRound *rounds;

  g_return_val_if_fail (size < grading->sizes->len, chart);

  graded = g_ptr_array_index (grading->sizes, size);
  rounds = (const BwRound *) (void *) graded->rounds->rounds->data;
  chart->title = g_strdup_printf ("%s, %s", grading->design->name,
                                  bw_words_size_name (graded->choice));
  read_symbols (chart, grading->reference->stitches);
  read_colours (chart, grading->design);

  for (guint i = 0; i < graded->rounds->rounds->len;)
    {
      guint n = part_length (graded->rounds, i);
      guint skipped = skip_foundation (&rounds[i]);
      BwChartPanel panel = { .band = rounds[i].band };

      if (kind_of (&rounds[i], &panel.kind) && n > skipped)
        {
          bw_chart_build_panel (chart, grading, graded, &panel, i + skipped, n - skipped);
          bw_chart_name_panel (chart, grading, graded, &panel);
          g_array_append_val (chart->panels, panel);
        }
      i += n;
    }

  bw_chart_build_key (chart, grading);
  bw_chart_build_notes (chart, grading);
  return chart;
}

/**
 * bw_chart_row_of_round:
 * @chart: a chart
 * @panel: index of a panel
 * @round: index of a round of the size
 *
 * Returns: index of the row that shows the round, or shows one that is worked the
 *   same in its place in the repeat; -1 when the panel has none
 */
int
bw_chart_row_of_round (const BwChart *chart,
                       guint          panel,
                       guint          round)
{
  const BwChartPanel *p = BW_CHART_PANEL (chart, panel);
  guint skipped = p->n_rows > 0 && BW_CHART_ROW (chart, p->first_row)->context ? 1 : 0;
  guint first = p->first_row + skipped;
  guint n = p->n_rows - skipped;
  guint at;

  if (n == 0 || round < BW_CHART_ROW (chart, first)->round ||
      round > p->last_round)
    return -1;

  at = round - BW_CHART_ROW (chart, first)->round;
  if (at >= n && p->n_repeat_rows == 0)
    return -1;
  if (at >= n)
    at = p->repeat_row - skipped + (at - (p->repeat_row - skipped)) % p->n_repeat_rows;
  return (int) (first + at);
}

/**
 * bw_chart_expand:
 * @chart: a chart
 * @row: index of a row
 * @stitches: (element-type BwChartStitch): every stitch of the whole round is
 *   appended here, in the order of work, with its feet and tops counted from the
 *   start of the round
 *
 * What the chart says a round is: the round's instruction must say the same.
 */
void
bw_chart_expand (const BwChart *chart,
                 guint          row,
                 GArray        *stitches)
{
  const BwChartRow *r = BW_CHART_ROW (chart, row);

  for (guint t = 0; t < r->times; t++)
    for (guint i = 0; i < r->n_stitches; i++)
      {
        BwChartStitch stitch = *BW_CHART_STITCH (chart, r->first_stitch + i);

        stitch.foot += t * r->takes;
        stitch.top += t * r->makes;
        g_array_append_val (stitches, stitch);
      }
}
