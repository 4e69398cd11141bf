#define G_LOG_DOMAIN "bw-cli"

#include "bw-cli-private.h"

#include <signal.h>

#include "bw-html.h"
#include "bw-pdf.h"
#include "bw-publish-file.h"
#include "bw-publish-kind.h"
#include "bw-words-pattern.h"

/* brimwright-cli write: the written pattern, all sizes in one text or one alone,
 * to the terminal or into files. */

static const char help[] = N_(
  "Usage: brimwright-cli write FILE.hat [--to FILE] [OPTION...]\n"
  "Writes the pattern: all sizes in one text, or one size alone.\n"
  "\n"
  "      --size NAME        one size; in a file in sentences with boxes to tick\n"
  "      --full             as text: every round of that size on a line of its own\n"
  "      --terms uk|us      stitch names, whatever the design says\n"
  "      --terms both       two files, -uk and -us before the ending of their names\n"
  "      --units cm|in      lengths, whatever the design says\n"
  "      --library FILE     where a design finds the swatches that it names\n"
  "\n"
  "      --to FILE          write there: .pdf, .html, .txt or .csv says what it is\n"
  "      --as KIND          what the ending does not say: listing, for a shop; sheet,\n"
  "                         for a tester of one size (-html, -pdf); rounds, sizes, yarn\n"
  "      --paper a4|letter  without it A4 for UK terms, Letter for US terms\n"
  "      --large-print      24 points, nothing told by colour or picture alone\n"
  "      --low-ink          outlines instead of filled pictures\n"
  "      --photo FILE.png   a photograph for the first page\n"
  "\n"
  "The date is that of SOURCE_DATE_EPOCH where it is set, otherwise today.\n"
  "Manual page: brimwright-cli(1).\n");

/* What was asked for beside the design. */
typedef struct
{
  char    *to;
  char    *as;
  char    *paper;
  char    *photo;
  gboolean full;
  gboolean large;
  gboolean low_ink;
  gboolean both;    /* UK and US */
} Order;

static void
order_clear (Order *order)
{
  g_free (order->to);
  g_free (order->as);
  g_free (order->paper);
  g_free (order->photo);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Order, order_clear)

/* The kind of a file by what was said, or by its ending, in any case. */
static const BwPublishKind *
find_kind (const Order *order)
{
  const BwPublishKind *kind = order->as != NULL ? bw_publish_kind_find (order->as)
                                                : bw_publish_kind_for_file (order->to);
  g_autofree char *names = bw_publish_kind_names ();

  if (kind == NULL && order->as != NULL)
    bw_cli_complain (_("“%s” is no kind of file; --as takes %s"), order->as, names);
  else if (kind == NULL)
    bw_cli_complain (_("--to takes a file whose name ends in .pdf, .html, .txt or .csv, not “%s”; "
                       "or say with --as what it is"),
                     order->to);
  return kind;
}

/* --- Editions --- */

static gboolean
set_paper (const Order *order,
           BwEdition   *edition)
{
  edition->paper = edition->terms == BW_TERMS_US ? BW_PAPER_LETTER : BW_PAPER_A4;
  if (order->paper == NULL)
    return TRUE;
  if (!g_str_equal (order->paper, "a4") && !g_str_equal (order->paper, "letter"))
    {
      bw_cli_complain (_("%s takes %s or %s, not “%s”"), "--paper", "a4", "letter", order->paper);
      return FALSE;
    }
  edition->paper = g_str_equal (order->paper, "a4") ? BW_PAPER_A4 : BW_PAPER_LETTER;
  return TRUE;
}

static BwEdition *
make_edition (const Order     *order,
              const BwGrading *grading,
              int              size)
{
  g_autoptr (GError) error = NULL;
  gint64 date;
  BwEdition *edition;

  if (!bw_edition_source_date (g_getenv ("SOURCE_DATE_EPOCH"), g_get_real_time () / G_USEC_PER_SEC,
                               &date, &error))
    {
      bw_cli_complain ("%s", error->message);
      return NULL;
    }

  edition = bw_edition_new (grading->design, date);
  edition->size = size;
  edition->photo = g_strdup (order->photo);
  edition->full = TRUE;
  edition->form = order->large ? BW_FORM_LARGE_PRINT
                  : order->low_ink ? BW_FORM_LOW_INK : BW_FORM_NORMAL;
  return edition;
}

/* A PDF can be made with things left out, which is told. */
static char *
make_file (const BwPublishKind  *kind,
           const BwGrading      *grading,
           const BwEdition      *edition,
           gsize                *length,
           GError              **error)
{
  g_autoptr (BwPages) pages = NULL;
  const GPtrArray *remarks;
  GBytes *bytes;

  if (!g_str_equal (kind->name, "pdf"))
    return kind->make (grading, edition, length, error);

  pages = bw_pages_new (grading, edition);
  remarks = bw_pages_remarks (pages);
  for (guint i = 0; i < remarks->len; i++)
    bw_cli_complain ("%s", (const char *) g_ptr_array_index (remarks, i));
  bytes = bw_pdf_new (pages, error);
  return bytes != NULL ? g_bytes_unref_to_data (bytes, length) : NULL;
}

/* A photograph that cannot be read is left out, which is told. */
static void
leave_photo_out (const BwPublishKind *kind,
                 BwEdition           *edition)
{
  g_autoptr (GError) error = NULL;

  if (edition->photo == NULL || !g_str_equal (kind->name, "html") ||
      bw_html_check_photo (edition->photo, &error))
    return;

  bw_cli_complain (_("the page has no photograph: %s"), error->message);
  g_clear_pointer (&edition->photo, g_free);
}

static BwExit
write_file (const BwPublishKind *kind,
            const char          *path,
            const BwGrading     *grading,
            const BwEdition     *edition)
{
  g_autoptr (GError) error = NULL;
  gsize length = 0;
  g_autofree char *bytes = make_file (kind, grading, edition, &length, &error);

  if (bytes != NULL && bw_publish_file_write (path, bytes, length, &error))
    return BW_EXIT_GRADED;

  bw_cli_complain ("%s", error->message);
  return BW_EXIT_BAD_INPUT;
}

/* A kind of its own, without a file to put it in. */
static BwExit
print_kind (const BwPublishKind *kind,
            const BwGrading     *grading,
            const BwEdition     *edition,
            GString             *out)
{
  g_autoptr (GError) error = NULL;
  gsize length = 0;
  g_autofree char *bytes = kind->make (grading, edition, &length, &error);

  if (bytes == NULL)
    {
      bw_cli_complain ("%s", error->message);
      return BW_EXIT_BAD_INPUT;
    }
  g_string_append_len (out, bytes, (gssize) length);
  return BW_EXIT_GRADED;
}

static gboolean
suits_kind (const BwPublishKind *kind,
            const Order         *order,
            int                  size)
{
  if (kind->one_size && size < 0)
    bw_cli_complain (_("--as %s is for one size: say which with --size NAME"), kind->name);
  else if (order->to == NULL && !kind->text)
    bw_cli_complain (_("--as %s goes into a file: name it with --to FILE"), kind->name);
  else
    return TRUE;

  return FALSE;
}

/* One file, or one for each of both terms. */
static BwExit
write_files (const Order     *order,
             const BwGrading *grading,
             int              size,
             GString         *out)
{
  const BwPublishKind *kind = find_kind (order);
  g_autoptr (BwEdition) edition = kind != NULL && suits_kind (kind, order, size)
                                    ? make_edition (order, grading, size) : NULL;
  guint n = order->both ? 2 : 1;
  BwExit status = BW_EXIT_GRADED;

  if (edition == NULL)
    return BW_EXIT_BAD_INPUT;
  if (order->to == NULL)
    return print_kind (kind, grading, edition, out);
  leave_photo_out (kind, edition);
  /* A limit on the size of files is told, not died of */
  signal (SIGXFSZ, SIG_IGN);
  for (guint i = 0; i < n && status == BW_EXIT_GRADED; i++)
    {
      g_autofree char *path = NULL;

      if (order->both)
        edition->terms = i == 0 ? BW_TERMS_UK : BW_TERMS_US;
      if (!set_paper (order, edition))
        return BW_EXIT_BAD_INPUT;
      path = order->both ? bw_edition_path (order->to, edition->terms) : g_strdup (order->to);
      status = write_file (kind, path, grading, edition);
    }

  return status;
}

/* --- The verb --- */

/* Options that say nothing by themselves. */
static gboolean
check_order (const Order      *order,
             const BwCliInput *input)
{
  if (order->full && input->size == NULL)
    bw_cli_complain (_("--full writes out every round of one size: say which with --size NAME"));
  else if (order->to == NULL && order->both)
    bw_cli_complain (_("--terms both makes two files: say where with --to FILE"));
  else if (order->to == NULL && (order->paper != NULL || order->large || order->low_ink ||
                                 order->photo != NULL))
    bw_cli_complain (_("--paper, --large-print, --low-ink and --photo are for files: say where "
                       "with --to FILE"));
  else if (order->large && order->low_ink)
    bw_cli_complain (_("--large-print and --low-ink are two editions: make one after the other"));
  else
    return TRUE;

  return FALSE;
}

static void
write_to_terminal (const Order     *order,
                   const BwGrading *grading,
                   int              size,
                   GString         *out)
{
  g_autoptr (GPtrArray) blocks = bw_words_pattern (grading, size, order->full ? BW_PATTERN_FULL
                                                                              : BW_PATTERN_FOLDED);
  g_autofree char *text = bw_words_pattern_text (blocks);

  g_string_append (out, text);
}

static BwExit
write_pattern (char    **arguments,
               GString  *out)
{
  g_auto (BwCliInput) input = { 0 };
  g_auto (BwCliGrading) graded = { 0 };
  g_auto (Order) order = { 0 };
  const GOptionEntry entries[] = {
    BW_CLI_INPUT_OPTIONS (&input),
    { "full", 0, 0, G_OPTION_ARG_NONE, &order.full, NULL, NULL },
    { "to", 0, 0, G_OPTION_ARG_FILENAME, &order.to, NULL, NULL },
    { "as", 0, 0, G_OPTION_ARG_FILENAME, &order.as, NULL, NULL },
    { "paper", 0, 0, G_OPTION_ARG_FILENAME, &order.paper, NULL, NULL },
    { "photo", 0, 0, G_OPTION_ARG_FILENAME, &order.photo, NULL, NULL },
    { "large-print", 0, 0, G_OPTION_ARG_NONE, &order.large, NULL, NULL },
    { "low-ink", 0, 0, G_OPTION_ARG_NONE, &order.low_ink, NULL, NULL },
    G_OPTION_ENTRY_NULL
  };
  BwExit status;
  guint k = 0;
  int size;

  if (!bw_cli_parse (entries, arguments, &input.file))
    return BW_EXIT_BAD_INPUT;
  order.both = g_strcmp0 (input.terms, "both") == 0;
  if (order.both)
    g_clear_pointer (&input.terms, g_free);
  if (!check_order (&order, &input))
    return BW_EXIT_BAD_INPUT;

  status = bw_cli_grade (&input, &graded);
  if (status != BW_EXIT_GRADED)
    return status;
  if (input.size != NULL && !bw_cli_find_size (graded.grading, input.size, &k))
    return BW_EXIT_BAD_INPUT;

  size = input.size != NULL ? (int) k : BW_EDITION_ALL_SIZES;
  if (order.to != NULL || order.as != NULL)
    return write_files (&order, graded.grading, size, out);
  write_to_terminal (&order, graded.grading, size, out);
  return BW_EXIT_GRADED;
}

const BwVerb bw_cli_verb_write = { "write", write_pattern, help };
