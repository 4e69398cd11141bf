#define G_LOG_DOMAIN "bw-publish"

#include "bw-publish-private.h"

#include "bw-hat-drawing.h"
#include "bw-page-private.h"
#include "bw-tone.h"

/* The sizes side by side, all to the largest scale at which they fit, with a
 * measured line that tells it. */

#define GAP_MM      12.0  /* between hats */
#define DETAIL      0.3   /* of the stitches, where they are not the only picture */
#define LARGE_SHOWN 3     /* in large print: the smallest, the middle, the largest */

typedef struct
{
  BwHatDrawing *drawing;
  PangoLayout  *label;
} Hat;

typedef struct
{
  Hat          hats[BW_DESIGN_SIZES_MAX];
  guint        n;
  guint        columns;
  double       cell_width;   /* pt */
  double       cell_height;  /* of the highest hat, without the label */
  double       label_height;
  double       scale;        /* pt a mm */
  double       bar_mm;
  PangoLayout *bar_label;
  BwHatStyle   style;
} Hats;

static void
hats_free (gpointer data)
{
  Hats *hats = data;

  for (guint i = 0; i < hats->n; i++)
    {
      bw_hat_drawing_free (hats->hats[i].drawing);
      g_object_unref (hats->hats[i].label);
    }
  g_object_unref (hats->bar_label);
  g_free (hats);
}

static void
draw_hat (const Hats *hats,
          const Hat  *hat,
          cairo_t    *cr)
{
  cairo_save (cr);
  cairo_translate (cr, hats->cell_width / 2, hats->cell_height);
  cairo_scale (cr, hats->scale, -hats->scale);
  bw_hat_drawing_draw_side (hat->drawing, cr, &hats->style);
  cairo_restore (cr);

  bw_rgb_source (cr, 0x000000, 1);
  cairo_move_to (cr, 0, hats->cell_height + 3);
  pango_cairo_show_layout (cr, hat->label);
}

/* A line of 10 cm or 4 in at the scale of the hats. */
static void
draw_bar (const Hats *hats,
          cairo_t    *cr,
          double      y)
{
  double length = hats->bar_mm * hats->scale;

  bw_rgb_source (cr, 0x000000, 1);
  cairo_set_line_width (cr, 0.7);
  cairo_move_to (cr, 0.5, y);
  cairo_rel_line_to (cr, 0, 6);
  cairo_rel_move_to (cr, 0, -3);
  cairo_rel_line_to (cr, length, 0);
  cairo_move_to (cr, 0.5 + length, y);
  cairo_rel_line_to (cr, 0, 6);
  cairo_stroke (cr);
  cairo_move_to (cr, length + 8, y - 2);
  pango_cairo_show_layout (cr, hats->bar_label);
}

static double
row_height (const Hats *hats)
{
  return hats->cell_height + hats->label_height + 10;
}

static void
draw_hats (gconstpointer  data,
           cairo_t       *cr)
{
  const Hats *hats = data;
  guint rows = (hats->n + hats->columns - 1) / hats->columns;

  for (guint i = 0; i < hats->n; i++)
    {
      cairo_save (cr);
      cairo_translate (cr, i % hats->columns * hats->cell_width,
                       i / hats->columns * row_height (hats));
      draw_hat (hats, &hats->hats[i], cr);
      cairo_restore (cr);
    }
  draw_bar (hats, cr, rows * row_height (hats) + 2);
}

/* --- Making it --- */

static void
add_hat (Hats         *hats,
         BwPageSetter *setter,
         guint         k)
{
  const BwGradedSize *size = g_ptr_array_index (setter->view->sizes, k);
  Hat *hat = &hats->hats[hats->n++];

  hat->drawing = bw_hat_drawing_new (setter->view, k);
  hat->label = bw_page_flow_layout (setter->flow, bw_words_size_name (size->choice),
                                    setter->flow->style.small,
                                    k % 2 == 1 && setter->n_sizes > 1, -1);
  pango_layout_set_alignment (hat->label, PANGO_ALIGN_CENTER);
}

static void
choose_hats (Hats         *hats,
             BwPageSetter *setter,
             gboolean      portrait)
{
  guint n = setter->n_sizes;

  if (setter->edition->size != BW_EDITION_ALL_SIZES)
    add_hat (hats, setter, (guint) setter->edition->size);
  else if (portrait)
    add_hat (hats, setter, n / 2);
  else if (setter->flow->style.large && n > LARGE_SHOWN)
    for (guint i = 0; i < LARGE_SHOWN; i++)
      add_hat (hats, setter, i * (n - 1) / (LARGE_SHOWN - 1));
  else
    for (guint k = 0; k < n; k++)
      add_hat (hats, setter, k);
}

/* The labels at a width, and how high the highest of them is. */
static double
set_labels (Hats   *hats,
            double  width)
{
  double highest = 0;

  for (guint i = 0; i < hats->n; i++)
    {
      int height;

      pango_layout_set_width (hats->hats[i].label, (int) ((width - 4) * PANGO_SCALE));
      pango_layout_get_size (hats->hats[i].label, NULL, &height);
      highest = MAX (highest, (double) height / PANGO_SCALE);
    }

  return highest;
}

/* As many columns as give the largest hats in a box. */
static void
arrange (Hats   *hats,
         double  width,
         double  height)
{
  double wide = 0, high = 0;

  for (guint i = 0; i < hats->n; i++)
    {
      wide = MAX (wide, bw_hat_drawing_width (hats->hats[i].drawing));
      high = MAX (high, bw_hat_drawing_height (hats->hats[i].drawing));
    }

  hats->scale = 0;
  for (guint columns = 1; columns <= hats->n; columns++)
    {
      guint rows = (hats->n + columns - 1) / columns;
      double label = set_labels (hats, width / columns);
      double scale = MIN (width / columns / (wide + GAP_MM), (height / rows - label - 10) / high);

      /* Fewer rows where that makes next to no difference */
      if (scale > 0.92 * hats->scale)
        {
          hats->columns = columns;
          hats->scale = scale;
        }
    }

  /* A hat is never drawn larger than half its size */
  hats->scale = CLAMP (hats->scale, 0.02, BW_PT_PER_MM / 2);
  hats->columns = MAX (hats->columns, 1);
  hats->cell_width = MIN (width / hats->columns, MAX ((wide + GAP_MM) * hats->scale, 60));
  hats->cell_height = high * hats->scale;
  hats->label_height = set_labels (hats, hats->cell_width);
}

static void
set_bar (Hats         *hats,
         BwPageSetter *setter)
{
  BwPageFlow *flow = setter->flow;
  gboolean metric = setter->view->design->units == BW_UNITS_CM;
  g_autofree char *proportion = bw_units_format_number (BW_PT_PER_MM / hats->scale, 1);
  /* Translators: a measured line stands before it; %s: so many times smaller than the hat */
  g_autofree char *text = g_strdup_printf (metric ? _("10 cm; drawn 1 : %s")
                                                  : _("4 in; drawn 1 : %s"),
                                           proportion);

  hats->bar_mm = metric ? 100 : 4 * BW_MM_PER_INCH;
  hats->bar_label = bw_page_flow_layout (flow, text, flow->style.small, FALSE,
                                         bw_page_style_frame_width (&flow->style) -
                                           hats->bar_mm * hats->scale - 10);
}

/**
 * bw_page_add_hats:
 * @setter: an edition being set
 * @portrait: the one size, or the middle one, with every stitch
 * @height: of the picture, at most; pt
 *
 * Adds a picture of one hat, or of the sizes side by side, to one scale. Only one
 * is drawn with its stitches: those of thirty hats make a file of megabytes.
 */
void
bw_page_add_hats (BwPageSetter *setter,
                  gboolean      portrait,
                  double        height)
{
  BwPageFlow *flow = setter->flow;
  BwPiece *piece = bw_page_flow_add (flow, "Figure", flow->style.text, 0);
  double bar_height = flow->style.small * 2;
  Hats *hats = g_new0 (Hats, 1);

  choose_hats (hats, setter, portrait);
  arrange (hats, bw_page_style_frame_width (&flow->style), height - bar_height);
  hats->style = (BwHatStyle) BW_HAT_STYLE_DEFAULT;
  hats->style.flat = hats->n > 1;
  hats->style.detail = setter->n_sizes > 1 ? DETAIL : 1;
  hats->style.plain = hats->n > 1 || flow->style.low_ink;
  hats->style.hatch = hats->style.bare = flow->style.low_ink;
  hats->style.letters = TRUE;
  hats->style.line_mm = 0.5 / hats->scale;
  set_bar (hats, setter);
  piece->height = (hats->n + hats->columns - 1) / hats->columns * row_height (hats) + bar_height;
  piece->draw = draw_hats;
  piece->data = hats;
  piece->free_data = hats_free;
}
