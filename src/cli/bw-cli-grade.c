#define G_LOG_DOMAIN "bw-cli"

#include "bw-cli-private.h"

#include "bw-publish-table.h"

/* brimwright-cli grade: the sizes, the rounds and the findings of a design. */

typedef struct
{
  BwCliInput input;
  gboolean   all_sizes;
  char      *csv;        /* NULL = text */
} Asked;

static void
asked_clear (Asked *asked)
{
  bw_cli_input_clear (&asked->input);
  g_clear_pointer (&asked->csv, g_free);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Asked, asked_clear)

static gboolean
parse (Asked  *asked,
       char  **arguments)
{
  const GOptionEntry entries[] = {
    BW_CLI_INPUT_OPTIONS (&asked->input),
    { "all-sizes", 0, 0, G_OPTION_ARG_NONE, &asked->all_sizes, NULL, NULL },
    { "csv", 0, 0, G_OPTION_ARG_FILENAME, &asked->csv, NULL, NULL },
    G_OPTION_ENTRY_NULL
  };

  if (!bw_cli_parse (entries, arguments, &asked->input.file))
    return FALSE;
  if (asked->all_sizes && asked->input.size != NULL)
    {
      bw_cli_complain (_("--size and --all-sizes exclude each other: give one of them"));
      return FALSE;
    }
  if (asked->csv != NULL && !g_str_equal (asked->csv, "rounds") &&
      !g_str_equal (asked->csv, "sizes") && !g_str_equal (asked->csv, "yarn"))
    {
      bw_cli_complain (_("%s takes %s, %s or %s, not “%s”"), "--csv", "rounds", "sizes", "yarn",
                       asked->csv);
      return FALSE;
    }
  return TRUE;
}

/* The text of a grading; `only` is the size to show the rounds of, -1 = all. */
static void
append_text (GString         *out,
             const BwGrading *grading,
             int              only)
{
  bw_cli_text_summary (out, grading);
  for (guint k = 0; k < grading->sizes->len; k++)
    if (only < 0 || only == (int) k)
      bw_cli_text_rounds (out, grading, k);
  bw_cli_text_findings (out, grading);
}

static BwExit
grade (char    **arguments,
       GString  *out)
{
  g_auto (Asked) asked = { 0 };
  g_auto (BwCliGrading) graded = { 0 };
  BwExit status;
  int only = -1;
  guint k;

  if (!parse (&asked, arguments))
    return BW_EXIT_BAD_INPUT;
  status = bw_cli_grade (&asked.input, &graded);
  if (status != BW_EXIT_GRADED)
    return status;

  if (asked.input.size != NULL)
    {
      if (!bw_cli_find_size (graded.grading, asked.input.size, &k))
        return BW_EXIT_BAD_INPUT;
      only = (int) k;
    }

  if (asked.csv == NULL)
    append_text (out, graded.grading,
                 only < 0 && !asked.all_sizes ? (int) graded.grading->sizes->len / 2 : only);
  else if (g_str_equal (asked.csv, "rounds"))
    bw_table_rounds (out, graded.grading, only);
  else if (g_str_equal (asked.csv, "sizes"))
    bw_table_sizes (out, graded.grading, only);
  else
    bw_table_yarn (out, graded.grading, only);
  return BW_EXIT_GRADED;
}

const BwVerb bw_cli_verb_grade = { "grade", grade, NULL };
