#include <glib.h>
#include <math.h>
#include <string.h>

#include "bw-units.h"

/* Conversions against GNU units, gnu.org/software/units/, as Debian packs it;
 * the program is asked here and now. Its definitions of inch, yard and ounce
 * are those of the international yard and pound agreement of 1959. */

/* What the program makes of `have` in `want`; NAN when it is not there. */
static double
ask (const char *have,
     const char *want)
{
  const char *const argv[] = { "units", "-t", "-o", "%.17g", "--", have, want, NULL };
  g_autofree char *out = NULL;
  g_autofree char *err = NULL;
  g_autoptr (GError) error = NULL;
  int status = 0;

  if (!g_spawn_sync (NULL, (char **) argv, NULL, G_SPAWN_SEARCH_PATH, NULL, NULL, &out, &err,
                     &status, &error))
    {
      g_assert_error (error, G_SPAWN_ERROR, G_SPAWN_ERROR_NOENT);
      return NAN;
    }

  g_assert_cmpint (status, ==, 0);
  g_strstrip (out);
  g_assert_cmpstr (out, !=, "");
  return g_ascii_strtod (out, NULL);
}

static gboolean
skip_without_units (void)
{
  g_autofree char *path = g_find_program_in_path ("units");

  if (path != NULL)
    return FALSE;

  g_test_skip ("the program units is not installed");
  return TRUE;
}

static void
assert_same (double ours,
             double theirs)
{
  g_assert_false (isnan (theirs));
  g_assert_cmpfloat (fabs (ours - theirs), <=, 1e-13 * MAX (1, fabs (theirs)));
}

typedef struct
{
  const char *text; /* what we read */
  const char *have; /* the same in the program's own notation */
} Case;

static void
test_lengths (void)
{
  static const Case cases[] = {
    { "22 in", "22 in" }, { "8 1/2\"", "(8+1|2) inch" }, { "8½ in", "(8+1|2) inch" },
    { "17 7/8 in", "(17+7|8) inch" }, { "1/8 in", "1|8 inch" }, { "56 cm", "56 cm" },
    { "55,5 cm", "55.5 cm" }, { "560 mm", "560 mm" }, { "0.5 m", "0.5 m" },
    { "-3 cm", "-3 cm" }, { "1 in", "inch" },
  };

  if (skip_without_units ())
    return;
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      double mm;

      g_assert_true (bw_units_parse_length (cases[i].text, BW_UNITS_CM, BW_MM_PER_INCH, &mm, NULL));
      assert_same (mm, ask (cases[i].have, "mm"));
    }
}

static void
test_masses (void)
{
  static const Case cases[] = {
    { "50 g", "50 g" }, { "1 oz", "1 ounce" }, { "1 3/4 oz", "(1+3|4) oz" }, { "0.1 kg", "0.1 kg" },
    { "3.5 oz", "3.5 oz" },
  };

  if (skip_without_units ())
    return;
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      double grams;

      g_assert_true (bw_units_parse_mass (cases[i].text, &grams, NULL));
      assert_same (grams, ask (cases[i].have, "g"));
    }
}

static void
test_yarn (void)
{
  static const Case cases[] = {
    { "125 m", "125 m" }, { "137 yd", "137 yd" }, { "87 yards", "87 yards" }, { "1 yd", "yard" },
    { "0.5 yd", "0.5 yd" },
  };

  if (skip_without_units ())
    return;
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      double metres;

      g_assert_true (bw_units_parse_yarn (cases[i].text, &metres, NULL));
      assert_same (metres, ask (cases[i].have, "m"));
    }
}

/* The other way: what we print, the program reads. */
static void
test_printed (void)
{
  if (skip_without_units ())
    return;
  for (guint i = 0; i < 25; i++)
    {
      double mm = g_test_rand_double_range (1, 800);
      g_autofree char *cm = bw_units_format_length (mm, BW_UNITS_CM, BW_MM_PER_INCH);
      g_autofree char *inches = bw_units_format_length (mm, BW_UNITS_INCH, BW_MM_PER_INCH);
      g_auto (GStrv) words = NULL;
      g_autofree char *have = NULL;
      g_autofree char *sum = NULL;

      g_assert_cmpfloat (fabs (ask (cm, "mm") - mm), <=, 0.5 + 1e-9);

      /* "8 1/2 in" is "(8+1|2) in" there */
      g_strdelimit (inches, "/", '|');
      words = g_strsplit (inches, " ", -1);
      g_assert_cmpstr (words[g_strv_length (words) - 1], ==, "in");
      g_clear_pointer (&words[g_strv_length (words) - 1], g_free);
      sum = g_strjoinv ("+", words);
      have = g_strdup_printf ("(%s) inch", sum);
      g_assert_cmpfloat (fabs (ask (have, "mm") - mm), <=, BW_MM_PER_INCH / 16 + 1e-9);
    }
}

int
main (int    argc,
      char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/units/gnu-units/lengths", test_lengths);
  g_test_add_func ("/units/gnu-units/masses", test_masses);
  g_test_add_func ("/units/gnu-units/yarn", test_yarn);
  g_test_add_func ("/units/gnu-units/printed", test_printed);
  return g_test_run ();
}
