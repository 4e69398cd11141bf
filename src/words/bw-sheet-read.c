#define G_LOG_DOMAIN "bw-words"

#include "bw-words-private.h"

#include <string.h>

#include "bw-error.h"
#include "bw-words-sheet.h"

/* The sheet as it comes back: by mail, with lines quoted and spaces added, in
 * other units than were asked for. What cannot be read is named by its line;
 * nothing is guessed. */

/* A sheet that is being read. */
typedef struct
{
  const BwGrading *grading;
  BwTested        *tested;
  GPtrArray       *places;   /* of the size that the sheet names; NULL = not named yet */
  gboolean         filled;   /* anything at all */
  gboolean         seen[BW_SHEET_N][BW_STRIPE_COLOURS_MAX];
  double           had_m[BW_STRIPE_COLOURS_MAX];  /* -1 = not said */
  double           left_m[BW_STRIPE_COLOURS_MAX];
} Sheet;

/* One line: what is asked and what stands behind it. */
typedef struct
{
  guint number;
  char *label;
  char *value;
} Line;

/**
 * bw_tested_free:
 * @tested: (nullable): a sheet that was read
 */
void
bw_tested_free (BwTested *tested)
{
  if (tested == NULL)
    return;

  g_free (tested->tester);
  g_free (tested->date);
  g_free (tested->yarn);
  g_free (tested->remarks);
  g_free (tested);
}

static gboolean
fail (const Line  *line,
      GError     **error,
      const char  *why)
{
  g_set_error (error, BW_ERROR, BW_ERROR_SYNTAX, _("line %u, “%s”: %s"), line->number, line->label,
               why);
  return FALSE;
}

/* --- Figures --- */

static gboolean
read_number (const Line  *line,
             double      *value,
             GError     **error)
{
  g_autoptr (GError) wrong = NULL;

  if (bw_units_parse_number (line->value, value, &wrong) && *value > 0)
    return TRUE;
  return fail (line, error, wrong != NULL ? wrong->message : _("a number above nought is wanted"));
}

static gboolean
read_length (const Sheet *sheet,
             const Line  *line,
             double      *mm,
             GError     **error)
{
  const BwDesign *design = sheet->grading->design;
  g_autoptr (GError) wrong = NULL;

  if (bw_units_parse_length (line->value, design->units, design->mm_per_inch, mm, &wrong) &&
      *mm > 0)
    return TRUE;
  return fail (line, error,
               wrong != NULL ? wrong->message : _("a length above nought is wanted"));
}

/* "46 g", "92 m", "1.5 oz", "100 yd"; a bare number is grams. */
static gboolean
read_yarn (const Sheet *sheet,
           const Line  *line,
           double      *metres,
           GError     **error)
{
  const BwYarn *yarn = &sheet->grading->design->yarn;
  double grams;

  if (bw_units_parse_mass (line->value, &grams, NULL))
    {
      if (yarn->grams_per_ball <= 0 || yarn->metres_per_ball <= 0)
        return fail (line, error, _("the design does not say how long and how heavy a ball is, so "
                                    "write metres: 92 m"));
      *metres = bw_yarn_grams_to_metres (yarn, grams);
      return TRUE;
    }
  if (bw_units_parse_yarn (line->value, metres, NULL))
    return TRUE;
  return fail (line, error, _("write how much yarn as 46 g or as 92 m"));
}

/* "3:40", "3 h 40 min", "220 min", "3.5 h", "3.5" hours. */
static gboolean
read_time (const Line  *line,
           double      *minutes,
           GError     **error)
{
  g_autofree char *text = g_ascii_strdown (line->value, -1);
  g_auto (GStrv) clock = g_strsplit (text, ":", -1);
  double hours = 0, rest = 0;
  char *at = text;
  char *h = strchr (text, 'h');

  if (g_strv_length (clock) == 2)
    {
      if (bw_units_parse_number (clock[0], &hours, NULL) &&
          bw_units_parse_number (clock[1], &rest, NULL) && rest < 60)
        {
          *minutes = 60 * hours + rest;
          return TRUE;
        }
      return fail (line, error, _("write hours and minutes as 3 h 40 min or 3:40"));
    }

  if (h != NULL)
    {
      *h = '\0';
      if (!bw_units_parse_number (text, &hours, NULL))
        return fail (line, error, _("write hours and minutes as 3 h 40 min or 3:40"));
      at = h + 1 + strspn (h + 1, "oursr. ");
    }
  else if (strchr (text, 'm') == NULL)
    {
      at = text + strlen (text);
      if (!bw_units_parse_number (text, &hours, NULL))
        return fail (line, error, _("write hours and minutes as 3 h 40 min or 3:40"));
    }

  if (*at != '\0')
    {
      at[strcspn (at, "m")] = '\0';
      if (!bw_units_parse_number (at, &rest, NULL))
        return fail (line, error, _("write hours and minutes as 3 h 40 min or 3:40"));
    }
  *minutes = 60 * hours + rest;
  return TRUE;
}

/* --- Lines --- */

static gboolean
is_label (const Line *line,
          const char *msgid)
{
  return g_ascii_strcasecmp (line->label, msgid) == 0 ||
         g_strcmp0 (line->label, _(msgid)) == 0;
}

static gboolean
take_size (Sheet       *sheet,
           const Line  *line,
           GError     **error)
{
  int k = bw_words_find_size (sheet->grading->design, line->value);

  if (k < 0)
    return fail (line, error, _("the design has no such size; take a sheet of this design"));
  sheet->tested->k = (guint) k;
  g_clear_pointer (&sheet->places, g_ptr_array_unref);
  sheet->places = bw_sheet_places (sheet->grading, (guint) k);
  return TRUE;
}

static gboolean
take_design (const Sheet *sheet,
             const Line  *line,
             GError     **error)
{
  if (g_str_equal (line->value, sheet->grading->design->name))
    return TRUE;
  g_set_error (error, BW_ERROR, BW_ERROR_CONFLICT,
               _("the sheet is for “%s”, the design is “%s”; name the design it is for"),
               line->value, sheet->grading->design->name);
  return FALSE;
}

static gboolean
take_value (Sheet              *sheet,
            const BwSheetPlace *place,
            const Line         *line,
            GError            **error)
{
  BwTested *tested = sheet->tested;

  switch (place->field)
    {
    case BW_SHEET_TESTER:
      tested->tester = g_strdup (line->value);
      return TRUE;
    case BW_SHEET_DATE:
      tested->date = g_strdup (line->value);
      return TRUE;
    case BW_SHEET_YARN:
      tested->yarn = g_strdup (line->value);
      return TRUE;
    case BW_SHEET_HOOK:
      {
        g_autofree char *bare = g_str_has_suffix (line->value, "mm")
                                  ? g_strndup (line->value, strlen (line->value) - 2)
                                  : g_strdup (line->value);
        Line without = { line->number, line->label, g_strstrip (bare) };

        return read_number (&without, &tested->hook_mm, error);
      }
    case BW_SHEET_STITCHES:
      if (!read_length (sheet, line, &tested->stitch_mm, error))
        return FALSE;
      tested->stitch_mm /= BW_SHEET_SPAN;
      return TRUE;
    case BW_SHEET_ROUNDS:
      if (!read_length (sheet, line, &tested->round_mm, error))
        return FALSE;
      tested->round_mm /= BW_SHEET_SPAN;
      return TRUE;
    case BW_SHEET_GIRTH:
      return read_length (sheet, line, &tested->girth_mm, error);
    case BW_SHEET_BRIM:
      return read_length (sheet, line, &tested->brim_mm, error);
    case BW_SHEET_DEPTH:
      return read_length (sheet, line, &tested->depth_mm, error);
    case BW_SHEET_YARN_HAD:
      return read_yarn (sheet, line, &sheet->had_m[place->colour], error);
    case BW_SHEET_YARN_LEFT:
      return read_yarn (sheet, line, &sheet->left_m[place->colour], error);
    case BW_SHEET_TIME:
      return read_time (line, &tested->minutes, error);
    case BW_SHEET_REMARKS:
      tested->remarks = g_strdup (line->value);
      return TRUE;
    case BW_SHEET_N:
    default:
      g_return_val_if_reached (FALSE);
    }
}

static gboolean
take_place (Sheet       *sheet,
            const Line  *line,
            GError     **error)
{
  for (guint i = 0; sheet->places != NULL && i < sheet->places->len; i++)
    {
      const BwSheetPlace *place = g_ptr_array_index (sheet->places, i);

      if (g_ascii_strcasecmp (line->label, place->label) != 0)
        continue;
      if (line->value[0] == '\0')
        return TRUE;
      if (sheet->seen[place->field][place->colour])
        return fail (line, error, _("it is filled in twice; leave one of them"));
      sheet->seen[place->field][place->colour] = TRUE;
      sheet->filled = TRUE;
      return take_value (sheet, place, line, error);
    }

  return TRUE;
}

static gboolean
take_line (Sheet       *sheet,
           const Line  *line,
           GError     **error)
{
  if (is_label (line, N_("Size")))
    return take_size (sheet, line, error);
  if (is_label (line, N_("Design")))
    return take_design (sheet, line, error);
  if (is_label (line, N_("Revision")))
    {
      sheet->tested->revision = (guint) g_ascii_strtoull (line->value, NULL, 10);
      return TRUE;
    }
  return take_place (sheet, line, error);
}

/* What stands before the first bracket or colon, and what behind the colon. */
static gboolean
split_line (const char *text,
            Line       *line)
{
  const char *start = text + strspn (text, "> \t");
  const char *colon = strchr (start, ':');
  gsize label = strcspn (start, "(:");

  if (colon == NULL)
    return FALSE;
  line->label = g_strstrip (g_strndup (start, label));
  line->value = g_strstrip (g_strdup (colon + 1));
  return TRUE;
}

/* Remarks go on to the end. */
static void
take_rest (Sheet  *sheet,
           char  **lines)
{
  g_autofree char *rest = g_strjoinv ("\n", lines);
  g_autofree char *all = NULL;

  g_strstrip (rest);
  if (rest[0] == '\0')
    return;
  all = sheet->tested->remarks != NULL ? g_strconcat (sheet->tested->remarks, "\n", rest, NULL)
                                       : g_strdup (rest);
  g_free (sheet->tested->remarks);
  sheet->tested->remarks = g_steal_pointer (&all);
  sheet->filled = TRUE;
}

static gboolean
read_lines (Sheet   *sheet,
            char   **lines,
            GError **error)
{
  for (guint i = 0; lines[i] != NULL; i++)
    {
      Line line = { i + 1, NULL, NULL };
      gboolean ok, last;

      if (!split_line (lines[i], &line))
        continue;
      ok = take_line (sheet, &line, error);
      last = sheet->places != NULL && is_label (&line, N_("Remarks"));
      g_free (line.label);
      g_free (line.value);
      if (!ok)
        return FALSE;
      if (last)
        {
          take_rest (sheet, lines + i + 1);
          break;
        }
    }

  return TRUE;
}

/* --- The whole --- */

/* Yarn at the start less what is left; where the first is not said, the balls that
 * the pattern asks for. */
static gboolean
work_out_yarn (Sheet   *sheet,
               GError **error)
{
  const BwDesign *design = sheet->grading->design;
  const BwGradedSize *size = g_ptr_array_index (sheet->grading->sizes, sheet->tested->k);

  for (guint c = 0; c < design->colours->len; c++)
    {
      double had = sheet->had_m[c] >= 0 ? sheet->had_m[c]
                                        : size->balls[c] * design->yarn.metres_per_ball;

      if (sheet->left_m[c] < 0)
        continue;
      if (sheet->left_m[c] >= had)
        {
          g_set_error (error, BW_ERROR, BW_ERROR_CONFLICT,
                       _("of yarn %c as much is left as there was at the start, or more; write how "
                         "much there was in “at the start”"),
                       (char) ('A' + c));
          return FALSE;
        }
      sheet->tested->used_m[c] = had - sheet->left_m[c];
    }

  return TRUE;
}

static gboolean
read_sheet (Sheet       *sheet,
            const char  *text,
            GError     **error)
{
  g_autofree char *unix_text = g_strdup (text);
  g_auto (GStrv) lines = NULL;

  lines = g_strsplit (g_strdelimit (unix_text, "\r", ' '), "\n", -1);
  if (!read_lines (sheet, lines, error))
    return FALSE;

  if (sheet->places == NULL)
    {
      g_set_error_literal (error, BW_ERROR, BW_ERROR_MISSING,
                           _("there is no line “Size:” in it; take a sheet that was written for "
                             "this design"));
      return FALSE;
    }
  if (!sheet->filled)
    {
      g_set_error_literal (error, BW_ERROR, BW_ERROR_MISSING, _("nothing is filled in"));
      return FALSE;
    }

  return work_out_yarn (sheet, error);
}

/**
 * bw_tested_read:
 * @grading: the family that the sheet was written for, in its own units
 * @text: the sheet as it came back, UTF-8
 * @error: what cannot be read, and what would do
 *
 * Returns: (transfer full) (nullable): what was filled in
 */
BwTested *
bw_tested_read (const BwGrading  *grading,
                const char       *text,
                GError          **error)
{
  Sheet sheet = { .grading = grading, .tested = g_new0 (BwTested, 1) };
  gboolean ok;

  for (guint c = 0; c < BW_STRIPE_COLOURS_MAX; c++)
    sheet.had_m[c] = sheet.left_m[c] = -1;
  ok = read_sheet (&sheet, text, error);
  g_clear_pointer (&sheet.places, g_ptr_array_unref);
  if (!ok)
    g_clear_pointer (&sheet.tested, bw_tested_free);
  return sheet.tested;
}
