#pragma once

#include "bw-design.h"
#include "bw-reference.h"

G_BEGIN_DECLS

/* The design file (.hat): a GLib key file, documented in brimwright-design(5).
 * A size that the reference's size table knows is written by its name alone,
 * so both directions need the reference. */

#define BW_DESIGN_FILE_BYTES_MAX (1024 * 1024)
#define BW_DESIGN_FILE_FORMAT    1

BwDesign *bw_design_from_text (const BwReference *reference,
                               const char        *text,
                               gsize              length,
                               GError           **error) G_GNUC_WARN_UNUSED_RESULT;
char     *bw_design_to_text   (const BwReference *reference,
                               const BwDesign    *design,
                               const char        *previous,
                               gsize             *length) G_GNUC_WARN_UNUSED_RESULT;
gboolean  bw_design_check     (const BwReference *reference,
                               const BwDesign    *design,
                               GError           **error);

G_END_DECLS
