#include <glib.h>
#include <string.h>

#include "bw-error.h"
#include "bw-reference-builtin.h"

static BwReference *reference;

static const BwStitch *
stitch_named (const char *id)
{
  BwStitchIndex index = bw_stitch_find (reference->stitches, id);

  g_assert_cmpuint (index, !=, BW_STITCH_NONE);
  return bw_stitch_get (reference->stitches, index);
}

/* The stitches that the program's other parts and its users rely on. */
static void
test_complete (void)
{
  static const struct { const char *id, *uk, *us; guint takes, makes; gboolean post; } wanted[] = {
    { "chain", "ch", "ch", 0, 1, FALSE },
    { "slip", "ss", "sl st", 1, 1, FALSE },
    { "low", "dc", "sc", 1, 1, TRUE },
    { "mid", "htr", "hdc", 1, 1, TRUE },
    { "tall", "tr", "dc", 1, 1, TRUE },
    { "taller", "dtr", "tr", 1, 1, TRUE },
    { "low2tog", "dc2tog", "sc2tog", 2, 1, TRUE },
    { "low3tog", "dc3tog", "sc3tog", 3, 1, TRUE },
    { "taller3tog", "dtr3tog", "tr3tog", 3, 1, TRUE },
    { "front-post-tall", "FPtr", "FPdc", 1, 1, TRUE },
    { "back-post-taller", "BPdtr", "BPtr", 1, 1, TRUE },
    { "reverse-low", "crab", "rsc", 1, 1, FALSE },
    { "bobble", "bo", "bo", 1, 1, FALSE },
    { "puff", "puff", "puff", 1, 1, FALSE },
    { "popcorn", "pc", "pc", 1, 1, FALSE },
    { "shell", "sh", "sh", 1, 5, TRUE },
    { "v-stitch", "V-st", "V-st", 1, 3, TRUE },
    { "crossed-tall", "crtr", "crdc", 2, 2, TRUE },
    { "miss", "miss", "sk", 1, 0, FALSE },
  };

  for (guint i = 0; i < G_N_ELEMENTS (wanted); i++)
    {
      const BwStitch *stitch = stitch_named (wanted[i].id);

      g_assert_cmpstr (stitch->uk, ==, wanted[i].uk);
      g_assert_cmpstr (stitch->us, ==, wanted[i].us);
      g_assert_cmpuint (stitch->takes, ==, wanted[i].takes);
      g_assert_cmpuint (stitch->makes, ==, wanted[i].makes);
      g_assert_true (stitch->has_post == wanted[i].post);
    }
}

/* A stitch of more than one loop says how it is worked; plain ones need not. */
static void
test_special (void)
{
  guint n = bw_stitch_dictionary_size (reference->stitches);

  for (guint i = 0; i < n; i++)
    {
      const BwStitch *stitch = bw_stitch_get (reference->stitches, (BwStitchIndex) i);

      if (stitch->anchor == BW_ANCHOR_FRONT_POST || stitch->anchor == BW_ANCHOR_BACK_POST ||
          stitch->anchor == BW_ANCHOR_BASE || stitch->takes > 1 || stitch->makes > 1)
        g_assert_nonnull (stitch->special);
      if (stitch->takes > 0 && stitch->makes > 0)
        g_assert_cmpfloat (stitch->yarn, >, 0);
    }
}

static void
test_find (void)
{
  const BwStitchDictionary *stitches = reference->stitches;
  guint n = bw_stitch_dictionary_size (stitches);

  for (guint i = 0; i < n; i++)
    {
      const BwStitch *stitch = bw_stitch_get (stitches, (BwStitchIndex) i);
      g_autofree char *upper = g_ascii_strup (stitch->uk, -1);

      g_assert_cmpuint (bw_stitch_find (stitches, stitch->id), ==, i);
      g_assert_cmpuint (bw_stitch_find_abbreviation (stitches, upper, strlen (upper), BW_TERMS_UK),
                        ==, i);
      g_assert_cmpuint (bw_stitch_find_abbreviation (stitches, stitch->us, strlen (stitch->us),
                                                     BW_TERMS_US), ==, i);
    }

  g_assert_cmpuint (bw_stitch_find (stitches, "nothing"), ==, BW_STITCH_NONE);
  g_assert_cmpuint (bw_stitch_find_abbreviation (stitches, "sc", 2, BW_TERMS_UK), ==, BW_STITCH_NONE);
  g_assert_cmpuint (bw_stitch_find_abbreviation (stitches, "htr", 3, BW_TERMS_US), ==, BW_STITCH_NONE);
  g_assert_cmpuint (bw_stitch_together (stitches, bw_stitch_find (stitches, "mid"), 3), ==,
                    bw_stitch_find (stitches, "mid3tog"));
  g_assert_cmpuint (bw_stitch_together (stitches, bw_stitch_find (stitches, "chain"), 2), ==,
                    BW_STITCH_NONE);
}

/* Other ways to write a stitch are read, and belong to one set of terms. */
static void
test_also (void)
{
  static const struct { const char *text; BwTerms terms; const char *id; } cases[] = {
    { "sl st", BW_TERMS_UK, "slip" }, { "SS", BW_TERMS_US, "slip" }, { "ttr", BW_TERMS_UK, "tallest" },
    { "RtrF", BW_TERMS_UK, "front-post-tall" }, { "rtrf", BW_TERMS_US, "front-post-taller" },
    { "Bobble", BW_TERMS_US, "bobble" }, { "puff st", BW_TERMS_UK, "puff" },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    g_assert_cmpuint (bw_stitch_find_abbreviation (reference->stitches, cases[i].text,
                                                   strlen (cases[i].text), cases[i].terms), ==,
                      bw_stitch_find (reference->stitches, cases[i].id));

  g_assert_cmpuint (bw_stitch_find_abbreviation (reference->stitches, "ttr", 3, BW_TERMS_US), ==,
                    BW_STITCH_NONE);
}

#define GOOD "[a]\nuk=a\nus=b\nuk-name=a\nus-name=b\nsymbol=x\ntakes=1\nmakes=1\nanchor=top\n" \
             "below=1\npost=yes\nheight=1\nyarn=6\nturning-chain=1\n"

static void
assert_refused (const char *text,
                int         code,
                const char *part)
{
  g_autoptr (GError) error = NULL;

  g_assert_null (bw_stitch_dictionary_parse (text, strlen (text), &error));
  g_assert_error (error, BW_ERROR, code);
  g_assert_nonnull (strstr (error->message, part));
}

static void
test_errors (void)
{
  g_autoptr (GString) text = g_string_new (GOOD);
  g_autoptr (BwStitchDictionary) good = bw_stitch_dictionary_parse (GOOD, strlen (GOOD), NULL);

  g_assert_nonnull (good);
  g_string_replace (text, "anchor=top", "anchor=side", 1);
  assert_refused (text->str, BW_ERROR_UNKNOWN, "anchor");

  g_string_assign (text, GOOD);
  g_string_replace (text, "makes=1", "makes=-1", 1);
  assert_refused (text->str, BW_ERROR_RANGE, "makes");

  g_string_assign (text, GOOD);
  g_string_replace (text, "us=b\n", "", 1);
  assert_refused (text->str, BW_ERROR_MISSING, "us:");

  assert_refused (GOOD "tops=2\n", BW_ERROR_UNKNOWN, "tops");
  assert_refused (GOOD "space=2\n", BW_ERROR_RANGE, "space");
  assert_refused (GOOD "us-also=c;b\n", BW_ERROR_CONFLICT, "two stitches");
  assert_refused ("uk=a\n", BW_ERROR_SYNTAX, "Stitch dictionary");

  g_string_assign (text, GOOD);
  g_string_replace (text, "takes=1", "takes=1.5", 1);
  assert_refused (text->str, BW_ERROR_RANGE, "takes");

  g_string_assign (text, GOOD);
  g_string_replace (text, "post=yes", "post=perhaps", 1);
  assert_refused (text->str, BW_ERROR_UNKNOWN, "post");

  g_string_assign (text, GOOD GOOD);
  g_string_replace (text, GOOD "[a]", GOOD "[b]", 1);
  assert_refused (text->str, BW_ERROR_CONFLICT, "two stitches");
}

int
main (int    argc,
      char **argv)
{
  int status;

  g_test_init (&argc, &argv, NULL);
  reference = bw_reference_builtin (NULL);
  g_assert_nonnull (reference);
  g_test_add_func ("/stitch/complete", test_complete);
  g_test_add_func ("/stitch/special", test_special);
  g_test_add_func ("/stitch/find", test_find);
  g_test_add_func ("/stitch/also", test_also);
  g_test_add_func ("/stitch/errors", test_errors);
  status = g_test_run ();
  bw_reference_free (reference);
  return status;
}
