#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* Measured points, and a line with the band that it is sure to. */
#define BW_TYPE_PLOT (bw_plot_get_type ())
G_DECLARE_FINAL_TYPE (BwPlot, bw_plot, BW, PLOT, GtkWidget)

typedef struct
{
  double x;
  double y;
} BwPlotPoint;

typedef struct
{
  double x;
  double low;
  double y;
  double high;
} BwPlotBand;

GtkWidget *bw_plot_new  (void);
void       bw_plot_show (BwPlot            *self,
                         const char        *title,
                         const char        *x_title,
                         const char        *y_title,
                         const BwPlotPoint *points,
                         guint              n_points,
                         const BwPlotBand  *band,
                         guint              n_band);

G_END_DECLS
