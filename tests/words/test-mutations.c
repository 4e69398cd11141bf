#include <math.h>
#include <string.h>

#include "bw-pattern-audit.h"
#include "bw-reference-builtin.h"
#include "bw-words-pattern.h"
#include "hats.h"
#include "read-back.h"

/* Written patterns of random hats with one thing spoiled in each: the audit finds
 * it, and finds nothing in the pattern before it was spoiled. A mutant that means
 * the same as before, worked out stitch by stitch, is none. */

#define FAMILIES 250
#define MUTANTS 48 /* of each family */
#define FOUND_LEAST 0.995

typedef enum
{
  MUTANT_NUMBER,  /* one number changed */
  MUTANT_DROP,    /* a round left out */
  MUTANT_TWICE,   /* a round there twice */
  MUTANT_SWAP,    /* two rounds in the wrong order */
  MUTANT_LIST,    /* a list of sizes shortened */
  MUTANT_ORDER,   /* two numbers of a list have changed places */
  MUTANT_TERM,    /* a stitch by its name in the other terms */
  MUTANT_N,
} Mutant;

static const char *const mutant_names[MUTANT_N] = {
  "a number changed", "a round dropped", "a round twice", "two rounds swapped",
  "a list shortened", "a list out of order", "a term of the other edition",
};

typedef struct
{
  guint made;
  guint same;
  guint found;
  guint placed; /* found in the line that was spoiled, or the next */
} Tally;

static BwReference *reference;

/* --- What the text says --- */

static BwPattern *
read_text (const char *text)
{
  return bw_pattern_read (reference->stitches, text, -1, BW_TERMS_UNSAID, NULL);
}

/* Errors and warnings; the line of the first, or of the one nearest to `line`. */
static guint
count_faults (const BwPattern *pattern,
              guint            line,
              gboolean        *placed)
{
  g_autoptr (GArray) findings = bw_pattern_audit_by (pattern, reference);
  guint n = 0;

  *placed = FALSE;
  for (guint i = 0; i < findings->len; i++)
    {
      const BwPatternFinding *finding = &g_array_index (findings, BwPatternFinding, i);

      if (finding->severity < BW_SEVERITY_WARNING)
        continue;
      n++;
      *placed |= finding->line == line || finding->line == line + 1;
    }
  return n;
}

static gboolean
same_stated (const BwPattern     *a,
             const BwPatternLine *x,
             const BwPattern     *b,
             const BwPatternLine *y,
             guint                size)
{
  return bw_pattern_figure (a, x, x->facts.stated, size) ==
         bw_pattern_figure (b, y, y->facts.stated, size);
}

/* A repeat that has no room is no work that could be compared. */
static gboolean
is_bound (const BwRoundList *list,
          const BwRound     *round)
{
  const BwItem *items = bw_round_items (list, round);

  for (guint i = 0; i < round->n_items; i++)
    if (items[i].count == 0)
      return FALSE;

  return TRUE;
}

/* Do both say the same rounds, with the same numbers and counts? */
static gboolean
same_meaning (const BwPattern *a,
              const BwPattern *b)
{
  if (a->n_sizes != b->n_sizes || b->errors->len > 0)
    return FALSE;
  for (guint k = 0; k < a->n_sizes; k++)
    {
      g_autoptr (BwPatternRounds) left = bw_pattern_evaluate (a, k);
      g_autoptr (BwPatternRounds) right = bw_pattern_evaluate (b, k);

      if (left->list->rounds->len != right->list->rounds->len)
        return FALSE;
      for (guint i = 0; i < left->list->rounds->len; i++)
        {
          const BwRound *x = &g_array_index (left->list->rounds, BwRound, i);
          const BwRound *y = &g_array_index (right->list->rounds, BwRound, i);
          const BwPatternLine *p = &g_array_index (a->lines, BwPatternLine,
                                                   g_array_index (left->lines, guint32, i));
          const BwPatternLine *q = &g_array_index (b->lines, BwPatternLine,
                                                   g_array_index (right->lines, guint32, i));

          if (x->number != y->number || x->row != y->row || x->stitches_out != y->stitches_out ||
              !same_stated (a, p, b, q, k) || !is_bound (left->list, x) ||
              !is_bound (right->list, y) ||
              !same_worked (reference->stitches, left->list, x, right->list, y))
            return FALSE;
        }
    }

  return TRUE;
}

/* --- Spoiling it --- */

typedef struct
{
  GRand     *random;
  GPtrArray *lines;   /* of char *, without line ends */
  GArray    *rounds;  /* of guint: indices of the lines that are rounds */
  gboolean   uk;
} Text;

static gboolean
is_round (const char *line)
{
  const char *colon = strchr (line, ':');
  const char *label;

  while (colon != NULL)
    {
      for (label = colon; label > line && strchr ("0123456789()[], -\xe2\x80\x93", label[-1]) != NULL;
           label--)
        continue;
      if (label - line >= 3 &&
          (g_ascii_strncasecmp (label - 3, "Rnd", 3) == 0 ||
           g_ascii_strncasecmp (label - 3, "Row", 3) == 0 ||
           (label - line >= 4 && (g_ascii_strncasecmp (label - 4, "Rnds", 4) == 0 ||
                                  g_ascii_strncasecmp (label - 4, "Rows", 4) == 0))))
        return TRUE;
      colon = strchr (colon + 1, ':');
    }

  return FALSE;
}

static void
text_init (Text       *text,
           const char *whole,
           guint32     seed,
           gboolean    uk)
{
  g_auto (GStrv) lines = g_strsplit (whole, "\n", -1);

  text->random = g_rand_new_with_seed (seed);
  text->lines = g_ptr_array_new_with_free_func (g_free);
  text->rounds = g_array_new (FALSE, FALSE, sizeof (guint));
  text->uk = uk;
  for (guint i = 0; lines[i] != NULL; i++)
    {
      g_ptr_array_add (text->lines, g_strdup (lines[i]));
      if (is_round (lines[i]))
        g_array_append_val (text->rounds, i);
    }
}

static void
text_clear (Text *text)
{
  g_rand_free (text->random);
  g_ptr_array_unref (text->lines);
  g_array_unref (text->rounds);
}

static guint
below (Text  *text,
       guint  n)
{
  return (guint) g_rand_int_range (text->random, 0, (gint32) n);
}

static char *
splice (const char *line,
        gsize       at,
        gsize       length,
        const char *with)
{
  return g_strdup_printf ("%.*s%s%s", (int) at, line, with, line + at + length);
}

/* Begin and length of a number of the line; how far down a stitch reaches, which
 * no count depends on, and the number of a stitch's own name are left alone. */
static gboolean
pick_number (Text       *text,
             const char *line,
             gsize      *at,
             gsize      *length)
{
  g_autoptr (GArray) places = g_array_new (FALSE, FALSE, sizeof (gsize));

  for (gsize i = 0; line[i] != '\0'; i++)
    {
      gsize n = strspn (line + i, "0123456789");

      if (n == 0)
        continue;
      if ((i == 0 || !g_ascii_isalpha (line[i - 1])) && !g_ascii_isalpha (line[i + n]) &&
          !g_str_has_prefix (line + i + n, " rnds below"))
        g_array_append_val (places, i);
      i += n - 1;
    }
  if (places->len == 0)
    return FALSE;
  *at = g_array_index (places, gsize, below (text, places->len));
  *length = strspn (line + *at, "0123456789");
  return TRUE;
}

static char *
change_number (Text       *text,
               const char *line)
{
  gsize at, length;
  gint64 number;
  char with[24];

  if (!pick_number (text, line, &at, &length))
    return NULL;
  number = g_ascii_strtoll (line + at, NULL, 10);
  switch (below (text, 4))
    {
    case 0: number += 1; break;
    case 1: number -= 1; break;
    case 2: number += 2 + below (text, 8); break;
    default: number = number * 10 + below (text, 10);
    }
  if (number < 1)
    return NULL;
  g_snprintf (with, sizeof with, "%" G_GINT64_FORMAT, number);
  return splice (line, at, length, with);
}

/* A list of numbers in brackets: where it begins behind its first number, and its
 * numbers. */
static gboolean
pick_list (Text        *text,
           const char  *line,
           gsize       *at,
           gsize       *length,
           char      ***numbers)
{
  g_autoptr (GArray) places = g_array_new (FALSE, FALSE, sizeof (gsize));
  g_autofree char *inner = NULL;

  for (gsize i = 2; line[i] != '\0'; i++)
    {
      gsize n = line[i] == '(' ? strcspn (line + i, ")") : 0;
      g_autofree char *list = n > 0 ? g_strndup (line + i + 1, n - 1) : NULL;

      if (list != NULL && line[i - 1] == ' ' && g_ascii_isdigit (line[i - 2]) &&
          strspn (list, "0123456789, \xe2\x80\x93") == strlen (list))
        g_array_append_val (places, i);
    }
  if (places->len == 0)
    return FALSE;
  *at = g_array_index (places, gsize, below (text, places->len)) + 1;
  *length = strcspn (line + *at, ")");
  inner = g_strndup (line + *at, *length);
  *numbers = g_strsplit (inner, ", ", -1);
  return TRUE;
}

static char *
shorten_list (Text       *text,
              const char *line)
{
  g_auto (GStrv) numbers = NULL;
  g_autofree char *with = NULL;
  gsize at, length;
  guint n;

  if (!pick_list (text, line, &at, &length, &numbers))
    return NULL;
  n = g_strv_length (numbers);
  if (n < 2)
    return NULL;
  g_clear_pointer (&numbers[n - 1], g_free);
  with = g_strjoinv (", ", numbers);
  return splice (line, at, length, with);
}

static char *
disorder_list (Text       *text,
               const char *line)
{
  g_auto (GStrv) numbers = NULL;
  g_autofree char *with = NULL;
  gsize at, length;
  guint n, i;
  char *number;

  if (!pick_list (text, line, &at, &length, &numbers))
    return NULL;
  n = g_strv_length (numbers);
  if (n < 2)
    return NULL;
  i = below (text, n - 1);
  if (g_str_equal (numbers[i], numbers[i + 1]))
    return NULL;
  number = numbers[i];
  numbers[i] = numbers[i + 1];
  numbers[i + 1] = number;
  with = g_strjoinv (", ", numbers);
  return splice (line, at, length, with);
}

static char *
swap_term (Text       *text,
           const char *line)
{
  static const char *const uk[][2] = { { "dc2tog", "sc2tog" }, { "dc", "sc" }, { "htr", "hdc" },
                                       { "miss", "sk" } };
  static const char *const us[][2] = { { "hdc", "htr" }, { "sk", "miss" } };
  const char *const (*terms)[2] = text->uk ? uk : us;
  guint n = text->uk ? G_N_ELEMENTS (uk) : G_N_ELEMENTS (us);

  for (guint i = 0; i < n; i++)
    for (const char *at = line; (at = strstr (at, terms[i][0])) != NULL; at++)
      if (at > line && !g_ascii_isalnum (at[-1]) && !g_ascii_isalnum (at[strlen (terms[i][0])]))
        return splice (line, (gsize) (at - line), strlen (terms[i][0]), terms[i][1]);

  return NULL;
}

/* One line spoiled, or its place; FALSE when the text has nothing of the kind.
 * `spoiled` is the number of the line, from 1. */
static gboolean
spoil (Text   *text,
       Mutant  mutant,
       guint  *spoiled)
{
  guint nth = below (text, text->rounds->len);
  guint index = g_array_index (text->rounds, guint, nth);
  const char *line = g_ptr_array_index (text->lines, index);
  char *with = NULL;

  *spoiled = index + 1;
  switch (mutant)
    {
    case MUTANT_DROP:
      g_ptr_array_remove_index (text->lines, index);
      return TRUE;
    case MUTANT_TWICE:
      g_ptr_array_insert (text->lines, (int) index, g_strdup (line));
      return TRUE;
    case MUTANT_SWAP:
      if (nth + 1 >= text->rounds->len)
        return FALSE;
      with = text->lines->pdata[index];
      text->lines->pdata[index] = text->lines->pdata[g_array_index (text->rounds, guint, nth + 1)];
      text->lines->pdata[g_array_index (text->rounds, guint, nth + 1)] = with;
      return TRUE;
    case MUTANT_NUMBER: with = change_number (text, line); break;
    case MUTANT_LIST: with = shorten_list (text, line); break;
    case MUTANT_ORDER: with = disorder_list (text, line); break;
    case MUTANT_TERM: with = swap_term (text, line); break;
    case MUTANT_N:
    default:
      g_assert_not_reached ();
    }
  if (with == NULL)
    return FALSE;
  g_free (text->lines->pdata[index]);
  text->lines->pdata[index] = with;
  return TRUE;
}

static char *
text_join (const Text *text)
{
  GString *out = g_string_new (NULL);

  for (guint i = 0; i < text->lines->len; i++)
    g_string_append_printf (out, "%s%s", i > 0 ? "\n" : "",
                            (const char *) g_ptr_array_index (text->lines, i));
  return g_string_free (out, FALSE);
}

/* --- The count --- */

static void
try_mutant (const char      *whole,
            const BwPattern *before,
            guint32          seed,
            guint            before_faults,
            Tally           *tallies)
{
  Mutant mutant = (Mutant) (seed % MUTANT_N);
  Tally *tally = &tallies[mutant];
  Text text;
  guint line;
  g_autofree char *spoiled = NULL;
  g_autoptr (BwPattern) after = NULL;
  gboolean placed;
  guint faults;

  text_init (&text, whole, seed, before->terms == BW_TERMS_UK);
  if (!spoil (&text, mutant, &line))
    {
      text_clear (&text);
      return;
    }
  spoiled = text_join (&text);
  text_clear (&text);

  after = read_text (spoiled);
  if (after != NULL && same_meaning (before, after))
    {
      tally->same++;
      return;
    }
  tally->made++;
  faults = after != NULL ? count_faults (after, line, &placed) : 1;
  if (faults > before_faults)
    {
      tally->found++;
      tally->placed += after == NULL || placed;
    }
  else if (g_test_verbose ())
    {
      g_auto (GStrv) lines = g_strsplit (spoiled, "\n", -1);
      g_auto (GStrv) old = g_strsplit (whole, "\n", -1);

      g_test_message ("not found, seed %u, %s, line %u: %s", seed, mutant_names[mutant], line,
                      lines[line - 1]);
      g_test_message ("it was: %s", old[line - 1]);
    }
}

/* A hat as somebody would publish it: every size larger than the one before in
 * all that is printed, every colour worked with. Random ones often are not, and
 * the audit says so. */
static gboolean
is_publishable (const BwGrading *grading)
{
  gboolean used[BW_STRIPE_COLOURS_MAX] = { FALSE };

  for (guint k = 0; k < grading->sizes->len; k++)
    {
      const BwGradedSize *size = g_ptr_array_index (grading->sizes, k);
      const BwGradedSize *before = k > 0 ? g_ptr_array_index (grading->sizes, k - 1) : NULL;

      for (guint i = 0; i < size->rounds->rounds->len; i++)
        used[g_array_index (size->rounds->rounds, BwRound, i).colour % BW_STRIPE_COLOURS_MAX] = TRUE;
      if (before != NULL &&
          (size->head_mm < before->head_mm || size->girth_mm < before->girth_mm + 10 ||
           size->brim_mm < before->brim_mm || size->depth_mm < before->depth_mm ||
           floor (size->yarn_m) < ceil (before->yarn_m)))
        return FALSE;
    }
  for (guint c = 0; c < grading->design->colours->len; c++)
    if (!used[c])
      return FALSE;

  return TRUE;
}

static void
name_hooks (BwDesign *design)
{
  for (guint i = 0; i < design->swatches->len; i++)
    g_array_index (design->swatches, BwSwatch, i).hook_mm = 5;
}

static void
test_mutations (void)
{
  Tally tallies[MUTANT_N] = { { 0, 0, 0, 0 } };
  Tally all = { 0, 0, 0, 0 };
  guint families = 0;
  guint faulty = 0;

  for (guint32 seed = 1; families < FAMILIES; seed++)
    {
      g_autoptr (BwDesign) design = random_hat (reference, HATS_ANY, seed);
      g_autoptr (BwGrading) grading = NULL;
      g_autoptr (GPtrArray) blocks = NULL;
      g_autofree char *text = NULL;
      g_autoptr (BwPattern) pattern = NULL;
      gboolean placed;
      guint faults;

      design->terms = seed % 2 == 0 ? BW_TERMS_UK : BW_TERMS_US;
      name_hooks (design);
      grading = bw_grade (reference, design, NULL);
      if (grading == NULL || grading->refused || !is_publishable (grading))
        continue;
      blocks = bw_words_pattern (grading, -1, BW_PATTERN_FOLDED);
      text = bw_words_pattern_text (blocks);
      pattern = read_text (text);
      g_assert_nonnull (pattern);
      faults = count_faults (pattern, 0, &placed);
      if (faults > 0)
        {
          g_autoptr (GArray) findings = bw_pattern_audit_by (pattern, reference);
          const BwPatternFinding *first = &g_array_index (findings, BwPatternFinding, 0);

          for (guint i = 0; i < findings->len; i++)
            {
              first = &g_array_index (findings, BwPatternFinding, i);
              if (first->severity >= BW_SEVERITY_WARNING)
                g_test_message ("family %u: %s kind %d in line %u, %g %g %g", seed, bw_finding_code (first->kind), first->kind,
                            first->line, first->a, first->b, first->c);
            }
          faulty++;
        }
      families++;
      for (guint i = 0; i < MUTANTS; i++)
        try_mutant (text, pattern, seed * 1000 + i, faults, tallies);
    }

  for (guint i = 0; i < MUTANT_N; i++)
    {
      g_test_message ("%s: %u mutants, %u found, %u of them in the line or the next; %u mean the "
                      "same",
                      mutant_names[i], tallies[i].made, tallies[i].found, tallies[i].placed,
                      tallies[i].same);
      all.made += tallies[i].made;
      all.found += tallies[i].found;
      all.placed += tallies[i].placed;
      all.same += tallies[i].same;
    }
  g_test_message ("%u families, %u with a finding before they were spoiled", families, faulty);
  g_test_message ("%u mutants, %u found (%.3f %%), %u placed, %u mean the same", all.made, all.found,
                  100.0 * all.found / all.made, all.placed, all.same);
  g_assert_cmpuint (faulty, ==, 0);
  g_assert_cmpfloat (all.found, >=, FOUND_LEAST * all.made);
}

int
main (int    argc,
      char **argv)
{
  int status;

  g_test_init (&argc, &argv, NULL);
  reference = bw_reference_builtin (NULL);
  g_assert_nonnull (reference);
  g_test_add_func ("/words/mutations", test_mutations);
  status = g_test_run ();
  bw_reference_free (reference);
  return status;
}
