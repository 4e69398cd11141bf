#define G_LOG_DOMAIN "bw-app"

#include "bw-app-words.h"

#include "bw-print.h"

static void
draw_page_cb (GtkPrintOperation *operation,
              GtkPrintContext   *context,
              int                page,
              const BwPages     *pages)
{
  bw_pages_draw (pages, (guint) page, gtk_print_context_get_cairo_context (context));
}

/**
 * bw_print_operation:
 * @grading: a graded family
 * @edition: what of it is printed
 *
 * The pages are those of the PDF, on the edition's paper.
 *
 * Returns: (transfer full): what prints them
 */
GtkPrintOperation *
bw_print_operation (const BwGrading *grading,
                    const BwEdition *edition)
{
  GtkPrintOperation *operation = gtk_print_operation_new ();
  BwPages *pages = bw_pages_new (grading, edition);
  g_autoptr (GtkPageSetup) setup = gtk_page_setup_new ();
  GtkPaperSize *paper = gtk_paper_size_new (edition->paper == BW_PAPER_LETTER
                                            ? GTK_PAPER_NAME_LETTER : GTK_PAPER_NAME_A4);

  gtk_page_setup_set_paper_size (setup, paper);
  gtk_paper_size_free (paper);
  gtk_print_operation_set_default_page_setup (operation, setup);
  gtk_print_operation_set_job_name (operation, bw_pages_title (pages));
  gtk_print_operation_set_n_pages (operation, (int) bw_pages_n (pages));
  gtk_print_operation_set_use_full_page (operation, TRUE);
  gtk_print_operation_set_unit (operation, GTK_UNIT_POINTS);
  gtk_print_operation_set_embed_page_setup (operation, TRUE);
  g_object_set_data_full (G_OBJECT (operation), "bw-pages", pages,
                          (GDestroyNotify) bw_pages_free);
  g_signal_connect (operation, "draw-page", G_CALLBACK (draw_page_cb), pages);

  return operation;
}

static void
tell (GtkWindow    *parent,
      const GError *error)
{
  GtkWidget *dialog = gtk_message_dialog_new (parent, GTK_DIALOG_MODAL, GTK_MESSAGE_ERROR,
                                              GTK_BUTTONS_CLOSE, "%s",
                                              _("The pattern was not printed"));

  gtk_message_dialog_format_secondary_text (GTK_MESSAGE_DIALOG (dialog), "%s", error->message);
  g_signal_connect (dialog, "response", G_CALLBACK (gtk_window_destroy), NULL);
  gtk_window_present (GTK_WINDOW (dialog));
}

/**
 * bw_print:
 * @parent: the window that asks
 * @grading: a graded family
 * @edition: what of it is printed
 *
 * Asks where to, and prints.
 */
void
bw_print (GtkWindow       *parent,
          const BwGrading *grading,
          const BwEdition *edition)
{
  g_autoptr (GtkPrintOperation) operation = bw_print_operation (grading, edition);
  g_autoptr (GError) error = NULL;

  if (gtk_print_operation_run (operation, GTK_PRINT_OPERATION_ACTION_PRINT_DIALOG, parent,
                               &error) == GTK_PRINT_OPERATION_RESULT_ERROR)
    tell (parent, error);
}
