#pragma once

#include "bw-design.h"
#include "bw-reference.h"

/* Random designs that pass bw_design_check(), for properties that must hold
 * for any. Figures have all their bits random, as no person would type them,
 * half of the time. */

static inline double
random_figure (GRand  *rand,
               double  min,
               double  max)
{
  double value = g_rand_double_range (rand, min, max);

  if (g_rand_boolean (rand))
    return value;

  value = (double) (gint64) (value * 10.0) / 10.0;

  return CLAMP (value, min, max);
}

static inline void
random_string (GRand       *rand,
               char       **string,
               const char  *before)
{
  static const char *const words[] = {
    "", "lugger", " two words", "Küste", "a=b; c", "[x]", "#1", "back\\slash", "trailing ", "tab",
    "“quoted”", "ünï", "=",
  };

  g_free (*string);
  *string = g_strconcat (before, words[g_rand_int_range (rand, 0, G_N_ELEMENTS (words))], NULL);
}

static inline const char *
random_fabric (GRand             *rand,
               const BwReference *reference)
{
  const GPtrArray *fabrics = reference->fabrics->fabrics;
  guint i = (guint) g_rand_int_range (rand, 0, (gint32) fabrics->len);

  return ((const BwFabric *) g_ptr_array_index (fabrics, i))->id;
}

static inline const char *
random_plain_fabric (GRand *rand)
{
  static const char *const ids[] = { "plain-low", "plain-mid", "plain-tall", "back-loop-low" };

  return ids[g_rand_int_range (rand, 0, G_N_ELEMENTS (ids))];
}

static inline void
random_readings (GRand  *rand,
                 GArray *readings)
{
  guint n = (guint) g_rand_int_range (rand, 2, 9);

  for (guint i = 0; i < n; i++)
    {
      BwReading reading = {
        .direction = i < 2 ? (BwReadingDirection) i : (BwReadingDirection) g_rand_boolean (rand),
        .count = random_figure (rand, 1, 60),
        .span_mm = random_figure (rand, 10, 300),
        .washed = g_rand_boolean (rand),
        .laid = i < 2 ? BW_LAID_RELAXED : (BwLaid) g_rand_int_range (rand, 0, 3),
      };

      g_array_append_val (readings, reading);
    }
}

static inline void
random_swatches (GRand             *rand,
                 const BwReference *reference,
                 BwDesign          *design)
{
  static const char *const brims[] = { "slip-rib", "low-rib" };
  static const char *const ids[] = { "body", "brim", "band_2", "Crown-1", "x9" };
  guint n = (guint) g_rand_int_range (rand, 1, 1 + G_N_ELEMENTS (ids));
  guint first = (guint) g_rand_int_range (rand, 0, G_N_ELEMENTS (ids));

  for (guint i = 0; i < n; i++)
    {
      BwSwatch swatch;
      const char *fabric = random_fabric (rand, reference);

      if (g_rand_int_range (rand, 0, 3) == 0)
        fabric = brims[g_rand_boolean (rand)];
      bw_swatch_init (&swatch, ids[(first + i) % G_N_ELEMENTS (ids)], fabric);
      random_readings (rand, swatch.readings);
      random_string (rand, &swatch.from, "");
      swatch.hook_mm = g_rand_boolean (rand) ? 0.0 : random_figure (rand, 1, 20);
      swatch.tape.tape_division_mm = random_figure (rand, 0, 5);
      swatch.tape.edge_stitches = random_figure (rand, 0, 1);
      swatch.stretch = g_rand_boolean (rand) ? 0.0 : random_figure (rand, 0.1, 2);
      swatch.height_loss = g_rand_boolean (rand) ? 0.0 : random_figure (rand, 0.1, 2);
      if (g_rand_boolean (rand))
        {
          swatch.grams = random_figure (rand, 1, 100);
          swatch.piece_stitches = (guint) g_rand_int_range (rand, 1, 5000);
          swatch.piece_rounds = (guint) g_rand_int_range (rand, 1, 5000);
        }
      g_array_append_val (design->swatches, swatch);
    }
}

static inline const char *
random_swatch_id (GRand          *rand,
                  const BwDesign *design)
{
  guint i = (guint) g_rand_int_range (rand, 0, (gint32) design->swatches->len);

  return g_array_index (design->swatches, BwSwatch, i).id;
}

static inline void
random_ease (GRand  *rand,
             BwEase *ease)
{
  ease->fraction = g_rand_int_range (rand, 0, 4) == 0 ? 0.0 : random_figure (rand, -0.4, 0.2);
  ease->length_mm = g_rand_boolean (rand) ? 0.0 : random_figure (rand, -60, 60);
}

static inline void
random_counts (GRand  *rand,
               GArray *counts,
               guint   n_max,
               guint   min,
               guint   max)
{
  guint n = (guint) g_rand_int_range (rand, 0, (gint32) n_max + 1);

  for (guint i = 0; i < n; i++)
    {
      guint count = (guint) g_rand_int_range (rand, (gint32) min, (gint32) max + 1);

      g_array_append_val (counts, count);
    }
}

static inline void
random_stripe (GRand          *rand,
               const BwDesign *design,
               GArray         *stripe)
{
  guint n = (guint) g_rand_int_range (rand, 0, 6);

  for (guint i = 0; i < n; i++)
    {
      BwStripeStep step = {
        .colour = (guint8) g_rand_int_range (rand, 0, (gint32) design->colours->len),
        .rounds = (guint16) g_rand_int_range (rand, 1, 30),
      };

      g_array_append_val (stripe, step);
    }
}

/* An own size, one of the table's as it is, or one of the table's changed. */
static inline BwSize *
random_size (GRand             *rand,
             const BwSizeTable *table,
             guint              place,
             double             head_mm)
{
  guint which = (guint) g_rand_int_range (rand, 0, 3);
  BwSize *size;

  if (which > 0 && table != NULL && place < table->sizes->len)
    {
      size = bw_size_copy (g_ptr_array_index (table->sizes, place));
      if (which == 1)
        return size;
      size->depth_mm = random_figure (rand, 100, 300);
    }
  else
    {
      g_autofree char *id = g_strdup_printf ("own-%u", place);

      size = bw_size_new (id, id, head_mm, random_figure (rand, 100, 300));
      size->months_from = g_rand_int_range (rand, -1, 300);
      random_string (rand, &size->source, "");
    }

  if (g_rand_boolean (rand))
    {
      g_autofree char *name = g_strdup_printf ("%u ", place);

      random_string (rand, &size->name, name);
    }

  return size;
}

static inline void
random_sizes (GRand             *rand,
              const BwReference *reference,
              BwDesign          *design)
{
  const BwSizeTable *table = NULL;
  guint n = (guint) g_rand_int_range (rand, 1, 12);
  double head = 300.0;

  if (reference->size_tables->len > 0 && g_rand_int_range (rand, 0, 4) > 0)
    {
      table = g_ptr_array_index (reference->size_tables, 0);
      g_free (design->size_table);
      design->size_table = g_strdup (table->id);
    }

  for (guint i = 0; i < n; i++)
    {
      BwSizeChoice choice;
      BwSize *size;

      head += random_figure (rand, 1, 40);
      size = random_size (rand, table, i, head);
      if (size->head_mm < head)
        size->head_mm = head;
      head = size->head_mm;

      bw_size_choice_init (&choice, size);
      choice.own_body_ease = g_rand_boolean (rand);
      if (choice.own_body_ease)
        random_ease (rand, &choice.body_ease);
      choice.own_brim_ease = g_rand_boolean (rand);
      if (choice.own_brim_ease)
        random_ease (rand, &choice.brim_ease);
      if (design->crown.profile == BW_CROWN_OWN)
        random_counts (rand, choice.crown_counts, 1, 20, 100);
      while (design->crown.profile == BW_CROWN_OWN && choice.crown_counts->len < 2)
        random_counts (rand, choice.crown_counts, 8, 8, 100);
      g_array_append_val (design->sizes, choice);
    }
}

static inline void
random_bands (GRand             *rand,
              const BwReference *reference,
              BwDesign          *design)
{
  guint n = (guint) g_rand_int_range (rand, 0, 6);

  for (guint i = 0; i < n; i++)
    {
      BwBand band;

      bw_band_init (&band, random_fabric (rand, reference));
      random_string (rand, &band.name, "");
      if (g_rand_boolean (rand))
        {
          g_free (band.swatch);
          band.swatch = g_strdup (random_swatch_id (rand, design));
        }
      band.mode = (BwBandMode) g_rand_int_range (rand, BW_BAND_ROUNDS, BW_BAND_FILL + 1);
      band.amount = (guint) g_rand_int_range (rand, 1, 20);
      random_stripe (rand, design, band.stripe);
      g_array_append_val (design->bands, band);
    }
}

static inline void
random_pins (GRand    *rand,
             BwDesign *design)
{
  for (guint i = 0; i < design->sizes->len; i++)
    for (guint kind = BW_PIN_BODY_STITCHES; kind < BW_PIN_FILL_REPEATS; kind++)
      {
        BwPin pin = {
          .kind = (BwPinKind) ((kind + i) % BW_PIN_FILL_REPEATS),
          .value = (guint) g_rand_int_range (rand, 4, 200),
        };

        if (g_rand_int_range (rand, 0, 6) > 0)
          continue;

        pin.size = g_strdup (g_array_index (design->sizes, BwSizeChoice, i).size->id);
        g_array_append_val (design->pins, pin);
      }
}

static inline void
random_parts (GRand    *rand,
              BwDesign *design)
{
  BwBrim *brim = &design->brim;
  BwCrownChoice *crown = &design->crown;

  brim->kind = (BwBrimKind) g_rand_int_range (rand, BW_BRIM_NONE, BW_BRIM_ROLLED + 1);
  brim->folded = g_rand_boolean (rand);
  brim->height_mm = random_figure (rand, 10, 150);
  brim->pick_up = (BwPickUp) g_rand_boolean (rand);
  brim->per_row = random_figure (rand, 0.2, 1.5);
  brim->colour = (guint8) g_rand_int_range (rand, 0, (gint32) design->colours->len);
  g_free (brim->swatch);
  brim->swatch = g_strdup (random_swatch_id (rand, design));

  crown->profile = (BwCrownProfile) g_rand_int_range (rand, BW_CROWN_FLAT, BW_CROWN_OWN + 1);
  g_free (crown->fabric);
  crown->fabric = g_strdup (random_plain_fabric (rand));
  crown->length_mm = g_rand_boolean (rand) ? 0.0 : random_figure (rand, 50, 400);
  crown->length_of_radius = g_rand_boolean (rand) ? 0.0 : random_figure (rand, 1, 3);
  random_counts (rand, crown->wedges, 6, 4, 12);
  crown->staggered = g_rand_boolean (rand);
  crown->close_at = g_rand_boolean (rand) ? 0 : (guint) g_rand_int_range (rand, 5, 17);
  crown->multiple_on_body = g_rand_boolean (rand);
  random_stripe (rand, design, crown->stripe);
}

static inline void
random_rules (GRand    *rand,
              BwDesign *design)
{
  BwFinishing *finishing = &design->finishing;
  BwRules *rules = &design->rules;

  finishing->pompom_mm = g_rand_boolean (rand) ? 0.0 : random_figure (rand, 30, 120);
  finishing->pompom_grams = g_rand_boolean (rand) ? 0.0 : random_figure (rand, 5, 60);
  finishing->pompom_colour = (guint8) g_rand_int_range (rand, 0, (gint32) design->colours->len);
  finishing->tail_mm = random_figure (rand, 50, 300);
  finishing->carry_rounds = (guint) g_rand_int_range (rand, 0, 10);
  finishing->carry_mm = random_figure (rand, 0, 60);
  finishing->cords = g_rand_boolean (rand);
  finishing->buttons = g_rand_boolean (rand);

  rules->girth_tolerance_mm = random_figure (rand, 1, 30);
  rules->girth_limit_mm = random_figure (rand, 10, 60);
  rules->brim_tolerance_mm = random_figure (rand, 1, 30);
  rules->brim_limit_mm = random_figure (rand, 10, 60);
  rules->depth_tolerance_mm = random_figure (rand, 1, 30);
  rules->adjust_weight = random_figure (rand, 0, 1);
  rules->pick_up_weight = random_figure (rand, 0, 1);
  rules->least_step = (guint) g_rand_int_range (rand, 0, 4);
  rules->rounding = (BwRounding) g_rand_int_range (rand, BW_ROUND_NEAREST, BW_ROUND_UP + 1);
}

static inline void
random_heading (GRand    *rand,
                BwDesign *design)
{
  random_string (rand, &design->name, "");
  random_string (rand, &design->code, "");
  random_string (rand, &design->designer, "");
  random_string (rand, &design->summary, "one\ntwo\t");
  random_string (rand, &design->notes, " \n\n# no comment\n");
  design->terms = (BwTerms) g_rand_boolean (rand);
  design->units = (BwUnits) g_rand_boolean (rand);
  design->mm_per_inch = g_rand_boolean (rand) ? BW_MM_PER_INCH : BW_MM_PER_INCH_ROUND;
  design->spiral = g_rand_boolean (rand);
  design->chain_counts = g_rand_boolean (rand);
  random_string (rand, &design->yarn.name, "");
  random_string (rand, &design->yarn.currency, "");
  design->yarn.weight_class = g_rand_int_range (rand, -1, 8);
  design->yarn.metres_per_ball = g_rand_boolean (rand) ? 0.0 : random_figure (rand, 20, 800);
  design->yarn.grams_per_ball = g_rand_boolean (rand) ? 0.0 : random_figure (rand, 10, 200);
  design->yarn.price_per_ball = g_rand_boolean (rand) ? 0.0 : random_figure (rand, 0.5, 40);
  design->yarn_margin = random_figure (rand, 0, 0.5);
  design->stitches_per_minute = g_rand_boolean (rand) ? 0.0 : random_figure (rand, 5, 60);
  random_ease (rand, &design->body_ease);
  random_ease (rand, &design->brim_ease);
}

static inline BwDesign *
random_design (GRand             *rand,
               const BwReference *reference)
{
  BwDesign *design = bw_design_new ();
  guint n_colours = (guint) g_rand_int_range (rand, 1, BW_STRIPE_COLOURS_MAX + 1);

  random_heading (rand, design);
  g_array_set_size (design->colours, 0);
  for (guint i = 0; i < n_colours; i++)
    {
      BwColour colour;

      bw_colour_init (&colour, "", (guint32) g_rand_int_range (rand, 0, 0x1000000));
      random_string (rand, &colour.name, "c");
      g_array_append_val (design->colours, colour);
    }

  random_swatches (rand, reference, design);
  g_free (design->body_swatch);
  design->body_swatch = g_strdup (random_swatch_id (rand, design));
  g_free (design->body_fabric);
  design->body_fabric = g_strdup (random_plain_fabric (rand));
  random_parts (rand, design);
  random_sizes (rand, reference, design);
  random_bands (rand, reference, design);
  random_rules (rand, design);
  random_pins (rand, design);

  return design;
}
