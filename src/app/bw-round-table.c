#define G_LOG_DOMAIN "bw-app"

#include "bw-app-words.h"

#include "bw-round-table.h"

#include "bw-hint.h"
#include "bw-later.h"
#include "bw-spoken.h"
#include "bw-words.h"

/* The table of rounds. Its selection is the document's chosen round; a tick in
 * the first column says how far the work has come. Its hundreds of cells are made
 * once the window has been painted. */

struct _BwRoundTable
{
  GtkWidget parent_instance;

  /* Template widgets */
  GtkWidget          *content;
  GtkCheckButton     *fold;
  GtkLabel           *progress;
  GtkScrolledWindow  *scroller;
  GtkColumnView      *view;
  GtkWidget          *copy_text;
  GtkWidget          *copy_csv;

  /* Owned references */
  BwDocument         *document;
  GSettings          *settings;
  BwRoundModel       *model;
  GtkSingleSelection *selection;

  int                 current;   /* round in hand; -1 = not begun */
  gboolean            made;
  gboolean            updating;
};

G_DEFINE_FINAL_TYPE (BwRoundTable, bw_round_table, GTK_TYPE_WIDGET)

static const struct
{
  const char *property;
  const char *title;
  float       xalign;
  gboolean    expand;
} columns[] = {
  { "label", N_("Round"), 0, FALSE },
  { "part", N_("Part"), 0, FALSE },
  { "colour", N_("Colour"), 0, FALSE },
  { "work", N_("Work"), 0, TRUE },
  { "stitches", N_("Stitches"), 1, FALSE },
  { "girth", N_("Girth"), 1, FALSE },
  { "height", N_("Height"), 1, FALSE },
  { "yarn", N_("Yarn"), 0, FALSE },
};

/* ---- the round in hand ------------------------------------------------- */

/* A design that lies in no library has nothing to be remembered by. */
static char *
memory_key (BwRoundTable *self)
{
  const BwGradedSize *size = bw_document_get_graded_size (self->document);

  if (size == NULL || bw_document_get_id (self->document) == 0)
    return NULL;

  return g_strdup_printf ("%" G_GINT64_FORMAT "/%s", bw_document_get_id (self->document),
                          size->choice->size->id);
}

static void
recall (BwRoundTable *self)
{
  g_autofree char *key = memory_key (self);
  g_autoptr (GVariant) rounds = NULL;

  self->current = -1;
  if (key == NULL || self->settings == NULL)
    return;

  rounds = g_settings_get_value (self->settings, "rounds-in-hand");
  g_variant_lookup (rounds, key, "i", &self->current);
}

static void
remember (BwRoundTable *self)
{
  g_autofree char *key = memory_key (self);
  g_autoptr (GVariant) old = NULL;
  GVariantDict dict;

  if (key == NULL || self->settings == NULL)
    return;

  old = g_settings_get_value (self->settings, "rounds-in-hand");
  g_variant_dict_init (&dict, old);
  if (self->current < 0)
    g_variant_dict_remove (&dict, key);
  else
    g_variant_dict_insert (&dict, key, "i", self->current);
  g_settings_set_value (self->settings, "rounds-in-hand", g_variant_dict_end (&dict));
}

static void
show_progress (BwRoundTable *self)
{
  const BwGradedSize *size = bw_document_get_graded_size (self->document);
  g_autofree char *text = NULL;
  guint n = size == NULL ? 0 : size->rounds->rounds->len;

  bw_round_model_set_current (self->model, self->current);
  if (size == NULL)
    text = g_strdup ("");
  else if (self->current <= 0)
    /* Translators: the size that the table shows */
    text = g_strdup (bw_words_size_name (size->choice));
  else
    text = g_strdup_printf (_("%s: %u of %u worked"), bw_words_size_name (size->choice),
                            MIN ((guint) self->current, n), n);
  gtk_label_set_text (self->progress, text);
}

static void
tick_cb (GtkCheckButton *button,
         BwRoundTable   *self)
{
  GtkListItem *item = g_object_get_data (G_OBJECT (button), "bw-item");
  BwRoundLine *line = gtk_list_item_get_item (item);
  gboolean done;

  if (line == NULL)
    return;

  /* Not the person's hand, but the cell following its line */
  g_object_get (line, "done", &done, NULL);
  if (done == gtk_check_button_get_active (button))
    return;

  self->current = (int) bw_round_line_get_first (line);
  if (gtk_check_button_get_active (button))
    self->current += (int) bw_round_line_get_n (line);
  remember (self);
  show_progress (self);
}

/* ---- cells ------------------------------------------------------------- */

/* Binds a property of the cell's widget to one of whatever line the cell shows. */
static void
follow (GtkListItem *item,
        const char  *property,
        GtkWidget   *widget,
        const char  *target)
{
  GtkExpression *line = gtk_property_expression_new (GTK_TYPE_LIST_ITEM, NULL, "item");
  GtkExpression *value = gtk_property_expression_new (BW_TYPE_ROUND_LINE, line, property);

  gtk_expression_bind (value, widget, target, item);
}

/* Work that is cut short is said whole. */
static gboolean
whole_text_cb (GtkWidget  *label,
               int         x,
               int         y,
               gboolean    keyboard,
               GtkTooltip *tooltip,
               gpointer    data)
{
  gtk_tooltip_set_text (tooltip, gtk_label_get_text (GTK_LABEL (label)));

  return *gtk_label_get_text (GTK_LABEL (label)) != '\0';
}

static void
set_up_text_cb (GtkSignalListItemFactory *factory,
                GtkListItem              *item,
                gpointer                  data)
{
  guint i = GPOINTER_TO_UINT (data);
  GtkWidget *label = gtk_label_new (NULL);

  gtk_label_set_xalign (GTK_LABEL (label), columns[i].xalign);
  gtk_label_set_single_line_mode (GTK_LABEL (label), TRUE);
  if (columns[i].expand)
    {
      gtk_label_set_ellipsize (GTK_LABEL (label), PANGO_ELLIPSIZE_END);
      gtk_label_set_width_chars (GTK_LABEL (label), 24);
      gtk_widget_set_has_tooltip (label, TRUE);
      g_signal_connect (label, "query-tooltip", G_CALLBACK (whole_text_cb), NULL);
    }
  if (columns[i].xalign > 0)
    gtk_widget_add_css_class (label, "numeric");
  follow (item, columns[i].property, label, "label");
  gtk_list_item_set_child (item, label);
}

static void
set_up_tick_cb (GtkSignalListItemFactory *factory,
                GtkListItem              *item,
                BwRoundTable             *self)
{
  GtkWidget *tick = gtk_check_button_new ();

  g_object_set_data (G_OBJECT (tick), "bw-item", item);
  gtk_widget_set_halign (tick, GTK_ALIGN_CENTER);
  bw_hint_set (tick, _("Worked so far"));
  follow (item, "done", tick, "active");
  g_signal_connect (tick, "toggled", G_CALLBACK (tick_cb), self);
  gtk_list_item_set_child (item, tick);
}

/* Rows and cells carry the names of their classes for a screen reader unless told:
 * a cell is called by its column, a row by what is worked in it. */
static void
name_cell_cb (GtkSignalListItemFactory *factory,
              GtkListItem              *item,
              const char               *title)
{
  GtkWidget *cell = gtk_widget_get_parent (gtk_list_item_get_child (item));

  if (cell != NULL)
    bw_spoken_name (cell, title);
}

static void
name_row (BwRoundLine *line,
          GParamSpec  *pspec,
          GtkWidget   *row)
{
  g_autofree char *label = NULL;
  g_autofree char *work = NULL;
  g_autofree char *name = NULL;
  g_autofree char *tick = NULL;

  g_object_get (line, "label", &label, "work", &work, NULL);
  name = *label == '\0' ? g_strdup (work) : g_strdup_printf ("%s: %s", label, work);
  bw_spoken_name (row, name);

  /* Translators: a tick; %s is the round, or what is worked in it */
  tick = g_strdup_printf (_("Worked so far: %s"), *label == '\0' ? work : label);
  bw_spoken_name (g_object_get_data (G_OBJECT (row), "bw-tick"), tick);
}

/* Lines stay where they are and change, so the row follows its line. */
static void
bind_row_cb (GtkSignalListItemFactory *factory,
             GtkListItem              *item,
             gpointer                  data)
{
  BwRoundLine *line = gtk_list_item_get_item (item);
  GtkWidget *cell = gtk_widget_get_parent (gtk_list_item_get_child (item));
  GtkWidget *row = cell == NULL ? NULL : gtk_widget_get_parent (cell);

  if (row == NULL)
    return;

  g_signal_connect_object (line, "notify::label", G_CALLBACK (name_row), row, 0);
  g_signal_connect_object (line, "notify::work", G_CALLBACK (name_row), row, 0);
  g_object_set_data (G_OBJECT (item), "bw-row", row);
  g_object_set_data (G_OBJECT (row), "bw-tick", gtk_list_item_get_child (item));
  name_row (line, NULL, row);
}

static void
unbind_row_cb (GtkSignalListItemFactory *factory,
               GtkListItem              *item,
               gpointer                  data)
{
  GtkWidget *row = g_object_get_data (G_OBJECT (item), "bw-row");

  if (row != NULL)
    g_signal_handlers_disconnect_by_func (gtk_list_item_get_item (item), name_row, row);
}

static GtkListItemFactory *
append_column (BwRoundTable *self,
               const char   *title,
               gboolean      expand,
               GCallback     set_up,
               gpointer      data)
{
  GtkListItemFactory *factory = gtk_signal_list_item_factory_new ();
  GtkColumnViewColumn *column;

  g_signal_connect (factory, "setup", set_up, data);
  g_signal_connect_data (factory, "bind", G_CALLBACK (name_cell_cb), g_strdup (title),
                         (GClosureNotify) g_free, 0);
  column = gtk_column_view_column_new (title, factory);
  gtk_column_view_column_set_expand (column, expand);
  gtk_column_view_column_set_resizable (column, expand);
  gtk_column_view_append_column (self->view, column);
  g_object_unref (column);

  return factory;
}

/* Titles have the name of their class for a screen reader, too. */
static void
name_titles (BwRoundTable *self)
{
  GListModel *list = gtk_column_view_get_columns (self->view);
  GtkWidget *header = gtk_widget_get_first_child (GTK_WIDGET (self->view));
  GtkWidget *title = gtk_widget_get_first_child (header);

  bw_spoken_name (header, _("Titles of the columns"));
  bw_spoken_name (gtk_widget_get_last_child (GTK_WIDGET (self->view)), _("Rounds"));
  for (guint i = 0; i < g_list_model_get_n_items (list) && title != NULL; i++)
    {
      g_autoptr (GtkColumnViewColumn) column = g_list_model_get_item (list, i);

      bw_spoken_name (title, gtk_column_view_column_get_title (column));
      title = gtk_widget_get_next_sibling (title);
    }
}

/* ---- following the document -------------------------------------------- */

static void
select_round (BwRoundTable *self)
{
  guint line = bw_round_model_find (self->model, bw_document_get_round (self->document));

  self->updating = TRUE;
  gtk_single_selection_set_selected (self->selection, line == G_MAXUINT
                                     ? GTK_INVALID_LIST_POSITION : line);
  if (line != G_MAXUINT)
    gtk_widget_activate_action (gtk_widget_get_last_child (GTK_WIDGET (self->view)),
                                "list.scroll-to-item", "u", line);
  self->updating = FALSE;
}

static void
show_rounds (BwRoundTable *self)
{
  if (self->document == NULL || !self->made)
    return;

  self->updating = TRUE;
  bw_round_model_show (self->model, bw_document_get_grading (self->document),
                       bw_document_get_size (self->document),
                       gtk_check_button_get_active (self->fold));
  self->updating = FALSE;
  show_progress (self);
  select_round (self);
}

static void
selected_cb (BwRoundTable *self)
{
  recall (self);
  show_rounds (self);
}

static void
row_selected_cb (GtkSingleSelection *selection,
                 GParamSpec         *pspec,
                 BwRoundTable       *self)
{
  BwRoundLine *line = gtk_single_selection_get_selected_item (selection);

  if (self->updating || self->document == NULL)
    return;

  bw_document_set_round (self->document,
                         line == NULL ? -1 : (int) bw_round_line_get_first (line));
}

static void
copy_text (GtkWidget  *widget,
           const char *name,
           GVariant   *parameter)
{
  BwRoundModel *model = bw_round_table_get_model (BW_ROUND_TABLE (widget));
  g_autofree char *text = bw_round_model_to_text (model,
                                                  g_str_equal (name, "rounds.copy-csv"));

  gdk_clipboard_set_text (gtk_widget_get_clipboard (widget), text);
}

/* Where lines run from the right, the table begins at the right. */
static void
width_changed_cb (GtkAdjustment *adjustment,
                  BwRoundTable  *self)
{
  double end = gtk_adjustment_get_upper (adjustment) - gtk_adjustment_get_page_size (adjustment);

  if (gtk_widget_get_direction (GTK_WIDGET (self)) == GTK_TEXT_DIR_RTL)
    gtk_adjustment_set_value (adjustment, end);
}

/* ---- the widget -------------------------------------------------------- */

static void
bw_round_table_dispose (GObject *object)
{
  BwRoundTable *self = BW_ROUND_TABLE (object);

  bw_round_table_set_document (self, NULL, NULL);
  g_clear_pointer (&self->content, gtk_widget_unparent);
  g_clear_object (&self->selection);
  g_clear_object (&self->model);

  G_OBJECT_CLASS (bw_round_table_parent_class)->dispose (object);
}

static void
bw_round_table_class_init (BwRoundTableClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = bw_round_table_dispose;
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_template_from_resource (widget_class,
                                               "/org/brimwright/Brimwright/bw-round-table.ui");
  gtk_widget_class_bind_template_child (widget_class, BwRoundTable, content);
  gtk_widget_class_bind_template_child (widget_class, BwRoundTable, fold);
  gtk_widget_class_bind_template_child (widget_class, BwRoundTable, progress);
  gtk_widget_class_bind_template_child (widget_class, BwRoundTable, scroller);
  gtk_widget_class_bind_template_child (widget_class, BwRoundTable, view);
  gtk_widget_class_bind_template_child (widget_class, BwRoundTable, copy_text);
  gtk_widget_class_bind_template_child (widget_class, BwRoundTable, copy_csv);
  gtk_widget_class_install_action (widget_class, "rounds.copy-text", NULL, copy_text);
  gtk_widget_class_install_action (widget_class, "rounds.copy-csv", NULL, copy_text);
}

static void
make_view (BwRoundTable *self)
{
  GtkListItemFactory *first;

  first = append_column (self, _("Worked"), FALSE, G_CALLBACK (set_up_tick_cb), self);
  g_signal_connect (first, "bind", G_CALLBACK (bind_row_cb), NULL);
  g_signal_connect (first, "unbind", G_CALLBACK (unbind_row_cb), NULL);
  for (guint i = 0; i < G_N_ELEMENTS (columns); i++)
    append_column (self, _(columns[i].title), columns[i].expand, G_CALLBACK (set_up_text_cb),
                   GUINT_TO_POINTER (i));
  gtk_column_view_set_model (self->view, GTK_SELECTION_MODEL (self->selection));
  name_titles (self);
}

static gboolean
make (GtkWidget *widget)
{
  BwRoundTable *self = BW_ROUND_TABLE (widget);

  if (self->made)
    return FALSE;

  self->made = TRUE;
  make_view (self);
  show_rounds (self);

  return FALSE;
}

static void
bw_round_table_init (BwRoundTable *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));

  self->current = -1;
  self->model = bw_round_model_new ();
  self->selection = gtk_single_selection_new (G_LIST_MODEL (g_object_ref (self->model)));
  gtk_single_selection_set_autoselect (self->selection, FALSE);
  gtk_single_selection_set_can_unselect (self->selection, TRUE);
  g_signal_connect (self->selection, "notify::selected-item", G_CALLBACK (row_selected_cb), self);
  bw_hint_set (self->copy_text, _("Copy the rounds as lines to read"));
  bw_hint_set (self->copy_csv, _("Copy the rounds as a table for a spreadsheet"));
  bw_later_add (GTK_WIDGET (self), make);
  g_signal_connect_swapped (self->fold, "toggled", G_CALLBACK (show_rounds), self);
  g_signal_connect (gtk_scrolled_window_get_hadjustment (self->scroller), "changed",
                    G_CALLBACK (width_changed_cb), self);
}

/**
 * bw_round_table_set_document:
 * @self: a table
 * @document: (nullable): the document whose chosen size it shows
 * @settings: (nullable): where the round in hand is remembered
 */
void
bw_round_table_set_document (BwRoundTable *self,
                             BwDocument   *document,
                             GSettings    *settings)
{
  g_return_if_fail (BW_IS_ROUND_TABLE (self));

  if (self->document != NULL)
    g_signal_handlers_disconnect_by_data (self->document, self);
  g_set_object (&self->document, document);
  g_set_object (&self->settings, settings);
  if (document == NULL)
    return;

  g_signal_connect_swapped (document, "changed", G_CALLBACK (show_rounds), self);
  g_signal_connect_swapped (document, "selected", G_CALLBACK (selected_cb), self);
  recall (self);
  show_rounds (self);
}

BwRoundModel *
bw_round_table_get_model (BwRoundTable *self)
{
  make (GTK_WIDGET (self));

  return self->model;
}
