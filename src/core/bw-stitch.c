#define G_LOG_DOMAIN "bw-core"

#include "bw-stitch.h"

#include <string.h>

#include "bw-data-file.h"
#include "bw-error.h"

/* Index by id and by abbreviation, made once; keys belong to the stitches but
 * for the folded abbreviations, which the tables own. */
struct _BwStitchDictionary
{
  GPtrArray  *stitches;  /* of BwStitch, in the order of the text */
  GHashTable *by_id;     /* id -> index + 1 */
  GHashTable *by_uk;     /* abbreviation in lower case, any way to write it -> index + 1 */
  GHashTable *by_us;
};

static void
stitch_free (gpointer data)
{
  BwStitch *stitch = data;

  g_free (stitch->id);
  g_free (stitch->uk);
  g_free (stitch->us);
  g_free (stitch->uk_name);
  g_free (stitch->us_name);
  g_free (stitch->symbol);
  g_free (stitch->special);
  g_free (stitch);
}

/* --- Reading --- */

static gboolean
read_text (GKeyFile    *file,
           const char  *id,
           const char  *key,
           char       **out,
           GError     **error)
{
  *out = bw_data_file_string (file, id, key, error);
  return *out != NULL;
}

static gboolean
read_number (GKeyFile    *file,
             const char  *id,
             const char  *key,
             double       most,
             double      *out,
             GError     **error)
{
  g_autofree char *text = NULL;
  char *end;

  if (!read_text (file, id, key, &text, error))
    return FALSE;

  *out = g_ascii_strtod (text, &end);
  if (*end != '\0' || !(*out >= 0 && *out <= most))
    {
      g_set_error (error, BW_ERROR, BW_ERROR_RANGE, "[%s] %s: wants a number from 0 to %g", id, key,
                   most);
      return FALSE;
    }

  return TRUE;
}

/* One of a few words; `value` is its place among them. */
static gboolean
read_word (GKeyFile           *file,
           const char         *id,
           const char         *key,
           const char *const  *words,
           guint              *value,
           GError            **error)
{
  g_autofree char *word = NULL;
  g_autofree char *list = NULL;

  if (!read_text (file, id, key, &word, error))
    return FALSE;
  for (*value = 0; words[*value] != NULL; (*value)++)
    if (g_str_equal (word, words[*value]))
      return TRUE;

  list = g_strjoinv (", ", (char **) words);
  g_set_error (error, BW_ERROR, BW_ERROR_UNKNOWN, "[%s] %s: \"%s\" is none of %s", id, key, word,
               list);
  return FALSE;
}

static gboolean
read_words (GKeyFile  *file,
            BwStitch  *stitch,
            GError   **error)
{
  /* In the order of BwAnchor. */
  static const char *const anchors[] = { "none", "top", "front-post", "back-post", "base", NULL };
  static const char *const no_yes[] = { "no", "yes", NULL };
  const char *id = stitch->id;
  guint anchor, post;

  if (!read_text (file, id, "uk", &stitch->uk, error) ||
      !read_text (file, id, "us", &stitch->us, error) ||
      !read_text (file, id, "uk-name", &stitch->uk_name, error) ||
      !read_text (file, id, "us-name", &stitch->us_name, error) ||
      !read_text (file, id, "symbol", &stitch->symbol, error) ||
      !read_word (file, id, "anchor", anchors, &anchor, error) ||
      !read_word (file, id, "post", no_yes, &post, error))
    return FALSE;

  stitch->anchor = (BwAnchor) anchor;
  stitch->has_post = post == 1;
  stitch->special = bw_data_file_optional (file, id, "special");
  return TRUE;
}

static gboolean
read_numbers (GKeyFile  *file,
              BwStitch  *stitch,
              GError   **error)
{
  const char *id = stitch->id;

  return bw_data_file_integer (file, id, "takes", 8, &stitch->takes, error) &&
         bw_data_file_integer (file, id, "makes", 16, &stitch->makes, error) &&
         bw_data_file_integer (file, id, "below", 8, &stitch->below, error) &&
         bw_data_file_integer (file, id, "turning-chain", 8, &stitch->turning_chain, error) &&
         (!g_key_file_has_key (file, id, "space", NULL) ||
          bw_data_file_integer (file, id, "space", stitch->makes, &stitch->space, error)) &&
         read_number (file, id, "height", 10, &stitch->height, error) &&
         read_number (file, id, "yarn", 200, &stitch->yarn, error);
}

static BwStitch *
read_stitch (GKeyFile    *file,
             const char  *id,
             GError     **error)
{
  static const char *const keys[] = {
    "uk", "uk-also", "us", "us-also", "uk-name", "us-name", "symbol", "takes", "makes", "anchor",
    "below", "post", "space", "height", "yarn", "turning-chain", "special", NULL
  };
  BwStitch *stitch = g_new0 (BwStitch, 1);

  stitch->id = g_strdup (id);
  if (!bw_data_file_keys (file, id, keys, error) || !read_words (file, stitch, error) ||
      !read_numbers (file, stitch, error))
    g_clear_pointer (&stitch, stitch_free);
  return stitch;
}

/* Two stitches may not share an abbreviation within one set of terms. */
static gboolean
add_abbreviation (GHashTable *table,
                  const char *abbreviation,
                  guint       index,
                  GError    **error)
{
  char *folded = g_utf8_strdown (abbreviation, -1);

  if (g_hash_table_contains (table, folded))
    {
      g_set_error (error, BW_ERROR, BW_ERROR_CONFLICT,
                   "The abbreviation \"%s\" stands for two stitches", abbreviation);
      g_free (folded);
      return FALSE;
    }

  g_hash_table_insert (table, folded, GUINT_TO_POINTER (index + 1));
  return TRUE;
}

/* The other ways to write a stitch are looked up but never printed. */
static gboolean
add_also (GHashTable *table,
          GKeyFile   *file,
          const char *id,
          const char *key,
          guint       index,
          GError    **error)
{
  g_auto (GStrv) also = g_key_file_get_string_list (file, id, key, NULL, NULL);

  for (guint i = 0; also != NULL && also[i] != NULL; i++)
    if (!add_abbreviation (table, g_strstrip (also[i]), index, error))
      return FALSE;

  return TRUE;
}

static gboolean
add_stitch (BwStitchDictionary *dictionary,
            GKeyFile           *file,
            BwStitch           *stitch,
            GError            **error)
{
  guint index = dictionary->stitches->len;

  g_ptr_array_add (dictionary->stitches, stitch);
  g_hash_table_insert (dictionary->by_id, stitch->id, GUINT_TO_POINTER (index + 1));
  return add_abbreviation (dictionary->by_uk, stitch->uk, index, error) &&
         add_abbreviation (dictionary->by_us, stitch->us, index, error) &&
         add_also (dictionary->by_uk, file, stitch->id, "uk-also", index, error) &&
         add_also (dictionary->by_us, file, stitch->id, "us-also", index, error);
}

static BwStitchDictionary *
dictionary_new (void)
{
  BwStitchDictionary *dictionary = g_new0 (BwStitchDictionary, 1);

  dictionary->stitches = g_ptr_array_new_with_free_func (stitch_free);
  dictionary->by_id = g_hash_table_new (g_str_hash, g_str_equal);
  dictionary->by_uk = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  dictionary->by_us = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  return dictionary;
}

/**
 * bw_stitch_dictionary_parse:
 * @text: a key file, one group a stitch; data/reference/stitches.ini explains the keys
 * @length: its length in bytes
 * @error: return location for an error
 *
 * Returns: (transfer full) (nullable): the dictionary, or NULL with @error set
 */
BwStitchDictionary *
bw_stitch_dictionary_parse (const char  *text,
                            gsize        length,
                            GError     **error)
{
  g_autoptr (GKeyFile) file = bw_data_file_load (text, length, "Stitch dictionary", error);
  g_autoptr (BwStitchDictionary) dictionary = dictionary_new ();
  g_auto (GStrv) ids = NULL;

  if (file == NULL)
    return NULL;

  ids = g_key_file_get_groups (file, NULL);
  for (guint i = 0; ids[i] != NULL; i++)
    {
      BwStitch *stitch = read_stitch (file, ids[i], error);

      if (stitch == NULL || !add_stitch (dictionary, file, stitch, error))
        return NULL;
    }

  return g_steal_pointer (&dictionary);
}

/**
 * bw_stitch_dictionary_free:
 * @dictionary: (nullable): a dictionary
 */
void
bw_stitch_dictionary_free (BwStitchDictionary *dictionary)
{
  if (dictionary == NULL)
    return;

  g_hash_table_unref (dictionary->by_us);
  g_hash_table_unref (dictionary->by_uk);
  g_hash_table_unref (dictionary->by_id);
  g_ptr_array_unref (dictionary->stitches);
  g_free (dictionary);
}

/**
 * bw_stitch_dictionary_size:
 * @dictionary: a dictionary
 *
 * Returns: how many stitches it has; indices run from 0
 */
guint
bw_stitch_dictionary_size (const BwStitchDictionary *dictionary)
{
  return dictionary->stitches->len;
}

/**
 * bw_stitch_get:
 * @dictionary: a dictionary
 * @index: a stitch's place in it
 *
 * Returns: (transfer none): the stitch
 */
const BwStitch *
bw_stitch_get (const BwStitchDictionary *dictionary,
               BwStitchIndex             index)
{
  g_return_val_if_fail (index < dictionary->stitches->len, NULL);

  return g_ptr_array_index (dictionary->stitches, index);
}

static BwStitchIndex
look_up (GHashTable *table,
         const char *key)
{
  guint found = GPOINTER_TO_UINT (g_hash_table_lookup (table, key));

  return found == 0 ? BW_STITCH_NONE : (BwStitchIndex) (found - 1);
}

/**
 * bw_stitch_find:
 * @dictionary: a dictionary
 * @id: a neutral identifier: "low"
 *
 * Returns: the stitch's place, or BW_STITCH_NONE
 */
BwStitchIndex
bw_stitch_find (const BwStitchDictionary *dictionary,
                const char               *id)
{
  return look_up (dictionary->by_id, id);
}

/**
 * bw_stitch_find_abbreviation:
 * @dictionary: a dictionary
 * @abbreviation: what was written, in any case: "FPtr"
 * @length: its length in bytes
 * @terms: the terms it is written in
 *
 * Returns: the stitch's place, or BW_STITCH_NONE
 */
BwStitchIndex
bw_stitch_find_abbreviation (const BwStitchDictionary *dictionary,
                             const char               *abbreviation,
                             gsize                     length,
                             BwTerms                   terms)
{
  char folded[32];

  if (length >= sizeof folded)
    return BW_STITCH_NONE;

  for (gsize i = 0; i < length; i++)
    folded[i] = g_ascii_tolower (abbreviation[i]);
  folded[length] = '\0';
  return look_up (terms == BW_TERMS_UK ? dictionary->by_uk : dictionary->by_us, folded);
}

/**
 * bw_stitch_together:
 * @dictionary: a dictionary
 * @base: a stitch
 * @n: 2 or 3
 *
 * Returns: the decrease that works @n of @base together, or BW_STITCH_NONE
 */
BwStitchIndex
bw_stitch_together (const BwStitchDictionary *dictionary,
                    BwStitchIndex             base,
                    guint                     n)
{
  char id[64];

  if (base == BW_STITCH_NONE)
    return BW_STITCH_NONE;

  g_snprintf (id, sizeof id, "%s%utog", bw_stitch_get (dictionary, base)->id, n);
  return bw_stitch_find (dictionary, id);
}

/**
 * bw_stitch_abbreviation:
 * @dictionary: a dictionary
 * @index: a stitch
 * @terms: the terms wanted
 *
 * Returns: (transfer none): its abbreviation
 */
const char *
bw_stitch_abbreviation (const BwStitchDictionary *dictionary,
                        BwStitchIndex             index,
                        BwTerms                   terms)
{
  const BwStitch *stitch = bw_stitch_get (dictionary, index);

  return terms == BW_TERMS_UK ? stitch->uk : stitch->us;
}
