#define G_LOG_DOMAIN "bw-cli"

#include "bw-cli-private.h"

#include <errno.h>
#include <libintl.h>
#include <locale.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>

static const BwVerb *const verbs[] = {
  &bw_cli_verb_grade,
  &bw_cli_verb_explain,
  &bw_cli_verb_write,
  &bw_cli_verb_tested,
  &bw_cli_verb_audit,
  &bw_cli_verb_publish,
  &bw_cli_verb_library,
  &bw_cli_verb_swatch,
};

/* Fits a screen of 80 columns and 24 lines; a test measures it. */
static const char help[] = N_(
  "Usage: brimwright-cli VERB FILE.hat [OPTION...]\n"
  "Grades crochet hats: every size of a design, round by round.\n"
  "\n"
  "  grade FILE.hat     print all sizes, and the rounds of the middle one\n"
  "      --size NAME        the rounds of this size; its id or its name\n"
  "      --all-sizes        the rounds of every size\n"
  "      --csv TABLE        a table for a spreadsheet: rounds, sizes or yarn\n"
  "  explain FILE.hat --size NAME\n"
  "                     say why each number was chosen, and the next best choices\n"
  "  write FILE.hat     write the pattern, or make a .pdf, .html, .txt (--to FILE);\n"
  "                     all sizes in one, or --size NAME; “write --help”\n"
  "  tested FILE.hat SHEET...   compare testers' sheets with what was computed\n"
  "  audit FILE         find what is at fault in a written pattern (--csv, --terms)\n"
  "  publish DESIGN...  all files of designs; “publish --help” lists what it takes\n"
  "  library WORK ...   designs and their revisions; “library --help” lists it\n"
  "  swatch WORK ...    swatches, yarns and gauges; “swatch --help” lists it\n"
  "The first four take:\n"
  "      --terms uk|us      stitch names, whatever the design says\n"
  "      --units cm|in      lengths, whatever the design says\n"
  "      --library FILE     where a design finds the swatches that it names\n"
  "      --help, --version\n"
  "\n"
  "Exit status: 0 graded, 1 refused (the reasons are printed), 2 bad input.\n"
  "Manual pages: brimwright-cli(1), brimwright-design(5).\n");

/**
 * bw_cli_complain:
 * @format: what is wrong and what would do; no line end
 *
 * Tells the person at the terminal, on the standard error output.
 */
void
bw_cli_complain (const char *format,
                 ...)
{
  g_autofree char *message = NULL;
  va_list arguments;

  va_start (arguments, format);
  message = g_strdup_vprintf (format, arguments);
  va_end (arguments);
  fprintf (stderr, "brimwright-cli: %s\n", message);
}

/* Is the option among the arguments, and not behind a "--"? */
static gboolean
asks_for (char       **arguments,
          const char  *option)
{
  for (guint i = 1; arguments[i] != NULL && !g_str_equal (arguments[i], "--"); i++)
    if (g_str_equal (arguments[i], option))
      return TRUE;

  return FALSE;
}

/* A verb's own page, where it has one. */
static const char *
help_for (const char *name)
{
  for (guint i = 0; i < G_N_ELEMENTS (verbs); i++)
    if (g_str_equal (name, verbs[i]->name) && verbs[i]->help != NULL)
      return verbs[i]->help;

  return help;
}

static BwExit
run (char    **arguments,
     GString  *out)
{
  if (arguments[0] == NULL || arguments[1] == NULL)
    {
      bw_cli_complain (_("say what to do, for example: brimwright-cli grade FILE.hat; "
                         "--help lists everything"));
      return BW_EXIT_BAD_INPUT;
    }
  if (asks_for (arguments, "--help") || asks_for (arguments, "-h"))
    {
      g_string_append (out, _(help_for (arguments[1])));
      return BW_EXIT_GRADED;
    }
  if (asks_for (arguments, "--version"))
    {
      g_string_append (out, "brimwright-cli " BW_VERSION "\n");
      return BW_EXIT_GRADED;
    }

  for (guint i = 0; i < G_N_ELEMENTS (verbs); i++)
    if (g_str_equal (arguments[1], verbs[i]->name))
      return verbs[i]->run (arguments + 1, out);

  bw_cli_complain (_("“%s” is nothing this program does; --help lists what it does"),
                   arguments[1]);
  return BW_EXIT_BAD_INPUT;
}

static gboolean
write_out (const GString *out)
{
  if (fwrite (out->str, 1, out->len, stdout) == out->len && fflush (stdout) == 0)
    return TRUE;

  bw_cli_complain (_("the output cannot be written: %s"), g_strerror (errno));
  return FALSE;
}

/* Only words follow the locale: numbers keep their dot, so LC_NUMERIC stays C. */
static void
set_language (void)
{
  setlocale (LC_CTYPE, "");
  setlocale (LC_MESSAGES, "");
  bindtextdomain (BW_GETTEXT_DOMAIN, BW_LOCALE_DIR);
  bind_textdomain_codeset (BW_GETTEXT_DOMAIN, "UTF-8");
  textdomain (BW_GETTEXT_DOMAIN);
}

int
main (int    argc,
      char **argv)
{
  g_autoptr (GString) out = g_string_new (NULL);
  /* Option parsing takes from the vector; the strings stay argv's */
  g_autofree char **arguments = g_new0 (char *, (gsize) argc + 1);
  BwExit status;

  set_language ();
  memcpy (arguments, argv, sizeof (char *) * (gsize) argc);
  status = run (arguments, out);
  if (!write_out (out))
    return BW_EXIT_BAD_INPUT;
  return status;
}
