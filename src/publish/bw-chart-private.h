#pragma once

#include "bw-chart.h"

G_BEGIN_DECLS

/* Internal to charts. */

#define BW_CHART_PANEL(chart, i)  (&g_array_index ((chart)->panels, BwChartPanel, (i)))
#define BW_CHART_ROW(chart, i)    (&g_array_index ((chart)->rows, BwChartRow, (i)))
#define BW_CHART_STITCH(chart, i) (&g_array_index ((chart)->stitches, BwChartStitch, (i)))
#define BW_CHART_KEY(chart, i)    (&g_array_index ((chart)->key, BwChartKeyEntry, (i)))

/* bw-chart-build.c */
void          bw_chart_build_panel  (BwChart            *chart,
                                     const BwGrading    *grading,
                                     const BwGradedSize *size,
                                     BwChartPanel       *panel,
                                     guint               first_round,
                                     guint               n_rounds);

/* bw-chart-place.c */
double        bw_chart_edge         (const BwChart      *chart,
                                     const BwChartRow   *row,
                                     guint               position);
double        bw_chart_column       (const BwChart      *chart,
                                     const BwChartRow   *row,
                                     guint               position);
double        bw_chart_foot_column  (const BwChart      *chart,
                                     const BwChartPanel *panel,
                                     guint               row,
                                     guint               position,
                                     guint               below);
void          bw_chart_place_rows   (BwChart            *chart,
                                     BwChartPanel       *panel);
gboolean      bw_chart_is_deep      (const BwChart      *chart,
                                     const BwChartStitch *stitch);
BwLoop        bw_chart_loop_shown   (const BwChartRow   *row,
                                     guint8              loop);

/* bw-chart-key.c */
void          bw_chart_build_key    (BwChart            *chart,
                                     const BwGrading    *grading);

/* bw-chart-words.c */
void          bw_chart_name_panel   (BwChart            *chart,
                                     const BwGrading    *grading,
                                     const BwGradedSize *size,
                                     BwChartPanel       *panel);
void          bw_chart_build_notes  (BwChart            *chart,
                                     const BwGrading    *grading);

/* bw-chart-text.c */
typedef enum
{
  BW_CHART_TEXT_LEFT,
  BW_CHART_TEXT_MIDDLE,
  BW_CHART_TEXT_RIGHT,
} BwChartTextAt;

double        bw_chart_text_width   (const BwChartStyle *style,
                                     double              size_mm,
                                     const char         *text);
double        bw_chart_text_height  (const BwChartStyle *style,
                                     double              size_mm,
                                     double              width_mm,
                                     const char         *text);
void          bw_chart_text_draw    (cairo_t            *cr,
                                     const BwChartStyle *style,
                                     double              size_mm,
                                     gboolean            bold,
                                     BwChartTextAt       at,
                                     double              x,
                                     double              y,
                                     double              width_mm,
                                     const char         *text);

G_END_DECLS
