#define G_LOG_DOMAIN "bw-app"

#include "bw-app-words.h"

#include "bw-swatch-photo.h"

#include "bw-dialogs.h"
#include "bw-library-photo.h"

#define HEIGHT 160 /* pixels */

struct _BwSwatchPhoto
{
  GtkWidget parent_instance;

  /* Children */
  GtkWidget       *box;
  GtkWidget       *picture;
  GtkWidget       *remove;
  GtkWidget       *message;

  /* Borrowed references */
  BwLibrarySwatch *swatch;   /* NULL = none is shown */
};

enum
{
  SIGNAL_CHANGED,
  N_SIGNALS,
};

static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (BwSwatchPhoto, bw_swatch_photo, GTK_TYPE_WIDGET)

static void
tell (BwSwatchPhoto *self,
      const char    *message)
{
  gtk_label_set_text (GTK_LABEL (self->message), message == NULL ? "" : message);
  gtk_widget_set_visible (self->message, message != NULL);
}

static void
set_picture (BwSwatchPhoto *self,
             GdkTexture    *texture)
{
  gboolean there = self->swatch != NULL &&
                   (self->swatch->photo != NULL || self->swatch->photo_path != NULL);

  gtk_picture_set_paintable (GTK_PICTURE (self->picture), GDK_PAINTABLE (texture));
  gtk_widget_set_visible (self->picture, texture != NULL);
  gtk_widget_set_visible (self->remove, there);
}

static GdkTexture *
load (BwLibrary              *library,
      const BwLibrarySwatch  *swatch,
      GError                **error)
{
  g_autofree char *path = NULL;
  g_autoptr (GFile) file = NULL;

  if (swatch->photo != NULL)
    return gdk_texture_new_from_bytes (swatch->photo, error);

  path = bw_library_photo_path (library, swatch->photo_path, error);
  if (path == NULL)
    return NULL;

  file = g_file_new_for_path (path);

  return gdk_texture_new_from_file (file, error);
}

/**
 * bw_swatch_photo_show:
 * @self: a photograph
 * @library: the library of the swatch
 * @swatch: (nullable): a swatch, until another is shown
 */
void
bw_swatch_photo_show (BwSwatchPhoto   *self,
                      BwLibrary       *library,
                      BwLibrarySwatch *swatch)
{
  g_autoptr (GdkTexture) texture = NULL;
  g_autoptr (GError) error = NULL;

  g_return_if_fail (BW_IS_SWATCH_PHOTO (self));

  self->swatch = swatch;
  if (swatch != NULL && (swatch->photo != NULL || swatch->photo_path != NULL))
    texture = load (library, swatch, &error);
  set_picture (self, texture);
  tell (self, error == NULL ? NULL : error->message);
}

/**
 * bw_swatch_photo_take:
 * @self: a photograph
 * @file: a picture
 *
 * Returns: whether it is the swatch's photograph now; the widget says why otherwise
 */
gboolean
bw_swatch_photo_take (BwSwatchPhoto *self,
                      GFile         *file)
{
  g_autofree char *path = g_file_get_path (file);
  g_autoptr (GdkTexture) texture = NULL;
  g_autoptr (GError) error = NULL;

  g_return_val_if_fail (BW_IS_SWATCH_PHOTO (self), FALSE);

  if (self->swatch == NULL)
    return FALSE;

  texture = gdk_texture_new_from_file (file, &error);
  if (texture == NULL || path == NULL ||
      !bw_library_swatch_take_photo (self->swatch, path, &error))
    {
      tell (self, error == NULL ? _("Choose a picture on this computer.") : error->message);
      return FALSE;
    }

  tell (self, NULL);
  set_picture (self, texture);
  g_signal_emit (self, signals[SIGNAL_CHANGED], 0);

  return TRUE;
}

static void
chosen_cb (GFile    *file,
           gpointer  data)
{
  bw_swatch_photo_take (data, file);
}

static void
choose_cb (BwSwatchPhoto *self)
{
  static const char *const endings[] = { "jpg", "jpeg", "png", NULL };

  bw_dialogs_open_as (GTK_WINDOW (gtk_widget_get_root (GTK_WIDGET (self))),
                      _("Choose a photograph"), _("Photographs"), endings, chosen_cb, self);
}

static void
remove_cb (BwSwatchPhoto *self)
{
  if (self->swatch == NULL)
    return;

  g_clear_pointer (&self->swatch->photo, g_bytes_unref);
  g_clear_pointer (&self->swatch->photo_path, g_free);
  set_picture (self, NULL);
  g_signal_emit (self, signals[SIGNAL_CHANGED], 0);
}

static void
bw_swatch_photo_dispose (GObject *object)
{
  g_clear_pointer (&BW_SWATCH_PHOTO (object)->box, gtk_widget_unparent);

  G_OBJECT_CLASS (bw_swatch_photo_parent_class)->dispose (object);
}

static void
bw_swatch_photo_class_init (BwSwatchPhotoClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = bw_swatch_photo_dispose;
  signals[SIGNAL_CHANGED] = g_signal_new ("changed", BW_TYPE_SWATCH_PHOTO, G_SIGNAL_RUN_LAST, 0,
                                          NULL, NULL, NULL, G_TYPE_NONE, 0);
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (klass), GTK_TYPE_BIN_LAYOUT);
}

static void
bw_swatch_photo_init (BwSwatchPhoto *self)
{
  GtkWidget *tools = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  GtkWidget *choose = gtk_button_new_with_label (_("Choose a photograph…"));

  self->box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  self->picture = gtk_picture_new ();
  gtk_widget_set_size_request (self->picture, -1, HEIGHT);
  gtk_picture_set_can_shrink (GTK_PICTURE (self->picture), TRUE);
  gtk_widget_set_halign (self->picture, GTK_ALIGN_START);
  gtk_picture_set_alternative_text (GTK_PICTURE (self->picture), _("Photograph of the swatch"));
  self->remove = gtk_button_new_with_label (_("Take the photograph away"));
  self->message = gtk_label_new (NULL);
  gtk_label_set_wrap (GTK_LABEL (self->message), TRUE);
  gtk_label_set_xalign (GTK_LABEL (self->message), 0);
  gtk_widget_add_css_class (self->message, "field-error");
  gtk_widget_set_visible (self->message, FALSE);
  gtk_box_append (GTK_BOX (tools), choose);
  gtk_box_append (GTK_BOX (tools), self->remove);
  gtk_box_append (GTK_BOX (self->box), self->picture);
  gtk_box_append (GTK_BOX (self->box), tools);
  gtk_box_append (GTK_BOX (self->box), self->message);
  gtk_widget_set_parent (self->box, GTK_WIDGET (self));
  g_signal_connect_swapped (choose, "clicked", G_CALLBACK (choose_cb), self);
  g_signal_connect_swapped (self->remove, "clicked", G_CALLBACK (remove_cb), self);
  set_picture (self, NULL);
}

GtkWidget *
bw_swatch_photo_new (void)
{
  return g_object_new (BW_TYPE_SWATCH_PHOTO, NULL);
}

/* (nullable) */
GdkPaintable *
bw_swatch_photo_get_picture (BwSwatchPhoto *self)
{
  return gtk_picture_get_paintable (GTK_PICTURE (self->picture));
}
