#define G_LOG_DOMAIN "bw-publish"

#include "bw-publish-private.h"

#include "bw-hat-drawing.h"
#include "bw-html-private.h"
#include "bw-html.h"

#define MARGIN_MM     2.0
#define LARGEST_EM    10.0 /* width of the largest hat of a family */
#define COVER_SCALE   0.5  /* less than 1: fewer strokes for each stitch */

typedef struct
{
  const BwHatDrawing *drawing;
  BwHatStyle          style;
  gboolean            above;
  double              scale;
  double              width, height; /* with margins, after scaling */
} Picture;

/* --- In words --- */

/* "A (Tar) and C (Foam)": colours of the rounds [first, end), in the order of work. */
static char *
list_colours (const BwGrading   *grading,
              const BwRoundList *list,
              guint              first,
              guint              end)
{
  GString *out = g_string_new (NULL);
  gboolean said[BW_STRIPE_COLOURS_MAX] = { FALSE };

  for (guint i = first; i < end; i++)
    {
      guint colour = g_array_index (list->rounds, BwRound, i).colour;
      g_autofree char *name = bw_words_colour (grading->design, colour);

      if (said[colour])
        continue;
      said[colour] = TRUE;
      g_string_append (out, out->len > 0 ? ", " : "");
      g_string_append (out, name);
    }

  return g_string_free (out, FALSE);
}

/* "Brim in A (Tar)", for each part of the hat */
static void
append_parts (GString           *out,
              const BwGrading   *grading,
              const BwRoundList *list)
{
  for (guint i = 0; i < list->rounds->len;)
    {
      const BwRound *round = &g_array_index (list->rounds, BwRound, i);
      g_autofree char *part = bw_words_part (grading, round->section, round->band);
      g_autofree char *colours = NULL;
      guint end = i + 1;

      for (; end < list->rounds->len; end++)
        {
          const BwRound *next = &g_array_index (list->rounds, BwRound, end);

          if (next->section != round->section || next->band != round->band)
            break;
        }
      colours = list_colours (grading, list, i, end);
      if (round->section != BW_SECTION_JOIN && round->section != BW_SECTION_CLOSE)
        {
          /* Translators: a part of the hat and its colours */
          g_autofree char *text = g_strdup_printf (_("; %s in %s"), part, colours);

          g_string_append (out, text);
        }
      i = end;
    }
}

/**
 * bw_hat_in_words:
 * @grading: a grading
 * @k: index of a size
 * @above: seen from above, not from the side
 *
 * Returns: (transfer full): what the drawing of a hat shows, for who does not see it
 */
char *
bw_hat_in_words (const BwGrading *grading,
                 guint            k,
                 gboolean         above)
{
  const BwGradedSize *size = g_ptr_array_index (grading->sizes, k);
  const BwFinishing *finishing = &grading->design->finishing;
  g_autofree char *girth = bw_words_length (grading->design, size->girth_mm);
  g_autofree char *depth = bw_words_length (grading->design, size->depth_mm);
  const char *name = bw_words_size_name (size->choice);
  g_autoptr (GString) out = g_string_new (NULL);

  if (above)
    {
      g_string_printf (out, _("%s seen from above: a crown of %u wedges"), name, size->wedges);
      return g_strdup (out->str);
    }

  g_string_printf (out, _("%s seen from the side: %s round, %s deep"), name, girth, depth);
  append_parts (out, grading, size->rounds);
  if (finishing->pompom_mm > 0)
    {
      g_autofree char *colour = bw_words_colour (grading->design, finishing->pompom_colour);

      g_string_append_printf (out, _("; a pom-pom in %s"), colour);
    }

  return g_strdup (out->str);
}

/* --- Drawn --- */

static void
draw_cb (cairo_t  *cr,
         gpointer  data)
{
  const Picture *picture = data;

  cairo_scale (cr, picture->scale, picture->scale);
  if (picture->above)
    {
      cairo_translate (cr, picture->width / picture->scale / 2,
                       picture->height / picture->scale / 2);
      cairo_scale (cr, 1, -1);
      bw_hat_drawing_draw_crown (picture->drawing, cr, &picture->style);
      return;
    }

  cairo_translate (cr, picture->width / picture->scale / 2,
                   picture->height / picture->scale - MARGIN_MM);
  cairo_scale (cr, 1, -1);
  bw_hat_drawing_draw_side (picture->drawing, cr, &picture->style);
}

static void
append_picture (GString            *out,
                const BwGrading    *grading,
                const BwHatDrawing *drawing,
                guint               k,
                gboolean            above,
                gboolean            cover)
{
  Picture picture = { drawing, BW_HAT_STYLE_DEFAULT, above, cover ? COVER_SCALE : 1, 0, 0 };
  g_autofree char *words = bw_hat_in_words (grading, k, above);
  g_autofree char *id = g_strdup_printf ("%s%u%s", cover ? "cover" : "hat", k, above ? "a" : "");
  double width = above ? 2 * bw_hat_drawing_crown_radius (drawing) : bw_hat_drawing_width (drawing);
  double height = above ? width : bw_hat_drawing_height (drawing);

  picture.style.plain = !cover;
  picture.style.letters = TRUE;
  picture.width = (width + 2 * MARGIN_MM) * picture.scale;
  picture.height = (height + 2 * MARGIN_MM) * picture.scale;
  bw_html_picture (out, id, words, picture.width, picture.height, draw_cb, &picture);
}

/**
 * bw_html_cover:
 * @out: where it goes
 * @grading: a family in the edition's terms
 * @edition: the edition
 *
 * Appends the hat in detail, from the side and from above: of the edition's
 * size, or else of the middle one.
 */
void
bw_html_cover (GString         *out,
               const BwGrading *grading,
               const BwEdition *edition)
{
  guint k = edition->size >= 0 ? (guint) edition->size : grading->sizes->len / 2;
  const BwGradedSize *size = g_ptr_array_index (grading->sizes, k);
  g_autoptr (BwHatDrawing) drawing = bw_hat_drawing_new (grading, k);

  g_string_append (out, "<figure class=\"cover\">\n");
  append_picture (out, grading, drawing, k, FALSE, TRUE);
  append_picture (out, grading, drawing, k, TRUE, TRUE);
  g_string_append (out, "<figcaption><bdi>");
  bw_html_escape (out, bw_words_size_name (size->choice));
  g_string_append (out, "</bdi>, ");
  bw_html_escape (out, _("from the side and from above"));
  g_string_append (out, "</figcaption>\n</figure>\n");
}

/**
 * bw_html_hats:
 * @out: where it goes
 * @grading: a family in the edition's terms, of which all sizes are written
 *
 * Appends every size from the side, to one scale.
 */
void
bw_html_hats (GString         *out,
              const BwGrading *grading)
{
  g_autoptr (GPtrArray) drawings =
    g_ptr_array_new_with_free_func ((GDestroyNotify) bw_hat_drawing_free);
  double widest = 0;

  for (guint k = 0; k < grading->sizes->len; k++)
    {
      g_ptr_array_add (drawings, bw_hat_drawing_new (grading, k));
      widest = MAX (widest, bw_hat_drawing_width (g_ptr_array_index (drawings, k)));
    }

  g_string_append (out, "<div class=\"hats\">\n");
  for (guint k = 0; k < grading->sizes->len; k++)
    {
      const BwHatDrawing *drawing = g_ptr_array_index (drawings, k);
      const BwGradedSize *size = g_ptr_array_index (grading->sizes, k);
      double part = (bw_hat_drawing_width (drawing) + 2 * MARGIN_MM) / (widest + 2 * MARGIN_MM);
      g_autofree char *em = bw_units_format_number (LARGEST_EM * part, 2);

      g_string_append (out, "<figure");
      bw_html_classes (out, "", 1u << k, grading->sizes->len);
      g_string_append_printf (out, " style=\"width:%sem\">\n", em);
      append_picture (out, grading, drawing, k, FALSE, FALSE);
      g_string_append (out, "<figcaption dir=\"auto\">");
      bw_html_escape (out, bw_words_size_name (size->choice));
      g_string_append (out, "</figcaption>\n</figure>\n");
    }
  g_string_append (out, "</div>\n");
}
