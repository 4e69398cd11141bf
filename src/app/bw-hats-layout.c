#define G_LOG_DOMAIN "bw-app"

#include "bw-hats-layout.h"

#define MARGIN      12.0
#define GAP         10.0
#define SCALE_MOST  2.2   /* pixels a mm: larger than this a hat tells nothing more */
#define LARGE_SHARE 0.52  /* of the width, for the chosen size */

/* The largest drawing decides the scale. */
static void
find_largest (BwHatDrawing *const *drawings,
              guint                n,
              double              *width,
              double              *height)
{
  *width = 1;
  *height = 1;
  for (guint k = 0; k < n; k++)
    {
      *width = MAX (*width, bw_hat_drawing_width (drawings[k]));
      *height = MAX (*height, bw_hat_drawing_height (drawings[k]));
    }
}

/* Scale at which @n hats fit in @rows rows; cells are all as wide as the widest. */
static double
scale_in_rows (const BwHatsLayout *layout,
               guint               n,
               guint               rows,
               double              width_mm,
               double              height_mm)
{
  guint columns = (n + rows - 1) / rows;
  double width = (layout->split - layout->ruler_width - MARGIN) / columns - GAP;
  double height = (layout->height - 2 * MARGIN) / rows - layout->name_height - GAP;

  return MIN (SCALE_MOST, MIN (width / width_mm, height / height_mm));
}

static void
arrange_small (BwHatsLayout        *layout,
               BwHatDrawing *const *drawings,
               guint                n)
{
  double width_mm;
  double height_mm;
  double best = 0;
  double column;
  guint columns;

  find_largest (drawings, n, &width_mm, &height_mm);
  layout->n_rows = 1;
  for (guint rows = 1; rows <= n; rows++)
    {
      double scale = scale_in_rows (layout, n, rows, width_mm, height_mm);

      if (scale > best * 1.02)
        {
          best = scale;
          layout->n_rows = rows;
        }
    }

  columns = (n + layout->n_rows - 1) / layout->n_rows;
  column = (layout->split - layout->ruler_width - MARGIN) / columns;
  layout->row_height = (layout->height - 2 * MARGIN) / layout->n_rows;
  for (guint k = 0; k < n; k++)
    layout->spots[k] = (BwHatSpot) {
      .x = layout->ruler_width + column * (k % columns + 0.5),
      .y = MARGIN + layout->row_height * (k / columns + 1) - layout->name_height,
      .scale = MAX (0.02, best),
    };
}

/* The chosen hat and its crown side by side, to one scale. */
static void
arrange_large (BwHatsLayout       *layout,
               const BwHatDrawing *drawing,
               double              zoom)
{
  double width = layout->width - layout->split - 2 * MARGIN - GAP;
  double height = layout->height - 2 * MARGIN - layout->name_height;
  double hat = MAX (1, bw_hat_drawing_width (drawing));
  double crown = MAX (1, 2 * bw_hat_drawing_crown_radius (drawing));
  double tall = MAX (bw_hat_drawing_height (drawing), crown);
  double scale = MIN (width / (hat + crown), height / tall);

  scale = MAX (0.02, MIN (scale, 2 * SCALE_MOST)) * zoom;
  width += GAP;
  layout->large.scale = scale;
  layout->large.x = layout->split + MARGIN + width * (hat / (hat + crown)) / 2;
  layout->large.y = MARGIN + height / 2 + bw_hat_drawing_height (drawing) * scale / 2;
  layout->crown.scale = scale;
  layout->crown.x = layout->width - MARGIN - width * (crown / (hat + crown)) / 2;
  layout->crown.y = MARGIN + height / 2;
}

/**
 * bw_hats_layout_arrange:
 * @layout: width, height, name_height and ruler_width are read, the rest is set
 * @drawings: a hat for each size
 * @n: how many
 * @chosen: the one that is shown large
 * @zoom: of the large one; 1 = it fits
 */
void
bw_hats_layout_arrange (BwHatsLayout        *layout,
                        BwHatDrawing *const *drawings,
                        guint                n,
                        guint                chosen,
                        double               zoom)
{
  layout->split = layout->width * (1 - LARGE_SHARE);
  if (n == 0)
    return;

  arrange_small (layout, drawings, n);
  arrange_large (layout, drawings[chosen], zoom);
}
