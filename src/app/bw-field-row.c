#define G_LOG_DOMAIN "bw-app"

#include "bw-app-words.h"

#include "bw-field-row.h"

#include "bw-field-choices.h"
#include "bw-hint.h"
#include "bw-words.h"
#include "bw-spoken.h"

/* One line of the form: a value's label, its control, and beneath it what is
 * wrong with what was typed. What stands in an entry is never thrown away: it
 * is put in order only when it could be read and the person has moved on. */

struct _BwFieldRow
{
  GtkWidget parent_instance;

  /* Children */
  GtkWidget      *label;
  GtkWidget      *control;
  GtkWidget      *error;

  /* Owned references */
  BwDocument     *document;
  char           *field;
  char           *text;       /* of the label */
  BwFieldChoices  choices;    /* values is NULL where the value is typed */

  BwFieldPlace    place;
  gboolean        updating;   /* we are changing the control, not the person */
};

enum
{
  PROP_FIELD = 1,
  PROP_LABEL,
  PROP_HINT,
  N_PROPS,
};

static GParamSpec *properties[N_PROPS];

G_DEFINE_FINAL_TYPE (BwFieldRow, bw_field_row, GTK_TYPE_WIDGET)

static void
show_error (BwFieldRow *self,
            const char *message)
{
  gtk_label_set_text (GTK_LABEL (self->error), message == NULL ? "" : message);
  gtk_widget_set_visible (self->error, message != NULL);
  gtk_accessible_update_state (GTK_ACCESSIBLE (self->control), GTK_ACCESSIBLE_STATE_INVALID,
                               message == NULL ? GTK_ACCESSIBLE_INVALID_FALSE
                                               : GTK_ACCESSIBLE_INVALID_TRUE, -1);
  if (message == NULL)
    gtk_widget_remove_css_class (self->control, "error");
  else
    gtk_widget_add_css_class (self->control, "error");

  if (self->document != NULL)
    bw_document_set_fault (self->document, self->field, message != NULL);
}

/* What could not be read is told by what would do; what cannot be graded by the core's reason. */
static char *
error_words (BwFieldRow   *self,
             const GError *error)
{
  g_autofree char *expected = NULL;

  if (!g_error_matches (error, BW_ERROR, BW_ERROR_SYNTAX) &&
      !g_error_matches (error, BW_ERROR, BW_ERROR_RANGE))
    return g_strdup (error->message);

  expected = bw_field_place_expect (&self->place, bw_document_get_reference (self->document),
                                    bw_document_get_design (self->document));

  /* Translators: %s is what may be typed, for example "a length from 5 mm to 40 cm" */
  return g_strdup_printf (_("Type %s."), expected);
}

static gboolean
is_there (BwFieldRow *self)
{
  return self->document != NULL &&
         bw_field_place_base (&self->place, bw_document_get_design (self->document)) != NULL;
}

static void
apply (BwFieldRow *self,
       const char *text)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *message = NULL;

  if (!is_there (self))
    return;

  self->updating = TRUE;
  if (!bw_document_type (self->document, self->field, self->text, text, &error))
    message = error_words (self, error);
  self->updating = FALSE;
  show_error (self, message);
}

/* ---- entries ----------------------------------------------------------- */

static void
show_printed (BwFieldRow *self)
{
  g_autofree char *printed = NULL;

  printed = bw_field_place_print (&self->place, bw_document_get_reference (self->document),
                                  bw_document_get_design (self->document));
  if (g_str_equal (printed, gtk_editable_get_text (GTK_EDITABLE (self->control))))
    return;

  self->updating = TRUE;
  gtk_editable_set_text (GTK_EDITABLE (self->control), printed);
  self->updating = FALSE;
}

/* A length is said in the other unit too, whatever was typed. */
static char *
other_unit (BwFieldRow *self)
{
  BwDesign design;
  double mm;

  if (!is_there (self) || self->place.field->kind != BW_FIELD_LENGTH)
    return NULL;

  design = *bw_document_get_design (self->document);
  if (!bw_units_parse_length (gtk_editable_get_text (GTK_EDITABLE (self->control)), design.units,
                              design.mm_per_inch, &mm, NULL))
    return NULL;

  /* Borrowed, and only for its units */
  design.units = design.units == BW_UNITS_INCH ? BW_UNITS_CM : BW_UNITS_INCH;

  return bw_words_length (&design, mm);
}

static gboolean
entry_tooltip_cb (GtkWidget  *entry,
                  int         x,
                  int         y,
                  gboolean    keyboard,
                  GtkTooltip *tooltip,
                  BwFieldRow *self)
{
  const char *hint = bw_hint_get (GTK_WIDGET (self));
  g_autofree char *other = other_unit (self);
  g_autofree char *text = NULL;

  if (other == NULL)
    return FALSE;

  text = hint == NULL ? g_strdup (other) : g_strdup_printf ("%s\n%s", other, hint);
  gtk_tooltip_set_text (tooltip, text);

  return TRUE;
}

/* Does the entry already say what the design says, in whatever words? */
static gboolean
says_the_same (BwFieldRow *self)
{
  const BwDesign *design = bw_document_get_design (self->document);
  const BwReference *reference = bw_document_get_reference (self->document);
  g_autoptr (BwDesign) copy = bw_design_copy (design);

  return bw_field_place_read (&self->place, reference, copy,
                              gtk_editable_get_text (GTK_EDITABLE (self->control)), NULL) &&
         bw_design_equal (copy, design);
}

static gboolean
has_focus (BwFieldRow *self)
{
  return gtk_widget_get_state_flags (self->control) & GTK_STATE_FLAG_FOCUS_WITHIN;
}

static void
update_entry (BwFieldRow *self)
{
  if (says_the_same (self))
    {
      show_error (self, NULL);
      if (!has_focus (self))
        show_printed (self);
      return;
    }

  /* A fault of this entry stays until it is mended; anything else was changed elsewhere */
  if (bw_field_row_get_error (self) != NULL)
    return;

  show_printed (self);
}

static void
entry_changed_cb (GtkEditable *editable,
                  BwFieldRow  *self)
{
  if (!self->updating)
    apply (self, gtk_editable_get_text (editable));
}

static void
entry_left_cb (GtkEventControllerFocus *controller,
               BwFieldRow              *self)
{
  if (is_there (self) && bw_field_row_get_error (self) == NULL)
    show_printed (self);
}

static GtkWidget *
make_entry (BwFieldRow *self)
{
  GtkWidget *entry = gtk_entry_new ();
  GtkEventController *focus = gtk_event_controller_focus_new ();

  gtk_editable_set_width_chars (GTK_EDITABLE (entry), 8);
  /* Figures and units read from the left in every script */
  if (self->place.field->kind != BW_FIELD_LINE && self->place.field->kind != BW_FIELD_PROSE)
    gtk_widget_set_direction (GTK_WIDGET (gtk_editable_get_delegate (GTK_EDITABLE (entry))),
                              GTK_TEXT_DIR_LTR);
  g_signal_connect (entry, "changed", G_CALLBACK (entry_changed_cb), self);
  if (self->place.field->kind == BW_FIELD_LENGTH)
    {
      gtk_widget_set_has_tooltip (entry, TRUE);
      g_signal_connect (entry, "query-tooltip", G_CALLBACK (entry_tooltip_cb), self);
    }
  g_signal_connect (focus, "leave", G_CALLBACK (entry_left_cb), self);
  gtk_widget_add_controller (entry, focus);

  return entry;
}

/* ---- switches ---------------------------------------------------------- */

static void
switched_cb (GtkCheckButton *button,
             GParamSpec     *pspec,
             BwFieldRow     *self)
{
  if (!self->updating)
    apply (self, gtk_check_button_get_active (button) ? "yes" : "no");
}

static GtkWidget *
make_switch (BwFieldRow *self)
{
  GtkWidget *button = gtk_check_button_new ();

  gtk_widget_set_halign (button, GTK_ALIGN_START);
  g_signal_connect (button, "notify::active", G_CALLBACK (switched_cb), self);

  return button;
}

static void
update_switch (BwFieldRow *self)
{
  g_autofree char *printed = NULL;

  printed = bw_field_place_print (&self->place, bw_document_get_reference (self->document),
                                  bw_document_get_design (self->document));
  gtk_check_button_set_active (GTK_CHECK_BUTTON (self->control), g_str_equal (printed, "yes"));
}

/* ---- colours ----------------------------------------------------------- */

static void
colour_set_cb (GtkColorButton *button,
               BwFieldRow     *self)
{
  g_autofree char *text = NULL;
  GdkRGBA rgba;

  gtk_color_chooser_get_rgba (GTK_COLOR_CHOOSER (button), &rgba);
  text = g_strdup_printf ("#%02X%02X%02X", (guint) (rgba.red * 255 + 0.5),
                          (guint) (rgba.green * 255 + 0.5), (guint) (rgba.blue * 255 + 0.5));
  apply (self, text);
}

static GtkWidget *
make_colour (BwFieldRow *self)
{
  GtkWidget *button = gtk_color_button_new ();

  gtk_color_button_set_title (GTK_COLOR_BUTTON (button), self->text);
  gtk_widget_set_halign (button, GTK_ALIGN_START);
  g_signal_connect (button, "color-set", G_CALLBACK (colour_set_cb), self);

  return button;
}

static void
update_colour (BwFieldRow *self)
{
  g_autofree char *printed = NULL;
  GdkRGBA rgba;

  printed = bw_field_place_print (&self->place, bw_document_get_reference (self->document),
                                  bw_document_get_design (self->document));
  if (gdk_rgba_parse (&rgba, printed))
    gtk_color_chooser_set_rgba (GTK_COLOR_CHOOSER (self->control), &rgba);
}

/* ---- lists ------------------------------------------------------------- */

static void
chosen_cb (GtkDropDown *list,
           GParamSpec  *pspec,
           BwFieldRow  *self)
{
  guint i = gtk_drop_down_get_selected (list);

  if (!self->updating && self->choices.values != NULL && i < self->choices.values->len)
    apply (self, self->choices.values->pdata[i]);
}

static GtkWidget *
make_list (BwFieldRow *self)
{
  GtkWidget *list = gtk_drop_down_new (NULL, NULL);

  g_signal_connect (list, "notify::selected", G_CALLBACK (chosen_cb), self);

  return list;
}

static void
offer_choices (BwFieldRow *self)
{
  g_auto (BwFieldChoices) choices = { NULL, NULL };
  GtkStringList *strings;

  bw_field_choices_fill (&choices, &self->place, bw_document_get_reference (self->document),
                         bw_document_get_design (self->document));
  if (bw_field_choices_equal (&choices, &self->choices))
    return;

  bw_field_choices_clear (&self->choices);
  self->choices = choices;
  choices = (BwFieldChoices) { NULL, NULL };

  strings = gtk_string_list_new (NULL);
  for (guint i = 0; i < self->choices.labels->len; i++)
    gtk_string_list_append (strings, self->choices.labels->pdata[i]);
  gtk_drop_down_set_model (GTK_DROP_DOWN (self->control), G_LIST_MODEL (strings));
  g_object_unref (strings);
}

static void
update_list (BwFieldRow *self)
{
  g_autofree char *printed = NULL;
  guint i;

  offer_choices (self);
  printed = bw_field_place_print (&self->place, bw_document_get_reference (self->document),
                                  bw_document_get_design (self->document));
  if (!g_ptr_array_find_with_equal_func (self->choices.values, printed, g_str_equal, &i))
    i = GTK_INVALID_LIST_POSITION;
  gtk_drop_down_set_selected (GTK_DROP_DOWN (self->control), i);
}

/* ---- the row ----------------------------------------------------------- */

static gboolean
is_chosen (const BwFieldPlace *place)
{
  return place->field->kind == BW_FIELD_WORD || place->field->kind == BW_FIELD_LETTER ||
         place->field->kind == BW_FIELD_ID;
}

static void
update (BwFieldRow *self)
{
  if (self->updating || !is_there (self))
    return;

  if (GTK_IS_ENTRY (self->control))
    {
      update_entry (self);
      return;
    }

  self->updating = TRUE;
  if (GTK_IS_DROP_DOWN (self->control))
    update_list (self);
  else if (GTK_IS_CHECK_BUTTON (self->control))
    update_switch (self);
  else
    update_colour (self);
  self->updating = FALSE;
  show_error (self, NULL);
}

static void
document_changed_cb (BwFieldRow *self)
{
  update (self);
}

static void
make_control (BwFieldRow *self)
{
  if (is_chosen (&self->place))
    self->control = make_list (self);
  else if (self->place.field->kind == BW_FIELD_SWITCH)
    self->control = make_switch (self);
  else if (self->place.field->kind == BW_FIELD_RGB)
    self->control = make_colour (self);
  else
    self->control = make_entry (self);

  gtk_widget_set_hexpand (self->control, TRUE);
  gtk_widget_set_valign (self->control, GTK_ALIGN_CENTER);
  if (GTK_IS_DROP_DOWN (self->control))
    bw_spoken_choice (GTK_DROP_DOWN (self->control), self->text);
}

static GtkWidget *
make_label (const char *text)
{
  GtkWidget *label = gtk_label_new (text);

  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_label_set_width_chars (GTK_LABEL (label), 8);
  gtk_widget_set_hexpand (label, TRUE);

  return label;
}

static void
bw_field_row_constructed (GObject *object)
{
  BwFieldRow *self = BW_FIELD_ROW (object);
  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);

  G_OBJECT_CLASS (bw_field_row_parent_class)->constructed (object);

  if (!bw_field_place_parse (self->field, &self->place))
    g_error ("no value of a design is called %s", self->field);

  self->label = make_label (self->text);
  make_control (self);
  gtk_label_set_mnemonic_widget (GTK_LABEL (self->label), self->control);
  gtk_box_set_homogeneous (GTK_BOX (line), TRUE);
  gtk_box_append (GTK_BOX (line), self->label);
  gtk_box_append (GTK_BOX (line), self->control);

  self->error = make_label (NULL);
  gtk_widget_add_css_class (self->error, "field-error");
  gtk_widget_set_visible (self->error, FALSE);

  gtk_widget_set_parent (line, GTK_WIDGET (self));
  gtk_widget_set_parent (self->error, GTK_WIDGET (self));
}

static void
bw_field_row_dispose (GObject *object)
{
  BwFieldRow *self = BW_FIELD_ROW (object);
  GtkWidget *child;

  bw_field_row_set_document (self, NULL);
  while ((child = gtk_widget_get_first_child (GTK_WIDGET (self))) != NULL)
    gtk_widget_unparent (child);

  G_OBJECT_CLASS (bw_field_row_parent_class)->dispose (object);
}

static void
bw_field_row_finalize (GObject *object)
{
  BwFieldRow *self = BW_FIELD_ROW (object);

  g_free (self->field);
  g_free (self->text);
  bw_field_choices_clear (&self->choices);

  G_OBJECT_CLASS (bw_field_row_parent_class)->finalize (object);
}

static void
bw_field_row_set_property (GObject      *object,
                           guint         prop_id,
                           const GValue *value,
                           GParamSpec   *pspec)
{
  BwFieldRow *self = BW_FIELD_ROW (object);

  switch (prop_id)
    {
    case PROP_FIELD:
      self->field = g_value_dup_string (value);
      break;

    case PROP_LABEL:
      self->text = g_value_dup_string (value);
      break;

    case PROP_HINT:
      bw_hint_set (GTK_WIDGET (self), g_value_get_string (value));
      break;

    default:
      G_OBJECT_WARN_INVALID_PROPERTY_ID (object, prop_id, pspec);
    }
}

static void
bw_field_row_class_init (BwFieldRowClass *klass)
{
  GObjectClass *object_class = G_OBJECT_CLASS (klass);
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);
  const GParamFlags flags = G_PARAM_WRITABLE | G_PARAM_CONSTRUCT_ONLY | G_PARAM_STATIC_STRINGS;

  object_class->constructed = bw_field_row_constructed;
  object_class->dispose = bw_field_row_dispose;
  object_class->finalize = bw_field_row_finalize;
  object_class->set_property = bw_field_row_set_property;

  properties[PROP_FIELD] = g_param_spec_string ("field", NULL, NULL, NULL, flags);
  properties[PROP_LABEL] = g_param_spec_string ("label", NULL, NULL, "", flags);
  properties[PROP_HINT] = g_param_spec_string ("hint", NULL, NULL, NULL,
                                               G_PARAM_WRITABLE | G_PARAM_STATIC_STRINGS);
  g_object_class_install_properties (object_class, N_PROPS, properties);

  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BOX_LAYOUT);
  gtk_widget_class_set_css_name (widget_class, "fieldrow");
}

static void
bw_field_row_init (BwFieldRow *self)
{
  gtk_orientable_set_orientation (
    GTK_ORIENTABLE (gtk_widget_get_layout_manager (GTK_WIDGET (self))), GTK_ORIENTATION_VERTICAL);
}

/**
 * bw_field_row_new:
 * @field: a value, as bw_field_place_parse() has it
 * @label: what it is called
 *
 * Returns: (transfer floating): a row of the form
 */
GtkWidget *
bw_field_row_new (const char *field,
                  const char *label)
{
  return g_object_new (BW_TYPE_FIELD_ROW, "field", field, "label", label, NULL);
}

/**
 * bw_field_row_set_document:
 * @self: a row
 * @document: (nullable): the document that it shows and edits
 */
void
bw_field_row_set_document (BwFieldRow *self,
                           BwDocument *document)
{
  g_return_if_fail (BW_IS_FIELD_ROW (self));

  if (self->document == document)
    return;

  if (self->document != NULL)
    {
      bw_document_set_fault (self->document, self->field, FALSE);
      g_signal_handlers_disconnect_by_data (self->document, self);
    }
  g_set_object (&self->document, document);
  if (document == NULL)
    return;

  g_signal_connect_swapped (document, "changed", G_CALLBACK (document_changed_cb), self);
  show_error (self, NULL);
  if (GTK_IS_ENTRY (self->control) && is_there (self))
    show_printed (self);
  update (self);
}

const char *
bw_field_row_get_field (BwFieldRow *self)
{
  return self->field;
}

/**
 * bw_field_row_get_error:
 * @self: a row
 *
 * Returns: (transfer none) (nullable): what is wrong with what was typed
 */
const char *
bw_field_row_get_error (BwFieldRow *self)
{
  return gtk_widget_get_visible (self->error) ? gtk_label_get_text (GTK_LABEL (self->error))
                                              : NULL;
}

/**
 * bw_field_row_get_other_unit:
 * @self: a row
 *
 * Returns: (transfer full) (nullable): the length that its entry says, in the unit
 *   that the design does not use
 */
char *
bw_field_row_get_other_unit (BwFieldRow *self)
{
  g_return_val_if_fail (BW_IS_FIELD_ROW (self), NULL);

  return other_unit (self);
}

GtkWidget *
bw_field_row_get_control (BwFieldRow *self)
{
  return self->control;
}
