#define G_LOG_DOMAIN "bw-app"

#include "bw-app-words.h"

#include "bw-shelf-item.h"

#include "bw-grade.h"
#include "bw-hat-drawing.h"
#include "bw-library-gauge.h"

struct _BwShelfItem
{
  GObject parent_instance;

  gint64        id;
  char         *name;
  char         *details;  /* code, yarn and tags */
  GdkPaintable *picture;  /* NULL = not drawn yet, or cannot be */
  int           state;    /* ItemState; two threads look at it */
};

typedef enum
{
  ITEM_PLAIN,    /* nobody wants its picture */
  ITEM_WANTED,
  ITEM_DRAWN,
} ItemState;

enum
{
  PROP_NAME = 1,
  PROP_DETAILS,
  PROP_PICTURE,
  N_PROPS,
};

static GParamSpec *properties[N_PROPS];

G_DEFINE_FINAL_TYPE (BwShelfItem, bw_shelf_item, G_TYPE_OBJECT)

static void
bw_shelf_item_finalize (GObject *object)
{
  BwShelfItem *self = BW_SHELF_ITEM (object);

  g_free (self->name);
  g_free (self->details);
  g_clear_object (&self->picture);

  G_OBJECT_CLASS (bw_shelf_item_parent_class)->finalize (object);
}

static void
bw_shelf_item_get_property (GObject    *object,
                            guint       prop_id,
                            GValue     *value,
                            GParamSpec *pspec)
{
  BwShelfItem *self = BW_SHELF_ITEM (object);

  switch (prop_id)
    {
    case PROP_NAME:
      g_value_set_string (value, self->name);
      break;

    case PROP_DETAILS:
      g_value_set_string (value, self->details);
      break;

    case PROP_PICTURE:
      g_value_set_object (value, self->picture);
      break;

    default:
      G_OBJECT_WARN_INVALID_PROPERTY_ID (object, prop_id, pspec);
    }
}

static void
bw_shelf_item_class_init (BwShelfItemClass *klass)
{
  const GParamFlags flags = G_PARAM_READABLE | G_PARAM_STATIC_STRINGS;
  GObjectClass *object_class = G_OBJECT_CLASS (klass);

  object_class->finalize = bw_shelf_item_finalize;
  object_class->get_property = bw_shelf_item_get_property;
  properties[PROP_NAME] = g_param_spec_string ("name", NULL, NULL, NULL, flags);
  properties[PROP_DETAILS] = g_param_spec_string ("details", NULL, NULL, NULL, flags);
  properties[PROP_PICTURE] =
    g_param_spec_object ("picture", NULL, NULL, GDK_TYPE_PAINTABLE, flags);
  g_object_class_install_properties (object_class, N_PROPS, properties);
}

static void
bw_shelf_item_init (BwShelfItem *self)
{
}

static void
append_detail (GString    *out,
               const char *text)
{
  if (text == NULL || *text == '\0')
    return;

  if (out->len > 0)
    g_string_append (out, " · ");
  g_string_append (out, text);
}

/**
 * bw_shelf_item_new:
 * @entry: what the library says of the design
 *
 * Returns: (transfer full): an item without a picture
 */
BwShelfItem *
bw_shelf_item_new (const BwLibraryEntry *entry)
{
  BwShelfItem *self = g_object_new (BW_TYPE_SHELF_ITEM, NULL);
  GString *details = g_string_new (NULL);

  self->id = entry->id;
  self->name = g_strdup (*entry->name == '\0' ? _("Without a name") : entry->name);
  append_detail (details, entry->code);
  append_detail (details, entry->yarn);
  append_detail (details, entry->tags);
  self->details = g_string_free (details, FALSE);

  return self;
}

gint64
bw_shelf_item_get_id (BwShelfItem *self)
{
  return self->id;
}

static BwGrading *
grade (const BwReference *reference,
       BwLibrary         *library,
       gint64             id)
{
  g_autoptr (BwDesign) design = bw_library_load (library, id, NULL, NULL);

  if (design == NULL || !bw_library_resolve_swatches (library, design, NULL))
    return NULL;

  return bw_grade (reference, design, NULL);
}

static GdkPaintable *
paint (const BwGrading *grading)
{
  g_autoptr (BwHatDrawing) drawing = bw_hat_drawing_new (grading, grading->sizes->len / 2);
  BwHatStyle style = BW_HAT_STYLE_DEFAULT;
  const int size = 2 * BW_SHELF_PICTURE; /* for screens of twice the density */
  double scale = (size - 4) / MAX (bw_hat_drawing_width (drawing),
                                   bw_hat_drawing_height (drawing));
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_ARGB32, size, size);
  cairo_t *cr = cairo_create (surface);
  GdkTexture *texture;
  GBytes *bytes;

  style.plain = TRUE;
  style.line_mm = 1.5 / scale;
  style.ink = 0x707070;
  cairo_translate (cr, size / 2.0, size - 2);
  cairo_scale (cr, scale, -scale);
  bw_hat_drawing_draw_side (drawing, cr, &style);
  cairo_destroy (cr);

  cairo_surface_flush (surface);
  bytes = g_bytes_new (cairo_image_surface_get_data (surface),
                       (gsize) cairo_image_surface_get_stride (surface) * (gsize) size);
  texture = gdk_memory_texture_new (size, size, GDK_MEMORY_DEFAULT, bytes,
                                    (gsize) cairo_image_surface_get_stride (surface));
  g_bytes_unref (bytes);
  cairo_surface_destroy (surface);

  return GDK_PAINTABLE (texture);
}

/**
 * bw_shelf_item_want:
 * @self: an item
 * @wanted: whether its picture would be seen
 *
 * Returns: whether bw_shelf_item_draw() is to be called
 */
gboolean
bw_shelf_item_want (BwShelfItem *self,
                    gboolean     wanted)
{
  g_return_val_if_fail (BW_IS_SHELF_ITEM (self), FALSE);

  if (wanted)
    return g_atomic_int_compare_and_exchange (&self->state, ITEM_PLAIN, ITEM_WANTED);

  g_atomic_int_compare_and_exchange (&self->state, ITEM_WANTED, ITEM_PLAIN);

  return FALSE;
}

typedef struct
{
  BwShelfItem  *item;
  GdkPaintable *picture;
} Drawn;

static gboolean
show_cb (gpointer data)
{
  Drawn *drawn = data;

  g_set_object (&drawn->item->picture, drawn->picture);
  g_object_notify_by_pspec (G_OBJECT (drawn->item), properties[PROP_PICTURE]);

  return G_SOURCE_REMOVE;
}

static void
drawn_free (gpointer data)
{
  Drawn *drawn = data;

  g_object_unref (drawn->item);
  g_object_unref (drawn->picture);
  g_free (drawn);
}

/**
 * bw_shelf_item_draw:
 * @self: an item
 * @reference: tables
 * @library: the library it is in, of this thread
 *
 * Draws the picture, if somebody still wants it. May be called from any thread;
 * the item has it later, in the main one.
 */
void
bw_shelf_item_draw (BwShelfItem       *self,
                    const BwReference *reference,
                    BwLibrary         *library)
{
  BwGrading *grading;

  g_return_if_fail (BW_IS_SHELF_ITEM (self));

  if (!g_atomic_int_compare_and_exchange (&self->state, ITEM_WANTED, ITEM_DRAWN))
    return;

  grading = grade (reference, library, self->id);
  if (grading != NULL && grading->sizes->len > 0)
    {
      Drawn *drawn = g_new (Drawn, 1);

      drawn->item = g_object_ref (self);
      drawn->picture = paint (grading);
      g_main_context_invoke_full (NULL, G_PRIORITY_DEFAULT_IDLE, show_cb, drawn, drawn_free);
    }
  bw_grading_free (grading);
}

const char *
bw_shelf_item_get_name (BwShelfItem *self)
{
  return self->name;
}

const char *
bw_shelf_item_get_details (BwShelfItem *self)
{
  return self->details;
}

/* (nullable) */
GdkPaintable *
bw_shelf_item_get_picture (BwShelfItem *self)
{
  return self->picture;
}
