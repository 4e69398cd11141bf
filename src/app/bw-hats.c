#define G_LOG_DOMAIN "bw-app"

#include "bw-app-words.h"

#include "bw-hats.h"

#include <math.h>

#include "bw-hats-private.h"
#include "bw-words.h"

/* The hats: every size to one scale beside a ruler, the chosen one large with
 * its crown seen from above. Each picture is kept as a render node until what
 * it shows changes, so that picking a round paints one hat and not thirty. */

#define ZOOM_MOST  8.0
#define ZOOM_STEP  1.25

G_DEFINE_FINAL_TYPE (BwHats, bw_hats, GTK_TYPE_WIDGET)

/* ---- keeping pictures -------------------------------------------------- */

static void
forget_large (BwHats *self)
{
  for (guint i = 0; i < G_N_ELEMENTS (self->large_jobs); i++)
    g_clear_pointer (&self->large_jobs[i], bw_hat_job_free);
  g_clear_pointer (&self->large, gsk_render_node_unref);
}

static void
forget_small (BwHats *self)
{
  for (guint k = 0; k < BW_DESIGN_SIZES_MAX; k++)
    {
      g_clear_pointer (&self->small_jobs[k], bw_hat_job_free);
      g_clear_pointer (&self->small[k], gsk_render_node_unref);
    }
}

static void
forget_drawings (BwHats *self)
{
  forget_large (self);
  forget_small (self);
  for (guint k = 0; k < self->n; k++)
    g_clear_pointer (&self->drawings[k], bw_hat_drawing_free);
  self->n = 0;
}

static void
arrange (BwHats *self)
{
  PangoLayout *text = gtk_widget_create_pango_layout (GTK_WIDGET (self), "00");
  int width;
  int height;

  pango_layout_get_pixel_size (text, &width, &height);
  g_object_unref (text);

  self->layout.width = gtk_widget_get_width (GTK_WIDGET (self));
  self->layout.height = gtk_widget_get_height (GTK_WIDGET (self));
  self->layout.name_height = height + 4;
  self->layout.ruler_width = width + 18;
  bw_hats_layout_arrange (&self->layout, self->drawings, self->n,
                          self->n == 0 ? 0 : bw_document_get_size (self->document), self->zoom);
  self->layout.large.x += self->pan_x;
  self->layout.large.y += self->pan_y;
  self->layout.crown.x += self->pan_x;
  self->layout.crown.y += self->pan_y;
}

static void
rearrange (BwHats *self)
{
  forget_small (self);
  forget_large (self);
  arrange (self);
  bw_hats_start_painting (self);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

/* ---- finding what is under the hand ------------------------------------ */

static void
to_mm (const BwHatSpot *spot,
       double           x,
       double           y,
       double          *x_mm,
       double          *y_mm)
{
  *x_mm = (x - spot->x) / spot->scale;
  *y_mm = (spot->y - y) / spot->scale;
}

static gboolean
find_small (BwHats *self,
            double  x,
            double  y,
            guint  *size,
            int    *round)
{
  for (guint k = 0; k < self->n; k++)
    {
      double x_mm;
      double y_mm;

      to_mm (&self->layout.spots[k], x, y, &x_mm, &y_mm);
      if (fabs (x_mm) <= bw_hat_drawing_width (self->drawings[k]) / 2 && y_mm >= 0 &&
          y_mm <= bw_hat_drawing_height (self->drawings[k]))
        {
          *size = k;
          *round = bw_hat_drawing_round_at (self->drawings[k], x_mm, y_mm);
          return TRUE;
        }
    }

  return FALSE;
}

/**
 * bw_hats_find:
 * @self: the hats
 * @x: a place in the widget
 * @y: a place in the widget
 * @size: (out): the size that is drawn there
 * @round: (out): the round there; -1 = none
 *
 * Returns: whether a hat is there
 */
gboolean
bw_hats_find (BwHats *self,
              double  x,
              double  y,
              guint  *size,
              int    *round)
{
  BwHatDrawing *drawing;
  double x_mm;
  double y_mm;

  g_return_val_if_fail (BW_IS_HATS (self), FALSE);

  if (self->n == 0)
    return FALSE;
  if (x < self->layout.split)
    return find_small (self, x, y, size, round);

  *size = bw_document_get_size (self->document);
  drawing = self->drawings[*size];
  to_mm (&self->layout.large, x, y, &x_mm, &y_mm);
  *round = bw_hat_drawing_round_at (drawing, x_mm, y_mm);
  if (*round >= 0)
    return TRUE;

  to_mm (&self->layout.crown, x, y, &x_mm, &y_mm);
  *round = bw_hat_drawing_crown_round_at (drawing, x_mm, y_mm);

  return *round >= 0;
}

/**
 * bw_hats_locate:
 * @self: the hats
 * @round: index of a round of the chosen size
 * @x: (out): the middle of its stripe on the large hat, in the widget
 * @y: (out): likewise
 *
 * Returns: whether it is seen from the side
 */
gboolean
bw_hats_locate (BwHats *self,
                int     round,
                double *x,
                double *y)
{
  double low;
  double high;
  double half;

  g_return_val_if_fail (BW_IS_HATS (self), FALSE);

  if (self->n == 0 || round < 0 ||
      !bw_hat_drawing_find_round (self->drawings[bw_document_get_size (self->document)],
                                  (guint) round, &low, &high, &half))
    return FALSE;

  *x = self->layout.large.x;
  *y = self->layout.large.y - (low + high) / 2 * self->layout.large.scale;

  return TRUE;
}

static char *
describe_round (BwHats *self,
                guint   size,
                int     index)
{
  const BwGrading *grading = bw_document_get_grading (self->document);
  const BwGradedSize *graded = grading->sizes->pdata[size];
  const BwRound *round = &g_array_index (graded->rounds->rounds, BwRound, index);
  g_autofree char *label = bw_words_round_label (graded->rounds, (guint) index, 1);
  g_autofree char *part = bw_words_part (grading, round->section, round->band);
  g_autofree char *colour = bw_words_colour (grading->design, round->colour);
  g_autofree char *height = bw_words_length (grading->design, round->height_mm);
  g_autofree char *stitches = g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%u stitch",
                                                            "%u stitches", round->stitches_out),
                                               round->stitches_out);

  /* Translators: part, round, colour, count, height:
   * "Body, Rnd 12: A (Tar), 72 stitches, up to 8.4 cm" */
  return g_strdup_printf (_("%s, %s: %s, %s, up to %s"), part, *label == '\0' ? "–" : label, colour,
                          stitches, height);
}

/* Names under small hats may be cut short: the whole one is said here. */
static char *
describe_place (BwHats *self,
                guint   size,
                int     round)
{
  const BwGrading *grading = bw_document_get_grading (self->document);
  const BwGradedSize *graded = grading->sizes->pdata[size];
  g_autofree char *words = NULL;

  if (round < 0)
    return g_strdup (bw_words_size_name (graded->choice));

  words = describe_round (self, size, round);

  return g_strdup_printf ("%s\n%s", bw_words_size_name (graded->choice), words);
}

static gboolean
bw_hats_query_tooltip (GtkWidget  *widget,
                       int         x,
                       int         y,
                       gboolean    keyboard,
                       GtkTooltip *tooltip)
{
  BwHats *self = BW_HATS (widget);
  g_autofree char *text = NULL;
  guint size;
  int round;

  if (keyboard)
    {
      size = self->n == 0 ? 0 : bw_document_get_size (self->document);
      round = self->n == 0 ? -1 : bw_document_get_round (self->document);
    }
  else if (!bw_hats_find (self, x, y, &size, &round))
    {
      return FALSE;
    }
  if (self->n == 0)
    return FALSE;

  text = describe_place (self, size, round);
  gtk_tooltip_set_text (tooltip, text);

  return TRUE;
}

/* ---- hands and keys ---------------------------------------------------- */

static void
pressed_cb (GtkGestureClick *gesture,
            int              n,
            double           x,
            double           y,
            BwHats          *self)
{
  guint size;
  int round;

  gtk_widget_grab_focus (GTK_WIDGET (self));
  if (!bw_hats_find (self, x, y, &size, &round))
    return;

  if (size != bw_document_get_size (self->document))
    bw_document_set_size (self->document, size);
  else if (x >= self->layout.split || round >= 0)
    bw_document_set_round (self->document, round);
}

static void
drag_begin_cb (GtkGestureDrag *gesture,
               double          x,
               double          y,
               BwHats         *self)
{
  self->drag_x = self->pan_x;
  self->drag_y = self->pan_y;
}

static void
drag_update_cb (GtkGestureDrag *gesture,
                double          x,
                double          y,
                BwHats         *self)
{
  if (self->zoom <= 1)
    return;

  self->pan_x = self->drag_x + x;
  self->pan_y = self->drag_y + y;
  forget_large (self);
  arrange (self);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

static gboolean
scroll_cb (GtkEventControllerScroll *controller,
           double                    dx,
           double                    dy,
           BwHats                   *self)
{
  GdkModifierType state =
    gtk_event_controller_get_current_event_state (GTK_EVENT_CONTROLLER (controller));

  if (!(state & GDK_CONTROL_MASK))
    return FALSE;

  bw_hats_set_zoom (self, self->zoom * pow (ZOOM_STEP, -dy));

  return TRUE;
}

static void
step_size (BwHats *self,
           int     step)
{
  int size = (int) bw_document_get_size (self->document) + step;

  if (size >= 0 && size < (int) self->n)
    bw_document_set_size (self->document, (guint) size);
}

/* Up and down go from one run of equal rounds to the next. */
static void
step_round (BwHats *self,
            int     step)
{
  const BwGradedSize *size = bw_document_get_graded_size (self->document);
  int n = (int) size->rounds->rounds->len;
  int round = bw_document_get_round (self->document);
  int run_start = 0;
  int previous = 0;

  while (run_start < n)
    {
      int run = (int) bw_round_list_run (size->rounds, (guint) run_start);

      if (round >= run_start && round < run_start + run)
        {
          int next = step > 0 ? run_start + run : previous;

          bw_document_set_round (self->document, MIN (next, n - 1));
          return;
        }
      previous = run_start;
      run_start += run;
    }

  bw_document_set_round (self->document, 0);
}

static gboolean
key_cb (GtkEventControllerKey *controller,
        guint                  key,
        guint                  code,
        GdkModifierType        state,
        BwHats                *self)
{
  gboolean mirrored = gtk_widget_get_direction (GTK_WIDGET (self)) == GTK_TEXT_DIR_RTL;

  if (self->n == 0 || (state & (GDK_CONTROL_MASK | GDK_ALT_MASK)) != 0)
    return FALSE;

  switch (key)
    {
    case GDK_KEY_Left:
      step_size (self, mirrored ? 1 : -1);
      return TRUE;
    case GDK_KEY_Right:
      step_size (self, mirrored ? -1 : 1);
      return TRUE;
    case GDK_KEY_Up:
      step_round (self, 1);
      return TRUE;
    case GDK_KEY_Down:
      step_round (self, -1);
      return TRUE;
    case GDK_KEY_plus:
    case GDK_KEY_KP_Add:
      bw_hats_set_zoom (self, self->zoom * ZOOM_STEP);
      return TRUE;
    case GDK_KEY_minus:
    case GDK_KEY_KP_Subtract:
      bw_hats_set_zoom (self, self->zoom / ZOOM_STEP);
      return TRUE;
    case GDK_KEY_0:
    case GDK_KEY_KP_0:
      bw_hats_set_zoom (self, 1);
      return TRUE;
    default:
      return FALSE;
    }
}

/* ---- following the document -------------------------------------------- */

static void
describe (BwHats *self)
{
  const BwGradedSize *size = bw_document_get_graded_size (self->document);
  const BwGrading *grading = bw_document_get_grading (self->document);
  g_autofree char *girth = NULL;
  g_autofree char *depth = NULL;
  g_autofree char *text = NULL;

  if (size == NULL)
    return;

  girth = bw_words_length (grading->design, size->girth_mm);
  depth = bw_words_length (grading->design, size->depth_mm);
  text = g_strdup_printf (_("%s of %u sizes: girth %s, depth %s, %u stitches, %u rounds"),
                          bw_words_size_name (size->choice), self->n, girth, depth,
                          size->body_stitches, size->n_rounds);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION,
                                  text, -1);
}

static void
show_grading (BwHats *self)
{
  const BwGrading *grading = bw_document_get_grading (self->document);

  forget_drawings (self);
  self->n = grading == NULL ? 0 : MIN (grading->sizes->len, BW_DESIGN_SIZES_MAX);
  for (guint k = 0; k < self->n; k++)
    self->drawings[k] = bw_hat_drawing_new (grading, k);

  rearrange (self);
  describe (self);
}

static void
selected_cb (BwHats *self)
{
  forget_large (self);
  arrange (self);
  gtk_widget_queue_draw (GTK_WIDGET (self));
  describe (self);
}

/* ---- the widget -------------------------------------------------------- */

static void
bw_hats_size_allocate (GtkWidget *widget,
                       int        width,
                       int        height,
                       int        baseline)
{
  BwHats *self = BW_HATS (widget);

  forget_small (self);
  forget_large (self);
  arrange (self);
  bw_hats_start_painting (self);
}

static void
bw_hats_measure (GtkWidget      *widget,
                 GtkOrientation  orientation,
                 int             for_size,
                 int            *minimum,
                 int            *natural,
                 int            *minimum_baseline,
                 int            *natural_baseline)
{
  *minimum = orientation == GTK_ORIENTATION_HORIZONTAL ? 260 : 120;
  *natural = orientation == GTK_ORIENTATION_HORIZONTAL ? 760 : 320;
  *minimum_baseline = -1;
  *natural_baseline = -1;
}

static void
bw_hats_css_changed (GtkWidget         *widget,
                     GtkCssStyleChange *change)
{
  GTK_WIDGET_CLASS (bw_hats_parent_class)->css_changed (widget, change);
  if (BW_HATS (widget)->document != NULL)
    rearrange (BW_HATS (widget));
}

static void
bw_hats_dispose (GObject *object)
{
  bw_hats_set_document (BW_HATS (object), NULL);

  G_OBJECT_CLASS (bw_hats_parent_class)->dispose (object);
}

static void
bw_hats_class_init (BwHatsClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = bw_hats_dispose;
  widget_class->snapshot = bw_hats_snapshot;
  widget_class->measure = bw_hats_measure;
  widget_class->size_allocate = bw_hats_size_allocate;
  widget_class->css_changed = bw_hats_css_changed;
  widget_class->query_tooltip = bw_hats_query_tooltip;
  gtk_widget_class_set_css_name (widget_class, "hats");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_IMG);
}

static void
add_controllers (BwHats *self)
{
  GtkGesture *click = gtk_gesture_click_new ();
  GtkGesture *drag = gtk_gesture_drag_new ();
  GtkEventController *keys = gtk_event_controller_key_new ();
  GtkEventController *scroll =
    gtk_event_controller_scroll_new (GTK_EVENT_CONTROLLER_SCROLL_VERTICAL);

  g_signal_connect (click, "pressed", G_CALLBACK (pressed_cb), self);
  g_signal_connect (drag, "drag-begin", G_CALLBACK (drag_begin_cb), self);
  g_signal_connect (drag, "drag-update", G_CALLBACK (drag_update_cb), self);
  g_signal_connect (keys, "key-pressed", G_CALLBACK (key_cb), self);
  g_signal_connect (scroll, "scroll", G_CALLBACK (scroll_cb), self);
  gtk_widget_add_controller (GTK_WIDGET (self), GTK_EVENT_CONTROLLER (click));
  gtk_widget_add_controller (GTK_WIDGET (self), GTK_EVENT_CONTROLLER (drag));
  gtk_widget_add_controller (GTK_WIDGET (self), keys);
  gtk_widget_add_controller (GTK_WIDGET (self), scroll);
}

static void
bw_hats_init (BwHats *self)
{
  self->zoom = 1;
  gtk_widget_set_focusable (GTK_WIDGET (self), TRUE);
  gtk_widget_set_has_tooltip (GTK_WIDGET (self), TRUE);
  gtk_widget_set_overflow (GTK_WIDGET (self), GTK_OVERFLOW_HIDDEN);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                  _("The hats, all sizes to one scale"), -1);
  add_controllers (self);
}

/**
 * bw_hats_set_document:
 * @self: the hats
 * @document: (nullable): the document whose grading they show
 */
void
bw_hats_set_document (BwHats     *self,
                      BwDocument *document)
{
  g_return_if_fail (BW_IS_HATS (self));

  if (self->document != NULL)
    g_signal_handlers_disconnect_by_data (self->document, self);
  forget_drawings (self);
  g_set_object (&self->document, document);
  if (document == NULL)
    return;

  g_signal_connect_swapped (document, "changed", G_CALLBACK (show_grading), self);
  g_signal_connect_swapped (document, "selected", G_CALLBACK (selected_cb), self);
  show_grading (self);
}

/**
 * bw_hats_set_zoom:
 * @self: the hats
 * @zoom: of the chosen size; 1 = it fits
 */
void
bw_hats_set_zoom (BwHats *self,
                  double  zoom)
{
  g_return_if_fail (BW_IS_HATS (self));

  self->zoom = CLAMP (zoom, 1, ZOOM_MOST);
  if (self->zoom <= 1)
    self->pan_x = self->pan_y = 0;
  forget_large (self);
  arrange (self);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

double
bw_hats_get_zoom (BwHats *self)
{
  return self->zoom;
}
