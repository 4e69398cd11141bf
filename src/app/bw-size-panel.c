#define G_LOG_DOMAIN "bw-app"

#include "bw-app-words.h"

#include "bw-size-panel.h"

#include "bw-design-ops.h"
#include "bw-hint.h"
#include "bw-spoken.h"
#include "bw-words.h"

/* One number that a designer may pin, by BwPinKind: a button that shows it and
 * opens what there is to say and do about it. */
typedef struct
{
  GtkWidget *button;
  GtkWidget *value;
  GtkWidget *pin;     /* seen where the number is pinned */
} BwNumber;

struct _BwSizePanel
{
  GtkWidget parent_instance;

  /* Template widgets */
  GtkWidget   *content;
  GtkDropDown *sizes;
  GtkFlowBox  *numbers;
  GtkWidget   *price;
  GtkWidget   *cautions;

  /* Owned references */
  BwDocument  *document;

  BwNumber     number[BW_PIN_N];
  gboolean     updating;
};

G_DEFINE_FINAL_TYPE (BwSizePanel, bw_size_panel, GTK_TYPE_WIDGET)

static const struct
{
  const char *title;
  BwWhy       why;
} numbers[BW_PIN_N] = {
  [BW_PIN_BODY_STITCHES] = { N_("Body stitches"), BW_WHY_BODY },
  [BW_PIN_BRIM_COUNT] = { N_("Brim round"), BW_WHY_BRIM },
  [BW_PIN_BRIM_HEIGHT] = { N_("Brim height"), BW_WHY_BRIM },
  [BW_PIN_CROWN_START] = { N_("Crown start"), BW_WHY_CROWN },
  [BW_PIN_FILL_REPEATS] = { N_("Fill repeats"), BW_WHY_DEPTH },
};

static gboolean
is_sideways (const BwDesign *design)
{
  return design->brim.kind == BW_BRIM_SLIP_RIB || design->brim.kind == BW_BRIM_LOW_RIB;
}

/* The graded number that a pin of the kind would hold. */
static guint
number_of (const BwDesign     *design,
           const BwGradedSize *size,
           BwPinKind           kind)
{
  switch (kind)
    {
    case BW_PIN_BODY_STITCHES:
      return size->body_stitches;
    case BW_PIN_BRIM_COUNT:
      return is_sideways (design) ? size->brim_rows : size->brim_stitches;
    case BW_PIN_BRIM_HEIGHT:
      return is_sideways (design) ? size->brim_stitches : size->brim_rows;
    case BW_PIN_CROWN_START:
      return size->crown_start;
    case BW_PIN_FILL_REPEATS:
    default:
      return size->fill_repeats;
    }
}

static gboolean
has_number (const BwDesign *design,
            BwPinKind       kind)
{
  gboolean brim = kind == BW_PIN_BRIM_COUNT || kind == BW_PIN_BRIM_HEIGHT;
  gboolean fills = FALSE;

  for (guint i = 0; i < design->bands->len; i++)
    fills |= g_array_index (design->bands, BwBand, i).mode == BW_BAND_FILL;

  return (!brim || design->brim.kind != BW_BRIM_NONE) && (kind != BW_PIN_FILL_REPEATS || fills);
}

/* ---- edits ------------------------------------------------------------- */

static void
edit (BwSizePanel *self,
      BwDesign    *design,
      const char  *label)
{
  g_autoptr (GError) error = NULL;

  if (!bw_document_edit (self->document, design, label, NULL, &error))
    gtk_label_set_text (GTK_LABEL (self->price), error->message);
}

static void
pinned_cb (GtkCheckButton *button,
           BwSizePanel    *self)
{
  BwPinKind kind = GPOINTER_TO_UINT (g_object_get_data (G_OBJECT (button), "bw-kind"));
  const BwGradedSize *size;
  const BwDesign *design;
  BwDesign *changed;

  size = bw_document_get_graded_size (self->document);
  if (size == NULL)
    return;

  design = bw_document_get_design (self->document);
  changed = bw_design_copy (design);
  if (gtk_check_button_get_active (button))
    {
      bw_design_ops_pin (changed, size->choice->size->id, kind, number_of (design, size, kind));
      edit (self, changed, _("pin a number"));
    }
  else
    {
      bw_design_ops_unpin (changed, size->choice->size->id, kind);
      edit (self, changed, _("let a number go"));
    }
}

/* Taking another choice pins what makes it different. */
static void
take_alternative_cb (GtkButton   *button,
                     BwSizePanel *self)
{
  guint i = GPOINTER_TO_UINT (g_object_get_data (G_OBJECT (button), "bw-alternative"));
  const BwGradedSize *size = bw_document_get_graded_size (self->document);
  const BwAlternative *best = &g_array_index (size->alternatives, BwAlternative, 0);
  const BwAlternative *other = &g_array_index (size->alternatives, BwAlternative, i);
  const char *id = size->choice->size->id;
  BwDesign *design = bw_design_copy (bw_document_get_design (self->document));
  GtkWidget *popover = gtk_widget_get_ancestor (GTK_WIDGET (button), GTK_TYPE_POPOVER);

  if (other->body_stitches != best->body_stitches)
    bw_design_ops_pin (design, id, BW_PIN_BODY_STITCHES, other->body_stitches);
  if (other->brim_count != best->brim_count)
    bw_design_ops_pin (design, id, BW_PIN_BRIM_COUNT, other->brim_count);
  if (other->crown_start != best->crown_start)
    bw_design_ops_pin (design, id, BW_PIN_CROWN_START, other->crown_start);
  if (other->fill_repeats != best->fill_repeats)
    bw_design_ops_pin (design, id, BW_PIN_FILL_REPEATS, other->fill_repeats);

  gtk_popover_popdown (GTK_POPOVER (popover));
  edit (self, design, _("take another choice"));
}

/* ---- why --------------------------------------------------------------- */

static GtkWidget *
make_text (const char *text)
{
  GtkWidget *label = gtk_label_new (text);

  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_label_set_max_width_chars (GTK_LABEL (label), 56);

  return label;
}

static void
append_alternatives (BwSizePanel        *self,
                     GtkBox             *box,
                     const BwGrading    *grading,
                     const BwGradedSize *size)
{
  guint k = bw_document_get_size (self->document);
  guint n = size->alternatives == NULL ? 0 : size->alternatives->len;

  if (n > 1)
    gtk_box_append (box, make_text (_("The next best choices:")));
  for (guint i = 1; i < n; i++)
    {
      g_autofree char *words = bw_words_alternative (grading, k, i);
      GtkWidget *button = gtk_button_new ();

      gtk_button_set_child (GTK_BUTTON (button), make_text (words));
      gtk_accessible_update_property (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                      words, -1);
      g_object_set_data (G_OBJECT (button), "bw-alternative", GUINT_TO_POINTER (i));
      g_signal_connect (button, "clicked", G_CALLBACK (take_alternative_cb), self);
      gtk_box_append (box, button);
    }
}

static GtkWidget *
make_pin (BwSizePanel        *self,
          const BwGradedSize *size,
          BwPinKind           kind)
{
  const BwDesign *design = bw_document_get_design (self->document);
  GtkWidget *pin = gtk_check_button_new_with_label (_("Pinned: stays whatever else changes"));

  gtk_check_button_set_active (GTK_CHECK_BUTTON (pin),
                               bw_design_find_pin (design, size->choice->size->id, kind) != NULL);
  g_object_set_data (G_OBJECT (pin), "bw-kind", GUINT_TO_POINTER (kind));
  g_signal_connect (pin, "toggled", G_CALLBACK (pinned_cb), self);

  return pin;
}

/* The words are made when they are asked for, not at every keystroke. */
static void
explain_cb (GtkMenuButton *button,
            gpointer       data)
{
  BwSizePanel *self = data;
  BwPinKind kind = GPOINTER_TO_UINT (g_object_get_data (G_OBJECT (button), "bw-kind"));
  const BwGrading *grading = bw_document_get_grading (self->document);
  GtkWidget *popover = gtk_popover_new ();
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  g_autofree char *why = NULL;

  if (grading != NULL)
    {
      const BwGradedSize *size = bw_document_get_graded_size (self->document);

      why = bw_words_why (grading, bw_document_get_size (self->document), numbers[kind].why);
      gtk_box_append (GTK_BOX (box), make_text (why));
      gtk_box_append (GTK_BOX (box), make_pin (self, size, kind));
      append_alternatives (self, GTK_BOX (box), grading, size);
    }
  gtk_popover_set_child (GTK_POPOVER (popover), box);
  gtk_menu_button_set_popover (button, popover);
}

/* ---- showing ----------------------------------------------------------- */

static void
show_number (BwSizePanel        *self,
             const BwDesign     *design,
             const BwGradedSize *size,
             BwPinKind           kind)
{
  BwNumber *number = &self->number[kind];
  const BwPin *pin = bw_design_find_pin (design, size->choice->size->id, kind);
  g_autofree char *value = g_strdup_printf ("%u", number_of (design, size, kind));

  g_autofree char *name = g_strdup_printf (pin == NULL ? _("%s: %s") : _("%s: %s, pinned"),
                                           _(numbers[kind].title), value);

  gtk_widget_set_visible (gtk_widget_get_parent (number->button), has_number (design, kind));
  gtk_label_set_text (GTK_LABEL (number->value), value);
  gtk_widget_set_visible (number->pin, pin != NULL);
  gtk_accessible_update_property (GTK_ACCESSIBLE (number->button), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                  name, -1);
}

static void
show_price (BwSizePanel        *self,
            const BwGradedSize *size)
{
  g_autofree char *number = bw_units_format_number (size->pin_price, 2);
  g_autofree char *text = g_strdup_printf (_("Pins of this size cost %s"), number);

  gtk_label_set_text (GTK_LABEL (self->price), text);
  bw_hint_set (self->price,
                               _("How much worse the whole family fits its targets for the pins, "
                                 "in the measure that choices are compared by"));
  gtk_widget_set_visible (self->price, size->pin_price > 0.005);
}

/* Cautions for the people a size is for are beside the size, not only on a page. */
static void
show_cautions (BwSizePanel     *self,
               const BwGrading *grading)
{
  int k = (int) bw_document_get_size (self->document);
  GString *text = g_string_new (NULL);

  for (guint i = 0; i < grading->findings->len; i++)
    {
      const BwFinding *finding = &g_array_index (grading->findings, BwFinding, i);
      gboolean caution = finding->kind == BW_FINDING_CAUTION_SMALL_PARTS ||
                         finding->kind == BW_FINDING_CAUTION_CORDS ||
                         finding->kind == BW_FINDING_CAUTION_SLEEP;
      g_autoptr (BwWordsFinding) words = NULL;

      if (!caution || (finding->size >= 0 && finding->size != k))
        continue;
      words = bw_words_finding (grading, finding);
      g_string_append_printf (text, "%s%s", text->len > 0 ? " " : "", words->what);
    }
  gtk_label_set_text (GTK_LABEL (self->cautions), text->str);
  gtk_widget_set_visible (self->cautions, text->len > 0);
  g_string_free (text, TRUE);
}

static gboolean
same_names (BwSizePanel     *self,
            const BwGrading *grading)
{
  GListModel *model = gtk_drop_down_get_model (self->sizes);

  if (model == NULL || g_list_model_get_n_items (model) != grading->sizes->len)
    return FALSE;

  for (guint k = 0; k < grading->sizes->len; k++)
    {
      const BwGradedSize *size = grading->sizes->pdata[k];

      if (g_strcmp0 (gtk_string_list_get_string (GTK_STRING_LIST (model), k),
                     bw_words_size_name (size->choice)) != 0)
        return FALSE;
    }

  return TRUE;
}

static void
list_sizes (BwSizePanel     *self,
            const BwGrading *grading)
{
  GtkStringList *names;

  if (same_names (self, grading))
    return;

  names = gtk_string_list_new (NULL);
  for (guint k = 0; k < grading->sizes->len; k++)
    {
      const BwGradedSize *size = grading->sizes->pdata[k];

      gtk_string_list_append (names, bw_words_size_name (size->choice));
    }
  gtk_drop_down_set_model (self->sizes, G_LIST_MODEL (names));
  g_object_unref (names);
}

static void
update (BwSizePanel *self)
{
  const BwGrading *grading = bw_document_get_grading (self->document);
  const BwGradedSize *size = bw_document_get_graded_size (self->document);

  gtk_widget_set_sensitive (self->content, grading != NULL);
  if (grading == NULL)
    return;

  self->updating = TRUE;
  list_sizes (self, grading);
  gtk_drop_down_set_selected (self->sizes, bw_document_get_size (self->document));
  for (guint i = 0; i < BW_PIN_N; i++)
    show_number (self, grading->design, size, i);
  show_price (self, size);
  show_cautions (self, grading);
  self->updating = FALSE;
}

static void
size_chosen_cb (BwSizePanel *self)
{
  if (!self->updating && self->document != NULL)
    bw_document_set_size (self->document, gtk_drop_down_get_selected (self->sizes));
}

/* ---- the widget -------------------------------------------------------- */

static void
make_number (BwSizePanel *self,
             BwPinKind    kind)
{
  BwNumber *number = &self->number[kind];
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 4);
  GtkWidget *title = gtk_label_new (_(numbers[kind].title));

  number->value = gtk_label_new (NULL);
  gtk_widget_add_css_class (number->value, "value");
  number->pin = gtk_image_new_from_icon_name ("view-pin-symbolic");
  gtk_box_append (GTK_BOX (box), title);
  gtk_box_append (GTK_BOX (box), number->value);
  gtk_box_append (GTK_BOX (box), number->pin);

  number->button = gtk_menu_button_new ();
  gtk_widget_add_css_class (number->button, "number");
  gtk_menu_button_set_child (GTK_MENU_BUTTON (number->button), box);
  bw_hint_set (number->button,
                               _("Why this number, the next best choices, and the pin"));
  g_object_set_data (G_OBJECT (number->button), "bw-kind", GUINT_TO_POINTER (kind));
  gtk_menu_button_set_create_popup_func (GTK_MENU_BUTTON (number->button), explain_cb, self, NULL);
  gtk_flow_box_append (self->numbers, number->button);
  gtk_widget_set_focusable (gtk_widget_get_parent (number->button), FALSE);
}

static void
bw_size_panel_dispose (GObject *object)
{
  BwSizePanel *self = BW_SIZE_PANEL (object);

  bw_size_panel_set_document (self, NULL);
  g_clear_pointer (&self->content, gtk_widget_unparent);

  G_OBJECT_CLASS (bw_size_panel_parent_class)->dispose (object);
}

static void
bw_size_panel_class_init (BwSizePanelClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = bw_size_panel_dispose;
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_template_from_resource (widget_class,
                                               "/org/brimwright/Brimwright/bw-size-panel.ui");
  gtk_widget_class_bind_template_child (widget_class, BwSizePanel, content);
  gtk_widget_class_bind_template_child (widget_class, BwSizePanel, sizes);
  gtk_widget_class_bind_template_child (widget_class, BwSizePanel, numbers);
  gtk_widget_class_bind_template_child (widget_class, BwSizePanel, price);
  gtk_widget_class_bind_template_child (widget_class, BwSizePanel, cautions);
}

static void
bw_size_panel_init (BwSizePanel *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  bw_hint_set (GTK_WIDGET (self->sizes), _("The size that is shown large and in the table"));
  bw_spoken_choice (self->sizes, _("Size"));
  for (guint i = 0; i < BW_PIN_N; i++)
    make_number (self, i);
  g_signal_connect_swapped (self->sizes, "notify::selected", G_CALLBACK (size_chosen_cb), self);
}

/**
 * bw_size_panel_set_document:
 * @self: a panel
 * @document: (nullable): the document whose chosen size it shows
 */
void
bw_size_panel_set_document (BwSizePanel *self,
                            BwDocument  *document)
{
  g_return_if_fail (BW_IS_SIZE_PANEL (self));

  if (self->document != NULL)
    g_signal_handlers_disconnect_by_data (self->document, self);
  g_set_object (&self->document, document);
  if (document == NULL)
    return;

  g_signal_connect_swapped (document, "changed", G_CALLBACK (update), self);
  g_signal_connect_swapped (document, "selected", G_CALLBACK (update), self);
  update (self);
}
