#include "bw-reference-builtin.h"
#include "properties.h"

/* What must hold for every hat that is graded, looked at over many random ones.
 * Rounds are worked out stitch by stitch here, not by the functions that wrote
 * them. A failure prints the design, ready to be saved as a file. */

#define HATS 20000

/* Rows of a sideways brim lie across the hat and the foundation is a chain:
 * nothing of the rounds above may reach into them. */
static gboolean
is_ground (const BwRound *round)
{
  return round->row || round->number == 0;
}

static void
check_round (Fabric        *fabric,
             const BwRound *round,
             guint          offered)
{
  const Case *test = fabric->test;
  GArray *made = round_below (fabric, 0);

  g_array_set_size (made, 0);
  fabric->position = 0;
  if (is_ground (round))
    fabric->n = 0;
  work (fabric, bw_round_items (test->size->rounds, round), round->n_items);

  if (round->section != BW_SECTION_CLOSE)
    same (test, "a round takes what the one below offers", fabric->position, offered);
  same (test, "a round is told what the one below offers", round->stitches_in, offered);
  same (test, "a round makes what it says", made->len, round->stitches_out);
  fabric->n = is_ground (round) ? 0 : fabric->n + 1;
}

/* Every round from the foundation to the close: counts, numbers, heights. */
static void
check_rounds (const Case *test)
{
  const GArray *rounds = test->size->rounds->rounds;
  Fabric fabric = { test, 0, { NULL }, 0 };
  guint offered = 0;
  guint number = 0;
  double height = test->size->brim_height_mm;

  for (guint i = 0; i < KEPT; i++)
    fabric.made[i] = g_array_new (FALSE, FALSE, sizeof (Made));

  for (guint i = 0; i < rounds->len; i++)
    {
      const BwRound *round = &g_array_index (rounds, BwRound, i);

      if (i > 0 && g_array_index (rounds, BwRound, i - 1).section == BW_SECTION_JOIN)
        offered = test->size->brim_rows;
      check_round (&fabric, round, offered);
      offered = round->stitches_out;
      if (!is_ground (round))
        same (test, "rounds are numbered one by one", round->number, ++number);
      if (round->section > BW_SECTION_JOIN)
        height += round->round_mm;
      if (round->section > BW_SECTION_JOIN)
        near (test, "heights add up", round->height_mm, height);
    }

  same (test, "the last round has the last number", number, test->size->n_rounds);
  same (test, "the close comes last", g_array_index (rounds, BwRound, rounds->len - 1).section,
        BW_SECTION_CLOSE);
  near (test, "the hat is as deep as its rounds", test->size->depth_mm, height);
  for (guint i = 0; i < KEPT; i++)
    g_array_unref (fabric.made[i]);
}

/* --- Bands --- */

/* Colour of a band's round: the stripe written out step by step. */
static guint
stripe_colour (const GArray *stripe,
               guint         round)
{
  guint step = 0;
  guint left;

  if (stripe->len == 0)
    return 0;
  for (left = g_array_index (stripe, BwStripeStep, 0).rounds; left <= round;)
    {
      step = (step + 1) % stripe->len;
      left += g_array_index (stripe, BwStripeStep, step).rounds;
    }

  return g_array_index (stripe, BwStripeStep, step).colour;
}

/* Does a whole number of repeats end with the stripe at all? Tried one by one. */
static gboolean
can_end_together (const BwFabric *fabric,
                  guint           period)
{
  for (guint n = 1; n <= period; n++)
    if ((fabric->n_start + n * fabric->n_rounds) % period == 0)
      return TRUE;

  return FALSE;
}

static void
check_band_end (const Case     *test,
                const BwBand   *band,
                const BwFabric *fabric,
                guint           n_rounds)
{
  guint period = 0;

  for (guint i = 0; i < band->stripe->len; i++)
    period += g_array_index (band->stripe, BwStripeStep, i).rounds;

  switch (band->mode)
    {
    case BW_BAND_ROUNDS:
      same (test, "a band has the rounds it is given", n_rounds, band->amount);
      break;
    case BW_BAND_REPEATS:
      same (test, "a band has the repeats it is given", n_rounds,
            fabric->n_start + band->amount * fabric->n_rounds);
      break;
    case BW_BAND_FILL:
    default:
      same (test, "a filling band ends on a whole repeat",
            (n_rounds - fabric->n_start) % fabric->n_rounds, 0);
      at_most (test, "a filling band has its fewest repeats",
               fabric->n_start + MAX (band->amount, 1) * fabric->n_rounds, n_rounds);
      if (band->stripe->len > 1 && can_end_together (fabric, period))
        same (test, "a filling band ends on a whole stripe", n_rounds % period, 0);
    }
}

static void
check_bands (const Case *test)
{
  const GArray *rounds = test->size->rounds->rounds;
  guint worked[BW_DESIGN_BANDS_MAX] = { 0 };

  for (guint i = 0; i < rounds->len; i++)
    {
      const BwRound *round = &g_array_index (rounds, BwRound, i);
      const BwBand *band;
      const BwFabric *fabric;

      if (round->section != BW_SECTION_BAND)
        continue;
      band = &g_array_index (test->design->bands, BwBand, round->band);
      fabric = bw_fabric_find (test->reference->fabrics, band->fabric);
      same (test, "a band's count is a multiple of its stitch pattern",
            round->stitches_in % fabric->multiple, fabric->offset % fabric->multiple);
      same (test, "a band's colour is its stripe's", round->colour,
            stripe_colour (band->stripe, worked[round->band]++));
    }

  for (guint i = 0; i < test->design->bands->len; i++)
    {
      const BwBand *band = &g_array_index (test->design->bands, BwBand, i);

      check_band_end (test, band, bw_fabric_find (test->reference->fabrics, band->fabric),
                      worked[i]);
    }
}

/* --- Crown and brim --- */

static void
check_crown (const Case *test)
{
  const GArray *rounds = test->size->rounds->rounds;
  gboolean own = test->design->crown.profile == BW_CROWN_OWN;
  gboolean first = TRUE;

  for (guint i = 0; i < rounds->len; i++)
    {
      const BwRound *round = &g_array_index (rounds, BwRound, i);

      if (round->section != BW_SECTION_CROWN)
        continue;
      if (first)
        same (test, "the crown starts with K", round->stitches_in, test->size->crown_start);
      if (!own)
        same (test, "crown counts divide by the wedges",
              round->stitches_out % test->size->wedges, 0);
      at_most (test, "a crown round makes no more than it takes", round->stitches_out,
               round->stitches_in);
      at_most (test, "at most half is decreased in a round", round->stitches_in,
               2.0 * round->stitches_out);
      first = FALSE;
    }

  same (test, "a crown has a round", first, FALSE);
  if (!own)
    same (test, "K divides by the wedges", test->size->crown_start % test->size->wedges, 0);
}

static void
check_brim (const Case *test)
{
  const BwGradedSize *size = test->size;
  BwBrimKind kind = test->design->brim.kind;
  const GArray *rounds = size->rounds->rounds;
  guint worked = 0;

  for (guint i = 0; i < rounds->len; i++)
    worked += g_array_index (rounds, BwRound, i).section == BW_SECTION_BRIM &&
              g_array_index (rounds, BwRound, i).number > 0;

  if (kind == BW_BRIM_NONE)
    {
      same (test, "no brim has no rows", worked, 0);
      return;
    }

  same (test, "the brim has its rows", worked, size->brim_rows);
  at_most (test, "the stretched brim passes over the head", size->head_mm, size->brim_stretched_mm);
  if (kind == BW_BRIM_SLIP_RIB || kind == BW_BRIM_LOW_RIB)
    {
      same (test, "rows of a sideways brim are even", size->brim_rows % 2, 0);
      at_most (test, "no row end takes more than two", size->body_stitches, 2.0 * size->brim_rows);
      at_most (test, "never are three row ends missed", size->brim_rows, 3.0 * size->body_stitches);
    }
}

/* --- Colours and yarn --- */

/* Height that a colour rests for after round i, until it is worked again, mm. */
static double
rest_mm (const GArray *rounds,
         guint         i)
{
  guint8 colour = g_array_index (rounds, BwRound, i).colour;
  double mm = 0;

  for (guint j = i + 1; j < rounds->len; j++)
    {
      const BwRound *round = &g_array_index (rounds, BwRound, j);

      if (round->colour == colour)
        break;
      mm += round->row ? 0 : round->round_mm;
    }

  return mm;
}

static void
check_colours (const Case *test)
{
  const BwFinishing *finishing = &test->design->finishing;
  const GArray *rounds = test->size->rounds->rounds;
  double metres[BW_STRIPE_COLOURS_MAX] = { 0 };
  double carried[BW_STRIPE_COLOURS_MAX] = { 0 };
  gboolean live[BW_STRIPE_COLOURS_MAX] = { FALSE };
  double total = 0;
  guint ends = 0;

  metres[finishing->pompom_colour] +=
    bw_yarn_grams_to_metres (&test->design->yarn, finishing->pompom_grams);
  for (guint i = 0; i + 1 < rounds->len; i++)
    {
      const BwRound *round = &g_array_index (rounds, BwRound, i);
      guint own = round->joins_in + (round->after == BW_YARN_CUT);

      same (test, "a colour is joined once", round->joins_in, !live[round->colour]);
      live[round->colour] = round->after != BW_YARN_CUT;
      if (round->after == BW_YARN_CARRIED)
        {
          carried[round->colour] += rest_mm (rounds, i) / 1000;
          at_most (test, "a colour is carried no higher than allowed", rest_mm (rounds, i),
                   finishing->carry_mm);
        }
      metres[round->colour] += round->yarn_m + own * finishing->tail_mm / 1000;
      ends += own;
      if (round->after == BW_YARN_WORKING)
        same (test, "a working colour goes on", round->colour, round[1].colour);
    }

  same (test, "each joining and each cut is an end", ends, test->size->ends);
  for (guint c = 0; c < BW_STRIPE_COLOURS_MAX; c++)
    {
      double used = test->size->colour_m[c];

      same (test, "every colour is cut in the end", live[c], FALSE);
      /* a strand carried up is a little longer than what it passes */
      at_most (test, "a colour's rounds, tails, pom-pom and strands are in it",
               metres[c] + carried[c], used);
      at_most (test, "and nothing else is", used, metres[c] + 1.3 * carried[c]);
      at_most (test, "balls are enough", used * (1 + test->design->yarn_margin),
               test->design->yarn.metres_per_ball > 0
                 ? test->size->balls[c] * test->design->yarn.metres_per_ball : INFINITY);
      total += used;
    }
  near (test, "colours add up to the yarn", test->size->yarn_m, total);
}

/* --- Costs and choices --- */

static double
squared (double value)
{
  return value * value;
}

/* Stitches that adjusting and set-up rounds change, squared; the one between a
 * brim in the round and the body apart. */
static void
changes (const Case *test,
         double     *between_bands,
         double     *above_brim)
{
  const GArray *rounds = test->size->rounds->rounds;
  gboolean brim_below = FALSE;

  *between_bands = *above_brim = 0;
  for (guint i = 0; i < rounds->len; i++)
    {
      const BwRound *round = &g_array_index (rounds, BwRound, i);
      double change = squared ((double) round->stitches_out - round->stitches_in);

      if (round->section == BW_SECTION_ADJUST && brim_below)
        *above_brim += change;
      else if (round->section == BW_SECTION_ADJUST || round->section == BW_SECTION_SET_UP)
        *between_bands += change;
      brim_below = round->section == BW_SECTION_BRIM;
    }
}

/* The parts of a size's cost, worked out again from what it measures. */
static double
check_cost (const Case *test)
{
  const BwGradedSize *size = test->size;
  const BwRules *rules = &test->design->rules;
  const BwBrim *brim = &test->design->brim;
  gboolean sideways = brim->kind == BW_BRIM_SLIP_RIB || brim->kind == BW_BRIM_LOW_RIB;
  double between, above;
  double pick_up = 0;

  changes (test, &between, &above);
  if (!sideways)
    pick_up = rules->adjust_weight * above;
  else if (brim->pick_up == BW_PICK_UP_PER_ROW)
    pick_up = rules->pick_up_weight *
              squared (size->body_stitches - brim->per_row * size->brim_rows);

  near (test, "cost of girth", size->cost.girth,
        squared ((size->girth_mm - size->body_target_mm) / rules->girth_tolerance_mm));
  near (test, "cost of brim", size->cost.brim,
        brim->kind == BW_BRIM_NONE
          ? 0 : squared ((size->brim_mm - size->brim_target_mm) / rules->brim_tolerance_mm));
  near (test, "cost of depth", size->cost.depth,
        squared ((size->depth_mm - size->depth_target_mm) / rules->depth_tolerance_mm));
  near (test, "cost of adjusting", size->cost.adjust, rules->adjust_weight * between);
  near (test, "cost of pick-up", size->cost.pick_up, pick_up);
  return size->cost.girth + size->cost.brim + size->cost.depth + size->cost.adjust +
         size->cost.pick_up;
}

static void
check_alternatives (const Case *test)
{
  const GArray *all = test->size->alternatives;
  const BwAlternative *first = &g_array_index (all, BwAlternative, 0);

  same (test, "the chosen body comes first", first->body_stitches, test->size->body_stitches);
  same (test, "the chosen crown comes first", first->crown_start, test->size->crown_start);
  near (test, "the chosen one has the family's cost", first->cost, test->grading->cost);
  for (guint i = 1; i < all->len; i++)
    {
      const BwAlternative *next = &g_array_index (all, BwAlternative, i);

      at_most (test, "alternatives are sorted", next[-1].cost, next->cost);
      same (test, "an alternative's crown divides", next->crown_start % next->wedges, 0);
    }
}

static void
check_pins_and_limits (const Case *test)
{
  const BwGradedSize *size = test->size;
  const BwRules *rules = &test->design->rules;
  gboolean sideways = test->design->brim.kind == BW_BRIM_SLIP_RIB ||
                      test->design->brim.kind == BW_BRIM_LOW_RIB;
  gboolean brim = test->design->brim.kind != BW_BRIM_NONE;
  const struct { BwPinKind kind; guint value; gboolean there; } numbers[] = {
    { BW_PIN_BODY_STITCHES, size->body_stitches, TRUE },
    { BW_PIN_BRIM_COUNT, sideways ? size->brim_rows : size->brim_stitches, brim },
    { BW_PIN_BRIM_HEIGHT, sideways ? size->brim_stitches : size->brim_rows, brim },
    { BW_PIN_CROWN_START, size->crown_start, test->design->crown.profile != BW_CROWN_OWN },
    { BW_PIN_FILL_REPEATS, size->fill_repeats, TRUE },
  };

  for (guint i = 0; i < G_N_ELEMENTS (numbers); i++)
    {
      const BwPin *pin = bw_design_find_pin (test->design, size->choice->size->id, numbers[i].kind);

      if (pin != NULL && numbers[i].there)
        same (test, "a pin is kept", numbers[i].value, pin->value);
      else if (pin == NULL && numbers[i].kind == BW_PIN_BODY_STITCHES)
        {
          double miss = size->girth_mm - size->body_target_mm;

          at_most (test, "girth is within its limit", fabs (miss), rules->girth_limit_mm);
          if (rules->rounding == BW_ROUND_DOWN)
            at_most (test, "girth is rounded down", miss, 0);
          if (rules->rounding == BW_ROUND_UP)
            at_most (test, "girth is rounded up", 0, miss);
        }
    }
}

/* --- The family --- */

static void
check_growth (const Case         *test,
              const BwGradedSize *before)
{
  const BwGradedSize *size = test->size;

  at_most (test, "sizes grow by the least step",
           before->body_stitches + test->design->rules.least_step, size->body_stitches);
  at_most (test, "the crown's start never falls", before->crown_start, size->crown_start);
  at_most (test, "the brim never falls", before->brim_mm, size->brim_mm);
}

static void
check_family (Case *test)
{
  const GPtrArray *sizes = test->grading->sizes;
  double cost = 0;

  same (test, "every size is graded", sizes->len, test->design->sizes->len);
  for (guint k = 0; k < sizes->len; k++)
    {
      test->size = g_ptr_array_index (sizes, k);
      check_rounds (test);
      check_bands (test);
      check_crown (test);
      check_brim (test);
      check_colours (test);
      cost += check_cost (test);
      check_alternatives (test);
      check_pins_and_limits (test);
      if (k > 0)
        check_growth (test, g_ptr_array_index (sizes, k - 1));
    }

  test->size = NULL;
  near (test, "costs add up to the family's", cost, test->grading->cost);
}

/* A refusal says why; a family that is not refused has no errors. */
static void
check_findings (const Case *test)
{
  gboolean found = FALSE;

  for (guint i = 0; i < test->grading->findings->len; i++)
    found = found ||
            g_array_index (test->grading->findings, BwFinding, i).severity >= BW_SEVERITY_ERROR;
  same (test, "refused if and only if a finding says why", test->grading->refused, found);
  if (test->grading->refused)
    same (test, "a refused family has no sizes", test->grading->sizes->len, 0);
}

/* --- The same again --- */

static void
dump_number (GString *out,
             double   value)
{
  char text[G_ASCII_DTOSTR_BUF_SIZE];

  g_string_append (out, g_ascii_dtostr (text, sizeof text, value));
  g_string_append_c (out, ',');
}

/* One line of numbers for each size, then its rounds and items as they lie in memory. */
static void
dump_size (GString            *out,
           const BwGradedSize *size)
{
  const double numbers[] = {
    size->body_stitches, size->girth_mm, size->girth_u95_mm, size->brim_rows, size->brim_stitches,
    size->brim_mm, size->brim_stretched_mm, size->brim_height_mm, size->crown_start, size->wedges,
    size->fill_repeats, size->depth_mm, size->worn_depth_mm, size->needed_stretch, size->yarn_m,
    size->yarn_g, size->yarn_cost, size->ends, size->minutes, size->cost.girth, size->cost.brim,
    size->cost.depth, size->cost.adjust, size->cost.pick_up, size->pin_price,
  };

  for (guint i = 0; i < G_N_ELEMENTS (numbers); i++)
    dump_number (out, numbers[i]);
  for (guint c = 0; c < BW_STRIPE_COLOURS_MAX; c++)
    dump_number (out, size->colour_m[c]);
  g_string_append_c (out, '\n');
  g_string_append_len (out, size->rounds->rounds->data,
                       (gssize) (size->rounds->rounds->len * sizeof (BwRound)));
  g_string_append_len (out, size->rounds->items->data,
                       (gssize) (size->rounds->items->len * sizeof (BwItem)));
  for (guint i = 0; i < size->alternatives->len; i++)
    dump_number (out, g_array_index (size->alternatives, BwAlternative, i).cost);
}

static GString *
dump (const BwGrading *grading)
{
  GString *out = g_string_new (grading->refused ? "refused\n" : "graded\n");

  dump_number (out, grading->cost);
  for (guint k = 0; k < grading->sizes->len; k++)
    dump_size (out, g_ptr_array_index (grading->sizes, k));
  for (guint i = 0; i < grading->findings->len; i++)
    {
      const BwFinding *finding = &g_array_index (grading->findings, BwFinding, i);

      g_string_append_printf (out, "%s,%d,%d,%d,%d,", bw_finding_code (finding->kind),
                              finding->size, finding->other, finding->round, finding->part);
      dump_number (out, finding->a);
      dump_number (out, finding->b);
      dump_number (out, finding->c);
    }

  return out;
}

static void
check_again (const Case     *test,
             const char     *rule,
             const BwDesign *design,
             const GString  *before)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (BwGrading) again = bw_grade (test->reference, design, &error);
  GString *after;

  g_assert_no_error (error);
  after = dump (again);
  if (!g_string_equal (before, after))
    fail (test, rule, (double) before->len, (double) after->len);
  g_string_free (after, TRUE);
}

static void
check_through_text (const Case    *test,
                    const GString *before)
{
  gsize length;
  g_autoptr (GError) error = NULL;
  g_autofree char *text = bw_design_to_text (test->reference, test->design, NULL, &length);
  g_autoptr (BwDesign) design = bw_design_from_text (test->reference, text, length, &error);

  g_assert_no_error (error);
  check_again (test, "graded the same after being written and read", design, before);
}

/* Returns whether the hat was graded and not refused. */
static gboolean
check_hat (const BwReference *reference,
           guint32            seed)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (BwDesign) design = random_hat (reference, HATS_ANY, seed);
  g_autoptr (BwGrading) grading = bw_grade (reference, design, &error);
  Case test = { reference, design, grading, NULL, seed };
  GString *before;

  g_assert_no_error (error);
  check_findings (&test);
  if (!grading->refused)
    check_family (&test);

  before = dump (grading);
  check_again (&test, "graded twice the same", design, before);
  check_through_text (&test, before);
  g_string_free (before, TRUE);
  return !grading->refused;
}

static void
test_random (void)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (BwReference) reference = bw_reference_builtin (&error);
  guint32 seed = (guint32) g_test_rand_int ();
  guint graded = 0;

  g_assert_no_error (error);
  for (guint i = 0; i < HATS; i++)
    graded += check_hat (reference, seed + i);

  g_test_message ("%u of %u random hats graded, the others refused with reasons; first seed %u",
                  graded, HATS, seed);
  /* the generator is no use when most of what it makes is refused */
  g_assert_cmpuint (graded, >, HATS * 7 / 10);
}

int
main (int    argc,
      char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/grade/properties/random", test_random);
  return g_test_run ();
}
