#include <glib.h>

#include "bw-reference-builtin.h"
#include "published.h"

/* Every class of yarn thickness, and every name of the UK, against the published
 * rows. All secondary: the standard's own pages could not be reached.
 *
 * Edition A: "Standard Yarn Weight System", 222handspun.com/tips-and-tutorials/tag/
 * Yarn%20size%20gauge, and a crochet magazine of October 2018, page 64,
 * issuhub.com/view/index?id=3342&pageIndex=64. Edition B: "Yarn weights" of a thread
 * manufacturer (address withheld) and "Yarn guide" (PDF of a shop). Stitches of UK
 * dc (US sc) in 4 in, 10 cm; class 0 in UK treble (US double crochet). 0 = open. */
static const struct
{
  const char *us;
  BwRange     stitches[2];
  BwRange     hook[2];
  const char *hook_us;
} classes[] = {
  { "Lace", { { 32, 42 }, { 32, 42 } }, { { 2.25, 2.25 }, { 2.25, 2.25 } },
    "steel 6, 7, 8; regular B-1" },
  { "Super Fine", { { 21, 32 }, { 21, 32 } }, { { 2.25, 3.5 }, { 2.25, 3.5 } }, "B-1 to E-4" },
  { "Fine", { { 16, 20 }, { 16, 20 } }, { { 3.5, 4.5 }, { 3.5, 4.5 } }, "E-4 to 7" },
  { "Light", { { 12, 17 }, { 12, 17 } }, { { 4.5, 5.5 }, { 4.5, 5.5 } }, "7 to I-9" },
  { "Medium", { { 11, 14 }, { 11, 14 } }, { { 5.5, 6.5 }, { 5.5, 6.5 } }, "I-9 to K-10 1/2" },
  { "Bulky", { { 8, 11 }, { 8, 11 } }, { { 6.5, 9 }, { 6.5, 9 } }, "K-10 1/2 to M-13" },
  { "Super Bulky", { { 6, 9 }, { 7, 9 } }, { { 9, 16 }, { 9, 15 } }, "M-13 to Q" },
  { "Jumbo", { { 0, 5 }, { 0, 6 } }, { { 16, 0 }, { 15, 0 } }, "Q and larger" },
};

/* Metres in 100 g: "Yarn weights" of a thread manufacturer (address withheld); "What
 * are the different yarn weights", October 2024, skeinqueenyarns.co.uk/blogs/news/;
 * "Crochet hook, yarn and stitch conversions, metres" (PDF of a shop). Metres in 50 g:
 * "Yarn standard chart", colourspun.blogspot.com/2011/05/yarn-standard-chart.html.
 * Wraps to the inch in the second and the fourth. All read; NULL = not given. */
static const struct
{
  const char *id;
  guint       number;
  const char *ply;
  const char *metres[3];
  const char *metres_50g;
  const char *wraps[2];
} names[] = {
  { "lace", 0, "2 ply", { "600;1100", "600;800", "600;0" }, NULL, { "30;40", "18;0" } },
  { "3-ply", 1, "3 ply", { "420;580", "500;600", "420;580" }, NULL, { "20;30", "16;18" } },
  { "4-ply", 1, "4 ply", { "420;580", "350;450", "260;480" }, "165;165", { "14;24", "14;16" } },
  { "sport", 2, "5 ply", { "260;400", "250;350", "260;400" }, "135;145", { "12;18", "12;14" } },
  { "dk", 3, "8 ply", { "210;250", "200;250", "210;250" }, "100;125", { "11;15", "11;12" } },
  { "aran", 4, "10 ply", { "130;200", "120;200", "130;200" }, "65;90", { "9;12", "8;11" } },
  { "chunky", 5, "12 ply", { "90;120", "100;130", "90;120" }, "45;50", { "6;8", "7;8" } },
  { "super-chunky", 6, "14-16 ply", { "40;80", "0;100", "40;80" }, "30;35", { "0;6", "5;6" } },
  { "roving", 7, NULL, { NULL, "0;100", "0;40" }, NULL, { NULL, NULL } },
};

static BwReference *reference;

static void
assert_range (const BwRange *ours,
              const BwRange *published)
{
  g_assert_cmpfloat (ours->least, ==, published->least);
  g_assert_cmpfloat (ours->most, ==, published->most);
}

static void
test_editions (void)
{
  g_autoptr (GKeyFile) file = published_load ("yarn-classes.ini");

  g_assert_cmpuint (reference->yarn_classes->len, ==, G_N_ELEMENTS (classes));
  for (guint i = 0; i < G_N_ELEMENTS (classes); i++)
    {
      const BwYarnClass *ours = bw_reference_yarn_class (reference, i);
      g_autofree char *group = g_strdup_printf ("%u", i);

      g_assert_cmpuint (ours->number, ==, i);
      g_assert_cmpstr (ours->us, ==, classes[i].us);
      g_assert_cmpint (ours->status, ==, BW_STATUS_SECONDARY);
      g_assert_cmpstr (ours->gauge_stitch, ==, i == 0 ? "tall" : "low");
      published_assert (file, group, "hook-us-a", classes[i].hook_us);
      for (guint e = 0; e < 2; e++)
        {
          assert_range (&ours->editions[e].stitches, &classes[i].stitches[e]);
          assert_range (&ours->editions[e].hook_mm, &classes[i].hook[e]);
        }
    }

  /* Steel hooks of edition A. */
  published_assert (file, "0", "steel-hook-mm-a", "1.4;1.6");
  g_assert_null (bw_reference_yarn_class (reference, 8));
}

/* Where the editions differ, the class takes in both. */
static void
test_widest (void)
{
  const BwYarnClass *six = bw_reference_yarn_class (reference, 6);
  const BwYarnClass *seven = bw_reference_yarn_class (reference, 7);

  g_assert_cmpfloat (six->stitches_min, ==, 6);
  g_assert_cmpfloat (six->stitches_max, ==, 9);
  g_assert_cmpfloat (six->hook_min_mm, ==, 9);
  g_assert_cmpfloat (six->hook_max_mm, ==, 16);
  g_assert_cmpfloat (seven->stitches_min, ==, 0);
  g_assert_cmpfloat (seven->stitches_max, ==, 6);
  g_assert_cmpfloat (seven->hook_min_mm, ==, 15);
  g_assert_cmpfloat (seven->hook_max_mm, ==, 0);
}

/* From class to class yarn grows thicker, and neighbours touch or overlap. */
static void
test_order (void)
{
  for (guint i = 1; i < G_N_ELEMENTS (classes); i++)
    {
      const BwYarnClass *thin = bw_reference_yarn_class (reference, i - 1);
      const BwYarnClass *thick = bw_reference_yarn_class (reference, i);

      g_assert_cmpfloat (thick->stitches_max, <, thin->stitches_max);
      g_assert_cmpfloat (thick->stitches_max, >=, thin->stitches_min - 1);
      g_assert_cmpfloat (thick->hook_min_mm, >=, thin->hook_min_mm);
      g_assert_cmpfloat (thick->hook_min_mm, <=, thin->hook_max_mm);
      g_assert_cmpfloat (thick->m_per_100g_min, <=, thin->m_per_100g_min);
    }
}

/* "least;most"; 0 at an end = open. */
static gboolean
reaches (const BwRange *range,
         const char    *published,
         double         factor)
{
  g_auto (GStrv) ends = g_strsplit (published, ";", 2);
  double least = factor * g_ascii_strtod (ends[0], NULL);
  double most = factor * g_ascii_strtod (ends[1], NULL);

  return range->least <= least && (range->most == 0 || (most > 0 && range->most >= most));
}

static void
test_names (void)
{
  static const char *const keys[] = { "m-per-100g-a", "m-per-100g-b", "m-per-100g-c" };
  g_autoptr (GKeyFile) file = published_load ("yarn-classes.ini");

  g_assert_cmpuint (reference->yarn_names->len, ==, G_N_ELEMENTS (names));
  for (guint i = 0; i < G_N_ELEMENTS (names); i++)
    {
      const BwYarnName *name = bw_reference_yarn_name (reference, names[i].id);
      const BwYarnClass *of = bw_reference_yarn_class (reference, names[i].number);
      g_autofree char *group = g_strconcat ("name ", names[i].id, NULL);

      g_assert_nonnull (name);
      g_assert_cmpuint (name->number, ==, names[i].number);
      g_assert_cmpstr (name->ply, ==, names[i].ply);
      g_assert_cmpint (name->status, ==, BW_STATUS_READ);
      published_assert (file, group, "m-per-50g-d", names[i].metres_50g);
      published_assert (file, group, "wraps-b", names[i].wraps[0]);
      published_assert (file, group, "wraps-d", names[i].wraps[1]);
      for (guint s = 0; s < G_N_ELEMENTS (keys); s++)
        {
          BwRange whole = { of->m_per_100g_min, of->m_per_100g_max };

          published_assert (file, group, keys[s], names[i].metres[s]);
          if (names[i].metres[s] == NULL)
            continue;
          g_assert_true (reaches (&name->m_per_100g, names[i].metres[s], 1));
          g_assert_true (reaches (&whole, names[i].metres[s], 1));
        }
      if (names[i].metres_50g != NULL)
        g_assert_true (reaches (&name->m_per_100g, names[i].metres_50g, 2));
      for (guint s = 0; s < 2; s++)
        if (names[i].wraps[s] != NULL)
          g_assert_true (reaches (&name->wraps_per_inch, names[i].wraps[s], 1));
    }
}

/* The reach of a name is no wider than its sources. */
static void
test_reach_is_tight (void)
{
  const BwYarnName *four_ply = bw_reference_yarn_name (reference, "4-ply");
  const BwYarnName *aran = bw_reference_yarn_name (reference, "aran");
  const BwYarnName *lace = bw_reference_yarn_name (reference, "lace");
  const BwYarnName *chunky = bw_reference_yarn_name (reference, "chunky");

  assert_range (&four_ply->m_per_100g, &(const BwRange) { 260, 580 });
  assert_range (&four_ply->wraps_per_inch, &(const BwRange) { 14, 24 });
  assert_range (&aran->m_per_100g, &(const BwRange) { 120, 200 });
  assert_range (&lace->m_per_100g, &(const BwRange) { 600, 0 });
  assert_range (&chunky->m_per_100g, &(const BwRange) { 90, 130 });
}

int
main (int    argc,
      char **argv)
{
  g_autoptr (GError) error = NULL;
  int result;

  g_test_init (&argc, &argv, NULL);
  reference = bw_reference_builtin (&error);
  g_assert_no_error (error);
  g_test_add_func ("/yarn-classes/editions", test_editions);
  g_test_add_func ("/yarn-classes/widest", test_widest);
  g_test_add_func ("/yarn-classes/order", test_order);
  g_test_add_func ("/yarn-classes/names", test_names);
  g_test_add_func ("/yarn-classes/reach-is-tight", test_reach_is_tight);

  result = g_test_run ();
  bw_reference_free (reference);
  return result;
}
