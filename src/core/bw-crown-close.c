#define G_LOG_DOMAIN "bw-core"

#include <math.h>

#include "bw-crown.h"
#include "bw-error.h"
#include "bw-units.h"

/* How many stitches a crown may leave to be drawn up: a published table by
 * gauge, read from the reference data. */

static gboolean
parse_row (GKeyFile    *file,
           const char  *group,
           const char  *key,
           GArray      *table,
           GError     **error)
{
  g_autofree char *value = g_key_file_get_string (file, group, key, NULL);
  char *key_end = NULL;
  guint64 stitches = 0;
  BwCrownClose row;

  row.stitches_per_inch = g_ascii_strtod (key, &key_end);
  if (*key_end != '\0' || !(row.stitches_per_inch > 0 && row.stitches_per_inch < 100)
      || value == NULL || !g_ascii_string_to_unsigned (value, 10, 1, 1000, &stitches, NULL))
    {
      g_set_error (error, BW_ERROR, BW_ERROR_SYNTAX,
                   "Crown closing table: “%s=%s” is not stitches to the inch = stitches left",
                   key, value != NULL ? value : "");
      return FALSE;
    }
  if (table->len > 0
      && g_array_index (table, BwCrownClose, table->len - 1).stitches_per_inch
         >= row.stitches_per_inch)
    {
      g_set_error (error, BW_ERROR, BW_ERROR_CONFLICT,
                   "Crown closing table: put “%s” before the larger gauges", key);
      return FALSE;
    }
  row.stitches = (guint) stitches;
  g_array_append_val (table, row);
  return TRUE;
}

/* Reads the table of stitches left before the crown is drawn up: a key file
 * with one group, [crown-close], whose keys are stitches to the inch in rising
 * order and whose values are stitches. Returns a new array of BwCrownClose,
 * never empty, or NULL with error set. */
GArray *
bw_crown_close_parse (const char  *text,
                      gsize        length,
                      GError     **error)
{
  g_autoptr (GKeyFile) file = g_key_file_new ();
  g_autoptr (GArray) table = g_array_new (FALSE, FALSE, sizeof (BwCrownClose));
  g_autoptr (GError) reason = NULL;
  g_auto (GStrv) keys = NULL;

  g_return_val_if_fail (text != NULL, NULL);

  if (g_key_file_load_from_data (file, text, length, G_KEY_FILE_NONE, &reason))
    keys = g_key_file_get_keys (file, "crown-close", NULL, &reason);
  if (keys == NULL || keys[0] == NULL)
    {
      g_set_error (error, BW_ERROR, BW_ERROR_SYNTAX, "Crown closing table: %s",
                   reason != NULL ? reason->message : "it has no rows");
      return NULL;
    }

  for (gsize i = 0; keys[i] != NULL; i++)
    if (!parse_row (file, "crown-close", keys[i], table, error))
      return NULL;
  return g_steal_pointer (&table);
}

/* Stitches to leave for drawing up at a gauge: the table (of BwCrownClose, in
 * rising order, not empty), between its rows on a straight line to the nearest
 * whole stitch, and its first or last row outside them. */
guint
bw_crown_default_close (const GArray *table,
                        double        stitch_mm)
{
  const BwCrownClose *rows;
  double gauge;
  guint i;

  g_return_val_if_fail (table != NULL && table->len > 0, 0);
  g_return_val_if_fail (stitch_mm > 0, 0);

  rows = &g_array_index (table, BwCrownClose, 0);
  gauge = BW_MM_PER_INCH / stitch_mm;
  for (i = 0; i < table->len && rows[i].stitches_per_inch < gauge; i++)
    ;
  if (i == 0)
    return rows[0].stitches;
  if (i == table->len)
    return rows[table->len - 1].stitches;

  return (guint) floor (rows[i - 1].stitches
                        + ((double) rows[i].stitches - rows[i - 1].stitches)
                            * (gauge - rows[i - 1].stitches_per_inch)
                            / (rows[i].stitches_per_inch - rows[i - 1].stitches_per_inch)
                        + 0.5);
}
