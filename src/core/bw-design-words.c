#define G_LOG_DOMAIN "bw-core"

#include <string.h>

#include "bw-design-fields.h"

/* Wording of errors: which of the known names was meant, and what was typed. */

#define NEAREST_BYTES_MAX 48
#define QUOTE_CHARS_MAX   40

/* Levenshtein's edit distance, upper and lower case alike; one row at a time. */
static guint
edit_distance (const char *a,
               gsize       a_length,
               const char *b,
               gsize       b_length)
{
  guint row[NEAREST_BYTES_MAX + 1];

  for (gsize j = 0; j <= b_length; j++)
    row[j] = j;

  for (gsize i = 1; i <= a_length; i++)
    {
      guint diagonal = row[0];

      row[0] = i;
      for (gsize j = 1; j <= b_length; j++)
        {
          gboolean same = g_ascii_tolower (a[i - 1]) == g_ascii_tolower (b[j - 1]);
          guint changed = diagonal + (same ? 0 : 1);

          diagonal = row[j];
          row[j] = MIN (changed, MIN (row[j], row[j - 1]) + 1);
        }
    }

  return row[b_length];
}

/**
 * bw_nearest_init:
 * @nearest: (out): the search
 * @wanted: the name that is not known; must outlive the search
 *
 * Begins a search for the known name that @wanted was probably meant to be.
 */
void
bw_nearest_init (BwNearest  *nearest,
                 const char *wanted)
{
  *nearest = (BwNearest) { .wanted = wanted, .best = NULL, .distance = G_MAXUINT };
}

/**
 * bw_nearest_offer:
 * @nearest: the search
 * @known: a known name; must outlive the search
 *
 * Keeps @known if it is nearer than all names offered before and near enough
 * to be a slip of the keyboard: at most a third of the letters, rounded up.
 */
void
bw_nearest_offer (BwNearest  *nearest,
                  const char *known)
{
  gsize wanted_length = strlen (nearest->wanted);
  gsize known_length = strlen (known);
  guint distance;

  if (wanted_length > NEAREST_BYTES_MAX || known_length > NEAREST_BYTES_MAX)
    return;

  distance = edit_distance (nearest->wanted, wanted_length, known, known_length);
  if (distance < nearest->distance && distance <= (MAX (wanted_length, known_length) + 2) / 3)
    {
      nearest->distance = distance;
      nearest->best = known;
    }
}

/**
 * bw_nearest_question:
 * @nearest: the search
 *
 * Returns: (transfer full): "; did you mean “…”?", or an empty string if no
 *   name was near enough
 */
char *
bw_nearest_question (const BwNearest *nearest)
{
  if (nearest->best == NULL)
    return g_strdup ("");

  return g_strdup_printf ("; did you mean “%s”?", nearest->best);
}

/**
 * bw_field_quote:
 * @text: what was typed, valid UTF-8
 *
 * Returns: (transfer full): @text in quotation marks, shortened, control
 *   characters made visible, fit to stand in a message of one line
 */
char *
bw_field_quote (const char *text)
{
  GString *out = g_string_new ("“");
  guint n = 0;

  for (const char *p = text; *p != '\0' && n < QUOTE_CHARS_MAX; p = g_utf8_next_char (p), n++)
    {
      gunichar c = g_utf8_get_char (p);

      if (g_unichar_iscntrl (c))
        g_string_append_c (out, '?');
      else
        g_string_append_unichar (out, c);
    }

  if (n == QUOTE_CHARS_MAX)
    g_string_append (out, "…");
  g_string_append (out, "”");

  return g_string_free (out, FALSE);
}

/**
 * bw_design_id_is_valid:
 * @id: a name of a swatch or a size
 *
 * Ids stand in group headers and in lists, so they are made of letters, digits,
 * - and _ only, and are short.
 *
 * Returns: whether @id may be one
 */
gboolean
bw_design_id_is_valid (const char *id)
{
  gsize length = strlen (id);

  if (length == 0 || length > BW_DESIGN_ID_MAX)
    return FALSE;

  for (const char *p = id; *p != '\0'; p++)
    if (!g_ascii_isalnum (*p) && *p != '-' && *p != '_')
      return FALSE;

  return TRUE;
}

/**
 * bw_design_set_error:
 * @error: (out) (optional): where the error goes
 * @code: its code
 * @group: header of the group it is about
 * @key: (nullable): key it is about
 * @format: what is wrong and what would do
 * @...: arguments of @format
 *
 * Sets an error that says where it is, in the one form all errors of a design
 * file have: "[Group] key: what".
 */
void
bw_design_set_error (GError    **error,
                     BwError     code,
                     const char *group,
                     const char *key,
                     const char *format,
                     ...)
{
  g_autofree char *what = NULL;
  va_list args;

  va_start (args, format);
  what = g_strdup_vprintf (format, args);
  va_end (args);

  if (key != NULL)
    g_set_error (error, BW_ERROR, (int) code, "[%s] %s: %s", group, key, what);
  else
    g_set_error (error, BW_ERROR, (int) code, "[%s]: %s", group, what);
}
