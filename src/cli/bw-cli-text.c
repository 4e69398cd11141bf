#define G_LOG_DOMAIN "bw-cli"

#include "bw-cli-private.h"

#include <string.h>

#include "bw-cli-table.h"

#define LINE_WIDTH 80

static void
append_spaces (GString *out,
               guint    n)
{
  for (guint i = 0; i < n; i++)
    g_string_append_c (out, ' ');
}

/* A unit stays on the line of its number, a number on that of its sign. */
static gboolean
sticks (const char *before,
        const char *word)
{
  static const char *const units[] = { "cm", "mm", "in", "%", "m", "g" };
  gsize length = strcspn (word, ".,;:)");

  if (g_str_has_suffix (before, "±"))
    return TRUE;
  for (guint i = 0; i < G_N_ELEMENTS (units); i++)
    if (length == strlen (units[i]) && strncmp (word, units[i], length) == 0)
      return TRUE;

  return FALSE;
}

/**
 * bw_cli_text_wrap:
 * @out: where it goes
 * @text: a paragraph
 * @first_indent: spaces before its first line
 * @indent: spaces before its other lines
 *
 * Sets a paragraph in lines of at most 80 columns; a longer word stays whole.
 */
void
bw_cli_text_wrap (GString    *out,
                  const char *text,
                  guint       first_indent,
                  guint       indent)
{
  g_auto (GStrv) words = g_strsplit (text, " ", -1);
  guint column = first_indent;
  gboolean starts = TRUE;

  append_spaces (out, first_indent);
  for (guint i = 0; words[i] != NULL; i++)
    {
      guint width = bw_cli_text_width (words[i]);
      guint needed = width;
      gboolean stuck = i > 0 && sticks (words[i - 1], words[i]);

      for (guint j = i + 1; words[j] != NULL && sticks (words[j - 1], words[j]); j++)
        needed += 1 + bw_cli_text_width (words[j]);
      if (!starts && !stuck && column + 1 + needed > LINE_WIDTH)
        {
          g_string_append_c (out, '\n');
          append_spaces (out, indent);
          column = indent;
          starts = TRUE;
        }
      if (!starts)
        g_string_append_c (out, ' ');
      g_string_append (out, words[i]);
      column += width + (starts ? 0 : 1);
      starts = FALSE;
    }
  g_string_append_c (out, '\n');
}

static void
append_heading (GString    *out,
                const char *heading)
{
  g_string_append_printf (out, "\n%s\n", heading);
}

static void
append_paragraphs (GString     *out,
                   char       **paragraphs)
{
  for (guint i = 0; paragraphs[i] != NULL; i++)
    bw_cli_text_wrap (out, paragraphs[i], 2, 4);
}

/* --- Rounds --- */

static void
append_line (GString            *out,
             const BwGrading    *grading,
             const BwGradedSize *size,
             guint               first,
             guint               n)
{
  const BwRound *round = &g_array_index (size->rounds->rounds, BwRound, first);
  g_autofree char *label = bw_words_round_label (size->rounds, first, n);
  g_autofree char *work = bw_words_round_work (grading, size, first);
  g_autofree char *count = bw_words_round_count (size->rounds, first);
  g_autofree char *yarn = bw_words_round_yarn (grading, size->rounds, first + n - 1);

  g_string_append_printf (out, "  %c  ", (char) ('A' + round->colour));
  if (*label != '\0')
    g_string_append_printf (out, "%s: ", label);
  g_string_append (out, work);
  if (*count != '\0')
    g_string_append_printf (out, " %s", count);
  g_string_append_c (out, '\n');
  if (*yarn != '\0')
    g_string_append_printf (out, "       %s\n", yarn);
}

/**
 * bw_cli_text_rounds:
 * @out: where it goes
 * @grading: a graded design
 * @k: index of a size
 *
 * The rounds of one size under the headings of its parts, runs of equal rounds
 * folded; then how to finish and measure it. Lines of rounds are not broken, so
 * that they can be searched and copied whole.
 */
void
bw_cli_text_rounds (GString         *out,
                    const BwGrading *grading,
                    guint            k)
{
  const BwGradedSize *size = g_ptr_array_index (grading->sizes, k);
  g_autofree char *working = bw_words_way_of_working (grading);
  g_auto (GStrv) finishing = bw_words_finishing (grading, size, NULL);
  g_auto (GStrv) measuring = bw_words_measuring (grading, size);
  guint n;

  g_string_append_printf (out, _("\nRounds of %s, %s\n"), bw_words_size_name (size->choice),
                          bw_words_terms (grading->design->terms));
  bw_cli_text_wrap (out, working, 2, 2);
  for (guint i = 0; i < size->rounds->rounds->len; i += n)
    {
      g_autofree char *part = bw_words_round_part (grading, size->rounds, i);

      if (part != NULL)
        g_string_append_printf (out, " %s\n", part);
      n = MAX (1, bw_round_list_run (size->rounds, i));
      append_line (out, grading, size, i, n);
    }

  g_string_append_printf (out, " %s\n", _("Finishing"));
  append_paragraphs (out, finishing);
  g_string_append_printf (out, " %s\n", _("How to measure"));
  append_paragraphs (out, measuring);
}

/* --- Findings --- */

/**
 * bw_cli_text_findings:
 * @out: where it goes
 * @grading: a graded design
 *
 * What was found, why it matters and what to do about it, the gravest first.
 */
void
bw_cli_text_findings (GString         *out,
                      const BwGrading *grading)
{
  g_autoptr (GPtrArray) findings = bw_words_findings (grading);

  append_heading (out, findings->len > 0 ? _("Findings and cautions") : _("No findings"));
  for (guint i = 0; i < findings->len; i++)
    {
      const BwWordsFinding *finding = g_ptr_array_index (findings, i);
      g_autofree char *first = NULL;

      first = g_strdup_printf ("%s %s%s%s", bw_words_severity (finding->severity), finding->code,
                               *finding->where != '\0' ? ", " : "", finding->where);
      bw_cli_text_wrap (out, first, 2, 4);
      bw_cli_text_wrap (out, finding->what, 4, 4);
      bw_cli_text_wrap (out, finding->why, 4, 4);
      bw_cli_text_wrap (out, finding->mend, 4, 4);
    }
}
