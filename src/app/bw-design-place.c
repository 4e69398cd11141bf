#define G_LOG_DOMAIN "bw-app"

#include "bw-app-words.h"

#include "bw-design-place.h"

#include "bw-report-page.h"
#include "bw-size-panel.h"

/* Narrower than so many heights of a letter, form and work take turns. */
#define FOLD_BELOW_EM 52

struct _BwDesignPlace
{
  GtkWidget parent_instance;

  /* Template widgets */
  GtkWidget       *content;
  GtkWidget       *sides;
  GtkToggleButton *show_form;
  GtkToggleButton *show_work;
  GtkPaned        *paned;
  BwForm          *form;
  GtkWidget       *work;
  GtkWidget       *stale;
  BwSizePanel     *panel;
  BwHats          *hats;
  GtkStack        *pages;
  BwRoundTable    *table;
  BwReportPage    *pattern;
  BwReportPage    *findings;
  BwReportPage    *yarn;

  /* Owned references */
  BwDocument      *document;

  gboolean         folded;
  guint            fold_source;
};

G_DEFINE_FINAL_TYPE (BwDesignPlace, bw_design_place, GTK_TYPE_WIDGET)

/* ---- folding ----------------------------------------------------------- */

static void
show_sides (BwDesignPlace *self)
{
  gboolean form = gtk_toggle_button_get_active (self->show_form);

  gtk_widget_set_visible (self->sides, self->folded);
  gtk_widget_set_visible (GTK_WIDGET (self->form), !self->folded || form);
  gtk_widget_set_visible (self->work, !self->folded || !form);
}

static gboolean
fold_cb (gpointer data)
{
  BwDesignPlace *self = data;

  self->fold_source = 0;
  show_sides (self);

  return G_SOURCE_REMOVE;
}

static double
em_of (GtkWidget *widget)
{
  PangoContext *context = gtk_widget_get_pango_context (widget);
  const PangoFontDescription *font = pango_context_get_font_description (context);
  double size = (double) pango_font_description_get_size (font) / PANGO_SCALE;

  if (!pango_font_description_get_size_is_absolute (font))
    size *= pango_cairo_context_get_resolution (context) / 72;

  return size > 0 ? size : 15;
}

static void
bw_design_place_size_allocate (GtkWidget *widget,
                               int        width,
                               int        height,
                               int        baseline)
{
  BwDesignPlace *self = BW_DESIGN_PLACE (widget);
  gboolean folded = width < FOLD_BELOW_EM * em_of (widget);
  int least;

  gtk_widget_measure (self->content, GTK_ORIENTATION_HORIZONTAL, -1, &least, NULL, NULL, NULL);
  gtk_widget_allocate (self->content, MAX (width, least), height, baseline, NULL);

  /* What is seen cannot change while sizes are being given out */
  if (folded != self->folded)
    {
      self->folded = folded;
      if (self->fold_source == 0)
        self->fold_source = g_idle_add_full (GDK_PRIORITY_REDRAW - 20, fold_cb, self, NULL);
    }
}

/* The place needs no more room than the wider of its sides, as it can fold. */
static void
bw_design_place_measure (GtkWidget      *widget,
                         GtkOrientation  orientation,
                         int             for_size,
                         int            *minimum,
                         int            *natural,
                         int            *minimum_baseline,
                         int            *natural_baseline)
{
  BwDesignPlace *self = BW_DESIGN_PLACE (widget);
  int form;
  int work;

  gtk_widget_measure (self->content, orientation, -1, minimum, natural, NULL, NULL);
  *minimum_baseline = -1;
  *natural_baseline = -1;
  if (orientation == GTK_ORIENTATION_VERTICAL)
    return;

  gtk_widget_measure (GTK_WIDGET (self->form), orientation, -1, &form, NULL, NULL, NULL);
  gtk_widget_measure (self->work, orientation, -1, &work, NULL, NULL, NULL);
  *minimum = MIN (*minimum, MAX (form, work));
}

/* ---- following the document -------------------------------------------- */

static void
show_state (BwDesignPlace *self)
{
  const BwGrading *latest = bw_document_get_latest (self->document);
  const char *text = NULL;

  if (latest == NULL)
    text = _("The design contradicts itself; this is its last good grading.");
  else if (latest->refused)
    text = _("This family cannot be graded, the findings say why; this is the last good grading.");
  else if (bw_document_get_n_faults (self->document) > 0)
    text = _("Something in the form cannot be read; this is the last good grading.");

  gtk_label_set_text (GTK_LABEL (self->stale), text == NULL ? "" : text);
  gtk_widget_set_visible (self->stale, text != NULL);
}

static void
state_cb (BwDesignPlace *self)
{
  show_state (self);
}

/* ---- the widget -------------------------------------------------------- */

static void
bw_design_place_dispose (GObject *object)
{
  BwDesignPlace *self = BW_DESIGN_PLACE (object);

  g_clear_handle_id (&self->fold_source, g_source_remove);
  if (self->content != NULL)
    bw_design_place_set_document (self, NULL, NULL);
  g_clear_pointer (&self->content, gtk_widget_unparent);

  G_OBJECT_CLASS (bw_design_place_parent_class)->dispose (object);
}

static void
bind_children (GtkWidgetClass *widget_class)
{
  gtk_widget_class_bind_template_child (widget_class, BwDesignPlace, content);
  gtk_widget_class_bind_template_child (widget_class, BwDesignPlace, sides);
  gtk_widget_class_bind_template_child (widget_class, BwDesignPlace, show_form);
  gtk_widget_class_bind_template_child (widget_class, BwDesignPlace, show_work);
  gtk_widget_class_bind_template_child (widget_class, BwDesignPlace, paned);
  gtk_widget_class_bind_template_child (widget_class, BwDesignPlace, form);
  gtk_widget_class_bind_template_child (widget_class, BwDesignPlace, work);
  gtk_widget_class_bind_template_child (widget_class, BwDesignPlace, stale);
  gtk_widget_class_bind_template_child (widget_class, BwDesignPlace, panel);
  gtk_widget_class_bind_template_child (widget_class, BwDesignPlace, hats);
  gtk_widget_class_bind_template_child (widget_class, BwDesignPlace, pages);
  gtk_widget_class_bind_template_child (widget_class, BwDesignPlace, table);
  gtk_widget_class_bind_template_child (widget_class, BwDesignPlace, pattern);
  gtk_widget_class_bind_template_child (widget_class, BwDesignPlace, findings);
  gtk_widget_class_bind_template_child (widget_class, BwDesignPlace, yarn);
}

static void
bw_design_place_class_init (BwDesignPlaceClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = bw_design_place_dispose;
  widget_class->measure = bw_design_place_measure;
  widget_class->size_allocate = bw_design_place_size_allocate;
  g_type_ensure (BW_TYPE_FORM);
  g_type_ensure (BW_TYPE_HATS);
  g_type_ensure (BW_TYPE_SIZE_PANEL);
  g_type_ensure (BW_TYPE_ROUND_TABLE);
  g_type_ensure (BW_TYPE_REPORT_PAGE);
  gtk_widget_class_set_template_from_resource (widget_class,
                                               "/org/brimwright/Brimwright/bw-design-place.ui");
  bind_children (widget_class);
}

static void
bw_design_place_init (BwDesignPlace *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  gtk_widget_set_overflow (GTK_WIDGET (self), GTK_OVERFLOW_HIDDEN);
  g_signal_connect_swapped (self->show_form, "toggled", G_CALLBACK (show_sides), self);
}

static void
hand_document (BwDesignPlace *self,
               BwDocument    *document,
               GSettings     *settings)
{
  bw_form_set_document (self->form, document);
  bw_size_panel_set_document (self->panel, document);
  bw_hats_set_document (self->hats, document);
  bw_round_table_set_document (self->table, document, settings);
  bw_report_page_set_document (self->pattern, document);
  bw_report_page_set_document (self->findings, document);
  bw_report_page_set_document (self->yarn, document);
}

/**
 * bw_design_place_set_document:
 * @self: the place
 * @document: (nullable): the document that is worked on
 * @settings: (nullable): preferences
 */
void
bw_design_place_set_document (BwDesignPlace *self,
                              BwDocument    *document,
                              GSettings     *settings)
{
  g_return_if_fail (BW_IS_DESIGN_PLACE (self));

  if (self->document != NULL)
    g_signal_handlers_disconnect_by_data (self->document, self);
  hand_document (self, document, settings);
  g_set_object (&self->document, document);
  if (document == NULL)
    return;

  if (settings != NULL)
    g_settings_bind (settings, "form-width", self->paned, "position", G_SETTINGS_BIND_DEFAULT);
  g_signal_connect_swapped (document, "changed", G_CALLBACK (state_cb), self);
  g_signal_connect_swapped (document, "state", G_CALLBACK (state_cb), self);
  show_state (self);
}

/**
 * bw_design_place_show_page:
 * @self: the place
 * @name: "rounds", "pattern", "findings" or "yarn"
 */
void
bw_design_place_show_page (BwDesignPlace *self,
                           const char    *name)
{
  g_return_if_fail (BW_IS_DESIGN_PLACE (self));

  gtk_toggle_button_set_active (self->show_work, TRUE);
  gtk_stack_set_visible_child_name (self->pages, name);
}

gboolean
bw_design_place_is_folded (BwDesignPlace *self)
{
  return self->folded;
}

BwForm *
bw_design_place_get_form (BwDesignPlace *self)
{
  return self->form;
}

BwHats *
bw_design_place_get_hats (BwDesignPlace *self)
{
  return self->hats;
}

BwRoundTable *
bw_design_place_get_table (BwDesignPlace *self)
{
  return self->table;
}
