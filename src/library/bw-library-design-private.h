#pragma once

#include "bw-library-design.h"
#include "bw-library-private.h"

G_BEGIN_DECLS

/* bw-library-undo.c: records what one save changes. */
typedef struct _BwRecording BwRecording;

BwRecording *bw_recording_start  (BwLibrary     *library,
                                  GError       **error);
void         bw_recording_free   (BwRecording   *recording);
gboolean     bw_recording_keep   (BwRecording   *recording,
                                  gint64         id,
                                  const char    *label,
                                  gboolean       merge,
                                  gboolean      *changed,
                                  GError       **error);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (BwRecording, bw_recording_free)

/* bw-library-design.c, within a transaction of the caller's */
gboolean     bw_library_bump     (BwLibrary     *library,
                                  gint64         id,
                                  gint64        *version,
                                  GError       **error);
gboolean     bw_library_add_rows (BwLibrary      *library,
                                  const BwDesign *design,
                                  const char     *uuid,
                                  gint64         *id,
                                  GError        **error);

G_END_DECLS
