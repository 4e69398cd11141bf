#pragma once

#include "bw-pattern-audit.h"
#include "bw-pattern-private.h"

G_BEGIN_DECLS

/* Shared by bw-pattern-audit*.c. */

/* What is known of one size when its rounds have been walked. */
typedef struct
{
  guint    rounds;   /* worked in all; rows are not counted */
  guint    rows;     /* before the first round */
  guint    digest;   /* of the counts of all rounds and rows, in their order */
  double   least;    /* stitches that the stated girth has room for at the gauge, */
  double   largest;  /* 0 = not known */
  guint    nearest;  /* stitches of the round that comes nearest */
  gboolean matched;  /* a round has as many */
  guint    most;     /* stitches of the widest round */
  guint32  widest;   /* index of its line */
  gboolean closed;   /* it is drawn up at the end */
  gboolean unsure;   /* some round could not be counted */
  gboolean faulty;   /* or is at fault: what stands on it proves nothing */
} BwAuditSize;

typedef struct
{
  const BwPattern   *pattern;
  const BwReference *reference; /* NULL = no tables of yarn */
  GArray          *findings;   /* of BwPatternFinding */
  guint            reading;    /* BwReading bits: one for the whole text */
  BwAuditSize      sizes[BW_PATTERN_SIZES_MAX];
  guint8          *faulty;     /* for each line: its lists or labels are at fault */
  GArray          *trial;      /* of BwItem: a round read another way */
  GArray          *map;        /* of guint32: index in the pattern of each item of a round */
} BwPatternAudit;

/* --- bw-pattern-audit.c --- */

BwPatternFinding *bw_audit_add     (BwPatternAudit      *audit,
                                    BwFindingKind        kind,
                                    BwSeverity           severity,
                                    BwSlice              where);
const BwPatternLine *bw_audit_line (const BwPatternAudit *audit,
                                    guint                index);

/* --- bw-pattern-audit-place.c --- */

BwSlice bw_audit_slice             (guint32              offset,
                                    guint32              end);
BwSlice bw_audit_label             (const BwPatternAudit *audit,
                                    const BwPatternLine *line);
BwSlice bw_audit_work              (const BwPatternAudit *audit,
                                    const BwPatternLine *line);
BwSlice bw_audit_list              (const BwPatternAudit *audit,
                                    guint32              list);
BwSlice bw_audit_figure            (const BwPatternAudit *audit,
                                    const BwPatternLine *line,
                                    guint32              list,
                                    guint                size);
BwSlice bw_audit_times             (const BwPatternAudit *audit,
                                    guint32              item);
guint32 bw_audit_end_of_line       (const BwPatternAudit *audit,
                                    guint32              offset);
guint32 bw_audit_end_of_work       (const BwPatternAudit *audit,
                                    const BwPatternLine *line);
void    bw_audit_name_round        (const BwPatternAudit *audit,
                                    BwPatternFinding    *finding);
gboolean bw_audit_says             (const BwPatternAudit *audit,
                                    BwSlice              where,
                                    const char          *word);

/* --- the themes --- */

void    bw_audit_round             (BwPatternAudit      *audit,
                                    BwPatternWalk       *walk,
                                    const BwPatternStep *step);
void    bw_audit_close             (BwPatternAudit      *audit,
                                    const BwPatternWalk *walk,
                                    const BwPatternStep *step);
void    bw_audit_lists             (BwPatternAudit      *audit);
void    bw_audit_numbers           (BwPatternAudit      *audit,
                                    const BwPatternWalk *walk,
                                    guint8              *after_fault);
void    bw_audit_settle_numbers    (BwPatternAudit      *audit);
void    bw_audit_terms             (BwPatternAudit      *audit);
void    bw_audit_chains            (BwPatternAudit      *audit);
void    bw_audit_joins             (BwPatternAudit      *audit);
void    bw_audit_again             (BwPatternAudit      *audit,
                                    const BwPatternWalk *walk);
void    bw_audit_sides             (BwPatternAudit      *audit,
                                    const BwPatternWalk *walk);
gboolean bw_audit_is_whole         (const BwPatternAudit *audit);
void    bw_audit_expect            (BwPatternAudit      *audit);
void    bw_audit_front             (BwPatternAudit      *audit);
void    bw_audit_measures          (BwPatternAudit      *audit);
gboolean bw_audit_measure          (const BwPatternAudit *audit,
                                    BwMeasureKind        kind,
                                    guint                size,
                                    double              *mm,
                                    double              *step_mm,
                                    BwSlice             *where);
void    bw_audit_yarn              (BwPatternAudit      *audit);
void    bw_audit_colours           (BwPatternAudit      *audit);
void    bw_audit_stripes           (BwPatternAudit      *audit,
                                    const BwPatternWalk *walk);
void    bw_audit_stitches          (BwPatternAudit      *audit,
                                    guint                size);
void    bw_audit_round_stitches    (BwPatternAudit      *audit,
                                    const BwPatternWalk *walk,
                                    const BwPatternStep *step);
void    bw_audit_rib               (BwPatternAudit      *audit,
                                    const BwPatternWalk *walk);
void    bw_audit_wording           (BwPatternAudit      *audit);
void    bw_audit_unreadable        (BwPatternAudit      *audit);

G_END_DECLS
