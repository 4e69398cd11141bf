#pragma once

#include <glib.h>

#include "bw-data-file.h"
#include "bw-fabric.h"
#include "bw-sizes.h"
#include "bw-stitch.h"

G_BEGIN_DECLS

/* A row of a published table of hooks; keyed on mm, letters are labels. */
typedef struct
{
  double   mm;
  char    *us;           /* "H-8"; NULL = none */
  char    *uk_old;       /* old UK number; NULL = none */
  BwStatus us_status;    /* BW_STATUS_UNSAID where there is no label */
  BwStatus uk_old_status;
  char    *note;         /* where sources disagree; NULL = they do not */
} BwHook;

/* What one edition of the published system says of a class. */
typedef struct
{
  BwRange stitches; /* in 10 cm */
  BwRange hook_mm;
} BwYarnEdition;

/* A class of yarn thickness, 0 to 7. Ranges are guidelines: out of range warns.
 * 0 = open at that end. The plain figures reach as far as any source does. */
typedef struct
{
  guint  number;
  char  *us;
  char  *uk;
  double stitches_min;     /* in 10 cm, of gauge_stitch */
  double stitches_max;
  double hook_min_mm;
  double hook_max_mm;
  double m_per_100g_min;   /* of all UK names of the class */
  double m_per_100g_max;
  char  *gauge_stitch;     /* id: "low" (UK dc, US sc); "tall" for class 0 */
  BwYarnEdition editions[2]; /* A and B */
  BwStatus status;
  char  *note;             /* NULL = none */
} BwYarnClass;

/* What the UK calls a yarn. */
typedef struct
{
  char    *id;              /* "4-ply" */
  char    *uk;              /* "4 ply" */
  char    *ply;             /* name in Australia and New Zealand; NULL = none */
  guint    number;          /* class that most sources count it among */
  BwRange  m_per_100g;      /* as far as any source reaches; 0 = open */
  BwRange  wraps_per_inch;  /* likewise; both 0 = no source says */
  BwStatus status;
  char    *note;            /* NULL = none */
} BwYarnName;

/* Everything that is looked up and not decided: passed to whoever needs it,
 * never global, never changed once made. */
typedef struct
{
  BwStitchDictionary *stitches;
  BwFabricTable      *fabrics;
  GPtrArray          *size_tables;  /* of BwSizeTable */
  GArray             *hooks;        /* of BwHook, ascending mm */
  GArray             *yarn_classes; /* of BwYarnClass, index = number */
  GArray             *crown_close;  /* of BwCrownClose, ascending gauge */
  GArray             *yarn_names;   /* of BwYarnName, finest first */
} BwReference;

/* The texts that a reference is made of; lengths in bytes. */
typedef struct
{
  const char        *stitches;
  const char        *fabrics;
  const char        *hooks;
  const char        *yarn_classes;
  const char *const *size_tables; /* NULL-terminated */
  const char        *crown_close;
} BwReferenceTexts;

BwReference        *bw_reference_new        (const BwReferenceTexts *texts,
                                             GError                **error)
                                             G_GNUC_WARN_UNUSED_RESULT;
void                bw_reference_free       (BwReference            *reference);
const BwSizeTable  *bw_reference_size_table (const BwReference      *reference,
                                             const char             *id);
const BwHook       *bw_reference_hook       (const BwReference      *reference,
                                             double                  mm);
const BwYarnClass  *bw_reference_yarn_class (const BwReference      *reference,
                                             guint                   number);
const BwYarnName   *bw_reference_yarn_name  (const BwReference      *reference,
                                             const char             *id);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (BwReference, bw_reference_free)

G_END_DECLS
