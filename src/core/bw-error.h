#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* One domain for everything the core can fail at. The messages are plain
 * English facts that say what to change; callers word them for people by code.
 */
#define BW_ERROR (bw_error_quark ())

typedef enum
{
  BW_ERROR_SYNTAX = 1, /* the text cannot be read at all */
  BW_ERROR_RANGE,      /* it can be read, but the value makes no sense */
  BW_ERROR_UNKNOWN,    /* a name, key or word that does not exist */
  BW_ERROR_MISSING,    /* something needed is not there */
  BW_ERROR_CONFLICT,   /* two values that cannot both hold */
  BW_ERROR_TOO_LARGE,  /* beyond a stated limit */
} BwError;

GQuark bw_error_quark   (void);
char  *bw_error_excerpt (const char *text) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
