#include <stdio.h>
#include <string.h>

#include "fuzz.h"

/* Runs a fuzz target over the files, and those in the folders, named on the command line,
 * so that what the fuzzer once found stays found without the fuzzer. Prefixes
 * are what a file cut short looks like. */

#define PREFIXES 16

static guint
run_file (const char *path)
{
  g_autofree char *text = NULL;
  g_autoptr (GError) error = NULL;
  gsize length;

  if (!g_file_get_contents (path, &text, &length, &error))
    g_error ("%s", error->message);

  for (guint i = 0; i <= PREFIXES; i++)
    {
      gsize n = length * i / PREFIXES;
      g_autofree guint8 *copy = g_malloc (n + 1); /* so that reading past the end is seen */

      if (n > 0)
        memcpy (copy, text, n);
      copy[n] = 0xff;
      LLVMFuzzerTestOneInput (copy, n);
    }

  return 1;
}

static guint
run_folder (const char *path)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GDir) folder = g_dir_open (path, 0, &error);
  const char *name;
  guint n = 0;

  if (folder == NULL)
    g_error ("%s", error->message);

  while ((name = g_dir_read_name (folder)) != NULL)
    {
      g_autofree char *file = g_build_filename (path, name, NULL);

      n += run_file (file);
    }

  return n;
}

int
main (int    argc,
      char **argv)
{
  guint n = 0;

  for (int i = 1; i < argc; i++)
    n += g_file_test (argv[i], G_FILE_TEST_IS_DIR) ? run_folder (argv[i]) : run_file (argv[i]);

  printf ("%u files, %u prefixes of each\n", n, PREFIXES);

  /* no file is no test */
  return n > 0 ? 0 : 1;
}
