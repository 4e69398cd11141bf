#include <glib.h>
#include <stdlib.h>
#include <string.h>

#include "bw-pattern-audit.h"
#include "bw-reference-builtin.h"

/* Written patterns in tests/data/patterns, all our own text: NAME.txt is clean,
 * NAME.faults plants faults in it one at a time. A fault is a block
 *
 *   fault LINE CODE...     one of these findings must be on that line (0: on any)
 *   12: text               line 12 of the clean text becomes this,
 *   + text                 and this comes after it
 *   13-                    line 13 goes
 */

#define CLEAN_LEAST  40
#define FAULTS_LEAST 400

static BwReference *reference;
static guint n_clean, n_faults;

typedef struct
{
  guint      line;
  GStrv      codes;
  GPtrArray *text;  /* of char *: the lines with the fault in them */
} Fault;

static char *
data_path (const char *name)
{
  return g_test_build_filename (G_TEST_DIST, "data", "patterns", name, NULL);
}

static char *
read_text (const char *name)
{
  g_autofree char *path = data_path (name);
  g_autoptr (GError) error = NULL;
  char *text = NULL;

  g_file_get_contents (path, &text, NULL, &error);
  g_assert_no_error (error);
  return text;
}

static GArray *
audit (const char  *text,
       BwPattern  **pattern)
{
  g_autoptr (GError) error = NULL;

  *pattern = bw_pattern_read (reference->stitches, text, -1, BW_TERMS_UNSAID, &error);
  g_assert_no_error (error);
  return bw_pattern_audit_by (*pattern, reference);
}

static void
test_clean (gconstpointer data)
{
  const char *name = data;
  g_autofree char *text = read_text (name);
  g_autoptr (BwPattern) pattern = NULL;
  g_autoptr (GArray) findings = audit (text, &pattern);
  g_autoptr (BwPatternRounds) rounds = bw_pattern_evaluate (pattern, 0);

  /* a text of which nothing is read would be clean too */
  g_assert_cmpuint (rounds->list->rounds->len, >=, 3);
  for (guint i = 0; i < findings->len; i++)
    {
      const BwPatternFinding *finding = &g_array_index (findings, BwPatternFinding, i);

      if (finding->severity != BW_SEVERITY_NOTE)
        g_error ("%s:%u: %s", name, finding->line, bw_finding_code (finding->kind));
    }
  n_clean++;
}

/* Is one of the codes found where it should be? */
static gboolean
is_found (const Fault  *fault,
          const GArray *findings)
{
  for (guint i = 0; i < findings->len; i++)
    {
      const BwPatternFinding *finding = &g_array_index (findings, BwPatternFinding, i);

      if (g_strv_contains ((const char *const *) fault->codes, bw_finding_code (finding->kind)) &&
          (fault->line == 0 || finding->line == fault->line))
        return TRUE;
    }

  return FALSE;
}

static void
check_fault (const char  *name,
             const Fault *fault,
             guint        at)
{
  g_autoptr (GString) text = g_string_new (NULL);
  g_autoptr (BwPattern) pattern = NULL;
  g_autoptr (GArray) findings = NULL;

  for (guint i = 0; i < fault->text->len; i++)
    if (g_ptr_array_index (fault->text, i) != NULL)
      g_string_append_printf (text, "%s\n", (char *) g_ptr_array_index (fault->text, i));

  findings = audit (text->str, &pattern);
  if (!is_found (fault, findings))
    g_error ("%s:%u: %s is not found", name, at, fault->codes[0]);
  n_faults++;
}

/* "12: text", "+ text" and "13-" change the fault's lines. */
static void
change_line (Fault      *fault,
             const char *change,
             guint      *last)
{
  char *end = NULL;
  char **at;

  if (g_str_has_prefix (change, "+ "))
    {
      at = (char **) &g_ptr_array_index (fault->text, *last - 1);
      end = g_strdup_printf ("%s\n%s", *at, change + 2);
      g_free (*at);
      *at = end;
      return;
    }

  *last = (guint) strtoul (change, &end, 10);
  g_assert_cmpuint (*last, >, 0);
  g_assert_cmpuint (*last, <=, fault->text->len);
  at = (char **) &g_ptr_array_index (fault->text, *last - 1);
  g_free (*at);
  *at = g_str_equal (end, "-") ? NULL : g_strdup (end + strlen (": "));
}

static void
fault_begin (Fault      *fault,
             const char *head,
             GStrv       clean)
{
  g_auto (GStrv) words = g_strsplit (head, " ", -1);

  g_assert_cmpuint (g_strv_length (words), >=, 3);
  fault->line = (guint) strtoul (words[1], NULL, 10);
  fault->codes = g_strdupv (words + 2);
  fault->text = g_ptr_array_new_with_free_func (g_free);
  for (guint i = 0; clean[i] != NULL; i++)
    g_ptr_array_add (fault->text, g_strdup (clean[i]));
}

static void
fault_end (Fault *fault)
{
  g_clear_pointer (&fault->codes, g_strfreev);
  g_clear_pointer (&fault->text, g_ptr_array_unref);
}

static void
test_faults (gconstpointer data)
{
  const char *name = data;
  g_autofree char *clean_name = g_strdup_printf ("%.*s.txt", (int) (strlen (name) -
                                                                    strlen (".faults")), name);
  g_autofree char *text = read_text (clean_name);
  g_autofree char *list = read_text (name);
  g_auto (GStrv) clean = g_strsplit (text, "\n", -1);
  g_auto (GStrv) lines = g_strsplit (list, "\n", -1);
  Fault fault = { 0, NULL, NULL };
  guint last = 0;

  for (guint i = 0; lines[i] != NULL; i++)
    {
      if (g_str_has_prefix (lines[i], "fault "))
        fault_begin (&fault, lines[i], clean);
      else if (lines[i][0] != '\0')
        change_line (&fault, lines[i], &last);

      if (fault.text != NULL && lines[i][0] == '\0')
        {
          check_fault (name, &fault, i);
          fault_end (&fault);
        }
    }
  g_assert_null (fault.text);
}

static void
test_enough (void)
{
  g_test_message ("%u clean patterns, %u planted faults", n_clean, n_faults);
  g_assert_cmpuint (n_clean, >=, CLEAN_LEAST);
  g_assert_cmpuint (n_faults, >=, FAULTS_LEAST);
}

static int
compare_names (gconstpointer a,
               gconstpointer b)
{
  return strcmp (*(const char *const *) a, *(const char *const *) b);
}

/* Names of the folder's files, in an order that does not hang on the disk. */
static GPtrArray *
list_names (void)
{
  g_autofree char *path = data_path ("");
  g_autoptr (GError) error = NULL;
  g_autoptr (GDir) dir = g_dir_open (path, 0, &error);
  GPtrArray *names = g_ptr_array_new_with_free_func (g_free);
  const char *name;

  g_assert_no_error (error);
  while ((name = g_dir_read_name (dir)) != NULL)
    g_ptr_array_add (names, g_strdup (name));
  g_ptr_array_sort (names, compare_names);
  return names;
}

int
main (int    argc,
      char **argv)
{
  g_autoptr (GPtrArray) names = NULL;
  int status;

  g_test_init (&argc, &argv, NULL);
  reference = bw_reference_builtin (NULL);
  names = list_names ();
  for (guint i = 0; i < names->len; i++)
    {
      const char *name = g_ptr_array_index (names, i);
      g_autofree char *path = g_strdup_printf ("/corpus/%s", name);

      g_test_add_data_func (path, name,
                            g_str_has_suffix (name, ".faults") ? test_faults : test_clean);
    }
  g_test_add_func ("/corpus/enough", test_enough);
  status = g_test_run ();
  bw_reference_free (reference);
  return status;
}
