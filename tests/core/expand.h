#pragma once

/* Works an instruction out stitch by stitch, for tests: an own reading of what
 * the items mean, so that it checks those who write them. */

#include <glib.h>

#include "bw-instruction.h"

/* One stitch, or one increase. */
typedef struct
{
  BwStitchIndex stitch;
  guint8        kind;  /* BwItemKind: EACH or IN_ONE */
  guint8        place; /* BwPlace */
  guint32       count; /* in one position */
} Worked;

static inline void
expand_into (const BwItem *items,
             gsize         n_items,
             GArray       *worked)
{
  for (gsize i = 0; i < n_items; i += 1 + items[i].span)
    {
      const BwItem *item = &items[i];
      Worked one = { item->stitch, item->kind, item->place, item->count };

      g_assert_cmpuint (item->count, >, 0);
      g_assert_cmpuint (i + item->span, <, n_items);

      switch ((BwItemKind) item->kind)
        {
        case BW_ITEM_EACH:
          one.count = 1;
          for (guint j = 0; j < item->count; j++)
            g_array_append_val (worked, one);
          break;
        case BW_ITEM_IN_ONE:
          g_array_append_val (worked, one);
          break;
        case BW_ITEM_REPEAT:
          g_assert_cmpuint (item->stitch, ==, BW_STITCH_NONE);
          g_assert_cmpuint (item->span, >, 0);
          for (guint j = 0; j < item->count; j++)
            expand_into (item + 1, item->span, worked);
          break;
        case BW_ITEM_CLUSTER:
        case BW_ITEM_TO_LAST:
        default:
          g_assert_not_reached ();
        }
    }
}

static inline GArray *
expand (const GArray *items)
{
  GArray *worked = g_array_new (FALSE, FALSE, sizeof (Worked));

  expand_into ((const BwItem *) (const void *) items->data, items->len, worked);
  return worked;
}
