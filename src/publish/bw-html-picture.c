#define G_LOG_DOMAIN "bw-publish"

#include "bw-html-private.h"

#include <cairo-svg.h>
#include <string.h>

/* Drawings within a page: what Cairo writes as SVG, made fit to stand beside
 * others. Cairo names gradients and clips anew in every drawing and counts
 * some of them through the whole program; here they are named after the
 * drawing. Its nine digits are more than any screen shows. */

#define DECIMALS        2 /* of a length, 1 mm of the hat or more */
#define MATRIX_DECIMALS 5

typedef struct
{
  const char *prefix;
  GHashTable *names;  /* Cairo's to their numbers; looked up, never listed */
  GString    *out;
} Rewriting;

static cairo_status_t
take_cb (void                *closure,
         const unsigned char *data,
         unsigned int         length)
{
  g_string_append_len (closure, (const char *) data, (gssize) length);
  return CAIRO_STATUS_SUCCESS;
}

static char *
draw_svg (double      width,
          double      height,
          BwHtmlDraw  draw,
          gpointer    data)
{
  GString *svg = g_string_new (NULL);
  cairo_surface_t *surface = cairo_svg_surface_create_for_stream (take_cb, svg, width, height);
  cairo_t *cr = cairo_create (surface);

  draw (cr, data);
  cairo_destroy (cr);
  cairo_surface_finish (surface);
  cairo_surface_destroy (surface);
  return g_string_free (svg, FALSE);
}

/* Puts the drawing's own name in the place of Cairo's, which ends at @stop. */
static const char *
rename_one (Rewriting  *rewriting,
            const char *at,
            char        stop)
{
  gsize length = strcspn (at, "\")");
  g_autofree char *name = g_strndup (at, length);
  gpointer number;

  g_assert (at[length] == stop);
  if (!g_hash_table_lookup_extended (rewriting->names, name, NULL, &number))
    {
      number = GUINT_TO_POINTER (g_hash_table_size (rewriting->names));
      g_hash_table_insert (rewriting->names, g_strdup (name), number);
    }
  g_string_append_printf (rewriting->out, "%s-%u", rewriting->prefix, GPOINTER_TO_UINT (number));
  return at + length;
}

/* A number with a fraction, shorter. */
static const char *
round_one (Rewriting  *rewriting,
           const char *at,
           guint       decimals)
{
  char *end;
  double value = g_ascii_strtod (at, &end);
  g_autofree char *number = bw_units_format_number (value, decimals);

  g_string_append (rewriting->out, number);
  return end;
}

static gboolean
begins_number (const char *at,
               char        before)
{
  return (g_ascii_isdigit (*at) || (*at == '-' && g_ascii_isdigit (at[1]))) &&
         !g_ascii_isalnum (before) && before != '-' && before != '#';
}

/* Rewrites what stands within the outermost element. */
static void
rewrite (Rewriting  *rewriting,
         const char *svg)
{
  static const struct
  {
    const char *before;
    char        stop;
  } names[] = { { " id=\"", '"' }, { "url(#", ')' }, { "href=\"#", '"' } };
  gboolean in_matrix = FALSE;
  const char *at = svg;

  while (*at != '\0')
    {
      gboolean renamed = FALSE;

      for (guint i = 0; i < G_N_ELEMENTS (names) && !renamed; i++)
        if (g_str_has_prefix (at, names[i].before))
          {
            g_string_append (rewriting->out, names[i].before);
            at = rename_one (rewriting, at + strlen (names[i].before), names[i].stop);
            renamed = TRUE;
          }
      if (renamed)
        continue;
      if (g_str_has_prefix (at, "matrix("))
        in_matrix = TRUE;
      else if (*at == ')')
        in_matrix = FALSE;
      if (begins_number (at, at > svg ? at[-1] : ' '))
        at = round_one (rewriting, at, in_matrix ? MATRIX_DECIMALS : DECIMALS);
      else if (g_str_has_prefix (at, "stop-opacity:1;"))
        at += strlen ("stop-opacity:1;");
      else if (*at == '\n')
        at++;
      else
        g_string_append_c (rewriting->out, *at++);
    }
}

/**
 * bw_html_picture:
 * @out: where it goes
 * @id: name of the drawing, the only one on its page
 * @alternative: what it shows, in words
 * @width: width of what is drawn; mm, unless it stands for something else
 * @height: the same
 * @draw: draws it on a context whose origin is at the upper left
 * @data: for @draw
 *
 * Appends the drawing as an element that fills the width it is given.
 */
void
bw_html_picture (GString    *out,
                 const char *id,
                 const char *alternative,
                 double      width,
                 double      height,
                 BwHtmlDraw  draw,
                 gpointer    data)
{
  g_autofree char *svg = draw_svg (width, height, draw, data);
  g_autofree char *w = bw_units_format_number (width, DECIMALS);
  g_autofree char *h = bw_units_format_number (height, DECIMALS);
  g_autoptr (GHashTable) names = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  Rewriting rewriting = { id, names, out };
  const char *open = strstr (svg, "<svg ");
  const char *body = open != NULL ? strchr (open, '>') : NULL;

  g_return_if_fail (body != NULL);

  g_string_append (out, "<svg xmlns=\"http://www.w3.org/2000/svg\" "
                        "xmlns:xlink=\"http://www.w3.org/1999/xlink\" role=\"img\" "
                        "aria-label=\"");
  bw_html_escape (out, alternative);
  g_string_append_printf (out, "\" viewBox=\"0 0 %s %s\">", w, h);
  rewrite (&rewriting, body + 1);
  g_string_append_c (out, '\n');
}
