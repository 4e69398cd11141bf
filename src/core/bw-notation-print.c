#define G_LOG_DOMAIN "bw-core"

#include "bw-notation.h"

/* Prints rounds in our house style: items joined by commas, `3 dc` for one in
 * each of the next three stitches, repeats in square brackets. */

typedef struct
{
  const BwStitchDictionary *dictionary;
  BwTerms                   terms;
  const BwItem             *items;  /* all items of the round */
  const BwSizes            *sizes;  /* counts of other sizes; NULL = one size */
  GString                  *out;
} Printer;

static void
put_number (Printer *printer,
            guint    number)
{
  char digits[12];
  guint at = sizeof digits;

  do
    digits[--at] = (char) ('0' + number % 10);
  while ((number /= 10) > 0);
  g_string_append_len (printer->out, digits + at, (gssize) (sizeof digits - at));
}

/* Counts of an item in every size, when they differ: "5 (6, 7)". */
static void
put_count (Printer      *printer,
           const BwItem *item)
{
  gsize index = (gsize) (item - printer->items);

  if (printer->sizes == NULL)
    put_number (printer, item->count);
  else
    bw_notation_print_sizes (printer->sizes, index, printer->out);
}

/* Is the count 1 in every size that works the item? */
static gboolean
counts_one (const Printer *printer,
            const BwItem  *item)
{
  if (printer->sizes == NULL)
    return item->count == 1;

  for (guint k = 0; k < printer->sizes->n_sizes; k++)
    if (printer->sizes->works[k] &&
        printer->sizes->counts[(gsize) (item - printer->items) * printer->sizes->n_sizes + k] != 1)
      return FALSE;

  return TRUE;
}

/* The stitch with where it takes hold: "FPtr 2 rnds below", "dc BLO". */
static void
put_stitch (Printer      *printer,
            const BwItem *item)
{
  const BwStitch *stitch = bw_stitch_get (printer->dictionary, item->stitch);

  g_string_append (printer->out, printer->terms == BW_TERMS_UK ? stitch->uk : stitch->us);
  if (item->loop != BW_LOOP_BOTH)
    g_string_append (printer->out, item->loop == BW_LOOP_BACK ? " BLO" : " FLO");
  if (item->below != 0 && item->below != stitch->below)
    {
      g_string_append_c (printer->out, ' ');
      put_number (printer, item->below);
      g_string_append (printer->out, item->below == 1 ? " rnd below" : " rnds below");
    }
}

static const char *
place_word (guint8 place)
{
  switch (place)
    {
    case BW_PLACE_CHAIN_SPACE: return "ch-sp";
    case BW_PLACE_ROW_END: return "row end";
    case BW_PLACE_RING: return "ring";
    default: return "st";
    }
}

/* "miss 2 sts": what is passed over is always named. */
static void
put_miss (Printer      *printer,
          const BwItem *item)
{
  put_stitch (printer, item);
  g_string_append_c (printer->out, ' ');
  put_count (printer, item);
  g_string_append_c (printer->out, ' ');
  g_string_append (printer->out, place_word (item->place));
  if (!counts_one (printer, item))
    g_string_append_c (printer->out, 's');
}

static void
put_each (Printer      *printer,
          const BwItem *item)
{
  const BwStitch *stitch = bw_stitch_get (printer->dictionary, item->stitch);

  if (stitch->takes == 0)
    {
      put_stitch (printer, item);
      g_string_append_c (printer->out, ' ');
      put_count (printer, item);
    }
  else if (item->place == BW_PLACE_CHAIN_SPACE || item->place == BW_PLACE_ROW_END)
    {
      put_stitch (printer, item);
      g_string_append (printer->out, counts_one (printer, item) ? " in next " : " in each of next ");
      if (!counts_one (printer, item))
        {
          put_count (printer, item);
          g_string_append_c (printer->out, ' ');
        }
      g_string_append (printer->out, place_word (item->place));
      if (!counts_one (printer, item))
        g_string_append_c (printer->out, 's');
    }
  else if (stitch->takes > 1 && !counts_one (printer, item))
    {
      /* "3 dc2tog" could be one decrease or three */
      g_string_append_c (printer->out, '[');
      put_stitch (printer, item);
      g_string_append (printer->out, "] ");
      put_count (printer, item);
      g_string_append (printer->out, " times");
    }
  else
    {
      if (!counts_one (printer, item))
        {
          put_count (printer, item);
          g_string_append_c (printer->out, ' ');
        }
      put_stitch (printer, item);
      if (item->place == BW_PLACE_SAME_STITCH)
        g_string_append (printer->out, " in same st");
    }
}

/* One stitch in every position of the round. */
static void
put_around (Printer      *printer,
            const BwItem *item,
            gboolean      row)
{
  put_stitch (printer, item);
  if (item->place == BW_PLACE_SECOND_CHAIN)
    {
      g_string_append (printer->out, " in 2nd ch from hook and in each ch across");
      return;
    }

  g_string_append (printer->out, " in each ");
  g_string_append (printer->out, place_word (item->place));
  g_string_append (printer->out, row ? " across" : " around");
}

static void put_items (Printer      *printer,
                       const BwItem *items,
                       gsize         n_items);

static void
put_into (Printer      *printer,
          const BwItem *item)
{
  if (item->place == BW_PLACE_RING)
    g_string_append (printer->out, " in ");
  else
    g_string_append (printer->out, item->place == BW_PLACE_SAME_STITCH ? " in same " : " in next ");
  g_string_append (printer->out, place_word (item->place));
}

static void
put_body (Printer      *printer,
          const BwItem *item)
{
  gboolean cluster = item->kind == BW_ITEM_CLUSTER;

  g_string_append_c (printer->out, cluster ? '(' : '[');
  put_items (printer, item + 1, item->span);
  g_string_append_c (printer->out, cluster ? ')' : ']');
  if (cluster)
    put_into (printer, item);
  else if (item->kind == BW_ITEM_TO_LAST)
    g_string_append_printf (printer->out, " to last %u %s", item->count,
                            item->count == 1 ? "st" : "sts");
  else if (item->count == 0)
    g_string_append (printer->out, " around");
  else
    {
      g_string_append_c (printer->out, ' ');
      put_count (printer, item);
      g_string_append (printer->out, counts_one (printer, item) ? " time" : " times");
    }
}

static void
put_item (Printer      *printer,
          const BwItem *item)
{
  if (item->stitch == BW_STITCH_NONE)
    {
      put_body (printer, item);
    }
  else if (item->kind == BW_ITEM_IN_ONE)
    {
      if (!counts_one (printer, item))
        {
          put_count (printer, item);
          g_string_append_c (printer->out, ' ');
        }
      put_stitch (printer, item);
      put_into (printer, item);
    }
  else if (item->count == 0)
    {
      put_around (printer, item, FALSE);
    }
  else
    {
      const BwStitch *stitch = bw_stitch_get (printer->dictionary, item->stitch);

      if (stitch->takes > 0 && stitch->makes == 0)
        put_miss (printer, item);
      else
        put_each (printer, item);
    }
}

static void
put_items (Printer      *printer,
           const BwItem *items,
           gsize         n_items)
{
  for (gsize i = 0; i < n_items; i += 1 + items[i].span)
    {
      if (i > 0)
        g_string_append (printer->out, ", ");
      put_item (printer, &items[i]);
    }
}

/* One plain stitch over all that is offered reads better as "in each st around". */
static gboolean
may_fill_round (const BwStitchDictionary *dictionary,
                const BwItem             *items,
                gsize                     n_items)
{
  const BwStitch *stitch;

  if (n_items != 1 || items[0].kind != BW_ITEM_EACH)
    return FALSE;
  if (items[0].place == BW_PLACE_SECOND_CHAIN)
    return TRUE;

  stitch = bw_stitch_get (dictionary, items[0].stitch);
  return stitch->takes == 1 && stitch->makes > 0 && items[0].place != BW_PLACE_SAME_STITCH;
}

/**
 * bw_notation_print_round:
 * @dictionary: the stitches
 * @items: (array length=n_items): items of one round
 * @n_items: how many
 * @available: positions that the round below offers; 0 = not known
 * @row: a row, worked "across", not a round, worked "around"
 * @terms: UK or US
 * @out: the instruction is appended here, without the count at its end
 */
void
bw_notation_print_round (const BwStitchDictionary *dictionary,
                         const BwItem             *items,
                         gsize                     n_items,
                         guint                     available,
                         gboolean                  row,
                         BwTerms                   terms,
                         GString                  *out)
{
  Printer printer = { dictionary, terms, items, NULL, out };

  if (may_fill_round (dictionary, items, n_items) &&
      (items[0].count == available || items[0].place == BW_PLACE_SECOND_CHAIN))
    put_around (&printer, &items[0], row);
  else
    put_items (&printer, items, n_items);
}

/**
 * bw_notation_print_many:
 * @dictionary: the stitches
 * @items: (array length=n_items): items of one round, in any size that works it
 * @n_items: how many
 * @sizes: counts of every item in every size
 * @available: (array): positions that the round below offers, by size
 * @row: a row, not a round
 * @terms: UK or US
 * @out: the instruction is appended here
 *
 * Prints a round of several sizes at once; numbers that differ are printed for
 * every size, others once.
 */
void
bw_notation_print_many (const BwStitchDictionary *dictionary,
                        const BwItem             *items,
                        gsize                     n_items,
                        const BwSizes            *sizes,
                        const guint              *available,
                        gboolean                  row,
                        BwTerms                   terms,
                        GString                  *out)
{
  Printer printer = { dictionary, terms, items, sizes, out };
  gboolean fills = may_fill_round (dictionary, items, n_items);

  for (guint k = 0; fills && k < sizes->n_sizes; k++)
    fills = !sizes->works[k] || sizes->counts[k] == available[k] ||
            items[0].place == BW_PLACE_SECOND_CHAIN;

  if (fills)
    put_around (&printer, &items[0], row);
  else
    put_items (&printer, items, n_items);
}

/**
 * bw_notation_print_sizes:
 * @sizes: numbers by size
 * @index: which of the numbers
 * @out: it is appended here: `54`, `54 (60, 66)` or `– (60, 66)`
 *
 * Prints a number that may differ by size: once where every size that works it
 * has the same, else for every size in order, with a dash for one that does not.
 */
void
bw_notation_print_sizes (const BwSizes *sizes,
                         gsize          index,
                         GString       *out)
{
  const guint32 *counts = sizes->counts + index * sizes->n_sizes;
  gboolean same = TRUE;
  guint first = 0;

  while (first + 1 < sizes->n_sizes && !sizes->works[first])
    first++;
  for (guint k = first; k < sizes->n_sizes; k++)
    same = same && (!sizes->works[k] || counts[k] == counts[first]);

  for (guint k = 0; k < (same ? 1 : sizes->n_sizes); k++)
    {
      guint shown = same ? first : k;

      g_string_append (out, k == 0 ? "" : k == 1 ? " (" : ", ");
      if (sizes->works[shown])
        g_string_append_printf (out, "%u", counts[shown]);
      else
        g_string_append (out, "–");
    }
  if (!same && sizes->n_sizes > 1)
    g_string_append_c (out, ')');
}
