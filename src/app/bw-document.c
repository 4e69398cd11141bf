#define G_LOG_DOMAIN "bw-app"

#include "bw-app-words.h"

#include "bw-document.h"

#include "bw-field-place.h"
#include "bw-history.h"
#include "bw-library-design.h"
#include "bw-library-gauge.h"

/* A design being worked on: the design, what it grades to, what was done to it.
 * Every edit goes through bw_document_edit(): it grades at once, records a step
 * and saves a moment later. An edit that cannot be graded is refused and leaves
 * everything as it was. */

struct _BwDocument
{
  GObject parent_instance;

  /* Borrowed references */
  const BwReference *reference;
  BwLibrary         *library;   /* NULL = kept nowhere */

  /* Owned references */
  BwDesign          *design;
  BwGrading         *latest;    /* of the design; NULL where it cannot be graded at all */
  BwGrading         *good;      /* last one with sizes; NULL = latest is it */
  BwHistory         *history;
  GHashTable        *faults;    /* set of char *: values whose entry cannot be read */
  char              *trouble;   /* why it could not be saved; NULL = nothing is wrong */
  char              *size_id;   /* the chosen size, which keeps its name when sizes move */

  gint64             id;        /* in the library */
  gint64             version;   /* that the library has; 0 = whatever there is */
  gint64             saved_at;  /* monotonic time, us; 0 = not yet */
  guint              size;
  int                round;
  guint              save_source;
  gboolean           unsaved;
  gboolean           by_hand;   /* saved when it is left, not after each edit */
};

enum
{
  SIGNAL_CHANGED,   /* design and grading */
  SIGNAL_SELECTED,  /* size or round */
  SIGNAL_STATE,     /* faults, saved or not */
  N_SIGNALS,
};

static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (BwDocument, bw_document, G_TYPE_OBJECT)

/* ---- saving ------------------------------------------------------------ */

static void
set_trouble (BwDocument *self,
             const char *trouble)
{
  if (g_strcmp0 (self->trouble, trouble) == 0)
    return;

  g_free (self->trouble);
  self->trouble = g_strdup (trouble);
  g_signal_emit (self, signals[SIGNAL_STATE], 0);
}

static gboolean
save_in_library (BwDocument  *self,
                 GError     **error)
{
  const char *label = bw_history_get_undo_label (self->history);
  /* The library keeps a history of its own, and names its steps too */
  gint64 now = g_get_monotonic_time ();
  BwLibraryEdit edit = { .label = label == NULL ? _("first state") : label,
                         .version = self->version,
                         .merge = now - self->saved_at < BW_DOCUMENT_MERGE_MS * 1000 };
  g_autoptr (GError) local = NULL;

  if (bw_library_save (self->library, self->id, self->design, &edit, &local))
    {
      self->version = edit.version;
      self->saved_at = now;
      return TRUE;
    }

  /* Somebody else changed it meanwhile: both are kept, we go on with ours. */
  if (g_error_matches (local, BW_LIBRARY_ERROR, BW_LIBRARY_ERROR_CONFLICT) && edit.kept_as != 0)
    {
      self->id = edit.kept_as;
      self->version = 0;
      return TRUE;
    }

  g_propagate_error (error, g_steal_pointer (&local));

  return FALSE;
}

static gboolean
save_cb (gpointer data)
{
  BwDocument *self = data;

  self->save_source = 0;
  bw_document_save (self, NULL);

  return G_SOURCE_REMOVE;
}

/* As soon as the edit has been painted: a program that is killed a moment later has
 * lost nothing, and saving takes less than two milliseconds. Where it failed, the
 * next try would hold up the next keystroke, so that waits. */
static void
schedule_save (BwDocument *self)
{
  self->unsaved = TRUE;
  if (self->library == NULL || self->by_hand || self->save_source != 0)
    return;

  if (self->trouble != NULL)
    self->save_source = g_timeout_add (BW_DOCUMENT_RETRY_MS, save_cb, self);
  else
    self->save_source = g_idle_add_full (G_PRIORITY_LOW, save_cb, self, NULL);
}

/**
 * bw_document_save:
 * @self: a document
 * @error: (out) (optional): what the library says
 *
 * Saves now what would be saved a moment later.
 *
 * Returns: whether everything is saved
 */
gboolean
bw_document_save (BwDocument  *self,
                  GError     **error)
{
  g_autoptr (GError) local = NULL;

  g_return_val_if_fail (BW_IS_DOCUMENT (self), FALSE);

  g_clear_handle_id (&self->save_source, g_source_remove);
  if (!self->unsaved || self->library == NULL)
    return TRUE;

  if (!save_in_library (self, &local))
    {
      set_trouble (self, local->message);
      schedule_save (self);
      g_propagate_error (error, g_steal_pointer (&local));
      return FALSE;
    }

  self->unsaved = FALSE;
  set_trouble (self, NULL);
  g_signal_emit (self, signals[SIGNAL_STATE], 0);

  return TRUE;
}

/* ---- grading ----------------------------------------------------------- */

static gboolean
has_sizes (const BwGrading *grading)
{
  return grading != NULL && grading->sizes->len > 0;
}

/* Swatches that are kept in the library are looked up at each grading: they may
 * have been measured again. */
static BwGrading *
grade (BwDocument      *self,
       const BwDesign  *design,
       GError         **error)
{
  g_autoptr (BwDesign) resolved = NULL;
  gboolean from_library = FALSE;

  for (guint i = 0; i < design->swatches->len; i++)
    from_library |= *g_array_index (design->swatches, BwSwatch, i).from != '\0';
  if (!from_library || self->library == NULL)
    return bw_grade (self->reference, design, error);

  resolved = bw_design_copy (design);
  if (!bw_library_resolve_swatches (self->library, resolved, error))
    return NULL;

  return bw_grade (self->reference, resolved, error);
}

/* Takes @grading; the last good one is kept for as long as the new one has no sizes. */
static void
set_grading (BwDocument *self,
             BwGrading  *grading)
{
  if (has_sizes (self->latest) && !has_sizes (grading))
    {
      g_clear_pointer (&self->good, bw_grading_free);
      self->good = g_steal_pointer (&self->latest);
    }
  if (has_sizes (grading))
    g_clear_pointer (&self->good, bw_grading_free);

  g_clear_pointer (&self->latest, bw_grading_free);
  self->latest = grading;
}

/* The chosen size goes on being the one of that name, the chosen round stays where it can. */
static void
keep_selection (BwDocument *self)
{
  const BwGrading *grading = bw_document_get_grading (self);
  const BwGradedSize *size;
  guint n = grading == NULL ? 0 : grading->sizes->len;

  for (guint k = 0; k < n; k++)
    {
      size = grading->sizes->pdata[k];
      if (g_strcmp0 (size->choice->size->id, self->size_id) == 0)
        self->size = k;
    }

  self->size = n == 0 ? 0 : MIN (self->size, n - 1);
  size = bw_document_get_graded_size (self);
  if (size == NULL || self->round >= (int) size->rounds->rounds->len)
    self->round = -1;
}

static void
take_design (BwDocument *self,
             BwDesign   *design,
             BwGrading  *grading)
{
  bw_design_free (self->design);
  self->design = design;
  set_grading (self, grading);
  keep_selection (self);
  schedule_save (self);
  g_signal_emit (self, signals[SIGNAL_CHANGED], 0);
}

/* ---- edits ------------------------------------------------------------- */

/**
 * bw_document_edit:
 * @self: a document
 * @design: (transfer full): the design as it is to be
 * @label: what is done, for "Undo %s"
 * @what: (nullable): the value that is edited; edits of one value shortly after
 *   each other are undone together
 * @error: (out) (optional): %BW_ERROR, when the design will not do
 *
 * Returns: whether the design is now @design; nothing has changed otherwise
 */
gboolean
bw_document_edit (BwDocument  *self,
                  BwDesign    *design,
                  const char  *label,
                  const char  *what,
                  GError     **error)
{
  g_autoptr (BwDesign) wanted = design;
  BwGrading *grading;

  g_return_val_if_fail (BW_IS_DOCUMENT (self), FALSE);

  if (bw_design_equal (self->design, wanted))
    return TRUE;

  if (!bw_design_check (self->reference, wanted, error))
    return FALSE;

  grading = grade (self, wanted, error);
  if (grading == NULL)
    return FALSE;

  bw_history_record (self->history, self->design, wanted, label, what);
  take_design (self, g_steal_pointer (&wanted), grading);

  return TRUE;
}

/**
 * bw_document_type:
 * @self: a document
 * @place: a value, as bw_field_place_parse() has it
 * @label: what the value is called
 * @text: what was typed
 * @error: (out) (optional): %BW_ERROR
 *
 * Returns: whether the text was read and the design changed accordingly
 */
gboolean
bw_document_type (BwDocument  *self,
                  const char  *place,
                  const char  *label,
                  const char  *text,
                  GError     **error)
{
  g_autoptr (BwDesign) design = NULL;
  g_autofree char *edit = NULL;
  BwFieldPlace where;

  g_return_val_if_fail (BW_IS_DOCUMENT (self), FALSE);
  g_return_val_if_fail (bw_field_place_parse (place, &where), FALSE);

  design = bw_design_copy (self->design);
  if (!bw_field_place_read (&where, self->reference, design, text, error))
    return FALSE;

  /* Translators: %s is the label of a value: "Undo: change Brim ease" */
  edit = g_strdup_printf (_("change %s"), label);

  return bw_document_edit (self, g_steal_pointer (&design), edit, place, error);
}

static void
go_to (BwDocument     *self,
       const BwDesign *design)
{
  if (design != NULL)
    take_design (self, bw_design_copy (design), grade (self, design, NULL));
}

/**
 * bw_document_undo:
 * @self: a document
 *
 * Takes the last edit back, if there is one.
 */
void
bw_document_undo (BwDocument *self)
{
  g_return_if_fail (BW_IS_DOCUMENT (self));

  go_to (self, bw_history_undo (self->history));
}

/**
 * bw_document_redo:
 * @self: a document
 *
 * Does the edit again that was taken back last, if there is one.
 */
void
bw_document_redo (BwDocument *self)
{
  g_return_if_fail (BW_IS_DOCUMENT (self));

  go_to (self, bw_history_redo (self->history));
}

/* (nullable) */
const char *
bw_document_get_undo_label (BwDocument *self)
{
  return bw_history_get_undo_label (self->history);
}

/* (nullable) */
const char *
bw_document_get_redo_label (BwDocument *self)
{
  return bw_history_get_redo_label (self->history);
}

/* ---- what the widgets ask ---------------------------------------------- */

const BwReference *
bw_document_get_reference (BwDocument *self)
{
  return self->reference;
}

BwLibrary *
bw_document_get_library (BwDocument *self)
{
  return self->library;
}

/**
 * bw_document_set_version:
 * @self: a document
 * @version: the version that the library had when the design was read
 *
 * Lets a save notice that somebody else changed the design meanwhile.
 */
void
bw_document_set_version (BwDocument *self,
                         gint64      version)
{
  g_return_if_fail (BW_IS_DOCUMENT (self));

  self->version = version;
}

gint64
bw_document_get_id (BwDocument *self)
{
  return self->id;
}

const BwDesign *
bw_document_get_design (BwDocument *self)
{
  return self->design;
}

/**
 * bw_document_get_grading:
 * @self: a document
 *
 * Returns: (transfer none) (nullable): the last grading that has sizes
 */
const BwGrading *
bw_document_get_grading (BwDocument *self)
{
  if (has_sizes (self->latest))
    return self->latest;

  return self->good;
}

/**
 * bw_document_get_latest:
 * @self: a document
 *
 * Returns: (transfer none) (nullable): the grading of the design as it is, which
 *   may be refused; its findings say why
 */
const BwGrading *
bw_document_get_latest (BwDocument *self)
{
  return self->latest;
}

/**
 * bw_document_get_graded_size:
 * @self: a document
 *
 * Returns: (transfer none) (nullable): the chosen size of the last good grading
 */
const BwGradedSize *
bw_document_get_graded_size (BwDocument *self)
{
  const BwGrading *grading = bw_document_get_grading (self);

  return grading == NULL ? NULL : grading->sizes->pdata[self->size];
}

/**
 * bw_document_is_stale:
 * @self: a document
 *
 * Returns: whether what is shown is older than what was typed
 */
gboolean
bw_document_is_stale (BwDocument *self)
{
  return !has_sizes (self->latest) || g_hash_table_size (self->faults) > 0;
}

guint
bw_document_get_size (BwDocument *self)
{
  return self->size;
}

/**
 * bw_document_set_size:
 * @self: a document
 * @size: index of a size of the last good grading
 *
 * Chooses the size that is shown large and in the table.
 */
void
bw_document_set_size (BwDocument *self,
                      guint       size)
{
  const BwGrading *grading = bw_document_get_grading (self);
  const BwGradedSize *graded;

  g_return_if_fail (BW_IS_DOCUMENT (self));

  if (grading == NULL || size >= grading->sizes->len || size == self->size)
    return;

  self->size = size;
  self->round = -1;
  graded = grading->sizes->pdata[size];
  g_free (self->size_id);
  self->size_id = g_strdup (graded->choice->size->id);
  g_signal_emit (self, signals[SIGNAL_SELECTED], 0);
}

int
bw_document_get_round (BwDocument *self)
{
  return self->round;
}

/**
 * bw_document_set_round:
 * @self: a document
 * @round: index in the chosen size's rounds; -1 = none
 *
 * Chooses the round that is lit in the picture and selected in the table.
 */
void
bw_document_set_round (BwDocument *self,
                       int         round)
{
  const BwGradedSize *size = bw_document_get_graded_size (self);

  g_return_if_fail (BW_IS_DOCUMENT (self));

  if (size == NULL || round >= (int) size->rounds->rounds->len)
    round = -1;
  if (round == self->round)
    return;

  self->round = round;
  g_signal_emit (self, signals[SIGNAL_SELECTED], 0);
}

/**
 * bw_document_set_fault:
 * @self: a document
 * @what: the value of an entry
 * @faulty: whether what stands in the entry cannot be used
 */
void
bw_document_set_fault (BwDocument *self,
                       const char *what,
                       gboolean    faulty)
{
  gboolean changed;

  g_return_if_fail (BW_IS_DOCUMENT (self));

  changed = faulty ? g_hash_table_add (self->faults, g_strdup (what))
                   : g_hash_table_remove (self->faults, what);
  if (changed)
    g_signal_emit (self, signals[SIGNAL_STATE], 0);
}

guint
bw_document_get_n_faults (BwDocument *self)
{
  return g_hash_table_size (self->faults);
}

gboolean
bw_document_is_saved (BwDocument *self)
{
  return !self->unsaved;
}

/**
 * bw_document_get_trouble:
 * @self: a document
 *
 * Returns: (transfer none) (nullable): why the last edits are not saved
 */
const char *
bw_document_get_trouble (BwDocument *self)
{
  return self->trouble;
}

/**
 * bw_document_catch_up:
 * @self: a document
 *
 * To be called after the program has changed the design's place in the library
 * otherwise than by saving: that was a change of ours, not of somebody else.
 */
void
bw_document_catch_up (BwDocument *self)
{
  g_autoptr (BwLibraryEntry) entry = NULL;

  g_return_if_fail (BW_IS_DOCUMENT (self));

  entry = bw_library_get_entry (self->library, self->id, NULL);
  if (entry != NULL && self->version != 0)
    self->version = entry->version;
  g_signal_emit (self, signals[SIGNAL_STATE], 0);
}

/**
 * bw_document_set_autosave:
 * @self: a document
 * @autosave: whether it is saved a moment after each edit, and not only when it
 *   is left
 */
void
bw_document_set_autosave (BwDocument *self,
                          gboolean    autosave)
{
  g_return_if_fail (BW_IS_DOCUMENT (self));

  self->by_hand = !autosave;
  if (autosave && self->unsaved)
    bw_document_save (self, NULL);
}

/* ---- the object -------------------------------------------------------- */

static void
bw_document_dispose (GObject *object)
{
  BwDocument *self = BW_DOCUMENT (object);

  if (self->unsaved)
    bw_document_save (self, NULL);
  g_clear_handle_id (&self->save_source, g_source_remove);

  G_OBJECT_CLASS (bw_document_parent_class)->dispose (object);
}

static void
bw_document_finalize (GObject *object)
{
  BwDocument *self = BW_DOCUMENT (object);

  bw_grading_free (self->latest);
  bw_grading_free (self->good);
  bw_design_free (self->design);
  bw_history_free (self->history);
  g_hash_table_unref (self->faults);
  g_free (self->trouble);
  g_free (self->size_id);

  G_OBJECT_CLASS (bw_document_parent_class)->finalize (object);
}

static void
bw_document_class_init (BwDocumentClass *klass)
{
  static const char *const names[] = { "changed", "selected", "state" };
  GObjectClass *object_class = G_OBJECT_CLASS (klass);

  object_class->dispose = bw_document_dispose;
  object_class->finalize = bw_document_finalize;
  for (guint i = 0; i < N_SIGNALS; i++)
    signals[i] = g_signal_new (names[i], BW_TYPE_DOCUMENT, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                               G_TYPE_NONE, 0);
}

static void
bw_document_init (BwDocument *self)
{
  self->history = bw_history_new ();
  self->faults = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  self->round = -1;
}

/**
 * bw_document_new:
 * @reference: tables; must outlive the document
 * @library: (nullable): where it is saved; must outlive the document
 * @id: its id there
 * @design: (transfer full): the design
 *
 * Returns: (transfer full): a document; the middle size is chosen
 */
BwDocument *
bw_document_new (const BwReference *reference,
                 BwLibrary         *library,
                 gint64             id,
                 BwDesign          *design)
{
  BwDocument *self = g_object_new (BW_TYPE_DOCUMENT, NULL);
  const BwGrading *grading;

  self->reference = reference;
  self->library = library;
  self->id = id;
  self->design = design;
  self->latest = grade (self, design, NULL);

  grading = bw_document_get_grading (self);
  if (grading != NULL)
    {
      self->size = grading->sizes->len / 2;
      self->size_id = g_strdup (bw_document_get_graded_size (self)->choice->size->id);
    }

  return self;
}
