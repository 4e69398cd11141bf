#include "library-fill.h"

#include <math.h>

#include "../core/random-design.h"
#include "bw-library-design-private.h"
#include "bw-library-swatch-private.h"
#include "bw-library-yarn-private.h"

#define VOCABULARY 4000
#define N_YARNS    400
#define N_HOOKS    20
#define BATCH      1000 /* designs or swatches to a transaction */

static const char *const fabrics[] = {
  "plain-low", "plain-mid", "plain-tall", "back-loop-low", "slip-rib",
};

/* ---- words ------------------------------------------------------------------ */

/* The nth word of an invented language, of two to four syllables. */
static char *
nth_word (guint n)
{
  static const char consonants[] = "bdfghklmnprstvwz";
  static const char vowels[] = "aeiou";
  GString *word = g_string_new (NULL);
  guint n_syllables = 2 + n % 3;

  for (guint i = 0; i < n_syllables; i++)
    {
      guint syllable = (n * 2654435761u + i * 40503u) >> (3 + 5 * i) & 0xff;

      g_string_append_c (word, consonants[syllable % 16]);
      g_string_append_c (word, vowels[(syllable / 16 + n) % 5]);
    }
  if (n % 2 == 0)
    g_string_append_c (word, consonants[n / 2 % 16]);

  return g_string_free (word, FALSE);
}

/* Frequent words are many times as frequent as rare ones. */
char *
library_word (GRand *rand)
{
  return nth_word ((guint) (VOCABULARY * pow (g_rand_double (rand), 2.5)));
}

static void
set_words (GRand  *rand,
           char  **text,
           guint   n)
{
  GString *words = g_string_new (NULL);

  for (guint i = 0; i < n; i++)
    {
      g_autofree char *word = library_word (rand);

      g_string_append_printf (words, "%s%s", i > 0 ? " " : "", word);
    }
  g_free (*text);
  *text = g_string_free (words, FALSE);
}

static char *
yarn_name (guint i)
{
  g_autofree char *first = nth_word (i * 7 + 3);
  g_autofree char *second = nth_word (i * 11 + 5);

  return g_strdup_printf ("%s %s %u", first, second, i);
}

/* ---- transactions of many ----------------------------------------------------- */

static void
begin (BwLibrary *library)
{
  g_autoptr (GError) error = NULL;

  bw_library_begin (library, &error);
  g_assert_no_error (error);
}

static void
end (BwLibrary *library)
{
  g_autoptr (GError) error = NULL;

  bw_library_end (library, TRUE, &error);
  g_assert_no_error (error);
}

/* ---- designs ------------------------------------------------------------------ */

static void
add_tags (BwLibrary *library,
          gint64     id,
          GRand     *rand)
{
  g_autoptr (GError) error = NULL;

  for (gint i = g_rand_int_range (rand, 0, 4); i > 0; i--)
    {
      g_autofree char *tag = nth_word ((guint) g_rand_int_range (rand, 0, 60));

      bw_sql_do (library, &error, "INSERT OR IGNORE INTO design_tag (design, tag) VALUES (?, ?)",
                 "ls", id, tag);
      g_assert_no_error (error);
    }
}

static void
add_design (BwLibrary         *library,
            const BwReference *reference,
            GRand             *rand)
{
  g_autoptr (BwDesign) design = random_design (rand, reference);
  g_autoptr (GError) error = NULL;
  gint64 id;

  set_words (rand, &design->name, 2);
  set_words (rand, &design->code, 1);
  set_words (rand, &design->designer, 2);
  set_words (rand, &design->summary, 4);
  set_words (rand, &design->notes, (guint) g_rand_int_range (rand, 3, 12));
  g_free (design->yarn.name);
  design->yarn.name = yarn_name ((guint) g_rand_int_range (rand, 0, N_YARNS));
  bw_library_add_rows (library, design, NULL, &id, &error);
  g_assert_no_error (error);
  add_tags (library, id, rand);
}

/* SQLite's trace tells figures with 15 digits. With more of them, a statement
 * that is told would not be the one that was carried out. */
static void
round_figures (BwLibrary  *library,
               const char *table,
               const char *key,
               gint64      after)
{
  g_autoptr (GString) sql = g_string_new (NULL);
  g_autoptr (GError) error = NULL;
  sqlite3_stmt *columns = bw_sql_start (library, &error,
                                        "SELECT name FROM pragma_table_info (?)"
                                        " WHERE type = 'REAL'",
                                        "s", table);

  g_assert_no_error (error);
  while (bw_sql_step (library, columns, &error) == BW_STEP_ROW)
    g_string_append_printf (sql, "%s%s = round (%s, 4)", sql->len > 0 ? ", " : "",
                            sqlite3_column_text (columns, 0), sqlite3_column_text (columns, 0));
  g_string_prepend (sql, " SET ");
  g_string_prepend (sql, table);
  g_string_prepend (sql, "UPDATE ");
  g_string_append_printf (sql, " WHERE %s > ?", key);
  bw_sql_do (library, &error, sql->str, "l", after);
  g_assert_no_error (error);
}

/* One transaction. */
static void
add_designs (BwLibrary         *library,
             const BwReference *reference,
             GRand             *rand,
             guint              already,
             guint              n)
{
  begin (library);
  for (guint i = 0; i < n; i++)
    add_design (library, reference, rand);
  round_figures (library, "design", "id", already);
  round_figures (library, "design_swatch", "design", already);
  round_figures (library, "design_reading", "design", already);
  round_figures (library, "design_size", "design", already);
  end (library);
}

/* ---- swatches ------------------------------------------------------------------- */

static void
add_yarns (BwLibrary *library)
{
  begin (library);
  for (guint i = 0; i < N_YARNS; i++)
    {
      g_autofree char *name = yarn_name (i);
      g_autoptr (BwLibraryYarn) yarn = bw_library_yarn_new (name);
      g_autoptr (GError) error = NULL;

      bw_library_yarn_rows_save (library, yarn, &error);
      g_assert_no_error (error);
    }
  end (library);
}

void
library_swatch_set (GRand       *rand,
                    char       **yarn,
                    double      *hook_mm,
                    const char **fabric)
{
  *yarn = yarn_name ((guint) g_rand_int_range (rand, 0, N_YARNS));
  *hook_mm = 2.5 + 0.5 * g_rand_int_range (rand, 0, N_HOOKS);
  *fabric = fabrics[g_rand_int_range (rand, 0, G_N_ELEMENTS (fabrics))];
}

/* Four to eight readings, as a maker takes them; returns how many. */
static guint
add_swatch (BwLibrary *library,
            GRand     *rand,
            guint      most)
{
  g_autoptr (BwLibrarySwatch) swatch = NULL;
  g_autoptr (GError) error = NULL;
  g_autofree char *yarn = NULL;
  const char *fabric;
  double hook_mm;
  guint n = (guint) g_rand_int_range (rand, 4, 9);

  n = MIN (n, most);
  library_swatch_set (rand, &yarn, &hook_mm, &fabric);
  swatch = bw_library_swatch_new (yarn, hook_mm, fabric);
  for (guint i = 0; i < n; i++)
    {
      BwReading reading = {
        .direction = (BwReadingDirection) (i % 2),
        .count = g_rand_int_range (rand, 10, 31),
        .washed = TRUE,
      };

      reading.span_mm = round (reading.count * hook_mm * g_rand_double_range (rand, 11, 12)) / 10;
      bw_library_swatch_add_reading (swatch, &reading, i == 0 ? "middle" : "");
    }
  bw_library_swatch_rows_save (library, swatch, &error);
  g_assert_no_error (error);

  return n;
}

static void
add_swatches (BwLibrary *library,
              GRand     *rand,
              guint      n_readings)
{
  guint left = n_readings;

  while (left > 0)
    {
      begin (library);
      for (guint i = 0; i < BATCH && left > 0; i++)
        left -= add_swatch (library, rand, left);
      end (library);
    }
}

void
library_fill (BwLibrary         *library,
              const BwReference *reference,
              const LibrarySize *size)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (size->seed);

  add_yarns (library);
  for (guint n = 0; n < size->n_designs; n += BATCH)
    add_designs (library, reference, rand, n, MIN (BATCH, size->n_designs - n));
  add_swatches (library, rand, size->n_readings);
}
