#define G_LOG_DOMAIN "bw-publish"

#include "bw-html-private.h"
#include "bw-number-list.h"

/**
 * bw_html_escape:
 * @out: where it goes
 * @text: UTF-8
 *
 * Appends text so that a browser shows it as it is, in an element or in an
 * attribute between double quotes. Characters that no page may hold become
 * U+FFFD; line ends become spaces.
 */
void
bw_html_escape (GString    *out,
                const char *text)
{
  for (const char *at = text; *at != '\0'; at = g_utf8_next_char (at))
    switch (*at)
      {
      case '&':
        g_string_append (out, "&amp;");
        break;
      case '<':
        g_string_append (out, "&lt;");
        break;
      case '>':
        g_string_append (out, "&gt;");
        break;
      case '"':
        g_string_append (out, "&quot;");
        break;
      case '\n':
      case '\r':
      case '\t':
        g_string_append_c (out, ' ');
        break;
      default:
        /* the C1 controls are what browsers take for Windows letters */
        if ((guchar) *at < 0x20 || *at == 0x7f || ((guchar) *at == 0xc2 && (guchar) at[1] < 0xa0))
          g_string_append (out, "\xef\xbf\xbd");
        else
          g_string_append_len (out, at, g_utf8_next_char (at) - at);
      }
}

static void
escape_length (GString    *out,
               const char *text,
               gsize       length)
{
  g_autofree char *part = g_strndup (text, length);

  bw_html_escape (out, part);
}

/* --- Lists of a number for each size --- */

static void
append_list (GString     *out,
             const guint *ks,
             guint        n,
             const char **starts,
             const gsize *lengths)
{
  for (guint i = 0; i < n; i++)
    {
      if (i > 0)
        g_string_append_printf (out, "<span class=\"p\">%s</span>", i == 1 ? " (" : ", ");
      g_string_append_printf (out, "<span class=\"s s%u\">", ks[i]);
      escape_length (out, starts[i], lengths[i]);
      g_string_append (out, "</span>");
    }
  g_string_append (out, "<span class=\"p\">)</span>");
}

/**
 * bw_html_numbers:
 * @out: where it goes
 * @text: words made by the program, with numbers for several sizes in them
 * @sizes: bit k: the numbers run over the k-th size
 * @n_sizes: sizes of the page
 *
 * Appends the text with each number of a list marked with its size. A list is
 * "54 (60, 66)" with as many numbers as there are sizes in it; the words of a
 * pattern have nothing else that looks so.
 */
void
bw_html_numbers (GString    *out,
                 const char *text,
                 guint32     sizes,
                 guint       n_sizes)
{
  guint ks[BW_DESIGN_SIZES_MAX];
  const char *starts[BW_DESIGN_SIZES_MAX];
  gsize lengths[BW_DESIGN_SIZES_MAX];
  const char *plain = text;
  guint n = 0;

  for (guint k = 0; k < n_sizes; k++)
    if (sizes & (1u << k))
      ks[n++] = k;

  for (const char *at = text; n > 1 && *at != '\0';)
    {
      const char *end;
      gsize number = bw_number_length (at);

      if (number > 0 && bw_number_list_find (at, n, starts, lengths, &end))
        {
          escape_length (out, plain, (gsize) (at - plain));
          append_list (out, ks, n, starts, lengths);
          at = plain = end;
        }
      else
        {
          at = number > 0 ? at + number : g_utf8_next_char (at);
        }
    }

  bw_html_escape (out, plain);
}

/* The sizes for which a number of the list is a range. */
static guint32
ranges_in (const char *list,
           guint32     sizes,
           guint       n_sizes)
{
  const char *starts[BW_DESIGN_SIZES_MAX];
  gsize lengths[BW_DESIGN_SIZES_MAX];
  const char *end;
  guint32 ranges = 0;
  guint n = 0;

  for (guint k = 0; k < n_sizes; k++)
    n += (sizes >> k) & 1;
  if (n < 2 || !bw_number_list_find (list, n, starts, lengths, &end))
    return 0;
  for (guint k = 0, i = 0; k < n_sizes; k++)
    if (sizes & (1u << k))
      {
        if (lengths[i] > strlen ("–") && g_strstr_len (starts[i], (gssize) lengths[i], "–") != NULL)
          ranges |= 1u << k;
        i++;
      }

  return ranges;
}

/**
 * bw_html_label:
 * @out: where it goes
 * @label: of a line: "Rnds 8–10 (8–11, 9)"
 * @sizes: bit k: the numbers run over the k-th size
 * @n_sizes: sizes of the page
 *
 * Appends a label with its numbers marked. Of a size that works a single round
 * it says "Rnd", where the label of all says "Rnds".
 */
void
bw_html_label (GString    *out,
               const char *label,
               guint32     sizes,
               guint       n_sizes)
{
  gboolean several = g_str_has_prefix (label, "Rnds ") || g_str_has_prefix (label, "Rows ");
  guint32 ranges = several ? ranges_in (label + strlen ("Rnds "), sizes, n_sizes) : 0;

  if (ranges == 0)
    {
      bw_html_numbers (out, label, sizes, n_sizes);
      return;
    }

  g_string_append_len (out, label, strlen ("Rnd"));
  g_string_append (out, "<span");
  bw_html_classes (out, "", ranges, n_sizes);
  g_string_append (out, ">s</span>");
  bw_html_numbers (out, label + strlen ("Rnds"), sizes, n_sizes);
}

/**
 * bw_html_classes:
 * @out: where it goes
 * @always: classes that the element has anyhow; empty = none
 * @sizes: bit k: it is for the k-th size; 0 = for all
 * @n_sizes: sizes of the page
 *
 * Appends a class attribute, and a space before it; nothing where it would be empty.
 */
void
bw_html_classes (GString    *out,
                 const char *always,
                 guint32     sizes,
                 guint       n_sizes)
{
  guint32 all = (1u << n_sizes) - 1;
  gboolean some = sizes != 0 && (sizes & all) != all;

  if (always[0] == '\0' && !some)
    return;

  g_string_append_printf (out, " class=\"%s", always);
  for (guint k = 0; some && k < n_sizes; k++)
    if (sizes & (1u << k))
      g_string_append_printf (out, " w%u", k);
  g_string_append (out, some ? " r\"" : "\"");
}
