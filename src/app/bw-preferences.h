#pragma once

#include <gtk/gtk.h>

#include "bw-reference.h"

G_BEGIN_DECLS

GtkWidget *bw_preferences_new (GtkWindow         *parent,
                               GSettings         *settings,
                               const BwReference *reference) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
