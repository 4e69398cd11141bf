#define G_LOG_DOMAIN "bw-publish"

#include "bw-publish-private.h"

#include "bw-edition-blocks.h"
#include "bw-words-sheet.h"

/**
 * bw_edition_stamp:
 * @edition: an edition
 *
 * Returns: (transfer full): "Revision 2, 2026-03-01" or "Draft, 2026-03-01", what
 *   every page and file carries
 */
char *
bw_edition_stamp (const BwEdition *edition)
{
  g_autofree char *day = bw_edition_day (edition->revision.number > 0 ? edition->revision.date
                                                                      : edition->date);

  if (edition->revision.number > 0)
    return g_strdup_printf (_("Revision %u, %s"), edition->revision.number, day);
  return g_strdup_printf (_("Draft, %s"), day);
}

/**
 * bw_edition_revision_lines:
 * @edition: an edition
 *
 * Returns: (transfer full): which revision it is, what is new in it and what a
 *   maker with the one before has to change, a sentence each; free with
 *   g_strfreev()
 */
char **
bw_edition_revision_lines (const BwEdition *edition)
{
  const BwEditionRevision *revision = &edition->revision;
  GStrvBuilder *lines = g_strv_builder_new ();
  g_autofree char *stamp = bw_edition_stamp (edition);
  g_autofree char *first = g_strconcat (stamp, ".", NULL);
  char **strings;

  g_strv_builder_add (lines, first);
  if (revision->note != NULL && revision->note[0] != '\0')
    g_strv_builder_add (lines, revision->note);
  if (revision->corrections != NULL && revision->corrections[0] != NULL)
    {
      g_autofree char *against = g_strdup_printf (_("Corrections for those who have revision %u:"),
                                                  revision->number - 1);

      g_strv_builder_add (lines, against);
      g_strv_builder_addv (lines, (const char **) revision->corrections);
    }
  else if (revision->number > 1 && revision->corrections != NULL)
    {
      g_strv_builder_add (lines, _("No round is worked otherwise than in the revision before."));
    }
  else if (revision->number == 1)
    {
      g_strv_builder_add (lines, _("First writing; no corrections yet."));
    }

  strings = g_strv_builder_end (lines);
  g_strv_builder_unref (lines);
  return strings;
}

/**
 * bw_edition_blocks:
 * @edition: an edition
 * @view: the family in its terms, see bw_edition_view()
 *
 * Returns: (transfer full) (element-type BwBlock): the written pattern with the
 *   edition's revision and corrections, and without a space for photographs,
 *   which who sets the blocks puts in where there is one
 */
GPtrArray *
bw_edition_blocks (const BwEdition *edition,
                   const BwGrading *view)
{
  BwPatternForm form = edition->full && edition->size >= 0 ? BW_PATTERN_SENTENCES
                                                           : BW_PATTERN_FOLDED;
  GPtrArray *blocks = bw_words_pattern (view, edition->size, form);
  g_auto (GStrv) lines = bw_edition_revision_lines (edition);

  for (guint i = 0; i < blocks->len;)
    {
      BwBlock *block = g_ptr_array_index (blocks, i);

      if (block->place == BW_BLOCK_PLACE_PHOTOGRAPHS)
        {
          g_ptr_array_remove_index (blocks, i);
          continue;
        }
      if (block->place == BW_BLOCK_PLACE_REVISION)
        for (guint line = 0; lines[line] != NULL; line++)
          {
            if (line == 0)
              {
                g_free (block->text);
                block->text = g_strdup (lines[0]);
                continue;
              }
            bw_words_add_block (blocks, BW_BLOCK_PARAGRAPH, "", lines[line]);
            g_ptr_array_insert (blocks, (int) ++i,
                                g_ptr_array_steal_index (blocks, blocks->len - 1));
          }
      i++;
    }

  return blocks;
}

/**
 * bw_edition_sheet:
 * @edition: an edition of one size
 * @view: the family in its terms, see bw_edition_view()
 *
 * Returns: (transfer full) (element-type BwBlock): the tester's sheet of the size
 */
GPtrArray *
bw_edition_sheet (const BwEdition *edition,
                  const BwGrading *view)
{
  gint64 date = edition->revision.number > 0 ? edition->revision.date : edition->date;
  g_autofree char *day = bw_edition_day (date);
  g_autofree char *revision = edition->revision.number > 0
                                ? g_strdup_printf ("%u, %s", edition->revision.number, day)
                                : g_strdup_printf (_("draft, %s"), day);

  g_return_val_if_fail (edition->size >= 0, NULL);

  return bw_words_sheet (view, (guint) edition->size, revision);
}
