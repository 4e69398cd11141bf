#pragma once

#include <glib.h>

#include "bw-data-file.h"

G_BEGIN_DECLS

/* One wearer. Months say how old a child the size is meant for, so that the
 * cautions for babies can be shown; an adult's size has months_from >= 216. */
typedef struct
{
  char  *id;          /* short, unique in its table: "newborn", "adult-m" */
  char  *name;        /* as people read it: "Newborn" */
  double head_mm;     /* head girth */
  double depth_mm;    /* hat depth, edge to top along the fabric, brim unfolded */
  int    months_from; /* youngest wearer, months; -1 = not stated */
  char  *source;      /* where the two figures come from */
  BwStatus status;    /* and how they came to us */
} BwSize;

typedef struct
{
  char      *id;
  char      *name;
  char      *source;
  GPtrArray *sizes;   /* of BwSize, in ascending head girth */
  BwStatus   status;
} BwSizeTable;

/* Negative ease makes a hat smaller than the head. The two parts add up. */
typedef struct
{
  double fraction;  /* of the head girth: -0.07 is 7 % smaller */
  double length_mm;
} BwEase;

BwSize      *bw_size_new             (const char        *id,
                                      const char        *name,
                                      double             head_mm,
                                      double             depth_mm) G_GNUC_WARN_UNUSED_RESULT;
BwSize      *bw_size_copy            (const BwSize      *size) G_GNUC_WARN_UNUSED_RESULT;
void         bw_size_free            (BwSize            *size);
BwSizeTable *bw_size_table_parse     (const char        *text,
                                      gsize              length,
                                      GError           **error) G_GNUC_WARN_UNUSED_RESULT;
void         bw_size_table_free      (BwSizeTable       *table);
const BwSize *bw_size_table_find     (const BwSizeTable *table,
                                      const char        *id);
double       bw_ease_apply           (const BwEase      *ease,
                                      double             head_mm);
double       bw_sizes_crown_diameter (double             girth_mm);
double       bw_sizes_depth_from_head (double            head_mm);
char        *bw_sizes_hat_size_us    (double             head_mm) G_GNUC_WARN_UNUSED_RESULT;
char        *bw_sizes_hat_size_uk    (double             head_mm) G_GNUC_WARN_UNUSED_RESULT;

G_DEFINE_AUTOPTR_CLEANUP_FUNC (BwSize, bw_size_free)
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BwSizeTable, bw_size_table_free)

G_END_DECLS
