#define G_LOG_DOMAIN "bw-app"

#include "bw-history.h"

typedef struct
{
  char     *label;   /* "change Brim ease" */
  char     *what;    /* the value that was edited, for merging; NULL = never merged */
  BwDesign *before;
  BwDesign *after;
  gint64    time;    /* monotonic, of the last edit in it */
  gboolean  closed;  /* undone once: nothing is merged into it any more */
} BwStep;

struct _BwHistory
{
  GPtrArray *steps;   /* of BwStep */
  guint      n_done;  /* steps that are done; those after it can be redone */
};

static void
step_free (gpointer data)
{
  BwStep *step = data;

  g_free (step->label);
  g_free (step->what);
  bw_design_free (step->before);
  bw_design_free (step->after);
  g_free (step);
}

BwHistory *
bw_history_new (void)
{
  BwHistory *self = g_new0 (BwHistory, 1);

  self->steps = g_ptr_array_new_with_free_func (step_free);

  return self;
}

void
bw_history_free (BwHistory *self)
{
  g_ptr_array_unref (self->steps);
  g_free (self);
}

static BwStep *
last_done (const BwHistory *self)
{
  return self->n_done == 0 ? NULL : self->steps->pdata[self->n_done - 1];
}

static gboolean
merges (const BwStep *step,
        const char   *what,
        gint64        now)
{
  return step != NULL && !step->closed && what != NULL && g_strcmp0 (step->what, what) == 0 &&
         now - step->time < BW_HISTORY_MERGE_US;
}

/**
 * bw_history_record:
 * @self: a history
 * @before: the design as it was
 * @after: the design as it is now
 * @label: what was done
 * @what: (nullable): the value that was edited
 *
 * Adds a step, or makes the last one longer. What was undone cannot be redone
 * any more.
 */
void
bw_history_record (BwHistory      *self,
                   const BwDesign *before,
                   const BwDesign *after,
                   const char     *label,
                   const char     *what)
{
  gint64 now = g_get_monotonic_time ();
  BwStep *step = last_done (self);

  g_ptr_array_set_size (self->steps, (int) self->n_done);
  if (merges (step, what, now))
    {
      bw_design_free (step->after);
      step->after = bw_design_copy (after);
      step->time = now;
      return;
    }

  step = g_new0 (BwStep, 1);
  step->label = g_strdup (label);
  step->what = g_strdup (what);
  step->before = bw_design_copy (before);
  step->after = bw_design_copy (after);
  step->time = now;
  g_ptr_array_add (self->steps, step);
  if (self->steps->len > BW_HISTORY_STEPS_MAX)
    g_ptr_array_remove_index (self->steps, 0);
  self->n_done = self->steps->len;
}

/**
 * bw_history_undo:
 * @self: a history
 *
 * Returns: (transfer none) (nullable): the design as it was before the last
 *   step; %NULL when there is none
 */
const BwDesign *
bw_history_undo (BwHistory *self)
{
  BwStep *step = last_done (self);

  if (step == NULL)
    return NULL;

  step->closed = TRUE;
  self->n_done--;
  if (last_done (self) != NULL)
    last_done (self)->closed = TRUE;

  return step->before;
}

/**
 * bw_history_redo:
 * @self: a history
 *
 * Returns: (transfer none) (nullable): the design as it was after the step that
 *   was undone last; %NULL when there is none
 */
const BwDesign *
bw_history_redo (BwHistory *self)
{
  if (self->n_done == self->steps->len)
    return NULL;

  self->n_done++;

  return last_done (self)->after;
}

const char *
bw_history_get_undo_label (const BwHistory *self)
{
  return self->n_done == 0 ? NULL : last_done (self)->label;
}

const char *
bw_history_get_redo_label (const BwHistory *self)
{
  if (self->n_done == self->steps->len)
    return NULL;

  return ((BwStep *) self->steps->pdata[self->n_done])->label;
}
