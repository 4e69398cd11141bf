#define G_LOG_DOMAIN "bw-core"

#include "bw-spread.h"

#include "bw-error.h"

/* Marks (decreases, increases, missed row ends) cut the plain stitches of a
 * round into runs. Evenly spread means that the runs differ by at most one and
 * that the rarer length stands evenly among the commoner one. Written out, that
 * is a word of two letters, which Euclid's algorithm folds:
 *
 *   runs      3 2 2 3 2 3 2 2 3 2   3 2 2 3 2 3 2 2 3 2
 *   period    3 2 2 3 2 3 2 2 3 2                        2 times
 *   groups    (3 2 2) 2 times, (3 2) 2 times             2 times
 *
 * A group is one run of the rarer length and all the commoner ones up to the
 * next, and groups again differ by at most one run. Going on would spread the
 * longer groups among the shorter as well, for an instruction nobody could
 * follow with a hook in the hand; groups of one kind are kept together instead.
 * The price is small and tested: up to 10 marks none, up to 30 marks none is one
 * stitch away from its exact place, up to 200 none more than three and a bit.
 */

typedef enum
{
  ORDER_RUN_FIRST,
  ORDER_MARK_FIRST,
  ORDER_CENTRED,
} Order;

/* What the letters are made of, and where they go. */
typedef struct
{
  BwItem  run;   /* one plain stitch; its count is set for each run */
  BwItem  mark;  /* stands after (or before) every run */
  Order   order;
  GArray *items; /* of BwItem; borrowed */
  guint   open;  /* items before this one stand behind a bracket, or are the caller's */
} Spread;

/* The period of the runs: `rare` and `common` are lengths of runs, one `rare`
 * stands with `per_rare` or one more of `common`. */
typedef struct
{
  guint rare;
  guint common;
  guint per_rare;
  guint more;  /* groups with one `common` more */
  guint fewer; /* groups with `per_rare` of them */
} Period;

/* Size of part i when n is spread evenly over so many parts: Bresenham's line
 * of slope n / parts, one step. The parts add up to n and differ by at most
 * one; 90 over 4 gives 22, 23, 22, 23. */
guint
bw_spread_part (guint n,
                guint parts,
                guint i)
{
  g_return_val_if_fail (parts > 0 && i < parts, 0);

  return (guint) (((guint64) i + 1) * n / parts - (guint64) i * n / parts);
}

static BwItem
spread_item (BwItemKind    kind,
             BwStitchIndex stitch,
             BwPlace       place,
             guint         count)
{
  BwItem item = { 0 };

  item.kind = (guint8) kind;
  item.stitch = stitch;
  item.place = (guint8) place;
  item.count = count;
  return item;
}

/* Half a run that meets another half becomes one run, unless a bracket stands
 * between them. */
static void
append_run (Spread *spread,
            guint   n)
{
  BwItem run = spread->run;
  BwItem *last = NULL;

  if (n == 0)
    return;

  if (spread->items->len > spread->open)
    last = &g_array_index (spread->items, BwItem, spread->items->len - 1);
  if (last != NULL && last->kind == run.kind && last->stitch == run.stitch)
    {
      last->count += n;
      return;
    }
  run.count = n;
  g_array_append_val (spread->items, run);
}

static void
append_mark (Spread *spread)
{
  g_array_append_val (spread->items, spread->mark);
}

/* Opens a repeat; what is appended until close_repeat() is its body. Once needs
 * no brackets. */
static guint
open_repeat (Spread *spread,
             guint   times)
{
  BwItem repeat = spread_item (BW_ITEM_REPEAT, BW_STITCH_NONE, BW_PLACE_NEXT_STITCH, times);

  if (times == 1)
    return G_MAXUINT;

  g_array_append_val (spread->items, repeat);
  spread->open = spread->items->len;
  return spread->items->len - 1;
}

static void
close_repeat (Spread *spread,
              guint   at)
{
  if (at == G_MAXUINT)
    return;

  g_array_index (spread->items, BwItem, at).span = (guint16) (spread->items->len - at - 1);
  spread->open = spread->items->len;
}

/* One run and its mark, so many times. */
static void
append_letters (Spread *spread,
                guint   run,
                guint   times)
{
  guint at;

  if (times == 0)
    return;

  at = open_repeat (spread, times);
  if (spread->order == ORDER_MARK_FIRST)
    append_mark (spread);
  append_run (spread, run);
  if (spread->order != ORDER_MARK_FIRST)
    append_mark (spread);
  close_repeat (spread, at);
}

/* The mark in the middle of a run, with `times` whole letters after it: the
 * first half takes the odd stitch, to keep the mark off the first stitch. */
static void
append_centred (Spread *spread,
                guint   split,
                guint   run,
                guint   times)
{
  guint first = split - split / 2;

  append_run (spread, first);
  append_mark (spread);
  append_letters (spread, run, times);
  append_run (spread, split - first);
}

/* `times` groups of one rare run and `commons` common ones. The longer run
 * comes first, so that no mark stands on the first stitch without need. */
static void
append_groups (Spread       *spread,
               const Period *period,
               guint         commons,
               guint         times)
{
  guint at;

  if (times == 0)
    return;

  at = open_repeat (spread, times);
  if (spread->order == ORDER_CENTRED && period->rare > 0)
    append_centred (spread, period->rare, period->common, commons);
  else if (period->rare > period->common)
    {
      append_letters (spread, period->rare, 1);
      append_letters (spread, period->common, commons);
    }
  else
    {
      append_letters (spread, period->common, commons);
      append_letters (spread, period->rare, 1);
    }
  close_repeat (spread, at);
}

static void
append_equal_runs (Spread *spread,
                   guint   run,
                   guint   times)
{
  guint at;

  if (spread->order != ORDER_CENTRED)
    {
      append_letters (spread, run, times);
      return;
    }

  at = open_repeat (spread, times);
  append_centred (spread, run, 0, 0);
  close_repeat (spread, at);
}

static guint
greatest_common_divisor (guint a,
                         guint b)
{
  while (b != 0)
    {
      guint rest = a % b;

      a = b;
      b = rest;
    }
  return a;
}

/* `plain` stitches in as many runs as there are marks, each with its mark.
 * Appends at most BW_SPREAD_ITEMS_MAX items: two groups of at most seven (a
 * repeat, half a run, a mark, a repeat with its run and mark, half a run) in
 * one repeat. */
static void
append_spread (Spread *spread,
               guint   plain,
               guint   marks)
{
  guint run = plain / marks;
  guint longer = plain % marks;
  guint times = greatest_common_divisor (marks, longer);
  guint shorter = (marks - longer) / times;
  Period period = { run + 1, run, 0, 0, 0 };
  guint rares, at;

  if (longer == 0)
    {
      append_equal_runs (spread, run, marks);
      return;
    }

  longer /= times;
  rares = MIN (longer, shorter);
  if (longer > shorter)
    {
      period.rare = run;
      period.common = run + 1;
    }
  period.per_rare = MAX (longer, shorter) / rares;
  period.more = MAX (longer, shorter) % rares;
  period.fewer = rares - period.more;

  at = open_repeat (spread, times);
  append_groups (spread, &period, period.per_rare + 1, period.more);
  append_groups (spread, &period, period.per_rare, period.fewer);
  close_repeat (spread, at);
}

static gboolean
check_shaping (guint     takes,
               gboolean  increase,
               guint     n,
               guint     a,
               GError  **error)
{
  if (n == 0)
    {
      g_set_error_literal (error, BW_ERROR, BW_ERROR_RANGE,
                           "There are no stitches to work into");
      return FALSE;
    }
  if (n > BW_ITEM_COUNT_MAX)
    {
      g_set_error (error, BW_ERROR, BW_ERROR_TOO_LARGE,
                   "%u stitches in one round are too many: at most %u", n, BW_ITEM_COUNT_MAX);
      return FALSE;
    }
  if (a > n / takes)
    {
      g_set_error (error, BW_ERROR, BW_ERROR_CONFLICT,
                   increase ? "%u increases do not fit into %u stitches: at most %u, "
                              "one in each stitch; spread them over more rounds"
                            : "%u decreases do not fit into %u stitches: at most %u; "
                              "spread them over more rounds",
                   a, n, n / takes);
      return FALSE;
    }
  return TRUE;
}

/* Spreads `a` decreases or increases evenly over a round of n stitches and
 * appends the instruction to items (of BwItem). A decrease is one of `shaping`,
 * which takes `shaping_takes` (2 or 3) stitches and makes one; an increase is
 * two of `shaping` in one stitch, and shaping_takes is then without meaning. The
 * items take exactly n and make exactly n - a * (shaping_takes - 1), or n + a;
 * the plain runs between differ by at most one stitch. With a = 0 the round is
 * plain. FROM_START ends on a shaping stitch; CENTRED begins with half a run and
 * ends with the other half, except that a run of one stitch cannot be halved and
 * stands first. Neither shapes the first stitch unless every stitch is shaped.
 *
 * Fails with BW_ERROR_CONFLICT when so many do not fit, BW_ERROR_RANGE without
 * stitches, BW_ERROR_TOO_LARGE above BW_ITEM_COUNT_MAX.
 *
 * The rule is the trade's (divide, and give the remainder one stitch more each:
 * "Calculating decreases in crochet"); the even order of the longer runs is
 * Bresenham's, Algorithm for computer control of a digital plotter (from memory).
 */
gboolean
bw_spread_shaping (BwStitchIndex   plain,
                   BwStitchIndex   shaping,
                   guint           shaping_takes,
                   gboolean        increase,
                   guint           n,
                   guint           a,
                   BwSpreadStart   start,
                   GArray         *items,
                   GError        **error)
{
  guint takes = increase ? 1 : shaping_takes;
  Spread spread = { 0 };

  g_return_val_if_fail (items != NULL, FALSE);
  g_return_val_if_fail (takes > 0, FALSE);

  if (!check_shaping (takes, increase, n, a, error))
    return FALSE;

  spread.run = spread_item (BW_ITEM_EACH, plain, BW_PLACE_NEXT_STITCH, 1);
  spread.mark = increase ? spread_item (BW_ITEM_IN_ONE, shaping, BW_PLACE_NEXT_STITCH, 2)
                         : spread_item (BW_ITEM_EACH, shaping, BW_PLACE_NEXT_STITCH, 1);
  spread.order = start == BW_SPREAD_CENTRED ? ORDER_CENTRED : ORDER_RUN_FIRST;
  spread.items = items;
  spread.open = items->len;

  if (a == 0)
    append_run (&spread, n);
  else
    append_spread (&spread, n - a * takes, a);
  return TRUE;
}

/* At most two stitches in a row end, and of three row ends in a row at least
 * one worked into: anything else is a hole or a frill. */
static gboolean
check_pick_up (guint     row_ends,
               guint     stitches,
               GError  **error)
{
  if (row_ends == 0 || row_ends > BW_ITEM_COUNT_MAX)
    {
      g_set_error (error, BW_ERROR, BW_ERROR_RANGE,
                   "Stitches cannot be picked up along %u row ends: between 1 and %u are needed",
                   row_ends, BW_ITEM_COUNT_MAX);
      return FALSE;
    }
  if (stitches > 2 * row_ends)
    {
      g_set_error (error, BW_ERROR, BW_ERROR_CONFLICT,
                   "%u stitches along %u row ends would put more than two into one row end: "
                   "at most %u, or work more rows of brim",
                   stitches, row_ends, 2 * row_ends);
      return FALSE;
    }
  if (stitches == 0 || stitches < (row_ends + 2) / 3)
    {
      g_set_error (error, BW_ERROR, BW_ERROR_CONFLICT,
                   "%u stitches along %u row ends would miss three row ends in a row: "
                   "at least %u, or work fewer rows of brim",
                   stitches, row_ends, (row_ends + 2) / 3);
      return FALSE;
    }
  return TRUE;
}

/* Spreads so many stitches evenly along the row ends of a sideways brim and
 * appends the instruction to items (of BwItem, all in row ends): one stitch in
 * each row end, except that some row ends get two, or are missed, at even
 * distances. The items take exactly row_ends and make exactly `stitches`, in at
 * most BW_SPREAD_ITEMS_MAX items. No row end gets more than two and never are
 * three in a row missed, also across the join: where the numbers would force it
 * the function fails with BW_ERROR_CONFLICT and says what would do.
 *
 * Published in the same form as "increase C = A - B times, every B / C rows" in
 * "How to evenly crochet across ribbing" (address withheld).
 */
gboolean
bw_spread_pick_up (BwStitchIndex   plain,
                   BwStitchIndex   miss,
                   guint           row_ends,
                   guint           stitches,
                   GArray         *items,
                   GError        **error)
{
  Spread spread = { 0 };
  BwItem one, none;
  guint missed;

  g_return_val_if_fail (items != NULL, FALSE);

  if (!check_pick_up (row_ends, stitches, error))
    return FALSE;

  one = spread_item (BW_ITEM_EACH, plain, BW_PLACE_ROW_END, 1);
  none = spread_item (BW_ITEM_EACH, miss, BW_PLACE_ROW_END, 1);
  missed = row_ends > stitches ? row_ends - stitches : 0;
  spread.run = one;
  spread.items = items;
  spread.open = items->len;

  if (stitches == row_ends)
    append_run (&spread, row_ends);
  else if (stitches > row_ends)
    {
      spread.mark = spread_item (BW_ITEM_IN_ONE, plain, BW_PLACE_ROW_END, 2);
      append_spread (&spread, 2 * row_ends - stitches, stitches - row_ends);
    }
  else if (missed <= stitches)
    {
      spread.mark = none;
      append_spread (&spread, stitches, missed);
    }
  else
    {
      /* more are missed than worked into: runs of missed ones after each stitch */
      spread.run = none;
      spread.mark = one;
      spread.order = ORDER_MARK_FIRST;
      append_spread (&spread, missed, stitches);
    }
  return TRUE;
}
