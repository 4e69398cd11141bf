#define G_LOG_DOMAIN "bw-app"

#include "bw-app-words.h"

#include "bw-publish-dialog.h"

#include <string.h>

#include "bw-dialogs.h"
#include "bw-error.h"
#include "bw-library-revision.h"
#include "bw-pages.h"
#include "bw-print.h"
#include "bw-publish-file.h"
#include "bw-publish-kind.h"
#include "bw-words.h"

/* Publishing: what goes into the file on the left, its pages as they will be on
 * the right. A revision is given a number when nothing stands against it, or what
 * does has been dismissed by name. */

enum
{
  TERMS_UK,
  TERMS_US,
  TERMS_BOTH,
};

struct _BwPublishDialog
{
  GtkWindow parent_instance;

  /* Template widgets */
  GtkDropDown    *sizes;
  GtkDropDown    *terms;
  GtkDropDown    *units;
  GtkDropDown    *form;
  GtkDropDown    *paper;
  GtkCheckButton *charts;
  GtkCheckButton *full;
  GtkWidget      *against;
  GtkEditable    *note;
  GtkWidget      *revise;
  GtkWidget      *print;
  GtkWidget      *save;
  GtkLabel       *message;
  GtkDrawingArea *preview;
  GtkLabel       *place;
  GtkWidget      *previous;
  GtkWidget      *next;

  /* Owned references */
  BwDocument     *document;
  BwPages        *pages;      /* NULL while nothing can be published */

  gint64          date;
  guint           revision;   /* 0 = a draft */
  guint           page;
  guint           n_against;  /* errors that are not dismissed */
};

G_DEFINE_FINAL_TYPE (BwPublishDialog, bw_publish_dialog, GTK_TYPE_WINDOW)

static void
tell (BwPublishDialog *self,
      const char      *message)
{
  gtk_label_set_text (self->message, message == NULL ? "" : message);
  gtk_widget_set_visible (GTK_WIDGET (self->message), message != NULL);
}

static gboolean
can_publish (BwPublishDialog *self)
{
  const BwGrading *latest = bw_document_get_latest (self->document);

  return latest != NULL && latest->sizes->len > 0;
}

/* ---- the edition ------------------------------------------------------- */

static BwEdition *
make_edition (BwPublishDialog *self,
              BwTerms          terms)
{
  BwEdition *edition = bw_edition_new (bw_document_get_design (self->document), self->date);
  guint size = gtk_drop_down_get_selected (self->sizes);

  edition->terms = terms;
  edition->units = gtk_drop_down_get_selected (self->units) == 1 ? BW_UNITS_INCH : BW_UNITS_CM;
  edition->size = size == 0 || size == GTK_INVALID_LIST_POSITION ? BW_EDITION_ALL_SIZES
                                                                 : (int) size - 1;
  edition->form = (BwEditionForm) gtk_drop_down_get_selected (self->form);
  edition->paper = gtk_drop_down_get_selected (self->paper) == 1 ? BW_PAPER_LETTER : BW_PAPER_A4;
  edition->charts = gtk_check_button_get_active (self->charts);
  edition->full = edition->size >= 0 && gtk_check_button_get_active (self->full);
  edition->revision.number = self->revision;
  edition->revision.date = self->date;

  return edition;
}

static BwTerms
shown_terms (BwPublishDialog *self)
{
  return gtk_drop_down_get_selected (self->terms) == TERMS_US ? BW_TERMS_US : BW_TERMS_UK;
}

/* ---- the preview ------------------------------------------------------- */

static void
show_page (BwPublishDialog *self)
{
  guint n = self->pages == NULL ? 0 : bw_pages_n (self->pages);
  g_autofree char *text = n == 0 ? g_strdup ("")
                                 : g_strdup_printf (_("Page %u of %u"), self->page + 1, n);

  gtk_label_set_text (self->place, text);
  gtk_widget_set_sensitive (self->previous, self->page > 0);
  gtk_widget_set_sensitive (self->next, self->page + 1 < n);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->preview),
                                  GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, text, -1);
  gtk_widget_queue_draw (GTK_WIDGET (self->preview));
}

static void
turn_page (BwPublishDialog *self,
           int              step)
{
  guint n = self->pages == NULL ? 0 : bw_pages_n (self->pages);
  int page = (int) self->page + step;

  if (page < 0 || page >= (int) n)
    return;

  self->page = (guint) page;
  show_page (self);
}

static void
previous_cb (BwPublishDialog *self)
{
  turn_page (self, -1);
}

static void
next_cb (BwPublishDialog *self)
{
  turn_page (self, 1);
}

static void
draw_cb (GtkDrawingArea *area,
         cairo_t        *cr,
         int             width,
         int             height,
         gpointer        data)
{
  BwPublishDialog *self = data;
  double paper_width;
  double paper_height;
  double scale;

  if (self->pages == NULL)
    return;

  bw_pages_size (self->pages, &paper_width, &paper_height);
  scale = MIN ((width - 16) / paper_width, (height - 16) / paper_height);
  cairo_translate (cr, (width - scale * paper_width) / 2, (height - scale * paper_height) / 2);
  cairo_scale (cr, scale, scale);
  cairo_rectangle (cr, 0, 0, paper_width, paper_height);
  cairo_set_source_rgb (cr, 1, 1, 1);
  cairo_fill_preserve (cr);
  cairo_set_source_rgb (cr, 0.6, 0.6, 0.6);
  cairo_set_line_width (cr, 1 / scale);
  cairo_stroke_preserve (cr);
  cairo_clip (cr);
  bw_pages_draw (self->pages, self->page, cr);
}

static void
show_remarks (BwPublishDialog *self)
{
  const GPtrArray *remarks = bw_pages_remarks (self->pages);
  GString *text = g_string_new (NULL);

  for (guint i = 0; remarks != NULL && i < remarks->len; i++)
    g_string_append_printf (text, "%s%s", i > 0 ? " " : "", (const char *) remarks->pdata[i]);
  tell (self, text->len > 0 ? text->str : NULL);
  g_string_free (text, TRUE);
}

/* Sets the pages anew; the one that is shown stays where it can. */
static void
update_pages (BwPublishDialog *self)
{
  guint size = gtk_drop_down_get_selected (self->sizes);

  gtk_widget_set_sensitive (GTK_WIDGET (self->full), size > 0);
  if (self->document == NULL || !can_publish (self))
    return;

  g_clear_pointer (&self->pages, bw_pages_free);
  {
    g_autoptr (BwEdition) edition = make_edition (self, shown_terms (self));

    self->pages = bw_pages_new (bw_document_get_latest (self->document), edition);
  }
  self->page = MIN (self->page, bw_pages_n (self->pages) - 1);
  show_remarks (self);
  show_page (self);
}

/* ---- what stands against a revision ------------------------------------ */

static void
count_against (BwPublishDialog *self)
{
  gboolean kept = bw_document_get_library (self->document) != NULL &&
                  bw_document_get_id (self->document) != 0;

  self->n_against = 0;
  for (GtkWidget *child = gtk_widget_get_first_child (self->against); child != NULL;
       child = gtk_widget_get_next_sibling (child))
    if (GTK_IS_CHECK_BUTTON (child) && !gtk_check_button_get_active (GTK_CHECK_BUTTON (child)))
      self->n_against++;

  gtk_widget_set_sensitive (self->revise, kept && can_publish (self) && self->n_against == 0);
}

static GtkWidget *
make_text (const char *text)
{
  GtkWidget *label = gtk_label_new (text);

  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_label_set_max_width_chars (GTK_LABEL (label), 40);

  return label;
}

static void
append_error (BwPublishDialog *self,
              const BwFinding *finding)
{
  const BwGrading *latest = bw_document_get_latest (self->document);
  g_autoptr (BwWordsFinding) words = bw_words_finding (latest, finding);
  g_autofree char *text = NULL;
  GtkWidget *button = gtk_check_button_new ();

  /* Translators: code, where and what of a finding that is dismissed */
  text = g_strdup_printf (_("Publish in spite of %s: %s %s"), words->code, words->where,
                          words->what);
  gtk_check_button_set_child (GTK_CHECK_BUTTON (button), make_text (text));
  gtk_accessible_update_property (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_PROPERTY_LABEL, text, -1);
  g_signal_connect_swapped (button, "toggled", G_CALLBACK (count_against), self);
  gtk_box_append (GTK_BOX (self->against), button);
}

static void
list_against (BwPublishDialog *self)
{
  const BwGrading *latest = bw_document_get_latest (self->document);
  guint counts[BW_SEVERITY_REFUSAL + 1] = { 0 };
  g_autofree char *sum = NULL;

  for (guint i = 0; latest != NULL && i < latest->findings->len; i++)
    counts[g_array_index (latest->findings, BwFinding, i).severity]++;

  if (!can_publish (self))
    sum = g_strdup (_("This family cannot be graded, so there is nothing to publish; the findings "
                      "say why."));
  else
    sum = g_strdup_printf (_("Findings: %u errors, %u warnings, %u notes."),
                           counts[BW_SEVERITY_ERROR], counts[BW_SEVERITY_WARNING],
                           counts[BW_SEVERITY_NOTE]);
  gtk_box_append (GTK_BOX (self->against), make_text (sum));
  for (guint i = 0; can_publish (self) && i < latest->findings->len; i++)
    if (g_array_index (latest->findings, BwFinding, i).severity >= BW_SEVERITY_ERROR)
      append_error (self, &g_array_index (latest->findings, BwFinding, i));

  gtk_widget_set_sensitive (self->print, can_publish (self));
  gtk_widget_set_sensitive (self->save, can_publish (self));
  count_against (self);
}

/**
 * bw_publish_dialog_revise:
 * @self: a dialogue
 * @error: (out) (optional): what the library says
 *
 * Gives what is shown the next number of a revision and freezes it.
 *
 * Returns: whether it was done
 */
gboolean
bw_publish_dialog_revise (BwPublishDialog  *self,
                          GError          **error)
{
  guint number;

  g_return_val_if_fail (BW_IS_PUBLISH_DIALOG (self), FALSE);
  g_return_val_if_fail (self->n_against == 0, FALSE);

  if (!bw_document_save (self->document, error) ||
      !bw_library_revise (bw_document_get_library (self->document),
                          bw_document_get_id (self->document),
                          bw_document_get_latest (self->document),
                          gtk_editable_get_text (self->note), &number, error))
    return FALSE;

  self->revision = number;
  update_pages (self);

  return TRUE;
}

static void
revise_cb (BwPublishDialog *self)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *text = NULL;

  if (!bw_publish_dialog_revise (self, &error))
    {
      tell (self, error->message);
      return;
    }

  text = g_strdup_printf (_("This is revision %u now; it is never altered."), self->revision);
  tell (self, text);
  gtk_widget_set_sensitive (self->revise, FALSE);
}

/* ---- files and paper ---------------------------------------------------- */

static gboolean
write_one (BwPublishDialog  *self,
           const char       *path,
           BwTerms           terms,
           GError          **error)
{
  const BwPublishKind *kind = bw_publish_kind_for_file (path);
  g_autoptr (BwEdition) edition = make_edition (self, terms);
  g_autofree char *text = NULL;
  gsize length;

  if (kind == NULL)
    {
      g_set_error (error, BW_ERROR, BW_ERROR_RANGE,
                   _("The name “%s” does not tell what kind of file it is; let it end in .pdf or "
                     ".html."), path);
      return FALSE;
    }

  text = kind->make (bw_document_get_latest (self->document), edition, &length, error);

  return text != NULL && bw_publish_file_write (path, text, length, error);
}

/**
 * bw_publish_dialog_write:
 * @self: a dialogue
 * @path: a file whose ending says what it is; for both terms there are two
 * @error: (out) (optional): why not
 *
 * Returns: whether everything was written
 */
gboolean
bw_publish_dialog_write (BwPublishDialog  *self,
                         const char       *path,
                         GError          **error)
{
  g_autofree char *uk = NULL;
  g_autofree char *us = NULL;

  g_return_val_if_fail (BW_IS_PUBLISH_DIALOG (self), FALSE);

  if (gtk_drop_down_get_selected (self->terms) != TERMS_BOTH)
    return write_one (self, path, shown_terms (self), error);

  uk = bw_edition_path (path, BW_TERMS_UK);
  us = bw_edition_path (path, BW_TERMS_US);

  return write_one (self, uk, BW_TERMS_UK, error) && write_one (self, us, BW_TERMS_US, error);
}

static void
file_chosen_cb (GFile    *file,
                gpointer  data)
{
  BwPublishDialog *self = data;
  g_autofree char *path = g_file_get_path (file);
  g_autofree char *text = NULL;
  g_autoptr (GError) error = NULL;

  if (path == NULL)
    {
      tell (self, _("Choose a place on this computer."));
      return;
    }

  text = bw_publish_dialog_write (self, path, &error) ? g_strdup_printf (_("Written: %s"), path)
                                                      : g_strdup (error->message);
  tell (self, text);
}

static void
save_cb (BwPublishDialog *self)
{
  static const char *const endings[] = { "pdf", "html", NULL };
  g_autofree char *name = g_strconcat (bw_document_get_design (self->document)->name, ".pdf", NULL);

  bw_dialogs_save_as (GTK_WINDOW (self), _("Save the pattern"), _("PDF files and web pages"),
                      endings, g_strdelimit (name, "/", '-'), file_chosen_cb, self);
}

static void
print_cb (BwPublishDialog *self)
{
  g_autoptr (BwEdition) edition = make_edition (self, shown_terms (self));

  bw_print (GTK_WINDOW (self), bw_document_get_latest (self->document), edition);
}

/* ---- the dialogue ------------------------------------------------------ */

static void
bw_publish_dialog_dispose (GObject *object)
{
  BwPublishDialog *self = BW_PUBLISH_DIALOG (object);

  g_clear_pointer (&self->pages, bw_pages_free);
  g_clear_object (&self->document);

  G_OBJECT_CLASS (bw_publish_dialog_parent_class)->dispose (object);
}

static void
bw_publish_dialog_class_init (BwPublishDialogClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = bw_publish_dialog_dispose;
  gtk_widget_class_set_template_from_resource (widget_class,
                                               "/org/brimwright/Brimwright/bw-publish-dialog.ui");
#define BIND(child) gtk_widget_class_bind_template_child (widget_class, BwPublishDialog, child)
  BIND (sizes);
  BIND (terms);
  BIND (units);
  BIND (form);
  BIND (paper);
  BIND (charts);
  BIND (full);
  BIND (against);
  BIND (note);
  BIND (revise);
  BIND (print);
  BIND (save);
  BIND (message);
  BIND (preview);
  BIND (place);
  BIND (previous);
  BIND (next);
#undef BIND
  gtk_widget_class_add_binding_action (widget_class, GDK_KEY_Escape, 0, "window.close", NULL);
}

static void
bw_publish_dialog_init (BwPublishDialog *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  self->date = g_get_real_time () / G_USEC_PER_SEC;
  gtk_drawing_area_set_draw_func (self->preview, draw_cb, self, NULL);
  g_signal_connect_swapped (self->previous, "clicked", G_CALLBACK (previous_cb), self);
  g_signal_connect_swapped (self->next, "clicked", G_CALLBACK (next_cb), self);
  g_signal_connect_swapped (self->revise, "clicked", G_CALLBACK (revise_cb), self);
  g_signal_connect_swapped (self->print, "clicked", G_CALLBACK (print_cb), self);
  g_signal_connect_swapped (self->save, "clicked", G_CALLBACK (save_cb), self);
}

/* Each choice sets the pages anew. */
static void
follow_choices (BwPublishDialog *self)
{
  GtkDropDown *lists[] = { self->sizes, self->terms, self->units, self->form, self->paper };

  for (guint i = 0; i < G_N_ELEMENTS (lists); i++)
    g_signal_connect_swapped (lists[i], "notify::selected", G_CALLBACK (update_pages), self);
  g_signal_connect_swapped (self->charts, "toggled", G_CALLBACK (update_pages), self);
  g_signal_connect_swapped (self->full, "toggled", G_CALLBACK (update_pages), self);
}

static void
list_sizes (BwPublishDialog *self)
{
  const BwGrading *latest = bw_document_get_latest (self->document);
  g_autoptr (GtkStringList) names = gtk_string_list_new (NULL);

  gtk_string_list_append (names, _("All sizes in one text"));
  for (guint k = 0; latest != NULL && k < latest->sizes->len; k++)
    gtk_string_list_append (names, bw_words_size_name (
                              ((const BwGradedSize *) latest->sizes->pdata[k])->choice));
  gtk_drop_down_set_model (self->sizes, G_LIST_MODEL (names));
}

/**
 * bw_publish_dialog_new:
 * @parent: the window that asks
 * @document: what is to be published
 *
 * Returns: (transfer floating): the dialogue, not shown yet
 */
GtkWidget *
bw_publish_dialog_new (GtkWindow  *parent,
                       BwDocument *document)
{
  BwPublishDialog *self = g_object_new (BW_TYPE_PUBLISH_DIALOG, "transient-for", parent, NULL);
  const BwDesign *design = bw_document_get_design (document);

  self->document = g_object_ref (document);
  list_sizes (self);
  gtk_drop_down_set_selected (self->terms, design->terms == BW_TERMS_US ? TERMS_US : TERMS_UK);
  gtk_drop_down_set_selected (self->units, design->units == BW_UNITS_INCH ? 1 : 0);
  list_against (self);
  follow_choices (self);
  update_pages (self);

  return GTK_WIDGET (self);
}

guint
bw_publish_dialog_get_n_pages (BwPublishDialog *self)
{
  return self->pages == NULL ? 0 : bw_pages_n (self->pages);
}
