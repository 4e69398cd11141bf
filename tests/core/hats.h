#pragma once

#include "bw-design.h"
#include "bw-reference.h"

G_BEGIN_DECLS

/* Designs for tests: made by hand, line by line, or at random from a seed. */

BwDesign *hat_new        (void) G_GNUC_WARN_UNUSED_RESULT;
BwSwatch *hat_add_swatch (BwDesign      *design,
                          const char    *id,
                          const char    *fabric,
                          double         stitches,
                          double         rounds);
BwSize   *hat_add_size   (BwDesign      *design,
                          const char    *id,
                          double         head_mm,
                          double         depth_mm);
BwBand   *hat_add_band   (BwDesign      *design,
                          const char    *fabric,
                          BwBandMode     mode,
                          guint          amount);
void      hat_add_step   (GArray        *stripe,
                          guint          colour,
                          guint          rounds);
void      hat_set_wedges (BwDesign      *design,
                          guint          wedges);
void      hat_set_brim   (BwDesign      *design,
                          BwBrimKind     kind,
                          const char    *swatch,
                          double         height_mm);
void      hat_pin        (BwDesign      *design,
                          const char    *size,
                          BwPinKind      kind,
                          guint          value);

/* What kind of random hats. */
typedef enum
{
  HATS_ANY,   /* the whole range, up to 30 sizes and 12 bands */
  HATS_SMALL, /* few sizes and narrow limits, so that an integer programme is soon solved */
} HatRange;

BwDesign *random_hat     (const BwReference *reference,
                          HatRange           range,
                          guint32            seed) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
