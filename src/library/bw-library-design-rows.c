#define G_LOG_DOMAIN "bw-library"

#include "bw-library-design-rows.h"
#include "bw-library-rows.h"

/* ---- words for the enums, in the order of their values ------------------ */

static const char *const terms_words[] = { "uk", "us", NULL };
static const char *const units_words[] = { "cm", "inch", NULL };
static const char *const brim_words[] = { "none", "slip-rib", "low-rib", "post-rib", "rolled",
                                          NULL };
static const char *const pick_up_words[] = { "computed", "per-row", NULL };
static const char *const profile_words[] = {
  "flat", "round", "tapered", "pointed", "gathered", "own", NULL
};
static const char *const rounding_words[] = { "nearest", "down", "up", NULL };
static const char *const direction_words[] = { "stitches", "rounds", NULL };
static const char *const laid_words[] = { "relaxed", "gently", "fully", NULL };
static const char *const mode_words[] = { "rounds", "repeats", "fill", NULL };
static const char *const status_words[] = {
  "unsaid", "read", "secondary", "derived", "memory", NULL
};
static const char *const pin_words[] = {
  "body-stitches", "brim-count", "brim-height", "crown-start", "fill-repeats", NULL
};

G_STATIC_ASSERT (sizeof (BwTerms) == sizeof (guint));

/* ---- the design's own row ------------------------------------------------ */

#define DESIGN(column, KIND, field) \
  { column, BW_ROW_##KIND, G_STRUCT_OFFSET (BwDesign, field), NULL }
#define DESIGN_WORD(column, field, words) \
  { column, BW_ROW_WORD, G_STRUCT_OFFSET (BwDesign, field), words }

static const BwRowField design_fields[] = {
  DESIGN ("name", TEXT, name),
  DESIGN ("code", TEXT, code),
  DESIGN ("designer", TEXT, designer),
  DESIGN ("summary", TEXT, summary),
  DESIGN ("notes", TEXT, notes),
  DESIGN_WORD ("terms", terms, terms_words),
  DESIGN_WORD ("units", units, units_words),
  DESIGN ("mm_per_inch", REAL, mm_per_inch),
  DESIGN ("spiral", FLAG, spiral),
  DESIGN ("chain_counts", FLAG, chain_counts),
  DESIGN ("yarn_name", TEXT, yarn.name),
  DESIGN ("yarn_weight_class", INT, yarn.weight_class),
  DESIGN ("yarn_metres_per_ball", REAL, yarn.metres_per_ball),
  DESIGN ("yarn_grams_per_ball", REAL, yarn.grams_per_ball),
  DESIGN ("yarn_price_per_ball", REAL, yarn.price_per_ball),
  DESIGN ("yarn_currency", TEXT, yarn.currency),
  DESIGN ("yarn_margin", REAL, yarn_margin),
  DESIGN ("stitches_per_minute", REAL, stitches_per_minute),
  DESIGN ("body_swatch", TEXT, body_swatch),
  DESIGN ("body_fabric", TEXT, body_fabric),
  DESIGN ("body_ease_fraction", REAL, body_ease.fraction),
  DESIGN ("body_ease_mm", REAL, body_ease.length_mm),
  DESIGN ("brim_ease_fraction", REAL, brim_ease.fraction),
  DESIGN ("brim_ease_mm", REAL, brim_ease.length_mm),
  DESIGN ("size_table", TEXT, size_table),
  DESIGN_WORD ("brim_kind", brim.kind, brim_words),
  DESIGN ("brim_folded", FLAG, brim.folded),
  DESIGN ("brim_height_mm", REAL, brim.height_mm),
  DESIGN_WORD ("brim_pick_up", brim.pick_up, pick_up_words),
  DESIGN ("brim_per_row", REAL, brim.per_row),
  DESIGN ("brim_colour", BYTE, brim.colour),
  DESIGN ("brim_swatch", TEXT, brim.swatch),
  DESIGN_WORD ("crown_profile", crown.profile, profile_words),
  DESIGN ("crown_fabric", TEXT, crown.fabric),
  DESIGN ("crown_swatch", TEXT, crown.swatch),
  DESIGN ("crown_length_mm", REAL, crown.length_mm),
  DESIGN ("crown_of_radius", REAL, crown.length_of_radius),
  DESIGN ("crown_staggered", FLAG, crown.staggered),
  DESIGN ("crown_close_at", UINT, crown.close_at),
  DESIGN ("crown_multiple_on_body", FLAG, crown.multiple_on_body),
  DESIGN ("pompom_mm", REAL, finishing.pompom_mm),
  DESIGN ("pompom_grams", REAL, finishing.pompom_grams),
  DESIGN ("pompom_colour", BYTE, finishing.pompom_colour),
  DESIGN ("tail_mm", REAL, finishing.tail_mm),
  DESIGN ("carry_rounds", UINT, finishing.carry_rounds),
  DESIGN ("carry_mm", REAL, finishing.carry_mm),
  DESIGN ("cords", FLAG, finishing.cords),
  DESIGN ("buttons", FLAG, finishing.buttons),
  DESIGN ("girth_tolerance_mm", REAL, rules.girth_tolerance_mm),
  DESIGN ("girth_limit_mm", REAL, rules.girth_limit_mm),
  DESIGN ("brim_tolerance_mm", REAL, rules.brim_tolerance_mm),
  DESIGN ("brim_limit_mm", REAL, rules.brim_limit_mm),
  DESIGN ("depth_tolerance_mm", REAL, rules.depth_tolerance_mm),
  DESIGN ("adjust_weight", REAL, rules.adjust_weight),
  DESIGN ("pick_up_weight", REAL, rules.pick_up_weight),
  DESIGN ("least_step", UINT, rules.least_step),
  DESIGN_WORD ("rounding", rules.rounding, rounding_words),
};

/* ---- what hangs on it ---------------------------------------------------- */

#define FIELD(Type, column, KIND, field) \
  { column, BW_ROW_##KIND, G_STRUCT_OFFSET (Type, field), NULL }
#define FIELD_WORD(Type, column, field, words) \
  { column, BW_ROW_WORD, G_STRUCT_OFFSET (Type, field), words }

static const BwRowField colour_fields[] = {
  FIELD (BwColour, "name", TEXT, name),
  FIELD (BwColour, "rgb", UINT, rgb),
};

static const BwRowField swatch_fields[] = {
  FIELD (BwSwatch, "id", TEXT, id),
  FIELD (BwSwatch, "fabric", TEXT, fabric),
  FIELD (BwSwatch, "from_set", TEXT, from),
  FIELD (BwSwatch, "hook_mm", REAL, hook_mm),
  FIELD (BwSwatch, "tape_division_mm", REAL, tape.tape_division_mm),
  FIELD (BwSwatch, "edge_stitches", REAL, tape.edge_stitches),
  FIELD (BwSwatch, "stretch", REAL, stretch),
  FIELD (BwSwatch, "height_loss", REAL, height_loss),
  FIELD (BwSwatch, "grams", REAL, grams),
  FIELD (BwSwatch, "piece_stitches", UINT, piece_stitches),
  FIELD (BwSwatch, "piece_rounds", UINT, piece_rounds),
};

static const BwRowField reading_fields[] = {
  FIELD_WORD (BwReading, "direction", direction, direction_words),
  FIELD (BwReading, "count", REAL, count),
  FIELD (BwReading, "span_mm", REAL, span_mm),
  FIELD (BwReading, "washed", FLAG, washed),
  FIELD_WORD (BwReading, "laid", laid, laid_words),
};

/* A size and its wearer in one row. */
typedef struct
{
  BwSize       wearer;
  BwSizeChoice choice;
} SizeRow;

static const BwRowField size_fields[] = {
  FIELD (SizeRow, "id", TEXT, wearer.id),
  FIELD (SizeRow, "name", TEXT_NULL, wearer.name),
  FIELD (SizeRow, "head_mm", REAL, wearer.head_mm),
  FIELD (SizeRow, "depth_mm", REAL, wearer.depth_mm),
  FIELD (SizeRow, "months_from", INT, wearer.months_from),
  FIELD (SizeRow, "source", TEXT_NULL, wearer.source),
  FIELD_WORD (SizeRow, "status", wearer.status, status_words),
  FIELD (SizeRow, "own_body_ease", FLAG, choice.own_body_ease),
  FIELD (SizeRow, "body_ease_fraction", REAL, choice.body_ease.fraction),
  FIELD (SizeRow, "body_ease_mm", REAL, choice.body_ease.length_mm),
  FIELD (SizeRow, "own_brim_ease", FLAG, choice.own_brim_ease),
  FIELD (SizeRow, "brim_ease_fraction", REAL, choice.brim_ease.fraction),
  FIELD (SizeRow, "brim_ease_mm", REAL, choice.brim_ease.length_mm),
};

static const BwRowField band_fields[] = {
  FIELD (BwBand, "name", TEXT, name),
  FIELD (BwBand, "fabric", TEXT, fabric),
  FIELD (BwBand, "swatch", TEXT, swatch),
  FIELD_WORD (BwBand, "mode", mode, mode_words),
  FIELD (BwBand, "amount", UINT, amount),
};

static const BwRowField stripe_fields[] = {
  FIELD (BwStripeStep, "colour", BYTE, colour),
  FIELD (BwStripeStep, "rounds", SHORT, rounds),
};

static const BwRowField pin_fields[] = {
  FIELD (BwPin, "size", TEXT, size),
  FIELD_WORD (BwPin, "kind", kind, pin_words),
  FIELD (BwPin, "value", UINT, value),
};

static const BwRowField count_fields[] = { { "count", BW_ROW_UINT, 0, NULL } };
static const BwRowField wedge_fields[] = { { "wedges", BW_ROW_UINT, 0, NULL } };

#define TABLE(fields) fields, G_N_ELEMENTS (fields)

static const BwRowTable design_table = { "design", { "id" }, TABLE (design_fields) };
static const BwRowTable colour_table = { "design_colour", { "design", "place" },
                                        TABLE (colour_fields) };
static const BwRowTable swatch_table = { "design_swatch", { "design", "place" },
                                        TABLE (swatch_fields) };
static const BwRowTable reading_table = {
  "design_reading", { "design", "swatch", "place" }, TABLE (reading_fields)
};
static const BwRowTable size_table = { "design_size", { "design", "place" }, TABLE (size_fields) };
static const BwRowTable count_table = {
  "design_crown_count", { "design", "size", "place" }, TABLE (count_fields)
};
static const BwRowTable band_table = { "design_band", { "design", "place" }, TABLE (band_fields) };
static const BwRowTable stripe_table = {
  "design_stripe", { "design", "band", "place" }, TABLE (stripe_fields)
};
static const BwRowTable crown_stripe_table = {
  "design_crown_stripe", { "design", "place" }, TABLE (stripe_fields)
};
static const BwRowTable wedge_table = { "design_wedge", { "design", "place" },
                                       TABLE (wedge_fields) };
static const BwRowTable pin_table = { "design_pin", { "design", "place" }, TABLE (pin_fields) };

const char *const bw_design_table_names[] = {
  "design", "design_colour", "design_swatch", "design_reading", "design_size", "design_crown_count",
  "design_band", "design_stripe", "design_crown_stripe", "design_wedge", "design_pin", NULL,
};

/* ---- saving -------------------------------------------------------------- */

/* Elements of an array that hold the fields themselves. */
static gboolean
save_array (BwLibrary      *library,
            const BwRowTable  *table,
            gint64          design,
            gint64          parent,
            const GArray   *array,
            GError        **error)
{
  guint size = g_array_get_element_size ((GArray *) array);
  guint last = bw_table_n_keys (table) - 1;
  gint64 keys[3] = { design, parent, 0 };

  for (guint i = 0; i < array->len; i++)
    {
      keys[last] = i;
      if (!bw_row_save (library, table, keys, array->data + (gsize) i * size, error))
        return FALSE;
    }

  return bw_rows_trim (library, table, keys, array->len, error);
}

static gboolean
save_swatches (BwLibrary       *library,
               gint64           id,
               const BwDesign  *design,
               GError         **error)
{
  if (!save_array (library, &swatch_table, id, 0, design->swatches, error))
    return FALSE;

  for (guint i = 0; i < design->swatches->len; i++)
    if (!save_array (library, &reading_table, id, i,
                     g_array_index (design->swatches, BwSwatch, i).readings, error))
      return FALSE;

  return TRUE;
}

static gboolean
save_sizes (BwLibrary       *library,
            gint64           id,
            const BwDesign  *design,
            GError         **error)
{
  gint64 keys[2] = { id, 0 };

  for (guint i = 0; i < design->sizes->len; i++)
    {
      const BwSizeChoice *choice = &g_array_index (design->sizes, BwSizeChoice, i);
      SizeRow row = { *choice->size, *choice };

      keys[1] = i;
      if (!bw_row_save (library, &size_table, keys, &row, error) ||
          !save_array (library, &count_table, id, i, choice->crown_counts, error))
        return FALSE;
    }

  return bw_rows_trim (library, &size_table, keys, design->sizes->len, error);
}

static gboolean
save_bands (BwLibrary       *library,
            gint64           id,
            const BwDesign  *design,
            GError         **error)
{
  if (!save_array (library, &band_table, id, 0, design->bands, error))
    return FALSE;

  for (guint i = 0; i < design->bands->len; i++)
    if (!save_array (library, &stripe_table, id, i, g_array_index (design->bands, BwBand, i).stripe,
                     error))
      return FALSE;

  return TRUE;
}

/* Rows that hang on a swatch, a size or a band that is there no more. */
static gboolean
drop_orphans (BwLibrary       *library,
              gint64           id,
              const BwDesign  *design,
              GError         **error)
{
  return bw_sql_do (library, error, "DELETE FROM design_reading WHERE design = ? AND swatch >= ?",
                    "li", id, (int) design->swatches->len) &&
         bw_sql_do (library, error, "DELETE FROM design_crown_count WHERE design = ? AND size >= ?",
                    "li", id, (int) design->sizes->len) &&
         bw_sql_do (library, error, "DELETE FROM design_stripe WHERE design = ? AND band >= ?",
                    "li", id, (int) design->bands->len);
}

/*
 * bw_design_rows_save:
 * @id: a design that has its row, whatever stands in it
 *
 * Makes the rows say what @design says, touching only those that differ.
 * Within a transaction of the caller's.
 */
gboolean
bw_design_rows_save (BwLibrary       *library,
                     gint64           id,
                     const BwDesign  *design,
                     GError         **error)
{
  return bw_row_save (library, &design_table, &id, design, error) &&
         save_array (library, &colour_table, id, 0, design->colours, error) &&
         save_swatches (library, id, design, error) && save_sizes (library, id, design, error) &&
         save_bands (library, id, design, error) &&
         save_array (library, &crown_stripe_table, id, 0, design->crown.stripe, error) &&
         save_array (library, &wedge_table, id, 0, design->crown.wedges, error) &&
         save_array (library, &pin_table, id, 0, design->pins, error) &&
         drop_orphans (library, id, design, error);
}

/* ---- loading ------------------------------------------------------------- */

static GArray *
array_of_parent (const BwDesign *design,
                 const BwRowTable  *table,
                 guint           parent)
{
  if (table == &reading_table && parent < design->swatches->len)
    return g_array_index (design->swatches, BwSwatch, parent).readings;

  if (table == &count_table && parent < design->sizes->len)
    return g_array_index (design->sizes, BwSizeChoice, parent).crown_counts;

  if (table == &stripe_table && parent < design->bands->len)
    return g_array_index (design->bands, BwBand, parent).stripe;

  return NULL;
}

/* Rows whose elements own nothing, each in its parent's array. */
static gboolean
load_nested (BwLibrary       *library,
             const BwRowTable   *table,
             gint64           id,
             const BwDesign  *design,
             GError         **error)
{
  sqlite3_stmt *statement = bw_rows_select (library, table, id, error);
  BwStep step;

  if (statement == NULL)
    return FALSE;

  while ((step = bw_sql_step (library, statement, error)) == BW_STEP_ROW)
    {
      GArray *array = array_of_parent (design, table, (guint) sqlite3_column_int (statement, 0));

      if (array == NULL)
        continue;

      g_array_set_size (array, array->len + 1);
      if (!bw_row_load (library, table, statement,
                        array->data + (gsize) (array->len - 1) * g_array_get_element_size (array),
                        error))
        {
          bw_sql_done (statement);
          return FALSE;
        }
    }

  return step == BW_STEP_DONE;
}

/* Gives a new element the arrays that its rows do not hold. */
static void
init_element (const BwRowTable *table,
              gpointer       element)
{
  if (table == &swatch_table)
    ((BwSwatch *) element)->readings = g_array_new (FALSE, TRUE, sizeof (BwReading));
  else if (table == &band_table)
    ((BwBand *) element)->stripe = g_array_new (FALSE, TRUE, sizeof (BwStripeStep));
}

static gboolean
load_array (BwLibrary      *library,
            const BwRowTable  *table,
            gint64          id,
            GArray         *array,
            GError        **error)
{
  sqlite3_stmt *statement = bw_rows_select (library, table, id, error);
  guint size = g_array_get_element_size (array);
  BwStep step;

  if (statement == NULL)
    return FALSE;

  g_array_set_size (array, 0);
  while ((step = bw_sql_step (library, statement, error)) == BW_STEP_ROW)
    {
      gpointer element;

      g_array_set_size (array, array->len + 1);
      element = array->data + (gsize) (array->len - 1) * size;
      init_element (table, element);
      if (!bw_row_load (library, table, statement, element, error))
        {
          bw_sql_done (statement);
          return FALSE;
        }
    }

  return step == BW_STEP_DONE;
}

static gboolean
load_sizes (BwLibrary  *library,
            gint64      id,
            BwDesign   *design,
            GError    **error)
{
  sqlite3_stmt *statement = bw_rows_select (library, &size_table, id, error);
  BwStep step;

  if (statement == NULL)
    return FALSE;

  while ((step = bw_sql_step (library, statement, error)) == BW_STEP_ROW)
    {
      SizeRow row = { 0 };
      gboolean ok = bw_row_load (library, &size_table, statement, &row, error);

      row.choice.size = bw_size_copy (&row.wearer);
      row.choice.crown_counts = g_array_new (FALSE, TRUE, sizeof (guint));
      g_array_append_val (design->sizes, row.choice);
      g_free (row.wearer.id);
      g_free (row.wearer.name);
      g_free (row.wearer.source);
      if (!ok)
        {
          bw_sql_done (statement);
          return FALSE;
        }
    }

  return step == BW_STEP_DONE;
}

static void
clear_strings (BwDesign *design)
{
  for (gsize i = 0; i < G_N_ELEMENTS (design_fields); i++)
    if (design_fields[i].kind == BW_ROW_TEXT)
      g_clear_pointer ((char **) ((char *) design + design_fields[i].offset), g_free);
}

static gboolean
load_head (BwLibrary  *library,
           gint64      id,
           BwDesign   *design,
           GError    **error)
{
  sqlite3_stmt *statement = bw_rows_select (library, &design_table, id, error);
  BwStep step;
  gboolean ok;

  if (statement == NULL)
    return FALSE;

  step = bw_sql_step (library, statement, error);
  if (step == BW_STEP_DONE)
    g_set_error (error, BW_LIBRARY_ERROR, BW_LIBRARY_ERROR_MISSING,
                 "there is no such design in the library; list the designs");
  if (step != BW_STEP_ROW)
    return FALSE;

  clear_strings (design);
  ok = bw_row_load (library, &design_table, statement, design, error);
  bw_sql_done (statement);

  return ok;
}

/*
 * bw_design_rows_load:
 *
 * Within a transaction of the caller's, so that all rows are of one moment.
 */
BwDesign *
bw_design_rows_load (BwLibrary  *library,
                     gint64      id,
                     GError    **error)
{
  g_autoptr (BwDesign) design = bw_design_new ();

  if (!load_head (library, id, design, error) ||
      !load_array (library, &colour_table, id, design->colours, error) ||
      !load_array (library, &swatch_table, id, design->swatches, error) ||
      !load_nested (library, &reading_table, id, design, error) ||
      !load_sizes (library, id, design, error) ||
      !load_nested (library, &count_table, id, design, error) ||
      !load_array (library, &band_table, id, design->bands, error) ||
      !load_nested (library, &stripe_table, id, design, error) ||
      !load_array (library, &crown_stripe_table, id, design->crown.stripe, error) ||
      !load_array (library, &wedge_table, id, design->crown.wedges, error) ||
      !load_array (library, &pin_table, id, design->pins, error))
    return NULL;

  return g_steal_pointer (&design);
}

/* ---- removing ------------------------------------------------------------ */

/*
 * bw_design_rows_remove:
 *
 * Removes all rows of a design, its own last. Within a transaction of the
 * caller's.
 */
gboolean
bw_design_rows_remove (BwLibrary  *library,
                       gint64      id,
                       GError    **error)
{
  static const BwRowTable *const tables[] = {
    &reading_table, &swatch_table, &count_table, &size_table, &stripe_table, &band_table,
    &colour_table, &crown_stripe_table, &wedge_table, &pin_table,
  };

  for (gsize i = 0; i < G_N_ELEMENTS (tables); i++)
    {
      g_autofree char *sql = g_strdup_printf ("DELETE FROM %s WHERE design = ?", tables[i]->name);

      if (!bw_sql_do (library, error, sql, "l", id))
        return FALSE;
    }

  return bw_sql_do (library, error, "DELETE FROM design WHERE id = ?", "l", id);
}
