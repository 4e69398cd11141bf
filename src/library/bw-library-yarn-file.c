#define G_LOG_DOMAIN "bw-library"

#include "bw-library-yarn-file.h"
#include "bw-library-yarn-private.h"
#include "bw-units.h"

/* A file of yarns: a key file, a group for each yarn, its name the group's.
 *
 *   [Harbour Wool]
 *   maker=...            thickness=4            uk-name=aran
 *   ball-length=200 m    ball-weight=100 g      ball-price=7.50   currency=GBP
 *   fibres=wool 80 %; nylon 20 %
 *   lots=W1, Tar, 6.5 balls; W2, Sail, 4 balls
 *   care=Hand wash.
 */

static gboolean
fail (GError     **error,
      const char  *yarn,
      const char  *key,
      const char  *what)
{
  g_set_error (error, BW_LIBRARY_ERROR, BW_LIBRARY_ERROR_INVALID, "[%s] %s: %s", yarn, key, what);
  return FALSE;
}

static char *
value_of (GKeyFile   *file,
          const char *yarn,
          const char *key)
{
  g_autofree char *value = g_key_file_get_string (file, yarn, key, NULL);

  return g_strstrip (g_strdup (value != NULL ? value : ""));
}

static void
take (char **field,
      char  *value)
{
  g_free (*field);
  *field = value;
}

/* "wool 80 %" */
static gboolean
read_fibre (BwLibraryYarn  *yarn,
            const char     *text,
            GError        **error)
{
  g_autofree char *part = g_strstrip (g_strdup (text));
  char *number = part;
  double fraction;

  while (*number != '\0' && !g_ascii_isdigit (*number))
    number++;
  if (number == part || *number == '\0' || !bw_units_parse_fraction (number, &fraction, NULL) ||
      fraction <= 0.0)
    return fail (error, yarn->name, "fibres",
                 "write each with its share, such as wool 80 %; nylon 20 %");

  /* the number was read; what stands before it is the fibre */
  *number = '\0';
  bw_library_yarn_add_fibre (yarn, g_strchomp (part), fraction * 100.0);

  return TRUE;
}

/* "W1, Tar, 6.5 balls" */
static gboolean
read_lot (BwLibraryYarn  *yarn,
          const char     *text,
          GError        **error)
{
  g_auto (GStrv) parts = g_strsplit (text, ",", -1);
  g_autofree char *word = NULL;
  guint n = g_strv_length (parts);
  double balls = 0.0;

  if (n == 0 || n > 3 || (n == 3 && (!bw_units_split (g_strstrip (parts[2]), &balls, &word, NULL) ||
                                     balls < 0.0)))
    return fail (error, yarn->name, "lots",
                 "write each as lot, colour, balls, such as W1, Tar, 6.5 balls");

  bw_library_yarn_add_lot (yarn, g_strstrip (parts[0]), n > 1 ? g_strstrip (parts[1]) : "", balls);

  return TRUE;
}

static gboolean
read_list (GKeyFile       *file,
           BwLibraryYarn  *yarn,
           const char     *key,
           gboolean      (*read) (BwLibraryYarn *, const char *, GError **),
           GError        **error)
{
  g_autofree char *text = value_of (file, yarn->name, key);
  g_auto (GStrv) parts = g_strsplit (text, ";", -1);

  for (guint i = 0; parts[i] != NULL; i++)
    {
      g_strstrip (parts[i]);
      if (parts[i][0] != '\0' && !read (yarn, parts[i], error))
        return FALSE;
    }

  return TRUE;
}

static gboolean
read_numbers (GKeyFile       *file,
              BwLibraryYarn  *yarn,
              GError        **error)
{
  g_autofree char *thickness = value_of (file, yarn->name, "thickness");
  g_autofree char *length = value_of (file, yarn->name, "ball-length");
  g_autofree char *weight = value_of (file, yarn->name, "ball-weight");
  g_autofree char *price = value_of (file, yarn->name, "ball-price");
  double class;

  if (thickness[0] != '\0')
    {
      if (!bw_units_parse_number (thickness, &class, NULL) || class < 0.0 || class > 7.0 ||
          class != (int) class)
        return fail (error, yarn->name, "thickness", "write a whole number from 0 to 7");
      yarn->weight_class = (int) class;
    }
  if (length[0] != '\0' && !bw_units_parse_yarn (length, &yarn->metres_per_ball, NULL))
    return fail (error, yarn->name, "ball-length", "write a length such as 200 m or 218 yd");
  if (weight[0] != '\0' && !bw_units_parse_mass (weight, &yarn->grams_per_ball, NULL))
    return fail (error, yarn->name, "ball-weight", "write a weight such as 100 g or 3.5 oz");
  if (price[0] != '\0' && !bw_units_parse_number (price, &yarn->price_per_ball, NULL))
    return fail (error, yarn->name, "ball-price", "write a number such as 7.50");

  return TRUE;
}

static BwLibraryYarn *
read_yarn (GKeyFile    *file,
           const char  *name,
           GError     **error)
{
  g_autoptr (BwLibraryYarn) yarn = bw_library_yarn_new (name);

  take (&yarn->maker, value_of (file, name, "maker"));
  take (&yarn->uk_name, value_of (file, name, "uk-name"));
  take (&yarn->currency, value_of (file, name, "currency"));
  take (&yarn->care, value_of (file, name, "care"));

  if (!read_numbers (file, yarn, error) || !read_list (file, yarn, "fibres", read_fibre, error) ||
      !read_list (file, yarn, "lots", read_lot, error))
    return NULL;

  return g_steal_pointer (&yarn);
}

/* One that is there already keeps its number, and so its swatches. */
static gboolean
store (BwLibrary  *library,
       GKeyFile   *file,
       guint      *n_yarns,
       GError    **error)
{
  g_auto (GStrv) names = g_key_file_get_groups (file, NULL);

  for (guint i = 0; names[i] != NULL; i++)
    {
      g_autoptr (BwLibraryYarn) yarn = read_yarn (file, names[i], error);
      g_autoptr (GError) found = NULL;

      if (yarn == NULL)
        return FALSE;

      if (!bw_library_find_yarn (library, names[i], &yarn->id, &found))
        yarn->id = 0;
      if (!bw_library_yarn_rows_save (library, yarn, error))
        return FALSE;
      (*n_yarns)++;
    }

  return TRUE;
}

/**
 * bw_library_add_yarns:
 * @library: a library
 * @text: a file of yarns
 * @length: bytes
 * @n_yarns: (out): how many there are in it
 * @error: return location; names the yarn and the key
 *
 * Adds the yarns of a file, or changes those that are there already; all or
 * none.
 *
 * Returns: %TRUE if they are on disk
 */
gboolean
bw_library_add_yarns (BwLibrary   *library,
                      const char  *text,
                      gsize        length,
                      guint       *n_yarns,
                      GError     **error)
{
  g_autoptr (GKeyFile) file = g_key_file_new ();
  gboolean ok;

  g_return_val_if_fail (library != NULL && text != NULL && n_yarns != NULL, FALSE);

  *n_yarns = 0;
  if (!g_key_file_load_from_data (file, text, length, G_KEY_FILE_NONE, error) ||
      !bw_library_begin (library, error))
    return FALSE;

  ok = store (library, file, n_yarns, error);

  return bw_library_end (library, ok, error);
}
