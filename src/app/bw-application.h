#pragma once

#include <gtk/gtk.h>

#include "bw-document.h"

G_BEGIN_DECLS

#define BW_TYPE_APPLICATION (bw_application_get_type ())
G_DECLARE_FINAL_TYPE (BwApplication, bw_application, BW, APPLICATION, GtkApplication)

BwApplication *bw_application_new              (GApplicationFlags  flags)
                                                G_GNUC_WARN_UNUSED_RESULT;
void           bw_application_set_library_path (BwApplication     *self,
                                                const char        *path);
const BwReference *bw_application_get_reference (BwApplication    *self);
BwLibrary     *bw_application_get_library      (BwApplication     *self);
const char    *bw_application_get_trouble      (BwApplication     *self);
GSettings     *bw_application_get_settings     (BwApplication     *self);

BwDesign      *bw_application_new_design       (BwApplication     *self) G_GNUC_WARN_UNUSED_RESULT;
BwDocument    *bw_application_add_design       (BwApplication     *self,
                                                BwDesign          *design)
                                                G_GNUC_WARN_UNUSED_RESULT;
BwDocument    *bw_application_load_design      (BwApplication     *self,
                                                gint64             id,
                                                GError           **error)
                                                G_GNUC_WARN_UNUSED_RESULT;
BwDocument    *bw_application_last_design      (BwApplication     *self) G_GNUC_WARN_UNUSED_RESULT;
BwDocument    *bw_application_open_file        (BwApplication     *self,
                                                GFile             *file,
                                                GError           **error)
                                                G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
