#define G_LOG_DOMAIN "bw-cli"

#include "bw-cli-private.h"

#include "bw-cli-table.h"
#include "bw-cli-task.h"
#include "bw-library-gauge.h"
#include "bw-units.h"

/* ---- the gauge of a set ------------------------------------------------------------ */

static gboolean
read_set (BwCliWork   *work,
          BwSwatchSet *set)
{
  const BwCliOptions *options = &work->options;
  g_autoptr (GError) error = NULL;
  g_autofree char *name = NULL;

  if (work->n_arguments == 1 && options->yarn == NULL && options->hook == NULL &&
      options->pattern == NULL)
    name = g_strdup (work->arguments[0]);
  else if (work->n_arguments == 0 && options->yarn != NULL && options->hook != NULL &&
           options->pattern != NULL)
    name = g_strjoin (" / ", options->yarn, options->hook, options->pattern, NULL);

  if (name == NULL)
    {
      bw_cli_complain (_("name the swatches by “YARN / HOOK / PATTERN”, or by --yarn, --hook and"
                         " --pattern"));
      return FALSE;
    }
  if (bw_swatch_set_parse (name, set, &error))
    return TRUE;

  bw_cli_fail (error);
  return FALSE;
}

static void
print_side (GString           *out,
            const char        *what,
            const BwGaugeSide *side)
{
  g_autofree char *mm = bw_units_format_number (side->mm, 3);
  g_autofree char *interval = bw_units_format_number (side->U95, 3);
  g_autofree char *percent = NULL;

  if (side->mm <= 0.0)
    return;

  percent = bw_units_format_number (100.0 * side->U95 / side->mm, 1);
  g_string_append_printf (out, _("%s %s mm ± %s (± %s %%, 95 %%)\n"), what, mm, interval, percent);
}

static void
print_spread (GString             *out,
              const char          *what,
              const BwGaugeSpread *spread)
{
  g_autofree char *within = bw_units_format_number (100.0 * spread->within, 1);
  g_autofree char *between = bw_units_format_number (100.0 * spread->between, 1);

  if (spread->n_pieces == 0)
    return;

  if (spread->n_pieces == 1)
    g_string_append_printf (out, _("%s: 1 swatch, %u readings; spread %s %%\n"), what,
                            spread->n_readings, within);
  else
    g_string_append_printf (out, _("%s: %u swatches, %u readings; spread %s %% within a swatch, %s"
                                   " %% between\n"),
                            what, spread->n_pieces, spread->n_readings, within, between);
}

static void
print_ratio (GString    *out,
             const char *what,
             double      across,
             double      upwards)
{
  g_autofree char *x = bw_units_format_number (across, 3);
  g_autofree char *y = bw_units_format_number (upwards, 3);

  if (across > 0.0)
    g_string_append_printf (out, _("%s: × %s across"), what, x);
  if (upwards > 0.0)
    g_string_append_printf (out, across > 0.0 ? _(", × %s upwards") : _("%s: × %s upwards"),
                            across > 0.0 ? y : what, y);
  if (across > 0.0 || upwards > 0.0)
    g_string_append_c (out, '\n');
}

static void
print_outliers (GString              *out,
                const BwLibraryGauge *gauge)
{
  if (gauge->outliers->len > 0)
    g_string_append (out, _("These stand apart; they are used all the same:\n"));

  for (guint i = 0; i < gauge->outliers->len; i++)
    {
      const BwSwatchOutlier *outlier = &g_array_index (gauge->outliers, BwSwatchOutlier, i);
      g_autofree char *each = bw_units_format_number (outlier->each_mm, 2);
      g_autofree char *median = bw_units_format_number (outlier->median_mm, 2);

      g_string_append_printf (out, _("  swatch %" G_GINT64_FORMAT ", reading %u: %s mm each, the"
                                                                  " others about %s\n"),
                              outlier->swatch, outlier->number, each, median);
    }
}

static void
print_gauge (GString              *out,
             const BwLibraryGauge *gauge)
{
  const BwGaugePool *pool = &gauge->pool;
  g_autofree char *cm = bw_gauge_format (&pool->gauge, 100.0, BW_UNITS_CM, BW_MM_PER_INCH);

  g_string_append_printf (out, "%s%s\n", cm,
                          pool->gauge.washed ? _(", washed") : _(", not washed"));
  print_side (out, _("one stitch"), &pool->gauge.stitch);
  print_side (out, _("one round"), &pool->gauge.round);
  print_spread (out, _("across"), &pool->stitch);
  print_spread (out, _("upwards"), &pool->round);
  if (pool->by_piece)
    g_string_append (out,
                     _("The swatches differ more than their readings do: each counts as one.\n"));
  if (pool->n_left_out > 0)
    g_string_append_printf (out, g_dngettext (GETTEXT_PACKAGE,
                                              "%u swatch has no such readings and was left out.\n",
                                              "%u swatches have no such readings and were left"
                                              " out.\n",
                                              pool->n_left_out),
                            pool->n_left_out);
  print_ratio (out, _("washed to unwashed"), pool->gauge.stitch_growth, pool->gauge.round_growth);
  print_ratio (out, _("stretched to relaxed"), pool->gauge.stitch_stretch,
               pool->gauge.round_stretch);
  print_outliers (out, gauge);
}

BwExit
bw_cli_swatch_gauge (BwCliWork *work)
{
  BwTape tape = BW_TAPE_DEFAULT;
  g_auto (BwSwatchSet) set = { 0 };
  g_autoptr (GError) error = NULL;
  g_autoptr (BwLibraryGauge) gauge = NULL;
  g_autofree char *name = NULL;

  if (!read_set (work, &set))
    return BW_EXIT_BAD_INPUT;

  gauge = bw_library_gauge (work->library, &set, &tape, &error);
  if (gauge == NULL)
    return bw_cli_fail (error);

  name = bw_swatch_set_format (set.yarn, set.hook_mm, set.fabric);
  g_string_append_printf (work->out, "%s\n", name);
  print_gauge (work->out, gauge);

  return BW_EXIT_GRADED;
}

/* ---- the hook for a gauge --------------------------------------------------------------- */

static gboolean
read_wanted (const char *text,
             double     *stitch_mm)
{
  BwReading stitches, rounds;
  g_autoptr (GError) error = NULL;

  if (!bw_gauge_parse_stated (text, &stitches, &rounds, &error))
    {
      bw_cli_fail (error);
      return FALSE;
    }
  if (stitches.count <= 0.0)
    {
      bw_cli_complain (_("a hook is chosen by stitches; write a gauge such as “16 sts to 10 cm”"));
      return FALSE;
    }

  *stitch_mm = stitches.span_mm / stitches.count;

  return TRUE;
}

static void
print_hooks (GString      *out,
             const GArray *gauges)
{
  g_autoptr (BwCliTable) table = bw_cli_table_new (4, 0);

  bw_cli_table_add (table, _("Hook, mm"));
  bw_cli_table_add (table, _("Stitch, mm"));
  bw_cli_table_add (table, _("± (95 %)"));
  bw_cli_table_add (table, _("Swatches"));
  for (guint i = 0; i < gauges->len; i++)
    {
      const BwHookGauge *gauge = &g_array_index (gauges, BwHookGauge, i);

      bw_cli_table_take (table, bw_units_format_number (gauge->hook_mm, 2));
      bw_cli_table_take (table, bw_units_format_number (gauge->pool.gauge.stitch.mm, 2));
      bw_cli_table_take (table, bw_units_format_number (gauge->pool.gauge.stitch.U95, 2));
      bw_cli_table_take (table, g_strdup_printf ("%u", gauge->pool.stitch.n_pieces));
    }
  bw_cli_table_print (table, out);
}

BwExit
bw_cli_swatch_hook (BwCliWork *work)
{
  BwTape tape = BW_TAPE_DEFAULT;
  g_autoptr (GError) error = NULL;
  g_autoptr (GArray) gauges = NULL;
  g_autofree char *hook = NULL;
  g_autofree char *stitch = NULL;
  g_autofree char *about = NULL;
  double wanted, hook_mm, interval;

  if (work->options.yarn == NULL || work->options.pattern == NULL)
    {
      bw_cli_complain (_("say which swatches, with --yarn and --pattern"));
      return BW_EXIT_BAD_INPUT;
    }
  if (!read_wanted (work->arguments[0], &wanted))
    return BW_EXIT_BAD_INPUT;

  gauges = bw_library_hook_gauges (work->library, work->options.yarn, work->options.pattern, &tape,
                                   &error);
  if (gauges == NULL)
    return bw_cli_fail (error);

  print_hooks (work->out, gauges);
  if (!bw_library_suggest_hook (work->library, work->options.yarn, work->options.pattern, wanted,
                                &hook_mm, &interval, &error))
    {
      bw_cli_fail (error);
      return BW_EXIT_REFUSED;
    }

  hook = bw_units_format_number (hook_mm, 2);
  stitch = bw_units_format_number (wanted, 2);
  about = bw_units_format_number (interval, 2);
  g_string_append_printf (work->out, interval > 0.0
                                       ? _("For a stitch of %s mm: a hook of %s mm; a stitch made"
                                           " with it is within"
                                           " %s mm of that, 19 times of 20.\n")
                                       : _("For a stitch of %s mm: a hook of %s mm; how sure that"
                                           " is, two hooks cannot"
                                           " tell.\n"),
                          stitch, hook, about);

  return BW_EXIT_GRADED;
}
