#define G_LOG_DOMAIN "bw-publish"

#include "bw-number-list.h"

#include <string.h>

/**
 * bw_number_length:
 * @at: in the words of a pattern
 *
 * Returns: how many bytes the number has that begins at @at: "54", "46.5", "8–11", or
 *   the dash of a size that does not work it; 0 = there is none
 */
gsize
bw_number_length (const char *at)
{
  const char *end = at;

  if (!g_ascii_isdigit (*at))
    return g_str_has_prefix (at, "–") ? strlen ("–") : 0;
  while (g_ascii_isdigit (*end) || (*end == '.' && g_ascii_isdigit (end[1])))
    end++;
  if (g_str_has_prefix (end, "–") && g_ascii_isdigit (end[strlen ("–")]))
    for (end += strlen ("–"); g_ascii_isdigit (*end);)
      end++;

  return (gsize) (end - at);
}

/**
 * bw_number_list_find:
 * @at: in the words of a pattern
 * @n: sizes
 * @starts: (out caller-allocates) (array length=n): where each number begins
 * @lengths: (out caller-allocates) (array length=n): how many bytes it has
 * @end: (out): behind the closing bracket
 *
 * Returns: whether a list of exactly @n numbers begins at @at, "54 (60, 66)"
 */
gboolean
bw_number_list_find (const char  *at,
                     guint        n,
                     const char **starts,
                     gsize       *lengths,
                     const char **end)
{
  for (guint i = 0; i < n; i++)
    {
      const char *between = i == 1 ? " (" : ", ";

      if (i > 0 && !g_str_has_prefix (at, between))
        return FALSE;
      at += i > 0 ? strlen (between) : 0;
      starts[i] = at;
      lengths[i] = bw_number_length (at);
      if (lengths[i] == 0)
        return FALSE;
      at += lengths[i];
    }

  *end = at + 1;
  return *at == ')';
}
