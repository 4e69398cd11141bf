#pragma once

/* What was read of a written pattern against the rounds it was written from.
 * Rounds are compared stitch by stitch, worked out here: two ways to write the
 * same round are the same round. */

#include <string.h>

#include "bw-grade.h"
#include "bw-pattern.h"

/* One working of a stitch, or of several into one place. */
typedef struct
{
  BwStitchIndex stitch;
  guint8        loop;
  guint8        place;
  guint8        below;
  guint8        group; /* in one place together with those before it: 1 = begins, 2 = goes on */
} Worked;

static inline void
put_worked (const BwStitchDictionary *stitches,
            GArray                   *out,
            const BwItem             *item,
            guint8                    group)
{
  guint8 place = item->place == BW_PLACE_SECOND_CHAIN ? BW_PLACE_NEXT_STITCH : item->place;
  const BwStitch *stitch = bw_stitch_get (stitches, item->stitch);
  guint8 below = item->below != 0 ? item->below : (guint8) stitch->below;
  Worked worked = { item->stitch, item->loop, place, below, group };

  g_array_append_val (out, worked);
}

static inline void
expand_worked (const BwStitchDictionary *stitches,
               const BwItem             *items,
               gsize                     n,
               guint8                    place, /* of the cluster around; G_MAXUINT8 = none */
               GArray                   *out)
{
  for (gsize i = 0; i < n; i += 1u + items[i].span)
    {
      const BwItem *item = &items[i];
      guint times = item->kind == BW_ITEM_CLUSTER ? 1 : item->count;

      g_assert_cmpuint (times, >, 0);
      for (guint t = 0; t < times; t++)
        {
          BwItem one = *item;

          if (item->kind == BW_ITEM_REPEAT)
            expand_worked (stitches, item + 1, item->span, place, out);
          else if (item->kind == BW_ITEM_CLUSTER)
            {
              guint before = out->len;

              expand_worked (stitches, item + 1, item->span, item->place, out);
              g_array_index (out, Worked, before).group = 1;
            }
          else
            {
              one.place = place != G_MAXUINT8 ? place : item->place;
              put_worked (stitches, out, &one,
                          place != G_MAXUINT8 ? 2
                          : item->kind == BW_ITEM_IN_ONE && item->count > 1 ? (t == 0 ? 1 : 2)
                          : 0);
            }
        }
    }
}

static inline void
fail_reading (const char *text,
              guint32     seed,
              guint       size,
              guint       round,
              const char *what)
{
  g_printerr ("%s\n", text);
  g_error ("family %u, size %u, round %u: %s", seed, size, round, what);
}

static inline gboolean
same_worked (const BwStitchDictionary *stitches,
             const BwRoundList        *a,
             const BwRound            *x,
             const BwRoundList        *b,
             const BwRound            *y)
{
  g_autoptr (GArray) left = g_array_new (FALSE, TRUE, sizeof (Worked));
  g_autoptr (GArray) right = g_array_new (FALSE, TRUE, sizeof (Worked));

  expand_worked (stitches, bw_round_items (a, x), x->n_items, G_MAXUINT8, left);
  expand_worked (stitches, bw_round_items (b, y), y->n_items, G_MAXUINT8, right);
  return left->len == right->len &&
         memcmp (left->data, right->data, left->len * sizeof (Worked)) == 0;
}

static inline gboolean
is_sentence (const BwRound *round)
{
  return round->number == 0;
}

/* The rounds of size @k of the grading are those of size @as of the pattern. */
static inline void
check_size (const char      *text,
            guint32          seed,
            const BwGrading *grading,
            guint            k,
            const BwPattern *pattern,
            guint            as)
{
  const BwStitchDictionary *stitches = grading->reference->stitches;
  const BwGradedSize *size = g_ptr_array_index (grading->sizes, k);
  g_autoptr (BwPatternRounds) read = bw_pattern_evaluate (pattern, as);

  for (guint i = 0; i < MIN (size->rounds->rounds->len, read->list->rounds->len); i++)
    {
      const BwRound *x = &g_array_index (size->rounds->rounds, BwRound, i);
      const BwRound *y = &g_array_index (read->list->rounds, BwRound, i);

      if (x->number != y->number)
        fail_reading (text, seed, k, i, "another number");
      if (x->row != y->row)
        fail_reading (text, seed, k, i, "a row, or a round");
      if (x->stitches_out != y->stitches_out)
        fail_reading (text, seed, k, i, "another number of stitches made");
      if (!is_sentence (x) && x->stitches_in != y->stitches_in)
        fail_reading (text, seed, k, i, "another number of stitches taken");
      if (!is_sentence (x) && !same_worked (stitches, size->rounds, x, read->list, y))
        fail_reading (text, seed, k, i, "other work");
    }
  if (size->rounds->rounds->len != read->list->rounds->len)
    fail_reading (text, seed, k, read->list->rounds->len, "the number of rounds differs");
}
