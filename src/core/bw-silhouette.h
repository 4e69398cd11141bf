#pragma once

#include <glib.h>

#include "bw-grade.h"

G_BEGIN_DECLS

/* The hat as it hangs: a profile from the edge to the crown's centre. */
typedef struct
{
  double radius_mm;  /* at the top edge of the round */
  double height_mm;  /* above the lower edge, seen from the side */
  double fullness;   /* fabric girth / shown girth: above 1 it pleats */
  guint  round;      /* index in the size's rounds */
} BwSilhouettePoint;

GArray *bw_silhouette (const BwGradedSize *size) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
