#define G_LOG_DOMAIN "bw-words"

#include "bw-words-private.h"

#include <string.h>

#include "bw-words-sheet.h"

/* The sheet as it is sent out. */

static void
place_free (gpointer data)
{
  BwSheetPlace *place = data;

  g_free (place->label);
  g_free (place->should);
  g_free (place);
}

/* Takes @should. */
static void
add_place (GPtrArray    *places,
           BwSheetField  field,
           guint         colour,
           const char   *label,
           char         *should)
{
  BwSheetPlace *place = g_new0 (BwSheetPlace, 1);

  place->field = field;
  place->colour = colour;
  place->label = g_strdup (label);
  place->should = should != NULL ? should : g_strdup ("");
  g_ptr_array_add (places, place);
}

static void
add_gauge_places (GPtrArray       *places,
                  const BwGrading *grading)
{
  const BwGauge *gauge = &grading->body_gauge;
  g_autofree char *stitches = g_strdup_printf (_("%d stitches measure"), BW_SHEET_SPAN);
  g_autofree char *rounds = g_strdup_printf (_("%d rounds measure"), BW_SHEET_SPAN);

  add_place (places, BW_SHEET_STITCHES, 0, stitches,
             bw_words_length (grading->design, BW_SHEET_SPAN * gauge->stitch.mm));
  add_place (places, BW_SHEET_ROUNDS, 0, rounds,
             gauge->round.mm > 0
               ? bw_words_length (grading->design, BW_SHEET_SPAN * gauge->round.mm) : NULL);
}

static void
add_yarn_places (GPtrArray       *places,
                 const BwGrading *grading)
{
  for (guint c = 0; c < grading->design->colours->len; c++)
    {
      g_autofree char *had = g_strdup_printf (_("Yarn %c, at the start"), (char) ('A' + c));
      g_autofree char *left = g_strdup_printf (_("Yarn %c, left"), (char) ('A' + c));

      add_place (places, BW_SHEET_YARN_HAD, c, had, NULL);
      add_place (places, BW_SHEET_YARN_LEFT, c, left, NULL);
    }
}

/* "3 h 25 min" */
static char *
format_time (double minutes)
{
  guint whole = (guint) (minutes + 0.5);

  return whole >= 60 ? g_strdup_printf (_("%u h %u min"), whole / 60, whole % 60)
                     : g_strdup_printf (_("%u min"), whole);
}

/**
 * bw_sheet_places:
 * @grading: a family
 * @k: index of a size
 *
 * Returns: (transfer full) (element-type BwSheetPlace): what a tester of the size
 *   fills in, in the order of the sheet
 */
GPtrArray *
bw_sheet_places (const BwGrading *grading,
                 guint            k)
{
  GPtrArray *places = g_ptr_array_new_with_free_func (place_free);
  const BwGradedSize *size = g_ptr_array_index (grading->sizes, k);
  const BwDesign *design = grading->design;

  add_place (places, BW_SHEET_TESTER, 0, _("Tester, initials or a number"), NULL);
  add_place (places, BW_SHEET_DATE, 0, _("Date"), NULL);
  add_place (places, BW_SHEET_YARN, 0, _("Yarn used"), NULL);
  add_place (places, BW_SHEET_HOOK, 0, _("Hook in mm"), NULL);
  add_gauge_places (places, grading);
  add_place (places, BW_SHEET_GIRTH, 0, _("Girth, flat, across and back"),
             bw_words_length (design, size->girth_mm));
  if (design->brim.kind != BW_BRIM_NONE)
    add_place (places, BW_SHEET_BRIM, 0, _("Brim, along its edge, relaxed"),
               bw_words_length (design, size->brim_mm));
  add_place (places, BW_SHEET_DEPTH, 0, _("Depth, edge to middle of crown"),
             bw_words_length (design, size->depth_mm));
  add_yarn_places (places, grading);
  add_place (places, BW_SHEET_TIME, 0, _("Time"),
             size->minutes > 0 ? format_time (size->minutes) : NULL);
  add_place (places, BW_SHEET_REMARKS, 0, _("Remarks"), NULL);
  return places;
}

static const char *
heading_before (BwSheetField field)
{
  switch (field)
    {
    case BW_SHEET_TESTER:
      return _("You and your yarn");
    case BW_SHEET_STITCHES:
      return _("Your swatch, washed and dried");
    case BW_SHEET_GIRTH:
      return _("The finished hat, washed and dried");
    case BW_SHEET_YARN_HAD:
      return _("Yarn, in g or in m");
    case BW_SHEET_TIME:
      return _("Time and remarks");
    default:
      return NULL;
    }
}

static void
add_places (GPtrArray       *blocks,
            const BwGrading *grading,
            guint            k)
{
  g_autoptr (GPtrArray) places = bw_sheet_places (grading, k);

  for (guint i = 0; i < places->len; i++)
    {
      const BwSheetPlace *place = g_ptr_array_index (places, i);
      const char *heading = place->colour == 0 ? heading_before (place->field) : NULL;
      g_autofree char *lead = place->should[0] != '\0'
                                ? g_strdup_printf ("%s (%s)", place->label, place->should)
                                : g_strdup (place->label);

      if (heading != NULL)
        bw_words_add_block (blocks, BW_BLOCK_HEADING, "", heading);
      bw_words_add_block (blocks, BW_BLOCK_FILL_IN, lead, "");
    }
}

/**
 * bw_words_sheet:
 * @grading: a family
 * @k: index of the size that is tested
 * @revision: number and date of what is tested: "2, 2026-03-01", "draft, 2026-03-01"
 *
 * Returns: (transfer full) (element-type BwBlock): the tester's sheet
 */
GPtrArray *
bw_words_sheet (const BwGrading *grading,
                guint            k,
                const char      *revision)
{
  GPtrArray *blocks = g_ptr_array_new_with_free_func ((GDestroyNotify) bw_block_free);
  const BwDesign *design = grading->design;
  const BwGradedSize *size = g_ptr_array_index (grading->sizes, k);
  g_autofree char *title = g_strdup_printf (_("Tester’s sheet: %s"), design->name);

  bw_words_add_block (blocks, BW_BLOCK_TITLE, "", title);
  bw_words_add_block (blocks, BW_BLOCK_ITEM, _("Design"), design->name);
  bw_words_add_block (blocks, BW_BLOCK_ITEM, _("Size"), bw_words_size_name (size->choice));
  bw_words_add_block (blocks, BW_BLOCK_ITEM, _("Revision"), revision);
  bw_words_add_block (blocks, BW_BLOCK_PARAGRAPH, "",
                      _("Write behind the colons; what you did not measure stays empty. In "
                        "brackets stands what was worked out: measure first, then look. Leave "
                        "the rest as it is and send all of it back."));
  add_places (blocks, grading, k);
  return blocks;
}

/**
 * bw_words_sheet_text:
 * @blocks: (element-type BwBlock): a sheet
 *
 * Returns: (transfer full): the sheet as the plain text that bw_tested_read() reads
 */
char *
bw_words_sheet_text (const GPtrArray *blocks)
{
  GString *out = g_string_new (NULL);

  for (guint i = 0; i < blocks->len; i++)
    {
      const BwBlock *block = g_ptr_array_index (blocks, i);

      if (block->kind == BW_BLOCK_HEADING || block->kind == BW_BLOCK_PARAGRAPH)
        g_string_append_c (out, '\n');
      if (block->kind == BW_BLOCK_ITEM || block->kind == BW_BLOCK_FILL_IN)
        g_string_append_printf (out, "%s: ", block->lead);
      g_string_append_printf (out, "%s\n", block->text);
    }

  return g_string_free (out, FALSE);
}
