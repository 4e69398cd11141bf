#define G_LOG_DOMAIN "bw-app"

#include "bw-app-words.h"

#include "bw-library-side.h"

#include "bw-hint.h"
#include "bw-later.h"
#include "bw-library-design.h"
#include "bw-shelf.h"

/* The list of designs, of any number: a window's fill of them is there at once,
 * the others follow when nothing else is to be done. All rows are of one height,
 * as lists of GTK 4.8 lose their place otherwise. */

struct _BwLibrarySide
{
  GtkWidget parent_instance;

  /* Template widgets */
  GtkWidget       *content;
  GtkSearchEntry  *search;
  GtkCheckButton  *bin;
  GtkListView     *view;
  GtkLabel        *hint;
  GtkWidget       *tags;
  GtkButton       *move;

  /* Borrowed references */
  const BwReference *reference;
  BwLibrary         *library;

  /* Owned references */
  BwShelf            *shelf;      /* NULL where there is no library */
  GtkSingleSelection *selection;
  BwDocument         *document;   /* that is open */
};

enum
{
  SIGNAL_CHOSEN,
  N_SIGNALS,
};

static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (BwLibrarySide, bw_library_side, GTK_TYPE_WIDGET)

/* ---- rows -------------------------------------------------------------- */

static void
show_picture_cb (BwShelfItem *item,
                 GParamSpec  *pspec,
                 GtkImage    *picture)
{
  gtk_image_set_from_paintable (picture, bw_shelf_item_get_picture (item));
}

static void
set_up_cb (GtkSignalListItemFactory *factory,
           GtkListItem              *item,
           gpointer                  data)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8);
  GtkWidget *picture = gtk_image_new ();
  GtkWidget *name = gtk_label_new (NULL);

  gtk_image_set_pixel_size (GTK_IMAGE (picture), BW_SHELF_PICTURE);
  gtk_label_set_xalign (GTK_LABEL (name), 0);
  gtk_label_set_ellipsize (GTK_LABEL (name), PANGO_ELLIPSIZE_END);
  gtk_label_set_single_line_mode (GTK_LABEL (name), TRUE);
  gtk_label_set_width_chars (GTK_LABEL (name), 12);
  gtk_widget_set_hexpand (name, TRUE);
  gtk_box_append (GTK_BOX (box), picture);
  gtk_box_append (GTK_BOX (box), name);
  gtk_list_item_set_child (item, box);
}

static void
bind_cb (GtkSignalListItemFactory *factory,
         GtkListItem              *item,
         BwLibrarySide            *self)
{
  BwShelfItem *design = gtk_list_item_get_item (item);
  GtkWidget *box = gtk_list_item_get_child (item);
  GtkWidget *picture = gtk_widget_get_first_child (box);

  gtk_label_set_text (GTK_LABEL (gtk_widget_get_last_child (box)),
                      bw_shelf_item_get_name (design));
  bw_hint_set (box, bw_shelf_item_get_details (design));
  gtk_accessible_update_property (GTK_ACCESSIBLE (gtk_widget_get_parent (box)),
                                  GTK_ACCESSIBLE_PROPERTY_LABEL,
                                  bw_shelf_item_get_name (design), -1);
  show_picture_cb (design, NULL, GTK_IMAGE (picture));
  g_signal_connect (design, "notify::picture", G_CALLBACK (show_picture_cb), picture);
  bw_shelf_want (self->shelf, design, TRUE);
}

static void
unbind_cb (GtkSignalListItemFactory *factory,
           GtkListItem              *item,
           BwLibrarySide            *self)
{
  BwShelfItem *design = gtk_list_item_get_item (item);
  GtkWidget *picture = gtk_widget_get_first_child (gtk_list_item_get_child (item));

  g_signal_handlers_disconnect_by_func (design, show_picture_cb, picture);
  if (self->shelf != NULL)
    bw_shelf_want (self->shelf, design, FALSE);
}

/* ---- filling ----------------------------------------------------------- */

static void
show_hint (BwLibrarySide *self)
{
  const char *typed = gtk_editable_get_text (GTK_EDITABLE (self->search));
  guint n = g_list_model_get_n_items (G_LIST_MODEL (self->shelf));
  gboolean bin = gtk_check_button_get_active (self->bin);
  const char *text = NULL;

  if (n == 0 && bin)
    text = _("The bin is empty.");
  else if (n == 0 && *typed != '\0')
    text = _("No design has a word that begins so. Clear the search to see all.");
  else if (n == 0)
    text = _("No designs yet: begin with a new one.");
  else if (n == BW_SHELF_SEARCH_MAX && *typed != '\0')
    text = _("There are more: type another word to find fewer.");

  gtk_label_set_text (self->hint, text == NULL ? "" : text);
  gtk_widget_set_visible (GTK_WIDGET (self->hint), text != NULL);
  gtk_button_set_label (self->move, bin ? _("Take back") : _("To the bin"));
}

static void
select_current (BwLibrarySide *self)
{
  gint64 current = self->document == NULL ? 0 : bw_document_get_id (self->document);
  guint found = self->shelf == NULL ? G_MAXUINT : bw_shelf_find (self->shelf, current);

  gtk_single_selection_set_selected (self->selection, found == G_MAXUINT
                                     ? GTK_INVALID_LIST_POSITION : found);
}

static gboolean
read_more (GtkWidget *widget)
{
  BwLibrarySide *self = BW_LIBRARY_SIDE (widget);
  gboolean more = self->shelf != NULL && bw_shelf_more (self->shelf);

  if (gtk_single_selection_get_selected (self->selection) == GTK_INVALID_LIST_POSITION)
    select_current (self);

  return more;
}

/**
 * bw_library_side_refresh:
 * @self: the list
 *
 * Reads the list of designs again.
 */
void
bw_library_side_refresh (BwLibrarySide *self)
{
  const char *typed;

  g_return_if_fail (BW_IS_LIBRARY_SIDE (self));

  if (self->shelf == NULL)
    return;

  typed = gtk_editable_get_text (GTK_EDITABLE (self->search));
  if (gtk_check_button_get_active (self->bin))
    bw_shelf_show (self->shelf, TRUE);
  else if (*typed != '\0')
    bw_shelf_search (self->shelf, typed);
  else
    bw_shelf_show (self->shelf, FALSE);
  show_hint (self);
  select_current (self);
  bw_later_add (GTK_WIDGET (self), read_more);
}

/* ---- tags -------------------------------------------------------------- */

static void
show_tags (BwLibrarySide *self)
{
  g_autofree char *tags = self->document == NULL ? NULL : bw_document_get_tags (self->document);

  gtk_widget_set_sensitive (self->tags, tags != NULL);
  gtk_editable_set_text (GTK_EDITABLE (self->tags), tags == NULL ? "" : tags);
}

/* What was typed, with commas between tags, becomes the tags of the open design. */
static void
take_tags (BwLibrarySide *self)
{
  const char *typed = gtk_editable_get_text (GTK_EDITABLE (self->tags));
  g_autofree char *tags = self->document == NULL ? NULL : bw_document_get_tags (self->document);
  g_autoptr (GError) error = NULL;

  if (tags == NULL || g_str_equal (tags, typed))
    return;

  if (bw_document_set_tags (self->document, typed, &error))
    {
      show_tags (self);
      return;
    }

  gtk_label_set_text (self->hint, error->message);
  gtk_widget_set_visible (GTK_WIDGET (self->hint), TRUE);
}

/* ---- what people do ---------------------------------------------------- */

static void
activate_cb (GtkListView   *view,
             guint          position,
             BwLibrarySide *self)
{
  g_autoptr (BwShelfItem) item = g_list_model_get_item (G_LIST_MODEL (self->selection), position);

  if (item != NULL && !gtk_check_button_get_active (self->bin))
    g_signal_emit (self, signals[SIGNAL_CHOSEN], 0, bw_shelf_item_get_id (item));
}

static void
move_cb (BwLibrarySide *self)
{
  BwShelfItem *item = gtk_single_selection_get_selected_item (self->selection);

  if (item == NULL || self->library == NULL)
    return;

  if (gtk_check_button_get_active (self->bin))
    bw_library_unbin (self->library, bw_shelf_item_get_id (item), NULL);
  else
    bw_library_bin (self->library, bw_shelf_item_get_id (item), NULL);
  bw_library_side_refresh (self);
}

/* ---- the widget -------------------------------------------------------- */

static void
bw_library_side_map (GtkWidget *widget)
{
  GTK_WIDGET_CLASS (bw_library_side_parent_class)->map (widget);
  bw_library_side_refresh (BW_LIBRARY_SIDE (widget));
}

static void
bw_library_side_dispose (GObject *object)
{
  BwLibrarySide *self = BW_LIBRARY_SIDE (object);

  if (self->content != NULL)
    bw_library_side_set_document (self, NULL);
  g_clear_object (&self->shelf);
  g_clear_pointer (&self->content, gtk_widget_unparent);
  g_clear_object (&self->selection);

  G_OBJECT_CLASS (bw_library_side_parent_class)->dispose (object);
}

static void
bw_library_side_class_init (BwLibrarySideClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = bw_library_side_dispose;
  widget_class->map = bw_library_side_map;
  signals[SIGNAL_CHOSEN] = g_signal_new ("chosen", BW_TYPE_LIBRARY_SIDE, G_SIGNAL_RUN_LAST, 0,
                                         NULL, NULL, NULL, G_TYPE_NONE, 1, G_TYPE_INT64);
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_template_from_resource (widget_class,
                                               "/org/brimwright/Brimwright/bw-library-side.ui");
  gtk_widget_class_bind_template_child (widget_class, BwLibrarySide, content);
  gtk_widget_class_bind_template_child (widget_class, BwLibrarySide, search);
  gtk_widget_class_bind_template_child (widget_class, BwLibrarySide, bin);
  gtk_widget_class_bind_template_child (widget_class, BwLibrarySide, view);
  gtk_widget_class_bind_template_child (widget_class, BwLibrarySide, hint);
  gtk_widget_class_bind_template_child (widget_class, BwLibrarySide, tags);
  gtk_widget_class_bind_template_child (widget_class, BwLibrarySide, move);
}

static void
bw_library_side_init (BwLibrarySide *self)
{
  GtkListItemFactory *factory = gtk_signal_list_item_factory_new ();
  GtkEventController *focus = gtk_event_controller_focus_new ();

  gtk_widget_init_template (GTK_WIDGET (self));

  self->selection = gtk_single_selection_new (NULL);
  gtk_single_selection_set_autoselect (self->selection, FALSE);
  gtk_single_selection_set_can_unselect (self->selection, TRUE);
  g_signal_connect (factory, "setup", G_CALLBACK (set_up_cb), self);
  g_signal_connect (factory, "bind", G_CALLBACK (bind_cb), self);
  g_signal_connect (factory, "unbind", G_CALLBACK (unbind_cb), self);
  gtk_list_view_set_factory (self->view, factory);
  g_object_unref (factory);
  gtk_list_view_set_model (self->view, GTK_SELECTION_MODEL (self->selection));

  g_signal_connect (self->view, "activate", G_CALLBACK (activate_cb), self);
  g_signal_connect_swapped (self->search, "search-changed", G_CALLBACK (bw_library_side_refresh),
                            self);
  g_signal_connect_swapped (self->bin, "toggled", G_CALLBACK (bw_library_side_refresh), self);
  g_signal_connect_swapped (self->move, "clicked", G_CALLBACK (move_cb), self);
  g_signal_connect_swapped (self->tags, "activate", G_CALLBACK (take_tags), self);
  g_signal_connect_swapped (focus, "leave", G_CALLBACK (take_tags), self);
  gtk_widget_add_controller (self->tags, focus);
  bw_hint_set (GTK_WIDGET (self->move),
               _("Put the open design into the bin, or take the chosen one back out"));
  bw_hint_set (self->tags, _("Words to find the open design by, with commas between them"));
}

/**
 * bw_library_side_set_library:
 * @self: the list
 * @reference: tables; must outlive the list
 * @library: (nullable): must outlive the list
 */
void
bw_library_side_set_library (BwLibrarySide     *self,
                             const BwReference *reference,
                             BwLibrary         *library)
{
  g_return_if_fail (BW_IS_LIBRARY_SIDE (self));

  self->reference = reference;
  self->library = library;
  g_clear_object (&self->shelf);
  if (library != NULL)
    self->shelf = bw_shelf_new (reference, library);
  gtk_single_selection_set_model (self->selection, G_LIST_MODEL (self->shelf));
}

/**
 * bw_library_side_forget:
 * @self: the list
 * @id: a design that has been changed
 *
 * Has its row read and its hat drawn again.
 */
void
bw_library_side_forget (BwLibrarySide *self,
                        gint64         id)
{
  g_return_if_fail (BW_IS_LIBRARY_SIDE (self));

  if (self->shelf == NULL || !gtk_widget_get_mapped (GTK_WIDGET (self)))
    return;

  bw_shelf_forget (self->shelf, id);
  select_current (self);
}

static void
state_cb (BwLibrarySide *self)
{
  if (bw_document_is_saved (self->document))
    bw_library_side_forget (self, bw_document_get_id (self->document));
}

/**
 * bw_library_side_set_document:
 * @self: the list
 * @document: (nullable): the design that is open
 */
void
bw_library_side_set_document (BwLibrarySide *self,
                              BwDocument    *document)
{
  g_return_if_fail (BW_IS_LIBRARY_SIDE (self));

  if (self->document != NULL)
    g_signal_handlers_disconnect_by_data (self->document, self);
  g_set_object (&self->document, document);
  if (document == NULL)
    return;

  g_signal_connect_swapped (document, "state", G_CALLBACK (state_cb), self);
  select_current (self);
  show_tags (self);
}

/* Where the list is scrolled to. */
GtkAdjustment *
bw_library_side_get_adjustment (BwLibrarySide *self)
{
  return gtk_scrollable_get_vadjustment (GTK_SCROLLABLE (self->view));
}

/* (nullable): the designs, as BwShelfItem */
GListModel *
bw_library_side_get_model (BwLibrarySide *self)
{
  return G_LIST_MODEL (self->shelf);
}

/**
 * bw_library_side_search:
 * @self: the list
 *
 * Puts the cursor into the search.
 */
void
bw_library_side_search (BwLibrarySide *self)
{
  gtk_widget_grab_focus (GTK_WIDGET (self->search));
}
