#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* Stitches have neutral identifiers inside; UK or US is chosen when text is
 * printed or read. The dictionary is data (data/reference/stitches.ini). */

typedef enum
{
  BW_TERMS_UK,
  BW_TERMS_US,
} BwTerms;

/* Where a stitch takes hold of the fabric. */
typedef enum
{
  BW_ANCHOR_NONE,       /* a chain, a missed stitch: nowhere */
  BW_ANCHOR_TOP,        /* the two loops on top of the stitch below */
  BW_ANCHOR_FRONT_POST, /* round its stem, from the front */
  BW_ANCHOR_BACK_POST,  /* round its stem, from the back */
  BW_ANCHOR_BASE,       /* the foot of a stitch further down: a spike */
} BwAnchor;

typedef struct
{
  char    *id;       /* "low", "front-post-tall" */
  char    *uk;       /* abbreviation in UK terms: "dc", "FPtr" */
  char    *us;
  char    *uk_name;  /* "double crochet" */
  char    *us_name;
  char    *symbol;   /* chart symbol's name */
  guint    takes;    /* positions of the round below that it uses up */
  guint    makes;    /* positions it offers to the round above */
  BwAnchor anchor;
  guint    below;    /* rounds down to where it takes hold; 1 = the round below */
  gboolean has_post; /* a post stitch may be worked round its stem */
  double   height;   /* in heights of "low" (UK dc, US sc) */
  guint    turning_chain; /* chains that lift the yarn to its height; 0 = none */
  double   yarn;     /* yarn in it, in stitch widths: an estimate */
  char    *special;  /* how it is worked, for "special stitches"; may be NULL. UK terms. */
  guint    space;    /* which of the positions it makes is a chain space, from 1; 0 = none */
} BwStitch;

typedef struct _BwStitchDictionary BwStitchDictionary;

/* A stitch's place in the dictionary; small, so that items stay small. */
typedef guint16 BwStitchIndex;
#define BW_STITCH_NONE ((BwStitchIndex) 0xffff)

BwStitchDictionary *bw_stitch_dictionary_parse (const char                *text,
                                                gsize                      length,
                                                GError                   **error) G_GNUC_WARN_UNUSED_RESULT;
void                bw_stitch_dictionary_free  (BwStitchDictionary        *dictionary);
guint               bw_stitch_dictionary_size  (const BwStitchDictionary  *dictionary);
const BwStitch     *bw_stitch_get              (const BwStitchDictionary  *dictionary,
                                                BwStitchIndex              index);
BwStitchIndex       bw_stitch_find             (const BwStitchDictionary  *dictionary,
                                                const char                *id);
BwStitchIndex       bw_stitch_find_abbreviation (const BwStitchDictionary *dictionary,
                                                const char                *abbreviation,
                                                gsize                      length,
                                                BwTerms                    terms);
BwStitchIndex       bw_stitch_together         (const BwStitchDictionary  *dictionary,
                                                BwStitchIndex              base,
                                                guint                      n);
const char         *bw_stitch_abbreviation     (const BwStitchDictionary  *dictionary,
                                                BwStitchIndex              index,
                                                BwTerms                    terms);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (BwStitchDictionary, bw_stitch_dictionary_free)

G_END_DECLS
