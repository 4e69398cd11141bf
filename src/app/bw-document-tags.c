#define G_LOG_DOMAIN "bw-app"

#include "bw-document.h"

#include "bw-library-design.h"

/* The words a design is found by: they belong to the library, not to the design. */

/**
 * bw_document_get_tags:
 * @self: a document
 *
 * Returns: (transfer full) (nullable): its tags in the library, with commas
 *   between them; %NULL where it is in none
 */
char *
bw_document_get_tags (BwDocument *self)
{
  BwLibrary *library = bw_document_get_library (self);
  g_autoptr (GPtrArray) tags = NULL;

  if (library != NULL && bw_document_get_id (self) != 0)
    tags = bw_library_get_tags (library, bw_document_get_id (self), NULL);
  if (tags == NULL)
    return NULL;

  g_ptr_array_add (tags, NULL);

  return g_strjoinv (", ", (char **) tags->pdata);
}

static GPtrArray *
split_tags (char **parts)
{
  GPtrArray *tags = g_ptr_array_new ();

  for (guint i = 0; parts[i] != NULL; i++)
    if (*g_strstrip (parts[i]) != '\0' &&
        !g_ptr_array_find_with_equal_func (tags, parts[i], g_str_equal, NULL))
      g_ptr_array_add (tags, parts[i]);
  g_ptr_array_add (tags, NULL);

  return tags;
}

/**
 * bw_document_set_tags:
 * @self: a document of a library
 * @typed: tags with commas between them
 * @error: (out) (optional): what the library says
 *
 * Returns: whether the library has them
 */
gboolean
bw_document_set_tags (BwDocument  *self,
                      const char  *typed,
                      GError     **error)
{
  BwLibrary *library = bw_document_get_library (self);
  g_auto (GStrv) parts = g_strsplit (typed, ",", -1);
  g_autoptr (GPtrArray) tags = split_tags (parts);

  g_return_val_if_fail (library != NULL, FALSE);

  if (!bw_document_save (self, error) ||
      !bw_library_set_tags (library, bw_document_get_id (self), (const char *const *) tags->pdata,
                            error))
    return FALSE;

  bw_document_catch_up (self);

  return TRUE;
}
