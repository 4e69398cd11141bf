#include <string.h>

#include <glib/gstdio.h>
#include <sqlite3.h>

#include "bw-library-design.h"
#include "bw-library-gauge.h"
#include "bw-reference-builtin.h"
#include "bw-stats.h"
#include "library-fill.h"
#include "shell.h"
#include "told.h"

/* How long the library takes with 100,000 designs and 1,000,000 readings, and
 * how that grew from a hundredth of it.
 *
 * Beside each stands the sqlite3 shell. A run of ours is made twice: once with
 * SQLite's trace on, which tells every statement with its values, and once for
 * the clock. The statements become one script for one run of the shell, on the
 * same file put back to how it was. What the shell takes to start, to open the
 * file and to end is measured with a script that has everything but those
 * statements, and taken off. Ratios are of processor time, user and system,
 * because others may be at work on the machine; what people wait for is the
 * clock's time, printed beside it.
 *
 * Fails on ratios and on a growth that an index should have prevented; targets
 * in milliseconds hang on the machine, and one that is missed is printed so. */

#define SMALLER      100
#define RATIO_MOST   1.5
#define GROWTH_MOST  10
#define N_OPENS      200
#define N_SEARCHES   2100
#define N_SAVES      600
#define N_GAUGES     600
#define N_STARTS     15  /* runs of the shell's start, of which the median counts */
#define SHOWN        180 /* as many as the window shows */

typedef enum
{
  OPEN,
  SEARCH,
  SAVE,
  GAUGE,
  N_WORKS,
} Work;

static const char *const names[N_WORKS] = { "open", "search", "save", "gauge" };

typedef struct
{
  char              *folder;
  char              *path;      /* the library that is worked on */
  char              *original;  /* how it was */
  char              *script;
  const BwReference *reference;
  guint              n_designs;
  gboolean           large;               /* the second, larger library */
  double             medians[2][N_WORKS]; /* ms */
  guint              n_failed;
} Bench;

/* ---- files ----------------------------------------------------------------- */

static void
must_write (const char *path,
            const char *text,
            gssize      length)
{
  g_autoptr (GError) error = NULL;

  g_file_set_contents (path, text, length, &error);
  g_assert_no_error (error);
}

static void
put_back (Bench *bench)
{
  static const char *const suffixes[] = { "-wal", "-shm" };
  g_autoptr (GFile) from = g_file_new_for_path (bench->original);
  g_autoptr (GFile) to = g_file_new_for_path (bench->path);
  g_autoptr (GError) error = NULL;

  for (gsize i = 0; i < G_N_ELEMENTS (suffixes); i++)
    {
      g_autofree char *beside = g_strconcat (bench->path, suffixes[i], NULL);

      g_unlink (beside);
    }
  g_file_copy (from, to, G_FILE_COPY_OVERWRITE, NULL, NULL, NULL, &error);
  g_assert_no_error (error);
}

static BwLibrary *
open_library (Bench *bench)
{
  g_autoptr (GError) error = NULL;
  BwLibrary *library = bw_library_open (bench->path, BW_LIBRARY_OPEN_CREATE, &error);

  g_assert_no_error (error);

  return library;
}

/* The search index reads its own settings when it is first used, which no
 * statement of ours asked for. */
static BwLibrary *
open_and_forget (Bench *bench)
{
  BwLibrary *library = open_library (bench);
  g_autoptr (GPtrArray) found = bw_library_search (library, "zz", 1, NULL);

  g_assert_nonnull (found);
  g_string_truncate (told, 0);

  return library;
}

static char *
one_text (const char *path,
          const char *sql)
{
  sqlite3 *db = NULL;
  sqlite3_stmt *statement = NULL;
  char *text;

  g_assert_cmpint (sqlite3_open (path, &db), ==, SQLITE_OK);
  g_assert_cmpint (sqlite3_prepare_v2 (db, sql, -1, &statement, NULL), ==, SQLITE_OK);
  g_assert_cmpint (sqlite3_step (statement), ==, SQLITE_ROW);
  text = g_strdup ((const char *) sqlite3_column_text (statement, 0));
  sqlite3_finalize (statement);
  sqlite3_close (db);

  return text;
}

/* ---- the shell's part ------------------------------------------------------ */

/* What the library says to a connection when it opens one. */
static const char prelude[] =
  ".bail on\n"
  "PRAGMA foreign_keys = ON; PRAGMA recursive_triggers = ON; PRAGMA synchronous = NORMAL;\n"
  "PRAGMA cell_size_check = ON; PRAGMA journal_mode = WAL; PRAGMA journal_size_limit = 16777216;\n"
  "SELECT count (*) FROM sqlite_schema;\n";

static double
shell_cpu (Bench      *bench,
           const char *head,
           const char *statements)
{
  g_autofree char *text = g_strconcat (head, statements, NULL);

  must_write (bench->script, text, -1);

  return shell_run (bench->path, bench->script, "/dev/null").cpu_us;
}

/* Beyond its start, the median of several. */
static double
shell_start (Bench      *bench,
             const char *head)
{
  double took[N_STARTS];

  for (guint i = 0; i < N_STARTS; i++)
    took[i] = shell_cpu (bench, head, "");

  return bw_stats_median (took, N_STARTS);
}

/* How many lines the shell prints for them: as many as we read. */
static guint
shell_lines (Bench      *bench,
             const char *statements)
{
  g_autofree char *text = g_strconcat (prelude, ".print ----\n", statements, NULL);
  g_autofree char *out = g_build_filename (bench->folder, "out", NULL);
  g_autofree char *printed = NULL;
  const char *line;
  guint n = 0;

  must_write (bench->script, text, -1);
  shell_run (bench->path, bench->script, out);
  g_assert_true (g_file_get_contents (out, &printed, NULL, NULL));
  line = strstr (printed, "----\n");
  g_assert_nonnull (line);
  for (line += 5; *line != '\0'; line++)
    n += *line == '\n';

  return n;
}

/* ---- figures --------------------------------------------------------------- */

/* @at is where the target stands: 0.5 is the median. Keeps the median, for the
 * growth. */
static void
print_times (Bench *bench,
             Work   work,
             Times *times,
             double at,
             double target_ms)
{
  double value = percentile (times->wall_ms, times->n, at);
  double median = percentile (times->wall_ms, times->n, 0.5);

  bench->medians[bench->large][work] = median;
  g_print ("%7u designs: %-6s median %.3f ms, 99 of 100 within %.3f (of the processor %.3f),"
           " all %.3f; target %g for %s%s\n",
           bench->n_designs, names[work], median, percentile (times->wall_ms, times->n, 0.99),
           percentile (times->cpu_ms, times->n, 0.99), percentile (times->wall_ms, times->n, 1.0),
           target_ms, at > 0.5 ? "99 of 100" : "the median", value < target_ms ? "" : ": MISSED");
}

static void
print_ratio (Bench  *bench,
             double  ours_us,
             double  shell_us,
             guint   n)
{
  double ratio = ours_us / shell_us;

  g_print ("         %.1f us of processor each; the sqlite3 shell %.1f; ratio %.2f,"
           " at most %.1f%s\n",
           ours_us / n, shell_us / n, ratio, RATIO_MOST,
           ratio <= RATIO_MOST ? "" : ": FAILED");
  bench->n_failed += ratio > RATIO_MOST;
}

/* A hundred times the designs: what walked along a table would take a hundred
 * times as long. A search shows more, the more there is to show. */
static void
print_growth (Bench *bench)
{
  g_print ("From %u to %u designs the median grows:", bench->n_designs / SMALLER, bench->n_designs);
  for (guint i = 0; i < N_WORKS; i++)
    {
      double growth = bench->medians[1][i] / bench->medians[0][i];
      gboolean failed = i != SEARCH && growth > GROWTH_MOST;

      g_print ("%s %s %.2f times%s", i > 0 ? "," : "", names[i], growth, failed ? " FAILED" : "");
      bench->n_failed += failed;
    }
  g_print ("\n");
}

/* ---- opening --------------------------------------------------------------- */

static double
open_in_memory (void)
{
  Took start = took_now ();

  for (guint i = 0; i < N_OPENS; i++)
    {
      sqlite3 *db = NULL;

      g_assert_cmpint (sqlite3_open (":memory:", &db), ==, SQLITE_OK);
      sqlite3_close (db);
    }

  return took_since (start).cpu_us;
}

static char *
open_script (Bench      *bench,
             const char *name,
             const char *statements)
{
  GString *script = g_string_new (NULL);

  (void) bench;
  for (guint i = 0; i < N_OPENS; i++)
    g_string_append_printf (script, ".open %s\n%s", name, statements);

  return g_string_free (script, FALSE);
}

/* Opened and closed, again and again. What an opening costs in itself, of a
 * database in memory, is taken off on both sides: the shell loads functions of
 * its own with each. */
static void
time_opening (Bench *bench)
{
  g_autoptr (GString) heard = NULL;
  g_autofree char *script = NULL;
  g_autofree char *nothing = open_script (bench, ":memory:", "");
  Times times = times_new (N_OPENS);
  Took all;
  double shell;

  listen_to_sqlite (TRUE);
  bw_library_close (open_library (bench));
  heard = told;
  listen_to_sqlite (FALSE);

  all = took_now ();
  for (guint i = 0; i < N_OPENS; i++)
    {
      Took start = took_now ();
      BwLibrary *library = open_library (bench);

      times_add (&times, took_since (start));
      bw_library_close (library);
    }
  all = took_since (all);

  script = open_script (bench, bench->path, heard->str);
  shell = shell_cpu (bench, ".bail on\n", script) - shell_cpu (bench, ".bail on\n", nothing);
  print_times (bench, OPEN, &times, 0.99, 50);
  print_ratio (bench, all.cpu_us - open_in_memory (), shell, N_OPENS);
  times_clear (&times);
}

/* ---- searching ------------------------------------------------------------- */

/* Words typed letter by letter, from two letters to eight. */
static GPtrArray *
typed_words (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (77);
  GPtrArray *typed = g_ptr_array_new_with_free_func (g_free);

  while (typed->len < N_SEARCHES)
    {
      g_autofree char *word = library_word (rand);

      for (gsize n = 2; n <= 8 && n <= strlen (word); n++)
        g_ptr_array_add (typed, g_strndup (word, n));
    }

  return typed;
}

static guint
search_all (BwLibrary *library,
            GPtrArray *typed,
            Times     *times)
{
  guint n_found = 0;

  for (guint i = 0; i < typed->len; i++)
    {
      g_autoptr (GError) error = NULL;
      Took start = took_now ();
      g_autoptr (GPtrArray) found = bw_library_search (library, typed->pdata[i], SHOWN, &error);

      if (times != NULL)
        times_add (times, took_since (start));
      g_assert_no_error (error);
      n_found += found->len;
    }

  return n_found;
}

static void
time_searching (Bench *bench)
{
  g_autoptr (GPtrArray) typed = typed_words ();
  g_autoptr (GString) heard = NULL;
  Times times = times_new (typed->len);
  BwLibrary *library;
  double shell;
  guint n_found;

  listen_to_sqlite (TRUE);
  library = open_and_forget (bench);
  n_found = search_all (library, typed, NULL);
  heard = told;
  listen_to_sqlite (FALSE);
  bw_library_close (library);

  library = open_library (bench);
  g_assert_cmpuint (search_all (library, typed, &times), ==, n_found);
  bw_library_close (library);

  g_assert_cmpuint (shell_lines (bench, heard->str), ==, n_found);
  shell = shell_cpu (bench, prelude, heard->str) - shell_start (bench, prelude);
  print_times (bench, SEARCH, &times, 0.99, 16);
  print_ratio (bench, times.cpu_us, shell, times.n);
  times_clear (&times);
}

/* ---- saving an edit -------------------------------------------------------- */

/* What a designer does between two saves. */
static void
edit_design (BwDesign *design,
             guint     i)
{
  switch (i % 4)
    {
    case 0:
      design->brim.height_mm += 1.0;
      break;
    case 1:
      design->body_ease.length_mm -= 1.5;
      break;
    case 2:
      g_array_index (design->colours, BwColour, 0).rgb ^= 0x00ff00;
      break;
    default:
      g_free (design->notes);
      design->notes = g_strdup_printf ("measured again, %u", i);
      break;
    }
}

/* Loads, changes, saves; returns what that took of the processor, all of it. */
static double
save_all (Bench     *bench,
          BwLibrary *library,
          Times     *times)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (78);
  Took all = took_now ();

  for (guint i = 0; i < N_SAVES; i++)
    {
      g_autoptr (GError) error = NULL;
      gint64 id = g_rand_int_range (rand, 1, (gint32) bench->n_designs + 1);
      BwLibraryEdit edit = { .label = "Edit" };
      g_autoptr (BwDesign) design = bw_library_load (library, id, &edit.version, &error);
      Took start;

      g_assert_no_error (error);
      edit_design (design, i);
      start = took_now ();
      bw_library_save (library, id, design, &edit, &error);
      if (times != NULL)
        times_add (times, took_since (start));
      g_assert_no_error (error);
    }

  return took_since (all).cpu_us;
}

static const char state_sql[] =
  "SELECT sum (version)"
  " || ' ' || (SELECT count (*) || ' ' || sum (length (changeset)) FROM undo_step)"
  " || ' ' || (SELECT round (total (brim_height_mm), 3) || ' '"
  " || round (total (body_ease_mm), 3) FROM design)"
  " FROM design_head";

static void
time_saving (Bench *bench)
{
  g_autoptr (GString) heard = NULL;
  g_autofree char *by_us = NULL;
  g_autofree char *by_shell = NULL;
  Times times = times_new (N_SAVES);
  double ours, start, shell;
  BwLibrary *library;

  listen_to_sqlite (TRUE);
  library = open_and_forget (bench);
  save_all (bench, library, NULL);
  heard = told;
  listen_to_sqlite (FALSE);
  bw_library_close (library);

  put_back (bench);
  library = open_library (bench);
  ours = save_all (bench, library, &times);
  bw_library_close (library);
  by_us = one_text (bench->path, state_sql);

  put_back (bench);
  start = shell_start (bench, prelude);
  shell = shell_cpu (bench, prelude, heard->str) - start;
  by_shell = one_text (bench->path, state_sql);
  g_assert_cmpstr (by_us, ==, by_shell);
  put_back (bench);

  print_times (bench, SAVE, &times, 0.5, 5);
  print_ratio (bench, ours, shell, N_SAVES);
  times_clear (&times);
}

/* ---- gauge ----------------------------------------------------------------- */

static guint
gauge_all (BwLibrary *library,
           Times     *times)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (79);
  BwTape tape = BW_TAPE_DEFAULT;
  guint n_rows = 0;

  for (guint i = 0; i < N_GAUGES; i++)
    {
      g_auto (BwSwatchSet) set = { 0 };
      g_autoptr (BwLibraryGauge) gauge = NULL;
      const char *fabric;
      Took start;

      library_swatch_set (rand, &set.yarn, &set.hook_mm, &fabric);
      set.fabric = g_strdup (fabric);
      start = took_now ();
      gauge = bw_library_gauge (library, &set, &tape, NULL);
      if (times != NULL)
        times_add (times, took_since (start));
      if (gauge == NULL)
        continue;

      n_rows += gauge->swatches->len;
      for (guint k = 0; k < gauge->swatches->len; k++)
        n_rows += ((BwLibrarySwatch *) gauge->swatches->pdata[k])->readings->len;
    }

  return n_rows;
}

static void
time_gauge (Bench *bench)
{
  g_autoptr (GString) heard = NULL;
  Times times = times_new (N_GAUGES);
  BwLibrary *library;
  double shell;
  guint n_rows;

  listen_to_sqlite (TRUE);
  library = open_and_forget (bench);
  n_rows = gauge_all (library, NULL);
  heard = told;
  listen_to_sqlite (FALSE);
  bw_library_close (library);

  library = open_library (bench);
  g_assert_cmpuint (gauge_all (library, &times), ==, n_rows);
  bw_library_close (library);

  g_assert_cmpuint (shell_lines (bench, heard->str), ==, n_rows);
  shell = shell_cpu (bench, prelude, heard->str) - shell_start (bench, prelude);
  print_times (bench, GAUGE, &times, 0.99, 5);
  print_ratio (bench, times.cpu_us, shell, times.n);
  times_clear (&times);
}

/* ---- a library of one size ------------------------------------------------- */

static void
prepare (Bench *bench,
         guint  n_designs,
         guint  n_readings)
{
  LibrarySize size = { n_designs, n_readings, 20240504 };
  Took start = took_now ();
  g_autofree char *counts = NULL;
  BwLibrary *library;
  GStatBuf about;

  bench->n_designs = n_designs;
  g_unlink (bench->path);
  library = open_library (bench);
  library_fill (library, bench->reference, &size);
  bw_library_close (library);
  counts = one_text (bench->path, "SELECT (SELECT count (*) FROM design) || ' designs, '"
                                  " || (SELECT count (*) FROM swatch) || ' swatches, '"
                                  " || (SELECT count (*) FROM reading) || ' readings'");
  g_assert_cmpint (g_stat (bench->path, &about), ==, 0);
  g_print ("%s; a file of %.1f MiB, filled in %.0f s\n", counts, (double) about.st_size / 1048576.0,
           took_since (start).wall_us / 1e6);
  g_rename (bench->path, bench->original);
  put_back (bench);
}

static void
run_size (Bench *bench,
          guint  n_designs,
          guint  n_readings)
{
  prepare (bench, n_designs, n_readings);
  time_opening (bench);
  time_searching (bench);
  time_saving (bench);
  time_gauge (bench);
}

static void
bench_clear (Bench *bench)
{
  g_autofree char *out = g_build_filename (bench->folder, "out", NULL);

  g_unlink (out);
  g_unlink (bench->path);
  g_unlink (bench->original);
  g_unlink (bench->script);
  g_rmdir (bench->folder);
  g_free (bench->folder);
  g_free (bench->path);
  g_free (bench->original);
  g_free (bench->script);
}

static guint
figure (const char *name,
        guint       usual)
{
  const char *said = g_getenv (name);

  return said != NULL ? (guint) g_ascii_strtoull (said, NULL, 10) : usual;
}

int
main (void)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (BwReference) reference = bw_reference_builtin (&error);
  guint n_designs = figure ("BW_BENCH_DESIGNS", 100000);
  guint n_readings = figure ("BW_BENCH_READINGS", 1000000);
  Bench bench = { .reference = reference };

  g_assert_no_error (error);
  if (!shell_is_there ())
    {
      g_print ("the sqlite3 shell is not there to compare with\n");
      return 77;
    }

  bench.folder = g_dir_make_tmp ("bw-bench-XXXXXX", &error);
  g_assert_no_error (error);
  bench.path = g_build_filename (bench.folder, "library.db", NULL);
  bench.original = g_build_filename (bench.folder, "original.db", NULL);
  bench.script = g_build_filename (bench.folder, "script.sql", NULL);
  g_print ("SQLite %s; processor time in us, the clock's in ms\n", sqlite3_libversion ());

  run_size (&bench, n_designs / SMALLER, n_readings / SMALLER);
  bench.large = TRUE;
  run_size (&bench, n_designs, n_readings);
  print_growth (&bench);
  bench_clear (&bench);

  return bench.n_failed == 0 ? 0 : 1;
}
