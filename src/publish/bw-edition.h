#pragma once

#include <glib.h>

#include "bw-grade.h"

G_BEGIN_DECLS

/* What one published file is: which sizes, in whose terms, on which paper, of
 * which revision. A plain value, made once and handed to whatever writes the
 * file. Nothing here reads a clock: the same edition of the same grading is
 * the same file, byte for byte. */

typedef enum
{
  BW_PAPER_A4,
  BW_PAPER_LETTER,
} BwPaper;

typedef enum
{
  BW_FORM_NORMAL,
  BW_FORM_LARGE_PRINT, /* 24 pt, one column, nothing told by colour or picture alone */
  BW_FORM_LOW_INK,     /* outlines instead of filled pictures, nothing tinted */
} BwEditionForm;

/* Which revision the file carries. */
typedef struct
{
  guint   number;      /* 1, 2, 3 ...; 0 = a draft, not published yet */
  gint64  date;        /* seconds since 1970 */
  char   *note;        /* empty = none */
  char  **corrections; /* against the revision before, a sentence each; NULL = none known */
} BwEditionRevision;

typedef struct
{
  BwTerms           terms;
  BwUnits           units;
  int               size;     /* index of the one size; BW_EDITION_ALL_SIZES = all in one text */
  BwPaper           paper;
  BwEditionForm     form;
  gboolean          charts;
  gint64            date;     /* of the file, seconds since 1970; in UTC where it is printed */
  BwEditionRevision revision;
  char             *photo;    /* path of a PNG for the cover; NULL = none */
  gboolean          full;     /* of one size: each round in a sentence, with a box to tick */
} BwEdition;

#define BW_EDITION_ALL_SIZES (-1)

BwEdition *bw_edition_new         (const BwDesign  *design,
                                   gint64           date) G_GNUC_WARN_UNUSED_RESULT;
BwEdition *bw_edition_copy        (const BwEdition *edition) G_GNUC_WARN_UNUSED_RESULT;
void       bw_edition_free        (BwEdition       *edition);
gboolean   bw_edition_source_date (const char      *text,
                                   gint64           otherwise,
                                   gint64          *date,
                                   GError         **error);
char      *bw_edition_day         (gint64           date) G_GNUC_WARN_UNUSED_RESULT;
char      *bw_edition_path        (const char      *path,
                                   BwTerms          terms) G_GNUC_WARN_UNUSED_RESULT;

/* A grading in the edition's terms and units: what the words are made from.
 * Borrows everything but the design from the grading, which must outlive it. */
BwGrading *bw_edition_view        (const BwEdition *edition,
                                   const BwGrading *grading) G_GNUC_WARN_UNUSED_RESULT;
void       bw_edition_view_free   (BwGrading       *view);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (BwEdition, bw_edition_free)

G_END_DECLS
