#define G_LOG_DOMAIN "bw-library"

#include "bw-library-gauge.h"
#include "bw-library-private.h"
#include "bw-units.h"

#define SEPARATOR " / "

/* How far beyond the hooks that were tried one may be suggested (common practice,
 * no source). */
#define EXTRAPOLATE_MM 1.0

/* ---- sets --------------------------------------------------------------------- */

/**
 * bw_swatch_set_clear:
 * @set: a set
 *
 * Frees what @set owns, not @set itself.
 */
void
bw_swatch_set_clear (BwSwatchSet *set)
{
  g_clear_pointer (&set->yarn, g_free);
  g_clear_pointer (&set->fabric, g_free);
}

/**
 * bw_swatch_hook_parse:
 * @text: `4.5`, `4,5 mm`
 * @hook_mm: (out): the hook, mm
 * @error: return location
 *
 * Returns: %TRUE if it is a hook
 */
gboolean
bw_swatch_hook_parse (const char  *text,
                      double      *hook_mm,
                      GError     **error)
{
  g_autofree char *copy = g_strstrip (g_strdup (text));

  /* hooks are sold by the mm, with or without saying so */
  if (g_str_has_suffix (copy, "mm"))
    copy[strlen (copy) - 2] = '\0';
  g_strchomp (copy);

  return bw_units_parse_number (copy, hook_mm, error);
}

/**
 * bw_swatch_set_parse:
 * @text: "YARN / HOOK / PATTERN"; the hook in mm
 * @set: (out): the set
 * @error: return location
 *
 * Reads the name of a set of swatches.
 *
 * Returns: %TRUE if it is one
 */
gboolean
bw_swatch_set_parse (const char   *text,
                     BwSwatchSet  *set,
                     GError      **error)
{
  g_auto (GStrv) parts = NULL;
  double hook_mm;

  g_return_val_if_fail (text != NULL && set != NULL, FALSE);

  parts = g_strsplit (text, SEPARATOR, -1);
  if (g_strv_length (parts) != 3)
    {
      g_set_error (error, BW_LIBRARY_ERROR, BW_LIBRARY_ERROR_INVALID,
                   "\"%s\" names no set of swatches; write YARN / HOOK / PATTERN, such as "
                   "Harbour Wool / 4.5 / plain-low",
                   text);
      return FALSE;
    }

  if (!bw_swatch_hook_parse (parts[1], &hook_mm, error))
    return FALSE;

  set->yarn = g_strstrip (g_strdup (parts[0]));
  set->hook_mm = hook_mm;
  set->fabric = g_strstrip (g_strdup (parts[2]));

  return TRUE;
}

/**
 * bw_swatch_set_format:
 * @yarn: name of a yarn
 * @hook_mm: hook, mm
 * @fabric: stitch pattern
 *
 * Returns: (transfer full): the set's name, as bw_swatch_set_parse() reads it
 */
char *
bw_swatch_set_format (const char *yarn,
                      double      hook_mm,
                      const char *fabric)
{
  char hook[G_ASCII_DTOSTR_BUF_SIZE];

  g_ascii_formatd (hook, sizeof hook, "%.4g", hook_mm);

  return g_strconcat (yarn, SEPARATOR, hook, SEPARATOR, fabric, NULL);
}

/* ---- the gauge of one set -------------------------------------------------------- */

/**
 * bw_library_gauge_free:
 * @gauge: (nullable) (transfer full): a gauge
 *
 * Frees @gauge and all it owns.
 */
void
bw_library_gauge_free (BwLibraryGauge *gauge)
{
  if (gauge == NULL)
    return;

  g_clear_pointer (&gauge->swatches, g_ptr_array_unref);
  g_clear_pointer (&gauge->outliers, g_array_unref);
  g_free (gauge);
}

/* Readings without their places, as core reads them; in order. */
static GArray *
plain_readings (const BwLibrarySwatch *swatch)
{
  GArray *readings = g_array_sized_new (FALSE, FALSE, sizeof (BwReading), swatch->readings->len);

  for (guint i = 0; i < swatch->readings->len; i++)
    g_array_append_val (readings, g_array_index (swatch->readings, BwPlacedReading, i).reading);

  return readings;
}

static gboolean
same_kind (const BwReading *a,
           const BwReading *b)
{
  return a->direction == b->direction && (a->washed != FALSE) == (b->washed != FALSE) &&
         a->laid == b->laid;
}

static double
median_of_kind (const GArray    *readings,
                const BwReading *like)
{
  g_autoptr (GArray) each = g_array_new (FALSE, FALSE, sizeof (double));

  for (guint i = 0; i < readings->len; i++)
    {
      const BwReading *reading = &g_array_index (readings, BwReading, i);
      double mm = reading->span_mm / reading->count;

      if (same_kind (reading, like))
        g_array_append_val (each, mm);
    }

  return bw_stats_median ((const double *) (gconstpointer) each->data, each->len);
}

static void
find_outliers (const BwLibrarySwatch *swatch,
               const GArray          *readings,
               GArray                *outliers)
{
  g_autofree gboolean *flags = g_new0 (gboolean, readings->len + 1);

  for (guint direction = BW_READING_STITCHES; direction <= BW_READING_ROUNDS; direction++)
    {
      if (bw_gauge_outliers ((const BwReading *) (gconstpointer) readings->data, readings->len,
                             (BwReadingDirection) direction, flags) == 0)
        continue;

      for (guint i = 0; i < readings->len; i++)
        {
          const BwReading *reading = &g_array_index (readings, BwReading, i);
          BwSwatchOutlier outlier = { swatch->id, i + 1, reading->span_mm / reading->count, 0.0 };

          if (!flags[i] || reading->direction != (BwReadingDirection) direction)
            continue;

          outlier.median_mm = median_of_kind (readings, reading);
          g_array_append_val (outliers, outlier);
        }
    }
}

/* The readings of all @swatches, and pieces that point into them. */
static GPtrArray *
pieces_of (GPtrArray *swatches,
           GArray    *pieces)
{
  GPtrArray *all = g_ptr_array_new_with_free_func ((GDestroyNotify) g_array_unref);

  for (guint i = 0; i < swatches->len; i++)
    {
      GArray *readings = plain_readings (g_ptr_array_index (swatches, i));
      BwGaugePiece piece = { (const BwReading *) (gconstpointer) readings->data, readings->len };

      g_ptr_array_add (all, readings);
      g_array_append_val (pieces, piece);
    }

  return all;
}

static GPtrArray *
swatches_of_set (BwLibrary          *library,
                 const BwSwatchSet  *set,
                 GError            **error)
{
  BwSwatchFilter filter = { set->yarn, set->hook_mm, set->fabric };
  g_autoptr (GPtrArray) swatches = bw_library_list_swatches (library, &filter, error);

  if (swatches != NULL && swatches->len == 0)
    {
      g_autofree char *name = bw_swatch_set_format (set->yarn, set->hook_mm, set->fabric);

      g_set_error (error, BW_LIBRARY_ERROR, BW_LIBRARY_ERROR_MISSING,
                   "the library has no swatch of %s; add one, or list what there is", name);
      return NULL;
    }

  return g_steal_pointer (&swatches);
}

/**
 * bw_library_gauge:
 * @library: a library
 * @set: which swatches
 * @tape: how sure the tape is
 * @error: return location
 *
 * Makes one gauge of all swatches of a set, see bw_gauge_pool(). Readings that
 * stand apart are told and used.
 *
 * Returns: (transfer full) (nullable): the gauge and what it is made of
 */
BwLibraryGauge *
bw_library_gauge (BwLibrary          *library,
                  const BwSwatchSet  *set,
                  const BwTape       *tape,
                  GError            **error)
{
  g_autoptr (BwLibraryGauge) gauge = g_new0 (BwLibraryGauge, 1);
  g_autoptr (GArray) pieces = g_array_new (FALSE, FALSE, sizeof (BwGaugePiece));
  g_autoptr (GPtrArray) readings = NULL;

  g_return_val_if_fail (library != NULL && set != NULL && tape != NULL, NULL);

  gauge->outliers = g_array_new (FALSE, FALSE, sizeof (BwSwatchOutlier));
  gauge->swatches = swatches_of_set (library, set, error);
  if (gauge->swatches == NULL)
    return NULL;

  readings = pieces_of (gauge->swatches, pieces);
  for (guint i = 0; i < readings->len; i++)
    find_outliers (g_ptr_array_index (gauge->swatches, i), g_ptr_array_index (readings, i),
                   gauge->outliers);

  if (!bw_gauge_pool ((const BwGaugePiece *) (gconstpointer) pieces->data, pieces->len, tape,
                      &gauge->pool, error))
    return NULL;

  return g_steal_pointer (&gauge);
}

/* ---- hooks ------------------------------------------------------------------------ */

static GArray *
hooks_of (BwLibrary   *library,
          const char  *yarn,
          const char  *fabric,
          GError     **error)
{
  g_autoptr (GArray) hooks = g_array_new (FALSE, FALSE, sizeof (double));
  sqlite3_stmt *statement = bw_sql_start (library, error,
                                          "SELECT DISTINCT hook_mm FROM swatch JOIN yarn"
                                          " ON yarn.id = swatch.yarn"
                                          " WHERE yarn.name = ? COLLATE NOCASE AND fabric = ?"
                                          " AND hook_mm > 0"
                                          " ORDER BY hook_mm",
                                          "ss", yarn, fabric);
  BwStep step;

  if (statement == NULL)
    return NULL;

  while ((step = bw_sql_step (library, statement, error)) == BW_STEP_ROW)
    {
      double hook_mm = sqlite3_column_double (statement, 0);

      g_array_append_val (hooks, hook_mm);
    }

  return step == BW_STEP_DONE ? g_steal_pointer (&hooks) : NULL;
}

/**
 * bw_library_hook_gauges:
 * @library: a library
 * @yarn: name of a yarn
 * @fabric: stitch pattern
 * @tape: how sure the tape is
 * @error: return location
 *
 * Returns: (transfer full) (element-type BwHookGauge) (nullable): the gauge with
 * each hook that was tried, thin hooks first
 */
GArray *
bw_library_hook_gauges (BwLibrary     *library,
                        const char    *yarn,
                        const char    *fabric,
                        const BwTape  *tape,
                        GError       **error)
{
  g_autoptr (GArray) gauges = g_array_new (FALSE, FALSE, sizeof (BwHookGauge));
  g_autoptr (GArray) hooks = NULL;

  g_return_val_if_fail (library != NULL && yarn != NULL && fabric != NULL && tape != NULL, NULL);

  hooks = hooks_of (library, yarn, fabric, error);
  if (hooks == NULL)
    return NULL;

  for (guint i = 0; i < hooks->len; i++)
    {
      BwSwatchSet set = { (char *) yarn, g_array_index (hooks, double, i), (char *) fabric };
      g_autoptr (BwLibraryGauge) gauge = bw_library_gauge (library, &set, tape, error);
      BwHookGauge entry = { .hook_mm = set.hook_mm };

      if (gauge == NULL)
        return NULL;

      entry.pool = gauge->pool;
      g_array_append_val (gauges, entry);
    }

  return g_steal_pointer (&gauges);
}

/**
 * bw_library_suggest_hook:
 * @library: a library
 * @yarn: name of a yarn
 * @fabric: stitch pattern
 * @wanted_stitch_mm: width of one stitch, mm
 * @hook_mm: (out): the hook, mm
 * @stitch_mm_U95: (out): half-width of the 95 % prediction interval, mm; see
 *   bw_gauge_suggest_hook()
 * @error: return location
 *
 * Suggests a hook from swatches with several, each hook counting once.
 *
 * Returns: %TRUE if the swatches reach that far
 */
gboolean
bw_library_suggest_hook (BwLibrary   *library,
                         const char  *yarn,
                         const char  *fabric,
                         double       wanted_stitch_mm,
                         double      *hook_mm,
                         double      *stitch_mm_U95,
                         GError     **error)
{
  BwTape tape = BW_TAPE_DEFAULT;
  g_autoptr (GArray) gauges = NULL;
  g_autofree double *hooks = NULL;
  g_autofree double *widths = NULL;
  gsize n = 0;

  gauges = bw_library_hook_gauges (library, yarn, fabric, &tape, error);
  if (gauges == NULL)
    return FALSE;

  hooks = g_new (double, gauges->len + 1);
  widths = g_new (double, gauges->len + 1);
  for (guint i = 0; i < gauges->len; i++)
    {
      const BwHookGauge *gauge = &g_array_index (gauges, BwHookGauge, i);

      if (gauge->pool.gauge.stitch.mm <= 0.0)
        continue;
      hooks[n] = gauge->hook_mm;
      widths[n++] = gauge->pool.gauge.stitch.mm;
    }

  return bw_gauge_suggest_hook (hooks, widths, n, wanted_stitch_mm, EXTRAPOLATE_MM,
                                hook_mm, stitch_mm_U95, error);
}

/* ---- a design's swatches ------------------------------------------------------------ */

static gboolean
resolve_one (BwLibrary  *library,
             BwSwatch   *swatch,
             GError    **error)
{
  g_auto (BwSwatchSet) set = { 0 };
  g_autoptr (GPtrArray) swatches = NULL;
  g_autoptr (GArray) pieces = g_array_new (FALSE, FALSE, sizeof (BwGaugePiece));
  g_autoptr (GPtrArray) readings = NULL;

  if (!bw_swatch_set_parse (swatch->from, &set, error))
    return FALSE;

  swatches = swatches_of_set (library, &set, error);
  if (swatches == NULL)
    return FALSE;

  readings = pieces_of (swatches, pieces);
  g_array_set_size (swatch->readings, 0);
  bw_gauge_pool_readings ((const BwGaugePiece *) (gconstpointer) pieces->data, pieces->len,
                          swatch->readings);
  if (swatch->hook_mm <= 0.0)
    swatch->hook_mm = set.hook_mm;

  return TRUE;
}

/**
 * bw_library_resolve_swatches:
 * @library: a library
 * @design: a design, about to be graded
 * @error: return location
 *
 * Gives each swatch of @design that names a set of the library's swatches the
 * readings that stand for that set now. Swatches with readings of their own
 * stay as they are. To be done to a copy: what is saved is the set's name.
 *
 * Returns: %TRUE if every set was found
 */
gboolean
bw_library_resolve_swatches (BwLibrary  *library,
                             BwDesign   *design,
                             GError    **error)
{
  g_return_val_if_fail (library != NULL && design != NULL, FALSE);

  for (guint i = 0; i < design->swatches->len; i++)
    {
      BwSwatch *swatch = &g_array_index (design->swatches, BwSwatch, i);

      if (swatch->from[0] == '\0' || resolve_one (library, swatch, error))
        continue;

      g_prefix_error (error, "swatch \"%s\": ", swatch->id);
      return FALSE;
    }

  return TRUE;
}
