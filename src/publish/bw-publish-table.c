#define G_LOG_DOMAIN "bw-publish"

#include "bw-publish-table.h"

#include <string.h>

#include "bw-words.h"

/* Comma-separated values as RFC 4180 has them: a header line, lines ended by
 * CR LF, fields quoted where they hold a comma, a quote or a line end. Numbers
 * have a dot whatever the locale. */

#define MM_DECIMALS   1
#define YARN_DECIMALS 2
#define COST_DECIMALS 2

/**
 * bw_table_field:
 * @line: a line; empty before its first field, which may not be empty itself
 * @text: what the field says
 *
 * Appends a field, quoted if need be.
 */
void
bw_table_field (GString    *line,
                const char *text)
{
  if (line->len > 0)
    g_string_append_c (line, ',');
  if (strpbrk (text, ",\"\r\n") == NULL)
    {
      g_string_append (line, text);
      return;
    }

  g_string_append_c (line, '"');
  for (const char *c = text; *c != '\0'; c++)
    {
      if (*c == '"')
        g_string_append_c (line, '"');
      g_string_append_c (line, *c);
    }
  g_string_append_c (line, '"');
}

static void
append_count (GString *line,
              guint    count)
{
  g_string_append_printf (line, ",%u", count);
}

/* Always so many decimals, so that a column reads as one. */
static void
append_number (GString *line,
               double   value,
               guint    decimals)
{
  char format[] = "%.0f";
  char number[G_ASCII_DTOSTR_BUF_SIZE];

  format[2] = (char) ('0' + decimals);
  g_string_append_c (line, ',');
  g_string_append (line, g_ascii_formatd (number, sizeof number, format, value));
}

/* What is not known is an empty field, never a nought. */
static void
append_known (GString *line,
              double   value,
              guint    decimals)
{
  if (value > 0)
    append_number (line, value, decimals);
  else
    bw_table_field (line, "");
}

static void
end_line (GString *out,
          GString *line)
{
  g_string_append_len (out, line->str, (gssize) line->len);
  g_string_append (out, "\r\n");
  g_string_truncate (line, 0);
}

static void
append_round (GString            *line,
              const BwGrading    *grading,
              const BwGradedSize *size,
              guint               index)
{
  const BwRound *round = &g_array_index (size->rounds->rounds, BwRound, index);
  g_autofree char *work = bw_words_round_work (grading, size, index);
  char colour[2] = { (char) ('A' + round->colour), '\0' };

  bw_table_field (line, bw_words_size_name (size->choice));
  bw_table_field (line, bw_section_id ((BwSection) round->section));
  append_count (line, round->number);
  bw_table_field (line, colour);
  bw_table_field (line, work);
  append_count (line, round->stitches_in);
  append_count (line, round->stitches_out);
  append_number (line, round->girth_mm, MM_DECIMALS);
  append_number (line, round->height_mm, MM_DECIMALS);
  append_number (line, round->yarn_m, YARN_DECIMALS);
}

/**
 * bw_table_rounds:
 * @out: where it goes
 * @grading: a graded design
 * @only: the one size to print, -1 = all
 *
 * One line for each round and row of each size, none folded.
 */
void
bw_table_rounds (GString         *out,
                 const BwGrading *grading,
                 int              only)
{
  g_autoptr (GString) line = g_string_new (NULL);

  g_string_append (out, "size,section,round,colour,instruction,stitches_in,stitches_out,"
                        "girth_mm,height_mm,yarn_m\r\n");
  for (guint k = 0; k < grading->sizes->len; k++)
    {
      const BwGradedSize *size = g_ptr_array_index (grading->sizes, k);

      for (guint i = 0; i < size->rounds->rounds->len && (only < 0 || only == (int) k); i++)
        {
          append_round (line, grading, size, i);
          end_line (out, line);
        }
    }
}

static void
append_size (GString            *line,
             const BwGradedSize *size)
{
  bw_table_field (line, bw_words_size_name (size->choice));
  append_number (line, size->head_mm, MM_DECIMALS);
  append_number (line, size->body_target_mm, MM_DECIMALS);
  append_count (line, size->body_stitches);
  append_number (line, size->girth_mm, MM_DECIMALS);
  append_number (line, size->girth_u95_mm, MM_DECIMALS);
  append_count (line, size->brim_rows);
  append_count (line, size->brim_stitches);
  append_number (line, size->brim_mm, MM_DECIMALS);
  append_count (line, size->crown_start);
  append_count (line, size->wedges);
  append_count (line, size->n_rounds);
  append_number (line, size->depth_target_mm, MM_DECIMALS);
  append_number (line, size->depth_mm, MM_DECIMALS);
  append_number (line, size->yarn_m, YARN_DECIMALS);
  append_known (line, size->yarn_g, YARN_DECIMALS);
  append_known (line, size->yarn_cost, COST_DECIMALS);
}

/**
 * bw_table_sizes:
 * @out: where it goes
 * @grading: a graded design
 * @only: the one size to print, -1 = all
 *
 * One line for each size. Mass and cost are empty where the yarn's mass or price
 * is not known.
 */
void
bw_table_sizes (GString         *out,
                const BwGrading *grading,
                int              only)
{
  g_autoptr (GString) line = g_string_new (NULL);

  g_string_append (out, "size,head_mm,body_target_mm,body_stitches,girth_mm,girth_u95_mm,"
                        "brim_rows,brim_stitches,brim_mm,crown_start,wedges,rounds,"
                        "depth_target_mm,depth_mm,yarn_m,yarn_g,cost\r\n");
  for (guint k = 0; k < grading->sizes->len; k++)
    {
      if (only >= 0 && only != (int) k)
        continue;
      append_size (line, g_ptr_array_index (grading->sizes, k));
      end_line (out, line);
    }
}

static void
append_yarn (GString            *line,
             const BwGrading    *grading,
             const BwGradedSize *size,
             guint               colour)
{
  const BwDesign *design = grading->design;
  const char *name = g_array_index (design->colours, BwColour, colour).name;
  char letter[2] = { (char) ('A' + colour), '\0' };

  bw_table_field (line, bw_words_size_name (size->choice));
  bw_table_field (line, letter);
  bw_table_field (line, name);
  append_number (line, size->colour_m[colour], YARN_DECIMALS);
  append_known (line, bw_yarn_metres_to_grams (&design->yarn, size->colour_m[colour]),
                YARN_DECIMALS);
  append_known (line, size->balls[colour], 0);
  append_known (line, bw_yarn_cost (&design->yarn, size->colour_m[colour]), COST_DECIMALS);
}

/**
 * bw_table_yarn:
 * @out: where it goes
 * @grading: a graded design
 * @only: the one size to print, -1 = all
 *
 * One line for each colour of each size. Mass, balls and cost are empty where the
 * design does not say what they follow from.
 */
void
bw_table_yarn (GString         *out,
               const BwGrading *grading,
               int              only)
{
  g_autoptr (GString) line = g_string_new (NULL);

  g_string_append (out, "size,colour,name,yarn_m,yarn_g,balls,cost\r\n");
  for (guint k = 0; k < grading->sizes->len; k++)
    for (guint c = 0; c < grading->design->colours->len && (only < 0 || only == (int) k); c++)
      {
        append_yarn (line, grading, g_ptr_array_index (grading->sizes, k), c);
        end_line (out, line);
      }
}
