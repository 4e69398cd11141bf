#include <math.h>
#include <string.h>

#include "bw-edition-blocks.h"
#include "bw-error.h"
#include "bw-words-listing.h"
#include "bw-words-sheet.h"
#include "family.h"

/* The tester's sheet goes out, comes back filled in by all sorts of hands, and is
 * compared with what was computed; a listing says what a buyer has to know. */

#define DATE G_GINT64_CONSTANT (1772323200) /* 2026-03-01 */

static BwReference *reference;

static char *
sheet_text (const BwGrading *grading,
            guint            k)
{
  g_autoptr (BwEdition) edition = bw_edition_new (grading->design, DATE);
  g_autoptr (GPtrArray) blocks = NULL;

  edition->size = (int) k;
  blocks = bw_edition_sheet (edition, grading);
  return bw_words_sheet_text (blocks);
}

/* Writes a value behind the line that begins with the label. */
static void
fill_in (GString    *sheet,
         const char *label,
         const char *value)
{
  g_autofree char *line = g_strconcat ("\n", label, NULL);
  const char *at = strstr (sheet->str, line);
  const char *colon;

  g_assert_nonnull (at);
  colon = strchr (at, ':');
  g_assert_nonnull (colon);
  g_string_insert (sheet, colon + 1 - sheet->str, value);
}

static char *
shown (const BwGrading *grading,
       const BwTested  *tested)
{
  g_autoptr (GPtrArray) blocks = bw_words_tested (grading, tested);
  GString *out = g_string_new (NULL);

  for (guint i = 0; i < blocks->len; i++)
    {
      const BwBlock *block = g_ptr_array_index (blocks, i);

      g_string_append_printf (out, "%s%s%s\n", block->lead, block->lead[0] != '\0' ? ": " : "",
                              block->text);
    }
  return g_string_free (out, FALSE);
}

static BwTested *
read_back (const BwGrading *grading,
           const char      *text)
{
  g_autoptr (GError) error = NULL;
  BwTested *tested = bw_tested_read (grading, text, &error);

  g_assert_no_error (error);
  return tested;
}

/* What was computed, written in by a tester who got exactly that: every size of
 * every demo, in both units; nothing differs. */
static void
test_as_computed (void)
{
  for (guint i = 0; i < 2 * G_N_ELEMENTS (demo_families); i++)
    {
      g_autoptr (BwGrading) grading = family_demo (reference, demo_families[i / 2]);

      grading->design->units = i % 2 == 0 ? BW_UNITS_CM : BW_UNITS_INCH;
      for (guint k = 0; k < grading->sizes->len; k++)
        {
          const BwGradedSize *size = family_size (grading, k);
          g_autofree char *empty = sheet_text (grading, k);
          g_autoptr (GString) sheet = g_string_new (empty);
          g_autofree char *girth = bw_words_length (grading->design, size->girth_mm);
          g_autofree char *depth = bw_words_length (grading->design, size->depth_mm);
          g_autoptr (BwTested) tested = NULL;
          g_autofree char *text = NULL;

          fill_in (sheet, "Girth", girth);
          fill_in (sheet, "Depth", depth);
          tested = read_back (grading, sheet->str);
          g_assert_cmpuint (tested->k, ==, k);
          /* what is read off a tape: to the mm, or to the eighth of an inch */
          g_assert_cmpfloat (fabs (tested->girth_mm - size->girth_mm), <, 1.7);
          g_assert_cmpfloat (fabs (tested->depth_mm - size->depth_mm), <, 1.7);
          text = shown (grading, tested);
          g_assert_null (strstr (text, " more"));
          g_assert_null (strstr (text, " less"));
          g_assert_nonnull (strstr (text, "within what the swatch leaves open"));
        }
    }
}

/* A hat with figures worked out by hand: 84 stitches of 13.0 cm / 20 are 54.6 cm,
 * 0.5 cm less than the 55.1 cm measured; 53.4 cm were computed, 1.7 cm less. */
static void
test_differences (void)
{
  g_autoptr (BwGrading) grading = family_demo (reference, "lugger");
  g_autofree char *empty = sheet_text (grading, 6);
  g_autoptr (GString) sheet = g_string_new (empty);
  g_autoptr (BwTested) tested = NULL;
  g_autofree char *text = NULL;

  g_assert_cmpuint (family_size (grading, 6)->body_stitches, ==, 84);
  fill_in (sheet, "Tester", " KL");
  fill_in (sheet, "Hook", " 5,5 mm");
  fill_in (sheet, "20 stitches", " 130 mm");
  fill_in (sheet, "Girth", " 55,1");
  fill_in (sheet, "Brim", " 18 in");
  fill_in (sheet, "Yarn A, at the start", " 100 g");
  fill_in (sheet, "Yarn A, left", " 40 g");
  fill_in (sheet, "Yarn B, left", " 195 m");
  fill_in (sheet, "Time", " 3:40");
  tested = read_back (grading, sheet->str);
  g_assert_cmpstr (tested->tester, ==, "KL");
  g_assert_cmpfloat_with_epsilon (tested->hook_mm, 5.5, 1e-9);
  g_assert_cmpfloat_with_epsilon (tested->stitch_mm, 6.5, 1e-9);
  g_assert_cmpfloat_with_epsilon (tested->girth_mm, 551, 1e-9);
  g_assert_cmpfloat_with_epsilon (tested->brim_mm, 18 * grading->design->mm_per_inch, 1e-9);
  /* 60 g of a yarn of 200 m in 100 g; of a ball of 200 m all but 195 m */
  g_assert_cmpfloat_with_epsilon (tested->used_m[0], 120, 1e-9);
  g_assert_cmpfloat_with_epsilon (tested->used_m[1], 5, 1e-9);
  g_assert_cmpfloat_with_epsilon (tested->minutes, 220, 1e-9);

  text = shown (grading, tested);
  g_assert_nonnull (strstr (text, "Medium adult, tested by KL\n"));
  g_assert_nonnull (strstr (text, "Girth: 55.1 cm; worked out 53.4 cm: 1.7 cm more\n"));
  g_assert_nonnull (strstr (text, "more than the swatch leaves open"));
  g_assert_nonnull (strstr (text, "84 stitches make 54.6 cm; measured against that: 0.5 cm more"));
  g_assert_nonnull (strstr (text, "Yarn A: 120 m; worked out 100 m: "));
  g_assert_null (strstr (text, "not enough"));
}

/* More than the pattern's balls hold is said. */
static void
test_not_enough (void)
{
  g_autoptr (BwGrading) grading = family_demo (reference, "lugger");
  g_autofree char *empty = sheet_text (grading, 6);
  g_autoptr (GString) sheet = g_string_new (empty);
  g_autoptr (BwTested) tested = NULL;
  g_autofree char *text = NULL;

  fill_in (sheet, "Yarn A, at the start", " 400 m");
  fill_in (sheet, "Yarn A, left", " 150 m");
  tested = read_back (grading, sheet->str);
  text = shown (grading, tested);
  g_assert_nonnull (strstr (text, "were not enough"));
}

/* Quoted in a mail, with line ends of another system and remarks over lines. */
static void
test_mail (void)
{
  g_autoptr (BwGrading) grading = family_demo (reference, "lugger");
  g_autofree char *empty = sheet_text (grading, 4);
  g_autoptr (GString) sheet = g_string_new (empty);
  g_autoptr (BwTested) tested = NULL;

  fill_in (sheet, "Girth", "  48 cm  ");
  fill_in (sheet, "Remarks", " Round 7: unclear.\nRound 9: fine: really.\n\nThanks");
  g_string_replace (sheet, "\n", "\r\n> ", 0);
  tested = read_back (grading, sheet->str);
  g_assert_cmpuint (tested->k, ==, 4);
  g_assert_cmpfloat_with_epsilon (tested->girth_mm, 480, 1e-9);
  g_assert_nonnull (strstr (tested->remarks, "Round 7: unclear."));
  g_assert_nonnull (strstr (tested->remarks, "Round 9: fine: really."));
  g_assert_nonnull (strstr (tested->remarks, "Thanks"));
}

static void
test_times (void)
{
  static const struct
  {
    const char *typed;
    double      minutes;
  } times[] = {
    { "3:40", 220 }, { "3 h 40 min", 220 }, { "3h40", 220 }, { "220 min", 220 }, { "3.5 h", 210 },
    { "3,5", 210 }, { "2 hours", 120 }, { "45 minutes", 45 }, { "0:45", 45 },
  };
  g_autoptr (BwGrading) grading = family_demo (reference, "lugger");
  g_autofree char *empty = sheet_text (grading, 0);

  for (guint i = 0; i < G_N_ELEMENTS (times); i++)
    {
      g_autoptr (GString) sheet = g_string_new (empty);
      g_autoptr (BwTested) tested = NULL;

      fill_in (sheet, "Time", times[i].typed);
      tested = read_back (grading, sheet->str);
      g_assert_cmpfloat_with_epsilon (tested->minutes, times[i].minutes, 1e-9);
    }
}

/* What cannot be read is told by its line, and what would do. */
static void
test_errors (void)
{
  static const struct
  {
    const char *label;
    const char *value;
    const char *said;
  } wrong[] = {
    { "Girth", " wide", "length" },
    { "Girth", " 0 cm", "above nought" },
    { "Hook", " blue", "“Hook in mm”" },
    { "20 stitches", " 12 sheep", "length" },
    { "Yarn A, left", " a lot", "46 g" },
    { "Yarn A, left", " 300 m", "at the start" },
    { "Time", " all day", "3 h 40 min" },
    { "Time", " 3:99", "3 h 40 min" },
    { "Size", " Giant,", "no such size" },
    { "Design", " Not", "for “Not Lugger”" },
  };
  g_autoptr (BwGrading) grading = family_demo (reference, "lugger");
  g_autofree char *empty = sheet_text (grading, 6);
  g_autoptr (GError) error = NULL;
  g_autoptr (BwTested) tested = NULL;
  g_autofree char *twice = NULL;

  for (guint i = 0; i < G_N_ELEMENTS (wrong); i++)
    {
      g_autoptr (GString) sheet = g_string_new (empty);

      fill_in (sheet, wrong[i].label, wrong[i].value);
      g_assert_null (bw_tested_read (grading, sheet->str, &error));
      g_assert_nonnull (error);
      g_assert_cmpint (error->domain, ==, BW_ERROR);
      g_assert_nonnull (strstr (error->message, wrong[i].said));
      g_clear_error (&error);
    }

  g_assert_null (bw_tested_read (grading, empty, &error));
  g_assert_error (error, BW_ERROR, BW_ERROR_MISSING);
  g_clear_error (&error);
  g_assert_null (bw_tested_read (grading, "Girth: 53 cm\n", &error));
  g_assert_error (error, BW_ERROR, BW_ERROR_MISSING);
  g_clear_error (&error);

  twice = g_strconcat (empty, "Size: Child\nGirth, flat, across and back: 40 cm\n"
                              "Girth, flat, across and back: 41 cm\n", NULL);
  /* behind the remarks all is remarks */
  tested = bw_tested_read (grading, twice, NULL);
  g_assert_nonnull (tested);
  g_clear_pointer (&twice, g_free);
  twice = g_strdup ("Size: Child\nGirth, flat, across and back: 40 cm\n"
                    "Girth, flat, across and back: 41 cm\n");
  g_assert_null (bw_tested_read (grading, twice, &error));
  g_assert_nonnull (strstr (error->message, "line 3"));
  g_assert_nonnull (strstr (error->message, "twice"));
}

/* A difference that all share beyond their own tension is the pattern's. */
static void
test_testers (void)
{
  g_autoptr (BwGrading) grading = family_demo (reference, "lugger");
  g_autoptr (GPtrArray) sheets = g_ptr_array_new ();
  BwTested a = { .k = 6, .stitch_mm = 6.5, .girth_mm = 84 * 6.5 + 12 };
  BwTested b = { .k = 4, .stitch_mm = 6.2, .girth_mm = 76 * 6.2 + 8 };
  g_autofree char *one = NULL;
  g_autofree char *both = NULL;
  g_autofree char *apart = NULL;

  g_assert_cmpuint (family_size (grading, 4)->body_stitches, ==, 76);
  g_ptr_array_add (sheets, &a);
  one = bw_words_testers (grading, sheets);
  g_assert_cmpstr (one, ==, "");
  g_ptr_array_add (sheets, &b);
  both = bw_words_testers (grading, sheets);
  g_assert_nonnull (strstr (both, "All 2 testers’ hats are wider"));
  g_assert_nonnull (strstr (both, "by 1 cm on average"));
  b.girth_mm -= 16;
  apart = bw_words_testers (grading, sheets);
  g_assert_nonnull (strstr (apart, "do not share"));
}

/* A listing has each size with its measures by both tapes, and no work. */
static void
test_listing (void)
{
  for (guint i = 0; i < G_N_ELEMENTS (demo_families); i++)
    {
      g_autoptr (BwGrading) grading = family_demo (reference, demo_families[i]);
      g_autoptr (GPtrArray) blocks = bw_words_listing (grading);
      g_autofree char *text = bw_words_listing_text (blocks);

      for (guint k = 0; k < grading->sizes->len; k++)
        {
          const BwGradedSize *size = family_size (grading, k);
          g_autofree char *head = g_strdup_printf ("\n%s: to fit head %g cm (",
                                                   bw_words_size_name (size->choice),
                                                   round (size->head_mm) / 10);

          g_assert_nonnull (strstr (text, head));
        }
      g_assert_nonnull (strstr (text, "This is a pattern to work from, not a finished hat.\n"));
      g_assert_nonnull (strstr (text, "\nWritten in: UK terms\n"));
      g_assert_nonnull (strstr (text, "\nAmount in all: "));
      g_assert_null (strstr (text, "Rnd"));
      g_assert_null (strstr (text, ", miss"));
    }
}

static void
test_listing_cautions (void)
{
  g_autoptr (BwGrading) grading = family_demo (reference, "lugger");
  g_autoptr (GPtrArray) blocks = bw_words_listing (grading);
  g_autofree char *text = bw_words_listing_text (blocks);

  g_assert_nonnull (strstr (text, "choke"));
  g_assert_nonnull (strstr (text, "sleep"));
}

int
main (int    argc,
      char **argv)
{
  int status;

  g_test_init (&argc, &argv, NULL);
  reference = bw_reference_builtin (NULL);
  g_assert_nonnull (reference);
  g_test_add_func ("/sheet/as-computed", test_as_computed);
  g_test_add_func ("/sheet/differences", test_differences);
  g_test_add_func ("/sheet/not-enough", test_not_enough);
  g_test_add_func ("/sheet/mail", test_mail);
  g_test_add_func ("/sheet/times", test_times);
  g_test_add_func ("/sheet/errors", test_errors);
  g_test_add_func ("/sheet/testers", test_testers);
  g_test_add_func ("/listing/sizes", test_listing);
  g_test_add_func ("/listing/cautions", test_listing_cautions);
  status = g_test_run ();
  bw_reference_free (reference);
  return status;
}
