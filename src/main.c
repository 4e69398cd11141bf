#define G_LOG_DOMAIN "bw-app"

#include <locale.h>

#include "bw-app-words.h"
#include "bw-application.h"

/* Opens the window. */
int
main (int    argc,
      char **argv)
{
  g_autoptr (BwApplication) application = NULL;

  setlocale (LC_ALL, "");
  bindtextdomain (BW_GETTEXT_DOMAIN, BW_LOCALE_DIR);
  bind_textdomain_codeset (BW_GETTEXT_DOMAIN, "UTF-8");
  textdomain (BW_GETTEXT_DOMAIN);

  application = bw_application_new (G_APPLICATION_DEFAULT_FLAGS);

  return g_application_run (G_APPLICATION (application), argc, argv);
}
