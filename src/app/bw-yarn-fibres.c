#define G_LOG_DOMAIN "bw-app"

#include "bw-yarn-fibres.h"

#include <math.h>
#include <string.h>

#include "bw-units.h"

/* Fibres as a ball band has them: "80 % wool, 20 % nylon". */

/**
 * bw_yarn_fibres_print:
 * @yarn: a yarn
 *
 * Returns: (transfer full): its fibres as they would be typed; empty = not known
 */
char *
bw_yarn_fibres_print (const BwLibraryYarn *yarn)
{
  GString *out = g_string_new (NULL);

  for (guint i = 0; i < yarn->fibres->len; i++)
    {
      const BwFibre *fibre = &g_array_index (yarn->fibres, BwFibre, i);
      g_autofree char *percent = bw_units_format_number (fibre->percent, 1);

      g_string_append_printf (out, "%s%s %% %s", i > 0 ? ", " : "", percent, fibre->fibre);
    }

  return g_string_free (out, FALSE);
}

/* "80 % wool", "80% wool" or "wool 80 %". */
static gboolean
read_one (const char *text,
          char      **name,
          double     *percent)
{
  const char *sign = strchr (text, '%');
  g_autofree char *before = NULL;
  g_autofree char *after = NULL;
  const char *digits;

  if (sign == NULL)
    return FALSE;

  before = g_strstrip (g_strndup (text, (gsize) (sign - text)));
  after = g_strstrip (g_strdup (sign + 1));
  digits = before;
  if (*after == '\0')
    {
      const char *space = strrchr (before, ' ');

      if (space == NULL)
        return FALSE;
      digits = space + 1;
      after = (g_free (after), g_strstrip (g_strndup (before, (gsize) (space - before))));
    }
  if (*after == '\0' || !bw_units_parse_number (digits, percent, NULL) || *percent <= 0 ||
      *percent > 100)
    return FALSE;

  *name = g_steal_pointer (&after);

  return TRUE;
}

/**
 * bw_yarn_fibres_read:
 * @yarn: a yarn; not changed where the text cannot be read
 * @text: what was typed, with commas between fibres; empty = not known
 *
 * Returns: whether it could be read and adds up to 100 %
 */
gboolean
bw_yarn_fibres_read (BwLibraryYarn *yarn,
                     const char    *text)
{
  g_auto (GStrv) parts = g_strsplit (text, ",", -1);
  g_autoptr (BwLibraryYarn) read = bw_library_yarn_new ("read");
  GArray *fibres;
  double sum = 0;

  for (guint i = 0; parts[i] != NULL && *text != '\0'; i++)
    {
      g_autofree char *name = NULL;
      double percent;

      if (!read_one (parts[i], &name, &percent))
        return FALSE;
      bw_library_yarn_add_fibre (read, name, percent);
      sum += percent;
    }
  if (*text != '\0' && fabs (sum - 100) > 0.05)
    return FALSE;

  fibres = yarn->fibres;
  yarn->fibres = read->fibres;
  read->fibres = fibres;

  return TRUE;
}
