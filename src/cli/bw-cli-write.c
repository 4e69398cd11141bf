#define G_LOG_DOMAIN "bw-cli"

#include "bw-cli-private.h"

#include "bw-words-pattern.h"

/* brimwright-cli write: the written pattern, all sizes in one text or one alone. */

static BwExit
write_pattern (char    **arguments,
               GString  *out)
{
  g_auto (BwCliInput) input = { 0 };
  g_auto (BwCliGrading) graded = { 0 };
  gboolean full = FALSE;
  const GOptionEntry entries[] = {
    BW_CLI_INPUT_OPTIONS (&input),
    { "full", 0, 0, G_OPTION_ARG_NONE, &full, NULL, NULL },
    G_OPTION_ENTRY_NULL
  };
  g_autoptr (GPtrArray) blocks = NULL;
  g_autofree char *text = NULL;
  BwExit status;
  guint k = 0;

  if (!bw_cli_parse (entries, arguments, &input.file))
    return BW_EXIT_BAD_INPUT;
  if (full && input.size == NULL)
    {
      bw_cli_complain (_("--full writes out every round of one size: say which with --size NAME"));
      return BW_EXIT_BAD_INPUT;
    }

  status = bw_cli_grade (&input, &graded);
  if (status != BW_EXIT_GRADED)
    return status;
  if (input.size != NULL && !bw_cli_find_size (graded.grading, input.size, &k))
    return BW_EXIT_BAD_INPUT;

  blocks = bw_words_pattern (graded.grading, input.size != NULL ? (int) k : -1,
                             full ? BW_PATTERN_FULL : BW_PATTERN_FOLDED);
  text = bw_words_pattern_text (blocks);
  g_string_append (out, text);
  return BW_EXIT_GRADED;
}

const BwVerb bw_cli_verb_write = { "write", write_pattern, NULL };
