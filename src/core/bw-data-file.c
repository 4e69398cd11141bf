#define G_LOG_DOMAIN "bw-core"

#include "bw-data-file.h"

#include <string.h>

#include "bw-error.h"

static const char *const status_words[] = { "", "read", "secondary", "derived", "memory" };

/* --- Loading --- */

/* A line's group, or its key, without the spaces around; NULL = neither. */
static char *
line_head (const char *line,
           gboolean   *is_group)
{
  g_autofree char *text = g_strstrip (g_strdup (line));
  char *end;

  *is_group = text[0] == '[';
  end = strchr (text, *is_group ? ']' : '=');
  if (end == NULL || text[0] == '#' || end == text)
    return NULL;
  *end = '\0';
  return g_strdup (g_strchomp (text + *is_group));
}

/* GKeyFile drops a group or a key that stands twice into one; the second would
 * change the first without a word. */
static gboolean
check_twice (const char  *text,
             const char  *what,
             GError     **error)
{
  g_auto (GStrv) lines = g_strsplit (text, "\n", -1);
  g_autoptr (GHashTable) seen = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  g_autofree char *group = g_strdup ("");

  for (guint i = 0; lines[i] != NULL; i++)
    {
      gboolean is_group;
      g_autofree char *head = line_head (lines[i], &is_group);
      char *entry;

      if (head == NULL)
        continue;
      entry = is_group ? g_strconcat ("[", head, NULL) : g_strconcat (group, "\n", head, NULL);
      if (!g_hash_table_add (seen, entry))
        {
          g_set_error (error, BW_ERROR, BW_ERROR_CONFLICT,
                       "%s, line %u: %s%s%s stands twice; leave one out", what, i + 1,
                       is_group ? "[" : "", head, is_group ? "]" : "");
          return FALSE;
        }
      if (is_group)
        {
          g_free (group);
          group = g_steal_pointer (&head);
        }
    }

  return TRUE;
}

/**
 * bw_data_file_load:
 * @text: a key file
 * @length: its length in bytes
 * @what: what it is, for messages: "Size table"
 * @error: return location for an error
 *
 * Reads a key file and refuses what GKeyFile lets pass: bytes that are no UTF-8,
 * and groups or keys that stand twice.
 *
 * Returns: (transfer full) (nullable): the file, or NULL with @error set
 */
GKeyFile *
bw_data_file_load (const char  *text,
                   gsize        length,
                   const char  *what,
                   GError     **error)
{
  g_autoptr (GKeyFile) file = g_key_file_new ();
  g_autoptr (GError) reason = NULL;
  g_autofree char *copy = NULL;

  g_return_val_if_fail (text != NULL, NULL);

  if (!g_utf8_validate_len (text, length, NULL))
    {
      g_set_error (error, BW_ERROR, BW_ERROR_SYNTAX,
                   "%s: the text is not UTF-8; save it as UTF-8", what);
      return NULL;
    }

  copy = g_strndup (text, length);
  if (!g_key_file_load_from_data (file, copy, length, G_KEY_FILE_NONE, &reason))
    {
      g_set_error (error, BW_ERROR, BW_ERROR_SYNTAX, "%s: %s", what, reason->message);
      return NULL;
    }
  if (!check_twice (copy, what, error))
    return NULL;

  return g_steal_pointer (&file);
}

/* --- Keys --- */

/**
 * bw_data_file_keys:
 * @file: a file
 * @group: a group of it
 * @known: the keys that may stand there, NULL-terminated
 * @error: return location for an error
 *
 * Returns: FALSE with @error set when another key stands there, so that a key
 *   that is written wrong is not taken for one that is left out
 */
gboolean
bw_data_file_keys (GKeyFile           *file,
                   const char         *group,
                   const char *const  *known,
                   GError            **error)
{
  g_auto (GStrv) keys = g_key_file_get_keys (file, group, NULL, NULL);

  for (guint i = 0; keys != NULL && keys[i] != NULL; i++)
    if (!g_strv_contains (known, keys[i]))
      {
        g_autofree char *list = g_strjoinv (", ", (char **) known);

        g_set_error (error, BW_ERROR, BW_ERROR_UNKNOWN,
                     "[%s] %s: there is no such key; the keys are %s", group, keys[i], list);
        return FALSE;
      }

  return TRUE;
}

/**
 * bw_data_file_optional:
 * @file: a file
 * @group: a group of it
 * @key: a key
 *
 * Returns: (transfer full) (nullable): its value; NULL when it is left out or empty
 */
char *
bw_data_file_optional (GKeyFile   *file,
                       const char *group,
                       const char *key)
{
  g_autofree char *text = g_key_file_get_string (file, group, key, NULL);

  if (text == NULL)
    return NULL;
  g_strstrip (text);
  return text[0] == '\0' ? NULL : g_steal_pointer (&text);
}

/**
 * bw_data_file_string:
 * @file: a file
 * @group: a group of it
 * @key: a key
 * @error: return location for an error
 *
 * Returns: (transfer full) (nullable): its value; NULL with @error set when it is
 *   left out or empty
 */
char *
bw_data_file_string (GKeyFile    *file,
                     const char  *group,
                     const char  *key,
                     GError     **error)
{
  char *text = bw_data_file_optional (file, group, key);

  if (text == NULL)
    g_set_error (error, BW_ERROR, BW_ERROR_MISSING, "[%s] %s: write a value, it is needed here",
                 group, key);
  return text;
}

/**
 * bw_data_file_integer:
 * @file: a file
 * @group: a group of it
 * @key: a key
 * @most: the largest number that makes sense
 * @value: (out): the number
 * @error: return location for an error
 *
 * Returns: FALSE with @error set when it is not a whole number from 0 to @most
 */
gboolean
bw_data_file_integer (GKeyFile    *file,
                      const char  *group,
                      const char  *key,
                      guint        most,
                      guint       *value,
                      GError     **error)
{
  g_autofree char *text = bw_data_file_string (file, group, key, error);
  guint64 number;

  if (text == NULL)
    return FALSE;
  if (!g_ascii_string_to_unsigned (text, 10, 0, most, &number, NULL))
    {
      g_set_error (error, BW_ERROR, BW_ERROR_RANGE,
                   "[%s] %s: “%s” is not a whole number from 0 to %u", group, key, text, most);
      return FALSE;
    }

  *value = (guint) number;
  return TRUE;
}

static gboolean
read_bound (const char *text,
            double     *value)
{
  char *end;

  *value = g_ascii_strtod (text, &end);
  return end != text && *end == '\0' && *value >= 0 && *value <= 1e6;
}

/**
 * bw_data_file_range:
 * @file: a file
 * @group: a group of it
 * @key: a key
 * @range: (out): the range
 * @error: return location for an error
 *
 * Reads `least;most`; 0 means open at that end.
 *
 * Returns: FALSE with @error set when it is not two such numbers in order
 */
gboolean
bw_data_file_range (GKeyFile    *file,
                    const char  *group,
                    const char  *key,
                    BwRange     *range,
                    GError     **error)
{
  g_autofree char *text = bw_data_file_string (file, group, key, error);
  g_auto (GStrv) ends = NULL;

  if (text == NULL)
    return FALSE;
  ends = g_strsplit (text, ";", -1);
  if (g_strv_length (ends) == 2 && read_bound (ends[0], &range->least) &&
      read_bound (ends[1], &range->most) && (range->most == 0 || range->least <= range->most))
    return TRUE;

  g_set_error (error, BW_ERROR, BW_ERROR_SYNTAX,
               "[%s] %s: “%s” is not two numbers in order, such as 16;20 (0 = open)", group, key,
               text);
  return FALSE;
}

/**
 * bw_data_file_status:
 * @file: a file
 * @group: a group of it
 * @key: a key
 * @status: (out): how the values came to us
 * @error: return location for an error
 *
 * Returns: FALSE with @error set when it is left out or no such word
 */
gboolean
bw_data_file_status (GKeyFile    *file,
                     const char  *group,
                     const char  *key,
                     BwStatus    *status,
                     GError     **error)
{
  g_autofree char *text = bw_data_file_string (file, group, key, error);

  if (text == NULL)
    return FALSE;
  for (guint i = 1; i < G_N_ELEMENTS (status_words); i++)
    if (g_str_equal (text, status_words[i]))
      {
        *status = (BwStatus) i;
        return TRUE;
      }

  g_set_error (error, BW_ERROR, BW_ERROR_UNKNOWN,
               "[%s] %s: “%s” is none of read, secondary, derived, memory", group, key, text);
  return FALSE;
}
