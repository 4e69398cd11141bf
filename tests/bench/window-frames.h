#pragma once

#include "bw-window.h"

G_BEGIN_DECLS

/* Frames of one window, measured from what causes them to their end. */

#define FRAMES_MOST 200

typedef void (*FrameFunc) (BwWindow *window,
                           guint     i);

/* Milliseconds; @worked is what this thread worked, without what it waited for
 * others or for the display. */
typedef struct
{
  gboolean alone;   /* set by the caller: the frame's own time, without the wait for it */
  guint  n;
  double ms[FRAMES_MOST];
  double worked[FRAMES_MOST];
} Frames;

void   frames_rest    (guint        ms);
void   frames_measure (Frames      *frames,
                       BwWindow    *window,
                       FrameFunc    cause,
                       guint        n,
                       guint        rest_ms);
double frames_at      (double      *values,
                       guint        n,
                       double       share);
gboolean frames_tell  (const char  *what,
                       Frames      *frames,
                       double       median_ms,
                       double       worst_ms);

G_END_DECLS
