#include <math.h>

#include <cairo-pdf.h>

#include "family.h"
#include "paper.h"

/* Pages drawn where the window and the printer draw them. */

static BwReference *reference;

static cairo_surface_t *
draw (const BwPages *pages,
      guint          n,
      double         scale)
{
  double width, height;
  cairo_surface_t *image;
  cairo_t *cr;

  bw_pages_size (pages, &width, &height);
  image = cairo_image_surface_create (CAIRO_FORMAT_RGB24, (int) ceil (width * scale),
                                      (int) ceil (height * scale));
  cr = cairo_create (image);
  cairo_set_source_rgb (cr, 1, 1, 1);
  cairo_paint (cr);
  cairo_scale (cr, scale, scale);
  bw_pages_draw (pages, n, cr);
  g_assert_cmpint (cairo_status (cr), ==, CAIRO_STATUS_SUCCESS);
  cairo_destroy (cr);
  cairo_surface_flush (image);
  return image;
}

typedef struct
{
  guint marked;  /* dots that are not white */
  guint tinted;  /* dots that are neither grey, black nor white */
  guint margin;  /* marked dots within 20 pt of the paper's edge */
} Dots;

static Dots
count_dots (cairo_surface_t *image,
            double           scale)
{
  const guchar *data = cairo_image_surface_get_data (image);
  int width = cairo_image_surface_get_width (image);
  int height = cairo_image_surface_get_height (image);
  int stride = cairo_image_surface_get_stride (image);
  int edge = (int) (20 * scale);
  Dots dots = { 0, 0, 0 };

  for (int y = 0; y < height; y++)
    for (int x = 0; x < width; x++)
      {
        const guint32 *line = (const guint32 *) (const void *) (data + (gsize) y * (gsize) stride);
        guint red = line[x] >> 16 & 255, green = line[x] >> 8 & 255, blue = line[x] & 255;

        if (red + green + blue == 3 * 255)
          continue;
        dots.marked++;
        dots.tinted += red != green || green != blue;
        dots.margin += x < edge || y < edge || x >= width - edge || y >= height - edge;
      }

  return dots;
}

/* Nothing runs off the paper, and no page is empty, in any form and for any
 * number of sizes. */
static void
test_on_paper (void)
{
  g_autofree char *text = family_text ("data/designs", "large");
  g_autoptr (BwGrading) large = family_grade (reference, text);
  g_autoptr (BwGrading) small = family_demo (reference, "lugger");

  for (guint i = 0; i < 12; i++)
    {
      const BwGrading *grading = i % 2 == 0 ? large : small;
      g_autoptr (BwEdition) edition = bw_edition_new (grading->design, PAPER_DATE);
      g_autoptr (BwPages) pages = NULL;

      edition->form = (BwEditionForm) (i / 2 % 3);
      edition->size = i >= 6 ? 0 : BW_EDITION_ALL_SIZES;
      edition->paper = i % 4 < 2 ? BW_PAPER_A4 : BW_PAPER_LETTER;
      pages = bw_pages_new (grading, edition);
      g_assert_cmpuint (bw_pages_n (pages), >, 2);
      for (guint n = 0; n < bw_pages_n (pages); n++)
        {
          cairo_surface_t *image = draw (pages, n, 0.5);
          Dots dots = count_dots (image, 0.5);

          g_assert_cmpuint (dots.marked, >, 100);
          g_assert_cmpuint (dots.margin, ==, 0);
          cairo_surface_destroy (image);
        }
    }
}

/* Low ink: no colour at all, and less of a cover marked than in the normal form. */
static void
test_low_ink (void)
{
  g_autoptr (BwGrading) grading = family_demo (reference, "lugger");
  g_autoptr (BwEdition) edition = bw_edition_new (grading->design, PAPER_DATE);
  guint marked[2];

  for (guint i = 0; i < 2; i++)
    {
      g_autoptr (BwPages) pages = NULL;

      edition->form = i == 0 ? BW_FORM_NORMAL : BW_FORM_LOW_INK;
      edition->charts = TRUE;
      pages = bw_pages_new (grading, edition);
      for (guint n = 0; n < bw_pages_n (pages); n++)
        {
          cairo_surface_t *image = draw (pages, n, 1);
          Dots dots = count_dots (image, 1);

          if (n == 0)
            marked[i] = dots.marked;
          if (i == 1)
            g_assert_cmpuint (dots.tinted, ==, 0);
          else if (n == 0)
            g_assert_cmpuint (dots.tinted, >, 1000);
          cairo_surface_destroy (image);
        }
    }
  g_assert_cmpuint (marked[1] * 2, <, marked[0]);
}

/* As a print operation draws them: page after page on a surface that is not ours. */
static void
test_print (void)
{
  g_autoptr (BwGrading) grading = family_demo (reference, "coble");
  g_autoptr (BwEdition) edition = bw_edition_new (grading->design, PAPER_DATE);
  g_autoptr (BwPages) pages = bw_pages_new (grading, edition);
  g_autoptr (GBytes) nothing = g_bytes_new_static ("", 0);
  g_autofree char *path = paper_file (nothing);
  g_autofree char *checked = NULL;
  g_autofree char *info = NULL;
  g_autofree char *number = g_strdup_printf ("Pages:           %u\n", bw_pages_n (pages) - 1);
  double width, height;
  cairo_surface_t *surface;
  cairo_t *cr;

  bw_pages_size (pages, &width, &height);
  surface = cairo_pdf_surface_create (path, width, height);
  cr = cairo_create (surface);
  for (guint n = 1; n < bw_pages_n (pages); n++)
    {
      bw_pages_draw (pages, n, cr);
      cairo_show_page (cr);
    }
  cairo_destroy (cr);
  cairo_surface_finish (surface);
  g_assert_cmpint (cairo_surface_status (surface), ==, CAIRO_STATUS_SUCCESS);
  cairo_surface_destroy (surface);
  checked = paper_ask (path, "qpdf", "--check", NULL);
  g_assert_nonnull (strstr (checked, "No syntax or stream encoding errors found"));
  info = paper_ask (path, "pdfinfo", NULL);
  g_assert_nonnull (strstr (info, number));
  g_unlink (path);
}

/* A photograph takes the place of the portrait, at most four tenths of the page. */
static void
test_photo (void)
{
  g_autoptr (BwGrading) grading = family_demo (reference, "lugger");
  g_autoptr (BwEdition) edition = bw_edition_new (grading->design, PAPER_DATE);
  g_autoptr (BwPages) pages = NULL;
  cairo_surface_t *photo = cairo_image_surface_create (CAIRO_FORMAT_RGB24, 300, 900);
  cairo_t *cr = cairo_create (photo);
  cairo_surface_t *image;
  guint32 red = 0;

  cairo_set_source_rgb (cr, 1, 0, 0);
  cairo_paint (cr);
  cairo_destroy (cr);
  edition->photo = g_build_filename (g_get_tmp_dir (), "brimwright-photo.png", NULL);
  g_assert_cmpint (cairo_surface_write_to_png (photo, edition->photo), ==, CAIRO_STATUS_SUCCESS);
  cairo_surface_destroy (photo);

  pages = bw_pages_new (grading, edition);
  g_assert_cmpuint (bw_pages_remarks (pages)->len, ==, 0);
  image = draw (pages, 0, 1);
  for (int y = 0; y < cairo_image_surface_get_height (image); y++)
    {
      const guchar *line = cairo_image_surface_get_data (image) +
                           (gsize) y * (gsize) cairo_image_surface_get_stride (image);

      red += (((const guint32 *) (const void *) line)[100] & 0xffffff) == 0xff0000;
    }
  g_assert_cmpuint (red, >, 250);
  g_assert_cmpuint (red, <, 300);
  cairo_surface_destroy (image);
  g_unlink (edition->photo);
}

/* Thirty sizes with twelve colours: three tables of yarn below each other, each page
 * of them under a head of its own. */
static void
test_tables_split (void)
{
  g_autofree char *text = family_text ("data/designs", "large");
  g_autoptr (BwGrading) grading = family_grade (reference, text);
  g_autoptr (BwEdition) edition = bw_edition_new (grading->design, PAPER_DATE);
  g_autoptr (GBytes) bytes = paper_bytes (grading, edition);
  g_autofree char *path = paper_file (bytes);
  g_autofree char *tree = paper_ask (path, "pdfinfo", "-struct-text", NULL);
  guint tables = 0, rows = 0, heads = 0;

  for (const char *at = strstr (tree, "\n  Table"); at != NULL; at = strstr (at + 1, "\n  Table"))
    tables++;
  for (const char *at = strstr (tree, "\n    TR"); at != NULL; at = strstr (at + 1, "\n    TR"))
    rows++;
  for (const char *at = strstr (tree, "\"Size\""); at != NULL; at = strstr (at + 1, "\"Size\""))
    heads++;
  g_assert_cmpuint (tables, >, 4);
  g_assert_cmpuint (heads, ==, tables);
  g_assert_cmpuint (rows, ==, 4 * grading->sizes->len + tables);
  g_unlink (path);
}

int
main (int    argc,
      char **argv)
{
  int status;

  g_test_init (&argc, &argv, NULL);
  reference = bw_reference_builtin (NULL);
  g_assert_nonnull (reference);
  g_test_add_func ("/publish/pages/on-paper", test_on_paper);
  g_test_add_func ("/publish/pages/low-ink", test_low_ink);
  g_test_add_func ("/publish/pages/print", test_print);
  g_test_add_func ("/publish/pages/photo", test_photo);
  g_test_add_func ("/publish/pages/tables-split", test_tables_split);
  status = g_test_run ();
  bw_reference_free (reference);
  return status;
}
