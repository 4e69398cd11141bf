#pragma once

#include "bw-design-fields.h"

G_BEGIN_DECLS

/* One value of a design, known by a text such as "brim:height" or
 * "band/2:stripe" (places count from 0). The form and the tests name values so;
 * reading and printing them is the design file's. */
typedef struct
{
  BwGroupId      group;
  guint          place;  /* in the array of its group; 0 where there is one */
  const BwField *field;
} BwFieldPlace;

gboolean bw_field_place_parse   (const char          *text,
                                 BwFieldPlace        *place);
gpointer bw_field_place_base    (const BwFieldPlace  *place,
                                 const BwDesign      *design);
char    *bw_field_place_print   (const BwFieldPlace  *place,
                                 const BwReference   *reference,
                                 const BwDesign      *design) G_GNUC_WARN_UNUSED_RESULT;
gboolean bw_field_place_read    (const BwFieldPlace  *place,
                                 const BwReference   *reference,
                                 BwDesign            *design,
                                 const char          *text,
                                 GError             **error);
char    *bw_field_place_expect  (const BwFieldPlace  *place,
                                 const BwReference   *reference,
                                 const BwDesign      *design) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
