#define G_LOG_DOMAIN "bw-core"

#include "bw-design.h"

/* Two designs are equal when every figure is the same bit pattern or the same
 * number and every word the same bytes: exact on purpose, because saving and
 * loading must not change anything. */

typedef gboolean (*ElementEqual) (gconstpointer a,
                                  gconstpointer b);

static gboolean
arrays_equal (const GArray *a,
              const GArray *b,
              ElementEqual  element_equal)
{
  guint size = g_array_get_element_size ((GArray *) a);

  if (a->len != b->len)
    return FALSE;

  for (guint i = 0; i < a->len; i++)
    if (!element_equal (a->data + (gsize) i * size, b->data + (gsize) i * size))
      return FALSE;

  return TRUE;
}

/* Not said is the same whether it is NULL or empty. */
static gboolean
words_equal (const char *a,
             const char *b)
{
  return g_str_equal (a != NULL ? a : "", b != NULL ? b : "");
}

static gboolean
uints_equal (gconstpointer a,
             gconstpointer b)
{
  return *(const guint *) a == *(const guint *) b;
}

static gboolean
steps_equal (gconstpointer a,
             gconstpointer b)
{
  const BwStripeStep *x = a;
  const BwStripeStep *y = b;

  return x->colour == y->colour && x->rounds == y->rounds;
}

static gboolean
readings_equal (gconstpointer a,
                gconstpointer b)
{
  const BwReading *x = a;
  const BwReading *y = b;

  return x->direction == y->direction && x->count == y->count && x->span_mm == y->span_mm &&
         x->washed == y->washed && x->laid == y->laid;
}

/* The order of readings across and upwards among each other says nothing, and
 * a file keeps them apart: each direction is compared by itself. */
static gboolean
direction_equal (const GArray       *a,
                 const GArray       *b,
                 BwReadingDirection  direction)
{
  guint j = 0;

  for (guint i = 0; i < a->len; i++)
    {
      const BwReading *reading = &g_array_index (a, BwReading, i);

      if (reading->direction != direction)
        continue;

      while (j < b->len && g_array_index (b, BwReading, j).direction != direction)
        j++;
      if (j == b->len || !readings_equal (reading, &g_array_index (b, BwReading, j++)))
        return FALSE;
    }

  return TRUE;
}

static gboolean
all_readings_equal (const GArray *a,
                    const GArray *b)
{
  return a->len == b->len && direction_equal (a, b, BW_READING_STITCHES) &&
         direction_equal (a, b, BW_READING_ROUNDS);
}

static gboolean
colours_equal (gconstpointer a,
               gconstpointer b)
{
  const BwColour *x = a;
  const BwColour *y = b;

  return g_str_equal (x->name, y->name) && x->rgb == y->rgb;
}

static gboolean
swatches_equal (gconstpointer a,
                gconstpointer b)
{
  const BwSwatch *x = a;
  const BwSwatch *y = b;

  return g_str_equal (x->id, y->id) && g_str_equal (x->fabric, y->fabric) &&
         g_str_equal (x->from, y->from) && x->hook_mm == y->hook_mm &&
         all_readings_equal (x->readings, y->readings) &&
         x->tape.tape_division_mm == y->tape.tape_division_mm &&
         x->tape.edge_stitches == y->tape.edge_stitches && x->stretch == y->stretch &&
         x->height_loss == y->height_loss && x->grams == y->grams &&
         x->piece_stitches == y->piece_stitches && x->piece_rounds == y->piece_rounds;
}

static gboolean
eases_equal (const BwEase *a,
             const BwEase *b)
{
  return a->fraction == b->fraction && a->length_mm == b->length_mm;
}

static gboolean
wearers_equal (const BwSize *a,
               const BwSize *b)
{
  return words_equal (a->id, b->id) && words_equal (a->name, b->name) &&
         a->head_mm == b->head_mm && a->depth_mm == b->depth_mm &&
         a->months_from == b->months_from && words_equal (a->source, b->source);
}

static gboolean
sizes_equal (gconstpointer a,
             gconstpointer b)
{
  const BwSizeChoice *x = a;
  const BwSizeChoice *y = b;

  return wearers_equal (x->size, y->size) && x->own_body_ease == y->own_body_ease &&
         (!x->own_body_ease || eases_equal (&x->body_ease, &y->body_ease)) &&
         x->own_brim_ease == y->own_brim_ease &&
         (!x->own_brim_ease || eases_equal (&x->brim_ease, &y->brim_ease)) &&
         arrays_equal (x->crown_counts, y->crown_counts, uints_equal);
}

static gboolean
bands_equal (gconstpointer a,
             gconstpointer b)
{
  const BwBand *x = a;
  const BwBand *y = b;

  return g_str_equal (x->name, y->name) && g_str_equal (x->fabric, y->fabric) &&
         g_str_equal (x->swatch, y->swatch) && x->mode == y->mode && x->amount == y->amount &&
         arrays_equal (x->stripe, y->stripe, steps_equal);
}

static gboolean
pins_equal (gconstpointer a,
            gconstpointer b)
{
  const BwPin *x = a;
  const BwPin *y = b;

  return g_str_equal (x->size, y->size) && x->kind == y->kind && x->value == y->value;
}

static gboolean
headings_equal (const BwDesign *a,
                const BwDesign *b)
{
  return g_str_equal (a->name, b->name) && g_str_equal (a->code, b->code) &&
         g_str_equal (a->designer, b->designer) && g_str_equal (a->summary, b->summary) &&
         g_str_equal (a->notes, b->notes) && a->terms == b->terms && a->units == b->units &&
         a->mm_per_inch == b->mm_per_inch && a->spiral == b->spiral &&
         a->chain_counts == b->chain_counts;
}

static gboolean
yarns_equal (const BwYarn *a,
             const BwYarn *b)
{
  return words_equal (a->name, b->name) && a->weight_class == b->weight_class &&
         a->metres_per_ball == b->metres_per_ball && a->grams_per_ball == b->grams_per_ball &&
         a->price_per_ball == b->price_per_ball && words_equal (a->currency, b->currency);
}

static gboolean
brims_equal (const BwBrim *a,
             const BwBrim *b)
{
  return a->kind == b->kind && a->folded == b->folded && a->height_mm == b->height_mm &&
         a->pick_up == b->pick_up && a->per_row == b->per_row && a->colour == b->colour &&
         g_str_equal (a->swatch, b->swatch);
}

static gboolean
crowns_equal (const BwCrownChoice *a,
              const BwCrownChoice *b)
{
  return a->profile == b->profile && g_str_equal (a->fabric, b->fabric) &&
         g_str_equal (a->swatch, b->swatch) && a->length_mm == b->length_mm &&
         a->length_of_radius == b->length_of_radius &&
         arrays_equal (a->wedges, b->wedges, uints_equal) && a->staggered == b->staggered &&
         a->close_at == b->close_at && a->multiple_on_body == b->multiple_on_body &&
         arrays_equal (a->stripe, b->stripe, steps_equal);
}

static gboolean
finishings_equal (const BwFinishing *a,
                  const BwFinishing *b)
{
  return a->pompom_mm == b->pompom_mm && a->pompom_grams == b->pompom_grams &&
         a->pompom_colour == b->pompom_colour && a->tail_mm == b->tail_mm &&
         a->carry_rounds == b->carry_rounds && a->carry_mm == b->carry_mm &&
         a->cords == b->cords && a->buttons == b->buttons;
}

static gboolean
rules_equal (const BwRules *a,
             const BwRules *b)
{
  return a->girth_tolerance_mm == b->girth_tolerance_mm && a->girth_limit_mm == b->girth_limit_mm &&
         a->brim_tolerance_mm == b->brim_tolerance_mm && a->brim_limit_mm == b->brim_limit_mm &&
         a->depth_tolerance_mm == b->depth_tolerance_mm && a->adjust_weight == b->adjust_weight &&
         a->pick_up_weight == b->pick_up_weight && a->least_step == b->least_step &&
         a->rounding == b->rounding;
}

/**
 * bw_design_equal:
 * @a: a design
 * @b: another one
 *
 * Compares everything that a designer can decide, exactly. A size's own ease
 * counts only where the size has one.
 *
 * Returns: %TRUE if the two say the same
 */
gboolean
bw_design_equal (const BwDesign *a,
                 const BwDesign *b)
{
  g_return_val_if_fail (a != NULL, FALSE);
  g_return_val_if_fail (b != NULL, FALSE);

  return headings_equal (a, b) && yarns_equal (&a->yarn, &b->yarn) &&
         a->yarn_margin == b->yarn_margin && a->stitches_per_minute == b->stitches_per_minute &&
         arrays_equal (a->colours, b->colours, colours_equal) &&
         arrays_equal (a->swatches, b->swatches, swatches_equal) &&
         g_str_equal (a->body_swatch, b->body_swatch) &&
         g_str_equal (a->body_fabric, b->body_fabric) &&
         eases_equal (&a->body_ease, &b->body_ease) && eases_equal (&a->brim_ease, &b->brim_ease) &&
         g_str_equal (a->size_table, b->size_table) &&
         arrays_equal (a->sizes, b->sizes, sizes_equal) && brims_equal (&a->brim, &b->brim) &&
         arrays_equal (a->bands, b->bands, bands_equal) && crowns_equal (&a->crown, &b->crown) &&
         finishings_equal (&a->finishing, &b->finishing) && rules_equal (&a->rules, &b->rules) &&
         arrays_equal (a->pins, b->pins, pins_equal);
}
