#define G_LOG_DOMAIN "bw-app"

#include "bw-app-words.h"

#include "bw-design-ops.h"

#include <string.h>

#include "bw-words.h"

static GArray *
array_of (const BwDesign *design,
          BwGroupId       group)
{
  switch (group)
    {
    case BW_GROUP_COLOUR:
      return design->colours;
    case BW_GROUP_SWATCH:
      return design->swatches;
    case BW_GROUP_SIZE:
      return design->sizes;
    case BW_GROUP_BAND:
      return design->bands;
    default:
      g_return_val_if_reached (NULL);
    }
}

guint
bw_design_ops_count (const BwDesign *design,
                     BwGroupId       group)
{
  return array_of (design, group)->len;
}

static char *
band_title (const BwReference *reference,
            const BwDesign    *design,
            guint              place)
{
  const BwBand *band = &g_array_index (design->bands, BwBand, place);
  const BwFabric *fabric = bw_fabric_find (reference->fabrics, band->fabric);
  const char *name = band->name;

  if (*name == '\0' && fabric != NULL)
    name = design->terms == BW_TERMS_UK ? fabric->name_uk : fabric->name_us;

  return g_strdup_printf (_("Band %u: %s"), place + 1, name);
}

/**
 * bw_design_ops_title:
 * @reference: tables
 * @design: a design
 * @group: what of it
 * @place: which
 *
 * Returns: (transfer full): what stands over its values in the form
 */
char *
bw_design_ops_title (const BwReference *reference,
                     const BwDesign    *design,
                     BwGroupId          group,
                     guint              place)
{
  switch (group)
    {
    case BW_GROUP_COLOUR:
      return bw_words_colour (design, place);
    case BW_GROUP_SWATCH:
      return g_strdup_printf (_("Swatch %s"),
                              g_array_index (design->swatches, BwSwatch, place).id);
    case BW_GROUP_SIZE:
      return g_strdup (bw_words_size_name (&g_array_index (design->sizes, BwSizeChoice, place)));
    default:
      return band_title (reference, design, place);
    }
}

/* ---- adding ------------------------------------------------------------ */

static void
add_colour (BwDesign *design)
{
  /* An even grey that goes with anything until the designer chooses */
  const guint32 rgb = 0x8A8F94;
  g_autofree char *name = g_strdup_printf (_("Colour %c"), 'A' + (int) design->colours->len);
  BwColour colour;

  bw_colour_init (&colour, name, rgb);
  g_array_append_val (design->colours, colour);
}

static void
add_band (BwDesign *design)
{
  BwBand band;

  bw_band_init (&band, design->body_fabric);
  band.mode = BW_BAND_ROUNDS;
  band.amount = 2;
  g_array_append_val (design->bands, band);
}

/* A new swatch begins with the readings of the body's, to be typed over. */
static void
add_swatch (BwDesign *design)
{
  const BwSwatch *body = bw_design_find_swatch (design, design->body_swatch);
  g_autofree char *id = NULL;
  BwSwatch swatch;

  for (guint n = design->swatches->len + 1; id == NULL; n++)
    {
      id = g_strdup_printf ("swatch-%u", n);
      if (bw_design_find_swatch (design, id) != NULL)
        g_clear_pointer (&id, g_free);
    }

  bw_swatch_init (&swatch, id, body == NULL ? design->body_fabric : body->fabric);
  if (body != NULL)
    {
      swatch.hook_mm = body->hook_mm;
      g_array_append_vals (swatch.readings, body->readings->data, body->readings->len);
    }
  g_array_append_val (design->swatches, swatch);
}

static void
insert_size (BwDesign *design,
             BwSize   *size)
{
  BwSizeChoice choice;
  guint place = 0;

  while (place < design->sizes->len &&
         g_array_index (design->sizes, BwSizeChoice, place).size->head_mm <= size->head_mm)
    place++;

  bw_size_choice_init (&choice, size);
  g_array_insert_val (design->sizes, place, choice);
}

/* The first size of the design's table that it does not have yet. */
static const BwSize *
next_of_table (const BwReference *reference,
               const BwDesign    *design)
{
  const BwSizeTable *table = bw_reference_size_table (reference, design->size_table);

  for (guint i = 0; table != NULL && i < table->sizes->len; i++)
    {
      const BwSize *size = table->sizes->pdata[i];

      if (bw_design_find_size (design, size->id) == NULL)
        return size;
    }

  return NULL;
}

/* Without a table: a size larger than the largest, by a step of the craft's usual kind. */
static BwSize *
larger_size (const BwDesign *design)
{
  const BwSizeChoice *last = &g_array_index (design->sizes, BwSizeChoice, design->sizes->len - 1);
  g_autofree char *id = NULL;
  g_autofree char *name = NULL;

  for (guint n = design->sizes->len + 1; id == NULL; n++)
    {
      id = g_strdup_printf ("size-%u", n);
      name = g_strdup_printf (_("Size %u"), n);
      if (bw_design_find_size (design, id) != NULL)
        {
          g_clear_pointer (&id, g_free);
          g_clear_pointer (&name, g_free);
        }
    }

  return bw_size_new (id, name, last->size->head_mm + 30, last->size->depth_mm + 10);
}

static void
add_size (const BwReference *reference,
          BwDesign          *design)
{
  const BwSize *next = next_of_table (reference, design);

  insert_size (design, next == NULL ? larger_size (design) : bw_size_copy (next));
}

/**
 * bw_design_ops_add:
 * @reference: tables
 * @design: a design
 * @group: what is added: a colour, swatch, size or band
 *
 * Returns: whether there was room for one more
 */
gboolean
bw_design_ops_add (const BwReference *reference,
                   BwDesign          *design,
                   BwGroupId          group)
{
  switch (group)
    {
    case BW_GROUP_COLOUR:
      if (design->colours->len == BW_STRIPE_COLOURS_MAX)
        return FALSE;
      add_colour (design);
      return TRUE;

    case BW_GROUP_SWATCH:
      if (design->swatches->len == BW_DESIGN_SWATCHES_MAX)
        return FALSE;
      add_swatch (design);
      return TRUE;

    case BW_GROUP_SIZE:
      if (design->sizes->len == BW_DESIGN_SIZES_MAX)
        return FALSE;
      add_size (reference, design);
      return TRUE;

    default:
      if (design->bands->len == BW_DESIGN_BANDS_MAX)
        return FALSE;
      add_band (design);
      return TRUE;
    }
}

/* ---- taking away and moving -------------------------------------------- */

static void
unpin_size (BwDesign   *design,
            const char *size)
{
  for (guint i = design->pins->len; i > 0; i--)
    if (g_str_equal (g_array_index (design->pins, BwPin, i - 1).size, size))
      g_array_remove_index (design->pins, i - 1);
}

/**
 * bw_design_ops_remove:
 * @design: a design
 * @group: what is taken away
 * @place: which
 *
 * Returns: whether one may go: there is always one colour, swatch and size
 */
gboolean
bw_design_ops_remove (BwDesign  *design,
                      BwGroupId  group,
                      guint      place)
{
  GArray *array = array_of (design, group);

  if (place >= array->len || (group != BW_GROUP_BAND && array->len == 1))
    return FALSE;

  if (group == BW_GROUP_SIZE)
    unpin_size (design, g_array_index (array, BwSizeChoice, place).size->id);
  g_array_remove_index (array, place);

  return TRUE;
}

gboolean
bw_design_ops_can_move (BwGroupId group)
{
  return group == BW_GROUP_BAND;
}

/**
 * bw_design_ops_move:
 * @design: a design
 * @group: what is moved
 * @from: its place
 * @to: its new place
 *
 * Returns: whether it could move there
 */
gboolean
bw_design_ops_move (BwDesign  *design,
                    BwGroupId  group,
                    guint      from,
                    guint      to)
{
  GArray *array = array_of (design, group);
  gsize size = g_array_get_element_size (array);
  g_autofree char *moved = NULL;
  char *data = array->data;

  if (from >= array->len || to >= array->len || from == to)
    return FALSE;

  moved = g_memdup2 (data + from * size, size);
  if (from < to)
    memmove (data + from * size, data + (from + 1) * size, (to - from) * size);
  else
    memmove (data + (to + 1) * size, data + to * size, (from - to) * size);
  memcpy (data + to * size, moved, size);

  return TRUE;
}

/* ---- pins -------------------------------------------------------------- */

/**
 * bw_design_ops_pin:
 * @design: a design
 * @size: id of one of its sizes
 * @kind: which number
 * @value: what it is to be
 */
void
bw_design_ops_pin (BwDesign   *design,
                   const char *size,
                   BwPinKind   kind,
                   guint       value)
{
  BwPin pin = { g_strdup (size), kind, value };

  bw_design_ops_unpin (design, size, kind);
  g_array_append_val (design->pins, pin);
}

gboolean
bw_design_ops_unpin (BwDesign   *design,
                     const char *size,
                     BwPinKind   kind)
{
  for (guint i = 0; i < design->pins->len; i++)
    {
      const BwPin *pin = &g_array_index (design->pins, BwPin, i);

      if (pin->kind == kind && g_str_equal (pin->size, size))
        {
          g_array_remove_index (design->pins, i);
          return TRUE;
        }
    }

  return FALSE;
}
