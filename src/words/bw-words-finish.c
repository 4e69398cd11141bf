#define G_LOG_DOMAIN "bw-words"

#include "bw-words-private.h"

#include "bw-words-pattern-private.h"

/**
 * bw_words_finishing:
 * @grading: a grading
 * @size: one of its sizes
 * @ends: (nullable): ends of several sizes, "6 (6, 8)", where they differ; NULL = those
 *   of @size
 *
 * Returns: (transfer full): what is left to do when the crown is closed, a
 *   sentence each; free with g_strfreev()
 */
char **
bw_words_finishing (const BwGrading    *grading,
                    const BwGradedSize *size,
                    const char         *ends)
{
  const BwFinishing *finishing = &grading->design->finishing;
  GStrvBuilder *lines = g_strv_builder_new ();
  g_autofree char *weave = NULL;
  g_autofree char *pompom = NULL;
  char **strings;

  if (ends != NULL)
    weave = g_strdup_printf (_("Weave in %s ends, each three ways for about 2.5 cm (1 in)."), ends);
  else
    weave = g_strdup_printf (
      g_dngettext (GETTEXT_PACKAGE, "Weave in %u end, three ways for about 2.5 cm (1 in).",
                   "Weave in %u ends, each three ways for about 2.5 cm (1 in).", size->ends),
      size->ends);
  g_strv_builder_add (lines, weave);

  if (grading->design->brim.folded)
    g_strv_builder_add (lines, _("Turn the brim up by half its height."));
  if (finishing->pompom_mm > 0)
    {
      g_autofree char *across = bw_words_length (grading->design, finishing->pompom_mm);
      g_autofree char *colour = bw_words_colour (grading->design, finishing->pompom_colour);

      pompom = g_strdup_printf (_("Make a pom-pom %s across in %s and sew it to the crown."),
                                across, colour);
      g_strv_builder_add (lines, pompom);
    }

  strings = g_strv_builder_end (lines);
  g_strv_builder_unref (lines);
  return strings;
}

/**
 * bw_words_measuring:
 * @grading: a grading
 * @size: one of its sizes
 *
 * Returns: (transfer full): how to measure the head and the finished hat, with the
 *   figures of the size, a sentence each; free with g_strfreev()
 */
char **
bw_words_measuring (const BwGrading    *grading,
                    const BwGradedSize *size)
{
  const BwDesign *design = grading->design;
  GStrvBuilder *lines = g_strv_builder_new ();
  g_autofree char *head = bw_words_length (design, size->head_mm);
  g_autofree char *girth = bw_words_length (design, size->girth_mm);
  g_autofree char *interval = bw_words_length (design, size->girth_u95_mm);
  g_autofree char *brim = bw_words_length (design, size->brim_mm);
  g_autofree char *depth = bw_words_length (design, size->depth_mm);
  g_autofree char *line = NULL;
  char **strings;

  line = g_strdup_printf (_("Head: a tape above the ears, across the middle of the forehead: %s."),
                          head);
  g_strv_builder_add (lines, line);
  g_free (line);
  line = g_strdup_printf (_("Girth: the hat flat and unstretched, across above the brim, twice: %s "
                            "(± %s by the swatch)."),
                          girth, interval);
  g_strv_builder_add (lines, line);
  if (design->brim.kind != BW_BRIM_NONE)
    {
      g_free (line);
      line = g_strdup_printf (_("Brim: the same along its lower edge, relaxed: %s."), brim);
      g_strv_builder_add (lines, line);
    }
  g_free (line);
  line = g_strdup_printf (_("Depth: along the fabric from the lower edge to the middle of the "
                            "crown: %s."),
                          depth);
  g_strv_builder_add (lines, line);

  strings = g_strv_builder_end (lines);
  g_strv_builder_unref (lines);
  return strings;
}

/* --- Cautions --- */

static gboolean
is_caution (BwFindingKind kind)
{
  return kind == BW_FINDING_CAUTION_SMALL_PARTS || kind == BW_FINDING_CAUTION_CORDS ||
         kind == BW_FINDING_CAUTION_SLEEP;
}

/* Small parts, cords and sleep, where the sizes are those that they concern. */
void
bw_words_add_cautions (GPtrArray       *blocks,
                       const BwWriteup *writeup)
{
  const BwGrading *grading = writeup->grading;
  gboolean said[BW_FINDING_N] = { FALSE };
  gboolean any = FALSE;

  for (guint i = 0; i < grading->findings->len; i++)
    {
      const BwFinding *finding = &g_array_index (grading->findings, BwFinding, i);
      BwWordsFinding *words;
      g_autofree char *text = NULL;

      if (!is_caution (finding->kind) || said[finding->kind] ||
          (writeup->sizes->len == 1 &&
           (int) g_array_index (writeup->sizes, guint, 0) != finding->size))
        continue;
      if (!any)
        bw_words_add_block (blocks, BW_BLOCK_HEADING, "", _("Safety"));
      any = said[finding->kind] = TRUE;
      words = bw_words_finding (grading, finding);
      text = g_strdup_printf ("%s %s", words->what, words->why);
      bw_words_add_block (blocks, BW_BLOCK_PARAGRAPH, "", text);
      bw_words_finding_free (words);
    }

  if (any)
    bw_words_add_block (blocks, BW_BLOCK_PARAGRAPH, "",
                        _("A baby's hat comes off indoors and for sleep. Sew parts on so that they "
                             "cannot be pulled or chewed off, and leave them away for the small. "
                             "Follow the rules of the place where the hat is worn or sold."));
}
