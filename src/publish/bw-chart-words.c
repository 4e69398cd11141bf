#define G_LOG_DOMAIN "bw-publish"

#include "bw-publish-private.h"

#include "bw-chart-private.h"
#include "bw-words.h"

/* What a chart says in words: titles, what is repeated, how it is read, and the
 * text for who cannot see it. */

static char *
round_label (const BwChartRow *row)
{
  if (row->number == 0)
    return g_strdup (_("Foundation chain"));
  return row->is_row ? g_strdup_printf (_("Row %u"), row->number)
                     : g_strdup_printf (_("Rnd %u"), row->number);
}

/* --- Titles --- */

static void
append_sentence (GString *out,
                 char    *sentence)
{
  if (out->len > 0)
    g_string_append_c (out, ' ');
  g_string_append (out, sentence);
  g_free (sentence);
}

static char *
across_words (const BwChartPanel *panel)
{
  if (panel->kind == BW_CHART_CROWN && panel->times > 1)
    return g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "One of %u wedge.", "One of %u wedges.",
                                         panel->times),
                            panel->times);
  if (panel->times > 1)
    return g_strdup_printf (g_dngettext (GETTEXT_PACKAGE,
                                         "Framed: one repeat of %u stitch, worked %u times.",
                                         "Framed: one repeat of %u stitches, worked %u times.",
                                         panel->columns),
                            panel->columns, panel->times);
  return g_strdup (_("The whole round."));
}

static char *
upwards_words (const BwChart      *chart,
               const BwGradedSize *size,
               const BwChartPanel *panel)
{
  const BwChartRow *first = BW_CHART_ROW (chart, panel->first_row + panel->repeat_row);
  const BwChartRow *last = first + panel->n_repeat_rows - 1;
  guint end = g_array_index (size->rounds->rounds, BwRound, panel->last_round).number;

  if (first->is_row)
    return g_strdup_printf (_("Repeat rows %u and %u up to row %u."), first->number, last->number,
                            end);
  if (panel->n_repeat_rows == 1)
    return g_strdup_printf (_("Repeat rnd %u up to rnd %u."), first->number, end);
  return g_strdup_printf (_("Repeat rnds %u–%u up to rnd %u."), first->number, last->number, end);
}

/**
 * bw_chart_name_panel:
 * @chart: a chart
 * @grading: the grading
 * @size: the size
 * @panel: (inout): gets its title and caption
 */
void
bw_chart_name_panel (BwChart            *chart,
                     const BwGrading    *grading,
                     const BwGradedSize *size,
                     BwChartPanel       *panel)
{
  static const BwSection sections[] = {
    [BW_CHART_BRIM] = BW_SECTION_BRIM,
    [BW_CHART_BAND] = BW_SECTION_BAND,
    [BW_CHART_CROWN] = BW_SECTION_CROWN,
  };
  GString *caption = g_string_new (NULL);

  panel->title = bw_words_part (grading, sections[panel->kind], panel->band);
  if (!BW_CHART_ROW (chart, panel->first_row)->is_row)
    append_sentence (caption, across_words (panel));
  if (panel->n_repeat_rows > 0)
    append_sentence (caption, upwards_words (chart, size, panel));
  panel->caption = g_string_free (caption, FALSE);
}

/* --- Notes --- */

static gboolean
any_row (const BwChart *chart,
         gboolean     (*is) (const BwChartRow *row))
{
  for (guint i = 0; i < chart->rows->len; i++)
    if (is (BW_CHART_ROW (chart, i)))
      return TRUE;

  return FALSE;
}

static gboolean
is_turned (const BwChartRow *row)
{
  return row->is_row;
}

static gboolean
is_in_the_round (const BwChartRow *row)
{
  return !row->is_row;
}

static gboolean
is_context (const BwChartRow *row)
{
  return row->context;
}

static gboolean
is_wrong_side_loop (const BwChart *chart)
{
  for (guint i = 0; i < chart->rows->len; i++)
    for (guint s = 0; s < BW_CHART_ROW (chart, i)->n_stitches; s++)
      if (BW_CHART_ROW (chart, i)->wrong_side &&
          BW_CHART_STITCH (chart, BW_CHART_ROW (chart, i)->first_stitch + s)->loop != BW_LOOP_BOTH)
        return TRUE;

  return FALSE;
}

static void
add_note (BwChart    *chart,
          const char *note)
{
  g_ptr_array_add (chart->notes, g_strdup (note));
}

/**
 * bw_chart_build_notes:
 * @chart: (inout): with all its panels
 * @grading: the grading
 */
void
bw_chart_build_notes (BwChart         *chart,
                      const BwGrading *grading)
{
  if (any_row (chart, is_in_the_round))
    add_note (chart, _("Charts show the right side. Read them from the bottom upwards and each round "
                       "from right to left; left-handed, from left to right."));
  if (any_row (chart, is_turned))
    add_note (chart, _("Rows are turned: a row begins at the side where its number stands."));
  if (is_wrong_side_loop (chart))
    add_note (chart, _("A back loop worked on the wrong side is seen as a front loop from the right "
                       "side, and is drawn so: in such a row work into the loop away from you all "
                       "the same, as the written rows say."));
  if (any_row (chart, is_context))
    add_note (chart, _("Grey: the round before, on which the first one stands."));
  if (!any_row (chart, is_in_the_round) || grading->design->spiral)
    return;
  if (grading->design->chain_counts)
    add_note (chart, _("The beginning chain is worked in place of the first stitch of a round, which "
                       "it counts as; it and the joining slip stitch are not drawn."));
  else
    add_note (chart, _("The beginning chain and the joining slip stitch of a round are not drawn."));
}

/* --- Instead of the picture --- */

static void
append_round (GString          *out,
              const BwChart    *chart,
              const BwChartRow *row)
{
  g_autofree char *label = round_label (row);

  g_string_append_c (out, ' ');
  g_string_append (out, label);
  if (chart->n_colours > 1)
    g_string_append_printf (out, _(", colour %c"), (char) ('A' + row->colour));
  g_string_append_printf (out, ": %s", row->work);
  if (!g_str_has_suffix (row->work, "."))
    g_string_append_c (out, '.');
}

/* A crown in figures: what a wedge has after each round. */
static void
append_crown (GString            *out,
              const BwChart      *chart,
              const BwChartPanel *panel)
{
  const BwChartRow *first = NULL;
  const BwChartRow *last = BW_CHART_ROW (chart, panel->first_row + panel->n_rows - 1);
  g_autoptr (GString) counts = g_string_new (NULL);

  for (guint i = panel->first_row; i < panel->first_row + panel->n_rows; i++)
    {
      const BwChartRow *row = BW_CHART_ROW (chart, i);

      if (row->context)
        continue;
      first = first != NULL ? first : row;
      g_string_append_printf (counts, "%s%u", counts->len > 0 ? ", " : "", row->makes);
    }

  if (first == NULL)
    return;
  g_string_append_c (out, ' ');
  g_string_append_printf (out, _("Rnds %u–%u narrow from %u stitches to %u. Stitches of the wedge "
                                 "after each round: %s."),
                          first->number, last->number, first->takes * first->times,
                          last->stitches_out, counts->str);
}

/**
 * bw_chart_describe:
 * @chart: a chart
 * @panel: index of a panel
 *
 * Returns: (transfer full): the panel in words, for who cannot see it: what is
 *   shown, what is repeated, and what each round is
 */
char *
bw_chart_describe (const BwChart *chart,
                   guint          panel)
{
  const BwChartPanel *p = BW_CHART_PANEL (chart, panel);
  GString *out = g_string_new (NULL);

  g_string_append_printf (out, _("Chart of %s."), p->title);
  if (p->caption[0] != '\0')
    g_string_append_printf (out, " %s", p->caption);
  if (p->kind == BW_CHART_CROWN)
    {
      append_crown (out, chart, p);
      return g_string_free (out, FALSE);
    }

  for (guint i = p->first_row; i < p->first_row + p->n_rows; i++)
    if (!BW_CHART_ROW (chart, i)->context)
      append_round (out, chart, BW_CHART_ROW (chart, i));
  return g_string_free (out, FALSE);
}
