#define G_LOG_DOMAIN "bw-core"

#include <string.h>

#include "bw-design-fields.h"

/* A look at the raw text before GLib's key file reads it. GLib joins groups of
 * the same name and lets the last of two equal keys win; both would change a
 * hat without a word, so they are refused here, with the line. */

typedef struct
{
  GHashTable *groups; /* Set<owned string>, looked up only */
  GHashTable *keys;   /* Set<owned string>, of the group being read */
  char       *group;  /* NULL = no group yet */
  guint       line;
} Scan;

static void
scan_clear (Scan *scan)
{
  g_clear_pointer (&scan->groups, g_hash_table_unref);
  g_clear_pointer (&scan->keys, g_hash_table_unref);
  g_clear_pointer (&scan->group, g_free);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Scan, scan_clear)

static gboolean
refuse (const Scan *scan,
        BwError     code,
        const char *what,
        const char *name,
        GError    **error)
{
  g_autofree char *quoted = bw_field_quote (name);

  g_set_error (error, BW_ERROR, (int) code, "line %u: %s %s", scan->line, quoted, what);

  return FALSE;
}

static gboolean
scan_group (Scan    *scan,
            char    *line,
            GError **error)
{
  char *end = strchr (line, ']');

  if (end == NULL || end[1] != '\0' || end == line + 1)
    return refuse (scan, BW_ERROR_SYNTAX, "is no group; write one such as [Brim]", line, error);

  *end = '\0';
  g_free (scan->group);
  scan->group = g_strdup (line + 1);
  g_hash_table_remove_all (scan->keys);

  if (!g_hash_table_add (scan->groups, g_strdup (scan->group)))
    return refuse (scan, BW_ERROR_CONFLICT,
                   "is a group that is there already; keep one of the two", scan->group, error);

  return TRUE;
}

static gboolean
scan_key (Scan    *scan,
          char    *line,
          GError **error)
{
  char *equals = strchr (line, '=');

  if (equals == NULL || equals == line)
    return refuse (scan, BW_ERROR_SYNTAX,
                   "is neither a [group] nor key=value; start a comment with #", line, error);

  *equals = '\0';
  g_strchomp (line);
  if (scan->group == NULL)
    return refuse (scan, BW_ERROR_SYNTAX, "stands before any group; begin with [Design]",
                   line, error);

  if (!g_hash_table_add (scan->keys, g_strdup (line)))
    {
      g_autofree char *quoted = bw_field_quote (scan->group);
      g_autofree char *what = g_strdup_printf ("is there twice in %s; keep one of the two", quoted);

      return refuse (scan, BW_ERROR_CONFLICT, what, line, error);
    }

  return TRUE;
}

static gboolean
scan_line (Scan    *scan,
           char    *line,
           GError **error)
{
  g_strstrip (line);

  if (line[0] == '\0' || line[0] == '#')
    return TRUE;

  if (line[0] == '[')
    return scan_group (scan, line, error);

  return scan_key (scan, line, error);
}

static guint
line_at (const char *text,
         const char *place)
{
  guint line = 1;

  for (const char *p = text; p < place; p++)
    line += *p == '\n';

  return line;
}

static gboolean
scan_bytes (const char *text,
            gsize       length,
            GError    **error)
{
  const char *bad;

  if (length > BW_DESIGN_FILE_BYTES_MAX)
    {
      g_set_error (error, BW_ERROR, BW_ERROR_TOO_LARGE,
                   "%" G_GSIZE_FORMAT " bytes are too many for a design; at most %d can be one",
                   length, BW_DESIGN_FILE_BYTES_MAX);
      return FALSE;
    }

  bad = length > 0 ? memchr (text, '\0', length) : NULL;
  if (bad != NULL)
    {
      g_set_error (error, BW_ERROR, BW_ERROR_SYNTAX,
                   "line %u: a byte of value 0 is no text; save the design as plain UTF-8 text",
                   line_at (text, bad));
      return FALSE;
    }

  if (!g_utf8_validate (text, (gssize) length, &bad))
    {
      g_set_error (error, BW_ERROR, BW_ERROR_SYNTAX,
                   "line %u: not UTF-8; save the design as plain UTF-8 text", line_at (text, bad));
      return FALSE;
    }

  return TRUE;
}

/**
 * bw_design_scan:
 * @text: a whole design file; need not end in a zero byte
 * @length: its length in bytes
 * @error: (out) (optional): %BW_ERROR
 *
 * Refuses what is no design file at all, and what GLib's key file would read
 * without complaint though it says two things at once.
 *
 * Returns: whether @text is worth reading
 */
gboolean
bw_design_scan (const char *text,
                gsize       length,
                GError    **error)
{
  g_auto (Scan) scan = { 0 };
  const char *p = text;
  const char *end = text + length;

  if (!scan_bytes (text, length, error))
    return FALSE;

  scan.groups = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  scan.keys = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);

  while (p < end)
    {
      const char *newline = memchr (p, '\n', (gsize) (end - p));
      const char *stop = newline != NULL ? newline : end;
      g_autofree char *line = g_strndup (p, (gsize) (stop - p));

      scan.line++;
      if (!scan_line (&scan, line, error))
        return FALSE;

      p = stop + 1;
    }

  return TRUE;
}

/* ---- headers ----------------------------------------------------------- */

/* Whether what follows the first word of a header will do; says what would. */
static gboolean
read_rest (BwGroupId   id,
           const char *group,
           const char *rest,
           guint      *place,
           GError    **error)
{
  *place = 0;

  switch (id)
    {
    case BW_GROUP_COLOUR:
      if (rest[0] >= 'A' && rest[0] < 'A' + BW_STRIPE_COLOURS_MAX && rest[1] == '\0')
        {
          *place = (guint) (rest[0] - 'A');
          return TRUE;
        }
      bw_design_set_error (error, BW_ERROR_RANGE, group, NULL,
                           "colours are [Colour A] to [Colour L], at most %d of them",
                           BW_STRIPE_COLOURS_MAX);
      return FALSE;

    case BW_GROUP_BAND:
      if (rest[0] != '0' && bw_field_parse_count (rest, 1, BW_DESIGN_BANDS_MAX, place))
        {
          *place -= 1;
          return TRUE;
        }
      bw_design_set_error (error, BW_ERROR_RANGE, group, NULL,
                           "bands are [Band 1] to [Band %d], at most %d of them",
                           BW_DESIGN_BANDS_MAX, BW_DESIGN_BANDS_MAX);
      return FALSE;

    default:
      if (bw_design_id_is_valid (rest))
        return TRUE;
      bw_design_set_error (error, BW_ERROR_SYNTAX, group, NULL,
                           "after the first word comes one name of at most %d letters, digits, "
                           "- and _", BW_DESIGN_ID_MAX);
      return FALSE;
    }
}

static gboolean
unknown_group (const char *group,
               GError    **error)
{
  g_auto (GStrv) words = g_strsplit (group, " ", 2);
  g_autofree char *quoted = bw_field_quote (group);
  g_autofree char *question = NULL;
  BwNearest nearest;

  bw_nearest_init (&nearest, words[0] != NULL ? words[0] : "");
  for (guint i = 0; i < BW_N_GROUPS; i++)
    bw_nearest_offer (&nearest, bw_field_group (i)->name);
  question = bw_nearest_question (&nearest);

  g_set_error (error, BW_ERROR, BW_ERROR_UNKNOWN,
               "there is no group %s in a design%s", quoted,
               nearest.best != NULL ? question : "; take it out");

  return FALSE;
}

/**
 * bw_design_identify_group:
 * @group: a header, without the brackets
 * @id: (out): which kind of group it is
 * @rest: (out): what follows its first word; empty for a group of which there is one
 * @place: (out): place of a colour or a band among its kind; otherwise 0
 * @error: (out) (optional): %BW_ERROR
 *
 * Returns: whether a design may have such a group
 */
gboolean
bw_design_identify_group (const char  *group,
                          BwGroupId   *id,
                          const char **rest,
                          guint       *place,
                          GError     **error)
{
  for (guint i = 0; i < BW_N_GROUPS; i++)
    {
      const BwFieldGroup *known = bw_field_group (i);
      gsize length = strlen (known->name);

      if (!known->many && !g_str_equal (group, known->name))
        continue;
      if (known->many && (strncmp (group, known->name, length) != 0 || group[length] != ' '))
        continue;

      *id = i;
      *rest = known->many ? group + length + 1 : "";

      *place = 0;

      return !known->many || read_rest (i, group, *rest, place, error);
    }

  return unknown_group (group, error);
}
