#include <fcntl.h>
#include <sys/wait.h>
#include <unistd.h>

#include "app-fixture.h"
#include "bw-library-side.h"
#include "bw-shelf.h"

/* The list of designs: read piece by piece, it is the library's own list. */

#define N_DESIGNS 640 /* more than the shelf has slots */

typedef struct
{
  char        *path;
  BwReference *reference;
  BwLibrary   *library;
} Fixture;

static void
set_up (Fixture       *fixture,
        gconstpointer  data)
{
  g_autoptr (BwDesign) design = NULL;
  gint64 id;

  fixture->path = fixture_library_path ();
  fixture->reference = bw_reference_builtin (NULL);
  fixture->library = bw_library_open (fixture->path, BW_LIBRARY_OPEN_CREATE, NULL);
  design = fixture_design (fixture->reference, "smack");
  for (guint i = 0; i < GPOINTER_TO_UINT (data); i++)
    {
      g_free (design->name);
      design->name = g_strdup_printf ("Boat %u", i);
      g_assert_true (bw_library_add (fixture->library, design, &id, NULL));
    }
}

static void
tear_down (Fixture       *fixture,
           gconstpointer  data G_GNUC_UNUSED)
{
  bw_library_close (fixture->library);
  bw_reference_free (fixture->reference);
  fixture_remove (fixture->path);
  g_free (fixture->path);
}

static guint
n_items (BwShelf *shelf)
{
  return g_list_model_get_n_items (G_LIST_MODEL (shelf));
}

static gint64
id_at (BwShelf *shelf,
       guint    position)
{
  g_autoptr (BwShelfItem) item = g_list_model_get_item (G_LIST_MODEL (shelf), position);

  return bw_shelf_item_get_id (item);
}

/* Whatever order its items are asked for in. */
static void
assert_as_listed (Fixture *fixture,
                  BwShelf *shelf)
{
  g_autoptr (GPtrArray) entries = bw_library_list (fixture->library, BW_LIBRARY_ORDER_CHANGED,
                                                   FALSE, 0, NULL);

  g_assert_cmpuint (n_items (shelf), ==, entries->len);
  for (guint i = 0; i < entries->len; i++)
    {
      guint position = i * 337 % entries->len;
      const BwLibraryEntry *entry = entries->pdata[position];
      g_autoptr (BwShelfItem) item = g_list_model_get_item (G_LIST_MODEL (shelf), position);

      g_assert_cmpint (bw_shelf_item_get_id (item), ==, entry->id);
      g_assert_cmpstr (bw_shelf_item_get_name (item), ==, entry->name);
    }
}

static void
count_cb (GListModel *model G_GNUC_UNUSED,
          guint       position,
          guint       removed,
          guint       added,
          guint      *n)
{
  g_assert_cmpuint (position, ==, *n);
  g_assert_cmpuint (removed, ==, 0);
  *n += added;
}

static void
test_piecewise (Fixture       *fixture,
                gconstpointer  data G_GNUC_UNUSED)
{
  g_autoptr (BwShelf) shelf = bw_shelf_new (fixture->reference, fixture->library);
  guint told = 0;

  g_signal_connect (shelf, "items-changed", G_CALLBACK (count_cb), &told);
  bw_shelf_show (shelf, FALSE);
  g_assert_cmpuint (n_items (shelf), ==, BW_SHELF_FIRST);
  while (bw_shelf_more (shelf))
    ;
  g_assert_cmpuint (told, ==, N_DESIGNS);
  assert_as_listed (fixture, shelf);
}

static void
test_bin_and_search (Fixture       *fixture,
                     gconstpointer  data G_GNUC_UNUSED)
{
  g_autoptr (BwShelf) shelf = bw_shelf_new (fixture->reference, fixture->library);
  gint64 id;

  g_assert_true (bw_library_find (fixture->library, "Boat 17", &id, NULL));
  g_assert_true (bw_library_bin (fixture->library, id, NULL));
  bw_shelf_show (shelf, TRUE);
  g_assert_cmpuint (n_items (shelf), ==, 1);
  g_assert_cmpint (id_at (shelf, 0), ==, id);
  g_assert_false (bw_shelf_more (shelf));

  bw_shelf_search (shelf, "boat 16");
  g_assert_cmpuint (bw_shelf_find (shelf, id), ==, G_MAXUINT);
  g_assert_true (bw_library_find (fixture->library, "Boat 16", &id, NULL));
  g_assert_cmpuint (bw_shelf_find (shelf, id), !=, G_MAXUINT);
  bw_shelf_search (shelf, "nobody");
  g_assert_cmpuint (n_items (shelf), ==, 0);
}

/* A design that was renamed stands where it stood, under its new name. */
static void
test_changed (Fixture       *fixture,
              gconstpointer  data G_GNUC_UNUSED)
{
  g_autoptr (BwShelf) shelf = bw_shelf_new (fixture->reference, fixture->library);
  g_autoptr (BwShelfItem) item = NULL;
  g_autoptr (BwDesign) design = NULL;
  BwLibraryEdit edit = { .label = "rename" };
  gint64 id;

  bw_shelf_show (shelf, FALSE);
  id = id_at (shelf, 5);
  design = bw_library_load (fixture->library, id, NULL, NULL);
  g_free (design->name);
  design->name = g_strdup ("Barge");
  g_assert_true (bw_library_save (fixture->library, id, design, &edit, NULL));
  bw_shelf_forget (shelf, id);
  item = g_list_model_get_item (G_LIST_MODEL (shelf), 5);
  g_assert_cmpint (bw_shelf_item_get_id (item), ==, id);
  g_assert_cmpstr (bw_shelf_item_get_name (item), ==, "Barge");
}

/* Hats are drawn elsewhere, for as long as somebody looks. */
static void
test_pictures (Fixture       *fixture,
               gconstpointer  data G_GNUC_UNUSED)
{
  g_autoptr (BwShelf) shelf = bw_shelf_new (fixture->reference, fixture->library);
  g_autoptr (BwShelfItem) seen = NULL;
  g_autoptr (BwShelfItem) passed = NULL;

  bw_shelf_show (shelf, FALSE);
  seen = g_list_model_get_item (G_LIST_MODEL (shelf), 1);
  passed = g_list_model_get_item (G_LIST_MODEL (shelf), 2);
  g_assert_true (bw_shelf_item_want (passed, TRUE));
  g_assert_false (bw_shelf_item_want (passed, TRUE));
  bw_shelf_item_want (passed, FALSE);
  bw_shelf_item_draw (passed, fixture->reference, fixture->library);
  bw_shelf_want (shelf, seen, TRUE);
  for (guint i = 0; i < 500 && bw_shelf_item_get_picture (seen) == NULL; i++)
    fixture_wait (10);

  g_assert_nonnull (bw_shelf_item_get_picture (seen));
  g_assert_null (bw_shelf_item_get_picture (passed));
}

/* Whether another program would find the library in use. */
static gboolean
is_locked (const char *path)
{
  int status;
  pid_t child = fork ();

  if (child == 0)
    {
      struct flock lock = { .l_type = F_WRLCK, .l_whence = SEEK_SET };
      int fd = open (path, O_RDWR | O_CLOEXEC);

      _exit (fd >= 0 && fcntl (fd, F_GETLK, &lock) == 0 && lock.l_type != F_UNLCK ? 0 : 1);
    }
  g_assert_cmpint (waitpid (child, &status, 0), ==, child);

  return WIFEXITED (status) && WEXITSTATUS (status) == 0;
}

/* The thread's connection leaves the locks of ours alone: without them another
 * program takes the write-ahead log away, and with it what is saved next. */
static void
test_locks (Fixture       *fixture,
            gconstpointer  data G_GNUC_UNUSED)
{
  BwShelf *shelf = bw_shelf_new (fixture->reference, fixture->library);
  g_autoptr (BwShelfItem) seen = NULL;

  g_assert_true (is_locked (fixture->path));
  bw_shelf_show (shelf, FALSE);
  seen = g_list_model_get_item (G_LIST_MODEL (shelf), 0);
  bw_shelf_want (shelf, seen, TRUE);
  for (guint i = 0; i < 500 && bw_shelf_item_get_picture (seen) == NULL; i++)
    fixture_wait (10);
  g_assert_true (is_locked (fixture->path));
  g_object_unref (shelf);
  g_assert_true (is_locked (fixture->path));
}

int
main (int    argc,
      char **argv)
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);

#define ADD(name, n, function) \
  g_test_add ("/app/shelf/" name, Fixture, GUINT_TO_POINTER (n), set_up, function, tear_down)
  ADD ("piecewise", N_DESIGNS, test_piecewise);
  ADD ("bin-and-search", 40, test_bin_and_search);
  ADD ("changed", 30, test_changed);
  ADD ("pictures", 4, test_pictures);
  ADD ("locks", 4, test_locks);

  return g_test_run ();
}
