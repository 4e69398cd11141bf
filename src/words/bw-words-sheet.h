#pragma once

#include "bw-words-pattern.h"

G_BEGIN_DECLS

/* The tester's sheet: places to fill in for who makes one size of a design to
 * try the pattern, and what came back compared with what was computed. The
 * sheet is plain text that goes there and back by mail:
 *
 *   Girth, flat, across and back (53.4 cm): 54,5 cm
 *
 * A line is known by what stands before the bracket or the colon. */

#define BW_SHEET_SPAN 20 /* stitches and rounds whose length a tester measures */

/* Where a tester writes something. Colours have BW_SHEET_YARN_HAD and
 * BW_SHEET_YARN_LEFT once each. */
typedef enum
{
  BW_SHEET_TESTER,
  BW_SHEET_DATE,
  BW_SHEET_YARN,
  BW_SHEET_HOOK,
  BW_SHEET_STITCHES,
  BW_SHEET_ROUNDS,
  BW_SHEET_GIRTH,
  BW_SHEET_BRIM,
  BW_SHEET_DEPTH,
  BW_SHEET_YARN_HAD,
  BW_SHEET_YARN_LEFT,
  BW_SHEET_TIME,
  BW_SHEET_REMARKS,
  BW_SHEET_N,
} BwSheetField;

/* One place of a sheet, in the order in which they are set. */
typedef struct
{
  BwSheetField field;
  guint        colour;
  char        *label;   /* "Girth, flat, across and back" */
  char        *should;  /* what was computed, "53.4 cm"; empty = nothing to compare with */
} BwSheetPlace;

/* A sheet that was filled in. Zero and empty: not filled in. */
typedef struct
{
  guint  k;                 /* the size */
  guint  revision;          /* 0 = a draft */
  char  *tester;
  char  *date;
  char  *yarn;
  double hook_mm;
  double stitch_mm;         /* the tester's own stitch width and round height */
  double round_mm;
  double girth_mm;
  double brim_mm;
  double depth_mm;
  double used_m[BW_STRIPE_COLOURS_MAX];
  double minutes;
  char  *remarks;
} BwTested;

GPtrArray *bw_words_sheet        (const BwGrading  *grading,
                                  guint             k,
                                  const char       *revision) G_GNUC_WARN_UNUSED_RESULT;
char      *bw_words_sheet_text   (const GPtrArray  *blocks) G_GNUC_WARN_UNUSED_RESULT;
GPtrArray *bw_sheet_places       (const BwGrading  *grading,
                                  guint             k) G_GNUC_WARN_UNUSED_RESULT;
BwTested  *bw_tested_read        (const BwGrading  *grading,
                                  const char       *text,
                                  GError          **error) G_GNUC_WARN_UNUSED_RESULT;
void       bw_tested_free        (BwTested         *tested);
GPtrArray *bw_words_tested       (const BwGrading  *grading,
                                  const BwTested   *tested) G_GNUC_WARN_UNUSED_RESULT;
char      *bw_words_testers      (const BwGrading  *grading,
                                  const GPtrArray  *tested) G_GNUC_WARN_UNUSED_RESULT;

G_DEFINE_AUTOPTR_CLEANUP_FUNC (BwTested, bw_tested_free)

G_END_DECLS
