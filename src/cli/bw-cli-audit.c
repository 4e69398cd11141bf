#define G_LOG_DOMAIN "bw-cli"

#include "bw-cli-private.h"

#include "bw-publish-table.h"
#include "bw-reference-builtin.h"
#include "bw-words-audit.h"

/* brimwright-cli audit: what is at fault in a written pattern. */

typedef struct
{
  char    *file;
  char    *terms;
  gboolean csv;
} Options;

static void
options_clear (Options *options)
{
  g_clear_pointer (&options->file, g_free);
  g_clear_pointer (&options->terms, g_free);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Options, options_clear)

static const char *
severity_id (BwSeverity severity)
{
  static const char *const ids[] = { "note", "warning", "error", "refusal" };

  return ids[severity];
}

/* --- Output --- */

static void
append_text (GString                *out,
             const BwPattern        *pattern,
             const BwPatternFinding *finding)
{
  g_autoptr (BwWordsFinding) words = bw_words_audit_finding (pattern, finding);
  g_autofree char *place = finding->line > 0
    ? g_strdup_printf (_("Line %u, column %u"), finding->line, finding->column) : NULL;
  g_autofree char *first = g_strdup_printf ("%s: %s %s%s%s", place, bw_words_severity (words->severity),
                                            words->code, *words->where != '\0' ? ", " : "",
                                            words->where);

  bw_cli_text_wrap (out, first, 0, 2);
  bw_cli_text_wrap (out, words->what, 2, 2);
  if (*words->why != '\0')
    bw_cli_text_wrap (out, words->why, 2, 2);
  if (*words->mend != '\0')
    bw_cli_text_wrap (out, words->mend, 2, 2);
  if (finding->mended != NULL)
    {
      g_autofree char *write = g_strdup_printf (
        _("Write “%s” in place of “%.*s”."), finding->mended, (int) finding->length,
        pattern->text + finding->offset);

      bw_cli_text_wrap (out, write, 2, 2);
    }
}

static void
append_count (GString *line,
              guint    count)
{
  g_autofree char *field = g_strdup_printf ("%u", count);

  bw_table_field (line, field);
}

static void
append_csv (GString                *out,
            const BwPattern        *pattern,
            const BwPatternFinding *finding)
{
  g_autoptr (BwWordsFinding) words = bw_words_audit_finding (pattern, finding);
  g_autoptr (GString) line = g_string_new (NULL);
  g_autofree char *sizes = bw_words_audit_sizes (pattern, finding->sizes);
  g_autofree char *round = bw_words_audit_round (finding);
  g_autofree char *text = g_strndup (pattern->text + finding->offset, finding->length);

  bw_table_field (line, words->code);
  bw_table_field (line, severity_id (words->severity));
  append_count (line, finding->line);
  append_count (line, finding->column);
  append_count (line, finding->offset);
  append_count (line, finding->length);
  bw_table_field (line, sizes);
  bw_table_field (line, round);
  bw_table_field (line, words->what);
  bw_table_field (line, words->why);
  bw_table_field (line, words->mend);
  bw_table_field (line, text);
  bw_table_field (line, finding->mended != NULL ? finding->mended : "");
  g_string_append_len (out, line->str, (gssize) line->len);
  g_string_append (out, "\r\n");
}

static void
append_sum (GString      *out,
            const GArray *findings)
{
  guint counts[BW_SEVERITY_REFUSAL + 1] = { 0 };

  for (guint i = 0; i < findings->len; i++)
    counts[g_array_index (findings, BwPatternFinding, i).severity]++;
  if (findings->len == 0)
    g_string_append_printf (out, "%s\n", _("Nothing was found."));
  else
    g_string_append_printf (out, _("\nErrors: %u, warnings: %u, notes: %u\n"),
                            counts[BW_SEVERITY_ERROR], counts[BW_SEVERITY_WARNING],
                            counts[BW_SEVERITY_NOTE]);
}

static BwExit
print (GString         *out,
       const BwPattern *pattern,
       const GArray    *findings,
       gboolean         csv)
{
  BwExit status = BW_EXIT_GRADED;

  if (csv)
    g_string_append (out, "identifier,severity,line,column,offset,length,sizes,round,what,why,mend,"
                          "text,suggestion\r\n");
  for (guint i = 0; i < findings->len; i++)
    {
      const BwPatternFinding *finding = &g_array_index (findings, BwPatternFinding, i);

      if (csv)
        append_csv (out, pattern, finding);
      else
        append_text (out, pattern, finding);
      if (finding->severity >= BW_SEVERITY_WARNING)
        status = BW_EXIT_REFUSED;
    }
  if (!csv)
    append_sum (out, findings);
  return status;
}

/* --- The verb --- */

static int
terms_of (const char *name)
{
  if (name == NULL)
    return BW_TERMS_UNSAID;
  if (g_str_equal (name, "uk"))
    return BW_TERMS_UK;
  if (g_str_equal (name, "us"))
    return BW_TERMS_US;
  bw_cli_complain (_("%s takes %s or %s, not “%s”"), "--terms", "uk", "us", name);
  return -2;
}

static BwExit
audit (char    **arguments,
       GString  *out)
{
  g_auto (Options) options = { 0 };
  const GOptionEntry entries[] = {
    { "csv", 0, 0, G_OPTION_ARG_NONE, &options.csv, NULL, NULL },
    { "terms", 0, 0, G_OPTION_ARG_FILENAME, &options.terms, NULL, NULL },
    G_OPTION_ENTRY_NULL
  };
  g_autoptr (GError) error = NULL;
  g_autoptr (BwReference) reference = NULL;
  g_autoptr (BwPattern) pattern = NULL;
  g_autoptr (GArray) findings = NULL;
  g_autofree char *text = NULL;
  gsize length;
  int terms;

  if (!bw_cli_parse (entries, arguments, &options.file))
    return BW_EXIT_BAD_INPUT;
  terms = terms_of (options.terms);
  text = terms >= BW_TERMS_UNSAID
    ? bw_cli_read_file (options.file, BW_PATTERN_BYTES_MAX, &length) : NULL;
  if (text == NULL)
    return BW_EXIT_BAD_INPUT;

  reference = bw_reference_builtin (&error);
  if (reference == NULL)
    {
      bw_cli_complain (_("the built-in tables are damaged: %s"), error->message);
      return BW_EXIT_BAD_INPUT;
    }
  pattern = bw_pattern_read (reference->stitches, text, (gssize) length, terms, &error);
  if (pattern == NULL)
    {
      bw_cli_complain ("%s: %s", options.file, error->message);
      return BW_EXIT_BAD_INPUT;
    }
  findings = bw_pattern_audit_by (pattern, reference);
  return print (out, pattern, findings, options.csv);
}

const BwVerb bw_cli_verb_audit = { "audit", audit, NULL };
