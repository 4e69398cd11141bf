#include <glib.h>
#include <math.h>

#include "bw-reference-builtin.h"
#include "published.h"

/* The size tables against measured heads and published charts. */

/* WHO Child Growth Standards, head circumference for age (World Health
 * Organization, github.com/WorldHealthOrganization/anthro, data-raw/growthstandards/
 * hcanthro.txt; monthly rows also in github.com/rcpch/rcpchgrowth-python,
 * rcpchgrowth/data_tables/): median and coefficient of variation, read. L is 1 in
 * every row, so value = M (1 + z S). Beside them, worked out: the 3rd and 97th
 * percentile and two standard deviations either way. cm. */
static const struct
{
  guint  months;
  gboolean girls;
  double median;
  double s;
  double p3;
  double p97;
  double low;
  double high;
} who[] = {
  { 0, FALSE, 34.4618, 0.03686, 32.07, 36.85, 31.9, 37.0 },
  { 1, FALSE, 37.2759, 0.03133, 35.08, 39.47, 34.9, 39.6 },
  { 3, FALSE, 40.5135, 0.02918, 38.29, 42.74, 38.1, 42.9 },
  { 6, FALSE, 43.3306, 0.02817, 41.03, 45.63, 40.9, 45.8 },
  { 9, FALSE, 44.9998, 0.02792, 42.64, 47.36, 42.5, 47.5 },
  { 12, FALSE, 46.0661, 0.02789, 43.65, 48.48, 43.5, 48.6 },
  { 18, FALSE, 47.3711, 0.02800, 44.88, 49.87, 44.7, 50.0 },
  { 24, FALSE, 48.2515, 0.02821, 45.69, 50.81, 45.5, 51.0 },
  { 36, FALSE, 49.4612, 0.02871, 46.79, 52.13, 46.6, 52.3 },
  { 48, FALSE, 50.2115, 0.02912, 47.46, 52.96, 47.3, 53.1 },
  { 60, FALSE, 50.7372, 0.02945, 47.93, 53.55, 47.7, 53.7 },
  { 0, TRUE, 33.8787, 0.03496, 31.65, 36.11, 31.5, 36.2 },
  { 1, TRUE, 36.5463, 0.03210, 34.34, 38.75, 34.2, 38.9 },
  { 3, TRUE, 39.5328, 0.03140, 37.20, 41.87, 37.1, 42.0 },
  { 6, TRUE, 42.1995, 0.03087, 39.75, 44.65, 39.6, 44.8 },
  { 9, TRUE, 43.8300, 0.03053, 41.31, 46.35, 41.2, 46.5 },
  { 12, TRUE, 44.8965, 0.03027, 42.34, 47.45, 42.2, 47.6 },
  { 18, TRUE, 46.2424, 0.02987, 43.64, 48.84, 43.5, 49.0 },
  { 24, TRUE, 47.1822, 0.02957, 44.56, 49.81, 44.4, 50.0 },
  { 36, TRUE, 48.5099, 0.02912, 45.85, 51.17, 45.7, 51.3 },
  { 48, TRUE, 49.3321, 0.02878, 46.66, 52.00, 46.5, 52.2 },
  { 60, TRUE, 49.9225, 0.02850, 47.25, 52.60, 47.1, 52.8 },
};

/* z of the 97th, the 75th and the 3rd percentile of a normal distribution. */
#define Z_97 1.880794
#define Z_75 0.674490

/* 2012 Anthropometric Survey of U.S. Army Personnel (NATICK/TR-15/007, December
 * 2014), public data, column headcircumference, mm: percentiles by linear
 * interpolation and the share of people below some heads, worked out from the raw
 * data, which was read. */
static const double percents[] = { 1, 5, 10, 25, 50, 75, 90, 95, 99 };

static const struct
{
  double mean;
  double sd;
  double at[G_N_ELEMENTS (percents)];
  double below[4]; /* percent below 540, 560, 580 and 600 mm */
} adults[] = {
  { 574.373, 16.049, { 538, 548, 554, 563, 574, 585, 595, 601, 614.2 }, { 1.1, 17.6, 63.2, 93.6 } },
  { 561.120, 19.361, { 521, 532, 538, 548, 560, 573, 587, 597, 611 }, { 11.8, 49.9, 83.5, 95.9 } },
};

#define MEN   0
#define WOMEN 1

static BwReference *reference;

static const BwSize *
size_of (const char *table,
         const char *id)
{
  const BwSizeTable *found = bw_reference_size_table (reference, table);
  const BwSize *size;

  g_assert_nonnull (found);
  size = bw_size_table_find (found, id);
  g_assert_nonnull (size);
  return size;
}

static gsize
who_row (guint    months,
         gboolean girls)
{
  for (gsize i = 0; i < G_N_ELEMENTS (who); i++)
    if (who[i].months == months && who[i].girls == girls)
      return i;

  g_assert_not_reached ();
}

static double
median_of_both (guint months)
{
  return (who[who_row (months, FALSE)].median + who[who_row (months, TRUE)].median) / 2;
}

static double
z_of (double   cm,
      guint    months,
      gboolean girls)
{
  gsize row = who_row (months, girls);

  return (cm / who[row].median - 1) / who[row].s;
}

/* Our tables are rounded to the half centimetre. */
static double
half_cm (double cm)
{
  return floor (cm * 2 + 0.5) / 2;
}

/* --- The published rows themselves --- */

static void
test_who_rows (void)
{
  gsize year = who_row (12, FALSE);

  for (gsize i = 0; i < G_N_ELEMENTS (who); i++)
    {
      double sd = who[i].median * who[i].s;

      g_assert_cmpfloat (fabs (who[i].median - Z_97 * sd - who[i].p3), <, 0.006);
      g_assert_cmpfloat (fabs (who[i].median + Z_97 * sd - who[i].p97), <, 0.006);
      g_assert_cmpfloat (fabs (who[i].median - 2 * sd - who[i].low), <, 0.051);
      g_assert_cmpfloat (fabs (who[i].median + 2 * sd - who[i].high), <, 0.051);
      if (i > 0 && who[i].girls == who[i - 1].girls)
        g_assert_cmpfloat (who[i].median, >, who[i - 1].median);
    }

  /* Boys of twelve months, z = 0 and 2. */
  g_assert_cmpfloat (who[year].median, ==, 46.0661);
  g_assert_cmpfloat (fabs (who[year].median * (1 + 2 * who[year].s) - 48.636), <, 0.0006);
  g_assert_cmpfloat (fabs (z_of (48.636, 12, FALSE) - 2), <, 0.001);
}

/* The shares lie between the percentiles that enclose them. */
static void
test_adult_rows (void)
{
  const double heads[] = { 540, 560, 580, 600 };

  for (gsize sex = 0; sex < G_N_ELEMENTS (adults); sex++)
    for (gsize h = 0; h < G_N_ELEMENTS (heads); h++)
      {
        double least = 0, most = 100;

        for (gsize p = 0; p < G_N_ELEMENTS (percents); p++)
          {
            if (adults[sex].at[p] < heads[h])
              least = percents[p];
            else if (adults[sex].at[p] > heads[h])
              most = MIN (most, percents[p]);
          }
        g_assert_cmpfloat (adults[sex].below[h], >=, least);
        g_assert_cmpfloat (adults[sex].below[h], <=, most);
      }

  for (gsize sex = 0; sex < G_N_ELEMENTS (adults); sex++)
    {
      g_assert_cmpfloat (fabs (adults[sex].at[4] - adults[sex].mean), <, 0.1 * adults[sex].sd);
      g_assert_cmpfloat (fabs (adults[sex].at[5] - adults[sex].at[3] - 2 * Z_75 * adults[sex].sd),
                         <, 0.1 * adults[sex].sd);
    }
}

/* --- Our default table --- */

static void
test_children (void)
{
  const struct
  {
    const char *id;
    guint       months;
    int         from;
  } sizes[] = {
    { "baby-3m", 3, 1 }, { "baby-6m", 6, 3 }, { "baby-12m", 12, 6 }, { "toddler", 24, 12 },
    { "child", 48, 36 },
  };
  const BwSize *newborn = size_of ("heads", "newborn");
  double birth = (median_of_both (0) + median_of_both (1)) / 2;

  for (gsize i = 0; i < G_N_ELEMENTS (sizes); i++)
    {
      const BwSize *size = size_of ("heads", sizes[i].id);
      double cm = size->head_mm / 10;

      g_assert_cmpfloat (cm, ==, half_cm (median_of_both (sizes[i].months)));
      g_assert_cmpint (size->months_from, ==, sizes[i].from);
      /* The middle half of boys and of girls of that age. */
      g_assert_cmpfloat (fabs (z_of (cm, sizes[i].months, FALSE)), <, Z_75);
      g_assert_cmpfloat (fabs (z_of (cm, sizes[i].months, TRUE)), <, Z_75);
    }

  /* From birth to one month a head grows by 2.7 cm: above the medians at birth,
   * below those at one month, and outside neither's 3rd to 97th percentile. */
  g_assert_cmpfloat (newborn->head_mm / 10, ==, half_cm (birth));
  g_assert_cmpint (newborn->months_from, ==, 0);
  for (int girls = 0; girls < 2; girls++)
    {
      double cm = newborn->head_mm / 10;

      g_assert_cmpfloat (z_of (cm, 0, girls), >, 0);
      g_assert_cmpfloat (z_of (cm, 0, girls), <, Z_97);
      g_assert_cmpfloat (z_of (cm, 1, girls), <, 0);
      g_assert_cmpfloat (z_of (cm, 1, girls), >, -Z_97);
    }
}

static void
test_adults (void)
{
  const double *men = adults[MEN].at, *women = adults[WOMEN].at;

  g_assert_cmpfloat (size_of ("heads", "adult-s")->head_mm / 10, ==, half_cm (women[2] / 10));
  g_assert_cmpfloat (size_of ("heads", "adult-m")->head_mm / 10, ==,
                     half_cm ((men[4] + women[4]) / 20));
  g_assert_cmpfloat (size_of ("heads", "adult-l")->head_mm / 10, ==, half_cm (men[6] / 10));
  g_assert_cmpfloat (size_of ("heads", "adult-xl")->head_mm / 10, ==, half_cm (men[8] / 10));
}

/* Between the growth standards and the adults: a line by age from the medians at 4
 * years to those of adults, at 18. No source for these ages could be used; British
 * boys have a median of 54.18 cm at nine (github.com/rcpch/rcpchgrowth-python,
 * uk_who_child_male_ofc_cubic_daily_lms.json, read), and the line must not be above
 * it, nor below it by more than two standard deviations (5.9 % of it). */
static void
test_between (void)
{
  const double from = median_of_both (48);
  const double to = (adults[MEN].at[4] + adults[WOMEN].at[4]) / 20;
  const struct
  {
    const char *id;
    double      years;
  } sizes[] = { { "child-l", 8 }, { "teen", 12 } };

  for (gsize i = 0; i < G_N_ELEMENTS (sizes); i++)
    {
      const BwSize *size = size_of ("heads", sizes[i].id);
      double on_line = from + (to - from) * (sizes[i].years - 4) / 14;

      g_assert_cmpfloat (size->head_mm / 10, ==, half_cm (on_line));
      g_assert_cmpint (size->status, ==, BW_STATUS_DERIVED);
      g_assert_true (g_str_has_prefix (size->source, "derived"));
      g_assert_cmpint (size->months_from, <, (int) (12 * sizes[i].years));
    }

  g_assert_cmpfloat (from + (to - from) * 5 / 14, <, 54.18);
  g_assert_cmpfloat (from + (to - from) * 5 / 14, >, 54.18 * (1 - 2 * 0.0293));
}

/* "Knitted hat sizing", tikkiknits.com/knitted-hat-sizing.html, which says that it
 * follows a published standard of body sizes; read. NULL = not printed. */
static const struct
{
  const char *id;
  const char *head_in;
  const char *head_cm;
  const char *depth_in;
  const char *depth_cm;
  double      depth_of_head; /* worked out */
} generic[] = {
  { "preemie", "12", "30.5", "4 1/4", "11", 0.354 },
  { "newborn", "14", NULL, "5", "13", 0.357 },
  { "baby", "16", NULL, "6 1/4", "16", 0.391 },
  { "toddler", "18", NULL, "7", "18", 0.389 },
  { "child", "20", NULL, "7 1/2", "19", 0.375 },
  { "adult", "22", NULL, "8 1/4", "21", 0.375 },
  { "adult-large", "24", NULL, "9 1/4", "23.5", 0.385 },
};

static double
number (const char *text)
{
  return g_ascii_strtod (text, NULL);
}

static double
generic_head (gsize i)
{
  return generic[i].head_cm != NULL ? number (generic[i].head_cm)
                                    : 2.54 * number (generic[i].head_in);
}

/* On a straight line between the rows, the last one going on. */
static double
generic_depth (double cm)
{
  gsize i = 1;

  while (i + 1 < G_N_ELEMENTS (generic) && generic_head (i) < cm)
    i++;
  return number (generic[i - 1].depth_cm) +
         (number (generic[i].depth_cm) - number (generic[i - 1].depth_cm)) *
           (cm - generic_head (i - 1)) / (generic_head (i) - generic_head (i - 1));
}

static void
test_depths (void)
{
  const BwSizeTable *heads = bw_reference_size_table (reference, "heads");

  for (guint i = 0; i < heads->sizes->len; i++)
    {
      const BwSize *size = g_ptr_array_index (heads->sizes, i);

      g_assert_cmpfloat (size->depth_mm / 10, ==, half_cm (generic_depth (size->head_mm / 10)));
    }
}

/* Two other published rules enclose our depths: a third of the head and 1 cm ("The
 * sizes of hats", en.razmery.info/clothes/the-sizes-of-hats.html, read) and 0.4 of
 * the head. The smallest, which is printed so, is less deep than either. */
static void
test_other_rules (void)
{
  const BwSizeTable *heads = bw_reference_size_table (reference, "heads");

  for (guint i = 0; i < heads->sizes->len; i++)
    {
      const BwSize *size = g_ptr_array_index (heads->sizes, i);

      g_assert_cmpfloat (size->depth_mm, <, bw_sizes_depth_from_head (size->head_mm));
      if (!g_str_equal (size->id, "preemie"))
        g_assert_cmpfloat (size->depth_mm, >, size->head_mm / 3 + 10);
    }
}

static void
test_ids (void)
{
  static const char *const wanted[] = { "newborn", "baby-6m", "baby-12m", "toddler", "child",
                                        "adult-s", "adult-m", "adult-l" };
  double before = 0;

  for (gsize i = 0; i < G_N_ELEMENTS (wanted); i++)
    {
      const BwSize *size = size_of ("heads", wanted[i]);

      g_assert_cmpfloat (size->head_mm, >, before);
      before = size->head_mm;
    }
}

/* --- Published charts as tables --- */

static void
test_generic (void)
{
  g_autoptr (GKeyFile) file = published_load ("sizes-generic.ini");

  g_assert_cmpuint (bw_reference_size_table (reference, "generic")->sizes->len, ==,
                    G_N_ELEMENTS (generic));
  for (gsize i = 0; i < G_N_ELEMENTS (generic); i++)
    {
      const BwSize *size = size_of ("generic", generic[i].id);

      published_assert (file, generic[i].id, "head-in", generic[i].head_in);
      published_assert (file, generic[i].id, "head-cm", generic[i].head_cm);
      published_assert (file, generic[i].id, "depth-in", generic[i].depth_in);
      published_assert (file, generic[i].id, "depth-cm", generic[i].depth_cm);
      g_assert_cmpfloat (fabs (size->head_mm - 10 * generic_head (i)), <, 1e-9);
      g_assert_cmpfloat (fabs (size->depth_mm - 10 * number (generic[i].depth_cm)), <, 1e-9);
      g_assert_cmpint (size->status, ==, BW_STATUS_SECONDARY);
    }
}

/* Depth over head, both in inches. */
static void
test_generic_ratio (void)
{
  const double inches[] = { 4.25, 5, 6.25, 7, 7.5, 8.25, 9.25 };

  for (gsize i = 0; i < G_N_ELEMENTS (generic); i++)
    g_assert_cmpfloat (fabs (inches[i] / number (generic[i].head_in) - generic[i].depth_of_head), <,
                       0.00051);
}

/* The middle of `28-33`, or the number that stands alone. */
static double
middle (const char *range)
{
  g_auto (GStrv) ends = g_strsplit (range, "-", 2);

  return ends[1] == NULL ? number (ends[0]) : (number (ends[0]) + number (ends[1])) / 2;
}

/* "How big should a newborn crochet hat be", motherhoodday.com/pregnant/how-big-
 * should-a-newborn-crochet-hat-be.html and babylishadvice.com/my-child/how-big-
 * should-a-newborn-crochet-hat-be.html, read: head, finished hat, crown to ear. The
 * newborn's 10 in are a slip of the page: 33 cm are 13 in. */
static void
test_baby_table (void)
{
  const struct
  {
    const char *id;
    const char *values[6];
  } rows[] = {
    { "preemie", { "12", "30.5", "10.5-12", "26.5-30.5", "4-4.5", "10-11.5" } },
    { "newborn", { "10", "33", "11.5-13", "29-33", "4.5-5", "11.5-13" } },
    { "baby", { "14", "35.5", "12.4-14", "32-35.5", "5-5.5", "13-14" } },
    { "toddler", { "16", "40.5", "14.5-16", "37-40.5", "5.5-6", "14-15" } },
  };
  static const char *const keys[] = { "head-in", "head-cm", "hat-in", "hat-cm", "depth-in",
                                      "depth-cm" };
  g_autoptr (GKeyFile) file = published_load ("sizes-baby-table.ini");

  g_assert_cmpuint (bw_reference_size_table (reference, "baby-table")->sizes->len, ==,
                    G_N_ELEMENTS (rows));
  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      const BwSize *size = size_of ("baby-table", rows[i].id);

      for (gsize k = 0; k < G_N_ELEMENTS (keys); k++)
        published_assert (file, rows[i].id, keys[k], rows[i].values[k]);
      g_assert_cmpfloat (size->head_mm, ==, 10 * number (rows[i].values[1]));
      g_assert_cmpfloat (fabs (size->depth_mm - 10 * middle (rows[i].values[5])), <, 1e-9);
    }
}

/* A published hat in five sizes (PDF of a shop, address withheld), read; the ease of
 * the finished hat against the middle head, per cent, is worked out. */
static void
test_five_sizes (void)
{
  const struct
  {
    const char *id;
    const char *values[4];
    int         ease;
  } rows[] = {
    { "fits-28-33", { "11-13", "28-33", "11 3/4", "30" }, -2 },
    { "fits-35-40", { "14-16", "35.5-40.5", "13 1/4", "33.5" }, -12 },
    { "fits-43-46", { "17-18", "43-46", "16 3/4", "42.5" }, -4 },
    { "fits-48-53", { "19-21", "48.5-53.5", "18 1/4", "46.5" }, -9 },
    { "fits-56-61", { "22-24", "56-61", "20", "51" }, -13 },
  };
  static const char *const keys[] = { "head-in", "head-cm", "hat-in", "hat-cm" };
  g_autoptr (GKeyFile) file = published_load ("sizes-five.ini");

  g_assert_cmpuint (bw_reference_size_table (reference, "five-sizes")->sizes->len, ==,
                    G_N_ELEMENTS (rows));
  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      const BwSize *size = size_of ("five-sizes", rows[i].id);
      double hat = number (rows[i].values[3]);

      for (gsize k = 0; k < G_N_ELEMENTS (keys); k++)
        published_assert (file, rows[i].id, keys[k], rows[i].values[k]);
      g_assert_cmpfloat (fabs (size->head_mm - 10 * middle (rows[i].values[1])), <, 1e-9);
      g_assert_cmpfloat (size->depth_mm / 10, ==,
                         half_cm (bw_sizes_depth_from_head (size->head_mm) / 10));
      g_assert_cmpint (lround (100 * (10 * hat / size->head_mm - 1)), ==, rows[i].ease);
    }
}

/* From memory, not read; only Premie to Toddler are borne out, by the page above. The
 * columns do not follow from each other: 20 in are 50.8 cm, printed is 50.5. */
static void
test_older_chart (void)
{
  const struct
  {
    const char *id;
    const char *in;
    const char *cm;
  } rows[] = {
    { "premie", "12", "30.5" }, { "baby", "14", "35.5" },  { "toddler", "16", "40.5" },
    { "child", "18", "45.5" },  { "woman", "20", "50.5" }, { "man", "22", "56" },
  };
  g_autoptr (GKeyFile) file = published_load ("sizes-older-chart.ini");
  const BwSizeTable *table = bw_reference_size_table (reference, "older-chart");

  g_assert_cmpuint (table->sizes->len, ==, G_N_ELEMENTS (rows));
  g_assert_cmpint (table->status, ==, BW_STATUS_MEMORY);
  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      const BwSize *size = size_of ("older-chart", rows[i].id);

      published_assert (file, rows[i].id, "head-in", rows[i].in);
      published_assert (file, rows[i].id, "head-cm", rows[i].cm);
      g_assert_cmpfloat (size->head_mm, ==, 10 * number (rows[i].cm));
      g_assert_cmpfloat (size->depth_mm / 10, ==,
                         half_cm (bw_sizes_depth_from_head (size->head_mm) / 10));
      g_assert_cmpint (size->status, ==, BW_STATUS_MEMORY);
    }
}

/* Why it is not the default: its child, in either unit, is below half of all boys of
 * twelve months, and our own child of 3 to 6 is not. Nor does it say ages for them,
 * so that no caution is left out on the strength of a name. */
static void
test_older_chart_runs_small (void)
{
  const BwSize *child = size_of ("older-chart", "child");

  g_assert_cmpfloat (child->head_mm / 10, <, who[who_row (12, FALSE)].median);
  g_assert_cmpfloat (18 * 2.54, <, who[who_row (12, FALSE)].median);
  g_assert_cmpfloat (child->head_mm / 10, <, who[who_row (36, TRUE)].p3);
  g_assert_cmpfloat (size_of ("heads", "child")->head_mm / 10, >, who[who_row (36, FALSE)].median);
  g_assert_cmpint (child->months_from, ==, -1);
  g_assert_cmpint (size_of ("older-chart", "man")->months_from, ==, 216);
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
  g_test_add_func ("/heads/who-rows", test_who_rows);
  g_test_add_func ("/heads/adult-rows", test_adult_rows);
  g_test_add_func ("/heads/children", test_children);
  g_test_add_func ("/heads/between", test_between);
  g_test_add_func ("/heads/adults", test_adults);
  g_test_add_func ("/heads/depths", test_depths);
  g_test_add_func ("/heads/other-rules", test_other_rules);
  g_test_add_func ("/heads/ids", test_ids);
  g_test_add_func ("/heads/generic", test_generic);
  g_test_add_func ("/heads/generic-ratio", test_generic_ratio);
  g_test_add_func ("/heads/baby-table", test_baby_table);
  g_test_add_func ("/heads/five-sizes", test_five_sizes);
  g_test_add_func ("/heads/older-chart", test_older_chart);
  g_test_add_func ("/heads/older-chart-runs-small", test_older_chart_runs_small);

  result = g_test_run ();
  bw_reference_free (reference);
  return result;
}
