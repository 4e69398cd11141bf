#define G_LOG_DOMAIN "bw-cli"

#include "bw-cli-private.h"

#include <errno.h>
#include <stdio.h>
#include <string.h>

#include <glib/gstdio.h>

#include "bw-design-file.h"
#include "bw-reference-builtin.h"

/* A word among a few: its place, or -1 with a complaint. */
static int
choose_word (const char *option,
             const char *value,
             const char *first,
             const char *second)
{
  if (g_str_equal (value, first))
    return 0;
  if (g_str_equal (value, second))
    return 1;
  bw_cli_complain (_("%s takes %s or %s, not “%s”"), option, first, second, value);
  return -1;
}

/**
 * bw_cli_parse:
 * @entries: options of a verb, ended by G_OPTION_ENTRY_NULL
 * @arguments: the verb's name and what follows it; options are taken out
 * @file: (out) (transfer full): the one argument that is left
 *
 * Reads the arguments of a verb that takes one file.
 *
 * Returns: FALSE, after a complaint, when they are wrong
 */
gboolean
bw_cli_parse (const GOptionEntry  *entries,
              char               **arguments,
              char               **file)
{
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

  /* "--" stays in front of what it guards */
  if (n > 1 && g_str_equal (arguments[1], "--"))
    {
      arguments++;
      n--;
    }
  if (n != 2)
    {
      bw_cli_complain (n < 2 ? _("name the design file to read; --help shows how")
                             : _("one design file at a time; --help shows how"));
      return FALSE;
    }

  *file = g_strdup (arguments[1]);
  return TRUE;
}

/**
 * bw_cli_read_file:
 * @path: a file
 * @most: bytes it may have
 * @length: (out): bytes read
 *
 * Reads a file, but never more than one byte beyond @most of it: what is too
 * large, or has no end, is refused without being held in memory.
 *
 * Returns: (transfer full) (nullable): its bytes and a closing zero, or NULL after a
 *   complaint
 */
char *
bw_cli_read_file (const char *path,
                  gsize       most,
                  gsize      *length)
{
  FILE *file = g_fopen (path, "rb");
  g_autofree char *bytes = NULL;
  int failure = file == NULL ? errno : 0;

  if (file != NULL)
    {
      bytes = g_malloc (most + 2);
      *length = fread (bytes, 1, most + 1, file);
      if (ferror (file))
        failure = errno;
      fclose (file);
    }

  if (failure != 0)
    {
      bw_cli_complain (_("%s cannot be read: %s"), path, g_strerror (failure));
      return NULL;
    }
  if (*length > most)
    {
      bw_cli_complain (_("%s is larger than %u KiB, the most a design may have: is it a design "
                         "file?"),
                       path, (guint) (most / 1024));
      return NULL;
    }

  bytes[*length] = '\0';
  return g_steal_pointer (&bytes);
}

/* The design as the file has it, with the terms and units asked for. */
static BwDesign *
read_design (const BwCliInput  *input,
             const BwReference *reference)
{
  int terms = input->terms != NULL ? choose_word ("--terms", input->terms, "uk", "us") : 0;
  int units = input->units != NULL ? choose_word ("--units", input->units, "cm", "in") : 0;
  g_autofree char *text = NULL;
  g_autoptr (GError) error = NULL;
  gsize length;
  BwDesign *design;

  if (terms < 0 || units < 0)
    return NULL;
  text = bw_cli_read_file (input->file, BW_DESIGN_FILE_BYTES_MAX, &length);
  if (text == NULL)
    return NULL;

  design = bw_design_from_text (reference, text, length, &error);
  if (design == NULL)
    {
      bw_cli_complain ("%s: %s", input->file, error->message);
      return NULL;
    }

  if (input->terms != NULL)
    design->terms = terms == 0 ? BW_TERMS_UK : BW_TERMS_US;
  if (input->units != NULL)
    design->units = units == 0 ? BW_UNITS_CM : BW_UNITS_INCH;
  if (!bw_cli_take_gauges (design, input->library))
    g_clear_pointer (&design, bw_design_free);
  return design;
}

/**
 * bw_cli_refusal:
 * @file: the file, or the design's name
 * @grading: a grading that was refused
 *
 * Says why a design was refused, on the standard error output.
 */
void
bw_cli_refusal (const char      *file,
                const BwGrading *grading)
{
  g_autoptr (GPtrArray) findings = bw_words_findings (grading);
  g_autoptr (GString) text = g_string_new (NULL);

  bw_cli_complain (_("%s cannot be graded:"), file);
  for (guint i = 0; i < findings->len; i++)
    {
      const BwWordsFinding *finding = g_ptr_array_index (findings, i);
      g_autofree char *line = NULL;

      if (finding->severity < BW_SEVERITY_ERROR)
        continue;
      line = g_strdup_printf ("%s %s%s%s: %s %s %s", bw_words_severity (finding->severity),
                              finding->code, *finding->where != '\0' ? ", " : "", finding->where,
                              finding->what, finding->why, finding->mend);
      bw_cli_text_wrap (text, line, 2, 4);
    }
  fputs (text->str, stderr);
}

/**
 * bw_cli_grade:
 * @input: the design file and what else was asked for
 * @graded: (out caller-allocates): the graded design; clear it in every case
 *
 * Reads a design and grades it, complaining of all that is wrong.
 *
 * Returns: BW_EXIT_GRADED when there is a grading to show
 */
BwExit
bw_cli_grade (const BwCliInput *input,
              BwCliGrading     *graded)
{
  g_autoptr (BwDesign) design = NULL;
  g_autoptr (GError) error = NULL;

  graded->grading = NULL;
  graded->reference = bw_reference_builtin (&error);
  if (graded->reference == NULL)
    {
      bw_cli_complain (_("the built-in tables are damaged: %s"), error->message);
      return BW_EXIT_BAD_INPUT;
    }

  bw_cli_take_size_tables (graded->reference, input->library);
  design = read_design (input, graded->reference);
  if (design == NULL)
    return BW_EXIT_BAD_INPUT;

  graded->grading = bw_grade (graded->reference, design, &error);
  if (graded->grading == NULL)
    {
      bw_cli_complain ("%s: %s", input->file, error->message);
      return BW_EXIT_BAD_INPUT;
    }
  if (graded->grading->refused)
    {
      bw_cli_refusal (input->file, graded->grading);
      return BW_EXIT_REFUSED;
    }
  return BW_EXIT_GRADED;
}

/**
 * bw_cli_find_size:
 * @grading: a grading
 * @name: id or name of a size
 * @k: (out): its index
 *
 * Returns: FALSE, after a complaint that lists the sizes, when there is none
 */
gboolean
bw_cli_find_size (const BwGrading *grading,
                  const char      *name,
                  guint           *k)
{
  int found = bw_words_find_size (grading->design, name);
  g_autoptr (GString) names = NULL;

  if (found >= 0)
    {
      *k = (guint) found;
      return TRUE;
    }

  names = g_string_new (NULL);
  for (guint i = 0; i < grading->design->sizes->len; i++)
    g_string_append_printf (names, "%s%s", i > 0 ? ", " : "",
                            g_array_index (grading->design->sizes, BwSizeChoice, i).size->id);
  bw_cli_complain (_("the design has no size “%s”; it has: %s"), name, names->str);
  return FALSE;
}

/**
 * bw_cli_input_clear:
 * @input: what was asked for; all it holds is freed
 */
void
bw_cli_input_clear (BwCliInput *input)
{
  g_clear_pointer (&input->file, g_free);
  g_clear_pointer (&input->size, g_free);
  g_clear_pointer (&input->terms, g_free);
  g_clear_pointer (&input->units, g_free);
  g_clear_pointer (&input->library, g_free);
}

/**
 * bw_cli_grading_clear:
 * @graded: a graded design; the grading borrows from the reference, so it goes first
 */
void
bw_cli_grading_clear (BwCliGrading *graded)
{
  g_clear_pointer (&graded->grading, bw_grading_free);
  g_clear_pointer (&graded->reference, bw_reference_free);
}
