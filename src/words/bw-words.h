#pragma once

#include "bw-grade.h"

G_BEGIN_DECLS

/* Words for what the core returns as codes and numbers: shared by the command
 * line and the window, translated through gettext. Lengths and terms follow
 * the design's own units and terms. Nothing here computes a graded number;
 * figures are only put into words. Every char * and char ** is the caller's
 * to free.
 */

/* --- Names and figures (bw-words.c) --- */

const char *bw_words_size_name    (const BwSizeChoice *choice);
int         bw_words_find_size    (const BwDesign     *design,
                                   const char         *name);
const char *bw_words_terms        (BwTerms             terms);
const char *bw_words_unit         (const BwDesign     *design);
const char *bw_words_brim         (BwBrimKind          kind);
const char *bw_words_crown        (BwCrownProfile      profile);
const char *bw_words_severity     (BwSeverity          severity);
char       *bw_words_length       (const BwDesign     *design,
                                   double              mm) G_GNUC_WARN_UNUSED_RESULT;
char       *bw_words_length_value (const BwDesign     *design,
                                   double              mm) G_GNUC_WARN_UNUSED_RESULT;
char       *bw_words_percent      (double              fraction,
                                   guint               decimals) G_GNUC_WARN_UNUSED_RESULT;
char       *bw_words_ease         (const BwDesign     *design,
                                   const BwEase       *ease) G_GNUC_WARN_UNUSED_RESULT;
char       *bw_words_colour       (const BwDesign     *design,
                                   guint               colour) G_GNUC_WARN_UNUSED_RESULT;
const char *bw_words_fabric       (const BwGrading    *grading,
                                   const char         *id);
char       *bw_words_band         (const BwGrading    *grading,
                                   guint               band) G_GNUC_WARN_UNUSED_RESULT;
char       *bw_words_part         (const BwGrading    *grading,
                                   int                 section,
                                   guint               band) G_GNUC_WARN_UNUSED_RESULT;

/* --- Rounds (bw-words-round.c) --- */

char       *bw_words_round_label  (const BwRoundList  *list,
                                   guint               first,
                                   guint               n) G_GNUC_WARN_UNUSED_RESULT;
char       *bw_words_round_work   (const BwGrading    *grading,
                                   const BwGradedSize *size,
                                   guint               index) G_GNUC_WARN_UNUSED_RESULT;
char       *bw_words_round_count  (const BwRoundList  *list,
                                   guint               index) G_GNUC_WARN_UNUSED_RESULT;
char       *bw_words_round_yarn   (const BwGrading    *grading,
                                   const BwRoundList  *list,
                                   guint               index) G_GNUC_WARN_UNUSED_RESULT;
char       *bw_words_round_part   (const BwGrading    *grading,
                                   const BwRoundList  *list,
                                   guint               index) G_GNUC_WARN_UNUSED_RESULT;
char       *bw_words_tail         (const BwDesign     *design) G_GNUC_WARN_UNUSED_RESULT;
char       *bw_words_measures     (const BwGrading    *grading,
                                   const GArray       *sizes,
                                   double            (*measure) (const BwGradedSize *size))
                                   G_GNUC_WARN_UNUSED_RESULT;
char       *bw_words_way_of_working (const BwGrading  *grading) G_GNUC_WARN_UNUSED_RESULT;

/* --- The finished hat (bw-words-finish.c) --- */

char      **bw_words_finishing    (const BwGrading    *grading,
                                   const BwGradedSize *size,
                                   const char         *ends) G_GNUC_WARN_UNUSED_RESULT;
char      **bw_words_measuring    (const BwGrading    *grading,
                                   const BwGradedSize *size) G_GNUC_WARN_UNUSED_RESULT;

/* --- Findings (bw-words-finding.c) --- */

typedef struct
{
  const char *code;     /* "B08" */
  BwSeverity  severity;
  char       *where;    /* "Adult M, round 24"; empty = the whole family */
  char       *what;
  char       *why;      /* why it matters */
  char       *mend;     /* what to do about it */
} BwWordsFinding;

BwWordsFinding *bw_words_finding      (const BwGrading *grading,
                                       const BwFinding *finding) G_GNUC_WARN_UNUSED_RESULT;
GPtrArray      *bw_words_findings     (const BwGrading *grading) G_GNUC_WARN_UNUSED_RESULT;
void            bw_words_finding_free (BwWordsFinding  *words);

/* --- Why a number was chosen (bw-words-why.c) --- */

typedef enum
{
  BW_WHY_BODY,
  BW_WHY_BRIM,
  BW_WHY_CROWN,
  BW_WHY_DEPTH,
  BW_WHY_COST,
  BW_WHY_N,
} BwWhy;

const char *bw_words_why_name     (BwWhy               what);
char       *bw_words_why          (const BwGrading    *grading,
                                   guint               k,
                                   BwWhy               what) G_GNUC_WARN_UNUSED_RESULT;
char       *bw_words_alternative  (const BwGrading    *grading,
                                   guint               k,
                                   guint               i) G_GNUC_WARN_UNUSED_RESULT;

G_DEFINE_AUTOPTR_CLEANUP_FUNC (BwWordsFinding, bw_words_finding_free)

G_END_DECLS
