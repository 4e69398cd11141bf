#include <glib.h>

#include "bw-crown.h"
#include "charts.h"

/* A chart says what the written rounds say: expanding it gives the same stitches, for
 * every pattern, crown and size. */

/* All designs that come with the program and all of the tests'. */
static void
test_agrees_files (void)
{
  static const char *const folders[] = { "../data/designs", "data/designs" };
  guint n = 0;

  for (guint f = 0; f < G_N_ELEMENTS (folders); f++)
    {
      g_autofree char *path = g_test_build_filename (G_TEST_DIST, folders[f], NULL);
      g_autoptr (GDir) dir = g_dir_open (path, 0, NULL);
      const char *file;

      g_assert_nonnull (dir);
      while ((file = g_dir_read_name (dir)) != NULL)
        if (g_str_has_suffix (file, ".hat"))
          {
            g_autofree char *name = g_strndup (file, strlen (file) - 4);
            g_autoptr (BwGrading) grading = grade_file (folders[f], name);

            check_grading (grading);
            n += !grading->refused;
          }
    }

  g_assert_cmpuint (n, >=, 6);
}

/* Every stitch pattern of the reference as a band. */
static void
test_agrees_patterns (void)
{
  for (guint f = 0; f < reference->fabrics->fabrics->len; f++)
    {
      const BwFabric *fabric = g_ptr_array_index (reference->fabrics->fabrics, f);
      g_autoptr (BwDesign) design = plain_hat ();
      g_autoptr (BwGrading) grading = NULL;
      BwBand *band = hat_add_band (design, fabric->id, BW_BAND_REPEATS, 2);

      loosen (design);
      hat_add_step (band->stripe, 0, 2);
      hat_add_step (band->stripe, 1, 2);
      grading = grade_hat (design);
      g_test_message ("%s", fabric->id);
      g_assert_false (grading->refused);
      check_grading (grading);
    }
}

/* Every profile of the crown, lined up and staggered; the designer's own counts
 * share no wedge. */
static void
test_agrees_crowns (void)
{
  static const guint own[] = { 84, 84, 77, 64, 50, 37, 23, 13, 7 };
  static const guint wedges[] = { 6, 7, 8, 9, 10, 12 };
  guint n = 0;

  for (guint p = BW_CROWN_FLAT; p <= BW_CROWN_OWN; p++)
    for (guint w = 0; w < G_N_ELEMENTS (wedges); w++)
      for (guint staggered = 0; staggered < 2; staggered++)
        {
          g_autoptr (BwDesign) design = plain_hat ();
          g_autoptr (BwGrading) grading = NULL;

          loosen (design);
          hat_add_band (design, "plain-low", BW_BAND_ROUNDS, 4);
          hat_set_wedges (design, wedges[w]);
          design->crown.profile = (BwCrownProfile) p;
          design->crown.staggered = staggered != 0;
          for (guint k = 0; k < design->sizes->len && p == BW_CROWN_OWN; k++)
            {
              BwSizeChoice *choice = &g_array_index (design->sizes, BwSizeChoice, k);

              choice->crown_counts = g_array_new (FALSE, FALSE, sizeof (guint));
              g_array_append_vals (choice->crown_counts, own, G_N_ELEMENTS (own));
            }
          grading = grade_hat (design);
          check_grading (grading);
          n += grading->sizes->len;
        }

  g_assert_cmpuint (n, >=, 150);
}

static void
test_agrees_brims (void)
{
  static const struct { BwBrimKind kind; const char *fabric; } brims[] = {
    { BW_BRIM_SLIP_RIB, "slip-rib" }, { BW_BRIM_LOW_RIB, "low-rib" },
    { BW_BRIM_POST_RIB, "post-rib" }, { BW_BRIM_ROLLED, "plain-low" },
  };

  for (guint i = 0; i < G_N_ELEMENTS (brims); i++)
    {
      g_autoptr (BwDesign) design = plain_hat ();
      g_autoptr (BwGrading) grading = NULL;

      loosen (design);
      hat_add_swatch (design, "brim", brims[i].fabric, 17, 26);
      hat_set_brim (design, brims[i].kind, "brim", 50);
      hat_add_band (design, "plain-low", BW_BAND_FILL, 0);
      grading = grade_hat (design);
      g_test_message ("%s", brims[i].fabric);
      g_assert_false (grading->refused);
      check_grading (grading);
    }
}

static void
test_agrees_random (void)
{
  guint n = 0;

  for (guint32 seed = 1; seed <= 120; seed++)
    {
      g_autoptr (BwDesign) design = random_hat (reference, HATS_SMALL, seed);
      g_autoptr (BwGrading) grading = grade_hat (design);

      check_grading (grading);
      n += grading->sizes->len;
    }

  g_assert_cmpuint (n, >=, 40);
}

/* The comparison sees a fault: one for each thing that a chart says of a stitch. */
static void
test_faults_are_seen (void)
{
  g_autoptr (BwGrading) grading = grade_file ("data/designs", "thirds");
  const BwGradedSize *size = family_size (grading, 0);
  guint n = 0;

  for (guint fault = 0; fault < 6; fault++)
    {
      g_autoptr (BwChart) chart = bw_chart_new (grading, 0);

      for (guint i = 0; i < chart->rows->len; i++)
        {
          BwChartRow *row = &g_array_index (chart->rows, BwChartRow, i);
          BwChartStitch *stitch = &g_array_index (chart->stitches, BwChartStitch,
                                                  row->first_stitch + row->n_stitches - 1);
          BwChartStitch was = *stitch;
          guint times = row->times;
          guint8 colour = row->colour;

          if (row->context)
            continue;
          if (fault == 0)
            stitch->stitch = (BwStitchIndex) (stitch->stitch + 1);
          else if (fault == 1)
            stitch->below++;
          else if (fault == 2)
            stitch->loop = stitch->loop == BW_LOOP_BOTH ? BW_LOOP_BACK : BW_LOOP_BOTH;
          else if (fault == 3)
            stitch->top++;
          else if (fault == 4)
            row->times++;
          else
            row->colour++;
          g_assert_false (agrees (chart, size));
          *stitch = was;
          row->times = times;
          row->colour = colour;
          n++;
        }
      g_assert_true (agrees (chart, size));
    }

  g_assert_cmpuint (n, >, 60);
}

/* --- Repeats --- */

static BwChart *
chart_of_band (const char *fabric,
               BwBandMode  mode,
               guint       amount)
{
  g_autoptr (BwDesign) design = plain_hat ();
  g_autoptr (BwGrading) grading = NULL;

  loosen (design);
  hat_add_band (design, fabric, mode, amount);
  grading = grade_hat (design);
  g_assert_false (grading->refused);
  return bw_chart_new (grading, 0);
}

/* The frame is the pattern's multiple, the bracket its rounds. */
static void
test_extent_of_repeat (void)
{
  for (guint f = 0; f < reference->fabrics->fabrics->len; f++)
    {
      const BwFabric *fabric = g_ptr_array_index (reference->fabrics->fabrics, f);
      g_autoptr (BwChart) chart = chart_of_band (fabric->id, BW_BAND_REPEATS, 6);
      const BwChartPanel *panel = &g_array_index (chart->panels, BwChartPanel, 0);

      g_test_message ("%s", fabric->id);
      g_assert_cmpint (panel->kind, ==, BW_CHART_BAND);
      g_assert_cmpuint (panel->columns, ==, fabric->multiple);
      g_assert_cmpuint (panel->n_rows, <=, 1 + fabric->n_start + fabric->n_rounds);
      g_assert_cmpuint (panel->n_repeat_rows, >, 0);
      g_assert_cmpuint (fabric->n_rounds % panel->n_repeat_rows, ==, 0);
    }
}

/* Rounds that are not worked again to the end are all shown, and so are two or three
 * that are alike. */
static void
test_no_half_repeat (void)
{
  g_autoptr (BwChart) few = chart_of_band ("plain-low", BW_BAND_ROUNDS, 3);
  g_autoptr (BwChart) chart = chart_of_band ("raised-staggered", BW_BAND_REPEATS, 1);
  const BwChartPanel *panel = &g_array_index (chart->panels, BwChartPanel, 0);

  g_assert_cmpuint (panel->n_rows, ==, 1 + 4);
  g_assert_cmpuint (panel->n_repeat_rows, ==, 0);
  panel = &g_array_index (few->panels, BwChartPanel, 0);
  g_assert_cmpuint (panel->n_rows, ==, 1 + 3);
  g_assert_cmpuint (panel->n_repeat_rows, ==, 0);
}

/* The stitch of the row below that makes a position. */
static const BwChartStitch *
stands_on (const BwChart    *chart,
           const BwChartRow *below,
           guint             position)
{
  for (guint i = 0; i < below->n_stitches; i++)
    {
      const BwChartStitch *stitch = &g_array_index (chart->stitches, BwChartStitch,
                                                    below->first_stitch + i);

      if (stitch->n_tops > 0 && position % below->makes == stitch->top)
        return stitch;
    }

  return NULL;
}

/* Shells nest: a shell stands on the low stitch between two shells of the round below,
 * and the low stitch on the middle of one. */
static void
test_shells_nest (void)
{
  g_autoptr (BwChart) chart = chart_of_band ("shells", BW_BAND_REPEATS, 2);
  const BwChartPanel *panel = &g_array_index (chart->panels, BwChartPanel, 0);
  BwStitchIndex low = bw_stitch_find (reference->stitches, "low");
  BwStitchIndex tall = bw_stitch_find (reference->stitches, "tall");
  guint n = 0;

  g_assert_cmpuint (panel->n_rows, ==, 1 + 1 + 4);
  for (guint r = panel->first_row + 2; r < panel->first_row + panel->n_rows; r++)
    {
      const BwChartRow *row = &g_array_index (chart->rows, BwChartRow, r);

      for (guint i = 0; i < row->n_stitches; i++)
        {
          const BwChartStitch *stitch = &g_array_index (chart->stitches, BwChartStitch,
                                                        row->first_stitch + i);
          const BwChartStitch *under;

          if (stitch->n_tops == 0)
            continue;
          under = stands_on (chart, row - 1, stitch->foot);
          g_assert_cmpuint (under->stitch, ==, stitch->stitch == low ? tall : low);
          if (stitch->stitch == low)
            g_assert_true (under[-2].foot == under->foot && under[2].foot == under->foot);
          n++;
        }
    }
  g_assert_cmpuint (n, ==, 4 * 6);
}

/* --- Key and words --- */

static guint
count_key (const BwChart *chart,
           const char    *label,
           const char    *text)
{
  guint n = 0;

  for (guint i = 0; i < chart->key->len; i++)
    {
      const BwChartKeyEntry *entry = &g_array_index (chart->key, BwChartKeyEntry, i);

      n += g_str_equal (entry->label, label) && g_str_equal (entry->text, text);
    }

  return n;
}

static gboolean
is_drawn (const BwChart         *chart,
          const BwChartKeyEntry *entry)
{
  for (guint i = 0; i < chart->stitches->len; i++)
    {
      const BwChartStitch *stitch = &g_array_index (chart->stitches, BwChartStitch, i);

      if (entry->stitch == stitch->stitch && entry->below == stitch->below)
        return TRUE;
    }

  return FALSE;
}

/* Each stitch of a row is in the key, once. */
static void
check_key_of_row (const BwChart    *chart,
                  const BwChartRow *row)
{
  for (guint i = 0; i < row->n_stitches; i++)
    {
      const BwChartStitch *s = &g_array_index (chart->stitches, BwChartStitch,
                                               row->first_stitch + i);
      const BwStitch *stitch = bw_stitch_get (reference->stitches, s->stitch);
      guint shallow = count_key (chart, stitch->uk, stitch->uk_name);

      if (stitch->makes == 0)
        g_assert_cmpuint (shallow, ==, 0);
      else if (row->context)
        g_assert_cmpuint (shallow, <=, 1);
      else
        g_assert_cmpuint (shallow, ==, s->below <= MAX (stitch->below, 1) ? 1 : 0);
    }
}

/* Every symbol drawn is in the key, and no other. */
static void
test_key (void)
{
  for (guint d = 0; d < G_N_ELEMENTS (demo_families); d++)
    {
      g_autoptr (BwGrading) grading = family_demo (reference, demo_families[d]);
      g_autoptr (BwChart) chart = bw_chart_new (grading, 0);

      for (guint i = 0; i < chart->key->len; i++)
        {
          const BwChartKeyEntry *entry = &g_array_index (chart->key, BwChartKeyEntry, i);

          g_assert_true (entry->stitch == BW_STITCH_NONE || is_drawn (chart, entry));
        }
      for (guint r = 0; r < chart->rows->len; r++)
        check_key_of_row (chart, &g_array_index (chart->rows, BwChartRow, r));
    }
}

static void
test_terms (void)
{
  g_autofree char *text = family_text ("data/designs", "thirds");
  g_autoptr (GError) error = NULL;
  g_autoptr (BwDesign) design = bw_design_from_text (reference, text, strlen (text), &error);
  g_autoptr (BwGrading) uk = grade_hat (design);
  g_autoptr (BwGrading) us = NULL;
  g_autoptr (BwChart) british = NULL;
  g_autoptr (BwChart) american = NULL;
  g_autofree char *words = NULL;

  design->terms = BW_TERMS_US;
  us = grade_hat (design);
  uk->design->terms = BW_TERMS_UK;
  british = bw_chart_new (uk, 0);
  american = bw_chart_new (us, 0);
  g_assert_cmpuint (count_key (british, "dc", "double crochet"), ==, 1);
  g_assert_cmpuint (count_key (british, "FPtr", "front post treble, 2 rounds below"), ==, 1);
  g_assert_cmpuint (count_key (american, "sc", "single crochet"), ==, 1);
  g_assert_cmpuint (count_key (american, "FPdc", "front post double crochet, 2 rounds below"), ==,
                    1);
  words = bw_chart_describe (american, 1);
  g_assert_nonnull (strstr (words, "[2 sc, FPdc 2 rnds below]"));
}

/* What cannot be seen is said: every round of a band, every count of a crown, every
 * colour by its letter. */
static void
test_describe (void)
{
  g_autoptr (BwGrading) grading = family_demo (reference, "lugger");
  g_autoptr (BwChart) chart = bw_chart_new (grading, 1);

  for (guint p = 0; p < chart->panels->len; p++)
    {
      const BwChartPanel *panel = &g_array_index (chart->panels, BwChartPanel, p);
      g_autofree char *words = bw_chart_describe (chart, p);

      g_assert_nonnull (strstr (words, panel->title));
      g_assert_true (g_utf8_validate (words, -1, NULL));
      for (guint r = panel->first_row; r < panel->first_row + panel->n_rows; r++)
        {
          const BwChartRow *row = &g_array_index (chart->rows, BwChartRow, r);
          g_autofree char *count = g_strdup_printf ("%u", row->makes);
          g_autofree char *colour = g_strdup_printf ("colour %c", (char) ('A' + row->colour));

          if (row->context)
            continue;
          if (panel->kind == BW_CHART_CROWN)
            g_assert_nonnull (strstr (words, count));
          else
            {
              g_assert_nonnull (strstr (words, row->work));
              g_assert_nonnull (strstr (words, colour));
            }
        }
    }
}

static gboolean
notes_say (const BwDesign *design,
           const char     *words)
{
  g_autoptr (BwGrading) grading = grade_hat (design);
  g_autoptr (BwChart) chart = bw_chart_new (grading, 0);

  for (guint i = 0; i < chart->notes->len; i++)
    if (strstr (g_ptr_array_index (chart->notes, i), words) != NULL)
      return TRUE;

  return FALSE;
}

/* What is not drawn is told, as the rounds are begun and ended. */
static void
test_notes (void)
{
  g_autoptr (BwDesign) design = plain_hat ();

  hat_add_band (design, "plain-tall", BW_BAND_FILL, 0);
  g_assert_true (notes_say (design, "joining slip stitch of a round are not drawn"));
  g_assert_false (notes_say (design, "counts as"));
  g_assert_false (notes_say (design, "turned"));
  design->chain_counts = TRUE;
  g_assert_true (notes_say (design, "which it counts as"));
  design->chain_counts = FALSE;
  design->spiral = TRUE;
  g_assert_false (notes_say (design, "joining"));
}

int
main (int   argc,
      char *argv[])
{
  g_autoptr (GError) error = NULL;
  int status;

  g_test_init (&argc, &argv, NULL);
  reference = bw_reference_builtin (&error);
  g_assert_no_error (error);

  g_test_add_func ("/chart/agrees/files", test_agrees_files);
  g_test_add_func ("/chart/agrees/patterns", test_agrees_patterns);
  g_test_add_func ("/chart/agrees/crowns", test_agrees_crowns);
  g_test_add_func ("/chart/agrees/brims", test_agrees_brims);
  g_test_add_func ("/chart/agrees/random", test_agrees_random);
  g_test_add_func ("/chart/agrees/faults-are-seen", test_faults_are_seen);
  g_test_add_func ("/chart/repeat/extent", test_extent_of_repeat);
  g_test_add_func ("/chart/repeat/no-half", test_no_half_repeat);
  g_test_add_func ("/chart/repeat/shells-nest", test_shells_nest);
  g_test_add_func ("/chart/key", test_key);
  g_test_add_func ("/chart/terms", test_terms);
  g_test_add_func ("/chart/describe", test_describe);
  g_test_add_func ("/chart/notes", test_notes);

  status = g_test_run ();
  bw_reference_free (reference);
  return status;
}
