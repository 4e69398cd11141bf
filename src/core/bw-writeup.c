#define G_LOG_DOMAIN "bw-core"

#include "bw-writeup.h"

#include <string.h>

/* Sizes are lined up by slots. A slot is a place in the order of work that
 * means the same in every size:
 *
 *   brim, join, pick-up, bands   the n-th run of equal rounds of that part
 *   crown                        the counts before and after: from the close
 *                                backwards, sizes go through the same ones
 *
 * so the common rounds of all crowns share a line, whatever round number they
 * have. Within a slot, sizes whose instructions differ in anything but numbers
 * get lines of their own.
 */

/* A run of one size, on its way to a line. */
typedef struct
{
  guint  part;  /* order of the part in the hat */
  gint64 order; /* order within the part */
  guint  k;     /* size of the write-up */
  guint  first; /* index of its first round */
  guint  n;     /* how many rounds */
} Run;

static const BwGradedSize *
size_at (const BwWriteup *writeup,
         guint            k)
{
  return g_ptr_array_index (writeup->grading->sizes, g_array_index (writeup->sizes, guint, k));
}

static const BwRound *
round_at (const BwWriteup *writeup,
          guint            k,
          guint            index)
{
  return &g_array_index (size_at (writeup, k)->rounds->rounds, BwRound, index);
}

/* Parts in the order they are worked. */
static guint
part_of (const BwRound *round)
{
  switch ((BwSection) round->section)
    {
    case BW_SECTION_BRIM: return 0;
    case BW_SECTION_JOIN: return 1;
    case BW_SECTION_PICK_UP: return 2;
    case BW_SECTION_ADJUST: return 3 + 2u * round->band;
    case BW_SECTION_BAND: return 4 + 2u * round->band;
    case BW_SECTION_SET_UP: return 5 + 2 * BW_DESIGN_BANDS_MAX;
    case BW_SECTION_CROWN: return 6 + 2 * BW_DESIGN_BANDS_MAX;
    case BW_SECTION_CLOSE:
    case BW_SECTION_N:
    default: return 7 + 2 * BW_DESIGN_BANDS_MAX;
    }
}

/* Crown rounds come down from high counts to low ones; a plain round over a
 * count comes before the decrease from it. */
static gint64
crown_order (const BwRound *round)
{
  return -((gint64) round->stitches_in * 2 * BW_ITEM_COUNT_MAX + round->stitches_out);
}

static void
collect_runs (const BwWriteup *writeup,
              guint            k,
              GArray          *runs)
{
  const BwRoundList *list = size_at (writeup, k)->rounds;
  guint last_part = G_MAXUINT;
  gint64 nth = 0;

  for (guint i = 0; i < list->rounds->len;)
    {
      const BwRound *round = &g_array_index (list->rounds, BwRound, i);
      Run run = { part_of (round), 0, k, i, bw_round_list_run (list, i) };

      nth = run.part == last_part ? nth + 1 : 0;
      last_part = run.part;
      run.order = round->section == BW_SECTION_CROWN ? crown_order (round) : nth;
      g_array_append_val (runs, run);
      i += run.n;
    }
}

static int
compare_runs (gconstpointer a,
              gconstpointer b)
{
  const Run *x = a;
  const Run *y = b;

  if (x->part != y->part)
    return x->part < y->part ? -1 : 1;
  if (x->order != y->order)
    return x->order < y->order ? -1 : 1;
  return (x->k > y->k) - (x->k < y->k);
}

/* The same instruction but for its numbers, in the same colour, with the same
 * done to the yarn behind it? */
static gboolean
same_wording (const BwWriteup *writeup,
              const Run       *a,
              const Run       *b)
{
  const BwRound *x = round_at (writeup, a->k, a->first);
  const BwRound *y = round_at (writeup, b->k, b->first);
  const BwItem *xi = bw_round_items (size_at (writeup, a->k)->rounds, x);
  const BwItem *yi = bw_round_items (size_at (writeup, b->k)->rounds, y);

  if (x->n_items != y->n_items || x->colour != y->colour || x->row != y->row ||
      round_at (writeup, a->k, a->first + a->n - 1)->after !=
        round_at (writeup, b->k, b->first + b->n - 1)->after)
    return FALSE;

  for (guint i = 0; i < x->n_items; i++)
    {
      BwItem without = yi[i];

      without.count = xi[i].count;
      if (memcmp (&without, &xi[i], sizeof without) != 0)
        return FALSE;
    }

  return TRUE;
}

static void
join_line (const BwWriteup *writeup,
           BwWriteupLine   *line,
           const Run       *run)
{
  const BwRound *round = round_at (writeup, run->k, run->first);

  line->section = round->section;
  line->band = round->band;
  line->colour = round->colour;
  line->row = round->row;
  line->works[run->k] = TRUE;
  line->first[run->k] = run->first;
  line->n_rounds[run->k] = run->n;
}

/* Lines of one slot: runs[0] to runs[n - 1], at most one a size. */
static void
write_slot (BwWriteup *writeup,
            const Run *runs,
            guint      n)
{
  guint before = writeup->lines->len;
  gboolean taken[BW_DESIGN_SIZES_MAX] = { FALSE };

  for (guint i = 0; i < n; i++)
    {
      BwWriteupLine line = { 0 };

      if (taken[i])
        continue;
      for (guint j = i; j < n; j++)
        if (!taken[j] && same_wording (writeup, &runs[i], &runs[j]))
          {
            join_line (writeup, &line, &runs[j]);
            taken[j] = TRUE;
          }
      g_array_append_val (writeup->lines, line);
    }

  for (guint i = before; writeup->lines->len - before > 1 && i < writeup->lines->len; i++)
    g_array_index (writeup->lines, BwWriteupLine, i).only = TRUE;
}

static void
write_lines (BwWriteup *writeup)
{
  g_autoptr (GArray) runs = g_array_new (FALSE, FALSE, sizeof (Run));
  const Run *all;

  for (guint k = 0; k < writeup->sizes->len; k++)
    collect_runs (writeup, k, runs);
  g_array_sort (runs, compare_runs);

  all = (const Run *) (void *) runs->data;
  for (guint i = 0; i < runs->len;)
    {
      guint n = 1;

      while (i + n < runs->len && all[i + n].part == all[i].part &&
             all[i + n].order == all[i].order && all[i + n].k != all[i + n - 1].k)
        n++;
      write_slot (writeup, &all[i], n);
      i += n;
    }
}

/**
 * bw_writeup_new:
 * @grading: a graded family, not refused; must outlive the write-up
 * @size: index of the one size to write up; -1 = all of them
 *
 * Lines up the rounds of many sizes into one text.
 *
 * Returns: (transfer full): the write-up
 */
BwWriteup *
bw_writeup_new (const BwGrading *grading,
                int              size)
{
  BwWriteup *writeup = g_new0 (BwWriteup, 1);

  g_return_val_if_fail (grading->sizes->len <= BW_DESIGN_SIZES_MAX, NULL);

  writeup->grading = grading;
  writeup->sizes = g_array_new (FALSE, FALSE, sizeof (guint));
  writeup->lines = g_array_new (FALSE, TRUE, sizeof (BwWriteupLine));
  for (guint i = 0; i < grading->sizes->len; i++)
    if (size < 0 || i == (guint) size)
      g_array_append_val (writeup->sizes, i);

  write_lines (writeup);
  return writeup;
}

/**
 * bw_writeup_free:
 * @writeup: (nullable): a write-up
 */
void
bw_writeup_free (BwWriteup *writeup)
{
  if (writeup == NULL)
    return;

  g_array_unref (writeup->sizes);
  g_array_unref (writeup->lines);
  g_free (writeup);
}

/**
 * bw_writeup_round:
 * @writeup: a write-up
 * @line: one of its lines
 * @k: a size of the write-up
 *
 * Returns: (transfer none) (nullable): the first round of the line in that
 *   size; NULL when the size does not work it
 */
const BwRound *
bw_writeup_round (const BwWriteup     *writeup,
                  const BwWriteupLine *line,
                  guint                k)
{
  return line->works[k] ? round_at (writeup, k, line->first[k]) : NULL;
}

/**
 * bw_writeup_example:
 * @writeup: a write-up
 * @line: one of its lines
 *
 * Returns: the first size that works the line
 */
guint
bw_writeup_example (const BwWriteup     *writeup,
                    const BwWriteupLine *line)
{
  for (guint k = 0; k < writeup->sizes->len; k++)
    if (line->works[k])
      return k;

  g_return_val_if_reached (0);
}

/* --- Printing --- */

/* The sizes that a line's numbers run over: all, or for a wording of some sizes
 * only those, since they are named in front of it. */
static guint
sizes_of_line (const BwWriteup     *writeup,
               const BwWriteupLine *line,
               guint               *ks)
{
  guint n = 0;

  for (guint k = 0; k < writeup->sizes->len; k++)
    if (line->works[k] || !line->only)
      ks[n++] = k;

  return n;
}

static void
put_numbers (const BwWriteup     *writeup,
             const BwWriteupLine *line,
             guint                k,
             GString             *out)
{
  const BwRound *round = bw_writeup_round (writeup, line, k);

  if (round == NULL)
    g_string_append (out, "–");
  else if (line->n_rounds[k] == 1)
    g_string_append_printf (out, "%u", round->number);
  else
    g_string_append_printf (out, "%u–%u", round->number, round->number + line->n_rounds[k] - 1);
}

/**
 * bw_writeup_print_label:
 * @writeup: a write-up
 * @line: one of its lines
 * @out: the label is appended: `Rnd 7`, `Rnds 8–10 (8–11, 9–12)`, `Rnd – (12, 13)`;
 *   nothing for a line without a number
 */
void
bw_writeup_print_label (const BwWriteup     *writeup,
                        const BwWriteupLine *line,
                        GString             *out)
{
  guint ks[BW_DESIGN_SIZES_MAX];
  guint n = sizes_of_line (writeup, line, ks);
  guint example = bw_writeup_example (writeup, line);
  const BwRound *round = bw_writeup_round (writeup, line, example);
  gboolean same = TRUE;
  gboolean several = FALSE;

  if (round->number == 0)
    return;

  for (guint i = 0; i < n; i++)
    {
      const BwRound *other = bw_writeup_round (writeup, line, ks[i]);

      same = same && other != NULL && other->number == round->number &&
             line->n_rounds[ks[i]] == line->n_rounds[example];
      several = several || line->n_rounds[ks[i]] > 1;
    }

  g_string_append (out, line->row ? (several ? "Rows " : "Row ") : (several ? "Rnds " : "Rnd "));
  for (guint i = 0; i < (same ? 1 : n); i++)
    {
      g_string_append (out, i == 0 ? "" : i == 1 ? " (" : ", ");
      put_numbers (writeup, line, ks[i], out);
    }
  if (!same && n > 1)
    g_string_append_c (out, ')');
}

/**
 * bw_writeup_print_work:
 * @writeup: a write-up
 * @line: one of its lines
 * @terms: UK or US
 * @out: the instruction is appended, with a number for every size where they differ
 */
void
bw_writeup_print_work (const BwWriteup     *writeup,
                       const BwWriteupLine *line,
                       BwTerms              terms,
                       GString             *out)
{
  guint ks[BW_DESIGN_SIZES_MAX];
  guint n = sizes_of_line (writeup, line, ks);
  guint example = bw_writeup_example (writeup, line);
  const BwRound *round = bw_writeup_round (writeup, line, example);
  const BwItem *items = bw_round_items (size_at (writeup, example)->rounds, round);
  g_autofree guint32 *counts = g_new0 (guint32, (gsize) round->n_items * n);
  guint available[BW_DESIGN_SIZES_MAX] = { 0 };
  gboolean works[BW_DESIGN_SIZES_MAX] = { FALSE };
  BwSizes sizes = { n, works, counts };

  for (guint i = 0; i < n; i++)
    {
      const BwRound *other = bw_writeup_round (writeup, line, ks[i]);

      works[i] = other != NULL;
      available[i] = works[i] ? other->stitches_in : 0;
      for (guint j = 0; works[i] && j < round->n_items; j++)
        counts[j * n + i] = bw_round_items (size_at (writeup, ks[i])->rounds, other)[j].count;
    }

  bw_notation_print_many (writeup->grading->reference->stitches, items, round->n_items, &sizes,
                          available, line->row, terms, out);
}

/**
 * bw_writeup_print_numbers:
 * @writeup: a write-up
 * @line: one of its lines
 * @number: gives the number of a round
 * @out: the numbers are appended: `54`, `54 (60, 66)`
 *
 * Prints a number of the line's first round, for every size it runs over.
 */
void
bw_writeup_print_numbers (const BwWriteup     *writeup,
                          const BwWriteupLine *line,
                          BwWriteupNumber      number,
                          GString             *out)
{
  guint ks[BW_DESIGN_SIZES_MAX];
  guint n = sizes_of_line (writeup, line, ks);
  guint32 counts[BW_DESIGN_SIZES_MAX] = { 0 };
  gboolean works[BW_DESIGN_SIZES_MAX] = { FALSE };
  BwSizes sizes = { n, works, counts };

  for (guint i = 0; i < n; i++)
    {
      const BwRound *round = bw_writeup_round (writeup, line, ks[i]);

      works[i] = round != NULL;
      if (works[i])
        counts[i] = number == BW_WRITEUP_STITCHES_IN ? round->stitches_in : round->stitches_out;
    }

  bw_notation_print_sizes (&sizes, 0, out);
}

/**
 * bw_writeup_print_count:
 * @writeup: a write-up
 * @line: one of its lines
 * @out: the stitch count is appended: `(54 sts)`, `(54 (60, 66) sts)`
 */
void
bw_writeup_print_count (const BwWriteup     *writeup,
                        const BwWriteupLine *line,
                        GString             *out)
{
  g_string_append_c (out, '(');
  bw_writeup_print_numbers (writeup, line, BW_WRITEUP_STITCHES_OUT, out);
  g_string_append (out, " sts)");
}
