#define G_LOG_DOMAIN "bw-cli"

#include "bw-cli-private.h"

#include <errno.h>
#include <signal.h>
#include <string.h>

#include <glib/gstdio.h>

#include "bw-cli-edition.h"
#include "bw-publish-many.h"
#include "bw-reference-builtin.h"

/* brimwright-cli publish: designs of the library, or all of them, as files. */

#define KINDS "html,pdf,text,listing,sheet,rounds,sizes,yarn"

static const char help[] = N_(
  "Usage: brimwright-cli publish --to FOLDER [DESIGN... | --all] [OPTION...]\n"
  "Writes the files of designs, each design to a folder of its own, and gives it\n"
  "a revision that is never altered; where nothing is new it keeps its number.\n"
  "\n"
  "      --all              every design of the library\n"
  "      --kinds LIST       which files, with commas between; without it\n"
  "                         html,pdf,text,listing,sheet,rounds,sizes,yarn;\n"
  "                         also sheet-html, charts, charts-png, schematic ...\n"
  "      --terms uk|us|both stitch names, whatever the design says\n"
  "      --note TEXT        what is new in this revision\n"
  "      --draft            without a revision: nothing is kept in the library\n"
  "      --photographs FOLDER   where NAME.png or NAME.jpg of a design is\n"
  "      --large-print, --low-ink   as “write --help” has it\n"
  "      --jobs N           so many designs at once\n"
  "      --quiet            no line for each design\n"
  "      --library FILE     another library than the one in its usual place\n"
  "\n"
  "Ctrl-C stops between two files. Exit status: 0 all were published, 1 some were\n"
  "not and are named, 2 bad input. Manual page: brimwright-cli(1).\n");

/* The library is opened by its name only here: no other verb of its own takes files. */
typedef struct
{
  BwCliEdition edition;
  char        *library;
  char        *to;
  char        *kinds;
  char        *note;
  char        *photographs;
  char       **designs;
  int          jobs;
  gboolean     all;
  gboolean     draft;
  gboolean     quiet;
} Asked;

static void
asked_clear (Asked *asked)
{
  bw_cli_edition_clear (&asked->edition);
  g_clear_pointer (&asked->library, g_free);
  g_clear_pointer (&asked->to, g_free);
  g_clear_pointer (&asked->kinds, g_free);
  g_clear_pointer (&asked->note, g_free);
  g_clear_pointer (&asked->photographs, g_free);
  g_clear_pointer (&asked->designs, g_strfreev);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Asked, asked_clear)

/* --- What is wanted --- */

static gboolean
goes_together (const Asked *asked)
{
  if (asked->to == NULL)
    {
      bw_cli_complain (_("say where the files go with --to FOLDER"));
      return FALSE;
    }
  if (asked->all == (asked->designs != NULL))
    {
      bw_cli_complain (_("name the designs, or say --all for every one of them"));
      return FALSE;
    }
  if (asked->jobs < 0 || asked->jobs > 256)
    {
      bw_cli_complain (_("--jobs takes a number from 1 to 256"));
      return FALSE;
    }
  if (asked->draft && asked->note != NULL)
    {
      bw_cli_complain (_("--note is for a revision, and --draft makes none: give one of them"));
      return FALSE;
    }

  return bw_cli_edition_check (&asked->edition);
}

static gboolean
parse (Asked  *asked,
       char  **arguments)
{
  const GOptionEntry entries[] = {
    { "library", 0, 0, G_OPTION_ARG_FILENAME, &asked->library, NULL, NULL },
    { "to", 0, 0, G_OPTION_ARG_FILENAME, &asked->to, NULL, NULL },
    { "kinds", 0, 0, G_OPTION_ARG_FILENAME, &asked->kinds, NULL, NULL },
    { "terms", 0, 0, G_OPTION_ARG_FILENAME, &asked->edition.terms, NULL, NULL },
    { "large-print", 0, 0, G_OPTION_ARG_NONE, &asked->edition.large_print, NULL, NULL },
    { "low-ink", 0, 0, G_OPTION_ARG_NONE, &asked->edition.low_ink, NULL, NULL },
    { "note", 0, 0, G_OPTION_ARG_FILENAME, &asked->note, NULL, NULL },
    { "photographs", 0, 0, G_OPTION_ARG_FILENAME, &asked->photographs, NULL, NULL },
    { "jobs", 0, 0, G_OPTION_ARG_INT, &asked->jobs, NULL, NULL },
    { "all", 0, 0, G_OPTION_ARG_NONE, &asked->all, NULL, NULL },
    { "draft", 0, 0, G_OPTION_ARG_NONE, &asked->draft, NULL, NULL },
    { "quiet", 0, 0, G_OPTION_ARG_NONE, &asked->quiet, NULL, NULL },
    { G_OPTION_REMAINING, 0, 0, G_OPTION_ARG_FILENAME_ARRAY, &asked->designs, NULL, NULL },
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

  return goes_together (asked);
}

/* Borrowed, NULL-terminated; NULL after a complaint. */
static const BwPublishKind **
find_kinds (const char *list)
{
  g_autoptr (GPtrArray) kinds = g_ptr_array_new ();
  g_autofree char *known = bw_publish_kind_names ();
  g_auto (GStrv) names = g_strsplit (list != NULL ? list : KINDS, ",", -1);

  for (guint i = 0; names[i] != NULL; i++)
    {
      const BwPublishKind *kind = bw_publish_kind_find (g_strstrip (names[i]));

      if (kind == NULL)
        {
          bw_cli_complain (_("“%s” is no kind of file; --kinds takes %s"), names[i], known);
          return NULL;
        }
      g_ptr_array_add (kinds, (gpointer) kind);
    }

  g_ptr_array_add (kinds, NULL);
  return (const BwPublishKind **) g_ptr_array_free (g_steal_pointer (&kinds), FALSE);
}

static GPtrArray *
find_designs (const Asked *asked,
              BwLibrary   *library)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) entries = NULL;

  if (asked->all)
    entries = bw_library_list (library, BW_LIBRARY_ORDER_NAME, FALSE, 0, &error);
  else
    entries = g_ptr_array_new_with_free_func ((GDestroyNotify) bw_library_entry_free);

  for (guint i = 0; !asked->all && asked->designs[i] != NULL; i++)
    {
      BwLibraryEntry *entry = NULL;
      gint64 id;

      if (bw_library_find (library, asked->designs[i], &id, &error))
        entry = bw_library_get_entry (library, id, &error);
      if (entry == NULL)
        break;
      g_ptr_array_add (entries, entry);
    }

  if (error == NULL && entries->len > 0)
    return g_steal_pointer (&entries);
  if (error != NULL)
    bw_cli_complain ("%s", error->message);
  else
    bw_cli_complain (_("there is no design in the library yet; “library add FILE.hat” adds "
                       "one"));
  return NULL;
}

/* --- Doing it --- */

/* Set by the first Ctrl-C; a second one ends the program as usual. */
static int stopped;

static void
stop_cb (G_GNUC_UNUSED int number)
{
  g_atomic_int_set (&stopped, 1);
}

static void
catch_signals (void)
{
  struct sigaction action = { .sa_handler = stop_cb, .sa_flags = (int) (SA_RESETHAND | SA_RESTART) };

  sigemptyset (&action.sa_mask);
  sigaction (SIGINT, &action, NULL);
  sigaction (SIGTERM, &action, NULL);
  /* A limit on files is told by the write that fails */
  signal (SIGXFSZ, SIG_IGN);
}

static void
progress_cb (const BwPublished *published,
             guint              n_done,
             guint              n,
             gpointer           data)
{
  const gboolean *quiet = data;

  if (published->problem != NULL)
    g_printerr (_("%u of %u: %s failed: %s\n"), n_done, n, published->name, published->problem);
  else if (!*quiet && published->number > 0)
    g_printerr (published->is_new ? _("%u of %u: %s, revision %u is new\n")
                                  : _("%u of %u: %s, revision %u as before\n"),
                n_done, n, published->name, published->number);
  else if (!*quiet)
    g_printerr (_("%u of %u: %s, a draft\n"), n_done, n, published->name);
  if (published->warnings != NULL && published->warnings[0] != '\0' && !*quiet)
    g_printerr (_("  with warnings: %s; “grade” explains them\n"), published->warnings);
  if (published->notice != NULL && !*quiet)
    g_printerr ("  %s\n", published->notice);
}

static BwExit
summarise (const GPtrArray *all,
           const char      *folder,
           GString         *out)
{
  guint n_good = 0, n_failed = 0, n_files = 0;

  for (guint i = 0; i < all->len; i++)
    {
      const BwPublished *one = g_ptr_array_index (all, i);

      n_good += one->done && one->problem == NULL;
      n_failed += one->problem != NULL;
      n_files += one->n_files;
    }

  g_string_append_printf (out, g_dngettext (GETTEXT_PACKAGE,
                                            "%u of %u design was published: %u files in %s.\n",
                                            "%u of %u designs were published: %u files in %s.\n",
                                            all->len),
                          n_good, all->len, n_files, folder);
  for (guint i = 0; i < all->len; i++)
    {
      const BwPublished *one = g_ptr_array_index (all, i);

      if (one->problem != NULL)
        g_string_append_printf (out, _("Not published: %s: %s\n"), one->name, one->problem);
    }
  if (n_good + n_failed < all->len)
    g_string_append (out, _("It was stopped; what is not named here was not reached.\n"));
  return n_good == all->len ? BW_EXIT_GRADED : BW_EXIT_REFUSED;
}

/* The folder itself must be there before any design gets a number. */
static gboolean
make_folder (const char *folder)
{
  if (g_mkdir_with_parents (folder, 0777) == 0 && g_file_test (folder, G_FILE_TEST_IS_DIR))
    return TRUE;

  bw_cli_complain (_("the folder %s cannot be made: %s; choose another"), folder,
                   g_strerror (errno != 0 ? errno : ENOTDIR));
  return FALSE;
}

static BwExit
publish_all (const Asked          *asked,
             BwLibrary            *library,
             const BwReference    *reference,
             const GPtrArray      *entries,
             const BwPublishKind **kinds,
             GString              *out)
{
  BwPublishMany many = {
    .folder = asked->to, .kinds = kinds, .note = asked->note, .draft = asked->draft,
    .photos = asked->photographs,
    .jobs = asked->jobs > 0 ? (guint) asked->jobs : g_get_num_processors (),
    .stop = &stopped, .progress = progress_cb, .data = (gpointer) &asked->quiet,
  };
  g_autoptr (GPtrArray) all = NULL;

  if (!bw_cli_edition_date (&many.date) || !make_folder (asked->to))
    return BW_EXIT_BAD_INPUT;

  many.form = asked->edition.large_print ? BW_FORM_LARGE_PRINT
              : asked->edition.low_ink   ? BW_FORM_LOW_INK
                                         : BW_FORM_NORMAL;
  many.n_terms = bw_cli_edition_terms (&asked->edition, many.terms);
  catch_signals ();
  all = bw_publish_many (library, reference, entries, &many);
  return summarise (all, asked->to, out);
}

static BwExit
publish (char    **arguments,
         GString  *out)
{
  g_auto (Asked) asked = { 0 };
  g_autoptr (BwReference) reference = NULL;
  g_autoptr (BwLibrary) library = NULL;
  g_autoptr (GPtrArray) entries = NULL;
  g_autoptr (GError) error = NULL;
  g_autofree const BwPublishKind **kinds = NULL;
  g_autofree char *path = NULL;

  if (!parse (&asked, arguments))
    return BW_EXIT_BAD_INPUT;
  kinds = find_kinds (asked.kinds);
  if (kinds == NULL)
    return BW_EXIT_BAD_INPUT;

  path = asked.library != NULL ? g_strdup (asked.library) : bw_library_default_path ();
  reference = bw_reference_builtin (&error);
  if (reference != NULL)
    library = bw_library_open (path, asked.draft ? BW_LIBRARY_OPEN_READ_ONLY
                                                 : BW_LIBRARY_OPEN_DEFAULT, &error);
  if (library == NULL)
    {
      bw_cli_complain ("%s", error->message);
      return BW_EXIT_BAD_INPUT;
    }

  entries = find_designs (&asked, library);
  if (entries == NULL)
    return BW_EXIT_BAD_INPUT;
  return publish_all (&asked, library, reference, entries, kinds, out);
}

const BwVerb bw_cli_verb_publish = { "publish", publish, help };
