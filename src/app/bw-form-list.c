#define G_LOG_DOMAIN "bw-app"

#include "bw-app-words.h"

#include "bw-form-list.h"

#include "bw-card.h"
#include "bw-design-ops.h"
#include "bw-field-row.h"
#include "bw-hint.h"
#include "bw-spoken.h"

/* What a design has several of (colours, swatches, sizes, bands): a card for
 * each with its values, and buttons to add, move and take away. Cards are kept
 * for as long as their number stays; their rows follow the document. */

typedef struct
{
  const char *key;
  const char *label;
} BwFormValue;

static const BwFormValue colour_values[] = {
  { "name", N_("Name") }, { "rgb", N_("Colour") }, { NULL, NULL },
};

static const BwFormValue swatch_values[] = {
  { "stitch-pattern", N_("Stitch pattern") },
  { "hook", N_("Hook") },
  { "stitches", N_("Stitches measured") },
  { "rounds", N_("Rounds measured") },
  { "stretch", N_("Usable stretch") },
  { "weight", N_("Weight") },
  { "piece-stitches", N_("Its stitches") },
  { "piece-rounds", N_("Its rounds") },
  { NULL, NULL },
};

static const BwFormValue size_values[] = {
  { "name", N_("Name") },
  { "head", N_("Head girth") },
  { "depth", N_("Hat depth") },
  { "body-ease", N_("Own body ease") },
  { "brim-ease", N_("Own brim ease") },
  { "crown-counts", N_("Own crown counts") },
  { NULL, NULL },
};

static const BwFormValue band_values[] = {
  { "name", N_("Name") },
  { "stitch-pattern", N_("Stitch pattern") },
  { "mode", N_("Depth") },
  { "amount", N_("Rounds or repeats") },
  { "stripe", N_("Stripe") },
  { "swatch", N_("Swatch") },
  { NULL, NULL },
};

static const struct
{
  const char        *name;
  BwGroupId          group;
  const BwFormValue *values;
  const char        *add;       /* on the button */
  const char        *added;     /* names the edits */
  const char        *removed;
  gboolean           open;      /* cards show their values from the start */
} kinds[] = {
  { "colour", BW_GROUP_COLOUR, colour_values, N_("Add a colour"), N_("add a colour"),
    N_("remove a colour"), FALSE },
  { "swatch", BW_GROUP_SWATCH, swatch_values, N_("Add a swatch"), N_("add a swatch"),
    N_("remove a swatch"), FALSE },
  { "size", BW_GROUP_SIZE, size_values, N_("Add a size"), N_("add a size"),
    N_("remove a size"), FALSE },
  { "band", BW_GROUP_BAND, band_values, N_("Add a band"), N_("add a band"),
    N_("remove a band"), TRUE },
};

struct _BwFormList
{
  GtkWidget parent_instance;

  /* Children */
  GtkWidget  *cards;
  GtkWidget  *error;
  GtkWidget  *add;

  /* Owned references */
  BwDocument *document;

  guint       kind;      /* index in kinds */
  guint       n_cards;
};

enum
{
  PROP_GROUP = 1,
  N_PROPS,
};

static GParamSpec *properties[N_PROPS];

G_DEFINE_FINAL_TYPE (BwFormList, bw_form_list, GTK_TYPE_WIDGET)

static guint
place_of (GtkWidget *widget)
{
  return GPOINTER_TO_UINT (g_object_get_data (G_OBJECT (widget), "bw-place"));
}

static void
set_place (GtkWidget *widget,
           guint      place)
{
  g_object_set_data (G_OBJECT (widget), "bw-place", GUINT_TO_POINTER (place));
}

static void
show_error (BwFormList *self,
            const char *message)
{
  gtk_label_set_text (GTK_LABEL (self->error), message == NULL ? "" : message);
  gtk_widget_set_visible (self->error, message != NULL);
}

/* ---- edits ------------------------------------------------------------- */

static void
edit (BwFormList *self,
      BwDesign   *design,
      const char *label)
{
  g_autoptr (GError) error = NULL;

  if (bw_document_edit (self->document, design, label, NULL, &error))
    show_error (self, NULL);
  else
    show_error (self, error->message);
}

static void
add_cb (BwFormList *self)
{
  BwDesign *design;

  if (self->document == NULL)
    return;

  design = bw_design_copy (bw_document_get_design (self->document));
  if (!bw_design_ops_add (bw_document_get_reference (self->document), design,
                          kinds[self->kind].group))
    {
      bw_design_free (design);
      show_error (self, _("There is no room for another."));
      return;
    }

  edit (self, design, _(kinds[self->kind].added));
}

static void
remove_place (BwFormList *self,
              guint       place)
{
  BwDesign *design = bw_design_copy (bw_document_get_design (self->document));

  if (!bw_design_ops_remove (design, kinds[self->kind].group, place))
    {
      bw_design_free (design);
      show_error (self, _("The last one cannot be taken away."));
      return;
    }

  edit (self, design, _(kinds[self->kind].removed));
}

static GtkWidget *
card_at (BwFormList *self,
         guint       place)
{
  GtkWidget *card = gtk_widget_get_first_child (self->cards);

  while (card != NULL && place_of (card) != place)
    card = gtk_widget_get_next_sibling (card);

  return card;
}

static void
move_place (BwFormList *self,
            guint       from,
            guint       to)
{
  BwDesign *design = bw_design_copy (bw_document_get_design (self->document));
  GtkWidget *card;

  if (!bw_design_ops_move (design, kinds[self->kind].group, from, to))
    {
      bw_design_free (design);
      return;
    }

  edit (self, design, _("move a band"));

  /* The hand stays on what was moved */
  card = card_at (self, to);
  if (card != NULL)
    gtk_widget_child_focus (card, GTK_DIR_TAB_FORWARD);
}

static void
remove_cb (GtkWidget  *button,
           BwFormList *self)
{
  remove_place (self, place_of (button));
}

static void
up_cb (GtkWidget  *button,
       BwFormList *self)
{
  if (place_of (button) > 0)
    move_place (self, place_of (button), place_of (button) - 1);
}

static void
down_cb (GtkWidget  *button,
         BwFormList *self)
{
  move_place (self, place_of (button), place_of (button) + 1);
}

static gboolean
key_cb (GtkEventControllerKey *controller,
        guint                  key,
        guint                  code,
        GdkModifierType        state,
        BwFormList            *self)
{
  GtkWidget *card = gtk_event_controller_get_widget (GTK_EVENT_CONTROLLER (controller));
  guint place = place_of (card);

  if ((state & gtk_accelerator_get_default_mod_mask ()) != GDK_ALT_MASK)
    return FALSE;

  if (key == GDK_KEY_Up && place > 0)
    move_place (self, place, place - 1);
  else if (key == GDK_KEY_Down)
    move_place (self, place, place + 1);
  else
    return FALSE;

  return TRUE;
}

/* ---- dragging ---------------------------------------------------------- */

static GdkContentProvider *
prepare_drag_cb (GtkDragSource *source,
                 double         x,
                 double         y,
                 BwFormList    *self)
{
  GtkWidget *card = gtk_event_controller_get_widget (GTK_EVENT_CONTROLLER (source));

  return gdk_content_provider_new_typed (G_TYPE_UINT, place_of (card));
}

static void
drag_begin_cb (GtkDragSource *source,
               GdkDrag       *drag,
               BwFormList    *self)
{
  GtkWidget *card = gtk_event_controller_get_widget (GTK_EVENT_CONTROLLER (source));
  g_autoptr (GdkPaintable) picture = gtk_widget_paintable_new (card);

  gtk_drag_source_set_icon (source, picture, 0, 0);
}

static gboolean
drop_cb (GtkDropTarget *target,
         const GValue  *value,
         double         x,
         double         y,
         BwFormList    *self)
{
  GtkWidget *card = gtk_event_controller_get_widget (GTK_EVENT_CONTROLLER (target));

  move_place (self, g_value_get_uint (value), place_of (card));

  return TRUE;
}

static void
make_draggable (BwFormList *self,
                GtkWidget  *card)
{
  GtkDragSource *source = gtk_drag_source_new ();
  GtkDropTarget *target = gtk_drop_target_new (G_TYPE_UINT, GDK_ACTION_MOVE);
  GtkEventController *keys = gtk_event_controller_key_new ();

  gtk_drag_source_set_actions (source, GDK_ACTION_MOVE);
  g_signal_connect (source, "prepare", G_CALLBACK (prepare_drag_cb), self);
  g_signal_connect (source, "drag-begin", G_CALLBACK (drag_begin_cb), self);
  g_signal_connect (target, "drop", G_CALLBACK (drop_cb), self);
  g_signal_connect (keys, "key-pressed", G_CALLBACK (key_cb), self);
  gtk_event_controller_set_propagation_phase (keys, GTK_PHASE_CAPTURE);
  gtk_widget_add_controller (card, GTK_EVENT_CONTROLLER (source));
  gtk_widget_add_controller (card, GTK_EVENT_CONTROLLER (target));
  gtk_widget_add_controller (card, keys);
}

/* ---- cards ------------------------------------------------------------- */

static void
append_button (BwFormList *self,
               GtkWidget  *card,
               guint       place,
               const char *icon,
               const char *what,
               GCallback   clicked)
{
  GtkWidget *button = gtk_button_new_from_icon_name (icon);

  set_place (button, place);
  gtk_button_set_has_frame (GTK_BUTTON (button), FALSE);
  gtk_widget_set_valign (button, GTK_ALIGN_START);
  bw_hint_set (button, what);
  g_object_set_data_full (G_OBJECT (button), "bw-what", g_strdup (what), g_free);
  g_signal_connect (button, "clicked", clicked, self);
  bw_card_append (BW_CARD (card), button);
}

static GtkWidget *
make_values (BwFormList *self,
             guint       place)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 4);

  for (const BwFormValue *value = kinds[self->kind].values; value->key != NULL; value++)
    {
      g_autofree char *field = g_strdup_printf ("%s/%u:%s", kinds[self->kind].name, place,
                                                value->key);
      GtkWidget *row = bw_field_row_new (field, _(value->label));

      gtk_box_append (GTK_BOX (box), row);
      bw_field_row_set_document (BW_FIELD_ROW (row), self->document);
    }

  return box;
}

/* Values are made when they are first looked at: a design has hundreds. */
static void
expanded_cb (GtkExpander *expander,
             GParamSpec  *pspec,
             BwFormList  *self)
{
  if (gtk_expander_get_expanded (expander) && gtk_expander_get_child (expander) == NULL)
    gtk_expander_set_child (expander, make_values (self, place_of (GTK_WIDGET (expander))));
}

static char *
title_of (BwFormList *self,
          guint       place)
{
  return bw_design_ops_title (bw_document_get_reference (self->document),
                              bw_document_get_design (self->document),
                              kinds[self->kind].group, place);
}

static void
append_card (BwFormList *self,
             guint       place)
{
  gboolean moves = bw_design_ops_can_move (kinds[self->kind].group);
  GtkWidget *card = bw_card_new ();
  GtkWidget *expander = gtk_expander_new (NULL);

  set_place (card, place);
  set_place (expander, place);
  g_signal_connect (expander, "notify::expanded", G_CALLBACK (expanded_cb), self);
  gtk_expander_set_expanded (GTK_EXPANDER (expander), kinds[self->kind].open);
  gtk_widget_set_hexpand (expander, TRUE);
  bw_card_append (BW_CARD (card), expander);
  g_object_set_data (G_OBJECT (card), "bw-expander", expander);

  if (moves)
    {
      append_button (self, card, place, "go-up-symbolic", _("Move down the hat"),
                     G_CALLBACK (up_cb));
      append_button (self, card, place, "go-down-symbolic", _("Move up the hat"),
                     G_CALLBACK (down_cb));
      make_draggable (self, card);
    }
  append_button (self, card, place, "list-remove-symbolic", _("Take away"),
                 G_CALLBACK (remove_cb));
  gtk_box_append (GTK_BOX (self->cards), card);
}

static void
remove_cards (BwFormList *self)
{
  GtkWidget *card;

  while ((card = gtk_widget_get_first_child (self->cards)) != NULL)
    gtk_box_remove (GTK_BOX (self->cards), card);
  self->n_cards = 0;
}

/* Buttons say what they would do to which card. */
static void
name_buttons (GtkWidget  *card,
              const char *title)
{
  for (GtkWidget *child = gtk_widget_get_first_child (card); child != NULL;
       child = gtk_widget_get_next_sibling (child))
    {
      const char *what = g_object_get_data (G_OBJECT (child), "bw-what");
      g_autofree char *name = what == NULL ? NULL : g_strdup_printf ("%s: %s", what, title);

      if (name != NULL)
        bw_spoken_name (child, name);
    }
}

static void
update_titles (BwFormList *self)
{
  for (GtkWidget *card = gtk_widget_get_first_child (self->cards); card != NULL;
       card = gtk_widget_get_next_sibling (card))
    {
      g_autofree char *title = title_of (self, place_of (card));
      GtkExpander *expander = g_object_get_data (G_OBJECT (card), "bw-expander");

      if (g_strcmp0 (gtk_expander_get_label (expander), title) == 0)
        continue;

      gtk_expander_set_label (expander, title);
      bw_spoken_name (card, title);
      bw_spoken_name (GTK_WIDGET (expander), title);
      name_buttons (card, title);
    }
}

static void
update (BwFormList *self)
{
  guint n;

  if (self->document == NULL)
    return;

  n = bw_design_ops_count (bw_document_get_design (self->document), kinds[self->kind].group);
  while (self->n_cards > n)
    gtk_box_remove (GTK_BOX (self->cards), card_at (self, --self->n_cards));
  while (self->n_cards < n)
    append_card (self, self->n_cards++);

  update_titles (self);
}

/* ---- the widget -------------------------------------------------------- */

static void
bw_form_list_dispose (GObject *object)
{
  BwFormList *self = BW_FORM_LIST (object);
  GtkWidget *child;

  bw_form_list_set_document (self, NULL);
  while ((child = gtk_widget_get_first_child (GTK_WIDGET (self))) != NULL)
    gtk_widget_unparent (child);

  G_OBJECT_CLASS (bw_form_list_parent_class)->dispose (object);
}

static void
bw_form_list_set_property (GObject      *object,
                           guint         prop_id,
                           const GValue *value,
                           GParamSpec   *pspec)
{
  BwFormList *self = BW_FORM_LIST (object);

  if (prop_id != PROP_GROUP)
    {
      G_OBJECT_WARN_INVALID_PROPERTY_ID (object, prop_id, pspec);
      return;
    }

  for (self->kind = 0; self->kind < G_N_ELEMENTS (kinds); self->kind++)
    if (g_strcmp0 (kinds[self->kind].name, g_value_get_string (value)) == 0)
      break;
  g_assert (self->kind < G_N_ELEMENTS (kinds));
}

static void
bw_form_list_constructed (GObject *object)
{
  BwFormList *self = BW_FORM_LIST (object);

  G_OBJECT_CLASS (bw_form_list_parent_class)->constructed (object);
  gtk_button_set_label (GTK_BUTTON (self->add), _(kinds[self->kind].add));
}

static void
bw_form_list_class_init (BwFormListClass *klass)
{
  GObjectClass *object_class = G_OBJECT_CLASS (klass);

  object_class->constructed = bw_form_list_constructed;
  object_class->dispose = bw_form_list_dispose;
  object_class->set_property = bw_form_list_set_property;

  properties[PROP_GROUP] =
    g_param_spec_string ("group", NULL, NULL, NULL,
                         G_PARAM_WRITABLE | G_PARAM_CONSTRUCT_ONLY | G_PARAM_STATIC_STRINGS);
  g_object_class_install_properties (object_class, N_PROPS, properties);

  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (klass), GTK_TYPE_BOX_LAYOUT);
}

static void
bw_form_list_init (BwFormList *self)
{
  GtkLayoutManager *layout = gtk_widget_get_layout_manager (GTK_WIDGET (self));

  gtk_orientable_set_orientation (GTK_ORIENTABLE (layout), GTK_ORIENTATION_VERTICAL);
  gtk_box_layout_set_spacing (GTK_BOX_LAYOUT (layout), 6);

  self->cards = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  self->error = gtk_label_new (NULL);
  gtk_label_set_wrap (GTK_LABEL (self->error), TRUE);
  gtk_label_set_xalign (GTK_LABEL (self->error), 0);
  gtk_widget_add_css_class (self->error, "field-error");
  gtk_widget_set_visible (self->error, FALSE);
  self->add = gtk_button_new_with_label ("");
  gtk_widget_set_halign (self->add, GTK_ALIGN_START);
  g_signal_connect_swapped (self->add, "clicked", G_CALLBACK (add_cb), self);

  gtk_widget_set_parent (self->cards, GTK_WIDGET (self));
  gtk_widget_set_parent (self->error, GTK_WIDGET (self));
  gtk_widget_set_parent (self->add, GTK_WIDGET (self));
}

/**
 * bw_form_list_set_document:
 * @self: a list
 * @document: (nullable): the document that it shows and edits
 */
void
bw_form_list_set_document (BwFormList *self,
                           BwDocument *document)
{
  g_return_if_fail (BW_IS_FORM_LIST (self));

  if (self->document == document)
    return;

  remove_cards (self);
  show_error (self, NULL);
  if (self->document != NULL)
    g_signal_handlers_disconnect_by_data (self->document, self);
  g_set_object (&self->document, document);
  if (document == NULL)
    return;

  g_signal_connect_swapped (document, "changed", G_CALLBACK (update), self);
  update (self);
}
