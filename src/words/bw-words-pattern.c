#define G_LOG_DOMAIN "bw-words"

#include "bw-words-private.h"

#include <math.h>
#include <string.h>

#include "bw-words-pattern-private.h"

/* The complete pattern, in the order that makers expect: what it is, sizes,
 * materials, gauge, abbreviations, notes, instructions, finishing, care,
 * cautions, revision. */

/**
 * bw_block_free:
 * @block: (nullable): a block
 */
void
bw_block_free (BwBlock *block)
{
  if (block == NULL)
    return;

  g_free (block->lead);
  g_free (block->text);
  g_free (block);
}

/**
 * bw_words_add_block:
 * @blocks: blocks
 * @kind: kind of the new one
 * @lead: its lead; copied
 * @text: its text; copied
 *
 * Returns: (transfer none): the new block, for what else there is to say of it
 */
BwBlock *
bw_words_add_block (GPtrArray   *blocks,
                    BwBlockKind  kind,
                    const char  *lead,
                    const char  *text)
{
  BwBlock *block = g_new0 (BwBlock, 1);

  block->kind = kind;
  block->lead = g_strdup (lead);
  block->text = g_strdup (text);
  g_ptr_array_add (blocks, block);
  return block;
}

static void
add_heading (GPtrArray  *blocks,
             const char *text)
{
  bw_words_add_block (blocks, BW_BLOCK_HEADING, "", text);
}

static void
add_paragraph (GPtrArray  *blocks,
               const char *text)
{
  if (text[0] != '\0')
    bw_words_add_block (blocks, BW_BLOCK_PARAGRAPH, "", text);
}

static void
add_strings (GPtrArray  *blocks,
             char      **strings)
{
  for (guint i = 0; strings[i] != NULL; i++)
    add_paragraph (blocks, strings[i]);
  g_strfreev (strings);
}

/* --- What is used --- */

/* Which stitches the rounds of the write-up use, by their place in the dictionary. */
gboolean *
bw_words_used_stitches (const BwWriteup *writeup)
{
  const BwGrading *grading = writeup->grading;
  gboolean *used = g_new0 (gboolean, bw_stitch_dictionary_size (grading->reference->stitches));

  for (guint k = 0; k < writeup->sizes->len; k++)
    {
      const BwGradedSize *size = g_ptr_array_index (grading->sizes,
                                                    g_array_index (writeup->sizes, guint, k));
      const BwItem *items = (const BwItem *) (void *) size->rounds->items->data;

      for (guint i = 0; i < size->rounds->items->len; i++)
        if (items[i].stitch != BW_STITCH_NONE)
          used[items[i].stitch] = TRUE;
    }

  if (!grading->design->spiral)
    used[bw_stitch_find (grading->reference->stitches, "slip")] = TRUE;
  used[bw_stitch_find (grading->reference->stitches, "chain")] = TRUE;
  return used;
}

static gboolean
uses_loop (const BwWriteup *writeup,
           BwLoop           loop)
{
  for (guint k = 0; k < writeup->sizes->len; k++)
    {
      const BwGradedSize *size = g_ptr_array_index (writeup->grading->sizes,
                                                    g_array_index (writeup->sizes, guint, k));
      const BwItem *items = (const BwItem *) (void *) size->rounds->items->data;

      for (guint i = 0; i < size->rounds->items->len; i++)
        if (items[i].loop == loop)
          return TRUE;
    }

  return FALSE;
}

static gboolean
uses_place (const BwWriteup *writeup,
            BwPlace          place)
{
  for (guint k = 0; k < writeup->sizes->len; k++)
    {
      const BwGradedSize *size = g_ptr_array_index (writeup->grading->sizes,
                                                    g_array_index (writeup->sizes, guint, k));
      const BwItem *items = (const BwItem *) (void *) size->rounds->items->data;

      for (guint i = 0; i < size->rounds->items->len; i++)
        if (items[i].place == place)
          return TRUE;
    }

  return FALSE;
}

/* The published scale of four project levels ("Proper project level
 * definitions", fiatfiberarts.com, 2018, quoting it): which one a hat is, is our
 * reading of their words. */
const char *
bw_words_skill (const BwWriteup *writeup,
                const gboolean  *used)
{
  const BwStitchDictionary *stitches = writeup->grading->reference->stitches;
  guint special = 0;

  for (guint i = 0; i < bw_stitch_dictionary_size (stitches); i++)
    {
      const BwStitch *stitch = bw_stitch_get (stitches, (BwStitchIndex) i);

      special += used[i] && stitch->special != NULL && stitch->takes == 1;
    }

  if (special >= 3)
    return _("Complex: several techniques at once");
  if (special > 0)
    return _("Intermediate: special stitches, shaping");
  if (writeup->grading->design->colours->len > 1)
    return _("Easy: stripes and simple shaping");
  return _("Easy: simple shaping");
}

/* --- Sizes --- */

static double
head_of (const BwGradedSize *size)
{
  return size->head_mm;
}

static double
girth_of (const BwGradedSize *size)
{
  return size->girth_mm;
}

static double
depth_of (const BwGradedSize *size)
{
  return size->depth_mm;
}

static double
brim_of (const BwGradedSize *size)
{
  return size->brim_mm;
}

static char *
size_names (const BwWriteup *writeup)
{
  GString *out = g_string_new (NULL);

  for (guint k = 0; k < writeup->sizes->len; k++)
    {
      const BwGradedSize *size = g_ptr_array_index (writeup->grading->sizes,
                                                    g_array_index (writeup->sizes, guint, k));

      g_string_append (out, k == 0 ? "" : k == 1 ? " (" : ", ");
      g_string_append (out, bw_words_size_name (size->choice));
    }
  if (writeup->sizes->len > 1)
    g_string_append_c (out, ')');
  return g_string_free (out, FALSE);
}

static void
add_measure (GPtrArray       *blocks,
             const BwWriteup *writeup,
             const char      *what,
             double         (*measure) (const BwGradedSize *size))
{
  g_autofree char *figures = bw_words_measures (writeup->grading, writeup->sizes, measure);

  bw_words_add_block (blocks, BW_BLOCK_ITEM, what, figures)->table = BW_BLOCK_SIZE_TABLE;
}

static void
add_sizes (GPtrArray       *blocks,
           const BwWriteup *writeup)
{
  const BwDesign *design = writeup->grading->design;
  g_autofree char *names = size_names (writeup);
  g_autofree char *ease = bw_words_ease (design, &design->body_ease);

  add_heading (blocks, _("Sizes"));
  bw_words_add_block (blocks, BW_BLOCK_ITEM, _("Sizes"), names);
  add_measure (blocks, writeup, _("To fit head"), head_of);
  add_measure (blocks, writeup, _("Finished girth"), girth_of);
  if (design->brim.kind != BW_BRIM_NONE)
    add_measure (blocks, writeup, _("Brim, relaxed"), brim_of);
  add_measure (blocks, writeup, _("Depth, edge to middle of crown"), depth_of);
  bw_words_add_block (blocks, BW_BLOCK_ITEM, _("Ease allowed"), ease);
  if (writeup->sizes->len > 1)
    add_paragraph (blocks, _("Where several numbers stand they are for the sizes in this order, the "
                             "smallest first and the others in brackets. One number is for all "
                             "sizes; a dash means that a size does not work it. A line for some "
                             "sizes only has a number for each of those."));
}

/* --- Materials and gauge --- */

/* Metres and balls of one colour in every size: "45 (60, 67) m, 1 ball each". */
static char *
colour_amounts (const BwWriteup *writeup,
                guint            colour)
{
  GString *out = g_string_new (NULL);

  for (guint k = 0; k < writeup->sizes->len; k++)
    {
      const BwGradedSize *size = g_ptr_array_index (writeup->grading->sizes,
                                                    g_array_index (writeup->sizes, guint, k));
      g_autofree char *metres = bw_units_format_number (size->colour_m[colour], 0);

      g_string_append (out, k == 0 ? "" : k == 1 ? " (" : ", ");
      g_string_append (out, metres);
    }
  g_string_append (out, writeup->sizes->len > 1 ? ") m" : " m");

  for (guint k = 0; k < writeup->sizes->len; k++)
    {
      const BwGradedSize *size = g_ptr_array_index (writeup->grading->sizes,
                                                    g_array_index (writeup->sizes, guint, k));

      if (size->balls[colour] == 0)
        break;
      g_string_append_printf (out, "%s%u", k == 0 ? "; " : k == 1 ? " (" : ", ",
                              size->balls[colour]);
      if (k + 1 == writeup->sizes->len)
        g_string_append (out, k > 0 ? _(") balls") : _(" balls"));
    }

  return g_string_free (out, FALSE);
}

/* Yarn, and how much of each colour. */
void
bw_words_add_yarn (GPtrArray       *blocks,
                   const BwWriteup *writeup)
{
  const BwDesign *design = writeup->grading->design;
  g_autoptr (GString) yarn = g_string_new (design->yarn.name);

  if (design->yarn.weight_class >= 0)
    {
      const BwYarnClass *yarn_class = bw_reference_yarn_class (writeup->grading->reference,
                                                               (guint) design->yarn.weight_class);

      if (yarn_class != NULL)
        g_string_append_printf (yarn, _("; thickness %u, %s (US %s)"), yarn_class->number,
                                yarn_class->uk, yarn_class->us);
    }
  if (design->yarn.metres_per_ball > 0)
    {
      g_autofree char *metres = bw_units_format_number (design->yarn.metres_per_ball, 0);
      g_autofree char *yards = bw_units_format_number (design->yarn.metres_per_ball / BW_M_PER_YARD, 0);
      g_autofree char *grams = bw_units_format_number (design->yarn.grams_per_ball, 0);

      g_string_append_printf (yarn, _("; %s m (%s yd) in a ball of %s g"), metres, yards, grams);
    }
  bw_words_add_block (blocks, BW_BLOCK_ITEM, _("Yarn"), yarn->str);

  for (guint c = 0; c < design->colours->len; c++)
    {
      g_autofree char *name = bw_words_colour (design, c);
      g_autofree char *amounts = colour_amounts (writeup, c);

      bw_words_add_block (blocks, BW_BLOCK_ITEM, name, amounts)->table = BW_BLOCK_YARN_TABLE;
    }
}

/* What the hook of a size is for: the stitch patterns of its swatches. */
static char *
hook_purpose (const BwGrading *grading,
              double           mm)
{
  const BwDesign *design = grading->design;
  GString *out = g_string_new (NULL);

  for (guint i = 0; i < design->swatches->len; i++)
    {
      const BwSwatch *swatch = &g_array_index (design->swatches, BwSwatch, i);
      const char *fabric = bw_words_fabric (grading, swatch->fabric);

      if (fabs (swatch->hook_mm - mm) > 1e-6 || strstr (out->str, fabric) != NULL)
        continue;
      g_string_append (out, out->len > 0 ? ", " : "");
      g_string_append (out, fabric);
    }
  return g_string_free (out, FALSE);
}

static guint
count_hooks (const BwDesign *design)
{
  guint n = 0;

  for (guint i = 0; i < design->swatches->len; i++)
    {
      double mm = g_array_index (design->swatches, BwSwatch, i).hook_mm;
      gboolean fresh = mm > 0;

      for (guint j = 0; j < i && fresh; j++)
        fresh = fabs (g_array_index (design->swatches, BwSwatch, j).hook_mm - mm) > 1e-6;
      n += fresh;
    }
  return n;
}

/* The hooks of the swatches. Where there are several it is said what each is for. */
void
bw_words_add_hooks (GPtrArray       *blocks,
                    const BwWriteup *writeup)
{
  const BwDesign *design = writeup->grading->design;
  g_autoptr (GString) hooks = g_string_new (NULL);
  gboolean several = count_hooks (design) > 1;

  for (guint i = 0; i < design->swatches->len; i++)
    {
      const BwSwatch *swatch = &g_array_index (design->swatches, BwSwatch, i);
      const BwHook *hook = bw_reference_hook (writeup->grading->reference, swatch->hook_mm);
      g_autofree char *mm = bw_units_format_number (swatch->hook_mm, 2);
      g_autofree char *purpose = several ? hook_purpose (writeup->grading, swatch->hook_mm) : NULL;
      g_autofree char *one = hook != NULL && hook->us != NULL
        ? g_strdup_printf (_("%s mm (US %s)"), mm, hook->us)
        : g_strdup_printf (_("%s mm"), mm);

      if (swatch->hook_mm <= 0 || strstr (hooks->str, one) != NULL)
        continue;
      g_string_append (hooks, hooks->len > 0 ? "; " : "");
      g_string_append (hooks, one);
      if (purpose != NULL)
        g_string_append_printf (hooks, _(" for %s"), purpose);
    }

  if (hooks->len == 0)
    return;
  g_string_append (hooks, _(", or what gives the gauge"));
  bw_words_add_block (blocks, BW_BLOCK_ITEM, _("Hook"), hooks->str);
}

static void
add_materials (GPtrArray       *blocks,
               const BwWriteup *writeup)
{
  const BwDesign *design = writeup->grading->design;

  add_heading (blocks, _("Materials"));
  bw_words_add_yarn (blocks, writeup);
  bw_words_add_hooks (blocks, writeup);
  bw_words_add_block (blocks, BW_BLOCK_ITEM, _("Notions"),
                      design->finishing.pompom_mm > 0
                        ? _("stitch marker, blunt needle, tape measure, card for the pom-pom")
                        : _("stitch marker, blunt needle, tape measure"));
}

/* Height of a row or round of the brim as it is graded: without a swatch of its
 * own it is another stitch pattern's, fitted to its stitches. */
static double
brim_row_mm (const BwGrading *grading)
{
  const BwGradedSize *size = g_ptr_array_index (grading->sizes, 0);
  const BwRound *rounds = (const BwRound *) (void *) size->rounds->rounds->data;
  double mm = 0;

  if (size->brim_rows > 0)
    return size->brim_mm / size->brim_rows;
  for (guint i = 0; i < size->rounds->rounds->len; i++)
    if (rounds[i].section == BW_SECTION_BRIM && rounds[i].number > 0)
      mm = rounds[i].round_mm;
  return mm;
}

/* Over 10 cm and over 4 in, which patterns give as the same. */
void
bw_words_add_gauge (GPtrArray       *blocks,
                    const BwGrading *grading)
{
  const BwDesign *design = grading->design;
  g_autofree char *metric = bw_gauge_format (&grading->body_gauge, 100, BW_UNITS_CM,
                                             design->mm_per_inch);
  g_autofree char *imperial = bw_gauge_format (&grading->body_gauge, 4 * design->mm_per_inch,
                                               BW_UNITS_INCH, design->mm_per_inch);
  g_autofree char *body = g_strdup_printf (
    grading->body_gauge.washed ? _("%s; %s; washed and dried") : _("%s; %s; as worked"), metric,
    imperial);

  add_heading (blocks, design->terms == BW_TERMS_UK ? _("Tension") : _("Gauge"));
  bw_words_add_block (blocks, BW_BLOCK_ITEM, bw_words_fabric (grading, design->body_fabric), body);
  if (design->brim.kind != BW_BRIM_NONE && brim_row_mm (grading) > 0)
    {
      g_autofree char *rows = bw_units_format_number (100 / brim_row_mm (grading), 1);
      gboolean round = design->brim.kind == BW_BRIM_POST_RIB || design->brim.kind == BW_BRIM_ROLLED;
      g_autofree char *brim = g_strdup_printf (round ? _("%s rounds = 10 cm (4 in), relaxed")
                                                     : _("%s rows = 10 cm (4 in), relaxed"),
                                               rows);

      bw_words_add_block (blocks, BW_BLOCK_ITEM, bw_words_brim (design->brim.kind), brim);
    }
}

/* --- Words and stitches --- */

static int
compare_leads (gconstpointer a,
               gconstpointer b)
{
  const BwBlock *x = *(const BwBlock *const *) a;
  const BwBlock *y = *(const BwBlock *const *) b;
  int order = g_ascii_strcasecmp (x->lead, y->lead);

  return order != 0 ? order : strcmp (x->lead, y->lead);
}

static void
add_abbreviations (GPtrArray       *blocks,
                   const BwWriteup *writeup,
                   const gboolean  *used)
{
  const BwGrading *grading = writeup->grading;
  BwTerms terms = grading->design->terms;
  g_autoptr (GPtrArray) list = g_ptr_array_new ();

  for (guint i = 0; i < bw_stitch_dictionary_size (grading->reference->stitches); i++)
    {
      const BwStitch *stitch = bw_stitch_get (grading->reference->stitches, (BwStitchIndex) i);
      const char *name = terms == BW_TERMS_UK ? stitch->uk_name : stitch->us_name;
      const char *abbreviation = terms == BW_TERMS_UK ? stitch->uk : stitch->us;

      if (used[i] && !g_str_equal (name, abbreviation))
        bw_words_add_block (list, BW_BLOCK_ITEM, abbreviation, name);
    }
  if (uses_loop (writeup, BW_LOOP_BACK))
    bw_words_add_block (list, BW_BLOCK_ITEM, "BLO", _("in the back loop only"));
  if (uses_place (writeup, BW_PLACE_CHAIN_SPACE))
    bw_words_add_block (list, BW_BLOCK_ITEM, "ch-sp", _("chain space"));
  if (uses_loop (writeup, BW_LOOP_FRONT))
    bw_words_add_block (list, BW_BLOCK_ITEM, "FLO", _("in the front loop only"));
  bw_words_add_block (list, BW_BLOCK_ITEM, "rnd(s)", _("round(s)"));
  bw_words_add_block (list, BW_BLOCK_ITEM, "st(s)", _("stitch(es)"));

  g_ptr_array_sort (list, compare_leads);
  bw_words_add_block (blocks, BW_BLOCK_HEADING, "", _("Abbreviations"))->place =
    BW_BLOCK_PLACE_ABBREVIATIONS;
  for (guint i = 0; i < list->len; i++)
    {
      ((BwBlock *) g_ptr_array_index (list, i))->place = BW_BLOCK_PLACE_ABBREVIATIONS;
      g_ptr_array_add (blocks, g_ptr_array_index (list, i));
    }
}

static void
add_special_stitches (GPtrArray       *blocks,
                      const BwWriteup *writeup,
                      const gboolean  *used)
{
  const BwGrading *grading = writeup->grading;
  gboolean any = FALSE;

  for (guint i = 0; i < bw_stitch_dictionary_size (grading->reference->stitches); i++)
    {
      const BwStitch *stitch = bw_stitch_get (grading->reference->stitches, (BwStitchIndex) i);
      g_autofree char *how = NULL;

      if (!used[i] || stitch->special == NULL)
        continue;
      if (!any)
        add_heading (blocks, _("Special stitches"));
      any = TRUE;
      how = bw_words_in_terms (grading, stitch->special);
      bw_words_add_block (blocks, BW_BLOCK_ITEM,
                          bw_stitch_abbreviation (grading->reference->stitches, (BwStitchIndex) i,
                                                  grading->design->terms),
                          how);
    }
}

static void
add_notes (GPtrArray       *blocks,
           const BwGrading *grading)
{
  g_autofree char *way = bw_words_way_of_working (grading);
  g_autofree char *numbers = bw_words_in_terms (
    grading, _("A number before a stitch is one in each of so many stitches: 3 dc is one in each of "
               "the next three. Several in one stitch say so: 2 dc in next st."));

  add_heading (blocks, _("Notes"));
  add_paragraph (blocks, way);
  if (grading->design->terms == BW_TERMS_US)
    {
      g_autoptr (GString) text = g_string_new (numbers);

      g_string_replace (text, " dc ", " sc ", 0);
      add_paragraph (blocks, text->str);
    }
  else
    {
      add_paragraph (blocks, numbers);
    }
  bw_words_add_block (blocks, BW_BLOCK_PARAGRAPH, "",
                      _("What stands in square brackets is worked as often as it says behind "
                           "them. The count in brackets at the end of a line is that of its last "
                           "round."))->place =
    BW_BLOCK_PLACE_REPEATS;
  add_paragraph (blocks, _("Working left-handed, follow the instructions as they are: the hat comes "
                           "out mirrored."));
  if (grading->design->colours->len > 1)
    add_paragraph (blocks, _("Change colour in the last step before the round is closed, so that the "
                             "new round starts in its own colour. Carry a resting colour up inside "
                             "the join, loosely."));
  add_paragraph (blocks, grading->design->notes);
}

/* --- The end of the pattern --- */

/* Ends to weave in, "6 (6, 8)"; NULL where every size has as many. */
static char *
ends_by_size (const BwWriteup *writeup)
{
  guint n = writeup->sizes->len;
  g_autofree guint *ends = g_new (guint, n);
  GString *out;
  gboolean differ = FALSE;

  for (guint k = 0; k < n; k++)
    {
      const BwGradedSize *size = g_ptr_array_index (writeup->grading->sizes,
                                                    g_array_index (writeup->sizes, guint, k));

      ends[k] = size->ends;
      differ = differ || ends[k] != ends[0];
    }
  if (!differ)
    return NULL;

  out = g_string_new (NULL);
  for (guint k = 0; k < n; k++)
    g_string_append_printf (out, k == 0 ? "%u" : k == 1 ? " (%u" : ", %u", ends[k]);
  g_string_append_c (out, ')');
  return g_string_free (out, FALSE);
}

static void
add_end (GPtrArray       *blocks,
         const BwWriteup *writeup)
{
  const BwGrading *grading = writeup->grading;
  const BwGradedSize *size = g_ptr_array_index (grading->sizes,
                                                g_array_index (writeup->sizes, guint, 0));
  g_autofree char *copyright = g_strdup_printf (_("© %s. For your own use; please do not pass the "
                                                  "file on."),
                                                grading->design->designer[0] != '\0'
                                                  ? grading->design->designer
                                                  : _("(designer)"));
  g_autofree char *ends = ends_by_size (writeup);

  add_heading (blocks, _("Finishing"));
  add_strings (blocks, bw_words_finishing (grading, size, ends));
  add_heading (blocks, _("Care"));
  add_paragraph (blocks, _("Wash as the ball band says, the same as the swatch; pull to size and dry "
                           "flat."));
  if (grading->design->finishing.pompom_mm > 0)
    add_paragraph (blocks, _("Take the pom-pom off for washing."));
  bw_words_add_cautions (blocks, writeup);
  bw_words_add_block (blocks, BW_BLOCK_HEADING, "", _("Photographs"))->place =
    BW_BLOCK_PLACE_PHOTOGRAPHS;
  bw_words_add_block (blocks, BW_BLOCK_PARAGRAPH, "", _("(space for photographs)"))->place =
    BW_BLOCK_PLACE_PHOTOGRAPHS;
  add_heading (blocks, _("Revision and corrections"));
  bw_words_add_block (blocks, BW_BLOCK_PARAGRAPH, "", _("First writing; no corrections yet."))->place =
    BW_BLOCK_PLACE_REVISION;
  add_paragraph (blocks, copyright);
}

static void
add_title (GPtrArray       *blocks,
           const BwWriteup *writeup,
           const gboolean  *used)
{
  const BwDesign *design = writeup->grading->design;
  g_autofree char *title = design->code[0] != '\0'
    ? g_strdup_printf ("%s (%s)", design->name, design->code)
    : g_strdup (design->name);

  bw_words_add_block (blocks, BW_BLOCK_TITLE, "", title);
  add_paragraph (blocks, design->designer);
  bw_words_add_block (blocks, BW_BLOCK_ITEM, _("Terms"), bw_words_terms (design->terms));
  bw_words_add_block (blocks, BW_BLOCK_ITEM, _("Skill"), bw_words_skill (writeup, used));
  add_paragraph (blocks, design->summary);
}

/**
 * bw_words_pattern:
 * @grading: a graded family, not refused
 * @size: index of the one size to write; -1 = all of them in one text
 * @form: folded, or in full or in sentences for one size
 *
 * Returns: (transfer full) (element-type BwBlock): the complete pattern
 */
GPtrArray *
bw_words_pattern (const BwGrading *grading,
                  int              size,
                  BwPatternForm    form)
{
  GPtrArray *blocks = g_ptr_array_new_with_free_func ((GDestroyNotify) bw_block_free);
  g_autoptr (BwWriteup) writeup = bw_writeup_new (grading, size);
  g_autofree gboolean *used = bw_words_used_stitches (writeup);

  add_title (blocks, writeup, used);
  add_sizes (blocks, writeup);
  add_materials (blocks, writeup);
  bw_words_add_gauge (blocks, grading);
  add_abbreviations (blocks, writeup, used);
  add_special_stitches (blocks, writeup, used);
  add_notes (blocks, grading);
  add_heading (blocks, _("Instructions"));
  bw_words_pattern_rounds (blocks, writeup, form);
  add_end (blocks, writeup);
  return blocks;
}

/**
 * bw_words_pattern_text:
 * @blocks: (element-type BwBlock): a pattern
 *
 * Returns: (transfer full): the pattern as plain text, one block a line
 */
char *
bw_words_pattern_text (const GPtrArray *blocks)
{
  GString *out = g_string_new (NULL);

  for (guint i = 0; i < blocks->len; i++)
    {
      const BwBlock *block = g_ptr_array_index (blocks, i);
      gboolean apart = block->kind == BW_BLOCK_HEADING || block->kind == BW_BLOCK_PART;

      if (apart)
        g_string_append_c (out, '\n');
      if (block->tick)
        g_string_append (out, "\xe2\x98\x90 ");
      if (block->kind == BW_BLOCK_ROUND)
        g_string_append_printf (out, "%c  ", (char) ('A' + block->colour));
      else if (block->kind == BW_BLOCK_CHECK)
        g_string_append (out, "   ");
      if (block->lead[0] != '\0')
        g_string_append_printf (out, "%s: ", block->lead);
      g_string_append_printf (out, "%s\n", block->text);
    }

  return g_string_free (out, FALSE);
}
