#pragma once

#include "bw-edition.h"

G_BEGIN_DECLS

/* Charts and the schematic as files of their own, in an edition's terms and form. */

typedef enum
{
  BW_PICTURE_SVG,
  BW_PICTURE_PNG,
} BwPictureFormat;

char *bw_publish_charts    (const BwGrading  *grading,
                            const BwEdition  *edition,
                            BwPictureFormat   format,
                            gsize            *length,
                            GError          **error) G_GNUC_WARN_UNUSED_RESULT;
char *bw_publish_schematic (const BwGrading  *grading,
                            const BwEdition  *edition,
                            BwPictureFormat   format,
                            gsize            *length,
                            GError          **error) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
