#define G_LOG_DOMAIN "bw-cli"

#include "bw-cli-private.h"

#include "bw-words-sheet.h"

/* brimwright-cli tested: sheets that testers filled in, beside what was computed. */

#define SHEET_BYTES_MAX (256u * 1024)

typedef struct
{
  BwCliInput input;
  char     **files;  /* the design first */
} Asked;

static void
asked_clear (Asked *asked)
{
  bw_cli_input_clear (&asked->input);
  g_clear_pointer (&asked->files, g_strfreev);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Asked, asked_clear)

static gboolean
parse (Asked  *asked,
       char  **arguments)
{
  const GOptionEntry entries[] = {
    { "terms", 0, 0, G_OPTION_ARG_FILENAME, &asked->input.terms, NULL, NULL },
    { "units", 0, 0, G_OPTION_ARG_FILENAME, &asked->input.units, NULL, NULL },
    { "library", 0, 0, G_OPTION_ARG_FILENAME, &asked->input.library, NULL, NULL },
    { G_OPTION_REMAINING, 0, 0, G_OPTION_ARG_FILENAME_ARRAY, &asked->files, NULL, NULL },
    G_OPTION_ENTRY_NULL
  };
  g_autoptr (GOptionContext) context = g_option_context_new (NULL);
  g_autoptr (GError) error = NULL;
  int n = (int) g_strv_length (arguments);

  g_option_context_set_help_enabled (context, FALSE);
  g_option_context_add_main_entries (context, entries, NULL);
  if (!g_option_context_parse (context, &n, &arguments, &error))
    {
      bw_cli_complain (_("%s; --help lists the options"), error->message);
      return FALSE;
    }
  if (asked->files == NULL || asked->files[1] == NULL)
    {
      bw_cli_complain (_("name the design and the sheets: brimwright-cli tested FILE.hat "
                         "SHEET.txt..."));
      return FALSE;
    }

  asked->input.file = g_strdup (asked->files[0]);
  return TRUE;
}

static BwTested *
read_sheet (const BwGrading *grading,
            const char      *path)
{
  gsize length;
  g_autofree char *text = bw_cli_read_file (path, SHEET_BYTES_MAX, &length);
  g_autoptr (GError) error = NULL;
  BwTested *tested;

  if (text == NULL)
    return NULL;
  if (!g_utf8_validate_len (text, length, NULL))
    {
      bw_cli_complain (_("%s is not in UTF-8; save it as plain text in UTF-8"), path);
      return NULL;
    }

  tested = bw_tested_read (grading, text, &error);
  if (tested == NULL)
    bw_cli_complain ("%s: %s", path, error->message);
  return tested;
}

static void
append_tested (GString         *out,
               const BwGrading *grading,
               const BwTested  *tested)
{
  g_autoptr (GPtrArray) blocks = bw_words_tested (grading, tested);

  for (guint i = 0; i < blocks->len; i++)
    {
      const BwBlock *block = g_ptr_array_index (blocks, i);
      g_autofree char *line = block->lead[0] != '\0'
                                ? g_strdup_printf ("%s: %s", block->lead, block->text)
                                : g_strdup (block->text);

      if (block->kind == BW_BLOCK_TITLE)
        g_string_append_printf (out, "%s%s\n", out->len > 0 ? "\n" : "", line);
      else
        bw_cli_text_wrap (out, line, 2, 4);
    }
}

/* All sheets are read before any is printed. */
static BwExit
tested (char    **arguments,
        GString  *out)
{
  g_auto (Asked) asked = { 0 };
  g_auto (BwCliGrading) graded = { 0 };
  g_autoptr (GPtrArray) sheets = g_ptr_array_new_with_free_func ((GDestroyNotify) bw_tested_free);
  g_autofree char *together = NULL;
  BwExit status;

  if (!parse (&asked, arguments))
    return BW_EXIT_BAD_INPUT;
  status = bw_cli_grade (&asked.input, &graded);
  if (status != BW_EXIT_GRADED)
    return status;

  for (guint i = 1; asked.files[i] != NULL; i++)
    {
      BwTested *one = read_sheet (graded.grading, asked.files[i]);

      if (one == NULL)
        return BW_EXIT_BAD_INPUT;
      g_ptr_array_add (sheets, one);
    }

  for (guint i = 0; i < sheets->len; i++)
    append_tested (out, graded.grading, g_ptr_array_index (sheets, i));
  together = bw_words_testers (graded.grading, sheets);
  if (together[0] != '\0')
    {
      g_string_append_c (out, '\n');
      bw_cli_text_wrap (out, together, 0, 0);
    }
  return BW_EXIT_GRADED;
}

const BwVerb bw_cli_verb_tested = { "tested", tested, NULL };
