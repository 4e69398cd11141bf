#define G_LOG_DOMAIN "bw-app"

#include "bw-report-page.h"

struct _BwReportPage
{
  GtkWidget parent_instance;

  /* Children */
  GtkWidget  *scroller;

  /* Owned references */
  BwDocument *document;

  guint       report;  /* BwReport */
  gboolean    old;     /* what is shown is not of the present grading */
};

enum
{
  PROP_REPORT = 1,
  N_PROPS,
};

static GParamSpec *properties[N_PROPS];

G_DEFINE_FINAL_TYPE (BwReportPage, bw_report_page, GTK_TYPE_WIDGET)

static void
fill (BwReportPage *self)
{
  GtkAdjustment *adjustment =
    gtk_scrolled_window_get_vadjustment (GTK_SCROLLED_WINDOW (self->scroller));
  double scrolled = gtk_adjustment_get_value (adjustment);
  GtkWidget *content;

  if (self->report == BW_REPORT_PATTERN)
    content = bw_report_pattern (self->document);
  else if (self->report == BW_REPORT_FINDINGS)
    content = bw_report_findings (self->document);
  else
    content = bw_report_yarn (self->document);

  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (self->scroller), content);
  gtk_adjustment_set_value (adjustment, scrolled);
  self->old = FALSE;
}

static void
update (BwReportPage *self)
{
  self->old = TRUE;
  if (self->document != NULL && gtk_widget_get_mapped (GTK_WIDGET (self)))
    fill (self);
}

static void
bw_report_page_map (GtkWidget *widget)
{
  BwReportPage *self = BW_REPORT_PAGE (widget);

  if (self->old && self->document != NULL)
    fill (self);

  GTK_WIDGET_CLASS (bw_report_page_parent_class)->map (widget);
}

static void
bw_report_page_dispose (GObject *object)
{
  BwReportPage *self = BW_REPORT_PAGE (object);

  bw_report_page_set_document (self, NULL);
  g_clear_pointer (&self->scroller, gtk_widget_unparent);

  G_OBJECT_CLASS (bw_report_page_parent_class)->dispose (object);
}

static void
bw_report_page_set_property (GObject      *object,
                             guint         prop_id,
                             const GValue *value,
                             GParamSpec   *pspec)
{
  if (prop_id == PROP_REPORT)
    BW_REPORT_PAGE (object)->report = g_value_get_uint (value);
  else
    G_OBJECT_WARN_INVALID_PROPERTY_ID (object, prop_id, pspec);
}

static void
bw_report_page_class_init (BwReportPageClass *klass)
{
  GObjectClass *object_class = G_OBJECT_CLASS (klass);

  object_class->dispose = bw_report_page_dispose;
  object_class->set_property = bw_report_page_set_property;
  GTK_WIDGET_CLASS (klass)->map = bw_report_page_map;
  properties[PROP_REPORT] =
    g_param_spec_uint ("report", NULL, NULL, 0, BW_REPORT_YARN, 0,
                       G_PARAM_WRITABLE | G_PARAM_CONSTRUCT_ONLY | G_PARAM_STATIC_STRINGS);
  g_object_class_install_properties (object_class, N_PROPS, properties);
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (klass), GTK_TYPE_BIN_LAYOUT);
}

static void
bw_report_page_init (BwReportPage *self)
{
  self->scroller = gtk_scrolled_window_new ();
  gtk_widget_set_vexpand (self->scroller, TRUE);
  gtk_widget_set_parent (self->scroller, GTK_WIDGET (self));
}

/**
 * bw_report_page_set_document:
 * @self: a page
 * @document: (nullable): the document that it reports on
 */
void
bw_report_page_set_document (BwReportPage *self,
                             BwDocument   *document)
{
  g_return_if_fail (BW_IS_REPORT_PAGE (self));

  if (self->document != NULL)
    g_signal_handlers_disconnect_by_data (self->document, self);
  g_set_object (&self->document, document);
  if (document == NULL)
    return;

  g_signal_connect_swapped (document, "changed", G_CALLBACK (update), self);
  update (self);
}
