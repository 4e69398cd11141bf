#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* Every key of the program, once: the application binds them and the window of
 * shortcuts lists them from here. */
typedef struct
{
  const char *action;    /* detailed name: "win.undo" */
  const char *accels[3]; /* NULL-terminated */
  const char *group;
  const char *title;
} BwAccel;

extern const BwAccel bw_accels[];

void       bw_accels_bind   (GtkApplication *application);
GtkWidget *bw_accels_window (void);

G_END_DECLS
