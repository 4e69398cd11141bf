#pragma once

#include "bw-design-fields.h"

G_BEGIN_DECLS

/* Internal to the reading of design files, which is spread over several files:
 * the key file being read, and the design that comes of it. */

typedef struct
{
  GKeyFile       *key_file; /* borrowed */
  BwDesign       *design;   /* borrowed */
  BwFieldContext  context;
} BwReader;

char     *bw_reader_get_text    (BwReader    *reader,
                                 const char  *group,
                                 const char  *key,
                                 GError     **error) G_GNUC_WARN_UNUSED_RESULT;
gboolean  bw_reader_read_group  (BwReader    *reader,
                                 const char  *group,
                                 BwGroupId    id,
                                 gpointer     base,
                                 GError     **error);
gboolean  bw_reader_read_single (BwReader    *reader,
                                 BwGroupId    id,
                                 GError     **error);
gboolean  bw_reader_read_sizes  (BwReader    *reader,
                                 GError     **error);
gboolean  bw_reader_read_pins   (BwReader    *reader,
                                 GError     **error);

G_END_DECLS
