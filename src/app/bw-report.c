#define G_LOG_DOMAIN "bw-app"

#include "bw-app-words.h"

#include "bw-report-page.h"

#include <math.h>

#include "bw-words-pattern.h"

/* The pages beside the round table: everything they say comes from src/words or
 * straight out of the grading. */

static GtkWidget *
make_text (const char *text,
           const char *css_class)
{
  GtkWidget *label = gtk_label_new (text);

  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_label_set_selectable (GTK_LABEL (label), FALSE);
  if (css_class != NULL)
    gtk_widget_add_css_class (label, css_class);

  return label;
}

static GtkWidget *
make_page (void)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 8);

  gtk_widget_add_css_class (box, "page");

  return box;
}

/**
 * bw_report_pattern:
 * @document: a document
 *
 * Returns: (transfer floating): the written pattern of all sizes, to read and copy
 */
GtkWidget *
bw_report_pattern (BwDocument *document)
{
  const BwGrading *grading = bw_document_get_grading (document);
  GtkWidget *view = gtk_text_view_new ();
  GtkTextBuffer *buffer = gtk_text_view_get_buffer (GTK_TEXT_VIEW (view));

  gtk_text_view_set_editable (GTK_TEXT_VIEW (view), FALSE);
  gtk_text_view_set_cursor_visible (GTK_TEXT_VIEW (view), FALSE);
  gtk_text_view_set_wrap_mode (GTK_TEXT_VIEW (view), GTK_WRAP_WORD_CHAR);
  gtk_widget_add_css_class (view, "page");
  gtk_accessible_update_property (GTK_ACCESSIBLE (view), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                  _("Written pattern"), -1);
  if (grading != NULL)
    {
      g_autoptr (GPtrArray) blocks = bw_words_pattern (grading, -1, BW_PATTERN_FOLDED);
      g_autofree char *text = bw_words_pattern_text (blocks);

      gtk_text_buffer_set_text (buffer, text, -1);
    }

  return view;
}

/* ---- findings ---------------------------------------------------------- */

static void
go_there_cb (GtkButton  *button,
             BwDocument *document)
{
  int size = GPOINTER_TO_INT (g_object_get_data (G_OBJECT (button), "bw-size"));
  int round = GPOINTER_TO_INT (g_object_get_data (G_OBJECT (button), "bw-round"));

  if (size >= 0)
    bw_document_set_size (document, (guint) size);
  if (round >= 0)
    bw_document_set_round (document, round);
}

static GtkWidget *
make_way (BwDocument      *document,
          const BwFinding *finding,
          const char      *where)
{
  g_autofree char *name = g_strdup_printf (_("Show %s"), where);
  GtkWidget *button = gtk_button_new_with_label (name);

  g_object_set_data (G_OBJECT (button), "bw-size", GINT_TO_POINTER (finding->size));
  g_object_set_data (G_OBJECT (button), "bw-round", GINT_TO_POINTER (finding->round));
  gtk_widget_set_halign (button, GTK_ALIGN_START);
  g_signal_connect_object (button, "clicked", G_CALLBACK (go_there_cb), document, 0);

  return button;
}

static GtkWidget *
make_finding (BwDocument      *document,
              const BwGrading *grading,
              const BwFinding *finding)
{
  static const char *const classes[] = { "note", "warning", "error", "error" };
  g_autoptr (BwWordsFinding) words = bw_words_finding (grading, finding);
  GtkWidget *card = gtk_box_new (GTK_ORIENTATION_VERTICAL, 2);
  g_autofree char *head = NULL;

  head = *words->where == '\0'
    ? g_strdup_printf ("%s %s", words->code, bw_words_severity (words->severity))
    : g_strdup_printf ("%s %s: %s", words->code, bw_words_severity (words->severity), words->where);
  gtk_widget_add_css_class (card, "finding");
  gtk_widget_add_css_class (card, classes[words->severity]);
  gtk_box_append (GTK_BOX (card), make_text (head, "heading"));
  gtk_box_append (GTK_BOX (card), make_text (words->what, NULL));
  if (words->why != NULL && *words->why != '\0')
    gtk_box_append (GTK_BOX (card), make_text (words->why, "dim-label"));
  if (words->mend != NULL && *words->mend != '\0')
    gtk_box_append (GTK_BOX (card), make_text (words->mend, NULL));
  if (finding->size >= 0 && *words->where != '\0' && !grading->refused)
    gtk_box_append (GTK_BOX (card), make_way (document, finding, words->where));

  return card;
}

/**
 * bw_report_findings:
 * @document: a document
 *
 * Returns: (transfer floating): what there is to know, worst first
 */
GtkWidget *
bw_report_findings (BwDocument *document)
{
  const BwGrading *grading = bw_document_get_latest (document);
  GtkWidget *page = make_page ();

  if (grading == NULL || grading->findings->len == 0)
    {
      gtk_box_append (GTK_BOX (page),
                      make_text (grading == NULL
                                 ? _("This design contradicts itself and cannot be graded.")
                                 : _("No findings: every round adds up, every size fits."), NULL));
      return page;
    }

  for (int severity = BW_SEVERITY_REFUSAL; severity >= BW_SEVERITY_NOTE; severity--)
    for (guint i = 0; i < grading->findings->len; i++)
      {
        const BwFinding *finding = &g_array_index (grading->findings, BwFinding, i);

        if ((int) finding->severity == severity)
          gtk_box_append (GTK_BOX (page), make_finding (document, grading, finding));
      }

  return page;
}

/* ---- yarn and cost ----------------------------------------------------- */

static void
attach (GtkGrid    *grid,
        char       *text,
        guint       column,
        guint       row)
{
  GtkWidget *label = gtk_label_new (text);

  gtk_label_set_xalign (GTK_LABEL (label), column == 0 ? 0 : 1);
  if (row == 0)
    gtk_widget_add_css_class (label, "heading");
  if (column > 0)
    gtk_widget_add_css_class (label, "numeric");
  gtk_grid_attach (grid, label, (int) column, (int) row, 1, 1);
  g_free (text);
}

static char *
hours (double minutes)
{
  guint whole = (guint) round (minutes);

  if (minutes <= 0)
    return g_strdup ("–");

  /* Translators: hours and minutes */
  return g_strdup_printf (_("%u:%02u h"), whole / 60, whole % 60);
}

static char *
cost_words (const BwGrading    *grading,
            const BwGradedSize *size)
{
  g_autofree char *number = bw_units_format_number (size->yarn_cost, 2);

  if (size->yarn_cost <= 0)
    return g_strdup ("–");

  return g_strdup_printf ("%s %s", number, grading->design->yarn.currency);
}

static char *
balls_words (const BwGrading    *grading,
             const BwGradedSize *size)
{
  GString *out = g_string_new (NULL);

  for (guint i = 0; i < grading->design->colours->len; i++)
    if (size->balls[i] > 0)
      g_string_append_printf (out, "%s%c %u", out->len > 0 ? ", " : "", 'A' + (int) i,
                              size->balls[i]);

  return g_string_free (out, FALSE);
}

static void
attach_size (GtkGrid            *grid,
             const BwGrading    *grading,
             const BwGradedSize *size,
             guint               row)
{
  g_autofree char *metres = bw_units_format_number (size->yarn_m, 0);
  g_autofree char *grams = bw_units_format_number (size->yarn_g, 0);

  attach (grid, g_strdup (bw_words_size_name (size->choice)), 0, row);
  attach (grid, bw_words_length (grading->design, size->head_mm), 1, row);
  attach (grid, bw_words_length (grading->design, size->girth_mm), 2, row);
  attach (grid, bw_words_length (grading->design, size->depth_mm), 3, row);
  attach (grid, g_strdup_printf (_("%s m"), metres), 4, row);
  attach (grid, size->yarn_g > 0 ? g_strdup_printf (_("%s g"), grams) : g_strdup ("–"), 5, row);
  attach (grid, balls_words (grading, size), 6, row);
  attach (grid, g_strdup_printf ("%u", size->ends), 7, row);
  attach (grid, hours (size->minutes), 8, row);
  attach (grid, cost_words (grading, size), 9, row);
}

/**
 * bw_report_yarn:
 * @document: a document
 *
 * Returns: (transfer floating): every size's measures, yarn, time and cost
 */
GtkWidget *
bw_report_yarn (BwDocument *document)
{
  static const char *const titles[] = {
    N_("Size"), N_("Head"), N_("Girth"), N_("Depth"), N_("Yarn"), N_("Weight"), N_("Balls"),
    N_("Ends"), N_("Time"), N_("Cost"),
  };
  const BwGrading *grading = bw_document_get_grading (document);
  GtkWidget *grid = gtk_grid_new ();

  gtk_widget_add_css_class (grid, "page");
  gtk_grid_set_column_spacing (GTK_GRID (grid), 18);
  gtk_grid_set_row_spacing (GTK_GRID (grid), 6);
  gtk_widget_set_halign (grid, GTK_ALIGN_START);
  for (guint i = 0; i < G_N_ELEMENTS (titles); i++)
    attach (GTK_GRID (grid), g_strdup (_(titles[i])), i, 0);
  for (guint k = 0; grading != NULL && k < grading->sizes->len; k++)
    attach_size (GTK_GRID (grid), grading, grading->sizes->pdata[k], k + 1);

  return grid;
}
