#define G_LOG_DOMAIN "bw-core"

#include "bw-stitch.h"

#include <string.h>

#include "bw-error.h"

/* Index by id and by abbreviation, made once; keys belong to the stitches but
 * for the folded abbreviations, which the tables own. */
struct _BwStitchDictionary
{
  GPtrArray  *stitches;  /* of BwStitch, in the order of the text */
  GHashTable *by_id;     /* id -> index + 1 */
  GHashTable *by_uk;     /* abbreviation in lower case -> index + 1 */
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

static gboolean
read_text (GKeyFile    *file,
           const char  *id,
           const char  *key,
           char       **out,
           GError     **error)
{
  *out = g_key_file_get_string (file, id, key, NULL);
  if (*out == NULL || **out == '\0')
    {
      g_set_error (error, BW_ERROR, BW_ERROR_MISSING, "[%s] needs the key \"%s\"", id, key);
      return FALSE;
    }

  g_strstrip (*out);
  return TRUE;
}

static gboolean
read_number (GKeyFile    *file,
             const char  *id,
             const char  *key,
             double       most,
             double      *out,
             GError     **error)
{
  g_autoptr (GError) local = NULL;

  *out = g_key_file_get_double (file, id, key, &local);
  if (local != NULL || !(*out >= 0 && *out <= most))
    {
      g_set_error (error, BW_ERROR, BW_ERROR_RANGE, "[%s] %s: wants a number from 0 to %g", id, key,
                   most);
      return FALSE;
    }

  return TRUE;
}

static gboolean
read_anchor (GKeyFile  *file,
             const char *id,
             BwAnchor   *anchor,
             GError    **error)
{
  static const char *const words[] = {
    [BW_ANCHOR_NONE] = "none",
    [BW_ANCHOR_TOP] = "top",
    [BW_ANCHOR_FRONT_POST] = "front-post",
    [BW_ANCHOR_BACK_POST] = "back-post",
    [BW_ANCHOR_BASE] = "base",
  };
  g_autofree char *word = NULL;

  if (!read_text (file, id, "anchor", &word, error))
    return FALSE;
  for (guint i = 0; i < G_N_ELEMENTS (words); i++)
    if (g_str_equal (word, words[i]))
      {
        *anchor = (BwAnchor) i;
        return TRUE;
      }

  g_set_error (error, BW_ERROR, BW_ERROR_UNKNOWN,
               "[%s] anchor: \"%s\" is not none, top, front-post, back-post or base", id, word);
  return FALSE;
}

static BwStitch *
read_stitch (GKeyFile    *file,
             const char  *id,
             GError     **error)
{
  BwStitch *stitch = g_new0 (BwStitch, 1);
  g_autofree char *post = NULL;
  double takes, makes, below, chains;

  stitch->id = g_strdup (id);
  if (!read_text (file, id, "uk", &stitch->uk, error) ||
      !read_text (file, id, "us", &stitch->us, error) ||
      !read_text (file, id, "uk-name", &stitch->uk_name, error) ||
      !read_text (file, id, "us-name", &stitch->us_name, error) ||
      !read_text (file, id, "symbol", &stitch->symbol, error) ||
      !read_anchor (file, id, &stitch->anchor, error) ||
      !read_number (file, id, "takes", 8, &takes, error) ||
      !read_number (file, id, "makes", 16, &makes, error) ||
      !read_number (file, id, "below", 8, &below, error) ||
      !read_number (file, id, "turning-chain", 8, &chains, error) ||
      !read_number (file, id, "height", 10, &stitch->height, error) ||
      !read_number (file, id, "yarn", 200, &stitch->yarn, error))
    {
      stitch_free (stitch);
      return NULL;
    }

  stitch->takes = (guint) takes;
  stitch->makes = (guint) makes;
  stitch->below = (guint) below;
  stitch->turning_chain = (guint) chains;
  post = g_key_file_get_string (file, id, "post", NULL);
  stitch->has_post = g_strcmp0 (post, "yes") == 0;
  stitch->special = g_key_file_get_string (file, id, "special", NULL);
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

static gboolean
add_stitch (BwStitchDictionary *dictionary,
            BwStitch           *stitch,
            GError            **error)
{
  guint index = dictionary->stitches->len;

  g_ptr_array_add (dictionary->stitches, stitch);
  g_hash_table_insert (dictionary->by_id, stitch->id, GUINT_TO_POINTER (index + 1));
  return add_abbreviation (dictionary->by_uk, stitch->uk, index, error) &&
         add_abbreviation (dictionary->by_us, stitch->us, index, error);
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
  g_autoptr (GKeyFile) file = g_key_file_new ();
  g_autoptr (BwStitchDictionary) dictionary = dictionary_new ();
  g_auto (GStrv) ids = NULL;

  if (!g_key_file_load_from_data (file, text, length, G_KEY_FILE_NONE, error))
    return NULL;

  ids = g_key_file_get_groups (file, NULL);
  for (guint i = 0; ids[i] != NULL; i++)
    {
      BwStitch *stitch = read_stitch (file, ids[i], error);

      if (stitch == NULL || !add_stitch (dictionary, stitch, error))
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
