#pragma once

#include <glib.h>

#include "bw-stitch.h"

G_BEGIN_DECLS

/* What is done in one round, as a flat tree in reading order. An item with a
 * body is followed by the items of the body; `span` says how many they are:
 *
 *   [2 dc, FPtr 2 rnds below] 24 times, dc
 *
 *     0  REPEAT  count 24  span 2
 *     1  EACH    low    count 2
 *     2  EACH    front-post-tall  count 1  below 2
 *     3  EACH    low    count 1
 *
 * A flat array is a plain value: it is copied with memcpy and compared with
 * memcmp, so every byte of an item, padding included, must be initialised.
 */

typedef enum
{
  BW_ITEM_EACH,    /* the stitch worked `count` times, each over the next position(s) it takes;
                    * count 0 = in each as far as the round has room */
  BW_ITEM_IN_ONE,  /* `count` of the stitch, all in one position: an increase */
  BW_ITEM_CLUSTER, /* the body, all in one position: "(tr, ch 1, tr) in next st" */
  BW_ITEM_REPEAT,  /* the body `count` times; count 0 = as often as the round has room ("around") */
  BW_ITEM_TO_LAST, /* the body until `count` positions are left */
} BwItemKind;

typedef enum
{
  BW_LOOP_BOTH,
  BW_LOOP_BACK,
  BW_LOOP_FRONT,
} BwLoop;

/* What the position is called, for the reader of the text. */
typedef enum
{
  BW_PLACE_NEXT_STITCH,
  BW_PLACE_SAME_STITCH, /* takes no further position */
  BW_PLACE_CHAIN_SPACE,
  BW_PLACE_ROW_END,
  BW_PLACE_SECOND_CHAIN, /* first stitch of a row worked into a foundation chain */
  BW_PLACE_RING,         /* into a ring: takes no position */
} BwPlace;

typedef struct
{
  guint8        kind;   /* BwItemKind */
  guint8        loop;   /* BwLoop */
  guint8        place;  /* BwPlace */
  guint8        below;  /* rounds down to where it takes hold; 0 = as the dictionary says */
  BwStitchIndex stitch; /* BW_STITCH_NONE for items with a body */
  guint16       span;   /* items of the body; 0 without one */
  guint32       count;  /* see BwItemKind */
} BwItem;

G_STATIC_ASSERT (sizeof (BwItem) == 12);

/* Largest counts accepted anywhere: far above any hat, far below overflow. */
#define BW_ITEM_COUNT_MAX 100000u
#define BW_ITEM_DEPTH_MAX 16u

BwItem   bw_item_each            (BwStitchIndex             stitch,
                                  guint                     count);
BwItem   bw_item_in_one          (BwStitchIndex             stitch,
                                  guint                     count);
BwItem   bw_item_repeat          (guint                     times,
                                  guint                     span);
gboolean bw_items_measure        (const BwStitchDictionary *dictionary,
                                  const BwItem             *items,
                                  gsize                     n_items,
                                  guint64                  *takes,
                                  guint64                  *makes);
gboolean bw_items_bind           (const BwStitchDictionary *dictionary,
                                  BwItem                   *items,
                                  gsize                     n_items,
                                  guint                     available,
                                  GError                  **error);
double   bw_items_yarn           (const BwStitchDictionary *dictionary,
                                  const BwItem             *items,
                                  gsize                     n_items,
                                  const double             *metres_by_stitch);
double   bw_items_height         (const BwStitchDictionary *dictionary,
                                  const BwItem             *items,
                                  gsize                     n_items);

G_END_DECLS
