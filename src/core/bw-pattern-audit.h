#pragma once

#include "bw-audit.h"
#include "bw-pattern.h"
#include "bw-reference.h"

G_BEGIN_DECLS

/* What is at fault in a written pattern. The kinds, their identifiers and their
 * severities are those of bw-audit.h; here a finding also knows where in the
 * text it is, and what should stand there, if that can be worked out.
 */

typedef struct
{
  BwFindingKind kind;
  BwSeverity    severity;
  guint32       offset;   /* bytes from the beginning of the text */
  guint32       length;   /* of the text at fault; 0 = a place, or the whole pattern */
  guint32       line;     /* of the text, from 1 */
  guint32       column;   /* in characters, from 1 */
  guint32       sizes;    /* a bit for each; 0 = it is about no size in particular */
  guint32       round;    /* number of the round or row; 0 = none */
  gboolean      row;
  double        a, b, c;  /* see BwFindingKind */
  guint32       low;      /* numbers that would do; 0 = none */
  guint32       high;
  BwSlice       word;     /* what it is about */
  BwSlice       other;    /* and what that is held against */
  const char   *wanted;   /* UNREADABLE: static English words for what was looked for */
  char         *mended;   /* what to write in place of the text at fault; NULL = not known */
} BwPatternFinding;

/* What a gauge leaves out; figure a of GAUGE_INCOMPLETE. */
typedef enum
{
  BW_LACK_ROUNDS,
  BW_LACK_SPAN,       /* none, or less than 10 cm */
  BW_LACK_FABRIC,
  BW_LACK_HOOK,
  BW_LACK_WASHED,
  BW_LACK_N,
} BwGaugeLack;

GArray *bw_pattern_audit_by (const BwPattern   *pattern,
                             const BwReference *reference) G_GNUC_WARN_UNUSED_RESULT;
GArray *bw_pattern_audit (const BwPattern *pattern) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
