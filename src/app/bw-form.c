#define G_LOG_DOMAIN "bw-app"

#include "bw-form.h"

#include "bw-form-list.h"
#include "bw-later.h"

/* The form: sections full of rows and lists, all of which follow one document.
 * The template holds the first section, which fills a window; the others are
 * made once the window has been painted, one at a time. */

struct _BwForm
{
  GtkWidget parent_instance;

  /* Template widgets */
  GtkWidget *scroller;
  GtkWidget *sections;

  /* Owned references */
  BwDocument *document;

  guint       n_made;   /* of later_sections */
};

static const char *const later_sections[] = {
  "sizes", "brim", "bands", "crown", "finishing", "choice",
};

G_DEFINE_FINAL_TYPE (BwForm, bw_form, GTK_TYPE_WIDGET)

static void
hand_document (GtkWidget  *widget,
               BwDocument *document)
{
  if (BW_IS_FIELD_ROW (widget))
    {
      bw_field_row_set_document (BW_FIELD_ROW (widget), document);
      return;
    }
  if (BW_IS_FORM_LIST (widget))
    {
      bw_form_list_set_document (BW_FORM_LIST (widget), document);
      return;
    }
  if (GTK_IS_EXPANDER (widget))
    hand_document (gtk_expander_get_child (GTK_EXPANDER (widget)), document);

  for (GtkWidget *child = gtk_widget_get_first_child (widget); child != NULL;
       child = gtk_widget_get_next_sibling (child))
    hand_document (child, document);
}

static BwFieldRow *
find_row (GtkWidget  *widget,
          const char *field)
{
  BwFieldRow *found = NULL;

  /* A card that was never opened has no values yet */
  if (widget == NULL)
    return NULL;
  if (BW_IS_FIELD_ROW (widget) &&
      g_str_equal (bw_field_row_get_field (BW_FIELD_ROW (widget)), field))
    return BW_FIELD_ROW (widget);
  if (GTK_IS_EXPANDER (widget))
    return find_row (gtk_expander_get_child (GTK_EXPANDER (widget)), field);

  for (GtkWidget *child = gtk_widget_get_first_child (widget); child != NULL && found == NULL;
       child = gtk_widget_get_next_sibling (child))
    found = find_row (child, field);

  return found;
}

/* ---- sections ---------------------------------------------------------- */

static void
make_section (BwForm     *self,
              const char *name)
{
  g_autofree char *path = g_strdup_printf ("/org/brimwright/Brimwright/bw-form-%s.ui", name);
  g_autoptr (GtkBuilder) builder = gtk_builder_new_from_resource (path);
  GtkWidget *section = GTK_WIDGET (gtk_builder_get_object (builder, "section"));

  gtk_box_append (GTK_BOX (self->sections), section);
  if (self->document != NULL)
    hand_document (section, self->document);
}

static gboolean
make_next (GtkWidget *widget)
{
  BwForm *self = BW_FORM (widget);

  if (self->n_made < G_N_ELEMENTS (later_sections))
    make_section (self, later_sections[self->n_made++]);

  return self->n_made < G_N_ELEMENTS (later_sections);
}

/* ---- the widget -------------------------------------------------------- */

static void
bw_form_dispose (GObject *object)
{
  BwForm *self = BW_FORM (object);

  if (self->sections != NULL)
    hand_document (self->sections, NULL);
  g_clear_object (&self->document);
  g_clear_pointer (&self->scroller, gtk_widget_unparent);
  self->sections = NULL;

  G_OBJECT_CLASS (bw_form_parent_class)->dispose (object);
}

static void
bw_form_class_init (BwFormClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = bw_form_dispose;
  g_type_ensure (BW_TYPE_FIELD_ROW);
  g_type_ensure (BW_TYPE_FORM_LIST);
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_template_from_resource (widget_class,
                                               "/org/brimwright/Brimwright/bw-form.ui");
  gtk_widget_class_bind_template_child (widget_class, BwForm, scroller);
  gtk_widget_class_bind_template_child (widget_class, BwForm, sections);
}

static void
bw_form_init (BwForm *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  bw_later_add (GTK_WIDGET (self), make_next);
}

/**
 * bw_form_set_document:
 * @self: a form
 * @document: (nullable): the document that it shows and edits
 */
void
bw_form_set_document (BwForm     *self,
                      BwDocument *document)
{
  g_return_if_fail (BW_IS_FORM (self));

  g_set_object (&self->document, document);
  hand_document (self->sections, document);
}

/**
 * bw_form_find_row:
 * @self: a form
 * @field: a value, as bw_field_place_parse() has it
 *
 * Returns: (transfer none) (nullable): its row
 */
BwFieldRow *
bw_form_find_row (BwForm     *self,
                  const char *field)
{
  g_return_val_if_fail (BW_IS_FORM (self), NULL);

  while (make_next (GTK_WIDGET (self)))
    ;

  return find_row (self->sections, field);
}
