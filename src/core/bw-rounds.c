#define G_LOG_DOMAIN "bw-core"

#include "bw-rounds.h"

#include <string.h>

#include "bw-notation.h"

/* Printed in CSV, so they never change. */
static const char *const section_ids[BW_SECTION_N] = {
  [BW_SECTION_BRIM] = "brim",
  [BW_SECTION_JOIN] = "join",
  [BW_SECTION_PICK_UP] = "pick-up",
  [BW_SECTION_ADJUST] = "adjust",
  [BW_SECTION_BAND] = "band",
  [BW_SECTION_SET_UP] = "set-up",
  [BW_SECTION_CROWN] = "crown",
  [BW_SECTION_CLOSE] = "close",
};

/**
 * bw_round_list_new:
 *
 * Returns: (transfer full): an empty list
 */
BwRoundList *
bw_round_list_new (void)
{
  BwRoundList *list = g_new0 (BwRoundList, 1);

  list->rounds = g_array_sized_new (FALSE, TRUE, sizeof (BwRound), 64);
  list->items = g_array_sized_new (FALSE, TRUE, sizeof (BwItem), 256);
  return list;
}

/**
 * bw_round_list_free:
 * @list: (nullable): a list
 */
void
bw_round_list_free (BwRoundList *list)
{
  if (list == NULL)
    return;

  g_array_unref (list->rounds);
  g_array_unref (list->items);
  g_free (list);
}

/**
 * bw_round_list_append:
 * @list: a list
 * @section: section of the new round
 * @items: (array length=n_items): what is done in it; copied
 * @n_items: how many
 *
 * Returns: (transfer none): the new round, to be filled in; valid until the
 *   next one is appended
 */
BwRound *
bw_round_list_append (BwRoundList  *list,
                      BwSection     section,
                      const BwItem *items,
                      gsize         n_items)
{
  BwRound round = { .section = (guint8) section, .first_item = list->items->len,
                    .n_items = (guint) n_items };

  if (n_items > 0)
    g_array_append_vals (list->items, items, (guint) n_items);
  g_array_append_val (list->rounds, round);
  return &g_array_index (list->rounds, BwRound, list->rounds->len - 1);
}

/**
 * bw_round_items:
 * @list: a list
 * @round: one of its rounds
 *
 * Returns: (transfer none): its items, round->n_items of them
 */
const BwItem *
bw_round_items (const BwRoundList *list,
                const BwRound     *round)
{
  return (const BwItem *) (void *) list->items->data + round->first_item;
}

/**
 * bw_round_same_work:
 * @list: a list
 * @a: a round of it
 * @b: another
 *
 * Returns: whether both are worked the same, in the same part and colour, so
 *   that one line of text can stand for both
 */
gboolean
bw_round_same_work (const BwRoundList *list,
                    const BwRound     *a,
                    const BwRound     *b)
{
  return a->section == b->section && a->band == b->band && a->colour == b->colour &&
         a->row == b->row && a->stitches_in == b->stitches_in &&
         a->stitches_out == b->stitches_out && a->n_items == b->n_items &&
         memcmp (bw_round_items (list, a), bw_round_items (list, b),
                 a->n_items * sizeof (BwItem)) == 0;
}

/**
 * bw_round_list_run:
 * @list: a list
 * @first: index of a round
 *
 * Returns: how many rounds from @first on are worked the same and numbered on
 */
guint
bw_round_list_run (const BwRoundList *list,
                   guint              first)
{
  const BwRound *rounds = (const BwRound *) (void *) list->rounds->data;
  guint n = 1;

  while (first + n < list->rounds->len &&
         rounds[first + n].number == rounds[first].number + n &&
         bw_round_same_work (list, &rounds[first], &rounds[first + n]))
    n++;

  return n;
}

/**
 * bw_section_id:
 * @section: a section
 *
 * Returns: (transfer none): its word in CSV: "pick-up"
 */
const char *
bw_section_id (BwSection section)
{
  g_return_val_if_fail (section < BW_SECTION_N, "");

  return section_ids[section];
}

/**
 * bw_round_print:
 * @dictionary: the stitches
 * @list: a list
 * @round: one of its rounds
 * @terms: UK or US
 * @out: its instruction is appended here, without the count
 */
void
bw_round_print (const BwStitchDictionary *dictionary,
                const BwRoundList        *list,
                const BwRound            *round,
                BwTerms                   terms,
                GString                  *out)
{
  bw_notation_print_round (dictionary, bw_round_items (list, round), round->n_items,
                           round->stitches_in, round->row, terms, out);
}
