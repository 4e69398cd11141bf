#pragma once

#include <atspi/atspi.h>
#include <gio/gio.h>
#include <X11/Xlib.h>

/* The program as people with assistive technology have it: run by itself in
 * folders of its own, read over the accessibility bus, worked by its actions,
 * by what is put into its entries, and by keys. What is read is asked for anew
 * each time; whatever waits gives up after BUS_PATIENCE_MS and fails the test. */

#define BUS_PATIENCE_MS (g_getenv ("BW_SANITIZED") == NULL ? 15000 : 60000)

typedef struct
{
  /* Owned references */
  char            *folder;       /* everything that the program writes */
  char            *library;
  GSubprocess     *program;      /* NULL = not running */
  AtspiAccessible *application;
  GPtrArray       *found;        /* keeps what was handed out */
  GArray          *searches;     /* how it was found */
  AtspiAccessible *focus;        /* where the keyboard is; NULL = not known */
  AtspiEventListener *listener;

  Display         *display;
  guint            n_focused;    /* counts how often the focus moved */

  const char *const *wrapper;    /* what the program is started through; NULL = nothing */
} Bus;

typedef gboolean (*BusCondition) (Bus      *bus,
                                  gpointer  data);

/* the program */
void             bus_open        (Bus             *bus);
void             bus_start       (Bus             *bus,
                                  const char      *file);
gboolean         bus_is_running  (Bus             *bus);
void             bus_take_keys   (Bus             *bus);
void             bus_leave       (Bus             *bus);
void             bus_kill        (Bus             *bus);
void             bus_close       (Bus             *bus);

/* reading */
void             bus_wait        (guint            ms);
gboolean         bus_until       (Bus             *bus,
                                  BusCondition     condition,
                                  gpointer         data);
AtspiAccessible *bus_frame       (Bus             *bus);
AtspiAccessible *bus_look        (Bus             *bus,
                                  AtspiAccessible *root,
                                  AtspiRole        role,
                                  const char      *name);
AtspiAccessible *bus_find        (Bus             *bus,
                                  AtspiAccessible *root,
                                  AtspiRole        role,
                                  const char      *name);
void             bus_gone        (Bus             *bus,
                                  AtspiAccessible *root,
                                  AtspiRole        role,
                                  const char      *name);
char            *bus_name        (AtspiAccessible *accessible);
char            *bus_text        (AtspiAccessible *accessible);
gboolean         bus_is          (AtspiAccessible *accessible,
                                  AtspiStateType   state);

/* working */
void             bus_act         (AtspiAccessible *accessible,
                                  const char      *action);
void             bus_enter       (AtspiAccessible *accessible,
                                  const char      *text);
void             bus_key         (Bus             *bus,
                                  const char      *key);
void             bus_type        (Bus             *bus,
                                  const char      *text);
char            *bus_tab         (Bus             *bus,
                                  const char      *key);
void             bus_tab_to      (Bus             *bus,
                                  const char      *name);
void             bus_take        (Bus             *bus,
                                  const char      *name);
