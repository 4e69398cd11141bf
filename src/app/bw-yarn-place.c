#define G_LOG_DOMAIN "bw-app"

#include "bw-app-words.h"

#include "bw-yarn-place.h"

#include <math.h>

#include "bw-hint.h"
#include "bw-library-yarn.h"
#include "bw-name-factory.h"
#include "bw-units.h"
#include "bw-value-row.h"
#include "bw-yarn-fibres.h"

/* The yarns of the library: a list, and the chosen one with its lots. What is
 * typed is saved as soon as it can be read. */

typedef enum
{
  VALUE_NAME,
  VALUE_MAKER,
  VALUE_FIBRES,
  VALUE_CLASS,
  VALUE_LENGTH,
  VALUE_WEIGHT,
  VALUE_PRICE,
  VALUE_CURRENCY,
  VALUE_CARE,
  N_VALUES,
} Value;

static const char *const value_labels[N_VALUES] = {
  N_("Name"), N_("Maker"), N_("Fibres"), N_("Thickness class"),
  N_("Length of a ball"), N_("Weight of a ball"), N_("Price of a ball"), N_("Currency"), N_("Care"),
};

struct _BwYarnPlace
{
  GtkWidget parent_instance;

  /* Template widgets */
  GtkWidget          *content;
  GtkSearchEntry     *search;
  GtkListView        *view;
  GtkWidget          *editor;
  GtkWidget          *values;
  GtkWidget          *lots;
  GtkLabel           *hint;
  GtkWidget          *add;
  GtkWidget          *remove;
  GtkWidget          *add_lot;

  /* Children made here */
  BwValueRow         *rows[N_VALUES];

  /* Borrowed references */
  BwLibrary          *library;

  /* Owned references */
  GtkStringList      *names;
  GtkSingleSelection *selection;
  GPtrArray          *yarns;   /* of BwLibraryYarn, as the list */

  gboolean            updating;
};

G_DEFINE_FINAL_TYPE (BwYarnPlace, bw_yarn_place, GTK_TYPE_WIDGET)

static BwLibraryYarn *
chosen (BwYarnPlace *self)
{
  guint i = gtk_single_selection_get_selected (self->selection);

  return self->yarns != NULL && i < self->yarns->len ? self->yarns->pdata[i] : NULL;
}

/* ---- values and text --------------------------------------------------- */

static char *
number_text (double      value,
             guint       decimals,
             const char *unit)
{
  g_autofree char *number = bw_units_format_number (value, decimals);

  return value > 0 ? g_strconcat (number, unit, NULL) : g_strdup ("");
}

static char *
value_text (const BwLibraryYarn *yarn,
            Value                value)
{
  switch (value)
    {
    case VALUE_NAME:
      return g_strdup (yarn->name);
    case VALUE_MAKER:
      return g_strdup (yarn->maker);
    case VALUE_FIBRES:
      return bw_yarn_fibres_print (yarn);
    case VALUE_CLASS:
      return yarn->weight_class < 0 ? g_strdup ("") : g_strdup_printf ("%d", yarn->weight_class);
    case VALUE_LENGTH:
      return number_text (yarn->metres_per_ball, 1, " m");
    case VALUE_WEIGHT:
      return number_text (yarn->grams_per_ball, 1, " g");
    case VALUE_PRICE:
      return number_text (yarn->price_per_ball, 2, "");
    case VALUE_CURRENCY:
      return g_strdup (yarn->currency);
    default:
      return g_strdup (yarn->care);
    }
}

static gboolean
read_class (const char *text,
            int        *value)
{
  gint64 number = -1;

  if (*text != '\0' && !g_ascii_string_to_signed (text, 10, 0, 7, &number, NULL))
    return FALSE;

  *value = (int) number;

  return TRUE;
}

static gboolean
read_optional (gboolean   (*parse) (const char *, double *, GError **),
               const char  *text,
               double      *value)
{
  double number = 0;

  if (*text != '\0' && (!parse (text, &number, NULL) || number < 0))
    return FALSE;

  *value = number;

  return TRUE;
}

static void
take_text (char       **place,
           const char  *text)
{
  g_free (*place);
  *place = g_strdup (text);
}

/* What would do, where @text cannot be read; otherwise NULL. */
static const char *
read_value (BwLibraryYarn *yarn,
            Value          value,
            const char    *text)
{
  switch (value)
    {
    case VALUE_NAME:
      if (*text == '\0')
        return _("A yarn needs a name.");
      take_text (&yarn->name, text);
      return NULL;
    case VALUE_MAKER:
      take_text (&yarn->maker, text);
      return NULL;
    case VALUE_FIBRES:
      return bw_yarn_fibres_read (yarn, text)
        ? NULL : _("Type fibres that make 100 %, such as 80 % wool, 20 % nylon.");
    case VALUE_CLASS:
      return read_class (text, &yarn->weight_class) ? NULL : _("Type 0 to 7, or nothing.");
    case VALUE_LENGTH:
      return read_optional (bw_units_parse_yarn, text, &yarn->metres_per_ball)
        ? NULL : _("Type a length with its unit, such as 200 m or 219 yd.");
    case VALUE_WEIGHT:
      return read_optional (bw_units_parse_mass, text, &yarn->grams_per_ball)
        ? NULL : _("Type a weight with its unit, such as 50 g or 1.75 oz.");
    case VALUE_PRICE:
      return read_optional (bw_units_parse_number, text, &yarn->price_per_ball)
        ? NULL : _("Type a number, such as 7.50.");
    case VALUE_CURRENCY:
      take_text (&yarn->currency, text);
      return NULL;
    default:
      take_text (&yarn->care, text);
      return NULL;
    }
}

static gboolean
save (BwYarnPlace   *self,
      BwLibraryYarn *yarn)
{
  g_autoptr (GError) error = NULL;
  gboolean saved = bw_library_save_yarn (self->library, yarn, &error);

  gtk_label_set_text (self->hint, saved ? "" : error->message);
  gtk_widget_set_visible (GTK_WIDGET (self->hint), !saved);

  return saved;
}

static void
typed_cb (BwValueRow  *row,
          BwYarnPlace *self)
{
  Value value = GPOINTER_TO_UINT (g_object_get_data (G_OBJECT (row), "bw-value"));
  BwLibraryYarn *yarn = chosen (self);
  g_autofree char *text = g_strstrip (g_strdup (bw_value_row_get_text (row)));
  const char *error;

  if (yarn == NULL)
    return;

  error = read_value (yarn, value, text);
  bw_value_row_set_error (row, error);
  if (error != NULL || !save (self, yarn) || value != VALUE_NAME)
    return;

  /* The list shows names: this one changes in its place */
  self->updating = TRUE;
  gtk_string_list_splice (self->names, gtk_single_selection_get_selected (self->selection), 1,
                          (const char *const[]) { yarn->name, NULL });
  self->updating = FALSE;
}

/* ---- lots -------------------------------------------------------------- */

static void show_lots (BwYarnPlace *self);

static BwYarnLot *
lot_of (BwYarnPlace *self,
        GtkWidget   *widget)
{
  guint i = GPOINTER_TO_UINT (g_object_get_data (G_OBJECT (widget), "bw-lot"));

  return &g_array_index (chosen (self)->lots, BwYarnLot, i);
}

static void
lot_typed_cb (GtkEditable *entry,
              BwYarnPlace *self)
{
  const char *what = g_object_get_data (G_OBJECT (entry), "bw-what");
  BwYarnLot *lot = lot_of (self, GTK_WIDGET (entry));
  double balls;

  if (g_str_equal (what, "lot"))
    take_text (&lot->lot, gtk_editable_get_text (entry));
  else if (g_str_equal (what, "colour"))
    take_text (&lot->colour, gtk_editable_get_text (entry));
  else if (bw_units_parse_number (gtk_editable_get_text (entry), &balls, NULL) && balls >= 0)
    lot->balls = balls;
  else
    {
      gtk_widget_add_css_class (GTK_WIDGET (entry), "error");
      return;
    }

  gtk_widget_remove_css_class (GTK_WIDGET (entry), "error");
  save (self, chosen (self));
}

static GtkWidget *
lot_entry (BwYarnPlace *self,
           guint        i,
           const char  *what,
           const char  *label,
           const char  *text)
{
  GtkWidget *entry = gtk_entry_new ();
  g_autofree char *name = g_strdup_printf (_("%s of lot %u"), label, i + 1);

  g_object_set_data (G_OBJECT (entry), "bw-lot", GUINT_TO_POINTER (i));
  g_object_set_data (G_OBJECT (entry), "bw-what", (gpointer) what);
  gtk_editable_set_text (GTK_EDITABLE (entry), text);
  gtk_editable_set_width_chars (GTK_EDITABLE (entry), 6);
  gtk_widget_set_hexpand (entry, TRUE);
  gtk_entry_set_placeholder_text (GTK_ENTRY (entry), label);
  gtk_accessible_update_property (GTK_ACCESSIBLE (entry), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
  g_signal_connect (entry, "changed", G_CALLBACK (lot_typed_cb), self);

  return entry;
}

static void
remove_lot_cb (GtkWidget   *button,
               BwYarnPlace *self)
{
  guint i = GPOINTER_TO_UINT (g_object_get_data (G_OBJECT (button), "bw-lot"));

  g_array_remove_index (chosen (self)->lots, i);
  save (self, chosen (self));
  show_lots (self);
}

static void
append_lot (BwYarnPlace     *self,
            const BwYarnLot *lot,
            guint            i)
{
  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  GtkWidget *remove = gtk_button_new_from_icon_name ("list-remove-symbolic");
  g_autofree char *balls = bw_units_format_number (lot->balls, 2);
  g_autofree char *name = g_strdup_printf (_("Take lot %u away"), i + 1);

  gtk_box_append (GTK_BOX (line), lot_entry (self, i, "lot", _("Dye lot"), lot->lot));
  gtk_box_append (GTK_BOX (line), lot_entry (self, i, "colour", _("Colour"), lot->colour));
  gtk_box_append (GTK_BOX (line), lot_entry (self, i, "balls", _("Balls"), balls));
  g_object_set_data (G_OBJECT (remove), "bw-lot", GUINT_TO_POINTER (i));
  bw_hint_set (remove, name);
  gtk_accessible_update_property (GTK_ACCESSIBLE (remove), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
  g_signal_connect (remove, "clicked", G_CALLBACK (remove_lot_cb), self);
  gtk_box_append (GTK_BOX (line), remove);
  gtk_box_append (GTK_BOX (self->lots), line);
}

static void
show_lots (BwYarnPlace *self)
{
  BwLibraryYarn *yarn = chosen (self);
  GtkWidget *child;

  while ((child = gtk_widget_get_first_child (self->lots)) != NULL)
    gtk_box_remove (GTK_BOX (self->lots), child);
  for (guint i = 0; yarn != NULL && i < yarn->lots->len; i++)
    append_lot (self, &g_array_index (yarn->lots, BwYarnLot, i), i);
}

static void
add_lot_cb (BwYarnPlace *self)
{
  BwLibraryYarn *yarn = chosen (self);
  g_autofree char *name = NULL;

  if (yarn == NULL)
    return;

  name = g_strdup_printf (_("Lot %u"), yarn->lots->len + 1);
  bw_library_yarn_add_lot (yarn, name, "", 1);
  save (self, yarn);
  show_lots (self);
}

/* ---- the list ---------------------------------------------------------- */

static void
show_chosen (BwYarnPlace *self)
{
  BwLibraryYarn *yarn = chosen (self);

  if (self->updating)
    return;

  gtk_widget_set_visible (self->editor, yarn != NULL);
  gtk_widget_set_sensitive (self->remove, yarn != NULL);
  for (guint i = 0; yarn != NULL && i < N_VALUES; i++)
    {
      g_autofree char *text = value_text (yarn, i);

      bw_value_row_set_text (self->rows[i], text);
    }
  show_lots (self);
}

static void
refresh (BwYarnPlace *self,
         const char  *wanted)
{
  g_autoptr (GPtrArray) names = g_ptr_array_new ();
  guint selected = 0;

  if (self->library == NULL)
    return;

  g_clear_pointer (&self->yarns, g_ptr_array_unref);
  self->yarns = bw_library_list_yarns (self->library,
                                       gtk_editable_get_text (GTK_EDITABLE (self->search)), NULL);
  for (guint i = 0; self->yarns != NULL && i < self->yarns->len; i++)
    {
      BwLibraryYarn *yarn = self->yarns->pdata[i];

      g_ptr_array_add (names, yarn->name);
      if (g_strcmp0 (yarn->name, wanted) == 0)
        selected = i;
    }
  g_ptr_array_add (names, NULL);

  self->updating = TRUE;
  gtk_string_list_splice (self->names, 0, g_list_model_get_n_items (G_LIST_MODEL (self->names)),
                          (const char *const *) names->pdata);
  gtk_single_selection_set_selected (self->selection, selected);
  self->updating = FALSE;
  show_chosen (self);
}

static void
search_cb (BwYarnPlace *self)
{
  refresh (self, NULL);
}

static void
add_cb (BwYarnPlace *self)
{
  g_autoptr (BwLibraryYarn) yarn = NULL;
  g_autofree char *name = NULL;
  gint64 id;
  guint n = 1;

  if (self->library == NULL)
    return;

  do
    {
      g_free (name);
      name = n == 1 ? g_strdup (_("New yarn")) : g_strdup_printf (_("New yarn %u"), n);
      n++;
    }
  while (n < 1000 && bw_library_find_yarn (self->library, name, &id, NULL));

  yarn = bw_library_yarn_new (name);
  if (save (self, yarn))
    {
      gtk_editable_set_text (GTK_EDITABLE (self->search), "");
      refresh (self, name);
      gtk_widget_grab_focus (bw_value_row_get_entry (self->rows[VALUE_NAME]));
    }
}

static void
remove_cb (BwYarnPlace *self)
{
  g_autoptr (GError) error = NULL;
  BwLibraryYarn *yarn = chosen (self);

  if (yarn == NULL)
    return;

  if (!bw_library_remove_yarn (self->library, yarn->id, &error))
    {
      gtk_label_set_text (self->hint, error->message);
      gtk_widget_set_visible (GTK_WIDGET (self->hint), TRUE);
      return;
    }

  refresh (self, NULL);
}

/* ---- the widget -------------------------------------------------------- */

static void
bw_yarn_place_map (GtkWidget *widget)
{
  BwYarnPlace *self = BW_YARN_PLACE (widget);
  BwLibraryYarn *yarn = chosen (self);
  g_autofree char *name = yarn == NULL ? NULL : g_strdup (yarn->name);

  refresh (self, name);
  GTK_WIDGET_CLASS (bw_yarn_place_parent_class)->map (widget);
}

static void
bw_yarn_place_dispose (GObject *object)
{
  BwYarnPlace *self = BW_YARN_PLACE (object);

  g_clear_pointer (&self->content, gtk_widget_unparent);
  g_clear_object (&self->selection);
  g_clear_object (&self->names);
  g_clear_pointer (&self->yarns, g_ptr_array_unref);

  G_OBJECT_CLASS (bw_yarn_place_parent_class)->dispose (object);
}

static void
bw_yarn_place_class_init (BwYarnPlaceClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = bw_yarn_place_dispose;
  widget_class->map = bw_yarn_place_map;
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_template_from_resource (widget_class,
                                               "/org/brimwright/Brimwright/bw-yarn-place.ui");
  gtk_widget_class_bind_template_child (widget_class, BwYarnPlace, content);
  gtk_widget_class_bind_template_child (widget_class, BwYarnPlace, search);
  gtk_widget_class_bind_template_child (widget_class, BwYarnPlace, view);
  gtk_widget_class_bind_template_child (widget_class, BwYarnPlace, editor);
  gtk_widget_class_bind_template_child (widget_class, BwYarnPlace, values);
  gtk_widget_class_bind_template_child (widget_class, BwYarnPlace, lots);
  gtk_widget_class_bind_template_child (widget_class, BwYarnPlace, hint);
  gtk_widget_class_bind_template_child (widget_class, BwYarnPlace, add);
  gtk_widget_class_bind_template_child (widget_class, BwYarnPlace, remove);
  gtk_widget_class_bind_template_child (widget_class, BwYarnPlace, add_lot);
}

static void
make_list (BwYarnPlace *self)
{
  GtkListItemFactory *factory = bw_name_factory_new ();

  self->names = gtk_string_list_new (NULL);
  self->selection = gtk_single_selection_new (G_LIST_MODEL (g_object_ref (self->names)));
  gtk_list_view_set_factory (self->view, factory);
  g_object_unref (factory);
  gtk_list_view_set_model (self->view, GTK_SELECTION_MODEL (self->selection));
  g_signal_connect_swapped (self->selection, "notify::selected", G_CALLBACK (show_chosen), self);
}

static void
bw_yarn_place_init (BwYarnPlace *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  make_list (self);
  for (guint i = 0; i < N_VALUES; i++)
    {
      self->rows[i] = BW_VALUE_ROW (bw_value_row_new (_(value_labels[i])));
      g_object_set_data (G_OBJECT (self->rows[i]), "bw-value", GUINT_TO_POINTER (i));
      g_signal_connect (self->rows[i], "typed", G_CALLBACK (typed_cb), self);
      gtk_box_append (GTK_BOX (self->values), GTK_WIDGET (self->rows[i]));
    }
  g_signal_connect_swapped (self->search, "search-changed", G_CALLBACK (search_cb), self);
  g_signal_connect_swapped (self->add, "clicked", G_CALLBACK (add_cb), self);
  g_signal_connect_swapped (self->remove, "clicked", G_CALLBACK (remove_cb), self);
  g_signal_connect_swapped (self->add_lot, "clicked", G_CALLBACK (add_lot_cb), self);
}

/**
 * bw_yarn_place_set_library:
 * @self: the place
 * @library: (nullable): must outlive the place
 */
void
bw_yarn_place_set_library (BwYarnPlace *self,
                           BwLibrary   *library)
{
  g_return_if_fail (BW_IS_YARN_PLACE (self));

  self->library = library;
  gtk_widget_set_sensitive (self->content, library != NULL);
}
