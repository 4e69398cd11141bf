#include <string.h>

#include "bw-pattern.h"
#include "bw-reference-builtin.h"
#include "bw-words-pattern.h"
#include "hats.h"

/* Any pattern that is written, read back, gives exactly the rounds of every
 * size. Rounds are compared stitch by stitch, worked out here: two ways to
 * write the same round are the same round. */

#define FAMILIES 5000

/* One working of a stitch, or of several into one place. */
typedef struct
{
  BwStitchIndex stitch;
  guint8        loop;
  guint8        place;
  guint8        below;
  guint8        group; /* in one place together with those before it: 1 = begins, 2 = goes on */
} Worked;

static BwReference *reference;

static void
put (GArray       *out,
     const BwItem *item,
     guint8        group)
{
  guint8 place = item->place == BW_PLACE_SECOND_CHAIN ? BW_PLACE_NEXT_STITCH : item->place;
  const BwStitch *stitch = bw_stitch_get (reference->stitches, item->stitch);
  guint8 below = item->below != 0 ? item->below : (guint8) stitch->below;
  Worked worked = { item->stitch, item->loop, place, below, group };

  g_array_append_val (out, worked);
}

static void
expand (const BwItem *items,
        gsize         n,
        guint8        place, /* of the cluster around; G_MAXUINT8 = none */
        GArray       *out)
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
            expand (item + 1, item->span, place, out);
          else if (item->kind == BW_ITEM_CLUSTER)
            {
              guint before = out->len;

              expand (item + 1, item->span, item->place, out);
              g_array_index (out, Worked, before).group = 1;
            }
          else
            {
              one.place = place != G_MAXUINT8 ? place : item->place;
              put (out, &one, place != G_MAXUINT8 ? 2
                              : item->kind == BW_ITEM_IN_ONE && item->count > 1 ? (t == 0 ? 1 : 2)
                              : 0);
            }
        }
    }
}

static void
fail (const char *text,
      guint32     seed,
      guint       size,
      guint       round,
      const char *what)
{
  g_printerr ("%s\n", text);
  g_error ("family %u, size %u, round %u: %s", seed, size, round, what);
}

static gboolean
same_work (const BwRoundList *a,
           const BwRound     *x,
           const BwRoundList *b,
           const BwRound     *y)
{
  g_autoptr (GArray) left = g_array_new (FALSE, TRUE, sizeof (Worked));
  g_autoptr (GArray) right = g_array_new (FALSE, TRUE, sizeof (Worked));

  expand (bw_round_items (a, x), x->n_items, G_MAXUINT8, left);
  expand (bw_round_items (b, y), y->n_items, G_MAXUINT8, right);
  return left->len == right->len &&
         memcmp (left->data, right->data, left->len * sizeof (Worked)) == 0;
}

static gboolean
is_sentence (const BwRound *round)
{
  return round->number == 0;
}

static void
check_size (const char      *text,
            guint32          seed,
            const BwGrading *grading,
            const BwPattern *pattern,
            guint            k)
{
  const BwGradedSize *size = g_ptr_array_index (grading->sizes, k);
  g_autoptr (BwPatternRounds) read = bw_pattern_evaluate (pattern, k);

  for (guint i = 0; i < MIN (size->rounds->rounds->len, read->list->rounds->len); i++)
    {
      const BwRound *x = &g_array_index (size->rounds->rounds, BwRound, i);
      const BwRound *y = &g_array_index (read->list->rounds, BwRound, i);

      if (x->number != y->number)
        fail (text, seed, k, i, "another number");
      if (x->row != y->row)
        fail (text, seed, k, i, "a row, or a round");
      if (x->stitches_out != y->stitches_out)
        fail (text, seed, k, i, "another number of stitches made");
      if (!is_sentence (x) && x->stitches_in != y->stitches_in)
        fail (text, seed, k, i, "another number of stitches taken");
      if (!is_sentence (x) && !same_work (size->rounds, x, read->list, y))
        fail (text, seed, k, i, "other work");
    }
  if (size->rounds->rounds->len != read->list->rounds->len)
    fail (text, seed, k, read->list->rounds->len, "the number of rounds differs");
}

static void
read_back (const BwGrading *grading,
           guint32          seed,
           int              only,
           BwPatternForm    form)
{
  g_autoptr (GPtrArray) blocks = bw_words_pattern (grading, only, form);
  g_autofree char *text = bw_words_pattern_text (blocks);
  g_autoptr (GError) error = NULL;
  g_autoptr (BwPattern) pattern = bw_pattern_read (reference->stitches, text, -1, BW_TERMS_UNSAID,
                                                   &error);

  if (pattern == NULL)
    fail (text, seed, 0, 0, error->message);
  if (pattern->errors->len > 0)
    {
      const BwPatternError *first = &g_array_index (pattern->errors, BwPatternError, 0);
      guint line, column;

      bw_pattern_place (pattern, first->offset, &line, &column);
      g_printerr ("line %u, column %u:\n", line, column);
      fail (text, seed, 0, 0, first->wanted);
    }
  g_assert_cmpint (pattern->terms, ==, grading->design->terms);
  g_assert_cmpint (pattern->terms_from, ==, BW_TERMS_STATED);

  if (only >= 0)
    {
      g_autoptr (BwPatternRounds) rounds = NULL;
      const BwGradedSize *size = g_ptr_array_index (grading->sizes, only);

      g_assert_cmpuint (pattern->n_sizes, ==, 1);
      rounds = bw_pattern_evaluate (pattern, 0);
      g_assert_cmpuint (rounds->list->rounds->len, ==, size->rounds->rounds->len);
      return;
    }
  g_assert_cmpuint (pattern->n_sizes, ==, grading->sizes->len);
  for (guint k = 0; k < grading->sizes->len; k++)
    check_size (text, seed, grading, pattern, k);
}

static void
test_families (void)
{
  guint families = 0;
  guint sizes = 0;

  for (guint32 seed = 1; families < FAMILIES; seed++)
    {
      g_autoptr (BwDesign) design = random_hat (reference, HATS_ANY, seed);
      g_autoptr (BwGrading) grading = NULL;

      design->terms = seed % 2 == 0 ? BW_TERMS_UK : BW_TERMS_US;
      grading = bw_grade (reference, design, NULL);
      if (grading == NULL || grading->refused)
        continue;
      read_back (grading, seed, -1, BW_PATTERN_FOLDED);
      if (seed % 8 == 0)
        {
          read_back (grading, seed, 0, BW_PATTERN_FOLDED);
          read_back (grading, seed, 0, BW_PATTERN_FULL);
        }
      families++;
      sizes += grading->sizes->len;
    }
  g_test_message ("%u families, %u sizes read back", families, sizes);
}

int
main (int    argc,
      char **argv)
{
  int status;

  g_test_init (&argc, &argv, NULL);
  reference = bw_reference_builtin (NULL);
  g_assert_nonnull (reference);
  g_test_add_func ("/words/read-back/families", test_families);
  status = g_test_run ();
  bw_reference_free (reference);
  return status;
}
