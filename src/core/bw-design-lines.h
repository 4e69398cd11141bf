#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* Internal to the design file: the text of a key file as lines that can be
 * edited one by one, so that everything not edited stays to the byte. GLib's
 * own key file moves comments about when keys are added; this does not. */

typedef struct _BwLines BwLines;

BwLines    *bw_lines_new          (const char       *text) G_GNUC_WARN_UNUSED_RESULT;
void        bw_lines_free         (BwLines          *lines);
gboolean    bw_lines_has_key      (const BwLines    *lines,
                                   const char       *group,
                                   const char       *key);
GPtrArray  *bw_lines_groups       (const BwLines    *lines) G_GNUC_WARN_UNUSED_RESULT;
GPtrArray  *bw_lines_keys         (const BwLines    *lines,
                                   const char       *group) G_GNUC_WARN_UNUSED_RESULT;
void        bw_lines_set          (BwLines          *lines,
                                   const char       *group,
                                   const char       *key,
                                   const char       *value);
void        bw_lines_remove_key   (BwLines          *lines,
                                   const char       *group,
                                   const char       *key);
void        bw_lines_remove_group (BwLines          *lines,
                                   const char       *group);
void        bw_lines_order_groups (BwLines          *lines,
                                   const GPtrArray  *wanted);
void        bw_lines_order_keys   (BwLines          *lines,
                                   const char       *group,
                                   const GPtrArray  *wanted);
char       *bw_lines_to_text      (const BwLines    *lines,
                                   gsize            *length) G_GNUC_WARN_UNUSED_RESULT;

G_DEFINE_AUTOPTR_CLEANUP_FUNC (BwLines, bw_lines_free)

G_END_DECLS
