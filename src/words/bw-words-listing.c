#define G_LOG_DOMAIN "bw-words"

#include "bw-words-private.h"

#include <string.h>

#include "bw-words-listing.h"
#include "bw-words-pattern-private.h"

static const BwGradedSize *
size_at (const BwWriteup *writeup,
         guint            k)
{
  return g_ptr_array_index (writeup->grading->sizes, g_array_index (writeup->sizes, guint, k));
}

/* Who buys has a tape of either kind: "53.4 cm (21 in)", the design's own first. */
static char *
both_lengths (const BwDesign *design,
              double          mm)
{
  BwUnits other = design->units == BW_UNITS_CM ? BW_UNITS_INCH : BW_UNITS_CM;
  g_autofree char *first = bw_words_length (design, mm);
  g_autofree char *second = bw_units_format_length (mm, other, design->mm_per_inch);

  return g_strdup_printf ("%s (%s)", first, second);
}

static void
add_sizes (GPtrArray       *blocks,
           const BwWriteup *writeup)
{
  const BwDesign *design = writeup->grading->design;

  bw_words_add_block (blocks, BW_BLOCK_HEADING, "", _("Sizes"));
  for (guint k = 0; k < writeup->sizes->len; k++)
    {
      const BwGradedSize *size = size_at (writeup, k);
      g_autofree char *head = both_lengths (design, size->head_mm);
      g_autofree char *girth = both_lengths (design, size->girth_mm);
      g_autofree char *depth = both_lengths (design, size->depth_mm);
      g_autofree char *text = g_strdup_printf (_("to fit head %s; finished %s round, %s deep"),
                                               head, girth, depth);

      bw_words_add_block (blocks, BW_BLOCK_ITEM, bw_words_size_name (size->choice), text);
    }
}

/* "78 to 153 m (85 to 167 yd) in 3 colours" */
static void
add_amount (GPtrArray       *blocks,
            const BwWriteup *writeup)
{
  guint colours = writeup->grading->design->colours->len;
  double least = size_at (writeup, 0)->yarn_m;
  double most = least;
  g_autofree char *low_m = NULL;
  g_autofree char *high_m = NULL;
  g_autofree char *low_yd = NULL;
  g_autofree char *high_yd = NULL;
  g_autoptr (GString) out = g_string_new (NULL);

  for (guint k = 1; k < writeup->sizes->len; k++)
    {
      least = MIN (least, size_at (writeup, k)->yarn_m);
      most = MAX (most, size_at (writeup, k)->yarn_m);
    }
  low_m = bw_units_format_number (least, 0);
  high_m = bw_units_format_number (most, 0);
  low_yd = bw_units_format_number (least / BW_M_PER_YARD, 0);
  high_yd = bw_units_format_number (most / BW_M_PER_YARD, 0);
  if (g_str_equal (low_m, high_m))
    g_string_printf (out, _("%s m (%s yd)"), low_m, low_yd);
  else
    g_string_printf (out, _("%s to %s m (%s to %s yd), by size"), low_m, high_m, low_yd,
                     high_yd);
  if (colours > 1)
    g_string_append_printf (out, g_dngettext (GETTEXT_PACKAGE, ", in %u colour", ", in %u colours",
                                              colours),
                            colours);
  bw_words_add_block (blocks, BW_BLOCK_ITEM, _("Amount in all"), out->str);
}

static void
add_needs (GPtrArray       *blocks,
           const BwWriteup *writeup)
{
  guint first;

  bw_words_add_block (blocks, BW_BLOCK_HEADING, "", _("What you need"));
  first = blocks->len;
  bw_words_add_yarn (blocks, writeup);
  /* A shop does not tell each colour of each size */
  for (guint i = blocks->len; i-- > first;)
    if (((const BwBlock *) g_ptr_array_index (blocks, i))->table == BW_BLOCK_YARN_TABLE)
      g_ptr_array_remove_index (blocks, i);
  add_amount (blocks, writeup);
  bw_words_add_hooks (blocks, writeup);
}

static void
add_stitches (GPtrArray       *blocks,
              const BwWriteup *writeup,
              const gboolean  *used)
{
  const BwStitchDictionary *stitches = writeup->grading->reference->stitches;
  BwStitchIndex miss = bw_stitch_find (stitches, "miss");
  g_autoptr (GString) out = g_string_new (NULL);

  for (guint i = 0; i < bw_stitch_dictionary_size (stitches); i++)
    {
      const BwStitch *stitch = bw_stitch_get (stitches, (BwStitchIndex) i);

      if (!used[i] || i == miss) /* which is none to be learnt */
        continue;
      g_string_append (out, out->len > 0 ? ", " : "");
      g_string_append (out, writeup->grading->design->terms == BW_TERMS_UK ? stitch->uk_name
                                                                           : stitch->us_name);
    }
  bw_words_add_block (blocks, BW_BLOCK_ITEM, _("Stitches"), out->str);
}

/**
 * bw_words_listing:
 * @grading: a family in the terms of the edition that is sold
 *
 * Returns: (transfer full) (element-type BwBlock): what a shop tells of the pattern
 */
GPtrArray *
bw_words_listing (const BwGrading *grading)
{
  GPtrArray *blocks = g_ptr_array_new_with_free_func ((GDestroyNotify) bw_block_free);
  const BwDesign *design = grading->design;
  g_autoptr (BwWriteup) writeup = bw_writeup_new (grading, -1);
  g_autofree gboolean *used = bw_words_used_stitches (writeup);
  guint n = writeup->sizes->len;
  g_autofree char *title = g_strdup_printf (g_dngettext (GETTEXT_PACKAGE,
                                                         "%s: crochet hat pattern in %u size",
                                                         "%s: crochet hat pattern in %u sizes", n),
                                            design->name, n);

  bw_words_add_block (blocks, BW_BLOCK_TITLE, "", title);
  if (design->summary[0] != '\0')
    bw_words_add_block (blocks, BW_BLOCK_PARAGRAPH, "", design->summary);
  bw_words_add_block (blocks, BW_BLOCK_PARAGRAPH, "",
                      _("This is a pattern to work from, not a finished hat."));
  bw_words_add_block (blocks, BW_BLOCK_ITEM, _("Written in"), bw_words_terms (design->terms));
  bw_words_add_block (blocks, BW_BLOCK_ITEM, _("Skill"), bw_words_skill (writeup, used));
  add_stitches (blocks, writeup, used);
  add_sizes (blocks, writeup);
  add_needs (blocks, writeup);
  bw_words_add_gauge (blocks, grading);
  bw_words_add_cautions (blocks, writeup);
  if (design->designer[0] != '\0')
    {
      g_autofree char *by = g_strdup_printf (_("Designed by %s."), design->designer);

      bw_words_add_block (blocks, BW_BLOCK_HEADING, "", _("Designer"));
      bw_words_add_block (blocks, BW_BLOCK_PARAGRAPH, "", by);
    }
  return blocks;
}

/**
 * bw_words_listing_text:
 * @blocks: (element-type BwBlock): a listing
 *
 * Returns: (transfer full): the listing as plain text with an empty line between
 *   paragraphs, as shops' forms take it
 */
char *
bw_words_listing_text (const GPtrArray *blocks)
{
  GString *out = g_string_new (NULL);
  BwBlockKind before = BW_BLOCK_HEADING;

  for (guint i = 0; i < blocks->len; i++)
    {
      const BwBlock *block = g_ptr_array_index (blocks, i);

      if (i > 0 && before != BW_BLOCK_HEADING &&
          !(before == BW_BLOCK_ITEM && block->kind == BW_BLOCK_ITEM))
        g_string_append_c (out, '\n');
      if (block->lead[0] != '\0')
        g_string_append_printf (out, "%s: ", block->lead);
      g_string_append_printf (out, "%s\n", block->text);
      before = block->kind;
    }

  return g_string_free (out, FALSE);
}
