#define G_LOG_DOMAIN "bw-app"

#include "bw-app-words.h"

#include "bw-hats-private.h"

#include "bw-words.h"

#define PLAIN_BELOW 0.70 /* pixels a mm: stitches are not seen at less */

static guint32
ink_of (GtkWidget *widget)
{
  GdkRGBA rgba;

  gtk_style_context_get_color (gtk_widget_get_style_context (widget), &rgba);

  return (guint32) (rgba.red * 255) << 16 | (guint32) (rgba.green * 255) << 8 |
         (guint32) (rgba.blue * 255);
}

/* ---- painting ---------------------------------------------------------- */

/* Room round a picture for its outline, pixels. */
#define BLEED 3

/* A picture is painted once, into an image no larger than what it shows, and is
 * a texture from then on: a recording would be played back with every frame. It
 * is painted in a thread of its own, while the rest of the window is laid out:
 * nothing but the drawing, which never changes, and the image is touched there. */
struct _BwHatJob
{
  const BwHatDrawing *drawing;   /* outlives the job */
  cairo_surface_t    *surface;
  graphene_rect_t     bounds;    /* in the widget, on whole pixels */
  BwHatSpot           spot;
  BwHatStyle          style;
  gboolean            above;
  gboolean            done;      /* under the lock */
};

static GMutex job_lock;
static GCond job_done;

static void
paint (BwHatJob *job)
{
  cairo_t *cr = cairo_create (job->surface);

  cairo_translate (cr, job->spot.x - job->bounds.origin.x, job->spot.y - job->bounds.origin.y);
  cairo_scale (cr, job->spot.scale, -job->spot.scale);
  if (job->above)
    bw_hat_drawing_draw_crown (job->drawing, cr, &job->style);
  else
    bw_hat_drawing_draw_side (job->drawing, cr, &job->style);
  cairo_destroy (cr);
  cairo_surface_flush (job->surface);
}

static void
work (gpointer data,
      gpointer user_data)
{
  BwHatJob *job = data;

  paint (job);
  g_mutex_lock (&job_lock);
  job->done = TRUE;
  g_cond_broadcast (&job_done);
  g_mutex_unlock (&job_lock);
}

static void
start_job (BwHatJob *job)
{
  static GThreadPool *pool;

  if (pool == NULL)
    pool = g_thread_pool_new (work, NULL, (int) g_get_num_processors (), FALSE, NULL);
  if (pool == NULL || !g_thread_pool_push (pool, job, NULL))
    work (job, NULL);
}

/**
 * bw_hat_job_free:
 * @job: (transfer full): a picture, painted or not; waits for its end
 */
void
bw_hat_job_free (BwHatJob *job)
{
  g_mutex_lock (&job_lock);
  while (!job->done)
    g_cond_wait (&job_done, &job_lock);
  g_mutex_unlock (&job_lock);

  g_clear_pointer (&job->surface, cairo_surface_destroy);
  g_free (job);
}

/* A picture of which @width and @height are seen from @left and @top; NULL where
 * that is outside the widget. */
static BwHatJob *
new_job (BwHats             *self,
         const BwHatDrawing *drawing,
         const BwHatSpot    *spot,
         double              left,
         double              top,
         double              width,
         double              height)
{
  graphene_rect_t whole = GRAPHENE_RECT_INIT (0, 0, (float) self->layout.width,
                                              (float) self->layout.height);
  graphene_rect_t picture = GRAPHENE_RECT_INIT ((float) left - BLEED, (float) top - BLEED,
                                                (float) width + 2 * BLEED,
                                                (float) height + 2 * BLEED);
  int scale = gtk_widget_get_scale_factor (GTK_WIDGET (self));
  BwHatStyle style = BW_HAT_STYLE_DEFAULT;
  BwHatJob *job;

  graphene_rect_round_extents (&picture, &picture);
  if (!graphene_rect_intersection (&picture, &whole, &picture))
    return NULL;

  job = g_new0 (BwHatJob, 1);
  job->drawing = drawing;
  job->spot = *spot;
  job->bounds = picture;
  job->style = style;
  job->style.ink = ink_of (GTK_WIDGET (self));
  job->surface = cairo_image_surface_create (CAIRO_FORMAT_ARGB32, (int) picture.size.width * scale,
                                             (int) picture.size.height * scale);
  cairo_surface_set_device_scale (job->surface, scale, scale);

  return job;
}

static BwHatJob *
new_side_job (BwHats             *self,
              const BwHatDrawing *drawing,
              const BwHatSpot    *spot)
{
  double width = bw_hat_drawing_width (drawing) * spot->scale;
  double height = bw_hat_drawing_height (drawing) * spot->scale;

  return new_job (self, drawing, spot, spot->x - width / 2, spot->y - height, width, height);
}

static BwHatJob *
new_crown_job (BwHats             *self,
               const BwHatDrawing *drawing,
               const BwHatSpot    *spot)
{
  double radius = bw_hat_drawing_crown_radius (drawing) * spot->scale;
  BwHatJob *job = new_job (self, drawing, spot, spot->x - radius, spot->y - radius, 2 * radius,
                           2 * radius);

  if (job != NULL)
    job->above = TRUE;

  return job;
}

/* How many rounds are lit: those that share a line with the chosen one. */
static guint
n_lit (BwHats *self)
{
  const BwGradedSize *size = bw_document_get_graded_size (self->document);
  int round = bw_document_get_round (self->document);

  return round < 0 ? 0 : bw_round_list_run (size->rounds, (guint) round);
}

static void
start_large (BwHats *self)
{
  const BwHatDrawing *drawing = self->drawings[bw_document_get_size (self->document)];

  self->large_jobs[0] = new_side_job (self, drawing, &self->layout.large);
  self->large_jobs[1] = new_crown_job (self, drawing, &self->layout.crown);
  for (guint i = 0; i < G_N_ELEMENTS (self->large_jobs); i++)
    if (self->large_jobs[i] != NULL)
      {
        BwHatStyle *style = &self->large_jobs[i]->style;

        style->line_mm = 1.2 / self->layout.large.scale;
        style->lit_round = bw_document_get_round (self->document);
        style->n_lit = n_lit (self);
        style->letters = TRUE;
        start_job (self->large_jobs[i]);
      }
}

static void
start_small (BwHats *self,
             guint   k)
{
  BwHatJob *job = new_side_job (self, self->drawings[k], &self->layout.spots[k]);

  if (job == NULL)
    return;

  job->style.line_mm = 1 / job->spot.scale;
  job->style.plain = job->spot.scale < PLAIN_BELOW;
  self->small_jobs[k] = job;
  start_job (job);
}

/**
 * bw_hats_start_painting:
 * @self: hats that have been arranged
 *
 * Begins to paint every picture that is wanted and not there, the large ones first.
 */
void
bw_hats_start_painting (BwHats *self)
{
  if (self->n == 0 || self->layout.width <= 0)
    return;

  if (self->large == NULL && self->large_jobs[0] == NULL && self->large_jobs[1] == NULL)
    start_large (self);
  for (guint k = 0; k < self->n; k++)
    if (self->small[k] == NULL && self->small_jobs[k] == NULL)
      start_small (self, k);
}

/* Takes the image of a job, once it is painted, as a texture. */
static void
append_picture (GtkSnapshot *snapshot,
                BwHatJob   **job)
{
  cairo_surface_t *surface;
  GdkTexture *texture;
  GBytes *bytes;
  gsize stride;
  int height;

  if (*job == NULL)
    return;

  g_mutex_lock (&job_lock);
  while (!(*job)->done)
    g_cond_wait (&job_done, &job_lock);
  g_mutex_unlock (&job_lock);

  surface = g_steal_pointer (&(*job)->surface);
  stride = (gsize) cairo_image_surface_get_stride (surface);
  height = cairo_image_surface_get_height (surface);
  bytes = g_bytes_new_with_free_func (cairo_image_surface_get_data (surface),
                                      stride * (gsize) height,
                                      (GDestroyNotify) cairo_surface_destroy, surface);
  texture = gdk_memory_texture_new (cairo_image_surface_get_width (surface), height,
                                    GDK_MEMORY_DEFAULT, bytes, stride);
  gtk_snapshot_append_texture (snapshot, texture, &(*job)->bounds);
  g_object_unref (texture);
  g_bytes_unref (bytes);
  g_clear_pointer (job, bw_hat_job_free);
}

static GskRenderNode *
take_small (BwHats *self,
            guint   k)
{
  GtkSnapshot *snapshot = gtk_snapshot_new ();

  append_picture (snapshot, &self->small_jobs[k]);

  return gtk_snapshot_free_to_node (snapshot);
}

static GskRenderNode *
take_large (BwHats *self)
{
  GtkSnapshot *snapshot = gtk_snapshot_new ();

  gtk_snapshot_push_clip (snapshot,
                          &GRAPHENE_RECT_INIT ((float) self->layout.split + 1, 0,
                                               (float) self->layout.width,
                                               (float) self->layout.height));
  for (guint i = 0; i < G_N_ELEMENTS (self->large_jobs); i++)
    append_picture (snapshot, &self->large_jobs[i]);
  gtk_snapshot_pop (snapshot);

  return gtk_snapshot_free_to_node (snapshot);
}

static void
draw_text (GtkWidget   *widget,
           GtkSnapshot *snapshot,
           const char  *text,
           double       x,
           double       y,
           double       align,
           double       room,
           gboolean     bold)
{
  PangoLayout *layout = gtk_widget_create_pango_layout (widget, text);
  PangoAttrList *attributes = pango_attr_list_new ();
  GdkRGBA rgba;
  int width;

  if (bold)
    pango_attr_list_insert (attributes, pango_attr_weight_new (PANGO_WEIGHT_BOLD));
  pango_layout_set_attributes (layout, attributes);
  if (room > 0)
    {
      pango_layout_set_width (layout, (int) (room * PANGO_SCALE));
      pango_layout_set_ellipsize (layout, PANGO_ELLIPSIZE_END);
      pango_layout_set_alignment (layout, PANGO_ALIGN_CENTER);
    }
  pango_layout_get_pixel_size (layout, &width, NULL);
  if (room > 0)
    width = (int) room;

  gtk_style_context_get_color (gtk_widget_get_style_context (widget), &rgba);
  gtk_snapshot_save (snapshot);
  gtk_snapshot_translate (snapshot,
                          &GRAPHENE_POINT_INIT ((float) (x - align * width), (float) y));
  gtk_snapshot_append_layout (snapshot, layout, &rgba);
  gtk_snapshot_restore (snapshot);
  pango_attr_list_unref (attributes);
  g_object_unref (layout);
}

/* Marks that can be read at this scale: labels do not touch each other. */
static guint
label_every (double unit_px,
             double text_px)
{
  static const guint steps[] = { 1, 2, 5, 10, 20, 50 };
  guint i = 0;

  while (i + 1 < G_N_ELEMENTS (steps) && steps[i] * unit_px < text_px)
    i++;

  return steps[i];
}

static double
tallest_mm (BwHats *self)
{
  double tallest = 0;

  for (guint k = 0; k < self->n; k++)
    tallest = MAX (tallest, bw_hat_drawing_height (self->drawings[k]));

  return tallest;
}

static void
draw_mark (BwHats        *self,
           GtkSnapshot   *snapshot,
           const GdkRGBA *rgba,
           double         y,
           guint          i,
           gboolean       labelled)
{
  double x = self->layout.ruler_width - 6;
  g_autofree char *text = g_strdup_printf ("%u", i);

  gtk_snapshot_append_color (snapshot, rgba,
                             &GRAPHENE_RECT_INIT ((float) (x - (labelled ? 8 : 4)), (float) y,
                                                  labelled ? 8 : 4, 1));
  if (labelled)
    draw_text (GTK_WIDGET (self), snapshot, text, x - 10, y - self->layout.name_height / 2, 1, 0,
               FALSE);
}

/* The ruler stands at the foot of the lowest row, as high as the tallest hat;
 * marks by cm or by inches. */
static void
draw_ruler (BwHats      *self,
            GtkSnapshot *snapshot)
{
  const BwDesign *design = bw_document_get_design (self->document);
  double unit = design->units == BW_UNITS_INCH ? design->mm_per_inch : 10;
  const BwHatSpot *spot = &self->layout.spots[self->n - 1];
  guint every = label_every (unit * spot->scale, self->layout.name_height);
  double top = spot->y - tallest_mm (self) * spot->scale;
  GdkRGBA rgba;

  gtk_style_context_get_color (gtk_widget_get_style_context (GTK_WIDGET (self)), &rgba);
  rgba.alpha *= 0.7f;
  for (guint i = 0; spot->y - i * unit * spot->scale >= top; i++)
    if (i % every == 0 || unit * spot->scale >= 2.5)
      draw_mark (self, snapshot, &rgba, spot->y - i * unit * spot->scale, i, i % every == 0);

  gtk_snapshot_append_color (snapshot, &rgba,
                             &GRAPHENE_RECT_INIT ((float) (self->layout.ruler_width - 6),
                                                  (float) top, 1, (float) (spot->y - top + 1)));
}

static void
draw_names (BwHats      *self,
            GtkSnapshot *snapshot)
{
  const BwGrading *grading = bw_document_get_grading (self->document);
  guint columns = (self->n + self->layout.n_rows - 1) / self->layout.n_rows;
  double room = (self->layout.split - self->layout.ruler_width - 12) / columns - 4;

  for (guint k = 0; k < self->n; k++)
    {
      const BwGradedSize *size = grading->sizes->pdata[k];

      draw_text (GTK_WIDGET (self), snapshot, bw_words_size_name (size->choice),
                 self->layout.spots[k].x, self->layout.spots[k].y + 2, 0.5, room,
                 k == bw_document_get_size (self->document));
    }
}

/* What the chosen hat measures, under it. */
static void
draw_caption (BwHats      *self,
              GtkSnapshot *snapshot)
{
  const BwGrading *grading = bw_document_get_grading (self->document);
  const BwGradedSize *size = bw_document_get_graded_size (self->document);
  g_autofree char *girth = bw_words_length (grading->design, size->girth_mm);
  g_autofree char *depth = bw_words_length (grading->design, size->depth_mm);
  g_autofree char *text = g_strdup_printf (_("%s: girth %s, depth %s"),
                                           bw_words_size_name (size->choice), girth, depth);
  double room = self->layout.width - self->layout.split - 24;

  draw_text (GTK_WIDGET (self), snapshot, text, (self->layout.width + self->layout.split) / 2,
             self->layout.height - self->layout.name_height - 4, 0.5, room, TRUE);
}

void
bw_hats_snapshot (GtkWidget   *widget,
                  GtkSnapshot *snapshot)
{
  BwHats *self = BW_HATS (widget);
  GdkRGBA line;

  if (self->document == NULL || self->n == 0)
    {
      draw_text (widget, snapshot, _("Nothing to draw yet: see the findings."),
                 gtk_widget_get_width (widget) / 2.0, gtk_widget_get_height (widget) / 2.0, 0.5,
                 gtk_widget_get_width (widget), FALSE);
      return;
    }

  bw_hats_start_painting (self);
  for (guint k = 0; k < self->n; k++)
    {
      if (self->small[k] == NULL)
        self->small[k] = take_small (self, k);
      if (self->small[k] != NULL)
        gtk_snapshot_append_node (snapshot, self->small[k]);
    }
  draw_ruler (self, snapshot);
  draw_names (self, snapshot);

  gtk_style_context_get_color (gtk_widget_get_style_context (widget), &line);
  line.alpha *= 0.2f;
  gtk_snapshot_append_color (snapshot, &line,
                             &GRAPHENE_RECT_INIT ((float) self->layout.split, 8, 1,
                                                  (float) self->layout.height - 16));
  if (self->large == NULL)
    self->large = take_large (self);
  if (self->large != NULL)
    gtk_snapshot_append_node (snapshot, self->large);
  draw_caption (self, snapshot);
}
