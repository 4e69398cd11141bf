#define G_LOG_DOMAIN "bw-publish"

#include "bw-publish-private.h"

#include "bw-html.h"

#include <string.h>

#include "bw-edition-blocks.h"
#include "bw-error.h"
#include "bw-html-private.h"

#define PHOTO_BYTES_MAX (64u * 1024 * 1024)

/* A page that is being written. */
typedef struct
{
  GString         *out;
  const BwGrading *view;      /* in the edition's terms and units */
  const BwEdition *edition;
  const GPtrArray *blocks;
  const char      *title;
  const char      *photo;     /* as a data: address; NULL = none */
  gboolean         ticked;
  guint            n_sizes;   /* written: 1 for an edition of one size */
  gboolean         in_section;
  gboolean         in_part;
  BwBlockTable     table;     /* already there in this section */
} Page;

/* --- Photograph --- */

static const char *
image_type (const char *bytes,
            gsize       length)
{
  if (length > 8 && memcmp (bytes, "\x89PNG\r\n\x1a\n", 8) == 0)
    return "image/png";
  if (length > 3 && memcmp (bytes, "\xff\xd8\xff", 3) == 0)
    return "image/jpeg";
  return NULL;
}

/* The photograph within the page, so that the page stays one file. */
static gboolean
read_photo (const char  *path,
            char       **address,
            GError     **error)
{
  g_autofree char *bytes = NULL;
  g_autofree char *base64 = NULL;
  const char *type;
  gsize length;

  *address = NULL;
  if (path == NULL)
    return TRUE;
  if (!g_file_get_contents (path, &bytes, &length, error))
    {
      g_prefix_error (error, "%s",
                      _("the photograph cannot be read; name another: "));
      return FALSE;
    }

  type = image_type (bytes, length);
  if (type == NULL || length > PHOTO_BYTES_MAX)
    {
      g_set_error (error, BW_ERROR, BW_ERROR_SYNTAX,
                   _("%s is no PNG or JPEG of at most 64 MB; save the photograph as one"), path);
      return FALSE;
    }

  base64 = g_base64_encode ((const guchar *) bytes, length);
  *address = g_strdup_printf ("data:%s;base64,%s", type, base64);
  return TRUE;
}

/**
 * bw_html_check_photo:
 * @path: a photograph
 * @error: why it cannot be put into a page
 *
 * Returns: FALSE with @error set when it cannot
 */
gboolean
bw_html_check_photo (const char  *path,
                     GError     **error)
{
  g_autofree char *address = NULL;

  return read_photo (path, &address, error);
}

/* --- Beginning --- */

/* Buttons that the style follows; with all sizes chosen to begin with. */
static void
append_chooser (Page *page)
{
  if (page->n_sizes < 2)
    return;

  g_string_append (page->out, "<fieldset class=\"chooser\">\n<legend>");
  bw_html_escape (page->out, _("Show the numbers of"));
  g_string_append (page->out, "</legend>\n<label><input type=\"radio\" name=\"size\" checked>");
  bw_html_escape (page->out, _("all sizes"));
  g_string_append (page->out, "</label>\n");
  for (guint k = 0; k < page->n_sizes; k++)
    {
      const BwGradedSize *size = g_ptr_array_index (page->view->sizes, k);

      g_string_append_printf (page->out, "<label><input type=\"radio\" name=\"size\" class=\"one\" "
                                         "id=\"size-%u\"><bdi>", k);
      bw_html_escape (page->out, bw_words_size_name (size->choice));
      g_string_append (page->out, "</bdi></label>\n");
    }
  g_string_append (page->out, "</fieldset>\n");
}

static void
append_photo (Page *page)
{
  /* Translators: what a photograph shows; %s is the name of the design */
  g_autofree char *words = g_strdup_printf (_("Photograph of %s"), page->title);

  if (page->photo == NULL)
    return;

  g_string_append (page->out, "<figure class=\"photo\"><img alt=\"");
  bw_html_escape (page->out, words);
  g_string_append_printf (page->out, "\" src=\"%s\"></figure>\n", page->photo);
}

static void
append_title (Page *page)
{
  g_autofree char *stamp = bw_edition_stamp (page->edition);

  g_string_append (page->out, "<h1 dir=\"auto\">");
  bw_html_escape (page->out, page->title);
  g_string_append (page->out, "</h1>\n<p class=\"stamp\">");
  bw_html_escape (page->out, stamp);
  g_string_append (page->out, "</p>\n");
  append_photo (page);
  if (page->edition->form != BW_FORM_LOW_INK)
    bw_html_cover (page->out, page->view, page->edition);
}

/* --- Sections --- */

static void
close_part (Page *page)
{
  if (page->in_part)
    g_string_append (page->out, "</section>\n");
  page->in_part = FALSE;
}

static void
close_section (Page *page)
{
  close_part (page);
  if (page->in_section)
    g_string_append (page->out, "</section>\n");
  page->in_section = FALSE;
}

static void
append_heading (Page       *page,
                const char *text)
{
  close_section (page);
  g_string_append (page->out, "<section>\n<h2>");
  bw_html_escape (page->out, text);
  g_string_append (page->out, "</h2>\n");
  page->in_section = TRUE;
  page->table = BW_BLOCK_NO_TABLE;
}

/* The sizes that have anything to do under the heading of a part. */
static guint32
sizes_of_part (const Page *page,
               guint       heading)
{
  guint32 sizes = 0;

  for (guint i = heading + 1; i < page->blocks->len; i++)
    {
      const BwBlock *block = g_ptr_array_index (page->blocks, i);

      if (block->kind == BW_BLOCK_PART || block->kind == BW_BLOCK_HEADING)
        break;
      if (block->kind == BW_BLOCK_ROUND)
        sizes |= block->sizes;
    }

  return sizes;
}

static void
append_part (Page *page,
             guint index)
{
  const BwBlock *block = g_ptr_array_index (page->blocks, index);

  close_part (page);
  g_string_append (page->out, "<section");
  bw_html_classes (page->out, "", sizes_of_part (page, index), page->n_sizes);
  g_string_append (page->out, ">\n<h3 dir=\"auto\">");
  bw_html_escape (page->out, block->text);
  g_string_append (page->out, "</h3>\n");
  page->in_part = TRUE;
}

/* --- Lines --- */

/* The sizes that the numbers of a line run over. */
static guint32
numbers_of (const Page    *page,
            const BwBlock *block)
{
  return block->only ? block->sizes : (1u << page->n_sizes) - 1;
}

static void
append_round (Page          *page,
              const BwBlock *block)
{
  guint32 numbers = numbers_of (page, block);
  g_autofree char *only = g_strndup (block->lead, block->label);

  g_string_append (page->out, "<p");
  bw_html_classes (page->out, page->ticked ? "round ticked" : "round", block->sizes,
                   page->n_sizes);
  g_string_append (page->out, page->ticked ? "><label><input type=\"checkbox\">" : ">");
  /* Two spaces, also where the line is copied: they tell the colour from the work */
  g_string_append_printf (page->out, "<span class=\"colour\">%c</span>  ",
                          (char) ('A' + block->colour));
  if (only[0] != '\0')
    {
      g_string_append (page->out, "<span class=\"only\">");
      bw_html_escape (page->out, only);
      g_string_append (page->out, "</span>");
    }
  if (block->lead[0] != '\0')
    {
      g_string_append (page->out, "<b>");
      bw_html_label (page->out, block->lead + block->label, numbers, page->n_sizes);
      g_string_append (page->out, ":</b> ");
    }
  bw_html_numbers (page->out, block->text, numbers, page->n_sizes);
  g_string_append (page->out, page->ticked ? "</label></p>\n" : "</p>\n");
}

static void
append_check (Page          *page,
              const BwBlock *block)
{
  g_string_append (page->out, "<p");
  bw_html_classes (page->out, "check", block->sizes, page->n_sizes);
  g_string_append_c (page->out, '>');
  bw_html_numbers (page->out, block->text, numbers_of (page, block), page->n_sizes);
  g_string_append (page->out, "</p>\n");
}

/* A table says it for all sizes; in large print, where it would not fit, and for
 * one size the words do. */
static gboolean
append_table (Page          *page,
              const BwBlock *block)
{
  if (block->table == BW_BLOCK_NO_TABLE || page->n_sizes < 2 ||
      page->edition->form == BW_FORM_LARGE_PRINT)
    return FALSE;

  if (page->table == block->table)
    return TRUE;
  page->table = block->table;
  if (block->table == BW_BLOCK_SIZE_TABLE)
    bw_html_size_table (page->out, page->view);
  else
    bw_html_yarn_table (page->out, page->view);
  return TRUE;
}

static void
append_item (Page          *page,
             const BwBlock *block)
{
  if (append_table (page, block))
    return;

  g_string_append (page->out, "<p class=\"item\"><b>");
  bw_html_escape (page->out, block->lead);
  g_string_append (page->out, ":</b> ");
  if (block->table != BW_BLOCK_NO_TABLE)
    bw_html_numbers (page->out, block->text, numbers_of (page, block), page->n_sizes);
  else
    bw_html_escape (page->out, block->text);
  g_string_append (page->out, "</p>\n");
}

static void
append_block (Page *page,
              guint index)
{
  const BwBlock *block = g_ptr_array_index (page->blocks, index);

  switch (block->kind)
    {
    case BW_BLOCK_TITLE:
      append_title (page);
      break;
    case BW_BLOCK_HEADING:
      append_heading (page, block->text);
      break;
    case BW_BLOCK_PART:
      append_part (page, index);
      break;
    case BW_BLOCK_ITEM:
      append_item (page, block);
      break;
    case BW_BLOCK_ROUND:
      append_round (page, block);
      break;
    case BW_BLOCK_CHECK:
      append_check (page, block);
      break;
    case BW_BLOCK_PARAGRAPH:
    default:
      g_string_append (page->out, "<p dir=\"auto\">");
      bw_html_escape (page->out, block->text);
      g_string_append (page->out, "</p>\n");
    }
}

/* Pictures stand behind all that is worked, in front of the revision. */
static gboolean
heads_revision (const Page *page,
                guint       index)
{
  const BwBlock *block = g_ptr_array_index (page->blocks, index);
  const BwBlock *next = index + 1 < page->blocks->len
                          ? g_ptr_array_index (page->blocks, index + 1) : NULL;

  return block->kind == BW_BLOCK_HEADING && next != NULL &&
         next->place == BW_BLOCK_PLACE_REVISION;
}

/* In large print there are no charts: their key could not be as large as the text, and
 * the rounds say the same. */
static void
append_figures (Page *page)
{
  close_section (page);
  g_string_append (page->out, "<section>\n");
  bw_html_schematic (page->out, page->view, page->edition);
  if (page->edition->charts && page->edition->form != BW_FORM_LARGE_PRINT)
    {
      g_string_append (page->out, "</section>\n<section>\n");
      bw_html_charts (page->out, page->view, page->edition);
    }
  g_string_append (page->out, "</section>\n");
}

static void
append_body (Page *page)
{
  gboolean chooser = FALSE;

  g_string_append (page->out, "<main>\n");
  for (guint i = 0; i < page->blocks->len; i++)
    {
      const BwBlock *block = g_ptr_array_index (page->blocks, i);

      if (block->kind == BW_BLOCK_HEADING && !chooser)
        {
          append_chooser (page);
          if (page->n_sizes > 1 && page->edition->form != BW_FORM_LOW_INK)
            bw_html_hats (page->out, page->view);
          chooser = TRUE;
        }
      if (heads_revision (page, i))
        append_figures (page);
      append_block (page, i);
    }
  close_section (page);
  g_string_append (page->out, "</main>\n");
}

/**
 * bw_html_pattern:
 * @grading: a graded family, not refused
 * @edition: which edition of it
 * @length: (out) (optional): bytes of the page
 * @error: what is wrong with the edition's photograph
 *
 * Returns: (transfer full) (nullable): the page, the same for the same edition
 */
char *
bw_html_pattern (const BwGrading  *grading,
                 const BwEdition  *edition,
                 gsize            *length,
                 GError          **error)
{
  g_autofree char *photo = NULL;
  g_autoptr (GPtrArray) blocks = NULL;
  BwGrading *view;
  Page page = { 0 };

  g_return_val_if_fail (grading != NULL && !grading->refused && edition != NULL, NULL);
  g_return_val_if_fail (edition->size < (int) grading->sizes->len, NULL);

  if (!read_photo (edition->photo, &photo, error))
    return NULL;

  view = bw_edition_view (edition, grading);
  blocks = bw_edition_blocks (edition, view);
  page.out = g_string_new (NULL);
  page.view = view;
  page.edition = edition;
  page.blocks = blocks;
  page.title = ((const BwBlock *) g_ptr_array_index (blocks, 0))->text;
  page.photo = photo;
  page.ticked = edition->full && edition->size >= 0;
  page.n_sizes = edition->size >= 0 ? 1 : view->sizes->len;
  bw_html_begin (page.out, view->design, edition, page.title, page.n_sizes);
  append_body (&page);
  bw_html_end (page.out);
  bw_edition_view_free (view);
  if (length != NULL)
    *length = page.out->len;
  return g_string_free (page.out, FALSE);
}
