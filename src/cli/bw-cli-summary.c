#define G_LOG_DOMAIN "bw-cli"

#include "bw-cli-private.h"

#include <math.h>

#include "bw-cli-table.h"

/* What cannot be known is shown as a dash, never as a nought. */
#define UNKNOWN "–"

static gboolean
is_sideways (const BwDesign *design)
{
  return design->brim.kind == BW_BRIM_SLIP_RIB || design->brim.kind == BW_BRIM_LOW_RIB;
}

static void
add_count (BwCliTable *table,
           guint       count)
{
  bw_cli_table_take (table, g_strdup_printf ("%u", count));
}

static void
add_number (BwCliTable *table,
            double      value,
            guint       decimals)
{
  char format[] = "%.0f";
  char number[G_ASCII_DTOSTR_BUF_SIZE];

  format[2] = (char) ('0' + decimals);
  bw_cli_table_add (table, g_ascii_formatd (number, sizeof number, format, value));
}

/* Columns of lengths have the same number of decimals in every cell. */
static void
add_length (BwCliTable     *table,
            const BwDesign *design,
            double          mm)
{
  if (design->units == BW_UNITS_INCH)
    add_number (table, mm / design->mm_per_inch, 2);
  else
    add_number (table, mm / 10, 1);
}

/* --- Sizes --- */

static void
add_size_headings (BwCliTable     *table,
                   const BwDesign *design)
{
  gboolean sideways = is_sideways (design);
  const char *unit = bw_words_unit (design);
  const char *const headings[] = {
    _("Size"), _("Head"), _("Body"), _("Girth"), "±", _("Brim"), "", "", _("Depth"), _("Crown"), "",
    "", unit, _("sts"), unit, unit,
    sideways ? _("rows") : _("sts"), sideways ? _("ch") : _("rnds"), unit, unit, _("sts"),
    _("wedges"),
  };

  for (guint i = 0; i < G_N_ELEMENTS (headings); i++)
    bw_cli_table_add (table, headings[i]);
}

/* The foundation chain as the rounds have it: chain of a sideways brim. */
static guint
foundation_chain (const BwGradedSize *size)
{
  const GArray *rounds = size->rounds->rounds;

  return rounds->len > 0 ? g_array_index (rounds, BwRound, 0).stitches_out : 0;
}

static void
add_brim (BwCliTable         *table,
          const BwDesign     *design,
          const BwGradedSize *size)
{
  if (design->brim.kind == BW_BRIM_NONE)
    {
      for (guint i = 0; i < 3; i++)
        bw_cli_table_add (table, UNKNOWN);
      return;
    }

  add_count (table, is_sideways (design) ? size->brim_rows : size->brim_stitches);
  add_count (table, is_sideways (design) ? foundation_chain (size) : size->brim_rows);
  add_length (table, design, size->brim_mm);
}

static void
add_size (BwCliTable         *table,
          const BwDesign     *design,
          const BwGradedSize *size)
{
  bw_cli_table_add (table, bw_words_size_name (size->choice));
  add_length (table, design, size->head_mm);
  add_count (table, size->body_stitches);
  add_length (table, design, size->girth_mm);
  add_length (table, design, size->girth_u95_mm);
  add_brim (table, design, size);
  add_length (table, design, size->depth_mm);
  add_count (table, size->crown_start);
  if (size->wedges > 0)
    bw_cli_table_take (table, g_strdup_printf ("%u × %u", size->wedges,
                                               size->crown_start / size->wedges));
  else
    bw_cli_table_add (table, UNKNOWN);
}

static void
append_sizes (GString         *out,
              const BwGrading *grading)
{
  g_autoptr (BwCliTable) table = bw_cli_table_new (11, 1);
  /* The interval, the brim's second and third figure, the wedges */
  static const guint tight[] = { 4, 6, 7, 10 };

  for (guint i = 0; i < G_N_ELEMENTS (tight); i++)
    bw_cli_table_tighten (table, tight[i]);
  add_size_headings (table, grading->design);
  for (guint k = 0; k < grading->sizes->len; k++)
    add_size (table, grading->design, g_ptr_array_index (grading->sizes, k));

  g_string_append_printf (out, "\n%s\n", _("Sizes"));
  bw_cli_table_print (table, out);
}

/* --- Yarn and work --- */

static void
add_yarn_headings (BwCliTable     *table,
                   const BwDesign *design)
{
  bw_cli_table_add (table, _("Size"));
  bw_cli_table_add (table, _("Rnds"));
  for (guint c = 0; c < design->colours->len; c++)
    bw_cli_table_take (table, g_strdup_printf (_("%c m"), (char) ('A' + c)));
  bw_cli_table_add (table, _("all m"));
  bw_cli_table_add (table, _("g"));
  bw_cli_table_add (table, _("balls"));
  bw_cli_table_add (table, _("cost"));
  bw_cli_table_add (table, _("ends"));
  bw_cli_table_add (table, _("time"));
}

/* "2 + 1": balls of each colour */
static void
add_balls (BwCliTable         *table,
           const BwDesign     *design,
           const BwGradedSize *size)
{
  GString *cell = g_string_new (NULL);

  if (design->yarn.metres_per_ball <= 0)
    g_string_append (cell, UNKNOWN);
  for (guint c = 0; c < design->colours->len && design->yarn.metres_per_ball > 0; c++)
    g_string_append_printf (cell, "%s%u", c > 0 ? " + " : "", size->balls[c]);
  bw_cli_table_take (table, g_string_free (cell, FALSE));
}

static void
add_time (BwCliTable *table,
          double      minutes)
{
  guint whole = (guint) lround (minutes);

  if (whole == 0)
    bw_cli_table_add (table, UNKNOWN);
  else
    bw_cli_table_take (table, g_strdup_printf (_("%u h %02u"), whole / 60, whole % 60));
}

static void
add_yarn (BwCliTable         *table,
          const BwDesign     *design,
          const BwGradedSize *size)
{
  bw_cli_table_add (table, bw_words_size_name (size->choice));
  add_count (table, size->n_rounds);
  for (guint c = 0; c < design->colours->len; c++)
    add_number (table, size->colour_m[c], 0);
  add_number (table, size->yarn_m, 0);
  if (size->yarn_g > 0)
    add_number (table, size->yarn_g, 0);
  else
    bw_cli_table_add (table, UNKNOWN);
  add_balls (table, design, size);
  if (size->yarn_cost > 0)
    add_number (table, size->yarn_cost, 2);
  else
    bw_cli_table_add (table, UNKNOWN);
  add_count (table, size->ends);
  add_time (table, size->minutes);
}

static void
append_yarn (GString         *out,
             const BwGrading *grading)
{
  const BwDesign *design = grading->design;
  g_autoptr (BwCliTable) table = bw_cli_table_new (8 + design->colours->len, 1);
  const char *currency = design->yarn.currency;

  for (guint c = 1; c < design->colours->len; c++)
    bw_cli_table_tighten (table, 2 + c);
  add_yarn_headings (table, design);
  for (guint k = 0; k < grading->sizes->len; k++)
    add_yarn (table, design, g_ptr_array_index (grading->sizes, k));

  g_string_append_printf (out, "\n%s", _("Yarn and work"));
  if (design->yarn.name != NULL && *design->yarn.name != '\0')
    g_string_append_printf (out, ": %s", design->yarn.name);
  if (currency != NULL && *currency != '\0')
    g_string_append_printf (out, _(" (cost in %s)"), currency);
  g_string_append_c (out, '\n');
  bw_cli_table_print (table, out);
}

/* --- Head --- */

static void
append_colours (GString        *out,
                const BwDesign *design)
{
  g_autoptr (GString) line = g_string_new (_("Colours: "));

  for (guint c = 0; c < design->colours->len; c++)
    {
      g_autofree char *colour = bw_words_colour (design, c);

      g_string_append_printf (line, "%s%s", c > 0 ? ", " : "", colour);
    }
  bw_cli_text_wrap (out, line->str, 2, 4);
}

static void
append_gauge (GString         *out,
              const BwGrading *grading)
{
  const BwDesign *design = grading->design;
  double span_mm = design->units == BW_UNITS_INCH ? 4 * design->mm_per_inch : 100;
  g_autofree char *gauge = bw_gauge_format (&grading->body_gauge, span_mm, design->units,
                                            design->mm_per_inch);
  g_autofree char *line = g_strdup_printf (_("Gauge, %s: %s"),
                                           bw_words_fabric (grading, design->body_fabric), gauge);

  bw_cli_text_wrap (out, line, 2, 4);
}

static void
append_shape (GString         *out,
              const BwGrading *grading)
{
  const BwDesign *design = grading->design;
  g_autofree char *body = bw_words_ease (design, &design->body_ease);
  g_autofree char *brim = bw_words_ease (design, &design->brim_ease);
  g_autofree char *line = g_strdup_printf (_("Shape: %s, %s. Ease: body %s, relaxed brim %s"),
                                           bw_words_brim (design->brim.kind),
                                           bw_words_crown (design->crown.profile), body, brim);

  bw_cli_text_wrap (out, line, 2, 4);
}

/* The designer's own lines stay lines. */
static void
append_prose (GString    *out,
              const char *prose)
{
  g_auto (GStrv) lines = g_strsplit (prose, "\n", -1);

  for (guint i = 0; lines[i] != NULL && *prose != '\0'; i++)
    bw_cli_text_wrap (out, lines[i], 2, 2);
}

/**
 * bw_cli_text_summary:
 * @out: where it goes
 * @grading: a graded design
 *
 * What the design is, then a table of its sizes and one of their yarn.
 */
void
bw_cli_text_summary (GString         *out,
                     const BwGrading *grading)
{
  const BwDesign *design = grading->design;

  g_string_append (out, *design->name != '\0' ? design->name : _("A hat without a name"));
  if (*design->code != '\0')
    g_string_append_printf (out, " (%s)", design->code);
  g_string_append_c (out, '\n');
  append_prose (out, design->summary);
  append_gauge (out, grading);
  append_shape (out, grading);
  append_colours (out, design);
  append_sizes (out, grading);
  append_yarn (out, grading);
}
