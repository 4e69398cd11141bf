#define G_LOG_DOMAIN "bw-app"

#include "bw-app-words.h"

#include "bw-swatch-place.h"

#include "bw-design-fields.h"
#include "bw-library-yarn.h"
#include "bw-name-factory.h"
#include "bw-swatch-photo.h"
#include "bw-spoken.h"
#include "bw-swatch-report.h"
#include "bw-value-row.h"

/* The log of swatches: a list, the chosen one with its readings, and the gauge
 * that the library makes of all that are like it. Readings are typed one after
 * the other with Enter between them; the hand never leaves the keyboard. */

typedef enum
{
  VALUE_HOOK,
  VALUE_LOT,
  VALUE_MADE_ON,
  VALUE_WORKED_BY,
  VALUE_WEIGHT,
  VALUE_STITCHES,
  VALUE_ROUNDS,
  VALUE_NOTE,
  N_VALUES,
} Value;

static const char *const value_labels[N_VALUES] = {
  N_("Hook"), N_("Dye lot"), N_("Made on"), N_("Worked by"), N_("Weight of the piece"),
  N_("Stitches of the piece"), N_("Rounds of the piece"), N_("Note"),
};

struct _BwSwatchPlace
{
  GtkWidget parent_instance;

  /* Template widgets */
  GtkWidget          *content;
  GtkListView        *view;
  GtkWidget          *editor;
  GtkWidget          *values;
  GtkWidget          *quick;
  GtkWidget          *readings;
  GtkLabel           *gauge;
  GtkWidget          *plots;
  GtkLabel           *hint;
  GtkWidget          *add;
  GtkWidget          *remove;

  /* Children made here */
  GtkDropDown        *yarn;
  GtkDropDown        *fabric;
  BwValueRow         *rows[N_VALUES];
  BwValueRow         *quick_stitches;
  BwValueRow         *quick_rounds;
  BwSwatchPhoto      *photo;
  BwPlot             *readings_plot;
  BwPlot             *hooks_plot;

  /* Borrowed references */
  const BwReference  *reference;
  BwLibrary          *library;

  /* Owned references */
  GtkStringList      *names;
  GtkStringList      *yarns;
  GtkSingleSelection *selection;
  GPtrArray          *swatches;  /* of BwLibrarySwatch, as the list */

  gboolean            updating;
};

G_DEFINE_FINAL_TYPE (BwSwatchPlace, bw_swatch_place, GTK_TYPE_WIDGET)

static BwLibrarySwatch *
chosen (BwSwatchPlace *self)
{
  guint i = gtk_single_selection_get_selected (self->selection);

  return self->swatches != NULL && i < self->swatches->len ? self->swatches->pdata[i] : NULL;
}

static const BwFabric *
fabric_at (BwSwatchPlace *self,
           guint          i)
{
  return self->reference->fabrics->fabrics->pdata[i];
}

static const char *
fabric_name (BwSwatchPlace *self,
             const char    *id)
{
  const BwFabric *fabric = bw_fabric_find (self->reference->fabrics, id);

  return fabric == NULL ? id : fabric->name_uk;
}

static char *
title_of (BwSwatchPlace         *self,
          const BwLibrarySwatch *swatch)
{
  g_autofree char *hook = bw_units_format_number (swatch->hook_mm, 2);

  /* Translators: yarn, hook, stitch pattern */
  return g_strdup_printf (_("%s, %s mm, %s"), swatch->yarn, hook,
                          fabric_name (self, swatch->fabric));
}

static void
tell (BwSwatchPlace *self,
      const char    *message)
{
  gtk_label_set_text (self->hint, message == NULL ? "" : message);
  gtk_widget_set_visible (GTK_WIDGET (self->hint), message != NULL);
}

static void
show_report (BwSwatchPlace *self)
{
  BwLibrarySwatch *swatch = chosen (self);
  g_autofree char *words = bw_swatch_report_words (self->library, swatch);

  gtk_label_set_text (self->gauge, words);
  bw_swatch_report_readings (self->readings_plot, self->library, swatch);
  bw_swatch_report_hooks (self->hooks_plot, self->library, swatch);
}

static gboolean
save (BwSwatchPlace *self)
{
  g_autoptr (GError) error = NULL;
  BwLibrarySwatch *swatch = chosen (self);
  g_autofree char *title = NULL;

  if (!bw_library_save_swatch (self->library, swatch, &error))
    {
      tell (self, error->message);
      return FALSE;
    }

  tell (self, NULL);
  title = title_of (self, swatch);
  self->updating = TRUE;
  gtk_string_list_splice (self->names, gtk_single_selection_get_selected (self->selection), 1,
                          (const char *const[]) { title, NULL });
  self->updating = FALSE;
  show_report (self);

  return TRUE;
}

/* ---- values ------------------------------------------------------------ */

static char *
value_text (const BwLibrarySwatch *swatch,
            Value                  value)
{
  switch (value)
    {
    case VALUE_HOOK:
      return bw_swatch_report_figure (swatch->hook_mm, " mm");
    case VALUE_LOT:
      return g_strdup (swatch->lot);
    case VALUE_MADE_ON:
      return g_strdup (swatch->made_on);
    case VALUE_WORKED_BY:
      return g_strdup (swatch->worked_by);
    case VALUE_WEIGHT:
      return bw_swatch_report_figure (swatch->grams, " g");
    case VALUE_STITCHES:
      return bw_swatch_report_figure (swatch->piece_stitches, "");
    case VALUE_ROUNDS:
      return bw_swatch_report_figure (swatch->piece_rounds, "");
    default:
      return g_strdup (swatch->note);
    }
}

static gboolean
read_count (const char *text,
            guint      *value)
{
  guint64 number = 0;

  if (*text != '\0' && !g_ascii_string_to_unsigned (text, 10, 0, 5000, &number, NULL))
    return FALSE;

  *value = (guint) number;

  return TRUE;
}

static void
take_text (char       **place,
           const char  *text)
{
  g_free (*place);
  *place = g_strdup (text);
}

static const char *
read_figure (BwLibrarySwatch *swatch,
             Value            value,
             const char      *text)
{
  double number = 0;

  switch (value)
    {
    case VALUE_HOOK:
      if (!bw_units_parse_length (text, BW_UNITS_CM, BW_MM_PER_INCH, &number, NULL) ||
          number < 0.5 || number > 40)
        return _("Type the hook with its unit, such as 5 mm.");
      swatch->hook_mm = number;
      return NULL;
    case VALUE_WEIGHT:
      if (*text != '\0' && (!bw_units_parse_mass (text, &number, NULL) || number <= 0))
        return _("Type a weight with its unit, such as 19 g.");
      swatch->grams = number;
      return NULL;
    case VALUE_STITCHES:
      return read_count (text, &swatch->piece_stitches) ? NULL : _("Type a whole number.");
    default:
      return read_count (text, &swatch->piece_rounds) ? NULL : _("Type a whole number.");
    }
}

/* What would do, where @text cannot be read; otherwise NULL. */
static const char *
read_value (BwLibrarySwatch *swatch,
            Value            value,
            const char      *text)
{
  switch (value)
    {
    case VALUE_LOT:
      take_text (&swatch->lot, text);
      return NULL;
    case VALUE_MADE_ON:
      if (!bw_swatch_report_is_day (text))
        return _("Type a day such as 2024-05-31, or nothing.");
      take_text (&swatch->made_on, text);
      return NULL;
    case VALUE_WORKED_BY:
      take_text (&swatch->worked_by, text);
      return NULL;
    case VALUE_NOTE:
      take_text (&swatch->note, text);
      return NULL;
    default:
      return read_figure (swatch, value, text);
    }
}

static void
typed_cb (BwValueRow    *row,
          BwSwatchPlace *self)
{
  Value value = GPOINTER_TO_UINT (g_object_get_data (G_OBJECT (row), "bw-value"));
  g_autofree char *text = g_strstrip (g_strdup (bw_value_row_get_text (row)));
  const char *error;

  if (chosen (self) == NULL)
    return;

  error = read_value (chosen (self), value, text);
  bw_value_row_set_error (row, error);
  if (error == NULL)
    save (self);
}

static void
yarn_chosen_cb (BwSwatchPlace *self)
{
  GtkStringObject *yarn = gtk_drop_down_get_selected_item (self->yarn);

  if (self->updating || chosen (self) == NULL || yarn == NULL)
    return;

  take_text (&chosen (self)->yarn, gtk_string_object_get_string (yarn));
  save (self);
}

static void
fabric_chosen_cb (BwSwatchPlace *self)
{
  guint i = gtk_drop_down_get_selected (self->fabric);

  if (self->updating || chosen (self) == NULL || i >= self->reference->fabrics->fabrics->len)
    return;

  take_text (&chosen (self)->fabric, fabric_at (self, i)->id);
  save (self);
}

/* ---- readings ---------------------------------------------------------- */

static void show_readings (BwSwatchPlace *self);

static void
remove_reading_cb (GtkWidget     *button,
                   BwSwatchPlace *self)
{
  g_array_remove_index (chosen (self)->readings,
                        GPOINTER_TO_UINT (g_object_get_data (G_OBJECT (button), "bw-reading")));
  save (self);
  show_readings (self);
}

static void
show_readings (BwSwatchPlace *self)
{
  BwLibrarySwatch *swatch = chosen (self);
  GtkWidget *child;

  while ((child = gtk_widget_get_first_child (self->readings)) != NULL)
    gtk_box_remove (GTK_BOX (self->readings), child);

  for (guint i = 0; i < swatch->readings->len; i++)
    {
      const BwPlacedReading *reading = &g_array_index (swatch->readings, BwPlacedReading, i);
      g_autofree char *text = bw_swatch_report_reading (reading);
      g_autofree char *name = g_strdup_printf (_("Take away: %s"), text);
      GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
      GtkWidget *label = gtk_label_new (text);
      GtkWidget *remove = gtk_button_new_from_icon_name ("list-remove-symbolic");

      gtk_label_set_xalign (GTK_LABEL (label), 0);
      gtk_label_set_ellipsize (GTK_LABEL (label), PANGO_ELLIPSIZE_END);
      gtk_widget_set_hexpand (label, TRUE);
      gtk_button_set_has_frame (GTK_BUTTON (remove), FALSE);
      bw_spoken_name (remove, name);
      g_object_set_data (G_OBJECT (remove), "bw-reading", GUINT_TO_POINTER (i));
      g_signal_connect (remove, "clicked", G_CALLBACK (remove_reading_cb), self);
      gtk_box_append (GTK_BOX (line), label);
      gtk_box_append (GTK_BOX (line), remove);
      gtk_box_append (GTK_BOX (self->readings), line);
    }
}

/* The design file's own way of writing readings: "20 in 127 mm washed". */
static gboolean
read_readings (BwSwatchPlace  *self,
               const char     *key,
               const char     *text,
               BwSwatch       *into,
               GError        **error)
{
  const BwFieldContext context = { self->reference, BW_UNITS_CM, BW_MM_PER_INCH, "Swatch", NULL };
  const BwField *field = bw_field_find (bw_field_group (BW_GROUP_SWATCH), key);

  return bw_field_read (field, &context, into, text, error);
}

static void
entered_cb (BwValueRow    *row,
            BwSwatchPlace *self)
{
  gboolean stitches = row == self->quick_stitches;
  BwLibrarySwatch *swatch = chosen (self);
  BwSwatch read;

  if (swatch == NULL || *bw_value_row_get_text (row) == '\0')
    return;

  bw_swatch_init (&read, "quick", "plain-low");
  if (!read_readings (self, stitches ? "stitches" : "rounds", bw_value_row_get_text (row), &read,
                      NULL))
    {
      bw_value_row_set_error (row, _("Type how many in which length: 20 in 127 mm washed."));
      bw_swatch_clear (&read);
      return;
    }

  for (guint i = 0; i < read.readings->len; i++)
    bw_library_swatch_add_reading (swatch, &g_array_index (read.readings, BwReading, i), "");
  bw_swatch_clear (&read);
  bw_value_row_set_text (row, "");
  save (self);
  show_readings (self);
}

/* ---- the list ---------------------------------------------------------- */

static void
select_choices (BwSwatchPlace         *self,
                const BwLibrarySwatch *swatch)
{
  guint n = g_list_model_get_n_items (G_LIST_MODEL (self->yarns));
  const GPtrArray *fabrics = self->reference->fabrics->fabrics;

  gtk_drop_down_set_selected (self->yarn, GTK_INVALID_LIST_POSITION);
  for (guint i = 0; i < n; i++)
    if (g_str_equal (gtk_string_list_get_string (self->yarns, i), swatch->yarn))
      gtk_drop_down_set_selected (self->yarn, i);

  gtk_drop_down_set_selected (self->fabric, GTK_INVALID_LIST_POSITION);
  for (guint i = 0; i < fabrics->len; i++)
    if (g_str_equal (fabric_at (self, i)->id, swatch->fabric))
      gtk_drop_down_set_selected (self->fabric, i);
}

static void
show_chosen (BwSwatchPlace *self)
{
  BwLibrarySwatch *swatch = chosen (self);

  if (self->updating)
    return;

  gtk_widget_set_visible (self->editor, swatch != NULL);
  gtk_widget_set_sensitive (self->remove, swatch != NULL);
  if (swatch == NULL)
    return;

  self->updating = TRUE;
  select_choices (self, swatch);
  self->updating = FALSE;
  for (guint i = 0; i < N_VALUES; i++)
    {
      g_autofree char *text = value_text (swatch, i);

      bw_value_row_set_text (self->rows[i], text);
    }
  show_readings (self);
  bw_swatch_photo_show (self->photo, self->library, swatch);
  show_report (self);
}

static void
list_yarns (BwSwatchPlace *self)
{
  g_autoptr (GPtrArray) yarns = bw_library_list_yarns (self->library, "", NULL);
  g_autoptr (GPtrArray) names = g_ptr_array_new ();

  for (guint i = 0; yarns != NULL && i < yarns->len; i++)
    g_ptr_array_add (names, ((BwLibraryYarn *) yarns->pdata[i])->name);
  g_ptr_array_add (names, NULL);
  gtk_string_list_splice (self->yarns, 0, g_list_model_get_n_items (G_LIST_MODEL (self->yarns)),
                          (const char *const *) names->pdata);
}

static void
refresh (BwSwatchPlace *self,
         gint64         wanted)
{
  const BwSwatchFilter all = { "", 0, "" };
  g_autoptr (GPtrArray) titles = g_ptr_array_new_with_free_func (g_free);
  guint selected = 0;

  if (self->library == NULL)
    return;

  self->updating = TRUE;
  list_yarns (self);
  bw_swatch_photo_show (self->photo, self->library, NULL);
  g_clear_pointer (&self->swatches, g_ptr_array_unref);
  self->swatches = bw_library_list_swatches (self->library, &all, NULL);
  for (guint i = 0; self->swatches != NULL && i < self->swatches->len; i++)
    {
      BwLibrarySwatch *swatch = self->swatches->pdata[i];

      g_ptr_array_add (titles, title_of (self, swatch));
      if (swatch->id == wanted)
        selected = i;
    }
  g_ptr_array_add (titles, NULL);
  gtk_string_list_splice (self->names, 0, g_list_model_get_n_items (G_LIST_MODEL (self->names)),
                          (const char *const *) titles->pdata);
  gtk_single_selection_set_selected (self->selection, selected);
  self->updating = FALSE;
  show_chosen (self);
}

static void
add_cb (BwSwatchPlace *self)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (BwLibrarySwatch) swatch = NULL;
  const char *yarn = gtk_string_list_get_string (self->yarns, 0);
  BwLibrarySwatch *like = chosen (self);

  if (yarn == NULL)
    {
      tell (self, _("Add a yarn first: a swatch is of a yarn."));
      return;
    }

  swatch = like == NULL ? bw_library_swatch_new (yarn, 5, "plain-low")
                        : bw_library_swatch_new (like->yarn, like->hook_mm, like->fabric);
  if (!bw_library_save_swatch (self->library, swatch, &error))
    {
      tell (self, error->message);
      return;
    }

  refresh (self, swatch->id);
  gtk_widget_grab_focus (bw_value_row_get_entry (self->quick_stitches));
}

static void
remove_cb (BwSwatchPlace *self)
{
  g_autoptr (GError) error = NULL;

  if (chosen (self) == NULL)
    return;

  if (!bw_library_remove_swatch (self->library, chosen (self)->id, &error))
    tell (self, error->message);
  else
    refresh (self, 0);
}

/**
 * bw_swatch_place_refresh:
 * @self: the place
 *
 * Reads the swatches again; the chosen one stays chosen.
 */
void
bw_swatch_place_refresh (BwSwatchPlace *self)
{
  g_return_if_fail (BW_IS_SWATCH_PLACE (self));

  refresh (self, chosen (self) == NULL ? 0 : chosen (self)->id);
}

/* ---- the widget -------------------------------------------------------- */

static void
bw_swatch_place_map (GtkWidget *widget)
{
  BwSwatchPlace *self = BW_SWATCH_PLACE (widget);

  bw_swatch_place_refresh (self);
  GTK_WIDGET_CLASS (bw_swatch_place_parent_class)->map (widget);
}

static void
bw_swatch_place_dispose (GObject *object)
{
  BwSwatchPlace *self = BW_SWATCH_PLACE (object);

  g_clear_pointer (&self->content, gtk_widget_unparent);
  g_clear_object (&self->selection);
  g_clear_object (&self->names);
  g_clear_object (&self->yarns);
  g_clear_pointer (&self->swatches, g_ptr_array_unref);

  G_OBJECT_CLASS (bw_swatch_place_parent_class)->dispose (object);
}

static void
bw_swatch_place_class_init (BwSwatchPlaceClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = bw_swatch_place_dispose;
  widget_class->map = bw_swatch_place_map;
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_template_from_resource (widget_class,
                                               "/org/brimwright/Brimwright/bw-swatch-place.ui");
  gtk_widget_class_bind_template_child (widget_class, BwSwatchPlace, content);
  gtk_widget_class_bind_template_child (widget_class, BwSwatchPlace, view);
  gtk_widget_class_bind_template_child (widget_class, BwSwatchPlace, editor);
  gtk_widget_class_bind_template_child (widget_class, BwSwatchPlace, values);
  gtk_widget_class_bind_template_child (widget_class, BwSwatchPlace, quick);
  gtk_widget_class_bind_template_child (widget_class, BwSwatchPlace, readings);
  gtk_widget_class_bind_template_child (widget_class, BwSwatchPlace, gauge);
  gtk_widget_class_bind_template_child (widget_class, BwSwatchPlace, plots);
  gtk_widget_class_bind_template_child (widget_class, BwSwatchPlace, hint);
  gtk_widget_class_bind_template_child (widget_class, BwSwatchPlace, add);
  gtk_widget_class_bind_template_child (widget_class, BwSwatchPlace, remove);
}

static void
append_choice (BwSwatchPlace *self,
               const char    *label,
               GtkWidget     *list)
{
  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  GtkWidget *text = gtk_label_new (label);

  gtk_label_set_xalign (GTK_LABEL (text), 0);
  gtk_widget_set_hexpand (list, TRUE);
  bw_spoken_name (list, label);
  bw_spoken_choice (GTK_DROP_DOWN (list), label);
  gtk_box_set_homogeneous (GTK_BOX (line), TRUE);
  gtk_box_append (GTK_BOX (line), text);
  gtk_box_append (GTK_BOX (line), list);
  gtk_box_append (GTK_BOX (self->values), line);
}

static void
make_list (BwSwatchPlace *self)
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
make_values (BwSwatchPlace *self)
{
  self->yarns = gtk_string_list_new (NULL);
  self->yarn = GTK_DROP_DOWN (gtk_drop_down_new (G_LIST_MODEL (g_object_ref (self->yarns)), NULL));
  self->fabric = GTK_DROP_DOWN (gtk_drop_down_new (NULL, NULL));
  append_choice (self, _("Yarn"), GTK_WIDGET (self->yarn));
  append_choice (self, _("Stitch pattern"), GTK_WIDGET (self->fabric));
  g_signal_connect_swapped (self->yarn, "notify::selected", G_CALLBACK (yarn_chosen_cb), self);
  g_signal_connect_swapped (self->fabric, "notify::selected", G_CALLBACK (fabric_chosen_cb), self);

  for (guint i = 0; i < N_VALUES; i++)
    {
      self->rows[i] = BW_VALUE_ROW (bw_value_row_new (_(value_labels[i])));
      g_object_set_data (G_OBJECT (self->rows[i]), "bw-value", GUINT_TO_POINTER (i));
      g_signal_connect (self->rows[i], "typed", G_CALLBACK (typed_cb), self);
      gtk_box_append (GTK_BOX (self->values), GTK_WIDGET (self->rows[i]));
    }
}

static BwValueRow *
make_quick (BwSwatchPlace *self,
            const char    *label,
            const char    *example)
{
  GtkWidget *row = bw_value_row_new (label);

  gtk_entry_set_placeholder_text (GTK_ENTRY (bw_value_row_get_entry (BW_VALUE_ROW (row))), example);
  g_signal_connect (row, "entered", G_CALLBACK (entered_cb), self);
  gtk_box_append (GTK_BOX (self->quick), row);

  return BW_VALUE_ROW (row);
}

static void
bw_swatch_place_init (BwSwatchPlace *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  make_list (self);
  make_values (self);
  self->photo = BW_SWATCH_PHOTO (bw_swatch_photo_new ());
  gtk_box_append (GTK_BOX (self->values), GTK_WIDGET (self->photo));
  g_signal_connect_swapped (self->photo, "changed", G_CALLBACK (save), self);
  self->quick_stitches = make_quick (self, _("Stitches across, then Enter"),
                                     _("20 in 127 mm washed"));
  self->quick_rounds = make_quick (self, _("Rounds upwards, then Enter"),
                                   _("16 in 91 mm washed"));
  self->readings_plot = BW_PLOT (bw_plot_new ());
  self->hooks_plot = BW_PLOT (bw_plot_new ());
  gtk_widget_set_hexpand (GTK_WIDGET (self->readings_plot), TRUE);
  gtk_widget_set_hexpand (GTK_WIDGET (self->hooks_plot), TRUE);
  gtk_box_append (GTK_BOX (self->plots), GTK_WIDGET (self->readings_plot));
  gtk_box_append (GTK_BOX (self->plots), GTK_WIDGET (self->hooks_plot));
  g_signal_connect_swapped (self->add, "clicked", G_CALLBACK (add_cb), self);
  g_signal_connect_swapped (self->remove, "clicked", G_CALLBACK (remove_cb), self);
}

/**
 * bw_swatch_place_set_library:
 * @self: the place
 * @reference: tables; must outlive the place
 * @library: (nullable): must outlive the place
 */
void
bw_swatch_place_set_library (BwSwatchPlace     *self,
                             const BwReference *reference,
                             BwLibrary         *library)
{
  GtkStringList *names = gtk_string_list_new (NULL);

  g_return_if_fail (BW_IS_SWATCH_PLACE (self));

  self->reference = reference;
  self->library = library;
  for (guint i = 0; i < reference->fabrics->fabrics->len; i++)
    gtk_string_list_append (names, fabric_at (self, i)->name_uk);
  self->updating = TRUE;
  gtk_drop_down_set_model (self->fabric, G_LIST_MODEL (names));
  self->updating = FALSE;
  g_object_unref (names);
  gtk_widget_set_sensitive (self->content, library != NULL);
}
