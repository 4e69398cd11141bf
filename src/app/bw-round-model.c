#define G_LOG_DOMAIN "bw-app"

#include "bw-app-words.h"

#include "bw-round-model.h"

#include <stdlib.h>
#include <string.h>

#include "bw-words.h"

/* The columns, which are the properties of a line. */
enum
{
  PROP_PART = 1,
  PROP_LABEL,
  PROP_COLOUR,
  PROP_WORK,
  PROP_STITCHES,
  PROP_GIRTH,
  PROP_HEIGHT,
  PROP_YARN,
  PROP_DONE,
  N_PROPS,
};

#define N_TEXTS (PROP_YARN + 1)

struct _BwRoundLine
{
  GObject parent_instance;

  char    *texts[N_TEXTS]; /* by property; texts[0] is not used */
  guint    first;          /* index of its first round in the size */
  guint    n;              /* rounds in it */
  gboolean done;           /* worked already */
};

static GParamSpec *properties[N_PROPS];

G_DEFINE_FINAL_TYPE (BwRoundLine, bw_round_line, G_TYPE_OBJECT)

static void
bw_round_line_finalize (GObject *object)
{
  BwRoundLine *self = BW_ROUND_LINE (object);

  for (guint i = 0; i < N_TEXTS; i++)
    g_free (self->texts[i]);

  G_OBJECT_CLASS (bw_round_line_parent_class)->finalize (object);
}

static void
bw_round_line_get_property (GObject    *object,
                            guint       prop_id,
                            GValue     *value,
                            GParamSpec *pspec)
{
  BwRoundLine *self = BW_ROUND_LINE (object);

  if (prop_id == PROP_DONE)
    g_value_set_boolean (value, self->done);
  else if (prop_id < N_TEXTS)
    g_value_set_string (value, self->texts[prop_id]);
  else
    G_OBJECT_WARN_INVALID_PROPERTY_ID (object, prop_id, pspec);
}

static void
bw_round_line_class_init (BwRoundLineClass *klass)
{
  static const char *const names[N_TEXTS] = {
    NULL, "part", "label", "colour", "work", "stitches", "girth", "height", "yarn",
  };
  const GParamFlags flags = G_PARAM_READABLE | G_PARAM_STATIC_STRINGS;
  GObjectClass *object_class = G_OBJECT_CLASS (klass);

  object_class->finalize = bw_round_line_finalize;
  object_class->get_property = bw_round_line_get_property;

  for (guint i = 1; i < N_TEXTS; i++)
    properties[i] = g_param_spec_string (names[i], NULL, NULL, NULL, flags);
  properties[PROP_DONE] = g_param_spec_boolean ("done", NULL, NULL, FALSE, flags);
  g_object_class_install_properties (object_class, N_PROPS, properties);
}

static void
bw_round_line_init (BwRoundLine *self)
{
}

/* Takes @text; tells nobody where it is the same as before. */
static void
set_text (BwRoundLine *self,
          guint        prop,
          char        *text)
{
  if (g_strcmp0 (self->texts[prop], text) == 0)
    {
      g_free (text);
      return;
    }

  g_free (self->texts[prop]);
  self->texts[prop] = text;
  g_object_notify_by_pspec (G_OBJECT (self), properties[prop]);
}

static void
set_done (BwRoundLine *self,
          gboolean     done)
{
  if (self->done == done)
    return;

  self->done = done;
  g_object_notify_by_pspec (G_OBJECT (self), properties[PROP_DONE]);
}

guint
bw_round_line_get_first (BwRoundLine *self)
{
  return self->first;
}

guint
bw_round_line_get_n (BwRoundLine *self)
{
  return self->n;
}

static void
fill_line (BwRoundLine        *self,
           const BwGrading    *grading,
           const BwGradedSize *size,
           guint               first,
           guint               n)
{
  const BwRoundList *list = size->rounds;
  const BwRound *last = &g_array_index (list->rounds, BwRound, first + n - 1);
  gboolean counted = last->section != BW_SECTION_JOIN && last->section != BW_SECTION_CLOSE;

  self->first = first;
  self->n = n;
  set_text (self, PROP_PART, bw_words_part (grading, last->section, last->band));
  set_text (self, PROP_LABEL, bw_words_round_label (list, first, n));
  set_text (self, PROP_COLOUR, bw_words_colour (grading->design, last->colour));
  set_text (self, PROP_WORK, bw_words_round_work (grading, size, first));
  set_text (self, PROP_STITCHES,
            counted ? g_strdup_printf ("%u", last->stitches_out) : g_strdup (""));
  set_text (self, PROP_GIRTH,
            counted && !last->row ? bw_words_length_value (grading->design, last->girth_mm)
                                  : g_strdup (""));
  set_text (self, PROP_HEIGHT, bw_words_length_value (grading->design, last->height_mm));
  set_text (self, PROP_YARN, bw_words_round_yarn (grading, list, first + n - 1));
}

/* ---- the model --------------------------------------------------------- */

struct _BwRoundModel
{
  GObject    parent_instance;

  GPtrArray *lines;    /* of BwRoundLine */
  int        current;  /* index of the round in hand: those before it are done; -1 = none */
};

static GType
get_item_type (GListModel *model)
{
  return BW_TYPE_ROUND_LINE;
}

static guint
get_n_items (GListModel *model)
{
  return BW_ROUND_MODEL (model)->lines->len;
}

static gpointer
get_item (GListModel *model,
          guint       position)
{
  BwRoundModel *self = BW_ROUND_MODEL (model);

  return position < self->lines->len ? g_object_ref (self->lines->pdata[position]) : NULL;
}

static void
list_model_init (GListModelInterface *iface)
{
  iface->get_item_type = get_item_type;
  iface->get_n_items = get_n_items;
  iface->get_item = get_item;
}

G_DEFINE_FINAL_TYPE_WITH_CODE (BwRoundModel, bw_round_model, G_TYPE_OBJECT,
                               G_IMPLEMENT_INTERFACE (G_TYPE_LIST_MODEL, list_model_init))

static void
bw_round_model_finalize (GObject *object)
{
  g_ptr_array_unref (BW_ROUND_MODEL (object)->lines);

  G_OBJECT_CLASS (bw_round_model_parent_class)->finalize (object);
}

static void
bw_round_model_class_init (BwRoundModelClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = bw_round_model_finalize;
}

static void
bw_round_model_init (BwRoundModel *self)
{
  self->lines = g_ptr_array_new_with_free_func (g_object_unref);
  self->current = -1;
}

BwRoundModel *
bw_round_model_new (void)
{
  return g_object_new (BW_TYPE_ROUND_MODEL, NULL);
}

static void
mark_done (BwRoundModel *self)
{
  for (guint i = 0; i < self->lines->len; i++)
    {
      BwRoundLine *line = self->lines->pdata[i];

      set_done (line, self->current >= (int) (line->first + line->n));
    }
}

/* Rows are updated where they stand; only the difference in number is told as
 * a change of the list, so that selection and scrolling stay. */
static void
resize (BwRoundModel *self,
        guint         n)
{
  guint old = self->lines->len;

  if (n < old)
    g_ptr_array_set_size (self->lines, (int) n);
  if (n != old)
    g_list_model_items_changed (G_LIST_MODEL (self), MIN (n, old), old > n ? old - n : 0,
                                n > old ? n - old : 0);
}

/**
 * bw_round_model_show:
 * @self: a model
 * @grading: (nullable): a grading; it is not kept
 * @size: index of one of its sizes
 * @fold: whether a run of equal rounds is one line
 *
 * Shows the rounds of a size. Lines that are as before tell nobody.
 */
void
bw_round_model_show (BwRoundModel    *self,
                     const BwGrading *grading,
                     guint            size,
                     gboolean         fold)
{
  const BwGradedSize *graded = NULL;
  guint old = self->lines->len;
  guint line = 0;

  g_return_if_fail (BW_IS_ROUND_MODEL (self));

  if (grading != NULL && size < grading->sizes->len)
    graded = grading->sizes->pdata[size];

  for (guint i = 0, n; graded != NULL && i < graded->rounds->rounds->len; i += n, line++)
    {
      n = fold ? bw_round_list_run (graded->rounds, i) : 1;
      if (line >= self->lines->len)
        g_ptr_array_add (self->lines, g_object_new (BW_TYPE_ROUND_LINE, NULL));
      fill_line (self->lines->pdata[line], grading, graded, i, n);
    }

  if (self->lines->len > old)
    g_list_model_items_changed (G_LIST_MODEL (self), old, 0, self->lines->len - old);
  else
    resize (self, line);
  mark_done (self);
}

/**
 * bw_round_model_set_current:
 * @self: a model
 * @round: index of the round in hand; -1 = not begun
 */
void
bw_round_model_set_current (BwRoundModel *self,
                            int           round)
{
  g_return_if_fail (BW_IS_ROUND_MODEL (self));

  self->current = round;
  mark_done (self);
}

/**
 * bw_round_model_find:
 * @self: a model
 * @round: index of a round in the size
 *
 * Returns: position of the line that holds it; G_MAXUINT if there is none
 */
guint
bw_round_model_find (BwRoundModel *self,
                     int           round)
{
  g_return_val_if_fail (BW_IS_ROUND_MODEL (self), G_MAXUINT);

  for (guint i = 0; i < self->lines->len; i++)
    {
      BwRoundLine *line = self->lines->pdata[i];

      if (round >= (int) line->first && round < (int) (line->first + line->n))
        return i;
    }

  return G_MAXUINT;
}

/* ---- as text ----------------------------------------------------------- */

/* RFC 4180: quoted where it must be, quotes doubled. */
static void
append_csv (GString    *out,
            const char *text)
{
  g_auto (GStrv) parts = NULL;
  g_autofree char *doubled = NULL;

  g_assert (text != NULL);
  if (strpbrk (text, ",\"\r\n") == NULL)
    {
      g_string_append (out, text);
      return;
    }

  parts = g_strsplit (text, "\"", -1);
  doubled = g_strjoinv ("\"\"", parts);
  g_string_append_printf (out, "\"%s\"", doubled);
}

static void
append_line_csv (GString     *out,
                 BwRoundLine *line)
{
  for (guint i = 1; i < N_TEXTS; i++)
    {
      if (i > 1)
        g_string_append_c (out, ',');
      append_csv (out, line->texts[i]);
    }
  g_string_append (out, "\r\n");
}

static void
append_line_text (GString     *out,
                  BwRoundLine *line)
{
  if (*line->texts[PROP_LABEL] != '\0')
    g_string_append_printf (out, "%s: ", line->texts[PROP_LABEL]);
  g_string_append (out, line->texts[PROP_WORK]);
  if (*line->texts[PROP_STITCHES] != '\0')
    g_string_append_printf (out, g_dngettext (GETTEXT_PACKAGE, " (%s st)", " (%s sts)",
                                              strtoul (line->texts[PROP_STITCHES], NULL, 10)),
                            line->texts[PROP_STITCHES]);
  g_string_append_c (out, '\n');
}

/**
 * bw_round_model_to_text:
 * @self: a model
 * @csv: as a table for a spreadsheet, otherwise as lines to read
 *
 * Returns: (transfer full): all lines as text
 */
char *
bw_round_model_to_text (BwRoundModel *self,
                        gboolean      csv)
{
  GString *out = g_string_new (csv ? "part,round,colour,work,stitches,girth,height,yarn\r\n"
                                   : NULL);

  g_return_val_if_fail (BW_IS_ROUND_MODEL (self), NULL);

  for (guint i = 0; i < self->lines->len; i++)
    {
      if (csv)
        append_line_csv (out, self->lines->pdata[i]);
      else
        append_line_text (out, self->lines->pdata[i]);
    }

  return g_string_free (out, FALSE);
}
