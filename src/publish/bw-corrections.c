#define G_LOG_DOMAIN "bw-publish"

#include "bw-publish-private.h"

#include "bw-corrections.h"

#include <string.h>

#include "bw-design-file.h"
#include "bw-notation.h"
#include "bw-words.h"

/* The work that a correction is about, before or after. */
typedef struct
{
  char    *work;     /* in the terms of who reads it */
  guint    stitches;
  guint8   colour;
} Side;

static void
side_clear (Side *side)
{
  g_free (side->work);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Side, side_clear)

/* An instruction in other terms than it was kept in. What is no instruction (the
 * closing, the join) has no stitch names and stays as it is. */
static char *
in_terms (const BwGrading *view,
          const char      *text,
          BwTerms          terms,
          guint            offered,
          gboolean         row)
{
  const BwStitchDictionary *stitches = view->reference->stitches;
  g_autoptr (GArray) items = g_array_new (FALSE, TRUE, sizeof (BwItem));
  g_autoptr (GString) out = g_string_new (NULL);
  BwItem *first;

  if (terms == view->design->terms || text[0] == '\0' ||
      !bw_notation_read_round (stitches, text, -1, terms, items, NULL))
    return g_strdup (text);

  first = (BwItem *) (void *) items->data;
  if (!bw_items_bind (stitches, first, items->len, offered, NULL))
    return g_strdup (text);
  bw_notation_print_round (stitches, first, items->len, offered, row, view->design->terms, out);
  return g_strdup (out->str);
}

static char *
part_name (const BwGrading *view,
           const char      *section)
{
  for (int s = 0; s < BW_SECTION_N; s++)
    if (g_str_equal (bw_section_id ((BwSection) s), section))
      return bw_words_part (view, s, G_MAXUINT);

  return g_strdup (section);
}

/* "Rnd 24", "Rnds 12–14"; empty for what has no number. */
static char *
label (gboolean row,
       guint    first,
       guint    n)
{
  if (first == 0)
    return g_strdup ("");
  if (n == 1)
    return row ? g_strdup_printf (_("Row %u"), first) : g_strdup_printf (_("Rnd %u"), first);
  return row ? g_strdup_printf (_("Rows %u–%u"), first, first + n - 1)
             : g_strdup_printf (_("Rnds %u–%u"), first, first + n - 1);
}

/* "Medium, Crown, Rnd 24" */
static char *
place_of (const BwGrading    *view,
          const BwCorrection *correction,
          guint               n)
{
  g_autofree char *part = part_name (view, correction->section);
  g_autofree char *rounds = label (correction->row, correction->number, n);

  return g_strdup_printf ("%s, %s%s%s", correction->size, part, rounds[0] != '\0' ? ", " : "",
                          rounds);
}

static char *
describe (const Side *side)
{
  return g_strdup_printf (_("%s (%u sts)"), side->work, side->stitches);
}

static char *
changed (const BwCorrection *correction,
         const char         *place,
         const Side         *was,
         const Side         *is,
         guint               n)
{
  g_autoptr (GString) out = g_string_new (NULL);
  g_autofree char *new_work = describe (is);
  g_autofree char *old_work = describe (was);

  if (g_str_equal (was->work, is->work) && was->stitches == is->stitches)
    g_string_printf (out, _("%s: work it in %c, not in %c"), place, 'A' + is->colour,
                     'A' + was->colour);
  else if (was->colour != is->colour)
    g_string_printf (out, _("%s: in %c work %s, not in %c %s"), place, 'A' + is->colour, new_work,
                     'A' + was->colour, old_work);
  else
    g_string_printf (out, _("%s: work %s, not %s"), place, new_work, old_work);
  if (correction->old_number != correction->number)
    {
      g_autofree char *old_label = label (correction->row, correction->old_number, n);

      g_string_append_printf (out, _("; it was %s"), old_label);
    }
  g_string_append_c (out, '.');
  return g_strdup (out->str);
}

static char *
sentence (const BwGrading    *view,
          const BwCorrection *correction,
          const Side         *was,
          const Side         *is,
          guint               n)
{
  g_autofree char *place = place_of (view, correction, n);
  g_autofree char *new_work = describe (is);
  g_autofree char *old_work = describe (was);

  switch (correction->kind)
    {
    case BW_CORRECTION_CHANGED:
      return changed (correction, place, was, is, n);
    case BW_CORRECTION_ADDED:
      return g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%s is new: in %c work %s.",
                                           "%s are new: in %c work %s.", n),
                              place, 'A' + is->colour, new_work);
    case BW_CORRECTION_REMOVED:
      return g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%s as it was before is left out: %s.",
                                           "%s as they were before are left out: %s.", n),
                              place, old_work);
    case BW_CORRECTION_SIZE_ADDED:
      return g_strdup_printf (_("%s: this size is new."), correction->size);
    case BW_CORRECTION_SIZE_REMOVED:
    default:
      return g_strdup_printf (_("%s: this size is not in it any more."), correction->size);
    }
}

/* Does the second say of the next round what the first says of one? */
static gboolean
goes_on (const BwCorrection *a,
         const BwCorrection *b)
{
  return a->kind == b->kind && a->kind < BW_CORRECTION_SIZE_ADDED && a->row == b->row &&
         g_str_equal (a->size, b->size) && g_str_equal (a->section, b->section) &&
         g_str_equal (a->was, b->was) && g_str_equal (a->is, b->is) &&
         a->was_stitches == b->was_stitches && a->is_stitches == b->is_stitches &&
         a->was_colour == b->was_colour && a->is_colour == b->is_colour &&
         a->number > 0 && b->number == a->number + 1 &&
         (a->old_number == b->old_number || b->old_number == a->old_number + 1);
}

/**
 * bw_correction_sentences:
 * @corrections: (element-type BwCorrection): what differs
 * @view: the family as it is now, in the terms of who reads
 * @was_terms: terms that the earlier revision is kept in
 * @is_terms: terms that the later one is kept in
 *
 * Says by size and round what to work instead, equal rounds that follow each
 * other in one sentence. What is only written in other terms is no correction.
 *
 * Returns: (transfer full): a sentence each; free with g_strfreev()
 */
char **
bw_correction_sentences (const GPtrArray *corrections,
                         const BwGrading *view,
                         BwTerms          was_terms,
                         BwTerms          is_terms)
{
  GStrvBuilder *lines = g_strv_builder_new ();
  char **strings;
  guint n;

  for (guint i = 0; i < corrections->len; i += n)
    {
      const BwCorrection *one = g_ptr_array_index (corrections, i);
      g_auto (Side) was = { in_terms (view, one->was, was_terms, one->was_offered, one->row),
                            one->was_stitches, one->was_colour };
      g_auto (Side) is = { in_terms (view, one->is, is_terms, one->is_offered, one->row),
                           one->is_stitches, one->is_colour };
      g_autofree char *text = NULL;

      for (n = 1; i + n < corrections->len && goes_on (g_ptr_array_index (corrections, i + n - 1),
                                                       g_ptr_array_index (corrections, i + n));)
        n++;
      if (one->kind == BW_CORRECTION_CHANGED && g_str_equal (was.work, is.work) &&
          was.stitches == is.stitches && was.colour == is.colour)
        continue;
      text = sentence (view, one, &was, &is, n);
      g_strv_builder_add (lines, text);
    }

  strings = g_strv_builder_end (lines);
  g_strv_builder_unref (lines);
  return strings;
}

/* The terms that a revision's rounds are kept in. */
static gboolean
terms_of (BwLibrary        *library,
          gint64            design,
          guint             number,
          const BwGrading  *view,
          BwTerms          *terms,
          GError          **error)
{
  g_autofree char *text = bw_library_get_revision_text (library, design, number, error);
  g_autoptr (BwDesign) then = NULL;

  if (text == NULL)
    return FALSE;
  then = bw_design_from_text (view->reference, text, strlen (text), error);
  if (then == NULL)
    return FALSE;

  *terms = then->terms;
  return TRUE;
}

/**
 * bw_correction_lines:
 * @library: a library
 * @design: a design
 * @from: number of the earlier revision
 * @to: number of the later one
 * @view: the family as it is now, in the terms of who reads
 * @error: return location
 *
 * Returns: (transfer full) (nullable): what a maker who has @from has to work
 *   otherwise, see bw_correction_sentences()
 */
char **
bw_correction_lines (BwLibrary        *library,
                     gint64            design,
                     guint             from,
                     guint             to,
                     const BwGrading  *view,
                     GError          **error)
{
  g_autoptr (GPtrArray) corrections = bw_library_corrections (library, design, from, to, error);
  BwTerms was, is;

  if (corrections == NULL || !terms_of (library, design, from, view, &was, error) ||
      !terms_of (library, design, to, view, &is, error))
    return NULL;

  return bw_correction_sentences (corrections, view, was, is);
}
