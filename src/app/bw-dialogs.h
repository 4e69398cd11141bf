#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* Dialogues that GTK has deprecated since: kept in one place. */

typedef void (*BwFileCallback) (GFile    *file,
                                gpointer  data);

void bw_dialogs_about (GtkWindow      *parent);
void bw_dialogs_open  (GtkWindow      *parent,
                       BwFileCallback  callback,
                       gpointer        data);
void bw_dialogs_save  (GtkWindow      *parent,
                       const char     *name,
                       BwFileCallback  callback,
                       gpointer        data);
void bw_dialogs_open_as (GtkWindow         *parent,
                         const char        *title,
                         const char        *kind,
                         const char *const *endings,
                         BwFileCallback     callback,
                         gpointer           data);
void bw_dialogs_save_as (GtkWindow         *parent,
                         const char        *title,
                         const char        *kind,
                         const char *const *endings,
                         const char        *name,
                         BwFileCallback     callback,
                         gpointer           data);

G_END_DECLS
