#define G_LOG_DOMAIN "bw-app"

#include "bw-field-place.h"

static BwGroupId
find_group (const char *name)
{
  guint id;

  for (id = 0; id < BW_N_GROUPS; id++)
    if (g_ascii_strcasecmp (bw_field_group (id)->name, name) == 0)
      break;

  return id;
}

/**
 * bw_field_place_parse:
 * @text: "group:key" or "group/place:key"
 * @place: (out): what it means
 *
 * Returns: whether there is such a value in designs
 */
gboolean
bw_field_place_parse (const char   *text,
                      BwFieldPlace *place)
{
  g_auto (GStrv) halves = g_strsplit (text, ":", 2);
  g_auto (GStrv) group = NULL;

  if (g_strv_length (halves) != 2)
    return FALSE;

  group = g_strsplit (halves[0], "/", 2);
  place->group = find_group (group[0]);
  if (place->group == BW_N_GROUPS || place->group == BW_GROUP_PINS)
    return FALSE;

  place->place = group[1] == NULL ? 0 : (guint) g_ascii_strtoull (group[1], NULL, 10);
  place->field = bw_field_find (bw_field_group (place->group), halves[1]);

  return place->field != NULL;
}

static gpointer
element (GArray *array,
         guint   place)
{
  if (place >= array->len)
    return NULL;

  return array->data + place * g_array_get_element_size (array);
}

/**
 * bw_field_place_base:
 * @place: a value
 * @design: a design
 *
 * Returns: (transfer none) (nullable): the structure that holds the value; %NULL
 *   when the design has no such colour, band, swatch or size
 */
gpointer
bw_field_place_base (const BwFieldPlace *place,
                     const BwDesign     *design)
{
  switch (place->group)
    {
    case BW_GROUP_COLOUR:
      return element (design->colours, place->place);
    case BW_GROUP_SWATCH:
      return element (design->swatches, place->place);
    case BW_GROUP_SIZE:
      return element (design->sizes, place->place);
    case BW_GROUP_BAND:
      return element (design->bands, place->place);
    default:
      return (gpointer) design;
    }
}

static void
make_context (const BwFieldPlace *place,
              const BwReference  *reference,
              const BwDesign     *design,
              BwFieldContext     *context)
{
  *context = (BwFieldContext) {
    .reference = reference,
    .units = design->units,
    .mm_per_inch = design->mm_per_inch,
    .group = bw_field_group (place->group)->name,
  };
}

/* Is the value one that means "not said"? */
static gboolean
is_unsaid (const BwField *field,
           gpointer       base)
{
  gconstpointer value = bw_field_value (field, base);

  if (!(field->flags & BW_FIELD_UNSAID))
    return FALSE;

  if (field->kind == BW_FIELD_INTEGER)
    return *(const int *) value == -1;
  if (field->kind == BW_FIELD_COUNT)
    return *(const guint *) value == 0;

  return *(const double *) value == 0.0;
}

/* An empty entry takes the value back; %FALSE where there must be one. */
static gboolean
unsay (const BwField *field,
       gpointer       base)
{
  gpointer value = bw_field_value (field, base);

  switch (field->kind)
    {
    case BW_FIELD_OWN_EASE:
      *(gboolean *) G_STRUCT_MEMBER_P (base, field->flag_offset) = FALSE;
      *(BwEase *) value = (BwEase) { 0.0, 0.0 };
      return TRUE;

    case BW_FIELD_STRIPE:
    case BW_FIELD_COUNTS:
      g_array_set_size (*(GArray **) value, 0);
      return TRUE;

    case BW_FIELD_INTEGER:
      *(int *) value = -1;
      break;

    case BW_FIELD_COUNT:
      *(guint *) value = 0;
      break;

    default:
      *(double *) value = 0.0;
    }

  return TRUE;
}

static gboolean
may_be_empty (const BwField *field)
{
  return (field->flags & BW_FIELD_UNSAID) != 0 || field->kind == BW_FIELD_OWN_EASE ||
         field->kind == BW_FIELD_STRIPE || field->kind == BW_FIELD_COUNTS;
}

/**
 * bw_field_place_print:
 * @place: a value
 * @reference: tables
 * @design: a design that has it
 *
 * Returns: (transfer full): the value as it would be typed; empty where it is not said
 */
char *
bw_field_place_print (const BwFieldPlace *place,
                      const BwReference  *reference,
                      const BwDesign     *design)
{
  gpointer base = bw_field_place_base (place, design);
  BwFieldContext context;

  g_return_val_if_fail (base != NULL, NULL);

  make_context (place, reference, design, &context);
  if (is_unsaid (place->field, base))
    return g_strdup ("");

  return bw_field_print (place->field, &context, base);
}

/**
 * bw_field_place_read:
 * @place: a value
 * @reference: tables
 * @design: a design that has it
 * @text: what was typed
 * @error: (out) (optional): %BW_ERROR
 *
 * Puts what was typed into @design, which may be left half changed on an error:
 * hand a copy in.
 *
 * Returns: whether the text could be read and the value is in range
 */
gboolean
bw_field_place_read (const BwFieldPlace  *place,
                     const BwReference   *reference,
                     BwDesign            *design,
                     const char          *text,
                     GError             **error)
{
  gpointer base = bw_field_place_base (place, design);
  g_autofree char *trimmed = g_strstrip (g_strdup (text));
  BwFieldContext context;

  g_return_val_if_fail (base != NULL, FALSE);

  make_context (place, reference, design, &context);
  if (*trimmed == '\0' && may_be_empty (place->field))
    return unsay (place->field, base);

  return bw_field_read (place->field, &context, base, text, error);
}

/**
 * bw_field_place_expect:
 * @place: a value
 * @reference: tables
 * @design: a design
 *
 * Returns: (transfer full): what may be typed, in words
 */
char *
bw_field_place_expect (const BwFieldPlace *place,
                       const BwReference  *reference,
                       const BwDesign     *design)
{
  BwFieldContext context;

  make_context (place, reference, design, &context);

  return bw_field_expectation (place->field, &context);
}
