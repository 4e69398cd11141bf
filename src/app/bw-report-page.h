#pragma once

#include <gtk/gtk.h>

#include "bw-document.h"

G_BEGIN_DECLS

/* A page that tells something about the grading: made anew when the grading
 * changes, but only while it can be seen. */

typedef enum
{
  BW_REPORT_PATTERN,
  BW_REPORT_FINDINGS,
  BW_REPORT_YARN,
} BwReport;

#define BW_TYPE_REPORT_PAGE (bw_report_page_get_type ())
G_DECLARE_FINAL_TYPE (BwReportPage, bw_report_page, BW, REPORT_PAGE, GtkWidget)

void       bw_report_page_set_document (BwReportPage *self,
                                        BwDocument   *document);

/* What the pages are filled with. */
GtkWidget *bw_report_pattern           (BwDocument   *document);
GtkWidget *bw_report_findings          (BwDocument   *document);
GtkWidget *bw_report_yarn              (BwDocument   *document);

G_END_DECLS
