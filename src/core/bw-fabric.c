#define G_LOG_DOMAIN "bw-core"

#include "bw-fabric.h"

#include <string.h>

#include "bw-anchor.h"
#include "bw-data-file.h"
#include "bw-error.h"
#include "bw-notation.h"

#define FABRIC_ROUNDS_MAX 64

/* How often a stitch pattern is worked, over how many repeats, to see that it
 * stands: enough for every round to stand on every other. */
#define TRIAL_REPEATS_UP     4
#define TRIAL_REPEATS_ACROSS 3

static void
fabric_free (gpointer data)
{
  BwFabric *fabric = data;

  g_free (fabric->id);
  g_free (fabric->name_uk);
  g_free (fabric->name_us);
  g_free (fabric->note);
  g_free (fabric->first_item);
  g_free (fabric->round_height);
  g_clear_pointer (&fabric->items, g_array_unref);
  g_free (fabric);
}

static gboolean
read_count (GKeyFile    *file,
            const char  *id,
            const char  *key,
            guint        fallback,
            guint        most,
            guint       *out,
            GError     **error)
{
  *out = fallback;
  if (!g_key_file_has_key (file, id, key, NULL))
    return TRUE;
  if (!bw_data_file_integer (file, id, key, most, out, error))
    return FALSE;
  if (*out >= MIN (fallback, 1))
    return TRUE;

  g_set_error (error, BW_ERROR, BW_ERROR_RANGE, "[%s] %s: wants a whole number from 1 to %u", id,
               key, most);
  return FALSE;
}

static gboolean
read_name (GKeyFile    *file,
           const char  *id,
           const char  *key,
           char       **out,
           GError     **error)
{
  *out = bw_data_file_string (file, id, key, error);
  return *out != NULL;
}

/* A fraction, left out for the general default. */
static gboolean
read_stretch (GKeyFile    *file,
              const char  *id,
              double      *out,
              GError     **error)
{
  g_autofree char *text = bw_data_file_optional (file, id, "stretch");
  char *end;

  *out = 0;
  if (text == NULL)
    return TRUE;
  *out = g_ascii_strtod (text, &end);
  if (*end == '\0' && *out > 0 && *out <= 3)
    return TRUE;

  g_set_error (error, BW_ERROR, BW_ERROR_RANGE,
               "[%s] stretch: wants a fraction such as 0.4, above 0 and up to 3", id);
  return FALSE;
}

/* A key that is none of ours, or a round beyond a gap in the numbers, would be
 * left out in silence. */
static gboolean
check_keys (GKeyFile        *file,
            const BwFabric  *fabric,
            GError         **error)
{
  static const char *const known[] = {
    "name-uk", "name-us", "note", "multiple", "offset", "colours", "colour-rounds", "stretch",
  };
  g_auto (GStrv) keys = g_key_file_get_keys (file, fabric->id, NULL, NULL);
  g_autoptr (GPtrArray) wanted = g_ptr_array_new_with_free_func (g_free);

  for (guint i = 0; i < G_N_ELEMENTS (known); i++)
    g_ptr_array_add (wanted, g_strdup (known[i]));
  for (guint i = 1; i <= fabric->n_start; i++)
    g_ptr_array_add (wanted, g_strdup_printf ("start-%u", i));
  for (guint i = 1; i <= fabric->n_rounds; i++)
    g_ptr_array_add (wanted, g_strdup_printf ("round-%u", i));
  g_ptr_array_add (wanted, NULL);

  return keys != NULL &&
         bw_data_file_keys (file, fabric->id, (const char *const *) wanted->pdata, error);
}

/* Reads "start-1", "start-2" ... or "round-1" ... up to the first that is not there. */
static gboolean
read_rounds (const BwStitchDictionary *dictionary,
             GKeyFile                 *file,
             const char               *id,
             const char               *stem,
             BwFabric                 *fabric,
             GArray                   *offsets,
             guint                    *n_rounds,
             GError                  **error)
{
  for (*n_rounds = 0; *n_rounds < FABRIC_ROUNDS_MAX; (*n_rounds)++)
    {
      g_autofree char *key = g_strdup_printf ("%s-%u", stem, *n_rounds + 1);
      g_autofree char *text = g_key_file_get_string (file, id, key, NULL);

      if (text == NULL)
        return TRUE;
      if (!bw_notation_read_round (dictionary, text, -1, BW_TERMS_UK, fabric->items, error))
        {
          g_prefix_error (error, "[%s] %s: ", id, key);
          return FALSE;
        }
      g_array_append_val (offsets, fabric->items->len);
    }

  return TRUE;
}

static void
measure_heights (const BwStitchDictionary *dictionary,
                 BwFabric                 *fabric)
{
  guint n = fabric->n_start + fabric->n_rounds;

  fabric->round_height = g_new0 (double, n);
  for (guint i = 0; i < n; i++)
    {
      guint n_items;
      const BwItem *items = bw_fabric_round_items (fabric, i, &n_items);

      fabric->round_height[i] = bw_items_height (dictionary, items, n_items);
    }
}

/* Works the stitch pattern on a plain round or two and sees that every round
 * ends, that the count comes back, and that every post stitch has its stem. */
static gboolean
try_fabric (const BwStitchDictionary *dictionary,
            const BwFabric           *fabric,
            GError                  **error)
{
  guint stitches = fabric->multiple * TRIAL_REPEATS_ACROSS + fabric->offset;
  guint n = fabric->n_start + fabric->n_rounds * TRIAL_REPEATS_UP;
  BwItem plain = bw_item_each (bw_stitch_find (dictionary, "low"), stitches);
  g_autoptr (GPtrArray) bound = g_ptr_array_new_with_free_func (g_free);
  g_autofree BwAnchorRound *stack = g_new0 (BwAnchorRound, n + 1);
  guint available = stitches;
  BwAnchorFault fault;

  stack[0] = (BwAnchorRound) { &plain, 1 };
  for (guint r = 0; r < n; r++)
    {
      guint n_items;
      guint index = bw_fabric_round_index (fabric, r);
      const BwItem *items = bw_fabric_round_items (fabric, index, &n_items);
      BwItem *copy = g_memdup2 (items, n_items * sizeof *items);
      guint64 takes, makes;

      g_ptr_array_add (bound, copy);
      if (!bw_items_bind (dictionary, copy, n_items, available, error))
        {
          g_prefix_error (error, "[%s] round %u over %u stitches: ", fabric->id, r + 1, available);
          return FALSE;
        }
      bw_items_measure (dictionary, copy, n_items, &takes, &makes);
      available = (guint) makes;
      stack[r + 1] = (BwAnchorRound) { copy, n_items };
    }

  if (available != stitches)
    {
      g_set_error (error, BW_ERROR, BW_ERROR_CONFLICT,
                   "[%s] starts with %u stitches and ends with %u: a repeat has to keep the count",
                   fabric->id, stitches, available);
      return FALSE;
    }
  if (!bw_anchor_check (dictionary, stack, n + 1, &fault))
    {
      g_set_error (error, BW_ERROR, BW_ERROR_CONFLICT,
                   "[%s] round %u, stitch %u: %s", fabric->id, fault.round, fault.position + 1,
                   fault.covered ? "another post stitch is round that stem already"
                                 : "there is no stem below to work round");
      return FALSE;
    }

  return TRUE;
}

static BwFabric *
read_fabric (const BwStitchDictionary *dictionary,
             GKeyFile                 *file,
             const char               *id,
             GError                  **error)
{
  BwFabric *fabric = g_new0 (BwFabric, 1);
  g_autoptr (GArray) offsets = g_array_new (FALSE, TRUE, sizeof (guint));
  guint zero = 0;

  g_array_append_val (offsets, zero);
  fabric->id = g_strdup (id);
  fabric->items = g_array_new (FALSE, TRUE, sizeof (BwItem));
  fabric->note = bw_data_file_optional (file, id, "note");
  if (!read_name (file, id, "name-uk", &fabric->name_uk, error) ||
      !read_name (file, id, "name-us", &fabric->name_us, error) ||
      !read_count (file, id, "multiple", 1, 1000, &fabric->multiple, error) ||
      !read_count (file, id, "offset", 0, 1000, &fabric->offset, error) ||
      !read_count (file, id, "colours", 1, 12, &fabric->colours, error) ||
      !read_count (file, id, "colour-rounds", 1, FABRIC_ROUNDS_MAX, &fabric->colour_rounds,
                   error) ||
      !read_rounds (dictionary, file, id, "start", fabric, offsets, &fabric->n_start, error) ||
      !read_rounds (dictionary, file, id, "round", fabric, offsets, &fabric->n_rounds, error) ||
      !read_stretch (file, id, &fabric->stretch, error) || !check_keys (file, fabric, error))
    {
      fabric_free (fabric);
      return NULL;
    }

  if (fabric->n_rounds == 0)
    {
      g_set_error (error, BW_ERROR, BW_ERROR_MISSING, "[%s] needs the key \"round-1\"", id);
      fabric_free (fabric);
      return NULL;
    }

  fabric->first_item = g_memdup2 (offsets->data, offsets->len * sizeof (guint));
  measure_heights (dictionary, fabric);
  if (!try_fabric (dictionary, fabric, error))
    g_clear_pointer (&fabric, fabric_free);
  return fabric;
}

/**
 * bw_fabric_table_parse:
 * @dictionary: the stitches
 * @text: a key file, one group a stitch pattern;
 *   data/reference/stitch-patterns.ini explains the keys
 * @length: its length in bytes
 * @error: return location for an error
 *
 * Reads stitch patterns and tries each of them out.
 *
 * Returns: (transfer full) (nullable): the table, or NULL with @error set
 */
BwFabricTable *
bw_fabric_table_parse (const BwStitchDictionary  *dictionary,
                       const char                *text,
                       gsize                      length,
                       GError                   **error)
{
  g_autoptr (GKeyFile) file = bw_data_file_load (text, length, "Stitch patterns", error);
  g_autoptr (BwFabricTable) table = g_new0 (BwFabricTable, 1);
  g_auto (GStrv) ids = NULL;

  table->fabrics = g_ptr_array_new_with_free_func (fabric_free);
  if (file == NULL)
    return NULL;

  ids = g_key_file_get_groups (file, NULL);
  for (guint i = 0; ids[i] != NULL; i++)
    {
      BwFabric *fabric = read_fabric (dictionary, file, ids[i], error);

      if (fabric == NULL)
        return NULL;
      g_ptr_array_add (table->fabrics, fabric);
    }

  return g_steal_pointer (&table);
}

/**
 * bw_fabric_table_free:
 * @table: (nullable): a table
 */
void
bw_fabric_table_free (BwFabricTable *table)
{
  if (table == NULL)
    return;

  g_ptr_array_unref (table->fabrics);
  g_free (table);
}

/**
 * bw_fabric_find:
 * @table: a table
 * @id: identifier of a stitch pattern
 *
 * Returns: (transfer none) (nullable): the stitch pattern
 */
const BwFabric *
bw_fabric_find (const BwFabricTable *table,
                const char          *id)
{
  for (guint i = 0; i < table->fabrics->len; i++)
    {
      const BwFabric *fabric = g_ptr_array_index (table->fabrics, i);

      if (g_str_equal (fabric->id, id))
        return fabric;
    }

  return NULL;
}

/**
 * bw_fabric_round_index:
 * @fabric: a stitch pattern
 * @round: a round of a band worked in it, from 0
 *
 * Returns: which of its written rounds that is, start rounds first
 */
guint
bw_fabric_round_index (const BwFabric *fabric,
                       guint           round)
{
  return round < fabric->n_start
    ? round
    : fabric->n_start + (round - fabric->n_start) % fabric->n_rounds;
}

/**
 * bw_fabric_round_items:
 * @fabric: a stitch pattern
 * @index: a written round, see bw_fabric_round_index()
 * @n_items: (out): how many items it has
 *
 * Returns: (transfer none) (array length=n_items): its items, repeats open
 */
const BwItem *
bw_fabric_round_items (const BwFabric *fabric,
                       guint           index,
                       guint          *n_items)
{
  *n_items = fabric->first_item[index + 1] - fabric->first_item[index];
  return (const BwItem *) (void *) fabric->items->data + fabric->first_item[index];
}

/**
 * bw_fabric_height:
 * @fabric: a stitch pattern
 * @n_rounds: rounds worked in it, from its first
 *
 * Returns: their height, in heights of "low"
 */
double
bw_fabric_height (const BwFabric *fabric,
                  guint           n_rounds)
{
  double height = 0;
  double repeat = 0;
  guint written = fabric->n_start + fabric->n_rounds;
  guint repeats = n_rounds > written ? (n_rounds - written) / fabric->n_rounds : 0;

  for (guint i = 0; i < fabric->n_rounds; i++)
    repeat += fabric->round_height[fabric->n_start + i];
  for (guint i = 0; i < n_rounds - repeats * fabric->n_rounds; i++)
    height += fabric->round_height[bw_fabric_round_index (fabric, i)];

  return height + repeats * repeat;
}

/**
 * bw_fabric_whole_rounds:
 * @fabric: a stitch pattern
 * @n_rounds: a number of rounds
 *
 * Returns: the most rounds up to @n_rounds that end with a whole repeat; 0 when
 *   not even one fits
 */
guint
bw_fabric_whole_rounds (const BwFabric *fabric,
                        guint           n_rounds)
{
  if (n_rounds < fabric->n_start + fabric->n_rounds)
    return 0;
  return n_rounds - (n_rounds - fabric->n_start) % fabric->n_rounds;
}
