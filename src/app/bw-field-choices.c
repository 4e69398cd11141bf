#define G_LOG_DOMAIN "bw-app"

#include "bw-app-words.h"

#include "bw-field-choices.h"

#include "bw-words.h"

/* What people read for the words of the design file. */
static const struct
{
  const char *key;
  const char *word;
  const char *label;
} word_labels[] = {
  { "terms", "uk", N_("UK terms") },
  { "terms", "us", N_("US terms") },
  { "units", "cm", N_("Centimetres") },
  { "units", "in", N_("Inches") },
  { "rounds", "joined", N_("Joined rounds") },
  { "rounds", "spiral", N_("Spiral rounds") },
  { "kind", "none", N_("No brim") },
  { "kind", "slip-rib", N_("Sideways slip stitch rib") },
  { "kind", "low-rib", N_("Sideways back-loop rib") },
  { "kind", "post-rib", N_("Post stitch rib in the round") },
  { "kind", "rolled", N_("Rolled edge") },
  { "pick-up", "computed", N_("As many as the body needs") },
  { "pick-up", "per-row", N_("So many a row end") },
  { "mode", "rounds", N_("So many rounds") },
  { "mode", "repeats", N_("So many repeats") },
  { "mode", "fill", N_("As the depth needs") },
  { "profile", "flat", N_("Flat top") },
  { "profile", "round", N_("Round") },
  { "profile", "tapered", N_("Tapered") },
  { "profile", "pointed", N_("Pointed") },
  { "profile", "gathered", N_("Gathered") },
  { "profile", "own", N_("Own counts") },
  { "rounding", "nearest", N_("To the nearest") },
  { "rounding", "down", N_("Never larger") },
  { "rounding", "up", N_("Never smaller") },
};

static void
add (BwFieldChoices *choices,
     const char     *value,
     const char     *label)
{
  g_ptr_array_add (choices->values, g_strdup (value));
  g_ptr_array_add (choices->labels, g_strdup (label));
}

static const char *
word_label (const char *key,
            const char *word)
{
  for (guint i = 0; i < G_N_ELEMENTS (word_labels); i++)
    if (g_str_equal (word_labels[i].key, key) && g_str_equal (word_labels[i].word, word))
      return _(word_labels[i].label);

  return word;
}

static void
add_words (BwFieldChoices *choices,
           const BwField  *field)
{
  for (guint i = 0; field->words[i].word != NULL; i++)
    add (choices, field->words[i].word, word_label (field->key, field->words[i].word));
}

static void
add_colours (BwFieldChoices *choices,
             const BwDesign *design)
{
  for (guint i = 0; i < design->colours->len; i++)
    {
      g_autofree char *label = bw_words_colour (design, i);
      char letter[2] = { (char) ('A' + i), '\0' };

      add (choices, letter, label);
    }
}

/* Stitch patterns; a swatch may be of a brim's fabric too. */
static void
add_fabrics (BwFieldChoices    *choices,
             const BwReference *reference,
             const BwDesign    *design,
             gboolean           of_swatch)
{
  for (guint i = 0; i < reference->fabrics->fabrics->len; i++)
    {
      const BwFabric *fabric = reference->fabrics->fabrics->pdata[i];

      add (choices, fabric->id,
           design->terms == BW_TERMS_UK ? fabric->name_uk : fabric->name_us);
    }

  if (!of_swatch)
    return;

  if (bw_fabric_find (reference->fabrics, "slip-rib") == NULL)
    add (choices, "slip-rib", _("Sideways slip stitch rib"));
  if (bw_fabric_find (reference->fabrics, "low-rib") == NULL)
    add (choices, "low-rib", _("Sideways back-loop rib"));
}

static void
add_swatches (BwFieldChoices *choices,
              const BwDesign *design,
              gboolean        required)
{
  if (!required)
    add (choices, "", _("By stitch pattern"));

  for (guint i = 0; i < design->swatches->len; i++)
    {
      const char *id = g_array_index (design->swatches, BwSwatch, i).id;

      add (choices, id, id);
    }
}

static void
add_tables (BwFieldChoices    *choices,
            const BwReference *reference)
{
  add (choices, "", _("None: own sizes"));
  for (guint i = 0; i < reference->size_tables->len; i++)
    {
      const BwSizeTable *table = reference->size_tables->pdata[i];

      add (choices, table->id, table->name);
    }
}

static gboolean
add_ids (BwFieldChoices     *choices,
         const BwFieldPlace *place,
         const BwReference  *reference,
         const BwDesign     *design)
{
  const char *key = place->field->key;

  if (g_str_has_suffix (key, "stitch-pattern"))
    add_fabrics (choices, reference, design, place->group == BW_GROUP_SWATCH);
  else if (g_str_has_suffix (key, "swatch"))
    add_swatches (choices, design, (place->field->flags & BW_FIELD_REQUIRED) != 0);
  else if (g_str_equal (key, "table"))
    add_tables (choices, reference);
  else
    return FALSE;

  return TRUE;
}

/**
 * bw_field_choices_fill:
 * @choices: (out): what may be chosen; to be cleared either way
 * @place: a value
 * @reference: tables
 * @design: a design
 *
 * Returns: whether the value is chosen from a list; %FALSE when it is typed
 */
gboolean
bw_field_choices_fill (BwFieldChoices     *choices,
                       const BwFieldPlace *place,
                       const BwReference  *reference,
                       const BwDesign     *design)
{
  choices->values = g_ptr_array_new_with_free_func (g_free);
  choices->labels = g_ptr_array_new_with_free_func (g_free);

  switch (place->field->kind)
    {
    case BW_FIELD_WORD:
      add_words (choices, place->field);
      return TRUE;

    case BW_FIELD_LETTER:
      add_colours (choices, design);
      return TRUE;

    case BW_FIELD_ID:
      return add_ids (choices, place, reference, design);

    default:
      return FALSE;
    }
}

void
bw_field_choices_clear (BwFieldChoices *choices)
{
  g_clear_pointer (&choices->values, g_ptr_array_unref);
  g_clear_pointer (&choices->labels, g_ptr_array_unref);
}

/**
 * bw_field_choices_equal:
 * @a: choices
 * @b: choices
 *
 * Returns: whether both offer the same in the same words
 */
gboolean
bw_field_choices_equal (const BwFieldChoices *a,
                        const BwFieldChoices *b)
{
  if (a->values == NULL || b->values == NULL || a->values->len != b->values->len)
    return FALSE;

  for (guint i = 0; i < a->values->len; i++)
    if (g_strcmp0 (a->values->pdata[i], b->values->pdata[i]) != 0 ||
        g_strcmp0 (a->labels->pdata[i], b->labels->pdata[i]) != 0)
      return FALSE;

  return TRUE;
}
