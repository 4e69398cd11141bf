#define G_LOG_DOMAIN "bw-core"

#include "bw-error.h"

/* Characters of a text that a message shows. */
#define EXCERPT_CHARACTERS 60

G_DEFINE_QUARK (bw-error-quark, bw_error)

/**
 * bw_error_excerpt:
 * @text: what somebody wrote; perhaps long, perhaps not UTF-8
 *
 * Returns: (transfer full): its beginning for a message, always valid UTF-8:
 *   whole characters, with an ellipsis where the rest was cut off
 */
char *
bw_error_excerpt (const char *text)
{
  g_autofree char *valid = g_utf8_make_valid (text, -1);
  g_autofree char *start = NULL;

  if (g_utf8_strlen (valid, -1) <= EXCERPT_CHARACTERS)
    return g_steal_pointer (&valid);

  start = g_utf8_substring (valid, 0, EXCERPT_CHARACTERS);
  return g_strconcat (start, "…", NULL);
}
