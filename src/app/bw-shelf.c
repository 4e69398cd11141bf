#define G_LOG_DOMAIN "bw-app"

#include "bw-shelf.h"

/* Of each design the shelf knows no more than where it stands; the rest is read
 * when a row asks, and kept in as many slots as a list has rows and some. Hats are
 * drawn in a thread with a connection of its own, what was asked for last first. */

#define SLOTS 512

typedef struct
{
  guint        position;
  BwShelfItem *item;      /* NULL = free */
} Slot;

struct _BwShelf
{
  GObject parent_instance;

  /* Borrowed references */
  const BwReference *reference;
  BwLibrary         *library;

  /* Owned references */
  GArray            *marks;          /* of BwLibraryMark */
  GThreadPool       *painters;       /* NULL until something is to be drawn */
  BwLibrary         *painted_from;   /* the thread's; NULL until it draws */

  Slot               slots[SLOTS];
  gboolean           binned;
  gboolean           more;           /* there may be designs after the last mark */
};

static GType
get_item_type (GListModel *model)
{
  return BW_TYPE_SHELF_ITEM;
}

static guint
get_n_items (GListModel *model)
{
  return BW_SHELF (model)->marks->len;
}

static BwShelfItem *
read_item (BwShelf *self,
           gint64   id)
{
  g_autoptr (BwLibraryEntry) entry = bw_library_get_entry (self->library, id, NULL);
  BwLibraryEntry gone = { .id = id, .name = (char *) "", .code = (char *) "", .yarn = (char *) "",
                          .tags = (char *) "" };

  return bw_shelf_item_new (entry == NULL ? &gone : entry);
}

static gpointer
get_item (GListModel *model,
          guint       position)
{
  BwShelf *self = BW_SHELF (model);
  Slot *slot = &self->slots[position % SLOTS];

  if (position >= self->marks->len)
    return NULL;

  if (slot->item == NULL || slot->position != position)
    {
      g_clear_object (&slot->item);
      slot->position = position;
      slot->item = read_item (self, g_array_index (self->marks, BwLibraryMark, position).id);
    }

  return g_object_ref (slot->item);
}

static void
list_model_init (GListModelInterface *iface)
{
  iface->get_item_type = get_item_type;
  iface->get_n_items = get_n_items;
  iface->get_item = get_item;
}

G_DEFINE_FINAL_TYPE_WITH_CODE (BwShelf, bw_shelf, G_TYPE_OBJECT,
                               G_IMPLEMENT_INTERFACE (G_TYPE_LIST_MODEL, list_model_init))

static void
clear_slots (BwShelf *self)
{
  for (guint i = 0; i < SLOTS; i++)
    g_clear_object (&self->slots[i].item);
}

static void
bw_shelf_finalize (GObject *object)
{
  BwShelf *self = BW_SHELF (object);

  /* What waits is dropped, what is being drawn is waited for */
  if (self->painters != NULL)
    g_thread_pool_free (self->painters, TRUE, TRUE);
  g_clear_pointer (&self->painted_from, bw_library_close);
  clear_slots (self);
  g_array_unref (self->marks);

  G_OBJECT_CLASS (bw_shelf_parent_class)->finalize (object);
}

static void
bw_shelf_class_init (BwShelfClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = bw_shelf_finalize;
}

static void
bw_shelf_init (BwShelf *self)
{
  self->marks = g_array_new (FALSE, FALSE, sizeof (BwLibraryMark));
}

/**
 * bw_shelf_new:
 * @reference: tables; must outlive the shelf
 * @library: must outlive the shelf
 *
 * Returns: (transfer full): a shelf that shows nothing yet
 */
BwShelf *
bw_shelf_new (const BwReference *reference,
              BwLibrary         *library)
{
  BwShelf *self = g_object_new (BW_TYPE_SHELF, NULL);

  self->reference = reference;
  self->library = library;

  return self;
}

/* ---- what is shown ------------------------------------------------------ */

static void
replace (BwShelf *self,
         GArray  *marks,
         gboolean more)
{
  guint before = self->marks->len;

  clear_slots (self);
  g_array_unref (self->marks);
  self->marks = marks;
  self->more = more;
  g_list_model_items_changed (G_LIST_MODEL (self), 0, before, marks->len);
}

/**
 * bw_shelf_show:
 * @self: a shelf
 * @binned: the bin, rather than the shelf
 *
 * Shows the designs that were changed last: as many as fill a window.
 * bw_shelf_more() adds the others.
 */
void
bw_shelf_show (BwShelf *self,
               gboolean binned)
{
  GArray *marks = g_array_new (FALSE, FALSE, sizeof (BwLibraryMark));
  guint n;

  g_return_if_fail (BW_IS_SHELF (self));

  bw_library_list_marks (self->library, binned, NULL, BW_SHELF_FIRST, marks, NULL);
  n = marks->len;
  self->binned = binned;
  replace (self, marks, n == BW_SHELF_FIRST);
}

/**
 * bw_shelf_search:
 * @self: a shelf
 * @typed: beginnings of words
 *
 * Shows the designs that have such words.
 */
void
bw_shelf_search (BwShelf    *self,
                 const char *typed)
{
  g_autoptr (GPtrArray) found = NULL;
  GArray *marks = g_array_new (FALSE, FALSE, sizeof (BwLibraryMark));

  g_return_if_fail (BW_IS_SHELF (self));

  found = bw_library_search (self->library, typed, BW_SHELF_SEARCH_MAX, NULL);
  for (guint i = 0; found != NULL && i < found->len; i++)
    {
      const BwLibraryEntry *entry = found->pdata[i];
      BwLibraryMark mark = { entry->id, entry->changed_at };

      g_array_append_val (marks, mark);
    }
  replace (self, marks, FALSE);
}

/**
 * bw_shelf_more:
 * @self: a shelf
 *
 * Adds some of the designs that are not known yet.
 *
 * Returns: whether there may be more of them
 */
gboolean
bw_shelf_more (BwShelf *self)
{
  guint before;
  BwLibraryMark last;

  g_return_val_if_fail (BW_IS_SHELF (self), FALSE);

  before = self->marks->len;
  if (!self->more || before == 0)
    return FALSE;

  last = g_array_index (self->marks, BwLibraryMark, before - 1);
  self->more = bw_library_list_marks (self->library, self->binned, &last, BW_SHELF_MORE,
                                      self->marks, NULL) &&
               self->marks->len == before + BW_SHELF_MORE;
  if (self->marks->len > before)
    g_list_model_items_changed (G_LIST_MODEL (self), before, 0, self->marks->len - before);

  return self->more;
}

/**
 * bw_shelf_find:
 * @self: a shelf
 * @id: a design
 *
 * Returns: its position; G_MAXUINT where it is not on the shelf, or not known yet
 */
guint
bw_shelf_find (BwShelf *self,
               gint64   id)
{
  g_return_val_if_fail (BW_IS_SHELF (self), G_MAXUINT);

  for (guint i = 0; i < self->marks->len; i++)
    if (g_array_index (self->marks, BwLibraryMark, i).id == id)
      return i;

  return G_MAXUINT;
}

/**
 * bw_shelf_forget:
 * @self: a shelf
 * @id: a design that was changed
 *
 * Has it read again; it stays in its place, so that nothing moves under the hand.
 */
void
bw_shelf_forget (BwShelf *self,
                 gint64   id)
{
  guint position = bw_shelf_find (self, id);
  Slot *slot;

  if (position == G_MAXUINT)
    return;

  slot = &self->slots[position % SLOTS];
  if (slot->position == position)
    g_clear_object (&slot->item);
  g_list_model_items_changed (G_LIST_MODEL (self), position, 1, 1);
}

/* ---- pictures ----------------------------------------------------------- */

/* In the painters' thread, of which there is one. */
static void
paint (gpointer data,
       gpointer user_data)
{
  g_autoptr (BwShelfItem) item = data;
  BwShelf *self = user_data;

  if (self->painted_from == NULL)
    self->painted_from = bw_library_open_again (self->library, NULL);
  if (self->painted_from != NULL)
    bw_shelf_item_draw (item, self->reference, self->painted_from);
}

/**
 * bw_shelf_want:
 * @self: a shelf
 * @item: one of its designs
 * @wanted: whether a row shows it
 *
 * Has its hat drawn for as long as a row shows it.
 */
void
bw_shelf_want (BwShelf     *self,
               BwShelfItem *item,
               gboolean     wanted)
{
  g_return_if_fail (BW_IS_SHELF (self));

  if (!bw_shelf_item_want (item, wanted))
    return;

  if (self->painters == NULL)
    self->painters = g_thread_pool_new_full (paint, self, g_object_unref, 1, FALSE, NULL);
  g_thread_pool_push (self->painters, g_object_ref (item), NULL);
  g_thread_pool_move_to_front (self->painters, item);
}
