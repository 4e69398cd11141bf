#define G_LOG_DOMAIN "bw-core"

#include "bw-design-fields.h"

/* Every group and key of a design file. The ranges are there to catch slips
 * (a head of 56 m), not to tell a designer what a hat may be: common practice,
 * no source. */

#define NO_WORD { NULL, 0 }

static const BwFieldWord terms_words[] = {
  { "uk", BW_TERMS_UK }, { "us", BW_TERMS_US }, NO_WORD,
};

static const BwFieldWord units_words[] = {
  { "cm", BW_UNITS_CM }, { "in", BW_UNITS_INCH }, NO_WORD,
};

static const BwFieldWord rounds_words[] = {
  { "joined", FALSE }, { "spiral", TRUE }, NO_WORD,
};

static const BwFieldWord brim_words[] = {
  { "none", BW_BRIM_NONE },
  { "slip-rib", BW_BRIM_SLIP_RIB },
  { "low-rib", BW_BRIM_LOW_RIB },
  { "post-rib", BW_BRIM_POST_RIB },
  { "rolled", BW_BRIM_ROLLED },
  NO_WORD,
};

static const BwFieldWord pick_up_words[] = {
  { "computed", BW_PICK_UP_COMPUTED }, { "per-row", BW_PICK_UP_PER_ROW }, NO_WORD,
};

static const BwFieldWord mode_words[] = {
  { "rounds", BW_BAND_ROUNDS }, { "repeats", BW_BAND_REPEATS }, { "fill", BW_BAND_FILL }, NO_WORD,
};

static const BwFieldWord profile_words[] = {
  { "flat", BW_CROWN_FLAT },
  { "round", BW_CROWN_ROUND },
  { "tapered", BW_CROWN_TAPERED },
  { "pointed", BW_CROWN_POINTED },
  { "gathered", BW_CROWN_GATHERED },
  { "own", BW_CROWN_OWN },
  NO_WORD,
};

static const BwFieldWord rounding_words[] = {
  { "nearest", BW_ROUND_NEAREST }, { "down", BW_ROUND_DOWN }, { "up", BW_ROUND_UP }, NO_WORD,
};

#define OF(member) G_STRUCT_OFFSET (BwDesign, member)

static const BwField design_fields[] = {
  { "format", BW_FIELD_FORMAT, BW_FIELD_ALWAYS, 0, 1, 1, NULL, 0 },
  { "name", BW_FIELD_LINE, BW_FIELD_ALWAYS, OF (name), 0, 200, NULL, 0 },
  { "code", BW_FIELD_LINE, 0, OF (code), 0, 60, NULL, 0 },
  { "designer", BW_FIELD_LINE, 0, OF (designer), 0, 200, NULL, 0 },
  { "summary", BW_FIELD_PROSE, 0, OF (summary), 0, 2000, NULL, 0 },
  { "notes", BW_FIELD_PROSE, 0, OF (notes), 0, 50000, NULL, 0 },
  { "terms", BW_FIELD_WORD, BW_FIELD_ALWAYS, OF (terms), 0, 0, terms_words, 0 },
  { "units", BW_FIELD_WORD, BW_FIELD_ALWAYS, OF (units), 0, 0, units_words, 0 },
  { "inch", BW_FIELD_INCH, 0, OF (mm_per_inch), 25, 25.4, NULL, 0 },
  { "rounds", BW_FIELD_WORD, 0, OF (spiral), 0, 0, rounds_words, 0 },
  { "chain-counts", BW_FIELD_SWITCH, 0, OF (chain_counts), 0, 1, NULL, 0 },
  { "body-swatch", BW_FIELD_ID, BW_FIELD_REQUIRED | BW_FIELD_ALWAYS, OF (body_swatch),
    1, BW_DESIGN_ID_MAX, NULL, 0 },
  { "body-stitch-pattern", BW_FIELD_ID, 0, OF (body_fabric), 1, BW_DESIGN_ID_MAX, NULL, 0 },
  { "body-ease", BW_FIELD_EASE, 0, OF (body_ease), -0.5, 0.5, NULL, 0 },
  { "brim-ease", BW_FIELD_EASE, 0, OF (brim_ease), -0.5, 0.5, NULL, 0 },
  { "stitches-per-minute", BW_FIELD_NUMBER, BW_FIELD_UNSAID, OF (stitches_per_minute),
    0.1, 200, NULL, 0 },
};

static const BwField yarn_fields[] = {
  { "name", BW_FIELD_LINE, 0, OF (yarn.name), 0, 200, NULL, 0 },
  { "thickness", BW_FIELD_INTEGER, BW_FIELD_UNSAID, OF (yarn.weight_class), 0, 7, NULL, 0 },
  { "ball-length", BW_FIELD_YARN, BW_FIELD_UNSAID, OF (yarn.metres_per_ball), 1, 20000, NULL, 0 },
  { "ball-weight", BW_FIELD_MASS, BW_FIELD_UNSAID, OF (yarn.grams_per_ball), 1, 5000, NULL, 0 },
  { "ball-price", BW_FIELD_NUMBER, BW_FIELD_UNSAID, OF (yarn.price_per_ball),
    0.01, 1000000, NULL, 0 },
  { "currency", BW_FIELD_LINE, 0, OF (yarn.currency), 0, 16, NULL, 0 },
  { "margin", BW_FIELD_FRACTION, 0, OF (yarn_margin), 0, 1, NULL, 0 },
};

static const BwField colour_fields[] = {
  { "name", BW_FIELD_LINE, BW_FIELD_REQUIRED | BW_FIELD_ALWAYS, G_STRUCT_OFFSET (BwColour, name),
    1, 100, NULL, 0 },
  { "rgb", BW_FIELD_RGB, BW_FIELD_ALWAYS, G_STRUCT_OFFSET (BwColour, rgb), 0, 0xffffff, NULL, 0 },
};

#define IN_SWATCH(member) G_STRUCT_OFFSET (BwSwatch, member)

static const BwField swatch_fields[] = {
  { "stitch-pattern", BW_FIELD_ID, BW_FIELD_REQUIRED | BW_FIELD_ALWAYS, IN_SWATCH (fabric),
    1, BW_DESIGN_ID_MAX, NULL, 0 },
  { "from", BW_FIELD_LINE, 0, IN_SWATCH (from), 0, 200, NULL, 0 },
  { "hook", BW_FIELD_LENGTH, BW_FIELD_UNSAID | BW_FIELD_SMALL, IN_SWATCH (hook_mm),
    0.5, 40, NULL, 0 },
  { "gauge", BW_FIELD_GAUGE, 0, IN_SWATCH (readings), 0.5, 1000, NULL, 0 },
  { "stitches", BW_FIELD_STITCHES, 0, IN_SWATCH (readings), 0.5, 1000, NULL, 0 },
  { "rounds", BW_FIELD_ROUNDS, 0, IN_SWATCH (readings), 0.5, 1000, NULL, 0 },
  { "tape", BW_FIELD_LENGTH, BW_FIELD_SMALL, IN_SWATCH (tape.tape_division_mm), 0, 10, NULL, 0 },
  { "edge", BW_FIELD_NUMBER, 0, IN_SWATCH (tape.edge_stitches), 0, 1, NULL, 0 },
  { "stretch", BW_FIELD_FRACTION, BW_FIELD_UNSAID, IN_SWATCH (stretch), 0.01, 3, NULL, 0 },
  { "height-loss", BW_FIELD_NUMBER, BW_FIELD_UNSAID, IN_SWATCH (height_loss), 0.01, 2, NULL, 0 },
  { "weight", BW_FIELD_MASS, BW_FIELD_UNSAID, IN_SWATCH (grams), 0.1, 2000, NULL, 0 },
  { "piece-stitches", BW_FIELD_COUNT, BW_FIELD_UNSAID, IN_SWATCH (piece_stitches),
    1, 5000, NULL, 0 },
  { "piece-rounds", BW_FIELD_COUNT, BW_FIELD_UNSAID, IN_SWATCH (piece_rounds), 1, 5000, NULL, 0 },
};

static const BwField sizes_fields[] = {
  { "table", BW_FIELD_ID, 0, OF (size_table), 0, BW_DESIGN_ID_MAX, NULL, 0 },
  { "use", BW_FIELD_USE, BW_FIELD_REQUIRED | BW_FIELD_ALWAYS, OF (sizes),
    1, BW_DESIGN_SIZES_MAX, NULL, 0 },
};

#define IN_SIZE(member) G_STRUCT_OFFSET (BwSize, member)
#define IN_CHOICE(member) G_STRUCT_OFFSET (BwSizeChoice, member)

static const BwField size_fields[] = {
  { "name", BW_FIELD_LINE, BW_FIELD_OF_SIZE, IN_SIZE (name), 1, 100, NULL, 0 },
  { "head", BW_FIELD_LENGTH, BW_FIELD_OF_SIZE, IN_SIZE (head_mm), 150, 1000, NULL, 0 },
  { "depth", BW_FIELD_LENGTH, BW_FIELD_OF_SIZE, IN_SIZE (depth_mm), 40, 800, NULL, 0 },
  { "months-from", BW_FIELD_INTEGER, BW_FIELD_OF_SIZE | BW_FIELD_UNSAID, IN_SIZE (months_from),
    0, 1200, NULL, 0 },
  { "source", BW_FIELD_LINE, BW_FIELD_OF_SIZE, IN_SIZE (source), 0, 500, NULL, 0 },
  { "body-ease", BW_FIELD_OWN_EASE, 0, IN_CHOICE (body_ease), -0.5, 0.5, NULL,
    IN_CHOICE (own_body_ease) },
  { "brim-ease", BW_FIELD_OWN_EASE, 0, IN_CHOICE (brim_ease), -0.5, 0.5, NULL,
    IN_CHOICE (own_brim_ease) },
  { "crown-counts", BW_FIELD_COUNTS, 0, IN_CHOICE (crown_counts), 1, 5000, NULL, 0 },
};

static const BwField brim_fields[] = {
  { "kind", BW_FIELD_WORD, BW_FIELD_ALWAYS, OF (brim.kind), 0, 0, brim_words, 0 },
  { "height", BW_FIELD_LENGTH, 0, OF (brim.height_mm), 5, 400, NULL, 0 },
  { "folded", BW_FIELD_SWITCH, 0, OF (brim.folded), 0, 1, NULL, 0 },
  { "pick-up", BW_FIELD_WORD, 0, OF (brim.pick_up), 0, 0, pick_up_words, 0 },
  { "per-row", BW_FIELD_NUMBER, 0, OF (brim.per_row), 0.1, 2, NULL, 0 },
  { "colour", BW_FIELD_LETTER, 0, OF (brim.colour), 0, BW_STRIPE_COLOURS_MAX - 1, NULL, 0 },
  { "swatch", BW_FIELD_ID, 0, OF (brim.swatch), 0, BW_DESIGN_ID_MAX, NULL, 0 },
};

#define IN_BAND(member) G_STRUCT_OFFSET (BwBand, member)

static const BwField band_fields[] = {
  { "name", BW_FIELD_LINE, 0, IN_BAND (name), 0, 100, NULL, 0 },
  { "stitch-pattern", BW_FIELD_ID, BW_FIELD_REQUIRED | BW_FIELD_ALWAYS, IN_BAND (fabric),
    1, BW_DESIGN_ID_MAX, NULL, 0 },
  { "swatch", BW_FIELD_ID, 0, IN_BAND (swatch), 0, BW_DESIGN_ID_MAX, NULL, 0 },
  { "mode", BW_FIELD_WORD, BW_FIELD_ALWAYS, IN_BAND (mode), 0, 0, mode_words, 0 },
  { "amount", BW_FIELD_COUNT, BW_FIELD_ALWAYS, IN_BAND (amount), 0, BW_DESIGN_ROUNDS_MAX, NULL, 0 },
  { "stripe", BW_FIELD_STRIPE, 0, IN_BAND (stripe), 1, BW_DESIGN_ROUNDS_MAX, NULL, 0 },
};

static const BwField crown_fields[] = {
  { "profile", BW_FIELD_WORD, BW_FIELD_ALWAYS, OF (crown.profile), 0, 0, profile_words, 0 },
  { "stitch-pattern", BW_FIELD_ID, 0, OF (crown.fabric), 1, BW_DESIGN_ID_MAX, NULL, 0 },
  { "swatch", BW_FIELD_ID, 0, OF (crown.swatch), 0, BW_DESIGN_ID_MAX, NULL, 0 },
  { "length", BW_FIELD_LENGTH, BW_FIELD_UNSAID, OF (crown.length_mm), 10, 1500, NULL, 0 },
  { "length-of-radius", BW_FIELD_NUMBER, BW_FIELD_UNSAID, OF (crown.length_of_radius),
    1, 10, NULL, 0 },
  { "wedges", BW_FIELD_COUNTS, 0, OF (crown.wedges), 2, 40, NULL, 0 },
  { "staggered", BW_FIELD_SWITCH, 0, OF (crown.staggered), 0, 1, NULL, 0 },
  { "close-at", BW_FIELD_COUNT, BW_FIELD_UNSAID, OF (crown.close_at), 2, 60, NULL, 0 },
  { "multiple-on-body", BW_FIELD_SWITCH, 0, OF (crown.multiple_on_body), 0, 1, NULL, 0 },
  { "stripe", BW_FIELD_STRIPE, 0, OF (crown.stripe), 1, BW_DESIGN_ROUNDS_MAX, NULL, 0 },
};

static const BwField finishing_fields[] = {
  { "pompom", BW_FIELD_LENGTH, BW_FIELD_UNSAID, OF (finishing.pompom_mm), 10, 300, NULL, 0 },
  { "pompom-weight", BW_FIELD_MASS, BW_FIELD_UNSAID, OF (finishing.pompom_grams),
    0.1, 500, NULL, 0 },
  { "pompom-colour", BW_FIELD_LETTER, 0, OF (finishing.pompom_colour),
    0, BW_STRIPE_COLOURS_MAX - 1, NULL, 0 },
  { "tail", BW_FIELD_LENGTH, 0, OF (finishing.tail_mm), 0, 1000, NULL, 0 },
  { "carry-rounds", BW_FIELD_COUNT, 0, OF (finishing.carry_rounds), 0, 100, NULL, 0 },
  { "carry-height", BW_FIELD_LENGTH, 0, OF (finishing.carry_mm), 0, 500, NULL, 0 },
  { "cords", BW_FIELD_SWITCH, 0, OF (finishing.cords), 0, 1, NULL, 0 },
  { "buttons", BW_FIELD_SWITCH, 0, OF (finishing.buttons), 0, 1, NULL, 0 },
};

static const BwField rules_fields[] = {
  { "girth-tolerance", BW_FIELD_LENGTH, 0, OF (rules.girth_tolerance_mm), 0.1, 200, NULL, 0 },
  { "girth-limit", BW_FIELD_LENGTH, 0, OF (rules.girth_limit_mm), 0.1, 300, NULL, 0 },
  { "brim-tolerance", BW_FIELD_LENGTH, 0, OF (rules.brim_tolerance_mm), 0.1, 200, NULL, 0 },
  { "brim-limit", BW_FIELD_LENGTH, 0, OF (rules.brim_limit_mm), 0.1, 300, NULL, 0 },
  { "depth-tolerance", BW_FIELD_LENGTH, 0, OF (rules.depth_tolerance_mm), 0.1, 200, NULL, 0 },
  { "adjust-weight", BW_FIELD_NUMBER, 0, OF (rules.adjust_weight), 0, 1000, NULL, 0 },
  { "pick-up-weight", BW_FIELD_NUMBER, 0, OF (rules.pick_up_weight), 0, 1000, NULL, 0 },
  { "least-step", BW_FIELD_COUNT, 0, OF (rules.least_step), 0, 100, NULL, 0 },
  { "rounding", BW_FIELD_WORD, 0, OF (rules.rounding), 0, 0, rounding_words, 0 },
};

#define PINNED G_STRUCT_OFFSET (BwPin, value)

/* By BwPinKind. */
static const BwField pin_fields[] = {
  { "body-stitches", BW_FIELD_COUNT, 0, PINNED, 4, 5000, NULL, 0 },
  { "brim-count", BW_FIELD_COUNT, 0, PINNED, 4, 5000, NULL, 0 },
  { "brim-height", BW_FIELD_COUNT, 0, PINNED, 1, 400, NULL, 0 },
  { "crown-start", BW_FIELD_COUNT, 0, PINNED, 4, 5000, NULL, 0 },
  { "fill-repeats", BW_FIELD_COUNT, 0, PINNED, 0, BW_DESIGN_ROUNDS_MAX, NULL, 0 },
};

#define FIELDS(array) array, G_N_ELEMENTS (array)

/* By BwGroupId. */
static const BwFieldGroup groups[BW_N_GROUPS] = {
  { "Design", FALSE, FIELDS (design_fields) },
  { "Yarn", FALSE, FIELDS (yarn_fields) },
  { "Colour", TRUE, FIELDS (colour_fields) },
  { "Swatch", TRUE, FIELDS (swatch_fields) },
  { "Sizes", FALSE, FIELDS (sizes_fields) },
  { "Size", TRUE, FIELDS (size_fields) },
  { "Brim", FALSE, FIELDS (brim_fields) },
  { "Band", TRUE, FIELDS (band_fields) },
  { "Crown", FALSE, FIELDS (crown_fields) },
  { "Finishing", FALSE, FIELDS (finishing_fields) },
  { "Rules", FALSE, FIELDS (rules_fields) },
  { "Pins", FALSE, FIELDS (pin_fields) },
};

/**
 * bw_field_group:
 * @id: which group
 *
 * Returns: (transfer none): the description of the group and its keys
 */
const BwFieldGroup *
bw_field_group (BwGroupId id)
{
  g_assert (id < BW_N_GROUPS);

  return &groups[id];
}

/**
 * bw_field_find:
 * @group: a group
 * @key: a key as written in a file
 *
 * Returns: (transfer none) (nullable): the description of @key, or %NULL if the
 *   group has no such key
 */
const BwField *
bw_field_find (const BwFieldGroup *group,
               const char         *key)
{
  for (guint i = 0; i < group->n_fields; i++)
    if (g_str_equal (group->fields[i].key, key))
      return &group->fields[i];

  return NULL;
}

/**
 * bw_field_is_list:
 * @kind: a kind of value
 *
 * Returns: whether values of @kind have several parts; see bw-design-list.c
 */
gboolean
bw_field_is_list (BwFieldKind kind)
{
  return kind >= BW_FIELD_EASE;
}

/**
 * bw_field_value:
 * @field: a key's description
 * @base: the structure of its group
 *
 * Returns: (transfer none): where the value lies
 */
gpointer
bw_field_value (const BwField *field,
                gpointer       base)
{
  if (field->flags & BW_FIELD_OF_SIZE)
    base = ((BwSizeChoice *) base)->size;

  return G_STRUCT_MEMBER_P (base, field->offset);
}

/**
 * bw_design_group_name:
 * @id: which kind of group
 * @design: the design
 * @place: place of the element in its array; 0 for a group of which there is one
 *
 * Returns: (transfer full): the group's header, without the brackets
 */
char *
bw_design_group_name (BwGroupId       id,
                      const BwDesign *design,
                      guint           place)
{
  const char *word = groups[id].name;

  switch (id)
    {
    case BW_GROUP_COLOUR:
      return g_strdup_printf ("%s %c", word, 'A' + (int) place);

    case BW_GROUP_SWATCH:
      return g_strdup_printf ("%s %s", word, g_array_index (design->swatches, BwSwatch, place).id);

    case BW_GROUP_SIZE:
      return g_strdup_printf ("%s %s", word,
                              g_array_index (design->sizes, BwSizeChoice, place).size->id);

    case BW_GROUP_BAND:
      return g_strdup_printf ("%s %u", word, place + 1);

    default:
      return g_strdup (word);
    }
}
