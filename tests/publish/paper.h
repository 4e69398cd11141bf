#pragma once

/* PDFs as other programs see them: pdfinfo, pdffonts, pdftotext, pdftoppm (Poppler)
 * and qpdf. */

#include <string.h>

#include <glib/gstdio.h>

#include "bw-pdf.h"

#define PAPER_DATE G_GINT64_CONSTANT (1772323200) /* 2026-03-01 */

static inline GBytes *
paper_bytes (const BwGrading *grading,
             const BwEdition *edition)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (BwPages) pages = bw_pages_new (grading, edition);
  GBytes *bytes = bw_pdf_new (pages, &error);

  g_assert_no_error (error);
  return bytes;
}

/* A file of its own in the folder for temporary files; unlink and free it. */
static inline char *
paper_file (GBytes *bytes)
{
  char *path;
  g_autoptr (GError) error = NULL;
  int file = g_file_open_tmp ("paper-XXXXXX.pdf", &path, &error);

  g_assert_no_error (error);
  g_close (file, NULL);
  g_file_set_contents (path, g_bytes_get_data (bytes, NULL), (gssize) g_bytes_get_size (bytes),
                       &error);
  g_assert_no_error (error);
  return path;
}

/* What a program prints about the file; it must succeed and complain of nothing. */
static inline char *
paper_ask (const char *path,
           const char *program,
           ...)
{
  g_autoptr (GPtrArray) arguments = g_ptr_array_new ();
  g_autoptr (GError) error = NULL;
  g_autofree char *complaint = NULL;
  char *out;
  const char *argument;
  va_list list;
  int status;

  g_ptr_array_add (arguments, (char *) program);
  va_start (list, program);
  while ((argument = va_arg (list, const char *)) != NULL)
    g_ptr_array_add (arguments, (char *) argument);
  va_end (list);
  g_ptr_array_add (arguments, (char *) path);
  if (g_str_has_prefix (program, "pdftotext"))
    g_ptr_array_add (arguments, (char *) "-");
  g_ptr_array_add (arguments, NULL);

  g_spawn_sync (NULL, (char **) arguments->pdata, NULL, G_SPAWN_SEARCH_PATH, NULL, NULL, &out,
                &complaint, &status, &error);
  g_assert_no_error (error);
  g_assert_cmpstr (complaint, ==, "");
  g_assert_true (g_spawn_check_wait_status (status, NULL));
  return out;
}

/* --- The text, paragraph by paragraph --- */

static inline double
paper_attribute (const char *element,
                 const char *name)
{
  const char *at = strstr (element, name);

  g_assert_nonnull (at);
  return g_ascii_strtod (at + strlen (name), NULL);
}

static inline char *
paper_unescape (const char *text,
                gsize       length)
{
  g_autofree char *raw = g_strndup (text, length);
  GString *out = g_string_new (raw);

  g_string_replace (out, "&lt;", "<", 0);
  g_string_replace (out, "&gt;", ">", 0);
  g_string_replace (out, "&quot;", "\"", 0);
  g_string_replace (out, "&apos;", "'", 0);
  g_string_replace (out, "&#39;", "'", 0);
  g_string_replace (out, "&amp;", "&", 0);
  return g_string_free (out, FALSE);
}

/* The text as someone reads it: words on one height make a line, with two spaces where
 * a column ends, wider than a space of the type is; a line that
 * follows the one above it as closely as type is set goes on with its paragraph;
 * any wider gap begins another. What stands at the foot of pages, below `foot`, is
 * left out. */
static inline char *
paper_text (const char *path,
            double      size,    /* of the type, pt */
            double      leading, /* from line to line within a paragraph, pt */
            double      foot)
{
  g_autofree char *xml = paper_ask (path, "pdftotext", "-raw", "-bbox", NULL);
  GString *out = g_string_new (NULL);
  double line = -1e9, right = 0;
  const char *page_at = strstr (xml, "<page ");

  for (const char *at = strstr (xml, "<word "); at != NULL; at = strstr (at, "<word "))
    {
      const char *text = strchr (at, '>') + 1;
      const char *end = strstr (text, "</word>");
      g_autofree char *word = paper_unescape (text, (gsize) (end - text));
      double y = paper_attribute (at, "yMax=\"");
      double gap = paper_attribute (at, "xMin=\"") - right;
      const char *next_page = page_at != NULL ? strstr (page_at + 1, "<page ") : NULL;

      if (next_page != NULL && next_page < at)
        {
          page_at = next_page;
          line = -1e9;
        }
      right = paper_attribute (at, "xMax=\"");
      at = end;
      if (y > foot)
        continue;
      if (ABS (y - line) < 1)
        g_string_append (out, gap > 0.42 * size ? "  " : " ");
      else if (y > line && y - line < leading + 0.4)
        g_string_append_c (out, ' ');
      else if (out->len > 0)
        g_string_append_c (out, '\n');
      g_string_append (out, word);
      line = y;
    }

  g_string_append_c (out, '\n');
  return g_string_free (out, FALSE);
}
