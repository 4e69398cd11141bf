#pragma once

/* Reads a page the way a browser shows it, as far as these pages go: tags must
 * close what they open, entities are decoded, and what the choice of a size
 * hides is left out. An own reading, so that it checks the writer. */

#include <string.h>

#include <glib.h>

#define PAGE_ALL_SIZES (-1)

typedef struct
{
  char    *name;
  gboolean hidden;
} PageTag;

static inline void
page_tag_clear (gpointer data)
{
  g_free (((PageTag *) data)->name);
}

static inline gboolean
page_is_one_of (const char *name,
                const char *list)
{
  g_auto (GStrv) names = g_strsplit (list, " ", -1);

  return g_strv_contains ((const char *const *) names, name);
}

/* The value of an attribute without its entities decoded; NULL = there is none. */
static inline char *
page_attribute (const char *tag,
                gsize       length,
                const char *name)
{
  g_autofree char *text = g_strndup (tag, length);
  g_autofree char *before = g_strconcat (" ", name, "=\"", NULL);
  const char *at = strstr (text, before);
  const char *end;

  if (at == NULL)
    return NULL;
  at += strlen (before);
  end = strchr (at, '"');
  g_assert_nonnull (end);
  return g_strndup (at, (gsize) (end - at));
}

/* What the style does with an element of these classes when a size is chosen. */
static inline gboolean
page_hides (const char *classes,
            int         size)
{
  g_autofree char *number = g_strdup_printf ("s%d", size);
  g_autofree char *line = g_strdup_printf ("w%d", size);
  g_auto (GStrv) list = NULL;
  const char *const *c;

  if (classes == NULL || size == PAGE_ALL_SIZES)
    return FALSE;
  list = g_strsplit (classes, " ", -1);
  c = (const char *const *) list;
  return g_strv_contains (c, "p") || g_strv_contains (c, "only") ||
         (g_strv_contains (c, "s") && !g_strv_contains (c, number)) ||
         (g_strv_contains (c, "r") && !g_strv_contains (c, line));
}

static inline const char *
page_entity (const char *at,
             GString    *out)
{
  static const char *const entities[][2] = {
    { "&amp;", "&" }, { "&lt;", "<" }, { "&gt;", ">" }, { "&quot;", "\"" },
  };

  for (guint i = 0; i < G_N_ELEMENTS (entities); i++)
    if (g_str_has_prefix (at, entities[i][0]))
      {
        g_string_append (out, entities[i][1]);
        return at + strlen (entities[i][0]);
      }

  g_error ("an entity that pages do not have: %.10s", at);
}

/* The page without its drawings: they say nothing, and the sanitizers look to the
 * end of the text each time a tag is looked for. */
static inline char *
page_without_drawings (const char *html)
{
  GString *out = g_string_new (NULL);
  const char *at = html;
  const char *open;

  while ((open = strstr (at, "<svg")) != NULL)
    {
      const char *close = strstr (open, "</svg>");

      g_assert_nonnull (close);
      g_string_append_len (out, at, open - at);
      at = close + strlen ("</svg>");
    }
  g_string_append (out, at);
  return g_string_free (out, FALSE);
}

/* What a page says, a line for each paragraph, heading and row. */
static inline char *
page_text (const char *html,
           int         size)
{
  static const char voids[] = "meta input img br !DOCTYPE stop path rect use";
  static const char unseen[] = "head svg style fieldset";
  static const char lines[] = "p h1 h2 h3 tr caption figcaption";
  g_autoptr (GArray) open = g_array_new (FALSE, FALSE, sizeof (PageTag));
  g_autofree char *shown = page_without_drawings (html);
  GString *out = g_string_new (NULL);

  g_array_set_clear_func (open, page_tag_clear);
  for (const char *at = shown; *at != '\0';)
    {
      gboolean hidden = open->len > 0 && g_array_index (open, PageTag, open->len - 1).hidden;

      if (*at == '<')
        {
          gsize length = strcspn (at, ">");
          gboolean closes = at[1] == '/';
          g_autofree char *name = g_strndup (at + 1 + closes, strcspn (at + 1 + closes, " >\n/"));

          if (closes)
            {
              g_assert_cmpuint (open->len, >, 0);
              g_assert_cmpstr (g_array_index (open, PageTag, open->len - 1).name, ==, name);
              if (!hidden && page_is_one_of (name, lines))
                g_string_append_c (out, '\n');
              g_array_set_size (open, open->len - 1);
            }
          else if (at[length - 1] != '/' && !page_is_one_of (name, voids))
            {
              g_autofree char *classes = page_attribute (at, length, "class");
              PageTag tag = { g_strdup (name), hidden || page_is_one_of (name, unseen) ||
                                               page_hides (classes, size) };

              g_array_append_val (open, tag);
              if (!tag.hidden && page_is_one_of (name, "h2 h3"))
                g_string_append_c (out, '\n');
            }
          at += length + 1;
        }
      else if (hidden || *at == '\n')
        at++;
      else if (*at == '&')
        at = page_entity (at, out);
      else
        g_string_append_c (out, *at++);
    }

  g_assert_cmpuint (open->len, ==, 0);
  return g_string_free (out, FALSE);
}
