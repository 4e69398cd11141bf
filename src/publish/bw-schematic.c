#define G_LOG_DOMAIN "bw-publish"

#include "bw-publish-private.h"

#include "bw-schematic.h"
#include "bw-words.h"

#define PLATEAU_MAX 3 /* plain rounds of a crown that are evened out */

static void
measure_clear (gpointer data)
{
  BwMeasure *measure = data;

  g_free (measure->name);
  g_free (measure->mm);
}

/**
 * bw_schematic_free:
 * @schematic: (nullable): a schematic
 */
void
bw_schematic_free (BwSchematic *schematic)
{
  if (schematic == NULL)
    return;

  g_free (schematic->title);
  g_ptr_array_unref (schematic->sizes);
  g_array_unref (schematic->measures);
  g_array_unref (schematic->outline);
  g_free (schematic);
}

/* --- Figures --- */

static double
crown_start_of (const BwGradedSize *size)
{
  double height = size->depth_mm;

  for (guint i = size->rounds->rounds->len; i-- > 0;)
    {
      const BwRound *round = &g_array_index (size->rounds->rounds, BwRound, i);

      if (round->section == BW_SECTION_CROWN)
        height = round->height_mm - round->round_mm;
    }

  return height;
}

static double
measure_of (const BwGradedSize *size,
            BwMeasureKind       kind)
{
  switch (kind)
    {
    case BW_MEASURE_GIRTH:
      return size->girth_mm;
    case BW_MEASURE_BRIM:
      return size->brim_mm;
    case BW_MEASURE_BRIM_HEIGHT:
      return size->brim_height_mm;
    case BW_MEASURE_CROWN_START:
      return crown_start_of (size);
    case BW_MEASURE_DEPTH:
    default:
      return size->depth_mm;
    }
}

static const char *
measure_name (BwMeasureKind kind,
              gboolean      folded)
{
  switch (kind)
    {
    case BW_MEASURE_GIRTH:
      return _("Finished girth");
    case BW_MEASURE_BRIM:
      return _("Brim, relaxed");
    case BW_MEASURE_BRIM_HEIGHT:
      return folded ? _("Brim height, turned up") : _("Brim height");
    case BW_MEASURE_CROWN_START:
      return _("Edge to start of crown");
    case BW_MEASURE_DEPTH:
    default:
      return _("Depth, edge to middle of crown");
    }
}

static void
add_measures (BwSchematic     *schematic,
              const BwGrading *grading,
              guint            first,
              guint            n)
{
  for (guint kind = BW_MEASURE_GIRTH; kind <= BW_MEASURE_DEPTH; kind++)
    {
      BwMeasure measure = { .kind = (BwMeasureKind) kind,
                            .letter = (char) ('A' + schematic->measures->len) };

      if (grading->design->brim.kind == BW_BRIM_NONE &&
          (kind == BW_MEASURE_BRIM || kind == BW_MEASURE_BRIM_HEIGHT))
        continue;
      measure.name = g_strdup (measure_name (measure.kind, schematic->folded));
      measure.mm = g_new (double, n);
      for (guint k = 0; k < n; k++)
        measure.mm[k] = measure_of (g_ptr_array_index (grading->sizes, first + k), measure.kind);
      g_array_append_val (schematic->measures, measure);
    }
}

/* --- Outline --- */

static void
add_point (BwSchematic *schematic,
           double       girth_mm,
           double       height_mm)
{
  BwOutlinePoint point = { girth_mm / 4, height_mm };

  g_array_append_val (schematic->outline, point);
}

/* Rounds of the crown with the same girth, from index `first` on. */
static guint
plateau (const GArray *rounds,
         guint         first)
{
  const BwRound *round = &g_array_index (rounds, BwRound, first);
  guint n = 1;

  while (first + n < rounds->len && round[n].section == BW_SECTION_CROWN &&
         round[n].stitches_out == round->stitches_out)
    n++;

  return n;
}

/* Fabric does not stand in steps: a few plain rounds between two decreases are one point
 * in their middle; more of them are a straight piece. */
static void
add_crown (BwSchematic  *schematic,
           const GArray *rounds,
           guint         first)
{
  for (guint i = first, n; i < rounds->len; i += n)
    {
      const BwRound *round = &g_array_index (rounds, BwRound, i);
      const BwRound *last;

      if (round->section != BW_SECTION_CROWN)
        return;
      n = plateau (rounds, i);
      last = round + n - 1;
      if (n <= PLATEAU_MAX && i > first)
        {
          add_point (schematic, round->girth_mm, (round->height_mm + last->height_mm) / 2);
          continue;
        }
      add_point (schematic, round->girth_mm, round->height_mm);
      if (n > 1)
        add_point (schematic, last->girth_mm, last->height_mm);
    }
}

/* The fabric laid flat: half of each round's girth against its distance from the edge. */
static void
add_outline (BwSchematic        *schematic,
             const BwGradedSize *size,
             gboolean            brim)
{
  const GArray *rounds = size->rounds->rounds;

  if (brim)
    {
      add_point (schematic, size->brim_mm, 0);
      add_point (schematic, size->brim_mm, size->brim_height_mm);
    }
  for (guint i = 0; i < rounds->len; i++)
    {
      const BwRound *round = &g_array_index (rounds, BwRound, i);

      if (round->row || round->number == 0 || round->section == BW_SECTION_BRIM)
        continue;
      if (round->section == BW_SECTION_CROWN)
        {
          add_crown (schematic, rounds, i);
          break;
        }
      if (schematic->outline->len == 0)
        add_point (schematic, round->girth_mm, 0);
      add_point (schematic, round->girth_mm, round->height_mm);
    }
  add_point (schematic, 0, size->depth_mm);
}

/**
 * bw_schematic_new:
 * @grading: a graded family, not refused
 * @size: index of the one size; -1 = all of them, with the middle one drawn
 *
 * Returns: (transfer full): the schematic
 */
BwSchematic *
bw_schematic_new (const BwGrading *grading,
                  int              size)
{
  BwSchematic *schematic = g_new0 (BwSchematic, 1);
  guint first = size < 0 ? 0 : (guint) size;
  guint n = size < 0 ? grading->sizes->len : 1;

  schematic->sizes = g_ptr_array_new_with_free_func (g_free);
  schematic->measures = g_array_new (FALSE, TRUE, sizeof (BwMeasure));
  schematic->outline = g_array_new (FALSE, TRUE, sizeof (BwOutlinePoint));
  g_array_set_clear_func (schematic->measures, measure_clear);
  schematic->title = g_strdup (grading->design->name);
  schematic->folded = grading->design->brim.folded;
  schematic->mm_per_inch = grading->design->mm_per_inch;
  g_return_val_if_fail (first + n <= grading->sizes->len && n > 0, schematic);

  schematic->drawn = n / 2;
  for (guint k = 0; k < n; k++)
    {
      const BwGradedSize *graded = g_ptr_array_index (grading->sizes, first + k);

      g_ptr_array_add (schematic->sizes, g_strdup (bw_words_size_name (graded->choice)));
    }
  add_measures (schematic, grading, first, n);
  add_outline (schematic, g_ptr_array_index (grading->sizes, first + schematic->drawn),
               grading->design->brim.kind != BW_BRIM_NONE);
  return schematic;
}

/**
 * bw_schematic_value:
 * @schematic: a schematic
 * @measure: index of a measure
 * @size: index of one of its sizes
 * @units: cm or in
 *
 * Each unit is printed from the graded length, never one from the other's print.
 *
 * Returns: (transfer full): "44.8 cm", "17 5/8 in"
 */
char *
bw_schematic_value (const BwSchematic *schematic,
                    guint              measure,
                    guint              size,
                    BwUnits            units)
{
  const BwMeasure *m = &g_array_index (schematic->measures, BwMeasure, measure);

  return bw_units_format_length (m->mm[size], units, schematic->mm_per_inch);
}

static void
append_values (GString           *out,
               const BwSchematic *schematic,
               guint              size)
{
  for (guint m = 0; m < schematic->measures->len; m++)
    {
      const BwMeasure *measure = &g_array_index (schematic->measures, BwMeasure, m);
      g_autofree char *cm = bw_schematic_value (schematic, m, size, BW_UNITS_CM);
      g_autofree char *inch = bw_schematic_value (schematic, m, size, BW_UNITS_INCH);

      /* Translators: the letter on the drawing, what it measures, in cm and in inches */
      g_string_append_printf (out, _(" %c, %s: %s (%s)."), measure->letter, measure->name, cm, inch);
    }
}

/**
 * bw_schematic_describe:
 * @schematic: a schematic
 *
 * Returns: (transfer full): the drawing in words, for who cannot see it, with the
 *   figures of the size that is drawn
 */
char *
bw_schematic_describe (const BwSchematic *schematic)
{
  GString *out = g_string_new (NULL);

  g_string_append_printf (out, _("Outline of the hat laid flat, size %s, with its measurements."),
                          (const char *) g_ptr_array_index (schematic->sizes, schematic->drawn));
  append_values (out, schematic, schematic->drawn);
  return g_string_free (out, FALSE);
}
