#include "bus.h"

#include <signal.h>
#include <string.h>

#include <X11/XKBlib.h>
#include <X11/keysym.h>
#include <X11/extensions/XTest.h>
#include <glib/gstdio.h>

/* ---- waiting ----------------------------------------------------------- */

static gboolean
woken_cb (gpointer data)
{
  *(gboolean *) data = TRUE;

  return G_SOURCE_REMOVE;
}

void
bus_wait (guint ms)
{
  gboolean woken = FALSE;

  g_timeout_add (ms, woken_cb, &woken);
  while (!woken)
    g_main_context_iteration (NULL, TRUE);
}

static gboolean
has_ended (Bus      *bus,
           gpointer  data)
{
  return !bus_is_running (bus);
}

/* What the program wrote on its standard error output. */
static char *
said (Bus *bus)
{
  g_autofree char *path = g_build_filename (bus->folder, "said", NULL);
  char *words = NULL;

  g_assert_true (g_file_get_contents (path, &words, NULL, NULL));

  return words;
}

static void
assert_running (Bus *bus)
{
  g_autofree char *words = NULL;

  if (bus->program == NULL || bus_is_running (bus))
    return;

  words = said (bus);
  if (g_subprocess_get_if_signaled (bus->program))
    g_error ("the program was ended by signal %d; it said:\n%s",
             g_subprocess_get_term_sig (bus->program), words);
  g_error ("the program has ended with status %d; it said:\n%s",
           g_subprocess_get_exit_status (bus->program), words);
}

gboolean
bus_until (Bus          *bus,
           BusCondition  condition,
           gpointer      data)
{
  gint64 end = g_get_monotonic_time () + 1000 * (gint64) BUS_PATIENCE_MS;

  while (!condition (bus, data))
    {
      if (g_get_monotonic_time () > end)
        return FALSE;
      if (condition != has_ended)
        assert_running (bus);
      /* Questions without a pause would keep the program from what it does when idle */
      bus_wait (60);
    }

  return TRUE;
}

/* ---- reading ----------------------------------------------------------- */

/* What GTK takes away while it is being read is as good as not there. */
char *
bus_name (AtspiAccessible *accessible)
{
  char *name = accessible == NULL ? NULL : atspi_accessible_get_name (accessible, NULL);

  return name == NULL ? g_strdup ("") : name;
}

char *
bus_text (AtspiAccessible *accessible)
{
  AtspiText *text = atspi_accessible_get_text_iface (accessible);
  char *found;
  int n;

  g_assert_nonnull (text);
  n = atspi_text_get_character_count (text, NULL);
  found = atspi_text_get_text (text, 0, n, NULL);
  g_object_unref (text);

  return found == NULL ? g_strdup ("") : found;
}

gboolean
bus_is (AtspiAccessible *accessible,
        AtspiStateType   state)
{
  g_autoptr (GObject) states = G_OBJECT (atspi_accessible_get_state_set (accessible));

  return states != NULL && atspi_state_set_contains (ATSPI_STATE_SET (states), state);
}

/* A star in a name stands for anything. */
static gboolean
matches (AtspiAccessible *accessible,
         AtspiRole        role,
         const char      *name)
{
  g_autofree char *found = NULL;

  if (role != ATSPI_ROLE_INVALID && atspi_accessible_get_role (accessible, NULL) != role)
    return FALSE;

  found = bus_name (accessible);

  return g_pattern_match_simple (name, found);
}

/* Nothing is looked for inside these; a walk through every cell takes seconds. */
static gboolean
is_leaf (AtspiAccessible *accessible)
{
  AtspiRole role = atspi_accessible_get_role (accessible, NULL);

  return role == ATSPI_ROLE_LABEL || role == ATSPI_ROLE_TEXT || role == ATSPI_ROLE_CHECK_BOX ||
         role == ATSPI_ROLE_PAGE_TAB || role == ATSPI_ROLE_TABLE_ROW ||
         role == ATSPI_ROLE_SCROLL_BAR;
}

/* What is found first, the nearest to the root of each branch. */
AtspiAccessible *
bus_look (Bus             *bus,
          AtspiAccessible *root,
          AtspiRole        role,
          const char      *name)
{
  int n = root == NULL ? 0 : atspi_accessible_get_child_count (root, NULL);

  for (int i = 0; i < n; i++)
    {
      AtspiAccessible *child = atspi_accessible_get_child_at_index (root, i, NULL);
      AtspiAccessible *found;

      if (child == NULL)
        continue;

      if (matches (child, role, name))
        {
          g_ptr_array_add (bus->found, child);
          return child;
        }
      found = is_leaf (child) ? NULL : bus_look (bus, child, role, name);
      g_object_unref (child);
      if (found != NULL)
        return found;
    }

  return NULL;
}

typedef struct
{
  AtspiAccessible *root;
  AtspiRole        role;
  const char      *name;
  AtspiAccessible *found;
} Search;

static gboolean
is_found (Bus      *bus,
          gpointer  data)
{
  Search *search = data;

  search->found = bus_look (bus, search->root, search->role, search->name);

  return search->found != NULL;
}

static gboolean
is_gone (Bus      *bus,
         gpointer  data)
{
  return !is_found (bus, data);
}

static void
print_names (AtspiAccessible *root,
             AtspiRole        role,
             GString         *out)
{
  g_autofree char *name = bus_name (root);
  int n = atspi_accessible_get_child_count (root, NULL);

  if (*name != '\0' && (role == ATSPI_ROLE_INVALID ||
                        atspi_accessible_get_role (root, NULL) == role))
    g_string_append_printf (out, "  “%s”\n", name);
  for (int i = 0; i < n && out->len < 20000; i++)
    {
      AtspiAccessible *child = atspi_accessible_get_child_at_index (root, i, NULL);

      if (child != NULL)
        print_names (child, role, out);
      g_clear_object (&child);
    }
}

/* Walking the tree takes a message for each widget, so what was found once is
 * kept in mind, and taken again where it is still there by that name. */
static Search *
recall (Bus          *bus,
        const Search *wanted)
{
  for (guint i = 0; i < bus->searches->len; i++)
    {
      Search *search = &g_array_index (bus->searches, Search, i);

      if (search->root == wanted->root && search->role == wanted->role &&
          g_str_equal (search->name, wanted->name))
        return search;
    }

  return NULL;
}

static void
keep_in_mind (Bus          *bus,
              const Search *search)
{
  Search *known = recall (bus, search);
  Search copy = *search;

  if (known != NULL)
    {
      known->found = search->found;
      return;
    }

  copy.name = g_intern_string (search->name);
  g_array_append_val (bus->searches, copy);
}

/* Waits for it to be there. */
AtspiAccessible *
bus_find (Bus             *bus,
          AtspiAccessible *root,
          AtspiRole        role,
          const char      *name)
{
  Search search = { root, role, name, NULL };
  Search *known = recall (bus, &search);

  if (known != NULL && matches (known->found, role, name))
    return known->found;

  if (!bus_until (bus, is_found, &search))
    {
      g_autoptr (GString) there = g_string_new (NULL);

      print_names (root, role, there);
      g_error ("there is no “%s” in the window, but\n%s", name, there->str);
    }
  keep_in_mind (bus, &search);

  return search.found;
}

void
bus_gone (Bus             *bus,
          AtspiAccessible *root,
          AtspiRole        role,
          const char      *name)
{
  Search search = { root, role, name, NULL };

  if (!bus_until (bus, is_gone, &search))
    g_error ("“%s” is still in the window", name);
}

AtspiAccessible *
bus_frame (Bus *bus)
{
  return bus_find (bus, bus->application, ATSPI_ROLE_FRAME, "*");
}

/* ---- working ----------------------------------------------------------- */

void
bus_act (AtspiAccessible *accessible,
         const char      *action)
{
  g_autoptr (GObject) actions = G_OBJECT (atspi_accessible_get_action_iface (accessible));
  int n = atspi_action_get_n_actions (ATSPI_ACTION (actions), NULL);

  for (int i = 0; i < n; i++)
    {
      g_autofree char *name = atspi_action_get_action_name (ATSPI_ACTION (actions), i, NULL);

      if (g_strcmp0 (name, action) == 0)
        {
          g_assert_true (atspi_action_do_action (ATSPI_ACTION (actions), i, NULL));
          return;
        }
    }

  g_error ("it has no action “%s”", action);
}

void
bus_enter (AtspiAccessible *accessible,
           const char      *text)
{
  g_autoptr (GObject) entry = G_OBJECT (atspi_accessible_get_editable_text_iface (accessible));

  g_assert_nonnull (entry);
  g_assert_true (atspi_editable_text_set_text_contents (ATSPI_EDITABLE_TEXT (entry), text, NULL));
}

/* ---- keys -------------------------------------------------------------- */

static void
press (Bus     *bus,
       KeySym   symbol,
       gboolean down)
{
  KeyCode code = XKeysymToKeycode (bus->display, symbol);

  g_assert_cmpuint (code, !=, 0);
  XTestFakeKeyEvent (bus->display, code, down, CurrentTime);
}

/* "Tab", "Control+Shift+z" */
void
bus_key (Bus        *bus,
         const char *key)
{
  static const struct
  {
    const char *name;
    KeySym      symbol;
  } modifiers[] = {
    { "Control", XK_Control_L }, { "Shift", XK_Shift_L }, { "Alt", XK_Alt_L },
  };
  g_auto (GStrv) parts = g_strsplit (key, "+", -1);
  guint n = g_strv_length (parts);

  for (guint i = 0; i + 1 < n; i++)
    for (guint m = 0; m < G_N_ELEMENTS (modifiers); m++)
      if (g_str_equal (parts[i], modifiers[m].name))
        press (bus, modifiers[m].symbol, TRUE);
  press (bus, XStringToKeysym (parts[n - 1]), TRUE);
  press (bus, XStringToKeysym (parts[n - 1]), FALSE);
  for (guint i = 0; i + 1 < n; i++)
    for (guint m = 0; m < G_N_ELEMENTS (modifiers); m++)
      if (g_str_equal (parts[i], modifiers[m].name))
        press (bus, modifiers[m].symbol, FALSE);
  XFlush (bus->display);
}

/* Letters of ASCII have their own code as key symbol. */
void
bus_type (Bus        *bus,
          const char *text)
{
  for (const char *c = text; *c != '\0'; c++)
    {
      KeySym symbol = (KeySym) *c;
      KeyCode code = XKeysymToKeycode (bus->display, symbol);
      gboolean shifted = XkbKeycodeToKeysym (bus->display, code, 0, 0) != symbol;

      if (shifted)
        press (bus, XK_Shift_L, TRUE);
      press (bus, symbol, TRUE);
      press (bus, symbol, FALSE);
      if (shifted)
        press (bus, XK_Shift_L, FALSE);
    }
  XFlush (bus->display);
}

static void
focused_cb (AtspiEvent *event,
            void       *data)
{
  Bus *bus = data;

  if (event->detail1 == 1)
    {
      g_set_object (&bus->focus, event->source);
      bus->n_focused++;
    }
  g_boxed_free (ATSPI_TYPE_EVENT, event);
}

static gboolean
has_moved (Bus      *bus,
           gpointer  data)
{
  return bus->n_focused != GPOINTER_TO_UINT (data);
}

/* Presses a key that moves the focus; says where it has got to. */
char *
bus_tab (Bus        *bus,
         const char *key)
{
  guint before = bus->n_focused;

  bus_key (bus, key);
  if (!bus_until (bus, has_moved, GUINT_TO_POINTER (before)))
    g_error ("%s does not move the focus", key);

  return bus_name (bus->focus);
}

void
bus_tab_to (Bus        *bus,
            const char *name)
{
  for (guint i = 0; i < 250; i++)
    {
      g_autofree char *here = bus_tab (bus, "Tab");

      g_autofree char *still = NULL;

      if (g_str_has_prefix (here, name))
        {
          /* The form scrolls there with the next frame. A list that is opened before
           * that is off the screen, and GDK 4.8 warns of it */
          bus_wait (120);

          /* What has just opened may move the focus by itself, before the key does */
          still = bus_name (bus->focus);
          if (g_str_has_prefix (still, name))
            return;
        }
    }

  g_error ("the Tab key does not come to “%s”", name);
}

static gboolean
moves (Bus        *bus,
       const char *key)
{
  guint before = bus->n_focused;

  bus_key (bus, key);
  for (guint i = 0; i < 40 && bus->n_focused == before; i++)
    bus_wait (15);

  return bus->n_focused != before;
}

static gboolean
is_here (Bus        *bus,
         const char *name)
{
  g_autofree char *here = bus_name (bus->focus);

  return g_str_equal (here, name);
}

/* Opens the list that the keyboard is at, goes to the line of that name and takes it. */
void
bus_take (Bus        *bus,
          const char *name)
{
  AtspiAccessible *list = atspi_accessible_get_parent (bus->focus, NULL);

  g_assert_nonnull (list);
  g_ptr_array_add (bus->found, list);
  bus_key (bus, "space");
  bus_find (bus, list, ATSPI_ROLE_INVALID, name);
  bus_wait (100);
  moves (bus, "Home");
  while (!is_here (bus, name))
    if (!moves (bus, "Down"))
      g_error ("“%s” cannot be chosen", name);
  bus_key (bus, "Return");
}

/* ---- the program ------------------------------------------------------- */

void
bus_open (Bus *bus)
{
  static gboolean begun;
  g_autoptr (GError) error = NULL;

  if (!begun)
    {
      /* The reader warns of whatever GTK takes away while it reads; what is being
       * tested is the program, for which every warning is fatal */
      g_log_set_always_fatal (G_LOG_FATAL_MASK | G_LOG_LEVEL_CRITICAL);
      g_assert_cmpint (atspi_init (), <=, 1);
      atspi_set_timeout (BUS_PATIENCE_MS, BUS_PATIENCE_MS);
      atspi_accessible_set_cache_mask (atspi_get_desktop (0),
                                       ATSPI_CACHE_ROLE | ATSPI_CACHE_INTERFACES);
      begun = TRUE;
    }

  memset (bus, 0, sizeof *bus);
  bus->folder = g_dir_make_tmp ("brimwright-bus-XXXXXX", &error);
  g_assert_no_error (error);
  bus->library = g_build_filename (bus->folder, "data", "brimwright", "library.db", NULL);
  bus->found = g_ptr_array_new_with_free_func (g_object_unref);
  bus->searches = g_array_new (FALSE, FALSE, sizeof (Search));
  bus->display = XOpenDisplay (NULL);
  g_assert_nonnull (bus->display);
  bus->listener = atspi_event_listener_new (focused_cb, bus, NULL);
  g_assert_true (atspi_event_listener_register (bus->listener, "object:state-changed:focused",
                                                NULL));
}

static void
set_folder (Bus                 *bus,
            GSubprocessLauncher *launcher,
            const char          *variable,
            const char          *name)
{
  g_autofree char *path = g_build_filename (bus->folder, name, NULL);

  g_subprocess_launcher_setenv (launcher, variable, path, TRUE);
}

static GSubprocessLauncher *
make_launcher (Bus *bus)
{
  GSubprocessLauncher *launcher = g_subprocess_launcher_new (G_SUBPROCESS_FLAGS_NONE);
  g_autofree char *words = g_build_filename (bus->folder, "said", NULL);

  set_folder (bus, launcher, "HOME", "home");
  set_folder (bus, launcher, "XDG_DATA_HOME", "data");
  set_folder (bus, launcher, "XDG_CONFIG_HOME", "config");
  set_folder (bus, launcher, "XDG_CACHE_HOME", "cache");
  set_folder (bus, launcher, "XDG_STATE_HOME", "state");
  g_subprocess_launcher_setenv (launcher, "G_DEBUG", "gc-friendly,fatal-warnings", TRUE);
  g_subprocess_launcher_setenv (launcher, "GTK_A11Y", "atspi", TRUE);
  g_subprocess_launcher_setenv (launcher, "GSETTINGS_BACKEND", "keyfile", TRUE);
  g_subprocess_launcher_unsetenv (launcher, "NO_AT_BRIDGE");
  g_subprocess_launcher_set_stderr_file_path (launcher, words);

  return launcher;
}

static gboolean
is_on_bus (Bus      *bus,
           gpointer  data)
{
  AtspiAccessible *desktop = atspi_get_desktop (0);
  int n = atspi_accessible_get_child_count (desktop, NULL);
  guint pid;

  assert_running (bus);
  pid = (guint) g_ascii_strtoull (g_subprocess_get_identifier (bus->program), NULL, 10);
  for (int i = 0; i < n; i++)
    {
      AtspiAccessible *child = atspi_accessible_get_child_at_index (desktop, i, NULL);

      if (child != NULL && atspi_accessible_get_process_id (child, NULL) == pid &&
          bus_look (bus, child, ATSPI_ROLE_FRAME, "*") != NULL)
        {
          bus->application = child;
          return TRUE;
        }
      g_clear_object (&child);
    }

  return FALSE;
}

/* There is no window manager to do it. */
static gboolean
takes_keys (Bus      *bus,
            gpointer  data)
{
  Window root = DefaultRootWindow (bus->display);
  Window parent;
  Window *children = NULL;
  Window found = 0;
  unsigned int n = 0;

  XQueryTree (bus->display, root, &root, &parent, &children, &n);
  for (unsigned int i = 0; i < n; i++)
    {
      XWindowAttributes attributes;

      XGetWindowAttributes (bus->display, children[i], &attributes);
      if (attributes.map_state == IsViewable && !attributes.override_redirect)
        found = children[i];
    }
  if (children != NULL)
    XFree (children);
  if (found != 0)
    XSetInputFocus (bus->display, found, RevertToParent, CurrentTime);
  XSync (bus->display, False);

  return found != 0;
}

/* Gives the keyboard to the window on top. */
void
bus_take_keys (Bus *bus)
{
  g_assert_true (bus_until (bus, takes_keys, NULL));
}

/* Starts the program, with a file to open where one is given, and waits for its window. */
void
bus_start (Bus        *bus,
           const char *file)
{
  g_autoptr (GSubprocessLauncher) launcher = make_launcher (bus);
  g_autoptr (GPtrArray) arguments = g_ptr_array_new ();
  g_autoptr (GError) error = NULL;

  for (guint i = 0; bus->wrapper != NULL && bus->wrapper[i] != NULL; i++)
    g_ptr_array_add (arguments, (gpointer) bus->wrapper[i]);

  g_ptr_array_add (arguments, (gpointer) g_getenv ("BW_PROGRAM"));
  g_ptr_array_add (arguments, (gpointer) file);
  g_ptr_array_add (arguments, NULL);
  bus->program = g_subprocess_launcher_spawnv (launcher, (const char *const *) arguments->pdata,
                                               &error);
  g_assert_no_error (error);
  g_assert_true (bus_until (bus, is_on_bus, NULL));
  bus_take_keys (bus);
  bus_wait (400);
}

gboolean
bus_is_running (Bus *bus)
{
  return bus->program != NULL && g_subprocess_get_identifier (bus->program) != NULL;
}

static void
forget_program (Bus *bus)
{
  g_array_set_size (bus->searches, 0);
  g_ptr_array_set_size (bus->found, 0);
  g_clear_object (&bus->application);
  g_clear_object (&bus->focus);
  g_clear_object (&bus->program);
}

/* Nothing may have gone wrong inside; the environment makes warnings fatal. */
static void
assert_quiet (Bus *bus)
{
  static const char *const bad[] = { "WARNING", "CRITICAL", "Sanitizer", "runtime error" };
  g_autofree char *words = said (bus);

  for (guint i = 0; i < G_N_ELEMENTS (bad); i++)
    if (strstr (words, bad[i]) != NULL)
      g_error ("the program said:\n%s", words);
}

/* Closes the window; the program must then end by itself. */
void
bus_leave (Bus *bus)
{
  bus_key (bus, "Control+w");
  if (!bus_until (bus, has_ended, NULL))
    g_error ("the program goes on after its window was closed");

  assert_quiet (bus);
  g_assert_true (g_subprocess_get_if_exited (bus->program));
  g_assert_cmpint (g_subprocess_get_exit_status (bus->program), ==, 0);
  forget_program (bus);
}

void
bus_kill (Bus *bus)
{
  g_subprocess_send_signal (bus->program, SIGKILL);
  g_assert_true (bus_until (bus, has_ended, NULL));
  assert_quiet (bus);
  forget_program (bus);
}

static void
remove_tree (const char *path)
{
  g_autoptr (GDir) folder = g_dir_open (path, 0, NULL);
  const char *name;

  while (folder != NULL && (name = g_dir_read_name (folder)) != NULL)
    {
      g_autofree char *child = g_build_filename (path, name, NULL);

      if (g_file_test (child, G_FILE_TEST_IS_DIR) && !g_file_test (child, G_FILE_TEST_IS_SYMLINK))
        remove_tree (child);
      else
        g_unlink (child);
    }
  g_rmdir (path);
}

void
bus_close (Bus *bus)
{
  if (bus->program != NULL)
    bus_leave (bus);
  atspi_event_listener_deregister (bus->listener, "object:state-changed:focused", NULL);
  g_clear_object (&bus->listener);
  XCloseDisplay (bus->display);
  g_array_unref (bus->searches);
  g_ptr_array_unref (bus->found);
  remove_tree (bus->folder);
  g_free (bus->folder);
  g_free (bus->library);
}
