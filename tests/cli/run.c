#include "run.h"

#include <stdarg.h>
#include <string.h>


/* The family of tests/cli/family.hat: three sizes, two colours, a sideways brim. */
const char *
family (void)
{
  static char *text;
  g_autoptr (GError) error = NULL;

  if (text == NULL)
    g_file_get_contents (g_test_get_filename (G_TEST_DIST, "family.hat", NULL), &text, NULL,
                         &error);
  g_assert_no_error (error);
  return text;
}

void
run_clear (Run *run)
{
  g_clear_pointer (&run->out, g_free);
  g_clear_pointer (&run->err, g_free);
}

/* Runs the program with the arguments that follow; NULL ends them. An
 * environment of NULL is the test's own. */
void
run_with (Run   *run,
          char **environment,
          ...)
{
  g_autoptr (GPtrArray) arguments = g_ptr_array_new ();
  g_autoptr (GError) error = NULL;
  const char *argument;
  int wait_status = 0;
  va_list more;

  run_clear (run);
  g_ptr_array_add (arguments, (gpointer) g_getenv ("BW_CLI"));
  va_start (more, environment);
  while ((argument = va_arg (more, const char *)) != NULL)
    g_ptr_array_add (arguments, (gpointer) argument);
  va_end (more);
  g_ptr_array_add (arguments, NULL);

  g_spawn_sync (NULL, (char **) arguments->pdata, environment, G_SPAWN_DEFAULT, NULL, NULL,
                &run->out, &run->err, &wait_status, &error);
  g_assert_no_error (error);
  run->status = -1;
  if (g_spawn_check_wait_status (wait_status, &error))
    run->status = 0;
  else if (error->domain == G_SPAWN_EXIT_ERROR)
    run->status = error->code;
}

/* Writes a file into this test's own folder; the path is the caller's. */
char *
write_design (const char *name,
              const char *text)
{
  static char *folder;
  g_autoptr (GError) error = NULL;
  char *path;

  if (folder == NULL)
    folder = g_dir_make_tmp ("brimwright-cli-XXXXXX", &error);
  g_assert_no_error (error);
  path = g_build_filename (folder, name, NULL);
  g_file_set_contents (path, text, -1, &error);
  g_assert_no_error (error);
  return path;
}

/* Reads one field of RFC 4180; leaves *c at the comma or the line end. */
static char *
parse_field (const char **c)
{
  GString *field = g_string_new (NULL);

  if (**c != '"')
    {
      for (; **c != ',' && **c != '\r' && **c != '\0'; (*c)++)
        {
          /* A quote or a bare line feed may only stand inside quotes */
          g_assert_true (**c != '"' && **c != '\n');
          g_string_append_c (field, **c);
        }
      return g_string_free (field, FALSE);
    }

  for ((*c)++; !(**c == '"' && (*c)[1] != '"'); (*c)++)
    {
      g_assert_true (**c != '\0');
      if (**c == '"')
        (*c)++;
      g_string_append_c (field, **c);
    }
  (*c)++;
  return g_string_free (field, FALSE);
}

/* Reads a table as RFC 4180 has it and insists on its rules: every line ended
 * by CR LF, every line with as many fields as the first. Rows of char *. */
GPtrArray *
parse_csv (const char *text)
{
  GPtrArray *table = g_ptr_array_new_with_free_func ((GDestroyNotify) g_ptr_array_unref);
  const char *c = text;

  while (*c != '\0')
    {
      GPtrArray *row = g_ptr_array_new_with_free_func (g_free);

      g_ptr_array_add (table, row);
      g_ptr_array_add (row, parse_field (&c));
      while (*c == ',')
        {
          c++;
          g_ptr_array_add (row, parse_field (&c));
        }
      g_assert_true (c[0] == '\r' && c[1] == '\n');
      c += 2;
      g_assert_cmpuint (row->len, ==, ((GPtrArray *) g_ptr_array_index (table, 0))->len);
    }

  return table;
}

guint
column_of (GPtrArray  *table,
           const char *name)
{
  GPtrArray *headings = g_ptr_array_index (table, 0);

  for (guint i = 0; i < headings->len; i++)
    if (g_str_equal (g_ptr_array_index (headings, i), name))
      return i;

  g_error ("no column %s", name);
}

/* Row 1 is the first under the headings. */
const char *
cell (GPtrArray  *table,
      guint       row,
      const char *name)
{
  return g_ptr_array_index ((GPtrArray *) g_ptr_array_index (table, row), column_of (table, name));
}

double
number (GPtrArray  *table,
        guint       row,
        const char *name)
{
  const char *text = cell (table, row, name);
  char *end;
  double value = g_ascii_strtod (text, &end);

  g_assert_true (end != text && *end == '\0');
  return value;
}

guint
count_lines (const char *text)
{
  guint n = 0;

  for (const char *c = text; *c != '\0'; c++)
    n += *c == '\n';
  return n;
}
