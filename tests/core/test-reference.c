#include <math.h>
#include <string.h>

#include <glib.h>

#include "bw-crown.h"
#include "bw-error.h"
#include "bw-reference-builtin.h"

/* The tables that are looked up: the files of data/reference/ as they are compiled
 * in, and texts that are refused. */

static BwReference *
builtin (void)
{
  g_autoptr (GError) error = NULL;
  BwReference *reference = bw_reference_builtin (&error);

  g_assert_no_error (error);
  g_assert_nonnull (reference);
  return reference;
}

static char *
load (const char *name)
{
  g_autofree char *path = g_test_build_filename (G_TEST_DIST, "../data/reference", name, NULL);
  g_autoptr (GError) error = NULL;
  char *text;

  g_file_get_contents (path, &text, NULL, &error);
  g_assert_no_error (error);
  return text;
}

/* --- What is built in --- */

static void
test_builtin (void)
{
  g_autoptr (BwReference) reference = builtin ();
  const BwSizeTable *first = g_ptr_array_index (reference->size_tables, 0);

  g_assert_nonnull (reference->stitches);
  g_assert_nonnull (reference->fabrics);
  g_assert_cmpuint (reference->crown_close->len, >, 0);
  g_assert_cmpuint (reference->yarn_classes->len, ==, 8);
  g_assert_cmpstr (first->id, ==, "heads");
  g_assert_true (bw_reference_size_table (reference, "heads") == first);
  g_assert_null (bw_reference_size_table (reference, "head"));
  g_assert_null (bw_reference_yarn_class (reference, 8));
  g_assert_null (bw_reference_yarn_name (reference, "5-ply"));
}

/* Every table in the folder, not only those that somebody thought of listing. */
static void
test_size_tables (void)
{
  g_autoptr (BwReference) reference = builtin ();
  g_autofree char *folder = g_test_build_filename (G_TEST_DIST, "../data/reference", NULL);
  g_autoptr (GError) error = NULL;
  g_autoptr (GDir) dir = g_dir_open (folder, 0, &error);
  const char *name;
  guint n = 0;

  g_assert_no_error (error);
  while ((name = g_dir_read_name (dir)) != NULL)
    {
      g_autofree char *text = NULL;
      g_autoptr (BwSizeTable) table = NULL;
      const BwSizeTable *compiled_in;

      if (!g_str_has_prefix (name, "sizes-") || !g_str_has_suffix (name, ".ini"))
        continue;
      n++;
      text = load (name);
      table = bw_size_table_parse (text, strlen (text), &error);
      g_assert_no_error (error);
      compiled_in = bw_reference_size_table (reference, table->id);
      g_assert_nonnull (compiled_in);
      g_assert_cmpuint (compiled_in->sizes->len, ==, table->sizes->len);
      g_assert_cmpstr (compiled_in->source, ==, table->source);
    }

  g_assert_cmpuint (n, ==, reference->size_tables->len);
  g_assert_cmpuint (n, >=, 5);
}

static void
check_size (const BwSizeTable *table,
            guint              i)
{
  const BwSize *size = g_ptr_array_index (table->sizes, i);
  const BwSize *before = i > 0 ? g_ptr_array_index (table->sizes, i - 1) : NULL;

  g_assert_cmpstr (size->source, !=, "");
  g_assert_cmpint (size->status, !=, BW_STATUS_UNSAID);
  g_assert_cmpfloat (size->depth_mm, >, 0.3 * size->head_mm);
  g_assert_cmpfloat (size->depth_mm, <, 0.45 * size->head_mm);
  if (before == NULL)
    return;

  g_assert_cmpfloat (size->head_mm, >, before->head_mm);
  g_assert_cmpfloat (size->depth_mm, >, before->depth_mm);
  /* A larger head is not a younger wearer. */
  if (size->months_from >= 0)
    g_assert_cmpint (size->months_from, >=, before->months_from);
  for (guint j = 0; j < i; j++)
    {
      const BwSize *other = g_ptr_array_index (table->sizes, j);

      g_assert_cmpstr (size->name, !=, other->name);
    }
}

static void
test_sizes (void)
{
  g_autoptr (BwReference) reference = builtin ();

  for (guint t = 0; t < reference->size_tables->len; t++)
    {
      const BwSizeTable *table = g_ptr_array_index (reference->size_tables, t);

      g_assert_cmpstr (table->source, !=, "");
      g_assert_cmpint (table->status, !=, BW_STATUS_UNSAID);
      for (guint i = 0; i < table->sizes->len; i++)
        check_size (table, i);
    }
}

/* A size for babies that is not marked as one would lose its cautions: whatever
 * has no age is caught by its head, and no age is claimed that the head belies (WHO
 * median of girls at three years: 48.5 cm, World Health Organization). */
static void
test_ages (void)
{
  g_autoptr (BwReference) reference = builtin ();

  for (guint t = 0; t < reference->size_tables->len; t++)
    {
      const BwSizeTable *table = g_ptr_array_index (reference->size_tables, t);

      for (guint i = 0; i < table->sizes->len; i++)
        {
          const BwSize *size = g_ptr_array_index (table->sizes, i);

          if (size->head_mm < 485)
            g_assert_cmpint (size->months_from, <, 36);
        }
    }
}

/* Nothing in the house style of our files may slip: a source beside everything, and
 * never a path or a number of a list that a reader does not have. */
static void
test_files (void)
{
  static const char *const names[] = { "hooks.ini", "yarn-classes.ini", "sizes-head-data.ini",
                                       "sizes-generic.ini", "sizes-baby-table.ini",
                                       "sizes-five.ini",
                                       "sizes-older-chart.ini" };

  for (gsize i = 0; i < G_N_ELEMENTS (names); i++)
    {
      g_autofree char *text = load (names[i]);
      g_auto (GStrv) lines = g_strsplit (text, "\n", -1);

      g_assert_true (g_str_has_prefix (text, "# "));
      g_assert_true (g_utf8_validate (text, -1, NULL));
      g_assert_false (g_regex_match_simple ("\\[?\\bS[0-9]+\\b", text, 0, 0));
      g_assert_true (g_str_has_suffix (text, "\n"));
      for (guint l = 0; lines[l] != NULL; l++)
        {
          g_assert_false (g_str_has_suffix (lines[l], " "));
          if (lines[l][0] == '#')
            g_assert_cmpuint (g_utf8_strlen (lines[l], -1), <=, 90);
        }
    }
}

static void
test_hooks (void)
{
  g_autoptr (BwReference) reference = builtin ();

  for (guint i = 0; i < reference->hooks->len; i++)
    {
      const BwHook *hook = &g_array_index (reference->hooks, BwHook, i);

      g_assert_true (bw_reference_hook (reference, hook->mm) == hook);
      g_assert_true (hook->us != NULL || hook->uk_old != NULL);
      g_assert_true ((hook->us == NULL) == (hook->us_status == BW_STATUS_UNSAID));
      g_assert_true ((hook->uk_old == NULL) == (hook->uk_old_status == BW_STATUS_UNSAID));
      if (i > 0)
        g_assert_cmpfloat (hook->mm, >, g_array_index (reference->hooks, BwHook, i - 1).mm);
    }

  g_assert_cmpstr (bw_reference_hook (reference, 5.04)->us, ==, "H-8");
  g_assert_cmpstr (bw_reference_hook (reference, 4.96)->us, ==, "H-8");
  g_assert_null (bw_reference_hook (reference, 5.06));
  g_assert_null (bw_reference_hook (reference, 0));
  g_assert_null (bw_reference_hook (reference, NAN));
}

static gpointer
read_in_thread (gpointer data G_GNUC_UNUSED)
{
  g_autoptr (BwReference) reference = builtin ();

  return GUINT_TO_POINTER (reference->size_tables->len + reference->hooks->len);
}

static void
test_threads (void)
{
  GThread *threads[8];
  g_autoptr (BwReference) reference = NULL;

  for (gsize i = 0; i < G_N_ELEMENTS (threads); i++)
    threads[i] = g_thread_new ("reference", read_in_thread, NULL);
  reference = builtin ();
  for (gsize i = 0; i < G_N_ELEMENTS (threads); i++)
    g_assert_cmpuint (GPOINTER_TO_UINT (g_thread_join (threads[i])), ==,
                      reference->size_tables->len + reference->hooks->len);
}

/* --- Refusals --- */

/* One class, its name, and what may be put in their places. */
#define CLASS(n) \
  "[" n "]\nus=U\nuk=K\ngauge-stitch=low\nstitches-a=5;9\nstitches-b=4;8\nhook-mm-a=1;2\n" \
  "hook-mm-b=2;0\nsource=made up\nstatus=read\n"
#define NAME(n, class) \
  "[name " n "]\nuk=N\nclass=" class "\nm-per-100g-a=100;200\nm-per-50g-d=40;150\n" \
  "source=made up\nstatus=read\n"
#define OPEN_NAME(n, class) \
  "[name " n "]\nuk=N\nclass=" class "\nm-per-100g-a=0;90\nsource=made up\nstatus=read\n"
#define METRES(range) \
  CLASS ("0") "[name a]\nuk=N\nclass=0\nm-per-100g-a=" range "\nsource=s\nstatus=read\n"
#define HOOK "[5.5]\nus=I\nus-source=made up\nus-status=read\n"
#define TABLE \
  "[Table]\nid=t\nname=T\nsource=s\nstatus=read\n" \
  "[a]\nname=A\nhead=50\ndepth=20\nsource=s\nstatus=read\n"

static BwReference *
make (const char  *hooks,
      const char  *yarn,
      const char  *table,
      GError     **error)
{
  g_autofree char *stitches = load ("stitches.ini");
  g_autofree char *fabrics = load ("stitch-patterns.ini");
  g_autofree char *close = load ("crown-close.ini");
  const char *tables[] = { TABLE, table, NULL };
  BwReferenceTexts texts = { stitches, fabrics, hooks, yarn, tables, close };

  return bw_reference_new (&texts, error);
}

static void
test_made (void)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (BwReference) reference = make (
    HOOK "[6]\nuk-old=4\nuk-old-status=memory\nnote=hm\n",
    CLASS ("0") CLASS ("1") CLASS ("2") NAME ("a", "0") NAME ("b", "1") NAME ("c", "1")
    "wraps-b=8;0\nnote=x\n" OPEN_NAME ("d", "2") NAME ("e", "2"), NULL, &error);
  const BwYarnClass *one;
  const BwYarnName *c;
  const BwHook *six;

  g_assert_no_error (error);
  one = bw_reference_yarn_class (reference, 1);
  g_assert_cmpfloat (one->stitches_min, ==, 4);
  g_assert_cmpfloat (one->stitches_max, ==, 9);
  g_assert_cmpfloat (one->hook_min_mm, ==, 1);
  g_assert_cmpfloat (one->hook_max_mm, ==, 0);
  g_assert_cmpfloat (one->editions[1].stitches.most, ==, 8);
  /* 100 to 200 m in 100 g; 40 to 150 m in 50 g. */
  g_assert_cmpfloat (one->m_per_100g_min, ==, 80);
  g_assert_cmpfloat (one->m_per_100g_max, ==, 300);
  /* an end that one name leaves open stays so */
  g_assert_cmpfloat (bw_reference_yarn_class (reference, 2)->m_per_100g_min, ==, 0);
  g_assert_cmpfloat (bw_reference_yarn_class (reference, 2)->m_per_100g_max, ==, 300);

  c = bw_reference_yarn_name (reference, "c");
  g_assert_cmpfloat (c->m_per_100g.least, ==, 80);
  g_assert_cmpfloat (c->wraps_per_inch.least, ==, 8);
  g_assert_cmpfloat (c->wraps_per_inch.most, ==, 0);
  g_assert_cmpstr (c->note, ==, "x");
  g_assert_null (c->ply);

  six = bw_reference_hook (reference, 6);
  g_assert_cmpstr (six->uk_old, ==, "4");
  g_assert_cmpint (six->uk_old_status, ==, BW_STATUS_MEMORY);
  g_assert_cmpstr (six->note, ==, "hm");
  g_assert_null (six->us);
}

#define YARN CLASS ("0") NAME ("a", "0")

static const struct
{
  const char *name;
  const char *hooks;
  const char *yarn;
  const char *table; /* a second one */
  int         code;
  const char *says;
} refusals[] = {
  { "hook-word", "[five]\nus=I\n", YARN, NULL, BW_ERROR_SYNTAX, "[five]: a hook's group" },
  { "hook-unit", "[5.5mm]\nus=I\n", YARN, NULL, BW_ERROR_SYNTAX, "[5.5mm]" },
  { "hook-negative", "[-5]\nus=I\n", YARN, NULL, BW_ERROR_SYNTAX, "[-5]" },
  { "hook-nan", "[nan]\nus=I\n", YARN, NULL, BW_ERROR_SYNTAX, "[nan]" },
  { "hook-huge", "[101]\nus=I\n", YARN, NULL, BW_ERROR_SYNTAX, "[101]" },
  { "hook-twice", HOOK HOOK, YARN, NULL, BW_ERROR_CONFLICT, "[5.5] stands twice" },
  { "hook-same", HOOK "[5.50]\nuk-old=5\nuk-old-status=read\n", YARN, NULL, BW_ERROR_CONFLICT,
    "[5.50]: hooks stand in ascending size" },
  { "hook-descending", HOOK "[5]\nuk-old=6\nuk-old-status=read\n", YARN, NULL, BW_ERROR_CONFLICT,
    "[5]: hooks stand" },
  { "hook-no-source", "[5.5]\nus=I\nus-status=read\n", YARN, NULL, BW_ERROR_MISSING,
    "[5.5] us-source" },
  { "hook-no-status", "[5.5]\nuk-old=5\n", YARN, NULL, BW_ERROR_MISSING, "[5.5] uk-old-status" },
  { "hook-key", "[5.5]\nuk=5\n", YARN, NULL, BW_ERROR_UNKNOWN, "[5.5] uk: there is no such key" },
  { "hook-syntax", "5.5 mm is I\n", YARN, NULL, BW_ERROR_SYNTAX, "Hooks: " },
  { "hook-utf-8", "[5.5]\nus=\xff\n", YARN, NULL, BW_ERROR_SYNTAX, "Hooks: the text is not UTF-8" },
  { "class-order", HOOK, CLASS ("1") NAME ("a", "1"), NULL, BW_ERROR_SYNTAX,
    "[1]: yarn classes stand in order" },
  { "class-word", HOOK, CLASS ("lace"), NULL, BW_ERROR_SYNTAX, "[lace]" },
  { "class-nine", HOOK,
    CLASS ("0") CLASS ("1") CLASS ("2") CLASS ("3") CLASS ("4") CLASS ("5") CLASS ("6") CLASS ("7")
    CLASS ("8"), NULL, BW_ERROR_SYNTAX, "[8]" },
  { "class-without-name", HOOK, CLASS ("0") CLASS ("1") NAME ("a", "0"), NULL, BW_ERROR_MISSING,
    "[1]: no yarn name has this class" },
  { "class-stitch", HOOK,
    "[0]\nus=U\nuk=K\ngauge-stitch=dc\nstitches-a=5;9\nstitches-b=4;8\nhook-mm-a=1;2\n"
    "hook-mm-b=2;0\nsource=s\nstatus=read\n", NULL, BW_ERROR_UNKNOWN, "[0] gauge-stitch: “dc”" },
  { "class-one-number", HOOK,
    "[0]\nus=U\nuk=K\ngauge-stitch=low\nstitches-a=5\nsource=s\nstatus=read\n", NULL,
    BW_ERROR_SYNTAX, "[0] stitches-a: “5” is not two numbers" },
  { "class-backwards", HOOK,
    "[0]\nus=U\nuk=K\ngauge-stitch=low\nstitches-a=9;5\nsource=s\nstatus=read\n", NULL,
    BW_ERROR_SYNTAX, "[0] stitches-a" },
  { "class-no-source", HOOK, "[0]\nus=U\nuk=K\ngauge-stitch=low\nstatus=read\n", NULL,
    BW_ERROR_MISSING, "[0] source" },
  { "name-class", HOOK, CLASS ("0") NAME ("a", "8"), NULL, BW_ERROR_RANGE,
    "[name a] class: “8” is not a whole number from 0 to 7" },
  { "name-twice", HOOK, CLASS ("0") NAME ("a", "0") NAME ("a", "0"), NULL, BW_ERROR_CONFLICT,
    "[name a] stands twice" },
  { "name-metres", HOOK, METRES ("1;x"), NULL, BW_ERROR_SYNTAX, "[name a] m-per-100g-a" },
  { "name-metres-unit", HOOK, METRES ("1;9 m"), NULL, BW_ERROR_SYNTAX, "m-per-100g-a: “1;9 m”" },
  { "name-metres-empty", HOOK, METRES (";9"), NULL, BW_ERROR_SYNTAX, "m-per-100g-a: “;9”" },
  { "name-metres-three", HOOK, METRES ("1;2;3"), NULL, BW_ERROR_SYNTAX, "“1;2;3” is not two" },
  { "name-metres-negative", HOOK, METRES ("-1;9"), NULL, BW_ERROR_SYNTAX, "“-1;9” is not two" },
  { "name-metres-huge", HOOK, METRES ("1;1000001"), NULL, BW_ERROR_SYNTAX, "1000001” is not two" },
  { "name-metres-nan", HOOK, METRES ("nan;nan"), NULL, BW_ERROR_SYNTAX, "“nan;nan” is not two" },
  { "two-tables", HOOK, YARN, TABLE, BW_ERROR_CONFLICT, "Two size tables have the id “t”" },
  { "bad-table", HOOK, YARN, "[Table]\n", BW_ERROR_MISSING, "[Table] id" },
};

static void
test_refusal (gconstpointer data)
{
  gsize i = GPOINTER_TO_SIZE (data);
  g_autoptr (GError) error = NULL;
  BwReference *reference = make (refusals[i].hooks, refusals[i].yarn, refusals[i].table, &error);

  g_assert_null (reference);
  g_assert_error (error, BW_ERROR, refusals[i].code);
  if (strstr (error->message, refusals[i].says) == NULL)
    g_error ("“%s” does not say “%s”", error->message, refusals[i].says);
}

int
main (int    argc,
      char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/reference/builtin", test_builtin);
  g_test_add_func ("/reference/size-tables", test_size_tables);
  g_test_add_func ("/reference/sizes", test_sizes);
  g_test_add_func ("/reference/ages", test_ages);
  g_test_add_func ("/reference/files", test_files);
  g_test_add_func ("/reference/hooks", test_hooks);
  g_test_add_func ("/reference/threads", test_threads);
  g_test_add_func ("/reference/made", test_made);
  for (gsize i = 0; i < G_N_ELEMENTS (refusals); i++)
    {
      g_autofree char *path = g_strconcat ("/reference/refusal/", refusals[i].name, NULL);

      g_test_add_data_func (path, GSIZE_TO_POINTER (i), test_refusal);
    }

  return g_test_run ();
}
