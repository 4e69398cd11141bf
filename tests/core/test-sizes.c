#include <math.h>
#include <string.h>

#include <glib.h>

#include "bw-error.h"
#include "bw-sizes.h"

/* Size tables: what is read, what is refused and with which words; ease and the
 * figures of a head. The figures of these tables are made up. */

#define HEADER "[Table]\nid=t\nname=T\nsource=made up\nstatus=derived\n"
#define SIZE(id, head) "[" id "]\nname=N\nhead=" head "\ndepth=20 cm\nsource=made up\nstatus=read\n"

static BwSizeTable *
parse (const char *text)
{
  g_autoptr (GError) error = NULL;
  BwSizeTable *table = bw_size_table_parse (text, strlen (text), &error);

  g_assert_no_error (error);
  g_assert_nonnull (table);
  return table;
}

static void
test_parse (void)
{
  g_autoptr (BwSizeTable) table = parse (
    "# a comment\n" HEADER
    "[small]\nname=Small ñ\nhead=50\ndepth=19.5 cm\nmonths-from=36\nsource=S\nstatus=memory\n"
    "[Large_2]\nname=Large\nhead=22 in\nhead-in=22\ndepth=8 1/4\"\nsource=L\nstatus=secondary\n");
  const BwSize *small = bw_size_table_find (table, "small");
  const BwSize *large = bw_size_table_find (table, "Large_2");

  g_assert_cmpstr (table->id, ==, "t");
  g_assert_cmpstr (table->name, ==, "T");
  g_assert_cmpstr (table->source, ==, "made up");
  g_assert_cmpint (table->status, ==, BW_STATUS_DERIVED);
  g_assert_cmpuint (table->sizes->len, ==, 2);
  g_assert_true (small == g_ptr_array_index (table->sizes, 0));
  g_assert_true (large == g_ptr_array_index (table->sizes, 1));
  g_assert_null (bw_size_table_find (table, "smal"));

  g_assert_cmpstr (small->name, ==, "Small ñ");
  g_assert_cmpstr (small->source, ==, "S");
  g_assert_cmpfloat (small->head_mm, ==, 500);
  g_assert_cmpfloat (small->depth_mm, ==, 195);
  g_assert_cmpint (small->months_from, ==, 36);
  g_assert_cmpint (small->status, ==, BW_STATUS_MEMORY);
  g_assert_cmpfloat (fabs (large->head_mm - 558.8), <, 1e-9);
  g_assert_cmpfloat (fabs (large->depth_mm - 209.55), <, 1e-9);
  g_assert_cmpint (large->months_from, ==, -1);
}

/* The length is what counts: the text need not end in a zero byte. */
static void
test_length (void)
{
  static const char text[] = HEADER SIZE ("a", "50 cm") "[b]\nnonsense";
  gsize length = strlen (text) - strlen ("[b]\nnonsense");
  g_autofree char *exact = g_memdup2 (text, length);
  g_autoptr (GError) error = NULL;
  g_autoptr (BwSizeTable) table = bw_size_table_parse (exact, length, &error);

  g_assert_no_error (error);
  g_assert_cmpuint (table->sizes->len, ==, 1);
}

/* --- Refusals --- */

static const struct
{
  const char *name;
  const char *text;
  int         code;
  const char *says; /* and where */
} refusals[] = {
  { "empty", "", BW_ERROR_MISSING, "group [Table]" },
  { "no-table", SIZE ("a", "50 cm"), BW_ERROR_MISSING, "group [Table]" },
  { "no-key-file", "Newborn 35 cm\n", BW_ERROR_SYNTAX, "Size table: " },
  { "no-id", "[Table]\nname=T\nsource=s\nstatus=read\n", BW_ERROR_MISSING, "[Table] id" },
  { "no-table-name", "[Table]\nid=t\nsource=s\nstatus=read\n", BW_ERROR_MISSING, "[Table] name" },
  { "no-table-source", "[Table]\nid=t\nname=T\nstatus=read\n", BW_ERROR_MISSING, "[Table] source" },
  { "no-table-status", "[Table]\nid=t\nname=T\nsource=s\n", BW_ERROR_MISSING, "[Table] status" },
  { "no-sizes", HEADER, BW_ERROR_MISSING, "“t” holds no size" },
  { "no-name", HEADER "[a]\nhead=50\ndepth=20\nsource=s\nstatus=read\n", BW_ERROR_MISSING,
    "[a] name" },
  { "empty-name", HEADER "[a]\nname= \nhead=50\ndepth=20\nsource=s\nstatus=read\n",
    BW_ERROR_MISSING, "[a] name" },
  { "no-head", HEADER "[a]\nname=A\ndepth=20\nsource=s\nstatus=read\n", BW_ERROR_MISSING,
    "[a] head" },
  { "no-depth", HEADER "[a]\nname=A\nhead=50\nsource=s\nstatus=read\n", BW_ERROR_MISSING,
    "[a] depth" },
  { "no-source", HEADER "[a]\nname=A\nhead=50\ndepth=20\nstatus=read\n", BW_ERROR_MISSING,
    "[a] source" },
  { "no-status", HEADER "[a]\nname=A\nhead=50\ndepth=20\nsource=s\n", BW_ERROR_MISSING,
    "[a] status" },
  { "other-status", HEADER "[a]\nname=A\nhead=50\ndepth=20\nsource=s\nstatus=heard\n",
    BW_ERROR_UNKNOWN, "[a] status: “heard” is none of read" },
  { "no-number", HEADER SIZE ("a", "fifty"), BW_ERROR_SYNTAX, "[a] head: " },
  { "other-unit", HEADER SIZE ("a", "50 ells"), BW_ERROR_SYNTAX, "[a] head: " },
  { "not-a-number", HEADER SIZE ("a", "nan"), BW_ERROR_SYNTAX, "[a] head: " },
  { "negative", HEADER SIZE ("a", "-50 cm"), BW_ERROR_RANGE, "not between 15 and 80 cm" },
  { "too-small", HEADER SIZE ("a", "149.9 mm"), BW_ERROR_RANGE, "not between 15 and 80 cm" },
  { "too-large", HEADER SIZE ("a", "800.1 mm"), BW_ERROR_RANGE, "not between 15 and 80 cm" },
  { "mm-for-cm", HEADER SIZE ("a", "560"), BW_ERROR_RANGE, "[a] head: 560" },
  { "shallow", HEADER "[a]\nname=A\nhead=50\ndepth=4.9\nsource=s\nstatus=read\n", BW_ERROR_RANGE,
    "[a] depth: 4.9 is not between 5 and 60 cm" },
  { "alike", HEADER SIZE ("a", "50 cm") SIZE ("b", "50 cm"), BW_ERROR_CONFLICT,
    "[b] head: sizes have to ascend, and 50 cm is not more than 50 cm of [a]" },
  { "alike-in-inches", HEADER SIZE ("a", "22 in") SIZE ("b", "55.88 cm"), BW_ERROR_CONFLICT,
    "55.88 cm is not more than 55.88 cm of [a]" },
  { "descending", HEADER SIZE ("a", "50 cm") SIZE ("b", "49 cm"), BW_ERROR_CONFLICT, "[b] head" },
  { "twice", HEADER SIZE ("a", "50 cm") SIZE ("b", "51 cm") SIZE ("a", "52 cm"), BW_ERROR_CONFLICT,
    "line 18: [a] stands twice" },
  { "twice-with-spaces", HEADER "  [a]\nname=A\n" SIZE ("a", "52 cm"), BW_ERROR_CONFLICT,
    "[a] stands twice" },
  { "key-twice", HEADER SIZE ("a", "50 cm") "head = 52 cm\n", BW_ERROR_CONFLICT,
    "head stands twice" },
  { "unknown-key", HEADER SIZE ("a", "50 cm") "month-from=0\n", BW_ERROR_UNKNOWN,
    "[a] month-from: there is no such key; the keys are name, head, depth, months-from" },
  { "unknown-table-key", HEADER "author=x\n" SIZE ("a", "50 cm"), BW_ERROR_UNKNOWN,
    "[Table] author" },
  { "months-word", HEADER SIZE ("a", "50 cm") "months-from=three\n", BW_ERROR_RANGE,
    "[a] months-from: “three” is not a whole number" },
  { "months-negative", HEADER SIZE ("a", "50 cm") "months-from=-1\n", BW_ERROR_RANGE,
    "[a] months-from" },
  { "months-many", HEADER SIZE ("a", "50 cm") "months-from=1201\n", BW_ERROR_RANGE,
    "[a] months-from" },
  { "id", HEADER SIZE ("a b", "50 cm"), BW_ERROR_SYNTAX, "[a b]: a size is named by letters" },
  { "utf-8", HEADER "[a]\nname=\xff\nhead=50\ndepth=20\nsource=s\nstatus=read\n", BW_ERROR_SYNTAX,
    "save it as UTF-8" },
};

static void
test_refusal (gconstpointer data)
{
  gsize i = GPOINTER_TO_SIZE (data);
  g_autoptr (GError) error = NULL;
  BwSizeTable *table = bw_size_table_parse (refusals[i].text, strlen (refusals[i].text), &error);

  g_assert_null (table);
  g_assert_error (error, BW_ERROR, refusals[i].code);
  if (strstr (error->message, refusals[i].says) == NULL)
    g_error ("“%s” does not say “%s”", error->message, refusals[i].says);
}

static void
test_zero_byte (void)
{
  static const char text[] = HEADER "[a]\nname=A\0B\nhead=50\ndepth=20\nsource=s\nstatus=read\n";
  g_autoptr (GError) error = NULL;

  g_assert_null (bw_size_table_parse (text, sizeof text - 1, &error));
  g_assert_error (error, BW_ERROR, BW_ERROR_SYNTAX);
}

static void
test_too_many (void)
{
  g_autoptr (GString) text = g_string_new (HEADER);
  g_autoptr (GError) error = NULL;

  for (int i = 0; i <= 100; i++)
    g_string_append_printf (text, "[s%d]\nname=N\nhead=%d mm\ndepth=20\nsource=s\nstatus=read\n", i,
                            400 + i);
  g_assert_null (bw_size_table_parse (text->str, text->len, &error));
  g_assert_error (error, BW_ERROR, BW_ERROR_TOO_LARGE);
}

/* The limits themselves are allowed. */
static void
test_limits (void)
{
  g_autoptr (BwSizeTable) table = parse (
    HEADER SIZE ("a", "15 cm") SIZE ("b", "80 cm") "months-from=1200\n");

  g_assert_cmpfloat (bw_size_table_find (table, "a")->head_mm, ==, 150);
  g_assert_cmpint (bw_size_table_find (table, "b")->months_from, ==, 1200);
}

/* Damage at any byte is read or refused, and nothing else. */
static void
test_damage (void)
{
  static const char text[] = HEADER SIZE ("a", "50 cm") SIZE ("b", "22 in") "months-from=216\n";
  static const char bytes[] = { '\0', '\n', '[', ']', '=', '9', ';', '\\', '\xc3' };

  for (gsize at = 0; at < sizeof text - 1; at++)
    {
      for (gsize b = 0; b < sizeof bytes; b++)
        {
          g_autofree char *damaged = g_memdup2 (text, sizeof text - 1);
          g_autoptr (GError) error = NULL;
          g_autoptr (BwSizeTable) table = NULL;

          damaged[at] = bytes[b];
          table = bw_size_table_parse (damaged, sizeof text - 1, &error);
          g_assert_true ((table == NULL) == (error != NULL));
          if (error != NULL)
            g_assert_true (error->domain == BW_ERROR);
        }
      {
        g_autoptr (GError) error = NULL;
        g_autoptr (BwSizeTable) table = bw_size_table_parse (text, at, &error);

        g_assert_true ((table == NULL) == (error != NULL));
      }
    }
}

/* --- A size, and ease --- */

static void
test_copy (void)
{
  g_autoptr (BwSize) size = bw_size_new ("a", "A", 560, 215);
  g_autoptr (BwSize) copy = NULL;

  g_assert_cmpint (size->months_from, ==, -1);
  g_assert_cmpstr (size->source, ==, "");
  g_assert_cmpint (size->status, ==, BW_STATUS_UNSAID);

  size->months_from = 7;
  size->status = BW_STATUS_MEMORY;
  g_free (size->source);
  size->source = g_strdup ("S");
  copy = bw_size_copy (size);
  g_assert_cmpstr (copy->id, ==, "a");
  g_assert_cmpstr (copy->name, ==, "A");
  g_assert_cmpstr (copy->source, ==, "S");
  g_assert_true (copy->name != size->name);
  g_assert_cmpfloat (copy->head_mm, ==, 560);
  g_assert_cmpfloat (copy->depth_mm, ==, 215);
  g_assert_cmpint (copy->months_from, ==, 7);
  g_assert_cmpint (copy->status, ==, BW_STATUS_MEMORY);
  bw_size_free (NULL);
}

static void
test_ease (void)
{
  g_assert_cmpfloat (bw_ease_apply (&(const BwEase) { 0, 0 }, 560), ==, 560);
  g_assert_cmpfloat (fabs (bw_ease_apply (&(const BwEase) { -0.07, 0 }, 480) - 446.4), <, 1e-9);
  g_assert_cmpfloat (bw_ease_apply (&(const BwEase) { 0, -50 }, 560), ==, 510);
  g_assert_cmpfloat (fabs (bw_ease_apply (&(const BwEase) { -0.1, 20 }, 500) - 470), <, 1e-9);
  g_assert_cmpfloat (bw_ease_apply (&(const BwEase) { 0.25, 0 }, 400), ==, 500);
}

/* Every eighth that comes up is written with the smallest fraction. */
static void
test_hat_size_fractions (void)
{
  static const char *const eighths[] = { "7", "7 1/8", "7 1/4", "7 3/8", "7 1/2", "7 5/8", "7 3/4",
                                         "7 7/8", "8" };

  for (gsize i = 0; i < G_N_ELEMENTS (eighths); i++)
    {
      double mm = (7 + i / 8.0) * G_PI * 25.4;
      g_autofree char *us = bw_sizes_hat_size_us (mm);

      g_assert_cmpstr (us, ==, eighths[i]);
      if (i > 0)
        {
          g_autofree char *uk = bw_sizes_hat_size_uk (mm);

          g_assert_cmpstr (uk, ==, eighths[i - 1]);
        }
    }
}

/* A flat crown's girth is pi times what it is across. */
static void
test_crown (void)
{
  for (double girth = 300; girth < 700; girth += 37)
    g_assert_cmpfloat (fabs (bw_sizes_crown_diameter (girth) * G_PI - girth), <, 1e-9);
}

int
main (int    argc,
      char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/sizes/parse", test_parse);
  g_test_add_func ("/sizes/length", test_length);
  for (gsize i = 0; i < G_N_ELEMENTS (refusals); i++)
    {
      g_autofree char *path = g_strconcat ("/sizes/refusal/", refusals[i].name, NULL);

      g_test_add_data_func (path, GSIZE_TO_POINTER (i), test_refusal);
    }
  g_test_add_func ("/sizes/zero-byte", test_zero_byte);
  g_test_add_func ("/sizes/too-many", test_too_many);
  g_test_add_func ("/sizes/limits", test_limits);
  g_test_add_func ("/sizes/damage", test_damage);
  g_test_add_func ("/sizes/copy", test_copy);
  g_test_add_func ("/sizes/ease", test_ease);
  g_test_add_func ("/sizes/hat-size-fractions", test_hat_size_fractions);
  g_test_add_func ("/sizes/crown", test_crown);

  return g_test_run ();
}
