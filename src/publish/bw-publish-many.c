#define G_LOG_DOMAIN "bw-publish"

#include "bw-publish-private.h"

#include "bw-publish-many.h"

#include <string.h>

#include <glib/gstdio.h>

#include "bw-corrections.h"
#include "bw-library-gauge.h"
#include "bw-library-revision.h"
#include "bw-publish-file.h"
#include "bw-words.h"

/* Grading and drawing run side by side; the library is asked by one thread at a
 * time, since it is one connection. A design's figures are let go when its
 * files are written, so that a thousand take no more memory than a few. */

#define STEM_BYTES_MAX 80 /* the file system ends a name at 255, and endings come behind */

typedef struct
{
  BwLibrary           *library;
  const BwReference   *reference;
  const BwPublishMany *many;
  GMutex               lock;    /* of the library, and of what follows */
  guint                n_done;
  guint                n;
} Work;

/**
 * bw_published_free:
 * @published: (nullable): what became of a design
 */
void
bw_published_free (BwPublished *published)
{
  if (published == NULL)
    return;

  g_free (published->name);
  g_free (published->stem);
  g_free (published->problem);
  g_free (published->notice);
  g_free (published->warnings);
  g_free (published);
}

/* --- Names of files --- */

/**
 * bw_publish_stem:
 * @name: a design's name
 *
 * Returns: (transfer full): a name for its files: letters and digits of any script
 *   in small letters, and hyphens between; empty where it has none of those
 */
char *
bw_publish_stem (const char *name)
{
  g_autofree char *plain = g_utf8_normalize (name, -1, G_NORMALIZE_NFC);
  GString *out = g_string_new (NULL);
  gboolean hyphen = FALSE;

  for (const char *at = plain; at != NULL && *at != '\0'; at = g_utf8_next_char (at))
    {
      gunichar letter = g_utf8_get_char (at);

      if (!g_unichar_isalnum (letter) && !g_unichar_ismark (letter))
        {
          hyphen = out->len > 0;
          continue;
        }
      if (out->len + 7 > STEM_BYTES_MAX)
        break;
      if (hyphen)
        g_string_append_c (out, '-');
      hyphen = FALSE;
      g_string_append_unichar (out, g_unichar_tolower (letter));
    }

  return g_string_free (out, FALSE);
}

/* Two designs with one name have their numbers behind it, and a sign before them
 * that no name has. */
static void
name_files (GPtrArray *all)
{
  g_autoptr (GHashTable) seen = g_hash_table_new (g_str_hash, g_str_equal);
  g_autoptr (GHashTable) twice = g_hash_table_new (g_str_hash, g_str_equal);

  for (guint i = 0; i < all->len; i++)
    {
      const BwPublished *one = g_ptr_array_index (all, i);

      if (!g_hash_table_add (seen, one->stem))
        g_hash_table_add (twice, one->stem);
    }
  for (guint i = 0; i < all->len; i++)
    {
      BwPublished *one = g_ptr_array_index (all, i);

      if (one->stem[0] == '\0')
        one->stem = g_strdup_printf ("_%" G_GINT64_FORMAT, one->id);
      else if (g_hash_table_contains (twice, one->stem))
        one->stem = g_strdup_printf ("%s_%" G_GINT64_FORMAT, one->stem, one->id);
      else
        one->stem = g_strdup (one->stem);
    }
}

/* Size ids are short and plain. */
static char *
file_name (const BwPublished   *published,
           const BwPublishKind *kind,
           const BwGrading     *grading,
           const BwEdition     *edition)
{
  const char *terms = !kind->worded ? "" : edition->terms == BW_TERMS_UK ? "-uk" : "-us";
  g_autofree char *size = NULL;
  const BwGradedSize *one;

  if (!kind->one_size)
    return g_strconcat (published->stem, terms, kind->ending, NULL);

  one = g_ptr_array_index (grading->sizes, (guint) edition->size);
  size = bw_publish_stem (one->choice->size->id);
  return g_strconcat (published->stem, terms, "-", size, kind->ending, NULL);
}

/* --- One design --- */

static gboolean
is_stopped (const Work *work)
{
  return work->many->stop != NULL && g_atomic_int_get (work->many->stop) != 0;
}

static BwGrading *
load_and_grade (Work     *work,
                gint64    id,
                GError  **error)
{
  g_autoptr (BwDesign) design = NULL;
  gboolean ok;

  g_mutex_lock (&work->lock);
  design = bw_library_load (work->library, id, NULL, error);
  ok = design != NULL && bw_library_resolve_swatches (work->library, design, error);
  g_mutex_unlock (&work->lock);

  return ok ? bw_grade (work->reference, design, error) : NULL;
}

/* A finding that stops a design; the codes of those that only warn go into
 * @published, each once. */
static char *
find_obstacle (BwPublished     *published,
               const BwGrading *grading)
{
  g_autoptr (GPtrArray) findings = bw_words_findings (grading);
  g_autoptr (GString) warnings = g_string_new (NULL);

  for (guint i = 0; i < findings->len; i++)
    {
      const BwWordsFinding *finding = g_ptr_array_index (findings, i);

      const char *comma = finding->where[0] != '\0' ? ", " : "";

      if (finding->severity == BW_SEVERITY_WARNING && strstr (warnings->str, finding->code) == NULL)
        g_string_append_printf (warnings, "%s%s", warnings->len > 0 ? ", " : "", finding->code);
      if (finding->severity < BW_SEVERITY_ERROR)
        continue;
      return g_strdup_printf ("%s%s%s: %s %s", finding->code, comma, finding->where, finding->what,
                              finding->mend);
    }

  published->warnings = g_strdup (warnings->str);
  return grading->refused ? g_strdup (_("it cannot be graded")) : NULL;
}

/* Gives the design a number, the one it has where nothing is new. */
static gboolean
give_number (Work              *work,
             BwPublished       *published,
             const BwGrading   *grading,
             BwEditionRevision *revision,
             GError           **error)
{
  const char *note = work->many->note != NULL ? work->many->note : "";
  g_autoptr (BwRevision) last = NULL;
  guint number;

  if (!bw_library_is_published (work->library, published->id, grading, &last, error))
    return FALSE;
  if (last == NULL)
    {
      if (!bw_library_revise (work->library, published->id, grading, note, &number, error) ||
          !bw_library_is_published (work->library, published->id, grading, &last, error))
        return FALSE;
      published->is_new = TRUE;
    }
  /* What was kept a moment ago is what is graded now */
  g_return_val_if_fail (last != NULL, FALSE);

  published->number = revision->number = last->number;
  revision->date = last->made_at;
  g_free (revision->note);
  revision->note = g_steal_pointer (&last->note);
  return TRUE;
}

/* What a maker with the revision before has to change, in the edition's terms. */
static gboolean
take_corrections (Work            *work,
                  BwPublished     *published,
                  const BwGrading *grading,
                  BwEdition       *edition,
                  GError         **error)
{
  BwGrading *view;
  guint number = edition->revision.number;

  g_clear_pointer (&edition->revision.corrections, g_strfreev);
  if (number < 2)
    return TRUE;

  view = bw_edition_view (edition, grading);
  g_mutex_lock (&work->lock);
  edition->revision.corrections = bw_correction_lines (work->library, published->id, number - 1,
                                                       number, view, error);
  g_mutex_unlock (&work->lock);
  bw_edition_view_free (view);
  return edition->revision.corrections != NULL;
}

static void
find_photo (const BwPublishMany *many,
            BwPublished         *published,
            BwEdition           *edition)
{
  static const char *const endings[] = { ".png", ".jpg", ".jpeg" };

  for (guint i = 0; many->photos != NULL && i < G_N_ELEMENTS (endings); i++)
    {
      g_autofree char *file = g_strconcat (published->stem, endings[i], NULL);
      g_autofree char *path = g_build_filename (many->photos, file, NULL);

      if (edition->photo == NULL && g_file_test (path, G_FILE_TEST_IS_REGULAR))
        edition->photo = g_steal_pointer (&path);
    }
  if (many->photos != NULL && edition->photo == NULL)
    published->notice = g_strdup_printf (_("there is no photograph %s.png or %s.jpg in %s; "
                                           "published without one"),
                                         published->stem, published->stem, many->photos);
}

static gboolean
write_file (const Work          *work,
            BwPublished         *published,
            const BwPublishKind *kind,
            const BwGrading     *grading,
            const BwEdition     *edition,
            GError             **error)
{
  g_autofree char *name = file_name (published, kind, grading, edition);
  g_autofree char *path = g_build_filename (work->many->folder, published->stem, name, NULL);
  g_autofree char *bytes = NULL;
  gsize length;

  bytes = kind->make (grading, edition, &length, error);
  if (bytes == NULL || !bw_publish_file_write (path, bytes, length, error))
    return FALSE;
  published->n_files++;
  return TRUE;
}

/* All kinds of one edition; those that are the same in both, only with the first. */
static gboolean
write_edition (const Work      *work,
               BwPublished     *published,
               const BwGrading *grading,
               BwEdition       *edition,
               gboolean         first,
               GError         **error)
{
  for (guint i = 0; work->many->kinds[i] != NULL; i++)
    {
      const BwPublishKind *kind = work->many->kinds[i];
      int end = kind->one_size ? (int) grading->sizes->len : 0;

      if (!kind->worded && !first)
        continue;
      for (int size = kind->one_size ? 0 : BW_EDITION_ALL_SIZES; size < end; size++)
        {
          if (is_stopped (work))
            return TRUE;
          edition->size = size;
          if (!write_file (work, published, kind, grading, edition, error))
            return FALSE;
          if (!kind->one_size)
            break;
        }
    }

  return TRUE;
}

static gboolean
write_design (Work            *work,
              BwPublished     *published,
              const BwGrading *grading,
              GError         **error)
{
  const BwPublishMany *many = work->many;
  g_autoptr (BwEdition) edition = bw_edition_new (grading->design, many->date);
  g_autofree char *folder = g_build_filename (many->folder, published->stem, NULL);
  gboolean ok = TRUE;

  edition->form = many->form;
  find_photo (many, published, edition);
  if (!many->draft)
    {
      g_mutex_lock (&work->lock);
      ok = give_number (work, published, grading, &edition->revision, error);
      g_mutex_unlock (&work->lock);
    }
  if (!ok)
    return FALSE;
  /* What stands in the way of it is told by the first file, in words */
  g_mkdir_with_parents (folder, 0777);
  for (guint i = 0; i < MAX (1, many->n_terms); i++)
    {
      edition->terms = many->n_terms > 0 ? many->terms[i] : grading->design->terms;
      if (!take_corrections (work, published, grading, edition, error) ||
          !write_edition (work, published, grading, edition, i == 0, error))
        return FALSE;
    }

  return TRUE;
}

static void
publish_one (Work        *work,
             BwPublished *published)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (BwGrading) grading = load_and_grade (work, published->id, &error);

  if (grading != NULL)
    published->problem = find_obstacle (published, grading);
  if (grading != NULL && published->problem == NULL)
    write_design (work, published, grading, &error);
  if (error != NULL)
    published->problem = g_strdup (error->message);
}

static void
publish_cb (gpointer job,
            gpointer data)
{
  BwPublished *published = job;
  Work *work = data;

  if (is_stopped (work))
    return;

  publish_one (work, published);
  if (is_stopped (work) && published->problem == NULL)
    return;
  published->done = TRUE;
  g_mutex_lock (&work->lock);
  work->n_done++;
  if (work->many->progress != NULL)
    work->many->progress (published, work->n_done, work->n, work->many->data);
  g_mutex_unlock (&work->lock);
}

/**
 * bw_publish_many:
 * @library: a library that nobody else uses meanwhile
 * @reference: reference tables
 * @entries: (element-type BwLibraryEntry): the designs
 * @many: where to and how
 *
 * Publishes designs, some at once. A file is there whole or not at all, and a
 * revision is in the library before a file carries its number. A design that
 * says what its last revision says keeps that number.
 *
 * Returns: (transfer full) (element-type BwPublished): what became of each, in
 *   the order of @entries
 */
GPtrArray *
bw_publish_many (BwLibrary           *library,
                 const BwReference   *reference,
                 const GPtrArray     *entries,
                 const BwPublishMany *many)
{
  GPtrArray *all = g_ptr_array_new_with_free_func ((GDestroyNotify) bw_published_free);
  g_autoptr (GPtrArray) stems = g_ptr_array_new_with_free_func (g_free);
  Work work = { .library = library, .reference = reference, .many = many, .n = entries->len };
  GThreadPool *pool;

  for (guint i = 0; i < entries->len; i++)
    {
      const BwLibraryEntry *entry = g_ptr_array_index (entries, i);
      BwPublished *published = g_new0 (BwPublished, 1);

      published->id = entry->id;
      published->name = g_strdup (entry->name);
      published->stem = bw_publish_stem (entry->name);
      g_ptr_array_add (stems, published->stem);
      g_ptr_array_add (all, published);
    }
  name_files (all);

  g_mutex_init (&work.lock);
  pool = g_thread_pool_new (publish_cb, &work, (int) MAX (1, many->jobs), FALSE, NULL);
  for (guint i = 0; i < all->len; i++)
    g_thread_pool_push (pool, g_ptr_array_index (all, i), NULL);
  g_thread_pool_free (pool, FALSE, TRUE);
  g_mutex_clear (&work.lock);
  return all;
}
