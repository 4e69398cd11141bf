#pragma once

#include <gio/gio.h>

G_BEGIN_DECLS

#define BW_APP_ID "org.brimwright.Brimwright"

GSettings *bw_settings_new (void) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
