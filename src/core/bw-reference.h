#pragma once

#include <glib.h>

#include "bw-fabric.h"
#include "bw-sizes.h"
#include "bw-stitch.h"

G_BEGIN_DECLS

/* A row of a published table of hooks; keyed on mm, letters are labels. */
typedef struct
{
  double mm;
  char  *us;     /* "H-8"; NULL = none */
  char  *uk_old; /* old UK number; NULL = none */
} BwHook;

/* A class of yarn thickness, 0 to 7. Ranges are guidelines: out of range warns. */
typedef struct
{
  guint  number;
  char  *us;
  char  *uk;
  double stitches_min; /* UK dc in 10 cm; 0 = open */
  double stitches_max;
  double hook_min_mm;
  double hook_max_mm;  /* 0 = open */
  double m_per_100g_min;
  double m_per_100g_max;
} BwYarnClass;

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
                                             GError                **error) G_GNUC_WARN_UNUSED_RESULT;
void                bw_reference_free       (BwReference            *reference);
const BwSizeTable  *bw_reference_size_table (const BwReference      *reference,
                                             const char             *id);
const BwHook       *bw_reference_hook       (const BwReference      *reference,
                                             double                  mm);
const BwYarnClass  *bw_reference_yarn_class (const BwReference      *reference,
                                             guint                   number);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (BwReference, bw_reference_free)

G_END_DECLS
