#define G_LOG_DOMAIN "bw-app"

#include "bw-plot.h"

#include <math.h>

#include "bw-units.h"

#define POINT_RADIUS 3.5

struct _BwPlot
{
  GtkWidget parent_instance;

  GArray *points;   /* of BwPlotPoint */
  GArray *band;     /* of BwPlotBand, ascending x */
  char   *title;
  char   *x_title;
  char   *y_title;
};

/* From values to pixels. */
typedef struct
{
  double x_min;
  double x_max;
  double y_min;
  double y_max;
  double left;
  double top;
  double width;
  double height;
} BwPlotFrame;

G_DEFINE_FINAL_TYPE (BwPlot, bw_plot, GTK_TYPE_WIDGET)

static double
to_x (const BwPlotFrame *frame,
      double             x)
{
  return frame->left + (x - frame->x_min) / (frame->x_max - frame->x_min) * frame->width;
}

static double
to_y (const BwPlotFrame *frame,
      double             y)
{
  return frame->top + (frame->y_max - y) / (frame->y_max - frame->y_min) * frame->height;
}

static void
include (BwPlotFrame *frame,
         double       x,
         double       y)
{
  frame->x_min = MIN (frame->x_min, x);
  frame->x_max = MAX (frame->x_max, x);
  frame->y_min = MIN (frame->y_min, y);
  frame->y_max = MAX (frame->y_max, y);
}

/* A little air round what is shown, and something to divide by where all is equal. */
static void
widen (double *low,
       double *high,
       double  least)
{
  double air = MAX ((*high - *low) * 0.08, least);

  *low -= air;
  *high += air;
}

static void
find_frame (BwPlot      *self,
            BwPlotFrame *frame)
{
  *frame = (BwPlotFrame) { .x_min = INFINITY, .x_max = -INFINITY, .y_min = INFINITY,
                           .y_max = -INFINITY };

  for (guint i = 0; i < self->points->len; i++)
    {
      const BwPlotPoint *point = &g_array_index (self->points, BwPlotPoint, i);

      include (frame, point->x, point->y);
    }
  for (guint i = 0; i < self->band->len; i++)
    {
      const BwPlotBand *band = &g_array_index (self->band, BwPlotBand, i);

      include (frame, band->x, band->low);
      include (frame, band->x, band->high);
    }
  widen (&frame->x_min, &frame->x_max, 0.05);
  widen (&frame->y_min, &frame->y_max, 0.01);
}

/* ---- painting ---------------------------------------------------------- */

static void
write_text (GtkWidget   *widget,
            GtkSnapshot *snapshot,
            const char  *text,
            double       x,
            double       y,
            double       align)
{
  PangoLayout *layout = gtk_widget_create_pango_layout (widget, text);
  GdkRGBA rgba;
  int width;

  pango_layout_get_pixel_size (layout, &width, NULL);
  gtk_style_context_get_color (gtk_widget_get_style_context (widget), &rgba);
  gtk_snapshot_save (snapshot);
  gtk_snapshot_translate (snapshot,
                          &GRAPHENE_POINT_INIT ((float) (x - align * width), (float) y));
  gtk_snapshot_append_layout (snapshot, layout, &rgba);
  gtk_snapshot_restore (snapshot);
  g_object_unref (layout);
}

static void
draw_band (BwPlot            *self,
           cairo_t           *cr,
           const BwPlotFrame *frame,
           const GdkRGBA     *ink)
{
  if (self->band->len < 2)
    return;

  for (guint i = 0; i < self->band->len; i++)
    {
      const BwPlotBand *band = &g_array_index (self->band, BwPlotBand, i);

      cairo_line_to (cr, to_x (frame, band->x), to_y (frame, band->high));
    }
  for (guint i = self->band->len; i > 0; i--)
    {
      const BwPlotBand *band = &g_array_index (self->band, BwPlotBand, i - 1);

      cairo_line_to (cr, to_x (frame, band->x), to_y (frame, band->low));
    }
  cairo_close_path (cr);
  cairo_set_source_rgba (cr, ink->red, ink->green, ink->blue, 0.14);
  cairo_fill (cr);

  for (guint i = 0; i < self->band->len; i++)
    {
      const BwPlotBand *band = &g_array_index (self->band, BwPlotBand, i);

      cairo_line_to (cr, to_x (frame, band->x), to_y (frame, band->y));
    }
  cairo_set_source_rgba (cr, ink->red, ink->green, ink->blue, 0.8);
  cairo_set_line_width (cr, 1.5);
  cairo_stroke (cr);
}

static void
draw_points (BwPlot            *self,
             cairo_t           *cr,
             const BwPlotFrame *frame,
             const GdkRGBA     *ink)
{
  cairo_set_source_rgba (cr, ink->red, ink->green, ink->blue, 0.9);
  for (guint i = 0; i < self->points->len; i++)
    {
      const BwPlotPoint *point = &g_array_index (self->points, BwPlotPoint, i);

      cairo_arc (cr, to_x (frame, point->x), to_y (frame, point->y), POINT_RADIUS, 0, 2 * G_PI);
      cairo_fill (cr);
    }
}

static void
draw_scales (BwPlot            *self,
             GtkSnapshot       *snapshot,
             const BwPlotFrame *frame,
             double             line)
{
  GtkWidget *widget = GTK_WIDGET (self);
  g_autofree char *low = bw_units_format_number (frame->y_min, 2);
  g_autofree char *high = bw_units_format_number (frame->y_max, 2);
  g_autofree char *first = bw_units_format_number (frame->x_min, 1);
  g_autofree char *last = bw_units_format_number (frame->x_max, 1);
  double bottom = frame->top + frame->height;

  write_text (widget, snapshot, self->title, frame->left, 0, 0);
  write_text (widget, snapshot, high, frame->left - 6, frame->top, 1);
  write_text (widget, snapshot, low, frame->left - 6, bottom - line, 1);
  write_text (widget, snapshot, first, frame->left, bottom + 2, 0);
  write_text (widget, snapshot, last, frame->left + frame->width, bottom + 2, 1);
  write_text (widget, snapshot, self->x_title, frame->left + frame->width / 2, bottom + 2, 0.5);
}

static void
bw_plot_snapshot (GtkWidget   *widget,
                  GtkSnapshot *snapshot)
{
  BwPlot *self = BW_PLOT (widget);
  PangoLayout *layout;
  BwPlotFrame frame;
  GdkRGBA ink;
  cairo_t *cr;
  int column;
  int line;

  if (self->points->len == 0)
    return;

  layout = gtk_widget_create_pango_layout (widget, "00.00");
  pango_layout_get_pixel_size (layout, &column, &line);
  g_object_unref (layout);
  find_frame (self, &frame);
  frame.left = column + 8;
  frame.top = line + 4;
  frame.width = MAX (10, gtk_widget_get_width (widget) - frame.left - 8);
  frame.height = MAX (10, gtk_widget_get_height (widget) - frame.top - line - 6);

  gtk_style_context_get_color (gtk_widget_get_style_context (widget), &ink);
  cr = gtk_snapshot_append_cairo (snapshot,
                                  &GRAPHENE_RECT_INIT (0, 0, (float) gtk_widget_get_width (widget),
                                                       (float) gtk_widget_get_height (widget)));
  cairo_set_source_rgba (cr, ink.red, ink.green, ink.blue, 0.3);
  cairo_set_line_width (cr, 1);
  cairo_rectangle (cr, frame.left + 0.5, frame.top + 0.5, frame.width, frame.height);
  cairo_stroke (cr);
  draw_band (self, cr, &frame, &ink);
  draw_points (self, cr, &frame, &ink);
  cairo_destroy (cr);
  draw_scales (self, snapshot, &frame, line);
}

/* ---- the widget -------------------------------------------------------- */

static void
bw_plot_measure (GtkWidget      *widget,
                 GtkOrientation  orientation,
                 int             for_size,
                 int            *minimum,
                 int            *natural,
                 int            *minimum_baseline,
                 int            *natural_baseline)
{
  *minimum = orientation == GTK_ORIENTATION_HORIZONTAL ? 200 : 150;
  *natural = orientation == GTK_ORIENTATION_HORIZONTAL ? 320 : 190;
  *minimum_baseline = -1;
  *natural_baseline = -1;
}

static void
bw_plot_finalize (GObject *object)
{
  BwPlot *self = BW_PLOT (object);

  g_array_unref (self->points);
  g_array_unref (self->band);
  g_free (self->title);
  g_free (self->x_title);
  g_free (self->y_title);

  G_OBJECT_CLASS (bw_plot_parent_class)->finalize (object);
}

static void
bw_plot_class_init (BwPlotClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->finalize = bw_plot_finalize;
  widget_class->snapshot = bw_plot_snapshot;
  widget_class->measure = bw_plot_measure;
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_IMG);
}

static void
bw_plot_init (BwPlot *self)
{
  self->points = g_array_new (FALSE, FALSE, sizeof (BwPlotPoint));
  self->band = g_array_new (FALSE, FALSE, sizeof (BwPlotBand));
}

GtkWidget *
bw_plot_new (void)
{
  return g_object_new (BW_TYPE_PLOT, NULL);
}

/**
 * bw_plot_show:
 * @self: a plot
 * @title: what it shows; its name for a screen reader
 * @x_title: what runs along
 * @y_title: what runs upwards; said in the description
 * @points: what was measured
 * @n_points: how many
 * @band: (nullable): a line and how sure it is, ascending x
 * @n_band: how many points of it
 *
 * A plot without points is not seen.
 */
void
bw_plot_show (BwPlot            *self,
              const char        *title,
              const char        *x_title,
              const char        *y_title,
              const BwPlotPoint *points,
              guint              n_points,
              const BwPlotBand  *band,
              guint              n_band)
{
  g_autofree char *description = g_strdup_printf ("%s, %s", y_title, x_title);

  g_return_if_fail (BW_IS_PLOT (self));

  g_array_set_size (self->points, 0);
  g_array_set_size (self->band, 0);
  if (n_points > 0)
    g_array_append_vals (self->points, points, n_points);
  if (n_band > 0)
    g_array_append_vals (self->band, band, n_band);
  g_free (self->title);
  g_free (self->x_title);
  g_free (self->y_title);
  self->title = g_strdup (title);
  self->x_title = g_strdup (x_title);
  self->y_title = g_strdup (y_title);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, title,
                                  GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, description, -1);
  gtk_widget_set_visible (GTK_WIDGET (self), n_points > 0);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}
