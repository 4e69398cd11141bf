#define G_LOG_DOMAIN "bw-library"

#include "bw-library-demo.h"

#include "bw-design-file.h"
#include "bw-grade.h"
#include "bw-library-csv.h"
#include "bw-library-design.h"
#include "bw-library-gauge.h"
#include "bw-library-revision.h"
#include "bw-library-yarn-file.h"

/* The demo library is built the way a person would build it: yarns, then a
 * spreadsheet of swatches, then designs, some of which are published. Its files
 * are compiled in. */

extern void bw_demo_data_register_resource (void);

static GBytes *
demo_file (const char  *name,
           GError     **error)
{
  static gsize registered;
  g_autofree char *path = g_strconcat ("/org/brimwright/demo/", name, NULL);

  if (g_once_init_enter (&registered))
    {
      bw_demo_data_register_resource ();
      g_once_init_leave (&registered, 1);
    }

  return g_resources_lookup_data (path, G_RESOURCE_LOOKUP_FLAGS_NONE, error);
}

static BwDesign *
demo_design (const BwReference  *reference,
             const char         *name,
             GError            **error)
{
  g_autoptr (GBytes) bytes = demo_file (name, error);

  if (bytes == NULL)
    return NULL;

  return bw_design_from_text (reference, g_bytes_get_data (bytes, NULL), g_bytes_get_size (bytes),
                              error);
}

static gboolean
publish (BwLibrary          *library,
         const BwReference  *reference,
         gint64              id,
         const BwDesign     *design,
         const char         *note,
         GError            **error)
{
  g_autoptr (BwDesign) resolved = bw_design_copy (design);
  g_autoptr (BwGrading) grading = NULL;
  guint number;

  if (!bw_library_resolve_swatches (library, resolved, error))
    return FALSE;

  grading = bw_grade (reference, resolved, error);

  return grading != NULL && bw_library_revise (library, id, grading, note, &number, error);
}

/* Each edition is saved over the one before, and published. */
static gboolean
publish_all (BwLibrary          *library,
             const BwReference  *reference,
             gint64              id,
             char              **editions,
             char              **notes,
             GError            **error)
{
  for (guint i = 0; editions[i] != NULL; i++)
    {
      g_autoptr (BwDesign) design = demo_design (reference, g_strstrip (editions[i]), error);
      BwLibraryEdit edit = { .label = "Take in a new edition" };

      if (design == NULL || !bw_library_save (library, id, design, &edit, error) ||
          !publish (library, reference, id, design, notes[i] != NULL ? g_strstrip (notes[i]) : "",
                    error))
        return FALSE;
    }

  return TRUE;
}

static gboolean
add_design (BwLibrary          *library,
            const BwReference  *reference,
            GKeyFile           *list,
            const char         *name,
            GError            **error)
{
  g_auto (GStrv) tags = g_key_file_get_string_list (list, name, "tags", NULL, NULL);
  g_auto (GStrv) editions = g_key_file_get_string_list (list, name, "revisions", NULL, NULL);
  g_auto (GStrv) notes = g_key_file_get_string_list (list, name, "notes", NULL, NULL);
  g_autoptr (BwDesign) design =
    demo_design (reference, editions != NULL ? g_strstrip (editions[0]) : name, error);
  gint64 id;

  if (design == NULL || !bw_library_add (library, design, &id, error) ||
      (tags != NULL && !bw_library_set_tags (library, id, (const char *const *) tags, error)))
    return FALSE;

  return editions == NULL || publish_all (library, reference, id, editions, notes, error);
}

static gboolean
add_designs (BwLibrary          *library,
             const BwReference  *reference,
             GError            **error)
{
  g_autoptr (GBytes) bytes = demo_file ("library.ini", error);
  g_autoptr (GKeyFile) list = g_key_file_new ();
  g_auto (GStrv) names = NULL;

  if (bytes == NULL || !g_key_file_load_from_bytes (list, bytes, G_KEY_FILE_NONE, error))
    return FALSE;

  names = g_key_file_get_groups (list, NULL);
  for (guint i = 0; names[i] != NULL; i++)
    if (!add_design (library, reference, list, names[i], error))
      {
        g_prefix_error (error, "%s: ", names[i]);
        return FALSE;
      }

  return TRUE;
}

/**
 * bw_library_fill_demo:
 * @library: a library
 * @reference: the tables that are compiled in
 * @error: return location
 *
 * Adds the demo's yarns, swatches and designs. All of them are invented.
 *
 * Returns: %TRUE if they are on disk
 */
gboolean
bw_library_fill_demo (BwLibrary          *library,
                      const BwReference  *reference,
                      GError            **error)
{
  g_autoptr (GBytes) yarns = NULL;
  g_autoptr (GBytes) swatches = NULL;
  g_autoptr (BwImportReport) report = bw_import_report_new ();
  guint n_yarns;

  g_return_val_if_fail (library != NULL && reference != NULL, FALSE);

  yarns = demo_file ("yarns.ini", error);
  swatches = yarns != NULL ? demo_file ("swatches.csv", error) : NULL;

  return swatches != NULL &&
         bw_library_add_yarns (library, g_bytes_get_data (yarns, NULL), g_bytes_get_size (yarns),
                               &n_yarns, error) &&
         bw_library_import_swatches (library, reference, g_bytes_get_data (swatches, NULL),
                                     g_bytes_get_size (swatches), BW_IMPORT_ALL, report, error) &&
         add_designs (library, reference, error);
}
