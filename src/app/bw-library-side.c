#define G_LOG_DOMAIN "bw-app"

#include "bw-app-words.h"

#include "bw-library-side.h"

#include "bw-library-design.h"
#include "bw-shelf-item.h"

/* The list of designs. Pictures are drawn one at a time when nothing else is to
 * be done, so that a large library opens as fast as a small one. */

struct _BwLibrarySide
{
  GtkWidget parent_instance;

  /* Template widgets */
  GtkWidget       *content;
  GtkSearchEntry  *search;
  GtkCheckButton  *bin;
  GtkListView     *view;
  GtkLabel        *hint;
  GtkButton       *move;

  /* Borrowed references */
  const BwReference *reference;
  BwLibrary         *library;

  /* Owned references */
  GListStore         *store;
  GtkSingleSelection *selection;

  gint64             current;
  guint              draw_source;
  guint              next_drawn;
};

enum
{
  SIGNAL_CHOSEN,
  N_SIGNALS,
};

static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (BwLibrarySide, bw_library_side, GTK_TYPE_WIDGET)

/* ---- pictures ---------------------------------------------------------- */

static gboolean
draw_cb (gpointer data)
{
  BwLibrarySide *self = data;
  g_autoptr (BwShelfItem) item = NULL;

  item = g_list_model_get_item (G_LIST_MODEL (self->store), self->next_drawn++);
  if (item == NULL)
    {
      self->draw_source = 0;
      return G_SOURCE_REMOVE;
    }

  bw_shelf_item_draw (item, self->reference, self->library);

  return G_SOURCE_CONTINUE;
}

static void
draw_later (BwLibrarySide *self)
{
  self->next_drawn = 0;
  if (self->draw_source == 0 && gtk_widget_get_mapped (GTK_WIDGET (self)))
    self->draw_source = g_idle_add_full (G_PRIORITY_LOW, draw_cb, self, NULL);
}

/* ---- rows -------------------------------------------------------------- */

static void
follow (GtkListItem *item,
        const char  *property,
        GtkWidget   *widget,
        const char  *target)
{
  GtkExpression *shelf = gtk_property_expression_new (GTK_TYPE_LIST_ITEM, NULL, "item");
  GtkExpression *value = gtk_property_expression_new (BW_TYPE_SHELF_ITEM, shelf, property);

  gtk_expression_bind (value, widget, target, item);
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
  gtk_label_set_width_chars (GTK_LABEL (name), 12);
  gtk_widget_set_hexpand (name, TRUE);
  gtk_box_append (GTK_BOX (box), picture);
  gtk_box_append (GTK_BOX (box), name);
  follow (item, "picture", picture, "paintable");
  follow (item, "name", name, "label");
  follow (item, "details", box, "tooltip-text");
  gtk_list_item_set_child (item, box);
}

static void
bind_cb (GtkSignalListItemFactory *factory,
         GtkListItem              *item,
         gpointer                  data)
{
  GtkWidget *row = gtk_widget_get_parent (gtk_list_item_get_child (item));
  g_autofree char *name = NULL;

  g_object_get (gtk_list_item_get_item (item), "name", &name, NULL);
  gtk_accessible_update_property (GTK_ACCESSIBLE (row), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
}

/* ---- filling ----------------------------------------------------------- */

static GPtrArray *
find_entries (BwLibrarySide *self)
{
  const char *typed = gtk_editable_get_text (GTK_EDITABLE (self->search));

  if (gtk_check_button_get_active (self->bin))
    return bw_library_list (self->library, BW_LIBRARY_ORDER_CHANGED, TRUE, BW_LIBRARY_SIDE_MAX,
                            NULL);
  if (*typed != '\0')
    return bw_library_search (self->library, typed, BW_LIBRARY_SIDE_MAX, NULL);

  return bw_library_list (self->library, BW_LIBRARY_ORDER_CHANGED, FALSE, BW_LIBRARY_SIDE_MAX,
                          NULL);
}

static void
show_hint (BwLibrarySide *self,
           guint          n)
{
  const char *typed = gtk_editable_get_text (GTK_EDITABLE (self->search));
  gboolean bin = gtk_check_button_get_active (self->bin);
  const char *text = NULL;

  if (n == 0 && bin)
    text = _("The bin is empty.");
  else if (n == 0 && *typed != '\0')
    text = _("No design has a word that begins so. Clear the search to see all.");
  else if (n == 0)
    text = _("No designs yet: begin with a new one.");
  else if (n == BW_LIBRARY_SIDE_MAX)
    text = _("These were changed last; search to find others.");

  gtk_label_set_text (self->hint, text == NULL ? "" : text);
  gtk_widget_set_visible (GTK_WIDGET (self->hint), text != NULL);
  gtk_button_set_label (self->move, bin ? _("Take back") : _("To the bin"));
}

static void
select_current (BwLibrarySide *self)
{
  guint n = g_list_model_get_n_items (G_LIST_MODEL (self->store));
  guint found = GTK_INVALID_LIST_POSITION;

  for (guint i = 0; i < n; i++)
    {
      g_autoptr (BwShelfItem) item = g_list_model_get_item (G_LIST_MODEL (self->store), i);

      if (bw_shelf_item_get_id (item) == self->current)
        found = i;
    }

  gtk_single_selection_set_selected (self->selection, found);
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
  g_autoptr (GPtrArray) entries = NULL;
  g_autoptr (GPtrArray) items = g_ptr_array_new_with_free_func (g_object_unref);

  g_return_if_fail (BW_IS_LIBRARY_SIDE (self));

  if (self->library == NULL)
    return;

  entries = find_entries (self);
  for (guint i = 0; entries != NULL && i < entries->len; i++)
    g_ptr_array_add (items, bw_shelf_item_new (entries->pdata[i]));

  g_list_store_splice (self->store, 0, g_list_model_get_n_items (G_LIST_MODEL (self->store)),
                       items->pdata, items->len);
  show_hint (self, items->len);
  select_current (self);
  draw_later (self);
}

/* ---- what people do ---------------------------------------------------- */

static void
activate_cb (GtkListView   *view,
             guint          position,
             BwLibrarySide *self)
{
  g_autoptr (BwShelfItem) item = g_list_model_get_item (G_LIST_MODEL (self->store), position);

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
bw_library_side_unmap (GtkWidget *widget)
{
  g_clear_handle_id (&BW_LIBRARY_SIDE (widget)->draw_source, g_source_remove);
  GTK_WIDGET_CLASS (bw_library_side_parent_class)->unmap (widget);
}

static void
bw_library_side_dispose (GObject *object)
{
  BwLibrarySide *self = BW_LIBRARY_SIDE (object);

  g_clear_handle_id (&self->draw_source, g_source_remove);
  g_clear_pointer (&self->content, gtk_widget_unparent);
  g_clear_object (&self->selection);
  g_clear_object (&self->store);

  G_OBJECT_CLASS (bw_library_side_parent_class)->dispose (object);
}

static void
bw_library_side_class_init (BwLibrarySideClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = bw_library_side_dispose;
  widget_class->map = bw_library_side_map;
  widget_class->unmap = bw_library_side_unmap;
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
  gtk_widget_class_bind_template_child (widget_class, BwLibrarySide, move);
}

static void
bw_library_side_init (BwLibrarySide *self)
{
  GtkListItemFactory *factory = gtk_signal_list_item_factory_new ();

  gtk_widget_init_template (GTK_WIDGET (self));

  self->store = g_list_store_new (BW_TYPE_SHELF_ITEM);
  self->selection = gtk_single_selection_new (G_LIST_MODEL (g_object_ref (self->store)));
  gtk_single_selection_set_autoselect (self->selection, FALSE);
  gtk_single_selection_set_can_unselect (self->selection, TRUE);
  g_signal_connect (factory, "setup", G_CALLBACK (set_up_cb), NULL);
  g_signal_connect (factory, "bind", G_CALLBACK (bind_cb), NULL);
  gtk_list_view_set_factory (self->view, factory);
  g_object_unref (factory);
  gtk_list_view_set_model (self->view, GTK_SELECTION_MODEL (self->selection));

  g_signal_connect (self->view, "activate", G_CALLBACK (activate_cb), self);
  g_signal_connect_swapped (self->search, "search-changed", G_CALLBACK (bw_library_side_refresh),
                            self);
  g_signal_connect_swapped (self->bin, "toggled", G_CALLBACK (bw_library_side_refresh), self);
  g_signal_connect_swapped (self->move, "clicked", G_CALLBACK (move_cb), self);
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
}

/**
 * bw_library_side_set_current:
 * @self: the list
 * @id: the design that is open
 */
void
bw_library_side_set_current (BwLibrarySide *self,
                             gint64         id)
{
  g_return_if_fail (BW_IS_LIBRARY_SIDE (self));

  self->current = id;
  select_current (self);
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
