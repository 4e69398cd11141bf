#define G_LOG_DOMAIN "bw-app"

#include "bw-app-words.h"

#include "bw-pattern-place.h"

#include <string.h>

#include "bw-dialogs.h"
#include "bw-hint.h"
#include "bw-words-audit.h"

/* Somebody's written pattern, typed, pasted or opened, and what a technical editor
 * would mark in it: marked in the text, and listed beside it. It is read again a
 * moment after each change; nothing is changed but by the person. */

#define READ_MS 200 /* after a change */

struct _BwPatternPlace
{
  GtkWidget parent_instance;

  /* Template widgets */
  GtkWidget     *content;
  GtkTextView   *view;
  GtkDropDown   *terms;
  GtkWidget     *open;
  GtkLabel      *sum;
  GtkWidget     *findings;

  /* Borrowed references */
  const BwReference *reference;

  /* Owned references */
  GtkTextTag    *tags[BW_SEVERITY_REFUSAL + 1];
  BwPattern     *pattern;   /* as it was read last; NULL = it was not */
  GArray        *found;     /* of BwPatternFinding */

  guint          read_source;
};

G_DEFINE_FINAL_TYPE (BwPatternPlace, bw_pattern_place, GTK_TYPE_WIDGET)

static void
clear_findings (BwPatternPlace *self)
{
  GtkWidget *child;

  while ((child = gtk_widget_get_first_child (self->findings)) != NULL)
    gtk_box_remove (GTK_BOX (self->findings), child);
  g_clear_pointer (&self->found, g_array_unref);
  g_clear_pointer (&self->pattern, bw_pattern_free);
}

/* ---- places in the text ------------------------------------------------- */

/* The text is the pattern's own, byte for byte. */
static void
find_place (BwPatternPlace         *self,
            const BwPatternFinding *finding,
            GtkTextIter            *start,
            GtkTextIter            *end)
{
  GtkTextBuffer *buffer = gtk_text_view_get_buffer (self->view);
  const char *text = self->pattern->text;
  glong first = g_utf8_strlen (text, finding->offset);
  glong n = g_utf8_strlen (text + finding->offset, finding->length);

  gtk_text_buffer_get_iter_at_offset (buffer, start, (int) first);
  *end = *start;
  if (n > 0)
    gtk_text_iter_forward_chars (end, (int) n);
  else if (!gtk_text_iter_ends_line (end))
    gtk_text_iter_forward_to_line_end (end);
}

static const BwPatternFinding *
finding_of (BwPatternPlace *self,
            GtkWidget      *widget)
{
  guint i = GPOINTER_TO_UINT (g_object_get_data (G_OBJECT (widget), "bw-finding"));

  return &g_array_index (self->found, BwPatternFinding, i);
}

static void
go_there_cb (GtkWidget      *button,
             BwPatternPlace *self)
{
  GtkTextIter start;
  GtkTextIter end;

  find_place (self, finding_of (self, button), &start, &end);
  gtk_text_buffer_select_range (gtk_text_view_get_buffer (self->view), &start, &end);
  gtk_text_view_scroll_to_iter (self->view, &start, 0.1, FALSE, 0, 0);
  gtk_widget_grab_focus (GTK_WIDGET (self->view));
}

/**
 * bw_pattern_place_mend:
 * @self: the place
 * @finding: index of a finding whose mend is known
 *
 * Writes what is suggested in place of the text at fault; undone as typing is.
 */
void
bw_pattern_place_mend (BwPatternPlace *self,
                       guint           finding)
{
  GtkTextBuffer *buffer = gtk_text_view_get_buffer (self->view);
  const BwPatternFinding *it;
  GtkTextIter start;
  GtkTextIter end;

  g_return_if_fail (BW_IS_PATTERN_PLACE (self));
  g_return_if_fail (self->found != NULL && finding < self->found->len);

  it = &g_array_index (self->found, BwPatternFinding, finding);
  if (it->mended == NULL || it->length == 0)
    return;

  find_place (self, it, &start, &end);
  gtk_text_buffer_begin_user_action (buffer);
  gtk_text_buffer_delete (buffer, &start, &end);
  gtk_text_buffer_insert (buffer, &start, it->mended, -1);
  gtk_text_buffer_end_user_action (buffer);
  bw_pattern_place_audit (self);
}

static void
mend_cb (GtkWidget      *button,
         BwPatternPlace *self)
{
  bw_pattern_place_mend (self, GPOINTER_TO_UINT (g_object_get_data (G_OBJECT (button),
                                                                    "bw-finding")));
}

/* ---- showing ------------------------------------------------------------ */

static GtkWidget *
make_text (const char *text,
           const char *css_class)
{
  GtkWidget *label = gtk_label_new (text);

  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_label_set_wrap_mode (GTK_LABEL (label), PANGO_WRAP_WORD_CHAR);
  gtk_label_set_xalign (GTK_LABEL (label), 0);
  if (css_class != NULL)
    gtk_widget_add_css_class (label, css_class);

  return label;
}

static GtkWidget *
make_button (BwPatternPlace *self,
             guint           i,
             const char     *text,
             GCallback       clicked)
{
  GtkWidget *button = gtk_button_new ();

  gtk_button_set_child (GTK_BUTTON (button), make_text (text, NULL));
  gtk_widget_set_halign (button, GTK_ALIGN_START);
  gtk_accessible_update_property (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_PROPERTY_LABEL, text, -1);
  g_object_set_data (G_OBJECT (button), "bw-finding", GUINT_TO_POINTER (i));
  g_signal_connect (button, "clicked", clicked, self);

  return button;
}

static void
append_finding (BwPatternPlace *self,
                guint           i)
{
  static const char *const classes[] = { "note", "warning", "error", "error" };
  const BwPatternFinding *finding = &g_array_index (self->found, BwPatternFinding, i);
  g_autoptr (BwWordsFinding) words = bw_words_audit_finding (self->pattern, finding);
  GtkWidget *card = gtk_box_new (GTK_ORIENTATION_VERTICAL, 4);
  g_autofree char *head = NULL;
  g_autofree char *where = NULL;

  head = g_strdup_printf (*words->where == '\0' ? "%s %s%s" : "%s %s: %s", words->code,
                          bw_words_severity (words->severity), words->where);
  where = g_strdup_printf (_("Show line %u"), finding->line);
  gtk_widget_add_css_class (card, "finding");
  gtk_widget_add_css_class (card, classes[words->severity]);
  gtk_box_append (GTK_BOX (card), make_text (head, "heading"));
  gtk_box_append (GTK_BOX (card), make_text (words->what, NULL));
  if (words->why != NULL && *words->why != '\0')
    gtk_box_append (GTK_BOX (card), make_text (words->why, "dim-label"));
  if (words->mend != NULL && *words->mend != '\0')
    gtk_box_append (GTK_BOX (card), make_text (words->mend, NULL));
  gtk_box_append (GTK_BOX (card), make_button (self, i, where, G_CALLBACK (go_there_cb)));
  if (finding->mended != NULL && finding->length > 0)
    {
      g_autofree char *write = g_strdup_printf (_("Write “%s” there"), finding->mended);

      gtk_box_append (GTK_BOX (card), make_button (self, i, write, G_CALLBACK (mend_cb)));
    }
  gtk_box_append (GTK_BOX (self->findings), card);
}

static void
mark (BwPatternPlace *self)
{
  GtkTextBuffer *buffer = gtk_text_view_get_buffer (self->view);

  for (guint i = 0; i < MIN (self->found->len, BW_PATTERN_PLACE_SHOWN); i++)
    {
      const BwPatternFinding *finding = &g_array_index (self->found, BwPatternFinding, i);
      GtkTextIter start;
      GtkTextIter end;

      find_place (self, finding, &start, &end);
      gtk_text_buffer_apply_tag (buffer, self->tags[finding->severity], &start, &end);
    }
}

static void
show_sum (BwPatternPlace *self)
{
  guint counts[BW_SEVERITY_REFUSAL + 1] = { 0 };
  g_autofree char *text = NULL;

  for (guint i = 0; i < self->found->len; i++)
    counts[g_array_index (self->found, BwPatternFinding, i).severity]++;

  if (self->found->len == 0)
    text = g_strdup_printf (_("Nothing was found; read as %s."),
                            bw_words_terms (self->pattern->terms));
  else if (self->found->len > BW_PATTERN_PLACE_SHOWN)
    text = g_strdup_printf (_("%u errors, %u warnings, %u notes; the first %u are shown."),
                            counts[BW_SEVERITY_ERROR], counts[BW_SEVERITY_WARNING],
                            counts[BW_SEVERITY_NOTE], (guint) BW_PATTERN_PLACE_SHOWN);
  else
    text = g_strdup_printf (_("%u errors, %u warnings, %u notes; read as %s."),
                            counts[BW_SEVERITY_ERROR], counts[BW_SEVERITY_WARNING],
                            counts[BW_SEVERITY_NOTE], bw_words_terms (self->pattern->terms));
  gtk_label_set_text (self->sum, text);
}

static int
asked_terms (BwPatternPlace *self)
{
  static const int terms[] = { BW_TERMS_UNSAID, BW_TERMS_UK, BW_TERMS_US };
  guint i = gtk_drop_down_get_selected (self->terms);

  return i < G_N_ELEMENTS (terms) ? terms[i] : BW_TERMS_UNSAID;
}

/**
 * bw_pattern_place_audit:
 * @self: the place
 *
 * Reads the text now, rather than a moment after its last change.
 */
void
bw_pattern_place_audit (BwPatternPlace *self)
{
  GtkTextBuffer *buffer = gtk_text_view_get_buffer (self->view);
  g_autofree char *text = NULL;
  g_autoptr (GError) error = NULL;
  GtkTextIter start;
  GtkTextIter end;

  g_return_if_fail (BW_IS_PATTERN_PLACE (self));

  g_clear_handle_id (&self->read_source, g_source_remove);
  clear_findings (self);
  gtk_text_buffer_get_bounds (buffer, &start, &end);
  for (guint i = 0; i < G_N_ELEMENTS (self->tags); i++)
    gtk_text_buffer_remove_tag (buffer, self->tags[i], &start, &end);
  text = gtk_text_buffer_get_text (buffer, &start, &end, TRUE);
  if (*text == '\0')
    {
      gtk_label_set_text (self->sum, _("Paste a written pattern here, or open one: what does not "
                                       "add up is marked in it."));
      return;
    }

  self->pattern = bw_pattern_read (self->reference->stitches, text, -1, asked_terms (self), &error);
  if (self->pattern == NULL)
    {
      gtk_label_set_text (self->sum, error->message);
      return;
    }

  self->found = bw_pattern_audit_by (self->pattern, self->reference);
  mark (self);
  for (guint i = 0; i < MIN (self->found->len, BW_PATTERN_PLACE_SHOWN); i++)
    append_finding (self, i);
  show_sum (self);
}

static gboolean
read_cb (gpointer data)
{
  BwPatternPlace *self = data;

  self->read_source = 0;
  bw_pattern_place_audit (self);

  return G_SOURCE_REMOVE;
}

static void
changed_cb (BwPatternPlace *self)
{
  g_clear_handle_id (&self->read_source, g_source_remove);
  self->read_source = g_timeout_add (READ_MS, read_cb, self);
}

/* ---- files ---------------------------------------------------------------- */

/**
 * bw_pattern_place_open:
 * @self: the place
 * @file: a text
 * @error: (out) (optional): why it cannot be read
 *
 * Returns: whether the text is shown
 */
gboolean
bw_pattern_place_open (BwPatternPlace  *self,
                       GFile           *file,
                       GError         **error)
{
  g_autofree char *bytes = NULL;
  g_autofree char *text = NULL;
  gsize length;

  g_return_val_if_fail (BW_IS_PATTERN_PLACE (self), FALSE);

  if (!g_file_load_contents (file, NULL, &bytes, &length, NULL, error))
    return FALSE;

  text = g_utf8_make_valid (bytes, (gssize) length);
  gtk_text_buffer_set_text (gtk_text_view_get_buffer (self->view), text, -1);
  bw_pattern_place_audit (self);

  return TRUE;
}

static void
opened_cb (GFile    *file,
           gpointer  data)
{
  BwPatternPlace *self = data;
  g_autoptr (GError) error = NULL;

  if (!bw_pattern_place_open (self, file, &error))
    gtk_label_set_text (self->sum, error->message);
}

static void
open_cb (BwPatternPlace *self)
{
  static const char *const endings[] = { "txt", "md", "text", NULL };

  bw_dialogs_open_as (GTK_WINDOW (gtk_widget_get_root (GTK_WIDGET (self))),
                      _("Open a written pattern"), _("Texts"), endings, opened_cb, self);
}

/* ---- the widget ---------------------------------------------------------- */

static void
bw_pattern_place_dispose (GObject *object)
{
  BwPatternPlace *self = BW_PATTERN_PLACE (object);

  g_clear_handle_id (&self->read_source, g_source_remove);
  g_clear_pointer (&self->found, g_array_unref);
  g_clear_pointer (&self->pattern, bw_pattern_free);
  g_clear_pointer (&self->content, gtk_widget_unparent);

  G_OBJECT_CLASS (bw_pattern_place_parent_class)->dispose (object);
}

static void
bw_pattern_place_class_init (BwPatternPlaceClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = bw_pattern_place_dispose;
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_template_from_resource (widget_class,
                                               "/org/brimwright/Brimwright/bw-pattern-place.ui");
  gtk_widget_class_bind_template_child (widget_class, BwPatternPlace, content);
  gtk_widget_class_bind_template_child (widget_class, BwPatternPlace, view);
  gtk_widget_class_bind_template_child (widget_class, BwPatternPlace, terms);
  gtk_widget_class_bind_template_child (widget_class, BwPatternPlace, open);
  gtk_widget_class_bind_template_child (widget_class, BwPatternPlace, sum);
  gtk_widget_class_bind_template_child (widget_class, BwPatternPlace, findings);
}

/* Lines of different kinds, so that colour is not the only sign. */
static void
make_tags (BwPatternPlace *self)
{
  static const struct { PangoUnderline line; const char *rgb; } looks[] = {
    [BW_SEVERITY_NOTE] = { PANGO_UNDERLINE_SINGLE, "#3465A4" },
    [BW_SEVERITY_WARNING] = { PANGO_UNDERLINE_DOUBLE, "#B5690B" },
    [BW_SEVERITY_ERROR] = { PANGO_UNDERLINE_ERROR, "#C01C28" },
    [BW_SEVERITY_REFUSAL] = { PANGO_UNDERLINE_ERROR, "#C01C28" },
  };
  GtkTextBuffer *buffer = gtk_text_view_get_buffer (self->view);

  for (guint i = 0; i < G_N_ELEMENTS (looks); i++)
    {
      GdkRGBA rgba;

      gdk_rgba_parse (&rgba, looks[i].rgb);
      self->tags[i] = gtk_text_buffer_create_tag (buffer, NULL, "underline", looks[i].line,
                                                  "underline-rgba", &rgba, NULL);
    }
}

static void
bw_pattern_place_init (BwPatternPlace *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  make_tags (self);
  bw_hint_set (GTK_WIDGET (self->terms), _("Whose names the stitches go by, where the text does "
                                           "not say"));
  g_signal_connect_swapped (gtk_text_view_get_buffer (self->view), "changed",
                            G_CALLBACK (changed_cb), self);
  g_signal_connect_swapped (self->terms, "notify::selected", G_CALLBACK (changed_cb), self);
  g_signal_connect_swapped (self->open, "clicked", G_CALLBACK (open_cb), self);
}

/**
 * bw_pattern_place_set_reference:
 * @self: the place
 * @reference: tables; must outlive the place
 */
void
bw_pattern_place_set_reference (BwPatternPlace    *self,
                                const BwReference *reference)
{
  g_return_if_fail (BW_IS_PATTERN_PLACE (self));

  self->reference = reference;
  bw_pattern_place_audit (self);
}

GtkTextBuffer *
bw_pattern_place_get_buffer (BwPatternPlace *self)
{
  return gtk_text_view_get_buffer (self->view);
}

guint
bw_pattern_place_get_n_findings (BwPatternPlace *self)
{
  return self->found == NULL ? 0 : self->found->len;
}
