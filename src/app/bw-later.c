#define G_LOG_DOMAIN "bw-app"

#include "bw-later.h"

/* Work that the first frame does not need. */
typedef struct
{
  GtkWidget     *widget;   /* which owns this */
  BwLaterFunc    func;
  GdkFrameClock *clock;    /* waited for; NULL = no longer, or not yet */
  guint          source;
} BwLater;

static void
forget_clock (BwLater *later)
{
  if (later->clock == NULL)
    return;

  g_signal_handlers_disconnect_by_data (later->clock, later);
  g_clear_object (&later->clock);
}

static void
later_free (gpointer data)
{
  BwLater *later = data;

  forget_clock (later);
  g_signal_handlers_disconnect_by_data (later->widget, later);
  g_clear_handle_id (&later->source, g_source_remove);
  g_free (later);
}

static gboolean
work_cb (gpointer data)
{
  BwLater *later = data;

  if (later->func (later->widget))
    return G_SOURCE_CONTINUE;

  later->source = 0;

  return G_SOURCE_REMOVE;
}

static void
painted_cb (GdkFrameClock *clock,
            BwLater       *later)
{
  forget_clock (later);
  later->source = g_idle_add_full (G_PRIORITY_LOW, work_cb, later, NULL);
}

static void
wait_for_frame (BwLater *later)
{
  if (later->clock != NULL || later->source != 0)
    return;

  later->clock = g_object_ref (gtk_widget_get_frame_clock (later->widget));
  g_signal_connect (later->clock, "after-paint", G_CALLBACK (painted_cb), later);
  gtk_widget_queue_draw (later->widget);
}

static void
mapped_cb (GtkWidget *widget,
           BwLater   *later)
{
  g_signal_handlers_disconnect_by_func (widget, mapped_cb, later);
  wait_for_frame (later);
}

/**
 * bw_later_add:
 * @widget: a widget; one piece of work each, another takes its place
 * @func: what is to be done
 *
 * Has @func called once the widget has been painted and nothing else is to be
 * done, again and again for as long as it says that there is more. What a window
 * does not show at first is made this way, so that it opens at once.
 */
void
bw_later_add (GtkWidget   *widget,
              BwLaterFunc  func)
{
  BwLater *later = g_new0 (BwLater, 1);

  g_return_if_fail (GTK_IS_WIDGET (widget));

  later->widget = widget;
  later->func = func;
  g_object_set_data_full (G_OBJECT (widget), "bw-later", later, later_free);
  if (gtk_widget_get_mapped (widget))
    wait_for_frame (later);
  else
    g_signal_connect (widget, "map", G_CALLBACK (mapped_cb), later);
}
