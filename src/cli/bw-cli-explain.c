#define G_LOG_DOMAIN "bw-cli"

#include "bw-cli-private.h"

/* brimwright-cli explain: why each number of a size was chosen, and what the
 * next best choices would cost. */

/* More than a handful is no longer a choice. */
#define ALTERNATIVES_MOST 6

static void
append_reasons (GString         *out,
                const BwGrading *grading,
                guint            k)
{
  const BwGradedSize *size = g_ptr_array_index (grading->sizes, k);

  g_string_append_printf (out, _("Why these numbers for %s\n"), bw_words_size_name (size->choice));
  for (int what = 0; what < BW_WHY_N; what++)
    {
      g_autofree char *why = bw_words_why (grading, k, (BwWhy) what);
      g_autofree char *line = g_strdup_printf ("%s  %s", bw_words_why_name ((BwWhy) what), why);

      bw_cli_text_wrap (out, line, 2, 6);
    }
}

static void
append_alternatives (GString         *out,
                     const BwGrading *grading,
                     guint            k)
{
  const BwGradedSize *size = g_ptr_array_index (grading->sizes, k);
  guint n = size->alternatives != NULL ? size->alternatives->len : 0;

  g_string_append_printf (out, "\n%s\n", n > 1 ? _("Next best choices") : _("No other choice"));
  /* The first alternative is what was chosen */
  for (guint i = 1; i < n && i <= ALTERNATIVES_MOST; i++)
    {
      g_autofree char *line = bw_words_alternative (grading, k, i);

      bw_cli_text_wrap (out, line, 2, 6);
    }
}

static BwExit
explain (char    **arguments,
         GString  *out)
{
  g_auto (BwCliInput) input = { 0 };
  g_auto (BwCliGrading) graded = { 0 };
  const GOptionEntry entries[] = {
    BW_CLI_INPUT_OPTIONS (&input),
    G_OPTION_ENTRY_NULL
  };
  BwExit status;
  guint k;

  if (!bw_cli_parse (entries, arguments, &input.file))
    return BW_EXIT_BAD_INPUT;
  if (input.size == NULL)
    {
      bw_cli_complain (_("say which size: --size NAME"));
      return BW_EXIT_BAD_INPUT;
    }

  status = bw_cli_grade (&input, &graded);
  if (status != BW_EXIT_GRADED)
    return status;
  if (!bw_cli_find_size (graded.grading, input.size, &k))
    return BW_EXIT_BAD_INPUT;

  append_reasons (out, graded.grading, k);
  append_alternatives (out, graded.grading, k);
  return BW_EXIT_GRADED;
}

const BwVerb bw_cli_verb_explain = { "explain", explain, NULL };
